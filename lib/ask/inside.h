/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* inside.h: what is asked of a verb, for the files of this room; not for others. */
#ifndef DREGS_ASK_INSIDE_H
#define DREGS_ASK_INSIDE_H

#include "dregs/ask.h"

/* What an option holds. */
enum ask_kind {
    ASK_WORD, /* a text, or in JSON a number */
    ASK_FLAG, /* nothing: in JSON true */
    ASK_LIST, /* what may be said again: in JSON an array, too */
    ASK_FILE, /* a file: in JSON its text */
    ASK_SITES /* sites with their lines: in JSON objects of a name and files */
};

struct ask_option {
    const char *name;
    enum ask_kind kind;
};

struct ask_job;

/* A verb, with the options that it has in JSON too. */
struct ask_verb {
    const char *name;
    const struct ask_option *option;
    unsigned options;
    int draws; /* it has --draws, --seed and --threads */
    unsigned lines_least, lines_most;
    dregs_status (*take)(dregs_asked *asked, const char *option, const char *text, char *message);
    dregs_status (*check)(dregs_asked *asked, unsigned lines, unsigned accounts, int beside,
                          char *message);
    void (*answer)(struct ask_job *job); /* in JSON */
    int explains;                        /* it has --explain */
};

extern const struct ask_verb dregs_ask_verb_check, dregs_ask_verb_dry, dregs_ask_verb_predict,
    dregs_ask_verb_reuse, dregs_ask_verb_size, dregs_ask_verb_tally;

struct dregs_asked {
    const struct ask_verb *verb;
    dregs_ask_draws draws;
    int explain, write, card;
    dregs_predict_request predict;
    uint64_t *at; /* what `predict` points to */
    dregs_size_request size;
    const char *vary[DREGS_VARIED_MOST];
    unsigned varies;
    dregs_varied *varied; /* what `size` points to */
    dregs_dry_request dry;
    dregs_reuse_request reuse;
    int measure, since;
    dregs_tally_question tally;
    int span_given, site_given, head_given, sited;
    dregs_tally_dates dates;
    dregs_site site;
    dregs_tally_head head;
    dregs_tally_view view;
    dregs_units units;
    const char *calendar, *actual;
};

/* Puts the words into the message; returns DREGS_BAD_DATA. */
dregs_status dregs_ask_refuse(char *message, const char *format, ...) DREGS_FORMAT(2, 3);

/* No option of that name; returns DREGS_UNKNOWN. */
dregs_status dregs_ask_no_option(const dregs_asked *asked, const char *option, char *message);

/* The place of a word in a list; -1 for none. */
int dregs_ask_word(const char *word, const char *const *words, int count);

/* The option of the verb by that name; NULL for none. */
const struct ask_option *dregs_ask_option(const struct ask_verb *verb, const char *name);

#endif
