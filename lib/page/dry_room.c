/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry_room.c: the room that the air of a drying comes from. */
#include "page/dry.h"

#include <math.h>

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
