/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size.c: dregs-size, the rinsing that meets a line's target. */
#include "size.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum option { VARY, STAGES, LAYOUT, STEADY, LOADS, AT, WRITE, CHECK, FORMAT, EXPLAIN, LIQUIDS };

static const struct front_option options[] = {
    [VARY] = {"vary", "S.P[=A..B]", "size property P of stage S, between A and B; may be repeated"},
    [STAGES] = {"stages", "A..B", "replace the rinses by A to B equal ones, in every layout"},
    [LAYOUT] = {"layout", "NAME", "with --stages: this layout only"},
    [STEADY] = {"steady", NULL, "judge the periodic state alone"},
    [LOADS] = {"loads", "N", "judge the worst of the first N loads"},
    [AT] = {"at", "LOAD", "judge load number LOAD alone"},
    [WRITE] = {"write", "FILE", "write the line file with the answer put in"},
    [CHECK] = {"check", NULL, "exit 1 when the target cannot be met"},
    [FORMAT] = {"format", "FORMAT", "text (default), csv or json"},
    [EXPLAIN] = {"explain", NULL, "show the working: range, trials, formulas, sources"},
    [LIQUIDS] = {"liquids", "FILE", "property rows that replace or add to the built-in ones"},
};

static const struct front_tool tool = {
    "dregs-size", "LINE",
    "Finds the rinsing that meets a line's target with the least liquid. LINE is a line file, or - "
    "for standard input.",
    options, sizeof options / sizeof options[0]};

static int add_varied(struct size_request *request, const char *text)
{
    size_t length = strcspn(text, "="), dot = length;
    dregs_varied *varied = &request->varied[request->count];
    char *names;

    if (request->count >= DREGS_VARIED_MOST)
        return front_usage("--vary more than %d times", DREGS_VARIED_MOST);
    while (dot > 0 && text[dot - 1] != '.')
        dot--;
    if (dot < 2 || dot == length)
        return front_usage("--vary '%s' is not STAGE.PROPERTY or STAGE.PROPERTY=MIN..MAX", text);
    names = malloc(strlen(text) + 2);
    if (!names)
        return front_say(FRONT_IO, "out of memory");
    /* the stage and the property, each ended by NUL, one after the other */
    snprintf(names, dot, "%.*s", (int)(dot - 1), text);
    snprintf(names + dot, length - dot + 1, "%.*s", (int)(length - dot), text + dot);
    request->names[request->count] = names;
    request->vary_text[request->count] = text;
    varied->stage[0] = names;
    varied->stages = 1;
    varied->property = names + dot;
    varied->low = varied->high = NAN;
    request->count++;
    return 0;
}

static int take_stages(struct size_request *request, const char *text)
{
    char first[24];
    const char *dots = strstr(text, "..");
    size_t length = dots ? (size_t)(dots - text) : strlen(text);
    uint64_t a, b;

    snprintf(first, sizeof first, "%.*s", (int)(length < 23 ? length : 23), text);
    a = front_count(first);
    b = dots ? front_count(dots + 2) : a;
    if (!a || !b || a > b || b > RANGE_MOST)
        return front_usage("--stages '%s' is not a range like 1..6, of 1 to %d", text, RANGE_MOST);
    request->first = (unsigned)a;
    request->last = (unsigned)b;
    return 0;
}

static int take_layout(struct size_request *request, const char *text)
{
    int i;

    for (i = 0; i < DREGS_LAYOUTS; i++)
        if (strcmp(dregs_layout_name((dregs_layout)i), text) == 0) {
            request->layout = i;
            return 0;
        }
    return front_usage("--layout '%s' is not one of counterflow, separate feeds, dumped together, "
                       "passed down, spray after drain, recovery to wash",
                       text);
}

static int take_judging(struct size_request *request, enum option option, const char *argument)
{
    if (request->judging.by != DREGS_JUDGE_EVER)
        return front_usage("--steady, --loads and --at exclude each other");
    if (option == STEADY) {
        request->judging.by = DREGS_JUDGE_STEADY;
        return 0;
    }
    request->judging.by = option == LOADS ? DREGS_JUDGE_FIRST : DREGS_JUDGE_LOAD;
    request->judging.loads = front_count(argument);
    return request->judging.loads ? 0
                                  : front_usage("--%s '%s' is not a number from 1 to 2^%d",
                                                options[option].name, argument, DREGS_LOADS_BITS);
}

static int take(void *user, size_t option, const char *argument)
{
    struct size_request *request = user;

    switch ((enum option)option) {
    case VARY:
        return add_varied(request, argument);
    case STAGES:
        return take_stages(request, argument);
    case LAYOUT:
        return take_layout(request, argument);
    case STEADY:
    case LOADS:
    case AT:
        return take_judging(request, (enum option)option, argument);
    case WRITE:
        request->write_file = argument;
        return 0;
    case CHECK:
        request->check = 1;
        return 0;
    case EXPLAIN:
        request->explain = 1;
        return 0;
    case LIQUIDS:
        request->liquids_file = argument;
        return 0;
    default:
        return front_format(argument, &request->format);
    }
}

static int check_request(const struct size_request *request)
{
    if (!request->count == !request->first)
        return front_usage("one of --vary and --stages is needed");
    if (request->layout >= 0 && !request->first)
        return front_usage("--layout goes with --stages");
    if (request->write_file && request->first &&
        (request->layout < 0 || request->first != request->last))
        return front_usage("--write with --stages needs one layout: --layout NAME --stages N");
    return front_check(request->file, request->liquids_file, request->format, request->explain);
}

/* One end of a range, the other one beside it; the unit may stand at the other end alone. */
static int read_end(const char *own, const char *other, const char *like, double *si)
{
    static const char number[] = "0123456789.+-eE ";
    char joined[256], message[DREGS_UNIT_MESSAGE];
    const char *unit = other + strspn(other, number);

    if (!dregs_quantity_read(own, like, si, message))
        return 0;
    if (!*unit && !own[strspn(own, number)])
        return front_usage("--vary: the range %s..%s has no unit; add one such as %s", own, other,
                           like);
    if (own[strspn(own, number)])
        unit = "";
    snprintf(joined, sizeof joined, "%s%s%s", own, *unit ? " " : "", unit);
    if (!dregs_quantity_read(joined, like, si, message))
        return 0;
    return front_usage("--vary: '%s': %s", own, message);
}

/* The range behind "=", once the line tells which unit is meant. */
static int read_range(const char *text, dregs_varied *varied, const char *like)
{
    const char *range = strchr(text, '='), *dots;
    char low[128], high[128];

    if (!range)
        return 0;
    range++;
    dots = strstr(range, "..");
    if (!dots || dots == range || !dots[2])
        return front_usage("--vary '%s': the range is not MIN..MAX", text);
    snprintf(low, sizeof low, "%.*s", (int)(dots - range < 127 ? dots - range : 127), range);
    snprintf(high, sizeof high, "%s", dots + 2);
    if (read_end(low, high, like, &varied->low) || read_end(high, low, like, &varied->high))
        return FRONT_USAGE;
    if (!(varied->low <= varied->high))
        return front_usage("--vary '%s': the range is empty", text);
    return 0;
}

/* What the file states for a property now; NaN when it states nothing. */
static double stated(const dregs_line *line, const dregs_varied *varied)
{
    unsigned i;
    double value;

    for (i = 1; i <= dregs_line_rows(line); i++) {
        const dregs_row *row = dregs_line_row(line, i);
        dregs_unit unit;
        if (strcmp(row->item, varied->stage[0]) == 0 &&
            strcmp(row->property, varied->property) == 0 &&
            !dregs_number_read(row->value, &value) && !dregs_unit_read(row->unit, &unit, NULL))
            return dregs_unit_to_si(unit, value);
    }
    return NAN;
}

static int prepare(struct size_request *request, struct size_answer *answer)
{
    unsigned i, k;
    int status;

    for (i = 0; i < request->count; i++) {
        dregs_varied *varied = &request->varied[i], probe = *varied;
        if (dregs_size_prepare(answer->line, &probe, answer->message))
            return front_usage("--vary '%s': %s", request->vary_text[i], answer->message);
        status = read_range(request->vary_text[i], varied, probe.unit);
        if (status)
            return status;
        if (dregs_size_prepare(answer->line, varied, answer->message))
            return front_usage("--vary '%s': %s", request->vary_text[i], answer->message);
        for (k = 0; k < i; k++)
            if (strcmp(request->names[k], request->names[i]) == 0 &&
                strcmp(request->varied[k].property, varied->property) == 0)
                return front_usage("--vary '%s' twice", request->vary_text[i]);
        answer->before[i] = stated(answer->line, varied);
    }
    return 0;
}

/* Drag-out, tanks and number of the rinses of a line: those after its last wash. */
static void measure(const dregs_line *line, struct size_row *row)
{
    unsigned i, s, last = (unsigned)dregs_line_last_wet(line);
    const dregs_fluid *fluid = dregs_line_wet_with(line, last);

    row->stages = 0;
    row->volume = 0;
    for (i = last + 1; i > 0 && dregs_line_stage(line, i - 1)->kind != DREGS_WASH; i--) {
        const dregs_stage *stage = dregs_line_stage(line, i - 1);
        row->stages += stage->kind != DREGS_DRY;
        if (stage->tank >= 0 && !stage->shares.row)
            row->volume += stage->volume.si;
    }
    row->drag = dregs_line_carried(line, last)->out;
    for (s = 0, row->fresh = 0; s < dregs_line_solutes(line); s++)
        row->fresh += fluid->content[s].si;
}

static int measure_text(const struct size_answer *answer, const dregs_sized *sized,
                        struct size_row *row)
{
    dregs_line *line;

    if (!sized->text || dregs_line_parse(answer->request->file, sized->text, sized->length,
                                         dregs_line_liquids(answer->line), &line, NULL))
        return 0;
    measure(line, row);
    dregs_line_free(line);
    return 1;
}

static int size_varied(struct size_request *request, struct size_answer *answer)
{
    dregs_status status =
        dregs_size(answer->line, request->varied, request->count, request->judging, answer->by_cost,
                   &answer->sized, answer->message);

    if (status)
        return front_say(status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s: %s",
                         request->file,
                         *answer->message ? answer->message : dregs_status_text(status));
    if (!isfinite(answer->sized.standing.excess))
        return front_say(FRONT_BAD_DATA, "%s: nowhere in the range: %s", request->file,
                         answer->message);
    (void)measure_text(answer, &answer->sized, &answer->ratios);
    return 0;
}

/* Less liquid (or cost) first; what cannot meet the target last. */
static int by_liquid(const void *left, const void *right)
{
    const struct size_row *a = left, *b = right;
    int fa = a->possible && a->sized.feasible, fb = b->possible && b->sized.feasible;

    if (fa != fb)
        return fb - fa;
    if (a->possible != b->possible)
        return b->possible - a->possible;
    if (fa && a->sized.use.bought != b->sized.use.bought)
        return a->sized.use.bought < b->sized.use.bought ? -1 : 1;
    if (a->layout != b->layout)
        return (int)a->layout - (int)b->layout;
    return (int)a->stages - (int)b->stages;
}

/* Is a no worse than b in liquid, tanks and number of stages, and better in one of them? */
static int dominates(const struct size_row *a, const struct size_row *b)
{
    double la = a->sized.use.bought, lb = b->sized.use.bought * (1 + 1e-9);

    return a->sized.feasible && la <= lb && a->volume <= b->volume && a->stages <= b->stages &&
           (la < b->sized.use.bought * (1 - 1e-9) || a->volume < b->volume ||
            a->stages < b->stages);
}

static void mark_dominated(struct size_answer *answer)
{
    size_t i, k;

    qsort(answer->row, answer->rows, sizeof *answer->row, by_liquid);
    for (i = 0; i < answer->rows; i++) {
        answer->row[i].dominated = -1;
        for (k = 0; k < answer->rows && answer->row[i].dominated < 0; k++)
            if (answer->row[i].possible && answer->row[k].possible &&
                answer->row[i].sized.feasible && dominates(&answer->row[k], &answer->row[i]))
                answer->row[i].dominated = (int)k;
    }
}

static int size_layouts(const struct size_request *request, struct size_answer *answer)
{
    unsigned n, first = request->layout < 0 ? 0 : (unsigned)request->layout;
    unsigned last = request->layout < 0 ? DREGS_LAYOUTS - 1 : first, l;
    size_t possible = 0;

    answer->row = calloc((size_t)DREGS_LAYOUTS * RANGE_MOST, sizeof *answer->row);
    if (!answer->row)
        return front_say(FRONT_IO, "out of memory");
    for (l = first; l <= last; l++)
        for (n = request->first; n <= request->last; n++) {
            struct size_row *row = &answer->row[answer->rows++];
            dregs_status status;
            row->layout = (dregs_layout)l;
            row->stages = n;
            status = dregs_size_layout(answer->line, row->layout, n, request->judging, &row->varied,
                                       &row->sized, row->message);
            if (status == DREGS_NO_MEMORY)
                return front_say(FRONT_IO, "out of memory");
            row->possible = !status && isfinite(row->sized.standing.excess) &&
                            measure_text(answer, &row->sized, row);
            row->stages = n; /* of the new ones, whatever other rinses the line has */
            if (status && !*row->message)
                snprintf(row->message, sizeof row->message, "%s", dregs_status_text(status));
            possible += (size_t)row->possible;
        }
    if (!possible)
        return front_say(FRONT_BAD_DATA, "%s: %s", request->file, answer->row[0].message);
    mark_dominated(answer);
    return 0;
}

void size_rule_of(const struct size_answer *answer, const struct size_row *row,
                  const dregs_sized *sized, double flow, struct size_rule *rule)
{
    double interval = dregs_line_load(answer->line)->interval.si;

    rule->ratio = (sized->standing.mg_in - row->fresh) / (sized->standing.mg_out - row->fresh);
    if (!(rule->ratio > 1))
        rule->ratio = NAN;
    rule->exact = flow * interval / row->drag;
    rule->series = dregs_rinse_series(rule->ratio, row->stages);
    rule->root = dregs_rinse_root(rule->ratio, row->stages);
}

double size_shown(const dregs_varied *varied, double si)
{
    dregs_unit unit;

    return dregs_unit_read(varied->unit, &unit, NULL) ? si : dregs_unit_from_si(unit, si);
}

static void count_loads(struct size_answer *answer)
{
    const dregs_schedule *schedule = dregs_line_schedule(answer->line);

    answer->shift_assumed = !schedule->loads_per_shift.row;
    answer->loads_per_shift = answer->shift_assumed
                                  ? 8 * 3600 / dregs_line_load(answer->line)->interval.si
                                  : schedule->loads_per_shift.si;
}

static int page(const struct size_answer *answer)
{
    if (answer->request->format == FRONT_CSV)
        return size_page_csv(answer);
    if (answer->request->format == FRONT_JSON)
        return size_page_json(answer);
    return answer->request->explain ? size_page_explain(answer) : size_page_text(answer);
}

static int write_answer(const struct size_answer *answer)
{
    const dregs_sized *sized = answer->request->first ? &answer->row[0].sized : &answer->sized;

    if (!sized->feasible || !sized->text)
        return front_say(FRONT_MISSED, "%s is not written: the target cannot be met so",
                         answer->request->write_file);
    return front_write(answer->request->write_file, sized->text, sized->length);
}

static int size(void *user, const char *file)
{
    struct size_request *request = user;
    dregs_liquids *liquids = NULL;
    dregs_line *line = NULL;
    struct size_answer answer = {0};
    dregs_use use;
    size_t i;
    int status, met;

    request->file = file;
    status = check_request(request);
    if (!status)
        status = front_read(file, request->liquids_file, &liquids, &line);
    answer.request = request;
    answer.line = line;
    if (!status && !dregs_line_target(line)->name)
        status = front_say(FRONT_BAD_DATA,
                           "%s: the line states no target; add an item of kind target with a "
                           "residue or a level",
                           request->file);
    if (!status) {
        dregs_line_use(line, &use);
        answer.by_cost = !isnan(use.cost);
        count_loads(&answer);
        status = request->first ? size_layouts(request, &answer) : prepare(request, &answer);
    }
    if (!status && !request->first)
        status = size_varied(request, &answer);
    if (!status)
        status = page(&answer);
    if (!status && request->write_file)
        status = write_answer(&answer);
    met = request->first ? answer.rows && answer.row[0].sized.feasible : answer.sized.feasible;
    if (!status && request->check && !met)
        status = FRONT_MISSED;
    dregs_sized_clear(&answer.sized);
    for (i = 0; i < answer.rows; i++)
        dregs_sized_clear(&answer.row[i].sized);
    free(answer.row);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return status;
}

int main(int argc, char **argv)
{
    struct size_request request = {0};
    unsigned i;
    int status;

    request.layout = -1;
    status = front_run(&tool, argc, argv, take, size, &request);
    for (i = 0; i < request.count; i++)
        free(request.names[i]);
    return status;
}
