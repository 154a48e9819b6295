/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_beaker.c: the sums of the bench against closed forms written out by hand, and a march in
 * small steps for parts that cool. */
#include "check_main.h"
#include "dregs/answer_beaker.h"
#include "dregs/answer_predict.h"
#include "dregs/dry.h"

#include <gsl/gsl_errno.h>
#include <string.h>

static dregs_liquids *liquids;
static dregs_beaker_request request;
static dregs_beaker_result *result;
static char message[DREGS_BEAKER_MESSAGE];

static void setup(void)
{
    (void)gsl_set_error_handler_off();
    liquids = dregs_liquids_new();
    result = NULL;
    message[0] = '\0';
    dregs_beaker_request_init(&request);
    request.draws = 0;
}

static void teardown(void)
{
    dregs_beaker_result_free(result);
    dregs_liquids_free(liquids);
}

static void give(dregs_beaker_given which, const char *text)
{
    request.given[which] = text;
}

static const dregs_beaker_way *ask(dregs_beaker_question question)
{
    dregs_beaker_result_free(result);
    result = NULL;
    request.question = question;
    ck_assert_msg(dregs_beaker_answer(&request, liquids, &result, message) == DREGS_OK, "%s",
                  message);
    return dregs_beaker_result_way(result, 0);
}

/* Refused, with these words. */
static void refused(dregs_beaker_question question, dregs_status status, const char *words)
{
    dregs_beaker_result *untouched = NULL;

    request.question = question;
    ck_assert_int_eq(dregs_beaker_answer(&request, liquids, &untouched, message), status);
    ck_assert_ptr_null(untouched);
    ck_assert_msg(strstr(message, words) != NULL, "'%s' has no '%s'", message, words);
}

static int assumes(const char *words)
{
    const char *text;
    unsigned i;

    for (i = 0; (text = dregs_beaker_result_assumed(result, i)) != NULL; i++)
        if (strstr(text, words))
            return 1;
    for (i = 0; (text = dregs_line_assumed(dregs_beaker_result_way(result, 0)->line, i)) != NULL;
         i++)
        if (strstr(text, words))
            return 1;
    return 0;
}

static double liquid_value(const char *name, dregs_property property, double temperature)
{
    double value = NAN;

    ck_assert_int_eq(dregs_liquids_value(liquids, name, property, temperature, &value, NULL),
                     DREGS_OK);
    return value;
}

static void film_of(const char *drag_out, const char *film)
{
    give(DREGS_BEAKER_LIQUID, "isopropanol");
    give(DREGS_BEAKER_DRAG_OUT, drag_out);
    give(DREGS_BEAKER_FILM, film);
}

/* ---- parts ---- */

/* (V + D) c_n = V c_(n-1) + D c_0: c_n = c_0 (1 - (V/(V + D))^n) */
START_TEST(the_beaker_fills_up_with_what_films_bring)
{
    const double v = 235e-6, d = 0.043e-6;
    const struct {
        const char *parts, *limit;
        double at_a_time, share;
    } cases[] = {{NULL, "50 mg/L", 1, 50e-3 / 2.3},
                 {"7", "50 mg/L", 7, 50e-3 / 2.3},
                 {"7", "2 g/L", 7, 2.0 / 2.3},
                 {NULL, "0.3 ug/cm2", 1, 0.3e-5 / (0.043e-6 / 11.7e-4) / 2.3}};
    size_t i;

    film_of("0.043 mL", "2.3 g/L");
    give(DREGS_BEAKER_BEAKER, "235 mL");
    give(DREGS_BEAKER_AREA, "11.7 cm2");
    for (i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const dregs_beaker_way *way;
        double load = d * cases[i].at_a_time, loads, left;
        give(DREGS_BEAKER_PARTS_AT_A_TIME, cases[i].parts);
        give(DREGS_BEAKER_LIMIT, cases[i].limit);
        way = ask(DREGS_BEAKER_PARTS);
        loads = floor(log1p(-cases[i].share) / log(v / (v + load)));
        ck_assert_double_eq(way->takes, loads * cases[i].at_a_time);
        left = 1 - pow(v / (v + load), loads);
        ck_assert_near(way->left, left, 1e-9, "left, case %zu", i);
        ck_assert_near(way->concentration, 2.3 * left, 1e-9, "film, case %zu", i);
        ck_assert_near(way->residue, 2.3 * left * d / 11.7e-4, 1e-9, "residue, case %zu", i);
        ck_assert_int_eq(way->met, 1);
        ck_assert_int_eq(result->by_area, i == 3);
    }
    ck_assert(assumes("one part at a time"));
    ck_assert(assumes("exchange 100 %"));
    ck_assert(assumes("the fresh liquid itself leaves nothing"));
}
END_TEST

/* dry parts bring m and take D: c_n = (m/D) (1 - (1 - D/V)^n) */
START_TEST(soil_on_dry_parts_fills_it_too)
{
    const double v = 180e-6, d = 0.061e-6, m = 0.52e-6, limit = 0.9;
    const dregs_beaker_way *way;
    double loads = floor(log1p(-limit * d / m) / log1p(-d / v));

    give(DREGS_BEAKER_LIQUID, "isopropanol");
    give(DREGS_BEAKER_BEAKER, "180 mL");
    give(DREGS_BEAKER_DRAG_OUT, "0.061 mL");
    give(DREGS_BEAKER_SOIL, "0.52 mg");
    give(DREGS_BEAKER_LIMIT, "900 mg/L");
    way = ask(DREGS_BEAKER_PARTS);
    ck_assert_double_eq(way->takes, loads);
    ck_assert_near(way->concentration, m / d * (1 - pow(1 - d / v, loads)), 1e-9, "film");
    ck_assert(isnan(way->residue)); /* no area is given */
    ck_assert(assumes("all soil comes off"));
}
END_TEST

START_TEST(never_and_not_one_are_answers)
{
    film_of("0.05 mL", "1 g/L");
    give(DREGS_BEAKER_BEAKER, "200 mL");
    give(DREGS_BEAKER_LIMIT, "1.1 g/L"); /* more than the bath holds */
    ck_assert(isinf(ask(DREGS_BEAKER_PARTS)->takes));
    give(DREGS_BEAKER_LIMIT, "0.1 mg/L"); /* the first leaves c0 D/(V + D) = 0.25 mg/L */
    ck_assert_double_eq(ask(DREGS_BEAKER_PARTS)->takes, 0);
    ck_assert_int_eq(dregs_beaker_result_way(result, 0)->met, 0);
    ck_assert_near(dregs_beaker_result_way(result, 0)->concentration, 0.05 / 200.05, 1e-9, "first");
}
END_TEST

/* ---- rinses ---- */

/* each leaves D/(V + D) of what is in the film; with exchange e the film keeps 1 - e + e e D/(V + e
 * D) */
START_TEST(small_rinses_leave_less_than_one)
{
    const double d = 0.37, total = 96;
    const dregs_beaker_way *way;
    unsigned n;

    give(DREGS_BEAKER_LIQUID, "isopropanol");
    give(DREGS_BEAKER_TOTAL, "96 mL");
    give(DREGS_BEAKER_DRAG_OUT, "0.37 mL");
    give(DREGS_BEAKER_TIMES, "5");
    (void)ask(DREGS_BEAKER_RINSES);
    ck_assert_uint_eq(result->ways, 5);
    for (n = 1; n <= 5; n++) {
        way = dregs_beaker_result_way(result, n - 1);
        ck_assert_near(way->left, pow(d / (total / n + d), n), 1e-9, "%u rinses", n);
        ck_assert(isnan(way->concentration));
    }
    give(DREGS_BEAKER_EXCHANGE, "80 %");
    give(DREGS_BEAKER_FILM, "1.7 g/L");
    give(DREGS_BEAKER_LIMIT, "100 mg/L");
    (void)ask(DREGS_BEAKER_RINSES);
    for (n = 1; n <= 5; n++) {
        way = dregs_beaker_result_way(result, n - 1);
        ck_assert_near(way->left, pow(0.2 + 0.64 * d / (total / n + 0.8 * d), n), 1e-9,
                       "%u rinses at 80 %%", n);
        ck_assert_int_eq(way->met, way->left * 1.7 <= 0.1);
    }
}
END_TEST

/* the same rinses for several loads: load m leaves what the first rinse has gathered */
START_TEST(later_loads_leave_more)
{
    const double v = 100, d = 0.5;

    give(DREGS_BEAKER_LIQUID, "isopropanol");
    give(DREGS_BEAKER_TOTAL, "100 mL");
    give(DREGS_BEAKER_DRAG_OUT, "0.5 mL");
    give(DREGS_BEAKER_LOADS, "12");
    ck_assert_near(ask(DREGS_BEAKER_RINSES)->left, 1 - pow(v / (v + d), 12), 1e-9, "12 loads");
}
END_TEST

/* ---- fresh liquid ---- */

/* exp(-e S/D) = (c - w)/(c_0 - w), w the liquid's own; here the film brings no w: what soil is left
 * is (c - w (1 - x))/c_0 with x = exp(-e S/D), so x = (c - w)/(c_0 - w) */
START_TEST(a_wash_bottle_takes_a_logarithm)
{
    const double d = 0.043e-6, e = 0.35, c0 = 1.9, c = 0.021, w = 0.006;
    const dregs_beaker_way *way;

    film_of("0.043 mL", "1.9 g/L");
    give(DREGS_BEAKER_LIMIT, "21 mg/L");
    give(DREGS_BEAKER_OWN, "6 mg/L");
    give(DREGS_BEAKER_MIXING, "35 %");
    way = ask(DREGS_BEAKER_BOTTLE);
    ck_assert_near(way->takes, d / e * log((c0 - w) / (c - w)), 2e-6, "poured");
    ck_assert_near(way->concentration, c, 2e-6, "left");
    ck_assert_int_eq(way->met, 1);
    give(DREGS_BEAKER_LIMIT, "5 mg/L"); /* below the liquid's own */
    way = ask(DREGS_BEAKER_BOTTLE);
    ck_assert(isnan(way->takes));
    ck_assert_int_eq(way->met, 0);
}
END_TEST

/* D/(V + D) = s: V = D (1/s - 1); two dips: 2 D (1/sqrt(s) - 1) */
START_TEST(fresh_liquid_by_dips_and_by_pouring)
{
    const double d = 12 * 0.043e-6, share = 0.021 / 1.9;

    film_of("0.043 mL", "1.9 g/L");
    give(DREGS_BEAKER_PARTS_AT_A_TIME, "12");
    give(DREGS_BEAKER_LIMIT, "21 mg/L");
    (void)ask(DREGS_BEAKER_FRESH);
    ck_assert_uint_eq(result->ways, 2);
    ck_assert_uint_eq(result->best, 1);
    give(DREGS_BEAKER_MIXING, "50 %");
    (void)ask(DREGS_BEAKER_FRESH);
    ck_assert_uint_eq(result->ways, 3);
    ck_assert_uint_eq(result->best, 2);
    ck_assert_near(dregs_beaker_result_way(result, 0)->takes, d * (1 / share - 1), 2e-6, "once");
    ck_assert_near(dregs_beaker_result_way(result, 1)->takes, 2 * d * (1 / sqrt(share) - 1), 2e-6,
                   "twice");
    ck_assert_near(dregs_beaker_result_way(result, 2)->takes, d / 0.5 * log(1 / share), 2e-6,
                   "poured");
}
END_TEST

/* S = D ln(c_0/c)/e rises with c_0: with 95 % it is that of the upper 5 % point of c_0, a lognormal
 * of the stated mean and deviation */
START_TEST(a_spread_asks_for_more)
{
    const double d = 0.05e-6, sigma = sqrt(log1p(0.3 * 0.3)), mu = log(2.0) - sigma * sigma / 2;
    const double c95 = exp(mu + 1.6448536269514722 * sigma);
    const dregs_beaker_way *way;
    double takes;

    film_of("0.05 mL", "2 g/L +- 30 %");
    give(DREGS_BEAKER_LIMIT, "20 mg/L");
    give(DREGS_BEAKER_MIXING, "50 %");
    request.draws = 4000;
    way = ask(DREGS_BEAKER_BOTTLE);
    ck_assert_near(way->takes, d / 0.5 * log(100), 2e-6, "as stated");
    /* a lognormal lies below its mean with Phi(sigma/2); 4 standard errors of 4000 draws */
    ck_assert(fabs(way->probability - 0.5 * erfc(-sigma / 2 / sqrt(2))) < 4 * 0.5 / sqrt(4000));
    ck_assert_uint_eq(result->draws, 4000);
    ck_assert_uint_eq(result->drawn, 1);
    request.confidence = 0.95;
    way = ask(DREGS_BEAKER_BOTTLE);
    ck_assert_near(way->takes, d / 0.5 * log(c95 / 0.02), 0.02, "with 95 %%");
    ck_assert(way->probability >= 0.95);
    takes = way->takes;
    give(DREGS_BEAKER_FILM, "2 g/L +- 0.6 g/L");
    ck_assert_near(ask(DREGS_BEAKER_BOTTLE)->takes, takes, 1e-9, "the same, absolute");
    give(DREGS_BEAKER_FILM, "2 g/L \302\261 30%");
    ck_assert_near(ask(DREGS_BEAKER_BOTTLE)->takes, takes, 1e-9, "the same sign in print");
}
END_TEST

/* ---- heat and air ---- */

/* 1464 P M ug/(m2 h) (Mackay and van Wesenbeeck 2014) over the round mouth */
START_TEST(an_open_beaker_loses_a_tenth)
{
    dregs_open_content content;
    dregs_open_surface surface;
    dregs_mixtures *mixtures;
    double p, rho, rate, volume = 200e-6, area = 3.14159265358979 * 0.07 * 0.07 / 4;
    const dregs_beaker_way *way;

    give(DREGS_BEAKER_LIQUID, "isopropanol");
    give(DREGS_BEAKER_BEAKER, "200 mL");
    give(DREGS_BEAKER_OPENING, "7 cm");
    give(DREGS_BEAKER_AT, "22degC");
    give(DREGS_BEAKER_AFTER, "14 h");
    way = ask(DREGS_BEAKER_OPEN);
    p = liquid_value("isopropanol", DREGS_VAPOUR_PRESSURE, 295.15);
    rho = liquid_value("isopropanol", DREGS_DENSITY, 295.15);
    rate = 1464e-9 * p * 60.096 / 3600 * area / rho;
    ck_assert_near(result->rate, rate, 1e-9, "rate");
    ck_assert_near(way->takes, 0.1 * volume / rate, 1e-9, "a tenth");
    ck_assert_near(dregs_beaker_result_way(result, 1)->left, 1 - 14 * 3600 * rate / volume, 1e-9,
                   "after the night");
    ck_assert(assumes("still air"));
    /* test_uptake.c holds the equations; here that it is that of this beaker */
    content = (dregs_open_content){rho * volume / area, 0};
    surface = (dregs_open_surface){.temperature = 295.15,
                                   .room = 293.15,
                                   .humidity = 0.5,
                                   .pressure = DREGS_ATMOSPHERE,
                                   .length = 0.07 / 4};
    mixtures = dregs_mixtures_new();
    ck_assert_int_eq(
        dregs_open_uptake(liquids, mixtures, "isopropanol", &surface, way->takes, &content, NULL),
        DREGS_OK);
    dregs_mixtures_free(mixtures);
    ck_assert_near(way->water, content.water / (content.water + content.solvent), 1e-6, "water");
    ck_assert(assumes("50 % relative humidity"));
    give(DREGS_BEAKER_LOSES, "35 %");
    ck_assert_near(ask(DREGS_BEAKER_OPEN)->takes, 0.35 * volume / rate, 1e-9, "a third");
    give(DREGS_BEAKER_LIQUID, "toluene"); /* no water goes into it */
    ck_assert(isnan(ask(DREGS_BEAKER_OPEN)->water));
}
END_TEST

/* T = T_s + (T_0 - T_s) e^(-U A t / C), T_s = T_room + P / (U A) */
START_TEST(ultrasound_warms_a_bath)
{
    double c = 2.8e-3 * liquid_value("water", DREGS_DENSITY, 293.15) *
               liquid_value("water", DREGS_HEAT_CAPACITY, 293.15);
    const dregs_beaker_way *way;

    give(DREGS_BEAKER_LIQUID, "water");
    give(DREGS_BEAKER_BEAKER, "2.8 L");
    give(DREGS_BEAKER_POWER, "80 W");
    give(DREGS_BEAKER_WALL_LOSS, "1.7 W/K");
    give(DREGS_BEAKER_AT, "19degC");
    give(DREGS_BEAKER_ROOM, "21degC");
    give(DREGS_BEAKER_TO, "40degC");
    way = ask(DREGS_BEAKER_WARM);
    ck_assert_near(way->temperature, 294.15 + 80 / 1.7, 1e-9, "settles");
    ck_assert_near(way->takes,
                   c / 1.7 * log((294.15 + 80 / 1.7 - 292.15) / (294.15 + 80 / 1.7 - 313.15)), 1e-7,
                   "minutes");
    ck_assert(assumes("no evaporation cools it"));
    give(DREGS_BEAKER_TO, "75degC"); /* above where it settles */
    ck_assert(isinf(ask(DREGS_BEAKER_WARM)->takes));
    give(DREGS_BEAKER_TO, "15degC");
    refused(DREGS_BEAKER_WARM, DREGS_DOMAIN, "--to must be above --at");
}
END_TEST

/* stepped in time, with the same h: C dT/dt = -h (T - T_room) - eps sigma (T^4 - T_room^4) */
START_TEST(parts_cool)
{
    const double c = 17e-3 * 434 / 23e-4, room = 295.15;
    double t = 358.15, h, step;
    const dregs_beaker_way *way;
    dregs_air air;
    int i;

    give(DREGS_BEAKER_MASS, "17 g");
    give(DREGS_BEAKER_AREA, "23 cm2");
    give(DREGS_BEAKER_HEAT_CAPACITY, "steel");
    give(DREGS_BEAKER_FROM, "85degC");
    give(DREGS_BEAKER_ROOM, "22degC");
    give(DREGS_BEAKER_HEIGHT, "4 cm");
    way = ask(DREGS_BEAKER_COOL);
    ck_assert_near(result->heat_capacity, c, 1e-9, "C");
    step = way->takes / 100000;
    for (i = 0; i < 100000; i++) {
        ck_assert_int_eq(dregs_air_at((t + room) / 2, DREGS_ATMOSPHERE, &air), DREGS_OK);
        ck_assert_int_eq(dregs_heat_transfer(&air, 0.1, 0.04, fabs(t / room - 1), &h), DREGS_OK);
        t -=
            step / c * (h * (t - room) + 0.9 * DREGS_STEFAN_BOLTZMANN * (pow(t, 4) - pow(room, 4)));
    }
    ck_assert_near(t, 313.15, 1e-5, "at the end");
    ck_assert(assumes("40 degC"));
    ck_assert(assumes("434 J/(kg K)"));
    give(DREGS_BEAKER_HEAT_CAPACITY, "434 J/(kg.K)");
    ck_assert_near(ask(DREGS_BEAKER_COOL)->takes, 100000 * step, 1e-12, "as a number");
    ck_assert(!assumes("434 J/(kg K)"));
}
END_TEST

/* ---- what is asked for, refused, written ---- */

START_TEST(what_is_missing_is_asked_for)
{
    refused(DREGS_BEAKER_WARM, DREGS_DOMAIN, "--beaker ('200 mL'), --at (22degC), --power");
    film_of("0.05 mL", NULL);
    give(DREGS_BEAKER_BEAKER, "200 mL");
    give(DREGS_BEAKER_LIMIT, "1 ug/cm2");
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "--film or --soil");
    give(DREGS_BEAKER_FILM, "2 g/L");
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "--area with a --limit per area");
    give(DREGS_BEAKER_LIMIT, "A");
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "--area with a --limit per area");
    give(DREGS_BEAKER_LIMIT, "5 mg/L");
    give(DREGS_BEAKER_DRAG_OUT, "60 mL/m2");
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "--area with such a --drag-out");
    give(DREGS_BEAKER_DRAG_OUT, "vertical well drained");
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "--area with such a --drag-out");
    give(DREGS_BEAKER_AREA, "12 cm2");
    (void)ask(DREGS_BEAKER_PARTS);
    give(DREGS_BEAKER_SOIL, "1 mg");
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "exclude each other");
    give(DREGS_BEAKER_SOIL, NULL);
    give(DREGS_BEAKER_MIXING, "50 %");
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "does not use --mixing");
}
END_TEST

START_TEST(what_cannot_be_is_refused)
{
    static const struct {
        const char *text, *words;
    } cases[] = {{"0.05", "needs a unit, for example '0.05 mL'"},
                 {"0.05 s", "takes a unit like mL or mL/m2"},
                 {"a lot", "is neither a number with a unit nor a known word"},
                 {"-0.05 mL", "is not within 1e-06 mL to 10000 mL"},
                 {"0.05 mL +- much", "behind '+-'"},
                 {"0.05 mL +- 0 mL", "the doubt behind '+-' is above 0"}};
    size_t i;

    film_of("0.05 mL", "2 g/L");
    give(DREGS_BEAKER_BEAKER, "200 mL");
    give(DREGS_BEAKER_LIMIT, "50 mg/L");
    for (i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        give(DREGS_BEAKER_DRAG_OUT, cases[i].text);
        refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, cases[i].words);
    }
    give(DREGS_BEAKER_DRAG_OUT, "300 mL");
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "no less than --beaker '200 mL' holds");
    give(DREGS_BEAKER_DRAG_OUT, "vertical well drained"); /* the line knows how much that is */
    give(DREGS_BEAKER_AREA, "100 m2");
    refused(DREGS_BEAKER_PARTS, DREGS_BAD_DATA, "more than the tank holds");
    give(DREGS_BEAKER_AREA, NULL);
    give(DREGS_BEAKER_DRAG_OUT, "0.05 mL");
    give(DREGS_BEAKER_PARTS_AT_A_TIME, "2.5");
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "is not a whole number");
    give(DREGS_BEAKER_PARTS_AT_A_TIME, NULL);
    give(DREGS_BEAKER_EXCHANGE, "90 % +- 5 %"); /* of the value, or points? */
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "percent points");
    give(DREGS_BEAKER_EXCHANGE, "90 % +- 5");
    (void)ask(DREGS_BEAKER_PARTS);
    give(DREGS_BEAKER_LIQUID, "isopropanl");
    refused(DREGS_BEAKER_PARTS, DREGS_UNKNOWN, "nearest: 'isopropanol'");
    request.size = 0;
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "");
    dregs_beaker_request_init(&request);
    request.confidence = 1;
    refused(DREGS_BEAKER_PARTS, DREGS_DOMAIN, "");
    request.confidence = NAN;
    request.question = DREGS_BEAKER_QUESTIONS;
    refused(DREGS_BEAKER_QUESTIONS, DREGS_DOMAIN, "");
}
END_TEST

/* The line of each answer is a line file that the other tools read; asked by itself it meets. */
START_TEST(the_line_is_one)
{
    dregs_predict_request asked;
    dregs_predict_result *predicted = NULL;
    const dregs_beaker_way *way;
    dregs_line *line = NULL;

    film_of("0.05 mL", "2 g/L");
    give(DREGS_BEAKER_BEAKER, "200 mL");
    give(DREGS_BEAKER_LIMIT, "1 ug/cm2");
    give(DREGS_BEAKER_AREA, "12 cm2");
    way = ask(DREGS_BEAKER_PARTS);
    ck_assert_int_eq(dregs_line_parse("kept", way->text, way->length, liquids, &line, NULL),
                     DREGS_OK);
    dregs_predict_request_init(&asked);
    ck_assert_int_eq(dregs_predict_answer(line, &asked, &predicted), DREGS_OK);
    ck_assert_int_eq(predicted->met, 1);
    ck_assert_double_eq((double)predicted->worst.load, way->takes);
    ck_assert_near(predicted->worst.residue, way->residue, 1e-9, "worst residue");
    dregs_predict_result_free(predicted);
    dregs_line_free(line);
}
END_TEST

static void add(Suite *suite, const char *name, const TTest *const *tests, size_t count)
{
    TCase *tcase = tcase_create(name);
    size_t i;

    tcase_add_checked_fixture(tcase, setup, teardown);
    tcase_set_timeout(tcase, 300);
    suite_add_tcase(suite, tcase);
    for (i = 0; i < count; i++)
        tcase_add_test(tcase, tests[i]);
}

int main(void)
{
    const TTest *const rinsing[] = {the_beaker_fills_up_with_what_films_bring,
                                    soil_on_dry_parts_fills_it_too,
                                    never_and_not_one_are_answers,
                                    small_rinses_leave_less_than_one,
                                    later_loads_leave_more,
                                    a_wash_bottle_takes_a_logarithm,
                                    fresh_liquid_by_dips_and_by_pouring,
                                    a_spread_asks_for_more};
    const TTest *const heat[] = {an_open_beaker_loses_a_tenth, ultrasound_warms_a_bath, parts_cool};
    const TTest *const words[] = {what_is_missing_is_asked_for, what_cannot_be_is_refused,
                                  the_line_is_one};
    Suite *suite = suite_create("beaker");

    add(suite, "rinses", rinsing, sizeof rinsing / sizeof rinsing[0]);
    add(suite, "heat", heat, sizeof heat / sizeof heat[0]);
    add(suite, "words", words, sizeof words / sizeof words[0]);
    return run(suite);
}
