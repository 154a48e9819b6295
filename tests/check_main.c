/* SPDX-License-Identifier: GPL-3.0-or-later */
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
