/* SPDX-License-Identifier: GPL-3.0-or-later */
/* caution.h: the usual cautions that a line's own numbers call for.
 *
 * Cautions are data: an id, a condition with its threshold, a source, a sentence. They are not
 * advice for a site: the local code and licensed practice decide.
 */
#ifndef DREGS_CAUTION_H
#define DREGS_CAUTION_H

#include "dregs/line.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { DREGS_CAUTION_TEXT = 640, DREGS_CAUTIONS_MOST = 48 };

typedef struct dregs_caution_rule {
    const char *id;        /**< "flash point", "heated", ... */
    const char *condition; /**< when it is given, in words */
    double threshold;      /**< the number in the condition, in `unit`; NaN where there is none */
    const char *unit;
    const char *source; /**< citation, or "common practice, no source" */
} dregs_caution_rule;

typedef struct dregs_caution {
    const dregs_caution_rule *rule;
    char text[DREGS_CAUTION_TEXT]; /**< with the stages and numbers it rests on */
} dregs_caution;

/** Rule \p index (0, 1, ...) or NULL past the end. */
DREGS_API const dregs_caution_rule *dregs_caution_rule_at(size_t index);

/** Fills \p cautions (room for DREGS_CAUTIONS_MOST), at most one for a rule and solvent, in
 *  the order of the rules. \return how many. */
DREGS_API unsigned dregs_cautions(const dregs_line *line, dregs_caution *cautions);

/** The sentence that stands below all cautions. */
DREGS_API const char *dregs_caution_deference(void);

#ifdef __cplusplus
}
#endif
#endif
