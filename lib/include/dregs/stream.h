/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* stream.h: the ways that a liquid or a solute takes into a line, out of it and through it. The
 * stages say which of them they have, the balance sums them, a tally asks for the sums.
 */
#ifndef DREGS_STREAM_H
#define DREGS_STREAM_H

#include "dregs/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/** What happens to a substance. A stream belongs to the stage named in brackets. */
typedef enum dregs_stream {
    /* into the line */
    DREGS_STREAM_FILLED,   /**< with the first fill of a tank [the tank's] */
    DREGS_STREAM_FED,      /**< with the flow of fresh feed [the tank's] */
    DREGS_STREAM_TOPPED,   /**< with fresh liquid that makes up a shortfall [the tank's] */
    DREGS_STREAM_REFILLED, /**< with fresh liquid after a dump [the tank's] */
    DREGS_STREAM_SPRAYED,  /**< with sprayed liquid [the spray] */
    DREGS_STREAM_SOIL,     /**< solutes: off the parts into a tank's liquid [the visit] */
    /* out of the line */
    DREGS_STREAM_DRAINED,    /**< over the weir to drain [the tank's] */
    DREGS_STREAM_RUNOFF,     /**< of a spray to drain [the spray] */
    DREGS_STREAM_DUMPED,     /**< to the waste tank [the tank's] */
    DREGS_STREAM_CLEARED,    /**< solutes: in filters, skimmers, beds [the tank's] */
    DREGS_STREAM_EVAPORATED, /**< liquids: from the open tank [the tank's] */
    DREGS_STREAM_DRIED,      /**< liquids: from the parts [the dry stage, or the last wet stage for
                                  a film that no dry stage takes] */
    DREGS_STREAM_BLOWN_OFF,  /**< by air knives, to drain [the dry stage] */
    DREGS_STREAM_COLLECTED,  /**< by air knives, into a catch tank, as waste [the dry stage] */
    DREGS_STREAM_LEFT,       /**< solutes: in the last film, on parts and basket [the last stage] */
    /* from stage to stage of the line */
    DREGS_STREAM_PASSED, /**< with the film to the next stage [the stage left] */
    DREGS_STREAM_HANDED, /**< over the weir to another tank [the tank left] */
    DREGS_STREAM_DRAWN,  /**< by other tanks to make up their shortfall [the tank that takes] */
    DREGS_STREAM_MOVED,  /**< by other tanks after their dump [the tank that takes] */
    DREGS_STREAM_CAUGHT, /**< runoff of a spray caught in a tank [the spray] */
    /* that stands still: at the start and at the end [the tank's] */
    DREGS_STREAM_HELD_FIRST,
    DREGS_STREAM_HELD_LAST,
    /* solutes, beside the balance of the liquids: soil that came with the parts [the first stage]
       = taken off (the sum of SOIL) + what never came off [the last stage] */
    DREGS_STREAM_ARRIVED,
    DREGS_STREAM_ADHERING,
    DREGS_STREAM_COUNT
} dregs_stream;

typedef enum dregs_stream_group {
    DREGS_GROUP_IN,
    DREGS_GROUP_OUT,
    DREGS_GROUP_WITHIN,
    DREGS_GROUP_HELD,
    DREGS_GROUP_ON_PARTS
} dregs_stream_group;

/** A stream's group; DREGS_GROUP_ON_PARTS for what is no stream. */
DREGS_API dregs_stream_group dregs_stream_group_of(dregs_stream stream);

/** A stream's name in words, "first fill", "to drain", ...; NULL past the end. */
DREGS_API const char *dregs_stream_name(dregs_stream stream);

#ifdef __cplusplus
}
#endif
#endif
