/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* facts.c: what the table of liquids tells of a liquid, and a line of its stages. */
#include "caution/rules.h"
#include "dregs/dry.h"
#include "dregs/stage.h"
#include "line/line.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

dregs_status dregs_caution_failed(dregs_facts *facts, dregs_status status)
{
    if (status == DREGS_NO_MEMORY)
        facts->status = status;
    return status;
}

void dregs_facts_init(dregs_facts *facts)
{
    int i;

    facts->place = DREGS_PLACE_WASH;
    facts->where = facts->liquid = facts->mixed_with = NULL;
    facts->regulation = NULL;
    facts->liquids = NULL;
    facts->status = DREGS_OK;
    for (i = 0; i < DREGS_FACTS_ROOM; i++)
        facts->value[i] = NAN;
    for (i = 0; i < DREGS_HAZARDS_ROOM; i++)
        facts->solute[i] = NULL;
}

/* A property of a liquid at a temperature; NaN when it is not known there. */
static double known(const dregs_liquids *liquids, const char *liquid, dregs_property property,
                    double temperature)
{
    double value = NAN;

    (void)dregs_liquids_value(liquids, liquid, property, temperature, &value, NULL);
    return value;
}

static void of_class(dregs_facts *facts)
{
    dregs_liquid_class is;

    if (dregs_liquids_class(facts->liquids, facts->liquid, &is, NULL))
        return;
    facts->value[DREGS_FACT_HALOGENATED] = is == DREGS_CLASS_HALOGENATED;
    facts->value[DREGS_FACT_HYDROCARBON] =
        is == DREGS_CLASS_HYDROCARBON || is == DREGS_CLASS_TERPENE;
}

void dregs_facts_of_liquid(dregs_facts *facts, const dregs_liquids *liquids, const char *liquid,
                           double temperature)
{
    static const struct {
        dregs_fact fact;
        dregs_property property;
        double unit;
    } of[] = {
        {DREGS_FACT_FLASH_POINT, DREGS_FLASH_POINT, 1},
        {DREGS_FACT_LOWER_LIMIT, DREGS_LOWER_LIMIT, 1},
        {DREGS_FACT_AUTOIGNITION, DREGS_AUTOIGNITION, 1},
        {DREGS_FACT_SATURATED, DREGS_VAPOUR_PRESSURE, DREGS_ATMOSPHERE},
    };
    size_t i;

    facts->liquid = liquid;
    facts->liquids = liquids;
    of_class(facts);
    facts->value[DREGS_FACT_EXPOSURE_LIMIT] = dregs_caution_limit_lowest(liquids, liquid);
    facts->value[DREGS_FACT_ASSUMED] = isnan(temperature);
    if (isnan(temperature))
        temperature = DREGS_ROOM;
    facts->value[DREGS_FACT_TEMPERATURE] = temperature;
    for (i = 0; i < sizeof of / sizeof of[0]; i++)
        facts->value[of[i].fact] = known(liquids, liquid, of[i].property, temperature) / of[i].unit;
}

void dregs_facts_of_mixture(dregs_facts *facts, const dregs_mixtures *mixtures, const char *other,
                            double share)
{
    double mass[2], gamma[2], moles, flash_point, at = facts->value[DREGS_FACT_TEMPERATURE];

    facts->value[DREGS_FACT_SHARE] = share;
    mass[0] = known(facts->liquids, facts->liquid, DREGS_MOLAR_MASS, DREGS_ROOM);
    mass[1] = known(facts->liquids, other, DREGS_MOLAR_MASS, DREGS_ROOM);
    moles = dregs_mixture_mole_share(share, mass[0], mass[1]);
    if (!(share > 0) || !(share < 1) || isnan(facts->value[DREGS_FACT_FLASH_POINT]) ||
        dregs_mixture_activity(mixtures, facts->liquid, other, moles, at, gamma, NULL) ||
        dregs_mixture_flash_point(mixtures, facts->liquids, facts->liquid, other, moles,
                                  &flash_point, NULL))
        return;
    facts->value[DREGS_FACT_FLASH_POINT] = flash_point;
    facts->value[DREGS_FACT_SATURATED] *= moles * gamma[0];
    facts->value[DREGS_FACT_OF_MIXTURE] = 1;
}

void dregs_facts_of_regulation(dregs_facts *facts, const dregs_regulation *regulation)
{
    facts->place = DREGS_PLACE_LAW;
    facts->liquid = regulation->liquid;
    facts->regulation = regulation;
}

void dregs_facts_air_needed(dregs_facts *facts, double needed)
{
    double hourly = needed * 3600 * 1.001, ten;

    if (hourly > 0) { /* up to four digits, which all pages show */
        ten = pow(10, 3 - floor(log10(hourly)));
        needed = round(hourly * ten) / ten / 3600;
    }
    facts->value[DREGS_FACT_AIR_NEEDED] = needed;
}

/* ---- a line ---- */

/* The hazard of a solute, by its own word or as the base that a meter takes it for. */
static dregs_hazard hazard_of(const dregs_solute *solute)
{
    if (solute->hazard == DREGS_HAZARD_UNSTATED && solute->electrolyte &&
        (strcmp(solute->electrolyte->name, "NaOH") == 0 ||
         strcmp(solute->electrolyte->name, "Na2CO3") == 0))
        return DREGS_HAZARD_CAUSTIC;
    return solute->hazard;
}

/* What the fresh liquid holds: of each hazard the solute that it holds most of. */
static void of_contents(const dregs_line *line, const dregs_fluid *fluid, dregs_facts *facts)
{
    static const int fact[DREGS_HAZARDS] = {
        [DREGS_HAZARD_UNSTATED] = DREGS_FACT_CONTENT,  [DREGS_HAZARD_NONE] = DREGS_FACTS,
        [DREGS_HAZARD_CAUSTIC] = DREGS_FACT_CAUSTIC,   [DREGS_HAZARD_ACID] = DREGS_FACT_ACID,
        [DREGS_HAZARD_OXIDISER] = DREGS_FACT_OXIDISER,
    };
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line); s++) {
        dregs_hazard hazard = hazard_of(dregs_line_solute(line, s));
        double *most = &facts->value[fact[hazard]], content = fluid->content[s].si;
        if (fact[hazard] == DREGS_FACTS || !(content > 0) || content <= *most)
            continue;
        *most = content;
        facts->solute[hazard] = dregs_line_solute(line, s)->name;
    }
}

/* The rest of the liquid is water. */
static void of_share(const dregs_fluid *fluid, dregs_facts *facts)
{
    dregs_mixtures *mixtures;

    facts->value[DREGS_FACT_SHARE] = fluid->solvent_share.si;
    if (!(fluid->solvent_share.si < 1))
        return;
    mixtures = dregs_mixtures_new();
    if (mixtures)
        dregs_facts_of_mixture(facts, mixtures, "water", fluid->solvent_share.si);
    else
        dregs_caution_failed(facts, DREGS_NO_MEMORY);
    dregs_mixtures_free(mixtures);
}

static void of_wet_stage(const dregs_line *line, unsigned index, dregs_facts *facts)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);

    facts->place = dregs_stage_is(stage, DREGS_STAGE_CLEANS) ? DREGS_PLACE_WASH
                   : dregs_stage_is(stage, DREGS_STAGE_TANK) ? DREGS_PLACE_RINSE
                                                             : DREGS_PLACE_SPRAY;
    dregs_facts_of_liquid(facts, dregs_line_liquids(line), fluid->solvent,
                          dregs_line_temperature(line, index));
    facts->value[DREGS_FACT_ASSUMED] = !dregs_line_temperature_stated(line, index);
    of_share(fluid, facts);
    (void)dregs_caution_failed(
        facts, dregs_facts_of_warming(facts, line, index,
                                      facts->value[DREGS_FACT_FLASH_POINT] - 30 / 1.8));
    dregs_caution_of_uptake(line, index, facts);
    of_contents(line, fluid, facts);
}

/* Parts that leave a dry stage. */
static void of_parts(const dregs_line *line, unsigned index, dregs_facts *facts)
{
    const dregs_load *load = dregs_line_load(line);

    dregs_facts_of_parts(facts,
                         load->mass.row && load->heat_capacity.row
                             ? load->mass.si * load->heat_capacity.si / load->area.si
                             : (double)NAN,
                         load->height.row ? load->height.si : (double)NAN,
                         dregs_line_temperature(line, index));
}

/* A dry stage; behind a wet one with the film that it takes over, as if the dry ones between took
 * nothing but what they blow off: how much dries in which of them is not known. */
static void of_dry_stage(const dregs_line *line, unsigned index, dregs_facts *facts)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    double left;
    unsigned wet = dregs_line_drying_from(line, index, &left);
    const dregs_fluid *fluid = dregs_line_wet_with(line, wet);

    facts->place = DREGS_PLACE_DRY_STAGE;
    facts->value[DREGS_FACT_TEMPERATURE] = dregs_line_temperature(line, index);
    if (!fluid) {
        of_parts(line, index, facts);
        return;
    }
    dregs_facts_of_liquid(facts, dregs_line_liquids(line), fluid->solvent,
                          dregs_line_temperature(line, index));
    facts->value[DREGS_FACT_BLOWN] = stage->blow_off.si;
    of_share(fluid, facts);
    of_parts(line, index, facts);
    dregs_caution_of_drying(line, index, wet, left, facts);
    if (stage->fresh_air.row)
        facts->value[DREGS_FACT_FRESH_AIR] = stage->fresh_air.si;
}

/* Is a word, in small letters, in a name, in any? */
static int is_named(const char *name, const char *word)
{
    size_t i;

    for (; *name; name++) {
        for (i = 0; word[i] && tolower((unsigned char)name[i]) == word[i]; i++)
            ;
        if (!word[i])
            return 1;
    }
    return 0;
}

/* A solute whose name says that acid sets a poisonous gas free from it; NULL for none. */
static const char *releasing(const dregs_line *line)
{
    static const char *const words[] = {"cyanide", "hypochlorite", "bleach"};
    unsigned s;
    size_t w;

    for (s = 0; s < dregs_line_solutes(line); s++)
        for (w = 0; w < sizeof words / sizeof words[0]; w++)
            if (is_named(dregs_line_solute(line, s)->name, words[w]))
                return dregs_line_solute(line, s)->name;
    return NULL;
}

/* What stands on a line together: the most of each hazard, and a halogenated solvent. */
static void of_whole(dregs_facts *facts, unsigned stages)
{
    static const struct {
        dregs_fact fact;
        dregs_hazard hazard;
    } held[] = {{DREGS_FACT_CAUSTIC, DREGS_HAZARD_CAUSTIC},
                {DREGS_FACT_ACID, DREGS_HAZARD_ACID},
                {DREGS_FACT_OXIDISER, DREGS_HAZARD_OXIDISER}};
    dregs_facts *whole = &facts[stages];
    unsigned i, k;

    dregs_facts_init(whole);
    whole->place = DREGS_PLACE_LINE;
    for (i = 0; i < stages; i++) {
        if (facts[i].value[DREGS_FACT_HALOGENATED] > 0) {
            whole->liquid = facts[i].liquid;
            whole->value[DREGS_FACT_HALOGENATED] = 1;
        }
        for (k = 0; k < sizeof held / sizeof held[0]; k++) {
            double content = facts[i].value[held[k].fact];
            if (isnan(content) || content <= whole->value[held[k].fact])
                continue;
            whole->value[held[k].fact] = content;
            whole->solute[held[k].hazard] = facts[i].solute[held[k].hazard];
        }
    }
}

/* ---- what goes to the drain ---- */

/* Does anything leave the stage for the drain? */
static int drains(const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    unsigned i;

    if (dregs_stage_is(stage, DREGS_STAGE_SPRAYS))
        return stage->runoff_to.kind == DREGS_LINK_DRAIN;
    if (dregs_stage_is(stage, DREGS_STAGE_DRIES))
        return stage->blow_off.si > 0 && stage->blow_off_to.kind == DREGS_LINK_DRAIN;
    if (stage->overflow_to.kind != DREGS_LINK_DRAIN)
        return 0;
    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *other = dregs_line_stage(line, i);
        if ((other->overflow_to.kind == DREGS_LINK_STAGE && other->overflow_to.index == index &&
             other->flow.si > 0) ||
            (other->runoff_to.kind == DREGS_LINK_STAGE && other->runoff_to.index == index))
            return 1;
    }
    return stage->flow.si > 0;
}

/* Which liquid other than water: the stage's own, or the nearest of those before it. What is blown
 * off is the film of the wet stage before. */
static void of_drain(const dregs_line *line, unsigned index, dregs_facts *facts)
{
    const dregs_fluid *fluid;
    int own = 1;
    unsigned i;

    for (i = drains(line, index) ? index + 1 : 0; i-- > 0;) {
        fluid = dregs_line_wet_with(line, i);
        if (!fluid)
            continue;
        if (dregs_line_is_water(line, fluid)) {
            own = 0;
            continue;
        }
        facts->value[DREGS_FACT_TO_DRAIN] = own ? 2 : 1;
        facts->solute[DREGS_DRAINED] = fluid->solvent;
        return;
    }
}

void dregs_facts_of_stage(dregs_facts *facts, const dregs_line *line, unsigned index)
{
    dregs_facts_init(facts);
    facts->where = dregs_line_stage(line, index)->name;
    if (dregs_stage_is(dregs_line_stage(line, index), DREGS_STAGE_DRIES))
        of_dry_stage(line, index, facts);
    else if (dregs_line_wet_with(line, index))
        of_wet_stage(line, index, facts);
    of_drain(line, index, facts);
    dregs_caution_of_plausible(line, index, facts);
}

dregs_status dregs_cautions(const dregs_line *line, dregs_caution *cautions, unsigned *made)
{
    unsigned i, k, stages = dregs_line_stages(line), kinds = dregs_line_kinds(line);
    unsigned count = kinds * stages;
    dregs_facts *facts = malloc((count + 1) * sizeof *facts);
    dregs_status status = DREGS_OK;

    if (!facts)
        return DREGS_NO_MEMORY;
    /* of several kinds of loads the one with the most critical number is told of */
    for (k = 0; k < kinds; k++)
        for (i = 0; i < stages; i++)
            dregs_facts_of_stage(&facts[k * stages + i], dregs_line_of_kind(line, k), i);
    of_whole(facts, count);
    facts[count].solute[DREGS_RELEASING] = releasing(line);
    facts[count].value[DREGS_FACT_RELEASING] = facts[count].solute[DREGS_RELEASING] != NULL;
    for (i = 0; i < count && !status; i++)
        status = facts[i].status;
    if (!status)
        *made = dregs_cautions_of(facts, count + 1, cautions);
    free(facts);
    return status;
}
