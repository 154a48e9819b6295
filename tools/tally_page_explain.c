/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_page_explain.c: how every stream of a tally comes about. */
#include "explain.h"
#include "tally.h"

#include <math.h>
#include <stdio.h>

#define LPH 3.6e6 /* m3/s */

static void explain_calendar(const struct tally_page *page)
{
    const dregs_line *line = page->one->line;
    const dregs_tally *tally = page->one->tally;
    const dregs_calendar *c = dregs_tally_calendar(tally);
    const dregs_schedule *s = dregs_line_schedule(line);
    struct numbers n = {0};
    unsigned m;

    printf("1. Time\n");
    given(line, "interval T", dregs_line_load(line)->interval.si / 60, "min",
          dregs_line_load(line)->interval.row, "");
    if (!c || page->request->span.span == DREGS_SPAN_LOADS) {
        printf("    %llu loads, one after another\n",
               (unsigned long long)dregs_tally_loads(tally, DREGS_WHOLE));
        return;
    }
    given(line, "loads per shift", (double)c->loads_per_shift, "", s->loads_per_shift.row, "");
    given(line, "shifts per day", (double)c->shifts_per_day, "", s->shifts_per_day.row, "");
    given(line, "days per year", (double)c->days_per_year, "", s->days_per_year.row, "");
    given(line, "shift length", c->shift / 3600, "h", s->shift_length.row,
          "assumed: loads per shift x T");
    printf("    rest of a shift, flows on, no loads = %s h\n", fig(&n, c->shift_rest / 3600));
    printf("    idle time behind a day = 365 x 24 h / days - shifts x length = %s h, flows %s",
           fig(&n, c->idle / 3600), c->idle_flow ? "on" : "off, and filters with them");
    printf("  [%s]\n", c->idle_flow_stated ? "idle flow of the schedule" : "assumed");
    if (dregs_tally_periods(tally) == 1)
        return;
    printf("    a month ends at day days x (calendar days so far) / 365, to the nearest:");
    for (m = 1; m <= DREGS_MONTHS; m++)
        printf(" %llu", (unsigned long long)dregs_calendar_days_before(c, m));
    printf("\n");
}

static void explain_rates(const struct tally_page *page)
{
    const dregs_line *line = page->one->line;
    const dregs_calendar *c = dregs_tally_calendar(page->one->tally);
    dregs_tank idle[DREGS_LINE_STAGES];
    struct numbers n = {0};
    unsigned t;
    int flow;

    printf("\n2. Volume rates of each tank while loads pass\n");
    for (t = 0; t < dregs_line_tanks(line); t++)
        explain_tank(line, t);
    if (!c || page->request->span.span == DREGS_SPAN_LOADS)
        return;
    printf("\n3. Volume rates while none passes: no films and no sprays, evaporation goes on\n");
    for (flow = 1; flow >= 0; flow--) {
        if (flow ? !(c->shift_rest > 0) && !c->idle_flow : c->idle_flow)
            continue;
        dregs_line_idle(line, flow, idle);
        printf("  flows %s\n", flow ? "on" : "off");
        for (t = 0; t < dregs_line_tanks(line); t++)
            printf("    %s: flow %s, evaporation %s, overflow %s, top-up %s L/h\n",
                   dregs_line_stage(line, idle[t].stage)->name, fig(&n, idle[t].flow * LPH),
                   fig(&n, idle[t].evaporation * LPH), fig(&n, idle[t].overflow * LPH),
                   fig(&n, idle[t].top_up * LPH));
    }
}

/* How each stream is integrated. */
static const char *const ways[DREGS_STREAM_HELD_FIRST] = {
    [DREGS_STREAM_FILLED] = "volume x fresh content",
    [DREGS_STREAM_FED] = "flow x feed's content x time",
    [DREGS_STREAM_TOPPED] = "top-up rate x content x time",
    [DREGS_STREAM_REFILLED] = "volume x fresh content, at each dump",
    [DREGS_STREAM_SPRAYED] = "use x content, per load",
    [DREGS_STREAM_SOIL] = "removal x what adheres, per load",
    [DREGS_STREAM_DRAINED] = "overflow / V x integral of the tank's content",
    [DREGS_STREAM_RUNOFF] = "f + l S - f_out, per load",
    [DREGS_STREAM_DUMPED] = "the tank's content at each dump",
    [DREGS_STREAM_CLEARED] = "clearing / V x integral of the tank's content",
    [DREGS_STREAM_EVAPORATED] = "evaporation / V x integral of the tank's content",
    [DREGS_STREAM_DRIED] = "(1 - blow-off) x film, per load",
    [DREGS_STREAM_BLOWN_OFF] = "blow-off x film, per load",
    [DREGS_STREAM_COLLECTED] = "blow-off x film, per load",
    [DREGS_STREAM_LEFT] = "last film, per load",
    [DREGS_STREAM_PASSED] = "film, per load",
    [DREGS_STREAM_HANDED] = "overflow / V x integral of the tank's content",
    [DREGS_STREAM_DRAWN] = "top-up rate / V x integral of the giving tank's content",
    [DREGS_STREAM_MOVED] = "volume taken / V x the giving tank's content, at each dump",
    [DREGS_STREAM_CAUGHT] = "f + l S - f_out, per load"};

static void explain_stage(const struct tally_page *page, unsigned stage)
{
    const dregs_line *line = page->one->line;
    const dregs_tally *tally = page->one->tally;
    unsigned i;
    int stream;

    printf("  %s\n", dregs_line_stage(line, stage)->name);
    for (stream = 0; stream < DREGS_STREAM_HELD_FIRST; stream++) {
        struct numbers n = {0};
        int any = 0;
        for (i = 0; i < dregs_line_fluids(line) + dregs_line_solutes(line); i++) {
            unsigned fluids = dregs_line_fluids(line);
            double value =
                i < fluids
                    ? dregs_tally_fluid(tally, (dregs_stream)stream, i, stage, DREGS_WHOLE) * 1e3
                    : dregs_tally_solute(tally, (dregs_stream)stream, i - fluids, stage,
                                         DREGS_WHOLE) *
                          1e3;
            if (fabs(value) < 1e-15)
                continue;
            if (!any++)
                printf("    %s = %s:\n     ", dregs_stream_name((dregs_stream)stream),
                       ways[stream]);
            printf(" %s %s %s;", fig(&n, value), i < fluids ? "L" : "g",
                   i < fluids ? dregs_line_fluid(line, i)->name
                              : dregs_line_solute(line, i - fluids)->name);
        }
        if (any)
            printf("\n");
    }
}

static void explain_closure(const dregs_tally_one *one)
{
    unsigned i;

    printf("\n5. Closure: held before + in - held after - out, relative to the larger side\n");
    for (i = 0; i < dregs_line_fluids(one->line); i++) {
        struct numbers n = {0};
        printf("    %s: %s\n", dregs_line_fluid(one->line, i)->name,
               fig(&n, dregs_tally_residual_fluid(one->tally, i, DREGS_WHOLE)));
    }
    for (i = 0; i < dregs_line_solutes(one->line); i++) {
        struct numbers n = {0};
        printf("    %s: %s\n", dregs_line_solute(one->line, i)->name,
               fig(&n, dregs_tally_residual_solute(one->tally, i, DREGS_WHOLE)));
    }
}

static void explain_costs(const dregs_tally_one *one)
{
    dregs_tally_cost cost = dregs_tally_costs(one->tally, DREGS_WHOLE);
    struct numbers n = {0};
    unsigned i;

    printf(
        "\n6. Cost: liquid bought at its price; drained, run off, blown off and dumped volumes at\n"
        "   the disposal of the fresh liquid of the stage they leave\n");
    for (i = 0; i < dregs_line_fluids(one->line); i++) {
        const dregs_fluid *fluid = dregs_line_fluid(one->line, i);
        printf("  %s\n", fluid->name);
        if (fluid->price.row)
            given(one->line, "price", fluid->price.si, "per m3", fluid->price.row, "");
        if (fluid->disposal.row)
            given(one->line, "disposal", fluid->disposal.si, "per m3", fluid->disposal.row, "");
    }
    if (isnan(cost.total))
        printf("    no liquid in use states a price\n");
    else
        printf("    bought %s + waste %s = %s %s\n", fig(&n, cost.bought), fig(&n, cost.disposal),
               fig(&n, cost.total), one->currency);
}

static void explain_assumed(const dregs_tally_one *one)
{
    unsigned i, k;

    printf("\n7. Assumed, because the file does not state it\n");
    for (i = 0; dregs_tally_assumed(one->tally, i); i++)
        printf("    %s\n", dregs_tally_assumed(one->tally, i));
    for (k = 0; dregs_line_assumed(one->line, k); k++)
        printf("    %s\n", dregs_line_assumed(one->line, k));
    if (i + k == 0)
        printf("    nothing beyond the defaults marked above\n");
}

int tally_page_explain(const struct tally_page *page)
{
    const dregs_tally_one *one = page->one;
    unsigned i;

    explain_calendar(page);
    explain_rates(page);
    printf("\n4. Streams: what each stage's come to. Contents follow the map of a load, the exact\n"
           "   solution dm/dt = G m + feed between loads and in idle time, and the dumps; their\n"
           "   integrals come from the same solution. Liquids are carried like solutes that fill "
           "the\n   tank: what a load brings or takes of it flows off or in until the next one.\n");
    for (i = 0; i < dregs_line_stages(one->line); i++)
        explain_stage(page, i);
    explain_closure(one);
    explain_costs(one);
    explain_assumed(one);
    tally_law_explain(page);
    tally_actual_explain(page);
    page_cautions(one->line);
    return FRONT_DONE;
}
