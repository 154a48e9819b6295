/* SPDX-License-Identifier: GPL-3.0-or-later */
/* front.c: options, messages, exit statuses and files, the same for all tools. */
#include "front.h"
#include "publish.h"

#include <errno.h>
#include <getopt.h>
#include <gsl/gsl_errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *tool_name = "dregs";
static int takes_kinds;
static dregs_cautions_shown cautions_shown = DREGS_CAUTIONS_DANGER; /* --cautions of all tools */

void front_begin(const struct front_tool *tool)
{
    tool_name = tool->name;
    takes_kinds = tool->kinds;
    (void)gsl_set_error_handler_off();
}

static void say(const char *format, va_list arguments)
{
    (void)fflush(stdout);
    fprintf(stderr, "%s: ", tool_name);
    vfprintf(stderr, format, arguments);
    fputc('\n', stderr);
}

int front_say(int status, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    say(format, arguments);
    va_end(arguments);
    return status;
}

int front_usage(const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    say(format, arguments);
    va_end(arguments);
    fprintf(stderr, "try '%s --help'\n", tool_name);
    return FRONT_USAGE;
}

int front_faults(const dregs_faults *faults, dregs_status status)
{
    unsigned i;

    for (i = 0; i < faults->count; i++) {
        const dregs_fault *fault = &faults->fault[i];
        if (fault->line)
            fprintf(stderr, "%s: %s:%lu: %s\n", tool_name, faults->file, fault->line, fault->text);
        else
            fprintf(stderr, "%s: %s: %s\n", tool_name, faults->file, fault->text);
    }
    if (faults->more)
        fprintf(stderr, "%s: %s: more than %d faults, stopped here\n", tool_name, faults->file,
                DREGS_FAULTS_MAX);
    if (faults->count == 0)
        fprintf(stderr, "%s: %s\n", tool_name, dregs_status_text(status));
    return status == DREGS_IO || status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA;
}

static int print_help(const struct front_tool *tool, const char *argument);

static int print_version(const struct front_tool *tool, const char *argument)
{
    (void)argument;
    printf("%s %s\n"
           "License GPLv3+: GNU GPL version 3 or later. There is no warranty.\n",
           tool->name, dregs_version());
    return front_end(FRONT_DONE);
}

static int take_cautions(const struct front_tool *tool, const char *argument)
{
    static const char *const names[] = {[DREGS_CAUTIONS_DANGER] = "danger",
                                        [DREGS_CAUTIONS_ALL] = "all",
                                        [DREGS_CAUTIONS_NONE] = "none"};
    int i;

    (void)tool;
    for (i = 0; i < 3; i++)
        if (strcmp(argument, names[i]) == 0) {
            cautions_shown = (dregs_cautions_shown)i;
            return -1;
        }
    return front_usage("--cautions '%s' is not one of all, danger, none", argument);
}

static int take_picture(const struct front_tool *tool, const char *argument)
{
    (void)tool;
    front_picture(argument);
    return -1;
}

/* The options of every tool, after its own. What takes one returns an exit status, or -1 to go on.
 */
static const struct {
    struct front_option option;
    int (*take)(const struct front_tool *tool, const char *argument);
} common[] = {
    {{"cautions", "WHICH", "in text: danger (default), all or none; dangers always stand in full"},
     take_cautions},
    {{"picture", "NAME", "with --format svg: this picture of the page; 'list' names them"},
     take_picture},
    {{"help", NULL, "print this help"}, print_help},
    {{"version", NULL, "print the version"}, print_version},
};

enum { COMMON_COUNT = sizeof common / sizeof common[0] };

static void print_option(const struct front_option *option)
{
    char left[40];

    snprintf(left, sizeof left, "--%s%s%s", option->name, option->argument ? " " : "",
             option->argument ? option->argument : "");
    printf("  %-20s %s\n", left, option->help);
}

static int print_help(const struct front_tool *tool, const char *argument)
{
    size_t i;

    (void)argument;
    printf("usage: %s [OPTION]... %s\n%s\n\n", tool->name, tool->operands, tool->purpose);
    for (i = 0; i < tool->option_count; i++)
        print_option(&tool->options[i]);
    for (i = 0; i < COMMON_COUNT; i++)
        print_option(&common[i].option);
    printf("\nThe manual: man %s. The line file: man 5 dregs-line.\n", tool->name);
    return front_end(FRONT_DONE);
}

enum { LONG_OPTION = 256 }; /* values that no letter has */

/* The argument that getopt_long has just called unknown. */
static const char *refused(char **argv)
{
    const char *last = argv[optind - 1];

    /* a letter with others behind it: getopt has not moved on yet */
    if (optopt && (last[0] != '-' || last[1] == '-' ||
                   (unsigned char)last[strlen(last) - 1] != (unsigned char)optopt))
        return argv[optind];
    return last;
}

int front_options(const struct front_tool *tool, int argc, char **argv, front_take *take,
                  void *user, int *operand)
{
    size_t own = tool->option_count;
    struct option *table = calloc(own + COMMON_COUNT + 1, sizeof *table);
    int status = -1, read, index = 0;
    size_t i;

    if (!table)
        return front_say(FRONT_IO, "out of memory");
    for (i = 0; i < own; i++) {
        table[i].name = tool->options[i].name;
        table[i].has_arg = tool->options[i].argument ? required_argument : no_argument;
    }
    for (i = 0; i < COMMON_COUNT; i++) {
        table[own + i].name = common[i].option.name;
        table[own + i].has_arg = common[i].option.argument ? required_argument : no_argument;
    }
    for (i = 0; i < own + COMMON_COUNT; i++)
        table[i].val = LONG_OPTION + (int)i; /* two of one value would not be ambiguous */
    opterr = 0;
    while (status < 0 && (read = getopt_long(argc, argv, ":", table, &index)) != -1) {
        if (read == ':')
            status = front_usage("option '%s' needs an argument", argv[optind - 1]);
        else if (read == '?' && optopt >= LONG_OPTION)
            status = front_usage("option '%s' takes no argument", argv[optind - 1]);
        else if (read == '?')
            status = front_usage("unknown option '%s'", refused(argv));
        else if ((size_t)index >= own)
            status = common[(size_t)index - own].take(tool, optarg);
        else {
            int taken = take(user, (size_t)index, optarg);
            if (taken)
                status = taken;
        }
    }
    free(table);
    *operand = optind;
    if (status < 0 && front_check_picture())
        return FRONT_USAGE;
    return status;
}

int front_run(const struct front_tool *tool, int argc, char **argv, front_take *take,
              front_answer *answer, void *user)
{
    int operand, status;

    front_begin(tool);
    status = front_options(tool, argc, argv, take, user, &operand);
    if (status >= 0)
        return status;
    if (operand + 1 != argc)
        return front_usage(operand < argc ? "one line file at a time" : "no line file given");
    return front_end(answer(user, argv[operand]));
}

int front_format(const char *argument, enum front_format *format)
{
    static const char *const names[] = {"text", "csv", "json", "html", "svg"};
    int i;

    for (i = 0; i < 5; i++)
        if (strcmp(argument, names[i]) == 0) {
            *format = (enum front_format)i;
            front_publish_as(*format);
            return 0;
        }
    return front_usage("--format '%s' is not one of text, csv, json, html, svg", argument);
}

int front_quantity(const char *name, const char *text, const char *like, double low, double high,
                   double *si)
{
    char message[DREGS_UNIT_MESSAGE];
    double read;

    if (dregs_unit_quantity(text, like, &read, message)) {
        if (dregs_number_read(text, &read) == DREGS_OK) /* a bare number */
            return front_usage("--%s '%s': needs a unit, for example '%s %s'", name, text, text,
                               like);
        return front_usage("--%s '%s': %s", name, text, message);
    }
    if (!(read >= low) || !(read <= high))
        return front_usage("--%s '%s' is out of its range", name, text);
    *si = read;
    return 0;
}

int front_check(const char *file, const char *liquids_file, enum front_format format, int explain)
{
    if (explain && format != FRONT_TEXT)
        return front_usage("--explain is text; it goes with no other --format");
    if (liquids_file && strcmp(liquids_file, "-") == 0 && strcmp(file, "-") == 0)
        return front_usage("LINE and --liquids cannot both be standard input");
    return 0;
}

uint64_t front_count(const char *text)
{
    double value;

    if (strspn(text, "0123456789") != strlen(text) || dregs_number_read(text, &value) ||
        !(value >= 1) || !(value <= (double)DREGS_LOADS_MOST))
        return 0;
    return (uint64_t)value;
}

/* Opens a file for reading, refusing what cannot hold a table. NULL after a message. */
static FILE *open_file(const char *name, int *status)
{
    struct stat about;
    FILE *file;

    if (strcmp(name, "-") == 0)
        return front_keep(name, stdin, status);
    file = fopen(name, "rb");
    if (!file) {
        *status = front_say(FRONT_IO, "%s: %s", name, strerror(errno));
        return NULL;
    }
    if (fstat(fileno(file), &about) == 0 && S_ISDIR(about.st_mode)) {
        fclose(file);
        *status = front_say(FRONT_BAD_DATA, "%s: is a directory, not a file", name);
        return NULL;
    }
    return front_keep(name, file, status);
}

static void close_file(FILE *file)
{
    if (file != stdin)
        fclose(file);
}

static int read_liquids(const char *name, dregs_liquids *liquids)
{
    const char *shown = strcmp(name, "-") == 0 ? "standard input" : name;
    dregs_faults faults = {0};
    dregs_status status;
    int exit_status = FRONT_DONE;
    size_t length;
    char *bytes;
    FILE *file = open_file(name, &exit_status);

    if (!file)
        return exit_status;
    bytes = malloc(DREGS_LINE_BYTES + 1);
    if (!bytes) {
        close_file(file);
        return front_say(FRONT_IO, "out of memory");
    }
    length = fread(bytes, 1, DREGS_LINE_BYTES + 1, file);
    if (ferror(file)) {
        exit_status = front_say(FRONT_IO, "%s: %s", shown, strerror(errno));
    } else if (length > DREGS_LINE_BYTES) {
        exit_status = front_say(FRONT_BAD_DATA, "%s: larger than any table of liquids", shown);
    } else {
        snprintf(faults.file, sizeof faults.file, "%s", shown);
        status = dregs_liquids_add(liquids, shown, bytes, length, &faults);
        if (status)
            exit_status = front_faults(&faults, status);
    }
    free(bytes);
    close_file(file);
    return exit_status;
}

int front_read_liquids(const char *liquids_file, dregs_liquids **liquids)
{
    *liquids = dregs_liquids_new();
    if (!*liquids)
        return front_say(FRONT_IO, "out of memory");
    return liquids_file ? read_liquids(liquids_file, *liquids) : FRONT_DONE;
}

/* A tool that does not know of several kinds of loads would answer as if all were the first. */
static int check_kinds(const dregs_line *line)
{
    unsigned row;

    if (takes_kinds || dregs_line_kinds(line) == 1)
        return FRONT_DONE;
    row = dregs_line_find(line, dregs_line_schedule_name(line), "sequence");
    return front_say(FRONT_BAD_DATA,
                     "%s:%lu: loads of several kinds are not taken by this tool yet",
                     dregs_line_name(line), dregs_line_row(line, row)->line);
}

int front_read_line(const char *line_file, const dregs_liquids *liquids, dregs_line **line)
{
    const char *shown = strcmp(line_file, "-") == 0 ? "standard input" : line_file;
    dregs_faults faults = {0};
    dregs_status status;
    int exit_status = FRONT_DONE;
    FILE *file = open_file(line_file, &exit_status);

    if (!file)
        return exit_status;
    status = dregs_line_read(shown, file, liquids, line, &faults);
    close_file(file);
    return status ? front_faults(&faults, status) : check_kinds(*line);
}

int front_read_purchases(const char *file_name, const dregs_line *line, const double *density,
                         dregs_purchases **purchases)
{
    const char *shown = strcmp(file_name, "-") == 0 ? "standard input" : file_name;
    dregs_faults faults = {0};
    dregs_status status;
    int exit_status = FRONT_DONE;
    FILE *file = open_file(file_name, &exit_status);

    if (!file)
        return exit_status;
    status = dregs_purchases_read(shown, file, line, density, purchases, &faults);
    close_file(file);
    return status ? front_faults(&faults, status) : FRONT_DONE;
}

int front_read_readings(const char *name, const dregs_line *line, dregs_readings **readings)
{
    enum { PIECE = 1 << 16 };
    const char *shown = strcmp(name, "-") == 0 ? "standard input" : name;
    dregs_faults faults = {0};
    dregs_status status = DREGS_OK;
    int exit_status = FRONT_DONE;
    size_t length = PIECE;
    char *piece;
    FILE *file = open_file(name, &exit_status);

    if (!file)
        return exit_status;
    piece = malloc(PIECE);
    *readings = dregs_readings_new(shown, line, &faults);
    if (!piece || !*readings)
        exit_status = front_say(FRONT_IO, "out of memory");
    while (!exit_status && !status && length == PIECE) {
        length = fread(piece, 1, PIECE, file);
        status = dregs_readings_feed(*readings, piece, length);
    }
    if (!exit_status && ferror(file))
        exit_status = front_say(FRONT_IO, "%s: %s", shown, strerror(errno));
    if (!exit_status) { /* also after a failure: it puts the faults in order */
        dregs_status end = dregs_readings_end(*readings);
        status = status ? status : end;
        exit_status = status ? front_faults(&faults, status) : FRONT_DONE;
    }
    free(piece);
    close_file(file);
    return exit_status;
}

int front_read(const char *line_file, const char *liquids_file, dregs_liquids **liquids,
               dregs_line **line)
{
    int status = front_read_liquids(liquids_file, liquids);

    return status ? status : front_read_line(line_file, *liquids, line);
}

static int write_all(FILE *file, const char *name, const char *bytes, size_t length, int sync)
{
    int reason = 0;

    errno = 0;
    if (fwrite(bytes, 1, length, file) != length || fflush(file) != 0 ||
        (sync && fsync(fileno(file)) != 0))
        reason = errno ? errno : EIO;
    if (fclose(file) != 0 && !reason)
        reason = errno;
    return reason ? front_say(FRONT_IO, "%s: %s", name, strerror(reason)) : FRONT_DONE;
}

/* Through a temporary file in the same folder, so that the name never stands for half a file. */
static int write_plain(const char *name, const char *bytes, size_t length, const struct stat *old)
{
    size_t room = strlen(name) + 8;
    char *temporary = malloc(room);
    int status, descriptor;
    mode_t mask;
    FILE *file;

    if (!temporary)
        return front_say(FRONT_IO, "out of memory");
    snprintf(temporary, room, "%s.XXXXXX", name);
    descriptor = mkstemp(temporary);
    file = descriptor < 0 ? NULL : fdopen(descriptor, "wb");
    if (!file) {
        status = front_say(FRONT_IO, "%s: %s", name, strerror(errno));
        free(temporary);
        return status;
    }
    mask = umask(0); /* mkstemp makes it private; a new file gets the usual rights */
    (void)umask(mask);
    (void)fchmod(descriptor, old ? old->st_mode & 0777 : 0666 & ~mask);
    status = write_all(file, name, bytes, length, 1);
    if (!status && rename(temporary, name) != 0)
        status = front_say(FRONT_IO, "%s: %s", name, strerror(errno));
    if (status)
        (void)unlink(temporary);
    free(temporary);
    return status;
}

int front_write(const char *name, const char *bytes, size_t length)
{
    struct stat about;
    int exists = stat(name, &about) == 0, status;
    char *resolved;
    FILE *file;

    if (exists && !S_ISREG(about.st_mode)) {
        file = fopen(name, "wb");
        if (!file)
            return front_say(FRONT_IO, "%s: %s", name, strerror(errno));
        return write_all(file, name, bytes, length, 0);
    }
    resolved = exists ? realpath(name, NULL) : NULL;
    status = write_plain(resolved ? resolved : name, bytes, length, exists ? &about : NULL);
    free(resolved);
    return status;
}

static int print(void *user, const char *bytes, size_t length)
{
    return fwrite(bytes, 1, length, user) != length;
}

/* The columns of the terminal that is written to; 0 when it is none, or too narrow for a page. */
static int terminal_width(void)
{
    struct winsize size;

    if (!isatty(STDOUT_FILENO) || ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) || size.ws_col < 40)
        return 0;
    return size.ws_col < 120 ? size.ws_col : 120; /* longer lines are hard to read */
}

int front_report_with(dregs_status made, dregs_report *report, dregs_report *working,
                      enum front_format format)
{
    int status;

    if (made || (format != FRONT_HTML && format != FRONT_SVG)) {
        dregs_report_free(working);
        return front_report(made, report, format);
    }
    status = front_publish(report, working, format);
    dregs_report_free(working);
    dregs_report_free(report);
    return status;
}

int front_report(dregs_status made, dregs_report *report, enum front_format format)
{
    static const dregs_report_format formats[] = {[FRONT_TEXT] = DREGS_REPORT_TEXT,
                                                  [FRONT_CSV] = DREGS_REPORT_CSV,
                                                  [FRONT_JSON] = DREGS_REPORT_JSON};
    const char *no_colour = getenv("NO_COLOR");
    int colour = isatty(STDOUT_FILENO) && !(no_colour && *no_colour);

    if (!made && (format == FRONT_HTML || format == FRONT_SVG))
        return front_report_with(made, report, NULL, format);
    if (!made) {
        dregs_report_cautions_shown(report, cautions_shown);
        made = dregs_report_write(report, formats[format], terminal_width(), colour, print, stdout);
        dregs_report_free(report);
    }
    if (made == DREGS_IO || !made)
        return FRONT_DONE; /* what became of the output is found at its end */
    return front_say(made == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s",
                     made == DREGS_NO_MEMORY ? "out of memory" : dregs_status_text(made));
}

int front_end(int status)
{
    /* a full disk shows itself only here */
    if (fflush(stdout) != 0 || ferror(stdout)) {
        int reason = errno;
        return front_say(FRONT_IO, "standard output: %s", strerror(reason));
    }
    return status;
}
