/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* beaker.c: dregs-beaker, the sums of the bench from options alone. */
#include "doubt.h"
#include "dregs/answer_beaker.h"
#include "dregs/answer_size.h"
#include "dregs/page.h"
#include "front.h"
#include "verbs.h"

#include <string.h>

/* What is given stands first, by its number. */
enum option { CONFIDENCE = DREGS_BEAKER_GIVEN };

static const struct front_option options[] = {
    [DREGS_BEAKER_LIQUID] = {"liquid", "NAME", "of the beaker, such as isopropanol"},
    [DREGS_BEAKER_BEAKER] = {"beaker", "VOLUME",
                             "of liquid in the beaker or bath, such as '200 mL'"},
    [DREGS_BEAKER_TOTAL] = {"total", "VOLUME", "of liquid for all rinses together"},
    [DREGS_BEAKER_TIMES] = {"times", "N", "up to so many rinses (default: 2)"},
    [DREGS_BEAKER_LOADS] = {"loads", "N", "through the same rinses (assumed: 1)"},
    [DREGS_BEAKER_PARTS_AT_A_TIME] = {"parts", "N", "at a time (assumed: 1)"},
    [DREGS_BEAKER_AREA] = {"area", "AREA", "wetted, of one part"},
    [DREGS_BEAKER_DRAG_OUT] = {"drag-out", "AMOUNT",
                               "'0.05 mL' of a part, '60 mL/m2', or a class such as 'vertical well "
                               "drained'"},
    [DREGS_BEAKER_FILM] = {"film", "CONC", "of soil in the film that parts bring, such as '2 g/L'"},
    [DREGS_BEAKER_SOIL] = {"soil", "MASS", "on each part, which comes dry"},
    [DREGS_BEAKER_EXCHANGE] = {"exchange", "SHARE", "of the film that mixes (assumed: 100 %)"},
    [DREGS_BEAKER_MIXING] = {"mixing", "SHARE", "of what is poured over a part that mixes"},
    [DREGS_BEAKER_LIMIT] = {"limit", "LIMIT", "'1 ug/cm2', '50 mg/L' in the film, or a level: A"},
    [DREGS_BEAKER_OWN] = {"own", "CONC", "what the fresh liquid itself leaves (assumed: 0)"},
    [DREGS_BEAKER_AT] = {"at", "TEMP", "of the liquid (assumed: 20 degC)"},
    [DREGS_BEAKER_OPENING] = {"opening", "SIZE", "of the beaker: '7 cm' across, or '38 cm2'"},
    [DREGS_BEAKER_RIM] = {"rim", "LENGTH", "from the liquid up to the rim"},
    [DREGS_BEAKER_LOSES] = {"loses", "SHARE", "until so much is gone (default: 10 %)"},
    [DREGS_BEAKER_AFTER] = {"after", "TIME", "what is left then, such as '14 h'"},
    [DREGS_BEAKER_ROOM] = {"room", "TEMP", "of the room's air (assumed: 20 degC)"},
    [DREGS_BEAKER_HUMIDITY] = {"humidity", "SHARE", "of the room's air (assumed: 50 %)"},
    [DREGS_BEAKER_AIR_SPEED] = {"air-speed", "SPEED", "over the beaker or along the parts"},
    [DREGS_BEAKER_POWER] = {"power", "POWER", "electrical, of the ultrasound"},
    [DREGS_BEAKER_WATER_BATH] = {"water-bath", "VOLUME", "that the beaker stands in"},
    [DREGS_BEAKER_WALL_LOSS] = {"wall-loss", "LOSS", "heat per kelvin, such as '2 W/K'"},
    [DREGS_BEAKER_TO] = {"to", "TEMP", "to be reached"},
    [DREGS_BEAKER_FROM] = {"from", "TEMP", "of the parts that come out of the oven"},
    [DREGS_BEAKER_MASS] = {"mass", "MASS", "of one part"},
    [DREGS_BEAKER_HEAT_CAPACITY] = {"heat-capacity", "C",
                                    "'0.47 J/(g.K)', or steel, stainless, aluminium, copper, "
                                    "brass, titanium"},
    [DREGS_BEAKER_HEIGHT] = {"height", "LENGTH", "of a part (assumed: 10 cm)"},
    [CONFIDENCE] = {"confidence", "SHARE", "with which the limit must be met, such as 95%"},
};

static const struct front_tool tool = {
    .name = "dregs-beaker",
    .operands = "QUESTION",
    .purpose = "Sums at the bench, without a line file. QUESTION is one of\n"
               "  parts    how many parts through a beaker\n"
               "  rinses   one rinse, or several small ones\n"
               "  bottle   how much from a wash bottle\n"
               "  fresh    how much fresh liquid for the final rinse\n"
               "  open     what an open beaker loses, and takes up\n"
               "  warm     when ultrasound has warmed a bath\n"
               "  cool     when parts are cool",
    .options = options,
    .option_count = sizeof options / sizeof options[0],
    .write = "write the line file too; - is standard output, without a page",
    .force = "overwrite FILE where it exists",
    .explain = "show the working and the line that was asked",
    .draws = 1,
    .example =
        "dregs beaker rinses --liquid isopropanol --total '100 mL' --drag-out '0.05 mL' --parts 12",
};

struct request {
    dregs_beaker_request asked;
    struct front_common common;
};

static int take(void *user, size_t option, const char *argument)
{
    struct request *request = user;

    if (option == CONFIDENCE)
        return front_quantity("confidence", argument, "%", 1e-6, 1 - 1e-6,
                              &request->asked.confidence);
    request->asked.given[option] = argument;
    return 0;
}

static int take_question(struct request *request, const char *text)
{
    const char *word;
    int i;

    for (i = 0; (word = dregs_beaker_word((dregs_beaker_question)i)) != NULL; i++)
        if (strcmp(word, text) == 0) {
            request->asked.question = (dregs_beaker_question)i;
            return 0;
        }
    return front_usage(
        "'%s' is no question: it is one of parts, rinses, bottle, fresh, open, warm, cool", text);
}

static int check_request(struct request *request)
{
    if (request->common.draws.given && !request->common.draws.draws &&
        request->asked.confidence > 0)
        return front_usage("--confidence takes draws, and --draws 0 makes none");
    if (request->common.draws.draws > DREGS_SIZE_DRAWS_MOST)
        return front_usage("--draws of a sizing: %d at most", (int)DREGS_SIZE_DRAWS_MOST);
    if (request->common.draws.given)
        request->asked.draws = request->common.draws.draws;
    request->asked.seed = request->common.draws.seed;
    request->asked.threads = request->common.draws.threads;
    return front_check("", &request->common);
}

static int page(const struct request *request, const dregs_beaker_result *result)
{
    dregs_report *report = NULL, *working = NULL;
    dregs_status made = dregs_page_beaker(result, front_explains(&request->common), &report);

    if (!made && front_works(&request->common))
        made = dregs_page_beaker(result, 1, &working);
    return front_report_with(made, report, working, request->common.format);
}

static int answer(const struct request *request, const dregs_liquids *liquids)
{
    char message[DREGS_BEAKER_MESSAGE];
    dregs_beaker_result *result = NULL;
    const dregs_beaker_way *way;
    dregs_status failed = dregs_beaker_answer(&request->asked, liquids, &result, message);
    int status;

    if (failed == DREGS_NO_MEMORY)
        return front_say(FRONT_IO, "out of memory");
    if (failed == DREGS_DOMAIN || failed == DREGS_UNKNOWN)
        return front_usage("%s", *message ? message : dregs_status_text(failed));
    if (failed)
        return front_say(FRONT_BAD_DATA, "%s", *message ? message : dregs_status_text(failed));
    status = front_is_output(request->common.write_file) ? FRONT_DONE : page(request, result);
    way = dregs_beaker_result_way(result, result->best);
    if (!status && request->common.write_file)
        status = front_write(request->common.write_file, way->text, way->length);
    dregs_beaker_result_free(result);
    return status;
}

static int run_tool(int argc, char **argv)
{
    struct request request = {0};
    dregs_liquids *liquids = NULL;
    int operand, status;

    dregs_beaker_request_init(&request.asked);
    front_begin(&tool);
    status = front_options(&tool, argc, argv, &request.common, take, &request, &operand);
    if (status >= 0)
        return status;
    if (operand + 1 != argc)
        return front_usage(operand < argc ? "one question at a time" : "no question given");
    status = take_question(&request, argv[operand]);
    if (!status)
        status = check_request(&request);
    if (!status)
        status = front_read_liquids(request.common.liquids_file, &liquids);
    if (!status && request.common.write_file)
        status = front_may_write(request.common.write_file);
    if (!status)
        status = answer(&request, liquids);
    dregs_liquids_free(liquids);
    return front_end(status);
}

const struct verb verb_beaker = {&tool, run_tool, "a sum at the bench, without a file"};
