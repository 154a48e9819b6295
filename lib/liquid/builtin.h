/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* builtin.h: the texts of data/liquids.csv, regulations.csv and mixtures.csv, put into the object
 * code by embed.sh. */
#ifndef DREGS_LIQUID_BUILTIN_H
#define DREGS_LIQUID_BUILTIN_H

#include <stddef.h>

extern const unsigned char dregs_liquids_builtin[];
extern const size_t dregs_liquids_builtin_length;

extern const unsigned char dregs_regulations_builtin[];
extern const size_t dregs_regulations_builtin_length;

extern const unsigned char dregs_mixtures_builtin[];
extern const size_t dregs_mixtures_builtin_length;

#endif
