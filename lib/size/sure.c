/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* sure.c: what meets the target not as stated alone but in so many draws of the doubtful values.
 *
 * The excess that the asked share of the draws does not pass (doubt.c) is to be at most 1. What is
 * sought is how far below the limits the line as stated must stay for that: ln(excess) is brought
 * to 0 over the logarithm of that margin, by the secant through the bracket, every third time by
 * halving. Draw i is the same in all trials, so that the excess falls with the margin without
 * scatter, and the answer is exact for these draws. With one property the margin and the value go
 * together; of several the answer is what takes least to keep that margin.
 *
 * A limit that what is varied moves hardly or not at all, as the wash's for the flow of a rinse,
 * can keep no margin, or a dear one. One property is then sought by its value, between what keeps
 * the last margin that can be kept and the cleanest there is. Several, and one of which nothing was
 * found so, are sought once more with the margin kept of residues alone and the other limits as
 * they are stated; and several one by one too with the others as the file states them, so that they
 * are never dearer than one. The cheapest of all this is the answer.
 *
 * Where nothing of it is met so often, and of several wherever a margin could not be kept, the ends
 * of the ranges are asked, and from the one that is met best the way leads back to what just meets
 * the target, and from there along each property. Where none is, it is shown that no values are
 * only when some one limit is passed too often at every end: residue and limits are taken to go one
 * way with each value, as in proof.c, but different limits may go different ways.
 */
#include "line/line.h"
#include "size/inside.h"
#include "size/size.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NEAR    1e-5 /* of the limit: as near as the answer is sought */
#define CLOSEST 1e-9 /* between two margins: then only a jump is left */

enum { TRIES = 24, VALUES = 44 };

/* What is varied, of the line that was found. */
static dregs_status vary_again(const dregs_line *line, const dregs_varied *as, dregs_varied **made,
                               char *message)
{
    dregs_varied *varied = dregs_varied_new(line);
    dregs_status status = varied ? DREGS_OK : DREGS_NO_MEMORY;
    unsigned i;

    for (i = 0; i < as->count && !status; i++) {
        const struct varied *one = &as->one[i];
        status = dregs_varied_add(varied, one->property, one->stage, one->stages, one->low,
                                  one->high, message);
        if (!status) {
            varied->one[i].low_given = one->low_given;
            varied->one[i].high_given = one->high_given;
        }
    }
    if (status)
        dregs_varied_free(varied);
    else
        *made = varied;
    return status;
}

/* Of which limits a margin is kept. */
enum kept { ALL_LIMITS, RESIDUES };

/* What keeps a margin: the limits times `margin` in place of the limits. Or, with values, those. */
static dregs_status size_with(const dregs_line *line, const dregs_sized *just,
                              const struct size_doubt *doubt, enum kept of, double margin,
                              const double *value, dregs_sized **sized, char *message)
{
    dregs_line *found = NULL;
    dregs_varied *varied = NULL;
    dregs_status status = dregs_size_found(line, just, &found);

    if (!status)
        status = vary_again(found, just->varied, &varied, message);
    if (!status) {
        varied->margin = of == ALL_LIMITS ? margin : 1;
        status =
            value ? dregs_size_at(varied, doubt->criterion, doubt->by_cost, value, sized, message)
                  : dregs_size_kept(varied, doubt->criterion, doubt->by_cost,
                                    of == RESIDUES ? margin : 1, sized, message);
    }
    dregs_line_free(found);
    return status;
}

/* One side of the bracket: the logarithms of margin and excess, and the values. */
struct side {
    double margin, excess, value[DREGS_VARIED_MOST];
};

struct bracket {
    struct side met, missed;
    int closed; /* there is a side that is met */
};

/* A search for what is sure enough, from what just meets the target as stated. */
struct hunt {
    const dregs_line *line;
    const dregs_sized *just;
    const struct size_doubt *doubt;
    dregs_sized *found;      /* the cheapest that is met so often; NULL */
    struct size_stand stand; /* of that; without it of what came nearest */
    int held; /* every margin could be kept, and no limit of a concentration was the nearest */
    char *message;
};

/* The next margin: as far as the excess is beyond, while nothing is met, and farther each time;
 * then between both. */
static double next_margin(const struct bracket *b, int turn)
{
    double share = 0.5;

    if (!b->closed)
        return b->missed.margin -
               fmax(b->missed.excess, 1e-3) * (turn > 1 ? ldexp(1, turn - 1) : 1.02);
    if (turn % 3 && isfinite(b->missed.excess))
        share = -b->met.excess / (b->missed.excess - b->met.excess);
    share = fmin(fmax(share, 0.02), 0.98);
    return b->met.margin + share * (b->missed.margin - b->met.margin);
}

static int is_close(const struct bracket *b, const dregs_varied *as)
{
    if (!b->closed)
        return b->missed.margin < -30; /* 1e-13 of the limit */
    return b->met.excess > -NEAR || b->missed.margin - b->met.margin < CLOSEST ||
           (as->count == 1 && as->one->whole && fabs(b->met.value[0] - b->missed.value[0]) <= 1);
}

static double logarithm(double excess)
{
    return isfinite(excess) ? log(fmax(excess, 1e-300)) : 700.0;
}

static int is_apart(const struct bracket *b, const dregs_varied *as, unsigned i)
{
    double apart = fabs(b->met.value[i] - b->missed.value[i]);

    return as->one[i].whole ? apart > 1 : apart > NEAR * fabs(b->met.value[i]);
}

/* Half way between the sides, by the logarithm where that can be; of a count one that is neither.
 * 0 when the sides are as near as that. */
static int half_way(const struct bracket *b, const dregs_varied *as, double *value)
{
    int apart = 0;
    unsigned i;

    for (i = 0; i < as->count; i++) {
        double low = fmin(b->met.value[i], b->missed.value[i]);
        double high = fmax(b->met.value[i], b->missed.value[i]);
        value[i] = low > 0 ? sqrt(low) * sqrt(high) : (low + high) / 2;
        if (!is_apart(b, as, i))
            value[i] = b->met.value[i];
        else if (as->one[i].whole)
            value[i] = fmin(fmax(round(value[i]), low + 1), high - 1);
        apart |= is_apart(b, as, i) && (as->one[i].whole || b->met.excess <= -NEAR);
    }
    return apart;
}

/* The working lists all trials, in their order. */
static void add_trials(dregs_sized *found, dregs_sized *tried)
{
    unsigned i, kept = tried->trials < TRIALS_MOST ? tried->trials : TRIALS_MOST;

    for (i = 0; i < kept; i++, found->trials++)
        if (found->trials < TRIALS_MOST)
            found->trial[found->trials] = tried->trial[i];
    memcpy(tried->trial, found->trial, sizeof tried->trial);
    tried->trials = found->trials;
}

/* Sizes or places, and asks the draws. */
static dregs_status try_it(const struct hunt *h, enum kept of, double margin, const double *value,
                           dregs_sized **tried, struct size_stand *here, struct side *side)
{
    dregs_status status =
        size_with(h->line, h->just, h->doubt, of, margin, value, tried, h->message);

    if (status)
        return status;
    side->margin = log(margin);
    memcpy(side->value, (*tried)->value, sizeof side->value);
    *here = (struct size_stand){.excess = HUGE_VAL};
    if (isfinite((*tried)->compliance.of_limit)) /* else the values do not make a line */
        status = dregs_size_stand(h->line, *tried, h->doubt, here, h->message);
    side->excess = logarithm(here->excess);
    if (status) {
        dregs_sized_free(*tried);
        *tried = NULL;
    }
    return status;
}

static double expense(const struct hunt *h, const dregs_sized *sized)
{
    return h->doubt->by_cost ? sized->use.cost : sized->use.bought;
}

static int is_nearer(const struct size_stand *here, const struct size_stand *than)
{
    return here->met > than->met || (here->met == than->met && here->excess < than->excess);
}

/* Keeps what was tried where it is the cheapest that is met, or the nearest while none is. */
static void offer(struct hunt *h, dregs_sized *tried, const struct size_stand *here)
{
    int better;

    if (here->excess > 1) {
        if (!h->found && is_nearer(here, &h->stand))
            h->stand = *here;
        dregs_sized_free(tried);
        return;
    }
    better = !h->found || expense(h, tried) < expense(h, h->found) * (1 - 1e-6);
    if (h->found)
        add_trials(h->found, tried);
    dregs_sized_free(better ? h->found : tried);
    if (better) {
        h->found = tried;
        h->stand = *here;
    }
}

/* From values that are met back towards others that are not, to the last that are. */
static dregs_status go_back(const struct hunt *h, struct bracket *b, struct size_stand *best,
                            dregs_sized **found)
{
    double value[DREGS_VARIED_MOST];
    dregs_status status = DREGS_OK;
    int turn;

    for (turn = 0; turn < VALUES && half_way(b, h->just->varied, value) && !status; turn++) {
        dregs_sized *tried = NULL;
        struct size_stand here;
        struct side side;
        status = try_it(h, ALL_LIMITS, 1, value, &tried, &here, &side);
        if (status)
            break;
        add_trials(*found, tried);
        if (side.excess <= 0) {
            b->met = side;
            *best = here;
            dregs_sized_free(*found);
            *found = tried;
        } else {
            b->missed = side;
            dregs_sized_free(tried);
        }
    }
    return status;
}

/* By margins. */
static dregs_status seek_margin(struct hunt *h, const struct size_stand *just, enum kept of)
{
    const dregs_varied *as = h->just->varied;
    struct bracket b = {{0, 0, {0}}, {0, logarithm(just->excess), {0}}, 0};
    dregs_sized *found = NULL, *tried;
    struct size_stand best = *just, here;
    dregs_status status = DREGS_OK;
    int turn, back = 0, ends = 0;

    memcpy(b.missed.value, h->just->value, sizeof b.missed.value);
    for (turn = 1; turn <= TRIES && !back && !ends && !is_close(&b, as); turn++) {
        struct side side;
        double margin = next_margin(&b, turn);
        status = try_it(h, of, exp(fmax(margin, -60)), NULL, &tried, &here, &side);
        if (status)
            break;
        h->held = h->held && tried->feasible;
        if (side.excess <= 0) {
            back = as->count == 1 && !tried->feasible;
            dregs_sized_free(found);
            found = tried;
            b.met = side;
            b.closed = 1;
            best = here;
        } else {
            ends = !tried->feasible && !b.closed; /* the range holds nothing cleaner */
            if (!b.closed && is_nearer(&here, &best))
                best = here;
            b.missed = side;
            dregs_sized_free(tried);
        }
    }
    if (back && !status)
        status = go_back(h, &b, &best, &found);
    if (found && found->bounded && found->bound.share > 0.999 * exp(b.met.margin))
        h->held = 0;
    if (status)
        dregs_sized_free(found);
    else if (found)
        offer(h, found, &best);
    else if (!h->found && is_nearer(&best, &h->stand))
        h->stand = best;
    return status;
}

/* By the margin of all limits, and where one of those that no residue has may have stood in the way
 * by that of the residues: of several properties that may be cheaper. */
static dregs_status seek_margins(struct hunt *h, const struct size_stand *just)
{
    dregs_status status = seek_margin(h, just, ALL_LIMITS);

    if (!status && !h->held && h->just->bounded && (!h->found || h->just->varied->count > 1))
        status = seek_margin(h, just, RESIDUES);
    return status;
}

/* ---- several properties ---- */

/* What the file states of each, where it lies in its range; else what just meets the target. */
static void own_values(const struct hunt *h, double *value)
{
    const dregs_varied *as = h->just->varied;
    dregs_value stated = {0};
    unsigned i, k;

    for (i = 0; i < as->count; i++) {
        const struct varied *one = &as->one[i];
        value[i] = h->just->value[i];
        for (k = 0; k < one->stages; k++)
            if (dregs_line_get(h->line, one->stage[k], one->property, &stated) ||
                !(stated.si >= one->low && stated.si <= one->high))
                break;
        if (k == one->stages)
            value[i] = stated.si;
    }
}

/* What cannot be drawn, or makes no line, is no answer; others may be. */
static dregs_status pass_over(dregs_status status)
{
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* The sure value of one property, of a line that holds the others; NaN where there is none. */
static dregs_status seek_one(const struct hunt *h, const dregs_line *on, unsigned i, double *value)
{
    const struct varied *one = &h->just->varied->one[i];
    struct hunt alone = {.line = on, .doubt = h->doubt, .held = 1, .message = h->message};
    dregs_varied *varied = dregs_varied_new(on);
    dregs_sized *just = NULL;
    struct size_stand stand = {.excess = HUGE_VAL};
    dregs_status status = varied ? dregs_varied_add(varied, one->property, one->stage, one->stages,
                                                    one->low, one->high, h->message)
                                 : DREGS_NO_MEMORY;

    *value = NAN;
    if (status) {
        dregs_varied_free(varied);
        return status;
    }
    status = dregs_size_kept(varied, h->doubt->criterion, h->doubt->by_cost, 1, &just, h->message);
    if (status)
        return status;
    alone.just = just;
    if (just->feasible)
        status = dregs_size_stand(on, just, h->doubt, &stand, h->message);
    alone.stand = stand;
    if (!status && just->feasible && stand.excess <= 1)
        *value = just->value[0];
    else if (!status && just->feasible)
        status = seek_margins(&alone, &stand);
    if (!status && alone.found)
        *value = alone.found->value[0];
    dregs_sized_free(alone.found);
    dregs_sized_free(just);
    return status;
}

/* Each property by itself, the others at these values. */
static dregs_status seek_each(struct hunt *h, const double *from)
{
    double value[DREGS_VARIED_MOST];
    dregs_sized *tried = NULL;
    struct size_stand here;
    struct side side;
    dregs_status status =
        size_with(h->line, h->just, h->doubt, ALL_LIMITS, 1, from, &tried, h->message);
    dregs_line *on = NULL;
    unsigned i;

    if (!status && isfinite(tried->compliance.of_limit))
        status = dregs_size_found(h->line, tried, &on);
    dregs_sized_free(tried);
    for (i = 0; on && i < h->just->varied->count && !status; i++) {
        memcpy(value, from, sizeof value);
        status = seek_one(h, on, i, &value[i]);
        if (!status && !isnan(value[i]))
            status = try_it(h, ALL_LIMITS, 1, value, &tried, &here, &side);
        if (!status && !isnan(value[i]))
            offer(h, tried, &here);
        status = pass_over(status);
    }
    dregs_line_free(on);
    return status;
}

static dregs_status seek_several(struct hunt *h, const struct size_stand *just)
{
    double own[DREGS_VARIED_MOST];
    dregs_status status = seek_margins(h, just);

    own_values(h, own);
    return status ? status : seek_each(h, own);
}

/* ---- the ends of the ranges ---- */

/* How many draws miss the target at every end, by the residue and by one and the same bound. */
struct at_ends {
    uint64_t residue, bounds;
    dregs_bound bound;
};

static void count_end(struct at_ends *ends, const struct size_stand *here, int first)
{
    const dregs_bound *bound = &here->bound;

    if (first)
        *ends = (struct at_ends){here->residue_missed, here->bounded, *bound};
    if (here->residue_missed < ends->residue)
        ends->residue = here->residue_missed;
    if (bound->kind != ends->bound.kind || bound->stage != ends->bound.stage ||
        bound->solute != ends->bound.solute)
        ends->bounds = 0;
    if (here->bounded < ends->bounds)
        ends->bounds = here->bounded;
}

/* From an end of the ranges that is met back to what just meets the target. */
static dregs_status back_from(struct hunt *h, const struct size_stand *just, dregs_sized *end,
                              const struct size_stand *at_end, const struct side *side)
{
    struct bracket b = {*side, {0, logarithm(just->excess), {0}}, 1};
    struct size_stand best = *at_end;
    dregs_status status;

    memcpy(b.missed.value, h->just->value, sizeof b.missed.value);
    status = go_back(h, &b, &best, &end);
    if (status)
        dregs_sized_free(end);
    else
        offer(h, end, &best);
    return status;
}

/* Is one of the ends met, and what on the way from there; or is it shown that nothing is? */
static dregs_status seek_ends(struct hunt *h, const struct size_stand *just)
{
    const dregs_varied *as = h->just->varied;
    double value[DREGS_VARIED_MOST], missed;
    struct at_ends ends = {0};
    struct size_stand here, met_here = {.excess = HUGE_VAL};
    struct side side, met_side = {0, 0, {0}};
    dregs_sized *end, *met = NULL;
    dregs_status status = DREGS_OK;
    unsigned corner, i;

    for (corner = 0; corner < 1u << as->count && !status; corner++) {
        for (i = 0; i < as->count; i++)
            value[i] = corner >> i & 1 ? as->one[i].high : as->one[i].low;
        here = (struct size_stand){.excess = HUGE_VAL};
        end = NULL;
        status = pass_over(try_it(h, ALL_LIMITS, 1, value, &end, &here, &side));
        count_end(&ends, &here, corner == 0);
        if (end && here.excess <= 1 && !(met && met_here.excess <= here.excess)) {
            dregs_sized_free(met);
            met = end;
            met_here = here;
            met_side = side;
        } else if (end) {
            offer(h, end, &here);
        }
    }
    if (met && status)
        dregs_sized_free(met);
    else if (met)
        status = back_from(h, just, met, &met_here, &met_side);
    missed = (double)(ends.residue > ends.bounds ? ends.residue : ends.bounds);
    if (!h->found)
        h->stand.open = missed <= (1 - h->doubt->confidence) * (double)h->doubt->draws + 1e-9;
    if (!status && met && as->count > 1) {
        memcpy(value, h->found->value, sizeof value);
        status = seek_each(h, value);
    }
    return status;
}

dregs_status dregs_size_sure(const dregs_line *line, const dregs_sized *just,
                             const struct size_doubt *doubt, struct size_stand *stand,
                             dregs_sized **sure, char *message)
{
    struct hunt h = {line, just, doubt, NULL, *stand, 1, message};
    dregs_status status;

    if (just->varied->count == 1)
        status = seek_margins(&h, stand);
    else
        status = seek_several(&h, stand);
    if (!status && (!h.found || (!h.held && just->varied->count > 1)))
        status = seek_ends(&h, stand);
    if (status) {
        dregs_sized_free(h.found);
        return status;
    }
    if (h.found) {
        h.found->feasible = 1; /* also at an end of the range that keeps less than was tried */
        if (just->varied->count > 1)
            h.found->possible = NAN; /* it is of those that keep as much as was tried */
    }
    *stand = h.stand;
    *sure = h.found;
    return DREGS_OK;
}
