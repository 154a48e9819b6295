/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* status.h: how a function of libdregs says that it failed, and why.
 *
 * Fallible functions return a dregs_status and leave their outputs untouched unless it is
 * DREGS_OK. The words for people go into a dregs_faults that the caller owns; the library never
 * prints, never exits and keeps no state of its own.
 *
 * Which argument was wrong: where a member of a request (dregs/answer_*.h), of a
 * dregs_doubt_request or of a dregs_dry_case is refused with DREGS_DOMAIN because it is out of its
 * range or does not go with another one, the message or the fault begins with its name as it is
 * written in C, and a colon: "at[2]: 0 is no load". Of two that exclude each other it is the first
 * one. dregs_beaker_answer calls what it is given by its words, as in "--film". A request that no
 * init function has set up gets a fault, but no message.
 */
#ifndef DREGS_STATUS_H
#define DREGS_STATUS_H

#ifdef __cplusplus
extern "C" {
#endif

#if defined(__GNUC__)
#define DREGS_API                   __attribute__((visibility("default")))
#define DREGS_FORMAT(string, first) __attribute__((format(printf, string, first)))
#else
#define DREGS_API
#define DREGS_FORMAT(string, first)
#endif

/** Statuses; the numbers are part of the interface, new ones are added at the end. */
typedef enum dregs_status {
    DREGS_OK = 0,
    DREGS_BAD_DATA = 1,     /**< the file, or a cell of it, is not what it must be */
    DREGS_BAD_NUMBER = 2,   /**< not wholly a finite number in C notation */
    DREGS_BAD_UNIT = 3,     /**< a unit that cannot be read, or is of another dimension */
    DREGS_UNKNOWN = 4,      /**< a name that is in no table */
    DREGS_DOMAIN = 5,       /**< an argument outside the range the function is valid for */
    DREGS_OUT_OF_RANGE = 6, /**< a property asked for outside the range of its data */
    DREGS_NO_STEADY = 7,    /**< the line never settles: some solute has no way out */
    DREGS_NUMERIC = 8,      /**< a result that is not finite */
    DREGS_NO_MEMORY = 9,
    DREGS_IO = 10 /**< the file could not be read; errno of the failing call is in the text */
} dregs_status;

/** A few words for a status, for example "bad data". Never NULL. */
DREGS_API const char *dregs_status_text(dregs_status status);

enum { DREGS_FAULTS_MAX = 20, DREGS_FAULT_TEXT = 640, DREGS_FILE_NAME = 256 };

/** One thing that is wrong. `line` is 1 for the first line of the file, 0 when no line is meant. */
typedef struct dregs_fault {
    dregs_status status;
    unsigned long line;
    char text[DREGS_FAULT_TEXT];
} dregs_fault;

/** What is wrong with one file: up to DREGS_FAULTS_MAX faults, in the order of their lines once
 *  the reader is done; `more` counts those that found no room. Zero-initialise before use. */
typedef struct dregs_faults {
    unsigned count;
    unsigned more;
    char file[DREGS_FILE_NAME];
    dregs_fault fault[DREGS_FAULTS_MAX];
} dregs_faults;

/** Adds a fault. \p faults may be NULL (nothing is kept then). Returns \p status, so that a
 *  function can say `return dregs_fault_add(...)`. A text that does not fit ends in "...". */
DREGS_API dregs_status dregs_fault_add(dregs_faults *faults, dregs_status status,
                                       unsigned long line, const char *format, ...)
    DREGS_FORMAT(4, 5);

#ifdef __cplusplus
}
#endif
#endif
