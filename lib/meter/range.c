/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* range.c: reasons for a refusal, in the units of the bench. */
#include "meter/range.h"
#include "dregs/meter.h"
#include "dregs/number.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

dregs_status dregs_meter_say(char *message, dregs_status status, const char *format, ...)
{
    va_list arguments;

    if (message) {
        va_start(arguments, format);
        vsnprintf(message, DREGS_METER_MESSAGE, format, arguments);
        va_end(arguments);
    }
    return status;
}

dregs_status dregs_meter_temperature(const char *what, double temperature, double low, double high,
                                     char *message)
{
    char at[DREGS_NUMBER_TEXT], from[DREGS_NUMBER_TEXT], to[DREGS_NUMBER_TEXT];

    if (!(temperature > 0) || !isfinite(temperature))
        return dregs_meter_say(message, DREGS_DOMAIN,
                               "the temperature is not a positive number of kelvin");
    if (temperature < low * (1 - 1e-9) || temperature > high * (1 + 1e-9))
        return dregs_meter_say(
            message, DREGS_OUT_OF_RANGE, "%s at %s degC: taken from %s to %s degC only", what,
            dregs_number_plain(at, temperature - 273.15, 6),
            dregs_number_plain(from, low - 273.15, 6), dregs_number_plain(to, high - 273.15, 6));
    return DREGS_OK;
}

dregs_status dregs_meter_amount(const char *what, double value, char *message)
{
    if (value >= 0 && isfinite(value))
        return DREGS_OK;
    return dregs_meter_say(message, DREGS_DOMAIN, "%s is not a number of 0 or more", what);
}
