/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* fuzz_line.c: whatever the bytes of a file are, the library must neither crash nor leak, and what
 * it accepts must give numbers: a line file, a property table, a calendar, the lines and the facts
 * of a site.
 *
 * The first byte chooses who gets what follows its line break: `P` dregs_liquids_add, `C`
 * dregs_calendar_table_parse, `S` dregs_site_take line by line, `J` dregs_line_parse for each part
 * that ends with a line "====" or the end, and dregs_line_join for the lines; anything else (`L` in
 * the seeds) dregs_line_parse. The same function is the target of libFuzzer
 * (clang; Debian: libclang-rt-14-dev) and of tests/replay, which runs the corpus in `make check`.
 */
#include "dregs/dregs.h"
#include "line/line.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

/* Beyond these an input takes longer than its few ms; the work grows with all three. */
enum { STAGES_MOST = 20, SOLUTES_MOST = 6, PERIOD_MOST = 1000 };
enum { NO_END_STAGES = 10, NO_END_PERIOD = 50 };

/* Not assert(): it must hold in every build. */
#define MUST(what)                                                                                 \
    do {                                                                                           \
        if (!(what)) {                                                                             \
            fprintf(stderr, "fuzz_line.c:%d: not so: %s\n", __LINE__, #what);                      \
            abort();                                                                               \
        }                                                                                          \
    } while (0)

static int good(double value)
{
    return isfinite(value) && value >= 0;
}

static void check_residue(const dregs_residue *residue)
{
    unsigned s;

    for (s = 0; s < residue->solutes; s++) {
        MUST(good(residue->film[s]));
        MUST(good(residue->adhering[s]));
    }
    MUST(good(residue->film_total));
    MUST(good(residue->adhering_total));
    MUST(good(residue->total));
}

static void check_state(const dregs_line *line, const dregs_state *state)
{
    dregs_residue residue;
    unsigned s, i;

    dregs_residue_next(state, &residue);
    check_residue(&residue);
    for (s = 0; s < dregs_line_solutes(line); s++) {
        for (i = 0; i < dregs_line_tanks(line); i++)
            MUST(good(dregs_state_mass(state, s, i)));
        for (i = 0; i < dregs_line_stages(line); i++) {
            const dregs_stage *stage = dregs_line_stage(line, i);
            MUST(good(dregs_state_film(state, s, i)));
            MUST(isnan(dregs_state_met(state, s, i)) == (stage->tank < 0));
            MUST(isnan(dregs_state_concentration(state, s, i)) == (stage->kind == DREGS_DRY));
        }
    }
}

static void check_totals(const dregs_map *map, unsigned solute, uint64_t loads)
{
    dregs_totals t;
    double in, out;
    dregs_status status = dregs_map_totals(map, solute, loads, &t);

    MUST(status == DREGS_OK || status == DREGS_NUMERIC);
    if (status)
        return;
    MUST(good(t.held_first) && good(t.held_last) && good(t.soil) && good(t.fed) &&
         good(t.sprayed) && good(t.refilled) && good(t.overflow) && good(t.runoff) &&
         good(t.dumped) && good(t.cleared) && good(t.blown_off) && good(t.carried));
    in = t.held_first + t.soil + t.fed + t.sprayed + t.refilled;
    out = t.held_last + t.overflow + t.runoff + t.dumped + t.cleared + t.blown_off + t.carried;
    MUST(fabs(in - out) <= 1e-6 * in);
}

static void check_worst(const dregs_map *map, int solute, uint64_t loads)
{
    dregs_worst worst;

    MUST(dregs_residue_worst(map, solute, loads, &worst) == DREGS_OK);
    MUST(good(worst.residue));
    MUST(worst.load >= 1);
    MUST(loads == DREGS_NO_END || worst.load <= loads);
}

static void run_states(const dregs_line *line, const dregs_map *map)
{
    dregs_state *state = dregs_state_new(map);
    dregs_status status;
    int i;

    MUST(state);
    for (i = 0; i < 5; i++) {
        check_state(line, state);
        dregs_state_step(state);
    }
    MUST(dregs_state_before(state, 1000000) == DREGS_OK);
    check_state(line, state);
    MUST(dregs_state_before(state, 3) == DREGS_DOMAIN);
    status = dregs_state_periodic(state);
    MUST(status == DREGS_OK || status == DREGS_NO_STEADY);
    if (!status)
        check_state(line, state);
    dregs_state_free(state);
}

static void run_map(const dregs_line *line, const dregs_map *map)
{
    dregs_residue floor;
    unsigned s;
    int ends = dregs_line_stages(line) > NO_END_STAGES || dregs_line_period(line) > NO_END_PERIOD;

    dregs_residue_floor(map, &floor);
    check_residue(&floor);
    run_states(line, map);
    for (s = 0; s < dregs_line_solutes(line); s++) {
        check_totals(map, s, 0);
        check_totals(map, s, 1003);
    }
    check_worst(map, DREGS_EVERY_SOLUTE, 50);
    check_worst(map, 0, 50);
    if (!ends)
        check_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END);
}

/* A tally closes, or says why there is none. */
static void run_tally(const dregs_line *line)
{
    dregs_tally_request request = {DREGS_SPAN_LOADS, 103, 0};
    dregs_calendar calendar;
    char message[DREGS_TALLY_MESSAGE] = "";
    dregs_tally *tally = NULL;
    dregs_status status = dregs_tally_new(line, &request, &tally, message);

    MUST(status == DREGS_OK || status == DREGS_NUMERIC);
    if (!status)
        MUST(dregs_tally_residual(tally) <= 1e-6);
    dregs_tally_free(tally);
    status = dregs_calendar_of(line, &calendar, message);
    MUST(status == DREGS_OK || (status == DREGS_BAD_DATA && *message));
    if (!status)
        MUST(calendar.idle >= 0 && calendar.shift_rest >= 0 && good(calendar.shift));
}

static void run_line(const dregs_liquids *liquids, const char *bytes, size_t length)
{
    static dregs_caution cautions[DREGS_CAUTIONS_MOST];
    dregs_faults faults = {0};
    dregs_line *line = NULL;
    dregs_map *map = NULL;
    dregs_status status = dregs_line_parse("fuzz.csv", bytes, length, liquids, &line, &faults);
    unsigned i, made = 0;

    MUST(status == DREGS_OK || status == DREGS_BAD_DATA);
    MUST((status == DREGS_OK) == (faults.count == 0));
    MUST((status == DREGS_OK) == (line != NULL));
    if (status)
        return;
    MUST(dregs_cautions(line, cautions, &made) == DREGS_OK && made <= DREGS_CAUTIONS_MOST);
    for (i = 0; dregs_line_assumed(line, i); i++)
        ;
    for (i = 0; dregs_line_unused(line, DREGS_ASKED_RESIDUE, i); i++)
        ;
    if (dregs_line_stages(line) <= STAGES_MOST && dregs_line_solutes(line) <= SOLUTES_MOST &&
        dregs_line_period(line) <= PERIOD_MOST) {
        status = dregs_map_new(line, &map);
        MUST(status == DREGS_OK || status == DREGS_NUMERIC);
        if (!status)
            run_map(line, map);
        run_tally(line);
        dregs_map_free(map);
    }
    dregs_line_free(line);
}

static void run_properties(const char *bytes, size_t length)
{
    static const double at[] = {0, 1e-300, 250, 293.15, 1e6, INFINITY, NAN};
    dregs_faults faults = {0};
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_status status;
    const char *name;
    size_t i, k;
    unsigned p;

    MUST(liquids);
    status = dregs_liquids_add(liquids, "fuzz.csv", bytes, length, &faults);
    MUST(status == DREGS_OK || status == DREGS_BAD_DATA);
    MUST((status == DREGS_OK) == (faults.count == 0));
    for (i = 0; !status && (name = dregs_liquids_name(liquids, i)); i++)
        for (p = 0; p < DREGS_PROPERTIES; p++) {
            const dregs_liquid_row *row = dregs_liquids_row(liquids, name, (dregs_property)p);
            double value = 0;
            char message[DREGS_LIQUID_MESSAGE];
            if (!row || !row->file) /* only what the file brought: the rest never changes */
                continue;
            for (k = 0; k < sizeof at / sizeof at[0]; k++)
                if (!dregs_liquids_value(liquids, name, (dregs_property)p, at[k], &value, message))
                    MUST(isfinite(value));
            if (!dregs_liquids_value(liquids, name, (dregs_property)p, row->low, &value, message))
                MUST(isfinite(value));
        }
    dregs_liquids_free(liquids);
}

/* A line that is worked by a schedule, for what a calendar makes of it. */
static const char worked[] = "item,property,value,unit\n"
                             "rack,kind,load\nrack,parts,8,1\nrack,area,140,cm2\n"
                             "rack,interval,6,min\noil,kind,solute\noil,on parts,9.5,mg\n"
                             "tap,kind,liquid\ntap,solvent,water\n"
                             "wash,kind,wash\nwash,volume,60,L\nwash,liquid,tap\n"
                             "wash,film,20,um\nwash,removal,99,%\nwash,flow,10,L/h\n"
                             "plan,kind,schedule\nplan,loads per shift,70,1\n"
                             "plan,shifts per day,2,1\nplan,shift length,8,h\n"
                             "plan,days per week,5,1\nplan,days per year,240,1\n";

static void run_calendar(const dregs_liquids *liquids, const char *bytes, size_t length)
{
    static dregs_line *line; /* constant once made */
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, 0};
    dregs_calendar_table *table = NULL;
    dregs_tally_dates dates = {0};
    dregs_faults faults = {0};
    dregs_tally *tally = NULL;
    char message[DREGS_TALLY_MESSAGE] = "";
    const dregs_calendar_row *row;
    dregs_status status;
    size_t i;

    if (!line)
        MUST(dregs_line_parse("worked.csv", worked, strlen(worked), liquids, &line, &faults) ==
             DREGS_OK);
    status = dregs_calendar_table_parse("fuzz.csv", bytes, length, &table, &faults);
    MUST(status == DREGS_OK || status == DREGS_BAD_DATA);
    MUST((status == DREGS_OK) == (faults.count == 0));
    MUST((status == DREGS_OK) == (table != NULL));
    if (status)
        return;
    for (i = 0; (row = dregs_calendar_table_at(table, i)) != NULL; i++)
        MUST(row->from <= row->to && row->weekdays < 128);
    dates.table = table;
    status = dregs_tally_new_by_dates(line, &request, &dates, &tally, message);
    MUST(status == DREGS_OK || status == DREGS_DOMAIN || (status == DREGS_BAD_DATA && *message));
    if (!status)
        MUST(dregs_tally_residual(tally) <= 1e-9);
    dregs_tally_free(tally);
    dregs_calendar_table_free(table);
}

static void run_facts(const char *bytes, size_t length)
{
    dregs_site site;
    char fact[512], message[DREGS_SITE_MESSAGE];
    const char *end = bytes + length;

    dregs_site_init(&site);
    while (bytes < end) {
        const char *stop = memchr(bytes, '\n', (size_t)(end - bytes));
        size_t count = (size_t)((stop ? stop : end) - bytes);
        dregs_status status;
        if (count < sizeof fact) {
            memcpy(fact, bytes, count);
            fact[count] = '\0';
            message[0] = '\0';
            status = dregs_site_take(&site, fact, message);
            MUST(status == DREGS_OK ||
                 ((status == DREGS_UNKNOWN || status == DREGS_BAD_DATA) && *message));
        }
        bytes += count + 1;
    }
    MUST(!(site.captured < 0) && !(site.captured > 1));
    MUST(!(site.destroyed < 0) && !(site.destroyed > 1));
    MUST(!(site.chamber < 0) && !(site.hours < 0) && !(site.other_waste < 0));
    MUST(site.flashes <= DREGS_SITE_FLASHES_MOST && site.listings <= DREGS_SITE_FLASHES_MOST &&
         site.traits <= DREGS_SITE_FLASHES_MOST);
}

enum { PARTS_MOST = 4 };

static void tally_joined(dregs_line *const *part, unsigned parts)
{
    dregs_tally_request request = {DREGS_SPAN_LOADS, 103, 0};
    char message[DREGS_TALLY_MESSAGE] = "";
    dregs_faults faults = {0};
    dregs_line *joined = NULL;
    dregs_tally *tally = NULL;
    dregs_status status =
        dregs_line_join("site", (const dregs_line *const *)part, parts, &joined, &faults);

    MUST(status == DREGS_OK || status == DREGS_DOMAIN || status == DREGS_BAD_DATA);
    MUST((status == DREGS_OK) == (joined != NULL));
    if (!status && dregs_line_stages(joined) <= STAGES_MOST) {
        status = dregs_tally_new(joined, &request, &tally, message);
        MUST(status == DREGS_OK || status == DREGS_NUMERIC);
        if (!status)
            MUST(dregs_tally_residual(tally) <= 1e-6);
    }
    dregs_tally_free(tally);
    dregs_line_free(joined);
}

/* The end of the part that begins at `bytes`: a line "====", or where all ends. */
static const char *part_end(const char *bytes, const char *end)
{
    const char *at = bytes;

    while (at && end - at >= 5 && memcmp(at, "====\n", 5) != 0) {
        at = memchr(at, '\n', (size_t)(end - at));
        at = at ? at + 1 : NULL;
    }
    return at && end - at >= 5 ? at : end;
}

static void run_site(const dregs_liquids *liquids, const char *bytes, size_t length)
{
    const char *end = bytes + length;
    dregs_line *part[PARTS_MOST] = {NULL};
    char name[] = "part0.csv";
    unsigned parts = 0, i;

    while (bytes < end && parts < PARTS_MOST) {
        const char *stop = part_end(bytes, end);
        dregs_faults faults = {0};
        name[4] = (char)('0' + parts);
        if (dregs_line_parse(name, bytes, (size_t)(stop - bytes), liquids, &part[parts], &faults) ==
                DREGS_OK &&
            dregs_line_solutes(part[parts]) <= SOLUTES_MOST &&
            dregs_line_period(part[parts]) <= PERIOD_MOST)
            parts++;
        else
            dregs_line_free(part[parts]), part[parts] = NULL;
        bytes = stop < end ? stop + 5 : end;
    }
    tally_joined(part, parts);
    for (i = 0; i < parts; i++)
        dregs_line_free(part[i]);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    static dregs_liquids *liquids; /* constant once made, and dear to make for every input */
    const char *text = (const char *)bytes;
    char kind;

    if (length < 2)
        return 0;
    gsl_set_error_handler_off();
    if (!liquids)
        liquids = dregs_liquids_new();
    MUST(liquids);
    kind = text[0];
    text++, length--;
    if (text[0] == '\n')
        text++, length--;
    if (kind == 'P')
        run_properties(text, length);
    else if (kind == 'C')
        run_calendar(liquids, text, length);
    else if (kind == 'S')
        run_facts(text, length);
    else if (kind == 'J')
        run_site(liquids, text, length);
    else
        run_line(liquids, text, length);
    return 0;
}
