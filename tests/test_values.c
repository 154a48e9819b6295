/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_values.c: values of a line asked for and set. A line with a value set is held against the
 * file with that value written into it, for every row of every line file there is.
 */
#include "check_main.h"
#include "dregs/edit.h"
#include "dregs/number.h"
#include "dregs/residue.h"
#include "dregs/unit.h"
#include "line/line.h"

#include <dirent.h>
#include <gsl/gsl_errno.h>
#include <stdlib.h>
#include <string.h>

static dregs_liquids *table;
static dregs_line *line;
static dregs_faults faults;

static void setup(void)
{
    gsl_set_error_handler_off();
    table = dregs_liquids_new();
    ck_assert_ptr_nonnull(table);
    line = NULL;
}

static void teardown(void)
{
    dregs_line_free(line);
    line = NULL;
    dregs_liquids_free(table);
}

static dregs_line *parsed(const char *text, size_t length)
{
    dregs_line *made = NULL;

    memset(&faults, 0, sizeof faults);
    (void)dregs_line_parse("own.csv", text, length, table, &made, &faults);
    return made;
}

/* ---- against the text, over all line files ---- */

/* The parts of a dregs_line_property's name before "<solute>" or "<number>". */
static int open_ended(const char *property, size_t *head, int *numbered)
{
    const char *mark = strchr(property, '<');

    *head = mark ? (size_t)(mark - property) : strlen(property);
    *numbered = mark && strcmp(mark, "<number>") == 0;
    return mark != NULL;
}

typedef void visitor(const dregs_line *one, const dregs_line *other, const char *item,
                     const dregs_line_property *kind, const char *property);

static void each_name(const dregs_line *one, const dregs_line *other, const char *item,
                      const dregs_line_property *kind, visitor *visit)
{
    char name[128];
    size_t head;
    int numbered;
    unsigned i, count;

    if (!open_ended(kind->property, &head, &numbered)) {
        visit(one, other, item, kind, kind->property);
        return;
    }
    count = numbered ? 3 : dregs_line_solutes(one) < 3 ? dregs_line_solutes(one) : 3;
    for (i = 0; i < count; i++) {
        if (numbered)
            snprintf(name, sizeof name, "%.*s%u", (int)head, kind->property, i + 1);
        else
            snprintf(name, sizeof name, "%.*s%s", (int)head, kind->property,
                     dregs_line_solute(one, i)->name);
        visit(one, other, item, kind, name);
    }
}

/* Every property of every item, as the grammar lists them; a file may have up to `most` items. */
static void each_property(const dregs_line *one, const dregs_line *other, unsigned most,
                          visitor *visit)
{
    dregs_line_property kind;
    unsigned row, items = 0;
    size_t i;

    for (row = 1; row <= dregs_line_rows(one) && items < most; row++) {
        const dregs_row *cells = dregs_line_row(one, row);
        if (strcmp(cells->property, "kind") != 0)
            continue;
        items++;
        for (i = 0; dregs_line_grammar(i, &kind); i++)
            if (strcmp(kind.kind, cells->value) == 0)
                each_name(one, other, cells->item, &kind, visit);
    }
}

static int same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static void same_value(const dregs_line *one, const dregs_line *other, const char *item,
                       const dregs_line_property *kind, const char *property)
{
    dregs_value a, b;
    const char *word = dregs_line_word(one, item, property);
    dregs_status status = dregs_line_get(one, item, property, &a);

    (void)kind;
    ck_assert_int_eq(dregs_line_get(other, item, property, &b), status);
    if (status) {
        ck_assert_pstr_eq(word, dregs_line_word(other, item, property));
        return;
    }
    ck_assert_msg(same(a.si, b.si), "%s of %s: %.17g and %.17g", property, item, a.si, b.si);
    ck_assert_msg(same(a.sd, b.sd), "spread of %s of %s: %.17g and %.17g", property, item, a.sd,
                  b.sd);
    ck_assert_msg(!a.row == !b.row, "%s of %s: stated in one line only", property, item);
}

static void same_volumes(const dregs_line *one, const dregs_line *other)
{
    unsigned i;

    ck_assert_uint_eq(dregs_line_tanks(one), dregs_line_tanks(other));
    ck_assert_uint_eq(dregs_line_period(one), dregs_line_period(other));
    for (i = 0; i < dregs_line_tanks(one); i++) {
        const dregs_tank *a = dregs_line_tank(one, i), *b = dregs_line_tank(other, i);
        ck_assert(a->stage == b->stage && a->volume == b->volume && a->flow == b->flow &&
                  a->evaporation == b->evaporation && a->overflow == b->overflow &&
                  a->top_up == b->top_up);
    }
    for (i = 0; i < dregs_line_stages(one); i++) {
        const dregs_carried *a = dregs_line_carried(one, i), *b = dregs_line_carried(other, i);
        ck_assert(a->in == b->in && a->out == b->out && a->on_parts == b->on_parts);
    }
    for (i = 0; dregs_line_assumed(one, i) || dregs_line_assumed(other, i); i++)
        ck_assert_pstr_eq(dregs_line_assumed(one, i), dregs_line_assumed(other, i));
}

static void same_residue(const dregs_line *one, const dregs_line *other)
{
    dregs_map *a = NULL, *b = NULL;
    dregs_worst worst_a, worst_b;
    dregs_status status;

    if (dregs_line_stages(one) > 8 || dregs_line_solutes(one) > 4 || dregs_line_period(one) > 100)
        return; /* for the sake of time */
    status = dregs_map_new(one, &a);
    ck_assert_int_eq(dregs_map_new(other, &b), status);
    if (!status) {
        status = dregs_residue_worst(a, DREGS_EVERY_SOLUTE, 20, &worst_a);
        ck_assert_int_eq(dregs_residue_worst(b, DREGS_EVERY_SOLUTE, 20, &worst_b), status);
        if (!status)
            ck_assert(worst_a.residue == worst_b.residue && worst_a.load == worst_b.load);
    }
    dregs_map_free(a);
    dregs_map_free(b);
}

/* The SI value that a number and unit of a file would stand for. */
static double as_read(const dregs_row *cells, const char *number)
{
    const char *unit_text = strchr(cells->unit, '/');
    dregs_unit unit;
    double value;

    ck_assert_int_eq(dregs_number_read(number, &value), DREGS_OK);
    if (dregs_unit_read(cells->unit, &unit, NULL) == DREGS_OK)
        return dregs_unit_to_si(unit, value);
    if (unit_text && dregs_unit_read(unit_text + 1, &unit, NULL) == DREGS_OK)
        return value / unit.scale; /* a price; only its sign matters here */
    return value;
}

static unsigned held,
    refused; /* how many values were compared, so that none is not taken for all */

/* `row` of the line with another number: in the file's text, and set. */
static void hold(const dregs_line *from, const dregs_row *cells, unsigned row, double number)
{
    char written[DREGS_NUMBER_TEXT], *text;
    dregs_new_row new_row = {cells->item, cells->property, written, cells->unit, NULL};
    dregs_setting setting = {row, cells->item, cells->property, 0};
    dregs_line *other, *with = NULL;
    dregs_value value;
    dregs_status status;
    size_t length;

    dregs_number_exact(written, number);
    setting.si = as_read(cells, written);
    ck_assert_int_eq(dregs_edit_set(from, &new_row, 1, &text, &length), DREGS_OK);
    other = parsed(text, length);
    dregs_edit_free(text);
    if (other) {
        ck_assert_int_eq(dregs_line_get(other, cells->item, cells->property, &value), DREGS_OK);
        setting.si = value.si;
    }
    status = dregs_line_with(from, &setting, 1, &with, NULL);
    ck_assert_msg((status == DREGS_OK) == (other != NULL), "%s of %s, %s %s: %s, and set: %s",
                  cells->property, cells->item, written, cells->unit,
                  other ? "taken" : faults.fault[0].text, dregs_status_text(status));
    if (other) {
        held++;
        each_property(with, other, 40, same_value);
        same_volumes(with, other);
        same_residue(with, other);
    } else {
        refused++;
        ck_assert(status == DREGS_DOMAIN || status == DREGS_BAD_DATA);
        ck_assert_ptr_null(with);
    }
    dregs_line_free(with);
    dregs_line_free(other);
}

static void hold_rows(const dregs_line *from)
{
    static const double factors[] = {2.385, 0.3, -1.7};
    unsigned row, i;
    double number;

    for (row = 1; row <= dregs_line_rows(from) && row <= 120; row++) {
        const dregs_row *cells = dregs_line_row(from, row);
        dregs_value value;
        if (dregs_line_value(from, row, &value))
            continue;
        ck_assert_uint_eq(value.row, row);
        ck_assert_int_eq(dregs_number_read(cells->value, &number), DREGS_OK);
        for (i = 0; i < 3; i++)
            hold(from, cells, i ? 0 : row, number * factors[i]);
        hold(from, cells, row, number + 1);
    }
}

/* A value that the file does not state, in its own row of the text or without one. */
static void hold_unstated(const dregs_line *from, const dregs_line *other, const char *item,
                          const dregs_line_property *kind, const char *property)
{
    const dregs_row cells = {0, 0, item, property, "", kind->unit, "", "", "", ""};
    dregs_value value;

    (void)other;
    if (dregs_line_get(from, item, property, &value) || dregs_line_find(from, item, property))
        return;
    ck_assert_uint_eq(value.row, 0);
    ck_assert_msg(same(value.si, kind->start), "%s of %s begins at %g", property, item, value.si);
    hold(from, &cells, 0, 1);
    hold(from, &cells, 0, 7.5);
}

static void hold_file(const char *path, int skip)
{
    static char bytes[1 << 18];
    FILE *file = fopen(path, "rb");
    size_t length;

    ck_assert_msg(file != NULL, "%s cannot be opened", path);
    length = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    if (length <= (size_t)skip || length == sizeof bytes)
        return;
    line = parsed(bytes + skip, length - (size_t)skip);
    if (line && dregs_line_stages(line) <= 16 && dregs_line_solutes(line) <= 16) {
        hold_rows(line);
        each_property(line, line, 10, hold_unstated);
    }
    dregs_line_free(line);
    line = NULL;
}

static void hold_all(const char *folder, const char *head, const char *tail, int skip)
{
    const char *source = getenv("DREGS_SOURCE");
    char directory[2048], path[4096];
    const struct dirent *entry;
    DIR *open;

    snprintf(directory, sizeof directory, "%s/%s", source ? source : ".", folder);
    open = opendir(directory);
    ck_assert_msg(open != NULL, "%s cannot be opened", directory);
    held = refused = 0;
    while ((entry = readdir(open))) {
        size_t length = strlen(entry->d_name);
        if (strncmp(entry->d_name, head, strlen(head)) != 0 || length < strlen(tail) ||
            strcmp(entry->d_name + length - strlen(tail), tail) != 0)
            continue;
        snprintf(path, sizeof path, "%s/%s", directory, entry->d_name);
        hold_file(path, skip);
    }
    closedir(open);
}

START_TEST(values_set_in_the_demos_are_as_written)
{
    hold_all("data", "", ".csv", 0);
    ck_assert_uint_ge(held, 500);
    ck_assert_uint_ge(refused, 100);
}
END_TEST

START_TEST(values_set_in_the_corpus_are_as_written)
{
    hold_all("tests/corpus", "line-", "", 1);
    ck_assert_uint_ge(held, 1000);
    ck_assert_uint_ge(refused, 500);
}
END_TEST

/* ---- one by one ---- */

static const char small[] = "item,property,value,unit,spread,note\n"
                            "tray,kind,load,,,\n"
                            "tray,parts,10,1,,\n"
                            "tray,area,100,cm2,10%,\n"
                            "tray,interval,500,s,12,\n"
                            "soil,kind,solute,,,\n"
                            "soil,on parts,2.4,mg,40%,\n" /* row 6 */
                            "salt,kind,solute,,,\n"
                            "mix,kind,liquid,,,\n"
                            "mix,solvent,water,,,\n"
                            "mix,salt,18,g/L,,\n"
                            "bath,kind,wash,,,\n"
                            "bath,volume,28,L,,\n"
                            "bath,liquid,mix,,,\n"
                            "bath,removal,99.4,%,,\n" /* row 14 */
                            "bath,film,85,um,,\n"
                            "bath,dump at,shift end,,,\n"
                            "last,kind,rinse,,,\n"
                            "last,volume,20,L,,\n"
                            "last,liquid,mix,,,\n"
                            "last,drag-out,60,mL/m2,,\n"
                            "work,kind,schedule,,,\n"
                            "work,loads per shift,40,1,,\n"
                            "meter,kind,calibration,,,\n"
                            "meter,solute,total,,,\n"
                            "meter,reading 1,1.5,Brix,,\n"
                            "meter,concentration 1,10,g/L,,\n"
                            "meter,reading 2,3,Brix,,\n"
                            "meter,concentration 2,22,g/L,,\n"
                            "limit,kind,target,,,\n"
                            "limit,level,R5,,,\n";

static double got(const dregs_line *from, const char *item, const char *property)
{
    dregs_value value;

    ck_assert_msg(dregs_line_get(from, item, property, &value) == DREGS_OK, "%s of %s", property,
                  item);
    return value.si;
}

START_TEST(values_are_found_by_row_and_by_name)
{
    dregs_value value = {7, 7, 7};

    line = parsed(small, sizeof small - 1);
    ck_assert_ptr_nonnull(line);
    ck_assert_int_eq(dregs_line_value(line, 6, &value), DREGS_OK);
    ck_assert_near(value.si, 2.4e-6, 1e-15, "on parts");
    ck_assert_near(value.sd, 0.96e-6, 1e-15, "its spread");
    ck_assert_uint_eq(value.row, 6);
    ck_assert_uint_eq(dregs_line_find(line, "soil", "on parts"), 6);
    ck_assert_near(got(line, "tray", "area"), 0.01, 1e-15, "area");
    ck_assert_near(got(line, "mix", "salt"), 18, 1e-15, "salt");
    ck_assert_near(got(line, "meter", "reading 2"), 3, 1e-15, "reading 2");
    ck_assert_near(got(line, "bath", "removal soil"), 0.994, 1e-15, "removal of one");
    ck_assert_near(got(line, "bath", "removal"), 0.994, 1e-15, "removal of all");
    /* stated in other words: of all solutes, by a level, by the schedule */
    ck_assert_uint_eq(dregs_line_find(line, "bath", "removal salt"), 14);
    ck_assert_uint_eq(dregs_line_find(line, "limit", "residue"),
                      dregs_line_find(line, "limit", "level"));
    ck_assert_uint_gt(dregs_line_find(line, "limit", "level"), 0);
    ck_assert(got(line, "bath", "dump every") == 40);
    ck_assert_uint_eq(dregs_line_find(line, "bath", "dump every"),
                      dregs_line_find(line, "bath", "dump at"));
}
END_TEST

START_TEST(what_is_not_stated_has_its_default)
{
    dregs_value value;

    line = parsed(small, sizeof small - 1);
    ck_assert_ptr_nonnull(line);
    /* dregs-line(5): exchange and solvent share 1, flow and covered 0, a height none */
    ck_assert(got(line, "last", "exchange") == 1);
    ck_assert(got(line, "mix", "solvent share") == 1);
    ck_assert(got(line, "mix", "soil") == 0);
    ck_assert(got(line, "last", "flow") == 0);
    ck_assert(got(line, "last", "removal") == 0);
    ck_assert(got(line, "last", "covered") == 0);
    ck_assert(isnan(got(line, "tray", "height")));
    ck_assert_int_eq(dregs_line_get(line, "tray", "height", &value), DREGS_OK);
    ck_assert_uint_eq(value.row, 0);
    ck_assert_uint_eq(dregs_line_find(line, "tray", "height"), 0);
    ck_assert_str_eq(dregs_line_word(line, "last", "liquid"), "mix");
    ck_assert_str_eq(dregs_line_word(line, "last", "overflow to"), "drain");
    ck_assert_str_eq(dregs_line_word(line, "last", "film law"), "plate");
    ck_assert_str_eq(dregs_line_word(line, "limit", "level"), "R5");
    ck_assert_ptr_null(dregs_line_word(line, "last", "feed"));
    ck_assert_ptr_null(dregs_line_word(line, "work", "idle flow"));
}
END_TEST

START_TEST(what_is_no_quantity_is_unknown)
{
    static const char *const no[][2] = {{"tray", "kind"},     {"mix", "solvent"},
                                        {"last", "use"},      {"lost", "flow"},
                                        {"last", "clearing"}, {"last", "removal dust"},
                                        {"mix", "mix"},       {"meter", "reading 21"},
                                        {"limit", "level"},   {"", ""}};
    dregs_value value = {7, 7, 7};
    size_t i;

    line = parsed(small, sizeof small - 1);
    ck_assert_ptr_nonnull(line);
    for (i = 0; i < sizeof no / sizeof no[0]; i++) {
        const dregs_setting setting = {0, no[i][0], no[i][1], 1};
        dregs_line *with = NULL;
        ck_assert_int_eq(dregs_line_get(line, no[i][0], no[i][1], &value), DREGS_UNKNOWN);
        ck_assert_int_eq(dregs_line_with(line, &setting, 1, &with, NULL), DREGS_UNKNOWN);
        ck_assert_ptr_null(with);
    }
    ck_assert_uint_eq(dregs_line_find(line, "lost", "flow"), 0);
    ck_assert_ptr_null(dregs_line_word(line, "lost", "liquid"));
    ck_assert_ptr_null(dregs_line_word(line, "last", "volume"));
    /* a kind, a word, none, past the last one */
    for (i = 0; i < 4; i++) {
        const unsigned rows[] = {1, 9, 0, dregs_line_rows(line) + 1};
        const dregs_setting setting = {rows[i], NULL, NULL, 1};
        dregs_line *with = NULL;
        ck_assert_int_eq(dregs_line_value(line, rows[i], &value), DREGS_UNKNOWN);
        ck_assert_int_eq(dregs_line_with(line, &setting, 1, &with, NULL), DREGS_UNKNOWN);
        ck_assert_ptr_null(with);
    }
    ck_assert(value.si == 7 && value.sd == 7 && value.row == 7);
}
END_TEST

START_TEST(what_varies_and_whose_draw_is_shared)
{
    static const char text[] = "item,property,value,unit,spread,varies,with\ntray,kind,load\n"
                               "tray,parts,10,1\ntray,area,100,cm2\ntray,interval,500,s\n"
                               "a.b,kind,solute\na.b,on parts,2,mg,30%,12.5%\nw,kind,liquid\n"
                               "w,solvent,water\nr,kind,rinse\nr,volume,20,L\nr,liquid,w\n"
                               "r,film,20,um,1,4,a.b.on parts\n";
    dregs_line *changed = NULL;
    dregs_setting set = {6, NULL, NULL, 4e-6};
    double sd = 7;

    line = parsed(text, sizeof text - 1);
    ck_assert_ptr_nonnull(line);
    ck_assert_int_eq(dregs_line_varies(line, 6, &sd), DREGS_OK);
    ck_assert_near(sd, 0.25e-6, 1e-14, "12.5 %% of 2 mg"); /* kg */
    ck_assert_int_eq(dregs_line_varies(line, 12, &sd), DREGS_OK);
    ck_assert_near(sd, 4e-6, 1e-14, "4 um");
    ck_assert_int_eq(dregs_line_varies(line, 2, &sd), DREGS_OK);
    ck_assert(sd == 0);
    sd = 7;
    ck_assert_int_eq(dregs_line_varies(line, 1, &sd), DREGS_UNKNOWN);
    ck_assert_int_eq(dregs_line_varies(line, 99, &sd), DREGS_UNKNOWN);
    ck_assert(sd == 7);
    ck_assert_uint_eq(dregs_line_shares_draw(line, 12), 6);
    ck_assert_uint_eq(dregs_line_shares_draw(line, 6), 0);
    ck_assert_uint_eq(dregs_line_shares_draw(line, 99), 0);
    ck_assert_int_eq(dregs_line_with(line, &set, 1, &changed, NULL), DREGS_OK);
    ck_assert_int_eq(dregs_line_varies(changed, 6, &sd), DREGS_OK);
    ck_assert_near(sd, 0.5e-6, 1e-14, "12.5 %% of 4 mg");
    dregs_line_free(changed);
}
END_TEST

START_TEST(a_line_with_values_leaves_the_first_as_it_was)
{
    const dregs_setting settings[] = {{0, "last", "flow", 1e-6},
                                      {6, NULL, NULL, 4e-6},
                                      {0, "tray", "interval", 250},
                                      {0, "last", "flow", 2e-6}};
    const dregs_setting again = {0, "last", "exchange", 0.5};
    dregs_line *with = NULL, *both = NULL;
    dregs_value value;
    unsigned rows;
    size_t length;

    line = parsed(small, sizeof small - 1);
    ck_assert_ptr_nonnull(line);
    rows = dregs_line_rows(line);
    ck_assert_int_eq(dregs_line_with(line, settings, 4, &with, &faults), DREGS_OK);
    ck_assert(got(line, "last", "flow") == 0 && got(with, "last", "flow") == 2e-6);
    ck_assert(dregs_line_tank(line, 1)->overflow != dregs_line_tank(with, 1)->overflow);
    ck_assert(dregs_line_stage(with, 1)->flow.row > rows);
    ck_assert_str_eq(dregs_line_row(with, dregs_line_stage(with, 1)->flow.row)->property, "flow");
    ck_assert_str_eq(dregs_line_row(with, dregs_line_stage(with, 1)->flow.row)->item, "last");
    ck_assert_ptr_null(dregs_line_row(line, rows + 1));
    ck_assert_uint_eq(dregs_line_rows(with), rows);
    ck_assert_ptr_eq(dregs_line_text(with, &length), dregs_line_text(line, &length));
    /* a spread of 40 % stays one, of 12 s too */
    ck_assert_int_eq(dregs_line_value(with, 6, &value), DREGS_OK);
    ck_assert_near(value.sd, 1.6e-6, 1e-15, "a spread as a share");
    ck_assert_near(got(with, "tray", "interval"), 250, 1e-15, "interval");
    ck_assert_near(dregs_line_load(with)->interval.sd, 12, 1e-15, "a spread in the unit");
    /* and another one upon it */
    ck_assert_int_eq(dregs_line_with(with, &again, 1, &both, NULL), DREGS_OK);
    ck_assert(got(both, "last", "flow") == 2e-6 && got(both, "last", "exchange") == 0.5);
    ck_assert(got(with, "last", "exchange") == 1);
    ck_assert_uint_ne(dregs_line_find(both, "last", "flow"),
                      dregs_line_find(both, "last", "exchange"));
    dregs_line_free(both);
    dregs_line_free(with);
}
END_TEST

START_TEST(values_out_of_bounds_are_refused)
{
    static const struct {
        const char *item, *property;
        double si;
        dregs_status status;
        const char *words;
    } bad[] = {
        {"tray", "parts", 2.5, DREGS_DOMAIN, "a whole number"},
        {"tray", "area", 0, DREGS_DOMAIN, "above 0"},
        {"tray", "interval", NAN, DREGS_DOMAIN, "beyond anything"},
        {"tray", "interval", INFINITY, DREGS_DOMAIN, "beyond anything"},
        {"tray", "interval", 1e-21, DREGS_DOMAIN, "beyond anything"},
        {"last", "exchange", 1.5, DREGS_DOMAIN, "within 0 and 1"},
        {"last", "temperature", -1, DREGS_DOMAIN, "absolute zero"},
        {"mix", "price", -1, DREGS_DOMAIN, "negative"},
        {"meter", "reading 1", NAN, DREGS_DOMAIN, "beyond anything"},
        /* the file has another way */
        {"limit", "residue", 1e-6, DREGS_BAD_DATA, "by level"},
        {"bath", "dump every", 3, DREGS_BAD_DATA, "by dump at"},
        {"bath", "removal soil", 0.5, DREGS_BAD_DATA, "by removal"},
        {"bath", "drag-out", 1e-5, DREGS_BAD_DATA, "in two ways"},
        /* not a line */
        {"last", "volume", 1e-6, DREGS_BAD_DATA, "more than the tank holds"},
        {"last", "temperature", 400, DREGS_BAD_DATA, "boils"},
        {"meter", "reading 3", 4, DREGS_BAD_DATA, "has a reading and no concentration"},
        {"meter", "reading 2", 1.5, DREGS_BAD_DATA, "calibration"},
    };
    size_t i;

    line = parsed(small, sizeof small - 1);
    ck_assert_ptr_nonnull(line);
    for (i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        const dregs_setting setting = {0, bad[i].item, bad[i].property, bad[i].si};
        dregs_line *with = NULL;
        memset(&faults, 0, sizeof faults);
        ck_assert_msg(dregs_line_with(line, &setting, 1, &with, &faults) == bad[i].status,
                      "%s of %s", bad[i].property, bad[i].item);
        ck_assert_ptr_null(with);
        ck_assert_uint_ge(faults.count, 1);
        ck_assert_msg(strstr(faults.fault[0].text, bad[i].words) != NULL, "'%s' is not in '%s'",
                      bad[i].words, faults.fault[0].text);
    }
}
END_TEST

START_TEST(a_calibration_gets_another_point)
{
    const dregs_setting point[2] = {{0, "meter", "reading 3", 5},
                                    {0, "meter", "concentration 3", 40}};
    dregs_line *with = NULL;

    line = parsed(small, sizeof small - 1);
    ck_assert_ptr_nonnull(line);
    ck_assert_int_eq(dregs_line_with(line, point, 2, &with, &faults), DREGS_OK);
    ck_assert_uint_eq(dregs_line_scale(with, 0)->curve.count, 3);
    ck_assert_uint_eq(dregs_line_scale(line, 0)->curve.count, 2);
    dregs_line_free(with);
}
END_TEST

/* What no value can say, and that a value set later keeps it. */
START_TEST(a_line_run_otherwise)
{
    static const unsigned char by_hand[2] = {1, 0};
    static const double drag_out[2] = {1.5, 0.7};
    const struct practice practice = {drag_out, by_hand, 0};
    const dregs_setting volume = {0, "bath", "volume", 0.03};
    double none[2] = {1, 0};
    struct practice wrong = {none, NULL, 0};
    dregs_line *run_so = NULL, *both = NULL;

    line = parsed(small, sizeof small - 1);
    ck_assert_ptr_nonnull(line);
    ck_assert_uint_eq(dregs_line_period(line), 40);
    ck_assert_int_eq(dregs_line_run_as(line, NULL, 0, &practice, &run_so, NULL), DREGS_OK);
    ck_assert_near(dregs_line_carried(run_so, 0)->out, 1.5 * dregs_line_carried(line, 0)->out,
                   1e-15, "the film");
    ck_assert_near(dregs_line_carried(run_so, 1)->out, 0.7 * dregs_line_carried(line, 1)->out,
                   1e-15, "the film of the second stage");
    ck_assert_uint_eq(dregs_line_period(run_so), 1);
    ck_assert_int_eq(dregs_line_with(run_so, &volume, 1, &both, NULL), DREGS_OK);
    ck_assert(dregs_line_carried(both, 0)->out == dregs_line_carried(run_so, 0)->out);
    ck_assert_uint_eq(dregs_line_period(both), 1);
    dregs_line_free(both);
    dregs_line_free(run_so);
    both = NULL;
    ck_assert_int_eq(dregs_line_run_as(line, NULL, 0, &wrong, &both, NULL), DREGS_DOMAIN);
    none[1] = NAN;
    ck_assert_int_eq(dregs_line_run_as(line, NULL, 0, &wrong, &both, NULL), DREGS_DOMAIN);
    none[1] = 1e6; /* more than a tank holds */
    ck_assert_int_eq(dregs_line_run_as(line, NULL, 0, &wrong, &both, NULL), DREGS_BAD_DATA);
    ck_assert_ptr_null(both);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("values");
    TCase *text = tcase_create("text"), *single = tcase_create("single");

    tcase_add_checked_fixture(text, setup, teardown);
    tcase_set_timeout(text, 120);
    tcase_add_test(text, values_set_in_the_demos_are_as_written);
    tcase_add_test(text, values_set_in_the_corpus_are_as_written);
    suite_add_tcase(suite, text);

    tcase_add_checked_fixture(single, setup, teardown);
    tcase_add_test(single, values_are_found_by_row_and_by_name);
    tcase_add_test(single, what_is_not_stated_has_its_default);
    tcase_add_test(single, what_is_no_quantity_is_unknown);
    tcase_add_test(single, what_varies_and_whose_draw_is_shared);
    tcase_add_test(single, a_line_with_values_leaves_the_first_as_it_was);
    tcase_add_test(single, values_out_of_bounds_are_refused);
    tcase_add_test(single, a_calibration_gets_another_point);
    tcase_add_test(single, a_line_run_otherwise);
    suite_add_tcase(suite, single);
    return run(suite);
}
