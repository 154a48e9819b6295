/* SPDX-License-Identifier: GPL-3.0-or-later */
/* predict.h: what dregs-predict was asked and what the engine answered.
 *
 * Data flows one way: the request and the line make an answer (answer.c), a page prints it. The
 * pages compute nothing beyond units.
 */
#ifndef DREGS_PREDICT_H
#define DREGS_PREDICT_H

#include "front.h"

enum { LIMITS_MOST = DREGS_LINE_SOLUTES + 1 };

struct request {
    const char *file, *liquids_file;
    uint64_t loads; /* 0: as long as the line runs */
    uint64_t every; /* 0: 1, 2, 5, 10, 20, 50 ... */
    uint64_t *at;   /* ascending */
    size_t at_count;
    enum front_format format;
    int check, explain;
};

/* A limit of the target and how the line stands to it. */
struct verdict {
    int solute; /* DREGS_EVERY_SOLUTE for the sum */
    dregs_value limit;
    dregs_worst worst;
};

struct answer {
    const struct request *request;
    const dregs_line *line;
    dregs_map *map;
    uint64_t last; /* the last load printed, unless --at names loads */
    dregs_worst worst;
    dregs_residue worst_residue;
    dregs_worst shown;     /* the load shown stage by stage: the worst, or with --explain that of
                              --at */
    dregs_state *at_shown; /* the moment before it */
    dregs_residue shown_residue;
    int settles;        /* there is a periodic state */
    dregs_worst steady; /* its worst load */
    dregs_residue steady_residue;
    dregs_residue floor;
    struct verdict verdict[LIMITS_MOST];
    unsigned verdicts;
    int met; /* all limits */
    dregs_caution cautions[DREGS_CAUTIONS_MOST];
    unsigned caution_count;
};

/* Fills a zeroed answer. Returns FRONT_DONE or the status to exit with. */
int answer_fill(struct answer *answer, const struct request *request, const dregs_line *line);
void answer_clear(struct answer *answer);

/* Calls `print` for every load that was asked for, in order. Returns FRONT_DONE or FRONT_IO. */
typedef void answer_print(const struct answer *answer, uint64_t load, const dregs_state *state,
                          void *user);
int answer_each(const struct answer *answer, answer_print *print, void *user);

int page_text(const struct answer *answer);
int page_csv(const struct answer *answer);
int page_json(const struct answer *answer);
int page_explain(const struct answer *answer);

/* "total" or the solute's name */
const char *solute_name(const dregs_line *line, int solute);

#endif
