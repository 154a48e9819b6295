/* SPDX-License-Identifier: GPL-3.0-or-later */
/* liquid.c: dregs-liquid, what is known of a liquid. */
#include "liquid.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum option { AT, SHARE, FORMAT, EXPLAIN, LIQUIDS };

static const struct front_option options[] = {
    [AT] = {"at", "TEMP", "the temperature, such as '25 degC' (default: none, equations instead)"},
    [SHARE] = {"share", "SHARE", "mass share of a mixture's first liquid, such as '70 %'"},
    [FORMAT] = {"format", "FORMAT", "text (default), csv or json"},
    [EXPLAIN] = {"explain", NULL, "show the equations and coefficients too"},
    [LIQUIDS] = {"liquids", "FILE", "property rows that replace or add to the built-in ones"},
};

static const struct front_tool tool = {
    "dregs-liquid", "[NAME]",
    "Prints the properties of a liquid or mixture with their sources. Without NAME lists what is "
    "known.",
    options, sizeof options / sizeof options[0]};

static int take_temperature(struct liquid_request *request, const char *argument)
{
    char message[DREGS_UNIT_MESSAGE];

    if (dregs_quantity_read(argument, "degC", &request->temperature, message))
        return front_usage("--at '%s': %s", argument, message);
    if (strstr(argument, "delta_"))
        return front_usage("--at '%s' is a difference; write it like '25 degC'", argument);
    if (!(request->temperature > 0.0))
        return front_usage("--at '%s' is not above absolute zero", argument);
    return 0;
}

static int take_share(struct liquid_request *request, const char *argument)
{
    char message[DREGS_UNIT_MESSAGE];

    if (dregs_quantity_read(argument, "%", &request->share, message))
        return front_usage("--share '%s': %s", argument, message);
    if (!(request->share >= 0.0 && request->share <= 1.0))
        return front_usage("--share '%s' is not between 0 and 100 %%", argument);
    return 0;
}

static int take(void *user, size_t option, const char *argument)
{
    struct liquid_request *request = user;

    switch ((enum option)option) {
    case AT:
        return take_temperature(request, argument);
    case SHARE:
        return take_share(request, argument);
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

/* The mixture that a name such as isopropanol-water means, NULL for none. */
static const dregs_mixture_row *find_pair(const dregs_mixtures *mixtures, const char *name)
{
    const dregs_mixture_row *row;
    size_t i;

    for (i = 0; (row = dregs_mixtures_row(mixtures, i)) != NULL; i++)
        if (strcmp(row->pair, name) == 0)
            return row;
    return NULL;
}

static int unknown(const struct liquid_answer *answer, const char *name)
{
    const char *near = dregs_liquids_nearest(answer->liquids, name);
    const char *pair = dregs_mixtures_nearest(answer->mixtures, name);

    if (!near || (pair && strlen(name) > strlen(near) + 1)) /* too long for a slip in a liquid */
        near = pair ? pair : near;
    if (near)
        return front_usage("unknown liquid '%s' (nearest: '%s')", name, near);
    return front_usage("unknown liquid '%s'; without a name the known ones are listed", name);
}

/* What the options ask for must fit what the name is. */
static int find_name(struct liquid_answer *answer)
{
    const struct liquid_request *request = answer->request;

    if (!request->name)
        return 0;
    if (!dregs_liquids_has(answer->liquids, request->name)) {
        answer->pair = find_pair(answer->mixtures, request->name);
        if (!answer->pair)
            return unknown(answer, request->name);
    }
    if (!answer->pair && !isnan(request->share))
        return front_usage("--share goes with a mixture, such as isopropanol-water");
    return 0;
}

static int check_request(const struct liquid_request *request)
{
    if (!request->name && !isnan(request->temperature))
        return front_usage("--at needs the name of a liquid");
    if (!request->name && !isnan(request->share))
        return front_usage("--share needs the name of a mixture");
    if (!request->name && request->explain)
        return front_usage("--explain needs the name of a liquid");
    if (request->explain && request->format != FRONT_TEXT)
        return front_usage("--explain is text; it goes with no other --format");
    return 0;
}

static int print(struct liquid_answer *answer)
{
    if (answer->request->format == FRONT_CSV)
        return liquid_page_csv(answer);
    return answer->request->format == FRONT_JSON ? liquid_page_json(answer)
                                                 : liquid_page_text(answer);
}

static int answer_request(const struct liquid_request *request)
{
    struct liquid_answer *answer = calloc(1, sizeof *answer);
    dregs_liquids *liquids = NULL;
    dregs_mixtures *mixtures = dregs_mixtures_new();
    dregs_regulations *regulations = dregs_regulations_new();
    int status = answer && mixtures && regulations
                     ? front_read_liquids(request->liquids_file, &liquids)
                     : front_say(FRONT_IO, "out of memory");

    if (!status) {
        answer->request = request;
        answer->liquids = liquids;
        answer->mixtures = mixtures;
        answer->regulations = regulations;
        status = find_name(answer);
    }
    if (!status && request->name) {
        if (answer->pair)
            liquid_mixture_facts(answer);
        else
            liquid_facts(answer, request->name);
        liquid_cautions(answer);
    }
    if (!status)
        status = print(answer);
    dregs_regulations_free(regulations);
    dregs_mixtures_free(mixtures);
    dregs_liquids_free(liquids);
    free(answer);
    return status;
}

int main(int argc, char **argv)
{
    struct liquid_request request = {0};
    int operand, status;

    request.temperature = request.share = NAN;
    front_begin(&tool);
    status = front_options(&tool, argc, argv, take, &request, &operand);
    if (status >= 0)
        return status;
    if (operand + 1 < argc)
        return front_usage("one liquid at a time");
    request.name = operand < argc ? argv[operand] : NULL;
    status = check_request(&request);
    return status ? status : front_end(answer_request(&request));
}
