/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_cautions.c: lines, dryings and liquids, each with the exact set of cautions that it calls
 * for and no other, from tests/cautions.csv, where the reason and its source stand beside each.
 */
#include "check_main.h"
#include "dregs/answer_dry.h"
#include "dregs/answer_liquid.h"
#include "dregs/caution.h"
#include "dregs/csv.h"
#include "dregs/number.h"
#include "lines.h"

#include <stdlib.h>
#include <string.h>

enum { ROWS_MOST = 160, CELL_ROOM = 240 };
enum { PLACE, LIQUID, SHARE, CELSIUS, HAZARD, CONTENT, MORE, GIVES, SOURCE, CELLS };

static char cells[ROWS_MOST][CELLS][CELL_ROOM];
static unsigned row_count;

static dregs_status take(void *user, const dregs_csv_row *row, dregs_faults *faults)
{
    unsigned i;

    (void)user;
    (void)faults;
    ck_assert_uint_eq(row->count, CELLS);
    ck_assert_uint_lt(row_count, ROWS_MOST);
    for (i = 0; i < CELLS; i++) {
        ck_assert_uint_lt(strlen(row->cell[i]), CELL_ROOM);
        strcpy(cells[row_count][i], row->cell[i]);
    }
    row_count++;
    return DREGS_OK;
}

static void read_rows(void)
{
    static char bytes[65536];
    const char *source = getenv("DREGS_SOURCE");
    char path[400];
    dregs_csv *csv = dregs_csv_new(take, NULL, NULL);
    size_t length;
    FILE *file;

    snprintf(path, sizeof path, "%s/tests/cautions.csv", source ? source : ".");
    file = fopen(path, "r");
    ck_assert_msg(file != NULL, "%s cannot be opened", path);
    length = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    ck_assert_uint_lt(length, sizeof bytes);
    ck_assert_int_eq(dregs_csv_feed(csv, bytes, length), DREGS_OK);
    ck_assert_int_eq(dregs_csv_end(csv), DREGS_OK);
    dregs_csv_free(csv);
}

/* ---- what was given ---- */

static char given[1000];

static void note(const dregs_caution *cautions, unsigned count)
{
    unsigned i;

    given[0] = '\0';
    for (i = 0; i < count; i++) {
        size_t used = strlen(given);
        if (!i || strcmp(cautions[i].rule->id, cautions[i - 1].rule->id) != 0)
            snprintf(given + used, sizeof given - used, "%s;", cautions[i].rule->id);
    }
}

/* Is every name of `names` (between semicolons) in `among`? The first that is not goes to `odd`. */
static int all_in(const char *names, const char *among, char odd[CELL_ROOM])
{
    char whole[1100], name[CELL_ROOM + 2];
    size_t length;

    snprintf(whole, sizeof whole, ";%s;", among);
    for (; *names; names += length + (names[length] == ';')) {
        length = strcspn(names, ";");
        snprintf(name, sizeof name, ";%.*s;", (int)length, names);
        snprintf(odd, CELL_ROOM, "%.*s", (int)length, names);
        if (length && !strstr(whole, name))
            return 0;
    }
    return 1;
}

static double number(const char *text)
{
    double value = NAN;

    if (*text)
        ck_assert_int_eq(dregs_number_read(text, &value), DREGS_OK);
    return value;
}

/* ---- the three ways ---- */

static struct lines_text text;

/* Rows of a cell MORE such as "rows tub,film,2,mm|vat,kind,rinse,", and whether they say how much
 * film the tub leaves. */
static int say_rows(const char *more)
{
    int film = strstr(more, "tub,film") != NULL || strstr(more, "tub,withdrawal") != NULL;
    size_t length;

    for (more += strlen("rows "); *more; more += length + (more[length] == '|')) {
        length = strcspn(more, "|");
        lines_say(&text, "%.*s\n", (int)length, more);
    }
    return film;
}

/* The stage "tub" with the liquid; "oven" behind it of a cell MORE such as "oven 40", a second tank
 * of "beside LIQUID". */
static void ask_line(char (*row)[CELL_ROOM])
{
    unsigned made;
    const char *hazard = *row[HAZARD] ? row[HAZARD] : "none";
    int spray = strcmp(row[PLACE], "spray") == 0;
    static dregs_caution cautions[DREGS_CAUTIONS_MOST];
    dregs_line *line;

    lines_begin(&text);
    lines_say(&text, "rack,kind,load,\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,1,h\n"
                     "salt,kind,solute,\n");
    if (strcmp(hazard, "unstated") != 0)
        lines_say(&text, "salt,hazard,%s,\n", hazard);
    lines_say(&text, "stuff,kind,liquid,\nstuff,solvent,\"%s\",\n", row[LIQUID]);
    if (*row[SHARE])
        lines_say(&text, "stuff,solvent share,%s,%%\n", row[SHARE]);
    if (*row[CONTENT])
        lines_say(&text, "stuff,salt,%s,g/L\n", row[CONTENT]);
    lines_say(&text, "tub,kind,%s,\ntub,liquid,stuff,\n%s", row[PLACE],
              spray ? "tub,use,1,L\n" : "tub,volume,20,L\n");
    if (strncmp(row[MORE], "rows ", 5) != 0 || !say_rows(row[MORE]))
        lines_say(&text, "tub,film,10,um\n");
    if (*row[CELSIUS])
        lines_say(&text, "tub,temperature,%s,degC\n", row[CELSIUS]);
    if (strncmp(row[MORE], "beside ", 7) == 0)
        lines_say(&text,
                  "other,kind,liquid,\nother,solvent,\"%s\",\n"
                  "vat,kind,rinse,\nvat,liquid,other,\nvat,film,10,um\nvat,volume,20,L\n",
                  row[MORE] + 7);
    if (strncmp(row[MORE], "oven ", 5) == 0)
        lines_say(&text, "oven,kind,dry,\noven,temperature,%s,degC\n", row[MORE] + 5);
    if (strncmp(row[MORE], "ultrasonic ", 11) == 0)
        lines_say(&text, "tub,ultrasonic power,%s,W\n", row[MORE] + 11);
    if (strncmp(row[MORE], "solute ", 7) == 0)
        lines_say(&text, "%s,kind,solute,\n", row[MORE] + 7);
    if (strcmp(row[MORE], "air knife, oven") == 0)
        lines_say(&text, "knife,kind,dry,\nknife,temperature,20,degC\nknife,blow-off,50,%%\n"
                         "oven,kind,dry,\noven,temperature,40,degC\n");
    if (strcmp(row[MORE], "air knife") == 0)
        lines_say(&text, "oven,kind,dry,\noven,temperature,20,degC\noven,blow-off,50,%%\n");
    line = lines_read(text.bytes);
    ck_assert_int_eq(dregs_cautions(line, cautions, &made), DREGS_OK);
    note(cautions, made);
    lines_free(line);
}

/* A film of 20 um that dries; MORE: "closed" in 1 m3 without fresh air. */
static void ask_dry(char (*row)[CELL_ROOM])
{
    char message[DREGS_DRY_MESSAGE];
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_dry_result *result = NULL;
    dregs_dry_request ask;

    dregs_dry_request_init(&ask);
    ask.liquid = row[LIQUID];
    ask.film = 20e-6;
    ask.at[ask.at_count++] = number(row[CELSIUS]) + 273.15;
    if (strcmp(row[MORE], "closed") == 0) {
        ask.volume = 1;
        ask.area = 1;
    }
    ck_assert_msg(!dregs_dry_answer(&ask, liquids, NULL, &result, message), "%s", message);
    note(dregs_dry_result_caution(result, 0), result->cautions);
    dregs_dry_result_free(result);
    dregs_liquids_free(liquids);
}

static void ask_liquid(char (*row)[CELL_ROOM])
{
    char message[DREGS_DRY_MESSAGE];
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_liquid_result *result = NULL;
    dregs_liquid_request ask;

    dregs_liquid_request_init(&ask);
    ask.name = row[LIQUID];
    if (*row[CELSIUS])
        ask.temperature = number(row[CELSIUS]) + 273.15;
    ck_assert_int_eq(dregs_liquid_answer(&ask, liquids, &result, message), DREGS_OK);
    note(dregs_liquid_result_caution(result, 0), result->cautions);
    dregs_liquid_result_free(result);
    dregs_liquids_free(liquids);
}

START_TEST(the_cautions_are_these_and_no_others)
{
    char odd[CELL_ROOM], (*row)[CELL_ROOM];
    unsigned i;

    read_rows();
    ck_assert_uint_gt(row_count, 60);
    for (i = 1; i < row_count; i++) {
        row = cells[i];
        if (strcmp(row[PLACE], "air") == 0)
            ask_dry(row);
        else if (strcmp(row[PLACE], "liquid") == 0)
            ask_liquid(row);
        else
            ask_line(row);
        ck_assert_msg(*row[SOURCE] != '\0', "row %u has no source", i + 1);
        ck_assert_msg(all_in(row[GIVES], given, odd), "row %u, %s of %s: '%s' is not given, but %s",
                      i + 1, row[PLACE], row[LIQUID], odd, given);
        ck_assert_msg(all_in(given, row[GIVES], odd), "row %u, %s of %s: '%s' is given", i + 1,
                      row[PLACE], row[LIQUID], odd);
    }
}
END_TEST

/* One liquid, one temperature: what is said of its fire, its vapour and the law is said by all. */
START_TEST(every_tool_says_the_same)
{
    static const char *const ids[] = {"restriction", "flash point", "exposure", "no fire data",
                                      "decomposition"};
    static const char *const liquids[] = {"isopropanol",       "n-hexane",        "water",
                                          "trichloroethylene", "dichloromethane", "1-bromopropane",
                                          "d-limonene",        "toluene"};
    static char row[CELLS][CELL_ROOM];
    char odd[CELL_ROOM], by[3][1000];
    unsigned i, k;

    for (i = 0; i < sizeof liquids / sizeof liquids[0]; i++) {
        strcpy(row[PLACE], "rinse");
        strcpy(row[LIQUID], liquids[i]);
        strcpy(row[CELSIUS], "20");
        ask_line(row);
        strcpy(by[0], given);
        ask_dry(row);
        strcpy(by[1], given);
        ask_liquid(row);
        strcpy(by[2], given);
        for (k = 0; k < sizeof ids / sizeof ids[0]; k++) {
            int line = all_in(ids[k], by[0], odd);
            ck_assert_msg(line == all_in(ids[k], by[1], odd) && line == all_in(ids[k], by[2], odd),
                          "%s of %s: line %s, drying %s, liquid %s", ids[k], liquids[i], by[0],
                          by[1], by[2]);
        }
    }
}
END_TEST

/* 61 min of drying in a room, a load every hour. */
START_TEST(a_film_that_dries_longer_than_the_loads_are_apart)
{
    dregs_facts facts;
    static dregs_caution cautions[DREGS_CAUTIONS_MOST];
    unsigned count;

    dregs_facts_init(&facts);
    facts.place = DREGS_PLACE_DRYING;
    facts.where = "bench";
    facts.value[DREGS_FACT_TAKES] = 1.0;
    ck_assert_uint_eq(dregs_cautions_of(&facts, 1, cautions), 0);
    facts.value[DREGS_FACT_TAKES] = 61.0 / 60.0;
    count = dregs_cautions_of(&facts, 1, cautions);
    ck_assert_uint_eq(count, 1);
    ck_assert_str_eq(cautions[0].rule->id, "longer than the interval");
    ck_assert_ptr_nonnull(strstr(cautions[0].text, "bench: a load dries 1.02 times as long"));
}
END_TEST

static Suite *suite(void)
{
    Suite *s = suite_create("cautions");
    TCase *c = tcase_create("table");

    suite_add_tcase(s, c);
    tcase_set_timeout(c, 60);
    tcase_add_test(c, the_cautions_are_these_and_no_others);
    tcase_add_test(c, every_tool_says_the_same);
    tcase_add_test(c, a_film_that_dries_longer_than_the_loads_are_apart);
    return s;
}

int main(void)
{
    return run(suite());
}
