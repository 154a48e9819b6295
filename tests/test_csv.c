/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_csv.c: rows of CSV. What is expected follows from RFC 4180, section 2, and from csv.h. */
#include "check_main.h"
#include "dregs/csv.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>

#define COUNT(table) (int)(sizeof table / sizeof table[0])
#define BYTES(text)  text, sizeof text - 1

/* What came out of a reading, as text: "line[cell][cell]" and so on; long cells as their length. */
struct outcome {
    char rows[4096];
    size_t length, taken;
    size_t stop_at; /* the row that the callback refuses, 0 for none */
    dregs_status status;
    dregs_faults faults;
};

static void put(struct outcome *o, const char *text)
{
    size_t length = strlen(text);

    if (o->length + length < sizeof o->rows) {
        memcpy(o->rows + o->length, text, length + 1);
        o->length += length;
    }
}

static dregs_status take(void *user, const dregs_csv_row *row, dregs_faults *faults)
{
    struct outcome *o = user;
    char text[64];
    size_t i;

    if (faults != &o->faults)
        ck_abort_msg("the faults are not the caller's");
    snprintf(text, sizeof text, "%lu", row->line);
    put(o, text);
    for (i = 0; i < row->count; i++) {
        size_t length = strlen(row->cell[i]);
        snprintf(text, sizeof text, "%zu bytes", length);
        put(o, "[");
        put(o, length > 200 ? text : row->cell[i]);
        put(o, "]");
    }
    return ++o->taken == o->stop_at ? DREGS_UNKNOWN : DREGS_OK;
}

static int tolerant; /* what spreadsheets write besides is taken */

/* Reads in pieces of the given size, each in a block of its own so that a sanitizer sees a byte
 * read beyond it; 0 is all at once. */
static void read_pieces(struct outcome *o, const char *bytes, size_t length, size_t piece,
                        size_t stop_at)
{
    dregs_csv *csv;
    size_t at, part;

    memset(o, 0, sizeof *o);
    o->stop_at = stop_at;
    csv = dregs_csv_new(take, o, &o->faults);
    ck_assert_ptr_nonnull(csv);
    if (tolerant)
        dregs_csv_tolerate(csv);
    for (at = 0; at < length && !o->status; at += part) {
        char *copy;
        part = piece && piece < length - at ? piece : length - at;
        copy = malloc(part);
        if (!copy) /* a ck_assert costs a system call even when all is well */
            ck_abort_msg("out of memory");
        memcpy(copy, bytes + at, part);
        o->status = dregs_csv_feed(csv, copy, part);
        free(copy);
    }
    if (o->status) { /* nothing more is taken, and the status stays */
        size_t taken = o->taken;
        ck_assert_int_eq(dregs_csv_feed(csv, "x,y\nz\n", 6), o->status);
        ck_assert_int_eq(dregs_csv_end(csv), o->status);
        ck_assert_uint_eq(o->taken, taken);
    } else {
        o->status = dregs_csv_end(csv);
    }
    ck_assert_uint_eq(o->faults.more, 0);
    dregs_csv_free(csv);
}

/* Reads all at once and in pieces of 1, 2, 3, 5 and 4096 bytes; all must be the same. */
static void read_all_ways(struct outcome *o, const char *bytes, size_t length, size_t stop_at)
{
    static const size_t piece[] = {1, 2, 3, 5, 4096};
    static struct outcome other;
    int i;

    read_pieces(o, bytes, length, 0, stop_at);
    for (i = 0; i < COUNT(piece); i++) {
        read_pieces(&other, bytes, length, piece[i], stop_at);
        if (strcmp(other.rows, o->rows) != 0 || other.status != o->status ||
            other.taken != o->taken || other.faults.count != o->faults.count ||
            other.faults.fault[0].line != o->faults.fault[0].line ||
            strcmp(other.faults.fault[0].text, o->faults.fault[0].text) != 0)
            ck_abort_msg("in pieces of %zu: %s, status %d, fault of line %lu '%s'; "
                         "at once: %s, status %d, fault of line %lu '%s'",
                         piece[i], other.rows, (int)other.status, other.faults.fault[0].line,
                         other.faults.fault[0].text, o->rows, (int)o->status,
                         o->faults.fault[0].line, o->faults.fault[0].text);
    }
}

static const struct {
    const char *bytes;
    size_t length;
    const char *rows;
} good[] = {
    /* RFC 4180, section 2, rules 1 to 7 with their examples */
    {BYTES("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), "1[aaa][bbb][ccc]2[zzz][yyy][xxx]"},
    {BYTES("aaa,bbb,ccc\r\nzzz,yyy,xxx"), "1[aaa][bbb][ccc]2[zzz][yyy][xxx]"},
    {BYTES("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), "1[aaa][bbb][ccc]2[zzz][yyy][xxx]"},
    {BYTES("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"), "1[aaa][b\nbb][ccc]3[zzz][yyy][xxx]"},
    {BYTES("\"aaa\",\"b\"\"bb\",\"ccc\""), "1[aaa][b\"bb][ccc]"},
    {BYTES("\"a,b\",c"), "1[a,b][c]"},
    {BYTES("\"\"\"\",\"\"\"\"\"\",\"\""), "1[\"][\"\"][]"},
    {BYTES("\"\",a"), "1[][a]"},
    {BYTES("a,,b,"), "1[a][][b][]"},
    {BYTES(",a\n"), "1[][a]"},
    {BYTES("ragged,row\none\n1,2,3\n"), "1[ragged][row]2[one]3[1][2][3]"},
    {BYTES("one"), "1[one]"},
    {BYTES("a;b\tc"), "1[a;b\tc]"},
    /* nothing at all */
    {BYTES(""), ""},
    {BYTES("\n"), ""},
    {BYTES("\r"), ""},
    {BYTES("\r\n\r\n"), ""},
    {BYTES(" \t \n"), ""},
    {BYTES("\xEF\xBB\xBF"), ""},
    {BYTES("\xEF\xBB\xBF\r\n"), ""},
    {BYTES("#"), ""},
    /* byte order mark: at the very beginning only */
    {BYTES("\xEF\xBB\xBFitem,value\n"), "1[item][value]"},
    {BYTES("\xEF\xBB\xBF\"item\",value\n"), "1[item][value]"},
    {BYTES("\xEF\xBB\xBF# note\nitem\n"), "2[item]"},
    {BYTES("\xEF\xBB\xBF\xEF\xBB\xBFitem\n"), "1[\xEF\xBB\xBFitem]"},
    {BYTES("a\n\xEF\xBB\xBF"
           "b\n"),
     "1[a]2[\xEF\xBB\xBF"
     "b]"},
    /* line endings, mixed */
    {BYTES("a\rb\r\nc\nd"), "1[a]2[b]3[c]4[d]"},
    {BYTES("a\r\rb"), "1[a]3[b]"},
    {BYTES("a\n\rb"), "1[a]3[b]"},
    {BYTES("a\r\n\nb"), "1[a]3[b]"},
    {BYTES("a\r\n\rb\n\r\n\nc"), "1[a]3[b]6[c]"},
    {BYTES("a\r"), "1[a]"},
    {BYTES("\"x\ry\r\nz\nw\",q\rnext"), "1[x\ny\nz\nw][q]5[next]"},
    /* lines are counted through quoted cells, empty rows and comments */
    {BYTES("a\n\"b\n\n\nc\",d\n\n# e\nf\n\"g\nh\"\ni"), "1[a]2[b\n\n\nc][d]8[f]9[g\nh]11[i]"},
    {BYTES("\"\n\n\"\nx"), "1[\n\n]4[x]"},
    {BYTES("a,\"b\n\",\"\nc\",d\ne"), "1[a][b\n][\nc][d]4[e]"},
    /* comments */
    {BYTES("# one, \"two\n#\nx\n#y"), "3[x]"},
    {BYTES(" # x\n"), "1[# x]"},
    {BYTES("\"# x\"\n"), "1[# x]"},
    {BYTES("a,# x\n"), "1[a][# x]"},
    {BYTES("\"a\n# b\n\",c\n"), "1[a\n# b\n][c]"},
    {BYTES("# a \"quote\" out of place\nx\n"), "2[x]"},
    /* empty rows and rows of empty cells */
    {BYTES("a\n\n \n\t\nb"), "1[a]5[b]"},
    {BYTES(",,,\na\n,\n\"\",\"\"\n , ,\t\nb\n,,,"), "2[a]6[b]"},
    {BYTES(",,,x"), "1[][][][x]"},
    {BYTES("\"\""), ""},
    /* blanks go, but not quoted ones and not those inside */
    {BYTES(" a , b\t,\tc d  \n"), "1[a][b][c d]"},
    {BYTES(" \" a \" ,\"b\t\"\t, c\n"), "1[ a ][b\t][c]"},
    {BYTES("\" \"\n"), "1[ ]"},
    {BYTES("\xC2\xA0"
           "a\n"),
     "1[\xC2\xA0"
     "a]"}, /* a no-break space is no blank */
    /* other characters */
    {BYTES("\xC2\xB5m,\xCE\xBCm,\xE2\x82\xAC,\xF0\x9F\x92\xA7\n"),
     "1[\xC2\xB5m][\xCE\xBCm][\xE2\x82\xAC][\xF0\x9F\x92\xA7]"},
    {BYTES("a\vb\fc\x1B\x7F"), "1[a\vb\fc\x1B\x7F]"},
    {BYTES("\xC2\x85\xE2\x80\xA8"), "1[\xC2\x85\xE2\x80\xA8]"}, /* U+0085, U+2028: no line breaks */
};

START_TEST(good_bytes)
{
    struct outcome o;

    read_all_ways(&o, good[_i].bytes, good[_i].length, 0);
    ck_assert_str_eq(o.rows, good[_i].rows);
    ck_assert_int_eq(o.status, DREGS_OK);
    ck_assert_uint_eq(o.faults.count, 0);
}
END_TEST

static const struct {
    const char *bytes;
    size_t length;
    const char *rows; /* those handed out before it */
    unsigned long line;
    const char *says;
} bad[] = {
    /* never closed: the line where the quote stands, not that of the row or the end */
    {BYTES("\""), "", 1, "never closed"},
    {BYTES("a\n\"b"), "1[a]", 2, "never closed"},
    {BYTES("a\n\nb,\"c\nd\n\ne,f\n"), "1[a]", 3, "never closed"},
    {BYTES("a,\"b\nc\",\"d\ne\nf"), "", 2, "never closed"},
    {BYTES("a,\"b\nc\nd\",e,\"\"\"\nf\n"), "", 3, "never closed"},
    {BYTES("\"a\"\"\n"), "", 1, "never closed"},
    {BYTES("x\r\r\"y\r\rz"), "1[x]", 3, "never closed"},
    /* quotes out of place */
    {BYTES("a\nb\"c\n"), "1[a]", 2, "quote in the wrong place"},
    {BYTES("a\n\nx,b \"c\" d\n"), "1[a]", 3, "quote in the wrong place"},
    {BYTES("\"a\"b\n"), "", 1, "quote in the wrong place"},
    {BYTES("\"a\" b\n"), "", 1, "quote in the wrong place"},
    {BYTES("\"a\" \"b\"\n"), "", 1, "quote in the wrong place"},
    {BYTES("\"a\nb\"c\nd"), "", 2, "quote in the wrong place"},
    {BYTES("5\",6"), "", 1, "quote in the wrong place"},
    {BYTES("\xEF\xBB\xBF\xEF\xBB\xBF\"a\"\n"), "", 1, "quote in the wrong place"},
    /* NUL */
    {BYTES("a\nb\0c\nd\n"), "1[a]", 2, "NUL"},
    {BYTES("\0"), "", 1, "NUL"},
    {BYTES("a\n\"b\n\0\"\n"), "1[a]", 3, "NUL"},
    {BYTES("# \0\n"), "", 1, "NUL"},
    {BYTES("\xFF\xFEi\0t\0"), "", 1, "NUL"}, /* UTF-16 */
    /* not UTF-8 (RFC 3629) */
    {BYTES("a\n\xB5m\n"), "1[a]", 2, "not UTF-8"}, /* Latin-1 */
    {BYTES("\xC0\xAF\n"), "", 1, "not UTF-8"},
    {BYTES("a,\xE0\x80\xAF\n"), "", 1, "not UTF-8"},
    {BYTES("\xF0\x8F\xBF\xBF"), "", 1, "not UTF-8"},
    {BYTES("\xED\xA0\x80"), "", 1, "not UTF-8"},
    {BYTES("\xF4\x90\x80\x80"), "", 1, "not UTF-8"},
    {BYTES("a\nb,\xE2\x82"), "1[a]", 2, "not UTF-8"}, /* truncated by the end of the file */
    {BYTES("\xE2\x82\n\xAC"), "", 1, "not UTF-8"},    /* and by that of the line */
    {BYTES("\xEF\xBB"), "", 1, "not UTF-8"},
    {BYTES("a\n# \xFF\n"), "1[a]", 2, "not UTF-8"},
    {BYTES("\"a\n\n\x80\"\n"), "", 3, "not UTF-8"},
};

START_TEST(bad_bytes)
{
    struct outcome o;

    read_all_ways(&o, bad[_i].bytes, bad[_i].length, 0);
    ck_assert_str_eq(o.rows, bad[_i].rows);
    ck_assert_int_eq(o.status, DREGS_BAD_DATA);
    ck_assert_uint_eq(o.faults.count, 1);
    ck_assert_int_eq(o.faults.fault[0].status, DREGS_BAD_DATA);
    ck_assert_msg(strstr(o.faults.fault[0].text, bad[_i].says), "says '%s'",
                  o.faults.fault[0].text);
    ck_assert_uint_eq(o.faults.fault[0].line, bad[_i].line);
}
END_TEST

/* A file with a cell of \p size bytes in its third line, quoted or not; every seventh byte of a
 * quoted one is a line break. */
static char *with_cell(size_t size, int quoted, size_t *length)
{
    static const char head[] = "a\nb\nc,", tail[] = ",d\ne\n";
    char *bytes = malloc(size + 64), *p = bytes;
    size_t i;

    ck_assert_ptr_nonnull(bytes);
    memcpy(p, head, sizeof head - 1);
    p += sizeof head - 1;
    if (quoted)
        *p++ = '"';
    for (i = 0; i < size; i++)
        *p++ = quoted && i % 7 == 6 ? '\n' : 'x';
    if (quoted)
        *p++ = '"';
    memcpy(p, tail, sizeof tail - 1);
    *length = (size_t)(p - bytes) + sizeof tail - 1;
    return bytes;
}

START_TEST(cell_as_long_as_allowed)
{
    static struct outcome o;
    char expected[128];
    size_t length;
    char *bytes = with_cell(DREGS_CSV_CELL_MOST, _i, &length);

    read_all_ways(&o, bytes, length, 0);
    free(bytes);
    snprintf(expected, sizeof expected, "1[a]2[b]3[c][65536 bytes][d]%d[e]",
             _i ? 4 + 65536 / 7 : 4);
    ck_assert_str_eq(o.rows, expected);
    ck_assert_int_eq(o.status, DREGS_OK);
}
END_TEST

START_TEST(cell_too_long)
{
    /* one more, about the blocks libcsv grows by, and much more */
    static const size_t over[] = {1, 2, 127, 128, 129, 895, 896, 1023, 1024, 1025, 5000, 900000};
    static struct outcome o;
    size_t length;
    char *bytes = with_cell(DREGS_CSV_CELL_MOST + over[_i / 2], _i % 2, &length);

    read_all_ways(&o, bytes, length, 0);
    free(bytes);
    ck_assert_str_eq(o.rows, "1[a]2[b]");
    ck_assert_int_eq(o.status, DREGS_BAD_DATA);
    ck_assert_uint_eq(o.faults.count, 1);
    ck_assert_str_eq(o.faults.fault[0].text, "a cell of more than 65536 bytes");
    ck_assert_uint_eq(o.faults.fault[0].line, 3);
}
END_TEST

/* A forgotten quote in a large file ends there, with the line of the quote. */
START_TEST(cell_never_closed_in_a_large_file)
{
    static struct outcome o;
    const size_t length = 300000;
    char *bytes = malloc(length);
    size_t i;

    ck_assert_ptr_nonnull(bytes);
    for (i = 0; i < length; i++)
        bytes[i] = "row,1\n"[i % 6];
    memcpy(bytes + 6 * 99, "r,\"1\n\n", 6); /* line 100 */
    read_all_ways(&o, bytes, length, 0);
    free(bytes);
    ck_assert_uint_eq(o.taken, 99);
    ck_assert_int_eq(o.status, DREGS_BAD_DATA);
    ck_assert_uint_eq(o.faults.fault[0].line, 100);
}
END_TEST

START_TEST(line_too_long)
{
    static struct outcome o;
    const size_t most = 16 * (size_t)DREGS_CSV_CELL_MOST;
    char *bytes = malloc(most + 16), *at;

    ck_assert_ptr_nonnull(bytes);
    memcpy(bytes, "a\nb\n", 4);
    memset(bytes + 4, 'x', most);
    for (at = bytes + 4 + 1023; at < bytes + 4 + most; at += 1024)
        *at = ',';
    memcpy(bytes + 4 + most, "\nc\n", 3); /* a line that is as long as allowed, of short cells */
    read_all_ways(&o, bytes, most + 7, 0);
    ck_assert_int_eq(o.status, DREGS_OK);
    ck_assert_uint_eq(o.taken, 4);
    memcpy(bytes + 4 + most, "x\nc\n", 4);
    read_all_ways(&o, bytes, most + 8, 0);
    free(bytes);
    ck_assert_str_eq(o.rows, "1[a]2[b]");
    ck_assert_int_eq(o.status, DREGS_BAD_DATA);
    ck_assert_uint_eq(o.faults.fault[0].line, 3);
    ck_assert_msg(strstr(o.faults.fault[0].text, "line longer"), "says '%s'",
                  o.faults.fault[0].text);
}
END_TEST

/* Short lines, short cells, but a row that never ends. */
START_TEST(row_too_long)
{
    static struct outcome o;
    dregs_csv *csv;
    dregs_status status;
    long fed;

    memset(&o, 0, sizeof o);
    csv = dregs_csv_new(take, &o, &o.faults);
    ck_assert_ptr_nonnull(csv);
    status = dregs_csv_feed(csv, "a\n\"", 3);
    for (fed = 0; fed < 4000000 && !status; fed++)
        status = dregs_csv_feed(csv, "\n\",\"", 4);
    dregs_csv_free(csv);
    ck_assert_str_eq(o.rows, "1[a]");
    ck_assert_int_eq(status, DREGS_BAD_DATA);
    ck_assert_uint_eq(o.faults.fault[0].line, 2);
    ck_assert_msg(strstr(o.faults.fault[0].text, "row longer"), "says '%s'",
                  o.faults.fault[0].text);
}
END_TEST

START_TEST(many_cells)
{
    static struct outcome o;
    static char bytes[20000];
    size_t i;

    for (i = 0; i < sizeof bytes; i++)
        bytes[i] = i % 2 ? ',' : 'z';
    read_all_ways(&o, bytes, sizeof bytes, 0);
    ck_assert_int_eq(o.status, DREGS_OK);
    ck_assert_uint_eq(o.taken, 1);
    ck_assert_int_eq(strncmp(o.rows, "1[z][z][z]", 10), 0);
}
END_TEST

/* The cells themselves, long ones among short ones: blocks have moved before the row is handed. */
static dregs_status take_thousand(void *user, const dregs_csv_row *row, dregs_faults *faults)
{
    size_t i;

    (void)faults;
    ck_assert_uint_eq(row->count, 1000);
    for (i = 0; i < row->count; i++) {
        ck_assert_uint_eq(strlen(row->cell[i]), i);
        ck_assert_uint_eq(strspn(row->cell[i], i % 2 ? "o" : "e"), i);
    }
    ++*(int *)user;
    return DREGS_OK;
}

START_TEST(cells_of_all_lengths)
{
    char cell[1001];
    int taken = 0, twice;
    size_t i;
    dregs_csv *csv = dregs_csv_new(take_thousand, &taken, NULL);

    ck_assert_ptr_nonnull(csv);
    for (twice = 0; twice < 2; twice++)
        for (i = 0; i < 1000; i++) {
            memset(cell, i % 2 ? 'o' : 'e', i);
            cell[i] = i == 999 ? '\n' : ',';
            ck_assert_int_eq(dregs_csv_feed(csv, cell, i + 1), DREGS_OK);
        }
    ck_assert_int_eq(dregs_csv_end(csv), DREGS_OK);
    ck_assert_int_eq(taken, 2);
    dregs_csv_free(csv);
}
END_TEST

START_TEST(callback_stops_the_reading)
{
    struct outcome o;

    read_all_ways(&o, BYTES("a\nb,\"\n\"\nc\nd\"\n"), 2);
    ck_assert_str_eq(o.rows, "1[a]2[b][\n]");
    ck_assert_int_eq(o.status, DREGS_UNKNOWN);
    ck_assert_uint_eq(o.faults.count, 0); /* what to say is for the callback */
    read_all_ways(&o, BYTES("a\nb"), 2);  /* at the end of the file */
    ck_assert_str_eq(o.rows, "1[a]2[b]");
    ck_assert_int_eq(o.status, DREGS_UNKNOWN);
}
END_TEST

static dregs_status take_none(void *user, const dregs_csv_row *row, dregs_faults *faults)
{
    (void)row;
    (void)faults;
    ++*(long *)user;
    return DREGS_OK;
}

START_TEST(faults_may_be_nobodys)
{
    long rows = 0;
    dregs_csv *csv = dregs_csv_new(take_none, &rows, NULL);

    ck_assert_ptr_nonnull(csv);
    ck_assert_int_eq(dregs_csv_feed(csv, "", 0), DREGS_OK);
    ck_assert_int_eq(dregs_csv_feed(csv, "a\nb\"\n", 5), DREGS_BAD_DATA);
    ck_assert_int_eq(dregs_csv_end(csv), DREGS_BAD_DATA);
    ck_assert_int_eq(rows, 1);
    dregs_csv_free(csv);
    dregs_csv_free(NULL);
    csv = dregs_csv_new(take_none, &rows, NULL); /* freed in the middle of a quoted cell */
    ck_assert_ptr_nonnull(csv);
    ck_assert_int_eq(dregs_csv_feed(csv, "a,\"b\nc", 6), DREGS_OK);
    dregs_csv_free(csv);
}
END_TEST

static long peak_kilobytes(void)
{
    struct rusage usage;

    getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss;
}

START_TEST(memory_does_not_grow_with_the_file)
{
    static const char row[] = "bath,\"a \"\"note\"\", that\ngoes on\",2.385,mL/m2,15%,\xC2\xB5\r\n";
    enum { ROWS_A_PIECE = 1000, MEGABYTES = 50 };
    const size_t length = sizeof row - 1;
    char *piece = malloc(length * ROWS_A_PIECE);
    long rows = 0, before, pieces = MEGABYTES * 1000000L / (long)(length * ROWS_A_PIECE) + 1, i;
    dregs_csv *csv = dregs_csv_new(take_none, &rows, NULL);

    ck_assert(piece && csv);
    for (i = 0; i < ROWS_A_PIECE; i++)
        memcpy(piece + (size_t)i * length, row, length);
    ck_assert_int_eq(dregs_csv_feed(csv, piece, length * ROWS_A_PIECE), DREGS_OK);
    before = peak_kilobytes();
    for (i = 1; i < pieces; i++)
        ck_assert_int_eq(dregs_csv_feed(csv, piece, length * ROWS_A_PIECE), DREGS_OK);
    ck_assert_int_eq(dregs_csv_end(csv), DREGS_OK);
    ck_assert_int_eq(rows, pieces * ROWS_A_PIECE);
    ck_assert_msg(peak_kilobytes() - before < 4096, "grew by %ld KB", peak_kilobytes() - before);
    dregs_csv_free(csv);
    free(piece);
}
END_TEST

/* Random bytes from what matters to a reader, in pieces of all sizes: always the same outcome. */
START_TEST(pieces_do_not_matter)
{
    static const char *const token[] = {"a",  "b ", ",",    "\"",       "\"\"",         "\n",
                                        "\r", " ",  "\r\n", "\xC3\xA9", "\xEF\xBB\xBF", "#",
                                        ",",  "\n", "\t",   "\",\"",    "2.385"};
    uint64_t state = UINT64_C(88172645463325252); /* xorshift64 (Marsaglia 2003) */
    static struct outcome o;
    long ok = 0, refused = 0;
    int i;

    for (i = 0; i < 4000; i++) {
        char bytes[256];
        size_t length = 0, tokens, k;
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        tokens = state % 23;
        for (k = 0; k < tokens; k++) {
            const char *t;
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            t = token[state % (sizeof token / sizeof token[0])];
            memcpy(bytes + length, t, strlen(t));
            length += strlen(t);
        }
        if (state % 97 == 0 && length > 1)
            bytes[length / 2] = state % 2 ? '\0' : '\xE9';
        read_all_ways(&o, bytes, length, 0);
        if ((o.status != DREGS_OK && o.status != DREGS_BAD_DATA) ||
            o.faults.count != (o.status != DREGS_OK))
            ck_abort_msg("status %d with %u faults", (int)o.status, o.faults.count);
        ok += !o.status;
        refused += o.status != DREGS_OK;
    }
    ck_assert_int_gt(ok, 500);
    ck_assert_int_gt(refused, 500);
}
END_TEST

/* A line without quotes is split here, one with them by libcsv: the cells of a random line are
 * those that libcsv makes of the same line with an empty cell in quotes behind it. */
START_TEST(split_as_libcsv_does)
{
    static const char *const token[] = {"a",  "b ",       ",",     " ", ",",
                                        "\t", "\xC3\xA9", "2.385", "#", ","};
    uint64_t state = UINT64_C(88172645463325252); /* xorshift64 (Marsaglia 2003) */
    static struct outcome plain, quoted;
    char bytes[256], *empty;
    long rows = 0;
    int i;

    for (i = 0; i < 4000; i++) {
        size_t length = 1, tokens = 1 + (size_t)i % 23;
        bytes[0] = 'x';
        if (i % 3 == 0) /* a first cell that is empty, or has blanks before it */
            bytes[0] = i % 2 ? ' ' : ',';
        while (tokens--) {
            const char *t;
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            t = token[state % COUNT(token)];
            memcpy(bytes + length, t, strlen(t));
            length += strlen(t);
        }
        read_pieces(&plain, bytes, length, 0, 0);
        memcpy(bytes + length, ",\"\"", 3);
        read_pieces(&quoted, bytes, length + 3, 0, 0);
        if (plain.status || quoted.status || plain.taken != quoted.taken)
            ck_abort_msg("line %d: status %d and %d", i, (int)plain.status, (int)quoted.status);
        empty = quoted.rows + (quoted.length < 2 ? 0 : quoted.length - 2);
        if (plain.taken && (strcmp(empty, "[]") != 0 || plain.length + 2 != quoted.length ||
                            memcmp(plain.rows, quoted.rows, plain.length) != 0))
            ck_abort_msg("line %d: %s is not %s", i, plain.rows, quoted.rows);
        rows += plain.taken != 0;
    }
    ck_assert_int_gt(rows, 3000);
}
END_TEST

static const struct {
    const char *bytes;
    size_t length;
    const char *rows; /* those handed out */
    unsigned long line;
    const char *says; /* NULL: nothing is wrong */
} written[] = {
    {BYTES("a;b\nc,d;\"e;f\"\n"), "1[a][b]2[c,d][e;f]", 0, NULL},
    {BYTES("a\tb\n c\t\td \n\te\n"), "1[a][b]2[c][][d]3[][e]", 0, NULL},
    {BYTES("a,b\nc;d\te,f\n"), "1[a][b]2[c;d\te][f]", 0, NULL},
    {BYTES("# x;y\n\n\"a,b\";c\nd;e\n"), "3[a,b][c]4[d][e]", 0, NULL},
    {BYTES("a\nb,c\n"), "1[a]2[b][c]", 0, NULL},
    {BYTES("sep=;\na\nb;c\n"), "2[a]3[b][c]", 0, NULL},
    {BYTES("\"sep=;\"\na;b\n"), "2[a][b]", 0, NULL},
    {BYTES("sep=\t\r\na\tb\r\n"), "2[a][b]", 0, NULL},
    {BYTES("\xEF\xBB\xBFsep=;\na;b\n"), "2[a][b]", 0, NULL},
    {BYTES("a;b\nsep=,;c\n"), "1[a][b]2[sep=,][c]", 0, NULL},
    {BYTES("a;\xC2\xA0"
           "b\xE2\x80\xAF"
           "c\xE2\x80\x87\n\"\xC2\xA0\";d\n"),
     "1[a][b c]2[][d]", 0, NULL},
    {BYTES("a;b,c\n"), "", 1, "one for the whole file"},
    {BYTES("a,b\tc\n"), "", 1, "separated by ',' and by a tab"},
    {BYTES("sep=;\na,b\n"), "", 2, "the row sep= says ';'"},
    {BYTES("sep=;x\na;b\n"), "", 1, "names one separator"},
    {BYTES("sep=:\na:b\n"), "", 1, "names one separator"},
    /* files of other kinds, by the bytes they begin with */
    {BYTES("PK\3\4\n\0\0\0mimetype"), "", 1, "a spreadsheet (XLSX, ODS)"},
    {BYTES("PK\3\4\x14\0\x06\0\n"), "", 1, "save as \"CSV UTF-8\""},
    {BYTES("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1\n"), "", 1, "a spreadsheet (XLS)"},
    {BYTES("\xFF\xFE"
           "a\0,\0b\0\n\0"),
     "", 1, "iconv -f UTF-16"},
    {BYTES("\xFE\xFF\0a\0,\0b\0\n"), "", 1, "UTF-16"},
    {BYTES("\x1F\x8B\x08\0\n"), "", 1, "gzip"},
    {BYTES("%PDF-1.4\n"), "", 1, "a PDF document"},
    {BYTES("a;b\n\xB5m;1\n"), "1[a][b]", 2, "Windows-1252"},
};

START_TEST(what_spreadsheets_write)
{
    struct outcome o;

    tolerant = 1;
    read_all_ways(&o, written[_i].bytes, written[_i].length, 0);
    tolerant = 0;
    ck_assert_str_eq(o.rows, written[_i].rows);
    ck_assert_int_eq(o.status, written[_i].says ? DREGS_BAD_DATA : DREGS_OK);
    ck_assert_uint_eq(o.faults.count, written[_i].says != NULL);
    if (!written[_i].says)
        return;
    ck_assert_uint_eq(o.faults.fault[0].line, written[_i].line);
    if (!strstr(o.faults.fault[0].text, written[_i].says))
        ck_abort_msg("%s", o.faults.fault[0].text);
}
END_TEST

/* A text of rows with commas and one with another separator have the same cells; quoted cells and
 * those that hold a comma are libcsv's, the others are split here. */
START_TEST(separators_are_alike)
{
    static const char commas[] = "a,b,c\n1.5, x ,\n,,\n\xC3\xA9,\"q \"\"r\"\"\",z\n\"l\nm\",,n\n";
    static struct outcome o, other;
    char text[sizeof commas];
    int k;
    size_t i;

    tolerant = 1;
    read_all_ways(&o, commas, sizeof commas - 1, 0);
    ck_assert_uint_eq(o.taken, 4);
    for (k = 0; k < 2; k++) {
        for (i = 0; i < sizeof commas; i++)
            text[i] = commas[i] == ',' ? ";\t"[k] : commas[i];
        read_all_ways(&other, text, sizeof text - 1, 0);
        ck_assert_int_eq(other.status, DREGS_OK);
        ck_assert_str_eq(other.rows, o.rows);
    }
    tolerant = 0;
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("csv");
    TCase *tcase = tcase_create("csv");

    tcase_set_timeout(tcase, 120);
    tcase_add_loop_test(tcase, good_bytes, 0, COUNT(good));
    tcase_add_loop_test(tcase, bad_bytes, 0, COUNT(bad));
    tcase_add_loop_test(tcase, cell_as_long_as_allowed, 0, 2);
    tcase_add_loop_test(tcase, cell_too_long, 0, 24);
    tcase_add_test(tcase, cell_never_closed_in_a_large_file);
    tcase_add_test(tcase, line_too_long);
    tcase_add_test(tcase, row_too_long);
    tcase_add_test(tcase, many_cells);
    tcase_add_test(tcase, cells_of_all_lengths);
    tcase_add_test(tcase, callback_stops_the_reading);
    tcase_add_test(tcase, faults_may_be_nobodys);
    tcase_add_test(tcase, memory_does_not_grow_with_the_file);
    tcase_add_test(tcase, pieces_do_not_matter);
    tcase_add_test(tcase, split_as_libcsv_does);
    tcase_add_loop_test(tcase, what_spreadsheets_write, 0, COUNT(written));
    tcase_add_test(tcase, separators_are_alike);
    suite_add_tcase(suite, tcase);
    return run(suite);
}
