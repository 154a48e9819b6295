/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* dry.c: dregs-dry, when a film is gone and whether its vapour is safe. */
#include "doubt.h"
#include "dregs/answer_dry.h"
#include "dregs/page.h"
#include "front.h"
#include "verbs.h"

#include <stddef.h>
#include <stdio.h>

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
    dregs_asked *words;         /* what is asked, and */
    dregs_dry_request *request; /* the request in it */
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
    .wide = 1,
    .draws = 1,
    .example = "dregs dry --liquid isopropanol --film '20 um' --at 22degC",
};

static int take(void *user, size_t option, const char *argument)
{
    const struct asked *asked = user;

    return front_ask(asked->words, options[option].name, argument);
}

static int check_request(const struct asked *asked)
{
    unsigned lines = asked->file != NULL;
    int status = front_ask_check(asked->words, &asked->common, lines, lines, 0);

    if (status)
        return status;
    if (asked->common.format == FRONT_CSV && asked->request->at_count > 1)
        return front_usage("--format csv is the curve of one temperature");
    return front_check(asked->file ? asked->file : "", &asked->common);
}

static int known(const struct asked *asked, const dregs_liquids *liquids)
{
    char message[DREGS_ASK_MESSAGE];

    return dregs_asked_known(asked->words, liquids, message) ? front_usage("%s", message) : 0;
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
    made = dregs_page_dry_with(line, answered->result, answered->doubt,
                               front_explains(&asked->common), &report);
    if (!made && front_works(&asked->common))
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
        dregs_dry_answer(asked->request, liquids, line, &answered.result, message);
    int status;

    if (failed)
        return front_say(
            failed == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s%s",
            *message ? "" : "drying: ", *message ? message : dregs_status_text(failed));
    dregs_ask_draws_request(&asked->common.draws, dregs_dry_doubt_usual(answered.result), &draws);
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
        status = known(asked, liquids);
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

    front_begin(&tool);
    status = front_asked(&tool, &asked.words);
    if (status)
        return status;
    asked.request = dregs_asked_dry(asked.words);
    status = front_options(&tool, argc, argv, &asked.common, take, &asked, &operand);
    if (status < 0 && operand + 1 < argc)
        status = front_usage("one line file at a time");
    if (status < 0) {
        asked.file = operand < argc ? argv[operand] : NULL;
        status = front_end(dry(&asked));
    }
    dregs_asked_free(asked.words);
    return status;
}

const struct verb verb_dry = {&tool, run_tool, "when a load is dry, and what its vapour does"};
