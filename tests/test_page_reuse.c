/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_page_reuse.c: the page of a log of readings, asked in C. The line is one still rinse of 1 L:
 * every load brings 1 g of soil, all taken off, and drags 0.1 L of it out over 1 m2 of part. Load n
 * keeps 1 - 0.9^n g/m2, which is 100 (1 - 0.9^n) ug/cm2, and leaves 9 (1 - 0.9^n) g/L in the tank.
 */
#include "check_main.h"
#include "dregs/number.h"
#include "dregs/page.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { LOADS = 4 };

static const char text[] = "item,property,value,unit\n"
                           "part,kind,load,\npart,parts,1,\npart,area,1,m2\npart,interval,1,h\n"
                           "soil,kind,solute,\nsoil,on parts,1,g\n"
                           "pure,kind,liquid,\npure,solvent,water,\n"
                           "r,kind,rinse,\nr,volume,1,L\nr,liquid,pure,\nr,film,100,um\n"
                           "r,removal,100,%\n";

struct written {
    char text[1 << 16];
    size_t used;
};

static int take(void *user, const char *bytes, size_t length)
{
    struct written *written = user;

    if (written->used + length >= sizeof written->text)
        return 1;
    memcpy(written->text + written->used, bytes, length);
    written->used += length;
    written->text[written->used] = '\0';
    return 0;
}

static dregs_line *line;
static dregs_readings *readings;
static dregs_reuse_result *result;
static dregs_report *report;

static void setup(void)
{
    (void)gsl_set_error_handler_off();
    line = lines_read(text);
}

static void teardown(void)
{
    dregs_report_free(report);
    dregs_reuse_result_free(result);
    dregs_readings_free(readings);
    lines_free(line);
}

/* The tank after each load, the last reading times a factor; the answer for a limit in kg/m2. */
static void ask(double limit, double last)
{
    static dregs_faults faults;
    dregs_reuse_request request;
    char log[1024] = "time,stage,loads,quantity,value,unit\n";
    unsigned n;

    for (n = 1; n <= LOADS; n++) {
        char number[DREGS_NUMBER_TEXT];
        size_t used = strlen(log);
        (void)dregs_number_exact(number, (n == LOADS ? last : 1) * 9 * (1 - pow(0.9, n)));
        snprintf(log + used, sizeof log - used,
                 "2026-03-02T%02u:00,r,%u,concentration soil,%s,g/L\n", n, n, number);
    }
    readings = dregs_readings_new("log.csv", line, &faults);
    ck_assert_ptr_nonnull(readings);
    ck_assert_int_eq(dregs_readings_feed(readings, log, strlen(log)), DREGS_OK);
    ck_assert_int_eq(dregs_readings_end(readings), DREGS_OK);
    dregs_reuse_request_init(&request);
    request.noise = 0.02;
    request.limit = limit;
    ck_assert_int_eq(dregs_reuse_answer(line, readings, &request, &result, &faults), DREGS_OK);
}

static void write_as(dregs_report_format format, struct written *written)
{
    written->used = 0;
    ck_assert_int_eq(dregs_report_write(report, format, 0, 0, take, written), DREGS_OK);
}

/* The next load keeps 100 (1 - 0.9^5) = 40.95 ug/cm2; no load keeps 100. */
START_TEST(tells_the_verdict)
{
    static const struct {
        double limit, last;
        const char *says, *json;
    } cases[] = {
        {0.75e-3, 1, "good for ", "\"is\":\"met\""},
        {2e-3, 1, "good for more loads after load 4, 2026-03-02 04:00: no end", "\"is\":\"met\""},
        {0.3e-3, 1, "dump now: the next load leaves ", "\"is\":\"missed\""},
        {0.75e-3, 1.5, "measure again: ", "\"is\":\"unknown\""}};
    static struct written written;
    const char *says = cases[_i].says, *found;

    ask(cases[_i].limit, cases[_i].last);
    ck_assert_int_eq(dregs_page_reuse(result, 0, &report), DREGS_OK);
    write_as(DREGS_REPORT_TEXT, &written);
    found = strstr(written.text, says); /* behind a warning: a load drags out a tenth of the tank */
    ck_assert_msg(found && found[-1] == '\n', "%.100s", written.text);
    write_as(DREGS_REPORT_JSON, &written);
    ck_assert_ptr_nonnull(strstr(written.text, cases[_i].json));
    dregs_report_free(report);
    report = NULL;
    ck_assert_int_eq(dregs_page_reuse_card(result, &report), DREGS_OK);
    write_as(DREGS_REPORT_TEXT, &written);
    ck_assert_ptr_nonnull(strstr(written.text, says));
}
END_TEST

/* The number behind a key of JSON. */
static double figure(const char *json, const char *key, const char *unit)
{
    char start[80], number[DREGS_NUMBER_TEXT] = "";
    const char *at;
    double value;

    snprintf(start, sizeof start, "\"%s\": {\"value\":", key);
    at = strstr(json, start);
    ck_assert_msg(at != NULL, "no %s", key);
    at += strlen(start);
    strncat(number, at, strcspn(at, ","));
    snprintf(start, sizeof start, ",\"unit\":\"%s\",\"low\":", unit);
    ck_assert_msg(strncmp(at + strlen(number), start, strlen(start)) == 0, "%s: %.60s", key, at);
    ck_assert_int_eq(dregs_number_read(number, &value), DREGS_OK);
    return value;
}

START_TEST(gives_figures)
{
    static struct written written;

    ask(0.75e-3, 1);
    ck_assert_int_eq(dregs_page_reuse(result, 0, &report), DREGS_OK);
    write_as(DREGS_REPORT_JSON, &written);
    ck_assert_near(figure(written.text, "next_residue", "ug/cm2"), 100 * (1 - pow(0.9, 5)), 0.02,
                   "the next load");
    ck_assert_near(figure(written.text, "drag_out_factor", "1"), 1, 0.02, "drag-out");
    /* 100 (1 - 0.9^13) = 74.6 and 100 (1 - 0.9^14) = 77.1: loads 5 to 13 keep at most 75 */
    ck_assert_near(figure(written.text, "loads", "1"), 9, 0.12, "loads");
}
END_TEST

START_TEST(lists_every_reading_at_every_writing)
{
    static struct written first, second;
    const char *row = first.text;
    unsigned rows = 0;

    ask(0.75e-3, 1.5);
    ck_assert_int_eq(dregs_page_reuse(result, 1, &report), DREGS_OK);
    write_as(DREGS_REPORT_CSV, &first);
    write_as(DREGS_REPORT_TEXT, &second);
    write_as(DREGS_REPORT_CSV, &second);
    ck_assert_str_eq(first.text, second.text);
    for (; (row = strstr(row, ",concentration soil,")) != NULL; row++)
        rows++;
    ck_assert_uint_eq(rows, LOADS);
    ck_assert_ptr_nonnull(strstr(first.text, ",alone,"));
}
END_TEST

/* A card is no table of one thing. */
START_TEST(a_card_has_no_csv)
{
    static struct written written;

    ask(0.75e-3, 1);
    ck_assert_int_eq(dregs_page_reuse_card(result, &report), DREGS_OK);
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_CSV, 0, 0, take, &written),
                     DREGS_DOMAIN);
    ck_assert_uint_eq(written.used, 0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("page_reuse");
    TCase *cases = tcase_create("page");

    tcase_add_checked_fixture(cases, setup, teardown);
    tcase_add_loop_test(cases, tells_the_verdict, 0, 4);
    tcase_add_test(cases, gives_figures);
    tcase_add_test(cases, lists_every_reading_at_every_writing);
    tcase_add_test(cases, a_card_has_no_csv);
    suite_add_tcase(suite, cases);
    return run(suite);
}
