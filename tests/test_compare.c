/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_compare.c: two lines side by side. What a difference does alone is what a prediction says of
 * a file that has it: those files are written here by hand.
 */
#include "check_main.h"
#include "dregs/answer_compare.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <string.h>

enum { FILES = 8 };

static dregs_liquids *liquids;
static dregs_line *line[FILES];
static dregs_compare_result *result;

static const char *const base =
    "item,property,value,unit,spread,note\n"
    "tray,kind,load,\ntray,parts,7,1\ntray,area,137,cm2\ntray,interval,4.4,min\n"
    "oil,kind,solute,\noil,on parts,2.385,mg\n"
    "pure,kind,liquid,\npure,solvent,water,\npure,oil,0.21,mg/L\n"
    "bath,kind,wash,\nbath,volume,3.1,L\nbath,liquid,pure,\nbath,removal,93,%\n"
    "bath,dump every,37,\n";

static void begin(void)
{
    (void)gsl_set_error_handler_off();
    liquids = dregs_liquids_new();
    ck_assert_ptr_nonnull(liquids);
}

/* A file: the base, and more rows. */
static const dregs_line *file(unsigned index, const char *name, const char *rows)
{
    char text[4096];
    dregs_faults faults = {0};

    snprintf(text, sizeof text, "%s%s", base, rows);
    if (dregs_line_parse(name, text, strlen(text), liquids, &line[index], &faults))
        ck_abort_msg("%s: %s", name, faults.fault[0].text);
    return line[index];
}

static void ask(const dregs_line *a, const dregs_line *b, uint64_t loads)
{
    dregs_compare_request asked;

    dregs_compare_request_init(&asked);
    asked.loads = loads;
    dregs_compare_result_free(result);
    result = NULL;
    ck_assert_int_eq(dregs_compare_answer(a, b, &asked, &result), DREGS_OK);
    ck_assert_near(result->together, result->of_b->worst.residue, 1e-12,
                   "all together are the second file");
}

static double predicted(const dregs_line *of, uint64_t loads)
{
    dregs_predict_request asked;
    dregs_predict_result *answer = NULL;
    double residue;

    dregs_predict_request_init(&asked);
    asked.loads = loads;
    ck_assert_int_eq(dregs_predict_answer(of, &asked, &answer), DREGS_OK);
    residue = answer->worst.residue;
    dregs_predict_result_free(answer);
    return residue;
}

static void end(void)
{
    unsigned i;

    dregs_compare_result_free(result);
    result = NULL;
    for (i = 0; i < FILES; i++) {
        dregs_line_free(line[i]);
        line[i] = NULL;
    }
    dregs_liquids_free(liquids);
}

static const dregs_compare_difference *is(unsigned index, const char *item, const char *property)
{
    const dregs_compare_difference *d = dregs_compare_result_difference(result, index);

    ck_assert_msg(d != NULL, "difference %u", index);
    ck_assert_msg((!item && !d->item) || (item && d->item && strcmp(item, d->item) == 0),
                  "item of %u: %s", index, d->item ? d->item : "none");
    ck_assert_msg((!property && !d->property) ||
                      (property && d->property && strcmp(property, d->property) == 0),
                  "property of %u: %s", index, d->property ? d->property : "none");
    return d;
}

static void leaves(const dregs_compare_difference *d, double residue)
{
    ck_assert_ptr_null(d->why);
    ck_assert_near(d->residue, residue, 1e-12, "residue with the difference");
}

#define BATH  "bath,film,83,um\n"
#define RINSE "rinse,kind,rinse,\nrinse,volume,2.2,L\nrinse,liquid,pure,\nrinse,film,61,um\n"

START_TEST(one_difference_is_the_prediction_of_the_other_file)
{
    const dregs_line *a, *b;

    begin();
    a = file(0, "a", BATH RINSE "rinse,flow,5.1,L/h\n");
    b = file(1, "b", BATH RINSE "rinse,flow,7.3,L/h\n");
    ask(a, b, DREGS_NO_END);
    ck_assert_uint_eq(result->differences, 1);
    leaves(is(0, "rinse", "flow"), predicted(b, DREGS_NO_END));
    ck_assert(result->of_b->worst.residue < 0.999 * result->of_a->worst.residue);
    ask(b, a, DREGS_NO_END);
    leaves(is(0, "rinse", "flow"), predicted(a, DREGS_NO_END));
    ask(a, b, 11); /* of the first loads */
    leaves(is(0, "rinse", "flow"), predicted(b, 11));
    end();
}
END_TEST

START_TEST(each_alone_is_a_file_of_its_own)
{
    const dregs_line *a, *b;

    begin();
    a = file(0, "a", BATH RINSE "rinse,flow,5.1,L/h\n");
    b = file(1, "b", "bath,film,97,um\n" RINSE "rinse,dump every,19,\n");
    ask(a, b, DREGS_NO_END);
    ck_assert_uint_eq(result->differences, 3);
    leaves(is(0, "bath", "film"),
           predicted(file(2, "c", "bath,film,97,um\n" RINSE "rinse,flow,5.1,L/h\n"), DREGS_NO_END));
    leaves(is(1, "rinse", "flow"), predicted(file(3, "d", BATH RINSE), DREGS_NO_END));
    leaves(is(2, "rinse", "dump every"),
           predicted(file(4, "e", BATH RINSE "rinse,flow,5.1,L/h\nrinse,dump every,19,\n"),
                     DREGS_NO_END));
    ck_assert_uint_eq(is(1, "rinse", "flow")->row_b, 0);
    ck_assert_uint_eq(is(2, "rinse", "dump every")->row_a, 0);
    end();
}
END_TEST

START_TEST(what_states_the_same_is_no_difference)
{
    const dregs_line *a, *b;

    begin();
    a = file(0, "a", BATH RINSE "rinse,flow,5.1,L/h,5%,read\n");
    b = file(1, "b", RINSE BATH "rinse,flow,5100,mL/h,255,guessed\n");
    ask(a, b, DREGS_NO_END);
    ck_assert_uint_eq(result->differences, 0);
    ck_assert_ptr_null(dregs_compare_result_difference(result, 0));
    ask(a, a, DREGS_NO_END);
    ck_assert_uint_eq(result->differences, 0);
    b = file(2, "c", BATH RINSE "rinse,flow,5.1,L/h,7%,read\n"); /* known less well */
    ask(a, b, DREGS_NO_END);
    ck_assert_uint_eq(result->differences, 1);
    leaves(is(0, "rinse", "flow"), predicted(a, DREGS_NO_END));
    end();
}
END_TEST

#define SECOND "second,kind,rinse,\nsecond,volume,1.7,L\nsecond,liquid,pure,\nsecond,film,47,um\n"

START_TEST(a_stage_comes_and_goes_with_the_rows_that_name_it)
{
    const dregs_line *a, *b;
    const dregs_compare_difference *d;

    begin();
    a = file(0, "a", BATH RINSE "rinse,flow,5.1,L/h\n");
    b = file(1, "b", BATH SECOND RINSE "rinse,flow,5.1,L/h\nrinse,overflow to,second,\n");
    ask(a, b, DREGS_NO_END);
    ck_assert_uint_eq(result->differences, 1); /* between the two, as in its own file */
    d = is(0, "second", NULL);
    ck_assert_uint_eq(d->rows, 5);
    leaves(d, predicted(b, DREGS_NO_END));
    ask(b, a, DREGS_NO_END);
    ck_assert_uint_eq(result->differences, 1);
    leaves(is(0, "second", NULL), predicted(a, DREGS_NO_END));
    end();
}
END_TEST

START_TEST(stages_in_another_order_and_of_another_kind)
{
    const dregs_line *a, *b;

    begin();
    a = file(0, "a", BATH RINSE SECOND "rinse,flow,5.1,L/h\n");
    b = file(1, "b", BATH SECOND RINSE "rinse,flow,5.1,L/h\n");
    ask(a, b, DREGS_NO_END);
    ck_assert_uint_eq(result->differences, 1);
    leaves(is(0, NULL, NULL), predicted(b, DREGS_NO_END));
    ck_assert(fabs(result->together / result->of_a->worst.residue - 1) > 1e-3);
    b = file(2, "c",
             BATH RINSE "rinse,flow,5.1,L/h\nsecond,kind,spray,\nsecond,liquid,pure,\n"
                        "second,use,0.4,L\nsecond,film,47,um\n");
    ask(a, b, DREGS_NO_END);
    ck_assert_uint_eq(result->differences, 1);
    leaves(is(0, "second", NULL), predicted(b, DREGS_NO_END));
    ck_assert_uint_eq(is(0, "second", NULL)->rows, 3); /* kind, volume, use */
    end();
}
END_TEST

START_TEST(what_cannot_be_applied_alone)
{
    const dregs_line *a, *b;
    const dregs_compare_difference *d;
    unsigned i;

    begin();
    a = file(0, "a", BATH RINSE "rinse,flow,5.1,L/h\n");
    b = file(1, "b", "bath,drag-out,71,mL/m2\n" RINSE "rinse,flow,7.3,L/h\n");
    ask(a, b, DREGS_NO_END);
    ck_assert_uint_eq(result->differences, 3);
    for (i = 0; i < 3; i += 2) {
        d = is(i, "bath", i ? "drag-out" : "film");
        ck_assert_ptr_nonnull(d->why);
        ck_assert_ptr_null(strstr(d->why, "line "));
        ck_assert_int_eq(d->joined, 1);
        ck_assert_near(
            d->residue,
            predicted(file(2 + i, "c", "bath,drag-out,71,mL/m2\n" RINSE "rinse,flow,5.1,L/h\n"),
                      DREGS_NO_END),
            1e-12, "both together");
    }
    leaves(is(1, "rinse", "flow"),
           predicted(file(5, "d", BATH RINSE "rinse,flow,7.3,L/h\n"), DREGS_NO_END));
    end();
}
END_TEST

/* ---- how sure it is ---- */

#define SQRT2 1.41421356237309504880
#define Z95   1.64485362695147271486 /* of the normal distribution: 95 % lie below it */

/* A line that no liquid brings soil into: all that is left is a share of the soil on the parts. */
static const char *const soiled =
    "item,property,value,unit,spread,note\n"
    "tray,kind,load,\ntray,parts,7,1\ntray,area,137,cm2\ntray,interval,4.4,min\n"
    "pure,kind,liquid,\npure,solvent,water,\n"
    "bath,kind,wash,\nbath,volume,3.1,L\nbath,liquid,pure,\nbath,removal,99.99,%\n"
    "bath,dump every,37,\nbath,film,83,um\n"
    "rinse,kind,rinse,\nrinse,volume,2.2,L\nrinse,liquid,pure,\nrinse,film,61,um\n";

static const dregs_line *soiled_file(unsigned index, const char *rows)
{
    char text[4096];
    dregs_faults faults = {0};

    snprintf(text, sizeof text, "%s%s", soiled, rows);
    if (dregs_line_parse("soiled", text, strlen(text), liquids, &line[index], &faults))
        ck_abort_msg("%s", faults.fault[0].text);
    return line[index];
}

static dregs_compare_doubt *doubt;

static void ask_doubt(const dregs_line *a, const dregs_line *b, uint64_t draws, uint64_t seed)
{
    dregs_compare_request asked;
    dregs_doubt_request drawn;

    dregs_compare_doubt_free(doubt);
    doubt = NULL;
    dregs_compare_result_free(result);
    result = NULL;
    dregs_compare_request_init(&asked);
    ck_assert_int_eq(dregs_compare_answer(a, b, &asked, &result), DREGS_OK);
    dregs_doubt_request_init(&drawn);
    drawn.draws = draws;
    drawn.seed = seed;
    ck_assert_int_eq(dregs_compare_doubt_ask(result, &drawn, &doubt, NULL), DREGS_OK);
}

static dregs_ensemble_range ratio(void)
{
    dregs_ensemble_range range;

    ck_assert_ptr_nonnull(doubt);
    ck_assert_int_eq(dregs_compare_doubt_ratio(doubt, &range), DREGS_OK);
    return range;
}

static void doubt_end(void)
{
    dregs_compare_doubt_free(doubt);
    doubt = NULL;
    end();
}

/* The soil is in doubt by half of itself, and the same in both files: what they leave is in
 * proportion to it, so the ratio is the same in every draw, that of the lines as they are stated.
 * Were each file drawn for itself, the ratio would vary by 80 %. */
START_TEST(what_both_have_alike_is_no_doubt_about_the_difference)
{
    dregs_ensemble_range range, own;
    const dregs_line *a, *b;
    double stated;

    begin();
    a = soiled_file(0, "oil,kind,solute,\noil,on parts,2.385,mg,50%\nrinse,flow,5.1,L/h\n");
    b = soiled_file(1, "note,kind,solute,\nnote,on parts,0,mg\n"
                       "oil,kind,solute,\noil,on parts,2.385,mg,50%\nrinse,flow,7.3,L/h\n");
    ask_doubt(a, b, 1000, 1);
    range = ratio();
    stated = result->of_b->most / result->of_a->most;
    ck_assert(stated < 0.95);
    ck_assert_near(range.low.value, stated, 1.1e-3, "5 %%: values are counted to 0.1 %%");
    ck_assert_near(range.high.value, stated, 1.1e-3, "95 %%");
    ck_assert_double_eq(doubt->less.value, 1);
    ck_assert_double_eq(doubt->more.value, 0);
    ck_assert_uint_eq(doubt->run.rows, 1);
    ck_assert_int_eq(dregs_compare_doubt_worst(doubt, 0, &own), DREGS_OK);
    ck_assert_msg(own.high.value > 2 * own.low.value, "what each leaves is in doubt");
    ck_assert_int_eq(dregs_compare_doubt_worst(doubt, 2, &own), DREGS_DOMAIN);
    doubt_end();
}
END_TEST

/* The soil of the second is another item, so another draw, and 0.7 of that of the first; both are
 * lognormal with a standard deviation of 30 % of the mean. The logarithm's is s = sqrt(ln(1 +
 * 0.3^2)) = 0.29356, and the ratio is lognormal about 0.7 with sqrt(2) s = 0.41516: 5 and 95 % at
 * 0.7 exp(-+1.64485 x 0.41516) = 0.3536 and 1.3857; below 1 is the share Phi(-ln(0.7) / 0.41516) =
 * Phi(0.8591) = 0.8049 of the draws. 4000 of them: the ends within 5 % (four standard errors are
 * 4 sqrt(0.05 x 0.95 / 4000) / 0.1031 x 0.41516 = 5.5 %), the share within four of 0.63 %. */
START_TEST(what_is_another_row_is_another_draw)
{
    dregs_ensemble_range range;
    const dregs_line *a, *b;
    double s = sqrt(log(1 + 0.3 * 0.3)) * SQRT2;

    begin();
    a = soiled_file(0, "oil,kind,solute,\noil,on parts,2,mg,30%\nrinse,flow,5.1,L/h\n");
    b = soiled_file(1, "grease,kind,solute,\ngrease,on parts,1.4,mg,30%\nrinse,flow,5.1,L/h\n");
    ask_doubt(a, b, 4000, 3);
    range = ratio();
    ck_assert_near(range.middle.value, 0.7, 0.03, "50 %%");
    ck_assert_near(range.low.value, 0.7 * exp(-Z95 * s), 0.055, "5 %%");
    ck_assert_near(range.high.value, 0.7 * exp(Z95 * s), 0.055, "95 %%");
    ck_assert_double_eq_tol(doubt->less.value, 0.8049, 0.0252);
    ck_assert_double_eq_tol(doubt->less.value + doubt->more.value, 1, 1e-12);
    ck_assert_uint_eq(doubt->run.rows, 2);
    doubt_end();
}
END_TEST

/* Only the second file has a spread; with none there is nothing to draw. */
START_TEST(a_spread_of_one_file_alone_is_drawn)
{
    const dregs_line *a, *b;
    dregs_ensemble_range range;
    double s = sqrt(log(1 + 0.3 * 0.3)); /* the median lies at exp(-s^2 / 2) of the mean */

    begin();
    a = soiled_file(0, "oil,kind,solute,\noil,on parts,2,mg\nrinse,flow,5.1,L/h\n");
    b = soiled_file(1, "oil,kind,solute,\noil,on parts,2,mg,30%\nrinse,flow,5.1,L/h\n");
    ask_doubt(a, a, 100, 1);
    ck_assert_ptr_null(doubt);
    ask_doubt(a, b, 4000, 1);
    range = ratio();
    ck_assert_near(range.low.value, exp(-s * s / 2 - Z95 * s), 0.04, "5 %%");
    ck_assert_near(range.high.value, exp(-s * s / 2 + Z95 * s), 0.04, "95 %%");
    doubt_end();
}
END_TEST

START_TEST(what_is_refused)
{
    dregs_compare_request asked;
    const dregs_line *a;
    dregs_line *other;

    begin();
    a = file(0, "a", BATH RINSE);
    memset(&asked, 0, sizeof asked);
    ck_assert_int_eq(dregs_compare_answer(a, a, &asked, &result), DREGS_DOMAIN);
    dregs_compare_request_init(&asked);
    asked.loads = DREGS_LOADS_MOST + 1;
    ck_assert_int_eq(dregs_compare_answer(a, a, &asked, &result), DREGS_DOMAIN);
    dregs_compare_request_init(&asked);
    other = lines_read("item,property,value,unit\ntray,kind,load,\ntray,parts,7,1\n"
                       "tray,area,137,cm2\ntray,interval,4.4,min\noil,kind,solute,\n"
                       "pure,kind,liquid,\npure,solvent,water,\n" RINSE);
    ck_assert_int_eq(dregs_compare_answer(a, other, &asked, &result), DREGS_DOMAIN);
    ck_assert_ptr_null(result);
    lines_free(other);
    end();
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"differences",
         {one_difference_is_the_prediction_of_the_other_file, each_alone_is_a_file_of_its_own,
          what_states_the_same_is_no_difference}},
        {"stages",
         {a_stage_comes_and_goes_with_the_rows_that_name_it,
          stages_in_another_order_and_of_another_kind}},
        {"not alone", {what_cannot_be_applied_alone, what_is_refused}},
        {"doubt",
         {what_both_have_alike_is_no_doubt_about_the_difference,
          what_is_another_row_is_another_draw, a_spread_of_one_file_alone_is_drawn}},
    };

    return run_cases("compare", cases, sizeof cases / sizeof cases[0]);
}
