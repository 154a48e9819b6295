/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stream.c: the streams' names and groups. */
#include "dregs/stream.h"

#include <stddef.h>

dregs_stream_group dregs_stream_group_of(dregs_stream stream)
{
    if ((unsigned)stream <= DREGS_STREAM_SOIL)
        return DREGS_GROUP_IN;
    if ((unsigned)stream <= DREGS_STREAM_LEFT)
        return DREGS_GROUP_OUT;
    if ((unsigned)stream <= DREGS_STREAM_CAUGHT)
        return DREGS_GROUP_WITHIN;
    return (unsigned)stream <= DREGS_STREAM_HELD_LAST ? DREGS_GROUP_HELD : DREGS_GROUP_ON_PARTS;
}

const char *dregs_stream_name(dregs_stream stream)
{
    static const char *const names[DREGS_STREAM_COUNT] = {
        [DREGS_STREAM_FILLED] = "first fill",
        [DREGS_STREAM_FED] = "fed",
        [DREGS_STREAM_TOPPED] = "top-up",
        [DREGS_STREAM_REFILLED] = "refill",
        [DREGS_STREAM_SPRAYED] = "sprayed",
        [DREGS_STREAM_SOIL] = "taken off the parts",
        [DREGS_STREAM_DRAINED] = "overflow to drain",
        [DREGS_STREAM_RUNOFF] = "spray runoff to drain",
        [DREGS_STREAM_DUMPED] = "dumped",
        [DREGS_STREAM_CLEARED] = "cleared",
        [DREGS_STREAM_EVAPORATED] = "evaporated",
        [DREGS_STREAM_DRIED] = "dried off the parts",
        [DREGS_STREAM_BLOWN_OFF] = "blown off to drain",
        [DREGS_STREAM_COLLECTED] = "blown off to waste",
        [DREGS_STREAM_LEFT] = "left in the last film",
        [DREGS_STREAM_PASSED] = "film to the next stage",
        [DREGS_STREAM_HANDED] = "overflow to a stage",
        [DREGS_STREAM_DRAWN] = "top-up from a stage",
        [DREGS_STREAM_MOVED] = "refill from a stage",
        [DREGS_STREAM_CAUGHT] = "spray runoff to a stage",
        [DREGS_STREAM_HELD_FIRST] = "held at the start",
        [DREGS_STREAM_HELD_LAST] = "held at the end",
        [DREGS_STREAM_ARRIVED] = "soil that arrives",
        [DREGS_STREAM_ADHERING] = "never came off"};

    return (unsigned)stream < DREGS_STREAM_COUNT ? names[stream] : NULL;
}
