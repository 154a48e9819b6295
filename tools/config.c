/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* config.c: the files of settings: where they are and which one counts. */
#include "config.h"
#include "front.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { FILES = 2, PATH = 4096 };

/* What was read, for as long as the program runs. */
static struct {
    char path[PATH];
    dregs_config_setting setting[CONFIG_KEYS];
} read_files[FILES];

/* Reads file number `at`; what it sets goes before what is set. */
static int read_file(size_t at, const char *const keys[CONFIG_KEYS],
                     struct config_value values[CONFIG_KEYS])
{
    const char *path = read_files[at].path;
    dregs_config_setting *setting = read_files[at].setting;
    dregs_faults faults = {0};
    dregs_status status;
    int exit_status = FRONT_DONE;
    size_t length, k;
    char *bytes;
    FILE *file = front_open(path, &exit_status);

    if (!file)
        return exit_status;
    bytes = malloc(DREGS_CONFIG_BYTES + 1);
    if (!bytes) {
        front_close(file);
        return front_say(FRONT_IO, "out of memory");
    }
    length = fread(bytes, 1, DREGS_CONFIG_BYTES + 1, file);
    if (ferror(file)) {
        exit_status = front_say(FRONT_IO, "%s: %s", path, strerror(errno));
    } else {
        status = dregs_config_parse(path, bytes, length, keys, CONFIG_KEYS, setting, &faults);
        exit_status = status ? front_faults(&faults, status) : FRONT_DONE;
    }
    for (k = 0; k < CONFIG_KEYS && !exit_status; k++)
        if (setting[k].line)
            values[k] = (struct config_value){path, setting[k].line, setting[k].value};
    free(bytes);
    front_close(file);
    return exit_status;
}

/* The same of one that need not be there. */
static int read_if_there(size_t at, const char *const keys[CONFIG_KEYS],
                         struct config_value values[CONFIG_KEYS])
{
    if (access(read_files[at].path, F_OK) != 0 && (errno == ENOENT || errno == ENOTDIR))
        return FRONT_DONE;
    return read_file(at, keys, values);
}

/* The user's own file, by the XDG Base Directory Specification 0.8: a path that is not absolute
 * does not count. 0 where there is no place for it. */
static int own_path(char path[PATH])
{
    const char *folder = getenv("XDG_CONFIG_HOME"), *home = getenv("HOME");
    int length = 0;

    if (folder && *folder == '/')
        length = snprintf(path, PATH, "%s/dregs/config", folder);
    else if (home && *home == '/')
        length = snprintf(path, PATH, "%s/.config/dregs/config", home);
    return length > 0 && length < PATH;
}

int config_read(const char *file, const char *const keys[CONFIG_KEYS],
                struct config_value values[CONFIG_KEYS])
{
    int status = FRONT_DONE;
    size_t k;

    for (k = 0; k < CONFIG_KEYS; k++)
        values[k] = (struct config_value){NULL, 0, NULL};
    if (file && strcmp(file, "none") == 0)
        return FRONT_DONE;
    if (file && strcmp(file, "-") == 0)
        return front_usage("--config cannot be standard input");
    if (file && strlen(file) >= PATH)
        return front_say(FRONT_IO, "%s: %s", file, strerror(ENAMETOOLONG));
    if (file) {
        snprintf(read_files[0].path, PATH, "%s", file);
        return read_file(0, keys, values);
    }
    if (own_path(read_files[0].path))
        status = read_if_there(0, keys, values);
    snprintf(read_files[1].path, PATH, ".dregs");
    return status ? status : read_if_there(1, keys, values);
}

const char *config_beside(const struct config_value *value)
{
    static char joined[PATH + DREGS_CONFIG_VALUE];
    const char *slash = strrchr(value->file, '/');
    int folder = slash ? (int)(slash - value->file) + 1 : 0;

    if (*value->value == '/')
        return value->value;
    snprintf(joined, sizeof joined, "%.*s%s", folder, value->file, value->value);
    return joined;
}
