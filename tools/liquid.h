/* SPDX-License-Identifier: GPL-3.0-or-later */
/* liquid.h: dregs-liquid's pages print what the library answered. */
#ifndef DREGS_TOOL_LIQUID_H
#define DREGS_TOOL_LIQUID_H

#include "front.h"

/* What was asked. */
struct asked {
    dregs_liquid_request request; /* its name is NULL: list what is known */
    const char *liquids_file;
    enum front_format format;
    int explain;
};

/* The answer for one liquid or mixture. They return the status to exit with, as all below. */
int liquid_page_text(const struct asked *asked, const dregs_liquid_result *result);
int liquid_page_csv(const struct asked *asked, const dregs_liquid_result *result);
int liquid_page_json(const struct asked *asked, const dregs_liquid_result *result);

/* What is known: all liquids, and the names of the mixtures. */
int liquid_list_text(const dregs_liquids *liquids, const dregs_mixtures *mixtures);
int liquid_list_csv(const dregs_liquids *liquids);
int liquid_list_json(const dregs_liquids *liquids, const dregs_mixtures *mixtures);

/* Asks the library; says why where it gives no answer. Returns FRONT_DONE or the status to exit
 * with. */
int liquid_ask(const dregs_liquid_request *request, const dregs_liquids *liquids,
               dregs_liquid_result **result);

#endif
