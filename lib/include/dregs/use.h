/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* use.h: the liquid that a line takes and gives, per load, and what it costs. */
#ifndef DREGS_USE_H
#define DREGS_USE_H

#include "dregs/line.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Mean volumes of liquid per load, m3, over a dump period. It grows at its end. What comes in goes
 *  out:
 *  flow + top_up + sprayed + refilled = to_drain + dumped + evaporated + dried. */
typedef struct dregs_use {
    double flow;     /**< in: fed to tanks */
    double top_up;   /**< in: fresh liquid that makes up shortfalls */
    double sprayed;  /**< in */
    double refilled; /**< in: fresh fills after dumps */
    double to_drain; /**< out: overflows, spray runoff and blown-off liquid that reach the drain */
    double dumped;   /**< out: tanks emptied, and blown-off liquid that is collected */
    double evaporated; /**< out: from the tanks */
    double dried;      /**< out: films that dry, the last one included */
    double bought;     /**< flow + top_up + sprayed + refilled */
    double cost;       /**< per load, in the file's currency: bought at `price`, drained and dumped
                            at `disposal`; NaN where no liquid in use states a price */
} dregs_use;

/** The use of a line. Nothing can fail.
 *  \param size  of the program's structure: no more is written. dregs_balance_use hands it over. */
DREGS_API void dregs_balance_use_of_size(const dregs_line *line, dregs_use *use, size_t size);
static inline void dregs_balance_use(const dregs_line *line, dregs_use *use)
{
    dregs_balance_use_of_size(line, use, sizeof *use);
}

#ifdef __cplusplus
}
#endif
#endif
