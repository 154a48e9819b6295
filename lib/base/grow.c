/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* grow.c: structures that the program has and that grow at their end. */
#include "base/grow.h"

#include <string.h>

void dregs_give(void *theirs, size_t size, const void *ours, size_t known)
{
    size_t shared = size < known ? size : known;

    memcpy(theirs, ours, shared);
    memset((char *)theirs + shared, 0, size - shared);
}

int dregs_take(void *ours, size_t known, const void *theirs)
{
    size_t size;

    memcpy(&size, theirs, sizeof size);
    if (size < sizeof size || size > known)
        return 0;
    memcpy(ours, theirs, size);
    memcpy(ours, &known, sizeof known);
    return 1;
}
