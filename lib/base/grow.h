/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* grow.h: structures that the program has and that grow at their end; not installed.
 *
 * A program that was built with older headers has a smaller one. Its size comes with it, and
 * nothing behind that is read or written.
 */
#ifndef DREGS_BASE_GROW_H
#define DREGS_BASE_GROW_H

#include <stddef.h>

/** Gives the program of a structure of ours what its own has room for. */
void dregs_give(void *theirs, size_t size, const void *ours, size_t known);

/** Takes what the program's structure holds, which begins with its size, into one of ours that
 *  holds the defaults. Returns 1; 0 where the size is none: it was not set, or is larger than we
 *  know, and what is asked for there must not be passed over. */
int dregs_take(void *ours, size_t known, const void *theirs);

#endif
