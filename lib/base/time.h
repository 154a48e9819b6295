/* SPDX-License-Identifier: GPL-3.0-or-later */
/* time.h: the calendar that files of dates share; not installed. */
#ifndef DREGS_BASE_TIME_H
#define DREGS_BASE_TIME_H

/** Days of a month (1 to 12) of the Gregorian calendar. */
int dregs_month_days(int year, int month);

#endif
