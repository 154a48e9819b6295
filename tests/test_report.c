/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* A report and its writers. What is expected follows from the rules of dregs/report.h, counted by
 * hand; JSON is read back with jansson.
 */
#include "check_main.h"
#include "dregs/report.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct page {
    char text[20000];
    size_t used;
    int calls_left; /* the sink refuses after so many; below 0: never */
};

static int take(void *user, const char *bytes, size_t length)
{
    struct page *page = user;

    if (page->calls_left == 0)
        return 1;
    page->calls_left--;
    ck_assert_uint_lt(page->used + length, sizeof page->text);
    memcpy(page->text + page->used, bytes, length);
    page->used += length;
    page->text[page->used] = '\0';
    return 0;
}

static dregs_status write_as(dregs_report *report, dregs_report_format format, int width,
                             struct page *page)
{
    page->used = 0;
    page->text[0] = '\0';
    page->calls_left = -1;
    return dregs_report_write(report, format, width, 0, take, page);
}

static dregs_report *some(void)
{
    dregs_report *report = dregs_report_new("predict", "a.csv");

    ck_assert_ptr_nonnull(report);
    return report;
}

static json_t *parsed(dregs_report *report)
{
    static struct page page;
    json_error_t error;
    json_t *root;

    ck_assert_int_eq(write_as(report, DREGS_REPORT_JSON, 0, &page), DREGS_OK);
    root = json_loads(page.text, JSON_REJECT_DUPLICATES, &error);
    ck_assert_msg(root != NULL, "%s at %d", error.text, error.line);
    return root;
}

START_TEST(sentences_are_broken_at_the_width)
{
    dregs_report *report = some();
    static struct page page;

    dregs_report_words(report, "%s", "one two three four");
    dregs_report_words(report, " %d", 5);
    dregs_report_end(report, 2, 4);
    dregs_report_line(report, 0, "not broken however long the line may become: %s", "so it is");
    /* 40 columns: "  " and 38 more, in which the 36 of a and the blank and b find room, c not */
    dregs_report_text(report, 2, 4, "%s b c", "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa");
    /* a micro sign is one column of two bytes: 37 + 1 + 2 = 40 - 2 + 2 do not fit */
    dregs_report_text(report, 2, 4, "%s \302\265m c", "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa");
    /* 37 columns, a blank and "5" find room, its percent sign does not: no line breaks before it */
    dregs_report_text(report, 2, 4, "%s 5 %% c", "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa");
    dregs_report_fact(report, "name", 10, "%s", "says a b c d e f g h i j k l m n o p");
    dregs_report_heading(report, "a title");
    dregs_report_gap(report);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 40, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "  one two three four 5\n"
                                "not broken however long the line may become: so it is\n"
                                "  aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa b\n    c\n"
                                "  aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa \302\265m\n    c\n"
                                "  aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa\n    5 % c\n"
                                "  name    says a b c d e f g h i j k l m\n"
                                "          n o p\n"
                                "\na title\n\n");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 39, &page), DREGS_DOMAIN);
    dregs_report_free(report);
}
END_TEST

START_TEST(words_of_a_file_hold_no_control_codes)
{
    dregs_report *report = some();
    static struct page page;

    dregs_report_line(report, 0, "%s", "a\033[31mb\tc\nd\177");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "a [31mb c d \n");
    dregs_report_free(report);
}
END_TEST

#define WILD  "a\033[31mb\tc\r\nd\177"
#define TAMED "a [31mb c  d "

static dregs_status wild_row(void *user, dregs_table *table)
{
    (void)user;
    dregs_table_word(table, WILD);
    dregs_table_end_row(table);
    return DREGS_OK;
}

/* Every text of a report but the name of its file. */
static dregs_report *wild(void)
{
    dregs_report *report = some();
    dregs_quantity from = dregs_quantity_of(1, "m" WILD);
    dregs_table *table;

    from.from = WILD;
    dregs_report_figure(report, "figure", from);
    dregs_report_word(report, "word", WILD);
    dregs_report_fact(report, WILD, 20, "%s", WILD);
    dregs_report_assumed(report, WILD);
    dregs_report_not_used(report, WILD);
    dregs_report_caution(report, WILD, WILD, WILD, WILD, 1, WILD);
    dregs_report_caution_place(report, WILD);
    dregs_report_decided_by(report, WILD);
    dregs_report_show(report, DREGS_LIST_ASSUMED, WILD);
    dregs_report_show(report, DREGS_LIST_NOT_USED, WILD);
    dregs_report_show(report, DREGS_LIST_CAUTIONS, WILD);
    table = dregs_report_table(report, "kept", DREGS_IN_TEXT | DREGS_IN_JSON);
    dregs_table_column(table, DREGS_COLUMN_WORD, "word", WILD, WILD, 30);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "shown", "n", "", 0);
    dregs_table_word(table, WILD);
    dregs_table_shown(table, 1, WILD);
    dregs_table_end_row(table);
    table = dregs_report_table(report, "made", DREGS_IN_TEXT | DREGS_IN_CSV | DREGS_IN_JSON);
    dregs_table_column(table, DREGS_COLUMN_WORD, "word", NULL, "", 0);
    dregs_table_filled_by(table, wild_row, NULL);
    dregs_chart_axis_is(dregs_report_chart(report, "chart", WILD), DREGS_AXIS_X, WILD, WILD, 0);
    return report;
}

START_TEST(no_text_of_a_report_holds_control_codes)
{
    dregs_report *report = wild();
    static struct page page;
    const char *at;

    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "word\n\"" TAMED "\"\n"); /* a blank at its end is kept */
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_ptr_nonnull(strstr(page.text, TAMED));
    for (at = page.text; *at; at++)
        ck_assert(*at == '\n' || ((unsigned char)*at >= 0x20 && *at != 0x7F));
    ck_assert_int_eq(write_as(report, DREGS_REPORT_JSON, 0, &page), DREGS_OK);
    ck_assert_ptr_nonnull(strstr(page.text, TAMED));
    ck_assert_ptr_null(strchr(page.text, '\\')); /* nothing that needs an escape */
    ck_assert_ptr_null(strchr(page.text, 0x7F));
    dregs_report_free(report);
}
END_TEST

/* two rows of every kind of column */
static dregs_table *small_table(dregs_report *report, int where)
{
    dregs_table *table = dregs_report_table(report, "loads", where);

    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", "stage", "", 8);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "film", "film", "um", -9);
    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", "load", "", -6);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "hidden", NULL, "1", 0);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "met", "met", "", -5);
    dregs_table_word(table, "=bath, 1");
    dregs_table_number(table, 85.23456);
    dregs_table_count(table, 18446744073709551615ULL);
    dregs_table_number(table, NAN);
    dregs_table_flag(table, 1);
    dregs_table_end_row(table);
    dregs_table_word(table, "\"last\"");
    dregs_table_shown(table, 0.1, "a tenth");
    dregs_table_end_row(table);
    return table;
}

START_TEST(a_table_as_text_and_csv)
{
    dregs_report *report = some();
    static struct page page;

    dregs_table_indent(small_table(report, DREGS_IN_TEXT | DREGS_IN_CSV), 2);
    ck_assert_int_eq(dregs_report_status(report), DREGS_OK);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "  stage        film  load  met\n"
                                "                 um\n"
                                "  =bath, 1    85.2318446744073709551615  yes\n"
                                "  \"last\"    a tenth\n");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "stage,film,load,hidden,met\n"
                                "\"'=bath, 1\",85.23456,18446744073709551615,,1\n"
                                "\"\"\"last\"\"\",0.1,,,\n");
    dregs_report_free(report);
}
END_TEST

START_TEST(csv_wants_one_table)
{
    dregs_report *report = some();
    static struct page page;

    (void)small_table(report, DREGS_IN_TEXT | DREGS_IN_JSON);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_DOMAIN);
    dregs_report_free(report);
}
END_TEST

/* A value in a row of its own, of a load. */
static void put_value(dregs_table *table, uint64_t load, const char *stage, const char *quantity,
                      double value, const char *unit)
{
    dregs_table_count(table, load);
    dregs_table_word(table, stage);
    dregs_table_word(table, quantity);
    dregs_table_number(table, value);
    dregs_table_word(table, unit);
    dregs_table_end_row(table);
}

START_TEST(wide_csv_has_a_row_for_each_load)
{
    dregs_report *report = some();
    dregs_table *table = dregs_report_table(report, "values", DREGS_IN_CSV);
    static struct page page;

    dregs_table_column(table, DREGS_COLUMN_COUNT, "load", NULL, "", 0);
    dregs_table_index(table);
    dregs_table_column(table, DREGS_COLUMN_WORD, "stage", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "quantity", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    put_value(table, 1, "bath", "film", 0.5, "mg");
    put_value(table, 1, "", "feasible", 1, "");
    put_value(table, 2, "bath", "film", NAN, "mg");
    put_value(table, 2, "a, b", "film", 2, "mg");
    put_value(table, 2, "a, b", "film", 3, "mg"); /* said twice: nothing is lost */
    put_value(table, 3, "bath", "film", 4, "mg");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV_WIDE, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "load,bath film [mg],feasible,\"a, b film [mg]\"\n"
                                "1,0.5,1,\n"
                                "2,,,2\n"
                                "2,,,3\n"
                                "3,4,,\n");
    dregs_report_free(report);
}
END_TEST

START_TEST(a_table_without_an_index_has_no_wide_form)
{
    dregs_report *report = some();
    static struct page page;

    (void)small_table(report, DREGS_IN_CSV);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV_WIDE, 0, &page), DREGS_UNKNOWN);
    dregs_report_free(report);
}
END_TEST

static dregs_status three_rows(void *user, dregs_table *table)
{
    char word[300];
    int i;

    for (i = 0; i < 3; i++) {
        memset(word, 'a' + i, sizeof word);
        word[(i + 1) * 90] = '\0';
        dregs_table_word(table, word);
        memset(word, 'x', 2); /* the cell has its own copy */
        dregs_table_word(table, word);
        dregs_table_number(table, i * 0.5);
        dregs_table_end_row(table);
    }
    return *(dregs_status *)user;
}

START_TEST(rows_that_are_made_when_they_are_written)
{
    dregs_report *report = some();
    dregs_table *table = dregs_report_table(report, "made", DREGS_IN_CSV | DREGS_IN_JSON);
    dregs_status end = DREGS_OK;
    static struct page page;
    char expected[2000] = "a,b,n\n", a[300];
    json_t *root;
    int i;

    dregs_table_column(table, DREGS_COLUMN_WORD, "a", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "b", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "n", NULL, "m", 0);
    dregs_table_filled_by(table, three_rows, &end);
    for (i = 0; i < 3; i++) {
        memset(a, 'a' + i, sizeof a);
        a[(i + 1) * 90] = '\0';
        strcat(strcat(expected, a), ",xx");
        strcat(strcat(expected, a + 2), i == 0 ? ",0\n" : i == 1 ? ",0.5\n" : ",1\n");
    }
    for (i = 0; i < 2; i++) { /* at every writing anew */
        ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_OK);
        ck_assert_str_eq(page.text, expected);
    }
    root = parsed(report);
    ck_assert_uint_eq(json_array_size(json_object_get(
                          json_array_get(json_object_get(root, "tables"), 0), "rows")),
                      3);
    json_decref(root);
    end = DREGS_NUMERIC;
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_NUMERIC);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_JSON, 0, &page), DREGS_NUMERIC);
    dregs_report_free(report);
}
END_TEST

START_TEST(a_word_or_a_number)
{
    dregs_report *report = some();
    dregs_table *table =
        dregs_report_table(report, "known", DREGS_IN_TEXT | DREGS_IN_CSV | DREGS_IN_JSON);
    static struct page page;
    json_t *root, *made, *rows;

    dregs_table_column(table, DREGS_COLUMN_VALUE, "value", "value", "", -8);
    dregs_table_word(table, "alcohol");
    dregs_table_end_row(table);
    dregs_table_number(table, -12.5); /* a number, also where it begins like a formula */
    dregs_table_end_row(table);
    dregs_table_word(table, "-12.5");
    dregs_table_end_row(table);
    dregs_table_end_row(table);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "   value\n alcohol\n   -12.5\n   -12.5\n\n");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "value\nalcohol\n-12.5\n'-12.5\n\n");
    root = parsed(report);
    made = json_array_get(json_object_get(root, "tables"), 0);
    rows = json_object_get(made, "rows");
    ck_assert_str_eq(json_string_value(json_object_get(
                         json_array_get(json_object_get(made, "columns"), 0), "kind")),
                     "value");
    ck_assert_str_eq(json_string_value(json_array_get(json_array_get(rows, 0), 0)), "alcohol");
    ck_assert(json_real_value(json_array_get(json_array_get(rows, 1), 0)) == -12.5);
    ck_assert_str_eq(json_string_value(json_array_get(json_array_get(rows, 2), 0)), "-12.5");
    ck_assert(json_is_null(json_array_get(json_array_get(rows, 3), 0)));
    json_decref(root);
    dregs_table_count(table, 1);
    ck_assert_int_eq(dregs_report_status(report), DREGS_DOMAIN);
    dregs_report_free(report);
}
END_TEST

START_TEST(the_envelope)
{
    static const char *const members[] = {"program",  "version", "tool",      "file",     "verdict",
                                          "figures",  "tables",  "charts",    "cautions", "assumed",
                                          "not_used", "read",    "decided_by"};
    dregs_report *report = some();
    dregs_quantity film = dregs_quantity_within(20.5, 18, NAN, "um");
    json_t *root, *figures, *table, *row, *film_object;
    size_t i;

    film.from = "a.csv:12";
    dregs_report_line(report, 0, "target met: well below");
    dregs_report_verdict(report, DREGS_VERDICT_MET);
    dregs_report_line(report, 0, "target MISSED: of oil");
    dregs_report_verdict(report, DREGS_VERDICT_MISSED);
    dregs_report_figure(report, "film", film);
    dregs_report_figure(report, "not_known", dregs_quantity_of(HUGE_VAL, "kg"));
    dregs_report_count(report, "loads", 7);
    dregs_report_flag(report, "settles", 2);
    dregs_report_word(report, "level", "A/5");
    dregs_report_word(report, "none", NULL);
    (void)small_table(report, DREGS_IN_JSON);
    dregs_report_assumed(report, "20 degC");
    dregs_report_not_used(report, "12 spreads");
    dregs_report_caution(report, "hot bath", "it scalds", "common practice, no source",
                         "a bath is at", 50, "degC");
    dregs_report_decided_by(report, "the local code");
    root = parsed(report);
    for (i = 0; i < sizeof members / sizeof members[0]; i++)
        ck_assert_msg(json_object_get(root, members[i]) != NULL, "%s", members[i]);
    ck_assert_uint_eq(json_object_size(root), sizeof members / sizeof members[0]);
    ck_assert_str_eq(json_string_value(json_object_get(json_object_get(root, "verdict"), "is")),
                     "missed");
    figures = json_object_get(root, "figures");
    film_object = json_object_get(figures, "film");
    ck_assert_double_eq(json_real_value(json_object_get(film_object, "value")), 20.5);
    ck_assert_double_eq(json_real_value(json_object_get(film_object, "low")), 18);
    ck_assert(json_is_null(json_object_get(film_object, "high")));
    ck_assert_str_eq(json_string_value(json_object_get(film_object, "unit")), "um");
    ck_assert_str_eq(json_string_value(json_object_get(film_object, "from")), "a.csv:12");
    ck_assert(json_is_null(json_object_get(json_object_get(figures, "not_known"), "value")));
    ck_assert_int_eq(json_integer_value(json_object_get(figures, "loads")), 7);
    ck_assert(json_is_true(json_object_get(figures, "settles")));
    ck_assert(json_is_null(json_object_get(figures, "none")));
    table = json_array_get(json_object_get(root, "tables"), 0);
    ck_assert_uint_eq(json_array_size(json_object_get(table, "columns")), 5);
    row = json_array_get(json_object_get(table, "rows"), 1);
    ck_assert_double_eq(json_real_value(json_array_get(row, 1)), 0.1);
    ck_assert(json_is_null(json_array_get(row, 4)));
    json_decref(root);
    dregs_report_free(report);
}
END_TEST

START_TEST(a_chart_names_columns_of_a_table)
{
    dregs_report *report = some();
    dregs_chart *chart = dregs_report_chart(report, "films", "films by load");
    json_t *root, *object, *series;
    static struct page page;

    (void)small_table(report, DREGS_IN_JSON);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "load", "", 1);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "film", "um", 0);
    dregs_chart_series(chart, "bath", DREGS_MARK_STEPS, "loads", "load", "film");
    dregs_chart_where(chart, "stage", "=bath, 1");
    dregs_chart_limit(chart, "most", 90);
    root = parsed(report);
    object = json_array_get(json_object_get(root, "charts"), 0);
    ck_assert(json_is_true(json_object_get(json_object_get(object, "x"), "logarithmic")));
    ck_assert_str_eq(json_string_value(json_object_get(json_object_get(object, "y"), "unit")),
                     "um");
    series = json_array_get(json_object_get(object, "series"), 0);
    ck_assert_str_eq(json_string_value(json_object_get(series, "mark")), "steps");
    ck_assert_str_eq(json_string_value(json_object_get(json_object_get(series, "where"), "stage")),
                     "=bath, 1");
    ck_assert_double_eq(json_real_value(json_object_get(
                            json_array_get(json_object_get(object, "limits"), 0), "value")),
                        90);
    json_decref(root);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "");
    dregs_report_free(report);
}
END_TEST

START_TEST(lists_and_cautions_in_text)
{
    dregs_report *report = some();
    static struct page page;

    dregs_report_show(report, DREGS_LIST_ASSUMED, "assumed");
    dregs_report_show(report, DREGS_LIST_NOT_USED, "not used");
    dregs_report_show(report, DREGS_LIST_CAUTIONS, "cautions");
    dregs_report_assumed(report, "the list may be filled later");
    dregs_report_caution(report, "hot", "it scalds", "s", NULL, NAN, NULL);
    dregs_report_decided_by(report, "The local code decides.");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "\nassumed\n  the list may be filled later\n"
                                "\ncautions\n  hot: it scalds\n  The local code decides.\n");
    dregs_report_free(report);
}
END_TEST

START_TEST(what_presses_stands_first_and_once)
{
    dregs_report *report = some();
    static struct page page;
    json_t *root, *caution;

    dregs_report_show(report, DREGS_LIST_PRESSING, "");
    dregs_report_line(report, 0, "the answer");
    dregs_report_caution(report, "oven", "it blows up", "s", NULL, NAN, NULL);
    dregs_report_caution_place(report, "60 degC");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "the answer\n"); /* nothing presses yet */
    dregs_report_caution_pressing(report);
    dregs_report_decided_by(report, "The local code decides.");
    dregs_report_show(report, DREGS_LIST_CAUTIONS, "cautions");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "oven, 60 degC: it blows up\n\nthe answer\n");
    dregs_report_caution(report, "hot", "it scalds", "s", NULL, NAN, NULL);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "oven, 60 degC: it blows up\n\nthe answer\n\ncautions\n"
                                "  hot: it scalds\n  The local code decides.\n");
    root = parsed(report);
    caution = json_array_get(json_object_get(root, "cautions"), 0);
    ck_assert_str_eq(json_string_value(json_object_get(caution, "place")), "60 degC");
    ck_assert(json_is_true(json_object_get(caution, "pressing")));
    caution = json_array_get(json_object_get(root, "cautions"), 1);
    ck_assert(json_is_null(json_object_get(caution, "place")));
    ck_assert(json_is_false(json_object_get(caution, "pressing")));
    json_decref(root);
    dregs_report_free(report);
}
END_TEST

START_TEST(a_page_without_their_list_shows_them_with_the_others)
{
    dregs_report *report = some();
    static struct page page;

    dregs_report_caution(report, "oven", "it blows up", "s", NULL, NAN, NULL);
    dregs_report_caution_pressing(report);
    dregs_report_show(report, DREGS_LIST_CAUTIONS, "cautions");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "\ncautions\n  oven: it blows up\n");
    dregs_report_free(report);
}
END_TEST

START_TEST(csv_holds_a_word_of_any_length)
{
    dregs_report *report = some();
    dregs_table *table = dregs_report_table(report, "t", DREGS_IN_CSV);
    char word[1200], expected[1300];
    static struct page page;

    memset(word, 'w', sizeof word - 1);
    word[sizeof word - 1] = '\0';
    word[600] = '"';
    dregs_table_column(table, DREGS_COLUMN_WORD, "word", NULL, "", 0);
    dregs_table_word(table, word);
    dregs_table_end_row(table);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_OK);
    snprintf(expected, sizeof expected, "word\n\"%.601s\"%s\"\n", word, word + 601);
    ck_assert_str_eq(page.text, expected);
    dregs_report_free(report);
}
END_TEST

START_TEST(json_of_a_file_whose_name_is_no_utf8)
{
    dregs_report *report = dregs_report_new("tool", "a\xFF.csv");
    json_t *root = parsed(report);

    ck_assert_str_eq(json_string_value(json_object_get(root, "file")), "a?.csv");
    json_decref(root);
    dregs_report_free(report);
}
END_TEST

START_TEST(a_row_that_is_not_ended_is_refused)
{
    dregs_report *report = some();
    dregs_table *table = dregs_report_table(report, "t", DREGS_IN_CSV);
    static struct page page;

    dregs_table_column(table, DREGS_COLUMN_WORD, "a", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "b", NULL, "", 0);
    dregs_table_word(table, "of a");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_DOMAIN);
    dregs_report_free(report);
}
END_TEST

/* Breaks off in its second row at the first writing. */
static dregs_status break_off(void *user, dregs_table *table)
{
    int *broken = user;

    dregs_table_word(table, "one");
    dregs_table_end_row(table);
    dregs_table_word(table, "two");
    if (!(*broken)++)
        return DREGS_NUMERIC;
    dregs_table_end_row(table);
    return DREGS_OK;
}

START_TEST(a_fill_that_breaks_off_leaves_nothing_for_the_next_writing)
{
    dregs_report *report = some();
    dregs_table *table = dregs_report_table(report, "t", DREGS_IN_CSV);
    static struct page page;
    int broken = 0;

    dregs_table_column(table, DREGS_COLUMN_WORD, "a", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "b", NULL, "", 0);
    dregs_table_filled_by(table, break_off, &broken);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_NUMERIC);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "a,b\none,\ntwo,\n");
    dregs_report_free(report);
}
END_TEST

START_TEST(colour_is_on_verdicts_and_headings_only)
{
    dregs_report *report = some();
    static struct page page;

    dregs_report_line(report, 0, "no");
    dregs_report_verdict(report, DREGS_VERDICT_MISSED);
    dregs_report_line(report, 0, "plain");
    dregs_report_text(report, 0, 2, "%s", "yes");
    dregs_report_verdict(report, DREGS_VERDICT_MET);
    dregs_report_heading(report, "title");
    page.calls_left = -1;
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_TEXT, 0, 1, take, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "\033[1;31mno\033[0m\nplain\n\033[1myes\033[0m\n"
                                "\n\033[1mtitle\033[0m\n");
    dregs_report_free(report);
}
END_TEST

/* Each makes one call that is out of place. */
static void two_keys(dregs_report *r)
{
    dregs_report_flag(r, "a", 1);
    dregs_report_count(r, "a", 1);
}
static void no_key(dregs_report *r)
{
    dregs_report_flag(r, "Two words", 1);
}
static void no_table_key(dregs_report *r)
{
    ck_assert_ptr_null(dregs_report_table(r, "", DREGS_IN_TEXT));
}
static void a_table_key_twice(dregs_report *r)
{
    (void)dregs_report_table(r, "a", DREGS_IN_TEXT | DREGS_IN_JSON);
    (void)dregs_report_table(r, "a", DREGS_IN_CSV); /* another format: no harm */
    (void)dregs_report_table(r, "a", DREGS_IN_TEXT);
    ck_assert_int_eq(dregs_report_status(r), DREGS_OK);
    ck_assert_ptr_null(dregs_report_table(r, "a", DREGS_IN_JSON));
}
static void a_column_key_twice(dregs_report *r)
{
    dregs_table *table = dregs_report_table(r, "a", DREGS_IN_JSON);
    dregs_table_column(table, DREGS_COLUMN_WORD, "b", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "c", NULL, "", 0);
    ck_assert_int_eq(dregs_report_status(r), DREGS_OK);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "b", NULL, "", 0);
}
static void a_cell_too_many(dregs_report *r)
{
    dregs_table *table = small_table(r, DREGS_IN_TEXT);
    dregs_table_word(table, "a");
    dregs_table_number(table, 1);
    dregs_table_count(table, 1);
    dregs_table_number(table, 1);
    dregs_table_flag(table, 1);
    dregs_table_flag(table, 1);
}
static void a_cell_of_another_kind(dregs_report *r)
{
    dregs_table_number(small_table(r, DREGS_IN_TEXT), 1);
}
static void a_column_behind_rows(dregs_report *r)
{
    dregs_table_column(small_table(r, DREGS_IN_TEXT), DREGS_COLUMN_WORD, "late", NULL, "", 0);
}
static void a_verdict_of_nothing(dregs_report *r)
{
    dregs_report_verdict(r, DREGS_VERDICT_MET);
}
static void a_place_of_no_caution(dregs_report *r)
{
    dregs_report_caution_place(r, "60 degC");
}
static void no_caution_presses(dregs_report *r)
{
    dregs_report_caution_pressing(r);
}

static void a_condition_of_no_series(dregs_report *r)
{
    dregs_chart_where(dregs_report_chart(r, "a", "b"), "c", "d");
}

static void (*const wrong[])(dregs_report *) = {two_keys,
                                                no_key,
                                                no_table_key,
                                                a_table_key_twice,
                                                a_column_key_twice,
                                                a_cell_too_many,
                                                a_cell_of_another_kind,
                                                a_column_behind_rows,
                                                a_verdict_of_nothing,
                                                a_condition_of_no_series,
                                                a_place_of_no_caution,
                                                no_caution_presses};

START_TEST(what_is_out_of_place_is_remembered)
{
    dregs_report *report = some();
    static struct page page;

    wrong[_i](report);
    ck_assert_int_eq(dregs_report_status(report), DREGS_DOMAIN);
    dregs_report_line(report, 0, "later calls do nothing");
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_DOMAIN);
    ck_assert_uint_eq(page.used, 0);
    dregs_report_free(report);
}
END_TEST

START_TEST(a_sink_may_end_the_writing)
{
    dregs_report *report = some();
    static struct page page;
    int i;

    for (i = 0; i < 1000; i++)
        dregs_report_line(report, 0, "line %d of a page that is handed over whole", i);
    page.used = 0;
    page.calls_left = 0;
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_TEXT, 0, 0, take, &page), DREGS_IO);
    ck_assert_uint_eq(page.used, 0);
    dregs_report_free(report);
}
END_TEST

/* ---- pages of more than DREGS_REPORT_WHOLE bytes ---- */

struct passing {
    size_t bytes, calls, calls_most;
    char last[64]; /* the end of what passed */
};

static int pass(void *user, const char *bytes, size_t length)
{
    struct passing *passing = user;

    if (passing->calls == passing->calls_most)
        return 1;
    passing->calls++;
    passing->bytes += length;
    snprintf(passing->last, sizeof passing->last, "%.*s", length < 40 ? (int)length : 40,
             length < 40 ? bytes : bytes + length - 40);
    return 0;
}

struct million {
    unsigned rows;
    dregs_status end;
};

/* Rows of eight bytes: "1234567\n". */
static dregs_status many_rows(void *user, dregs_table *table)
{
    const struct million *made = user;
    unsigned i;

    for (i = 0; i < made->rows; i++) {
        dregs_table_count(table, 1234567);
        dregs_table_end_row(table);
    }
    return made->end;
}

START_TEST(a_long_page_flows_and_one_cut_short_says_so)
{
    dregs_report *report = some();
    dregs_table *table = dregs_report_table(report, "made", DREGS_IN_CSV);
    struct million made = {DREGS_REPORT_WHOLE / 8 - 1, DREGS_OK};
    struct passing passing = {.calls_most = 9};

    dregs_table_column(table, DREGS_COLUMN_COUNT, "n", NULL, "", 0); /* "n\n" is its header */
    dregs_table_filled_by(table, many_rows, &made);
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_CSV, 0, 0, pass, &passing), DREGS_OK);
    ck_assert_uint_eq(passing.calls, 1);
    ck_assert_uint_eq(passing.bytes, DREGS_REPORT_WHOLE - 8 + 2);
    /* what breaks off before a piece is full leaves nothing */
    made.end = DREGS_NUMERIC;
    passing = (struct passing){.calls_most = 9};
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_CSV, 0, 0, pass, &passing),
                     DREGS_NUMERIC);
    ck_assert_uint_eq(passing.calls, 0);
    /* two pieces and a half */
    made = (struct million){DREGS_REPORT_WHOLE / 8 * 5 / 2, DREGS_OK};
    passing = (struct passing){.calls_most = 9};
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_CSV, 0, 0, pass, &passing), DREGS_OK);
    ck_assert_uint_eq(passing.calls, 3);
    ck_assert_uint_eq(passing.bytes, (size_t)made.rows * 8 + 2);
    made.end = DREGS_NO_MEMORY;
    passing = (struct passing){.calls_most = 9};
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_CSV, 0, 0, pass, &passing),
                     DREGS_NO_MEMORY);
    ck_assert_uint_eq(passing.calls, 3);
    ck_assert_str_eq(passing.last, "\n(cut short: an error ended it here)\n");
    /* a sink that has ended it gets no mark */
    passing = (struct passing){.calls_most = 1};
    ck_assert_int_eq(dregs_report_write(report, DREGS_REPORT_CSV, 0, 0, pass, &passing), DREGS_IO);
    ck_assert_uint_eq(passing.calls, 1);
    dregs_report_free(report);
}
END_TEST

/* Dangers stand whatever is asked, and what nobody rated; of the others the names, all or nothing.
 */
START_TEST(text_shows_the_cautions_that_are_asked_for)
{
    static const struct {
        dregs_cautions_shown shown;
        const char *text;
    } cases[] = {
        {DREGS_CAUTIONS_DANGER, "\nhere\n  fire: it burns\n  unrated: it may\n"
                                "  also: hot, wet (in full with --cautions all)\n  They decide.\n"
                                "\nthere\n  also: hot (in full with --cautions all)\n"
                                "  They decide.\n"},
        {DREGS_CAUTIONS_ALL, "\nhere\n  fire: it burns\n  hot: it scalds\n  hot: it scalds too\n"
                             "  wet: it spots\n  unrated: it may\n  They decide.\n"
                             "\nthere\n  hot: there\n  They decide.\n"},
        {DREGS_CAUTIONS_NONE, "\nhere\n  fire: it burns\n  unrated: it may\n  They decide.\n"},
    };
    static const struct {
        const char *id, *text, *severity, *place;
    } given[] = {{"fire", "it burns", "danger", "a"}, {"hot", "it scalds", "warning", "a"},
                 {"hot", "there", "warning", "b"},    {"hot", "it scalds too", "warning", "a"},
                 {"wet", "it spots", "note", "a"},    {"unrated", "it may", NULL, "a"}};
    dregs_report *report = dregs_report_new("t", NULL);
    static struct page page;
    size_t i;

    for (i = 0; i < sizeof given / sizeof given[0]; i++) {
        dregs_report_caution(report, given[i].id, given[i].text, "s", NULL, NAN, NULL);
        dregs_report_caution_place(report, given[i].place);
        if (given[i].severity)
            dregs_report_caution_severity(report, given[i].severity);
    }
    dregs_report_decided_by(report, "They decide.");
    dregs_report_show_cautions_of(report, "a", "here");
    dregs_report_show_cautions_of(report, "b", "there");
    if (cases[_i].shown != DREGS_CAUTIONS_DANGER)
        dregs_report_cautions_shown(report, cases[_i].shown);
    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, cases[_i].text);
    dregs_report_free(report);
}
END_TEST

/* By the exact factors: 231 in3 of 25.4 mm are 3.785411784 L to the gallon, 0.45359237 kg to the
 * pound, 0.3048 m to the foot, 212 degF where water boils; NIST SP 811 (2008), B.8. */
START_TEST(numbers_are_shown_in_units_of_the_united_states)
{
    static const struct {
        double value;
        const char *unit;
        double shown;
        const char *as;
    } cases[] = {{37.85411784, "L", 10, "gal"},
                 {3.785411784, "m3", 1000, "gal"},
                 {29.5735295625, "mL", 1, "fl oz"},
                 {7.570823568, "L/h", 2, "gal/h"},
                 {59.147059125, "mL/h", 2, "fl oz/h"},
                 {907.18474, "kg", 2000, "lb"},
                 {453.59237, "g", 1, "lb"},
                 {907.18474, "g/h", 2, "lb/h"},
                 {0.45359237 / 3.785411784e-3, "kg/m3", 1, "lb/gal"},
                 {0.45359237 / 0.09290304, "kg/m2", 1, "lb/ft2"},
                 {0.9290304, "m2", 10, "ft2"},
                 {64.516, "cm2", 10, "in2"},
                 {100, "degC", 212, "degF"},
                 {-40, "degC", -40, "degF"},
                 {4.5359237, "kg a month", 10, "lb a month"},
                 {0.45359237 / 0.09290304, "kg/(m2 month)", 1, "lb/(ft2 month)"},
                 {3, "mg/L", 3, "mg/L"},
                 {3, "ug/cm2", 3, "ug/cm2"},
                 {3, "kWh", 3, "kWh"},
                 {3, "EUR", 3, "EUR"},
                 {3, "", 3, ""}};
    dregs_report *us = some(), *si = some();
    size_t i;

    dregs_report_units(us, DREGS_UNITS_US);
    ck_assert_int_eq(dregs_report_units_shown(us), DREGS_UNITS_US);
    ck_assert_int_eq(dregs_report_units_shown(si), DREGS_UNITS_SI);
    for (i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ck_assert_str_eq(dregs_report_unit(us, cases[i].unit), cases[i].as);
        ck_assert_double_eq_tol(dregs_report_value(us, cases[i].value, cases[i].unit),
                                cases[i].shown, 1e-12 * fabs(cases[i].shown));
        ck_assert_str_eq(dregs_report_unit(si, cases[i].unit), cases[i].unit);
        ck_assert(dregs_report_value(si, cases[i].value, cases[i].unit) == cases[i].value);
    }
    ck_assert(isnan(dregs_report_value(us, NAN, "kg")));
    dregs_report_free(us);
    dregs_report_free(si);
}
END_TEST

/* 3.785411784 L to the gallon: 378.5411784 L are 100 gal. */
START_TEST(tables_and_figures_are_shown_in_units_of_the_united_states)
{
    dregs_report *report = some();
    static struct page page;
    json_t *root, *figure;
    dregs_table *table;
    dregs_chart *chart;

    dregs_report_units(report, DREGS_UNITS_US);
    dregs_report_figure(report, "bought",
                        dregs_quantity_within(378.5411784, 37.85411784, 3785.411784, "L"));
    table = dregs_report_table(report, "t", DREGS_IN_TEXT | DREGS_IN_JSON);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "volume", "volume", "L", -8);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "again", "gallons", "", -9);
    dregs_table_measured(table, "L");
    dregs_table_number(table, 378.5411784);
    dregs_table_digits(table, 378.5411784 * 1.23456, 3);
    dregs_table_end_row(table);
    dregs_table_within(table, 378.5411784, 37.85411784, 3785.411784);
    dregs_table_shown(table, 378.5411784, "so");
    dregs_table_end_row(table);
    table = dregs_report_table(report, "rows", DREGS_IN_CSV);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "value", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_in(table, 907.18474, "kg");
    dregs_table_unit(table, "kg");
    dregs_table_end_row(table);
    dregs_table_within_in(table, 3, 2, 4, "mg/L");
    dregs_table_unit(table, "mg/L");
    dregs_table_end_row(table);
    chart = dregs_report_chart(report, "c", "title");
    dregs_chart_axis_is(chart, DREGS_AXIS_X, "x", "degC", 0);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y, "y", "L", 0);
    dregs_chart_series(chart, "s", DREGS_MARK_LINE, "t", "volume", "again");
    dregs_chart_limit(chart, "most", 37.85411784);

    ck_assert_int_eq(write_as(report, DREGS_REPORT_TEXT, 0, &page), DREGS_OK);
    ck_assert_ptr_nonnull(strstr(page.text, "  volume  gallons\n     gal\n     100      123\n"
                                            "     100       so\n"));
    ck_assert_int_eq(write_as(report, DREGS_REPORT_CSV, 0, &page), DREGS_OK);
    ck_assert_str_eq(page.text, "value,unit\n2000,lb\n3,mg/L\n");
    root = parsed(report);
    figure = json_object_get(json_object_get(root, "figures"), "bought");
    ck_assert_str_eq(json_string_value(json_object_get(figure, "unit")), "gal");
    ck_assert_double_eq_tol(json_number_value(json_object_get(figure, "value")), 100, 1e-9);
    ck_assert_double_eq_tol(json_number_value(json_object_get(figure, "low")), 10, 1e-9);
    ck_assert_double_eq_tol(json_number_value(json_object_get(figure, "high")), 1000, 1e-9);
    json_decref(root);
    /* units come first */
    dregs_report_units(report, DREGS_UNITS_SI);
    ck_assert_int_eq(dregs_report_status(report), DREGS_DOMAIN);
    dregs_report_free(report);
}
END_TEST

static Suite *suite(void)
{
    const TTest *const tests[] = {sentences_are_broken_at_the_width,
                                  words_of_a_file_hold_no_control_codes,
                                  no_text_of_a_report_holds_control_codes,
                                  a_table_as_text_and_csv,
                                  csv_wants_one_table,
                                  wide_csv_has_a_row_for_each_load,
                                  a_table_without_an_index_has_no_wide_form,
                                  rows_that_are_made_when_they_are_written,
                                  a_word_or_a_number,
                                  the_envelope,
                                  a_chart_names_columns_of_a_table,
                                  lists_and_cautions_in_text,
                                  what_presses_stands_first_and_once,
                                  a_page_without_their_list_shows_them_with_the_others,
                                  csv_holds_a_word_of_any_length,
                                  json_of_a_file_whose_name_is_no_utf8,
                                  a_row_that_is_not_ended_is_refused,
                                  a_fill_that_breaks_off_leaves_nothing_for_the_next_writing,
                                  colour_is_on_verdicts_and_headings_only,
                                  a_sink_may_end_the_writing,
                                  numbers_are_shown_in_units_of_the_united_states,
                                  tables_and_figures_are_shown_in_units_of_the_united_states,
                                  a_long_page_flows_and_one_cut_short_says_so};
    Suite *s = suite_create("report");
    TCase *c = tcase_create("writers");
    size_t i;

    suite_add_tcase(s, c);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(c, tests[i]);
    tcase_add_loop_test(c, text_shows_the_cautions_that_are_asked_for, 0, 3);
    tcase_add_loop_test(c, what_is_out_of_place_is_remembered, 0,
                        (int)(sizeof wrong / sizeof wrong[0]));
    return s;
}

int main(void)
{
    return run(suite());
}
