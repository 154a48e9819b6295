/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_edit.c: values, rows and items set in the text of a line, which stays as it is elsewhere. */
#include "check_main.h"
#include "dregs/edit.h"
#include "lines.h"

#include <string.h>

static struct lines_text text;

#define HEAD                                                                                       \
    "rack,kind,load\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,6,min\n"                        \
    "salt,kind,solute\nwater,kind,liquid\nwater,solvent,water\n"
#define HEADER "item,property,value,unit,spread,note\n"

static void set_gives(const char *before, const dregs_new_row *rows, size_t count,
                      const char *after)
{
    dregs_line *line = lines_read(before), *again;
    char *got = NULL;
    size_t length = 0;

    ck_assert_int_eq(dregs_edit_set(line, rows, count, &got, &length), DREGS_OK);
    ck_assert_str_eq(got, after);
    ck_assert_uint_eq(length, strlen(after));
    again = lines_read(got); /* and it is a line file */
    lines_free(again);
    dregs_edit_free(got);
    lines_free(line);
}

#define FLOW(value, unit)                                                                          \
    {                                                                                              \
        "r", "flow", value, unit, NULL                                                             \
    }

START_TEST(a_value_set_leaves_all_else)
{
    static const dregs_new_row flow[] = {FLOW("7.5", "L/h")}, other[] = {FLOW("2", "L/min")};

    set_gives(HEADER "# a comment, with a comma and a \"quote\n\n" HEAD
                     "r,kind,rinse,,,\"a note, quoted\"\n  \nr,volume,20,L\nr,liquid,water\n"
                     "# before\nr,flow,9,L/h,5%,\"said \"\"so\"\", twice\"\n# behind\n"
                     "r,film,20,um,,\"two\nlines\"\n# the end",
              flow, 1,
              HEADER "# a comment, with a comma and a \"quote\n\n" HEAD
                     "r,kind,rinse,,,\"a note, quoted\"\n  \nr,volume,20,L\nr,liquid,water\n"
                     "# before\nr,flow,7.5,L/h,5%,\"said \"\"so\"\", twice\"\n# behind\n"
                     "r,film,20,um,,\"two\nlines\"\n# the end");
    /* a spread in the row's unit stays with the unit, and goes with it; one in % stays */
    set_gives(HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,9,L/h,0.5,n\n"
                          "r,film,20,um\n",
              flow, 1,
              HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,7.5,L/h,0.5,n\n"
                          "r,film,20,um\n");
    set_gives(HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,9,L/h,0.5,n\n"
                          "r,film,20,um\n",
              other, 1,
              HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,2,L/min,,n\n"
                          "r,film,20,um\n");
    set_gives(HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,9,L/h,5%,n\n"
                          "r,film,20,um\n",
              other, 1,
              HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,flow,2,L/min,5%,n\n"
                          "r,film,20,um\n");
    /* what varies goes with its unit as the spread does; without a spread no draw is shared */
    set_gives("item,property,value,unit,spread,varies,with\n" HEAD "r,kind,rinse\nr,volume,20,L\n"
              "r,liquid,water\nr,flow,9,L/h,0.5,0.25,r.film\nr,film,20,um,2\n",
              other, 1,
              "item,property,value,unit,spread,varies,with\n" HEAD "r,kind,rinse\nr,volume,20,L\n"
              "r,liquid,water\nr,flow,2,L/min,,,\nr,film,20,um,2\n");
    set_gives("item,property,value,unit,spread,varies\n" HEAD "r,kind,rinse\nr,volume,20,L\n"
              "r,liquid,water\nr,flow,9,L/h,0.5,20%\nr,film,20,um\n",
              other, 1,
              "item,property,value,unit,spread,varies\n" HEAD "r,kind,rinse\nr,volume,20,L\n"
              "r,liquid,water\nr,flow,2,L/min,,20%\nr,film,20,um\n");
}
END_TEST

START_TEST(a_row_is_added_below_its_item)
{
    static const dregs_new_row flow[] = {FLOW("7.5", "L/h")};
    static const dregs_new_row two[] = {{"r", "dump every", "8", "", "a, note"},
                                        {"rack", "hold-up", "1", "mL", NULL}};

    set_gives(
        HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,film,20,um,,\"two\nlines\"\n"
                    "# behind\n",
        flow, 1,
        HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,film,20,um,,\"two\nlines\"\n"
                    "r,flow,7.5,L/h,,\n# behind\n");
    /* no end of line in the last row */
    set_gives("item,property,value,unit\n" HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\n"
              "r,film,20,um",
              flow, 1,
              "item,property,value,unit\n" HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\n"
              "r,film,20,um\nr,flow,7.5,L/h\n");
    set_gives(HEADER HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\nr,film,20,um", two, 2,
              HEADER "rack,kind,load\nrack,parts,1,1\nrack,area,1,m2\nrack,interval,6,min\n"
                     "rack,hold-up,1,mL,,\nsalt,kind,solute\nwater,kind,liquid\n"
                     "water,solvent,water\nr,kind,rinse\nr,volume,20,L\nr,liquid,water\n"
                     "r,film,20,um\nr,dump every,8,,,\"a, note\"\n");
}
END_TEST

START_TEST(the_last_row_without_an_end_of_line_is_set)
{
    static const dregs_new_row flow[] = {FLOW("7.5", "L/h")};

    set_gives("item,property,value,unit\n" HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\n"
              "r,film,20,um\nr,flow,9,L/h",
              flow, 1,
              "item,property,value,unit\n" HEAD "r,kind,rinse\nr,volume,20,L\nr,liquid,water\n"
              "r,film,20,um\nr,flow,7.5,L/h\n");
}
END_TEST

START_TEST(other_systems_and_other_columns)
{
    static const dregs_new_row flow[] = {FLOW("7.5", "L/h")};
    static const dregs_new_row dump[] = {{"r", "dump every", "8", NULL, "x"}};

    set_gives("\xEF\xBB\xBFitem,property,value,unit\r\nrack,kind,load\r\nrack,parts,1,1\r\n"
              "rack,area,1,m2\r\nrack,interval,6,min\r\nwater,kind,liquid\r\n"
              "water,solvent,water\r\nsalt,kind,solute\r\nr,kind,rinse\r\nr,flow,9,L/h\r\n"
              "r,volume,20,L\r\nr,liquid,water\r\nr,film,20,um\r\n",
              flow, 1,
              "\xEF\xBB\xBFitem,property,value,unit\r\nrack,kind,load\r\nrack,parts,1,1\r\n"
              "rack,area,1,m2\r\nrack,interval,6,min\r\nwater,kind,liquid\r\n"
              "water,solvent,water\r\nsalt,kind,solute\r\nr,kind,rinse\r\nr,flow,7.5,L/h\r\n"
              "r,volume,20,L\r\nr,liquid,water\r\nr,film,20,um\r\n");
    set_gives("unit,note,value,item,property\n,,load,rack,kind\n1,,1,rack,parts\n"
              "m2,,1,rack,area\nmin,,6,rack,interval\n,,liquid,water,kind\n"
              ",,water,water,solvent\n,,solute,salt,kind\n,,rinse,r,kind\nL/h,why,9,r,flow\n"
              "L,,20,r,volume\n,,water,r,liquid\num,,20,r,film\n",
              flow, 1,
              "unit,note,value,item,property\n,,load,rack,kind\n1,,1,rack,parts\n"
              "m2,,1,rack,area\nmin,,6,rack,interval\n,,liquid,water,kind\n"
              ",,water,water,solvent\n,,solute,salt,kind\n,,rinse,r,kind\nL/h,why,7.5,r,flow\n"
              "L,,20,r,volume\n,,water,r,liquid\num,,20,r,film\n");
    set_gives("unit,note,value,item,property\n,,load,rack,kind\n1,,1,rack,parts\n"
              "m2,,1,rack,area\nmin,,6,rack,interval\n,,liquid,water,kind\n"
              ",,water,water,solvent\n,,solute,salt,kind\n,,rinse,r,kind\n"
              "L,,20,r,volume\n,,water,r,liquid\num,,20,r,film\n",
              dump, 1,
              "unit,note,value,item,property\n,,load,rack,kind\n1,,1,rack,parts\n"
              "m2,,1,rack,area\nmin,,6,rack,interval\n,,liquid,water,kind\n"
              ",,water,water,solvent\n,,solute,salt,kind\n,,rinse,r,kind\n"
              "L,,20,r,volume\n,,water,r,liquid\num,,20,r,film\n,x,8,r,dump every\n");
}
END_TEST

START_TEST(items_taken_out_and_put_in)
{
    static const char *const drop[] = {"a", "b"}, *const nothing[] = {"nobody"};
    static const dregs_new_row rows[] = {{"c, d", "kind", "rinse", "", NULL},
                                         {"c, d", "volume", "20", "L", "made"},
                                         {"c, d", "liquid", "water", NULL, NULL},
                                         {"c, d", "film", "20", "um", NULL}};
    static const dregs_new_row unknown[] = {{"nobody", "flow", "1", "L/h", NULL}};
    static const char before[] =
        HEADER HEAD "w,kind,wash\nw,volume,20,L\nw,top up from,a,,,\"goes\ntoo\"\n# kept\n"
                    "w,liquid,water\nw,film,20,um\n"
                    "a,kind,rinse\n# of a, kept\na,volume,20,L\na,liquid,water\na,film,20,um\n"
                    "b,kind,rinse\nb,volume,20,L\nb,liquid,water\nb,film,20,um\n"
                    "b,overflow to,a\ns,kind,spray\ns,liquid,water\ns,use,1,L\ns,runoff to,b\n"
                    "s,film,20,um";
    static const char after[] =
        HEADER HEAD "w,kind,wash\nw,volume,20,L\n# kept\nw,liquid,water\nw,film,20,um\n"
                    "\"c, d\",kind,rinse,,,\n\"c, d\",volume,20,L,,made\n"
                    "\"c, d\",liquid,water,,,\n\"c, d\",film,20,um,,\n"
                    "# of a, kept\ns,kind,spray\ns,liquid,water\ns,use,1,L\ns,film,20,um";
    dregs_line *line = lines_read(before);
    char *got = NULL;
    size_t length;

    ck_assert_int_eq(dregs_edit_replace(line, drop, 2, rows, 4, &got, &length), DREGS_OK);
    ck_assert_str_eq(got, after);
    ck_assert_uint_eq(length, strlen(after));
    lines_free(lines_read(got));
    dregs_edit_free(got);
    ck_assert_int_eq(dregs_edit_replace(line, nothing, 1, rows, 4, &got, &length), DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_edit_set(line, unknown, 1, &got, &length), DREGS_UNKNOWN);
    lines_free(line);
}
END_TEST

/* Every row of a random line set to what it says already: the rows stay what they are. */
START_TEST(random_lines_set_to_themselves)
{
    unsigned number, i;

    for (number = 0; number < 40; number++) {
        dregs_line *line = lines_random(number, &text, NULL);
        for (i = 1; i <= dregs_line_rows(line); i++) {
            const dregs_row *row = dregs_line_row(line, i);
            dregs_new_row same = {row->item, row->property, row->value, row->unit, NULL};
            char *got = NULL;
            size_t length;
            ck_assert_int_eq(dregs_edit_set(line, &same, 1, &got, &length), DREGS_OK);
            ck_assert_str_eq(got, text.bytes);
            dregs_edit_free(got);
        }
        lines_free(line);
    }
}
END_TEST

/* A row is written as the others of its file are: separator, decimal mark, columns without a name.
 * A number that could have its mark between thousands gets a zero more. */
START_TEST(the_file_stays_written_as_it_was)
{
    static const dregs_new_row flow[] = {{"r", "flow", "1.218", "L/h", NULL}};
    static const dregs_new_row more[] = {{"r", "flow", "7.5", "L/h", "a, b; c"}};

    set_gives(
        "sep=;\r\nItem;Property;Value;Unit;Spread;Note;\r\nrack;kind;load\r\nrack;parts;1;1\r\n"
        "rack;area;1,5;m2\r\nrack;interval;6;min\r\nsalt;kind;solute\r\nwater;kind;liquid\r\n"
        "water;solvent;water\r\nr;kind;rinse\r\nr;volume;20;L\r\nr;liquid;water\r\n"
        "r;flow;9;L/h;0,5;n, m;\r\nr;film;20;um\r\n",
        flow, 1,
        "sep=;\r\nItem;Property;Value;Unit;Spread;Note;\r\nrack;kind;load\r\nrack;parts;1;1\r\n"
        "rack;area;1,5;m2\r\nrack;interval;6;min\r\nsalt;kind;solute\r\nwater;kind;liquid\r\n"
        "water;solvent;water\r\nr;kind;rinse\r\nr;volume;20;L\r\nr;liquid;water\r\n"
        "r;flow;1,2180;L/h;0,5;n, m;\r\nr;film;20;um\r\n");
    set_gives("item\tproperty\tvalue\tunit\tnote\nrack\tkind\tload\nrack\tparts\t1\t1\n"
              "rack\tarea\t1,5\tm2\nrack\tinterval\t6\tmin\nsalt\tkind\tsolute\n"
              "water\tkind\tliquid\nwater\tsolvent\twater\nr\tkind\trinse\nr\tvolume\t20\tL\n"
              "r\tliquid\twater\nr\tfilm\t20\tum\n",
              more, 1,
              "item\tproperty\tvalue\tunit\tnote\nrack\tkind\tload\nrack\tparts\t1\t1\n"
              "rack\tarea\t1,5\tm2\nrack\tinterval\t6\tmin\nsalt\tkind\tsolute\n"
              "water\tkind\tliquid\nwater\tsolvent\twater\nr\tkind\trinse\nr\tvolume\t20\tL\n"
              "r\tliquid\twater\nr\tfilm\t20\tum\nr\tflow\t7,5\tL/h\ta, b; c\n");
    /* no number of the file has a decimal mark yet */
    set_gives("item;property;value;unit\nrack;kind;load\nrack;parts;1;1\nrack;area;1;m2\n"
              "rack;interval;6;min\nsalt;kind;solute\nwater;kind;liquid\nwater;solvent;water\n"
              "r;kind;rinse\nr;volume;20;L\nr;liquid;water\nr;film;20;um\nr;flow;9;L/h\n",
              flow, 1,
              "item;property;value;unit\nrack;kind;load\nrack;parts;1;1\nrack;area;1;m2\n"
              "rack;interval;6;min\nsalt;kind;solute\nwater;kind;liquid\nwater;solvent;water\n"
              "r;kind;rinse\nr;volume;20;L\nr;liquid;water\nr;film;20;um\nr;flow;1,2180;L/h\n");
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"text",
         {a_value_set_leaves_all_else, a_row_is_added_below_its_item,
          the_last_row_without_an_end_of_line_is_set, other_systems_and_other_columns,
          items_taken_out_and_put_in, random_lines_set_to_themselves,
          the_file_stays_written_as_it_was}},
    };

    return run_cases("edit", cases, sizeof cases / sizeof cases[0]);
}
