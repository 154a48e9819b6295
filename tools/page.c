/* page.c: numbers, columns and broken lines for the pages. */
#include "page.h"

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
