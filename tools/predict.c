/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* predict.c: dregs-predict, what a line leaves on the parts. */
#include "doubt.h"
#include "dregs/answer_compare.h"
#include "dregs/answer_predict.h"
#include "dregs/page.h"
#include "each.h"
#include "front.h"
#include "parts.h"
#include "verbs.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum option { LOADS, EVERY, AT, SHARD, SAVE, MERGE, EACH };

static const struct front_option options[] = {
    [LOADS] = {"loads", "N",
               "the first N loads from the fresh start (default: as long as it runs)"},
    [EVERY] = {"every", "K", "print every K-th load (default: 1, 2, 5, 10, 20, 50, ...)"},
    [AT] = {"at", "LOAD", "print this load only; may be repeated; any number"},
    [SHARD] = {"shard", "K/N", "draw part K of N only; with --draws and --save"},
    [SAVE] = {"save", "FILE", "write the draws to FILE in place of a page"},
    [MERGE] = {"merge", NULL, "answer from the parts that --save wrote, named behind LINE"},
    [EACH] = {"each", NULL, "a row in CSV for each LINE, or for each that standard input names"},
};

static const struct front_tool tool = {
    .name = "dregs-predict",
    .operands = "LINE",
    .purpose = "Predicts what a cleaning line leaves on the parts. LINE is a line file, or - for "
               "standard input; two are set side by side.",
    .options = options,
    .option_count = sizeof options / sizeof options[0],
    .kinds = 1,
    .check = "exit 1 when the worst load misses the target",
    .force = "with --save: overwrite FILE where it exists",
    .explain = "show the working: equations, numbers, units, sources",
    .wide = 1,
    .draws = 1,
    .example = "dregs example aqueous-line | dregs predict --check -",
};

struct request {
    const char *file;
    dregs_asked *words;           /* what is asked, and */
    dregs_predict_request *asked; /* the request in it */
    struct front_common common;
    dregs_ensemble_part part; /* to be saved, or as merged */
    const char *save;
    int merge, each;
    char **parts; /* files to be merged */
    int part_count;
    dregs_ensemble_result *counted; /* what they hold together */
};

static int take(void *user, size_t option, const char *argument)
{
    struct request *request = user;

    switch ((enum option)option) {
    case LOADS:
    case EVERY:
    case AT:
        return front_ask(request->words, options[option].name, argument);
    case SHARD:
        return parts_shard(argument, &request->part.shard, &request->part.shards);
    case SAVE:
        request->save = argument;
        return 0;
    case MERGE:
        request->merge = 1;
        return 0;
    default:
        request->each = 1;
        return 0;
    }
}

/* What only shows once all options are read, with so many lines. */
static int check_request(const struct request *request, unsigned lines)
{
    int status = front_ask_check(request->words, &request->common, lines, lines, 0);

    if (status)
        return status;
    if (request->part.shards && (!request->save || !request->common.draws.given))
        return front_usage("--shard goes with --draws and --save");
    if (request->save && (!request->common.draws.draws || request->merge || request->common.check ||
                          request->common.explain || request->common.format != FRONT_TEXT))
        return front_usage("--save goes with --draws, and with no --merge, --check, --explain or "
                           "--format");
    if (request->merge && (request->common.draws.given || request->common.draws.seed != 1))
        return front_usage("--merge takes draws and seed from the parts");
    return FRONT_DONE;
}

static int ask(struct request *request, const dregs_line *line, dregs_predict_result **result)
{
    dregs_status status;

    if (request->common.check && !dregs_line_target_name(line))
        return front_say(FRONT_BAD_DATA, "%s: --check needs a target, and the line states none",
                         dregs_line_name(line));
    if (request->save) /* nothing else is written */
        request->asked->extent = DREGS_PREDICT_RESIDUES;
    status = dregs_predict_answer(line, request->asked, result);
    return status ? front_say(status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s: %s",
                              dregs_line_name(line), dregs_status_text(status))
                  : FRONT_DONE;
}

/* The draws that others have counted: known before the line is asked, for the seed is theirs. */
static int merge(struct request *request)
{
    int status = FRONT_DONE;

    if (request->merge)
        status =
            parts_merge(request->parts, request->part_count, &request->part, &request->counted);
    if (request->merge && !status) {
        request->asked->seed = request->common.draws.seed = request->part.seed;
        request->asked->draws = request->part.draws;
    }
    return status;
}

/* Which draws are asked for: all, those of a part, or those counted before. */
static int choose_draws(struct request *request, const dregs_predict_result *result,
                        dregs_doubt_request *asked)
{
    dregs_ensemble_part *part = &request->part;

    dregs_ask_draws_request(&request->common.draws,
                            dregs_ensemble_usual(dregs_map_line(result->map)), asked);
    if (request->merge) {
        asked->draws = part->draws;
        asked->counted = request->counted;
        return FRONT_DONE;
    }
    part->draws = asked->draws;
    part->seed = asked->seed;
    if (part->shards &&
        dregs_ensemble_shard(part->draws, part->shard, part->shards, &asked->first, &asked->draws))
        return front_usage("--shard: more parts than draws");
    return FRONT_DONE;
}

/* What was answered, and how sure it is. */
struct answered {
    struct request *request;
    dregs_predict_result *result;
    dregs_predict_doubt *doubt;
};

static dregs_status not_the_parts(const struct request *request, dregs_faults *faults)
{
    dregs_fault *fault = &faults->fault[faults->count++];

    snprintf(faults->file, sizeof faults->file, "%s", request->parts[0]);
    snprintf(fault->text, sizeof fault->text, "not the parts of this line with these options");
    return DREGS_DOMAIN;
}

static dregs_status ask_doubt(void *user, const dregs_doubt_request *asked, dregs_faults *faults)
{
    struct answered *answered = user;
    struct request *request = answered->request;
    dregs_status status =
        dregs_predict_doubt_ask(answered->result, asked, &answered->doubt, faults);
    const dregs_predict_doubt *doubt = answered->doubt;

    if (!request->merge || faults->count)
        return status;
    if (!status)
        request->counted = NULL; /* the answer has taken it over */
    if (status == DREGS_DOMAIN ||
        (!status && dregs_ensemble_digest(doubt->run.ensemble, doubt->run.counts,
                                          request->part.draws) != request->part.digest))
        return not_the_parts(request, faults);
    return status;
}

static int save(struct request *request, const dregs_line *line, const dregs_predict_doubt *doubt)
{
    dregs_ensemble_part *part = &request->part;

    if (!doubt)
        return front_say(FRONT_BAD_DATA,
                         "%s: no value that matters here has a spread: nothing to "
                         "draw",
                         dregs_line_name(line));
    if (doubt->run.draws < doubt->run.asked)
        return front_say(FRONT_IO, "ended before all draws were done: %s is not written",
                         request->save);
    if (!part->shards)
        part->shard = part->shards = 1;
    part->digest = dregs_ensemble_digest(doubt->run.ensemble, doubt->run.counts, part->draws);
    return parts_save(request->save, doubt->run.counts, part);
}

/* Met, and met as surely as the target asks. */
static int is_met(const dregs_predict_result *result, const dregs_predict_doubt *doubt)
{
    return doubt && doubt->confidence >= 0 ? doubt->sure : result->met;
}

static int page(const struct request *request, const dregs_line *line,
                const dregs_predict_result *result, const dregs_predict_doubt *doubt)
{
    dregs_report *report = NULL, *working = NULL;
    dregs_status status = dregs_page_predict_with(line, request->asked, result, doubt,
                                                  front_explains(&request->common), &report);

    if (!status && front_works(&request->common))
        status = dregs_page_predict(line, request->asked, result, 1, &working);
    return front_report_with(status, report, working, request->common.format);
}

static int predict(void *user, const char *file)
{
    struct request *request = user;
    dregs_liquids *liquids = NULL;
    dregs_line *line = NULL;
    struct answered answered = {request, NULL, NULL};
    dregs_doubt_request draws;
    int status;

    request->file = file;
    status = check_request(request, 1);
    if (!status)
        status = front_check(file, &request->common);
    if (!status)
        status = front_read(file, request->common.liquids_file, &liquids, &line);
    if (!status && request->save)
        status = front_may_write(request->save);
    if (!status)
        status = merge(request);
    if (!status)
        status = ask(request, line, &answered.result);
    if (!status)
        status = choose_draws(request, answered.result, &draws);
    if (!status)
        status = doubt_ask(&draws, ask_doubt, &answered);
    if (!status)
        status = request->save ? save(request, line, answered.doubt)
                               : page(request, line, answered.result, answered.doubt);
    if (!status && request->common.check && !is_met(answered.result, answered.doubt))
        status = FRONT_MISSED;
    dregs_ensemble_result_free(request->counted);
    dregs_predict_doubt_free(answered.doubt);
    dregs_predict_result_free(answered.result);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return doubt_end(status);
}

static int predict_each(const struct request *request, char **files, int count)
{
    struct each each = {request->common, request->asked};

    if (request->merge || request->save || request->common.explain || request->common.wide ||
        request->asked->at_count || request->asked->every)
        return front_usage("--each goes with --loads, --draws, --seed, --threads, --check, "
                           "--format and --liquids only");
    if (each.common.format == FRONT_TEXT)
        each.common.format = FRONT_CSV;
    return each_line(&each, files, count);
}

/* Two lines beside each other, and how sure that is. */
struct compared {
    dregs_compare_result *result;
    dregs_compare_doubt *doubt;
};

static dregs_status ask_compared(void *user, const dregs_doubt_request *draws, dregs_faults *faults)
{
    struct compared *compared = user;

    return dregs_compare_doubt_ask(compared->result, draws, &compared->doubt, faults);
}

/* Does a line meet its target, as surely as that asks? */
static int compared_met(const struct compared *compared, int which)
{
    const dregs_compare_doubt *doubt = compared->doubt;
    const dregs_predict_result *of = which ? compared->result->of_b : compared->result->of_a;

    return doubt && doubt->confidence[which] >= 0 ? doubt->sure[which] : of->met;
}

static int page_compared(const struct request *request, const struct compared *compared)
{
    dregs_report *report = NULL, *working = NULL;
    dregs_status status = dregs_page_compare_with(compared->result, compared->doubt,
                                                  front_explains(&request->common), &report);

    if (!status && front_works(&request->common))
        status = dregs_page_compare_with(compared->result, compared->doubt, 1, &working);
    return front_report_with(status, report, working, request->common.format);
}

/* The page of two lines, and whether both meet their targets. */
static int say_compared(const struct request *request, const dregs_line *const line[2])
{
    dregs_compare_request asked;
    struct compared compared = {NULL, NULL};
    dregs_doubt_request draws;
    dregs_status status;
    int exit_status;

    dregs_compare_request_init(&asked);
    asked.loads = request->asked->loads;
    status = dregs_compare_answer(line[0], line[1], &asked, &compared.result);
    if (status)
        return front_say(status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s, %s: %s",
                         dregs_line_name(line[0]), dregs_line_name(line[1]),
                         dregs_status_text(status));
    dregs_ask_draws_request(&request->common.draws, dregs_compare_doubt_usual(compared.result),
                            &draws);
    exit_status = doubt_ask(&draws, ask_compared, &compared);
    if (!exit_status)
        exit_status = page_compared(request, &compared);
    if (!exit_status && request->common.check &&
        !(compared_met(&compared, 0) && compared_met(&compared, 1)))
        exit_status = FRONT_MISSED;
    dregs_compare_doubt_free(compared.doubt);
    dregs_compare_result_free(compared.result);
    return exit_status;
}

/* Two lines side by side. */
static int compare(const struct request *request, char **files)
{
    dregs_liquids *liquids = NULL;
    dregs_line *line[2] = {NULL, NULL};
    int status, i;

    if (request->save)
        return front_usage("two lines go with --loads, --draws, --seed, --threads, --check, "
                           "--format, --explain, --cautions and --liquids only");
    status = check_request(request, 2);
    if (status)
        return status;
    if (strcmp(files[0], "-") == 0 && strcmp(files[1], "-") == 0)
        return front_usage("two lines cannot both be standard input");
    status = front_check(strcmp(files[1], "-") == 0 ? files[1] : files[0], &request->common);
    if (!status)
        status = front_read_liquids(request->common.liquids_file, &liquids);
    for (i = 0; i < 2 && !status; i++) {
        status = front_read_line(files[i], liquids, &line[i]);
        if (!status && request->common.check && !dregs_line_target_name(line[i]))
            status =
                front_say(FRONT_BAD_DATA, "%s: --check needs a target, and the line states none",
                          dregs_line_name(line[i]));
    }
    if (!status)
        status = say_compared(request, (const dregs_line *const *)line);
    dregs_line_free(line[0]);
    dregs_line_free(line[1]);
    dregs_liquids_free(liquids);
    return doubt_end(status);
}

/* The operands: the line, and with --merge the parts behind it. */
static int run(struct request *request, char **operands, int count)
{
    if (request->each)
        return front_end(predict_each(request, operands, count));
    if (count < 1)
        return front_usage("no line file given");
    if (request->merge && count < 2)
        return front_usage("--merge: no part is named behind the line file");
    if (!request->merge && count > 2)
        return front_usage("at most two line files, set side by side; --each takes any number");
    if (!request->merge && count == 2)
        return front_end(compare(request, operands));
    request->parts = operands + 1;
    request->part_count = count - 1;
    return front_end(predict(request, operands[0]));
}

static int run_tool(int argc, char **argv)
{
    struct request request = {0};
    int status, operand;

    front_begin(&tool);
    status = front_asked(&tool, &request.words);
    if (status)
        return status;
    request.asked = dregs_asked_predict(request.words);
    status = front_options(&tool, argc, argv, &request.common, take, &request, &operand);
    if (status < 0)
        status = run(&request, argv + operand, argc - operand);
    dregs_asked_free(request.words);
    return status;
}

const struct verb verb_predict = {&tool, run_tool, "what a line leaves on the parts, load by load"};
