/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_refused.c: a request that is out of its range is refused, and the reason begins with the
 * member that was: the very one that the test has set, by the rule in dregs/status.h.
 */
#include "check_main.h"
#include "dregs/dregs.h"
#include "lines.h"

#include <math.h>
#include <string.h>

static const char base[] =
    "item,property,value,unit,spread\n"
    "rack,kind,load,,\nrack,parts,10,1,\nrack,area,10,cm2,\n"
    "rack,interval,5,min,\noil,kind,solute,,\noil,on parts,2,mg,10 %\n"
    "w,kind,liquid,,\nw,solvent,water,,\n"
    "wash,kind,wash,,\nwash,volume,20,L,\nwash,liquid,w,,\nwash,film,50,um,\n"
    "wash,removal,95,%,\nr,kind,rinse,,\nr,volume,5,L,\nr,liquid,w,,\n"
    "r,film,50,um,\nr,flow,10,L/h,\nt,kind,target,,\nt,residue,1,ug/cm2,\n";

static dregs_line *line;

static void setup(void)
{
    line = lines_read(base);
}

static void teardown(void)
{
    lines_free(line);
}

/* Of `set`, "asked.every = 8", the member. */
static void begins_with_member(const char *set, const char *message)
{
    const char *name = strchr(set, '.') + 1;
    size_t length = strcspn(name, " ");

    ck_assert_msg(strncmp(message, name, length) == 0 && strncmp(message + length, ": ", 2) == 0,
                  "%s: '%s' begins with another name", set, message);
}

#define WRONG(set)                                                                                 \
    do {                                                                                           \
        asked = good;                                                                              \
        set;                                                                                       \
        ck_assert_msg(ask(&asked, message) == DREGS_DOMAIN, "%s", #set);                           \
        begins_with_member(#set, message);                                                         \
    } while (0)

/* ---- predict, compare ---- */

static dregs_status ask_predict(dregs_predict_request *asked, char *message)
{
    dregs_predict_result *result = NULL;
    dregs_status status;

    memcpy(message, "before", sizeof "before");
    asked->message = message;
    status = dregs_predict_answer(line, asked, &result);
    ck_assert(!result == (status != DREGS_OK));
    dregs_predict_result_free(result);
    asked->message = NULL;
    result = NULL;
    ck_assert_int_eq(dregs_predict_answer(line, asked, &result), status);
    dregs_predict_result_free(result);
    return status;
}

START_TEST(predict)
{
    dregs_status (*const ask)(dregs_predict_request *, char *) = ask_predict;
    const uint64_t rising[] = {1, 4, 9}, falling[] = {4, 9, 9}, none[] = {1, 0};
    const uint64_t far[] = {1, 2, 3, 8};
    char message[DREGS_PREDICT_MESSAGE];
    dregs_predict_request good, asked;

    dregs_predict_request_init(&good);
    good.extent = DREGS_PREDICT_RESIDUES;
    good.loads = 9;
    asked = good;
    asked.at = rising;
    asked.at_count = 3;
    ck_assert_int_eq(ask(&asked, message), DREGS_OK);
    ck_assert_str_eq(message, "");
    WRONG(asked.loads = DREGS_LOADS_MOST + 1);
    WRONG(asked.shown = DREGS_LOADS_MOST + 1);
    WRONG(asked.every = DREGS_LOADS_MOST + 1);
    WRONG(asked.every = 10);
    good.at = rising;
    good.at_count = 3;
    WRONG(asked.every = 2);
    good.at = falling;
    ck_assert_int_eq(ask(&good, message), DREGS_DOMAIN);
    begins_with_member("good.at[2] ", message);
    good.at = none;
    good.at_count = 2;
    ck_assert_int_eq(ask(&good, message), DREGS_DOMAIN);
    begins_with_member("good.at[1] ", message);
    good.at = far;
    good.at_count = 4;
    good.loads = 7;
    ck_assert_int_eq(ask(&good, message), DREGS_DOMAIN);
    begins_with_member("good.at[3] ", message);
    asked.size = 0; /* not set up: its message is not looked at */
    ck_assert_int_eq(ask(&asked, message), DREGS_DOMAIN);
    ck_assert_str_eq(message, "before");
}
END_TEST

static dregs_status ask_compare(dregs_compare_request *asked, char *message)
{
    dregs_compare_result *result = NULL;
    dregs_status status;

    asked->message = message;
    status = dregs_compare_answer(line, line, asked, &result);
    dregs_compare_result_free(result);
    return status;
}

START_TEST(compare)
{
    dregs_status (*const ask)(dregs_compare_request *, char *) = ask_compare;
    dregs_line *other = lines_read_with(base, "liquid,property,equation,unit,A,source\n"
                                              "water,density,A,kg/m3,999,made up\n");
    char message[DREGS_PREDICT_MESSAGE] = "before";
    dregs_compare_result *result = NULL;
    dregs_compare_request good, asked;

    dregs_compare_request_init(&good);
    good.loads = 9;
    asked = good;
    ck_assert_int_eq(ask(&asked, message), DREGS_OK);
    ck_assert_str_eq(message, "");
    WRONG(asked.loads = DREGS_LOADS_MOST + 1);
    asked = good;
    asked.message = message;
    ck_assert_int_eq(dregs_compare_answer(line, other, &asked, &result), DREGS_DOMAIN);
    begins_with_member("line.b ", message);
    lines_free(other);
}
END_TEST

/* ---- size ---- */

static dregs_status ask_size(const dregs_size_request *asked, char *message)
{
    dregs_size_result *result = NULL;
    dregs_status status = dregs_size_answer(line, asked, &result, message);

    dregs_size_result_free(result);
    return status;
}

START_TEST(size)
{
    dregs_status (*const ask)(const dregs_size_request *, char *) = ask_size;
    dregs_line *other = lines_read(base);
    dregs_varied *varied = dregs_varied_new(line), *empty = dregs_varied_new(line);
    dregs_varied *of_other = dregs_varied_new(other);
    char message[DREGS_SIZE_MESSAGE];
    dregs_size_request good, asked;

    ck_assert_int_eq(dregs_varied_read(varied, "r.flow", message), DREGS_OK);
    dregs_size_request_init(&good);
    good.draws = 0;
    WRONG(asked.varied = NULL);
    WRONG(asked.varied = empty);
    WRONG(asked.varied = of_other);
    good.first = good.last = 1;
    WRONG(asked.varied = varied);
    good.last = 2;
    WRONG(asked.first = 3);
    WRONG(asked.last = DREGS_SIZE_STAGES_MOST + 1);
    WRONG(asked.layout = DREGS_LAYOUTS);
    WRONG(asked.layout = DREGS_EVERY_LAYOUT - 1);
    WRONG(asked.confidence = 1);
    WRONG(asked.confidence = 0);
    WRONG(asked.draws = DREGS_SIZE_DRAWS_MOST + 1);
    WRONG(asked.threads = DREGS_THREADS_MOST + 1);
    good.confidence = 0.9;
    WRONG(asked.draws = 0);
    good.confidence = NAN;
    good.criterion.by = DREGS_CRITERION_LOAD;
    WRONG(asked.criterion.loads = 0);
    dregs_varied_free(varied);
    dregs_varied_free(empty);
    dregs_varied_free(of_other);
    lines_free(other);
}
END_TEST

/* ---- dry, of a film and of the line; liquid ---- */

static const dregs_line *of;

static dregs_status ask_dry(const dregs_dry_request *asked, char *message)
{
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_dry_result *result = NULL;
    dregs_status status = dregs_dry_answer(asked, liquids, of, &result, message);

    dregs_dry_result_free(result);
    dregs_liquids_free(liquids);
    return status;
}

START_TEST(dry)
{
    dregs_status (*const ask)(const dregs_dry_request *, char *) = ask_dry;
    char message[DREGS_DRY_MESSAGE];
    dregs_dry_request good, asked;

    of = NULL;
    dregs_dry_request_init(&good);
    good.liquid = "isopropanol";
    good.film = 2e-5;
    good.at[0] = 295;
    good.at_count = 1;
    ck_assert_int_eq(ask(&good, message), DREGS_OK);
    WRONG(asked.liquid = NULL);
    WRONG(asked.film = NAN);
    WRONG(asked.film = 0);
    WRONG(asked.water = -0.1);
    WRONG(asked.water = 1);
    WRONG(asked.at_count = 0);
    WRONG(asked.at_count = DREGS_DRY_ROWS_MOST + 1);
    WRONG(asked.speed = 101);
    WRONG(asked.heat_capacity = -1);
    WRONG(asked.length = 0);
    WRONG(asked.until = 1);
    WRONG(asked.fresh_air = -1);
    good.dew_point = 280;
    WRONG(asked.humidity = 0.5);
    of = line;
    dregs_dry_request_init(&good);
    WRONG(asked.liquid = "isopropanol");
    WRONG(asked.film = 2e-5);
    WRONG(asked.water = 0.5);
    WRONG(asked.area = 1);
}
END_TEST

static dregs_status ask_liquid(const dregs_liquid_request *asked, char *message)
{
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_liquid_result *result = NULL;
    dregs_status status = dregs_liquid_answer(asked, liquids, &result, message);

    dregs_liquid_result_free(result);
    dregs_liquids_free(liquids);
    return status;
}

START_TEST(liquid)
{
    dregs_status (*const ask)(const dregs_liquid_request *, char *) = ask_liquid;
    char message[DREGS_LIQUID_MESSAGE];
    dregs_liquid_request good, asked;

    dregs_liquid_request_init(&good);
    good.name = "water";
    ck_assert_int_eq(ask(&good, message), DREGS_OK);
    WRONG(asked.name = NULL);
    WRONG(asked.temperature = 0);
    WRONG(asked.share = 1.1);
}
END_TEST

/* ---- those with faults: tally, reuse, draws ---- */

static void take_fault(const dregs_faults *faults, char *message)
{
    ck_assert_uint_eq(faults->count, 1);
    ck_assert_int_eq(faults->fault[0].status, DREGS_DOMAIN);
    memcpy(message, faults->fault[0].text, DREGS_FAULT_TEXT);
}

static dregs_status ask_tally(const dregs_tally_question *asked, char *message)
{
    static dregs_faults faults;
    dregs_tally_result *result = NULL;
    dregs_status status;

    memset(&faults, 0, sizeof faults);
    status = dregs_tally_answer(asked, &result, &faults);
    if (status)
        take_fault(&faults, message);
    dregs_tally_result_free(result);
    return status;
}

START_TEST(tally)
{
    dregs_status (*const ask)(const dregs_tally_question *, char *) = ask_tally;
    const dregs_line *lines[] = {line};
    dregs_tally_dates dates = {0};
    char message[DREGS_FAULT_TEXT];
    dregs_tally_question good, asked;

    dregs_tally_question_init(&good);
    good.line = lines;
    good.lines = 1;
    good.span.span = DREGS_SPAN_LOADS;
    good.span.loads = 5;
    ck_assert_int_eq(ask(&good, message), DREGS_OK);
    WRONG(asked.lines = 0);
    WRONG(asked.lines = DREGS_TALLY_LINES_MOST + 1);
    WRONG(asked.span.loads = 0);
    WRONG(asked.span.loads = DREGS_LOADS_MOST + 1);
    WRONG(asked.span.span = (dregs_span)(DREGS_SPAN_AROUND + 1));
    good.dates = &dates;
    dates.year = DREGS_TALLY_YEAR_LEAST - 1;
    dates.month = 1;
    asked = good;
    ck_assert_int_eq(ask(&asked, message), DREGS_DOMAIN);
    begins_with_member("asked.dates.year ", message);
    dates.year = DREGS_TALLY_YEAR_MOST;
    dates.month = 13;
    ck_assert_int_eq(ask(&asked, message), DREGS_DOMAIN);
    begins_with_member("asked.dates.month ", message);
}
END_TEST

/* Each tool's draws are checked in one place; here by those of a prediction. */
static dregs_status ask_draws(const dregs_doubt_request *asked, char *message)
{
    static dregs_faults faults;
    dregs_predict_result *result = NULL;
    dregs_predict_doubt *doubt = NULL;
    dregs_predict_request request;
    dregs_status status;

    dregs_predict_request_init(&request);
    request.extent = DREGS_PREDICT_RESIDUES;
    ck_assert_int_eq(dregs_predict_answer(line, &request, &result), DREGS_OK);
    memset(&faults, 0, sizeof faults);
    status = dregs_predict_doubt_ask(result, asked, &doubt, &faults);
    if (status)
        take_fault(&faults, message);
    dregs_predict_doubt_free(doubt);
    dregs_predict_result_free(result);
    return status;
}

START_TEST(draws)
{
    dregs_status (*const ask)(const dregs_doubt_request *, char *) = ask_draws;
    char message[DREGS_FAULT_TEXT];
    dregs_doubt_request good, asked;

    dregs_doubt_request_init(&good);
    good.draws = 20;
    ck_assert_int_eq(ask(&good, message), DREGS_OK);
    WRONG(asked.draws = 0);
    WRONG(asked.draws = DREGS_DRAWS_MOST + 1);
    WRONG(asked.first = DREGS_DRAWS_MOST + 1);
    WRONG(asked.threads = DREGS_THREADS_MOST + 1);
}
END_TEST

static dregs_status ask_reuse(const dregs_reuse_request *asked, char *message)
{
    static dregs_faults faults;
    dregs_readings *readings = dregs_readings_new("log", line, NULL);
    dregs_reuse_result *result = NULL;
    dregs_status status;

    memset(&faults, 0, sizeof faults);
    status = dregs_reuse_answer(line, readings, asked, &result, &faults);
    take_fault(&faults, message);
    dregs_reuse_result_free(result);
    dregs_readings_free(readings);
    return status;
}

START_TEST(reuse)
{
    dregs_status (*const ask)(const dregs_reuse_request *, char *) = ask_reuse;
    char message[DREGS_FAULT_TEXT];
    dregs_reuse_request good, asked;

    dregs_reuse_request_init(&good);
    WRONG(asked.since = DREGS_REUSE_LOADS_MOST + 1);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("refused");
    TCase *tcase = tcase_create("refused");

    tcase_add_checked_fixture(tcase, setup, teardown);
    tcase_add_test(tcase, predict);
    tcase_add_test(tcase, compare);
    tcase_add_test(tcase, size);
    tcase_add_test(tcase, dry);
    tcase_add_test(tcase, liquid);
    tcase_add_test(tcase, tally);
    tcase_add_test(tcase, draws);
    tcase_add_test(tcase, reuse);
    suite_add_tcase(suite, tcase);
    return run(suite);
}
