/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* rules.c: the table of cautions, by severity, the most pressing first.
 *
 * Not covered, because no facts tell it: ignition sources, how much liquid is stored, what the soil
 * itself may give off.
 */
#include "caution/rules.h"
#include "dregs/dry.h"

#include <math.h>

#define OF(place) (1u << (place))

enum {
    WASH = OF(DREGS_PLACE_WASH),
    BATH = OF(DREGS_PLACE_WASH) | OF(DREGS_PLACE_RINSE),
    WET = OF(DREGS_PLACE_WASH) | OF(DREGS_PLACE_RINSE) | OF(DREGS_PLACE_SPRAY),
    DRY_STAGE = OF(DREGS_PLACE_DRY_STAGE),
    DRYING = OF(DREGS_PLACE_DRYING),
    DRIES = OF(DREGS_PLACE_DRY_STAGE) | OF(DREGS_PLACE_DRYING),
    SPRAY = OF(DREGS_PLACE_SPRAY),
    LINE = OF(DREGS_PLACE_LINE),
    KEPT = OF(DREGS_PLACE_KEPT),
    LAW = OF(DREGS_PLACE_LAW)
};

#define PRACTICE "common practice, no source"

/* evidence and date of a rule's source, as in the tables of liquids and regulations */
#define READ(date) "read", date
#define MEMORY     "memory", ""
#define PRACTISED  "practice", "" /* there is no source to read */
#define ITS_OWN    "its own", ""  /* each limit and each regulation has its own in its row */

/* clang-format off */
static const struct rule rules[] = {
    {{"restriction",
      "a regulation on record bans the use of a liquid on parts, restricts it, asks for an "
      "authorisation, or proposes to",
      NAN, "", "the citation of the regulation", 0, DREGS_DANGER, ITS_OWN},
     RESTRICTED, 0,
     {{LAW, {{RESTRICTED, IS, 1}},
       "{liquid}, {jurisdiction}: {says} (rule of {status}, {citation}; {noted})."}}},

    {{"incompatible",
      "one line holds a halogenated solvent and at least this much of a caustic solute, or an acid "
      "and an oxidiser, or an acid and a solute named cyanide, hypochlorite or bleach",
      1, "g/L", "NIOSH Pocket Guide: trichloroethylene and strong caustics; acid with cyanide, hypochlorite or "
      "an oxidiser: common practice, no source", 0, DREGS_DANGER, MEMORY},
     DREGS_FACT_CAUSTIC, 0,
     {{LINE, {{DREGS_FACT_HALOGENATED, IS, 1}, {DREGS_FACT_CAUSTIC, REACHES, 0}},
       "{liquid} and {caustic} stand on one line: alkali decomposes chlorinated solvents, and with "
       "trichloroethylene forms dichloroacetylene, which is poisonous and ignites by itself. Let "
       "neither be carried into the other."},
      {LINE, {{DREGS_FACT_ACID, ABOVE, 0}, {DREGS_FACT_RELEASING, IS, 1}},
       "{acid}, an acid, and {releasing} stand on one line: acid sets hydrogen cyanide free from "
       "cyanide and chlorine from hypochlorite, both poisonous gases. Let neither be carried into the "
       "other, and keep a rinse and separate drains between them."},
      {LINE, {{DREGS_FACT_ACID, ABOVE, 0}, {DREGS_FACT_OXIDISER, ABOVE, 0}},
       "{acid}, an acid, and {oxidiser}, an oxidiser, stand on one line: with hypochlorite acid "
       "gives off chlorine. Let neither be carried into the other."}}},

    {{"closed oven",
      "a film with a lower flammable limit dries in a volume, and no fresh air is stated", NAN, "",
      "29 CFR 1910.106(a)(31) and 1910.94(c)(6)(ii): a quarter of the lower limit", 1, DREGS_DANGER, MEMORY},
     FIRE, 0,
     {{DRYING, {{DREGS_FACT_LOWER_LIMIT, KNOWN, 0}, {DREGS_FACT_VOLUME, ABOVE, 0}, {AIRED, IS, 0},
                {DREGS_FACT_ONE_LOAD, ABOVE, DREGS_VAPOUR_SHARE}},
       "{where}a film of {liquid} in a room or oven without stated fresh air: its vapour reaches "
       "{one load} % of the lower flammable limit. Do not dry it like this: ventilate, and let it "
       "drip and air first."},
      {DRYING, {{DREGS_FACT_LOWER_LIMIT, KNOWN, 0}, {DREGS_FACT_VOLUME, ABOVE, 0}, {AIRED, IS, 0},
                {DREGS_FACT_ONE_LOAD, ABOVE, 0}},
       "{where}a film of {liquid} in a room or oven without stated fresh air: the vapour of one load "
       "reaches {one load} % of the lower flammable limit and that of each further one adds to it, "
       "to a quarter of it with load {loads to a quarter}. Ventilate, and let it drip and air first."},
      {DRYING, {{DREGS_FACT_LOWER_LIMIT, KNOWN, 0}, {DREGS_FACT_VOLUME, ABOVE, 0}, {AIRED, IS, 0}},
       "{where}a film of {liquid} in a room or oven without stated fresh air: its vapour gathers. "
       "Ventilate, and let it drip and air first."}}},

    {{"flash point", "a liquid is used above its flash point, or less than this below it",
      30 / 1.8, "K",
      "29 CFR 1910.106(a)(19)(iii) and (iv): within 30 degF of the flash point", 0, DREGS_DANGER, READ("2026-11-30")},
     DREGS_FACT_TEMPERATURE, 0,
     {{WET, {{BELOW_FLASH, AT_MOST, 0}},
       "{where}{liquid} at {temperature} degC{assumed} is above its flash point, {flash point} degC"
       "{of mixture}: the vapour over it can ignite. Keep sparks, flames and hot surfaces away, "
       "ventilate, keep the lid on."},
      {WET, {{BELOW_FLASH, WITHIN, 0}},
       "{where}{liquid} at {temperature} degC{assumed} is just below its flash point, "
       "{flash point} degC{of mixture}: little warming makes its vapour ignitable. Keep sparks, flames and "
       "hot surfaces away, ventilate, keep the lid on."},
      {DRIES, {{BELOW_FLASH, AT_MOST, 0}},
       "{where}the air is at {temperature} degC, {liquid}'s flash point is {flash point} degC"
       "{of mixture}: its vapour can ignite. No open flame, spark or hot surface."},
      {DRIES, {{BELOW_FLASH, WITHIN, 0}},
       "{where}the air is at {temperature} degC, just below {liquid}'s flash point, {flash point} "
       "degC{of mixture}: little warming makes its vapour ignitable. No open flame, spark or hot surface."},
      {KEPT, {{DREGS_FACT_FLASH_POINT, KNOWN, 0}, {DREGS_FACT_ASSUMED, IS, 1}},
       "{liquid} has a flash point of {flash point} degC{of mixture}: from about there up its vapour can be "
       "lit. A flammable liquid is not heated; an ultrasonic tank warms it by itself; a mist burns "
       "below the flash point."},
      {WET | DRIES | KEPT,
       {{DREGS_FACT_FLASH_POINT, KNOWN, 0}, {DREGS_FACT_TEMPERATURE, UNKNOWN, 0}},
       "{where}{liquid} has a flash point of {flash point} degC{of mixture}, and nobody says how warm it "
       "is: from about there up its vapour can ignite."},
      {KEPT, {{BELOW_FLASH, AT_MOST, 0}},
       "{temperature} degC is at or above the flash point of {liquid}, {flash point} degC{of mixture}: the "
       "vapour over it can be lit. An ultrasonic tank warms it further; a mist burns below the "
       "flash point."},
      {KEPT, {{BELOW_FLASH, WITHIN, 0}},
       "{temperature} degC is within 16.7 K of the flash point of {liquid}, {flash point} degC{of mixture}: "
       "heated so, it counts as the next more dangerous class. An ultrasonic tank warms it "
       "further; a mist burns below the flash point."}}},

    {{"heated",
      "a liquid in a wet stage is warmer than 25 degC, and above its flash point or less than this "
      "below it; without a flash point, but with flammability limits: this or more above 20 degC",
      30 / 1.8, "K", "29 CFR 1910.106(a)(19)(iii) and (iv): within 30 degF of the flash point", 0, DREGS_DANGER, READ("2026-11-30")},
     DREGS_FACT_TEMPERATURE, 0,
     {{WET, {{WARM, ABOVE, 5}, {BELOW_FLASH, WITHIN, 0}},
       "{where}{liquid} can burn and is heated to {temperature} degC, its flash point is {flash point} "
       "degC{of mixture}. Outside a closed machine that is made for it do not heat it beyond 16.7 K below "
       "the flash point: find out what warms it, and let it cool."},
      {WET, {{WARM, REACHES, 0}, {DREGS_FACT_FLASH_POINT, UNKNOWN, 0},
             {DREGS_FACT_LOWER_LIMIT, KNOWN, 0}},
       "{where}{liquid} is heated to {temperature} degC; no flash point of it is on record, but its "
       "vapour burns in air{pure}: it counts as flammable."}}},

    {{"vapour",
      "the vapour in the air, or over a liquid, reaches this share of the lower flammable limit",
      100 * DREGS_VAPOUR_SHARE, "%",
      "29 CFR 1910.106(a)(31) and 1910.94(c)(6)(ii): a quarter of the lower limit", 0, DREGS_DANGER, MEMORY},
     FIRE, 0,
     {{WET, {{FIRE, REACHES, 0}},
       "{where}saturated vapour of {liquid} at {temperature} degC{assumed} is {times lower limit} "
       "times the lower flammable limit{pure}. Only moving fresh air keeps the room below a quarter "
       "of that limit."},
      {DRYING, {{DREGS_FACT_FLAMMABLE, REACHES, 0}, {AIRED, IS, 1}},
       "{where}the vapour in the air reaches {flammable} % of the lower flammable limit; keep it "
       "below 25 %."},
      {DRYING, {{DREGS_FACT_LOWER_LIMIT, KNOWN, 0}, {DREGS_FACT_VOLUME, ABOVE, 0},
                {DREGS_FACT_FLAMMABLE, UNKNOWN, 0}, {AIRED, IS, 1}},
       "{where}how much vapour of {liquid} the air holds is not known; keep it below 25 % of the "
       "lower flammable limit."},
      {KEPT, {{FIRE, REACHES, 0}},
       "saturated at {temperature} degC{assumed}, its vapour is {about times lower limit} times the "
       "lower flammable limit of {lower limit} % by volume{pure}; keep the air below a quarter of "
       "the limit."}}},

    {{"drying vapour",
      "a film of a liquid with a lower flammable limit dries in less fresh air than is stated to keep "
      "the vapour of the loads that follow each other below this share of the limit",
      100 * DREGS_VAPOUR_SHARE, "%", "29 CFR 1910.106(a)(31) and 1910.94(c)(6)(ii): a quarter of the lower limit", 0, DREGS_DANGER, MEMORY},
     DREGS_FACT_AIR_NEEDED, 0,
     {{DRIES, {{DREGS_FACT_AIR_NEEDED, ABOVE, 0}, {AIRED, IS, 1}, {SHORT, IS, 1}},
       "{where}the vapour of the film of {liquid} needs at least {air needed} m3/h of fresh air at "
       "the peak of its drying to stay below a quarter of the lower flammable limit; "
       "{fresh air} m3/h is stated, which is too little."},
      {DRIES, {{DREGS_FACT_AIR_NEEDED, ABOVE, 0}, {AIRED, IS, 0}},
       "{where}the vapour of the film of {liquid} needs at least {air needed} m3/h of fresh air at "
       "the peak of its drying to stay below a quarter of the lower flammable limit; no fresh air is "
       "stated."},
      {DRIES, {{DREGS_FACT_AIR_NEEDED, UNKNOWN, 0}, {DREGS_FACT_AIR_MEAN, ABOVE, 0}},
       "{where}the vapour of the film of {liquid} needs at least {air on the mean} m3/h of fresh air "
       "on the mean over the interval to stay below a quarter of the lower flammable limit, more at "
       "the peak of its drying, which could not be worked out{pure}."},
      {DRIES, {{DREGS_FACT_LOWER_LIMIT, KNOWN, 0}, {DREGS_FACT_AIR_NEEDED, UNKNOWN, 0},
               {AIRED, IS, 0}},
       "{where}how much fresh air the vapour of the film of {liquid} needs to stay below a quarter of "
       "the lower flammable limit could not be worked out, and none is stated{pure}."}}},

    {{"mist", "a liquid that can burn is sprayed, or blown off parts", NAN, "", PRACTICE, 0, DREGS_DANGER, PRACTISED},
     DREGS_FACT_TEMPERATURE, 0,
     {{SPRAY, {{DREGS_FACT_FLASH_POINT, KNOWN, 0}},
       "{where}a mist of {liquid} ignites below the flash point too: the flash point of "
       "{flash point} degC does not protect{of mixture}."},
      {SPRAY, {{DREGS_FACT_LOWER_LIMIT, KNOWN, 0}},
       "{where}a mist of {liquid} can ignite, whatever its temperature{pure}."},
      {DRIES, {{DREGS_FACT_BLOWN, ABOVE, 0}, {DREGS_FACT_LOWER_LIMIT, KNOWN, 0}},
       "{where}blowing {liquid} off makes a mist, which ignites below the flash point too{pure}: "
       "extract it, no spark near it."}}},

    {{"autoignition",
      "the walls of a room or oven reach this share of the autoignition temperature in degC", 80,
      "%", PRACTICE, 0, DREGS_DANGER, PRACTISED},
     IGNITING, 0,
     {{DRYING, {{IGNITING, REACHES, 0}},
       "{where}the walls are at {wall} degC, {liquid} ignites by itself at {autoignition} degC: "
       "too near."}}},

    {{"caustic", "a wet stage holds at least this much of a solute that is caustic", 0.1, "g/L",
      "GHS 3.2: pH 11.5 and above may burn the skin; 0.13 g/L of NaOH has it", 0, DREGS_DANGER, MEMORY},
     DREGS_FACT_CAUSTIC, 0,
     {{WET, {{DREGS_FACT_CAUSTIC, REACHES, 0}},
       "{where}holds {content of caustic} g/L of {caustic}, which is caustic: it burns eyes and "
       "skin. Wear the protection that the safety data sheet names, have an eye wash at hand; add "
       "{caustic} to water, never water to it."}}},

    {{"acid", "a wet stage holds at least this much of a solute that is an acid", 0.1, "g/L",
      "GHS 3.2: pH 2 and below may burn the skin; 0.37 g/L of HCl has it", 0, DREGS_DANGER, MEMORY},
     DREGS_FACT_ACID, 0,
     {{WET, {{DREGS_FACT_ACID, REACHES, 0}},
       "{where}holds {content of acid} g/L of {acid}, an acid: it burns eyes and skin. Wear the "
       "protection that the safety data sheet names, have an eye wash at hand; add acid to water, "
       "never water to acid; keep it apart from cyanide and hypochlorite."}}},

    {{"mixture", "a liquid is mixed with another one", NAN, "",
      "Liaw and others, Journal of Loss Prevention in the Process Industries 15 (2002) 429; 40 CFR 261.21; common practice", 0,
      DREGS_WARNING, MEMORY},
     DREGS_FACT_TEMPERATURE, 0,
     {{KEPT, {{MIXED, IS, 1}, {DREGS_FACT_OF_MIXTURE, IS, 1}},
       "the flash point of this mixture of {liquid} and {mixed with}, {flash point} degC, is calculated "
       "by Le Chatelier's rule (Liaw 2002), good for some 7 K: measure it where it decides. In the US "
       "spent aqueous liquid with less than 24 % alcohol by volume is not ignitable waste; that does "
       "not make it safe."},
      {KEPT, {{MIXED, IS, 1}},
       "no flash point of this mixture could be worked out. Mixtures of {liquid} and {mixed with} burn "
       "down to a small share of {liquid}; take what holds for pure {liquid}. In the US spent "
       "aqueous liquid with less than 24 % alcohol by volume is not ignitable waste; that does not "
       "make it safe."}}},

    {{"self-warming",
      "a wash holds a liquid with a flash point, or ultrasonic power is stated of a tank; until it is "
      "this near below the flash point",
      30 / 1.8, "K", "29 CFR 1910.106(a)(19)(iii) and (iv): within 30 degF of the flash point", 0,
      DREGS_WARNING, READ("2026-11-30")},
     DREGS_FACT_TEMPERATURE, 0,
     {{BATH, {{DREGS_FACT_POWER, KNOWN, 0}, {NEVER, IS, 1}},
       "{where}{power} W of ultrasound alone do not bring {liquid} within 16.7 K of its flash point, "
       "{flash point} degC{of mixture}{settled}, on a balance of heat whose assumed values are listed. "
       "Watch the thermometer, keep the lid on.{cooled}"},
      {BATH, {{DREGS_FACT_POWER, KNOWN, 0}, {DREGS_FACT_WARMS_IN, KNOWN, 0}},
       "{where}{power} W of ultrasound warm {liquid} in {warms in} min to 16.7 K below its flash point, "
       "{flash point} degC{of mixture}{settled}. Switch off before, keep the lid on.{cooled}"},
      {BATH, {{DREGS_FACT_POWER, KNOWN, 0}, {DREGS_FACT_FLASH_POINT, KNOWN, 0}},
       "{where}{power} W of ultrasound warm {liquid} further, which is within 16.7 K of its flash "
       "point, {flash point} degC{of mixture}, or above it already{settled}. Do not use it like this: "
       "cool it first.{cooled}"},
      {BATH, {{DREGS_FACT_POWER, KNOWN, 0}},
       "{where}{power} W of ultrasound warm {liquid}{settled}.{cooled}"},
      {WASH, {{DREGS_FACT_FLASH_POINT, KNOWN, 0}},
       "{where}if the tank is ultrasonic, its energy warms {liquid} by itself: state its power, and the "
       "minutes are worked out. Watch the thermometer, switch off more than 16.7 K below the flash "
       "point, keep the lid on."}}},

    {{"static charge", "a hydrocarbon or terpene is pumped, sprayed or poured", NAN, "", PRACTICE, 0, DREGS_WARNING, PRACTISED},
     DREGS_FACT_TEMPERATURE, 0,
     {{WET, {{DREGS_FACT_HYDROCARBON, IS, 1}},
       "{where}{liquid} hardly conducts and charges itself when it is poured, pumped or sprayed; a "
       "discharge can ignite its vapour. Bond and earth tank, basket and containers."}}},

    {{"decomposition", "a halogenated liquid is used", NAN, "", PRACTICE, 0, DREGS_WARNING, PRACTISED},
     DREGS_FACT_TEMPERATURE, 0,
     {{WET | DRIES | KEPT, {{DREGS_FACT_HALOGENATED, IS, 1}},
       "{where}on flames, hot surfaces and welding arcs the vapour of {liquid} decomposes into "
       "poisonous and corrosive gases, as hydrogen halides and phosgene. Keep them away."}}},

    {{"drain", "a stage whose liquid goes to the drain is filled with a liquid other than water, or "
      "takes one over from a stage before it", NAN, "",
      "40 CFR 403.5(b)(1): no discharge to a sewer that makes a hazard of fire or explosion, such as "
      "one with a flash point below 60 degC; what leads elsewhere: common practice", 0, DREGS_WARNING, READ("2026-11-30")},
     DREGS_FACT_TO_DRAIN, 0,
     {{WET | DRIES, {{DREGS_FACT_TO_DRAIN, IS, 2}},
       "{where}{drained} runs to the drain. A solvent in a sewer can ignite, poison the air in it and "
       "harm the treatment: collect it as waste, unless whoever runs the sewer agrees in writing."},
      {WET | DRIES, {{DREGS_FACT_TO_DRAIN, IS, 1}},
       "{where}what runs to the drain holds {drained} that the parts bring along; how much, dregs-tally "
       "tells. Let them drip longer or rinse first in a tank that is collected, and ask whoever runs the "
       "sewer what it may hold."}}},

    {{"hot surface", "a surface of this temperature or a cooler one lights the vapour of a liquid", 300,
      "degC", PRACTICE, 0, DREGS_WARNING, PRACTISED},
     DREGS_FACT_TEMPERATURE, 0,
     {{KEPT, {{DREGS_FACT_AUTOIGNITION, WITHIN, 0}}, /* heaters and soldering irons reach 300 degC */
       "a surface of {autoignition} degC is at its autoignition temperature: it ignites without a spark."}}},

    {{"no fire data",
      "a solvent other than water has no flash point or no lower flammable limit on record", NAN,
      "", PRACTICE, 0, DREGS_WARNING, PRACTISED},
     DREGS_FACT_TEMPERATURE, 0,
     {{KEPT, {{WATER, IS, 0}, {DREGS_FACT_FLASH_POINT, UNKNOWN, 0},
              {DREGS_FACT_LOWER_LIMIT, KNOWN, 0}},
       "no flash point is on record, yet its vapour burns in air within its flammability limits: it "
       "can burn."},
      {KEPT, {{WATER, IS, 0}, {DREGS_FACT_FLASH_POINT, UNKNOWN, 0}},
       "no flash point and no flammable limit are on record here; that does not mean that it "
       "cannot burn or form harmful products in a flame."},
      {WET | DRIES, {{WATER, IS, 0}, {DREGS_FACT_FLASH_POINT, UNKNOWN, 0},
              {DREGS_FACT_LOWER_LIMIT, KNOWN, 0}},
       "{where}no flash point of {liquid} is on record, yet its vapour burns in air from "
       "{lower limit} % by volume on: it counts as flammable."},
      {WET | DRIES, {{WATER, IS, 0}, {DREGS_FACT_FLASH_POINT, UNKNOWN, 0}},
       "{where}no flash point of {liquid} is on record here. That does not mean that it cannot "
       "burn: look it up before use."},
      {WET | DRIES | KEPT, {{WATER, IS, 0}, {DREGS_FACT_LOWER_LIMIT, UNKNOWN, 0}},
       "{where}no lower flammable limit of {liquid} is on record here. Its vapour cannot be held "
       "against it: look it up before use."}}},

    {{"exposure",
      "a solvent has an exposure limit on record, and its vapour is not known to stay below it",
      NAN, "", "the limit's own publication", 0, DREGS_WARNING, ITS_OWN},
     EXPOSED, 0,
     {{DRYING, {{DREGS_FACT_EXPOSURE_LIMIT, KNOWN, 0}, {DREGS_FACT_VAPOUR, KNOWN, 0},
                {EXPOSED, NOT_BELOW, 1}},
       "{where}the vapour reaches {vapour} ppm. Limits over 8 h on record, the lowest first: "
       "{limits}; others may be lower. Extract; do not breathe it."},
      {KEPT, {{EXPOSED, KNOWN, 0}, {EXPOSED, NOT_BELOW, 1}},
       "saturated at {temperature} degC{assumed}, its vapour is {times exposure limit} times the "
       "lowest limit on record{pure}. Limits over 8 h, the lowest first: {limits}; others may be "
       "lower."},
      {WET | DRIES | KEPT, {{DREGS_FACT_EXPOSURE_LIMIT, KNOWN, 0}, {EXPOSED, NOT_BELOW, 1}},
       "{where}the vapour of {liquid} harms whoever breathes too much of it. Limits over 8 h on "
       "record, the lowest first: {limits}; others may be lower{pure}. Cover, extract, wear the "
       "protection that the safety data sheet names."}}},

    {{"oxidiser", "a wet stage holds an oxidiser", NAN, "", PRACTICE, 0, DREGS_WARNING, PRACTISED},
     DREGS_FACT_OXIDISER, 0,
     {{WET, {{DREGS_FACT_OXIDISER, ABOVE, 0}},
       "{where}holds {content of oxidiser} g/L of {oxidiser}, an oxidiser: it feeds a fire. Keep "
       "it apart from solvents, oil and wipes."}}},

    {{"strong solution",
      "a wet stage in water holds at least this much of a solute of which no hazard is stated", 1,
      "g/L", PRACTICE, 0, DREGS_WARNING, PRACTISED},
     DREGS_FACT_CONTENT, 0,
     {{WET, {{WATER, IS, 1}, {DREGS_FACT_CONTENT, REACHES, 0}},
       "{where}holds {content} g/L of {solute}, of which no hazard is stated: assumed to be caustic "
       "or acid. Protect eyes and hands; add it to water, never water to it. The safety data sheet "
       "tells."}}},

    {{"scald", "a wet stage is at this temperature or above", 50, "degC", PRACTICE, 0, DREGS_WARNING, PRACTISED},
     DREGS_FACT_TEMPERATURE, 0,
     {{BATH, {{DREGS_FACT_TEMPERATURE, REACHES, 0}},
       "{where}at {temperature} degC the bath scalds. Lower and lift the basket with a handle."},
      {WET, {{DREGS_FACT_TEMPERATURE, REACHES, 0}},
       "{where}at {temperature} degC the spray scalds. Enclose it; open only when it is off."}}},

    {{"no exposure limit", "a liquid other than water has no exposure limit on record", NAN, "",
      PRACTICE, 0, DREGS_NOTE, PRACTISED},
     DREGS_FACT_TEMPERATURE, 0,
     {{KEPT, {{WATER, IS, 0}, {DREGS_FACT_EXPOSURE_LIMIT, UNKNOWN, 0}},
       "no exposure limit is on record here; that does not mean that it is harmless."}}},

    {{"hot parts", "parts leave a drying stage at this temperature or above", 50, "degC", PRACTICE, 0, DREGS_NOTE, PRACTISED},
     DREGS_FACT_TEMPERATURE, 1,
     {{DRIES, {{DREGS_FACT_TEMPERATURE, REACHES, 0}, {DREGS_FACT_PARTS_COOL_IN, KNOWN, 0}},
       "{where}parts and basket come out at up to {temperature} degC. Let them cool before they are "
       "touched: to 40 degC in {parts cool in} min in still air of 20 degC{parts assumed}."},
      {DRIES, {{DREGS_FACT_TEMPERATURE, REACHES, 0}},
       "{where}parts and basket come out at up to {temperature} degC. Let them cool before they "
       "are touched."}}},

    {{"wet spots", "a film falls below the dew point of the air", NAN, "", PRACTICE, 0, DREGS_NOTE, PRACTISED},
     BELOW_DEW, 0,
     {{DRYING, {{BELOW_DEW, ABOVE, 0}},
       "{where}the film falls to {coldest} degC, below the dew point of {dew point} degC: water of "
       "the room condenses into it and may leave spots. Drier or warmer air, or a slower solvent."
     }}},

    {{"water uptake",
      "a solvent that mixes with water stands open, and holds at least this share of water after 8 h, or "
      "how much is not known", 0.5, "%", PRACTICE, 0, DREGS_NOTE, PRACTISED},
     DREGS_FACT_WATER_TAKEN, 0,
     {{WET, {{DREGS_FACT_MIXES, IS, 1}, {DREGS_FACT_WATER_TAKEN, REACHES, 0}},
       "{where}{liquid} takes up water from the room's air: fresh, and open for 8 h, it holds about "
       "{water taken} % by mass, on a law without a measurement behind it. It dries slower and may leave "
       "spots, and parts that come wet bring more. Keep the lid on, measure the density."},
      {WET, {{DREGS_FACT_MIXES, IS, 1}, {DREGS_FACT_WATER_TAKEN, UNKNOWN, 0}},
       "{where}{liquid} mixes with water and takes it up from the room's air and from wet parts; how "
       "much is not worked out, for want of data. It dries slower and may leave spots. Keep the lid on, "
       "measure the density."}}},
};
/* clang-format on */

/* The warnings of implausible numbers stand before the notes. */
static size_t notes_begin(void)
{
    size_t i = sizeof rules / sizeof rules[0];

    while (i > 0 && rules[i - 1].public.severity == DREGS_NOTE)
        i--;
    return i;
}

const struct rule *dregs_caution_row_at(size_t index)
{
    size_t count = sizeof rules / sizeof rules[0], before = notes_begin(), beside = 0;

    if (index < before)
        return &rules[index];
    while (dregs_caution_plausible_at(beside))
        beside++;
    if (index < before + beside)
        return dregs_caution_plausible_at(index - before);
    return index < count + beside ? &rules[index - beside] : NULL;
}
