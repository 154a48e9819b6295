/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_week.c: nights and weekends: the worst load of the first weeks and of the weeks that repeat
 * themselves against a march load by load on random lines, whose gaps are integrated here by
 * themselves; a rinse and a bath by hand; schedules that do not say enough.
 */
#include "balance/balance.h"
#include "check_main.h"
#include "dregs/week.h"
#include "line/line.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <string.h>

static struct lines_text text;

enum { SIDE = DREGS_LINE_STAGES + 1 };

/* ---- a gap, by a Taylor series in long double of all tanks and the number one ---- */

struct matrix {
    size_t n;
    long double at[SIDE][SIDE];
};

static void multiply(const struct matrix *a, const struct matrix *b, struct matrix *into)
{
    struct matrix made = {a->n, {{0}}};
    size_t i, j, k;

    for (i = 0; i < a->n; i++)
        for (k = 0; k < a->n; k++)
            for (j = 0; j < a->n; j++)
                made.at[i][k] += a->at[i][j] * b->at[j][k];
    *into = made;
}

/* exp of a, which is scaled down, summed and squared again. */
static void exponential(struct matrix *a)
{
    struct matrix sum = {a->n, {{0}}}, term = {a->n, {{0}}};
    long double most = 0;
    int halvings = 0, i;
    size_t r, c;

    for (r = 0; r < a->n; r++)
        most = fmaxl(most, fabsl(a->at[r][r]));
    for (; most > 0.25L; most /= 2)
        halvings++;
    for (r = 0; r < a->n; r++) {
        for (c = 0; c < a->n; c++)
            a->at[r][c] = ldexpl(a->at[r][c], -halvings);
        sum.at[r][r] = term.at[r][r] = 1;
    }
    for (i = 1; i < 40; i++) {
        multiply(&term, a, &term);
        for (r = 0; r < a->n; r++)
            for (c = 0; c < a->n; c++)
                sum.at[r][c] += term.at[r][c] /= i;
    }
    for (i = 0; i < halvings; i++)
        multiply(&sum, &sum, &sum);
    *a = sum;
}

static int tank_of(const dregs_line *line, dregs_link link)
{
    return link.kind == DREGS_LINK_STAGE ? dregs_line_stage(line, link.index)->tank : -1;
}

/* What `time` without loads does to the contents of one solute. */
static struct matrix gap_of(const dregs_line *line, unsigned solute, int idle, int flow,
                            double time)
{
    dregs_tank tank[DREGS_LINE_STAGES];
    struct matrix m = {dregs_line_tanks(line) + 1u, {{0}}};
    size_t t, one = m.n - 1;

    dregs_line_idle(line, flow, idle, tank);
    for (t = 0; t < one; t++) {
        const dregs_stage *stage = dregs_line_stage(line, tank[t].stage);
        int over = tank_of(line, stage->overflow_to), top = tank_of(line, stage->top_up_from);
        long double out = (long double)tank[t].overflow / tank[t].volume;
        m.at[t][t] -= out;
        if (over >= 0)
            m.at[over][t] += out;
        if (flow)
            m.at[t][t] -= (long double)stage->clearing[solute].si / tank[t].volume;
        m.at[t][one] += (long double)tank[t].flow *
                        dregs_line_fluid(line, stage->feed.index)->content[solute].si;
        if (top >= 0) {
            long double drawn = (long double)tank[t].top_up / tank[top].volume;
            m.at[top][top] -= drawn;
            m.at[t][top] += drawn;
        } else {
            m.at[t][one] += (long double)tank[t].top_up *
                            dregs_line_fluid(line, stage->top_up_from.index)->content[solute].si;
        }
    }
    for (t = 0; t < m.n; t++)
        for (size_t c = 0; c < m.n; c++)
            m.at[t][c] *= time;
    exponential(&m);
    return m;
}

/* ---- a march ---- */

struct plan {
    unsigned loads, shifts, days;
    double rest, night, weekend; /* s */
    int flow;
};

struct gaps {
    struct matrix rest, night, weekend;
};

static struct gaps gaps_of[DREGS_LINE_SOLUTES];

static void make_gaps(const dregs_line *line, const struct plan *plan)
{
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line); s++) {
        gaps_of[s].rest = gap_of(line, s, 0, 1, plan->rest);
        gaps_of[s].night = gap_of(line, s, 1, plan->flow, plan->night);
        gaps_of[s].weekend = gap_of(line, s, 1, plan->flow, plan->weekend);
    }
}

static void pass(const struct matrix *gap, double *z)
{
    long double after[SIDE];
    size_t i, k;

    for (i = 0; i < gap->n; i++)
        for (after[i] = 0, k = 0; k < gap->n; k++)
            after[i] += gap->at[i][k] * z[k];
    for (i = 0; i < gap->n; i++)
        z[i] = (double)after[i];
}

/* One load and what lies behind it; `load` from 0 since the begin. */
static void march(dregs_state *state, const struct plan *plan, uint64_t load)
{
    unsigned s, solutes = dregs_line_solutes(dregs_map_line(dregs_balance_state_map(state)));

    dregs_state_step(state);
    load++;
    for (s = 0; s < solutes && load % plan->loads == 0; s++) {
        double *z = dregs_balance_state_z(state, s);
        pass(&gaps_of[s].rest, z);
        if (load % ((uint64_t)plan->loads * plan->shifts * plan->days) == 0)
            pass(&gaps_of[s].weekend, z);
        else if (load % ((uint64_t)plan->loads * plan->shifts) == 0)
            pass(&gaps_of[s].night, z);
    }
}

/* A random line with a week below it. */
static dregs_line *scheduled(unsigned number, struct plan *plan)
{
    struct lines_stream r = {number, 2000000};
    dregs_line *line = lines_random(number, &text, NULL);
    double interval = dregs_line_load(line)->interval.si, shift;

    lines_free(line);
    *plan = (struct plan){.loads = 1 + lines_below(&r, 8),
                          .shifts = 1 + lines_below(&r, 3),
                          .days = 1 + lines_below(&r, 7)};
    shift = plan->loads * interval;
    lines_say(&text, "plan,kind,schedule,\nplan,loads per shift,%u,1\nplan,shifts per day,%u,1\n",
              plan->loads, plan->shifts);
    lines_say(&text, "plan,days per week,%u,1\n", plan->days);
    if (lines_chance(&r, 0.5) && shift * plan->shifts < 86400 / 2) {
        double hours = shift / 3600 * lines_between(&r, 1, 2);
        lines_say(&text, "plan,shift length,%.17g,h\n", hours);
        plan->rest = hours * 3600 - shift;
        shift = hours * 3600;
    }
    if (lines_chance(&r, 0.7)) {
        plan->flow = lines_chance(&r, 0.6);
        lines_say(&text, "plan,idle flow,%s,\n", plan->flow ? "on" : "off");
    }
    plan->night = 86400 - plan->shifts * shift;
    plan->weekend = plan->night + (7 - plan->days) * 86400.0;
    return lines_read(text.bytes);
}

static double next_residue(const dregs_state *state, int solute)
{
    dregs_residue residue;

    dregs_residue_next(state, &residue);
    return solute < 0 ? residue.total : residue.film[solute] + residue.adhering[solute];
}

static dregs_week_answer ask(const dregs_week *week, int solute, uint64_t loads)
{
    dregs_week_answer answer;

    ck_assert_int_eq(dregs_week_worst(week, solute, loads, &answer), DREGS_OK);
    return answer;
}

/* The first loads, each of them. */
static void first_weeks(const dregs_map *map, const dregs_week *week, const struct plan *plan,
                        int solute, unsigned number)
{
    dregs_state *state = lines_state(map);
    uint64_t loads = 3 * dregs_week_loads(week) + number % 5, load;
    dregs_week_answer answer = ask(week, solute, loads);
    double most = -1;

    for (load = 0; load < loads; load++) {
        most = fmax(most, next_residue(state, solute));
        march(state, plan, load);
    }
    ck_assert_near(answer.worst.residue, most, 1e-12, "line %u, first loads", number);
    ck_assert_int_eq(answer.known, 1);
    ck_assert_int_eq(answer.worst.in_the_long_run, 0);
    dregs_state_free(state);
}

enum { MARCHED_MOST = 60000 };

/* The line until its weeks repeat themselves, where that is within reach. \return 1: it was. */
static int all_weeks(const dregs_map *map, const dregs_week *week, const struct plan *plan,
                     int solute, unsigned number)
{
    dregs_state *state = lines_state(map);
    dregs_week_answer answer = ask(week, solute, DREGS_NO_END);
    uint64_t cycle = dregs_week_loads(week) * dregs_week_repeats(week), load = 0, c;
    double most = -1, last = -1, before = -2, opening = -1;
    int settled = 0;

    while (!settled && load < MARCHED_MOST) {
        before = last;
        last = opening = -1;
        for (c = 0; c < cycle && load < MARCHED_MOST; c++, load++) {
            double residue = next_residue(state, solute);
            last = fmax(last, residue);
            if (load % dregs_week_loads(week) == 0)
                opening = fmax(opening, residue);
            march(state, plan, load);
        }
        most = fmax(most, last);
        settled = fabs(last - before) <= 1e-15 * last && c == cycle;
    }
    dregs_state_free(state);
    if (answer.settles && settled) {
        ck_assert_near(answer.long_run.residue, last, 1e-11, "line %u, long run", number);
        ck_assert_msg(fabs(answer.opening.residue - opening) <= 1e-11 * last,
                      "line %u, first loads of weeks: %.17g, marched %.17g", number,
                      answer.opening.residue, opening);
        ck_assert_near(answer.worst.residue, most, 3e-9, "line %u, worst", number);
    }
    /* whatever was marched: nothing beyond what is called the worst */
    if (answer.known)
        ck_assert_msg(most <= answer.worst.residue * (1 + 3e-9), "line %u: %.17g is beyond %.17g",
                      number, most, answer.worst.residue);
    return answer.settles && settled && answer.known;
}

START_TEST(weeks_are_those_of_a_march_load_by_load)
{
    unsigned number, reached = 0;

    for (number = 0; number < 160; number++) {
        struct plan plan;
        dregs_line *line = scheduled(number, &plan);
        dregs_map *map = lines_map(line);
        dregs_week *week = NULL;
        int solute = (int)(number % (dregs_line_solutes(line) + 1)) - 1;
        make_gaps(line, &plan);
        ck_assert_int_eq(
            dregs_week_new(map, number % 2 ? DREGS_WEEK_SETTLED : DREGS_WEEK_WORST_KNOWN, &week),
            DREGS_OK);
        ck_assert_uint_eq(dregs_week_loads(week), plan.loads * plan.shifts * plan.days);
        first_weeks(map, week, &plan, solute, number);
        reached += (unsigned)all_weeks(map, week, &plan, solute, number);
        dregs_week_free(week);
        dregs_map_free(map);
        lines_free(line);
    }
    ck_assert_msg(reached > 60, "only %u lines came to repeat their weeks", reached);
}
END_TEST

/* ---- by hand ---- */

/* A rinse without a flow that loses 0.4 L/h to the air, and is topped up: salt comes with the
 * top-up and leaves with the films alone, 1 mL in and out of 5 L. Loads of an hour, so of a shift
 * of 6 loads 2 h are left, one shift a day, 4 days a week. */
static const char rinse[] =
    "item,property,value,unit\n"
    "rack,kind,load,\nrack,parts,10,1\nrack,area,20,cm2\nrack,interval,60,min\n"
    "salt,kind,solute,\ntap,kind,liquid,\ntap,solvent,water,\ntap,salt,250,mg/L\n"
    "di,kind,liquid,\ndi,solvent,water,\n"
    "dip,kind,rinse,\ndip,volume,5,L\ndip,liquid,di,\ndip,film,50,um\n"
    "last,kind,rinse,\nlast,volume,5,L\nlast,liquid,di,\nlast,film,50,um\n"
    "last,evaporation,0.4,L/h\nlast,top up from,tap,\n"
    "plan,kind,schedule,\nplan,loads per shift,6,1\nplan,shifts per day,1,1\n"
    "plan,shift length,8,h\nplan,days per week,4,1\n%s";

static double by_hand(unsigned weeks)
{
    double m = 0, most = 0, kept = 5.0 / 5.001;
    double salt = 0.25e-3 * 0.4; /* kg/h of top-up */
    unsigned week, day, l;

    for (week = 0; week < weeks; week++)
        for (most = 0, day = 1; day <= 4; day++) {
            for (l = 0; l < 6; l++) {
                most = fmax(most, m * (1 - kept));
                m = m * kept + salt;
            }
            m += salt * (2 + 16 + (day == 4 ? 3 * 24 : 0));
        }
    return most / (10 * 20e-4); /* kg/m2 */
}

START_TEST(a_rinse_that_evaporates_by_night)
{
    dregs_line *line;
    dregs_map *map;
    dregs_week *week = NULL;
    dregs_week_answer answer;
    dregs_worst alone;

    text.used = 0;
    lines_say(&text, rinse, "");
    line = lines_read(text.bytes);
    map = lines_map(line);
    ck_assert_int_eq(dregs_week_new(map, DREGS_WEEK_SETTLED, &week), DREGS_OK);
    ck_assert_uint_eq(dregs_week_loads(week), 24);
    ck_assert_uint_eq(dregs_week_repeats(week), 1);
    answer = ask(week, 0, 24);
    ck_assert_near(answer.worst.residue, by_hand(1), 1e-12, "first week");
    ck_assert_uint_eq(answer.worst.load, 24);
    answer = ask(week, 0, 24 * 1000);
    ck_assert_near(answer.worst.residue, by_hand(1000), 1e-12, "week 1000");
    answer = ask(week, 0, DREGS_NO_END);
    ck_assert_int_eq(answer.known, 1);
    ck_assert_int_eq(answer.worst.in_the_long_run, 1);
    ck_assert_near(answer.worst.residue, by_hand(9000), 1e-12, "long run");
    /* behind the weekend it is worst: 90 h without a load that takes salt along */
    ck_assert_uint_eq(answer.worst.load, 1);
    ck_assert_double_eq(answer.opening.residue, answer.worst.residue);
    /* a load an hour for ever takes out seven times as often */
    ck_assert_int_eq(dregs_residue_worst(map, 0, DREGS_NO_END, &alone), DREGS_OK);
    ck_assert_msg(answer.worst.residue > 6.9 * alone.residue, "%g beside %g", answer.worst.residue,
                  alone.residue);
    dregs_week_free(week);
    dregs_map_free(map);
    lines_free(line);
}
END_TEST

static void take_time(void *user, double time, uint64_t load, const dregs_residue *residue)
{
    double *into = user;

    ck_assert(isfinite(residue->total));
    into[load - 1] = time / 3600;
}

START_TEST(a_week_hour_by_hour)
{
    dregs_line *line;
    dregs_map *map;
    dregs_week *week = NULL;
    double hours[24];
    unsigned i;

    text.used = 0;
    lines_say(&text, rinse, "");
    line = lines_read(text.bytes);
    map = lines_map(line);
    ck_assert_int_eq(dregs_week_new(map, DREGS_WEEK_WORST_KNOWN, &week), DREGS_OK);
    ck_assert_int_eq(dregs_week_each(week, 1, 1, take_time, hours), DREGS_OK);
    for (i = 0; i < 24; i++)
        ck_assert_near(hours[i] + 1, i / 6 * 24 + i % 6 + 1, 1e-14, "load %u", i + 1);
    ck_assert_int_eq(dregs_week_each(week, 2, 1, take_time, hours), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_week_each(week, 0, 0, take_time, hours), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_week_each(week, UINT64_MAX, 0, take_time, hours), DREGS_DOMAIN);
    dregs_week_free(week);
    dregs_map_free(map);
    lines_free(line);
}
END_TEST

/* Salt that nothing takes out: without films there is no steady state, and all that is known is of
 * loads that were asked for. */
START_TEST(what_is_not_known_is_said)
{
    static const char *const schedules[] = {
        "", "plan,kind,schedule,\nplan,loads per shift,6,1\nplan,shifts per day,1,1\n"};
    dregs_week *week = NULL;
    dregs_week_answer answer;
    dregs_line *line;
    dregs_map *map;
    size_t i;

    for (i = 0; i < 2; i++) {
        text.used = 0;
        lines_say(&text, "%.*s%s", (int)(strstr(rinse, "plan,") - rinse), rinse, schedules[i]);
        line = lines_read(text.bytes);
        map = lines_map(line);
        ck_assert_int_eq(dregs_week_new(map, DREGS_WEEK_SETTLED, &week), DREGS_UNKNOWN);
        ck_assert_ptr_null(week);
        dregs_map_free(map);
        lines_free(line);
    }
    text.used = 0;
    lines_say(&text, rinse, "dip,dump every,999983,1\n"); /* a prime number */
    line = lines_read(text.bytes);
    map = lines_map(line);
    ck_assert_int_eq(dregs_week_new(map, DREGS_WEEK_SETTLED, &week), DREGS_OK);
    ck_assert_uint_eq(dregs_week_repeats(week), 999983);
    answer = ask(week, DREGS_EVERY_SOLUTE, DREGS_NO_END);
    ck_assert_int_eq(answer.settles, 0);
    ck_assert_int_eq(answer.known, 0);
    ck_assert_double_nan(answer.beyond);
    answer = ask(week, DREGS_EVERY_SOLUTE, 100);
    ck_assert_int_eq(answer.known, 1);
    ck_assert_int_eq(dregs_week_worst(week, 1, 100, &answer), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_week_worst(week, 0, DREGS_LOADS_MOST + 1, &answer), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_week_each(week, 1, 1, take_time, NULL), DREGS_NO_STEADY);
    dregs_week_free(week);
    dregs_map_free(map);
    lines_free(line);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("week");
    TCase *c = tcase_create("random lines");

    tcase_set_timeout(c, 300);
    suite_add_tcase(s, c);
    tcase_add_test(c, weeks_are_those_of_a_march_load_by_load);
    c = tcase_create("by hand");
    suite_add_tcase(s, c);
    tcase_add_test(c, a_rinse_that_evaporates_by_night);
    tcase_add_test(c, a_week_hour_by_hour);
    tcase_add_test(c, what_is_not_known_is_said);
    return s;
}

int main(void)
{
    gsl_set_error_handler_off();
    return run(suite());
}
