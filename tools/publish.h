/* SPDX-License-Identifier: GPL-3.0-or-later */
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

/* A file as it has been opened: where HTML shall show it, its bytes are kept, and what is returned
 * reads them. NULL after a message, with *status to exit with. */
FILE *front_keep(const char *name, FILE *file, int *status);

/* Writes a page as HTML or one picture of it, to standard output. Returns as front_report. */
int front_publish(dregs_report *report, dregs_report *working, enum front_format format);

#endif
