/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cell.c: a cell as it is written to a CSV file. */
#include "base/text.h"

#include <string.h>

/* What a reader would not read back as it is: RFC 4180, and in files of ours blanks at the ends,
 * which are trimmed, and # at the beginning, which makes a comment. */
static int wants_quotes(const char *cell)
{
    size_t length = strlen(cell);

    return cell[strcspn(cell, ",\"\r\n")] || cell[0] == ' ' || cell[0] == '#' ||
           (length && cell[length - 1] == ' ');
}

void dregs_csv_cell(const char *before, const char *cell, dregs_csv_put *put, void *user)
{
    if (!wants_quotes(cell)) {
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
