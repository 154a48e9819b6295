/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* time.c: times of a log, to seconds and back, without the C library's clocks and zones. */
#include "base/time.h"
#include "dregs/time.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Days from 1970-01-01 to the first of March of a year and from there on, as the Gregorian
 * calendar counts: 400 years are 146097 days. */
long dregs_day_number(int year, int month, int day)
{
    int from_march = (month + 9) % 12; /* March is 0, so that the leap day comes last */
    long y = month <= 2 ? year - 1 : year, era = y / 400, in_era = y - era * 400;

    return era * 146097L + in_era * 365 + in_era / 4 - in_era / 100 + (153 * from_march + 2) / 5 +
           day - 1 - 719468L;
}

int dregs_month_days(int year, int month)
{
    static const int length[12] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    int leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;

    return length[month - 1] + (month == 2 && leap);
}

/* `count` digits as a number within bounds; moves on behind them. */
static int digits(const char **text, int count, int low, int high, int *value)
{
    int i;

    *value = 0;
    for (i = 0; i < count; i++, ++*text) {
        if (**text < '0' || **text > '9')
            return 0;
        *value = *value * 10 + (**text - '0');
    }
    return *value >= low && *value <= high;
}

static int sign(const char **text, char wanted)
{
    if (**text != wanted)
        return 0;
    ++*text;
    return 1;
}

/* ":15" or ":15.25" or nothing */
static int read_seconds(const char **text, double *seconds)
{
    double part = 0.1;
    int whole;

    *seconds = 0;
    if (!sign(text, ':'))
        return 1;
    if (!digits(text, 2, 0, 59, &whole))
        return 0;
    *seconds = whole;
    if (!sign(text, '.'))
        return 1;
    if (**text < '0' || **text > '9')
        return 0;
    for (; **text >= '0' && **text <= '9'; ++*text, part /= 10)
        *seconds += part * (**text - '0');
    return 1;
}

/* "Z", "+01:00", "-0500" or nothing, in seconds east */
static int read_zone(const char **text, int *zoned, int *east)
{
    int hours, minutes, west = **text == '-';

    *zoned = *east = 0;
    if (!**text)
        return 1;
    *zoned = 1;
    if (sign(text, 'Z'))
        return 1;
    if (!sign(text, '+') && !sign(text, '-'))
        return 0;
    if (!digits(text, 2, 0, 15, &hours))
        return 0;
    (void)sign(text, ':');
    if (!digits(text, 2, 0, 59, &minutes))
        return 0;
    *east = (west ? -1 : 1) * (hours * 3600 + minutes * 60);
    return 1;
}

/* One digit or two. */
static int short_number(const char **text, int low, int high, int *value)
{
    int two = **text && (*text)[1] >= '0' && (*text)[1] <= '9';

    return digits(text, two ? 2 : 1, low, high, value);
}

/* "7" or "07" after a date with dots, else two digits. */
static int read_hour(const char **text, int dotted, int *hour)
{
    return dotted ? short_number(text, 0, 23, hour) : digits(text, 2, 0, 23, hour);
}

/* A day of one digit or two with a dot behind it. */
static int is_dotted(const char *text)
{
    return *text && (text[1] == '.' || (text[1] && text[2] == '.'));
}

/* "2026-03-02", or "02.03.2026": with dots the day comes first wherever it is written so. */
static int read_date(const char **text, int dotted, int *year, int *month, int *day)
{
    if (dotted)
        return short_number(text, 1, 31, day) && sign(text, '.') &&
               short_number(text, 1, 12, month) && sign(text, '.') &&
               digits(text, 4, 1900, 2999, year) && *day <= dregs_month_days(*year, *month);
    return digits(text, 4, 1900, 2999, year) && sign(text, '-') && digits(text, 2, 1, 12, month) &&
           sign(text, '-') && digits(text, 2, 1, dregs_month_days(*year, *month), day);
}

int dregs_date_read(const char *text, int *year, int *month, int *day)
{
    return read_date(&text, is_dotted(text), year, month, day) && !*text;
}

dregs_status dregs_time_read(const char *text, double *seconds, int *zoned)
{
    int year, month, day, hour = 0, minute = 0, has_zone = 0, east = 0;
    int dotted = is_dotted(text);
    double second = 0;

    if (!read_date(&text, dotted, &year, &month, &day))
        return DREGS_BAD_DATA;
    if (*text) {
        if ((!sign(&text, 'T') && !sign(&text, ' ')) || !read_hour(&text, dotted, &hour) ||
            !sign(&text, ':') || !digits(&text, 2, 0, 59, &minute) ||
            !read_seconds(&text, &second) || !read_zone(&text, &has_zone, &east) || *text)
            return DREGS_BAD_DATA;
    }
    *seconds = (double)dregs_day_number(year, month, day) * 86400.0 + hour * 3600.0 +
               minute * 60.0 + second - east;
    *zoned = has_zone;
    return DREGS_OK;
}

const char *dregs_time_text(char into[DREGS_TIME_TEXT], double seconds)
{
    double whole = floor(seconds / 60.0 + 1e-9);
    long day = (long)floor(whole / 1440.0), of_day = (long)(whole - (double)day * 1440.0), from;
    int year, month = 1;

    if (!isfinite(seconds) || fabs(seconds) > 4e10)
        return strcpy(into, "-");
    year = 1970 + (int)(day / 366); /* not after the right one */
    if (day < 0)
        year = 1970 + (int)(day / 365) - 1;
    while (dregs_day_number(year + 1, 1, 1) <= day)
        year++;
    from = day - dregs_day_number(year, 1, 1);
    while (from >= dregs_month_days(year, month))
        from -= dregs_month_days(year, month++);
    snprintf(into, DREGS_TIME_TEXT, "%04d-%02d-%02d %02d:%02d", year % 10000, month,
             (int)(from % 31) + 1, (int)(of_day / 60), (int)(of_day % 60));
    return into;
}

/* ---- weekdays ---- */

int dregs_weekday(long day_number)
{
    long day = (day_number + 3) % DREGS_WEEKDAYS; /* 1970-01-01 was a Thursday */

    return (int)(day < 0 ? day + DREGS_WEEKDAYS : day);
}

/* The weekday that three letters name; moves on behind them. -1 for none. */
static int weekday_named(const char **text)
{
    static const char names[DREGS_WEEKDAYS][4] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
    int day;

    for (day = 0; day < DREGS_WEEKDAYS; day++)
        if (strncmp(*text, names[day], 3) == 0) {
            *text += 3;
            return day;
        }
    return -1;
}

int dregs_weekdays_read(const char *text, unsigned *days)
{
    unsigned all = 0;

    while (*text) {
        int first = weekday_named(&text), last = first;
        if (first >= 0 && sign(&text, '-'))
            last = weekday_named(&text);
        if (first < 0 || last < first || (*text && *text != ' '))
            return 0;
        for (; first <= last; first++) {
            if (all >> first & 1)
                return 0;
            all |= 1u << first;
        }
        text += strspn(text, " ");
    }
    *days = all;
    return all != 0;
}
