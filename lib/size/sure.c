/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* sure.c: what meets the target not as stated alone but in so many draws of the doubtful values.
 *
 * The excess that the asked share of the draws does not pass (doubt.c) is to be at most 1. What is
 * sought is how far below the limits the line as stated must stay for that: ln(excess) is brought
 * to 0 over the logarithm of that margin, by the secant through the bracket, every third time by
 * halving. Draw i is the same in all trials, so that the excess falls with the margin without
 * scatter, and the answer is exact for these draws. With one property the margin and the value go
 * together; of several the answer is what takes least to keep that margin. A limit that what is
 * varied does not move, as the wash's for the flow of a rinse, can keep no margin: one property is
 * then sought by its value, between what keeps the last margin that can be kept and the cleanest
 * there is.
 */
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

/* What keeps a margin: the limits times `margin` in place of the limits. Or, with a value, that. */
static dregs_status size_with(const dregs_line *line, const dregs_sized *just,
                              const struct size_doubt *doubt, double margin, const double *value,
                              dregs_sized **sized, char *message)
{
    dregs_line *found = NULL;
    dregs_varied *varied = NULL;
    dregs_status status = dregs_size_found(line, just, &found);

    if (!status)
        status = vary_again(found, just->varied, &varied, message);
    if (!status) {
        varied->margin = margin;
        status =
            value ? dregs_size_at(varied, doubt->criterion, doubt->by_cost, value, sized, message)
                  : dregs_size_kept(varied, doubt->criterion, doubt->by_cost, 1, sized, message);
    }
    dregs_line_free(found);
    return status;
}

/* One side of the bracket: the logarithms of margin and excess. */
struct side {
    double margin, excess, value;
};

struct bracket {
    struct side met, missed;
    int closed; /* there is a side that is met */
};

/* The next margin: as far as the excess is beyond, while nothing is met; then between both. */
static double next_margin(const struct bracket *b, int turn)
{
    double share = 0.5;

    if (!b->closed)
        return b->missed.margin - fmax(b->missed.excess, 1e-3) * (turn > 1 ? 2 : 1.02);
    if (turn % 3 && isfinite(b->missed.excess))
        share = -b->met.excess / (b->missed.excess - b->met.excess);
    share = fmin(fmax(share, 0.02), 0.98);
    return b->met.margin + share * (b->missed.margin - b->met.margin);
}

static int is_close(const struct bracket *b, const struct varied *varied, unsigned count)
{
    if (!b->closed)
        return b->missed.margin < -30; /* 1e-13 of the limit */
    return b->met.excess > -NEAR || b->missed.margin - b->met.margin < CLOSEST ||
           (count == 1 && varied->whole && fabs(b->met.value - b->missed.value) <= 1);
}

static double logarithm(double excess)
{
    return isfinite(excess) ? log(fmax(excess, 1e-300)) : 700.0;
}

/* Half way between the sides, by the logarithm where that can be; of a count one that is neither.
 */
static double value_between(const struct bracket *b, int whole)
{
    double low = fmin(b->met.value, b->missed.value), high = fmax(b->met.value, b->missed.value);
    double middle = low > 0 ? sqrt(low) * sqrt(high) : (low + high) / 2;

    return whole ? fmin(fmax(round(middle), low + 1), high - 1) : middle;
}

static int is_between(const struct bracket *b, int whole)
{
    double apart = fabs(b->met.value - b->missed.value);

    return whole ? apart > 1 : apart > NEAR * fabs(b->met.value) && b->met.excess <= -NEAR;
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

/* From the cleanest value in the range, which is met, back to the last one that is. */
static dregs_status go_back(const dregs_line *line, const dregs_sized *just,
                            const struct size_doubt *doubt, struct bracket *b,
                            struct size_stand *best, dregs_sized **found, char *message)
{
    int whole = just->varied->one[0].whole, turn;
    dregs_status status = DREGS_OK;

    for (turn = 0; turn < VALUES && is_between(b, whole) && !status; turn++) {
        double value = value_between(b, whole);
        struct side side = {0, 0, value};
        dregs_sized *tried = NULL;
        struct size_stand here = {0};
        status = size_with(line, just, doubt, 1, &value, &tried, message);
        if (!status)
            status = dregs_size_stand(line, tried, doubt, &here, message);
        if (!status)
            side.excess = logarithm(here.excess);
        if (!status)
            add_trials(*found, tried);
        if (!status && side.excess <= 0) {
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

dregs_status dregs_size_sure(const dregs_line *line, const dregs_sized *just,
                             const struct size_doubt *doubt, struct size_stand *stand,
                             dregs_sized **sure, char *message)
{
    const dregs_varied *as = just->varied;
    struct bracket b = {{0, 0, 0}, {0, logarithm(stand->excess), just->value[0]}, 0};
    struct size_stand best = *stand, here;
    dregs_sized *found = NULL, *tried = NULL;
    dregs_status status = DREGS_OK;
    int turn, back = 0;

    for (turn = 1; turn <= TRIES && !back && !is_close(&b, as->one, as->count) && !status; turn++) {
        struct side side = {next_margin(&b, turn), 0, 0};
        status = size_with(line, just, doubt, exp(side.margin), NULL, &tried, message);
        if (status)
            break;
        status = dregs_size_stand(line, tried, doubt, &here, message);
        side.excess = logarithm(here.excess);
        side.value = tried->value[0];
        if (!status && side.excess <= 0) {
            dregs_sized_free(found);
            found = tried;
            b.met = side;
            b.closed = 1;
            best = here;
            back = as->count == 1 && !tried->feasible;
        } else {
            int ends = !tried->feasible && !b.closed; /* the range holds nothing cleaner */
            if (!b.closed && here.excess < best.excess)
                best = here;
            b.missed = side;
            dregs_sized_free(tried);
            if (ends)
                break;
        }
        tried = NULL;
    }
    if (back && !status)
        status = go_back(line, just, doubt, &b, &best, &found, message);
    if (status) {
        dregs_sized_free(found);
        return status;
    }
    if (found)
        found->feasible = 1; /* also at an end of the range that keeps less margin than was tried */
    *stand = best;
    *sure = found;
    return DREGS_OK;
}
