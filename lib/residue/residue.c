/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* residue.c: from the film on the parts to what is left when it has dried. */
#include "residue/residue.h"
#include "line/line.h"

#include <string.h>

void dregs_residue_row(const dregs_map *map, unsigned solute, double *row)
{
    size_t columns = dregs_line_tanks(dregs_map_line(map)) + 1u;

    memcpy(row, dregs_balance_map_left(map, solute), columns * sizeof *row);
}

double dregs_residue_of(const dregs_residue *residue, int solute)
{
    return solute == DREGS_EVERY_SOLUTE ? residue->total
                                        : residue->film[solute] + residue->adhering[solute];
}

dregs_status dregs_residue_before(const dregs_map *map, const dregs_worst *load,
                                  dregs_state **state)
{
    dregs_state *before = dregs_state_new(map);
    dregs_status status = before ? DREGS_OK : DREGS_NO_MEMORY;

    if (!status && load->in_the_long_run)
        status = dregs_state_periodic(before);
    if (!status && load->load > dregs_state_next(before))
        status = dregs_state_before(before, load->load);
    if (status)
        dregs_state_free(before);
    else
        *state = before;
    return status;
}

dregs_status dregs_residue_at(const dregs_map *map, const dregs_worst *load, dregs_residue *residue)
{
    dregs_state *state = NULL;
    dregs_status status = dregs_residue_before(map, load, &state);

    if (!status)
        dregs_residue_next(state, residue);
    dregs_state_free(state);
    return status;
}

double dregs_residue_adhering(const dregs_map *map, int solute)
{
    unsigned s, solutes = dregs_line_solutes(dregs_map_line(map));
    double sum = 0.0;

    for (s = 0; s < solutes; s++)
        if (solute < 0 || solute == (int)s)
            sum += dregs_balance_map_adhering(map, s);
    return sum;
}

/* The totals of the solutes. */
static void add_up(dregs_residue *residue)
{
    double film = 0.0, adhering = 0.0, total = 0.0;
    unsigned s;

    for (s = 0; s < residue->solutes; s++) {
        film += residue->film[s];
        adhering += residue->adhering[s];
        total += residue->film[s] + residue->adhering[s];
    }
    residue->film_total = film;
    residue->adhering_total = adhering;
    residue->total = total;
}

void dregs_residue_next(const dregs_state *state, dregs_residue *residue)
{
    residue->solutes = dregs_balance_state_left(state, residue->film, residue->adhering);
    add_up(residue);
}

dregs_status dregs_residue_rinsed(const dregs_state *state, dregs_residue *residue)
{
    const dregs_map *map = dregs_balance_state_map(state);
    const dregs_line *line = dregs_map_line(map);
    dregs_state *rinsed = dregs_state_under(map, state);
    unsigned s, t;

    if (!rinsed)
        return DREGS_NO_MEMORY;
    for (s = 0; s < dregs_line_solutes(line); s++)
        for (t = 0; t < dregs_line_tanks(line); t++) {
            const dregs_tank *tank = dregs_line_tank(line, t);
            const dregs_stage *stage = dregs_line_stage(line, tank->stage);
            if (dregs_stage_is(stage, DREGS_STAGE_RINSES))
                dregs_balance_state_z(rinsed, s)[t] =
                    tank->volume * dregs_line_fluid(line, stage->feed.index)->content[s].si;
        }
    dregs_residue_next(rinsed, residue);
    dregs_state_free(rinsed);
    return DREGS_OK;
}

void dregs_residue_floor(const dregs_map *map, dregs_residue *residue)
{
    const dregs_line *line = dregs_map_line(map);
    unsigned last = (unsigned)dregs_line_last_wet(line), i, s;
    const dregs_fluid *fluid = dregs_line_wet_with(line, last);
    const dregs_carried *carried = dregs_line_carried(line, last);
    double film = (carried->out - carried->trapped) * dregs_line_left_of_film(line);
    struct stage_visit visit;

    residue->solutes = dregs_line_solutes(line);
    for (s = 0; s < residue->solutes; s++) {
        double left = film, trapped = carried->trapped * dregs_line_left_of_trapped(line);
        for (i = last + 1; i < dregs_line_stages(line); i++) {
            dregs_stage_visit(line, i, s, &visit);
            left *= visit.keep;
            trapped *= visit.trapped.keep;
        }
        residue->film[s] = (left + trapped) * fluid->content[s].si;
        residue->adhering[s] = dregs_balance_map_adhering(map, s);
    }
    add_up(residue);
}
