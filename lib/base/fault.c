/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* fault.c: the statuses' words and the list of faults. */
#include "base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

const char *dregs_status_text(dregs_status status)
{
    switch (status) {
    case DREGS_OK:
        return "done";
    case DREGS_BAD_DATA:
        return "bad data";
    case DREGS_BAD_NUMBER:
        return "bad number";
    case DREGS_BAD_UNIT:
        return "bad unit";
    case DREGS_UNKNOWN:
        return "unknown name";
    case DREGS_DOMAIN:
        return "argument outside the valid range";
    case DREGS_OUT_OF_RANGE:
        return "property outside the range of its data";
    case DREGS_NO_STEADY:
        return "no steady state";
    case DREGS_NUMERIC:
        return "result not finite";
    case DREGS_NO_MEMORY:
        return "out of memory";
    case DREGS_IO:
        return "could not read or write";
    }
    return "unknown status";
}

dregs_status dregs_fault_add(dregs_faults *faults, dregs_status status, unsigned long line,
                             const char *format, ...)
{
    dregs_fault *fault;
    va_list arguments;
    int length;

    if (!faults)
        return status;
    if (faults->count >= DREGS_FAULTS_MAX) {
        faults->more++;
        return status;
    }
    fault = &faults->fault[faults->count++];
    fault->status = status;
    fault->line = line;
    va_start(arguments, format);
    length = vsnprintf(fault->text, sizeof fault->text, format, arguments);
    va_end(arguments);
    if (length >= (int)sizeof fault->text) {
        size_t keep = sizeof fault->text - 4;
        while (keep > 0 && ((unsigned char)fault->text[keep] & 0xC0) == 0x80)
            keep--; /* not in the middle of a character */
        memcpy(fault->text + keep, "...", 4);
    }
    return status;
}

dregs_status dregs_refuse(char *message, size_t room, const char *format, ...)
{
    va_list arguments;

    if (!message)
        return DREGS_DOMAIN;
    va_start(arguments, format);
    vsnprintf(message, room, format, arguments);
    va_end(arguments);
    return DREGS_DOMAIN;
}

/* By insertion: faults of one line stay in the order they were found, which qsort need not keep. */
void dregs_faults_sort(dregs_faults *faults)
{
    unsigned i, k;

    for (i = 1; faults && i < faults->count; i++) {
        dregs_fault moved = faults->fault[i];
        for (k = i; k > 0 && faults->fault[k - 1].line > moved.line; k--)
            faults->fault[k] = faults->fault[k - 1];
        faults->fault[k] = moved;
    }
}
