/* SPDX-License-Identifier: GPL-3.0-or-later */
/* regulation.c: the table of what regulations say of the liquids.
 *
 * Facts in words with a code for programs, never numbers to reckon with. The table is built in and
 * read as a whole; a test holds that it has no fault. Not covered: states, counties, other
 * countries.
 */
#include "dregs/csv.h"
#include "dregs/liquid.h"
#include "liquid/builtin.h"

#include <stdlib.h>
#include <string.h>

enum { COLUMNS = 7 };

static const char *const columns[COLUMNS] = {"liquid",      "jurisdiction", "fact", "citation",
                                             "status date", "evidence",     "code"};

struct entry {
    dregs_regulation regulation;
    char *text; /* all texts of the row */
};

struct dregs_regulations {
    struct entry *entry;
    size_t count, room;
    int headed;
};

static dregs_status add_row(dregs_regulations *regulations, const dregs_csv_row *row)
{
    struct entry *entry;
    const char *kept[COLUMNS];
    size_t size = 0, i;
    char *at;

    if (regulations->count == regulations->room) {
        size_t room = regulations->room ? 2 * regulations->room : 64;
        entry = realloc(regulations->entry, room * sizeof *entry);
        if (!entry)
            return DREGS_NO_MEMORY;
        regulations->entry = entry;
        regulations->room = room;
    }
    for (i = 0; i < COLUMNS; i++)
        size += strlen(row->cell[i]) + 1;
    at = malloc(size);
    if (!at)
        return DREGS_NO_MEMORY;
    entry = &regulations->entry[regulations->count++];
    entry->text = at;
    for (i = 0; i < COLUMNS; i++) {
        size = strlen(row->cell[i]) + 1;
        kept[i] = memcpy(at, row->cell[i], size);
        at += size;
    }
    entry->regulation = (dregs_regulation){kept[0], kept[1], kept[2],   kept[3],
                                           kept[4], kept[5], row->line, kept[6]};
    return DREGS_OK;
}

static dregs_status take(void *user, const dregs_csv_row *row, dregs_faults *faults)
{
    dregs_regulations *regulations = user;
    size_t i;

    (void)faults;
    if (row->count != COLUMNS)
        return DREGS_BAD_DATA;
    if (regulations->headed)
        return add_row(regulations, row);
    regulations->headed = 1;
    for (i = 0; i < COLUMNS; i++)
        if (strcmp(row->cell[i], columns[i]) != 0)
            return DREGS_BAD_DATA;
    return DREGS_OK;
}

dregs_regulations *dregs_regulations_new(void)
{
    dregs_regulations *regulations = calloc(1, sizeof *regulations);
    dregs_csv *csv = regulations ? dregs_csv_new(take, regulations, NULL) : NULL;
    dregs_status status = DREGS_NO_MEMORY;

    if (csv) {
        status = dregs_csv_feed(csv, (const char *)dregs_regulations_builtin,
                                dregs_regulations_builtin_length);
        if (!status)
            status = dregs_csv_end(csv);
    }
    dregs_csv_free(csv);
    if (status) {
        dregs_regulations_free(regulations);
        regulations = NULL;
    }
    return regulations;
}

void dregs_regulations_free(dregs_regulations *regulations)
{
    size_t i;

    if (!regulations)
        return;
    for (i = 0; i < regulations->count; i++)
        free(regulations->entry[i].text);
    free(regulations->entry);
    free(regulations);
}

const dregs_regulation *dregs_regulations_at(const dregs_regulations *regulations, size_t index)
{
    return index < regulations->count ? &regulations->entry[index].regulation : NULL;
}

const dregs_regulation *dregs_regulations_find(const dregs_regulations *regulations,
                                               const char *liquid, const char *citation)
{
    size_t i;

    for (i = 0; i < regulations->count; i++) {
        const dregs_regulation *r = &regulations->entry[i].regulation;
        if (*r->code && strcmp(r->liquid, liquid) == 0 && strstr(r->citation, citation))
            return r;
    }
    return NULL;
}

const char *dregs_regulations_deference(void)
{
    return "This list is neither complete nor current. The local code and the authority decide.";
}
