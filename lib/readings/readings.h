/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings.h: what the files of the readings module share; not installed. */
#ifndef DREGS_READINGS_READINGS_H
#define DREGS_READINGS_READINGS_H

#include "dregs/readings.h"

/* By time; rows of one time stay in the order of the file. */
void dregs_readings_sort(dregs_reading *kept, size_t count, int *unsorted);

/* Makes room: one reading for all of one meter and stage after the same load, then at most half of
 * what can be kept. Returns how many are left; `gone` counts rows. */
size_t dregs_readings_thin(dregs_reading *kept, size_t count, int *unsorted,
                           unsigned long long *gone);

/* Of readings in the order of time: 1 with the first whose running number is below that of an
 * earlier one, `below`. */
int dregs_readings_falls(const dregs_reading *kept, size_t count, size_t *fallen, size_t *below);

/* Sets the gap of `counted`: the longest that is far beyond the schedule and that no count joins.
 */
void dregs_readings_gap(const dregs_reading *kept, size_t count, dregs_readings_count *counted);

/* Sets `at` of every reading from the counts of loads, and puts the readings in that order;
 * `interval` is the time (s) between loads. */
void dregs_readings_place(dregs_reading *kept, size_t count, int running, double interval,
                          dregs_readings_count *counted);

#endif
