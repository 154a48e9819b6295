/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* publish.c: --format html and svg: the files that were read, the date, the choice of a picture. */
#include "publish.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { INPUTS_MOST = 16, NOTES_MOST = 32, SETTINGS_MOST = 8, SETTING = 8192, PIECE = 1 << 16 };

/* what one run of a tool is asked for and reads */
static struct {
    enum front_format format;
    const char *picture;
    struct {
        const char *name;
        char *bytes;
        size_t length;
    } input[INPUTS_MOST];
    size_t inputs;
    char note[NOTES_MOST][DREGS_FILE_NAME + 256];
    size_t notes;
    char setting[SETTINGS_MOST][SETTING];
    size_t settings;
    int settings_said;
} kept;

void front_publish_as(enum front_format format)
{
    kept.format = format;
}

void front_picture(const char *name)
{
    kept.picture = name;
}

int front_check_picture(void)
{
    if (kept.picture && kept.format != FRONT_SVG)
        return front_usage("--picture goes with --format svg");
    if (!kept.picture && kept.format == FRONT_SVG)
        return front_usage("--format svg needs --picture NAME; --picture list names them");
    return 0;
}

static int read_all(FILE *file, char **bytes, size_t *length)
{
    size_t room = 0, part = 1;

    while (part > 0) {
        if (*length + PIECE + 1 > room) {
            char *larger = realloc(*bytes, room = 2 * (*length + PIECE));
            if (!larger)
                return 0;
            *bytes = larger;
        }
        part = fread(*bytes + *length, 1, PIECE, file);
        *length += part;
    }
    return 1;
}

FILE *front_keep(const char *name, FILE *file, int *status)
{
    size_t at = kept.inputs;
    FILE *memory = NULL;

    if (kept.format != FRONT_HTML || at == INPUTS_MOST)
        return file;
    kept.input[at].name = front_shown(name);
    if (!read_all(file, &kept.input[at].bytes, &kept.input[at].length))
        *status = front_say(FRONT_IO, "out of memory");
    else if (ferror(file))
        *status = front_say(FRONT_IO, "%s: %s", kept.input[at].name, strerror(errno));
    else if (!(memory = fmemopen(kept.input[at].bytes, kept.input[at].length, "rb")))
        *status = front_say(FRONT_IO, "%s: %s", kept.input[at].name, strerror(errno));
    kept.inputs = at + 1;
    if (file != stdin)
        fclose(file);
    return memory;
}

void front_read_as(const char *format, ...)
{
    char text[DREGS_FILE_NAME + 256];
    va_list arguments;
    size_t i;

    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    for (i = 0; i < kept.notes; i++)
        if (strcmp(kept.note[i], text) == 0)
            return;
    if (kept.notes < NOTES_MOST)
        memcpy(kept.note[kept.notes++], text, sizeof text);
}

void front_read_dialect(const char *name, dregs_dialect dialect)
{
    char words[DREGS_DIALECT_TEXT];

    if (*dregs_dialect_words(dialect, words))
        front_read_as("%s: %s", front_shown(name), words);
}

void front_read_setting(const char *file, unsigned long line, const char *key, const char *value)
{
    if (kept.settings < SETTINGS_MOST)
        snprintf(kept.setting[kept.settings++], SETTING, "%s:%lu: %s = %s", file, line, key, value);
}

void front_say_read(dregs_report *report)
{
    size_t i;

    for (i = 0; i < kept.notes; i++)
        dregs_report_read(report, kept.note[i]);
    for (i = 0; i < kept.settings; i++)
        dregs_report_setting(report, kept.setting[i]);
    kept.settings_said = 1;
}

void front_say_settings(void)
{
    size_t i;

    for (i = 0; i < kept.settings && !kept.settings_said; i++)
        (void)front_say(0, "%s", kept.setting[i]);
    kept.settings_said = 1;
}

/* The day, in UTC, by SOURCE_DATE_EPOCH where it is set, so that a page can be made again byte by
 * byte. */
static void say_date(dregs_report *report)
{
    const char *given = getenv("SOURCE_DATE_EPOCH");
    time_t now = time(NULL);
    double seconds;
    char text[32];
    struct tm day;

    if (given && dregs_number_read(given, &seconds) == DREGS_OK && seconds >= 0 && seconds < 1e11)
        now = (time_t)seconds;
    if (gmtime_r(&now, &day) && strftime(text, sizeof text, "%Y-%m-%d", &day))
        dregs_report_date(report, text);
}

static int print(void *user, const char *bytes, size_t length)
{
    return fwrite(bytes, 1, length, user) != length;
}

static dregs_status write_html(dregs_report *report, dregs_report *working)
{
    size_t i;

    say_date(report);
    front_say_read(report);
    if (working)
        dregs_report_working(report, working);
    for (i = 0; i < kept.inputs; i++)
        dregs_report_input(report, kept.input[i].name, kept.input[i].bytes, kept.input[i].length);
    return dregs_report_write(report, DREGS_REPORT_HTML, 0, 0, print, stdout);
}

static void list_pictures(const dregs_report *report, FILE *stream)
{
    const char *name, *title = "";
    unsigned i;

    for (i = 0; (name = dregs_report_picture(report, i, &title)) != NULL; i++)
        fprintf(stream, "%-16s %s\n", name, title);
}

static int write_picture(dregs_report *report)
{
    dregs_status status = DREGS_OK;

    if (strcmp(kept.picture, "list") == 0)
        list_pictures(report, stdout);
    else
        status = dregs_report_write_picture(report, kept.picture, print, stdout);
    if (status == DREGS_UNKNOWN)
        return front_usage("--picture '%s' is not one that this page has; --picture list names "
                           "them",
                           kept.picture);
    if (status && status != DREGS_IO)
        return front_say(status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s",
                         dregs_status_text(status));
    return FRONT_DONE;
}

int front_publish(dregs_report *report, dregs_report *working, enum front_format format)
{
    dregs_status status;
    size_t i;

    if (format == FRONT_SVG)
        return write_picture(report);
    status = write_html(report, working);
    for (i = 0; i < kept.inputs; i++)
        free(kept.input[i].bytes);
    kept.inputs = 0;
    if (!status || status == DREGS_IO)
        return FRONT_DONE; /* what became of the output is found at its end */
    return front_say(status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s",
                     dregs_status_text(status));
}
