/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_readings_more.c: readings that no meter shows as they are: a dish that was weighed, a share
 * by mass. Expected values by exact arithmetic, the density of isopropanol by the CRC Handbook of
 * Chemistry and Physics (0.7809 g/cm3 at 25 degC).
 */
#include "check_main.h"
#include "dregs/readings.h"
#include "lines.h"

#include <string.h>

#define COUNT(table) (int)(sizeof table / sizeof table[0])

static dregs_line *line;
static dregs_readings *readings;
static dregs_faults faults;

static const char bench[] =
    "item,property,value,unit\n"
    "rack,kind,load,\nrack,parts,8,1\nrack,area,50,cm2\nrack,interval,10,min\n"
    "grease,kind,solute,\ngrease,on parts,2,mg\nsolids,kind,solute,\n"
    "ipa,kind,liquid,\nipa,solvent,isopropanol,\nipa,solids,1,mg/100 mL\n"
    "half,kind,liquid,\nhalf,solvent,isopropanol,\nhalf,solvent share,50,%\n"
    "shade,kind,calibration,\nshade,solute,grease,\n"
    "shade,reading 1,0,of 5\nshade,concentration 1,0,mg/L\n"
    "shade,reading 2,5,of 5\nshade,concentration 2,500,mg/L\n"
    "dip,kind,wash,\ndip,volume,0.6,L\ndip,liquid,ipa,\ndip,film,30,um\ndip,removal,99,%\n"
    "dip,temperature,25,degC\n"
    "clear,kind,rinse,\nclear,volume,0.6,L\nclear,liquid,ipa,\nclear,film,30,um\n"
    "clear,temperature,25,degC\n"
    "mixed,kind,rinse,\nmixed,volume,0.6,L\nmixed,liquid,half,\nmixed,film,30,um\n";

#define HEAD "time,stage,loads,quantity,value,unit,tare,gross,blank,sample,resolution,spread\n"
#define DISH "2026-03-02T08:00,clear,4,non-volatile residue,,"

static void setup(void)
{
    line = lines_read(bench);
    readings = NULL;
}

static void teardown(void)
{
    dregs_readings_free(readings);
    readings = NULL;
    lines_free(line);
}

static dregs_status read_rows(const char *rows)
{
    static char text[4096];

    snprintf(text, sizeof text, HEAD "%s", rows);
    dregs_readings_free(readings);
    memset(&faults, 0, sizeof faults);
    readings = dregs_readings_new("own.csv", line, &faults);
    ck_assert_ptr_nonnull(readings);
    if (dregs_readings_feed(readings, text, strlen(text)))
        return DREGS_BAD_DATA;
    return dregs_readings_end(readings);
}

static const dregs_reading *only(const char *rows)
{
    dregs_status status = read_rows(rows);

    ck_assert_msg(status == DREGS_OK, "%s: %s", rows, faults.fault[0].text);
    ck_assert_uint_eq(dregs_readings_kept(readings), 1);
    return dregs_readings_at(readings, 0);
}

/* ---- values ---- */

static const struct {
    const char *row;
    double value, least, sd; /* mg/L */
    int by_mass;
} weighed[] = {
    /* 3.7 mg in 50 mL; two weighings to 0.1 mg: sqrt(2/12) 0.1 mg / 50 mL */
    {DISH "mg/L,24.3151 g,24.3188 g,,50 mL,0.1 mg", 74, 0.81649658, 0, 0},
    /* less 0.2 mg that an empty dish gained: two weighings more */
    {DISH "mg/L,24.3151 g,24.3188 g,0.2 mg,50 mL,0.1 mg", 70, 1.15470054, 0, 0},
    {DISH "mg/L,24315.1 mg,24.3188 g,-0.3 mg,50 mL,,3%", 80, 0, 2.4, 0},
    /* told in another unit, or in none: the same */
    {DISH "mg/100 mL,24.3151 g,24.3188 g,,50 mL,,0.1", 74, 0, 1, 0},
    {DISH ",24.3151 g,24.3188 g,,50 mL", 74, 0, 0, 0},
    /* the sample by mass: 3.7 mg in 39.045 g are 3.7 mg in 50 mL at 0.7809 g/cm3 */
    {DISH "mg/L,24.3151 g,24.3188 g,,39.045 g", 74, 0, 0, 1},
    /* a digit of the balance lost by chance */
    {DISH "mg/L,24.3151 g,24.315 g,,50 mL,0.1 mg", -2, 0.81649658, 0, 0},
    /* a meter's own last digit */
    {"2026-03-02T08:00,clear,4,non-volatile residue,74,mg/L,,,,,2", 74, 0.57735027, 0, 0},
    /* by mass: 100 mg/kg of 780.9 g/L */
    {"2026-03-02T08:00,clear,4,non-volatile residue,100,ppm", 78.09, 0, 0, 1},
    {"2026-03-02T08:00,clear,4,concentration grease,100,mg/kg", 78.09, 0, 0, 1},
    /* steps of a colour: within half a step, unless the row says better; its "mg/L" are steps */
    {"2026-03-02T08:00,clear,4,shade,2,of 5", 2e3, 288.67513, 0, 0},
    {"2026-03-02T08:00,clear,4,shade,2.5,of 5,,,,,0.5", 2.5e3, 144.33757, 0, 0},
    /* on parts, told as mg/L here, so that ug/cm2 = 1e-5 kg/m2 are 0.01; 50 cm2 a part */
    {"2026-03-02T08:00,clear,4,residue,3.5,ug/cm2", 0.035, 0, 0, 0},
    {"2026-03-02T08:00,clear,4,residue grease,0.25,mg", 0.05, 0, 0, 0},
    {"2026-03-02T08:00,clear,4,residue,0.25,mg/part", 0.05, 0, 0, 0},
    {"2026-03-02T08:00,clear,4,residue,250,ug per part", 0.05, 0, 0, 0},
    {"2026-03-02T08:00,clear,4,non-volatile residue,7.4,ug/mL", 7.4, 0, 0, 0},
};

START_TEST(what_a_row_comes_to)
{
    const dregs_reading *reading = only(weighed[_i].row);

    /* two tables of the density of isopropanol, or exact */
    ck_assert_near(reading->value * 1e3, weighed[_i].value, weighed[_i].by_mass ? 2e-3 : 1e-11,
                   "%s", weighed[_i].row);
    ck_assert_near(reading->least * 1e3, weighed[_i].least, 1e-7, "least of %s", weighed[_i].row);
    ck_assert_near(reading->sd * 1e3, weighed[_i].sd, 1e-7, "spread of %s", weighed[_i].row);
}
END_TEST

/* A share by mass is one of the stage's own liquid, and says with which density. */
START_TEST(by_mass_is_of_the_stage)
{
    const dregs_reading *reading = only("2026-03-02T08:00,dip,4,non-volatile residue,100,ppm\n");

    ck_assert_near(dregs_readings_unit_density(readings, reading->unit), 780.9, 2e-3, "density");
    reading = only("2026-03-02T08:00,dip,4,non-volatile residue,100,mg/L\n");
    ck_assert_double_eq(dregs_readings_unit_density(readings, reading->unit), 0);
}
END_TEST

/* ---- faults ---- */

static const struct {
    const char *row, *says;
} bad[] = {
    {DISH "mg/L,,24.3188 g,,50 mL", "tare: nothing; a weighing has tare, gross and sample"},
    {DISH "mg/L,24.3151 g,,,50 mL", "gross: nothing"},
    {DISH "mg/L,24.3151 g,24.3188 g,,", "sample missing: it is a volume or a mass"},
    {DISH "mg/L,24.3151,24.3188 g,,50 mL",
     "tare: '24.3151': 24.3151 has no unit, write for example '24.3151 g'"},
    {DISH "mg/L,24.3151 g,24.3188 mL,,50 mL", "gross: '24.3188 mL'"},
    {DISH "mg/L,-24.3151 g,24.3188 g,,50 mL", "tare: '-24.3151 g' is no mass of a dish"},
    {DISH "mg/L,24.3151 g,24.3188 g,,50 cm2", "sample: '50 cm2'"},
    {DISH "mg/L,24.3151 g,24.3188 g,,0 mL", "sample: '0 mL' is no amount"},
    {DISH "mg/L,24.3188 g,24.3151 g,,50 mL,0.1 mg",
     "the dish with its residue is 3.7 mg lighter than its tare"},
    {DISH "mg/L,24.3151 g,24.3150 g,,50 mL", "0.1 mg lighter than its tare"},
    {DISH "mg/L,24.3151 g,24.3188 g,9 mg,50 mL", "5.3 mg lighter than its tare and blank"},
    {DISH "uS/cm,24.3151 g,24.3188 g,,50 mL", "unit 'uS/cm'"},
    {"2026-03-02T08:00,clear,4,non-volatile residue,74,mg/L,24.3151 g,24.3188 g,,50 mL",
     "in place of its value"},
    {"2026-03-02T08:00,clear,4,shade,,of 5,24.3151 g,24.3188 g,,50 mL", "are the weighings of a"},
    {"2026-03-02T08:00,clear,4,non-volatile residue,74,mg/L,,,,,-2", "resolution: '-2'"},
    {"2026-03-02T08:00,mixed,4,non-volatile residue,74,ppm",
     "unit 'ppm', by mass: the density of half, a mixture, is not known"},
    {"2026-03-02T08:00,clear,4,conductivity,74,ppm", "what a pen shows as dissolved solids"},
    {"2026-03-02T08:00,clear,4,non-volatile residue,74,", "unit missing"},
};

START_TEST(refused_rows)
{
    ck_assert_int_eq(read_rows(bad[_i].row), DREGS_BAD_DATA);
    ck_assert_msg(faults.count == 1 && faults.fault[0].line == 2 &&
                      strstr(faults.fault[0].text, bad[_i].says),
                  "%s: %u faults, line %lu: %s", bad[_i].row, faults.count, faults.fault[0].line,
                  faults.fault[0].text);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("readings_more");
    TCase *tcase = tcase_create("readings_more");

    tcase_add_checked_fixture(tcase, setup, teardown);
    tcase_add_loop_test(tcase, what_a_row_comes_to, 0, COUNT(weighed));
    tcase_add_test(tcase, by_mass_is_of_the_stage);
    tcase_add_loop_test(tcase, refused_rows, 0, COUNT(bad));
    suite_add_tcase(suite, tcase);
    return run(suite);
}
