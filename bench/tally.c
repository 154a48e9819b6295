/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally.c: what bench/run.sh measures of a year's tally.
 *
 *   bench-tally FILE LOADS-PER-SHIFT SHIFTS DAYS
 *       the line of FILE with that schedule below it, tallied for a year by months; ms, the loads
 *       of the year, and for each solute in kg: left in the last film, dumped, held at the end
 *
 * The line is read before the clock runs. Median of some runs.
 */
#include "clock.h"
#include "dregs/dregs.h"

#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TIMES = 21, TEXT_ROOM = 65536 };

/* The file's text with a schedule; NULL when it cannot be had. */
static char *text_of(const char *path, char **plan)
{
    char *text = calloc(1, TEXT_ROOM);
    FILE *file = fopen(path, "rb");
    size_t length = file && text ? fread(text, 1, TEXT_ROOM - 512, file) : 0;

    if (file)
        fclose(file);
    if (!length) {
        free(text);
        return NULL;
    }
    snprintf(text + length, TEXT_ROOM - length,
             "plan,kind,schedule,,,\nplan,loads per shift,%s,1,,\nplan,shifts per day,%s,1,,\n"
             "plan,days per year,%s,1,,\nplan,idle flow,off,,,\n",
             plan[0], plan[1], plan[2]);
    return text;
}

static void print_tally(const dregs_line *line, const dregs_tally *tally)
{
    static const dregs_stream shown[] = {DREGS_STREAM_LEFT, DREGS_STREAM_DUMPED,
                                         DREGS_STREAM_HELD_LAST};
    char number[DREGS_NUMBER_TEXT];
    unsigned s, i;

    printf(" %llu", (unsigned long long)dregs_tally_loads(tally, DREGS_WHOLE));
    for (s = 0; s < dregs_line_solutes(line); s++)
        for (i = 0; i < 3; i++)
            printf(" %s", dregs_number_exact(number, dregs_tally_solute(tally, shown[i], s,
                                                                        DREGS_WHOLE, DREGS_WHOLE)));
    putchar('\n');
}

static int measure(const dregs_line *line)
{
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, 0};
    char message[DREGS_TALLY_MESSAGE] = "";
    double taken[TIMES];
    dregs_tally *tally = NULL;
    int i, failed = 0;

    for (i = 0; i < TIMES && !failed; i++) {
        dregs_tally_free(tally);
        tally = NULL;
        taken[i] = now();
        failed = dregs_tally_new(line, &request, &tally, message) != DREGS_OK;
        taken[i] = now() - taken[i];
    }
    if (failed) {
        fprintf(stderr, "bench-tally: %s\n", message);
        return 1;
    }
    printf("%.3f", median(taken, TIMES) * 1e3);
    print_tally(line, tally);
    dregs_tally_free(tally);
    return 0;
}

int main(int argc, char **argv)
{
    static dregs_faults faults;
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_line *line = NULL;
    char *text = argc == 5 ? text_of(argv[1], argv + 2) : NULL;
    int failed = 1;

    gsl_set_error_handler_off();
    if (!text)
        fprintf(stderr, "usage: bench-tally FILE LOADS-PER-SHIFT SHIFTS DAYS\n");
    else if (!liquids ||
             dregs_line_parse(argv[1], text, strlen(text), liquids, &line, &faults) != DREGS_OK)
        fprintf(stderr, "bench-tally: %s\n", faults.count ? faults.fault[0].text : "no memory");
    else
        failed = measure(line);
    free(text);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return failed;
}
