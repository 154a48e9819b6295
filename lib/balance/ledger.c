/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* ledger.c: which sums a vector z keeps besides the tanks, and in which rows. */
#include "balance/map.h"
#include "line/line.h"

#include <string.h>

#define BIT(stream) (1u << (stream))

static void begin(const dregs_line *line, struct ledger *ledger)
{
    memset(ledger->row, 0xff, sizeof ledger->row); /* LEDGER_NOWHERE */
    ledger->tanks = dregs_line_tanks(line);
    ledger->outs = ledger->within = ledger->buffers = ledger->tanks;
    ledger->dim = ledger->tanks + 1;
}

void dregs_balance_ledger_plain(const dregs_line *line, struct ledger *ledger)
{
    begin(line, ledger);
}

/* One row for a stream of all stages. */
static void keep_all(const dregs_line *line, struct ledger *ledger, dregs_stream which, size_t row)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++)
        ledger->row[which][i] = (unsigned short)row;
}

void dregs_balance_ledger_closed(const dregs_line *line, struct ledger *ledger)
{
    int which;

    begin(line, ledger);
    for (which = DREGS_STREAM_DRAINED; which <= DREGS_STREAM_LEFT; which++)
        keep_all(line, ledger, (dregs_stream)which, ledger->tanks);
    ledger->within = ledger->buffers = ledger->tanks + 1;
    ledger->dim = ledger->tanks + 2;
}

void dregs_balance_ledger_cleared(const dregs_line *line, unsigned stage, struct ledger *ledger)
{
    dregs_balance_ledger_closed(line, ledger);
    ledger->row[DREGS_STREAM_CLEARED][stage] = (unsigned short)(ledger->tanks + 1);
    ledger->within = ledger->buffers = ledger->tanks + 2;
    ledger->dim = ledger->tanks + 3;
}

void dregs_balance_ledger_totals(const dregs_line *line, struct ledger *ledger)
{
    static const struct {
        dregs_stream which;
        enum total sum;
    } kept[] = {
        {DREGS_STREAM_SOIL, TOTAL_SOIL},           {DREGS_STREAM_FED, TOTAL_FED},
        {DREGS_STREAM_TOPPED, TOTAL_FED},          {DREGS_STREAM_SPRAYED, TOTAL_SPRAYED},
        {DREGS_STREAM_REFILLED, TOTAL_REFILLED},   {DREGS_STREAM_DRAINED, TOTAL_OVERFLOW},
        {DREGS_STREAM_RUNOFF, TOTAL_RUNOFF},       {DREGS_STREAM_DUMPED, TOTAL_DUMPED},
        {DREGS_STREAM_CLEARED, TOTAL_CLEARED},     {DREGS_STREAM_BLOWN_OFF, TOTAL_BLOWN_OFF},
        {DREGS_STREAM_COLLECTED, TOTAL_BLOWN_OFF}, {DREGS_STREAM_LEFT, TOTAL_CARRIED}};
    size_t i;

    begin(line, ledger);
    for (i = 0; i < sizeof kept / sizeof kept[0]; i++)
        keep_all(line, ledger, kept[i].which, ledger->tanks + (size_t)kept[i].sum);
    ledger->outs = ledger->tanks + TOTAL_OVERFLOW;
    ledger->within = ledger->buffers = ledger->tanks + TOTALS;
    ledger->dim = ledger->buffers + 1;
}

/* Can a tank's stage have a stream at all? `given`: other tanks are refilled from it. */
static int tank_has(const dregs_line *line, const dregs_stage *stage, int given, int liquid,
                    unsigned substance, dregs_stream which)
{
    int to_stage = stage->overflow_to.kind == DREGS_LINK_STAGE;
    int from_stage = stage->refill_from.kind == DREGS_LINK_STAGE;

    switch (which) {
    case DREGS_STREAM_FED:
        return stage->flow.si > 0;
    case DREGS_STREAM_TOPPED:
        return stage->top_up_from.kind != DREGS_LINK_STAGE;
    case DREGS_STREAM_DRAWN:
        return stage->top_up_from.kind == DREGS_LINK_STAGE;
    case DREGS_STREAM_REFILLED:
        return (stage->dump_every.row || given) && !from_stage;
    case DREGS_STREAM_MOVED:
        return (stage->dump_every.row || given) && from_stage;
    case DREGS_STREAM_DRAINED:
        return !to_stage;
    case DREGS_STREAM_HANDED:
        return to_stage;
    case DREGS_STREAM_DUMPED:
        return stage->dump_every.row != 0;
    case DREGS_STREAM_CLEARED:
        return !liquid && stage->clearing[substance].si > 0;
    case DREGS_STREAM_EVAPORATED:
        return liquid && dregs_line_tank(line, (unsigned)stage->tank)->evaporation > 0;
    default:
        return 0;
    }
}

static int is_given(const dregs_line *line, int tank)
{
    unsigned i;

    for (i = 0; i < dregs_line_stages(line); i++) {
        dregs_link from = dregs_line_stage(line, i)->refill_from;
        if (from.kind == DREGS_LINK_STAGE && dregs_line_stage(line, from.index)->tank == tank)
            return 1;
    }
    return 0;
}

/* The streams that a stage has, a bit for each. */
static unsigned streams_of(const dregs_line *line, unsigned index, int liquid, unsigned substance)
{
    const dregs_stage *stage = dregs_line_stage(line, index);
    int last = index == dregs_line_stages(line) - 1, given, which;
    struct stage_visit visit;
    unsigned streams, i, k;

    streams =
        last ? BIT(liquid ? DREGS_STREAM_DRIED : DREGS_STREAM_LEFT) : BIT(DREGS_STREAM_PASSED);
    for (k = 0; k < dregs_line_kinds(line); k++) {
        dregs_stage_visit(dregs_line_of_kind(line, k), index, substance, &visit);
        if (visit.off > 0)
            streams |= BIT(DREGS_STREAM_SOIL);
        for (i = 0; i < visit.parts; i++)
            streams |= BIT(visit.part[i].stream);
    }
    if (stage->tank < 0 || stage->shares.row)
        return streams;
    given = is_given(line, stage->tank);
    for (which = 0; which < STREAMS; which++)
        if (tank_has(line, stage, given, liquid, substance, (dregs_stream)which))
            streams |= BIT(which);
    return streams;
}

void dregs_balance_ledger_stages(const dregs_line *line, unsigned substance, struct ledger *ledger)
{
    int liquid = dregs_stage_is_liquid(line, substance), which;
    size_t next = dregs_line_tanks(line);
    unsigned streams[DREGS_LINE_STAGES], i;

    begin(line, ledger);
    for (i = 0; i < dregs_line_stages(line); i++)
        streams[i] = streams_of(line, i, liquid, substance);
    for (which = 0; which < STREAMS; which++) {
        if (which == DREGS_STREAM_DRAINED)
            ledger->outs = next;
        if (which == DREGS_STREAM_PASSED)
            ledger->within = next;
        for (i = 0; i < dregs_line_stages(line); i++)
            if (streams[i] & BIT(which))
                ledger->row[which][i] = (unsigned short)next++;
    }
    ledger->buffers = next;
    ledger->dim = next + (liquid ? ledger->tanks : 0) + 1;
}
