/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* line.h: what the items of a line consist of, for the rooms above; not installed, so that a
 * property more breaks nobody who only points to them.
 *
 * A value that the file did not give has `row` 0; its `si` is NaN, or the default that the page
 * states.
 */
#ifndef DREGS_LINE_LINE_H
#define DREGS_LINE_LINE_H

#include "dregs/dry.h"
#include "dregs/line.h"

/** Something that a row refers to by name. */
typedef enum dregs_link_kind {
    DREGS_LINK_NONE,
    DREGS_LINK_DRAIN,
    DREGS_LINK_LIQUID,
    DREGS_LINK_STAGE,
    DREGS_LINK_WASTE /**< collected as waste */
} dregs_link_kind;

typedef struct dregs_link {
    dregs_link_kind kind;
    unsigned index; /**< of the liquid or the stage */
    unsigned row;   /**< 0: a default */
} dregs_link;

/** A load: equal parts in a basket or on a rack. */
struct dregs_load {
    const char *name;
    unsigned row;
    dregs_value parts;         /**< number */
    dregs_value area;          /**< m2 per part */
    dregs_value extra_area;    /**< m2 of basket or rack per load, 0 by default */
    dregs_value hold_up;       /**< m3 trapped per part, 0 by default */
    dregs_value edge;          /**< m of lower edge per part, 0 by default */
    dregs_value height;        /**< m drained */
    dregs_value interval;      /**< s between loads */
    dregs_value mass;          /**< kg per part */
    dregs_value heat_capacity; /**< J/(kg K) */
    dregs_value recess_area;   /**< m2 */
    dregs_value recess_depth;  /**< m */
    dregs_value
        hold_up_exchange;  /**< 0..1 of the trapped liquid, see dregs_line_hold_up_exchange */
    dregs_value *on_parts; /**< kg of each solute that arrives per part; NaN: as the solute says */
};

/** Oxygen that it takes to burn a substance, kg per kg: stated, or of its molecular formula. */
typedef struct dregs_demand {
    dregs_value stated;
    double of_formula;    /**< not read where there is no formula */
    unsigned formula_row; /**< 0: none */
} dregs_demand;

struct dregs_solute {
    const char *name;
    unsigned row;
    dregs_value on_parts;                 /**< kg per part that arrives, 0 by default */
    dregs_value conductivity;             /**< S/m per kg/m3, at 25 degC */
    const dregs_electrolyte *electrolyte; /**< the salt it is for a meter; NULL when not stated */
    unsigned electrolyte_row;
    dregs_hazard hazard; /**< DREGS_HAZARD_UNSTATED by default */
    dregs_demand demand;
    dregs_value ph; /**< of 10 kg/m3 of it in water */
};

/** A liquid of the line: a solvent with what is dissolved in it when fresh. */
struct dregs_fluid {
    const char *name;
    unsigned row;
    const char *solvent; /**< a name of the liquid data */
    unsigned solvent_row;
    dregs_value solvent_share;       /**< by mass, the rest is water; 1 by default */
    dregs_value price;               /**< currency per m3 */
    dregs_value disposal;            /**< currency per m3 */
    dregs_value *content;            /**< kg/m3 of each solute, 0 by default */
    dregs_value *solubility;         /**< kg/m3 of each solute, the most that stays dissolved */
    dregs_compensation compensation; /**< of its conductivity; none by default */
    unsigned compensation_row;
    dregs_value coefficient;     /**< 1/K, of linear compensation */
    dregs_value viscosity;       /**< Pa.s, of the bath as it is; of the solvent where not stated */
    dregs_value surface_tension; /**< N/m, likewise */
    dregs_demand demand;         /**< of its solvent */
};

/** What a meter of the user's own reads at known concentrations: a refractometer, a turbidity
 *  meter. Its item's name is the quantity that readings name. */
struct dregs_scale {
    const char *name;
    unsigned row;
    int solute;                 /**< whose concentration it is; -1: of all solutes together */
    unsigned of_row;            /**< the row that says so; 0: not in the file */
    const char *unit;           /**< of the readings, the meter's own */
    dregs_value *reading;       /**< DREGS_CALIBRATION_MOST of them, as written */
    dregs_value *concentration; /**< kg/m3 */
    dregs_calibration curve;
};

/** How the film left by a stage is stated. */
typedef enum dregs_film_way {
    DREGS_FILM_NONE,     /**< dry: no liquid leaves */
    DREGS_FILM_STATED,   /**< `film` */
    DREGS_FILM_DRAG_OUT, /**< `drag-out` */
    DREGS_FILM_CLASS,    /**< `drag-out class` */
    DREGS_FILM_LAW,      /**< `withdrawal speed`, plate law */
    DREGS_FILM_KUSHNER   /**< `withdrawal speed` with `film law` kushner */
} dregs_film_way;

/** The end of what a tank is dumped at, where the file names it. */
typedef enum dregs_dump_at {
    DREGS_DUMP_AT_LOADS, /**< by `dump every`, or never */
    DREGS_DUMP_AT_SHIFT,
    DREGS_DUMP_AT_DAY,
    DREGS_DUMP_AT_WEEK
} dregs_dump_at;

/** What the file says of a stage. */
struct dregs_stage {
    const char *name;
    unsigned row;
    dregs_stage_kind kind;
    int tank;          /**< of an immersion stage; -1 for spray and dry */
    dregs_link shares; /**< the earlier stage whose tank this one visits */
    dregs_link liquid, feed;
    dregs_value volume;      /**< m3 */
    dregs_value temperature; /**< K */
    dregs_value flow;        /**< m3/s of fresh feed, 0 by default */
    dregs_link overflow_to;  /**< drain by default */
    dregs_link top_up_from;  /**< the feed by default */
    dregs_value exchange;    /**< 0..1, 1 by default */
    dregs_value *removal;    /**< 0..1 of each solute */
    dregs_value *clearing;   /**< m3/s freed of each solute, 0 by default */
    dregs_film_way film_way;
    dregs_value film, drag_out;   /**< m */
    dregs_value *drag_out_of;     /**< m, of each kind of load that has its own */
    dregs_value withdrawal_speed; /**< m/s */
    dregs_value drain_time;       /**< s, 0 by default */
    const dregs_drag_out_class *drag_out_class;
    unsigned class_row, law_row;
    dregs_value dump_every; /**< loads; of `dump at` those of the schedule's shift, day or week */
    dregs_link refill_from;
    dregs_value evaporation; /**< m3/s of liquid, 0 by default */
    dregs_value open_area;   /**< m2 */
    dregs_value air_speed;   /**< m/s */
    dregs_value covered;     /**< share of the time, 0 by default */
    dregs_value perimeter;   /**< m, of the open surface; a square's */
    dregs_value freeboard;   /**< m, from the liquid up to the rim */
    dregs_value use;         /**< m3 sprayed per load */
    dregs_value mixing;      /**< 0..1, 1 by default */
    dregs_link runoff_to;    /**< drain by default */
    dregs_value humidity;    /**< 0..1 */
    dregs_value blow_off;    /**< 0..1, 0 by default */
    dregs_value fresh_air;   /**< m3/s */
    dregs_dump_at dump_at;
    dregs_value reclaim; /**< 0..1 of its own liquid that is dumped or drained and comes back from
                              a still as fresh liquid, 0 by default */
    dregs_link blow_off_to;     /**< drain by default, or waste: a catch tank */
    dregs_value *most, *least;  /**< kg/m3 of each solute: within these the stage does what its rows
                                     say */
    dregs_value most_dissolved; /**< kg/m3 of all solutes, likewise */
    dregs_air_flow air;         /**< how the air meets the wet face; laminar by default */
    unsigned air_row;
    dregs_value nozzle, nozzle_distance, nozzle_pitch; /**< m, of a jet */
    dregs_value ultrasonic_power;                      /**< W */
    dregs_value heating_efficiency;    /**< heat over the energy that its heater takes, 0..1 */
    dregs_value co2_factor;            /**< kg of CO2 per J of that energy */
    dregs_value ultrasonic_co2_factor; /**< kg of CO2 per J of that electricity */
    dregs_value wall_loss;             /**< W/K to the room, see dregs_line_wall_loss */
    dregs_value water_bath;    /**< m3 of water that the tank stands in, and that takes the power */
    dregs_value capacity;      /**< kg of all that the clearing takes until it is exhausted */
    dregs_value change_every;  /**< loads after which its unit is changed */
    dregs_value change_price;  /**< currency for each change, the old unit's disposal in it */
    dregs_value bath_coupling; /**< W/K from it, see dregs_line_bath_coupling */
    dregs_value hold_up_exchange; /**< 0..1 of the trapped liquid, likewise of the stage */
    dregs_value covered_idle;     /**< share of the idle time; NaN: as the schedule says */
    dregs_value idle_temperature; /**< K, outside the shifts; NaN: as the schedule says */
};

/** Does a solute arrive on the parts of any load? */
int dregs_line_arrives(const dregs_line *line, unsigned solute);

/** Is the solvent of a liquid of the line water, by its class? Not where that is not known. */
int dregs_line_is_water(const dregs_line *line, const dregs_fluid *fluid);

/** W/K that the walls of a tank, or of the water bath around it, lose to the room; and that pass
 *  from that bath into the tank: stated, or assumed. */
double dregs_line_wall_loss(const dregs_stage *stage);
double dregs_line_bath_coupling(const dregs_stage *stage);

/* trapped.c: 1 where a row says how trapped liquid exchanges: it is then followed beside the film;
 * else it counts with it. */
int dregs_line_traps(const dregs_line *line);
/** Does the note of a row begin with "assumed"? */
int dregs_line_is_marked(const dregs_line *line, unsigned row);
/** How many numbers the file states, and how many of them it marks so itself. */
unsigned dregs_line_numbers(const dregs_line *line, unsigned *marked);
/** The share of the trapped liquid that takes part in a stage: the stage's, else the load's, else
 *  the `exchange` of a stage with a tank; NULL: all of it. */
const dregs_value *dregs_line_hold_up_exchange(const dregs_line *line, unsigned index);
/** Residue, kg per m2 of part, of a kg of solute in a load's last film: the share of that film that
 *  is on the parts, over their area. */
double dregs_line_left_of_film(const dregs_line *line);
/** The same of a kg in trapped liquid: all of it is on the parts. */
double dregs_line_left_of_trapped(const dregs_line *line);

struct dregs_target {
    const char *name; /**< NULL when the line has no target */
    unsigned row;
    dregs_value residue;        /**< kg/m2 of all solutes, also when stated as a level */
    const char *level;          /**< the level as written, NULL when not stated so */
    dregs_value *of_solute;     /**< kg/m2 of each solute */
    dregs_value confidence;     /**< 0..1 */
    dregs_value share_of_loads; /**< 0..1 that must meet it, where values vary from load to load */
    /* of the liquid in the last film, or in the tank of `measured in` */
    dregs_value *concentration; /**< kg/m3 of each solute, at most */
    dregs_value dissolved;      /**< kg/m3 of all solutes, at most */
    dregs_value ratio;          /**< of all solutes, behind the last wash over here, at least */
    dregs_value conductivity;   /**< S/m at 25 degC, at most */
    dregs_link measured_in;     /**< DREGS_LINK_NONE: the last film */
};

struct dregs_schedule {
    const char *name; /**< NULL when the line has none */
    unsigned row;
    dregs_value loads_per_shift, shifts_per_day, days_per_year;
    unsigned sequence_row; /**< see dregs_line_kind_at; 0: all loads are alike */
    int idle_flow;         /**< 1 on, 0 off, -1 not stated */
    dregs_value days_per_week;
    unsigned weekdays; /**< bit 0: Monday; 0: not stated. Where the days per week are not
                            stated these are as many */
    unsigned weekdays_row;
    dregs_value shift_length; /**< s */
    int idle_heating;         /**< of the baths: 1 on, 0 off, -1 not stated */
    dregs_value covered_idle; /**< share of the idle time; NaN: as `covered` of each tank */
};

struct dregs_room {
    const char *name; /**< NULL when the line has none */
    unsigned row;
    dregs_value temperature; /**< K, of its air */
    dregs_value humidity;    /**< 0..1 */
    dregs_value dew_point;   /**< K, in place of the humidity */
};

/* What kind of number a row states. */
typedef enum dregs_number_form {
    DREGS_FORM_NONE, /* a word, a price, a meter's reading, what the target asks for */
    DREGS_FORM_QUANTITY,
    DREGS_FORM_SHARE, /* 0..1 */
    DREGS_FORM_TEMPERATURE,
    DREGS_FORM_COUNT
} dregs_number_form;
dregs_number_form dregs_line_number_form(const dregs_line *line, unsigned row);

/** Does the file state the temperature of a stage, or of the one whose tank it visits? */
int dregs_line_temperature_stated(const dregs_line *line, unsigned index);

/* evaporate.c: K of a bath within the shifts, or outside of them. */
double dregs_line_bath_temperature(const dregs_line *line, unsigned stage, int idle);

/* room.c: the air of the room. K, stated or DREGS_ROOM; */
double dregs_room_temperature(const dregs_line *line);
/* 0..1, as stated or by the dew point stated; NaN where neither is. */
double dregs_room_humidity(const dregs_line *line);
int dregs_room_states_humidity(const dregs_line *line);

/* drying.c: what a line tells of a drying. */
struct dregs_line_drying {
    dregs_dry_case film; /* all but its masses; NaN for what is not told */
    double dew_point;    /* K, of the room, in place of the humidity; NaN for none */
    int flow_told;
    const char *solvent;
    double water;     /* its share of the film by mass, 0..1 */
    double thickness; /* m, of the film */
    double bead;      /* m2 per length of edge; 0: none, NaN: not known */
    double depth;     /* m, of a recess; 0: none, NaN: not known */
};
/* Of the film of stage `wet`, of which the share `left` comes to dry in stage `index`: air blows as
 * much of the bead off. */
void dregs_line_drying_of(const dregs_line *line, unsigned index, unsigned wet, double left,
                          struct dregs_line_drying *told);

/* The wet stage that a dry one takes its film over from, with only dry ones between: an air knife
 * before an oven leaves film to it. The dry stage itself where there is none. \param left  the
 * share of the film that these and itself do not blow off. */
unsigned dregs_line_drying_from(const dregs_line *line, unsigned index, double *left);
/* 1: no dry stage follows at once, so that what this one leaves wet stays so. */
int dregs_line_drying_ends(const dregs_line *line, unsigned index);

/** Which property of a stage counts as 100 % though its file does not state it and a film comes in:
 *  "exchange", "mixing", or NULL for none. */
const char *dregs_line_ideal(const dregs_line *line, unsigned stage);

/* How a line is run, where no value of a file can say it. */
struct practice {
    const double *drag_out; /* for every stage: factor > 0 on the film that it leaves, however that
                               came about; NULL: 1 */
    const unsigned char
        *by_hand;   /* for every stage, 1: its dumps are not followed; NULL: all are */
    int any_period; /* 1: the dumps may fall together again as late as 2^62 loads; such a line is
                       for questions of single loads alone */
};

/** As dregs_line_with, of a line that is run in another way than the file can say. */
dregs_status dregs_line_run_as(const dregs_line *line, const dregs_setting *settings, size_t count,
                               const struct practice *practice, dregs_line **changed,
                               dregs_faults *faults);

/** As dregs_line_with, of one draw of many: what is assumed of it is not worked out anew,
 *  dregs_line_assumed lists that of \p line.
 *  \param off  a table whose properties are off, of dregs_liquids_off of the line's own; on success
 *  it is the changed line's, and freed with it. NULL: none are. */
dregs_status dregs_line_drawn(const dregs_line *line, dregs_liquids *off,
                              const dregs_setting *settings, size_t count, dregs_line **changed,
                              dregs_faults *faults);

/** The properties of its liquids that the films and open surfaces of a line are worked out with,
 *  some of them more than once.
 *  \param questions  dregs_question, or-ed; that of drying alone takes nothing of open surfaces.
 *  \param taken      room for all of them; NULL: they are only counted. */
unsigned dregs_line_taken(const dregs_line *line, unsigned questions, dregs_liquid_property *taken);

/** A part of a joined line, and where its own stand in it. */
struct dregs_line_part {
    const dregs_line *line;
    unsigned stage, tank; /**< the first one */
    unsigned *fluid, *solute;
};
/** Joins draws of the parts of a joined line, in their order, as that one has joined them: its
 *  stages, liquids and solutes have the numbers of those. Nothing is noted of what is assumed.
 *  Both the joined line that is stated and the parts outlive it. \return DREGS_OK;
 *  DREGS_NO_MEMORY. */
dregs_status dregs_line_join_as(const dregs_line *stated, const dregs_line *const *part,
                                dregs_line **joined);
/** The parts of a joined line; none of one of a file. */
unsigned dregs_line_parts(const dregs_line *line, const struct dregs_line_part **part);
/** The part that a stage of a joined line is of; NULL for a line of a file. */
const struct dregs_line_part *dregs_line_part_of(const dregs_line *line, unsigned stage);

/** 1: the schedule states what a week needs: loads per shift, shifts per day, days per week; not of
 *  loads of several kinds. */
int dregs_line_has_week(const dregs_line *line);

/** What the value of a row can be, for its distribution. */
typedef enum dregs_nature {
    DREGS_NATURE_NOT_NEGATIVE,
    DREGS_NATURE_SHARE, /**< 0 to 1 */
    DREGS_NATURE_COUNT, /**< a whole number from 1 on */
    DREGS_NATURE_ANY    /**< a temperature, a reading of a meter's own */
} dregs_nature;

/** Of a row that states a quantity. */
dregs_nature dregs_line_nature(const dregs_line *line, unsigned row);
/** The questions (dregs_question, or-ed) that use what a row states. */
unsigned dregs_line_row_used_by(const dregs_line *line, unsigned row);

#endif
