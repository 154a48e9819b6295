/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally.c: a tally as an object: made, asked, freed. */
#include "base/text.h"
#include "line/line.h"
#include "tally/inside.h"

#include <inttypes.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CLOSES 1e-9 /* of a balance: what is off by less is rounding */

static void say(dregs_tally *tally, const char *format, ...) DREGS_FORMAT(2, 3);

static void say(dregs_tally *tally, const char *format, ...)
{
    va_list arguments;

    if (tally->notes == TALLY_NOTES_MOST)
        return;
    va_start(arguments, format);
    vsnprintf(tally->note[tally->notes++], sizeof tally->note[0], format, arguments);
    va_end(arguments);
}

/* ---- making ---- */

/* Loads of 8760 h without a pause. */
static double around(const dregs_line *line)
{
    return DREGS_YEAR_DAYS * 86400.0 / dregs_line_load(line)->interval.si;
}

/* The calendar, which a number of loads from fresh tanks can do without. */
static dregs_status set_calendar(dregs_tally *tally, char *message)
{
    const dregs_tally_request *request = &tally->request;
    const dregs_tally_dates *by = &tally->by;
    dregs_status status;

    if (message)
        message[0] = '\0';
    if (request->span == DREGS_SPAN_LOADS && (!request->loads || request->loads > DREGS_LOADS_MOST))
        return dregs_refuse(message, DREGS_TALLY_MESSAGE, "loads: not 1 to %" PRIu64,
                            DREGS_LOADS_MOST);
    if (tally->dated && !by->year && by->table) {
        tally->by.year = dregs_calendar_table_year(by->table);
        tally->by.month = 1;
        say(tally, "the year begins with January %d, the year of the calendar's first row",
            by->year);
    }
    if (tally->dated && (by->year < DREGS_TALLY_YEAR_LEAST || by->year > DREGS_TALLY_YEAR_MOST))
        return dregs_refuse(message, DREGS_TALLY_MESSAGE, "year: %d is not %d to %d", by->year,
                            DREGS_TALLY_YEAR_LEAST, DREGS_TALLY_YEAR_MOST);
    if (tally->dated && (by->month < 1 || by->month > DREGS_MONTHS))
        return dregs_refuse(message, DREGS_TALLY_MESSAGE, "month: %u is not 1 to %d", by->month,
                            DREGS_MONTHS);
    status = tally->dated ? dregs_calendar_of_days(tally->line, &tally->calendar, message)
                          : dregs_calendar_of(tally->line, &tally->calendar, message);
    if (!status && tally->dated)
        status = dregs_calendar_dates_of(tally->line, by->year, by->month, by->table, &tally->dates,
                                         message);
    tally->scheduled = !status;
    return request->span == DREGS_SPAN_LOADS && !request->running ? DREGS_OK : status;
}

static dregs_status make_gaps(const dregs_tally *tally, struct calendar_gaps *gaps)
{
    if (tally->scheduled && tally->dated)
        return dregs_calendar_gaps_of_dates(tally->line, &tally->calendar, &tally->dates, gaps);
    return dregs_calendar_gaps_new(tally->line, tally->scheduled ? &tally->calendar : NULL, gaps);
}

static dregs_status make_accounts(dregs_tally *tally, struct substance *s)
{
    size_t n = s->ledger.tanks, each = s->ledger.dim + 3 * n;
    unsigned p;

    s->account = calloc(tally->periods + 1 + tally->before, sizeof *s->account);
    s->room = calloc((tally->periods + 1 + tally->before) * each, sizeof *s->room);
    if (!s->account || !s->room)
        return DREGS_NO_MEMORY;
    for (p = 0; p <= tally->periods + tally->before; p++) {
        s->account[p].sum = s->room + p * each;
        s->account[p].first = s->account[p].sum + s->ledger.dim;
        s->account[p].last = s->account[p].first + n;
        s->account[p].filled = s->account[p].last + n;
    }
    return DREGS_OK;
}

static dregs_status march_all(dregs_tally *tally)
{
    struct calendar_gaps gaps;
    dregs_status status = make_gaps(tally, &gaps);
    unsigned s;

    for (s = 0; s < tally->substances && !status; s++) {
        struct substance *substance = &tally->substance[s];
        dregs_balance_ledger_stages(tally->line, s, &substance->ledger);
        substance->ledger.dim = substance->ledger.buffers + 1;
        status = make_accounts(tally, substance);
        if (!status)
            status = dregs_tally_march(tally, s, &gaps);
    }
    dregs_calendar_gaps_clear(&gaps);
    return status;
}

static void add_solvent(dregs_tally *tally, const char *name)
{
    unsigned i;

    for (i = 0; i < tally->solvents; i++)
        if (strcmp(tally->solvent[i], name) == 0)
            return;
    tally->solvent[tally->solvents++] = name;
}

/* kg/m3; a mixture from its table, which holds at one temperature. */
static double density_of(const dregs_line *line, const dregs_mixtures *mixtures, unsigned index)
{
    static const double temperatures[] = {293.15, 298.15};
    const dregs_fluid *fluid = dregs_line_fluid(line, index);
    double density = NAN;
    unsigned i;

    if (!(fluid->solvent_share.si < 1))
        return dregs_liquids_value(dregs_line_liquids(line), fluid->solvent, DREGS_DENSITY,
                                   DREGS_ROOM, &density, NULL)
                   ? NAN
                   : density;
    for (i = 0; i < 2; i++)
        if (!dregs_mixture_value(mixtures, fluid->solvent, "water", DREGS_DENSITY,
                                 fluid->solvent_share.si, temperatures[i], &density, NULL))
            return density;
    return NAN;
}

dregs_status dregs_tally_density_of(const dregs_line *line, unsigned fluid, double *density)
{
    dregs_mixtures *mixtures;

    if (fluid >= dregs_line_fluids(line))
        return DREGS_UNKNOWN;
    mixtures = dregs_mixtures_new();
    if (!mixtures)
        return DREGS_NO_MEMORY;
    *density = density_of(line, mixtures, fluid);
    dregs_mixtures_free(mixtures);
    return DREGS_OK;
}

/* To read the table of mixtures takes longer than many a tally. */
static int has_mixture(const dregs_line *line)
{
    unsigned i;

    for (i = 0; i < dregs_line_fluids(line); i++)
        if (dregs_line_fluid(line, i)->solvent_share.si < 1)
            return 1;
    return 0;
}

static dregs_status find_solvents(dregs_tally *tally)
{
    unsigned fluids = dregs_line_fluids(tally->line), i;
    dregs_mixtures *mixtures = NULL;

    tally->density = calloc(fluids + 1, sizeof *tally->density);
    tally->solvent = calloc(fluids + 1, sizeof *tally->solvent);
    if (!tally->density || !tally->solvent)
        return DREGS_NO_MEMORY;
    if (has_mixture(tally->line)) {
        mixtures = dregs_mixtures_new();
        if (!mixtures)
            return DREGS_NO_MEMORY;
    }
    for (i = 0; i < fluids; i++) {
        add_solvent(tally, dregs_line_fluid(tally->line, i)->solvent);
        tally->density[i] = density_of(tally->line, mixtures, i);
    }
    for (i = 0; i < fluids; i++)
        if (dregs_line_fluid(tally->line, i)->solvent_share.si < 1)
            add_solvent(tally, "water");
    dregs_mixtures_free(mixtures);
    return DREGS_OK;
}

/* How many liquids a tank held or got, by what came into it. */
static unsigned liquids_in(const dregs_tally *tally, unsigned tank)
{
    unsigned solutes = dregs_line_solutes(tally->line), count = 0, s;

    for (s = solutes; s < tally->substances; s++) {
        const struct account *whole = &tally->substance[s].account[tally->periods];
        /* beyond rounding */
        count += whole->last[tank] > 1e-9 * dregs_line_tank(tally->line, tank)->volume;
    }
    return count;
}

static void take_assumed(void *tally, const char *text)
{
    say(tally, "%s", text);
}

static void note_assumed(dregs_tally *tally)
{
    int idles = tally->scheduled && tally->request.span != DREGS_SPAN_LOADS;
    unsigned t;

    for (t = 0; t < dregs_line_tanks(tally->line); t++) {
        const dregs_tank *tank = dregs_line_tank(tally->line, t);
        const dregs_stage *stage = dregs_line_stage(tally->line, tank->stage);
        if (stage->reclaim.si > 0)
            say(tally, "%s: reclaimed liquid serves like fresh; what that holds is made up anew",
                stage->name);
        if (!stage->evaporation.row && !stage->open_area.row)
            say(tally,
                "%s: no evaporation is counted, the file states neither evaporation nor an open "
                "area",
                stage->name);
        if (tank->evaporation > 0 && liquids_in(tally, t) > 1)
            say(tally, "%s: its liquids evaporate in proportion to their volumes", stage->name);
    }
    if (!idles)
        return;
    dregs_calendar_assumed(tally->line, &tally->calendar, tally->dated ? &tally->dates : NULL,
                           tally->request.span != DREGS_SPAN_SHIFT, take_assumed, tally);
}

/* Nothing is told of a year that does not add up. */
static dregs_status check_closure(const dregs_tally *tally, char *message)
{
    double residual = dregs_tally_residual(tally);

    if (residual <= CLOSES)
        return DREGS_OK;
    if (message)
        snprintf(
            message, DREGS_TALLY_MESSAGE,
            "the balance does not close, by %.2g of what goes through: a fault of the library, "
            "not of the file",
            residual);
    return DREGS_NUMERIC;
}

dregs_status dregs_tally_new(const dregs_line *line, const dregs_tally_request *request,
                             dregs_tally **tally, char *message)
{
    return dregs_tally_new_by_dates(line, request, NULL, tally, message);
}

dregs_status dregs_tally_new_by_dates(const dregs_line *line, const dregs_tally_request *request,
                                      const dregs_tally_dates *dates, dregs_tally **tally,
                                      char *message)
{
    int joined = dregs_line_part(line, 0) != NULL;
    dregs_tally *made = calloc(1, sizeof *made);
    dregs_status status;

    if (!made)
        return DREGS_NO_MEMORY;
    made->line = line;
    made->request = *request;
    made->dated = dates != NULL;
    if (dates)
        made->by = *dates;
    if (!joined && request->span == DREGS_SPAN_AROUND) {
        made->request.span = DREGS_SPAN_LOADS;
        made->request.loads = around(line) < 1 ? 1
                              : around(line) < (double)DREGS_LOADS_MOST
                                  ? (uint64_t)(around(line) + 0.5)
                                  : 0;
    }
    status = joined ? DREGS_OK : set_calendar(made, message);
    if (status) {
        dregs_tally_free(made);
        return status;
    }
    made->periods = request->span == DREGS_SPAN_YEAR ? DREGS_MONTHS : 1;
    made->before = request->running && made->periods > 1 ? DREGS_MONTHS : 0;
    made->substances = dregs_line_solutes(line) + dregs_line_fluids(line);
    made->period = calloc(made->periods + 1 + made->before, sizeof *made->period);
    made->substance = calloc(made->substances, sizeof *made->substance);
    if (!made->period || !made->substance)
        status = DREGS_NO_MEMORY;
    if (!status && joined)
        status = dregs_tally_join(made, message);
    else if (!status) {
        dregs_tally_set_periods(made);
        status = march_all(made);
    }
    if (!status)
        status = check_closure(made, message);
    if (!status)
        status = find_solvents(made);
    if (status) {
        dregs_tally_free(made);
        return status;
    }
    if (!joined)
        note_assumed(made);
    *tally = made;
    return DREGS_OK;
}

void dregs_tally_free(dregs_tally *tally)
{
    unsigned s;

    if (!tally)
        return;
    for (s = 0; s < tally->parts; s++)
        dregs_tally_free(tally->part[s]);
    free(tally->part);
    for (s = 0; tally->substance && s < tally->substances; s++) {
        free(tally->substance[s].account);
        free(tally->substance[s].room);
    }
    free(tally->substance);
    free(tally->period);
    free(tally->density);
    free(tally->solvent);
    free(tally);
}

/* ---- asking ---- */

const dregs_line *dregs_tally_line(const dregs_tally *tally)
{
    return tally->line;
}

const dregs_calendar *dregs_tally_calendar(const dregs_tally *tally)
{
    return tally->scheduled ? &tally->calendar : NULL;
}

unsigned dregs_tally_periods(const dregs_tally *tally)
{
    return tally->periods;
}

/* Where a period's figures stand; NULL when there is no such period. */
static const struct period *find_period(const dregs_tally *tally, unsigned *period)
{
    if (*period == DREGS_WHOLE)
        *period = tally->periods;
    else if (*period >= DREGS_BEFORE && *period - DREGS_BEFORE < tally->before)
        *period += tally->periods + 1 - DREGS_BEFORE;
    else if (*period >= tally->periods)
        return NULL;
    return &tally->period[*period];
}

uint64_t dregs_tally_days(const dregs_tally *tally, unsigned period)
{
    const struct period *found = find_period(tally, &period);

    return found ? found->days : 0;
}

double dregs_tally_idle(const dregs_tally *tally, unsigned period)
{
    const struct period *found = find_period(tally, &period);

    return found ? found->idle : NAN;
}

double dregs_tally_evaporated_idle(const dregs_tally *tally, unsigned stage, unsigned period)
{
    dregs_tank idle[DREGS_LINE_STAGES];
    double rate = 0.0;
    unsigned t;

    if (!find_period(tally, &period) ||
        (stage != DREGS_WHOLE && stage >= dregs_line_stages(tally->line)))
        return NAN;
    if (tally->parts)
        return dregs_tally_idle_of_parts(tally, stage, period);
    dregs_line_idle(tally->line, tally->calendar.idle_flow, 1, idle);
    for (t = 0; t < dregs_line_tanks(tally->line); t++)
        if (stage == DREGS_WHOLE || idle[t].stage == stage)
            rate += idle[t].evaporation;
    return rate * tally->period[period].idle;
}

const dregs_tally_dates *dregs_tally_dated(const dregs_tally *tally)
{
    return tally->dated ? &tally->by : NULL;
}

unsigned dregs_tally_month(const dregs_tally *tally, unsigned period)
{
    unsigned month = tally->dated ? tally->by.month - 1 : 0;

    if (period >= DREGS_BEFORE && period < DREGS_BEFORE + DREGS_MONTHS)
        period -= DREGS_BEFORE;
    return (period < DREGS_MONTHS ? month + period : month) % DREGS_MONTHS;
}

uint64_t dregs_tally_loads(const dregs_tally *tally, unsigned period)
{
    const struct period *found = find_period(tally, &period);

    return found ? found->loads : 0;
}

double dregs_tally_seconds(const dregs_tally *tally, unsigned period)
{
    const struct period *found = find_period(tally, &period);

    return found ? found->seconds : NAN;
}

/* Loads before a period begins, since the fresh start: a year of them where the line has run. */
static uint64_t loads_before(const dregs_tally *tally, unsigned period)
{
    int earlier = period > tally->periods;
    uint64_t before = tally->request.running && !earlier ? dregs_tally_year_before(tally) : 0;
    unsigned i;

    for (i = tally->periods + 1; earlier && i < period; i++)
        before += tally->period[i].loads;
    for (i = 0; period < tally->periods && i < period; i++)
        before += tally->period[i].loads;
    return before;
}

/* Of the first so many loads those of a kind. */
static uint64_t count_kind(const dregs_line *line, unsigned kind, uint64_t loads)
{
    uint64_t cycle = dregs_line_cycle(line), of_cycle = 0, of_rest = 0, i;

    for (i = 1; i <= cycle; i++) {
        int is = dregs_line_kind_at(line, i) == kind;
        of_cycle += (uint64_t)is;
        of_rest += (uint64_t)(is && i <= loads % cycle);
    }
    return loads / cycle * of_cycle + of_rest;
}

/* `period` as find_period leaves it. */
static uint64_t loads_of_kind(const dregs_tally *tally, unsigned kind, unsigned period)
{
    uint64_t before = loads_before(tally, period);

    return count_kind(tally->line, kind, before + tally->period[period].loads) -
           count_kind(tally->line, kind, before);
}

uint64_t dregs_tally_loads_of_kind(const dregs_tally *tally, unsigned kind, unsigned period)
{
    return find_period(tally, &period) && kind < dregs_line_kinds(tally->line)
               ? loads_of_kind(tally, kind, period)
               : 0;
}

/* Of the loads of one kind, kg. */
static double soil_of_kind(const dregs_tally *tally, dregs_stream stream, unsigned substance,
                           unsigned kind, unsigned period)
{
    const dregs_line *of = dregs_line_of_kind(tally->line, kind);
    double soil = dregs_line_solute(of, substance)->on_parts.si * dregs_line_load(of)->parts.si *
                  (double)loads_of_kind(tally, kind, period);
    struct stage_visit visit;
    unsigned i;

    for (i = 0; stream == DREGS_STREAM_ADHERING && i < dregs_line_stages(of); i++) {
        dregs_stage_visit(of, i, substance, &visit);
        soil *= 1.0 - visit.off;
    }
    return soil;
}

/* Soil that came with the parts and what never came off: of the parts, not of any liquid. */
static double on_parts(const dregs_tally *tally, dregs_stream stream, unsigned substance,
                       unsigned stage, unsigned period)
{
    unsigned last = dregs_line_stages(tally->line) - 1, k;
    double soil = 0.0;

    if (tally->parts)
        return dregs_tally_on_parts(tally, stream, substance, stage, period);
    if (dregs_stage_is_liquid(tally->line, substance) ||
        (stage != DREGS_WHOLE && stage != (stream == DREGS_STREAM_ARRIVED ? 0 : last)))
        return 0.0;
    for (k = 0; k < dregs_line_kinds(tally->line); k++)
        soil += soil_of_kind(tally, stream, substance, k, period);
    return soil;
}

/* Of one stage. */
static double of_stage(const dregs_tally *tally, dregs_stream stream, unsigned substance,
                       unsigned stage, unsigned period)
{
    const struct substance *s = &tally->substance[substance];
    const struct account *account = &s->account[period];
    const dregs_stage *states = dregs_line_stage(tally->line, stage);

    if ((int)stream < STREAMS && stream != DREGS_STREAM_FILLED) {
        unsigned row = s->ledger.row[stream][stage];
        return row == LEDGER_NOWHERE ? 0.0 : account->sum[row];
    }
    if (states->tank < 0 || states->shares.row)
        return 0.0;
    return stream == DREGS_STREAM_FILLED       ? account->filled[states->tank]
           : stream == DREGS_STREAM_HELD_FIRST ? account->first[states->tank]
                                               : account->last[states->tank];
}

static double ask(const dregs_tally *tally, dregs_stream stream, unsigned substance, unsigned stage,
                  unsigned period)
{
    double (*one)(const dregs_tally *, dregs_stream, unsigned, unsigned, unsigned) =
        tally->parts ? dregs_tally_of_part : of_stage;
    unsigned stages = dregs_line_stages(tally->line), i;
    double sum = 0.0;

    if (!find_period(tally, &period) || (stage != DREGS_WHOLE && stage >= stages) ||
        (unsigned)stream >= DREGS_STREAM_COUNT)
        return NAN;
    if (stream == DREGS_STREAM_ARRIVED || stream == DREGS_STREAM_ADHERING)
        return on_parts(tally, stream, substance, stage, period);
    if (stage != DREGS_WHOLE)
        return one(tally, stream, substance, stage, period);
    for (i = 0; i < stages; i++)
        sum += one(tally, stream, substance, i, period);
    return sum;
}

double dregs_tally_fluid(const dregs_tally *tally, dregs_stream stream, unsigned fluid,
                         unsigned stage, unsigned period)
{
    return fluid < dregs_line_fluids(tally->line)
               ? ask(tally, stream, dregs_line_solutes(tally->line) + fluid, stage, period)
               : NAN;
}

double dregs_tally_solute(const dregs_tally *tally, dregs_stream stream, unsigned solute,
                          unsigned stage, unsigned period)
{
    return solute < dregs_line_solutes(tally->line) ? ask(tally, stream, solute, stage, period)
                                                    : NAN;
}

double dregs_tally_volume(const dregs_tally *tally, dregs_stream stream, unsigned stage,
                          unsigned period)
{
    double sum = 0.0;
    unsigned f;

    for (f = 0; f < dregs_line_fluids(tally->line); f++)
        sum += dregs_tally_fluid(tally, stream, f, stage, period);
    return sum;
}

const char *dregs_tally_solvent_name(const dregs_tally *tally, unsigned solvent)
{
    return solvent < tally->solvents ? tally->solvent[solvent] : NULL;
}

/* The share by mass of a solvent in a liquid. */
static double share_of(const dregs_fluid *fluid, const char *solvent)
{
    double share = fluid->solvent_share.si < 1 ? fluid->solvent_share.si : 1.0;

    if (strcmp(fluid->solvent, solvent) == 0)
        return strcmp(solvent, "water") == 0 ? 1.0 : share;
    return strcmp(solvent, "water") == 0 ? 1.0 - share : 0.0;
}

double dregs_tally_solvent(const dregs_tally *tally, dregs_stream stream, unsigned solvent,
                           unsigned stage, unsigned period)
{
    double sum = 0.0;
    unsigned f;

    if (solvent >= tally->solvents)
        return NAN;
    for (f = 0; f < dregs_line_fluids(tally->line); f++) {
        double share = share_of(dregs_line_fluid(tally->line, f), tally->solvent[solvent]);
        double volume = dregs_tally_fluid(tally, stream, f, stage, period);
        if (share > 0 && volume != 0.0)
            sum += share * volume * tally->density[f];
        if (isnan(volume))
            return NAN;
    }
    return sum;
}

double dregs_tally_density(const dregs_tally *tally, unsigned fluid)
{
    return fluid < dregs_line_fluids(tally->line) ? tally->density[fluid] : NAN;
}

const char *dregs_tally_assumed(const dregs_tally *tally, unsigned index)
{
    return index < tally->notes ? tally->note[index] : NULL;
}
