/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_energy.c: the heat that baths and dry stages take over a tally, the energy that their
 * heaters take for it, and its CO2. What no row tells is left out and asked for: the sum is then
 * the least.
 */
#include "answer/tally.h"
#include "dregs/dry.h"
#include "dregs/stage.h"
#include "line/line.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What one tally's heat is worked out with. */
struct heating {
    const dregs_tally *tally;
    const dregs_line *line;
    double room;                  /* K */
    double seconds;               /* of the span */
    double working;               /* s of it within shifts */
    double idle;                  /* s of it outside of them */
    double pauses;                /* after which what was colder is warmed again */
    struct tally_energies *notes; /* NULL: nobody reads them */
};

static void note(struct heating *h, int asked, const char *format, ...) DREGS_FORMAT(3, 4);

static void note(struct heating *h, int asked, const char *format, ...)
{
    struct tally_notes *notes = h->notes ? &h->notes->notes[asked] : NULL;
    va_list arguments;
    unsigned i;

    if (!notes || notes->count == TALLY_ENERGY_NOTES)
        return;
    va_start(arguments, format);
    vsnprintf(notes->text[notes->count], TALLY_ASKED_ROOM, format, arguments);
    va_end(arguments);
    for (i = 0; i < notes->count; i++) /* what two stages ask for is asked for once */
        if (strcmp(notes->text[i], notes->text[notes->count]) == 0)
            return;
    notes->count++;
}

enum { ASSUMED, ASKED };

/* ---- properties ---- */

static double property(const struct heating *h, const char *liquid, dregs_property which, double at)
{
    double value = NAN;

    return dregs_liquids_value(dregs_line_liquids(h->line), liquid, which, at, &value, NULL)
               ? NAN
               : value;
}

/* Of a solvent and its water by their masses. */
static double by_mass(const struct heating *h, const dregs_fluid *fluid, dregs_property which,
                      double at)
{
    double share = fluid->solvent_share.si, value = property(h, fluid->solvent, which, at);

    return share < 1 ? share * value + (1 - share) * property(h, "water", which, at) : value;
}

/* J/K of a volume. */
static double heat_of(const struct heating *h, unsigned fluid, double volume)
{
    return volume > 0
               ? volume * dregs_tally_density(h->tally, fluid) *
                     by_mass(h, dregs_line_fluid(h->line, fluid), DREGS_HEAT_CAPACITY, h->room)
               : 0;
}

/* J/K of what a stage's stream holds. */
static double stream_heat(const struct heating *h, dregs_stream stream, unsigned stage)
{
    double heat = 0;
    unsigned f;

    for (f = 0; f < dregs_line_fluids(h->line); f++)
        heat += heat_of(h, f, dregs_tally_fluid(h->tally, stream, f, stage, DREGS_WHOLE));
    return heat;
}

/* J that what a stage's stream takes off as vapour. */
static double vapour_heat(const struct heating *h, dregs_stream stream, unsigned stage, double at)
{
    double heat = 0, volume;
    unsigned f;

    for (f = 0; f < dregs_line_fluids(h->line); f++) {
        volume = dregs_tally_fluid(h->tally, stream, f, stage, DREGS_WHOLE);
        if (volume > 0)
            heat += volume * dregs_tally_density(h->tally, f) *
                    by_mass(h, dregs_line_fluid(h->line, f), DREGS_HEAT_OF_VAPORISATION, at);
    }
    return heat;
}

/* As warm as it is said to be; what says nothing is as warm as the room. */
static double warmth(const struct heating *h, unsigned stage)
{
    return dregs_line_temperature_stated(h->line, stage) ? dregs_line_temperature(h->line, stage)
                                                         : h->room;
}

static double before(const struct heating *h, unsigned stage)
{
    return stage ? warmth(h, stage - 1) : h->room;
}

/* ---- a bath ---- */

/* Fresh liquid comes as warm as the room, what another tank gives as warm as that. */
static double liquid_of(const struct heating *h, unsigned index, double at)
{
    const dregs_stage *stage = dregs_line_stage(h->line, index);
    double heat = 0;
    unsigned i;
    int s;

    for (s = DREGS_STREAM_FILLED; s <= DREGS_STREAM_SPRAYED; s++)
        heat += stream_heat(h, (dregs_stream)s, index) * (at - h->room);
    if (stage->top_up_from.kind == DREGS_LINK_STAGE)
        heat +=
            stream_heat(h, DREGS_STREAM_DRAWN, index) * (at - warmth(h, stage->top_up_from.index));
    if (stage->refill_from.kind == DREGS_LINK_STAGE)
        heat +=
            stream_heat(h, DREGS_STREAM_MOVED, index) * (at - warmth(h, stage->refill_from.index));
    for (i = 0; i < dregs_line_stages(h->line); i++) {
        const dregs_stage *other = dregs_line_stage(h->line, i);
        if (other->overflow_to.kind == DREGS_LINK_STAGE && other->overflow_to.index == index)
            heat += stream_heat(h, DREGS_STREAM_HANDED, i) * (at - warmth(h, i));
        if (other->runoff_to.kind == DREGS_LINK_STAGE && other->runoff_to.index == index)
            heat += stream_heat(h, DREGS_STREAM_CAUGHT, i) * (at - warmth(h, i));
    }
    return heat;
}

/* Parts and the film on them, from the stage before. */
static double parts_of(struct heating *h, unsigned index, double at, int *least)
{
    double film = index ? stream_heat(h, DREGS_STREAM_PASSED, index - 1) : 0, parts = 0;
    unsigned k;

    for (k = 0; k < dregs_line_kinds(h->line); k++) {
        const dregs_line *of = dregs_line_of_kind(h->line, k);
        const dregs_load *load = dregs_line_load(of);
        if (!load->mass.row || !load->heat_capacity.row) {
            *least = 1;
            note(h, ASKED, "mass and heat capacity of the parts of %.60s: the heat that they take",
                 dregs_line_load_name(of));
            return film * (at - before(h, index));
        }
        parts += (double)dregs_tally_loads_of_kind(h->tally, k, DREGS_WHOLE) * load->parts.si *
                 load->mass.si * load->heat_capacity.si;
    }
    return (film + parts) * (at - before(h, index));
}

/* Outside the shifts at the temperature that the bath has then; one that is as cold as the room
 * takes the heat of its vapour from there. */
static double vapour_of(const struct heating *h, unsigned index, double at, double idle_at)
{
    double all = dregs_tally_volume(h->tally, DREGS_STREAM_EVAPORATED, index, DREGS_WHOLE);
    double idle = dregs_tally_evaporated_idle(h->tally, index, DREGS_WHOLE);
    double share = all > 0 ? fmin(1, idle / all) : 0;

    return (1 - share) * vapour_heat(h, DREGS_STREAM_EVAPORATED, index, at) +
           (idle_at > h->room ? share * vapour_heat(h, DREGS_STREAM_EVAPORATED, index, idle_at)
                              : 0);
}

static void heat_tank(struct heating *h, unsigned index, double at, dregs_tally_energy *e)
{
    const dregs_stage *stage = dregs_line_stage(h->line, index);
    double idle_at = dregs_line_bath_temperature(h->line, index, 1);

    e->evaporation = vapour_of(h, index, at, idle_at);
    if (stage->shares.row || stage->tank < 0)
        return;
    e->walls = dregs_line_wall_loss(stage) *
               ((at - h->room) * h->working + fmax(0, idle_at - h->room) * h->idle);
    if (!stage->wall_loss.row)
        note(h, ASSUMED, "%.60s: its walls lose 8 W/(m2 K), over a cube of its volume",
             stage->name);
    e->liquid += h->pauses * heat_of(h, stage->liquid.index, stage->volume.si) *
                 fmax(0, at - fmax(idle_at, h->room));
    if (!stage->open_area.row && !stage->evaporation.row) {
        e->least = 1;
        note(h, ASKED, "what evaporates in %.60s: its 'open area', or 'evaporation'", stage->name);
    }
}

static void heat_dry(struct heating *h, unsigned index, double at, dregs_tally_energy *e)
{
    const dregs_stage *stage = dregs_line_stage(h->line, index);
    dregs_air air;

    e->evaporation = vapour_heat(h, DREGS_STREAM_DRIED, index, h->room);
    if (!stage->fresh_air.row) {
        e->least = 1;
        note(h, ASKED, "the fresh air of %.60s: a row 'fresh air'", stage->name);
    } else if (!dregs_air_at(h->room, DREGS_ATMOSPHERE, &air))
        e->air =
            stage->fresh_air.si * h->working * air.density * air.heat_capacity * (at - h->room);
}

/* ---- a stage, all of them ---- */

/* All of it becomes heat, as of the line's own warming. */
static void sound_stage(struct heating *h, unsigned index, dregs_tally_energy *e)
{
    const dregs_stage *stage = dregs_line_stage(h->line, index);

    if (!stage->ultrasonic_power.row || stage->shares.row)
        return;
    e->ultrasound = stage->ultrasonic_power.si * h->working;
    note(h, ASSUMED, "%.60s: its ultrasound is on through all shifts", stage->name);
    e->ultrasound_carbon =
        stage->ultrasonic_co2_factor.row ? e->ultrasound * stage->ultrasonic_co2_factor.si : NAN;
    if (!stage->ultrasonic_co2_factor.row)
        note(
            h, ASKED,
            "the CO2 of the electricity of the ultrasound of %.60s: a row 'ultrasonic CO2 factor', "
            "such as 0.2 kg/kWh",
            stage->name);
}

static void heat_stage(struct heating *h, unsigned index, dregs_tally_energy *e)
{
    const dregs_stage *stage = dregs_line_stage(h->line, index);
    double at = warmth(h, index);

    memset(e, 0, sizeof *e);
    e->stage = index;
    sound_stage(h, index, e);
    if (!(at > h->room))
        return;
    e->liquid = liquid_of(h, index, at);
    if (dregs_stage_is(stage, DREGS_STAGE_DRIES))
        heat_dry(h, index, at, e);
    else if (dregs_stage_is(stage, DREGS_STAGE_TANK))
        heat_tank(h, index, at, e);
    e->parts = parts_of(h, index, at, &e->least);
    e->heat = fmax(0, e->liquid + e->evaporation + e->walls + e->parts + e->air - e->ultrasound);
    e->taken = stage->heating_efficiency.row ? e->heat / stage->heating_efficiency.si : e->heat;
    if (!stage->heating_efficiency.row)
        note(h, ASSUMED, "%.60s: all energy of its heater becomes its heat", stage->name);
    e->carbon = stage->co2_factor.row ? e->taken * stage->co2_factor.si : NAN;
    if (!stage->co2_factor.row)
        note(h, ASKED,
             "the CO2 of the energy that heats %.60s: a row 'CO2 factor', such as 0.2 kg/kWh",
             stage->name);
}

static void add(dregs_tally_energy *sum, const dregs_tally_energy *e)
{
    sum->liquid += e->liquid;
    sum->evaporation += e->evaporation;
    sum->walls += e->walls;
    sum->parts += e->parts;
    sum->air += e->air;
    sum->heat += e->heat;
    sum->taken += e->taken;
    sum->carbon += e->carbon;
    sum->least |= e->least;
    sum->ultrasound += e->ultrasound;
    sum->ultrasound_carbon += e->ultrasound_carbon;
}

static void set_time(struct heating *h)
{
    double idle = dregs_tally_idle(h->tally, DREGS_WHOLE);

    h->seconds = dregs_tally_seconds(h->tally, DREGS_WHOLE);
    h->idle = idle > 0 ? idle : 0;
    h->working = h->seconds - h->idle;
    h->pauses = idle > 0 ? (double)dregs_tally_days(h->tally, DREGS_WHOLE) : 0;
}

/* The stages of a line that are heated or have ultrasound, from number `first` on, behind the
 * `count` before; returns how many there are then. */
static unsigned heat_line(const dregs_tally *tally, unsigned first, struct tally_energies *notes,
                          dregs_tally_energy *e, unsigned count)
{
    const dregs_line *line = dregs_tally_line(tally);
    struct heating h = {.tally = tally,
                        .line = line,
                        .room = dregs_line_room(line)->temperature.row
                                    ? dregs_line_room(line)->temperature.si
                                    : DREGS_ROOM,
                        .notes = notes};
    unsigned i, before_it = count;

    set_time(&h);
    for (i = 0; i < dregs_line_stages(line); i++) {
        heat_stage(&h, i, &e[count]);
        if (!(warmth(&h, i) > h.room) && !(e[count].ultrasound > 0))
            continue;
        e[count].stage = first + i;
        add(e, &e[count]);
        count++;
    }
    if (count > before_it && !dregs_line_room(line)->temperature.row)
        note(&h, ASSUMED, "the room, and all fresh liquid: 20 degC");
    else if (count > before_it)
        note(&h, ASSUMED, "fresh liquid comes as warm as the room");
    return count;
}

/* The sum into `e[0]`, then each heated stage; returns how many that are, 0 where none is. */
static unsigned heat_all(const dregs_tally *tally, struct tally_energies *notes,
                         dregs_tally_energy *e)
{
    const struct dregs_line_part *part;
    unsigned parts = dregs_line_parts(dregs_tally_line(tally), &part), count = 1, i;

    memset(e, 0, sizeof *e);
    e->stage = DREGS_WHOLE;
    if (!parts)
        count = heat_line(tally, 0, notes, e, count);
    for (i = 0; i < parts; i++) /* the lines of a site */
        count = heat_line(dregs_tally_member(tally, i), part[i].stage, notes, e, count);
    return count > 1 ? count : 0;
}

dregs_status dregs_answer_tally_energies_of(const dregs_tally *tally,
                                            struct tally_energies *energies)
{
    memset(energies, 0, sizeof *energies);
    energies->energy =
        calloc(dregs_line_stages(dregs_tally_line(tally)) + 2, sizeof *energies->energy);
    if (!energies->energy)
        return DREGS_NO_MEMORY;
    energies->count = heat_all(tally, energies, energies->energy);
    return DREGS_OK;
}

void dregs_answer_tally_energies_free(struct tally_energies *energies)
{
    free(energies->energy);
    memset(energies, 0, sizeof *energies);
}

dregs_status dregs_answer_tally_energy_sum(const dregs_tally *tally, double into[4])
{
    dregs_tally_energy *e = calloc(dregs_line_stages(dregs_tally_line(tally)) + 2, sizeof *e);

    if (!e)
        return DREGS_NO_MEMORY;
    if (heat_all(tally, NULL, e)) {
        into[0] = e->taken;
        into[1] = e->carbon;
        into[2] = e->ultrasound;
        into[3] = e->ultrasound_carbon;
    }
    free(e);
    return DREGS_OK;
}

const dregs_tally_energy *dregs_tally_result_energy(const dregs_tally_result *answer,
                                                    unsigned index)
{
    return index < answer->energies.count ? &answer->energies.energy[index] : NULL;
}

static const char *note_of(const dregs_tally_result *answer, int asked, unsigned index)
{
    const struct tally_notes *notes = &answer->energies.notes[asked];

    return index < notes->count ? notes->text[index] : NULL;
}

const char *dregs_tally_result_energy_assumed(const dregs_tally_result *answer, unsigned index)
{
    return note_of(answer, ASSUMED, index);
}

const char *dregs_tally_result_energy_asked(const dregs_tally_result *answer, unsigned index)
{
    return note_of(answer, ASKED, index);
}
