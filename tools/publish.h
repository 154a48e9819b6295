/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* publish.h: --format html and svg: what a page for a browser needs besides its report. */
#ifndef DREGS_PUBLISH_H
#define DREGS_PUBLISH_H

#include "front.h"

#include <stdio.h>

/* Keeps --format and --picture; front_options hands them over. */
void front_publish_as(enum front_format format);
void front_picture(const char *name);
/* Do the two go together? Returns 0, or FRONT_USAGE after saying why. */
int front_check_picture(void);

/* Notes how something was read that the answer rests on: front_say_read puts it on the page. */
void front_read_as(const char *format, ...) DREGS_FORMAT(1, 2);
/* The same of a file whose cells are not written as in C. */
void front_read_dialect(const char *name, dregs_dialect dialect);
/* A setting of a file that takes part; one that is on no page is told on standard error at the end.
 */
void front_read_setting(const char *file, unsigned long line, const char *key, const char *value);
void front_say_read(dregs_report *report);
void front_say_settings(void);

/* A file as it has been opened: where HTML shall show it, its bytes are kept, and what is returned
 * reads them. NULL after a message, with *status to exit with. */
FILE *front_keep(const char *name, FILE *file, int *status);

/* Writes a page as HTML or one picture of it, to standard output. Returns as front_report. */
int front_publish(dregs_report *report, dregs_report *working, enum front_format format);

#endif
