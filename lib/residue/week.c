/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* week.c: the worst load of a line that runs by its schedule, with nights and weekends.
 *
 * Loads, gaps and dumps are maps, and so are so many weeks that the dumps fall together again: the
 * state that they leave as it is is looked at load by load. The fresh start comes to it. How much
 * more than it a later load can leave is bounded by what the tanks hold more than it does: no entry
 * of a map is below 0, so what is held less only takes away. Of a kg more in a tank at the begin of
 * the weeks, `most` is the most that any load leaves, of those weeks or of any later ones.
 */
#include "dregs/week.h"
#include "base/multiple.h"
#include "calendar/calendar.h"
#include "residue/bound.h"
#include "residue/residue.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define ALIKE 1e-9 /* relative: residues that count as the same one */
#define NEAR  1e-3 /* relative: the weeks count as settled */

enum { FOLLOWED_MOST = RESIDUE_WEEK_MOST, ROUNDS_MOST = 2000 };

struct dregs_week {
    const dregs_map *map;
    const dregs_line *line;
    dregs_calendar calendar;
    dregs_week_until until;
    unsigned solutes;
    size_t tanks, dim;          /* dim: tanks + 1 */
    uint64_t loads, repeats;    /* of a week; weeks */
    double *gap[CALENDAR_GAPS]; /* solutes x dim x dim; NULL for no time */
    int settles;
    double *steady; /* solutes x dim: at the begin of the weeks that repeat themselves */
    double *most;   /* solutes x tanks, kg/m2 per kg; 0 where nothing asks for it */
    double *room;
};

/* ---- a walk ---- */

struct walk {
    const dregs_week *week;
    dregs_state *state;
    uint64_t load; /* of the week, those that have passed */
    double *spare;
};

/* The load that leaves most of those looked at, and what it keeps. */
struct most {
    dregs_week_load load;
    dregs_residue kept;
};

/* What lies behind load number `load` of a week, but for the rest of the shift. */
static int behind(const dregs_week *week, uint64_t load, enum calendar_gap *gap)
{
    uint64_t day = week->calendar.loads_per_shift * week->calendar.shifts_per_day;

    if (load % day)
        return 0;
    *gap = dregs_calendar_behind(&week->calendar, load / day);
    return 1;
}

static void pass_gap(const dregs_week *week, unsigned solute, enum calendar_gap gap, double *z,
                     size_t columns, double *spare)
{
    if (week->gap[gap])
        dregs_balance_multiply_in_place(week->gap[gap] + solute * week->dim * week->dim, z,
                                        week->dim, columns, spare);
}

/* What lies behind a load of the week, for one solute. */
static void pass_gaps(const dregs_week *week, unsigned solute, uint64_t load, double *z,
                      size_t columns, double *spare)
{
    enum calendar_gap gap;

    if (load % week->calendar.loads_per_shift)
        return;
    pass_gap(week, solute, CALENDAR_REST, z, columns, spare);
    if (behind(week, load, &gap))
        pass_gap(week, solute, gap, z, columns, spare);
}

static dregs_status begin(const dregs_week *week, int in_the_long_run, struct walk *walk)
{
    walk->week = week;
    walk->load = 0;
    walk->state = dregs_state_new(week->map);
    walk->spare = malloc(week->dim * sizeof *walk->spare);
    if (!walk->state || !walk->spare) {
        dregs_state_free(walk->state);
        free(walk->spare);
        return DREGS_NO_MEMORY;
    }
    if (in_the_long_run)
        dregs_balance_state_put(walk->state, week->steady, 0);
    return DREGS_OK;
}

static void end(struct walk *walk)
{
    dregs_state_free(walk->state);
    free(walk->spare);
}

static void step(struct walk *walk)
{
    const dregs_week *week = walk->week;
    unsigned s;

    dregs_state_step(walk->state);
    walk->load++;
    for (s = 0; s < week->solutes; s++)
        pass_gaps(week, s, walk->load, dregs_balance_state_z(walk->state, s), 1, walk->spare);
    if (walk->load == week->loads)
        walk->load = 0;
}

static void set_place(const dregs_week *week, uint64_t before, dregs_week_load *load)
{
    const dregs_calendar *c = &week->calendar;
    uint64_t shifts = before / c->loads_per_shift;

    load->load = before + 1;
    load->day = shifts / c->shifts_per_day + 1;
    load->shift = shifts % c->shifts_per_day + 1;
    load->of_shift = before % c->loads_per_shift + 1;
}

/* Looks at the next load. */
static void look(const struct walk *walk, int solute, uint64_t week, struct most *most)
{
    dregs_residue residue;
    double value;

    dregs_residue_next(walk->state, &residue);
    value = dregs_residue_of(&residue, solute);
    if (value > most->load.residue) {
        most->load.residue = value;
        most->load.week = week;
        set_place(walk->week, walk->load, &most->load);
        most->kept = residue;
    }
}

/* ---- the weeks that repeat themselves ---- */

/* The state of one solute at the begin of the weeks that repeat themselves. */
static dregs_status find_steady(dregs_week *week, unsigned solute, struct calendar_gaps *gaps)
{
    size_t n = week->tanks, dim = n + 2, i;
    struct ledger closed;
    struct march *march = NULL;
    double *map = calloc(dim * (n + 1), sizeof *map);
    dregs_status status = map ? DREGS_OK : DREGS_NO_MEMORY;

    dregs_balance_ledger_closed(week->line, &closed);
    if (!status)
        status = dregs_calendar_march_new(week->line, solute, &closed, &closed, &week->calendar,
                                          gaps, &march);
    for (i = 0; i < n && !status; i++)
        map[i * (n + 1) + i] = 1.0;
    if (!status) {
        map[(dim - 1) * (n + 1) + n] = 1.0;
        status = dregs_calendar_march_days(march, week->repeats * week->calendar.days_per_week, map,
                                           n + 1);
    }
    if (!status)
        status = dregs_balance_repeats(n, map, dregs_balance_map_fresh(week->map, solute),
                                       week->steady + solute * week->dim);
    dregs_calendar_march_free(march);
    free(map);
    return status;
}

/* Of a kg that is held more in each tank at the begin: the most that a load of the weeks leaves,
 * and, `later`, what of it is in each tank at their end. */
static dregs_status pass_more(const dregs_week *week, unsigned solute, double *most, double *later)
{
    size_t n = week->tanks, dim = week->dim, i, k;
    unsigned kinds = dregs_line_kinds(week->line), kind;
    double *z = calloc((2 * n + kinds) * dim + 1, sizeof *z), *spare;
    double *rows; /* of each kind of loads */
    uint64_t load, all = week->repeats * week->loads;

    if (!z)
        return DREGS_NO_MEMORY;
    spare = z + dim * n;
    rows = spare + dim * n;
    memset(most, 0, n * sizeof *most);
    for (kind = 0; kind < kinds; kind++)
        dregs_residue_row(dregs_map_of_kind(week->map, kind), solute, rows + kind * dim);
    for (i = 0; i < n; i++)
        z[i * n + i] = 1.0; /* the row of the number one stays 0: nothing comes in */
    for (load = 0; load < all; load++) {
        const double *row = rows + dregs_line_kind_at(week->line, load + 1) * dim;
        for (k = 0; k < n; k++) {
            double sum = 0.0;
            for (i = 0; i < n; i++)
                sum += row[i] * z[i * n + k];
            most[k] = fmax(most[k], sum);
        }
        dregs_balance_map_one_load(week->map, solute, z, spare, n, load);
        pass_gaps(week, solute, load % week->loads + 1, z, n, spare);
    }
    memcpy(later, z, n * n * sizeof *z);
    free(z);
    return DREGS_OK;
}

/* From that of one round of weeks to that of all rounds: what is left of the kg at the end of a
 * round is held more at the begin of the next. Where that takes too long: all of the kg wherever it
 * does most, for there is never more of it. */
static void of_all_rounds(size_t n, double *most, const double *later)
{
    double largest = 0.0;
    unsigned round;
    size_t i, k;
    int rises = 1;

    for (round = 0; round < ROUNDS_MOST && rises; round++)
        for (rises = 0, k = 0; k < n; k++) {
            double next = 0.0;
            for (i = 0; i < n; i++)
                next += most[i] * later[i * n + k];
            rises |= next > most[k] * (1 + ALIKE * ALIKE);
            most[k] = fmax(most[k], next);
        }
    for (k = 0; k < n; k++)
        largest = fmax(largest, most[k]);
    for (k = 0; k < n && rises; k++)
        most[k] = largest;
}

/* Does the fresh start hold more of something than the weeks that repeat themselves? */
static int begins_above(const dregs_week *week)
{
    unsigned s;
    size_t t;

    for (s = 0; s < week->solutes; s++)
        for (t = 0; t < week->tanks; t++)
            if (dregs_balance_map_fresh(week->map, s)[t] > week->steady[s * week->dim + t])
                return 1;
    return 0;
}

static dregs_status find_most(dregs_week *week)
{
    size_t n = week->tanks;
    double *later = malloc((n * n + 1) * sizeof *later);
    dregs_status status = later ? DREGS_OK : DREGS_NO_MEMORY;
    unsigned s;

    for (s = 0; s < week->solutes && !status; s++) {
        status = pass_more(week, s, week->most + s * n, later);
        if (!status)
            of_all_rounds(n, week->most + s * n, later);
    }
    free(later);
    return status;
}

/* ---- making ---- */

static dregs_status find_gaps(dregs_week *week, struct calendar_gaps *gaps)
{
    size_t n = week->tanks, size = week->dim * week->dim;
    struct ledger closed;
    double *matrix = malloc((n + 2) * (n + 2) * sizeof *matrix);
    dregs_status status = matrix ? DREGS_OK : DREGS_NO_MEMORY;
    unsigned s, i;

    dregs_balance_ledger_closed(week->line, &closed);
    for (i = 0; i < CALENDAR_GAPS && !status; i++) {
        if (!(gaps->gap[i].time > 0))
            continue;
        week->gap[i] = malloc(week->solutes * size * sizeof *matrix);
        status = week->gap[i] ? DREGS_OK : DREGS_NO_MEMORY;
        for (s = 0; s < week->solutes && !status; s++) {
            status = dregs_balance_interval(week->line, s, &gaps->gap[i], &closed,
                                            &gaps->integrals[i], matrix);
            if (!status)
                dregs_balance_leave_out_sum(n, matrix, week->gap[i] + s * size);
        }
    }
    free(matrix);
    return status;
}

static dregs_status make(dregs_week *week, struct calendar_gaps *gaps)
{
    dregs_status status = find_gaps(week, gaps), settles = DREGS_OK;
    unsigned s;

    week->room = calloc(2 * week->solutes * week->dim + 1, sizeof *week->room);
    if (status || !week->room)
        return status ? status : DREGS_NO_MEMORY;
    week->steady = week->room;
    week->most = week->room + week->solutes * week->dim;
    if (week->repeats > FOLLOWED_MOST / week->loads)
        return DREGS_OK; /* it may settle, but who knows how */
    for (s = 0; s < week->solutes && !settles; s++)
        settles = find_steady(week, s, gaps);
    week->settles = !settles;
    if (settles)
        return settles == DREGS_NO_STEADY ? DREGS_OK : settles;
    return week->until == DREGS_WEEK_SETTLED || begins_above(week) ? find_most(week) : DREGS_OK;
}

dregs_status dregs_week_new(const dregs_map *map, dregs_week_until until, dregs_week **week)
{
    const dregs_line *line = dregs_map_line(map);
    struct calendar_gaps gaps;
    dregs_calendar calendar;
    dregs_week *made;
    dregs_status status;
    uint64_t period = dregs_line_period(line);

    if (dregs_calendar_of_week(line, &calendar, NULL))
        return DREGS_UNKNOWN;
    made = calloc(1, sizeof *made);
    if (!made)
        return DREGS_NO_MEMORY;
    made->map = map;
    made->line = line;
    made->calendar = calendar;
    made->until = until;
    made->solutes = dregs_line_solutes(line);
    made->tanks = dregs_line_tanks(line);
    made->dim = made->tanks + 1;
    made->loads = calendar.loads_per_shift * calendar.shifts_per_day * calendar.days_per_week;
    made->repeats = period / dregs_common_divisor(period, made->loads);
    status = dregs_calendar_gaps_new(line, &made->calendar, &gaps);
    if (!status)
        status = make(made, &gaps);
    dregs_calendar_gaps_clear(&gaps);
    if (status)
        dregs_week_free(made);
    else
        *week = made;
    return status;
}

void dregs_week_free(dregs_week *week)
{
    unsigned i;

    if (!week)
        return;
    for (i = 0; i < CALENDAR_GAPS; i++)
        free(week->gap[i]);
    free(week->room);
    free(week);
}

const dregs_calendar *dregs_week_calendar(const dregs_week *week)
{
    return &week->calendar;
}

uint64_t dregs_week_loads(const dregs_week *week)
{
    return week->loads;
}

uint64_t dregs_week_repeats(const dregs_week *week)
{
    return week->repeats;
}

int dregs_week_settles(const dregs_week *week)
{
    return week->settles;
}

/* ---- the worst load ---- */

/* What a later load can leave more than the weeks that repeat themselves, and how far what it
 * leaves can be off; kg/m2. At the begin of such weeks. */
static void find_distance(const struct walk *walk, int solute, double *more, double *off)
{
    const dregs_week *week = walk->week;
    const double *z = dregs_balance_state_masses(walk->state);
    unsigned s;
    size_t t;

    *more = *off = 0.0;
    for (s = 0; s < week->solutes; s++)
        for (t = 0; t < week->tanks && (solute < 0 || solute == (int)s); t++) {
            double held = z[s * week->dim + t] - week->steady[s * week->dim + t];
            *more += fmax(0.0, held) * week->most[s * week->tanks + t];
            *off += fabs(held) * week->most[s * week->tanks + t];
        }
}

/* What is found on the way to an answer. */
struct found {
    struct most long_run, opening, start_up;
    uint64_t followed;
    double beyond;
};

/* The weeks that repeat themselves. */
static dregs_status look_at_long_run(const dregs_week *week, int solute, struct found *found)
{
    struct walk walk;
    dregs_status status = begin(week, 1, &walk);
    uint64_t number, load;

    if (status)
        return status;
    for (number = 1; number <= week->repeats; number++)
        for (load = 0; load < week->loads; load++) {
            look(&walk, solute, number, &found->long_run);
            if (load == 0)
                look(&walk, solute, number, &found->opening);
            step(&walk);
        }
    end(&walk);
    return DREGS_OK;
}

/* At the end of a week: need the first weeks be followed on? */
static int goes_on(const struct walk *walk, int solute, struct found *found)
{
    const dregs_week *week = walk->week;
    double long_run = found->long_run.load.residue, more, off;

    if (!week->settles || found->followed % week->repeats)
        return 1;
    find_distance(walk, solute, &more, &off);
    found->beyond = long_run + more;
    return found->beyond > fmax(found->start_up.load.residue, long_run) * (1 + ALIKE) ||
           (week->until == DREGS_WEEK_SETTLED && off > NEAR * long_run);
}

/* The weeks from the fresh start on. \param loads  so many; 0: as many as it takes. */
static dregs_status follow(const dregs_week *week, int solute, uint64_t loads, struct found *found)
{
    struct walk walk;
    dregs_status status = begin(week, 0, &walk);
    uint64_t passed = 0, last = loads ? loads : FOLLOWED_MOST;

    if (status)
        return status;
    while (passed < last) {
        found->followed++;
        do {
            look(&walk, solute, found->followed, &found->start_up);
            step(&walk);
        } while (++passed < last && walk.load > 0);
        if (walk.load == 0 && !loads && !goes_on(&walk, solute, found))
            break;
    }
    if (loads)
        found->beyond = 0.0; /* no other load is asked for */
    end(&walk);
    return DREGS_OK;
}

dregs_status dregs_week_worst(const dregs_week *week, int solute, uint64_t loads,
                              dregs_week_answer *answer)
{
    static const dregs_week_load none = {.residue = -1};
    struct found found = {
        .long_run.load = none, .opening.load = none, .start_up.load = none, .beyond = NAN};
    const struct most *worst = &found.start_up;
    dregs_status status = DREGS_OK;

    if (solute < DREGS_EVERY_SOLUTE || solute >= (int)week->solutes || loads > DREGS_LOADS_MOST)
        return DREGS_DOMAIN;
    if (loads > FOLLOWED_MOST)
        loads = DREGS_NO_END;
    found.long_run.load.in_the_long_run = found.opening.load.in_the_long_run = 1;
    if (week->settles)
        status = look_at_long_run(week, solute, &found);
    if (!status)
        status = follow(week, solute, loads, &found);
    if (status)
        return status;
    if (!loads && found.long_run.load.residue >= found.start_up.load.residue * (1 - ALIKE))
        worst = &found.long_run;
    answer->worst = worst->load;
    answer->residue = worst->kept;
    answer->known = found.beyond <= worst->load.residue * (1 + 2 * ALIKE);
    answer->settles = week->settles;
    answer->long_run = found.long_run.load;
    answer->opening = found.opening.load;
    answer->start_up = found.start_up.load;
    answer->followed = found.followed;
    answer->beyond = found.beyond;
    return DREGS_OK;
}

/* ---- load by load ---- */

/* s from the begin of a week to the load behind `loads` of it. */
static double time_of(const dregs_calendar *c, uint64_t loads)
{
    uint64_t shifts = loads / c->loads_per_shift, days = shifts / c->shifts_per_day;

    return (double)(loads % c->loads_per_shift) * c->interval + (double)shifts * c->shift +
           (double)days * c->idle;
}

dregs_status dregs_week_each(const dregs_week *week, uint64_t number, int in_the_long_run,
                             dregs_week_take *take, void *user)
{
    struct walk walk;
    dregs_residue residue;
    dregs_status status;
    uint64_t load;

    if (number < 1 || number > FOLLOWED_MOST / week->loads + 1 ||
        (in_the_long_run && number > week->repeats))
        return DREGS_DOMAIN;
    if (in_the_long_run && !week->settles)
        return DREGS_NO_STEADY;
    status = begin(week, in_the_long_run, &walk);
    if (status)
        return status;
    for (load = 0; load < (number - 1) * week->loads; load++)
        step(&walk);
    for (load = 0; load < week->loads; load++) {
        dregs_residue_next(walk.state, &residue);
        take(user, time_of(&week->calendar, load), load + 1, &residue);
        step(&walk);
    }
    end(&walk);
    return DREGS_OK;
}

/* ---- for those that look at other things than residues ---- */

dregs_status dregs_residue_week_walk(const dregs_week *week, int in_the_long_run, uint64_t loads,
                                     residue_week_take *take, void *user)
{
    struct walk walk;
    dregs_status status = begin(week, in_the_long_run, &walk);
    uint64_t passed;

    if (status)
        return status;
    for (passed = 0; passed < loads && !take(user, walk.state, passed); passed++)
        step(&walk);
    end(&walk);
    return DREGS_OK;
}

void dregs_residue_week_place(const dregs_week *week, uint64_t passed, dregs_week_load *load)
{
    load->week = passed / week->loads + 1;
    set_place(week, passed % week->loads, load);
}

const dregs_map *dregs_residue_week_map(const dregs_week *week)
{
    return week->map;
}

const double *dregs_residue_week_steady(const dregs_week *week)
{
    return week->settles ? week->steady : NULL;
}
