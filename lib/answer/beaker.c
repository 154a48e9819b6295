/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* beaker.c: the answer of dregs-beaker: what is given is read, made into lines and asked. The sums
 * themselves are those of the other rooms.
 */
#include "answer/beaker.h"
#include "answer/inside.h"
#include "base/grow.h"
#include "base/text.h"
#include "dregs/answer_size.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void dregs_beaker_request_init_of_size(dregs_beaker_request *request, size_t size)
{
    dregs_beaker_request made = {
        .size = size, .confidence = NAN, .draws = DREGS_SIZE_DRAWS_USUAL, .seed = 1};

    dregs_give(request, size, &made, sizeof made);
}

dregs_beaker_way *dregs_answer_beaker_way(struct beaker *b, unsigned way, dregs_beaker_kind kind,
                                          double takes)
{
    dregs_beaker_way *made = &b->way[way];

    made->kind = kind;
    made->takes = takes;
    made->left = made->concentration = made->residue = made->water = made->temperature =
        made->probability = NAN;
    if (way >= b->shown.ways)
        b->shown.ways = way + 1;
    return made;
}

dregs_status dregs_answer_beaker_draw(struct beaker *b, unsigned way, double x, double y)
{
    size_t count = b->shown.points;
    dregs_beaker_point *bigger;

    if (!isfinite(x) || !isfinite(y))
        return DREGS_OK;
    if (count == b->room) {
        bigger = realloc(b->point, (b->room + 128) * sizeof *bigger);
        if (!bigger)
            return DREGS_NO_MEMORY;
        b->point = bigger;
        b->room += 128;
    }
    b->point[b->shown.points++] = (dregs_beaker_point){way, x, y};
    return DREGS_OK;
}

const char *dregs_answer_beaker_volume(char into[DREGS_NUMBER_TEXT + 8], double volume)
{
    char number[DREGS_NUMBER_TEXT];
    int litres = volume >= 1e-3;

    snprintf(into, DREGS_NUMBER_TEXT + 8, "%s %s",
             dregs_number_plain(number, volume * (litres ? 1e3 : 1e6), 4), litres ? "L" : "mL");
    return into;
}

static dregs_status know_liquid(struct beaker *b)
{
    const char *name = b->asked.given[DREGS_BEAKER_LIQUID], *near;
    char quoted[DREGS_QUOTED];

    if (!name || dregs_liquids_has(b->liquids, name))
        return DREGS_OK;
    near = dregs_liquids_nearest(b->liquids, name);
    snprintf(b->message, DREGS_BEAKER_MESSAGE, "--liquid %s is not in the liquid data%s%s%s",
             dregs_quote(quoted, name), near ? "; nearest: '" : "; 'dregs-liquid' lists it",
             near ? near : "", near ? "'" : "");
    return DREGS_UNKNOWN;
}

static void know_nothing(struct beaker *b)
{
    dregs_beaker_result *r = &b->shown;

    r->limit = r->film = r->volume = r->asked = r->start = r->rate = r->heat_capacity = r->room =
        NAN;
    r->question = b->asked.question;
    r->confidence = b->asked.confidence;
    r->parts = 1;
}

static dregs_status check(const struct beaker *b)
{
    double confidence = b->asked.confidence;

    if ((unsigned)b->asked.question >= DREGS_BEAKER_QUESTIONS)
        return dregs_refuse(b->message, DREGS_BEAKER_MESSAGE, "question: there is no such one");
    if (!isnan(confidence) && !(confidence > 0 && confidence < 1))
        return dregs_refuse(b->message, DREGS_BEAKER_MESSAGE,
                            "confidence: not above 0 and below 1");
    return DREGS_OK;
}

static dregs_status answer(struct beaker *b)
{
    static dregs_status (*const ask[DREGS_BEAKER_QUESTIONS])(struct beaker *) = {
        dregs_answer_beaker_parts, dregs_answer_beaker_rinses, dregs_answer_beaker_bottle,
        dregs_answer_beaker_fresh, dregs_answer_beaker_open,   dregs_answer_beaker_warm,
        dregs_answer_beaker_cool};
    dregs_status status = check(b);

    if (!status)
        status = dregs_answer_beaker_read(b);
    if (!status)
        status = know_liquid(b);
    if (!status)
        status = ask[b->asked.question](b);
    return status ? status
                  : dregs_answer_line_cautions(b->way[b->shown.best].line, &b->shown.caution,
                                               &b->shown.cautions);
}

static void give_up(struct beaker *b)
{
    unsigned i;

    if (!b)
        return;
    for (i = 0; i < BEAKER_WAYS_MOST; i++)
        dregs_line_free(b->line[i]);
    dregs_pool_clear(&b->pool);
    free(b->point);
    free((void *)b->shown.caution);
    free(b);
}

dregs_status dregs_beaker_answer(const dregs_beaker_request *request, const dregs_liquids *liquids,
                                 dregs_beaker_result **result, char *message)
{
    struct beaker *b = calloc(1, sizeof *b);
    dregs_status status = DREGS_OK;

    message[0] = '\0';
    if (!b)
        return DREGS_NO_MEMORY;
    dregs_beaker_request_init(&b->asked);
    b->liquids = liquids;
    b->message = message;
    if (!dregs_take(&b->asked, sizeof b->asked, request))
        status = DREGS_DOMAIN;
    know_nothing(b);
    if (!status)
        status = answer(b);
    if (status) {
        give_up(b);
        return status;
    }
    b->message = NULL; /* the caller's, and done */
    *result = &b->shown;
    return DREGS_OK;
}

void dregs_beaker_result_free(dregs_beaker_result *result)
{
    give_up((struct beaker *)result); /* the first member: the user's pointer is ours */
}

const dregs_beaker_way *dregs_beaker_result_way(const dregs_beaker_result *result, unsigned index)
{
    return index < result->ways ? &((const struct beaker *)result)->way[index] : NULL;
}

const char *dregs_beaker_result_assumed(const dregs_beaker_result *result, unsigned index)
{
    const struct beaker *b = (const struct beaker *)result;

    return index < b->assumptions ? b->assumed[index] : NULL;
}

const dregs_beaker_point *dregs_beaker_result_point(const dregs_beaker_result *result, size_t index)
{
    return index < result->points ? &((const struct beaker *)result)->point[index] : NULL;
}
