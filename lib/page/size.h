/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size.h: what the files of the page of a sizing share. */
#ifndef DREGS_PAGE_SIZE_H
#define DREGS_PAGE_SIZE_H

#include "dregs/answer_size.h"
#include "page/inside.h"

struct sizing {
    dregs_report *report;
    const dregs_line *line;
    const dregs_size_request *request;
    const dregs_size_result *result;
};

/* A value that was found, in the unit it was varied in. */
double dregs_page_size_found(const dregs_sized *sized, unsigned index);
/* The unit behind a value in text: a share has none. */
const char *dregs_page_size_unit(const dregs_varied *varied, unsigned index);

/* Which bound of a concentration binds, or comes nearest. */
void dregs_page_size_bound(const struct sizing *s);
/* Where the answer leaves the range that the file describes. */
void dregs_page_size_described(const struct sizing *s);
/* Which loads decide, and how soon the line is near its long run. */
void dregs_page_size_regime(const struct sizing *s);
/* The curve of liquid or cost against residue. */
void dregs_page_size_curve(const struct sizing *s);
/* The same as pictures. */
void dregs_page_size_pictures(const struct sizing *s);
/* Liquid or cost against residue, where other limits were asked for. */
void dregs_page_size_trade_off_picture(const struct sizing *s);

#endif
