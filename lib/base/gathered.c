/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* gathered.c: a text that grows at its end. */
#include "base/gathered.h"

#include <stdlib.h>
#include <string.h>

int dregs_gather(void *gathered, const char *bytes, size_t length)
{
    struct dregs_gathered *text = gathered;

    if (text->failed)
        return 1;
    if (text->length + length + 1 > text->room) {
        size_t room = 2 * (text->length + length) + 1024;
        char *larger = realloc(text->bytes, room);
        if (!larger) {
            text->failed = 1;
            return 1;
        }
        text->bytes = larger;
        text->room = room;
    }
    if (length)
        memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    text->bytes[text->length] = '\0';
    return 0;
}
