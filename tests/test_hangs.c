/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_hangs.c: what a residue hangs on, against derivatives of closed forms.
 *
 * One tank: N parts of area A bring s of soil each, of which the share p comes off; the film h
 * takes D = h A N out of the volume V. Load n meets what it brings and what is left of the loads
 * before it, of which q = 1 - k passes each load, k = D/V, and leaves r = (s/A) (1 - p q^n) With a
 * fresh flow F between loads q = (1 - k) exp(-(F T - D)/V), and at steady state r = (s/A) (1 - p +
 * p k/(1 - q))
 */
#include "check_main.h"
#include "dregs/answer_hangs.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <string.h>

static struct lines_text text;
static dregs_line *line;
static dregs_hangs_result *result;

static const double A = 137e-4, N = 7, h = 83e-6, V = 1.9e-3, T = 264;
static const uint64_t LOADS = 11;

static void ask(const char *more, uint64_t loads)
{
    dregs_worst worst;
    dregs_map *map;

    (void)gsl_set_error_handler_off();
    lines_begin(&text);
    lines_say(&text, "tray,kind,load,\ntray,parts,7,1\ntray,area,137,cm2\ntray,interval,4.4,min\n"
                     "oil,kind,solute,\noil,on parts,2.385,mg\n"
                     "pure,kind,liquid,\npure,solvent,water,\n"
                     "cup,kind,rinse,\ncup,volume,1.9,L\ncup,liquid,pure,\n");
    lines_say(&text, "%s", more);
    line = lines_read(text.bytes);
    map = lines_map(line);
    ck_assert_int_eq(dregs_residue_worst(map, 0, loads, &worst), DREGS_OK);
    dregs_map_free(map);
    ck_assert_int_eq(dregs_hangs_answer(line, 0, &worst, loads, 0, 0, 0, &result), DREGS_OK);
}

static void drop(void)
{
    dregs_hangs_result_free(result);
    lines_free(line);
}

static const dregs_hangs_value *found(const char *item, const char *property)
{
    unsigned i, row = dregs_line_find(line, item, property);

    for (i = 0; i < result->values; i++)
        if (dregs_hangs_result_value(result, i)->row == row && row)
            return dregs_hangs_result_value(result, i);
    return NULL;
}

/* The effect of one per cent is the elasticity's hundredth. */
static void has(const char *item, const char *property, double elasticity)
{
    const dregs_hangs_value *v = found(item, property);

    ck_assert_msg(v != NULL, "nothing hangs on %s.%s", item, property);
    ck_assert_near(100 * v->effect, elasticity, 1e-6, "%s.%s", item, property);
    ck_assert(fabs(v->effect - elasticity / 100) <= 20 * v->uncertainty + 1e-11);
    ck_assert(!v->kink);
}

START_TEST(a_still_tank_by_its_closed_form)
{
    const double p = 0.93, k = h * A * N / V, q = 1 - k, n = (double)LOADS, qn = pow(q, n);
    const double of_film = p * n * qn / q * k / (1 - p * qn), more = 1 - h * A * (N + 1) / V;
    const dregs_hangs_value *v;

    ask("cup,film,83,um\ncup,removal,93,%\n", LOADS);
    has("oil", "on parts", 1);
    has("cup", "film", of_film);
    has("cup", "volume", -of_film);
    has("tray", "area", of_film - 1);
    ck_assert_int_eq(found("cup", "removal")->change, DREGS_HANGS_REMAINDER);
    has("cup", "removal", (1 - p) * qn / (1 - p * qn));
    v = found("tray", "parts");
    ck_assert_int_eq(v->change, DREGS_HANGS_MORE);
    ck_assert_near(v->effect, (1 - p * pow(more, n)) / (1 - p * qn) - 1, 1e-9, "one part more");
    ck_assert_ptr_null(found("tray", "interval")); /* nothing happens between the loads */
    ck_assert_ptr_null(dregs_hangs_result_value(result, result->values));
    drop();
}
END_TEST

static double of_water(dregs_property property)
{
    dregs_liquids *liquids = dregs_liquids_new();
    double value = 0;

    ck_assert_int_eq(dregs_liquids_value(liquids, "water", property, 293.15, &value, NULL),
                     DREGS_OK);
    dregs_liquids_free(liquids);
    return value;
}

/* Kushner's film is 0.2 sqrt(U mu/rho): the residue hangs on the viscosity half as much as on the
 * film, on the density as much the other way, and not on the surface tension. */
START_TEST(a_film_hangs_on_its_liquid)
{
    const double mu = of_water(DREGS_VISCOSITY), rho = of_water(DREGS_DENSITY), U = 0.05;
    const double film = 0.2 * sqrt(U * mu / rho), p = 0.93, k = film * A * N / V, q = 1 - k;
    const double n = (double)LOADS, qn = pow(q, n);
    const double of_film = p * n * qn / q * k / (1 - p * qn);
    unsigned i, properties = 0;

    ask("cup,withdrawal speed,5,cm/s\ncup,film law,kushner,\ncup,temperature,20,degC\n"
        "cup,removal,93,%\n",
        LOADS);
    has("cup", "withdrawal speed", of_film / 2);
    for (i = 0; i < result->values; i++) {
        const dregs_hangs_value *v = dregs_hangs_result_value(result, i);
        if (!v->liquid)
            continue;
        properties++;
        ck_assert_uint_eq(v->row, 0);
        ck_assert_str_eq(v->liquid, "water");
        ck_assert(v->property == DREGS_VISCOSITY || v->property == DREGS_DENSITY);
        ck_assert_near(100 * v->effect, v->property == DREGS_VISCOSITY ? of_film / 2 : -of_film / 2,
                       1e-6, "property %d", (int)v->property);
    }
    ck_assert_uint_eq(properties, 2);
    drop();
}
END_TEST

/* A film that is stated asks nothing of its liquid. */
START_TEST(a_stated_film_hangs_on_no_property)
{
    unsigned i;

    ask("cup,film,83,um\ncup,removal,93,%\n", LOADS);
    for (i = 0; i < result->values; i++)
        ck_assert_ptr_null(dregs_hangs_result_value(result, i)->liquid);
    drop();
}
END_TEST

START_TEST(shares_of_less_than_half_and_of_all)
{
    const double k = h * A * N / V, qn = pow(1 - k, (double)LOADS);
    const dregs_hangs_value *v;

    ask("cup,film,83,um\ncup,removal,31,%\n", LOADS);
    ck_assert_int_eq(found("cup", "removal")->change, DREGS_HANGS_PERCENT);
    has("cup", "removal", -0.31 * qn / (1 - 0.31 * qn));
    drop();
    ask("cup,film,83,um\ncup,removal,100,%\n", LOADS); /* no more can come off */
    v = found("cup", "removal");
    ck_assert_int_eq(v->change, DREGS_HANGS_PERCENT);
    ck_assert_int_eq(v->one_sided, 1);
    ck_assert(isnan(v->residue[0]) && isnan(v->residue[1]));
    ck_assert_near(100 * v->effect, -qn / (1 - qn), 1e-3, "removal of all");
    ck_assert(fabs(100 * v->effect + qn / (1 - qn)) <= 300 * v->uncertainty);
    drop();
}
END_TEST

START_TEST(a_running_rinse_at_steady_state)
{
    const double p = 0.93, F = 6.1e-3 / 3600, k = h * A * N / V;
    const double q = (1 - k) * exp(-(F * T - k * V) / V), film = p * k / (1 - q);
    const double r = 1 - p + film, of_q = film / r * q / (1 - q);
    /* ln q by k: -1/(1 - k) + 1, times k, for D/V stands in the exponent too */
    const double of_k = film / r + of_q * (k - k / (1 - k));

    ask("cup,film,83,um\ncup,removal,93,%\ncup,flow,6.1,L/h\n", DREGS_NO_END);
    ck_assert_int_eq(result->load.in_the_long_run, 1);
    has("cup", "flow", -of_q * F * T / V);
    has("tray", "interval", -of_q * F * T / V);
    has("cup", "film", of_k);
    has("tray", "area", of_k - 1);
    has("cup", "volume", -of_k + of_q * F * T / V);
    has("cup", "removal", (1 - p) / r * (1 - k / (1 - q)));
    drop();
}
END_TEST

START_TEST(dumps_by_one_load_more)
{
    const double p = 0.93, q = 1 - h * A * N / V;
    const dregs_hangs_value *v;

    ask("cup,film,83,um\ncup,removal,93,%\ncup,dump every,29,\n", DREGS_NO_END);
    v = found("cup", "dump every");
    ck_assert_int_eq(v->change, DREGS_HANGS_MORE);
    ck_assert_near(v->effect, (1 - p * pow(q, 30)) / (1 - p * pow(q, 29)) - 1, 1e-9, "30 loads");
    drop();
    /* 10,007 and 13 fall together after 130,091 loads: the one's neighbours take too long */
    ask("cup,film,83,um\ncup,dump every,13,\ncup,removal,93,%\n"
        "far,kind,rinse,\nfar,volume,9,L\nfar,liquid,pure,\nfar,film,50,um\nfar,dump "
        "every,10007,\n",
        DREGS_NO_END);
    ck_assert_uint_ge(result->left_out, 1);
    ck_assert_ptr_null(found("far", "dump every"));
    drop();
}
END_TEST

/* Where the flow only just makes up for the film, less of it changes nothing (fresh liquid tops up)
 * and more of it overflows: ln r by ln F is 0 on one side and -(q/(1 - q)) F T/V on the other. */
START_TEST(a_kink_is_seen)
{
    const dregs_hangs_value *v;
    dregs_worst worst = {0, 1, 1};

    (void)gsl_set_error_handler_off();
    line = lines_read("item,property,value,unit\n"
                      "part,kind,load,\npart,parts,1,\npart,area,1,m2\npart,interval,1,h\n"
                      "soil,kind,solute,\nsoil,on parts,1,g\n"
                      "pure,kind,liquid,\npure,solvent,water,\n"
                      "r,kind,rinse,\nr,volume,1,L\nr,liquid,pure,\nr,film,100,um\n"
                      "r,removal,100,%\nr,flow,0.1,L/h\n");
    ck_assert_int_eq(dregs_hangs_answer(line, 0, &worst, DREGS_NO_END, 0, 0, 0, &result), DREGS_OK);
    v = found("r", "flow");
    ck_assert_ptr_nonnull(v);
    ck_assert_int_eq(v->kink, 1);
    ck_assert_near(100 * v->effect, -0.9, 1e-4, "0.9/0.1 x 0.1");
    drop();
}
END_TEST

/* Kushner's film is 0.2 sqrt(U mu/rho): half of what the film does. Temperature: by the text. */
START_TEST(a_film_by_a_law_and_its_temperature)
{
    static const char *const degrees[] = {"41", "41.25", "40.75"};
    double elasticity, ln[3];
    char rows[256];
    dregs_worst worst;
    dregs_map *map;
    int i;

    for (i = 2; i >= 0; i--) {
        if (i < 2)
            drop();
        snprintf(rows, sizeof rows,
                 "cup,removal,93,%%\ncup,film law,kushner,\ncup,withdrawal speed,5,cm/s\n"
                 "cup,temperature,%s,degC\n",
                 degrees[i]);
        ask(rows, LOADS);
        map = lines_map(line);
        ck_assert_int_eq(dregs_residue_worst(map, 0, LOADS, &worst), DREGS_OK);
        dregs_map_free(map);
        ln[i] = log(worst.residue);
    }
    ck_assert_int_eq(found("cup", "temperature")->change, DREGS_HANGS_KELVIN);
    ck_assert_near(found("cup", "temperature")->effect, (ln[1] - ln[2]) / 0.5, 1e-4, "per K");
    elasticity = -found("cup", "volume")->effect * 100;
    has("cup", "withdrawal speed", elasticity / 2);
    drop();
}
END_TEST

/* A line is linear in its masses: with a per cent more of all soil and all contents it leaves a per
 * cent more, so the effects of these add up to one, and so do they for each solute. */
START_TEST(effects_of_all_masses_add_up)
{
    unsigned number, i, asked = 0;
    int solute;

    (void)gsl_set_error_handler_off();
    for (number = 62000; number < 62060; number++) {
        dregs_map *map;
        line = lines_random(number, &text, NULL);
        map = lines_map(line);
        for (solute = DREGS_EVERY_SOLUTE; solute < (int)dregs_line_solutes(line); solute++) {
            dregs_worst worst;
            double sum = 0;
            ck_assert_int_eq(dregs_residue_worst(map, solute, DREGS_NO_END, &worst), DREGS_OK);
            if (!(worst.residue > 1e-12))
                continue;
            ck_assert_int_eq(
                dregs_hangs_answer(line, solute, &worst, DREGS_NO_END, 0, 0, 0, &result), DREGS_OK);
            for (i = 0; i < result->values; i++) {
                const dregs_hangs_value *v = dregs_hangs_result_value(result, i);
                const dregs_row *row = dregs_line_row(line, v->row);
                const char *unit = row ? row->unit : "";
                if (row == NULL) /* of a liquid: no mass */
                    ck_assert_ptr_nonnull(v->liquid);
                else if (strcmp(row->property, "on parts") == 0 || strcmp(unit, "mg/L") == 0 ||
                         strcmp(unit, "g/L") == 0)
                    sum += 100 * v->effect;
                if (i)
                    ck_assert(fabs(v->effect) <=
                              fabs(dregs_hangs_result_value(result, i - 1)->effect));
            }
            ck_assert_near(sum, 1.0, 1e-5, "line %u, solute %d", number, solute);
            dregs_hangs_result_free(result);
            asked++;
        }
        dregs_map_free(map);
        lines_free(line);
    }
    ck_assert_uint_ge(asked, 100);
}
END_TEST

/* ---- with spreads ---- */

/* No soil comes off: r = s/A. Both are lognormal, so 1/A is too, with the same 1 + cv^2, and with
 * u = cv^2 of s, w = cv^2 of A the variance is (1 + u)(1 + w) - 1 in squares of the mean: u of it
 * by s alone, u (1 + w) with what both do. */
static void ask_doubt_of(const char *area, const char *soil, uint64_t draws)
{
    dregs_worst worst = {0, 1, 0};

    (void)gsl_set_error_handler_off();
    text.used = 0;
    lines_say(&text,
              "item,property,value,unit,spread,with\ntray,kind,load,,,\ntray,parts,7,1,,\n"
              "tray,area,137,cm2,%s\ntray,interval,4.4,min,,\noil,kind,solute,,,\n"
              "oil,on parts,2.385,mg,%s\npure,kind,liquid,,,\npure,solvent,water,,,\n"
              "cup,kind,rinse,,,\ncup,volume,1.9,L,,\ncup,liquid,pure,,,\ncup,film,83,um,,\n",
              area, soil);
    line = lines_read(text.bytes);
    ck_assert_int_eq(dregs_hangs_answer(line, 0, &worst, DREGS_NO_END, 5, draws, 0, &result),
                     DREGS_OK);
}

static void ask_doubt(const char *area, const char *soil)
{
    ask_doubt_of(area, soil, 0);
}

START_TEST(doubt_of_a_product_by_its_closed_form)
{
    const double u = 0.16, w = 0.09, all = (1 + u) * (1 + w) - 1, log_sd = sqrt(log1p(u));
    const double median = 2.385e-6 / sqrt(1 + u) / A;
    const dregs_hangs_doubt *of_soil, *of_area;

    ask_doubt("30%,", "40%,");
    ck_assert_uint_eq(result->doubts, 2);
    of_soil = dregs_hangs_result_doubt(result, 0);
    of_area = dregs_hangs_result_doubt(result, 1);
    ck_assert_ptr_null(dregs_hangs_result_doubt(result, 2));
    ck_assert_uint_eq(of_soil->row, dregs_line_find(line, "oil", "on parts"));
    ck_assert_uint_eq(of_area->row, dregs_line_find(line, "tray", "area"));
    ck_assert(fabs(of_soil->first - u / all) < 0.04);
    ck_assert(fabs(of_soil->total - u * (1 + w) / all) < 0.04);
    ck_assert(fabs(of_area->first - w / all) < 0.04);
    ck_assert(fabs(of_area->total - w * (1 + u) / all) < 0.04);
    ck_assert(of_soil->first_error < 0.04 && of_soil->total_error < 0.04);
    /* 1.6448536: the 95 % point of the normal distribution */
    ck_assert_near(of_soil->low, median * exp(-1.6448536 * log_sd), 1e-6, "at 5 %%");
    ck_assert_near(of_soil->high, median * exp(1.6448536 * log_sd), 1e-6, "at 95 %%");
    ck_assert_near(of_soil->low_value, of_soil->low * A, 1e-12, "the value there");
    ck_assert(of_area->low > of_area->high); /* more area, less on each of it */
    drop();
}
END_TEST

/* Sixteen times as many points: at most a quarter of the error, with room for the error of an error
 * from eight parts. */
START_TEST(more_draws_share_the_doubt_out_more_surely)
{
    const double u = 0.16, w = 0.09, all = (1 + u) * (1 + w) - 1;
    double few, many;

    ask_doubt_of("30%,", "40%,", 1000);
    few = dregs_hangs_result_doubt(result, 0)->total_error;
    drop();
    ask_doubt_of("30%,", "40%,", 16000);
    many = dregs_hangs_result_doubt(result, 0)->total_error;
    ck_assert(fabs(dregs_hangs_result_doubt(result, 0)->total - u * (1 + w) / all) < 0.01);
    ck_assert_msg(many < 0.5 * few, "%g after %g", many, few);
    drop();
}
END_TEST

START_TEST(values_that_share_a_draw_are_one)
{
    const dregs_hangs_doubt *both;

    ask_doubt("30%,oil.on parts", "40%,");
    ck_assert_uint_eq(result->doubts, 1);
    both = dregs_hangs_result_doubt(result, 0);
    ck_assert_uint_eq(both->rows, 2);
    ck_assert_uint_eq(both->row, dregs_line_find(line, "oil", "on parts"));
    ck_assert(fabs(both->first - 1) < 1e-9 && fabs(both->total - 1) < 0.05);
    /* s/A at the 95 % points of both */
    ck_assert_near(both->high / both->low,
                   exp(2 * 1.6448536 * (sqrt(log1p(0.16)) - sqrt(log1p(0.09)))), 1e-6, "both");
    drop();
    ask_doubt(",", ",");
    ck_assert_uint_eq(result->doubts, 0);
    drop();
}
END_TEST

START_TEST(what_is_refused)
{
    dregs_worst worst = {0, 1, 0};

    ask("cup,film,83,um\ncup,removal,93,%\n", 1);
    dregs_hangs_result_free(result);
    result = NULL;
    ck_assert_int_eq(dregs_hangs_answer(line, 1, &worst, 1, 0, 0, 0, &result), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_hangs_answer(line, -2, &worst, 1, 0, 0, 0, &result), DREGS_DOMAIN);
    worst.load = 0;
    ck_assert_int_eq(dregs_hangs_answer(line, 0, &worst, 1, 0, 0, 0, &result), DREGS_DOMAIN);
    worst.load = DREGS_LOADS_MOST + 1;
    ck_assert_int_eq(dregs_hangs_answer(line, 0, &worst, 1, 0, 0, 0, &result), DREGS_DOMAIN);
    ck_assert_ptr_null(result);
    drop();
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"closed forms",
         {a_still_tank_by_its_closed_form, a_film_hangs_on_its_liquid,
          a_stated_film_hangs_on_no_property, shares_of_less_than_half_and_of_all,
          a_running_rinse_at_steady_state, dumps_by_one_load_more, a_kink_is_seen,
          a_film_by_a_law_and_its_temperature}},
        {"doubt",
         {doubt_of_a_product_by_its_closed_form, more_draws_share_the_doubt_out_more_surely,
          values_that_share_a_draw_are_one}},
        {"all lines", {effects_of_all_masses_add_up, what_is_refused}},
    };

    return run_cases("hangs", cases, sizeof cases / sizeof cases[0]);
}
