/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_vapour.c: the vapour of a drying: fresh air it needs, whether it is safe, cautions. */
#include "answer/dry.h"
#include "line/line.h"

#include <math.h>
#include <stdlib.h>

/* The fresh air that a row needs, and what the air holds with the one that is stated; NaN where
 * that is not known. Returns DREGS_OK or DREGS_NO_MEMORY. */
dregs_status dregs_answer_dry_dilute(struct dry_answer *answer, dregs_dry_row *row)
{
    const dregs_dry_case *film = &row->film;
    dregs_status status = DREGS_OK;

    row->needed = row->dilution = row->peak = NAN;
    if (!dregs_liquids_row(film->liquids, film->liquid[0], DREGS_LOWER_LIMIT))
        return DREGS_OK;
    if (!answer->drawn && film->area > 0)
        status = dregs_dry_fresh_air_of_loads(film, row->interval, DREGS_VAPOUR_SHARE, &row->needed,
                                              answer->message);
    if (status)
        row->needed = NAN;
    if (status != DREGS_NO_MEMORY && (film->volume > 0 || film->fresh_air > 0)) {
        status = dregs_drying_peak_of_loads(film, &row->drying, row->interval, &row->peak);
        if (status)
            row->peak = NAN;
    }
    if (film->area > 0)
        (void)dregs_dilution_air(film->liquids, film->liquid[0], row->vapour, DREGS_ROOM,
                                 DREGS_VAPOUR_SHARE, &row->dilution);
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* Is it known that the vapour stays below a quarter of its lower flammable limit? Of what can
 * ignite, by a limit or a flash point on record, it is not without that limit, nor without fresh
 * air: the vapour of load after load gathers. */
int dregs_answer_dry_vapour_is_safe(const dregs_dry_row *row)
{
    const dregs_dry_case *film = &row->film;
    unsigned i;

    for (i = 0; i < film->count; i++) {
        int limited = dregs_liquids_row(film->liquids, film->liquid[i], DREGS_LOWER_LIMIT) != NULL;
        int burns =
            limited || dregs_liquids_row(film->liquids, film->liquid[i], DREGS_FLASH_POINT) != NULL;
        if (burns && (!limited || !row->air_stated || !(row->peak <= DREGS_VAPOUR_SHARE)))
            return 0;
    }
    return !(row->drying.peak > DREGS_VAPOUR_SHARE);
}

/* What cautions are to know of a drying. */
static void gather(const dregs_line *line, const dregs_dry_row *row, dregs_facts *facts)
{
    const dregs_dry_case *film = &row->film;
    double *value = facts->value;
    unsigned i;

    dregs_facts_init(facts);
    facts->place = DREGS_PLACE_DRYING;
    facts->where = row->stage;
    dregs_facts_of_liquid(facts, film->liquids, film->liquid[0], film->air);
    value[DREGS_FACT_SHARE] = row->share;
    if (row->share < 1)
        dregs_facts_of_mixture(facts, film->mixtures, "water", row->share);
    value[DREGS_FACT_WALL] = film->wall;
    dregs_facts_of_parts(facts, film->heat_capacity, film->length, film->air);
    value[DREGS_FACT_PARTS_ASSUMED] = row->capacity_assumed;
    for (i = 0; line && i < dregs_line_stages(line); i++)
        if (dregs_line_stage(line, i)->name == row->stage)
            value[DREGS_FACT_BLOWN] = dregs_line_stage(line, i)->blow_off.si;
    value[DREGS_FACT_COLDEST] = row->drying.coldest;
    value[DREGS_FACT_DEW_POINT] = row->drying.dew_point;
    if (row->air_stated)
        value[DREGS_FACT_FRESH_AIR] = film->fresh_air;
    if (row->drying.dry && !row->dries_on)
        value[DREGS_FACT_TAKES] = row->time / row->interval;
    dregs_facts_air_needed(facts, row->needed);
    value[DREGS_FACT_AIR_MEAN] = row->dilution / row->interval;
    if (isfinite(row->peak))
        value[DREGS_FACT_FLAMMABLE] = row->peak;
    if (!(film->volume > 0)) /* nothing more is known of the air then */
        return;
    value[DREGS_FACT_VOLUME] = film->volume;
    value[DREGS_FACT_ONE_LOAD] = row->drying.peak;
    if (!isfinite(row->peak))
        value[DREGS_FACT_FLAMMABLE] = row->drying.peak;
    value[DREGS_FACT_VAPOUR] = row->drying.peak_share[0];
}

/* The cautions of each drying, and those of all together. */
dregs_status dregs_answer_dry_caution(struct dry_answer *answer)
{
    unsigned rows = answer->result.rows, i;
    dregs_facts *facts = malloc(rows * sizeof *facts);
    dregs_status status = facts ? DREGS_OK : DREGS_NO_MEMORY;

    for (i = 0; i < rows && !status; i++) {
        gather(answer->line, &answer->row[i], &facts[i]);
        status =
            dregs_answer_cautions(&facts[i], 1, &answer->of_row[i], &answer->row[i].caution_count);
        answer->row[i].caution = answer->of_row[i];
    }
    if (!status)
        status = dregs_answer_cautions(facts, rows, &answer->caution, &answer->result.cautions);
    free(facts);
    return status;
}
