/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* law.c: rules as data, and the arithmetic they ask for.
 *
 * Left out: states and counties, countries of the Union (which may be stricter), permits, what is
 * measured in waste gases, reporting thresholds, acute waste, and all that turns on facts of a
 * site.
 */
#include "dregs/law.h"

#include <math.h>
#include <string.h>

#define ROUNDING 1e-11 /* of a mass that is a sum over a year */

/* clang-format off */
static const dregs_law rules[DREGS_LAW_RULES] = {
    [DREGS_LAW_EU_PLAN] = {
        "eu solvent plan", "EU",
        "consumption C = I1 - O8; fugitive emissions F = I1 - O1 - O5 - O6 - O7 - O8, or "
        "O2 + O3 + O4 + O9; their share is that of the input I1 + I2",
        "Directive 2010/75/EU, annex VII part 7", "2010-11-24", "read", ""},
    [DREGS_LAW_EU_BANDS] = {
        "eu surface cleaning", "EU",
        "with compounds of article 59(5) from above 1 t a year: fugitive 15 % up to 5 t, 10 % "
        "beyond, waste gas 20 mg/m3 as compounds; other cleaning from above 2 t: 20 % up to 10 t, "
        "15 % beyond, waste gas 75 mg/m3 as carbon. Thresholds and shares read, upper ends of the "
        "bands and waste gas from memory",
        "Directive 2010/75/EU, annex VII part 2, activities 4 and 5", "2010-11-24", "memory", ""},
    [DREGS_LAW_EU_VOC] = {
        "eu voc", "EU",
        "an organic compound with a vapour pressure of at least 0.01 kPa at 293.15 K, or a "
        "corresponding volatility under the conditions of use",
        "Directive 2010/75/EU, article 3(45)", "2010-11-24", "memory", ""},
    [DREGS_LAW_US_VOC] = {
        "us voc", "US", "every volatile organic compound that is not on the list of exemptions",
        "40 CFR 51.100(s)", "2025", "memory", ""},
    [DREGS_LAW_US_MACHINE] = {
        "us solvent machine", "US",
        "(added - liquid removed - in solid waste) / solvent surface per month; the mean of three "
        "months at most 150 kg/(m2 month) for batch vapour, 153 for existing and 99 for new "
        "in-line machines. An alternative that an owner may elect to 63.463: not to meet it is no "
        "violation by itself",
        "40 CFR 63.464, table 5, and 63.465(c)", "2007-05-03", "read", "2026-11-30"},
    [DREGS_LAW_US_NO_INTERFACE] = {
        "us machine without interface", "US",
        "330 V^0.6 kg a month, V in m3 of the cleaning chamber, three-month mean; up to 2.95 m3 "
        "by that or by table 6, between two rows of it the lower limit",
        "40 CFR 63.464(a)(2), equation 1 and table 6", "2007-05-03", "read", "2026-11-30"},
    [DREGS_LAW_US_POTENTIAL] = {
        "us potential to emit", "US",
        "what the line would emit at its full rate for 8760 h a year, unless an enforceable limit "
        "says less",
        "40 CFR 52.21(b)(4)", "2025", "memory", ""},
    [DREGS_LAW_US_COLD_LOSS] = {
        "us cold cleaner loss", "US", "0.08 lb/(h ft2) of open cold cleaner",
        "state potential-to-emit form, read; AP-42 section 4.6 (1981), from memory", "1981", "memory", ""},
    [DREGS_LAW_US_IGNITABLE] = {
        "us ignitable waste", "US",
        "D001: a liquid with a closed-cup flash point below 60 degC; an aqueous solution with less "
        "than 24 % alcohol by volume and at least 50 % water by mass is excluded, since 2020-09-08 "
        "not for alcohols whose spent solvent is listed F003 or F005 (the latter from memory)",
        "40 CFR 261.21(a)(1); 85 FR 40594", "2020-07-07", "memory", "2026-11-30"},
    [DREGS_LAW_US_LISTED] = {
        "us listed solvents", "US",
        "spent solvents F001 to F005; a blend with at least 10 % by volume before use of those of "
        "F001, F002, F004 or F005; F003 alone or among its like",
        "40 CFR 261.31", "2025", "memory", ""},
    [DREGS_LAW_US_GENERATOR] = {
        "us waste generator", "US",
        "hazardous waste of the whole site in a calendar month: very small up to 100 kg, small "
        "below 1000 kg, large from 1000 kg",
        "40 CFR 260.10", "2016-11-28", "read", ""},
    [DREGS_LAW_US_MACHINE_POTENTIAL] = {
        "us machine potential to emit", "US",
        "hours a year times 1.95 kg/(m2 h) for batch vapour and cold, 1.12 for existing in-line "
        "and 0.63 for new in-line machines times solvent surface; without a surface 2.20 V^0.6 m2; "
        "8760 h unless an enforceable limit says less",
        "40 CFR 63.465(e)", "1994-12-02", "memory", ""},
    [DREGS_LAW_US_FACILITY] = {
        "us solvent machines of a facility", "US",
        "emitted in any 12 months by all machines: perchloroethylene alone 4800 kg, "
        "trichloroethylene alone 14100, dichloromethane alone 60000, of several 12.5 "
        "perchloroethylene + 4.25 trichloroethylene + dichloromethane at most 60000 kg; military "
        "depots 8000, 23500, 100000. Not cold batch machines of area sources, nor machines for "
        "aerospace products, narrow tubing or continuous webs. Limits and scope read; weights, and "
        "those of depots for one solvent, from memory",
        "40 CFR 63.471", "2007-05-03", "memory", "2026-11-30"},
    [DREGS_LAW_US_MAJOR] = {
        "us major source", "US",
        "a potential to emit of 10 short tons a year of one hazardous air pollutant, 25 of all of "
        "them, or 100 of a criteria pollutant, which VOC stand for; less in areas that miss an air "
        "quality standard",
        "42 U.S.C. 7412(a)(1); 40 CFR 70.2", "1990-11-15", "memory", ""},
    [DREGS_LAW_EU_TOTAL] = {
        "eu total emission", "EU", "total emission E = F + O1: fugitive and in waste gases",
        "Directive 2010/75/EU, annex VII part 7", "2010-11-24", "memory", ""},
    [DREGS_LAW_EU_WAIVER] = {
        "eu cleaning with little solvent", "EU",
        "the limits of other surface cleaning (activity 5) are waived where the authority is shown "
        "that the mean content of organic solvent of all cleaning material used is at most 30 % by "
        "mass",
        "Directive 2010/75/EU, annex VII part 2, activity 5", "2010-11-24", "read", ""},
    [DREGS_LAW_EU_MASS_FLOW] = {
        "eu mass flow", "EU",
        "waste gases hold at most 2 mg/m3 of all compounds with H340, H350, H350i, H360D or H360F "
        "where their mass flow is 10 g/h or more, and at most 20 mg/m3 of halogenated ones with "
        "H341 or H351 where it is 100 g/h or more",
        "Directive 2010/75/EU, article 59(5) and annex VII part 4", "2010-11-24", "memory", ""},
    [DREGS_LAW_EU_AMENDED] = {
        "eu directive as amended", "EU",
        "Directive 2010/75/EU was amended on 2024-04-24, published 2024-07-15, in force since "
        "2024-08-04; into national law by 2026-07-01 (the last from memory). The figures given here "
        "are those of 2010: whether the amendment changes them was not looked up",
        "Directive (EU) 2024/1785", "2024-04-24", "memory", "2026-11-30"},
    [DREGS_LAW_US_TOXIC] = {
        "us toxic waste", "US",
        "a waste whose extract holds as much or more: carbon tetrachloride 0.5 mg/L (D019), "
        "chloroform 6.0 (D022), butanone 200 (D035), tetrachloroethylene 0.7 (D039), "
        "trichloroethylene 0.5 (D040), and others that are not known here; a liquid with less than "
        "0.5 % filterable solids is its own extract. D019 and D022 and the extract read, D035, D039 "
        "and D040 from memory",
        "40 CFR 261.24", "1990-03-29", "memory", "2026-11-30"},
};
/* clang-format on */

const dregs_law *dregs_law_at(dregs_law_rule rule)
{
    return (unsigned)rule < DREGS_LAW_RULES ? &rules[rule] : NULL;
}

/* A mass that must be known. */
static int is_mass(double mass)
{
    return mass >= 0 && isfinite(mass);
}

/* A mass that may be unknown. */
static int may_be_mass(double mass)
{
    return isnan(mass) || is_mass(mass);
}

/* What is left of a mass when others are taken from it; what may be rounding of them is nothing. */
static double left_of(double mass, double left)
{
    return fabs(left) <= ROUNDING * mass ? 0 : left;
}

/* Directive 2010/75/EU, annex VII part 7. */
dregs_status dregs_law_plan_work(const dregs_law_plan *p, dregs_law_plan_result *result)
{
    double input = p->i1 + p->i2;

    if (!is_mass(p->i1) || !is_mass(p->i2) || !is_mass(p->o1) || !is_mass(p->o5) ||
        !is_mass(p->o6) || !is_mass(p->o7) || !is_mass(p->o8))
        return DREGS_DOMAIN;
    if (!may_be_mass(p->o2) || !may_be_mass(p->o3) || !may_be_mass(p->o4) || !may_be_mass(p->o9))
        return DREGS_DOMAIN;
    if (!(input > 0) || !isfinite(input))
        return DREGS_DOMAIN;
    result->consumption = p->i1 - p->o8;
    result->input = input;
    result->fugitive = left_of(p->i1, p->i1 - p->o1 - p->o5 - p->o6 - p->o7 - p->o8);
    result->fugitive_direct = p->o2 + p->o3 + p->o4 + p->o9;
    result->share = result->fugitive / input;
    return DREGS_OK;
}

dregs_status dregs_law_plan_total(const dregs_law_plan *plan, double *total)
{
    dregs_law_plan_result worked;
    dregs_status status = dregs_law_plan_work(plan, &worked);

    if (!status)
        *total = worked.fugitive + plan->o1;
    return status;
}

/* Annex VII part 2, activities 4 and 5: thresholds and shares as cited with the rule; the upper
 * ends of the bands and the waste gas limits are from memory. */
dregs_status dregs_law_band_of(dregs_law_activity activity, double consumption,
                               dregs_law_band *band)
{
    static const dregs_law_band bands[2][3] = {
        {{0, 1e3, NAN, NAN, 0}, {1e3, 5e3, 0.15, 20e-6, 0}, {5e3, INFINITY, 0.10, 20e-6, 0}},
        {{0, 2e3, NAN, NAN, 1}, {2e3, 10e3, 0.20, 75e-6, 1}, {10e3, INFINITY, 0.15, 75e-6, 1}}};
    unsigned i = 0;

    if (!is_mass(consumption) || (unsigned)activity > DREGS_LAW_CLEANING_OTHER)
        return DREGS_DOMAIN;
    while (consumption > bands[activity][i].up_to)
        i++;
    *band = bands[activity][i];
    return DREGS_OK;
}

int dregs_law_waived(double content)
{
    return !(content >= 0 && content <= 1) ? -1 : content <= DREGS_LAW_WAIVED_CONTENT;
}

/* Annex VII part 4, from memory: 10 and 100 g/h, 2 and 20 mg/m3. */
dregs_status dregs_law_mass_flow_of(dregs_law_hazard hazard, dregs_law_mass_flow *flow)
{
    static const dregs_law_mass_flow flows[] = {
        [DREGS_LAW_CMR] = {0.010 / 3600.0, 2e-6},
        [DREGS_LAW_HALOGENATED_CMR2] = {0.100 / 3600.0, 20e-6}};

    if ((unsigned)hazard > DREGS_LAW_HALOGENATED_CMR2)
        return DREGS_DOMAIN;
    *flow = flows[hazard];
    return DREGS_OK;
}

int dregs_law_eu_volatile(double vapour_pressure)
{
    if (!(vapour_pressure > 0))
        return -1;
    return vapour_pressure >= 10.0; /* 0.01 kPa at 293.15 K, article 3(45), from memory */
}

/* 40 CFR 63.460(a), from memory. */
int dregs_law_halogenated(const char *liquid)
{
    static const char *const names[] = {
        "dichloromethane",   "methylene chloride",    "tetrachloroethylene",  "perchloroethylene",
        "trichloroethylene", "1,1,1-trichloroethane", "carbon tetrachloride", "tetrachloromethane",
        "chloroform",        "trichloromethane"};
    size_t i;

    for (i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(liquid, names[i]) == 0)
            return 1;
    return 0;
}

/* 40 CFR 63.464, table 5; which figure is whose from memory. */
double dregs_law_machine_limit(dregs_law_machine machine)
{
    static const double limits[] = {150, 153, 99};

    return (unsigned)machine <= DREGS_LAW_IN_LINE_NEW ? limits[machine] : NAN;
}

/* 40 CFR 63.465(c). */
dregs_status dregs_law_machine_month(const dregs_law_month *month, double area, double *emission)
{
    if (!is_mass(month->added) || !is_mass(month->liquid_removed) || !is_mass(month->solid_waste) ||
        !(area > 0) || !isfinite(area))
        return DREGS_DOMAIN;
    *emission =
        left_of(month->added, month->added - month->liquid_removed - month->solid_waste) / area;
    return DREGS_OK;
}

dregs_status dregs_law_rolling(const double emission[3], double *mean)
{
    double sum = emission[0] + emission[1] + emission[2];

    if (!isfinite(sum))
        return DREGS_DOMAIN;
    *mean = sum / 3;
    return DREGS_OK;
}

/* 40 CFR 63.464, table 6: EL = 330 V^0.6. */
dregs_status dregs_law_no_interface_limit(double volume, double *limit)
{
    if (!(volume > 0) || !isfinite(volume))
        return DREGS_DOMAIN;
    *limit = 330.0 * pow(volume, 0.6);
    return DREGS_OK;
}

dregs_status dregs_law_potential(double rate, double *potential)
{
    if (!is_mass(rate))
        return DREGS_DOMAIN;
    *potential = rate * 3600.0 * DREGS_LAW_YEAR_HOURS;
    return DREGS_OK;
}

/* 0.08 lb/(h ft2): lb 0.45359237 kg and ft 0.3048 m, exact (NIST SP 811, B.8). */
dregs_status dregs_law_cold_loss(double area, double *rate)
{
    if (!(area > 0) || !isfinite(area))
        return DREGS_DOMAIN;
    *rate = area * 0.08 * 0.45359237 / (0.3048 * 0.3048) / 3600.0;
    return DREGS_OK;
}

static int is_share(double share)
{
    return share >= 0 && share <= 1;
}

/* 40 CFR 261.21(a)(1). */
dregs_law_verdict dregs_law_ignitable(const dregs_law_waste *waste)
{
    int aqueous = is_share(waste->water) && waste->water >= 0.5;

    if (waste->flash_point >= 273.15 + 60.0)
        return DREGS_LAW_NO;
    if (waste->alcohol == 0 && waste->water == 1)
        return DREGS_LAW_NO;
    if (aqueous && waste->alcohol > 0 && waste->alcohol < 0.24)
        return DREGS_LAW_EXCLUDED;
    return waste->flash_point > 0 ? DREGS_LAW_YES : DREGS_LAW_ASK;
}

/* 40 CFR 261.31(a). */
dregs_law_verdict dregs_law_listed(const char *code, double share)
{
    if (!code || !is_share(share))
        return DREGS_LAW_ASK;
    if (strcmp(code, "no F-code") == 0)
        return DREGS_LAW_NO;
    if (strcmp(code, "F003") == 0)
        return share < 1 ? DREGS_LAW_ASK : DREGS_LAW_YES;
    if (strcmp(code, "F001") != 0 && strcmp(code, "F002") != 0 && strcmp(code, "F004") != 0 &&
        strcmp(code, "F005") != 0)
        return DREGS_LAW_ASK;
    return share >= 0.1 ? DREGS_LAW_YES : DREGS_LAW_NO;
}

/* 40 CFR 261.24, table 1: D019 and D022 read, the others from memory. */
double dregs_law_toxic_from(const char *liquid, const char **code)
{
    static const struct {
        const char *name, *code;
        double from;
    } levels[] = {{"carbon tetrachloride", "D019", 0.5e-3},
                  {"tetrachloromethane", "D019", 0.5e-3},
                  {"chloroform", "D022", 6.0e-3},
                  {"trichloromethane", "D022", 6.0e-3},
                  {"butanone", "D035", 200e-3},
                  {"methyl ethyl ketone", "D035", 200e-3},
                  {"tetrachloroethylene", "D039", 0.7e-3},
                  {"perchloroethylene", "D039", 0.7e-3},
                  {"trichloroethylene", "D040", 0.5e-3}};
    size_t i;

    for (i = 0; i < sizeof levels / sizeof levels[0]; i++) {
        if (strcmp(liquid, levels[i].name) != 0)
            continue;
        if (code)
            *code = levels[i].code;
        return levels[i].from;
    }
    return NAN;
}

/* 40 CFR 260.10. */
dregs_status dregs_law_generator_of(double waste, dregs_law_generator *generator)
{
    if (!is_mass(waste))
        return DREGS_DOMAIN;
    *generator = waste <= 100 ? DREGS_LAW_VSQG : waste < 1000 ? DREGS_LAW_SQG : DREGS_LAW_LQG;
    return DREGS_OK;
}

const char *dregs_law_generator_name(dregs_law_generator generator)
{
    static const char *const names[] = {"VSQG", "SQG", "LQG"};

    return (unsigned)generator <= DREGS_LAW_LQG ? names[generator] : NULL;
}
