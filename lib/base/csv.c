/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* csv.c: rows through libcsv, which is fed one physical line at a time.
 *
 * libcsv itself keeps a byte order mark, drops empty lines, has no line numbers and lets a field
 * grow without bound; all of that is dealt with here, once. It also allows no stop from within
 * its callbacks, so a failure is remembered and the rest of the line passes unread.
 *
 * A line of ASCII without a quote, as most are, is split at its separators right here in one pass
 * of eight bytes at a time: it needs none of what libcsv is for, and in a log of millions of rows
 * half of all time was libcsv's. tests/test_csv.c holds the two ways to the same cells.
 */
#include "dregs/csv.h"
#include "base/text.h"

#include <csv.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct dregs_csv {
    struct csv_parser parser;
    dregs_csv_take *take;
    void *user;
    dregs_faults *faults;
    dregs_status status;
    char *line; /* the physical line being gathered, when it came in pieces */
    size_t length, room;
    char separator;           /* of cells: ',', ';' or a tab */
    int tolerant;             /* what spreadsheets write besides is taken */
    int sought;               /* the first row is to tell the separator */
    int declared;             /* a row `sep=` has told it */
    unsigned long number;     /* of the physical line being gathered */
    unsigned long row_begin;  /* the line the open row begins on; 0 when none is open */
    unsigned long cell_begin; /* the line the open cell begins on, where its quote stands */
    int after_return;         /* a carriage return ended the last line: a line feed belongs to it */
    char *cells;              /* the texts of the open row, one after the other */
    size_t cells_length, cells_room;
    size_t *offset; /* where each cell begins in cells */
    const char **cell;
    size_t count, count_room;
};

enum { ROW_MOST = 16 * DREGS_CSV_CELL_MOST }; /* bytes in one line, and in one row of many */

/* The block with room for as many items as needed, moved or not; NULL when memory is short: the
 * block and its room stay as they were then. */
static void *grown(void *block, size_t *room, size_t needed, size_t size)
{
    size_t wanted = *room ? *room : 64;
    void *bigger;

    if (needed <= *room)
        return block;
    while (wanted < needed)
        wanted *= 2;
    bigger = realloc(block, wanted * size);
    if (bigger)
        *room = wanted;
    return bigger;
}

/* libcsv grows its entry buffer in blocks of 128 bytes; it may reach the cap and little more */
static void *capped_realloc(void *block, size_t size)
{
    return size > DREGS_CSV_CELL_MOST + 1024 ? NULL : realloc(block, size);
}

static const char too_long[] = "a cell of more than 65536 bytes";

static dregs_status fail(dregs_csv *csv, dregs_status status, unsigned long line, const char *text)
{
    if (!csv->status)
        csv->status = dregs_fault_add(csv->faults, status, line, "%s", text);
    return csv->status;
}

/* Makes room for one more cell of the given length; 0 when memory is short. */
static int cell_room(dregs_csv *csv, size_t length)
{
    size_t room = csv->count_room;
    void *block;

    if (csv->count < room && csv->cells_length + length < csv->cells_room)
        return 1;
    block = grown(csv->cells, &csv->cells_room, csv->cells_length + length + 1, 1);
    if (!block)
        return 0;
    csv->cells = block;
    block = grown(csv->offset, &room, csv->count + 1, sizeof *csv->offset);
    if (!block)
        return 0;
    csv->offset = block;
    block = grown((void *)csv->cell, &csv->count_room, csv->count + 1, sizeof *csv->cell);
    if (!block)
        return 0; /* the offsets have room to spare then */
    csv->cell = block;
    return 1;
}

/* A no-break space (U+00A0, the narrow one U+202F, that of figures U+2007) at \p at: its bytes. */
static size_t no_break(const char *at, size_t left)
{
    if (left >= 2 && memcmp(at, "\xC2\xA0", 2) == 0)
        return 2;
    if (left >= 3 && (memcmp(at, "\xE2\x80\xAF", 3) == 0 || memcmp(at, "\xE2\x80\x87", 3) == 0))
        return 3;
    return 0;
}

/* Puts blanks in the place of no-break spaces, and drops those at the ends. */
static char *to_blanks(char *bytes, size_t *length)
{
    size_t from, to = 0, found = 0;

    for (from = 0; from < *length; to++) {
        size_t skip = no_break(bytes + from, *length - from);
        found += skip;
        bytes[to] = skip ? ' ' : bytes[from];
        from += skip ? skip : 1;
    }
    *length = to;
    if (!found)
        return bytes;
    for (; *length && *bytes == ' '; --*length)
        bytes++;
    while (*length && bytes[*length - 1] == ' ')
        --*length;
    return bytes;
}

static void cell_done(void *bytes, size_t length, void *user)
{
    dregs_csv *csv = user;

    if (csv->status)
        return;
    if (length > DREGS_CSV_CELL_MOST) {
        fail(csv, DREGS_BAD_DATA, csv->cell_begin, too_long);
        return;
    }
    if (csv->cells_length + length > ROW_MOST) {
        fail(csv, DREGS_BAD_DATA, csv->row_begin, "a row longer than any real one");
        return;
    }
    if (!cell_room(csv, length)) {
        fail(csv, DREGS_NO_MEMORY, csv->row_begin, "out of memory");
        return;
    }
    if (length && csv->tolerant)
        bytes = to_blanks(bytes, &length);
    csv->offset[csv->count++] = csv->cells_length;
    if (length)
        memcpy(csv->cells + csv->cells_length, bytes, length);
    csv->cells[csv->cells_length + length] = '\0';
    csv->cells_length += length + 1;
    csv->cell_begin = csv->number;
}

/* Hands the open row on; one of empty cells is what spreadsheets write for none. */
static void hand_on(dregs_csv *csv, int filled)
{
    dregs_csv_row row = {csv->row_begin, csv->number, csv->count, csv->cell};

    if (!csv->status && filled)
        csv->status = csv->take(csv->user, &row, csv->faults);
    csv->row_begin = 0;
    csv->count = 0;
    csv->cells_length = 0;
}

static void row_done(int ended_by, void *user)
{
    dregs_csv *csv = user;
    size_t i;
    int filled = 0;

    (void)ended_by;
    for (i = 0; i < csv->count && !csv->status; i++) {
        csv->cell[i] = csv->cells + csv->offset[i];
        filled |= csv->cell[i][0] != '\0';
    }
    hand_on(csv, filled);
}

dregs_csv *dregs_csv_new(dregs_csv_take *take, void *user, dregs_faults *faults)
{
    dregs_csv *csv = calloc(1, sizeof *csv);

    if (!csv)
        return NULL;
    if (csv_init(&csv->parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0) {
        free(csv);
        return NULL;
    }
    csv_set_realloc_func(&csv->parser, capped_realloc);
    csv->take = take;
    csv->user = user;
    csv->faults = faults;
    csv->separator = ',';
    csv->number = 1;
    return csv;
}

void dregs_csv_tolerate(dregs_csv *csv)
{
    csv->tolerant = csv->sought = 1;
}

char dregs_csv_separator(const dregs_csv *csv)
{
    return csv->separator;
}

void dregs_csv_free(dregs_csv *csv)
{
    if (!csv)
        return;
    csv_free(&csv->parser);
    free(csv->line);
    free(csv->cells);
    free(csv->offset);
    free((void *)csv->cell);
    free(csv);
}

static int is_blank(const char *bytes, size_t length)
{
    size_t i;

    for (i = 0; i < length; i++)
        if (bytes[i] != ' ' && bytes[i] != '\t' && bytes[i] != '\n')
            return 0;
    return 1;
}

/* ---- a line of ASCII without quotes, eight bytes at a time ---- */

enum { EIGHT = sizeof(uint64_t) };

static const uint64_t ones = UINT64_C(0x0101010101010101);
static const uint64_t highs = UINT64_C(0x8080808080808080);

/* Eight bytes, the first one in the lowest bits. */
static uint64_t load_eight(const char *bytes)
{
    uint64_t eight;

    memcpy(&eight, bytes, sizeof eight);
#if defined __BYTE_ORDER__ && __BYTE_ORDER__ == __ORDER_BIG_ENDIAN__
    eight = __builtin_bswap64(eight);
#endif
    return eight;
}

/* The highest bit of each byte that is `wanted`; all of them are ASCII. Nothing is borrowed: a byte
 * that differs takes 1 to 127 off 128. */
static uint64_t marked(uint64_t eight, char wanted)
{
    return (highs - (eight ^ (ones * (unsigned char)wanted))) & highs;
}

/* A bit of `highs` where a byte is no ASCII, NUL (which borrows) or a quote. */
static uint64_t is_odd(uint64_t eight)
{
    uint64_t odd = ((eight - ones) | eight) & highs;

    return odd ? odd : marked(eight, '"');
}

/* The cell from `begin` to `end` without the blanks around it, as libcsv has it. */
static dregs_status add_cell(dregs_csv *csv, char *begin, char *end, int *filled)
{
    while (begin < end && (*begin == ' ' || *begin == '\t'))
        begin++;
    while (begin < end && (end[-1] == ' ' || end[-1] == '\t'))
        end--;
    *end = '\0';
    if (csv->count == csv->count_room && !cell_room(csv, 0))
        return fail(csv, DREGS_NO_MEMORY, csv->number, "out of memory");
    csv->cell[csv->count++] = begin;
    *filled |= *begin;
    return DREGS_OK;
}

/* A whole line that begins a row, with its line break; 0 where it takes more than this, and nothing
 * has happened. */
static int split(dregs_csv *csv, const char *bytes, size_t length)
{
    const char separator = csv->separator;
    char *cells, *begin, *stop;
    size_t at;
    int filled = 0;

    if (!cell_room(csv, length + EIGHT)) {
        fail(csv, DREGS_NO_MEMORY, csv->number, "out of memory");
        return 1;
    }
    cells = begin = csv->cells;
    memcpy(cells, bytes, length);
    memset(cells + length, '0', EIGHT);
    cells[length - 1] = separator; /* its line break */
    for (at = 0; at < length && !csv->status; at += EIGHT) {
        uint64_t eight = load_eight(cells + at), stops;
        if (is_odd(eight)) {
            csv->count = 0;
            return 0;
        }
        for (stops = marked(eight, separator); stops && !csv->status; stops &= stops - 1) {
            stop = cells + at + __builtin_ctzll(stops) / 8;
            add_cell(csv, begin, stop, &filled);
            begin = stop + 1;
        }
    }
    csv->row_begin = csv->number;
    hand_on(csv, filled);
    return 1;
}

/* What is no text at all. */
static dregs_status check_text(dregs_csv *csv, const char *bytes, size_t length)
{
    if (memchr(bytes, '\0', length))
        return fail(csv, DREGS_BAD_DATA, csv->number, "a NUL byte: this is not a text file");
    if (dregs_utf8_span(bytes, length) != length)
        return fail(csv, DREGS_BAD_DATA, csv->number,
                    "not UTF-8 (Latin-1, Windows-1252?): save the file as \"CSV UTF-8\" from the "
                    "spreadsheet, or iconv -f WINDOWS-1252 -t UTF-8 FILE >NEW");
    return DREGS_OK;
}

/* What a file of another kind begins with, and what to do with it. */
static dregs_status check_kind(dregs_csv *csv, const char *bytes, size_t length)
{
    static const struct {
        const char *begin;
        size_t length;
        const char *words;
    } kinds[] = {
        {"PK\3\4", 4,
         "a spreadsheet (XLSX, ODS) or another ZIP archive, no CSV file: save as "
         "\"CSV UTF-8\" from the spreadsheet"},
        {"\xD0\xCF\x11\xE0", 4,
         "a spreadsheet (XLS), no CSV file: save as \"CSV UTF-8\" from the spreadsheet"},
        {"\xFF\xFE", 2,
         "UTF-16: save the file as \"CSV UTF-8\" from the spreadsheet, or "
         "iconv -f UTF-16 -t UTF-8 FILE >NEW"},
        {"\xFE\xFF", 2,
         "UTF-16: save the file as \"CSV UTF-8\" from the spreadsheet, or "
         "iconv -f UTF-16 -t UTF-8 FILE >NEW"},
        {"\x1F\x8B", 2, "a file packed by gzip: unpack it first"},
        {"%PDF-", 5, "a PDF document, no CSV file"},
    };
    size_t i;

    for (i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        if (length >= kinds[i].length && memcmp(bytes, kinds[i].begin, kinds[i].length) == 0)
            return fail(csv, DREGS_BAD_DATA, csv->number, kinds[i].words);
    return DREGS_OK;
}

/* ---- which separator ---- */

static const char separators[] = {',', ';', '\t'};

static const char *name_of(char separator)
{
    return separator == '\t' ? "a tab" : separator == ';' ? "';'" : "','";
}

static dregs_status separate(dregs_csv *csv, char separator)
{
    csv->separator = separator;
    csv_set_delim(&csv->parser, (unsigned char)separator);
    return DREGS_OK;
}

/* A row `sep=;`, which some spreadsheets write above the header, and others with the separators of
 * its empty cells behind it: 1 when it is one, and is done with. */
static int take_declared(dregs_csv *csv, const char *bytes, size_t length)
{
    const char *at = bytes, *end = bytes + length;
    int quoted = *at == '"';
    char named;

    at += quoted;
    if (end - at < 6 || (memcmp(at, "sep=", 4) != 0 && memcmp(at, "SEP=", 4) != 0))
        return 0;
    named = at[4];
    at += 5 + quoted;
    while (at < end && *at == named)
        at++;
    if (!memchr(separators, named, sizeof separators) || at >= end || *at != '\n')
        fail(csv, DREGS_BAD_DATA, csv->number, "a row sep= names one separator: ',', ';' or a tab");
    (void)separate(csv, named);
    csv->declared = 1;
    return 1;
}

/* The separator of the first row, which is that of the file: the one of the three that stands in it
 * outside of quotes; a comma where none does. */
static dregs_status find_separator(dregs_csv *csv, const char *bytes, size_t length)
{
    char words[120], first = 0;
    int quoted = 0;
    size_t i;

    csv->sought = 0;
    for (i = 0; i < length; i++) {
        if (bytes[i] == '"')
            quoted = !quoted;
        if (quoted || !memchr(separators, bytes[i], sizeof separators))
            continue;
        if (!first && csv->declared && bytes[i] != csv->separator) {
            snprintf(words, sizeof words, "the row sep= says %s, and the cells are separated by %s",
                     name_of(csv->separator), name_of(bytes[i]));
            return fail(csv, DREGS_BAD_DATA, csv->number, words);
        }
        if (first && bytes[i] != first) {
            snprintf(words, sizeof words,
                     "the header is separated by %s and by %s: one for the whole file",
                     name_of(first), name_of(bytes[i]));
            return fail(csv, DREGS_BAD_DATA, csv->number, words);
        }
        first = bytes[i];
    }
    return csv->declared || !first ? DREGS_OK : separate(csv, first);
}

/* What stands above the header, and the header itself where its separator is sought; 1 when the
 * line is done with. */
static int first_rows(dregs_csv *csv, const char *bytes, size_t length)
{
    if (csv->number == 1 && check_kind(csv, bytes, length))
        return 1;
    if (bytes[0] == '#' || is_blank(bytes, length))
        return 0;
    if (!csv->declared && take_declared(csv, bytes, length))
        return 1;
    return find_separator(csv, bytes, length) != DREGS_OK;
}

/* Takes a whole physical line with its line break as "\n". */
static dregs_status line_done(dregs_csv *csv, const char *bytes, size_t length)
{
    if (csv->number == 1 && length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        bytes += 3;
        length -= 3;
    }
    if (csv->sought && first_rows(csv, bytes, length)) {
        csv->number++;
        return csv->status;
    }
    if (!csv->row_begin && bytes[0] != '#' && length <= DREGS_CSV_CELL_MOST &&
        split(csv, bytes, length)) {
        csv->number++;
        return csv->status;
    }
    if (check_text(csv, bytes, length))
        return csv->status;
    if (!csv->row_begin) {
        if (bytes[0] == '#' || is_blank(bytes, length))
            length = 0;
        else
            csv->row_begin = csv->cell_begin = csv->number;
    }
    if (length && csv_parse(&csv->parser, bytes, length, cell_done, row_done, csv) != length) {
        if (csv_error(&csv->parser) == CSV_EPARSE)
            fail(csv, DREGS_BAD_DATA, csv->number,
                 "a quote in the wrong place: a cell with quotes is written \"a \"\"b\"\" c\"");
        else if (csv->parser.entry_pos > DREGS_CSV_CELL_MOST) /* capped_realloc said no */
            fail(csv, DREGS_BAD_DATA, csv->cell_begin, too_long);
        else
            fail(csv, DREGS_NO_MEMORY, csv->number, "out of memory");
    }
    csv->number++;
    return csv->status;
}

/* Adds to the line being gathered and keeps a byte for its line break. */
static dregs_status gather(dregs_csv *csv, const char *bytes, size_t length)
{
    char *block = grown(csv->line, &csv->room, csv->length + length + 1, 1);

    if (!block)
        return fail(csv, DREGS_NO_MEMORY, csv->number, "out of memory");
    csv->line = block;
    if (length)
        memcpy(csv->line + csv->length, bytes, length);
    csv->length += length;
    return DREGS_OK;
}

static dregs_status gathered(dregs_csv *csv)
{
    size_t length = csv->length + 1;

    csv->line[csv->length] = '\n';
    csv->length = 0;
    return line_done(csv, csv->line, length);
}

static const char *first(const char *bytes, const char *end, char wanted)
{
    const char *found = memchr(bytes, wanted, (size_t)(end - bytes));

    return found ? found : end;
}

dregs_status dregs_csv_feed(dregs_csv *csv, const char *bytes, size_t length)
{
    const char *end = bytes + length, *line_feed = bytes, *carriage_return = bytes;

    while (!csv->status && bytes < end) {
        const char *stop;
        size_t part;

        if (csv->after_return) {
            csv->after_return = 0;
            if (*bytes == '\n') {
                bytes++;
                continue;
            }
        }
        /* not sought anew for every line: most files have but one of them */
        if (line_feed <= bytes)
            line_feed = first(bytes, end, '\n');
        if (carriage_return <= bytes)
            carriage_return = first(bytes, end, '\r');
        stop = line_feed < carriage_return ? line_feed : carriage_return;
        part = (size_t)(stop - bytes);
        if (csv->length + part > ROW_MOST)
            return fail(csv, DREGS_BAD_DATA, csv->number, "a line longer than any real one");
        if (csv->length == 0 && stop < end && *stop == '\n') {
            line_done(csv, bytes, part + 1);
        } else if (gather(csv, bytes, part) == DREGS_OK && stop < end) {
            csv->after_return = *stop == '\r';
            gathered(csv);
        }
        bytes = stop < end ? stop + 1 : end;
    }
    return csv->status;
}

dregs_status dregs_csv_end(dregs_csv *csv)
{
    if (!csv->status && csv->length > 0) /* the last line has no line break */
        gathered(csv);
    if (!csv->status && csv->row_begin)
        fail(csv, DREGS_BAD_DATA, csv->cell_begin, "a quote is opened here and never closed");
    return csv->status;
}
