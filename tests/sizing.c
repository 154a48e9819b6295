/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sizing.c: a line sized, what stands in the way being a failed test. */
#include "sizing.h"
#include "check_main.h"

#include <string.h>

struct sizing sizing;
const dregs_criterion sizing_ever = {DREGS_CRITERION_EVER, 0};

dregs_varied sizing_vary(const char *stage, const char *property, double low, double high)
{
    dregs_varied varied;

    memset(&varied, 0, sizeof varied);
    varied.stage[0] = stage;
    varied.stages = 1;
    varied.property = property;
    varied.low = low;
    varied.high = high;
    return varied;
}

dregs_compliance sizing_compliance(const char *bytes, dregs_criterion criterion)
{
    dregs_line *line = lines_read(bytes);
    dregs_compliance compliance;

    ck_assert_int_eq(dregs_size_compliance(line, criterion, &compliance), DREGS_OK);
    lines_free(line);
    return compliance;
}

/* Prepares and sizes; the test fails when that is refused. */
void sizing_line(const dregs_line *line, dregs_varied *varied, unsigned count,
                 dregs_criterion criterion, int by_cost, dregs_sized *sized)
{
    unsigned i;

    memset(sized, 0, sizeof *sized);
    for (i = 0; i < count; i++)
        ck_assert_msg(!dregs_size_prepare(line, &varied[i], sizing.message), "%s", sizing.message);
    ck_assert_msg(!dregs_size(line, varied, count, criterion, by_cost, sized, sizing.message), "%s",
                  sizing.message);
    ck_assert_ptr_nonnull(sized->text);
    ck_assert_uint_eq(sized->length, strlen(sized->text));
}

void sizing_text(const char *bytes, dregs_varied *varied, unsigned count, int by_cost,
                 dregs_sized *sized)
{
    dregs_line *line = lines_read(bytes);

    sizing_line(line, varied, count, sizing_ever, by_cost, sized);
    lines_free(line);
}
