/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* out.c: bytes on their way to a sink, and the choice of a writer. */
#include "report/inside.h"

#include <stdlib.h>
#include <string.h>

enum { PIECE = DREGS_REPORT_WHOLE };

static void flush(struct out *out)
{
    if (!out->failed && out->used && out->sink(out->user, out->bytes, out->used))
        out->failed = DREGS_IO;
    out->used = 0;
    out->flows = 1;
}

/* Room for more, up to a piece. */
static int grow(struct out *out)
{
    size_t room = out->room ? 4 * out->room : 16384;
    char *bytes = realloc(out->bytes, room < PIECE ? room : PIECE);

    if (!bytes) {
        out->failed = DREGS_NO_MEMORY;
        return 0;
    }
    out->bytes = bytes;
    out->room = room < PIECE ? room : PIECE;
    return 1;
}

void dregs_report_out_bytes(struct out *out, const char *bytes, size_t length)
{
    while (length && !out->failed) {
        size_t part = out->room - out->used;
        if (part > length)
            part = length;
        if (part)
            memcpy(out->bytes + out->used, bytes, part);
        out->used += part;
        bytes += part;
        length -= part;
        if (out->used == PIECE)
            flush(out);
        else if (out->used == out->room && !grow(out))
            return;
    }
}

void dregs_report_out_text(struct out *out, const char *text)
{
    dregs_report_out_bytes(out, text, strlen(text));
}

void dregs_report_out_blanks(struct out *out, int count)
{
    while (count-- > 0)
        dregs_report_out_bytes(out, " ", 1);
}

dregs_status dregs_report_out_end(struct out *out, dregs_status status)
{
    static const char mark[] = "\n(cut short: an error ended it here)\n";

    if (out->failed)
        status = out->failed;
    if (!status)
        flush(out);
    else if (out->flows && status != DREGS_IO)
        (void)out->sink(out->user, mark, sizeof mark - 1);
    free(out->bytes);
    return status ? status : out->failed;
}

dregs_status dregs_report_write(dregs_report *report, dregs_report_format format, int width,
                                int colour, dregs_sink *sink, void *user)
{
    struct setting setting = {width ? width : 88, colour};
    struct out out = {.sink = sink,
                      .user = user,
                      .separator = report->separator ? report->separator : ',',
                      .decimal = report->decimal ? report->decimal : '.',
                      .settings = report->settings};
    dregs_status status;

    if (report->status)
        return report->status;
    if (setting.width < 40)
        return DREGS_DOMAIN;
    status = format == DREGS_REPORT_CSV        ? dregs_report_write_csv(report, &out)
             : format == DREGS_REPORT_CSV_WIDE ? dregs_report_write_wide(report, &out)
             : format == DREGS_REPORT_JSON     ? dregs_report_write_json(report, &out)
             : format == DREGS_REPORT_HTML     ? dregs_report_write_html(report, &out)
                                               : dregs_report_write_text(report, &setting, &out);
    return dregs_report_out_end(&out, status);
}

/* ---- pictures ---- */

int dregs_report_is_drawn(const struct picture *picture)
{
    return picture->flow != NULL || (picture->chart->shown & DREGS_IN_PICTURE);
}

/* Picture `index` of those that are drawn; NULL past the end. */
static const struct picture *drawn_picture(const dregs_report *report, unsigned index)
{
    const struct picture *picture = report->pictures.item;
    size_t i;

    for (i = 0; i < report->pictures.count; i++)
        if (dregs_report_is_drawn(&picture[i]) && index-- == 0)
            return &picture[i];
    return NULL;
}

const char *dregs_report_picture(const dregs_report *report, unsigned index, const char **title)
{
    const struct picture *picture = drawn_picture(report, index);

    if (!picture)
        return NULL;
    *title = picture->flow ? picture->flow->title : picture->chart->title;
    return picture->flow ? picture->flow->key : picture->chart->key;
}

dregs_status dregs_report_write_picture(dregs_report *report, const char *key, dregs_sink *sink,
                                        void *user)
{
    struct out out = {.sink = sink, .user = user};
    const char *title, *known;
    dregs_status status;
    unsigned i;

    if (report->status)
        return report->status;
    for (i = 0; (known = dregs_report_picture(report, i, &title)) != NULL; i++)
        if (strcmp(known, key) == 0) {
            status = dregs_report_draw(drawn_picture(report, i), 1, &out);
            return dregs_report_out_end(&out, status);
        }
    return DREGS_UNKNOWN;
}
