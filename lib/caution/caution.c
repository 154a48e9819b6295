/* SPDX-License-Identifier: GPL-3.0-or-later */
/* caution.c: rules as data, and the numbers of a line held against them.
 *
 * Not covered, because the line file does not tell it: the room's ventilation, ignition sources,
 * how much liquid is stored, what the soil itself may give off.
 */
#include "dregs/caution.h"
#include "dregs/dry.h"
#include "dregs/number.h"
#include "dregs/stage.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum rule {
    FLASH_POINT,
    HEATED,
    SELF_WARMING,
    VAPOUR,
    DRYING_VAPOUR,
    NO_FIRE_DATA,
    EXPOSURE,
    STRONG_CLEANER,
    HOT_BATH,
    HOT_OVEN,
    RULES
};

static const dregs_caution_rule rules[RULES] = {
    [FLASH_POINT] = {"flash point",
                     "a liquid is used above its flash point, or less than this below it", 16.7,
                     "K", "29 CFR 1910.106 (within 30 degF of the flash point)"},
    [HEATED] = {"heated", "a liquid with a flash point is kept at this temperature or above", 30,
                "degC", "common practice, no source"},
    [SELF_WARMING] = {"self-warming", "a wash holds a liquid with a flash point", NAN, "",
                      "common practice, no source"},
    [VAPOUR] =
        {"vapour",
         "the saturated vapour over a liquid reaches this share of the lower flammable limit", 25,
         "%", "29 CFR 1910.106 and 1910.94(c)(6): 25 % of the lower limit"},
    [DRYING_VAPOUR] = {"drying vapour",
                       "a film of a liquid with a lower flammable limit dries; air for this share "
                       "of the limit",
                       25, "%", "29 CFR 1910.94(c)(6): 25 % of the lower limit"},
    [NO_FIRE_DATA] = {"no fire data", "a solvent other than water has no flash point on record",
                      NAN, "", "common practice, no source"},
    [EXPOSURE] = {"exposure", "a solvent has an exposure limit on record", NAN, "",
                  "the limit's own publication"},
    [STRONG_CLEANER] = {"strong cleaner",
                        "a wash in water holds at least this much of a dissolved cleaner", 1, "g/L",
                        "common practice, no source"},
    [HOT_BATH] = {"hot bath", "a bath in water is at this temperature or above", 50, "degC",
                  "common practice, no source"},
    [HOT_OVEN] = {"hot parts", "parts leave a drying stage at this temperature or above", 50,
                  "degC", "common practice, no source"},
};

const dregs_caution_rule *dregs_caution_rule_at(size_t index)
{
    return index < RULES ? &rules[index] : NULL;
}

const char *dregs_caution_deference(void)
{
    return "Cautions name what the numbers show. The local code, the safety data sheet and "
           "licensed practice decide.";
}

/* The stages with the same solvent that a rule meets. */
struct met {
    char stages[160];
    const dregs_fluid *fluid;
    unsigned stage; /* of the one that is shown with its numbers: the most critical */
    double value;   /* its number */
    unsigned count;
};

static void meet(struct met *met, const dregs_line *line, unsigned stage, double value)
{
    size_t used = strlen(met->stages);

    snprintf(met->stages + used, sizeof met->stages - used, "%s%s", met->count ? ", " : "",
             dregs_line_stage(line, stage)->name);
    if (!met->count || value > met->value) {
        met->stage = stage;
        met->value = value;
        met->fluid = dregs_line_wet_with(line, stage);
    }
    met->count++;
}

static int is_water(const dregs_fluid *fluid)
{
    return strcmp(fluid->solvent, "water") == 0;
}

/* A property of the solvent at a temperature; NaN when it is not known there. */
static double known(const dregs_line *line, const dregs_fluid *fluid, dregs_property property,
                    double temperature)
{
    double value = NAN;

    (void)dregs_liquids_value(dregs_line_liquids(line), fluid->solvent, property, temperature,
                              &value, NULL);
    return value;
}

/* A number of the rule, NaN where the stage does not call for a caution. */
static double number_for(enum rule rule, const dregs_line *line, unsigned index)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);
    double temperature = dregs_line_temperature(line, index), flash, value, most = 0;
    unsigned s;

    if (rule == HOT_OVEN)
        return dregs_stage_is(stage, DREGS_STAGE_DRIES) &&
                       temperature >= rules[rule].threshold + 273.15
                   ? temperature
                   : NAN;
    if (!fluid)
        return NAN;
    flash = known(line, fluid, DREGS_FLASH_POINT, temperature);
    switch (rule) {
    case FLASH_POINT:
        return temperature >= flash - rules[rule].threshold ? temperature - flash : NAN;
    case HEATED:
        return !isnan(flash) && temperature >= rules[rule].threshold + 273.15 ? temperature : NAN;
    case SELF_WARMING:
        return dregs_stage_is(stage, DREGS_STAGE_CLEANS) && !isnan(flash) ? temperature : NAN;
    case VAPOUR:
        value = known(line, fluid, DREGS_VAPOUR_PRESSURE, temperature) / DREGS_ATMOSPHERE /
                known(line, fluid, DREGS_LOWER_LIMIT, temperature);
        return value >= rules[rule].threshold / 100 ? value : NAN;
    case NO_FIRE_DATA:
        return isnan(flash) && !is_water(fluid) ? temperature : NAN;
    case EXPOSURE:
        /* negative: the lowest limit is the most critical */
        return -known(line, fluid, DREGS_EXPOSURE_LIMIT, temperature);
    case STRONG_CLEANER:
        for (s = 0; s < dregs_line_solutes(line); s++)
            most = fmax(most, fluid->content[s].si);
        return dregs_stage_is(stage, DREGS_STAGE_CLEANS) && is_water(fluid) &&
                       most >= rules[rule].threshold
                   ? most
                   : NAN;
    case HOT_BATH:
        return dregs_stage_is(stage, DREGS_STAGE_TANK) && is_water(fluid) &&
                       temperature >= rules[rule].threshold + 273.15
                   ? temperature
                   : NAN;
    default:
        return NAN;
    }
}

/* " (assumed)" where the stage states no temperature */
static const char *assumed(const dregs_line *line, unsigned stage)
{
    const dregs_stage *s = dregs_line_stage(line, stage);

    while (s->shares.row)
        s = dregs_line_stage(line, s->shares.index);
    return s->temperature.row ? "" : " (assumed)";
}

static const char *celsius(char into[DREGS_NUMBER_TEXT], double kelvin)
{
    return dregs_number_plain(into, kelvin - 273.15, 3);
}

/* " (figures of pure isopropanol)" for a mixture */
static const char *of_pure(const dregs_fluid *fluid, char *into, size_t room)
{
    into[0] = '\0';
    if (fluid->solvent_share.si < 1)
        snprintf(into, room, " (figures of pure %s; the mixture differs)", fluid->solvent);
    return into;
}

/* m3/s of fresh air that keep the vapour of the last film at the rule's share of the limit, if it
 * leaves evenly over the interval. NaN for what cannot burn. */
static double air_needed(const dregs_line *line, unsigned wet)
{
    const dregs_fluid *fluid = dregs_line_wet_with(line, wet);
    double mass =
        dregs_line_carried(line, wet)->out * known(line, fluid, DREGS_DENSITY, DREGS_ROOM);
    double volume;

    if (dregs_dilution_air(dregs_line_liquids(line), fluid->solvent, mass, DREGS_ROOM,
                           rules[DRYING_VAPOUR].threshold / 100, &volume))
        return NAN;
    return volume / dregs_line_load(line)->interval.si;
}

static void word(enum rule rule, const dregs_line *line, const struct met *met, char *text)
{
    char a[DREGS_NUMBER_TEXT], b[DREGS_NUMBER_TEXT], pure[120];
    double temperature = dregs_line_temperature(line, met->stage);
    const char *solvent = met->fluid ? met->fluid->solvent : "";
    const char *where = met->stages;

#define WORD(...) snprintf(text, DREGS_CAUTION_TEXT, __VA_ARGS__)
    if (met->fluid)
        of_pure(met->fluid, pure, sizeof pure);
    switch (rule) {
    case FLASH_POINT:
        WORD("%s: %s at %s degC%s is %s its flash point, %s degC%s: the vapour over it can take "
             "fire. Keep sparks, flames and hot surfaces away, ventilate, keep the lid on.",
             where, solvent, celsius(a, temperature), assumed(line, met->stage),
             met->value >= 0 ? "above" : "little below", celsius(b, temperature - met->value),
             pure);
        break;
    case HEATED:
        WORD("%s: %s can burn and stands at %s degC. A liquid that can burn is not heated on "
             "purpose: find out what warms it, and let it cool.",
             where, solvent, celsius(a, met->value));
        break;
    case SELF_WARMING:
        WORD("%s: if the tank is ultrasonic, its energy warms %s by itself. Watch the thermometer, "
             "pause in time, keep the lid on.",
             where, solvent);
        break;
    case VAPOUR:
        WORD(
            "%s: saturated vapour of %s at %s degC%s is %s times the lower flammable limit%s. Only "
            "moving fresh air keeps the room below a quarter of that limit.",
            where, solvent, celsius(a, temperature), assumed(line, met->stage),
            dregs_number_plain(b, met->value, 3), pure);
        break;
    case NO_FIRE_DATA:
        WORD("%s: no flash point of %s is on record here. That does not mean that it cannot burn: "
             "look it up before use.",
             where, solvent);
        break;
    case EXPOSURE:
        WORD("%s: the air people breathe may hold %s ppm of %s over a shift of 8 h%s. Cover, "
             "extract, wear what the safety data sheet asks for.",
             where, dregs_number_plain(a, -met->value * 1e6, 4), solvent, pure);
        break;
    case STRONG_CLEANER:
        WORD("%s: holds %s g/L of cleaner, which may be caustic or acid. Eyes and hands need "
             "protection; add cleaner to water, never water to cleaner.",
             where, dregs_number_plain(a, met->value, 3));
        break;
    case HOT_BATH:
        WORD("%s: at %s degC the bath scalds. Lower and lift the basket with a handle.", where,
             celsius(a, met->value));
        break;
    default: /* HOT_OVEN */
        WORD("%s: parts and basket come out at up to %s degC. Let them cool before they are "
             "touched.",
             where, celsius(a, met->value));
    }
#undef WORD
}

/* The film that enters the first dry stage after a wet one, if its vapour can burn. */
static int word_drying(const dregs_line *line, char *text)
{
    unsigned i, stages = dregs_line_stages(line);
    char a[DREGS_NUMBER_TEXT], b[DREGS_NUMBER_TEXT], pure[120];

    for (i = 1; i < stages; i++) {
        const dregs_stage *dry = dregs_line_stage(line, i);
        const dregs_fluid *fluid = dregs_line_wet_with(line, i - 1);
        double needed;
        if (!dregs_stage_is(dry, DREGS_STAGE_DRIES) || !fluid)
            continue;
        needed = air_needed(line, i - 1);
        if (!isfinite(needed))
            continue;
        snprintf(
            text, DREGS_CAUTION_TEXT,
            "%s: the film of %s needs at least %s m3/h of fresh air to stay below a quarter of "
            "the lower flammable limit if it dries evenly over the interval, more if it dries "
            "faster%s; %s%s.",
            dry->name, fluid->solvent, dregs_number_plain(a, needed * 3600, 3),
            of_pure(fluid, pure, sizeof pure),
            dry->fresh_air.row ? "stated m3/h: " : "no fresh air is stated",
            dry->fresh_air.row ? dregs_number_plain(b, dry->fresh_air.si * 3600, 3) : "");
        return 1;
    }
    return 0;
}

/* Do two stages hold the same solvent (or, both dry, none)? */
static int alike(const dregs_line *line, unsigned a, unsigned b)
{
    const dregs_fluid *one = dregs_line_wet_with(line, a), *other = dregs_line_wet_with(line, b);

    return one && other ? strcmp(one->solvent, other->solvent) == 0 : one == other;
}

/* The stages from `first` on that are like it and meet the rule; none if an earlier one was. */
static void gather(enum rule rule, const dregs_line *line, unsigned first, struct met *met)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        double number = alike(line, first, i) ? number_for(rule, line, i) : NAN;
        if (isnan(number))
            continue;
        if (i < first)
            return;
        meet(met, line, i, number);
    }
}

unsigned dregs_cautions(const dregs_line *line, dregs_caution *cautions)
{
    unsigned count = 0, i;
    int rule;

    for (rule = 0; rule < RULES; rule++)
        for (i = 0; i < dregs_line_stages(line) && count < DREGS_CAUTIONS_MOST; i++) {
            struct met met = {"", NULL, 0, 0, 0};
            if (rule == DRYING_VAPOUR) {
                if (i > 0 || !word_drying(line, cautions[count].text))
                    continue;
            } else {
                gather((enum rule)rule, line, i, &met);
                if (!met.count || isnan(number_for((enum rule)rule, line, i)))
                    continue;
                word((enum rule)rule, line, &met, cautions[count].text);
            }
            cautions[count++].rule = &rules[rule];
        }
    return count;
}
