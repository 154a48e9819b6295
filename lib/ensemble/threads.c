/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* threads.c: work that is shared out to threads. */
#include "ensemble/inside.h"

#include <pthread.h>
#include <unistd.h>

unsigned dregs_ensemble_threads(unsigned threads, uint64_t pieces)
{
    long processors = sysconf(_SC_NPROCESSORS_ONLN);

    if (!threads)
        threads = processors < 1                    ? 1
                  : processors > DREGS_THREADS_MOST ? DREGS_THREADS_MOST
                                                    : (unsigned)processors;
    return threads > pieces ? (unsigned)pieces : threads;
}

/* A piece of work, and the thread that does it. */
struct piece {
    pthread_t thread;
    int runs; /* the thread was started */
    void (*work)(void *worker);
    void *worker;
};

static void *start(void *user)
{
    const struct piece *piece = user;

    piece->work(piece->worker);
    return NULL;
}

void dregs_ensemble_in_threads(void (*work)(void *worker), void *workers, size_t size,
                               unsigned count)
{
    struct piece piece[DREGS_THREADS_MOST];
    unsigned i;

    for (i = 0; i < count; i++) {
        piece[i] = (struct piece){.work = work, .worker = (char *)workers + i * size};
        piece[i].runs = i > 0 && pthread_create(&piece[i].thread, NULL, start, &piece[i]) == 0;
    }
    for (i = 0; i < count; i++)
        if (!piece[i].runs)
            work(piece[i].worker);
    for (i = 0; i < count; i++)
        if (piece[i].runs)
            pthread_join(piece[i].thread, NULL);
}
