/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_readings.c: the log of a meter, from every column's SI value to every fault its reader
 * knows; the place of each row among the loads, counted by hand; long logs; times against GNU date.
 */
#include "check_main.h"
#include "dregs/readings.h"
#include "lines.h"

#include <stdarg.h>
#include <string.h>

#define COUNT(table) (int)(sizeof table / sizeof table[0])

static dregs_line *line;
static dregs_readings *readings;
static dregs_faults faults;

static const char bench[] =
    "item,property,value,unit\n"
    "rack,kind,load,\nrack,parts,7,1\nrack,area,100,cm2\nrack,interval,3,min\n"
    "oil,kind,solute,\noil,on parts,2,mg\nsalt,kind,solute,\n"
    "salt,conductivity,1.35,uS/cm per mg/L\n"
    "strong,kind,liquid,\nstrong,solvent,water,\nstrong,salt,12.5,g/L\n"
    "clean,kind,liquid,\nclean,solvent,water,\n"
    "haze,kind,calibration,\nhaze,solute,oil,\nhaze,reading 1,-2,NTU\nhaze,concentration 1,0,mg/L\n"
    "haze,reading 2,90,NTU\nhaze,concentration 2,400,mg/L\n"
    "bath,kind,wash,\nbath,volume,40,L\nbath,liquid,strong,\nbath,film,60,um\nbath,removal,99,%\n"
    "first,kind,rinse,\nfirst,volume,5,L\nfirst,liquid,clean,\nfirst,film,60,um\n"
    "fan,kind,spray,\nfan,liquid,clean,\nfan,use,1,L\nfan,film,40,um\n"
    "last,kind,rinse,\nlast,volume,5,L\nlast,liquid,clean,\nlast,film,60,um\n"
    "air,kind,dry,\nair,temperature,20,degC\n";

enum { BATH, FIRST, FAN, LAST };

static void setup(void)
{
    line = lines_read(bench);
    readings = NULL;
}

static void teardown(void)
{
    dregs_readings_free(readings);
    readings = NULL;
    lines_free(line);
}

/* Reads a log in pieces of so many bytes. */
static dregs_status feed(const char *text, size_t length, size_t piece)
{
    dregs_status status = DREGS_OK, end;
    size_t at;

    dregs_readings_free(readings);
    memset(&faults, 0, sizeof faults);
    readings = dregs_readings_new("own.csv", line, &faults);
    ck_assert_ptr_nonnull(readings);
    for (at = 0; at < length && !status; at += piece)
        status =
            dregs_readings_feed(readings, text + at, length - at < piece ? length - at : piece);
    end = dregs_readings_end(readings);
    return status ? status : end;
}

static void read_log(const char *text)
{
    dregs_status status = feed(text, strlen(text), strlen(text));

    ck_assert_msg(status == DREGS_OK, "line %lu: %s", faults.fault[0].line, faults.fault[0].text);
    ck_assert_uint_eq(faults.count, 0);
}

static const dregs_reading *at(size_t index)
{
    const dregs_reading *reading = dregs_readings_at(readings, index);

    ck_assert_msg(reading != NULL, "there is no reading %zu", index);
    return reading;
}

/* ---- what a row says ---- */

/* Columns in another order, a byte order mark, carriage returns, remarks, a cell over two lines,
 * every quantity, units of several sizes. */
static const char awkward[] =
    "\xEF\xBB\xBFnote,unit,value,spread,quantity,temperature,stage,loads,time\r\n"         /* 1 */
    "# a remark, with \"quotes\r\n"                                                        /* 2 */
    ",uS/cm,2.385,3%,conductivity,71.5 degF,last,4,2026-03-02T07:30\r\n"                   /* 3 */
    "\"two\r\nlines, \"\"so\"\"\",mS/m,.31,0.02,conductivity,,last,4,2026-03-02 07:31\r\n" /* 4 */
    "\r\n"                                                                                 /* 6 */
    ",g/L,11.7,2.5 %,concentration salt,,bath,19,2026-03-02T07:32:15\r\n"                  /* 7 */
    ",mg/L,563,,non-volatile residue,,first,4,2026-03-02T07:33\r\n"                        /* 8 */
    ",NTU,-1.25,0,haze,,first,4,2026-03-02T07:34\r\n"                                      /* 9 */
    ",oz/gal,1.5e-3,1e-4,concentration oil,20 degC,bath,19,2026-03-02T07:35\r\n"           /* 10 */
    ",,,,dump,,last,4,2026-03-02T07:36";                                                   /* 11 */

#define OUNCE_PER_GALLON (0.028349523125 / 3.785411784e-3) /* kg/m3, exact: NIST SP 811 B.8 */
#define MORNING          1772436600.0                      /* 2026-03-02T07:30, GNU date 9.1 */

static void check_reading(size_t index, unsigned stage, dregs_measured what, unsigned which,
                          double value, double sd, double temperature, double time,
                          unsigned long from)
{
    const dregs_reading *r = at(index);

    ck_assert_msg(r->line == from, "reading %zu is of line %lu", index, r->line);
    ck_assert_uint_eq(r->stage, stage);
    ck_assert_int_eq(r->what, what);
    ck_assert_uint_eq(r->which, which);
    ck_assert_uint_eq(r->rows, 1);
    ck_assert_near(r->value, value, 1e-14, "value of reading %zu", index);
    ck_assert_near(r->sd, sd, 1e-14, "spread of reading %zu", index);
    ck_assert_near(r->time, time, 0, "time of reading %zu", index);
    if (isnan(temperature))
        ck_assert_double_nan(r->temperature);
    else
        ck_assert_near(r->temperature, temperature, 1e-14, "temperature of reading %zu", index);
}

static void check_awkward(void)
{
    dregs_unit unit;

    ck_assert_uint_eq(dregs_readings_kept(readings), 7);
    check_reading(0, LAST, DREGS_MEASURED_CONDUCTIVITY, 0, 2.385e-4, 7.155e-6,
                  (71.5 - 32) / 1.8 + 273.15, MORNING, 3);
    check_reading(1, LAST, DREGS_MEASURED_CONDUCTIVITY, 0, 3.1e-4, 2e-5, NAN, MORNING + 60, 4);
    check_reading(2, BATH, DREGS_MEASURED_CONCENTRATION, 1, 11.7, 0.2925, NAN, MORNING + 135, 7);
    check_reading(3, FIRST, DREGS_MEASURED_RESIDUE, 0, 0.563, 0, NAN, MORNING + 180, 8);
    check_reading(4, FIRST, DREGS_MEASURED_SCALE, 0, -1.25, 0, NAN, MORNING + 240, 9);
    check_reading(5, BATH, DREGS_MEASURED_CONCENTRATION, 0, 1.5e-3 * OUNCE_PER_GALLON,
                  1e-4 * OUNCE_PER_GALLON, 293.15, MORNING + 300, 10);
    ck_assert_int_eq(at(6)->what, DREGS_MEASURED_DUMP);
    ck_assert_double_nan(at(6)->value);
    ck_assert_uint_eq(at(6)->line, 11);
    ck_assert_str_eq(dregs_readings_unit(readings, at(0)->unit, &unit), "uS/cm");
    ck_assert_near(unit.scale, 1e-4, 1e-15, "uS/cm");
    ck_assert_str_eq(dregs_readings_unit(readings, at(1)->unit, NULL), "mS/m");
    ck_assert_str_eq(dregs_readings_unit(readings, at(2)->unit, &unit), "g/L");
    ck_assert_near(unit.scale, 1.0, 1e-15, "g/L");
    ck_assert_str_eq(dregs_readings_unit(readings, at(4)->unit, &unit), "NTU");
    ck_assert_near(unit.scale, 1.0, 0, "the meter's own");
    ck_assert_str_eq(dregs_readings_unit(readings, at(5)->unit, NULL), "oz/gal");
    ck_assert_ptr_null(dregs_readings_unit(readings, 6, NULL));
    ck_assert_uint_eq(dregs_readings_counted(readings)->rows, 7);
    ck_assert_uint_eq(dregs_readings_counted(readings)->dumps, 1);
    ck_assert_uint_eq(dregs_readings_counted(readings)->late, 0);
}

START_TEST(every_column_in_si)
{
    static const size_t pieces[] = {1, 2, 7, 64, sizeof awkward};

    ck_assert_int_eq(feed(awkward, sizeof awkward - 1, pieces[_i]), DREGS_OK);
    check_awkward();
    ck_assert_str_eq(dregs_readings_name(readings), "own.csv");
    ck_assert_int_eq(dregs_readings_zoned(readings), 0);
    ck_assert(dregs_readings_of(readings, BATH) && dregs_readings_of(readings, FIRST) &&
              dregs_readings_of(readings, LAST));
    ck_assert(!dregs_readings_of(readings, FAN) && !dregs_readings_of(readings, 4) &&
              !dregs_readings_of(readings, 64) && !dregs_readings_of(readings, (unsigned)-1));
    ck_assert_ptr_null(dregs_readings_at(readings, 7));
    ck_assert_ptr_null(dregs_readings_at(readings, (size_t)-1));
}
END_TEST

#define LOG "time,stage,loads,quantity,value,unit\n"

START_TEST(zones_are_of_utc)
{
    /* the second one is the earlier one */
    read_log(LOG "2026-03-02T07:30Z,last,4,conductivity,2,uS/cm\n"
                 "2026-03-02T07:30+01:00,last,3,conductivity,1,uS/cm\n");
    ck_assert_int_eq(dregs_readings_zoned(readings), 1);
    ck_assert_near(at(0)->time, MORNING - 3600, 0, "07:30+01:00");
    ck_assert_int_eq(at(0)->loads, 3);
    ck_assert_near(at(1)->time, MORNING, 0, "07:30Z");
    ck_assert_uint_eq(dregs_readings_counted(readings)->late, 1);
    ck_assert_uint_eq(dregs_readings_counted(readings)->first_late, 3);
}
END_TEST

START_TEST(nothing_is_asked_of_faults)
{
    readings = dregs_readings_new("own.csv", line, NULL);
    ck_assert_int_eq(dregs_readings_feed(readings, "time\n", 5), DREGS_BAD_DATA);
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_BAD_DATA);
    dregs_readings_free(NULL);
}
END_TEST

/* ---- where a row stands among the loads ---- */

/* `at` and `fill` of the readings in their order; -2 ends the list. */
static void check_places(const int64_t *expected)
{
    size_t i;

    for (i = 0; expected[2 * i] != -2; i++) {
        const dregs_reading *r = at(i);
        ck_assert_msg(r->at == expected[2 * i] && r->fill == expected[2 * i + 1],
                      "reading %zu (line %lu): at %ld, filled at %ld, expected %ld and %ld", i,
                      r->line, (long)r->at, (long)r->fill, (long)expected[2 * i],
                      (long)expected[2 * i + 1]);
    }
    ck_assert_uint_eq(dregs_readings_kept(readings), i);
}

/* Counted by hand; the first fill that is known of is load 0. */
static const struct {
    const char *rows;
    int64_t places[24]; /* at, fill */
    unsigned long long late, went_back, went_on, missing, duplicate;
    unsigned long first; /* line of the first of these */
} counts[] = {
    /* one tank, a dump with its count, one without */
    {"2026-03-02,last,3,conductivity,1,uS/cm\n2026-03-03,last,8,conductivity,1,uS/cm\n"
     "2026-03-04,last,9,dump,,\n2026-03-05,last,2,conductivity,1,uS/cm\n"
     "2026-03-06,last,,dump,,\n2026-03-07,last,0,conductivity,1,uS/cm\n",
     {3, 0, 8, 0, 9, 9, 11, 9, 11, 11, 11, 11, -2},
     0,
     0,
     0,
     0,
     0,
     0},
    /* two tanks; the first was filled two loads before the last, and is dumped after the seventh of
     * the last one */
    {"2026-03-02,last,3,conductivity,1,uS/cm\n2026-03-02,first,5,conductivity,1,uS/cm\n"
     "2026-03-04,last,7,conductivity,1,uS/cm\n2026-03-05,first,,dump,,\n"
     "2026-03-06,last,9,dump,,\n2026-03-07,last,2,conductivity,1,uS/cm\n"
     "2026-03-08,first,4,conductivity,1,uS/cm\n",
     {5, 2, 5, 0, 9, 2, 9, 9, 11, 11, 13, 11, 13, 9, -2},
     0,
     0,
     0,
     0,
     0,
     0},
    /* rows out of the order of time are put in their place */
    {"2026-03-04,last,9,dump,,\n2026-03-03,last,8,conductivity,1,uS/cm\n"
     "2026-03-05,last,2,conductivity,1,uS/cm\n2026-03-02,last,3,conductivity,1,uS/cm\n",
     {3, 0, 8, 0, 9, 9, 11, 9, -2},
     2,
     0,
     0,
     0,
     0,
     3},
    /* of two rows of one time the upper one was first: read, then dumped */
    {"2026-03-04,last,2,conductivity,1,uS/cm\n2026-03-03,last,8,conductivity,1,uS/cm\n"
     "2026-03-03,last,,dump,,\n",
     {8, 0, 8, 8, 10, 8, -2},
     2,
     0,
     0,
     0,
     0,
     3},
    /* a count that falls: a dump right after the row before, where nothing else is known */
    {"2026-03-02,last,8,conductivity,1,uS/cm\n2026-03-03,last,3,conductivity,1,uS/cm\n",
     {8, 0, 11, 8, -2},
     0,
     1,
     0,
     0,
     0,
     3},
    /* the other tank has counted eight more by then, so that it was dumped five loads after */
    {"2026-03-02,last,8,conductivity,1,uS/cm\n2026-03-02,first,8,conductivity,1,uS/cm\n"
     "2026-03-03,first,16,conductivity,1,uS/cm\n2026-03-04,last,3,conductivity,1,uS/cm\n",
     {8, 0, 8, 0, 16, 0, 16, 13, -2},
     0,
     1,
     0,
     0,
     0,
     5},
    /* a count that goes on after a dump row is of that fill */
    {"2026-03-02,last,8,conductivity,1,uS/cm\n2026-03-03,last,8,dump,,\n"
     "2026-03-04,last,9,conductivity,1,uS/cm\n",
     {8, 0, 8, 8, 17, 8, -2},
     0,
     0,
     1,
     0,
     0,
     4},
    /* the same, but there was time for two loads in between: both were filled when it began */
    {"2026-03-02T08:00,last,3,conductivity,1,uS/cm\n2026-03-04T08:00,first,5,conductivity,1,uS/"
     "cm\n",
     {3, 0, 5, 0, -2},
     0,
     0,
     0,
     0,
     0,
     0},
    /* a log that begins with a dump */
    {"2026-03-02,last,,dump,,\n2026-03-03,last,4,conductivity,1,uS/cm\n",
     {0, 0, 4, 0, -2},
     0,
     0,
     0,
     0,
     0,
     0},
    /* without a value, without a count: passed over, but its tank counts as spoken of */
    {"2026-03-02,last,3,conductivity,1,uS/cm\n2026-03-03,first,5,conductivity,,uS/cm\n"
     "2026-03-04,last,,conductivity,1,uS/cm\n2026-03-05,last,4,conductivity,,\n"
     "2026-03-06,last,6,conductivity,1,uS/cm\n",
     {3, 0, 6, 0, -2},
     0,
     0,
     0,
     3,
     0,
     3},
    /* twice the same; the third has another value, the fourth another stage */
    {"2026-03-02,last,3,conductivity,1,uS/cm\n2026-03-02,last,3,conductivity,1,uS/cm\n"
     "2026-03-02,last,3,conductivity,2,uS/cm\n2026-03-02,first,3,conductivity,1,uS/cm\n"
     "2026-03-03,last,3,dump,,\n2026-03-03,last,3,dump,,\n",
     {3, 0, 3, 0, 3, 0, 3, 3, -2},
     0,
     0,
     0,
     0,
     2,
     3},
    /* two readings of one load, and two meters */
    {"2026-03-02,last,3,conductivity,1,uS/cm\n2026-03-02,last,3,haze,1,NTU\n"
     "2026-03-02,last,3,conductivity,1.2,uS/cm\n",
     {3, 0, 3, 0, 3, 0, -2},
     0,
     0,
     0,
     0,
     0,
     0},
};

START_TEST(rows_find_their_place)
{
    const dregs_readings_count *c;
    char text[2000];

    snprintf(text, sizeof text, "%s%s", LOG, counts[_i].rows);
    read_log(text);
    check_places(counts[_i].places);
    c = dregs_readings_counted(readings);
    ck_assert_uint_eq(c->late, counts[_i].late);
    ck_assert_uint_eq(c->went_back, counts[_i].went_back);
    ck_assert_uint_eq(c->went_on, counts[_i].went_on);
    ck_assert_uint_eq(c->missing, counts[_i].missing);
    ck_assert_uint_eq(c->duplicate, counts[_i].duplicate);
    ck_assert_uint_eq(c->gone, 0);
    ck_assert_uint_eq(c->first_late + c->first_went_back + c->first_went_on + c->first_missing +
                          c->first_duplicate,
                      counts[_i].first);
}
END_TEST

START_TEST(a_running_number)
{
    static const int64_t expected[] = {103, -1, 110, 110, 112, -1, 119, -1, 120, 120, -2};

    read_log("time,stage,load,quantity,value,unit\n"
             "2026-03-02,last,103,conductivity,1,uS/cm\n2026-03-03,last,110,dump,,\n"
             "2026-03-04,first,112,conductivity,1,uS/cm\n"
             "2026-03-05,last,119,conductivity,1,uS/cm\n2026-03-06,last,120,dump,,\n");
    check_places(expected);
    ck_assert_uint_eq(dregs_readings_counted(readings)->went_on, 0);
    ck_assert_uint_eq(dregs_readings_counted(readings)->went_back, 0);
}
END_TEST

/* The 16 rows before one are looked at for its like. */
START_TEST(a_duplicate_is_near)
{
    static char text[4000];
    int apart, i;

    for (apart = 15; apart <= 16; apart++) {
        size_t used =
            (size_t)snprintf(text, sizeof text, LOG "2026-03-02,last,3,conductivity,1,uS/cm\n");
        for (i = 0; i < apart; i++)
            used += (size_t)snprintf(text + used, sizeof text - used,
                                     "2026-03-02,last,3,conductivity,%d,uS/cm\n", 2 + i);
        snprintf(text + used, sizeof text - used, "2026-03-02,last,3,conductivity,1,uS/cm\n");
        read_log(text);
        ck_assert_uint_eq(dregs_readings_counted(readings)->duplicate, apart == 15);
    }
}
END_TEST

/* ---- long logs ---- */

static void feed_row(const char *format, ...) DREGS_FORMAT(1, 2);

static void feed_row(const char *format, ...)
{
    char row[200];
    va_list arguments;
    int length;

    va_start(arguments, format);
    length = vsnprintf(row, sizeof row, format, arguments);
    va_end(arguments);
    ck_assert_int_eq(dregs_readings_feed(readings, row, (size_t)length), DREGS_OK);
}

static void begin_log(void)
{
    dregs_readings_free(readings);
    memset(&faults, 0, sizeof faults);
    readings = dregs_readings_new("own.csv", line, &faults);
    feed_row("%s", "time,stage,loads,quantity,value,unit,spread,temperature\n");
}

enum { LOADS = 2000, DUMPED = 1250 };

/* Ten readings after each load, by two meters that take turns; a dump between. All stay, those of
 * one meter and load as one. */
START_TEST(readings_of_one_load_become_one)
{
    int load, k;
    size_t i;

    begin_log();
    for (load = 1; load <= LOADS; load++) {
        char when[32];
        snprintf(when, sizeof when, "2026-03-02T%02d:%02d:%02d", load / 3600, load / 60 % 60,
                 load % 60);
        for (k = 0; k < 10; k++) {
            if (k % 2)
                feed_row("%s,first,%d,haze,%d,NTU,%d,\n", when, load, k, k == 5 ? 4 : 1);
            else
                feed_row("%s,last,%d,conductivity,%d,uS/cm,,%d degC\n", when,
                         load > DUMPED ? load - DUMPED : load, 100 + load % 37 + k, 20 + k);
        }
        if (load == DUMPED)
            feed_row("%s,last,%d,dump,,\n", when, load);
    }
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_OK);
    ck_assert_uint_eq(dregs_readings_kept(readings), 2 * LOADS + 1);
    ck_assert_uint_eq(dregs_readings_counted(readings)->gone, 0);
    ck_assert_uint_eq(dregs_readings_counted(readings)->rows, 10 * LOADS + 1);
    ck_assert_uint_eq(dregs_readings_counted(readings)->duplicate, 0);
    for (i = 0; i < dregs_readings_kept(readings); i++) {
        const dregs_reading *r = at(i);
        ck_assert_msg(i == 0 || r->at >= at(i - 1)->at, "reading %zu is out of order", i);
        if (r->what == DREGS_MEASURED_DUMP) {
            ck_assert_int_eq(r->at, DUMPED);
            continue;
        }
        ck_assert_uint_eq(r->rows, 5);
        load = (int)r->at;
        if (r->what == DREGS_MEASURED_SCALE) { /* 1, 3, 5, 7, 9; the largest spread */
            ck_assert_near(r->value, 5, 1e-13, "load %d", load);
            ck_assert_near(r->sd, 4, 0, "spread");
            ck_assert_int_eq(r->fill, 0);
        } else { /* 0, 2, 4, 6, 8 */
            ck_assert_near(r->value, 1e-4 * (104 + load % 37), 1e-13, "load %d", load);
            ck_assert_near(r->temperature, 273.15 + 24, 1e-13, "load %d", load);
            ck_assert_int_eq(r->fill, load > DUMPED ? DUMPED : 0);
        }
    }
}
END_TEST

/* One and two rows of a load: every row counts alike in the mean, however they come. */
START_TEST(late_rows_become_one_with_theirs)
{
    int load;
    size_t i;

    begin_log();
    for (load = 1; load <= 6000; load++) {
        feed_row("2026-03-02T%02d:%02d:%02d,last,%d,conductivity,2,uS/cm,,\n", load / 3600,
                 load / 60 % 60, load % 60, load);
        feed_row("2026-03-02T%02d:%02d:%02d,last,%d,conductivity,3,uS/cm,,\n", load / 3600,
                 load / 60 % 60, load % 60, load);
    }
    for (load = 6000; load >= 1; load--)
        feed_row("2026-03-02T%02d:%02d:%02d.5,last,%d,conductivity,7,uS/cm,,\n", load / 3600,
                 load / 60 % 60, load % 60, load);
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_OK);
    ck_assert_uint_eq(dregs_readings_kept(readings), 6000);
    ck_assert_uint_eq(dregs_readings_counted(readings)->late, 5999);
    for (i = 0; i < 6000; i++) {
        ck_assert_int_eq(at(i)->at, (int64_t)i + 1);
        ck_assert_uint_eq(at(i)->rows, 3);
        ck_assert_near(at(i)->value, 4e-4, 1e-13, "mean of 2, 3 and 7");
    }
}
END_TEST

/* The same count, but of the next fill; another unit; with a temperature and without. */
START_TEST(not_made_one)
{
    int load, k;

    begin_log();
    feed_row("2026-03-01,last,5,conductivity,2,uS/cm,,\n2026-03-01,last,5,dump,,,,\n"
             "2026-03-01,last,5,conductivity,4,uS/cm,,\n"
             "2026-03-01,last,5,conductivity,8,mS/m,,\n");
    feed_row("2026-03-01,last,5,conductivity,16,mS/m,,20 degC\n");
    for (load = 6; load < 6006; load++)
        for (k = 0; k < 3; k++)
            feed_row("2026-03-02,last,%d,conductivity,%d,uS/cm,,\n", load, k);
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_OK);
    ck_assert_uint_eq(dregs_readings_counted(readings)->gone, 0);
    ck_assert_uint_eq(dregs_readings_kept(readings), 5 + 6000);
    ck_assert_near(at(0)->value, 2e-4, 1e-14, "before the dump");
    ck_assert_int_eq(at(1)->what, DREGS_MEASURED_DUMP);
    ck_assert_near(at(2)->value, 4e-4, 1e-14, "after it");
    ck_assert_near(at(3)->value, 8e-3, 1e-14, "in mS/m");
    ck_assert_near(at(4)->value, 1.6e-2, 1e-14, "with a temperature");
    for (k = 0; k < 5; k++)
        ck_assert_uint_eq(at((size_t)k)->rows, 1);
    ck_assert_uint_eq(at(5)->rows, 3);
}
END_TEST

/* Two readings after each of many loads: what is kept is the end, as much as there is room for. */
START_TEST(the_oldest_are_let_go)
{
    enum { MANY = 100000, LEFT = DREGS_READINGS_KEPT / 2 };
    int load;
    size_t i;

    begin_log();
    for (load = 1; load <= MANY; load++)
        feed_row("2026-03-02,last,%d,conductivity,%d,uS/cm,,\n"
                 "2026-03-02,last,%d,conductivity,%d.5,uS/cm,,\n",
                 load, load, load, load);
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_OK);
    ck_assert_uint_eq(dregs_readings_kept(readings), LEFT);
    ck_assert_uint_eq(dregs_readings_counted(readings)->rows, 2 * MANY);
    ck_assert_uint_eq(dregs_readings_counted(readings)->gone, 2 * (MANY - LEFT));
    for (i = 0; i < LEFT; i++) {
        ck_assert_int_eq(at(i)->loads, (int64_t)(MANY - LEFT + i + 1));
        ck_assert_int_eq(at(i)->at, at(i)->loads);
        ck_assert_int_eq(at(i)->fill, 0);
        ck_assert_uint_eq(at(i)->rows, 2);
        ck_assert_near(at(i)->value, 1e-4 * ((double)at(i)->loads + 0.25), 1e-13, "reading %zu", i);
    }
}
END_TEST

/* A row that comes late becomes one with its own load, though that has been made one before. */
START_TEST(a_late_row_finds_its_load)
{
    enum { ALL = 8100, LATE = 100 };
    int load, k;

    begin_log();
    for (load = 1; load <= ALL; load++)
        for (k = 0; k < 3; k++)
            feed_row("2026-03-%02dT%02d:%02d,last,%d,conductivity,%d,uS/cm,,\n", 1 + load / 1440,
                     load / 60 % 24, load % 60, load, load + k);
    feed_row("2026-03-01T01:40,last,%d,conductivity,105,uS/cm,,\n", LATE);
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_OK);
    ck_assert_uint_eq(dregs_readings_kept(readings), ALL);
    ck_assert_uint_eq(dregs_readings_counted(readings)->late, 1);
    for (load = 1; load <= ALL; load++)
        ck_assert_uint_eq(at((size_t)load - 1)->rows, load == LATE ? 4 : 3);
    /* (100 + 101 + 102 + 105) / 4 */
    ck_assert_near(at(LATE - 1)->value, 102e-4, 1e-13, "with the late row");
}
END_TEST

/* As many as are kept stay as they are. */
START_TEST(up_to_the_room_nothing_is_done)
{
    int i;

    begin_log();
    for (i = 0; i < DREGS_READINGS_KEPT; i++)
        feed_row("2026-03-02,last,3,conductivity,%d,uS/cm,,\n", i);
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_OK);
    ck_assert_uint_eq(dregs_readings_kept(readings), DREGS_READINGS_KEPT);
    begin_log();
    for (i = 0; i <= DREGS_READINGS_KEPT; i++)
        feed_row("2026-03-02,last,3,conductivity,%d,uS/cm,,\n", i);
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_OK);
    ck_assert_uint_eq(dregs_readings_kept(readings), 1);
    ck_assert_uint_eq(at(0)->rows, DREGS_READINGS_KEPT + 1);
    ck_assert_near(at(0)->value, 0.5e-4 * DREGS_READINGS_KEPT, 1e-11, "mean");
}
END_TEST

/* ---- faults ---- */

/* The log is LOG, the row "2026-03-02,last,3,conductivity,1,uS/cm" as line 2, and these: one fault
 * on `line`, whose text holds all the words. */
/* clang-format off */
static const struct {
    const char *rows;
    unsigned long line;
    const char *words[3];
} faulty[] = {
    {"2026-03-02,lst,3,conductivity,1,uS/cm", 3, {"stage: 'lst' is not a wash or rinse of test.csv", "nearest: 'last'"}},
    {"2026-03-02,fan,3,conductivity,1,uS/cm", 3, {"stage: 'fan' is not a wash or rinse"}},
    {"2026-03-02,air,3,conductivity,1,uS/cm", 3, {"stage: 'air' is not"}},
    {"2026-03-02,Last,3,conductivity,1,uS/cm", 3, {"stage: 'Last' is not"}},
    {"2026-03-02,,3,conductivity,1,uS/cm", 3, {"stage: nothing is not"}},
    {"2026-03-02,last,3,conductvity,1,uS/cm", 3, {"quantity: 'conductvity' is not", "nearest: 'conductivity'"}},
    {"2026-03-02,last,3,Dump,,", 3, {"quantity: 'Dump' is not", "nearest: 'dump'"}},
    {"2026-03-02,last,3,,1,uS/cm", 3, {"quantity: nothing is not"}},
    {"2026-03-02,last,3,concentration slat,1,mg/L", 3, {"'concentration slat' is not", "nearest: 'concentration salt'"}},
    {"2026-03-02,last,3,concentration,1,mg/L", 3, {"'concentration' is not"}},
    {"2026-03-02,last,3,turbidity,1,NTU", 3, {"'turbidity' is read by a calibration", "none of that name"}},
    {"2026-03-02,last,3,conductivity,1,mg/L", 3, {"unit 'mg/L'", "for example 'uS/cm'"}},
    {"2026-03-02,last,3,conductivity,1,uS", 3, {"unit 'uS'", "for example 'uS/cm'"}},
    {"2026-03-02,last,3,conductivity,1,uScm", 3, {"unit 'uScm'"}},
    {"2026-03-02,last,3,conductivity,1,", 3, {"unit missing"}},
    {"2026-03-02,last,3,non-volatile residue,1,uS/cm", 3, {"unit 'uS/cm'", "for example 'mg/L'"}},
    {"2026-03-02,last,3,concentration oil,1,%", 3, {"unit '%'", "for example 'mg/L'"}},
    {"2026-03-02,last,3,haze,1,FNU", 3, {"unit 'FNU'", "the calibration 'haze' is in 'NTU'"}},
    {"2026-03-02,last,3,haze,1,", 3, {"unit missing", "is in 'NTU'"}},
    {"2026-03-02,last,3,haze,1,ntu", 3, {"unit 'ntu'"}},
    {"2026-03-02,last,3,conductivity,\"1,5\",uS/cm", 3, {"value: '1,5' is not a number", "28.5"}},
    {"2026-03-02,last,3,conductivity,nan,uS/cm", 3, {"value: 'nan' is not a number"}},
    {"2026-03-02,last,3,conductivity,inf,uS/cm", 3, {"value: 'inf' is not a number"}},
    {"2026-03-02,last,3,conductivity,0x1p3,uS/cm", 3, {"value: '0x1p3' is not a number"}},
    {"2026-03-02,last,3,conductivity,1e999,uS/cm", 3, {"value: '1e999' is not a number"}},
    {"2026-03-02,last,3,conductivity,12 uS/cm,uS/cm", 3, {"value: '12 uS/cm' is not a number"}},
    {"2026-03-02,last,3,conductivity,-,uS/cm", 3, {"value: '-' is not a number"}},
    {"2026-03-02,last,3,conductivity,-0.1,uS/cm", 3, {"value: '-0.1' uS/cm is nothing a meter can show"}},
    {"2026-03-02,last,3,concentration oil,-1,mg/L", 3, {"value: '-1' mg/L is nothing a meter can show"}},
    {"2026-03-02,last,3,conductivity,1e200,uS/cm", 3, {"value: '1e200'"}},
    {"2026-03-02,last,3,haze,-1e16,NTU", 3, {"value: '-1e16'"}},
    {"2026-03-02,last,3,dump,1,", 3, {"a dump has no value"}},
    {"2026-03-02,last,3.5,conductivity,1,uS/cm", 3, {"loads: '3.5' is not a whole number of loads"}},
    {"2026-03-02,last,-3,conductivity,1,uS/cm", 3, {"loads: '-3' is not"}},
    {"2026-03-02,last,three,conductivity,1,uS/cm", 3, {"loads: 'three' is not"}},
    {"2026-03-02,last,2e12,conductivity,1,uS/cm", 3, {"loads: '2e12' is not"}},
    {"2026-03-02,last,-1,dump,,", 3, {"loads: '-1' is not"}},
    {",last,3,conductivity,1,uS/cm", 3, {"time: nothing is not a time such as 2026-03-02T07:30"}},
    {"2026-02-29,last,3,conductivity,1,uS/cm", 3, {"time: '2026-02-29' is not a time"}},
    {"31.02.2026,last,3,conductivity,1,uS/cm", 3, {"time: '31.02.2026' is not a time"}},
    {"2026-03-02T07:30Z,last,3,conductivity,1,uS/cm", 3, {"time: '2026-03-02T07:30Z' states its zone, unlike the rows above"}},
    {"2026-03-02,last,3,conductivity,1,uS/cm,,", 3, {"8 cells under a header of 6"}},
    {"2026-03-02,last,3,conductivity,\"1,uS/cm", 3, {"a quote is opened here and never closed"}},
    {"2026-03-02,last,3,conductivity,1,uS/cm\xFF", 3, {"not UTF-8"}},
    {"2026-03-02,last,3,conduc\033tivity,1,uS/cm", 3, {"quantity: 'conduc?tivity'"}},
    {"\n# nothing\n2026-03-03,last,x,conductivity,1,uS/cm", 5, {"loads: 'x'"}},
};

/* Whole logs; line 0: of none. */
static const struct {
    const char *text;
    size_t length; /* 0: up to the NUL */
    unsigned long line;
    const char *words[2];
} hopeless[] = {
    {"", 0, 0, {"the log is empty: not even a header"}},
    {"\n# a remark\n\n", 0, 0, {"the log is empty"}},
    {LOG, 0, 0, {"no reading in 0 rows"}},
    {LOG "2026-03-02,last,3,conductivity,,\n2026-03-02,last,,conductivity,1,uS/cm\n", 0, 0, {"no reading in 2 rows"}},
    {"time,stage,loads,quantity,valeu,unit\n", 0, 1, {"unknown column 'valeu'", "nearest: 'value'"}},
    {"time,stage,loads,quantity,unit\n", 0, 1, {"there is no column 'value'", "time,stage,loads,quantity,value,unit"}},
    {"time,stage,quantity,value,unit\n", 0, 1, {"there is no column 'loads'"}},
    {"stage,loads,quantity,value,unit\n", 0, 1, {"there is no column 'time'"}},
    {"time,stage,loads,load,quantity,value,unit\n", 0, 1, {"'loads' (since the last dump) and 'load' (a running number) exclude each other"}},
    {"time,time,stage,loads,quantity,value,unit\n", 0, 1, {"column 'time' is there twice"}},
    {"time;stage;loads,quantity;value;unit\n", 0, 1, {"separated by ';' and by ','"}},
    {"%PDF-1.4\n\x01\x02", 0, 1, {"a PDF document, no CSV file"}},
    {"t\0i\0m\0e\0", 8, 1, {"a NUL byte"}},
    {LOG "2026-03-02,last,3,conductivity,1,uS/cm\n2026-03-02,\0", sizeof LOG + 51, 3, {"a NUL byte"}},
    {"time,stage,loads,quantity,value,unit,spread\n2026-03-02,last,3,conductivity,1,uS/cm,-1\n", 0, 2, {"spread: '-1' is not a number >= 0 in the row's unit or a share such as 3%"}},
    {"time,stage,loads,quantity,value,unit,spread\n2026-03-02,last,3,conductivity,1,uS/cm,3%%\n", 0, 2, {"spread: '3%%'"}},
    {"time,stage,loads,quantity,value,unit,spread\n2026-03-02,last,3,conductivity,1,uS/cm,%\n", 0, 2, {"spread: '%'"}},
    {"time,stage,loads,quantity,value,unit,spread\n2026-03-02,last,3,conductivity,1,uS/cm,nan\n", 0, 2, {"spread: 'nan'"}},
    {"time,stage,loads,quantity,value,unit,temperature\n2026-03-02,last,3,conductivity,1,uS/cm,21.9\n", 0, 2, {"temperature: '21.9'", "such as 23.5 degC"}},
    {"time,stage,loads,quantity,value,unit,temperature\n2026-03-02,last,3,conductivity,1,uS/cm,21.9 L\n", 0, 2, {"temperature: '21.9 L'"}},
    {"time,stage,loads,quantity,value,unit,temperature\n2026-03-02,last,3,conductivity,1,uS/cm,21.9 K\n", 0, 2, {"temperature: '21.9 K' is not that of a bath"}},
    {"time,stage,loads,quantity,value,unit,temperature\n2026-03-02,last,3,conductivity,1,uS/cm,127 degC\n", 0, 2, {"'127 degC' is not that of a bath"}},
    {"time,stage,load,quantity,value,unit\n2026-03-02,last,1.5,conductivity,1,uS/cm\n", 0, 2, {"load: '1.5' is not a whole number of loads"}},
};
/* clang-format on */

static void check_fault(int number, unsigned long on, const char *const *words, int most)
{
    int k, found = faults.fault[0].line == on;

    for (k = 0; k < most && words[k]; k++)
        found = found && strstr(faults.fault[0].text, words[k]);
    ck_assert_msg(faults.count >= 1, "case %d: no fault", number);
    ck_assert_msg(found, "case %d, expected line %lu, %s; %u faults, the first: line %lu: %s",
                  number, on, words[0], faults.count, faults.fault[0].line, faults.fault[0].text);
    /* a column that is misspelt is also missing */
    ck_assert_msg(faults.count == 1 || strstr(words[0], "unknown column"),
                  "case %d: a second fault: line %lu: %s", number, faults.fault[1].line,
                  faults.fault[1].text);
    ck_assert_str_eq(faults.file, "own.csv");
}

START_TEST(every_fault_is_named)
{
    char text[600];

    snprintf(text, sizeof text, LOG "2026-03-02,last,3,conductivity,1,uS/cm\n%s\n",
             faulty[_i].rows);
    ck_assert_msg(feed(text, strlen(text), 5) == DREGS_BAD_DATA, "case %d was accepted: %s", _i,
                  faulty[_i].rows);
    check_fault(_i, faulty[_i].line, faulty[_i].words, 3);
}
END_TEST

START_TEST(what_is_no_log_is_refused)
{
    size_t length = hopeless[_i].length ? hopeless[_i].length : strlen(hopeless[_i].text);

    ck_assert_msg(feed(hopeless[_i].text, length, 3) == DREGS_BAD_DATA, "case %d was accepted", _i);
    check_fault(_i, hopeless[_i].line, hopeless[_i].words, 2);
}
END_TEST

START_TEST(no_more_than_twenty_faults_are_kept)
{
    static char text[20000];
    size_t used = (size_t)snprintf(text, sizeof text, LOG);
    unsigned i;

    for (i = 0; i < 50; i++)
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "2026-03-%02u,lost,3,conductivity,1,uS/cm\n", 1 + i % 28);
    ck_assert_int_eq(feed(text, used, 100), DREGS_BAD_DATA);
    ck_assert_uint_eq(faults.count, DREGS_FAULTS_MAX);
    ck_assert_uint_gt(faults.more, 0);
    for (i = 0; i < faults.count; i++)
        ck_assert_uint_eq(faults.fault[i].line, i + 2);
}
END_TEST

/* 22 solutes in three units each: 66 units, 64 are taken. */
START_TEST(too_many_units)
{
    static const char *const units[] = {"mg/L", "g/L", "kg/m3"};
    static struct lines_text words;
    dregs_line *own = line;
    unsigned i, k;

    lines_begin(&words);
    lines_say(&words, "%s", bench + strlen("item,property,value,unit\n"));
    for (i = 0; i < 22; i++)
        lines_say(&words, "s%02u,kind,solute,\n", i);
    line = lines_read(words.bytes);
    begin_log();
    for (i = 0; i < 22; i++)
        for (k = 0; k < 3; k++)
            if (i * 3 + k < 64)
                feed_row("2026-03-02,last,3,concentration s%02u,1,%s,,\n", i, units[k]);
    ck_assert_uint_eq(faults.count, 0);
    feed_row("2026-03-02,last,3,concentration s21,1,g/L,,\n");
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_BAD_DATA);
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_uint_eq(faults.fault[0].line, 66);
    ck_assert_ptr_nonnull(strstr(faults.fault[0].text, "more than 64 units in one log"));
    dregs_readings_free(readings);
    readings = NULL;
    lines_free(line);
    line = own;
}
END_TEST

/* ---- times ---- */

/* Seconds by GNU date 9.1, `date -u -d TIME +%s`, and Python's datetime for those without zone. */
static const struct {
    const char *text;
    double seconds;
    int zoned;
} times[] = {
    {"1970-01-01", 0, 0},
    {"1969-12-31T23:59", -60, 0},
    {"2026-03-02", 1772409600, 0},
    {"2026-03-02T07:30", 1772436600, 0},
    {"2026-03-02 07:30", 1772436600, 0},
    {"2026-03-02T07:30:15", 1772436615, 0},
    {"2026-03-02 07:30:15.5", 1772436615.5, 0},
    {"2026-03-02T07:30Z", 1772436600, 1},
    {"2026-03-02T07:30+01:00", 1772433000, 1},
    {"2026-03-02T07:30+0100", 1772433000, 1},
    {"2026-03-02T07:30:15.25-00:00", 1772436615.25, 1},
    {"2026-03-02T00:15-09:30", 1772444700, 1},
    {"2026-12-31T23:30-00:45", 1798762500, 1},
    {"2026-01-01T00:10+05:45", 1767205500, 1},
    {"2024-03-01T00:30+13:00", 1709206200, 1},
    {"2000-02-29T23:59:59Z", 951868799, 1},
    {"2024-02-29T12:00Z", 1709208000, 1},
    {"1904-02-29", -2077747200, 0},
    {"2096-02-29", 3981312000, 0},
    {"2100-02-28", 4107456000, 0},
    {"2100-03-01", 4107542400, 0},
    {"1900-01-01", -2208988800, 0},
    {"1900-03-01", -2203891200, 0},
    {"2999-12-31T23:59:59", 32503679999, 0},
};

START_TEST(times_are_read)
{
    double seconds = NAN;
    int zoned = -7;

    ck_assert_msg(dregs_time_read(times[_i].text, &seconds, &zoned) == DREGS_OK, "%s is refused",
                  times[_i].text);
    /* tenths of seconds are sums of decimals */
    ck_assert_msg(fabs(seconds - times[_i].seconds) <= 1e-6, "%s: got %.3f, expected %.3f",
                  times[_i].text, seconds, times[_i].seconds);
    ck_assert_int_eq(zoned, times[_i].zoned);
}
END_TEST

static const char *const no_times[] = {"",
                                       "2026",
                                       "2026-03",
                                       "26-03-02",
                                       "2026-3-2",
                                       "2026-00-10",
                                       "2026-13-01",
                                       "2026-03-00",
                                       "2026-03-32",
                                       "2026-04-31",
                                       "2026-02-29",
                                       "1900-02-29",
                                       "2100-02-29",
                                       "1899-12-31",
                                       "3000-01-01",
                                       "2026/03/02",
                                       "02.13.2026",
                                       "20260302",
                                       "2026-03-02T",
                                       "2026-03-02T07",
                                       "2026-03-02T7:30",
                                       "2026-03-02T24:00",
                                       "2026-03-02T07:60",
                                       "2026-03-02T07:30:60",
                                       "2026-03-02T07:30:5",
                                       "2026-03-02t07:30",
                                       "2026-03-02  07:30",
                                       "2026-03-02T07:30 ",
                                       " 2026-03-02",
                                       "2026-03-02 ",
                                       "2026-03-02T07:30z",
                                       "2026-03-02T07:30ZZ",
                                       "2026-03-02T07:30+1",
                                       "2026-03-02T07:30+01:",
                                       "2026-03-02T07:30+01",
                                       "2026-03-02T07:30+16:00",
                                       "2026-03-02T07:30+01:60",
                                       "2026-03-02T07:30 +01:00",
                                       "2026-03-02Z",
                                       "2026-03-02T07:30:15.",
                                       "2026-03-02T07.30",
                                       "2026-03-02T07:30:15,5",
                                       "-026-03-02",
                                       "2026-03-0\xD9\xA2",
                                       "yesterday"};

START_TEST(what_is_no_time_is_refused)
{
    double seconds = 2.385;
    int zoned = -7;

    ck_assert_msg(dregs_time_read(no_times[_i], &seconds, &zoned) == DREGS_BAD_DATA,
                  "'%s' is accepted", no_times[_i]);
    ck_assert(seconds == 2.385 && zoned == -7);
}
END_TEST

static int days_of(int year, int month)
{
    static const int length[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

    return month == 2 && (year % 400 == 0 || (year % 4 == 0 && year % 100)) ? 29
                                                                            : length[month - 1];
}

/* Day by day from 1900 to 2999, counted up here: 1900-01-01 is 25567 days before 1970-01-01. */
START_TEST(every_day_there_and_back)
{
    char text[32], into[DREGS_TIME_TEXT];
    double seconds, expected = -25567 * 86400.0;
    int year, month, day, zoned;

    for (year = 1900; year <= 2999; year++)
        for (month = 1; month <= 12; month++)
            for (day = 1; day <= days_of(year, month); day++, expected += 86400) {
                snprintf(text, sizeof text, "%04d-%02d-%02d", year, month, day);
                ck_assert_int_eq(dregs_time_read(text, &seconds, &zoned), DREGS_OK);
                ck_assert_msg(seconds == expected, "%s: %.0f, expected %.0f", text, seconds,
                              expected);
                snprintf(text, sizeof text, "%04d-%02d-%02d 23:07", year, month, day);
                ck_assert_str_eq(dregs_time_text(into, expected + 23 * 3600 + 7 * 60 + 59), text);
            }
    ck_assert_double_eq(expected, 32503680000.0); /* date -u -d 3000-01-01 +%s */
}
END_TEST

START_TEST(times_are_written)
{
    char into[DREGS_TIME_TEXT];

    ck_assert_ptr_eq(dregs_time_text(into, 0), into);
    ck_assert_str_eq(into, "1970-01-01 00:00");
    ck_assert_str_eq(dregs_time_text(into, -1), "1969-12-31 23:59");
    ck_assert_str_eq(dregs_time_text(into, 1772436659.9), "2026-03-02 07:30");
    ck_assert_str_eq(dregs_time_text(into, 951868799), "2000-02-29 23:59");
    ck_assert_str_eq(dregs_time_text(into, NAN), "-");
    ck_assert_str_eq(dregs_time_text(into, HUGE_VAL), "-");
    ck_assert_str_eq(dregs_time_text(into, -1e300), "-");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("readings");
    TCase *rows = tcase_create("rows"), *refusals = tcase_create("refusals");
    TCase *long_logs = tcase_create("long logs"), *when = tcase_create("times");

    tcase_add_checked_fixture(rows, setup, teardown);
    tcase_add_loop_test(rows, every_column_in_si, 0, 5);
    tcase_add_test(rows, zones_are_of_utc);
    tcase_add_test(rows, nothing_is_asked_of_faults);
    tcase_add_loop_test(rows, rows_find_their_place, 0, COUNT(counts));
    tcase_add_test(rows, a_running_number);
    tcase_add_test(rows, a_duplicate_is_near);
    suite_add_tcase(suite, rows);

    tcase_add_checked_fixture(long_logs, setup, teardown);
    tcase_set_timeout(long_logs, 120);
    tcase_add_test(long_logs, readings_of_one_load_become_one);
    tcase_add_test(long_logs, late_rows_become_one_with_theirs);
    tcase_add_test(long_logs, not_made_one);
    tcase_add_test(long_logs, the_oldest_are_let_go);
    tcase_add_test(long_logs, up_to_the_room_nothing_is_done);
    tcase_add_test(long_logs, a_late_row_finds_its_load);
    suite_add_tcase(suite, long_logs);

    tcase_add_checked_fixture(refusals, setup, teardown);
    tcase_add_loop_test(refusals, every_fault_is_named, 0, COUNT(faulty));
    tcase_add_loop_test(refusals, what_is_no_log_is_refused, 0, COUNT(hopeless));
    tcase_add_test(refusals, no_more_than_twenty_faults_are_kept);
    tcase_add_test(refusals, too_many_units);
    suite_add_tcase(suite, refusals);

    tcase_set_timeout(when, 60);
    tcase_add_loop_test(when, times_are_read, 0, COUNT(times));
    tcase_add_loop_test(when, what_is_no_time_is_refused, 0, COUNT(no_times));
    tcase_add_test(when, every_day_there_and_back);
    tcase_add_test(when, times_are_written);
    suite_add_tcase(suite, when);
    return run(suite);
}
