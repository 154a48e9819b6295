/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse_coverage.c: prints how often the 95 % interval of the loads left holds the true number, for
 * every case of coverage.c: make reuse-coverage [LOGS=200]. Not part of the tests: a minute.
 *
 *   reuse_coverage [LOGS [CASE]]
 */
#include "coverage.h"
#include "dregs/number.h"

#include <stdlib.h>

static unsigned number(const char *text, unsigned otherwise)
{
    double value;

    return text && !dregs_number_read(text, &value) && value >= 0 && value < 1e6 ? (unsigned)value
                                                                                 : otherwise;
}

static double percent(unsigned part, unsigned of)
{
    return of ? 100.0 * part / of : 0.0;
}

static unsigned logs_each, only;

START_TEST(coverage)
{
    unsigned i;

    printf("%u simulated logs of each case, 3 %% noise, 18 to 28 degC\n", logs_each);
    printf("%-45s %9s %9s %9s %9s %9s %9s %9s %9s\n", "", "covered", "unsafe", "width /", "measure",
           "check", "change", "by meter", "by best");
    printf("%-45s %9s %9s %9s %9s %9s %9s %9s %9s\n", "", "%", "%", "truth", "again %", "log %",
           "found %", "past %", "past %");
    for (i = 0; i < COVERAGE_CASES; i++) {
        struct coverage c;
        if (only < COVERAGE_CASES && only != i)
            continue;
        c = coverage_of(&coverage_cases[i], 20265 + i, logs_each);
        printf("%-45s %9.1f %9.1f %9.2f %9.1f %9.1f %9.1f %9.1f %9.1f\n", coverage_cases[i].name,
               percent(c.covered, c.answered), percent(c.unsafe, c.answered), c.width,
               percent(c.again, c.answered), percent(c.logs - c.answered, c.logs),
               percent(c.changes, c.logs), percent(c.past, c.dumped),
               percent(c.past_best, c.dumped));
        fflush(stdout);
    }
}
END_TEST

int main(int argc, char **argv)
{
    const TTest *const tests[] = {coverage};

    logs_each = number(argc > 1 ? argv[1] : NULL, 200);
    only = number(argc > 2 ? argv[2] : NULL, COVERAGE_CASES);
    return logs_run("reuse_coverage", tests, 1);
}
