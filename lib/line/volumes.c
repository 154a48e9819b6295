/* SPDX-License-Identifier: GPL-3.0-or-later */
/* volumes.c: the balance of liquid volumes between loads (section "between loads" of
 * dregs-model(7)): what each tank gains by films, feeds and sprays, what evaporates, and from it
 * what overflows or is topped up.
 */
#include "line/inside.h"
#include "line/stage/stage.h"

#include <math.h>

/* Loss to the air of a liquid's open surface, kg/(m2 s), into air without its vapour.
 *   still air   1464 P M ug/(m2 h), P in Pa, M in g/mol: Mackay and van Wesenbeeck, Environ. Sci.
 *               Technol. 48 (2014) 10259
 *   moving air  2.1126e-6 U^0.78 M^(2/3) P / T: US EPA, Risk Management Program guidance, pool
 *               equation; never for still air */
static double surface_loss(double air_speed, double molar_mass, double vapour_pressure,
                           double temperature)
{
    double grams = molar_mass * 1e3;

    if (!(air_speed > 0))
        return 1464e-9 * vapour_pressure * grams / 3600.0;
    return 2.1126e-6 * pow(air_speed, 0.78) * pow(grams, 2.0 / 3.0) * vapour_pressure / temperature;
}

static dregs_status evaporation_of(dregs_line *line, unsigned index, double *rate,
                                   dregs_faults *faults)
{
    static const dregs_property wanted[3] = {DREGS_VAPOUR_PRESSURE, DREGS_MOLAR_MASS,
                                             DREGS_DENSITY};
    const dregs_stage *stage = &line->stages[index];
    const dregs_fluid *fluid = dregs_line_wet_with(line, index);
    double temperature = dregs_line_temperature(line, index), value[3];
    char message[DREGS_LIQUID_MESSAGE] = "", name[DREGS_QUOTED];
    int i;

    *rate = stage->evaporation.si;
    if (!stage->open_area.row || stage->open_area.si == 0)
        return DREGS_OK;
    if (fluid->solvent_share.si < 1)
        return dregs_fault_add(faults, DREGS_BAD_DATA, dregs_line_at(line, stage->open_area.row),
                               "the evaporation of %s cannot be computed: %s is a mixture; state "
                               "a measured evaporation",
                               dregs_quote(name, stage->name), fluid->name);
    for (i = 0; i < 3; i++)
        if (dregs_liquids_value(line->liquids, fluid->solvent, wanted[i], temperature, &value[i],
                                message))
            return dregs_fault_add(faults, DREGS_BAD_DATA,
                                   dregs_line_at(line, stage->open_area.row),
                                   "the evaporation of %s cannot be computed: %s",
                                   dregs_quote(name, stage->name), message);
    *rate = surface_loss(stage->air_speed.si, value[1], value[0], temperature) *
            stage->open_area.si * (1.0 - stage->covered.si) / value[2];
    if (!stage->air_speed.row)
        (void)dregs_line_note(line, 0, "%s: still air over its open surface", stage->name);
    if (!stage->temperature.row)
        (void)dregs_line_note(line, 0, "%s: 20 degC, for its evaporation", stage->name);
    return dregs_line_note(line, 0, "%s: no %s vapour in the room's air, for its evaporation",
                           stage->name, fluid->solvent);
}

static int tank_of(const dregs_line *line, dregs_link link)
{
    return link.kind == DREGS_LINK_STAGE ? line->stages[link.index].tank : -1;
}

/* Sets overflow or top-up of a tank, once all that flows to it or draws on it is known. */
static void settle(const dregs_line *line, dregs_tank *tanks, unsigned tank)
{
    dregs_tank *t = &tanks[tank];
    const dregs_stage *stage = &line->stages[t->stage];
    double surplus =
        t->flow + t->film_gain + t->runoff + t->overflow_in - t->evaporation - t->drawn;
    double turnover =
        t->flow + fabs(t->film_gain) + t->runoff + t->overflow_in + t->evaporation + t->drawn;
    int next;

    if (fabs(surplus) <= 1e-14 * turnover) /* rounding of sums that cancel */
        surplus = 0.0;
    if (surplus >= 0) {
        t->overflow = surplus;
        next = tank_of(line, stage->overflow_to);
        if (next >= 0)
            tanks[next].overflow_in += surplus;
    } else {
        t->top_up = -surplus;
        next = tank_of(line, stage->top_up_from);
        if (next >= 0)
            tanks[next].drawn += -surplus;
    }
}

/* Adds to the count of tanks that act on others: those its overflow and its top-up reach. */
static void count_reached(const dregs_line *line, unsigned tank, unsigned *waiting, int by)
{
    const dregs_stage *stage = &line->stages[line->tanks[tank].stage];
    int over = tank_of(line, stage->overflow_to), top = tank_of(line, stage->top_up_from);

    if (over >= 0)
        waiting[over] += (unsigned)by;
    if (top >= 0)
        waiting[top] += (unsigned)by;
}

/* Tanks in an order in which all that acts on one stands before it; there is no circle. */
static void settle_all(const dregs_line *line, dregs_tank *tanks)
{
    unsigned waiting[DREGS_LINE_STAGES] = {0}, done = 0, i;
    unsigned char settled[DREGS_LINE_STAGES] = {0};

    for (i = 0; i < line->tank_count; i++)
        count_reached(line, i, waiting, 1);
    while (done < line->tank_count)
        for (i = 0; i < line->tank_count; i++) {
            if (settled[i] || waiting[i])
                continue;
            settle(line, tanks, i);
            settled[i] = 1;
            done++;
            count_reached(line, i, waiting, -1);
        }
}

void dregs_line_idle(const dregs_line *line, int flow, dregs_tank *tanks)
{
    unsigned i;

    for (i = 0; i < line->tank_count; i++) {
        const dregs_tank *t = &line->tanks[i];
        tanks[i] = (dregs_tank){.stage = t->stage,
                                .volume = t->volume,
                                .flow = flow ? t->flow : 0.0,
                                .evaporation = t->evaporation};
    }
    settle_all(line, tanks);
}

static unsigned long common_divisor(unsigned long a, unsigned long b)
{
    while (b) {
        unsigned long rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

static dregs_status find_period(dregs_line *line, dregs_faults *faults)
{
    unsigned i;

    line->period = 1;
    for (i = 0; i < line->stage_count; i++) {
        const dregs_stage *stage = &line->stages[i];
        unsigned long every;
        if (!stage->dump_every.row)
            continue;
        every = (unsigned long)stage->dump_every.si;
        line->period = line->period / common_divisor(line->period, every) * every;
        if (line->period > DREGS_LINE_PERIOD)
            return dregs_fault_add(
                faults, DREGS_BAD_DATA, dregs_line_at(line, stage->dump_every.row),
                "with this one the dumps fall together again only after %lu loads; allowed are %d: "
                "choose numbers of loads with common factors",
                line->period, DREGS_LINE_PERIOD);
    }
    return DREGS_OK;
}

dregs_status dregs_line_balance_volumes(dregs_line *line, dregs_faults *faults)
{
    double interval = line->load.interval.si;
    dregs_status status = DREGS_OK, first = DREGS_OK;
    unsigned i;

    for (i = 0; i < line->stage_count; i++) {
        const dregs_stage *stage = &line->stages[i];
        const dregs_carried *carried = &line->carried[i];
        struct stage_volumes volumes;
        int to;
        dregs_stage_volumes(line, i, &volumes);
        to = tank_of(line, volumes.runoff_to);
        if (to >= 0)
            line->tanks[to].runoff += volumes.runoff / interval;
        if (stage->tank < 0)
            continue;
        line->tanks[stage->tank].film_gain += (carried->in - carried->out) / interval;
        if (line->tanks[stage->tank].stage != i)
            continue;
        line->tanks[stage->tank].flow = stage->flow.si;
        status = evaporation_of(line, i, &line->tanks[stage->tank].evaporation, faults);
        first = first ? first : status;
    }
    if (first)
        return first;
    settle_all(line, line->tanks);
    return find_period(line, faults);
}
