/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_law_page.c: what regulations ask of the line, on the pages. Each result stands with its
 * jurisdiction, citation, date and evidence.
 */
#include "json.h"
#include "page.h"
#include "tally.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *const plan_names[] = {"I1", "I2", "O1", "O2", "O3", "O4",
                                         "O5", "O6", "O7", "O8", "O9"};
static const char *const plan_words[] = {"bought and used",
                                         "recovered and used again",
                                         "in waste gases",
                                         "lost in water",
                                         "left on products",
                                         "uncaptured, to air",
                                         "destroyed or bound",
                                         "in collected waste",
                                         "sold",
                                         "recovered for use elsewhere",
                                         "released otherwise"};
enum { PLAN_STREAMS = 11 };

static double plan_stream(const dregs_law_plan *p, unsigned index)
{
    const double streams[PLAN_STREAMS] = {p->i1, p->i2, p->o1, p->o2, p->o3, p->o4,
                                          p->o5, p->o6, p->o7, p->o8, p->o9};

    return streams[index];
}

static const char *activity_words(dregs_law_activity activity)
{
    return activity == DREGS_LAW_CLEANING_59_5 ? "cleaning with compounds of article 59(5)"
                                               : "other surface cleaning";
}

/* A text broken over lines, indented by `indent`, its further lines by two more. */
static void say(int indent, const char *text)
{
    printf("%*s", indent, "");
    wrapped(text, indent, indent + 2);
}

/* "EU, Directive ..., 2010-11-24 (read)" */
static void cite(int indent, dregs_law_rule rule)
{
    const dregs_law *law = dregs_law_at(rule);
    char text[400];

    snprintf(text, sizeof text, "[%s: %s, %s (%s)]", law->jurisdiction, law->citation,
             law->status_date, law->evidence);
    say(indent, text);
}

static const char assumed_of_wastes[] =
    "assumed: soil and other solutes do not make a waste ignitable, and its composition is the "
    "mean of the year";

/* ---- text ---- */

static void text_solvent(const dregs_tally_solvent_law *s)
{
    struct numbers n = {0};
    char text[512];

    snprintf(text, sizeof text, "%s: US %s%s; EU %s, %s kPa at 293.15 K; %s%s", s->name,
             s->voc ? s->voc->code : "VOC or exempt is not on record",
             !s->voc                                 ? ""
             : strcmp(s->voc->evidence, "read") == 0 ? " (read)"
                                                     : " (from memory)",
             s->eu_voc == 1   ? "VOC"
             : s->eu_voc == 0 ? "no VOC by its vapour pressure"
                              : "not decided",
             isnan(s->vapour_pressure) ? "no pressure" : number(&n, s->vapour_pressure / 1e3),
             s->pollutant ? (strcmp(s->pollutant->code, "HAP") == 0 ? "hazardous air pollutant"
                                                                    : "no hazardous air pollutant")
                          : "hazardous air pollutant or not is not on record",
             s->pollutant ? " (US)" : "");
    say(4, text);
}

static void text_solvents(const dregs_tally_law *law)
{
    const dregs_tally_solvent_law *s;
    unsigned i;

    printf("  volatile organic compounds\n");
    for (i = 0; (s = dregs_tally_law_solvent(law, i)) != NULL; i++)
        text_solvent(s);
    if (!i)
        printf("    none: the liquids are water\n");
    cite(4, DREGS_LAW_US_VOC);
    cite(4, DREGS_LAW_EU_VOC);
}

static void text_sums(const dregs_tally_law *law)
{
    const dregs_tally_potential *all = dregs_tally_law_potential(law);
    struct numbers n = {0};
    char text[200];

    snprintf(text, sizeof text,
             "together VOC %s kg, hazardous air pollutants %s kg; what is not on record counts as "
             "both",
             isnan(all->voc) ? "unknown" : number(&n, all->voc),
             isnan(all->pollutants) ? "unknown" : number(&n, all->pollutants));
    say(4, text);
}

static void text_potential(const dregs_tally_law *law)
{
    const dregs_tally_solvent_law *s;
    struct numbers n;
    unsigned i;
    char text[400];

    for (i = 0; (s = dregs_tally_law_solvent(law, i)) != NULL; i++) {
        if (!i)
            printf("  potential to emit, 8760 h a year\n");
        n.next = 0;
        snprintf(text, sizeof text, "%s: %s kg a year at the line's own rate", s->name,
                 isnan(s->potential) ? "unknown" : number(&n, s->potential));
        if (!isnan(s->emitted))
            snprintf(text + strlen(text), sizeof text - strlen(text), " (%s kg as scheduled)",
                     number(&n, s->emitted));
        if (!isnan(s->cold))
            snprintf(text + strlen(text), sizeof text - strlen(text),
                     "; %s kg by the rule for cold cleaners, %s m2 open, lids not counted",
                     number(&n, s->cold), number(&n, s->open_area));
        say(4, text);
    }
    if (!i)
        return;
    text_sums(law);
    cite(4, DREGS_LAW_US_POTENTIAL);
    cite(4, DREGS_LAW_US_COLD_LOSS);
}

static void text_band(const dregs_tally_plan *plan, unsigned k)
{
    const dregs_law_band *band = &plan->band[k];
    struct numbers n = {0};
    char text[400];

    if (plan->met[k] == DREGS_LAW_EXCLUDED) {
        snprintf(text, sizeof text, "%s: below the threshold of %s kg a year, no limit from here",
                 activity_words((dregs_law_activity)k), number(&n, band->up_to));
    } else {
        snprintf(text, sizeof text,
                 "%s: above %s kg a year the limit is %s %%: %s; in waste gases %s mg/m3%s",
                 activity_words((dregs_law_activity)k), number(&n, band->above),
                 number(&n, band->fugitive * 100),
                 plan->met[k] == DREGS_LAW_YES  ? "met"
                 : plan->met[k] == DREGS_LAW_NO ? "MISSED"
                                                : "not decided, see what is asked for",
                 number(&n, band->waste_gas * 1e6),
                 band->waste_gas_carbon ? " as carbon" : " as compounds");
    }
    say(6, text);
}

static void text_plan(const dregs_tally_law *law, const dregs_tally_plan *plan)
{
    const dregs_tally_solvent_law *s;
    struct numbers n;
    unsigned i, shown = 0;
    char text[400] = "";

    for (i = 0; (s = dregs_tally_law_solvent(law, i)) != NULL; i++)
        if (s->plan == (int)plan->number)
            snprintf(text + strlen(text), sizeof text - strlen(text), "%s%s", shown++ ? ", " : "",
                     s->name);
    say(4, text);
    for (i = 0; i < PLAN_STREAMS; i++) {
        double mass = plan_stream(&plan->plan, i);
        n.next = 0;
        if (mass == 0 && i != 0)
            continue;
        printf("      %s ", plan_names[i]);
        cell(plan_words[i], 30);
        cell(number(&n, mass), -12);
        printf(" kg\n");
    }
    n.next = 0;
    snprintf(text, sizeof text,
             "consumption %s kg, input %s kg; fugitive %s%s kg, %s %% of the input",
             number(&n, plan->result.consumption), number(&n, plan->result.input),
             plan->bound ? "at most " : "", number(&n, plan->result.fugitive),
             number(&n, plan->result.share * 100));
    say(6, text);
    if (!plan->activity_known && plan->met[0] == DREGS_LAW_EXCLUDED &&
        plan->met[1] == DREGS_LAW_EXCLUDED) {
        say(6, "below the thresholds of all surface cleaning: no limit from here");
        return;
    }
    for (i = 0; i < 2; i++)
        if (!plan->activity_known || plan->activity == i)
            text_band(plan, i);
}

static void text_plans(const dregs_tally_law *law)
{
    const dregs_tally_plan *plan;
    unsigned i;

    for (i = 0; (plan = dregs_tally_law_plan(law, i)) != NULL; i++) {
        if (!i)
            printf("  solvent plan of a year\n");
        text_plan(law, plan);
    }
    if (!i)
        return;
    cite(4, DREGS_LAW_EU_PLAN);
    cite(4, DREGS_LAW_EU_BANDS);
}

static void text_machine(const dregs_tally_law *law, const dregs_tally_machine *m)
{
    const char *unit = dregs_tally_law_site(law)->machine == DREGS_SITE_NO_INTERFACE
                           ? "kg a month"
                           : "kg/(m2 month)";
    struct numbers n = {0};
    char text[400];

    if (isnan(m->worst)) {
        snprintf(text, sizeof text, "%s: not known without its open area", m->solvent->name);
    } else if (isnan(m->limit)) {
        snprintf(text, sizeof text, "%s: %s %s in the worst three months%s", m->solvent->name,
                 number(&n, m->worst), unit,
                 dregs_tally_law_site(law)->machine == DREGS_SITE_MACHINE_UNKNOWN
                     ? "; the limits are 150, 153 and 99 by the kind of machine"
                     : "");
    } else {
        snprintf(text, sizeof text, "%s: %s %s in the worst three months, the limit is %s: %s",
                 m->solvent->name, number(&n, m->worst), unit, number(&n, m->limit),
                 m->met == DREGS_LAW_YES  ? "met"
                 : m->met == DREGS_LAW_NO ? "MISSED"
                                          : "not decided, see what is asked for");
    }
    say(4, text);
}

static void text_machines(const dregs_tally_law *law)
{
    const dregs_tally_machine *machine;
    unsigned i;

    if (!dregs_tally_law_solvent(law, 0) || !dregs_tally_law_year(law))
        return;
    printf("  halogenated solvent cleaning machines\n");
    for (i = 0; (machine = dregs_tally_law_machine(law, i)) != NULL; i++)
        text_machine(law, machine);
    if (!i)
        say(4, "does not apply: none of the six solvents of the subpart is in the line");
    else if (dregs_tally_law_site(law)->machine == DREGS_SITE_BATCH_COLD)
        say(4, "the limits are not those of batch cold machines, which have rules of work instead "
               "(40 CFR 63.462, from memory)");
    cite(4, dregs_tally_law_site(law)->machine == DREGS_SITE_NO_INTERFACE
                ? DREGS_LAW_US_NO_INTERFACE
                : DREGS_LAW_US_MACHINE);
}

static const char *verdict_words(const dregs_tally_waste *w)
{
    if (w->hazardous == DREGS_LAW_YES)
        return "hazardous";
    if (w->hazardous == DREGS_LAW_ASK)
        return "not decided, see what is asked for";
    if (w->ignitable == DREGS_LAW_EXCLUDED)
        return "not ignitable: aqueous, less than 24 % alcohol by volume; not listed";
    return "neither ignitable nor listed";
}

static void text_waste(const dregs_tally_law *law, const dregs_tally_waste *w)
{
    struct numbers n = {0};
    char text[512];

    snprintf(text, sizeof text, "%s %s: %s kg a year", w->leaves,
             dregs_line_stage(dregs_tally_line(dregs_tally_law_around(law)), w->stage)->name,
             isnan(w->year) ? "unknown" : number(&n, w->year));
    if (w->back_year > 0)
        snprintf(text + strlen(text), sizeof text - strlen(text), ", of it %s kg reclaimed",
                 number(&n, w->back_year));
    snprintf(text + strlen(text), sizeof text - strlen(text), "; ");
    if (!isnan(w->flash))
        snprintf(text + strlen(text), sizeof text - strlen(text), "flash point %s degC (%s%s); ",
                 number(&n, w->flash - 273.15), strcmp(w->flash_from, "stated") == 0 ? "" : "of ",
                 w->flash_from);
    snprintf(text + strlen(text), sizeof text - strlen(text), "%s%s%s", verdict_words(w),
             *w->codes ? ": " : "", w->codes);
    say(4, text);
}

static void text_months(const dregs_tally_law *law)
{
    struct numbers n;
    unsigned p;

    printf("  waste generator by month%s\n",
           isnan(dregs_tally_law_site(law)->other_waste) ? ", of this line alone" : "");
    for (p = 0; p < DREGS_MONTHS; p++) {
        const dregs_tally_waste_month *m = dregs_tally_law_month(law, p);
        n.next = 0;
        printf("    ");
        cell(tally_month_name(p), 10);
        cell(number(&n, m->sure), -12);
        printf(" kg");
        if (m->open != 0) {
            if (isnan(m->open))
                printf(" and an unknown mass");
            else
                printf(" and %s kg not decided", number(&n, m->open));
        }
        printf("  %s%s%s\n", dregs_law_generator_name(m->least), m->least == m->most ? "" : " to ",
               m->least == m->most ? "" : dregs_law_generator_name(m->most));
    }
    cite(4, DREGS_LAW_US_GENERATOR);
}

static void text_wastes(const dregs_tally_law *law)
{
    const dregs_tally_waste *waste;
    unsigned i;

    for (i = 0; (waste = dregs_tally_law_waste(law, i)) != NULL; i++) {
        if (!i)
            printf("  hazardous waste\n");
        text_waste(law, waste);
    }
    if (!i)
        return;
    say(4, assumed_of_wastes);
    cite(4, DREGS_LAW_US_IGNITABLE);
    cite(4, DREGS_LAW_US_LISTED);
    text_months(law);
}

void tally_law_text(const struct tally_page *page)
{
    const dregs_tally_law *law = dregs_tally_result_law(page->answer);
    unsigned i;

    if (!law)
        return;
    printf("\nregulations\n");
    text_solvents(law);
    text_plans(law);
    text_machines(law);
    text_potential(law);
    text_wastes(law);
    for (i = 0; dregs_tally_law_asked(law, i); i++) {
        if (!i)
            printf("  asked for, because the file does not tell it\n");
        say(4, dregs_tally_law_asked(law, i));
    }
    say(2, dregs_regulations_deference());
}

/* ---- rows: stream,liquid,solute,period,value,unit ---- */

static void row(const char *stream, const char *liquid, const char *period, double value,
                const char *unit)
{
    char text[DREGS_NUMBER_TEXT];

    csv_name(stream);
    putchar(',');
    csv_name(liquid);
    printf(",,%s,%s,%s\n", period, dregs_number_exact(text, value), unit);
}

static void csv_plan(const dregs_tally_plan *plan)
{
    const char *activity =
        plan->activity_known ? activity_words(plan->activity) : "surface cleaning";
    char name[64];
    unsigned i;

    for (i = 0; i < PLAN_STREAMS; i++) {
        snprintf(name, sizeof name, "solvent plan %s", plan_names[i]);
        row(name, activity, "year", plan_stream(&plan->plan, i), "kg");
    }
    row("solvent plan consumption", activity, "year", plan->result.consumption, "kg");
    row("solvent plan fugitive", activity, "year", plan->result.fugitive, "kg");
    row("solvent plan fugitive share", activity, "year", plan->result.share, "1");
}

static void csv_machine(const dregs_tally_law *law, const dregs_tally_machine *m)
{
    const char *unit =
        dregs_tally_law_site(law)->machine == DREGS_SITE_NO_INTERFACE ? "kg" : "kg/m2";
    unsigned p;

    for (p = 0; p < DREGS_MONTHS; p++) {
        row("machine emission", m->solvent->name, tally_month_name(p), m->month[p], unit);
        if (p >= 2)
            row("machine emission over three months", m->solvent->name, tally_month_name(p),
                m->rolling[p], unit);
    }
    row("machine limit", m->solvent->name, "month", m->limit, unit);
}

void tally_law_csv(const struct tally_page *page)
{
    const dregs_tally_law *law = dregs_tally_result_law(page->answer);
    const dregs_tally_solvent_law *s;
    const dregs_tally_waste_month *m;
    unsigned i;

    for (i = 0; law && (s = dregs_tally_law_solvent(law, i)) != NULL; i++) {
        row("potential to emit", s->name, "year", s->potential, "kg");
        if (isfinite(s->cold)) /* no open tank: no such loss */
            row("cold cleaner loss in 8760 h", s->name, "year", s->cold, "kg");
    }
    for (i = 0; law && dregs_tally_law_plan(law, i); i++)
        csv_plan(dregs_tally_law_plan(law, i));
    for (i = 0; law && dregs_tally_law_machine(law, i); i++)
        csv_machine(law, dregs_tally_law_machine(law, i));
    for (i = 0; law && (m = dregs_tally_law_month(law, i)) != NULL; i++) {
        row("hazardous waste", "", tally_month_name(i), m->sure, "kg");
        row("waste not decided", "", tally_month_name(i), m->open, "kg");
    }
}

/* ---- JSON ---- */

static json_t *text_or_null(const char *text)
{
    return text ? json_string(text) : json_null();
}

static void append(int *failed, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value))
        *failed = 1;
}

static json_t *json_months(const double *month, int *failed)
{
    json_t *array = json_array();
    unsigned p;

    for (p = 0; p < DREGS_MONTHS; p++)
        append(failed, array, json_number_or_null(month[p]));
    return array;
}

static json_t *json_solvent(const dregs_tally_solvent_law *s, int *failed)
{
    json_t *o = json_object();

    json_put(failed, o, "liquid", json_string(s->name));
    json_put(failed, o, "us voc", text_or_null(s->voc ? s->voc->code : NULL));
    json_put(failed, o, "us air pollutant", text_or_null(s->pollutant ? s->pollutant->code : NULL));
    json_put(failed, o, "us waste code", text_or_null(s->listed ? s->listed->code : NULL));
    json_put(failed, o, "eu voc", s->eu_voc < 0 ? json_null() : json_boolean(s->eu_voc));
    json_put(failed, o, "vapour pressure", json_number_or_null(s->vapour_pressure));
    json_put(failed, o, "emitted", json_number_or_null(s->emitted));
    json_put(failed, o, "potential to emit", json_number_or_null(s->potential));
    json_put(failed, o, "cold cleaner loss", json_number_or_null(s->cold));
    return o;
}

static json_t *json_verdict(dregs_law_verdict verdict)
{
    static const char *const words[] = {"no", "yes", "excluded", "ask"};

    return json_string(words[verdict]);
}

static json_t *json_plan(const dregs_tally_plan *plan, int *failed)
{
    json_t *o = json_object(), *limits = json_array();
    unsigned i;

    for (i = 0; i < PLAN_STREAMS; i++)
        json_put(failed, o, plan_names[i], json_number_or_null(plan_stream(&plan->plan, i)));
    json_put(failed, o, "consumption", json_number_or_null(plan->result.consumption));
    json_put(failed, o, "input", json_number_or_null(plan->result.input));
    json_put(failed, o, "fugitive", json_number_or_null(plan->result.fugitive));
    json_put(failed, o, "fugitive share", json_number_or_null(plan->result.share));
    json_put(failed, o, "at most", json_boolean(plan->bound));
    for (i = 0; i < 2; i++) {
        json_t *limit = json_object();
        if (plan->activity_known && plan->activity != i) {
            json_decref(limit);
            continue;
        }
        json_put(failed, limit, "activity", json_string(activity_words((dregs_law_activity)i)));
        json_put(failed, limit, "fugitive share", json_number_or_null(plan->band[i].fugitive));
        json_put(failed, limit, "met",
                 plan->met[i] == DREGS_LAW_EXCLUDED ? json_string("below the threshold")
                                                    : json_verdict(plan->met[i]));
        append(failed, limits, limit);
    }
    json_put(failed, o, "limits", limits);
    return o;
}

static json_t *json_machine(const dregs_tally_machine *m, int *failed)
{
    json_t *o = json_object();

    json_put(failed, o, "liquid", json_string(m->solvent->name));
    json_put(failed, o, "months", json_months(m->month, failed));
    json_put(failed, o, "three months", json_months(m->rolling, failed));
    json_put(failed, o, "limit", json_number_or_null(m->limit));
    json_put(failed, o, "met", json_verdict(m->met));
    return o;
}

static json_t *json_waste(const dregs_tally_law *law, const dregs_tally_waste *w, int *failed)
{
    json_t *o = json_object();

    json_put(failed, o, "stage",
             json_string(
                 dregs_line_stage(dregs_tally_line(dregs_tally_law_around(law)), w->stage)->name));
    json_put(failed, o, "stream", json_string(dregs_stream_name(w->stream)));
    json_put(failed, o, "mass", json_number_or_null(w->year));
    json_put(failed, o, "reclaimed", json_number_or_null(w->back_year));
    json_put(failed, o, "months", json_months(w->month, failed));
    json_put(failed, o, "flash point", json_number_or_null(w->flash - 273.15));
    json_put(failed, o, "ignitable", json_verdict(w->ignitable));
    json_put(failed, o, "listed", json_verdict(w->listed));
    json_put(failed, o, "hazardous", json_verdict(w->hazardous));
    json_put(failed, o, "codes", json_string(w->codes));
    return o;
}

static json_t *json_month(const dregs_tally_waste_month *m, int *failed)
{
    json_t *o = json_object();

    json_put(failed, o, "hazardous", json_number_or_null(m->sure));
    json_put(failed, o, "not decided", json_number_or_null(m->open));
    json_put(failed, o, "least", json_string(dregs_law_generator_name(m->least)));
    json_put(failed, o, "most", json_string(dregs_law_generator_name(m->most)));
    return o;
}

static json_t *json_rules(int *failed)
{
    json_t *array = json_array();
    unsigned i;

    for (i = 0; i < DREGS_LAW_RULES; i++) {
        const dregs_law *rule = dregs_law_at((dregs_law_rule)i);
        json_t *o = json_object();
        json_put(failed, o, "id", json_string(rule->id));
        json_put(failed, o, "jurisdiction", json_string(rule->jurisdiction));
        json_put(failed, o, "rule", json_string(rule->rule));
        json_put(failed, o, "citation", json_string(rule->citation));
        json_put(failed, o, "status date", json_string(rule->status_date));
        json_put(failed, o, "evidence", json_string(rule->evidence));
        append(failed, array, o);
    }
    return array;
}

json_t *tally_law_json(const struct tally_page *page, int *failed)
{
    const dregs_tally_law *law = dregs_tally_result_law(page->answer);
    json_t *o = json_object(), *solvents = json_array(), *plans = json_array(),
           *machines = json_array(), *wastes = json_array(), *months = json_array(),
           *asked = json_array();
    unsigned i;

    for (i = 0; dregs_tally_law_solvent(law, i); i++)
        append(failed, solvents, json_solvent(dregs_tally_law_solvent(law, i), failed));
    for (i = 0; dregs_tally_law_plan(law, i); i++)
        append(failed, plans, json_plan(dregs_tally_law_plan(law, i), failed));
    for (i = 0; dregs_tally_law_machine(law, i); i++)
        append(failed, machines, json_machine(dregs_tally_law_machine(law, i), failed));
    for (i = 0; dregs_tally_law_waste(law, i); i++)
        append(failed, wastes, json_waste(law, dregs_tally_law_waste(law, i), failed));
    for (i = 0; dregs_tally_law_month(law, i); i++)
        append(failed, months, json_month(dregs_tally_law_month(law, i), failed));
    for (i = 0; dregs_tally_law_asked(law, i); i++)
        append(failed, asked, json_string(dregs_tally_law_asked(law, i)));
    json_put(failed, o, "solvents", solvents);
    json_put(failed, o, "eu solvent plans", plans);
    json_put(failed, o, "us solvent machines", machines);
    json_put(failed, o, "wastes", wastes);
    json_put(failed, o, "waste months", months);
    json_put(failed, o, "asked", asked);
    if (dregs_tally_law_waste(law, 0))
        json_put(failed, o, "assumed", json_string(assumed_of_wastes));
    json_put(failed, o, "rules", json_rules(failed));
    json_put(failed, o, "who decides", json_string(dregs_regulations_deference()));
    return o;
}

/* ---- the working ---- */

static void explain_plan(const dregs_tally_plan *plan)
{
    const dregs_law_plan *p = &plan->plan;
    struct numbers n = {0};

    printf("    fugitive = I1 - O1 - O5 - O6 - O7 - O8 = %s - %s - %s - %s - %s - %s = %s kg\n",
           number(&n, p->i1), number(&n, p->o1), number(&n, p->o5), number(&n, p->o6),
           number(&n, p->o7), number(&n, p->o8), number(&n, plan->result.fugitive));
    n.next = 0;
    printf("    and O2 + O3 + O4 + O9 = %s + %s + %s + %s = %s kg\n", number(&n, p->o2),
           number(&n, p->o3), number(&n, p->o4), number(&n, p->o9),
           number(&n, plan->result.fugitive_direct));
}

static void explain_waste(const dregs_tally_law *law, const dregs_tally_waste *w)
{
    struct numbers n = {0};

    printf("    %s %s: alcohol %s by volume, water %s by mass, of its liquids; solutes count in "
           "its mass only\n",
           w->leaves,
           dregs_line_stage(dregs_tally_line(dregs_tally_law_around(law)), w->stage)->name,
           isnan(w->alcohol) ? "unknown" : number(&n, w->alcohol),
           isnan(w->water) ? "unknown" : number(&n, w->water));
}

static void explain_machine(const dregs_tally_law *law, const dregs_tally_machine *m)
{
    double solid = dregs_tally_law_site(law)->solid_waste;
    struct numbers n = {0};

    printf("    %s: E = (SA - LSR - SSR) / area, area %s m2, SSR %s kg a month\n", m->solvent->name,
           number(&n, m->area), isnan(solid) ? "not given, 0" : number(&n, solid));
}

static void explain_rules(void)
{
    unsigned i;

    for (i = 0; i < DREGS_LAW_RULES; i++) {
        const dregs_law *rule = dregs_law_at((dregs_law_rule)i);
        char text[900];
        snprintf(text, sizeof text, "%s: %s [%s: %s, %s (%s)]", rule->id, rule->rule,
                 rule->jurisdiction, rule->citation, rule->status_date, rule->evidence);
        say(4, text);
    }
}

void tally_law_explain(const struct tally_page *page)
{
    const dregs_tally_law *law = dregs_tally_result_law(page->answer);
    struct numbers n = {0};
    unsigned i;

    if (!law)
        return;
    tally_law_text(page);
    printf("\n  the working: masses are volumes of the tally times densities at 20 degC\n");
    if (dregs_tally_law_year(law))
        printf("    I1 and added (SA) = first fill + fed + top-up + refills + sprayed + held first "
               "- held last;\n    of I1, O2 and O6 what is reclaimed is taken off, and is I2\n    "
               "air = evaporated + dried; drain = drained + runoff + blown off to drain; "
               "waste = dumped + blown off to waste\n");
    for (i = 0; dregs_tally_law_plan(law, i); i++)
        explain_plan(dregs_tally_law_plan(law, i));
    for (i = 0; dregs_tally_law_machine(law, i); i++)
        explain_machine(law, dregs_tally_law_machine(law, i));
    printf("    potential to emit = (evaporated + dried) of %s loads without a pause, per second, "
           "times 8760 h;\n    never less than as scheduled\n",
           number(&n, (double)dregs_tally_loads(dregs_tally_law_around(law), DREGS_WHOLE)));
    for (i = 0; dregs_tally_law_waste(law, i); i++)
        explain_waste(law, dregs_tally_law_waste(law, i));
    explain_rules();
}
