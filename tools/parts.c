/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* parts.c: parts of a run of many draws: --shard, --save and --merge. */
#include "parts.h"

#include <errno.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int parts_shard(const char *text, uint64_t *shard, uint64_t *shards)
{
    const char *slash = strchr(text, '/');
    char first[32];

    if (slash && (size_t)(slash - text) < sizeof first) {
        snprintf(first, sizeof first, "%.*s", (int)(slash - text), text);
        *shard = dregs_ask_count(first);
        *shards = dregs_ask_count(slash + 1);
        if (*shard && *shards && *shard <= *shards && *shards <= DREGS_SHARDS_MOST)
            return 0;
    }
    return front_usage("--shard '%s' is not a part such as 3/64, from 1/N to N/N with N up to %d",
                       text, DREGS_SHARDS_MOST);
}

/* ---- a text that grows ---- */

struct text {
    char *bytes;
    size_t length, room;
};

static int add(void *user, const char *bytes, size_t length)
{
    struct text *text = user;

    if (text->length + length > text->room) {
        size_t room = 2 * (text->length + length) + 4096;
        char *bigger = realloc(text->bytes, room);
        if (!bigger)
            return 1;
        text->bytes = bigger;
        text->room = room;
    }
    memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    return 0;
}

int parts_save(const char *file, const dregs_ensemble_result *counts,
               const dregs_ensemble_part *part)
{
    struct text text = {NULL, 0, 0};
    int status = FRONT_IO;

    if (dregs_ensemble_write(counts, part, add, &text))
        (void)front_say(FRONT_IO, "out of memory");
    else
        status = front_write(file, text.bytes, text.length);
    free(text.bytes);
    return status;
}

/* ---- putting together ---- */

static int read_text(const char *file, struct text *text)
{
    enum { PIECE = 1 << 16 };
    char *piece = malloc(PIECE);
    FILE *from = fopen(file, "rb");
    size_t got = PIECE;
    int status = FRONT_DONE;

    if (!from || !piece) {
        status = front_say(FRONT_IO, "%s: %s", file, strerror(from ? ENOMEM : errno));
    } else {
        errno = 0;
        while (got == PIECE && !status) {
            got = fread(piece, 1, PIECE, from);
            if (text->length + got > DREGS_PART_BYTES)
                status = front_say(FRONT_BAD_DATA, "%s: larger than any part", file);
            else if (add(text, piece, got))
                status = front_say(FRONT_IO, "out of memory");
        }
        if (!status && ferror(from))
            status = front_say(FRONT_IO, "%s: %s", file, strerror(errno));
    }
    if (from)
        fclose(from);
    free(piece);
    return status;
}

static int read_part(const char *file, dregs_ensemble_part *part, dregs_ensemble_result **counts)
{
    struct text text = {NULL, 0, 0};
    dregs_faults faults = {0};
    dregs_status status;
    int exit_status = read_text(file, &text);

    if (!exit_status) {
        status = dregs_ensemble_read(file, text.bytes ? text.bytes : "", text.length, part, counts,
                                     &faults);
        exit_status = status ? front_faults(&faults, status) : FRONT_DONE;
    }
    free(text.bytes);
    return exit_status;
}

/* Is this a part of the run that the first one is of? */
static int belongs(const dregs_ensemble_part *part, const dregs_ensemble_part *first)
{
    return part->digest == first->digest && part->shards == first->shards &&
           part->draws == first->draws && part->seed == first->seed;
}

static int say_missing(char **files_of, const dregs_ensemble_part *first)
{
    char names[160] = "";
    uint64_t i, missing = 0;
    size_t used = 0;

    for (i = 0; i < first->shards; i++) {
        if (files_of[i])
            continue;
        if (missing++ < 8)
            used += (size_t)snprintf(names + used, sizeof names - used, "%s%" PRIu64,
                                     missing > 1 ? ", " : "", i + 1);
    }
    if (!missing)
        return FRONT_DONE;
    return front_say(FRONT_BAD_DATA, "%s %s%s of %" PRIu64 " %s missing",
                     missing > 1 ? "parts" : "part", names, missing > 8 ? ", ..." : "",
                     first->shards, missing > 1 ? "are" : "is");
}

/* Reads one file more; `files_of` holds for each part the file it was read from. */
static int merge_one(char *file, const char *first_file, char **files_of,
                     const dregs_ensemble_part *first, dregs_ensemble_result *counts)
{
    dregs_ensemble_part part;
    dregs_ensemble_result *more = NULL;
    int status = read_part(file, &part, &more);

    if (status)
        return status;
    if (!belongs(&part, first))
        status = front_say(FRONT_BAD_DATA,
                           "%s: of another run than %s: the file, seed, options, number of parts "
                           "or version differ",
                           file, first_file);
    else if (files_of[part.shard - 1])
        status = front_say(FRONT_BAD_DATA, "%s: part %" PRIu64 " is there already, from %s", file,
                           part.shard, files_of[part.shard - 1]);
    else if (dregs_ensemble_merge(counts, more))
        status = front_say(FRONT_BAD_DATA, "%s: does not go with %s", file, first_file);
    else
        files_of[part.shard - 1] = file;
    dregs_ensemble_result_free(more);
    return status;
}

int parts_merge(char **files, int count, dregs_ensemble_part *part, dregs_ensemble_result **counts)
{
    dregs_ensemble_part first;
    dregs_ensemble_result *made = NULL;
    char **files_of;
    int status = read_part(files[0], &first, &made), i;

    if (status)
        return status;
    files_of = first.shards <= DREGS_SHARDS_MOST ? calloc(first.shards, sizeof *files_of) : NULL;
    if (!files_of)
        status = front_say(FRONT_IO, "out of memory");
    else
        files_of[first.shard - 1] = files[0];
    for (i = 1; i < count && !status; i++)
        status = merge_one(files[i], files[0], files_of, &first, made);
    if (!status)
        status = say_missing(files_of, &first);
    free(files_of);
    if (status) {
        dregs_ensemble_result_free(made);
        return status;
    }
    *part = first;
    *counts = made;
    return FRONT_DONE;
}
