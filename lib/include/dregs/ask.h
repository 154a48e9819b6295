/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* ask.h: what the tools can be asked, in words.
 *
 * dregs_ask is the whole of it for languages that cannot include the headers: a request in JSON,
 * with the text of the line in it, and the answer in JSON, the same document that the tool prints
 * with --format json. dregs-json(7) describes both.
 *
 * Behind it stands what is asked of one verb, a dregs_asked: options by the names that they have on
 * the command line, each with its argument as a text. The tools read theirs through it, too.
 */
#ifndef DREGS_ASK_H
#define DREGS_ASK_H

#include "dregs/answer_dry.h"
#include "dregs/answer_predict.h"
#include "dregs/answer_reuse.h"
#include "dregs/answer_size.h"
#include "dregs/answer_tally.h"
#include "dregs/page.h"

#ifdef __cplusplus
extern "C" {
#endif

/** Answers a request. Several threads may ask at once. GSL's error handler is off meanwhile, as by
 *  dregs_gsl_hold.
 *  \param request  a JSON object, in UTF-8: "verb", the texts of files, options.
 *  \param answer   a JSON object that ends in a line feed, to be freed with dregs_ask_free; set
 *                  whatever is returned. A report on success; else what is wrong, with the lines of
 *                  the files. NULL only when there is no memory even for that.
 *  \return DREGS_OK; DREGS_UNKNOWN (a verb or an option that there is not); DREGS_BAD_DATA (no
 *  request, an argument that is none, a file that is none); else the status of what failed. */
DREGS_API dregs_status dregs_ask(const char *request, char **answer);

/** Frees an answer; NULL is none. */
DREGS_API void dregs_ask_free(char *answer);

/* ---- what is asked of one verb ---- */

enum { DREGS_ASK_MESSAGE = 1024 };

/** The arguments of --draws, --seed and --threads. */
typedef struct dregs_ask_draws {
    int given;      /**< 1: --draws was */
    uint64_t draws; /**< 0: none */
    uint64_t seed;
    unsigned threads; /**< 0: as many as there are processors */
} dregs_ask_draws;

/** None given, seed 1. */
DREGS_API void dregs_ask_draws_init(dregs_ask_draws *draws);

/** Takes the argument of one of the three, by its name.
 *  \param message  DREGS_ASK_MESSAGE bytes for the reason.
 *  \return DREGS_OK, DREGS_UNKNOWN, DREGS_BAD_DATA. */
DREGS_API dregs_status dregs_ask_draws_take(dregs_ask_draws *draws, const char *option,
                                            const char *text, char *message);

/** Takes the argument of --units.
 *  \param text     "si" or "us".
 *  \param message  DREGS_ASK_MESSAGE bytes for the reason.
 *  \return DREGS_OK, DREGS_BAD_DATA. */
DREGS_API dregs_status dregs_ask_units(const char *text, dregs_units *units, char *message);

/** The request that asks for these draws.
 *  \param usual  how many where --draws was not given; 0: none. */
DREGS_API void dregs_ask_draws_request(const dregs_ask_draws *draws, uint64_t usual,
                                       dregs_doubt_request *request);

/** A whole number in decimal digits, from 1 to DREGS_LOADS_MOST; 0 when \p text is none. */
DREGS_API uint64_t dregs_ask_count(const char *text);

/** A quantity as the argument of an option: "20 um".
 *  \param like       an example of an allowed unit.
 *  \param low, high  the ends of the allowed range, in SI, which belong to it.
 *  \param si         receives the value.
 *  \param message    DREGS_ASK_MESSAGE bytes for the reason, which begins with the option.
 *  \return DREGS_OK, DREGS_BAD_DATA. */
DREGS_API dregs_status dregs_ask_quantity(const char *option, const char *text, const char *like,
                                          double low, double high, double *si, char *message);

/** A line with loads of several kinds, for a verb that would answer as if all were the first.
 *  \return DREGS_OK when there is one kind; else DREGS_BAD_DATA, with the fault at the row of the
 *  sequence. */
DREGS_API dregs_status dregs_ask_one_kind(const dregs_line *line, dregs_faults *faults);

typedef struct dregs_asked dregs_asked;

/** What a verb is asked when no option is given.
 *  \param verb  "predict", "size", "dry", "reuse", "tally" or "check".
 *  \return DREGS_OK, DREGS_UNKNOWN, DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_asked_new(const char *verb, dregs_asked **asked);
DREGS_API void dregs_asked_free(dregs_asked *asked);

/** Option \p index of the verb in JSON, in their order: those of its own, then those that verbs
 *  share; NULL past the end. */
DREGS_API const char *dregs_asked_option(const dregs_asked *asked, unsigned index);

/** Takes an option.
 *  \param option   its name, without dashes.
 *  \param text     its argument, which must outlive \p asked; not read of an option without one.
 *  \param message  DREGS_ASK_MESSAGE bytes for the reason, which names the option as "--loads".
 *  \return DREGS_OK; DREGS_UNKNOWN (the verb has no such option); DREGS_BAD_DATA; DREGS_NO_MEMORY.
 */
DREGS_API dregs_status dregs_asked_take(dregs_asked *asked, const char *option, const char *text,
                                        char *message);

/** What only shows once all options are taken: whether they go together.
 *  \param lines     line files that are asked about; of dry 0 or 1.
 *  \param accounts  of tally: lines, or sites of several, that are told of side by side.
 *  \param beside    1: a log, of reuse.
 *  \return DREGS_OK, DREGS_BAD_DATA. */
DREGS_API dregs_status dregs_asked_check(dregs_asked *asked, unsigned lines, unsigned accounts,
                                         int beside, char *message);

/** The request of a verb, which belongs to \p asked and may be changed; NULL for another verb. Of
 *  tally the question, without lines. */
DREGS_API dregs_predict_request *dregs_asked_predict(dregs_asked *asked);
DREGS_API dregs_size_request *dregs_asked_size(dregs_asked *asked);
DREGS_API dregs_dry_request *dregs_asked_dry(dregs_asked *asked);
DREGS_API dregs_reuse_request *dregs_asked_reuse(dregs_asked *asked);
DREGS_API dregs_tally_question *dregs_asked_tally(dregs_asked *asked);

/** The draws that are asked for. */
DREGS_API dregs_ask_draws *dregs_asked_draws(dregs_asked *asked);

/** Of size: puts what is varied and the draws into its request, for a line, which must outlive \p
 *  asked. \return DREGS_OK, DREGS_NO_MEMORY, DREGS_BAD_DATA with the reason. */
DREGS_API dregs_status dregs_asked_vary(dregs_asked *asked, const dregs_line *line, char *message);
/** Of size: how many properties are varied. */
DREGS_API unsigned dregs_asked_varied(const dregs_asked *asked);

/** Of dry: is the liquid of the request, if it names one, known?
 *  \return DREGS_OK; DREGS_UNKNOWN with the reason. */
DREGS_API dregs_status dregs_asked_known(const dregs_asked *asked, const dregs_liquids *liquids,
                                         char *message);

/** Of reuse: 1 for --measure-drag-out. */
DREGS_API int dregs_asked_measures(const dregs_asked *asked);

/** Of tally: the view, which may be changed; whether the year is one by its dates; the arguments of
 *  --calendar and --actual, NULL for none. */
DREGS_API dregs_tally_view *dregs_asked_view(dregs_asked *asked);
DREGS_API int dregs_asked_by_dates(const dregs_asked *asked);
DREGS_API const char *dregs_asked_calendar(const dregs_asked *asked);
DREGS_API const char *dregs_asked_actual(const dregs_asked *asked);

/** Of tally: the densities that purchases of a line are read with, kg/m3, one for each of
 *  dregs_line_fluids.
 *  \return DREGS_OK; DREGS_BAD_DATA, with the reason (the line has no year to set purchases
 *  beside); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_asked_densities(const dregs_asked *asked, const dregs_line *line,
                                             double *density, char *message);

#ifdef __cplusplus
}
#endif
#endif
