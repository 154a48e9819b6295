/* SPDX-License-Identifier: GPL-3.0-or-later */
/* line.c: a line as an object: its memory, how it is read, what can be asked of it. */
#include "line/inside.h"
#include "line/stage/stage.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct dregs_block {
    struct dregs_block *next;
    union {
        double number;
        void *pointer;
        long long whole;
    } memory[]; /* aligned for anything the line keeps */
};

void *dregs_line_keep(dregs_line *line, size_t count, size_t size)
{
    struct dregs_block *block;

    if (size && count > ((size_t)1 << 40) / size)
        return NULL;
    block = calloc(1, sizeof *block + count * size + 1);
    if (!block)
        return NULL;
    block->next = line->blocks;
    line->blocks = block;
    return block->memory;
}

char *dregs_line_keep_text(dregs_line *line, const char *text)
{
    size_t length = strlen(text) + 1;
    char *copy = dregs_line_keep(line, length, 1);

    if (copy)
        memcpy(copy, text, length);
    return copy;
}

dregs_status dregs_line_note(dregs_line *line, int unused, const char *format, ...)
{
    const char ***list = unused ? &line->unused : &line->assumed;
    unsigned *count = unused ? &line->unused_count : &line->assumed_count;
    const char **bigger;
    char text[256];
    va_list arguments;
    unsigned i;

    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    for (i = 0; i < *count; i++)
        if (strcmp((*list)[i], text) == 0)
            return DREGS_OK;
    bigger = dregs_line_keep(line, *count + 1, sizeof *bigger);
    if (!bigger)
        return DREGS_NO_MEMORY;
    if (*count)
        memcpy((void *)bigger, (const void *)*list, *count * sizeof *bigger);
    bigger[*count] = dregs_line_keep_text(line, text);
    if (!bigger[*count])
        return DREGS_NO_MEMORY;
    *list = bigger;
    ++*count;
    return DREGS_OK;
}

void dregs_line_free(dregs_line *line)
{
    if (!line)
        return;
    while (line->blocks) {
        struct dregs_block *next = line->blocks->next;
        free(line->blocks);
        line->blocks = next;
    }
    free(line);
}

/* The tanks, each with the stage that states it. */
static dregs_status make_tanks(dregs_line *line)
{
    unsigned i;

    line->tanks = dregs_line_keep(line, line->tank_count, sizeof *line->tanks);
    if (!line->tanks)
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

/* What the file states and the balance does not use is said, so that nobody believes it was used:
 * item and property of every such row, properties for drying together. */
static dregs_status note_unused(dregs_line *line)
{
    static const char *const of_load[] = {"mass", "heat capacity", "recess area", "recess depth"};
    static const char *const of_dry[] = {"air speed", "humidity", "volume"};
    unsigned row, spreads = 0, i;
    dregs_status status = DREGS_OK;

    for (row = 1; row <= line->row_count && !status; row++) {
        const dregs_row *cells = &line->rows[row];
        int unused = 0;
        spreads += *cells->spread != '\0';
        for (i = 0; i < 4; i++)
            unused = unused || (line->load.name && strcmp(cells->item, line->load.name) == 0 &&
                                strcmp(cells->property, of_load[i]) == 0);
        for (i = 0; i < line->solute_count; i++)
            unused = unused || row == line->solutes[i].conductivity.row ||
                     row == line->solutes[i].electrolyte_row;
        for (i = 0; i < line->fluid_count; i++)
            unused = unused || row == line->fluids[i].compensation_row ||
                     row == line->fluids[i].coefficient.row;
        for (i = 0; i < line->stage_count * 3; i++)
            unused = unused || (dregs_stage_is(&line->stages[i / 3], DREGS_STAGE_DRIES) &&
                                strcmp(cells->item, line->stages[i / 3].name) == 0 &&
                                strcmp(cells->property, of_dry[i % 3]) == 0);
        if (unused)
            status = dregs_line_note(line, 1, "%s: %s", cells->item, cells->property);
    }
    for (i = 0; i < line->scale_count && !status; i++)
        status = dregs_line_note(line, 1, "%s: calibration, for readings", line->scales[i].name);
    if (!status && spreads)
        status = dregs_line_note(line, 1, "%u spread%s", spreads, spreads == 1 ? "" : "s");
    if (!status && line->target.confidence.row)
        status =
            dregs_line_note(line, 1, "%s: confidence, which needs the spreads", line->target.name);
    return status;
}

dregs_status dregs_line_derive(dregs_line *line, dregs_faults *faults)
{
    dregs_status status = make_tanks(line);

    if (!status)
        status = dregs_line_carry(line, faults);
    if (!status)
        status = dregs_line_balance_volumes(line, faults);
    return status;
}

dregs_status dregs_line_parse(const char *name, const char *bytes, size_t length,
                              const dregs_liquids *liquids, dregs_line **line, dregs_faults *faults)
{
    dregs_line *made = calloc(1, sizeof *made);
    dregs_faults own = {0};
    dregs_status status = DREGS_NO_MEMORY;

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
        made->drag_out = 1.0;
        status = dregs_line_read_rows(made, bytes, length, faults);
        if (!status)
            status = dregs_line_describe(made, faults);
        if (!status)
            status = dregs_line_derive(made, faults);
        if (!status)
            status = note_unused(made);
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
    return line->load.name;
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

const dregs_load *dregs_line_load(const dregs_line *line)
{
    return &line->load;
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
    return index < line->assumed_count ? line->assumed[index] : NULL;
}

const char *dregs_line_unused(const dregs_line *line, unsigned index)
{
    return index < line->unused_count ? line->unused[index] : NULL;
}
