/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* ensemble.c: what bench/run.sh measures of many draws of a line.
 *
 *   bench-ensemble draws FILE DRAWS     ms of processor time on one thread: what the worst load
 *                                       leaves, for each draw; then the share that meets the target
 *                                       and the 5, 50 and 95 % points, kg/m2
 *   bench-ensemble values FILE DRAWS    for each draw a line: what is drawn (SI), in the order of
 *                                       the file, and what the worst load leaves, kg/m2; above it
 *                                       a line with the rows, ITEM.PROPERTY or LIQUID.PROPERTY
 */
#include "clock.h"
#include "dregs/dregs.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* s of this process's processor time: other processes do not count */
static double used(void)
{
    struct timespec at;

    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &at);
    return (double)at.tv_sec + (double)at.tv_nsec * 1e-9;
}

static dregs_status ask(void *mine, const dregs_line *drawn, double *figures)
{
    dregs_map *map = NULL;
    dregs_worst worst = {0};
    dregs_status status = dregs_map_new(drawn, &map);

    (void)mine;
    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst);
    if (!status)
        figures[0] = worst.residue;
    dregs_map_free(map);
    return status;
}

/* The residue that the target allows, kg/m2. */
static double limit_of(const dregs_line *line)
{
    dregs_value value = {.si = NAN};
    unsigned row;

    for (row = 1; row <= dregs_line_rows(line); row++)
        if (strcmp(dregs_line_row(line, row)->property, "residue") == 0)
            (void)dregs_line_value(line, row, &value);
    return value.si;
}

static int draws(const dregs_ensemble *ensemble, uint64_t count)
{
    enum { TIMES = 3 };
    static const double shares[] = {0.05, 0.5, 0.95};
    const double limit = limit_of(dregs_ensemble_line(ensemble));
    dregs_ensemble_request request;
    dregs_ensemble_result *result = NULL;
    dregs_ensemble_estimate at;
    double taken[TIMES];
    size_t i;

    dregs_ensemble_request_init(&request);
    request.draws = count;
    request.threads = 1;
    request.figures = 1;
    request.most = &limit;
    request.ask = ask;
    for (i = 0; i < TIMES; i++) {
        double begin = used();
        dregs_ensemble_result_free(result);
        if (dregs_ensemble_run(ensemble, &request, &result))
            return 1;
        taken[i] = used() - begin;
    }
    (void)dregs_ensemble_met(result, 0, &at);
    printf("%.3f %.6f", median(taken, TIMES) * 1e3, at.value);
    for (i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        if (dregs_ensemble_quantile(result, 0, shares[i], &at))
            return 1;
        printf(" %.6g", at.value);
    }
    putchar('\n');
    dregs_ensemble_result_free(result);
    return 0;
}

static int values(const dregs_ensemble *ensemble, uint64_t count)
{
    const dregs_line *stated = dregs_ensemble_line(ensemble);
    unsigned rows = dregs_ensemble_rows(ensemble), i;
    char number[DREGS_NUMBER_TEXT];
    uint64_t draw;

    for (i = 0; i < rows; i++) {
        const dregs_drawn *drawn = dregs_ensemble_row(ensemble, i);
        const dregs_row *row = dregs_line_row(stated, drawn->row);
        printf("%s%s.%s", i ? "," : "", row ? row->item : drawn->liquid,
               row ? row->property : dregs_property_name(drawn->property));
    }
    putchar('\n');
    for (draw = 0; draw < count; draw++) {
        dregs_line *line = NULL;
        double left;
        dregs_status status = dregs_ensemble_drawn(ensemble, draw, &line, NULL);
        if (!status)
            status = ask(NULL, line, &left);
        dregs_line_free(line);
        if (status)
            return 1;
        for (i = 0; i < rows; i++)
            printf("%s,", dregs_number_exact(number, dregs_ensemble_draw(ensemble, draw, i)));
        puts(dregs_number_exact(number, left));
    }
    return 0;
}

int main(int argc, char **argv)
{
    static dregs_faults faults;
    dregs_liquids *liquids = dregs_liquids_new();
    FILE *file = argc == 4 ? fopen(argv[2], "rb") : NULL;
    dregs_line *line = NULL;
    dregs_ensemble *ensemble = NULL;
    int failed = 1;

    gsl_set_error_handler_off();
    if (!file)
        fprintf(stderr, "usage: bench-ensemble draws|values FILE DRAWS\n");
    else if (!liquids || dregs_line_read(argv[2], file, liquids, &line, &faults) ||
             dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, 1, &ensemble, &faults) ||
             !dregs_ensemble_rows(ensemble))
        fprintf(stderr, "bench-ensemble: %s: %s\n", argv[2],
                faults.count ? faults.fault[0].text : "nothing to draw");
    else
        failed =
            (strcmp(argv[1], "draws") == 0 ? draws : values)(ensemble, strtoull(argv[3], NULL, 10));
    if (file)
        fclose(file);
    dregs_ensemble_free(ensemble);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return failed;
}
