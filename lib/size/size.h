/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* size.h: what the size module gives to the rooms above besides its public header: a sizing against
 * the draws of the values that have a spread.
 */
#ifndef DREGS_SIZE_SIZE_H
#define DREGS_SIZE_SIZE_H

#include "dregs/bound.h"
#include "dregs/ensemble.h"
#include "dregs/size.h"

/* As dregs_size, with a watch of its own in place of that of dregs_varied_watch; NULL: none. */
dregs_status dregs_size_watched(const dregs_varied *varied, dregs_criterion criterion, int by_cost,
                                dregs_size_progress *progress, void *user, dregs_sized **sized,
                                char *message);

struct size_doubt {
    dregs_criterion criterion;
    int by_cost;
    uint64_t draws, seed; /* the same draws for every trial */
    unsigned threads;
    double confidence; /* the probability with which the target is met, known by the draws as
                          dregs_size_rank has it; NaN: any will do */
    /* called while draws are asked, with the trials there were; NULL */
    dregs_size_progress *progress;
    void *user;
    unsigned *trials; /* lines that draws were asked of: counted here */
};

/* How many of so many draws must meet a target for it to be known, as dregs-predict judges, that it
 * is met with this probability: the lower end of the 95 % interval of the share reaches it. 0: no
 * share of so few draws tells that. */
uint64_t dregs_size_rank(double confidence, uint64_t draws);

/* How the draws of a line that was found stand to the target. */
struct size_stand {
    unsigned rows;       /* that are drawn; 0: nothing is in doubt, and the rest is not set */
    unsigned properties; /* of them those of liquids */
    uint64_t met;
    uint64_t residue_missed; /* how many miss it by the residue, as far as that is known */
    double excess; /* that so many draws do not exceed as the probability asks for; with NaN asked
                      not set */
    uint64_t bounded;  /* how many pass a bound of a concentration, that which most do: */
    dregs_bound bound; /* where there are any */
    int open;          /* of what came nearest: it is not shown that none in the range are met */
};

/* \param message  DREGS_SIZE_MESSAGE bytes, for a row that cannot be drawn.
 * \return DREGS_OK, DREGS_BAD_DATA, DREGS_DOMAIN, DREGS_NO_MEMORY. */
dregs_status dregs_size_stand(const dregs_line *line, const dregs_sized *sized,
                              const struct size_doubt *doubt, struct size_stand *stand,
                              char *message);

/* From what just meets the target to what meets it in the asked share of the draws.
 * \param stand  of `just`, which has more excess than 1; on success that of the answer.
 * \param sure   the answer, or NULL where no values in the range were found to be: then `stand` is
 *               that of the values that come nearest, which says too whether it is shown. */
dregs_status dregs_size_sure(const dregs_line *line, const dregs_sized *just,
                             const struct size_doubt *doubt, struct size_stand *stand,
                             dregs_sized **sure, char *message);

#endif
