/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* march.c: what bench/run.sh measures of the library and of a tool's start.
 *
 *   bench-march march FILE LOADS      step through LOADS loads, residue of each included
 *   bench-march at FILE LOAD          straight to the moment before LOAD
 *   bench-march start TIMES PROGRAM [ARGUMENT ...]
 *                                     run a program TIMES times, its output thrown away
 *
 * One line on stdout: what was measured (ns per load and stage; ms; ms and KiB), for march and at
 * followed by the solute masses in the tanks, kg, solute by solute.
 */
#include "clock.h"
#include "dregs/dregs.h"

#include <fcntl.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

static void print_masses(const dregs_map *map, const dregs_state *state)
{
    const dregs_line *line = dregs_map_line(map);
    char number[DREGS_NUMBER_TEXT];
    unsigned s, t;

    for (s = 0; s < dregs_line_solutes(line); s++)
        for (t = 0; t < dregs_line_tanks(line); t++)
            printf(" %s", dregs_number_exact(number, dregs_state_mass(state, s, t)));
    putchar('\n');
}

static int march(const dregs_map *map, uint64_t loads)
{
    dregs_state *state = dregs_state_new(map);
    dregs_residue residue;
    double begin, seconds, most = 0;
    uint64_t load;

    if (!state)
        return 1;
    begin = now();
    for (load = 0; load < loads; load++) {
        dregs_residue_next(state, &residue);
        most = fmax(most, residue.total);
        dregs_state_step(state);
    }
    seconds = now() - begin;
    printf("%.3f", seconds * 1e9 / (double)loads / dregs_line_stages(dregs_map_line(map)));
    print_masses(map, state);
    dregs_state_free(state);
    return !(most > 0);
}

/* The way there is short: the median of some hundred. */
static int at(const dregs_map *map, uint64_t load)
{
    enum { TIMES = 201 };
    double taken[TIMES];
    dregs_state *state = NULL;
    dregs_status status = DREGS_OK;
    int i;

    for (i = 0; i < TIMES && !status; i++) {
        dregs_state_free(state);
        state = dregs_state_new(map);
        if (!state)
            return 1;
        taken[i] = now();
        status = dregs_state_before(state, load);
        taken[i] = now() - taken[i];
    }
    if (!status) {
        printf("%.4f", median(taken, TIMES) * 1e3);
        print_masses(map, state);
    }
    dregs_state_free(state);
    return status != DREGS_OK;
}

static int of_line(const char *what, const char *path, uint64_t loads)
{
    static dregs_faults faults;
    dregs_liquids *liquids = dregs_liquids_new();
    FILE *file = fopen(path, "rb");
    dregs_line *line = NULL;
    dregs_map *map = NULL;
    int failed = 1;

    if (!file)
        perror(path);
    else if (!liquids || dregs_line_read(path, file, liquids, &line, &faults) ||
             dregs_map_new(line, &map))
        fprintf(stderr, "bench-march: %s: %s\n", path,
                faults.count ? faults.fault[0].text : "no map of it");
    else
        failed = strcmp(what, "march") == 0 ? march(map, loads) : at(map, loads);
    if (file)
        fclose(file);
    dregs_map_free(map);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return failed;
}

/* Start to end of one run, s; NAN when it failed. */
static double run(char **command, long *kibibytes)
{
    struct rusage used;
    double begin = now();
    pid_t child = fork();
    int status, null;

    if (child == 0) {
        null = open("/dev/null", O_WRONLY);
        if (null >= 0)
            dup2(null, 1);
        execvp(command[0], command);
        _exit(127);
    }
    if (child < 0 || wait4(child, &status, 0, &used) != child)
        return NAN;
    /* a missed target is an answer too */
    if (!WIFEXITED(status) || WEXITSTATUS(status) > 1)
        return NAN;
    if (used.ru_maxrss > *kibibytes)
        *kibibytes = used.ru_maxrss;
    return now() - begin;
}

static int start(size_t times, char **command)
{
    double *taken = times ? malloc(times * sizeof *taken) : NULL;
    long kibibytes = 0;
    size_t i;

    for (i = 0; taken && i < times; i++) {
        taken[i] = run(command, &kibibytes);
        if (isnan(taken[i])) {
            fprintf(stderr, "bench-march: %s could not be run\n", command[0]);
            free(taken);
            return 1;
        }
    }
    if (!taken)
        return 1;
    printf("%.3f %ld\n", median(taken, times) * 1e3, kibibytes);
    free(taken);
    return 0;
}

int main(int argc, char **argv)
{
    gsl_set_error_handler_off();
    if (argc == 4 && (strcmp(argv[1], "march") == 0 || strcmp(argv[1], "at") == 0))
        return of_line(argv[1], argv[2], strtoull(argv[3], NULL, 10));
    if (argc >= 4 && strcmp(argv[1], "start") == 0)
        return start((size_t)strtoul(argv[2], NULL, 10), argv + 3);
    fprintf(stderr,
            "usage: bench-march march|at FILE LOADS, bench-march start TIMES PROGRAM ...\n");
    return 2;
}
