/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* ensemble.c: the rows of a line that are drawn, and its draws. */
#include "ensemble/ensemble.h"
#include "ensemble/inside.h"
#include "line/line.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Rows of liquids are drawn by numbers that no row of a line has. */
#define OF_LIQUIDS (1u << 31)

struct dregs_ensemble {
    const dregs_line *line; /* NULL: liquids alone */
    const dregs_liquids *liquids;
    uint64_t seed;
    unsigned rows, of_line; /* all, and those of the line, which come first */
    dregs_drawn *drawn;
    dregs_ensemble *second; /* of another line, whose draws go with these; NULL: there is none */
    dregs_ensemble **part;  /* of a joined line, whose rows are those of its parts; NULL */
    unsigned parts;
};

/* The row at the end of the way along `with`; the reader has seen to it that there is one. */
static unsigned root_of(const dregs_line *line, unsigned row)
{
    unsigned next;

    while ((next = dregs_line_shares_draw(line, row)) != 0)
        row = next;
    return row;
}

/* Adds a row when it is to be drawn; 0 when it cannot be. */
static int take_row(dregs_ensemble *made, unsigned row, unsigned questions, dregs_faults *faults)
{
    dregs_value value;
    dregs_drawn *drawn = &made->drawn[made->rows];

    if (dregs_line_value(made->line, row, &value) || !(value.sd > 0) ||
        !(dregs_line_row_used_by(made->line, row) & questions))
        return 1;
    drawn->row = row;
    drawn->shares = root_of(made->line, row);
    drawn->mean = value.si;
    drawn->sd = value.sd;
    if (!dregs_ensemble_fit(made->line, drawn, faults))
        return 0;
    made->rows++;
    return 1;
}

/* The number of a liquid in its table. */
static unsigned place_of(const dregs_liquids *liquids, const char *name)
{
    unsigned i = 0;

    while (dregs_liquids_name(liquids, i) != name)
        i++;
    return i;
}

static int has(const dregs_ensemble *made, unsigned number)
{
    unsigned i;

    for (i = made->of_line; i < made->rows; i++)
        if (made->drawn[i].shares == number)
            return 1;
    return 0;
}

/* Properties that a draw may be of; no equation takes the ones behind them. Another number would
 * give every property of a liquid other draws. */
enum { NUMBERED = DREGS_SOLUBILITY };

/* Adds a property when it is in doubt. One that is exact within its data may be carried on. */
static void take_property(dregs_ensemble *made, const dregs_liquid_property *taken)
{
    const dregs_liquid_row *row = dregs_liquids_row(made->liquids, taken->liquid, taken->property);
    dregs_drawn *drawn = &made->drawn[made->rows];
    const char *name;
    unsigned number;

    if (!row || row->word || isnan(row->accuracy) || (row->accuracy == 0 && isnan(row->low)) ||
        strcmp(dregs_property_unit(taken->property), "K") == 0 ||
        (unsigned)taken->property >= NUMBERED)
        return;
    name = dregs_liquids_find(made->liquids, taken->liquid);
    number = OF_LIQUIDS + place_of(made->liquids, name) * NUMBERED + taken->property;
    if (has(made, number))
        return;
    *drawn = (dregs_drawn){.shares = number, .liquid = name, .property = taken->property};
    dregs_ensemble_fit_accuracy(drawn, row->accuracy);
    made->rows++;
}

dregs_status dregs_ensemble_new_with(const dregs_line *line, unsigned questions,
                                     const dregs_liquids *liquids,
                                     const dregs_liquid_property *taken, size_t count,
                                     uint64_t seed, dregs_ensemble **ensemble, dregs_faults *faults)
{
    unsigned rows = line ? dregs_line_rows(line) : 0, row;
    dregs_ensemble *made = calloc(1, sizeof *made);
    int bad = 0;
    size_t i;

    if (made)
        made->drawn = calloc(rows + count + 1, sizeof *made->drawn);
    if (!made || !made->drawn) {
        free(made);
        return DREGS_NO_MEMORY;
    }
    made->line = line;
    made->liquids = liquids;
    made->seed = seed;
    if (faults && line)
        snprintf(faults->file, sizeof faults->file, "%s", dregs_line_name(line));
    for (row = 1; row <= rows; row++)
        bad |= !take_row(made, row, questions, faults);
    made->of_line = made->rows;
    for (i = 0; i < count; i++)
        take_property(made, &taken[i]);
    if (bad) {
        dregs_ensemble_free(made);
        return DREGS_BAD_DATA;
    }
    *ensemble = made;
    return DREGS_OK;
}

/* Does the line have a row that would be drawn? With none its properties are not drawn either. */
static int draws_rows(const dregs_line *line, unsigned questions)
{
    unsigned row;
    dregs_value value;

    for (row = 1; row <= dregs_line_rows(line); row++)
        if (!dregs_line_value(line, row, &value) && value.sd > 0 &&
            dregs_line_row_used_by(line, row) & questions)
            return 1;
    return 0;
}

/* \param properties  1: those of its liquids too. */
static dregs_status new_of_line(const dregs_line *line, unsigned questions, int properties,
                                uint64_t seed, dregs_ensemble **ensemble, dregs_faults *faults)
{
    unsigned count = properties ? dregs_line_taken(line, questions, NULL) : 0;
    dregs_liquid_property *taken = malloc((count + 1) * sizeof *taken);
    dregs_status status;

    if (!taken)
        return DREGS_NO_MEMORY;
    if (count)
        (void)dregs_line_taken(line, questions, taken);
    status = dregs_ensemble_new_with(line, questions, dregs_line_liquids(line), taken, count, seed,
                                     ensemble, faults);
    free(taken);
    return status;
}

/* ---- the parts of a joined line ---- */

/* Does a part have a liquid of the joined line? */
static int has_fluid(const struct dregs_line_part *part, unsigned fluid)
{
    unsigned f;

    for (f = 0; f < dregs_line_fluids(part->line); f++)
        if (part->fluid[f] == fluid)
            return 1;
    return 0;
}

/* The liquids of a part that an earlier one has too are drawn with those: what stands of them there
 * under the same names has the same numbers. All other rows have numbers of their own. */
static void number_part(const dregs_ensemble *made, const struct dregs_line_part *part,
                        unsigned index, unsigned behind)
{
    dregs_ensemble *own = made->part[index];
    unsigned i, k, f;

    for (i = 0; i < own->of_line; i++) {
        const dregs_row *cells = dregs_line_row(own->line, own->drawn[i].shares);
        unsigned row = 0, before = 0;
        for (f = 0; f < dregs_line_fluids(own->line); f++)
            if (strcmp(dregs_line_fluid(own->line, f)->name, cells->item) == 0)
                break;
        for (k = 0; k < index && f < dregs_line_fluids(own->line) && !row; k++) {
            if (has_fluid(&part[k], part[index].fluid[f]))
                row = dregs_line_find(part[k].line, cells->item, cells->property);
            row = row ? root_of(part[k].line, row) : 0;
            before += row ? 0 : dregs_line_rows(part[k].line);
        }
        own->drawn[i].shares = row ? before + row : behind + own->drawn[i].shares;
    }
}

/* The properties of liquids that any of the parts takes, so that each is drawn for all alike. */
static dregs_liquid_property *taken_by_parts(const struct dregs_line_part *part, unsigned parts,
                                             unsigned questions, unsigned *count)
{
    dregs_liquid_property *taken;
    unsigned i, all = 0;

    for (i = 0; i < parts; i++)
        all += dregs_line_taken(part[i].line, questions, NULL);
    taken = malloc((all + 1) * sizeof *taken);
    for (i = 0, *count = 0; taken && i < parts; i++)
        *count += dregs_line_taken(part[i].line, questions, taken + *count);
    return taken;
}

static dregs_status new_of_parts(const dregs_line *line, unsigned questions, uint64_t seed,
                                 dregs_ensemble *made, dregs_faults *faults)
{
    const struct dregs_line_part *part;
    unsigned parts = dregs_line_parts(line, &part), count, i, behind = 0;
    dregs_liquid_property *taken = taken_by_parts(part, parts, questions, &count);
    dregs_status status = DREGS_OK;
    int draws = 0;

    made->part = calloc(parts, sizeof *made->part);
    if (!taken || !made->part)
        status = DREGS_NO_MEMORY;
    for (i = 0; i < parts; i++)
        draws |= draws_rows(part[i].line, questions);
    for (i = 0; i < parts && !status; i++) {
        status = dregs_ensemble_new_with(part[i].line, questions, dregs_line_liquids(line), taken,
                                         draws ? count : 0, seed, &made->part[i], faults);
        if (status)
            break;
        made->parts++;
        number_part(made, part, i, behind);
        behind += dregs_line_rows(part[i].line);
    }
    free(taken);
    return status;
}

dregs_status dregs_ensemble_new(const dregs_line *line, unsigned questions, uint64_t seed,
                                dregs_ensemble **ensemble, dregs_faults *faults)
{
    dregs_ensemble *made;
    dregs_status status;

    if (dregs_line_part(line, 0)) {
        made = calloc(1, sizeof *made);
        if (!made)
            return DREGS_NO_MEMORY;
        made->line = line;
        made->liquids = dregs_line_liquids(line);
        made->seed = seed;
        status = new_of_parts(line, questions, seed, made, faults);
        if (status)
            dregs_ensemble_free(made);
        else
            *ensemble = made;
        return status;
    }
    return new_of_line(line, questions, draws_rows(line, questions), seed, ensemble, faults);
}

/* ---- two lines ---- */

/* The rows of the second are drawn by the numbers of the rows of the first that they stand for; the
 * others by numbers that none of those has. */
static void go_with(dregs_ensemble *second, const dregs_line *first)
{
    unsigned i;

    for (i = 0; i < second->of_line; i++) {
        const dregs_row *cells = dregs_line_row(second->line, second->drawn[i].shares);
        unsigned row = dregs_line_find(first, cells->item, cells->property);
        second->drawn[i].shares = row ? row : dregs_line_rows(first) + second->drawn[i].shares;
    }
}

dregs_status dregs_ensemble_new_pair(const dregs_line *first, const dregs_line *second,
                                     unsigned questions, uint64_t seed, dregs_ensemble **ensemble,
                                     dregs_faults *faults)
{
    int properties = draws_rows(first, questions) || draws_rows(second, questions);
    dregs_ensemble *made;
    dregs_status status = new_of_line(first, questions, properties, seed, &made, faults);

    if (status)
        return status;
    status = new_of_line(second, questions, properties, seed, &made->second, faults);
    if (status) {
        dregs_ensemble_free(made);
        return status;
    }
    go_with(made->second, first);
    *ensemble = made;
    return DREGS_OK;
}

const dregs_line *dregs_ensemble_second(const dregs_ensemble *ensemble)
{
    return ensemble->second->line;
}

/* Adds the values of an ensemble that none of those before it draws. */
static void add_values(const dregs_ensemble *own, const dregs_ensemble *const *before,
                       unsigned count, unsigned *values, unsigned *properties)
{
    unsigned i, k, b;

    for (i = 0; i < own->rows; i++) {
        int drawn = 0;
        for (b = 0; b < count && !drawn; b++)
            for (k = 0; k < before[b]->rows && !drawn; k++)
                drawn = before[b]->drawn[k].shares == own->drawn[i].shares;
        *values += !drawn;
        *properties += !drawn && i >= own->of_line;
    }
}

unsigned dregs_ensemble_values(const dregs_ensemble *ensemble, unsigned *properties)
{
    unsigned values = ensemble->rows, i;

    *properties = ensemble->rows - ensemble->of_line;
    if (ensemble->second)
        add_values(ensemble->second, &ensemble, 1, &values, properties);
    for (i = 0; i < ensemble->parts; i++)
        add_values(ensemble->part[i], (const dregs_ensemble *const *)ensemble->part, i, &values,
                   properties);
    return values;
}

void dregs_ensemble_free(dregs_ensemble *ensemble)
{
    unsigned i;

    if (!ensemble)
        return;
    dregs_ensemble_free(ensemble->second);
    for (i = 0; i < ensemble->parts; i++)
        dregs_ensemble_free(ensemble->part[i]);
    free(ensemble->part);
    free(ensemble->drawn);
    free(ensemble);
}

const dregs_line *dregs_ensemble_line(const dregs_ensemble *ensemble)
{
    return ensemble->line;
}

uint64_t dregs_ensemble_seed(const dregs_ensemble *ensemble)
{
    return ensemble->seed;
}

unsigned dregs_ensemble_rows(const dregs_ensemble *ensemble)
{
    return ensemble->rows;
}

const dregs_drawn *dregs_ensemble_row(const dregs_ensemble *ensemble, unsigned index)
{
    return index < ensemble->rows ? &ensemble->drawn[index] : NULL;
}

double dregs_ensemble_z(const dregs_ensemble *ensemble, uint64_t draw, unsigned index)
{
    if (index >= ensemble->rows)
        return NAN;
    return gsl_cdf_ugaussian_Pinv(
        dregs_ensemble_uniform(ensemble->seed, draw, ensemble->drawn[index].shares));
}

double dregs_ensemble_at(const dregs_ensemble *ensemble, unsigned index, double z)
{
    return index < ensemble->rows ? dregs_ensemble_value(&ensemble->drawn[index], z) : NAN;
}

double dregs_ensemble_draw(const dregs_ensemble *ensemble, uint64_t draw, unsigned index)
{
    return dregs_ensemble_at(ensemble, index, dregs_ensemble_z(ensemble, draw, index));
}

const dregs_liquids *dregs_ensemble_liquids(const dregs_ensemble *ensemble)
{
    return ensemble->liquids;
}

/* The table with its properties at these places; NULL where it is the one that is stated. */
static dregs_status liquids_at(const dregs_ensemble *ensemble, const double *z, dregs_liquids **off)
{
    unsigned count = 0, i;
    dregs_liquid_offset *offsets;
    dregs_status status = DREGS_OK;

    *off = NULL;
    if (ensemble->rows == ensemble->of_line)
        return DREGS_OK;
    offsets = malloc((ensemble->rows - ensemble->of_line) * sizeof *offsets);
    if (!offsets)
        return DREGS_NO_MEMORY;
    for (i = ensemble->of_line; i < ensemble->rows; i++)
        if (!isnan(z[i]))
            offsets[count++] =
                (dregs_liquid_offset){ensemble->drawn[i].liquid, ensemble->drawn[i].property, z[i]};
    if (count)
        status = dregs_liquids_off(ensemble->liquids, offsets, count, off);
    free(offsets);
    return status;
}

/* The line with its rows at these places. */
static dregs_status line_at(const dregs_ensemble *ensemble, const double *z, dregs_liquids *off,
                            dregs_line **line, dregs_faults *faults)
{
    unsigned count = 0, i;
    dregs_setting *settings = calloc(ensemble->of_line + 1, sizeof *settings);
    dregs_status status;

    if (!settings)
        return DREGS_NO_MEMORY;
    for (i = 0; i < ensemble->of_line; i++)
        if (!isnan(z[i]))
            settings[count++] = (dregs_setting){.row = ensemble->drawn[i].row,
                                                .si = dregs_ensemble_at(ensemble, i, z[i])};
    status = dregs_line_drawn(ensemble->line, off, settings, count, line, faults);
    free(settings);
    return status;
}

static dregs_status make_at(const dregs_ensemble *ensemble, const double *z, struct draw *made,
                            dregs_faults *faults)
{
    dregs_liquids *off;
    dregs_status status = liquids_at(ensemble, z, &off);

    *made = (struct draw){.liquids = off ? off : ensemble->liquids, .own = off};
    if (status || !ensemble->line)
        return status;
    status = line_at(ensemble, z, off, &made->line, faults);
    if (!status)
        made->own = NULL;
    return status;
}

static dregs_status draw_one(const dregs_ensemble *ensemble, uint64_t draw, struct draw *made,
                             dregs_faults *faults)
{
    double *z = malloc((ensemble->rows + 1) * sizeof *z);
    dregs_status status;
    unsigned i;

    *made = (struct draw){.liquids = ensemble->liquids};
    if (!z)
        return DREGS_NO_MEMORY;
    for (i = 0; i < ensemble->rows; i++)
        z[i] = dregs_ensemble_z(ensemble, draw, i);
    status = make_at(ensemble, z, made, faults);
    free(z);
    return status;
}

/* Each part by itself, and what they are joined. */
static dregs_status draw_parts(const dregs_ensemble *ensemble, uint64_t draw, struct draw *made,
                               dregs_faults *faults)
{
    struct draw one;
    dregs_status status = DREGS_OK;
    unsigned i;

    *made = (struct draw){.liquids = ensemble->liquids};
    made->part = calloc(ensemble->parts, sizeof *made->part);
    if (!made->part)
        return DREGS_NO_MEMORY;
    for (i = 0; i < ensemble->parts && !status; i++) {
        status = draw_one(ensemble->part[i], draw, &one, faults);
        if (status)
            dregs_ensemble_clear_draw(&one);
        else
            made->part[made->parts++] = one.line; /* which holds its liquids */
    }
    return status ? status
                  : dregs_line_join_as(ensemble->line, (const dregs_line *const *)made->part,
                                       &made->line);
}

dregs_status dregs_ensemble_make_draw(const dregs_ensemble *ensemble, uint64_t draw,
                                      struct draw *made, dregs_faults *faults)
{
    dregs_status status = ensemble->parts ? draw_parts(ensemble, draw, made, faults)
                                          : draw_one(ensemble, draw, made, faults);
    struct draw second;

    if (status || !ensemble->second)
        return status;
    status = draw_one(ensemble->second, draw, &second, faults);
    if (status)
        dregs_ensemble_clear_draw(&second);
    else
        made->second = second.line; /* which holds its liquids */
    return status;
}

dregs_status dregs_ensemble_line_at(const dregs_ensemble *ensemble, const double *z,
                                    dregs_line **line)
{
    struct draw made;
    dregs_status status = make_at(ensemble, z, &made, NULL);

    if (status)
        dregs_ensemble_clear_draw(&made);
    else
        *line = made.line;
    return status;
}

void dregs_ensemble_clear_draw(struct draw *made)
{
    unsigned i;

    dregs_line_free(made->line);
    dregs_line_free(made->second);
    dregs_liquids_free(made->own);
    for (i = 0; i < made->parts; i++)
        dregs_line_free(made->part[i]);
    free(made->part);
}

dregs_status dregs_ensemble_drawn(const dregs_ensemble *ensemble, uint64_t draw, dregs_line **line,
                                  dregs_faults *faults)
{
    struct draw made;
    dregs_status status = ensemble->line && !ensemble->parts
                              ? dregs_ensemble_make_draw(ensemble, draw, &made, faults)
                              : DREGS_DOMAIN;

    if (!status)
        *line = made.line;
    else if (ensemble->line && !ensemble->parts)
        dregs_ensemble_clear_draw(&made);
    return status;
}
