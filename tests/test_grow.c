/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_grow.c: structures that grow at their end, asked by a program that was built before they
 * did: the last member is one that it does not have. Nothing is written there, and what stands
 * there is not read: the answer is that of the default.
 */
#include "check_main.h"
#include "dregs/dregs.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

static const char text[] =
    "item,property,value,unit\npart,kind,load,\npart,parts,1,\npart,area,1,m2\n"
    "part,interval,1,h\nsoil,kind,solute,\nsoil,on parts,1,g\npure,kind,liquid,\n"
    "pure,solvent,water,\npure,price,2,EUR/L\nr,kind,rinse,\nr,volume,1,L\nr,liquid,pure,\n"
    "r,film,100,um\nr,removal,100,%\nr,flow,1,L/h\nlimit,kind,target,\nlimit,residue,0.5,g/m2\n";

static dregs_line *line;
static char message[DREGS_SIZE_MESSAGE];

static void setup(void)
{
    (void)gsl_set_error_handler_off();
    line = lines_read(text);
}

static void teardown(void)
{
    lines_free(line);
}

/* ---- the requests: how each is set up and asked, and one number of its answer ---- */

static void init_predict(void *request, size_t size)
{
    dregs_predict_request_init_of_size(request, size);
}

static dregs_status predict(const void *request, double *number)
{
    dregs_predict_result *result = NULL;
    dregs_status status = dregs_predict_answer(line, request, &result);

    if (!status)
        *number = (double)result->shown.load;
    dregs_predict_result_free(result);
    return status;
}

static void init_size(void *request, size_t size)
{
    dregs_size_request *asked = request;

    dregs_size_request_init_of_size(request, size);
    if (size > offsetof(dregs_size_request, last))
        asked->first = asked->last = 1;
}

static dregs_status size(const void *request, double *number)
{
    dregs_size_result *result = NULL;
    dregs_status status = dregs_size_answer(line, request, &result, message);

    if (!status)
        *number = dregs_sized_compliance(dregs_size_result_row(result, 0)->sized)->of_limit;
    dregs_size_result_free(result);
    return status;
}

static void init_dry(void *request, size_t size)
{
    dregs_dry_request *asked = request;

    dregs_dry_request_init_of_size(request, size);
    if (size > offsetof(dregs_dry_request, at_count)) {
        asked->liquid = "water";
        asked->film = 1e-5;
        asked->at[0] = 333.15;
        asked->at_count = 1;
    }
}

static dregs_status dry(const void *request, double *number)
{
    dregs_dry_result *result = NULL;
    dregs_status status =
        dregs_dry_answer(request, dregs_line_liquids(line), NULL, &result, message);

    if (!status)
        *number = dregs_dry_result_row(result, 0)->time;
    dregs_dry_result_free(result);
    return status;
}

static void init_liquid(void *request, size_t size)
{
    dregs_liquid_request *asked = request;

    dregs_liquid_request_init_of_size(request, size);
    if (size > offsetof(dregs_liquid_request, name))
        asked->name = "isopropanol-water";
}

static dregs_status liquid(const void *request, double *number)
{
    dregs_liquid_result *result = NULL;
    dregs_status status = dregs_liquid_answer(request, dregs_line_liquids(line), &result, message);
    size_t i;

    for (i = 0, *number = 0; !status && i < result->figures; i++)
        *number += !isnan(dregs_liquid_result_figure(result, i)->value);
    dregs_liquid_result_free(result);
    return status;
}

static void init_tally(void *request, size_t size)
{
    dregs_tally_question *asked = request;

    dregs_tally_question_init_of_size(request, size);
    if (size > offsetof(dregs_tally_question, span)) {
        asked->line = (const dregs_line *const *)&line;
        asked->lines = 1;
        asked->span = (dregs_tally_request){DREGS_SPAN_LOADS, 10, 0};
    }
}

static dregs_status tally(const void *request, double *number)
{
    dregs_tally_result *result = NULL;
    dregs_status status = dregs_tally_answer(request, &result, NULL);

    if (!status)
        *number = dregs_tally_result_line(result, 0)->residue;
    dregs_tally_result_free(result);
    return status;
}

static void init_site(void *request, size_t size)
{
    dregs_site_init_of_size(request, size);
}

/* A fact is put into a copy, and behind its size nothing changes. */
static dregs_status site(const void *request, double *number)
{
    static dregs_site known;
    dregs_status status;

    memcpy(&known, request, sizeof known);
    status = dregs_site_take(&known, "captured=80%", message);
    *number = known.captured;
    if (!status)
        ck_assert_int_eq(memcmp(&known.flash[DREGS_SITE_FLASHES_MOST - 1],
                                &((const dregs_site *)request)->flash[DREGS_SITE_FLASHES_MOST - 1],
                                sizeof(dregs_site_flash)),
                         0);
    return status;
}

struct request {
    const char *name;
    size_t size, before; /* the whole, and without the last member */
    void (*init)(void *request, size_t size);
    dregs_status (*ask)(const void *request, double *number);
};

static const struct request requests[] = {
    {"predict", sizeof(dregs_predict_request), offsetof(dregs_predict_request, shown), init_predict,
     predict},
    {"size", sizeof(dregs_size_request), offsetof(dregs_size_request, criterion), init_size, size},
    {"dry", sizeof(dregs_dry_request), offsetof(dregs_dry_request, until), init_dry, dry},
    {"liquid", sizeof(dregs_liquid_request), offsetof(dregs_liquid_request, share), init_liquid,
     liquid},
    {"tally", sizeof(dregs_tally_question), offsetof(dregs_tally_question, dates), init_tally,
     tally},
    {"site", sizeof(dregs_site), offsetof(dregs_site, flash[DREGS_SITE_FLASHES_MOST - 1]),
     init_site, site},
};
enum { REQUESTS = sizeof requests / sizeof requests[0], FILLING = 0x2a };

/* Room for the largest, and for a member that no library has. */
static union {
    dregs_site site;
    dregs_dry_request dry;
    double number;
    unsigned char byte[sizeof(dregs_site) + 64];
} room;

static void check_unwritten(const char *name, size_t from)
{
    size_t i;

    for (i = from; i < sizeof room; i++)
        ck_assert_msg(room.byte[i] == FILLING, "%s: byte %zu behind its %zu is written", name, i,
                      from);
}

START_TEST(an_older_program_gets_the_defaults)
{
    const struct request *r = &requests[_i];
    double whole = NAN, older = NAN;

    memset(&room, FILLING, sizeof room);
    r->init(&room, r->size);
    check_unwritten(r->name, r->size);
    ck_assert_msg(!r->ask(&room, &whole), "%s", r->name);
    memset(&room, FILLING, sizeof room);
    r->init(&room, r->before);
    check_unwritten(r->name, r->before);
    ck_assert_msg(!r->ask(&room, &older), "%s: what stands behind its size is read", r->name);
    check_unwritten(r->name, r->before);
    ck_assert_double_eq(older, whole);
}
END_TEST

/* Not set up, or with a member that this library does not know: it must not be passed over. */
START_TEST(a_size_that_is_none_is_refused)
{
    const struct request *r = &requests[_i];
    double number;

    memset(&room, 0, sizeof room);
    ck_assert_int_eq(r->ask(&room, &number), DREGS_DOMAIN);
    memset(&room, FILLING, sizeof room);
    r->init(&room, r->size + sizeof(double));
    check_unwritten(r->name, r->size + sizeof(double));
    ck_assert_int_eq(r->ask(&room, &number), DREGS_DOMAIN);
}
END_TEST

/* What is filled in. */
START_TEST(no_more_is_filled_in_than_there_is_room_for)
{
    const dregs_criterion ever = {DREGS_CRITERION_EVER, 0};
    dregs_compliance compliance, whole;
    dregs_use use, all;

    use.cost = 42;
    dregs_balance_use_of_size(line, &use, offsetof(dregs_use, cost));
    ck_assert_double_eq(use.cost, 42);
    dregs_balance_use(line, &all);
    ck_assert_int_eq(memcmp(&use, &all, offsetof(dregs_use, cost)), 0);
    ck_assert_near(all.cost, 2 * all.bought * 1e3, 1e-12, "2 EUR/L");
    compliance.mg_out = 42;
    ck_assert_int_eq(
        dregs_size_compliance_of_size(line, ever, &compliance, offsetof(dregs_compliance, mg_out)),
        DREGS_OK);
    ck_assert_double_eq(compliance.mg_out, 42);
    ck_assert_int_eq(dregs_size_compliance(line, ever, &whole), DREGS_OK);
    ck_assert_double_eq(compliance.of_limit, whole.of_limit);
    ck_assert_double_gt(whole.mg_out, 0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("grow");
    TCase *tests = tcase_create("older programs");

    tcase_add_checked_fixture(tests, setup, teardown);
    tcase_add_loop_test(tests, an_older_program_gets_the_defaults, 0, REQUESTS);
    tcase_add_loop_test(tests, a_size_that_is_none_is_refused, 0, REQUESTS);
    tcase_add_test(tests, no_more_is_filled_in_than_there_is_room_for);
    suite_add_tcase(suite, tests);
    return run(suite);
}
