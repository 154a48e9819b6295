/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_page_predict.c: the page of a prediction, asked in C. The line is one still rinse of 1 L:
 * every load brings 1 g of soil, all taken off, and drags 0.1 L of it out over 1 m2 of part, so
 * that load n keeps 1 - 0.9^n g/m2, which is 100 (1 - 0.9^n) ug/cm2.
 */
#include "check_main.h"
#include "dregs/number.h"
#include "dregs/page.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const char text[] = "item,property,value,unit\n"
                           "part,kind,load,\npart,parts,1,\npart,area,1,m2\npart,interval,1,h\n"
                           "soil,kind,solute,\nsoil,on parts,1,g\n"
                           "pure,kind,liquid,\npure,solvent,water,\n"
                           "r,kind,rinse,\nr,volume,1,L\nr,liquid,pure,\nr,film,100,um\n"
                           "r,removal,100,%\n"
                           "limit,kind,target,\nlimit,residue,25,ug/cm2\n";

struct written {
    char text[1 << 16];
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

static dregs_line *line;
static dregs_predict_result *result;
static dregs_report *report;

static void setup(void)
{
    (void)gsl_set_error_handler_off();
    line = lines_read(text);
}

static void teardown(void)
{
    dregs_report_free(report);
    dregs_predict_result_free(result);
    lines_free(line);
}

/* The first `loads` loads, every one of them listed. */
static void ask(uint64_t loads, int explain)
{
    dregs_predict_request request;

    dregs_predict_request_init(&request);
    request.loads = loads;
    request.every = 1;
    ck_assert_int_eq(dregs_predict_answer(line, &request, &result), DREGS_OK);
    ck_assert_int_eq(dregs_page_predict(line, &request, result, explain, &report), DREGS_OK);
}

static void write_as(dregs_report_format format, struct written *written)
{
    written->used = 0;
    written->most = sizeof written->text - 1;
    ck_assert_int_eq(dregs_report_write(report, format, 0, 0, take, written), DREGS_OK);
}

/* The value of "load,,total,residue," in CSV. */
static double total_of(const char *csv, unsigned load)
{
    char start[40], number[DREGS_NUMBER_TEXT] = "";
    const char *row;
    double value;

    snprintf(start, sizeof start, "\n%u,,total,residue,", load);
    row = strstr(csv, start);
    ck_assert_msg(row != NULL, "no row of load %u", load);
    row += strlen(start);
    strncat(number, row, strcspn(row, ","));
    ck_assert_int_eq(strncmp(row + strlen(number), ",ug/cm2\n", 8), 0);
    ck_assert_int_eq(dregs_number_read(number, &value), DREGS_OK);
    return value;
}

START_TEST(lists_every_load_at_every_writing)
{
    static struct written first, second;
    unsigned load;

    ask(9, 0);
    write_as(DREGS_REPORT_CSV, &first);
    for (load = 1; load <= 9; load++)
        ck_assert_near(total_of(first.text, load), 100 * (1 - pow(0.9, load)), 1e-12, "load %u",
                       load);
    ck_assert_ptr_null(strstr(first.text, "\n10,"));
    write_as(DREGS_REPORT_TEXT, &second);
    write_as(DREGS_REPORT_CSV, &second);
    ck_assert_str_eq(first.text, second.text);
}
END_TEST

/* 100 (1 - 0.9^2) = 19 and 100 (1 - 0.9^3) = 27.1 ug/cm2 stand below and above the limit of 25. */
START_TEST(tells_the_verdict)
{
    static const struct {
        unsigned loads;
        int explain;
        const char *says, *json;
    } cases[] = {{2, 0, "target met: 19 ug/cm2 at the worst load", "\"is\":\"met\""},
                 {3, 0, "target MISSED: 27.1 ug/cm2 at the worst load", "\"is\":\"missed\""},
                 {3, 1, "limit 25 ug/cm2, the worst load leaves 27.1 ", "\"is\":\"missed\""}};
    static struct written written;

    ask(cases[_i].loads, cases[_i].explain);
    write_as(DREGS_REPORT_TEXT, &written);
    ck_assert_ptr_nonnull(strstr(written.text, cases[_i].says));
    write_as(DREGS_REPORT_JSON, &written);
    ck_assert_ptr_nonnull(strstr(written.text, cases[_i].json));
}
END_TEST

/* Whatever is refused ends the writing, not the program. */
START_TEST(ends_with_its_sink)
{
    static struct written written;

    ask(2000, 0);
    written.most = 10000;
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_CSV, 0, 0, take, &written), DREGS_IO);
    ck_assert_uint_le(written.used, 10000);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("page_predict");
    TCase *cases = tcase_create("page");

    tcase_add_checked_fixture(cases, setup, teardown);
    tcase_add_test(cases, lists_every_load_at_every_writing);
    tcase_add_loop_test(cases, tells_the_verdict, 0, 3);
    tcase_add_test(cases, ends_with_its_sink);
    suite_add_tcase(suite, cases);
    return run(suite);
}
