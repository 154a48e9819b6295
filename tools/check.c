/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* check.c: dregs check, what a line file leaves to be done before its answers are believed. */
#include "dregs/answer_check.h"
#include "dregs/page.h"
#include "front.h"
#include "verbs.h"

static const struct front_tool tool = {
    .name = "dregs-check",
    .operands = "LINE",
    .purpose =
        "Reads a line file and says what is implausible in it, what is missing and for which "
        "question, and what is assumed. LINE is a line file, or - for standard input.",
    .kinds = 1,
    .check = "exit 1 when something is implausible",
    .example = "dregs example solvent-shop | dregs check -",
};

static int check(void *user, const char *file)
{
    const struct front_common *common = user;
    dregs_liquids *liquids = NULL;
    dregs_line *line = NULL;
    dregs_check_result *result = NULL;
    dregs_report *report = NULL;
    dregs_status made;
    int status = front_check(file, common);

    if (!status)
        status = front_read(file, common->liquids_file, &liquids, &line);
    if (!status) {
        made = dregs_check_answer(line, &result);
        if (!made)
            made = dregs_page_check(result, &report);
        status = front_report(made, report, common->format);
    }
    if (!status && common->check && result->count[DREGS_FINDING_IMPLAUSIBLE])
        status = FRONT_MISSED;
    dregs_check_result_free(result);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return status;
}

static int run_tool(int argc, char **argv)
{
    struct front_common common;

    return front_run(&tool, argc, argv, &common, NULL, check, &common);
}

const struct verb verb_check = {&tool, run_tool,
                                "what is missing, assumed or implausible in a line file"};
