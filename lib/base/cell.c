/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* cell.c: a cell, and a number in it, as they are written to a CSV file. */
#include "base/text.h"
#include "dregs/csv.h"
#include "dregs/number.h"

#include <string.h>

/* What a reader would not read back as it is: RFC 4180, and in files of ours blanks at the ends,
 * which are trimmed, and # at the beginning, which makes a comment. */
static int wants_quotes(char separator, const char *cell)
{
    const char special[] = {separator, '"', '\r', '\n', '\0'};
    size_t length = strlen(cell);

    return cell[strcspn(cell, special)] || cell[0] == ' ' || cell[0] == '#' ||
           (length && cell[length - 1] == ' ');
}

void dregs_csv_cell(char separator, const char *before, const char *cell, dregs_csv_put *put,
                    void *user)
{
    if (!wants_quotes(separator, cell)) {
        put(user, before, strlen(before));
        put(user, cell, strlen(cell));
        return;
    }
    put(user, "\"", 1);
    put(user, before, strlen(before));
    while (*cell) {
        size_t length = strcspn(cell, "\"");
        put(user, cell, length);
        cell += length;
        if (*cell == '"') {
            put(user, "\"\"", 2);
            cell++;
        }
    }
    put(user, "\"", 1);
}

/* With three digits behind its mark and up to three before it a number could be a whole one with a
 * mark between its thousands: a zero more tells. */
static int is_twofold(const char *number, const char *mark)
{
    const char *first = number + strspn(number, "+-");
    size_t behind = strspn(mark + 1, "0123456789");

    return *first >= '1' && *first <= '9' && mark - first <= 3 && behind == 3 && mark[4] != 'e' &&
           mark[4] != 'E';
}

const char *dregs_csv_number(char into[DREGS_CSV_NUMBER], dregs_dialect dialect, const char *cell)
{
    size_t length = strcspn(cell, " %"), head;
    const char *mark = strchr(cell, '.');
    double value;

    if (dialect.separator == ',' || !dialect.separator || !mark ||
        strlen(cell) + 2 > DREGS_CSV_NUMBER)
        return cell;
    memcpy(into, cell, length);
    into[length] = '\0';
    if (dregs_number_read(into, &value) || cell[length + strspn(cell + length, " %")])
        return cell;
    if (!dialect.decimal)
        dialect.decimal = dialect.separator == ';' ? ',' : '.';
    head = (size_t)(mark - cell);
    into[head] = dialect.decimal;
    if (is_twofold(cell, mark)) {
        head += 4;
        into[head] = '0';
        strcpy(into + head + 1, cell + head);
    } else {
        strcpy(into + length, cell + length);
    }
    return into;
}
