/* SPDX-License-Identifier: GPL-3.0-or-later */
/* json.h: what the pages in JSON share. A value that could not be made or kept sets *failed. */
#ifndef DREGS_JSON_H
#define DREGS_JSON_H

#include <jansson.h>

/* A number, or null where there is none. */
json_t *json_number_or_null(double value);

/* Puts a member into an object; takes over the value, NULL for one that could not be made. */
void json_put(int *failed, json_t *object, const char *key, json_t *value);

#endif
