/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* replay.c: every file of the corpus through the fuzz target, without a fuzzer. A file that fails
 * ends the program; the last name in the log is its name.
 *
 *   replay [FILE ...]    by default all of $DREGS_SOURCE/tests/corpus
 */
#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

static int replay(const char *path)
{
    FILE *file = fopen(path, "rb");
    uint8_t *bytes = NULL;
    long length = -1;

    printf("# %s\n", path);
    fflush(stdout); /* it may be the last thing said */
    if (file && fseek(file, 0, SEEK_END) == 0)
        length = ftell(file);
    if (length >= 0 && fseek(file, 0, SEEK_SET) == 0)
        /* exactly as long as the file, so that reading past its end is seen */
        bytes = malloc(length ? (size_t)length : 1);
    if (!bytes || fread(bytes, 1, (size_t)length, file) != (size_t)length) {
        perror(path);
        length = -1;
    } else {
        (void)LLVMFuzzerTestOneInput(bytes, (size_t)length);
    }
    free(bytes);
    if (file)
        fclose(file);
    return length >= 0;
}

static unsigned replay_all(const char *source, unsigned *failed)
{
    char directory[2048], path[4096];
    const struct dirent *entry;
    unsigned count = 0;
    DIR *open;

    snprintf(directory, sizeof directory, "%s/tests/corpus", source);
    open = opendir(directory);
    if (!open) {
        perror(directory);
        return 0;
    }
    while ((entry = readdir(open))) {
        if (entry->d_name[0] == '.')
            continue;
        snprintf(path, sizeof path, "%s/%s", directory, entry->d_name);
        count++;
        *failed += !replay(path);
    }
    closedir(open);
    return count;
}

int main(int argc, char **argv)
{
    const char *source = getenv("DREGS_SOURCE");
    unsigned count = 0, failed = 0;
    int i;

    puts("1..1");
    if (argc > 1)
        for (i = 1; i < argc; i++, count++)
            failed += !replay(argv[i]);
    else
        count = replay_all(source ? source : ".", &failed);
    printf("%sok 1 - %u files replayed, %u could not be read\n", count && !failed ? "" : "not ",
           count, failed);
    return count && !failed ? 0 : 1;
}
