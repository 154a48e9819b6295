/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* test_config.c: lines `key = value`. What is expected follows from config.h. */
#include "check_main.h"
#include "dregs/config.h"

#include <stdio.h>
#include <string.h>

#define COUNT(table) (int)(sizeof table / sizeof table[0])
#define BYTES(text)  text, sizeof text - 1

static const char *const keys[] = {"liquids", "threads", "decimal"};
enum { KEYS = 3 };

/* What each key is set to as "line:value", in the order of the keys; a text with a fault sets
 * nothing. */
static const struct {
    const char *text;
    size_t length;
    const char *set;
    unsigned faults;
    unsigned long line; /* of the first fault */
    const char *words;
} texts[] = {
    {BYTES(""), "0: 0: 0: ", 0, 0, NULL},
    {BYTES("threads = 500\n"), "0: 1:500 0: ", 0, 0, NULL},
    {BYTES("\xEF\xBB\xBF# ours\r\n\r\n  threads\t=500 \r\nliquids=a b = c.csv"),
     "4:a b = c.csv 3:500 0: ", 0, 0, NULL},
    {BYTES("decimal = ,\n # threads = 1\n"), "0: 0: 1:, ", 0, 0, NULL},
    {BYTES("liquids = \xC3\xA9.csv\n"), "1:\xC3\xA9.csv 0: 0: ", 0, 0, NULL},
    {BYTES("thread = 5\ndecimal = .\n"), NULL, 1, 1, "unknown key 'thread'; nearest: 'threads'"},
    {BYTES("Threads = 5\n"), NULL, 1, 1, "unknown key 'Threads'; nearest: 'threads'"},
    {BYTES("colour = red\n"), NULL, 1, 1, "unknown key 'colour'"},
    {BYTES("threads = 5\n\nthreads = 6\n"), NULL, 1, 3, "'threads' stands twice, first in line 1"},
    {BYTES("threads =\n"), NULL, 1, 1, "'threads' has no value"},
    {BYTES("threads 5\n"), NULL, 1, 1, "'threads 5' is no setting, which is written key = value"},
    {BYTES("[part]\ncolour = 5\n"), NULL, 2, 1,
     "'[part]' is no setting, which is written key = value"},
    {BYTES("threads = 5\ndecimal = \xB5\n"), NULL, 1, 2, "not a text in UTF-8"},
    {BYTES("threads = 5\ndecimal = \0.\n"), NULL, 1, 2, "not a text in UTF-8"},
    {BYTES("liquids = a\x1B[31m\n"), NULL, 1, 1, "a character that nobody sees"},
};

static void check_set(const dregs_config_setting *setting, const char *wanted)
{
    char set[256] = "";
    size_t k, used = 0;

    for (k = 0; k < KEYS; k++)
        used += (size_t)snprintf(set + used, sizeof set - used, "%lu:%s ", setting[k].line,
                                 setting[k].line ? setting[k].value : "");
    ck_assert_str_eq(set, wanted);
}

START_TEST(settings_of_a_text)
{
    static dregs_config_setting setting[KEYS];
    static dregs_faults faults;
    dregs_status wanted = texts[_i].set ? DREGS_OK : DREGS_BAD_DATA;
    size_t k;
    int silent;

    for (silent = 0; silent < 2; silent++) {
        memset(&faults, 0, sizeof faults);
        for (k = 0; k < KEYS; k++)
            setting[k] = (dregs_config_setting){7, "before"};
        ck_assert_int_eq(dregs_config_parse("f", texts[_i].text, texts[_i].length, keys, KEYS,
                                            setting, silent ? NULL : &faults),
                         wanted);
        check_set(setting, texts[_i].set ? texts[_i].set : "7:before 7:before 7:before ");
        if (silent)
            continue;
        ck_assert_str_eq(faults.file, "f");
        ck_assert_uint_eq(faults.count, texts[_i].faults);
        if (texts[_i].words) {
            ck_assert_str_eq(faults.fault[0].text, texts[_i].words);
            ck_assert_uint_eq(faults.fault[0].line, texts[_i].line);
        }
    }
}
END_TEST

START_TEST(what_is_too_much)
{
    static char text[DREGS_CONFIG_BYTES + 1];
    static dregs_config_setting setting[KEYS];
    int head, length;

    memset(text, '\n', sizeof text);
    ck_assert_int_eq(dregs_config_parse("f", text, sizeof text - 1, keys, KEYS, setting, NULL),
                     DREGS_OK);
    ck_assert_int_eq(dregs_config_parse("f", text, sizeof text, keys, KEYS, setting, NULL),
                     DREGS_BAD_DATA);
    for (length = DREGS_CONFIG_VALUE - 1; length <= DREGS_CONFIG_VALUE; length++) {
        head = snprintf(text, sizeof text, "liquids = ");
        memset(text + head, 'x', (size_t)length);
        ck_assert_int_eq(
            dregs_config_parse("f", text, (size_t)(head + length), keys, KEYS, setting, NULL),
            length < DREGS_CONFIG_VALUE ? DREGS_OK : DREGS_BAD_DATA);
        ck_assert_uint_eq(strlen(setting[0].value), DREGS_CONFIG_VALUE - 1);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("config");
    TCase *tcase = tcase_create("config");

    tcase_add_loop_test(tcase, settings_of_a_text, 0, COUNT(texts));
    tcase_add_test(tcase, what_is_too_much);
    suite_add_tcase(suite, tcase);
    return run(suite);
}
