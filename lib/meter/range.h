/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* range.h: refusing what lies outside a range, for the functions of the meter; not installed. */
#ifndef DREGS_METER_RANGE_H
#define DREGS_METER_RANGE_H

#include "dregs/status.h"

/** Writes the reason into \p message (DREGS_METER_MESSAGE bytes or NULL); returns \p status. */
dregs_status dregs_meter_say(char *message, dregs_status status, const char *format, ...)
    DREGS_FORMAT(3, 4);

/** DREGS_OK when \p temperature (K) lies within \p low to \p high; else the status, and a reason
 *  that begins with \p what. The ends are forgiven 1e-9: 5 degC may be written as 278.15. */
dregs_status dregs_meter_temperature(const char *what, double temperature, double low, double high,
                                     char *message);

/** DREGS_OK when \p value is a finite number of 0 or more; else DREGS_DOMAIN. */
dregs_status dregs_meter_amount(const char *what, double value, char *message);

#endif
