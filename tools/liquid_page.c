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
static void print_equation(const struct fact *fact)
{
    const dregs_liquid_row *row = fact->row;
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
    } else if (fact->mixture && fact->mixture->points) {
        printf("      %zu points, interpolated by Steffen's method in the mass share of %s\n",
               fact->mixture->points, fact->mixture->first);
    } else if (fact->mixture) {
        printf("      %s:", fact->mixture->model);
        for (i = 0; i < (strcmp(fact->mixture->model, "NRTL") == 0 ? 3 : 2); i++)
            printf(" %s", dregs_number_exact(number, fact->mixture->coefficient[i]));
        printf(strcmp(fact->mixture->model, "NRTL") == 0
                   ? " (g12 - g22 and g21 - g11 in J/mol, alpha)\n"
                   : " (A12, A21, natural logarithms)\n");
    }
}

static void print_range(const struct fact *fact)
{
    char words[80], low[DREGS_NUMBER_TEXT], high[DREGS_NUMBER_TEXT];
    int ranged = fact->mixture || (fact->row && !isnan(fact->row->low));

    cell(strcmp(fact->unit, "1") == 0 ? "" : fact->unit, ranged ? 10 : 0);
    if (fact->row && ranged)
        printf("  %s", range(words, fact->row->low, fact->row->high));
    if (fact->mixture && fact->mixture->points)
        printf("  %s to %s %% by mass", dregs_number_plain(low, fact->mixture->share_low * 100, 4),
               dregs_number_plain(high, fact->mixture->share_high * 100, 4));
    else if (fact->mixture)
        printf("  %s", range(words, fact->mixture->low, fact->mixture->high));
}

static void print_fact(const struct liquid_answer *answer, const struct fact *fact)
{
    char number[DREGS_NUMBER_TEXT], text[1024];
    int without = fact->row && isnan(answer->request->temperature) && !isnan(fact->row->low);

    printf("  ");
    cell(fact->name, NAME_WIDTH);
    cell(fact->word           ? fact->word
         : isnan(fact->value) ? "-"
                              : dregs_number_plain(number, fact->value, 5),
         -VALUE_WIDTH);
    if (!fact->word) {
        printf(" ");
        print_range(fact);
    }
    printf("\n");
    if (without && !answer->request->explain)
        printf("      %s [%s]\n", fact->row->equation, fact->row->unit);
    else if (!without && *fact->reason) {
        printf("      ");
        snprintf(text, sizeof text, "refused: %s", fact->reason);
        wrapped(text, 6, 6);
    }
    if (answer->request->explain)
        print_equation(fact);
    snprintf(text, sizeof text, "%s (%s)", fact->source, fact->evidence);
    printf("      ");
    wrapped(text, 6, 6);
    if (*fact->note) {
        snprintf(text, sizeof text, "note: %s", fact->note);
        printf("      ");
        wrapped(text, 6, 6);
    }
}

static void print_missing(const struct liquid_answer *answer)
{
    char text[512] = "not in the table:";
    int p, missing = 0;

    for (p = 0; p < DREGS_PROPERTIES && !answer->pair; p++)
        if (!dregs_liquids_row(answer->liquids, answer->request->name, (dregs_property)p)) {
            size_t used = strlen(text);
            snprintf(text + used, sizeof text - used, "%s %s", missing++ ? "," : "",
                     dregs_property_name((dregs_property)p));
        }
    if (missing) {
        printf("  ");
        wrapped(text, 2, 4);
    }
}

static void print_regulations(const struct liquid_answer *answer)
{
    const dregs_regulation *regulation;
    size_t i, shown = 0;

    for (i = 0; (regulation = dregs_regulations_at(answer->regulations, i)) != NULL; i++) {
        char text[1024];
        if (!liquid_concerns(answer, regulation))
            continue;
        if (!shown++)
            printf("\nregulations\n");
        snprintf(text, sizeof text, "%s%s%s: %s", answer->pair ? regulation->liquid : "",
                 answer->pair ? ", " : "", regulation->jurisdiction, regulation->fact);
        printf("  ");
        wrapped(text, 2, 4);
        snprintf(text, sizeof text, "%s, %s (%s)", regulation->citation, regulation->status_date,
                 regulation->evidence);
        printf("      ");
        wrapped(text, 6, 6);
    }
    if (!shown)
        printf("\nregulations\n  none is recorded here for %s; that does not mean that there is "
               "none\n",
               answer->request->name);
    printf("  ");
    wrapped(dregs_regulations_deference(), 2, 4);
}

static void print_cautions(const struct liquid_answer *answer)
{
    size_t i;

    for (i = 0; i < answer->cautions; i++) {
        if (i == 0)
            printf("\ncautions\n");
        printf("  %s: ", answer->caution[i].id);
        wrapped(answer->caution[i].text, columns(answer->caution[i].id) + 4, 4);
    }
    if (answer->cautions) {
        printf("  ");
        wrapped(dregs_caution_deference(), 2, 4);
    }
}

static void print_known(const struct liquid_answer *answer, const char *name)
{
    static const dregs_property shown[] = {DREGS_BOILING_POINT, DREGS_FLASH_POINT,
                                           DREGS_EXPOSURE_LIMIT};
    size_t i;

    printf("  ");
    cell(name, 30);
    for (i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        char number[DREGS_NUMBER_TEXT];
        double value;
        dregs_unit unit;
        int found = !dregs_liquids_value(answer->liquids, name, shown[i], 298.15, &value, NULL) &&
                    !dregs_unit_read(liquid_shown_unit(shown[i]), &unit, NULL);
        cell(found ? dregs_number_plain(number, dregs_unit_from_si(unit, value), 4) : "-", -12);
    }
    printf("\n");
}

static void print_list(const struct liquid_answer *answer)
{
    const dregs_mixture_row *row;
    const char *name, *last = NULL;
    size_t i;

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
    for (i = 0; (name = dregs_liquids_name(answer->liquids, i)) != NULL; i++)
        print_known(answer, name);
    printf("mixtures\n");
    for (i = 0; (row = dregs_mixtures_row(answer->mixtures, i)) != NULL; i++)
        if (!last || strcmp(last, row->pair) != 0) {
            last = row->pair;
            printf("  %s\n", last);
        }
    printf("A dash says that the table has no value, not that there is none.\n");
}

int liquid_page_text(struct liquid_answer *answer)
{
    const struct liquid_request *request = answer->request;
    char number[DREGS_NUMBER_TEXT];
    size_t i;

    if (!request->name) {
        print_list(answer);
        return FRONT_DONE;
    }
    printf("%s", request->name);
    if (!isnan(request->share))
        printf(", %s %% %s by mass", dregs_number_plain(number, request->share * 100, 6),
               answer->pair->first);
    if (!isnan(request->temperature))
        printf(", %s degC", dregs_number_plain(number, request->temperature - 273.15, 6));
    printf("\n");
    for (i = 0; i < answer->facts; i++)
        print_fact(answer, &answer->fact[i]);
    print_missing(answer);
    print_regulations(answer);
    print_cautions(answer);
    return FRONT_DONE;
}
