/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* purchase.c: the rows of a file of purchases, as dregs-purchases(5) describes it.
 *
 * Left out: prices. A row says that liquid came or left on a day, or what stood there unused; when
 * it was used is not known to it.
 */
#include "purchase/purchase.h"
#include "base/pool.h"
#include "base/sheet.h"
#include "base/text.h"
#include "base/time.h"
#include "dregs/number.h"
#include "dregs/unit.h"
#include "line/line.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum column { DATE, LIQUID, QUANTITY, UNIT, KIND, SPREAD, NOTE, ASSAY, SUPPLIER, INVOICE, COLUMNS };
#define NAMES "date,liquid,quantity,unit,kind,spread,note,assay,supplier,invoice"

static const dregs_column columns[COLUMNS] = {
    [DATE] = {"date", DREGS_IN_ROWS, NULL},          [LIQUID] = {"liquid", DREGS_IN_ROWS, NULL},
    [QUANTITY] = {"quantity", DREGS_IN_ROWS, NULL},  [UNIT] = {"unit", DREGS_IN_ROWS, NULL},
    [KIND] = {"kind", DREGS_IN_ROWS, NULL},          [SPREAD] = {"spread", DREGS_OPTIONAL, NULL},
    [NOTE] = {"note", DREGS_OPTIONAL, NULL},         [ASSAY] = {"assay", DREGS_OPTIONAL, NULL},
    [SUPPLIER] = {"supplier", DREGS_OPTIONAL, NULL}, [INVOICE] = {"invoice", DREGS_OPTIONAL, NULL},
};

static const dregs_sheet_words words = {
    .allowed = "; the columns are " NAMES,
    .nearest = {"; nearest: '", "'"},
    .twice = {"a second column ", "; the columns are " NAMES},
    .missing = {"column ",
                " is missing from the header; it must name date,liquid,quantity,unit,kind"},
    .cells = {", the header has ", " (a cell with a comma stands in quotes)"},
    .empty = "the file is empty; a file of purchases begins with the row "
             "date,liquid,quantity,unit,kind",
    .rowless = "no row follows the header",
};

/* A row may leave out empty cells at its end; what is required must be there. */
static const dregs_sheet_form form = {.column = columns,
                                      .count = COLUMNS,
                                      .words = &words,
                                      .rows_most = DREGS_PURCHASE_ROWS,
                                      .numbers = 1u << QUANTITY | 1u << SPREAD,
                                      .quantities = 1u << ASSAY};

static const char *const kind_names[DREGS_PURCHASE_KINDS] = {"bought", "disposed", "recovered",
                                                             "stock",  "sold",     "elsewhere"};

struct dregs_purchases {
    struct dregs_pool words; /* of the rows */
    dregs_purchase *row;
    size_t count, room;
    unsigned long (*same)[2];
    size_t same_count;
    dregs_dialect dialect;
    struct purchase_odd_rows odd;
};

struct reader {
    dregs_purchases *made;
    const dregs_line *line;
    const double *density;
    dregs_faults *faults;
    int bad;
};

/* A row with everything that is wrong with it said at once. */
struct entry {
    struct reader *r;
    unsigned long line;
    const dregs_sheet_row *row;
};

#define SAY(e, ...)                                                                                \
    ((e)->r->bad = 1, (void)dregs_fault_add((e)->r->faults, DREGS_BAD_DATA, (e)->line, __VA_ARGS__))

const char *dregs_purchase_kind_name(dregs_purchase_kind kind)
{
    return (unsigned)kind < DREGS_PURCHASE_KINDS ? kind_names[kind] : NULL;
}

static const char *cell(const struct entry *e, enum column column)
{
    return dregs_sheet_cell(e->row, (int)column);
}

/* `count` digits as a number; -1 when one is none */
static int digits(const char *text, int count)
{
    int value = 0, i;

    for (i = 0; i < count; i++) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        value = 10 * value + (text[i] - '0');
    }
    return value;
}

/* ISO 8601 calendar date, extended form */
static void read_date(struct entry *e, dregs_purchase *into)
{
    const char *text = cell(e, DATE);
    char quoted[DREGS_QUOTED];
    int shaped = strlen(text) == 10 && text[4] == '-' && text[7] == '-';
    int year = shaped ? digits(text, 4) : -1, month = shaped ? digits(text + 5, 2) : -1;
    int day = shaped ? digits(text + 8, 2) : -1;

    if (year < 1900 || year > 2200 || month < 1 || month > 12 || day < 1 ||
        day > dregs_month_days(year, month)) {
        SAY(e, "date %s is no day from 1900 to 2200 written as YYYY-MM-DD",
            dregs_quote(quoted, text));
        return;
    }
    into->year = year;
    into->month = (unsigned)month;
    into->day = (unsigned)day;
}

/* 1 when the line has it. */
static int read_liquid(struct entry *e, dregs_purchase *into)
{
    const dregs_line *line = e->r->line;
    unsigned i, count = dregs_line_fluids(line);
    const char *best = NULL, *name;
    char quoted[DREGS_QUOTED], list[160] = "";
    size_t used = 0;

    for (i = 0; i < count; i++) {
        name = dregs_line_fluid(line, i)->name;
        if (strcmp(cell(e, LIQUID), name) == 0) {
            into->fluid = i;
            return 1;
        }
        if (!best) /* two at a time: the nearest of those before and this one */
            best = dregs_nearest(cell(e, LIQUID), &name, 1);
        else
            best = dregs_nearest(cell(e, LIQUID), (const char *const[]){best, name}, 2);
        if (used + strlen(name) + 3 < sizeof list)
            used +=
                (size_t)snprintf(list + used, sizeof list - used, "%s%s", used ? ", " : "", name);
    }
    SAY(e, "unknown liquid %s%s%s%s; the liquids of the line are %s",
        dregs_quote(quoted, cell(e, LIQUID)), best ? "; nearest: '" : "", best ? best : "",
        best ? "'" : "", used ? list : "none");
    return 0;
}

static void read_kind(struct entry *e, dregs_purchase *into)
{
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16];
    int k;

    for (k = 0; k < DREGS_PURCHASE_KINDS; k++)
        if (strcmp(cell(e, KIND), kind_names[k]) == 0) {
            into->kind = (dregs_purchase_kind)k;
            return;
        }
    SAY(e, "unknown kind %s%s; allowed are bought, disposed, recovered, stock, sold, elsewhere",
        dregs_quote(quoted, cell(e, KIND)),
        dregs_nearest_words(near, cell(e, KIND), kind_names, DREGS_PURCHASE_KINDS));
}

/* A volume, or a mass that the liquid's density turns into one: *scale takes the number to m3.
 * Where the liquid is not known, nothing is said of its density. */
static int read_unit(struct entry *e, dregs_purchase *into, int known, double *scale)
{
    char message[DREGS_UNIT_MESSAGE], quoted[DREGS_QUOTED];
    dregs_unit unit;
    double density;

    if (dregs_unit_read(cell(e, UNIT), &unit, message)) {
        SAY(e, "%s", message);
        return 0;
    }
    if (!dregs_unit_read_like(cell(e, UNIT), "L", &unit, NULL)) {
        *scale = unit.scale;
        return 1;
    }
    if (dregs_unit_read_like(cell(e, UNIT), "kg", &unit, NULL)) {
        SAY(e, "unit %s is neither one of volume, such as L, nor one of mass, such as kg",
            dregs_quote(quoted, cell(e, UNIT)));
        return 0;
    }
    if (!known)
        return 0;
    density = e->r->density ? e->r->density[into->fluid] : NAN;
    if (!(density > 0)) {
        SAY(e, "a mass of '%s', whose density at 20 degC is not on record: state a volume",
            dregs_line_fluid(e->r->line, into->fluid)->name);
        return 0;
    }
    into->by_mass = 1;
    *scale = unit.scale / density;
    return 1;
}

static void read_spread(struct entry *e, dregs_purchase *into, double scale)
{
    const dregs_unit unit = {.scale = scale};
    char quoted[DREGS_QUOTED];

    into->sd = NAN;
    if (dregs_spread_read(cell(e, SPREAD), into->volume, unit, &into->sd))
        SAY(e,
            "spread %s is not a standard deviation: a number >= 0 in the row's unit, or a share "
            "of the quantity such as 2%%",
            dregs_quote(quoted, cell(e, SPREAD)));
}

static void read_quantity(struct entry *e, dregs_purchase *into, int known)
{
    char quoted[DREGS_QUOTED];
    double value, scale;

    if (dregs_number_read(cell(e, QUANTITY), &value)) {
        SAY(e, "quantity %s is not a number (write it with a point, without thousands)%s",
            dregs_quote(quoted, cell(e, QUANTITY)), dregs_comma_words(cell(e, QUANTITY)));
        return;
    }
    if (!(value > 0) && !(value == 0 && into->kind == DREGS_PURCHASE_STOCK)) {
        SAY(e, "quantity %s is not allowed, it must be above 0%s",
            dregs_quote(quoted, cell(e, QUANTITY)), value == 0 ? ", but for a stock" : "");
        return;
    }
    if (!read_unit(e, into, known, &scale))
        return;
    into->volume = value * scale;
    if (value > 0 && (!(into->volume > 0) || dregs_is_beyond(into->volume))) {
        SAY(e, "quantity %s %s is beyond anything a real line could use",
            dregs_quote(quoted, cell(e, QUANTITY)), cell(e, UNIT));
        return;
    }
    read_spread(e, into, scale);
}

/* How much of what was collected is solvent, by mass. */
static void read_assay(struct entry *e, dregs_purchase *into)
{
    char quoted[DREGS_QUOTED];

    into->assay = NAN;
    if (!*cell(e, ASSAY))
        return;
    if (into->kind != DREGS_PURCHASE_DISPOSED)
        SAY(e, "assay is the share of solvent in what was disposed; a row of kind %.20s has none",
            cell(e, KIND));
    else if (dregs_unit_quantity(cell(e, ASSAY), "%", &into->assay, NULL) ||
             !(into->assay >= 0 && into->assay <= 1))
        SAY(e, "assay %s is not a share by mass from 0 to 1, such as 85%%",
            dregs_quote(quoted, cell(e, ASSAY)));
}

/* What is only handed on. */
static dregs_status keep_words(struct entry *e, dregs_purchase *into)
{
    const struct {
        enum column column;
        const char **into;
    } kept[] = {{SUPPLIER, &into->supplier}, {INVOICE, &into->invoice}, {NOTE, &into->note}};
    size_t i;

    for (i = 0; i < sizeof kept / sizeof kept[0]; i++) {
        const char *text = cell(e, kept[i].column);
        *kept[i].into = *text ? dregs_pool_text(&e->r->made->words, text) : "";
        if (!*kept[i].into)
            return DREGS_NO_MEMORY;
    }
    return DREGS_OK;
}

static dregs_status add_row(dregs_purchases *made, const dregs_purchase *row)
{
    if (made->count == made->room) {
        size_t room = made->room ? 2 * made->room : 64;
        dregs_purchase *bigger = realloc(made->row, room * sizeof *bigger);
        if (!bigger)
            return DREGS_NO_MEMORY;
        made->row = bigger;
        made->room = room;
    }
    made->row[made->count++] = *row;
    return DREGS_OK;
}

static dregs_status take_row(void *user, const dregs_sheet_row *row, dregs_faults *faults)
{
    struct reader *r = user;
    struct entry e = {r, row->line, row};
    dregs_purchase read = {0};
    int before;

    before = r->bad;
    r->bad = 0;
    read.line = row->line;
    read_date(&e, &read);
    read_kind(&e, &read);
    read_quantity(&e, &read, read_liquid(&e, &read));
    read_assay(&e, &read);
    if (r->bad)
        return faults && faults->more ? DREGS_BAD_DATA : DREGS_OK;
    r->bad = before;
    if (before)
        return DREGS_OK;
    return keep_words(&e, &read) ? DREGS_NO_MEMORY : add_row(r->made, &read);
}

static int compare_ints(long a, long b)
{
    return (a > b) - (a < b);
}

static int by_day(const void *left, const void *right)
{
    const dregs_purchase *a = left, *b = right;
    int order = compare_ints(a->year, b->year);

    if (!order)
        order = compare_ints((long)(a->month * 100 + a->day), (long)(b->month * 100 + b->day));
    if (!order)
        order = compare_ints((long)a->fluid, (long)b->fluid);
    if (!order)
        order = compare_ints(a->kind, b->kind);
    if (!order)
        order = (a->volume > b->volume) - (a->volume < b->volume);
    return order ? order : (a->line > b->line) - (a->line < b->line);
}

int dregs_purchase_same_day(const dregs_purchase *a, const dregs_purchase *b)
{
    return a->year == b->year && a->month == b->month && a->day == b->day && a->fluid == b->fluid;
}

int dregs_purchase_is_same(const dregs_purchase *a, const dregs_purchase *b)
{
    return dregs_purchase_same_day(a, b) && a->kind == b->kind && a->volume == b->volume;
}

static dregs_status find_same(dregs_purchases *made)
{
    size_t i, count = 0;

    for (i = 1; i < made->count; i++)
        count += (size_t)dregs_purchase_is_same(&made->row[i - 1], &made->row[i]);
    made->same = calloc(count + 1, sizeof *made->same);
    if (!made->same)
        return DREGS_NO_MEMORY;
    for (i = 1; i < made->count; i++)
        if (dregs_purchase_is_same(&made->row[i - 1], &made->row[i])) {
            made->same[made->same_count][0] = made->row[i - 1].line;
            made->same[made->same_count++][1] = made->row[i].line;
        }
    return DREGS_OK;
}

/* The whole of it, piece by piece: `next` gives the next piece of the text. */
typedef dregs_status next_piece(void *from, const char **bytes, size_t *length,
                                dregs_faults *faults);

static dregs_status read_all(struct reader *r, next_piece *next, void *from)
{
    dregs_sheet *table = dregs_sheet_new(&form, take_row, r, r->faults);
    const char *bytes;
    size_t length, all = 0;
    dregs_status status = table ? DREGS_OK : DREGS_NO_MEMORY;

    while (!status) {
        status = next(from, &bytes, &length, r->faults);
        if (status || length == 0)
            break;
        all += length;
        if (all > DREGS_PURCHASE_BYTES)
            status = dregs_fault_add(r->faults, DREGS_BAD_DATA, 0,
                                     "larger than any file of purchases (more than %d bytes)",
                                     DREGS_PURCHASE_BYTES);
        else
            status = dregs_sheet_feed(table, bytes, length);
    }
    if (!status)
        status = dregs_sheet_end(table);
    if (!status)
        r->made->dialect = dregs_sheet_dialect(table);
    dregs_sheet_free(table);
    return !status && r->bad ? DREGS_BAD_DATA : status;
}

static dregs_status make(const char *name, const dregs_line *line, const double *density,
                         next_piece *next, void *from, dregs_purchases **purchases,
                         dregs_faults *faults)
{
    dregs_faults own = {0};
    struct reader r = {calloc(1, sizeof *r.made), line, density, faults ? faults : &own, 0};
    dregs_status status = r.made ? DREGS_OK : DREGS_NO_MEMORY;

    snprintf(r.faults->file, sizeof r.faults->file, "%s", name);
    if (!status)
        status = read_all(&r, next, from);
    if (!status) {
        qsort(r.made->row, r.made->count, sizeof *r.made->row, by_day);
        status = find_same(r.made);
    }
    if (!status)
        status = dregs_purchase_find_odd(r.made->row, r.made->count, dregs_line_fluids(line),
                                         &r.made->odd);
    if (status) {
        if (status == DREGS_NO_MEMORY && r.faults->count == 0)
            (void)dregs_fault_add(r.faults, status, 0, "out of memory");
        dregs_faults_sort(r.faults);
        dregs_purchases_free(r.made);
        return status;
    }
    *purchases = r.made;
    return DREGS_OK;
}

struct text {
    const char *bytes;
    size_t length;
};

static dregs_status next_of_text(void *from, const char **bytes, size_t *length,
                                 dregs_faults *faults)
{
    struct text *text = from;

    (void)faults;
    *bytes = text->bytes;
    *length = text->length;
    text->length = 0;
    return DREGS_OK;
}

dregs_status dregs_purchases_parse(const char *name, const char *bytes, size_t length,
                                   const dregs_line *line, const double *density,
                                   dregs_purchases **purchases, dregs_faults *faults)
{
    struct text text = {bytes, length};

    return make(name, line, density, next_of_text, &text, purchases, faults);
}

struct stream {
    FILE *file;
    char bytes[16384];
};

static dregs_status next_of_stream(void *from, const char **bytes, size_t *length,
                                   dregs_faults *faults)
{
    struct stream *stream = from;

    errno = 0;
    *bytes = stream->bytes;
    *length = fread(stream->bytes, 1, sizeof stream->bytes, stream->file);
    if (ferror(stream->file))
        return dregs_fault_add(faults, DREGS_IO, 0, "%s", strerror(errno));
    return DREGS_OK;
}

dregs_status dregs_purchases_read(const char *name, void *stream, const dregs_line *line,
                                  const double *density, dregs_purchases **purchases,
                                  dregs_faults *faults)
{
    struct stream from;

    from.file = stream;
    return make(name, line, density, next_of_stream, &from, purchases, faults);
}

void dregs_purchases_free(dregs_purchases *purchases)
{
    if (!purchases)
        return;
    dregs_pool_clear(&purchases->words);
    free(purchases->row);
    free(purchases->same);
    free(purchases->odd.odd);
    free(purchases);
}

dregs_dialect dregs_purchases_dialect(const dregs_purchases *purchases)
{
    return purchases->dialect;
}

const dregs_purchase *dregs_purchases_at(const dregs_purchases *purchases, size_t index)
{
    return index < purchases->count ? &purchases->row[index] : NULL;
}

int dregs_purchases_same(const dregs_purchases *purchases, size_t index, unsigned long lines[2])
{
    if (index >= purchases->same_count)
        return 0;
    lines[0] = purchases->same[index][0];
    lines[1] = purchases->same[index][1];
    return 1;
}

int dregs_purchases_odd(const dregs_purchases *purchases, size_t index, dregs_purchase_odd *odd)
{
    if (index >= purchases->odd.count)
        return 0;
    *odd = purchases->odd.odd[index];
    return 1;
}
