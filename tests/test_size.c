/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_size.c: the rinsing that meets a target, found by one property. Expected values are worked
 * out by hand, are in print, or come from a search of another kind. Several properties and layouts
 * are in test_size_several.c, the liquid a line takes in test_use.c, its text in test_edit.c.
 */
#include "check_main.h"
#include "dregs/residue.h"
#include "line/line.h"
#include "sizing.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

/* The line with one property set to an SI value, and how it stands: infinite where refused. */
static double excess_with(const dregs_line *line, const struct sizing_varied *varied, double value,
                          dregs_criterion criterion)
{
    struct sizing_varied fixed = *varied;
    dregs_sized *sized;
    double excess;

    fixed.low = fixed.high = value;
    sized = sizing_line(line, &fixed, 1, criterion, 0);
    excess = dregs_sized_compliance(sized)->of_limit;
    if (isfinite(excess)) { /* the same once more without the search */
        dregs_compliance again = sizing_compliance(dregs_sized_text(sized, NULL), criterion);
        ck_assert_double_eq(again.of_limit, excess);
    }
    sizing_free(sized);
    return excess;
}

/* ---- the answer put back ---- */

/* A random property of a random line that can be varied; 0 when the line has none. */
static int random_property(const dregs_line *line, struct lines_stream *stream,
                           struct sizing_varied *varied)
{
    static const char *const properties[] = {"flow",       "volume",   "use",        "dump every",
                                             "drain time", "exchange", "temperature"};
    unsigned attempt;

    for (attempt = 0; attempt < 40; attempt++) {
        static char name[40];
        const char *property = properties[lines_below(stream, 7)];
        snprintf(name, sizeof name, "%s",
                 dregs_line_stage(line, lines_below(stream, dregs_line_stages(line)))->name);
        *varied = sizing_vary(name, property, NAN, NAN);
        if (strcmp(property, "dump every") == 0) { /* keeps the periods, and so the time, short */
            varied->low = 1;
            varied->high = 40;
        }
        if (sizing_range(line, varied))
            return 1;
    }
    return 0;
}

static double worst_residue(const dregs_line *line)
{
    dregs_map *map = lines_map(line);
    dregs_worst worst;

    ck_assert_int_eq(dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst), DREGS_OK);
    dregs_map_free(map);
    return worst.residue;
}

enum { RANDOM_LINES = 200 };
#define TARGET "limit,kind,target,\nlimit,residue,%.17g,kg/m2\n"

/* One of the two neighbours misses the target: the boundary lies between. */
static void is_boundary(const dregs_line *line, const struct sizing_varied *varied,
                        const dregs_sized *sized, dregs_criterion criterion, double by)
{
    double value = dregs_sized_value(sized, 0), below = value * (1 - by), above = value * (1 + by);
    int low_misses = below >= varied->low && excess_with(line, varied, below, criterion) > 1;
    int high_misses = above <= varied->high && excess_with(line, varied, above, criterion) > 1;

    /* an end of the range that meets the target and takes less than the boundary does */
    if (dregs_sized_at_low(sized, 0) || dregs_sized_at_high(sized, 0))
        return;
    ck_assert_msg(low_misses || high_misses, "%s of %s = %.17g is no boundary within %g\n%s",
                  varied->property, varied->stage, value, by, sizing.text.bytes);
}

/* One more load between dumps is too many; or, where tanks are refilled from one another, makes
 * them be dumped one after the other, which takes more. */
static void more_misses_or_takes_more(const dregs_line *line, const struct sizing_varied *varied,
                                      const dregs_sized *sized, dregs_criterion criterion)
{
    dregs_setting setting = {0, varied->stage, varied->property, dregs_sized_value(sized, 0) + 1};
    dregs_line *more = NULL;
    dregs_use use;

    /* of one load it also counts how long ago the last dump was */
    if (criterion.by == DREGS_CRITERION_LOAD ||
        excess_with(line, varied, setting.si, criterion) > 1)
        return;
    ck_assert_int_eq(dregs_line_with(line, &setting, 1, &more, NULL), DREGS_OK);
    dregs_balance_use(more, &use);
    dregs_line_free(more);
    ck_assert_double_ge(use.bought, dregs_sized_use(sized)->bought * (1 - 1e-9));
}

START_TEST(answers_put_back_just_meet_the_target)
{
    struct lines_stream stream = {4711, 0};
    unsigned number, tried = 0, boundaries = 0, wholes = 0, not_met = 0;

    for (number = 0; number < RANDOM_LINES; number++) {
        dregs_criterion criterion = sizing_ever;
        dregs_line *line = lines_random(number, &sizing.text, NULL);
        struct sizing_varied varied;
        dregs_sized *sized;
        double worst = worst_residue(line), between = lines_between(&stream, -0.7, 0.7);
        size_t without = sizing.text.used;
        unsigned attempt;
        int found = 0;

        lines_free(line);
        if (lines_chance(&stream, 0.3)) {
            criterion.by =
                lines_chance(&stream, 0.5) ? DREGS_CRITERION_FIRST : DREGS_CRITERION_LOAD;
            criterion.loads = 1 + lines_below(&stream, 60);
        }
        lines_say(&sizing.text, TARGET, worst);
        line = lines_read(sizing.text.bytes);
        /* mostly a target that lies between what the ends of the range leave */
        for (attempt = 0; attempt < 4 && found < 2; attempt++) {
            double at_low, at_high;
            found = random_property(line, &stream, &varied);
            if (!found || lines_chance(&stream, 0.1))
                break;
            at_low = log(excess_with(line, &varied, varied.low, criterion));
            at_high = log(excess_with(line, &varied, varied.high, criterion));
            if (isfinite(at_low) && isfinite(at_high) && fabs(at_high - at_low) > 0.01) {
                between = at_low + (at_high - at_low) * lines_between(&stream, 0.02, 0.98);
                found = 2;
            }
        }
        lines_free(line);
        if (!found)
            continue;
        sizing.text.used = without;
        lines_say(&sizing.text, TARGET, worst * exp(between));
        line = lines_read(sizing.text.bytes);
        tried++;
        sized = sizing_line(line, &varied, 1, criterion, 0);
        if (!isfinite(dregs_sized_compliance(sized)->of_limit)) {
            lines_free(line);
            sizing_free(sized);
            continue;
        }
        ck_assert_double_eq(sizing_compliance(dregs_sized_text(sized, NULL), criterion).of_limit,
                            dregs_sized_compliance(sized)->of_limit);
        ck_assert_int_eq(dregs_sized_feasible(sized), dregs_sized_compliance(sized)->of_limit <= 1);
        if (!dregs_sized_feasible(sized)) {
            not_met++;
            ck_assert(!dregs_sized_throughout(sized));
        } else if (dregs_varied_whole(dregs_sized_varied(sized), 0)) {
            ck_assert_double_eq(dregs_sized_value(sized, 0), floor(dregs_sized_value(sized, 0)));
            if (!dregs_sized_throughout(sized))
                more_misses_or_takes_more(line, &varied, sized, criterion);
            wholes += !dregs_sized_throughout(sized);
        } else if (!dregs_sized_throughout(sized)) {
            is_boundary(line, &varied, sized, criterion, 1e-3);
            if (strcmp(varied.property, "temperature") != 0)
                is_boundary(line, &varied, sized, criterion, 1e-6);
            boundaries++;
        }
        sizing_free(sized);
        lines_free(line);
    }
    if (getenv("DREGS_TELL_COUNTS"))
        fprintf(stderr, "%u sized: %u boundaries, %u whole, %u not met\n", tried, boundaries,
                wholes, not_met);
    /* the test must not pass for want of cases */
    ck_assert_uint_ge(tried, 60);
    ck_assert_uint_ge(boundaries, 40);
    ck_assert_uint_ge(wholes, 3);
    ck_assert_uint_ge(not_met, 10);
}
END_TEST

/* ---- counterflow against the formulas ---- */

#define MINUTE_IN_S 60.0

/* A load of 1 m2 with a film of 1 mm: D = 1 L in a minute from every stage. The bath keeps its
 * concentration, for what leaves it is made up with the same liquid. n counterflow rinses of
 * `volume` L behind it; `clean` g/L are in the rinse water; `last` g/L may be in the last film. */
static void counterflow(unsigned n, double bath, double clean, double volume, double last)
{
    unsigned i;

    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,min\n"
              "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
              "strong,salt,%.17g,g/L\nclean,kind,liquid,\nclean,solvent,water,\n"
              "clean,salt,%.17g,g/L\n"
              "bath,kind,wash,\nbath,volume,100,L\nbath,liquid,strong,\nbath,film,1,mm\n",
              bath, clean);
    for (i = 1; i <= n; i++) {
        lines_say(&sizing.text,
                  "r%u,kind,rinse,\nr%u,volume,%.17g,L\nr%u,liquid,clean,\nr%u,film,1,mm\n", i, i,
                  volume, i, i);
        if (i > 1)
            lines_say(&sizing.text, "r%u,overflow to,r%u,\n", i, i - 1);
    }
    /* 1 g/L in a film of 1 mm is 1 g/m2 */
    lines_say(&sizing.text, "limit,kind,target,\nlimit,residue,%.17g,g/m2\n", last);
}

static const char *last_rinse(unsigned n)
{
    static char name[8];

    snprintf(name, sizeof name, "r%u", n);
    return name;
}

/* The flow of the last rinse that the line needs, over its drag-out: R = Q T / D. */
static double found_ratio(unsigned n)
{
    struct sizing_varied varied = sizing_vary(last_rinse(n), "flow", NAN, NAN);
    dregs_sized *sized;
    double ratio;

    sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
    ck_assert(dregs_sized_feasible(sized) && !dregs_sized_throughout(sized));
    ck_assert_int_eq(dregs_sized_at_low(sized, 0) || dregs_sized_at_high(sized, 0), 0);
    ck_assert_near(dregs_sized_compliance(sized)->of_limit, 1.0, 1e-5, "the target is just met");
    ratio = dregs_sized_value(sized, 0) * MINUTE_IN_S / 1e-3;
    /* what the tool makes its rules of thumb from */
    ck_assert_near(dregs_sized_use(sized)->flow, ratio * 1e-3, 1e-12, "flow per load");
    sizing_free(sized);
    return ratio;
}

/* Loads come one by one, and a rinse is cleanest just before the next: the film holds up to
 * n Q T / V more than the series says, and for that the flow is raised. */
START_TEST(counterflow_is_the_series)
{
    static const double turned[] = {1e-2, 1e-6}, waters[] = {0, 0.003};
    static const double dilutions[] = {7, 100, 2000};
    unsigned n, i, k, w;

    for (n = 1; n <= 5; n++)
        for (i = 0; i < 2; i++)
            for (k = 0; k < 3; k++)
                for (w = 0; w < 2; w++) {
                    double r = dilutions[k], water = waters[w];
                    double series = dregs_rinse_series(r, n), volume = series / turned[i], got;
                    double most = dregs_rinse_series(r * (1 + n * turned[i] * 1.05), n);
                    counterflow(n, 10 + water, water, volume, 10 / r + water);
                    got = found_ratio(n);
                    ck_assert_msg(got > series * (1 - 1e-6) && got < most * (1 + 1e-6),
                                  "%u rinses, ratio %g, turned %g, water %g: R %.9g, the series "
                                  "%.9g to %.9g",
                                  n, r, turned[i], water, got, series, most);
                }
}
END_TEST

/* One rinse, loads one by one: c (V + D) = V c exp(-Q T / V) + D C0 in the state that repeats, so
 * R = -(V / D) ln(1 - (r - 1) D / V). */
START_TEST(one_rinse_exactly)
{
    static const double volumes[] = {12, 40, 1000}; /* of D */
    static const double dilutions[] = {2, 5, 10};
    unsigned v, k;

    for (v = 0; v < 3; v++)
        for (k = 0; k < 3; k++) {
            double r = dilutions[k], volume = volumes[v];
            counterflow(1, 20.5, 0.5, volume, 20 / r + 0.5);
            ck_assert_near(found_ratio(1), -volume * log(1 - (r - 1) / volume), 1e-6,
                           "V/D %g, ratio %g", volume, r);
        }
    ck_assert_double_eq(dregs_rinse_series(10, 1), 9);
    ck_assert_double_eq(dregs_rinse_root(10, 1), 10);
}
END_TEST

/* Rows R12 of checks.csv: exact series of the counterflow rinse at C0/Cn = 1000, and by how much
 * the root form (GOST 9.047-75 p. 67) asks for too much. */
START_TEST(rules_of_thumb_in_print)
{
    static const double series[] = {999.0000, 31.1109, 9.6420, 5.3396, 3.7413};
    static const double excess[] = {0.10, 1.65, 3.71, 5.31, 6.41}; /* % */
    unsigned n;

    for (n = 1; n <= 5; n++) {
        double exact = dregs_rinse_series(1000, n), root = dregs_rinse_root(1000, n);
        ck_assert_double_eq_tol(exact, series[n - 1], 1e-4);
        ck_assert_double_eq_tol((root / exact - 1) * 100, excess[n - 1], 0.005);
    }
    /* 1 + 2 + 4 + 8 = 15, 1 + 10 + 100 = 111, 1 + 1/2 + 1/4 = 1.75 */
    ck_assert_near(dregs_rinse_series(15, 3), 2.0, 1e-13, "15");
    ck_assert_near(dregs_rinse_series(111, 2), 10.0, 1e-13, "111");
    ck_assert_near(dregs_rinse_series(1.75, 2), 0.5, 1e-13, "1.75");
    ck_assert_near(dregs_rinse_root(8, 3), 2.0, 1e-15, "cube root");
    for (n = 0; n <= 20; n++) {
        static const double none[] = {1, 0.5, 0, -3};
        unsigned i;
        for (i = 0; i < 4; i++) {
            ck_assert_double_nan(dregs_rinse_series(none[i], n));
            ck_assert_double_nan(dregs_rinse_root(none[i], n));
        }
        ck_assert_double_nan(dregs_rinse_series(NAN, n));
        ck_assert_double_nan(dregs_rinse_root(NAN, n));
        ck_assert_double_nan(dregs_rinse_series(HUGE_VAL, n));
        if (n >= 1) {
            double R = dregs_rinse_series(1 + 1e-6, n), sum = 0;
            unsigned k;
            for (k = 0; k < n; k++)
                sum = (sum + 1) * R;
            ck_assert_near(sum, 1e-6, 1e-8, "hardly any rinsing, %u", n);
        }
    }
    ck_assert_double_nan(dregs_rinse_series(1000, 0));
    ck_assert_double_nan(dregs_rinse_root(1000, 0));
}
END_TEST

/* R04 of checks.csv: 270,000 mg/L to 40 mg/L takes 6750, 82 and 18 times the drag-out; P2 fact
 * sheet "Water Conservation for Electroplaters: Counter-Current Rinsing". 18 is 18.55 cut off. */
START_TEST(counterflow_water_in_print)
{
    static const double printed[] = {6750, 82, 18.55}, off[] = {5, 0.5, 0.01};
    unsigned n;

    for (n = 1; n <= 3; n++) {
        counterflow(n, 270, 0, 1e9, 0.040); /* so large a tank is turned over slowly */
        ck_assert_double_eq_tol(found_ratio(n), printed[n - 1], off[n - 1]);
    }
}
END_TEST

/* R07 of checks.csv: 0.3 L/m2 from 6180 m2 a year, two stages, ratio 700. The root form of GOST
 * 9.047-75 p. 67 asks for 49,052 L; R = (sqrt(4 700 - 3) - 1) / 2 for 48,098.94 L, 1.94 % less. */
START_TEST(a_year_of_water_in_print)
{
    const double drag = 0.3 * 6180;
    double exact;

    counterflow(2, 70, 0, 1e8, 0.1);
    exact = found_ratio(2) * drag;
    ck_assert_double_eq_tol(dregs_rinse_root(700, 2) * drag, 49052.23, 0.005);
    ck_assert_double_eq_tol(exact, 48098.94, 0.05);
    ck_assert_double_eq_tol((1 - exact / 49052.23) * 100, 1.9434, 0.0005);
}
END_TEST

/* ---- monotone ---- */

static double flow_for(unsigned n, double film_mm, double limit)
{
    struct sizing_varied varied = sizing_vary(last_rinse(n), "flow", NAN, NAN);
    dregs_sized *sized;
    double flow;
    char *p;
    char film[32];

    counterflow(n, 50, 0.001, 6000, limit);
    /* another film on every stage: "film,1,mm" is 9 characters long */
    snprintf(film, sizeof film, "film,%.0f,um", film_mm * 1000);
    ck_assert_uint_le(strlen(film), 12);
    {
        static struct lines_text other;
        other.used = 0;
        for (p = sizing.text.bytes; *p;) {
            if (strncmp(p, "film,1,mm", 9) == 0) {
                lines_say(&other, "%s", film);
                p += 9;
            } else {
                lines_say(&other, "%c", *p++);
            }
        }
        sized = sizing_text(other.bytes, &varied, 1, 0);
    }
    ck_assert_msg(dregs_sized_feasible(sized) && !dregs_sized_throughout(sized),
                  "%u rinses, %g mm, %g g/m2", n, film_mm, limit);
    flow = dregs_sized_value(sized, 0);
    sizing_free(sized);
    return flow;
}

START_TEST(more_is_needed_for_more)
{
    static const double limits[] = {4, 1, 0.3, 0.1, 0.05}, films[] = {0.1, 0.2, 0.5, 0.9};
    double before, now;
    unsigned i, n;

    for (before = HUGE_VAL, n = 1; n <= 6; n++, before = now) {
        now = flow_for(n, 1, 1);
        ck_assert_msg(now <= before * (1 + 1e-6), "%u rinses: %g after %g", n, now, before);
    }
    for (n = 1; n <= 3; n++) {
        for (before = 0, i = 0; i < 5; i++, before = now) {
            now = flow_for(n, 0.5, limits[i]);
            ck_assert_msg(now >= before * (1 - 1e-6), "%u rinses, %g g/m2", n, limits[i]);
        }
        for (before = 0, i = 0; i < 4; i++, before = now) {
            now = flow_for(n, films[i], 0.5);
            ck_assert_msg(now >= before * (1 - 1e-6), "%u rinses, %g mm", n, films[i]);
        }
    }
}
END_TEST

/* A range from 0, or a narrow one, is searched as finely as a wide one. */
START_TEST(any_range_is_searched_as_finely)
{
    static const double ranges[][2] = {{0, 1}, {0, 1e-3}, {2e-4, 5e-4}, {1e-6, 1}, {NAN, NAN}};
    double exact = -1000 * log(1 - 9.0 / 1000), wanted = exact * 1e-3 / MINUTE_IN_S;
    unsigned i;

    counterflow(1, 10, 0, 1000, 1);
    ck_assert_double_gt(wanted, 1.4e-4);
    /* and small flows, as of a bench: the same with a film of 1 um */
    {
        struct sizing_varied varied = sizing_vary("r1", "flow", 0, 1e-6);
        dregs_sized *sized;
        lines_begin(&sizing.text);
        lines_say(&sizing.text,
                  "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,min\n"
                  "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
                  "strong,salt,10,g/L\nclean,kind,liquid,\nclean,solvent,water,\n"
                  "bath,kind,wash,\nbath,volume,100,mL\nbath,liquid,strong,\nbath,film,1,um\n"
                  "r1,kind,rinse,\nr1,volume,1,L\nr1,liquid,clean,\nr1,film,1,um\n"
                  "limit,kind,target,\nlimit,residue,1,mg/m2\n");
        sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
        ck_assert(dregs_sized_feasible(sized));
        ck_assert_near(dregs_sized_value(sized, 0), wanted * 1e-3, 1e-6, "a small flow");
        sizing_free(sized);
        counterflow(1, 10, 0, 1000, 1);
    }
    for (i = 0; i < 5; i++) {
        struct sizing_varied varied = sizing_vary("r1", "flow", ranges[i][0], ranges[i][1]);
        dregs_sized *sized;
        if (ranges[i][0] > wanted)
            varied.low = 0.5 * wanted;
        sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
        ck_assert(dregs_sized_feasible(sized));
        ck_assert_near(dregs_sized_value(sized, 0), wanted, 1e-6, "range %u", i);
        sizing_free(sized);
    }
}
END_TEST

/* ---- not possible ---- */

/* 10 parts of 1 dm2 with 5 mg of soil each, of which a wash takes 90 %; 20 um of rinse water with
 * 100 mg/L dry on the parts. Adhering: 0.5 mg / 0.01 m2 = 50 mg/m2. Film: 2 mg/m2. */
static void soiled(double limit)
{
    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,10,1\nrack,area,1,dm2\nrack,interval,5,min\n"
              "soil,kind,solute,\nsoil,on parts,5,mg\nsalt,kind,solute,\n"
              "tap,kind,liquid,\ntap,solvent,water,\ntap,salt,100,mg/L\n"
              "bath,kind,wash,\nbath,volume,50,L\nbath,liquid,tap,\nbath,removal,90,%%\n"
              "bath,film,60,um\nbath,dump every,50,1\n"
              "rinse,kind,rinse,\nrinse,volume,20,L\nrinse,liquid,tap,\nrinse,film,20,um\n");
    lines_say(&sizing.text, "limit,kind,target,\nlimit,residue,%.17g,mg/m2\n", limit);
}

START_TEST(what_cannot_be_rinsed_away)
{
    static const double limits[] = {49, 51, 52.5}; /* below the soil, below soil and film, above */
    unsigned i;

    for (i = 0; i < 3; i++) {
        struct sizing_varied varied = sizing_vary("rinse", "flow", NAN, NAN);
        dregs_sized *sized;
        soiled(limits[i]);
        sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
        ck_assert_int_eq(dregs_sized_feasible(sized), limits[i] > 52);
        ck_assert_near(dregs_sized_compliance(sized)->floor_adhering, 50e-6, 1e-12, "soil");
        ck_assert_near(dregs_sized_compliance(sized)->floor, 52e-6, 1e-12, "soil and film");
        ck_assert_int_eq(dregs_sized_compliance(sized)->floor_adhering > limits[i] * 1e-6,
                         limits[i] < 50);
        ck_assert_int_eq(dregs_sized_compliance(sized)->limit, DREGS_EVERY_SOLUTE);
        ck_assert_near(dregs_sized_compliance(sized)->residue / (limits[i] * 1e-6),
                       dregs_sized_compliance(sized)->of_limit, 1e-12, "excess");
        if (!dregs_sized_feasible(sized)) { /* the nearest: so much flow that more does nothing */
            ck_assert(!dregs_sized_at_low(sized, 0) && !dregs_sized_throughout(sized));
            ck_assert_double_ge(dregs_sized_compliance(sized)->residue, 52e-6 * (1 - 1e-12));
            ck_assert_double_le(dregs_sized_compliance(sized)->residue, 52e-6 * (1 + 1e-4));
        }
        sizing_free(sized);
    }
    /* whole numbers: every load is too many */
    {
        struct sizing_varied varied = sizing_vary("rinse", "dump every", 1, 1);
        dregs_sized *sized;
        soiled(49);
        sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
        ck_assert(!dregs_sized_feasible(sized) && !dregs_sized_throughout(sized));
        ck_assert_double_eq(dregs_sized_value(sized, 0), 1);
        sizing_free(sized);
    }
    /* several: the nearest is no worse than the best corner */
    {
        struct sizing_varied varied[2] = {sizing_vary("rinse", "flow", 0, 1e-3),
                                          sizing_vary("bath", "flow", 0, 1e-3)};
        dregs_sized *sized;
        soiled(51);
        sized = sizing_text(sizing.text.bytes, varied, 2, 0);
        ck_assert(!dregs_sized_feasible(sized));
        ck_assert(dregs_sized_at_high(sized, 0));
        ck_assert_double_gt(dregs_sized_compliance(sized)->of_limit, 52.0 / 51 * (1 - 1e-9));
        ck_assert_double_lt(dregs_sized_compliance(sized)->of_limit, 52.0 / 51 * 1.02);
        sizing_free(sized);
    }
}
END_TEST

/* A limit of one solute binds while the sum does not. */
START_TEST(the_limit_that_binds_is_named)
{
    struct sizing_varied varied = sizing_vary("rinse", "flow", NAN, NAN);
    dregs_sized *sized;

    soiled(500);
    lines_say(&sizing.text, "limit,residue salt,1,mg/m2\n");
    sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
    ck_assert(!dregs_sized_feasible(sized));
    ck_assert_int_eq(dregs_sized_compliance(sized)->limit, 1);
    ck_assert_near(dregs_sized_compliance(sized)->floor, 2e-6, 1e-12, "the film of rinse water");
    ck_assert_double_eq(dregs_sized_compliance(sized)->floor_adhering, 0);
    sizing_free(sized);
}
END_TEST

/* Nothing is asked for that is there already: the range's end with the least liquid. */
START_TEST(a_target_met_throughout)
{
    struct sizing_varied varied = sizing_vary("rinse", "flow", 1e-6, 1e-4);
    dregs_sized *sized;

    soiled(1e6);
    sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
    ck_assert(dregs_sized_feasible(sized) && dregs_sized_throughout(sized) &&
              dregs_sized_at_low(sized, 0));
    ck_assert_double_eq_tol(dregs_sized_value(sized, 0), 1e-6, 1e-14);
    sizing_free(sized);
    varied = sizing_vary("rinse", "dump every", 3, 90);
    sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
    ck_assert(dregs_sized_feasible(sized) && dregs_sized_throughout(sized) &&
              dregs_sized_at_high(sized, 0));
    ck_assert_double_eq(dregs_sized_value(sized, 0), 90);
    sizing_free(sized);
}
END_TEST

/* What can be varied, and what cannot. */
START_TEST(refusals_give_the_choices)
{
    static const struct {
        const char *stage, *property;
        double low, high;
        dregs_status status;
        const char *said;
    } known[] = {
        {"rinse", "colour", NAN, NAN, DREGS_UNKNOWN, "temperature"},
        {"rinse", "film", NAN, NAN, DREGS_UNKNOWN, "dump every"},
        {"rinze", "flow", NAN, NAN, DREGS_UNKNOWN, "bath"},
        {"rinse", "use", NAN, NAN, DREGS_DOMAIN, "spray"},
        {"rinse", "drain time", NAN, NAN, DREGS_DOMAIN, "withdrawal speed"},
        {"rinse", "temperature", NAN, NAN, DREGS_DOMAIN, "changes nothing"},
        {"rinse", "flow", 2, 1, DREGS_DOMAIN, "empty"},
        {"rinse", "flow", -2, -1, DREGS_DOMAIN, "range"},
        {"rinse", "volume", 0, 1, DREGS_DOMAIN, "range"},
        {"rinse", "dump every", 1.2, 1.8, DREGS_DOMAIN, "empty"},
        {"rinse", "dump every", 0, 8, DREGS_DOMAIN, "range"},
        {"rinse", "exchange", 0, 2, DREGS_DOMAIN, "range"},
    };
    dregs_line *line;
    dregs_sized *sized = NULL;
    dregs_varied *varied;
    size_t i;

    soiled(60);
    line = lines_read(sizing.text.bytes);
    varied = dregs_varied_new(line);
    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        ck_assert_int_eq(dregs_varied_add(varied, known[i].property, &known[i].stage, 1,
                                          known[i].low, known[i].high, sizing.message),
                         known[i].status);
        ck_assert_msg(strstr(sizing.message, known[i].said) != NULL, "'%s' lacks '%s'",
                      sizing.message, known[i].said);
    }
    ck_assert_uint_eq(dregs_varied_count(varied), 0);
    ck_assert_int_eq(dregs_size(varied, sizing_ever, 0, &sized, sizing.message), DREGS_DOMAIN);
    dregs_varied_free(varied);
    lines_free(line);
    *strstr(sizing.text.bytes, "limit,") = '\0';
    line = lines_read(sizing.text.bytes);
    varied = dregs_varied_new(line);
    ck_assert_int_eq(dregs_size(varied, sizing_ever, 0, &sized, sizing.message), DREGS_BAD_DATA);
    ck_assert_msg(strstr(sizing.message, "target") != NULL, "%s", sizing.message);
    ck_assert_ptr_null(sized);
    dregs_varied_free(varied);
    lines_free(line);
}
END_TEST

/* What is varied is told, and nothing beyond it. */
START_TEST(what_is_varied_is_told)
{
    static const char *const stages[] = {"rinse", "bath"};
    char names[2][8] = {"rinse", "bath"};
    const char *given[] = {names[0], names[1]};
    dregs_varied *varied;
    dregs_line *line;

    soiled(60);
    line = lines_read(sizing.text.bytes);
    varied = dregs_varied_new(line);
    ck_assert_int_eq(dregs_varied_add(varied, "volume", given, 2, 5e-3, NAN, sizing.message),
                     DREGS_OK);
    memset(names, 'x', sizeof names); /* they need not live on */
    ck_assert_ptr_eq(dregs_varied_line(varied), line);
    ck_assert_uint_eq(dregs_varied_count(varied), 1);
    ck_assert_str_eq(dregs_varied_property(varied, 0), "volume");
    ck_assert_str_eq(dregs_varied_stage(varied, 0, 0), stages[0]);
    ck_assert_str_eq(dregs_varied_stage(varied, 0, 1), stages[1]);
    ck_assert_ptr_null(dregs_varied_stage(varied, 0, 2));
    ck_assert_str_eq(dregs_varied_unit(varied, 0), "L");
    ck_assert_double_eq(dregs_varied_low(varied, 0), 5e-3);
    ck_assert_double_gt(dregs_varied_high(varied, 0), 5e-3);
    ck_assert(dregs_varied_low_given(varied, 0) && !dregs_varied_high_given(varied, 0));
    ck_assert(!dregs_varied_whole(varied, 0));
    ck_assert_ptr_null(dregs_varied_property(varied, 1));
    ck_assert_ptr_null(dregs_varied_stage(varied, 1, 0));
    ck_assert_double_nan(dregs_varied_low(varied, 1));
    ck_assert_int_eq(dregs_varied_add(varied, "volume", &stages[1], 1, NAN, NAN, sizing.message),
                     DREGS_DOMAIN);
    ck_assert_ptr_nonnull(strstr(sizing.message, "twice"));
    ck_assert_int_eq(dregs_varied_add(varied, "flow", stages, 0, NAN, NAN, sizing.message),
                     DREGS_DOMAIN);
    dregs_varied_free(varied);
    lines_free(line);
}
END_TEST

/* The trials end at the answer, which is one of them. */
START_TEST(trials_can_be_read)
{
    struct sizing_varied varied = sizing_vary("rinse", "flow", NAN, NAN);
    dregs_sized *sized;
    unsigned i, found = 0, kept;

    soiled(60);
    sized = sizing_text(sizing.text.bytes, &varied, 1, 0);
    kept = dregs_sized_trials_kept(sized);
    ck_assert_uint_ge(kept, 3);
    ck_assert_uint_eq(kept, dregs_sized_trials(sized));
    for (i = 0; i < kept; i++)
        found += dregs_sized_trial_value(sized, i, 0) == dregs_sized_value(sized, 0) &&
                 dregs_sized_trial_of_limit(sized, i) == dregs_sized_compliance(sized)->of_limit;
    ck_assert_uint_ge(found, 1);
    ck_assert_double_nan(dregs_sized_trial_value(sized, 0, 1));
    ck_assert_double_nan(dregs_sized_trial_value(sized, kept, 0));
    ck_assert_double_nan(dregs_sized_trial_of_limit(sized, kept));
    ck_assert_double_nan(dregs_sized_value(sized, 1));
    ck_assert(!dregs_sized_at_low(sized, 1) && !dregs_sized_at_high(sized, 1));
    sizing_free(sized);
    dregs_sized_free(NULL);
    dregs_varied_free(NULL);
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"one property",
         {answers_put_back_just_meet_the_target, any_range_is_searched_as_finely,
          more_is_needed_for_more}},
        {"counterflow",
         {counterflow_is_the_series, one_rinse_exactly, rules_of_thumb_in_print,
          counterflow_water_in_print, a_year_of_water_in_print}},
        {"not possible, not needed, not allowed",
         {what_cannot_be_rinsed_away, the_limit_that_binds_is_named, a_target_met_throughout,
          refusals_give_the_choices, what_is_varied_is_told, trials_can_be_read}},
    };

    gsl_set_error_handler_off();
    return run_cases("size", cases, sizeof cases / sizeof cases[0]);
}
