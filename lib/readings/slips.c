/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* slips.c: slips of the pen that times and counts of loads tell together: a running number that
 * falls, a date of another year, and a count that rises faster than loads can come.
 */
#include "dregs/unit.h"
#include "readings/readings.h"

#include <math.h>
#include <stdint.h>

/* When a gap is far beyond the schedule. Our own choice. */
#define GAP_LEAST  (14 * 86400.0) /* s */
#define GAP_SECOND 5.0            /* times the longest of the others */
#define GAP_MEDIAN 100.0          /* or times the middle one */

/* When loads come too fast. Our own choice: a row may be written late, and a line run faster than
 * its file says. */
#define RUSH_TIMES 3.0 /* as many loads as there was time for */
#define RUSH_MORE  3.0 /* and so many more */
#define RUSH_SHIFT                                                                                 \
    (8 * 3600.)     /* s: rows of one moment may have been written at the end of a shift */
#define DAY 86400.0 /* s: a date alone may be any time of that day */

int dregs_readings_falls(const dregs_reading *kept, size_t count, size_t *fallen, size_t *below)
{
    size_t i, most = count, now = count; /* of strictly earlier rows; of all so far */

    for (i = 0; i < count; i++) {
        if (i > 0 && kept[i].time > kept[i - 1].time)
            most = now;
        if (kept[i].loads < 0 || kept[i].fresh)
            continue;
        if (most < count && kept[i].loads < kept[most].loads) {
            *fallen = i;
            *below = most;
            return 1;
        }
        if (now == count || kept[i].loads > kept[now].loads)
            now = i;
    }
    return 0;
}

/* 1 when the gap before row `at` is longer than the schedule of the others lets expect. */
static int is_far(const dregs_reading *kept, size_t count, size_t at)
{
    double gap = kept[at].time - kept[at - 1].time, second = 0;
    size_t i, shorter = 0;

    if (!(gap > GAP_LEAST))
        return 0;
    for (i = 1; i < count; i++) {
        double other = kept[i].time - kept[i - 1].time;
        shorter += GAP_MEDIAN * other < gap;
        if (i != at && other > second)
            second = other;
    }
    return gap > GAP_SECOND * second || 2 * shorter > count - 1;
}

/* 1 when the counts do not go on from one side of the gap before row `at` to the other: one falls
 * without a dump, or no tank has readings on both sides. */
static int is_torn(const dregs_reading *kept, size_t count, size_t at)
{
    int64_t before[DREGS_LINE_STAGES]; /* last count; -1: dumped or not read */
    unsigned char read[DREGS_LINE_STAGES] = {0}, seen[DREGS_LINE_STAGES] = {0};
    size_t i;
    int joined = 0;

    for (i = 0; i < DREGS_LINE_STAGES; i++)
        before[i] = -1;
    for (i = 0; i < count; i++) {
        const dregs_reading *row = &kept[i];
        if (row->what == DREGS_MEASURED_DUMP) {
            before[row->stage] = -1;
            seen[row->stage] = seen[row->stage] || i >= at;
        } else if (row->fresh) {
            continue;
        } else if (i < at) {
            before[row->stage] = row->loads;
            read[row->stage] = 1;
        } else {
            joined = joined || read[row->stage];
            if (!seen[row->stage] && row->loads < before[row->stage])
                return 1;
            seen[row->stage] = 1;
        }
    }
    return !joined;
}

void dregs_readings_gap(const dregs_reading *kept, size_t count, dregs_readings_count *counted)
{
    size_t i;

    for (i = 1; i < count; i++) {
        double gap = kept[i].time - kept[i - 1].time;
        if (!(gap > counted->gap) || !(gap > GAP_LEAST) || !is_far(kept, count, i) ||
            !is_torn(kept, count, i))
            continue;
        counted->gap = gap;
        counted->gap_from = kept[i - 1].line;
        counted->gap_to = kept[i].line;
    }
}

/* s that may have passed between two rows. */
static double time_between(const dregs_reading *from, const dregs_reading *to)
{
    double time = to->time - from->time;

    if (fmod(from->time, DAY) == 0 || fmod(to->time, DAY) == 0)
        return time + DAY;
    return time > 0 ? time : RUSH_SHIFT;
}

void dregs_readings_rush(const dregs_reading *kept, size_t count, int running, double interval,
                         dregs_readings_count *counted)
{
    const dregs_reading *before[DREGS_LINE_STAGES] = {NULL};
    size_t i;

    for (i = 0; i < count; i++) {
        const dregs_reading *row = &kept[i], **last = &before[running ? 0 : row->stage];
        double time, loads;
        if (row->fresh || row->loads < 0)
            continue;
        time = *last ? time_between(*last, row) : 0;
        loads = *last ? (double)(row->loads - (*last)->loads) : 0;
        if (loads > RUSH_TIMES * time / interval + RUSH_MORE && loads > counted->rush) {
            counted->rush = loads;
            counted->rush_time = row->time - (*last)->time;
            counted->rush_from = (*last)->line;
            counted->rush_to = row->line;
        }
        *last = row->what == DREGS_MEASURED_DUMP && !running ? NULL : row;
    }
}
