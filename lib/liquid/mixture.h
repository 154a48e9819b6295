/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* mixture.h: what the parts of the mixture module share; not installed. */
#ifndef DREGS_LIQUID_MIXTURE_H
#define DREGS_LIQUID_MIXTURE_H

#include "dregs/mixture.h"

#include <gsl/gsl_interp.h>

/* One curve or model. The texts of `row` are owned. */
struct curve {
    dregs_mixture_row row;
    double *share, *value; /* mass shares, rising, and values in SI */
    size_t room;
    unsigned given; /* which coefficients have been read, one bit each */
    gsl_interp *interpolation;
};

struct dregs_mixtures {
    struct curve *curve;
    size_t count, room;
};

#endif
