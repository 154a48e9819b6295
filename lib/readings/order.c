/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* order.c: readings in the order of time, fewer of them, and at their place among the loads. */
#include "readings/readings.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static int by_time(const void *a, const void *b)
{
    const dregs_reading *x = a, *y = b;

    if (x->time != y->time)
        return x->time < y->time ? -1 : 1;
    return x->line < y->line ? -1 : x->line > y->line;
}

void dregs_readings_sort(dregs_reading *kept, size_t count, int *unsorted)
{
    if (*unsorted)
        qsort(kept, count, sizeof *kept, by_time);
    *unsorted = 0;
}

/* The mean of both; what is stated for single rows is no longer so for the mean of many. */
static void merge(dregs_reading *into, const dregs_reading *from)
{
    double all = (double)into->rows + from->rows, part = from->rows / all;

    into->value += part * (from->value - into->value);
    into->temperature += part * (from->temperature - into->temperature);
    into->sd = fmax(into->sd, from->sd);
    into->least = fmax(into->least, from->least);
    into->rows += from->rows;
}

static int one_reading(const dregs_reading *a, const dregs_reading *b)
{
    return a->stage == b->stage && a->what == b->what && fabs(a->recovery - b->recovery) <= 0 &&
           a->which == b->which && a->unit == b->unit && a->loads == b->loads &&
           a->fresh == b->fresh && a->beyond == b->beyond && (!a->beyond || a->value == b->value) &&
           a->what != DREGS_MEASURED_DUMP && isnan(a->temperature) == isnan(b->temperature);
}

size_t dregs_readings_thin(dregs_reading *kept, size_t count, size_t thinned,
                           unsigned long long *gone)
{
    enum { NEAR = 16 }; /* meters that take turns */
    size_t i, k, left = thinned, drop;

    for (i = thinned; i < count; i++) {
        for (k = 1; k <= NEAR && k <= left; k++) {
            if (kept[left - k].what == DREGS_MEASURED_DUMP && kept[left - k].stage == kept[i].stage)
                k = NEAR; /* the same count again, but of another fill */
            else if (one_reading(&kept[left - k], &kept[i]))
                break;
        }
        if (k <= NEAR && k <= left)
            merge(&kept[left - k], &kept[i]);
        else
            kept[left++] = kept[i];
    }
    if (left <= DREGS_READINGS_KEPT / 2)
        return left;
    drop = left - DREGS_READINGS_KEPT / 2;
    for (i = 0; i < drop; i++)
        *gone += kept[i].rows;
    memmove(kept, kept + drop, (left - drop) * sizeof *kept);
    return left - drop;
}

/* The count of loads, followed through the log. */
struct count {
    int running;
    int begun;
    double interval; /* s between loads */
    double time;     /* of the row before */
    int64_t now;     /* loads through the line */
    struct tank {
        int seen;
        int after_dump; /* nothing but a dump row since */
        int64_t filled; /* `now` at the last fill */
        int64_t last;   /* the last count read; at a dump the one it was dumped at */
        int64_t last_at;
    } tank[DREGS_LINE_STAGES];
    dregs_readings_count *counted;
};

static void happened(unsigned long long *count, unsigned long *first, unsigned long line)
{
    if (++*count == 1)
        *first = line;
}

/* The first word of a tank: it was filled that many loads ago. As many loads as there was time for
 * may have passed since the row before. */
static void begin(struct count *c, struct tank *tank, int64_t loads, double time)
{
    double room = c->begun ? floor((time - c->time) / c->interval + 0.5) : 0.0;

    if (!c->begun)
        c->now = loads;
    else if (loads > c->now)
        c->now += room < (double)(loads - c->now) ? (int64_t)room : loads - c->now;
    c->begun = 1;
    tank->seen = 1;
    tank->filled = c->now - loads;
    tank->last = loads;
    tank->last_at = c->now;
}

static void place_dump(struct count *c, dregs_reading *reading)
{
    struct tank *tank = &c->tank[reading->stage];
    int64_t at = c->now;

    if (c->running && reading->loads >= 0)
        at = reading->loads;
    else if (reading->loads >= 0) /* a tank not heard of before was filled when the log began */
        at = tank->filled + reading->loads;
    if (!c->begun || at > c->now)
        c->now = at;
    c->begun = 1;
    if (tank->seen && at < tank->last_at)
        at = tank->last_at; /* after what was read before it */
    reading->at = reading->fill = at;
    tank->seen = tank->after_dump = 1;
    tank->filled = at;
    tank->last = reading->loads;
    tank->last_at = at;
}

static void place_reading(struct count *c, dregs_reading *reading)
{
    struct tank *tank = &c->tank[reading->stage];

    if (reading->fresh) {
        reading->at = c->now;
        reading->fill = -1;
        return;
    }
    if (c->running) {
        reading->at = reading->loads;
        reading->fill = -1;
        c->now = reading->loads > c->now || !c->begun ? reading->loads : c->now;
        c->begun = 1;
        return;
    }
    if (!tank->seen) {
        begin(c, tank, reading->loads, reading->time);
    } else if (tank->after_dump) {
        if (tank->last > 0 && reading->loads > tank->last)
            happened(&c->counted->went_on, &c->counted->first_went_on, reading->line);
        else
            c->counted->anew++;
    } else if (reading->loads < tank->last) {
        int64_t filled = c->now - reading->loads;
        happened(&c->counted->went_back, &c->counted->first_went_back, reading->line);
        tank->filled = filled > tank->last_at ? filled : tank->last_at;
    }
    tank->after_dump = 0;
    reading->fill = tank->filled;
    reading->at = tank->filled + reading->loads;
    if (reading->at > c->now)
        c->now = reading->at;
    tank->last = reading->loads;
    tank->last_at = reading->at;
}

static int by_load(const void *a, const void *b)
{
    const dregs_reading *x = a, *y = b;

    if (x->at != y->at)
        return x->at < y->at ? -1 : 1;
    /* what is left on a load is told before what the tanks hold behind it */
    if ((x->what == DREGS_MEASURED_ON_PARTS) != (y->what == DREGS_MEASURED_ON_PARTS))
        return x->what == DREGS_MEASURED_ON_PARTS ? -1 : 1;
    return by_time(a, b);
}

void dregs_readings_place(dregs_reading *kept, size_t count, int running, double interval,
                          dregs_readings_count *counted)
{
    struct count count_of = {0}, *c = &count_of;
    int64_t first = INT64_MAX;
    size_t i;
    int ordered = 1;

    c->running = running;
    c->interval = interval;
    c->counted = counted;
    for (i = 0; i < count; i++) {
        if (kept[i].what == DREGS_MEASURED_DUMP)
            place_dump(c, &kept[i]);
        else
            place_reading(c, &kept[i]);
        c->time = kept[i].time;
        ordered = ordered && (i == 0 || by_load(&kept[i - 1], &kept[i]) <= 0);
    }
    if (!ordered)
        qsort(kept, count, sizeof *kept, by_load);
    /* count from the first fill that is known of; a running number does so already */
    for (i = 0; i < count && !running; i++)
        if (!kept[i].fresh && kept[i].fill < first)
            first = kept[i].fill;
    if (first == INT64_MAX)
        first = 0; /* nothing but fresh liquid */
    for (i = 0; i < count && !running; i++) {
        kept[i].at -= first;
        kept[i].fill -= kept[i].fresh ? 0 : first;
    }
}
