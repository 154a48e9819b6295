/* SPDX-License-Identifier: GPL-3.0-or-later */
/* grammar.c: the kinds of things a line file describes and their properties, as one table.
 *
 * The reader, the list of allowed names in messages and the check of the manual page all read it.
 */
#include "line/line.h"
#include "line/stage/stage.h"

#include <string.h>

const char *const dregs_kind_names[KINDS] = {"load",   "solute",  "liquid", "calibration",
                                             "wash",   "rinse",   "spray",  "dry",
                                             "target", "schedule"};

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
#define WET      (TANK | SPRAY)

#define AT(type, field) offsetof(type, field)

/* clang-format off */
const struct property dregs_properties[] = {
    /* name, kinds, required, type, unit, form, offset */
    {"parts", LOAD, LOAD, VALUE_COUNT, "1", NO_SOLUTE, AT(dregs_load, parts)},
    {"area", LOAD, LOAD, VALUE_POSITIVE, "cm2", NO_SOLUTE, AT(dregs_load, area)},
    {"extra area", LOAD, 0, VALUE_NOT_NEGATIVE, "cm2", NO_SOLUTE, AT(dregs_load, extra_area)},
    {"hold-up", LOAD, 0, VALUE_NOT_NEGATIVE, "mL", NO_SOLUTE, AT(dregs_load, hold_up)},
    {"edge", LOAD, 0, VALUE_NOT_NEGATIVE, "cm", NO_SOLUTE, AT(dregs_load, edge)},
    {"height", LOAD, 0, VALUE_POSITIVE, "cm", NO_SOLUTE, AT(dregs_load, height)},
    {"interval", LOAD, LOAD, VALUE_POSITIVE, "min", NO_SOLUTE, AT(dregs_load, interval)},
    {"mass", LOAD, 0, VALUE_POSITIVE, "g", NO_SOLUTE, AT(dregs_load, mass)},
    {"heat capacity", LOAD, 0, VALUE_POSITIVE, "J/(g.K)", NO_SOLUTE, AT(dregs_load, heat_capacity)},
    {"recess area", LOAD, 0, VALUE_POSITIVE, "mm2", NO_SOLUTE, AT(dregs_load, recess_area)},
    {"recess depth", LOAD, 0, VALUE_POSITIVE, "mm", NO_SOLUTE, AT(dregs_load, recess_depth)},

    {"on parts", SOLUTE, 0, VALUE_NOT_NEGATIVE, "mg", NO_SOLUTE, AT(dregs_solute, on_parts)},
    {"conductivity", SOLUTE, 0, VALUE_POSITIVE, "uS/cm per mg/L", NO_SOLUTE, AT(dregs_solute, conductivity)},

    {"electrolyte", SOLUTE, 0, VALUE_SALT, "", NO_SOLUTE, AT(dregs_solute, electrolyte)},

    {"solvent", LIQUID, LIQUID, VALUE_SOLVENT, "", NO_SOLUTE, AT(dregs_fluid, solvent)},
    {"solvent share", LIQUID, 0, VALUE_SHARE, "%", NO_SOLUTE, AT(dregs_fluid, solvent_share)},
    {"price", LIQUID, 0, VALUE_MONEY, "EUR/L", NO_SOLUTE, AT(dregs_fluid, price)},
    {"disposal", LIQUID, 0, VALUE_MONEY, "EUR/L", NO_SOLUTE, AT(dregs_fluid, disposal)},
    {"compensation", LIQUID, 0, VALUE_COMPENSATION, "", NO_SOLUTE, AT(dregs_fluid, compensation)},
    {"temperature coefficient", LIQUID, 0, VALUE_POSITIVE, "%/K", NO_SOLUTE, AT(dregs_fluid, coefficient)},
    {"", LIQUID, 0, VALUE_NOT_NEGATIVE, "mg/L", ONE_SOLUTE, AT(dregs_fluid, content)},

    {"solute", METER, METER, VALUE_SOLUTE_OR_TOTAL, "", NO_SOLUTE, AT(dregs_scale, solute)},
    {"reading ", METER, 0, VALUE_READING, "", NUMBERED, AT(dregs_scale, reading)},
    {"concentration ", METER, 0, VALUE_NOT_NEGATIVE, "g/L", NUMBERED, AT(dregs_scale, concentration)},

    /* a tank's own; required of a stage that does not share another's tank */
    {"volume", TANK | DRY, 0, VALUE_POSITIVE, "L", NO_SOLUTE, AT(dregs_stage, volume)},
    {"liquid", WET, SPRAY, VALUE_LIQUID, "", NO_SOLUTE, AT(dregs_stage, liquid)},
    {"temperature", WET | DRY, DRY, VALUE_TEMPERATURE, "degC", NO_SOLUTE, AT(dregs_stage, temperature)},
    {"flow", TANK, 0, VALUE_NOT_NEGATIVE, "L/h", NO_SOLUTE, AT(dregs_stage, flow)},
    {"feed", TANK, 0, VALUE_LIQUID, "", NO_SOLUTE, AT(dregs_stage, feed)},
    {"overflow to", TANK, 0, VALUE_STAGE_OR_DRAIN, "", NO_SOLUTE, AT(dregs_stage, overflow_to)},
    {"top up from", TANK, 0, VALUE_LIQUID_OR_STAGE, "", NO_SOLUTE, AT(dregs_stage, top_up_from)},
    {"dump every", TANK, 0, VALUE_COUNT, "1", NO_SOLUTE, AT(dregs_stage, dump_every)},
    {"dump at", TANK, 0, VALUE_DUMP_AT, "", NO_SOLUTE, AT(dregs_stage, dump_at)},
    {"refill from", TANK, 0, VALUE_STAGE, "", NO_SOLUTE, AT(dregs_stage, refill_from)},
    {"reclaim", TANK, 0, VALUE_SHARE, "%", NO_SOLUTE, AT(dregs_stage, reclaim)},
    {"evaporation", TANK, 0, VALUE_NOT_NEGATIVE, "L/h", NO_SOLUTE, AT(dregs_stage, evaporation)},
    {"open area", TANK, 0, VALUE_NOT_NEGATIVE, "m2", NO_SOLUTE, AT(dregs_stage, open_area)},
    {"covered", TANK, 0, VALUE_SHARE, "%", NO_SOLUTE, AT(dregs_stage, covered)},
    {"clearing ", TANK, 0, VALUE_NOT_NEGATIVE, "L/h", ONE_SOLUTE, AT(dregs_stage, clearing)},
    {"air speed", TANK | DRY, 0, VALUE_NOT_NEGATIVE, "m/s", NO_SOLUTE, AT(dregs_stage, air_speed)},

    /* a visit's */
    {"shares tank with", TANK, 0, VALUE_STAGE, "", NO_SOLUTE, AT(dregs_stage, shares)},
    {"exchange", TANK, 0, VALUE_SHARE, "%", NO_SOLUTE, AT(dregs_stage, exchange)},
    {"removal", TANK, 0, VALUE_SHARE, "%", ALL_SOLUTES, AT(dregs_stage, removal)},
    {"removal ", TANK, 0, VALUE_SHARE, "%", ONE_SOLUTE, AT(dregs_stage, removal)},
    {"film", WET, 0, VALUE_POSITIVE, "um", NO_SOLUTE, AT(dregs_stage, film)},
    {"drag-out", WET, 0, VALUE_POSITIVE, "mL/m2", NO_SOLUTE, AT(dregs_stage, drag_out)},
    {"drag-out class", WET, 0, VALUE_CLASS, "", NO_SOLUTE, AT(dregs_stage, drag_out_class)},
    {"withdrawal speed", WET, 0, VALUE_POSITIVE, "cm/s", NO_SOLUTE, AT(dregs_stage, withdrawal_speed)},
    {"drain time", WET, 0, VALUE_NOT_NEGATIVE, "s", NO_SOLUTE, AT(dregs_stage, drain_time)},
    {"film law", WET, 0, VALUE_LAW, "", NO_SOLUTE, AT(dregs_stage, law_row)},

    {"use", SPRAY, SPRAY, VALUE_POSITIVE, "L", NO_SOLUTE, AT(dregs_stage, use)},
    {"mixing", SPRAY, 0, VALUE_SHARE, "%", NO_SOLUTE, AT(dregs_stage, mixing)},
    {"runoff to", SPRAY, 0, VALUE_STAGE_OR_DRAIN, "", NO_SOLUTE, AT(dregs_stage, runoff_to)},

    {"humidity", DRY, 0, VALUE_SHARE, "%", NO_SOLUTE, AT(dregs_stage, humidity)},
    {"blow-off", DRY, 0, VALUE_SHARE, "%", NO_SOLUTE, AT(dregs_stage, blow_off)},
    {"fresh air", DRY, 0, VALUE_NOT_NEGATIVE, "m3/h", NO_SOLUTE, AT(dregs_stage, fresh_air)},

    {"residue", TARGET, 0, VALUE_POSITIVE, "ug/cm2", NO_SOLUTE, AT(dregs_target, residue)},
    {"residue ", TARGET, 0, VALUE_POSITIVE, "ug/cm2", ONE_SOLUTE, AT(dregs_target, of_solute)},
    {"level", TARGET, 0, VALUE_LEVEL, "", NO_SOLUTE, AT(dregs_target, level)},
    {"confidence", TARGET, 0, VALUE_SHARE, "%", NO_SOLUTE, AT(dregs_target, confidence)},

    {"loads per shift", SCHEDULE, 0, VALUE_COUNT, "1", NO_SOLUTE, AT(dregs_schedule, loads_per_shift)},
    {"shifts per day", SCHEDULE, 0, VALUE_COUNT, "1", NO_SOLUTE, AT(dregs_schedule, shifts_per_day)},
    {"days per year", SCHEDULE, 0, VALUE_COUNT, "1", NO_SOLUTE, AT(dregs_schedule, days_per_year)},
    {"days per week", SCHEDULE, 0, VALUE_COUNT, "1", NO_SOLUTE, AT(dregs_schedule, days_per_week)},
    {"shift length", SCHEDULE, 0, VALUE_POSITIVE, "h", NO_SOLUTE, AT(dregs_schedule, shift_length)},
    {"idle flow", SCHEDULE, 0, VALUE_ON_OFF, "", NO_SOLUTE, AT(dregs_schedule, idle_flow)},
};
/* clang-format on */

const size_t dregs_property_count = sizeof dregs_properties / sizeof dregs_properties[0];

int dregs_is_stage(enum item_kind kind)
{
    return kind >= KIND_STAGE && kind < KIND_TARGET;
}

int dregs_kind_is(enum item_kind kind, unsigned traits)
{
    return dregs_is_stage(kind) &&
           (dregs_stage_kinds[kind - KIND_STAGE]->traits & traits) == traits;
}

int dregs_line_grammar(size_t index, dregs_line_property *property)
{
    static const char *const open_ended[][2] = {{"", "<solute>"},
                                                {"removal ", "removal <solute>"},
                                                {"clearing ", "clearing <solute>"},
                                                {"residue ", "residue <solute>"},
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
            if (p->form == ONE_SOLUTE || p->form == NUMBERED)
                for (i = 0; i < sizeof open_ended / sizeof open_ended[0]; i++)
                    if (strcmp(open_ended[i][0], p->name) == 0)
                        property->property = open_ended[i][1];
            return 1;
        }
    return 0;
}
