/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_size.c: the rinsing that meets a target, the liquid it takes, and the text it is written to.
 * Expected values are worked out by hand, are in print, or come from a search of another kind.
 */
#include "check_main.h"
#include "dregs/edit.h"
#include "dregs/residue.h"
#include "dregs/size.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

static struct lines_text text;
static char message[DREGS_SIZE_MESSAGE];
static const dregs_judging ever = {DREGS_JUDGE_EVER, 0};

static dregs_varied vary(const char *stage, const char *property, double low, double high)
{
    dregs_varied varied;

    memset(&varied, 0, sizeof varied);
    varied.stage[0] = stage;
    varied.stages = 1;
    varied.property = property;
    varied.low = low;
    varied.high = high;
    return varied;
}

static dregs_standing standing_of(const char *bytes, dregs_judging judging)
{
    dregs_line *line = lines_read(bytes);
    dregs_standing standing;

    ck_assert_int_eq(dregs_size_standing(line, judging, &standing), DREGS_OK);
    lines_free(line);
    return standing;
}

/* Prepares and sizes; the test fails when that is refused. */
static void size_line(const dregs_line *line, dregs_varied *varied, unsigned count,
                      dregs_judging judging, int by_cost, dregs_sized *sized)
{
    unsigned i;

    memset(sized, 0, sizeof *sized);
    for (i = 0; i < count; i++)
        ck_assert_msg(!dregs_size_prepare(line, &varied[i], message), "%s", message);
    ck_assert_msg(!dregs_size(line, varied, count, judging, by_cost, sized, message), "%s",
                  message);
    ck_assert_ptr_nonnull(sized->text);
    ck_assert_uint_eq(sized->length, strlen(sized->text));
}

static void size_text(const char *bytes, dregs_varied *varied, unsigned count, int by_cost,
                      dregs_sized *sized)
{
    dregs_line *line = lines_read(bytes);

    size_line(line, varied, count, ever, by_cost, sized);
    lines_free(line);
}

/* The line with one property set to an SI value, and how it stands: infinite where refused. */
static double excess_with(const dregs_line *line, const dregs_varied *varied, double value,
                          dregs_judging judging)
{
    dregs_varied fixed = *varied;
    static dregs_sized sized;
    double excess;

    fixed.low = fixed.high = value;
    memset(&sized, 0, sizeof sized);
    ck_assert_int_eq(dregs_size_prepare(line, &fixed, message), DREGS_OK);
    ck_assert_int_eq(dregs_size(line, &fixed, 1, judging, 0, &sized, message), DREGS_OK);
    excess = sized.standing.excess;
    if (isfinite(excess)) { /* the same once more without the search */
        dregs_standing again = standing_of(sized.text, judging);
        ck_assert_double_eq(again.excess, excess);
    }
    dregs_sized_clear(&sized);
    return excess;
}

/* ---- (a) the answer put back ---- */

/* A random property of a random line that can be varied; 0 when the line has none. */
static int random_property(const dregs_line *line, struct lines_stream *stream,
                           dregs_varied *varied)
{
    static const char *const properties[] = {"flow",       "volume",   "use",        "dump every",
                                             "drain time", "exchange", "temperature"};
    unsigned attempt;

    for (attempt = 0; attempt < 40; attempt++) {
        static char name[40];
        const char *property = properties[lines_below(stream, 7)];
        snprintf(name, sizeof name, "%s",
                 dregs_line_stage(line, lines_below(stream, dregs_line_stages(line)))->name);
        *varied = vary(name, property, NAN, NAN);
        if (strcmp(property, "dump every") == 0) { /* keeps the periods, and so the time, short */
            varied->low = 1;
            varied->high = 40;
        }
        if (!dregs_size_prepare(line, varied, message))
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
static void is_boundary(const dregs_line *line, const dregs_varied *varied,
                        const dregs_sized *sized, dregs_judging judging, double by)
{
    double value = sized->value[0], below = value * (1 - by), above = value * (1 + by);
    int low_misses = below >= varied->low && excess_with(line, varied, below, judging) > 1;
    int high_misses = above <= varied->high && excess_with(line, varied, above, judging) > 1;

    ck_assert_msg(low_misses || high_misses, "%s of %s = %.17g is no boundary within %g\n%s",
                  varied->property, varied->stage[0], value, by, text.bytes);
}

START_TEST(answers_put_back_just_meet_the_target)
{
    struct lines_stream stream = {4711, 0};
    unsigned number, tried = 0, boundaries = 0, wholes = 0, not_met = 0;

    for (number = 0; number < RANDOM_LINES; number++) {
        dregs_judging judging = ever;
        dregs_line *line = lines_random(number, &text, NULL);
        dregs_varied varied;
        dregs_sized sized;
        double worst = worst_residue(line), between = lines_between(&stream, -0.7, 0.7);
        size_t without = text.used;
        unsigned attempt;
        int found = 0;

        lines_free(line);
        if (lines_chance(&stream, 0.3)) {
            judging.by = lines_chance(&stream, 0.5) ? DREGS_JUDGE_FIRST : DREGS_JUDGE_LOAD;
            judging.loads = 1 + lines_below(&stream, 60);
        }
        lines_say(&text, TARGET, worst);
        line = lines_read(text.bytes);
        /* mostly a target that lies between what the ends of the range leave */
        for (attempt = 0; attempt < 4 && found < 2; attempt++) {
            double at_low, at_high;
            found = random_property(line, &stream, &varied);
            if (!found || lines_chance(&stream, 0.1))
                break;
            at_low = log(excess_with(line, &varied, varied.low, judging));
            at_high = log(excess_with(line, &varied, varied.high, judging));
            if (isfinite(at_low) && isfinite(at_high) && fabs(at_high - at_low) > 0.01) {
                between = at_low + (at_high - at_low) * lines_between(&stream, 0.02, 0.98);
                found = 2;
            }
        }
        lines_free(line);
        if (!found)
            continue;
        text.used = without;
        lines_say(&text, TARGET, worst * exp(between));
        line = lines_read(text.bytes);
        tried++;
        size_line(line, &varied, 1, judging, 0, &sized);
        if (!isfinite(sized.standing.excess)) {
            lines_free(line);
            dregs_sized_clear(&sized);
            continue;
        }
        ck_assert_double_eq(standing_of(sized.text, judging).excess, sized.standing.excess);
        ck_assert_int_eq(sized.feasible, sized.standing.excess <= 1);
        if (!sized.feasible) {
            not_met++;
            ck_assert(!sized.throughout);
        } else if (varied.whole) {
            ck_assert_double_eq(sized.value[0], floor(sized.value[0]));
            if (!sized.throughout)
                ck_assert_double_gt(excess_with(line, &varied, sized.value[0] + 1, judging), 1);
            wholes += !sized.throughout;
        } else if (!sized.throughout) {
            is_boundary(line, &varied, &sized, judging, 1e-3);
            if (strcmp(varied.property, "temperature") != 0)
                is_boundary(line, &varied, &sized, judging, 1e-6);
            boundaries++;
        }
        dregs_sized_clear(&sized);
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

/* ---- (b), (c) counterflow against the formulas ---- */

#define MINUTE_IN_S 60.0

/* A load of 1 m2 with a film of 1 mm: D = 1 L in a minute from every stage. The bath keeps its
 * concentration, for what leaves it is made up with the same liquid. n counterflow rinses of
 * `volume` L behind it; `clean` g/L are in the rinse water; `last` g/L may be in the last film. */
static void counterflow(unsigned n, double bath, double clean, double volume, double last)
{
    unsigned i;

    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,min\n"
              "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
              "strong,salt,%.17g,g/L\nclean,kind,liquid,\nclean,solvent,water,\n"
              "clean,salt,%.17g,g/L\n"
              "bath,kind,wash,\nbath,volume,100,L\nbath,liquid,strong,\nbath,film,1,mm\n",
              bath, clean);
    for (i = 1; i <= n; i++) {
        lines_say(&text, "r%u,kind,rinse,\nr%u,volume,%.17g,L\nr%u,liquid,clean,\nr%u,film,1,mm\n",
                  i, i, volume, i, i);
        if (i > 1)
            lines_say(&text, "r%u,overflow to,r%u,\n", i, i - 1);
    }
    /* 1 g/L in a film of 1 mm is 1 g/m2 */
    lines_say(&text, "limit,kind,target,\nlimit,residue,%.17g,g/m2\n", last);
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
    dregs_varied varied = vary(last_rinse(n), "flow", NAN, NAN);
    dregs_sized sized;
    double ratio;

    size_text(text.bytes, &varied, 1, 0, &sized);
    ck_assert(sized.feasible && !sized.throughout);
    ck_assert_int_eq(sized.at_low[0] || sized.at_high[0], 0);
    ck_assert_near(sized.standing.excess, 1.0, 1e-5, "the target is just met");
    ratio = sized.value[0] * MINUTE_IN_S / 1e-3;
    /* what the tool makes its rules of thumb from */
    ck_assert_near(sized.use.flow, ratio * 1e-3, 1e-12, "flow per load");
    dregs_sized_clear(&sized);
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

/* ---- (d) monotone ---- */

static double flow_for(unsigned n, double film_mm, double limit)
{
    dregs_varied varied = vary(last_rinse(n), "flow", NAN, NAN);
    dregs_sized sized;
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
        for (p = text.bytes; *p;) {
            if (strncmp(p, "film,1,mm", 9) == 0) {
                lines_say(&other, "%s", film);
                p += 9;
            } else {
                lines_say(&other, "%c", *p++);
            }
        }
        size_text(other.bytes, &varied, 1, 0, &sized);
    }
    ck_assert_msg(sized.feasible && !sized.throughout, "%u rinses, %g mm, %g g/m2", n, film_mm,
                  limit);
    flow = sized.value[0];
    dregs_sized_clear(&sized);
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
        dregs_varied varied = vary("r1", "flow", 0, 1e-6);
        dregs_sized sized;
        lines_begin(&text);
        lines_say(&text,
                  "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,min\n"
                  "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
                  "strong,salt,10,g/L\nclean,kind,liquid,\nclean,solvent,water,\n"
                  "bath,kind,wash,\nbath,volume,100,mL\nbath,liquid,strong,\nbath,film,1,um\n"
                  "r1,kind,rinse,\nr1,volume,1,L\nr1,liquid,clean,\nr1,film,1,um\n"
                  "limit,kind,target,\nlimit,residue,1,mg/m2\n");
        size_text(text.bytes, &varied, 1, 0, &sized);
        ck_assert(sized.feasible);
        ck_assert_near(sized.value[0], wanted * 1e-3, 1e-6, "a small flow");
        dregs_sized_clear(&sized);
        counterflow(1, 10, 0, 1000, 1);
    }
    for (i = 0; i < 5; i++) {
        dregs_varied varied = vary("r1", "flow", ranges[i][0], ranges[i][1]);
        dregs_sized sized;
        if (ranges[i][0] > wanted)
            varied.low = 0.5 * wanted;
        size_text(text.bytes, &varied, 1, 0, &sized);
        ck_assert(sized.feasible);
        ck_assert_near(sized.value[0], wanted, 1e-6, "range %u", i);
        dregs_sized_clear(&sized);
    }
}
END_TEST

/* ---- (e) not possible ---- */

/* 10 parts of 1 dm2 with 5 mg of soil each, of which a wash takes 90 %; 20 um of rinse water with
 * 100 mg/L dry on the parts. Adhering: 0.5 mg / 0.01 m2 = 50 mg/m2. Film: 2 mg/m2. */
static void soiled(double limit)
{
    lines_begin(&text);
    lines_say(&text, "rack,kind,load,\nrack,parts,10,1\nrack,area,1,dm2\nrack,interval,5,min\n"
                     "soil,kind,solute,\nsoil,on parts,5,mg\nsalt,kind,solute,\n"
                     "tap,kind,liquid,\ntap,solvent,water,\ntap,salt,100,mg/L\n"
                     "bath,kind,wash,\nbath,volume,50,L\nbath,liquid,tap,\nbath,removal,90,%%\n"
                     "bath,film,60,um\nbath,dump every,50,1\n"
                     "rinse,kind,rinse,\nrinse,volume,20,L\nrinse,liquid,tap,\nrinse,film,20,um\n");
    lines_say(&text, "limit,kind,target,\nlimit,residue,%.17g,mg/m2\n", limit);
}

START_TEST(what_cannot_be_rinsed_away)
{
    static const double limits[] = {49, 51, 52.5}; /* below the soil, below soil and film, above */
    unsigned i;

    for (i = 0; i < 3; i++) {
        dregs_varied varied = vary("rinse", "flow", NAN, NAN);
        dregs_sized sized;
        soiled(limits[i]);
        size_text(text.bytes, &varied, 1, 0, &sized);
        ck_assert_int_eq(sized.feasible, limits[i] > 52);
        ck_assert_near(sized.standing.floor_adhering, 50e-6, 1e-12, "soil");
        ck_assert_near(sized.standing.floor, 52e-6, 1e-12, "soil and film");
        ck_assert_int_eq(sized.standing.floor_adhering > limits[i] * 1e-6, limits[i] < 50);
        ck_assert_int_eq(sized.standing.limit, DREGS_EVERY_SOLUTE);
        ck_assert_near(sized.standing.residue / (limits[i] * 1e-6), sized.standing.excess, 1e-12,
                       "excess");
        if (!sized.feasible) { /* the nearest: so much flow that more does nothing */
            ck_assert(!sized.at_low[0] && !sized.throughout);
            ck_assert_double_ge(sized.standing.residue, 52e-6 * (1 - 1e-12));
            ck_assert_double_le(sized.standing.residue, 52e-6 * (1 + 1e-4));
        }
        dregs_sized_clear(&sized);
    }
    /* whole numbers: every load is too many */
    {
        dregs_varied varied = vary("rinse", "dump every", 1, 1);
        dregs_sized sized;
        soiled(49);
        size_text(text.bytes, &varied, 1, 0, &sized);
        ck_assert(!sized.feasible && !sized.throughout);
        ck_assert_double_eq(sized.value[0], 1);
        dregs_sized_clear(&sized);
    }
    /* several: the nearest is no worse than the best corner */
    {
        dregs_varied varied[2] = {vary("rinse", "flow", 0, 1e-3), vary("bath", "flow", 0, 1e-3)};
        dregs_sized sized;
        soiled(51);
        size_text(text.bytes, varied, 2, 0, &sized);
        ck_assert(!sized.feasible);
        ck_assert(sized.at_high[0]);
        ck_assert_double_gt(sized.standing.excess, 52.0 / 51 * (1 - 1e-9));
        ck_assert_double_lt(sized.standing.excess, 52.0 / 51 * 1.02);
        dregs_sized_clear(&sized);
    }
}
END_TEST

/* A limit of one solute binds while the sum does not. */
START_TEST(the_limit_that_binds_is_named)
{
    dregs_varied varied = vary("rinse", "flow", NAN, NAN);
    dregs_sized sized;

    soiled(500);
    lines_say(&text, "limit,residue salt,1,mg/m2\n");
    size_text(text.bytes, &varied, 1, 0, &sized);
    ck_assert(!sized.feasible);
    ck_assert_int_eq(sized.standing.limit, 1);
    ck_assert_near(sized.standing.floor, 2e-6, 1e-12, "the film of rinse water");
    ck_assert_double_eq(sized.standing.floor_adhering, 0);
    dregs_sized_clear(&sized);
}
END_TEST

/* Nothing is asked for that is there already: the range's end with the least liquid. */
START_TEST(a_target_met_throughout)
{
    dregs_varied varied = vary("rinse", "flow", 1e-6, 1e-4);
    dregs_sized sized;

    soiled(1e6);
    size_text(text.bytes, &varied, 1, 0, &sized);
    ck_assert(sized.feasible && sized.throughout && sized.at_low[0]);
    ck_assert_double_eq_tol(sized.value[0], 1e-6, 1e-14);
    dregs_sized_clear(&sized);
    varied = vary("rinse", "dump every", 3, 90);
    size_text(text.bytes, &varied, 1, 0, &sized);
    ck_assert(sized.feasible && sized.throughout && sized.at_high[0]);
    ck_assert_double_eq(sized.value[0], 90);
    dregs_sized_clear(&sized);
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
    dregs_sized sized;
    dregs_varied varied;
    size_t i;

    soiled(60);
    line = lines_read(text.bytes);
    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        varied = vary(known[i].stage, known[i].property, known[i].low, known[i].high);
        ck_assert_int_eq(dregs_size_prepare(line, &varied, message), known[i].status);
        ck_assert_msg(strstr(message, known[i].said) != NULL, "'%s' lacks '%s'", message,
                      known[i].said);
    }
    memset(&sized, 0, sizeof sized);
    varied = vary("rinse", "flow", NAN, NAN);
    ck_assert_int_eq(dregs_size_prepare(line, &varied, message), DREGS_OK);
    ck_assert_int_eq(dregs_size(line, &varied, 0, ever, 0, &sized, message), DREGS_DOMAIN);
    dregs_sized_clear(&sized);
    lines_free(line);
    *strstr(text.bytes, "limit,") = '\0';
    line = lines_read(text.bytes);
    ck_assert_int_eq(dregs_size(line, &varied, 1, ever, 0, &sized, message), DREGS_BAD_DATA);
    ck_assert_msg(strstr(message, "target") != NULL, "%s", message);
    dregs_sized_clear(&sized);
    lines_free(line);
}
END_TEST

/* ---- (f) several ---- */

/* A bath and two rinses, each fed and draining by itself; prices where asked for. */
static void two_rinses(double limit, double first_price, double second_price)
{
    lines_begin(&text);
    lines_say(&text, "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,5,min\n"
                     "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
                     "strong,salt,20,g/L\ntap,kind,liquid,\ntap,solvent,water,\ntap,salt,0.2,g/L\n"
                     "di,kind,liquid,\ndi,solvent,water,\ndi,salt,1,mg/L\n");
    if (first_price > 0)
        lines_say(&text, "strong,price,1,EUR/m3\ntap,price,%.17g,EUR/m3\ndi,price,%.17g,EUR/m3\n",
                  first_price, second_price);
    lines_say(&text, "bath,kind,wash,\nbath,volume,50,L\nbath,liquid,strong,\nbath,film,60,um\n"
                     "one,kind,rinse,\none,volume,20,L\none,liquid,tap,\none,film,60,um\n"
                     "one,flow,5,L/h\n"
                     "two,kind,rinse,\ntwo,volume,20,L\ntwo,liquid,di,\ntwo,film,60,um\n"
                     "two,flow,5,L/h\n");
    lines_say(&text, "limit,kind,target,\nlimit,residue,%.17g,mg/m2\n", limit);
}

#define LPH (1e-3 / 3600)

/* The least liquid (or cost) over a grid of both values; the line's text is in `text`. */
static double best_of_grid(const dregs_varied *varied, unsigned steps, int by_cost,
                           double best_at[2])
{
    dregs_line *line = lines_read(text.bytes);
    double best = HUGE_VAL;
    unsigned i, k;

    for (i = 0; i < steps; i++)
        for (k = 0; k < steps; k++) {
            double value[2];
            char cells[2][40], *changed;
            dregs_new_row rows[2];
            unsigned c;
            size_t length;
            dregs_standing standing;
            dregs_line *other;
            dregs_use use;

            for (c = 0; c < 2; c++) {
                double share = (double)(c ? k : i) / (steps - 1);
                value[c] = varied[c].low * pow(varied[c].high / varied[c].low, share);
                if (strcmp(varied[c].property, "dump every") == 0)
                    value[c] = floor(value[c] + 0.5);
                snprintf(cells[c], sizeof cells[c], "%.17g",
                         varied[c].property[0] == 'f' ? value[c] / LPH : value[c]);
                rows[c].item = varied[c].stage[0];
                rows[c].property = varied[c].property;
                rows[c].value = cells[c];
                rows[c].unit = varied[c].property[0] == 'f' ? "L/h" : "";
                rows[c].note = NULL;
            }
            ck_assert_int_eq(dregs_edit_set(line, rows, 2, &changed, &length), DREGS_OK);
            other = lines_read(changed);
            dregs_edit_free(changed);
            ck_assert_int_eq(dregs_size_standing(other, ever, &standing), DREGS_OK);
            dregs_line_use(other, &use);
            lines_free(other);
            if (standing.excess <= 1 && (by_cost ? use.cost : use.bought) < best) {
                best = by_cost ? use.cost : use.bought;
                memcpy(best_at, value, sizeof value);
            }
        }
    lines_free(line);
    return best;
}

enum { GRID = 41 };

START_TEST(two_flows_beat_a_grid)
{
    static const double limits[] = {30, 5, 1.2};
    unsigned i;

    for (i = 0; i < 3; i++) {
        dregs_varied varied[2] = {vary("one", "flow", 0.05 * LPH, 500 * LPH),
                                  vary("two", "flow", 0.05 * LPH, 500 * LPH)};
        dregs_sized sized;
        double at[2], grid;
        two_rinses(limits[i], 0, 0);
        grid = best_of_grid(varied, GRID, 0, at);
        size_text(text.bytes, varied, 2, 0, &sized);
        ck_assert(sized.feasible);
        ck_assert_double_le(standing_of(sized.text, ever).excess, 1);
        ck_assert_msg(sized.use.bought <= grid * 1.005, "%g mg/m2: %g L, a grid finds %g L",
                      limits[i], sized.use.bought * 1e3, grid * 1e3);
        ck_assert_double_gt(sized.standing.excess, 0.999); /* no liquid given away */
        dregs_sized_clear(&sized);
    }
}
END_TEST

START_TEST(a_whole_number_and_a_flow_beat_a_grid)
{
    static const double limits[] = {30, 5};
    unsigned i;

    for (i = 0; i < 2; i++) {
        dregs_varied varied[2] = {vary("one", "dump every", 1, 41),
                                  vary("two", "flow", 0.05 * LPH, 500 * LPH)};
        dregs_sized sized;
        double at[2], grid;
        two_rinses(limits[i], 0, 0);
        /* the first rinse is dumped only */
        memcpy(strstr(text.bytes, "one,flow,5"), "one,flow,0", 10);
        grid = best_of_grid(varied, GRID, 0, at);
        size_text(text.bytes, varied, 2, 0, &sized);
        ck_assert(sized.feasible);
        ck_assert_double_eq(sized.value[0], floor(sized.value[0]));
        ck_assert_double_le(standing_of(sized.text, ever).excess, 1);
        ck_assert_msg(sized.use.bought <= grid * 1.005, "%g mg/m2: %g L, a grid finds %g L",
                      limits[i], sized.use.bought * 1e3, grid * 1e3);
        dregs_sized_clear(&sized);
    }
}
END_TEST

START_TEST(prices_move_the_answer)
{
    dregs_varied varied[2] = {vary("one", "flow", 0.05 * LPH, 500 * LPH),
                              vary("two", "flow", 0.05 * LPH, 500 * LPH)};
    dregs_sized liquid, cost;
    double at[2], grid;

    two_rinses(5, 2, 60); /* the second rinse's water is dear */
    grid = best_of_grid(varied, GRID, 1, at);
    size_text(text.bytes, varied, 2, 0, &liquid);
    size_text(text.bytes, varied, 2, 1, &cost);
    ck_assert(liquid.feasible && cost.feasible);
    ck_assert_double_le(cost.use.cost, grid * 1.005);
    ck_assert_double_lt(cost.use.cost, liquid.use.cost * 0.99);
    ck_assert_double_gt(cost.use.bought, liquid.use.bought * 1.01);
    ck_assert_double_gt(cost.value[0], liquid.value[0] * 1.01); /* more of the cheap one */
    ck_assert_double_lt(cost.value[1], liquid.value[1] * 0.99);
    dregs_sized_clear(&liquid);
    dregs_sized_clear(&cost);
}
END_TEST

START_TEST(ends_that_bind_are_told)
{
    dregs_varied varied[2] = {vary("one", "flow", 0.05 * LPH, 2 * LPH),
                              vary("two", "flow", 0.05 * LPH, 500 * LPH)};
    dregs_sized sized;

    two_rinses(5, 2, 60); /* by cost more than 2 L/h of the cheap water would be best */
    size_text(text.bytes, varied, 2, 1, &sized);
    ck_assert(sized.feasible && sized.at_high[0] && !sized.at_low[0]);
    ck_assert(!sized.at_high[1] && !sized.at_low[1]);
    ck_assert_near(sized.value[0], 2 * LPH, 1e-6, "the end");
    dregs_sized_clear(&sized);
    varied[0] = vary("one", "flow", 40 * LPH, 500 * LPH);
    two_rinses(5, 0, 0);
    size_text(text.bytes, varied, 2, 0, &sized);
    ck_assert(sized.feasible && sized.at_low[0] && !sized.at_high[0]);
    dregs_sized_clear(&sized);
}
END_TEST

/* ---- (g) liquid use ---- */

/* 1 m2 in 6 min: a flow of 10 L/h is 1 L per load; films of 1 mm are 1 L. */
static void begin_use(void)
{
    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,6,min\n"
              "salt,kind,solute,\nbrine,kind,liquid,\nbrine,solvent,water,\nbrine,salt,1,g/L\n"
              "brine,price,2,EUR/L\nbrine,disposal,3,EUR/L\n"
              "water,kind,liquid,\nwater,solvent,water,\nwater,price,0.5,EUR/L\n"
              "water,disposal,0.25,EUR/L\n");
}

static void add_tank(const char *name, const char *kind, const char *liquid, double volume,
                     double film_mm)
{
    lines_say(&text, "%s,kind,%s,\n%s,volume,%.17g,L\n%s,liquid,%s,\n%s,film,%.17g,mm\n", name,
              kind, name, volume, name, liquid, name, film_mm);
}

/* Litres per load; bought and cost are checked against them. */
struct litres {
    double flow, top_up, sprayed, refilled, to_drain, dumped, evaporated, dried, cost;
};

static void uses(const struct litres *expected)
{
    dregs_line *line = lines_read(text.bytes);
    dregs_use use;

#define SAME(field)                                                                                \
    ck_assert_msg(fabs(use.field * 1e3 - expected->field) <= 1e-12,                                \
                  #field ": %.17g L per load, by hand %.17g", use.field * 1e3, expected->field)
    dregs_line_use(line, &use);
    SAME(flow);
    SAME(top_up);
    SAME(sprayed);
    SAME(refilled);
    SAME(to_drain);
    SAME(dumped);
    SAME(evaporated);
    SAME(dried);
#undef SAME
    ck_assert_double_eq_tol(
        use.bought * 1e3,
        expected->flow + expected->top_up + expected->sprayed + expected->refilled, 1e-12);
    if (isnan(expected->cost))
        ck_assert_double_nan(use.cost);
    else
        ck_assert_double_eq_tol(use.cost, expected->cost, 1e-12);
    lines_free(line);
}

START_TEST(liquid_by_hand_counterflow)
{
    /* The bath loses 1 L with each load: 1 L of brine. The rinses gain and lose 1 L of film; 20
     * L/h are 2 L per load and all reach the drain. The oven dries the last film of 1 L. */
    const struct litres expected = {2, 1, 0, 0, 2, 0, 0, 1, 1 * 2 + 2 * 0.5 + 2 * 0.25};

    begin_use();
    add_tank("bath", "wash", "brine", 50, 1);
    add_tank("one", "rinse", "water", 20, 1);
    add_tank("two", "rinse", "water", 20, 1);
    lines_say(&text, "two,flow,20,L/h\ntwo,overflow to,one,\n"
                     "oven,kind,dry,\noven,temperature,60,degC\n");
    uses(&expected);
}
END_TEST

START_TEST(liquid_by_hand_evaporation_and_top_up)
{
    /* The bath loses 1 L of film and 30 L/h = 3 L to the air, and draws these 4 L from the rinse.
     * That gains 1 L and loses 0.5 L of film, is fed 1 L and gives 4 L: 2.5 L short, from the tap.
     * Air dries 0.5 L. */
    const struct litres expected = {1, 2.5, 0, 0, 0, 0, 3, 0.5, 3.5 * 0.5};

    begin_use();
    add_tank("bath", "wash", "brine", 50, 1);
    add_tank("one", "rinse", "water", 20, 0.5);
    lines_say(&text, "one,flow,10,L/h\nbath,evaporation,30,L/h\nbath,top up from,one,\n"
                     "oven,kind,dry,\noven,temperature,60,degC\n");
    uses(&expected);
}
END_TEST

START_TEST(liquid_by_hand_sprays)
{
    /* One spray takes 1 L of film, sprays 4 L, leaves 0.25 L: 4.75 L run off into the bath, which
     * loses 1 L of film: 3.75 L of brine to the drain. The other sprays 2 L onto 0.25 L and leaves
     * 0.5 L: 1.75 L to the drain. 0.5 L leave the line wet. */
    const struct litres expected = {0, 0, 6, 0, 5.5, 0, 0, 0.5, 6 * 0.5 + 3.75 * 3 + 1.75 * 0.25};

    begin_use();
    add_tank("bath", "wash", "brine", 50, 1);
    lines_say(&text, "jet,kind,spray,\njet,liquid,water,\njet,use,4,L\njet,film,0.25,mm\n"
                     "jet,runoff to,bath,\n"
                     "fan,kind,spray,\nfan,liquid,water,\nfan,use,2,L\nfan,film,0.5,mm\n");
    uses(&expected);
}
END_TEST

START_TEST(liquid_by_hand_dried_between)
{
    /* The film of the bath dries, the rinse starts with nothing and gives 0.4 L. */
    const struct litres expected = {0, 1.4, 0, 0, 0, 0, 0, 1.4, NAN};

    begin_use();
    {
        char *price = strstr(text.bytes, "brine,price");
        *price = '\0'; /* no prices at all */
        text.used = (size_t)(price - text.bytes);
        lines_say(&text, "water,kind,liquid,\nwater,solvent,water,\n");
    }
    add_tank("bath", "wash", "brine", 50, 1);
    lines_say(&text, "air,kind,dry,\nair,temperature,60,degC\n");
    add_tank("one", "rinse", "water", 20, 0.4);
    uses(&expected);
}
END_TEST

/* Stages without a film would need no liquid between dumps; these films are all alike, and what
 * the first one loses is 1 L of its own liquid. */
START_TEST(liquid_by_hand_dumps)
{
    struct litres expected = {0, 1, 0, 0, 0, 0, 0, 1, 0};

    /* passed on: every 4 loads 20 L are dumped, 20 L come from the next, filled afresh */
    begin_use();
    add_tank("one", "rinse", "water", 20, 1);
    add_tank("two", "rinse", "water", 20, 1);
    lines_say(&text, "one,dump every,4,1\none,refill from,two,\n");
    expected.refilled = expected.dumped = 5;
    expected.cost = 0.5 + 5 * 0.5 + 5 * 0.25;
    uses(&expected);

    /* Unequal, at different loads, in 6: one (10 L, every 2) from two (20 L, every 3) from three
     * (30 L). After 2 and 4: 10 L out, 10 L through the chain. After 3: 20 L out and in. After 6:
     * one gives 10 L and takes 10 of two's 20 L; the other 10 L of two are dumped; 20 L in. */
    begin_use();
    add_tank("one", "rinse", "water", 10, 1);
    add_tank("two", "rinse", "water", 20, 1);
    add_tank("three", "rinse", "water", 30, 1);
    lines_say(&text, "one,dump every,2,1\none,refill from,two,\n"
                     "two,dump every,3,1\ntwo,refill from,three,\n");
    expected.refilled = expected.dumped = (10 + 10 + 20 + 20) / 6.0;
    expected.cost = 0.5 + 10 * 0.75;
    uses(&expected);

    /* The giver stands before the taker and is dumped before: its fresh 20 L are taken, and made
     * up in turn. Of brine: 20 L in every 5, of which 15 L for the rinse in every 10. */
    begin_use();
    add_tank("bath", "wash", "brine", 20, 1);
    add_tank("rinse", "rinse", "water", 15, 1);
    lines_say(&text, "bath,dump every,5,1\nrinse,dump every,10,1\nrinse,refill from,bath,\n");
    expected.refilled = 20 / 5.0 + 15 / 10.0;
    expected.dumped = 20 / 5.0 + 15 / 10.0;
    expected.cost = 2 + 2 * 5.5 + 3 * 4 + 0.25 * 1.5;
    uses(&expected);
}
END_TEST

START_TEST(what_comes_in_goes_out)
{
    unsigned number;

    for (number = 0; number < 600; number++) {
        dregs_line *line = lines_random(number, &text, NULL);
        dregs_use use;
        double in, out;
        dregs_line_use(line, &use);
        in = use.flow + use.top_up + use.sprayed + use.refilled;
        out = use.to_drain + use.dumped + use.evaporated + use.dried;
        ck_assert_msg(fabs(in - out) <= 1e-12 * in, "line %u: %.17g in, %.17g out\n%s", number, in,
                      out, text.bytes);
        ck_assert_double_eq_tol(in, use.bought, 1e-12 * in);
        ck_assert(use.flow >= 0 && use.top_up >= 0 && use.to_drain >= 0 && use.dumped >= 0);
        ck_assert_double_nan(use.cost);
        lines_free(line);
    }
}
END_TEST

/* ---- (h) a line's text ---- */

#define HEAD                                                                                       \
    "rack,kind,load\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,6,min\n"                        \
    "salt,kind,solute\nwater,kind,liquid\nwater,solvent,water\n"
#define HEADER "item,property,value,unit,spread,note\n"

static void set_gives(const char *before, const dregs_new_row *rows, size_t count,
                      const char *after)
{
    dregs_line *line = lines_read(before), *again;
    char *got = NULL;
    size_t length = 0;

    ck_assert_int_eq(dregs_edit_set(line, rows, count, &got, &length), DREGS_OK);
    ck_assert_str_eq(got, after);
    ck_assert_uint_eq(length, strlen(after));
    again = lines_read(got); /* and it is a line file */
    lines_free(again);
    dregs_edit_free(got);
    lines_free(line);
}

#define FLOW(value, unit)                                                                          \
    {                                                                                              \
        "r", "flow", value, unit, NULL                                                             \
    }

START_TEST(a_value_set_leaves_all_else)
{
    static const dregs_new_row flow[] = {FLOW("7.5", "L/h")}, other[] = {FLOW("2", "L/min")};

    set_gives(HEADER "# a comment, with a comma and a \"quote\n\n" HEAD
                     "r,kind,rinse,,,\"a note, quoted\"\n  \nr,volume,20,L\nr,liquid,water\n"
                     "# before\nr,flow,9,L/h,5%,\"said \"\"so\"\", twice\"\n# behind\n"
                     "r,film,20,um,,\"two\nlines\"\n# the end",
              flow, 1,
              HEADER "# a comment, with a comma and a \"quote\n\n" HEAD
                     "r,kind,rinse,,,\"a note, quoted\"\n  \nr,volume,20,L\nr,liquid,water\n"
                     "# before\nr,flow,7.5,L/h,5%,\"said \"\"so\"\", twice\"\n# behind\n"
                     "r,film,20,um,,\"two\nlines\"\n# the end");
    /* a spread in the row's unit stays with the unit, and goes with it; one in % stays */
    set_gives(HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,9,L/h,0.5,n\n"
                          "r,film,20,um\n",
              flow, 1,
              HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,7.5,L/h,0.5,n\n"
                          "r,film,20,um\n");
    set_gives(HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,9,L/h,0.5,n\n"
                          "r,film,20,um\n",
              other, 1,
              HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,2,L/min,,n\n"
                          "r,film,20,um\n");
    set_gives(HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,9,L/h,5%,n\n"
                          "r,film,20,um\n",
              other, 1,
              HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,2,L/min,5%,n\n"
                          "r,film,20,um\n");
}
END_TEST

START_TEST(a_row_is_added_below_its_item)
{
    static const dregs_new_row flow[] = {FLOW("7.5", "L/h")};
    static const dregs_new_row two[] = {{"r", "dump every", "8", "", "a, note"},
                                        {"rack", "hold-up", "1", "mL", NULL}};

    set_gives(
        HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,film,20,um,,\"two\nlines\"\n"
                    "# behind\n",
        flow, 1,
        HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,film,20,um,,\"two\nlines\"\n"
                    "r,flow,7.5,L/h,,\n# behind\n");
    /* no end of line in the last row */
    set_gives("item,property,value,unit\n" HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\n"
              "r,film,20,um",
              flow, 1,
              "item,property,value,unit\n" HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\n"
              "r,film,20,um\nr,flow,7.5,L/h\n");
    set_gives(HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,film,20,um", two, 2,
              HEADER "rack,kind,load\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,6,min\n"
                     "rack,hold-up,1,mL,,\nsalt,kind,solute\nwater,kind,liquid\n"
                     "water,solvent,water\nr,kind,rinse\nr,volume,20,L\nr,liquid,water\n"
                     "r,film,20,um\nr,dump every,8,,,\"a, note\"\n");
}
END_TEST

START_TEST(the_last_row_without_an_end_of_line_is_set)
{
    static const dregs_new_row flow[] = {FLOW("7.5", "L/h")};

    set_gives("item,property,value,unit\n" HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\n"
              "r,film,20,um\nr,flow,9,L/h",
              flow, 1,
              "item,property,value,unit\n" HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\n"
              "r,film,20,um\nr,flow,7.5,L/h\n");
}
END_TEST

START_TEST(other_systems_and_other_columns)
{
    static const dregs_new_row flow[] = {FLOW("7.5", "L/h")};
    static const dregs_new_row dump[] = {{"r", "dump every", "8", NULL, "x"}};

    set_gives("\xEF\xBB\xBFitem,property,value,unit\r\nrack,kind,load\r\nrack,parts,1,1\r\n"
              "rack,area,1,m2\r\nrack,interval,6,min\r\nwater,kind,liquid\r\n"
              "water,solvent,water\r\nsalt,kind,solute\r\nr,kind,rinse\r\nr,flow,9,L/h\r\n"
              "r,volume,20,L\r\nr,liquid,water\r\nr,film,20,um\r\n",
              flow, 1,
              "\xEF\xBB\xBFitem,property,value,unit\r\nrack,kind,load\r\nrack,parts,1,1\r\n"
              "rack,area,1,m2\r\nrack,interval,6,min\r\nwater,kind,liquid\r\n"
              "water,solvent,water\r\nsalt,kind,solute\r\nr,kind,rinse\r\nr,flow,7.5,L/h\r\n"
              "r,volume,20,L\r\nr,liquid,water\r\nr,film,20,um\r\n");
    set_gives("unit,note,value,item,property\n,,load,rack,kind\n1,,1,rack,parts\n"
              "m2,,1,rack,area\nmin,,6,rack,interval\n,,liquid,water,kind\n"
              ",,water,water,solvent\n,,solute,salt,kind\n,,rinse,r,kind\nL/h,why,9,r,flow\n"
              "L,,20,r,volume\n,,water,r,liquid\num,,20,r,film\n",
              flow, 1,
              "unit,note,value,item,property\n,,load,rack,kind\n1,,1,rack,parts\n"
              "m2,,1,rack,area\nmin,,6,rack,interval\n,,liquid,water,kind\n"
              ",,water,water,solvent\n,,solute,salt,kind\n,,rinse,r,kind\nL/h,why,7.5,r,flow\n"
              "L,,20,r,volume\n,,water,r,liquid\num,,20,r,film\n");
    set_gives("unit,note,value,item,property\n,,load,rack,kind\n1,,1,rack,parts\n"
              "m2,,1,rack,area\nmin,,6,rack,interval\n,,liquid,water,kind\n"
              ",,water,water,solvent\n,,solute,salt,kind\n,,rinse,r,kind\n"
              "L,,20,r,volume\n,,water,r,liquid\num,,20,r,film\n",
              dump, 1,
              "unit,note,value,item,property\n,,load,rack,kind\n1,,1,rack,parts\n"
              "m2,,1,rack,area\nmin,,6,rack,interval\n,,liquid,water,kind\n"
              ",,water,water,solvent\n,,solute,salt,kind\n,,rinse,r,kind\n"
              "L,,20,r,volume\n,,water,r,liquid\num,,20,r,film\n,x,8,r,dump every\n");
}
END_TEST

START_TEST(items_taken_out_and_put_in)
{
    static const char *const drop[] = {"a", "b"}, *const nothing[] = {"nobody"};
    static const dregs_new_row rows[] = {{"c, d", "kind", "rinse", "", NULL},
                                         {"c, d", "volume", "20", "L", "made"},
                                         {"c, d", "liquid", "water", NULL, NULL},
                                         {"c, d", "film", "20", "um", NULL}};
    static const dregs_new_row unknown[] = {{"nobody", "flow", "1", "L/h", NULL}};
    static const char before[] =
        HEADER HEAD "w,kind,wash\nw,volume,20,L\nw,top up from,a,,,\"goes\ntoo\"\n# kept\n"
                    "w,liquid,water\nw,film,20,um\n"
                    "a,kind,rinse\n# of a, kept\na,volume,20,L\na,liquid,water\na,film,20,um\n"
                    "b,kind,rinse\nb,volume,20,L\nb,liquid,water\nb,film,20,um\n"
                    "b,overflow to,a\ns,kind,spray\ns,liquid,water\ns,use,1,L\ns,runoff to,b\n"
                    "s,film,20,um";
    static const char after[] =
        HEADER HEAD "w,kind,wash\nw,volume,20,L\n# kept\nw,liquid,water\nw,film,20,um\n"
                    "\"c, d\",kind,rinse,,,\n\"c, d\",volume,20,L,,made\n"
                    "\"c, d\",liquid,water,,,\n\"c, d\",film,20,um,,\n"
                    "# of a, kept\ns,kind,spray\ns,liquid,water\ns,use,1,L\ns,film,20,um";
    dregs_line *line = lines_read(before);
    char *got = NULL;
    size_t length;

    ck_assert_int_eq(dregs_edit_replace(line, drop, 2, rows, 4, &got, &length), DREGS_OK);
    ck_assert_str_eq(got, after);
    ck_assert_uint_eq(length, strlen(after));
    lines_free(lines_read(got));
    dregs_edit_free(got);
    ck_assert_int_eq(dregs_edit_replace(line, nothing, 1, rows, 4, &got, &length), DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_edit_set(line, unknown, 1, &got, &length), DREGS_UNKNOWN);
    lines_free(line);
}
END_TEST

/* Every row of a random line set to what it says already: the rows stay what they are. */
START_TEST(random_lines_set_to_themselves)
{
    unsigned number, i;

    for (number = 0; number < 40; number++) {
        dregs_line *line = lines_random(number, &text, NULL);
        for (i = 1; i <= dregs_line_rows(line); i++) {
            const dregs_row *row = dregs_line_row(line, i);
            dregs_new_row same = {row->item, row->property, row->value, row->unit, NULL};
            char *got = NULL;
            size_t length;
            ck_assert_int_eq(dregs_edit_set(line, &same, 1, &got, &length), DREGS_OK);
            ck_assert_str_eq(got, text.bytes);
            dregs_edit_free(got);
        }
        lines_free(line);
    }
}
END_TEST

/* ---- (i) layouts ---- */

/* A bath, a spray, two rinses that differ, an oven; `extra` rows behind. */
static void begin_layouts(const char *wash, const char *extra)
{
    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,10,1\nrack,area,1,dm2\nrack,interval,5,min\n"
              "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
              "strong,salt,20,g/L\ndi,kind,liquid,\ndi,solvent,water,\ndi,salt,1,mg/L\n"
              "%s,kind,wash,\n%s,volume,50,L\n%s,liquid,strong,\n%s,film,60,um\n"
              "jet,kind,spray,\njet,liquid,di,\njet,use,1,L\njet,film,50,um\n"
              "first,kind,rinse,\nfirst,volume,33,L\nfirst,liquid,di,\nfirst,film,44,um\n"
              "final,kind,rinse,\nfinal,volume,22,L\nfinal,liquid,di,\nfinal,film,40,um\n"
              "final,flow,10,L/h\nfinal,overflow to,first,\nfinal,exchange,90,%%\n"
              "final,dump every,30,1\n"
              "%soven,kind,dry,\noven,temperature,70,degC\n"
              "limit,kind,target,\nlimit,residue,5,mg/m2\n",
              wash, wash, wash, wash, extra);
}

static const char *stage_name(const dregs_line *line, int stage)
{
    return stage < 0 ? "" : dregs_line_stage(line, (unsigned)stage)->name;
}

static void check_layout(const dregs_line *made, dregs_layout layout, unsigned n)
{
    unsigned k, first = 1;

    ck_assert_uint_eq(dregs_line_stages(made), n + 2);
    for (k = 0; k < n; k++) {
        const dregs_stage *stage = dregs_line_stage(made, first + k);
        int last = k + 1 == n;
        ck_assert_int_eq(stage->kind, layout == DREGS_SPRAYED ? DREGS_SPRAY : DREGS_RINSE);
        ck_assert_near(dregs_line_carried(made, first + k)->thickness, 40e-6, 1e-12, "film");
        ck_assert_str_eq(dregs_line_fluid(made, stage->liquid.index)->name, "di");
        if (layout == DREGS_SPRAYED) {
            ck_assert_double_gt(stage->use.si, 0);
            continue;
        }
        ck_assert_near(stage->volume.si, 22e-3, 1e-12, "volume");
        ck_assert_int_eq(stage->dump_every.row != 0,
                         layout == DREGS_DUMPED || layout == DREGS_PASSED_DOWN);
        ck_assert_near(stage->exchange.si, 0.9, 1e-12, "exchange");
        if (layout == DREGS_COUNTERFLOW || layout == DREGS_RECOVERY) {
            ck_assert_int_eq(stage->flow.si > 0, last);
            ck_assert_int_eq(stage->overflow_to.kind, k ? DREGS_LINK_STAGE : DREGS_LINK_DRAIN);
            if (k)
                ck_assert_uint_eq(stage->overflow_to.index, first + k - 1);
        } else {
            ck_assert_int_eq(stage->overflow_to.kind, DREGS_LINK_DRAIN);
        }
        if (layout == DREGS_SEPARATE) {
            ck_assert_double_gt(stage->flow.si, 0);
            ck_assert_double_eq(stage->flow.si, dregs_line_stage(made, first)->flow.si);
        }
        if (layout == DREGS_DUMPED || layout == DREGS_PASSED_DOWN) {
            ck_assert_double_eq(stage->flow.si, 0);
            ck_assert_int_eq(stage->refill_from.kind == DREGS_LINK_STAGE,
                             layout == DREGS_PASSED_DOWN && !last);
            if (layout == DREGS_PASSED_DOWN && !last)
                ck_assert_uint_eq(stage->refill_from.index, first + k + 1);
        }
        if (layout == DREGS_DUMPED)
            ck_assert_double_eq(stage->dump_every.si, dregs_line_stage(made, first)->dump_every.si);
    }
    if (layout == DREGS_DUMPED || layout == DREGS_PASSED_DOWN)
        ck_assert(dregs_line_stage(made, first)->dump_every.row);
    if (layout == DREGS_RECOVERY) {
        ck_assert_int_eq(dregs_line_stage(made, 0)->top_up_from.kind, DREGS_LINK_STAGE);
        ck_assert_uint_eq(dregs_line_stage(made, 0)->top_up_from.index, first);
    } else {
        ck_assert_int_eq(dregs_line_stage(made, 0)->top_up_from.kind, DREGS_LINK_LIQUID);
    }
    ck_assert_str_eq(stage_name(made, (int)n + 1), "oven");
}

START_TEST(layouts_are_what_they_are_called)
{
    unsigned n;
    int layout, feasible = 0;

    begin_layouts("bath", "bath,overflow to,first,\n");
    for (layout = 0; layout < DREGS_LAYOUTS; layout++)
        for (n = 1; n <= 6; n++) {
            dregs_line *line = lines_read(text.bytes), *made;
            dregs_varied varied;
            dregs_sized sized;
            memset(&sized, 0, sizeof sized);
            ck_assert_msg(
                !dregs_size_layout(line, (dregs_layout)layout, n, ever, &varied, &sized, message),
                "%s %u: %s", dregs_layout_name((dregs_layout)layout), n, message);
            ck_assert_str_eq(varied.property,
                             layout == DREGS_SPRAYED                                 ? "use"
                             : layout == DREGS_DUMPED || layout == DREGS_PASSED_DOWN ? "dump every"
                                                                                     : "flow");
            made = lines_read(sized.text);
            check_layout(made, (dregs_layout)layout, n);
            if (sized.feasible) {
                ck_assert_double_le(standing_of(sized.text, ever).excess, 1);
                feasible++;
            }
            ck_assert(!strstr(sized.text, "first") && !strstr(sized.text, "jet"));
            dregs_sized_clear(&sized);
            lines_free(made);
            lines_free(line);
        }
    /* A tenth of the film passes each rinse by: one leaves 80 mg/m2 of the 800, two leave 8, and
     * only three can leave less than 5. Sprays mix with all of it. */
    ck_assert_int_eq(feasible, 5 * 4 + 6);
    ck_assert_ptr_null(dregs_layout_name(DREGS_LAYOUTS));
}
END_TEST

START_TEST(new_rinses_take_no_name_that_is_there)
{
    dregs_line *line, *made;
    dregs_varied varied;
    dregs_sized sized;
    unsigned i;

    begin_layouts("rinse 2", "");
    line = lines_read(text.bytes);
    memset(&sized, 0, sizeof sized);
    ck_assert_int_eq(dregs_size_layout(line, DREGS_COUNTERFLOW, 3, ever, &varied, &sized, message),
                     DREGS_OK);
    made = lines_read(sized.text);
    ck_assert_uint_eq(dregs_line_stages(made), 5);
    ck_assert_str_eq(stage_name(made, 0), "rinse 2");
    for (i = 1; i <= 3; i++)
        ck_assert_str_ne(stage_name(made, (int)i), "rinse 2");
    lines_free(made);
    lines_free(line);
    dregs_sized_clear(&sized);
}
END_TEST

static void layout_refused(dregs_layout layout, unsigned stages, dregs_status expected,
                           const char *said)
{
    dregs_line *line = lines_read(text.bytes);
    dregs_varied varied;
    dregs_sized sized;

    memset(&sized, 0, sizeof sized);
    ck_assert_int_eq(dregs_size_layout(line, layout, stages, ever, &varied, &sized, message),
                     expected);
    ck_assert_msg(strstr(message, said) != NULL, "'%s' lacks '%s'", message, said);
    ck_assert_ptr_null(sized.text);
    dregs_sized_clear(&sized);
    lines_free(line);
}

START_TEST(lines_that_cannot_be_arranged)
{
    static const char tail[] = "limit,kind,target,\nlimit,residue,2,mg/m2\n";
    char *at;

    begin_layouts("bath", "");
    layout_refused(DREGS_COUNTERFLOW, 0, DREGS_DOMAIN, "");
    layout_refused(DREGS_COUNTERFLOW, 21, DREGS_DOMAIN, "");
    layout_refused(DREGS_LAYOUTS, 2, DREGS_DOMAIN, "");
    begin_layouts("bath", "again,kind,rinse,\nagain,shares tank with,bath,\nagain,film,40,um\n");
    layout_refused(DREGS_COUNTERFLOW, 2, DREGS_UNKNOWN, "shares a tank");
    begin_layouts("bath", "");
    at = strstr(text.bytes, "jet,kind"); /* no rinse at all */
    *at = '\0';
    text.used = (size_t)(at - text.bytes);
    lines_say(&text, "%s", tail);
    layout_refused(DREGS_SEPARATE, 2, DREGS_UNKNOWN, "no rinse");
    begin_layouts("bath", ""); /* a spray only */
    at = strstr(text.bytes, "first,kind");
    *at = '\0';
    text.used = (size_t)(at - text.bytes);
    lines_say(&text, "%s", tail);
    layout_refused(DREGS_SEPARATE, 2, DREGS_UNKNOWN, "no rinse");
    begin_layouts("bath", ""); /* no wash */
    memcpy(strstr(text.bytes, "bath,kind,wash"), "bath,kind,dry ", 14);
    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,10,1\nrack,area,1,dm2\nrack,interval,5,min\n"
              "salt,kind,solute,\nsalt,on parts,1,mg\ndi,kind,liquid,\ndi,solvent,water,\n"
              "one,kind,rinse,\none,volume,20,L\none,liquid,di,\none,film,40,um\n"
              "one,removal,99.99,%%\n%s",
              tail);
    layout_refused(DREGS_RECOVERY, 2, DREGS_UNKNOWN, "wash");
}
END_TEST

static Suite *suite(void)
{
    const struct {
        const char *name;
        const TTest *tests[16];
    } cases[] = {
        {"one property",
         {answers_put_back_just_meet_the_target, any_range_is_searched_as_finely,
          more_is_needed_for_more}},
        {"counterflow",
         {counterflow_is_the_series, one_rinse_exactly, rules_of_thumb_in_print,
          counterflow_water_in_print, a_year_of_water_in_print}},
        {"not possible, not needed, not allowed",
         {what_cannot_be_rinsed_away, the_limit_that_binds_is_named, a_target_met_throughout,
          refusals_give_the_choices}},
        {"several properties",
         {two_flows_beat_a_grid, a_whole_number_and_a_flow_beat_a_grid, prices_move_the_answer,
          ends_that_bind_are_told}},
        {"liquid use",
         {liquid_by_hand_counterflow, liquid_by_hand_evaporation_and_top_up, liquid_by_hand_sprays,
          liquid_by_hand_dried_between, liquid_by_hand_dumps, what_comes_in_goes_out}},
        {"text",
         {a_value_set_leaves_all_else, a_row_is_added_below_its_item,
          the_last_row_without_an_end_of_line_is_set, other_systems_and_other_columns,
          items_taken_out_and_put_in, random_lines_set_to_themselves}},
        {"layouts",
         {layouts_are_what_they_are_called, new_rinses_take_no_name_that_is_there,
          lines_that_cannot_be_arranged}},
    };
    Suite *s = suite_create("size");
    size_t i, k;

    for (i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        TCase *c = tcase_create(cases[i].name);
        tcase_set_timeout(c, 120);
        suite_add_tcase(s, c);
        for (k = 0; k < 16 && cases[i].tests[k]; k++)
            tcase_add_test(c, cases[i].tests[k]);
    }
    return s;
}

int main(void)
{
    gsl_set_error_handler_off();
    return run(suite());
}
