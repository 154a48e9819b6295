/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_json.c: the same values as page_csv.c and the summary, as one JSON object.
 *
 * The loads are written one by one, so that memory does not grow with their number; the rest is
 * one jansson object that is joined to them.
 */
#include "page.h"
#include "predict.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

struct writer {
    int first;
    int failed;
};

/* A number, or null where there is none. */
static json_t *real(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

static void put(struct writer *w, json_t *object, const char *key, json_t *value)
{
    if (!value || json_object_set_new(object, key, value))
        w->failed = 1;
}

static json_t *residue_of(struct writer *w, double film, double adhering)
{
    json_t *object = json_object();

    put(w, object, "residue", real((film + adhering) * MG_PER_M2));
    put(w, object, "film residue", real(film * MG_PER_M2));
    put(w, object, "adhering residue", real(adhering * MG_PER_M2));
    return object;
}

static json_t *all_residues(struct writer *w, const dregs_line *line, const dregs_residue *r)
{
    json_t *object = json_object();
    unsigned s;

    for (s = 0; s < r->solutes; s++)
        put(w, object, dregs_line_solute(line, s)->name, residue_of(w, r->film[s], r->adhering[s]));
    put(w, object, "total", residue_of(w, r->film_total, r->adhering_total));
    return object;
}

static json_t *all_stages(struct writer *w, const dregs_line *line, const dregs_state *state)
{
    json_t *stages = json_object();
    unsigned i, s;

    for (i = 0; i < dregs_line_stages(line); i++) {
        json_t *stage = json_object();
        for (s = 0; s < dregs_line_solutes(line); s++) {
            json_t *solute = json_object();
            if (dregs_line_stage(line, i)->kind != DREGS_DRY)
                put(w, solute, "concentration",
                    real(dregs_state_concentration(state, s, i) * MG_PER_L));
            put(w, solute, "film", real(dregs_state_film(state, s, i) * MG));
            put(w, stage, dregs_line_solute(line, s)->name, solute);
        }
        put(w, stages, dregs_line_stage(line, i)->name, stage);
    }
    return stages;
}

static void print_load(const struct answer *answer, uint64_t load, const dregs_state *state,
                       void *user)
{
    struct writer *w = user;
    json_t *object = json_object();
    dregs_residue residue;

    dregs_residue_next(state, &residue);
    put(w, object, "load", json_integer((json_int_t)load));
    put(w, object, "stages", all_stages(w, answer->line, state));
    put(w, object, "residue", all_residues(w, answer->line, &residue));
    printf("%s", w->first ? "\n" : ",\n");
    w->first = 0;
    if (!w->failed && json_dumpf(object, stdout, JSON_COMPACT))
        w->failed = 1;
    json_decref(object);
}

static json_t *worst_of(struct writer *w, const dregs_worst *worst)
{
    json_t *object = json_object();

    put(w, object, "load", json_integer((json_int_t)worst->load));
    put(w, object, "in the long run", json_boolean(worst->in_the_long_run));
    put(w, object, "residue", real(worst->residue * MG_PER_M2));
    return object;
}

static json_t *targets(struct writer *w, const struct answer *answer)
{
    json_t *list = json_array();
    unsigned i;

    for (i = 0; i < answer->verdicts; i++) {
        const struct verdict *verdict = &answer->verdict[i];
        json_t *object = json_object();
        put(w, object, "solute", json_string(solute_name(answer->line, verdict->solute)));
        put(w, object, "limit", real(verdict->limit.si * MG_PER_M2));
        put(w, object, "worst", worst_of(w, &verdict->worst));
        put(w, object, "met", json_boolean(verdict->worst.residue <= verdict->limit.si));
        if (json_array_append_new(list, object))
            w->failed = 1;
    }
    return list;
}

static json_t *texts(struct writer *w, const char *(*at)(const dregs_line *, unsigned),
                     const dregs_line *line)
{
    json_t *list = json_array();
    unsigned i;

    for (i = 0; at(line, i); i++)
        if (json_array_append_new(list, json_string(at(line, i))))
            w->failed = 1;
    return list;
}

static json_t *cautions(struct writer *w, const struct answer *answer)
{
    json_t *list = json_array();
    unsigned i;

    for (i = 0; i < answer->caution_count; i++) {
        const dregs_caution *caution = &answer->cautions[i];
        json_t *object = json_object();
        put(w, object, "id", json_string(caution->rule->id));
        put(w, object, "condition", json_string(caution->rule->condition));
        put(w, object, "threshold", real(caution->rule->threshold));
        put(w, object, "unit", json_string(caution->rule->unit));
        put(w, object, "source", json_string(caution->rule->source));
        put(w, object, "text", json_string(caution->text));
        if (json_array_append_new(list, object))
            w->failed = 1;
    }
    return list;
}

static json_t *units(struct writer *w)
{
    json_t *object = json_object();

    put(w, object, "concentration", json_string("mg/L"));
    put(w, object, "film", json_string("mg"));
    put(w, object, "residue", json_string("mg/m2"));
    put(w, object, "limit", json_string("mg/m2"));
    return object;
}

static json_t *summary(struct writer *w, const struct answer *answer)
{
    const dregs_level *level = dregs_level_reached(answer->worst.residue);
    json_t *object = json_object();

    put(w, object, "worst", worst_of(w, &answer->worst));
    put(w, object, "worst residue", all_residues(w, answer->line, &answer->worst_residue));
    put(w, object, "steady", answer->settles ? worst_of(w, &answer->steady) : json_null());
    put(w, object, "steady residue",
        answer->settles ? all_residues(w, answer->line, &answer->steady_residue) : json_null());
    put(w, object, "floor", all_residues(w, answer->line, &answer->floor));
    put(w, object, "dump period", json_integer((json_int_t)dregs_line_period(answer->line)));
    put(w, object, "loads judged",
        answer->request->loads ? json_integer((json_int_t)answer->request->loads) : json_null());
    put(w, object, "level", level ? json_string(level->name) : json_null());
    put(w, object, "target", targets(w, answer));
    put(w, object, "target met", answer->verdicts ? json_boolean(answer->met) : json_null());
    return object;
}

int page_json(const struct answer *answer)
{
    struct writer w = {1, 0};
    json_t *rest = json_object();
    char *text;
    int status;

    printf("{\"loads\":[");
    status = answer_each(answer, print_load, &w);
    put(&w, rest, "line", json_string(dregs_line_name(answer->line)));
    put(&w, rest, "units", units(&w));
    put(&w, rest, "summary", summary(&w, answer));
    put(&w, rest, "assumed", texts(&w, dregs_line_assumed, answer->line));
    put(&w, rest, "not used", texts(&w, dregs_line_unused, answer->line));
    put(&w, rest, "cautions", cautions(&w, answer));
    put(&w, rest, "deference", json_string(dregs_caution_deference()));
    text = w.failed ? NULL : json_dumps(rest, JSON_INDENT(1));
    json_decref(rest);
    if (!text)
        return front_say(FRONT_IO, "out of memory");
    printf("\n],%s\n", text + 1); /* its opening brace is printed above */
    free(text);
    return status;
}
