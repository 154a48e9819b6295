/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_scatter.c: values that differ from load to load: Gauss's rules against moments, one tank
 * against its closed form, and two tanks against a march of a million loads, written here from
 * dregs-model(7) alone.
 */
#include "check_main.h"
#include "lines.h"
#include "residue/residue.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <stdlib.h>

static struct lines_text text;
static dregs_line *line;
static dregs_map *map;

/* ---- the rules ---- */

static double mean_of_power(const double *node, const double *weight, int power)
{
    double sum = 0;
    int i;

    for (i = 0; i < RESIDUE_NODES; i++)
        sum += weight[i] * pow(node[i], power);
    return sum;
}

/* E x^k = m^k (1 + cv^2)^(k(k-1)/2) of a lognormal distribution. */
START_TEST(a_lognormal_value)
{
    static const double cv[] = {0.001, 0.03, 0.3, 0.9};
    double node[RESIDUE_NODES], weight[RESIDUE_NODES];
    size_t i;
    int k;

    for (i = 0; i < sizeof cv / sizeof cv[0]; i++) {
        ck_assert_int_eq(dregs_residue_nodes(DREGS_FORM_QUANTITY, 2.4, 2.4 * cv[i], node, weight),
                         DREGS_OK);
        for (k = 0; k <= 5; k++)
            ck_assert_near(mean_of_power(node, weight, k),
                           pow(2.4, k) * pow(1 + cv[i] * cv[i], k * (k - 1) / 2.0), 1e-11,
                           "cv %g, power %d", cv[i], k);
        for (k = 0; k < RESIDUE_NODES; k++)
            ck_assert(node[k] > 0 && weight[k] > 0);
    }
}
END_TEST

/* E x^k = product of (a + i)/(a + b + i) of a beta distribution, i from 0 to k - 1. */
START_TEST(a_share)
{
    static const double cases[][2] = {{0.998, 0.001}, {0.9, 0.07}, {0.5, 0.2}, {0.3, 0.4}};
    double node[RESIDUE_NODES], weight[RESIDUE_NODES];
    size_t i;
    int k, j;

    for (i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double m = cases[i][0], sd = cases[i][1], sum = m * (1 - m) / (sd * sd) - 1;
        ck_assert_int_eq(dregs_residue_nodes(DREGS_FORM_SHARE, m, sd, node, weight), DREGS_OK);
        for (k = 0; k <= 5; k++) {
            double expected = 1;
            for (j = 0; j < k; j++)
                expected *= (m * sum + j) / (sum + j);
            ck_assert_near(mean_of_power(node, weight, k), expected, 1e-11, "%g, power %d", m, k);
        }
        for (k = 0; k < RESIDUE_NODES; k++)
            ck_assert(node[k] > 0 && node[k] < 1 && weight[k] > 0);
    }
    ck_assert_int_eq(dregs_residue_nodes(DREGS_FORM_SHARE, 0.998, 0.045, node, weight),
                     DREGS_DOMAIN); /* sd^2 >= m (1 - m) */
    ck_assert_int_eq(dregs_residue_nodes(DREGS_FORM_SHARE, 1, 0.01, node, weight), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_residue_nodes(DREGS_FORM_QUANTITY, 0, 0.01, node, weight), DREGS_DOMAIN);
    ck_assert_int_eq(dregs_residue_nodes(DREGS_FORM_QUANTITY, 1, 0, node, weight), DREGS_DOMAIN);
}
END_TEST

/* Powers 0 to 5 of the normal distribution about its mean: 1, 0, 1, 0, 3, 0 times sd^k. */
START_TEST(a_temperature)
{
    static const double expected[] = {1, 0, 1, 0, 3, 0};
    double node[RESIDUE_NODES], weight[RESIDUE_NODES];
    int i, k;

    ck_assert_int_eq(dregs_residue_nodes(DREGS_FORM_TEMPERATURE, 320, 2, node, weight), DREGS_OK);
    for (i = 0; i < RESIDUE_NODES; i++)
        node[i] = (node[i] - 320) / 2;
    for (k = 0; k <= 5; k++)
        ck_assert(fabs(mean_of_power(node, weight, k) - expected[k]) < 1e-11);
}
END_TEST

/* ---- one tank ---- */

static const double A = 137e-4, N = 7, h = 83e-6, V = 1.9e-3, p = 0.93, soil = 2.385e-6;

static void one_tank(const char *more)
{
    (void)gsl_set_error_handler_off();
    text.used = 0;
    lines_say(&text,
              "item,property,value,unit,varies\n"
              "tray,kind,load,,\ntray,parts,7,1,\ntray,area,137,cm2,\ntray,interval,4.4,min,\n"
              "oil,kind,solute,,\noil,on parts,2.385,mg,40%%\n"
              "pure,kind,liquid,,\npure,solvent,water,,\n"
              "cup,kind,rinse,,\ncup,volume,1.9,L,\ncup,liquid,pure,,\n"
              "cup,film,83,um,\ncup,removal,93,%%,\n%s",
              more);
    line = lines_read(text.bytes);
    map = lines_map(line);
}

static void drop(void)
{
    dregs_map_free(map);
    lines_free(line);
}

/* A load leaves (1 - p + p k) of what it brings and p k q^i of what the load i before it brought,
 * k = h A N/V, q = 1 - k. */
static void is_autoregressive(uint64_t load, int repeats, double loads_before)
{
    const double k = h * A * N / V, q = 1 - k, own = 1 - p + p * k;
    const double one = pow(q, loads_before), two = pow(q, 2 * loads_before);
    dregs_worst at = {0, load, repeats};
    struct residue_scatter found;
    double variance;

    ck_assert_int_eq(dregs_residue_scatter(map, 0, &at, &found), DREGS_OK);
    ck_assert_uint_eq(found.values, 1);
    ck_assert_near(found.mean, soil / A * (own + p * q * (1 - one)), 1e-10, "mean");
    variance = own * own + p * p * k * k * q * q * (1 - two) / (1 - q * q);
    ck_assert_near(found.sd, 0.4 * soil / A * sqrt(variance), 1e-8, "standard deviation");
}

START_TEST(soil_that_varies_is_an_autoregression)
{
    one_tank("");
    is_autoregressive(1, 0, 0);
    is_autoregressive(11, 0, 10);
    is_autoregressive(3000, 0, 2999);
    is_autoregressive(1, 1, 1e9);
    drop();
    one_tank("cup,dump every,29,,\n");
    is_autoregressive(29, 1, 28);
    is_autoregressive(29 * 5 + 7, 0, 6);
    is_autoregressive(1, 1, 0);
    drop();
}
END_TEST

/* Two solutes on one load: what one film does to both is counted once. Of two that are alike the
 * sum has twice the mean and twice the standard deviation, where the film alone varies. */
START_TEST(solutes_vary_together_with_what_they_share)
{
    dregs_worst at = {0, 11, 0};
    struct residue_scatter one, both;

    (void)gsl_set_error_handler_off();
    line = lines_read("item,property,value,unit,varies\n"
                      "tray,kind,load,,\ntray,parts,7,1,\ntray,area,137,cm2,\n"
                      "tray,interval,4.4,min,\n"
                      "a,kind,solute,,\na,on parts,2,mg,\nb,kind,solute,,\nb,on parts,2,mg,\n"
                      "pure,kind,liquid,,\npure,solvent,water,,\n"
                      "cup,kind,rinse,,\ncup,volume,1.9,L,\ncup,liquid,pure,,\n"
                      "cup,film,83,um,25%\ncup,removal,93,%,\n");
    map = lines_map(line);
    ck_assert_int_eq(dregs_residue_scatter(map, 1, &at, &one), DREGS_OK);
    ck_assert_int_eq(dregs_residue_scatter(map, DREGS_EVERY_SOLUTE, &at, &both), DREGS_OK);
    ck_assert_near(both.mean, 2 * one.mean, 1e-12, "mean");
    ck_assert_near(both.sd, 2 * one.sd, 1e-7, "standard deviation");
    ck_assert(one.sd > 0.01 * one.mean);
    drop();
}
END_TEST

/* ---- two tanks against a march ---- */

/* Wash and counterflow-free rinse: what varies are soil, removal, both drag-outs, hold-up, flow. */
#define TWO_TANKS(AREA, INTERVAL)                                                                  \
    "item,property,value,unit,varies\n"                                                            \
    "tray,kind,load,,\ntray,parts,12,1,\ntray,area,61,cm2," AREA                                   \
    "\ntray,hold-up,0.05,mL,30%\ntray,interval,7,min," INTERVAL "\n" TANKS
#define TANKS                                                                                      \
    "oil,kind,solute,,\noil,on parts,2.4,mg,45%\nsalt,kind,solute,,\n"                             \
    "brine,kind,liquid,,\nbrine,solvent,water,,\nbrine,salt,18,g/L,\n"                             \
    "clean,kind,liquid,,\nclean,solvent,water,,\n"                                                 \
    "bath,kind,wash,,\nbath,volume,2.8,L,\nbath,liquid,brine,,\nbath,removal oil,97,%,1.2\n"       \
    "bath,drag-out,85,mL/m2,20%\nbath,dump every,60,,\n"                                           \
    "last,kind,rinse,,\nlast,volume,2.8,L,\nlast,liquid,clean,,\nlast,flow,9,L/h,12%\n"            \
    "last,drag-out,60,mL/m2,25%\n"

static double lognormal(gsl_rng *rng, double mean, double cv)
{
    double s2 = log1p(cv * cv);

    return gsl_ran_lognormal(rng, log(mean) - s2 / 2, sqrt(s2));
}

/* One load with values of its own: the residue it keeps, kg/m2, and the tanks after its interval,
 * {bath, last} of oil and of salt. */
static double pass_one(gsl_rng *rng, int more, double oil[2], double salt[2])
{
    const double parts = 12, volume = 2.8e-3, nu = 0.97 * 0.03 / 1.44e-4 - 1;
    const double area = more ? lognormal(rng, 61e-4, 0.15) : 61e-4;
    const double time = more ? lognormal(rng, 420, 0.1) : 420;
    double hold = lognormal(rng, 0.05e-6, 0.3), on = lognormal(rng, 2.4e-6, 0.45);
    double off = gsl_ran_beta(rng, 0.97 * nu, 0.03 * nu);
    double of_bath = lognormal(rng, 85e-6, 0.2), flow = lognormal(rng, 9e-3 / 3600, 0.12);
    double of_last = lognormal(rng, 60e-6, 0.25);
    double first = parts * (area * of_bath + hold), second = parts * (area * of_last + hold);
    double kept = exp(-(flow * time + first - second) / volume), left = 0;
    double *tanks[2] = {oil, salt};
    int s;

    ck_assert(flow * time + first - second > 0); /* it overflows */
    for (s = 0; s < 2; s++) {
        double *m = tanks[s];
        double bath = (m[0] + (s == 0 ? parts * on * off : 0)) / volume;
        double last = (m[1] + first * bath) / (volume + first);
        m[0] = bath * (volume - first) + first * (s == 1 ? 18 : 0);
        m[1] = last * (volume + first - second) * kept;
        left += last * second / (parts * area) + (s == 0 ? on * (1 - off) / area : 0);
    }
    return left;
}

/* The loads at one place of the dump period. */
struct march {
    double *left;
    size_t count;
    double mean, sd;
};

static struct march march(uint64_t place, int more)
{
    enum { EVERY = 60, PERIODS = 1000000 / EVERY };
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    double oil[2] = {0, 0}, salt[2] = {18 * 2.8e-3, 0}, square = 0;
    struct march m = {malloc(PERIODS * sizeof *m.left), 0, 0, 0};
    uint64_t load;
    size_t i;

    gsl_rng_set(rng, 20);
    for (load = 1; load <= (uint64_t)PERIODS * EVERY; load++) {
        double left = pass_one(rng, more, oil, salt);
        if (load > 5 * EVERY && (load - 1) % EVERY + 1 == place)
            m.left[m.count++] = left;
        if (load % EVERY == 0) {
            oil[0] = 0;
            salt[0] = 18 * 2.8e-3;
        }
    }
    for (i = 0; i < m.count; i++)
        m.mean += m.left[i] / (double)m.count;
    for (i = 0; i < m.count; i++)
        square += (m.left[i] - m.mean) * (m.left[i] - m.mean);
    m.sd = sqrt(square / (double)(m.count - 1));
    gsl_rng_free(rng);
    return m;
}

/* 16,661 loads at the place: their mean is known to sd/129, their standard deviation, with a
 * kurtosis of some 6, to 0.9 % of it. The share that meets a limit is known to 0.004; the lognormal
 * distribution that stands for a sum of films and soil may be off by 0.025. */
static void scatters_as_told(const char *file, int more, unsigned values)
{
    static const double of_mean[] = {0.8, 1, 1.2, 1.5, 2};
    dregs_worst at = {0, 60, 1};
    struct residue_scatter found;
    struct march marched = march(60, more);
    size_t i, k;

    (void)gsl_set_error_handler_off();
    line = lines_read(file);
    map = lines_map(line);
    ck_assert_int_eq(dregs_residue_scatter(map, DREGS_EVERY_SOLUTE, &at, &found), DREGS_OK);
    ck_assert_uint_eq(found.values, values);
    printf("# mean %g, marched %g; sd %g, marched %g\n", found.mean, marched.mean, found.sd,
           marched.sd);
    ck_assert(fabs(found.mean - marched.mean) < 4 * marched.sd / sqrt((double)marched.count));
    ck_assert_near(found.sd, marched.sd, 0.03, "standard deviation");
    ck_assert(found.sd > 0.1 * found.mean);
    for (i = 0; i < sizeof of_mean / sizeof of_mean[0]; i++) {
        double share = 0, told = dregs_residue_share_within(&found, of_mean[i] * found.mean);
        for (k = 0; k < marched.count; k++)
            share += (marched.left[k] <= of_mean[i] * found.mean) / (double)marched.count;
        printf("# within %g of the mean: told %.4f, marched %.4f\n", of_mean[i], told, share);
        ck_assert(fabs(share - told) < 0.03);
    }
    free(marched.left);
    drop();
}

START_TEST(a_march_of_a_million_loads_scatters_as_told)
{
    scatters_as_told(TWO_TANKS("", ""), 0, 6);
}
END_TEST

/* The parts' area and the interval besides: means are then taken over pairs of eight values. */
START_TEST(so_it_does_with_eight_values)
{
    scatters_as_told(TWO_TANKS("15%", "10%"), 1, 8);
}
END_TEST

/* ---- what is not taken ---- */

START_TEST(what_does_not_vary_from_load_to_load)
{
    dregs_worst at = {0, 1, 0};
    struct residue_scatter found = {-1, -1, 0};
    unsigned row;

    one_tank("cup,temperature,40,degC,2\n");
    row = dregs_line_find(line, "cup", "temperature");
    ck_assert_int_eq(dregs_residue_varies(line, row), -1);
    ck_assert_int_eq(dregs_residue_varies(line, dregs_line_find(line, "oil", "on parts")), 1);
    ck_assert_int_eq(dregs_residue_varies(line, dregs_line_find(line, "cup", "film")), 0);
    drop();
    line = lines_read("item,property,value,unit,varies\n"
                      "tray,kind,load,,\ntray,parts,7,1,\ntray,area,137,cm2,\n"
                      "tray,interval,4.4,min,\noil,kind,solute,,\noil,on parts,2,mg,\n"
                      "pure,kind,liquid,,\npure,solvent,water,,\n"
                      "cup,kind,rinse,,\ncup,volume,1.9,L,5%\ncup,liquid,pure,,\n"
                      "cup,film,83,um,\ncup,removal,100,%,1\n");
    map = lines_map(line);
    ck_assert_int_eq(dregs_residue_varies(line, dregs_line_find(line, "cup", "volume")), -1);
    ck_assert_int_eq(dregs_residue_varies(line, dregs_line_find(line, "cup", "removal")), -1);
    ck_assert_int_eq(dregs_residue_scatter(map, 0, &at, &found), DREGS_UNKNOWN);
    ck_assert_double_eq(found.mean, -1);
    drop();
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"rules", {a_lognormal_value, a_share, a_temperature}},
        {"one tank",
         {soil_that_varies_is_an_autoregression, solutes_vary_together_with_what_they_share}},
        {"two tanks", {a_march_of_a_million_loads_scatters_as_told, so_it_does_with_eight_values}},
        {"not taken", {what_does_not_vary_from_load_to_load}},
    };

    return run_cases("scatter", cases, sizeof cases / sizeof cases[0]);
}
