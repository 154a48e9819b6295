/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_head.c: the head of an account that is handed in, as its user states it. */
#include "answer/tally.h"
#include "base/grow.h"

#include <stdio.h>
#include <string.h>

static const char *const names[DREGS_TALLY_HEAD_FIELDS] = {[DREGS_TALLY_HEAD_COMPANY] = "company",
                                                           [DREGS_TALLY_HEAD_SITE] = "site",
                                                           [DREGS_TALLY_HEAD_PERMIT] = "permit",
                                                           [DREGS_TALLY_HEAD_PERIOD] = "period",
                                                           [DREGS_TALLY_HEAD_AUTHOR] =
                                                               "prepared by"};

void dregs_tally_head_init_of_size(dregs_tally_head *head, size_t size)
{
    dregs_tally_head made = {.size = size};

    dregs_give(head, size, &made, sizeof made);
}

const char *dregs_tally_head_name(dregs_tally_head_field field)
{
    return (unsigned)field < DREGS_TALLY_HEAD_FIELDS ? names[field] : NULL;
}

dregs_status dregs_tally_head_take(dregs_tally_head *head, const char *words, char *message)
{
    const char *equals = strchr(words, '=');
    size_t length = equals ? (size_t)(equals - words) : 0, i;

    for (i = 0; i < DREGS_TALLY_HEAD_FIELDS; i++) {
        if (strlen(names[i]) != length || strncmp(names[i], words, length) != 0)
            continue;
        if (!equals[1] || strlen(equals + 1) >= DREGS_TALLY_HEAD_TEXT || *head->field[i]) {
            if (message)
                snprintf(message, DREGS_SITE_MESSAGE, "%s: %s", names[i],
                         !equals[1]        ? "nothing is stated"
                         : *head->field[i] ? "stated twice"
                                           : "too long");
            return DREGS_BAD_DATA;
        }
        snprintf(head->field[i], DREGS_TALLY_HEAD_TEXT, "%s", equals + 1);
        return DREGS_OK;
    }
    if (message)
        snprintf(
            message, DREGS_SITE_MESSAGE,
            "'%.100s' is none of company, site, permit, period, prepared by, with a = behind it",
            words);
    return DREGS_UNKNOWN;
}

const dregs_tally_head *dregs_tally_result_head(const dregs_tally_result *answer)
{
    return &answer->head;
}
