/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* line.h: the description of a cleaning line, as its file states it, and what follows from it
 * before any load moves: film volumes and the balance of liquid volumes.
 *
 * The file is described in dregs-line(5). Everything is in SI units here. A value that the file
 * did not give has `row` 0; its `si` is NaN, or the default that the page states.
 */
#ifndef DREGS_LINE_H
#define DREGS_LINE_H

#include "dregs/evaporation.h"
#include "dregs/film.h"
#include "dregs/liquid.h"
#include "dregs/meter.h"
#include "dregs/status.h"

#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/** One data row of the file, cells as written. Row numbers begin with 1. */
typedef struct dregs_row {
    unsigned long line, last; /**< the lines of the file it begins and ends on */
    const char *item, *property, *value, *unit, *spread, *note, *varies, *with;
} dregs_row;

/** A quantity. */
typedef struct dregs_value {
    double si;
    double sd;    /**< one standard deviation, in the SI unit; 0 when none is stated */
    unsigned row; /**< the row it was read from; 0: not in the file */
} dregs_value;

/** The items of a line. They are asked by their names, properties and rows (dregs_line_get and its
 *  like): what they consist of grows with the line file. */
typedef struct dregs_load dregs_load;
typedef struct dregs_solute dregs_solute;
typedef struct dregs_fluid dregs_fluid; /**< a liquid */
typedef struct dregs_scale dregs_scale; /**< a calibration */
typedef struct dregs_stage dregs_stage;
typedef struct dregs_target dregs_target;
typedef struct dregs_schedule dregs_schedule;
typedef struct dregs_room dregs_room; /**< the air around the line */

/** What a solute does to eyes and hands. */
typedef enum dregs_hazard {
    DREGS_HAZARD_UNSTATED,
    DREGS_HAZARD_NONE,
    DREGS_HAZARD_CAUSTIC,
    DREGS_HAZARD_ACID,
    DREGS_HAZARD_OXIDISER,
    DREGS_HAZARDS
} dregs_hazard;

/** The kinds of stages; dregs/stage.h says what each is. */
typedef enum dregs_stage_kind {
    DREGS_WASH,
    DREGS_RINSE,
    DREGS_SPRAY,
    DREGS_DRY,
    DREGS_STAGE_KINDS
} dregs_stage_kind;

/** The film a load carries out of a stage, and how it came about. Volumes in m3 per load. */
typedef struct dregs_carried {
    double in;        /**< D_in: what the load brings along */
    double out;       /**< D: what it takes on */
    double bypass;    /**< of `in`, where the stage has a tank: what stays in the film unmixed */
    double on_parts;  /**< the share of `out` that is on the parts, as a volume */
    double thickness; /**< m, mean film h */
    double bead;      /**< m3 of edge bead per part */
    int with_liquid;  /**< the fields below are set */
    dregs_wetting wetting;
    double temperature; /**< K, at which the liquid's properties were taken */
    double capillary, number, entrained, reach; /**< plate law: Ca, N, h0 (m), z* (m) */
    /* liquid trapped in the parts; 0 where it counts with the film, for no row says how it
     * exchanges */
    double trapped_in; /**< of `in` */
    double trapped;    /**< of `out` and of `on_parts` */
    double opened;     /**< 0..1 of `trapped_in`: what takes part in the stage as the film does */
} dregs_carried;

/** The volume rates of a tank, m3/s. in = out by overflow or top-up. */
typedef struct dregs_tank {
    unsigned stage;     /**< the stage that states it */
    double volume;      /**< m3 */
    double flow;        /**< fresh feed */
    double film_gain;   /**< sum over the visits of (D_in - D_out) / T; may be negative */
    double runoff;      /**< from sprays */
    double overflow_in; /**< from other tanks */
    double drawn;       /**< by other tanks as their top-up */
    double evaporation;
    double overflow; /**< the surplus, to `overflow to` */
    double top_up;   /**< the shortfall, from `top up from` */
} dregs_tank;

enum { DREGS_YEAR_DAYS = 365 }; /**< of a year in a schedule */

typedef struct dregs_line dregs_line;

/** Reads the text of a line file.
 *  \param name     what the file is called in messages.
 *  \param liquids  the property table; must outlive the line.
 *  \param line     receives a new line.
 *  \param faults   every fault, with its line; may be NULL.
 *  \return DREGS_OK, DREGS_BAD_DATA, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_line_parse(const char *name, const char *bytes, size_t length,
                                        const dregs_liquids *liquids, dregs_line **line,
                                        dregs_faults *faults);

/** Reads a line file from an open stream until its end: a FILE *, passed as void * so that this
 *  header needs no stdio.h. More than DREGS_LINE_BYTES are refused.
 *  \return as dregs_line_parse, and DREGS_IO. */
DREGS_API dregs_status dregs_line_read(const char *name, void *stream, const dregs_liquids *liquids,
                                       dregs_line **line, dregs_faults *faults);

DREGS_API void dregs_line_free(dregs_line *line);

/** The lines of a site as one, for what is summed over them (tally.h): its stages are theirs, one
 *  line behind the other, each named "LINE: stage"; a liquid or solute of one name is one where it
 *  is made, priced and disposed of alike, else "LINE: liquid". No load passes such a line: maps
 *  and residues are asked of its parts.
 *  \param name    of the site.
 *  \param part    lines of files, read with one table of liquids; they outlive the joined one.
 *  \param faults  may be NULL.
 *  \return DREGS_OK; DREGS_DOMAIN (no part, more than DREGS_LINE_STAGES stages, a part that is
 *  joined itself, tables that differ); DREGS_BAD_DATA (prices in two currencies);
 *  DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_line_join(const char *name, const dregs_line *const *part,
                                       unsigned parts, dregs_line **joined, dregs_faults *faults);
/** Part \p index (0, 1, ...) of a joined line; NULL past the end, and of a line of a file. */
DREGS_API const dregs_line *dregs_line_part(const dregs_line *line, unsigned index);

/** A value that a line is to have in place of the one its file states, or does not state. */
typedef struct dregs_setting {
    unsigned row;                /**< the row that states it; 0: item and property say which */
    const char *item, *property; /**< as a row would name them: "last", "flow" */
    double si;
} dregs_setting;

/** The line as its file would describe it with other values: everything that follows from them is
 *  worked out and checked anew. \p line itself stays as it is and must outlive the changed one,
 *  which shares its text, rows and names: those still show what the file says.
 *  \param settings  \p count of them; of two for one value the later one counts. A spread that the
 *                   file gives as a share stays that share. A value that the file does not state
 *                   counts as stated, in a row of its own past the last one of the file.
 *  \param changed   receives a new line.
 *  \param faults    what is wrong, with the line of the file; may be NULL.
 *  \return DREGS_OK; DREGS_UNKNOWN (no such row, item or property, or one that is a word);
 *  DREGS_DOMAIN (a value out of the bounds of its property); DREGS_BAD_DATA (the line cannot be so,
 *  or the file states the quantity in another way); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_line_with(const dregs_line *line, const dregs_setting *settings,
                                       size_t count, dregs_line **changed, dregs_faults *faults);

enum {
    DREGS_LINE_BYTES = 4 * 1024 * 1024, /**< a larger file is no line file */
    DREGS_LINE_STAGES = 64,
    DREGS_LINE_SOLUTES = 32,
    DREGS_LINE_LOADS = 32,
    DREGS_LINE_PERIOD = 1000000 /**< most loads after which all dumps fall together again */
};

DREGS_API const char *dregs_line_name(const dregs_line *line);
/** The text it was read from, \p length bytes. */
DREGS_API const char *dregs_line_text(const dregs_line *line, size_t *length);
/** How its cells are written; that of several lines has no text: all zero. */
DREGS_API dregs_dialect dregs_line_dialect(const dregs_line *line);
DREGS_API const dregs_liquids *dregs_line_liquids(const dregs_line *line);
/** How many rows the file has. */
DREGS_API unsigned dregs_line_rows(const dregs_line *line);
/** Row \p row (from 1), or NULL. Past those of the file stand the rows of a dregs_line_with: item,
 *  property and an allowed unit, on no line of the file. */
DREGS_API const dregs_row *dregs_line_row(const dregs_line *line, unsigned row);

/** The value that a row states.
 *  \return DREGS_OK; DREGS_UNKNOWN: no such row, or one that states a kind or a word. */
DREGS_API dregs_status dregs_line_value(const dregs_line *line, unsigned row, dregs_value *value);
/** The value of a property, as a row names it: "removal oil", "reading 3". Where no row states it,
 *  its default with row 0, or NaN.
 *  \return DREGS_OK; DREGS_UNKNOWN: the line has no such item, or the item no such quantity. */
DREGS_API dregs_status dregs_line_get(const dregs_line *line, const char *item,
                                      const char *property, dregs_value *value);
/** The word of a property as it is written; where no row states it the word that counts, or NULL
 *  when none does or there is no such property. */
DREGS_API const char *dregs_line_word(const dregs_line *line, const char *item,
                                      const char *property);
/** The row that states a property: its own, or one that states it in other words (`removal` for
 *  "removal oil", `level` for "residue"). 0 when none does. */
DREGS_API unsigned dregs_line_find(const dregs_line *line, const char *item, const char *property);

/** How much the value of a row varies from load to load, as its column `varies` states it.
 *  \param sd  receives one standard deviation, in the SI unit; 0 where none is stated.
 *  \return DREGS_OK; DREGS_UNKNOWN: no such row, or one that states a kind or a word. */
DREGS_API dregs_status dregs_line_varies(const dregs_line *line, unsigned row, double *sd);
/** The row whose draw a row shares, as its column `with` names it; 0 where it names none. */
DREGS_API unsigned dregs_line_shares_draw(const dregs_line *line, unsigned row);

/** The name of an item, as the file has it; NULL when there is no such one. */
DREGS_API const char *dregs_line_load_name(const dregs_line *line);
DREGS_API const char *dregs_line_solute_name(const dregs_line *line, unsigned index);
DREGS_API const char *dregs_line_fluid_name(const dregs_line *line, unsigned index);
DREGS_API const char *dregs_line_scale_name(const dregs_line *line, unsigned index);
DREGS_API const char *dregs_line_stage_name(const dregs_line *line, unsigned index);
DREGS_API const char *dregs_line_target_name(const dregs_line *line);
DREGS_API const char *dregs_line_schedule_name(const dregs_line *line);
DREGS_API const char *dregs_line_room_name(const dregs_line *line);

DREGS_API const dregs_load *dregs_line_load(const dregs_line *line);
/** How many kinds of loads come down the line, in the order of the file; 1 without a sequence. */
DREGS_API unsigned dregs_line_kinds(const dregs_line *line);
/** The line as if all loads were of one kind: its load, the soil on its parts, its films and the
 *  volume rates that go with them. It shares the memory of \p line, which is it itself where there
 *  is one kind; a line of several answers itself as that of its first kind does, its period and
 *  what is assumed aside. NULL for no such kind. */
DREGS_API const dregs_line *dregs_line_of_kind(const dregs_line *line, unsigned kind);
/** Loads after which the sequence of kinds begins anew; 1 for one kind. */
DREGS_API unsigned dregs_line_cycle(const dregs_line *line);
/** The kind of load number \p load, from 1. */
DREGS_API unsigned dregs_line_kind_at(const dregs_line *line, uint64_t load);
DREGS_API unsigned dregs_line_solutes(const dregs_line *line);
DREGS_API const dregs_solute *dregs_line_solute(const dregs_line *line, unsigned index);
DREGS_API unsigned dregs_line_fluids(const dregs_line *line);
DREGS_API const dregs_fluid *dregs_line_fluid(const dregs_line *line, unsigned index);
DREGS_API unsigned dregs_line_scales(const dregs_line *line);
DREGS_API const dregs_scale *dregs_line_scale(const dregs_line *line, unsigned index);
DREGS_API unsigned dregs_line_stages(const dregs_line *line);
DREGS_API const dregs_stage *dregs_line_stage(const dregs_line *line, unsigned index);
DREGS_API const dregs_carried *dregs_line_carried(const dregs_line *line, unsigned stage);
DREGS_API unsigned dregs_line_tanks(const dregs_line *line);
DREGS_API const dregs_tank *dregs_line_tank(const dregs_line *line, unsigned index);
/** The volume rates of all tanks while no load passes: no film comes or goes, no spray runs.
 *  \param flow   1: the flows of fresh feed run, 0: they are off.
 *  \param idle   1: outside the shifts, where baths and lids are as the schedule says of idle time;
 *                0: in the rest of a shift.
 *  \param tanks  receives one for each tank. */
DREGS_API void dregs_line_idle(const dregs_line *line, int flow, int idle, dregs_tank *tanks);
/** What the open surface of a tank loses, by all laws.
 *  \param idle     1: outside the shifts, as above.
 *  \param message  DREGS_LIQUID_MESSAGE bytes for the reason; may be NULL.
 *  \return DREGS_OK; DREGS_UNKNOWN: no such tank, or it states no open area; else as
 *  dregs_open_evaporation. */
DREGS_API dregs_status dregs_line_open_surface(const dregs_line *line, unsigned tank, int idle,
                                               dregs_open_surface *surface,
                                               dregs_evaporation *evaporation, char *message);
/** What an open tank holds, kg, after \p time (s) from a fresh fill in which no load passes and
 *  nothing is topped up: its solvent, and the water that came from the room's air.
 *  \param message  DREGS_LIQUID_MESSAGE bytes for the reason; may be NULL.
 *  \return DREGS_OK; DREGS_UNKNOWN: no such tank, no open area that is not covered, a mixture from
 * the start, or a pair with water of which no activity is known; else as dregs_open_uptake. */
DREGS_API dregs_status dregs_line_open_uptake(const dregs_line *line, unsigned tank, double time,
                                              dregs_open_content *content, char *message);
DREGS_API const dregs_target *dregs_line_target(const dregs_line *line);
DREGS_API const dregs_schedule *dregs_line_schedule(const dregs_line *line);
DREGS_API const dregs_room *dregs_line_room(const dregs_line *line);

/** Loads after which all dumps fall together again and the sequence begins anew: the least common
 *  multiple of all `dump every` and of the cycle; 1 when nothing is ever dumped and all loads are
 *  alike. */
DREGS_API unsigned long dregs_line_period(const dregs_line *line);

/** The stage, in the order of the file, that leaves the last film; -1 when none does. */
DREGS_API int dregs_line_last_wet(const dregs_line *line);

/** The liquid that a load is wet with when it leaves a wash, rinse or spray: the fresh fill of the
 *  stage's tank, what is sprayed, or that of the stage before where a stage brings none. */
DREGS_API const dregs_fluid *dregs_line_wet_with(const dregs_line *line, unsigned stage);

/** The liquid that what leaves a stage as waste is called by, and disposed of as: its own, whatever
 *  was carried into it; of a dry stage that of the wet stage before it, whose film is blown off.
 *  NULL where there is none. */
DREGS_API const dregs_fluid *dregs_line_waste_as(const dregs_line *line, unsigned stage);

/** The temperature (K) used for a stage: what it states, else the assumed DREGS_ROOM; NaN when
 *  there is no such stage. */
DREGS_API double dregs_line_temperature(const dregs_line *line, unsigned stage);

#define DREGS_ROOM 293.15 /**< K: assumed where a stage states no temperature */

/** Note number \p index (0, 1, ...) of what was assumed because the file does not state it; NULL
 *  past the end. */
DREGS_API const char *dregs_line_assumed(const dregs_line *line, unsigned index);

/** What is asked of a line. Each uses other parts of its file. */
typedef enum dregs_question {
    DREGS_ASKED_RESIDUE = 1,   /**< what is left on the parts, as dregs-predict does */
    DREGS_ASKED_SIZE = 2,      /**< the rinsing that meets the target, its use and cost */
    DREGS_ASKED_YEAR = 4,      /**< where everything goes in a year */
    DREGS_ASKED_ACTUAL = 8,    /**< a year beside what was bought, with its uncertainty */
    DREGS_ASKED_DRYING = 16,   /**< when a load is dry, and what its film leaves */
    DREGS_ASKED_READINGS = 32, /**< what a log of readings says of the line, and for how long */
    DREGS_ASKED_ALL = 63,
    DREGS_ASKED_DOUBT = 64 /**< beside one of these: how sure its answer is */
} dregs_question;

/** Note number \p index (0, 1, ...) of what the file states and none of the \p questions
 *  (dregs_question, or-ed) uses; NULL past the end. */
DREGS_API const char *dregs_line_unused(const dregs_line *line, unsigned questions, unsigned index);

/** One property of a kind, for documentation, completion and tests. */
typedef struct dregs_line_property {
    const char *kind;     /**< "load", "solute", ... */
    const char *property; /**< "parts"; ends in "<solute>" where a solute's name is written */
    const char *unit;     /**< an example of an allowed unit; "" for words */
    int required;
    unsigned used_by; /**< dregs_question, or-ed */
    double start;     /**< SI: what counts where it is not stated; NaN: nothing does */
    const char *word; /**< the same of a word; NULL: nothing does */
} dregs_line_property;

/** Property \p index (0, 1, ...) of the file's grammar; 0 past the end. */
DREGS_API int dregs_line_grammar(size_t index, dregs_line_property *property);

#ifdef __cplusplus
}
#endif
#endif
