/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_record.c: the solvent plan of a year from records, beside that of the model: what was
 * bought and used, recovered, sold, and left as waste of a stated assay. What the records do not
 * tell makes a range, and is asked for.
 */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>
#include <string.h>

/* What the rows of a year come to for one plan, kg, with the squares of their spreads. */
struct sums {
    double bought, recovered, assayed, unassayed, sold, elsewhere;
    double variance[DREGS_TALLY_RECORDEDS]; /* of I1 to O8 */
    unsigned stated[DREGS_TALLY_RECORDEDS]; /* rows that state a spread */
    double lot; /* that stocks which were not counted may have changed by, all together */
    double variance_of_lots;
    int liquids, named;
};

static void add_spread(struct sums *sums, dregs_tally_recorded of, double sd)
{
    if (isnan(sd))
        return;
    sums->variance[of] += sd * sd;
    sums->stated[of]++;
}

/* A row of a liquid of which a m3 is `density` kg with so much solvent in it. */
static void add_row(struct sums *sums, const dregs_purchase *row, double density, double share)
{
    double solvent = row->volume * density * share, sd = row->sd * density * share;

    switch (row->kind) {
    case DREGS_PURCHASE_BOUGHT:
        sums->bought += solvent;
        add_spread(sums, DREGS_TALLY_RECORDED_I1, sd);
        break;
    case DREGS_PURCHASE_RECOVERED:
        sums->recovered += solvent;
        add_spread(sums, DREGS_TALLY_RECORDED_I2, sd);
        break;
    case DREGS_PURCHASE_DISPOSED:
        if (isnan(row->assay))
            sums->unassayed += solvent;
        else {
            sums->assayed += row->volume * density * row->assay;
            sd = row->sd * density * row->assay;
        }
        add_spread(sums, DREGS_TALLY_RECORDED_O6, sd);
        break;
    case DREGS_PURCHASE_SOLD:
        sums->sold += solvent;
        add_spread(sums, DREGS_TALLY_RECORDED_O7, sd);
        break;
    case DREGS_PURCHASE_ELSEWHERE:
        sums->elsewhere += solvent;
        add_spread(sums, DREGS_TALLY_RECORDED_O8, sd);
        break;
    default:
        break;
    }
}

/* What was counted at both ends of the year is used but for the difference. */
static void add_stock(struct sums *sums, const dregs_tally_bought_liquid *l, double solvent)
{
    double lot = isnan(l->lot[DREGS_TALLY_PUT_IN]) ? 0 : l->lot[DREGS_TALLY_PUT_IN] * solvent;
    unsigned end;

    if (!l->counted) {
        sums->lot += lot;
        sums->variance_of_lots += lot * lot;
        return;
    }
    sums->bought += (l->stock[0].sum.volume - l->stock[1].sum.volume) * solvent;
    for (end = 0; end < 2; end++) {
        const dregs_purchase_sum *sum = &l->stock[end].sum;
        if (sum->rows > sum->silent)
            add_spread(sums, DREGS_TALLY_RECORDED_I1, sum->sd * solvent);
    }
}

static void add_liquid(struct sums *sums, const dregs_tally_actual *actual,
                       const dregs_tally_bought_liquid *l)
{
    double share = dregs_line_fluid(actual->line, l->fluid)->solvent_share.si;
    const dregs_purchase *row;
    size_t i;

    if (!(share < 1))
        share = 1;
    sums->liquids++;
    sums->named &= l->in_file && l->density > 0;
    if (!(l->density > 0))
        return;
    for (i = 0; (row = dregs_purchases_at(actual->purchases, i)) != NULL; i++)
        if (row->fluid == l->fluid && row->year == actual->covered.year)
            add_row(sums, row, l->density, share);
    add_stock(sums, l, l->density * share);
}

/* The number of the plan that a liquid is in; -1 for none. */
static int plan_of(const dregs_tally_law *law, const dregs_fluid *fluid)
{
    unsigned i;

    for (i = 0; i < law->solvents; i++)
        if (strcmp(law->solvent[i].name, fluid->solvent) == 0)
            return law->solvent[i].plan;
    return -1;
}

/* ---- the plan ---- */

/* One end of the range, or what lies between: so much was put in and so much left as waste. What
 * goes down the drain no record tells: it is that of the model, and so is the share of the vapour
 * that is captured taken of the rest without it. */
static dregs_status work_end(const dregs_tally_law *law, const dregs_tally_plan *model,
                             const struct sums *sums, double put_in, double waste,
                             dregs_tally_plan *plan)
{
    double captured = dregs_answer_tally_share_or(law->site->captured, 0), rest, air;
    dregs_law_plan *p = &plan->plan;

    plan->number = model->number;
    plan->activity = model->activity;
    plan->activity_known = model->activity_known;
    plan->least = 0;
    plan->fugitive_more = 0;
    plan->fugitive_less = model->fugitive_less;
    memset(p, 0, sizeof *p);
    p->i1 = fmax(put_in, 0);
    p->i2 = sums->recovered;
    p->o6 = waste;
    p->o7 = sums->sold;
    p->o8 = sums->elsewhere;
    rest = p->i1 - p->o6 - p->o7 - p->o8;
    p->o2 = fmin(model->plan.o2, fmax(rest, 0));
    air = fmax(rest, 0) - p->o2;
    p->o1 = air * captured * (1 - dregs_answer_tally_share_or(law->site->destroyed, 0));
    p->o5 = air * captured - p->o1;
    p->o4 = air - p->o1 - p->o5;
    return dregs_answer_tally_plan_work(law, plan);
}

/* More was put in or less, more left as waste or less: the share that is fugitive is a ratio of
 * linear forms of both, so that it is largest and least at one of these ends. */
enum { ENDS = 4 };

/* A limit is met or missed where all ends of what the records leave open say so. */
static void judge(const dregs_tally_record *record, dregs_tally_plan *plan,
                  const dregs_tally_plan end[ENDS])
{
    unsigned k, i;

    for (k = 0; k < 2; k++) {
        dregs_law_verdict met = DREGS_LAW_EXCLUDED;
        unsigned missed = 0, open = 0;
        for (i = 0; i < ENDS; i++) {
            missed += end[i].met[k] == DREGS_LAW_NO;
            open += end[i].met[k] == DREGS_LAW_ASK;
            if (end[i].met[k] == DREGS_LAW_YES)
                met = DREGS_LAW_YES;
        }
        if (missed == ENDS)
            met = DREGS_LAW_NO;
        else if (missed || open)
            met = DREGS_LAW_ASK;
        plan->met[k] = record->named && !record->below ? met : DREGS_LAW_ASK;
    }
}

static void ask(dregs_tally_law *law, const dregs_tally_actual *actual,
                const dregs_tally_record *record)
{
    if (record->plan->met[0] != DREGS_LAW_ASK && record->plan->met[1] != DREGS_LAW_ASK)
        return;
    if (!record->named)
        dregs_answer_tally_ask(law, TALLY_OPENS_LIMITS, NULL,
                               "rows in the records, and a density on record, of every liquid "
                               "of the solvent plan");
    if (record->below)
        dregs_answer_tally_ask(law, TALLY_OPENS_LIMITS, NULL,
                               "why more left in %d than was bought and in stock, by the "
                               "records of the solvent plan",
                               actual->covered.year);
    if (record->unassayed > 0)
        dregs_answer_tally_ask(law, TALLY_OPENS_LIMITS, NULL,
                               "how much solvent the waste holds: a column assay in the rows "
                               "of kind disposed. Until then it is anything up to that of "
                               "fresh liquid");
    if (record->lot > 0)
        dregs_answer_tally_ask(law, TALLY_OPENS_LIMITS, NULL,
                               "the stock at both ends of the year: rows of kind stock. Until "
                               "then it may have changed by the largest delivery");
}

/* ---- beside the model ---- */

void dregs_answer_tally_put_recorded(const dregs_tally_plan *plan,
                                     double into[DREGS_TALLY_RECORDEDS])
{
    const dregs_law_plan *p = &plan->plan;

    into[DREGS_TALLY_RECORDED_I1] = p->i1;
    into[DREGS_TALLY_RECORDED_I2] = p->i2;
    into[DREGS_TALLY_RECORDED_O6] = p->o6;
    into[DREGS_TALLY_RECORDED_O7] = p->o7;
    into[DREGS_TALLY_RECORDED_O8] = p->o8;
    into[DREGS_TALLY_RECORDED_REST] = p->i1 - p->o6 - p->o7 - p->o8;
    into[DREGS_TALLY_RECORDED_CONSUMPTION] = plan->result.consumption;
    into[DREGS_TALLY_RECORDED_FUGITIVE] = plan->result.fugitive;
}

/* The streams that a figure is made of by adding and taking off, as bits. */
static unsigned parts_of(unsigned figure)
{
    enum { I1 = 1, I2 = 2, O6 = 4, O7 = 8, O8 = 16 };
    static const unsigned char parts[DREGS_TALLY_RECORDEDS] = {
        I1, I2, O6, O7, O8, I1 | O6 | O7 | O8, I1 | O8, I1 | O6 | O7 | O8};

    return parts[figure];
}

static void compare(const dregs_tally_plan *model, const struct sums *sums,
                    dregs_tally_record *record)
{
    double own[DREGS_TALLY_RECORDEDS], modelled[DREGS_TALLY_RECORDEDS];
    unsigned i, k;

    dregs_answer_tally_put_recorded(record->plan, own);
    dregs_answer_tally_put_recorded(model, modelled);
    for (i = 0; i < DREGS_TALLY_RECORDEDS; i++) {
        dregs_tally_both *f = &record->figure[i];
        double variance = 0;
        unsigned stated = 0;
        for (k = 0; k < DREGS_TALLY_RECORDED_REST; k++)
            if (parts_of(i) >> k & 1) {
                variance += sums->variance[k];
                stated += sums->stated[k];
            }
        f->measured = own[i];
        f->modelled = modelled[i];
        (void)dregs_unexplained_work(own[i], stated ? sqrt(variance) : NAN,
                                     parts_of(i) & 1 ? sqrt(sums->variance_of_lots) : NAN,
                                     modelled[i], NAN, &f->unexplained);
        f->scatter = !(f->unexplained.ratio > 2);
    }
}

/* ---- making ---- */

/* All ends; of one where nothing is put in no limit applies. */
static void work_ends(const dregs_tally_law *law, const dregs_tally_plan *model,
                      const struct sums *sums, dregs_tally_plan *plan, dregs_tally_record *record)
{
    dregs_tally_plan end[ENDS] = {0};
    unsigned i;

    record->least = record->most = plan->result;
    for (i = 0; i < ENDS; i++) {
        double put_in = sums->bought + (i & 1 ? sums->lot : -sums->lot);
        double waste = sums->assayed + (i & 2 ? sums->unassayed : 0);
        if (work_end(law, model, sums, put_in, waste, &end[i])) {
            end[i].met[0] = end[i].met[1] = DREGS_LAW_EXCLUDED;
            continue;
        }
        if (end[i].result.fugitive < record->least.fugitive)
            record->least = end[i].result;
        if (end[i].result.fugitive > record->most.fugitive)
            record->most = end[i].result;
    }
    judge(record, plan, end);
}

/* \return 1 where there is such a record. */
static int fill(dregs_tally_law *law, const dregs_tally_actual *actual, const struct sums *sums,
                const dregs_tally_plan *model, dregs_tally_plan *plan, dregs_tally_record *record)
{
    double waste = sums->assayed + sums->unassayed;

    if (!sums->liquids || !(sums->bought + sums->recovered > 0) ||
        work_end(law, model, sums, sums->bought, waste, plan))
        return 0;
    record->plan = plan;
    record->unassayed = sums->unassayed;
    record->lot = sums->lot;
    record->named = sums->named;
    record->below = sums->bought + sums->lot < sums->assayed + sums->sold + sums->elsewhere;
    work_ends(law, model, sums, plan, record);
    ask(law, actual, record);
    compare(model, sums, record);
    return 1;
}

void dregs_answer_tally_records(dregs_tally_law *law, dregs_tally_actual *actual)
{
    unsigned number, i;

    for (number = 0; number < 2; number++) {
        struct sums sums = {.named = 1};
        if (!law->year || !law->plan_used[number])
            continue;
        if (!actual->covered.full) {
            dregs_answer_tally_ask(law, TALLY_OPENS_LIMITS, NULL,
                                   "rows of the whole year %d in the records: a plan is of a year, "
                                   "and till then that of the model stands alone",
                                   actual->covered.year);
            continue;
        }
        for (i = 0; i < actual->liquids; i++)
            if (plan_of(law, dregs_line_fluid(actual->line, i)) == (int)number)
                add_liquid(&sums, actual, &actual->liquid[i]);
        actual->recorded[number] = fill(law, actual, &sums, &law->plan[number],
                                        &actual->recorded_plan[number], &actual->record[number]);
    }
    dregs_answer_tally_asked_done(law);
}

const dregs_tally_record *dregs_tally_actual_record(const dregs_tally_actual *actual,
                                                    unsigned number)
{
    return number < 2 && actual->recorded[number] ? &actual->record[number] : NULL;
}
