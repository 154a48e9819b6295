/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* beaker.c: the page of a sum at the bench: the answer in a sentence, the ways beside each other,
 * what was assumed, the cautions. */
#include "base/grow.h"
#include "page/inside.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define CELSIUS(kelvin) ((kelvin)-273.15)

enum { WORDS = 64 };

struct sum {
    dregs_report *report;
    const dregs_beaker_result *result;
};

static const dregs_beaker_way *way_of(const struct sum *s, unsigned index)
{
    return dregs_beaker_result_way(s->result, index);
}

/* ---- numbers in words ---- */

/* A span of time in the unit that a person would name. */
static const char *time_words(char into[WORDS], double seconds)
{
    static const struct {
        double from, is;
        const char *unit;
    } units[] = {{2 * 86400.0, 86400.0, "days"},
                 {2 * 3600.0, 3600.0, "h"},
                 {2 * 60.0, 60.0, "min"},
                 {0, 1, "s"}};
    char number[DREGS_NUMBER_TEXT];
    size_t i;

    for (i = 0; seconds < units[i].from; i++)
        continue;
    snprintf(into, WORDS, "%s %s", dregs_number_plain(number, seconds / units[i].is, 3),
             units[i].unit);
    return into;
}

static const char *volume_words(char into[WORDS], double volume)
{
    int litres = volume >= 1e-3;
    char number[DREGS_NUMBER_TEXT];

    snprintf(into, WORDS, "%s %s", dregs_number_plain(number, volume * (litres ? LITRES : ML), 3),
             litres ? "L" : "mL");
    return into;
}

static const char *unit_of(dregs_beaker_kind kind)
{
    return kind == DREGS_BEAKER_TIME ? "min" : kind == DREGS_BEAKER_VOLUME ? "mL" : "1";
}

/* What a way takes, in that unit. */
static double in_unit(dregs_beaker_kind kind, double si)
{
    return kind == DREGS_BEAKER_TIME ? si / 60 : kind == DREGS_BEAKER_VOLUME ? si / 1e-6 : si;
}

static double limit_shown(const dregs_beaker_result *r)
{
    return r->limit * (r->by_area ? UG_PER_CM2 : MG_PER_L);
}

static const char *limit_unit(const dregs_beaker_result *r)
{
    return r->by_area ? "ug/cm2" : "mg/L";
}

/* ---- the sentences ---- */

static void end_judged(const struct sum *s, int met)
{
    dregs_report_end(s->report, 0, 2);
    dregs_report_verdict(s->report, met ? DREGS_VERDICT_MET : DREGS_VERDICT_MISSED);
}

/* What the worst load of a way leaves. */
static void say_leaves(const struct sum *s, const dregs_beaker_way *way, const char *who)
{
    struct numbers n = {0};

    if (isnan(way->concentration))
        return;
    dregs_report_words(s->report, "%s leaves %s mg/L in its film", who,
                       dregs_page_number(&n, way->concentration * MG_PER_L));
    if (!isnan(way->residue))
        dregs_report_words(s->report, ", %s ug/cm2 when it is dry",
                           dregs_page_number(&n, way->residue * UG_PER_CM2));
    if (way->judged)
        dregs_report_words(s->report, "; the limit is %s %s",
                           dregs_page_number(&n, limit_shown(s->result)), limit_unit(s->result));
    dregs_report_end(s->report, 2, 4);
}

static void say_sure(const struct sum *s, const dregs_beaker_way *way)
{
    char share[DRAWS_SHARE];

    if (isnan(way->probability))
        return;
    dregs_report_text(
        s->report, 2, 4, "met in %s (%llu, of %u value%s with a spread)%s",
        dregs_page_of_draws(way->probability, share), (unsigned long long)s->result->draws,
        s->result->drawn, s->result->drawn == 1 ? "" : "s",
        isnan(s->result->confidence) ? "; --confidence 95% takes what is needed to be so sure"
                                     : "");
}

static void say_parts(const struct sum *s)
{
    const dregs_beaker_way *way = way_of(s, 0);
    const char *who = isinf(way->takes) ? "the last of a million loads" : "the last of them";
    struct numbers n = {0};
    char volume[WORDS];

    (void)volume_words(volume, s->result->volume);
    if (isinf(way->takes)) {
        dregs_report_words(s->report, "the limit is kept however many parts go through %s", volume);
    } else if (!(way->takes > 0)) {
        who = "it";
        dregs_report_words(s->report, "NOT ONE: the first load through %s %s", volume,
                           isnan(s->result->confidence) ? "leaves more than the limit"
                                                        : "does not meet the limit so surely");
    } else {
        dregs_report_words(s->report, "%s part%s", dregs_page_number(&n, way->takes),
                           way->takes > 1 ? "s" : "");
        if (s->result->parts > 1)
            dregs_report_words(s->report, ", %s at a time,",
                               dregs_page_number(&n, s->result->parts));
        dregs_report_words(s->report, " through %s, then fresh liquid", volume);
    }
    end_judged(s, way->takes > 0);
    say_leaves(s, way, who);
    say_sure(s, way);
}

static void say_rinses(const struct sum *s)
{
    const dregs_beaker_way *one = way_of(s, 0), *more = way_of(s, s->result->best);
    struct numbers n = {0};

    dregs_report_words(s->report, "%s: %s %% of the soil is left; %s: %s %%", more->way,
                       dregs_page_number(&n, more->left * 100), one->way,
                       dregs_page_number(&n, one->left * 100));
    if (more->judged)
        end_judged(s, more->met);
    else
        dregs_report_end(s->report, 0, 2);
    if (more->judged)
        dregs_report_line(s->report, 2, "the limit, %s %s, is %s",
                          dregs_page_number(&n, limit_shown(s->result)), limit_unit(s->result),
                          more->met ? "met" : "NOT met");
}

/* Volumes of fresh liquid for a load. */
static void say_volumes(const struct sum *s)
{
    const dregs_beaker_way *way = way_of(s, s->result->best);
    struct numbers n = {0};
    char volume[WORDS];

    if (isnan(way->takes))
        dregs_report_words(s->report, "NOT POSSIBLE, %s: the fresh liquid itself leaves too much",
                           way->way);
    else if (s->result->parts > 1)
        dregs_report_words(s->report, "%s for a load of %s parts, %s",
                           volume_words(volume, way->takes),
                           dregs_page_number(&n, s->result->parts), way->way);
    else
        dregs_report_words(s->report, "%s for each part, %s", volume_words(volume, way->takes),
                           way->way);
    end_judged(s, isfinite(way->takes));
    say_leaves(s, way, isnan(way->takes) ? "as much of it as you like still" : "it");
    say_sure(s, way);
}

static void say_open(const struct sum *s)
{
    const dregs_beaker_way *way = way_of(s, 0), *after = way_of(s, 1);
    const dregs_beaker_way *last = after ? after : way;
    struct numbers n = {0};
    char time[WORDS], volume[WORDS];

    if (isinf(way->takes))
        dregs_report_line(s->report, 0, "nothing evaporates");
    else
        dregs_report_line(s->report, 0, "%s %% of %s is gone after %s",
                          dregs_page_number(&n, s->result->asked * 100),
                          volume_words(volume, s->result->volume), time_words(time, way->takes));
    if (after)
        dregs_report_line(s->report, 2, "%s %s %% is left", after->way,
                          dregs_page_number(&n, after->left * 100));
    if (!isnan(last->water))
        dregs_report_text(s->report, 2, 4,
                          "it then holds about %s %% of water by mass, from the room's air",
                          dregs_number_plain(n.text[0], last->water * 100, 2));
    dregs_report_line(s->report, 2, "it loses %s mL/h at first",
                      dregs_page_number(&n, s->result->rate * 3600 * ML));
}

static void say_heat(const struct sum *s)
{
    const dregs_beaker_way *way = way_of(s, 0);
    struct numbers n = {0};
    char time[WORDS];

    if (isinf(way->takes))
        dregs_report_line(s->report, 0, "%s is not reached", way->way);
    else
        dregs_report_line(s->report, 0, "%s after %s", way->way, time_words(time, way->takes));
    dregs_report_words(s->report, "from %s degC", dregs_page_number(&n, CELSIUS(s->result->start)));
    if (isnan(way->temperature))
        dregs_report_words(s->report, "; left on, it would come to boil");
    else
        dregs_report_words(s->report, "; it settles at %s degC",
                           dregs_page_number(&n, CELSIUS(way->temperature)));
    dregs_report_end(s->report, 2, 4);
}

static void say_answer(const struct sum *s)
{
    switch (s->result->question) {
    case DREGS_BEAKER_PARTS:
        say_parts(s);
        break;
    case DREGS_BEAKER_RINSES:
        say_rinses(s);
        break;
    case DREGS_BEAKER_BOTTLE:
    case DREGS_BEAKER_FRESH:
        say_volumes(s);
        break;
    case DREGS_BEAKER_OPEN:
        say_open(s);
        break;
    default:
        say_heat(s);
    }
}

/* ---- the tables ---- */

static void put_row(dregs_table *table, const dregs_beaker_way *way)
{
    char words[WORDS];

    dregs_table_word(table, way->way);
    if (!isfinite(way->takes) || way->kind == DREGS_BEAKER_COUNT)
        dregs_table_number(table, isfinite(way->takes) ? way->takes : NAN);
    else
        dregs_table_shown(table, in_unit(way->kind, way->takes),
                          way->kind == DREGS_BEAKER_TIME ? time_words(words, way->takes)
                                                         : volume_words(words, way->takes));
    dregs_table_word(table, unit_of(way->kind));
    dregs_table_number(table, way->left * 100);
    dregs_table_number(table, way->concentration * MG_PER_L);
    dregs_table_number(table, way->residue * UG_PER_CM2);
    dregs_table_number(table, way->water * 100);
    if (way->judged)
        dregs_table_flag(table, way->met);
    else
        dregs_table_word(table, NULL);
    dregs_table_number(table, way->probability);
    dregs_table_end_row(table);
}

/* Several ways are shown to people too. */
static void put_ways(const struct sum *s)
{
    int several = s->result->ways > 1;
    int open = s->result->question == DREGS_BEAKER_OPEN;
    dregs_table *table;
    unsigned i;

    if (several)
        dregs_report_gap(s->report);
    table = dregs_report_table(s->report, "ways",
                               DREGS_IN_CSV | DREGS_IN_JSON | (several ? DREGS_IN_TEXT : 0));
    dregs_table_column(table, DREGS_COLUMN_WORD, "way", "", "", 34);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "takes", open ? "after" : "takes", "", -10);
    dregs_table_column(table, DREGS_COLUMN_WORD, "unit", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "left", "left", "%", -12);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "film", open ? NULL : "film", "mg/L", -12);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "residue", open ? NULL : "residue", "ug/cm2",
                       -12);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "water", open ? "water" : NULL, "%", -12);
    dregs_table_column(table, DREGS_COLUMN_FLAG, "met", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "probability", NULL, "1", 0);
    for (i = 0; i < s->result->ways; i++)
        put_row(table, way_of(s, i));
}

static void put_figures(const struct sum *s)
{
    const dregs_beaker_way *way = way_of(s, s->result->best);
    double answer = way->takes;

    dregs_report_word(s->report, "question", dregs_beaker_word(s->result->question));
    if (s->result->question == DREGS_BEAKER_RINSES)
        dregs_report_figure(s->report, "answer", dregs_quantity_of(way->left * 100, "%"));
    else
        dregs_report_figure(s->report, "answer",
                            dregs_quantity_of(isfinite(answer) ? in_unit(way->kind, answer) : NAN,
                                              unit_of(way->kind)));
    dregs_report_figure(s->report, "probability", dregs_quantity_of(way->probability, "1"));
    dregs_report_figure(s->report, "settles", dregs_quantity_of(CELSIUS(way->temperature), "degC"));
}

/* ---- the picture ---- */

static dregs_status fill_curve(void *user, dregs_table *table)
{
    const dregs_beaker_result *r = *(const dregs_beaker_result *const *)user;
    const dregs_beaker_point *point;
    int heat = r->question == DREGS_BEAKER_WARM || r->question == DREGS_BEAKER_COOL;
    int shares = isnan(r->limit);
    size_t i;

    for (i = 0; (point = dregs_beaker_result_point(r, i)) != NULL; i++) {
        const dregs_beaker_way *way = dregs_beaker_result_way(r, point->way);
        dregs_table_word(table, way->way);
        dregs_table_number(
            table, r->question == DREGS_BEAKER_RINSES ? point->x : in_unit(way->kind, point->x));
        dregs_table_number(table, heat                                 ? CELSIUS(point->y)
                                  : shares                             ? point->y * 100
                                  : r->question == DREGS_BEAKER_RINSES ? point->y * 100
                                  : r->by_area                         ? point->y * UG_PER_CM2
                                                                       : point->y * MG_PER_L);
        dregs_table_end_row(table);
    }
    return DREGS_OK;
}

/* Titles and axes, by question. */
static const struct drawn {
    const char *title, *x, *x_unit, *y, *y_unit; /* y NULL: what the limit is of */
    int x_log, y_log;
} drawn[DREGS_BEAKER_QUESTIONS] = {
    [DREGS_BEAKER_PARTS] = {"What part after part leaves", "parts", "", NULL, NULL, 0, 0},
    [DREGS_BEAKER_RINSES] = {"Soil left by rinses of equal parts", "rinses", "", "soil left", "%",
                             0, 1},
    [DREGS_BEAKER_BOTTLE] = {"What is left against the liquid poured", "fresh liquid", "mL", NULL,
                             NULL, 1, 1},
    [DREGS_BEAKER_FRESH] = {"What is left against the fresh liquid", "fresh liquid", "mL", NULL,
                            NULL, 1, 1},
    [DREGS_BEAKER_OPEN] = {"Liquid left in an open beaker", "time", "min", "left", "%", 0, 0},
    [DREGS_BEAKER_WARM] = {"Temperature of the bath", "time", "min", "temperature", "degC", 0, 0},
    [DREGS_BEAKER_COOL] = {"Temperature of the parts", "time", "min", "temperature", "degC", 0, 0},
};

static void put_picture(const struct sum *s)
{
    const struct drawn *d = &drawn[s->result->question];
    const dregs_beaker_result *r = s->result;
    dregs_table *table;
    dregs_chart *chart;
    unsigned i;

    if (!r->points)
        return;
    table = dregs_report_table(s->report, "curve", DREGS_IN_JSON | DREGS_IN_PICTURE);
    dregs_table_column(table, DREGS_COLUMN_WORD, "way", NULL, "", 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "x", NULL, d->x_unit, 0);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "y", NULL, d->y ? d->y_unit : limit_unit(r), 0);
    dregs_table_filled_by(table, fill_curve, dregs_report_lasting(s->report, &r, sizeof r));
    chart = dregs_report_chart(s->report, "answer", d->title);
    dregs_chart_axis_is(chart, DREGS_AXIS_X, d->x, d->x_unit, d->x_log);
    dregs_chart_axis_is(chart, DREGS_AXIS_Y,
                        d->y         ? d->y
                        : r->by_area ? "residue"
                                     : "dissolved in the film",
                        d->y ? d->y_unit : limit_unit(r), d->y_log);
    if (r->question == DREGS_BEAKER_RINSES) {
        dregs_chart_series(chart, "soil left", DREGS_MARK_BARS, "curve", "way", "y");
        return;
    }
    for (i = 0; i < r->ways; i++) {
        if (i && r->question == DREGS_BEAKER_OPEN)
            break;
        if (r->question == DREGS_BEAKER_FRESH && !isfinite(way_of(s, i)->takes))
            continue;
        dregs_chart_series(chart, way_of(s, i)->way, DREGS_MARK_LINE, "curve", "x", "y");
        dregs_chart_where(chart, "way", way_of(s, i)->way);
    }
    if (!isnan(r->limit))
        dregs_chart_limit(chart, "limit", limit_shown(r));
    if (!isnan(r->start))
        dregs_chart_reference(chart, "asked for", CELSIUS(r->asked));
}

/* ---- the working ---- */

static void say_text(const struct sum *s, const dregs_beaker_way *way)
{
    const char *at = way->text, *end = way->text + way->length;

    dregs_report_heading(s->report, "the line that was asked: %s", way->way);
    while (at < end) {
        const char *stop = memchr(at, '\n', (size_t)(end - at));
        int length = (int)((stop ? stop : end) - at);
        dregs_report_line(s->report, 2, "%.*s", length, at);
        at += length + 1;
    }
}

static void say_tanks(const struct sum *s)
{
    const dregs_line *line = way_of(s, 0)->line;
    unsigned i;

    if (!dregs_line_tanks(line) ||
        (s->result->question != DREGS_BEAKER_OPEN && s->result->question != DREGS_BEAKER_WARM))
        return;
    dregs_report_heading(s->report, "evaporation and heat");
    for (i = 0; i < dregs_line_tanks(line); i++)
        dregs_page_tank(s->report, line, i);
}

static void say_working(const struct sum *s)
{
    static const char *const equations[DREGS_BEAKER_QUESTIONS] = {
        [DREGS_BEAKER_PARTS] =
            "load after load (V + D) c_n = V c_(n-1) + D c_0, with the film D that each brings at "
            "c_0 and takes at c_n: c_n = c_0 (1 - (V/(V + D))^n); with soil m on dry parts c_n = "
            "(m/D) (1 - (1 - D/V)^n). The largest dump every that meets the limit is the answer.",
        [DREGS_BEAKER_RINSES] = "each rinse leaves D/(V + D) of the soil in the film, of what "
                                "mixes; n of them this to the power of n",
        [DREGS_BEAKER_BOTTLE] =
            "the film keeps exp(-e S/D) of its soil, e the share that mixes, S what is poured",
        [DREGS_BEAKER_FRESH] = "dipped, D/(V + D) of the soil stays, for each dip; poured over, "
                               "exp(-e S/D)",
        [DREGS_BEAKER_OPEN] =
            "time = share x volume / evaporation, at the rate of the full beaker; the water by "
            "Water in an open tank",
        [DREGS_BEAKER_WARM] = "C dT/dt = P - U A (T - T_room) - evaporation L, integrated over T",
        [DREGS_BEAKER_COOL] =
            "C dT/dt = -h (T - T_room) - eps sigma (T^4 - T_room^4) for each surface, integrated; "
            "h as in DRYING of dregs-model(7)",
    };
    struct numbers n = {0};
    unsigned i;

    dregs_report_heading(s->report, "the working");
    dregs_report_text(s->report, 2, 4, "%s  [dregs-model(7)]", equations[s->result->question]);
    if (!isnan(s->result->film))
        dregs_report_step(s->report, "film that a load carries, D",
                          dregs_quantity_of(s->result->film * ML, "mL"));
    if (!isnan(s->result->heat_capacity))
        dregs_report_step(s->report, "C = mass x specific heat / area",
                          dregs_quantity_of(s->result->heat_capacity / 1e3, "kJ/(m2.K)"));
    if (!isnan(s->result->water_rate)) {
        dregs_report_step(s->report, "at first the liquid changes by, -N",
                          dregs_quantity_of(s->result->solvent_rate * 3600, "kg/(m2 h)"));
        dregs_report_step(s->report, "and takes up water, G Pr",
                          dregs_quantity_of(s->result->water_rate * 3600, "kg/(m2 h)"));
    }
    for (i = 0; i < s->result->ways; i++)
        if (isfinite(way_of(s, i)->left))
            dregs_report_line(s->report, 4, "%s: %s %% left", way_of(s, i)->way,
                              dregs_page_six(&n, way_of(s, i)->left * 100));
    say_tanks(s);
    for (i = 0; i < s->result->ways; i++)
        if (i == 0 || way_of(s, i)->text != way_of(s, 0)->text)
            say_text(s, way_of(s, i));
    dregs_report_text(s->report, 2, 4,
                      "kept with --write, dregs-predict --explain shows it stage by stage");
}

dregs_status dregs_page_beaker(const dregs_beaker_result *result, int explain,
                               dregs_report **report)
{
    struct sum s = {dregs_report_new("beaker", NULL), result};
    const dregs_line *line = dregs_beaker_result_way(result, result->best)->line;
    unsigned i;

    if (!s.report)
        return DREGS_NO_MEMORY;
    dregs_report_show(s.report, DREGS_LIST_PRESSING, "");
    say_answer(&s);
    put_ways(&s);
    dregs_report_show(s.report, DREGS_LIST_ASSUMED, "assumed, because no option states it");
    dregs_report_show(s.report, DREGS_LIST_CAUTIONS, "cautions");
    for (i = 0; dregs_beaker_result_assumed(result, i); i++)
        dregs_report_assumed(s.report, dregs_beaker_result_assumed(result, i));
    for (i = 0; dregs_line_assumed(line, i); i++)
        dregs_report_assumed(s.report, dregs_line_assumed(line, i));
    dregs_page_cautions(s.report, result->caution, result->cautions);
    if (explain)
        say_working(&s);
    put_figures(&s);
    put_picture(&s);
    return dregs_page_end(s.report, report);
}
