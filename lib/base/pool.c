/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* pool.c: memory that is freed together, taken from the system in blocks. */
#include "base/pool.h"

#include <stdlib.h>
#include <string.h>

enum { BLOCK = 16384 }; /* a line with other values fits into one */

union aligned {
    double number;
    void *pointer;
    long long whole;
};

struct dregs_pool_block {
    struct dregs_pool_block *next;
    size_t used, room; /* in units of `memory` */
    union aligned memory[];
};

static struct dregs_pool_block *block_of(struct dregs_pool *pool, size_t units)
{
    size_t room = BLOCK / sizeof(union aligned);
    struct dregs_pool_block *block = pool->first;

    if (block && block->room - block->used >= units)
        return block;
    if (room < units)
        room = units;
    block = malloc(sizeof *block + room * sizeof(union aligned));
    if (!block)
        return NULL;
    block->used = 0;
    block->room = room;
    block->next = pool->first;
    pool->first = block;
    return block;
}

/* Memory as it is. */
static void *take(struct dregs_pool *pool, size_t count, size_t size)
{
    struct dregs_pool_block *block;
    size_t units;
    void *memory;

    if (size && count > ((size_t)1 << 40) / size)
        return NULL;
    units = count * size / sizeof(union aligned) + 1;
    block = block_of(pool, units);
    if (!block)
        return NULL;
    memory = block->memory + block->used;
    block->used += units;
    return memory;
}

void *dregs_pool_take(struct dregs_pool *pool, size_t count, size_t size)
{
    void *memory = take(pool, count, size);

    return memory ? memset(memory, 0, count * size) : NULL;
}

void *dregs_pool_copy(struct dregs_pool *pool, const void *from, size_t count, size_t size)
{
    void *copy = take(pool, count, size);

    return copy && count * size > 0 ? memcpy(copy, from, count * size) : copy;
}

char *dregs_pool_text(struct dregs_pool *pool, const char *text)
{
    return dregs_pool_copy(pool, text, strlen(text) + 1, 1);
}

void dregs_pool_join(struct dregs_pool *pool, struct dregs_pool *other)
{
    struct dregs_pool_block **last = &pool->first; /* the first block may have room left */

    while (*last)
        last = &(*last)->next;
    *last = other->first;
    other->first = NULL;
}

void dregs_pool_clear(struct dregs_pool *pool)
{
    while (pool->first) {
        struct dregs_pool_block *next = pool->first->next;
        free(pool->first);
        pool->first = next;
    }
}
