/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* multiple.h: when numbers of loads fall together; not installed. */
#ifndef DREGS_BASE_MULTIPLE_H
#define DREGS_BASE_MULTIPLE_H

#include <stdint.h>

/** The greatest common divisor; that number itself where the other is 0. */
uint64_t dregs_common_divisor(uint64_t a, uint64_t b);
/** The least common multiple of whole numbers >= 1 below 2^53, rounded where it is above. */
double dregs_common_multiple(double a, double b);

#endif
