/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reuse_page.c: the answer of dregs-reuse for people. The verdict first, then what it rests on. */
#include "reuse.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *reading_text(struct readings_text *texts, const dregs_readings *readings,
                         dregs_measured what, int unit, double value)
{
    char number[DREGS_NUMBER_TEXT], *into = texts->text[texts->next++ % 6];
    const char *name;

    dregs_number_plain(number, dregs_reading_shown(readings, what, unit, value, &name), 4);
    snprintf(into, sizeof texts->text[0], "%s%s%.60s", number,
             *name && strcmp(name, "1") ? " " : "", strcmp(name, "1") ? name : "");
    return into;
}

const char *log_time(const dregs_readings *readings, double time, char into[DREGS_TIME_TEXT + 4])
{
    char text[DREGS_TIME_TEXT];

    snprintf(into, DREGS_TIME_TEXT + 4, "%s%s", dregs_time_text(text, time),
             dregs_readings_zoned(readings) ? "Z" : "");
    return into;
}

const char *quantity_name(const dregs_line *line, dregs_measured what, unsigned which,
                          char into[160])
{
    switch (what) {
    case DREGS_MEASURED_CONCENTRATION:
        snprintf(into, 160, "concentration %.80s", dregs_line_solute(line, which)->name);
        return into;
    case DREGS_MEASURED_CONDUCTIVITY:
        return "conductivity";
    case DREGS_MEASURED_RESIDUE:
        return "non-volatile residue";
    case DREGS_MEASURED_SCALE:
        return dregs_line_scale(line, which)->name;
    default:
        return "dump";
    }
}

const char *change_name(const dregs_line *line, int kind, int which, char into[160])
{
    switch (kind) {
    case DREGS_REGIME_DRAG_OUT:
        return "drag-out";
    case DREGS_REGIME_SOIL:
        return "soil on the parts";
    case DREGS_REGIME_CONTENT:
        return "content of the tank";
    case DREGS_REGIME_FLOW:
        snprintf(into, 160, "flow of %.80s", dregs_line_stage(line, (unsigned)which)->name);
        return into;
    default:
        snprintf(into, 160, "fresh %.80s", dregs_line_fluid(line, (unsigned)which)->name);
        return into;
    }
}

static const char *of_solute(const dregs_line *line, int solute, char into[96])
{
    into[0] = '\0';
    if (solute >= 0)
        snprintf(into, 96, " of %.80s", dregs_line_solute(line, (unsigned)solute)->name);
    return into;
}

/* "14", or what stands for no end */
static const char *loads_text(char into[24], uint64_t loads)
{
    if (loads == DREGS_REUSE_LOADS_MOST)
        return "no end";
    snprintf(into, 24, "%llu", (unsigned long long)loads);
    return into;
}

static const dregs_regime *last_regime(const struct reuse_pages *answer)
{
    return dregs_reuse_regime(answer->result->reuse,
                              dregs_reuse_regimes(answer->result->reuse) - 1);
}

void verdict_text(const struct reuse_pages *answer, char *into, size_t room)
{
    const dregs_reuse_outlook *a = answer->result->outlook;
    char low[24], high[24], solute[96];
    struct numbers n = {0};

    of_solute(answer->line, a->solute, solute);
    switch (answer->result->advice) {
    case DREGS_ADVICE_DUMP_UNSURE:
        snprintf(into, room,
                 "dump now: the next load may leave %s ug/cm2%s, limit %s to be met with %s %% "
                 "confidence",
                 number(&n, a->next_sure * UG_PER_CM2), solute, number(&n, a->limit * UG_PER_CM2),
                 number(&n, a->confidence * 100));
        break;
    case DREGS_ADVICE_DUMP:
        snprintf(into, room, "dump now: the next load leaves %s ug/cm2%s, limit %s",
                 number(&n, a->next * UG_PER_CM2), solute, number(&n, a->limit * UG_PER_CM2));
        break;
    case DREGS_ADVICE_DOUBTFUL:
        snprintf(into, room,
                 "measure again: the readings do not fit the line (drag-out %s times the file's at "
                 "best); is a dump without its row, a unit or the meter wrong?",
                 number(&n, last_regime(answer)->drag_out.best));
        break;
    case DREGS_ADVICE_ALONE:
        snprintf(
            into, room,
            "measure again: the last reading is far dirtier than the rows above it let expect");
        break;
    case DREGS_ADVICE_NO_END:
        snprintf(into, room, "use again: no end within %d loads (95 %%: %s to %s)",
                 DREGS_REUSE_LOADS_MOST, loads_text(low, a->low), loads_text(high, a->high));
        break;
    default:
        snprintf(into, room, "use again: %llu more load%s (95 %%: %s to %s)",
                 (unsigned long long)a->loads, a->loads == 1 ? "" : "s", loads_text(low, a->low),
                 loads_text(high, a->high));
    }
}

static void print_verdict(const struct reuse_pages *answer)
{
    const dregs_reuse_outlook *a = answer->result->outlook;
    char text[400], solute[96];
    struct numbers n = {0};

    verdict_text(answer, text, sizeof text);
    printf("%s\n", text);
    snprintf(text, sizeof text,
             "the next load leaves %s ug/cm2%s (95 %%: %s to %s), the limit is %s ug/cm2",
             number(&n, a->next * UG_PER_CM2), of_solute(answer->line, a->solute, solute),
             number(&n, a->next_low * UG_PER_CM2), number(&n, a->next_high * UG_PER_CM2),
             number(&n, a->limit * UG_PER_CM2));
    printf("  ");
    wrapped(text, 2, 4);
    if (!isnan(a->confidence))
        printf("  the loads are those that meet it with the %s %% confidence of the target\n",
               number(&n, a->confidence * 100));
}

/* Which tank, and how long a fill lasts. */
static void print_dump(const struct reuse_pages *answer)
{
    const dregs_reuse_outlook *a = answer->result->outlook;
    char fill[24], all[24], text[500];
    struct numbers n = {0};
    int used;

    if (a->stage < 0) {
        printf("  no dump of a tank in the log brings the next load below the limit\n");
        return;
    }
    used = snprintf(text, sizeof text,
                    "to dump then: %s, %llu load%s after its last fill; the next load would leave "
                    "%s ug/cm2, and the fill last %s%s",
                    dregs_line_stage(answer->line, (unsigned)a->stage)->name,
                    (unsigned long long)answer->result->age, a->since + a->loads == 1 ? "" : "s",
                    number(&n, a->after_dump * UG_PER_CM2), loads_text(fill, a->fill),
                    a->fill == DREGS_REUSE_LOADS_MOST ? " is seen" : " loads");
    if (a->dumped > 1 && used > 0 && (size_t)used < sizeof text)
        snprintf(text + used, sizeof text - (size_t)used,
                 "; with the %u tanks of the log dumped together, %s loads", a->dumped,
                 loads_text(all, a->fill_all));
    printf("  ");
    wrapped(text, 2, 4);
}

static void print_temperature(double temperature)
{
    struct numbers n = {0};

    if (isnan(temperature))
        printf("25 degC");
    else
        printf("%s degC", number(&n, temperature - 273.15));
}

static void print_readings(const struct reuse_pages *answer)
{
    const dregs_reuse_outlook *a = answer->result->outlook;
    struct readings_text texts = {{{0}}, 0};
    char name[160];
    unsigned i;
    int any = 0;

    for (i = 0; i < dregs_line_stages(answer->line); i++) {
        const dregs_dump_reading *at = &a->at[i];
        if (dregs_line_stage(answer->line, i)->tank < 0 || isnan(at->now) ||
            (!at->known && !at->own))
            continue;
        if (!any++) {
            printf("\nreadings\n  ");
            cell("stage", 18);
            cell("meter", 24);
            cell("now", -16);
            cell("when to dump", -18);
            printf("  shown at\n");
        }
        printf("  ");
        cell(dregs_line_stage(answer->line, i)->name, 18);
        cell(quantity_name(answer->line, at->what, at->which, name), 24);
        cell(reading_text(&texts, answer->readings, at->what, at->unit, at->now), -16);
        cell(at->known ? reading_text(&texts, answer->readings, at->what, at->unit, at->value)
                       : "-",
             -18);
        printf("  ");
        if (at->what == DREGS_MEASURED_CONDUCTIVITY)
            print_temperature(at->temperature);
        else
            printf("-");
        putchar('\n');
    }
}

/* What the reading at which to dump means for the parts. */
static void print_meaning(const struct reuse_pages *answer)
{
    const dregs_reuse_outlook *a = answer->result->outlook;
    const dregs_reuse_meaning *meaning = &answer->result->meaning;
    const dregs_dump_reading *at;
    struct readings_text texts = {{{0}}, 0};
    struct numbers n = {0};
    char text[500], solute[96];

    if (!meaning->known)
        return;
    at = &a->at[a->stage];
    snprintf(
        text, sizeof text,
        "at %s in %s, which is %s mg/L dissolved in all, the next load keeps %s ug/cm2%s, %s mg "
        "per part, when it has dried: %s %% "
        "of it out of the film that the last stage leaves, the rest soil that no stage took off",
        reading_text(&texts, answer->readings, at->what, at->unit, at->value),
        dregs_line_stage(answer->line, (unsigned)a->stage)->name,
        number(&n, at->dissolved * MG_PER_L), number(&n, a->limit * UG_PER_CM2),
        a->solute < 0 ? "" : of_solute(answer->line, a->solute, solute),
        number(&n, meaning->per_part * MG), number(&n, 100 * meaning->film_share));
    printf("  ");
    wrapped(text, 2, 4);
    if (meaning->water_in_air)
        printf(
            "  water that stands in air reads 1.0 to 1.1 uS/cm by the carbon dioxide it takes up "
            "(common\n    practice, no source): a meter cannot tell such a limit in an open "
            "tank\n");
}

static void print_factor(const char *name, const dregs_factor *factor, const char *file,
                         const dregs_factor *before)
{
    char text[400];
    struct numbers n = {0};

    snprintf(text, sizeof text,
             "%s times what %.100s says (95 %%: %s to %s; before the log: %s to %s)",
             number(&n, factor->best), file, number(&n, factor->low), number(&n, factor->high),
             number(&n, before->low), number(&n, before->high));
    printf("  ");
    cell(name, 20);
    wrapped(text, 22, 22);
}

static void print_estimates(const struct reuse_pages *answer)
{
    const dregs_reuse_basis *basis = dregs_reuse_rests_on(answer->result->reuse);
    unsigned last = dregs_reuse_regimes(answer->result->reuse) - 1;
    const dregs_regime *regime = dregs_reuse_regime(answer->result->reuse, last);
    struct readings_text texts = {{{0}}, 0};
    struct numbers n = {0};

    printf("\nwhat the readings say%s\n", last ? " since the last change" : "");
    print_factor("drag-out", &regime->drag_out, dregs_line_name(answer->line),
                 &answer->result->drag_out_before);
    print_factor("soil on the parts", &regime->soil, dregs_line_name(answer->line),
                 &answer->result->soil_before);
    printf("  ");
    cell("meter", 20);
    if (basis->noise_stated)
        printf("scatters as its rows state\n");
    else if (basis->noise_absolute)
        printf("scatters by %s, one standard deviation (from the log)\n",
               reading_text(&texts, answer->readings, basis->noise_what, (int)basis->noise_unit,
                            basis->noise));
    else
        printf("scatters by %s %% of the reading, one standard deviation (%s)\n",
               number(&n, basis->noise * 100),
               basis->noise_given ? "given"
               : basis->freedom   ? "from the log"
                                  : "assumed");
}

static void print_size(const struct reuse_pages *answer, const dregs_regime *regime)
{
    static const char *const signs[] = {"", ": it has failed", ": something got in",
                                        ": was it renewed?"};
    struct numbers n = {0};

    if (regime->kind == DREGS_REGIME_DIRTY)
        printf("holds %s mg/L more %s than stated (95 %%: %s to %s)",
               number(&n, regime->of.best * MG_PER_L),
               dregs_line_solute(answer->line, regime->solute)->name,
               number(&n, regime->of.low * MG_PER_L), number(&n, regime->of.high * MG_PER_L));
    else
        printf("%s times what %s (95 %%: %s to %s)", number(&n, regime->of.best),
               regime->kind == DREGS_REGIME_FLOW ? "the line file says" : "it was before",
               number(&n, regime->of.low), number(&n, regime->of.high));
    printf("%s\n", signs[dregs_reuse_sign_of(regime)]);
}

static void print_changes(const struct reuse_pages *answer)
{
    char when[DREGS_TIME_TEXT + 4], name[160];
    unsigned i;

    for (i = 1; i < dregs_reuse_regimes(answer->result->reuse); i++) {
        const dregs_regime *regime = dregs_reuse_regime(answer->result->reuse, i);
        const dregs_reading *first = dregs_readings_at(answer->readings, regime->first);
        const dregs_reading *found = dregs_readings_at(answer->readings, regime->found);
        if (i == 1)
            printf("\nchanges\n");
        printf("  line %lu (%s): %s ", first->line, log_time(answer->readings, first->time, when),
               change_name(answer->line, (int)regime->kind, regime->which, name));
        print_size(answer, regime);
        printf("    noticed at line %lu", found->line);
        if (regime->rival > DREGS_REGIME_FIRST)
            printf("; another %s would explain it as well",
                   change_name(answer->line, regime->rival, regime->rival_which, name));
        putchar('\n');
    }
}

static void print_outliers(const struct reuse_pages *answer)
{
    enum { MOST = 12 };
    struct readings_text texts = {{{0}}, 0};
    struct numbers n = {0};
    char name[160], text[600];
    size_t i, count = 0;

    for (i = 0; i < dregs_readings_kept(answer->readings); i++) {
        const dregs_heard_reading *heard = dregs_reuse_heard(answer->result->reuse, i);
        const dregs_reading *reading = dregs_readings_at(answer->readings, i);
        if (heard->heard != DREGS_HEARD_OUTLIER && heard->heard != DREGS_HEARD_ALONE)
            continue;
        if (count++ == 0)
            printf("\nset aside\n");
        if (count > MOST)
            continue;
        snprintf(text, sizeof text,
                 "line %lu: %s %s of %s, %s expected: %s standard deviations off%s", reading->line,
                 quantity_name(answer->line, reading->what, reading->which, name),
                 reading_text(&texts, answer->readings, reading->what, (int)reading->unit,
                              reading->value),
                 dregs_line_stage(answer->line, reading->stage)->name,
                 reading_text(&texts, answer->readings, reading->what, (int)reading->unit,
                              heard->expected),
                 number(&n, heard->off),
                 heard->heard == DREGS_HEARD_ALONE ? "; the last one: measure again" : "");
        printf("  ");
        wrapped(text, 2, 4);
    }
    if (count > MOST)
        printf("  and %zu more; --format csv lists all\n", count - MOST);
}

static void print_count(unsigned long long count, const char *what, unsigned long first)
{
    if (count)
        printf("  %llu %s (first: line %lu)\n", count, what, first);
}

void reuse_print_log(const dregs_readings *readings, size_t used, size_t unusable)
{
    const dregs_readings_count *c = dregs_readings_counted(readings);

    printf("\nthe log %s\n  %llu row%s, %zu reading%s used, %llu dump%s\n",
           dregs_readings_name(readings), c->rows, c->rows == 1 ? "" : "s", used,
           used == 1 ? "" : "s", c->dumps, c->dumps == 1 ? "" : "s");
    if (unusable)
        printf("  %zu that the meter cannot have shown: not used\n", unusable);
    print_count(c->missing, "without a value or a count of loads: passed over", c->first_missing);
    print_count(c->duplicate, "said before, word for word: passed over", c->first_duplicate);
    print_count(c->late, "out of order: put in the place that its time says", c->first_late);
    print_count(c->went_back, "where the count fell without a dump row: taken as a dump",
                c->first_went_back);
    print_count(c->went_on,
                "where the count is higher than at the dump row before it: taken as since that "
                "dump;\n    a running number belongs in a column 'load'",
                c->first_went_on);
    if (c->gone)
        printf("  %llu of the oldest rows read and let go: the answer rests on the last ones\n",
               c->gone);
}

static void print_assumed(const struct reuse_pages *answer)
{
    const char *note;
    unsigned i;

    for (i = 0; (note = dregs_reuse_assumed(answer->result->reuse, i)) != NULL; i++) {
        if (i == 0)
            printf("\nassumed\n");
        printf("  ");
        wrapped(note, 2, 4);
    }
    for (i = 0; (note = dregs_line_assumed(answer->line, i)) != NULL; i++)
        printf("  %s\n", note);
}

int reuse_page_text(const struct reuse_pages *answer)
{
    print_verdict(answer);
    print_dump(answer);
    print_readings(answer);
    print_meaning(answer);
    print_estimates(answer);
    print_changes(answer);
    print_outliers(answer);
    reuse_print_log(answer->readings, dregs_reuse_rests_on(answer->result->reuse)->used,
                    dregs_reuse_rests_on(answer->result->reuse)->unusable);
    print_assumed(answer);
    page_cautions(answer->line);
    return FRONT_DONE;
}
