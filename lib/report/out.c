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
                                           : dregs_report_write_text(report, &setting, &out);
    return status ? status : end(&out);
}
