/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_spread.c: what the spreads of a line file do to what its year puts in and takes out.
 *
 * The model's uncertainty is that of the spreads in the line file, one by one: the line is computed
 * anew with each value moved by one standard deviation, and the changes are taken as independent.
 * That is the first order of the propagation of uncertainty (JCGM 100:2008, 5.1.2).
 */
#include "answer/tally.h"
#include "dregs/edit.h"
#include "dregs/number.h"
#include "line/line.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SPREADS_MOST = 400 }; /* each costs a tally of a year */

static double *effect_at(const struct tally_spread *spread, unsigned liquid, unsigned measure,
                         unsigned month)
{
    return &spread->effect[(liquid * DREGS_TALLY_MEASURES + measure) * DREGS_MONTHS + month];
}

/* The value of a row moved by its standard deviation, up or down, as the file would write it. */
static int moved(const dregs_row *row, double sign, char into[DREGS_NUMBER_TEXT])
{
    char number[48];
    size_t length = strlen(row->spread);
    int share = length > 0 && row->spread[length - 1] == '%';
    double value, spread;

    length -= (size_t)share;
    while (share && length > 0 && row->spread[length - 1] == ' ')
        length--;
    snprintf(number, sizeof number, "%.*s", (int)(length < 47 ? length : 47), row->spread);
    if (dregs_number_read(row->value, &value) || dregs_number_read(number, &spread) || spread == 0)
        return 0;
    dregs_number_exact(into, value + sign * (share ? fabs(value) * spread / 100 : spread));
    return 1;
}

/* The year of the line with a row moved; NULL where there is none. */
static dregs_tally *moved_year(const dregs_tally_actual *actual, const dregs_row *row, double sign,
                               dregs_line **line)
{
    char value[DREGS_NUMBER_TEXT], *text = NULL;
    dregs_new_row changed = {row->item, row->property, value, row->unit, NULL};
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, actual->covered.running};
    dregs_tally *tally = NULL;
    size_t length;

    *line = NULL;
    if (!moved(row, sign, value) || dregs_edit_set(actual->line, &changed, 1, &text, &length))
        return NULL;
    if (!dregs_line_parse(dregs_line_name(actual->line), text, length,
                          dregs_line_liquids(actual->line), line, NULL) &&
        dregs_tally_new(*line, &request, &tally, NULL))
        tally = NULL;
    dregs_edit_free(text);
    return tally;
}

static int fill_spread(dregs_tally_actual *actual, struct tally_spread *spread)
{
    dregs_line *line = NULL;
    dregs_tally *tally;
    double sign = 1;
    unsigned i, m, p;

    spread->effect = calloc((size_t)actual->liquids * DREGS_TALLY_MEASURES * DREGS_MONTHS + 1,
                            sizeof *spread->effect);
    if (!spread->effect)
        return 0;
    tally = moved_year(actual, spread->spread.row, sign, &line);
    if (!tally) { /* a share of 99 % cannot go up by 2 % */
        dregs_line_free(line);
        sign = -1;
        tally = moved_year(actual, spread->spread.row, sign, &line);
    }
    spread->spread.counted = tally != NULL;
    for (i = 0; tally && i < actual->liquids; i++)
        for (m = 0; m < DREGS_TALLY_MEASURES; m++)
            for (p = 0; p < DREGS_MONTHS; p++)
                *effect_at(spread, i, m, p) =
                    dregs_answer_tally_modelled(actual, tally, i, (dregs_tally_measure)m, p) -
                    dregs_answer_tally_modelled(actual, actual->tally, i, (dregs_tally_measure)m,
                                                p);
    dregs_tally_free(tally);
    dregs_line_free(line);
    return 1;
}

/* Does the row state a spread that is above 0 of something a volume could rest on? The content of
 * a liquid and soil move no volume. */
static int moves_volume(const dregs_tally_actual *actual, const dregs_row *row)
{
    char ignored[DREGS_NUMBER_TEXT];
    unsigned i;

    for (i = 0; i < dregs_line_solutes(actual->line); i++)
        if (strcmp(row->item, dregs_line_solute(actual->line, i)->name) == 0 ||
            strcmp(row->property, dregs_line_solute(actual->line, i)->name) == 0)
            return 0;
    return *row->spread && moved(row, 1, ignored);
}

dregs_status dregs_answer_tally_spreads_new(dregs_tally_actual *actual)
{
    unsigned row, rows = dregs_line_rows(actual->line);

    actual->spread = calloc(SPREADS_MOST, sizeof *actual->spread);
    if (!actual->spread)
        return DREGS_NO_MEMORY;
    for (row = 1; row <= rows && actual->spreads < SPREADS_MOST; row++) {
        struct tally_spread *spread = &actual->spread[actual->spreads];
        spread->spread.row = dregs_line_row(actual->line, row);
        if (!moves_volume(actual, spread->spread.row))
            continue;
        actual->spreads++;
        if (!fill_spread(actual, spread))
            return DREGS_NO_MEMORY;
    }
    return DREGS_OK;
}

/* Standard deviation of the model over months (from 0): within a spread the months move together.
 * NaN where no spread has any effect beyond rounding. */
double dregs_answer_tally_model_sd(const dregs_tally_actual *actual, unsigned liquid,
                                   dregs_tally_measure measure, unsigned first, unsigned last)
{
    double variance = 0, sum, scale = 0;
    unsigned i, p;

    for (p = first; p <= last; p++)
        scale += fabs(dregs_answer_tally_modelled(actual, actual->tally, liquid, DREGS_TALLY_PUT_IN,
                                                  p)) +
                 fabs(dregs_answer_tally_modelled(actual, actual->tally, liquid,
                                                  DREGS_TALLY_TAKEN_OUT, p));
    for (i = 0; i < actual->spreads; i++) {
        for (sum = 0, p = first; p <= last; p++)
            sum += *effect_at(&actual->spread[i], liquid, measure, p);
        variance += sum * sum;
    }
    return sqrt(variance) > 1e-12 * scale ? sqrt(variance) : NAN;
}

/* The largest effect of a spread on the whole of what is shown. */
static double weight_of(const dregs_tally_actual *actual, unsigned spread)
{
    double most = 0, sum, whole;
    unsigned i, m, p;

    for (i = 0; i < actual->liquids; i++)
        for (m = 0; m < DREGS_TALLY_MEASURES; m++) {
            const dregs_tally_bought_liquid *l = &actual->liquid[i];
            if (!l->shown[m])
                continue;
            for (sum = 0, p = actual->covered.first - 1; p < actual->covered.last; p++)
                sum += *effect_at(&actual->spread[spread], i, m, p);
            whole = fabs(l->whole[m].modelled);
            if (whole > 0)
                most = fmax(most, fabs(sum) / whole);
        }
    return most > 1e-12 ? most : 0; /* below is rounding */
}

void dregs_answer_tally_weigh_spreads(dregs_tally_actual *actual)
{
    unsigned i;

    for (i = 0; i < actual->spreads; i++)
        actual->spread[i].spread.weight = weight_of(actual, i);
}
