/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* config.h: a file of settings, lines `key = value`, as dregs-config(5) describes it.
 *
 * Blank lines and lines that begin with `#` are skipped; blanks around key and value do not count,
 * and the value reaches to the end of its line. What a key means is its reader's business. The
 * library looks for no such file by itself: this function reads the text that it is given.
 */
#ifndef DREGS_CONFIG_H
#define DREGS_CONFIG_H

#include "dregs/status.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** The most bytes of a file of settings, and of a value with its NUL. */
enum { DREGS_CONFIG_BYTES = 65536, DREGS_CONFIG_VALUE = 1024 };

/** What a key is set to. */
typedef struct dregs_config_setting {
    unsigned long line; /**< where it stands, from 1; 0: not set */
    char value[DREGS_CONFIG_VALUE];
} dregs_config_setting;

/** Reads a text of settings.
 *  \param name      what the file is called in messages.
 *  \param bytes     the text, \p length bytes in UTF-8, with or without a byte order mark.
 *  \param keys      the keys there are, \p count of them.
 *  \param settings  receives what each is set to, in the order of \p keys.
 *  \param faults    every fault with its line; may be NULL.
 *  \return DREGS_OK; DREGS_BAD_DATA (a line that is no setting, a key that is unknown or stands
 *  twice, a value that is empty or does not fit, more than DREGS_CONFIG_BYTES bytes, not UTF-8, a
 *  control character); DREGS_NO_MEMORY. */
DREGS_API dregs_status dregs_config_parse(const char *name, const char *bytes, size_t length,
                                          const char *const *keys, size_t count,
                                          dregs_config_setting *settings, dregs_faults *faults);

#ifdef __cplusplus
}
#endif
#endif
