/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_kinds_residue.c: what loads of several kinds leave, the worst of each kind, limits of
 * concentration, what a filter takes and values that vary, against marches load by load that take
 * each load through a file of its kind alone.
 */
#include "balance/balance.h"
#include "check_main.h"
#include "dregs/bound.h"
#include "mixes.h"
#include "residue/bound.h"
#include "residue/residue.h"

#include <string.h>

enum { LOADS = 1680 }; /* 2 x 840: of every cycle up to 8, though not of every dump period */

static struct mix mix;

static double residue_now(const dregs_state *state, int solute)
{
    dregs_residue r;

    dregs_residue_next(state, &r);
    return dregs_residue_of(&r, solute);
}

/* ---- the worst load ---- */

/* What the loads up to LOADS leave, and those of a period of the state that repeats itself. */
static void march(int solute, double *v, double *steady, int *settles)
{
    dregs_state *state = lines_state(mix.of[0]), *limit = lines_state(mix.map);
    uint64_t load;

    for (load = 1; load <= LOADS; load++) {
        state = mix_pass(&mix, state, load);
        v[load] = residue_now(state, solute);
        dregs_state_step(state);
    }
    *settles = !dregs_state_periodic(limit);
    dregs_state_free(state);
    state = dregs_state_under(mix.of[0], limit);
    for (load = 1; *settles && load <= dregs_line_period(mix.line); load++) {
        state = mix_pass(&mix, state, load);
        steady[load] = residue_now(state, solute);
        dregs_state_step(state);
    }
    dregs_state_free(state);
    dregs_state_free(limit);
}

static int counts(int kind, uint64_t load)
{
    return kind < 0 || mix_kind(&mix, load) == (unsigned)kind;
}

static double most_of(int kind, const double *v, uint64_t loads)
{
    double most = 0;
    uint64_t load;

    for (load = 1; load <= loads; load++)
        if (counts(kind, load))
            most = fmax(most, v[load]);
    return most;
}

static dregs_status ask(int kind, int solute, uint64_t loads, dregs_worst *worst)
{
    return kind < 0 ? dregs_residue_worst(mix.map, solute, loads, worst)
                    : dregs_residue_worst_of_kind(mix.map, (unsigned)kind, solute, loads, worst);
}

/* Of a number of loads the worst is that of the march. */
static void few(int kind, int solute, const double *v, unsigned number)
{
    static const uint64_t loads[] = {1, 3, 50, 777};
    dregs_worst worst;
    unsigned i;

    for (i = 0; i < 4; i++) {
        ck_assert_int_eq(ask(kind, solute, loads[i], &worst), DREGS_OK);
        ck_assert_near(worst.residue, most_of(kind, v, loads[i]), 1e-12, "mix %u, kind %d", number,
                       kind);
        if (worst.load)
            ck_assert(counts(kind, worst.load));
        ck_assert(worst.load <= loads[i] && (worst.load || kind >= 0));
    }
}

/* For ever: at least what was seen and what the line comes to; no more once the march has. */
static int for_ever(int kind, int solute, const double *v, const double *steady, int settles,
                    unsigned number)
{
    uint64_t period = dregs_line_period(mix.line), first = LOADS / period * period - period, p;
    double most = most_of(kind, v, LOADS), off = 0;
    dregs_worst worst;

    ck_assert_int_eq(ask(kind, solute, DREGS_NO_END, &worst), DREGS_OK);
    if (settles)
        most = fmax(most, most_of(kind, steady, period));
    ck_assert_msg(worst.residue >= most * (1 - 1e-9), "mix %u, kind %d: %.17g, seen %.17g", number,
                  kind, worst.residue, most);
    ck_assert(counts(kind, worst.load));
    if (worst.in_the_long_run)
        ck_assert_near(worst.residue, steady[worst.load], 1e-9, "mix %u, as it says", number);
    else if (worst.load <= LOADS)
        ck_assert_near(worst.residue, v[worst.load], 1e-9, "mix %u, load by number", number);
    for (p = 1; settles && p <= period; p++)
        off = fmax(off, fabs(v[first + p] - steady[p]) / steady[p]);
    if (settles && off < 1e-10)
        ck_assert_near(worst.residue, most, 1e-9, "mix %u, kind %d, for ever", number, kind);
    return settles && off < 1e-10;
}

START_TEST(the_worst_of_each_kind)
{
    static double v[LOADS + 1], steady[LOADS + 1];
    unsigned number, settled = 0;
    int kind, solute, settles;

    for (number = 0; number < 60; number++) {
        mix_make(number, &mix);
        ck_assert_uint_le(dregs_line_period(mix.line), LOADS / 2);
        for (solute = DREGS_EVERY_SOLUTE; solute < 1; solute++) {
            march(solute, v, steady, &settles);
            for (kind = -1; kind < (int)mix.kinds; kind++) {
                few(kind, solute, v, number);
                settled += for_ever(kind, solute, v, steady, settles, number) != 0;
            }
        }
        mix_free(&mix);
    }
    ck_assert_uint_ge(settled, 100); /* else the equality was hardly ever asserted */
}
END_TEST

START_TEST(a_kind_that_does_not_come)
{
    dregs_worst worst;
    unsigned kind;

    mix_make(3, &mix);
    kind = mix_kind(&mix, 1) == 0 ? 1 : 0;
    ck_assert_int_eq(dregs_residue_worst_of_kind(mix.map, kind, DREGS_EVERY_SOLUTE, 1, &worst),
                     DREGS_OK);
    ck_assert_uint_eq(worst.load, 0);
    ck_assert_int_eq(dregs_residue_worst_of_kind(mix.map, mix.kinds, 0, 0, &worst), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_residue_worst_of_kind(mix.map, 1u << 31, 0, 0, &worst), DREGS_DOMAIN);
    mix_free(&mix);
}
END_TEST

/* What can leave the last rinse at least is a matter of the kind. */
START_TEST(the_floor_of_each_kind)
{
    unsigned number, k;

    for (number = 100; number < 120; number++) {
        mix_make(number, &mix);
        for (k = 0; k < mix.kinds; k++) {
            dregs_residue got, alone;
            dregs_residue_floor(dregs_map_of_kind(mix.map, k), &got);
            dregs_residue_floor(mix.of[k], &alone);
            ck_assert_near(got.total, alone.total, 1e-14, "mix %u, floor", number);
            ck_assert_near(got.adhering_total, alone.adhering_total, 1e-14, "mix %u", number);
        }
        mix_free(&mix);
    }
}
END_TEST

/* ---- concentrations ---- */

/* The worst load of `loads` by a march, and the first beyond the limit. */
static void march_bound(const dregs_bound *bound, uint64_t loads, dregs_bound *found)
{
    dregs_state *state = lines_state(mix.of[0]);
    uint64_t load;

    found->share = -1;
    found->crossed = found->load = 0;
    for (load = 1; load <= loads; load++) {
        double share;
        state = mix_pass(&mix, state, load);
        share = dregs_bound_next(bound, state);
        if (share > found->share) {
            found->share = share;
            found->load = load;
        }
        if (share > 1 + 1e-9 && !found->crossed)
            found->crossed = load;
        dregs_state_step(state);
    }
    dregs_state_free(state);
}

static void check_bound(dregs_bound bound, unsigned number, unsigned *crossed)
{
    static const uint64_t loads[] = {1, 5, 60, 600};
    dregs_bound found = bound;
    unsigned i;

    /* a limit that some of the loads pass, if any do */
    bound.limit.si = 1;
    march_bound(&bound, 600, &found);
    if (!(found.share > 0) || isinf(found.share))
        return;
    bound.limit.si = bound.kind == DREGS_BOUND_LEAST ? 0.9 / found.share : 0.97 * found.share;
    for (i = 0; i < 4; i++) {
        dregs_bound got = bound;
        march_bound(&bound, loads[i], &found);
        ck_assert_int_eq(dregs_residue_scan(mix.map, loads[i], 1, &got), DREGS_OK);
        ck_assert_near(got.share, found.share, 1e-10, "mix %u, kind %d, stage %u", number,
                       bound.kind, bound.stage);
        ck_assert_msg(got.crossed == found.crossed, "mix %u: crossed at %lu, by the march %lu",
                      number, (unsigned long)got.crossed, (unsigned long)found.crossed);
        *crossed += got.crossed != 0;
    }
}

START_TEST(limits_of_concentration)
{
    unsigned number, i, crossed = 0;

    for (number = 200; number < 240; number++) {
        mix_make(number, &mix);
        for (i = 0; i < dregs_line_stages(mix.line); i++) {
            if (!dregs_map_met(mix.of[0], 0, i))
                continue;
            check_bound((dregs_bound){.kind = DREGS_BOUND_MOST, .stage = i}, number, &crossed);
            check_bound((dregs_bound){.kind = DREGS_BOUND_LEAST, .stage = i}, number, &crossed);
            check_bound((dregs_bound){.kind = DREGS_BOUND_DISSOLVED, .stage = i, .solute = -1},
                        number, &crossed);
            check_bound((dregs_bound){.kind = DREGS_BOUND_RATIO, .stage = i, .solute = -1}, number,
                        &crossed);
        }
        mix_free(&mix);
    }
    ck_assert_uint_ge(crossed, 100);
}
END_TEST

/* Of a line in which one stage clears, what it has taken is what the balance of all loads says. */
START_TEST(what_a_filter_takes)
{
    enum { TAKEN = 40 };
    unsigned number, i, s, seen = 0;

    for (number = 300; number < 420; number++) {
        unsigned clears = 0, stage = 0;
        double sum = 0;
        dregs_totals t;
        mix_make(number, &mix);
        for (i = 0; i < dregs_line_stages(mix.line); i++)
            for (s = 0; dregs_line_stage(mix.line, i)->clearing && s < dregs_line_solutes(mix.line);
                 s++)
                if (dregs_line_stage(mix.line, i)->clearing[s].si > 0 && (!clears || stage != i)) {
                    stage = i;
                    clears++;
                }
        for (s = 0; clears == 1 && s < dregs_line_solutes(mix.line); s++) {
            ck_assert_int_eq(dregs_map_totals(mix.map, s, TAKEN, &t), DREGS_OK);
            sum += t.cleared;
        }
        if (sum > 0) {
            dregs_bound bound = {
                .kind = DREGS_BOUND_CAPACITY, .stage = stage, .limit = {1e6, 0, 0}};
            ck_assert_int_eq(dregs_residue_scan(mix.map, TAKEN + 1, 1, &bound), DREGS_OK);
            ck_assert_near(bound.reached, sum, 1e-11, "mix %u, taken", number);
            seen++;
        }
        mix_free(&mix);
    }
    ck_assert_uint_ge(seen, 20);
}
END_TEST

/* ---- values that vary ---- */

#define VARIED                                                                                     \
    "item,property,value,unit,varies\n"                                                            \
    "big,kind,load\nbig,parts,24,1\nbig,area,61,cm2,%s\nbig,interval,7,min\n"                      \
    "cup,kind,load\ncup,parts,50,1\ncup,area,23,cm2\ncup,on parts oil,3.1,mg\n"                    \
    "oil,kind,solute\noil,on parts,2.4,mg\n"                                                       \
    "water,kind,liquid\nwater,solvent,water\nwater,oil,3,mg/L\n"                                   \
    "bath,kind,wash\nbath,volume,28,L\nbath,liquid,water\nbath,removal,99,%%\n"                    \
    "bath,film,85,um,%s\nbath,drag-out cup,140,mL/m2,%s\nbath,dump every,4\n"                      \
    "rinse,kind,rinse\nrinse,volume,9,L\nrinse,liquid,water\nrinse,flow,5,L/h\nrinse,film,30,um\n" \
    "day,kind,schedule\nday,sequence,big cup big\n"

/* Mean and second moment at load number `target` over all that the loads before it, and it, may
 * be: each has its nodes by itself. */
struct tree {
    const dregs_map *map[9];
    double weight[9];
    unsigned nodes;
    uint64_t target;
    double mean, square;
};

static void branch(struct tree *t, const dregs_state *before, uint64_t load, double weight)
{
    unsigned i;

    for (i = 0; i < t->nodes; i++) {
        dregs_state *state = dregs_state_under(t->map[i], before);
        ck_assert_ptr_nonnull(state);
        if (load == t->target) {
            double v = residue_now(state, DREGS_EVERY_SOLUTE);
            t->mean += weight * t->weight[i] * v;
            t->square += weight * t->weight[i] * v * v;
        } else {
            dregs_state_step(state);
            branch(t, state, load + 1, weight * t->weight[i]);
        }
        dregs_state_free(state);
    }
}

/* `row` varies by `sd`: lines with it at its nodes. */
static void check_varied(const char *text, const char *item, const char *property, double mean,
                         double sd)
{
    dregs_line *line = lines_read(text), *other[RESIDUE_NODES] = {0};
    dregs_map *map = lines_map(line), *of[RESIDUE_NODES] = {0};
    double node[RESIDUE_NODES];
    struct tree tree = {.nodes = RESIDUE_NODES};
    struct residue_scatter scatter;
    unsigned i;

    ck_assert_int_eq(dregs_residue_nodes(DREGS_FORM_QUANTITY, mean, sd, node, tree.weight),
                     DREGS_OK);
    for (i = 0; i < RESIDUE_NODES; i++) {
        dregs_setting setting = {0, item, property, node[i]};
        ck_assert_int_eq(dregs_line_with(line, &setting, 1, &other[i], NULL), DREGS_OK);
        tree.map[i] = of[i] = lines_map(other[i]);
    }
    for (tree.target = 1; tree.target <= 7; tree.target++) {
        dregs_worst load = {0, tree.target, 0};
        dregs_state *fresh = lines_state(map);
        double variance;
        tree.mean = tree.square = 0;
        branch(&tree, fresh, 1, 1);
        ck_assert_int_eq(dregs_residue_scatter(map, DREGS_EVERY_SOLUTE, &load, &scatter), DREGS_OK);
        ck_assert_near(scatter.mean, tree.mean, 1e-12, "mean of load %u", (unsigned)tree.target);
        variance = tree.square - tree.mean * tree.mean; /* down to its rounding; none below 1e-12 */
        ck_assert_msg(fabs(scatter.sd * scatter.sd - variance) <=
                          1e-9 * variance + (scatter.sd > 0 ? 4e-14 : 1.1e-12) * tree.square,
                      "sd of load %u: %.12g, by the tree %.12g", (unsigned)tree.target, scatter.sd,
                      sqrt(fmax(0, variance)));
        dregs_state_free(fresh);
    }
    for (i = 0; i < RESIDUE_NODES; i++) {
        dregs_map_free(of[i]);
        dregs_line_free(other[i]);
    }
    dregs_map_free(map);
    lines_free(line);
}

START_TEST(values_that_vary_from_load_to_load)
{
    static struct lines_text text;

    text.used = 0;
    lines_say(&text, VARIED, "", "", "30%");
    check_varied(text.bytes, "bath", "drag-out cup", 140e-6, 42e-6);
    text.used = 0;
    lines_say(&text, VARIED, "", "25%", "");
    check_varied(text.bytes, "bath", "film", 85e-6, 85e-6 / 4);
    text.used = 0;
    lines_say(&text, VARIED, "9%", "", "");
    check_varied(text.bytes, "big", "area", 61e-4, 0.09 * 61e-4);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"worst", {the_worst_of_each_kind, a_kind_that_does_not_come, the_floor_of_each_kind}},
        {"bounds", {limits_of_concentration, what_a_filter_takes}},
        {"varying", {values_that_vary_from_load_to_load}},
    };

    return run_cases("kinds and residue", cases, sizeof cases / sizeof cases[0]);
}
