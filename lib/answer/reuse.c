/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* reuse.c: what the outlook of a rinse comes to: what to do, what was believed before, the card of
 * the bench.
 */
#include "answer/inside.h"
#include "dregs/answer_reuse.h"
#include "dregs/unit.h"
#include "line/line.h"
#include "residue/residue.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The result as it is shown, with what it points to behind it. */
struct answer {
    dregs_reuse_result shown; /* the first member: the user's pointer is ours */
    dregs_reuse *reuse;
    unsigned stages;
    dregs_reuse_card *card; /* of each stage */
    char *has_card;
};

static dregs_reuse_advice advice_of(const dregs_reuse_outlook *a)
{
    if (a->doubtful) /* first: what is not believed is not judged */
        return DREGS_ADVICE_DOUBTFUL;
    if (a->blind)
        return DREGS_ADVICE_BLIND;
    if (a->dump_now)
        return a->next <= a->limit ? DREGS_ADVICE_DUMP_UNSURE : DREGS_ADVICE_DUMP;
    if (a->again)
        return DREGS_ADVICE_ALONE;
    if (a->low == 0 && isnan(a->confidence)) /* a stated confidence is what is asked for */
        return DREGS_ADVICE_UNSURE;
    if (a->bounds_alone && !a->bounds_tell)
        return DREGS_ADVICE_UNTOLD;
    return a->loads == DREGS_REUSE_LOADS_MOST ? DREGS_ADVICE_NO_END : DREGS_ADVICE_LOADS;
}

unsigned dregs_answer_spreads(const dregs_line *line)
{
    unsigned row, count = 0;

    for (row = 1; row <= dregs_line_rows(line); row++)
        count += *dregs_line_row(line, row)->spread != '\0';
    return count;
}

/* Those of the drag-out and of the soil, as the prior. */
static unsigned spreads_used(const dregs_reuse *reuse)
{
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(reuse);
    unsigned i, used = basis->soil_row > 0;

    for (i = 0; i < DREGS_LINE_STAGES; i++)
        used += basis->drag_out_row[i] > 0;
    return used;
}

static dregs_reuse_meaning meaning_of(const dregs_line *line, const dregs_reuse_outlook *a)
{
    const dregs_dump_reading *at = a->stage < 0 ? NULL : &a->at[a->stage];
    dregs_reuse_meaning meaning = {0, NAN, NAN, 0};
    double film; /* of the solute whose limit it is */

    if (!at || !at->known || advice_of(a) == DREGS_ADVICE_DOUBTFUL)
        return meaning;
    meaning.known = 1;
    meaning.per_part =
        a->limit * dregs_line_load(dregs_line_of_kind(line, a->kind_at_limit))->area.si;
    film = a->solute == DREGS_EVERY_SOLUTE ? a->at_limit.film_total : a->at_limit.film[a->solute];
    meaning.film_share = film / dregs_residue_of(&a->at_limit, a->solute);
    meaning.water_in_air =
        at->what == DREGS_MEASURED_CONDUCTIVITY && at->value < DREGS_WATER_IN_AIR_MOST;
    return meaning;
}

/* What the meter shows at a temperature where `reading` is the one to dump at (K; NaN: at 25 degC):
 * by the compensation of the stage's liquid; NaN where that does not hold. */
static double shown_at(dregs_compensation way, double coefficient,
                       const dregs_dump_reading *reading, double temperature)
{
    double at_25 = reading->planned, shown;

    if (!isnan(reading->temperature) &&
        dregs_conductivity_at_25(way, coefficient, reading->temperature, reading->planned, &at_25,
                                 NULL))
        return NAN;
    if (dregs_conductivity_shown(way, coefficient, temperature, at_25, &shown, NULL))
        return NAN;
    return shown;
}

/* A salt's own conductivity has its own way with temperature: no card from one reading. */
static int by_salts(const dregs_line *line)
{
    unsigned s;

    for (s = 0; s < dregs_line_solutes(line); s++)
        if (dregs_line_solute(line, s)->electrolyte)
            return 1;
    return 0;
}

static int fill_card(const dregs_line *line, unsigned stage, const dregs_dump_reading *at,
                     dregs_reuse_card *card)
{
    double middle = dregs_line_temperature(line, stage), coefficient;
    int i;

    if (dregs_line_stage(line, stage)->tank < 0 || at->what != DREGS_MEASURED_CONDUCTIVITY ||
        !at->known || isnan(at->planned) || by_salts(line))
        return 0;
    card->way = dregs_reuse_compensation(line, stage, &coefficient);
    if (card->way == DREGS_COMPENSATION_NONE)
        return 0;
    if (!isnan(at->temperature))
        middle = at->temperature;
    middle = 273.15 + 2 * round((middle - 273.15) / 2);
    for (i = 0; i < DREGS_CARD_TEMPERATURES; i++) {
        card->temperature[i] = middle + 2 * (i - DREGS_CARD_TEMPERATURES / 2);
        card->shown[i] = shown_at(card->way, coefficient, at, card->temperature[i]);
    }
    return 1;
}

static dregs_status fill(struct answer *answer, const dregs_line *line,
                         const dregs_readings *readings)
{
    dregs_reuse_result *shown = &answer->shown;
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(answer->reuse);
    const dregs_reuse_outlook *a = dregs_reuse_answered(answer->reuse);
    unsigned i;

    answer->stages = dregs_line_stages(line);
    answer->card = calloc(answer->stages, sizeof *answer->card);
    answer->has_card = calloc(answer->stages, 1);
    if (!answer->card || !answer->has_card)
        return DREGS_NO_MEMORY;
    for (i = 0; i < answer->stages && advice_of(a) != DREGS_ADVICE_DOUBTFUL; i++)
        answer->has_card[i] = (char)fill_card(line, i, &a->at[i], &answer->card[i]);
    shown->line = line;
    shown->readings = readings;
    shown->reuse = answer->reuse;
    shown->outlook = a;
    shown->advice = advice_of(a);
    shown->use_again = shown->advice == DREGS_ADVICE_NO_END ||
                       shown->advice == DREGS_ADVICE_LOADS ||
                       (shown->advice == DREGS_ADVICE_BLIND && a->cycle > 0);
    shown->drag_out_before = basis->drag_out;
    shown->soil_before = basis->soil;
    shown->age = a->since + (a->dump_now || a->plan == DREGS_REUSE_LOADS_MOST ? 0 : a->plan);
    shown->meaning = meaning_of(line, a);
    shown->spreads_unused = dregs_answer_spreads(line) - spreads_used(shown->reuse);
    return dregs_answer_line_cautions(line, &shown->caution, &shown->cautions);
}

dregs_status dregs_reuse_answer(const dregs_line *line, const dregs_readings *readings,
                                const dregs_reuse_request *request, dregs_reuse_result **result,
                                dregs_faults *faults)
{
    struct answer *answer = calloc(1, sizeof *answer);
    dregs_status status;

    if (!answer)
        return DREGS_NO_MEMORY;
    status = dregs_reuse_new(line, readings, request, &answer->reuse, faults);
    if (!status)
        status = fill(answer, line, readings);
    if (status)
        dregs_reuse_result_free(&answer->shown);
    else
        *result = &answer->shown;
    return status;
}

void dregs_reuse_result_free(dregs_reuse_result *result)
{
    struct answer *answer = (struct answer *)result;

    if (!answer)
        return;
    dregs_reuse_free(answer->reuse);
    free(answer->card);
    free(answer->has_card);
    free((void *)answer->shown.caution);
    free(answer);
}

unsigned dregs_reuse_result_regime(const dregs_reuse_result *result, size_t reading)
{
    unsigned i = dregs_reuse_regimes(result->reuse);

    while (i > 1 && dregs_reuse_regime(result->reuse, i - 1)->begin > reading)
        i--;
    return i;
}

dregs_reuse_sign dregs_reuse_sign_of(const dregs_regime *regime)
{
    if (regime->kind == DREGS_REGIME_FLOW && regime->of.best < 0.1)
        return DREGS_SIGN_FLOW_FAILED;
    if (regime->kind == DREGS_REGIME_CONTENT)
        return regime->of.best > 1 ? DREGS_SIGN_GOT_IN : DREGS_SIGN_RENEWED;
    return DREGS_SIGN_NONE;
}

const dregs_reuse_card *dregs_reuse_result_card(const dregs_reuse_result *result, unsigned stage)
{
    const struct answer *answer = (const struct answer *)result;

    return stage < answer->stages && answer->has_card[stage] ? &answer->card[stage] : NULL;
}

double dregs_answer_reading_shown(const dregs_readings *readings, dregs_measured what, int unit,
                                  double value, const char **name)
{
    dregs_unit written;

    *name = unit < 0 ? NULL : dregs_readings_unit(readings, (unsigned)unit, &written);
    if (*name)
        return dregs_unit_from_si(written, value);
    *name = what == DREGS_MEASURED_CONDUCTIVITY ? "uS/cm" : "mg/L";
    return what == DREGS_MEASURED_CONDUCTIVITY ? value * 1e4 : value * 1e3;
}
