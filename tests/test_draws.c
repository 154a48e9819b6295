/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_draws.c: the line of a draw, which is made by a shorter way than one with other values, and
 * its worst load beside a march through all loads.
 */
#include "check_main.h"
#include "dregs/ensemble.h"
#include "dregs/residue.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>

/* A wash that is dumped and two counterflow rinses; the numbers are invented. */
static dregs_line *counterflow(unsigned every, const char *cleaner)
{
    char text[2048];
    int length =
        snprintf(text, sizeof text,
                 "item,property,value,unit,spread\n"
                 "rack,kind,load,,\nrack,parts,10,1,\nrack,area,80,cm2,5%%\n"
                 "rack,extra area,500,cm2,20%%\nrack,hold-up,0.1,mL,30%%\nrack,interval,6,min,\n"
                 "oil,kind,solute,,\noil,on parts,3,mg,40%%\nsoap,kind,solute,,\n"
                 "wash,kind,liquid,,\nwash,solvent,water,,\nwash,soap,%s,g/L,10%%\n"
                 "di,kind,liquid,,\ndi,solvent,water,,\ndi,soap,2,mg/L,25%%\n"
                 "bath,kind,wash,,\nbath,volume,20,L,\nbath,liquid,wash,,\nbath,removal,99,%%,\n"
                 "bath,drag-out,90,mL/m2,15%%\nbath,dump every,%u,1,\n"
                 "bath,evaporation,1,L/h,0.3\nbath,top up from,di,,\n"
                 "one,kind,rinse,,\none,volume,25,L,\none,liquid,di,,\none,drag-out,60,mL/m2,15%%\n"
                 "two,kind,rinse,,\ntwo,volume,25,L,\ntwo,liquid,di,,\ntwo,flow,7,L/h,5%%\n"
                 "two,overflow to,one,,\ntwo,drag-out,60,mL/m2,15%%\n",
                 cleaner, every);

    ck_assert_int_lt(length, (int)sizeof text);
    return lines_read(text);
}

/* What the worst load leaves, kg/m2. */
static dregs_worst worst_of(const dregs_line *line)
{
    dregs_map *map = lines_map(line);
    dregs_worst worst;

    ck_assert_int_eq(dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst), DREGS_OK);
    dregs_map_free(map);
    return worst;
}

/* By every load of the first `periods` dump periods and of the one that repeats itself. */
static double marched(const dregs_line *line, unsigned long periods)
{
    dregs_map *map = lines_map(line);
    dregs_state *state = lines_state(map);
    unsigned long loads = dregs_line_period(line) * periods, i;
    dregs_residue residue;
    double most = 0;

    for (i = 0; i < loads + dregs_line_period(line); i++) {
        if (i == loads)
            ck_assert_int_eq(dregs_state_periodic(state), DREGS_OK);
        dregs_residue_next(state, &residue);
        most = fmax(most, residue.total);
        dregs_state_step(state);
    }
    dregs_state_free(state);
    dregs_map_free(map);
    return most;
}

/* The line with the values of a draw, by its rows. */
static dregs_line *with_values(const dregs_ensemble *ensemble, uint64_t draw)
{
    unsigned rows = dregs_ensemble_rows(ensemble), i;
    dregs_setting *settings = calloc(rows, sizeof *settings);
    dregs_line *line = NULL;

    ck_assert_ptr_nonnull(settings);
    for (i = 0; i < rows; i++) {
        settings[i].row = dregs_ensemble_row(ensemble, i)->row;
        settings[i].si = dregs_ensemble_draw(ensemble, draw, i);
    }
    ck_assert_int_eq(dregs_line_with(dregs_ensemble_line(ensemble), settings, rows, &line, NULL),
                     DREGS_OK);
    free(settings);
    return line;
}

static void same_values(const dregs_line *one, const dregs_line *other)
{
    dregs_value a, b;
    unsigned row;

    ck_assert_uint_eq(dregs_line_rows(one), dregs_line_rows(other));
    for (row = 1; row <= dregs_line_rows(one); row++) {
        dregs_status status = dregs_line_value(one, row, &a);
        ck_assert_int_eq(dregs_line_value(other, row, &b), status);
        if (!status)
            ck_assert(a.si == b.si && a.sd == b.sd && a.row == b.row);
    }
}

static void same_assumptions(const dregs_line *one, const dregs_line *other)
{
    unsigned i;

    for (i = 0; dregs_line_assumed(one, i) && dregs_line_assumed(other, i); i++)
        ck_assert_str_eq(dregs_line_assumed(one, i), dregs_line_assumed(other, i));
    ck_assert_ptr_null(dregs_line_assumed(one, i));
    ck_assert_ptr_null(dregs_line_assumed(other, i));
    ck_assert_uint_ge(i, 1);
}

START_TEST(a_draw_is_the_line_with_its_values)
{
    dregs_line *line = counterflow(60, "15");
    dregs_ensemble *ensemble = NULL;
    uint64_t draw;

    ck_assert_int_eq(dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, 3, &ensemble, NULL), DREGS_OK);
    ck_assert_uint_eq(dregs_ensemble_rows(ensemble), 11);
    for (draw = 0; draw < 50; draw++) {
        dregs_line *drawn = NULL, *changed = with_values(ensemble, draw);
        dregs_worst one, other;
        ck_assert_int_eq(dregs_ensemble_drawn(ensemble, draw, &drawn, NULL), DREGS_OK);
        same_values(drawn, changed);
        same_assumptions(drawn, changed);
        one = worst_of(drawn);
        other = worst_of(changed);
        ck_assert(one.residue == other.residue && one.load == other.load);
        dregs_line_free(drawn);
        dregs_line_free(changed);
    }
    dregs_ensemble_free(ensemble);
    lines_free(line);
}
END_TEST

/* A spread that is a share goes with the value that is set, one in the unit stays. */
START_TEST(a_value_that_is_set_keeps_the_spread_of_its_row)
{
    dregs_line *line = counterflow(60, "15"), *changed = NULL;
    const dregs_setting settings[] = {
        {.item = "two", .property = "flow", .si = 14e-3 / 3600},
        {.item = "bath", .property = "evaporation", .si = 2e-3 / 3600}};
    dregs_value value;

    ck_assert_int_eq(dregs_line_with(line, settings, 2, &changed, NULL), DREGS_OK);
    ck_assert_int_eq(dregs_line_get(changed, "two", "flow", &value), DREGS_OK);
    ck_assert_near(value.sd, 0.05 * 14e-3 / 3600, 1e-14, "5 %% of 14 L/h");
    ck_assert_int_eq(dregs_line_get(changed, "bath", "evaporation", &value), DREGS_OK);
    ck_assert_near(value.sd, 0.3e-3 / 3600, 1e-14, "0.3 L/h");
    dregs_line_free(changed);
    lines_free(line);
}
END_TEST

START_TEST(the_worst_load_of_a_draw_is_that_of_a_march)
{
    /* the soap of the third falls from load to load, that of the others hardly does */
    static const struct {
        unsigned every;
        const char *cleaner;
    } cases[] = {{1, "15"}, {2, "15"}, {13, "0.2"}, {400, "200"}, {777, "15"}, {1024, "0.02"}};
    dregs_line *line = counterflow(cases[_i].every, cases[_i].cleaner);
    dregs_ensemble *ensemble = NULL;
    uint64_t draw;

    ck_assert_int_eq(dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, 5, &ensemble, NULL), DREGS_OK);
    for (draw = 0; draw < 20; draw++) {
        dregs_line *drawn = NULL;
        ck_assert_int_eq(dregs_ensemble_drawn(ensemble, draw, &drawn, NULL), DREGS_OK);
        ck_assert_near(worst_of(drawn).residue, marched(drawn, 1 + 3000 / cases[_i].every), 1e-9,
                       "draw %lu", (unsigned long)draw);
        dregs_line_free(drawn);
    }
    dregs_ensemble_free(ensemble);
    lines_free(line);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("draws");
    TCase *c = tcase_create("draws");

    gsl_set_error_handler_off();
    suite_add_tcase(s, c);
    tcase_set_timeout(c, 300);
    tcase_add_test(c, a_draw_is_the_line_with_its_values);
    tcase_add_test(c, a_value_that_is_set_keeps_the_spread_of_its_row);
    tcase_add_loop_test(c, the_worst_load_of_a_draw_is_that_of_a_march, 0, 6);
    return run(s);
}
