/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally.c: the page of a tally. */
#include "page/tally.h"

const char *dregs_page_month(unsigned month)
{
    static const char *const names[] = {"January",   "February", "March",    "April",
                                        "May",       "June",     "July",     "August",
                                        "September", "October",  "November", "December"};

    return month < DREGS_MONTHS ? names[month] : "whole";
}

void dregs_page_stream_row(dregs_table *table, const char *stream, const char *liquid,
                           const char *solute, const char *period, double value, const char *unit)
{
    dregs_table_word(table, stream);
    dregs_table_word(table, liquid);
    dregs_table_word(table, solute);
    dregs_table_word(table, period);
    dregs_table_number(table, value);
    dregs_table_word(table, unit);
    dregs_table_end_row(table);
}
