/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* clock.h: time and medians for the benchmarks. */
#ifndef DREGS_BENCH_CLOCK_H
#define DREGS_BENCH_CLOCK_H

#include <stdlib.h>
#include <time.h>

/* Seconds since some moment. */
static inline double now(void)
{
    struct timespec at;

    clock_gettime(CLOCK_MONOTONIC, &at);
    return (double)at.tv_sec + (double)at.tv_nsec * 1e-9;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

static inline double median(double *values, size_t count)
{
    qsort(values, count, sizeof *values, by_size);
    return count % 2 ? values[count / 2] : (values[count / 2 - 1] + values[count / 2]) / 2;
}

#endif
