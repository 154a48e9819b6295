/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry.c: dregs-dry, when a film is gone and whether its vapour is safe. */
#include "doubt.h"
#include "dregs/answer_dry.h"
#include "dregs/page.h"
#include "front.h"
#include "verbs.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

enum option {
    LIQUID,
    SHARE,
    FILM,
    AT,
    SWEEP,
    START,
    SPEED,
    AIR,
    NOZZLE,
    NOZZLE_DISTANCE,
    NOZZLE_PITCH,
    HUMIDITY,
    DEW_POINT,
    ROOM,
    CAPACITY,
    LENGTH,
    AREA,
    VOLUME,
    FRESH,
    INTERVAL,
    RECESS,
    BEAD,
    UNTIL
};

static const struct front_option options[] = {
    [LIQUID] = {"liquid", "NAME", "without LINE: the film's liquid"},
    [SHARE] = {"share", "SHARE", "its share by mass, the rest is water (default 100 %)"},
    [FILM] = {"film", "LENGTH", "the film's thickness, such as '20 um'"},
    [AT] = {"at", "TEMP", "air temperature, such as 60degC; may be repeated"},
    [SWEEP] = {"sweep", "temperature=A..B", "7 temperatures from A to B degC"},
    [START] = {"start", "TEMP", "temperature of part and film at first"},
    [SPEED] = {"air-speed", "SPEED", "such as '1 m/s'"},
    [AIR] = {"air", "WORD", "laminar (assumed), turbulent, tray or jet"},
    [NOZZLE] = {"nozzle-diameter", "LENGTH", "of a jet's round nozzles"},
    [NOZZLE_DISTANCE] = {"nozzle-distance", "LENGTH", "from nozzle to face"},
    [NOZZLE_PITCH] = {"nozzle-pitch", "LENGTH", "between nozzles; without it there is one"},
    [HUMIDITY] = {"humidity", "SHARE", "relative humidity of the room's air"},
    [DEW_POINT] = {"dew-point", "TEMP", "of the room's air, in place of its humidity"},
    [ROOM] = {"room", "TEMP", "temperature of the room's air, where its humidity is measured"},
    [CAPACITY] = {"heat-capacity", "C", "of the part per wetted area, such as '4 kJ/(m2.K)'"},
    [LENGTH] = {"length", "LENGTH", "of the wet face along the air"},
    [AREA] = {"area", "AREA", "wetted, in the room or oven"},
    [VOLUME] = {"volume", "VOLUME", "of the room or oven"},
    [FRESH] = {"fresh-air", "FLOW", "such as '30 m3/h'"},
    [INTERVAL] = {"interval", "TIME", "from load to load, whose vapour adds up"},
    [RECESS] = {"recess-depth", "LENGTH", "of a blind hole full of the liquid"},
    [BEAD] = {"bead", "VOLUME/LENGTH", "on an edge, such as '0.2 mL/m'"},
    [UNTIL] = {"until", "SHARE", "what is left when it is taken as dry (default 0.1 %)"},
};

/* What the command line asks for. */
struct asked {
    const char *file;
    dregs_dry_request request;
    struct front_common common;
};

static const struct front_tool tool = {
    .name = "dregs-dry",
    .operands = "[LINE]",
    .purpose = "Tells when a film has dried, how cold it gets and what its vapour does. LINE is "
               "a line file with dry stages, or - for standard input; without it --liquid, "
               "--film and --at are needed.",
    .options = options,
    .option_count = sizeof options / sizeof options[0],
    .check = "exit 1 when it is not known to dry in time, or its vapour to stay below 25 % of "
             "the limit; with a target's confidence, when that is not as sure",
    .explain = "show the working: equations, numbers, units, sources",
    .draws = 1,
    .example = "dregs dry --liquid isopropanol --film '20 um' --at 22degC",
};

static int add_temperature(dregs_dry_request *request, double kelvin)
{
    if (request->at_count >= DREGS_DRY_ROWS_MOST)
        return front_usage("more than %d temperatures", DREGS_DRY_ROWS_MOST);
    request->at[request->at_count++] = kelvin;
    return 0;
}

static int take_sweep(dregs_dry_request *request, const char *text)
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

/* The options that are one quantity of the request; no `like`: another option. */
static const struct quantity {
    const char *like; /* a unit of its kind */
    double low, high; /* SI */
    size_t offset;    /* where the request keeps it */
} quantities[] = {
    [FILM] = {"um", 1e-8, 0.01, offsetof(dregs_dry_request, film)},
    [START] = {"degC", 200, 550, offsetof(dregs_dry_request, start)},
    [SPEED] = {"m/s", 0, 100, offsetof(dregs_dry_request, speed)},
    [NOZZLE] = {"mm", 1e-5, 1, offsetof(dregs_dry_request, nozzle)},
    [NOZZLE_DISTANCE] = {"mm", 1e-5, 10, offsetof(dregs_dry_request, nozzle_distance)},
    [NOZZLE_PITCH] = {"mm", 1e-5, 10, offsetof(dregs_dry_request, nozzle_pitch)},
    [HUMIDITY] = {"%", 0, 1, offsetof(dregs_dry_request, humidity)},
    [DEW_POINT] = {"degC", 200, 373, offsetof(dregs_dry_request, dew_point)},
    [ROOM] = {"degC", 200, 373, offsetof(dregs_dry_request, room)},
    [CAPACITY] = {"kJ/(m2.K)", 0, 1e7, offsetof(dregs_dry_request, heat_capacity)},
    [LENGTH] = {"cm", 1e-4, 100, offsetof(dregs_dry_request, length)},
    [AREA] = {"m2", 0, 1e5, offsetof(dregs_dry_request, area)},
    [VOLUME] = {"m3", 1e-6, 1e6, offsetof(dregs_dry_request, volume)},
    [FRESH] = {"m3/h", 0, 1e4, offsetof(dregs_dry_request, fresh_air)},
    [BEAD] = {"mL/m", 0, 1e-4, offsetof(dregs_dry_request, bead)},
    [INTERVAL] = {"min", 1, 1e8, offsetof(dregs_dry_request, interval)},
    [RECESS] = {"mm", 0, 10, offsetof(dregs_dry_request, recess)},
    [UNTIL] = {"%", 1e-6, 0.999, offsetof(dregs_dry_request, until)},
};

static int take_air(dregs_dry_request *request, const char *word)
{
    int i;

    for (i = 0; i < DREGS_AIR_FLOWS; i++)
        if (strcmp(word, dregs_air_flow_word((dregs_air_flow)i)) == 0) {
            request->air = i;
            return 0;
        }
    return front_usage("--air '%s' is not one of laminar, turbulent, tray, jet", word);
}

static int take(void *user, size_t option, const char *argument)
{
    struct asked *asked = user;
    dregs_dry_request *request = &asked->request;
    const struct quantity *quantity = &quantities[option];
    double value;
    int status;

    if (quantity->like)
        return front_quantity(options[option].name, argument, quantity->like, quantity->low,
                              quantity->high,
                              (double *)(void *)((char *)request + quantity->offset));
    switch ((enum option)option) {
    case LIQUID:
        request->liquid = argument;
        return 0;
    case SHARE:
        status = front_quantity("share", argument, "%", 0.01, 1, &value);
        request->water = status ? 0 : 1 - value;
        return status;
    case AT:
        status = front_quantity("at", argument, "degC", 200, 550, &value);
        return status ? status : add_temperature(request, value);
    case AIR:
        return take_air(request, argument);
    default:
        return take_sweep(request, argument);
    }
}

static int check_request(const struct asked *asked)
{
    const dregs_dry_request *r = &asked->request;

    if (asked->file && (r->liquid || !isnan(r->film) || r->water > 0 || !isnan(r->area)))
        return front_usage(
            "with LINE the film is the line's: no --liquid, --share, --film, --area");
    if (!isnan(r->humidity) && !isnan(r->dew_point))
        return front_usage("--humidity and --dew-point tell the same");
    if (!asked->file && (!r->liquid || isnan(r->film) || r->at_count == 0))
        return front_usage("without LINE, --liquid, --film and --at (or --sweep) are needed");
    if (asked->common.format == FRONT_CSV && r->at_count > 1)
        return front_usage("--format csv is the curve of one temperature");
    return front_check(asked->file ? asked->file : "", &asked->common);
}

static int known(const dregs_dry_request *request, const dregs_liquids *liquids)
{
    const char *near;

    if (!request->liquid || dregs_liquids_has(liquids, request->liquid))
        return 0;
    near = dregs_liquids_nearest(liquids, request->liquid);
    return front_usage("--liquid '%s' is not in the liquid data%s%s%s", request->liquid,
                       near ? "; nearest: '" : "; 'dregs-liquid' lists it", near ? near : "",
                       near ? "'" : "");
}

/* What was answered, and how sure it is. */
struct answered {
    dregs_dry_result *result;
    dregs_dry_doubt *doubt;
};

static dregs_status ask_doubt(void *user, const dregs_doubt_request *request, dregs_faults *faults)
{
    struct answered *answered = user;

    return dregs_dry_doubt_ask(answered->result, request, &answered->doubt, faults);
}

static int page(const struct asked *asked, const struct answered *answered, const dregs_line *line)
{
    dregs_report *report = NULL, *working = NULL;
    dregs_status made;

    if (asked->common.format == FRONT_CSV && answered->result->rows > 1)
        return front_usage("--format csv is the curve of one drying; the line has %u dry stages",
                           answered->result->rows);
    made = dregs_page_dry_with(line, answered->result, answered->doubt, asked->common.explain,
                               &report);
    if (!made && asked->common.format == FRONT_HTML)
        made = dregs_page_dry_with(line, answered->result, answered->doubt, 1, &working);
    return front_report_with(made, report, working, asked->common.format);
}

/* It passes, or as surely as the target asks. */
static int is_met(const struct answered *answered)
{
    const dregs_dry_doubt *doubt = answered->doubt;

    return doubt && doubt->confidence >= 0 ? doubt->sure : answered->result->passes;
}

static int answer(const struct asked *asked, const dregs_liquids *liquids, const dregs_line *line)
{
    char message[DREGS_DRY_MESSAGE];
    struct answered answered = {NULL, NULL};
    dregs_doubt_request draws;
    dregs_status failed =
        dregs_dry_answer(&asked->request, liquids, line, &answered.result, message);
    int status;

    if (failed)
        return front_say(
            failed == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s%s",
            *message ? "" : "drying: ", *message ? message : dregs_status_text(failed));
    doubt_request(&asked->common.draws, dregs_dry_doubt_usual(answered.result), &draws);
    status = doubt_ask(&draws, ask_doubt, &answered);
    if (!status)
        status = page(asked, &answered, line);
    if (!status && asked->common.check && !is_met(&answered))
        status = FRONT_MISSED;
    dregs_dry_doubt_free(answered.doubt);
    dregs_dry_result_free(answered.result);
    return status;
}

static int dry(const struct asked *asked)
{
    dregs_liquids *liquids = NULL;
    dregs_line *line = NULL;
    int status = check_request(asked);

    if (!status)
        status = front_read_liquids(asked->common.liquids_file, &liquids);
    if (!status)
        status = known(&asked->request, liquids);
    if (!status && asked->file)
        status = front_read_line(asked->file, liquids, &line);
    if (!status)
        status = answer(asked, liquids, line);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return doubt_end(status);
}

static int run_tool(int argc, char **argv)
{
    struct asked asked = {0};
    int operand, status;

    dregs_dry_request_init(&asked.request);
    front_begin(&tool);
    status = front_options(&tool, argc, argv, &asked.common, take, &asked, &operand);
    if (status >= 0)
        return status;
    if (operand + 1 < argc)
        return front_usage("one line file at a time");
    asked.file = operand < argc ? argv[operand] : NULL;
    return front_end(dry(&asked));
}

const struct verb verb_dry = {&tool, run_tool, "when a load is dry, and what its vapour does"};
