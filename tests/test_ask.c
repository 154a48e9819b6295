/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_ask.c: the one call in JSON, what is asked of a verb in words, GSL's handler meanwhile. That
 * the answers are those of the tools tests/ask.sh holds.
 */
#include "check_main.h"
#include "dregs/dregs.h"

#include <gsl/gsl_errno.h>
#include <jansson.h>
#include <pthread.h>
#include <stdio.h>
#include <string.h>

/* One still rinse of 1 L with a load of 1 m2 that leaves 100 um of film, 100 mL: of the 1 g of soil
 * that it brings, all taken off at once, the film keeps 1 g x 100/1000; spread over 1 m2 that is
 * 0.1 g/m2 = 10 ug/cm2. */
#define LINE_WITH(area)                                                                            \
    "item,property,value,unit\\na,kind,load,\\na,parts,1,\\na,area,1," area                        \
    "\\na,interval,1,h\\nsoil,kind,solute,\\nsoil,on parts,1,g\\nw,kind,liquid,\\n"                \
    "w,solvent,water,\\nr,kind,rinse,\\nr,volume,1,L\\nr,liquid,w,\\nr,removal,100,%\\nr,film,"    \
    "100,um\\n"
#define LINE LINE_WITH("m2")

static json_t *ask(const char *request, dregs_status *status)
{
    char *answer = NULL;
    json_t *root;

    *status = dregs_ask(request, &answer);
    ck_assert_ptr_nonnull(answer);
    ck_assert_int_eq(answer[strlen(answer) - 1], '\n');
    root = json_loads(answer, 0, NULL);
    ck_assert_ptr_nonnull(root);
    dregs_ask_free(answer);
    return root;
}

START_TEST(an_answer_is_that_of_arithmetic)
{
    dregs_status status;
    json_t *root =
        ask("{\"verb\": \"predict\", \"line\": \"" LINE "\", \"loads\": 1, \"draws\": 0}", &status);
    json_t *figure = json_object_get(json_object_get(root, "figures"), "worst_residue");

    ck_assert_int_eq(status, DREGS_OK);
    ck_assert_str_eq(json_string_value(json_object_get(root, "file")), "line");
    ck_assert_str_eq(json_string_value(json_object_get(figure, "unit")), "ug/cm2");
    ck_assert_near(json_number_value(json_object_get(figure, "value")), 10, 1e-12, "the residue");
    json_decref(root);
}
END_TEST

START_TEST(what_is_wrong_has_the_line_of_the_file)
{
    dregs_status status;
    json_t *root = ask("{\"verb\": \"check\", \"line\": {\"name\": \"mine.csv\", \"text\": "
                       "\"" LINE_WITH("kg") "\"}}",
                       &status);
    json_t *fault = json_array_get(json_object_get(root, "faults"), 0);

    ck_assert_int_eq(status, DREGS_BAD_DATA);
    ck_assert_str_eq(json_string_value(json_object_get(root, "tool")), "check");
    ck_assert_str_eq(json_string_value(json_object_get(root, "status")), "bad data");
    ck_assert_int_eq(json_integer_value(json_object_get(root, "exit")), 3);
    ck_assert_str_eq(json_string_value(json_object_get(fault, "file")), "mine.csv");
    ck_assert_int_eq(json_integer_value(json_object_get(fault, "line")), 4);
    json_decref(root);
}
END_TEST

START_TEST(no_request_is_a_fault)
{
    dregs_status status;
    json_t *root = ask(NULL, &status);

    ck_assert_int_eq(status, DREGS_BAD_DATA);
    ck_assert_int_eq(json_integer_value(json_object_get(root, "exit")), 2);
    ck_assert(json_is_null(json_object_get(root, "tool")));
    json_decref(root);
    dregs_ask_free(NULL);
}
END_TEST

/* ---- in words ---- */

START_TEST(options_are_taken_by_their_names)
{
    char message[DREGS_ASK_MESSAGE] = "";
    dregs_asked *asked = NULL;
    const dregs_predict_request *request;

    ck_assert_int_eq(dregs_asked_new("prdict", &asked), DREGS_UNKNOWN);
    ck_assert_ptr_null(asked);
    ck_assert_int_eq(dregs_asked_new("predict", &asked), DREGS_OK);
    ck_assert_ptr_null(dregs_asked_size(asked));
    request = dregs_asked_predict(asked);
    ck_assert_int_eq(dregs_asked_take(asked, "at", "150", message), DREGS_OK);
    ck_assert_int_eq(dregs_asked_take(asked, "at", "3", message), DREGS_OK);
    ck_assert_int_eq(dregs_asked_take(asked, "at", "150", message), DREGS_OK);
    ck_assert_uint_eq(request->at_count, 2); /* ascending, each once */
    ck_assert_uint_eq(request->at[0], 3);
    ck_assert_uint_eq(request->at[1], 150);
    ck_assert_int_eq(dregs_asked_check(asked, 1, 1, 0, message), DREGS_OK);
    ck_assert_int_eq(dregs_asked_take(asked, "loads", "100", message), DREGS_OK);
    ck_assert_int_eq(dregs_asked_check(asked, 1, 1, 0, message), DREGS_BAD_DATA);
    ck_assert_str_eq(message, "--at names a load beyond --loads");
    ck_assert_int_eq(dregs_asked_take(asked, "loads", "1e3", message), DREGS_BAD_DATA);
    ck_assert_str_eq(message, "--loads '1e3' is not a number from 1 to 2^50");
    ck_assert_int_eq(dregs_asked_take(asked, "lods", "1", message), DREGS_UNKNOWN);
    ck_assert_str_eq(message, "'lods' is no option of predict; nearest: 'loads'");
    ck_assert_int_eq(dregs_asked_take(asked, "draws", "1e3", message), DREGS_OK);
    ck_assert_uint_eq(dregs_asked_draws(asked)->draws, 1000);
    dregs_asked_free(asked);
    dregs_asked_free(NULL);
}
END_TEST

START_TEST(quantities_are_of_their_kind_and_range)
{
    char message[DREGS_ASK_MESSAGE];
    double si = -1;

    ck_assert_int_eq(dregs_ask_quantity("film", "20 um", "um", 1e-6, 1e-3, &si, message), DREGS_OK);
    ck_assert_near(si, 20e-6, 1e-15, "the film");
    ck_assert_int_eq(dregs_ask_quantity("film", "20", "um", 0, 1, &si, message), DREGS_BAD_DATA);
    ck_assert_str_eq(message, "--film '20': needs a unit, for example '20 um'");
    ck_assert_int_eq(dregs_ask_quantity("film", "1 um", "um", 2e-6, 1, &si, message),
                     DREGS_BAD_DATA);
    ck_assert_str_eq(message, "--film '1 um' is out of its range, 2 to 1e+06 um");
    ck_assert_near(si, 20e-6, 1e-15, "untouched on failure");
    ck_assert_uint_eq(dregs_ask_count("7"), 7);
    ck_assert_uint_eq(dregs_ask_count("-7"), 0);
    ck_assert_uint_eq(dregs_ask_count(""), 0);
}
END_TEST

START_TEST(the_headers_are_of_the_library)
{
    char version[32];

    snprintf(version, sizeof version, "%d.%d.%d", DREGS_VERSION_MAJOR, DREGS_VERSION_MINOR,
             DREGS_VERSION_PATCH);
    ck_assert_str_eq(dregs_version(), version);
    ck_assert(
        DREGS_VERSION_AT_LEAST(DREGS_VERSION_MAJOR, DREGS_VERSION_MINOR, DREGS_VERSION_PATCH));
    ck_assert(!DREGS_VERSION_AT_LEAST(DREGS_VERSION_MAJOR, DREGS_VERSION_MINOR + 1, 0));
    ck_assert(!DREGS_VERSION_AT_LEAST(DREGS_VERSION_MAJOR + 1, 0, 0));
}
END_TEST

/* ---- GSL's handler ---- */

static int heard;

static void hear(const char *reason, const char *file, int line, int number)
{
    (void)reason;
    (void)file;
    (void)line;
    (void)number;
    heard++;
}

/* Is the program's own handler in place? */
static int is_own(void)
{
    int before = heard;

    gsl_error("asked", __FILE__, __LINE__, GSL_EINVAL);
    return heard == before + 1;
}

START_TEST(the_handler_of_the_program_comes_back)
{
    dregs_status status;

    (void)gsl_set_error_handler(hear);
    ck_assert(is_own());
    dregs_gsl_hold();
    ck_assert(!is_own());
    dregs_gsl_hold();
    dregs_gsl_release();
    ck_assert(!is_own());
    dregs_gsl_release();
    ck_assert(is_own());
    dregs_gsl_release(); /* one too many */
    ck_assert(is_own());
    dregs_gsl_hold();
    ck_assert(!is_own());
    dregs_gsl_release();
    json_decref(ask("{\"verb\": \"check\", \"line\": \"" LINE "\"}", &status));
    ck_assert_int_eq(status, DREGS_OK);
    ck_assert(is_own());
    json_decref(ask("{", &status));
    ck_assert(is_own());
}
END_TEST

static void *hold_often(void *none)
{
    int i;

    for (i = 0; i < 20000; i++) {
        dregs_gsl_hold();
        dregs_gsl_release();
    }
    return none;
}

START_TEST(holds_of_several_threads_overlap)
{
    pthread_t thread[4];
    int i;

    (void)gsl_set_error_handler(hear);
    dregs_gsl_hold();
    for (i = 0; i < 4; i++)
        ck_assert_int_eq(pthread_create(&thread[i], NULL, hold_often, NULL), 0);
    for (i = 0; i < 4; i++)
        ck_assert_int_eq(pthread_join(thread[i], NULL), 0);
    ck_assert(!is_own());
    dregs_gsl_release();
    ck_assert(is_own());
    for (i = 0; i < 4; i++)
        ck_assert_int_eq(pthread_create(&thread[i], NULL, hold_often, NULL), 0);
    for (i = 0; i < 4; i++)
        ck_assert_int_eq(pthread_join(thread[i], NULL), 0);
    ck_assert(is_own());
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"JSON",
         {an_answer_is_that_of_arithmetic, what_is_wrong_has_the_line_of_the_file,
          no_request_is_a_fault}},
        {"words",
         {options_are_taken_by_their_names, quantities_are_of_their_kind_and_range,
          the_headers_are_of_the_library}},
        {"GSL", {the_handler_of_the_program_comes_back, holds_of_several_threads_overlap}},
    };

    return run_cases("ask", cases, sizeof cases / sizeof cases[0]);
}
