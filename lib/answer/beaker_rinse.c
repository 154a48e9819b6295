/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* beaker_rinse.c: how many parts, how many rinses, how much liquid: the lines are asked for what a
 * load keeps, and sized. */
#include "answer/beaker.h"
#include "dregs/answer_size.h"
#include "line/line.h"

#include <math.h>
#include <string.h>

enum { CURVE = 60 };

#define PARTS_MOST  1000000.0 /* loads that a beaker is followed for */
#define VOLUME_MOST 1e5       /* times the film: the most liquid that is tried */
#define CURVE_RANGE 30.0      /* times: how far a picture goes about the answer */

/* ---- what a load keeps ---- */

/* Residue and concentration of load number `load` of a line. */
static dregs_status keep(const dregs_line *line, uint64_t load, dregs_beaker_way *way)
{
    unsigned last = (unsigned)dregs_line_last_wet(line), s;
    dregs_state *state = NULL;
    dregs_map *map = NULL;
    dregs_residue residue;
    dregs_status status = dregs_map_new(line, &map);

    if (!status && !(state = dregs_state_new(map)))
        status = DREGS_NO_MEMORY;
    if (!status)
        status = dregs_state_before(state, load);
    if (!status) {
        dregs_residue_next(state, &residue);
        way->residue = residue.total;
        way->concentration = 0;
        for (s = 0; s < dregs_line_solutes(line); s++)
            way->concentration += dregs_state_concentration(state, s, last);
        way->left = NAN;
        if (dregs_line_carried(line, last)->in > 0 && last > 0)
            way->left = dregs_state_film(state, 0, last) / dregs_state_film(state, 0, 0);
    }
    dregs_state_free(state);
    dregs_map_free(map);
    return status;
}

static void judge(const struct beaker *b, dregs_beaker_way *way)
{
    const dregs_beaker_result *r = &b->shown;

    way->judged = !isnan(r->limit);
    way->met =
        way->judged && (r->by_area ? way->residue : way->concentration) <= r->limit * (1 + 1e-9);
    if (!b->given[DREGS_BEAKER_AREA].text)
        way->residue = NAN; /* the area of the line does not count */
}

/* What the picture shows of a way: the residue where the limit is one, else the concentration, and
 * without a limit the share left. */
static double shown_of(const struct beaker *b, const dregs_beaker_way *way)
{
    return isnan(b->shown.limit) ? way->left : b->shown.by_area ? way->residue : way->concentration;
}

/* What the rinsing questions have in common, of the first line. */
static dregs_status describe(struct beaker *b)
{
    const dregs_line *line = b->line[0];
    const dregs_target *target = dregs_line_target(line);
    dregs_beaker_result *r = &b->shown;

    r->by_area = target->residue.row != 0;
    if (target->name)
        r->limit = r->by_area ? target->residue.si : target->dissolved.si;
    r->parts = dregs_line_load(line)->parts.si;
    r->film = dregs_line_carried(line, (unsigned)dregs_line_last_wet(line))->out;
    if (!b->given[DREGS_BEAKER_PARTS_AT_A_TIME].text &&
        dregs_answer_beaker_assume(b, "one part at a time"))
        return DREGS_NO_MEMORY;
    if (!b->given[DREGS_BEAKER_OWN].text &&
        dregs_answer_beaker_assume(b, "the fresh liquid itself leaves nothing"))
        return DREGS_NO_MEMORY;
    if (b->given[DREGS_BEAKER_FILM].text &&
        dregs_answer_beaker_assume(b, "the film that comes in is as much as that which goes out"))
        return DREGS_NO_MEMORY;
    if (b->given[DREGS_BEAKER_SOIL].text &&
        dregs_answer_beaker_assume(b, "all soil comes off in the beaker and dissolves"))
        return DREGS_NO_MEMORY;
    return DREGS_OK;
}

/* ---- sizing ---- */

/* The value of a property of way number `way` that just meets the limit, put into it. */
static dregs_status take_sized(struct beaker *b, unsigned index, const dregs_size_result *found,
                               double times)
{
    const dregs_size_sureness *sure = found->sureness;
    dregs_beaker_way *way = &b->way[index];
    dregs_line *line = NULL;
    size_t length;
    const char *text = dregs_sized_text(found->sized, &length);
    char *kept = text ? dregs_pool_take(&b->pool, 1, length + 1) : NULL;
    dregs_status status = kept ? DREGS_OK : DREGS_NO_MEMORY;

    if (status)
        return status;
    memcpy(kept, text, length);
    status = dregs_line_parse("the line", kept, length, b->liquids, &line, NULL);
    if (status)
        return status;
    dregs_line_free(b->line[index]);
    b->line[index] = line;
    way->line = line;
    way->text = kept;
    way->length = length;
    way->takes = found->met ? dregs_sized_value(found->sized, 0) * times : NAN;
    if (found->met && dregs_sized_throughout(found->sized) && way->kind == DREGS_BEAKER_COUNT)
        way->takes = INFINITY;
    if (sure && sure->draws) {
        way->probability = sure->met.value;
        b->shown.draws = sure->draws;
    }
    return DREGS_OK;
}

static dregs_status size(struct beaker *b, unsigned index, const char *property,
                         const char *const *stage, unsigned stages, double low, double high,
                         double times)
{
    dregs_varied *varied = dregs_varied_new(b->line[index]);
    dregs_size_result *found = NULL;
    dregs_size_request request;
    char message[DREGS_SIZE_MESSAGE] = "";
    dregs_status status = varied ? DREGS_OK : DREGS_NO_MEMORY;
    dregs_line *before = b->line[index];

    dregs_size_request_init(&request);
    request.confidence = b->asked.confidence;
    request.draws = b->asked.draws;
    request.seed = b->asked.seed;
    request.threads = b->asked.threads;
    request.varied = varied;
    if (!status)
        status = dregs_varied_add(varied, property, stage, stages, low, high, message);
    if (!status)
        status = dregs_size_answer(before, &request, &found, message);
    if (!status) {
        b->line[index] = NULL; /* the search still needs it */
        status = take_sized(b, index, found, times);
    }
    dregs_size_result_free(found);
    dregs_varied_free(varied);
    if (b->line[index] != before)
        dregs_line_free(before);
    if (status && *message)
        snprintf(b->message, DREGS_BEAKER_MESSAGE, "%.600s", message);
    return status;
}

/* ---- the picture ---- */

/* Load after load of one beaker that is never dumped, to somewhat behind the answer. */
static dregs_status draw_loads(struct beaker *b, const dregs_line *line)
{
    double last = b->way[0].takes;
    dregs_status status = DREGS_OK;
    uint64_t load, end, before = 0;
    int i;

    end = isfinite(last) ? (uint64_t)(last / b->shown.parts * 1.5) + 4 : 1000;
    for (i = 0; i < CURVE && !status; i++) {
        dregs_beaker_way way = {0};
        load = 1 + (uint64_t)((double)(end - 1) * i / (CURVE - 1));
        if (load == before)
            continue;
        before = load;
        status = keep(line, load, &way);
        if (!status)
            status =
                dregs_answer_beaker_draw(b, 0, (double)load * b->shown.parts, shown_of(b, &way));
    }
    return status;
}

/* What is left against the volume that one way takes. */
static dregs_status draw_volumes(struct beaker *b, unsigned index, const char *property,
                                 const char *const *stage, unsigned stages)
{
    double answer = b->way[index].takes / stages;
    dregs_status status = DREGS_OK;
    unsigned s;
    int i;

    for (i = 0; i < CURVE && !status && isfinite(answer); i++) {
        double value = answer * pow(CURVE_RANGE, (double)i / (CURVE - 1) * 1.4 - 0.9);
        dregs_setting setting[2];
        dregs_line *changed = NULL;
        dregs_beaker_way way = {0};
        for (s = 0; s < stages; s++)
            setting[s] = (dregs_setting){0, stage[s], property, value};
        if (dregs_line_with(b->line[index], setting, stages, &changed, NULL))
            continue; /* less than the film can be */
        status = keep(changed, 1, &way);
        dregs_line_free(changed);
        if (!status)
            status = dregs_answer_beaker_draw(b, index, value * stages, shown_of(b, &way));
    }
    return status;
}

/* ---- the questions ---- */

dregs_status dregs_answer_beaker_parts(struct beaker *b)
{
    static const char *const stage[] = {"beaker"};
    dregs_beaker_way *way = dregs_answer_beaker_way(b, 0, DREGS_BEAKER_COUNT, NAN);
    dregs_line *still = NULL;
    dregs_status status = dregs_answer_beaker_rinsing(b, 0, BEAKER_DIP, 1, NAN, 0);

    if (!status)
        status = describe(b);
    if (status)
        return status;
    b->shown.volume = b->given[DREGS_BEAKER_BEAKER].si;
    snprintf(way->way, sizeof way->way, "through one beaker");
    status = dregs_line_parse("the line", way->text, way->length, b->liquids, &still, NULL);
    if (!status)
        status = size(b, 0, "dump every", stage, 1, 1, PARTS_MOST, b->shown.parts);
    if (!status && isnan(way->takes))
        way->takes = 0; /* not even the first load */
    if (!status)
        status =
            keep(still,
                 way->takes >= 1 && isfinite(way->takes) ? (uint64_t)(way->takes / b->shown.parts)
                 : isfinite(way->takes)                  ? 1
                                                         : (uint64_t)PARTS_MOST,
                 way);
    if (!status) {
        status = draw_loads(b, still);
        judge(b, way);
    }
    dregs_line_free(still);
    return status;
}

dregs_status dregs_answer_beaker_rinses(struct beaker *b)
{
    unsigned most = (unsigned)dregs_answer_beaker_or(b, DREGS_BEAKER_TIMES, 2), n;
    uint64_t loads = (uint64_t)dregs_answer_beaker_or(b, DREGS_BEAKER_LOADS, 1);
    double total = b->given[DREGS_BEAKER_TOTAL].si;
    char volume[DREGS_NUMBER_TEXT + 8];
    dregs_status status = DREGS_OK;

    for (n = 1; n <= most && !status; n++) {
        dregs_beaker_way *way = dregs_answer_beaker_way(b, n - 1, DREGS_BEAKER_VOLUME, total);
        (void)dregs_answer_beaker_volume(volume, total / n);
        snprintf(way->way, sizeof way->way, n == 1 ? "%u rinse of %s" : "%u rinses of %s each", n,
                 volume);
        status = dregs_answer_beaker_rinsing(b, n - 1, BEAKER_DIP, n, total / n, 0);
        if (!status && n == 1)
            status = describe(b);
        if (!status)
            status = keep(way->line, loads, way);
        if (status)
            break;
        judge(b, way);
        if (!b->given[DREGS_BEAKER_FILM].text)
            way->concentration = way->residue = NAN; /* only shares are known */
        status = dregs_answer_beaker_draw(b, n - 1, n, way->left);
    }
    b->shown.best = most - 1;
    if (!status && !b->given[DREGS_BEAKER_LOADS].text)
        status = dregs_answer_beaker_assume(b, "fresh liquid for each load");
    return status;
}

/* Poured over, as way number `index`. */
static dregs_status pour(struct beaker *b, unsigned index, const char *words)
{
    static const char *const stage[] = {"bottle"};
    dregs_beaker_way *way = dregs_answer_beaker_way(b, index, DREGS_BEAKER_VOLUME, NAN);
    double film;
    dregs_status status;

    snprintf(way->way, sizeof way->way, "%s", words);
    /* a start that leaves the film stated, whatever that is: from then on it is known */
    status = dregs_answer_beaker_rinsing(b, index, BEAKER_POUR, 1, 1, 0);
    if (status)
        return status;
    film = dregs_line_carried(b->line[index], 0)->out;
    status = dregs_answer_beaker_rinsing(b, index, BEAKER_POUR, 1, 10 * film, 0);
    if (!status && index == 0)
        status = describe(b);
    if (!status)
        status = size(b, index, "use", stage, 1, film, VOLUME_MOST * film, 1);
    if (!status)
        status = keep(way->line, 1, way);
    if (!status)
        judge(b, way);
    return status ? status : draw_volumes(b, index, "use", stage, 1);
}

dregs_status dregs_answer_beaker_bottle(struct beaker *b)
{
    return pour(b, 0, "poured over");
}

/* Dipped so many times, each time into fresh liquid. */
static dregs_status dip(struct beaker *b, unsigned index, unsigned times)
{
    static const char *const one[] = {"beaker"}, *const two[] = {"rinse 1", "rinse 2"};
    const char *const *stage = times == 1 ? one : two;
    dregs_beaker_way *way = dregs_answer_beaker_way(b, index, DREGS_BEAKER_VOLUME, NAN);
    double film;
    dregs_status status = dregs_answer_beaker_rinsing(b, index, BEAKER_DIP, times, 1, 1);

    snprintf(way->way, sizeof way->way,
             times == 1 ? "dipped once" : "dipped twice (half each time)");
    if (status)
        return status;
    film = dregs_line_carried(b->line[index], 0)->out;
    if (index == 0)
        status = describe(b);
    if (!status)
        status = size(b, index, "volume", stage, times, 2 * film, VOLUME_MOST * film, times);
    if (!status)
        status = keep(way->line, 1, way);
    if (!status)
        judge(b, way);
    return status ? status : draw_volumes(b, index, "volume", stage, times);
}

dregs_status dregs_answer_beaker_fresh(struct beaker *b)
{
    dregs_status status = dip(b, 0, 1);
    unsigned i;

    if (!status)
        status = dip(b, 1, 2);
    if (!status && b->given[DREGS_BEAKER_MIXING].text)
        status = pour(b, 2, "poured over");
    for (i = 1; i < b->shown.ways && !status; i++)
        if (isfinite(b->way[i].takes) && !(b->way[i].takes >= b->way[b->shown.best].takes))
            b->shown.best = i;
    return status;
}
