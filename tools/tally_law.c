/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_law.c: the tally of a line put into the forms that regulations ask for.
 *
 * Every mass is one of the tally; here it only gets the name that a regulation gives it. What the
 * file and --given do not decide is asked for.
 */
#include "tally_law.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TRACE 1e-9 /* a share of a waste below which a liquid counts as absent: rounding */

/* ---- what --given states ---- */

void law_given_none(struct law_given *given)
{
    memset(given, 0, sizeof *given);
    given->chamber = given->captured = given->destroyed = NAN;
    given->solid_waste = given->other_waste = NAN;
}

/* One of the words, from 1; 0 and a message for none. */
static int word_of(const char *key, const char *text, const char *const *words, int *into)
{
    char list[160] = "";
    size_t used = 0;
    int i;

    for (i = 0; words[i]; i++) {
        if (strcmp(text, words[i]) == 0) {
            *into = i + 1;
            return 0;
        }
        used += (size_t)snprintf(list + used, sizeof list - used, "%s%s", i ? ", " : "", words[i]);
    }
    return front_usage("--given %s: '%s' is none of %s", key, text, list);
}

static int quantity_of(const char *key, const char *text, const char *like, double low, double high,
                       double *into)
{
    char message[DREGS_UNIT_MESSAGE];
    double si;

    if (dregs_quantity_read(text, like, &si, message))
        return front_usage("--given %s: '%s': %s", key, text, message);
    if (!(si >= low) || !(si <= high))
        return front_usage("--given %s: '%s' is out of its range", key, text);
    *into = si;
    return 0;
}

/* STAGE.flash point=T; whether there is such a stage shows once the line is read. */
static int take_flash(struct law_given *given, const char *argument, size_t key, const char *value)
{
    static const char tail[] = ".flash point";
    size_t length = key - (sizeof tail - 1);

    if (given->flashes >= LAW_FLASHES_MOST)
        return front_usage("--given: more than %d flash points", LAW_FLASHES_MOST);
    given->flash[given->flashes].stage = argument;
    given->flash[given->flashes].length = length;
    return quantity_of("flash point", value, "degC", 150, 1000,
                       &given->flash[given->flashes++].kelvin);
}

int law_given_take(struct law_given *given, const char *argument)
{
    static const char *const machines[] = {"batch vapour", "existing in-line", "new in-line",
                                           "no interface", "batch cold",       NULL};
    static const char *const activities[] = {"article 59(5)", "other", NULL};
    static const char *const drains[] = {"sewer", "waste", NULL};
    const char *equals = strchr(argument, '='), *value = equals ? equals + 1 : "";
    size_t length = equals ? (size_t)(equals - argument) : 0;
    char key[64];
    int machine = 0, status;

    snprintf(key, sizeof key, "%.*s", (int)(length < 63 ? length : 63), argument);
    if (strcmp(key, "machine") == 0) {
        status = word_of(key, value, machines, &machine);
        given->machine = (enum law_machine_kind)machine;
        return status;
    }
    if (strcmp(key, "activity") == 0)
        return word_of(key, value, activities, &given->activity);
    if (strcmp(key, "drain") == 0)
        return word_of(key, value, drains, &given->drain);
    if (strcmp(key, "chamber") == 0)
        return quantity_of(key, value, "m3", 1e-6, 1e6, &given->chamber);
    if (strcmp(key, "captured") == 0)
        return quantity_of(key, value, "%", 0, 1, &given->captured);
    if (strcmp(key, "destroyed") == 0)
        return quantity_of(key, value, "%", 0, 1, &given->destroyed);
    if (strcmp(key, "solid waste") == 0)
        return quantity_of(key, value, "kg", 0, 1e9, &given->solid_waste);
    if (strcmp(key, "other waste") == 0)
        return quantity_of(key, value, "kg", 0, 1e9, &given->other_waste);
    if (length > 12 && strncmp(equals - 12, ".flash point", 12) == 0)
        return take_flash(given, argument, length, value);
    return front_usage("--given '%s' is none of machine, chamber, activity, captured, destroyed, "
                       "drain, solid waste, other waste, STAGE.flash point, with =VALUE",
                       argument);
}

/* ---- small things ---- */

static void ask(struct tally_law *law, const char *format, ...) DREGS_FORMAT(2, 3);

/* Adds a question, once. */
static void ask(struct tally_law *law, const char *format, ...)
{
    char text[LAW_ASKED_ROOM];
    va_list arguments;
    unsigned i;

    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    for (i = 0; i < law->asked_count; i++)
        if (strcmp(law->asked[i], text) == 0)
            return;
    if (law->asked_count == law->asked_room) {
        unsigned room = law->asked_room ? 2 * law->asked_room : 16;
        char(*bigger)[LAW_ASKED_ROOM] = realloc(law->asked, room * sizeof *bigger);
        if (!bigger) {
            law->failed = 1;
            return;
        }
        law->asked = bigger;
        law->asked_room = room;
    }
    memcpy(law->asked[law->asked_count++], text, sizeof text);
}

static double known(const struct tally_law *law, const char *liquid, dregs_property property)
{
    double value = NAN;

    (void)dregs_liquids_value(dregs_line_liquids(law->line), liquid, property, 293.15, &value,
                              NULL);
    return value;
}

/* kg of a solvent, or of all with `solvent` DREGS_WHOLE, in several streams */
static double mass(const dregs_tally *tally, const dregs_stream *streams, unsigned count,
                   unsigned solvent, unsigned stage, unsigned period)
{
    double sum = 0;
    unsigned i, k;

    for (i = 0; i < count; i++) {
        if (solvent != DREGS_WHOLE) {
            sum += dregs_tally_solvent(tally, streams[i], solvent, stage, period);
            continue;
        }
        for (k = 0; dregs_tally_solvent_name(tally, k); k++)
            sum += dregs_tally_solvent(tally, streams[i], k, stage, period);
    }
    return sum;
}

#define COUNT(list)            (unsigned)(sizeof(list) / sizeof(list)[0])
#define MASS(tally, list, ...) mass(tally, list, COUNT(list), __VA_ARGS__)

static const dregs_stream added[] = {DREGS_STREAM_FILLED, DREGS_STREAM_FED, DREGS_STREAM_TOPPED,
                                     DREGS_STREAM_REFILLED, DREGS_STREAM_SPRAYED};
static const dregs_stream to_air[] = {DREGS_STREAM_EVAPORATED, DREGS_STREAM_DRIED};
static const dregs_stream to_drain[] = {DREGS_STREAM_DRAINED, DREGS_STREAM_RUNOFF,
                                        DREGS_STREAM_BLOWN_OFF};
static const dregs_stream to_waste[] = {DREGS_STREAM_DUMPED};
static const dregs_stream held_first[] = {DREGS_STREAM_HELD_FIRST};
static const dregs_stream held_last[] = {DREGS_STREAM_HELD_LAST};

/* What was put in, less what stands in the tanks at the end: a fill that is still there has not
 * been used. */
static double used_up(const dregs_tally *tally, unsigned solvent, unsigned period)
{
    return MASS(tally, added, solvent, DREGS_WHOLE, period) +
           MASS(tally, held_first, solvent, DREGS_WHOLE, period) -
           MASS(tally, held_last, solvent, DREGS_WHOLE, period);
}

/* kg of a solvent (DREGS_WHOLE: of all) in a stream of a stage that a still gives back: the tally
 * says how much of the tank's own liquid in both, dumps and drain. */
static double reclaimed(const dregs_tally *t, unsigned solvent, unsigned stage, dregs_stream stream,
                        unsigned period)
{
    const dregs_line *line = dregs_tally_line(t);
    double sum = 0;
    unsigned f;

    for (f = 0; f < dregs_line_fluids(line); f++) {
        const dregs_fluid *fluid = dregs_line_fluid(line, f);
        double back = dregs_tally_reclaimed(t, f, stage, period), share = 1;
        double here = dregs_tally_fluid(t, stream, f, stage, period);
        double both = dregs_tally_fluid(t, DREGS_STREAM_DUMPED, f, stage, period) +
                      dregs_tally_fluid(t, DREGS_STREAM_DRAINED, f, stage, period);
        if (!(back > 0) || (stream != DREGS_STREAM_DUMPED && stream != DREGS_STREAM_DRAINED))
            continue;
        if (solvent != DREGS_WHOLE)
            share = strcmp(dregs_tally_solvent_name(t, solvent), fluid->solvent) == 0
                        ? fluid->solvent_share.si
                    : strcmp(dregs_tally_solvent_name(t, solvent), "water") == 0
                        ? 1 - fluid->solvent_share.si
                        : 0;
        sum += back * here / both * dregs_tally_density(t, f) * share;
    }
    return sum;
}

/* The same of all stages. */
static double reclaimed_of_all(const dregs_tally *t, unsigned solvent, dregs_stream stream)
{
    double sum = 0;
    unsigned i;

    for (i = 0; i < dregs_line_stages(dregs_tally_line(t)); i++)
        sum += reclaimed(t, solvent, i, stream, DREGS_WHOLE);
    return sum;
}

/* Rounding may leave a hair below nothing. */
static double not_below(double value, double scale)
{
    return value < 0 && value > -1e-9 * scale ? 0 : value;
}

const dregs_tally *tally_year_of(const struct tally_answer *answer, dregs_tally **own,
                                 char message[DREGS_TALLY_MESSAGE])
{
    const dregs_tally *tally = answer->one[0].tally;
    dregs_tally_request request = {DREGS_SPAN_YEAR, 0, answer->request->span.running};

    if (tally && dregs_tally_periods(tally) == DREGS_MONTHS)
        return tally;
    return dregs_tally_new(answer->one[0].line, &request, own, message) ? NULL : *own;
}

/* ---- solvents: what they count as, what they could emit ---- */

/* Does the liquid that a tank is filled with hold the solvent? */
static int holds(const dregs_fluid *fluid, const char *solvent)
{
    if (strcmp(solvent, "water") == 0 && fluid->solvent_share.si < 1)
        return 1;
    return strcmp(fluid->solvent, solvent) == 0;
}

/* Open surface of the tanks filled with a solvent; NaN where one of them does not state it. */
static double open_area(const struct tally_law *law, const char *solvent)
{
    double area = 0;
    unsigned i;

    for (i = 0; i < dregs_line_tanks(law->line); i++) {
        unsigned at = dregs_line_tank(law->line, i)->stage;
        if (holds(dregs_line_wet_with(law->line, at), solvent))
            area += dregs_line_stage(law->line, at)->open_area.si;
    }
    return area;
}

static void judge_solvent(struct tally_law *law, struct law_solvent *s)
{
    const dregs_regulations *r = law->regulations;

    s->voc = dregs_regulations_find(r, s->name, "51.100(s)");
    s->pollutant = dregs_regulations_find(r, s->name, "112(b)");
    s->listed = dregs_regulations_find(r, s->name, "261.31");
    s->subpart = dregs_regulations_find(r, s->name, "subpart T");
    s->article = dregs_regulations_find(r, s->name, "59(5)");
    s->vapour_pressure = known(law, s->name, DREGS_VAPOUR_PRESSURE);
    s->eu_voc = dregs_law_eu_volatile(s->vapour_pressure);
    if (!s->voc)
        ask(law, "is %s on the list of exemptions from VOC? 40 CFR 51.100(s)", s->name);
    if (s->eu_voc < 0)
        ask(law,
            "vapour pressure of %s at 293.15 K, by a row of a table of liquids (--liquids): is it "
            "volatile in the Union? It is in no solvent plan here until then",
            s->name);
}

static void add_potential(struct tally_law *law, struct law_solvent *s)
{
    double seconds = dregs_tally_seconds(law->around, DREGS_WHOLE), rate;

    s->potential = s->cold = NAN;
    s->emitted = law->year ? MASS(law->year, to_air, s->index, DREGS_WHOLE, DREGS_WHOLE) : NAN;
    rate = MASS(law->around, to_air, s->index, DREGS_WHOLE, DREGS_WHOLE) / seconds;
    (void)dregs_law_potential(rate, &s->potential);
    if (s->emitted > s->potential) /* idle tanks evaporate too, and loads carry a solvent away */
        s->potential = s->emitted;
    s->open_area = open_area(law, s->name);
    if (!dregs_law_cold_loss(s->open_area, &rate))
        (void)dregs_law_potential(rate, &s->cold);
    if (isnan(s->potential))
        ask(law, "density of %s or of a liquid with it at 20 degC, which is not on record",
            s->name);
}

static void fill_solvents(struct tally_law *law)
{
    const char *name;
    unsigned i, count = 0;

    while (dregs_tally_solvent_name(law->around, count))
        count++;
    law->solvent = calloc(count + 1, sizeof *law->solvent);
    law->machine = calloc(count + 1, sizeof *law->machine);
    if (!law->solvent || !law->machine) {
        law->failed = 1;
        return;
    }
    for (i = 0; i < count; i++) {
        struct law_solvent *s = &law->solvent[law->solvents];
        name = dregs_tally_solvent_name(law->around, i);
        if (strcmp(name, "water") == 0)
            continue;
        s->name = name;
        s->index = i;
        judge_solvent(law, s);
        add_potential(law, s);
        law->solvents++;
    }
}

/* ---- European Union ---- */

static double share_or(double share, double otherwise)
{
    return isnan(share) ? otherwise : share;
}

/* Adds a solvent's streams of the year to a plan. */
static void add_to_plan(const struct tally_law *law, dregs_law_plan *plan, unsigned solvent)
{
    const dregs_tally *t = law->year;
    double air = MASS(t, to_air, solvent, DREGS_WHOLE, DREGS_WHOLE);
    double from_dumps = reclaimed_of_all(t, solvent, DREGS_STREAM_DUMPED);
    double from_drain = reclaimed_of_all(t, solvent, DREGS_STREAM_DRAINED);
    double drain = MASS(t, to_drain, solvent, DREGS_WHOLE, DREGS_WHOLE) - from_drain;
    double captured = air * share_or(law->given->captured, 0);
    double destroyed = captured * share_or(law->given->destroyed, 0);
    double in = used_up(t, solvent, DREGS_WHOLE) - from_dumps - from_drain;

    plan->i1 += not_below(in, fabs(in) + air + drain);
    plan->i2 += from_dumps + from_drain;
    plan->o1 += captured - destroyed;
    plan->o5 += destroyed;
    plan->o4 += air - captured;
    if (law->given->drain == 2)
        plan->o6 += drain;
    else
        plan->o2 += drain;
    plan->o6 += MASS(t, to_waste, solvent, DREGS_WHOLE, DREGS_WHOLE) - from_dumps;
}

static dregs_law_verdict judge_plan(const struct law_plan *plan, const dregs_law_band *band)
{
    if (isnan(band->fugitive))
        return DREGS_LAW_EXCLUDED;
    if (plan->result.share <= band->fugitive)
        return DREGS_LAW_YES;
    return plan->bound ? DREGS_LAW_ASK : DREGS_LAW_NO;
}

/* What would decide a plan's limit. Of several activities only one that fits is asked about. */
static void ask_plan(struct tally_law *law, const struct law_plan *plan)
{
    unsigned k, open = 0;

    for (k = 0; k < 2; k++)
        open += plan->met[k] == DREGS_LAW_ASK && (!plan->activity_known || plan->activity == k);
    if (open && isnan(law->given->captured))
        ask(law, "share of the vapour that is captured and led out (O1, O5): --given "
                 "captured=SHARE, and of that what is destroyed: --given destroyed=SHARE. Until "
                 "then all of it counts as fugitive");
    if (open && law->given->drain == 0 && plan->plan.o2 > 0)
        ask(law, "where the solvent in the drain goes: --given drain=sewer (O2) or drain=waste "
                 "(O6). Until then it counts as lost in water");
    if (!plan->activity_known && (plan->met[0] != plan->met[1] || open))
        ask(law, "hazard statements of the solvents of the plan: --given 'activity=article 59(5)' "
                 "(H340, H350, H350i, H360D, H360F, or halogenated with H341 or H351) or "
                 "activity=other");
}

static void work_plan(struct tally_law *law, struct law_plan *plan)
{
    unsigned k;

    plan->bound = isnan(law->given->captured) || (law->given->drain == 0 && plan->plan.o2 > 0);
    if (dregs_law_plan_work(&plan->plan, &plan->result)) {
        plan->used = 0;
        return;
    }
    for (k = 0; k < 2; k++) {
        (void)dregs_law_band_of((dregs_law_activity)k, fmax(plan->result.consumption, 0),
                                &plan->band[k]);
        plan->met[k] = judge_plan(plan, &plan->band[k]);
    }
    ask_plan(law, plan);
}

static void fill_plans(struct tally_law *law)
{
    unsigned i;

    for (i = 0; i < law->solvents; i++) {
        const struct law_solvent *s = &law->solvent[i];
        struct law_plan *plan = &law->plan[s->article || law->given->activity == 1 ? 0 : 1];
        if (s->eu_voc != 1)
            continue;
        plan->used = 1;
        add_to_plan(law, &plan->plan, s->index);
    }
    law->plan[0].activity = DREGS_LAW_CLEANING_59_5;
    law->plan[0].activity_known = 1;
    law->plan[1].activity = DREGS_LAW_CLEANING_OTHER;
    law->plan[1].activity_known = law->given->activity == 2;
    for (i = 0; i < 2; i++)
        if (law->plan[i].used)
            work_plan(law, &law->plan[i]);
}

/* ---- US solvent cleaning machines ---- */

static void find_limit(struct tally_law *law, struct law_machine *m)
{
    enum law_machine_kind kind = law->given->machine;

    m->limit = NAN;
    if (kind == LAW_MACHINE_NO_INTERFACE) {
        if (dregs_law_no_interface_limit(law->given->chamber, &m->limit))
            ask(law, "volume of the cleaning chamber of the machine without an air interface: "
                     "--given 'chamber=0.1 m3'");
    } else if (kind >= LAW_MACHINE_BATCH_VAPOUR && kind <= LAW_MACHINE_IN_LINE_NEW)
        m->limit = dregs_law_machine_limit((dregs_law_machine)(kind - LAW_MACHINE_BATCH_VAPOUR));
    else if (kind == LAW_MACHINE_UNKNOWN)
        ask(law, "the kind of solvent cleaning machine: --given 'machine=batch vapour', 'existing "
                 "in-line', 'new in-line', 'no interface' or 'batch cold'");
}

static void fill_months(struct tally_law *law, struct law_machine *m)
{
    unsigned p;
    unsigned s = m->solvent->index;

    m->worst = NAN;
    for (p = 0; p < LAW_MONTHS; p++) {
        double in = used_up(law->year, s, p);
        double out = MASS(law->year, to_waste, s, DREGS_WHOLE, p) +
                     MASS(law->year, to_drain, s, DREGS_WHOLE, p);
        dregs_law_month month = {not_below(in, fabs(in) + out), out,
                                 share_or(law->given->solid_waste, 0)};
        m->month[p] = m->rolling[p] = NAN;
        (void)dregs_law_machine_month(&month, m->area, &m->month[p]);
        if (p >= 2)
            (void)dregs_law_rolling(&m->month[p - 2], &m->rolling[p]);
        m->worst = fmax(m->worst, m->rolling[p]);
    }
}

static void fill_machines(struct tally_law *law)
{
    unsigned i;

    for (i = 0; i < law->solvents && law->year; i++) {
        struct law_machine *m = &law->machine[law->machines];
        if (!dregs_law_halogenated(law->solvent[i].name))
            continue;
        law->machines++;
        m->solvent = &law->solvent[i];
        m->area = law->given->machine == LAW_MACHINE_NO_INTERFACE ? 1.0 : law->solvent[i].open_area;
        if (!(m->area > 0)) {
            m->area = NAN;
            ask(law,
                "open area of every tank with %s, a row of the line file, or --given 'machine=no "
                "interface'",
                m->solvent->name);
        }
        if (isnan(law->given->solid_waste))
            ask(law, "solvent in the month's solid waste (SSR): --given 'solid waste=3 kg'. Until "
                     "then none is taken off, and the emission is the most it can be");
        find_limit(law, m);
        fill_months(law, m);
        m->met = isnan(m->limit) || isnan(m->worst) ? DREGS_LAW_ASK
                 : m->worst <= m->limit             ? DREGS_LAW_YES
                 : isnan(law->given->solid_waste)   ? DREGS_LAW_ASK
                                                    : DREGS_LAW_NO;
    }
}

/* ---- US hazardous waste ---- */

static const dregs_fluid *fresh_of(const struct tally_law *law, unsigned stage)
{
    const dregs_fluid *fluid = dregs_line_wet_with(law->line, stage);

    while (!fluid && stage > 0) /* an air knife blows off the film of the stage before */
        fluid = dregs_line_wet_with(law->line, --stage);
    return fluid;
}

static int is_alcohol(const char *solvent)
{
    return strcmp(solvent, "isopropanol") == 0 || strcmp(solvent, "ethanol") == 0 ||
           strcmp(solvent, "methanol") == 0;
}

/* Alcohol by volume and water by mass among the liquids of a waste; the only solvent, where there
 * is but one. Volumes are taken to add. */
static const char *compose(const struct tally_law *law, struct law_waste *w)
{
    double all = 0, water = 0, volume = 0, alcohol = 0;
    const char *name, *only = NULL;
    unsigned k, kinds = 0, foreign = 0;

    for (k = 0; dregs_tally_solvent_name(law->year, k); k++)
        all += dregs_tally_solvent(law->year, w->stream, k, w->stage, DREGS_WHOLE);
    for (k = 0; (name = dregs_tally_solvent_name(law->year, k)) != NULL; k++) {
        double kg = dregs_tally_solvent(law->year, w->stream, k, w->stage, DREGS_WHOLE);
        if (!(kg > TRACE * all))
            continue;
        kinds++;
        only = name;
        volume += kg / known(law, name, DREGS_DENSITY);
        if (strcmp(name, "water") == 0)
            water = kg;
        else if (is_alcohol(name))
            alcohol += kg / known(law, name, DREGS_DENSITY);
        else
            foreign++;
    }
    w->water = kinds == 1 && water > 0 ? 1 : water / all;
    w->alcohol = foreign ? NAN : alcohol / volume;
    return kinds == 1 ? only : NULL;
}

static double stated_flash(const struct tally_law *law, const char *stage)
{
    unsigned i;

    for (i = 0; i < law->given->flashes; i++)
        if (strlen(stage) == law->given->flash[i].length &&
            strncmp(stage, law->given->flash[i].stage, law->given->flash[i].length) == 0)
            return law->given->flash[i].kelvin;
    return NAN;
}

const char *law_waste_leaves(const struct law_waste *waste)
{
    return waste->stream == DREGS_STREAM_DUMPED      ? "dumped from"
           : waste->stream == DREGS_STREAM_RUNOFF    ? "run off from"
           : waste->stream == DREGS_STREAM_BLOWN_OFF ? "blown off in"
                                                     : "drained from";
}

static void judge_ignitable(struct tally_law *law, struct law_waste *w)
{
    const char *stage = dregs_line_stage(law->line, w->stage)->name, *only = compose(law, w);
    dregs_law_waste waste;

    w->flash = stated_flash(law, stage);
    w->flash_from = "stated";
    if (isnan(w->flash) && only) {
        w->flash = known(law, only, DREGS_FLASH_POINT);
        w->flash_from = only;
    }
    waste = (dregs_law_waste){w->flash, w->alcohol, w->water};
    w->ignitable = dregs_law_ignitable(&waste);
    if (w->ignitable == DREGS_LAW_ASK)
        ask(law, "flash point of the waste %s %s, closed cup: --given '%s.flash point=18 degC'",
            law_waste_leaves(w), stage, stage);
}

/* The solvent's share by volume in the liquid that the tank was filled with; NaN when it came from
 * elsewhere. */
static double share_before(const struct tally_law *law, const dregs_fluid *fluid,
                           const char *solvent)
{
    double share = fluid->solvent_share.si, own, other;

    if (strcmp(fluid->solvent, solvent) != 0)
        return NAN;
    if (!(share < 1))
        return 1;
    own = share / known(law, solvent, DREGS_DENSITY);
    other = (1 - share) / known(law, "water", DREGS_DENSITY);
    return own / (own + other);
}

static void add_code(struct law_waste *w, const char *code)
{
    size_t used = strlen(w->codes);

    if (!strstr(w->codes, code))
        snprintf(w->codes + used, sizeof w->codes - used, "%s%s", used ? " " : "", code);
}

static void judge_listed(struct tally_law *law, struct law_waste *w)
{
    const char *stage = dregs_line_stage(law->line, w->stage)->name;
    const dregs_fluid *fluid = fresh_of(law, w->stage);
    unsigned i;

    w->listed = DREGS_LAW_NO;
    for (i = 0; i < law->solvents; i++) {
        const struct law_solvent *s = &law->solvent[i];
        double all = mass(law->year, &w->stream, 1, DREGS_WHOLE, w->stage, DREGS_WHOLE);
        double kg = dregs_tally_solvent(law->year, w->stream, s->index, w->stage, DREGS_WHOLE);
        double share = share_before(law, fluid, s->name);
        const char *code = s->listed ? s->listed->code : NULL;
        dregs_law_verdict verdict;
        if (!(kg > TRACE * all))
            continue;
        verdict =
            code && strcmp(code, "no F-code") == 0 ? DREGS_LAW_NO : dregs_law_listed(code, share);
        if (verdict == DREGS_LAW_YES)
            add_code(w, code);
        if (verdict == DREGS_LAW_YES || w->listed == DREGS_LAW_NO)
            w->listed = verdict;
        if (verdict != DREGS_LAW_ASK)
            continue;
        if (!code)
            ask(law, "is spent %s on the lists F001 to F005? No row is on record: 40 CFR 261.31",
                s->name);
        else
            ask(law,
                "the waste %s %s holds %s (%s) %s: whether it is listed is a matter of the mixture "
                "rule, 40 CFR 261.3, and of the authority",
                law_waste_leaves(w), stage, s->name, code,
                isnan(share) ? "that came from another tank" : "in a mixture");
    }
}

static void judge_waste(struct tally_law *law, struct law_waste *w)
{
    judge_ignitable(law, w);
    judge_listed(law, w);
    if (w->ignitable == DREGS_LAW_YES)
        add_code(w, "D001");
    w->hazardous = DREGS_LAW_NO;
    if (w->ignitable == DREGS_LAW_ASK || w->listed == DREGS_LAW_ASK)
        w->hazardous = DREGS_LAW_ASK;
    if (w->ignitable == DREGS_LAW_YES || w->listed == DREGS_LAW_YES)
        w->hazardous = DREGS_LAW_YES;
}

/* With what is dissolved in it. */
static double waste_mass(const struct tally_law *law, const struct law_waste *w, unsigned period)
{
    double sum = mass(law->year, &w->stream, 1, DREGS_WHOLE, w->stage, period);
    unsigned i;

    for (i = 0; i < dregs_line_solutes(law->line); i++)
        sum += dregs_tally_solute(law->year, w->stream, i, w->stage, period);
    return sum;
}
static void add_waste(struct tally_law *law, unsigned stage, dregs_stream stream)
{
    struct law_waste *w = &law->waste[law->wastes];
    unsigned p;

    if (dregs_tally_volume(law->year, stream, stage, DREGS_WHOLE) == 0)
        return;
    law->wastes++;
    w->stage = stage;
    w->stream = stream;
    w->drain = stream != DREGS_STREAM_DUMPED;
    w->year = waste_mass(law, w, DREGS_WHOLE);
    w->back_year = reclaimed(law->year, DREGS_WHOLE, stage, stream, DREGS_WHOLE);
    for (p = 0; p < LAW_MONTHS; p++) {
        w->month[p] = waste_mass(law, w, p);
        w->back[p] = reclaimed(law->year, DREGS_WHOLE, stage, stream, p);
    }
    if (isnan(w->year))
        ask(law, "density at 20 degC of what is %s %s, which is not on record", law_waste_leaves(w),
            dregs_line_stage(law->line, stage)->name);
    judge_waste(law, w);
    if (w->back_year > 0 && w->hazardous != DREGS_LAW_NO)
        ask(law, "how much of the reclaimed solvent counts towards the generator's category: once "
                 "a month, not each time it is used again (40 CFR 262.13, from memory). Until then "
                 "it is listed as not decided");
}

/* What counts towards the category of a month. A drain counts when it is collected as waste; one
 * of which that is not known leaves the month open, and so does what a still gives back. */
static void count_month(struct tally_law *law, unsigned p)
{
    struct law_month *m = &law->month[p];
    unsigned i;

    m->sure = share_or(law->given->other_waste, 0);
    for (i = 0; i < law->wastes; i++) {
        const struct law_waste *w = &law->waste[i];
        if (w->hazardous == DREGS_LAW_NO || (w->drain && law->given->drain == 1))
            continue;
        if (w->hazardous == DREGS_LAW_YES && (!w->drain || law->given->drain == 2))
            m->sure += w->month[p] - w->back[p], m->open += w->back[p];
        else
            m->open += w->month[p];
    }
    (void)dregs_law_generator_of(m->sure, &m->least);
    m->most = DREGS_LAW_LQG; /* where a mass is not known */
    (void)dregs_law_generator_of(m->sure + m->open, &m->most);
}

static void fill_wastes(struct tally_law *law)
{
    unsigned stages = dregs_line_stages(law->line), i, k, drains = 0;

    law->waste = calloc((size_t)stages * (1 + COUNT(to_drain)) + 1, sizeof *law->waste);
    if (!law->waste) {
        law->failed = 1;
        return;
    }
    for (i = 0; i < stages; i++) {
        add_waste(law, i, DREGS_STREAM_DUMPED);
        for (k = 0; k < COUNT(to_drain); k++)
            add_waste(law, i, to_drain[k]);
    }
    for (i = 0; i < law->wastes; i++)
        drains += law->waste[i].drain && law->waste[i].hazardous != DREGS_LAW_NO;
    if (drains && law->given->drain == 0)
        ask(law, "does the drain lead to the sewer or to collected waste? --given drain=sewer or "
                 "drain=waste");
    if (law->wastes && isnan(law->given->other_waste))
        ask(law, "hazardous waste from elsewhere on the site: --given 'other waste=30 kg' a month. "
                 "Until then the category is that of this line alone");
    if (law->wastes)
        ask(law, "corrosivity, reactivity and toxicity of every waste, and acute waste: 40 CFR "
                 "261.22 to 261.24 and 261.33. No line file tells them");
    for (i = 0; i < LAW_MONTHS; i++)
        count_month(law, i);
}

/* ---- all of it ---- */

/* Every flash point given must be one of a stage. */
static int check_given(const struct tally_law *law)
{
    unsigned i, k;

    for (i = 0; i < law->given->flashes; i++) {
        for (k = 0; k < dregs_line_stages(law->line); k++) {
            const char *name = dregs_line_stage(law->line, k)->name;
            if (strlen(name) == law->given->flash[i].length &&
                strncmp(name, law->given->flash[i].stage, law->given->flash[i].length) == 0)
                break;
        }
        if (k == dregs_line_stages(law->line))
            return front_usage("--given '%s': the line has no such stage",
                               law->given->flash[i].stage);
    }
    return FRONT_DONE;
}

/* A year of loads around the clock. */
static int fill_around(struct tally_law *law)
{
    double loads = DREGS_LAW_YEAR_HOURS * 3600.0 / dregs_line_load(law->line)->interval.si;
    dregs_tally_request request = {DREGS_SPAN_LOADS, 0, 0};
    char message[DREGS_TALLY_MESSAGE] = "";
    dregs_status status;

    if (!(loads < (double)DREGS_LOADS_MOST))
        return front_say(FRONT_BAD_DATA, "%s: more loads in a year than can be counted",
                         dregs_line_name(law->line));
    request.loads = loads < 1 ? 1 : (uint64_t)(loads + 0.5);
    status = dregs_tally_new(law->line, &request, &law->around, message);
    if (status)
        return front_say(status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s: %s",
                         dregs_line_name(law->line),
                         *message ? message : dregs_status_text(status));
    return FRONT_DONE;
}

int tally_law_fill(struct tally_law *law, const struct tally_answer *answer,
                   const struct law_given *given)
{
    char message[DREGS_TALLY_MESSAGE] = "";
    int status;

    law->given = given;
    law->line = answer->one[0].line;
    law->regulations = dregs_regulations_new();
    if (!law->regulations)
        return front_say(FRONT_IO, "out of memory");
    status = check_given(law);
    if (!status)
        status = fill_around(law);
    if (status)
        return status;
    law->year = tally_year_of(answer, &law->own_year, message);
    fill_solvents(law);
    if (law->year && !law->failed) {
        fill_plans(law);
        fill_machines(law);
        fill_wastes(law);
    } else if (!law->failed)
        ask(law, "a schedule, for all that goes by month or year: %s", message);
    return law->failed ? front_say(FRONT_IO, "out of memory") : FRONT_DONE;
}

void tally_law_clear(struct tally_law *law)
{
    dregs_tally_free(law->own_year);
    dregs_tally_free(law->around);
    dregs_regulations_free(law->regulations);
    free(law->solvent);
    free(law->machine);
    free(law->waste);
    free(law->asked);
}
