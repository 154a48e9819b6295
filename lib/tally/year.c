/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* year.c: what one substance does in each period of the calendar, and in all. */
#include "line/line.h"
#include "tally/inside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Months of the dates, of the year that is looked at. */
static void set_months(const dregs_tally *tally, struct period *period, unsigned month,
                       unsigned months)
{
    dregs_calendar_dates_count(&tally->dates, DREGS_MONTHS + month, months, &period->days,
                               &period->loads, &period->seconds, &period->idle);
    period->first = DREGS_MONTHS + month;
    period->months = months;
}

uint64_t dregs_tally_year_before(const dregs_tally *tally)
{
    const dregs_calendar *c = &tally->calendar;
    uint64_t days, loads;
    double seconds, idle;

    if (!tally->dated)
        return c->days_per_year * c->shifts_per_day * c->loads_per_shift;
    dregs_calendar_dates_count(&tally->dates, 0, DREGS_MONTHS, &days, &loads, &seconds, &idle);
    return loads;
}

static void set_days(const dregs_tally *tally, struct period *period, uint64_t before,
                     uint64_t days)
{
    const dregs_calendar *c = &tally->calendar;

    period->days = days;
    period->loads = days * c->shifts_per_day * c->loads_per_shift;
    period->seconds = dregs_calendar_seconds(c, before, days);
    period->idle = period->seconds - (double)(days * c->shifts_per_day) * c->shift;
}

/* Months from the first one of the year on. */
static void set_some_months(const dregs_tally *tally, struct period *period, unsigned month,
                            unsigned months)
{
    uint64_t before = dregs_calendar_days_before(&tally->calendar, month);

    if (tally->dated)
        set_months(tally, period, month, months);
    else
        set_days(tally, period, before,
                 dregs_calendar_days_before(&tally->calendar, month + months) - before);
}

/* The months of the year before: by dates its own, else the same again. */
static void set_before(dregs_tally *tally)
{
    struct period *period = tally->period + tally->periods + 1;
    unsigned m;

    for (m = 0; m < tally->before; m++, period++) {
        *period = tally->period[m];
        if (!tally->dated)
            continue;
        period->first = m;
        dregs_calendar_dates_count(&tally->dates, m, 1, &period->days, &period->loads,
                                   &period->seconds, &period->idle);
    }
}

void dregs_tally_set_periods(dregs_tally *tally)
{
    const dregs_calendar *c = &tally->calendar;
    struct period *whole = &tally->period[tally->periods];
    unsigned i;

    switch (tally->request.span) {
    case DREGS_SPAN_LOADS:
        whole->loads = tally->request.loads;
        whole->seconds = (double)whole->loads * dregs_line_load(tally->line)->interval.si;
        break;
    case DREGS_SPAN_SHIFT:
        whole->loads = c->loads_per_shift;
        whole->seconds = c->shift;
        break;
    case DREGS_SPAN_DAY:
        set_days(tally, whole, 0, 1);
        break;
    case DREGS_SPAN_MONTH:
        set_some_months(tally, whole, 0, 1);
        break;
    case DREGS_SPAN_QUARTER:
        set_some_months(tally, whole, 0, 3);
        break;
    default:
        for (i = 0; i < DREGS_MONTHS; i++)
            set_some_months(tally, &tally->period[i], i, 1);
        set_some_months(tally, whole, 0, DREGS_MONTHS);
        set_before(tally);
        return;
    }
    tally->period[0] = *whole;
}

static void zero_sums(const struct ledger *ledger, double *z)
{
    size_t n = ledger->tanks, dim = ledger->dim;

    memset(z + n, 0, (dim - 1 - n) * sizeof *z);
}

static dregs_status pass_days(struct march *march, const dregs_tally *tally,
                              const struct period *period, double *z)
{
    return period->months ? dregs_calendar_march_months(march, &tally->dates, period->first,
                                                        period->months, z, 1)
                          : dregs_calendar_march_days(march, period->days, z, 1);
}

static dregs_status work_period(struct march *march, const dregs_tally *tally, struct substance *s,
                                unsigned period, double *z)
{
    struct account *account = &s->account[period];
    size_t n = s->ledger.tanks;
    dregs_status status;

    zero_sums(&s->ledger, z);
    memcpy(account->first, z, n * sizeof *z);
    switch (tally->request.span) {
    case DREGS_SPAN_LOADS:
        status = dregs_calendar_march_loads(march, tally->period[period].loads, z, 1);
        break;
    case DREGS_SPAN_SHIFT:
        status = dregs_calendar_march_shift(march, z, 1);
        break;
    default:
        status = pass_days(march, tally, &tally->period[period], z);
    }
    memcpy(account->last, z, n * sizeof *z);
    memcpy(account->sum, z, s->ledger.dim * sizeof *z);
    return status;
}

/* At the fresh start tanks are empty and are filled; one that runs holds what a year has left. */
static dregs_status start(struct march *march, const dregs_tally *tally, unsigned substance,
                          double *z)
{
    struct substance *s = &tally->substance[substance];
    dregs_status status = DREGS_OK;
    unsigned t, m;

    for (t = 0; t < s->ledger.tanks; t++) {
        const dregs_tank *tank = dregs_line_tank(tally->line, t);
        unsigned fluid = dregs_line_stage(tally->line, tank->stage)->liquid.index;
        z[t] = tank->volume * dregs_stage_fresh_content(tally->line, substance, fluid);
    }
    z[s->ledger.dim - 1] = 1.0;
    for (m = 0; m < tally->before && !status; m++)
        status = work_period(march, tally, s, tally->periods + 1 + m, z);
    if (tally->before)
        return status;
    if (tally->request.running && tally->dated)
        return dregs_calendar_march_months(march, &tally->dates, 0, DREGS_MONTHS, z, 1);
    if (tally->request.running)
        return dregs_calendar_march_days(march, tally->calendar.days_per_year, z, 1);
    memcpy(s->account[0].filled, z, s->ledger.tanks * sizeof *z);
    return DREGS_OK;
}

static void add_up(struct substance *s, unsigned periods)
{
    struct account *whole = &s->account[periods];
    size_t n = s->ledger.tanks, i;
    unsigned p;

    memcpy(whole->first, s->account[0].first, n * sizeof *whole->first);
    memcpy(whole->last, s->account[periods - 1].last, n * sizeof *whole->last);
    memcpy(whole->filled, s->account[0].filled, n * sizeof *whole->filled);
    for (p = 0; p < periods; p++)
        for (i = n; i + 1 < s->ledger.dim; i++)
            whole->sum[i] += s->account[p].sum[i];
}

static dregs_status check_finite(const struct substance *s, unsigned periods)
{
    const struct account *whole = &s->account[periods];
    size_t i;

    for (i = 0; i + 1 < s->ledger.dim; i++)
        if (!isfinite(i < s->ledger.tanks ? whole->last[i] : whole->sum[i]))
            return DREGS_NUMERIC;
    return DREGS_OK;
}

dregs_status dregs_tally_march(dregs_tally *tally, unsigned substance, struct calendar_gaps *gaps)
{
    struct substance *s = &tally->substance[substance];
    struct march *march = NULL;
    struct ledger with;
    double *z = calloc(s->ledger.dim, sizeof *z);
    dregs_status status = z ? DREGS_OK : DREGS_NO_MEMORY;
    unsigned p;

    dregs_balance_ledger_stages(tally->line, substance, &with);
    if (!status)
        status = dregs_calendar_march_new(tally->line, substance, &with, &s->ledger,
                                          &tally->calendar, gaps, &march);
    if (!status)
        status = start(march, tally, substance, z);
    for (p = 0; p < tally->periods && !status; p++)
        status = work_period(march, tally, s, p, z);
    if (!status) {
        if (!tally->request.running) /* what was filled in was not there before */
            memset(s->account[0].first, 0, s->ledger.tanks * sizeof *z);
        add_up(s, tally->periods);
        status = check_finite(s, tally->periods);
    }
    dregs_calendar_march_free(march);
    free(z);
    return status;
}
