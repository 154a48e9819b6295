/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings.c: rows of the log to readings, as a stream.
 *
 * Rows of a log are alike: the words for stage, quantity and unit of one row are mostly those of
 * the row before, and are looked up only when they change.
 */
#include "readings/readings.h"
#include "base/sheet.h"
#include "base/text.h"
#include "dregs/number.h"
#include "line/line.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WORD = 128, UNITS_MOST = 64, NAMES_MOST = 160 };

enum column { TIME, STAGE, LOADS, QUANTITY, VALUE, UNIT, SPREAD, TEMPERATURE, NOTE, LOAD, COLUMNS };

static const dregs_column columns[COLUMNS] = {
    [TIME] = {"time", DREGS_IN_HEADER, NULL},
    [STAGE] = {"stage", DREGS_IN_HEADER, NULL},
    [LOADS] = {"loads", DREGS_IN_HEADER, "load"},
    [QUANTITY] = {"quantity", DREGS_IN_HEADER, NULL},
    [VALUE] = {"value", DREGS_IN_HEADER, NULL},
    [UNIT] = {"unit", DREGS_IN_HEADER, NULL},
    [SPREAD] = {"spread", DREGS_OPTIONAL, NULL},
    [TEMPERATURE] = {"temperature", DREGS_OPTIONAL, NULL},
    [NOTE] = {"note", DREGS_OPTIONAL, NULL},
    [LOAD] = {"load", DREGS_OPTIONAL, NULL},
};

static const dregs_sheet_words words = {
    .allowed = "; the columns are time, stage, loads (or load), quantity, value, unit, spread, "
               "temperature, note",
    .nearest = {"; nearest: '", "'"},
    .twice = {"column ", " is there twice"},
    .missing = {"there is no column ",
                "; the header of a log is: time,stage,loads,quantity,value,unit"},
    .both = "'loads' (since the last dump) and 'load' (a running number) exclude each other",
    .cells = {" under a header of ", ""},
    .empty = "the log is empty: not even a header",
};

/* A log may be long: beyond the faults that are kept nothing more is read. */
static const dregs_sheet_form form = {
    .column = columns, .count = COLUMNS, .words = &words, .stops_when_full = 1};

/* What a word of the log was found to mean. */
struct known {
    char word[WORD];
    unsigned index;
    dregs_measured what;
};

struct unit {
    char text[WORD];
    dregs_measured what;
    unsigned which;
    dregs_unit unit;
};

struct dregs_readings {
    const dregs_line *line;
    dregs_sheet *table;
    char name[DREGS_FILE_NAME];
    dregs_faults own;
    dregs_faults *faults;
    int bad;
    int running;    /* loads carry a running number */
    int zoned;      /* the times have a zone: 1, 0; -1 before the first */
    unsigned stage; /* of the last row */
    struct known quantity;
    struct unit unit[UNITS_MOST];
    unsigned units, last_unit;
    unsigned char of_stage[DREGS_LINE_STAGES];
    dregs_reading *kept;
    size_t count;
    int unsorted, thinned;
    double newest;
    dregs_readings_count counted;
};

#define SAY(r, line_, ...)                                                                         \
    ((r)->bad = 1, (void)dregs_fault_add((r)->faults, DREGS_BAD_DATA, line_, __VA_ARGS__))

static void happened(unsigned long long *count, unsigned long *first, unsigned long line)
{
    if (++*count == 1)
        *first = line;
}

static int is_stage(const dregs_stage *stage, const char *word)
{
    return stage && stage->tank >= 0 && strcmp(stage->name, word) == 0;
}

static int find_stage(dregs_readings *r, const dregs_sheet_row *row, const char *word)
{
    const char *names[DREGS_LINE_STAGES];
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16];
    unsigned i, count = 0;

    if (is_stage(dregs_line_stage(r->line, r->stage), word))
        return 1;
    for (i = 0; i < dregs_line_stages(r->line); i++) {
        const dregs_stage *stage = dregs_line_stage(r->line, i);
        if (is_stage(stage, word)) {
            r->stage = i;
            return 1;
        }
        if (stage->tank >= 0)
            names[count++] = stage->name;
    }
    SAY(r, row->line, "stage: %s is not a wash or rinse of %.60s%s",
        *word ? dregs_quote(quoted, word) : "nothing", dregs_line_name(r->line),
        dregs_nearest_words(near, word, names, count));
    return 0;
}

/* "concentration oil": the solute, or -1 */
static int solute_named(const dregs_line *line, const char *name)
{
    unsigned i;

    for (i = 0; i < dregs_line_solutes(line); i++)
        if (strcmp(dregs_line_solute(line, i)->name, name) == 0)
            return (int)i;
    return -1;
}

static int is_quantity(const dregs_line *line, const char *word, struct known *known)
{
    static const char head[] = "concentration ";
    unsigned i;
    int solute;

    known->index = 0;
    if (strcmp(word, "dump") == 0) {
        known->what = DREGS_MEASURED_DUMP;
    } else if (strcmp(word, "conductivity") == 0) {
        known->what = DREGS_MEASURED_CONDUCTIVITY;
    } else if (strcmp(word, "non-volatile residue") == 0) {
        known->what = DREGS_MEASURED_RESIDUE;
    } else if (strncmp(word, head, sizeof head - 1) == 0 &&
               (solute = solute_named(line, word + sizeof head - 1)) >= 0) {
        known->what = DREGS_MEASURED_CONCENTRATION;
        known->index = (unsigned)solute;
    } else {
        for (i = 0; i < dregs_line_scales(line); i++)
            if (strcmp(dregs_line_scale(line, i)->name, word) == 0)
                break;
        if (i == dregs_line_scales(line))
            return 0;
        known->what = DREGS_MEASURED_SCALE;
        known->index = i;
    }
    return 1;
}

static int find_quantity(dregs_readings *r, const dregs_sheet_row *row, const char *word)
{
    char quoted[DREGS_QUOTED], near[DREGS_QUOTED + 16], with_solute[DREGS_LINE_SOLUTES][WORD];
    const char *names[NAMES_MOST];
    unsigned i, count = 0;

    if (*word && strcmp(r->quantity.word, word) == 0)
        return 1;
    r->quantity.word[0] = '\0';
    if (strlen(word) < WORD && is_quantity(r->line, word, &r->quantity)) {
        snprintf(r->quantity.word, WORD, "%s", word);
        return 1;
    }
    names[count++] = "dump";
    names[count++] = "conductivity";
    names[count++] = "non-volatile residue";
    for (i = 0; i < dregs_line_solutes(r->line); i++) {
        snprintf(with_solute[i], WORD, "concentration %s", dregs_line_solute(r->line, i)->name);
        names[count++] = with_solute[i];
    }
    for (i = 0; i < dregs_line_scales(r->line) && count < NAMES_MOST; i++)
        names[count++] = dregs_line_scale(r->line, i)->name;
    SAY(r, row->line,
        "quantity: %s is not conductivity, 'non-volatile residue', 'concentration "
        "<solute>', a calibration of the line file, or dump%s",
        *word ? dregs_quote(quoted, word) : "nothing",
        dregs_nearest_words(near, word, names, count));
    return 0;
}

static const char *like(dregs_measured what)
{
    return what == DREGS_MEASURED_CONDUCTIVITY ? "uS/cm" : "mg/L";
}

static int find_unit(dregs_readings *r, const dregs_sheet_row *row, const char *word)
{
    char message[DREGS_UNIT_MESSAGE] = "", quoted[DREGS_QUOTED];
    struct unit *unit = &r->unit[r->last_unit];
    const dregs_scale *scale = dregs_line_scale(r->line, r->quantity.index);
    unsigned i;

    for (i = 0; i <= r->units; i++) { /* the last one found first, then all */
        if (i > 0)
            unit = &r->unit[i - 1];
        if (r->units && unit->what == r->quantity.what && unit->which == r->quantity.index &&
            strcmp(unit->text, word) == 0) {
            r->last_unit = (unsigned)(unit - r->unit);
            return 1;
        }
    }
    if (r->units == UNITS_MOST || strlen(word) >= WORD) {
        SAY(r, row->line, "more than %d units in one log", UNITS_MOST);
        return 0;
    }
    unit = &r->unit[r->units];
    unit->unit = (dregs_unit){1.0, 0.0, {{0}}};
    if (r->quantity.what == DREGS_MEASURED_SCALE) {
        if (strcmp(word, scale->unit) != 0) {
            SAY(r, row->line, "unit %s: the calibration '%.60s' is in '%.40s'",
                *word ? dregs_quote(quoted, word) : "missing", scale->name, scale->unit);
            return 0;
        }
    } else if (dregs_unit_read_like(word, like(r->quantity.what), &unit->unit, message)) {
        SAY(r, row->line, "unit %s: %s; allowed is for example '%s'",
            *word ? dregs_quote(quoted, word) : "missing", message, like(r->quantity.what));
        return 0;
    }
    snprintf(unit->text, WORD, "%s", word);
    unit->what = r->quantity.what;
    unit->which = r->quantity.index;
    r->last_unit = r->units++;
    return 1;
}

static int read_time(dregs_readings *r, const dregs_sheet_row *row, dregs_reading *reading)
{
    const char *word = dregs_sheet_cell(row, TIME);
    char quoted[DREGS_QUOTED];
    int zoned;

    if (strchr(word, '/')) {
        SAY(r, row->line,
            "time: %s: with strokes the day or the month may come first; write 2026-03-02T07:30 or "
            "02.03.2026 07:30",
            dregs_quote(quoted, word));
        return 0;
    }
    if (dregs_time_read(word, &reading->time, &zoned)) {
        SAY(r, row->line, "time: %s is not a time such as 2026-03-02T07:30",
            *word ? dregs_quote(quoted, word) : "nothing");
        return 0;
    }
    if (r->zoned >= 0 && r->zoned != zoned) {
        SAY(r, row->line, "time: %s %s, unlike the rows above; their order would be a guess",
            dregs_quote(quoted, word), zoned ? "states its zone" : "states no zone");
        return 0;
    }
    r->zoned = zoned;
    return 1;
}

static int read_loads(dregs_readings *r, const dregs_sheet_row *row, dregs_reading *reading)
{
    enum column column = row->place[LOAD] >= 0 ? LOAD : LOADS;
    const char *word = dregs_sheet_cell(row, column);
    char quoted[DREGS_QUOTED];
    double value;

    reading->loads = -1;
    if (!*word)
        return 1;
    if (strcmp(word, "fresh") == 0 && reading->what != DREGS_MEASURED_DUMP) {
        reading->loads = 0;
        reading->fresh = 1;
        return 1;
    }
    if (dregs_number_read(word, &value) || !(value >= 0) || !(value <= 1e12) ||
        value != floor(value)) {
        SAY(r, row->line, "%s: %s is not a whole number of loads, nor fresh", columns[column].name,
            dregs_quote(quoted, word));
        return 0;
    }
    reading->loads = (int64_t)value;
    return 1;
}

static int read_spread(dregs_readings *r, const dregs_sheet_row *row, dregs_unit unit,
                       dregs_reading *reading)
{
    const char *word = dregs_sheet_cell(row, SPREAD);
    char quoted[DREGS_QUOTED];

    reading->sd = 0;
    if (!*word || !dregs_spread_read(word, reading->value, unit, &reading->sd))
        return 1;
    SAY(r, row->line, "spread: %s is not a number >= 0 in the row's unit or a share such as 3%%",
        dregs_quote(quoted, word));
    return 0;
}

static int read_temperature(dregs_readings *r, const dregs_sheet_row *row, dregs_reading *reading)
{
    const char *word = dregs_sheet_cell(row, TEMPERATURE);
    char message[DREGS_UNIT_MESSAGE] = "", quoted[DREGS_QUOTED];

    reading->temperature = NAN;
    if (!*word)
        return 1;
    if (dregs_unit_quantity(word, "degC", &reading->temperature, message)) {
        SAY(r, row->line, "temperature: %s: %s; it has its unit behind it, such as 23.5 degC",
            dregs_quote(quoted, word), message);
        return 0;
    }
    if (!(reading->temperature > 250) || !(reading->temperature < 400)) {
        SAY(r, row->line, "temperature: %s is not that of a bath", dregs_quote(quoted, word));
        return 0;
    }
    return 1;
}

/* The value; 1 with NaN where the cell is empty. */
static int read_value(dregs_readings *r, const dregs_sheet_row *row, dregs_reading *reading)
{
    const char *word = dregs_sheet_cell(row, VALUE);
    char quoted[DREGS_QUOTED];
    double value;

    reading->value = NAN;
    if (!*word)
        return 1;
    if (dregs_number_read(word, &value)) {
        SAY(r, row->line, "value: %s is not a number; a number is written like 28.5 or 2.85e1",
            dregs_quote(quoted, word));
        return 0;
    }
    if (!find_unit(r, row, dregs_sheet_cell(row, UNIT)))
        return 0;
    reading->unit = r->last_unit;
    reading->value = dregs_unit_to_si(r->unit[r->last_unit].unit, value);
    if (!(fabs(reading->value) < 1e15) ||
        (reading->what != DREGS_MEASURED_SCALE && reading->value < 0)) {
        SAY(r, row->line, "value: %s %.20s is nothing a meter can show", dregs_quote(quoted, word),
            dregs_sheet_cell(row, UNIT));
        return 0;
    }
    return read_spread(r, row, r->unit[r->last_unit].unit, reading);
}

static int alike(const dregs_reading *a, const dregs_reading *b)
{
    return a->stage == b->stage && a->what == b->what && a->which == b->which;
}

static int is_duplicate(const dregs_readings *r, const dregs_reading *reading)
{
    size_t i, back = r->count < 16 ? r->count : 16;

    for (i = 1; i <= back; i++) {
        const dregs_reading *other = &r->kept[r->count - i];
        if (alike(other, reading) && other->time == reading->time && other->rows == 1 &&
            other->loads == reading->loads && other->fresh == reading->fresh &&
            (other->value == reading->value || reading->what == DREGS_MEASURED_DUMP))
            return 1;
    }
    return 0;
}

static void keep(dregs_readings *r, const dregs_reading *reading)
{
    if (is_duplicate(r, reading)) {
        happened(&r->counted.duplicate, &r->counted.first_duplicate, reading->line);
        return;
    }
    if (reading->time < r->newest) {
        happened(&r->counted.late, &r->counted.first_late, reading->line);
        r->unsorted = 1;
    } else {
        r->newest = reading->time;
    }
    if (r->count == DREGS_READINGS_KEPT) {
        r->count = dregs_readings_thin(r->kept, r->count, &r->unsorted, &r->counted.gone);
        r->thinned = 1;
    }
    r->kept[r->count++] = *reading;
}

static void take_reading(dregs_readings *r, const dregs_sheet_row *row)
{
    dregs_reading reading = {0};

    reading.line = row->line;
    reading.rows = 1;
    if (!find_stage(r, row, dregs_sheet_cell(row, STAGE)) ||
        !find_quantity(r, row, dregs_sheet_cell(row, QUANTITY)))
        return;
    reading.stage = r->stage;
    reading.what = r->quantity.what;
    reading.which = r->quantity.index;
    if (!read_time(r, row, &reading) || !read_loads(r, row, &reading) ||
        !read_temperature(r, row, &reading))
        return;
    r->counted.rows++;
    if (!reading.fresh) /* a sample of the liquid says nothing of the tank */
        r->of_stage[reading.stage] = 1;
    if (reading.what == DREGS_MEASURED_DUMP) {
        if (*dregs_sheet_cell(row, VALUE))
            SAY(r, row->line, "a dump has no value");
        r->counted.dumps++;
        reading.value = NAN;
        keep(r, &reading);
        return;
    }
    if (!read_value(r, row, &reading))
        return;
    if (isnan(reading.value) || reading.loads < 0)
        happened(&r->counted.missing, &r->counted.first_missing, row->line);
    else
        keep(r, &reading);
}

static dregs_status take(void *user, const dregs_sheet_row *row, dregs_faults *faults)
{
    dregs_readings *r = user;

    (void)faults;
    r->running = row->place[LOAD] >= 0;
    take_reading(r, row);
    return DREGS_OK;
}

dregs_readings *dregs_readings_new(const char *name, const dregs_line *line, dregs_faults *faults)
{
    dregs_readings *r = calloc(1, sizeof *r);

    if (!r)
        return NULL;
    r->line = line;
    r->faults = faults ? faults : &r->own;
    r->zoned = -1;
    r->newest = -HUGE_VAL;
    snprintf(r->name, sizeof r->name, "%s", name);
    snprintf(r->faults->file, sizeof r->faults->file, "%s", name);
    r->kept = malloc(DREGS_READINGS_KEPT * sizeof *r->kept);
    r->table = dregs_sheet_new(&form, take, r, r->faults);
    if (!r->kept || !r->table) {
        dregs_readings_free(r);
        return NULL;
    }
    return r;
}

void dregs_readings_free(dregs_readings *readings)
{
    if (!readings)
        return;
    dregs_sheet_free(readings->table);
    free(readings->kept);
    free(readings);
}

dregs_status dregs_readings_feed(dregs_readings *readings, const char *bytes, size_t length)
{
    return dregs_sheet_feed(readings->table, bytes, length);
}

static void place_all(dregs_readings *r)
{
    dregs_readings_gap(r->kept, r->count, &r->counted);
    dregs_readings_place(r->kept, r->count, r->running, dregs_line_load(r->line)->interval.si,
                         &r->counted);
}

dregs_status dregs_readings_end(dregs_readings *readings)
{
    dregs_readings *r = readings;
    dregs_status status = dregs_sheet_end(r->table);
    size_t i, read = 0, before = 0;

    if (!status && !r->bad) {
        dregs_readings_sort(r->kept, r->count, &r->unsorted);
        if (r->thinned) /* all alike, not only those before the last time room was made */
            r->count = dregs_readings_thin(r->kept, r->count, &r->unsorted, &r->counted.gone);
        for (i = 0; i < r->count; i++)
            read += r->kept[i].what != DREGS_MEASURED_DUMP;
        if (read == 0 && (r->counted.missing > 0 || r->counted.dumps == 0))
            SAY(r, 0, "no reading in %llu rows", r->counted.rows);
        else if (r->running && dregs_readings_falls(r->kept, r->count, &i, &before))
            SAY(r, r->kept[i].line,
                "load: %lld, but an earlier row (line %lu) has %lld: a running number never falls; "
                "loads since the last dump belong in a column 'loads'",
                (long long)r->kept[i].loads, r->kept[before].line,
                (long long)r->kept[before].loads);
        else
            place_all(r);
    }
    dregs_faults_sort(r->faults);
    return status ? status : r->bad ? DREGS_BAD_DATA : DREGS_OK;
}

size_t dregs_readings_kept(const dregs_readings *readings)
{
    return readings->count;
}

const dregs_reading *dregs_readings_at(const dregs_readings *readings, size_t index)
{
    return index < readings->count ? &readings->kept[index] : NULL;
}

const dregs_readings_count *dregs_readings_counted(const dregs_readings *readings)
{
    return &readings->counted;
}

const char *dregs_readings_name(const dregs_readings *readings)
{
    return readings->name;
}

const char *dregs_readings_unit(const dregs_readings *readings, unsigned index, dregs_unit *unit)
{
    if (index >= readings->units)
        return NULL;
    if (unit)
        *unit = readings->unit[index].unit;
    return readings->unit[index].text;
}

int dregs_readings_zoned(const dregs_readings *readings)
{
    return readings->zoned == 1;
}

int dregs_readings_of(const dregs_readings *readings, unsigned stage)
{
    return stage < DREGS_LINE_STAGES && readings->of_stage[stage];
}
