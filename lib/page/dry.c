/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry.c: the page of a drying: when the film is gone, and what its vapour does. */
#include "page/dry.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A flow to be safe by is rounded up: by a little more than the digits shown leave out. */
#define ROUNDED_UP 1.001

enum { SPAN = 40, DRAWN_SPAN = 160, DIGITS = 4 /* of a number on the page */ };

/* A unit of time and how it heads a column of times, or of times that are not undercut or passed.
 */
struct clock {
    double seconds;
    const char *unit, *least, *most;
};

static struct clock clock_of(double longest)
{
    static const struct clock second = {1, "s", "s, least", "s, most"},
                              minute = {60, "min", "min, least", "min, most"},
                              hour = {3600, "h", "h, least", "h, most"};

    return !(longest >= 180) ? second : longest < 7200 ? minute : hour;
}

/* "41 s", "12 min", "3.1 h"; "-" where there is none. */
static const char *span(char into[SPAN], double seconds)
{
    struct clock clock = clock_of(seconds);
    char number[DREGS_NUMBER_TEXT];

    if (!isfinite(seconds))
        return strcpy(into, "-");
    snprintf(into, SPAN, "%s %s", dregs_number_plain(number, seconds / clock.seconds, 3),
             clock.unit);
    return into;
}

/* "41 s"; with draws "41 s (37 to 46)", in the unit of the longest, "never" where none dries. */
static const char *drawn_span(const struct dryings *d, dregs_dry_doubtful what, unsigned index,
                              double seconds, char into[DRAWN_SPAN])
{
    char low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT], plain[SPAN];
    dregs_ensemble_range range;
    struct clock clock;
    int never;

    snprintf(into, DRAWN_SPAN, "%s", span(plain, seconds));
    if (!dregs_page_dry_range(d, what, index, &range))
        return into;
    never = dregs_page_dry_drawn_never(range.high.value);
    clock = clock_of(never ? seconds : fmax(seconds, range.high.value));
    snprintf(into, DRAWN_SPAN, "%s %s (%s to %s)",
             dregs_number_plain(plain, seconds / clock.seconds, 3), clock.unit,
             dregs_number_plain(low, range.low.value / clock.seconds, 3),
             never ? "never" : dregs_number_plain(high, range.high.value / clock.seconds, 3));
    return into;
}

/* A cell of a column that has its unit in its head. */
static void put_time(dregs_table *table, double seconds, struct clock clock)
{
    char number[DREGS_NUMBER_TEXT];

    dregs_table_shown(table, seconds,
                      isfinite(seconds) ? dregs_number_plain(number, seconds / clock.seconds, 3)
                                        : "-");
}

static const char *celsius(struct numbers *numbers, double kelvin)
{
    return dregs_page_number(numbers, CELSIUS(kelvin));
}

double dregs_page_dry_peak(const dregs_dry_row *row)
{
    if (!(row->film.volume > 0) || !(row->drying.peak > 0))
        return NAN;
    return isfinite(row->peak) ? row->peak : row->drying.peak;
}

double dregs_page_dry_fresh_air(const dregs_dry_row *row)
{
    double flow = row->needed * M3_PER_H * ROUNDED_UP, ten;

    if (!(flow > 0))
        return flow;
    /* a quotient by a power of ten, so that the number is the one that the digits say */
    ten = pow(10, DIGITS - 1 - floor(log10(flow)));
    return round(flow * ten) / ten;
}

/* ---- the answer ---- */

static void say_film(const struct dryings *d)
{
    const dregs_dry_row *row = dregs_dry_result_row(d->result, 0);
    struct numbers n = {0};

    if (row->stage)
        dregs_report_words(d->report, "%s: ", row->stage);
    dregs_report_words(d->report, "%s g/m2 of %s", dregs_page_number(&n, row->mass * G_PER_M2),
                       row->film.liquid[0]);
    if (row->film.count > 1)
        dregs_report_words(d->report, " %s %%", dregs_number_plain(n.text[0], row->share * 100, 3));
    if (d->line)
        dregs_report_words(d->report, ", %s", dregs_line_name(d->line));
    dregs_report_end(d->report, 0, -1);
    dregs_report_gap(d->report);
}

/* " in oven"; nothing without a line. */
static void say_place(const struct dryings *d, const dregs_dry_row *row)
{
    if (row->stage)
        dregs_report_words(d->report, " in %s", row->stage);
}

/* What dries in time and passes no limit, but does not pass either, could not be judged. */
static dregs_verdict verdict_of(const dregs_dry_row *row)
{
    if (row->passes)
        return DREGS_VERDICT_MET;
    return row->drying.dry && !row->late && !(dregs_page_dry_peak(row) > DREGS_VAPOUR_SHARE)
               ? DREGS_VERDICT_UNKNOWN
               : DREGS_VERDICT_MISSED;
}

static void say_time(const struct dryings *d, unsigned index)
{
    const dregs_dry_row *row = dregs_dry_result_row(d->result, index);
    struct numbers n = {0};
    char time[DRAWN_SPAN], film[SPAN];
    int longer =
        verdict_of(row) == DREGS_VERDICT_MISSED || row->last != DREGS_DRY_FILM || row->late;

    dregs_report_words(
        d->report, "%sdry in %s%s at %s degC",
        row->last == DREGS_DRY_FILM && dregs_page_dry_unknown(row) ? "even film " : "",
        row->last == DREGS_DRY_BEAD ? "at most " : "",
        drawn_span(d, DREGS_DRY_RANGE_TIME, index, row->time, time), celsius(&n, row->film.air));
    say_place(d, row);
    dregs_page_dry_decides(d, row, span(film, row->drying.time));
    if (!isnan(row->quicker))
        dregs_report_words(d->report, " (%s times as fast as the first)",
                           dregs_number_plain(n.text[1], row->quicker, 3));
    if (row->late)
        dregs_page_dry_late(d, row);
    longer |= dregs_page_dry_in_time(d, index);
    if (dregs_page_dry_peak(row) > DREGS_VAPOUR_SHARE)
        dregs_report_words(d->report, "; its vapour reaches %s %% of the lower flammable limit",
                           dregs_number_plain(n.text[2], dregs_page_dry_peak(row) * 100, 3));
    /* the usual ones stand below each other, a line each */
    dregs_report_end(d->report, 0, longer ? 2 : -1);
}

static void say_never(const struct dryings *d, const dregs_dry_row *row)
{
    struct numbers n = {0};

    dregs_report_words(d->report, "does NOT dry at %s degC", celsius(&n, row->film.air));
    say_place(d, row);
    dregs_report_words(d->report, " within 1e7 s: the air is full of its vapour");
    dregs_report_end(d->report, 0, 2);
}

static const char *why_unjudged(const dregs_dry_row *row)
{
    if (!dregs_liquids_row(row->film.liquids, row->film.liquid[0], DREGS_LOWER_LIMIT))
        return "no lower flammable limit of it is on record";
    if (row->air_stated)
        return "less fresh air is stated than is required below without a volume; state the volume";
    return row->needed > 0 ? "no fresh air is stated; what is required stands below"
                           : "no fresh air is stated, and the vapour of loads that follow adds up";
}

int dregs_page_dry_unjudged(const dregs_dry_row *row)
{
    return row->drying.dry && row->vapour_open && !(dregs_page_dry_peak(row) > DREGS_VAPOUR_SHARE);
}

/* Why the vapour of a drying is not judged: once for a stage, however many temperatures. */
static void say_unjudged(const struct dryings *d, unsigned index)
{
    const dregs_dry_row *row = dregs_dry_result_row(d->result, index);
    unsigned i;

    for (i = 0; i < index; i++) {
        const dregs_dry_row *before = dregs_dry_result_row(d->result, i);
        if (before->stage == row->stage && dregs_page_dry_unjudged(before))
            return;
    }
    dregs_report_words(d->report, "vapour not judged: %s", why_unjudged(row));
    if (row->stage)
        dregs_report_words(d->report, " (%s)", row->stage);
    dregs_report_end(d->report, 0, 2);
    dregs_report_verdict(d->report, DREGS_VERDICT_UNKNOWN);
}

static void say_times(const struct dryings *d)
{
    unsigned i;

    for (i = 0; i < d->result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        if (row->drying.dry)
            say_time(d, i);
        else
            say_never(d, row);
        dregs_report_verdict(d->report, verdict_of(row));
    }
    for (i = 0; i < d->result->rows; i++)
        if (dregs_page_dry_unjudged(dregs_dry_result_row(d->result, i)))
            say_unjudged(d, i);
    dregs_page_dry_trapped(d);
    dregs_page_dry_doubt_words(d);
}

/* The longest time of the film or of a bound: one unit for all, so that they compare. */
static struct clock clock_of_all(const dregs_dry_result *result)
{
    double longest = 0;
    unsigned i;

    for (i = 0; i < result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(result, i);
        if (row->drying.dry)
            longest = fmax(longest, row->drying.time);
        longest = fmax(longest, fmax(row->isothermal, row->wet_bulb)); /* fmax passes over NaN */
    }
    return clock_of(longest);
}

/* The second heads are not all units: programs have a table of their own. */
static void say_bounds(const struct dryings *d)
{
    struct clock clock = clock_of_all(d->result);
    dregs_table *table;
    unsigned i;

    dregs_report_gap(d->report);
    table = dregs_report_table(d->report, "bounds", DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "air", "air", "degC", -6);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "film", "film dry", clock.unit, -14);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "isothermal", "isothermal", clock.least, -13);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "wet_bulb", "wet bulb", clock.most, -13);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "coldest", "coldest", "degC", -13);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "dew_point", "dew point", "degC", -13);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "peak", "vapour peak", "% of limit", -14);
    for (i = 0; i < d->result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        dregs_table_number(table, CELSIUS(row->film.air));
        if (row->drying.dry)
            put_time(table, row->drying.time, clock);
        else
            dregs_table_shown(table, row->drying.time, "never");
        put_time(table, row->isothermal, clock);
        put_time(table, row->wet_bulb, clock);
        dregs_table_number(table, CELSIUS(row->drying.coldest));
        dregs_table_number(table, CELSIUS(row->drying.dew_point));
        dregs_table_number(table, dregs_page_dry_peak(row) * 100);
        dregs_table_end_row(table);
    }
}

static void put_drawn_time(dregs_table *table, double seconds, struct clock clock)
{
    if (dregs_page_dry_drawn_never(seconds))
        dregs_table_shown(table, seconds, "never");
    else
        put_time(table, seconds, clock);
}

/* The longest of the times that are drawn. */
static struct clock clock_of_draws(const struct dryings *d)
{
    dregs_ensemble_range range;
    double longest = 0;
    unsigned i;

    for (i = 0; i < d->result->rows; i++)
        if (!dregs_dry_doubt_range(d->doubt, DREGS_DRY_RANGE_TIME, i, &range) &&
            !dregs_page_dry_drawn_never(range.middle.value))
            longest = fmax(longest, range.middle.value);
    return clock_of(longest);
}

/* Between what the times lie, of film, bead and hole together. */
static void say_sure(const struct dryings *d)
{
    struct clock clock = {1, "s", "", ""};
    dregs_ensemble_estimate share;
    dregs_ensemble_range range;
    dregs_table *table;
    unsigned i;

    if (!d->doubt)
        return;
    clock = clock_of_draws(d);
    dregs_report_gap(d->report);
    table = dregs_report_table(d->report, "sure", DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "air", "air", "degC", -6);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "low", "5 % dry", clock.unit, -14);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "middle", "50 % dry", clock.unit, -13);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "high", "95 % dry", clock.unit, -13);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "in_time", "in time", "% of draws", -13);
    for (i = 0; i < d->result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        if (dregs_dry_doubt_range(d->doubt, DREGS_DRY_RANGE_TIME, i, &range) ||
            dregs_dry_doubt_in_time(d->doubt, i, &share))
            continue;
        dregs_table_number(table, CELSIUS(row->film.air));
        put_drawn_time(table, range.low.value, clock);
        put_drawn_time(table, range.middle.value, clock);
        put_drawn_time(table, range.high.value, clock);
        dregs_table_number(table,
                           isfinite(row->interval) && !row->dries_on ? share.value * 100 : NAN);
        dregs_table_end_row(table);
    }
}

/* The way there, for one drying: when how much is left. */
static void say_moments(const struct dryings *d)
{
    static const double left[] = {1, 0.75, 0.5, 0.25, 0.1, 0.01};
    const dregs_dry_row *row = dregs_dry_result_row(d->result, 0);
    const dregs_drying *drying = &row->drying;
    const dregs_dry_point *point = drying->point, *end = point + drying->points;
    struct clock clock;
    dregs_table *table;
    unsigned i;

    if (d->result->rows != 1 || drying->points < 2)
        return;
    clock = clock_of(end[-1].time);
    dregs_report_gap(d->report);
    table = dregs_report_table(d->report, "moments", DREGS_IN_TEXT);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "left", "liquid left", "%", -15);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "after", "after", clock.unit, -13);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "temperature", "temperature", "degC", -14);
    dregs_table_column(table, DREGS_COLUMN_NUMBER, "vapour", "vapour in the air", "% of limit",
                       -19);
    for (i = 0; i < sizeof left / sizeof left[0]; i++) {
        while (point < end && point->total > left[i] * drying->point[0].total)
            point++;
        if (point == end)
            return;
        dregs_table_number(table, point->total / drying->point[0].total * 100);
        put_time(table, point->time, clock);
        dregs_table_number(table, CELSIUS(point->temperature));
        dregs_table_number(table, row->film.volume > 0 ? point->flammable * 100 : NAN);
        dregs_table_end_row(table);
    }
}

/* ---- the air ---- */

/* Of one load, or of loads that follow each other, in what wets as much. */
static void say_required(const struct dryings *d, const dregs_dry_row *row, const char *air)
{
    struct numbers n = {0};
    char every[SPAN];

    dregs_report_words(d->report,
                       "required at %s degC: fresh air of %s m3/h keeps the vapour at 25 %% of the "
                       "lower flammable limit at the peak of the drying, for %s m2 of wet face",
                       air, dregs_page_number(&n, dregs_page_dry_fresh_air(row)),
                       dregs_page_number(&n, row->film.area));
    if (isfinite(row->interval))
        dregs_report_words(d->report, " every %s", span(every, row->interval));
    dregs_report_end(d->report, 0, 2);
}

static void say_air(const struct dryings *d, const dregs_dry_row *row)
{
    struct numbers n = {0};
    const char *air = celsius(&n, row->film.air);
    char text[SPAN], most[SPAN];

    if (!isnan(row->bead))
        dregs_page_dry_bead(d, row, span(text, row->bead_least), span(most, row->bead));
    if (!isnan(row->recess))
        dregs_report_text(d->report, 0, 2, "at %s degC the blind hole is dry after %s", air,
                          span(text, row->recess));
    if (row->needed == 0)
        dregs_report_text(d->report, 0, 2,
                          "at %s degC the vapour of one load stays below 25 %% of the lower "
                          "flammable limit without fresh air",
                          air);
    else if (!isnan(row->needed))
        say_required(d, row, air);
    if (row->film.volume > 0 &&
        dregs_liquids_row(row->film.liquids, row->film.liquid[0], DREGS_EXPOSURE_LIMIT))
        dregs_report_text(d->report, 0, 2, "at %s degC the vapour reaches %s ppm", air,
                          dregs_page_number(&n, row->drying.peak_share[0] * PPM));
}

static void say_airs(const struct dryings *d)
{
    const dregs_dry_row *first = dregs_dry_result_row(d->result, 0);
    struct numbers n = {0};
    unsigned i;

    dregs_page_dry_room(d);
    for (i = 0; i < d->result->rows; i++)
        say_air(d, dregs_dry_result_row(d->result, i));
    if (!isnan(first->dilution))
        dregs_report_text(d->report, 0, 2,
                          "the vapour of one load, %s g, takes %s m3 of air to 25 %% of the lower "
                          "flammable limit",
                          dregs_page_number(&n, first->vapour * GRAMS),
                          dregs_page_number(&n, first->dilution));
    if (!isnan(d->result->residue))
        dregs_report_text(d->report, 0, 2,
                          "the film of the worst load leaves %s ug/cm2 (dregs-predict)",
                          dregs_page_number(&n, d->result->residue * UG_PER_CM2));
}

/* ---- what stands below ---- */

/* Is this assumed for an earlier drying too? */
static int is_known(const struct dryings *d, unsigned before, const char *assumed)
{
    unsigned i, k;

    for (i = 0; i < before; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        for (k = 0; k < row->assumed_count; k++)
            if (strcmp(row->assumed[k], assumed) == 0)
                return 1;
    }
    return 0;
}

static void put_assumed(const struct dryings *d)
{
    unsigned i, k;

    for (i = 0; i < d->result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        for (k = 0; k < row->assumed_count; k++)
            if (!is_known(d, i, row->assumed[k]))
                dregs_report_assumed(d->report, row->assumed[k]);
    }
}

/* Each once, with the numbers of the drying where it weighs most. */
static void put_cautions(const struct dryings *d)
{
    const dregs_caution *caution;
    char place[SPAN];
    unsigned i;

    for (i = 0; (caution = dregs_dry_result_caution(d->result, i)) != NULL; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, (unsigned)caution->facts);
        const dregs_caution_rule *rule = caution->rule;
        dregs_report_caution(d->report, rule->id, caution->text, caution->source, rule->condition,
                             rule->threshold, rule->unit);
        dregs_report_caution_severity(d->report, dregs_severity_name(rule->severity));
        if (row) {
            snprintf(place, sizeof place, "%.4g degC", CELSIUS(row->film.air));
            dregs_report_caution_place(d->report, place);
        }
        if (rule->pressing)
            dregs_report_caution_pressing(d->report);
    }
    dregs_report_decided_by(d->report, dregs_caution_deference());
}

static void put_not_used(const struct dryings *d)
{
    unsigned i, asked = DREGS_ASKED_DRYING | (d->doubt ? DREGS_ASKED_DOUBT : 0u);

    for (i = 0; d->line && dregs_line_unused(d->line, asked, i); i++)
        dregs_report_not_used(d->report, dregs_line_unused(d->line, asked, i));
}

static void say_page(const struct dryings *d)
{
    dregs_report_show(d->report, DREGS_LIST_PRESSING, "");
    say_film(d);
    say_times(d);
    say_bounds(d);
    say_sure(d);
    say_moments(d);
    say_airs(d);
    dregs_report_show(d->report, DREGS_LIST_ASSUMED, "assumed, because it is not stated");
    dregs_report_show(d->report, DREGS_LIST_NOT_USED, "in the file, not used here");
    dregs_report_show(d->report, DREGS_LIST_CAUTIONS, "cautions");
}

dregs_status dregs_page_dry(const dregs_line *line, const dregs_dry_result *result, int explain,
                            dregs_report **report)
{
    return dregs_page_dry_with(line, result, NULL, explain, report);
}

dregs_status dregs_page_dry_with(const dregs_line *line, const dregs_dry_result *result,
                                 const dregs_dry_doubt *doubt, int explain, dregs_report **report)
{
    struct dryings d = {dregs_report_new("dry", line ? dregs_line_name(line) : NULL), line, result,
                        doubt};

    if (!d.report)
        return DREGS_NO_MEMORY;
    say_page(&d);
    if (explain)
        dregs_page_dry_working(&d);
    dregs_page_dry_data(&d);
    dregs_page_dry_pictures(&d);
    put_assumed(&d);
    put_not_used(&d);
    put_cautions(&d);
    return dregs_page_end(d.report, report);
}
