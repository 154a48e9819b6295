/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* pool.h: memory that is freed together; not installed. */
#ifndef DREGS_BASE_POOL_H
#define DREGS_BASE_POOL_H

#include <stddef.h>

struct dregs_pool_block;

/** Zero-initialise before use. */
struct dregs_pool {
    struct dregs_pool_block *first;
};

/** Zeroed memory for \p count items of \p size bytes, aligned for anything, until the pool is
 *  cleared; NULL when memory is short. */
void *dregs_pool_take(struct dregs_pool *pool, size_t count, size_t size);
/** A copy of \p count items of \p size bytes; NULL when memory is short. */
void *dregs_pool_copy(struct dregs_pool *pool, const void *from, size_t count, size_t size);
/** A copy of a text; NULL when memory is short. */
char *dregs_pool_text(struct dregs_pool *pool, const char *text);
/** What was taken from another lives as long as this one. */
void dregs_pool_join(struct dregs_pool *pool, struct dregs_pool *other);
/** Frees everything that was taken. */
void dregs_pool_clear(struct dregs_pool *pool);

#endif
