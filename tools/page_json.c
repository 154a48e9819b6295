/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_json.c: the same values as page_csv.c and the summary, as one JSON object.
 *
 * The loads are written one by one, so that memory does not grow with their number; the rest is
 * one jansson object that is joined to them.
 */
#include "json.h"
#include "page.h"
#include "predict.h"

#include <stdio.h>
#include <stdlib.h>

struct writer {
    const dregs_line *line;
    int first;
    int failed;
};

static const char *solute_name(const dregs_line *line, int solute)
{
    return solute < 0 ? "total" : dregs_line_solute(line, (unsigned)solute)->name;
}

static json_t *residue_of(struct writer *w, double film, double adhering)
{
    json_t *object = json_object();

    json_put(&w->failed, object, "residue", json_number_or_null((film + adhering) * MG_PER_M2));
    json_put(&w->failed, object, "film residue", json_number_or_null(film * MG_PER_M2));
    json_put(&w->failed, object, "adhering residue", json_number_or_null(adhering * MG_PER_M2));
    return object;
}

static json_t *all_residues(struct writer *w, const dregs_line *line, const dregs_residue *r)
{
    json_t *object = json_object();
    unsigned s;

    for (s = 0; s < r->solutes; s++)
        json_put(&w->failed, object, dregs_line_solute(line, s)->name,
                 residue_of(w, r->film[s], r->adhering[s]));
    json_put(&w->failed, object, "total", residue_of(w, r->film_total, r->adhering_total));
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
            if (dregs_stage_is(dregs_line_stage(line, i), DREGS_STAGE_WET))
                json_put(&w->failed, solute, "concentration",
                         json_number_or_null(dregs_state_concentration(state, s, i) * MG_PER_L));
            json_put(&w->failed, solute, "film",
                     json_number_or_null(dregs_state_film(state, s, i) * MG));
            json_put(&w->failed, stage, dregs_line_solute(line, s)->name, solute);
        }
        json_put(&w->failed, stages, dregs_line_stage(line, i)->name, stage);
    }
    return stages;
}

static void print_load(void *user, uint64_t load, const dregs_state *state,
                       const dregs_residue *residue)
{
    struct writer *w = user;
    json_t *object = json_object();

    json_put(&w->failed, object, "load", json_integer((json_int_t)load));
    json_put(&w->failed, object, "stages", all_stages(w, w->line, state));
    json_put(&w->failed, object, "residue", all_residues(w, w->line, residue));
    printf("%s", w->first ? "\n" : ",\n");
    w->first = 0;
    if (!w->failed && json_dumpf(object, stdout, JSON_COMPACT))
        w->failed = 1;
    json_decref(object);
}

static json_t *worst_of(struct writer *w, const dregs_worst *worst)
{
    json_t *object = json_object();

    json_put(&w->failed, object, "load", json_integer((json_int_t)worst->load));
    json_put(&w->failed, object, "in the long run", json_boolean(worst->in_the_long_run));
    json_put(&w->failed, object, "residue", json_number_or_null(worst->residue * MG_PER_M2));
    return object;
}

static json_t *targets(struct writer *w, const struct predict_page *answer)
{
    json_t *list = json_array();
    unsigned i;

    for (i = 0; i < answer->result->verdicts; i++) {
        const dregs_predict_verdict *verdict = dregs_predict_result_verdict(answer->result, i);
        json_t *object = json_object();
        json_put(&w->failed, object, "solute",
                 json_string(solute_name(answer->line, verdict->solute)));
        json_put(&w->failed, object, "limit", json_number_or_null(verdict->limit.si * MG_PER_M2));
        json_put(&w->failed, object, "worst", worst_of(w, &verdict->worst));
        json_put(&w->failed, object, "met", json_boolean(verdict->met));
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

static json_t *cautions(struct writer *w, const struct predict_page *answer)
{
    json_t *list = json_array();
    unsigned i;

    for (i = 0; i < answer->result->cautions; i++) {
        const dregs_caution *caution = &answer->result->caution[i];
        json_t *object = json_object();
        json_put(&w->failed, object, "id", json_string(caution->rule->id));
        json_put(&w->failed, object, "condition", json_string(caution->rule->condition));
        json_put(&w->failed, object, "threshold", json_number_or_null(caution->rule->threshold));
        json_put(&w->failed, object, "unit", json_string(caution->rule->unit));
        json_put(&w->failed, object, "source", json_string(caution->rule->source));
        json_put(&w->failed, object, "text", json_string(caution->text));
        if (json_array_append_new(list, object))
            w->failed = 1;
    }
    return list;
}

static json_t *units(struct writer *w)
{
    json_t *object = json_object();

    json_put(&w->failed, object, "concentration", json_string("mg/L"));
    json_put(&w->failed, object, "film", json_string("mg"));
    json_put(&w->failed, object, "residue", json_string("mg/m2"));
    json_put(&w->failed, object, "limit", json_string("mg/m2"));
    return object;
}

static json_t *summary(struct writer *w, const struct predict_page *answer)
{
    const dregs_level *level = answer->result->level;
    json_t *object = json_object();

    json_put(&w->failed, object, "worst", worst_of(w, &answer->result->worst));
    json_put(&w->failed, object, "worst residue",
             all_residues(w, answer->line, &answer->result->worst_residue));
    json_put(&w->failed, object, "steady",
             answer->result->settles ? worst_of(w, &answer->result->steady) : json_null());
    json_put(&w->failed, object, "steady residue",
             answer->result->settles
                 ? all_residues(w, answer->line, &answer->result->steady_residue)
                 : json_null());
    json_put(&w->failed, object, "floor", all_residues(w, answer->line, &answer->result->floor));
    json_put(&w->failed, object, "dump period",
             json_integer((json_int_t)dregs_line_period(answer->line)));
    json_put(&w->failed, object, "loads judged",
             answer->request->asked.loads ? json_integer((json_int_t)answer->request->asked.loads)
                                          : json_null());
    json_put(&w->failed, object, "level", level ? json_string(level->name) : json_null());
    json_put(&w->failed, object, "target", targets(w, answer));
    json_put(&w->failed, object, "target met",
             answer->result->verdicts ? json_boolean(answer->result->met) : json_null());
    return object;
}

int page_json(const struct predict_page *answer)
{
    struct writer w = {answer->line, 1, 0};
    json_t *rest = json_object();
    char *text;
    int status;

    printf("{\"loads\":[");
    status = each_load(answer, print_load, &w);
    json_put(&w.failed, rest, "line", json_string(dregs_line_name(answer->line)));
    json_put(&w.failed, rest, "units", units(&w));
    json_put(&w.failed, rest, "summary", summary(&w, answer));
    json_put(&w.failed, rest, "assumed", texts(&w, dregs_line_assumed, answer->line));
    json_put(&w.failed, rest, "not used", texts(&w, dregs_line_unused, answer->line));
    json_put(&w.failed, rest, "cautions", cautions(&w, answer));
    json_put(&w.failed, rest, "deference", json_string(dregs_caution_deference()));
    text = w.failed ? NULL : json_dumps(rest, JSON_INDENT(1));
    json_decref(rest);
    if (!text)
        return front_say(FRONT_IO, "out of memory");
    printf("\n],%s\n", text + 1); /* its opening brace is printed above */
    free(text);
    return status;
}
