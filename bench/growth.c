/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* growth.c: what the time of a question grows with, and by what exponent.
 *
 *   bench-growth
 *
 * A row for each question and what is made larger: the sizes, what each took, and the exponent,
 * the slope of a straight line through log time over log size (least squares), beside the one that
 * dregs-model(7) states. Counted are instructions of this thread where the machine tells them, else
 * its processor time. Lines and logs are written here: nothing is read.
 */
#include "clock.h"
#include "dregs/answer_dry.h"
#include "dregs/answer_reuse.h"
#include "dregs/dregs.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#ifdef __linux__
#include <linux/perf_event.h>
#include <sys/ioctl.h>
#include <sys/syscall.h>
#include <unistd.h>
#endif

enum { SIZES_MOST = 5, ROOM = 1 << 16 };

static dregs_liquids *liquids;

/* ---- what is counted ---- */

static int counter = -1;

static void open_counter(void)
{
#ifdef __linux__
    struct perf_event_attr asked = {.type = PERF_TYPE_HARDWARE,
                                    .size = sizeof asked,
                                    .config = PERF_COUNT_HW_INSTRUCTIONS,
                                    .exclude_kernel = 1,
                                    .exclude_hv = 1};

    counter = (int)syscall(SYS_perf_event_open, &asked, 0, -1, -1, 0);
#endif
}

/* Instructions, or s of processor time, since some moment. */
static double spent(void)
{
    struct timespec at;
#ifdef __linux__
    unsigned long long count;

    if (counter >= 0 && read(counter, &count, sizeof count) == (ssize_t)sizeof count)
        return (double)count;
#endif
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &at);
    return (double)at.tv_sec + (double)at.tv_nsec * 1e-9;
}

/* ---- lines ---- */

struct plan {
    unsigned tanks, solutes;
    uint64_t dump[3]; /* of the tanks by turns; 0: none */
    int flows;        /* 1: the last rinse has a flow; 2: and a load dries behind every tank */
};

struct text {
    size_t used;
    char bytes[ROOM];
};

static void say(struct text *text, const char *format, ...) DREGS_FORMAT(2, 3);
static void say(struct text *text, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    text->used += (size_t)vsnprintf(text->bytes + text->used, sizeof text->bytes - text->used,
                                    format, arguments);
    va_end(arguments);
}

/* The line of a plan; NULL with a message when it is refused. */
static dregs_line *line_of(const struct plan *plan)
{
    static struct text text;
    static dregs_faults faults;
    dregs_line *line = NULL;
    unsigned i;

    text.used = 0;
    say(&text, "item,property,value,unit\nrack,kind,load,\nrack,parts,24,1\nrack,area,61,cm2\n"
               "rack,interval,5,min\ntap,kind,liquid,\ntap,solvent,water,\n"
               "goal,kind,target,\ngoal,residue,1,ug/cm2\n");
    for (i = 0; i < plan->solutes; i++)
        say(&text, "s%u,kind,solute,\ns%u,on parts,%u,mg\n", i, i, 1 + i);
    for (i = 0; i < plan->tanks; i++) {
        say(&text, "t%u,kind,%s,\nt%u,volume,40,L\nt%u,liquid,tap,\nt%u,film,%u,um\n", i,
            i ? "rinse" : "wash", i, i, i, 30 + i % 7);
        if (!i)
            say(&text, "t0,removal,98,%%\n");
        if (plan->flows && i + 1 == plan->tanks)
            say(&text, "t%u,flow,30,L/h\n", i);
        if (plan->dump[i % 3])
            say(&text, "t%u,dump every,%llu,1\n", i, (unsigned long long)plan->dump[i % 3]);
        if (plan->flows == 2)
            say(&text, "d%u,kind,dry,\nd%u,temperature,60,degC\n", i, i);
    }
    if (text.used >= sizeof text.bytes ||
        dregs_line_parse("growth.csv", text.bytes, text.used, liquids, &line, &faults))
        fprintf(stderr, "bench-growth: %s\n",
                faults.count ? faults.fault[0].text : "the line is too long");
    return line;
}

/* ---- questions: each answers once; 0: done ---- */

static int ask_worst(const dregs_line *line, double more)
{
    dregs_map *map = NULL;
    dregs_worst worst;
    int failed = dregs_map_new(line, &map) != DREGS_OK ||
                 dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst) != DREGS_OK;

    (void)more;
    dregs_map_free(map);
    return failed;
}

static int ask_at(const dregs_line *line, double more)
{
    dregs_map *map = NULL;
    dregs_state *state = NULL;
    int failed = dregs_map_new(line, &map) != DREGS_OK || !(state = dregs_state_new(map)) ||
                 dregs_state_before(state, more > 0 ? (uint64_t)more : 1000000000) != DREGS_OK;

    dregs_state_free(state);
    dregs_map_free(map);
    return failed;
}

static int ask_march(const dregs_line *line, double more)
{
    dregs_map *map = NULL;
    dregs_state *state = NULL;
    int failed = dregs_map_new(line, &map) != DREGS_OK || !(state = dregs_state_new(map));
    uint64_t load;

    for (load = 0; !failed && load < (uint64_t)more; load++)
        dregs_state_step(state);
    dregs_state_free(state);
    dregs_map_free(map);
    return failed;
}

static int ask_predict(const dregs_line *line, double more)
{
    dregs_predict_result *result = NULL;
    dregs_predict_request request;
    int failed;

    (void)more;
    dregs_predict_request_init(&request);
    failed = dregs_predict_answer(line, &request, &result) != DREGS_OK;
    dregs_predict_result_free(result);
    return failed;
}

static int ask_size(const dregs_line *line, double more)
{
    const char *stage = dregs_line_stage_name(line, dregs_line_stages(line) - 1);
    dregs_criterion criterion = {DREGS_CRITERION_EVER, 0};
    char message[DREGS_SIZE_MESSAGE];
    dregs_varied *varied = dregs_varied_new(line);
    dregs_sized *sized = NULL;
    int failed = !varied || dregs_varied_add(varied, "flow", &stage, 1, NAN, NAN, message) ||
                 dregs_size(varied, criterion, 0, &sized, message);

    (void)more;
    dregs_sized_free(sized);
    dregs_varied_free(varied);
    return failed;
}

static int ask_layout(const dregs_line *line, double more)
{
    dregs_criterion criterion = {DREGS_CRITERION_EVER, 0};
    char message[DREGS_SIZE_MESSAGE];
    dregs_sized *sized = NULL;
    dregs_status status =
        dregs_size_layout(line, DREGS_COUNTERFLOW, (unsigned)more, criterion, &sized, message);

    dregs_sized_free(sized);
    return status != DREGS_OK;
}

static int ask_tally(const dregs_line *line, double more)
{
    dregs_tally_request request = {DREGS_SPAN_LOADS, (uint64_t)more, 0};
    char message[DREGS_TALLY_MESSAGE];
    dregs_tally *tally = NULL;
    int failed = dregs_tally_new(line, &request, &tally, message) != DREGS_OK;

    dregs_tally_free(tally);
    return failed;
}

static dregs_status worst_of_drawn(void *mine, const dregs_line *drawn, double *figures)
{
    dregs_map *map = NULL;
    dregs_worst worst = {0};
    dregs_status status = dregs_map_new(drawn, &map);

    (void)mine;
    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst);
    figures[0] = worst.residue;
    dregs_map_free(map);
    return status;
}

static int ask_draws(const dregs_line *line, double more)
{
    static dregs_faults faults;
    const double most = 1;
    dregs_ensemble *ensemble = NULL;
    dregs_ensemble_request request;
    dregs_ensemble_result *result = NULL;
    int failed;

    dregs_ensemble_request_init(&request);
    request.draws = (uint64_t)more;
    request.threads = 1;
    request.figures = 1;
    request.most = &most;
    request.ask = worst_of_drawn;
    failed = dregs_ensemble_new(line, DREGS_ASKED_RESIDUE, 1, &ensemble, &faults) ||
             dregs_ensemble_run(ensemble, &request, &result);
    dregs_ensemble_result_free(result);
    dregs_ensemble_free(ensemble);
    return failed;
}

/* The dry stages of the line, or of one film without a line so many temperatures. */
static int ask_dry(const dregs_line *line, double more)
{
    dregs_dry_request request;
    dregs_dry_result *result = NULL;
    char message[DREGS_DRY_MESSAGE];
    int failed;

    dregs_dry_request_init(&request);
    if (more > 0) {
        request.liquid = "isopropanol";
        request.film = 20e-6;
        request.area = 1;
        for (; request.at_count < (unsigned)more; request.at_count++)
            request.at[request.at_count] = 295.15 + 10 * request.at_count / more;
    }
    failed =
        dregs_dry_answer(&request, liquids, more > 0 ? NULL : line, &result, message) != DREGS_OK;
    dregs_dry_result_free(result);
    return failed;
}

/* A row of a log, in months of 28 days: what the last tank holds of the first solute, as the line
 * has it but for a scatter of 3 %, uniform, from bits of xorshift64 (Marsaglia 2003). */
static dregs_status feed_reading(dregs_readings *readings, const dregs_line *line,
                                 const dregs_state *state, unsigned age, uint64_t *bits)
{
    unsigned tank = dregs_line_tanks(line) - 1;
    double volume = dregs_line_tank(line, tank)->volume;
    uint64_t load = dregs_state_next(state) - 1, minutes = 5 * load;
    char row[128];
    int length;

    *bits ^= *bits << 13;
    *bits ^= *bits >> 7;
    *bits ^= *bits << 17;
    length =
        snprintf(row, sizeof row, "2026-%02u-%02uT%02u:%02u,t%u,%u,concentration s0,%.4g,mg/L\n",
                 (unsigned)(1 + minutes / 40320), (unsigned)(1 + minutes / 1440 % 28),
                 (unsigned)(minutes / 60 % 24), (unsigned)(minutes % 60), tank, age,
                 1e3 * dregs_state_mass(state, 0, tank) / volume *
                     (1 + 0.03 * 1.7320508 * (2 * (double)(*bits >> 11) * 0x1p-53 - 1)));
    return dregs_readings_feed(readings, row, (size_t)length);
}

/* A log of so many readings, one of each load, the last tank dumped after every 60. */
static int feed_log(dregs_readings *readings, const dregs_line *line, double rows)
{
    static const char head[] = "time,stage,loads,quantity,value,unit\n";
    unsigned last = dregs_line_stages(line) - 1, age = 0;
    uint64_t bits = UINT64_C(88172645463325252);
    dregs_map *map = NULL;
    dregs_state *state = NULL;
    dregs_status status = dregs_map_new(line, &map);

    if (!status && !(state = dregs_state_new(map)))
        status = DREGS_NO_MEMORY;
    if (!status)
        status = dregs_readings_feed(readings, head, sizeof head - 1);
    for (; rows > 0 && !status; rows--) {
        dregs_state_step(state);
        status = feed_reading(readings, line, state, ++age, &bits);
        if (age < 60 || status)
            continue;
        status = dregs_state_dump(state, last);
        age = 0;
    }
    dregs_state_free(state);
    dregs_map_free(map);
    return status || dregs_readings_end(readings);
}

static int ask_reuse(const dregs_line *line, double more)
{
    static dregs_faults faults;
    dregs_readings *readings = dregs_readings_new("growth.csv", line, &faults);
    dregs_reuse_request request;
    dregs_reuse_result *result = NULL;
    int failed;

    dregs_reuse_request_init(&request);
    failed = !readings || feed_log(readings, line, more) ||
             dregs_reuse_answer(line, readings, &request, &result, &faults);
    dregs_reuse_result_free(result);
    dregs_readings_free(readings);
    return failed;
}

/* So many loads of whatever line. */
static int ask_steps(const dregs_line *line, double more)
{
    (void)more;
    return ask_march(line, 10000);
}

static int ask_tally_loads(const dregs_line *line, double more)
{
    (void)more;
    return ask_tally(line, 1000);
}

/* ---- sizes and their exponents ---- */

/* What a row makes larger. */
enum larger { TANKS, SOLUTES, PERIOD, DUMPS, MORE };

static const struct row {
    const char *question, *grows_with;
    int (*ask)(const dregs_line *line, double more);
    enum larger larger;
    double stated; /* dregs-model(7), GROWTH */
    struct plan plan;
    double size[SIZES_MOST]; /* 0 ends them */
} rows[] = {
    {"load N", "tanks", ask_at, TANKS, 3, {0, 2, {0}, 1}, {8, 16, 32, 64}},
    {"load N", "solutes", ask_at, SOLUTES, 1, {32, 0, {0}, 1}, {4, 8, 16, 32}},
    {"load N", "N", ask_at, MORE, 0, {8, 2, {0}, 1}, {1e3, 1e5, 1e7, 1e9}},
    {"load N", "dump period", ask_at, PERIOD, 0, {8, 2, {0}, 1}, {100, 1e3, 1e4, 1e5, 1e6}},
    {"load N", "dumps in a period", ask_at, DUMPS, 1, {6, 2, {0}, 1}, {4, 40, 400, 4000}},
    {"by steps", "loads", ask_march, MORE, 1, {8, 2, {0}, 1}, {1e3, 1e4, 1e5}},
    {"by steps", "tanks", ask_steps, TANKS, 2, {0, 2, {0}, 1}, {8, 16, 32, 64}},
    {"worst", "tanks", ask_worst, TANKS, 3, {0, 2, {0}, 1}, {8, 16, 32, 64}},
    {"worst", "dump period", ask_worst, PERIOD, 0, {8, 2, {0}, 1}, {100, 1e3, 1e4, 1e5, 1e6}},
    {"worst", "dumps in a period", ask_worst, DUMPS, 1, {6, 2, {0}, 1}, {4, 40, 400, 4000}},
    {"predict", "tanks", ask_predict, TANKS, 3, {0, 2, {0}, 1}, {8, 16, 32, 64}},
    {"predict", "dump period", ask_predict, PERIOD, 0, {8, 2, {0}, 1}, {100, 1e3, 1e4, 1e5, 1e6}},
    {"predict", "dumps in a period", ask_predict, DUMPS, 1, {6, 2, {0}, 1}, {4, 40, 400, 4000}},
    {"size", "tanks", ask_size, TANKS, 3, {0, 2, {0}, 1}, {4, 8, 16, 32}},
    {"layout", "rinses", ask_layout, MORE, 3, {3, 2, {0}, 1}, {2, 4, 8, 16}},
    {"tally", "loads", ask_tally, MORE, 0, {8, 2, {0}, 1}, {1e3, 1e5, 1e7, 1e9}},
    {"tally", "tanks", ask_tally_loads, TANKS, 3, {0, 2, {0}, 1}, {4, 8, 16, 32}},
    {"draws", "draws", ask_draws, MORE, 1, {4, 2, {0}, 1}, {10, 100, 1000}},
    {"dry", "stages", ask_dry, TANKS, 1, {0, 2, {0}, 2}, {4, 8, 16, 32}},
    {"dry", "temperatures", ask_dry, MORE, 1, {1, 1, {0}, 0}, {4, 8, 16, 32, 64}},
    {"reuse", "readings", ask_reuse, MORE, 1, {3, 1, {0}, 0}, {1000, 4000, 16000}},
};

/* A period of 960,000 loads with so many dumps in it. */
static void dump_often(struct plan *plan, double dumps)
{
    plan->dump[0] = 960000;
    plan->dump[1] = (uint64_t)(960000 / dumps);
    plan->dump[2] = 0;
}

static struct plan plan_of(const struct row *row, double size)
{
    struct plan plan = row->plan;

    if (row->larger == TANKS)
        plan.tanks = (unsigned)size;
    else if (row->larger == SOLUTES)
        plan.solutes = (unsigned)size;
    else if (row->larger == PERIOD)
        plan.dump[0] = plan.dump[1] = plan.dump[2] = (uint64_t)size;
    else if (row->larger == DUMPS)
        dump_often(&plan, size);
    return plan;
}

/* What one answer takes: the least of a few for each as many as fill a hundredth of a second; NAN
 * where it fails. */
static double cost_of(const struct row *row, double size)
{
    enum { TIMES = 3 };
    struct plan plan = plan_of(row, size);
    dregs_line *line = line_of(&plan);
    double least = INFINITY, begin, taken;
    unsigned times = 1, i, k;
    int failed = !line;

    for (k = 0; k < TIMES && !failed; k++) {
        double clock = now();
        begin = spent();
        for (i = 0; i < times && !failed; i++)
            failed = row->ask(line, row->larger == MORE ? size : 0);
        taken = (spent() - begin) / times;
        least = fmin(least, taken);
        clock = (now() - clock) / times;
        if (k == 0 && clock < 0.01)
            times = (unsigned)(0.01 / fmax(clock, 1e-5)) + 1;
    }
    dregs_line_free(line);
    return failed ? NAN : least;
}

/* Slope of a straight line through log cost over log size. */
static double slope(const double *size, const double *cost, unsigned count)
{
    double x = 0, y = 0, xx = 0, xy = 0;
    unsigned i;

    for (i = 0; i < count; i++) {
        x += log(size[i]) / count;
        y += log(cost[i]) / count;
    }
    for (i = 0; i < count; i++) {
        xx += (log(size[i]) - x) * (log(size[i]) - x);
        xy += (log(size[i]) - x) * (log(cost[i]) - y);
    }
    return xy / xx;
}

static int measure(const struct row *row)
{
    double cost[SIZES_MOST] = {0};
    unsigned count, i;

    for (count = 0; count < SIZES_MOST && row->size[count] > 0; count++) {
        cost[count] = cost_of(row, row->size[count]);
        if (isnan(cost[count])) {
            fprintf(stderr, "bench-growth: %s by %s: no answer at %g\n", row->question,
                    row->grows_with, row->size[count]);
            return 1;
        }
    }
    printf("%-10s %-22s %6.1f %8.2f ", row->question, row->grows_with, row->stated,
           slope(row->size, cost, count));
    for (i = 0; i < count; i++)
        printf(counter >= 0 ? " %g: %.3gM" : " %g: %.3g", row->size[i],
               cost[i] * (counter >= 0 ? 1e-6 : 1e3));
    putchar('\n');
    fflush(stdout);
    return 0;
}

int main(void)
{
    size_t i;
    int failed = 0;

    gsl_set_error_handler_off();
    liquids = dregs_liquids_new();
    if (!liquids)
        return 1;
    open_counter();
    printf("%-10s %-22s %6s %8s  %s\n", "question", "grows with", "stated", "measured",
           counter >= 0 ? "size: instructions, millions" : "size: ms of processor time");
    for (i = 0; i < sizeof rows / sizeof rows[0]; i++)
        failed |= measure(&rows[i]);
    dregs_liquids_free(liquids);
    return failed;
}
