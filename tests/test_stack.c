/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_stack.c: how much stack the library takes, of threads that have little: every verb by its
 * call in JSON, reading of the files and writing of the answer included, in a thread whose stack
 * was painted before. What libc, GSL, NLopt and jansson take below the library counts with it.
 */
#include "check_main.h"
#include "dregs/dregs.h"

#include <jansson.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

enum { PAINT = 0xa5, STACK = 1 << 20, MOST = 64 << 10 };

struct question {
    const char *verb, *line, *options; /* options as members of a JSON object */
    const char *files[2][2];           /* members that hold texts of files */
};

/* Those that go through most of the library; each of the others goes through less. */
static const struct question questions[] = {
    {"check", "solvent-shop.csv", "", {{0}}},
    {"predict", "aqueous-line.csv", "\"draws\": 40, \"threads\": 1", {{0}}},
    {"predict", "mixed-loads.csv", "\"draws\": 20, \"threads\": 1", {{0}}},
    {"predict", "week-rinse.csv", "\"draws\": 0", {{0}}},
    {"size", "aqueous-line.csv", "\"vary\": \"last.flow\", \"threads\": 1, \"draws\": 40", {{0}}},
    {"size", "aqueous-line.csv", "\"stages\": \"1..3\", \"draws\": 0", {{0}}},
    {"size",
     "solvent-bench.csv",
     "\"vary\": [\"beaker.dump every\", \"dip.dump every\"], \"draws\": 0",
     {{0}}},
    {"dry", "solvent-bench.csv", "\"draws\": 2, \"threads\": 1", {{0}}},
    {"reuse", "rinse-bench.csv", "", {{"readings", "rinse-readings.csv"}}},
    {"reuse", "solvent-bench.csv", "", {{"readings", "solvent-readings.csv"}}},
    {"reuse", "rinse-bench.csv", "\"measure-drag-out\": true", {{"readings", "stopped-flow.csv"}}},
    {"tally", "solvent-shop.csv", "\"law\": true, \"draws\": 40, \"threads\": 1", {{0}}},
    {"tally", "solvent-shop.csv", "\"draws\": 0", {{"calendar", "calendar-2027.csv"}}},
    {"tally", "solvent-shop.csv", "\"law\": true, \"draws\": 0", {{"actual", "purchases.csv"}}},
};
enum { QUESTIONS = sizeof questions / sizeof questions[0] };

static json_t *text_of(const char *name)
{
    const char *source = getenv("DREGS_SOURCE");
    static char path[4096], bytes[1 << 20];
    FILE *file;
    size_t length;

    snprintf(path, sizeof path, "%s/data/%s", source ? source : ".", name);
    file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "%s is not there", path);
    length = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    return json_pack("{s:s, s:s#}", "name", name, "text", bytes, (int)length);
}

static char *request_of(const struct question *q)
{
    char members[512], *text;
    json_t *request;
    unsigned i;

    snprintf(members, sizeof members, "{%s}", q->options);
    request = json_loads(members, 0, NULL);
    ck_assert_ptr_nonnull(request);
    json_object_set_new(request, "verb", json_string(q->verb));
    json_object_set_new(request, "line", text_of(q->line));
    for (i = 0; i < 2 && q->files[i][0]; i++)
        json_object_set_new(request, q->files[i][0], text_of(q->files[i][1]));
    text = json_dumps(request, 0);
    json_decref(request);
    return text;
}

struct asked {
    const char *request;
    char *answer;
    dregs_status status;
};

static void *ask(void *mine)
{
    struct asked *asked = mine;

    asked->status = dregs_ask(asked->request, &asked->answer);
    return NULL;
}

static void *nothing(void *mine)
{
    return mine;
}

/* Bytes of stack that a thread takes. */
static size_t taken(void *(*does)(void *), void *mine)
{
    unsigned char *stack =
        mmap(NULL, STACK, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_STACK, -1, 0);
    pthread_attr_t attributes;
    pthread_t thread;
    size_t left = 0;

    ck_assert(stack != MAP_FAILED);
    memset(stack, PAINT, STACK);
    ck_assert_int_eq(pthread_attr_init(&attributes), 0);
    ck_assert_int_eq(pthread_attr_setstack(&attributes, stack, STACK), 0);
    ck_assert_int_eq(pthread_create(&thread, &attributes, does, mine), 0);
    ck_assert_int_eq(pthread_join(thread, NULL), 0);
    while (left < STACK && stack[left] == PAINT)
        left++;
    pthread_attr_destroy(&attributes);
    munmap(stack, STACK);
    return STACK - left;
}

START_TEST(no_question_takes_more_stack_than_a_small_thread_has)
{
    size_t before = taken(nothing, NULL), most = 0, i;

    for (i = 0; i < QUESTIONS; i++) {
        const struct question *q = &questions[i];
        char *request = request_of(q);
        struct asked asked = {request, NULL, DREGS_OK};
        size_t bytes = taken(ask, &asked) - before;
        ck_assert_msg(asked.status == DREGS_OK, "%s %s: %.600s", q->verb, q->line, asked.answer);
        printf("# %s %s {%s}: %zu bytes\n", q->verb, q->line, q->options, bytes);
        most = bytes > most ? bytes : most;
        dregs_ask_free(asked.answer);
        free(request);
    }
    ck_assert_uint_gt(most, 4096); /* else nothing was measured */
#ifndef __SANITIZE_ADDRESS__       /* which puts room around everything */
    ck_assert_uint_le(most, MOST);
#endif
}
END_TEST

int main(void)
{
    const struct cases cases[] = {
        {"the stack", {no_question_takes_more_stack_than_a_small_thread_has}}};

    return run_cases("stack", cases, 1);
}
