/* SPDX-License-Identifier: GPL-3.0-or-later */
/* out.c: bytes on their way to a sink, and the choice of a writer. */
#include "report/inside.h"

#include <string.h>

static void flush(struct out *out)
{
    if (!out->failed && out->used && out->sink(out->user, out->buffer, out->used))
        out->failed = 1;
    out->used = 0;
}

void dregs_report_out_bytes(struct out *out, const char *bytes, size_t length)
{
    while (length) {
        size_t part = sizeof out->buffer - out->used;
        if (part > length)
            part = length;
        memcpy(out->buffer + out->used, bytes, part);
        out->used += part;
        bytes += part;
        length -= part;
        if (out->used == sizeof out->buffer)
            flush(out);
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

static dregs_status end(struct out *out)
{
    flush(out);
    return out->failed ? DREGS_IO : DREGS_OK;
}

dregs_status dregs_report_write(dregs_report *report, dregs_report_format format, int width,
                                int colour, dregs_sink *sink, void *user)
{
    struct setting setting = {width ? width : 88, colour};
    struct out out;
    dregs_status status;

    if (report->status)
        return report->status;
    if (setting.width < 40)
        return DREGS_DOMAIN;
    out.sink = sink;
    out.user = user;
    out.failed = 0;
    out.used = 0;
    status = format == DREGS_REPORT_CSV    ? dregs_report_write_csv(report, &out)
             : format == DREGS_REPORT_JSON ? dregs_report_write_json(report, &out)
             : format == DREGS_REPORT_HTML ? dregs_report_write_html(report, &out)
                                           : dregs_report_write_text(report, &setting, &out);
    return status ? status : end(&out);
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
            return status ? status : end(&out);
        }
    return DREGS_UNKNOWN;
}
