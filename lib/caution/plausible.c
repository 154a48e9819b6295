/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* plausible.c: numbers of a line that no real line has, or few: a slipped unit or a wrong place
 * for a row, before the answer is believed. What no real line has is to be read before the answer.
 * The rules stand behind the warnings of rules.c and before its notes.
 */
#include "caution/rules.h"
#include "dregs/stage.h"
#include "line/line.h"

#include <math.h>

/* kg/m3: steel, whose volume the mass of parts is taken for. Common knowledge, no source. */
#define STEEL 7850.0

enum {
    TANKS = 1u << DREGS_PLACE_WASH | 1u << DREGS_PLACE_RINSE,
    WET = TANKS | 1u << DREGS_PLACE_SPRAY,
    DRIES = 1u << DREGS_PLACE_DRY_STAGE | 1u << DREGS_PLACE_DRYING
};

#define PRACTICE "common practice, no source"
#define RULE(id, condition, threshold, unit, pressing, severity)                                   \
    {                                                                                              \
        id, condition, threshold, unit, PRACTICE, pressing, severity, "practice", ""               \
    }

/* Is it more likely a slip than a line? */
enum { UNUSUAL, SLIP };

/* clang-format off */
static const struct rule rules[] = {
    {RULE("thick film", "the film that a wet stage leaves is on average this thick or thicker", 1, "mm",
          SLIP, DREGS_WARNING),
     DREGS_FACT_FILM, 1,
     {{WET, {{DREGS_FACT_FILM, REACHES, 0}},
       "{where}the film that is left is {film} mm thick: liquid runs off until far less is left. "
       "Look at the unit of the drag-out or film, mL/m2 or um."}}},

    {RULE("much drag-out", "a load drags this share of the tank's volume out, or more", 5, "%", SLIP, DREGS_WARNING),
     DREGS_FACT_DRAGGED, 1,
     {{TANKS, {{DREGS_FACT_DRAGGED, REACHES, 0}},
       "{where}each load drags {dragged} % of the tank out; on most lines it is far below 1 %. Look "
       "at drag-out, hold-up, area and the tank's volume and their units."}}},

    {RULE("no room for parts",
          "the parts of a load, taken as steel (7850 kg/m3) by their mass, have this share of the "
          "tank's volume or more", 100, "%", SLIP, DREGS_WARNING),
     DREGS_FACT_FILLED, 1,
     {{TANKS, {{DREGS_FACT_FILLED, REACHES, 0}},
       "{where}the parts of a load do not fit into the tank: were they of steel, they would take "
       "{filled} % of its volume. Look at mass, parts and volume."}}},

    {RULE("overflow with the parts", "a tank overflows to a later stage", NAN, "", UNUSUAL, DREGS_WARNING),
     DREGS_FACT_WITH_PARTS, 1,
     {{TANKS, {{DREGS_FACT_WITH_PARTS, IS, 1}},
       "{where}overflows to a later stage and so runs with the parts: what they have left behind "
       "meets them again. Counterflow runs to the stage before."}}},

    {RULE("dirtier rinse",
          "the fresh liquid of a rinse or spray holds more than that of the rinse or spray before",
          NAN, "", UNUSUAL, DREGS_WARNING),
     DREGS_FACT_DIRTIER, 1,
     {{WET, {{DREGS_FACT_DIRTIER, ABOVE, 1}},
       "{where}its fresh liquid holds more dissolved than that of the rinse before: it soils what is "
       "already rinsed. The cleanest liquid comes last."}}},

    {RULE("weak wash", "a wash leaves more than this share of a soil on the parts", 50, "%", SLIP, DREGS_WARNING),
     DREGS_FACT_ADHERES, 1,
     {{1u << DREGS_PLACE_WASH, {{DREGS_FACT_ADHERES, ABOVE, 0.5}},
       "{where}leaves {adheres} % of a soil on the parts. Is its removal meant: 99 %, or 0.99 with "
       "the unit 1?"}}},

    {RULE("longer than the interval", "a load drains or dries longer than the loads are apart", NAN, "",
          UNUSUAL, DREGS_WARNING),
     DREGS_FACT_TAKES, 1,
     {{WET, {{DREGS_FACT_TAKES, ABOVE, 1}},
       "{where}a load drains {takes} times as long as the loads are apart: the next one would have to "
       "wait. Look at drain time and interval."},
      {DRIES, {{DREGS_FACT_TAKES, ABOVE, 1}},
       "{where}a load dries {takes} times as long as the loads are apart: several must dry at once, "
       "or the loads wait."}}},

    {RULE("crowded", "the area of a load, parts and basket, over the tank's volume is this or more", 10,
          "dm2/L", UNUSUAL, DREGS_NOTE),
     DREGS_FACT_CROWDED, 1,
     {{TANKS, {{DREGS_FACT_CROWDED, REACHES, 0}},
       "{where}{crowded} dm2 of load in a litre; 0.1 to 3 are usual. Liquid hardly comes between "
       "parts so close: look at the area and the tank's volume."}}},
};
/* clang-format on */

const struct rule *dregs_caution_plausible_at(size_t index)
{
    return index < sizeof rules / sizeof rules[0] ? &rules[index] : NULL;
}

int dregs_caution_rule_doubts(const dregs_caution_rule *rule)
{
    size_t i;

    for (i = 0; i < sizeof rules / sizeof rules[0]; i++)
        if (rule == &rules[i].public)
            return 1;
    return 0;
}

/* ---- the facts ---- */

static double held_fresh(const dregs_line *line, unsigned index)
{
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);
    double sum = 0.0;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line); s++)
        sum += fluid->content[s].si;
    return sum;
}

/* Over what the wet stage before holds fresh, unless that is a wash. */
static double dirtier(const dregs_line *line, unsigned index)
{
    unsigned before = index;
    const dregs_stage *stage;
    double held, other;

    if (dregs_stage_is(dregs_line_stage(line, index), DREGS_STAGE_CLEANS))
        return NAN;
    do {
        if (before == 0)
            return NAN;
        stage = dregs_line_stage(line, --before);
    } while (!dregs_stage_is(stage, DREGS_STAGE_WET));
    if (dregs_stage_is(stage, DREGS_STAGE_CLEANS))
        return NAN;
    held = held_fresh(line, index);
    other = held_fresh(line, before);
    return other > 0 ? held / other : held > 0 ? HUGE_VAL : 1.0;
}

/* Of the soil that a wash leaves most of. */
static double adhering(const dregs_line *line, const dregs_stage *stage)
{
    double most = NAN;
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line); s++)
        if (dregs_line_solute(line, s)->on_parts.si > 0)
            most = fmax(most, 1.0 - stage->removal[s].si);
    return most;
}

static void of_tank(const dregs_line *line, unsigned index, double *value)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_load *load = dregs_line_load(line);
    double volume = dregs_line_tank(line, (unsigned)stage->tank)->volume;

    value[DREGS_FACT_DRAGGED] = dregs_line_carried(line, index)->out / volume;
    value[DREGS_FACT_CROWDED] = (load->parts.si * load->area.si + load->extra_area.si) / volume;
    value[DREGS_FACT_FILLED] = load->parts.si * load->mass.si / STEEL / volume;
    value[DREGS_FACT_WITH_PARTS] =
        stage->overflow_to.kind == DREGS_LINK_STAGE && stage->overflow_to.index > index;
    if (dregs_stage_is(stage, DREGS_STAGE_CLEANS))
        value[DREGS_FACT_ADHERES] = adhering(line, stage);
}

void dregs_caution_of_plausible(const dregs_line *line, unsigned index, dregs_facts *facts)
{
    const dregs_stage *stage = dregs_line_stage(line, index);

    if (!dregs_stage_is(stage, DREGS_STAGE_WET))
        return;
    facts->value[DREGS_FACT_FILM] = dregs_line_carried(line, index)->thickness;
    facts->value[DREGS_FACT_TAKES] = stage->drain_time.si / dregs_line_load(line)->interval.si;
    facts->value[DREGS_FACT_DIRTIER] = dirtier(line, index);
    if (stage->tank >= 0)
        of_tank(line, index, facts->value);
}
