/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry_line.c: from the dry stages of a line to drying cases. */
#include "answer/dry.h"
#include "dregs/balance.h"
#include "dregs/residue.h"
#include "dregs/stage.h"
#include "line/line.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static double or_nan(const dregs_value *value)
{
    return value->row ? value->si : NAN;
}

/* The room's air: by the options, by the stage, by the item `room`. Gives its dew point where that
 * is what tells its humidity, else NaN. */
static double take_room(const struct dry_answer *answer, const dregs_stage *stage,
                        dregs_dry_case *film)
{
    const dregs_dry_request *request = answer->request;
    const dregs_room *room = dregs_line_room(answer->line);

    film->humid_at = isnan(request->room) ? or_nan(&room->temperature) : request->room;
    film->humidity = request->humidity;
    if (!isnan(request->humidity) || !isnan(request->dew_point))
        return request->dew_point;
    film->humidity = stage->humidity.row ? stage->humidity.si : or_nan(&room->humidity);
    return stage->humidity.row ? NAN : or_nan(&room->dew_point);
}

/* Film, bead and hole of a part as it comes into a dry stage: an air knife takes the same share of
 * film and bead. What the file does not state is not known. */
static struct dry_trapped trapped_by(const struct dry_answer *answer, unsigned index)
{
    const dregs_dry_request *request = answer->request;
    const dregs_load *load = dregs_line_load(answer->line);
    const dregs_carried *carried = dregs_line_carried(answer->line, index - 1);
    double stays = 1 - dregs_line_stage(answer->line, index)->blow_off.si;
    struct dry_trapped trapped = {carried->thickness * stays, request->bead, request->recess};

    if (isnan(trapped.bead) && load->edge.row)
        trapped.bead = load->edge.si > 0 ? carried->bead * stays / load->edge.si : 0;
    if (isnan(trapped.depth) && load->recess_depth.row)
        trapped.depth = load->recess_depth.si;
    else if (isnan(trapped.depth) && load->hold_up.row && load->hold_up.si == 0)
        trapped.depth = 0;
    return trapped;
}

/* A dry stage of the line that takes over a wet load. */
static dregs_status from_stage(struct dry_answer *answer, unsigned index, double at)
{
    const dregs_dry_request *request = answer->request;
    const dregs_line *line = answer->line;
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_load *load = dregs_line_load(line);
    const dregs_carried *carried = dregs_line_carried(line, index - 1);
    const dregs_fluid *fluid = dregs_line_wet_with(line, index - 1);
    dregs_dry_row *row = &answer->row[answer->result.rows];
    dregs_dry_case *film = &row->film;
    struct dry_trapped trapped;
    double capacity = or_nan(&load->mass) * or_nan(&load->heat_capacity) / load->area.si;
    dregs_status status;

    memset(row, 0, sizeof *row);
    row->stage = stage->name;
    film->air = isnan(at) ? stage->temperature.si : at;
    film->start = isnan(request->start) ? dregs_line_temperature(line, index - 1) : request->start;
    film->speed = isnan(request->speed) ? or_nan(&stage->air_speed) : request->speed;
    film->heat_capacity = isnan(request->heat_capacity) ? capacity : request->heat_capacity;
    film->length = isnan(request->length) ? or_nan(&load->height) : request->length;
    film->volume = isnan(request->volume) ? or_nan(&stage->volume) : request->volume;
    film->fresh_air = isnan(request->fresh_air) ? or_nan(&stage->fresh_air) : request->fresh_air;
    /* bead and hold-up count with the film: their vapour comes too, and sooner is safer */
    film->area = carried->out / carried->thickness;
    status = dregs_answer_dry_complete(answer, row, stage, take_room(answer, stage, film));
    if (status)
        return status;
    trapped = trapped_by(answer, index);
    status = dregs_answer_dry_masses(answer, row, fluid->solvent, 1 - fluid->solvent_share.si,
                                     trapped.thickness);
    if (status)
        return status;
    if (load->hold_up.si > 0 && isnan(trapped.depth))
        dregs_answer_dry_assume(row,
                                "%.3g mL trapped per part gives off its vapour with the film, and "
                                "later: no recess depth is stated",
                                load->hold_up.si * 1e6);
    if (isnan(request->start) && !dregs_line_temperature_stated(line, index - 1))
        dregs_answer_dry_assume(
            row, "part and film at 20 degC at first: the stage before states no temperature");
    answer->result.rows++;
    return dregs_answer_dry_work_out(answer, row, &trapped);
}

dregs_status dregs_answer_dry_of_line(struct dry_answer *answer, double at)
{
    unsigned i, found = 0;
    dregs_status status = DREGS_OK;

    for (i = 1; i < dregs_line_stages(answer->line) && !status; i++) {
        if (!dregs_stage_is(dregs_line_stage(answer->line, i), DREGS_STAGE_DRIES) ||
            !dregs_stage_is(dregs_line_stage(answer->line, i - 1), DREGS_STAGE_WET))
            continue;
        found = 1;
        if (answer->result.rows >= DREGS_DRY_ROWS_MOST) {
            snprintf(answer->message, DREGS_DRY_MESSAGE, "more than %d dryings asked for",
                     DREGS_DRY_ROWS_MOST);
            return DREGS_DOMAIN;
        }
        status = from_stage(answer, i, at);
    }
    if (status || found)
        return status;
    snprintf(answer->message, DREGS_DRY_MESSAGE, "%s: the line has no dry stage behind a wet one",
             dregs_line_name(answer->line));
    return DREGS_BAD_DATA;
}

/* kg/m2 that the film of the worst load leaves; NaN where there is no such load. */
dregs_status dregs_answer_dry_residue(const dregs_line *line, double *left)
{
    dregs_map *map = NULL;
    dregs_state *state = NULL;
    dregs_worst worst = {0, 1, 0};
    dregs_residue residue;
    dregs_status status = dregs_map_new(line, &map);

    *left = NAN;
    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst);
    if (!status) {
        state = dregs_state_new(map);
        status = state ? DREGS_OK : DREGS_NO_MEMORY;
    }
    if (!status && worst.in_the_long_run)
        status = dregs_state_periodic(state);
    if (!status && worst.load > 1)
        status = dregs_state_before(state, worst.load);
    if (!status) {
        dregs_residue_next(state, &residue);
        *left = residue.film_total;
    }
    dregs_state_free(state);
    dregs_map_free(map);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}
