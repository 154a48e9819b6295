/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* check.c: the answer of dregs check in JSON; it has no options of its own. */
#include "ask/job.h"
#include "dregs/answer_check.h"

static dregs_status take(dregs_asked *asked, const char *option, const char *text, char *message)
{
    (void)text;
    return dregs_ask_no_option(asked, option, message);
}

static void answer(struct ask_job *job)
{
    dregs_check_result *result = NULL;
    dregs_report *report = NULL;
    dregs_status status = dregs_ask_read(job);

    if (status)
        return;
    status = dregs_check_answer(job->read[0], &result);
    if (!status)
        status = dregs_page_check(result, &report);
    dregs_ask_write(job, status, report, NULL);
    dregs_check_result_free(result);
}

const struct ask_verb dregs_ask_verb_check = {"check", NULL, 0, 0, 1, 1, take, NULL, answer, 0};
