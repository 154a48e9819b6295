/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* beaker_line.c: the line files that the sums of the bench are asked of: each row says in its note
 * which option it comes from, or what was taken without one.
 */
#include "answer/beaker.h"
#include "base/text.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

enum { TEXT_MOST = 6000, ROWS_MOST = 80, NOBODY = -1 };

#define PI        3.14159265358979323846
#define AREA_LESS 1e-4 /* m2: of a part whose area does not count, */
#define FILM_LESS 2e-5 /* m: or as large as makes its film so thick */
#define INTERVAL  10.0 /* min */

/* m2 of a part; any, where none is given. */
static double area_of(const struct beaker *b)
{
    const struct given *drag = &b->given[DREGS_BEAKER_DRAG_OUT];
    int by_part = drag->text && drag->like == BEAKER_PART_VOLUME;

    return dregs_answer_beaker_or(b, DREGS_BEAKER_AREA, by_part ? drag->si / FILM_LESS : AREA_LESS);
}

/* A text in the making. */
struct text {
    struct beaker *b;
    char *bytes;
    size_t used;
    int full;
    unsigned long line;  /* of the file */
    int from[ROWS_MOST]; /* the option that a line rests on, or NOBODY */
};

static void put(void *user, const char *bytes, size_t length)
{
    struct text *t = user;

    if (t->used + length >= TEXT_MOST) {
        t->full = 1;
        return;
    }
    memcpy(t->bytes + t->used, bytes, length);
    t->used += length;
}

static void put_words(struct text *t, const char *words)
{
    put(t, words, strlen(words));
}

/* item, property, value, unit, spread, with, note */
static void put_row(struct text *t, int from, const char *const cell[7])
{
    int i;

    for (i = 0; i < 7; i++) {
        if (i)
            put_words(t, ",");
        dregs_csv_cell(',', "", cell[i], put, t);
    }
    put_words(t, "\n");
    if (++t->line < ROWS_MOST)
        t->from[t->line] = from;
}

static void word(struct text *t, const char *item, const char *property, const char *value,
                 const char *note)
{
    const char *const cell[7] = {item, property, value, "", "", "", note};

    put_row(t, NOBODY, cell);
}

static void number(struct text *t, const char *item, const char *property, double value,
                   const char *unit, const char *note)
{
    char text[DREGS_NUMBER_TEXT];
    const char *const cell[7] = {item, property, dregs_number_plain(text, value, 15), unit, "",
                                 "",   note};

    put_row(t, NOBODY, cell);
}

/* A row as an option has it; nothing where that is not given. */
static void option(struct text *t, const char *item, const char *property, dregs_beaker_given which)
{
    const struct given *g = &t->b->given[which];
    char note[40];
    const char *const cell[7] = {
        item,    property,  g->like == BEAKER_WORD && !*g->value ? g->text : g->value,
        g->unit, g->spread, "",
        note};

    if (!g->text)
        return;
    snprintf(note, sizeof note, "--%s", dregs_beaker_given_name(which));
    put_row(t, (int)which, cell);
}

/* ---- what several lines have ---- */

static dregs_status begin(struct beaker *b, struct text *t)
{
    memset(t, 0, sizeof *t);
    t->b = b;
    t->bytes = dregs_pool_take(&b->pool, 1, TEXT_MOST);
    if (!t->bytes)
        return DREGS_NO_MEMORY;
    put_words(t, "item,property,value,unit,spread,with,note\n");
    t->line = 1;
    return DREGS_OK;
}

/* What is wrong, with the option that it rests on. */
static dregs_status say_faults(const struct text *t, const dregs_faults *faults,
                               dregs_status status)
{
    const dregs_fault *first = &faults->fault[0];
    int from = first->line < ROWS_MOST ? t->from[first->line] : NOBODY;

    if (!faults->count || status == DREGS_NO_MEMORY)
        return status;
    snprintf(t->b->message, DREGS_BEAKER_MESSAGE, "%s%s%s%.600s", from < 0 ? "" : "--",
             from < 0 ? "" : dregs_beaker_given_name((dregs_beaker_given)from),
             from < 0 ? "" : ": ", first->text);
    return DREGS_BAD_DATA;
}

/* Reads the line, which is that of way number `way` from now on. */
static dregs_status end(struct text *t, unsigned way)
{
    struct beaker *b = t->b;
    dregs_faults faults = {0};
    dregs_line *line = NULL;
    dregs_status status;

    if (t->full)
        return DREGS_NUMERIC;
    status = dregs_line_parse("the line", t->bytes, t->used, b->liquids, &line, &faults);
    if (status)
        return say_faults(t, &faults, status);
    dregs_line_free(b->line[way]);
    b->line[way] = line;
    b->way[way].line = line;
    b->way[way].text = t->bytes;
    b->way[way].length = t->used;
    return DREGS_OK;
}

static void put_solutes(struct text *t)
{
    word(t, "soil", "kind", "solute", "");
    option(t, "soil", "on parts", DREGS_BEAKER_SOIL);
    if (t->b->given[DREGS_BEAKER_OWN].text)
        word(t, "own", "kind", "solute", "what the fresh liquid itself leaves");
}

static void put_liquid(struct text *t, const char *item)
{
    word(t, item, "kind", "liquid", "");
    option(t, item, "solvent", DREGS_BEAKER_LIQUID);
}

static void put_fresh(struct text *t)
{
    put_liquid(t, "fresh");
    option(t, "fresh", "own", DREGS_BEAKER_OWN);
}

static void put_load(struct text *t)
{
    const struct beaker *b = t->b;

    word(t, "load", "kind", "load", "");
    if (b->given[DREGS_BEAKER_PARTS_AT_A_TIME].text)
        option(t, "load", "parts", DREGS_BEAKER_PARTS_AT_A_TIME);
    else
        word(t, "load", "parts", "1", "assumed");
    if (b->given[DREGS_BEAKER_AREA].text)
        option(t, "load", "area", DREGS_BEAKER_AREA);
    else
        number(t, "load", "area", area_of(b) * 1e4, "cm2", "does not count here");
    number(t, "load", "interval", INTERVAL, "min", "does not count here");
}

/* The beginning of a line with fresh liquid that soil gets into. */
static dregs_status begin_wet(struct beaker *b, struct text *t)
{
    dregs_status status = begin(b, t);

    if (status)
        return status;
    put_load(t);
    put_solutes(t);
    put_fresh(t);
    return DREGS_OK;
}

/* ---- rinses ---- */

/* The film of a stage: one cause moves those of all stages. */
static void put_film(struct text *t, const char *stage, const char *with)
{
    const struct given *g = &t->b->given[DREGS_BEAKER_DRAG_OUT];
    char value[DREGS_NUMBER_TEXT];
    const char *cell[7] = {
        stage, "drag-out", g->value, g->unit, g->spread, *g->spread ? with : "", "--drag-out"};

    if (g->like == BEAKER_WORD) {
        cell[1] = "drag-out class";
        cell[2] = g->text;
    } else if (g->like == BEAKER_PART_VOLUME) {
        cell[2] = dregs_number_plain(value, g->si / area_of(t->b) * 1e3, 15);
        cell[3] = "L/m2";
        cell[6] = "--drag-out over the area";
    }
    put_row(t, DREGS_BEAKER_DRAG_OUT, cell);
}

/* The bath that the film comes from: it takes from itself, so that it stays as it is stated. */
static void put_bath(struct text *t)
{
    const struct beaker *b = t->b;

    if (b->given[DREGS_BEAKER_SOIL].text)
        return;
    put_liquid(t, "before");
    if (b->given[DREGS_BEAKER_FILM].text)
        option(t, "before", "soil", DREGS_BEAKER_FILM);
    else
        number(t, "before", "soil", 1, "g/L", "only shares are shown");
    word(t, "bath", "kind", "wash", "where the film comes from; it stays as strong as stated");
    number(t, "bath", "volume", 1, "L", "does not count: it is topped up with what it holds");
    word(t, "bath", "liquid", "before", "");
    put_film(t, "bath", "");
}

static void put_limit(struct text *t)
{
    const struct given *g = &t->b->given[DREGS_BEAKER_LIMIT];

    if (!g->text)
        return;
    word(t, "limit", "kind", "target", "");
    option(t, "limit",
           g->like == BEAKER_WORD       ? "level"
           : g->like == BEAKER_PER_AREA ? "residue"
                                        : "non-volatile residue",
           DREGS_BEAKER_LIMIT);
}

static void put_rinse(struct text *t, const char *name, double volume, unsigned dump_every)
{
    const struct beaker *b = t->b;
    int dry = b->given[DREGS_BEAKER_SOIL].text != NULL;

    word(t, name, "kind", dry ? "wash" : "rinse", "");
    if (b->given[DREGS_BEAKER_BEAKER].text)
        option(t, name, "volume", DREGS_BEAKER_BEAKER);
    else
        number(t, name, "volume", volume * 1e6, "mL", "");
    word(t, name, "liquid", "fresh", "");
    option(t, name, "temperature", DREGS_BEAKER_AT);
    option(t, name, "exchange", DREGS_BEAKER_EXCHANGE);
    if (dry)
        number(t, name, "removal", 100, "%", "assumed");
    if (dump_every)
        number(t, name, "dump every", dump_every, "", "");
    put_film(t, name, dry ? "" : "bath.drag-out");
}

static void put_spray(struct text *t, double use)
{
    word(t, "bottle", "kind", "spray", "");
    word(t, "bottle", "liquid", "fresh", "");
    number(t, "bottle", "use", use * 1e6, "mL", "");
    option(t, "bottle", "mixing", DREGS_BEAKER_MIXING);
    option(t, "bottle", "temperature", DREGS_BEAKER_AT);
    put_film(t, "bottle", "bath.drag-out");
}

dregs_status dregs_answer_beaker_rinsing(struct beaker *b, unsigned way, enum beaker_rinse how,
                                         unsigned stages, double volume, unsigned dump_every)
{
    char name[24] = "beaker";
    struct text t;
    unsigned i;
    dregs_status status = begin_wet(b, &t);

    if (status)
        return status;
    put_bath(&t);
    for (i = 0; how == BEAKER_DIP && i < stages; i++) {
        if (stages > 1)
            snprintf(name, sizeof name, "rinse %u", i + 1);
        put_rinse(&t, name, volume, dump_every);
    }
    if (how == BEAKER_POUR)
        put_spray(&t, volume);
    put_limit(&t);
    return end(&t, way);
}

/* ---- what stands open or warm, what cools ---- */

static void put_room(struct text *t)
{
    const struct beaker *b = t->b;

    if (!b->given[DREGS_BEAKER_ROOM].text && !b->given[DREGS_BEAKER_HUMIDITY].text)
        return;
    word(t, "room", "kind", "room", "");
    option(t, "room", "temperature", DREGS_BEAKER_ROOM);
    option(t, "room", "humidity", DREGS_BEAKER_HUMIDITY);
}

static void put_opening(struct text *t)
{
    const struct given *g = &t->b->given[DREGS_BEAKER_OPENING];

    if (!g->text)
        return;
    if (g->like == BEAKER_DIAMETER) {
        number(t, "beaker", "open area", PI * g->si * g->si / 4 * 1e4, "cm2", "--opening, round");
        number(t, "beaker", "perimeter", PI * g->si * 100, "cm", "--opening, round");
    } else {
        option(t, "beaker", "open area", DREGS_BEAKER_OPENING);
    }
    option(t, "beaker", "freeboard", DREGS_BEAKER_RIM);
    option(t, "beaker", "air speed", DREGS_BEAKER_AIR_SPEED);
}

dregs_status dregs_answer_beaker_standing(struct beaker *b, unsigned way)
{
    struct text t;
    dregs_status status = begin_wet(b, &t);

    if (status)
        return status;
    word(&t, "beaker", "kind", "rinse", "");
    option(&t, "beaker", "volume", DREGS_BEAKER_BEAKER);
    word(&t, "beaker", "liquid", "fresh", "");
    option(&t, "beaker", "temperature", DREGS_BEAKER_AT);
    put_opening(&t);
    option(&t, "beaker", "ultrasonic power", DREGS_BEAKER_POWER);
    option(&t, "beaker", "wall loss", DREGS_BEAKER_WALL_LOSS);
    option(&t, "beaker", "water bath", DREGS_BEAKER_WATER_BATH);
    number(&t, "beaker", "film", FILM_LESS * 1e6, "um", "does not count: no part goes through");
    put_room(&t);
    return end(&t, way);
}

dregs_status dregs_answer_beaker_oven(struct beaker *b, unsigned way)
{
    const struct given *heat = &b->given[DREGS_BEAKER_HEAT_CAPACITY];
    struct text t;
    dregs_status status = begin(b, &t);

    if (status)
        return status;
    put_load(&t);
    option(&t, "load", "mass", DREGS_BEAKER_MASS);
    if (heat->like == BEAKER_WORD)
        number(&t, "load", "heat capacity", dregs_answer_beaker_metal(heat->text), "J/(kg.K)",
               "--heat-capacity");
    else
        option(&t, "load", "heat capacity", DREGS_BEAKER_HEAT_CAPACITY);
    option(&t, "load", "height", DREGS_BEAKER_HEIGHT);
    put_solutes(&t);
    word(&t, "fresh", "kind", "liquid", "");
    word(&t, "fresh", "solvent", "water", "does not count: the parts are dry");
    word(&t, "rinse", "kind", "rinse", "");
    number(&t, "rinse", "volume", 1, "L", "does not count");
    word(&t, "rinse", "liquid", "fresh", "");
    number(&t, "rinse", "film", FILM_LESS * 1e6, "um", "does not count");
    word(&t, "oven", "kind", "dry", "");
    option(&t, "oven", "temperature", DREGS_BEAKER_FROM);
    put_room(&t);
    return end(&t, way);
}
