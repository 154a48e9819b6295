/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* logs.c: logs of readings whose truth is known. */
#include "logs.h"
#include "dregs/number.h"
#include "line/line.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <stdarg.h>
#include <string.h>

struct logs logs;

void logs_parse(const char *file)
{
    dregs_line_free(logs.line);
    logs.line = NULL;
    memset(&logs.faults, 0, sizeof logs.faults);
    ck_assert_msg(
        !dregs_line_parse("line.csv", file, strlen(file), logs.liquids, &logs.line, &logs.faults),
        "line %lu: %s", logs.faults.fault[0].line, logs.faults.fault[0].text);
}

static void set_up(void)
{
    (void)gsl_set_error_handler_off();
    logs.liquids = dregs_liquids_new();
    logs.rng = gsl_rng_alloc(gsl_rng_mt19937);
    ck_assert_ptr_nonnull(logs.liquids);
    ck_assert_ptr_nonnull(logs.rng);
    logs_parse(LOGS_PARTS LOGS_RINSES LOGS_LIMIT);
}

void logs_forget(void)
{
    dregs_reuse_free(logs.reuse);
    dregs_readings_free(logs.readings);
    logs.reuse = NULL;
    logs.readings = NULL;
}

static void tear_down(void)
{
    logs_forget();
    dregs_line_free(logs.line);
    logs.line = NULL;
    dregs_liquids_free(logs.liquids);
    gsl_rng_free(logs.rng);
}

int logs_run(const char *name, const TTest *const *tests, size_t count)
{
    Suite *suite = suite_create(name);
    TCase *tcase = tcase_create(name);
    size_t i;

    tcase_add_checked_fixture(tcase, set_up, tear_down);
    tcase_set_timeout(tcase, 900); /* with the sanitizers, on a busy machine */
    for (i = 0; i < count; i++)
        tcase_add_test(tcase, tests[i]);
    suite_add_tcase(suite, tcase);
    return run(suite);
}

/* ---- the log ---- */

void logs_say(const char *format, ...)
{
    va_list arguments;
    int wrote;

    va_start(arguments, format);
    wrote = vsnprintf(logs.text + logs.length, sizeof logs.text - logs.length, format, arguments);
    va_end(arguments);
    ck_assert_int_gt(wrote, 0);
    logs.length += (size_t)wrote;
    ck_assert_uint_lt(logs.length, sizeof logs.text);
}

void logs_begin(void)
{
    logs.length = 0;
    logs_say("time,stage,loads,quantity,value,unit\n");
}

/* A load of 12 min after the first of March. */
void logs_row(unsigned load, const char *stage, unsigned since, const char *quantity, double value,
              const char *unit)
{
    char number[DREGS_NUMBER_TEXT];
    unsigned minutes = load * 12;

    logs_say("2026-03-%02uT%02u:%02u,%s,%u,%s,%s,%s\n", 1 + minutes / 1440, minutes / 60 % 24,
             minutes % 60, stage, since, quantity,
             isnan(value) ? "" : dregs_number_exact(number, value), unit);
}

void logs_analyse_with(double noise, double limit)
{
    dregs_reuse_request request;

    dregs_reuse_request_init(&request);
    request.noise = noise;
    request.limit = limit;
    logs_forget();
    memset(&logs.faults, 0, sizeof logs.faults);
    logs.readings = dregs_readings_new("log.csv", logs.line, &logs.faults);
    ck_assert_ptr_nonnull(logs.readings);
    ck_assert_msg(!dregs_readings_feed(logs.readings, logs.text, logs.length) &&
                      !dregs_readings_end(logs.readings),
                  "line %lu: %s", logs.faults.fault[0].line, logs.faults.fault[0].text);
    ck_assert_msg(!dregs_reuse_new(logs.line, logs.readings, &request, &logs.reuse, &logs.faults),
                  "%s", logs.faults.fault[0].text);
}

void logs_analyse(double noise)
{
    logs_analyse_with(noise, NAN);
}

const dregs_regime *logs_regime(unsigned index)
{
    ck_assert_uint_lt(index, dregs_reuse_regimes(logs.reuse));
    return dregs_reuse_regime(logs.reuse, index);
}

const dregs_reuse_outlook *logs_answer(void)
{
    return dregs_reuse_answered(logs.reuse);
}

/* ---- the truth ---- */

struct alteration logs_by_hand(double drag_out, double soil)
{
    static const unsigned char stages[DREGS_LINE_STAGES] = {0, 1, 1};
    struct alteration change = dregs_reuse_unaltered();

    change.drag_out = drag_out;
    change.soil = soil;
    change.by_hand = stages;
    return change;
}

void logs_become(struct logs_truth *t, const struct alteration *change)
{
    dregs_line *changed = NULL;
    dregs_map *map = NULL;
    dregs_state *state;

    ck_assert_int_eq(dregs_reuse_altered(logs.line, change, &changed), DREGS_OK);
    ck_assert_int_eq(dregs_map_new(changed, &map), DREGS_OK);
    state = t->state ? dregs_state_under(map, t->state) : dregs_state_new(map);
    ck_assert_ptr_nonnull(state);
    dregs_state_free(t->state);
    dregs_map_free(t->map);
    dregs_line_free(t->line);
    *t = (struct logs_truth){changed, map, state};
}

void logs_let_go(struct logs_truth *t)
{
    dregs_state_free(t->state);
    dregs_map_free(t->map);
    dregs_line_free(t->line);
    memset(t, 0, sizeof *t);
}

void logs_held(const struct logs_truth *t, unsigned stage, double *concentration)
{
    unsigned tank = (unsigned)dregs_line_stage(t->line, stage)->tank, s;

    for (s = 0; s < dregs_line_solutes(t->line); s++)
        concentration[s] =
            dregs_state_mass(t->state, s, tank) / dregs_line_tank(t->line, tank)->volume;
}

/* uS/cm by the sum itself: 0.05498 of the water, k c of what conducts */
double logs_conducts(const struct logs_truth *t, unsigned stage)
{
    double c[DREGS_LINE_SOLUTES];

    logs_held(t, stage, c);
    return 0.05498 + 1.35 * c[1] * 1e3 + 1.6 * c[2] * 1e3;
}

double logs_scattered(double value, double noise)
{
    return value * (1 + gsl_ran_gaussian(logs.rng, noise));
}

double logs_draw(double sd)
{
    double s2 = log1p(sd * sd);

    return exp(-s2 / 2 + sqrt(s2) * gsl_ran_gaussian(logs.rng, 1));
}
