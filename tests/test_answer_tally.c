/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_answer_tally.c: what dregs-tally tells, asked from C. One line whose year is arithmetic by
 * hand, and random lines held to the sums of their streams.
 *
 * By hand: a load of 1 m2 with a film of 1 mm takes 1 L along; ten loads a day of 24 h, 365 days;
 * 0.5 L/h evaporate; 100 L are dumped every day. A day brings 12 L off the tank and 10 L off the
 * parts into the air, and 100 L of waste: of a year 4380, 3650 and 36500 L. The first fill is
 * 100 L, and stands in the tank at the end.
 */
#include "check_main.h"
#include "dregs/answer_tally.h"
#include "lines.h"

#include <string.h>

#define DAYS                                                                                       \
    "days,kind,schedule,\ndays,loads per shift,10,\ndays,shifts per day,1,\ndays,days per "        \
    "year,365,\n"
#define LITRE    1e-3   /* m3 */
#define BALANCE  1e-9   /* of a year in closed form against sums by hand */
#define YEAR_AIR 8030.  /* L */
#define YEAR_IN  44530. /* L that are used up */
#define WEIGHED  0.0708 /* m3: 0.05 L/h over January and February, 1416 h */

static const char *const vat =
    "item,property,value,unit,spread\nrack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\n"
    "rack,interval,2.4,h\noil,kind,solute,\nown,kind,liquid,\nown,solvent,isopropanol,\n"
    "own,price,2,EUR/L\nown,disposal,0.5,EUR/L\nvat,kind,rinse,\nvat,volume,100,L\n"
    "vat,liquid,own,\nvat,film,1,mm\nvat,evaporation,0.5,L/h,0.05\nvat,dump every,10,1\n" DAYS;

static dregs_line *lines[2];
static dregs_tally_question question;
static dregs_tally_result *result;
static dregs_faults faults;
static dregs_site site;

static void setup(void)
{
    lines[0] = lines_read(vat);
    lines[1] = NULL;
    result = NULL;
    memset(&faults, 0, sizeof faults);
    dregs_site_init(&site);
    dregs_tally_question_init(&question);
    question.line = (const dregs_line *const *)lines;
    question.lines = 1;
    question.site = &site;
}

static void teardown(void)
{
    dregs_tally_result_free(result);
    lines_free(lines[0]);
    if (lines[1])
        lines_free(lines[1]);
}

static void ask(void)
{
    if (dregs_tally_answer(&question, &result, &faults))
        ck_abort_msg("%s", faults.fault[0].text);
    ck_assert_ptr_nonnull(result);
}

static void refused(dregs_status status, const char *words)
{
    dregs_tally_result *untouched = (dregs_tally_result *)&faults, *into = untouched;

    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(dregs_tally_answer(&question, &into, &faults), status);
    ck_assert_ptr_eq(into, untouched);
    ck_assert_msg(faults.count == 1 && strstr(faults.fault[0].text, words), "%u faults, %s",
                  faults.count, faults.fault[0].text);
}

static const dregs_tally_figure *figure(unsigned line, const char *name)
{
    const dregs_tally_figure *f;
    unsigned i;

    for (i = 0; (f = dregs_tally_result_figure(result, line, i)) != NULL; i++)
        if (strcmp(f->name, name) == 0)
            return f;
    ck_abort_msg("no figure '%s'", name);
}

static const char bought[] = "date,liquid,quantity,unit,kind,spread\n"
                             "2025-01-02,own,3900,L,bought,10\n2025-02-03,own,1500,L,bought,10\n"
                             "2025-01-31,own,3100,L,disposed,\n";

static dregs_purchases *purchases_of(const char *text)
{
    dregs_purchases *p = NULL;
    double rho;

    ck_assert_int_eq(dregs_tally_density_of(lines[0], 0, &rho), DREGS_OK);
    ck_assert_int_eq(
        dregs_purchases_parse("bought.csv", text, strlen(text), lines[0], &rho, &p, NULL),
        DREGS_OK);
    return p;
}

START_TEST(a_year_in_outline)
{
    const dregs_tally_outline *o;

    ask();
    o = dregs_tally_result_outline(result, 0, DREGS_WHOLE);
    ck_assert_near(o->bought, 44630 * LITRE, BALANCE, "100 + 36500 + 8030 L");
    ck_assert_near(o->to_waste, 36500 * LITRE, BALANCE, "dumped");
    ck_assert_near(o->evaporated, 4380 * LITRE, BALANCE, "evaporated");
    ck_assert_near(o->dried, 3650 * LITRE, BALANCE, "dried");
    ck_assert_near(o->held_last, 100 * LITRE, BALANCE, "in the tank");
    ck_assert(o->to_drain == 0 && o->blown_off == 0);
    ck_assert_near(o->cost, 44630 * 2 + 36500 * 0.5, BALANCE, "bought at 2, disposed at 0.5 EUR/L");
    o = dregs_tally_result_outline(result, 0, 1);
    ck_assert_near(o->bought, 28 * 122 * LITRE, BALANCE, "February");
    ck_assert_ptr_null(dregs_tally_result_outline(result, 0, DREGS_MONTHS));
    ck_assert_ptr_null(dregs_tally_result_outline(result, 1, DREGS_WHOLE));
    ck_assert_str_eq(dregs_tally_result_line(result, 0)->currency, "EUR");
    ck_assert_ptr_null(dregs_tally_result_line(result, 1));
    ck_assert_near(figure(0, "bought: own")->value, 44630, BALANCE, "L");
    ck_assert_near(figure(0, "cost")->value, 107510, BALANCE, "EUR");
}
END_TEST

START_TEST(what_dominates)
{
    const dregs_tally_part *p;
    unsigned i;

    ask();
    p = dregs_tally_result_part(result, 0, 0, 0);
    ck_assert_int_eq(p->stream, DREGS_STREAM_DUMPED);
    ck_assert_uint_eq(p->fluid, DREGS_WHOLE);
    ck_assert_near(p->share, 36500 / YEAR_IN, BALANCE, "dumped, of what leaves");
    ck_assert(isnan(p->cost));
    p = dregs_tally_result_part(result, 0, 1, 0);
    ck_assert_int_eq(p->stream, DREGS_STREAM_REFILLED);
    ck_assert_near(p->cost, 73000, BALANCE, "36500 L at 2 EUR");
    ck_assert_near(p->share, 73000 / 107510., BALANCE, "of all costs");
    p = dregs_tally_result_part(result, 0, 1, 1);
    ck_assert_int_eq(p->stream, DREGS_STREAM_DUMPED);
    ck_assert_near(p->cost, 18250, BALANCE, "36500 L at 0.5 EUR");
    for (i = 0; (p = dregs_tally_result_part(result, 0, 1, i)) != NULL; i++)
        ck_assert_uint_lt(i, DREGS_TALLY_PARTS_MOST);
    ck_assert_uint_eq(i, 4); /* first fill, top-up, refill, dumped */
}
END_TEST

START_TEST(lines_side_by_side)
{
    const dregs_tally_compared *row = NULL;
    char text[2048], *every;
    unsigned i;

    snprintf(text, sizeof text, "%s", vat);
    every = strstr(text, "dump every,10");
    every[strlen("dump every,")] = '2'; /* every second day: 182 times 100 L */
    lines[1] = lines_read(text);
    question.lines = 2;
    ask();
    for (i = 0; (row = dregs_tally_result_compared(result, i)) != NULL; i++)
        if (strcmp(row->name, "dumped") == 0)
            break;
    ck_assert_ptr_nonnull(row);
    ck_assert_uint_eq(row->line, 0);
    ck_assert(row->has[0] && row->has[1]);
    ck_assert_near(row->value[1], 18200, BALANCE, "L");
    ck_assert_near(row->difference[1], -18300, BALANCE, "L");
    ck_assert(row->difference[0] == 0);
}
END_TEST

START_TEST(changes_of_a_line)
{
    const dregs_tally_change *c;
    const dregs_tally_figure *f;
    unsigned i, moves = 0;

    question.changes = 1;
    ask();
    c = dregs_tally_result_change(result, 0);
    ck_assert_msg(strstr(c->what, "one more rinse: a copy of 'vat'") && !*c->reason, "%s", c->what);
    for (i = 0; (f = dregs_tally_result_changed(result, 0, i)) != NULL; i++) {
        ck_assert_str_eq(f->name, figure(0, f->name)->name);
        if (isnan(f->value))
            continue;
        ck_assert(f->before == figure(0, f->name)->value);
        ck_assert(f->difference == f->value - f->before);
        moves += f->moves != 0;
        if (strcmp(f->name, "dumped") == 0)
            ck_assert_near(f->difference, 36500, BALANCE, "L, of a second tank");
    }
    ck_assert_uint_gt(moves, 0);
    ck_assert_str_eq(
        dregs_tally_result_change(result, 1)->reason,
        "no stage computes its film from a withdrawal speed; how a stated film depends "
        "on the drain time is not known");
    ck_assert_ptr_null(dregs_tally_result_change(result, 2)->tally);
    ck_assert_ptr_null(dregs_tally_result_change(result, 3));
}
END_TEST

START_TEST(regulations_of_the_year)
{
    const dregs_tally_law *law;
    const dregs_tally_plan *plan;
    const dregs_tally_waste *waste;
    const dregs_tally_waste_month *month;
    double rho;

    ck_assert_int_eq(dregs_tally_density_of(lines[0], 0, &rho), DREGS_OK);
    site.captured = 0.5;
    site.destroyed = 0.9;
    site.activity = DREGS_SITE_OTHER_CLEANING;
    question.law = 1;
    ask();
    law = dregs_tally_result_law(result);
    plan = dregs_tally_law_plan(law, 0);
    ck_assert_ptr_null(dregs_tally_law_plan(law, 1));
    ck_assert_near(plan->plan.i1, YEAR_IN * LITRE * rho, BALANCE, "I1");
    ck_assert_near(plan->plan.o5, 0.45 * YEAR_AIR * LITRE * rho, BALANCE, "O5");
    ck_assert_near(plan->result.share, YEAR_AIR / 2 / YEAR_IN, BALANCE, "fugitive share");
    ck_assert_int_eq(plan->met[DREGS_LAW_CLEANING_OTHER], DREGS_LAW_YES);
    ck_assert_int_eq(dregs_tally_law_solvent(law, 0)->plan, (int)plan->number);
    ck_assert_near(dregs_tally_law_potential(law)->voc, YEAR_AIR * LITRE * rho, BALANCE,
                   "the schedule runs around the clock");
    ck_assert(dregs_tally_law_potential(law)->pollutants == 0);
    waste = dregs_tally_law_waste(law, 0);
    ck_assert_str_eq(waste->leaves, "dumped from");
    ck_assert_str_eq(waste->codes, "D001");
    ck_assert_near(waste->year, 36.5 * rho, BALANCE, "kg");
    ck_assert_ptr_null(dregs_tally_law_waste(law, 1));
    month = dregs_tally_law_month(law, 1);
    ck_assert_near(month->sure, 2.8 * rho, BALANCE, "February");
    ck_assert(month->open == 0 && month->least == DREGS_LAW_LQG);
    ck_assert_ptr_null(dregs_tally_law_month(law, DREGS_MONTHS));
    ck_assert_ptr_null(dregs_tally_law_machine(law, 0));
}
END_TEST

/* 95 % of the 10 L a day are blown off behind the vat, 9.5 L, and 0.5 L dry: 3467.5 and 182.5 L a
 * year, to drain by default, or into a catch tank. Every view says the same. */
START_TEST(blown_off_liquid_has_one_home)
{
    const int waste = _i;
    const dregs_tally_outline *o;
    const dregs_tally_law *law;
    const dregs_tally_plan *plan;
    const dregs_tally_waste *w = NULL;
    const dregs_tally_bought_liquid *own;
    dregs_purchases *purchases = NULL;
    char text[2048];
    double rho;
    unsigned i;

    snprintf(text, sizeof text, "%sair,kind,dry,\nair,temperature,20,degC\nair,blow-off,95,%%\n%s",
             vat, waste ? "air,blow-off to,waste,\n" : "");
    lines_free(lines[0]);
    lines[0] = lines_read(text);
    ck_assert_int_eq(dregs_tally_density_of(lines[0], 0, &rho), DREGS_OK);
    purchases = purchases_of(bought);
    question.purchases = purchases;
    question.law = 1;
    ask();
    o = dregs_tally_result_outline(result, 0, DREGS_WHOLE);
    ck_assert_near(o->blown_off, 3467.5 * LITRE, BALANCE, "blown off");
    ck_assert_near(o->to_drain + 1, (waste ? 0 : 3467.5) * LITRE + 1, BALANCE, "to drain");
    ck_assert_near(o->to_waste, (36500 + (waste ? 3467.5 : 0)) * LITRE, BALANCE, "to waste");
    ck_assert_near(o->dried, 182.5 * LITRE, BALANCE, "dried");
    ck_assert_near(o->cost, 44630 * 2 + (36500 + 3467.5) * 0.5, BALANCE, "disposed of either way");
    ck_assert_near(dregs_tally_result_outline(result, 0, 1)->to_waste,
                   28 * (100 + (waste ? 9.5 : 0)) * LITRE, BALANCE, "February");
    law = dregs_tally_result_law(result);
    plan = dregs_tally_law_plan(law, 0);
    ck_assert_near(plan->plan.o4, (4380 + 182.5) * LITRE * rho, BALANCE, "air");
    ck_assert_near(plan->plan.o2 + 1, (waste ? 0 : 3467.5 * LITRE * rho) + 1, BALANCE, "water");
    ck_assert_near(plan->plan.o6, o->to_waste * rho, BALANCE, "collected");
    for (i = 0; (w = dregs_tally_law_waste(law, i)) != NULL && w->stage == 0; i++) {
    }
    ck_assert_ptr_nonnull(w);
    ck_assert_int_eq(w->stream, waste ? DREGS_STREAM_COLLECTED : DREGS_STREAM_BLOWN_OFF);
    ck_assert_int_eq(w->drain, !waste);
    ck_assert_near(w->year, 3467.5 * LITRE * rho, BALANCE, "kg");
    own = dregs_tally_actual_liquid(dregs_tally_result_actual(result), 0);
    ck_assert_near(own->month[DREGS_TALLY_TAKEN_OUT][0].modelled,
                   31 * (100 + (waste ? 9.5 : 0)) * LITRE, BALANCE, "removed in January");
    dregs_tally_result_free(result);
    result = NULL;
    dregs_purchases_free(purchases);
}
END_TEST

START_TEST(facts_in_words)
{
    static const struct {
        const char *fact, *message;
    } bad[] = {
        {"characteristics=some", "characteristics: 'some' is none of none"},
        {"captured=90%", "captured: given twice"},
        {"captured=85%", "captured: given twice"},
        {"drain=river", "drain: given twice"},
        {"activity=river", "activity: 'river' is none of article 59(5), other"},
        {"destroyed=101%", "destroyed: '101%' is not from 0 % to 100 %"},
        {"chamber=0 L", "chamber: '0 L' is not from 1e-6 m3 to 1e6 m3"},
        {"vat.flash point=none", "vat.flash point: given twice"},
        {"pit.flash point=900degC", "flash point: '900degC' is not from -120 degC to 700 degC"},
        {"vat.listed=F006", "vat.listed: 'F006' is neither F001 to F005 nor none"},
        {"vat.listed=F01", "vat.listed: 'F01' is neither F001 to F005 nor none"},
        {"vat.characteristics=D001",
         "vat.characteristics: 'D001' is neither D002 to D043 nor none"},
        {"tub.listed=none", "tub.listed: given twice"},
    };
    char message[DREGS_SITE_MESSAGE];
    size_t i;

    ck_assert_int_eq(dregs_site_take(&site, "machine=new in-line", message), DREGS_OK);
    ck_assert_int_eq(site.machine, DREGS_SITE_IN_LINE_NEW);
    ck_assert_int_eq(dregs_site_take(&site, "drain=waste", message), DREGS_OK);
    ck_assert_int_eq(site.drain, DREGS_SITE_COLLECTED);
    ck_assert_int_eq(site.characteristics, DREGS_SITE_CHARACTERISTICS_UNKNOWN);
    ck_assert_int_eq(dregs_site_take(&site, "captured=85%", message), DREGS_OK);
    ck_assert_near(site.captured, 0.85, 1e-15, "share");
    ck_assert_int_eq(dregs_site_take(&site, "vat.flash point=18.5degC", message), DREGS_OK);
    ck_assert_str_eq(site.flash[0].stage, "vat");
    ck_assert_near(site.flash[0].kelvin, 291.65, 1e-14, "K");
    ck_assert_int_eq(dregs_site_take(&site, "tub.flash point=none", message), DREGS_OK);
    ck_assert(isinf(site.flash[1].kelvin));
    ck_assert_int_eq(dregs_site_take(&site, "tub.listed=F003", message), DREGS_OK);
    ck_assert_str_eq(site.listed[0].code, "F003");
    ck_assert_int_eq(dregs_site_take(&site, "tub.characteristics=D002", message), DREGS_OK);
    ck_assert_str_eq(site.trait[0].code, "D002");
    ck_assert_int_eq(dregs_site_take(&site, "colour=red", message), DREGS_UNKNOWN);
    for (i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        ck_assert_int_eq(dregs_site_take(&site, bad[i].fact, message), DREGS_BAD_DATA);
        ck_assert_str_eq(message, bad[i].message);
    }
    ck_assert_int_eq(dregs_site_take(&site, "drain=sewer", NULL), DREGS_BAD_DATA);
    ck_assert_near(site.captured, 0.85, 1e-15, "left as it was");
    ck_assert_int_eq(site.drain, DREGS_SITE_COLLECTED);
    ck_assert_int_eq(site.characteristics, DREGS_SITE_CHARACTERISTICS_UNKNOWN);
    ck_assert_int_eq(dregs_site_take(&site, "characteristics=none", message), DREGS_OK);
    ck_assert_int_eq(site.characteristics, DREGS_SITE_NO_CHARACTERISTICS);
}
END_TEST

START_TEST(purchases_beside_the_year)
{
    dregs_purchases *purchases = purchases_of(bought);
    const dregs_tally_actual *actual;
    const dregs_tally_bought_liquid *own;
    const dregs_tally_both *january;
    const dregs_tally_spread *spread;
    dregs_doubt_request asked;
    dregs_tally_doubt *doubt = NULL;

    question.purchases = purchases;
    ask();
    actual = dregs_tally_result_actual(result);
    ck_assert_uint_eq(dregs_tally_actual_covered(actual)->last, 2);
    ck_assert(!dregs_tally_actual_covered(actual)->full);
    own = dregs_tally_actual_liquid(actual, 0);
    january = &own->month[DREGS_TALLY_PUT_IN][0];
    ck_assert_near(january->modelled, 3.882, BALANCE, "100 + 31 x 122 L");
    ck_assert_near(january->unexplained.value, 0.018, 1e-7, "3900 - 3882 L");
    ck_assert(isnan(january->unexplained.sd_model)); /* without draws the spreads are not used */
    ck_assert(january->scatter);
    ck_assert_near(own->whole[DREGS_TALLY_TAKEN_OUT].modelled, 5.9, BALANCE, "59 dumps");
    dregs_doubt_request_init(&asked);
    ck_assert_int_eq(dregs_tally_doubt_ask(result, &asked, &doubt, NULL), DREGS_OK);
    own = dregs_tally_doubt_liquid(doubt, 0);
    january = &own->month[DREGS_TALLY_PUT_IN][0];
    /* the standard error of a standard deviation of n draws is 1 / sqrt(2 n) of it */
    ck_assert_near(january->unexplained.sd_model / (0.05e-3 * 744), 1, 4 / sqrt(2000.0),
                   "0.05 L/h over 744 h");
    ck_assert_near(own->whole[DREGS_TALLY_PUT_IN].unexplained.sd_model / (0.05e-3 * 1416), 1,
                   4 / sqrt(2000.0), "months move together");
    ck_assert(isnan(own->whole[DREGS_TALLY_TAKEN_OUT].unexplained.sd_model));
    /* the row that was used, and no other: exp(s - s^2/2) - 1 of a lognormal at z = 1 */
    spread = dregs_tally_doubt_spread(doubt, 0);
    ck_assert_str_eq(spread->property, "evaporation");
    ck_assert(spread->counted);
    ck_assert_near(spread->weight,
                   WEIGHED * 10 * (exp(sqrt(log(1.01)) - log(1.01) / 2) - 1) / (7.298 - 5.9), 1e-7,
                   "of the other losses");
    ck_assert_ptr_null(dregs_tally_doubt_spread(doubt, 1));
    dregs_tally_doubt_free(doubt);
    dregs_tally_result_free(result);
    result = NULL;
    question.year = 2024;
    refused(DREGS_OUT_OF_RANGE, "no row reaches the year 2024");
    dregs_purchases_free(purchases);
}
END_TEST

/* Both sides of each balance, and the outline against the streams. */
START_TEST(random_lines_close)
{
    struct lines_text text;
    unsigned i;

    lines_free(lines[0]);
    lines[0] = lines_random((uint64_t)_i, &text, NULL);
    question.span = (dregs_tally_request){DREGS_SPAN_LOADS, 57, 0};
    ask();
    for (i = 0; i < dregs_line_fluids(lines[0]); i++) {
        const dregs_tally *t = dregs_tally_result_line(result, 0)->tally;
        double in, out, bought_ = -dregs_tally_reclaimed(t, i, DREGS_WHOLE, DREGS_WHOLE);
        int s;
        dregs_tally_sides(t, DREGS_TALLY_VOLUMES, i, DREGS_WHOLE, DREGS_WHOLE, &in, &out);
        ck_assert_near(in, out, 1e-9, "liquid %u of line %d", i, _i);
        for (s = DREGS_STREAM_FILLED; s <= DREGS_STREAM_SPRAYED; s++)
            bought_ += dregs_tally_fluid(t, (dregs_stream)s, i, DREGS_WHOLE, DREGS_WHOLE);
        ck_assert_near(dregs_tally_bought(t, i, DREGS_WHOLE, DREGS_WHOLE), bought_, 1e-12,
                       "bought of %u of line %d", i, _i);
        for (s = 0; s < DREGS_STREAM_COUNT; s++) {
            double cell = dregs_tally_cell(t, DREGS_TALLY_VOLUMES, i, (dregs_stream)s, DREGS_WHOLE,
                                           DREGS_WHOLE);
            double is = dregs_tally_fluid(t, (dregs_stream)s, i, DREGS_WHOLE, DREGS_WHOLE);
            ck_assert(cell == is || (cell == 0 && fabs(is) <= 1e-12 * in));
        }
    }
}
END_TEST

START_TEST(what_is_refused)
{
    question.lines = 0;
    refused(DREGS_DOMAIN, "lines: 0 are not 1 to");
    question.lines = 1;
    question.law = 1;
    ck_assert_int_eq(dregs_site_take(&site, "vta.flash point=18degC", NULL), DREGS_OK);
    refused(DREGS_UNKNOWN, "'vta.flash point': the line has no such stage");
    question.law = 0;
    question.span = (dregs_tally_request){DREGS_SPAN_LOADS, 0, 0};
    refused(DREGS_DOMAIN, "span.loads: ");
    dregs_tally_question_init(&question);
    {
        char text[2048];
        snprintf(text, sizeof text, "%.*s", (int)(strlen(vat) - strlen(DAYS)), vat);
        lines_free(lines[0]);
        lines[0] = lines_read(text);
    }
    question.line = (const dregs_line *const *)lines;
    question.lines = 1;
    refused(DREGS_BAD_DATA, "the line has no schedule");
    question.span = (dregs_tally_request){DREGS_SPAN_LOADS, 5, 0};
    question.law = 1; /* all by month and year is asked for */
    ask();
    ck_assert_ptr_null(dregs_tally_law_year(dregs_tally_result_law(result)));
    ck_assert_ptr_null(dregs_tally_law_plan(dregs_tally_result_law(result), 0));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("answer_tally");
    TCase *c = tcase_create("answer_tally");

    tcase_add_checked_fixture(c, setup, teardown);
    tcase_add_test(c, a_year_in_outline);
    tcase_add_test(c, what_dominates);
    tcase_add_test(c, lines_side_by_side);
    tcase_add_test(c, changes_of_a_line);
    tcase_add_test(c, regulations_of_the_year);
    tcase_add_loop_test(c, blown_off_liquid_has_one_home, 0, 2);
    tcase_add_test(c, facts_in_words);
    tcase_add_test(c, purchases_beside_the_year);
    tcase_add_loop_test(c, random_lines_close, 0, 60);
    tcase_add_test(c, what_is_refused);
    suite_add_tcase(suite, c);
    return run(suite);
}
