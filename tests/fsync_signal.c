/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* fsync_signal.c: preloaded into a tool by tests/write.sh: the signal FSYNC_SIGNAL comes just when
 * a file that is written has reached the disk, and before it has its name. */
#include <signal.h>
#include <stdlib.h>
#include <unistd.h>

int fsync(int descriptor)
{
    const char *wanted = getenv("FSYNC_SIGNAL");

    (void)descriptor;
    if (wanted)
        kill(getpid(), atoi(wanted));
    return 0;
}
