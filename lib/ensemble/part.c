/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* part.c: the counts of some draws as a text, so that a run can be divided among machines.
 *
 * A line for each thing, words and numbers with commas between. Doubles and limbs are written as
 * the hexadecimal digits of their bits: nothing is lost and nothing depends on how decimals are
 * written. The last line holds a checksum of all before it.
 */
#include "base/text.h"
#include "dregs/version.h"
#include "ensemble/inside.h"

#include <inttypes.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define FNV_START UINT64_C(0xcbf29ce484222325)
#define FNV_PRIME UINT64_C(0x100000001b3)

/* FNV-1a (Fowler, Noll & Vo): tells slips from one another, not forgers. */
static uint64_t fnv(uint64_t hash, const void *bytes, size_t length)
{
    const unsigned char *at = bytes;

    for (; length > 0; length--)
        hash = (hash ^ *at++) * FNV_PRIME;
    return hash;
}

static uint64_t bits_of(double value)
{
    uint64_t bits;

    memcpy(&bits, &value, sizeof bits);
    return bits;
}

static double value_of(uint64_t bits)
{
    double value;

    memcpy(&value, &bits, sizeof value);
    return value;
}

/* A number by its digits, so that the byte order of the machine does not count. */
static uint64_t fnv_number(uint64_t hash, uint64_t number)
{
    char text[20];

    return fnv(hash, text, (size_t)snprintf(text, sizeof text, "%016" PRIx64 ",", number));
}

/* A property of a liquid; rows of the line are in its text. */
static uint64_t fnv_property(uint64_t hash, const dregs_drawn *drawn)
{
    if (!drawn->liquid)
        return hash;
    hash = fnv(hash, drawn->liquid, strlen(drawn->liquid) + 1);
    hash = fnv_number(hash, (uint64_t)drawn->property);
    hash = fnv_number(hash, drawn->shares);
    return fnv_number(hash, bits_of(drawn->sd));
}

uint64_t dregs_ensemble_digest(const dregs_ensemble *ensemble, const dregs_ensemble_result *result,
                               uint64_t draws)
{
    const dregs_line *line = dregs_ensemble_line(ensemble);
    size_t length = 0;
    const char *text = line ? dregs_line_text(line, &length) : "";
    const char *version = dregs_version();
    uint64_t hash = fnv(FNV_START, text, length);
    unsigned i;

    for (i = 0; i < dregs_ensemble_rows(ensemble); i++)
        hash = fnv_property(hash, dregs_ensemble_row(ensemble, i));
    hash = fnv(hash, version, strlen(version) + 1);
    hash = fnv_number(hash, dregs_ensemble_seed(ensemble));
    hash = fnv_number(hash, draws);
    for (i = 0; i < result->figures; i++) {
        hash = fnv_number(hash, bits_of(result->from[i]));
        hash =
            fnv_number(hash, isnan(result->figure[i].limit) ? 0 : bits_of(result->figure[i].limit));
    }
    return hash;
}

int dregs_ensemble_stated(const dregs_ensemble_result *result, unsigned figure, double *stated)
{
    if (figure >= result->figures)
        return 0;
    *stated = result->from[figure];
    return 1;
}

dregs_status dregs_ensemble_shard(uint64_t draws, uint64_t shard, uint64_t shards, uint64_t *first,
                                  uint64_t *count)
{
    uint64_t each, more;

    if (shards < 1 || shards > DREGS_SHARDS_MOST || shards > draws || shard < 1 || shard > shards)
        return DREGS_DOMAIN;
    each = draws / shards;
    more = draws % shards; /* the first ones have one draw more */
    *first = (shard - 1) * each + (shard - 1 < more ? shard - 1 : more);
    *count = each + (shard - 1 < more);
    return DREGS_OK;
}

dregs_status dregs_ensemble_merge(dregs_ensemble_result *result, const dregs_ensemble_result *other)
{
    unsigned i;

    if (result->figures != other->figures)
        return DREGS_DOMAIN;
    for (i = 0; i < result->figures; i++)
        if (bits_of(result->from[i]) != bits_of(other->from[i]) ||
            !(result->figure[i].limit == other->figure[i].limit ||
              (isnan(result->figure[i].limit) && isnan(other->figure[i].limit))))
            return DREGS_DOMAIN;
    return dregs_ensemble_join(result, other) ? DREGS_OK : DREGS_NO_MEMORY;
}

/* ---- writing ---- */

struct writer {
    int (*sink)(void *user, const char *bytes, size_t length);
    void *user;
    uint64_t hash;
    int failed;
};

static void put(struct writer *w, const char *format, ...) DREGS_FORMAT(2, 3);
static void put(struct writer *w, const char *format, ...)
{
    char text[256];
    va_list arguments;
    int length;

    va_start(arguments, format);
    length = vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    w->hash = fnv(w->hash, text, (size_t)length);
    if (!w->failed)
        w->failed = w->sink(w->user, text, (size_t)length);
}

static void put_sum(struct writer *w, const char *name, unsigned figure, const struct exact *sum)
{
    struct exact carried = *sum;
    int i;

    dregs_ensemble_carry(&carried);
    for (i = 0; i < EXACT_LIMBS; i++)
        if (carried.limb[i])
            put(w, "%s,%u,%d,%" PRIx64 "\n", name, figure, i, (uint64_t)carried.limb[i]);
}

static void put_figure(struct writer *w, const dregs_ensemble_result *result, unsigned index)
{
    const struct figure *f = &result->figure[index];
    size_t c, i;

    put(w, "figure,%u,%" PRIu64 ",%" PRIu64 "\n", index, f->count, f->met);
    put(w, "ends,%u,%" PRIx64 ",%" PRIx64 "\n", index, bits_of(f->least), bits_of(f->most));
    put(w, "from,%u,%" PRIx64 ",%" PRIx64 "\n", index, bits_of(result->from[index]),
        bits_of(f->limit));
    put_sum(w, "sum", index, &f->sum);
    put_sum(w, "squares", index, &f->squares);
    for (c = 0; c < f->bins.chunks; c++)
        for (i = 0; i < CHUNK; i++)
            if (f->bins.chunk[c]->count[i])
                put(w, "bin,%u,%" PRId64 ",%" PRIu64 "\n", index,
                    f->bins.chunk[c]->id * CHUNK + (int64_t)i, f->bins.chunk[c]->count[i]);
}

dregs_status dregs_ensemble_write(const dregs_ensemble_result *result,
                                  const dregs_ensemble_part *part,
                                  int (*sink)(void *user, const char *bytes, size_t length),
                                  void *user)
{
    struct writer w = {sink, user, FNV_START, 0};
    unsigned i;

    put(&w, "dregs-part,1,%u\n", result->figures);
    put(&w, "digest,%" PRIx64 "\n", part->digest);
    put(&w, "shard,%" PRIu64 ",%" PRIu64 "\n", part->shard, part->shards);
    put(&w, "draws,%" PRIu64 ",%" PRIu64 "\n", part->draws, part->seed);
    put(&w, "counted,%" PRIu64 ",%" PRIu64 "\n", result->count, result->failed);
    put(&w, "failed,%" PRIu64 ",%d\n", result->first_failed, (int)result->why);
    for (i = 0; i < result->figures; i++)
        put_figure(&w, result, i);
    put(&w, "end,%" PRIx64 "\n", w.hash);
    return w.failed ? DREGS_IO : DREGS_OK;
}

/* ---- reading ---- */

enum { WORDS_MOST = 4 };

struct reader {
    const char *at, *end;
    unsigned long line;
    char text[WORDS_MOST][32]; /* the words of the line */
    int words;
    dregs_ensemble_part *part;
    dregs_ensemble_result *result;
    unsigned seen; /* of the lines that there must be: a bit each */
    int ended, short_of_memory;
};

/* The words of the next line; 0 at the end of the text, or for a line that no part has. */
static int next(struct reader *r)
{
    size_t used = 0;

    r->words = 0;
    r->line++;
    if (r->at == r->end)
        return 0;
    for (; r->at < r->end && *r->at != '\n'; r->at++) {
        if (*r->at == ',') {
            r->text[r->words++][used] = '\0';
            used = 0;
        } else if (used + 1 < sizeof r->text[0])
            r->text[r->words][used++] = *r->at;
        else
            return 0;
        if (r->words == WORDS_MOST)
            return 0;
    }
    if (r->at == r->end)
        return 0; /* cut off */
    r->at++;
    r->text[r->words++][used] = '\0';
    return 1;
}

/* A whole number in a base of 10 or 16; 0 when it is none. */
static int whole(const char *text, unsigned base, uint64_t *number)
{
    static const char digits[] = "0123456789abcdef";
    uint64_t value = 0;

    if (!*text)
        return 0;
    for (; *text; text++) {
        const char *digit = strchr(digits, *text);
        unsigned worth = digit ? (unsigned)(digit - digits) : base;
        if (worth >= base || value > (UINT64_MAX - worth) / base)
            return 0;
        value = value * base + worth;
    }
    *number = value;
    return 1;
}

/* The two numbers behind the word of a line. */
static int pair(const struct reader *r, int at, unsigned base, uint64_t *one, uint64_t *other)
{
    return r->words == at + 2 && whole(r->text[at], base, one) &&
           whole(r->text[at + 1], base, other);
}

static struct figure *figure_at(const struct reader *r)
{
    uint64_t index;

    if (r->words != 4 || !whole(r->text[1], 10, &index) || index >= r->result->figures)
        return NULL;
    return &r->result->figure[index];
}

static int read_sum(const struct reader *r, struct exact *sum)
{
    uint64_t limb, bits;

    if (!whole(r->text[2], 10, &limb) || limb >= EXACT_LIMBS || !whole(r->text[3], 16, &bits))
        return 0;
    memcpy(&sum->limb[limb], &bits, sizeof bits);
    return 1;
}

static int read_bin(struct reader *r, struct bins *bins)
{
    int negative = r->text[2][0] == '-';
    uint64_t bin, count;

    if (!whole(r->text[2] + negative, 10, &bin) || !whole(r->text[3], 10, &count) ||
        bin > (uint64_t)1 << 22)
        return 0;
    r->short_of_memory = !dregs_ensemble_put(bins, negative ? -(int64_t)bin : (int64_t)bin, count);
    return !r->short_of_memory;
}

/* A line that tells of a figure. */
static int read_figure(struct reader *r)
{
    struct figure *f = figure_at(r);
    uint64_t one, other;

    if (!f)
        return 0;
    if (strcmp(r->text[0], "figure") == 0)
        return pair(r, 2, 10, &f->count, &f->met);
    if (strcmp(r->text[0], "bin") == 0)
        return read_bin(r, &f->bins);
    if (strcmp(r->text[0], "sum") == 0)
        return read_sum(r, &f->sum);
    if (strcmp(r->text[0], "squares") == 0)
        return read_sum(r, &f->squares);
    if (!pair(r, 2, 16, &one, &other))
        return 0;
    if (strcmp(r->text[0], "ends") == 0) {
        f->least = value_of(one);
        f->most = value_of(other);
    } else if (strcmp(r->text[0], "from") == 0) {
        r->result->from[f - r->result->figure] = value_of(one);
        f->limit = value_of(other);
    } else
        return 0;
    return 1;
}

/* A line that there is one of. */
static int read_once(struct reader *r)
{
    dregs_ensemble_part *part = r->part;
    uint64_t why = 0;
    int good = 0;
    unsigned bit = 0;

    if (strcmp(r->text[0], "digest") == 0) {
        bit = 1;
        good = r->words == 2 && whole(r->text[1], 16, &part->digest);
    } else if (strcmp(r->text[0], "shard") == 0) {
        bit = 2;
        good = pair(r, 1, 10, &part->shard, &part->shards);
    } else if (strcmp(r->text[0], "draws") == 0) {
        bit = 4;
        good = pair(r, 1, 10, &part->draws, &part->seed);
    } else if (strcmp(r->text[0], "counted") == 0) {
        bit = 8;
        good = pair(r, 1, 10, &r->result->count, &r->result->failed);
    } else if (strcmp(r->text[0], "failed") == 0) {
        bit = 16;
        good = pair(r, 1, 10, &r->result->first_failed, &why) && why <= DREGS_IO;
        r->result->why = (dregs_status)why;
    }
    good = good && !(r->seen & bit);
    r->seen |= bit;
    return good;
}

static int read_end(struct reader *r, const char *bytes, const char *begin)
{
    uint64_t hash;

    r->ended = r->words == 2 && whole(r->text[1], 16, &hash) &&
               hash == fnv(FNV_START, bytes, (size_t)(begin - bytes)) && r->at == r->end &&
               r->seen == 31;
    return r->ended;
}

static dregs_status read_lines(struct reader *r, const char *bytes)
{
    uint64_t version, figures;

    if (!next(r) || strcmp(r->text[0], "dregs-part") != 0 || !pair(r, 1, 10, &version, &figures) ||
        version != 1 || figures < 1 || figures > DREGS_FIGURES_MOST)
        return DREGS_BAD_DATA;
    r->result = dregs_ensemble_result_new((unsigned)figures, NULL, NULL);
    if (!r->result)
        return DREGS_NO_MEMORY;
    while (!r->ended) {
        const char *begin = r->at;
        int good = next(r);
        if (good)
            good = strcmp(r->text[0], "end") == 0 ? read_end(r, bytes, begin)
                   : r->words == 4                ? read_figure(r)
                                                  : read_once(r);
        if (!good)
            return r->short_of_memory ? DREGS_NO_MEMORY : DREGS_BAD_DATA;
    }
    return DREGS_OK;
}

dregs_status dregs_ensemble_read(const char *name, const char *bytes, size_t length,
                                 dregs_ensemble_part *part, dregs_ensemble_result **result,
                                 dregs_faults *faults)
{
    dregs_ensemble_part read = {0, 0, 0, 0, 0};
    struct reader r = {.at = bytes, .end = bytes + length, .part = &read};
    dregs_status status = read_lines(&r, bytes);

    if (faults)
        snprintf(faults->file, sizeof faults->file, "%s", name);
    if (!status && (read.shards < 1 || read.shard < 1 || read.shard > read.shards))
        status = DREGS_BAD_DATA;
    if (status) {
        dregs_ensemble_result_free(r.result);
        if (status == DREGS_NO_MEMORY)
            return dregs_fault_add(faults, status, 0, "out of memory");
        return dregs_fault_add(faults, status, r.line,
                               r.line == 1 ? "this is no part of an ensemble, as --save writes it"
                                           : "the part is cut off or was changed");
    }
    *part = read;
    *result = r.result;
    return DREGS_OK;
}
