/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* purchase.h: what the files of the room share; not installed. */
#ifndef DREGS_PURCHASE_PURCHASE_H
#define DREGS_PURCHASE_PURCHASE_H

#include "dregs/purchase.h"

struct purchase_odd_rows {
    dregs_purchase_odd *odd;
    size_t count;
};

/* The rows in the order of their days whose quantity is far from its neighbours'; `odd` is the
 * caller's to free, also on failure. */
dregs_status dregs_purchase_find_odd(const dregs_purchase *row, size_t count, unsigned fluids,
                                     struct purchase_odd_rows *found);

/* Of the same day and liquid; and of the same kind and quantity too. */
int dregs_purchase_same_day(const dregs_purchase *a, const dregs_purchase *b);
int dregs_purchase_is_same(const dregs_purchase *a, const dregs_purchase *b);

#endif
