/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_actual.c: a file of purchases beside the line's own year.
 *
 * The model's uncertainty is that of the spreads in the line file, one by one: the line is computed
 * anew with each value moved by one standard deviation, and the changes are taken as independent.
 * That is the first order of the propagation of uncertainty (JCGM 100:2008, 5.1.2).
 */
#include "tally_actual.h"
#include "tally_law.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SPREADS_MOST = 400 }; /* each costs a tally of a year */

const char *const actual_names[ACTUAL_MEASURES] = {"put in", "taken out", "gone otherwise"};

static const dregs_stream put_in[] = {DREGS_STREAM_FILLED, DREGS_STREAM_FED, DREGS_STREAM_TOPPED,
                                      DREGS_STREAM_REFILLED, DREGS_STREAM_SPRAYED};
static const dregs_stream drained[] = {DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF,
                                       DREGS_STREAM_BLOWN_OFF};

/* The liquid that a stage's waste is called by: its own fresh one, whatever was carried into it. */
static int is_waste_of(const dregs_line *line, unsigned stage, unsigned fluid)
{
    const dregs_fluid *wet = dregs_line_wet_with(line, stage);

    while (!wet && stage > 0) /* blown off: the film of the stage before */
        wet = dregs_line_wet_with(line, --stage);
    return wet == dregs_line_fluid(line, fluid);
}

/* m3 of a month (from 0) of a year's tally. */
static double modelled(const struct tally_actual *actual, const dregs_tally *tally, unsigned fluid,
                       enum actual_measure measure, unsigned month)
{
    const dregs_line *line = dregs_tally_line(tally);
    double in = 0, out = 0;
    unsigned i, k;

    for (k = 0; k < sizeof put_in / sizeof put_in[0]; k++)
        in += dregs_tally_fluid(tally, put_in[k], fluid, DREGS_WHOLE, month);
    for (i = 0; i < dregs_line_stages(line); i++) {
        if (!is_waste_of(line, i, fluid))
            continue;
        out += dregs_tally_volume(tally, DREGS_STREAM_DUMPED, i, month);
        for (k = 0; actual->drain_is_waste && k < sizeof drained / sizeof drained[0]; k++)
            out += dregs_tally_volume(tally, drained[k], i, month);
    }
    return measure == ACTUAL_IN ? in : measure == ACTUAL_OUT ? out : in - out;
}

/* ---- measured ---- */

/* Rows of both kinds that make up what was put in or taken out. */
static dregs_purchase_sum sum_of(const struct tally_actual *actual, unsigned fluid,
                                 enum actual_measure measure, unsigned first, unsigned last)
{
    dregs_purchase_kind own =
        measure == ACTUAL_IN ? DREGS_PURCHASE_BOUGHT : DREGS_PURCHASE_DISPOSED;
    dregs_purchase_sum sum = {0}, recovered = {0};

    (void)dregs_purchases_sum(actual->purchases, fluid, own, actual->year, first, last, &sum);
    (void)dregs_purchases_sum(actual->purchases, fluid, DREGS_PURCHASE_RECOVERED, actual->year,
                              first, last, &recovered);
    sum.volume += recovered.volume;
    sum.sd = hypot(sum.sd, recovered.sd);
    sum.rows += recovered.rows;
    sum.silent += recovered.silent;
    return sum;
}

/* Standard deviation of the rows, NaN where none states one. */
static double sd_of(const dregs_purchase_sum *sum)
{
    return sum->rows > sum->silent ? sum->sd : NAN;
}

/* What counts is the difference of both; what was recovered is in both and drops out. */
static dregs_purchase_sum gone_of(const struct tally_actual *actual, unsigned fluid, unsigned first,
                                  unsigned last)
{
    dregs_purchase_sum in = {0}, out = {0};

    (void)dregs_purchases_sum(actual->purchases, fluid, DREGS_PURCHASE_BOUGHT, actual->year, first,
                              last, &in);
    (void)dregs_purchases_sum(actual->purchases, fluid, DREGS_PURCHASE_DISPOSED, actual->year,
                              first, last, &out);
    in.volume -= out.volume;
    in.sd = hypot(in.sd, out.sd);
    in.rows += out.rows;
    in.silent += out.silent;
    return in;
}

static dregs_purchase_sum measured(const struct tally_actual *actual, unsigned fluid,
                                   enum actual_measure measure, unsigned first, unsigned last)
{
    return measure == ACTUAL_GONE ? gone_of(actual, fluid, first, last)
                                  : sum_of(actual, fluid, measure, first, last);
}

/* The lot of a kind: the largest row of it in the whole file. */
static double largest(const struct tally_actual *actual, unsigned fluid, dregs_purchase_kind kind)
{
    const dregs_purchase *row;
    double most = NAN;
    size_t i;

    for (i = 0; (row = dregs_purchases_at(actual->purchases, i)) != NULL; i++)
        if (row->fluid == fluid && row->kind == kind)
            most = fmax(most, row->volume);
    return most;
}

/* A stock of fresh liquid at one side and of waste at the other; what is not there adds nothing. */
static double both_lots(double in, double out)
{
    if (isnan(in) && isnan(out))
        return NAN;
    return hypot(isnan(in) ? 0 : in, isnan(out) ? 0 : out);
}

static void describe(struct tally_actual *actual, struct actual_liquid *l)
{
    unsigned m;

    for (m = 0; m < ACTUAL_MEASURES; m++) {
        dregs_purchase_sum sum = measured(actual, l->fluid, (enum actual_measure)m, 1, 12);
        l->rows[m] = sum.rows;
        l->silent[m] = sum.silent;
        l->shown[m] = sum.rows > 0;
        l->in_file |= sum.rows > 0;
    }
    l->shown[ACTUAL_GONE] = l->shown[ACTUAL_IN] && l->shown[ACTUAL_OUT];
    l->lot[ACTUAL_IN] = largest(actual, l->fluid, DREGS_PURCHASE_BOUGHT);
    l->lot[ACTUAL_OUT] = largest(actual, l->fluid, DREGS_PURCHASE_DISPOSED);
    l->lot[ACTUAL_GONE] = both_lots(l->lot[ACTUAL_IN], l->lot[ACTUAL_OUT]);
}

/* ---- what the model's spreads do ---- */

static double *effect_at(const struct actual_spread *spread, unsigned liquid, unsigned measure,
                         unsigned month)
{
    return &spread->effect[(liquid * ACTUAL_MEASURES + measure) * ACTUAL_MONTHS + month];
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
static dregs_tally *moved_year(const struct tally_actual *actual, const dregs_row *row, double sign,
                               dregs_line **line)
{
    char value[DREGS_NUMBER_TEXT], *text = NULL;
    dregs_new_row changed = {row->item, row->property, value, row->unit, NULL};
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, actual->running};
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

static int fill_spread(struct tally_actual *actual, struct actual_spread *spread)
{
    dregs_line *line = NULL;
    dregs_tally *tally;
    double sign = 1;
    unsigned i, m, p;

    spread->effect = calloc((size_t)actual->liquids * ACTUAL_MEASURES * ACTUAL_MONTHS + 1,
                            sizeof *spread->effect);
    if (!spread->effect)
        return 0;
    tally = moved_year(actual, spread->row, sign, &line);
    if (!tally) { /* a share of 99 % cannot go up by 2 % */
        dregs_line_free(line);
        sign = -1;
        tally = moved_year(actual, spread->row, sign, &line);
    }
    spread->counted = tally != NULL;
    for (i = 0; tally && i < actual->liquids; i++)
        for (m = 0; m < ACTUAL_MEASURES; m++)
            for (p = 0; p < ACTUAL_MONTHS; p++)
                *effect_at(spread, i, m, p) =
                    modelled(actual, tally, i, (enum actual_measure)m, p) -
                    modelled(actual, actual->tally, i, (enum actual_measure)m, p);
    dregs_tally_free(tally);
    dregs_line_free(line);
    return 1;
}

/* Does the row state a spread that is above 0 of something a volume could rest on? The content of
 * a liquid and soil move no volume. */
static int moves_volume(const struct tally_actual *actual, const dregs_row *row)
{
    char ignored[DREGS_NUMBER_TEXT];
    unsigned i;

    for (i = 0; i < dregs_line_solutes(actual->line); i++)
        if (strcmp(row->item, dregs_line_solute(actual->line, i)->name) == 0 ||
            strcmp(row->property, dregs_line_solute(actual->line, i)->name) == 0)
            return 0;
    return *row->spread && moved(row, 1, ignored);
}

static int fill_spreads(struct tally_actual *actual)
{
    unsigned row, rows = dregs_line_rows(actual->line);

    actual->spread = calloc(SPREADS_MOST, sizeof *actual->spread);
    if (!actual->spread)
        return 0;
    for (row = 1; row <= rows && actual->spreads < SPREADS_MOST; row++) {
        struct actual_spread *spread = &actual->spread[actual->spreads];
        spread->row = dregs_line_row(actual->line, row);
        if (!moves_volume(actual, spread->row))
            continue;
        actual->spreads++;
        if (!fill_spread(actual, spread))
            return 0;
    }
    return 1;
}

/* Standard deviation of the model over months (from 0): within a spread the months move together.
 * NaN where no spread has any effect beyond rounding. */
static double model_sd(const struct tally_actual *actual, unsigned liquid, unsigned measure,
                       unsigned first, unsigned last)
{
    double variance = 0, sum, scale = 0;
    unsigned i, p;

    for (p = first; p <= last; p++)
        scale += fabs(modelled(actual, actual->tally, liquid, ACTUAL_IN, p)) +
                 fabs(modelled(actual, actual->tally, liquid, ACTUAL_OUT, p));
    for (i = 0; i < actual->spreads; i++) {
        for (sum = 0, p = first; p <= last; p++)
            sum += *effect_at(&actual->spread[i], liquid, measure, p);
        variance += sum * sum;
    }
    return sqrt(variance) > 1e-12 * scale ? sqrt(variance) : NAN;
}

double actual_spread_weight(const struct tally_actual *actual, unsigned spread)
{
    double most = 0, sum, whole;
    unsigned i, m, p;

    for (i = 0; i < actual->liquids; i++)
        for (m = 0; m < ACTUAL_MEASURES; m++) {
            const struct actual_liquid *l = &actual->liquid[i];
            if (!l->shown[m])
                continue;
            for (sum = 0, p = actual->first - 1; p < actual->last; p++)
                sum += *effect_at(&actual->spread[spread], i, m, p);
            whole = fabs(l->so_far[m][actual->last - 1].modelled);
            if (whole > 0)
                most = fmax(most, fabs(sum) / whole);
        }
    return most > 1e-12 ? most : 0; /* below is rounding */
}

/* ---- both ---- */

static void compare(const struct tally_actual *actual, struct actual_liquid *l,
                    enum actual_measure m, unsigned first, unsigned last, struct actual_figure *f)
{
    dregs_purchase_sum sum = measured(actual, l->fluid, m, first, last);
    double model = 0;
    unsigned p;

    for (p = first; p <= last; p++)
        model += modelled(actual, actual->tally, l->fluid, m, p - 1);
    f->measured = sum.volume;
    f->modelled = model;
    (void)dregs_unexplained_work(f->measured, sd_of(&sum), l->lot[m], model,
                                 model_sd(actual, l->fluid, m, first - 1, last - 1),
                                 &f->unexplained);
}

static void fill_liquid(struct tally_actual *actual, struct actual_liquid *l)
{
    unsigned m, p;

    for (m = 0; m < ACTUAL_MEASURES; m++) {
        for (p = actual->first; p <= actual->last; p++) {
            compare(actual, l, (enum actual_measure)m, p, p, &l->month[m][p - 1]);
            compare(actual, l, (enum actual_measure)m, actual->first, p, &l->so_far[m][p - 1]);
        }
        l->model_sd[m] = model_sd(actual, l->fluid, m, actual->first - 1, actual->last - 1);
    }
}

/* The year that is looked at, and which of its months. */
static int choose_year(struct tally_actual *actual, int year)
{
    actual->year = year ? year : dregs_purchases_year(actual->purchases, NULL);
    if (!dregs_purchases_covered(actual->purchases, actual->year, &actual->first, &actual->last))
        return front_say(FRONT_BAD_DATA, "%s: no row reaches the year %d", actual->file,
                         actual->year);
    actual->full = actual->first == 1 && actual->last == 12;
    return FRONT_DONE;
}

static int read_file(struct tally_actual *actual)
{
    unsigned i;

    actual->density = calloc(actual->liquids + 1, sizeof *actual->density);
    actual->liquid = calloc(actual->liquids + 1, sizeof *actual->liquid);
    if (!actual->density || !actual->liquid)
        return front_say(FRONT_IO, "out of memory");
    for (i = 0; i < actual->liquids; i++) {
        actual->density[i] = dregs_tally_density(actual->tally, i);
        actual->liquid[i].fluid = i;
    }
    return front_read_purchases(actual->file, actual->line, actual->density, &actual->purchases);
}

int tally_actual_fill(struct tally_actual *actual, const struct tally_answer *answer,
                      const char *file, int year, int drain_is_waste)
{
    char message[DREGS_TALLY_MESSAGE] = "";
    unsigned i;
    int status;

    actual->file = file;
    actual->line = answer->one[0].line;
    actual->liquids = dregs_line_fluids(actual->line);
    actual->drain_is_waste = drain_is_waste;
    actual->running = answer->request->span.running;
    actual->tally = tally_year_of(answer, &actual->own_year, message);
    if (!actual->tally)
        return front_say(FRONT_BAD_DATA, "%s: --actual needs a year of the line: %s",
                         dregs_line_name(actual->line), message);
    status = read_file(actual);
    if (!status)
        status = choose_year(actual, year);
    if (!status && !fill_spreads(actual))
        status = front_say(FRONT_IO, "out of memory");
    for (i = 0; !status && i < actual->liquids; i++) {
        describe(actual, &actual->liquid[i]);
        fill_liquid(actual, &actual->liquid[i]);
    }
    return status;
}

void tally_actual_clear(struct tally_actual *actual)
{
    unsigned i;

    for (i = 0; i < actual->spreads; i++)
        free(actual->spread[i].effect);
    free(actual->spread);
    free(actual->density);
    free(actual->liquid);
    dregs_purchases_free(actual->purchases);
    dregs_tally_free(actual->own_year);
}
