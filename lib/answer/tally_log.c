/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_log.c: what the machines of a facility emitted by month and over each twelve months in a
 * row, from records, 40 CFR 63.471, beside the year of the model.
 *
 * A month is known by what came, what left and the stock at both its turns. Nothing stands in for
 * what a month lacks: a sum with such a month is not known.
 */
#include "answer/tally.h"
#include "base/time.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void dregs_answer_tally_log_free(struct tally_logged *logged)
{
    free(logged->month);
    free(logged->sum);
    free(logged->turn);
}

/* What the spreads of a month come to, which its figures do not show: without the stocks, and those
 * of the stocks at both turns; kg2, and how many rows state one. */
struct spread {
    double flows, opening, closing;
    unsigned flows_stated, opening_stated, closing_stated;
};

/* A log in the making. */
struct log {
    dregs_tally_law *law;
    dregs_tally_actual *actual;
    struct tally_logged *logged;
    struct spread *spread; /* of each month of logged->month */
    int first_year;
    unsigned first_month;
};

static double *weighs(dregs_law_emitted *emitted, const char *solvent)
{
    double weight = dregs_law_facility_weight(solvent);

    return weight > 10  ? &emitted->perchloroethylene
           : weight > 1 ? &emitted->trichloroethylene
                        : &emitted->dichloromethane;
}

static const dregs_tally_machine *machine_of(const struct log *log, unsigned solvent)
{
    return &log->law->machine[log->logged->machine[solvent]];
}

/* Months from the year 0 on. */
static long month_number(const dregs_purchase *row)
{
    return (long)row->year * DREGS_MONTHS + (long)row->month - 1;
}

/* kg of the solvent in a m3 of a liquid as it is when fresh; 0 where its density is not known. */
static double content(const dregs_tally_bought_liquid *l, const dregs_fluid *fluid)
{
    double share = fluid->solvent_share.si < 1 ? fluid->solvent_share.si : 1;

    return l->density > 0 ? l->density * share : 0;
}

/* ---- the months ---- */

static void lack(dregs_tally_log_month *m, unsigned what, const dregs_tally_bought_liquid *l)
{
    m->lacks |= what;
    if (!m->lacking)
        m->lacking = l->name;
}

static void spread_by(double *variance, unsigned *stated, double sd)
{
    if (isnan(sd))
        return;
    *variance += sd * sd;
    ++*stated;
}

/* What was recovered was removed before, by the same row: it moves nothing, nor does its spread. */
static void add_row(dregs_tally_log_month *m, struct spread *spread, const dregs_purchase *row,
                    double density, double fresh)
{
    double kg = row->volume * fresh, assayed = isnan(row->assay) ? 0 : density * row->assay;
    double each = row->kind == DREGS_PURCHASE_DISPOSED ? assayed : fresh;

    switch (row->kind) {
    case DREGS_PURCHASE_BOUGHT:
        m->bought += kg;
        break;
    case DREGS_PURCHASE_DISPOSED:
        m->disposed += row->volume * assayed;
        m->unassayed += isnan(row->assay) ? kg : 0;
        break;
    case DREGS_PURCHASE_SOLD:
        m->sold += kg;
        break;
    case DREGS_PURCHASE_ELSEWHERE:
        m->elsewhere += kg;
        break;
    case DREGS_PURCHASE_RECOVERED:
        m->recovered += kg;
        return;
    default:
        return;
    }
    spread_by(&spread->flows, &spread->flows_stated, row->sd * each);
}

/* All rows of a liquid to the months of its solvent. */
static void add_rows(const struct log *log, dregs_tally_log_month *month, struct spread *spread,
                     const dregs_tally_bought_liquid *l, double fresh)
{
    long first = (long)log->first_year * DREGS_MONTHS + (long)log->first_month - 1, p, seen = 0;
    long months = (long)log->logged->shown.months;
    const dregs_purchase *row;
    size_t i;

    for (i = 0; (row = dregs_purchases_at(log->actual->purchases, i)) != NULL; i++) {
        p = month_number(row) - first;
        if (row->fluid != l->fluid || p < 0 || p >= months)
            continue;
        for (; seen < p; seen++) /* the rows stand in the order of their days */
            lack(&month[seen], DREGS_TALLY_LOG_NO_ROW, l);
        seen = p + 1;
        add_row(&month[p], &spread[p], row, l->density, fresh);
    }
    for (; seen < months; seen++)
        lack(&month[seen], DREGS_TALLY_LOG_NO_ROW, l);
}

/* The stock at the turn before a month, to the month before and to this one. */
static void add_turn(const struct log *log, dregs_tally_log_month *month, struct spread *spread,
                     unsigned turn, const dregs_tally_bought_liquid *l, double fresh)
{
    unsigned of = log->first_month - 1 + turn;
    int year = log->first_year + (int)(of / DREGS_MONTHS);
    dregs_purchase_stock stock = {.sum = {0, 0, 0, 0, 0}};
    int counted = dregs_purchases_stock_before(log->actual->purchases, l->fluid, year,
                                               of % DREGS_MONTHS + 1, &stock);
    double kg = counted ? stock.sum.volume * fresh : NAN;
    double sd = stock.sum.rows > stock.sum.silent ? stock.sum.sd * fresh : NAN;

    if (counted && stock.days)
        log->logged->turn[log->logged->turns++] =
            (dregs_tally_log_turn){l->name, year, of % DREGS_MONTHS + 1, stock};
    if (turn < log->logged->shown.months) {
        month[turn].opening += kg;
        spread_by(&spread[turn].opening, &spread[turn].opening_stated, sd);
        if (!counted)
            lack(&month[turn], DREGS_TALLY_LOG_NO_OPENING, l);
    }
    if (turn > 0) {
        month[turn - 1].closing += kg;
        spread_by(&spread[turn - 1].closing, &spread[turn - 1].closing_stated, sd);
        if (!counted)
            lack(&month[turn - 1], DREGS_TALLY_LOG_NO_CLOSING, l);
    }
}

/* Both sides with no deviation of the model, which draws add. */
static void set_both(dregs_tally_both *f, double measured, double sd, double modelled)
{
    f->measured = measured;
    f->modelled = modelled;
    f->unexplained = (dregs_unexplained){NAN, sd, NAN, NAN, sd, NAN};
    (void)dregs_unexplained_work(measured, sd, NAN, modelled, NAN, &f->unexplained);
    f->scatter = !(f->unexplained.ratio > 2);
}

static void work_month(dregs_tally_log_month *m, const struct spread *s, double modelled)
{
    double emitted, came = m->bought + m->recovered + m->opening;

    m->added = m->bought + m->recovered + (m->opening - m->closing);
    m->removed = m->recovered + m->disposed + m->sold + m->elsewhere;
    emitted = m->bought + (m->opening - m->closing) - m->disposed - m->sold - m->elsewhere;
    if (m->lacks & (DREGS_TALLY_LOG_NO_ROW | DREGS_TALLY_LOG_NO_DENSITY))
        m->added = m->removed = NAN;
    if (m->lacks)
        emitted = NAN;
    set_both(&m->emission, dregs_answer_tally_beyond_rounding(emitted, came + m->removed),
             s->flows_stated + s->opening_stated + s->closing_stated
                 ? sqrt(s->flows + s->opening + s->closing)
                 : NAN,
             modelled);
}

static void fill_solvent(const struct log *log, unsigned solvent)
{
    const dregs_tally_machine *machine = machine_of(log, solvent);
    unsigned months = log->logged->shown.months, i, p;
    dregs_tally_log_month *month = &log->logged->month[(size_t)solvent * months];
    struct spread *spread = &log->spread[(size_t)solvent * months];

    for (p = 0; p < months; p++) {
        unsigned of = log->first_month - 1 + p;
        month[p].solvent = machine->solvent->name;
        month[p].year = log->first_year + (int)(of / DREGS_MONTHS);
        month[p].month = of % DREGS_MONTHS + 1;
    }
    for (i = 0; i < log->actual->liquids; i++) {
        const dregs_tally_bought_liquid *l = &log->actual->liquid[i];
        const dregs_fluid *fluid = dregs_line_fluid(log->actual->line, i);
        if (strcmp(fluid->solvent, machine->solvent->name) != 0)
            continue;
        add_rows(log, month, spread, l, content(l, fluid));
        for (p = 0; p <= months; p++)
            add_turn(log, month, spread, p, l, content(l, fluid));
        for (p = 0; p < months && !(l->density > 0); p++)
            lack(&month[p], DREGS_TALLY_LOG_NO_DENSITY, l);
    }
    for (p = 0; p < months; p++)
        work_month(&month[p], &spread[p], machine->emitted[month[p].month - 1]);
}

/* ---- twelve months ---- */

/* Of one solvent. Stocks in between are the closing one of a month and the opening one of the next:
 * their spreads drop out. */
static double add_twelve(const struct log *log, unsigned solvent, unsigned first,
                         dregs_tally_log_sum *s, struct spread *all)
{
    size_t at = (size_t)solvent * log->logged->shown.months + first;
    double kg = 0, scale = 0;
    unsigned p;

    for (p = 0; p < DREGS_MONTHS; p++, at++) {
        const dregs_tally_log_month *m = &log->logged->month[at];
        const struct spread *spread = &log->spread[at];
        kg += m->emission.measured;
        scale += m->bought + m->opening + m->removed;
        s->unknown += isnan(m->emission.measured) != 0;
        s->bound |= m->unassayed > 0;
        all->flows += spread->flows;
        all->flows_stated += spread->flows_stated;
        if (p == 0)
            all->opening = spread->opening, all->opening_stated = spread->opening_stated;
        if (p == DREGS_MONTHS - 1)
            all->closing = spread->closing, all->closing_stated = spread->closing_stated;
    }
    kg = dregs_answer_tally_beyond_rounding(kg, scale);
    s->below |= kg < 0;
    return kg;
}

/* What a kg of a solvent counts, given what all count: 1 where it is the only one. */
static double counts_as(const dregs_law_emitted *emitted, const char *solvent)
{
    int alone = !(emitted->others > 0) && (emitted->perchloroethylene > 0) +
                                                  (emitted->trichloroethylene > 0) +
                                                  (emitted->dichloromethane > 0) ==
                                              1;

    return alone ? 1 : dregs_law_facility_weight(solvent);
}

static dregs_law_verdict judge_sum(const struct log *log, const dregs_tally_log_sum *s)
{
    if (dregs_answer_tally_facility_excluded(log->law->site))
        return DREGS_LAW_EXCLUDED;
    if (isnan(s->counted.measured))
        return DREGS_LAW_ASK;
    if (!(s->counted.measured > s->limit))
        return dregs_answer_tally_facility_within(log->law, log->logged->shown.least);
    return s->bound ? DREGS_LAW_ASK : dregs_answer_tally_facility_beyond(log->law);
}

static void fill_sum(const struct log *log, unsigned sum, double model, double model_limit)
{
    const dregs_site *site = log->law->site;
    dregs_tally_log_sum *s = &log->logged->sum[sum];
    const dregs_tally_log_month *last = &log->logged->month[sum + DREGS_MONTHS - 1];
    dregs_law_emitted emitted = {0, 0, 0, dregs_answer_tally_share_or(site->other_machines, 0)};
    struct spread each[TALLY_LOGGED_MOST] = {{0, 0, 0, 0, 0, 0}};
    double counted = NAN, variance = 0;
    unsigned i, stated = 0;

    s->year = last->year;
    s->month = last->month;
    s->limit = NAN;
    for (i = 0; i < log->logged->shown.solvents; i++)
        *weighs(&emitted, machine_of(log, i)->solvent->name) +=
            add_twelve(log, i, sum, s, &each[i]);
    if (!s->unknown && !s->below)
        (void)dregs_law_facility_year(dregs_answer_tally_facility_kind(site), &emitted, &counted,
                                      &s->limit);
    for (i = 0; i < log->logged->shown.solvents; i++) {
        double weight = counts_as(&emitted, machine_of(log, i)->solvent->name);
        variance += weight * weight * (each[i].flows + each[i].opening + each[i].closing);
        stated += each[i].flows_stated + each[i].opening_stated + each[i].closing_stated;
    }
    set_both(&s->counted, counted, stated ? sqrt(variance) : NAN,
             isnan(s->limit) || s->limit == model_limit ? model : NAN);
    s->met = judge_sum(log, s);
}

static void fill_sums(const struct log *log)
{
    dregs_tally_log *shown = &log->logged->shown;
    double model, limit, closest = -1;
    unsigned i, open = 0, beyond = 0;

    dregs_answer_tally_facility_year(log->law, &model, &limit);
    shown->closest = shown->sums;
    for (i = 0; i < shown->sums; i++) {
        dregs_tally_log_sum *s = &log->logged->sum[i];
        fill_sum(log, i, model, limit);
        shown->unknown += isnan(s->counted.measured) != 0;
        beyond += s->met == DREGS_LAW_NO;
        open += s->met == DREGS_LAW_ASK;
        if (s->counted.measured / s->limit > closest)
            closest = s->counted.measured / s->limit, shown->closest = i;
    }
    shown->met = beyond                 ? DREGS_LAW_NO
                 : open || !shown->sums ? DREGS_LAW_ASK
                                        : log->logged->sum[0].met; /* of all the same */
}

/* ---- what cannot be, and what is asked for ---- */

/* Rows that cannot be true: nothing is worked out with them. */
static dregs_status check(const struct log *log, dregs_faults *faults)
{
    const dregs_purchases *purchases = log->actual->purchases;
    dregs_purchase_unfit unfit;
    unsigned long lines[2];
    unsigned i, k;

    if (dregs_purchases_doubled(purchases, lines))
        return dregs_fault_add(faults, DREGS_OUT_OF_RANGE, lines[1],
                               "every row of this month stands twice, this one as line %lu: a log "
                               "of 40 CFR 63.471 has each once",
                               lines[0]);
    for (i = 0; i < log->logged->shown.solvents; i++)
        for (k = 0; k < log->actual->liquids; k++) {
            const dregs_fluid *fluid = dregs_line_fluid(log->actual->line, k);
            if (strcmp(fluid->solvent, machine_of(log, i)->solvent->name) == 0 &&
                dregs_purchases_unfit(purchases, k, &unfit))
                return dregs_fault_add(faults, DREGS_OUT_OF_RANGE, unfit.line,
                                       "%.200s: %.6g L in stock, but no more than %.6g L can be: "
                                       "what line %lu counted, and what was bought and recovered "
                                       "since",
                                       fluid->name, unfit.counted * 1e3, unfit.most * 1e3,
                                       unfit.before);
        }
    return DREGS_OK;
}

static void ask(const struct log *log)
{
    const dregs_tally_log *shown = &log->logged->shown;
    unsigned i, unknown = 0, below = 0, bound = 0;

    for (i = 0; i < shown->sums; i++) {
        const dregs_tally_log_sum *s = &log->logged->sum[i];
        unknown |= s->unknown;
        below |= s->below != 0;
        bound |= s->bound && s->met == DREGS_LAW_ASK;
    }
    if (!shown->sums)
        dregs_answer_tally_ask(log->law, TALLY_OPENS_LIMITS, NULL,
                               "records of twelve months in a row (40 CFR 63.471): till then the "
                               "sums of the model stand alone");
    if (unknown)
        dregs_answer_tally_ask(log->law, TALLY_OPENS_LIMITS, NULL,
                               "rows of every month, and counts of stock at both its turns, in the "
                               "records (40 CFR 63.471): a sum with a month that lacks them is not "
                               "known");
    if (below)
        dregs_answer_tally_ask(log->law, TALLY_OPENS_LIMITS, NULL,
                               "why more left in twelve months than was bought and in stock, by "
                               "the records (40 CFR 63.471)");
    if (bound)
        dregs_answer_tally_ask(log->law, TALLY_OPENS_LIMITS, NULL,
                               "how much solvent the waste holds (40 CFR 63.471): a column assay "
                               "in the rows of kind disposed. Until then nothing is taken off for "
                               "it, and the sum is an upper bound");
}

/* ---- making ---- */

/* The solvents of the rule. */
static void find_solvents(struct log *log)
{
    struct tally_logged *logged = log->logged;
    unsigned i;

    for (i = 0; i < log->law->machines && logged->shown.solvents < TALLY_LOGGED_MOST; i++)
        if (dregs_law_facility_weight(log->law->machine[i].solvent->name) > 0)
            logged->machine[logged->shown.solvents++] = i;
}

/* Is a row of a liquid that is logged? */
static int is_logged(const struct log *log, const dregs_purchase *row)
{
    return dregs_law_facility_weight(dregs_line_fluid(log->actual->line, row->fluid)->solvent) > 0;
}

/* A count near the end of its month is the opening one of the next, one near its begin the closing
 * one of the month before: a month that has nothing else is not begun, or is over. */
static int turns(const dregs_purchase *row, int at_end)
{
    int off =
        at_end ? dregs_month_days(row->year, (int)row->month) - (int)row->day : (int)row->day - 1;

    return row->kind == DREGS_PURCHASE_STOCK && off <= DREGS_PURCHASE_TURN_DAYS;
}

/* The months of the rows of what is logged. \return 0 where there is none. */
static int find_months(struct log *log)
{
    const dregs_purchase *row;
    long first = -1, last = -1;
    int opens = 1, closes = 1; /* the first month, the last month has counts of that kind alone */
    size_t i;

    for (i = 0; (row = dregs_purchases_at(log->actual->purchases, i)) != NULL; i++) {
        if (!is_logged(log, row))
            continue;
        if (first < 0)
            first = month_number(row);
        if (month_number(row) == first)
            opens &= turns(row, 1);
        if (month_number(row) != last)
            closes = 1;
        last = month_number(row);
        closes &= turns(row, 0);
    }
    if (first < 0)
        return 0;
    first += opens && first < last;
    last -= closes && first < last;
    log->first_year = (int)(first / DREGS_MONTHS);
    log->first_month = (unsigned)(first % DREGS_MONTHS) + 1;
    log->logged->shown.months = (unsigned)(last - first) + 1;
    return 1;
}

static dregs_status fill(struct log *log)
{
    dregs_tally_log *shown = &log->logged->shown;
    size_t months = (size_t)shown->months * shown->solvents;
    unsigned i;

    shown->sums = shown->months < DREGS_MONTHS ? 0 : shown->months - DREGS_MONTHS + 1;
    shown->least = isnan(log->law->site->other_machines);
    log->logged->month = calloc(months + 1, sizeof *log->logged->month);
    log->logged->sum = calloc((size_t)shown->sums + 1, sizeof *log->logged->sum);
    log->logged->turn =
        calloc(((size_t)shown->months + 1) * (log->actual->liquids + 1), sizeof *log->logged->turn);
    log->spread = calloc(months + 1, sizeof *log->spread);
    if (!log->logged->month || !log->logged->sum || !log->logged->turn || !log->spread)
        return DREGS_NO_MEMORY;
    for (i = 0; i < shown->solvents; i++)
        fill_solvent(log, i);
    fill_sums(log);
    log->logged->used = 1;
    return DREGS_OK;
}

dregs_status dregs_answer_tally_log(dregs_tally_law *law, dregs_tally_actual *actual,
                                    dregs_faults *faults)
{
    struct log log = {law, actual, &actual->logged, NULL, 0, 0};
    dregs_status status;

    if (!law->facility_used)
        return DREGS_OK;
    find_solvents(&log);
    if (!find_months(&log))
        return DREGS_OK;
    status = check(&log, faults);
    if (!status)
        status = fill(&log);
    free(log.spread);
    if (status)
        return status;
    if (!dregs_answer_tally_facility_excluded(law->site))
        ask(&log);
    dregs_answer_tally_asked_done(law);
    return DREGS_OK;
}

/* ---- draws ---- */

/* The twelve months of the model's year, and each month of each solvent. */
unsigned dregs_answer_tally_logged_count(const dregs_tally_actual *actual)
{
    return actual && actual->logged.used ? 1 + actual->logged.shown.solvents * DREGS_MONTHS : 0;
}

void dregs_answer_tally_put_logged(const dregs_tally_actual *actual, const dregs_tally_law *law,
                                   double *into)
{
    double limit;
    unsigned i, p;

    if (!law->facility_used)
        return;
    dregs_answer_tally_facility_year(law, into, &limit);
    for (i = 0; i < actual->logged.shown.solvents; i++)
        for (p = 0; p < DREGS_MONTHS && actual->logged.machine[i] < law->machines; p++)
            into[1 + i * DREGS_MONTHS + p] = law->machine[actual->logged.machine[i]].emitted[p];
}

/* ---- reading ---- */

const dregs_tally_log *dregs_tally_actual_log(const dregs_tally_actual *actual)
{
    return actual->logged.used ? &actual->logged.shown : NULL;
}

const dregs_tally_log_month *dregs_tally_actual_log_month(const dregs_tally_actual *actual,
                                                          unsigned solvent, unsigned month)
{
    const dregs_tally_log *log = dregs_tally_actual_log(actual);

    return log && solvent < log->solvents && month < log->months
               ? &actual->logged.month[(size_t)solvent * log->months + month]
               : NULL;
}

const dregs_tally_log_sum *dregs_tally_actual_log_sum(const dregs_tally_actual *actual,
                                                      unsigned sum)
{
    const dregs_tally_log *log = dregs_tally_actual_log(actual);

    return log && sum < log->sums ? &actual->logged.sum[sum] : NULL;
}

const dregs_tally_log_turn *dregs_tally_actual_log_turn(const dregs_tally_actual *actual,
                                                        unsigned index)
{
    return actual->logged.used && index < actual->logged.turns ? &actual->logged.turn[index] : NULL;
}
