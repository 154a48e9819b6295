/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_answer.c: what the tools answer, asked in C. The line of most tests is one still rinse of
 * 1 L: every load brings 1 g of soil, all taken off, and drags 0.1 L of it out over 1 m2 of part.
 * Load n finds 10 (1 - 0.9^n) g in the tank, and keeps 1 - 0.9^n g on its square metre; in the long
 * run it keeps the gram that it brings.
 */
#include "check_main.h"
#include "dregs/answer_predict.h"
#include "dregs/answer_reuse.h"
#include "dregs/answer_size.h"
#include "dregs/number.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

#define HEAD "item,property,value,unit\n"
#define LOAD "part,kind,load,\npart,parts,1,\npart,area,1,m2\npart,interval,1,h\n"
#define SOIL "soil,kind,solute,\nsoil,on parts,1,g\n"
#define PURE "pure,kind,liquid,\npure,solvent,water,\n"
#define STILL(name)                                                                                \
    name ",kind,rinse,\n" name ",volume,1,L\n" name ",liquid,pure,\n" name ",film,100,um\n"
#define BASE   HEAD LOAD SOIL PURE STILL("r") "r,removal,100,%\n"
#define TARGET "limit,kind,target,\nlimit,residue,"

static dregs_line *line;

static void setup(void)
{
    (void)gsl_set_error_handler_off();
}

static dregs_varied *varied;

static void teardown(void)
{
    dregs_varied_free(varied);
    varied = NULL;
    if (line)
        lines_free(line);
    line = NULL;
}

/* What load `load` of the still rinse keeps, kg/m2. */
static double kept(uint64_t load)
{
    return 1e-3 * (1 - pow(0.9, (double)load));
}

/* ---- predict ---- */

static dregs_predict_result *predict(const char *text, const dregs_predict_request *request)
{
    dregs_predict_result *result = NULL;

    teardown();
    line = lines_read(text);
    ck_assert_int_eq(dregs_predict_answer(line, request, &result), DREGS_OK);
    ck_assert_ptr_nonnull(result);
    return result;
}

START_TEST(predict_without_a_target)
{
    dregs_predict_request request;
    dregs_predict_result *result;

    dregs_predict_request_init(&request);
    result = predict(BASE, &request);
    ck_assert_int_eq(result->settles, 1);
    ck_assert_int_eq(result->worst.in_the_long_run, 1);
    ck_assert_near(result->worst.residue, 1e-3, 1e-9, "worst");
    ck_assert_near(result->steady.residue, 1e-3, 1e-9, "long run");
    ck_assert_near(result->worst_residue.film[0], 1e-3, 1e-9, "soil of the worst");
    ck_assert_double_eq(result->floor.total, 0);
    ck_assert_uint_eq(result->verdicts, 0);
    ck_assert_int_eq(result->met, 1);
    ck_assert_ptr_null(dregs_predict_result_verdict(result, 0));
    /* 1e-3 kg/m2 are 100 mg per 0.1 m2; the last level allows 25 */
    ck_assert_ptr_null(result->level);
    ck_assert_ptr_nonnull(result->hangs);
    dregs_predict_result_free(result);
    request.extent = DREGS_PREDICT_RESIDUES; /* nothing else is another */
    result = predict(BASE, &request);
    ck_assert_ptr_null(result->hangs);
    ck_assert_near(result->worst.residue, 1e-3, 1e-9, "worst");
    dregs_predict_result_free(result);
}
END_TEST

START_TEST(predict_judges_the_target)
{
    static const struct {
        const char *limit; /* g/m2 */
        uint64_t loads;
        int met;
        double worst;
    } known[] = {
        {"1.1", DREGS_NO_END, 1, 1e-3},
        {"0.5", DREGS_NO_END, 0, 1e-3},
        /* 1 - 0.9^6 = 0.468559, 1 - 0.9^7 = 0.5217031 */
        {"0.5", 6, 1, 0.468559e-3},
        {"0.5", 7, 0, 0.5217031e-3},
    };
    dregs_predict_request request;
    unsigned i;

    dregs_predict_request_init(&request);
    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        struct lines_text text = {0, ""};
        dregs_predict_result *result;
        const dregs_predict_verdict *verdict;
        lines_say(&text, "%s" TARGET "%s,g/m2\n", BASE, known[i].limit);
        request.loads = known[i].loads;
        result = predict(text.bytes, &request);
        ck_assert_uint_eq(result->verdicts, 1);
        verdict = dregs_predict_result_verdict(result, 0);
        ck_assert_int_eq(verdict->solute, DREGS_EVERY_SOLUTE);
        ck_assert_int_eq(verdict->met, known[i].met);
        ck_assert_int_eq(result->met, known[i].met);
        ck_assert_near(verdict->worst.residue, known[i].worst, 1e-9, "worst of %u", i);
        ck_assert_near(verdict->share, known[i].worst / verdict->limit.si, 1e-9, "share of %u", i);
        if (known[i].loads)
            ck_assert_uint_eq(verdict->worst.load, known[i].loads);
        dregs_predict_result_free(result);
    }
}
END_TEST

/* One solute meets its limit, the other does not: the whole is not met. */
START_TEST(predict_judges_each_solute)
{
    dregs_predict_request request;
    dregs_predict_result *result;

    dregs_predict_request_init(&request);
    result = predict(BASE "dust,kind,solute,\ndust,on parts,0.25,g\n"
                          "limit,kind,target,\nlimit,residue soil,2,g/m2\n"
                          "limit,residue dust,0.2,g/m2\n",
                     &request);
    ck_assert_uint_eq(result->verdicts, 2);
    ck_assert_int_eq(dregs_predict_result_verdict(result, 0)->met, 1);
    ck_assert_near(dregs_predict_result_verdict(result, 0)->share, 0.5, 1e-9, "soil");
    ck_assert_int_eq(dregs_predict_result_verdict(result, 1)->met, 0);
    ck_assert_near(dregs_predict_result_verdict(result, 1)->share, 1.25, 1e-9, "dust");
    ck_assert_int_eq(result->met, 0);
    dregs_predict_result_free(result);
}
END_TEST

struct heard {
    unsigned count;
    uint64_t load[32];
};

static void hear(void *user, uint64_t load, const dregs_state *state, const dregs_residue *residue)
{
    struct heard *heard = user;

    ck_assert_uint_lt(heard->count, 32);
    ck_assert_uint_eq(dregs_state_next(state), load);
    ck_assert_near(residue->total, kept(load), 1e-9, "load %u", (unsigned)load);
    heard->load[heard->count++] = load;
}

static void lists(const dregs_predict_request *request, const uint64_t *wanted, unsigned count)
{
    dregs_predict_result *result = predict(BASE, request);
    struct heard heard = {0, {0}};
    unsigned i;

    ck_assert_int_eq(dregs_predict_each(result, hear, &heard), DREGS_OK);
    ck_assert_uint_eq(heard.count, count);
    for (i = 0; i < count; i++)
        ck_assert_uint_eq(heard.load[i], wanted[i]);
    dregs_predict_result_free(result);
}

START_TEST(predict_lists_loads)
{
    /* 0.9^50 = 5e-3 is not yet within 1e-3 of the long run, 0.9^100 is */
    static const uint64_t steps[] = {1, 2, 5, 10, 20, 50, 100}, seven[] = {1, 2, 5, 7},
                          thirds[] = {3, 6}, named[] = {2, 9, 4000};
    dregs_predict_request request;

    dregs_predict_request_init(&request);
    lists(&request, steps, 7);
    request.loads = 7;
    lists(&request, seven, 4);
    request.every = 3;
    lists(&request, thirds, 2);
    dregs_predict_request_init(&request);
    request.at = named;
    request.at_count = 3;
    lists(&request, named, 3);
}
END_TEST

/* The second load through the rinse above and through one that half of the film passes unmixed:
 * after load 1 the first tank holds 0.9 g and the second, of 0.1 g that come, 0.05 g in 1.05 L, of
 * which 0.05 L leave with the film. */
START_TEST(predict_shows_a_load)
{
    double c1 = 0.05e-3 / 1.05e-3, left = 0.05e-3 - 0.05e-3 * c1, c2;
    dregs_predict_request request;
    dregs_predict_result *result;
    dregs_predict_pass pass;

    dregs_predict_request_init(&request);
    request.shown = 2;
    result = predict(BASE STILL("s") "s,exchange,50,%\n", &request);
    ck_assert_int_eq(result->shown.in_the_long_run, 0);
    ck_assert_uint_eq(result->shown.load, 2);
    ck_assert_int_eq(dregs_predict_pass_of(result, 0, 0, &pass), DREGS_OK);
    ck_assert_double_eq(pass.brought, 0);
    ck_assert_near(pass.met, 1.9e-3, 1e-12, "m in the first");
    ck_assert_near(pass.concentration, 1.9, 1e-12, "c in the first");
    ck_assert_near(pass.taken, 0.19e-3, 1e-12, "film out of the first");
    ck_assert_int_eq(dregs_predict_pass_of(result, 0, 1, &pass), DREGS_OK);
    ck_assert_near(pass.brought, 0.19e-3, 1e-12, "film into the second");
    ck_assert_near(pass.bypassing, 0.095e-3, 1e-12, "past the second");
    ck_assert_near(pass.mixing, 0.095e-3, 1e-12, "into the second");
    ck_assert_near(pass.bypass_volume, 0.05e-3, 1e-12, "bypass");
    ck_assert_near(pass.mixed_volume, 0.05e-3, 1e-12, "mixed");
    ck_assert_near(pass.fresh_volume, 0.05e-3, 1e-12, "of the mixture");
    ck_assert_near(pass.met, left, 1e-12, "m in the second");
    c2 = (left + 0.095e-3) / 1.05e-3;
    ck_assert_near(pass.concentration, c2, 1e-12, "c in the second");
    ck_assert_near(pass.taken, 0.095e-3 + 0.05e-3 * c2, 1e-12, "film out of the second");
    ck_assert_near(result->shown.residue, pass.taken, 1e-12, "residue on 1 m2");
    ck_assert_int_eq(dregs_predict_pass_of(result, 1, 0, &pass), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_predict_pass_of(result, 0, 2, &pass), DREGS_DOMAIN);
    dregs_predict_result_free(result);
}
END_TEST

START_TEST(predict_refuses)
{
    static const uint64_t falling[] = {5, 3}, far[] = {8};
    enum { SIZE = sizeof(dregs_predict_request) };
    static const dregs_predict_request bad[] = {
        {.size = SIZE, .loads = 7, .every = 8, .at = NULL, .at_count = 0, .shown = 0},
        {.size = SIZE, .loads = 0, .every = 2, .at = far, .at_count = 1, .shown = 0},
        {.size = SIZE, .loads = 7, .every = 0, .at = far, .at_count = 1, .shown = 0},
        {.size = SIZE, .loads = 0, .every = 0, .at = falling, .at_count = 2, .shown = 0},
        {.size = SIZE,
         .loads = DREGS_LOADS_MOST + 1,
         .every = 0,
         .at = NULL,
         .at_count = 0,
         .shown = 0},
        {.size = SIZE,
         .loads = 0,
         .every = 0,
         .at = NULL,
         .at_count = 0,
         .shown = DREGS_LOADS_MOST + 1},
    };
    dregs_predict_result *result = NULL;
    unsigned i;

    line = lines_read(BASE);
    for (i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        ck_assert_int_eq(dregs_predict_answer(line, &bad[i], &result), DREGS_DOMAIN);
        ck_assert_ptr_null(result);
    }
    dregs_predict_result_free(NULL);
}
END_TEST

/* ---- size ---- */

static char message[DREGS_SIZE_MESSAGE];

static dregs_size_result *size(const char *text, const char *vary)
{
    dregs_size_request request;
    dregs_size_result *result = NULL;

    teardown();
    line = lines_read(text);
    dregs_size_request_init(&request);
    request.varied = varied = dregs_varied_new(line);
    ck_assert_msg(!dregs_varied_read(varied, vary, message), "%s", message);
    ck_assert_msg(!dregs_size_answer(line, &request, &result, message), "%s", message);
    ck_assert_ptr_null(dregs_size_result_row(result, 0));
    return result;
}

/* Dumped after n loads, the worst keeps 1 - 0.9^n g/m2: below 0.5 for n = 6, above it for 7. */
START_TEST(size_finds_a_whole_number)
{
    dregs_size_result *result = size(BASE TARGET "0.5,g/m2\nr,dump every,2,\n", "r.dump every");

    ck_assert_int_eq(result->met, 1);
    ck_assert_double_eq(dregs_sized_value(result->sized, 0), 6);
    ck_assert_double_eq(result->before[0], 2);
    ck_assert_near(dregs_sized_compliance(result->sized)->residue, kept(6), 1e-9, "residue");
    ck_assert_int_eq(result->by_cost, 0);
    /* 8 h of a load every hour, for no schedule is stated */
    ck_assert_double_eq(result->loads_per_shift, 8);
    ck_assert_int_eq(result->shift_assumed, 1);
    ck_assert_double_nan(result->rule.ratio);
    dregs_size_result_free(result);
}
END_TEST

/* Sprayed with S of water, a film of 0.1 L keeps exp(-S / 0.1 L) of the gram of the long run. */
START_TEST(size_finds_a_use)
{
    dregs_size_result *result = size(BASE "jet,kind,spray,\njet,liquid,pure,\njet,use,5,L\n"
                                          "jet,film,100,um\n" TARGET "0.1,g/m2\n"
                                          "days,kind,schedule,\ndays,loads per shift,5,\n",
                                     "jet.use=100..5000 mL");

    ck_assert_int_eq(result->met, 1);
    ck_assert_near(dregs_sized_value(result->sized, 0), 0.1e-3 * log(10), 1e-6, "use");
    ck_assert_near(result->before[0], 5e-3, 1e-12, "stated");
    ck_assert_double_eq(result->loads_per_shift, 5);
    ck_assert_int_eq(result->shift_assumed, 0);
    dregs_size_result_free(result);
}
END_TEST

/* The first load already keeps 0.1 g/m2: at best 0.1/0.09 of the limit, with a dump every load. */
START_TEST(size_that_is_not_possible)
{
    dregs_size_result *result = size(BASE TARGET "0.09,g/m2\nr,dump every,2,\n", "r.dump every");

    ck_assert_int_eq(result->met, 0);
    ck_assert_int_eq(dregs_sized_feasible(result->sized), 0);
    ck_assert_double_eq(dregs_sized_value(result->sized, 0), 1);
    ck_assert_near(dregs_sized_compliance(result->sized)->of_limit, 0.1 / 0.09, 1e-9, "at best");
    dregs_size_result_free(result);
}
END_TEST

#define WASHED                                                                                     \
    HEAD LOAD SOIL PURE                                                                            \
        "bath,kind,wash,\nbath,volume,20,L\nbath,liquid,pure,\nbath,film,100,um\n"                 \
        "bath,removal,100,%\nbath,flow,1,L/h\n"                                                    \
        "r,kind,rinse,\nr,volume,5,L\nr,liquid,pure,\nr,film,100,um\nr,flow,3,L/h\n"
#define STRICT TARGET "0.02,g/m2\n"

/* The rules stand beside the answer with its own concentrations and its own drag-out of 0.1 L/h. */
START_TEST(size_tells_the_rules_of_thumb)
{
    dregs_size_result *result = size(WASHED STRICT, "r.flow");
    const dregs_compliance *compliance;
    double ratio;

    ck_assert_int_eq(result->met, 1);
    compliance = dregs_sized_compliance(result->sized);
    ratio = compliance->mg_in / compliance->mg_out;
    ck_assert_double_gt(ratio, 1);
    ck_assert_uint_eq(result->rule.stages, 1);
    ck_assert_near(result->rule.ratio, ratio, 1e-12, "ratio");
    ck_assert_near(result->rule.exact, dregs_sized_value(result->sized, 0) * 3600 / 0.1e-3, 1e-9,
                   "exact");
    ck_assert_near(result->rule.root, ratio, 1e-12, "root of one rinse");
    ck_assert_near(result->rule.series, ratio - 1, 1e-12, "series of one rinse");
    dregs_size_result_free(result);
}
END_TEST

static int meets(const dregs_size_row *row)
{
    return row->possible && dregs_sized_feasible(row->sized);
}

/* No worse in three things and better in one. */
static int beats(const dregs_size_row *a, const dregs_size_row *b)
{
    double la = dregs_sized_use(a->sized)->bought, lb = dregs_sized_use(b->sized)->bought;
    int less = la<lb *(1 - 1e-9), more = la> lb * (1 + 1e-9);

    return !more && a->volume <= b->volume && a->stages <= b->stages &&
           (less || a->volume < b->volume || a->stages < b->stages);
}

static const dregs_size_row *row_of(const dregs_size_result *result, dregs_layout layout,
                                    unsigned stages)
{
    size_t i;

    for (i = 0; i < result->rows; i++) {
        const dregs_size_row *row = dregs_size_result_row(result, i);
        if (row->layout == layout && row->stages == stages)
            return row;
    }
    ck_abort_msg("no row of layout %d with %u rinses", (int)layout, stages);
    return NULL;
}

static dregs_size_result *lay_out(const char *text, unsigned first, unsigned last, int layout)
{
    dregs_size_request request;
    dregs_size_result *result = NULL;

    teardown();
    line = lines_read(text);
    dregs_size_request_init(&request);
    request.first = first;
    request.last = last;
    request.layout = layout;
    ck_assert_msg(!dregs_size_answer(line, &request, &result, message), "%s", message);
    return result;
}

START_TEST(size_puts_layouts_in_order)
{
    dregs_size_result *result = lay_out(WASHED STRICT, 1, 3, DREGS_EVERY_LAYOUT);
    size_t i, k;

    ck_assert_uint_eq(result->rows, 3 * DREGS_LAYOUTS);
    ck_assert_ptr_null(dregs_size_result_row(result, result->rows));
    ck_assert_int_eq(result->met, 1);
    for (i = 0; i < result->rows; i++) {
        const dregs_size_row *row = dregs_size_result_row(result, i);
        const dregs_size_row *next = dregs_size_result_row(result, i + 1);
        int beaten = 0;
        if (next && meets(row) && meets(next))
            ck_assert_double_le(dregs_sized_use(row->sized)->bought,
                                dregs_sized_use(next->sized)->bought);
        ck_assert(!next || meets(row) || !meets(next));
        for (k = 0; k < result->rows; k++)
            beaten |= meets(row) && meets(dregs_size_result_row(result, k)) &&
                      beats(dregs_size_result_row(result, k), row);
        ck_assert_int_eq(row->dominated >= 0, beaten);
        if (beaten)
            ck_assert(beats(dregs_size_result_row(result, (size_t)row->dominated), row));
        /* tanks like the model of 5 L; sprays have none */
        if (row->possible)
            ck_assert_near(row->volume, row->layout == DREGS_SPRAYED ? 0 : row->stages * 5e-3,
                           1e-12, "tanks of row %zu", i);
        ck_assert(row->layout == DREGS_COUNTERFLOW || isnan(row->rule.ratio));
    }
    /* fed apart, two rinses take more than the counterflow of the same two: it beats them */
    ck_assert_int_ge(row_of(result, DREGS_SEPARATE, 2)->dominated, 0);
    ck_assert_double_gt(dregs_sized_use(row_of(result, DREGS_SEPARATE, 2)->sized)->bought,
                        dregs_sized_use(row_of(result, DREGS_COUNTERFLOW, 2)->sized)->bought);
    dregs_size_result_free(result);
}
END_TEST

/* A row is what the layer below gives. */
START_TEST(size_rows_are_those_of_the_layout)
{
    static const dregs_criterion ever = {DREGS_CRITERION_EVER, 0};
    dregs_sized *sized = NULL;
    dregs_size_result *result = lay_out(WASHED STRICT, 2, 2, DREGS_COUNTERFLOW);
    const dregs_size_row *row = dregs_size_result_row(result, 0);

    ck_assert_uint_eq(result->rows, 1);
    ck_assert_int_eq(dregs_size_layout(line, DREGS_COUNTERFLOW, 2, ever, &sized, message),
                     DREGS_OK);
    ck_assert_double_eq(dregs_sized_value(row->sized, 0), dregs_sized_value(sized, 0));
    ck_assert_str_eq(dregs_sized_text(row->sized, NULL), dregs_sized_text(sized, NULL));
    ck_assert_uint_eq(row->rule.stages, 2);
    ck_assert_near(row->rule.root, sqrt(row->rule.ratio), 1e-12, "root of two rinses");
    dregs_sized_free(sized);
    dregs_size_result_free(result);
}
END_TEST

/* Without a wash nothing can be recovered to it; the others are sized all the same. */
START_TEST(size_says_which_layout_cannot_be)
{
    dregs_size_result *result =
        lay_out(BASE "r,flow,1,L/h\n" TARGET "0.2,g/m2\n", 1, 1, DREGS_EVERY_LAYOUT);
    const dregs_size_row *row = row_of(result, DREGS_RECOVERY, 1);

    ck_assert_int_eq(row->possible, 0);
    ck_assert_str_eq(row->message, "no wash stands before the rinses");
    ck_assert_int_eq(row->dominated, -1);
    ck_assert_int_eq(row_of(result, DREGS_COUNTERFLOW, 1)->possible, 1);
    dregs_size_result_free(result);
}
END_TEST

START_TEST(size_reads_what_is_varied)
{
    static const struct {
        const char *text;
        dregs_status status;
        double low, high;
    } known[] = {
        {"r.volume=1..9 L", DREGS_OK, 1e-3, 9e-3}, {"r.volume=500 mL..2 L", DREGS_OK, 0.5e-3, 2e-3},
        {"r.volume=1 L..2", DREGS_OK, 1e-3, 2e-3}, {"r.dump every=2..9", DREGS_OK, 2, 9},
        {"volume", DREGS_BAD_DATA, 0, 0},          {"r.", DREGS_BAD_DATA, 0, 0},
        {".volume", DREGS_BAD_DATA, 0, 0},         {"r.volume=1", DREGS_BAD_DATA, 0, 0},
        {"r.volume=1..2", DREGS_BAD_DATA, 0, 0},   {"r.volume=1..2 kg", DREGS_BAD_DATA, 0, 0},
        {"r.volume=2..1 L", DREGS_DOMAIN, 0, 0},   {"q.volume", DREGS_UNKNOWN, 0, 0},
        {"r.colour", DREGS_UNKNOWN, 0, 0},         {"r.use", DREGS_DOMAIN, 0, 0},
    };
    unsigned i;

    line = lines_read(BASE);
    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        varied = dregs_varied_new(line);
        ck_assert_msg(dregs_varied_read(varied, known[i].text, message) == known[i].status, "%s",
                      known[i].text);
        ck_assert_uint_eq(dregs_varied_count(varied), known[i].status == DREGS_OK);
        if (known[i].status) {
            ck_assert_ptr_nonnull(strstr(message, known[i].text));
        } else {
            ck_assert_near(dregs_varied_low(varied, 0), known[i].low, 1e-12, "low of %s",
                           known[i].text);
            ck_assert_near(dregs_varied_high(varied, 0), known[i].high, 1e-12, "high of %s",
                           known[i].text);
            ck_assert_str_eq(dregs_varied_stage(varied, 0, 0), "r");
        }
        dregs_varied_free(varied);
    }
    varied = dregs_varied_new(line);
    ck_assert_int_eq(dregs_varied_read(varied, "r.volume", message), DREGS_OK);
    ck_assert_int_eq(dregs_varied_read(varied, "r.volume", message), DREGS_DOMAIN);
    ck_assert_uint_eq(dregs_varied_count(varied), 1);
}
END_TEST

START_TEST(size_refuses)
{
    dregs_size_request request;
    dregs_size_result *result = NULL;

    line = lines_read(BASE);
    dregs_size_request_init(&request);
    ck_assert_int_eq(dregs_size_answer(line, &request, &result, message), DREGS_BAD_DATA);
    ck_assert_ptr_nonnull(strstr(message, "no target"));
    teardown();
    line = lines_read(BASE TARGET "0.5,g/m2\n");
    ck_assert_int_eq(dregs_size_answer(line, &request, &result, message), DREGS_DOMAIN);
    request.varied = varied = dregs_varied_new(line); /* nothing is varied yet */
    ck_assert_int_eq(dregs_size_answer(line, &request, &result, message), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_varied_read(varied, "r.volume", message), DREGS_OK);
    request.first = request.last = 1; /* both questions */
    ck_assert_int_eq(dregs_size_answer(line, &request, &result, message), DREGS_DOMAIN);
    request.varied = NULL;
    request.last = DREGS_SIZE_STAGES_MOST + 1;
    ck_assert_int_eq(dregs_size_answer(line, &request, &result, message), DREGS_DOMAIN);
    request.last = 1;
    request.layout = DREGS_LAYOUTS;
    ck_assert_int_eq(dregs_size_answer(line, &request, &result, message), DREGS_DOMAIN);
    request.layout = DREGS_RECOVERY; /* the only one asked for cannot be */
    ck_assert_int_eq(dregs_size_answer(line, &request, &result, message), DREGS_DOMAIN);
    ck_assert_str_eq(message, "no wash stands before the rinses");
    ck_assert_ptr_null(result);
    dregs_size_result_free(NULL);
}
END_TEST

/* ---- reuse ---- */

enum { LOG_ROOM = 4096 };

static char log_text[LOG_ROOM];
static size_t log_length;
static dregs_readings *readings;
static dregs_faults faults;

static void log_row(unsigned load, const char *stage, const char *quantity, double value,
                    const char *unit)
{
    char number[DREGS_NUMBER_TEXT];

    if (load == 1)
        log_length = (size_t)snprintf(log_text, LOG_ROOM, "time,stage,loads,quantity,value,unit\n");
    log_length += (size_t)snprintf(log_text + log_length, LOG_ROOM - log_length,
                                   "2026-03-02T%02u:00,%s,%u,%s,%s,%s\n", load, stage, load,
                                   quantity, dregs_number_exact(number, value), unit);
    ck_assert_uint_lt(log_length, LOG_ROOM);
}

/* What the tank holds after each of some loads, times a factor: 9 (1 - 0.9^n) g/L. */
static void log_loads(unsigned loads, double factor, double last)
{
    unsigned n;

    for (n = 1; n <= loads; n++)
        log_row(n, "r", "concentration soil",
                (n == loads ? last : factor) * 9e3 * (1 - pow(0.9, n)), "mg/L");
}

static void read_log(void)
{
    memset(&faults, 0, sizeof faults);
    readings = dregs_readings_new("log.csv", line, &faults);
    ck_assert_ptr_nonnull(readings);
    ck_assert_msg(!dregs_readings_feed(readings, log_text, log_length) &&
                      !dregs_readings_end(readings),
                  "%s", faults.fault[0].text);
}

static dregs_reuse_result *reuse_with(const char *text, double limit, double drag_out_sd)
{
    dregs_reuse_request request;
    dregs_reuse_result *result = NULL;

    teardown();
    line = lines_read(text);
    read_log();
    dregs_reuse_request_init(&request);
    request.noise = 0.02;
    request.limit = limit;
    request.drag_out_sd = drag_out_sd;
    ck_assert_msg(!dregs_reuse_answer(line, readings, &request, &result, &faults), "%s",
                  faults.fault[0].text);
    return result;
}

static void forget(dregs_reuse_result *result)
{
    dregs_reuse_result_free(result);
    dregs_readings_free(readings);
    readings = NULL;
}

/* After four loads the next one keeps 1 - 0.9^5 = 0.40951 g/m2, the eighth from now 0.7176. */
START_TEST(reuse_advises)
{
    static const struct {
        double limit; /* kg/m2 */
        double factor, last;
        dregs_reuse_advice advice;
    } known[] = {
        {0.75e-3, 1, 1, DREGS_ADVICE_LOADS},
        {2e-3, 1, 1, DREGS_ADVICE_NO_END},
        {0.3e-3, 1, 1, DREGS_ADVICE_DUMP},
        {0.75e-3, 1, 1.5, DREGS_ADVICE_ALONE},
    };
    unsigned i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        dregs_reuse_result *result;
        log_loads(4, known[i].factor, known[i].last);
        result = reuse_with(BASE, known[i].limit, NAN);
        ck_assert_msg(result->advice == known[i].advice, "case %u: advice %d", i,
                      (int)result->advice);
        ck_assert_int_eq(result->use_again, known[i].advice == DREGS_ADVICE_LOADS ||
                                                known[i].advice == DREGS_ADVICE_NO_END);
        if (i == 0) {
            ck_assert_near(result->outlook->next, kept(5), 0.02, "the next load");
            ck_assert_uint_le(result->outlook->plan, result->outlook->loads);
            ck_assert_uint_eq(result->age, 4 + result->outlook->plan);
            ck_assert_uint_eq(dregs_reuse_result_regime(result, 0), 1);
        }
        forget(result);
    }
}
END_TEST

/* Readings as of a rinse of which each load drags a seventh of what the line file says out, so that
 * x = 1 - 0.1/7 of m + 1 g stay. The soil is known, so that nothing else can explain them; the
 * belief before the log pulls the answer a little to 1. */
START_TEST(reuse_doubts_the_readings)
{
    dregs_reuse_request request;
    dregs_reuse_result *result = NULL;
    double x = 1 - 0.1 / 7;
    unsigned n;

    for (n = 1; n <= 4; n++)
        log_row(n, "r", "concentration soil", 1e3 * x / (1 - x) * (1 - pow(x, n)), "mg/L");
    line = lines_read(BASE);
    read_log();
    dregs_reuse_request_init(&request);
    request.noise = 0.02;
    request.drag_out_sd = 3;
    request.soil_sd = 0.01;
    request.limit = 2e-3;
    ck_assert_msg(!dregs_reuse_answer(line, readings, &request, &result, &faults), "%s",
                  faults.fault[0].text);
    ck_assert_near(dregs_reuse_regime(result->reuse, 0)->drag_out.best, 1.0 / 7, 0.1, "drag-out");
    ck_assert_int_eq(result->advice, DREGS_ADVICE_DOUBTFUL);
    ck_assert_int_eq(result->use_again, 0);
    forget(result);
}
END_TEST

/* Met by the best estimate, by no more than a hundredth: not with 99 % confidence. */
START_TEST(reuse_advises_with_confidence)
{
    dregs_reuse_result *result;

    log_loads(4, 1, 1);
    result = reuse_with(BASE TARGET "0.2,g/m2\nlimit,confidence,99,%\n", kept(5) * 1.01, NAN);
    ck_assert_int_eq(result->outlook->dump_now, 1);
    ck_assert_double_le(result->outlook->next, result->outlook->limit);
    ck_assert_int_eq(result->advice, DREGS_ADVICE_DUMP_UNSURE);
    ck_assert_int_eq(result->use_again, 0);
    forget(result);
}
END_TEST

/* Of a lognormal with mean 1 and variance v, the quantiles that 1.959964 standard deviations of the
 * logarithm lie about its median have the product 1/(1 + v) and a quotient whose logarithm is twice
 * those. */
START_TEST(reuse_tells_what_was_believed)
{
    dregs_reuse_result *result;
    const dregs_factor *before;

    log_loads(4, 1, 1);
    result = reuse_with(BASE, 0.75e-3, 0.3);
    before = &result->drag_out_before;
    ck_assert_double_eq(before->best, 1);
    ck_assert_near(before->low * before->high, 1 / 1.09, 1e-12, "product");
    ck_assert_near(log(before->high / before->low), 2 * 1.959964 * sqrt(log(1.09)), 1e-7,
                   "quotient");
    forget(result);
}
END_TEST

/* At the limit a part of 1 m2 keeps just that, all of it out of the film: no soil adheres. */
START_TEST(reuse_tells_what_the_reading_means)
{
    dregs_reuse_result *result;

    log_loads(4, 1, 1);
    result = reuse_with(BASE, 0.75e-3, NAN);
    ck_assert_int_eq(result->meaning.known, 1);
    ck_assert_near(result->meaning.per_part, 0.75e-3, 1e-12, "per part");
    ck_assert_double_eq(result->meaning.film_share, 1);
    ck_assert_int_eq(result->meaning.water_in_air, 0);
    ck_assert_ptr_null(dregs_reuse_result_card(result, 0)); /* no conductivity is read */
    ck_assert_ptr_null(dregs_reuse_result_card(result, 1));
    forget(result);
}
END_TEST

/* A linear compensation of 2 % per degC: shown at T is the value at 25 degC, 0.02 (T - 25) more. */
START_TEST(reuse_makes_a_card)
{
    dregs_reuse_result *result;
    const dregs_reuse_card *card;
    unsigned n, i;

    for (n = 1; n <= 4; n++) /* 0.5 uS/cm per mg/L of soil, 0.05498 of the water */
        log_row(n, "r", "conductivity", 0.05498 + 0.5 * 9e3 * (1 - pow(0.9, n)), "uS/cm");
    result = reuse_with(BASE "soil,conductivity,0.5,uS/cm per mg/L\npure,compensation,linear,\n"
                             "pure,temperature coefficient,2,%/K\n"
                             "r,temperature,21,degC\n",
                        0.75e-3, NAN);
    card = dregs_reuse_result_card(result, 0);
    ck_assert_ptr_nonnull(card);
    ck_assert_int_eq(card->way, DREGS_COMPENSATION_LINEAR);
    for (i = 0; i < DREGS_CARD_TEMPERATURES; i++) {
        double celsius = card->temperature[i] - 273.15;
        ck_assert_near(celsius, 22 + 2.0 * i - 6, 1e-9, "temperature %u", i);
        ck_assert_near(card->shown[i], result->outlook->at[0].planned * (1 + 0.02 * (celsius - 25)),
                       1e-9, "shown at %g", celsius);
    }
    forget(result);
}
END_TEST

START_TEST(reuse_reads_signs)
{
    dregs_regime regime;

    memset(&regime, 0, sizeof regime);
    regime.kind = DREGS_REGIME_FLOW;
    regime.of.best = 0.09;
    ck_assert_int_eq(dregs_reuse_sign_of(&regime), DREGS_SIGN_FLOW_FAILED);
    regime.of.best = 0.11;
    ck_assert_int_eq(dregs_reuse_sign_of(&regime), DREGS_SIGN_NONE);
    regime.kind = DREGS_REGIME_CONTENT;
    ck_assert_int_eq(dregs_reuse_sign_of(&regime), DREGS_SIGN_RENEWED);
    regime.of.best = 2;
    ck_assert_int_eq(dregs_reuse_sign_of(&regime), DREGS_SIGN_GOT_IN);
    regime.kind = DREGS_REGIME_SOIL;
    ck_assert_int_eq(dregs_reuse_sign_of(&regime), DREGS_SIGN_NONE);
}
END_TEST

START_TEST(reuse_refuses)
{
    dregs_reuse_request request;
    dregs_reuse_result *result = NULL;

    log_loads(4, 1, 1);
    line = lines_read(BASE);
    read_log();
    dregs_reuse_request_init(&request);
    ck_assert_int_eq(dregs_reuse_answer(line, readings, &request, &result, &faults),
                     DREGS_BAD_DATA); /* no limit */
    ck_assert_ptr_null(result);
    forget(NULL);
}
END_TEST

/* A second still rinse behind a bath of 10 g/L: the first j loads bring D each, and the rinse of
 * volume V holds c0 (1 - (V/(V + D))^j). The log is that of 120 mL/m2, the file says 100. */
START_TEST(stopped_flow_has_its_row)
{
    double drag_out = 120e-6 * 1.5;
    dregs_stopped_result *result = NULL;
    unsigned n;

    for (n = 1; n <= 6; n++)
        log_row(n, "r", "concentration salt", 10e3 * (1 - pow(3e-3 / (3e-3 + drag_out), n)),
                "mg/L");
    line = lines_read(HEAD LOAD "part,extra area,0.5,m2\npart,hold-up,10,mL\n"
                                "salt,kind,solute,\n" PURE
                                "bath liquid,kind,liquid,\nbath liquid,solvent,water,\n"
                                "bath liquid,salt,10,g/L\n"
                                "bath,kind,wash,\nbath,volume,100,m3\nbath,liquid,bath liquid,\n"
                                "bath,drag-out,100,mL/m2\n"
                                "r,kind,rinse,\nr,volume,3,L\nr,liquid,pure,\nr,film,50,um\n");
    read_log();
    ck_assert_msg(!dregs_stopped_answer(line, readings, 0.01, &result, &faults), "%s",
                  faults.fault[0].text);
    ck_assert_str_eq(dregs_line_row(line, result->replaces)->property, "drag-out");
    ck_assert_int_eq(result->replaces_speed, 0);
    ck_assert_near(result->stated, 0.1e-3 * 1.5 + 10e-6, 1e-12, "stated");
    ck_assert_near(result->beside, 10e-6, 1e-12, "hold-up");
    ck_assert_near(result->wetted, 1.5, 1e-12, "wetted");
    ck_assert_near(result->volume, 3e-3, 1e-12, "volume");
    ck_assert_near(result->sd_share, result->measured.sd / result->measured.thickness, 1e-12,
                   "share");
    dregs_stopped_result_free(result);
    forget(NULL);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {predict_without_a_target,
                                  predict_judges_the_target,
                                  predict_judges_each_solute,
                                  predict_lists_loads,
                                  predict_shows_a_load,
                                  predict_refuses,
                                  size_finds_a_whole_number,
                                  size_finds_a_use,
                                  size_that_is_not_possible,
                                  size_tells_the_rules_of_thumb,
                                  size_puts_layouts_in_order,
                                  size_rows_are_those_of_the_layout,
                                  size_says_which_layout_cannot_be,
                                  size_reads_what_is_varied,
                                  size_refuses,
                                  reuse_advises,
                                  reuse_doubts_the_readings,
                                  reuse_advises_with_confidence,
                                  reuse_tells_what_was_believed,
                                  reuse_tells_what_the_reading_means,
                                  reuse_makes_a_card,
                                  reuse_reads_signs,
                                  reuse_refuses,
                                  stopped_flow_has_its_row};
    Suite *suite = suite_create("answer");
    TCase *cases = tcase_create("answers");
    size_t i;

    tcase_add_checked_fixture(cases, setup, teardown);
    tcase_set_timeout(cases, 120);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(cases, tests[i]);
    suite_add_tcase(suite, cases);
    return run(suite);
}
