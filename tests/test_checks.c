/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_checks.c: published values, each reached through a line file and the library. The expected
 * values, their tolerances and sources stand in tests/checks.csv and are read from there.
 */
#include "check_main.h"
#include "dregs/csv.h"
#include "dregs/dry.h"
#include "dregs/law.h"
#include "dregs/limits.h"
#include "dregs/meter.h"
#include "dregs/mixture.h"
#include "dregs/number.h"
#include "dregs/residue.h"
#include "dregs/unit.h"
#include "line/line.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

/* ---- the file of checks ---- */

enum { ROWS_MOST = 300, CELLS = 8, CELL_ROOM = 240 };
enum { ID, TOPIC, INPUTS, EXPECTED, UNIT, TOLERANCE, SOURCE, EVIDENCE };

static char cells[ROWS_MOST][CELLS][CELL_ROOM];
static unsigned row_count;
static struct lines_text text;

static dregs_status take(void *user, const dregs_csv_row *row, dregs_faults *faults)
{
    unsigned i;

    (void)user;
    ck_assert_uint_eq(row->count, CELLS);
    ck_assert_uint_lt(row_count, ROWS_MOST);
    for (i = 0; i < CELLS; i++) {
        ck_assert_uint_lt(strlen(row->cell[i]), CELL_ROOM);
        ck_assert_msg(*row->cell[i], "line %lu of checks.csv: cell %u is empty", row->line, i + 1);
        strcpy(cells[row_count][i], row->cell[i]);
    }
    row_count++;
    (void)faults;
    return DREGS_OK;
}

static void setup(void)
{
    const char *source = getenv("DREGS_SOURCE");
    char path[4096], bytes[65536];
    size_t length;
    FILE *file;
    dregs_csv *csv = dregs_csv_new(take, NULL, NULL);

    snprintf(path, sizeof path, "%s/tests/checks.csv", source ? source : ".");
    file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "cannot read %s", path);
    length = fread(bytes, 1, sizeof bytes, file);
    ck_assert_uint_lt(length, sizeof bytes);
    fclose(file);
    row_count = 0;
    ck_assert_int_eq(dregs_csv_feed(csv, bytes, length), DREGS_OK);
    ck_assert_int_eq(dregs_csv_end(csv), DREGS_OK);
    dregs_csv_free(csv);
    ck_assert_str_eq(cells[0][SOURCE], "source");
}

/* The rows of an id, "R06": "R06.1", "R06.2", ... Row 0 is the header. */
static unsigned row_of(const char *id, unsigned number)
{
    char whole[CELL_ROOM];
    unsigned i;

    snprintf(whole, sizeof whole, "%s.%u", id, number);
    for (i = 1; i < row_count; i++)
        if (strcmp(cells[i][ID], whole) == 0)
            return i;
    return 0;
}

/* The input of that name, "0.3 L/m2" of "q=0.3 L/m2; K0=700". */
static const char *input(unsigned row, const char *name)
{
    static char found[4][CELL_ROOM];
    static unsigned turn;
    const char *p = cells[row][INPUTS];
    size_t length = strlen(name);
    char *into = found[turn++ % 4];

    while (strncmp(p, name, length) != 0 || p[length] != '=') {
        p = strstr(p, "; ");
        ck_assert_msg(p != NULL, "%s of checks.csv has no input '%s'", cells[row][ID], name);
        p += 2;
    }
    p += length + 1;
    snprintf(into, CELL_ROOM, "%.*s", (int)strcspn(p, ";"), p);
    return into;
}

static int asks(unsigned row, const char *what)
{
    return strcmp(input(row, "asked"), what) == 0;
}

static double leading_number(const char *from)
{
    char word[64];
    double value = NAN;

    snprintf(word, sizeof word, "%.*s", (int)strcspn(from, " "), from);
    ck_assert_msg(!dregs_number_read(word, &value), "'%s' is not a number", word);
    return value;
}

/* An input as a number, in SI where it has a unit. */
static double quantity(unsigned row, const char *name)
{
    const char *whole = input(row, name), *blank = strchr(whole, ' ');
    dregs_unit unit = {1, 0, {{0}}};

    if (blank)
        ck_assert_int_eq(dregs_unit_read(blank + 1, &unit, NULL), DREGS_OK);
    return dregs_unit_to_si(unit, leading_number(whole));
}

/* "value,unit" for a line file */
static const char *as_cells(unsigned row, const char *name)
{
    char *whole = (char *)(uintptr_t)input(row, name), *blank = strchr(whole, ' ');

    if (blank)
        *blank = ',';
    else
        strcat(whole, ",1");
    return whole;
}

/* Where DREGS_CHECKS_OUT names a file, what was got goes there, for dregs-validation(7). */
static void record(unsigned row, const char *got)
{
    const char *name = getenv("DREGS_CHECKS_OUT");
    FILE *file = name ? fopen(name, "a") : NULL;

    if (!file)
        return;
    fprintf(file, "%s,%s\n", cells[row][ID], got);
    fclose(file);
}

/* Holds a value in SI units against the row. */
static void meets(unsigned row, double si)
{
    double expected = leading_number(cells[row][EXPECTED]), tolerance = 0, got;
    char number[DREGS_NUMBER_TEXT];
    dregs_unit unit;

    ck_assert_int_eq(dregs_unit_read(cells[row][UNIT], &unit, NULL), DREGS_OK);
    got = dregs_unit_from_si(unit, si);
    if (strcmp(cells[row][TOLERANCE], "exact") == 0)
        tolerance = 2.3e-16 * expected; /* the unit's scale rounds once */
    else if (strncmp(cells[row][TOLERANCE], "factor ", 7) != 0)
        tolerance = leading_number(cells[row][TOLERANCE]);
    if (strncmp(cells[row][TOLERANCE], "factor ", 7) == 0) {
        tolerance = leading_number(cells[row][TOLERANCE] + 7);
        tolerance = got > expected ? expected * (tolerance - 1) : expected * (1 - 1 / tolerance);
    } else if (strstr(cells[row][TOLERANCE], "relative"))
        tolerance *= fabs(expected);
    if (strstr(cells[row][TOLERANCE], "%"))
        tolerance *= fabs(expected) / 100;
    record(row, dregs_number_exact(number, got));
    ck_assert_msg(fabs(got - expected) <= tolerance, "%s, %s (%s): got %.12g, expected %s %s to %s",
                  cells[row][ID], cells[row][TOPIC], cells[row][SOURCE], got, cells[row][EXPECTED],
                  cells[row][UNIT], cells[row][TOLERANCE]);
}

#define EACH_ROW(row, id)                                                                          \
    for (unsigned number_ = 1, row = row_of(id, 1); row; row = row_of(id, ++number_))

/* How many rows each id has: none may get lost, and none may stand there without a test. */
START_TEST(every_check_is_there)
{
    static const struct {
        const char *id;
        unsigned rows;
    } known[] = {
        {"R01", 1}, {"R02", 2}, {"R03", 1},  {"R04", 3},  {"R05", 2},  {"R06", 9},  {"R07", 3},
        {"R08", 3}, {"R09", 1}, {"R10", 1},  {"R11", 2},  {"R12", 10}, {"F01", 2},  {"F02", 6},
        {"F03", 3}, {"F04", 4}, {"F05", 6},  {"L01", 15}, {"L02", 1},  {"L03", 1},  {"W01", 1},
        {"W02", 2}, {"W03", 3}, {"W04", 8},  {"W05", 11}, {"E01", 3},  {"E02", 5},  {"E03", 3},
        {"E04", 6}, {"E05", 5}, {"E09", 1},  {"T01", 5},  {"T03", 2},  {"C01", 10}, {"C02", 3},
        {"A01", 2}, {"A02", 5}, {"A03", 2},  {"H01", 2},  {"I01", 11}, {"K01", 1},  {"T04", 1},
        {"T05", 1}, {"T07", 1}, {"T08", 2},  {"N01", 3},  {"N02", 2},  {"N03", 3},  {"N04", 1},
        {"N05", 1}, {"H02", 6}, {"V01", 11}, {"T09", 2},  {"T10", 3},  {"T11", 2}};
    unsigned all = 1, i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        ck_assert_msg(row_of(known[i].id, known[i].rows) && !row_of(known[i].id, known[i].rows + 1),
                      "%s has not %u rows", known[i].id, known[i].rows);
        all += known[i].rows;
    }
    ck_assert_uint_eq(all, row_count);
}
END_TEST

/* ---- rinses ---- */

/* A load of 1 m2 with a film of 1 mm, hence D = 1 L from every stage; a bath that keeps its
 * concentration, for what leaves it is made up with the same liquid. */
static void begin_bath(const char *concentration)
{
    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,min\n"
              "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
              "strong,salt,%s\nclean,kind,liquid,\nclean,solvent,water,\n"
              "bath,kind,wash,\nbath,volume,100,L\nbath,liquid,strong,\nbath,film,1,mm\n",
              concentration);
}

/* A clean rinse of `volume` L behind all that the text has. */
static void add_rinse(unsigned number, double volume)
{
    lines_say(&text, "r%u,kind,rinse,\nr%u,volume,%.17g,L\nr%u,liquid,clean,\nr%u,film,1,mm\n",
              number, number, volume, number, number);
}

/* Tank `from` (0: the bath) over last rinse, steady, for `n` counterflow rinses with `ratio` = Q T
 * / D of clean water. A rinse is exchanged by the share `turned` in an interval: the formulas in
 * print are for a continuous drag-out, which is the limit of `turned` to 0. */
static double over_the_last(unsigned from, unsigned n, double ratio, double turned)
{
    dregs_line *line;
    dregs_map *map;
    dregs_state *state;
    double bath, first, last;
    unsigned i;

    begin_bath("10,g/L");
    for (i = 1; i <= n; i++) {
        add_rinse(i, ratio / turned);
        if (i > 1)
            lines_say(&text, "r%u,overflow to,r%u,\n", i, i - 1);
    }
    lines_say(&text, "r%u,flow,%.17g,L/min\n", n, ratio);
    line = lines_read(text.bytes);
    map = lines_map(line);
    state = lines_state(map);
    ck_assert_int_eq(dregs_state_periodic(state), DREGS_OK);
    bath = dregs_state_concentration(state, 0, 0);
    first = dregs_state_concentration(state, 0, from);
    last = dregs_state_concentration(state, 0, n);
    ck_assert_near(bath, 10.0, 1e-12, "the bath");
    dregs_state_free(state);
    dregs_map_free(map);
    lines_free(line);
    return first / last;
}

static double dilution(unsigned n, double ratio, double turned)
{
    return over_the_last(0, n, ratio, turned);
}

#define HARDLY 1e-8 /* turned: as good as continuous, and far from rounding */

static double power_sum(double ratio, unsigned n)
{
    double sum = 1;

    while (n--)
        sum = 1 + ratio * sum;
    return sum;
}

/* The water per drag-out with which the library's line reaches a dilution. */
static double water_for(unsigned n, double wanted)
{
    double low = 1e-3, high = 2 * wanted;
    unsigned i;

    for (i = 0; i < 60 && high / low - 1 > 1e-12; i++) {
        double middle = sqrt(low * high);
        if (dilution(n, middle, HARDLY) < wanted)
            low = middle;
        else
            high = middle;
    }
    return low;
}

START_TEST(single_running_rinses)
{
    unsigned row;

    row = row_of("R01", 1);
    meets(row, dilution(1, quantity(row, "water") / quantity(row, "drag-out"), HARDLY));
    row = row_of("R03", 1);
    meets(row, 1 / dilution(1, quantity(row, "water") / quantity(row, "drag-out"), HARDLY));
    EACH_ROW(i, "R02")
    {
        double got = dilution(1, quantity(i, "water") / quantity(i, "drag-out"), HARDLY);
        meets(i, asks(i, "dilution") ? got : quantity(i, "bath") / got);
    }
}
END_TEST

/* n = 3 is printed as 18, truncated: 1 + R + R^2 + R^3 = 6750 has R = 18.55. */
START_TEST(counterflow_water)
{
    EACH_ROW(row, "R04")
    {
        unsigned n = (unsigned)quantity(row, "n");
        double got = water_for(n, quantity(row, "bath") / quantity(row, "rinse"));
        meets(row, got);
        if (n == 3)
            ck_assert_near(got, 18.55, 3e-4, "18.55^3 + 18.55^2 + 18.55 + 1 = 6747");
    }
}
END_TEST

START_TEST(counterflow_series)
{
    EACH_ROW(row, "R05")
    meets(row, 1 - 1 / dilution((unsigned)quantity(row, "n"), quantity(row, "R"), HARDLY));
}
END_TEST

/* Loads come one by one, and a rinse is cleanest just before the next: the film that leaves holds
 * more than under a continuous drag-out, by less than n Q T / V. */
START_TEST(discrete_loads_carry_more_than_a_continuous_drag_out)
{
    static const double turned[] = {0.03, 1e-3, 1e-5};
    unsigned n, i;

    for (n = 1; n <= 5; n++)
        for (i = 0; i < 3; i++) {
            double excess = power_sum(9.7, n) / dilution(n, 9.7, turned[i]) - 1;
            ck_assert_msg(excess > 0.2 * n * turned[i] && excess < n * turned[i],
                          "%u rinses, %g turned: %g over the formula", n, turned[i], excess);
        }
}
END_TEST

static double film_of(unsigned stage, uint64_t load)
{
    dregs_line *line = lines_read(text.bytes);
    dregs_map *map = lines_map(line);
    dregs_state *state = lines_state(map);
    double got;

    ck_assert_int_eq(dregs_state_before(state, load), DREGS_OK);
    got = dregs_state_concentration(state, 0, stage);
    dregs_state_free(state);
    dregs_map_free(map);
    lines_free(line);
    return got;
}

START_TEST(still_rinses_in_series)
{
    EACH_ROW(row, "R06")
    {
        unsigned k;
        begin_bath("250,g/L");
        for (k = 1; k <= 3; k++)
            add_rinse(k, quantity(row, "V/D")); /* D is 1 L */
        meets(row, film_of((unsigned)quantity(row, "k"), (uint64_t)quantity(row, "j")) / 250);
    }
}
END_TEST

/* The root form takes R^n for the ratio, which leaves out all but the last term of the series. Its
 * water gives 727.46 where 700 was asked for; 48099 L would have done. */
START_TEST(the_root_form_asks_for_too_much)
{
    double area = quantity(row_of("R07", 1), "F"), film = quantity(row_of("R07", 1), "q");
    double asked = quantity(row_of("R07", 1), "K0"), flow;
    dregs_line *line;

    /* a year of 365 days, one load of 1 m2 at a time */
    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,%.17g,d\n"
              "salt,kind,solute,\nclean,kind,liquid,\nclean,solvent,water,\n"
              "r1,kind,rinse,\nr1,volume,100,L\nr1,liquid,clean,\nr1,drag-out,%s\n"
              "r1,flow,%.17g,L/d\n",
              365 / area, as_cells(row_of("R07", 1), "q"), sqrt(asked) * film * area * 1e3 / 365);
    line = lines_read(text.bytes);
    flow = dregs_line_tank(line, 0)->flow * 365 * 86400;
    meets(row_of("R07", 1), flow);
    meets(row_of("R07", 2), dilution(2,
                                     flow / (365 * 86400) * dregs_line_load(line)->interval.si /
                                         dregs_line_carried(line, 0)->out,
                                     HARDLY));
    meets(row_of("R07", 3), water_for(2, asked) * film * area);
    lines_free(line);
}
END_TEST

START_TEST(successive_carries)
{
    EACH_ROW(row, "R08")
    {
        unsigned k;
        begin_bath("10000,mg/L");
        for (k = 1; k <= 3; k++) {
            add_rinse(k, quantity(row, "carry") - 1); /* 1 L carried into 99 */
            lines_say(&text, "r%u,dump every,1,1\n", k);
        }
        ck_assert_double_eq_tol(quantity(row, "bath"), 10, 1e-12);
        for (k = 1; k <= 1000; k += 333) /* every load meets fresh rinses */
            meets(row, film_of((unsigned)quantity(row, "k"), k));
    }
}
END_TEST

/* Before and after the bath: D brings clean liquid in and c out, then the bath's in and c out. With
 * loads one by one c = bath (V+D)/(2V+D), worked out from the two dips. */
START_TEST(a_reclaim_tank_settles_at_half_the_bath)
{
    unsigned row = row_of("R09", 1);
    double v = quantity(row, "V/D"), share;
    dregs_line *line;
    dregs_map *map;
    dregs_state *state;

    begin_bath("200,g/L");
    *strstr(text.bytes, "bath,kind") = '\0'; /* the stages in an order of their own */
    text.used = strlen(text.bytes);
    add_rinse(1, 50); /* leaves the parts wet and clean, so that drag-in equals drag-out */
    add_rinse(2, v);
    lines_say(&text, "bath,kind,wash,\nbath,volume,100,L\nbath,liquid,strong,\nbath,film,1,mm\n"
                     "bath,flow,1000,m3/min\n" /* keeps the bath as it is */
                     "again,kind,rinse,\nagain,shares tank with,r2,\nagain,film,1,mm\n");
    line = lines_read(text.bytes);
    map = lines_map(line);
    state = lines_state(map);
    ck_assert_int_eq(dregs_state_periodic(state), DREGS_OK);
    share = dregs_state_concentration(state, 0, 3) / dregs_state_concentration(state, 0, 2);
    meets(row, share);
    ck_assert_near(share, (v + 1) / (2 * v + 1), 1e-10, "the two dips");
    meets(row_of("N05", 1), share); /* what leaves for the next rinse, of what would without it */
    dregs_state_free(state);
    dregs_map_free(map);
    lines_free(line);
}
END_TEST

START_TEST(cleaner_rinse)
{
    unsigned row = row_of("R10", 1);
    double share = quantity(row, "share");

    begin_bath(as_cells(row, "cleaner"));
    add_rinse(1, (1 - share) / share); /* D / (V + D) = share */
    meets(row, film_of(1, 1));
}
END_TEST

START_TEST(drag_out_from_what_was_added)
{
    unsigned row = row_of("R11", 1);
    double loads = quantity(row, "loads"), bath = quantity(row, "bath");
    dregs_line *line;
    dregs_map *map;
    dregs_totals totals;

    begin_bath(as_cells(row, "bath"));
    lines_say(&text, "rack,hold-up,%.17g,L\n", quantity(row, "drag-out") * 1e3 - 1);
    line = lines_read(text.bytes);
    map = lines_map(line);
    ck_assert_int_eq(dregs_map_totals(map, 0, (uint64_t)loads, &totals), DREGS_OK);
    EACH_ROW(i, "R11")
    meets(i, asks(i, "added") ? totals.fed : totals.fed / bath);
    ck_assert_near(totals.held_last, totals.held_first, 1e-12, "the bath keeps what it has");
    dregs_map_free(map);
    lines_free(line);
}
END_TEST

/* 1000:1 with the root form's water comes out as 1 + R + ... + R^n, above 1000. */
START_TEST(root_form_against_the_series)
{
    EACH_ROW(row, "R12")
    {
        unsigned n = (unsigned)quantity(row, "n");
        double wanted = quantity(row, "r"), root = pow(wanted, 1.0 / n), exact;
        exact = water_for(n, wanted);
        meets(row, asks(row, "R") ? exact : root / exact - 1);
        ck_assert_near(dilution(n, root, HARDLY), power_sum(root, n), 1e-6, "%u rinses", n);
        ck_assert_double_gt(dilution(n, root, HARDLY), wanted);
    }
}
END_TEST

START_TEST(counterflow_further)
{
    EACH_ROW(row, "N01")
    {
        unsigned n = (unsigned)quantity(row, "n");
        if (strstr(cells[row][INPUTS], "asked=")) /* the first tank over the last */
            meets(row, over_the_last(1, n, quantity(row, "R"), HARDLY));
        else
            meets(row, water_for(n, quantity(row, "r")));
    }
}
END_TEST

/* Bath over the last of `n` rinses, each with water of its own. */
static double apart(unsigned n, double ratio)
{
    dregs_line *line;
    dregs_map *map;
    dregs_state *state;
    double got;
    unsigned i;

    begin_bath("10,g/L");
    for (i = 1; i <= n; i++) {
        add_rinse(i, ratio / HARDLY);
        lines_say(&text, "r%u,flow,%.17g,L/min\n", i, ratio);
    }
    line = lines_read(text.bytes);
    map = lines_map(line);
    state = lines_state(map);
    ck_assert_int_eq(dregs_state_periodic(state), DREGS_OK);
    got = dregs_state_concentration(state, 0, 0) / dregs_state_concentration(state, 0, n);
    dregs_state_free(state);
    dregs_map_free(map);
    lines_free(line);
    return got;
}

START_TEST(separate_feeds)
{
    EACH_ROW(row, "N02")
    {
        double low = 1e-3, high = 2000;
        unsigned i;
        for (i = 0; i < 60 && high / low - 1 > 1e-12; i++) {
            double middle = sqrt(low * high);
            if (apart((unsigned)quantity(row, "n"), middle) < quantity(row, "r"))
                low = middle;
            else
                high = middle;
        }
        meets(row, low);
    }
}
END_TEST

START_TEST(still_rinses_further)
{
    EACH_ROW(row, "N03")
    {
        unsigned k;
        begin_bath("250,g/L");
        for (k = 1; k <= 3; k++)
            add_rinse(k, quantity(row, "V/D"));
        meets(row, film_of((unsigned)quantity(row, "k"), (uint64_t)quantity(row, "j")) / 250);
    }
}
END_TEST

/* Sand as a load a second: 4 g of salt on it, a film of 0.2 kg. */
START_TEST(salt_washed_off_sand)
{
    unsigned row = row_of("N04", 1);
    dregs_line *line;
    dregs_map *map;
    dregs_state *state;

    lines_begin(&text);
    lines_say(
        &text,
        "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,s\n"
        "salt,kind,solute,\nsalt,on parts,%.17g,kg\nclean,kind,liquid,\nclean,solvent,water,\n",
        quantity(row, "sand") * quantity(row, "salt"));
    for (unsigned i = 1; i <= 2; i++)
        lines_say(
            &text,
            "r%u,kind,rinse,\nr%u,volume,%.17g,L\nr%u,liquid,clean,\nr%u,drag-out,%.17g,L/m2\n"
            "r%u,removal,100,%%\n",
            i, i, quantity(row, "water") / HARDLY, i, i,
            quantity(row, "sand") * quantity(row, "held"), i);
    lines_say(&text, "r2,overflow to,r1,\nr2,flow,%.17g,L/s\n", quantity(row, "water"));
    line = lines_read(text.bytes);
    map = lines_map(line);
    state = lines_state(map);
    ck_assert_int_eq(dregs_state_periodic(state), DREGS_OK);
    meets(row, dregs_state_concentration(state, 0, 1) * dregs_line_carried(line, 1)->out);
    dregs_state_free(state);
    dregs_map_free(map);
    lines_free(line);
}
END_TEST

/* ---- films ---- */

/* A line of one rinse in a liquid of one's own, whose film is `way`. */
static dregs_line *in_liquid(double density, double viscosity, double tension, const char *load,
                             const char *way)
{
    char own[1024];

    snprintf(own, sizeof own,
             "liquid,property,equation,unit,A,source\nsyrup,density,A,kg/m3,%.17g,test\n"
             "syrup,viscosity,A,Pa.s,%.17g,test\nsyrup,surface tension,A,N/m,%.17g,test\n",
             density, viscosity, tension);
    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,interval,1,min\n%s"
              "salt,kind,solute,\nown,kind,liquid,\nown,solvent,syrup,\n"
              "tank,kind,rinse,\ntank,volume,100,L\ntank,liquid,own,\n%s",
              load, way);
    return lines_read_with(text.bytes, own);
}

/* The library's coefficient is 0.9458, the printed values rest on 0.944: 0.2 % of the film. */
START_TEST(entrained_films)
{
    EACH_ROW(row, "F01")
    {
        char way[200];
        dregs_line *line;
        snprintf(way, sizeof way, "tank,withdrawal speed,%s\n", as_cells(row, "U"));
        line = in_liquid(quantity(row, "density"), quantity(row, "viscosity"),
                         quantity(row, "surface tension"), "rack,area,100,cm2\n", way);
        meets(row, dregs_line_carried(line, 0)->thickness);
        ck_assert_double_eq(dregs_line_carried(line, 0)->thickness,
                            dregs_line_carried(line, 0)->entrained);
        lines_free(line);
    }
}
END_TEST

/* 0.944 Ca^(1/6) = 0.9458 Ca'^(1/6) for Ca' = Ca (0.944/0.9458)^6. */
START_TEST(film_numbers)
{
    EACH_ROW(row, "F02")
    {
        double ca = quantity(row, "Ca"), coefficient = quantity(row, "coefficient"), n;
        char way[200];
        dregs_line *line;
        ck_assert_int_eq(dregs_film_number(ca, coefficient, &n), DREGS_OK);
        meets(row, n);
        snprintf(way, sizeof way, "tank,withdrawal speed,%.17g,m/s\n",
                 ca * pow(coefficient / DREGS_FILM_COEFFICIENT, 6));
        line = in_liquid(1000, 1, 1, "rack,area,100,cm2\n", way); /* Ca is U in m/s */
        meets(row, dregs_line_carried(line, 0)->number);
        lines_free(line);
    }
}
END_TEST

/* The print takes g = 980 cm/s2, the library the standard 980.665. */
START_TEST(kushner_and_the_edge_bead)
{
    EACH_ROW(row, "K01")
    {
        char way[200], load[200];
        dregs_line *line;
        snprintf(load, sizeof load, "rack,area,%s\n", as_cells(row, "A"));
        snprintf(load + strlen(load), 100, "rack,edge,%s\n", as_cells(row, "edge"));
        snprintf(way, sizeof way, "tank,withdrawal speed,%s\ntank,film law,kushner,\n",
                 as_cells(row, "U"));
        line = in_liquid(quantity(row, "density"), quantity(row, "viscosity"),
                         quantity(row, "surface tension"), load, way);
        meets(row, dregs_line_carried(line, 0)->out);
        lines_free(line);
    }
    EACH_ROW(row, "F03")
    {
        char way[200], load[200];
        const dregs_carried *carried;
        dregs_line *line;
        snprintf(load, sizeof load, "rack,area,%s\n", as_cells(row, "A"));
        if (!asks(row, "W"))
            snprintf(load + strlen(load), 100, "rack,edge,%s\n", as_cells(row, "edge"));
        snprintf(way, sizeof way, "tank,withdrawal speed,%s\ntank,film law,kushner,\n",
                 as_cells(row, "U"));
        line = in_liquid(quantity(row, "density"), quantity(row, "viscosity"),
                         quantity(row, "surface tension"), load, way);
        carried = dregs_line_carried(line, 0);
        if (asks(row, "W"))
            meets(row, carried->thickness * quantity(row, "A"));
        else
            meets(row, carried->bead * DREGS_GRAVITY / quantity(row, "g"));
        ck_assert_near(carried->out, carried->thickness * quantity(row, "A") + carried->bead, 1e-14,
                       "the load carries both");
        lines_free(line);
    }
}
END_TEST

/* Mean film on a height of `z`, drained in water at 20 degC. */
static double drained(unsigned row, double z)
{
    dregs_line *line;
    double mean;

    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,min\n"
              "rack,height,%.17g,m\nsalt,kind,solute,\nclean,kind,liquid,\nclean,solvent,water,\n"
              "tank,kind,rinse,\ntank,volume,100,L\ntank,liquid,clean,\ntank,temperature,20,degC\n"
              "tank,withdrawal speed,60,cm/s\ntank,drain time,%s\n",
              z, as_cells(row, "t"));
    line = lines_read(text.bytes);
    mean = dregs_line_carried(line, 0)->thickness;
    /* drained to the lower end: what was entrained no longer counts */
    ck_assert_double_ge(dregs_line_carried(line, 0)->reach, z);
    lines_free(line);
    return mean;
}

START_TEST(gravity_drainage)
{
    EACH_ROW(row, "F04")
    {
        double z = quantity(row, "z"), low = z * (1 - 1e-4), high = z * (1 + 1e-4);
        if (asks(row, "mean"))
            meets(row, drained(row, z));
        else /* what the last bit of height adds to the film */
            meets(row, (high * drained(row, high) - low * drained(row, low)) / (high - low));
    }
}
END_TEST

START_TEST(drag_out_by_shape)
{
    EACH_ROW(row, "F05")
    {
        int range = strstr(cells[row][INPUTS], "least=") != NULL;
        dregs_line *line;
        char wanted[100];
        lines_begin(&text);
        lines_say(&text,
                  "rack,kind,load,\nrack,parts,1,1\nrack,area,1000,ft2\nrack,interval,1,min\n"
                  "salt,kind,solute,\nclean,kind,liquid,\nclean,solvent,water,\n"
                  "tank,kind,rinse,\ntank,volume,1000,L\ntank,liquid,clean,\n"
                  "tank,drag-out class,%s,\n",
                  input(row, "class"));
        line = lines_read(text.bytes);
        meets(row, dregs_line_carried(line, 0)->out);
        if (range) { /* the upper end is taken, and said */
            snprintf(wanted, sizeof wanted,
                     "%s gal per 1000 ft2, the upper end of the published %s", cells[row][EXPECTED],
                     input(row, "least"));
            ck_assert_ptr_nonnull(dregs_line_assumed(line, 0));
            ck_assert_msg(strstr(dregs_line_assumed(line, 0), wanted) != NULL,
                          "'%s' is not in '%s'", wanted, dregs_line_assumed(line, 0));
        } else {
            ck_assert_ptr_null(dregs_line_assumed(line, 0));
        }
        lines_free(line);
    }
}
END_TEST

/* ---- levels and water ---- */

/* Residue of a load whose parts, `area` cm2, come and leave with `soil` mg in clean water. */
static dregs_line *soiled(double soil, double area, const char *level, double *residue)
{
    dregs_line *line;
    dregs_map *map;
    dregs_state *state;
    dregs_residue left;

    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,%.17g,cm2\nrack,interval,1,min\n"
              "soil,kind,solute,\nsoil,on parts,%.17g,mg\n"
              "clean,kind,liquid,\nclean,solvent,water,\n"
              "tank,kind,rinse,\ntank,volume,100,L\ntank,liquid,clean,\ntank,film,1,um\n"
              "limit,kind,target,\nlimit,level,%s,\n",
              area, soil, level);
    line = lines_read(text.bytes);
    map = lines_map(line);
    state = lines_state(map);
    dregs_residue_next(state, &left);
    *residue = left.total;
    dregs_state_free(state);
    dregs_map_free(map);
    return line;
}

START_TEST(levels_of_residue)
{
    EACH_ROW(row, "L01")
    {
        const char *name = input(row, "level");
        double printed = leading_number(cells[row][EXPECTED]), residue;
        const dregs_level *reached;
        dregs_line *line = soiled(printed * 0.999, 1000, name, &residue);
        meets(row, dregs_line_target(line)->residue.si);
        ck_assert_double_eq(dregs_level_named(name)->as_printed, printed);
        reached = dregs_level_reached(residue); /* a thousandth below the limit */
        ck_assert_ptr_nonnull(reached);
        ck_assert_str_eq(reached->name, name);
        lines_free(line);
        line = soiled(printed * 1.001, 1000, name, &residue);
        reached = dregs_level_reached(residue); /* a thousandth above it */
        ck_assert(!reached || strcmp(reached->name, name) != 0);
        ck_assert(residue > dregs_line_target(line)->residue.si);
        lines_free(line);
    }
}
END_TEST

START_TEST(a_weighed_residue)
{
    unsigned row = row_of("L02", 1);
    double residue;
    dregs_line *line = soiled((quantity(row, "residue") - quantity(row, "blank")) * 1e6,
                              quantity(row, "area") * 1e4, "B", &residue);

    meets(row, residue);
    ck_assert_ptr_nonnull(dregs_level_reached(residue));
    ck_assert_str_eq(dregs_level_reached(residue)->name, input(row, "level"));
    lines_free(line);
}
END_TEST

static const dregs_water_grade *grade(const char *name)
{
    const dregs_water_grade *g;
    size_t i;

    for (i = 0; (g = dregs_water_grade_at(i)); i++)
        if (strcmp(g->name, name) == 0)
            return g;
    ck_abort_msg("no grade '%s'", name);
    return NULL;
}

/* What a film of the grade's water, 1 kg to the litre, leaves of its own. */
static double left_by(unsigned row)
{
    dregs_line *line;
    dregs_map *map;
    dregs_state *state;
    dregs_residue next, floor;

    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,3,1\nrack,area,120,cm2\nrack,interval,1,min\n"
              "rack,extra area,77,cm2\nminerals,kind,solute,\n"
              "di,kind,liquid,\ndi,solvent,water,\ndi,minerals,%.17g,mg/L\n"
              "tank,kind,rinse,\ntank,volume,10,L\ntank,liquid,di,\ntank,drag-out,%s\n"
              "air,kind,dry,\nair,temperature,22,degC\n",
              grade(input(row, "grade"))->residue * 1e6, as_cells(row, "film"));
    line = lines_read(text.bytes);
    map = lines_map(line);
    state = lines_state(map);
    ck_assert_int_eq(dregs_state_before(state, 1234), DREGS_OK);
    dregs_residue_next(state, &next);
    dregs_residue_floor(map, &floor);
    ck_assert_near(floor.total, next.total, 1e-12, "no rinsing with it gets below");
    dregs_state_free(state);
    dregs_map_free(map);
    lines_free(line);
    return next.total;
}

START_TEST(water_leaves_its_own_residue)
{
    meets(row_of("L03", 1), left_by(row_of("L03", 1)));
    EACH_ROW(row, "W05")
    {
        const dregs_water_grade *g = grade(input(row, "grade"));
        meets(row, asks(row, "conductivity") ? g->conductivity
                   : asks(row, "residue")    ? g->residue
                                             : left_by(row));
    }
    ck_assert_double_nan(grade("ISO 3696 grade 1")->residue);
    ck_assert_double_nan(grade("ASTM D1193 type I")->residue);
}
END_TEST

/* ---- the meter ---- */

static double of_salt(unsigned row)
{
    const dregs_electrolyte *salt = dregs_electrolyte_find(input(row, "salt"));
    char message[DREGS_METER_MESSAGE] = "";
    double got = NAN;

    ck_assert_ptr_nonnull(salt);
    ck_assert_msg(!dregs_electrolyte_conductivity(salt, quantity(row, "concentration"),
                                                  quantity(row, "t"), &got, message),
                  "%s", message);
    return got;
}

START_TEST(conductivity_of_water_and_salts)
{
    double got = NAN;

    ck_assert_int_eq(dregs_water_conductivity(quantity(row_of("W01", 1), "t"), &got, NULL),
                     DREGS_OK);
    meets(row_of("W01", 1), got);
    EACH_ROW(row, "W02")
    meets(row, of_salt(row));
    EACH_ROW(row, "W03")
    meets(row, of_salt(row));
    EACH_ROW(row, "C01")
    meets(row, of_salt(row));
    EACH_ROW(row, "C02")
    {
        ck_assert_int_eq(dregs_water_conductivity(quantity(row, "t"), &got, NULL), DREGS_OK);
        meets(row, got);
    }
}
END_TEST

START_TEST(compensation_of_natural_water)
{
    EACH_ROW(row, "W04")
    {
        double got = NAN, reading = 2.385e-2;
        ck_assert_int_eq(dregs_conductivity_at_25(DREGS_COMPENSATION_NATURAL, 0, quantity(row, "t"),
                                                  reading, &got, NULL),
                         DREGS_OK);
        meets(row, got / reading);
    }
}
END_TEST

/* ---- mixtures and water ---- */

static double of_alcohol(unsigned row, const dregs_mixtures *mixtures, const dregs_liquids *liquids)
{
    char liquid[CELL_ROOM];
    double x = 0, t = 0, gamma[2], pure = 1, one, other;

    strcpy(liquid, input(row, "liquid")); /* which later inputs overwrite */
    if (asks(row, "boils") || asks(row, "share")) {
        ck_assert_int_eq(
            dregs_mixture_azeotrope(mixtures, liquids, liquid, "water", 101325, &x, &t, NULL),
            DREGS_OK);
        dregs_liquids_value(liquids, liquid, DREGS_MOLAR_MASS, 298.15, &one, NULL);
        dregs_liquids_value(liquids, "water", DREGS_MOLAR_MASS, 298.15, &other, NULL);
        return asks(row, "boils") ? t : dregs_mixture_mass_share(x, one, other);
    }
    t = quantity(row, "t");
    x = asks(row, "dilute") ? 0 : quantity(row, "x");
    ck_assert_int_eq(dregs_mixture_activity(mixtures, liquid, "water", x, t, gamma, NULL),
                     DREGS_OK);
    if (asks(row, "dilute"))
        return gamma[0];
    dregs_liquids_value(liquids, asks(row, "water") ? "water" : liquid, DREGS_VAPOUR_PRESSURE, t,
                        &pure, NULL);
    return asks(row, "water") ? (1 - x) * gamma[1] * pure : x * gamma[0] * pure;
}

START_TEST(alcohols_above_water)
{
    dregs_mixtures *mixtures = dregs_mixtures_new();
    dregs_liquids *liquids = dregs_liquids_new();

    EACH_ROW(row, "A01")
    meets(row, of_alcohol(row, mixtures, liquids));
    EACH_ROW(row, "A02")
    meets(row, of_alcohol(row, mixtures, liquids));
    EACH_ROW(row, "A03")
    meets(row, of_alcohol(row, mixtures, liquids));
    dregs_mixtures_free(mixtures);
    dregs_liquids_free(liquids);
}
END_TEST

START_TEST(properties_of_water)
{
    dregs_liquids *liquids = dregs_liquids_new();
    double got = NAN;

    EACH_ROW(row, "H01")
    {
        dregs_liquids_value(liquids, "water", DREGS_VAPOUR_PRESSURE, quantity(row, "t"), &got,
                            NULL);
        meets(row, got);
    }
    EACH_ROW(row, "I01")
    {
        int p = 0;
        while (p < DREGS_PROPERTIES &&
               strcmp(dregs_property_name((dregs_property)p), input(row, "property")) != 0)
            p++;
        ck_assert_msg(!dregs_liquids_value(liquids, "water", (dregs_property)p, quantity(row, "t"),
                                           &got, NULL),
                      "%s", cells[row][ID]);
        meets(row, got);
    }
    dregs_liquids_free(liquids);
}
END_TEST

/* The humidity at which the library's wet bulb is the row's. */
static double humidity_of(unsigned row, const dregs_liquids *liquids)
{
    double low = 0.05, high = 1;
    unsigned i;

    for (i = 0; i < 60; i++) {
        double middle = (low + high) / 2, wet = 0;
        ck_assert_int_eq(
            dregs_wet_bulb(liquids, quantity(row, "t"), middle, quantity(row, "pressure"), &wet),
            DREGS_OK);
        if (wet < quantity(row, "wet bulb"))
            low = middle;
        else
            high = middle;
    }
    return low;
}

START_TEST(humid_air)
{
    dregs_liquids *liquids = dregs_liquids_new();

    EACH_ROW(row, "H02")
    {
        double got = NAN, t = quantity(row, "t"), p = NAN;
        if (asks(row, "dew point"))
            ck_assert_int_eq(dregs_dew_point(liquids, t, quantity(row, "humidity"), &got),
                             DREGS_OK);
        else if (asks(row, "wet"))
            ck_assert_int_eq(dregs_wet_bulb(liquids, t, quantity(row, "humidity"),
                                            quantity(row, "pressure"), &got),
                             DREGS_OK);
        else
            got = humidity_of(row, liquids);
        if (asks(row, "ratio")) {
            ck_assert_int_eq(
                dregs_liquids_value(liquids, "water", DREGS_VAPOUR_PRESSURE, t, &p, NULL),
                DREGS_OK);
            got = 0.621945 * got * p / (quantity(row, "pressure") - got * p);
        }
        meets(row, got);
    }
    dregs_liquids_free(liquids);
}
END_TEST

/* ---- drying ---- */

/* Cyclohexane (6.0 in print) has no row: its film cools to its freezing point, where the model
 * stops.
 *
 * Seconds until a tenth of a film of 0.70 mL on a filter paper of 125 cm2 is left, as in ASTM
 * D3539: 56 um in air of 25 degC without water; half of the paper, 45 g/m2 with 1.3 kJ/(kg K), goes
 * with each face. */
static double gone(const dregs_liquids *liquids, const char *liquid, double t)
{
    dregs_dry_case film = {.liquids = liquids,
                           .count = 1,
                           .liquid = {liquid},
                           .start = t,
                           .air = t,
                           .wall = t,
                           .humid_at = t,
                           .speed = 0.1,
                           .pressure = 101325,
                           .heat_capacity = 0.045 * 1300,
                           .length = 0.1,
                           .emissivity = 0.9,
                           .until = 0.1};
    dregs_drying drying = {0};
    char message[DREGS_DRY_MESSAGE] = "";
    double density = NAN, time;

    ck_assert_int_eq(dregs_liquids_value(liquids, liquid, DREGS_DENSITY, t, &density, NULL),
                     DREGS_OK);
    film.mass[0] = 28e-6 * density; /* of the 56 um a half on each face */
    ck_assert_msg(!dregs_dry(&film, 1e-9, &drying, message), "%s: %s", liquid, message);
    ck_assert_msg(drying.dry, "%s", liquid);
    time = drying.time;
    dregs_drying_clear(&drying);
    return time;
}

START_TEST(relative_evaporation_rates)
{
    dregs_liquids *liquids = dregs_liquids_new();

    EACH_ROW(row, "V01")
    {
        double t = quantity(row, "t");
        char liquid[CELL_ROOM];
        strcpy(liquid, input(row, "liquid"));
        meets(row, gone(liquids, "n-butyl acetate", t) / gone(liquids, liquid, t));
    }
    dregs_liquids_free(liquids);
}
END_TEST

/* ---- emission and waste ---- */

static void says(unsigned row, const char *word)
{
    record(row, word);
    ck_assert_msg(strcmp(word, cells[row][EXPECTED]) == 0, "%s, %s: got %s, expected %s",
                  cells[row][ID], cells[row][TOPIC], word, cells[row][EXPECTED]);
}

START_TEST(machines_without_an_interface)
{
    EACH_ROW(row, "E01")
    {
        double limit = NAN;
        ck_assert_int_eq(dregs_law_no_interface_limit(quantity(row, "V"), &limit), DREGS_OK);
        meets(row, limit);
    }
}
END_TEST

START_TEST(machines_with_one)
{
    double emission[3], mean = NAN;
    unsigned months = 0;

    EACH_ROW(row, "E02")
    {
        if (asks(row, "month")) {
            dregs_law_month month = {quantity(row, "added"), quantity(row, "removed"),
                                     quantity(row, "solid")};
            ck_assert_uint_lt(months, 3);
            ck_assert_int_eq(
                dregs_law_machine_month(&month, quantity(row, "area"), &emission[months]),
                DREGS_OK);
            meets(row, emission[months++]);
        } else if (asks(row, "rolling")) {
            ck_assert_uint_eq(months, 3);
            ck_assert_int_eq(dregs_law_rolling(emission, &mean), DREGS_OK);
            meets(row, mean);
        } else
            meets(row, dregs_law_machine_limit(DREGS_LAW_BATCH_VAPOUR));
    }
    ck_assert_double_gt(mean, dregs_law_machine_limit(DREGS_LAW_BATCH_VAPOUR));
}
END_TEST

START_TEST(solvent_plans)
{
    EACH_ROW(row, "E03")
    {
        dregs_law_plan plan = {.i1 = quantity(row, "I1"),
                               .i2 = quantity(row, "I2"),
                               .o1 = quantity(row, "O1"),
                               .o6 = quantity(row, "O6"),
                               .o8 = quantity(row, "O8")};
        dregs_law_plan_result result;
        ck_assert_int_eq(dregs_law_plan_work(&plan, &result), DREGS_OK);
        meets(row, asks(row, "fugitive") ? result.fugitive
                   : asks(row, "share")  ? result.share
                                         : result.consumption);
    }
}
END_TEST

START_TEST(ignitable_wastes)
{
    static const char *const words[] = {"no", "yes", "excluded", "ask"};

    EACH_ROW(row, "E04")
    {
        dregs_law_waste waste = {quantity(row, "flash"), quantity(row, "alcohol"),
                                 quantity(row, "water")};
        says(row, words[dregs_law_ignitable(&waste)]);
    }
}
END_TEST

START_TEST(waste_generators)
{
    EACH_ROW(row, "E05")
    {
        dregs_law_generator generator = DREGS_LAW_VSQG;
        ck_assert_int_eq(dregs_law_generator_of(quantity(row, "waste"), &generator), DREGS_OK);
        says(row, dregs_law_generator_name(generator));
    }
}
END_TEST

START_TEST(cold_cleaners)
{
    unsigned row = row_of("E09", 1);
    double rate = NAN;

    ck_assert_int_eq(dregs_law_cold_loss(quantity(row, "area"), &rate), DREGS_OK);
    meets(row, rate);
}
END_TEST

/* ---- open tanks ---- */

START_TEST(open_tanks_in_still_air)
{
    EACH_ROW(row, "T01")
    {
        dregs_line *line;
        double density, side = quantity(row, "side");
        lines_begin(&text);
        lines_say(&text,
                  "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,min\n"
                  "soil,kind,solute,\nclean,kind,liquid,\nclean,solvent,water,\n"
                  "bath,kind,wash,\nbath,volume,100,L\nbath,liquid,clean,\nbath,film,1,um\n"
                  "bath,open area,%.17g,m2\nbath,temperature,%s\n",
                  side * side, as_cells(row, "water"));
        lines_say(&text, "hall,kind,room,\nhall,temperature,%s\n", as_cells(row, "air"));
        lines_say(&text, "hall,humidity,%s\n", as_cells(row, "humidity"));
        line = lines_read(text.bytes);
        ck_assert_int_eq(dregs_liquids_value(dregs_line_liquids(line), "water", DREGS_DENSITY,
                                             quantity(row, "water"), &density, NULL),
                         DREGS_OK);
        meets(row, dregs_line_tank(line, 0)->evaporation * density / (side * side));
        lines_free(line);
    }
}
END_TEST

/* The surface is the bath's in the coefficient, and its own in the loss. */
START_TEST(a_hot_bath)
{
    EACH_ROW(row, "T03")
    {
        dregs_liquids *liquids = dregs_liquids_new();
        double length = quantity(row, "long"), width = quantity(row, "wide");
        dregs_open_surface tank = {.temperature = quantity(row, "bath"),
                                   .room = quantity(row, "room"),
                                   .humidity = quantity(row, "humidity"),
                                   .pressure = quantity(row, "pressure"),
                                   .length = length * width / (2 * (length + width))};
        dregs_evaporation e;
        if (asks(row, "evaporation"))
            tank.conductivity = dregs_open_conductivity(liquids, "water", tank.temperature);
        ck_assert_int_eq(dregs_open_evaporation(liquids, "water", &tank, &e, NULL), DREGS_OK);
        meets(row, asks(row, "evaporation") ? e.flux : e.transfer);
        dregs_liquids_free(liquids);
    }
}
END_TEST

/* ---- wet faces ---- */

/* The pool is as warm as the air. Its book takes a diffusivity of 26 mm2/s, the table has 25. */
START_TEST(a_pool_in_the_wind)
{
    unsigned row = row_of("T04", 1);
    dregs_air_stream wind = {.flow = DREGS_AIR_TURBULENT,
                             .speed = quantity(row, "wind"),
                             .length = quantity(row, "length")};
    dregs_liquids *liquids = dregs_liquids_new();
    double t = quantity(row, "air"), full, diffusivity, h, k, flux;
    dregs_air air;

    ck_assert_int_eq(dregs_air_at(t, DREGS_ATMOSPHERE, &air), DREGS_OK);
    ck_assert_int_eq(dregs_liquids_value(liquids, "water", DREGS_VAPOUR_PRESSURE, t, &full, NULL),
                     DREGS_OK);
    ck_assert_int_eq(
        dregs_liquids_value(liquids, "water", DREGS_DIFFUSIVITY, t, &diffusivity, NULL), DREGS_OK);
    ck_assert_int_eq(dregs_air_transfer(&air, &wind, 0, &h, NULL), DREGS_OK);
    ck_assert_int_eq(dregs_air_mass_transfer(&air, wind.flow, h, diffusivity, &k), DREGS_OK);
    ck_assert_int_eq(
        dregs_stefan_flux(k, t, DREGS_ATMOSPHERE, full, quantity(row, "humidity") * full, &flux),
        DREGS_OK);
    meets(row, flux * 18.015e-3 * quantity(row, "area"));
    dregs_liquids_free(liquids);
}
END_TEST

/* The surface is at the balance of heat and vapour, a kelvin below the chart's wet bulb. */
START_TEST(a_pan_in_a_dryer)
{
    unsigned row = row_of("T05", 1);
    dregs_air_stream over = {.flow = DREGS_AIR_TRAY,
                             .speed = quantity(row, "speed"),
                             .length = quantity(row, "length"),
                             .density = quantity(row, "density")};
    dregs_liquids *liquids = dregs_liquids_new();
    double t = quantity(row, "air"), moles = quantity(row, "ratio") / 18.015e-3, h, surface, flux;
    dregs_air air;

    ck_assert_int_eq(dregs_air_at(t, DREGS_ATMOSPHERE, &air), DREGS_OK);
    ck_assert_int_eq(dregs_air_transfer(&air, &over, 0, &h, NULL), DREGS_OK);
    ck_assert_int_eq(dregs_wet_surface(liquids, "water", t, DREGS_ATMOSPHERE,
                                       DREGS_ATMOSPHERE * moles / (moles + 1 / 28.96e-3), h,
                                       &surface, &flux),
                     DREGS_OK);
    meets(row, flux);
    dregs_liquids_free(liquids);
}
END_TEST

START_TEST(tubes_that_dry)
{
    unsigned row = row_of("T07", 1);
    double molar, unit, low, high, flux, area;

    ck_assert_int_eq(dregs_stefan_flux(quantity(row, "diffusivity"), quantity(row, "t"),
                                       DREGS_ATMOSPHERE, quantity(row, "pressure"), 0, &flux),
                     DREGS_OK);
    molar = quantity(row, "density") / quantity(row, "molar mass");
    ck_assert_int_eq(dregs_recess_time(flux, molar, quantity(row, "from"), &low), DREGS_OK);
    ck_assert_int_eq(dregs_recess_time(flux, molar, quantity(row, "to"), &high), DREGS_OK);
    meets(row, high - low);
    row = row_of("T08", 1);
    ck_assert_int_eq(dregs_stefan_flux(quantity(row, "diffusivity") / quantity(row, "depth"),
                                       quantity(row, "t"), DREGS_ATMOSPHERE,
                                       quantity(row, "pressure"), 0, &flux),
                     DREGS_OK);
    meets(row, flux);
    row = row_of("T08", 2);
    ck_assert_int_eq(dregs_stefan_flux(1 / quantity(row, "depth"), quantity(row, "t"),
                                       quantity(row, "air"), quantity(row, "pressure"), 0, &unit),
                     DREGS_OK);
    area = 3.14159265358979 / 4 * quantity(row, "diameter") * quantity(row, "diameter");
    meets(row, quantity(row, "gone") / 18.015e-3 / quantity(row, "time") / area / unit);
}
END_TEST

/* mol/(m2 s) through a layer of still air */
static double through(double layer, double diffusivity, double t, double surface, double far)
{
    double flux = NAN;

    ck_assert_int_eq(
        dregs_stefan_flux(diffusivity / layer, t, DREGS_ATMOSPHERE, surface, far, &flux), DREGS_OK);
    return flux;
}

START_TEST(films_under_still_air)
{
    unsigned row = row_of("T09", 1);
    dregs_liquids *liquids = dregs_liquids_new();
    double surface, far, density, at = quantity(row, "surface"), air = quantity(row, "air"), flux;

    ck_assert(!dregs_liquids_value(liquids, "water", DREGS_VAPOUR_PRESSURE, at, &surface, NULL) &&
              !dregs_liquids_value(liquids, "water", DREGS_VAPOUR_PRESSURE, air, &far, NULL) &&
              !dregs_liquids_value(liquids, "water", DREGS_DENSITY, at, &density, NULL));
    flux = through(quantity(row, "layer"), quantity(row, "diffusivity"), (at + air) / 2, surface,
                   quantity(row, "humidity") * far);
    meets(row, quantity(row, "film") * density / 18.015e-3 / flux);
    row = row_of("T09", 2);
    flux = quantity(row, "spilt") / quantity(row, "molar mass") / quantity(row, "gone in");
    meets(row, through(1, quantity(row, "diffusivity"), quantity(row, "t"),
                       quantity(row, "pressure"), 0) /
                   flux);
    dregs_liquids_free(liquids);
}
END_TEST

/* The can's air has the values of 300 K, its vapour the density at the surface, and its bulk flow
 * is left out: the coefficient is ours. The two others are dregs_wet_surface. */
START_TEST(surfaces_that_evaporation_cools)
{
    const double h = 20;
    dregs_air his = {1.161, 1.846e-5, 22.5e-6 * 1.161 * 1007, 1007};
    dregs_liquids *liquids = dregs_liquids_new();
    unsigned row = row_of("T10", 1);
    double k, surface = quantity(row, "air"), far, moles;
    int i;

    ck_assert_int_eq(dregs_mass_transfer(&his, h, quantity(row, "diffusivity"), &k), DREGS_OK);
    for (i = 0; i < 200; i++)
        surface = quantity(row, "air") - k / h * quantity(row, "heat") * quantity(row, "pressure") *
                                             quantity(row, "molar mass") /
                                             (DREGS_GAS_CONSTANT * surface);
    meets(row, surface);
    row = row_of("T10", 2);
    ck_assert(!dregs_liquids_value(liquids, "water", DREGS_VAPOUR_PRESSURE, quantity(row, "air"),
                                   &far, NULL) &&
              !dregs_wet_surface(liquids, "water", quantity(row, "air"), DREGS_ATMOSPHERE,
                                 quantity(row, "humidity") * far, h, &surface, NULL));
    meets(row, surface);
    row = row_of("T10", 3);
    moles = quantity(row, "ratio") / 92.14e-3;
    ck_assert_int_eq(dregs_wet_surface(liquids, "toluene", quantity(row, "air"), DREGS_ATMOSPHERE,
                                       DREGS_ATMOSPHERE * moles / (moles + 1 / 28.96e-3), h,
                                       &surface, NULL),
                     DREGS_OK);
    meets(row, surface);
    dregs_liquids_free(liquids);
}
END_TEST

/* 60 % by volume is 0.52 by mass of 902 kg/m3; the blood keeps the skin warm. */
START_TEST(hands_rubbed_dry)
{
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_mixtures *mixtures = dregs_mixtures_new();

    EACH_ROW(row, "T11")
    {
        dregs_dry_case film = dregs_dry_usual();
        dregs_drying drying = {0};
        double mass = quantity(row, "volume") * 902 / quantity(row, "skin");
        char message[DREGS_DRY_MESSAGE];

        film.liquids = liquids;
        film.mixtures = mixtures;
        film.count = 2;
        film.liquid[0] = "isopropanol";
        film.liquid[1] = "water";
        film.mass[0] = mass * 0.52;
        film.mass[1] = mass * 0.48;
        film.air = film.wall = film.humid_at = 295.15;
        film.start = quantity(row, "t");
        film.heat_capacity = 1e9;
        film.speed = 0.3;
        ck_assert_msg(!dregs_dry(&film, 1e-9, &drying, message) && drying.dry, "%s", message);
        meets(row, drying.time);
        dregs_drying_clear(&drying);
    }
    dregs_mixtures_free(mixtures);
    dregs_liquids_free(liquids);
}
END_TEST

static Suite *suite(void)
{
    const TTest *const tests[] = {every_check_is_there,
                                  single_running_rinses,
                                  counterflow_water,
                                  counterflow_series,
                                  discrete_loads_carry_more_than_a_continuous_drag_out,
                                  still_rinses_in_series,
                                  the_root_form_asks_for_too_much,
                                  successive_carries,
                                  a_reclaim_tank_settles_at_half_the_bath,
                                  cleaner_rinse,
                                  drag_out_from_what_was_added,
                                  root_form_against_the_series,
                                  entrained_films,
                                  film_numbers,
                                  kushner_and_the_edge_bead,
                                  gravity_drainage,
                                  drag_out_by_shape,
                                  levels_of_residue,
                                  a_weighed_residue,
                                  water_leaves_its_own_residue,
                                  conductivity_of_water_and_salts,
                                  compensation_of_natural_water,
                                  alcohols_above_water,
                                  properties_of_water,
                                  counterflow_further,
                                  separate_feeds,
                                  still_rinses_further,
                                  salt_washed_off_sand,
                                  humid_air,
                                  relative_evaporation_rates,
                                  machines_without_an_interface,
                                  machines_with_one,
                                  solvent_plans,
                                  ignitable_wastes,
                                  waste_generators,
                                  cold_cleaners,
                                  open_tanks_in_still_air,
                                  a_hot_bath,
                                  a_pool_in_the_wind,
                                  a_pan_in_a_dryer,
                                  tubes_that_dry,
                                  films_under_still_air,
                                  surfaces_that_evaporation_cools,
                                  hands_rubbed_dry};
    Suite *s = suite_create("checks");
    TCase *c = tcase_create("published values");
    size_t i;

    tcase_add_checked_fixture(c, setup, NULL);
    tcase_set_timeout(c, 120);
    suite_add_tcase(s, c);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(c, tests[i]);
    return s;
}

int main(void)
{
    gsl_set_error_handler_off();
    return run(suite());
}
