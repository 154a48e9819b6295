/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* words.c: the values that are words: names of other items, of liquids, salts, laws and classes.
 *
 * Each reader has a row of the grammar that names it. `row` 0 stands for a value that is not
 * given; `word` is then the default of the grammar.
 */
#include "base/time.h"
#include "dregs/limits.h"
#include "dregs/stage.h"
#include "line/read.h"

#include <stdio.h>
#include <string.h>

/* What a link may lead to. */
struct ends {
    int liquid, tank, drain;
    const char *words;
};

static int leads_to(const struct ends *ends, enum item_kind kind)
{
    return (ends->liquid && kind == KIND_LIQUID) ||
           (ends->tank && dregs_line_kind_is(kind, DREGS_STAGE_TANK));
}

static void read_link(struct reader *r, unsigned row, const char *word, dregs_link *into,
                      const struct ends *ends)
{
    const dregs_row *cells = &r->line->rows[row];
    const char *names[ITEMS_MOST + 1];
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16], name[DREGS_QUOTED];
    const struct item *item;
    unsigned i, count = 0;

    if (ends->drain && strcmp(word, "drain") == 0) {
        into->kind = DREGS_LINK_DRAIN;
        into->row = row;
        return;
    }
    item = dregs_line_item(r->line, word);
    if (item && item->kind == KINDS)
        return; /* its own row was faulty; one message is enough */
    if (!item || !leads_to(ends, item->kind)) {
        for (i = 0; i < r->line->item_count; i++)
            if (leads_to(ends, r->line->items[i].kind))
                names[count++] = r->line->items[i].name;
        if (ends->drain)
            names[count++] = "drain";
        SAY(r, row, "%s of %s: %s is not %s%s", cells->property, dregs_quote(name, cells->item),
            *word ? dregs_quote(quoted, word) : "nothing", ends->words,
            dregs_nearest_words(near, word, names, count));
        return;
    }
    into->kind = item->kind == KIND_LIQUID ? DREGS_LINK_LIQUID : DREGS_LINK_STAGE;
    into->index = item->index;
    into->row = row;
}

static dregs_link *link_of(void *owner, const struct property *property)
{
    return (dregs_link *)(void *)((char *)owner + property->offset);
}

void dregs_line_read_liquid(struct reader *r, unsigned row, const char *word, void *owner,
                            const struct property *property)
{
    static const struct ends ends = {1, 0, 0, "a liquid of this file"};

    read_link(r, row, word, link_of(owner, property), &ends);
}

void dregs_line_read_tank(struct reader *r, unsigned row, const char *word, void *owner,
                          const struct property *property)
{
    static const struct ends ends = {0, 1, 0, "a wash or rinse of this file"};

    read_link(r, row, word, link_of(owner, property), &ends);
}

void dregs_line_read_tank_or_drain(struct reader *r, unsigned row, const char *word, void *owner,
                                   const struct property *property)
{
    static const struct ends ends = {0, 1, 1, "a wash or rinse of this file, or drain"};

    read_link(r, row, word, link_of(owner, property), &ends);
}

/* Out of the line either way. */
void dregs_line_read_drain_or_waste(struct reader *r, unsigned row, const char *word, void *owner,
                                    const struct property *property)
{
    dregs_link *into = link_of(owner, property);
    char quoted[DREGS_QUOTED];
    int waste = strcmp(word, "waste") == 0;

    if (!waste && strcmp(word, "drain") != 0) {
        SAY(r, row, "blow-off to %s is not one of drain, waste", dregs_quote(quoted, word));
        return;
    }
    into->kind = waste ? DREGS_LINK_WASTE : DREGS_LINK_DRAIN;
    into->row = row;
}

void dregs_line_read_liquid_or_tank(struct reader *r, unsigned row, const char *word, void *owner,
                                    const struct property *property)
{
    static const struct ends ends = {1, 1, 0, "a liquid, wash or rinse of this file"};

    read_link(r, row, word, link_of(owner, property), &ends);
}

void dregs_line_read_solvent(struct reader *r, unsigned row, const char *word, void *owner,
                             const struct property *property)
{
    dregs_fluid *fluid = owner;
    const dregs_row *cells = &r->line->rows[row];
    const char *near;
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED];

    (void)property;
    fluid->solvent = dregs_liquids_find(r->line->liquids, word);
    if (!fluid->solvent) {
        near = dregs_liquids_nearest(r->line->liquids, word);
        SAY(r, row, "solvent of %s: %s is not in the liquid data%s%s%s",
            dregs_quote(name, cells->item), *word ? dregs_quote(quoted, word) : "nothing",
            near ? "; nearest: '" : "; 'dregs-liquid' lists it", near ? near : "", near ? "'" : "");
        return;
    }
    fluid->solvent_row = row;
}

void dregs_line_read_class(struct reader *r, unsigned row, const char *word, void *owner,
                           const struct property *property)
{
    dregs_stage *stage = owner;
    const char *names[16];
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16], all[300] = "";
    size_t i, used = 0;

    (void)property;
    stage->drag_out_class = dregs_film_class_named(word);
    stage->class_row = row;
    if (stage->drag_out_class)
        return;
    for (i = 0; i < 16 && dregs_film_class(i); i++) {
        names[i] = dregs_film_class(i)->name;
        used += (size_t)snprintf(all + used, sizeof all - used, "%s%s", i ? ", " : "", names[i]);
    }
    SAY(r, row, "drag-out class %s is not in the table (%s)%s", dregs_quote(quoted, word), all,
        dregs_nearest_words(near, word, names, i));
}

void dregs_line_read_level(struct reader *r, unsigned row, const char *word, void *owner,
                           const struct property *property)
{
    dregs_target *target = owner;
    const dregs_level *level = dregs_level_named(word);
    char quoted[DREGS_QUOTED];

    (void)property;
    if (!level) {
        SAY(r, row,
            "level %s is not one of A/100, A/50, A/20, A/10, A/5, A/2, A to H, J, or R1E-2 to R25",
            dregs_quote(quoted, word));
        return;
    }
    if (target->residue.row) {
        SAY(r, row, "the limit is given in two ways: residue in line %lu and level here",
            dregs_line_at(r->line, target->residue.row));
        return;
    }
    target->level = word;
    target->residue.si = level->most;
    target->residue.row = row;
}

/* The number of loads that `dump at` stands for is known once the schedule is. */
void dregs_line_read_dump_at(struct reader *r, unsigned row, const char *word, void *owner,
                             const struct property *property)
{
    dregs_stage *stage = owner;
    static const char *const words[] = {"shift end", "day end", "week end"};
    char quoted[DREGS_QUOTED];
    unsigned i;

    (void)property;
    for (i = 0; i < 3; i++)
        if (strcmp(word, words[i]) == 0)
            stage->dump_at = (dregs_dump_at)(DREGS_DUMP_AT_SHIFT + i);
    if (stage->dump_at == DREGS_DUMP_AT_LOADS)
        SAY(r, row, "dump at %s is not one of shift end, day end, week end",
            dregs_quote(quoted, word));
}

void dregs_line_read_salt(struct reader *r, unsigned row, const char *word, void *owner,
                          const struct property *property)
{
    dregs_solute *solute = owner;
    const dregs_row *cells = &r->line->rows[row];
    const char *best = dregs_electrolyte_nearest(word);
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], near[DREGS_QUOTED + 16];

    (void)property;
    solute->electrolyte = dregs_electrolyte_find(word);
    solute->electrolyte_row = row;
    if (!solute->electrolyte)
        SAY(r, row, "electrolyte of %s: %s is not one of NaCl, KCl, NaOH, Na2CO3, NaHCO3%s",
            dregs_quote(name, cells->item), *word ? dregs_quote(quoted, word) : "nothing",
            dregs_nearest_words(near, word, &best, 1));
}

void dregs_line_read_hazard(struct reader *r, unsigned row, const char *word, void *owner,
                            const struct property *property)
{
    static const char *const words[] = {"none", "caustic", "acid", "oxidiser"};
    dregs_solute *solute = owner;
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED];
    int i;

    (void)property;
    for (i = 0; i < 4; i++)
        if (strcmp(word, words[i]) == 0)
            solute->hazard = (dregs_hazard)(DREGS_HAZARD_NONE + i);
    if (solute->hazard == DREGS_HAZARD_UNSTATED)
        SAY(r, row, "hazard of %s: %s is not one of none, caustic, acid, oxidiser",
            dregs_quote(name, r->line->rows[row].item),
            *word ? dregs_quote(quoted, word) : "nothing");
}

void dregs_line_read_formula(struct reader *r, unsigned row, const char *word, void *owner,
                             const struct property *property)
{
    dregs_demand *demand = (dregs_demand *)(void *)((char *)owner + property->offset);
    dregs_status status = dregs_liquid_oxygen_demand(word, &demand->of_formula);
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED];

    if (!status)
        demand->formula_row = row;
    else
        SAY(r, row, "formula of %s: %s %s", dregs_quote(name, r->line->rows[row].item),
            *word ? dregs_quote(quoted, word) : "nothing",
            status == DREGS_OUT_OF_RANGE ? "takes up no oxygen; state its COD instead"
            : status == DREGS_UNKNOWN
                ? "has an element other than C, H, O, N, S, P, Na, K, Cl, F, Br, I"
                : "is no molecular formula such as C3H8O");
}

void dregs_line_read_compensation(struct reader *r, unsigned row, const char *word, void *owner,
                                  const struct property *property)
{
    dregs_fluid *fluid = owner;
    const dregs_row *cells = &r->line->rows[row];
    const char *best = dregs_compensation_nearest(word);
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], near[DREGS_QUOTED + 16];

    (void)property;
    fluid->compensation_row = row;
    if (dregs_compensation_find(word, &fluid->compensation))
        SAY(r, row,
            "compensation of %s: %s is not one of none, linear, natural water, pure water%s",
            dregs_quote(name, cells->item), *word ? dregs_quote(quoted, word) : "nothing",
            dregs_nearest_words(near, word, &best, 1));
}

void dregs_line_read_whose(struct reader *r, unsigned row, const char *word, void *owner,
                           const struct property *property)
{
    dregs_scale *scale = owner;
    const dregs_row *cells = &r->line->rows[row];
    const struct item *item = dregs_line_item(r->line, word);
    const char *names[ITEMS_MOST + 1];
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], near[DREGS_QUOTED + 16];
    unsigned i, count = 0;

    (void)property;
    scale->of_row = row;
    scale->solute = -1;
    if (strcmp(word, "total") == 0)
        return;
    if (item && item->kind == KIND_SOLUTE) {
        scale->solute = (int)item->index;
        return;
    }
    for (i = 0; i < r->line->item_count; i++)
        if (r->line->items[i].kind == KIND_SOLUTE)
            names[count++] = r->line->items[i].name;
    names[count++] = "total";
    SAY(r, row, "solute of %s: %s is not a solute of this file, or total%s",
        dregs_quote(name, cells->item), *word ? dregs_quote(quoted, word) : "nothing",
        dregs_nearest_words(near, word, names, count));
}

void dregs_line_read_law(struct reader *r, unsigned row, const char *word, void *owner,
                         const struct property *property)
{
    char quoted[DREGS_QUOTED];

    (void)property;
    ((dregs_stage *)owner)->law_row = row;
    if (strcmp(word, "plate") != 0 && strcmp(word, "kushner") != 0)
        SAY(r, row, "film law %s is not one of plate, kushner", dregs_quote(quoted, word));
}

void dregs_line_read_on_off(struct reader *r, unsigned row, const char *word, void *owner,
                            const struct property *property)
{
    int *into = (int *)(void *)((char *)owner + property->offset);
    char quoted[DREGS_QUOTED];

    *into = row ? strcmp(word, "on") == 0 : -1;
    if (row && strcmp(word, "on") != 0 && strcmp(word, "off") != 0)
        SAY(r, row, "%s %s is not one of on, off", property->name, dregs_quote(quoted, word));
}

void dregs_line_read_weekdays(struct reader *r, unsigned row, const char *word, void *owner,
                              const struct property *property)
{
    dregs_schedule *schedule = owner;
    char quoted[DREGS_QUOTED];

    (void)property;
    schedule->weekdays_row = row;
    if (!dregs_weekdays_read(word, &schedule->weekdays))
        SAY(r, row, "weekdays %s are not written like Mon-Fri or Mon Wed Fri",
            dregs_quote(quoted, word));
}

void dregs_line_read_air(struct reader *r, unsigned row, const char *word, void *owner,
                         const struct property *property)
{
    const char *words[DREGS_AIR_FLOWS];
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16];
    dregs_stage *stage = owner;
    int i;

    (void)property;
    for (i = 0; i < DREGS_AIR_FLOWS; i++) {
        words[i] = dregs_air_flow_word((dregs_air_flow)i);
        if (strcmp(word, words[i]) != 0)
            continue;
        stage->air = (dregs_air_flow)i;
        stage->air_row = row;
        return;
    }
    SAY(r, row, "air %s is not one of laminar, turbulent, tray, jet%s", dregs_quote(quoted, word),
        dregs_nearest_words(near, word, words, DREGS_AIR_FLOWS));
}
