/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_page_data.c: the tally for programs: CSV, one value per row, and JSON. */
#include "json.h"
#include "page.h"
#include "tally.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- csv: stream,liquid,solute,period,value,unit ---- */

struct csv {
    const struct tally_page *page;
    const dregs_tally_one *one;
    int stages, files; /* a column more: the stage, the file */
};

static void period_name(const struct csv *csv, unsigned period, char into[48])
{
    static const char *const names[] = {"loads", "shift", "day", "January", "year"};

    snprintf(into, 48, "%s",
             period == DREGS_WHOLE ? names[csv->page->request->span.span]
                                   : tally_month_name(period));
}

static void csv_row(const struct csv *csv, const char *stream, const char *liquid,
                    const char *solute, unsigned stage, unsigned period, double value,
                    const char *unit)
{
    char text[DREGS_NUMBER_TEXT], name[48];

    period_name(csv, period, name);
    printf("%s,", stream);
    csv_name(liquid);
    putchar(',');
    csv_name(solute);
    printf(",%s,%s,%s", name, dregs_number_exact(text, value), unit);
    if (csv->stages) {
        putchar(',');
        csv_name(stage == DREGS_WHOLE ? "" : dregs_line_stage(csv->one->line, stage)->name);
    }
    if (csv->files) {
        putchar(',');
        csv_name(dregs_line_name(csv->one->line));
    }
    putchar('\n');
}

/* Of one stage, or of all. */
static void csv_reclaimed(const struct csv *csv, unsigned stage, unsigned period)
{
    const dregs_line *line = csv->one->line;
    unsigned i;

    for (i = 0; i < dregs_line_fluids(line); i++)
        csv_row(csv, "reclaimed", dregs_line_fluid(line, i)->name, "", stage, period,
                dregs_tally_reclaimed(csv->one->tally, i, stage, period), "m3");
}

static void csv_streams(const struct csv *csv, unsigned stage, unsigned period)
{
    const dregs_line *line = csv->one->line;
    unsigned i;
    int stream;

    for (stream = 0; stream < DREGS_STREAM_COUNT; stream++) {
        const char *name = dregs_stream_name((dregs_stream)stream);
        for (i = 0; i < dregs_line_fluids(line) && stream < DREGS_STREAM_ARRIVED; i++)
            csv_row(csv, name, dregs_line_fluid(line, i)->name, "", stage, period,
                    dregs_tally_fluid(csv->one->tally, (dregs_stream)stream, i, stage, period),
                    "m3");
        for (i = 0; i < dregs_line_solutes(line); i++)
            csv_row(csv, name, "", dregs_line_solute(line, i)->name, stage, period,
                    dregs_tally_solute(csv->one->tally, (dregs_stream)stream, i, stage, period),
                    "kg");
    }
    csv_reclaimed(csv, stage, period);
}

static void csv_costs(const struct csv *csv, unsigned period)
{
    dregs_tally_cost cost = dregs_tally_costs(csv->one->tally, period);
    const char *currency = csv->one->currency;

    if (isnan(cost.total))
        return;
    csv_row(csv, "cost of liquid bought", "", "", DREGS_WHOLE, period, cost.bought, currency);
    csv_row(csv, "cost of waste", "", "", DREGS_WHOLE, period, cost.disposal, currency);
}

int tally_page_csv(const struct tally_page *page)
{
    struct csv csv = {page, NULL, page->request->view == DREGS_TALLY_BY_STAGE,
                      page->request->files > 1};
    unsigned i, k;

    printf("stream,liquid,solute,period,value,unit%s%s\n", csv.stages ? ",stage" : "",
           csv.files ? ",file" : "");
    for (i = 0; (csv.one = dregs_tally_result_line(page->answer, i)) != NULL; i++) {
        for (k = 0; csv.stages && k < dregs_line_stages(csv.one->line); k++)
            csv_streams(&csv, k, DREGS_WHOLE);
        for (k = 0; page->request->view == DREGS_TALLY_BY_MONTH && k < DREGS_MONTHS; k++) {
            csv_streams(&csv, DREGS_WHOLE, k);
            csv_costs(&csv, k);
        }
        csv_streams(&csv, DREGS_WHOLE, DREGS_WHOLE);
        csv_costs(&csv, DREGS_WHOLE);
    }
    tally_law_csv(page);
    tally_actual_csv(page);
    return FRONT_DONE;
}

/* ---- json ---- */

struct writer {
    int failed;
};

static void append(struct writer *w, json_t *list, json_t *value)
{
    if (!value || json_array_append_new(list, value))
        w->failed = 1;
}

typedef double of_stream(const dregs_tally *, dregs_stream, unsigned, unsigned, unsigned);

/* {"first fill": 0.028, ...}: the streams that are there. */
static json_t *streams(struct writer *w, const dregs_tally *tally, of_stream *of, unsigned index,
                       unsigned stage, unsigned period)
{
    json_t *object = json_object();
    int stream;

    for (stream = 0; stream < DREGS_STREAM_COUNT; stream++) {
        double value = of(tally, (dregs_stream)stream, index, stage, period);
        if (value != 0.0)
            json_put(&w->failed, object, dregs_stream_name((dregs_stream)stream),
                     json_number_or_null(value));
    }
    if (of == dregs_tally_fluid && dregs_tally_reclaimed(tally, index, stage, period) > 0)
        json_put(&w->failed, object, "reclaimed",
                 json_number_or_null(dregs_tally_reclaimed(tally, index, stage, period)));
    return object;
}

static json_t *substances(struct writer *w, const dregs_tally *tally, unsigned stage,
                          unsigned period)
{
    const dregs_line *line = dregs_tally_line(tally);
    json_t *object = json_object(), *liquids = json_object(), *solutes = json_object();
    unsigned i;

    for (i = 0; i < dregs_line_fluids(line); i++)
        json_put(&w->failed, liquids, dregs_line_fluid(line, i)->name,
                 streams(w, tally, dregs_tally_fluid, i, stage, period));
    for (i = 0; i < dregs_line_solutes(line); i++)
        json_put(&w->failed, solutes, dregs_line_solute(line, i)->name,
                 streams(w, tally, dregs_tally_solute, i, stage, period));
    json_put(&w->failed, object, "liquids", liquids);
    json_put(&w->failed, object, "solutes", solutes);
    return object;
}

static json_t *costs(struct writer *w, const dregs_tally_one *one, unsigned period)
{
    dregs_tally_cost cost = dregs_tally_costs(one->tally, period);
    json_t *object;

    if (isnan(cost.total))
        return json_null();
    object = json_object();
    json_put(&w->failed, object, "currency", json_string(one->currency));
    json_put(&w->failed, object, "bought", json_number_or_null(cost.bought));
    json_put(&w->failed, object, "waste", json_number_or_null(cost.disposal));
    json_put(&w->failed, object, "total", json_number_or_null(cost.total));
    return object;
}

static json_t *period_of(struct writer *w, const dregs_tally_one *one, unsigned period)
{
    json_t *object = substances(w, one->tally, DREGS_WHOLE, period);

    json_put(&w->failed, object, "loads",
             json_integer((json_int_t)dregs_tally_loads(one->tally, period)));
    json_put(&w->failed, object, "days",
             json_integer((json_int_t)dregs_tally_days(one->tally, period)));
    json_put(&w->failed, object, "seconds",
             json_number_or_null(dregs_tally_seconds(one->tally, period)));
    json_put(&w->failed, object, "cost", costs(w, one, period));
    return object;
}

/* What does not close, relative. */
static json_t *residuals(struct writer *w, const dregs_tally_one *one)
{
    json_t *object = json_object();
    unsigned i;

    for (i = 0; i < dregs_line_fluids(one->line); i++)
        json_put(&w->failed, object, dregs_line_fluid(one->line, i)->name,
                 json_number_or_null(dregs_tally_residual_fluid(one->tally, i, DREGS_WHOLE)));
    for (i = 0; i < dregs_line_solutes(one->line); i++)
        json_put(&w->failed, object, dregs_line_solute(one->line, i)->name,
                 json_number_or_null(dregs_tally_residual_solute(one->tally, i, DREGS_WHOLE)));
    return object;
}

static json_t *stages(struct writer *w, const dregs_tally_one *one)
{
    json_t *list = json_array();
    unsigned i;

    for (i = 0; i < dregs_line_stages(one->line); i++) {
        json_t *object = substances(w, one->tally, i, DREGS_WHOLE);
        json_put(&w->failed, object, "stage", json_string(dregs_line_stage(one->line, i)->name));
        append(w, list, object);
    }
    return list;
}

static json_t *months(struct writer *w, const dregs_tally_one *one)
{
    json_t *list = json_array();
    unsigned i;

    for (i = 0; dregs_tally_periods(one->tally) > 1 && i < DREGS_MONTHS; i++) {
        json_t *object = period_of(w, one, i);
        json_put(&w->failed, object, "month", json_string(tally_month_name(i)));
        append(w, list, object);
    }
    return list;
}

static json_t *largest(struct writer *w, const struct tally_page *page, unsigned line, int by_cost)
{
    const dregs_line *stages = dregs_tally_result_line(page->answer, line)->line;
    const dregs_tally_part *part;
    json_t *list = json_array();
    unsigned i;

    for (i = 0; (part = dregs_tally_result_part(page->answer, line, by_cost, i)) != NULL; i++) {
        json_t *object = json_object();
        json_put(&w->failed, object, "stage",
                 json_string(dregs_line_stage(stages, part->stage)->name));
        json_put(&w->failed, object, "stream", json_string(dregs_stream_name(part->stream)));
        json_put(&w->failed, object, "liquid",
                 part->fluid == DREGS_WHOLE
                     ? json_null()
                     : json_string(dregs_line_fluid(stages, part->fluid)->name));
        json_put(&w->failed, object, "volume", json_number_or_null(part->volume));
        json_put(&w->failed, object, "cost", json_number_or_null(part->cost));
        json_put(&w->failed, object, "share", json_number_or_null(part->share));
        append(w, list, object);
    }
    return list;
}

/* Of a line, or of a changed one. */
typedef const dregs_tally_figure *figure_of(const dregs_tally_result *, unsigned, unsigned);

static json_t *figures(struct writer *w, const struct tally_page *page, figure_of *of,
                       unsigned which)
{
    const dregs_tally_figure *figure;
    json_t *object = json_object();
    unsigned i;

    for (i = 0; (figure = of(page->answer, which, i)) != NULL; i++) {
        json_t *pair = json_object();
        json_put(&w->failed, pair, "value", json_number_or_null(figure->value));
        json_put(&w->failed, pair, "unit", json_string(figure->unit));
        json_put(&w->failed, object, figure->name, pair);
    }
    return object;
}

static json_t *changes(struct writer *w, const struct tally_page *page)
{
    const dregs_tally_change *change;
    json_t *list = json_array();
    unsigned i;

    for (i = 0; (change = dregs_tally_result_change(page->answer, i)) != NULL; i++) {
        json_t *object = json_object();
        json_put(&w->failed, object, "change", json_string(change->what));
        json_put(&w->failed, object, "not computed",
                 *change->reason ? json_string(change->reason) : json_null());
        json_put(&w->failed, object, "figures",
                 *change->reason ? json_null() : figures(w, page, dregs_tally_result_changed, i));
        append(w, list, object);
    }
    return list;
}

static json_t *assumed(struct writer *w, const dregs_tally_one *one)
{
    json_t *list = json_array();
    unsigned i;

    for (i = 0; dregs_tally_assumed(one->tally, i); i++)
        append(w, list, json_string(dregs_tally_assumed(one->tally, i)));
    for (i = 0; dregs_line_assumed(one->line, i); i++)
        append(w, list, json_string(dregs_line_assumed(one->line, i)));
    return list;
}

static json_t *cautions(struct writer *w, const dregs_line *line)
{
    dregs_caution caution[DREGS_CAUTIONS_MOST];
    unsigned count = dregs_cautions(line, caution), i;
    json_t *list = json_array();

    for (i = 0; i < count; i++) {
        json_t *object = json_object();
        json_put(&w->failed, object, "id", json_string(caution[i].rule->id));
        json_put(&w->failed, object, "source", json_string(caution[i].rule->source));
        json_put(&w->failed, object, "text", json_string(caution[i].text));
        append(w, list, object);
    }
    return list;
}

static json_t *one_line(struct writer *w, const struct tally_page *page, unsigned line)
{
    const dregs_tally_one *one = dregs_tally_result_line(page->answer, line);
    json_t *object = json_object();

    json_put(&w->failed, object, "line", json_string(dregs_line_name(one->line)));
    json_put(&w->failed, object, "whole", period_of(w, one, DREGS_WHOLE));
    json_put(&w->failed, object, "does not close by", residuals(w, one));
    json_put(&w->failed, object, "stages", stages(w, one));
    json_put(&w->failed, object, "months", months(w, one));
    json_put(&w->failed, object, "dominates by volume", largest(w, page, line, 0));
    json_put(&w->failed, object, "dominates by cost", largest(w, page, line, 1));
    json_put(&w->failed, object, "figures", figures(w, page, dregs_tally_result_figure, line));
    json_put(&w->failed, object, "assumed", assumed(w, one));
    json_put(&w->failed, object, "cautions", cautions(w, one->line));
    return object;
}

int tally_page_json(const struct tally_page *page)
{
    static const char *const spans[] = {"loads", "shift", "day", "month", "year"};
    struct writer w = {0};
    json_t *object = json_object(), *units = json_object(), *lines = json_array();
    unsigned i;
    int failed;

    json_put(&w.failed, units, "liquids", json_string("m3"));
    json_put(&w.failed, units, "solutes", json_string("kg"));
    json_put(&w.failed, object, "span", json_string(spans[page->request->span.span]));
    json_put(&w.failed, object, "running", json_boolean(page->request->span.running));
    json_put(&w.failed, object, "units", units);
    for (i = 0; dregs_tally_result_line(page->answer, i); i++)
        append(&w, lines, one_line(&w, page, i));
    json_put(&w.failed, object, "lines", lines);
    if (page->request->law)
        json_put(&w.failed, object, "law", tally_law_json(page, &w.failed));
    if (page->request->actual_file)
        json_put(&w.failed, object, "actual", tally_actual_json(page, &w.failed));
    json_put(&w.failed, object, "changes", changes(&w, page));
    json_put(&w.failed, object, "deference", json_string(dregs_caution_deference()));
    failed = w.failed || json_dumpf(object, stdout, JSON_INDENT(1));
    json_decref(object);
    putchar('\n');
    return failed ? front_say(FRONT_IO, "out of memory") : FRONT_DONE;
}
