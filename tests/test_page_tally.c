/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_page_tally.c: the page of a tally, asked in C. The line's year is arithmetic by hand: a load
 * of 1 m2 with a film of 1 mm takes 1 L along; ten loads a day of 24 h, 365 days; 0.5 L/h
 * evaporate; 100 L are dumped every day. So 4380 L evaporate, 3650 L dry off the parts, 36500 L are
 * dumped and the first fill of 100 L stands in the tank at the end: 44630 L at 2 EUR/L, and waste
 * at 0.5 EUR/L.
 */
#include "check_main.h"
#include "dregs/number.h"
#include "dregs/page.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define BALANCE 1e-9 /* of a year in closed form against sums by hand */

static const char head[] =
    "item,property,value,unit\nrack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\n"
    "rack,interval,2.4,h\noil,kind,solute,\nown,kind,liquid,\nown,solvent,isopropanol,\n"
    "own,price,2,EUR/L\nown,disposal,0.5,EUR/L\nvat,kind,rinse,\nvat,volume,100,L\n"
    "vat,liquid,own,\nvat,film,1,mm\nvat,dump every,10,1\ndays,kind,schedule,\n"
    "days,loads per shift,10,\ndays,shifts per day,1,\ndays,days per year,365,\n";

struct written {
    char text[1 << 17];
    size_t used, most; /* more than `most` bytes are refused */
};

static int take(void *user, const char *bytes, size_t length)
{
    struct written *written = user;

    if (written->used + length > written->most)
        return 1;
    memcpy(written->text + written->used, bytes, length);
    written->used += length;
    written->text[written->used] = '\0';
    return 0;
}

static dregs_line *lines[2];
static dregs_tally_result *result;
static dregs_report *report;

static dregs_line *vat_that_evaporates(const char *rate)
{
    char text[sizeof head + 60];

    snprintf(text, sizeof text, "%svat,evaporation,%s,L/h\n", head, rate);
    return lines_read(text);
}

static void setup(void)
{
    (void)gsl_set_error_handler_off();
    lines[0] = vat_that_evaporates("0.5");
    lines[1] = vat_that_evaporates("0.25");
}

static void teardown(void)
{
    dregs_report_free(report);
    dregs_tally_result_free(result);
    lines_free(lines[0]);
    lines_free(lines[1]);
}

static void ask(unsigned count, dregs_tally_view view, int explain)
{
    dregs_tally_question question;

    dregs_tally_question_init(&question);
    question.line = (const dregs_line *const *)lines;
    question.lines = count;
    ck_assert_int_eq(dregs_tally_answer(&question, &result, NULL), DREGS_OK);
    ck_assert_int_eq(dregs_page_tally(result, view, NULL, explain, &report), DREGS_OK);
}

/* With lines so long that no sentence is broken. */
static void write_as(dregs_report_format format, struct written *written)
{
    written->used = 0;
    written->most = sizeof written->text - 1;
    ck_assert_int_eq(dregs_report_write(report, format, 4000, 0, take, written), DREGS_OK);
}

static void says(const struct written *written, const char *words)
{
    ck_assert_msg(strstr(written->text, words) != NULL, "nothing says '%s'", words);
}

/* The number behind `start`, which stands at the beginning of a line of CSV or within JSON. */
static double number_behind(const char *text, const char *start)
{
    char number[DREGS_NUMBER_TEXT] = "";
    const char *at = strstr(text, start);
    double value;

    ck_assert_msg(at != NULL, "nothing begins with '%s'", start);
    at += strlen(start);
    strncat(number, at, strspn(at, "0123456789.e+-"));
    ck_assert_int_eq(dregs_number_read(number, &value), DREGS_OK);
    return value;
}

START_TEST(tells_the_year_in_words)
{
    static struct written written;

    ask(1, DREGS_TALLY_BALANCE, 0);
    write_as(DREGS_REPORT_TEXT, &written);
    says(&written, "a year takes 44.63 m3 of own and costs 107500 EUR; 36.5 m3 to the waste tank, "
                   "4.38 m3 into the air over the tanks, 3.65 m3 dry off the parts, 100 L are in "
                   "the tanks at the end\n");
    says(&written, "1. vat: dumped, 36500 L: ");
    says(&written, "\n  balance error                     none\n");
}
END_TEST

/* Each view of people, and the working, has its own tables. */
START_TEST(shows_a_view)
{
    static const struct {
        dregs_tally_view view;
        int explain;
        const char *says;
    } cases[] = {
        {DREGS_TALLY_BY_STAGE, 0, "\nvat, L                               own\n"},
        {DREGS_TALLY_BY_LIQUID, 0,
         "\n  evaporated                vat                     4380        "},
        {DREGS_TALLY_BY_MONTH, 0,
         "\nFebruary            280        3416           -        2800         336         "
         "280"},
        {DREGS_TALLY_BALANCE, 1,
         "\n    evaporated = evaporation / V x integral of the "
         "tank's content:\n      4380 L own;"}};
    static struct written written;

    ask(1, cases[_i].view, cases[_i].explain);
    write_as(DREGS_REPORT_TEXT, &written);
    says(&written, cases[_i].says);
}
END_TEST

START_TEST(lists_values_in_csv)
{
    static struct written first, second;

    ask(1, DREGS_TALLY_BY_MONTH, 0);
    write_as(DREGS_REPORT_CSV, &first);
    ck_assert_int_eq(strncmp(first.text, "stream,liquid,solute,period,value,unit\n", 39), 0);
    ck_assert_near(number_behind(first.text, "\ndumped,own,,year,"), 36500, BALANCE, "L dumped");
    ck_assert_near(number_behind(first.text, "\nevaporated,own,,February,"), 28 * 12, BALANCE,
                   "L in February");
    ck_assert_near(number_behind(first.text, "\ncost of liquid bought,,,year,"), 89260, BALANCE,
                   "EUR");
    write_as(DREGS_REPORT_JSON, &second);
    write_as(DREGS_REPORT_CSV, &second);
    ck_assert_str_eq(first.text, second.text);
}
END_TEST

START_TEST(names_the_stage_in_csv)
{
    static struct written written;

    ask(1, DREGS_TALLY_BY_STAGE, 0);
    write_as(DREGS_REPORT_CSV, &written);
    says(&written, "stream,liquid,solute,period,value,unit,stage\nfirst fill,own,,year,100,L,vat");
    says(&written, "\nfirst fill,own,,year,100,L,\n");
}
END_TEST

START_TEST(hands_figures_to_programs)
{
    static struct written written;

    ask(1, DREGS_TALLY_BY_STAGE, 0);
    write_as(DREGS_REPORT_JSON, &written);
    says(&written, "\"span\": \"year\"");
    ck_assert_near(number_behind(written.text, "\"evaporated\": {\"value\":"), 4380, BALANCE, "L");
    ck_assert_near(number_behind(written.text, "\"cost\": {\"value\":"), 107510, BALANCE, "EUR");
    ck_assert_near(number_behind(written.text, "null,null,\"dumped\",\"own\","), 36500, BALANCE,
                   "L of the whole");
    ck_assert_near(number_behind(written.text, "\"vat\",null,\"dumped\",\"own\","), 36500, BALANCE,
                   "L of the stage");
    ck_assert_near(number_behind(written.text, "null,\"April\",\"dumped\",\"own\","), 3000, BALANCE,
                   "L of a month");
}
END_TEST

/* Half of the evaporation is 2190 L a year less; a name stands before what is said of each. */
START_TEST(sets_lines_side_by_side)
{
    static struct written written;

    ask(2, DREGS_TALLY_BALANCE, 0);
    write_as(DREGS_REPORT_TEXT, &written);
    says(&written, "evaporated, L                                 4380        2190       -2190\n");
    write_as(DREGS_REPORT_JSON, &written);
    says(&written, "\"file\": null");
    ck_assert_ptr_null(strstr(written.text, "\"loads\": "));
    write_as(DREGS_REPORT_CSV, &written);
    says(&written, "stream,liquid,solute,period,value,unit,file\n");
}
END_TEST

/* Whatever is refused ends the writing, not the program. */
START_TEST(ends_with_its_sink)
{
    static struct written written;

    ask(1, DREGS_TALLY_BY_MONTH, 0);
    written.most = 3000;
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_CSV, 0, 0, take, &written), DREGS_IO);
    ck_assert_uint_le(written.used, 3000);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("page_tally");
    TCase *cases = tcase_create("page");

    tcase_add_checked_fixture(cases, setup, teardown);
    tcase_add_test(cases, tells_the_year_in_words);
    tcase_add_loop_test(cases, shows_a_view, 0, 4);
    tcase_add_test(cases, lists_values_in_csv);
    tcase_add_test(cases, names_the_stage_in_csv);
    tcase_add_test(cases, hands_figures_to_programs);
    tcase_add_test(cases, sets_lines_side_by_side);
    tcase_add_test(cases, ends_with_its_sink);
    suite_add_tcase(suite, cases);
    return run(suite);
}
