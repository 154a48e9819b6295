/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry_room.c: what a drying is judged by: what is dry last, and the room its air comes from. */
#include "page/dry.h"

#include <math.h>

const char *dregs_page_dry_unknown(const dregs_dry_row *row)
{
    if (row->beads_unknown)
        return row->holes_unknown ? "beads and holes" : "beads";
    return row->holes_unknown ? "holes" : NULL;
}

void dregs_page_dry_decides(const struct dryings *d, const dregs_dry_row *row, const char *film)
{
    const char *unknown = dregs_page_dry_unknown(row);

    if (row->last == DREGS_DRY_BEAD)
        dregs_report_words(d->report, ": the bead on the lower edge decides; even film %s", film);
    else if (row->last == DREGS_DRY_RECESS)
        dregs_report_words(d->report,
                           ": the blind hole decides, by diffusion through its mouth; even film %s",
                           film);
    else if (!unknown)
        dregs_report_words(d->report, ": the film decides");
    if (unknown)
        dregs_report_words(d->report, "; %s %s", unknown,
                           row->last == DREGS_DRY_FILM ? "later: not computed" : "not computed");
}

void dregs_page_dry_late(const struct dryings *d, const dregs_dry_row *row)
{
    struct numbers n = {0};

    dregs_report_words(d->report, "; NOT within the %s min to the next load: %.0f loads at a time",
                       dregs_page_number(&n, row->interval / 60), ceil(row->time / row->interval));
}

void dregs_page_dry_trapped(const struct dryings *d)
{
    int beads = 0, holes = 0;
    unsigned i;

    for (i = 0; i < d->result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        beads |= row->trapped_open && row->beads_unknown;
        holes |= row->trapped_open && row->holes_unknown;
    }
    if (!beads && !holes)
        return;
    dregs_report_text(d->report, 0, 2,
                      "not known to be dry: %s are not computed; state the load's %s",
                      beads && holes ? "beads and holes"
                      : beads        ? "beads"
                                     : "holes",
                      beads && holes ? "edge and recess depth (edge 0, hold-up 0 where there are "
                                       "none)"
                      : beads        ? "edge (0 where there is none)"
                                     : "recess depth (hold-up 0 where there are none)");
    dregs_report_verdict(d->report, DREGS_VERDICT_UNKNOWN);
}

void dregs_page_dry_bead(const struct dryings *d, const dregs_dry_row *row, const char *least,
                         const char *most)
{
    struct numbers n = {0};

    dregs_report_text(d->report, 0, 2,
                      "at %s degC the bead is dry after %s where the part keeps it as warm as the "
                      "air, after %s where the air alone feeds it",
                      dregs_page_number(&n, CELSIUS(row->film.air)), least, most);
}

static int same_room(const dregs_dry_case *a, const dregs_dry_case *b)
{
    return a->humid_at == b->humid_at && a->humidity == b->humidity;
}

static void say_room(const struct dryings *d, const dregs_dry_row *row)
{
    const dregs_dry_case *film = &row->film;
    struct numbers n = {0};

    dregs_report_words(d->report, "air of a room of %s degC and %s %%",
                       dregs_page_number(&n, CELSIUS(film->humid_at)),
                       dregs_page_number(&n, film->humidity * PERCENT));
    if (isnan(row->drying.dew_point))
        dregs_report_words(d->report, ", dew point below 0.01 degC");
    else
        dregs_report_words(d->report, ", dew point %s degC",
                           dregs_number_plain(n.text[7], CELSIUS(row->drying.dew_point), 3));
    if (film->air != film->humid_at)
        dregs_report_words(d->report, ", %s", film->air > film->humid_at ? "heated" : "cooled");
    dregs_report_end(d->report, 0, 2);
}

void dregs_page_dry_room(const struct dryings *d)
{
    unsigned i, k;

    for (i = 0; i < d->result->rows; i++) {
        const dregs_dry_row *row = dregs_dry_result_row(d->result, i);
        for (k = 0; k < i; k++)
            if (same_room(&dregs_dry_result_row(d->result, k)->film, &row->film))
                break;
        if (k == i)
            say_room(d, row);
    }
}
