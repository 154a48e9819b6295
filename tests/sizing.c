/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* sizing.c: a line sized, what stands in the way being a failed test. */
#include "sizing.h"
#include "check_main.h"

#include <string.h>

struct sizing sizing;
const dregs_criterion sizing_ever = {DREGS_CRITERION_EVER, 0};

struct sizing_varied sizing_vary(const char *stage, const char *property, double low, double high)
{
    return (struct sizing_varied){stage, property, low, high};
}

int sizing_range(const dregs_line *line, struct sizing_varied *varied)
{
    dregs_varied *tried = dregs_varied_new(line);
    int good = !dregs_varied_add(tried, varied->property, &varied->stage, 1, varied->low,
                                 varied->high, sizing.message);

    if (good) {
        varied->low = dregs_varied_low(tried, 0);
        varied->high = dregs_varied_high(tried, 0);
    }
    dregs_varied_free(tried);
    return good;
}

dregs_compliance sizing_compliance(const char *bytes, dregs_criterion criterion)
{
    dregs_line *line = lines_read(bytes);
    dregs_compliance compliance;

    ck_assert_int_eq(dregs_size_compliance(line, criterion, &compliance), DREGS_OK);
    lines_free(line);
    return compliance;
}

dregs_sized *sizing_line(const dregs_line *line, const struct sizing_varied *varied, unsigned count,
                         dregs_criterion criterion, int by_cost)
{
    dregs_varied *made = dregs_varied_new(line);
    dregs_sized *sized = NULL;
    size_t length;
    unsigned i;

    for (i = 0; i < count; i++)
        ck_assert_msg(!dregs_varied_add(made, varied[i].property, &varied[i].stage, 1,
                                        varied[i].low, varied[i].high, sizing.message),
                      "%s", sizing.message);
    ck_assert_msg(!dregs_size(made, criterion, by_cost, &sized, sizing.message), "%s",
                  sizing.message);
    ck_assert_ptr_nonnull(dregs_sized_text(sized, &length));
    ck_assert_uint_eq(length, strlen(dregs_sized_text(sized, NULL)));
    return sized;
}

dregs_sized *sizing_text(const char *bytes, const struct sizing_varied *varied, unsigned count,
                         int by_cost)
{
    dregs_line *line = lines_read(bytes);
    dregs_sized *sized = sizing_line(line, varied, count, sizing_ever, by_cost);

    lines_free(line);
    return sized;
}

void sizing_free(dregs_sized *sized)
{
    dregs_varied *varied = (dregs_varied *)dregs_sized_varied(sized);

    dregs_sized_free(sized);
    dregs_varied_free(varied);
}
