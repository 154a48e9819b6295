/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* files.c: the files that the tools read and write. */
#include "front.h"
#include "publish.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* What may be overwritten: the line files that were read, and with --force every file. */
static struct {
    int force;
    struct {
        dev_t device;
        ino_t inode;
    } line[2];
    unsigned lines;
} own;

void front_force(void)
{
    own.force = 1;
}

static void remember_line(const char *name)
{
    unsigned most = sizeof own.line / sizeof own.line[0];
    struct stat about;

    if (own.lines < most &&
        (strcmp(name, "-") == 0 ? fstat(STDIN_FILENO, &about) : stat(name, &about)) == 0) {
        own.line[own.lines].device = about.st_dev;
        own.line[own.lines++].inode = about.st_ino;
    }
}

static int is_own(const struct stat *about)
{
    unsigned i;

    for (i = 0; i < own.lines; i++)
        if (own.line[i].device == about->st_dev && own.line[i].inode == about->st_ino)
            return 1;
    return 0;
}

FILE *front_open(const char *name, int *status)
{
    struct stat about;
    FILE *file;

    if (strcmp(name, "-") == 0)
        return front_keep(name, stdin, status);
    file = fopen(name, "rb");
    if (!file) {
        *status = front_say(FRONT_IO, "%s: %s", name, strerror(errno));
        return NULL;
    }
    if (fstat(fileno(file), &about) == 0 && S_ISDIR(about.st_mode)) {
        fclose(file);
        *status = front_say(FRONT_BAD_DATA, "%s: is a directory, not a file", name);
        return NULL;
    }
    return front_keep(name, file, status);
}

void front_close(FILE *file)
{
    if (file != stdin)
        fclose(file);
}

/* Closes a file that was read, and says what was wrong in it. */
static int end_read(FILE *file, const dregs_faults *faults, dregs_status status)
{
    front_close(file);
    return status ? front_faults(faults, status) : FRONT_DONE;
}

const char *front_shown(const char *name)
{
    return strcmp(name, "-") == 0 ? "standard input" : name;
}

static int read_liquids(const char *name, dregs_liquids *liquids)
{
    const char *shown = front_shown(name);
    dregs_faults faults = {0};
    dregs_status status;
    int exit_status = FRONT_DONE;
    size_t length;
    char *bytes;
    FILE *file = front_open(name, &exit_status);

    if (!file)
        return exit_status;
    bytes = malloc(DREGS_LINE_BYTES + 1);
    if (!bytes) {
        front_close(file);
        return front_say(FRONT_IO, "out of memory");
    }
    length = fread(bytes, 1, DREGS_LINE_BYTES + 1, file);
    if (ferror(file)) {
        exit_status = front_say(FRONT_IO, "%s: %s", shown, strerror(errno));
    } else if (length > DREGS_LINE_BYTES) {
        exit_status = front_say(FRONT_BAD_DATA, "%s: larger than any table of liquids", shown);
    } else {
        snprintf(faults.file, sizeof faults.file, "%s", shown);
        status = dregs_liquids_add(liquids, shown, bytes, length, &faults);
        if (status)
            exit_status = front_faults(&faults, status);
        else
            front_read_dialect(name, dregs_liquids_dialect(liquids));
    }
    free(bytes);
    front_close(file);
    return exit_status;
}

int front_read_liquids(const char *liquids_file, dregs_liquids **liquids)
{
    *liquids = dregs_liquids_new();
    if (!*liquids)
        return front_say(FRONT_IO, "out of memory");
    return liquids_file ? read_liquids(liquids_file, *liquids) : FRONT_DONE;
}

/* A tool that does not know of several kinds of loads would answer as if all were the first. */
static int check_kinds(const dregs_line *line)
{
    dregs_faults faults = {0};
    dregs_status status = front_takes_kinds() ? DREGS_OK : dregs_ask_one_kind(line, &faults);

    return status ? front_faults(&faults, status) : FRONT_DONE;
}

int front_read_line(const char *line_file, const dregs_liquids *liquids, dregs_line **line)
{
    dregs_faults faults = {0};
    int status = FRONT_DONE;
    FILE *file = front_open(line_file, &status);

    if (!file)
        return status;
    remember_line(line_file);
    status = end_read(file, &faults,
                      dregs_line_read(front_shown(line_file), file, liquids, line, &faults));
    if (status)
        return status;
    front_read_dialect(line_file, dregs_line_dialect(*line));
    return check_kinds(*line);
}

int front_read_purchases(const char *file_name, const dregs_line *line, const double *density,
                         dregs_purchases **purchases)
{
    dregs_faults faults = {0};
    int status = FRONT_DONE;
    FILE *file = front_open(file_name, &status);

    if (!file)
        return status;
    status = end_read(
        file, &faults,
        dregs_purchases_read(front_shown(file_name), file, line, density, purchases, &faults));
    if (!status)
        front_read_dialect(file_name, dregs_purchases_dialect(*purchases));
    return status;
}

int front_read_calendar(const char *file_name, dregs_calendar_table **table)
{
    dregs_faults faults = {0};
    int status = FRONT_DONE;
    FILE *file = front_open(file_name, &status);

    if (!file)
        return status;
    status = end_read(file, &faults,
                      dregs_calendar_table_read(front_shown(file_name), file, table, &faults));
    if (!status)
        front_read_dialect(file_name, dregs_calendar_table_dialect(*table));
    return status;
}

int front_read_readings(const char *name, const dregs_line *line, dregs_readings **readings)
{
    enum { PIECE = 1 << 16 };
    const char *shown = front_shown(name);
    dregs_faults faults = {0};
    dregs_status status = DREGS_OK;
    int exit_status = FRONT_DONE;
    size_t length = PIECE;
    struct front_watch watch;
    double bytes = 0;
    char *piece;
    FILE *file = front_open(name, &exit_status);

    if (!file)
        return exit_status;
    front_watch_begin(&watch);
    piece = malloc(PIECE);
    *readings = dregs_readings_new(shown, line, &faults);
    if (!piece || !*readings)
        exit_status = front_say(FRONT_IO, "out of memory");
    while (!exit_status && !status && length == PIECE) {
        length = fread(piece, 1, PIECE, file);
        status = dregs_readings_feed(*readings, piece, length);
        bytes += (double)length;
        if (front_watch_due(&watch))
            fprintf(stderr, "\r%.1f MB of %s read\033[K", bytes / 1e6, shown);
    }
    front_watch_end(&watch);
    if (!exit_status && ferror(file))
        exit_status = front_say(FRONT_IO, "%s: %s", shown, strerror(errno));
    if (!exit_status) { /* also after a failure: it puts the faults in order */
        dregs_status end = dregs_readings_end(*readings);
        status = status ? status : end;
        exit_status = status ? front_faults(&faults, status) : FRONT_DONE;
    }
    if (!exit_status)
        front_read_dialect(name, dregs_readings_dialect(*readings));
    free(piece);
    front_close(file);
    return exit_status;
}

int front_read(const char *line_file, const char *liquids_file, dregs_liquids **liquids,
               dregs_line **line)
{
    int status = front_read_liquids(liquids_file, liquids);

    return status ? status : front_read_line(line_file, *liquids, line);
}

static int write_all(FILE *file, const char *name, const char *bytes, size_t length, int sync)
{
    int reason = 0;

    errno = 0;
    if (fwrite(bytes, 1, length, file) != length || fflush(file) != 0 ||
        (sync && fsync(fileno(file)) != 0))
        reason = errno ? errno : EIO;
    if (fclose(file) != 0 && !reason)
        reason = errno;
    return reason ? front_say(FRONT_IO, "%s: %s", name, strerror(reason)) : FRONT_DONE;
}

static int exists_already(const char *name)
{
    return front_say(FRONT_IO, "%s: exists; --force overwrites it", name);
}

/* The temporary file takes the name; where nothing may stand there yet, nothing that came there
 * meanwhile either. */
static int take_name(const char *temporary, const char *name, int replace)
{
    if (!replace && link(temporary, name) == 0) {
        (void)unlink(temporary);
        return FRONT_DONE;
    }
    if (!replace && errno == EEXIST)
        return exists_already(name);
    if (rename(temporary, name) != 0) /* a file system without links comes here, too */
        return front_say(FRONT_IO, "%s: %s", name, strerror(errno));
    return FRONT_DONE;
}

/* What would end the program waits while a temporary file stands beside the name, so that none is
 * left behind; what is ignored stays ignored. A file that grows beyond what the user may write is
 * an error of writing and no signal. */
struct held {
    sigset_t signals, before;
    struct sigaction size;
};

static void hold_signals(struct held *held)
{
    static const int ends[] = {SIGHUP,  SIGINT,  SIGQUIT, SIGTERM,
                               SIGALRM, SIGUSR1, SIGUSR2, SIGXCPU};
    struct sigaction action;
    size_t i;

    sigemptyset(&held->signals);
    for (i = 0; i < sizeof ends / sizeof ends[0]; i++)
        if (sigaction(ends[i], NULL, &action) == 0 && action.sa_handler != SIG_IGN)
            sigaddset(&held->signals, ends[i]);
    sigprocmask(SIG_BLOCK, &held->signals, &held->before);
    memset(&action, 0, sizeof action);
    action.sa_handler = SIG_IGN;
    sigemptyset(&action.sa_mask);
    sigaction(SIGXFSZ, &action, &held->size);
}

static int is_held(const struct held *held)
{
    sigset_t pending;
    int signal;

    if (sigpending(&pending))
        return 0;
    for (signal = 1; signal < NSIG; signal++)
        if (sigismember(&held->signals, signal) == 1 && sigismember(&pending, signal) == 1)
            return 1;
    return 0;
}

static void release_signals(const struct held *held)
{
    sigaction(SIGXFSZ, &held->size, NULL);
    sigprocmask(SIG_SETMASK, &held->before, NULL);
}

/* A temporary file in the same folder, so that the name never stands for half a file. `old`: the
 * file that is replaced; NULL for none. */
static int write_beside(const char *name, char *temporary, const char *bytes, size_t length,
                        const struct stat *old)
{
    int descriptor = mkstemp(temporary), status;
    FILE *file = descriptor < 0 ? NULL : fdopen(descriptor, "wb");
    mode_t mask;

    if (descriptor < 0)
        return front_say(FRONT_IO, "%s: %s", name, strerror(errno));
    if (!file) {
        status = front_say(FRONT_IO, "%s: %s", name, strerror(errno));
        (void)close(descriptor);
        (void)unlink(temporary);
        return status;
    }
    mask = umask(0); /* mkstemp makes it private; a new file gets the usual rights */
    (void)umask(mask);
    (void)fchmod(descriptor, old ? old->st_mode & 0777 : 0666 & ~mask);
    status = write_all(file, name, bytes, length, 1);
    if (status)
        (void)unlink(temporary);
    return status;
}

static int write_plain(const char *name, const char *bytes, size_t length, const struct stat *old)
{
    size_t room = strlen(name) + 8;
    char *temporary = malloc(room);
    struct held held;
    int status;

    if (!temporary)
        return front_say(FRONT_IO, "out of memory");
    snprintf(temporary, room, "%s.XXXXXX", name);
    hold_signals(&held);
    status = write_beside(name, temporary, bytes, length, old);
    if (!status) {
        status = is_held(&held) ? front_say(FRONT_IO, "%s: interrupted, not written", name)
                                : take_name(temporary, name, old || own.force);
        if (status)
            (void)unlink(temporary);
    }
    release_signals(&held);
    free(temporary);
    return status;
}

int front_is_output(const char *name)
{
    return name && strcmp(name, "-") == 0;
}

/* Can a file be made in the folder of that name? Asked before minutes are spent on what it is to
 * hold. */
static int check_folder(const char *name)
{
    char *folder = strdup(name), *last = folder ? strrchr(folder, '/') : NULL;
    const char *looked_at = ".";
    int status = FRONT_DONE;

    if (!folder)
        return front_say(FRONT_IO, "out of memory");
    if (last) {
        last[last == folder] = '\0'; /* the root keeps its stroke */
        looked_at = folder;
    }
    if (access(looked_at, W_OK | X_OK) != 0)
        status = front_say(FRONT_IO, "%s: its folder: %s", name, strerror(errno));
    free(folder);
    return status;
}

/* A name that stands for nothing yet. What a link to nothing is meant for is not guessed. */
static int may_make(const char *name, int reason)
{
    struct stat about;

    if (!*name)
        return front_usage("the name of the file to write is empty");
    if (reason == ENOENT && lstat(name, &about) == 0)
        return front_say(FRONT_IO, "%s: is a link to a file that does not exist", name);
    if (reason != ENOENT)
        return front_say(FRONT_IO, "%s: %s", name, strerror(reason));
    return check_folder(name);
}

int front_may_write(const char *name)
{
    struct stat about;
    char *resolved;
    int status;

    if (front_is_output(name))
        return FRONT_DONE;
    if (stat(name, &about))
        return may_make(name, errno);
    if (S_ISDIR(about.st_mode))
        return front_say(FRONT_IO, "%s: is a directory, not a file", name);
    if (!S_ISREG(about.st_mode))
        return FRONT_DONE;
    if (!own.force && !is_own(&about))
        return exists_already(name);
    if (!own.force && access(name, W_OK) != 0)
        return front_say(FRONT_IO, "%s: %s; --force overwrites it", name, strerror(errno));
    resolved = realpath(name, NULL);
    status = check_folder(resolved ? resolved : name);
    free(resolved);
    return status;
}

int front_write(const char *name, const char *bytes, size_t length)
{
    struct stat about;
    int exists = stat(name, &about) == 0, status;
    char *resolved;
    FILE *file;

    if (front_is_output(name)) {
        (void)fwrite(bytes, 1, length, stdout);
        return front_flush();
    }
    status = front_flush(); /* an answer that was lost changes no file */
    if (!status)
        status = front_may_write(name);
    if (status)
        return status;
    if (exists && !S_ISREG(about.st_mode)) {
        file = fopen(name, "wb");
        if (!file)
            return front_say(FRONT_IO, "%s: %s", name, strerror(errno));
        return write_all(file, name, bytes, length, 0);
    }
    resolved = exists ? realpath(name, NULL) : NULL;
    status = write_plain(resolved ? resolved : name, bytes, length, exists ? &about : NULL);
    free(resolved);
    return status;
}
