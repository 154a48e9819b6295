/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_page_dry.c: the page of a drying, asked in C: a film of 20 um of isopropanol. */
#include "check_main.h"
#include "dregs/number.h"
#include "dregs/page.h"

#include <gsl/gsl_errno.h>
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

struct written {
    char text[1 << 20];
    size_t used;
};

static int take(void *user, const char *bytes, size_t length)
{
    struct written *written = user;

    if (length >= sizeof written->text - written->used)
        return 1;
    memcpy(written->text + written->used, bytes, length);
    written->used += length;
    written->text[written->used] = '\0';
    return 0;
}

static struct written written;
static dregs_liquids *liquids;
static dregs_dry_request request;
static dregs_dry_result *result;
static dregs_report *report;
static json_t *page;

static void setup(void)
{
    (void)gsl_set_error_handler_off();
    liquids = dregs_liquids_new();
    ck_assert_ptr_nonnull(liquids);
    dregs_dry_request_init(&request);
    request.liquid = "isopropanol";
    request.film = 20e-6;
    request.at[0] = 273.15 + 60;
    request.at_count = 1;
}

static void forget(void)
{
    json_decref(page);
    dregs_report_free(report);
    dregs_dry_result_free(result);
    page = NULL;
    report = NULL;
    result = NULL;
}

static void teardown(void)
{
    forget();
    dregs_liquids_free(liquids);
}

static dregs_status write_as(dregs_report_format format)
{
    written.used = 0;
    return dregs_report_write(report, format, 0, 0, take, &written);
}

/* Answers the request; its JSON is in `page` then. */
static void ask(void)
{
    char message[DREGS_DRY_MESSAGE];

    forget();
    ck_assert_msg(dregs_dry_answer(&request, liquids, NULL, &result, message) == DREGS_OK, "%s",
                  message);
    ck_assert_int_eq(dregs_page_dry(NULL, result, 0, &report), DREGS_OK);
    ck_assert_int_eq(write_as(DREGS_REPORT_JSON), DREGS_OK);
    page = json_loads(written.text, 0, NULL);
    ck_assert_ptr_nonnull(page);
    ck_assert_int_eq(write_as(DREGS_REPORT_TEXT), DREGS_OK);
}

static const char *verdict(void)
{
    return json_string_value(json_object_get(json_object_get(page, "verdict"), "is"));
}

/* A figure in its unit; NaN where it is null. */
static double figure(const char *key, const char *unit)
{
    json_t *object = json_object_get(json_object_get(page, "figures"), key), *value;

    ck_assert_msg(object != NULL, "no figure %s", key);
    ck_assert_str_eq(json_string_value(json_object_get(object, "unit")), unit);
    value = json_object_get(object, "value");
    return json_is_null(value) ? NAN : json_number_value(value);
}

/* Nothing is known of the air of no room. 785 kg/m3 (CRC Handbook). */
START_TEST(of_the_air_of_no_room_nothing_is_said)
{
    static const struct {
        const char *key, *unit;
    } of_the_air[] = {{"vapour_peak", "ppm"}, {"flammable_peak", "%"}};
    size_t i;

    ask();
    ck_assert_near(figure("wet_film", "g/m2"), 15.7, 5e-3, "g/m2 of 20 um");
    ck_assert_str_eq(verdict(), "unknown");
    ck_assert_ptr_nonnull(
        strstr(written.text,
               "\nvapour not judged: no fresh air is stated; what is required stands below\n"));
    for (i = 0; i < sizeof of_the_air / sizeof of_the_air[0]; i++)
        ck_assert_msg(isnan(figure(of_the_air[i].key, of_the_air[i].unit)), "%s",
                      of_the_air[i].key);
    ck_assert_ptr_null(strstr(written.text, "its vapour reaches"));
    ck_assert(figure("fresh_air", "m3/h") > 0); /* what is required is known all the same */
}
END_TEST

/* The fresh air that a page names is enough, in the unit that it names; less is not. */
START_TEST(the_fresh_air_that_it_names_is_enough)
{
    double needed;
    char said[80], number[DREGS_NUMBER_TEXT];

    request.volume = 0.05;
    request.area = 1;
    ask();
    ck_assert_str_eq(verdict(), "missed");
    ck_assert_int_eq(strncmp(written.text, "closed oven, 60 degC: ", 22), 0);
    ck_assert_ptr_nonnull(strstr(written.text, "its vapour reaches"));
    needed = figure("fresh_air", "m3/h");
    snprintf(said, sizeof said, "fresh air of %s m3/h keeps", dregs_number_exact(number, needed));
    ck_assert_msg(strstr(written.text, said) != NULL, "not in the text: %s", said);
    request.fresh_air = needed / 3600;
    ask();
    ck_assert_str_eq(verdict(), "met");
    ck_assert_ptr_null(strstr(written.text, "closed oven"));
    request.fresh_air = 0.99 * needed / 3600;
    ask();
    ck_assert_str_eq(verdict(), "missed");
}
END_TEST

START_TEST(several_dryings_are_rows_and_no_curve)
{
    json_t *figures, *table;

    request.at[1] = 273.15 + 22;
    request.at_count = 2;
    ask();
    figures = json_object_get(page, "figures");
    ck_assert_int_eq(json_integer_value(json_object_get(figures, "dryings")), 2);
    ck_assert_ptr_null(json_object_get(figures, "drying_time"));
    table = json_array_get(json_object_get(page, "tables"), 0);
    ck_assert_str_eq(json_string_value(json_object_get(table, "key")), "dryings");
    ck_assert_uint_eq(json_array_size(json_object_get(table, "rows")), 2);
    ck_assert_int_eq(write_as(DREGS_REPORT_CSV), DREGS_DOMAIN);
}
END_TEST

START_TEST(what_never_dries_has_no_time)
{
    request.liquid = "water";
    request.at[0] = 293.15;
    request.humidity = 1;
    ask();
    ck_assert_str_eq(verdict(), "missed");
    ck_assert(isnan(figure("drying_time", "s")));
    ck_assert(isnan(figure("film_time", "s")));
    ck_assert_ptr_nonnull(strstr(written.text, "does NOT dry at 20 degC"));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("page_dry");
    TCase *cases = tcase_create("page");

    tcase_add_checked_fixture(cases, setup, teardown);
    tcase_set_timeout(cases, 60);
    tcase_add_test(cases, of_the_air_of_no_room_nothing_is_said);
    tcase_add_test(cases, the_fresh_air_that_it_names_is_enough);
    tcase_add_test(cases, several_dryings_are_rows_and_no_curve);
    tcase_add_test(cases, what_never_dries_has_no_time);
    suite_add_tcase(suite, cases);
    return run(suite);
}
