/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* check_main.h: what the Check programs share. */
#ifndef DREGS_CHECK_MAIN_H
#define DREGS_CHECK_MAIN_H

#define CK_FLOATING_DIG 17
#include <check.h>
#include <math.h>
#include <stdio.h>

/* The exit status of a program that was skipped as a whole: under TAP it says so itself, and any
 * status but 0 is an error. */
enum { SKIP_STATUS = 0 };

/* Fails unless |got - expected| <= relative * |expected|; an expected 0 must be met exactly, and
 * NaN never is. The rest is a printf format and its arguments that say what was compared. */
#define ck_assert_near(got, expected, relative, ...)                                               \
    do {                                                                                           \
        double near_got = (got), near_expected = (expected), near_relative = (relative);           \
        char near_what[256];                                                                       \
        snprintf(near_what, sizeof near_what, __VA_ARGS__);                                        \
        ck_assert_msg(fabs(near_got - near_expected) <= near_relative * fabs(near_expected),       \
                      "%s: got %.*g, expected %.*g within %g of it", near_what, CK_FLOATING_DIG,   \
                      near_got, CK_FLOATING_DIG, near_expected, near_relative);                    \
    } while (0)

/* Runs the suite with TAP on stdout. Always 0: a nonzero status would count a failure twice. */
int run(Suite *suite);

/* Test cases and their tests, and a program that is these. */
struct cases {
    const char *name;
    const TTest *tests[16];
};
int run_cases(const char *name, const struct cases *cases, size_t count);

#endif
