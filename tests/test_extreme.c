/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_extreme.c: every row of the example files with a number in it, with numbers that are as
 * small or as large as a number can be. The reader refuses such a line or answers hold finite
 * numbers alone, or say with a status that there are none. The rows are those of the files: a
 * property that comes to them comes to this test.
 */
#include "check_main.h"
#include "dregs/dregs.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* 4.9e-324 is the least number of all, 1e-310 another one without full precision; those between
 * 1e-12 and 1e9 come near the ends of what the reader takes, whatever the unit. */
static const char *const values[] = {"4.9e-324", "1e-310", "1e-300", "1e-12",  "1e-6",
                                     "1e3",      "1e9",    "1e300",  "1.7e308"};
enum { VALUES = sizeof values / sizeof values[0] };

enum { EACH_LONG = 11 }; /* of so many lines one is asked what takes longest */

static const dregs_liquids *liquids;

/* What is asked now, for messages. */
static struct {
    const char *file, *rinse, *item, *property, *value;
} now;

static unsigned accepted, refused, answered;

static void is_finite(double number, const char *what)
{
    ck_assert_msg(isfinite(number), "%s, %s.%s = %s: %s is %g", now.file, now.item, now.property,
                  now.value, what, number);
}

static void ask_state(const dregs_line *line, const dregs_state *state)
{
    unsigned s, i;

    for (s = 0; s < dregs_line_solutes(line); s++) {
        for (i = 0; i < dregs_line_tanks(line); i++)
            is_finite(dregs_state_mass(state, s, i), "a mass in a tank");
        for (i = 0; i < dregs_line_stages(line); i++)
            is_finite(dregs_state_film(state, s, i), "a mass in a film");
    }
}

static void ask_predict(const dregs_line *line)
{
    dregs_predict_result *result = NULL;
    dregs_predict_request request;

    dregs_predict_request_init(&request);
    if (accepted % EACH_LONG)
        request.extent = DREGS_PREDICT_RESIDUES;
    if (dregs_predict_answer(line, &request, &result))
        return;
    answered++;
    is_finite(result->worst.residue, "the worst residue");
    is_finite(result->worst_residue.total, "what the worst load leaves");
    is_finite(result->shown_residue.total, "what the load shown leaves");
    if (result->settles)
        is_finite(result->steady.residue, "the steady residue");
    dregs_predict_result_free(result);
}

static void ask_map(const dregs_line *line)
{
    dregs_map *map = NULL;
    dregs_state *state;
    dregs_totals totals;
    unsigned s;

    if (dregs_map_new(line, &map))
        return;
    answered++;
    state = dregs_state_new(map);
    ck_assert_ptr_nonnull(state);
    if (dregs_line_kinds(line) == 1)
        ask_state(line, state);
    if (!dregs_state_before(state, 1000000) && dregs_line_kinds(line) == 1)
        ask_state(line, state);
    if (!dregs_state_periodic(state) && dregs_line_kinds(line) == 1)
        ask_state(line, state);
    for (s = 0; s < dregs_line_solutes(line); s++)
        if (!dregs_map_totals(map, s, 1000, &totals)) {
            is_finite(totals.fed + totals.sprayed + totals.refilled, "what came in");
            is_finite(totals.overflow + totals.dumped + totals.carried, "what went out");
        }
    dregs_state_free(state);
    dregs_map_free(map);
}

static void ask_tally(const dregs_line *line)
{
    dregs_tally_request request = {DREGS_SPAN_LOADS, 1000, 0};
    char message[DREGS_TALLY_MESSAGE];
    dregs_tally *tally = NULL;
    unsigned i;

    if (dregs_tally_new(line, &request, &tally, message))
        return;
    answered++;
    for (i = 0; i < dregs_line_solutes(line); i++)
        is_finite(dregs_tally_solute(tally, DREGS_STREAM_DUMPED, i, DREGS_WHOLE, DREGS_WHOLE),
                  "what was dumped of a solute");
    for (i = 0; i < dregs_line_fluids(line); i++)
        is_finite(dregs_tally_fluid(tally, DREGS_STREAM_DUMPED, i, DREGS_WHOLE, DREGS_WHOLE),
                  "what was dumped of a liquid");
    dregs_tally_free(tally);
}

static void ask_size(const dregs_line *line)
{
    const char *stage = now.rinse;
    dregs_criterion criterion = {DREGS_CRITERION_EVER, 0};
    char message[DREGS_SIZE_MESSAGE];
    dregs_varied *varied = dregs_varied_new(line);
    dregs_sized *sized = NULL;

    ck_assert_ptr_nonnull(varied);
    if (!dregs_varied_add(varied, "flow", &stage, 1, NAN, NAN, message) &&
        !dregs_size(varied, criterion, 0, &sized, message)) {
        answered++;
        if (dregs_sized_feasible(sized)) {
            is_finite(dregs_sized_value(sized, 0), "the flow that is sought");
            is_finite(dregs_sized_use(sized)->bought, "what a load takes");
        }
        dregs_sized_free(sized);
    }
    dregs_varied_free(varied);
}

static void ask_dry(const dregs_line *line)
{
    dregs_dry_request request;
    dregs_dry_result *result = NULL;
    const dregs_dry_row *row;
    char message[DREGS_DRY_MESSAGE];
    unsigned i;

    dregs_dry_request_init(&request);
    if (dregs_dry_answer(&request, liquids, line, &result, message))
        return;
    answered++;
    for (i = 0; (row = dregs_dry_result_row(result, i)); i++) {
        ck_assert_msg(!isnan(row->time), "%s.%s = %s: a drying time is none", now.item,
                      now.property, now.value);
        is_finite(row->mass, "the film to be dried");
    }
    dregs_dry_result_free(result);
}

static void ask_all(const dregs_line *line)
{
    ask_map(line);
    ask_predict(line);
    ask_tally(line);
    if (accepted % EACH_LONG == 0)
        ask_size(line);
    ask_dry(line);
}

static dregs_line *read_file(const char *name, dregs_faults *faults)
{
    const char *source = getenv("DREGS_SOURCE");
    char path[4096];
    dregs_line *line = NULL;
    FILE *file;

    snprintf(path, sizeof path, "%s/data/%s", source ? source : ".", name);
    file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "%s is not there", path);
    ck_assert_int_eq(dregs_line_read(name, file, liquids, &line, faults), DREGS_OK);
    fclose(file);
    return line;
}

static void with_value(const dregs_line *line, const dregs_row *row, const char *value)
{
    static dregs_faults faults;
    const dregs_new_row other = {row->item, row->property, value, row->unit, NULL};
    dregs_line *changed = NULL;
    size_t length;
    char *text;

    now.item = row->item;
    now.property = row->property;
    now.value = value;
    ck_assert_int_eq(dregs_edit_set(line, &other, 1, &text, &length), DREGS_OK);
    memset(&faults, 0, sizeof faults);
    if (dregs_line_parse("extreme.csv", text, length, liquids, &changed, &faults)) {
        ck_assert_uint_gt(faults.count, 0);
        refused++;
    } else {
        accepted++;
        ask_all(changed);
    }
    dregs_line_free(changed);
    dregs_edit_free(text);
}

START_TEST(no_answer_holds_a_number_that_is_none)
{
    static const char *const files[] = {"aqueous-line.csv", "solvent-bench.csv", "week-rinse.csv"};
    static const char *const rinses[] = {"last", "clear", "rinse"}; /* whose flow is sized */
    static dregs_faults faults;
    dregs_line *line;
    unsigned row, i;
    double number;

    liquids = dregs_liquids_new();
    ck_assert_ptr_nonnull(liquids);
    now.file = files[_i];
    now.rinse = rinses[_i];
    line = read_file(files[_i], &faults);
    for (row = 1; row <= dregs_line_rows(line); row++) {
        const dregs_row *one = dregs_line_row(line, row);
        if (one->value && !dregs_number_read(one->value, &number))
            for (i = 0; i < VALUES; i++)
                with_value(line, one, values[i]);
    }
    printf("# %s: %u lines refused, %u read, %u answers\n", files[_i], refused, accepted, answered);
    /* both ways are taken often, else this says little */
    ck_assert_uint_ge(refused, 20);
    ck_assert_uint_ge(answered, 20);
    dregs_line_free(line);
    dregs_liquids_free((dregs_liquids *)(uintptr_t)liquids);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("extreme");
    TCase *c = tcase_create("every row");

    tcase_set_timeout(c, 300);
    suite_add_tcase(s, c);
    tcase_add_loop_test(c, no_answer_holds_a_number_that_is_none, 0, 3);
    return run(s);
}
