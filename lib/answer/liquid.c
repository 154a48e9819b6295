/* SPDX-License-Identifier: GPL-3.0-or-later */
/* liquid.c: the figures of a liquid or mixture and the cautions that they call for. */
#include "dregs/answer_liquid.h"
#include "dregs/dry.h"
#include "dregs/number.h"
#include "dregs/unit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ROOM 298.15 /* K: 25 degC */

enum { FIGURES_MOST = 32, CAUTIONS_MOST = 8, REGULATIONS_MOST = 64 };

/* A result with what only this file sees of it. */
struct answer {
    dregs_liquid_result result; /* first: a result is the address of its answer */
    const dregs_liquid_request *request;
    const dregs_liquids *liquids;
    const dregs_mixture_row *pair; /* the first row of the mixture; NULL for a liquid */
    dregs_mixtures *mixtures;
    dregs_regulations *regulations;
    dregs_liquid_figure figure[FIGURES_MOST];
    dregs_liquid_caution caution[CAUTIONS_MOST];
    const dregs_regulation *regulation[REGULATIONS_MOST];
    const char *missing[DREGS_PROPERTIES + 1];
};

static const char *const shown[DREGS_PROPERTIES] = {
    [DREGS_VAPOUR_PRESSURE] = "kPa",
    [DREGS_DENSITY] = "kg/m3",
    [DREGS_VISCOSITY] = "mPa.s",
    [DREGS_SURFACE_TENSION] = "mN/m",
    [DREGS_MOLAR_MASS] = "g/mol",
    [DREGS_BOILING_POINT] = "degC",
    [DREGS_FLASH_POINT] = "degC",
    [DREGS_LOWER_LIMIT] = "%",
    [DREGS_UPPER_LIMIT] = "%",
    [DREGS_AUTOIGNITION] = "degC",
    [DREGS_EXPOSURE_LIMIT] = "ppm",
    [DREGS_HEAT_OF_VAPORISATION] = "kJ/kg",
    [DREGS_HEAT_CAPACITY] = "J/(kg.K)",
    [DREGS_DIFFUSIVITY] = "mm2/s",
    [DREGS_CLASS] = "",
    [DREGS_MISCIBILITY] = "",
};

/* An SI value in the unit shown. */
static double in_unit(const char *unit, double si)
{
    dregs_unit read;

    return dregs_unit_read(unit, &read, NULL) ? NAN : dregs_unit_from_si(read, si);
}

static dregs_liquid_figure *add_figure(struct answer *answer, const char *name, const char *unit,
                                       const char *source, const char *evidence)
{
    dregs_liquid_figure *figure = &answer->figure[answer->result.figures];

    if (answer->result.figures + 1 < FIGURES_MOST)
        answer->result.figures++;
    memset(figure, 0, sizeof *figure);
    snprintf(figure->name, sizeof figure->name, "%s", name);
    figure->value = NAN;
    figure->unit = unit;
    figure->source = source;
    figure->evidence = evidence;
    figure->note = "";
    return figure;
}

/* ---- a pure liquid ---- */

/* A value of a liquid, NaN where it is refused. */
static double known(const struct answer *answer, const char *liquid, dregs_property property,
                    double temperature)
{
    double value = NAN;

    (void)dregs_liquids_value(answer->liquids, liquid, property, temperature, &value, NULL);
    return value;
}

/* The exposure limit by mass: share * M P / (R T), an ideal gas at 25 degC and 101.325 kPa. */
static void add_limit_by_mass(struct answer *answer, const char *liquid,
                              const dregs_liquid_row *row)
{
    double share = known(answer, liquid, DREGS_EXPOSURE_LIMIT, answer->request->temperature);
    double mass = known(answer, liquid, DREGS_MOLAR_MASS, answer->request->temperature);
    dregs_liquid_figure *figure;

    if (isnan(share) || isnan(mass))
        return;
    figure = add_figure(answer, "exposure limit at 25 degC", "mg/m3", row->source, "computed");
    figure->value = in_unit("mg/m3", share * mass * DREGS_ATMOSPHERE / (DREGS_GAS_CONSTANT * ROOM));
    figure->note = "from the limit in ppm and the molar mass, as an ideal gas at 101.325 kPa";
}

/* A value in the unit shown; a constant as it stands in the table, where that has the unit. */
static double as_shown(const dregs_liquid_row *row, const char *unit, double si)
{
    if (strcmp(row->equation, "A") == 0 && strcmp(row->unit, unit) == 0)
        return row->coefficient[0];
    return in_unit(unit, si);
}

static void liquid_figures(struct answer *answer, const char *liquid)
{
    double temperature = answer->request->temperature, value;
    int p;

    for (p = 0; p < DREGS_PROPERTIES; p++) {
        dregs_property property = (dregs_property)p;
        const dregs_liquid_row *row = dregs_liquids_row(answer->liquids, liquid, property);
        dregs_liquid_figure *figure;
        if (!row)
            continue;
        figure =
            add_figure(answer, dregs_property_name(property), shown[p], row->source, row->evidence);
        figure->row = row;
        figure->note = row->note;
        figure->word = row->word;
        if (row->word)
            continue;
        if (isnan(temperature) && !isnan(row->low))
            snprintf(figure->reason, sizeof figure->reason, "needs a temperature: --at");
        else if (!dregs_liquids_value(answer->liquids, liquid, property, temperature, &value,
                                      figure->reason))
            figure->value = as_shown(row, shown[p], value);
        if (property == DREGS_EXPOSURE_LIMIT)
            add_limit_by_mass(answer, liquid, row);
    }
}

/* ---- a mixture ---- */

/* The curves of the mixture: at the temperature asked for, else each at its own. */
static void add_curves(struct answer *answer)
{
    const dregs_liquid_request *request = answer->request;
    const dregs_mixture_row *row;
    double value;
    size_t i;

    for (i = 0; (row = dregs_mixtures_row(answer->mixtures, i)) != NULL; i++) {
        int near = fabs(row->low - request->temperature) <= DREGS_MIXTURE_NEAR + 1e-9;
        double temperature = row->low;
        char name[DREGS_FIGURE_NAME], at[DREGS_NUMBER_TEXT];
        dregs_liquid_figure *figure;
        if (strcmp(row->pair, answer->pair->pair) != 0 || row->property == DREGS_PROPERTIES)
            continue;
        snprintf(name, sizeof name, "%s at %s degC", row->name,
                 dregs_number_plain(at, row->low - 273.15, 6));
        figure = add_figure(answer, name, shown[row->property], row->source, row->evidence);
        figure->mixture = row;
        figure->note = row->note;
        if (isnan(request->share))
            snprintf(figure->reason, sizeof figure->reason, "needs a mass share: --share");
        else if (!isnan(request->temperature) && !near)
            snprintf(figure->reason, sizeof figure->reason,
                     "the table is taken within 0.5 K of its temperature only");
        else if (!dregs_mixture_value(answer->mixtures, row->first, row->second, row->property,
                                      request->share, temperature, &value, figure->reason))
            figure->value = in_unit(shown[row->property], value);
    }
}

static const dregs_mixture_row *model_of(const struct answer *answer)
{
    const dregs_mixture_row *row;
    size_t i;

    for (i = 0; (row = dregs_mixtures_row(answer->mixtures, i)) != NULL; i++)
        if (row->property == DREGS_PROPERTIES && strcmp(row->pair, answer->pair->pair) == 0)
            return row;
    return NULL;
}

static dregs_liquid_figure *add_modelled(struct answer *answer, const dregs_mixture_row *model,
                                         const char *what, const char *of, const char *unit)
{
    char name[DREGS_FIGURE_NAME];
    dregs_liquid_figure *figure;

    snprintf(name, sizeof name, "%s%s%s", what, *of ? " " : "", of);
    figure = add_figure(answer, name, unit, model->source, model->evidence);
    figure->mixture = model;
    return figure;
}

static void add_activity(struct answer *answer, const dregs_mixture_row *model, double moles)
{
    double gamma[2];
    int i;

    for (i = 0; i < 2; i++) {
        dregs_liquid_figure *figure = add_modelled(answer, model, "activity coefficient of",
                                                   i ? model->second : model->first, "1");
        figure->note = i ? "" : model->note;
        if (isnan(answer->request->temperature))
            snprintf(figure->reason, sizeof figure->reason, "needs a temperature: --at");
        else if (isnan(moles))
            snprintf(figure->reason, sizeof figure->reason, "needs a mass share: --share");
        else if (!dregs_mixture_activity(answer->mixtures, model->first, model->second, moles,
                                         answer->request->temperature, gamma, figure->reason))
            figure->value = gamma[i];
    }
}

/* Boiling point of the mixture and the azeotrope, both at 101.325 kPa. */
static void add_boiling(struct answer *answer, const dregs_mixture_row *model, double moles,
                        const double mass[2])
{
    double temperature, share;
    dregs_liquid_figure *figure =
        add_modelled(answer, model, "boiling point at 101.325 kPa", "", "degC");

    if (isnan(moles))
        snprintf(figure->reason, sizeof figure->reason, "needs a mass share: --share");
    else if (!dregs_mixture_bubble(answer->mixtures, answer->liquids, model->first, model->second,
                                   moles, DREGS_ATMOSPHERE, &temperature, &share, figure->reason)) {
        figure->value = temperature - 273.15;
        figure = add_modelled(answer, model, "vapour by mass:", model->first, "%");
        figure->value = 100.0 * dregs_mixture_mass_share(share, mass[0], mass[1]);
    }
    figure = add_modelled(answer, model, "azeotrope at 101.325 kPa boils at", "", "degC");
    if (dregs_mixture_azeotrope(answer->mixtures, answer->liquids, model->first, model->second,
                                DREGS_ATMOSPHERE, &share, &temperature, figure->reason))
        return;
    figure->value = temperature - 273.15;
    figure = add_modelled(answer, model, "azeotrope by mass:", model->first, "%");
    figure->value = 100.0 * dregs_mixture_mass_share(share, mass[0], mass[1]);
}

static void mixture_figures(struct answer *answer)
{
    const dregs_mixture_row *pair = answer->pair, *model = model_of(answer);
    double mass[2], moles;

    add_curves(answer);
    mass[0] = known(answer, pair->first, DREGS_MOLAR_MASS, answer->request->temperature);
    mass[1] = known(answer, pair->second, DREGS_MOLAR_MASS, answer->request->temperature);
    moles = dregs_mixture_mole_share(answer->request->share, mass[0], mass[1]);
    if (!isnan(moles)) {
        char name[DREGS_FIGURE_NAME];
        dregs_liquid_figure *figure;
        snprintf(name, sizeof name, "mole share of %s", pair->first);
        figure = add_figure(answer, name, "%", "the molar masses of the liquids", "computed");
        figure->value = moles * 100.0;
    }
    if (model) {
        add_activity(answer, model, moles);
        add_boiling(answer, model, moles, mass);
    }
}

/* ---- cautions ---- */

static char *add_caution(struct answer *answer, const char *id, const char *source)
{
    dregs_liquid_caution *caution = &answer->caution[answer->result.cautions];

    if (answer->result.cautions + 1 < CAUTIONS_MOST)
        answer->result.cautions++;
    caution->id = id;
    caution->source = source;
    return caution->text;
}

/* 29 CFR 1910.106: within 30 degF below its flash point a liquid counts as one class up */
#define CLASS_UP (30.0 / 1.8)

static void caution_flash(struct answer *answer, const char *liquid)
{
    double at = answer->request->temperature;
    double flash = known(answer, liquid, DREGS_FLASH_POINT, isnan(at) ? ROOM : at);
    char a[DREGS_NUMBER_TEXT], b[DREGS_NUMBER_TEXT];

    if (isnan(flash))
        return;
    dregs_number_plain(a, flash - 273.15, 3);
    if (isnan(at))
        snprintf(add_caution(answer, "flash point", "29 CFR 1910.106"),
                 sizeof answer->caution[0].text,
                 "%s has a flash point of %s degC: from about there up its vapour can be lit. A "
                 "flammable liquid is not heated; an ultrasonic tank warms it by itself; a mist "
                 "burns below the flash point.",
                 liquid, a);
    else if (at >= flash - CLASS_UP)
        snprintf(add_caution(answer, "flash point", "29 CFR 1910.106"),
                 sizeof answer->caution[0].text,
                 "%s degC is %s the flash point of %s, %s degC: %s. An ultrasonic tank warms it "
                 "further; a mist burns below the flash point.",
                 dregs_number_plain(b, at - 273.15, 4),
                 at >= flash ? "at or above" : "within 16.7 K of", liquid, a,
                 at >= flash ? "the vapour over it can be lit"
                             : "heated so, it counts as the next more dangerous class");
}

static void caution_vapour(struct answer *answer, const char *liquid)
{
    double asked = answer->request->temperature, at = isnan(asked) ? ROOM : asked;
    double share = known(answer, liquid, DREGS_VAPOUR_PRESSURE, at) / DREGS_ATMOSPHERE;
    double lower = known(answer, liquid, DREGS_LOWER_LIMIT, at);
    double limit = known(answer, liquid, DREGS_EXPOSURE_LIMIT, at);
    char a[DREGS_NUMBER_TEXT], b[DREGS_NUMBER_TEXT], c[DREGS_NUMBER_TEXT];

    dregs_number_plain(a, at - 273.15, 4);
    if (share / lower >= 0.25)
        snprintf(add_caution(answer, "vapour",
                             "29 CFR 1910.106 and 1910.94(c)(6): 25 % of the lower limit"),
                 sizeof answer->caution[0].text,
                 "saturated at %s degC, its vapour is %s times the lower flammable limit of %s %% "
                 "by volume; keep the air below a quarter of the limit.",
                 a, dregs_number_plain(b, share / lower, 2), dregs_number_plain(c, lower * 100, 3));
    if (share / limit >= 1.0)
        snprintf(add_caution(answer, "exposure", "the limit's own publication"),
                 sizeof answer->caution[0].text,
                 "saturated at %s degC, its vapour is %s times the exposure limit of %s ppm. The "
                 "limit is one law's; recommended limits may be far lower.",
                 a, dregs_number_plain(b, share / limit, 2), dregs_number_plain(c, limit * 1e6, 4));
}

/* What is missing may be taken for harmless. */
static void caution_gaps(struct answer *answer, const char *liquid)
{
    int flash = dregs_liquids_row(answer->liquids, liquid, DREGS_FLASH_POINT) != NULL;
    int lower = dregs_liquids_row(answer->liquids, liquid, DREGS_LOWER_LIMIT) != NULL;
    int limit = dregs_liquids_row(answer->liquids, liquid, DREGS_EXPOSURE_LIMIT) != NULL;
    static const char *const source = "common practice, no source";

    if (strcmp(liquid, "water") == 0)
        return;
    if (!flash)
        snprintf(add_caution(answer, "no flash point", source), sizeof answer->caution[0].text,
                 "%s",
                 lower ? "no flash point is on record, yet its vapour burns in air within its "
                         "flammable limits: it is not a liquid that cannot burn."
                       : "no flash point and no flammable limit are on record here; that does not "
                         "mean that it cannot burn or form harmful products in a flame.");
    if (!limit)
        snprintf(add_caution(answer, "no exposure limit", source), sizeof answer->caution[0].text,
                 "no exposure limit is on record here; that does not mean that it is harmless.");
}

/* A hot surface lights it without a spark; 300 degC is reached by heaters and soldering irons. */
static void caution_hot(struct answer *answer, const char *liquid)
{
    double hot = known(answer, liquid, DREGS_AUTOIGNITION, ROOM);
    char a[DREGS_NUMBER_TEXT];

    if (hot < 300.0 + 273.15)
        snprintf(add_caution(answer, "hot surface", "common practice, no source"),
                 sizeof answer->caution[0].text,
                 "a surface of %s degC lights its vapour without a spark.",
                 dregs_number_plain(a, hot - 273.15, 3));
}

static void cautions(struct answer *answer)
{
    const char *liquid = answer->result.first;

    if (answer->pair) {
        snprintf(add_caution(answer, "mixture", "40 CFR 261.21; common practice"),
                 sizeof answer->caution[0].text,
                 "no flash point of mixtures is on record here. Mixtures of %s and %s burn down to "
                 "a small share of %s; take what holds for pure %s. In the US spent aqueous "
                 "liquid with less than 24 %% alcohol by volume is not ignitable waste; that "
                 "does not make it safe.",
                 answer->pair->first, answer->pair->second, answer->pair->first,
                 answer->pair->first);
    }
    caution_flash(answer, liquid);
    if (!answer->pair) /* less vapour than the pure liquid's */
        caution_vapour(answer, liquid);
    caution_gaps(answer, liquid);
    caution_hot(answer, liquid);
}

/* ---- the answer ---- */

static void find_regulations(struct answer *answer)
{
    const dregs_liquid_result *result = &answer->result;
    const dregs_regulation *one;
    size_t i;

    for (i = 0; (one = dregs_regulations_at(answer->regulations, i)) != NULL; i++)
        if (result->regulations < REGULATIONS_MOST &&
            (strcmp(one->liquid, result->first) == 0 ||
             (result->second && strcmp(one->liquid, result->second) == 0)))
            answer->regulation[answer->result.regulations++] = one;
}

static void find_missing(struct answer *answer)
{
    int p, missing = 0;

    for (p = 0; p < DREGS_PROPERTIES; p++)
        if (!dregs_liquids_row(answer->liquids, answer->result.first, (dregs_property)p))
            answer->missing[missing++] = dregs_property_name((dregs_property)p);
}

static dregs_status unknown(const struct answer *answer, char *message)
{
    const char *name = answer->request->name;
    const char *near = dregs_liquids_nearest(answer->liquids, name);
    const char *pair = dregs_mixtures_nearest(answer->mixtures, name);

    if (!near || (pair && strlen(name) > strlen(near) + 1)) /* too long for a slip in a liquid */
        near = pair ? pair : near;
    if (near)
        snprintf(message, DREGS_LIQUID_MESSAGE, "unknown liquid '%s' (nearest: '%s')", name, near);
    else
        snprintf(message, DREGS_LIQUID_MESSAGE, "unknown liquid '%s'", name);
    return DREGS_UNKNOWN;
}

/* Finds what the name is, and whether the request fits it. */
static dregs_status find_name(struct answer *answer, char *message)
{
    const dregs_liquid_request *request = answer->request;
    const char *name = request->name, *known;
    size_t i;

    for (i = 0; (known = dregs_liquids_name(answer->liquids, i)) != NULL; i++)
        if (strcmp(known, name) == 0)
            answer->result.first = known;
    for (i = 0; !answer->result.first; i++) {
        answer->pair = dregs_mixtures_row(answer->mixtures, i);
        if (!answer->pair)
            return unknown(answer, message);
        if (strcmp(answer->pair->pair, name) == 0) {
            answer->result.first = answer->pair->first;
            answer->result.second = answer->pair->second;
        }
    }
    if (answer->pair || isnan(request->share))
        return DREGS_OK;
    snprintf(message, DREGS_LIQUID_MESSAGE, "a share goes with a mixture");
    return DREGS_DOMAIN;
}

static dregs_status fill(struct answer *answer, char *message)
{
    dregs_status status = find_name(answer, message);

    if (status)
        return status;
    if (answer->pair) {
        mixture_figures(answer);
    } else {
        liquid_figures(answer, answer->result.first);
        find_missing(answer);
    }
    find_regulations(answer);
    cautions(answer);
    return DREGS_OK;
}

dregs_status dregs_liquid_answer(const dregs_liquid_request *request, const dregs_liquids *liquids,
                                 dregs_liquid_result **result, char *message)
{
    struct answer *answer;
    dregs_status status;

    message[0] = '\0';
    if (!request->name || (!isnan(request->temperature) && !(request->temperature > 0)) ||
        (!isnan(request->share) && !(request->share >= 0 && request->share <= 1)))
        return DREGS_DOMAIN;
    answer = calloc(1, sizeof *answer);
    if (!answer)
        return DREGS_NO_MEMORY;
    answer->request = request;
    answer->liquids = liquids;
    answer->mixtures = dregs_mixtures_new();
    answer->regulations = dregs_regulations_new();
    status = answer->mixtures && answer->regulations ? fill(answer, message) : DREGS_NO_MEMORY;
    answer->request = NULL; /* it was the caller's for the time of the call */
    if (status)
        dregs_liquid_result_free(&answer->result);
    else
        *result = &answer->result;
    return status;
}

static const struct answer *of(const dregs_liquid_result *result)
{
    return (const struct answer *)(const void *)result;
}

const dregs_liquid_figure *dregs_liquid_result_figure(const dregs_liquid_result *result,
                                                      size_t index)
{
    return index < result->figures ? &of(result)->figure[index] : NULL;
}

const dregs_regulation *dregs_liquid_result_regulation(const dregs_liquid_result *result,
                                                       size_t index)
{
    return index < result->regulations ? of(result)->regulation[index] : NULL;
}

const dregs_liquid_caution *dregs_liquid_result_caution(const dregs_liquid_result *result,
                                                        size_t index)
{
    return index < result->cautions ? &of(result)->caution[index] : NULL;
}

const char *dregs_liquid_result_missing(const dregs_liquid_result *result, size_t index)
{
    return index < DREGS_PROPERTIES ? of(result)->missing[index] : NULL;
}

void dregs_liquid_result_free(dregs_liquid_result *result)
{
    struct answer *answer = (struct answer *)(void *)result;

    if (!answer)
        return;
    dregs_mixtures_free(answer->mixtures);
    dregs_regulations_free(answer->regulations);
    free(answer);
}

void dregs_liquid_request_init(dregs_liquid_request *request)
{
    request->name = NULL;
    request->temperature = request->share = NAN;
}
