/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* doubt.c: are the readings such as the line can give at all? That is asked before they are judged.
 *
 * A reading is implausible where not even a line with a fifth or five times the drag-out and soil
 * of the file, and with a tenth or ten times of what its fresh liquid holds, would show it. When
 * most readings of a meter are, they teach nothing about drag-out: none of them is used, and where
 * one unit taken for another would bring them back, that is named.
 */
#include "line/line.h"
#include "reuse/inside.h"

#include <math.h>
#include <stdlib.h>

#define METER_ROOM    1.5  /* a factor at either end for the meter and its compensation */
#define FRESH_MOST    10.0 /* fresh liquid against what is stated: dirty, or better than its grade */
#define SLIP_NEAR     6.0  /* a unit is named when it brings the readings this near on average */
#define SLIP_INSIDE   0.8  /* and this share of them back among what the line can give */
#define LONE_NEAR     1.5  /* a lone reading: this near to what was expected of it */
#define ASSUMED_WORST 0.25 /* rms share left over where the scatter was only assumed to be 5 % */

/* Standard deviations that a row states count as a share of 1: a single reading of a coarse balance
 * is doubted when it is 3 of them off. */
#define STATED_ROOM 12.0

/* All thresholds are our own choice. */

struct envelope {
    double *middle, *least, *most; /* per reading, what its meter shows */
};

static dregs_status march_at(const dregs_reuse *reuse, double factor, double *expected)
{
    double q[Q_MOST] = {0};
    struct engine engine = {0};
    dregs_status status;
    unsigned i;

    for (i = 0; i < dregs_line_stages(reuse->line); i++)
        q[Q_STAGE + i] = log(factor);
    q[Q_SOIL] = q[Q_ADHERING] = log(factor);
    status = dregs_reuse_engine_at(reuse, &reuse->regime[0], q, &engine);
    if (!status)
        status = dregs_reuse_march(reuse, &engine, 0, reuse->count, expected);
    dregs_reuse_engine_clear(&engine);
    return status;
}

void dregs_reuse_fresh_shows(const dregs_reuse *reuse, const dregs_reading *reading, double *fresh,
                             double *pure)
{
    double held[DREGS_LINE_SOLUTES] = {0};
    const dregs_fluid *fluid = dregs_line_wet_with(reuse->line, reading->stage);
    unsigned s;

    *fresh = *pure = 0;
    (void)dregs_reuse_shown(reuse->line, reading->stage, reading->what, reading->which,
                            reading->temperature, held, pure, NULL);
    for (s = 0; s < dregs_line_solutes(reuse->line); s++)
        held[s] = fluid->content[s].si;
    if (dregs_reuse_shown(reuse->line, reading->stage, reading->what, reading->which,
                          reading->temperature, held, fresh, NULL))
        *fresh = *pure;
}

/* Where the file states nothing of a fresh liquid: the most that was read of it at load 0 or by
 * itself. What it states is known well enough to doubt such a reading by. */
static double blank(const dregs_reuse *reuse, const struct channel *meter)
{
    const dregs_fluid *fluid = dregs_line_wet_with(reuse->line, meter->stage);
    double most = -HUGE_VAL;
    unsigned s;
    size_t i;

    for (s = 0; s < dregs_line_solutes(reuse->line); s++)
        if (fluid->content[s].si > 0)
            return most;
    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if ((reading->fresh || reading->loads == 0) && reading->what == meter->what &&
            dregs_line_wet_with(reuse->line, reading->stage) == fluid)
            most = fmax(most, reading->value);
    }
    return most;
}

static void widen(const dregs_reuse *reuse, struct envelope *e)
{
    double blanks[CHANNELS_MOST];
    unsigned c;
    size_t i;

    for (c = 0; c < reuse->channels; c++)
        blanks[c] = blank(reuse, &reuse->channel[c]);
    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        double fresh, pure, low = fmin(e->least[i], e->most[i]),
                            high = fmax(e->least[i], e->most[i]);
        if (reading->what == DREGS_MEASURED_DUMP)
            continue;
        dregs_reuse_fresh_shows(reuse, reading, &fresh, &pure);
        fresh = fmax(fresh - pure, blanks[reuse->channel_of[i]] - pure);
        e->most[i] = (high + (FRESH_MOST - 1) * fresh) * METER_ROOM;
        e->least[i] = fmax(low - (1 - 1 / FRESH_MOST) * fresh, pure) / METER_ROOM;
    }
}

/* A line that loads would drag empty is none: a smaller factor then. */
static dregs_status span(const dregs_reuse *reuse, struct envelope *e)
{
    double factor = DREGS_REUSE_DOUBTFUL;
    dregs_status status = march_at(reuse, 1, e->middle);

    if (!status)
        status = march_at(reuse, 1 / factor, e->least);
    if (!status)
        status = march_at(reuse, factor, e->most);
    while (status == DREGS_NUMERIC && factor > 1.5) {
        factor = sqrt(factor);
        status = march_at(reuse, factor, e->most);
    }
    if (!status)
        widen(reuse, e);
    return status;
}

/* A calibration is not judged: its unit is that of the line file, and it ends where its points do.
 */
static int counts(const dregs_reuse *reuse, size_t i, unsigned channel)
{
    const dregs_reading *reading = dregs_readings_at(reuse->readings, i);

    return reading->what != DREGS_MEASURED_DUMP && reading->what != DREGS_MEASURED_SCALE &&
           reuse->channel_of[i] == channel && reuse->heard[i].heard != DREGS_HEARD_UNUSABLE;
}

static size_t is_inside(const dregs_reuse *reuse, const struct envelope *e, size_t i, double value)
{
    int beyond = dregs_readings_at(reuse->readings, i)->beyond;

    if (beyond)
        return beyond < 0 ? value >= e->least[i] : value <= e->most[i];
    /* a laboratory writes 0 for what it did not find, a balance less */
    if (value <= 0 && dregs_readings_at(reuse->readings, i)->what != DREGS_MEASURED_CONDUCTIVITY)
        return 1;
    return value >= e->least[i] && value <= e->most[i];
}

/* Readings of a meter from one to before another, in the unit of the first of them. */
struct stretch {
    unsigned channel, unit;
    size_t from, to;
};

/* Readings of a stretch, each times `factor`: how many there are, how many are such as the line can
 * give, and how far they are on average from what it gives by the file (a logarithm). */
struct fitting {
    size_t all, inside;
    double far;
};

static struct fitting fitting(const dregs_reuse *reuse, const struct envelope *e,
                              const struct stretch *of, double factor)
{
    struct fitting f = {0, 0, 0};
    size_t i;

    for (i = of->from; i < of->to; i++) {
        double value;
        if (!counts(reuse, i, of->channel) || !isfinite(e->middle[i]))
            continue;
        value = dregs_readings_at(reuse->readings, i)->value * factor;
        f.all++;
        f.inside += is_inside(reuse, e, i, value);
        f.far += log(fmax(value, 1e-12) / fmax(e->middle[i], 1e-12));
    }
    f.far /= f.all ? (double)f.all : 1.0;
    return f;
}

struct named_unit {
    const char *name;
    double si;
};

/* The units that are taken for one another: the one that `written` (its SI value) should have been
 * for readings `far` (a logarithm) off, or NULL. */
static const struct named_unit *units_of(dregs_measured what, size_t *count)
{
    static const struct named_unit conducts[] = {
        {"uS/cm", 1e-4}, {"mS/cm", 1e-1}, {"mS/m", 1e-3}, {"S/m", 1}};
    static const struct named_unit holds[] = {
        {"mg/L", 1e-3}, {"g/L", 1}, {"ug/L", 1e-6}, {"mg/100 mL", 1e-2}};

    static const struct named_unit left[] = {{"ug/cm2", 1e-5}, {"mg/cm2", 1e-2}, {"mg/m2", 1e-6}};

    if (what == DREGS_MEASURED_ON_PARTS) {
        *count = sizeof left / sizeof left[0];
        return left;
    }
    *count = what == DREGS_MEASURED_CONDUCTIVITY ? sizeof conducts / sizeof conducts[0]
                                                 : sizeof holds / sizeof holds[0];
    return what == DREGS_MEASURED_CONDUCTIVITY ? conducts : holds;
}

static double written_si(const dregs_reuse *reuse, unsigned unit)
{
    dregs_unit written;

    return dregs_readings_unit(reuse->readings, unit, &written)
               ? dregs_unit_to_si(written, 1) - dregs_unit_to_si(written, 0)
               : NAN;
}

/* The unit that brings the readings of a stretch back; NULL: none does. */
static const struct named_unit *slip(const dregs_reuse *reuse, const struct envelope *e,
                                     const struct stretch *of)
{
    double written = written_si(reuse, of->unit), best = log(SLIP_NEAR);
    const struct named_unit *found = NULL;
    size_t count, k;
    const struct named_unit *unit = units_of(reuse->channel[of->channel].what, &count);

    for (k = 0; k < count; k++) {
        struct fitting f = fitting(reuse, e, of, unit[k].si / written);
        if ((double)f.inside < SLIP_INSIDE * (double)f.all || !(fabs(f.far) < best))
            continue;
        best = fabs(f.far);
        found = &unit[k];
    }
    return found;
}

/* Is any of a meter's readings weighed? */
static int is_weighed(const dregs_reuse *reuse, unsigned channel)
{
    size_t i;

    for (i = 0; i < reuse->count; i++)
        if (dregs_readings_at(reuse->readings, i)->weighed && reuse->channel_of[i] == channel)
            return 1;
    return 0;
}

/* `far` is a logarithm; `meant` NULL: no unit explains it. */
static void say_doubt(dregs_reuse *reuse, dregs_doubt doubt, unsigned channel, double far,
                      const struct named_unit *meant, unsigned unit)
{
    dregs_reuse_outlook *answer = &reuse->answer;
    const struct channel *meter = &reuse->channel[channel];

    answer->doubt = doubt;
    answer->doubtful = doubt != DREGS_DOUBT_NONE;
    answer->doubt_stage = meter->stage;
    answer->doubt_what = meter->what;
    answer->doubt_which = meter->which;
    answer->doubt_unit = unit;
    answer->doubt_weighed = is_weighed(reuse, channel);
    answer->doubt_meant = meant ? meant->name : NULL;
    answer->doubt_times = meant ? written_si(reuse, unit) / meant->si : exp(far);
}

/* Most of a meter's readings are implausible. */
static int doubt_all(dregs_reuse *reuse, const struct envelope *e, unsigned channel)
{
    struct stretch all = {channel, reuse->channel[channel].unit, 0, reuse->count};
    struct fitting f = fitting(reuse, e, &all, 1);

    if (f.all == 0 || 2 * f.inside >= f.all)
        return 0;
    say_doubt(reuse, DREGS_DOUBT_IMPLAUSIBLE, channel, f.far, slip(reuse, e, &all), all.unit);
    return 1;
}

/* Some in a row are, and one unit explains them: what else is far off for a while is a change. One
 * is enough at the end of a log that is too short to set it aside. */
static int doubt_some(dregs_reuse *reuse, const struct envelope *e, unsigned channel)
{
    enum { IN_A_ROW = 2, SHORT = 3 };
    const struct stretch all = {channel, 0, 0, reuse->count};
    struct stretch some = {channel, 0, 0, 0};
    size_t i, in_a_row = 0, enough;
    int is_short = fitting(reuse, e, &all, 1).all < SHORT;

    for (i = 0; i <= reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reading && (!counts(reuse, i, channel) || !isfinite(e->middle[i])))
            continue;
        if (reading && !is_inside(reuse, e, i, reading->value)) {
            if (in_a_row++ == 0)
                some = (struct stretch){channel, reading->unit, i, i};
            some.to = i + 1;
            continue;
        }
        enough = is_short && i == reuse->count ? 1 : IN_A_ROW;
        if (in_a_row >= enough && slip(reuse, e, &some)) {
            say_doubt(reuse, DREGS_DOUBT_IMPLAUSIBLE, channel, 0, slip(reuse, e, &some), some.unit);
            reuse->answer.doubt_line = dregs_readings_at(reuse->readings, some.from)->line;
            return 1;
        }
        in_a_row = 0;
    }
    return 0;
}

static dregs_status doubt(dregs_reuse *reuse)
{
    double *room = malloc(3 * (reuse->count + 1) * sizeof *room);
    struct envelope e;
    dregs_status status;
    unsigned c;

    if (!room)
        return DREGS_NO_MEMORY;
    e = (struct envelope){room, room + reuse->count, room + 2 * reuse->count};
    status = span(reuse, &e);
    for (c = 0; c < reuse->channels && !status; c++)
        if (doubt_all(reuse, &e, c) || doubt_some(reuse, &e, c))
            break;
    free(room);
    /* a line that cannot be followed at all is for the fit to complain of */
    return status == DREGS_NO_MEMORY ? status : DREGS_OK;
}

/* Where the readings stand among the loads: nothing can be judged where that is wrong. */
static int doubt_place(dregs_reuse *reuse)
{
    const dregs_readings_count *counted = dregs_readings_counted(reuse->readings);

    if (counted->gap > 0)
        reuse->answer.doubt = DREGS_DOUBT_TIME;
    else if (counted->rush > 0)
        reuse->answer.doubt = DREGS_DOUBT_RUSH;
    else if (counted->went_on > 0 && counted->anew == 0)
        reuse->answer.doubt = DREGS_DOUBT_COUNT;
    else
        return 0;
    reuse->answer.doubtful = 1;
    return 1;
}

dregs_status dregs_reuse_doubt_first(dregs_reuse *reuse)
{
    dregs_status status = reuse->blind || doubt_place(reuse) ? DREGS_OK : doubt(reuse);
    size_t i;

    if (status || !reuse->answer.doubtful)
        return status;
    /* nothing is learnt of them: the line goes by its file */
    reuse->regime[0].after = reuse->regime[0].before;
    for (i = 0; i < reuse->count; i++)
        if (reuse->heard[i].heard == DREGS_HEARD_USED)
            reuse->heard[i].heard = DREGS_HEARD_IMPLAUSIBLE;
    return DREGS_OK;
}

/* The root mean square of what the fit leaves over at a meter, as shares of what it expects. */
static double left_over(const dregs_reuse *reuse, unsigned channel)
{
    const struct channel *meter = &reuse->channel[channel];
    double sum = 0;
    size_t i, count = 0;

    for (i = 0; i < reuse->count; i++) {
        const dregs_heard_reading *heard = &reuse->heard[i];
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        if (reading->what == DREGS_MEASURED_DUMP || reuse->channel_of[i] != channel ||
            heard->heard != DREGS_HEARD_USED || !isfinite(heard->expected) || reading->beyond)
            continue;
        sum += pow(
            (reading->value - heard->expected) /
                fmax(fmax(fabs(heard->expected - meter->clean), DREGS_LEAST_SHARE * meter->mean),
                     STATED_ROOM * fmax(reading->least, reading->sd)),
            2);
        count++;
    }
    return count ? sqrt(sum / (double)count) : 0.0;
}

/* More than a third of a meter's readings set aside: that many are no outliers. */
static int mostly_aside(const dregs_reuse *reuse, unsigned channel)
{
    size_t i, all = 0, aside = 0;

    for (i = 0; i < reuse->count; i++) {
        dregs_heard heard = reuse->heard[i].heard;
        if (heard == DREGS_HEARD_DUMP || reuse->channel_of[i] != channel)
            continue;
        all += heard != DREGS_HEARD_UNUSABLE;
        aside += heard == DREGS_HEARD_OUTLIER || heard == DREGS_HEARD_ALONE;
    }
    return all > 2 && 3 * aside > all;
}

/* A reading that stands alone: the unit that it was meant in, where that explains it. */
static void doubt_lone(dregs_reuse *reuse)
{
    size_t i, count, k;

    for (i = 0; i < reuse->count; i++) {
        const dregs_reading *reading = dregs_readings_at(reuse->readings, i);
        const dregs_heard_reading *heard = &reuse->heard[i];
        const struct named_unit *unit = units_of(reading->what, &count);
        double times = reading->value / heard->expected;
        if (heard->heard != DREGS_HEARD_ALONE || reading->what == DREGS_MEASURED_SCALE)
            continue;
        say_doubt(reuse, DREGS_DOUBT_NONE, reuse->channel_of[i], log(times), NULL, reading->unit);
        for (k = 0; k < count; k++) {
            double slipped = unit[k].si / written_si(reuse, reading->unit);
            if (fabs(log(slipped)) > log(LONE_NEAR) && /* the unit as written is no slip */
                fabs(log(times * slipped)) < log(LONE_NEAR))
                say_doubt(reuse, DREGS_DOUBT_NONE, reuse->channel_of[i], 0, &unit[k],
                          reading->unit);
        }
    }
}

void dregs_reuse_doubt_after(dregs_reuse *reuse)
{
    struct regime *last = &reuse->regime[reuse->regimes - 1];
    double drag_out;
    unsigned c;

    dregs_reuse_tell_factors(reuse, last);
    drag_out = log(last->about.drag_out.best);
    doubt_lone(reuse);
    for (c = 0; c < reuse->channels; c++) {
        const struct channel *meter = &reuse->channel[c];
        double share = meter->absolute ? meter->noise / meter->mean : meter->noise;
        double most = meter->assumed ? ASSUMED_WORST : DREGS_REUSE_SCATTER;
        if ((meter->freedom > 0 && share > DREGS_REUSE_SCATTER) || left_over(reuse, c) > most ||
            mostly_aside(reuse, c)) {
            say_doubt(reuse, DREGS_DOUBT_SCATTER, c, 0, NULL, meter->unit);
            return;
        }
    }
    if (fabs(drag_out) > log(DREGS_REUSE_DOUBTFUL))
        say_doubt(reuse, DREGS_DOUBT_DRAG_OUT, 0, drag_out, NULL, reuse->channel[0].unit);
}
