/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* table.h: the table of a calendar as it lies in memory, for the files of this room. */
#ifndef DREGS_CALENDAR_TABLE_H
#define DREGS_CALENDAR_TABLE_H

#include "dregs/calendar.h"

struct dregs_calendar_table {
    char name[DREGS_FILE_NAME];
    size_t count;
    dregs_dialect dialect;
    dregs_calendar_row row[DREGS_CALENDAR_ROWS]; /* in the order of the file: the last one counts */
};

#endif
