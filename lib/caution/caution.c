/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* caution.c: facts held against the rules. Each rule is asked of every liquid once; the places that
 * meet it are named together, with the numbers of the most critical one. */
#include "dregs/caution.h"
#include "caution/rules.h"
#include "dregs/dry.h"
#include "dregs/unit.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { LAWS_MOST = 16 }; /* of the liquids of one answer */

const dregs_caution_rule *dregs_caution_rule_at(size_t index)
{
    const struct rule *rule = dregs_caution_row_at(index);

    return rule ? &rule->public : NULL;
}

const char *dregs_severity_name(dregs_severity severity)
{
    return severity == DREGS_DANGER ? "danger" : severity == DREGS_WARNING ? "warning" : "note";
}

const char *dregs_caution_deference(void)
{
    return "Cautions name what the numbers show. The local code, the safety data sheet and "
           "licensed professionals decide.";
}

/* What the air holds: where a film dries the content that was worked out, if it was; over a liquid
 * that of air that it saturates, whatever the rest of the room holds. */
static double content(const dregs_facts *facts, double worked_out, double saturated)
{
    return facts->place == DREGS_PLACE_DRYING && !isnan(worked_out) ? worked_out : saturated;
}

static int restricts(const dregs_regulation *regulation)
{
    static const char *const codes[] = {"prohibited", "restricted", "authorisation", "proposed"};
    size_t i;

    for (i = 0; i < sizeof codes / sizeof codes[0]; i++)
        if (strcmp(regulation->code, codes[i]) == 0)
            return 1;
    return 0;
}

double dregs_caution_fact_of(const dregs_facts *facts, int fact)
{
    const double *value = facts->value;

    switch (fact) {
    case BELOW_FLASH:
        return value[DREGS_FACT_FLASH_POINT] - value[DREGS_FACT_TEMPERATURE];
    case WARM:
        return value[DREGS_FACT_TEMPERATURE] - DREGS_ROOM;
    case FIRE:
        return content(facts, value[DREGS_FACT_FLAMMABLE],
                       value[DREGS_FACT_SATURATED] / value[DREGS_FACT_LOWER_LIMIT]);
    case EXPOSED:
        return content(facts, value[DREGS_FACT_VAPOUR], value[DREGS_FACT_SATURATED]) /
               value[DREGS_FACT_EXPOSURE_LIMIT];
    case MIXED:
        return facts->mixed_with != NULL;
    case AIRED:
        return value[DREGS_FACT_FRESH_AIR] > 0;
    case BELOW_DEW:
        return value[DREGS_FACT_DEW_POINT] - value[DREGS_FACT_COLDEST];
    case IGNITING:
        return (value[DREGS_FACT_WALL] - 273.15) / (value[DREGS_FACT_AUTOIGNITION] - 273.15);
    case SHORT:
        return value[DREGS_FACT_FRESH_AIR] < value[DREGS_FACT_AIR_NEEDED];
    case NEVER:
        return isinf(value[DREGS_FACT_WARMS_IN]);
    case LOADS:
        return ceil(DREGS_VAPOUR_SHARE / value[DREGS_FACT_ONE_LOAD]);
    case RESTRICTED:
        return facts->regulation && restricts(facts->regulation);
    case WATER:
        return facts->liquid ? strcmp(facts->liquid, "water") == 0 : (double)NAN;
    default:
        return value[fact];
    }
}

/* The threshold of a rule in SI units. */
static double threshold(const struct rule *rule)
{
    dregs_unit unit;

    if (isnan(rule->public.threshold) || dregs_unit_read(rule->public.unit, &unit, NULL))
        return NAN;
    return dregs_unit_to_si(unit, rule->public.threshold);
}

static int holds(const struct rule *rule, const struct term *term, const dregs_facts *facts)
{
    double value = dregs_caution_fact_of(facts, term->fact);

    switch (term->relation) {
    case KNOWN:
        return !isnan(value);
    case UNKNOWN:
        return isnan(value);
    case IS:
        return value == term->number;
    case AT_MOST:
        return value <= term->number;
    case ABOVE:
        return value > term->number;
    case REACHES:
        return value >= threshold(rule);
    case WITHIN:
        return value <= threshold(rule);
    case NOT_BELOW:
        return !(value < term->number);
    }
    return 1;
}

/* The case of a rule that facts meet, NULL for none. */
static const struct caution_case *met_by(const struct rule *rule, const dregs_facts *facts)
{
    int c, t;

    for (c = 0; c < CASES_MOST && rule->in[c].sentence; c++) {
        if (!(rule->in[c].places & 1u << facts->place))
            continue;
        for (t = 0; t < TERMS_MOST && rule->in[c].term[t].relation; t++)
            if (!holds(rule, &rule->in[c].term[t], facts))
                break;
        if (t == TERMS_MOST || !rule->in[c].term[t].relation)
            return &rule->in[c];
    }
    return NULL;
}

/* Does a rule speak of two places at once? */
static int alike(const struct rule *rule, const dregs_facts *one, const dregs_facts *other)
{
    if (one->regulation != other->regulation)
        return 0;
    if (rule->of_parts)
        return 1;
    return one->liquid && other->liquid ? strcmp(one->liquid, other->liquid) == 0
                                        : one->liquid == other->liquid;
}

/* Adds the name of the place of facts number `of`, unless one before them of those that are alike
 * has brought it: one place at two temperatures is named once. */
static void name(const struct rule *rule, const dregs_facts *facts, size_t of, char *where,
                 size_t room)
{
    const char *place = facts[of].where;
    size_t used = strlen(where), i;

    for (i = 0; place && i < of; i++)
        if (facts[i].where && strcmp(facts[i].where, place) == 0 &&
            alike(rule, &facts[i], &facts[of]) && met_by(rule, &facts[i]))
            return;
    if (place)
        snprintf(where + used, room - used, "%s%s", used ? ", " : "", place);
}

/* The caution that a rule gives of the facts like number `first`: 1, or 0 when that one does not
 * meet it or an earlier one has spoken for it. */
static int give(const struct rule *rule, const dregs_facts *facts, size_t count, size_t first,
                dregs_caution *caution)
{
    char where[160] = "";
    size_t i, most = first;

    if (!met_by(rule, &facts[first]))
        return 0;
    for (i = 0; i < count; i++) {
        if (!alike(rule, &facts[first], &facts[i]) || !met_by(rule, &facts[i]))
            continue;
        if (i < first)
            return 0;
        name(rule, facts, i, where, sizeof where);
        if (dregs_caution_fact_of(&facts[i], rule->weight) >
            dregs_caution_fact_of(&facts[most], rule->weight))
            most = i;
    }
    caution->rule = &rule->public;
    caution->facts = most;
    caution->source =
        facts[most].regulation ? facts[most].regulation->citation : rule->public.source;
    dregs_caution_fill(met_by(rule, &facts[most])->sentence, &facts[most], where, caution->text);
    return 1;
}

/* Is one of the facts about a liquid, with the table of it? */
static const dregs_liquids *table_of(const dregs_facts *facts, size_t count, const char *liquid)
{
    size_t i;

    for (i = 0; i < count; i++)
        if (facts[i].liquids && facts[i].liquid && (!liquid || !strcmp(facts[i].liquid, liquid)))
            return facts[i].liquids;
    return NULL;
}

/* What regulations say of the use of the liquids: how many facts. */
static size_t laws_of(const dregs_facts *facts, size_t count, dregs_facts laws[LAWS_MOST])
{
    const dregs_liquids *liquids = table_of(facts, count, NULL);
    const dregs_regulation *one;
    size_t found = 0, i;

    for (i = 0; liquids && found < LAWS_MOST; i++) {
        one = dregs_regulations_at(dregs_liquids_regulations(liquids), i);
        if (!one)
            break;
        if (!restricts(one) || !table_of(facts, count, one->liquid))
            continue;
        dregs_facts_init(&laws[found]);
        dregs_facts_of_regulation(&laws[found++], one);
    }
    return found;
}

unsigned dregs_cautions_of(const dregs_facts *facts, size_t count, dregs_caution *cautions)
{
    dregs_facts laws[LAWS_MOST];
    size_t law_count = laws_of(facts, count, laws), r, i;
    const struct rule *rule;
    unsigned given = 0, before;

    for (r = 0; (rule = dregs_caution_row_at(r)) != NULL; r++) {
        for (i = 0; i < count && given < DREGS_CAUTIONS_MOST; i++)
            given += (unsigned)give(rule, facts, count, i, &cautions[given]);
        before = given;
        for (i = 0; i < law_count && given < DREGS_CAUTIONS_MOST; i++)
            given += (unsigned)give(rule, laws, law_count, i, &cautions[given]);
        for (; before < given; before++)
            cautions[before].facts += count;
    }
    return given;
}
