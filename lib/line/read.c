/* SPDX-License-Identifier: GPL-3.0-or-later */
/* read.c: rows to the description of a line.
 *
 * First the rows that name a kind make the items, so that a row may refer to an item that comes
 * later; then every other row is read into its item as the grammar says.
 */
#include "base/table.h"
#include "dregs/limits.h"
#include "dregs/number.h"
#include "dregs/unit.h"
#include "line/line.h"
#include "line/stage/stage.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ITEMS_MOST = 256, NAME_MOST = 60 };

struct reader {
    dregs_line *line;
    dregs_faults *faults;
    struct item *items;
    unsigned count;
    int bad;
};

#define SAY(r, row_, ...)                                                                          \
    ((r)->bad = 1,                                                                                 \
     dregs_fault_add((r)->faults, DREGS_BAD_DATA, dregs_line_at((r)->line, row_), __VA_ARGS__))

static int full(const struct reader *r)
{
    return r->faults && r->faults->more > 0;
}

static struct item *find_item(const struct reader *r, const char *name)
{
    unsigned i;

    for (i = 0; i < r->count; i++)
        if (strcmp(r->items[i].name, name) == 0)
            return &r->items[i];
    return NULL;
}

/* "a, b, c" of the names that belong to `kinds` */
static void list_properties(char *into, size_t room, enum item_kind kind)
{
    size_t i, used = 0;

    into[0] = '\0';
    for (i = 0; i < dregs_property_count; i++) {
        const struct property *p = &dregs_properties[i];
        int wrote;
        if (!(p->kinds & IN(kind)) || p->form == ONE_SOLUTE || p->form == NUMBERED)
            continue;
        wrote = snprintf(into + used, room - used, "%s%s", used ? ", " : "", p->name);
        if (wrote < 0 || (size_t)wrote >= room - used) {
            into[used] = '\0'; /* no half names */
            return;
        }
        used += (size_t)wrote;
    }
}

static int good_name(struct reader *r, unsigned row, const char *name, enum item_kind kind)
{
    char quoted[DREGS_QUOTED];
    const char *p;
    size_t i;

    for (p = name; *p; p++)
        if ((unsigned char)*p < 0x20 || *p == 0x7F) {
            SAY(r, row, "the name %s holds a line break or control character",
                dregs_quote(quoted, name));
            return 0;
        }
    if (strlen(name) > NAME_MOST) {
        SAY(r, row, "the name %s is longer than %d bytes", dregs_quote(quoted, name), NAME_MOST);
        return 0;
    }
    if (strcmp(name, "drain") == 0) {
        SAY(r, row, "'drain' is the drain and cannot name an item");
        return 0;
    }
    if (kind == KIND_CALIBRATION &&
        (strcmp(name, "conductivity") == 0 || strcmp(name, "non-volatile residue") == 0 ||
         strcmp(name, "dump") == 0 || strncmp(name, "concentration ", 14) == 0)) {
        SAY(r, row,
            "a calibration cannot be called %s: a log of readings means another thing by it",
            dregs_quote(quoted, name));
        return 0;
    }
    if (kind != KIND_SOLUTE)
        return 1;
    for (i = 0; i < dregs_property_count; i++)
        if ((dregs_properties[i].kinds & IN(KIND_LIQUID) &&
             strcmp(dregs_properties[i].name, name) == 0) ||
            strcmp(name, "total") == 0 || strcmp(name, "kind") == 0) {
            SAY(r, row, "a solute cannot be called %s: that word has a meaning of its own",
                dregs_quote(quoted, name));
            return 0;
        }
    return 1;
}

/* Counts an item of its kind; the arrays are made once all are known. */
static int place_item(struct reader *r, struct item *item)
{
    dregs_line *line = r->line;

    switch (item->kind) {
    case KIND_LOAD:
        if (line->load.row) {
            SAY(r, item->row, "a second load; a line has one (the first: line %lu)",
                dregs_line_at(line, line->load.row));
            return 0;
        }
        line->load.name = item->name;
        line->load.row = item->row;
        return 1;
    case KIND_SOLUTE:
        if (line->solute_count == DREGS_LINE_SOLUTES) {
            SAY(r, item->row, "more than %d solutes", DREGS_LINE_SOLUTES);
            return 0; /* not counted: nothing would ever fill its place */
        }
        item->index = line->solute_count++;
        return 1;
    case KIND_LIQUID:
        item->index = line->fluid_count++;
        return 1;
    case KIND_CALIBRATION:
        item->index = line->scale_count++;
        return 1;
    case KIND_TARGET:
        if (line->target.name) {
            SAY(r, item->row, "a second target; a line has one (the first: line %lu)",
                dregs_line_at(line, line->target.row));
            return 0;
        }
        line->target.name = item->name;
        line->target.row = item->row;
        return 1;
    case KIND_SCHEDULE:
        if (line->schedule.name) {
            SAY(r, item->row, "a second schedule; a line has one (the first: line %lu)",
                dregs_line_at(line, line->schedule.row));
            return 0;
        }
        line->schedule.name = item->name;
        line->schedule.row = item->row;
        return 1;
    default:
        if (line->stage_count == DREGS_LINE_STAGES) {
            SAY(r, item->row, "more than %d stages", DREGS_LINE_STAGES);
            return 0;
        }
        item->index = line->stage_count++;
        return 1;
    }
}

static dregs_status add_item(struct reader *r, unsigned row)
{
    const dregs_row *cells = &r->line->rows[row];
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], near[DREGS_QUOTED + 16];
    struct item *item = find_item(r, cells->item);
    int kind = 0;

    if (item) {
        SAY(r, row, "kind of %s given twice (first: line %lu)", dregs_quote(name, cells->item),
            dregs_line_at(r->line, item->row));
        return DREGS_OK;
    }
    if (*cells->unit || *cells->spread)
        SAY(r, row, "a kind is a word and takes no unit and no spread, %s was read",
            dregs_quote(quoted, *cells->unit ? cells->unit : cells->spread));
    while (kind < KINDS && strcmp(dregs_kind_names[kind], cells->value) != 0)
        kind++;
    if (kind == KINDS) {
        SAY(r, row,
            "unknown kind %s of %s; a kind is load, solute, liquid, calibration, wash, rinse, "
            "spray, dry, target or schedule%s",
            dregs_quote(quoted, cells->value), dregs_quote(name, cells->item),
            dregs_nearest_words(near, cells->value, dregs_kind_names, KINDS));
        kind = -1; /* known by name all the same, so that its rows do not all fail */
    }
    if (r->count >= ITEMS_MOST)
        return SAY(r, row, "more than %d items", ITEMS_MOST);
    item = &r->items[r->count];
    item->name = cells->item;
    item->row = row;
    item->kind = kind < 0 ? KINDS : (enum item_kind)kind;
    item->given = dregs_line_keep(r->line, dregs_property_count, sizeof *item->given);
    if (!item->given)
        return DREGS_NO_MEMORY;
    if (kind >= 0 && (!good_name(r, row, cells->item, item->kind) || !place_item(r, item)))
        item->kind = KINDS;
    r->count++;
    return DREGS_OK;
}

static dregs_status gather_items(struct reader *r)
{
    char quoted[DREGS_QUOTED], gives[DREGS_QUOTED];
    dregs_status status = DREGS_OK;
    unsigned row, earlier;

    for (row = 1; row <= r->line->row_count && !status && !full(r); row++) {
        const dregs_row *cells = &r->line->rows[row];
        if (!*cells->item)
            SAY(r, row, "the cell 'item' is empty");
        else if (!*cells->property)
            SAY(r, row, "the cell 'property' is empty");
        else if (strcmp(cells->property, "kind") == 0)
            status = add_item(r, row);
        else if (!find_item(r, cells->item)) {
            for (earlier = 1; earlier < row; earlier++)
                if (strcmp(r->line->rows[earlier].item, cells->item) == 0)
                    break;
            if (earlier == row) /* say it once for an item */
                SAY(r, row, "the first row of %s must give its kind, this one gives %s",
                    dregs_quote(quoted, cells->item), dregs_quote(gives, cells->property));
        }
    }
    return status;
}

static dregs_value *per_solute(struct reader *r, double start)
{
    unsigned i, count = r->line->solute_count;
    dregs_value *values = dregs_line_keep(r->line, count ? count : 1, sizeof *values);

    for (i = 0; values && i < count; i++)
        values[i].si = start;
    return values;
}

static void not_given(dregs_value *value)
{
    value->si = NAN;
}

static int prepare_stage(struct reader *r, dregs_stage *stage, const struct item *item)
{
    stage->name = item->name;
    stage->row = item->row;
    stage->kind = (dregs_stage_kind)(item->kind - KIND_STAGE);
    stage->tank = -1;
    not_given(&stage->volume);
    not_given(&stage->temperature);
    not_given(&stage->film);
    not_given(&stage->drag_out);
    not_given(&stage->withdrawal_speed);
    not_given(&stage->dump_every);
    not_given(&stage->open_area);
    not_given(&stage->air_speed);
    not_given(&stage->use);
    not_given(&stage->humidity);
    not_given(&stage->fresh_air);
    stage->exchange.si = 1.0;
    stage->mixing.si = 1.0;
    stage->overflow_to.kind = DREGS_LINK_DRAIN;
    stage->runoff_to.kind = DREGS_LINK_DRAIN;
    stage->removal = per_solute(r, 0.0);
    stage->clearing = per_solute(r, 0.0);
    return stage->removal && stage->clearing;
}

/* Makes the structs of all items, with the defaults that dregs-line(5) states. */
static dregs_status prepare(struct reader *r)
{
    dregs_line *line = r->line;
    unsigned i;

    line->solutes = dregs_line_keep(line, line->solute_count + 1, sizeof *line->solutes);
    line->fluids = dregs_line_keep(line, line->fluid_count + 1, sizeof *line->fluids);
    line->scales = dregs_line_keep(line, line->scale_count + 1, sizeof *line->scales);
    line->stages = dregs_line_keep(line, line->stage_count + 1, sizeof *line->stages);
    line->target.of_solute = per_solute(r, NAN);
    if (!line->solutes || !line->fluids || !line->scales || !line->stages ||
        !line->target.of_solute)
        return DREGS_NO_MEMORY;
    not_given(&line->load.parts);
    not_given(&line->load.area);
    not_given(&line->load.height);
    not_given(&line->load.interval);
    not_given(&line->load.mass);
    not_given(&line->load.heat_capacity);
    not_given(&line->load.recess_area);
    not_given(&line->load.recess_depth);
    not_given(&line->target.residue);
    not_given(&line->target.confidence);
    not_given(&line->schedule.loads_per_shift);
    not_given(&line->schedule.shifts_per_day);
    not_given(&line->schedule.days_per_year);
    not_given(&line->schedule.days_per_week);
    not_given(&line->schedule.shift_length);
    line->schedule.idle_flow = -1;
    for (i = 0; i < r->count; i++) {
        const struct item *item = &r->items[i];
        if (item->kind == KIND_SOLUTE) {
            line->solutes[item->index].name = item->name;
            line->solutes[item->index].row = item->row;
            not_given(&line->solutes[item->index].conductivity);
        } else if (item->kind == KIND_LIQUID) {
            dregs_fluid *fluid = &line->fluids[item->index];
            fluid->name = item->name;
            fluid->row = item->row;
            fluid->solvent_share.si = 1.0;
            not_given(&fluid->coefficient);
            not_given(&fluid->price);
            not_given(&fluid->disposal);
            fluid->content = per_solute(r, 0.0);
            if (!fluid->content)
                return DREGS_NO_MEMORY;
        } else if (item->kind == KIND_CALIBRATION) {
            dregs_scale *scale = &line->scales[item->index];
            scale->name = item->name;
            scale->row = item->row;
            scale->reading = dregs_line_keep(line, 2 * DREGS_CALIBRATION_MOST, sizeof(dregs_value));
            if (!scale->reading)
                return DREGS_NO_MEMORY;
            scale->concentration = scale->reading + DREGS_CALIBRATION_MOST;
        } else if (dregs_is_stage(item->kind)) {
            if (!prepare_stage(r, &line->stages[item->index], item))
                return DREGS_NO_MEMORY;
        }
    }
    return DREGS_OK;
}

static char *struct_of(const struct reader *r, const struct item *item)
{
    dregs_line *line = r->line;

    switch (item->kind) {
    case KIND_LOAD:
        return (char *)&line->load;
    case KIND_SOLUTE:
        return (char *)&line->solutes[item->index];
    case KIND_LIQUID:
        return (char *)&line->fluids[item->index];
    case KIND_CALIBRATION:
        return (char *)&line->scales[item->index];
    case KIND_TARGET:
        return (char *)&line->target;
    case KIND_SCHEDULE:
        return (char *)&line->schedule;
    default:
        return (char *)&line->stages[item->index];
    }
}

static int read_spread(struct reader *r, unsigned row, dregs_unit unit, dregs_value *into)
{
    const dregs_row *cells = &r->line->rows[row];
    char quoted[DREGS_QUOTED];

    if (!dregs_spread_read(cells->spread, into->si, unit, &into->sd))
        return 1;
    SAY(r, row,
        "spread %s is not a standard deviation: a number >= 0 in the row's unit, or a share "
        "of the value such as 10%%",
        dregs_quote(quoted, cells->spread));
    return 0;
}

/* What a value of this type may be, in words; NULL when it is. */
static const char *out_of_bounds(enum value_type type, double si)
{
    if (dregs_is_beyond(si))
        return "beyond anything a real line could hold";
    switch (type) {
    case VALUE_READING:
        return NULL;
    case VALUE_POSITIVE:
        return si > 0 ? NULL : "not allowed, it must be above 0";
    case VALUE_TEMPERATURE:
        return si > 0 ? NULL : "below absolute zero";
    case VALUE_SHARE:
        return si >= 0 && si <= 1 ? NULL : "not a share, it must be within 0 and 1 (0 and 100 %)";
    case VALUE_COUNT:
        return si >= 1 && si <= 1e9 && si == floor(si)
                   ? NULL
                   : "not allowed, it must be a whole number from 1 to 1000000000";
    default:
        return si >= 0 ? NULL : "not allowed, it must not be negative";
    }
}

/* A currency per volume: the word before the slash is the user's own and is only kept as text. */
static int read_money_unit(const char *text, dregs_unit *unit, char *message)
{
    const char *slash = strchr(text, '/');
    dregs_unit volume;

    if (!slash || slash == text || slash - text > 8) {
        snprintf(message, DREGS_UNIT_MESSAGE, "a price is a currency per volume, such as EUR/L");
        return 0;
    }
    if (dregs_unit_read_like(slash + 1, "L", &volume, message))
        return 0;
    unit->scale = 1.0 / volume.scale;
    unit->offset = 0.0;
    return 1;
}

/* A meter's own unit is only kept as text. */
static int read_own_unit(dregs_unit *unit)
{
    unit->scale = 1.0;
    unit->offset = 0.0;
    return 1;
}

static void read_quantity(struct reader *r, unsigned row, const struct property *property,
                          dregs_value *into)
{
    const dregs_row *cells = &r->line->rows[row];
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], message[DREGS_UNIT_MESSAGE] = "";
    const char *wrong;
    dregs_unit unit;
    dregs_value read = {0, 0, 0};
    double number;
    int good_unit;

    dregs_quote(name, cells->item);
    if (dregs_number_read(cells->value, &number)) {
        SAY(r, row, "%.60s of %s: %s is not a number; a number is written like 28.5 or 2.85e1",
            cells->property, name, *cells->value ? dregs_quote(quoted, cells->value) : "nothing");
        return;
    }
    good_unit = property->type == VALUE_MONEY ? read_money_unit(cells->unit, &unit, message)
                : property->type == VALUE_READING
                    ? read_own_unit(&unit)
                    : !dregs_unit_read_like(cells->unit, property->unit, &unit, message);
    if (good_unit && property->type == VALUE_TEMPERATURE &&
        strncmp(cells->unit, "delta_", 6) == 0) {
        snprintf(message, sizeof message, "a difference, not a temperature");
        good_unit = 0; /* 70 delta_degC would be 70 K */
    }
    if (!good_unit) {
        SAY(r, row, "%.60s of %s: unit %s: %s; allowed is for example '%s'", cells->property, name,
            *cells->unit ? dregs_quote(quoted, cells->unit) : "missing", message, property->unit);
        return;
    }
    read.si = dregs_unit_to_si(unit, number);
    wrong = out_of_bounds(property->type, read.si);
    if (wrong) {
        SAY(r, row, "%.60s of %s: %.40s %.20s is %s", cells->property, name, cells->value,
            cells->unit, wrong);
        return;
    }
    if (!read_spread(r, row, unit, &read))
        return;
    read.row = row;
    *into = read;
}

static const char *kind_words(const struct reader *r, enum value_type type)
{
    (void)r;
    switch (type) {
    case VALUE_LIQUID:
        return "a liquid of this file";
    case VALUE_STAGE:
        return "a wash or rinse of this file";
    case VALUE_STAGE_OR_DRAIN:
        return "a wash or rinse of this file, or drain";
    default:
        return "a liquid, wash or rinse of this file";
    }
}

static int fits(const struct item *item, enum value_type type)
{
    int tank = dregs_kind_is(item->kind, DREGS_STAGE_TANK);
    int liquid = item->kind == KIND_LIQUID;

    return type == VALUE_LIQUID ? liquid : type == VALUE_LIQUID_OR_STAGE ? liquid || tank : tank;
}

static void read_link(struct reader *r, unsigned row, const struct property *property,
                      dregs_link *into)
{
    const dregs_row *cells = &r->line->rows[row];
    const char *names[ITEMS_MOST + 1];
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16], name[DREGS_QUOTED];
    const struct item *item;
    unsigned i, count = 0;

    if (property->type == VALUE_STAGE_OR_DRAIN && strcmp(cells->value, "drain") == 0) {
        into->kind = DREGS_LINK_DRAIN;
        into->row = row;
        return;
    }
    item = find_item(r, cells->value);
    if (item && item->kind == KINDS)
        return; /* its own row was faulty; one message is enough */
    if (!item || !fits(item, property->type)) {
        for (i = 0; i < r->count; i++)
            if (fits(&r->items[i], property->type))
                names[count++] = r->items[i].name;
        if (property->type == VALUE_STAGE_OR_DRAIN)
            names[count++] = "drain";
        SAY(r, row, "%s of %s: %s is not %s%s", cells->property, dregs_quote(name, cells->item),
            *cells->value ? dregs_quote(quoted, cells->value) : "nothing",
            kind_words(r, property->type), dregs_nearest_words(near, cells->value, names, count));
        return;
    }
    into->kind = item->kind == KIND_LIQUID ? DREGS_LINK_LIQUID : DREGS_LINK_STAGE;
    into->index = item->index;
    into->row = row;
}

static void read_solvent(struct reader *r, unsigned row, dregs_fluid *fluid)
{
    const dregs_row *cells = &r->line->rows[row];
    const char *near;
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED];

    if (!dregs_liquids_has(r->line->liquids, cells->value)) {
        near = dregs_liquids_nearest(r->line->liquids, cells->value);
        SAY(r, row, "solvent of %s: %s is not in the liquid data; nearest: '%s'",
            dregs_quote(name, cells->item),
            *cells->value ? dregs_quote(quoted, cells->value) : "nothing", near ? near : "water");
        return;
    }
    fluid->solvent = cells->value;
    fluid->solvent_row = row;
}

static void read_class(struct reader *r, unsigned row, dregs_stage *stage)
{
    const dregs_row *cells = &r->line->rows[row];
    const char *names[16];
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16], all[300] = "";
    size_t i, used = 0;

    stage->drag_out_class = dregs_film_class_named(cells->value);
    stage->class_row = row;
    if (stage->drag_out_class)
        return;
    for (i = 0; i < 16 && dregs_film_class(i); i++) {
        names[i] = dregs_film_class(i)->name;
        used += (size_t)snprintf(all + used, sizeof all - used, "%s%s", i ? ", " : "", names[i]);
    }
    SAY(r, row, "drag-out class %s is not in the table (%s)%s", dregs_quote(quoted, cells->value),
        all, dregs_nearest_words(near, cells->value, names, i));
}

static void read_level(struct reader *r, unsigned row, dregs_target *target)
{
    const dregs_row *cells = &r->line->rows[row];
    const dregs_level *level = dregs_level_named(cells->value);
    char quoted[DREGS_QUOTED];

    if (!level) {
        SAY(r, row,
            "level %s is not one of A/100, A/50, A/20, A/10, A/5, A/2, A to H, J, or R1E-2 to R25",
            dregs_quote(quoted, cells->value));
        return;
    }
    if (target->residue.row) {
        SAY(r, row, "the limit is given in two ways: residue in line %lu and level here",
            dregs_line_at(r->line, target->residue.row));
        return;
    }
    target->level = cells->value;
    target->residue.si = level->most;
    target->residue.row = row;
}

/* The number of loads that `dump at` stands for is known once the schedule is. */
static void read_dump_at(struct reader *r, unsigned row, dregs_stage *stage)
{
    static const char *const words[] = {"shift end", "day end", "week end"};
    const dregs_row *cells = &r->line->rows[row];
    char quoted[DREGS_QUOTED];
    unsigned i;

    for (i = 0; i < 3; i++)
        if (strcmp(cells->value, words[i]) == 0)
            stage->dump_at = (dregs_dump_at)(DREGS_DUMP_AT_SHIFT + i);
    if (stage->dump_at == DREGS_DUMP_AT_LOADS)
        SAY(r, row, "dump at %s is not one of shift end, day end, week end",
            dregs_quote(quoted, cells->value));
}

static void read_salt(struct reader *r, unsigned row, dregs_solute *solute)
{
    const dregs_row *cells = &r->line->rows[row];
    const char *best = dregs_electrolyte_nearest(cells->value);
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], near[DREGS_QUOTED + 16];

    solute->electrolyte = dregs_electrolyte_find(cells->value);
    solute->electrolyte_row = row;
    if (!solute->electrolyte)
        SAY(r, row, "electrolyte of %s: %s is not one of NaCl, KCl, NaOH, Na2CO3, NaHCO3%s",
            dregs_quote(name, cells->item),
            *cells->value ? dregs_quote(quoted, cells->value) : "nothing",
            dregs_nearest_words(near, cells->value, &best, 1));
}

static void read_compensation(struct reader *r, unsigned row, dregs_fluid *fluid)
{
    const dregs_row *cells = &r->line->rows[row];
    const char *best = dregs_compensation_nearest(cells->value);
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], near[DREGS_QUOTED + 16];

    fluid->compensation_row = row;
    if (dregs_compensation_find(cells->value, &fluid->compensation))
        SAY(r, row,
            "compensation of %s: %s is not one of none, linear, natural water, pure water%s",
            dregs_quote(name, cells->item),
            *cells->value ? dregs_quote(quoted, cells->value) : "nothing",
            dregs_nearest_words(near, cells->value, &best, 1));
}

static void read_whose(struct reader *r, unsigned row, dregs_scale *scale)
{
    const dregs_row *cells = &r->line->rows[row];
    const struct item *item = find_item(r, cells->value);
    const char *names[ITEMS_MOST + 1];
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], near[DREGS_QUOTED + 16];
    unsigned i, count = 0;

    scale->of_row = row;
    scale->solute = -1;
    if (strcmp(cells->value, "total") == 0)
        return;
    if (item && item->kind == KIND_SOLUTE) {
        scale->solute = (int)item->index;
        return;
    }
    for (i = 0; i < r->count; i++)
        if (r->items[i].kind == KIND_SOLUTE)
            names[count++] = r->items[i].name;
    names[count++] = "total";
    SAY(r, row, "solute of %s: %s is not a solute of this file, or total%s",
        dregs_quote(name, cells->item),
        *cells->value ? dregs_quote(quoted, cells->value) : "nothing",
        dregs_nearest_words(near, cells->value, names, count));
}

/* A value that is a word. */
static void read_word(struct reader *r, unsigned row, const struct item *item,
                      const struct property *property)
{
    const dregs_row *cells = &r->line->rows[row];
    char *owner = struct_of(r, item);
    char quoted[DREGS_QUOTED];

    if (*cells->unit || *cells->spread) {
        SAY(r, row, "%s is a word and takes no unit and no spread, %s was read", cells->property,
            dregs_quote(quoted, *cells->unit ? cells->unit : cells->spread));
        return;
    }
    switch (property->type) {
    case VALUE_SOLVENT:
        read_solvent(r, row, (dregs_fluid *)(void *)owner);
        break;
    case VALUE_CLASS:
        read_class(r, row, (dregs_stage *)(void *)owner);
        break;
    case VALUE_SALT:
        read_salt(r, row, (dregs_solute *)(void *)owner);
        break;
    case VALUE_COMPENSATION:
        read_compensation(r, row, (dregs_fluid *)(void *)owner);
        break;
    case VALUE_SOLUTE_OR_TOTAL:
        read_whose(r, row, (dregs_scale *)(void *)owner);
        break;
    case VALUE_LEVEL:
        read_level(r, row, (dregs_target *)(void *)owner);
        break;
    case VALUE_LAW:
        ((dregs_stage *)(void *)owner)->law_row = row;
        if (strcmp(cells->value, "plate") != 0 && strcmp(cells->value, "kushner") != 0)
            SAY(r, row, "film law %s is not one of plate, kushner",
                dregs_quote(quoted, cells->value));
        break;
    case VALUE_ON_OFF:
        ((dregs_schedule *)(void *)owner)->idle_flow = strcmp(cells->value, "on") == 0;
        if (strcmp(cells->value, "on") != 0 && strcmp(cells->value, "off") != 0)
            SAY(r, row, "idle flow %s is not one of on, off", dregs_quote(quoted, cells->value));
        break;
    case VALUE_DUMP_AT:
        read_dump_at(r, row, (dregs_stage *)(void *)owner);
        break;
    default:
        read_link(r, row, property, (dregs_link *)(void *)(owner + property->offset));
    }
}

/* The number behind "reading " from 1 to DREGS_CALIBRATION_MOST, less one; -1 for none. */
static int point_number(const char *text)
{
    int number = 0;

    if (!*text || *text == '0' || strlen(text) > 2 || strspn(text, "0123456789") != strlen(text))
        return -1;
    for (; *text; text++)
        number = number * 10 + (*text - '0');
    return number <= DREGS_CALIBRATION_MOST ? number - 1 : -1;
}

/* Is `text` this property of the item's kind? Sets the solute or the number it names, if it names
 * one. */
static int matches(const struct reader *r, const struct item *item, const struct property *property,
                   const char *text, unsigned *solute)
{
    size_t head = strlen(property->name);
    const struct item *named;

    if (!(property->kinds & IN(item->kind)))
        return 0;
    if (property->form != ONE_SOLUTE && property->form != NUMBERED)
        return strcmp(property->name, text) == 0;
    if (strncmp(text, property->name, head) != 0)
        return 0;
    if (property->form == NUMBERED) {
        int number = point_number(text + head);
        *solute = number < 0 ? 0 : (unsigned)number;
        return number >= 0;
    }
    named = find_item(r, text + head);
    if (!named || named->kind != KIND_SOLUTE)
        return 0;
    *solute = named->index;
    return 1;
}

static void unknown_property(struct reader *r, unsigned row, const struct item *item)
{
    const dregs_row *cells = &r->line->rows[row];
    const char *names[128];
    char quoted[DREGS_QUOTED], name[DREGS_QUOTED], near[DREGS_QUOTED + 16], all[320];
    size_t i, count = 0;

    for (i = 0; i < dregs_property_count; i++)
        if (dregs_properties[i].kinds & IN(item->kind) && dregs_properties[i].form != ONE_SOLUTE &&
            dregs_properties[i].form != NUMBERED)
            names[count++] = dregs_properties[i].name;
    if (item->kind == KIND_LIQUID)
        for (i = 0; i < r->count; i++)
            if (r->items[i].kind == KIND_SOLUTE && count < 128)
                names[count++] = r->items[i].name;
    list_properties(all, sizeof all, item->kind);
    SAY(r, row, "unknown property %s of %s, a %s%s; it may have %s%s",
        dregs_quote(quoted, cells->property), dregs_quote(name, cells->item),
        dregs_kind_names[item->kind], dregs_nearest_words(near, cells->property, names, count), all,
        item->kind == KIND_LIQUID ? " and the name of a solute"
        : dregs_kind_is(item->kind, DREGS_STAGE_TANK)
            ? ", 'removal <solute>' and 'clearing <solute>'"
        : item->kind == KIND_CALIBRATION ? ", 'reading <number>' and 'concentration <number>', "
                                           "numbers from 1 to 20"
        : item->kind == KIND_TARGET      ? " and 'residue <solute>'"
                                         : "");
}

static void twice(struct reader *r, unsigned row, unsigned first)
{
    const dregs_row *cells = &r->line->rows[row];
    char name[DREGS_QUOTED];

    SAY(r, row, "%.60s of %s given twice (first: line %lu, %.60s)", cells->property,
        dregs_quote(name, cells->item), dregs_line_at(r->line, first),
        r->line->rows[first].property);
}

static void read_row(struct reader *r, unsigned row, struct item *item)
{
    const dregs_row *cells = &r->line->rows[row];
    const struct property *property = NULL;
    unsigned solute = 0, s;
    dregs_value *values, read = {0, 0, 0};
    size_t i;

    for (i = 0; i < dregs_property_count; i++)
        if (matches(r, item, &dregs_properties[i], cells->property, &solute))
            break;
    if (i == dregs_property_count) {
        unknown_property(r, row, item);
        return;
    }
    property = &dregs_properties[i];
    if (property->form != ONE_SOLUTE && property->form != NUMBERED) {
        if (item->given[i]) {
            twice(r, row, item->given[i]);
            return;
        }
        item->given[i] = row;
    }
    if (property->type >= VALUE_SOLVENT) {
        read_word(r, row, item, property);
        return;
    }
    if (property->form == NO_SOLUTE) {
        values = (dregs_value *)(void *)(struct_of(r, item) + property->offset);
        if (values->row) /* a level has set the residue already */
            SAY(r, row, "the limit is given in two ways: level in line %lu and residue here",
                dregs_line_at(r->line, values->row));
        else
            read_quantity(r, row, property, values);
        return;
    }
    values = *(dregs_value **)(void *)(struct_of(r, item) + property->offset);
    read_quantity(r, row, property, &read);
    if (!read.row)
        return;
    if (property->form == NUMBERED) {
        if (values[solute].row)
            twice(r, row, values[solute].row);
        else
            values[solute] = read;
        return;
    }
    for (s = 0; s < r->line->solute_count; s++) {
        if (property->form == ONE_SOLUTE && s != solute)
            continue;
        if (values[s].row) {
            twice(r, row, values[s].row);
            return;
        }
        values[s] = read;
    }
}

dregs_status dregs_line_describe(dregs_line *line, dregs_faults *faults)
{
    struct reader r = {line, faults, NULL, 0, 0};
    dregs_status status;
    unsigned row;

    r.items = calloc(ITEMS_MOST + 1, sizeof *r.items);
    if (!r.items)
        return DREGS_NO_MEMORY;
    status = gather_items(&r);
    if (!status && !full(&r))
        status = prepare(&r);
    for (row = 1; !status && row <= line->row_count && !full(&r); row++) {
        struct item *item = find_item(&r, line->rows[row].item);
        if (item && item->kind != KINDS && *line->rows[row].property &&
            strcmp(line->rows[row].property, "kind") != 0)
            read_row(&r, row, item);
    }
    if (!status && !r.bad)
        status = dregs_line_check(line, r.items, r.count, faults);
    else if (!status && !full(&r)) /* the rows had faults; say what is missing as well */
        (void)dregs_line_check(line, r.items, r.count, faults);
    free(r.items);
    return status ? status : r.bad ? DREGS_BAD_DATA : DREGS_OK;
}
