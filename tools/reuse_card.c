/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reuse_card.c: one page to hang up at the bench: at which reading each tank is to be dumped, also
 * at today's temperature.
 */
#include "reuse.h"

#include <math.h>
#include <stdio.h>

static void print_table(const struct reuse_pages *answer, unsigned stage)
{
    const dregs_dump_reading *at = &answer->result->outlook->at[stage];
    const dregs_reuse_card *card = dregs_reuse_result_card(answer->result, stage);
    struct numbers n = {0};
    const char *unit;
    int i;

    if (!card)
        return;
    (void)dregs_reading_shown(answer->readings, at->what, at->unit, 0, &unit);
    printf("      a meter without compensation shows, in %s (%s):\n      ", unit,
           dregs_compensation_name(card->way));
    for (i = 0; i < DREGS_CARD_TEMPERATURES; i++) {
        char text[32];
        snprintf(text, sizeof text, "%s degC", number(&n, card->temperature[i] - 273.15));
        cell(text, -11);
    }
    printf("\n      ");
    for (i = 0; i < DREGS_CARD_TEMPERATURES; i++) {
        double shown =
            dregs_reading_shown(answer->readings, at->what, at->unit, card->shown[i], &unit);
        cell(isnan(shown) ? "-" : number(&n, shown), -11);
    }
    putchar('\n');
}

static void print_stage(const struct reuse_pages *answer, unsigned stage)
{
    const dregs_reuse_outlook *a = answer->result->outlook;
    const dregs_dump_reading *at = &a->at[stage];
    struct readings_text texts = {{{0}}, 0};
    char name[160];
    struct numbers n = {0};

    printf("\n  %s%s\n", dregs_line_stage(answer->line, stage)->name,
           a->stage != (int)stage ? ""
           : a->dump_now          ? "   <- dump this one now"
                                  : "   <- dump this one then");
    if (!at->known) {
        printf("      no reading tells when to dump%s\n",
               a->loads == DREGS_REUSE_LOADS_MOST ? ": the limit is not reached" : "");
        return;
    }
    printf("      %s: dump at %s%s", quantity_name(answer->line, at->what, at->which, name),
           reading_text(&texts, answer->readings, at->what, at->unit, at->value),
           at->what == DREGS_MEASURED_CONDUCTIVITY ? " at " : "");
    if (at->what == DREGS_MEASURED_CONDUCTIVITY)
        printf("%s degC", isnan(at->temperature) ? "25" : number(&n, at->temperature - 273.15));
    printf("   (should read %s now)\n",
           reading_text(&texts, answer->readings, at->what, at->unit, at->now));
    if (a->stage == (int)stage)
        printf("      a fill lasts %s%llu load%s; %llu since the last one\n",
               a->fill == DREGS_REUSE_LOADS_MOST ? "more than " : "", (unsigned long long)a->fill,
               a->fill == 1 ? "" : "s", (unsigned long long)a->since);
    print_table(answer, stage);
}

int reuse_page_card(const struct reuse_pages *answer)
{
    const dregs_reuse_outlook *a = answer->result->outlook;
    const dregs_reading *last =
        dregs_readings_at(answer->readings, dregs_readings_kept(answer->readings) - 1);
    char text[400], when[DREGS_TIME_TEXT + 4];
    struct numbers n = {0};
    unsigned i;

    printf("BENCH CARD   %s   last reading %s\n\n", dregs_line_name(answer->line),
           log_time(answer->readings, last->time, when));
    verdict_text(answer, text, sizeof text);
    printf("%s\n", text);
    printf("limit on the dried part: %s ug/cm2\n", number(&n, a->limit * UG_PER_CM2));
    for (i = 0; i < dregs_line_stages(answer->line); i++)
        if (dregs_line_stage(answer->line, i)->tank >= 0 &&
            !dregs_line_stage(answer->line, i)->shares.row &&
            (a->at[i].known || a->at[i].own ||
             dregs_stage_is(dregs_line_stage(answer->line, i),
                            DREGS_STAGE_TANK | DREGS_STAGE_RINSES)))
            print_stage(answer, i);
    printf("\n  A reading far from the rows before it: rinse the probe, measure again.\n"
           "  Card out of date when load, drain time, water or cleaner change.\n");
    page_cautions(answer->line);
    return FRONT_DONE;
}
