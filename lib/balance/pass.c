/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* pass.c: one load through the stages (section "one load" of dregs-model(7)).
 *
 * The masses in the tanks, in the film and in trapped liquid are carried along as rows: each is a
 * linear function of the tank masses before the load, and the printed equations are applied to the
 * functions. What the equations are made of at each stage is known to its kind (struct
 * stage_visit).
 *
 * The volume of a tank is held constant, and what a visit adds or takes flows off or in until the
 * next load. For solutes that is of no account: the concentration is what counts. A liquid has to
 * add up to the volume itself, so what the tank has too much or too little of it after the visit,
 * in the tank's mixture, waits in a buffer of its own, and the interval lets it in evenly. Liquids
 * then fill the tank at every moment, and each of their streams is that of the volume balance.
 */
#include "balance/map.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct pass {
    const dregs_line *line;
    unsigned substance, tanks;
    int liquid; /* the substance is a liquid */
    const struct ledger *ledger;
    size_t columns;  /* dim, or 1: the last of them alone, what is there whatever the tanks hold */
    double *rows;    /* dim x columns: the tanks, the sums, the number one */
    double *film;    /* columns */
    double *trapped; /* columns, in liquid that is trapped beside it */
    double soil;     /* kg per load that adheres to the parts */
};

static double *row(struct pass *p, size_t index)
{
    return p->rows + index * p->columns;
}

static void add(struct pass *p, double *to, double factor, const double *from)
{
    size_t i;

    for (i = 0; i < p->columns; i++)
        to[i] += factor * from[i];
}

static void add_mass(struct pass *p, double *to, double mass)
{
    to[p->columns - 1] += mass;
}

/* A sum's row; NULL where the ledger keeps none. */
static double *stream(struct pass *p, dregs_stream which, unsigned stage)
{
    size_t index = p->ledger->row[which][stage];

    return index == LEDGER_NOWHERE ? NULL : row(p, index);
}

static void note(struct pass *p, dregs_stream which, unsigned stage, double factor,
                 const double *from)
{
    double *to = stream(p, which, stage);

    if (to)
        add(p, to, factor, from);
}

static void note_mass(struct pass *p, dregs_stream which, unsigned stage, double mass)
{
    double *to = stream(p, which, stage);

    if (to)
        add_mass(p, to, mass);
}

/* The columns of a row that stand without the sums. */
static void keep_plain(const struct pass *p, const double *from, double *to)
{
    if (p->columns > 1)
        memcpy(to, from, p->tanks * sizeof *to);
    to[p->tanks] = from[p->columns - 1];
}

/* The soil that a visit takes off the parts. */
static void take_off(struct pass *p, unsigned index, double share, double *tank)
{
    double off = share * p->soil;

    p->soil -= off;
    add_mass(p, tank, off);
    note_mass(p, DREGS_STREAM_SOIL, index, off);
}

/* A stage in a tank, as struct stage_visit says. */
static void mix(struct pass *p, unsigned index, const struct stage_visit *visit, double *mixed,
                double *met)
{
    const dregs_carried *film = dregs_line_carried(p->line, index);
    double volume = dregs_line_tank(p->line, (unsigned)visit->tank)->volume;
    double *tank = row(p, (size_t)visit->tank), taken = visit->takes + visit->trapped.takes;
    size_t i;

    take_off(p, index, visit->off, tank);
    if (met)
        keep_plain(p, tank, met);
    /* mixed = c, the concentration after mixing, as a row */
    for (i = 0; i < p->columns; i++)
        mixed[i] = (tank[i] + (1.0 - visit->keep) * p->film[i] +
                    (1.0 - visit->trapped.keep) * p->trapped[i]) /
                   visit->mixes;
    for (i = 0; i < p->columns; i++) {
        double out = visit->keep * p->film[i] + visit->takes * mixed[i];
        /* what stays, without the difference of large numbers that m + f - f_out would be */
        tank[i] = mixed[i] * (p->liquid ? volume : visit->mixes - taken);
        p->film[i] = out;
        p->trapped[i] = visit->trapped.keep * p->trapped[i] + visit->trapped.takes * mixed[i];
    }
    if (p->liquid)
        add(p, row(p, p->ledger->buffers + (size_t)visit->tank), film->in - film->out, mixed);
}

/* Where a part of the film, of what is trapped and of what is put on them goes. */
static void pass_on(struct pass *p, unsigned index, const struct stage_part *part)
{
    note(p, part->stream, index, part->of_film, p->film);
    note(p, part->stream, index, part->of_trapped, p->trapped);
    note_mass(p, part->stream, index, part->fresh);
    if (part->into >= 0) {
        size_t tank = (size_t)part->into;
        double *into = row(p, p->liquid ? p->ledger->buffers + tank : tank);
        add(p, into, part->of_film, p->film);
        add(p, into, part->of_trapped, p->trapped);
        add_mass(p, into, part->fresh);
    }
}

/* What stays on the load of film and trapped liquid. */
static void stay(struct pass *p, const struct stage_visit *visit)
{
    const struct stage_trapped *t = &visit->trapped;
    size_t i;

    for (i = 0; i < p->columns; i++) {
        double film = p->film[i];
        p->film[i] = visit->keep * film + t->gives * p->trapped[i];
        p->trapped[i] = t->of_film * film + t->keep * p->trapped[i];
    }
    add_mass(p, p->film, visit->brought);
    add_mass(p, p->trapped, t->brought);
}

/* A stage without a tank: what the parts do not take stays on the load. */
static void leave(struct pass *p, unsigned index, const struct stage_visit *visit)
{
    size_t i;

    for (i = 0; i < visit->parts; i++)
        pass_on(p, index, &visit->part[i]);
    stay(p, visit);
}

/* Notes what the load takes on from a stage, or in the end. */
static void note_carried(struct pass *p, unsigned index)
{
    int last = index == dregs_line_stages(p->line) - 1;
    dregs_stream which = !last       ? DREGS_STREAM_PASSED
                         : p->liquid ? DREGS_STREAM_DRIED
                                     : DREGS_STREAM_LEFT;

    note(p, which, index, 1.0, p->film);
    note(p, which, index, 1.0, p->trapped);
}

static void pass_stage(struct pass *p, unsigned index, const struct stage_visit *visit,
                       double *mixed, struct pass_rows *rows)
{
    if (visit->tank >= 0)
        mix(p, index, visit, mixed, rows ? rows->met + index * (p->tanks + 1) : NULL);
    else
        leave(p, index, visit);
    note_carried(p, index);
    if (!rows)
        return;
    keep_plain(p, p->film, rows->film + index * (p->tanks + 1));
    keep_plain(p, p->trapped, rows->trapped + index * (p->tanks + 1));
    rows->adhering[index] = p->soil;
}

/* \param visit  of all stages; NULL: they are asked for
 * \param columns  all, or 1: the last one alone */
static dregs_status pass_all(const dregs_line *line, unsigned substance,
                             const struct ledger *ledger, const struct stage_visit *visit,
                             size_t columns, double *pass, struct pass_rows *rows)
{
    struct pass p = {.line = line,
                     .substance = substance,
                     .tanks = dregs_line_tanks(line),
                     .liquid = dregs_stage_is_liquid(line, substance),
                     .ledger = ledger,
                     .columns = columns,
                     .rows = pass};
    double few[3] = {0}, *mixed = columns > 1 ? calloc(3 * columns, sizeof *mixed) : few;
    struct stage_visit asked;
    size_t dim = ledger->dim, k;
    unsigned i;

    if (!mixed)
        return DREGS_NO_MEMORY;
    p.film = mixed + columns;
    p.trapped = p.film + columns;
    if (!p.liquid)
        p.soil = dregs_line_solute(line, substance)->on_parts.si * dregs_line_load(line)->parts.si;
    memset(pass, 0, dim * columns * sizeof *pass);
    for (k = dim - columns; k < dim; k++)
        pass[k * columns + k - (dim - columns)] = 1.0;
    for (i = 0; i < dregs_line_stages(line); i++) {
        if (!visit)
            dregs_stage_visit(line, i, substance, &asked);
        pass_stage(&p, i, visit ? visit + i : &asked, mixed, rows);
    }
    if (mixed != few)
        free(mixed);
    return DREGS_OK;
}

dregs_status dregs_balance_pass(const dregs_line *line, unsigned substance,
                                const struct ledger *ledger, const struct stage_visit *visit,
                                double *pass, struct pass_rows *rows)
{
    return pass_all(line, substance, ledger, visit, ledger->dim, pass, rows);
}

dregs_status dregs_balance_pass_last(const dregs_line *line, unsigned solute,
                                     const struct ledger *ledger, const struct stage_visit *visit,
                                     double *last, struct pass_rows *rows)
{
    return pass_all(line, solute, ledger, visit, 1, last, rows);
}

static int parts_alike(const struct stage_part *one, const struct stage_part *other)
{
    return one->stream == other->stream && one->of_film == other->of_film &&
           one->of_trapped == other->of_trapped && one->into == other->into;
}

int dregs_balance_visits_alike(const struct stage_visit *one, const struct stage_visit *other,
                               unsigned stages)
{
    unsigned i, k;

    for (i = 0; i < stages; i++, one++, other++) {
        if (one->tank != other->tank || one->mixes != other->mixes || one->takes != other->takes ||
            one->keep != other->keep || one->parts != other->parts ||
            one->trapped.keep != other->trapped.keep ||
            one->trapped.takes != other->trapped.takes ||
            one->trapped.of_film != other->trapped.of_film ||
            one->trapped.gives != other->trapped.gives)
            return 0;
        for (k = 0; k < one->parts; k++)
            if (!parts_alike(&one->part[k], &other->part[k]))
                return 0;
    }
    return 1;
}
