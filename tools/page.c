/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page.c: numbers, columns and broken lines for the pages. */
#include "page.h"

#include <csv.h>
#include <stdio.h>
#include <string.h>

enum { PAGE_WIDTH = 88 };

const char *number(struct numbers *numbers, double value)
{
    return dregs_number_plain(numbers->text[numbers->next++ % 8], value, 4);
}

int columns(const char *text)
{
    int count = 0;

    for (; *text; text++)
        count += ((unsigned char)*text & 0xC0) != 0x80;
    return count;
}

void cell(const char *text, int width)
{
    int pad = (width < 0 ? -width : width) - columns(text);

    if (pad < 0)
        pad = 0;
    if (width < 0)
        printf("%*s%s", pad, "", text);
    else
        printf("%s%*s", text, pad, "");
}

void wrapped(const char *text, int used, int indent)
{
    int blank = 0; /* one is owed before the next word */

    while (*text) {
        size_t length = strcspn(text, " ");
        char word[256];
        snprintf(word, sizeof word, "%.*s", (int)(length < 255 ? length : 255), text);
        if (blank && used + 1 + columns(word) > PAGE_WIDTH) {
            printf("\n%*s", indent, "");
            used = indent;
            blank = 0;
        }
        printf("%s%s", blank ? " " : "", word);
        used += blank + columns(word);
        blank = 1;
        text += length;
        text += strspn(text, " ");
    }
    putchar('\n');
}

void csv_name(const char *name)
{
    char guarded[128];

    snprintf(guarded, sizeof guarded, "%s%s", *name && strchr("=+-@\t\r", *name) ? "'" : "", name);
    if (guarded[strcspn(guarded, ",\"\r\n")] || guarded[0] == ' ')
        (void)csv_fwrite(stdout, guarded, strlen(guarded));
    else
        (void)fputs(guarded, stdout);
}

void page_cautions(const dregs_line *line)
{
    dregs_caution cautions[DREGS_CAUTIONS_MOST];
    unsigned count = dregs_cautions(line, cautions), i;

    if (count == 0)
        return;
    printf("\ncautions\n");
    for (i = 0; i < count; i++) {
        printf("  %s: ", cautions[i].rule->id);
        wrapped(cautions[i].text, columns(cautions[i].rule->id) + 4, 4);
    }
    printf("  ");
    wrapped(dregs_caution_deference(), 2, 4);
}
