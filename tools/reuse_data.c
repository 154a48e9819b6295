/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reuse_data.c: the answer of dregs-reuse as CSV (one row per reading) and as JSON. */
#include "json.h"
#include "reuse.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *const heard_names[] = {"used", "outlier", "alone", "unusable", "dump"};
static const char *const kind_names[] = {"first", "drag-out",     "soil",
                                         "flow",  "fresh liquid", "content"};

static void csv_number(double value)
{
    char text[DREGS_NUMBER_TEXT];

    if (isfinite(value))
        fputs(dregs_number_exact(text, value), stdout);
    putchar(',');
}

int reuse_page_csv(const struct reuse_pages *answer)
{
    char when[DREGS_TIME_TEXT + 4], name[160];
    const char *unit;
    size_t i;

    printf("line,time,stage,load,quantity,value,expected,unit,off,rows,state,regime\n");
    for (i = 0; i < dregs_readings_kept(answer->readings); i++) {
        const dregs_reading *r = dregs_readings_at(answer->readings, i);
        const dregs_heard_reading *h = dregs_reuse_heard(answer->result->reuse, i);
        int written = r->what == DREGS_MEASURED_DUMP ? -1 : (int)r->unit;
        double value = dregs_reading_shown(answer->readings, r->what, written, r->value, &unit);
        printf("%lu,%s,", r->line, log_time(answer->readings, r->time, when));
        csv_name(dregs_line_stage(answer->line, r->stage)->name);
        printf(",%lld,", (long long)r->at);
        csv_name(quantity_name(answer->line, r->what, r->which, name));
        putchar(',');
        csv_number(value);
        csv_number(dregs_reading_shown(answer->readings, r->what, written, h->expected, &unit));
        csv_name(r->what == DREGS_MEASURED_DUMP ? "" : unit);
        putchar(',');
        csv_number(h->off);
        printf("%u,%s,%u\n", r->rows, heard_names[h->heard],
               dregs_reuse_result_regime(answer->result, i));
    }
    return FRONT_DONE;
}

static void put_factor(int *failed, json_t *object, const char *key, const dregs_factor *factor,
                       double unit)
{
    json_t *made = json_object();

    json_put(failed, made, "best", json_number_or_null(factor->best * unit));
    json_put(failed, made, "low", json_number_or_null(factor->low * unit));
    json_put(failed, made, "high", json_number_or_null(factor->high * unit));
    json_put(failed, object, key, made);
}

static json_t *regime_json(int *failed, const struct reuse_pages *answer, unsigned index)
{
    const dregs_regime *regime = dregs_reuse_regime(answer->result->reuse, index);
    json_t *made = json_object();
    char name[160];

    json_put(failed, made, "changed", json_string(kind_names[regime->kind]));
    json_put(failed, made, "line",
             json_integer((json_int_t)dregs_readings_at(answer->readings, regime->first)->line));
    put_factor(failed, made, "drag-out", &regime->drag_out, 1);
    put_factor(failed, made, "soil", &regime->soil, 1);
    if (regime->kind == DREGS_REGIME_FIRST)
        return made;
    json_put(failed, made, "what",
             json_string(change_name(answer->line, (int)regime->kind, regime->which, name)));
    if (regime->kind == DREGS_REGIME_DIRTY)
        put_factor(failed, made, "more", &regime->of, MG_PER_L);
    else
        put_factor(failed, made, "factor", &regime->of, 1);
    json_put(failed, made, "noticed at line",
             json_integer((json_int_t)dregs_readings_at(answer->readings, regime->found)->line));
    json_put(failed, made, "or as well",
             regime->rival > DREGS_REGIME_FIRST
                 ? json_string(change_name(answer->line, regime->rival, regime->rival_which, name))
                 : json_null());
    return made;
}

static json_t *reading_json(int *failed, const struct reuse_pages *answer, unsigned stage)
{
    const dregs_dump_reading *at = &answer->result->outlook->at[stage];
    json_t *made = json_object();
    const char *unit;
    char name[160];
    double now = dregs_reading_shown(answer->readings, at->what, at->unit, at->now, &unit);

    json_put(failed, made, "stage", json_string(dregs_line_stage(answer->line, stage)->name));
    json_put(failed, made, "quantity",
             json_string(quantity_name(answer->line, at->what, at->which, name)));
    json_put(failed, made, "unit", json_string(unit));
    json_put(failed, made, "now", json_number_or_null(now));
    json_put(failed, made, "dump at",
             at->known ? json_number_or_null(dregs_reading_shown(answer->readings, at->what,
                                                                 at->unit, at->value, &unit))
                       : json_null());
    json_put(failed, made, "dissolved",
             at->known ? json_number_or_null(at->dissolved * MG_PER_L) : json_null());
    json_put(failed, made, "temperature",
             at->what == DREGS_MEASURED_CONDUCTIVITY
                 ? json_real(isnan(at->temperature) ? 25.0 : at->temperature - 273.15)
                 : json_null());
    return made;
}

static void append(int *failed, json_t *array, json_t *value)
{
    if (!value || json_array_append_new(array, value))
        *failed = 1;
}

static void put_log(int *failed, json_t *top, const struct reuse_pages *answer)
{
    const dregs_readings_count *c = dregs_readings_counted(answer->readings);
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(answer->result->reuse);
    json_t *made = json_object(), *outliers = json_array();
    size_t i;

    json_put(failed, made, "rows", json_integer((json_int_t)c->rows));
    json_put(failed, made, "used", json_integer((json_int_t)basis->used));
    json_put(failed, made, "dumps", json_integer((json_int_t)c->dumps));
    json_put(failed, made, "missing", json_integer((json_int_t)c->missing));
    json_put(failed, made, "duplicate", json_integer((json_int_t)c->duplicate));
    json_put(failed, made, "out of order", json_integer((json_int_t)c->late));
    json_put(failed, made, "count fell", json_integer((json_int_t)c->went_back));
    json_put(failed, made, "count went on", json_integer((json_int_t)c->went_on));
    json_put(failed, made, "unusable", json_integer((json_int_t)basis->unusable));
    json_put(failed, made, "let go", json_integer((json_int_t)c->gone));
    for (i = 0; i < dregs_readings_kept(answer->readings); i++) {
        dregs_heard heard = dregs_reuse_heard(answer->result->reuse, i)->heard;
        if (heard == DREGS_HEARD_OUTLIER || heard == DREGS_HEARD_ALONE)
            append(failed, outliers,
                   json_integer((json_int_t)dregs_readings_at(answer->readings, i)->line));
    }
    json_put(failed, made, "lines set aside", outliers);
    json_put(failed, top, "log", made);
}

static void put_notes(int *failed, json_t *top, const struct reuse_pages *answer)
{
    dregs_caution cautions[DREGS_CAUTIONS_MOST];
    unsigned count = dregs_cautions(answer->line, cautions), i;
    json_t *assumed = json_array(), *list = json_array();
    const char *note;

    for (i = 0; (note = dregs_reuse_assumed(answer->result->reuse, i)) != NULL; i++)
        append(failed, assumed, json_string(note));
    for (i = 0; (note = dregs_line_assumed(answer->line, i)) != NULL; i++)
        append(failed, assumed, json_string(note));
    for (i = 0; i < count; i++) {
        json_t *object = json_object();
        json_put(failed, object, "id", json_string(cautions[i].rule->id));
        json_put(failed, object, "source", json_string(cautions[i].rule->source));
        json_put(failed, object, "text", json_string(cautions[i].text));
        append(failed, list, object);
    }
    json_put(failed, top, "assumed", assumed);
    json_put(failed, top, "cautions", list);
    json_put(failed, top, "deference", json_string(dregs_caution_deference()));
}

static json_t *loads_json(uint64_t loads)
{
    return loads == DREGS_REUSE_LOADS_MOST ? json_null() : json_integer((json_int_t)loads);
}

static void put_answer(int *failed, json_t *top, const struct reuse_pages *answer)
{
    const dregs_reuse_outlook *a = answer->result->outlook;
    char text[400];

    verdict_text(answer, text, sizeof text);
    json_put(failed, top, "line", json_string(dregs_line_name(answer->line)));
    json_put(failed, top, "readings", json_string(dregs_readings_name(answer->readings)));
    json_put(failed, top, "answer", json_string(text));
    json_put(failed, top, "use again", json_boolean(answer->result->use_again));
    json_put(failed, top, "loads", loads_json(a->loads));
    json_put(failed, top, "loads low", loads_json(a->low));
    json_put(failed, top, "loads high", loads_json(a->high));
    json_put(failed, top, "next", json_number_or_null(a->next * UG_PER_CM2));
    json_put(failed, top, "next low", json_number_or_null(a->next_low * UG_PER_CM2));
    json_put(failed, top, "next high", json_number_or_null(a->next_high * UG_PER_CM2));
    json_put(failed, top, "limit", json_number_or_null(a->limit * UG_PER_CM2));
    json_put(failed, top, "stage to dump",
             a->stage < 0 ? json_null()
                          : json_string(dregs_line_stage(answer->line, (unsigned)a->stage)->name));
    json_put(failed, top, "since", a->stage < 0 ? json_null() : json_integer((json_int_t)a->since));
    json_put(failed, top, "after dump",
             a->stage < 0 ? json_null() : json_number_or_null(a->after_dump * UG_PER_CM2));
    json_put(failed, top, "fill", a->stage < 0 ? json_null() : loads_json(a->fill));
    json_put(failed, top, "fill of all", a->stage < 0 ? json_null() : loads_json(a->fill_all));
    json_put(failed, top, "confidence", json_number_or_null(a->confidence));
}

static void put_units(int *failed, json_t *top)
{
    json_t *units = json_object();

    json_put(failed, units, "next", json_string("ug/cm2"));
    json_put(failed, units, "limit", json_string("ug/cm2"));
    json_put(failed, units, "after dump", json_string("ug/cm2"));
    json_put(failed, units, "more", json_string("mg/L"));
    json_put(failed, units, "dissolved", json_string("mg/L"));
    json_put(failed, units, "temperature", json_string("degC"));
    json_put(failed, top, "units", units);
}

static int dump_json(json_t *top, int failed)
{
    if (!failed)
        failed = json_dumpf(top, stdout, JSON_INDENT(2)) != 0;
    json_decref(top);
    putchar('\n');
    return failed ? front_say(FRONT_IO, "out of memory") : FRONT_DONE;
}

int reuse_page_json(const struct reuse_pages *answer)
{
    json_t *top = json_object(), *readings = json_array(), *regimes = json_array();
    int failed = 0;
    unsigned i;

    put_answer(&failed, top, answer);
    for (i = 0; i < dregs_line_stages(answer->line); i++)
        if (dregs_line_stage(answer->line, i)->tank >= 0)
            append(&failed, readings, reading_json(&failed, answer, i));
    for (i = 0; i < dregs_reuse_regimes(answer->result->reuse); i++)
        append(&failed, regimes, regime_json(&failed, answer, i));
    json_put(&failed, top, "meters", readings);
    json_put(&failed, top, "regimes", regimes);
    put_log(&failed, top, answer);
    put_units(&failed, top);
    put_notes(&failed, top, answer);
    return dump_json(top, failed);
}

int stopped_page_json(const struct reuse_pages *answer)
{
    const dregs_stopped_flow *m = &answer->stopped->measured;
    json_t *top = json_object(), *units = json_object();
    int failed = 0;

    json_put(&failed, top, "item", json_string(dregs_line_stage(answer->line, m->from)->name));
    json_put(&failed, top, "property", json_string("drag-out"));
    json_put(&failed, top, "drag-out", json_number_or_null(m->thickness * ML));
    json_put(&failed, top, "spread", json_number_or_null(m->sd * ML));
    json_put(&failed, top, "carried", json_number_or_null(m->carried * ML));
    json_put(&failed, top, "factor", json_number_or_null(m->factor));
    json_put(&failed, top, "read in", json_string(dregs_line_stage(answer->line, m->stage)->name));
    json_put(&failed, top, "loads", json_integer((json_int_t)m->loads));
    json_put(&failed, top, "fraction", json_number_or_null(m->fraction));
    json_put(&failed, top, "shortcut", json_number_or_null(m->shortcut * ML));
    json_put(&failed, units, "drag-out", json_string("mL/m2"));
    json_put(&failed, units, "spread", json_string("mL/m2"));
    json_put(&failed, units, "carried", json_string("mL"));
    json_put(&failed, units, "shortcut", json_string("mL"));
    json_put(&failed, top, "units", units);
    json_put(&failed, top, "readings used", json_integer((json_int_t)m->used));
    json_put(&failed, top, "readings set aside", json_integer((json_int_t)m->outliers));
    return dump_json(top, failed);
}
