/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_spread.c: what the doubt of a line's values does to the deviations of what was bought: the
 * model's standard deviation is that of the draws, and each value that is drawn is also moved
 * alone, by one standard deviation of its distribution, to tell which matters.
 */
#include "answer/tally.h"
#include "ensemble/ensemble.h"

#include <math.h>
#include <stdlib.h>

enum { OF_MONTH, SO_FAR, KINDS };

/* Where the figure of a liquid stands: those that the file does not name have none. */
static unsigned place_of(unsigned nth, unsigned measure, unsigned kind, unsigned month)
{
    return ((nth * DREGS_TALLY_MEASURES + measure) * KINDS + kind) * DREGS_MONTHS + month;
}

unsigned dregs_answer_tally_bought_count(const dregs_tally_actual *actual)
{
    unsigned i, nth = 0;

    for (i = 0; actual && i < actual->liquids; i++)
        nth += actual->liquid[i].in_file != 0;
    return place_of(nth, 0, 0, 0);
}

void dregs_answer_tally_put_bought(const dregs_tally_actual *actual, const dregs_tally *year,
                                   double *into)
{
    unsigned i, m, p, nth = 0;

    for (i = 0; i < actual->liquids; i++) {
        if (!actual->liquid[i].in_file)
            continue;
        for (m = 0; m < DREGS_TALLY_MEASURES; m++) {
            double sum = 0;
            for (p = 0; p < DREGS_MONTHS; p++) {
                double one =
                    dregs_answer_tally_modelled(actual, year, i, (dregs_tally_measure)m, p);
                sum += p + 1 >= actual->covered.first && p < actual->covered.last ? one : 0;
                into[place_of(nth, m, OF_MONTH, p)] = one;
                into[place_of(nth, m, SO_FAR, p)] = sum;
            }
        }
        nth++;
    }
}

/* ---- the deviations with it ---- */

/* A standard deviation that is no more than rounding of what is put in is none. */
static void widen(const dregs_tally_bought_liquid *l, const dregs_ensemble_result *counts,
                  unsigned figure, dregs_tally_both *both)
{
    double scale = fabs(l->whole[DREGS_TALLY_PUT_IN].modelled), sd = NAN;
    dregs_ensemble_figure of;

    if (!dregs_ensemble_figure_of(counts, figure, &of) && of.sd > 1e-12 * scale)
        sd = of.sd;
    (void)dregs_unexplained_work(both->measured, both->unexplained.sd_measured,
                                 both->unexplained.sd_stock * sqrt(6.0), both->modelled, sd,
                                 &both->unexplained);
    both->scatter = !(both->unexplained.ratio > 2);
}

static void widen_liquid(const dregs_tally_covered *c, dregs_tally_bought_liquid *l, unsigned nth,
                         const dregs_ensemble_result *counts, unsigned begin)
{
    unsigned m, p;

    for (m = 0; m < DREGS_TALLY_MEASURES; m++) {
        for (p = c->first - 1; p < c->last; p++) {
            widen(l, counts, begin + place_of(nth, m, OF_MONTH, p), &l->month[m][p]);
            widen(l, counts, begin + place_of(nth, m, SO_FAR, p), &l->so_far[m][p]);
        }
        l->whole[m] = l->so_far[m][c->last - 1];
    }
}

/* ---- one value alone ---- */

/* The largest effect of a moved line on the whole of what is shown, as a share of it. */
static double weight_of(const dregs_tally_actual *actual, const dregs_tally *moved)
{
    double most = 0, change, whole;
    unsigned i, m, p;

    for (i = 0; i < actual->liquids; i++)
        for (m = 0; m < DREGS_TALLY_MEASURES; m++) {
            const dregs_tally_bought_liquid *l = &actual->liquid[i];
            whole = fabs(l->whole[m].modelled);
            change = -l->whole[m].modelled;
            for (p = actual->covered.first - 1; p < actual->covered.last; p++)
                change += dregs_answer_tally_modelled(actual, moved, i, (dregs_tally_measure)m, p);
            if (l->shown[m] && whole > 0)
                most = fmax(most, fabs(change) / whole);
        }
    return most > 1e-12 ? most : 0; /* below is rounding */
}

/* The line with a drawn value, and all that share its draw, at z standard normal. */
static dregs_status weigh_at(const dregs_tally_actual *actual, const dregs_ensemble *ensemble,
                             unsigned index, double z, dregs_tally_spread *spread)
{
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, actual->covered.running};
    unsigned rows = dregs_ensemble_rows(ensemble), i;
    double *at = calloc(rows, sizeof *at);
    dregs_tally *tally = NULL;
    dregs_line *line = NULL;
    dregs_status status;

    if (!at)
        return DREGS_NO_MEMORY;
    for (i = 0; i < rows; i++)
        at[i] =
            dregs_ensemble_row(ensemble, i)->shares == dregs_ensemble_row(ensemble, index)->shares
                ? z
                : NAN;
    status = dregs_ensemble_line_at(ensemble, at, &line);
    if (!status)
        status = dregs_tally_new_by_dates(line, &request, actual->dates, &tally, NULL);
    spread->counted = !status;
    if (!status)
        spread->weight = weight_of(actual, tally);
    dregs_tally_free(tally);
    dregs_line_free(line);
    free(at);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* What is moved, in two words. */
static void name_spread(const dregs_line *line, const dregs_drawn *drawn,
                        dregs_tally_spread *spread)
{
    const dregs_row *cells = drawn->liquid ? NULL : dregs_line_row(line, drawn->row);

    spread->item = cells ? cells->item : drawn->liquid;
    spread->property = cells ? cells->property : dregs_property_name(drawn->property);
}

/* Does a row before it share its draw? Then it is moved with that one. */
static int is_moved(const dregs_ensemble *ensemble, unsigned index)
{
    unsigned i = 0;

    while (dregs_ensemble_row(ensemble, i)->shares != dregs_ensemble_row(ensemble, index)->shares)
        i++;
    return i < index;
}

static dregs_status weigh(const dregs_tally_actual *actual, const dregs_ensemble *ensemble,
                          struct tally_bought_doubt *doubt)
{
    unsigned rows = dregs_ensemble_rows(ensemble), i;
    dregs_status status = DREGS_OK;

    doubt->spread = calloc(rows + 1, sizeof *doubt->spread); /* of a site no row is listed */
    if (!doubt->spread)
        return DREGS_NO_MEMORY;
    for (i = 0; i < rows && !status; i++) {
        dregs_tally_spread *spread = &doubt->spread[doubt->spreads];
        if (is_moved(ensemble, i))
            continue;
        name_spread(actual->line, dregs_ensemble_row(ensemble, i), spread);
        status = weigh_at(actual, ensemble, i, 1, spread);
        if (!status && !spread->counted)
            status = weigh_at(actual, ensemble, i, -1, spread);
        doubt->spreads++;
    }
    return status;
}

dregs_status dregs_answer_tally_bought_doubt(const dregs_tally_actual *actual,
                                             const dregs_ensemble *ensemble,
                                             const dregs_ensemble_result *counts, unsigned begin,
                                             struct tally_bought_doubt *doubt)
{
    unsigned i, nth = 0;

    doubt->liquid = malloc((actual->liquids + 1) * sizeof *doubt->liquid);
    if (!doubt->liquid)
        return DREGS_NO_MEMORY;
    doubt->liquids = actual->liquids;
    for (i = 0; i < actual->liquids; i++) {
        doubt->liquid[i] = actual->liquid[i];
        if (actual->liquid[i].in_file)
            widen_liquid(&actual->covered, &doubt->liquid[i], nth++, counts, begin);
    }
    return weigh(actual, ensemble, doubt);
}
