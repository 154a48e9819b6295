/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ensemble.c: the rows of a line that are drawn, and its draws. */
#include "ensemble/inside.h"
#include "line/line.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

struct dregs_ensemble {
    const dregs_line *line;
    uint64_t seed;
    unsigned rows;
    dregs_drawn *drawn;
};

/* The row at the end of the way along `with`; the reader has seen to it that there is one. */
static unsigned root_of(const dregs_line *line, unsigned row)
{
    unsigned next;

    while ((next = dregs_line_shares_draw(line, row)) != 0)
        row = next;
    return row;
}

/* Adds a row when it is to be drawn; 0 when it cannot be. */
static int take_row(dregs_ensemble *made, unsigned row, unsigned questions, dregs_faults *faults)
{
    dregs_value value;
    dregs_drawn *drawn = &made->drawn[made->rows];

    if (dregs_line_value(made->line, row, &value) || !(value.sd > 0) ||
        !(dregs_line_row_used_by(made->line, row) & questions))
        return 1;
    drawn->row = row;
    drawn->shares = root_of(made->line, row);
    drawn->mean = value.si;
    drawn->sd = value.sd;
    if (!dregs_ensemble_fit(made->line, drawn, faults))
        return 0;
    made->rows++;
    return 1;
}

dregs_status dregs_ensemble_new(const dregs_line *line, unsigned questions, uint64_t seed,
                                dregs_ensemble **ensemble, dregs_faults *faults)
{
    unsigned rows = dregs_line_rows(line), row;
    dregs_ensemble *made = calloc(1, sizeof *made);
    int bad = 0;

    if (made)
        made->drawn = calloc(rows + 1, sizeof *made->drawn);
    if (!made || !made->drawn) {
        free(made);
        return DREGS_NO_MEMORY;
    }
    made->line = line;
    made->seed = seed;
    if (faults)
        snprintf(faults->file, sizeof faults->file, "%s", dregs_line_name(line));
    for (row = 1; row <= rows; row++)
        bad |= !take_row(made, row, questions, faults);
    if (bad) {
        dregs_ensemble_free(made);
        return DREGS_BAD_DATA;
    }
    *ensemble = made;
    return DREGS_OK;
}

void dregs_ensemble_free(dregs_ensemble *ensemble)
{
    if (ensemble)
        free(ensemble->drawn);
    free(ensemble);
}

const dregs_line *dregs_ensemble_line(const dregs_ensemble *ensemble)
{
    return ensemble->line;
}

uint64_t dregs_ensemble_seed(const dregs_ensemble *ensemble)
{
    return ensemble->seed;
}

unsigned dregs_ensemble_rows(const dregs_ensemble *ensemble)
{
    return ensemble->rows;
}

const dregs_drawn *dregs_ensemble_row(const dregs_ensemble *ensemble, unsigned index)
{
    return index < ensemble->rows ? &ensemble->drawn[index] : NULL;
}

double dregs_ensemble_z(const dregs_ensemble *ensemble, uint64_t draw, unsigned index)
{
    if (index >= ensemble->rows)
        return NAN;
    return gsl_cdf_ugaussian_Pinv(
        dregs_ensemble_uniform(ensemble->seed, draw, ensemble->drawn[index].shares));
}

double dregs_ensemble_at(const dregs_ensemble *ensemble, unsigned index, double z)
{
    return index < ensemble->rows ? dregs_ensemble_value(&ensemble->drawn[index], z) : NAN;
}

double dregs_ensemble_draw(const dregs_ensemble *ensemble, uint64_t draw, unsigned index)
{
    return dregs_ensemble_at(ensemble, index, dregs_ensemble_z(ensemble, draw, index));
}

dregs_status dregs_ensemble_drawn(const dregs_ensemble *ensemble, uint64_t draw, dregs_line **line,
                                  dregs_faults *faults)
{
    dregs_setting *settings = calloc(ensemble->rows + 1, sizeof *settings);
    dregs_status status;
    unsigned i;

    if (!settings)
        return DREGS_NO_MEMORY;
    for (i = 0; i < ensemble->rows; i++)
        settings[i] = (dregs_setting){.row = ensemble->drawn[i].row,
                                      .si = dregs_ensemble_draw(ensemble, draw, i)};
    status = dregs_line_with(ensemble->line, settings, ensemble->rows, line, faults);
    free(settings);
    return status;
}
