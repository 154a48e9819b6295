/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* front.h: what all tools share: options, messages, exit statuses, reading a line. */
#ifndef DREGS_FRONT_H
#define DREGS_FRONT_H

#include "dregs/dregs.h"

#include <stddef.h>
#include <stdio.h>

enum front_exit {
    FRONT_DONE = 0,
    FRONT_MISSED = 1, /* a limit was missed, only when asked to check */
    FRONT_USAGE = 2,
    FRONT_BAD_DATA = 3,
    FRONT_IO = 4 /* could not read or write, or memory is short */
};

/* One option; a table of them feeds --help, the reading and the test of the manual page. */
struct front_option {
    const char *name;     /* without the dashes */
    const char *argument; /* what --help calls its argument, NULL for none */
    const char *help;
};

struct front_tool {
    const char *name;     /* dregs-predict */
    const char *operands; /* LINE */
    const char *purpose;  /* one sentence for --help */
    const struct front_option *options;
    size_t option_count;
    int kinds; /* 1: it takes lines with loads of several kinds */
    int plain; /* 1: it gives no answer to be formatted, and reads no liquids */
    /* Of the options that tools share, what --help says of those that mean something else in each;
     * NULL: the tool has no such option. */
    const char *check, *write, *force, *explain;
    int wide;            /* 1: --wide is an option */
    int draws;           /* 1: --draws, --seed and --threads are options */
    int units;           /* 1: --units is one */
    const char *example; /* a command that runs anywhere */
    const char *page;    /* the manual page, where it is not that of the name; NULL */
};

enum front_format { FRONT_TEXT, FRONT_CSV, FRONT_JSON, FRONT_HTML, FRONT_SVG };

/* What the options that tools share ask for. */
struct front_common {
    const char *liquids_file, *write_file; /* NULL: none */
    enum front_format format;
    int check, explain, wide;
    dregs_ask_draws draws;
    dregs_units units;
    int units_given;
};

/* Takes option number `option` of the table; returns 0, or the status to exit with after saying
 * why. */
typedef int front_take(void *user, size_t option, const char *argument);

/* Makes the process fit for a tool: GSL's abort handler off. Call it first. */
void front_begin(const struct front_tool *tool);

/* Before that, 1: the tool was asked for as a verb; its messages begin "dregs predict:". */
void front_as_verb(int as_verb);

/* Does the tool take lines with loads of several kinds? */
int front_takes_kinds(void);

/* Option number `index` of a tool, its own and then those that it shares; 0 past the end. */
int front_option_at(const struct front_tool *tool, size_t index, struct front_option *option);

/* Prints the help of a tool that was called by that name, as --help does; returns the exit status.
 */
int front_help(const struct front_tool *tool, const char *called);

/* Prints name and version, as --version does; returns the exit status. */
int front_version(void);

/* Reads the options: those that tools share into *common, the tool's own by `take`. --help and
 * --version are dealt with here.
 * Returns -1 to go on, with *operand the index of the first operand, or the status to exit with. */
int front_options(const struct front_tool *tool, int argc, char **argv, struct front_common *common,
                  front_take *take, void *user, int *operand);

/* Answers for one line file; returns the exit status. */
typedef int front_answer(void *user, const char *file);

/* The whole life of a tool that reads one line: options, the operand handed to `answer`, standard
 * output flushed and checked. Returns the exit status. */
int front_run(const struct front_tool *tool, int argc, char **argv, struct front_common *common,
              front_take *take, front_answer *answer, void *user);

/* A quantity as the argument of option `name`, from `low` to `high`, both in SI. Returns 0, or
 * FRONT_USAGE after saying why. */
int front_quantity(const char *name, const char *text, const char *like, double low, double high,
                   double *si);

/* What is asked of the verb of the tool, set up. Returns 0, or the status to exit with. */
int front_asked(const struct front_tool *tool, dregs_asked **asked);

/* Takes an option into it, by its name. Returns 0, or the status to exit with after saying why. */
int front_ask(dregs_asked *asked, const char *option, const char *argument);

/* Whether the options go together, as dregs_asked_check has it, with the draws that were asked for.
 * Returns 0, or FRONT_USAGE after saying why. */
int front_ask_check(dregs_asked *asked, const struct front_common *common, unsigned lines,
                    unsigned accounts, int beside);

/* What every tool asks of the options that tools share, with `file` the line it reads, or "".
 * Returns 0, or FRONT_USAGE after saying why. */
int front_check(const char *file, const struct front_common *common);

/* A message on standard error: "dregs-predict: message". Returns `status`. */
int front_say(int status, const char *format, ...) DREGS_FORMAT(2, 3);

/* Misuse: the message and a hint at --help. Returns FRONT_USAGE. */
int front_usage(const char *format, ...) DREGS_FORMAT(1, 2);

/* The faults of a file, each "dregs-predict: file:line: text". Returns the exit status for them. */
int front_faults(const dregs_faults *faults, dregs_status status);

/* Opens a file for reading, "-" for standard input, refusing what cannot hold a text; HTML will
 * list it. NULL after a message, with *status to exit with. */
FILE *front_open(const char *name, int *status);
void front_close(FILE *file);

/* Reads the property table (the built-in one, and `liquids_file` over it when not NULL) and the
 * line ("-" is standard input). Returns FRONT_DONE or the status to exit with. */
int front_read(const char *line_file, const char *liquids_file, dregs_liquids **liquids,
               dregs_line **line);

/* The two halves of front_read. */
int front_read_liquids(const char *liquids_file, dregs_liquids **liquids);
int front_read_line(const char *line_file, const dregs_liquids *liquids, dregs_line **line);

/* Reads a file of purchases of a line's liquids ("-" is standard input); `density` as in
 * dregs/purchase.h. Returns FRONT_DONE or the status to exit with. */
int front_read_purchases(const char *file_name, const dregs_line *line, const double *density,
                         dregs_purchases **purchases);

/* A file as messages call it: "-" is standard input. */
const char *front_shown(const char *name);

/* Reads a calendar of closed days ("-" is standard input). Returns FRONT_DONE or the status to exit
 * with. */
int front_read_calendar(const char *file_name, dregs_calendar_table **table);

/* A line on standard error, where that is a terminal, of what takes longer than a second. */
struct front_watch {
    double since, shown; /* s of a clock that is never put back */
    int terminal, on;
};
void front_watch_begin(struct front_watch *watch);
/* 1 when it is time to say how far things are, five times a second at most; the caller prints the
 * line behind a "\r" and clears the rest of it. */
int front_watch_due(struct front_watch *watch);
/* Clears the line. */
void front_watch_end(struct front_watch *watch);

/* Reads a log of readings of the line ("-" is standard input), as a stream. Returns FRONT_DONE or
 * the status to exit with. */
int front_read_readings(const char *file, const dregs_line *line, dregs_readings **readings);

/* --force of the tools that have it: files that exist may be overwritten. front_options calls it.
 */
void front_force(void);

/* Is a name to be written "-", standard output? A page is then not printed besides. NULL: no. */
int front_is_output(const char *name);

/* May a file be written? Not one that exists, unless --force was given or it is the line file that
 * was read and may be changed; not a link to nothing; and its folder must take it. Ask it after the
 * line file was read, before anything is printed. Returns FRONT_DONE, or FRONT_IO after saying why;
 * FRONT_USAGE for an empty name. */
int front_may_write(const char *name);

/* Writes a whole file that may be written, or nothing: to a temporary file beside it that then
 * takes its name; links are followed; what is no plain file (a pipe, a device) is written in place;
 * "-" is standard output. Where standard output was lost nothing is written, and a signal that ends
 * the program meanwhile leaves no temporary file. Another hard link to a file that is replaced
 * keeps what it had. Returns FRONT_DONE, or FRONT_IO after a message. */
int front_write(const char *name, const char *bytes, size_t length);

/* Writes a report to standard output and gives it up. `made`: what came of making it; the report is
 * looked at only when that is DREGS_OK. A terminal's width is followed, and its colours are used
 * unless NO_COLOR is set. Returns FRONT_DONE, or the status to exit with after a message. */
int front_report(dregs_status made, dregs_report *report, enum front_format format);
/* Is the page itself the working? Is one needed beside the page, which HTML folds away and JSON has
 * as a list? */
int front_explains(const struct front_common *common);
int front_works(const struct front_common *common);
/* The same with the working beside it; NULL for none. Gives up both. */
int front_report_with(dregs_status made, dregs_report *report, dregs_report *working,
                      enum front_format format);

/* Prints a report that is no answer, such as help, as text on a stream and gives it up; NULL:
 * memory was short. A terminal's width is followed; elsewhere it is 80. Returns as front_report. */
int front_print(dregs_report *report, FILE *stream);

/* Flushes and checks standard output: FRONT_IO, after saying so once, when what was printed was
 * lost; else FRONT_DONE. */
int front_flush(void);
/* The same at the end: what became of the output, else `status`. */
int front_end(int status);

#endif
