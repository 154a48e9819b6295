/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size.c: what bench/run.sh measures of the search for the rinsing that meets a target.
 *
 *   bench-size one FILE STAGE PROPERTY   one property; ms, and the value in SI units
 *   bench-size table FILE MOST           all layouts of 1 to MOST rinses; ms, and how many meet it
 *   bench-size dumps FILE STAGE...       the loads between dumps of these; ms, and L per load
 *
 * The file is read once before the clock runs; the answers are the whole of dregs_size and
 * dregs_size_layout, with every trial line made and judged. Median of some runs.
 */
#include "dregs/size.h"
#include "clock.h"
#include "dregs/dregs.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TIMES_ONE = 21, TIMES_TABLE = 3 };

static int one(const dregs_line *line, const char *stage, const char *property)
{
    dregs_sized *sized = NULL;
    char message[DREGS_SIZE_MESSAGE] = "", number[DREGS_NUMBER_TEXT];
    double value = NAN;
    dregs_criterion criterion = {DREGS_CRITERION_EVER, 0};
    double taken[TIMES_ONE];
    int i;

    for (i = 0; i < TIMES_ONE; i++) {
        dregs_varied *varied = dregs_varied_new(line);
        int failed;
        taken[i] = now();
        failed = !varied || dregs_varied_add(varied, property, &stage, 1, NAN, NAN, message) ||
                 dregs_size(varied, criterion, 0, &sized, message) || !dregs_sized_feasible(sized);
        taken[i] = now() - taken[i];
        if (failed)
            fprintf(stderr, "bench-size: %s\n", *message ? message : "the target cannot be met");
        else
            value = dregs_sized_value(sized, 0);
        dregs_sized_free(sized);
        dregs_varied_free(varied);
        sized = NULL;
        if (failed)
            return 1;
    }
    printf("%.4f %s\n", median(taken, TIMES_ONE) * 1e3, dregs_number_exact(number, value));
    return 0;
}

static int dumps(const dregs_line *line, const char *const *stage, unsigned stages)
{
    dregs_criterion criterion = {DREGS_CRITERION_EVER, 0};
    char message[DREGS_SIZE_MESSAGE] = "", number[DREGS_NUMBER_TEXT];
    double taken[TIMES_TABLE], litres = NAN;
    unsigned i, k;

    for (i = 0; i < TIMES_TABLE; i++) {
        dregs_varied *varied = dregs_varied_new(line);
        dregs_sized *sized = NULL;
        int failed = !varied;
        taken[i] = now();
        for (k = 0; k < stages && !failed; k++)
            failed = dregs_varied_add(varied, "dump every", stage + k, 1, NAN, NAN, message) != 0;
        failed = failed || dregs_size(varied, criterion, 0, &sized, message) ||
                 !dregs_sized_feasible(sized);
        taken[i] = now() - taken[i];
        if (failed)
            fprintf(stderr, "bench-size: %s\n", *message ? message : "the target cannot be met");
        else
            litres = dregs_sized_use(sized)->bought * 1e3;
        dregs_sized_free(sized);
        dregs_varied_free(varied);
        if (failed)
            return 1;
    }
    printf("%.4f %s\n", median(taken, TIMES_TABLE) * 1e3, dregs_number_exact(number, litres));
    return 0;
}

static int table(const dregs_line *line, unsigned most)
{
    char message[DREGS_SIZE_MESSAGE];
    dregs_criterion criterion = {DREGS_CRITERION_EVER, 0};
    double taken[TIMES_TABLE];
    unsigned n, met = 0;
    int i, layout;

    for (i = 0; i < TIMES_TABLE; i++) {
        met = 0;
        taken[i] = now();
        for (layout = 0; layout < DREGS_LAYOUTS; layout++)
            for (n = 1; n <= most; n++) {
                dregs_sized *sized = NULL;
                if (!dregs_size_layout(line, (dregs_layout)layout, n, criterion, &sized, message))
                    met += dregs_sized_feasible(sized) != 0;
                dregs_sized_free(sized);
            }
        taken[i] = now() - taken[i];
    }
    printf("%.4f %u\n", median(taken, TIMES_TABLE) * 1e3, met);
    return met == 0;
}

int main(int argc, char **argv)
{
    static dregs_faults faults;
    dregs_liquids *liquids;
    dregs_line *line = NULL;
    FILE *file;
    int failed = 1;

    gsl_set_error_handler_off();
    if (!(argc == 5 && strcmp(argv[1], "one") == 0) &&
        !(argc > 3 && argc <= 3 + DREGS_VARIED_MOST && strcmp(argv[1], "dumps") == 0) &&
        !(argc == 4 && strcmp(argv[1], "table") == 0)) {
        fprintf(stderr, "usage: bench-size one FILE STAGE PROPERTY, bench-size table FILE MOST, "
                        "bench-size dumps FILE STAGE...\n");
        return 2;
    }
    liquids = dregs_liquids_new();
    file = fopen(argv[2], "rb");
    if (!file)
        perror(argv[2]);
    else if (!liquids || dregs_line_read(argv[2], file, liquids, &line, &faults))
        fprintf(stderr, "bench-size: %s: %s\n", argv[2],
                faults.count ? faults.fault[0].text : "out of memory");
    else if (strcmp(argv[1], "one") == 0)
        failed = one(line, argv[3], argv[4]);
    else if (strcmp(argv[1], "dumps") == 0)
        failed = dumps(line, (const char *const *)argv + 3, (unsigned)argc - 3);
    else
        failed = table(line, (unsigned)strtoul(argv[3], NULL, 10));
    if (file)
        fclose(file);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return failed;
}
