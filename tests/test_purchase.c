/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_purchase.c: files of purchases, good and bad, their sums, and what a model leaves
 * unexplained. Expected values are sums by hand; gallons are 3.785411784 L (NIST SP 811, B.8).
 */
#include "check_main.h"
#include "dregs/purchase.h"
#include "lines.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SPIRIT, PLAIN, STRANGE };
#define SPIRIT_DENSITY 785.5 /* handed in, not looked up */

static const char *const liquids_text =
    "item,property,value,unit\nrack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\n"
    "rack,interval,1,min\nsalt,kind,solute,\nspirit,kind,liquid,\nspirit,solvent,isopropanol,\n"
    "plain,kind,liquid,\nplain,solvent,water,\nstrange,kind,liquid,\nstrange,solvent,water,\n"
    "tank,kind,rinse,\ntank,volume,10,L\ntank,liquid,plain,\ntank,film,20,um\n";
static const double densities[] = {SPIRIT_DENSITY, 998.2, (double)NAN};
static dregs_line *line;
static dregs_faults faults;

static void setup(void)
{
    line = lines_read(liquids_text);
    memset(&faults, 0, sizeof faults);
}

static void teardown(void)
{
    lines_free(line);
}

static dregs_purchases *good(const char *text)
{
    dregs_purchases *p = NULL;

    if (dregs_purchases_parse("p.csv", text, strlen(text), line, densities, &p, &faults))
        ck_abort_msg("line %lu: %s", faults.fault[0].line, faults.fault[0].text);
    ck_assert_ptr_nonnull(p);
    return p;
}

/* The text is refused with this said of this line, as message number `index`. */
static void refused(const char *text, unsigned index, unsigned long at, const char *words)
{
    dregs_purchases *p = (dregs_purchases *)&faults;

    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(
        dregs_purchases_parse("p.csv", text, strlen(text), line, densities, &p, &faults),
        DREGS_BAD_DATA);
    ck_assert_ptr_eq(p, &faults);
    ck_assert_msg(faults.count > index, "%u faults for: %s", faults.count, text);
    ck_assert_msg(strstr(faults.fault[index].text, words) && faults.fault[index].line == at,
                  "line %lu: %s; expected in line %lu: %s", faults.fault[index].line,
                  faults.fault[index].text, at, words);
    ck_assert_str_eq(faults.file, "p.csv");
}

#define HEAD "date,liquid,quantity,unit,kind,spread,note\n"

START_TEST(a_file_as_it_is_meant)
{
    dregs_purchases *p =
        good("# kept in a spreadsheet\r\n" HEAD "2025-03-14,spirit,2,gal,bought,,\n"
             "2025-01-31,spirit,15.71,kg,bought,1%,\"drum, weighed\"\n"
             "\n"
             "2024-12-30,plain,0.3,m3,disposed,0.02\n"
             "2025-03-14,strange,250,mL,recovered\n");
    const dregs_purchase *row = dregs_purchases_at(p, 0);

    ck_assert_int_eq(row->year, 2024);
    ck_assert_uint_eq(row->month, 12);
    ck_assert_uint_eq(row->day, 30);
    ck_assert_uint_eq(row->fluid, PLAIN);
    ck_assert_int_eq(row->kind, DREGS_PURCHASE_DISPOSED);
    ck_assert_near(row->volume, 0.3, 1e-15, "m3");
    ck_assert_near(row->sd, 0.02, 1e-15, "in the row's unit");
    ck_assert_int_eq(row->by_mass, 0);
    ck_assert_uint_eq(row->line, 6);
    row = dregs_purchases_at(p, 1);
    ck_assert_near(row->volume, 15.71 / SPIRIT_DENSITY, 1e-15, "kg"); /* 20.000 L */
    ck_assert_near(row->sd, 0.01 * 15.71 / SPIRIT_DENSITY, 1e-14, "share");
    ck_assert_int_eq(row->by_mass, 1);
    row = dregs_purchases_at(p, 2);
    ck_assert_near(row->volume, 2 * 3.785411784e-3, 1e-15, "gal");
    ck_assert_double_nan(row->sd);
    ck_assert_int_eq(dregs_purchases_at(p, 3)->kind, DREGS_PURCHASE_RECOVERED);
    ck_assert_uint_eq(dregs_purchases_at(p, 3)->fluid, STRANGE);
    ck_assert_str_eq(dregs_purchase_kind_name(DREGS_PURCHASE_RECOVERED), "recovered");
    ck_assert_ptr_null(dregs_purchase_kind_name(DREGS_PURCHASE_KINDS));
    ck_assert_ptr_null(dregs_purchases_at(p, 4));
    dregs_purchases_free(p);
}
END_TEST

START_TEST(columns_in_any_order)
{
    dregs_purchases *p = good("kind,unit,quantity,liquid,date\nbought,L,2.385,plain,2024-02-29");

    ck_assert_near(dregs_purchases_at(p, 0)->volume, 2.385e-3, 1e-15, "L");
    ck_assert_uint_eq(dregs_purchases_at(p, 0)->day, 29);
    dregs_purchases_free(p);
    dregs_purchases_free(NULL);
}
END_TEST

START_TEST(what_is_said_of_a_bad_row)
{
    static const struct {
        const char *row, *words;
    } bad[] = {
        {"14.03.2025,plain,2,L,bought", "date '14.03.2025' is no day"},
        {"2025-02-29,plain,2,L,bought", "date '2025-02-29' is no day"},
        {"1900-02-29,plain,2,L,bought", "date '1900-02-29' is no day"},
        {"2025-13-01,plain,2,L,bought", "is no day"},
        {"2025-04-31,plain,2,L,bought", "is no day"},
        {"2025-00-10,plain,2,L,bought", "is no day"},
        {"2025-01-00,plain,2,L,bought", "is no day"},
        {"2025-1-10,plain,2,L,bought", "is no day"},
        {"2025-01- 1,plain,2,L,bought", "is no day"},
        {"1899-12-31,plain,2,L,bought", "is no day"},
        {",plain,2,L,bought", "date '' is no day"},
        {"2025-01-10,plian,2,L,bought", "unknown liquid 'plian'; nearest: 'plain'"},
        {"2025-01-10,isopropanol,2,L,bought", "the liquids of the line are spirit, plain, strange"},
        {"2025-01-10,plain,\"2,5\",L,bought", "quantity '2,5' is not a number"},
        {"2025-01-10,plain,2 L,,bought", "quantity '2 L' is not a number"},
        {"2025-01-10,plain,0,L,bought", "must be above 0, but for a stock"},
        {"2025-01-10,plain,-1,L,stock", "must be above 0"},
        {"2025-01-10,plain,-2,L,bought", "must be above 0"},
        {"2025-01-10,plain,1e30,L,bought", "beyond anything"},
        {"2025-01-10,plain,1e300,m3,bought", "beyond anything"},
        {"2025-01-10,plain,2,m,bought", "unit 'm' is neither one of volume"},
        {"2025-01-10,plain,2,drum,bought", "unknown unit"},
        {"2025-01-10,plain,2,,bought", "neither one of volume"},
        {"2025-01-10,strange,2,kg,bought", "a mass of 'strange', whose density"},
        {"2025-01-10,plain,2,L,buoght", "unknown kind 'buoght'; nearest: 'bought'"},
        {"2025-01-10,plain,2,L,bought,-1", "spread '-1' is not a standard deviation"},
        {"2025-01-10,plain,2,L,bought,some", "spread 'some' is not a standard deviation"},
        {"2025-01-10,plain,2,L,bought,%", "spread '%' is not a standard deviation"},
        {"2025-01-10,plain,2,L", "4 cells, the header has 7"},
        {"2025-01-10,plain,2,L,bought,,,x", "8 cells, the header has 7"},
    };
    char text[512];
    size_t i;

    for (i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        snprintf(text, sizeof text, HEAD "2025-01-09,plain,1,L,bought\n%s\n", bad[i].row);
        refused(text, 0, 3, bad[i].words);
        ck_assert_uint_eq(faults.count, 1);
    }
}
END_TEST

START_TEST(all_that_is_wrong_at_once)
{
    char text[4096] = HEAD;
    int i;

    refused(HEAD "2025-01-1x,plian,two,L,lent\n", 3, 2, "quantity 'two'");
    ck_assert_uint_eq(faults.count, 4);
    for (i = 0; i < 30; i++)
        strcat(text, "x,plain,1,L,bought\n");
    refused(text, 19, 21, "date 'x'");
    ck_assert_uint_eq(faults.count, DREGS_FAULTS_MAX);
    ck_assert_uint_ge(faults.more, 1);
}
END_TEST

/* Of an unknown liquid's mass it is not said that its density is unknown too. */
START_TEST(nothing_is_said_of_what_is_not_known)
{
    static const char text[] = HEAD "2025-01-10,plian,2,kg,bought\n";
    dregs_purchases *p = NULL;

    ck_assert_int_eq(dregs_purchases_parse("p", text, sizeof text - 1, line, NULL, &p, &faults),
                     DREGS_BAD_DATA);
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_ptr_nonnull(strstr(faults.fault[0].text, "unknown liquid"));
    ck_assert_int_eq(dregs_purchases_parse("p", text, sizeof text - 1, line, NULL, &p, NULL),
                     DREGS_BAD_DATA);
    ck_assert_ptr_null(p);
}
END_TEST

START_TEST(files_that_are_none)
{
    refused("", 0, 0, "the file is empty");
    refused("# nothing\n\n", 0, 0, "the file is empty");
    refused(HEAD, 0, 0, "no row follows the header");
    refused("date,liquid,quantity,unit\n2025-01-10,plain,2,L\n", 0, 1, "column 'kind' is missing");
    refused("date,liquid,amount,unit,kind\n", 0, 1, "unknown column 'amount'");
    refused("date,date,liquid,quantity,unit,kind\n", 0, 1, "a second column 'date'");
    refused("date;liquid,quantity;unit;kind\n", 0, 1, "separated by ';' and by ','");
    refused(HEAD "2025-01-10,\"plain,2,L,bought\n", 0, 2, "a quote is opened");
    refused(HEAD "2025-01-10,pl\xE4in,2,L,bought\n", 0, 2, "not UTF-8");
}
END_TEST

START_TEST(from_a_stream)
{
    FILE *file = tmpfile();
    dregs_purchases *p = NULL;
    int i;

    ck_assert_ptr_nonnull(file);
    fputs(HEAD, file);
    for (i = 0; i < 3000; i++) /* pieces end in the midst of rows */
        fprintf(file, "2025-%02d-%02d,plain,%d,mL,bought,,row %d\n", 1 + i % 12, 1 + i % 28, i + 1,
                i);
    rewind(file);
    ck_assert_int_eq(dregs_purchases_read("s", file, line, NULL, &p, &faults), DREGS_OK);
    {
        dregs_purchase_sum sum;
        ck_assert_int_eq(dregs_purchases_sum(p, PLAIN, DREGS_PURCHASE_BOUGHT, 2025, 1, 12, &sum),
                         DREGS_OK);
        ck_assert_uint_eq(sum.rows, 3000);
        ck_assert_near(sum.volume, 3000.0 * 3001 / 2 * 1e-6, 1e-13, "1 + 2 + ... + 3000 mL");
        ck_assert_uint_eq(sum.silent, 3000);
    }
    dregs_purchases_free(p);
    fclose(file);
    file = fopen("/", "rb"); /* a directory opens, and fails when read */
    if (file) {
        ck_assert_int_eq(dregs_purchases_read("d", file, line, NULL, &p, &faults), DREGS_IO);
        fclose(file);
    }
}
END_TEST

START_TEST(sums_over_months)
{
    dregs_purchases *p = good(HEAD "2025-01-10,spirit,20,L,bought,0.3\n"
                                   "2025-01-31,spirit,25,L,bought,0.4\n"
                                   "2025-02-01,spirit,21.5,L,bought\n"
                                   "2024-01-10,spirit,1000,L,bought\n"
                                   "2025-01-10,plain,700,L,bought\n"
                                   "2025-01-11,spirit,9,L,disposed,10%\n");
    dregs_purchase_sum sum = {0};

    ck_assert_int_eq(dregs_purchases_sum(p, SPIRIT, DREGS_PURCHASE_BOUGHT, 2025, 1, 1, &sum),
                     DREGS_OK);
    ck_assert_near(sum.volume, 0.045, 1e-15, "January");
    ck_assert_near(sum.sd, 0.0005, 1e-14, "0.3 and 0.4 L");
    ck_assert_uint_eq(sum.silent, 0);
    ck_assert_near(sum.largest, 0.025, 1e-15, "largest");
    ck_assert_int_eq(dregs_purchases_sum(p, SPIRIT, DREGS_PURCHASE_BOUGHT, 2025, 1, 12, &sum),
                     DREGS_OK);
    ck_assert_near(sum.volume, 0.0665, 1e-15, "the year");
    ck_assert_uint_eq(sum.silent, 1);
    ck_assert_uint_eq(sum.rows, 3);
    ck_assert_int_eq(dregs_purchases_sum(p, SPIRIT, DREGS_PURCHASE_DISPOSED, 2025, 1, 3, &sum),
                     DREGS_OK);
    ck_assert_near(sum.sd, 0.0009, 1e-14, "10 %%");
    ck_assert_int_eq(dregs_purchases_sum(p, SPIRIT, DREGS_PURCHASE_BOUGHT, 2025, 3, 12, &sum),
                     DREGS_OK);
    ck_assert_double_eq(sum.volume, 0);
    ck_assert_uint_eq(sum.rows, 0);
    ck_assert_int_eq(dregs_purchases_sum(p, SPIRIT, DREGS_PURCHASE_BOUGHT, 2025, 0, 12, &sum),
                     DREGS_DOMAIN);
    ck_assert_int_eq(dregs_purchases_sum(p, SPIRIT, DREGS_PURCHASE_BOUGHT, 2025, 1, 13, &sum),
                     DREGS_DOMAIN);
    ck_assert_int_eq(dregs_purchases_sum(p, SPIRIT, DREGS_PURCHASE_BOUGHT, 2025, 4, 3, &sum),
                     DREGS_DOMAIN);
    ck_assert_int_eq(dregs_purchases_sum(p, SPIRIT, DREGS_PURCHASE_KINDS, 2025, 1, 12, &sum),
                     DREGS_DOMAIN);
    dregs_purchases_free(p);
}
END_TEST

START_TEST(rows_entered_twice_are_named)
{
    dregs_purchases *p = good(HEAD "2025-01-10,spirit,20,L,bought\n"
                                   "2025-01-11,spirit,20,L,bought\n"
                                   "2025-01-10,spirit,20000,mL,bought,,the same again\n"
                                   "2025-01-11,spirit,20,L,disposed\n"
                                   "2025-01-10,plain,20,L,bought\n");
    unsigned long lines[2] = {0, 0};

    ck_assert_int_eq(dregs_purchases_same(p, 0, lines), 1);
    ck_assert_uint_eq(lines[0], 2);
    ck_assert_uint_eq(lines[1], 4);
    ck_assert_int_eq(dregs_purchases_same(p, 1, lines), 0);
    dregs_purchases_free(p);
}
END_TEST

/* What is handed on, and what only a row of waste has: 170 of 200 kg are 0.85. */
START_TEST(more_columns)
{
    dregs_purchases *p = good("date,liquid,quantity,unit,kind,assay,supplier,invoice\n"
                              "2025-01-10,spirit,20,L,bought,,Nobody & Sons (invented),17/4\n"
                              "2025-02-10,spirit,200,kg,disposed,85%\n"
                              "2025-02-11,spirit,200,kg,disposed,0.85\n"
                              "2025-03-10,spirit,0,L,stock\n"
                              "2025-03-11,spirit,1,L,sold\n"
                              "2025-03-12,spirit,1,L,elsewhere\n");
    const dregs_purchase *row = dregs_purchases_at(p, 0);

    ck_assert_str_eq(row->supplier, "Nobody & Sons (invented)");
    ck_assert_str_eq(row->invoice, "17/4");
    ck_assert_str_eq(row->note, "");
    ck_assert_double_nan(row->assay);
    ck_assert_near(dregs_purchases_at(p, 1)->assay, 170.0 / 200, 1e-15, "%%");
    ck_assert_near(dregs_purchases_at(p, 2)->assay, 170.0 / 200, 1e-15, "share");
    ck_assert_double_eq(dregs_purchases_at(p, 3)->volume, 0);
    ck_assert_int_eq(dregs_purchases_at(p, 3)->kind, DREGS_PURCHASE_STOCK);
    ck_assert_int_eq(dregs_purchases_at(p, 4)->kind, DREGS_PURCHASE_SOLD);
    ck_assert_int_eq(dregs_purchases_at(p, 5)->kind, DREGS_PURCHASE_ELSEWHERE);
    dregs_purchases_free(p);
    refused("date,liquid,quantity,unit,kind,assay\n2025-01-10,spirit,20,L,bought,0.9\n", 0, 2,
            "a row of kind bought has none");
    refused("date,liquid,quantity,unit,kind,assay\n2025-01-10,spirit,20,L,disposed,85\n", 0, 2,
            "assay '85' is not a share by mass");
    refused("date,liquid,quantity,unit,kind,assay\n2025-01-10,spirit,20,L,disposed,-1%\n", 0, 2,
            "assay '-1%' is not a share by mass");
}
END_TEST

/* A point in the wrong place: 205 for 20.5 beside 20 and 22 is 205/22 times the larger, 2.1 beside
 * 22 and 21 is a tenth of the smaller. What comes in lots of one and two is not far off. */
START_TEST(quantities_far_from_their_neighbours)
{
    dregs_purchases *p = good(HEAD "2025-01-10,spirit,20,L,bought\n"
                                   "2025-02-10,spirit,205,L,bought\n"
                                   "2025-02-11,spirit,3,L,disposed\n"
                                   "2025-03-10,spirit,22,L,bought\n"
                                   "2025-04-10,spirit,2.1,L,bought\n"
                                   "2025-05-10,spirit,21,L,bought\n"
                                   "2025-06-10,spirit,42,L,bought\n"
                                   "2025-06-11,plain,1,L,bought\n"
                                   "2025-06-12,plain,100,L,bought\n"
                                   "2025-07-01,spirit,1,L,stock\n"
                                   "2025-07-02,spirit,100,L,stock\n"
                                   "2025-07-03,spirit,1,L,stock\n");
    dregs_purchase_odd odd = {0};

    ck_assert_int_eq(dregs_purchases_odd(p, 0, &odd), 1);
    ck_assert_uint_eq(odd.line, 3);
    ck_assert_uint_eq(odd.neighbour[0], 2);
    ck_assert_uint_eq(odd.neighbour[1], 5);
    ck_assert_near(odd.times, 205.0 / 22, 1e-12, "times");
    ck_assert_int_eq(dregs_purchases_odd(p, 1, &odd), 1);
    ck_assert_uint_eq(odd.line, 6);
    ck_assert_near(odd.times, 2.1 / 21, 1e-12, "times");
    ck_assert_int_eq(dregs_purchases_odd(p, 2, &odd), 0);
    dregs_purchases_free(p);
    p = good(HEAD "2025-01-10,spirit,200,L,bought\n2025-02-10,spirit,20,L,bought\n"
                  "2025-03-10,spirit,21,L,bought\n2025-04-10,spirit,2,L,bought\n");
    ck_assert_int_eq(dregs_purchases_odd(p, 0, &odd), 1); /* the ends of the file */
    ck_assert_uint_eq(odd.line, 2);
    ck_assert_int_eq(dregs_purchases_odd(p, 1, &odd), 1);
    ck_assert_uint_eq(odd.line, 5);
    ck_assert_near(odd.times, 2.0 / 20, 1e-12, "of the smaller");
    ck_assert_int_eq(dregs_purchases_odd(p, 2, &odd), 0);
    dregs_purchases_free(p);
}
END_TEST

/* The file covers February to June; bit 0 is January. */
START_TEST(months_without_a_row)
{
    dregs_purchases *p = good(HEAD "2025-02-10,spirit,20,L,bought\n"
                                   "2025-04-10,spirit,20,L,disposed\n"
                                   "2025-05-10,plain,20,L,bought\n"
                                   "2025-06-10,spirit,20,L,stock\n");

    ck_assert_uint_eq(dregs_purchases_silent(p, SPIRIT, 2025), 1u << 2 | 1u << 4);
    ck_assert_uint_eq(dregs_purchases_silent(p, PLAIN, 2025),
                      1u << 1 | 1u << 2 | 1u << 3 | 1u << 5);
    ck_assert_uint_eq(dregs_purchases_silent(p, SPIRIT, 2024), 0);
    dregs_purchases_free(p);
}
END_TEST

/* Counts: two stores on the day nearest the turn; one further off is not taken, one 15 days off is
 * none. sqrt(0.3^2 + 0.4^2) = 0.5. */
START_TEST(stock_at_the_turn_of_a_year)
{
    dregs_purchases *p = good(HEAD "2024-12-28,spirit,99,L,stock\n"
                                   "2025-01-02,spirit,20,L,stock,0.3\n"
                                   "2025-01-02,spirit,25,L,stock,0.4\n"
                                   "2025-01-05,spirit,98,L,stock\n"
                                   "2025-12-31,spirit,7,L,stock\n"
                                   "2026-01-01,spirit,8,L,stock\n"
                                   "2026-12-16,spirit,3,L,stock\n"
                                   "2025-01-01,plain,1,L,bought\n");
    dregs_purchase_stock stock = {.days = 77};

    ck_assert_int_eq(dregs_purchases_stock(p, SPIRIT, 2025, &stock), 1);
    ck_assert_near(stock.sum.volume, 0.045, 1e-15, "both stores");
    ck_assert_near(stock.sum.sd, 0.0005, 1e-14, "both spreads");
    ck_assert_uint_eq(stock.sum.rows, 2);
    ck_assert_int_eq(stock.days, 1);
    ck_assert_int_eq(stock.year, 2025);
    ck_assert_uint_eq(stock.line, 3);
    ck_assert_int_eq(dregs_purchases_stock(p, SPIRIT, 2026, &stock), 1);
    ck_assert_near(stock.sum.volume, 0.007, 1e-15, "the earlier");
    ck_assert_int_eq(stock.days, 0);
    ck_assert_uint_eq(stock.sum.silent, 1);
    ck_assert_int_eq(dregs_purchases_stock(p, SPIRIT, 2027, &stock), 0);
    ck_assert_int_eq(dregs_purchases_stock(p, PLAIN, 2025, &stock), 0);
    dregs_purchases_free(p);
}
END_TEST

/* The 7 L of the 31st of January and the 8 L of the 3rd of February are nearest their turns; the
 * 23rd of February is 6 days off that of March (28 days), the 22nd 7, of a leap year 8. */
START_TEST(stock_at_the_turn_of_a_month)
{
    dregs_purchases *p = good(HEAD "2025-01-31,spirit,7,L,stock,0.3\n"
                                   "2025-02-03,spirit,99,L,stock\n"
                                   "2025-02-22,spirit,5,L,stock\n"
                                   "2025-05-08,spirit,4,L,stock\n"
                                   "2025-05-23,spirit,3,L,stock\n"
                                   "2025-12-31,spirit,2,L,stock\n"
                                   "2028-02-22,spirit,1,L,stock\n");
    static const struct {
        int year;
        unsigned month;
        double litres; /* below 0: none */
        int days;
    } known[] = {{2025, 2, 7, 0},  {2025, 3, 5, -6}, {2025, 5, 4, 7},  {2025, 6, -1, 0},
                 {2026, 1, 2, 0},  {2025, 1, -1, 0}, {2028, 3, 1, -7}, {2025, 13, -1, 0},
                 {2025, 0, -1, 0}, {2024, 3, -1, 0}};
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        dregs_purchase_stock stock = {.days = 77};
        int found = dregs_purchases_stock_before(p, SPIRIT, known[i].year, known[i].month, &stock);
        ck_assert_int_eq(found, known[i].litres >= 0);
        if (!found)
            continue;
        ck_assert_near(stock.sum.volume, known[i].litres / 1e3, 1e-15, "litres of %u", (unsigned)i);
        ck_assert_int_eq(stock.days, known[i].days);
    }
    ck_assert_int_eq(dregs_purchases_stock_before(p, PLAIN, 2025, 2, &(dregs_purchase_stock){0}),
                     0);
    dregs_purchases_free(p);
}
END_TEST

/* 20 L and 30 L and 5 L recovered are 55 L: no more can stand there, but for spreads: of 56 L with
 * one standard deviation of 0.6 L two are 1.2 L. Of another liquid nothing came. */
START_TEST(stock_that_cannot_be)
{
    static const struct {
        const char *count;
        int unfit;
    } known[] = {{"2025-02-28,spirit,55,L,stock\n", 0},
                 {"2025-02-28,spirit,55.1,L,stock\n", 1},
                 {"2025-02-28,spirit,56,L,stock,0.6\n", 0},
                 {"2025-02-28,spirit,57,L,stock,0.6\n", 1},
                 {"2025-02-28,spirit,26,L,stock\n2025-02-28,spirit,30,L,stock\n", 1}};
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        char text[1024];
        dregs_purchase_unfit unfit = {0, 0, 0, 0};
        dregs_purchases *p;
        snprintf(text, sizeof text,
                 HEAD "2025-01-15,spirit,99,L,bought\n"
                      "2025-01-31,spirit,20,L,stock\n"
                      "2025-02-28,spirit,30,L,bought\n"
                      "2025-02-28,plain,70,L,stock\n"
                      "2025-02-10,spirit,5,L,recovered\n"
                      "2025-02-11,spirit,90,L,disposed\n%s",
                 known[i].count);
        p = good(text);
        ck_assert_msg(dregs_purchases_unfit(p, SPIRIT, &unfit) == known[i].unfit, "%u: %.17g",
                      (unsigned)i, unfit.counted);
        if (known[i].unfit) {
            ck_assert_uint_eq(unfit.line, 8);
            ck_assert_uint_eq(unfit.before, 3);
            ck_assert_near(unfit.most, 0.055, 1e-15, "what came");
        }
        ck_assert_int_eq(dregs_purchases_unfit(p, PLAIN, &unfit), 0);
        dregs_purchases_free(p);
    }
}
END_TEST

START_TEST(a_month_that_stands_twice)
{
    static const struct {
        const char *rows;
        int doubled;
    } known[] = {
        {"2025-02-03,spirit,3,L,bought\n2025-02-03,spirit,3,L,bought\n", 0}, /* alike alone */
        {"2025-02-03,spirit,3,L,bought\n2025-02-28,spirit,1,L,stock\n"
         "2025-02-03,spirit,3,L,bought\n2025-02-28,spirit,1,L,stock\n",
         1},
        {"2025-02-03,spirit,3,L,bought\n2025-02-28,spirit,1,L,stock\n"
         "2025-02-03,spirit,3,L,bought\n2025-02-28,spirit,1,L,stock\n2025-02-09,plain,1,L,bought\n",
         0},
        {"2025-02-03,spirit,3,L,bought\n2025-02-28,spirit,1,L,stock\n"
         "2025-02-03,spirit,3,L,bought\n2025-02-28,spirit,2,L,stock\n",
         0}};
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        char text[1024];
        unsigned long lines[2] = {0, 0};
        dregs_purchases *p;
        snprintf(text, sizeof text, HEAD "2025-01-15,spirit,99,L,bought\n%s", known[i].rows);
        p = good(text);
        ck_assert_msg(dregs_purchases_doubled(p, lines) == known[i].doubled, "%u", (unsigned)i);
        if (known[i].doubled) {
            ck_assert_uint_eq(lines[0], 3);
            ck_assert_uint_eq(lines[1], 5);
        }
        dregs_purchases_free(p);
    }
}
END_TEST

START_TEST(the_year_to_look_at)
{
    static const struct {
        const char *first, *last;
        int year, full;
        unsigned from, to;
    } known[] = {
        {"2023-05-02", "2025-11-30", 2024, 1, 1, 12}, {"2025-01-31", "2025-12-01", 2025, 1, 1, 12},
        {"2025-02-01", "2025-12-31", 2025, 0, 2, 12}, {"2025-01-01", "2025-11-30", 2025, 0, 1, 11},
        {"2024-03-01", "2025-07-31", 2025, 0, 1, 7},  {"2022-01-05", "2026-01-01", 2025, 1, 1, 12},
        {"2025-06-06", "2025-06-06", 2025, 0, 6, 6}};
    char text[256];
    size_t i;

    for (i = 0; i < sizeof known / sizeof known[0]; i++) {
        dregs_purchases *p;
        unsigned from = 0, to = 0;
        int full = -1;
        snprintf(text, sizeof text, HEAD "%s,plain,1,L,bought\n%s,plain,2,L,bought\n",
                 known[i].last, known[i].first); /* out of order is no fault */
        p = good(text);
        ck_assert_int_eq(dregs_purchases_year(p, &full), known[i].year);
        ck_assert_int_eq(full, known[i].full);
        ck_assert_int_eq(dregs_purchases_covered(p, known[i].year, &from, &to), 1);
        ck_assert_uint_eq(from, known[i].from);
        ck_assert_uint_eq(to, known[i].to);
        ck_assert_int_eq(dregs_purchases_covered(p, 2021, &from, &to), 0);
        ck_assert_int_eq(dregs_purchases_covered(p, 2027, &from, &to), 0);
        dregs_purchases_free(p);
    }
}
END_TEST

/* Stock at either end even between 0 and c: variance c^2/12 each, so c^2/6 together.
 * 0.4 L of the rows, a delivery of 24 L, 3 L of the model: 0.16 + 96 + 9 = 105.16 L2. */
START_TEST(what_stays_unexplained)
{
    static const double refused[][5] = {
        {NAN, 0, 0, 0.47, 0},  {0.5, 0, 0, INFINITY, 0},    {0.5, -1, 0, 0.47, 0},
        {0.5, 0, -1, 0.47, 0}, {0.5, 0, 0, 0.47, INFINITY},
    };
    dregs_unexplained u = {0};
    size_t i;

    ck_assert_int_eq(dregs_unexplained_work(0.5, 0.4e-3, 24e-3, 0.47, 3e-3, &u), DREGS_OK);
    ck_assert_near(u.value, 0.03, 1e-13, "value");
    ck_assert_near(u.sd_stock, sqrt(96) * 1e-3, 1e-14, "stock");
    ck_assert_near(u.sd, sqrt(105.16) * 1e-3, 1e-14, "all");
    ck_assert_near(u.ratio, 30 / sqrt(105.16), 1e-12, "ratio");
    ck_assert_int_eq(dregs_unexplained_work(0.5, NAN, 24e-3, 0.47, NAN, &u), DREGS_OK);
    ck_assert_near(u.sd, sqrt(96) * 1e-3, 1e-14, "stock alone");
    ck_assert_double_nan(u.sd_measured);
    ck_assert_int_eq(dregs_unexplained_work(0.5, NAN, NAN, 0.47, NAN, &u), DREGS_OK);
    ck_assert_double_nan(u.sd);
    ck_assert_double_nan(u.ratio);
    ck_assert_int_eq(dregs_unexplained_work(0.5, 0, NAN, 0.47, NAN, &u), DREGS_OK);
    ck_assert_double_eq(u.sd, 0);
    ck_assert_double_nan(u.ratio);
    for (i = 0; i < sizeof refused / sizeof refused[0]; i++)
        ck_assert_msg(dregs_unexplained_work(refused[i][0], refused[i][1], refused[i][2],
                                             refused[i][3], refused[i][4], &u) == DREGS_DOMAIN,
                      "refusal %zu", i);
}
END_TEST

static Suite *suite(void)
{
    const TTest *const tests[] = {a_file_as_it_is_meant,
                                  columns_in_any_order,
                                  what_is_said_of_a_bad_row,
                                  all_that_is_wrong_at_once,
                                  files_that_are_none,
                                  nothing_is_said_of_what_is_not_known,
                                  from_a_stream,
                                  sums_over_months,
                                  rows_entered_twice_are_named,
                                  more_columns,
                                  quantities_far_from_their_neighbours,
                                  months_without_a_row,
                                  stock_at_the_turn_of_a_year,
                                  stock_at_the_turn_of_a_month,
                                  stock_that_cannot_be,
                                  a_month_that_stands_twice,
                                  the_year_to_look_at,
                                  what_stays_unexplained};
    Suite *s = suite_create("purchase");
    TCase *c = tcase_create("files");
    size_t i;

    tcase_add_checked_fixture(c, setup, teardown);
    suite_add_tcase(s, c);
    for (i = 0; i < sizeof tests / sizeof tests[0]; i++)
        tcase_add_test(c, tests[i]);
    return s;
}

int main(void)
{
    return run(suite());
}
