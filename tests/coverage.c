/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* coverage.c: logs of three fills of two still rinses, the last rinse read by one meter.
 *
 * Truth and library share the map of the line: what is tested is what is told of the unknowns, not
 * the balance. The readings scatter by 3 % and are taken at 18 to 28 degC.
 */
#include "coverage.h"
#include "dregs/number.h"
#include "line/line.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics.h>
#include <stdlib.h>
#include <string.h>

const struct coverage_case coverage_cases[COVERAGE_CASES] = {
    {"as the file says", COVERAGE_WATER, {1, 1, 1}, 1, 1, 0, 0, 1},
    {"all stages 1.4 times", COVERAGE_WATER, {1.4, 1.4, 1.4}, 1, 1, 0, 0, 1},
    {"the wash alone 1.4 times", COVERAGE_WATER, {1.4, 1, 1}, 1, 1, 0, 0, 1},
    {"the last rinse alone 1.4 times", COVERAGE_WATER, {1, 1, 1.4}, 1, 1, 0, 0, 1},
    {"each stage and soil drawn", COVERAGE_WATER, {0, 0, 0}, 0, 1, 0, 0, 1},
    {"1.2 times from half the last fill", COVERAGE_WATER, {1, 1, 1}, 1, 1, 3, 0.25, 1.2},
    {"1.2 times from the second fill", COVERAGE_WATER, {1, 1, 1}, 1, 1, 2, 0, 1.2},
    {"solvent: each stage and soil drawn", COVERAGE_SOLVENT, {0, 0, 0}, 0, 1, 0, 0, 1},
    {"solvent: each stage, soil and adhering drawn", COVERAGE_SOLVENT, {0, 0, 0}, 0, 0, 0, 0, 1},
    {"solvent: 1.2 times from the second fill", COVERAGE_SOLVENT, {1, 1, 1}, 1, 1, 2, 0, 1.2},
};

/* How a bench is run and read. */
static const struct bench {
    const char *file;
    const char *stages[3];
    const char *quantity, *unit;
    dregs_measured what;
    unsigned fill;        /* loads of a whole one */
    unsigned every;       /* loads to the next reading; in the last fill `often` */
    unsigned last, often; /* loads of the last fill, which is not over */
    double spread, soil;
} benches[] = {
    {"rinse-bench.csv",
     {"bath", "first", "last"},
     "conductivity",
     "uS/cm",
     DREGS_MEASURED_CONDUCTIVITY,
     27,
     3,
     14,
     2,
     0.25,
     0.4},
    {"solvent-bench.csv",
     {"beaker", "dip", "clear"},
     "non-volatile residue",
     "mg/L",
     DREGS_MEASURED_RESIDUE,
     80,
     10,
     40,
     5,
     0.3,
     0.4},
};

static void read_bench(const struct bench *bench)
{
    static char text[LOGS_ROOM];
    const char *source = getenv("DREGS_SOURCE");
    char path[512];
    FILE *file;
    size_t length;

    snprintf(path, sizeof path, "%s/data/%s", source ? source : ".", bench->file);
    file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "%s cannot be read", path);
    length = fread(text, 1, sizeof text - 1, file);
    fclose(file);
    text[length] = '\0';
    logs_parse(text);
}

static void say_row(unsigned load, const char *stage, unsigned since, const char *quantity,
                    double value, const char *unit, double celsius)
{
    char number[DREGS_NUMBER_TEXT];
    unsigned minutes = load * 12;

    logs_say("2026-03-%02uT%02u:%02u,%s,%u,%s,%s,%s,", 1 + minutes / 1440, minutes / 60 % 24,
             minutes % 60, stage, since, quantity,
             isnan(value) ? "" : dregs_number_exact(number, value), unit);
    logs_say(isnan(celsius) ? "\n" : "%.1f degC\n", celsius);
}

static void say_reading(const struct bench *bench, const struct logs_truth *t, unsigned load,
                        unsigned since)
{
    double held[DREGS_LINE_SOLUTES],
        celsius = 18 + 0.1 * (double)gsl_rng_uniform_int(logs.rng, 101);
    double shown;

    logs_held(t, 2, held);
    ck_assert(!dregs_reuse_shown(t->line, 2, bench->what, 0, 273.15 + celsius, held, &shown, NULL));
    say_row(load, bench->stages[2], since, bench->quantity,
            logs_scattered(shown, COVERAGE_NOISE) /
                (bench->what == DREGS_MEASURED_CONDUCTIVITY ? 1e-4 : 1e-3),
            bench->unit, bench->what == DREGS_MEASURED_CONDUCTIVITY ? celsius : NAN);
}

/* Writes the log; `t` is left at its last reading. */
static void simulate(const struct coverage_case *of, struct logs_truth *t)
{
    const struct bench *bench = &benches[of->bench];
    struct alteration change = logs_by_hand(1, of->soil > 0 ? of->soil : logs_draw(bench->soil));
    unsigned fill, since, load = 0, i;

    change.adhering = of->adhering > 0 ? of->adhering : logs_draw(bench->soil) / change.soil;
    for (i = 0; i < 3; i++)
        change.of_stage[i] = of->drag_out[i] > 0 ? of->drag_out[i] : logs_draw(bench->spread);
    logs_become(t, &change);
    logs.length = 0;
    logs_say("time,stage,loads,quantity,value,unit,temperature\n");
    for (fill = 1; fill <= 3; fill++) {
        unsigned loads = fill < 3 ? bench->fill : bench->last;
        unsigned begins = (unsigned)(of->share * (double)bench->fill);
        for (since = 1; since <= loads; since++) {
            if ((int)fill == of->fill && since == begins + 1) {
                change.drag_out = of->change;
                logs_become(t, &change);
            }
            dregs_state_step(t->state);
            load++;
            if (since % (fill < 3 ? bench->every : bench->often) == 0)
                say_reading(bench, t, load, since);
        }
        for (i = 1; i <= 2 && fill < 3; i++) {
            say_row(load, bench->stages[i], loads, "dump", NAN, "", NAN);
            ck_assert_int_eq(dregs_state_dump(t->state, i), DREGS_OK);
        }
    }
}

/* How many loads are still left within the limit. */
static uint64_t loads_of(struct logs_truth *t)
{
    double limit = dregs_line_target(logs.line)->residue.si;
    dregs_residue residue;
    uint64_t loads;

    for (loads = 0; loads < DREGS_REUSE_LOADS_MOST; loads++) {
        dregs_residue_next(t->state, &residue);
        if (residue.total > limit)
            break;
        dregs_state_step(t->state);
    }
    return loads;
}

/* Who reads the meter, without its noise, before every load: `t` is before the first that misses.
 */
static void go_by_meter(struct coverage *c, const struct logs_truth *t,
                        const dregs_reuse_outlook *answer)
{
    const dregs_dump_reading *at = &answer->at[2];
    double held[DREGS_LINE_SOLUTES], shown;

    if (answer->dump_now || !at->known || isnan(at->planned))
        return;
    logs_held(t, 2, held);
    ck_assert(
        !dregs_reuse_shown(t->line, 2, at->what, at->which, at->temperature, held, &shown, NULL));
    c->dumped++;
    c->past += shown < at->planned;
    c->past_best += shown < at->value;
}

struct coverage coverage_of(const struct coverage_case *of, unsigned long seed, unsigned logs_count)
{
    struct coverage c = {0};
    double *widths = calloc(logs_count, sizeof *widths);
    size_t known = 0;

    ck_assert_ptr_nonnull(widths);
    read_bench(&benches[of->bench]);
    gsl_rng_set(logs.rng, seed);
    for (; c.logs < logs_count; c.logs++) {
        struct logs_truth t = {0};
        const dregs_reuse_outlook *answer;
        uint64_t truth;
        simulate(of, &t);
        logs_analyse(NAN);
        answer = logs_answer();
        truth = loads_of(&t);
        c.changes += dregs_reuse_regimes(logs.reuse) > 1;
        if (!answer->doubtful)
            go_by_meter(&c, &t, answer);
        logs_let_go(&t);
        if (answer->doubtful)
            continue;
        c.answered++;
        c.again += answer->again && !answer->dump_now;
        c.covered += answer->low <= truth && truth <= answer->high;
        c.unsafe += answer->low > truth;
        if (truth > 0)
            widths[known++] = (double)(answer->high - answer->low) / (double)truth;
    }
    gsl_sort(widths, 1, known);
    c.width = known ? gsl_stats_median_from_sorted_data(widths, 1, known) : NAN;
    free(widths);
    return c;
}
