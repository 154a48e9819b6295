/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* compare.c: two lines side by side. A difference is applied to the first line by writing the rows
 * that a file with it would have, and reading them: words, links and stages need no other way than
 * numbers do.
 */
#include "base/gathered.h"
#include "base/grow.h"
#include "base/pool.h"
#include "base/text.h"
#include "dregs/answer_compare.h"
#include "dregs/bound.h"
#include "dregs/week.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Two quantities are one when they differ by no more than the rounding of their units. */
#define ALIKE 1e-12

/* A row that differs: in the first file, in the second one, 0 where it has none. */
struct piece {
    unsigned row[2], difference;
};

struct answer {
    dregs_compare_result shown; /* the first member: the user's pointer is ours */
    struct dregs_pool pool;
    const dregs_line *line[2];
    uint64_t loads;
    dregs_predict_result *of[2];
    dregs_compare_difference *difference;
    struct piece *piece;
    unsigned pieces, *piece_of[2]; /* of each row, counted from 1 */
    unsigned char *applied;        /* differences that the text in hand has */
    const char **kinds;            /* the items of the text in hand */
    struct dregs_gathered text;
};

void dregs_compare_request_init_of_size(dregs_compare_request *request, size_t size)
{
    dregs_compare_request made = {.size = size, .loads = DREGS_NO_END};

    dregs_give(request, size, &made, sizeof made);
}

static int is_kind(const dregs_row *row)
{
    return strcmp(row->property, "kind") == 0;
}

static unsigned find(const dregs_line *line, const char *item, const char *property)
{
    unsigned row;

    for (row = 1; row <= dregs_line_rows(line); row++) {
        const dregs_row *cells = dregs_line_row(line, row);
        if (strcmp(cells->item, item) == 0 && strcmp(cells->property, property) == 0)
            return row;
    }
    return 0;
}

static int alike(double x, double y)
{
    return x == y || fabs(x - y) <= ALIKE * fmax(fabs(x), fabs(y));
}

/* Do two rows state the same, in whatever unit? */
static int same(const struct answer *answer, unsigned a, unsigned b)
{
    const dregs_row *of_a = dregs_line_row(answer->line[0], a);
    const dregs_row *of_b = dregs_line_row(answer->line[1], b);
    dregs_value value_a, value_b;
    double varies_a = 0.0, varies_b = 0.0;

    if (strcmp(of_a->with, of_b->with) != 0)
        return 0;
    if (strcmp(of_a->value, of_b->value) == 0 && strcmp(of_a->unit, of_b->unit) == 0 &&
        strcmp(of_a->spread, of_b->spread) == 0 && strcmp(of_a->varies, of_b->varies) == 0)
        return 1;
    if (dregs_line_value(answer->line[0], a, &value_a) ||
        dregs_line_value(answer->line[1], b, &value_b) ||
        dregs_line_varies(answer->line[0], a, &varies_a) ||
        dregs_line_varies(answer->line[1], b, &varies_b))
        return 0;
    return alike(value_a.si, value_b.si) && alike(value_a.sd, value_b.sd) &&
           alike(varies_a, varies_b);
}

/* ---- the differences ---- */

/* Has one file alone this item, or each of another kind? */
static int is_whole(const struct answer *answer, const char *item)
{
    unsigned a = find(answer->line[0], item, "kind"), b = find(answer->line[1], item, "kind");

    return a && b ? !same(answer, a, b) : a || b;
}

/* Does a row name an item: as its value, or as the solute at the end of its property? */
static int names(const dregs_row *row, const char *item)
{
    size_t length = strlen(row->property), tail = strlen(item);

    if (strcmp(row->value, item) == 0 || strcmp(row->property, item) == 0)
        return 1;
    return length > tail && row->property[length - tail - 1] == ' ' &&
           strcmp(row->property + length - tail, item) == 0;
}

/* The item of one file alone that a row names; NULL for none. */
static const char *named_whole(const struct answer *answer, int which, unsigned row)
{
    const dregs_row *cells = dregs_line_row(answer->line[which], row);
    unsigned other;

    for (other = 1; cells && other <= dregs_line_rows(answer->line[which]); other++) {
        const dregs_row *kind = dregs_line_row(answer->line[which], other);
        if (is_kind(kind) && names(cells, kind->item) &&
            !find(answer->line[!which], kind->item, "kind"))
            return kind->item;
    }
    return NULL;
}

static unsigned new_difference(struct answer *answer, const char *item, const char *property,
                               unsigned a, unsigned b)
{
    dregs_compare_difference made = {item, property, a, b, 0, NAN, NULL, 0};

    answer->difference[answer->shown.differences] = made;
    return answer->shown.differences++;
}

/* The difference of a whole item. */
static unsigned whole_difference(struct answer *answer, const char *item)
{
    unsigned i;

    for (i = 0; i < answer->shown.differences; i++)
        if (answer->difference[i].item && !answer->difference[i].property &&
            strcmp(answer->difference[i].item, item) == 0)
            return i;
    return new_difference(answer, item, NULL, find(answer->line[0], item, "kind"),
                          find(answer->line[1], item, "kind"));
}

static void add_piece(struct answer *answer, unsigned a, unsigned b)
{
    const dregs_row *cells = dregs_line_row(answer->line[a ? 0 : 1], a ? a : b);
    struct piece *piece = &answer->piece[answer->pieces++];
    const char *named = named_whole(answer, 1, b);

    if (!named)
        named = named_whole(answer, 0, a);
    if (is_whole(answer, cells->item))
        named = cells->item;
    piece->row[0] = a;
    piece->row[1] = b;
    piece->difference = named ? whole_difference(answer, named)
                              : new_difference(answer, cells->item, cells->property, a, b);
    answer->difference[piece->difference].rows++;
    if (a)
        answer->piece_of[0][a] = answer->pieces;
    if (b)
        answer->piece_of[1][b] = answer->pieces;
}

/* The place of the first stage, from `from` on, that both lines have. */
static unsigned next_common(const struct answer *answer, int which, unsigned from)
{
    while (from < dregs_line_stages(answer->line[which]) &&
           !find(answer->line[!which], dregs_line_stage_name(answer->line[which], from), "kind"))
        from++;
    return from;
}

static int is_reordered(const struct answer *answer)
{
    unsigned a = next_common(answer, 0, 0), b = next_common(answer, 1, 0);

    while (a < dregs_line_stages(answer->line[0]) && b < dregs_line_stages(answer->line[1])) {
        if (strcmp(dregs_line_stage_name(answer->line[0], a),
                   dregs_line_stage_name(answer->line[1], b)) != 0)
            return 1;
        a = next_common(answer, 0, a + 1);
        b = next_common(answer, 1, b + 1);
    }
    return 0;
}

static dregs_status find_differences(struct answer *answer)
{
    unsigned rows_a = dregs_line_rows(answer->line[0]), rows_b = dregs_line_rows(answer->line[1]);
    size_t most = (size_t)rows_a + rows_b + 1;
    unsigned row;

    answer->piece = dregs_pool_take(&answer->pool, most, sizeof *answer->piece);
    answer->difference = dregs_pool_take(&answer->pool, most, sizeof *answer->difference);
    answer->applied = dregs_pool_take(&answer->pool, most, 1);
    answer->kinds = dregs_pool_take(&answer->pool, most, sizeof *answer->kinds);
    answer->piece_of[0] = dregs_pool_take(&answer->pool, rows_a + 1, sizeof(unsigned));
    answer->piece_of[1] = dregs_pool_take(&answer->pool, rows_b + 1, sizeof(unsigned));
    if (!answer->piece || !answer->difference || !answer->applied || !answer->kinds ||
        !answer->piece_of[0] || !answer->piece_of[1])
        return DREGS_NO_MEMORY;
    for (row = 1; row <= rows_a; row++) {
        const dregs_row *cells = dregs_line_row(answer->line[0], row);
        unsigned other = find(answer->line[1], cells->item, cells->property);
        if (!other || !same(answer, row, other))
            add_piece(answer, row, other);
    }
    for (row = 1; row <= rows_b; row++) {
        const dregs_row *cells = dregs_line_row(answer->line[1], row);
        if (!find(answer->line[0], cells->item, cells->property))
            add_piece(answer, 0, row);
    }
    if (is_reordered(answer))
        new_difference(answer, NULL, NULL, 0, 0);
    return DREGS_OK;
}

/* ---- a file that has some of them ---- */

static void put(void *text, const char *bytes, size_t length)
{
    (void)dregs_gather(text, bytes, length);
}

static void put_row(struct answer *answer, int which, unsigned row)
{
    const dregs_row *cells = dregs_line_row(answer->line[which], row);
    const char *cell[] = {cells->item,   cells->property, cells->value,  cells->unit,
                          cells->spread, cells->note,     cells->varies, cells->with};
    size_t i;

    for (i = 0; i < sizeof cell / sizeof cell[0]; i++) {
        if (i)
            put(&answer->text, ",", 1);
        dregs_csv_cell(',', "", cell[i], put, &answer->text);
    }
    put(&answer->text, "\n", 1);
}

/* Of the row of a file: the row that stands for it in the text in hand, in `which` file; 0 when
 * none does. */
static unsigned stands_for(const struct answer *answer, int *which, unsigned row)
{
    unsigned piece = answer->piece_of[*which][row];
    int b = *which == 1;

    if (piece)
        b = answer->applied[answer->piece[piece - 1].difference];
    else if (b) /* alike in both: that of the first file */
        return *which = 0, find(answer->line[0], dregs_line_row(answer->line[1], row)->item,
                                dregs_line_row(answer->line[1], row)->property);
    else
        return row;
    *which = b;
    return answer->piece[piece - 1].row[b];
}

static long place_of(const struct answer *answer, size_t count, const char *item)
{
    size_t i;

    for (i = 0; i < count; i++)
        if (strcmp(answer->kinds[i], item) == 0)
            return (long)i;
    return -1;
}

/* The items of the text in the order in which their kinds stand in one file, those of the other
 * one behind what they stand behind there. */
static size_t order_kinds(struct answer *answer, int base)
{
    size_t count = 0;
    int turn;

    for (turn = 0; turn < 2; turn++) {
        int file = turn ? !base : base;
        long behind = -1;
        unsigned row;
        for (row = 1; row <= dregs_line_rows(answer->line[file]); row++) {
            const dregs_row *cells = dregs_line_row(answer->line[file], row);
            int which = file;
            long place = is_kind(cells) ? place_of(answer, count, cells->item) : behind;
            if (place < 0 && is_kind(cells) && stands_for(answer, &which, row)) {
                place = turn ? behind + 1 : (long)count;
                memmove(answer->kinds + place + 1, answer->kinds + place,
                        (count - (size_t)place) * sizeof *answer->kinds);
                answer->kinds[place] = cells->item;
                count++;
            }
            if (place >= 0)
                behind = place;
        }
    }
    return count;
}

static void write_text(struct answer *answer)
{
    static const char head[] = "item,property,value,unit,spread,note,varies,with\n";
    unsigned row, i;
    int order = 0;
    size_t kinds, k;

    for (i = 0; i < answer->shown.differences; i++)
        if (!answer->difference[i].item)
            order = answer->applied[i];
    answer->text.length = 0;
    put(&answer->text, head, sizeof head - 1);
    kinds = order_kinds(answer, order);
    for (k = 0; k < kinds; k++) {
        int which = 0;
        unsigned kind = find(answer->line[0], answer->kinds[k], "kind");
        if (!kind) {
            which = 1;
            kind = find(answer->line[1], answer->kinds[k], "kind");
        }
        kind = stands_for(answer, &which, kind);
        put_row(answer, which, kind);
    }
    for (row = 1; row <= dregs_line_rows(answer->line[0]); row++) {
        int which = 0;
        unsigned shown = stands_for(answer, &which, row);
        if (shown && !is_kind(dregs_line_row(answer->line[0], row)))
            put_row(answer, which, shown);
    }
    for (row = 1; row <= dregs_line_rows(answer->line[1]); row++) {
        unsigned piece = answer->piece_of[1][row];
        if (piece && !answer->piece[piece - 1].row[0] &&
            answer->applied[answer->piece[piece - 1].difference] &&
            !is_kind(dregs_line_row(answer->line[1], row)))
            put_row(answer, 1, row);
    }
}

/* By the schedule, where that states a week and leaves more. */
static dregs_status worst_in_week(const dregs_map *map, uint64_t loads, double *residue)
{
    dregs_week_answer in_week;
    dregs_week *week = NULL;
    dregs_status status = dregs_week_new(map, DREGS_WEEK_WORST_KNOWN, &week);

    if (status == DREGS_UNKNOWN)
        return DREGS_OK;
    if (!status)
        status = dregs_week_worst(week, DREGS_EVERY_SOLUTE, loads, &in_week);
    if (!status)
        *residue = fmax(*residue, in_week.worst.residue);
    dregs_week_free(week);
    return status;
}

/* The worst load of those before a limit is crossed, as a prediction judges. */
static dregs_status worst_of(const dregs_line *line, uint64_t loads, double *residue)
{
    dregs_map *map = NULL;
    dregs_bounds *bounds = NULL;
    dregs_worst worst = {0};
    dregs_status status = dregs_map_new(line, &map);

    if (!status)
        status = dregs_bounds_new(map, loads, 1, &bounds);
    if (!status) {
        const dregs_bound *life = dregs_bounds_life(bounds);
        if (life && life->crossed > 1)
            loads = life->crossed - 1;
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, loads, &worst);
    }
    if (!status)
        status = worst_in_week(map, loads, &worst.residue);
    if (!status)
        *residue = worst.residue;
    dregs_bounds_free(bounds);
    dregs_map_free(map);
    return status;
}

/* The text in hand is nobody's file: what a message says of its lines is said of other rows. */
static char *without_lines(struct answer *answer, const char *message)
{
    char *text = dregs_pool_text(&answer->pool, message), *at = text;

    while (at && (at = strstr(at, "line ")) != NULL) {
        size_t digits = strspn(at + 5, "0123456789");
        if (digits) { /* "a row" is not longer than "line 4" */
            memcpy(at, "a row", 5);
            memmove(at + 5, at + 5 + digits, strlen(at + 5 + digits) + 1);
        }
        at += 5;
    }
    return text;
}

/* The residue with the differences that are set in `applied`; `why` it cannot be. */
static dregs_status apply(struct answer *answer, double *residue, const char **why)
{
    dregs_faults faults = {0};
    dregs_line *line = NULL;
    dregs_status status;

    *residue = NAN;
    *why = NULL;
    write_text(answer);
    status = answer->text.failed
                 ? DREGS_NO_MEMORY
                 : dregs_line_parse(dregs_line_name(answer->line[0]), answer->text.bytes,
                                    answer->text.length, dregs_line_liquids(answer->line[0]), &line,
                                    &faults);
    if (!status)
        status = worst_of(line, answer->loads, residue);
    dregs_line_free(line);
    if (status && status != DREGS_NO_MEMORY) {
        *why =
            without_lines(answer, faults.count ? faults.fault[0].text : dregs_status_text(status));
        return *why ? DREGS_OK : DREGS_NO_MEMORY;
    }
    return status;
}

/* Of an item: all its differences that cannot be applied alone, together. */
static dregs_status apply_joined(struct answer *answer, unsigned first)
{
    dregs_compare_difference *all = answer->difference;
    const char *why;
    double residue;
    dregs_status status;
    unsigned i, joined = 0;

    memset(answer->applied, 0, answer->shown.differences);
    for (i = first; i < answer->shown.differences; i++)
        if (all[i].why && all[i].item && strcmp(all[i].item, all[first].item) == 0)
            answer->applied[i] = 1, joined++;
    if (joined < 2)
        return DREGS_OK;
    status = apply(answer, &residue, &why);
    for (i = first; i < answer->shown.differences && !status; i++)
        if (answer->applied[i]) {
            all[i].residue = residue;
            all[i].joined = !why;
        }
    return status;
}

static dregs_status apply_all(struct answer *answer)
{
    dregs_compare_difference *all = answer->difference;
    unsigned i, count = answer->shown.differences;
    dregs_status status = DREGS_OK;
    const char *why;

    for (i = 0; i < count && !status; i++) {
        memset(answer->applied, 0, count);
        answer->applied[i] = 1;
        status = apply(answer, &all[i].residue, &all[i].why);
    }
    for (i = 0; i < count && !status; i++)
        if (all[i].why && all[i].item && !all[i].joined)
            status = apply_joined(answer, i);
    memset(answer->applied, 1, count);
    return status ? status : apply(answer, &answer->shown.together, &why);
}

static dregs_status fill(struct answer *answer)
{
    dregs_predict_request asked;
    dregs_status status = DREGS_OK;
    int i;

    dregs_predict_request_init(&asked);
    asked.loads = answer->loads;
    for (i = 0; i < 2 && !status; i++)
        status = dregs_predict_answer(answer->line[i], &asked, &answer->of[i]);
    answer->shown.of_a = answer->of[0];
    answer->shown.of_b = answer->of[1];
    if (!status)
        status = find_differences(answer);
    return status ? status : apply_all(answer);
}

dregs_status dregs_compare_answer(const dregs_line *a, const dregs_line *b,
                                  const dregs_compare_request *request,
                                  dregs_compare_result **result)
{
    dregs_compare_request asked;
    struct answer *answer;
    dregs_status status;

    dregs_compare_request_init(&asked);
    if (!dregs_take(&asked, sizeof asked, request))
        return DREGS_DOMAIN;
    if (asked.message)
        *asked.message = '\0';
    if (asked.loads > DREGS_LOADS_MOST)
        return dregs_refuse(asked.message, DREGS_PREDICT_MESSAGE,
                            "loads: %" PRIu64 " is no load, 1 to %" PRIu64, asked.loads,
                            DREGS_LOADS_MOST);
    if (dregs_line_liquids(a) != dregs_line_liquids(b))
        return dregs_refuse(asked.message, DREGS_PREDICT_MESSAGE,
                            "b: read with other liquids than a");
    answer = calloc(1, sizeof *answer);
    if (!answer)
        return DREGS_NO_MEMORY;
    answer->shown.a = answer->line[0] = a;
    answer->shown.b = answer->line[1] = b;
    answer->loads = asked.loads;
    status = fill(answer);
    free(answer->text.bytes);
    if (status)
        dregs_compare_result_free(&answer->shown);
    else
        *result = &answer->shown;
    return status;
}

void dregs_compare_result_free(dregs_compare_result *result)
{
    struct answer *answer = (struct answer *)result;

    if (!answer)
        return;
    dregs_predict_result_free(answer->of[0]);
    dregs_predict_result_free(answer->of[1]);
    dregs_pool_clear(&answer->pool);
    free(answer);
}

const dregs_compare_difference *dregs_compare_result_difference(const dregs_compare_result *result,
                                                                unsigned index)
{
    return index < result->differences ? &((const struct answer *)result)->difference[index] : NULL;
}
