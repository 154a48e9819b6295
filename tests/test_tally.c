/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_tally.c: where everything goes: closure on random lines, over the line and in every tank;
 * volumes against the balance of volumes; a year against a march through it, load by load; idle
 * time, dumps, evaporation and a solvent in a water rinse against balances made by hand here.
 */
#include "check_main.h"
#include "dregs/tally.h"
#include "dregs/use.h"
#include "line/line.h"
#include "lines.h"

#include <gsl/gsl_errno.h>
#include <string.h>

static struct lines_text text;

static dregs_tally *tally_of(const dregs_line *line, dregs_span span, uint64_t loads, int running)
{
    dregs_tally_request request = {span, loads, running};
    char message[DREGS_TALLY_MESSAGE] = "";
    dregs_tally *tally = NULL;

    ck_assert_msg(!dregs_tally_new(line, &request, &tally, message), "no tally: %s", message);
    return tally;
}

/* A random line with a schedule below it. */
static dregs_line *scheduled(unsigned number)
{
    struct lines_stream r = {number, 1000000};
    unsigned loads = 1 + lines_below(&r, 8), shifts = 1 + lines_below(&r, 3);
    double interval;
    dregs_line *line = lines_random_either(number, &text);

    interval = dregs_line_load(line)->interval.si;
    lines_free(line);
    lines_say(&text, "plan,kind,schedule,\nplan,loads per shift,%u,1\nplan,shifts per day,%u,1\n",
              loads, shifts);
    lines_say(&text, "plan,days per year,%u,1\n", 1 + lines_below(&r, 365));
    if (lines_chance(&r, 0.5))
        lines_say(&text, "plan,idle flow,%s,\n", lines_chance(&r, 0.5) ? "on" : "off");
    if (lines_chance(&r, 0.5))
        lines_say(&text, "plan,shift length,%.17g,h\n",
                  loads * interval / 3600 * lines_between(&r, 1, 2));
    return lines_read(text.bytes);
}

/* ---- closure ---- */

static void all_close(const dregs_tally *tally, unsigned number)
{
    double residual = dregs_tally_residual(tally);

    ck_assert_msg(residual <= 1e-12, "line %u does not close: %g", number, residual);
}

START_TEST(every_substance_closes_on_random_lines)
{
    static const uint64_t loads[] = {1, 7, 1000, 1000000, 1000000000000};
    unsigned number, i;

    for (number = 0; number < 320; number++) {
        dregs_line *line = lines_random_either(number, &text);
        for (i = 0; i < 5; i++) {
            dregs_tally *tally = tally_of(line, DREGS_SPAN_LOADS, loads[i], 0);
            all_close(tally, number);
            dregs_tally_free(tally);
        }
        lines_free(line);
    }
}
END_TEST

START_TEST(every_month_closes_on_random_lines)
{
    unsigned number;

    for (number = 0; number < 160; number++) {
        dregs_line *line = scheduled(number);
        dregs_tally *tally = tally_of(line, DREGS_SPAN_YEAR, 0, (int)(number & 1));
        all_close(tally, number);
        dregs_tally_free(tally);
        lines_free(line);
    }
}
END_TEST

typedef double of_stream(const dregs_tally *, dregs_stream, unsigned, unsigned, unsigned);

static int tank_at(const dregs_line *line, dregs_link link)
{
    return link.kind == DREGS_LINK_STAGE ? dregs_line_stage(line, link.index)->tank : -1;
}

/* What a stage's streams bring into a tank less what they take out of it. */
static double gain_by(const dregs_tally *tally, of_stream *of, unsigned substance, unsigned stage,
                      int tank, double *moved)
{
    const dregs_line *line = dregs_tally_line(tally);
    const dregs_stage *s = dregs_line_stage(line, stage);
    double gain = 0.0;
    int stream;

    for (stream = 0; stream < DREGS_STREAM_HELD_FIRST; stream++) {
        double value = of(tally, (dregs_stream)stream, substance, stage, DREGS_WHOLE);
        dregs_stream_group group = dregs_stream_group_of((dregs_stream)stream);
        int from = s->tank, into = -1;
        if (group == DREGS_GROUP_IN)
            from = -1, into = s->tank;
        if (stream == DREGS_STREAM_PASSED && stage + 1 < dregs_line_stages(line))
            into = dregs_line_stage(line, stage + 1)->tank;
        if (stream == DREGS_STREAM_HANDED)
            into = tank_at(line, s->overflow_to);
        if (stream == DREGS_STREAM_CAUGHT)
            from = -1, into = tank_at(line, s->runoff_to);
        if (stream == DREGS_STREAM_DRAWN)
            into = s->tank, from = tank_at(line, s->top_up_from);
        if (stream == DREGS_STREAM_MOVED)
            into = s->tank, from = tank_at(line, s->refill_from);
        gain += (into == tank ? value : 0.0) - (from == tank ? value : 0.0);
        *moved += into == tank || from == tank ? fabs(value) : 0.0;
    }
    return gain;
}

static void tank_closes(const dregs_tally *tally, of_stream *of, unsigned substance, unsigned tank,
                        unsigned number)
{
    const dregs_line *line = dregs_tally_line(tally);
    unsigned owner = dregs_line_tank(line, tank)->stage, i;
    double first = of(tally, DREGS_STREAM_HELD_FIRST, substance, owner, DREGS_WHOLE);
    double last = of(tally, DREGS_STREAM_HELD_LAST, substance, owner, DREGS_WHOLE);
    double gain = 0.0, moved = first + last;

    for (i = 0; i < dregs_line_stages(line); i++)
        gain += gain_by(tally, of, substance, i, (int)tank, &moved);
    ck_assert_msg(fabs(first + gain - last) <= 1e-12 * moved,
                  "line %u, substance %u, tank %u: %g lost of %g", number, substance, tank,
                  first + gain - last, moved);
}

START_TEST(every_tank_closes_on_random_lines)
{
    unsigned number, i, t;

    for (number = 0; number < 160; number++) {
        dregs_line *line = scheduled(number);
        dregs_tally *tally = tally_of(line, DREGS_SPAN_YEAR, 0, 0);
        for (t = 0; t < dregs_line_tanks(line); t++) {
            for (i = 0; i < dregs_line_solutes(line); i++)
                tank_closes(tally, dregs_tally_solute, i, t, number);
            for (i = 0; i < dregs_line_fluids(line); i++)
                tank_closes(tally, dregs_tally_fluid, i, t, number);
        }
        dregs_tally_free(tally);
        lines_free(line);
    }
}
END_TEST

/* ---- volumes ---- */

/* All liquids together are the liquid of the volume balance, which knows no substances. */
static void volumes_agree(const dregs_line *line, const dregs_tally *tally, uint64_t loads,
                          unsigned number)
{
    dregs_use use;
    struct {
        const char *name;
        double of_use, tallied;
    } pair[8];
    double all = 0.0;
    unsigned t, i;

#define VOLUME(which) dregs_tally_volume(tally, DREGS_STREAM_##which, DREGS_WHOLE, DREGS_WHOLE)
    dregs_balance_use(line, &use);
    pair[0].name = "fed", pair[0].of_use = use.flow, pair[0].tallied = VOLUME(FED);
    pair[1].name = "top-up", pair[1].of_use = use.top_up, pair[1].tallied = VOLUME(TOPPED);
    pair[2].name = "sprayed", pair[2].of_use = use.sprayed, pair[2].tallied = VOLUME(SPRAYED);
    pair[3].name = "refilled", pair[3].of_use = use.refilled, pair[3].tallied = VOLUME(REFILLED);
    pair[4].name = "to drain", pair[4].of_use = use.to_drain,
    pair[4].tallied = VOLUME(DRAINED) + VOLUME(RUNOFF) + VOLUME(BLOWN_OFF);
    pair[5].name = "dumped", pair[5].of_use = use.dumped,
    pair[5].tallied = VOLUME(DUMPED) + VOLUME(COLLECTED);
    pair[6].name = "evaporated", pair[6].of_use = use.evaporated,
    pair[6].tallied = VOLUME(EVAPORATED);
    pair[7].name = "dried", pair[7].of_use = use.dried, pair[7].tallied = VOLUME(DRIED);
#undef VOLUME
    for (i = 0; i < 8; i++)
        all += pair[i].of_use * (double)loads;
    for (i = 0; i < 8; i++)
        ck_assert_msg(fabs(pair[i].tallied - pair[i].of_use * (double)loads) <= 1e-12 * all,
                      "line %u, %s: %.17g, by volumes %.17g", number, pair[i].name, pair[i].tallied,
                      pair[i].of_use * (double)loads);
    for (t = 0; t < dregs_line_tanks(line); t++)
        ck_assert_near(dregs_tally_volume(tally, DREGS_STREAM_HELD_LAST,
                                          dregs_line_tank(line, t)->stage, DREGS_WHOLE),
                       dregs_line_tank(line, t)->volume, 1e-11, "line %u, tank %u", number, t);
}

START_TEST(all_liquids_together_are_the_balance_of_volumes)
{
    unsigned number;

    for (number = 0; number < 320; number++) {
        dregs_line *line = lines_random_either(number, &text);
        uint64_t loads = 11 * dregs_line_period(line);
        dregs_tally *tally = tally_of(line, DREGS_SPAN_LOADS, loads, 0);
        volumes_agree(line, tally, loads, number);
        dregs_tally_free(tally);
        lines_free(line);
    }
}
END_TEST

/* ---- a year, load by load ---- */

static const char marched[] =
    "item,property,value,unit\n"
    "rack,kind,load,\nrack,parts,17,1\nrack,area,23.85,cm2\nrack,interval,6.35,min\n"
    "oil,kind,solute,\noil,on parts,1.37,mg\nsalt,kind,solute,\n"
    "soap,kind,liquid,\nsoap,solvent,water,\nsoap,salt,2.41,g/L\n"
    "di,kind,liquid,\ndi,solvent,water,\ndi,salt,1.3,mg/L\n"
    "bath,kind,wash,\nbath,volume,13.7,L\nbath,liquid,soap,\nbath,film,71,um\n"
    "bath,removal,97.3,%\nbath,dump at,week end,\n"
    "dip,kind,rinse,\ndip,volume,11.9,L\ndip,liquid,di,\ndip,film,63,um\ndip,dump every,31,1\n"
    "last,kind,rinse,\nlast,volume,12.1,L\nlast,liquid,di,\nlast,film,55,um\n"
    "last,flow,17.3,L/h\n"
    "oven,kind,dry,\noven,temperature,80,degC\noven,blow-off,23,%\n"
    "plan,kind,schedule,\nplan,loads per shift,43,1\nplan,shifts per day,3,1\n"
    "plan,days per year,231,1\nplan,days per week,5,1\n";

/* What the film takes out of the line, and what the dumps take, summed over the loads of a year by
 * stepping; with the flow off and nothing evaporating, idle time changes nothing. */
START_TEST(a_year_by_the_map_is_a_year_marched)
{
    dregs_line *line = lines_read(marched);
    dregs_tally *tally = tally_of(line, DREGS_SPAN_YEAR, 0, 0);
    dregs_map *map = lines_map(line);
    dregs_state *state = lines_state(map);
    double left[2] = {0, 0}, dumped[2] = {0, 0}, blown[2] = {0, 0}, month[2] = {0, 0};
    uint64_t load, year = 43 * 3 * 231,
                   march = dregs_calendar_days_before(dregs_tally_calendar(tally), 3) * 43 * 3;
    unsigned s, t;

    ck_assert_uint_eq(dregs_tally_loads(tally, DREGS_WHOLE), year);
    for (load = 1; load <= year; load++) {
        double before[2][3];
        for (s = 0; s < 2; s++) {
            left[s] += dregs_state_film(state, s, 3);
            blown[s] += dregs_state_film(state, s, 2) * 0.23;
            /* what the load and the interval leave, from the row of the map, before any dump */
            for (t = 0; t < 2; t++) {
                const double *row = dregs_map_row(map, s, t);
                before[s][t] = row[0] * dregs_state_mass(state, s, 0) +
                               row[1] * dregs_state_mass(state, s, 1) +
                               row[2] * dregs_state_mass(state, s, 2) + row[3];
            }
            dumped[s] += load % 31 ? 0 : before[s][1];
            dumped[s] += load % (43 * 3 * 5) ? 0 : before[s][0];
        }
        dregs_state_step(state);
        for (s = 0; s < 2 && load == march; s++)
            month[s] = left[s];
    }
    for (s = 0; s < 2; s++) {
        double quarter = 0;
        for (t = 0; t < 3; t++)
            quarter += dregs_tally_solute(tally, DREGS_STREAM_LEFT, s, DREGS_WHOLE, t);
#define WHOLE(which) dregs_tally_solute(tally, DREGS_STREAM_##which, s, DREGS_WHOLE, DREGS_WHOLE)
        ck_assert_near(WHOLE(LEFT), left[s], 1e-11, "left of %u", s);
        ck_assert_near(WHOLE(BLOWN_OFF), blown[s], 1e-11, "blown off of %u", s);
        ck_assert_near(WHOLE(DUMPED), dumped[s], 1e-11, "dumped of %u", s);
#undef WHOLE
        ck_assert_near(quarter, month[s], 1e-11, "left of %u until March", s);
        for (t = 0; t < 3; t++)
            ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_HELD_LAST, s, t, DREGS_WHOLE),
                           dregs_state_mass(state, s, t), 1e-11, "held of %u in %u", s, t);
    }
    dregs_state_free(state);
    dregs_map_free(map);
    dregs_tally_free(tally);
    lines_free(line);
}
END_TEST

/* ---- by hand ---- */

static const char by_hand[] =
    "item,property,value,unit\n"
    "rack,kind,load,\nrack,parts,10,1\nrack,area,50,cm2\nrack,interval,8,min\n"
    "oil,kind,solute,\noil,on parts,2,mg\n"
    "di,kind,liquid,\ndi,solvent,water,\ndi,price,2.5,EUR/L\ndi,disposal,0.75,EUR/L\n"
    "bath,kind,wash,\nbath,volume,20,L\nbath,liquid,di,\nbath,film,40,um\nbath,removal,75,%\n"
    "bath,evaporation,0.3,L/h\nbath,dump at,day end,\n"
    "last,kind,rinse,\nlast,volume,15,L\nlast,liquid,di,\nlast,film,40,um\nlast,flow,9,L/h\n"
    "plan,kind,schedule,\nplan,loads per shift,55,1\nplan,shifts per day,2,1\n"
    "plan,days per year,200,1\nplan,shift length,8,h\n";

/* Hours of a year: 8760, of which 200 * 2 * 8 = 3200 in shifts. Films: 10 * 50 cm2 * 40 um = 2 mL
 * in and out of the rinse, 2 mL out of the bath for each of 22000 loads. */
static void hand_year(const char *idle, double flow_hours)
{
    dregs_line *line;
    dregs_tally *tally;
    double loads = 22000, evaporated = 0.3e-3 * 8760, film = 2e-6, dumped = 200 * 20e-3;
    dregs_tally_cost cost;

    lines_begin(&text);
    lines_say(&text, "%s%s", by_hand + strlen("item,property,value,unit\n"), idle);
    line = lines_read(text.bytes);
    tally = tally_of(line, DREGS_SPAN_YEAR, 0, 0);
#define VOLUME(which, stage) dregs_tally_fluid(tally, DREGS_STREAM_##which, 0, stage, DREGS_WHOLE)
    ck_assert_near(VOLUME(EVAPORATED, 0), evaporated, 1e-12, "evaporated");
    ck_assert_near(VOLUME(TOPPED, 0), evaporated + loads * film, 1e-12, "top-up of the bath");
    ck_assert_near(VOLUME(FED, 1), 9e-3 * flow_hours, 1e-12, "fed");
    ck_assert_near(VOLUME(DRAINED, 1), 9e-3 * flow_hours, 1e-12, "drained");
    ck_assert_near(VOLUME(DUMPED, 0), dumped, 1e-12, "dumped");
    ck_assert_near(VOLUME(REFILLED, 0), dumped, 1e-12, "refilled");
    ck_assert_near(VOLUME(DRIED, 1), loads * film, 1e-12, "dried");
    ck_assert_near(VOLUME(FILLED, DREGS_WHOLE), 35e-3, 1e-12, "filled");
    ck_assert_near(VOLUME(HELD_LAST, DREGS_WHOLE), 35e-3, 1e-12, "held");
    ck_assert_double_eq(VOLUME(HELD_FIRST, DREGS_WHOLE), 0.0);
#undef VOLUME
    ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_ARRIVED, 0, 0, DREGS_WHOLE),
                   loads * 20e-6, 1e-12, "arrived");
    ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_SOIL, 0, 0, DREGS_WHOLE), loads * 15e-6,
                   1e-12, "taken off");
    ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_ADHERING, 0, 1, DREGS_WHOLE),
                   loads * 5e-6, 1e-12, "never came off");
    cost = dregs_tally_costs(tally, DREGS_WHOLE);
    ck_assert_near(cost.bought,
                   2500 * (35e-3 + dumped + evaporated + loads * film + 9e-3 * flow_hours), 1e-12,
                   "bought");
    ck_assert_near(cost.disposal, 750 * (dumped + 9e-3 * flow_hours), 1e-12, "disposal");
    ck_assert_near(cost.total, cost.bought + cost.disposal, 1e-15, "cost");
    dregs_tally_free(tally);
    lines_free(line);
}

START_TEST(a_year_by_hand)
{
    hand_year("plan,idle flow,on,\n", 8760);
    hand_year("plan,idle flow,off,\n", 3200);
    hand_year("", 3200);
    /* nights, weekends and holidays are as long as all else that is no shift, also where the last
     * week of the year is a part of one, as of seven days, and 200 = 28 x 7 + 4 */
    hand_year("plan,days per week,5,1\nplan,idle flow,on,\n", 8760);
    hand_year("plan,days per week,4,1\n", 3200);
    hand_year("plan,days per week,7,1\nplan,idle flow,on,\n", 8760);
}
END_TEST

/* What one idle gap does to a rinse: with the flow on it is flushed for the rest of the shift and
 * of the day, exp(-F t / V); with the flow off nothing moves. A day's loads by a loop over the
 * model's own equations. */
static void flushed(const char *idle, double idle_hours)
{
    double m = 0.0, b = 0.0, c, flow = 9.0 / 3600, volume = 15.0, drained = 0.0, after;
    dregs_line *line;
    dregs_tally *tally;
    int shift, load;

    lines_begin(&text);
    lines_say(&text, "%s%s", by_hand + strlen("item,property,value,unit\n"), idle);
    line = lines_read(text.bytes);
    tally = tally_of(line, DREGS_SPAN_DAY, 0, 0);
    for (shift = 0; shift < 2; shift++) {
        for (load = 0; load < 55; load++) {
            double film;
            b += 15.0; /* mg taken off into the bath */
            c = b / 20;
            film = c * 2e-3; /* 2 mL leave with c; nothing comes in */
            b -= film;
            c = (m + film) / (volume + 2e-3);
            m = c * volume;
            after = m * exp(-flow * 480 / volume);
            drained += m - after;
            m = after;
        }
        after = m * exp(-flow * (8 * 3600 - 55 * 480) / volume);
        drained += m - after;
        m = after;
    }
    after = m * exp(-flow * idle_hours * 3600 / volume);
    drained += m - after;
    m = after;
    ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_HELD_LAST, 0, 1, 0) * 1e6, m, 1e-9,
                   "in the rinse behind a day");
    ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_DRAINED, 0, 1, 0) * 1e6, drained, 1e-11,
                   "drained in a day");
    ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_DUMPED, 0, 0, 0) * 1e6, b, 1e-11,
                   "dumped at the day's end");
    dregs_tally_free(tally);
    lines_free(line);
}

START_TEST(idle_time_flushes_with_the_flow_on)
{
    flushed("plan,idle flow,on,\n", 365.0 / 200 * 24 - 16);
    flushed("plan,idle flow,off,\n", 0);
}
END_TEST

/* A skimmer on a bath that one load a day passes: it runs for the shift of 5 h, and in idle time
 * only with the flows. 30 mg of oil come off into 12 L, of which 2.5 mL are carried out. */
static void skimmed(const char *idle, double hours)
{
    double m = 30.0 * (1 - 2.5e-3 / 12), rest = m * exp(-3.7 * hours / 12);
    dregs_line *line;
    dregs_tally *tally;

    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,10,1\nrack,area,50,cm2\nrack,interval,1,h\n"
              "oil,kind,solute,\noil,on parts,3,mg\n"
              "di,kind,liquid,\ndi,solvent,water,\n"
              "bath,kind,wash,\nbath,volume,12,L\nbath,liquid,di,\nbath,film,50,um\n"
              "bath,removal,100,%%\nbath,clearing oil,3.7,L/h\n"
              "plan,kind,schedule,\nplan,loads per shift,1,1\nplan,shifts per day,1,1\n"
              "plan,days per year,365,1\nplan,shift length,5,h\nplan,idle flow,%s,\n",
              idle);
    line = lines_read(text.bytes);
    tally = tally_of(line, DREGS_SPAN_DAY, 0, 0);
    ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_HELD_LAST, 0, 0, 0) * 1e6, rest, 1e-9,
                   "held, idle %s", idle);
    ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_CLEARED, 0, 0, 0) * 1e6, m - rest, 1e-11,
                   "cleared, idle %s", idle);
    dregs_tally_free(tally);
    lines_free(line);
}

START_TEST(filters_run_with_the_flows)
{
    skimmed("on", 24);
    skimmed("off", 5);
}
END_TEST

/* Ten loads of 30 mg an hour apart. A unit that is changed every so many loads is changed that
 * often; without a schedule what is taken, by the balance, says how many are used up. */
START_TEST(spent_units_are_counted_and_cost)
{
    static const char rows[] =
        "rack,kind,load,\nrack,parts,10,1\nrack,area,50,cm2\nrack,interval,1,h\n"
        "oil,kind,solute,\noil,on parts,3,mg\ndi,kind,liquid,\ndi,solvent,water,\n"
        "bath,kind,wash,\nbath,volume,12,L\nbath,liquid,di,\nbath,film,50,um\n"
        "bath,removal,100,%\nbath,clearing oil,3.7,L/h\nbath,capacity,50,mg\n"
        "bath,change price,61.5,EUR\n";
    const double e = exp(-3.7 / 12); /* 10 x 50 cm2 x 50 um = 2.5 mL */
    double m = 0, taken = 0;
    dregs_line *line;
    dregs_tally *tally;
    int n;

    for (n = 0; n < 10; n++) {
        double in_bath = (m + 30e-6) * (12 - 2.5e-3) / 12; /* a first stage: only drags out */
        m = in_bath * e;
        taken += in_bath - m;
    }
    lines_begin(&text);
    lines_say(&text, "%s", rows);
    line = lines_read(text.bytes);
    tally = tally_of(line, DREGS_SPAN_LOADS, 10, 0);
    ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_CLEARED, 0, 0, 0), taken, 1e-9, "taken");
    ck_assert_near(dregs_tally_changes(tally, 0, DREGS_WHOLE), taken / 50e-6, 1e-9, "used up");
    ck_assert_near(dregs_tally_change_cost(tally, DREGS_WHOLE, 0), taken / 50e-6 * 61.5, 1e-9,
                   "cost");
    ck_assert_near(dregs_tally_costs(tally, DREGS_WHOLE).total, taken / 50e-6 * 61.5, 1e-9, "all");
    ck_assert(isnan(dregs_tally_changes(tally, 1, 0)) &&
              isnan(dregs_tally_change_cost(tally, 0, 1)));
    dregs_tally_free(tally);
    lines_free(line);
    lines_say(&text, "bath,change every,3,1\nplan,kind,schedule,\nplan,loads per shift,5,1\n"
                     "plan,shifts per day,1,1\nplan,days per year,365,1\n");
    line = lines_read(text.bytes);
    tally = tally_of(line, DREGS_SPAN_YEAR, 0, 0);
    {
        double sum = 0;
        unsigned p;
        for (p = 0; p < dregs_tally_periods(tally); p++)
            sum += dregs_tally_changes(tally, 0, p);
        ck_assert_double_eq(sum, 608); /* of 1825 loads */
        ck_assert_double_eq(dregs_tally_changes(tally, 0, DREGS_WHOLE), 608);
        ck_assert_double_eq(dregs_tally_changes(tally, 0, 0), 51); /* 31 days, 155 loads */
        ck_assert_near(dregs_tally_change_cost(tally, 0, DREGS_WHOLE), 608 * 61.5, 1e-12, "cost");
    }
    dregs_tally_free(tally);
    lines_free(line);
}
END_TEST

/* Isopropanol dragged into a fed water rinse that gives up less film than it gets: what is not
 * carried on or left is found in the rinse's drain. The rinse has 3 mL more than its volume after
 * every load, in its mixture, which flow back in evenly: dm/dt = b/T - (F + 3 mL/T) m/V. */
START_TEST(a_solvent_in_a_water_rinse_goes_to_its_drain)
{
    static const char lines[] =
        "rack,kind,load,\nrack,parts,10,1\nrack,area,100,cm2\nrack,interval,10,min\n"
        "solids,kind,solute,\n"
        "ipa,kind,liquid,\nipa,solvent,isopropanol,\ndi,kind,liquid,\ndi,solvent,water,\n"
        "bath,kind,wash,\nbath,volume,5,L\nbath,liquid,ipa,\nbath,film,50,um\n"
        "last,kind,rinse,\nlast,volume,7,L\nlast,liquid,di,\nlast,film,20,um\n"
        "last,flow,6,L/h\n";
    double in = 5e-6, out = 2e-6, volume = 7e-3, time = 600, flow = 6e-3 / 3600;
    double q = (flow + (in - out) / time) / volume, m = 0, left = 0, drained = 0;
    dregs_line *line;
    dregs_tally *tally;
    int load;

    for (load = 0; load < 137; load++) {
        double c = (m + in) / (volume + in), buffer = c * (in - out), start = c * volume;
        left += c * out;
        m = start * exp(-q * time) - buffer / time * expm1(-q * time) / q;
        drained += start + buffer - m;
    }
    lines_begin(&text);
    lines_say(&text, "%s", lines);
    line = lines_read(text.bytes);
    tally = tally_of(line, DREGS_SPAN_LOADS, 137, 0);
#define VOLUME(which, stage) dregs_tally_fluid(tally, DREGS_STREAM_##which, 0, stage, DREGS_WHOLE)
    ck_assert_near(VOLUME(PASSED, 0), 137 * in, 1e-12, "carried in");
    ck_assert_near(VOLUME(DRIED, 1), left, 1e-11, "dried");
    ck_assert_near(VOLUME(DRAINED, 1), drained, 1e-11, "drained");
    ck_assert_near(VOLUME(HELD_LAST, 1), m, 1e-11, "held");
    ck_assert_near(dregs_tally_solvent(tally, DREGS_STREAM_DRAINED, 0, 1, DREGS_WHOLE),
                   drained * dregs_tally_density(tally, 0), 1e-11, "kg");
#undef VOLUME
    ck_assert_str_eq(dregs_tally_solvent_name(tally, 0), "isopropanol");
    ck_assert_str_eq(dregs_tally_solvent_name(tally, 1), "water");
    ck_assert_ptr_null(dregs_tally_solvent_name(tally, 2));
    dregs_tally_free(tally);
    lines_free(line);
}
END_TEST

/* 70 % isopropanol by mass evaporates as it is: of every kg 0.7 kg are isopropanol. */
START_TEST(a_mixture_keeps_its_shares)
{
    dregs_line *line;
    dregs_tally *tally;
    double all, ipa;

    lines_begin(&text);
    lines_say(&text, "rack,kind,load,\nrack,parts,1,1\nrack,area,10,cm2\nrack,interval,1,h\n"
                     "solids,kind,solute,\n"
                     "mix,kind,liquid,\nmix,solvent,isopropanol,\nmix,solvent share,70,%%\n"
                     "bath,kind,wash,\nbath,volume,5,L\nbath,liquid,mix,\nbath,film,50,um\n"
                     "bath,evaporation,0.02,L/h\n");
    line = lines_read(text.bytes);
    tally = tally_of(line, DREGS_SPAN_LOADS, 100, 0);
    ipa = dregs_tally_solvent(tally, DREGS_STREAM_EVAPORATED, 0, DREGS_WHOLE, DREGS_WHOLE);
    all = ipa + dregs_tally_solvent(tally, DREGS_STREAM_EVAPORATED, 1, DREGS_WHOLE, DREGS_WHOLE);
    ck_assert_near(ipa, 0.7 * all, 1e-12, "share");
    ck_assert_near(all, 2e-3 * dregs_tally_density(tally, 0), 1e-12, "all");
    ck_assert(dregs_tally_density(tally, 0) > 786 && dregs_tally_density(tally, 0) < 998);
    dregs_tally_free(tally);
    lines_free(line);
}
END_TEST

/* Two liquids in a dumped tank: 40 % of its own comes back, nothing of the other's, no solute. */
START_TEST(a_still_gives_back_a_tanks_own_liquid)
{
    dregs_line *line;
    dregs_tally *tally, *without;
    double own, back;

    lines_begin(&text);
    lines_say(&text, "%s",
              "rack,kind,load,\nrack,parts,10,1\nrack,area,100,cm2\nrack,interval,10,min\n"
              "solids,kind,solute,\n"
              "ipa,kind,liquid,\nipa,solvent,isopropanol,\nipa,price,2,EUR/L\n"
              "ipa,disposal,0.5,EUR/L\n"
              "di,kind,liquid,\ndi,solvent,water,\ndi,solids,3,mg/L\n"
              "first,kind,rinse,\nfirst,volume,7,L\nfirst,liquid,di,\nfirst,film,50,um\n"
              "bath,kind,wash,\nbath,volume,5,L\nbath,liquid,ipa,\nbath,film,50,um\n"
              "bath,dump every,7,1\n");
    line = lines_read(text.bytes);
    without = tally_of(line, DREGS_SPAN_LOADS, 70, 0);
    lines_say(&text, "bath,reclaim,40,%%\n");
    tally = tally_of(lines_read(text.bytes), DREGS_SPAN_LOADS, 70, 0);
    own = dregs_tally_fluid(without, DREGS_STREAM_DUMPED, 0, 1, DREGS_WHOLE);
    ck_assert(own > 0.04 && own < 0.05); /* of 10 dumps of 5 L */
    back = dregs_tally_reclaimed(tally, 0, DREGS_WHOLE, DREGS_WHOLE);
    ck_assert_near(back, 0.4 * own, 1e-12, "back");
    ck_assert_double_eq(dregs_tally_reclaimed(tally, 1, DREGS_WHOLE, DREGS_WHOLE), 0.0);
    ck_assert_double_eq(dregs_tally_reclaimed(without, 0, DREGS_WHOLE, DREGS_WHOLE), 0.0);
    ck_assert_double_nan(dregs_tally_reclaimed(tally, 2, DREGS_WHOLE, DREGS_WHOLE));
    ck_assert_near(dregs_tally_costs(without, 0).bought - dregs_tally_costs(tally, 0).bought,
                   2000 * back, 1e-9, "saved on what is bought");
    ck_assert_near(dregs_tally_costs(without, 0).disposal - dregs_tally_costs(tally, 0).disposal,
                   500 * back, 1e-9, "saved on waste");
    ck_assert_near(dregs_tally_solute(tally, DREGS_STREAM_DUMPED, 0, 1, DREGS_WHOLE),
                   dregs_tally_solute(without, DREGS_STREAM_DUMPED, 0, 1, DREGS_WHOLE), 1e-15,
                   "solids");
    lines_free((dregs_line *)(uintptr_t)dregs_tally_line(tally));
    dregs_tally_free(tally);
    dregs_tally_free(without);
    lines_free(line);
}
END_TEST

/* ---- spans ---- */

/* Sprays alone, no tank: of each load 2 L of the first liquid and 1 L of the second are sprayed;
 * 2 mL of film dry off, all else runs off. */
START_TEST(sprays_alone_lose_nothing)
{
    dregs_line *line =
        lines_read("item,property,value,unit\nrack,kind,load\nrack,parts,10,1\n"
                   "rack,area,100,cm2\nrack,interval,6,min\nsalt,kind,solute\nhard,kind,liquid\n"
                   "hard,solvent,water\nhard,salt,300,mg/L\nsoft,kind,liquid\nsoft,solvent,water\n"
                   "first,kind,spray\nfirst,liquid,hard\nfirst,use,2,L\nfirst,film,20,um\n"
                   "last,kind,spray\nlast,liquid,soft\nlast,use,1,L\nlast,film,20,um\n");
    dregs_tally *tally = tally_of(line, DREGS_SPAN_LOADS, 7, 0);
    double salt_in, salt_out;

    ck_assert_near(dregs_tally_fluid(tally, DREGS_STREAM_SPRAYED, 0, DREGS_WHOLE, DREGS_WHOLE),
                   7 * 0.002, 1e-14, "hard, sprayed");
    ck_assert_near(dregs_tally_fluid(tally, DREGS_STREAM_SPRAYED, 1, DREGS_WHOLE, DREGS_WHOLE),
                   7 * 0.001, 1e-14, "soft, sprayed");
    ck_assert_near(dregs_tally_volume(tally, DREGS_STREAM_RUNOFF, DREGS_WHOLE, DREGS_WHOLE),
                   7 * (0.003 - 2e-6), 1e-14, "run off");
    ck_assert_near(dregs_tally_volume(tally, DREGS_STREAM_DRIED, DREGS_WHOLE, DREGS_WHOLE),
                   7 * 2e-6, 1e-14, "dried");
    salt_in = dregs_tally_solute(tally, DREGS_STREAM_SPRAYED, 0, DREGS_WHOLE, DREGS_WHOLE);
    salt_out = dregs_tally_solute(tally, DREGS_STREAM_RUNOFF, 0, DREGS_WHOLE, DREGS_WHOLE) +
               dregs_tally_solute(tally, DREGS_STREAM_LEFT, 0, DREGS_WHOLE, DREGS_WHOLE);
    ck_assert_near(salt_in, 7 * 0.002 * 0.3, 1e-14, "salt, 300 mg/L");
    ck_assert_near(salt_out, salt_in, 1e-15, "salt, out");
    all_close(tally, 0);
    dregs_tally_free(tally);
    lines_free(line);
}
END_TEST

START_TEST(months_make_the_year_and_days_the_month)
{
    dregs_line *line = lines_read(marched);
    dregs_tally *year = tally_of(line, DREGS_SPAN_YEAR, 0, 0);
    dregs_tally *january = tally_of(line, DREGS_SPAN_MONTH, 0, 0);
    dregs_tally *running = tally_of(line, DREGS_SPAN_YEAR, 0, 1);
    uint64_t days = 0;
    unsigned m;

    ck_assert_uint_eq(dregs_tally_periods(year), 12);
    for (m = 0; m < 12; m++)
        days += dregs_tally_days(year, m);
    ck_assert_uint_eq(days, 231);
    /* 231 * 31 / 365 = 19.6, 231 * 59 / 365 = 37.3 */
    ck_assert_uint_eq(dregs_tally_days(year, 0), 20);
    ck_assert_uint_eq(dregs_tally_days(year, 1), 17);
    ck_assert_near(dregs_tally_seconds(year, DREGS_WHOLE), 365 * 86400.0, 1e-12, "year");
    ck_assert_near(dregs_tally_solute(january, DREGS_STREAM_LEFT, 1, DREGS_WHOLE, DREGS_WHOLE),
                   dregs_tally_solute(year, DREGS_STREAM_LEFT, 1, DREGS_WHOLE, 0), 1e-13,
                   "January");
    /* the second year begins with what the first has left, and buys no first fill */
    for (m = 0; m < 3; m++)
        ck_assert_near(dregs_tally_solute(running, DREGS_STREAM_HELD_FIRST, 0, m, DREGS_WHOLE),
                       dregs_tally_solute(year, DREGS_STREAM_HELD_LAST, 0, m, DREGS_WHOLE), 1e-11,
                       "handed on");
    ck_assert_double_eq(dregs_tally_volume(running, DREGS_STREAM_FILLED, DREGS_WHOLE, 0), 0.0);
    dregs_tally_free(year);
    dregs_tally_free(january);
    dregs_tally_free(running);
    lines_free(line);
}
END_TEST

/* ---- what is refused ---- */

static void refused(const char *rows, const char *why)
{
    static dregs_faults faults;

    lines_begin(&text);
    lines_say(&text, "%s%s", by_hand + strlen("item,property,value,unit\n"), rows);
    ck_assert_ptr_null(lines_try(text.bytes, NULL, &faults));
    ck_assert_msg(strstr(faults.fault[0].text, why) != NULL, "'%s' says nothing of '%s'",
                  faults.fault[0].text, why);
}

START_TEST(a_schedule_that_does_not_fit_is_refused)
{
    refused("plan,days per week,8,1\n", "a week of 8 days");
    refused("last,dump at,week end,\n", "'days per week'");
    refused("last,dump at,Friday,\n", "shift end, day end, week end");
    refused("last,dump every,40,1\nlast,dump at,shift end,\n", "two ways");
    refused("more,kind,rinse,\nmore,shares tank with,last,\nmore,film,40,um\n"
            "more,dump at,shift end,\n",
            "belongs to the tank");
}
END_TEST

static void refused_plan(const char *plan, const char *why)
{
    static dregs_faults faults;

    lines_begin(&text);
    lines_say(&text,
              "rack,kind,load,\nrack,parts,1,1\nrack,area,10,cm2\nrack,interval,30,min\n"
              "oil,kind,solute,\ndi,kind,liquid,\ndi,solvent,water,\n"
              "bath,kind,wash,\nbath,volume,5,L\nbath,liquid,di,\nbath,film,50,um\n"
              "plan,kind,schedule,\n%s",
              plan);
    ck_assert_ptr_null(lines_try(text.bytes, NULL, &faults));
    ck_assert_msg(strstr(faults.fault[0].text, why) != NULL, "'%s' says nothing of '%s'",
                  faults.fault[0].text, why);
}

/* 200 days in weeks of 3 would take 66 weekends of 4 days and 464 days in all. */
START_TEST(weeks_fit_into_their_year)
{
    static const struct {
        unsigned week, year;
        const char *why;
    } bad[] = {{3, 200, "200 working days in weeks of 3 take 464 days; a year has 365"},
               {5, 4, "4 working days in a year are less than a week of 5"}};
    char message[DREGS_CALENDAR_MESSAGE];
    dregs_calendar calendar;
    size_t i;

    for (i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        dregs_line *line;
        lines_begin(&text);
        lines_say(&text,
                  "rack,kind,load,\nrack,parts,1,1\nrack,area,10,cm2\nrack,interval,30,min\n"
                  "oil,kind,solute,\ndi,kind,liquid,\ndi,solvent,water,\n"
                  "bath,kind,wash,\nbath,volume,5,L\nbath,liquid,di,\nbath,film,50,um\n"
                  "plan,kind,schedule,\nplan,loads per shift,16,1\nplan,shifts per day,2,1\n"
                  "plan,days per week,%u,1\nplan,days per year,%u,1\n",
                  bad[i].week, bad[i].year);
        line = lines_read(text.bytes);
        ck_assert_int_eq(dregs_calendar_of(line, &calendar, message), DREGS_BAD_DATA);
        ck_assert_str_eq(message, bad[i].why);
        /* weeks that repeat themselves have no year */
        ck_assert_int_eq(dregs_calendar_of_week(line, &calendar, message), DREGS_OK);
        ck_assert_double_eq(calendar.idle, 8 * 3600);
        ck_assert_double_eq(calendar.weekend, (8 + 24 * (7 - bad[i].week)) * 3600);
        lines_free(line);
    }
}
END_TEST

START_TEST(a_day_holds_its_shifts)
{
    refused_plan("plan,loads per shift,17,1\nplan,shift length,8,h\n", "shorter than its loads");
    refused_plan("plan,loads per shift,17,1\nplan,shifts per day,3,1\n", "take 25.5 h");
    refused_plan("plan,days per year,366,1\n", "allowed are 1 to 365");
    refused_plan("plan,shifts per day,25,1\n", "allowed are 1 to 24");
}
END_TEST

START_TEST(arguments_out_of_range_are_refused)
{
    dregs_tally_request request = {DREGS_SPAN_LOADS, 0, 0};
    char message[DREGS_TALLY_MESSAGE];
    dregs_tally *tally = NULL;
    dregs_line *line = lines_random(3, &text, NULL);

    ck_assert_int_eq(dregs_tally_new(line, &request, &tally, message), DREGS_DOMAIN);
    request.loads = DREGS_LOADS_MOST + 1;
    ck_assert_int_eq(dregs_tally_new(line, &request, &tally, NULL), DREGS_DOMAIN);
    request.span = DREGS_SPAN_YEAR;
    ck_assert_int_eq(dregs_tally_new(line, &request, &tally, message), DREGS_BAD_DATA);
    ck_assert_ptr_nonnull(strstr(message, "no schedule"));
    ck_assert_ptr_null(tally);
    tally = tally_of(line, DREGS_SPAN_LOADS, DREGS_LOADS_MOST, 0);
    ck_assert_double_nan(dregs_tally_fluid(tally, DREGS_STREAM_FED, 0, 0, 1));
    ck_assert_double_nan(dregs_tally_fluid(tally, DREGS_STREAM_FED, 99, 0, 0));
    ck_assert_double_nan(dregs_tally_solute(tally, DREGS_STREAM_FED, 99, 0, 0));
    ck_assert_double_nan(dregs_tally_solute(tally, DREGS_STREAM_FED, 0, 99, 0));
    ck_assert_double_nan(dregs_tally_solute(tally, DREGS_STREAM_COUNT, 0, 0, 0));
    ck_assert_double_nan(dregs_tally_seconds(tally, 1));
    ck_assert_double_nan(dregs_tally_solvent(tally, DREGS_STREAM_FED, 99, 0, 0));
    ck_assert_double_nan(dregs_tally_density(tally, 99));
    ck_assert_ptr_null(dregs_stream_name(DREGS_STREAM_COUNT));
    dregs_tally_free(tally);
    lines_free(line);
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("tally");
    TCase *c = tcase_create("random lines");

    tcase_set_timeout(c, 300);
    suite_add_tcase(s, c);
    tcase_add_test(c, every_substance_closes_on_random_lines);
    tcase_add_test(c, every_month_closes_on_random_lines);
    tcase_add_test(c, every_tank_closes_on_random_lines);
    tcase_add_test(c, all_liquids_together_are_the_balance_of_volumes);
    c = tcase_create("by hand");
    tcase_set_timeout(c, 60);
    suite_add_tcase(s, c);
    tcase_add_test(c, a_year_by_the_map_is_a_year_marched);
    tcase_add_test(c, a_year_by_hand);
    tcase_add_test(c, idle_time_flushes_with_the_flow_on);
    tcase_add_test(c, filters_run_with_the_flows);
    tcase_add_test(c, spent_units_are_counted_and_cost);
    tcase_add_test(c, a_solvent_in_a_water_rinse_goes_to_its_drain);
    tcase_add_test(c, a_mixture_keeps_its_shares);
    tcase_add_test(c, a_still_gives_back_a_tanks_own_liquid);
    tcase_add_test(c, sprays_alone_lose_nothing);
    tcase_add_test(c, months_make_the_year_and_days_the_month);
    c = tcase_create("refusals");
    suite_add_tcase(s, c);
    tcase_add_test(c, a_schedule_that_does_not_fit_is_refused);
    tcase_add_test(c, weeks_fit_into_their_year);
    tcase_add_test(c, a_day_holds_its_shifts);
    tcase_add_test(c, arguments_out_of_range_are_refused);
    return s;
}

int main(void)
{
    gsl_set_error_handler_off();
    return run(suite());
}
