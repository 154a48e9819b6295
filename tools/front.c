/* SPDX-License-Identifier: GPL-3.0-or-later */
/* front.c: options, messages, exit statuses and reports, the same for all tools. */
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
#include <unistd.h>

static char tool_name[32] = "dregs"; /* as the tool was called */
static int called_as_verb;
static int takes_kinds;
static dregs_cautions_shown cautions_shown = DREGS_CAUTIONS_DANGER; /* --cautions of all tools */

void front_as_verb(int as_verb)
{
    called_as_verb = as_verb;
}

void front_begin(const struct front_tool *tool)
{
    snprintf(tool_name, sizeof tool_name, "%s", tool->name);
    if (called_as_verb)
        *strchr(tool_name, '-') = ' ';
    takes_kinds = tool->kinds;
    (void)gsl_set_error_handler_off();
}

int front_takes_kinds(void)
{
    return takes_kinds;
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

int front_version(void)
{
    printf("%s %s\n"
           "License GPLv3+: GNU GPL version 3 or later. There is no warranty.\n",
           tool_name, dregs_version());
    return front_end(FRONT_DONE);
}

static int print_version(const struct front_tool *tool, const char *argument)
{
    (void)tool;
    (void)argument;
    return front_version();
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
    printf("usage: %s [OPTION]... %s\n%s\n\n", tool_name, tool->operands, tool->purpose);
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
        else if (strcmp(tool->options[index].name, "force") == 0)
            front_force();
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

int front_flush(void)
{
    static int said;

    /* a full disk shows itself only here */
    if (!said && (fflush(stdout) != 0 || ferror(stdout))) {
        said = 1;
        return front_say(FRONT_IO, "standard output: %s", strerror(errno));
    }
    return said ? FRONT_IO : FRONT_DONE;
}

int front_end(int status)
{
    int lost = front_flush();

    return lost ? lost : status;
}
