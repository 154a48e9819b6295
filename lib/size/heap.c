/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* heap.c: boxes in order of what they could give at best. */
#include "size/heap.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct entry {
    double bound;
    void *box;
};

static void swap(struct entry *a, struct entry *b)
{
    struct entry kept = *a;

    *a = *b;
    *b = kept;
}

int dregs_size_push(struct heap *heap, double bound, const void *box, size_t size)
{
    size_t at = heap->count;
    void *copy;

    if (heap->count == heap->room) {
        size_t room = heap->room ? 2 * heap->room : 256;
        struct entry *more = realloc(heap->entry, room * sizeof *more);
        if (!more)
            return 0;
        heap->entry = more;
        heap->room = room;
    }
    copy = malloc(size);
    if (!copy)
        return 0;
    memcpy(copy, box, size);
    heap->entry[heap->count++] = (struct entry){bound, copy};
    for (; at > 0 && heap->entry[at].bound < heap->entry[(at - 1) / 2].bound; at = (at - 1) / 2)
        swap(&heap->entry[at], &heap->entry[(at - 1) / 2]);
    return 1;
}

double dregs_size_least(const struct heap *heap)
{
    return heap->count ? heap->entry[0].bound : HUGE_VAL;
}

void dregs_size_pop(struct heap *heap, void *box, size_t size)
{
    struct entry *entry = heap->entry;
    size_t at = 0, child;

    memcpy(box, entry[0].box, size);
    free(entry[0].box);
    entry[0] = entry[--heap->count];
    for (; (child = 2 * at + 1) < heap->count; at = child) {
        if (child + 1 < heap->count && entry[child + 1].bound < entry[child].bound)
            child++;
        if (!(entry[child].bound < entry[at].bound))
            return;
        swap(&entry[at], &entry[child]);
    }
}

void dregs_size_heap_clear(struct heap *heap)
{
    while (heap->count)
        free(heap->entry[--heap->count].box);
    free(heap->entry);
    *heap = (struct heap){0};
}
