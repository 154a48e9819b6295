/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* config.c: lines `key = value`. */
#include "dregs/config.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct reader {
    const char *const *keys;
    size_t count;
    dregs_config_setting *settings;
    dregs_faults *faults;
    dregs_status status;
};

#define SAY(r, line, ...)                                                                          \
    ((r)->status = dregs_fault_add((r)->faults, DREGS_BAD_DATA, line, __VA_ARGS__))

/* The text without blanks at its ends, in its place. */
static char *trimmed(char *text)
{
    size_t length;

    text += strspn(text, " \t");
    length = strlen(text);
    while (length && strchr(" \t\r", text[length - 1]))
        text[--length] = '\0';
    return text;
}

static void take_setting(struct reader *r, const char *key, const char *value, unsigned long line)
{
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16];
    size_t k = 0;

    while (k < r->count && strcmp(key, r->keys[k]) != 0)
        k++;
    if (k == r->count) {
        SAY(r, line, "unknown key %s%s", dregs_quote(quoted, key),
            dregs_nearest_words(near, key, r->keys, r->count));
        return;
    }
    if (r->settings[k].line) {
        SAY(r, line, "'%s' stands twice, first in line %lu", key, r->settings[k].line);
        return;
    }
    r->settings[k].line = line;
    if (!*value)
        SAY(r, line, "'%s' has no value", key);
    else if (strlen(value) >= sizeof r->settings[k].value)
        SAY(r, line, "'%s' has a value of more than %d bytes", key, DREGS_CONFIG_VALUE - 1);
    else
        snprintf(r->settings[k].value, sizeof r->settings[k].value, "%s", value);
}

/* Takes a line, which ends in NUL, and changes it. */
static void take_line(struct reader *r, char *text, size_t length, unsigned long line)
{
    char quoted[DREGS_QUOTED], *equals, *p;

    if (strlen(text) != length || dregs_utf8_span(text, length) != length) {
        SAY(r, line, "not a text in UTF-8");
        return;
    }
    text = trimmed(text);
    if (!*text || *text == '#')
        return;
    for (p = text; *p; p++)
        if (dregs_utf8_unseen(p) && *p != '\t') {
            SAY(r, line, "a character that nobody sees");
            return;
        }
    equals = strchr(text, '=');
    if (!equals) {
        SAY(r, line, "%s is no setting, which is written key = value", dregs_quote(quoted, text));
        return;
    }
    *equals = '\0';
    take_setting(r, trimmed(text), trimmed(equals + 1), line);
}

static void take_lines(struct reader *r, char *text, size_t length)
{
    char *begin = text, *end;
    unsigned long line = 0;

    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0)
        begin += 3;
    for (; begin < text + length; begin = end + 1) {
        end = memchr(begin, '\n', (size_t)(text + length - begin));
        if (!end)
            end = text + length;
        *end = '\0';
        take_line(r, begin, (size_t)(end - begin), ++line);
    }
}

dregs_status dregs_config_parse(const char *name, const char *bytes, size_t length,
                                const char *const *keys, size_t count,
                                dregs_config_setting *settings, dregs_faults *faults)
{
    struct reader r = {.keys = keys, .count = count, .faults = faults};
    char *copy;

    if (faults)
        snprintf(faults->file, sizeof faults->file, "%s", name);
    if (length > DREGS_CONFIG_BYTES)
        return dregs_fault_add(faults, DREGS_BAD_DATA, 0,
                               "larger than any file of settings (more than %d bytes)",
                               DREGS_CONFIG_BYTES);
    copy = malloc(length + 1);
    r.settings = calloc(count + 1, sizeof *r.settings);
    if (!copy || !r.settings) {
        free(copy);
        free(r.settings);
        return dregs_fault_add(faults, DREGS_NO_MEMORY, 0, "out of memory");
    }
    if (length)
        memcpy(copy, bytes, length);
    copy[length] = '\0';
    take_lines(&r, copy, length);
    if (!r.status && count)
        memcpy(settings, r.settings, count * sizeof *settings);
    free(copy);
    free(r.settings);
    return r.status;
}
