/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* exposure.c: the limits on record for the air that people breathe over 8 h, the lowest first:
 * those of the table of liquids, and those of rules and recommendations beside it. A limit is a
 * bound of one law at one date; it allows nothing.
 */
#include "caution/rules.h"
#include "dregs/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { LIMITS_MOST = 8 };

struct limit {
    double share; /* of the air's volume; NaN: as low as feasible */
    const dregs_regulation *rule;
    const dregs_liquid_row *row; /* of the table of liquids, when `rule` is NULL */
};

/* Puts a limit in its place; one that has no figure stands first. */
static size_t put(struct limit *limits, size_t count, struct limit one)
{
    size_t at = count;

    if (count == LIMITS_MOST)
        return count;
    while (at > 0 && !isnan(limits[at - 1].share) && !(one.share >= limits[at - 1].share)) {
        limits[at] = limits[at - 1];
        at--;
    }
    limits[at] = one;
    return count + 1;
}

static size_t gather(const dregs_liquids *liquids, const char *liquid, struct limit *limits)
{
    const dregs_regulation *one;
    struct limit limit = {NAN, NULL, dregs_liquids_row(liquids, liquid, DREGS_EXPOSURE_LIMIT)};
    size_t count = 0, i;

    if (limit.row &&
        !dregs_liquids_value(liquids, liquid, DREGS_EXPOSURE_LIMIT, NAN, &limit.share, NULL))
        count = put(limits, count, limit);
    for (i = 0; (one = dregs_regulations_at(dregs_liquids_regulations(liquids), i)) != NULL; i++)
        if (strcmp(one->liquid, liquid) == 0 && strncmp(one->code, "8 h ", 4) == 0)
            count = put(limits, count, (struct limit){one->value, one, NULL});
    return count;
}

double dregs_caution_limit_lowest(const dregs_liquids *liquids, const char *liquid)
{
    struct limit limits[LIMITS_MOST];
    size_t count = gather(liquids, liquid, limits), i;

    for (i = 0; i < count; i++)
        if (!isnan(limits[i].share))
            return limits[i].share;
    return NAN;
}

void dregs_caution_limits_write(const dregs_liquids *liquids, const char *liquid, char *text,
                                size_t room)
{
    struct limit limits[LIMITS_MOST];
    size_t count = gather(liquids, liquid, limits), used = 0, i;
    char number[DREGS_NUMBER_TEXT];

    *text = '\0';
    for (i = 0; i < count && used < room; i++) {
        const dregs_regulation *rule = limits[i].rule;
        const char *between = i ? "; " : "";
        if (isnan(limits[i].share))
            snprintf(text + used, room - used, "%sas low as feasible", between);
        else
            snprintf(text + used, room - used, "%sat most %s ppm", between,
                     dregs_number_plain(number, limits[i].share * 1e6, 4));
        used += strlen(text + used);
        if (rule)
            snprintf(text + used, room - used, " (%s, %s, %s)",
                     strcmp(rule->code, "8 h limit") == 0 ? rule->jurisdiction : "recommended",
                     rule->citation, rule->status_date);
        else
            snprintf(text + used, room - used, " (%s)", limits[i].row->source);
        used += strlen(text + used);
    }
}
