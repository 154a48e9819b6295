/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* evaporation.c: the laws of an open surface, side by side. */
#include "dregs/evaporation.h"
#include "base/root.h"
#include "dregs/dry.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define GRAVITY          9.80665
#define AIR_MOLAR_MASS   28.96e-3 /* kg/mol */
#define WATER_MOLAR_MASS 18.015e-3
#define EMISSIVITY       0.95 /* of most liquids; Incropera, table A.11 for water */
#define POOL_MOST        0.3  /* of the pressure: our bound, the law has no Stefan flow */

struct surface {
    const dregs_liquids *liquids;
    const char *liquid;
    const dregs_open_surface *tank;
    dregs_evaporation *r;
    double water; /* Pa, of the room's air */
    char message[DREGS_LIQUID_MESSAGE];
    /* for the balance of heat */
    double expansion, kinematic, thermal; /* 1/K, m2/s, m2/s of the liquid */
};

const char *dregs_evaporation_words(dregs_evaporation_law law)
{
    static const char *const words[DREGS_EVAPORATION_LAWS] = {
        "free convection over a horizontal surface: Lloyd and Moran 1974, McAdams 1954",
        "diffusion from a disc in a plane, Sh = 2/pi: Weber 1873",
        "quiescent pools, 1464 P M ug/(m2 h): Mackay and van Wesenbeeck 2014",
        "US EPA pool equation, 2.1126e-6 u^0.78 M^(2/3) P / T kg/(m2 s)",
        "diffusion through the freeboard, behind the largest of the others: Stefan 1874"};

    return (unsigned)law < DREGS_EVAPORATION_LAWS ? words[law] : NULL;
}

dregs_status dregs_horizontal_convection(double rayleigh, int rising, double *sherwood)
{
    if (!(rayleigh >= 0) || !isfinite(rayleigh))
        return DREGS_DOMAIN;
    if (rising ? rayleigh < 1e4 || rayleigh > 1e11 : rayleigh < 1e5 || rayleigh > 1e10)
        return DREGS_OUT_OF_RANGE;
    if (!rising)
        *sherwood = 0.27 * pow(rayleigh, 0.25);
    else
        *sherwood = rayleigh <= 1e7 ? 0.54 * pow(rayleigh, 0.25) : 0.15 * cbrt(rayleigh);
    return DREGS_OK;
}

double dregs_open_conductivity(const dregs_liquids *liquids, const char *liquid, double temperature)
{
    dregs_liquid_class class = DREGS_CLASS_OTHER;
    double t = temperature / 298.15, conductivity;

    (void)dregs_liquids_class(liquids, liquid, &class, NULL);
    if (class != DREGS_CLASS_WATER || !(temperature >= 274) || !(temperature <= 370))
        return dregs_liquids_value(liquids, liquid, DREGS_THERMAL_CONDUCTIVITY, temperature,
                                   &conductivity, NULL)
                   ? 0.0
                   : conductivity;
    return 0.6065 * (-1.48445 + 4.12292 * t - 1.63866 * t * t);
}

static dregs_status value(struct surface *s, dregs_property which, double temperature, double *into)
{
    return dregs_liquids_value(s->liquids, s->liquid, which, temperature, into, s->message);
}

/* kg/m3 of air with the liquid's vapour at that pressure; what else is there is the room's air */
static double mixture_density(const struct surface *s, double vapour, double temperature)
{
    double p = s->tank->pressure, share = s->r->far < p ? (p - vapour) / (p - s->r->far) : 0;
    double water = s->r->far > 0 ? 0 : s->water * share; /* with water it is the vapour itself */
    double air = p - vapour - water;

    return (vapour * s->r->molar_mass + water * WATER_MOLAR_MASS + air * AIR_MOLAR_MASS) /
           (DREGS_GAS_CONSTANT * temperature);
}

/* By how much the air at the surface is lighter than the room's. Heat and vapour together, or the
 * stronger where they are against each other: their sum may vanish, the flow does not (Bejan,
 * Convection Heat Transfer, ch. 11: double-diffusive layers follow the stronger drive). */
static double lighter(const struct surface *s, double vapour, double temperature)
{
    double room = mixture_density(s, s->r->far, s->tank->room);
    double heat = room - mixture_density(s, s->r->far, temperature);
    double mass = room - mixture_density(s, vapour, s->tank->room);

    if (heat * mass >= 0)
        return room - mixture_density(s, vapour, temperature);
    return fabs(heat) > fabs(mass) ? heat : mass;
}

/* Free convection from a surface of that temperature: the coefficient into r->transfer, NaN out of
 * the law's range. */
static dregs_status convection(struct surface *s, double temperature)
{
    dregs_evaporation *r = s->r;
    double mean = (temperature + s->tank->room) / 2, length = s->tank->length, mixed;
    dregs_air air;
    dregs_status status = value(s, DREGS_VAPOUR_PRESSURE, temperature, &r->surface_pressure);

    if (!status)
        status = value(s, DREGS_DIFFUSIVITY, mean, &r->diffusivity);
    if (status)
        return status;
    if (dregs_air_at(mean, s->tank->pressure, &air))
        return DREGS_OUT_OF_RANGE;
    r->diffusivity *= DREGS_ATMOSPHERE / s->tank->pressure;
    r->surface = temperature;
    r->density = mixture_density(s, r->far, s->tank->room);
    r->lighter = lighter(s, r->surface_pressure, temperature);
    mixed = r->density - r->lighter / 2;
    /* Gr Sc = g |d rho| / rho L^3 / (nu D), nu the viscosity of air over the mixture's density */
    r->rayleigh = GRAVITY * fabs(r->lighter) / mixed * length * length * length /
                  (air.viscosity / mixed * r->diffusivity);
    r->sherwood = r->transfer = NAN;
    if (!dregs_horizontal_convection(r->rayleigh, r->lighter > 0, &r->sherwood))
        r->transfer = r->sherwood * r->diffusivity / length;
    return DREGS_OK;
}

/* kg/(m2 s) with a coefficient, from the surface as convection() left it */
static double flux_of(const struct surface *s, double transfer)
{
    double molar = NAN;

    if (dregs_stefan_flux(transfer, (s->r->surface + s->tank->room) / 2, s->tank->pressure,
                          s->r->surface_pressure, s->r->far, &molar))
        return NAN;
    return molar * s->r->molar_mass;
}

/* The coefficient of a disc that lets its vapour into still air by diffusion alone: 4 D / (pi a),
 * with area / perimeter a / 2 (Weber 1873, the charged disc). */
static double disc(const struct surface *s)
{
    return 2.0 / 3.14159265358979 * s->r->diffusivity / s->tank->length;
}

/* ---- the surface is colder than the liquid below ---- */

/* What free convection in the liquid brings up to a surface that is colder by that much, W/m2;
 * below the law's range it is led through the length at rest. */
static double brought_up(const struct surface *s, double colder)
{
    double length = s->tank->length, nusselt = 1;
    double rayleigh =
        GRAVITY * s->expansion * colder * length * length * length / (s->kinematic * s->thermal);

    if (rayleigh > 1e11)
        nusselt = 0.15 * cbrt(rayleigh); /* without the length, so that it holds beyond */
    else
        (void)dregs_horizontal_convection(rayleigh, 1, &nusselt);
    return nusselt * s->tank->conductivity / length * colder;
}

/* heat that is brought up less heat that leaves, W/m2 */
static double surplus(double temperature, void *user)
{
    struct surface *s = user;
    double room = s->tank->room, mean = (temperature + room) / 2, heat, transfer, convected;
    dregs_air air;

    if (convection(s, temperature) || value(s, DREGS_HEAT_OF_VAPORISATION, temperature, &heat) ||
        dregs_air_at(mean, s->tank->pressure, &air))
        return NAN;
    transfer = isfinite(s->r->transfer) ? s->r->transfer : disc(s);
    /* Chilton and Colburn's analogy, the other way round */
    convected =
        transfer * air.density * air.heat_capacity *
        pow(air.conductivity / (air.density * air.heat_capacity * s->r->diffusivity), 2.0 / 3.0) *
        (temperature - room);
    return brought_up(s, s->tank->temperature - temperature) - flux_of(s, transfer) * heat -
           convected - EMISSIVITY * DREGS_STEFAN_BOLTZMANN * (pow(temperature, 4) - pow(room, 4));
}

static int know_liquid(struct surface *s)
{
    double at = s->tank->temperature, density, warmer, viscosity, capacity;

    if (!(s->tank->conductivity > 0) || value(s, DREGS_DENSITY, at, &density) ||
        value(s, DREGS_DENSITY, at + 1, &warmer) || value(s, DREGS_VISCOSITY, at, &viscosity) ||
        value(s, DREGS_HEAT_CAPACITY, at, &capacity))
        return 0;
    s->expansion = (density - warmer) / density;
    s->kinematic = viscosity / density;
    s->thermal = s->tank->conductivity / (density * capacity);
    return s->expansion > 0; /* water below 4 degC: what is colder does not sink */
}

/* Convection from the surface's own temperature. One that gains heat is left at the liquid's. */
static dregs_status balance(struct surface *s)
{
    double at = s->tank->temperature, low = fmax(at - 40, 273.16), root = NAN;
    dregs_status status;

    if (know_liquid(s) && low < at && surplus(at, s) < 0) {
        while (low < at && !isfinite(surplus(low, s)))
            low += 1; /* its data begin above */
        if (low < at)
            root = dregs_root(surplus, s, low, at, 1e-12);
    }
    status = convection(s, isfinite(root) ? root : at);
    s->r->cooled = !status && isfinite(root);
    return status;
}

/* ---- the laws ---- */

static void sets(struct surface *s, dregs_evaporation_law law, double flux)
{
    s->r->law[law].applies = 1;
    s->r->law[law].flux = flux;
}

static void refuses(struct surface *s, dregs_evaporation_law law, const char *why)
{
    snprintf(s->r->law[law].why, sizeof s->r->law[law].why, "%.199s", why);
}

/* Convection and diffusion, and the freeboard, which needs the diffusivity too. */
static void free_laws(struct surface *s)
{
    int law;

    s->message[0] = '\0';
    if (balance(s)) {
        for (law = DREGS_EVAPORATION_CONVECTION; law <= DREGS_EVAPORATION_DIFFUSION; law++)
            refuses(s, (dregs_evaporation_law)law, s->message);
        s->r->surface = s->r->diffusivity = s->r->sherwood = s->r->transfer = NAN;
        return;
    }
    sets(s, DREGS_EVAPORATION_DIFFUSION, flux_of(s, disc(s)));
    if (isfinite(s->r->transfer))
        sets(s, DREGS_EVAPORATION_CONVECTION, flux_of(s, s->r->transfer));
    else
        refuses(s, DREGS_EVAPORATION_CONVECTION, "its Rayleigh number is out of the law's range");
}

static void old_laws(struct surface *s)
{
    const dregs_open_surface *tank = s->tank;
    double grams = s->r->molar_mass * 1e3, drive = s->r->vapour_pressure - s->r->far;

    if (s->r->vapour_pressure <= POOL_MOST * tank->pressure)
        sets(s, DREGS_EVAPORATION_POOL, 1464e-9 * drive * grams / 3600.0);
    else
        refuses(s, DREGS_EVAPORATION_POOL,
                "the vapour pressure is above 0.3 of the air's (our bound)");
    if (tank->air_speed > 0)
        sets(s, DREGS_EVAPORATION_WIND,
             2.1126e-6 * pow(tank->air_speed, 0.78) * pow(grams, 2.0 / 3.0) * drive /
                 tank->temperature);
    else
        refuses(s, DREGS_EVAPORATION_WIND, "never for still air");
}

/* The resistance of the air below the rim behind that of the law that would count without it. */
static void through_freeboard(struct surface *s)
{
    const dregs_open_surface *tank = s->tank;
    dregs_evaporation *r = s->r;
    double open, unit;

    if (!(tank->freeboard > 0))
        refuses(s, DREGS_EVAPORATION_FREEBOARD, "no freeboard in air that is stated to be still");
    else if (tank->air_speed > 0)
        refuses(s, DREGS_EVAPORATION_FREEBOARD, "the air is not still");
    else if (!(r->diffusivity > 0))
        refuses(s, DREGS_EVAPORATION_FREEBOARD, "the diffusivity is not known");
    else if (r->lighter > 0)
        refuses(s, DREGS_EVAPORATION_FREEBOARD, "what is lighter than air rises out of it");
    else {
        unit = flux_of(s, 1.0); /* the flux is proportional to the coefficient */
        open = r->flux / unit;
        r->counts = DREGS_EVAPORATION_FREEBOARD;
        r->flux = unit / (1 / open + tank->freeboard / r->diffusivity);
        sets(s, DREGS_EVAPORATION_FREEBOARD, r->flux);
    }
}

/* The largest of the laws that apply; 0 when none does. */
static int choose(dregs_evaporation *r)
{
    int law, found = 0;

    for (law = 0; law < DREGS_EVAPORATION_FREEBOARD; law++) {
        if (!r->law[law].applies || (found && !(r->law[law].flux > r->flux)))
            continue;
        found = 1;
        r->counts = (dregs_evaporation_law)law;
        r->flux = r->law[law].flux;
    }
    return found;
}

static dregs_status know_air(struct surface *s)
{
    const dregs_open_surface *tank = s->tank;
    dregs_liquid_class class = DREGS_CLASS_OTHER;
    double full;
    dregs_status status = dregs_liquids_value(s->liquids, "water", DREGS_VAPOUR_PRESSURE,
                                              tank->room, &full, s->message);

    if (!status)
        status = value(s, DREGS_VAPOUR_PRESSURE, tank->temperature, &s->r->vapour_pressure);
    if (!status)
        status = value(s, DREGS_MOLAR_MASS, tank->temperature, &s->r->molar_mass);
    if (status)
        return status;
    (void)dregs_liquids_class(s->liquids, s->liquid, &class, NULL);
    s->water = tank->humidity * full;
    s->r->far = class == DREGS_CLASS_WATER ? s->water : 0.0;
    if (s->r->vapour_pressure < tank->pressure && s->water < tank->pressure)
        return DREGS_OK;
    snprintf(s->message, sizeof s->message, "%.60s boils at that temperature", s->liquid);
    return DREGS_OUT_OF_RANGE;
}

static dregs_status evaporate(struct surface *s)
{
    dregs_evaporation *r = s->r;
    dregs_status status = know_air(s);
    int law;

    if (status)
        return status;
    if (r->vapour_pressure <= r->far) {
        r->condenses = 1;
        r->surface = s->tank->temperature;
        for (law = 0; law < DREGS_EVAPORATION_LAWS; law++)
            refuses(s, (dregs_evaporation_law)law, "the room's air holds more of its vapour");
        return DREGS_OK;
    }
    free_laws(s);
    old_laws(s);
    if (!choose(r)) {
        snprintf(s->message, sizeof s->message, "no law of evaporation applies to %.60s there",
                 s->liquid);
        return DREGS_OUT_OF_RANGE;
    }
    through_freeboard(s);
    return isfinite(r->flux) ? DREGS_OK : DREGS_NUMERIC;
}

dregs_status dregs_open_evaporation(const dregs_liquids *liquids, const char *liquid,
                                    const dregs_open_surface *tank, dregs_evaporation *result,
                                    char *message)
{
    dregs_evaporation made = {0};
    struct surface s = {.liquids = liquids, .liquid = liquid, .tank = tank, .r = &made};
    dregs_status status = DREGS_DOMAIN;

    if (tank->temperature > 0 && isfinite(tank->temperature) && tank->room >= 273.16 &&
        tank->room <= 333.15 && tank->humidity >= 0 && tank->humidity <= 1 &&
        tank->pressure > 2e4 && tank->pressure < 2e5 && tank->length > 0 &&
        isfinite(tank->length) && tank->air_speed >= 0 && tank->air_speed <= 100 &&
        tank->freeboard >= 0 && isfinite(tank->freeboard) && tank->conductivity >= 0 &&
        isfinite(tank->conductivity))
        status = evaporate(&s);
    else
        snprintf(s.message, sizeof s.message,
                 "the surface or the room's air is out of range (a room of 0.01 to 60 degC)");
    if (message && status)
        snprintf(message, DREGS_LIQUID_MESSAGE, "%s", s.message);
    if (!status)
        *result = made;
    return status;
}
