/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* config.h: files of settings, which stand for options that the command line leaves out; see
 * dregs-config(5).
 */
#ifndef DREGS_TOOLS_CONFIG_H
#define DREGS_TOOLS_CONFIG_H

#include "dregs/config.h"

enum { CONFIG_KEYS = 5 };

/* What a key is set to, and where. */
struct config_value {
    const char *file; /* NULL: it is not set */
    unsigned long line;
    const char *value;
};

/* Reads `file`, or none where that is "none"; where it is NULL the user's own file and then .dregs
 * of this folder, which goes before the other one, as far as they are there. `keys`: CONFIG_KEYS
 * names. Returns FRONT_DONE or the status to exit with. */
int config_read(const char *file, const char *const keys[CONFIG_KEYS],
                struct config_value values[CONFIG_KEYS]);

/* A value that is the name of a file, which is looked for in the folder of the file of settings. */
const char *config_beside(const struct config_value *value);

#endif
