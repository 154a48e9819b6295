/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* time.h: the calendar that files of dates share; not installed. */
#ifndef DREGS_BASE_TIME_H
#define DREGS_BASE_TIME_H

/** Days of a month (1 to 12) of the Gregorian calendar. */
int dregs_month_days(int year, int month);

/** Days from 1970-01-01 to a day, which is one of the calendar. */
long dregs_day_number(int year, int month, int day);

/** Reads `2027-03-02` or `02.03.2027`, years 1900 to 2999. Returns 1, or 0 for anything else. */
int dregs_date_read(const char *text, int *year, int *month, int *day);

enum { DREGS_MONDAY, DREGS_SUNDAY = 6, DREGS_WEEKDAYS };

/** The weekday of dregs_day_number, from Monday on. */
int dregs_weekday(long day_number);

/** Reads `Mon-Fri`, `Sat`, `Mon Wed Fri`: bit 0 of \p days is Monday. Returns 1, or 0 for anything
 *  else, also for a day named twice and for `Fri-Mon`. */
int dregs_weekdays_read(const char *text, unsigned *days);

#endif
