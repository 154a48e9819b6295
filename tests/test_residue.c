/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_residue.c: what dries on the parts, against values worked out by hand beside each test. */
#include "check_main.h"
#include "dregs/residue.h"
#include "lines.h"

#include <string.h>

static struct lines_text text;

struct answer {
    dregs_line *line;
    dregs_map *map;
    dregs_state *state;
    dregs_residue next, floor;
};

/* The residue of load `load` of a line, header aside. */
static struct answer ask(const char *rows, uint64_t load)
{
    struct answer a;

    lines_begin(&text);
    lines_say(&text, "%s", rows);
    a.line = lines_read(text.bytes);
    a.map = lines_map(a.line);
    a.state = lines_state(a.map);
    ck_assert_int_eq(dregs_state_before(a.state, load), DREGS_OK);
    dregs_residue_next(a.state, &a.next);
    dregs_residue_floor(a.map, &a.floor);
    return a;
}

static void drop(struct answer *a)
{
    dregs_state_free(a->state);
    dregs_map_free(a->map);
    lines_free(a->line);
}

/* Three parts of 50 cm2 with 0.1 mL trapped in each, in a basket with 40 cm2 of wire; films of
 * 20 um. A load takes on
 *   parts   3 (50e-4 m2 x 20e-6 m + 1e-7 m3) = 6e-7 m3
 *   basket  40e-4 m2 x 20e-6 m              = 0.8e-7 m3, 6.8e-7 m3 with the parts'
 * The bath is 10 L with 0.1 kg/m3 of salt; of 3 x 2 mg of oil 90 % come off. */
#define BASKET                                                                                     \
    "basket,kind,load,\nbasket,parts,3,1\nbasket,area,50,cm2\nbasket,extra area,40,cm2\n"          \
    "basket,hold-up,0.1,mL\nbasket,interval,5,min\n"                                               \
    "oil,kind,solute,\noil,on parts,2,mg\nsalt,kind,solute,\n"                                     \
    "brine,kind,liquid,\nbrine,solvent,water,\nbrine,salt,100,mg/L\n"                              \
    "clean,kind,liquid,\nclean,solvent,water,\n"                                                   \
    "bath,kind,wash,\nbath,volume,10,L\nbath,liquid,brine,\nbath,removal,90,%\nbath,film,20,um\n"
#define OVEN "oven,kind,dry,\noven,temperature,70,degC\n"

START_TEST(film_and_soil_are_kept_apart)
{
    struct answer a = ask(BASKET OVEN, 1);

    ck_assert_uint_eq(a.next.solutes, 2);
    /* oil off 5.4e-6 kg in 0.010 m3: 5.4e-4 kg/m3; x 6e-7 m3 on the parts / 150e-4 m2 */
    ck_assert_near(a.next.film[0], 2.16e-8, 1e-12, "oil in the film");
    /* 0.1 kg/m3 x 6e-7 m3 / 150e-4 m2: the basket's 0.8e-7 m3 are not on the parts */
    ck_assert_near(a.next.film[1], 4e-6, 1e-12, "salt in the film");
    /* 10 % of 2e-6 kg on 50e-4 m2 */
    ck_assert_near(a.next.adhering[0], 4e-5, 1e-12, "oil that adheres");
    ck_assert_double_eq(a.next.adhering[1], 0);
    ck_assert_near(a.next.film_total, 4e-6 + 2.16e-8, 1e-12, "film");
    ck_assert_near(a.next.adhering_total, 4e-5, 1e-12, "adhering");
    ck_assert_near(a.next.total, 4e-5 + 4e-6 + 2.16e-8, 1e-12, "all");
    /* the floor: brine as it comes, and the oil that no rinsing takes off */
    ck_assert_double_eq(a.floor.film[0], 0);
    ck_assert_near(a.floor.film[1], 4e-6, 1e-12, "salt of fresh brine");
    ck_assert_near(a.floor.total, 4.4e-5, 1e-12, "floor");
    /* the film in kg per load has the basket's in it: 0.1 x 6.8e-7 */
    ck_assert_near(dregs_state_film(a.state, 1, 0), 6.8e-8, 1e-12, "salt carried");
    ck_assert_double_nan(dregs_state_concentration(a.state, 1, 1)); /* dry */
    drop(&a);
}
END_TEST

/* Of the film's 6.8e-8 kg of salt 20 % stay as they are; the rest mixes with 10 L of water. However
 * dirty the tub is, an endless flow leaves that, and so does one of 1e7 L/h. */
START_TEST(no_flow_gets_below_the_endless_one)
{
    static const char tub[] = "tub,kind,rinse,\ntub,volume,10,L\ntub,liquid,clean,\n"
                              "tub,film,20,um\ntub,exchange,80,%\n";
    double kept = 0.2 * 6.8e-8, mixed = 0.8 * 6.8e-8 / (0.01 + 0.8 * 6.8e-7);
    double salt = (kept + 0.8 * 6.8e-7 * mixed) * 6 / 6.8 / 150e-4;
    char rows[2048];
    struct answer a;
    dregs_residue rinsed;

    snprintf(rows, sizeof rows, "%s%s", BASKET, tub);
    a = ask(rows, 1000);
    ck_assert_int_eq(dregs_residue_rinsed(a.state, &rinsed), DREGS_OK);
    ck_assert_near(rinsed.film[1], salt, 1e-12, "salt");
    ck_assert_double_gt(a.next.film[1], 1.1 * salt);
    drop(&a);
    snprintf(rows, sizeof rows, "%s%stub,flow,1e7,L/h\n", BASKET, tub);
    a = ask(rows, 1000);
    ck_assert_near(a.next.film[0], rinsed.film[0], 1e-9, "oil");
    ck_assert_near(a.next.film[1], rinsed.film[1], 1e-9, "salt");
    drop(&a);
}
END_TEST

/* Trapped liquid by itself: of 3e-7 m3 in the holes, with 3e-8 kg of salt from the bath, the tub
 * reaches 30 % and the spray 10 %. Films are 190e-4 m2 x 20e-6 m = 3.8e-7 m3, of which 15/19 are on
 * the parts; the knife takes 40 % of the film and 40 % of the half of the holes that it reaches. */
#define HOLES "basket,hold-up exchange,30,%\n"
#define TUB   "tub,kind,rinse,\ntub,volume,10,L\ntub,liquid,clean,\ntub,film,20,um\n"
#define SPRAY                                                                                      \
    "spray,kind,spray,\nspray,liquid,clean,\nspray,use,1,mL\nspray,film,20,um\n"                   \
    "spray,hold-up exchange,10,%\n"

START_TEST(trapped_liquid_exchanges_by_itself)
{
    struct answer a =
        ask(BASKET HOLES TUB SPRAY OVEN "oven,blow-off,40,%\noven,hold-up exchange,50,%\n", 1);
    double d = 3.8e-7, h = 3e-7, c = (0.1 * d + 0.3 * 0.1 * h) / (0.01 + d + 0.3 * h);
    double film = c * d, trapped = 0.7 * 0.1 * h + 0.3 * h * c, wet = d + 0.1 * h;

    ck_assert_near(dregs_state_film(a.state, 1, 0), 3.8e-8, 1e-12, "film of the bath");
    ck_assert_near(dregs_state_trapped(a.state, 1, 0), 3e-8, 1e-12, "holes of the bath");
    ck_assert_near(dregs_state_concentration(a.state, 1, 0), 0.1, 1e-12, "bath");
    ck_assert_near(dregs_state_film(a.state, 1, 1), film, 1e-12, "film of the tub");
    ck_assert_near(dregs_state_trapped(a.state, 1, 1), trapped, 1e-12, "holes of the tub");
    c = (film + 0.1 * trapped) / wet * exp(-1e-6 / wet);
    film = c * d;
    trapped = 0.9 * trapped + 0.1 * h * c;
    ck_assert_near(dregs_state_film(a.state, 1, 2), film, 1e-12, "film of the spray");
    ck_assert_near(dregs_state_trapped(a.state, 1, 2), trapped, 1e-12, "holes of the spray");
    film *= 0.6 * 15 / 19;
    trapped *= 1 - 0.4 * 0.5;
    ck_assert_near(a.next.film[1], (film + trapped) / 150e-4, 1e-12, "left");
    ck_assert_double_eq(a.floor.film[1], 0);
    drop(&a);
}
END_TEST

/* A hole that nothing reaches keeps the bath's salt, whatever flows: 0.1 x 3e-7 / 150e-4. */
START_TEST(no_flow_empties_a_hole_that_it_does_not_reach)
{
    struct answer a = ask(BASKET TUB "basket,hold-up exchange,0,1\ntub,flow,1e7,L/h\n", 50);
    dregs_residue rinsed;

    ck_assert_int_eq(dregs_residue_rinsed(a.state, &rinsed), DREGS_OK);
    ck_assert_double_ge(rinsed.film[1], 2e-6);
    ck_assert_near(rinsed.film[1], 2e-6, 1e-4, "endless flow: the film adds 0.1 d2 / V");
    ck_assert_near(a.next.film[1], rinsed.film[1], 1e-9, "as good as endless");
    drop(&a);
}
END_TEST

/* Where every stage reaches as much of the holes as of the film, both are one. */
START_TEST(trapped_liquid_as_the_film_is_the_film)
{
    static const char spray[] = "spray,kind,spray,\nspray,liquid,clean,\nspray,use,2,mL\n"
                                "spray,film,20,um\ntub,exchange,80,%\n";
    char rows[2048];
    struct answer one, other;

    snprintf(rows, sizeof rows, "%s%s%s", BASKET TUB, spray, OVEN "oven,blow-off,40,%\n");
    one = ask(rows, 100);
    strcat(rows, "tub,hold-up exchange,80,%\n");
    other = ask(rows, 100);
    ck_assert_near(other.next.film[0], one.next.film[0], 1e-12, "oil");
    ck_assert_near(other.next.film[1], one.next.film[1], 1e-12, "salt");
    drop(&one);
    drop(&other);
}
END_TEST

/* Without the basket's wire and the trapped liquid: 0.1 kg/m3 x 20e-6 m. */
START_TEST(extra_area_and_hold_up_change_what_they_should)
{
    struct answer plain = ask(BASKET OVEN, 1), a;
    char rows[2048];
    double film = plain.next.film[1];

    drop(&plain);
    /* more wire: no more on the parts, whose liquid is the same */
    snprintf(rows, sizeof rows, "%s", BASKET OVEN);
    memcpy(strstr(rows, "area,40,"), "area,90,", 8);
    a = ask(rows, 1);
    ck_assert_near(a.next.film[1], film, 1e-13, "with more wire");
    ck_assert_near(dregs_state_film(a.state, 1, 0), 7.8e-8, 1e-12, "6e-7 + 90e-4 x 20e-6 m3");
    drop(&a);
    /* twice the hold-up: 3 (1e-7 + 2e-7) = 9e-7 m3 */
    memcpy(strstr(rows, "hold-up,0.1"), "hold-up,0.2", 11);
    a = ask(rows, 1);
    ck_assert_near(a.next.film[1], 6e-6, 1e-12, "0.1 x 9e-7 / 150e-4");
    drop(&a);
}
END_TEST

/* The air knife takes 40 % of the liquid, oil and salt in it, and none of what adheres. */
START_TEST(what_is_blown_off_is_not_left)
{
    struct answer a = ask(BASKET OVEN "oven,blow-off,40,%\n", 1);
    dregs_totals totals;

    ck_assert_near(a.next.film[0], 0.6 * 2.16e-8, 1e-12, "oil");
    ck_assert_near(a.next.film[1], 0.6 * 4e-6, 1e-12, "salt");
    ck_assert_near(a.next.adhering[0], 4e-5, 1e-12, "adhering");
    ck_assert_near(a.floor.film[1], 0.6 * 4e-6, 1e-12, "the floor is blown off too");
    ck_assert_int_eq(dregs_map_totals(a.map, 1, 1, &totals), DREGS_OK);
    ck_assert_near(totals.blown_off, 0.4 * 6.8e-8, 1e-12, "from parts and basket");
    ck_assert_near(totals.carried, 0.6 * 6.8e-8, 1e-12, "carried");
    drop(&a);
    a = ask(BASKET OVEN "oven,blow-off,40,%\nmore,kind,dry,\nmore,temperature,90,degC\n"
                        "more,blow-off,50,%\n",
            1);
    ck_assert_near(a.next.film[1], 0.6 * 0.5 * 4e-6, 1e-12, "two air knives");
    ck_assert_near(a.floor.film[1], 0.6 * 0.5 * 4e-6, 1e-12, "the floor under two");
    drop(&a);
}
END_TEST

/* Dried in the middle: what is left then enters the rinse as a solid, 25 % of the film aside.
 *   salt on load  0.1 x 6.8e-7 x 0.75 = 5.1e-8 kg, into 10 L of clean water: 5.1e-6 kg/m3
 *   on the parts  5.1e-6 x 6e-7 / 150e-4
 *   oil           5.4e-4 x 6.8e-7 x 0.75 = 2.754e-10 kg; half of 6e-7 kg that adheres comes off:
 *                 (2.754e-10 + 3e-7) / 0.010 m3, x 6e-7 / 150e-4 */
START_TEST(a_film_dried_in_mid_line_enters_the_next_tank)
{
    struct answer a = ask(BASKET "knife,kind,dry,\nknife,temperature,40,degC\nknife,blow-off,25,%\n"
                                 "rinse,kind,rinse,\nrinse,volume,10,L\nrinse,liquid,clean,\n"
                                 "rinse,film,20,um\nrinse,removal oil,50,%\n" OVEN,
                          1);

    ck_assert_near(a.next.film[1], 5.1e-6 * 6e-7 / 150e-4, 1e-12, "salt");
    ck_assert_near(a.next.film[0], (2.754e-10 + 3e-7) / 0.010 * 6e-7 / 150e-4, 1e-12, "oil");
    ck_assert_near(a.next.adhering[0], 3e-7 / 150e-4, 1e-12, "oil that adheres");
    ck_assert_double_eq(a.floor.film[1], 0);
    ck_assert_near(a.floor.total, 2e-5, 1e-12, "floor");
    drop(&a);
}
END_TEST

/* No tank at all. Three parts of 80 cm2, films of 30 um: 7.2e-7 m3 from the parts.
 *   first   0.5 L with 40 mg/L onto dry parts: the film is what was sprayed, 0.04 kg/m3
 *   second  1.5 mL with 5 mg/L, of which 60 % meet the film: 0.005 + 0.035 exp(-0.6 x 1.5 / 0.72)
 */
static const char sprays[] =
    "rack,kind,load,\nrack,parts,3,1\nrack,area,80,cm2\nrack,interval,2,min\n"
    "oil,kind,solute,\noil,on parts,0.24,mg\nsalt,kind,solute,\n"
    "tap,kind,liquid,\ntap,solvent,water,\ntap,salt,40,mg/L\n"
    "di,kind,liquid,\ndi,solvent,water,\ndi,salt,5,mg/L\n"
    "one,kind,spray,\none,liquid,tap,\none,use,0.5,L\none,film,30,um\n"
    "two,kind,spray,\ntwo,liquid,di,\ntwo,use,1.5,mL\ntwo,mixing,60,%\ntwo,film,30,um\n";

START_TEST(a_line_of_sprays_alone)
{
    struct answer a = ask(sprays, 1), later = ask(sprays, 987654321);
    double expected = (0.005 + 0.035 * exp(-1.25)) * 30e-6;
    dregs_totals totals;
    dregs_worst worst;

    ck_assert_uint_eq(dregs_line_tanks(a.line), 0);
    ck_assert_near(a.next.film[1], expected, 1e-12, "salt");
    ck_assert_double_eq(a.next.film[0], 0); /* a spray takes no soil off */
    ck_assert_near(a.next.adhering[0], 0.24e-6 / 80e-4, 1e-12, "oil");
    ck_assert_near(a.floor.film[1], 0.005 * 30e-6, 1e-12, "the floor: the last spray's water");
    ck_assert_double_eq(later.next.total, a.next.total);
    ck_assert_int_eq(dregs_state_periodic(later.state), DREGS_OK);
    ck_assert_int_eq(dregs_residue_worst(a.map, 1, DREGS_NO_END, &worst), DREGS_OK);
    ck_assert_near(worst.residue, expected, 1e-12, "every load is the worst");
    ck_assert_int_eq(dregs_residue_worst(a.map, DREGS_EVERY_SOLUTE, 1000000, &worst), DREGS_OK);
    ck_assert_near(worst.residue, expected + 3e-5, 1e-12, "with the oil");
    ck_assert_int_eq(dregs_map_totals(a.map, 1, 1000, &totals), DREGS_OK);
    /* sprayed 1000 (0.04 x 0.5e-3 + 0.005 x 1.5e-6) kg */
    ck_assert_near(totals.sprayed, 0.0200075, 1e-11, "sprayed");
    ck_assert_near(totals.runoff + totals.carried, 0.0200075, 1e-11, "run off and carried");
    ck_assert_near(totals.carried, 1000 * expected * 240e-4, 1e-11, "carried");
    drop(&a);
    drop(&later);
}
END_TEST

/* One part of 7 cm2 in one tank of 0.35 L, film 10 um: 7e-9 m3; load 3 of soil that comes off.
 *   load 1  m = s;  c1 = s / V, the film D c1 leaves, water takes its place
 *   load 2  m = s (1 - D/V) + s;  load 3  m = s (q^2 + q + 1), q = 1 - D/V = 1 - 2e-5 */
START_TEST(a_single_part)
{
    struct answer a = ask("pin,kind,load,\npin,parts,1,1\npin,area,7,cm2\npin,interval,90,s\n"
                          "wax,kind,solute,\nwax,on parts,0.3,mg\n"
                          "clean,kind,liquid,\nclean,solvent,isopropanol,\n"
                          "cup,kind,wash,\ncup,volume,0.35,L\ncup,liquid,clean,\ncup,film,10,um\n"
                          "cup,removal,100,%\n",
                          3);
    const double q = 1 - 2e-5;

    ck_assert_near(a.next.total, 0.3e-6 * (q * q + q + 1) / 0.35e-3 * 10e-6, 1e-12, "load 3");
    ck_assert_double_eq(a.next.adhering_total, 0);
    ck_assert_double_eq(a.floor.total, 0);
    drop(&a);
}
END_TEST

/* Sums, and no load of a line that only gets dirtier is below its floor. */
START_TEST(sums_of_random_lines)
{
    unsigned number, s;

    for (number = 5000; number < 5100; number++) {
        struct answer a;
        double film = 0, adhering = 0;
        a.line = lines_random_either(number, &text);
        a.map = lines_map(a.line);
        a.state = lines_state(a.map);
        ck_assert_int_eq(dregs_state_before(a.state, 77), DREGS_OK);
        dregs_residue_next(a.state, &a.next);
        dregs_residue_floor(a.map, &a.floor);
        ck_assert_uint_eq(a.next.solutes, dregs_line_solutes(a.line));
        for (s = 0; s < a.next.solutes; s++) {
            film += a.next.film[s];
            adhering += a.next.adhering[s];
            ck_assert(a.next.film[s] >= 0 && a.next.adhering[s] >= 0);
            ck_assert_double_eq(a.floor.adhering[s], a.next.adhering[s]);
        }
        ck_assert_near(a.next.film_total, film, 1e-13, "line %u, films", number);
        ck_assert_near(a.next.adhering_total, adhering, 1e-13, "line %u, adhering", number);
        ck_assert_near(a.next.total, film + adhering, 1e-13, "line %u, total", number);
        drop(&a);
    }
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("residue");
    TCase *c = tcase_create("by hand");

    tcase_set_timeout(c, 60);
    suite_add_tcase(s, c);
    tcase_add_test(c, film_and_soil_are_kept_apart);
    tcase_add_test(c, extra_area_and_hold_up_change_what_they_should);
    tcase_add_test(c, no_flow_gets_below_the_endless_one);
    tcase_add_test(c, trapped_liquid_exchanges_by_itself);
    tcase_add_test(c, no_flow_empties_a_hole_that_it_does_not_reach);
    tcase_add_test(c, trapped_liquid_as_the_film_is_the_film);
    tcase_add_test(c, what_is_blown_off_is_not_left);
    tcase_add_test(c, a_film_dried_in_mid_line_enters_the_next_tank);
    tcase_add_test(c, a_line_of_sprays_alone);
    tcase_add_test(c, a_single_part);
    tcase_add_test(c, sums_of_random_lines);
    return s;
}

int main(void)
{
    return run(suite());
}
