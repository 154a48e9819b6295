/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* check_main.c: how the Check programs run. */
#include "check_main.h"

int run(Suite *suite)
{
    SRunner *runner = srunner_create(suite);

    srunner_set_tap(runner, "-");
    srunner_run_all(runner, CK_SILENT);
    srunner_free(runner);
    return 0;
}

int run_cases(const char *name, const struct cases *cases, size_t count)
{
    Suite *suite = suite_create(name);
    size_t i, k, most = sizeof cases->tests / sizeof cases->tests[0];

    for (i = 0; i < count; i++) {
        TCase *tcase = tcase_create(cases[i].name);
        tcase_set_timeout(tcase, 300); /* with the sanitizers, on a busy machine */
        suite_add_tcase(suite, tcase);
        for (k = 0; k < most && cases[i].tests[k]; k++)
            tcase_add_test(tcase, cases[i].tests[k]);
    }
    return run(suite);
}
