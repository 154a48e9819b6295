/* SPDX-License-Identifier: GPL-3.0-or-later */
/* liquid_page.c: dregs-liquid's page for people. */
#include "liquid.h"
#include "page.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { NAME_WIDTH = 38, VALUE_WIDTH = 12 };

/* "-8.15 to 99.85 degC", or "" where there is no range. */
static const char *range(char into[80], double low, double high)
{
    char a[DREGS_NUMBER_TEXT], b[DREGS_NUMBER_TEXT];

    if (isnan(low))
        into[0] = '\0';
    else if (low < high)
        snprintf(into, 80, "%s to %s degC", dregs_number_plain(a, low - 273.15, 5),
                 dregs_number_plain(b, high - 273.15, 5));
    else
        snprintf(into, 80, "%s degC", dregs_number_plain(a, low - 273.15, 5));
    return into;
}

static void print_place(const char *before, const dregs_liquid_row *row)
{
    if (row->file)
        printf("%s (%s:%lu)\n", before, row->file, row->line);
    else
        printf("%s (line %lu of the built-in table)\n", before, row->line);
}

/* The equation with its coefficients, or the model with its own. */
static void print_equation(const dregs_liquid_figure *figure)
{
    const dregs_liquid_row *row = figure->row;
    const char *letter = row ? dregs_equation_letters(row->equation) : "";
    char number[DREGS_NUMBER_TEXT];
    int i;

    if (row && row->word) {
        print_place("     ", row);
    } else if (row) {
        printf("      %s [%s]\n      ", row->equation, row->unit);
        for (; letter && *letter; letter++)
            printf(" %c = %s", *letter,
                   dregs_number_exact(number, row->coefficient[*letter - 'A']));
        print_place("  ", row);
    } else if (figure->mixture && figure->mixture->points) {
        printf("      %zu points, interpolated by Steffen's method in the mass share of %s\n",
               figure->mixture->points, figure->mixture->first);
    } else if (figure->mixture) {
        printf("      %s:", figure->mixture->model);
        for (i = 0; i < (strcmp(figure->mixture->model, "NRTL") == 0 ? 3 : 2); i++)
            printf(" %s", dregs_number_exact(number, figure->mixture->coefficient[i]));
        printf(strcmp(figure->mixture->model, "NRTL") == 0
                   ? " (g12 - g22 and g21 - g11 in J/mol, alpha)\n"
                   : " (A12, A21, natural logarithms)\n");
    }
}

static void print_range(const dregs_liquid_figure *figure)
{
    char words[80], low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT];
    int ranged = figure->mixture || (figure->row && !isnan(figure->row->low));

    cell(strcmp(figure->unit, "1") == 0 ? "" : figure->unit, ranged ? 10 : 0);
    if (figure->row && ranged)
        printf("  %s", range(words, figure->row->low, figure->row->high));
    if (figure->mixture && figure->mixture->points)
        printf("  %s to %s %% by mass",
               dregs_number_plain(low, figure->mixture->share_low * 100, 4),
               dregs_number_plain(high, figure->mixture->share_high * 100, 4));
    else if (figure->mixture)
        printf("  %s", range(words, figure->mixture->low, figure->mixture->high));
}

static void print_figure(const struct asked *asked, const dregs_liquid_figure *figure)
{
    char number[DREGS_NUMBER_TEXT], text[1024];
    int without = figure->row && isnan(asked->request.temperature) && !isnan(figure->row->low);

    printf("  ");
    cell(figure->name, NAME_WIDTH);
    cell(figure->word           ? figure->word
         : isnan(figure->value) ? "-"
                                : dregs_number_plain(number, figure->value, 5),
         -VALUE_WIDTH);
    if (!figure->word) {
        printf(" ");
        print_range(figure);
    }
    printf("\n");
    if (without && !asked->explain)
        printf("      %s [%s]\n", figure->row->equation, figure->row->unit);
    else if (!without && *figure->reason) {
        printf("      ");
        snprintf(text, sizeof text, "refused: %s", figure->reason);
        wrapped(text, 6, 6);
    }
    if (asked->explain)
        print_equation(figure);
    snprintf(text, sizeof text, "%s (%s)", figure->source, figure->evidence);
    printf("      ");
    wrapped(text, 6, 6);
    if (*figure->note) {
        snprintf(text, sizeof text, "note: %s", figure->note);
        printf("      ");
        wrapped(text, 6, 6);
    }
}

static void print_missing(const dregs_liquid_result *result)
{
    char text[512] = "not in the table:";
    const char *name;
    size_t i;

    for (i = 0; (name = dregs_liquid_result_missing(result, i)) != NULL; i++) {
        size_t used = strlen(text);
        snprintf(text + used, sizeof text - used, "%s %s", i ? "," : "", name);
    }
    if (i) {
        printf("  ");
        wrapped(text, 2, 4);
    }
}

static void print_regulations(const struct asked *asked, const dregs_liquid_result *result)
{
    const dregs_regulation *regulation;
    size_t i;

    for (i = 0; (regulation = dregs_liquid_result_regulation(result, i)) != NULL; i++) {
        char text[1024];
        if (i == 0)
            printf("\nregulations\n");
        snprintf(text, sizeof text, "%s%s%s: %s", result->second ? regulation->liquid : "",
                 result->second ? ", " : "", regulation->jurisdiction, regulation->fact);
        printf("  ");
        wrapped(text, 2, 4);
        snprintf(text, sizeof text, "%s, %s (%s)", regulation->citation, regulation->status_date,
                 regulation->evidence);
        printf("      ");
        wrapped(text, 6, 6);
    }
    if (i == 0)
        printf("\nregulations\n  none is recorded here for %s; that does not mean that there is "
               "none\n",
               asked->request.name);
    printf("  ");
    wrapped(dregs_regulations_deference(), 2, 4);
}

static void print_cautions(const dregs_liquid_result *result)
{
    const dregs_caution *caution;
    size_t i;

    for (i = 0; (caution = dregs_liquid_result_caution(result, i)) != NULL; i++) {
        if (i == 0)
            printf("\ncautions\n");
        printf("  %s: ", caution->rule->id);
        wrapped(caution->text, columns(caution->rule->id) + 4, 4);
    }
    if (i) {
        printf("  ");
        wrapped(dregs_caution_deference(), 2, 4);
    }
}

/* A row of the list: constants of a liquid, and a dash for what the table does not have. */
static int print_known(const dregs_liquids *liquids, const char *name)
{
    static const char *const shown[] = {"boiling point", "flash point", "exposure limit"};
    dregs_liquid_request request = {name, DREGS_ROOM, NAN};
    dregs_liquid_result *result = NULL;
    const dregs_liquid_figure *figure;
    size_t i, f;
    int status = liquid_ask(&request, liquids, &result);

    if (status)
        return status;
    printf("  ");
    cell(name, 30);
    for (i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        char number[DREGS_NUMBER_TEXT];
        for (f = 0; (figure = dregs_liquid_result_figure(result, f)) != NULL; f++)
            if (strcmp(figure->name, shown[i]) == 0)
                break;
        cell(figure && !isnan(figure->value) ? dregs_number_plain(number, figure->value, 4) : "-",
             -12);
    }
    printf("\n");
    dregs_liquid_result_free(result);
    return FRONT_DONE;
}

int liquid_list_text(const dregs_liquids *liquids, const dregs_mixtures *mixtures)
{
    const dregs_mixture_row *row;
    const char *name, *last = NULL;
    size_t i;
    int status = FRONT_DONE;

    printf("liquids");
    cell("", 25);
    cell("boils", -12);
    cell("flashes", -12);
    cell("limit, 8 h", -12);
    printf("\n");
    cell("", 32);
    cell("degC", -12);
    cell("degC", -12);
    cell("ppm", -12);
    printf("\n");
    for (i = 0; !status && (name = dregs_liquids_name(liquids, i)) != NULL; i++)
        status = print_known(liquids, name);
    printf("mixtures\n");
    for (i = 0; (row = dregs_mixtures_row(mixtures, i)) != NULL; i++)
        if (!last || strcmp(last, row->pair) != 0) {
            last = row->pair;
            printf("  %s\n", last);
        }
    printf("A dash says that the table has no value, not that there is none.\n");
    return status;
}

int liquid_page_text(const struct asked *asked, const dregs_liquid_result *result)
{
    const dregs_liquid_request *request = &asked->request;
    const dregs_liquid_figure *figure;
    char number[DREGS_NUMBER_TEXT];
    size_t i;

    printf("%s", request->name);
    if (!isnan(request->share))
        printf(", %s %% %s by mass", dregs_number_plain(number, request->share * 100, 6),
               result->first);
    if (!isnan(request->temperature))
        printf(", %s degC", dregs_number_plain(number, request->temperature - 273.15, 6));
    printf("\n");
    for (i = 0; (figure = dregs_liquid_result_figure(result, i)) != NULL; i++)
        print_figure(asked, figure);
    print_missing(result);
    print_regulations(asked, result);
    print_cautions(result);
    return FRONT_DONE;
}
