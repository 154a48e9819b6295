/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* liquid.c: the figures of a liquid or mixture, its regulations and cautions. */
#include "answer/inside.h"
#include "base/grow.h"
#include "base/text.h"
#include "dregs/answer_liquid.h"
#include "dregs/dry.h"
#include "dregs/number.h"
#include "dregs/unit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LIMIT_AT 298.15 /* K: 25 degC, at which limits in ppm are put into mg/m3 */

enum { FIGURES_MOST = 32, REGULATIONS_MOST = 64 };

/* A result with what only this file sees of it. */
struct answer {
    dregs_liquid_result result; /* first: a result is the address of its answer */
    const dregs_liquid_request *request;
    const dregs_liquids *liquids;
    const dregs_mixture_row *pair; /* the first row of the mixture; NULL for a liquid */
    dregs_mixtures *mixtures;
    dregs_liquid_figure figure[FIGURES_MOST];
    dregs_caution *caution;
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
    [DREGS_FREEZING_POINT] = "degC",
    [DREGS_THERMAL_CONDUCTIVITY] = "W/(m.K)",
    [DREGS_CAS_NUMBER] = "",
    [DREGS_OTHER_NAMES] = "",
    [DREGS_SOLUBILITY] = "%",
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
    figure->value = figure->accuracy = NAN;
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
    figure->value =
        in_unit("mg/m3", share * mass * DREGS_ATMOSPHERE / (DREGS_GAS_CONSTANT * LIMIT_AT));
    figure->note = "from the limit in ppm and the molar mass, as an ideal gas at 101.325 kPa";
}

/* A value in the unit shown; a constant as it stands in the table, where that has the unit. */
static double as_shown(const dregs_liquid_row *row, const char *unit, double si)
{
    if (strcmp(row->equation, "A") == 0 && strcmp(row->unit, unit) == 0)
        return row->coefficient[0];
    return in_unit(unit, si);
}

/* The value with its accuracy there, and how it was come by beyond its row. */
static void set_value(const struct answer *answer, dregs_liquid_figure *figure, double value)
{
    const dregs_liquid_row *row = figure->row;
    double temperature = answer->request->temperature;

    figure->value = as_shown(row, figure->unit, value);
    (void)dregs_liquids_accuracy(answer->liquids, answer->result.first, row->property, temperature,
                                 &figure->accuracy, NULL);
    (void)dregs_liquids_extended(answer->liquids, answer->result.first, row->property, temperature,
                                 figure->extended);
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
            snprintf(figure->reason, sizeof figure->reason, "needs a temperature");
        else if (!dregs_liquids_value(answer->liquids, liquid, property, temperature, &value,
                                      figure->reason))
            set_value(answer, figure, value);
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
            snprintf(figure->reason, sizeof figure->reason, "needs a mass share");
        else if (!isnan(request->temperature) && !near)
            snprintf(figure->reason, sizeof figure->reason,
                     "the table is taken within 0.5 K of its temperature only");
        else if (!dregs_mixture_value(answer->mixtures, row->first, row->second, row->property,
                                      request->share, temperature, &value, figure->reason))
            figure->value = in_unit(shown[row->property], value);
    }
}

/* The model of the mixture that was fitted nearest to a temperature. */
static const dregs_mixture_row *model_near(const struct answer *answer, double temperature)
{
    const dregs_mixture_row *row, *found = NULL;
    size_t i;

    for (i = 0; (row = dregs_mixtures_row(answer->mixtures, i)) != NULL; i++)
        if (row->property == DREGS_PROPERTIES && strcmp(row->pair, answer->pair->pair) == 0 &&
            (!found || fabs(row->fitted_at - temperature) < fabs(found->fitted_at - temperature)))
            found = row;
    return found;
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

    if (!isnan(answer->request->temperature))
        model = model_near(answer, answer->request->temperature);
    for (i = 0; i < 2; i++) {
        dregs_liquid_figure *figure = add_modelled(answer, model, "activity coefficient of",
                                                   i ? model->second : model->first, "1");
        figure->note = i ? "" : model->note;
        if (isnan(answer->request->temperature))
            snprintf(figure->reason, sizeof figure->reason, "needs a temperature");
        else if (isnan(moles))
            snprintf(figure->reason, sizeof figure->reason, "needs a mass share");
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
        snprintf(figure->reason, sizeof figure->reason, "needs a mass share");
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

static void add_flash_point(struct answer *answer, const dregs_mixture_row *model, double moles)
{
    dregs_liquid_figure *figure =
        add_modelled(answer, model, "flash point, calculated", "", "degC");
    double temperature;

    if (isnan(moles))
        snprintf(figure->reason, sizeof figure->reason, "needs a mass share");
    else if (!dregs_mixture_flash_point(answer->mixtures, answer->liquids, model->first,
                                        model->second, moles, &temperature, figure->reason))
        figure->value = temperature - 273.15;
}

static void mixture_figures(struct answer *answer)
{
    const dregs_mixture_row *pair = answer->pair,
                            *model = model_near(answer, 373.15); /* of what boils */
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
        add_flash_point(answer, model, moles);
    }
}

/* ---- the answer ---- */

/* The cautions that the liquid calls for; of a mixture those of its first one. */
static dregs_status caution(struct answer *answer)
{
    dregs_facts facts;

    dregs_facts_init(&facts);
    facts.place = DREGS_PLACE_KEPT;
    facts.mixed_with = answer->result.second;
    dregs_facts_of_liquid(&facts, answer->liquids, answer->result.first,
                          answer->request->temperature);
    facts.value[DREGS_FACT_SHARE] = answer->request->share;
    if (answer->pair)
        dregs_facts_of_mixture(&facts, answer->mixtures, answer->result.second,
                               answer->request->share);
    return dregs_answer_cautions(&facts, 1, &answer->caution, &answer->result.cautions);
}

static void find_regulations(struct answer *answer)
{
    const dregs_liquid_result *result = &answer->result;
    const dregs_regulation *one;
    size_t i;

    for (i = 0; (one = dregs_regulations_at(dregs_liquids_regulations(answer->liquids), i)) != NULL;
         i++)
        if (result->regulations < REGULATIONS_MOST &&
            (strcmp(one->liquid, result->first) == 0 ||
             (result->second && strcmp(one->liquid, result->second) == 0)))
            answer->regulation[answer->result.regulations++] = one;
}

static void find_missing(struct answer *answer)
{
    const char *liquid = answer->result.first;
    dregs_miscibility mixes = DREGS_IMMISCIBLE;
    int p, missing = 0;

    (void)dregs_liquids_miscibility(answer->liquids, liquid, &mixes, NULL);
    for (p = 0; p < DREGS_PROPERTIES; p++)
        if (p == DREGS_SOLUBILITY && mixes == DREGS_MISCIBLE)
            continue; /* there is none */
        else if (!dregs_liquids_row(answer->liquids, answer->result.first, (dregs_property)p))
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

/* Is it "isopropanol-water", or with other names of the two "IPA-water"? Names have hyphens too. */
static int is_pair(const struct answer *answer, const dregs_mixture_row *pair, const char *name)
{
    char first[DREGS_FIGURE_NAME];
    const char *hyphen, *one, *two;

    for (hyphen = strchr(name, '-'); hyphen; hyphen = strchr(hyphen + 1, '-')) {
        if ((size_t)(hyphen - name) >= sizeof first)
            return 0;
        snprintf(first, sizeof first, "%.*s", (int)(hyphen - name), name);
        one = dregs_liquids_find(answer->liquids, first);
        two = dregs_liquids_find(answer->liquids, hyphen + 1);
        if (one && two && strcmp(one, pair->first) == 0 && strcmp(two, pair->second) == 0)
            return 1;
    }
    return 0;
}

/* Finds what the name is, and whether the request fits it. */
static dregs_status find_name(struct answer *answer, char *message)
{
    const dregs_liquid_request *request = answer->request;
    const char *name = request->name;
    size_t i;

    answer->result.first = dregs_liquids_find(answer->liquids, name);
    for (i = 0; !answer->result.first; i++) {
        answer->pair = dregs_mixtures_row(answer->mixtures, i);
        if (!answer->pair)
            return unknown(answer, message);
        if (is_pair(answer, answer->pair, name)) {
            answer->result.first = answer->pair->first;
            answer->result.second = answer->pair->second;
        }
    }
    answer->result.name = answer->pair ? answer->pair->pair : answer->result.first;
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
    return caution(answer);
}

dregs_status dregs_liquid_answer(const dregs_liquid_request *request, const dregs_liquids *liquids,
                                 dregs_liquid_result **result, char *message)
{
    dregs_liquid_request asked;
    struct answer *answer;
    dregs_status status;

    message[0] = '\0';
    dregs_liquid_request_init(&asked);
    if (!dregs_take(&asked, sizeof asked, request))
        return DREGS_DOMAIN;
    if (!asked.name)
        return dregs_refuse(message, DREGS_LIQUID_MESSAGE, "name: no liquid is named");
    if (!isnan(asked.temperature) && !(asked.temperature > 0))
        return dregs_refuse(message, DREGS_LIQUID_MESSAGE, "temperature: not above 0 K");
    if (!isnan(asked.share) && !(asked.share >= 0 && asked.share <= 1))
        return dregs_refuse(message, DREGS_LIQUID_MESSAGE, "share: not 0 to 1");
    answer = calloc(1, sizeof *answer);
    if (!answer)
        return DREGS_NO_MEMORY;
    answer->request = &asked;
    answer->liquids = liquids;
    answer->mixtures = dregs_mixtures_new();
    status = answer->mixtures ? fill(answer, message) : DREGS_NO_MEMORY;
    answer->request = NULL; /* it was there for the time of the call */
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

const dregs_caution *dregs_liquid_result_caution(const dregs_liquid_result *result, size_t index)
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
    free(answer->caution);
    dregs_mixtures_free(answer->mixtures);
    free(answer);
}

void dregs_liquid_request_init_of_size(dregs_liquid_request *request, size_t size)
{
    dregs_liquid_request made = {.size = size, .temperature = NAN, .share = NAN};

    dregs_give(request, size, &made, sizeof made);
}

const dregs_liquids *dregs_liquid_result_liquids(const dregs_liquid_result *result)
{
    return ((const struct answer *)result)->liquids;
}
