/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* film.c: drag-out from the physics of a withdrawn plate, and from the published table. */
#include "dregs/film.h"
#include "base/root.h"

#include <math.h>
#include <string.h>

static int usable(const dregs_wetting *liquid)
{
    return liquid->density > 0 && isfinite(liquid->density) && liquid->viscosity > 0 &&
           isfinite(liquid->viscosity) && liquid->surface_tension > 0 &&
           isfinite(liquid->surface_tension);
}

/* N - q (1 - N^2)^(2/3), the same root as the printed form but finite on all of [0, 1] */
static double excess(double n, void *parameter)
{
    return n - *(const double *)parameter * pow(1.0 - n * n, 2.0 / 3.0);
}

dregs_status dregs_film_number(double capillary, double coefficient, double *number)
{
    double drive, root;

    if (!(capillary > 0) || !(capillary <= DREGS_CAPILLARY_MOST * (1 + 1e-9)) ||
        !(coefficient > 0) || !isfinite(coefficient))
        return DREGS_DOMAIN;
    drive = coefficient * pow(capillary, 1.0 / 6.0);
    root = dregs_root(excess, &drive, 0.0, 1.0, 1e-14);
    if (!(root > 0) || !(fabs(excess(root, &drive)) < 1e-10))
        return DREGS_NUMERIC;
    *number = root;
    return DREGS_OK;
}

dregs_status dregs_film_entrained(const dregs_wetting *liquid, double speed, double *thickness)
{
    double number;
    dregs_status status;

    if (!usable(liquid) || !(speed > 0) || !isfinite(speed))
        return DREGS_DOMAIN;
    status = dregs_film_number(liquid->viscosity * speed / liquid->surface_tension,
                               DREGS_FILM_COEFFICIENT, &number);
    if (status)
        return status;
    *thickness = number * sqrt(liquid->viscosity * speed / (liquid->density * DREGS_GRAVITY));
    return DREGS_OK;
}

dregs_status dregs_film_kushner(const dregs_wetting *liquid, double speed, double *thickness)
{
    if (!usable(liquid) || !(speed > 0) || !isfinite(speed))
        return DREGS_DOMAIN;
    *thickness = 0.2 * sqrt(speed * liquid->viscosity / liquid->density);
    return DREGS_OK;
}

dregs_status dregs_film_drained(const dregs_wetting *liquid, double entrained, double height,
                                double time, double *mean, double *reach)
{
    double fall, thinned;

    if (!usable(liquid) || !(entrained > 0) || !isfinite(entrained) || !(height > 0) ||
        !isfinite(height) || !(time >= 0) || !isfinite(time))
        return DREGS_DOMAIN;
    fall = liquid->density * DREGS_GRAVITY / liquid->viscosity; /* 1/(m s) */
    thinned = fall * entrained * entrained * time;
    if (reach)
        *reach = thinned;
    if (thinned < height)
        *mean = entrained * (1.0 - thinned / (3.0 * height));
    else
        *mean = 2.0 / 3.0 * sqrt(height / (fall * time));
    return DREGS_OK;
}

dregs_status dregs_film_edge_bead(const dregs_wetting *liquid, double edge, double *volume)
{
    if (!usable(liquid) || !(edge >= 0) || !isfinite(edge))
        return DREGS_DOMAIN;
    *volume = 0.65 * liquid->surface_tension * edge / (liquid->density * DREGS_GRAVITY);
    return DREGS_OK;
}

dregs_status dregs_film_kushner_held(const dregs_wetting *liquid, double speed, double area,
                                     double edge, double *thickness, double *bead)
{
    double film, drop;
    dregs_status status = dregs_film_kushner(liquid, speed, &film);

    if (!(area > 0) || !isfinite(area) || !(edge > 0))
        return DREGS_DOMAIN;
    if (!status)
        status = dregs_film_edge_bead(liquid, edge, &drop);
    if (status)
        return status;
    if (film * area <= drop + DREGS_FILM_STAYS * area) {
        *thickness = film;
        *bead = 0;
    } else {
        *thickness = DREGS_FILM_STAYS;
        *bead = drop;
    }
    return DREGS_OK;
}

/* gallons per 1000 square feet in m3/m2, exact: NIST SP 811 factors */
#define PER_1000_FT2(gallons) ((gallons)*3.785411784e-3 / (1000.0 * 0.3048 * 0.3048))
#define ROW(name, least, most)                                                                     \
    {                                                                                              \
        name, PER_1000_FT2(least), PER_1000_FT2(most),                                             \
        {                                                                                          \
            least, most                                                                            \
        }                                                                                          \
    }

/* Metal Finishing Guidebook 2012-13, Table II; the last is printed "8 to 24 or more". */
static const dregs_drag_out_class classes[] = {
    ROW("vertical well drained", 0.4, 0.4),
    ROW("vertical poorly drained", 2.0, 2.0),
    ROW("vertical very poorly drained", 4.0, 4.0),
    ROW("horizontal well drained", 0.8, 0.8),
    ROW("horizontal very poorly drained", 10.0, 10.0),
    ROW("cup shaped very poorly drained", 8.0, 24.0),
};

const dregs_drag_out_class *dregs_film_class(size_t index)
{
    return index < sizeof classes / sizeof classes[0] ? &classes[index] : NULL;
}

const dregs_drag_out_class *dregs_film_class_named(const char *name)
{
    const dregs_drag_out_class *row;
    size_t i;

    for (i = 0; (row = dregs_film_class(i)); i++)
        if (strcmp(row->name, name) == 0)
            return row;
    return NULL;
}
