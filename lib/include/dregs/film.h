/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* film.h: how much liquid a part drags out of a bath when it is lifted.
 *
 * Entrained film on a plate withdrawn from a bath, its drainage, the bead on a lower edge, and the
 * published table of drag-out by part shape. What is left out: surface roughness, wetting that
 * breaks up into drops, films thicker than a plate law can hold, anything that is not vertical.
 */
#ifndef DREGS_FILM_H
#define DREGS_FILM_H

#include "dregs/status.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Standard gravity, m/s2, exact: 3rd CGPM (1901). */
#define DREGS_GRAVITY 9.80665

/** The coefficient of the Landau-Levich-Derjaguin film; 0.944 in older print. */
#define DREGS_FILM_COEFFICIENT 0.9458

/** The highest capillary number for which White and Tallmadge's term is used here. */
#define DREGS_CAPILLARY_MOST 2.0

/** What a film law needs to know of a liquid. All positive. */
typedef struct dregs_wetting {
    double density;         /**< kg/m3 */
    double viscosity;       /**< Pa.s */
    double surface_tension; /**< N/m */
} dregs_wetting;

/** The film number N of N/(1-N^2)^(2/3) = \p coefficient * Ca^(1/6).
 *  \param capillary    Ca = mu U / sigma, 0 < Ca <= DREGS_CAPILLARY_MOST (1e-9 over is forgiven).
 *  \param coefficient  positive; DREGS_FILM_COEFFICIENT in the model.
 *  \return DREGS_OK, DREGS_DOMAIN, DREGS_NUMERIC.
 *  Source: White and Tallmadge, Chem. Eng. Sci. 20 (1965) 33-37. */
DREGS_API dregs_status dregs_film_number(double capillary, double coefficient, double *number);

/** Thickness (m) of the film entrained at \p speed (m/s, > 0): h0 = N sqrt(mu U / (rho g)).
 *  \return DREGS_OK, DREGS_DOMAIN (speed or Ca out of range), DREGS_NUMERIC.
 *  Source: Landau and Levich, Acta Physicochim. URSS 17 (1942) 42; Derjaguin, ibid. 20 (1945) 349;
 *  gravity by White and Tallmadge as above. */
DREGS_API dregs_status dregs_film_entrained(const dregs_wetting *liquid, double speed,
                                            double *thickness);

/** Kushner's film thickness (m), drainage included: 0.02 sqrt(U phi / d) in cgs units, which is
 *  0.2 sqrt(U mu / rho) in SI. Surface tension is not in it.
 *  \return DREGS_OK, DREGS_DOMAIN.
 *  Source: Kushner, as given by Konishi, Hirohata, Kubota, Yuri, J. Metal Finishing Soc. Japan
 *  25(1) (1974) 2-7. */
DREGS_API dregs_status dregs_film_kushner(const dregs_wetting *liquid, double speed,
                                          double *thickness);

/** Mean thickness (m) over \p height (m, > 0) of a film of even thickness \p entrained (m, > 0)
 *  that has drained for \p time (s, >= 0); \p reach, when not NULL, receives how far down the
 *  thinning has come, z* = rho g h0^2 t / mu (m).
 *  \return DREGS_OK, DREGS_DOMAIN.
 *  Source: Jeffreys, Proc. Cambridge Phil. Soc. 26 (1930) 204-205. */
DREGS_API dregs_status dregs_film_drained(const dregs_wetting *liquid, double entrained,
                                          double height, double time, double *mean, double *reach);

/** Volume (m3) of the bead that hangs on a lower edge of length \p edge (m, >= 0):
 *  0.65 sigma edge / (rho g); the 0.65 is uncertain by 0.1.
 *  \return DREGS_OK, DREGS_DOMAIN.
 *  Source: Konishi, Hirohata, Kubota, Yuri 1974, as above. */
DREGS_API dregs_status dregs_film_edge_bead(const dregs_wetting *liquid, double edge,
                                            double *volume);

/** What stays on the face of a plate that has drained, m: about 10 um. Source: Konishi, Hirohata,
 *  Kubota, Yuri 1974, as above. */
#define DREGS_FILM_STAYS 1e-5

/** Drag-out of a part by Kushner's law, held to what stays on it: the less of W = h A, with h of
 *  dregs_film_kushner(), and the bead of the lower edge together with DREGS_FILM_STAYS on the face.
 *  \param area       m2 of the part, > 0.
 *  \param edge       m of its lower edge, > 0: without it there is no such limit.
 *  \param thickness  m on the face: h where W is the less, else DREGS_FILM_STAYS.
 *  \param bead       m3 besides: 0 where W is the less, which is all there is then.
 *  \return DREGS_OK, DREGS_DOMAIN.
 *  Source: Konishi, Hirohata, Kubota, Yuri 1974, as above. */
DREGS_API dregs_status dregs_film_kushner_held(const dregs_wetting *liquid, double speed,
                                               double area, double edge, double *thickness,
                                               double *bead);

/** A row of the published drag-out by shape of part and drainage.
 *  Source: Metal Finishing Guidebook 2012-13, Table II, Typical Cleaner Dragout. */
typedef struct dregs_drag_out_class {
    const char *name;  /**< "vertical well drained", ... */
    double least;      /**< m3/m2 of part; the table prints gallons per 1000 ft2 */
    double most;       /**< m3/m2; above `least` where the table gives a range */
    double gallons[2]; /**< the two as printed, gal per 1000 ft2 */
} dregs_drag_out_class;

/** Row \p index (0, 1, ...) or NULL past the end. */
DREGS_API const dregs_drag_out_class *dregs_film_class(size_t index);

/** The row of that name, or NULL. */
DREGS_API const dregs_drag_out_class *dregs_film_class_named(const char *name);

#ifdef __cplusplus
}
#endif
#endif
