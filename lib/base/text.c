/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* text.c: quoting for messages, the nearest known name, UTF-8. */
#include "base/text.h"

#include <stdio.h>
#include <string.h>

const char *dregs_quote(char into[DREGS_QUOTED], const char *text)
{
    size_t length = strlen(text), keep = length;
    const size_t room = DREGS_QUOTED - 6; /* two quotes, three dots, the end */

    if (keep > room) {
        keep = room;
        while (keep > 0 && ((unsigned char)text[keep] & 0xC0) == 0x80)
            keep--; /* not in the middle of a character */
    }
    into[0] = '\'';
    memcpy(into + 1, text, keep);
    into[keep + 1] = '\0';
    dregs_utf8_tame(into + 1, '?');
    strcpy(into + keep + 1, keep < length ? "...'" : "'");
    return into;
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

enum { WORD = 48 };

/* Levenshtein's distance with swapped neighbours counted as one slip (optimal string alignment). */
static size_t distance(const char *a, size_t a_length, const char *b, size_t b_length)
{
    size_t rows[3][WORD + 1];
    size_t *before = rows[0], *last = rows[1], *now = rows[2], *spare, i, j;

    for (j = 0; j <= b_length; j++)
        last[j] = j;
    memset(before, 0, sizeof rows[0]);
    for (i = 1; i <= a_length; i++) {
        now[0] = i;
        for (j = 1; j <= b_length; j++) {
            size_t best = last[j - 1] + (lower(a[i - 1]) != lower(b[j - 1]));
            if (last[j] + 1 < best)
                best = last[j] + 1;
            if (now[j - 1] + 1 < best)
                best = now[j - 1] + 1;
            if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
                lower(a[i - 2]) == lower(b[j - 1]) && before[j - 2] + 1 < best)
                best = before[j - 2] + 1;
            now[j] = best;
        }
        spare = before;
        before = last;
        last = now;
        now = spare;
    }
    return last[b_length];
}

const char *dregs_nearest(const char *wanted, const char *const *names, size_t count)
{
    size_t length = strlen(wanted), best = 0, i;
    const char *found = NULL;

    if (length == 0 || length > WORD)
        return NULL;
    for (i = 0; i < count; i++) {
        size_t name_length = names[i] ? strlen(names[i]) : 0, slips;
        if (name_length == 0 || name_length > WORD)
            continue;
        slips = distance(wanted, length, names[i], name_length);
        if (slips * 3 <= (length > name_length ? length : name_length) &&
            (!found || slips < best)) {
            found = names[i];
            best = slips;
        }
    }
    return found;
}

size_t dregs_utf8_span(const char *bytes, size_t length)
{
    const unsigned char *b = (const unsigned char *)bytes;
    size_t i = 0;

    while (i < length) {
        /* the first byte tells how many follow and the lowest code point of that length */
        unsigned long point, least;
        size_t follow, k;
        if (b[i] < 0x80) {
            i++;
            continue;
        }
        if (b[i] >= 0xC2 && b[i] <= 0xDF)
            follow = 1, least = 0x80, point = b[i] & 0x1Fu;
        else if ((b[i] & 0xF0) == 0xE0)
            follow = 2, least = 0x800, point = b[i] & 0x0Fu;
        else if (b[i] >= 0xF0 && b[i] <= 0xF4)
            follow = 3, least = 0x10000, point = b[i] & 0x07u;
        else
            return i;
        if (follow >= length - i)
            return i;
        for (k = 1; k <= follow; k++) {
            if ((b[i + k] & 0xC0) != 0x80)
                return i;
            point = point << 6 | (b[i + k] & 0x3Fu);
        }
        if (point < least || point > 0x10FFFF || (point >= 0xD800 && point <= 0xDFFF))
            return i;
        i += follow + 1;
    }
    return length;
}

const char *dregs_nearest_words(char into[DREGS_QUOTED + 16], const char *wanted,
                                const char *const *names, size_t count)
{
    const char *near = dregs_nearest(wanted, names, count);
    char quoted[DREGS_QUOTED];

    into[0] = '\0';
    if (near)
        snprintf(into, DREGS_QUOTED + 16, "; nearest: %s", dregs_quote(quoted, near));
    return into;
}

/* The code point of a character of two bytes or more and how many they are; 0 where it is broken.
 */
static unsigned long point_of(const unsigned char *b, size_t *bytes)
{
    unsigned long point;
    size_t i;

    *bytes = b[0] >= 0xF0 ? 4 : b[0] >= 0xE0 ? 3 : 2;
    point = b[0] & (0xFFu >> (*bytes + 1));
    for (i = 1; i < *bytes; i++) {
        if ((b[i] & 0xC0) != 0x80)
            return 0;
        point = point << 6 | (b[i] & 0x3Fu);
    }
    return b[0] >= 0xC2 ? point : 0;
}

size_t dregs_utf8_unseen(const char *at)
{
    static const unsigned long ranges[][2] = {
        {0x80, 0x9F},     {0xAD, 0xAD},     {0x61C, 0x61C},   {0x180E, 0x180E}, {0x200B, 0x200F},
        {0x2028, 0x202E}, {0x2060, 0x206F}, {0xFEFF, 0xFEFF}, {0xFFF9, 0xFFFB}, {0xE0000, 0xE007F},
    };
    const unsigned char *b = (const unsigned char *)at;
    unsigned long point;
    size_t bytes, i;

    if (b[0] < 0x80)
        return (b[0] && b[0] < 0x20) || b[0] == 0x7F;
    point = point_of(b, &bytes);
    for (i = 0; i < sizeof ranges / sizeof ranges[0]; i++)
        if (point >= ranges[i][0] && point <= ranges[i][1])
            return bytes;
    return 0;
}

void dregs_utf8_tame(char *text, char instead)
{
    while (*text) {
        size_t bytes = dregs_utf8_unseen(text);
        memset(text, instead, bytes);
        text += bytes ? bytes : 1;
    }
}

const char *dregs_utf8_end(const char *text, size_t most)
{
    size_t length = strlen(text);

    if (length > most)
        text += length - most;
    while (length > most && ((unsigned char)*text & 0xC0) == 0x80)
        text++;
    return text;
}

const char *dregs_comma_words(const char *text)
{
    size_t head = strspn(text, "<>+-0123456789");

    if (!head || text[head] != ',' || !text[head + 1] ||
        text[head + 1 + strspn(text + head + 1, "0123456789")])
        return "";
    return " (a decimal comma goes with ';' or tabs between the cells)";
}
