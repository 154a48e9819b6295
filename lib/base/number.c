/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* number.c: numbers read and written without regard to the locale.
 *
 * Reading goes through strtod_l with the C locale, short numbers by a quicker way to the same
 * value; writing through "%e", whose only byte that depends on the locale is the decimal sign; it
 * is dropped and set anew. Neither touches the locale of the process or of the thread.
 */
#include "dregs/number.h"

#include <float.h>
#include <locale.h>
#ifdef HAVE_XLOCALE_H
#include <xlocale.h> /* macOS has newlocale and strtod_l there */
#endif
#include <math.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Powers of ten that a double holds exactly. */
static const double tens[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                              1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                              1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

/* Adds digits to a whole number, which wraps around beyond 19 of them; returns what is behind. */
static const char *take_digits(const char *text, uint64_t *whole)
{
    for (; *text >= '0' && *text <= '9'; text++)
        *whole = *whole * 10 + (uint64_t)(*text - '0');
    return text;
}

/* "e-5" behind a number, up to three digits; NULL for anything else. */
static const char *take_exponent(const char *text, int *exponent)
{
    const char *digits = text + 1 + (text[1] == '-' || text[1] == '+'), *end;
    uint64_t size = 0;

    end = take_digits(digits, &size);
    if (end == digits || end > digits + 3)
        return NULL;
    *exponent += text[1] == '-' ? -(int)size : (int)size;
    return end;
}

/* The short way: a whole number up to 2^53 and a power of ten up to 22 are both held exactly, so
 * that one product or quotient rounds correctly (Clinger 1990, "How to read floating point numbers
 * accurately", the fast path). 0 for anything else, good or bad, and where the processor keeps more
 * digits than a double has, so that it would round twice. */
static int read_short(const char *text, double *value)
{
    const char *first = text + (*text == '-' || *text == '+'), *p;
    ptrdiff_t digits;
    uint64_t whole = 0;
    double size;
    int exponent = 0;

    p = take_digits(first, &whole);
    digits = p - first;
    if (*p == '.') {
        const char *behind = take_digits(p + 1, &whole);
        digits += behind - (p + 1);
        if (digits <= 19)
            exponent = -(int)(behind - (p + 1));
        p = behind;
    }
    if (digits == 0 || digits > 19 || whole > UINT64_C(1) << DBL_MANT_DIG || FLT_EVAL_METHOD != 0)
        return 0;
    if (*p == 'e' || *p == 'E')
        p = take_exponent(p, &exponent);
    if (!p || *p || exponent < -22 || exponent > 22)
        return 0;
    size = exponent < 0 ? (double)whole / tens[-exponent] : (double)whole * tens[exponent];
    *value = *text == '-' ? -size : size;
    return 1;
}

dregs_status dregs_number_read(const char *text, double *value)
{
    char *end;
    double read;
    locale_t c_locale;

    if (read_short(text, value))
        return DREGS_OK;
    /* strtod itself would take blanks, hexadecimal, "inf" and "nan" */
    if (!*text || strspn(text, "0123456789+-.eE") != strlen(text))
        return DREGS_BAD_NUMBER;
    c_locale = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (!c_locale)
        return DREGS_NO_MEMORY;
    read = strtod_l(text, &end, c_locale);
    freelocale(c_locale);
    if (end == text || *end || !isfinite(read))
        return DREGS_BAD_NUMBER;
    *value = read;
    return DREGS_OK;
}

/* The decimal digits and the exponent of a finite value: digits[0] stands before the point. */
static int decimal(double value, int digits, char out[24], int *exponent)
{
    char text[64];
    const char *p = text;
    int count = 0;

    snprintf(text, sizeof text, "%.*e", digits - 1, fabs(value));
    for (; *p && *p != 'e'; p++) /* whatever stands between the digits is the decimal sign */
        if (*p >= '0' && *p <= '9' && count < 23)
            out[count++] = *p;
    out[count] = '\0';
    *exponent = *p == 'e' ? (int)strtol(p + 1, NULL, 10) : 0;
    return count;
}

static const char *not_finite(char into[DREGS_NUMBER_TEXT], double value)
{
    return strcpy(into, isnan(value) ? "nan" : value > 0 ? "inf" : "-inf");
}

/* Sets the digits out with a point or an exponent; trailing zeros are dropped. */
static const char *set_out(char into[DREGS_NUMBER_TEXT], double value, int digits, int most)
{
    char figures[24];
    int exponent, count = decimal(value, digits, figures, &exponent), i;
    char *p = into;

    while (count > 1 && figures[count - 1] == '0')
        count--;
    if (signbit(value) && value != 0.0)
        *p++ = '-';
    if (exponent < -4 || exponent >= most) {
        *p++ = figures[0];
        if (count > 1) {
            *p++ = '.';
            memcpy(p, figures + 1, (size_t)count - 1);
            p += count - 1;
        }
        snprintf(p, 8, "e%+03d", exponent);
        return into;
    }
    if (exponent < 0) {
        *p++ = '0';
        *p++ = '.';
        for (i = -1; i > exponent; i--)
            *p++ = '0';
    }
    for (i = 0; i < count || i <= exponent; i++) {
        if (exponent >= 0 && i == exponent + 1)
            *p++ = '.';
        *p++ = i < count ? figures[i] : '0';
    }
    *p = '\0';
    return into;
}

const char *dregs_number_exact(char into[DREGS_NUMBER_TEXT], double value)
{
    int digits;
    double back;

    if (!isfinite(value))
        return not_finite(into, value);
    for (digits = 15; digits <= 17; digits++) {
        set_out(into, value, digits, 15);
        if (dregs_number_read(into, &back) == DREGS_OK && back == value)
            break;
    }
    return into;
}

const char *dregs_number_plain(char into[DREGS_NUMBER_TEXT], double value, int digits)
{
    if (!isfinite(value))
        return not_finite(into, value);
    if (digits < 1)
        digits = 1;
    if (digits > 17)
        digits = 17;
    return set_out(into, value, digits, digits > 6 ? digits : 6);
}
