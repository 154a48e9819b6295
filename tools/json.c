/* SPDX-License-Identifier: GPL-3.0-or-later */
/* json.c: members and numbers for the pages in JSON. */
#include "json.h"

#include <math.h>

json_t *json_number_or_null(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

void json_put(int *failed, json_t *object, const char *key, json_t *value)
{
    if (!value || json_object_set_new(object, key, value))
        *failed = 1;
}
