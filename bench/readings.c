/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* readings.c: what bench/run.sh measures of a long log.
 *
 *   bench-readings write ROWS       such a log of data/rinse-bench.csv on stdout
 *   bench-readings read LINE LOG    the log read without an answer; ms, and rows read
 *   bench-readings grow LINE        the answer by the length of the log, of three kinds of log: the
 *                                   rows that are kept of it, the changes that are found, ms of
 *                                   processor time, and the exponent that this grows with, against
 *                                   the shortest log. Of 64,000 rows fewer are kept than of 15,625,
 *                                   see dregs-readings(5), and a change takes a search of its own
 *
 * The log is of two meters that take turns, a reading a minute, a load every twelve minutes, and
 * both rinses dumped after every 60 loads. Its numbers are near the line's own, with noise: what
 * is measured is the reading. Ten million rows are half a gigabyte. Median of some runs.
 */
#include "clock.h"
#include "dregs/answer_reuse.h"
#include "dregs/dregs.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* Roughly normal, standard deviation 1: Irwin and Hall's sum of twelve, from bits of xorshift64
 * (Marsaglia 2003). */
static double noise(uint64_t *state)
{
    double sum = -6.0;
    int i;

    for (i = 0; i < 3; i++) {
        *state ^= *state << 13;
        *state ^= *state >> 7;
        *state ^= *state << 17;
        sum += (double)(*state & 0xFFFF) / 65536.0 + (double)(*state >> 16 & 0xFFFF) / 65536.0 +
               (double)(*state >> 32 & 0xFFFF) / 65536.0 + (double)(*state >> 48) / 65536.0;
    }
    return sum;
}

enum { STEP = 61, ROWS_A_LOAD = 12, LOADS_A_FILL = 60 }; /* s between rows */

/* The moment so many s behind 2026-03-02T07:30, as `2026-03-02T07:30:15`; good until the next. */
static const char *time_text(unsigned long long seconds)
{
    static char text[32];
    time_t moment = (time_t)(1772436600ULL + seconds);
    struct tm parts;

    if (!gmtime_r(&moment, &parts) || !strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%S", &parts))
        text[0] = '\0';
    return text;
}

/* Cleaner in the two still rinses after one more load, g/L: what a load carries into a tank mixes
 * with it, and what is too much then runs over. The numbers are those of the line file: 0.073 m2
 * with 70 and 50 mL/m2, 0.4 mL held up, 3 L, a bath of 12 g/L that is made up anew. */
static void next_load(double content[2])
{
    static const double carried[2] = {5.51e-3 / 3.0, 4.05e-3 / 3.0};

    content[0] = (content[0] + carried[0] * 12.0) / (1 + carried[0]);
    content[1] = (content[1] + carried[1] * content[0]) / (1 + carried[1]);
}

static int write_log(unsigned long long rows)
{
    static const char *const stage[2] = {"first", "last"};
    double content[2] = {0, 0}; /* and in fresh water 0.6 mg/L of minerals */
    uint64_t state = UINT64_C(88172645463325252);
    unsigned long long row;
    unsigned load = 0, dumped = 0, of_load = 0;

    puts("time,stage,loads,quantity,value,unit");
    for (row = 0; row < rows; row++) {
        fputs(time_text(row * STEP), stdout);
        if (load == LOADS_A_FILL && of_load == ROWS_A_LOAD) {
            printf(",%s,%u,dump,,\n", stage[dumped], load);
            content[dumped++] = 0;
            load = dumped == 2 ? 0 : load;
            continue;
        }
        if (load == 0 || of_load == ROWS_A_LOAD) {
            next_load(content);
            load++;
            dumped = of_load = 0;
        }
        printf(",%s,%u,conductivity,%.4g,uS/cm\n", stage[of_load % 2], load,
               (0.055 + 1.6 * 0.6 + 1350.0 * content[of_load % 2]) * (1 + 0.03 * noise(&state)));
        of_load++;
    }
    return fflush(stdout) != 0 || ferror(stdout);
}

enum { TIMES = 3 };

/* The log from its first byte to its last; ms and rows. */
static int read_once(const dregs_line *line, const char *path, double *taken,
                     unsigned long long *rows, dregs_faults *faults)
{
    static char piece[1 << 16];
    dregs_readings *readings = dregs_readings_new(path, line, faults);
    FILE *file = fopen(path, "rb");
    dregs_status status = DREGS_OK;
    size_t length = sizeof piece;
    int failed = !file || !readings;

    *taken = now();
    while (!failed && !status && length == sizeof piece) {
        length = fread(piece, 1, sizeof piece, file);
        status = dregs_readings_feed(readings, piece, length);
    }
    failed = failed || status || ferror(file) || dregs_readings_end(readings);
    *taken = (now() - *taken) * 1e3;
    if (!failed)
        *rows = dregs_readings_counted(readings)->rows;
    if (file)
        fclose(file);
    dregs_readings_free(readings);
    return failed;
}

/* ---- the answer by the length of the log ---- */

enum { LENGTHS = 5, FITTING = 0, DRIFTING, FITTING_NOTHING, KINDS };

static const char *const kinds[KINDS] = {"as the line", "drifts", "fits nothing"};

/* A log with a row of the last rinse after each load, dumped as above: with the meter's noise; that
 * of a meter that drifts to twice as much over the log; and anything from nothing to four times. */
static int feed_log(dregs_readings *readings, int kind, unsigned rows)
{
    static const char head[] = "time,stage,loads,quantity,value,unit\n";
    double content[2] = {0, 0}, scale;
    uint64_t state = UINT64_C(88172645463325252);
    unsigned row, load = 0;
    char text[160];
    dregs_status status = dregs_readings_feed(readings, head, sizeof head - 1);

    for (row = 0; row < rows && !status; row++) {
        unsigned long long seconds = 720ULL * (row + 1);
        double uniform;
        int length;
        if (load == LOADS_A_FILL) {
            load = 0;
            content[0] = content[1] = 0;
        }
        load++;
        next_load(content);
        (void)noise(&state);
        uniform = (double)(state >> 11) * 0x1p-53;
        scale = kind == FITTING_NOTHING ? 4 * uniform : 1 + 0.03 * noise(&state);
        scale *= kind == DRIFTING ? 1 + (double)row / rows : 1;
        length =
            snprintf(text, sizeof text, "%s,last,%u,conductivity,%.4g,uS/cm\n", time_text(seconds),
                     load, (0.055 + 1.6 * 0.6 + 1350.0 * content[1]) * scale);
        status = dregs_readings_feed(readings, text, (size_t)length);
        if (load == LOADS_A_FILL && !status) {
            length = snprintf(text, sizeof text, "%s,first,%u,dump,,\n%s,last,%u,dump,,\n",
                              time_text(seconds), load, time_text(seconds), load);
            status = dregs_readings_feed(readings, text, (size_t)length);
        }
    }
    return status || dregs_readings_end(readings);
}

/* What the answer to a log took, itself alone. */
struct answered {
    size_t kept; /* of the rows, dumps included */
    unsigned changes;
    double taken; /* ms of processor time */
};

static double processor_time(void)
{
    struct timespec at;

    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &at);
    return (double)at.tv_sec * 1e3 + (double)at.tv_nsec * 1e-6;
}

static int answer_once(const dregs_line *line, int kind, unsigned rows, struct answered *answered,
                       dregs_faults *faults)
{
    dregs_readings *readings = dregs_readings_new("log", line, faults);
    dregs_reuse_request request;
    dregs_reuse_result *result = NULL;
    int failed = !readings || feed_log(readings, kind, rows);

    dregs_reuse_request_init(&request);
    if (!failed) {
        answered->taken = processor_time();
        failed = dregs_reuse_answer(line, readings, &request, &result, faults) != DREGS_OK;
        answered->taken = processor_time() - answered->taken;
    }
    if (!failed) {
        answered->kept = dregs_readings_kept(readings);
        answered->changes = dregs_reuse_regimes(result->reuse) - 1;
    }
    dregs_reuse_result_free(result);
    dregs_readings_free(readings);
    return failed;
}

/* A line for each kind and length: "drifts, 2500 rows", kept, changes, ms, exponent. */
static int grow(const dregs_line *line, dregs_faults *faults)
{
    static const unsigned lengths[LENGTHS] = {1000, 2500, 6250, 15625, 64000};
    int kind, i;

    for (kind = 0; kind < KINDS; kind++) {
        struct answered first = {0, 0, 0}, one = first;
        for (i = 0; i < LENGTHS; i++) {
            if (answer_once(line, kind, lengths[i], &one, faults))
                return 1;
            if (i == 0)
                first = one;
            printf("%s, %u rows\t%zu\t%u\t%.1f\t%.2f\n", kinds[kind], lengths[i], one.kept,
                   one.changes, one.taken,
                   i ? log(one.taken / first.taken) / log((double)one.kept / (double)first.kept)
                     : NAN);
            fflush(stdout);
        }
    }
    return 0;
}

/* Reads the line, and the log `path`, or NULL: asks by the length. */
static int with_line(const char *line_path, const char *path)
{
    static dregs_faults faults;
    dregs_liquids *liquids = dregs_liquids_new();
    FILE *file = fopen(line_path, "rb");
    dregs_line *line = NULL;
    double taken[TIMES];
    unsigned long long rows = 0;
    int i, failed;

    failed = !liquids || !file || dregs_line_read(line_path, file, liquids, &line, &faults);
    for (i = 0; i < TIMES && path && !failed; i++)
        failed = read_once(line, path, &taken[i], &rows, &faults);
    if (!failed && !path)
        failed = grow(line, &faults);
    if (failed)
        fprintf(stderr, "bench-readings: %s with %s: %s\n", path ? path : "a log", line_path,
                faults.count ? faults.fault[0].text : "cannot be read");
    else if (path)
        printf("%.3f %llu\n", median(taken, TIMES), rows);
    if (file)
        fclose(file);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return failed;
}

int main(int argc, char **argv)
{
    gsl_set_error_handler_off();
    if (argc == 3 && strcmp(argv[1], "write") == 0)
        return write_log(strtoull(argv[2], NULL, 10));
    if (argc == 4 && strcmp(argv[1], "read") == 0)
        return with_line(argv[2], argv[3]);
    if (argc == 3 && strcmp(argv[1], "grow") == 0)
        return with_line(argv[2], NULL);
    fprintf(stderr, "usage: bench-readings write ROWS, bench-readings read LINE LOG, "
                    "bench-readings grow LINE\n");
    return 2;
}
