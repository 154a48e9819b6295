/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* text.h: small text helpers that the modules share; not installed. */
#ifndef DREGS_BASE_TEXT_H
#define DREGS_BASE_TEXT_H

#include "dregs/csv.h"
#include "dregs/status.h"

#include <stddef.h>

/** Puts the faults in the order of their lines. */
void dregs_faults_sort(dregs_faults *faults);

/** Refuses an argument: the words, "NAME: what is wrong with it", go to \p message, \p room bytes;
 *  NULL: nobody asks. Returns DREGS_DOMAIN. */
dregs_status dregs_refuse(char *message, size_t room, const char *format, ...) DREGS_FORMAT(3, 4);

enum { DREGS_QUOTED = 64 };

/** A cell as it may stand in a message: in single quotes, control bytes shown as `?`, cut at a
 *  whole character to fit DREGS_QUOTED bytes. Returns \p into. */
const char *dregs_quote(char into[DREGS_QUOTED], const char *text);

/** Of \p names (\p count of them, NULL entries skipped) the one nearest to \p wanted, or NULL when
 *  none is near enough to be a likely slip of the pen: at most a third of the letters differ.
 *  Letters are compared without case. */
const char *dregs_nearest(const char *wanted, const char *const *names, size_t count);

/** "; nearest: 'x'" for the end of a message, or "" when no name is near. Returns \p into. */
const char *dregs_nearest_words(char into[DREGS_QUOTED + 16], const char *wanted,
                                const char *const *names, size_t count);

/** Takes bytes of a file that is written. */
typedef void dregs_csv_put(void *user, const char *bytes, size_t length);
/** A cell as CSV has it (RFC 4180) between \p separator, in quotes only where it needs them. \p
 * before goes before its first character, inside the quotes; "" for nothing. */
void dregs_csv_cell(char separator, const char *before, const char *cell, dregs_csv_put *put,
                    void *user);

/** What is behind a text that is no number because of its comma, for the end of a message; "" for
 *  any other. A file separated by commas has no decimal comma. */
const char *dregs_comma_words(const char *text);

enum { DREGS_CSV_NUMBER = 80 };
/** A cell that is a number in C notation, or one with `%`, as a file of that dialect has it, and so
 *  that no reader takes its mark for one between thousands: 1.218 is "1,2180" there. Where the file
 *  has no decimal mark yet: a comma beside `;`, a point beside tabs. \return \p into, or \p cell
 *  where it is no such number or the dialect is that of C. */
const char *dregs_csv_number(char into[DREGS_CSV_NUMBER], dregs_dialect dialect, const char *cell);

/** The length of the well-formed UTF-8 at the head of \p bytes: equal to \p length when all of it
 *  is (RFC 3629: no overlong forms, no surrogates, nothing beyond U+10FFFF). */
size_t dregs_utf8_span(const char *bytes, size_t length);

/** The bytes of the character at \p at, when it is one that nobody sees or that a terminal obeys:
 *  control characters (also U+0080 to U+009F), separators of lines and paragraphs, zero-width and
 *  bidirectional marks, tags; 0 for any other and at the end. By the general categories Cc, Cf, Zl
 *  and Zp of the Unicode Standard, of scripts of today (value from memory). */
size_t dregs_utf8_unseen(const char *at);

/** The last whole characters of a text in at most \p most bytes: the end of a path tells more than
 *  its beginning. */
const char *dregs_utf8_end(const char *text, size_t most);

/** Puts \p instead in the place of each byte of such a character. */
void dregs_utf8_tame(char *text, char instead);

#endif
