/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* gathered.h: a text that grows at its end; not installed. */
#ifndef DREGS_BASE_GATHERED_H
#define DREGS_BASE_GATHERED_H

#include <stddef.h>

/** Zero-initialise before use, and free `bytes` after it. */
struct dregs_gathered {
    char *bytes; /**< ends in NUL; NULL as long as nothing was added */
    size_t length, room;
    int failed; /**< memory was short: what was added from then on is missing */
};

/** Adds bytes to a struct dregs_gathered. As a sink of a report takes them: returns 0; 1 when
 * memory is short, then and from then on. */
int dregs_gather(void *gathered, const char *bytes, size_t length);

#endif
