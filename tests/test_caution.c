/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_caution.c: each rule on both sides of its threshold, from a line and from facts alone, what
 * its text must hold, and that lines, dryings and liquids are cautioned alike. */
#include "check_main.h"
#include "dregs/answer_dry.h"
#include "dregs/answer_liquid.h"
#include "dregs/caution.h"
#include "dregs/number.h"
#include "dregs/warm.h"
#include "lines.h"

#include <ctype.h>
#include <string.h>

static struct lines_text text;
static dregs_caution cautions[DREGS_CAUTIONS_MOST];
static unsigned count;

/* The cautions of a line with a load of one part of 1 m2, a soil, a cleaner, and these rows. */
static void caution_of(const char *rows)
{
    dregs_line *line;

    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,h\n"
              "soil,kind,solute,\ncleaner,kind,solute,\n%s",
              rows);
    line = lines_read(text.bytes);
    ck_assert_int_eq(dregs_cautions(line, cautions, &count), DREGS_OK);
    ck_assert_uint_le(count, DREGS_CAUTIONS_MOST);
    lines_free(line); /* the texts are the caller's */
}

/* One tank of a kind, a solvent, a temperature. */
static void caution_of_tank(const char *kind, const char *solvent, const char *celsius)
{
    char rows[600];

    snprintf(rows, sizeof rows,
             "stuff,kind,liquid,\nstuff,solvent,%s,\n"
             "tub,kind,%s,\ntub,volume,20,L\ntub,liquid,stuff,\ntub,film,10,um\n"
             "tub,temperature,%s,degC\n",
             solvent, kind, celsius);
    caution_of(rows);
}

/* Caution number `which` (0, 1, ...) of a rule; NULL when it is not given. */
static const char *given(const char *id, unsigned which)
{
    unsigned i;

    for (i = 0; i < count; i++)
        if (strcmp(cautions[i].rule->id, id) == 0 && which-- == 0)
            return cautions[i].text;
    return NULL;
}

static void holds(const char *id, const char *words)
{
    ck_assert_msg(given(id, 0) != NULL, "no caution '%s'", id);
    ck_assert_msg(strstr(given(id, 0), words) != NULL, "'%s' is not in '%s'", words, given(id, 0));
}

START_TEST(every_rule_is_documented)
{
    const dregs_caution_rule *rule, *other;
    size_t i, k;

    for (i = 0; (rule = dregs_caution_rule_at(i)); i++) {
        ck_assert(rule->id && *rule->id && rule->condition && *rule->condition);
        ck_assert(rule->source && *rule->source && rule->unit);
        ck_assert_int_eq(strcmp(rule->evidence, "read") == 0, *rule->date != '\0');
        ck_assert_int_eq(strcmp(rule->evidence, "practice") == 0,
                         strcmp(rule->source, "common practice, no source") == 0);
        ck_assert_int_eq(isnan(rule->threshold) != 0, *rule->unit == '\0');
        other = i ? dregs_caution_rule_at(i - 1) : rule; /* dangers before warnings before notes */
        ck_assert_int_ge(other->severity, rule->severity);
        for (k = 0; k < i; k++) {
            other = dregs_caution_rule_at(k);
            ck_assert_str_ne(other->id, rule->id);
        }
    }
    ck_assert_uint_eq(i, 34); /* 25 that this program provokes; 8 of plausible numbers and that of
                                  the drain tests/cautions.csv does */
    ck_assert_ptr_null(dregs_caution_rule_at(SIZE_MAX));
    ck_assert_ptr_nonnull(strstr(dregs_caution_deference(), "local code"));
    ck_assert_ptr_nonnull(strstr(dregs_caution_deference(), "licensed professionals decide"));
}
END_TEST

/* Rules that hang on a temperature: given at `at`, not at `below`. `solvent` is a tank's, or "" for
 * an oven. The words stand in the text at `at`. */
static const struct {
    const char *id, *kind, *solvent, *below, *at, *words;
} edges[] = {
    /* n-butyl acetate, flash point 22 degC (NFPA 497), less 30 degF (29 CFR 1910.106): 5.33 degC */
    {"flash point", "rinse", "n-butyl acetate", "5.32", "5.34", "5.34 degC is just below"},
    {"flash point", "rinse", "n-butyl acetate", "-40", "21.9", "just below its flash point, 22"},
    {"flash point", "rinse", "n-butyl acetate", "-40", "22.1",
     "22.1 degC is above its flash point"},
    /* isopropanol, 53 degF (NIOSH) = 11.67 degC */
    {"flash point", "rinse", "isopropanol", "-5.1", "-4.9", "isopropanol"},
    {"heated", "rinse", "isopropanol", "24.9", "25.1",
     "is heated to 25.1 degC, its flash point is"},
    {"scald", "rinse", "water", "49.9", "50", "at 50 degC the bath scalds"},
    {"scald", "wash", "water", "49.9", "60", "at 60 degC the bath scalds"},
    /* water's lower neighbours in danger: a solvent is cautioned by its own rules */
    {"hot parts", "", "water", "49.9", "50", "up to 50 degC"},
    /* ethanol, 3.1 % (IEC 60079-20-1): a quarter is 0.775 % of 101.325 kPa = 785 Pa, which its
     * vapour has at -1 degC, below its data; n-butyl acetate, 1.2 %: 304 Pa, near 0 degC (1.2 kPa
     * at 20 degC in handbooks, about a quarter of it 20 degC lower) */
    {"vapour", "rinse", "n-butyl acetate", "-10", "10", "times the lower flammable limit"},
};

START_TEST(rules_fire_at_their_threshold)
{
    char oven[600];
    int i;

    for (i = 0; i < 2; i++) {
        const char *celsius = i ? edges[_i].at : edges[_i].below;
        if (*edges[_i].kind) {
            caution_of_tank(edges[_i].kind, edges[_i].solvent, celsius);
        } else {
            snprintf(oven, sizeof oven,
                     "stuff,kind,liquid,\nstuff,solvent,water,\n"
                     "tub,kind,rinse,\ntub,volume,20,L\ntub,liquid,stuff,\ntub,film,10,um\n"
                     "oven,kind,dry,\noven,temperature,%s,degC\n",
                     celsius);
            caution_of(oven);
        }
        if (i)
            holds(edges[_i].id, edges[_i].words);
        else
            ck_assert_msg(!given(edges[_i].id, 0), "%s given at %s degC", edges[_i].id, celsius);
    }
    ck_assert_ptr_nonnull(strstr(given(edges[_i].id, 0), *edges[_i].kind ? "tub" : "oven"));
}
END_TEST

START_TEST(a_wash_that_can_burn_warms_itself)
{
    caution_of_tank("wash", "isopropanol", "20");
    holds("self-warming", "tub: if the tank is ultrasonic");
    caution_of_tank("rinse", "isopropanol", "20");
    ck_assert_ptr_null(given("self-warming", 0));
    caution_of_tank("wash", "water", "60");
    ck_assert_ptr_null(given("self-warming", 0));
    ck_assert_ptr_null(given("flash point", 0));
    ck_assert_ptr_null(given("heated", 0));
    ck_assert_ptr_null(given("vapour", 0));
    ck_assert_ptr_null(given("exposure", 0));
    ck_assert_ptr_null(given("no fire data", 0));
}
END_TEST

/* Isopropanol at 20 degC: about 4.3 to 4.4 kPa, of 101.325 kPa 4.3 %, over 2 %: 2.1 to 2.2. */
START_TEST(vapour_states_the_ratio)
{
    double ratio;
    const char *at;
    char number[16];

    caution_of_tank("rinse", "isopropanol", "20");
    at = given("vapour", 0);
    ck_assert_ptr_nonnull(at);
    at = strstr(at, "at 20 degC is ");
    ck_assert_ptr_nonnull(at);
    at += strlen("at 20 degC is ");
    snprintf(number, sizeof number, "%.*s", (int)strcspn(at, " "), at);
    ck_assert_int_eq(dregs_number_read(number, &ratio), DREGS_OK);
    ck_assert_near(ratio, 2.15, 0.03, "vapour over the limit");
}
END_TEST

START_TEST(solvents_without_fire_data_are_named)
{
    caution_of_tank("rinse", "tetrachloroethylene", "20");
    holds("no fire data", "no flash point of tetrachloroethylene");
    caution_of_tank("rinse", "isopropanol", "20");
    ck_assert_ptr_null(given("no fire data", 0));
    caution_of_tank("rinse", "water", "20");
    ck_assert_uint_eq(count, 0);
}
END_TEST

/* 400 ppm: 29 CFR 1910.1000 */
START_TEST(exposure_limits_are_stated)
{
    dregs_facts many;

    caution_of_tank("rinse", "isopropanol", "20");
    holds("exposure", "at most 400 ppm (29 CFR 1910.1000 (US, 1971)");
    caution_of_tank("rinse", "n-hexane", "20"); /* NIOSH: 50 ppm; 29 CFR 1910.1000: 500 */
    holds("exposure", "first: at most 50 ppm (recommended, NIOSH");
    holds("exposure", "; at most 500 ppm (29 CFR 1910.1000");
    caution_of_tank("rinse", "trichloroethylene", "20"); /* 89 FR 102568; NIOSH */
    holds("exposure", "first: at most 0.2 ppm (US, 40 CFR part 751 subpart D; 89 FR 102568, 2024");
    caution_of_tank("rinse", "tetrachloroethylene", "20"); /* 89 FR 103560; NIOSH: carcinogen */
    holds("exposure", "first: as low as feasible (recommended, NIOSH");
    holds("exposure", "; at most 0.14 ppm (US, ");
    caution_of_tank("rinse", "1-bromopropane", "20");
    holds("exposure", "first: at most 0.1 ppm (recommended, threshold limit value");
    holds("exposure", "; at most 5 ppm (8 CCR 5155 (California)");
    dregs_facts_init(&many); /* in figures that people read: 0.147 of 0.1 ppm */
    many.place = DREGS_PLACE_KEPT;
    many.liquid = "1-bromopropane";
    many.value[DREGS_FACT_TEMPERATURE] = 293.15;
    many.value[DREGS_FACT_SATURATED] = 0.147;
    many.value[DREGS_FACT_EXPOSURE_LIMIT] = 0.1e-6;
    count = dregs_cautions_of(&many, 1, cautions);
    holds("exposure", "its vapour is 1500000 times the lowest");
    caution_of_tank("rinse", "d-limonene", "20");
    holds("exposure", "at most 5 ppm (MAK value (Germany, DFG)");
    caution_of_tank("rinse", "water", "20"); /* none on record */
    ck_assert_ptr_null(given("exposure", 0));
}
END_TEST

START_TEST(strong_cleaners)
{
    static const char bath[] = "stuff,kind,liquid,\nstuff,solvent,%s,\nstuff,cleaner,%s,g/L\n"
                               "tub,kind,%s,\ntub,volume,20,L\ntub,liquid,stuff,\ntub,film,10,um\n";
    static const struct {
        const char *solvent, *strength, *kind;
        int fires;
    } cases[] = {{"water", "1", "wash", 1},
                 {"water", "0.99", "wash", 0},
                 {"water", "18.5", "wash", 1},
                 {"water", "18.5", "rinse", 1},
                 {"isopropanol", "18.5", "wash", 0}};
    char rows[600], words[40];

    snprintf(rows, sizeof rows, bath, cases[_i].solvent, cases[_i].strength, cases[_i].kind);
    caution_of(rows);
    ck_assert_int_eq(given("strong solution", 0) != NULL, cases[_i].fires);
    snprintf(words, sizeof words, "holds %s g/L of cleaner", cases[_i].strength);
    if (cases[_i].fires)
        holds("strong solution", words);
}
END_TEST

/* A film of `film` of a solvent, then an oven: 1 m2 an hour. */
static void caution_of_drying(const char *solvent, const char *film, const char *more)
{
    char rows[800];

    snprintf(rows, sizeof rows,
             "stuff,kind,liquid,\nstuff,solvent,%s,\n"
             "tub,kind,rinse,\ntub,volume,20,L\ntub,liquid,stuff,\ntub,film,%s\n"
             "oven,kind,dry,\noven,temperature,40,degC\n%s",
             solvent, film, more);
    caution_of(rows);
}

static double air_in(const char *caution)
{
    const char *at = strstr(caution, "at least ");
    char number[16];
    double value = NAN;

    ck_assert_ptr_nonnull(at);
    at += strlen("at least ");
    snprintf(number, sizeof number, "%.*s", (int)strcspn(at, " "), at);
    ck_assert_int_eq(dregs_number_read(number, &value), DREGS_OK);
    return value;
}

/* What dregs-dry asks of the line that was cautioned last, m3/h. */
static double air_of_drying(void)
{
    char message[DREGS_DRY_MESSAGE];
    dregs_line *line = lines_read(text.bytes);
    dregs_dry_result *result = NULL;
    dregs_dry_request ask;
    double needed;

    dregs_dry_request_init(&ask);
    ck_assert_msg(!dregs_dry_answer(&ask, dregs_line_liquids(line), line, &result, message), "%s",
                  message);
    needed = dregs_dry_result_row(result, 0)->needed * 3600;
    dregs_dry_result_free(result);
    lines_free(line);
    return needed;
}

/* On the mean over the interval 62.5 m3 of air for a litre of isopropanol (785 kg/m3, 60.10 g/mol,
 * lower limit 2.0 %) at 25 % of the limit, to 0.5 %: 785/60.10 mol/L x 24.055 L/mol x (1/0.005 -
 * 1), by definition; at the peak of the drying more, and what dregs-dry says, rounded up. */
START_TEST(air_for_a_drying_film)
{
    static const struct {
        const char *film, *more;
        double mean;
    } cases[] = {
        {"1,mm", "", 62.5},
        {"0.2,mm", "oven,fresh air,7,m3/h\n", 12.5},
        {"20,um", "", 1.25},
        {"20,um", "oven,volume,200,L\noven,air speed,0.6,m/s\n", 1.25},
        {"30,um",
         "stuff,solvent share,80,%\nrack,mass,700,g\nrack,heat capacity,0.9,J/(g.K)\n"
         "rack,height,7,cm\n",
         1.25},
        /* how the air meets the face, and what the room's air holds */
        {"20,um", "oven,air,turbulent,\noven,air speed,3,m/s\nrack,height,20,cm\n", 1.25},
        {"20,um",
         "oven,air,jet,\noven,air speed,20,m/s\noven,nozzle diameter,5,mm\n"
         "oven,nozzle distance,2,cm\noven,nozzle pitch,4,cm\n",
         1.25},
        {"20,um", "hall,kind,room,\nhall,temperature,23,degC\nhall,dew point,12,degC\n", 1.25},
        {"20,um", "oven,humidity,85,%\nhall,kind,room,\nhall,humidity,20,%\n", 1.25}};
    double air;
    unsigned i;

    for (i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        caution_of_drying("isopropanol", cases[i].film, cases[i].more);
        ck_assert_ptr_nonnull(given("drying vapour", 0));
        air = air_in(given("drying vapour", 0));
        ck_assert_msg(air > cases[i].mean, "%s: %g, below the mean", cases[i].film, air);
        ck_assert_near(air, air_of_drying(), 1.6e-3, "not what dregs-dry says");
        ck_assert_msg(air >= air_of_drying(), "rounded down");
    }
    caution_of_drying("isopropanol", "1,mm", "");
    holds("drying vapour", "oven: the vapour of the film of isopropanol needs");
    holds("drying vapour", "no fresh air is stated");
    caution_of_drying("isopropanol", "0.2,mm", "oven,fresh air,7,m3/h\n");
    holds("drying vapour", "7 m3/h is stated, which is too little");
    caution_of_drying("isopropanol", "0.2,mm", "oven,fresh air,700,m3/h\n");
    ck_assert_ptr_null(given("drying vapour", 0)); /* enough */
    caution_of_drying("water", "1,mm", "");
    ck_assert_ptr_null(given("drying vapour", 0));
    caution_of_drying("tetrachloroethylene", "1,mm", ""); /* no limit on record */
    ck_assert_ptr_null(given("drying vapour", 0));
    caution_of_tank("rinse", "isopropanol", "20"); /* nothing dries here */
    ck_assert_ptr_null(given("drying vapour", 0));
}
END_TEST

/* An air knife that blows 60 % off leaves 40 % to the oven behind it: what an oven of 40 degC needs
 * for 0.4 mm, more than the knife does for it at 20 degC. */
START_TEST(an_oven_behind_an_air_knife_dries_what_it_left)
{
    double air;

    caution_of("stuff,kind,liquid,\nstuff,solvent,isopropanol,\n"
               "tub,kind,rinse,\ntub,volume,20,L\ntub,liquid,stuff,\ntub,film,1,mm\n"
               "knife,kind,dry,\nknife,temperature,20,degC\nknife,blow-off,60,%\n"
               "oven,kind,dry,\noven,temperature,40,degC\n");
    holds("drying vapour", "knife, oven: the vapour of the film of isopropanol");
    air = air_in(given("drying vapour", 0));
    holds("flash point", "oven");
    caution_of_drying("isopropanol", "0.4,mm", "");
    ck_assert_double_eq(air, air_in(given("drying vapour", 0)));
}
END_TEST

/* A liquid that is made up: 780 kg/m3, 2 kJ/(kg K), flash point 61 degC. */
static const char spirit[] =
    "liquid,property,equation,unit,A,source\n"
    "spirit,density,A,kg/m3,780,own\nspirit,heat capacity,A,J/(kg.K),2000,own\n"
    "spirit,flash point,A,degC,61,own\n";

static void caution_of_ultrasound(const char *solvent, const char *more)
{
    dregs_line *line;

    lines_begin(&text);
    lines_say(
        &text,
        "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,h\nsoil,kind,solute,\n"
        "stuff,kind,liquid,\nstuff,solvent,%s,\n"
        "tub,kind,wash,\ntub,volume,20,L\ntub,liquid,stuff,\ntub,film,10,um\n"
        "tub,temperature,20,degC\ntub,wall loss,5,W/K\n%s",
        solvent, more);
    line = lines_read_with(text.bytes, spirit);
    ck_assert_int_eq(dregs_cautions(line, cautions, &count), DREGS_OK);
    lines_free(line);
}

/* 20 L of 780 kg/m3 and 2 kJ/(kg K) are 31.2 kJ/K; 5 W/K: a time constant of 6240 s. 400 W warm it
 * by 80 K at most; 24.33 K to 44.33 degC take 6240 ln(80 / 55.67) = 2263 s, and back to 1 K above
 * the room 6240 ln(24.33 / 1) = 19916 s. 100 W: 20 K at most, and back 6240 ln(20) = 18693 s. */
START_TEST(ultrasound_warms_by_the_balance_of_heat)
{
    caution_of_ultrasound("spirit", "tub,ultrasonic power,400,W\n");
    holds("self-warming",
          "tub: 400 W of ultrasound warm spirit in 37.7 min to 16.7 K below its flash "
          "point, 61 degC; left on, it settles at 100 degC. Switch off before");
    holds("self-warming", "Switched off, it cools to 21 degC in 332 min.");
    caution_of_ultrasound("spirit", "tub,ultrasonic power,100,W\n");
    holds("self-warming",
          "100 W of ultrasound alone do not bring spirit within 16.7 K of its flash "
          "point, 61 degC; left on, it settles at 40 degC");
    holds("self-warming", "Switched off, it cools to 21 degC in 312 min.");
    caution_of_ultrasound("spirit", "tub,ultrasonic power,100,W\nair,kind,room,\n"
                                    "air,temperature,45,degC\n");
    holds("self-warming", "100 W of ultrasound warm spirit in"); /* the room warms it too */
    caution_of_ultrasound("isopropanol", "tub,ultrasonic power,100,W\n");
    holds("self-warming", "within 16.7 K of its flash point, 11.7 degC, or above it already");
    ck_assert_ptr_null(strstr(given("self-warming", 0), "cools to -")); /* from where it settles */
    caution_of_ultrasound("water", "tub,ultrasonic power,100,W\n");
    holds("self-warming", "100 W of ultrasound warm water; left on, it settles at 40 degC.");
}
END_TEST

static double minutes_in(const char *caution)
{
    const char *at = strstr(caution, "warm spirit in ");
    char number[16];
    double value = NAN;

    ck_assert_msg(at != NULL, "%s", caution);
    at += strlen("warm spirit in ");
    snprintf(number, sizeof number, "%.*s", (int)strcspn(at, " "), at);
    ck_assert_int_eq(dregs_number_read(number, &value), DREGS_OK);
    return value;
}

/* A beaker in 3 L of water, coupled by 6 W/K: dregs_warm_time, which test_warm holds against closed
 * forms. Water of 20 degC: 998.2 kg/m3, 4.184 kJ/(kg K). */
START_TEST(a_beaker_is_warmed_through_its_bath)
{
    dregs_warm_case warm = {
        .bodies = 2,
        .body = {{3e-3 * 998.2 * 4184, 400, 5, NULL, NULL}, {31200, 0, 0, NULL, NULL}},
        .coupling = 6,
        .room = 293.15};
    const double start[2] = {293.15, 293.15};
    double time, alone;

    caution_of_ultrasound("spirit", "tub,ultrasonic power,400,W\n");
    alone = minutes_in(given("self-warming", 0));
    caution_of_ultrasound("spirit", "tub,ultrasonic power,400,W\ntub,water bath,3,L\n"
                                    "tub,bath coupling,6,W/K\n");
    ck_assert_int_eq(dregs_warm_time(&warm, start, 1, 273.15 + 61 - 30 / 1.8, &time), DREGS_OK);
    ck_assert_near(minutes_in(given("self-warming", 0)), time / 60, 5e-3, "minutes");
    ck_assert(minutes_in(given("self-warming", 0)) > alone);
}
END_TEST

/* An open surface cools: later than without it, or never. */
START_TEST(evaporation_slows_the_warming)
{
    caution_of_ultrasound("water", "tub,ultrasonic power,400,W\ntub,open area,0.1,m2\n");
    ck_assert_ptr_nonnull(given("self-warming", 0));
    ck_assert_ptr_null(strstr(given("self-warming", 0), "settles at 100 degC"));
    ck_assert_ptr_nonnull(strstr(given("self-warming", 0), "settles at "));
}
END_TEST

START_TEST(what_is_assumed_of_a_warmed_tank_is_listed)
{
    static const char *const words[] = {"measure it by a cooling curve", "pass from the water bath",
                                        "no evaporation cools it", "becomes heat"};
    dregs_line *line;
    unsigned i, k, found;

    lines_begin(&text);
    lines_say(
        &text,
        "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,h\nsoil,kind,solute,\n"
        "stuff,kind,liquid,\nstuff,solvent,water,\n"
        "tub,kind,wash,\ntub,volume,20,L\ntub,liquid,stuff,\ntub,film,10,um\n"
        "tub,ultrasonic power,60,W\ntub,water bath,3,L\n");
    line = lines_read(text.bytes);
    for (k = 0; k < sizeof words / sizeof words[0]; k++) {
        for (i = found = 0; dregs_line_assumed(line, i); i++)
            found += strstr(dregs_line_assumed(line, i), words[k]) != NULL;
        ck_assert_msg(found == 1, "'%s' stands %u times", words[k], found);
    }
    lines_free(line);
}
END_TEST

START_TEST(two_solvents_give_two_cautions)
{
    static const char *const rules[] = {"flash point", "vapour", "exposure"};
    unsigned i;

    caution_of("one,kind,liquid,\none,solvent,isopropanol,\n"
               "two,kind,liquid,\ntwo,solvent,ethanol,\n"
               "a,kind,rinse,\na,volume,20,L\na,liquid,one,\na,film,10,um\n"
               "b,kind,rinse,\nb,volume,20,L\nb,liquid,two,\nb,film,10,um\n"
               "c,kind,rinse,\nc,volume,20,L\nc,liquid,one,\nc,film,10,um\n");
    for (i = 0; i < 3; i++) {
        ck_assert_msg(given(rules[i], 1) && !given(rules[i], 2), "%s: not two", rules[i]);
        ck_assert_ptr_nonnull(strstr(given(rules[i], 0), "isopropanol"));
        ck_assert_ptr_nonnull(strstr(given(rules[i], 1), "ethanol"));
        ck_assert_int_eq(strncmp(given(rules[i], 0), "a, c: ", 6), 0); /* both stages, once */
        ck_assert_int_eq(strncmp(given(rules[i], 1), "b: ", 3), 0);
    }
}
END_TEST

/* Two tanks of one solvent: the numbers are the hotter one's. */
START_TEST(the_most_critical_stage_is_shown)
{
    caution_of(
        "one,kind,liquid,\none,solvent,isopropanol,\n"
        "a,kind,rinse,\na,volume,20,L\na,liquid,one,\na,film,10,um\na,temperature,18,degC\n"
        "b,kind,rinse,\nb,volume,20,L\nb,liquid,one,\nb,film,10,um\nb,temperature,33,degC\n");
    holds("flash point", "a, b: isopropanol at 33 degC");
    holds("heated", "b: isopropanol can burn and is heated to 33 degC");
}
END_TEST

START_TEST(a_mixture_says_that_the_figures_are_of_the_pure)
{
    static const char *const rules[] = {"flash point", "vapour", "exposure"};
    /* no activity coefficients of acetone with water are on record */
    static const char rows[] = "stuff,kind,liquid,\nstuff,solvent,acetone,\n%s"
                               "tub,kind,rinse,\ntub,volume,20,L\ntub,liquid,stuff,\n"
                               "tub,film,10,um\noven,kind,dry,\noven,temperature,40,degC\n";
    char whole[800];
    unsigned i, mixed;

    for (mixed = 0; mixed < 2; mixed++) {
        snprintf(whole, sizeof whole, rows, mixed ? "stuff,solvent share,70,%\n" : "");
        caution_of(whole);
        for (i = 0; i < 3; i++) {
            ck_assert_ptr_nonnull(given(rules[i], 0));
            ck_assert_int_eq(strstr(given(rules[i], 0), "treated as pure acetone") != NULL,
                             (int)mixed);
        }
    }
}
END_TEST

/* The flash point of 70 % by mass in water, as dregs_mixture_flash_point has it, which test_mixture
 * holds against measured ones, and the vapour by activity coefficients. */
START_TEST(a_mixture_has_its_own_flash_point)
{
    dregs_mixtures *mixtures = dregs_mixtures_new();
    dregs_liquids *liquids = dregs_liquids_new();
    double moles = dregs_mixture_mole_share(0.7, 60.096, 18.015), at = NAN, ratio, gamma[2];
    char number[DREGS_NUMBER_TEXT], words[120], message[DREGS_LIQUID_MESSAGE];
    const char *said;

    ck_assert(mixtures && liquids);
    ck_assert_int_eq(
        dregs_mixture_flash_point(mixtures, liquids, "isopropanol", "water", moles, &at, message),
        DREGS_OK);
    ck_assert_int_eq(
        dregs_mixture_activity(mixtures, "isopropanol", "water", moles, 293.15, gamma, message),
        DREGS_OK);
    caution_of("stuff,kind,liquid,\nstuff,solvent,isopropanol,\nstuff,solvent share,70,%\n"
               "tub,kind,rinse,\ntub,volume,20,L\ntub,liquid,stuff,\ntub,film,10,um\n"
               "tub,temperature,20,degC\n");
    snprintf(words, sizeof words,
             "its flash point, %s degC (the mixture's, calculated; measure it)",
             dregs_number_plain(number, at - 273.15, 3));
    holds("flash point", words);
    said = strstr(given("vapour", 0), "at 20 degC is ");
    ck_assert_ptr_nonnull(said);
    said += strlen("at 20 degC is ");
    snprintf(number, sizeof number, "%.*s", (int)strcspn(said, " "), said);
    ck_assert_int_eq(dregs_number_read(number, &ratio), DREGS_OK);
    ck_assert_near(ratio, 2.15 * moles * gamma[0], 0.03, "vapour over the limit"); /* see above */
    dregs_mixtures_free(mixtures);
    dregs_liquids_free(liquids);
}
END_TEST

/* Every text with a number in its rule's condition shows a number; none is cut off. */
START_TEST(texts_are_whole_and_hold_numbers)
{
    unsigned i;
    const char *p;

    caution_of("one,kind,liquid,\none,solvent,isopropanol,\n"
               "two,kind,liquid,\ntwo,solvent,water,\ntwo,cleaner,25,g/L\n"
               "three,kind,liquid,\nthree,solvent,tetrachloroethylene,\n"
               "w,kind,wash,\nw,volume,20,L\nw,liquid,two,\nw,film,10,um\nw,temperature,65,degC\n"
               "t,kind,rinse,\nt,volume,20,L\nt,liquid,three,\nt,film,10,um\n"
               "i,kind,wash,\ni,volume,20,L\ni,liquid,one,\ni,film,10,um\ni,temperature,31,degC\n"
               "o,kind,dry,\no,temperature,80,degC\n");
    ck_assert_uint_eq(count, 13); /* no rule twice but for the exposure limit of two solvents */
    for (i = 0; i < count; i++) {
        ck_assert_uint_lt(strlen(cautions[i].text), DREGS_CAUTION_TEXT - 1);
        ck_assert_int_eq(cautions[i].text[strlen(cautions[i].text) - 1], '.');
        for (p = cautions[i].text; *p && !isdigit((unsigned char)*p); p++)
            ;
        if (!isnan(cautions[i].rule->threshold))
            ck_assert_msg(*p != '\0', "no number in '%s'", cautions[i].text);
    }
}
END_TEST

/* ---- facts alone ---- */

#define CELSIUS(degrees) ((degrees) + 273.15)

static const dregs_facts *one_fact(dregs_facts *facts, dregs_place place, const char *liquid)
{
    dregs_facts_init(facts);
    facts->place = place;
    facts->liquid = liquid;
    return facts;
}

/* A fact on both sides of where a rule begins; all others of these are known, and none of them
 * calls for that caution by itself: flash point 80 degC, lower limit 2 %, exposure limit 100 ppm,
 * autoignition 250 degC, 20 degC, dew point 10 degC. */
static const struct {
    const char *id;
    dregs_place place;
    const char *liquid;
    dregs_fact fact;
    double not, given;
} thresholds[] = {
    /* 30 degF = 16.67 K below 80 degC: 63.33 degC (29 CFR 1910.106) */
    {"flash point", DREGS_PLACE_RINSE, "spirit", DREGS_FACT_TEMPERATURE, CELSIUS(63.32),
     CELSIUS(63.34)},
    {"flash point", DREGS_PLACE_SPRAY, "spirit", DREGS_FACT_TEMPERATURE, CELSIUS(63.32),
     CELSIUS(90)},
    {"flash point", DREGS_PLACE_DRYING, "spirit", DREGS_FACT_TEMPERATURE, CELSIUS(63.32),
     CELSIUS(63.34)},
    {"flash point", DREGS_PLACE_KEPT, "spirit", DREGS_FACT_TEMPERATURE, CELSIUS(63.32),
     CELSIUS(63.34)},
    {"heated", DREGS_PLACE_WASH, "spirit", DREGS_FACT_TEMPERATURE, CELSIUS(63.32), CELSIUS(63.34)},
    {"heated", DREGS_PLACE_SPRAY, "spirit", DREGS_FACT_TEMPERATURE, CELSIUS(63.32), CELSIUS(63.34)},
    {"self-warming", DREGS_PLACE_WASH, "spirit", DREGS_FACT_FLASH_POINT, NAN, CELSIUS(80)},
    /* a quarter of 2 % is 0.5 % of the air */
    {"vapour", DREGS_PLACE_WASH, "spirit", DREGS_FACT_SATURATED, 0.00499, 0.00501},
    {"vapour", DREGS_PLACE_KEPT, "spirit", DREGS_FACT_SATURATED, 0.00499, 0.00501},
    {"vapour", DREGS_PLACE_DRYING, "spirit", DREGS_FACT_FLAMMABLE, 0.249, 0.251},
    {"closed oven", DREGS_PLACE_DRYING, "spirit", DREGS_FACT_FRESH_AIR, 0.001, 0},
    {"closed oven", DREGS_PLACE_DRYING, "spirit", DREGS_FACT_FRESH_AIR, 0.001, NAN},
    /* 0.001 m3/s are stated */
    {"drying vapour", DREGS_PLACE_DRY_STAGE, "spirit", DREGS_FACT_AIR_NEEDED, 0.00099, 0.00101},
    {"drying vapour", DREGS_PLACE_DRYING, "spirit", DREGS_FACT_AIR_NEEDED, 0.00099, 0.00101},
    {"drying vapour", DREGS_PLACE_DRY_STAGE, "spirit", DREGS_FACT_FRESH_AIR, 0.001, 0},
    {"drying vapour", DREGS_PLACE_DRY_STAGE, "spirit", DREGS_FACT_AIR_MEAN, 0, 0.01},
    /* 80 % of 250 degC */
    {"autoignition", DREGS_PLACE_DRYING, "spirit", DREGS_FACT_WALL, CELSIUS(199.9), CELSIUS(200.1)},
    {"hot surface", DREGS_PLACE_KEPT, "spirit", DREGS_FACT_AUTOIGNITION, CELSIUS(300.1),
     CELSIUS(299.9)},
    {"no fire data", DREGS_PLACE_RINSE, "spirit", DREGS_FACT_FLASH_POINT, CELSIUS(80), NAN},
    {"no fire data", DREGS_PLACE_RINSE, "spirit", DREGS_FACT_LOWER_LIMIT, 0.02, NAN},
    {"no fire data", DREGS_PLACE_DRYING, "spirit", DREGS_FACT_FLASH_POINT, CELSIUS(80), NAN},
    {"no fire data", DREGS_PLACE_DRYING, "spirit", DREGS_FACT_LOWER_LIMIT, 0.02, NAN},
    {"no fire data", DREGS_PLACE_KEPT, "spirit", DREGS_FACT_FLASH_POINT, CELSIUS(80), NAN},
    {"no fire data", DREGS_PLACE_KEPT, "spirit", DREGS_FACT_LOWER_LIMIT, 0.02, NAN},
    {"exposure", DREGS_PLACE_SPRAY, "spirit", DREGS_FACT_SATURATED, 99e-6, 101e-6},
    {"exposure", DREGS_PLACE_KEPT, "spirit", DREGS_FACT_SATURATED, 99e-6, 101e-6},
    {"exposure", DREGS_PLACE_DRYING, "spirit", DREGS_FACT_VAPOUR, 99e-6, 101e-6},
    {"no exposure limit", DREGS_PLACE_KEPT, "spirit", DREGS_FACT_EXPOSURE_LIMIT, 100e-6, NAN},
    {"strong solution", DREGS_PLACE_WASH, "water", DREGS_FACT_CONTENT, 0.99, 1.01},
    {"strong solution", DREGS_PLACE_SPRAY, "water", DREGS_FACT_CONTENT, 0.99, 1.01},
    {"caustic", DREGS_PLACE_RINSE, "water", DREGS_FACT_CAUSTIC, 0.099, 0.101},
    {"acid", DREGS_PLACE_SPRAY, "water", DREGS_FACT_ACID, 0.099, 0.101},
    {"oxidiser", DREGS_PLACE_WASH, "water", DREGS_FACT_OXIDISER, 0, 0.001},
    {"scald", DREGS_PLACE_SPRAY, "spirit", DREGS_FACT_TEMPERATURE, CELSIUS(49.9), CELSIUS(50.1)},
    {"scald", DREGS_PLACE_WASH, "water", DREGS_FACT_TEMPERATURE, CELSIUS(49.9), CELSIUS(50.1)},
    {"hot parts", DREGS_PLACE_DRY_STAGE, NULL, DREGS_FACT_TEMPERATURE, CELSIUS(49.9),
     CELSIUS(50.1)},
    {"hot parts", DREGS_PLACE_DRYING, "water", DREGS_FACT_TEMPERATURE, CELSIUS(49.9),
     CELSIUS(50.1)},
    {"wet spots", DREGS_PLACE_DRYING, "spirit", DREGS_FACT_COLDEST, CELSIUS(10.1), CELSIUS(9.9)},
    {"water uptake", DREGS_PLACE_RINSE, "spirit", DREGS_FACT_WATER_TAKEN, 0.00499, 0.00501},
    {"water uptake", DREGS_PLACE_WASH, "spirit", DREGS_FACT_WATER_TAKEN, 0.001, NAN},
    {"water uptake", DREGS_PLACE_WASH, "spirit", DREGS_FACT_MIXES, NAN, 1},
};

/* Whether a caution is given of facts that are all known and harmless but for one. */
static int cautioned(unsigned edge, double value)
{
    static const struct {
        dregs_fact fact;
        double harmless;
    } known[] = {
        {DREGS_FACT_FLASH_POINT, CELSIUS(80)},
        {DREGS_FACT_LOWER_LIMIT, 0.02},
        {DREGS_FACT_EXPOSURE_LIMIT, 100e-6},
        {DREGS_FACT_AUTOIGNITION, CELSIUS(250)},
        {DREGS_FACT_TEMPERATURE, CELSIUS(20)},
        {DREGS_FACT_SATURATED, 1e-6},
        {DREGS_FACT_DEW_POINT, CELSIUS(10)},
        {DREGS_FACT_COLDEST, CELSIUS(15)},
        {DREGS_FACT_WALL, CELSIUS(20)},
        {DREGS_FACT_VOLUME, 2},
        {DREGS_FACT_FRESH_AIR, 0.001},
        {DREGS_FACT_FLAMMABLE, 0.01},
        {DREGS_FACT_VAPOUR, 1e-6},
        {DREGS_FACT_CONTENT, 0.1},
        {DREGS_FACT_MIXES, 1},
        {DREGS_FACT_WATER_TAKEN, 0.001},
    };
    dregs_facts facts;
    size_t i;

    one_fact(&facts, thresholds[edge].place, thresholds[edge].liquid);
    for (i = 0; i < sizeof known / sizeof known[0]; i++)
        facts.value[known[i].fact] = known[i].harmless;
    if (thresholds[edge].fact == DREGS_FACT_MIXES)
        facts.value[DREGS_FACT_WATER_TAKEN] = 0.01;
    facts.value[thresholds[edge].fact] = value;
    count = dregs_cautions_of(&facts, 1, cautions);
    return given(thresholds[edge].id, 0) != NULL;
}

START_TEST(facts_meet_a_rule_from_its_threshold_on)
{
    unsigned edge = (unsigned)_i;

    ck_assert_msg(!cautioned(edge, thresholds[edge].not ), "%s: given too early",
                  thresholds[edge].id);
    ck_assert_msg(cautioned(edge, thresholds[edge].given), "%s: not given", thresholds[edge].id);
}
END_TEST

/* What is not known is not taken for harmless. */
START_TEST(unknown_facts_are_no_all_clear)
{
    static const dregs_place places[] = {DREGS_PLACE_WASH, DREGS_PLACE_RINSE, DREGS_PLACE_SPRAY,
                                         DREGS_PLACE_DRYING, DREGS_PLACE_KEPT};
    dregs_facts facts;
    unsigned i, k;

    for (i = 0; i < sizeof places / sizeof places[0]; i++) {
        one_fact(&facts, places[i], "spirit");
        count = dregs_cautions_of(&facts, 1, cautions);
        ck_assert_ptr_nonnull(given("no fire data", 0));
        facts.value[DREGS_FACT_FLASH_POINT] = CELSIUS(80); /* how warm it is: nobody knows */
        facts.value[DREGS_FACT_EXPOSURE_LIMIT] = 1e-4;     /* nor what the air holds */
        count = dregs_cautions_of(&facts, 1, cautions);
        ck_assert_ptr_nonnull(given("flash point", 0));
        ck_assert_ptr_nonnull(given("exposure", 0));
        ck_assert_ptr_nonnull(given("no fire data", 0)); /* no lower limit */
        for (k = 0; k < count; k++) {
            ck_assert_ptr_null(strstr(cautions[k].text, "nan"));
            ck_assert_ptr_null(strchr(cautions[k].text, '{'));
        }
    }
    one_fact(&facts, DREGS_PLACE_DRYING, "spirit");
    facts.value[DREGS_FACT_LOWER_LIMIT] = 0.02;
    facts.value[DREGS_FACT_VOLUME] = 2;
    count = dregs_cautions_of(&facts, 1, cautions);
    ck_assert_ptr_nonnull(given("closed oven", 0));
    facts.value[DREGS_FACT_FRESH_AIR] = 0.001;
    count = dregs_cautions_of(&facts, 1, cautions);
    ck_assert_ptr_nonnull(given("vapour", 0));
    /* water is known to be harmless, whatever else is not */
    one_fact(&facts, DREGS_PLACE_RINSE, "water");
    ck_assert_uint_eq(dregs_cautions_of(&facts, 1, cautions), 0);
}
END_TEST

/* One place at three temperatures is named once, and the hottest gives the numbers. */
START_TEST(alike_facts_are_one_caution)
{
    dregs_facts facts[3];
    unsigned i;

    for (i = 0; i < 3; i++) {
        one_fact(&facts[i], DREGS_PLACE_DRYING, "spirit");
        facts[i].where = "oven";
        facts[i].value[DREGS_FACT_TEMPERATURE] = CELSIUS(i == 1 ? 91 : 61);
    }
    count = dregs_cautions_of(facts, 3, cautions);
    holds("hot parts", "oven: parts and basket come out at up to 91 degC");
    ck_assert_ptr_null(given("hot parts", 1));
    for (i = 0; strcmp(cautions[i].rule->id, "hot parts") != 0; i++)
        ;
    ck_assert_uint_eq(cautions[i].facts, 1);
    ck_assert_str_eq(cautions[i].source, cautions[i].rule->source);
    ck_assert_uint_eq(dregs_cautions_of(facts, 0, cautions), 0);
}
END_TEST

START_TEST(a_ban_is_a_caution_with_its_citation)
{
    static const struct {
        const char *code, *noted, *shown;
    } words[] = {{"prohibited", "2026-01-31", "(rule of 2020, Act 7; noted 2026-01-31)"},
                 {"authorisation", "", "(rule of 2020, Act 7; from memory)"},
                 {"other use", "", NULL}, /* paint strippers, where parts dry */
                 {"no HAP", "", NULL}};
    dregs_regulation law = {.liquid = "spirit",
                            .jurisdiction = "EU",
                            .fact = "a ban",
                            .citation = "Act 7",
                            .status_date = "2020"};
    dregs_facts facts;

    law.code = words[_i].code;
    law.noted = words[_i].noted;
    dregs_facts_init(&facts);
    dregs_facts_of_regulation(&facts, &law);
    count = dregs_cautions_of(&facts, 1, cautions);
    ck_assert_uint_eq(count, words[_i].shown != NULL);
    if (count) {
        holds("restriction", "spirit, EU: a ban");
        holds("restriction", words[_i].shown);
        ck_assert_str_eq(cautions[0].source, "Act 7");
    }
}
END_TEST

/* ---- one hazard, one caution ---- */

/* Does a caution with this id stand among these? */
static int names(const dregs_caution *given_ones, unsigned many, const char *id)
{
    unsigned i;

    for (i = 0; i < many; i++)
        if (strcmp(given_ones[i].rule->id, id) == 0)
            return 1;
    return 0;
}

/* Is a liquid at 20 degC cautioned by this id: in a tank of a line, drying, as such? A bit each. */
static int cautioned_in(const char *id, const char *liquid, const char *more_rows)
{
    char message[DREGS_DRY_MESSAGE], rows[400];
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_liquid_request ask;
    dregs_dry_request dry;
    dregs_liquid_result *told = NULL;
    dregs_dry_result *dried = NULL;
    dregs_line *line;
    int found = 0;

    ck_assert_ptr_nonnull(liquids);
    if (more_rows)
        ck_assert_int_eq(dregs_liquids_add(liquids, "own", more_rows, strlen(more_rows), NULL),
                         DREGS_OK);
    dregs_liquid_request_init(&ask);
    ask.name = liquid;
    ask.temperature = CELSIUS(20);
    ck_assert_int_eq(dregs_liquid_answer(&ask, liquids, &told, message), DREGS_OK);
    if (told->cautions)
        found |= names(dregs_liquid_result_caution(told, 0), told->cautions, id);
    dregs_dry_request_init(&dry);
    dry.liquid = liquid;
    dry.film = 5e-6;
    dry.at[dry.at_count++] = CELSIUS(20);
    ck_assert_msg(!dregs_dry_answer(&dry, liquids, NULL, &dried, message), "%s", message);
    if (dried->cautions)
        found |= names(dregs_dry_result_caution(dried, 0), dried->cautions, id) << 1;
    lines_begin(&text);
    snprintf(rows, sizeof rows,
             "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,h\n"
             "soil,kind,solute,\n"
             "stuff,kind,liquid,\nstuff,solvent,%s,\ntub,kind,rinse,\ntub,volume,20,L\n"
             "tub,liquid,stuff,\ntub,film,10,um\ntub,temperature,20,degC\n",
             liquid);
    lines_say(&text, "%s", rows);
    line = lines_read_with(text.bytes, more_rows);
    ck_assert_int_eq(dregs_cautions(line, cautions, &count), DREGS_OK);
    found |= names(cautions, count, id) << 2;
    lines_free(line);
    dregs_dry_result_free(dried);
    dregs_liquid_result_free(told);
    dregs_liquids_free(liquids);
    return found;
}

/* Liquids at 20 degC. A flash point of 36.6 degC is 16.6 K above, one of 36.7 degC 16.7 K: more
 * than 30 degF = 16.67 K. */
static const struct {
    const char *id, *liquid, *flash_point;
    int given;
} hazards[] = {
    {"flash point", "isopropanol", NULL, 1},
    {"flash point", "isopropanol", "36.6", 1},
    {"flash point", "isopropanol", "36.7", 0},
    {"exposure", "isopropanol", NULL, 1},
    {"exposure", "trichloroethylene", NULL, 1},
    {"no fire data", "trichloroethylene", NULL, 1},
    {"no fire data", "isopropanol", NULL, 0},
    {"flash point", "water", NULL, 0},
    {"no fire data", "tetrachloroethylene", NULL, 1},
};

START_TEST(lines_dryings_and_liquids_are_cautioned_alike)
{
    char rows[200];

    snprintf(rows, sizeof rows,
             "liquid,property,equation,unit,A,source\nisopropanol,flash point,A,degC,%s,own\n",
             hazards[_i].flash_point ? hazards[_i].flash_point : "12");
    ck_assert_int_eq(
        cautioned_in(hazards[_i].id, hazards[_i].liquid, hazards[_i].flash_point ? rows : NULL),
        hazards[_i].given ? 7 : 0);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("caution");
    TCase *c = tcase_create("rules");

    suite_add_tcase(s, c);
    tcase_add_test(c, every_rule_is_documented);
    tcase_add_loop_test(c, rules_fire_at_their_threshold, 0, sizeof edges / sizeof edges[0]);
    tcase_add_test(c, a_wash_that_can_burn_warms_itself);
    tcase_add_test(c, vapour_states_the_ratio);
    tcase_add_test(c, solvents_without_fire_data_are_named);
    tcase_add_test(c, exposure_limits_are_stated);
    tcase_add_loop_test(c, strong_cleaners, 0, 5);
    tcase_add_test(c, air_for_a_drying_film);
    tcase_add_test(c, an_oven_behind_an_air_knife_dries_what_it_left);
    tcase_add_test(c, ultrasound_warms_by_the_balance_of_heat);
    tcase_add_test(c, a_beaker_is_warmed_through_its_bath);
    tcase_add_test(c, evaporation_slows_the_warming);
    tcase_add_test(c, what_is_assumed_of_a_warmed_tank_is_listed);
    tcase_add_test(c, two_solvents_give_two_cautions);
    tcase_add_test(c, the_most_critical_stage_is_shown);
    tcase_add_test(c, a_mixture_says_that_the_figures_are_of_the_pure);
    tcase_add_test(c, a_mixture_has_its_own_flash_point);
    tcase_add_test(c, texts_are_whole_and_hold_numbers);
    tcase_add_loop_test(c, facts_meet_a_rule_from_its_threshold_on, 0,
                        sizeof thresholds / sizeof thresholds[0]);
    tcase_add_test(c, unknown_facts_are_no_all_clear);
    tcase_add_test(c, alike_facts_are_one_caution);
    tcase_add_loop_test(c, a_ban_is_a_caution_with_its_citation, 0, 4);
    tcase_add_loop_test(c, lines_dryings_and_liquids_are_cautioned_alike, 0,
                        sizeof hazards / sizeof hazards[0]);
    return s;
}

int main(void)
{
    return run(suite());
}
