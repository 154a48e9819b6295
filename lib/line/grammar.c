/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* grammar.c: the kinds of things a line file describes and their properties, as one table.
 *
 * The reader, the list of allowed names in messages and the check of the manual page all read it.
 */
#include "line/read.h"
#include "line/stage/stage.h"

#include <math.h>
#include <string.h>

const char *const dregs_kind_names[KINDS] = {"load",   "solute",   "liquid", "calibration",
                                             "wash",   "rinse",    "spray",  "dry",
                                             "target", "schedule", "room"};

/* The kinds of stages; a file of lib/line/stage/ for each. */
extern const struct stage_kind dregs_stage_wash, dregs_stage_rinse, dregs_stage_spray,
    dregs_stage_dry;
const struct stage_kind *const dregs_stage_kinds[DREGS_STAGE_KINDS] = {
    [DREGS_WASH] = &dregs_stage_wash,
    [DREGS_RINSE] = &dregs_stage_rinse,
    [DREGS_SPRAY] = &dregs_stage_spray,
    [DREGS_DRY] = &dregs_stage_dry,
};

#define STAGE(kind) IN(KIND_STAGE + DREGS_##kind)

#define LOAD     IN(KIND_LOAD)
#define SOLUTE   IN(KIND_SOLUTE)
#define LIQUID   IN(KIND_LIQUID)
#define METER    IN(KIND_CALIBRATION)
#define TANK     (STAGE(WASH) | STAGE(RINSE))
#define SPRAY    STAGE(SPRAY)
#define DRY      STAGE(DRY)
#define TARGET   IN(KIND_TARGET)
#define SCHEDULE IN(KIND_SCHEDULE)
#define ROOM     IN(KIND_ROOM)
#define WET      (TANK | SPRAY)

#define NOTHING NAN

/* What is asked of a line and uses the property, of the questions that say what they do not use. */
#define NONE     0
#define ALL      DREGS_ASKED_ALL
#define YEAR     (DREGS_ASKED_YEAR | DREGS_ASKED_ACTUAL)
#define COSTS    (DREGS_ASKED_SIZE | YEAR)
#define LIMIT    (DREGS_ASKED_RESIDUE | DREGS_ASKED_SIZE | DREGS_ASKED_READINGS)
#define HELD     (LIMIT | YEAR)
#define DRYING   DREGS_ASKED_DRYING
#define READINGS DREGS_ASKED_READINGS

/* name, kinds, required, used by, type, unit, where not given, place */
#define QUANTITY(name, kinds, required, used, type, unit, start, owner, field)                     \
    {                                                                                              \
        name, kinds, required, used, type, unit, NO_SOLUTE, offsetof(owner, field), start, NULL,   \
            NULL                                                                                   \
    }
/* the same for each solute, for all of them at once, for each number of a list */
#define VALUES(form, name, kinds, used, type, unit, start, owner, field)                           \
    {                                                                                              \
        name, kinds, 0, used, type, unit, form, offsetof(owner, field), start, NULL, NULL          \
    }
/* name, kinds, required, used by, reader, the word that counts where none is given, place */
#define WORD(name, kinds, required, used, read, word, owner, field)                                \
    {                                                                                              \
        name, kinds, required, used, VALUE_WORD, "", NO_SOLUTE, offsetof(owner, field), NAN, word, \
            read                                                                                   \
    }

/* clang-format off */
const struct property dregs_properties[] = {
    QUANTITY("parts", LOAD, LOAD, ALL, VALUE_COUNT, "1", NOTHING, dregs_load, parts),
    QUANTITY("area", LOAD, LOAD, ALL, VALUE_POSITIVE, "cm2", NOTHING, dregs_load, area),
    QUANTITY("extra area", LOAD, 0, ALL, VALUE_NOT_NEGATIVE, "cm2", 0, dregs_load, extra_area),
    QUANTITY("hold-up", LOAD, 0, ALL, VALUE_NOT_NEGATIVE, "mL", 0, dregs_load, hold_up),
    QUANTITY("hold-up exchange", LOAD, 0, ALL, VALUE_SHARE, "%", NOTHING, dregs_load, hold_up_exchange),
    QUANTITY("edge", LOAD, 0, ALL, VALUE_NOT_NEGATIVE, "cm", 0, dregs_load, edge),
    QUANTITY("height", LOAD, 0, ALL, VALUE_POSITIVE, "cm", NOTHING, dregs_load, height),
    QUANTITY("interval", LOAD, 0, ALL, VALUE_POSITIVE, "min", NOTHING, dregs_load, interval),
    QUANTITY("mass", LOAD, 0, DRYING | YEAR, VALUE_POSITIVE, "g", NOTHING, dregs_load, mass),
    QUANTITY("heat capacity", LOAD, 0, DRYING | YEAR, VALUE_POSITIVE, "J/(g.K)", NOTHING, dregs_load, heat_capacity),
    QUANTITY("recess area", LOAD, 0, NONE, VALUE_POSITIVE, "mm2", NOTHING, dregs_load, recess_area),
    QUANTITY("recess depth", LOAD, 0, DRYING, VALUE_POSITIVE, "mm", NOTHING, dregs_load, recess_depth),
    VALUES(ONE_SOLUTE, "on parts ", LOAD, ALL, VALUE_NOT_NEGATIVE, "mg", NOTHING, dregs_load, on_parts),

    QUANTITY("on parts", SOLUTE, 0, ALL, VALUE_NOT_NEGATIVE, "mg", 0, dregs_solute, on_parts),
    QUANTITY("conductivity", SOLUTE, 0, READINGS, VALUE_POSITIVE, "uS/cm per mg/L", NOTHING, dregs_solute, conductivity),

    QUANTITY("COD", SOLUTE, 0, YEAR, VALUE_NOT_NEGATIVE, "g/g", NOTHING, dregs_solute, demand.stated),
    QUANTITY("pH", SOLUTE, 0, YEAR, VALUE_NOT_NEGATIVE, "1", NOTHING, dregs_solute, ph),
    WORD("formula", SOLUTE, 0, YEAR, dregs_line_read_formula, NULL, dregs_solute, demand),

    WORD("electrolyte", SOLUTE, 0, READINGS, dregs_line_read_salt, NULL, dregs_solute, electrolyte),
    WORD("hazard", SOLUTE, 0, ALL, dregs_line_read_hazard, NULL, dregs_solute, hazard),

    WORD("solvent", LIQUID, LIQUID, ALL, dregs_line_read_solvent, NULL, dregs_fluid, solvent),
    QUANTITY("solvent share", LIQUID, 0, ALL, VALUE_SHARE, "%", 1, dregs_fluid, solvent_share),
    QUANTITY("price", LIQUID, 0, COSTS, VALUE_MONEY, "EUR/L", NOTHING, dregs_fluid, price),
    QUANTITY("disposal", LIQUID, 0, COSTS, VALUE_MONEY, "EUR/L", NOTHING, dregs_fluid, disposal),
    QUANTITY("COD", LIQUID, 0, YEAR, VALUE_NOT_NEGATIVE, "g/g", NOTHING, dregs_fluid, demand.stated),
    WORD("formula", LIQUID, 0, YEAR, dregs_line_read_formula, NULL, dregs_fluid, demand),
    WORD("compensation", LIQUID, 0, READINGS, dregs_line_read_compensation, "none", dregs_fluid, compensation),
    QUANTITY("temperature coefficient", LIQUID, 0, READINGS, VALUE_POSITIVE, "%/K", NOTHING, dregs_fluid, coefficient),
    QUANTITY("viscosity", LIQUID, 0, ALL, VALUE_POSITIVE, "mPa.s", NOTHING, dregs_fluid, viscosity),
    QUANTITY("surface tension", LIQUID, 0, ALL, VALUE_POSITIVE, "mN/m", NOTHING, dregs_fluid, surface_tension),
    VALUES(ONE_SOLUTE, "solubility ", LIQUID, HELD, VALUE_POSITIVE, "mg/L", NOTHING, dregs_fluid, solubility),
    VALUES(ONE_SOLUTE, "", LIQUID, ALL, VALUE_NOT_NEGATIVE, "mg/L", 0, dregs_fluid, content),

    WORD("solute", METER, METER, READINGS, dregs_line_read_whose, NULL, dregs_scale, solute),
    VALUES(NUMBERED, "reading ", METER, READINGS, VALUE_READING, "", NOTHING, dregs_scale, reading),
    VALUES(NUMBERED, "concentration ", METER, READINGS, VALUE_NOT_NEGATIVE, "g/L", NOTHING, dregs_scale, concentration),

    /* a tank's own; required of a stage that does not share another's tank */
    QUANTITY("volume", TANK, 0, ALL, VALUE_POSITIVE, "L", NOTHING, dregs_stage, volume),
    QUANTITY("volume", DRY, 0, DRYING, VALUE_POSITIVE, "L", NOTHING, dregs_stage, volume),
    WORD("liquid", WET, SPRAY, ALL, dregs_line_read_liquid, NULL, dregs_stage, liquid),
    QUANTITY("temperature", WET | DRY, DRY, ALL, VALUE_TEMPERATURE, "degC", NOTHING, dregs_stage, temperature),
    QUANTITY("flow", TANK, 0, ALL, VALUE_NOT_NEGATIVE, "L/h", 0, dregs_stage, flow),
    WORD("feed", TANK, 0, ALL, dregs_line_read_liquid, NULL, dregs_stage, feed),
    WORD("overflow to", TANK, 0, ALL, dregs_line_read_tank_or_drain, "drain", dregs_stage, overflow_to),
    WORD("top up from", TANK, 0, ALL, dregs_line_read_liquid_or_tank, NULL, dregs_stage, top_up_from),
    QUANTITY("dump every", TANK, 0, ALL, VALUE_COUNT, "1", NOTHING, dregs_stage, dump_every),
    WORD("dump at", TANK, 0, ALL, dregs_line_read_dump_at, NULL, dregs_stage, dump_at),
    WORD("refill from", TANK, 0, ALL, dregs_line_read_tank, NULL, dregs_stage, refill_from),
    QUANTITY("reclaim", TANK, 0, YEAR, VALUE_SHARE, "%", 0, dregs_stage, reclaim),
    QUANTITY("evaporation", TANK, 0, ALL, VALUE_NOT_NEGATIVE, "L/h", 0, dregs_stage, evaporation),
    QUANTITY("open area", TANK, 0, ALL, VALUE_NOT_NEGATIVE, "m2", NOTHING, dregs_stage, open_area),
    QUANTITY("covered", TANK, 0, ALL, VALUE_SHARE, "%", 0, dregs_stage, covered),
    QUANTITY("covered idle", TANK, 0, YEAR, VALUE_SHARE, "%", NOTHING, dregs_stage, covered_idle),
    QUANTITY("idle temperature", TANK, 0, YEAR, VALUE_TEMPERATURE, "degC", NOTHING, dregs_stage, idle_temperature),
    QUANTITY("perimeter", TANK, 0, ALL, VALUE_POSITIVE, "m", NOTHING, dregs_stage, perimeter),
    QUANTITY("freeboard", TANK, 0, ALL, VALUE_NOT_NEGATIVE, "cm", NOTHING, dregs_stage, freeboard),
    QUANTITY("heating efficiency", TANK | DRY, 0, YEAR, VALUE_SHARE, "%", NOTHING, dregs_stage, heating_efficiency),
    QUANTITY("CO2 factor", TANK | DRY, 0, YEAR, VALUE_NOT_NEGATIVE, "kg/kWh", NOTHING, dregs_stage, co2_factor),
    QUANTITY("ultrasonic power", TANK, 0, ALL, VALUE_POSITIVE, "W", NOTHING, dregs_stage, ultrasonic_power),
    QUANTITY("ultrasonic CO2 factor", TANK, 0, YEAR, VALUE_NOT_NEGATIVE, "kg/kWh", NOTHING, dregs_stage, ultrasonic_co2_factor),
    QUANTITY("wall loss", TANK, 0, ALL, VALUE_POSITIVE, "W/K", NOTHING, dregs_stage, wall_loss),
    QUANTITY("water bath", TANK, 0, ALL, VALUE_POSITIVE, "L", NOTHING, dregs_stage, water_bath),
    QUANTITY("bath coupling", TANK, 0, ALL, VALUE_POSITIVE, "W/K", NOTHING, dregs_stage, bath_coupling),
    VALUES(ONE_SOLUTE, "clearing ", TANK, ALL, VALUE_NOT_NEGATIVE, "L/h", 0, dregs_stage, clearing),
    QUANTITY("capacity", TANK, 0, HELD, VALUE_POSITIVE, "g", NOTHING, dregs_stage, capacity),
    QUANTITY("change every", TANK, 0, HELD, VALUE_COUNT, "1", NOTHING, dregs_stage, change_every),
    QUANTITY("change price", TANK, 0, YEAR, VALUE_PRICE, "EUR", NOTHING, dregs_stage, change_price),
    QUANTITY("air speed", TANK, 0, ALL, VALUE_NOT_NEGATIVE, "m/s", NOTHING, dregs_stage, air_speed),
    QUANTITY("air speed", DRY, 0, DRYING, VALUE_NOT_NEGATIVE, "m/s", NOTHING, dregs_stage, air_speed),

    /* a visit's */
    WORD("shares tank with", TANK, 0, ALL, dregs_line_read_tank, NULL, dregs_stage, shares),
    QUANTITY("exchange", TANK, 0, ALL, VALUE_SHARE, "%", 1, dregs_stage, exchange),
    QUANTITY("hold-up exchange", WET | DRY, 0, ALL, VALUE_SHARE, "%", NOTHING, dregs_stage, hold_up_exchange),
    VALUES(ALL_SOLUTES, "removal", TANK, ALL, VALUE_SHARE, "%", 0, dregs_stage, removal),
    VALUES(ONE_SOLUTE, "removal ", TANK, ALL, VALUE_SHARE, "%", 0, dregs_stage, removal),
    VALUES(ONE_SOLUTE, "most ", TANK, HELD, VALUE_POSITIVE, "g/L", NOTHING, dregs_stage, most),
    VALUES(ONE_SOLUTE, "least ", TANK, HELD, VALUE_POSITIVE, "g/L", NOTHING, dregs_stage, least),
    QUANTITY("most dissolved", TANK, 0, HELD, VALUE_POSITIVE, "g/L", NOTHING, dregs_stage, most_dissolved),
    QUANTITY("film", WET, 0, ALL, VALUE_POSITIVE, "um", NOTHING, dregs_stage, film),
    QUANTITY("drag-out", WET, 0, ALL, VALUE_POSITIVE, "mL/m2", NOTHING, dregs_stage, drag_out),
    WORD("drag-out class", WET, 0, ALL, dregs_line_read_class, NULL, dregs_stage, drag_out_class),
    VALUES(ONE_LOAD, "drag-out ", WET, ALL, VALUE_POSITIVE, "mL/m2", NOTHING, dregs_stage, drag_out_of),
    QUANTITY("withdrawal speed", WET, 0, ALL, VALUE_POSITIVE, "cm/s", NOTHING, dregs_stage, withdrawal_speed),
    QUANTITY("drain time", WET, 0, ALL, VALUE_NOT_NEGATIVE, "s", 0, dregs_stage, drain_time),
    WORD("film law", WET, 0, ALL, dregs_line_read_law, "plate", dregs_stage, law_row),

    QUANTITY("use", SPRAY, SPRAY, ALL, VALUE_POSITIVE, "L", NOTHING, dregs_stage, use),
    QUANTITY("mixing", SPRAY, 0, ALL, VALUE_SHARE, "%", 1, dregs_stage, mixing),
    WORD("runoff to", SPRAY, 0, ALL, dregs_line_read_tank_or_drain, "drain", dregs_stage, runoff_to),

    WORD("air", DRY, 0, DRYING, dregs_line_read_air, NULL, dregs_stage, air),
    QUANTITY("nozzle diameter", DRY, 0, DRYING, VALUE_POSITIVE, "mm", NOTHING, dregs_stage, nozzle),
    QUANTITY("nozzle distance", DRY, 0, DRYING, VALUE_POSITIVE, "mm", NOTHING, dregs_stage, nozzle_distance),
    QUANTITY("nozzle pitch", DRY, 0, DRYING, VALUE_POSITIVE, "mm", NOTHING, dregs_stage, nozzle_pitch),
    QUANTITY("humidity", DRY, 0, DRYING, VALUE_SHARE, "%", NOTHING, dregs_stage, humidity),
    QUANTITY("blow-off", DRY, 0, ALL, VALUE_SHARE, "%", 0, dregs_stage, blow_off),
    WORD("blow-off to", DRY, 0, COSTS, dregs_line_read_drain_or_waste, "drain", dregs_stage, blow_off_to),
    QUANTITY("fresh air", DRY, 0, ALL, VALUE_NOT_NEGATIVE, "m3/h", NOTHING, dregs_stage, fresh_air),

    QUANTITY("residue", TARGET, 0, LIMIT, VALUE_POSITIVE, "ug/cm2", NOTHING, dregs_target, residue),
    VALUES(ONE_SOLUTE, "residue ", TARGET, LIMIT, VALUE_POSITIVE, "ug/cm2", NOTHING, dregs_target, of_solute),
    VALUES(ONE_SOLUTE, "concentration ", TARGET, LIMIT, VALUE_POSITIVE, "mg/L", NOTHING, dregs_target, concentration),
    QUANTITY("non-volatile residue", TARGET, 0, LIMIT, VALUE_POSITIVE, "mg/L", NOTHING, dregs_target, dissolved),
    QUANTITY("rinse ratio", TARGET, 0, LIMIT, VALUE_POSITIVE, "1", NOTHING, dregs_target, ratio),
    QUANTITY("conductivity", TARGET, 0, LIMIT, VALUE_POSITIVE, "uS/cm", NOTHING, dregs_target, conductivity),
    WORD("measured in", TARGET, 0, LIMIT, dregs_line_read_tank, NULL, dregs_target, measured_in),
    WORD("level", TARGET, 0, LIMIT, dregs_line_read_level, NULL, dregs_target, level),
    QUANTITY("share of loads", TARGET, 0, DREGS_ASKED_RESIDUE, VALUE_SHARE, "%", NOTHING, dregs_target, share_of_loads),
    QUANTITY("confidence", TARGET, 0, READINGS, VALUE_SHARE, "%", NOTHING, dregs_target, confidence),

    WORD("sequence", SCHEDULE, 0, ALL, dregs_line_read_sequence, NULL, dregs_schedule, sequence_row),
    QUANTITY("loads per shift", SCHEDULE, 0, COSTS, VALUE_COUNT, "1", NOTHING, dregs_schedule, loads_per_shift),
    QUANTITY("shifts per day", SCHEDULE, 0, YEAR, VALUE_COUNT, "1", NOTHING, dregs_schedule, shifts_per_day),
    QUANTITY("days per year", SCHEDULE, 0, YEAR, VALUE_COUNT, "1", NOTHING, dregs_schedule, days_per_year),
    QUANTITY("days per week", SCHEDULE, 0, YEAR, VALUE_COUNT, "1", NOTHING, dregs_schedule, days_per_week),
    WORD("weekdays", SCHEDULE, 0, YEAR, dregs_line_read_weekdays, NULL, dregs_schedule, weekdays),
    QUANTITY("shift length", SCHEDULE, 0, YEAR, VALUE_POSITIVE, "h", NOTHING, dregs_schedule, shift_length),
    WORD("idle flow", SCHEDULE, 0, YEAR, dregs_line_read_on_off, "", dregs_schedule, idle_flow),
    WORD("idle heating", SCHEDULE, 0, YEAR, dregs_line_read_on_off, "", dregs_schedule, idle_heating),
    QUANTITY("covered idle", SCHEDULE, 0, YEAR, VALUE_SHARE, "%", NOTHING, dregs_schedule, covered_idle),

    QUANTITY("temperature", ROOM, 0, ALL, VALUE_TEMPERATURE, "degC", NOTHING, dregs_room, temperature),
    QUANTITY("humidity", ROOM, 0, ALL, VALUE_SHARE, "%", NOTHING, dregs_room, humidity),
    QUANTITY("dew point", ROOM, 0, ALL, VALUE_TEMPERATURE, "degC", NOTHING, dregs_room, dew_point),
};
/* clang-format on */

const size_t dregs_property_count = sizeof dregs_properties / sizeof dregs_properties[0];

int dregs_line_kind_is_stage(enum item_kind kind)
{
    return kind >= KIND_STAGE && kind < KIND_TARGET;
}

int dregs_line_kind_is(enum item_kind kind, unsigned traits)
{
    return dregs_line_kind_is_stage(kind) &&
           (dregs_stage_kinds[kind - KIND_STAGE]->traits & traits) == traits;
}

int dregs_line_grammar(size_t index, dregs_line_property *property)
{
    static const char *const open_ended[][2] = {{"", "<solute>"},
                                                {"on parts ", "on parts <solute>"},
                                                {"drag-out ", "drag-out <load>"},
                                                {"removal ", "removal <solute>"},
                                                {"clearing ", "clearing <solute>"},
                                                {"residue ", "residue <solute>"},
                                                {"most ", "most <solute>"},
                                                {"least ", "least <solute>"},
                                                {"solubility ", "solubility <solute>"},
                                                {"reading ", "reading <number>"},
                                                {"concentration ", "concentration <number>"}};
    size_t i, k, at = 0;

    for (k = 0; k < KINDS; k++)
        for (i = 0; i < dregs_property_count; i++) {
            const struct property *p = &dregs_properties[i];
            if (!(p->kinds & IN(k)) || at++ != index)
                continue;
            property->kind = dregs_kind_names[k];
            property->property = p->name;
            property->unit = p->unit;
            property->required = (p->required & IN(k)) != 0;
            property->used_by = p->used_by;
            property->start = p->start;
            property->word = p->word && *p->word ? p->word : NULL;
            if (dregs_line_is_open(p))
                for (i = 0; i < sizeof open_ended / sizeof open_ended[0]; i++)
                    if (strcmp(open_ended[i][0], p->name) == 0)
                        property->property = open_ended[i][1];
            return 1;
        }
    return 0;
}
