/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_dates.c: a year by its dates. The working days of 2027 and 2028 are counted by hand beside
 * each month; hours and volumes follow from them. 2027-01-01 is a Friday, 2028 a leap year that
 * begins on a Saturday.
 */
#include "base/time.h"
#include "check_main.h"
#include "dregs/answer_tally.h"
#include "line/line.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <string.h>

static struct lines_text text;
static dregs_faults faults;

/* Three single closed days, a shutdown of three weeks, one between the years, a season of one shift
 * and a Saturday that is worked. */
static const char table_2027[] = "from,to,weekdays,shifts,loads,note\n"
                                 "2027-06-01,2027-07-31,,1,,summer: one shift\n"
                                 "2027-01-01,,,0,,New Year's Day\n"
                                 "2027-03-26,,,0,,Good Friday\n"
                                 "2027-03-29,,,0,,Easter Monday\n"
                                 "06.05.2027,,,0,,Ascension Day\n"
                                 "2027-05-17,,,0,,Whit Monday\n"
                                 "2027-08-02,2027-08-20,,0,,shutdown\n"
                                 "2027-12-24,2028-01-02,,0,,between the years\n"
                                 "2027-03-13,,Sat,1,40,stock is built up\n";

/* Of a month that begins on a Friday and has 31 days, Friday to Sunday come five times. */
static const unsigned days_2027[12] = {
    4 * 4 + 5 - 1,      /* January, from Friday: Fri 5 times; less the 1st */
    4 * 5,              /* February, 28 days */
    3 * 5 + 2 * 4 - 1,  /* March, from Monday: Mon to Wed 5 times; less the 26th and 29th, and the
                           Saturday */
    3 * 4 + 2 * 5,      /* April, from Thursday: Thu and Fri 5 times */
    5 + 4 * 4 - 2,      /* May, from Saturday: Mon 5 times; less the 6th and 17th */
    3 * 4 + 2 * 5,      /* June, from Tuesday: Tue and Wed 5 times */
    3 * 4 + 2 * 5,      /* July, from Thursday */
    2 * 5 + 3 * 4 - 15, /* August, from Sunday: Mon and Tue 5 times; less three weeks */
    2 * 5 + 3 * 4,      /* September, from Wednesday: Wed and Thu 5 times */
    4 * 4 + 5,          /* October, from Friday */
    2 * 5 + 3 * 4,      /* November, from Monday: Mon and Tue 5 times */
    3 * 5 + 2 * 4 - 6,  /* December, from Wednesday: Wed to Fri 5 times; less the 24th and the
                           27th to 31st */
};
static const unsigned length_2027[12] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

static const char line_text[] =
    "rack,kind,load,\nrack,parts,10,1\nrack,area,50,cm2\nrack,interval,8,min\n"
    "oil,kind,solute,\noil,on parts,2,mg\n"
    "di,kind,liquid,\ndi,solvent,water,\n"
    "bath,kind,wash,\nbath,volume,20,L\nbath,liquid,di,\nbath,film,40,um\nbath,removal,75,%%\n"
    "bath,evaporation,0.3,L/h\nbath,dump at,day end,\n"
    "last,kind,rinse,\nlast,volume,15,L\nlast,liquid,di,\nlast,film,40,um\nlast,flow,9,L/h\n"
    "plan,kind,schedule,\nplan,loads per shift,55,1\nplan,shifts per day,2,1\n"
    "plan,shift length,8,h\n";

static dregs_line *line_of(const char *more)
{
    lines_begin(&text);
    lines_say(&text, line_text);
    lines_say(&text, "%s", more);
    return lines_read(text.bytes);
}

static dregs_calendar_table *table_of(const char *bytes)
{
    dregs_calendar_table *table = NULL;

    memset(&faults, 0, sizeof faults);
    ck_assert_msg(!dregs_calendar_table_parse("days.csv", bytes, strlen(bytes), &table, &faults),
                  "%s", faults.fault[0].text);
    return table;
}

static dregs_tally *tally_of(const dregs_line *line, const dregs_tally_request *request,
                             const dregs_tally_dates *dates)
{
    char message[DREGS_TALLY_MESSAGE] = "";
    dregs_tally *tally = NULL;

    ck_assert_msg(!dregs_tally_new_by_dates(line, request, dates, &tally, message), "no tally: %s",
                  message);
    return tally;
}

#define VOLUME(which, stage, period)                                                               \
    dregs_tally_fluid(tally, DREGS_STREAM_##which, 0, stage, period)

START_TEST(the_days_of_2027_by_hand)
{
    dregs_line *line = line_of("plan,weekdays,Mon-Fri,\n");
    dregs_calendar_table *table = table_of(table_2027);
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, 0};
    dregs_tally_dates dates = {2027, 1, table};
    dregs_tally *tally = tally_of(line, &request, &dates);
    unsigned m, days = 0;

    for (m = 0; m < 12; m++) {
        double hours = 24.0 * length_2027[m], shifts = 2.0 * days_2027[m], loads;
        if (m == 5 || m == 6)
            shifts = days_2027[m]; /* one shift */
        loads = shifts * 55;
        if (m == 2) { /* the Saturday has one shift, of 40 loads */
            shifts -= 1;
            loads = (shifts - 1) * 55 + 40;
        }
        days += days_2027[m];
        ck_assert_uint_eq(dregs_tally_month(tally, m), m);
        ck_assert_uint_eq(dregs_tally_days(tally, m), days_2027[m]);
        ck_assert_uint_eq(dregs_tally_loads(tally, m), (uint64_t)loads);
        ck_assert_near(dregs_tally_seconds(tally, m), hours * 3600, 1e-15, "month %u", m);
        ck_assert_near(VOLUME(EVAPORATED, 0, m), 0.3e-3 * hours, 1e-12, "evaporated in %u", m);
        ck_assert_near(VOLUME(FED, 1, m), 9e-3 * 8 * shifts, 1e-12, "fed in %u", m);
        /* films: 10 x 50 cm2 x 40 um = 2 mL */
        ck_assert_near(VOLUME(TOPPED, 0, m), 0.3e-3 * hours + 2e-6 * loads, 1e-12, "top-up in %u",
                       m);
        ck_assert_near(VOLUME(DRIED, 1, m), 2e-6 * loads, 1e-12, "dried in %u", m);
    }
    ck_assert_uint_eq(days, 236);
    ck_assert_uint_eq(dregs_tally_days(tally, DREGS_WHOLE), 236);
    /* 191 days of two full shifts, 44 of one, and the Saturday */
    ck_assert_uint_eq(dregs_tally_loads(tally, DREGS_WHOLE), 191 * 110 + 44 * 55 + 40);
    ck_assert_near(dregs_tally_seconds(tally, DREGS_WHOLE), 365 * 86400.0, 1e-15, "year");
    /* behind each 110 loads, of 23470 */
    ck_assert_near(VOLUME(DUMPED, 0, DREGS_WHOLE), 213 * 20e-3, 1e-12, "dumped");
    ck_assert(dregs_tally_residual(tally) <= 1e-12);
    dregs_tally_free(tally);
    dregs_calendar_table_free(table);
    lines_free(line);
}
END_TEST

/* April 2027 to March 2028: 366 days, the 29th of February among them. The weekdays are not stated:
 * Monday and four days more. */
START_TEST(a_fiscal_year_goes_over_the_leap_day)
{
    static const unsigned days[12] = {
        22,           19, 22, 22, 7, 22, 21, 22, 17, /* April to December as above */
        21,                                          /* January, from Saturday: Mon 5 times */
        4 * 4 + 5,    /* February, 29 days from Tuesday: Tue 5 times */
        2 * 4 + 3 * 5 /* March, from Wednesday: Wed to Fri 5 times */
    };
    dregs_line *line = line_of("plan,days per week,5,1\n");
    dregs_calendar_table *table = table_of(table_2027);
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, 1};
    dregs_tally_dates dates = {2027, 4, table};
    dregs_tally *tally = tally_of(line, &request, &dates);
    unsigned m, all = 0;
    int told = 0;

    for (m = 0; m < 12; m++) {
        ck_assert_uint_eq(dregs_tally_month(tally, m), (m + 3) % 12);
        ck_assert_msg(dregs_tally_days(tally, m) == days[m], "month %u: %llu days", m,
                      (unsigned long long)dregs_tally_days(tally, m));
        all += days[m];
    }
    ck_assert_uint_eq(dregs_tally_days(tally, DREGS_WHOLE), all);
    ck_assert_near(dregs_tally_seconds(tally, 10), 29 * 86400.0, 1e-15, "February");
    ck_assert_near(dregs_tally_seconds(tally, DREGS_WHOLE), 366 * 86400.0, 1e-15, "year");
    ck_assert_near(VOLUME(EVAPORATED, 0, DREGS_WHOLE), 0.3e-3 * 24 * 366, 1e-12, "evaporated");
    for (m = 0; dregs_tally_assumed(tally, m); m++)
        told += strstr(dregs_tally_assumed(tally, m), "Mon-Fri are worked") != NULL;
    ck_assert_int_eq(told, 1);
    dregs_tally_free(tally);
    request.span = DREGS_SPAN_MONTH;
    tally = tally_of(line, &request, &dates);
    ck_assert_uint_eq(dregs_tally_days(tally, 0), 22);
    ck_assert_uint_eq(dregs_tally_month(tally, DREGS_WHOLE), 3);
    dregs_tally_free(tally);
    dregs_calendar_table_free(table);
    lines_free(line);
}
END_TEST

/* ---- months in a row ---- */

static dregs_tally_result *answer_of(const dregs_line *line, const dregs_tally_dates *dates,
                                     int running)
{
    dregs_tally_question question;
    dregs_tally_result *result = NULL;

    dregs_tally_question_init(&question);
    question.line = &line;
    question.lines = 1;
    question.span.running = running;
    question.dates = dates;
    memset(&faults, 0, sizeof faults);
    ck_assert_msg(!dregs_tally_answer(&question, &result, &faults), "%s", faults.fault[0].text);
    return result;
}

/* 9 L/h in shifts of 8 h. */
#define SHIFT 72e-3

START_TEST(quarters_make_the_year)
{
    /* January to March as above, the last with a Saturday of one shift; June and July have one */
    static const double shifts[4] = {2 * (20 + 20 + 21) + 1, 2 * (22 + 19) + 22, 22 + 2 * (7 + 22),
                                     2 * (21 + 22 + 17)};
    dregs_line *line = line_of("plan,weekdays,Mon-Fri,\n");
    dregs_calendar_table *table = table_of(table_2027);
    dregs_tally_dates dates = {2027, 1, table};
    dregs_tally_result *result = answer_of(line, &dates, 0);
    const dregs_tally_outline *year = dregs_tally_result_outline(result, 0, DREGS_WHOLE), *o;
    dregs_tally_request quarter = {DREGS_SPAN_QUARTER, 0, 0};
    double bought = 0, to_waste = 0, to_drain = 0, evaporated = 0;
    dregs_tally *tally;
    unsigned q;

    for (q = 0; q < 4; q++) {
        o = dregs_tally_result_over(result, 0, 3, 3 * q + 2);
        ck_assert_near(o->to_drain, shifts[q] * SHIFT, 1e-12, "quarter %u", q);
        bought += o->bought;
        to_waste += o->to_waste;
        to_drain += o->to_drain;
        evaporated += o->evaporated;
    }
    ck_assert_near(bought, year->bought, 1e-12, "bought");
    ck_assert_near(to_waste, year->to_waste, 1e-12, "to waste");
    ck_assert_near(to_drain, year->to_drain, 1e-12, "to drain");
    ck_assert_near(evaporated, year->evaporated, 1e-12, "evaporated");
    /* a line that is new has no month before its first */
    ck_assert_ptr_null(dregs_tally_result_over(result, 0, 3, 1));
    ck_assert_ptr_null(dregs_tally_result_over(result, 0, 12, 10));
    ck_assert_ptr_nonnull(dregs_tally_result_over(result, 0, 12, 11));
    ck_assert_ptr_null(dregs_tally_result_over(result, 0, 4, 11));
    ck_assert_ptr_null(dregs_tally_result_over(result, 0, 3, 12));
    tally = tally_of(line, &quarter, &dates);
    ck_assert_uint_eq(dregs_tally_days(tally, DREGS_WHOLE), 20 + 20 + 22);
    ck_assert_near(VOLUME(DRAINED, 1, DREGS_WHOLE), shifts[0] * SHIFT, 1e-12, "first quarter");
    dregs_tally_free(tally);
    dregs_tally_result_free(result);
    dregs_calendar_table_free(table);
    lines_free(line);
}
END_TEST

/* From June 2026, which begins on a Monday, to December are 30 weeks and four days from Monday on:
 * 154 working days, none of them closed. */
START_TEST(twelve_months_go_into_the_year_before)
{
    dregs_line *line = line_of("plan,weekdays,Mon-Fri,\n");
    dregs_calendar_table *table = table_of(table_2027);
    dregs_tally_dates dates = {2027, 1, table};
    dregs_tally_result *result = answer_of(line, &dates, 1);
    const dregs_tally *tally = dregs_tally_result_line(result, 0)->tally;
    const dregs_tally_outline *o = dregs_tally_result_over(result, 0, 12, 4);
    double shifts = 2 * 154 + 2 * (20 + 20 + 21 + 22 + 19) + 1;
    uint64_t days = 0;
    unsigned m;

    ck_assert_near(o->to_drain, shifts * SHIFT, 1e-12, "drained until May");
    ck_assert_near(o->evaporated, 0.3e-3 * 24 * 365, 1e-12, "evaporated until May");
    for (m = 5; m < 12; m++)
        days += dregs_tally_days(tally, DREGS_BEFORE + m);
    ck_assert_uint_eq(days, 154);
    /* what the year before has left is what this one begins with */
    for (m = 0; m < 2; m++)
        ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_HELD_FIRST, 0, m, 0),
                       dregs_tally_solute(tally, DREGS_STREAM_HELD_LAST, 0, m, DREGS_BEFORE + 11),
                       1e-15, "tank %u", m);
    ck_assert_double_nan(dregs_tally_seconds(tally, DREGS_BEFORE + 12));
    o = dregs_tally_result_over(result, 0, 3, 0); /* November to January */
    ck_assert_near(o->evaporated, 0.3e-3 * 24 * (30 + 31 + 31), 1e-12, "evaporated until January");
    dregs_tally_result_free(result);
    dregs_calendar_table_free(table);
    lines_free(line);
}
END_TEST

/* ---- what is refused ---- */

static void table_refused(const char *row, unsigned long at, const char *why)
{
    dregs_calendar_table *table = NULL;
    char bytes[400];

    snprintf(bytes, sizeof bytes, "from,to,weekdays,shifts,loads,note\n%s\n", row);
    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(dregs_calendar_table_parse("days.csv", bytes, strlen(bytes), &table, &faults),
                     DREGS_BAD_DATA);
    ck_assert_ptr_null(table);
    ck_assert_str_eq(faults.file, "days.csv");
    ck_assert_msg(faults.fault[0].line == at && strstr(faults.fault[0].text, why), "%lu: %s",
                  faults.fault[0].line, faults.fault[0].text);
}

START_TEST(rows_that_say_nothing_are_refused)
{
    table_refused("2027-02-29,,,0,,", 2, "from '2027-02-29' is no day");
    table_refused("2027-02-28,soon,,0,,", 2, "to 'soon' is no day");
    table_refused("2027-03-02,2027-03-01,,0,,", 2, "to '2027-03-01' is before from");
    table_refused("2027-03-02,,Fri-Mon,0,,", 2, "weekdays 'Fri-Mon'");
    table_refused("2027-03-02,,,25,,", 2, "shifts '25' is not a whole number from 0 to 24");
    table_refused("2027-03-02,,,1.5,,", 2, "shifts '1.5'");
    table_refused("2027-03-02,,,,,", 2, "shifts '' is not");
    table_refused("2027-03-02,,,0,7,", 2, "no shift");
    table_refused("2027-03-02,,,1,0,", 2, "loads '0' is not a whole number from 1");
    table_refused("2027-03-02,,,0,,,", 2, "7 cells");
    table_refused("# nothing", 0, "no row follows");
}
END_TEST

/* A row that does not fit the line is named with its place. */
static void year_refused(const char *row, const char *why)
{
    dregs_line *line = line_of("plan,weekdays,Mon-Fri,\n");
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, 0};
    dregs_tally_dates dates = {2027, 1, NULL};
    dregs_calendar_table *table;
    char bytes[400], message[DREGS_TALLY_MESSAGE] = "";
    dregs_tally *tally = NULL;

    snprintf(bytes, sizeof bytes, "from,to,weekdays,shifts,loads\n2027-01-01,,,0\n%s\n", row);
    dates.table = table = table_of(bytes);
    ck_assert_int_eq(dregs_tally_new_by_dates(line, &request, &dates, &tally, message),
                     DREGS_BAD_DATA);
    ck_assert_msg(strstr(message, why) == message, "%s", message);
    dregs_calendar_table_free(table);
    lines_free(line);
}

START_TEST(rows_that_do_not_fit_the_line_are_refused)
{
    /* 61 x 8 min = 8.133 h; 4 x 8 h = 32 h; 13 March 2027 is a Saturday */
    year_refused("2027-03-02,,,2,61",
                 "days.csv:3: 61 loads take 8.133 h, longer than the shift of 8 h");
    year_refused("2027-03-02,,,4,", "days.csv:3: the 4 shifts of a day take 32 h");
    year_refused("2027-03-13,,,1,", "days.csv:3: none of its days is worked by the schedule");
    year_refused("2027-03-13,,Mon,1,", "days.csv:3: none of its days is one of its weekdays");
}
END_TEST

START_TEST(a_request_needs_a_year_and_a_month)
{
    static const struct {
        int year;
        unsigned month;
    } bad[] = {{2027, 0}, {2027, 13}, {1899, 1}, {2201, 1}};
    dregs_line *line = line_of("");
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, 0};
    dregs_tally_dates dates = {0, 0, NULL};
    dregs_tally *tally = NULL;
    size_t i;

    for (i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        dates.year = bad[i].year;
        dates.month = bad[i].month;
        ck_assert_int_eq(dregs_tally_new_by_dates(line, &request, &dates, &tally, NULL),
                         DREGS_DOMAIN);
    }
    lines_free(line);
}
END_TEST

/* 1970-01-01 was a Thursday, 2000-02-29 a Tuesday, 1999-12-31 a Friday. */
START_TEST(weekdays_of_known_dates)
{
    unsigned days = 0;

    ck_assert_int_eq(dregs_weekday(dregs_day_number(1970, 1, 1)), 3);
    ck_assert_int_eq(dregs_weekday(dregs_day_number(2000, 2, 29)), 1);
    ck_assert_int_eq(dregs_weekday(dregs_day_number(1999, 12, 31)), 4);
    ck_assert_int_eq(dregs_weekday(dregs_day_number(1969, 12, 31)), 2);
    ck_assert_int_eq(dregs_weekday(dregs_day_number(1900, 1, 1)), DREGS_MONDAY);
    ck_assert(dregs_weekdays_read("Mon-Wed Sun", &days) && days == 7 + 64);
    ck_assert(!dregs_weekdays_read("", &days) && !dregs_weekdays_read("Mon,Tue", &days) &&
              !dregs_weekdays_read("mon", &days) && !dregs_weekdays_read("Monday", &days) &&
              !dregs_weekdays_read("Mon-", &days));
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("dates");
    TCase *c = tcase_create("dates");

    suite_add_tcase(s, c);
    tcase_add_test(c, the_days_of_2027_by_hand);
    tcase_add_test(c, a_fiscal_year_goes_over_the_leap_day);
    tcase_add_test(c, quarters_make_the_year);
    tcase_add_test(c, twelve_months_go_into_the_year_before);
    tcase_add_test(c, rows_that_say_nothing_are_refused);
    tcase_add_test(c, rows_that_do_not_fit_the_line_are_refused);
    tcase_add_test(c, a_request_needs_a_year_and_a_month);
    tcase_add_test(c, weekdays_of_known_dates);
    return s;
}

int main(void)
{
    gsl_set_error_handler_off();
    return run(suite());
}
