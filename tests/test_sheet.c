/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_sheet.c: a file under its header. What is expected follows from sheet.h. */
#include "base/sheet.h"
#include "check_main.h"

#include <string.h>

#define COUNT(table) (int)(sizeof table / sizeof table[0])

enum { NAME, AMOUNT, TOTAL, REMARK, COLUMNS };

static const dregs_column columns[COLUMNS] = {
    {"name", DREGS_IN_ROWS, NULL},
    {"amount", DREGS_IN_HEADER, "total"},
    {"total", DREGS_OPTIONAL, NULL},
    {"remark", DREGS_OPTIONAL, NULL},
};

static const dregs_sheet_words own = {
    .allowed = "; take name or amount",
    .nearest = {", or is it <", ">"},
    .twice = {"twice: ", "!"},
    .missing = {"wanted: ", "!"},
    .both = "amount or total",
    .cells = {" of ", "!"},
    .empty = "nothing at all",
    .rowless = "a header alone",
};

static const dregs_sheet_form plain = {.column = columns,
                                       .count = COLUMNS,
                                       .rows_most = 4,
                                       .numbers = 1u << AMOUNT,
                                       .quantities = 1u << TOTAL};
static const dregs_sheet_form even = {
    .column = columns, .count = COLUMNS, .words = &own, .whole = 1, .even = 1};
static const dregs_sheet_form loud = {.column = columns,
                                      .count = COLUMNS,
                                      .words = &own,
                                      .stops_when_full = 1,
                                      .unknown = DREGS_UNKNOWN};

/* What was handed on: "line:name=amount/total/remark " and so on. */
struct taken {
    char rows[1024];
    unsigned count;
};

static dregs_status take(void *user, const dregs_sheet_row *row, dregs_faults *faults)
{
    struct taken *taken = user;
    size_t used = strlen(taken->rows);

    (void)faults;
    taken->count++;
    snprintf(taken->rows + used, sizeof taken->rows - used, "%lu:%s=%s/%s/%s ", row->line,
             dregs_sheet_cell(row, NAME), dregs_sheet_cell(row, AMOUNT),
             dregs_sheet_cell(row, TOTAL), dregs_sheet_cell(row, REMARK));
    return strcmp(dregs_sheet_cell(row, NAME), "stop") == 0 ? DREGS_DOMAIN : DREGS_OK;
}

static const struct {
    const dregs_sheet_form *form;
    const char *text;
    dregs_status status;
    const char *rows;
    unsigned faults;
    dregs_status first;
    unsigned long line;
    const char *words;
} files[] = {
    {&plain, "name,amount\na,1\nb,2\n", DREGS_OK, "2:a=1// 3:b=2// ", 0, 0, 0, NULL},
    {&plain, "# a list\n\nremark,amount,name\nr,1,a\n# one\n,,b\n", DREGS_OK, "4:a=1//r 6:b=// ", 0,
     0, 0, NULL},
    {&plain, "name,amount,remark\na\nb, 2 \n", DREGS_OK, "2:a=// 3:b=2// ", 0, 0, 0, NULL},
    {&plain, "name,total\na,3\n", DREGS_OK, "2:a=/3/ ", 0, 0, 0, NULL},
    {&plain, "amount,name\n7\n8,b\n9,c,\n", DREGS_BAD_DATA, "3:b=8// ", 2, DREGS_BAD_DATA, 2,
     "1 cells, the header has 2 (a cell with a comma stands in quotes)"},
    /* the column that was meant is not missing besides */
    {&plain, "name,amuont\na,1\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1,
     "unknown column 'amuont'; nearest: 'amount'"},
    {&plain, "name,colour,amount\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1,
     "unknown column 'colour'"},
    {&plain, "name,amount,name\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1,
     "a second column 'name'"},
    {&plain, "\nname,remark\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 2,
     "column 'amount' is missing from the header"},
    {&plain, "name,amount,total\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1,
     "two columns exclude each other"},
    {&plain, "", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 0, "the file is empty"},
    {&plain, "name,amount\n# none\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 0,
     "no row follows the header"},
    {&plain, "name,amount\na\nb\nc\nd\ne\nf\n", DREGS_BAD_DATA, "2:a=// 3:b=// 4:c=// 5:d=// ", 1,
     DREGS_BAD_DATA, 6, "more than 4 rows"},
    {&plain, "name,amount\nstop,1\nb,2\n", DREGS_DOMAIN, "2:stop=1// ", 0, 0, 0, NULL},
    {&even, "name,amount,remark\na,1,\nb,2\n", DREGS_BAD_DATA, "2:a=1// ", 1, DREGS_BAD_DATA, 3,
     "2 cells of 3!"},
    {&even, "", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1, "nothing at all"},
    {&even, "name,amount\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1, "a header alone"},
    {&even, "name,amount,amount\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1, "twice: 'amount'!"},
    {&even, "name\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1, "wanted: 'amount'!"},
    {&even, "name,amount,total\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1, "amount or total"},
    {&loud, "name,amount,remarc\n", DREGS_BAD_DATA, "", 1, DREGS_UNKNOWN, 1,
     "unknown column 'remarc', or is it <remark>; take name or amount"},
    /* other separators */
    {&plain, "name;amount\na;1,5\nb;2\n", DREGS_OK, "2:a=1.5// 3:b=2// ", 0, 0, 0, NULL},
    {&plain, "name;amount\na;1.5\nb; 2.25 \n", DREGS_OK, "2:a=1.5// 3:b=2.25// ", 0, 0, 0, NULL},
    {&plain, "# x, y\n\nname\tamount\na\t-1,5e-3\n", DREGS_OK, "4:a=-1.5e-3// ", 0, 0, 0, NULL},
    {&plain, "\"name\";\"amount\";remark\na;1,5;\"r; s\"\n", DREGS_OK, "2:a=1.5//r; s ", 0, 0, 0,
     NULL},
    {&plain, "sep=;\nname;amount\na;0,5\n", DREGS_OK, "3:a=0.5// ", 0, 0, 0, NULL},
    {&plain, "\xEF\xBB\xBFsep=;;;\r\nname;amount;\r\na;0,5;\r\n", DREGS_OK, "3:a=0.5// ", 0, 0, 0,
     NULL},
    {&plain, "sep=,\nname,amount\na,0.5\n", DREGS_OK, "3:a=0.5// ", 0, 0, 0, NULL},
    {&plain, "sep=;\nname,amount\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 2,
     "the row sep= says ';', and the cells are separated by ','"},
    {&plain, "sep=|\nname|amount\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1,
     "a row sep= names one separator: ',', ';' or a tab"},
    {&plain, "name;amount,remark\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1,
     "the header is separated by ';' and by ',': one for the whole file"},
    {&plain, "who|how much\na|1\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 1,
     "no column of this header is known, the first is 'who|how much'; a header must name "
     "name,amount"},
    {&plain, "name;amount\na;1;2;3\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 2,
     "4 cells, the header has 2 (the separator is ';')"},
    /* capitals, columns without a name */
    {&plain, "NAME,Amount,,\na,1\nb,2,,\n", DREGS_OK, "2:a=1// 3:b=2// ", 0, 0, 0, NULL},
    {&plain, "name,,amount\na,x,1\nb,,2\n", DREGS_BAD_DATA, "3:b=2// ", 1, DREGS_BAD_DATA, 2,
     "'x' stands in column 2, which has no name in the header"},
    /* the decimal mark: one for the whole file, and one number at least tells which */
    {&plain, "name;amount\na;1,234\nb;0,5\n", DREGS_OK, "2:a=1.234// 3:b=0.5// ", 0, 0, 0, NULL},
    {&plain, "name;amount\na;1,234\nb;1,2340\n", DREGS_OK, "2:a=1.234// 3:b=1.2340// ", 0, 0, 0,
     NULL},
    {&plain, "name;amount\na;0,234\n", DREGS_OK, "2:a=0.234// ", 0, 0, 0, NULL},
    {&plain, "name;amount\na;1234,567\n", DREGS_OK, "2:a=1234.567// ", 0, 0, 0, NULL},
    {&plain, "name;amount\na;1,234e2\n", DREGS_OK, "2:a=1.234e2// ", 0, 0, 0, NULL},
    {&plain, "name;amount\na;7\nb;12,500\n", DREGS_BAD_DATA, "2:a=7// 3:b=12.500// ", 1,
     DREGS_BAD_DATA, 3,
     "the comma of '12,500' is a decimal one or stands between thousands, and no other number of "
     "the file tells: write '12,5000', or the digits alone"},
    {&plain, "name\tamount\na\t1.234\n", DREGS_BAD_DATA, "2:a=1.234// ", 1, DREGS_BAD_DATA, 2,
     "the point of '1.234' is a decimal one or stands between thousands, and no other number of "
     "the file tells: write '1.2340', or the digits alone"},
    {&plain, "name;amount\na;1,234\nb;1.234\nc;1.5\n", DREGS_BAD_DATA, "2:a=1.234// ", 1,
     DREGS_BAD_DATA, 3,
     "'1.234' has a decimal point, and '1,234' of line 2 a comma: one of the two for the whole "
     "file, and none between thousands"},
    {&plain, "name;amount\na;1.234\nb;0,5\n", DREGS_BAD_DATA, "2:a=1.234// ", 1, DREGS_BAD_DATA, 3,
     "'0,5' has a decimal comma, and '1.234' of line 2 a point: one of the two for the whole "
     "file, and none between thousands"},
    {&plain, "name;amount\na;1.234,5\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 2,
     "'1.234,5': nothing stands between the thousands of a number, write 1234,5"},
    {&plain, "name;amount\na;-1.234.567\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 2,
     "'-1.234.567': nothing stands between the thousands of a number, write -1234567"},
    {&plain, "name;amount\na;1 234,5\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 2,
     "'1 234,5': nothing stands between the thousands of a number, write 1234,5"},
    {&plain, "name;amount\na;12'500\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 2,
     "'12'500': nothing stands between the thousands of a number, write 12500"},
    /* no-break spaces: U+00A0 about a cell, U+202F in a number */
    {&plain,
     "name;amount\n\xC2\xA0"
     "a b;0,5\xC2\xA0\n",
     DREGS_OK, "2:a b=0.5// ", 0, 0, 0, NULL},
    {&plain,
     "name;amount\na;1\xE2\x80\xAF"
     "234,5\n",
     DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 2,
     "'1 234,5': nothing stands between the thousands of a number, write 1234,5"},
    /* a bound, a share, a unit; words stay as they are */
    {&plain, "name;total;remark\na;<23,5\xC2\xA0mL;1,5\n1,5;2,5 %;1.5\n", DREGS_OK,
     "2:a=/<23.5 mL/1,5 3:1,5=/2.5 %/1.5 ", 0, 0, 0, NULL},
    {&plain, "name;amount\na;1,5 mL\nb;1.2.3\nc;2,5-diol\n", DREGS_OK,
     "2:a=1,5 mL// 3:b=1.2.3// 4:c=2,5-diol// ", 0, 0, 0, NULL},
    /* with commas between the cells */
    {&plain, "name,amount,remark\na,28,5,r\n", DREGS_BAD_DATA, "", 1, DREGS_BAD_DATA, 2,
     "4 cells, the header has 3: a decimal comma? write 28.5 (a cell with a comma stands in "
     "quotes)"},
    {&plain, "name,amount\na,\"1,5\"\nb,1.234\n", DREGS_OK, "2:a=1,5// 3:b=1.234// ", 0, 0, 0,
     NULL},
};

START_TEST(file_under_its_header)
{
    static dregs_faults faults;
    struct taken taken = {"", 0}, again = {"", 0};
    const char *text = files[_i].text;

    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(
        dregs_sheet_read(files[_i].form, text, strlen(text), take, &taken, NULL, &faults),
        files[_i].status);
    ck_assert_str_eq(taken.rows, files[_i].rows);
    ck_assert_uint_eq(faults.count, files[_i].faults);
    if (files[_i].words) {
        ck_assert_str_eq(faults.fault[0].text, files[_i].words);
        ck_assert_int_eq(faults.fault[0].status, files[_i].first);
        ck_assert_uint_eq(faults.fault[0].line, files[_i].line);
    }
    ck_assert_int_eq(dregs_sheet_read(files[_i].form, text, strlen(text), take, &again, NULL, NULL),
                     files[_i].status);
    ck_assert_str_eq(again.rows, taken.rows);
}
END_TEST

static const struct {
    const char *text, *words;
    char separator, decimal;
    unsigned long line;
} dialects[] = {
    {"name,amount\na,1.5\n", "", ',', '.', 0},
    {"name,amount\na\n", "", ',', '.', 0},
    {"name;amount\na;1,234\nb;1,5\nc;2,5\n", "cells separated by ';', decimal comma (line 3 tells)",
     ';', ',', 3},
    {"name\tamount\na\t0.5\n", "cells separated by tabs, decimal point (line 2 tells)", '\t', '.',
     2},
    {"name;amount\na;5\n", "cells separated by ';', no number with a decimal mark", ';', 0, 0},
};

START_TEST(how_it_is_written_is_told)
{
    const char *text = dialects[_i].text;
    struct taken taken = {"", 0};
    dregs_dialect dialect = {'x', 'x', 99};
    char words[DREGS_DIALECT_TEXT];

    ck_assert_int_eq(dregs_sheet_read(&plain, text, strlen(text), take, &taken, &dialect, NULL),
                     DREGS_OK);
    ck_assert_int_eq(dialect.separator, dialects[_i].separator);
    ck_assert_int_eq(dialect.decimal, dialects[_i].decimal);
    ck_assert_uint_eq(dialect.line, dialects[_i].line);
    ck_assert_str_eq(dregs_dialect_words(dialect, words), dialects[_i].words);
}
END_TEST

/* Thirty rows with a cell too many, and a good one behind them. */
START_TEST(reading_ends_when_no_fault_finds_room)
{
    static dregs_faults faults;
    char text[512] = "name,amount\n";
    struct taken taken = {"", 0};
    int i;

    for (i = 0; i < 30; i++)
        strcat(text, "a,1,2\n");
    strcat(text, "b,2\n");
    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(dregs_sheet_read(&loud, text, strlen(text), take, &taken, NULL, &faults),
                     DREGS_BAD_DATA);
    ck_assert_uint_eq(faults.count, DREGS_FAULTS_MAX);
    ck_assert_uint_eq(faults.more, 1);
    ck_assert_uint_eq(taken.count, 0);
    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(dregs_sheet_read(&plain, text, strlen(text), take, &taken, NULL, &faults),
                     DREGS_BAD_DATA);
    ck_assert_uint_eq(faults.more, 30 - DREGS_FAULTS_MAX);
    ck_assert_uint_eq(taken.count, 1);
}
END_TEST

static const struct {
    const char *text, *unit;
    double value; /* in the unit */
    dregs_status status;
    double sd; /* SI */
} spreads[] = {
    {"", "L", 4, DREGS_OK, -1}, /* untouched */
    {"0.5", "L", 4, DREGS_OK, 0.5e-3},
    {"25%", "L", 4, DREGS_OK, 1e-3},
    {"25 %", "L", -4, DREGS_OK, 1e-3},
    {"0", "L", 4, DREGS_OK, 0},
    {"10%", "degC", 60, DREGS_OK, 6},
    {"9", "degF", 140, DREGS_OK, 5},
    {"-1", "L", 4, DREGS_BAD_NUMBER, -1},
    {"%", "L", 4, DREGS_BAD_NUMBER, -1},
    {"1 L", "L", 4, DREGS_BAD_NUMBER, -1},
    {"1e21", "L", 4, DREGS_BAD_NUMBER, -1},
    {"0.00000000000000000000000000000000000000000000001", "L", 4, DREGS_BAD_NUMBER, -1},
};

START_TEST(spread_in_the_unit_or_as_a_share)
{
    dregs_unit unit;
    double sd = -1;

    ck_assert_int_eq(dregs_unit_read(spreads[_i].unit, &unit, NULL), DREGS_OK);
    ck_assert_int_eq(
        dregs_spread_read(spreads[_i].text, dregs_unit_to_si(unit, spreads[_i].value), unit, &sd),
        spreads[_i].status);
    ck_assert_near(sd, spreads[_i].sd, 1e-14, "spread '%s'", spreads[_i].text);
}
END_TEST

START_TEST(sizes_that_are_believed)
{
    ck_assert(!dregs_is_beyond(0) && !dregs_is_beyond(1e20) && !dregs_is_beyond(-1e-20));
    ck_assert(dregs_is_beyond(1.1e20) && dregs_is_beyond(-1.1e20) && dregs_is_beyond(9e-21));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("sheet");
    TCase *tcase = tcase_create("sheet");

    tcase_add_loop_test(tcase, file_under_its_header, 0, COUNT(files));
    tcase_add_loop_test(tcase, how_it_is_written_is_told, 0, COUNT(dialects));
    tcase_add_test(tcase, reading_ends_when_no_fault_finds_room);
    tcase_add_loop_test(tcase, spread_in_the_unit_or_as_a_share, 0, COUNT(spreads));
    tcase_add_test(tcase, sizes_that_are_believed);
    suite_add_tcase(suite, tcase);
    return run(suite);
}
