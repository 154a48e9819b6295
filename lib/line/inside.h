/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* inside.h: what the files of the line module share; not for other rooms. */
#ifndef DREGS_LINE_INSIDE_H
#define DREGS_LINE_INSIDE_H

#include "base/pool.h"
#include "base/sheet.h"
#include "base/text.h"
#include "dregs/unit.h"
#include "line/line.h"

struct item;
struct place;

struct note {
    const char *text;
    unsigned used_by; /* of what is not used by all: the questions that do use it */
};

/* The columns of the file, in the order of dregs_row. */
enum { COLUMNS = 8 };

struct dregs_line {
    struct dregs_pool memory; /* everything the line owns, freed together */
    int out_of_memory; /* something that it should own is missing: it must not be given out */
    char *name;
    char *text; /* as read */
    size_t length;
    const dregs_liquids *liquids;
    dregs_liquids *own_liquids; /* those, where they were made for this line; else NULL */
    int place[COLUMNS];         /* which cell of a row holds each column, -1 for none */
    size_t width;               /* cells in the header */
    dregs_row *rows;            /* rows[0] is not used */
    unsigned row_count;         /* of the file */
    unsigned rows_added; /* behind them: rows of values that were set and the file does not state */
    struct place *places; /* for each row where its value lives */
    struct item *items;
    unsigned item_count;
    dregs_load *loads; /* in the order of the file */
    unsigned load_count;
    unsigned kind;                 /* of the loads that this line answers for, */
    dregs_load *load;              /* and their description */
    const unsigned char *sequence; /* the kinds of the loads of one cycle */
    unsigned cycle;                /* loads in it; 1: all are alike */
    dregs_line **of_kind; /* the line as if all loads were of one kind; NULL where they are */
    dregs_solute *solutes;
    unsigned solute_count;
    dregs_fluid *fluids;
    unsigned fluid_count;
    dregs_scale *scales;
    unsigned scale_count;
    dregs_stage *stages;
    unsigned stage_count;
    dregs_target target;
    dregs_schedule schedule;
    dregs_room room;
    /* what follows from the description */
    double drag_out[DREGS_LINE_STAGES];       /* factor on the film of every stage; 1 */
    unsigned char by_hand[DREGS_LINE_STAGES]; /* 1: the stage's `dump every` is not followed */
    int traps;                                /* 1: trapped liquid is followed beside the film */
    int any_period;                           /* 1: a period longer than a file may have */
    dregs_carried *carried;
    dregs_tank *tanks;
    double *idle_evaporation; /* of each tank outside the shifts, m3/s */
    unsigned tank_count;
    unsigned long period;
    dregs_dialect dialect; /* of the text */
    int drawn; /* 1: what is assumed is listed of the stated line, `assumed` is its list */
    struct note *assumed;
    unsigned assumed_count;
    struct note *unused;
    unsigned unused_count;
    struct dregs_line_part *part; /* of a joined line; NULL for one of a file */
    unsigned parts;
};

/** Zeroed memory that lives as long as the line; NULL when memory is short. */
void *dregs_line_keep(dregs_line *line, size_t count, size_t size);
/** A copy that lives as long as the line. */
char *dregs_line_keep_text(dregs_line *line, const char *text);
/** Adds to the list of assumptions, or of what nothing uses. */
dregs_status dregs_line_note(dregs_line *line, int unused, const char *format, ...)
    DREGS_FORMAT(3, 4);

/* What a property's value may be. */
enum value_type {
    VALUE_POSITIVE,     /* a quantity > 0 */
    VALUE_NOT_NEGATIVE, /* a quantity >= 0 */
    VALUE_SHARE,        /* 0..1 */
    VALUE_TEMPERATURE,  /* > 0 K */
    VALUE_COUNT,        /* a whole number >= 1 */
    VALUE_MONEY,        /* >= 0, a currency per volume */
    VALUE_PRICE,        /* >= 0, a currency */
    VALUE_READING,      /* a number in a meter's own unit */
    VALUE_WORD
};

enum item_kind {
    KIND_LOAD,
    KIND_SOLUTE,
    KIND_LIQUID,
    KIND_CALIBRATION,
    KIND_STAGE, /* and the kinds of stages from here on, in the order of dregs_stage_kind */
    KIND_TARGET = KIND_STAGE + DREGS_STAGE_KINDS,
    KIND_SCHEDULE,
    KIND_ROOM,
    KINDS
};

#define IN(kind)    (1u << (kind))
#define STAGE_KINDS (IN(KIND_TARGET) - IN(KIND_STAGE)) /* those with a dregs_stage */

/* Which values of the array a property of the form "<word> <solute>" sets. */
enum solute_form {
    NO_SOLUTE,
    ONE_SOLUTE,
    ALL_SOLUTES,
    ONE_LOAD, /* "<word> <load>", an array likewise */
    NUMBERED  /* "<word> <1, 2, ...>" */
};

struct reader;
struct property;

/* Reads a word into the struct of its item; `row` is 0 for the word that counts where none is
 * given. Faults go to the reader. */
typedef void word_reader(struct reader *r, unsigned row, const char *word, void *owner,
                         const struct property *property);

struct property {
    const char *name;  /* of an open one the word before the name or number, with its blank */
    unsigned kinds;    /* the kinds that have it */
    unsigned required; /* the kinds that must state it, and always the same way */
    unsigned used_by;  /* dregs_question, or-ed; conditions beyond that are in note_unused */
    enum value_type type;
    const char *unit;
    enum solute_form form;
    size_t offset;     /* of the dregs_value, link or text in the kind's struct */
    double start;      /* SI, of a quantity that is not given: its default, or NaN */
    const char *word;  /* the word that counts where none is given; NULL: nothing does */
    word_reader *read; /* of a word; NULL for a quantity */
};

/* Does a name or a number stand behind its word? */
static inline int dregs_line_is_open(const struct property *property)
{
    return property->form == ONE_SOLUTE || property->form == ONE_LOAD || property->form == NUMBERED;
}

extern const struct property dregs_properties[];
extern const size_t dregs_property_count;
extern const char *const dregs_kind_names[KINDS];
/* Is the kind one of a stage, and if so of such stages? */
int dregs_line_kind_is_stage(enum item_kind kind);
int dregs_line_kind_is(enum item_kind kind, unsigned traits);

enum { ITEMS_MOST = 256 };

/* One item of the file: its kind and where its struct stands. KINDS is the kind of one whose first
 * row is faulty: known by name all the same, so that its rows do not all fail. */
struct item {
    const char *name;
    unsigned row;
    enum item_kind kind;
    unsigned index;      /* within its kind */
    struct given *given; /* the properties that are stated, those of solutes or numbers aside */
    unsigned given_count;
    const char *meant; /* the property that an unknown one of it is nearest to, the last; NULL */
};

/* A property that an item states, and the row that does. */
struct given {
    const struct property *property;
    unsigned row;
};

/** The row that gives a property of the item, 0 for none. */
unsigned dregs_line_given(const struct item *item, const struct property *property);
/** Notes it; there is room for every property once. */
void dregs_line_give(struct item *item, const struct property *property, unsigned row);

/** The item of that name, or NULL. */
const struct item *dregs_line_item(const dregs_line *line, const char *name);
/** The struct that describes an item: a dregs_load, dregs_solute, ... */
void *dregs_line_item_struct(dregs_line *line, const struct item *item);

/* Where the value of a row lives: the property of an item, and of which solute or number. */
struct place {
    const struct item *item;
    const struct property *property; /* NULL for a row that gives a kind */
    unsigned which;
    dregs_unit unit;     /* in which the row states a quantity; scale 0: not known */
    dregs_spread spread; /* that it gives to it */
};

/** How many values an open property keeps. */
unsigned dregs_line_place_count(const dregs_line *line, const struct property *property);
/** The place of a property as it is written, `removal oil`; 0 when the item has no such one. */
int dregs_line_place(const dregs_line *line, const struct item *item, const char *text,
                     struct place *place);
/** The same by the names of item and property. */
int dregs_line_find_place(const dregs_line *line, const char *item, const char *property,
                          struct place *place);
/** The values at the place of a quantity, and how many: more than one where the property is that
 *  of all solutes. */
unsigned dregs_line_place_values(dregs_line *line, const struct place *place, dregs_value **values);

/** The file's text to rows; line->rows is set. */
dregs_status dregs_line_read_rows(dregs_line *line, const char *bytes, size_t length,
                                  dregs_faults *faults);
/** The rows to the description. */
dregs_status dregs_line_describe(dregs_line *line, dregs_faults *faults);
/** What a description must hold beyond single rows: things that go together or exclude each
 *  other. \p items as the reader left them. Asked again of a line with other values it sets all it
 *  sets anew.
 *  \param changed  1: nothing but values is other than when it was asked last, so that what hangs
 *  on which rows there are need not be asked. */
dregs_status dregs_line_check(dregs_line *line, const struct item *items, unsigned count,
                              int changed, dregs_faults *faults);
/** The first row that states money: its currency and how long that word is; 0 for none. */
unsigned dregs_line_currency(const dregs_line *line, const char **word, size_t *length);
/** All prices are in one currency; each row in another is said. */
dregs_status dregs_line_check_currency(const dregs_line *line, dregs_faults *faults);
/** The columns `varies` and `with` of all rows. */
dregs_status dregs_line_check_doubt(const dregs_line *line, dregs_faults *faults);
/** The films: line->carried. */
dregs_status dregs_line_carry(dregs_line *line, dregs_faults *faults);
/* trapped.c: what of the films to come is trapped. */
void dregs_line_trap(dregs_line *line);
/** What evaporates from the tank that a stage states, m3/s of liquid while loads pass and in idle
 *  time, with what was assumed for it. */
dregs_status dregs_line_evaporate(dregs_line *line, unsigned stage, double *rate, double *idle,
                                  dregs_faults *faults);
/** Notes where perfect mixing is assumed; the films are known. */
dregs_status dregs_line_note_ideal(dregs_line *line);
/** Notes what is assumed of how ultrasonic power warms the tank that a stage states. */
dregs_status dregs_line_note_warming(dregs_line *line, unsigned stage);
/** What evaporates of all tanks. */
dregs_status dregs_line_evaporate_all(dregs_line *line, dregs_faults *faults);
/** The volume balance: the rest of line->tanks. */
void dregs_line_balance_volumes(dregs_line *line);
/** Loads until all dumps fall together again, and the sequence begins anew: line->period. */
dregs_status dregs_line_find_period(dregs_line *line, dregs_faults *faults);

/** The tanks, each with the stage that states it. */
dregs_status dregs_line_make_tanks(dregs_line *line);
/** Takes the memory of another line over. */
void dregs_line_take_memory(dregs_line *line, dregs_line *other);

/** Lists as assumed that two items whose names look alike are two. */
dregs_status dregs_line_note_alike(dregs_line *line);

/** loads.c: puts the soil and films that the line's kind of loads has of its own in place of those
 *  of all. */
void dregs_line_take_own(dregs_line *line);
/** A line for each kind of loads: line->of_kind, and what the line itself answers. */
dregs_status dregs_line_derive_kinds(dregs_line *line, dregs_faults *faults);
/** What follows from a description: tanks, films, volumes. */
dregs_status dregs_line_derive(dregs_line *line, dregs_faults *faults);
/* taken.c: notes which properties the line takes as exact, for want of an accuracy. */
dregs_status dregs_line_note_exact(dregs_line *line);

/** The line of the file a row stands on; 0 for none. */
unsigned long dregs_line_at(const dregs_line *line, unsigned row);

#endif
