/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* alike.c: two names that a reader takes for one: "rinse 1" and "rinse l". */
#include "line/inside.h"

#include <stdio.h>
#include <string.h>

enum { SKELETON = 2 * DREGS_QUOTED };

/* Letters of other scripts that are drawn as a Latin one; some of those of Unicode Technical
 * Standard #39, confusables (value from memory). */
static const struct {
    const char *drawn, *as;
} letters[] = {
    {"\u0430", "a"}, {"\u0435", "e"}, {"\u043E", "o"}, {"\u0440", "p"}, {"\u0441", "c"},
    {"\u0443", "y"}, {"\u0445", "x"}, {"\u0456", "i"}, {"\u0458", "j"}, {"\u0455", "s"},
    {"\u0410", "A"}, {"\u0412", "B"}, {"\u0415", "E"}, {"\u041A", "K"}, {"\u041C", "M"},
    {"\u041D", "H"}, {"\u041E", "O"}, {"\u0420", "P"}, {"\u0421", "C"}, {"\u0422", "T"},
    {"\u0425", "X"}, {"\u03BF", "o"}, {"\u0391", "A"}, {"\u0392", "B"}, {"\u0395", "E"},
    {"\u0396", "Z"}, {"\u0397", "H"}, {"\u0399", "I"}, {"\u039A", "K"}, {"\u039C", "M"},
    {"\u039D", "N"}, {"\u039F", "O"}, {"\u03A1", "P"}, {"\u03A4", "T"}, {"\u03A5", "Y"},
    {"\u03A7", "X"}, {"\u00B5", "u"}, {"\u03BC", "u"}, {"\u00A0", " "}, {"\u2019", "'"},
};

/* One letter as it is drawn; how many bytes it has. */
static size_t draw(const char *at, char *as)
{
    size_t i, length;

    for (i = 0; i < sizeof letters / sizeof letters[0]; i++) {
        length = strlen(letters[i].drawn);
        if (strncmp(at, letters[i].drawn, length) == 0) {
            *as = letters[i].as[0];
            return length;
        }
    }
    *as = *at;
    return 1;
}

/* What is left of a name when what the eye passes over is left out: by `digits` what is drawn like
 * 0 and 1, else case; blanks and strokes either way. */
static void draw_all(const char *name, int digits, char into[SKELETON])
{
    size_t used = 0;
    char c;

    while (*name && used < SKELETON - 1) {
        name += draw(name, &c);
        if (c == ' ' || c == '-' || c == '_')
            continue;
        if (digits)
            c = strchr("lI|", c) ? '1' : c == 'O' || c == 'o' ? '0' : c;
        else if (c >= 'A' && c <= 'Z')
            c = (char)(c - 'A' + 'a');
        into[used++] = c;
    }
    into[used] = '\0';
}

static int look_alike(const char *a, const char *b)
{
    char left[SKELETON], right[SKELETON];
    int digits;

    for (digits = 0; digits < 2; digits++) {
        draw_all(a, digits, left);
        draw_all(b, digits, right);
        if (strcmp(left, right) == 0)
            return 1;
    }
    return 0;
}

dregs_status dregs_line_note_alike(dregs_line *line)
{
    char a[DREGS_QUOTED], b[DREGS_QUOTED];
    dregs_status status = DREGS_OK;
    unsigned i, k;

    for (i = 1; i < line->item_count && !status; i++)
        for (k = 0; k < i && !status; k++)
            if (look_alike(line->items[i].name, line->items[k].name))
                status = dregs_line_note(
                    line, 0, "%s (line %lu) and %s (line %lu) look alike: taken as two items",
                    dregs_quote(a, line->items[k].name), line->rows[line->items[k].row].line,
                    dregs_quote(b, line->items[i].name), line->rows[line->items[i].row].line);
    return status;
}
