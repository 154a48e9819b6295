/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* front.c: options, messages, exit statuses and reports, the same for all tools. */
#include "front.h"
#include "config.h"
#include "doubt.h"
#include "publish.h"

#include <errno.h>
#include <getopt.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <time.h>
#include <unistd.h>

static char tool_name[32] = "dregs"; /* as the tool was called */
static int called_as_verb;
static int takes_kinds;
static dregs_cautions_shown cautions_shown = DREGS_CAUTIONS_DANGER; /* --cautions of all tools */
static int wide;                                                    /* --wide */
static dregs_dialect written = {',', '.', 0};                       /* --separator, --decimal */
static int dialect_given;
static const char *config_file; /* --config; NULL: those that are there */

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
    dregs_gsl_hold(); /* for good */
}

int front_takes_kinds(void)
{
    return takes_kinds;
}

DREGS_FORMAT(1, 0)
static void say(const char *format, va_list arguments)
{
    char words[2048]; /* the name of a file may hold what a terminal obeys */

    (void)fflush(stdout);
    vsnprintf(words, sizeof words, format, arguments);
    dregs_report_tame(words);
    fprintf(stderr, "%s: %s\n", tool_name, words);
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
            (void)front_say(0, "%s:%lu: %s", faults->file, fault->line, fault->text);
        else
            (void)front_say(0, "%s: %s", faults->file, fault->text);
    }
    if (faults->more)
        (void)front_say(0, "%s: more than %d faults, stopped here", faults->file, DREGS_FAULTS_MAX);
    if (faults->count == 0)
        (void)front_say(0, "%s", dregs_status_text(status));
    return status == DREGS_IO || status == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA;
}

/* The options that tools share; they stand after a tool's own. */
enum common {
    COMMON_DRAWS,
    COMMON_SEED,
    COMMON_THREADS,
    COMMON_WRITE,
    COMMON_FORCE,
    COMMON_CHECK,
    COMMON_UNITS,
    COMMON_FORMAT,
    COMMON_WIDE,
    COMMON_SEPARATOR,
    COMMON_DECIMAL,
    COMMON_EXPLAIN,
    COMMON_LIQUIDS,
    COMMON_CAUTIONS,
    COMMON_PICTURE,
    COMMON_CONFIG,
    COMMON_HELP,
    COMMON_VERSION,
    COMMON_COUNT
};

int front_version(void)
{
    printf("%s %s\n"
           "Copyright (C) 2026 the dregs authors\n"
           "License GPLv3+: GNU GPL version 3 or later. There is no warranty.\n",
           tool_name, dregs_version());
    return front_end(FRONT_DONE);
}

static const struct front_option common_options[COMMON_COUNT] = {
    [COMMON_DRAWS] =
        {"draws", "N",
         "draws of the values with a spread (default: fixed, fewer of a large line; 0: "
         "none)"},
    [COMMON_SEED] = {"seed", "N", "of the draws (default: 1)"},
    [COMMON_THREADS] = {"threads", "N", "to draw with (default: one for each processor)"},
    [COMMON_WRITE] = {"write", "FILE", NULL},
    [COMMON_FORCE] = {"force", NULL, NULL},
    [COMMON_CHECK] = {"check", NULL, NULL},
    [COMMON_UNITS] = {"units", "SYSTEM", "si (default), or us: gal, lb, degF, ft2"},
    [COMMON_FORMAT] = {"format", "FORMAT", "text (default), csv, json, html or svg"},
    [COMMON_WIDE] = {"wide", NULL,
                     "with --format csv: a row for each load, moment or period, a column for each "
                     "value"},
    [COMMON_SEPARATOR] = {"separator", "MARK",
                          "with --format csv: between cells, ',' (default), ';' or tab"},
    [COMMON_DECIMAL] = {"decimal", "MARK", "with --format csv: of numbers, '.' (default) or ','"},
    [COMMON_EXPLAIN] = {"explain", NULL, NULL},
    [COMMON_LIQUIDS] = {"liquids", "FILE",
                        "property rows that replace or add to the built-in ones"},
    [COMMON_CAUTIONS] = {"cautions", "WHICH",
                         "in text: danger (default), all or none; dangers always stand in full"},
    [COMMON_PICTURE] = {"picture", "NAME",
                        "with --format svg: this picture of the page; 'list' names them"},
    [COMMON_CONFIG] = {"config", "FILE",
                       "settings for options left out, see dregs-config(5); none: no file"},
    [COMMON_HELP] = {"help", NULL, "print this help"},
    [COMMON_VERSION] = {"version", NULL, "print the version"},
};

/* What --help says of one of them; NULL where the tool has no such option. */
static const char *help_of(const struct front_tool *tool, enum common option)
{
    switch (option) {
    case COMMON_DRAWS:
    case COMMON_SEED:
    case COMMON_THREADS:
        return tool->draws ? common_options[option].help : NULL;
    case COMMON_UNITS:
        return tool->units ? common_options[option].help : NULL;
    case COMMON_WIDE:
        return tool->wide ? common_options[option].help : NULL;
    case COMMON_WRITE:
        return tool->write;
    case COMMON_FORCE:
        return tool->force;
    case COMMON_CHECK:
        return tool->check;
    case COMMON_EXPLAIN:
        return tool->explain;
    case COMMON_FORMAT:
    case COMMON_SEPARATOR:
    case COMMON_DECIMAL:
    case COMMON_LIQUIDS:
    case COMMON_CAUTIONS:
    case COMMON_PICTURE:
    case COMMON_CONFIG:
        return tool->plain ? NULL : common_options[option].help;
    default:
        return common_options[option].help;
    }
}

static int take_format(const char *argument, enum front_format *format)
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

/* The separator, or the decimal mark, that a text names; 0: none. */
static char separator_of(const char *text)
{
    if (strcmp(text, "tab") == 0)
        return '\t';
    return *text && strchr(",;\t", *text) && !text[1] ? *text : 0;
}

static char decimal_of(const char *text)
{
    return *text && strchr(".,", *text) && !text[1] ? *text : 0;
}

static int take_separator(const char *argument)
{
    dialect_given = 1;
    written.separator = separator_of(argument);
    return written.separator
               ? 0
               : front_usage("--separator '%s' is not one of ',', ';', tab", argument);
}

static int take_decimal(const char *argument)
{
    dialect_given = 1;
    written.decimal = decimal_of(argument);
    return written.decimal ? 0 : front_usage("--decimal '%s' is not one of '.', ','", argument);
}

/* What goes together of them is known when all options are read. */
static int check_dialect(const struct front_common *common)
{
    if (!dialect_given)
        return 0;
    if (common->format != FRONT_CSV)
        return front_usage("--separator and --decimal go with --format csv");
    if (written.separator == written.decimal)
        return front_usage("a comma cannot be both: --decimal ',' takes --separator ';' or tab");
    return 0;
}

/* ---- settings, which stand for what the command line leaves out ---- */

enum setting { SET_LIQUIDS, SET_THREADS, SET_SEPARATOR, SET_DECIMAL, SET_UNITS };
_Static_assert(SET_UNITS + 1 == CONFIG_KEYS, "a name for each");

static const enum common settable[CONFIG_KEYS] = {[SET_LIQUIDS] = COMMON_LIQUIDS,
                                                  [SET_THREADS] = COMMON_THREADS,
                                                  [SET_SEPARATOR] = COMMON_SEPARATOR,
                                                  [SET_DECIMAL] = COMMON_DECIMAL,
                                                  [SET_UNITS] = COMMON_UNITS};

DREGS_FORMAT(2, 3)
static int bad_setting(const struct config_value *set, const char *format, ...)
{
    char words[DREGS_CONFIG_VALUE + 256];
    va_list arguments;

    va_start(arguments, format);
    vsnprintf(words, sizeof words, format, arguments);
    va_end(arguments);
    return front_say(FRONT_BAD_DATA, "%s:%lu: %s", set->file, set->line, words);
}

/* It takes part in the answer. */
static void use_setting(const struct config_value *values, enum setting key)
{
    if (values[key].file)
        front_read_setting(values[key].file, values[key].line, common_options[settable[key]].name,
                           values[key].value);
}

static int set_liquids(struct front_common *common, const struct config_value *values)
{
    const struct config_value *set = &values[SET_LIQUIDS];

    if (!set->file)
        return 0;
    if (strcmp(set->value, "-") == 0)
        return bad_setting(set, "liquids cannot be standard input");
    if (common->liquids_file)
        return 0;
    common->liquids_file = config_beside(set);
    if (access(common->liquids_file, R_OK) != 0)
        return front_say(FRONT_IO, "%s:%lu: %s: %s", set->file, set->line, common->liquids_file,
                         strerror(errno));
    use_setting(values, SET_LIQUIDS);
    return 0;
}

static int set_threads(const struct front_tool *tool, struct front_common *common,
                       const struct config_value *values)
{
    const struct config_value *set = &values[SET_THREADS];
    char message[DREGS_ASK_MESSAGE];
    dregs_ask_draws draws;

    if (!set->file)
        return 0;
    dregs_ask_draws_init(&draws);
    if (dregs_ask_draws_take(&draws, "threads", set->value, message))
        return bad_setting(set, "%s", message + strspn(message, "-"));
    if (!tool->draws || common->draws.threads)
        return 0;
    common->draws.threads = draws.threads;
    use_setting(values, SET_THREADS);
    return 0;
}

static int set_units(const struct front_tool *tool, struct front_common *common,
                     const struct config_value *values)
{
    const struct config_value *set = &values[SET_UNITS];
    char message[DREGS_ASK_MESSAGE];
    dregs_units units;

    if (!set->file)
        return 0;
    if (dregs_ask_units(set->value, &units, message))
        return bad_setting(set, "%s", message + strspn(message, "-"));
    if (!tool->units || common->units_given)
        return 0;
    common->units = units;
    use_setting(values, SET_UNITS);
    return 0;
}

/* Both together, so that one of the command line never meets one of a file. */
static int set_dialect(const struct front_common *common, const struct config_value *values)
{
    const struct config_value *separator = &values[SET_SEPARATOR], *decimal = &values[SET_DECIMAL];
    dregs_dialect set = written;

    if (dialect_given)
        set = (dregs_dialect){',', '.', 0};
    if (separator->file && !(set.separator = separator_of(separator->value)))
        return bad_setting(separator, "separator '%s' is not one of ',', ';', tab",
                           separator->value);
    if (decimal->file && !(set.decimal = decimal_of(decimal->value)))
        return bad_setting(decimal, "decimal '%s' is not one of '.', ','", decimal->value);
    if (set.separator == set.decimal)
        return bad_setting(decimal, "a comma cannot be both: decimal = , takes separator = ; or "
                                    "tab");
    if (dialect_given || common->format != FRONT_CSV)
        return 0;
    written = set;
    use_setting(values, SET_SEPARATOR);
    use_setting(values, SET_DECIMAL);
    return 0;
}

static int take_settings(const struct front_tool *tool, struct front_common *common)
{
    struct config_value values[CONFIG_KEYS];
    const char *keys[CONFIG_KEYS];
    size_t k;
    int status;

    for (k = 0; k < CONFIG_KEYS; k++)
        keys[k] = common_options[settable[k]].name;
    status = config_read(config_file, keys, values);
    if (!status)
        status = set_liquids(common, values);
    if (!status)
        status = set_threads(tool, common, values);
    if (!status)
        status = set_units(tool, common, values);
    return status ? status : set_dialect(common, values);
}

static int take_cautions(const char *argument)
{
    static const char *const names[] = {[DREGS_CAUTIONS_DANGER] = "danger",
                                        [DREGS_CAUTIONS_ALL] = "all",
                                        [DREGS_CAUTIONS_NONE] = "none"};
    int i;

    for (i = 0; i < 3; i++)
        if (strcmp(argument, names[i]) == 0) {
            cautions_shown = (dregs_cautions_shown)i;
            return 0;
        }
    return front_usage("--cautions '%s' is not one of all, danger, none", argument);
}

/* One that asks for something of the answer; returns 0, or FRONT_USAGE after saying why. */
static int take_common(struct front_common *common, enum common option, const char *argument)
{
    char message[DREGS_ASK_MESSAGE];

    switch (option) {
    case COMMON_DRAWS:
    case COMMON_SEED:
    case COMMON_THREADS:
        return doubt_take(&common->draws, common_options[option].name, argument);
    case COMMON_WRITE:
        common->write_file = argument;
        return 0;
    case COMMON_FORCE:
        front_force();
        return 0;
    case COMMON_CHECK:
        common->check = 1;
        return 0;
    case COMMON_UNITS:
        common->units_given = 1;
        return dregs_ask_units(argument, &common->units, message) ? front_usage("%s", message) : 0;
    case COMMON_FORMAT:
        return take_format(argument, &common->format);
    case COMMON_SEPARATOR:
        return take_separator(argument);
    case COMMON_DECIMAL:
        return take_decimal(argument);
    case COMMON_EXPLAIN:
        common->explain = 1;
        return 0;
    case COMMON_WIDE:
        wide = common->wide = 1;
        return 0;
    case COMMON_LIQUIDS:
        common->liquids_file = argument;
        return 0;
    case COMMON_CAUTIONS:
        return take_cautions(argument);
    case COMMON_CONFIG:
        config_file = argument;
        return 0;
    default:
        front_picture(argument);
        return 0;
    }
}

int front_option_at(const struct front_tool *tool, size_t index, struct front_option *option)
{
    size_t own = tool->option_count;
    int k;

    if (index < own) {
        *option = tool->options[index];
        return 1;
    }
    for (k = 0; k < COMMON_COUNT; k++)
        if (help_of(tool, (enum common)k) && index-- == own) {
            *option = common_options[k];
            option->help = help_of(tool, (enum common)k);
            return 1;
        }
    return 0;
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

static void put_option(struct option *into, const struct front_option *option, size_t number)
{
    into->name = option->name;
    into->has_arg = option->argument ? required_argument : no_argument;
    into->val = LONG_OPTION + (int)number; /* two of one value would not be ambiguous */
}

/* All options of a tool, for getopt_long; a common one has its number after the tool's own. NULL
 * without memory. */
static struct option *list_options(const struct front_tool *tool)
{
    size_t own = tool->option_count, count, i;
    struct option *table = calloc(own + COMMON_COUNT + 1, sizeof *table);

    if (!table)
        return NULL;
    for (i = 0; i < own; i++)
        put_option(&table[i], &tool->options[i], i);
    for (count = own, i = 0; i < COMMON_COUNT; i++)
        if (help_of(tool, (enum common)i))
            put_option(&table[count++], &common_options[i], own + i);
    return table;
}

/* What getopt_long has read; returns -1 to go on, or the status to exit with. */
static int take_option(const struct front_tool *tool, int read, char **argv,
                       struct front_common *common, front_take *take, void *user)
{
    size_t own = tool->option_count, number = (size_t)(read - LONG_OPTION);
    int taken;

    if (read == ':')
        return front_usage("option '%s' needs an argument", argv[optind - 1]);
    if (read == '?' && optopt >= LONG_OPTION)
        return front_usage("option '%s' takes no argument", argv[optind - 1]);
    if (read == '?')
        return front_usage("unknown option '%s'", refused(argv));
    if (read == 'h' || number == own + COMMON_HELP)
        return front_help(tool, tool_name);
    if (read == 'V' || number == own + COMMON_VERSION)
        return front_version();
    taken = number < own ? take(user, number, optarg)
                         : take_common(common, (enum common)(number - own), optarg);
    return taken ? taken : -1;
}

int front_options(const struct front_tool *tool, int argc, char **argv, struct front_common *common,
                  front_take *take, void *user, int *operand)
{
    struct option *table = list_options(tool);
    int status = -1, read;

    *common = (struct front_common){0};
    dregs_ask_draws_init(&common->draws);
    if (!table)
        return front_say(FRONT_IO, "out of memory");
    opterr = 0;
    while (status < 0 && (read = getopt_long(argc, argv, ":hV", table, NULL)) != -1)
        status = take_option(tool, read, argv, common, take, user);
    free(table);
    *operand = optind;
    if (status < 0 && (front_check_picture() || check_dialect(common)))
        return FRONT_USAGE;
    if (status < 0 && wide && common->format != FRONT_CSV)
        return front_usage("--wide goes with --format csv");
    if (status < 0 && !tool->plain) {
        int refused_settings = take_settings(tool, common);
        if (refused_settings)
            return refused_settings;
    }
    return status;
}

int front_run(const struct front_tool *tool, int argc, char **argv, struct front_common *common,
              front_take *take, front_answer *answer, void *user)
{
    int operand, status;

    front_begin(tool);
    status = front_options(tool, argc, argv, common, take, user, &operand);
    if (status >= 0)
        return status;
    if (operand + 1 != argc)
        return front_usage(operand < argc ? "one line file at a time" : "no line file given");
    return front_end(answer(user, argv[operand]));
}

int front_quantity(const char *name, const char *text, const char *like, double low, double high,
                   double *si)
{
    char message[DREGS_ASK_MESSAGE];

    return dregs_ask_quantity(name, text, like, low, high, si, message) ? front_usage("%s", message)
                                                                        : 0;
}

int front_asked(const struct front_tool *tool, dregs_asked **asked)
{
    return dregs_asked_new(strchr(tool->name, '-') + 1, asked)
               ? front_say(FRONT_IO, "out of memory")
               : 0;
}

int front_ask(dregs_asked *asked, const char *option, const char *argument)
{
    char message[DREGS_ASK_MESSAGE];
    dregs_status status = dregs_asked_take(asked, option, argument, message);

    if (status == DREGS_NO_MEMORY)
        return front_say(FRONT_IO, "out of memory");
    return status ? front_usage("%s", message) : 0;
}

int front_ask_check(dregs_asked *asked, const struct front_common *common, unsigned lines,
                    unsigned accounts, int beside)
{
    char message[DREGS_ASK_MESSAGE];

    *dregs_asked_draws(asked) = common->draws;
    if (common->explain)
        (void)dregs_asked_take(asked, "explain", NULL, message);
    return dregs_asked_check(asked, lines, accounts, beside, message) ? front_usage("%s", message)
                                                                      : 0;
}

int front_check(const char *file, const struct front_common *common)
{
    if (common->explain && common->format != FRONT_TEXT && common->format != FRONT_JSON)
        return front_usage("--explain is text or JSON; it goes with no other --format");
    if (common->liquids_file && strcmp(common->liquids_file, "-") == 0 && strcmp(file, "-") == 0)
        return front_usage("LINE and --liquids cannot both be standard input");
    return 0;
}

static double seconds(void)
{
    struct timespec now;

    return clock_gettime(CLOCK_MONOTONIC, &now) ? 0
                                                : (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

void front_watch_begin(struct front_watch *watch)
{
    *watch = (struct front_watch){seconds(), 0, isatty(STDERR_FILENO), 0};
}

int front_watch_due(struct front_watch *watch)
{
    double now = watch->terminal ? seconds() : 0;

    if (!watch->terminal || now - watch->since < 1 || now - watch->shown < 0.2)
        return 0;
    watch->shown = now;
    return watch->on = 1;
}

void front_watch_end(struct front_watch *watch)
{
    if (watch->on)
        fprintf(stderr, "\r\033[K");
    watch->on = 0;
}

static int print(void *user, const char *bytes, size_t length)
{
    return fwrite(bytes, 1, length, user) != length;
}

/* The columns of the terminal that is written to; 0 when it is none, or too narrow for a page. */
static int terminal_width(FILE *stream)
{
    int descriptor = fileno(stream);
    struct winsize size;

    if (!isatty(descriptor) || ioctl(descriptor, TIOCGWINSZ, &size) || size.ws_col < 40)
        return 0;
    return size.ws_col < 120 ? size.ws_col : 120; /* longer lines are hard to read */
}

int front_explains(const struct front_common *common)
{
    return common->explain && common->format == FRONT_TEXT;
}

int front_works(const struct front_common *common)
{
    return common->format == FRONT_HTML || (common->explain && common->format == FRONT_JSON);
}

int front_report_with(dregs_status made, dregs_report *report, dregs_report *working,
                      enum front_format format)
{
    int status;

    if (!made && working && format == FRONT_JSON) {
        dregs_report_working(report, working);
        status = front_report(made, report, format);
        dregs_report_free(working);
        return status;
    }
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
        front_say_read(report);
        (void)dregs_report_csv_dialect(report, written); /* it was looked at with the options */
        made = dregs_report_write(report, wide ? DREGS_REPORT_CSV_WIDE : formats[format],
                                  terminal_width(stdout), colour, print, stdout);
        dregs_report_free(report);
        if (wide && made == DREGS_UNKNOWN)
            return front_usage("--wide: this CSV has no value to a row and no wide form");
    }
    if (made == DREGS_IO || !made)
        return FRONT_DONE; /* what became of the output is found at its end */
    return front_say(made == DREGS_NO_MEMORY ? FRONT_IO : FRONT_BAD_DATA, "%s",
                     made == DREGS_NO_MEMORY ? "out of memory" : dregs_status_text(made));
}

int front_print(dregs_report *report, FILE *stream)
{
    int width = terminal_width(stream);
    dregs_status made =
        report ? dregs_report_write(report, DREGS_REPORT_TEXT, width ? width : 80, 0, print, stream)
               : DREGS_NO_MEMORY;

    dregs_report_free(report);
    if (made == DREGS_IO || !made)
        return FRONT_DONE; /* what became of the output is found at its end */
    return front_say(FRONT_IO, "%s", dregs_status_text(made));
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

    if (!lost && (status == FRONT_DONE || status == FRONT_MISSED))
        front_say_settings();
    return lost ? lost : status;
}
