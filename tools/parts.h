/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* parts.h: a run of many draws in parts, each in a file, and the parts put together again. */
#ifndef DREGS_TOOLS_PARTS_H
#define DREGS_TOOLS_PARTS_H

#include "front.h"

/* The argument of --shard, "3/64". Returns 0, or FRONT_USAGE after saying why. */
int parts_shard(const char *text, uint64_t *shard, uint64_t *shards);

/* Writes a part to a file, whole or not at all. Returns FRONT_DONE, or the status to exit with. */
int parts_save(const char *file, const dregs_ensemble_result *counts,
               const dregs_ensemble_part *part);

/* Reads all parts of a run, one after the other, and puts them together. One that is missing, there
 * twice, or of another run is refused by its name. Returns FRONT_DONE, or the status to exit with.
 */
int parts_merge(char **files, int count, dregs_ensemble_part *part, dregs_ensemble_result **counts);

#endif
