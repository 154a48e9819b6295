/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* heap.h: boxes of a search, the one that could give most first. Stays in this folder. */
#ifndef DREGS_SIZE_HEAP_H
#define DREGS_SIZE_HEAP_H

#include <stddef.h>

/** Zero-initialise before use. */
struct heap {
    struct entry *entry;
    size_t count, room;
};

/** Puts a copy of \p size bytes, always the same size, in its place. 0 when memory is short. */
int dregs_size_push(struct heap *heap, double bound, const void *box, size_t size);
/** The least bound; infinite where there is no box. */
double dregs_size_least(const struct heap *heap);
/** Takes that box out. There is one. */
void dregs_size_pop(struct heap *heap, void *box, size_t size);
void dregs_size_heap_clear(struct heap *heap);

#endif
