/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry.c: dregs-dry, when a film is gone and whether its vapour is safe. */
#include "dry.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum option {
    LIQUID,
    SHARE,
    FILM,
    AT,
    SWEEP,
    START,
    SPEED,
    HUMIDITY,
    CAPACITY,
    LENGTH,
    AREA,
    VOLUME,
    FRESH,
    RECESS,
    UNTIL,
    CHECK,
    FORMAT,
    EXPLAIN,
    LIQUIDS
};

static const struct front_option options[] = {
    [LIQUID] = {"liquid", "NAME", "without LINE: the film's liquid"},
    [SHARE] = {"share", "SHARE", "its share by mass, the rest is water (default 100 %)"},
    [FILM] = {"film", "LENGTH", "the film's thickness, such as '20 um'"},
    [AT] = {"at", "TEMP", "air temperature, such as 60degC; may be repeated"},
    [SWEEP] = {"sweep", "temperature=A..B", "7 temperatures from A to B degC"},
    [START] = {"start", "TEMP", "temperature of part and film at first"},
    [SPEED] = {"air-speed", "SPEED", "such as '1 m/s'"},
    [HUMIDITY] = {"humidity", "SHARE", "relative humidity of the air"},
    [CAPACITY] = {"heat-capacity", "C", "of the part per wetted area, such as '4 kJ/(m2.K)'"},
    [LENGTH] = {"length", "LENGTH", "of the wet face along the air"},
    [AREA] = {"area", "AREA", "wetted, in the room or oven"},
    [VOLUME] = {"volume", "VOLUME", "of the room or oven"},
    [FRESH] = {"fresh-air", "FLOW", "such as '30 m3/h'"},
    [RECESS] = {"recess-depth", "LENGTH", "of a recess full of the liquid"},
    [UNTIL] = {"until", "SHARE", "what is left when it counts as dry (default 0.1 %)"},
    [CHECK] = {"check", NULL, "exit 1 when vapour passes 25 % of the limit or it never dries"},
    [FORMAT] = {"format", "FORMAT", "text (default), csv or json"},
    [EXPLAIN] = {"explain", NULL, "show the working: equations, numbers, units, sources"},
    [LIQUIDS] = {"liquids", "FILE", "property rows that replace or add to the built-in ones"},
};

static const struct front_tool tool = {
    "dregs-dry", "[LINE]",
    "Tells when a film has dried, how cold it gets and what its vapour does. LINE is a line file "
    "with dry stages, or - for standard input; without it --liquid, --film and --at are needed.",
    options, sizeof options / sizeof options[0]};

static int add_temperature(struct dry_request *request, double kelvin)
{
    if (request->at_count >= DRY_ROWS_MOST)
        return front_usage("more than %d temperatures", DRY_ROWS_MOST);
    request->at[request->at_count++] = kelvin;
    return 0;
}

static int take_sweep(struct dry_request *request, const char *text)
{
    enum { STEPS = 7 };
    const char *range = text + strlen("temperature="), *dots = strstr(text, "..");
    char first[32];
    double low, high;
    int i, status = 0;

    if (strncmp(text, "temperature=", strlen("temperature=")) != 0 || !dots)
        return front_usage("--sweep '%s' is not temperature=A..B, in degC", text);
    snprintf(first, sizeof first, "%.*s", (int)(dots - range < 31 ? dots - range : 31), range);
    if (dregs_number_read(first, &low) || dregs_number_read(dots + 2, &high) || !(low < high) ||
        !(low > -100) || !(high < 270))
        return front_usage("--sweep '%s' is not temperature=A..B, in degC", text);
    for (i = 0; i < STEPS && !status; i++)
        status = add_temperature(request, 273.15 + low + (high - low) * i / (STEPS - 1));
    return status;
}

static int take(void *user, size_t option, const char *argument)
{
    struct dry_request *r = user;
    const char *name = options[option].name;
    double value;
    int status;

    switch ((enum option)option) {
    case LIQUID:
        r->liquid = argument;
        return 0;
    case SHARE:
        status = front_quantity(name, argument, "%", 0.01, 1, &value);
        r->water = status ? 0 : 1 - value;
        return status;
    case FILM:
        return front_quantity(name, argument, "um", 1e-8, 0.01, &r->film);
    case AT:
        status = front_quantity(name, argument, "degC", 200, 550, &value);
        return status ? status : add_temperature(r, value);
    case SWEEP:
        return take_sweep(r, argument);
    case START:
        return front_quantity(name, argument, "degC", 200, 550, &r->start);
    case SPEED:
        return front_quantity(name, argument, "m/s", 0, 100, &r->speed);
    case HUMIDITY:
        return front_quantity(name, argument, "%", 0, 1, &r->humidity);
    case CAPACITY:
        return front_quantity(name, argument, "kJ/(m2.K)", 0, 1e7, &r->heat_capacity);
    case LENGTH:
        return front_quantity(name, argument, "cm", 1e-4, 100, &r->length);
    case AREA:
        return front_quantity(name, argument, "m2", 0, 1e5, &r->area);
    case VOLUME:
        return front_quantity(name, argument, "m3", 1e-6, 1e6, &r->volume);
    case FRESH:
        return front_quantity(name, argument, "m3/h", 0, 1e4, &r->fresh_air);
    case RECESS:
        return front_quantity(name, argument, "mm", 1e-6, 10, &r->recess);
    case UNTIL:
        return front_quantity(name, argument, "%", 1e-6, 0.999, &r->until);
    case CHECK:
        r->check = 1;
        return 0;
    case EXPLAIN:
        r->explain = 1;
        return 0;
    case LIQUIDS:
        r->liquids_file = argument;
        return 0;
    default:
        return front_format(argument, &r->format);
    }
}

static int check_request(const struct dry_request *r)
{
    if (r->file && (r->liquid || !isnan(r->film) || r->water > 0 || !isnan(r->area)))
        return front_usage(
            "with LINE the film is the line's: no --liquid, --share, --film, --area");
    if (!r->file && (!r->liquid || isnan(r->film) || r->at_count == 0))
        return front_usage("without LINE, --liquid, --film and --at (or --sweep) are needed");
    if (r->format == FRONT_CSV && r->at_count > 1)
        return front_usage("--format csv is the curve of one temperature");
    return front_check(r->file ? r->file : "", r->liquids_file, r->format, r->explain);
}

static int print(const struct dry_answer *answer)
{
    if (answer->request->format == FRONT_CSV)
        return dry_page_csv(answer);
    if (answer->request->format == FRONT_JSON)
        return dry_page_json(answer);
    return answer->request->explain ? dry_page_explain(answer) : dry_page_text(answer);
}

static int known(const struct dry_request *request, const dregs_liquids *liquids)
{
    const char *near;

    if (!request->liquid || dregs_liquids_has(liquids, request->liquid))
        return 0;
    near = dregs_liquids_nearest(liquids, request->liquid);
    return front_usage("--liquid '%s' is not in the liquid data; nearest: '%s'", request->liquid,
                       near ? near : "water");
}

static int dry(struct dry_request *request)
{
    struct dry_answer *answer = calloc(1, sizeof *answer);
    dregs_liquids *liquids = NULL;
    dregs_line *line = NULL;
    unsigned i;
    int status = answer ? check_request(request) : front_say(FRONT_IO, "out of memory");

    if (!status)
        status = front_read_liquids(request->liquids_file, &liquids);
    if (!status)
        status = known(request, liquids);
    if (!status && request->file)
        status = front_read_line(request->file, liquids, &line);
    if (!status)
        status = dry_fill(answer, request, liquids, line);
    if (!status && request->format == FRONT_CSV && answer->rows > 1)
        status = front_usage("--format csv is the curve of one drying; the line has %u dry stages",
                             answer->rows);
    if (!status)
        status = print(answer);
    for (i = 0; !status && request->check && i < answer->rows; i++)
        if (answer->row[i].drying.peak > 0.25 || !answer->row[i].drying.dry)
            status = FRONT_MISSED;
    if (answer)
        dry_clear(answer);
    free(answer);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return status;
}

int main(int argc, char **argv)
{
    struct dry_request request = {0};
    int operand, status;

    request.film = request.start = request.speed = request.humidity = request.heat_capacity =
        request.length = request.volume = request.fresh_air = request.area = request.recess =
            request.until = NAN;
    front_begin(&tool);
    status = front_options(&tool, argc, argv, take, &request, &operand);
    if (status >= 0)
        return status;
    if (operand + 1 < argc)
        return front_usage("one line file at a time");
    request.file = operand < argc ? argv[operand] : NULL;
    return front_end(dry(&request));
}
