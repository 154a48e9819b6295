/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* no_memory.c: what becomes of a program when one allocation fails; preloaded into it, see
 * memory.sh.
 *
 * At each allocation that was asked for by a chain of callers not met before, the process forks.
 * In the child this one allocation fails, and the child goes on to its end with its output in
 * files of its own; the parent waits, judges what came of it, and goes on as if nothing had been.
 * So every place is tried in one run, each from the state that it really has.
 *
 * What is judged: no signal, no hang; the same status as the whole run and the same output, or a
 * status 4 with words about memory, on standard error alone.
 *
 *   NO_MEMORY_LOG     a line for each child that did otherwise, and one at the end with the count
 *   NO_MEMORY_WHOLE   the output of the whole run
 *   NO_MEMORY_STATUS  its status
 *   NO_MEMORY_WORK    a folder for what the children write
 *   NO_MEMORY_LASTING if set, what a child asks for later fails too
 *   NO_MEMORY_ROWS    if set, rows may stand before the one that failed
 *
 * Only in programs of one thread. */
#include <dlfcn.h>
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum {
    CALLERS = 12,     /* of a chain that tell it from others */
    CHAINS = 1 << 16, /* slots of the table of chains */
    SECONDS = 20      /* that a child may take */
};

static uint64_t met[CHAINS];
static unsigned long tried, wrong;
static int ready, inside, in_child, failing;
static const char *work;

static void *(*real_malloc)(size_t);
static void *(*real_calloc)(size_t, size_t);
static void *(*real_realloc)(void *, size_t);

/* dlsym may allocate before there is anything to allocate with */
static char early[4096];
static size_t early_used;

/* Whether the chain of callers is new. */
static int is_new(void *const *caller, int count)
{
    uint64_t hash = 1469598103934665603u;
    size_t slot;
    int i;

    for (i = 0; i < count; i++)
        hash = (hash ^ (uint64_t)(uintptr_t)caller[i]) * 1099511628211u;
    hash |= 1;
    for (slot = (size_t)(hash % CHAINS); met[slot]; slot = (slot + 1) % CHAINS)
        if (met[slot] == hash)
            return 0;
    met[slot] = hash;
    return 1;
}

/* A file of the child's own in place of a descriptor. */
static void redirect(int descriptor, const char *name)
{
    char path[512];
    int file;

    snprintf(path, sizeof path, "%s/%s", work, name);
    file = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    if (file < 0 || dup2(file, descriptor) < 0)
        _exit(99);
    close(file);
}

static size_t read_whole(const char *path, char *bytes, size_t room)
{
    FILE *file = fopen(path, "rb");
    size_t length = file ? fread(bytes, 1, room, file) : 0;

    if (file)
        fclose(file);
    return length;
}

static int same_output(const char *path)
{
    const char *whole = getenv("NO_MEMORY_WHOLE");
    static char left[1 << 22], right[1 << 22];
    size_t count = read_whole(path, left, sizeof left);

    return count == read_whole(whole, right, sizeof right) && memcmp(left, right, count) == 0;
}

static void report(const char *what, int status, void *const *caller, int count)
{
    FILE *log = fopen(getenv("NO_MEMORY_LOG"), "a");
    int i;

    wrong++;
    if (!log)
        return;
    fprintf(log, "%s (%d):", what, status);
    for (i = 0; i < count; i++) {
        Dl_info about;
        if (dladdr(caller[i], &about) && about.dli_sname)
            fprintf(log, " %s", about.dli_sname);
        else if (dladdr(caller[i], &about) && about.dli_fname)
            fprintf(log, " %s+%lx", strrchr(about.dli_fname, '/') + 1,
                    (unsigned long)((char *)caller[i] - (char *)about.dli_fbase));
    }
    fputc('\n', log);
    fclose(log);
}

static void judge(int waited, void *const *caller, int count)
{
    char out[512], err[512], words[4096];
    struct stat about;
    size_t length;
    int status;

    snprintf(out, sizeof out, "%s/out", work);
    snprintf(err, sizeof err, "%s/err", work);
    if (WIFSIGNALED(waited)) {
        report(WTERMSIG(waited) == SIGALRM ? "does not end" : "ended by signal", WTERMSIG(waited),
               caller, count);
        return;
    }
    status = WEXITSTATUS(waited);
    length = read_whole(err, words, sizeof words - 1);
    words[length] = '\0';
    if (status == 4) {
        if (!strstr(words, "memory") && !strstr(words, "Cannot allocate"))
            report("status 4 for another reason", status, caller, count);
        else if (!getenv("NO_MEMORY_ROWS") && (stat(out, &about) != 0 || about.st_size != 0))
            report("part of an answer", status, caller, count);
    } else if (status != atoi(getenv("NO_MEMORY_STATUS"))) {
        report("another status", status, caller, count);
    } else if (!same_output(out)) {
        report("other output", status, caller, count);
    }
}

/* Parent and child share the places in open files: what the child read is taken back. */
enum { FILES = 16 };
static void keep_places(off_t place[FILES])
{
    int i;

    for (i = 0; i < FILES; i++)
        place[i] = lseek(i, 0, SEEK_CUR);
}

static void restore_places(const off_t place[FILES])
{
    int i;

    for (i = 0; i < FILES; i++)
        if (place[i] >= 0)
            (void)lseek(i, place[i], SEEK_SET);
}

/* Whether this allocation is to fail: only ever in a child. */
static int fails(void)
{
    void *caller[CALLERS + 2];
    int count, waited, kept = errno;
    off_t place[FILES];
    pid_t child;

    if (in_child)
        return failing;
    if (!ready || inside)
        return 0;
    inside = 1;
    count = backtrace(caller, CALLERS + 2);
    if (count > 2 && is_new(caller + 2, count - 2)) {
        tried++;
        keep_places(place);
        child = fork();
        if (child == 0) {
            in_child = 1;
            failing = getenv("NO_MEMORY_LASTING") != NULL;
            redirect(STDOUT_FILENO, "out");
            redirect(STDERR_FILENO, "err");
            alarm(SECONDS);
            errno = ENOMEM;
            return 1;
        }
        if (child > 0 && waitpid(child, &waited, 0) == child)
            judge(waited, caller + 2, count - 2);
        restore_places(place);
    }
    inside = 0;
    errno = kept;
    return 0;
}

__attribute__((constructor)) static void begin(void)
{
    void *prime[1];

    inside = 1;
    real_malloc = (void *(*)(size_t))dlsym(RTLD_NEXT, "malloc");
    real_calloc = (void *(*)(size_t, size_t))dlsym(RTLD_NEXT, "calloc");
    real_realloc = (void *(*)(void *, size_t))dlsym(RTLD_NEXT, "realloc");
    work = getenv("NO_MEMORY_WORK");
    (void)backtrace(prime, 1); /* loads what it needs */
    inside = 0;
    ready =
        work && getenv("NO_MEMORY_LOG") && getenv("NO_MEMORY_WHOLE") && getenv("NO_MEMORY_STATUS");
}

__attribute__((destructor)) static void end(void)
{
    FILE *log;

    if (!ready || in_child)
        return;
    inside = 1;
    log = fopen(getenv("NO_MEMORY_LOG"), "a");
    if (!log)
        return;
    fprintf(log, "tried %lu, wrong %lu\n", tried, wrong);
    fclose(log);
}

void *malloc(size_t size)
{
    if (!real_malloc) {
        size = (size + 15) & ~(size_t)15;
        if (early_used + size > sizeof early)
            return NULL;
        early_used += size;
        return early + early_used - size;
    }
    return fails() ? NULL : real_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    if (!real_calloc)
        return count && size > SIZE_MAX / count ? NULL : malloc(count * size); /* early is zero */
    return fails() ? NULL : real_calloc(count, size);
}

void *realloc(void *old, size_t size)
{
    if (!real_realloc)
        return NULL;
    return fails() ? NULL : real_realloc(old, size);
}
