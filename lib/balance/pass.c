/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pass.c: one load through the stages (section "one load" of dregs-model(7)).
 *
 * The masses in the tanks and in the film are carried along as rows: each is a linear function of
 * the tank masses before the load, and the printed equations are applied to the functions.
 */
#include "balance/map.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct pass {
    const dregs_line *line;
    unsigned solute, tanks;
    size_t dim;
    double *rows; /* dim x dim: the tanks, the sums, the number one */
    double *film; /* dim */
    double soil;  /* kg per load that adheres to the parts */
};

static double *row(struct pass *p, size_t index)
{
    return p->rows + index * p->dim;
}

static void add(struct pass *p, double *to, double factor, const double *from)
{
    size_t i;

    for (i = 0; i < p->dim; i++)
        to[i] += factor * from[i];
}

static void add_mass(struct pass *p, double *to, double mass)
{
    to[p->dim - 1] += mass;
}

static double *stream(struct pass *p, enum stream which)
{
    return row(p, p->tanks + (size_t)which);
}

/* The columns of a row that stand without the sums. */
static void keep_plain(const struct pass *p, const double *from, double *to)
{
    memcpy(to, from, p->tanks * sizeof *to);
    to[p->tanks] = from[p->dim - 1];
}

static void immerse(struct pass *p, const dregs_stage *stage, const dregs_carried *film,
                    double *mixed, double *met)
{
    double *tank = row(p, (size_t)stage->tank);
    double volume = dregs_line_tank(p->line, (unsigned)stage->tank)->volume;
    double off = stage->removal[p->solute].si * p->soil;
    double bypass = fmin((1.0 - stage->exchange.si) * film->in, film->out);
    double keep = film->in > 0 ? bypass / film->in : 0.0;
    double c_volume = volume + film->in - bypass;
    size_t i;

    p->soil -= off;
    add_mass(p, tank, off);
    add_mass(p, stream(p, STREAM_SOIL), off);
    keep_plain(p, tank, met);
    /* mixed = c, the concentration after mixing, as a row */
    for (i = 0; i < p->dim; i++)
        mixed[i] = (tank[i] + (1.0 - keep) * p->film[i]) / c_volume;
    for (i = 0; i < p->dim; i++) {
        double out = keep * p->film[i] + (film->out - bypass) * mixed[i];
        /* what stays, without the difference of large numbers that m + f - f_out would be */
        tank[i] = mixed[i] * (c_volume - (film->out - bypass));
        p->film[i] = out;
    }
}

static void spray(struct pass *p, const dregs_stage *stage, const dregs_carried *film)
{
    double fresh = dregs_line_fluid(p->line, stage->liquid.index)->content[p->solute].si;
    double reach = film->in > 0 ? stage->mixing.si * stage->use.si / film->in : HUGE_VAL;
    /* dregs_line_carry lets a spray be short of liquid by rounding: nothing is made of nothing */
    double keep = film->in > 0 ? fmin(exp(-reach) * film->out / film->in, 1.0) : 0.0;
    double brought = fresh * fmin(-expm1(-reach) * film->out, stage->use.si);
    double *runoff = stage->runoff_to.kind == DREGS_LINK_STAGE
                         ? row(p, (size_t)dregs_line_stage(p->line, stage->runoff_to.index)->tank)
                         : stream(p, STREAM_RUNOFF);
    size_t i;

    add_mass(p, stream(p, STREAM_SPRAYED), fresh * stage->use.si);
    add(p, runoff, 1.0 - keep, p->film);
    add_mass(p, runoff, fresh * stage->use.si - brought);
    for (i = 0; i < p->dim; i++)
        p->film[i] *= keep;
    add_mass(p, p->film, brought);
}

static void dry(struct pass *p, const dregs_stage *stage)
{
    size_t i;

    add(p, stream(p, STREAM_BLOWN_OFF), stage->blow_off.si, p->film);
    for (i = 0; i < p->dim; i++)
        p->film[i] *= 1.0 - stage->blow_off.si;
}

dregs_status dregs_pass(const dregs_line *line, unsigned solute, double *pass,
                        struct pass_rows *rows)
{
    unsigned tanks = dregs_line_tanks(line), i;
    struct pass p = {line, solute, tanks, tanks + STREAMS + 1, pass, NULL, 0};
    double *mixed = calloc(2 * p.dim, sizeof *mixed);

    if (!mixed)
        return DREGS_NO_MEMORY;
    p.film = mixed + p.dim;
    p.soil = dregs_line_solute(line, solute)->on_parts.si * dregs_line_load(line)->parts.si;
    memset(pass, 0, p.dim * p.dim * sizeof *pass);
    for (i = 0; i < p.dim; i++)
        pass[i * p.dim + i] = 1.0;
    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        const dregs_carried *carried = dregs_line_carried(line, i);
        if (stage->kind == DREGS_DRY)
            dry(&p, stage);
        else if (stage->kind == DREGS_SPRAY)
            spray(&p, stage, carried);
        else
            immerse(&p, stage, carried, mixed, rows->met + i * (tanks + 1));
        keep_plain(&p, p.film, rows->film + i * (tanks + 1));
        rows->adhering[i] = p.soil;
    }
    add(&p, stream(&p, STREAM_CARRIED), 1.0, p.film);
    free(mixed);
    return DREGS_OK;
}
