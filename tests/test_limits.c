/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_limits.c: cleanliness levels and grades of water as they are in print, and the level that a
 * residue meets at each limit and beside it.
 */
#include "check_main.h"
#include "dregs/limits.h"

#include <stdint.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

/* MIL-STD-1246C (1994) and IEST-STD-CC1246D (2002), non-volatile residue in mg per 0.1 m2; the
 * second names are those of revision E (2013). 1 mg per 0.1 m2 is 1e-6 kg / 0.1 m2. */
static const struct {
    const char *name, *later;
    double mg, kg_m2;
} printed[] = {
    {"A/100", "R1E-2", 0.01, 1e-7}, {"A/50", "R2E-2", 0.02, 2e-7}, {"A/20", "R5E-2", 0.05, 5e-7},
    {"A/10", "R1E-1", 0.1, 1e-6},   {"A/5", "R2E-1", 0.2, 2e-6},   {"A/2", "R5E-1", 0.5, 5e-6},
    {"A", "R1", 1, 1e-5},           {"B", "R2", 2, 2e-5},          {"C", "R3", 3, 3e-5},
    {"D", "R4", 4, 4e-5},           {"E", "R5", 5, 5e-5},          {"F", "R7", 7, 7e-5},
    {"G", "R10", 10, 1e-4},         {"H", "R15", 15, 1.5e-4},      {"J", "R25", 25, 2.5e-4},
};
enum { LEVELS = COUNT(printed) };

START_TEST(levels_in_print)
{
    size_t i;

    for (i = 0; i < LEVELS; i++) {
        const dregs_level *level = dregs_level_at(i);
        ck_assert_ptr_nonnull(level);
        ck_assert_str_eq(level->name, printed[i].name);
        ck_assert_str_eq(level->later, printed[i].later);
        ck_assert_double_eq(level->as_printed, printed[i].mg);
        ck_assert_double_eq(level->most, printed[i].kg_m2);
    }
    ck_assert_ptr_null(dregs_level_at(LEVELS));
    ck_assert_ptr_null(dregs_level_at(SIZE_MAX));
}
END_TEST

START_TEST(levels_by_either_name)
{
    static const char *const unknown[] = {"", "I", "K", "a", "A/1", "A/", "R", "R6", "R1E-3", "A "};
    size_t i;

    for (i = 0; i < LEVELS; i++) {
        ck_assert_ptr_eq(dregs_level_named(printed[i].name), dregs_level_at(i));
        ck_assert_ptr_eq(dregs_level_named(printed[i].later), dregs_level_at(i));
    }
    for (i = 0; i < COUNT(unknown); i++)
        ck_assert_msg(!dregs_level_named(unknown[i]), "'%s'", unknown[i]);
}
END_TEST

/* The limit itself is met; the next double above it is not. */
START_TEST(levels_reached_at_and_beside_each_limit)
{
    size_t i;

    for (i = 0; i < LEVELS; i++) {
        const dregs_level *level = dregs_level_at(i);
        double limit = printed[i].kg_m2;
        ck_assert_ptr_eq(dregs_level_reached(limit), level);
        ck_assert_ptr_eq(dregs_level_reached(nextafter(limit, 0)), level);
        /* the next level; NULL above the last */
        ck_assert_ptr_eq(dregs_level_reached(nextafter(limit, 1)), dregs_level_at(i + 1));
        if (i > 0)
            ck_assert_ptr_eq(dregs_level_reached((printed[i - 1].kg_m2 + limit) / 2), level);
    }
}
END_TEST

START_TEST(levels_reached_by_what_is_no_residue)
{
    static const double none[] = {-1e-300, -1, NAN, HUGE_VAL, -HUGE_VAL, 1};
    size_t i;

    ck_assert_ptr_eq(dregs_level_reached(0), dregs_level_at(0));
    for (i = 0; i < COUNT(none); i++)
        ck_assert_msg(!dregs_level_reached(none[i]), "%g kg/m2", none[i]);
}
END_TEST

/* L02 of checks.csv, the gravimetric definition: (0.85 - 0.12) mg on 450 cm2 are 1.622 mg per
 * 0.1 m2, which is above the 1 of A and below the 2 of B. */
START_TEST(a_weighed_residue)
{
    ck_assert_str_eq(dregs_level_reached((0.85e-6 - 0.12e-6) / 450e-4)->name, "B");
}
END_TEST

/* ASTM D1193-99 and ISO 3696:1987: uS/cm at 25 degC and mg/kg; NaN where no limit is set. */
START_TEST(grades_of_water_in_print)
{
    static const struct {
        const char *name;
        double conductivity, residue;
    } known[] = {
        {"ASTM D1193 type I", 0.056, NAN},  {"ASTM D1193 type II", 1, NAN},
        {"ASTM D1193 type III", 0.25, NAN}, {"ASTM D1193 type IV", 5, NAN},
        {"ISO 3696 grade 1", 0.1, NAN},     {"ISO 3696 grade 2", 1, 1},
        {"ISO 3696 grade 3", 5, 2},
    };
    size_t i;

    for (i = 0; i < COUNT(known); i++) {
        const dregs_water_grade *grade = dregs_water_grade_at(i);
        ck_assert_ptr_nonnull(grade);
        ck_assert_str_eq(grade->name, known[i].name);
        ck_assert_near(grade->conductivity * 1e4, known[i].conductivity, 1e-15, "%s", grade->name);
        if (isnan(known[i].residue))
            ck_assert_double_nan(grade->residue);
        else
            ck_assert_near(grade->residue * 1e6, known[i].residue, 1e-15, "%s", grade->name);
    }
    ck_assert_ptr_null(dregs_water_grade_at(COUNT(known)));
    ck_assert_ptr_null(dregs_water_grade_at(SIZE_MAX));
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"levels",
         {levels_in_print, levels_by_either_name, levels_reached_at_and_beside_each_limit,
          levels_reached_by_what_is_no_residue, a_weighed_residue}},
        {"water", {grades_of_water_in_print}},
    };

    return run_cases("limits", cases, sizeof cases / sizeof cases[0]);
}
