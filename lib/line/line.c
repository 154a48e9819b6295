/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* line.c: a line as an object: its memory, how it is read, what can be asked of it. */
#include "line/inside.h"
#include "line/stage/stage.h"

#include <ctype.h>
#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void *dregs_line_keep(dregs_line *line, size_t count, size_t size)
{
    void *memory = dregs_pool_take(&line->memory, count, size);

    if (!memory)
        line->out_of_memory = 1;
    return memory;
}

char *dregs_line_keep_text(dregs_line *line, const char *text)
{
    return dregs_pool_text(&line->memory, text);
}

void dregs_line_take_memory(dregs_line *line, dregs_line *other)
{
    dregs_pool_join(&line->memory, &other->memory);
}

DREGS_FORMAT(5, 0)
static dregs_status add_note(dregs_line *line, struct note **list, unsigned *count,
                             unsigned used_by, const char *format, va_list arguments)
{
    struct note *bigger;
    char text[256];
    unsigned i;

    vsnprintf(text, sizeof text, format, arguments);
    for (i = 0; i < *count; i++)
        if (strcmp((*list)[i].text, text) == 0)
            return DREGS_OK;
    bigger = dregs_line_keep(line, *count + 1, sizeof *bigger);
    if (!bigger)
        return DREGS_NO_MEMORY;
    if (*count)
        memcpy(bigger, *list, *count * sizeof *bigger);
    bigger[*count] = (struct note){dregs_line_keep_text(line, text), used_by};
    if (!bigger[*count].text)
        return DREGS_NO_MEMORY;
    *list = bigger;
    ++*count;
    return DREGS_OK;
}

dregs_status dregs_line_note(dregs_line *line, int unused, const char *format, ...)
{
    struct note **list = unused ? &line->unused : &line->assumed;
    unsigned *count = unused ? &line->unused_count : &line->assumed_count;
    dregs_status status;
    va_list arguments;

    if (line->drawn)
        return DREGS_OK;
    va_start(arguments, format);
    status = add_note(line, list, count, 0, format, arguments);
    va_end(arguments);
    return status;
}

static dregs_status not_used(dregs_line *line, unsigned used_by, const char *format, ...)
    DREGS_FORMAT(3, 4);
static dregs_status not_used(dregs_line *line, unsigned used_by, const char *format, ...)
{
    dregs_status status;
    va_list arguments;

    va_start(arguments, format);
    status = add_note(line, &line->unused, &line->unused_count, used_by, format, arguments);
    va_end(arguments);
    return status;
}

void dregs_line_free(dregs_line *line)
{
    if (!line)
        return;
    dregs_pool_clear(&line->memory);
    dregs_liquids_free(line->own_liquids);
    free(line);
}

dregs_status dregs_line_make_tanks(dregs_line *line)
{
    unsigned i;

    line->tanks = dregs_line_keep(line, line->tank_count, sizeof *line->tanks);
    line->idle_evaporation = dregs_line_keep(line, line->tank_count, sizeof(double));
    if (!line->tanks || !line->idle_evaporation)
        return DREGS_NO_MEMORY;
    for (i = 0; i < line->stage_count; i++) {
        const dregs_stage *stage = &line->stages[i];
        if (stage->tank < 0 || stage->shares.row)
            continue;
        line->tanks[stage->tank].stage = i;
        line->tanks[stage->tank].volume = stage->volume.si;
    }
    return DREGS_OK;
}

static int is_of_idle_baths(const struct place *place)
{
    if (dregs_line_kind_is_stage(place->item->kind))
        return place->property->offset == offsetof(dregs_stage, covered_idle) ||
               place->property->offset == offsetof(dregs_stage, idle_temperature);
    return place->item->kind == KIND_SCHEDULE &&
           (place->property->offset == offsetof(dregs_schedule, idle_heating) ||
            place->property->offset == offsetof(dregs_schedule, covered_idle));
}

/* The liquid's own viscosity or surface tension, and no film of it is worked out with them. */
static int is_of_no_film(const dregs_line *line, const struct place *place)
{
    unsigned i, k, edges = 0;

    if (place->item->kind != KIND_LIQUID ||
        (place->property->offset != offsetof(dregs_fluid, viscosity) &&
         place->property->offset != offsetof(dregs_fluid, surface_tension)))
        return 0;
    for (k = 0; k < line->load_count; k++)
        edges += line->loads[k].edge.si > 0;
    for (i = 0; i < line->stage_count; i++)
        if (dregs_stage_is(&line->stages[i], DREGS_STAGE_WET) &&
            (edges || line->stages[i].film_way == DREGS_FILM_LAW ||
             line->stages[i].film_way == DREGS_FILM_KUSHNER) &&
            strcmp(dregs_line_wet_with(line, i)->name, place->item->name) == 0)
            return 0;
    return 1;
}

int dregs_line_has_week(const dregs_line *line)
{
    const dregs_schedule *s = &line->schedule;

    return s->loads_per_shift.row && s->shifts_per_day.row && s->days_per_week.row &&
           !s->sequence_row;
}

/* The questions that use the value of a row. Idle baths and their lids count where a surface
 * is open, the air of the room there and for drying. The parts of a schedule that a `dump at`
 * counts by are used by all, and a week that is stated whole by all who ask for residues. */
static unsigned used_by(const dregs_line *line, const struct place *place)
{
    static const size_t counted[] = {offsetof(dregs_schedule, loads_per_shift),
                                     offsetof(dregs_schedule, shifts_per_day),
                                     offsetof(dregs_schedule, days_per_week)};
    size_t at = place->property->offset;
    unsigned i, k, open = 0;

    for (i = 0; i < line->stage_count; i++)
        open |= line->stages[i].open_area.si > 0;
    if (!open && place->item->kind == KIND_ROOM)
        return place->property->used_by & DREGS_ASKED_DRYING;
    if (!open && is_of_idle_baths(place))
        return 0;
    if (is_of_no_film(line, place))
        return 0;
    if (place->item->kind != KIND_SCHEDULE && !is_of_idle_baths(place))
        return place->property->used_by;
    if (place->item->kind != KIND_SCHEDULE)
        return place->property->used_by |
               (dregs_line_has_week(line) ? DREGS_ASKED_RESIDUE | DREGS_ASKED_SIZE : 0u);
    if (at == offsetof(dregs_schedule, weekdays)) /* so many days per week */
        at = offsetof(dregs_schedule, days_per_week);
    for (i = 0; i < line->stage_count; i++)
        for (k = 0; k < (unsigned)line->stages[i].dump_at; k++)
            if (at == counted[k])
                return DREGS_ASKED_ALL;
    if (dregs_line_has_week(line) && at != offsetof(dregs_schedule, days_per_year))
        return place->property->used_by | DREGS_ASKED_RESIDUE | DREGS_ASKED_SIZE;
    return place->property->used_by;
}

unsigned dregs_line_row_used_by(const dregs_line *line, unsigned row)
{
    const struct place *place;

    if (row < 1 || row > line->row_count)
        return 0;
    place = &line->places[row];
    if (!place->property)
        return DREGS_ASKED_ALL;
    return place->item->kind == KIND_CALIBRATION ? DREGS_ASKED_READINGS : used_by(line, place);
}

/* The questions of a mask when they are asked with DREGS_ASKED_DOUBT beside them. */
#define DRAWN(questions) ((questions) << 8)

/* What the file states and some question does not use is said, so that nobody believes it was used:
 * item and property of every such row. */
static dregs_status note_unused(dregs_line *line)
{
    dregs_status status = DREGS_OK;
    unsigned row, spreads = 0, varying = 0, i;

    for (row = 1; row <= line->row_count && !status; row++) {
        const dregs_row *cells = &line->rows[row];
        const struct place *place = &line->places[row];
        unsigned users;
        spreads += *cells->spread != '\0';
        varying += *cells->varies != '\0';
        if (!place->property || place->item->kind == KIND_CALIBRATION ||
            row == line->target.confidence.row)
            continue; /* a kind; those below */
        users = used_by(line, place);
        if (users != DREGS_ASKED_ALL)
            status = not_used(line, users, "%s: %s", cells->item, cells->property);
    }
    for (i = 0; i < line->scale_count && !status; i++)
        status = not_used(line, DREGS_ASKED_READINGS, "%s: calibration, for readings",
                          line->scales[i].name);
    if (!status && spreads)
        status = not_used(line, DREGS_ASKED_READINGS | DREGS_ASKED_DOUBT, "%u spread%s", spreads,
                          spreads == 1 ? "" : "s");
    if (!status && varying)
        status = not_used(line, DREGS_ASKED_RESIDUE, "%u value%s from load to load", varying,
                          varying == 1 ? " that varies" : "s that vary");
    if (!status && line->target.confidence.row)
        status = not_used(line,
                          DREGS_ASKED_READINGS |
                              DRAWN(DREGS_ASKED_RESIDUE | DREGS_ASKED_SIZE | DREGS_ASKED_DRYING),
                          "%s: confidence, which needs the spreads", line->target.name);
    return status;
}

static dregs_status derive(dregs_line *line, dregs_faults *faults)
{
    dregs_status status = dregs_line_make_tanks(line);

    line->of_kind = NULL;
    if (!status && line->cycle > 1)
        return dregs_line_derive_kinds(line, faults);
    if (status)
        return status;
    dregs_line_take_own(line);
    status = dregs_line_carry(line, faults);
    if (!status)
        status = dregs_line_evaporate_all(line, faults);
    if (status)
        return status;
    dregs_line_balance_volumes(line);
    return dregs_line_find_period(line, faults);
}

dregs_status dregs_line_derive(dregs_line *line, dregs_faults *faults)
{
    dregs_status status = derive(line, faults);

    if (!status && !line->drawn)
        status = dregs_line_note_exact(line);
    return !status && line->out_of_memory ? DREGS_NO_MEMORY : status;
}

dregs_status dregs_line_parse(const char *name, const char *bytes, size_t length,
                              const dregs_liquids *liquids, dregs_line **line, dregs_faults *faults)
{
    dregs_line *made = calloc(1, sizeof *made);
    dregs_faults own = {0};
    dregs_status status = DREGS_NO_MEMORY;
    unsigned i;

    if (!faults)
        faults = &own;
    snprintf(faults->file, sizeof faults->file, "%s", name);
    if (made)
        made->name = dregs_line_keep_text(made, name);
    if (made)
        made->text = dregs_line_keep(made, length + 1, 1);
    if (made && made->name && made->text) {
        if (length)
            memcpy(made->text, bytes, length);
        made->length = length;
        made->liquids = liquids;
        for (i = 0; i < DREGS_LINE_STAGES; i++)
            made->drag_out[i] = 1.0;
        made->cycle = 1;
        status = dregs_line_read_rows(made, bytes, length, faults);
        if (!status)
            status = dregs_line_describe(made, faults);
        if (!status)
            status = dregs_line_check_doubt(made, faults);
        if (!status)
            status = dregs_line_check_currency(made, faults);
        if (!status)
            status = dregs_line_derive(made, faults);
        if (!status)
            status = dregs_line_note_alike(made);
        if (!status)
            status = note_unused(made);
        if (!status && made->out_of_memory)
            status = DREGS_NO_MEMORY;
    }
    if (status) {
        if (status == DREGS_NO_MEMORY && faults->count == 0)
            (void)dregs_fault_add(faults, status, 0, "out of memory");
        dregs_faults_sort(faults);
        dregs_line_free(made);
        return status;
    }
    *line = made;
    return DREGS_OK;
}

dregs_status dregs_line_read(const char *name, void *stream, const dregs_liquids *liquids,
                             dregs_line **line, dregs_faults *faults)
{
    char *bytes = malloc(DREGS_LINE_BYTES + 1);
    size_t length;
    dregs_status status;

    if (faults)
        snprintf(faults->file, sizeof faults->file, "%s", name);
    if (!bytes)
        return dregs_fault_add(faults, DREGS_NO_MEMORY, 0, "out of memory");
    errno = 0;
    length = fread(bytes, 1, DREGS_LINE_BYTES + 1, stream);
    if (ferror((FILE *)stream))
        status = dregs_fault_add(faults, DREGS_IO, 0, "%s", strerror(errno));
    else if (length > DREGS_LINE_BYTES)
        status =
            dregs_fault_add(faults, DREGS_BAD_DATA, 0,
                            "larger than any line file (more than %d bytes)", DREGS_LINE_BYTES);
    else
        status = dregs_line_parse(name, bytes, length, liquids, line, faults);
    free(bytes);
    return status;
}

unsigned long dregs_line_at(const dregs_line *line, unsigned row)
{
    return row && row <= line->row_count ? line->rows[row].line : 0;
}

const char *dregs_line_name(const dregs_line *line)
{
    return line->name;
}

const char *dregs_line_text(const dregs_line *line, size_t *length)
{
    *length = line->length;
    return line->text;
}

dregs_dialect dregs_line_dialect(const dregs_line *line)
{
    return line->dialect;
}

const dregs_liquids *dregs_line_liquids(const dregs_line *line)
{
    return line->liquids;
}

unsigned dregs_line_rows(const dregs_line *line)
{
    return line->row_count;
}

const dregs_row *dregs_line_row(const dregs_line *line, unsigned row)
{
    return row && row <= line->row_count + line->rows_added ? &line->rows[row] : NULL;
}

const char *dregs_line_load_name(const dregs_line *line)
{
    return line->load->name;
}

const char *dregs_line_solute_name(const dregs_line *line, unsigned index)
{
    return index < line->solute_count ? line->solutes[index].name : NULL;
}

const char *dregs_line_fluid_name(const dregs_line *line, unsigned index)
{
    return index < line->fluid_count ? line->fluids[index].name : NULL;
}

const char *dregs_line_scale_name(const dregs_line *line, unsigned index)
{
    return index < line->scale_count ? line->scales[index].name : NULL;
}

const char *dregs_line_stage_name(const dregs_line *line, unsigned index)
{
    return index < line->stage_count ? line->stages[index].name : NULL;
}

const char *dregs_line_target_name(const dregs_line *line)
{
    return line->target.name;
}

const char *dregs_line_schedule_name(const dregs_line *line)
{
    return line->schedule.name;
}

const char *dregs_line_room_name(const dregs_line *line)
{
    return line->room.name;
}

const dregs_load *dregs_line_load(const dregs_line *line)
{
    return line->load;
}

unsigned dregs_line_solutes(const dregs_line *line)
{
    return line->solute_count;
}

const dregs_solute *dregs_line_solute(const dregs_line *line, unsigned index)
{
    return index < line->solute_count ? &line->solutes[index] : NULL;
}

unsigned dregs_line_fluids(const dregs_line *line)
{
    return line->fluid_count;
}

const dregs_fluid *dregs_line_fluid(const dregs_line *line, unsigned index)
{
    return index < line->fluid_count ? &line->fluids[index] : NULL;
}

unsigned dregs_line_scales(const dregs_line *line)
{
    return line->scale_count;
}

const dregs_scale *dregs_line_scale(const dregs_line *line, unsigned index)
{
    return index < line->scale_count ? &line->scales[index] : NULL;
}

unsigned dregs_line_stages(const dregs_line *line)
{
    return line->stage_count;
}

const dregs_stage *dregs_line_stage(const dregs_line *line, unsigned index)
{
    return index < line->stage_count ? &line->stages[index] : NULL;
}

const dregs_carried *dregs_line_carried(const dregs_line *line, unsigned stage)
{
    return stage < line->stage_count ? &line->carried[stage] : NULL;
}

unsigned dregs_line_tanks(const dregs_line *line)
{
    return line->tank_count;
}

const dregs_tank *dregs_line_tank(const dregs_line *line, unsigned index)
{
    return index < line->tank_count ? &line->tanks[index] : NULL;
}

const dregs_target *dregs_line_target(const dregs_line *line)
{
    return &line->target;
}

const dregs_schedule *dregs_line_schedule(const dregs_line *line)
{
    return &line->schedule;
}

const dregs_room *dregs_line_room(const dregs_line *line)
{
    return &line->room;
}

unsigned long dregs_line_period(const dregs_line *line)
{
    return line->period;
}

int dregs_line_last_wet(const dregs_line *line)
{
    int i;

    for (i = (int)line->stage_count - 1; i >= 0; i--)
        if (dregs_stage_is(&line->stages[i], DREGS_STAGE_WET))
            break;
    return i;
}

/* The stage that states the tank a stage acts on; the stage itself where there is no tank. */
static const dregs_stage *states(const dregs_line *line, unsigned stage)
{
    int tank = line->stages[stage].tank;

    return tank < 0 ? &line->stages[stage] : &line->stages[line->tanks[tank].stage];
}

const dregs_fluid *dregs_line_wet_with(const dregs_line *line, unsigned stage)
{
    /* a stage that has none leaves the load with that of the one before */
    for (; stage < line->stage_count; stage--) {
        if (!dregs_stage_is(&line->stages[stage], DREGS_STAGE_WET))
            return NULL;
        if (states(line, stage)->liquid.kind == DREGS_LINK_LIQUID)
            return &line->fluids[states(line, stage)->liquid.index];
    }
    return NULL;
}

int dregs_line_is_water(const dregs_line *line, const dregs_fluid *fluid)
{
    dregs_liquid_class is;

    return !dregs_liquids_class(line->liquids, fluid->solvent, &is, NULL) &&
           is == DREGS_CLASS_WATER;
}

const dregs_fluid *dregs_line_waste_as(const dregs_line *line, unsigned stage)
{
    const dregs_fluid *fluid = dregs_line_wet_with(line, stage);

    while (!fluid && stage > 0 && stage < line->stage_count)
        fluid = dregs_line_wet_with(line, --stage);
    return fluid;
}

double dregs_line_temperature(const dregs_line *line, unsigned stage)
{
    const dregs_stage *stated;

    if (stage >= line->stage_count)
        return NAN;
    stated = states(line, stage);
    return stated->temperature.row ? stated->temperature.si : DREGS_ROOM;
}

const char *dregs_line_assumed(const dregs_line *line, unsigned index)
{
    return index < line->assumed_count ? line->assumed[index].text : NULL;
}

int dregs_line_is_marked(const dregs_line *line, unsigned row)
{
    static const char word[] = "assumed";
    const char *note = dregs_line_row(line, row)->note;
    size_t i;

    for (i = 0; word[i]; i++)
        if (tolower((unsigned char)note[i]) != word[i])
            return 0;
    return 1;
}

unsigned dregs_line_numbers(const dregs_line *line, unsigned *marked)
{
    unsigned row, numbers = 0;
    dregs_value value;

    *marked = 0;
    for (row = 1; row <= dregs_line_rows(line); row++)
        if (dregs_line_value(line, row, &value) == DREGS_OK) {
            numbers++;
            *marked += (unsigned)dregs_line_is_marked(line, row);
        }
    return numbers;
}

const char *dregs_line_unused(const dregs_line *line, unsigned questions, unsigned index)
{
    unsigned i;

    if (questions & DREGS_ASKED_DOUBT)
        questions |= DRAWN(questions & DREGS_ASKED_ALL);
    for (i = 0; i < line->unused_count; i++)
        if (!(line->unused[i].used_by & questions) && index-- == 0)
            return line->unused[i].text;
    return NULL;
}
