/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* liquid.c: dregs-liquid, what is known of a liquid. */
#include "front.h"
#include "verbs.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What was asked. */
struct asked {
    dregs_liquid_request request; /* its name is NULL: list what is known */
    struct front_common common;
};

enum option { AT, SHARE };

static const struct front_option options[] = {
    [AT] = {"at", "TEMP", "the temperature, such as '25 degC' (default: none, equations instead)"},
    [SHARE] = {"share", "SHARE", "mass share of a mixture's first liquid, such as '70 %'"},
};

static const struct front_tool tool = {
    .name = "dregs-liquid",
    .operands = "[NAME]",
    .purpose = "Prints the properties of a liquid or mixture with their sources. Without NAME "
               "lists what is known.",
    .options = options,
    .option_count = sizeof options / sizeof options[0],
    .explain = "show the equations and coefficients too",
    .example = "dregs liquid isopropanol --at 22degC",
};

static int take_temperature(dregs_liquid_request *request, const char *argument)
{
    char message[DREGS_UNIT_MESSAGE];

    if (dregs_unit_quantity(argument, "degC", &request->temperature, message))
        return front_usage("--at '%s': %s", argument, message);
    if (strstr(argument, "delta_"))
        return front_usage("--at '%s' is a difference; write it like '25 degC'", argument);
    if (!(request->temperature > 0.0))
        return front_usage("--at '%s' is not above absolute zero", argument);
    return 0;
}

static int take_share(dregs_liquid_request *request, const char *argument)
{
    char message[DREGS_UNIT_MESSAGE];

    if (dregs_unit_quantity(argument, "%", &request->share, message))
        return front_usage("--share '%s': %s", argument, message);
    if (!(request->share >= 0.0 && request->share <= 1.0))
        return front_usage("--share '%s' is not between 0 and 100 %%", argument);
    return 0;
}

static int take(void *user, size_t option, const char *argument)
{
    struct asked *asked = user;
    dregs_liquid_request *request = &asked->request;

    switch ((enum option)option) {
    case AT:
        return take_temperature(request, argument);
    default:
        return take_share(request, argument);
    }
}

/* Asks the library; says why where it gives no answer. */
static int ask(const dregs_liquid_request *request, const dregs_liquids *liquids,
               dregs_liquid_result **result)
{
    char message[DREGS_LIQUID_MESSAGE];
    dregs_status status = dregs_liquid_answer(request, liquids, result, message);

    if (status == DREGS_UNKNOWN)
        return front_usage(
            "%s%s", message,
            strstr(message, "nearest") ? "" : "; without a name the known ones are listed");
    if (status == DREGS_DOMAIN) /* temperature and share are numbers that can be, see above */
        return front_usage("--share goes with a mixture, such as isopropanol-water");
    return status ? front_say(FRONT_IO, "%s", dregs_status_text(status)) : FRONT_DONE;
}

static int check_request(const struct asked *asked)
{
    const dregs_liquid_request *request = &asked->request;

    if (!request->name && !isnan(request->temperature))
        return front_usage("--at needs the name of a liquid");
    if (!request->name && !isnan(request->share))
        return front_usage("--share needs the name of a mixture");
    if (!request->name && asked->common.explain)
        return front_usage("--explain needs the name of a liquid");
    if (asked->common.explain && asked->common.format != FRONT_TEXT &&
        asked->common.format != FRONT_JSON)
        return front_usage("--explain is text or JSON; it goes with no other --format");
    return 0;
}

static int list(enum front_format format, const dregs_liquids *liquids)
{
    dregs_report *report = NULL;
    dregs_status status = dregs_page_liquids(liquids, &report);

    return front_report(status, report, format);
}

static int answer(const struct asked *asked, const dregs_liquids *liquids)
{
    dregs_liquid_result *result = NULL;
    dregs_report *report = NULL, *working = NULL;
    int status = ask(&asked->request, liquids, &result);

    if (!status) {
        dregs_status made =
            dregs_page_liquid(&asked->request, result, front_explains(&asked->common), &report);
        if (!made && front_works(&asked->common))
            made = dregs_page_liquid(&asked->request, result, 1, &working);
        status = front_report_with(made, report, working, asked->common.format);
    }
    dregs_liquid_result_free(result);
    return status;
}

static int run_tool(int argc, char **argv)
{
    struct asked asked = {0};
    dregs_liquids *liquids = NULL;
    int operand, status;

    dregs_liquid_request_init(&asked.request);
    front_begin(&tool);
    status = front_options(&tool, argc, argv, &asked.common, take, &asked, &operand);
    if (status >= 0)
        return status;
    if (operand + 1 < argc)
        return front_usage("one liquid at a time");
    asked.request.name = operand < argc ? argv[operand] : NULL;
    status = check_request(&asked);
    if (!status)
        status = front_read_liquids(asked.common.liquids_file, &liquids);
    if (!status)
        status = asked.request.name ? answer(&asked, liquids) : list(asked.common.format, liquids);
    dregs_liquids_free(liquids);
    return front_end(status);
}

const struct verb verb_liquid = {&tool, run_tool, "what is known of a liquid, with sources"};
