/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_balance.c: the balance on random lines: mass is conserved, and the map agrees with stepping
 * and with an integration written here from dregs-model(7) alone; the worst load against a look at
 * every one; dumps by hand and changed lines against files that say the same.
 */
#include "check_main.h"
#include "dregs/residue.h"
#include "line/line.h"
#include "lines.h"
#include "reuse/inside.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

static struct lines_text text;

static double in_tanks(const dregs_state *state, const dregs_line *line, unsigned solute)
{
    double sum = 0;
    unsigned t;

    for (t = 0; t < dregs_line_tanks(line); t++)
        sum += dregs_state_mass(state, solute, t);
    return sum;
}

/* The largest difference between two states, relative to each mass, but no finer than 1e-15 of all
 * that is in the line: there a tank holds rounding; and 1e-30 kg are nothing. */
static double apart(const dregs_state *a, const dregs_state *b, const dregs_line *line)
{
    double worst = 0;
    unsigned s, t;

    for (s = 0; s < dregs_line_solutes(line); s++) {
        double all = in_tanks(b, line, s);
        for (t = 0; t < dregs_line_tanks(line); t++) {
            double one = dregs_state_mass(a, s, t), other = dregs_state_mass(b, s, t);
            if (one != other)
                worst = fmax(worst, fabs(one - other) / fmax(fabs(other), 1e-15 * all + 1e-30));
        }
    }
    return worst;
}

static void *lines_free_map(dregs_map *map, dregs_line *line)
{
    dregs_map_free(map);
    lines_free(line);
    return NULL;
}

/* ---- conservation ---- */

enum { CONSERVED = 320 };

static double imbalance(const dregs_totals *t, double *throughput)
{
    double in = t->soil + t->fed + t->sprayed + t->refilled;
    double out = t->overflow + t->runoff + t->dumped + t->cleared + t->blown_off + t->carried;

    *throughput = fmax(in + t->held_first, out + t->held_last);
    return fabs(in + t->held_first - out - t->held_last);
}

static void all_conserved(const dregs_line *line, const dregs_map *map, unsigned number)
{
    static const uint64_t loads[] = {1, 7, 1000, 1000000};
    double throughput, lost;
    dregs_totals totals;
    unsigned s, i;

    for (s = 0; s < dregs_line_solutes(line); s++)
        for (i = 0; i < 4; i++) {
            ck_assert_int_eq(dregs_map_totals(map, s, loads[i], &totals), DREGS_OK);
            lost = imbalance(&totals, &throughput);
            ck_assert_msg(lost <= 1e-12 * throughput,
                          "line %u, solute %u, %lu loads: %g kg of %g kg lost (%g)", number, s,
                          (unsigned long)loads[i], lost, throughput, lost / throughput);
        }
}

START_TEST(mass_is_conserved_where_liquid_is_trapped)
{
    unsigned number;

    for (number = 0; number < CONSERVED; number++) {
        dregs_line *line = lines_random_trapping(number, &text, NULL);
        dregs_map *map = lines_map(line);
        all_conserved(line, map, number);
        lines_free_map(map, line);
    }
}
END_TEST

START_TEST(mass_is_conserved)
{
    unsigned number, tried = 0;

    for (number = 0; number < CONSERVED; number++) {
        dregs_line *line = lines_random(number, &text, &tried);
        dregs_map *map = lines_map(line);
        all_conserved(line, map, number);
        lines_free_map(map, line);
    }
    ck_assert_msg(CONSERVED >= 0.8 * tried, "%u lines of %u were refused", tried - CONSERVED,
                  tried);
}
END_TEST

/* What the random lines hold, so that no feature goes untested by a slip of the generator. */
START_TEST(random_lines_hold_everything)
{
    static const char *const wanted[] = {
        "extra area",    "hold-up",       "edge",           "exchange",    "shares tank with",
        "overflow to,t", "top up from,t", "top up from,l",  "evaporation", "open area",
        "clearing",      "dump every",    "refill from",    ",spray,",     "runoff to,t",
        ",dry,",         "blow-off",      "mixing",         "removal s",   "removal,",
        "drain time",    "kushner",       "drag-out class", "feed,",       "t7,kind"};
    unsigned seen[sizeof wanted / sizeof wanted[0]] = {0}, number;
    size_t i;

    for (number = 0; number < CONSERVED; number++) {
        lines_free(lines_random(number, &text, NULL));
        for (i = 0; i < sizeof wanted / sizeof wanted[0]; i++)
            seen[i] += strstr(text.bytes, wanted[i]) != NULL;
    }
    for (i = 0; i < sizeof wanted / sizeof wanted[0]; i++)
        ck_assert_msg(seen[i] >= 15, "only %u random lines have '%s'", seen[i], wanted[i]);
}
END_TEST

START_TEST(carried_totals_are_the_films_summed)
{
    unsigned number, s, load;

    for (number = 400; number < 460; number++) {
        dregs_line *line = lines_random_either(number, &text);
        dregs_map *map = lines_map(line);
        dregs_state *state = lines_state(map);
        double films[DREGS_LINE_SOLUTES] = {0};
        dregs_totals totals;
        for (load = 0; load < 500; load++) {
            for (s = 0; s < dregs_line_solutes(line); s++)
                films[s] += dregs_state_film(state, s, dregs_line_stages(line) - 1) +
                            dregs_state_trapped(state, s, dregs_line_stages(line) - 1);
            dregs_state_step(state);
        }
        for (s = 0; s < dregs_line_solutes(line); s++) {
            ck_assert_int_eq(dregs_map_totals(map, s, 500, &totals), DREGS_OK);
            ck_assert_near(totals.carried, films[s], 1e-11, "line %u, carried of %u", number, s);
            ck_assert_near(totals.held_last, in_tanks(state, line, s), 1e-11, "line %u, held of %u",
                           number, s);
        }
        dregs_state_free(state);
        lines_free_map(map, line);
    }
}
END_TEST

/* ---- an integration of its own: masses in, masses out ---- */

enum { DRAIN = -1, PLANT_TANKS = 8, SUMS = 10 };

/* In the order of dregs_totals, behind held_last. */
enum { SOIL, FED, SPRAYED, REFILLED, OVERFLOW, RUNOFF, DUMPED, CLEARED, BLOWN_OFF, CARRIED };

struct plant {
    const dregs_line *line;
    unsigned solute, tanks;
    double interval;
    double volume[PLANT_TANKS], flow[PLANT_TANKS], over[PLANT_TANKS], top[PLANT_TANKS];
    double clearing[PLANT_TANKS], feed[PLANT_TANKS], top_feed[PLANT_TANKS], fresh[PLANT_TANKS];
    int over_to[PLANT_TANKS], top_from[PLANT_TANKS], refill[PLANT_TANKS];
    uint64_t every[PLANT_TANKS];
    double mass[PLANT_TANKS + SUMS]; /* kg in the tanks, then the sums */
};

static int tank_of(const dregs_line *line, dregs_link link)
{
    return link.kind == DREGS_LINK_STAGE ? dregs_line_stage(line, link.index)->tank : DRAIN;
}

static double content(const struct plant *p, dregs_link liquid)
{
    return liquid.kind == DREGS_LINK_LIQUID
               ? dregs_line_fluid(p->line, liquid.index)->content[p->solute].si
               : 0;
}

/* D of section 2, from the mean film */
static double film_volume(const dregs_line *line, unsigned stage)
{
    const dregs_load *load = dregs_line_load(line);
    const dregs_carried *carried = dregs_line_carried(line, stage);

    if (dregs_line_stage(line, stage)->kind == DREGS_DRY)
        return 0;
    return load->parts.si *
               (load->area.si * carried->thickness + load->hold_up.si + carried->bead) +
           load->extra_area.si * carried->thickness;
}

/* Net of what films and sprays bring to each tank and evaporation takes, m3/s. */
static void own_gains(const struct plant *p, double *gain)
{
    double in = 0, out;
    unsigned i;
    int to;

    for (i = 0; i < dregs_line_stages(p->line); i++, in = out) {
        const dregs_stage *stage = dregs_line_stage(p->line, i);
        out = film_volume(p->line, i);
        to = stage->kind == DREGS_SPRAY ? tank_of(p->line, stage->runoff_to) : DRAIN;
        if (to >= 0)
            gain[to] += (stage->use.si + in - out) / p->interval;
        if (stage->tank < 0)
            continue;
        gain[stage->tank] += (in - out) / p->interval;
        if (!stage->shares.row)
            gain[stage->tank] +=
                stage->flow.si - (stage->open_area.row
                                      ? dregs_line_tank(p->line, (unsigned)stage->tank)->evaporation
                                      : stage->evaporation.si);
    }
}

/* Overflows and top-ups by repetition: the network has no circle, so they stand after as many
 * rounds as there are tanks. */
static void balance_volumes(struct plant *p)
{
    double own[PLANT_TANKS] = {0}, net[PLANT_TANKS];
    unsigned round, t;

    own_gains(p, own);
    for (round = 0; round <= p->tanks; round++) {
        memcpy(net, own, sizeof net);
        for (t = 0; t < p->tanks; t++) {
            if (p->over_to[t] >= 0)
                net[p->over_to[t]] += p->over[t];
            if (p->top_from[t] >= 0)
                net[p->top_from[t]] -= p->top[t];
        }
        for (t = 0; t < p->tanks; t++) {
            p->over[t] = fmax(net[t], 0);
            p->top[t] = fmax(-net[t], 0);
        }
    }
}

static void build(struct plant *p, const dregs_line *line, unsigned solute)
{
    unsigned i;

    memset(p, 0, sizeof *p);
    p->line = line;
    p->solute = solute;
    p->interval = dregs_line_load(line)->interval.si;
    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        unsigned t = p->tanks;
        if (stage->tank < 0 || stage->shares.row)
            continue;
        p->tanks++;
        p->volume[t] = stage->volume.si;
        p->flow[t] = stage->flow.si;
        p->feed[t] = content(p, stage->feed);
        p->top_feed[t] = content(p, stage->top_up_from);
        p->fresh[t] = content(p, stage->liquid);
        p->clearing[t] = stage->clearing[solute].si;
        p->over_to[t] = tank_of(line, stage->overflow_to);
        p->top_from[t] = tank_of(line, stage->top_up_from);
        p->refill[t] = tank_of(line, stage->refill_from);
        p->every[t] = stage->dump_every.row ? (uint64_t)stage->dump_every.si : 0;
        p->mass[t] = p->volume[t] * p->fresh[t];
    }
    balance_volumes(p);
}

/* A load on its way: film and trapped liquid, as volumes before and behind a stage and as masses.
 */
struct trip {
    double in, out, f;
    double trapped_in, trapped_out, t, opened;
    double soil;
};

/* Does a row say how trapped liquid exchanges? */
static int traps(const dregs_line *line)
{
    int said = dregs_line_load(line)->hold_up_exchange.row != 0;
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++)
        said |= dregs_line_stage(line, i)->hold_up_exchange.row != 0;
    return said;
}

static double opened(const dregs_line *line, const dregs_stage *stage)
{
    const dregs_load *load = dregs_line_load(line);

    return stage->hold_up_exchange.row  ? stage->hold_up_exchange.si
           : load->hold_up_exchange.row ? load->hold_up_exchange.si
           : stage->tank < 0            ? 1
                                        : stage->exchange.si;
}

static void through_spray(struct plant *p, const dregs_stage *stage, struct trip *w)
{
    double *sum = p->mass + p->tanks, l = content(p, stage->liquid), s = stage->use.si;
    double wet = w->in + w->opened * w->trapped_in, solute = w->f + w->opened * w->t;
    double c = wet > 0 ? l + (solute / wet - l) * exp(-stage->mixing.si * s / wet) : l;
    double f_out = c * w->out;
    double t_out = (1 - w->opened) * w->t + (w->trapped_out - (1 - w->opened) * w->trapped_in) * c;
    int to = tank_of(p->line, stage->runoff_to);

    *(to < 0 ? &sum[RUNOFF] : &p->mass[to]) += w->f + w->t + l * s - f_out - t_out;
    sum[SPRAYED] += l * s;
    w->f = f_out;
    w->t = t_out;
}

static void through_tank(struct plant *p, const dregs_stage *stage, struct trip *w)
{
    double *m = &p->mass[stage->tank], volume = p->volume[stage->tank], o = w->opened;
    double off = stage->removal[p->solute].si * w->soil, c, f_out, t_out;
    double bypass = fmin((1 - stage->exchange.si) * w->in, w->out);

    w->soil -= off;
    *m += off;
    p->mass[p->tanks + SOIL] += off;
    c = (*m + (w->in > 0 ? (w->in - bypass) * w->f / w->in : w->f) + o * w->t) /
        (volume + w->in - bypass + o * w->trapped_in);
    f_out = (w->in > 0 ? bypass * w->f / w->in : 0) + (w->out - bypass) * c;
    t_out = (1 - o) * w->t + (w->trapped_out - (1 - o) * w->trapped_in) * c;
    *m += w->f + w->t - f_out - t_out;
    w->f = f_out;
    w->t = t_out;
}

/* Section 3: the load through all stages; film[i] receives the solute in the film behind each, and
 * trapped[i] that of trapped liquid. */
static void pass(struct plant *p, double *film, double *trapped)
{
    double *sum = p->mass + p->tanks;
    const dregs_load *load = dregs_line_load(p->line);
    struct trip w = {.soil = dregs_line_solute(p->line, p->solute)->on_parts.si * load->parts.si};
    unsigned i;

    for (i = 0; i < dregs_line_stages(p->line); i++, w.in = w.out, w.trapped_in = w.trapped_out) {
        const dregs_stage *stage = dregs_line_stage(p->line, i);
        w.trapped_out =
            traps(p->line) && stage->kind != DREGS_DRY ? load->parts.si * load->hold_up.si : 0;
        w.out = film_volume(p->line, i) - w.trapped_out;
        w.opened = opened(p->line, stage);
        if (stage->kind == DREGS_DRY) {
            sum[BLOWN_OFF] += stage->blow_off.si * (w.f + w.opened * w.t);
            w.f -= stage->blow_off.si * w.f;
            w.t -= stage->blow_off.si * w.opened * w.t;
        } else if (stage->kind == DREGS_SPRAY)
            through_spray(p, stage, &w);
        else
            through_tank(p, stage, &w);
        film[i] = w.f;
        trapped[i] = w.t;
    }
    sum[CARRIED] += w.f + w.t;
}

/* Section 4 as rates. */
static int rates(double time, const double m[], double d[], void *user)
{
    const struct plant *p = user;
    double *sum = d + p->tanks;
    unsigned t;

    (void)time;
    memset(d, 0, (p->tanks + SUMS) * sizeof *d);
    for (t = 0; t < p->tanks; t++) {
        double over = p->over[t] * m[t] / p->volume[t];
        double cleared = p->clearing[t] * m[t] / p->volume[t];
        double fed = p->flow[t] * p->feed[t], topped;
        if (p->top_from[t] < 0) {
            fed += p->top[t] * p->top_feed[t];
        } else {
            topped = p->top[t] * m[p->top_from[t]] / p->volume[p->top_from[t]];
            d[p->top_from[t]] -= topped;
            d[t] += topped;
        }
        d[t] += fed - over - cleared;
        sum[FED] += fed;
        sum[CLEARED] += cleared;
        *(p->over_to[t] < 0 ? &sum[OVERFLOW] : &d[p->over_to[t]]) += over;
    }
    return GSL_SUCCESS;
}

static void wait_for_next(struct plant *p, double finest)
{
    gsl_odeiv2_system system = {rates, NULL, p->tanks + SUMS, p};
    gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd,
                                                              p->interval / 50, finest, 1e-13);
    double time = 0;

    ck_assert_ptr_nonnull(driver);
    ck_assert_int_eq(gsl_odeiv2_driver_apply(driver, &time, p->interval, p->mass), GSL_SUCCESS);
    gsl_odeiv2_driver_free(driver);
}

/* Fills a tank up to its volume, from what it refills from; `held` is what each tank has, m3. */
static void fill_up(struct plant *p, unsigned t, double *held)
{
    double need = p->volume[t] - held[t], part;
    int from = p->refill[t];

    if (from < 0) {
        p->mass[t] += need * p->fresh[t];
        p->mass[p->tanks + REFILLED] += need * p->fresh[t];
    } else {
        part = p->mass[from] * need / held[from];
        p->mass[t] += part;
        p->mass[from] -= part;
        held[from] -= need;
    }
    held[t] = p->volume[t];
}

static void dump(struct plant *p, uint64_t done)
{
    double held[PLANT_TANKS];
    unsigned t, round;

    memcpy(held, p->volume, sizeof held);
    for (round = 0; round <= p->tanks; round++)
        for (t = 0; t < p->tanks; t++) {
            if (round == 0 && p->every[t] && done % p->every[t] == 0) {
                p->mass[p->tanks + DUMPED] += p->mass[t];
                p->mass[t] = held[t] = 0;
            }
            if (held[t] < p->volume[t] * (1 - 1e-13))
                fill_up(p, t, held);
        }
}

/* Near to 1e-9 of the value, or to rounding of all that has moved. */
static void agree(double got, double expected, double moved, const char *what, unsigned number,
                  uint64_t load, unsigned which)
{
    ck_assert_msg(fabs(got - expected) <= 1e-9 * fabs(expected) + 1e-14 * moved,
                  "line %u, after load %lu, %s %u: got %.17g, integrated %.17g\n%s", number,
                  (unsigned long)load, what, which, got, expected, text.bytes);
}

static void totals_agree(const struct plant *p, const dregs_map *map, unsigned number,
                         uint64_t loads, double moved)
{
    dregs_totals t;
    const double *sums = p->mass + p->tanks;
    unsigned i;

    ck_assert_int_eq(dregs_map_totals(map, p->solute, loads, &t), DREGS_OK);
    for (i = 0; i < SUMS; i++) {
        double got[SUMS] = {t.soil,   t.fed,    t.sprayed, t.refilled,  t.overflow,
                            t.runoff, t.dumped, t.cleared, t.blown_off, t.carried};
        agree(got[i], sums[i], moved, "sum", number, loads, i);
    }
}

static void march_both(const dregs_line *line, const dregs_map *map, unsigned number,
                       unsigned solute)
{
    enum { LOADS = 20 };
    dregs_state *state = lines_state(map);
    struct plant p;
    double film[DREGS_LINE_STAGES], trapped[DREGS_LINE_STAGES], moved, throughput;
    dregs_totals totals;
    uint64_t load;
    unsigned i;

    build(&p, line, solute);
    ck_assert_int_eq(dregs_map_totals(map, solute, LOADS, &totals), DREGS_OK);
    (void)imbalance(&totals, &throughput); /* only the size of what moves */
    moved = throughput;
    for (load = 1; load <= LOADS; load++) {
        pass(&p, film, trapped);
        for (i = 0; i < dregs_line_stages(line); i++)
            agree(dregs_state_film(state, solute, i), film[i], moved, "film", number, load, i);
        wait_for_next(&p, 1e-16 * moved + 1e-40);
        dump(&p, load);
        dregs_state_step(state);
        for (i = 0; i < p.tanks; i++)
            agree(dregs_state_mass(state, solute, i), p.mass[i], moved, "tank", number, load, i);
    }
    totals_agree(&p, map, number, LOADS, moved);
    dregs_state_free(state);
}

START_TEST(the_march_agrees_with_an_integration)
{
    unsigned number, s;

    for (number = 1000; number < 1120; number++) {
        dregs_line *line = lines_random(number, &text, NULL);
        dregs_map *map = lines_map(line);
        for (s = 0; s < dregs_line_solutes(line) && s < 2; s++)
            march_both(line, map, number, s);
        lines_free_map(map, line);
    }
}
END_TEST

/* ---- many dumps let the past be forgotten ---- */

/* Three baths that are dumped every 7, 11 and 13 loads, 1001 loads until all fall together; the
 * oil goes like the salt, the wax not; what is fresh in the first bath alone fades. */
static void say_forgetful(const char *more)
{
    unsigned i;

    lines_begin(&text);
    lines_say(&text, "rack,kind,load,\nrack,parts,10,1\nrack,area,1,dm2\nrack,interval,5,min\n"
                     "oil,kind,solute,\noil,on parts,2,mg\nsalt,kind,solute,\n"
                     "salt,on parts,0.3,mg\nwax,kind,solute,\nwax,on parts,1,mg\n"
                     "dye,kind,solute,\ntap,kind,liquid,\ntap,solvent,water,\ntap,salt,2,mg/L\n"
                     "blue,kind,liquid,\nblue,solvent,water,\nblue,dye,9,g/L\n");
    for (i = 0; i < 3; i++)
        lines_say(&text,
                  "b%u,kind,wash,\nb%u,volume,40,L\nb%u,liquid,%s,\nb%u,film,%u,um\n"
                  "b%u,removal,60,%%\nb%u,dump every,%u,1\n",
                  i, i, i, i ? "tap" : "blue", i, 30 + i, i, i,
                  i == 0   ? 7
                  : i == 1 ? 11
                           : 13);
    lines_say(&text, "b1,clearing wax,12,L/h\n%s", more);
}

static void same_by_both_ways(const dregs_state *stepped, const dregs_state *leapt,
                              const dregs_line *line, uint64_t load)
{
    unsigned s, t;

    for (s = 0; s < dregs_line_solutes(line); s++)
        for (t = 0; t < dregs_line_tanks(line); t++) {
            double expected = dregs_state_mass(stepped, s, t), got = dregs_state_mass(leapt, s, t);
            ck_assert_msg(fabs(got - expected) <= 1e-12 * expected,
                          "load %lu, solute %u, tank %u: got %.17g, stepped %.17g",
                          (unsigned long)load, s, t, got, expected);
        }
}

/* Every load stepped through is what it must be, from the fresh start and, where the line settles,
 * once around the period that repeats itself. The last line holds a bath that nobody dumps, which
 * forgets nothing. */
START_TEST(what_many_dumps_forget_is_not_missed)
{
    static const char *const more[] = {
        "", "basin,kind,rinse,\nbasin,volume,900,L\nbasin,liquid,blue,\nbasin,film,40,um\n"};
    static const uint64_t at[] = {2, 14, 260, 700, 1001, 1002, 1500, 2003, 2700};
    unsigned i, k;

    for (k = 0; k < 2; k++) {
        dregs_line *line;
        dregs_map *map;
        dregs_state *stepped, *leapt, *around;
        say_forgetful(more[k]);
        line = lines_read(text.bytes);
        ck_assert_uint_eq(dregs_line_period(line), 1001);
        map = lines_map(line);
        stepped = lines_state(map);
        around = lines_state(map);
        for (i = 0; i < sizeof at / sizeof at[0]; i++) {
            leapt = lines_state(map);
            while (dregs_state_next(stepped) < at[i])
                dregs_state_step(stepped);
            ck_assert_int_eq(dregs_state_before(leapt, at[i]), DREGS_OK);
            same_by_both_ways(stepped, leapt, line, at[i]);
            dregs_state_free(leapt);
        }
        ck_assert_int_eq(dregs_state_periodic(around), DREGS_OK);
        leapt = lines_state(map);
        ck_assert_int_eq(dregs_state_periodic(leapt), DREGS_OK);
        for (i = 0; i < 1001; i++)
            dregs_state_step(around);
        same_by_both_ways(around, leapt, line, 1);
        dregs_state_free(stepped);
        dregs_state_free(around);
        dregs_state_free(leapt);
        lines_free_map(map, line);
    }
}
END_TEST

/* ---- the same, with the time between loads by a series of its own ---- */

enum { PLANT_DIM = PLANT_TANKS + SUMS + 1 };
typedef long double plant_matrix[PLANT_DIM][PLANT_DIM];

static void times(plant_matrix a, plant_matrix b, plant_matrix into, unsigned n)
{
    plant_matrix product = {{0}};
    unsigned i, j, k;

    for (i = 0; i < n; i++)
        for (k = 0; k < n; k++)
            for (j = 0; j < n; j++)
                product[i][j] += a[i][k] * b[k][j];
    memcpy(into, product, sizeof product);
}

/* exp(G T) of the rates, which are linear in the masses and the number one behind them: Taylor's
 * series of a small part of the time, squared, in long doubles. */
static void wait_matrix(const struct plant *p, plant_matrix waited)
{
    enum { HALVED = 16, TERMS = 20 };
    unsigned n = p->tanks + SUMS, i, j;
    double none[PLANT_DIM] = {0}, still[PLANT_DIM] = {0}, moved[PLANT_DIM];
    plant_matrix step = {{0}}, term = {{0}};

    ck_assert_int_eq(rates(0, none, still, (void *)(uintptr_t)p), GSL_SUCCESS);
    for (j = 0; j <= n; j++) {
        double unit[PLANT_DIM] = {0};
        unit[j] = 1;
        ck_assert_int_eq(rates(0, unit, moved, (void *)(uintptr_t)p), GSL_SUCCESS);
        for (i = 0; i < n; i++)
            step[i][j] =
                (j < n ? (long double)moved[i] - still[i] : still[i]) * p->interval / (1 << HALVED);
    }
    memset(waited, 0, sizeof step);
    for (i = 0; i <= n; i++)
        waited[i][i] = term[i][i] = 1;
    for (unsigned k = 1; k <= TERMS; k++) {
        times(step, term, term, n + 1);
        for (i = 0; i <= n; i++)
            for (j = 0; j <= n; j++)
                waited[i][j] += term[i][j] /= k;
    }
    for (i = 0; i < HALVED; i++)
        times(waited, waited, waited, n + 1);
}

static void wait_by(struct plant *p, plant_matrix waited)
{
    unsigned n = p->tanks + SUMS, i, j;
    long double after[PLANT_DIM];

    for (i = 0; i < n; i++) {
        after[i] = waited[i][n];
        for (j = 0; j < n; j++)
            after[i] += waited[i][j] * p->mass[j];
    }
    for (i = 0; i < n; i++)
        p->mass[i] = (double)after[i];
}

/* Near to 1e-12 of the value, or to rounding of all that has moved. */
static void meet(double got, double expected, double moved, const char *what, unsigned number,
                 uint64_t load, unsigned which)
{
    ck_assert_msg(fabs(got - expected) <= 1e-12 * fabs(expected) + 1e-15 * moved,
                  "line %u, load %lu, %s %u: got %.17g, marched %.17g (%.2g)\n%s", number,
                  (unsigned long)load, what, which, got, expected, got / expected - 1, text.bytes);
}

static void march_trapping(const dregs_line *line, const dregs_map *map, unsigned number,
                           unsigned solute)
{
    enum { LOADS = 60 };
    dregs_state *state = lines_state(map);
    double film[DREGS_LINE_STAGES], trapped[DREGS_LINE_STAGES], moved;
    dregs_totals totals;
    plant_matrix waited;
    struct plant p;
    uint64_t load;
    unsigned i;

    build(&p, line, solute);
    wait_matrix(&p, waited);
    ck_assert_int_eq(dregs_map_totals(map, solute, LOADS, &totals), DREGS_OK);
    (void)imbalance(&totals, &moved); /* only the size of what moves */
    for (load = 1; load <= LOADS; load++) {
        pass(&p, film, trapped);
        for (i = 0; i < dregs_line_stages(line); i++) {
            meet(dregs_state_film(state, solute, i), film[i], moved, "film", number, load, i);
            meet(dregs_state_trapped(state, solute, i), trapped[i], moved, "trapped", number, load,
                 i);
        }
        wait_by(&p, waited);
        dump(&p, load);
        dregs_state_step(state);
        for (i = 0; i < p.tanks; i++)
            meet(dregs_state_mass(state, solute, i), p.mass[i], moved, "tank", number, load, i);
    }
    totals_agree(&p, map, number, LOADS, moved);
    dregs_state_free(state);
    state = lines_state(map); /* straight to the end of it */
    ck_assert_int_eq(dregs_state_before(state, LOADS + 1), DREGS_OK);
    for (i = 0; i < p.tanks; i++)
        meet(dregs_state_mass(state, solute, i), p.mass[i], moved, "leapt to tank", number, LOADS,
             i);
    dregs_state_free(state);
}

/* DREGS_LINES more lines than `make check` has time for: make differential. */
static unsigned long lines_asked(void)
{
    const char *asked = getenv("DREGS_LINES");

    return asked ? strtoul(asked, NULL, 10) : 0;
}

START_TEST(any_line_agrees_with_a_march)
{
    unsigned long more = lines_asked(), i;
    unsigned number, s;

    for (i = 0; i < (more ? more : 100); i++) {
        dregs_line *line;
        dregs_map *map;
        number = (unsigned)(300000 + i);
        line = lines_random_either(number, &text);
        map = lines_map(line);
        for (s = 0; s < dregs_line_solutes(line); s++)
            march_trapping(line, map, number, s);
        lines_free_map(map, line);
    }
    if (more)
        printf("# %lu lines\n", more);
}
END_TEST

START_TEST(trapped_liquid_agrees_with_a_march)
{
    unsigned number, s;

    for (number = 1200; number < 1400; number++) {
        dregs_line *line = lines_random_trapping(number, &text, NULL);
        dregs_map *map = lines_map(line);
        for (s = 0; s < dregs_line_solutes(line) && s < 2; s++)
            march_trapping(line, map, number, s);
        lines_free_map(map, line);
    }
}
END_TEST

/* ---- far loads ---- */

START_TEST(before_a_load_is_stepping_to_it)
{
    unsigned number;

    for (number = 2000; number < 2100; number++) {
        struct lines_stream stream = {number, 0};
        dregs_line *line = lines_random(number, &text, NULL);
        dregs_map *map = lines_map(line);
        dregs_state *stepped = lines_state(map), *leapt = lines_state(map);
        uint64_t target = 1;
        double off;
        /* on from where the last leap ended: from within a dump period too */
        while ((target += 1 + lines_below(&stream, target < 40 ? 9 : 900)) <= 3000) {
            while (dregs_state_next(stepped) < target)
                dregs_state_step(stepped);
            ck_assert_int_eq(dregs_state_before(leapt, target), DREGS_OK);
            ck_assert_uint_eq(dregs_state_next(leapt), target);
            off = apart(leapt, stepped, line);
            ck_assert_msg(off <= 1e-10, "line %u, load %lu: %g apart", number,
                          (unsigned long)target, off);
        }
        dregs_state_free(stepped);
        dregs_state_free(leapt);
        lines_free_map(map, line);
    }
}
END_TEST

START_TEST(far_loads_do_not_depend_on_the_way_there)
{
    const uint64_t far = 1000000000;
    unsigned number, i;
    double off;

    for (number = 2200; number < 2280; number++) {
        dregs_line *line = lines_random(number, &text, NULL);
        dregs_map *map = lines_map(line);
        dregs_state *one = lines_state(map), *other = lines_state(map);
        ck_assert_int_eq(dregs_state_before(one, far), DREGS_OK);
        for (i = 0; i < 13; i++)
            dregs_state_step(other);
        ck_assert_int_eq(dregs_state_before(other, 377777777), DREGS_OK);
        dregs_state_step(other);
        ck_assert_int_eq(dregs_state_before(other, far), DREGS_OK);
        off = apart(other, one, line);
        ck_assert_msg(off <= 1e-9, "line %u: %g apart", number, off);
        dregs_state_free(one);
        dregs_state_free(other);
        lines_free_map(map, line);
    }
}
END_TEST

START_TEST(the_periodic_state_returns)
{
    unsigned number, settled = 0;
    unsigned long i;
    double off;

    for (number = 2300; number < 2420; number++) {
        dregs_line *line = lines_random(number, &text, NULL);
        dregs_map *map = lines_map(line);
        dregs_state *kept = lines_state(map), *moved = lines_state(map), *far = lines_state(map);
        if (!dregs_state_periodic(kept)) {
            settled++;
            ck_assert_uint_eq(dregs_state_next(kept), 1);
            ck_assert_int_eq(dregs_state_periodic(moved), DREGS_OK);
            for (i = 0; i < dregs_line_period(line); i++)
                dregs_state_step(moved);
            off = apart(moved, kept, line);
            ck_assert_msg(off <= 1e-9, "line %u: %g off after a period", number, off);
            ck_assert_int_eq(
                dregs_state_before(far, 40000000 * (uint64_t)dregs_line_period(line) + 1),
                DREGS_OK);
            off = apart(far, kept, line);
            ck_assert_msg(off <= 1e-8, "line %u: %g off in the long run", number, off);
        }
        dregs_state_free(kept);
        dregs_state_free(moved);
        dregs_state_free(far);
        lines_free_map(map, line);
    }
    ck_assert_uint_ge(settled, 110);
}
END_TEST

/* ---- closed forms and refusals ---- */

/* A bath that keeps 12.5 g/L, for what it loses is made up with the same, and a still rinse. */
static const char still[] =
    "item,property,value,unit\n"
    "rack,kind,load,\nrack,parts,1,1\nrack,area,0.7,m2\n"
    "rack,interval,3,min\nsalt,kind,solute,\n"
    "strong,kind,liquid,\nstrong,solvent,water,\nstrong,salt,12.5,g/L\n"
    "clean,kind,liquid,\nclean,solvent,water,\n"
    "bath,kind,wash,\nbath,volume,40,L\nbath,liquid,strong,\nbath,film,60,um\n"
    "rinse,kind,rinse,\nrinse,volume,5,L\nrinse,liquid,clean,\n"
    "rinse,film,60,um\n";

/* One still rinse, clean at first, with D in and out: C_j / C_0 = 1 - (V/(V+D))^j. */
START_TEST(a_still_rinse_follows_its_closed_form)
{
    static const uint64_t loads[] = {1, 2, 17, 400, 100000, 1000000000000};
    const double kept = 5.0 / (5.0 + 0.042); /* D = 0.7 m2 * 60 um = 0.042 L */
    dregs_line *line = lines_read(still);
    dregs_map *map = lines_map(line);
    dregs_state *state = lines_state(map);
    unsigned i;

    for (i = 0; i < 6; i++) {
        if (loads[i] > 1)
            ck_assert_int_eq(dregs_state_before(state, loads[i]), DREGS_OK);
        ck_assert_near(dregs_state_concentration(state, 0, 1),
                       -12.5 * expm1((double)loads[i] * log(kept)), 1e-12, "rinse at load %g",
                       (double)loads[i]);
        ck_assert_near(dregs_state_concentration(state, 0, 0), 12.5, 1e-12, "bath");
    }
    dregs_state_free(state);
    lines_free_map(map, line);
}
END_TEST

/* The rinse exchanges nothing and takes soil off: it keeps all of it for ever. */
static const char closed[] =
    "item,property,value,unit\n"
    "rack,kind,load,\nrack,parts,2,1\nrack,area,30,cm2\n"
    "rack,interval,3,min\noil,kind,solute,\noil,on parts,2,mg\n"
    "clean,kind,liquid,\nclean,solvent,water,\n"
    "bath,kind,wash,\nbath,volume,4,L\nbath,liquid,clean,\nbath,film,60,um\n"
    "bath,removal,50,%\n"
    "rinse,kind,rinse,\nrinse,volume,5,L\nrinse,liquid,clean,\n"
    "rinse,film,60,um\nrinse,exchange,0,%\nrinse,removal,50,%\n";

START_TEST(a_solute_without_a_way_out_never_settles)
{
    dregs_line *line = lines_read(closed);
    dregs_map *map = lines_map(line);
    dregs_state *state = lines_state(map);

    dregs_state_step(state);
    ck_assert_int_eq(dregs_state_periodic(state), DREGS_NO_STEADY);
    ck_assert_uint_eq(dregs_state_next(state), 2); /* untouched */
    /* a quarter of 2 x 2 mg stays there from each load */
    ck_assert_near(dregs_state_mass(state, 0, 1), 1e-6, 1e-12, "the rinse after one load");
    ck_assert_int_eq(dregs_state_before(state, 1000001), DREGS_OK);
    ck_assert_near(dregs_state_mass(state, 0, 1), 1.0, 1e-9, "the rinse after a million loads");
    dregs_state_free(state);
    lines_free_map(map, line);
}
END_TEST

/* Nothing gets out here either: of a film three times as thick as the one that leaves, 70 % do not
 * mix, so all that leaves has come along; and evaporation takes the liquid that stays behind. What
 * is kept is 1 but for rounding, which must not pass for a way out. */
static const char evaporating[] =
    "rack,kind,load,\nrack,parts,16,1\nrack,area,12.078,cm2\nrack,interval,13.851,min\n"
    "oil,kind,solute,\noil,on parts,1.3635,mg\n"
    "clean,kind,liquid,\nclean,solvent,water,\n"
    "bath,kind,wash,\nbath,volume,60,L\nbath,liquid,clean,\nbath,film,60,um\n"
    "bath,removal,50,%\nbath,dump every,400,1\n"
    "rinse,kind,rinse,\nrinse,liquid,clean,\nrinse,film,20,um\nrinse,exchange,30,%\n"
    "rinse,evaporation,4.7,L/h\n";

START_TEST(rounding_is_no_way_out)
{
    unsigned i;

    for (i = 0; i < 300; i++) {
        dregs_line *line;
        dregs_map *map;
        dregs_state *state;
        lines_begin(&text);
        lines_say(&text, "%srinse,volume,%.10g,L\n", evaporating, 3.1 + 0.0137 * i);
        line = lines_read(text.bytes);
        map = lines_map(line);
        state = lines_state(map);
        ck_assert_int_eq(dregs_state_periodic(state), DREGS_NO_STEADY);
        dregs_state_free(state);
        lines_free_map(map, line);
    }
}
END_TEST

START_TEST(arguments_out_of_range_are_refused)
{
    dregs_line *line = lines_read(still);
    dregs_map *map = lines_map(line);
    dregs_state *state = lines_state(map);
    dregs_totals totals;
    dregs_worst worst;
    double before;

    ck_assert_int_eq(dregs_state_before(state, 5), DREGS_OK);
    before = dregs_state_mass(state, 0, 1);
    ck_assert_int_eq(dregs_state_before(state, 4), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_state_before(state, 0), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_state_before(state, DREGS_LOADS_MOST + 1), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_state_before(state, 5), DREGS_OK);
    ck_assert_double_eq(dregs_state_mass(state, 0, 1), before);
    ck_assert_int_eq(dregs_state_before(state, DREGS_LOADS_MOST), DREGS_OK);
    ck_assert_int_eq(dregs_map_totals(map, 1, 1, &totals), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_map_totals(map, 0, DREGS_LOADS_MOST + 1, &totals), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_map_totals(map, 0, 0, &totals), DREGS_OK);
    ck_assert_double_eq(totals.held_first, totals.held_last);
    ck_assert_int_eq(dregs_residue_worst(map, 1, 10, &worst), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_residue_worst(map, -2, 10, &worst), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_residue_worst(map, 0, DREGS_LOADS_MOST + 1, &worst), DREGS_DOMAIN);
    ck_assert_ptr_null(dregs_map_film(map, 0, 2));
    ck_assert_ptr_null(dregs_map_film(map, 1, 0));
    ck_assert_ptr_null(dregs_map_met(map, 0, 2));
    ck_assert_ptr_null(dregs_map_row(map, 0, 2));
    ck_assert_double_nan(dregs_map_adhering(map, 0, 2));
    ck_assert_double_nan(dregs_state_mass(state, 0, 2));
    ck_assert_double_nan(dregs_state_met(state, 0, 2));
    ck_assert_double_nan(dregs_state_concentration(state, 0, 2));
    dregs_state_free(state);
    lines_free_map(map, line);
}
END_TEST

/* ---- dumps by hand, and lines that change ---- */

enum { BY_HAND = 120 };

/* The one tank that is due after `load`; -1 for none, -2 for several. */
static int due_after(const dregs_line *line, unsigned load)
{
    int who = -1;
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (stage->dump_every.row && load % (unsigned)stage->dump_every.si == 0)
            who = who == -1 ? (int)i : -2;
    }
    return who;
}

/* One line with its own dumps, and the same without any, dumped by hand at the same loads. Tanks
 * that are dumped together fill up from one another in one go, which no order of single dumps does:
 * there the second line takes over what the first one holds. */
static void dump_along(unsigned number, unsigned *dumped, unsigned *refilled)
{
    unsigned char all[DREGS_LINE_STAGES];
    struct alteration change = dregs_reuse_unaltered();
    dregs_line *line = lines_random(number, &text, NULL), *idle = NULL;
    dregs_map *map = lines_map(line), *idle_map;
    dregs_state *state = lines_state(map), *other;
    unsigned load;

    memset(all, 1, sizeof all);
    change.by_hand = all;
    ck_assert_int_eq(dregs_reuse_altered(line, &change, &idle), DREGS_OK);
    ck_assert_uint_eq(dregs_line_period(idle), 1);
    idle_map = lines_map(idle);
    other = lines_state(idle_map);
    for (load = 1; load <= 60; load++) {
        int who = due_after(line, load);
        dregs_state_step(state);
        dregs_state_step(other);
        if (who == -2) {
            dregs_state_free(other);
            other = dregs_state_under(idle_map, state);
            ck_assert_ptr_nonnull(other);
            ck_assert_uint_eq(dregs_state_next(other), load + 1);
        } else if (who >= 0) {
            ck_assert_int_eq(dregs_state_dump(other, (unsigned)who), DREGS_OK);
            ++*dumped;
            *refilled +=
                dregs_line_stage(line, (unsigned)who)->refill_from.kind == DREGS_LINK_STAGE;
        }
        ck_assert_msg(apart(other, state, line) <= 1e-11, "line %u, load %u: off by %g", number,
                      load, apart(other, state, line));
    }
    dregs_state_free(state);
    dregs_state_free(other);
    dregs_map_free(idle_map);
    dregs_line_free(idle);
    lines_free_map(map, line);
}

START_TEST(dumps_by_hand_are_those_of_the_file)
{
    unsigned number, dumped = 0, refilled = 0;

    for (number = 600; number < 600 + BY_HAND; number++)
        dump_along(number, &dumped, &refilled);
    ck_assert_uint_gt(dumped, 500);
    ck_assert_uint_gt(refilled, 50);
}
END_TEST

/* The first rinse fills up from the second, that one from the third, which has a dry stage and a
 * guest; no film carries anything into the bath. */
static const char refills[] =
    "item,property,value,unit\n"
    "rack,kind,load,\nrack,parts,7,1\nrack,area,100,cm2\nrack,interval,3,min\n"
    "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\nstrong,salt,12.5,g/L\n"
    "clean,kind,liquid,\nclean,solvent,water,\nclean,salt,0.031,g/L\n"
    "bath,kind,wash,\nbath,volume,40,L\nbath,liquid,strong,\nbath,film,60,um\n"
    "first,kind,rinse,\nfirst,volume,5,L\nfirst,liquid,clean,\nfirst,film,60,um\n"
    "first,refill from,second,\nfirst,dump every,1000,1\n"
    "second,kind,rinse,\nsecond,volume,8,L\nsecond,liquid,clean,\nsecond,film,60,um\n"
    "second,refill from,third,\n"
    "air,kind,dry,\nair,temperature,20,degC\n"
    "third,kind,rinse,\nthird,volume,10,L\nthird,liquid,clean,\nthird,film,60,um\n"
    "again,kind,rinse,\nagain,shares tank with,third,\nagain,film,60,um\n";

START_TEST(a_dump_by_hand_fills_up_along_a_chain)
{
    dregs_line *line = lines_read(refills);
    dregs_map *map = lines_map(line);
    dregs_state *state = lines_state(map);
    double bath, first, second, third;

    ck_assert_int_eq(dregs_state_before(state, 38), DREGS_OK);
    bath = dregs_state_mass(state, 0, 0);
    second = dregs_state_mass(state, 0, 2);
    third = dregs_state_mass(state, 0, 3);
    ck_assert_double_gt(dregs_state_concentration(state, 0, 1), 10 * 0.031);
    ck_assert_double_gt(second / 8, third / 10);
    ck_assert_int_eq(dregs_state_dump(state, 1), DREGS_OK);
    /* 5 L of the second; 5 L of the third into the second; 5 L fresh into the third */
    ck_assert_near(dregs_state_mass(state, 0, 0), bath, 0, "bath");
    ck_assert_near(dregs_state_mass(state, 0, 1), second * 5 / 8, 1e-14, "first");
    ck_assert_near(dregs_state_mass(state, 0, 2), second * 3 / 8 + third / 2, 1e-14, "second");
    ck_assert_near(dregs_state_mass(state, 0, 3), third / 2 + 5e-3 * 0.031, 1e-14, "third");
    ck_assert_uint_eq(dregs_state_next(state), 38);
    first = dregs_state_mass(state, 0, 1);
    second = dregs_state_mass(state, 0, 2);
    third = dregs_state_mass(state, 0, 3);
    /* the middle one: 8 L of the third; the guest of the third dumps it, all of it, fresh */
    ck_assert_int_eq(dregs_state_dump(state, 2), DREGS_OK);
    ck_assert_near(dregs_state_mass(state, 0, 1), first, 0, "first");
    ck_assert_near(dregs_state_mass(state, 0, 2), third * 8 / 10, 1e-14, "second");
    ck_assert_near(dregs_state_mass(state, 0, 3), third * 2 / 10 + 8e-3 * 0.031, 1e-14, "third");
    ck_assert_int_eq(dregs_state_dump(state, 5), DREGS_OK);
    ck_assert_near(dregs_state_mass(state, 0, 3), 1e-2 * 0.031, 1e-14, "third, dumped");
    ck_assert_near(dregs_state_mass(state, 0, 2), third * 8 / 10, 1e-14, "second");
    /* a dry stage has no tank, a seventh stage does not exist */
    ck_assert_int_eq(dregs_state_dump(state, 3), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_state_dump(state, 6), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_state_dump(state, (unsigned)-1), DREGS_DOMAIN);
    ck_assert_near(dregs_state_mass(state, 0, 3), 1e-2 * 0.031, 1e-14, "third, after refusals");
    dregs_state_free(state);
    lines_free_map(map, line);
}
END_TEST

/* A line of every kind of film and flow. %1 film, %2 mL/m2, %3 hold-up, %4 mm of edge, %5 soil,
 * %6 what the wash's liquid holds, %7 flow of the wash, %8 of the rinse, %9 what the rinse's liquid
 * holds, %10 further rows. */
static const char varied[] =
    "item,property,value,unit\n"
    "rack,kind,load,\nrack,parts,7,1\nrack,area,100,cm2\nrack,extra area,85,cm2\n"
    "rack,interval,3,min\nrack,hold-up,%.17g,mL\nrack,edge,%.17g,mm\n"
    "oil,kind,solute,\noil,on parts,%.17g,mg\nsalt,kind,solute,\n"
    "strong,kind,liquid,\nstrong,solvent,water,\nstrong,salt,%.17g,g/L\nstrong,oil,%.17g,mg/L\n"
    "clean,kind,liquid,\nclean,solvent,water,\nclean,salt,%.17g,mg/L\n"
    "bath,kind,wash,\nbath,volume,40,L\nbath,liquid,strong,\nbath,film,%.17g,um\n"
    "bath,removal,97,%%\nbath,flow,%.17g,L/h\nbath,dump every,23,1\n"
    "first,kind,rinse,\nfirst,volume,5,L\nfirst,liquid,clean,\nfirst,drag-out,%.17g,mL/m2\n"
    "first,exchange,88,%%\n"
    "last,kind,rinse,\nlast,volume,6,L\nlast,liquid,clean,\nlast,flow,%.17g,L/h\n"
    "last,overflow to,first,\nlast,film,%.17g,um\nlast,dump every,31,1\n"
    "fan,kind,spray,\nfan,liquid,clean,\nfan,use,1.7,L\nfan,film,%.17g,um\nfan,mixing,71,%%\n"
    "limit,kind,target,\nlimit,residue,1,ug/cm2\n";

struct variant {
    double drag_out, soil, strength, bath_flow, last_flow, dirt;
};

/* The varied line with its numbers multiplied by hand. The density and surface tension behind the
 * bead stay, so that it goes with the edge. */
static dregs_line *written(const struct variant *v)
{
    text.used = 0;
    lines_say(&text, varied, 0.03 * v->drag_out, 17.0 * v->drag_out, 1.9 * v->soil,
              14.0 * v->strength, 55.0 * v->strength, 12.5 + v->dirt, 62.0 * v->drag_out,
              3.1 * v->bath_flow, 48.0 * v->drag_out, 9.3 * v->last_flow, 41.0 * v->drag_out,
              22.0 * v->drag_out);
    return lines_read(text.bytes);
}

/* What they hold and carry is the same after every one of 70 loads. */
static void same_line(const dregs_line *changed, const dregs_line *file, int what)
{
    dregs_map *map = lines_map(changed), *file_map = lines_map(file);
    dregs_state *state = lines_state(map), *expected = lines_state(file_map);
    unsigned load, i, s;

    for (i = 0; i < dregs_line_stages(file); i++) {
        const dregs_carried *a = dregs_line_carried(changed, i), *b = dregs_line_carried(file, i);
        ck_assert_near(a->thickness, b->thickness, 1e-12, "change %d, film of %u", what, i);
        ck_assert_near(a->out, b->out, 1e-12, "change %d, out of %u", what, i);
        ck_assert_near(a->in, b->in, 1e-12, "change %d, into %u", what, i);
        ck_assert_near(a->on_parts, b->on_parts, 1e-12, "change %d, on parts of %u", what, i);
    }
    for (load = 1; load <= 70; load++) {
        ck_assert_msg(apart(state, expected, file) <= 1e-11, "change %d, load %u: off by %g", what,
                      load, apart(state, expected, file));
        for (s = 0; s < 2; s++)
            ck_assert_near(dregs_state_film(state, s, 3), dregs_state_film(expected, s, 3), 1e-11,
                           "change %d, film of %u", what, s);
        dregs_state_step(state);
        dregs_state_step(expected);
    }
    dregs_state_free(state);
    dregs_state_free(expected);
    dregs_map_free(map);
    dregs_map_free(file_map);
}

START_TEST(a_changed_line_is_the_file_with_other_numbers)
{
    static const struct {
        double drag_out, soil, strength;
        int flow_of;
        double flow;
        int dirty;
        double dirt; /* kg/m3 */
        struct variant as;
    } cases[] = {
        {1, 1, 1, -1, 7, -1, 0, {1, 1, 1, 1, 1, 0}},
        {2, 1, 1, -1, 1, -1, 0, {2, 1, 1, 1, 1, 0}},
        {0.385, 1, 1, -1, 1, -1, 0, {0.385, 1, 1, 1, 1, 0}},
        {1, 2.7, 1, -1, 1, -1, 0, {1, 2.7, 1, 1, 1, 0}},
        {1, 1, 0.83, -1, 1, -1, 0, {1, 1, 0.83, 1, 1, 0}}, /* of the wash alone */
        {1, 1, 1, 0, 0.4, -1, 0, {1, 1, 1, 0.4, 1, 0}},
        {1, 1, 1, 2, 0, -1, 0, {1, 1, 1, 1, 0, 0}},
        {1, 1, 1, -2, 1.6, -1, 0, {1, 1, 1, 1.6, 1.6, 0}},
        {1, 1, 1, -1, 1, 1, 4.5e-3, {1, 1, 1, 1, 1, 4.5}},
        {1.45, 0.62, 1.08, 2, 0.5, 1, 2e-3, {1.45, 0.62, 1.08, 1, 0.5, 2}},
    };
    static const struct variant none = {1, 1, 1, 1, 1, 0};
    dregs_line *line = written(&none), *changed = NULL, *file = written(&cases[_i].as);
    struct alteration change = dregs_reuse_unaltered();

    change.drag_out = cases[_i].drag_out;
    change.soil = cases[_i].soil;
    change.strength = cases[_i].strength;
    change.flow_of = cases[_i].flow_of;
    change.flow = cases[_i].flow;
    change.dirty = cases[_i].dirty;
    change.dirty_solute = 1;
    change.dirt = cases[_i].dirt;
    ck_assert_int_eq(dregs_reuse_altered(line, &change, &changed), DREGS_OK);
    same_line(changed, file, _i);
    dregs_line_free(changed);
    /* the line itself is as it was */
    change = dregs_reuse_unaltered();
    ck_assert_int_eq(dregs_reuse_altered(line, &change, &changed), DREGS_OK);
    same_line(changed, line, _i);
    dregs_line_free(changed);
    lines_free(file);
    lines_free(line);
}
END_TEST

/* One member of a change that is otherwise none. */
struct refused {
    const char *what;
    size_t at;
    double number;
    int index;
    dregs_status status;
};
#define NUMBER(member, number)                                                                     \
    {                                                                                              \
#member " " #number, offsetof(struct alteration, member), number, 0, DREGS_DOMAIN          \
    }
#define INDEX(member, index)                                                                       \
    {                                                                                              \
#member " " #index, offsetof(struct alteration, member), NAN, index, DREGS_DOMAIN          \
    }

static void refuses(const dregs_line *line, const struct refused *refused, int is_index)
{
    dregs_line *mark = (dregs_line *)(void *)&text, *changed = mark;
    struct alteration change = dregs_reuse_unaltered();
    char *member = (char *)&change + refused->at;

    if (is_index)
        memcpy(member, &refused->index, sizeof refused->index);
    else
        memcpy(member, &refused->number, sizeof refused->number);
    ck_assert_msg(dregs_reuse_altered(line, &change, &changed) == refused->status, "%s",
                  refused->what);
    ck_assert_msg(changed == mark, "%s: something is written", refused->what);
}

START_TEST(what_no_line_can_change_to_is_refused)
{
    static const struct variant none = {1, 1, 1, 1, 1, 0};
    static const struct refused numbers[] = {
        NUMBER(drag_out, 0),
        NUMBER(drag_out, -1),
        NUMBER(drag_out, NAN),
        NUMBER(drag_out, HUGE_VAL),
        NUMBER(soil, 0),
        NUMBER(soil, NAN),
        NUMBER(strength, 0),
        NUMBER(strength, HUGE_VAL),
        NUMBER(flow, -1e-9),
        NUMBER(flow, NAN),
        NUMBER(flow, HUGE_VAL),
        NUMBER(dirt, -1e-9),
        NUMBER(dirt, HUGE_VAL),
        {"60 mL leave 40 L", offsetof(struct alteration, drag_out), 5000, 0, DREGS_BAD_DATA},
    };
    static const struct refused indices[] = {
        INDEX(flow_of, 4), INDEX(flow_of, -3),     INDEX(dirty, 2),
        INDEX(dirty, -2),  INDEX(dirty_solute, 2),
    };
    dregs_line *line = written(&none);
    size_t i;

    for (i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
        refuses(line, &numbers[i], 0);
    for (i = 0; i < sizeof indices / sizeof indices[0]; i++)
        refuses(line, &indices[i], 1);
    lines_free(line);
}
END_TEST

/* From some load on the parts drag out twice as much: the closed form of the still rinse before,
 * and from what it then holds the one with twice the film. */
START_TEST(a_moment_under_another_line)
{
    const double before = 5.0 / (5.0 + 0.042), behind = 5.0 / (5.0 + 0.084);
    struct alteration change = dregs_reuse_unaltered();
    dregs_line *line = lines_read(still), *changed = NULL, *other = lines_read(refills);
    dregs_map *map = lines_map(line), *changed_map, *other_map = lines_map(other);
    dregs_state *state = lines_state(map), *under;

    change.drag_out = 2;
    ck_assert_int_eq(dregs_reuse_altered(line, &change, &changed), DREGS_OK);
    changed_map = lines_map(changed);
    ck_assert_int_eq(dregs_state_before(state, 19), DREGS_OK);
    under = dregs_state_under(changed_map, state);
    ck_assert_ptr_nonnull(under);
    ck_assert_uint_eq(dregs_state_next(under), 19);
    ck_assert_int_eq(dregs_state_before(under, 24), DREGS_OK);
    ck_assert_near(dregs_state_concentration(under, 0, 1),
                   12.5 * (1 - pow(before, 18) * pow(behind, 6)), 1e-12, "the rinse");
    /* the first state goes on by itself */
    ck_assert_int_eq(dregs_state_before(state, 24), DREGS_OK);
    ck_assert_near(dregs_state_concentration(state, 0, 1), 12.5 * (1 - pow(before, 24)), 1e-12,
                   "the rinse that nothing befell");
    ck_assert_ptr_null(dregs_state_under(other_map, state)); /* four tanks */
    dregs_state_free(under);
    dregs_state_free(state);
    dregs_map_free(changed_map);
    dregs_line_free(changed);
    lines_free_map(other_map, other);
    lines_free_map(map, line);
}
END_TEST

/* The largest flow the reader takes, through five litres: exp(-4e24) by halving. */
START_TEST(rates_too_far_apart_are_refused)
{
    dregs_line *line;
    dregs_map *map = NULL;

    lines_begin(&text);
    lines_say(&text, "%srinse,flow,1e20,m3/s\n", still + strlen("item,property,value,unit\n"));
    line = lines_read(text.bytes);
    ck_assert_int_eq(dregs_map_new(line, &map), DREGS_NUMERIC);
    ck_assert_ptr_null(map);
    lines_free(line);
}
END_TEST

/* ---- the worst load ---- */

static double residue_now(const dregs_state *state, int solute)
{
    dregs_residue r;

    dregs_residue_next(state, &r);
    return solute < 0 ? r.total : r.film[solute] + r.adhering[solute];
}

/* The largest residue among `loads` loads, each one looked at. */
static double brute(const dregs_map *map, int solute, uint64_t loads, uint64_t *at,
                    dregs_state **last)
{
    dregs_state *state = lines_state(map);
    double most = -1, now;
    uint64_t load;

    for (load = 1; load <= loads; load++) {
        now = residue_now(state, solute);
        if (now > most) {
            most = now;
            *at = load;
        }
        dregs_state_step(state);
    }
    if (last)
        *last = state;
    else
        dregs_state_free(state);
    return most;
}

/* The residue of the load that `worst` names is the residue it states. */
static void names_its_load(const dregs_map *map, int solute, const dregs_worst *worst,
                           unsigned number)
{
    dregs_state *state = lines_state(map);

    if (worst->in_the_long_run)
        ck_assert_int_eq(dregs_state_periodic(state), DREGS_OK);
    if (worst->load > 1)
        ck_assert_int_eq(dregs_state_before(state, worst->load), DREGS_OK);
    ck_assert_near(residue_now(state, solute), worst->residue, 1e-9, "line %u, load %lu", number,
                   (unsigned long)worst->load);
    dregs_state_free(state);
}

static void worst_of_few(const dregs_map *map, int solute, unsigned number)
{
    static const uint64_t loads[] = {1, 3, 50, 777};
    dregs_worst worst;
    uint64_t at = 0;
    unsigned i;

    for (i = 0; i < 4; i++) {
        double most = brute(map, solute, loads[i], &at, NULL);
        ck_assert_int_eq(dregs_residue_worst(map, solute, loads[i], &worst), DREGS_OK);
        ck_assert_near(worst.residue, most, 1e-12, "line %u, %lu loads", number,
                       (unsigned long)loads[i]);
        ck_assert_uint_eq(worst.load, at);
        ck_assert_int_eq(worst.in_the_long_run, 0);
    }
}

/* For ever: at least the worst of the first loads and of the state they tend to, and, once the
 * line has come to that state, no more. Returns whether it has. */
static int worst_for_ever(const dregs_line *line, const dregs_map *map, int solute, unsigned number)
{
    enum { LOADS = 4800 }; /* a multiple of every dump period of the random lines */
    dregs_worst worst;
    dregs_state *last, *limit = lines_state(map);
    uint64_t at = 0;
    double most = brute(map, solute, LOADS, &at, &last);
    int settled = 0;
    unsigned long i;

    ck_assert_int_eq(dregs_residue_worst(map, solute, DREGS_NO_END, &worst), DREGS_OK);
    if (!dregs_state_periodic(limit)) {
        settled = apart(last, limit, line) < 1e-10;
        for (i = 0; i < dregs_line_period(line); i++) {
            most = fmax(most, residue_now(limit, solute));
            dregs_state_step(limit);
        }
    }
    ck_assert_msg(worst.residue >= most * (1 - 1e-9), "line %u, solute %d: worst %.17g, seen %.17g",
                  number, solute, worst.residue, most);
    if (settled)
        ck_assert_near(worst.residue, most, 1e-9, "line %u, solute %d, for ever", number, solute);
    names_its_load(map, solute, &worst, number);
    dregs_state_free(last);
    dregs_state_free(limit);
    return settled;
}

START_TEST(the_worst_load_is_the_worst_of_all)
{
    unsigned number, settled = 0, dumped = 0;
    int solute;

    for (number = 3000; number < 3120; number++) {
        dregs_line *line = lines_random(number, &text, NULL);
        dregs_map *map = lines_map(line);
        dumped += dregs_line_period(line) > 1;
        for (solute = DREGS_EVERY_SOLUTE; solute < (int)dregs_line_solutes(line); solute++) {
            worst_of_few(map, solute, number);
            settled += worst_for_ever(line, map, solute, number) != 0;
        }
        lines_free_map(map, line);
    }
    ck_assert_uint_ge(settled, 100); /* else the equality was hardly ever asserted */
    ck_assert_uint_ge(dumped, 30);
    ck_assert_uint_le(dumped, 110);
}
END_TEST

START_TEST(the_worst_of_more_loads_than_are_all_looked_at)
{
    const uint64_t loads = ((uint64_t)1 << 17) + 12345;
    unsigned number;

    for (number = 3200; number < 3216; number++) {
        dregs_line *line = lines_random(number, &text, NULL);
        dregs_map *map = lines_map(line);
        dregs_worst worst;
        uint64_t at = 0;
        double most = brute(map, DREGS_EVERY_SOLUTE, loads, &at, NULL);
        ck_assert_int_eq(dregs_residue_worst(map, DREGS_EVERY_SOLUTE, loads, &worst), DREGS_OK);
        ck_assert_near(worst.residue, most, 1e-9, "line %u", number);
        ck_assert_uint_le(worst.load, loads);
        if (!worst.in_the_long_run)
            names_its_load(map, DREGS_EVERY_SOLUTE, &worst, number);
        lines_free_map(map, line);
    }
}
END_TEST

/* A bath whose cleaner is diluted by the water that makes up what is dragged out, and a still
 * rinse behind it: the rinse rises, then falls with the bath. With bath V1, rinse V2, film D,
 *   bath after j loads  q1^j C0, q1 = 1 - D/V1 (the film leaves, water takes its place)
 *   rinse               c_j = D/(V2+D) (C0 q1^(j-1) + r c_(j-1) V2/D), r = 1: see below
 * `every` 0 for no dump. */
static dregs_line *diluted(double bath, double rinse, unsigned every)
{
    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,10,min\n"
              "cleaner,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
              "strong,cleaner,18,g/L\ndi,kind,liquid,\ndi,solvent,water,\n"
              "bath,kind,wash,\nbath,volume,%.10g,L\nbath,liquid,strong,\nbath,top up from,di,\n"
              "bath,film,50,um\nrinse,kind,rinse,\nrinse,volume,%.10g,L\nrinse,liquid,di,\n"
              "rinse,film,50,um\n",
              bath, rinse);
    if (every)
        lines_say(&text, "bath,dump every,%u,1\n", every);
    return lines_read(text.bytes);
}

/* The same in plain numbers: m' = m (1 - D/V1) in the bath; the rinse takes D c1 in and gives
 * D/(V2+D) of what it then holds. */
static double diluted_worst(double bath, double rinse, uint64_t loads, uint64_t *at)
{
    double strong = 18 * bath, weak = 0, most = 0, film; /* g */
    uint64_t load;

    for (load = 1; load <= loads; load++) {
        double brought = 0.05 * strong / bath;
        strong -= brought;
        film = (weak + brought) * 0.05 / (rinse + 0.05);
        weak += brought - film;
        if (film > most) {
            most = film;
            *at = load;
        }
    }
    return most * 1e-3; /* kg on 1 m2 */
}

START_TEST(a_worst_load_in_the_middle_is_found)
{
    static const struct {
        double bath, rinse;
        uint64_t asked, looked;
    } cases[] = {
        {28, 28, DREGS_NO_END, 20000},
        {28, 3, 1000, 1000},
        {28, 28, 400, 400},
        {900, 2, DREGS_NO_END, 300000},
        {20000, 12000, 1000000, 1000000},
        {20000, 12000, DREGS_NO_END, 3000000},
        {7000, 300, (uint64_t)1 << 40, 1000000},
    };
    uint64_t at = 0;
    dregs_worst worst;
    double most = diluted_worst(cases[_i].bath, cases[_i].rinse, cases[_i].looked, &at);
    dregs_line *line = diluted(cases[_i].bath, cases[_i].rinse, 0);
    dregs_map *map = lines_map(line);

    ck_assert_int_eq(dregs_residue_worst(map, 0, cases[_i].asked, &worst), DREGS_OK);
    ck_assert_near(worst.residue, most, 1e-9, "bath %g L", cases[_i].bath);
    ck_assert_int_eq(worst.in_the_long_run, 0);
    /* the peak is flat: a few loads aside it differs by less than rounding may */
    ck_assert_msg(fabs((double)worst.load - (double)at) <= 2 + 1e-3 * (double)at,
                  "load %lu, expected %lu", (unsigned long)worst.load, (unsigned long)at);
    names_its_load(map, 0, &worst, 0);
    lines_free_map(map, line);
}
END_TEST

/* With dumps of the bath the rinse's worst comes in the steady state, at one place of the period.
 */
START_TEST(a_worst_load_within_the_period_is_found)
{
    dregs_line *line = diluted(28, 28, 400);
    dregs_map *map = lines_map(line);
    dregs_state *last;
    dregs_worst worst;
    uint64_t at = 0;
    double most = brute(map, 0, 400 * 40, &at, &last);

    ck_assert_int_eq(dregs_residue_worst(map, 0, DREGS_NO_END, &worst), DREGS_OK);
    ck_assert_near(worst.residue, most, 1e-9, "worst");
    if (worst.in_the_long_run)
        ck_assert_uint_eq(worst.load, (at - 1) % 400 + 1);
    names_its_load(map, 0, &worst, 0);
    dregs_state_free(last);
    lines_free_map(map, line);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("balance");
    TCase *c = tcase_create("random lines");

    tcase_set_timeout(c, lines_asked() ? 86400 : 300);
    suite_add_tcase(s, c);
    tcase_add_test(c, mass_is_conserved);
    tcase_add_test(c, mass_is_conserved_where_liquid_is_trapped);
    tcase_add_test(c, random_lines_hold_everything);
    tcase_add_test(c, carried_totals_are_the_films_summed);
    tcase_add_test(c, the_march_agrees_with_an_integration);
    tcase_add_test(c, what_many_dumps_forget_is_not_missed);
    tcase_add_test(c, trapped_liquid_agrees_with_a_march);
    tcase_add_test(c, any_line_agrees_with_a_march);
    tcase_add_test(c, before_a_load_is_stepping_to_it);
    tcase_add_test(c, far_loads_do_not_depend_on_the_way_there);
    tcase_add_test(c, the_periodic_state_returns);
    c = tcase_create("closed forms and refusals");
    suite_add_tcase(s, c);
    tcase_add_test(c, a_still_rinse_follows_its_closed_form);
    tcase_add_test(c, a_solute_without_a_way_out_never_settles);
    tcase_add_test(c, rounding_is_no_way_out);
    tcase_add_test(c, arguments_out_of_range_are_refused);
    tcase_add_test(c, rates_too_far_apart_are_refused);
    c = tcase_create("by hand");
    tcase_set_timeout(c, 300);
    suite_add_tcase(s, c);
    tcase_add_test(c, dumps_by_hand_are_those_of_the_file);
    tcase_add_test(c, a_dump_by_hand_fills_up_along_a_chain);
    tcase_add_loop_test(c, a_changed_line_is_the_file_with_other_numbers, 0, 10);
    tcase_add_test(c, what_no_line_can_change_to_is_refused);
    tcase_add_test(c, a_moment_under_another_line);
    c = tcase_create("worst load");
    tcase_set_timeout(c, 300);
    suite_add_tcase(s, c);
    tcase_add_test(c, the_worst_load_is_the_worst_of_all);
    tcase_add_test(c, the_worst_of_more_loads_than_are_all_looked_at);
    tcase_add_loop_test(c, a_worst_load_in_the_middle_is_found, 0, 7);
    tcase_add_test(c, a_worst_load_within_the_period_is_found);
    return s;
}

int main(void)
{
    gsl_set_error_handler_off();
    return run(suite());
}
