/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dry.h: dregs-dry's pages print what the library answered. */
#ifndef DREGS_TOOL_DRY_H
#define DREGS_TOOL_DRY_H

#include "front.h"

/* What the pages are made of. */
struct dry {
    const dregs_dry_result *result;
    const char *line; /* its name; NULL without one */
};

int dry_page_json(const struct dry *dry);

#endif
