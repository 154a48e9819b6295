/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* each.h: many lines, a row for each. */
#ifndef DREGS_TOOLS_EACH_H
#define DREGS_TOOLS_EACH_H

#include "doubt.h"

struct each {
    struct front_common common;
    const dregs_predict_request *asked;
};

/* Predicts each of the files; with none, those that standard input names, one on a line. A file
 * that cannot be read, or used, is said on standard error and has a row without numbers; the others
 * go on. Memory does not grow with their number. Returns the status to exit with. */
int each_line(const struct each *each, char **files, int count);

#endif
