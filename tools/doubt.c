/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* doubt.c: arguments of options of many draws, the question, progress, and Ctrl-C. */
#include "doubt.h"

#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

static volatile sig_atomic_t interrupted;
static struct sigaction before;

int doubt_take(dregs_ask_draws *draws, const char *option, const char *text)
{
    char message[DREGS_ASK_MESSAGE];

    return dregs_ask_draws_take(draws, option, text, message) ? front_usage("%s", message) : 0;
}

static void interrupt(int signal)
{
    (void)signal;
    interrupted = 1;
}

static void begin_watch(struct front_watch *watch)
{
    struct sigaction action;

    front_watch_begin(watch);
    memset(&action, 0, sizeof action);
    action.sa_handler = interrupt;
    sigemptyset(&action.sa_mask);
    sigaction(SIGINT, NULL, &before);
    if (before.sa_handler != SIG_IGN) /* a job in the background stays deaf to it */
        sigaction(SIGINT, &action, NULL);
}

static void end_watch(struct front_watch *watch)
{
    sigaction(SIGINT, &before, NULL);
    front_watch_end(watch);
}

static int progress(void *user, uint64_t done, uint64_t draws)
{
    struct front_watch *watch = user;

    if (front_watch_due(watch)) {
        double left = (watch->shown - watch->since) * ((double)draws / (double)done - 1);
        fprintf(stderr,
                "\r%2.0f %% of the draws done, %.0f s left (Ctrl-C: answer from these)\033[K",
                100 * (double)done / (double)draws, ceil(left));
    }
    return interrupted;
}

int doubt_ask(const dregs_doubt_request *request, doubt_question *ask, void *user)
{
    dregs_faults faults = {0};
    dregs_doubt_request asked = *request;
    struct front_watch watch;
    dregs_status status;

    if (!request->draws)
        return FRONT_DONE;
    begin_watch(&watch);
    asked.progress = progress;
    asked.user = &watch;
    status = ask(user, &asked, &faults);
    end_watch(&watch);
    if (faults.count)
        return front_faults(&faults, status);
    return status ? front_say(FRONT_IO, "%s", dregs_status_text(status)) : FRONT_DONE;
}

int doubt_end(int status)
{
    if (!interrupted)
        return status;
    (void)front_end(status);
    signal(SIGINT, SIG_DFL);
    raise(SIGINT);
    return status;
}
