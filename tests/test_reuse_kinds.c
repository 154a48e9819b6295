/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_reuse_kinds.c: the log of a line with loads of two kinds, beside a march of two lines of one
 * kind each that take turns by hand.
 */
#include "dregs/number.h"
#include "line/line.h"
#include "logs.h"

#define TRAY        "tray,kind,load,,\ntray,parts,40,1,\ntray,area,12,cm2,\ntray,extra area,250,cm2,\n"
#define RACK        "rack,kind,load,,\nrack,parts,20,1,\nrack,area,30,cm2,\nrack,extra area,100,cm2,\n"
#define BATH        "bath,kind,wash,,\nbath,volume,9,L,\nbath,liquid,alkaline,,\nbath,removal,99.9,%,\n"
#define LAST        "last,kind,rinse,,\nlast,volume,3,L,\nlast,liquid,di,,\n"
#define FIRST       "first,kind,rinse,,\nfirst,volume,3,L,\nfirst,liquid,di,,\nfirst,drag-out,50,mL/m2,\n"
#define HEAD        "item,property,value,unit,spread\n"
#define SOILED_TRAY "oil,kind,solute,,\noil,on parts,0.9,mg,\n"

static const char solutes_rest[] =
    "cleaner,kind,solute,,\ncleaner,conductivity,1.35,uS/cm per mg/L,\n"
    "minerals,kind,solute,,\nminerals,conductivity,1.6,uS/cm per mg/L,\n"
    "alkaline,kind,liquid,,\nalkaline,solvent,water,,\nalkaline,cleaner,12,g/L,\n"
    "di,kind,liquid,,\ndi,solvent,water,,\ndi,minerals,0.6,mg/L,\n";

static const char *const heads[3] = {
    HEAD TRAY "tray,interval,12,min,\n" SOILED_TRAY,
    HEAD RACK "rack,interval,12,min,\noil,kind,solute,,\noil,on parts,0.2,mg,\n",
    HEAD TRAY "tray,interval,12,min,\n" RACK "rack,on parts oil,0.2,mg,\n" SOILED_TRAY};
static const char *const tails[3] = {
    BATH "bath,drag-out,70,mL/m2,\n" FIRST LAST "last,drag-out,50,mL/m2,\n" LOGS_LIMIT,
    BATH "bath,drag-out,120,mL/m2,\n" FIRST LAST "last,drag-out,90,mL/m2,\n" LOGS_LIMIT,
    BATH "bath,drag-out,70,mL/m2,\nbath,drag-out rack,120,mL/m2,\n" FIRST LAST
         "last,drag-out,50,mL/m2,\nlast,drag-out rack,90,mL/m2,\n" LOGS_LIMIT
         "day,kind,schedule,,\nday,sequence,2 tray rack,,\n"};

enum { TRAYS, RACKS, BOTH };

/* Both kinds by themselves, and the tanks that they go through by turns. */
struct turns {
    dregs_line *line[2];
    dregs_map *map[2];
    dregs_state *state;
};

/* Two trays, a rack, and so on. */
static unsigned turn(uint64_t load)
{
    return load % 3 == 0 ? RACKS : TRAYS;
}

/* The tanks, for the load that comes next. */
static void put_under(struct turns *t)
{
    dregs_state *state = dregs_state_under(t->map[turn(dregs_state_next(t->state))], t->state);

    ck_assert_ptr_nonnull(state);
    dregs_state_free(t->state);
    t->state = state;
}

static void step(struct turns *t)
{
    dregs_state_step(t->state);
    put_under(t);
}

static void parse(unsigned which)
{
    char file[4096];

    ck_assert_int_lt(
        snprintf(file, sizeof file, "%s%s%s", heads[which], solutes_rest, tails[which]),
        (int)sizeof file);
    logs_parse(file);
}

static void begin(struct turns *t)
{
    unsigned k;

    for (k = TRAYS; k <= RACKS; k++) {
        parse(k);
        t->line[k] = logs.line;
        logs.line = NULL;
        ck_assert_int_eq(dregs_map_new(t->line[k], &t->map[k]), DREGS_OK);
    }
    t->state = dregs_state_new(t->map[TRAYS]);
    ck_assert_ptr_nonnull(t->state);
    parse(BOTH);
}

static void let_go(struct turns *t)
{
    unsigned k;

    dregs_state_free(t->state);
    for (k = TRAYS; k <= RACKS; k++) {
        dregs_map_free(t->map[k]);
        dregs_line_free(t->line[k]);
    }
}

/* uS/cm: 0.05498 of the water, k c of what conducts */
static double conducts(const struct turns *t, unsigned stage)
{
    return 0.05498 + (1.35 * dregs_state_mass(t->state, 1, stage) +
                      1.6 * dregs_state_mass(t->state, 2, stage)) /
                         3e-3 * 1e3;
}

static void read_both(const struct turns *t, uint64_t load)
{
    static const char *const names[] = {"bath", "first", "last"};
    char number[DREGS_NUMBER_TEXT];
    unsigned i, minutes = (unsigned)load * 12;

    for (i = LOGS_FIRST; i <= LOGS_LAST; i++)
        logs_say("2026-03-%02uT%02u:%02u,%s,%u,conductivity,%s,uS/cm\n", 1 + minutes / 1440,
                 minutes / 60 % 24, minutes % 60, names[i], (unsigned)load,
                 dregs_number_exact(number, conducts(t, i)));
}

/* Loads that stay within the limit (kg/m2). */
static uint64_t good_for(struct turns *t, double limit)
{
    dregs_state *now = dregs_state_under(t->map[turn(dregs_state_next(t->state))], t->state),
                *ahead;
    dregs_residue residue;
    uint64_t loads = 0;

    ck_assert_ptr_nonnull(now);
    for (;; loads++) {
        dregs_residue_next(t->state, &residue);
        if (residue.total > limit)
            break;
        step(t);
    }
    ahead = t->state;
    t->state = now;
    dregs_state_free(ahead);
    return loads;
}

static void analyse(double limit)
{
    dregs_reuse_request request;

    dregs_reuse_request_init(&request);
    request.noise = 0.02;
    request.limit = limit;
    request.drag_out_sd = request.soil_sd = 0.01;
    logs_forget();
    logs.readings = dregs_readings_new("log.csv", logs.line, &logs.faults);
    ck_assert_ptr_nonnull(logs.readings);
    ck_assert_msg(!dregs_readings_feed(logs.readings, logs.text, logs.length) &&
                      !dregs_readings_end(logs.readings),
                  "line %lu: %s", logs.faults.fault[0].line, logs.faults.fault[0].text);
    ck_assert_msg(!dregs_reuse_new(logs.line, logs.readings, &request, &logs.reuse, &logs.faults),
                  "%s", logs.faults.fault[0].text);
}

/* A dump behind load 100, which is a tray; the log begins there and ends at loads of each place of
 * the sequence. The factors are known to 1 %, and the loads so to 3 % of the limit. */
START_TEST(the_log_follows_the_sequence)
{
    static const double limits[] = {1e-6, 3e-6, 1e-5};
    struct turns t = {0};
    dregs_residue residue;
    uint64_t load;
    size_t i;

    begin(&t);
    for (load = 1; load <= 100; load++)
        step(&t);
    for (i = LOGS_FIRST; i <= LOGS_LAST; i++)
        ck_assert_int_eq(dregs_state_dump(t.state, (unsigned)i), DREGS_OK);
    logs.length = 0;
    logs_say("time,stage,load,quantity,value,unit\n"
             "2026-03-01T20:00,first,100,dump,,\n2026-03-01T20:00,last,100,dump,,\n");
    for (load = 101; load <= 112; load++) {
        step(&t);
        read_both(&t, load);
        if (load < 110)
            continue;
        dregs_residue_next(t.state, &residue);
        for (i = 0; i < sizeof limits / sizeof limits[0]; i++) {
            const dregs_reuse_outlook *a;
            uint64_t least = good_for(&t, limits[i] * 0.97), most = good_for(&t, limits[i] * 1.03);
            analyse(limits[i]);
            a = logs_answer();
            ck_assert_near(a->next, residue.total, 0.03, "what the next load leaves");
            ck_assert_uint_eq(a->kind, turn(load + 1));
            ck_assert_msg(least <= a->loads && a->loads <= most,
                          "limit %g after load %d: %d loads, by the march %d to %d", limits[i],
                          (int)load, (int)a->loads, (int)least, (int)most);
            ck_assert_int_eq(a->kind_ends, (int)turn(load + 1 + a->loads));
            ck_assert_uint_eq(dregs_reuse_regimes(logs.reuse), 1);
        }
    }
    let_go(&t);
}
END_TEST

/* Soil and the film of every stage, of loads that state their own too: 40 trays with 0.9 mg, 20
 * pieces on a rack with 0.2 mg. */
START_TEST(both_kinds_are_altered)
{
    struct alteration change = dregs_reuse_unaltered();
    dregs_line *changed = NULL;
    unsigned k, i;

    parse(BOTH);
    change.soil = 1.7;
    change.drag_out = 1.3;
    change.of_stage[LOGS_FIRST] = 0.6;
    ck_assert_int_eq(dregs_reuse_altered(logs.line, &change, &changed), DREGS_OK);
    for (k = TRAYS; k <= RACKS; k++) {
        const dregs_line *of = dregs_line_of_kind(changed, k);
        ck_assert_near(dregs_line_solute(of, 0)->on_parts.si, 1.7 * (k ? 0.2e-6 : 0.9e-6), 1e-14,
                       "the soil of kind %u", k);
        for (i = LOGS_BATH; i <= LOGS_LAST; i++)
            ck_assert_near(dregs_line_carried(of, i)->out,
                           1.3 * (i == LOGS_FIRST ? 0.6 : 1.0) *
                               dregs_line_carried(dregs_line_of_kind(logs.line, k), i)->out,
                           1e-14, "the film of kind %u behind stage %u", k, i);
    }
    dregs_line_free(changed);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {the_log_follows_the_sequence, both_kinds_are_altered};

    return logs_run("reuse_kinds", tests, sizeof tests / sizeof tests[0]);
}
