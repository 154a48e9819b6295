/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reuse_stopped.c: the drag-out measured with the water shut, as a row for the line file. */
#include "reuse.h"

#include <math.h>
#include <stdio.h>

static void print_row(const struct reuse_pages *answer)
{
    const dregs_stopped_flow *m = &answer->stopped->measured;
    char value[DREGS_NUMBER_TEXT], spread[DREGS_NUMBER_TEXT];

    csv_name(dregs_line_stage(answer->line, m->from)->name);
    printf(",drag-out,%s,mL/m2,%s,", dregs_number_plain(value, m->thickness * ML, 4),
           dregs_number_plain(spread, m->sd * ML, 2));
    printf("\"stopped flow, %llu loads\"\n", (unsigned long long)m->loads);
}

int stopped_page_csv(const struct reuse_pages *answer)
{
    printf("item,property,value,unit,spread,note\n");
    print_row(answer);
    return FRONT_DONE;
}

/* The row of the line file that the new one takes the place of. */
static void print_replaces(const struct reuse_pages *answer)
{
    const dregs_row *row = dregs_line_row(answer->line, answer->stopped->replaces);

    if (row)
        printf("  in place of line %lu of %s (%s)\n", row->line, dregs_line_name(answer->line),
               row->property);
    if (answer->stopped->replaces_speed)
        printf("  and of its drain time and film law, if it has any\n");
}

static void print_shortcut(const struct reuse_pages *answer)
{
    const dregs_stopped_flow *m = &answer->stopped->measured;
    struct numbers n = {0};

    if (isnan(m->shortcut))
        return;
    printf("\nbeside it, the shortcut D = V ((1 - f)^(-1/j) - 1) from the last reading alone\n"
           "  V = %s L, f = %s of the bath after j = %llu loads: D = %s mL per load\n"
           "  (stopped flow, common practice in plating shops; f from conductivities: Mohler's\n"
           "  method. It holds for a rinse that is clean at first and loses what it gains.)\n",
           number(&n, answer->stopped->volume * 1e3), number(&n, m->fraction),
           (unsigned long long)m->loads, number(&n, m->shortcut * ML));
}

static void print_explain(const struct reuse_pages *answer)
{
    const dregs_stopped_flow *m = &answer->stopped->measured;
    struct numbers n = {0};

    printf("\nthe working\n"
           "  every flow of the line is set to 0, and one factor on all drag-outs is sought for\n"
           "  which the map of the line gives the readings (least squares); before the readings\n"
           "  nothing is believed of it; the bath's strength is known to %s %% (spread of its\n"
           "  largest content), which is in the spread of the result\n",
           number(&n, m->bath_spread * 100));
    printf("  factor %s on %s mL per load of the line file = %s mL per load\n",
           number(&n, m->factor), number(&n, answer->stopped->stated * ML),
           number(&n, m->carried * ML));
    printf("  less hold-up and edge beads, %s mL; over the wetted area of %s m2: %s mL/m2\n",
           number(&n, answer->stopped->beside * ML), number(&n, answer->stopped->wetted),
           number(&n, m->thickness * ML));
}

int stopped_page_text(const struct reuse_pages *answer)
{
    const dregs_stopped_flow *m = &answer->stopped->measured;
    struct numbers n = {0};

    printf("drag-out of %s: %s mL/m2, %s mL per load (standard deviation %s %%)\n",
           dregs_line_stage(answer->line, m->from)->name, number(&n, m->thickness * ML),
           number(&n, m->carried * ML), number(&n, 100 * answer->stopped->sd_share));
    printf("  %s times what %s says\n", number(&n, m->factor), dregs_line_name(answer->line));
    printf("\nfor the line file\n  item,property,value,unit,spread,note\n  ");
    print_row(answer);
    print_replaces(answer);
    printf("\nread in %s, all flows taken as shut; the meter scatters by %s %% (%s)\n",
           dregs_line_stage(answer->line, m->stage)->name, number(&n, m->noise * 100),
           m->noise_given     ? "given"
           : m->noise_assumed ? "assumed"
                              : "from the log");
    print_shortcut(answer);
    if (answer->request->explain)
        print_explain(answer);
    reuse_print_log(answer->readings, m->used, 0);
    if (m->outliers)
        printf("  %zu set aside as outliers\n", m->outliers);
    page_cautions(answer->line);
    return FRONT_DONE;
}
