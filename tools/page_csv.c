/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_csv.c: one value per row, load,stage,solute,quantity,value,unit. */
#include "page.h"
#include "predict.h"

#include <stdio.h>

static void print_row(uint64_t load, const char *stage, const char *solute, const char *quantity,
                      double value, const char *unit)
{
    char text[DREGS_NUMBER_TEXT];

    printf("%llu,", (unsigned long long)load);
    csv_name(stage);
    putchar(',');
    csv_name(solute);
    printf(",%s,%s,%s\n", quantity, dregs_number_exact(text, value), unit);
}

static void print_residue(uint64_t load, const char *solute, double film, double adhering)
{
    print_row(load, "", solute, "residue", (film + adhering) * MG_PER_M2, "mg/m2");
    print_row(load, "", solute, "film residue", film * MG_PER_M2, "mg/m2");
    print_row(load, "", solute, "adhering residue", adhering * MG_PER_M2, "mg/m2");
}

static void print_load(void *user, uint64_t load, const dregs_state *state,
                       const dregs_residue *residue)
{
    const dregs_line *line = user;
    unsigned i, s;

    for (i = 0; i < dregs_line_stages(line); i++) {
        const dregs_stage *stage = dregs_line_stage(line, i);
        for (s = 0; s < dregs_line_solutes(line); s++) {
            const char *solute = dregs_line_solute(line, s)->name;
            if (dregs_stage_is(stage, DREGS_STAGE_WET))
                print_row(load, stage->name, solute, "concentration",
                          dregs_state_concentration(state, s, i) * MG_PER_L, "mg/L");
            print_row(load, stage->name, solute, "film", dregs_state_film(state, s, i) * MG, "mg");
        }
    }
    for (s = 0; s < residue->solutes; s++)
        print_residue(load, dregs_line_solute(line, s)->name, residue->film[s],
                      residue->adhering[s]);
    print_residue(load, "total", residue->film_total, residue->adhering_total);
}

int page_csv(const struct predict_page *answer)
{
    printf("load,stage,solute,quantity,value,unit\n");
    return each_load(answer, print_load, (void *)answer->line);
}
