/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_size_several.c: several properties that meet a target together, held against a grid, and
 * the layouts of rinses.
 */
#include "check_main.h"
#include "dregs/edit.h"
#include "line/line.h"
#include "sizing.h"

#include <gsl/gsl_errno.h>
#include <string.h>

/* ---- several ---- */

/* A bath and two rinses, each fed and draining by itself; prices where asked for. */
static void two_rinses(double limit, double first_price, double second_price)
{
    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,5,min\n"
              "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
              "strong,salt,20,g/L\ntap,kind,liquid,\ntap,solvent,water,\ntap,salt,0.2,g/L\n"
              "di,kind,liquid,\ndi,solvent,water,\ndi,salt,1,mg/L\n");
    if (first_price > 0)
        lines_say(&sizing.text,
                  "strong,price,1,EUR/m3\ntap,price,%.17g,EUR/m3\ndi,price,%.17g,EUR/m3\n",
                  first_price, second_price);
    lines_say(&sizing.text,
              "bath,kind,wash,\nbath,volume,50,L\nbath,liquid,strong,\nbath,film,60,um\n"
              "one,kind,rinse,\none,volume,20,L\none,liquid,tap,\none,film,60,um\n"
              "one,flow,5,L/h\n"
              "two,kind,rinse,\ntwo,volume,20,L\ntwo,liquid,di,\ntwo,film,60,um\n"
              "two,flow,5,L/h\n");
    lines_say(&sizing.text, "limit,kind,target,\nlimit,residue,%.17g,mg/m2\n", limit);
}

#define LPH (1e-3 / 3600)

/* The least liquid (or cost) over a grid of both values; the line's text is in `text`. */
static double best_of_grid(const struct sizing_varied *varied, unsigned steps, int by_cost,
                           double best_at[2])
{
    dregs_line *line = lines_read(sizing.text.bytes);
    double best = HUGE_VAL;
    unsigned i, k;

    for (i = 0; i < steps; i++)
        for (k = 0; k < steps; k++) {
            double value[2];
            char cells[2][40], *changed;
            dregs_new_row rows[2];
            unsigned c;
            size_t length;
            dregs_compliance compliance;
            dregs_line *other;
            dregs_use use;

            for (c = 0; c < 2; c++) {
                double share = (double)(c ? k : i) / (steps - 1);
                value[c] = varied[c].low * pow(varied[c].high / varied[c].low, share);
                if (strcmp(varied[c].property, "dump every") == 0)
                    value[c] = floor(value[c] + 0.5);
                snprintf(cells[c], sizeof cells[c], "%.17g",
                         varied[c].property[0] == 'f' ? value[c] / LPH : value[c]);
                rows[c].item = varied[c].stage;
                rows[c].property = varied[c].property;
                rows[c].value = cells[c];
                rows[c].unit = varied[c].property[0] == 'f' ? "L/h" : "";
                rows[c].note = NULL;
            }
            ck_assert_int_eq(dregs_edit_set(line, rows, 2, &changed, &length), DREGS_OK);
            other = lines_read(changed);
            dregs_edit_free(changed);
            ck_assert_int_eq(dregs_size_compliance(other, sizing_ever, &compliance), DREGS_OK);
            dregs_balance_use(other, &use);
            lines_free(other);
            if (compliance.of_limit <= 1 && (by_cost ? use.cost : use.bought) < best) {
                best = by_cost ? use.cost : use.bought;
                memcpy(best_at, value, sizeof value);
            }
        }
    lines_free(line);
    return best;
}

enum { GRID = 41 };

START_TEST(two_flows_beat_a_grid)
{
    static const double limits[] = {30, 5, 1.2};
    unsigned i;

    for (i = 0; i < 3; i++) {
        struct sizing_varied varied[2] = {sizing_vary("one", "flow", 0.05 * LPH, 500 * LPH),
                                          sizing_vary("two", "flow", 0.05 * LPH, 500 * LPH)};
        dregs_sized *sized;
        double at[2], grid;
        two_rinses(limits[i], 0, 0);
        grid = best_of_grid(varied, GRID, 0, at);
        sized = sizing_text(sizing.text.bytes, varied, 2, 0);
        ck_assert(dregs_sized_feasible(sized));
        ck_assert_double_le(sizing_compliance(dregs_sized_text(sized, NULL), sizing_ever).of_limit,
                            1);
        ck_assert_msg(dregs_sized_use(sized)->bought <= grid * 1.005,
                      "%g mg/m2: %g L, a grid finds %g L", limits[i],
                      dregs_sized_use(sized)->bought * 1e3, grid * 1e3);
        ck_assert_double_gt(dregs_sized_compliance(sized)->of_limit,
                            0.999); /* no liquid given away */
        sizing_free(sized);
    }
}
END_TEST

START_TEST(a_whole_number_and_a_flow_beat_a_grid)
{
    static const double limits[] = {30, 5};
    unsigned i;

    for (i = 0; i < 2; i++) {
        struct sizing_varied varied[2] = {sizing_vary("one", "dump every", 1, 41),
                                          sizing_vary("two", "flow", 0.05 * LPH, 500 * LPH)};
        dregs_sized *sized;
        double at[2], grid;
        two_rinses(limits[i], 0, 0);
        /* the first rinse is dumped only */
        memcpy(strstr(sizing.text.bytes, "one,flow,5"), "one,flow,0", 10);
        grid = best_of_grid(varied, GRID, 0, at);
        sized = sizing_text(sizing.text.bytes, varied, 2, 0);
        ck_assert(dregs_sized_feasible(sized));
        ck_assert_double_eq(dregs_sized_value(sized, 0), floor(dregs_sized_value(sized, 0)));
        ck_assert_double_le(sizing_compliance(dregs_sized_text(sized, NULL), sizing_ever).of_limit,
                            1);
        ck_assert_msg(dregs_sized_use(sized)->bought <= grid * 1.005,
                      "%g mg/m2: %g L, a grid finds %g L", limits[i],
                      dregs_sized_use(sized)->bought * 1e3, grid * 1e3);
        sizing_free(sized);
    }
}
END_TEST

START_TEST(prices_move_the_answer)
{
    struct sizing_varied varied[2] = {sizing_vary("one", "flow", 0.05 * LPH, 500 * LPH),
                                      sizing_vary("two", "flow", 0.05 * LPH, 500 * LPH)};
    dregs_sized *liquid, *cost;
    double at[2], grid;

    two_rinses(5, 2, 60); /* the second rinse's water is dear */
    grid = best_of_grid(varied, GRID, 1, at);
    liquid = sizing_text(sizing.text.bytes, varied, 2, 0);
    cost = sizing_text(sizing.text.bytes, varied, 2, 1);
    ck_assert(dregs_sized_feasible(liquid) && dregs_sized_feasible(cost));
    ck_assert_double_le(dregs_sized_use(cost)->cost, grid * 1.005);
    ck_assert_double_lt(dregs_sized_use(cost)->cost, dregs_sized_use(liquid)->cost * 0.99);
    ck_assert_double_gt(dregs_sized_use(cost)->bought, dregs_sized_use(liquid)->bought * 1.01);
    ck_assert_double_gt(dregs_sized_value(cost, 0),
                        dregs_sized_value(liquid, 0) * 1.01); /* more of the cheap one */
    ck_assert_double_lt(dregs_sized_value(cost, 1), dregs_sized_value(liquid, 1) * 0.99);
    sizing_free(liquid);
    sizing_free(cost);
}
END_TEST

START_TEST(ends_that_bind_are_told)
{
    struct sizing_varied varied[2] = {sizing_vary("one", "flow", 0.05 * LPH, 2 * LPH),
                                      sizing_vary("two", "flow", 0.05 * LPH, 500 * LPH)};
    dregs_sized *sized;

    two_rinses(5, 2, 60); /* by cost more than 2 L/h of the cheap water would be best */
    sized = sizing_text(sizing.text.bytes, varied, 2, 1);
    ck_assert(dregs_sized_feasible(sized) && dregs_sized_at_high(sized, 0) &&
              !dregs_sized_at_low(sized, 0));
    ck_assert(!dregs_sized_at_high(sized, 1) && !dregs_sized_at_low(sized, 1));
    ck_assert_near(dregs_sized_value(sized, 0), 2 * LPH, 1e-6, "the end");
    sizing_free(sized);
    varied[0] = sizing_vary("one", "flow", 40 * LPH, 500 * LPH);
    two_rinses(5, 0, 0);
    sized = sizing_text(sizing.text.bytes, varied, 2, 0);
    ck_assert(dregs_sized_feasible(sized) && dregs_sized_at_low(sized, 0) &&
              !dregs_sized_at_high(sized, 0));
    sizing_free(sized);
}
END_TEST

/* ---- layouts ---- */

/* A bath, a spray, two rinses that differ, an oven; `extra` rows behind. */
static void begin_layouts(const char *wash, const char *extra)
{
    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,10,1\nrack,area,1,dm2\nrack,interval,5,min\n"
              "salt,kind,solute,\nstrong,kind,liquid,\nstrong,solvent,water,\n"
              "strong,salt,20,g/L\ndi,kind,liquid,\ndi,solvent,water,\ndi,salt,1,mg/L\n"
              "%s,kind,wash,\n%s,volume,50,L\n%s,liquid,strong,\n%s,film,60,um\n"
              "jet,kind,spray,\njet,liquid,di,\njet,use,1,L\njet,film,50,um\n"
              "first,kind,rinse,\nfirst,volume,33,L\nfirst,liquid,di,\nfirst,film,44,um\n"
              "final,kind,rinse,\nfinal,volume,22,L\nfinal,liquid,di,\nfinal,film,40,um\n"
              "final,flow,10,L/h\nfinal,overflow to,first,\nfinal,exchange,90,%%\n"
              "final,dump every,30,1\n"
              "%soven,kind,dry,\noven,temperature,70,degC\n"
              "limit,kind,target,\nlimit,residue,5,mg/m2\n",
              wash, wash, wash, wash, extra);
}

static const char *stage_name(const dregs_line *line, int stage)
{
    return stage < 0 ? "" : dregs_line_stage(line, (unsigned)stage)->name;
}

static void check_layout(const dregs_line *made, dregs_layout layout, unsigned n)
{
    unsigned k, first = 1;

    ck_assert_uint_eq(dregs_line_stages(made), n + 2 + (layout == DREGS_SPRAY_LAST));
    if (layout == DREGS_SPRAY_LAST) {
        const dregs_stage *spray = dregs_line_stage(made, first + n);
        ck_assert_int_eq(spray->kind, DREGS_SPRAY);
        ck_assert_double_gt(spray->use.si, 0);
        ck_assert_int_eq(spray->runoff_to.kind, DREGS_LINK_STAGE);
        ck_assert_uint_eq(spray->runoff_to.index, first + n - 1);
    }
    for (k = 0; k < n; k++) {
        const dregs_stage *stage = dregs_line_stage(made, first + k);
        int last = k + 1 == n;
        ck_assert_int_eq(stage->kind, layout == DREGS_SPRAYED ? DREGS_SPRAY : DREGS_RINSE);
        ck_assert_near(dregs_line_carried(made, first + k)->thickness, 40e-6, 1e-12, "film");
        ck_assert_str_eq(dregs_line_fluid(made, stage->liquid.index)->name, "di");
        if (layout == DREGS_SPRAYED) {
            ck_assert_double_gt(stage->use.si, 0);
            continue;
        }
        ck_assert_near(stage->volume.si, 22e-3, 1e-12, "volume");
        ck_assert_int_eq(stage->dump_every.row != 0,
                         layout == DREGS_DUMPED || layout == DREGS_PASSED_DOWN);
        ck_assert_near(stage->exchange.si, 0.9, 1e-12, "exchange");
        if (layout == DREGS_COUNTERFLOW || layout == DREGS_RECOVERY) {
            ck_assert_int_eq(stage->flow.si > 0, last);
        }
        if (layout == DREGS_COUNTERFLOW || layout == DREGS_RECOVERY || layout == DREGS_SPRAY_LAST) {
            ck_assert_int_eq(stage->overflow_to.kind, k ? DREGS_LINK_STAGE : DREGS_LINK_DRAIN);
            if (k)
                ck_assert_uint_eq(stage->overflow_to.index, first + k - 1);
        } else {
            ck_assert_int_eq(stage->overflow_to.kind, DREGS_LINK_DRAIN);
        }
        if (layout == DREGS_SEPARATE) {
            ck_assert_double_gt(stage->flow.si, 0);
            ck_assert_double_eq(stage->flow.si, dregs_line_stage(made, first)->flow.si);
        }
        if (layout == DREGS_DUMPED || layout == DREGS_PASSED_DOWN) {
            ck_assert_double_eq(stage->flow.si, 0);
            ck_assert_int_eq(stage->refill_from.kind == DREGS_LINK_STAGE,
                             layout == DREGS_PASSED_DOWN && !last);
            if (layout == DREGS_PASSED_DOWN && !last)
                ck_assert_uint_eq(stage->refill_from.index, first + k + 1);
        }
        if (layout == DREGS_DUMPED)
            ck_assert_double_eq(stage->dump_every.si, dregs_line_stage(made, first)->dump_every.si);
    }
    if (layout == DREGS_DUMPED || layout == DREGS_PASSED_DOWN)
        ck_assert(dregs_line_stage(made, first)->dump_every.row);
    if (layout == DREGS_RECOVERY) {
        ck_assert_int_eq(dregs_line_stage(made, 0)->top_up_from.kind, DREGS_LINK_STAGE);
        ck_assert_uint_eq(dregs_line_stage(made, 0)->top_up_from.index, first);
    } else {
        ck_assert_int_eq(dregs_line_stage(made, 0)->top_up_from.kind, DREGS_LINK_LIQUID);
    }
    ck_assert_str_eq(stage_name(made, (int)n + 1 + (layout == DREGS_SPRAY_LAST)), "oven");
}

START_TEST(layouts_are_what_they_are_called)
{
    unsigned n;
    int layout, feasible = 0;

    begin_layouts("bath", "bath,overflow to,first,\n");
    for (layout = 0; layout < DREGS_LAYOUTS; layout++)
        for (n = 1; n <= 6; n++) {
            dregs_line *line = lines_read(sizing.text.bytes), *made;
            dregs_sized *sized = NULL;
            ck_assert_msg(!dregs_size_layout(line, (dregs_layout)layout, n, sizing_ever, &sized,
                                             sizing.message),
                          "%s %u: %s", dregs_layout_name((dregs_layout)layout), n, sizing.message);
            ck_assert_str_eq(dregs_varied_property(dregs_sized_varied(sized), 0),
                             layout == DREGS_SPRAYED || layout == DREGS_SPRAY_LAST   ? "use"
                             : layout == DREGS_DUMPED || layout == DREGS_PASSED_DOWN ? "dump every"
                                                                                     : "flow");
            made = lines_read(dregs_sized_text(sized, NULL));
            check_layout(made, (dregs_layout)layout, n);
            if (dregs_sized_feasible(sized)) {
                ck_assert_double_le(
                    sizing_compliance(dregs_sized_text(sized, NULL), sizing_ever).of_limit, 1);
                feasible++;
            }
            ck_assert(!strstr(dregs_sized_text(sized, NULL), "first") &&
                      !strstr(dregs_sized_text(sized, NULL), "jet"));
            dregs_sized_free(sized);
            lines_free(made);
            lines_free(line);
        }
    /* A tenth of the film passes each rinse by: one leaves 80 mg/m2 of the 800, two leave 8, and
     * only three can leave less than 5. Sprays mix with all of it, also behind tanks. */
    ck_assert_int_eq(feasible, 5 * 4 + 6 + 6);
    ck_assert_ptr_null(dregs_layout_name(DREGS_LAYOUTS));
}
END_TEST

START_TEST(new_rinses_take_no_name_that_is_there)
{
    dregs_line *line, *made;
    dregs_sized *sized = NULL;
    unsigned i;

    begin_layouts("rinse 2", "");
    line = lines_read(sizing.text.bytes);
    ck_assert_int_eq(
        dregs_size_layout(line, DREGS_COUNTERFLOW, 3, sizing_ever, &sized, sizing.message),
        DREGS_OK);
    made = lines_read(dregs_sized_text(sized, NULL));
    ck_assert_uint_eq(dregs_line_stages(made), 5);
    ck_assert_str_eq(stage_name(made, 0), "rinse 2");
    for (i = 1; i <= 3; i++)
        ck_assert_str_ne(stage_name(made, (int)i), "rinse 2");
    lines_free(made);
    lines_free(line);
    dregs_sized_free(sized);
}
END_TEST

static void layout_refused(dregs_layout layout, unsigned stages, dregs_status expected,
                           const char *said)
{
    dregs_line *line = lines_read(sizing.text.bytes);
    dregs_sized *sized = NULL;

    ck_assert_int_eq(dregs_size_layout(line, layout, stages, sizing_ever, &sized, sizing.message),
                     expected);
    ck_assert_msg(strstr(sizing.message, said) != NULL, "'%s' lacks '%s'", sizing.message, said);
    ck_assert_ptr_null(sized);
    dregs_sized_free(sized);
    lines_free(line);
}

START_TEST(lines_that_cannot_be_arranged)
{
    static const char tail[] = "limit,kind,target,\nlimit,residue,2,mg/m2\n";
    char *at;

    begin_layouts("bath", "");
    layout_refused(DREGS_COUNTERFLOW, 0, DREGS_DOMAIN, "");
    layout_refused(DREGS_COUNTERFLOW, 21, DREGS_DOMAIN, "");
    layout_refused(DREGS_LAYOUTS, 2, DREGS_DOMAIN, "");
    begin_layouts("bath", "again,kind,rinse,\nagain,shares tank with,bath,\nagain,film,40,um\n");
    layout_refused(DREGS_COUNTERFLOW, 2, DREGS_UNKNOWN, "shares a tank");
    begin_layouts("bath", "");
    at = strstr(sizing.text.bytes, "jet,kind"); /* no rinse at all */
    *at = '\0';
    sizing.text.used = (size_t)(at - sizing.text.bytes);
    lines_say(&sizing.text, "%s", tail);
    layout_refused(DREGS_SEPARATE, 2, DREGS_UNKNOWN, "no rinse");
    begin_layouts("bath", ""); /* a spray only */
    at = strstr(sizing.text.bytes, "first,kind");
    *at = '\0';
    sizing.text.used = (size_t)(at - sizing.text.bytes);
    lines_say(&sizing.text, "%s", tail);
    layout_refused(DREGS_SEPARATE, 2, DREGS_UNKNOWN, "no rinse");
    begin_layouts("bath", ""); /* no wash */
    memcpy(strstr(sizing.text.bytes, "bath,kind,wash"), "bath,kind,dry ", 14);
    lines_begin(&sizing.text);
    lines_say(&sizing.text,
              "rack,kind,load,\nrack,parts,10,1\nrack,area,1,dm2\nrack,interval,5,min\n"
              "salt,kind,solute,\nsalt,on parts,1,mg\ndi,kind,liquid,\ndi,solvent,water,\n"
              "one,kind,rinse,\none,volume,20,L\none,liquid,di,\none,film,40,um\n"
              "one,removal,99.99,%%\n%s",
              tail);
    layout_refused(DREGS_RECOVERY, 2, DREGS_UNKNOWN, "wash");
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"several properties",
         {two_flows_beat_a_grid, a_whole_number_and_a_flow_beat_a_grid, prices_move_the_answer,
          ends_that_bind_are_told}},
        {"layouts",
         {layouts_are_what_they_are_called, new_rinses_take_no_name_that_is_there,
          lines_that_cannot_be_arranged}},
    };

    gsl_set_error_handler_off();
    return run_cases("size_several", cases, sizeof cases / sizeof cases[0]);
}
