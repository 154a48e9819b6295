/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* tally_loose.c: solvent that nothing states the evaporation of, on its way to drain or waste. It
 * is counted as a liquid there, and may have gone into the air before.
 */
#include "answer/tally.h"
#include "line/line.h"

#include <math.h>

/* 1: a stage whose waste is the solvent's own; not a spray, whose mist no row of a line states. */
static int is_own(const dregs_line *line, const char *solvent, unsigned at)
{
    return dregs_line_stage(line, at)->kind != DREGS_SPRAY &&
           dregs_answer_tally_holds(dregs_line_waste_as(line, at), solvent);
}

static double sum_of(const dregs_tally *tally, unsigned solvent, unsigned at,
                     const dregs_stream *streams, unsigned count)
{
    double sum = 0;
    unsigned i;

    for (i = 0; i < count; i++)
        sum += dregs_answer_tally_stream_mass(tally, streams[i], solvent, at, DREGS_WHOLE);
    return sum;
}
#define SUM(tally, solvent, at, streams)                                                           \
    sum_of(tally, solvent, at, streams, sizeof(streams) / sizeof *(streams))

/* The tank of another liquid that states what evaporates states it of what is carried in too; its
 * open area tells that of its own liquid. */
static int is_silent_tank(const dregs_line *line, const char *solvent, unsigned at)
{
    const dregs_stage *stage = dregs_line_stage(line, at);

    return stage->tank >= 0 && dregs_line_tank(line, (unsigned)stage->tank)->stage == at &&
           !stage->evaporation.row && !is_own(line, solvent, at);
}

int dregs_answer_tally_loose_at(const dregs_tally *tally, const dregs_tally_solvent_law *s,
                                unsigned at)
{
    static const dregs_stream sprayed[] = {DREGS_STREAM_SPRAYED, DREGS_STREAM_RUNOFF,
                                           DREGS_STREAM_CAUGHT};
    static const dregs_stream held[] = {DREGS_STREAM_DRAINED, DREGS_STREAM_DUMPED,
                                        DREGS_STREAM_HANDED, DREGS_STREAM_EVAPORATED,
                                        DREGS_STREAM_HELD_LAST};
    const dregs_line *line = dregs_tally_line(tally);
    double all = dregs_answer_tally_way_mass(tally, TALLY_ADDED, s->index, DREGS_WHOLE) +
                 dregs_answer_tally_stream_mass(tally, DREGS_STREAM_HELD_FIRST, s->index,
                                                DREGS_WHOLE, DREGS_WHOLE);

    if (dregs_line_stage(line, at)->kind == DREGS_SPRAY)
        return SUM(tally, s->index, at, sprayed) > TALLY_CLOSES * all;
    return is_silent_tank(line, s->name, at) && SUM(tally, s->index, at, held) > TALLY_CLOSES * all;
}

static int is_of(const dregs_line *line, const char *solvent, const dregs_link *link, int own)
{
    return link->kind == DREGS_LINK_STAGE && is_own(line, solvent, link->index) == own;
}

/* A tank with the solvent takes it from other stages: what is lost there it makes up for. */
static int comes_back(const dregs_line *line, const char *solvent)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        if (is_own(line, solvent, i) ? is_of(line, solvent, &stage->top_up_from, 0) ||
                                           is_of(line, solvent, &stage->refill_from, 0)
                                     : is_of(line, solvent, &stage->runoff_to, 1) ||
                                           is_of(line, solvent, &stage->overflow_to, 1))
            return 1;
    }
    return 0;
}

struct tally_loose dregs_answer_tally_loose_of(const dregs_tally *tally,
                                               const dregs_tally_solvent_law *s)
{
    static const dregs_stream to_drain[] = {DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF,
                                            DREGS_STREAM_BLOWN_OFF};
    static const dregs_stream to_waste[] = {DREGS_STREAM_DUMPED, DREGS_STREAM_COLLECTED};
    static const dregs_stream first[] = {DREGS_STREAM_HELD_FIRST},
                              last[] = {DREGS_STREAM_HELD_LAST};
    const dregs_line *line = dregs_tally_line(tally);
    struct tally_loose loose = {0, 0, 0};
    unsigned i, stages = 0;

    for (i = 0; i < dregs_line_stages(line); i++)
        stages += dregs_answer_tally_loose_at(tally, s, i) != 0;
    for (i = 0; stages && i < dregs_line_stages(line); i++) {
        if (is_own(line, s->name, i))
            continue;
        loose.drain +=
            SUM(tally, s->index, i, to_drain) -
            dregs_answer_tally_back_mass(tally, s->index, i, DREGS_STREAM_DRAINED, DREGS_WHOLE);
        loose.waste +=
            SUM(tally, s->index, i, to_waste) -
            dregs_answer_tally_back_mass(tally, s->index, i, DREGS_STREAM_DUMPED, DREGS_WHOLE) +
            fmax(0, SUM(tally, s->index, i, last) - SUM(tally, s->index, i, first));
    }
    loose.unbounded = stages && comes_back(line, s->name);
    return loose;
}
