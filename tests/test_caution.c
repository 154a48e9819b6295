/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_caution.c: each rule on both sides of its threshold, and what its text must hold. */
#include "check_main.h"
#include "dregs/caution.h"
#include "dregs/number.h"
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
    count = dregs_cautions(line, cautions);
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
        ck_assert_int_eq(isnan(rule->threshold) != 0, *rule->unit == '\0');
        for (k = 0; k < i; k++) {
            other = dregs_caution_rule_at(k);
            ck_assert_str_ne(other->id, rule->id);
        }
    }
    ck_assert_uint_eq(i, 17); /* as many as this program provokes */
    ck_assert_ptr_null(dregs_caution_rule_at(SIZE_MAX));
    ck_assert_ptr_nonnull(strstr(dregs_caution_deference(), "local code"));
    ck_assert_ptr_nonnull(strstr(dregs_caution_deference(), "licensed practice decide"));
}
END_TEST

/* Rules that hang on a temperature: given at `at`, not at `below`. `solvent` is a tank's, or "" for
 * an oven. The words stand in the text at `at`. */
static const struct {
    const char *id, *kind, *solvent, *below, *at, *words;
} edges[] = {
    /* n-butyl acetate, flash point 22 degC (NFPA 497), less 30 degF (29 CFR 1910.106): 5.33 degC */
    {"flash point", "rinse", "n-butyl acetate", "5.32", "5.34", "5.34 degC is little below"},
    {"flash point", "rinse", "n-butyl acetate", "-40", "21.9", "little below its flash point, 22"},
    {"flash point", "rinse", "n-butyl acetate", "-40", "22.1",
     "22.1 degC is above its flash point"},
    /* isopropanol, 53 degF (NIOSH) = 11.67 degC */
    {"flash point", "rinse", "isopropanol", "-5.1", "-4.9", "isopropanol"},
    {"heated", "rinse", "isopropanol", "29.9", "30", "isopropanol can burn and stands at 30 degC"},
    {"hot bath", "rinse", "water", "49.9", "50", "at 50 degC the bath scalds"},
    {"hot bath", "wash", "water", "49.9", "60", "at 60 degC the bath scalds"},
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
    caution_of_tank("rinse", "isopropanol", "20");
    holds("exposure", "400 ppm of isopropanol");
    caution_of_tank("rinse", "d-limonene", "20"); /* none on record */
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
                 {"water", "18.5", "rinse", 0},
                 {"isopropanol", "18.5", "wash", 0}};
    char rows[600], words[40];

    snprintf(rows, sizeof rows, bath, cases[_i].solvent, cases[_i].strength, cases[_i].kind);
    caution_of(rows);
    ck_assert_int_eq(given("strong cleaner", 0) != NULL, cases[_i].fires);
    snprintf(words, sizeof words, "holds %s g/L", cases[_i].strength);
    if (cases[_i].fires)
        holds("strong cleaner", words);
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

/* 62.5 m3 of air for a litre of isopropanol (785 kg/m3, 60.10 g/mol, lower limit 2.0 %) at 25 % of
 * the limit, to 0.5 %: 785/60.10 mol/L x 24.055 L/mol x (1/0.005 - 1), by definition. */
START_TEST(air_for_a_drying_film)
{
    caution_of_drying("isopropanol", "1,mm", ""); /* 1 L in 1 h */
    ck_assert_ptr_nonnull(given("drying vapour", 0));
    ck_assert_near(air_in(given("drying vapour", 0)), 62.5, 5e-3, "air for 1 L/h");
    holds("drying vapour", "oven: the film of isopropanol");
    holds("drying vapour", "no fresh air is stated");
    caution_of_drying("isopropanol", "0.2,mm", "oven,fresh air,17,m3/h\n");
    ck_assert_near(air_in(given("drying vapour", 0)), 12.5, 5e-3, "air for 0.2 L/h");
    holds("drying vapour", "stated m3/h: 17");
    caution_of_drying("water", "1,mm", "");
    ck_assert_ptr_null(given("drying vapour", 0));
    caution_of_drying("tetrachloroethylene", "1,mm", ""); /* no limit on record */
    ck_assert_ptr_null(given("drying vapour", 0));
    caution_of_tank("rinse", "isopropanol", "20"); /* nothing dries here */
    ck_assert_ptr_null(given("drying vapour", 0));
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
    holds("heated", "b: isopropanol can burn and stands at 33 degC");
}
END_TEST

START_TEST(a_mixture_says_that_the_figures_are_of_the_pure)
{
    static const char *const rules[] = {"flash point", "vapour", "exposure", "drying vapour"};
    static const char rows[] = "stuff,kind,liquid,\nstuff,solvent,isopropanol,\n%s"
                               "tub,kind,rinse,\ntub,volume,20,L\ntub,liquid,stuff,\n"
                               "tub,film,10,um\noven,kind,dry,\noven,temperature,40,degC\n";
    char whole[800];
    unsigned i, mixed;

    for (mixed = 0; mixed < 2; mixed++) {
        snprintf(whole, sizeof whole, rows, mixed ? "stuff,solvent share,70,%\n" : "");
        caution_of(whole);
        for (i = 0; i < 4; i++) {
            ck_assert_ptr_nonnull(given(rules[i], 0));
            ck_assert_int_eq(strstr(given(rules[i], 0), "figures of pure isopropanol") != NULL,
                             (int)mixed);
        }
    }
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
    ck_assert_uint_eq(count, 11); /* every rule, the exposure limit of two solvents */
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
    tcase_add_test(c, two_solvents_give_two_cautions);
    tcase_add_test(c, the_most_critical_stage_is_shown);
    tcase_add_test(c, a_mixture_says_that_the_figures_are_of_the_pure);
    tcase_add_test(c, texts_are_whole_and_hold_numbers);
    return s;
}

int main(void)
{
    return run(suite());
}
