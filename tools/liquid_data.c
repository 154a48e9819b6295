/* SPDX-License-Identifier: GPL-3.0-or-later */
/* liquid_data.c: the facts of a liquid or mixture and the cautions that they call for. */
#include "liquid.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define ATMOSPHERE 101325.0         /* Pa */
#define GAS        8.31446261815324 /* J/(mol K), CODATA 2018, exact */
#define ROOM       298.15           /* K: 25 degC */

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

const char *liquid_shown_unit(dregs_property property)
{
    return shown[property];
}

/* An SI value in the unit shown. */
static double in_unit(const char *unit, double si)
{
    dregs_unit read;

    return dregs_unit_read(unit, &read, NULL) ? NAN : dregs_unit_from_si(read, si);
}

static struct fact *add_fact(struct liquid_answer *answer, const char *name, const char *unit,
                             const char *source, const char *evidence)
{
    struct fact *fact = &answer->fact[answer->facts];

    if (answer->facts + 1 < FACTS_MOST)
        answer->facts++;
    memset(fact, 0, sizeof *fact);
    snprintf(fact->name, sizeof fact->name, "%s", name);
    fact->value = NAN;
    fact->unit = unit;
    fact->source = source;
    fact->evidence = evidence;
    fact->note = "";
    return fact;
}

/* ---- a pure liquid ---- */

/* A value of a liquid, NaN where it is refused. */
static double known(const struct liquid_answer *answer, const char *liquid, dregs_property property,
                    double temperature)
{
    double value = NAN;

    (void)dregs_liquids_value(answer->liquids, liquid, property, temperature, &value, NULL);
    return value;
}

/* The exposure limit by mass: share * M P / (R T), an ideal gas at 25 degC and 101.325 kPa. */
static void add_limit_by_mass(struct liquid_answer *answer, const char *liquid,
                              const dregs_liquid_row *row)
{
    double share = known(answer, liquid, DREGS_EXPOSURE_LIMIT, answer->request->temperature);
    double mass = known(answer, liquid, DREGS_MOLAR_MASS, answer->request->temperature);
    struct fact *fact;

    if (isnan(share) || isnan(mass))
        return;
    fact = add_fact(answer, "exposure limit at 25 degC", "mg/m3", row->source, "computed");
    fact->value = in_unit("mg/m3", share * mass * ATMOSPHERE / (GAS * ROOM));
    fact->note = "from the limit in ppm and the molar mass, as an ideal gas at 101.325 kPa";
}

/* A value in the unit shown; a constant as it stands in the table, where that has the unit. */
static double as_shown(const dregs_liquid_row *row, const char *unit, double si)
{
    if (strcmp(row->equation, "A") == 0 && strcmp(row->unit, unit) == 0)
        return row->coefficient[0];
    return in_unit(unit, si);
}

void liquid_facts(struct liquid_answer *answer, const char *liquid)
{
    double temperature = answer->request->temperature, value;
    int p;

    answer->facts = 0;
    for (p = 0; p < DREGS_PROPERTIES; p++) {
        dregs_property property = (dregs_property)p;
        const dregs_liquid_row *row = dregs_liquids_row(answer->liquids, liquid, property);
        struct fact *fact;
        if (!row)
            continue;
        fact =
            add_fact(answer, dregs_property_name(property), shown[p], row->source, row->evidence);
        fact->row = row;
        fact->note = row->note;
        fact->word = row->word;
        if (row->word)
            continue;
        if (isnan(temperature) && !isnan(row->low))
            snprintf(fact->reason, sizeof fact->reason, "needs a temperature: --at");
        else if (!dregs_liquids_value(answer->liquids, liquid, property, temperature, &value,
                                      fact->reason))
            fact->value = as_shown(row, shown[p], value);
        if (property == DREGS_EXPOSURE_LIMIT)
            add_limit_by_mass(answer, liquid, row);
    }
}

/* ---- a mixture ---- */

/* The curves of the mixture: at the temperature asked for, else each at its own. */
static void add_curves(struct liquid_answer *answer)
{
    const struct liquid_request *request = answer->request;
    const dregs_mixture_row *row;
    double value;
    size_t i;

    for (i = 0; (row = dregs_mixtures_row(answer->mixtures, i)) != NULL; i++) {
        int near = fabs(row->low - request->temperature) <= DREGS_MIXTURE_NEAR + 1e-9;
        double temperature = row->low;
        char name[NAME_ROOM], at[DREGS_NUMBER_TEXT];
        struct fact *fact;
        if (strcmp(row->pair, answer->pair->pair) != 0 || row->property == DREGS_PROPERTIES)
            continue;
        snprintf(name, sizeof name, "%s at %s degC", row->name,
                 dregs_number_plain(at, row->low - 273.15, 6));
        fact = add_fact(answer, name, shown[row->property], row->source, row->evidence);
        fact->mixture = row;
        fact->note = row->note;
        if (isnan(request->share))
            snprintf(fact->reason, sizeof fact->reason, "needs a mass share: --share");
        else if (!isnan(request->temperature) && !near)
            snprintf(fact->reason, sizeof fact->reason,
                     "the table is taken within 0.5 K of its temperature only");
        else if (!dregs_mixture_value(answer->mixtures, row->first, row->second, row->property,
                                      request->share, temperature, &value, fact->reason))
            fact->value = in_unit(shown[row->property], value);
    }
}

static const dregs_mixture_row *model_of(const struct liquid_answer *answer)
{
    const dregs_mixture_row *row;
    size_t i;

    for (i = 0; (row = dregs_mixtures_row(answer->mixtures, i)) != NULL; i++)
        if (row->property == DREGS_PROPERTIES && strcmp(row->pair, answer->pair->pair) == 0)
            return row;
    return NULL;
}

static struct fact *add_modelled(struct liquid_answer *answer, const dregs_mixture_row *model,
                                 const char *what, const char *of, const char *unit)
{
    char name[NAME_ROOM];
    struct fact *fact;

    snprintf(name, sizeof name, "%s%s%s", what, *of ? " " : "", of);
    fact = add_fact(answer, name, unit, model->source, model->evidence);
    fact->mixture = model;
    return fact;
}

static void add_activity(struct liquid_answer *answer, const dregs_mixture_row *model, double moles)
{
    double gamma[2];
    int i;

    for (i = 0; i < 2; i++) {
        struct fact *fact = add_modelled(answer, model, "activity coefficient of",
                                         i ? model->second : model->first, "1");
        fact->note = i ? "" : model->note;
        if (isnan(answer->request->temperature))
            snprintf(fact->reason, sizeof fact->reason, "needs a temperature: --at");
        else if (isnan(moles))
            snprintf(fact->reason, sizeof fact->reason, "needs a mass share: --share");
        else if (!dregs_mixture_activity(answer->mixtures, model->first, model->second, moles,
                                         answer->request->temperature, gamma, fact->reason))
            fact->value = gamma[i];
    }
}

/* Boiling point of the mixture and the azeotrope, both at 101.325 kPa. */
static void add_boiling(struct liquid_answer *answer, const dregs_mixture_row *model, double moles,
                        const double mass[2])
{
    double temperature, share;
    struct fact *fact = add_modelled(answer, model, "boiling point at 101.325 kPa", "", "degC");

    if (isnan(moles))
        snprintf(fact->reason, sizeof fact->reason, "needs a mass share: --share");
    else if (!dregs_mixture_bubble(answer->mixtures, answer->liquids, model->first, model->second,
                                   moles, ATMOSPHERE, &temperature, &share, fact->reason)) {
        fact->value = temperature - 273.15;
        fact = add_modelled(answer, model, "vapour by mass:", model->first, "%");
        fact->value = 100.0 * dregs_mixture_mass_share(share, mass[0], mass[1]);
    }
    fact = add_modelled(answer, model, "azeotrope at 101.325 kPa boils at", "", "degC");
    if (dregs_mixture_azeotrope(answer->mixtures, answer->liquids, model->first, model->second,
                                ATMOSPHERE, &share, &temperature, fact->reason))
        return;
    fact->value = temperature - 273.15;
    fact = add_modelled(answer, model, "azeotrope by mass:", model->first, "%");
    fact->value = 100.0 * dregs_mixture_mass_share(share, mass[0], mass[1]);
}

void liquid_mixture_facts(struct liquid_answer *answer)
{
    const dregs_mixture_row *pair = answer->pair, *model = model_of(answer);
    double mass[2], moles;

    answer->facts = 0;
    add_curves(answer);
    mass[0] = known(answer, pair->first, DREGS_MOLAR_MASS, answer->request->temperature);
    mass[1] = known(answer, pair->second, DREGS_MOLAR_MASS, answer->request->temperature);
    moles = dregs_mixture_mole_share(answer->request->share, mass[0], mass[1]);
    if (!isnan(moles)) {
        char name[NAME_ROOM];
        struct fact *fact;
        snprintf(name, sizeof name, "mole share of %s", pair->first);
        fact = add_fact(answer, name, "%", "the molar masses of the liquids", "computed");
        fact->value = moles * 100.0;
    }
    if (model) {
        add_activity(answer, model, moles);
        add_boiling(answer, model, moles, mass);
    }
}

int liquid_concerns(const struct liquid_answer *answer, const dregs_regulation *regulation)
{
    if (answer->pair)
        return strcmp(regulation->liquid, answer->pair->first) == 0 ||
               strcmp(regulation->liquid, answer->pair->second) == 0;
    return answer->request->name && strcmp(regulation->liquid, answer->request->name) == 0;
}

/* ---- cautions ---- */

static char *add_caution(struct liquid_answer *answer, const char *id, const char *source)
{
    struct liquid_caution *caution = &answer->caution[answer->cautions];

    if (answer->cautions + 1 < CAUTIONS_MOST)
        answer->cautions++;
    caution->id = id;
    caution->source = source;
    return caution->text;
}

/* 29 CFR 1910.106: within 30 degF below its flash point a liquid counts as one class up */
#define CLASS_UP (30.0 / 1.8)

static void caution_flash(struct liquid_answer *answer, const char *liquid)
{
    double at = answer->request->temperature;
    double flash = known(answer, liquid, DREGS_FLASH_POINT, isnan(at) ? ROOM : at);
    char a[DREGS_NUMBER_TEXT], b[DREGS_NUMBER_TEXT];

    if (isnan(flash))
        return;
    dregs_number_plain(a, flash - 273.15, 3);
    if (isnan(at))
        snprintf(add_caution(answer, "flash point", "29 CFR 1910.106"), CAUTION_ROOM,
                 "%s has a flash point of %s degC: from about there up its vapour can be lit. A "
                 "flammable liquid is not heated; an ultrasonic tank warms it by itself; a mist "
                 "burns below the flash point.",
                 liquid, a);
    else if (at >= flash - CLASS_UP)
        snprintf(add_caution(answer, "flash point", "29 CFR 1910.106"), CAUTION_ROOM,
                 "%s degC is %s the flash point of %s, %s degC: %s. An ultrasonic tank warms it "
                 "further; a mist burns below the flash point.",
                 dregs_number_plain(b, at - 273.15, 4),
                 at >= flash ? "at or above" : "within 16.7 K of", liquid, a,
                 at >= flash ? "the vapour over it can be lit"
                             : "heated so, it counts as the next more dangerous class");
}

static void caution_vapour(struct liquid_answer *answer, const char *liquid)
{
    double asked = answer->request->temperature, at = isnan(asked) ? ROOM : asked;
    double share = known(answer, liquid, DREGS_VAPOUR_PRESSURE, at) / ATMOSPHERE;
    double lower = known(answer, liquid, DREGS_LOWER_LIMIT, at);
    double limit = known(answer, liquid, DREGS_EXPOSURE_LIMIT, at);
    char a[DREGS_NUMBER_TEXT], b[DREGS_NUMBER_TEXT], c[DREGS_NUMBER_TEXT];

    dregs_number_plain(a, at - 273.15, 4);
    if (share / lower >= 0.25)
        snprintf(add_caution(answer, "vapour",
                             "29 CFR 1910.106 and 1910.94(c)(6): 25 % of the lower limit"),
                 CAUTION_ROOM,
                 "saturated at %s degC, its vapour is %s times the lower flammable limit of %s %% "
                 "by volume; keep the air below a quarter of the limit.",
                 a, dregs_number_plain(b, share / lower, 2), dregs_number_plain(c, lower * 100, 3));
    if (share / limit >= 1.0)
        snprintf(add_caution(answer, "exposure", "the limit's own publication"), CAUTION_ROOM,
                 "saturated at %s degC, its vapour is %s times the exposure limit of %s ppm. The "
                 "limit is one law's; recommended limits may be far lower.",
                 a, dregs_number_plain(b, share / limit, 2), dregs_number_plain(c, limit * 1e6, 4));
}

/* What is missing may be taken for harmless. */
static void caution_gaps(struct liquid_answer *answer, const char *liquid)
{
    int flash = dregs_liquids_row(answer->liquids, liquid, DREGS_FLASH_POINT) != NULL;
    int lower = dregs_liquids_row(answer->liquids, liquid, DREGS_LOWER_LIMIT) != NULL;
    int limit = dregs_liquids_row(answer->liquids, liquid, DREGS_EXPOSURE_LIMIT) != NULL;
    static const char *const source = "common practice, no source";

    if (strcmp(liquid, "water") == 0)
        return;
    if (!flash)
        snprintf(add_caution(answer, "no flash point", source), CAUTION_ROOM, "%s",
                 lower ? "no flash point is on record, yet its vapour burns in air within its "
                         "flammable limits: it is not a liquid that cannot burn."
                       : "no flash point and no flammable limit are on record here; that does not "
                         "mean that it cannot burn or form harmful products in a flame.");
    if (!limit)
        snprintf(add_caution(answer, "no exposure limit", source), CAUTION_ROOM,
                 "no exposure limit is on record here; that does not mean that it is harmless.");
}

/* A hot surface lights it without a spark; 300 degC is reached by heaters and soldering irons. */
static void caution_hot(struct liquid_answer *answer, const char *liquid)
{
    double hot = known(answer, liquid, DREGS_AUTOIGNITION, ROOM);
    char a[DREGS_NUMBER_TEXT];

    if (hot < 300.0 + 273.15)
        snprintf(add_caution(answer, "hot surface", "common practice, no source"), CAUTION_ROOM,
                 "a surface of %s degC lights its vapour without a spark.",
                 dregs_number_plain(a, hot - 273.15, 3));
}

void liquid_cautions(struct liquid_answer *answer)
{
    const char *liquid = answer->pair ? answer->pair->first : answer->request->name;

    answer->cautions = 0;
    if (answer->pair) {
        snprintf(add_caution(answer, "mixture", "40 CFR 261.21; common practice"), CAUTION_ROOM,
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
