/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* complete.c: dregs complete, for shells and not for people: the completions of bash, zsh and fish,
 * made from the tables of options, and what may stand behind an option or in place of a file.
 *
 *     dregs complete bash|zsh|fish               the completions, as a script
 *     dregs complete values VERB [OPTION] -- WORD...
 *                                                what may stand there, a line each; the words typed
 *                                                so far tell which file or template is meant
 */
#include "front.h"
#include "texts.h"
#include "verbs.h"

#include <stdio.h>
#include <string.h>

static const struct front_tool tool = {
    .name = "dregs-complete",
    .operands = "SHELL | values VERB [OPTION] -- WORD...",
    .purpose = "Prints the completions of a shell: bash, zsh or fish.",
    .plain = 1,
    .page = "dregs",
};

/* What stands behind an option. */
enum kind { NOTHING, FREE, FILES, VALUES, KINDS };

static enum kind kind_of(const struct front_option *option)
{
    static const char *const known[] = {"format", "cautions", "separator", "decimal", "vary",
                                        "layout", "set",      "template",  "liquid",  NULL};
    size_t i;

    if (!option->argument)
        return NOTHING;
    if (strcmp(option->argument, "FILE") == 0)
        return FILES;
    for (i = 0; known[i]; i++)
        if (strcmp(known[i], option->name) == 0)
            return VALUES;
    return FREE;
}

static const char *word_of(const struct verb *verb)
{
    return verb->tool->name + strlen("dregs-");
}

/* ---- what may stand somewhere ---- */

static void print_words(const char *const *words)
{
    for (; *words; words++)
        puts(*words);
}

/* The numbers of a line's rows as ITEM.PROPERTY. `stages`: of its stages alone. */
static void print_rows(const dregs_line *line, int stages)
{
    dregs_value value;
    unsigned row, i;

    for (row = 1; row <= dregs_line_rows(line); row++) {
        const dregs_row *cells = dregs_line_row(line, row);
        int wanted = !stages;
        if (dregs_line_value(line, row, &value) != DREGS_OK)
            continue;
        for (i = 0; i < dregs_line_stages(line) && !wanted; i++)
            wanted = strcmp(cells->item, dregs_line_stage_name(line, i)) == 0;
        if (wanted)
            printf("%s.%s%s\n", cells->item, cells->property, stages ? "" : "=");
    }
}

/* Those of the first word that is a line file, or a template; a file with faults has none. */
static void print_rows_of(int argc, char **argv, int stages)
{
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_line *line = NULL;
    int i;

    for (i = 0; i < argc && !line && liquids; i++) {
        const struct text *template = text_find(argv[i], 1);
        FILE *file = template || strcmp(argv[i], "-") == 0 ? NULL : fopen(argv[i], "rb");
        if (template)
            (void)dregs_line_parse(argv[i], (const char *)template->bytes, template->length,
                                   liquids, &line, NULL);
        if (file) {
            (void)dregs_line_read(argv[i], file, liquids, &line, NULL);
            fclose(file);
        }
    }
    if (line)
        print_rows(line, stages);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
}

static void print_texts(int template)
{
    size_t i;

    for (i = 0; i < text_count; i++)
        if (texts[i].template == template)
            puts(texts[i].name);
}

static void print_liquids(void)
{
    dregs_liquids *liquids = dregs_liquids_new();
    const char *name;
    size_t i;

    for (i = 0; liquids && (name = dregs_liquids_name(liquids, i)) != NULL; i++)
        puts(name);
    dregs_liquids_free(liquids);
}

/* In place of the operand. */
static void print_operands(const char *verb)
{
    const char *word;
    int i;

    if (strcmp(verb, "example") == 0)
        print_texts(0);
    else if (strcmp(verb, "liquid") == 0)
        print_liquids();
    else if (strcmp(verb, "beaker") == 0)
        for (i = 0; (word = dregs_beaker_word((dregs_beaker_question)i)) != NULL; i++)
            puts(word);
    else if (strcmp(verb, "help") == 0)
        for (i = 0; verb_at((size_t)i); i++)
            puts(word_of(verb_at((size_t)i)));
}

/* argv: VERB [OPTION] -- WORD... */
static int print_values(int argc, char **argv)
{
    static const char *const formats[] = {"text", "csv", "json", "html", "svg", NULL};
    static const char *const cautions[] = {"danger", "all", "none", NULL};
    static const char *const separators[] = {",", ";", "tab", NULL}, *const decimals[] = {".", ",",
                                                                                          NULL};
    static const char *const systems[] = {"si", "us", NULL};
    int words = 1, i;
    const char *option;

    while (words < argc && strcmp(argv[words], "--") != 0)
        words++;
    if (argc < 2 || words == argc || words > 2)
        return front_usage("values VERB [OPTION] -- WORD...");
    option = words == 2 ? argv[1] : "";
    argc -= words + 1;
    argv += words + 1;
    if (!*option)
        print_operands(argv[-words - 1]);
    else if (strcmp(option, "format") == 0)
        print_words(formats);
    else if (strcmp(option, "cautions") == 0)
        print_words(cautions);
    else if (strcmp(option, "separator") == 0)
        print_words(separators);
    else if (strcmp(option, "decimal") == 0)
        print_words(decimals);
    else if (strcmp(option, "units") == 0)
        print_words(systems);
    else if (strcmp(option, "vary") == 0 || strcmp(option, "set") == 0)
        print_rows_of(argc, argv, *option == 'v');
    else if (strcmp(option, "layout") == 0)
        for (i = 0; i < DREGS_LAYOUTS; i++)
            puts(dregs_layout_name((dregs_layout)i));
    else if (strcmp(option, "template") == 0)
        print_texts(1);
    else if (strcmp(option, "liquid") == 0)
        print_liquids();
    return FRONT_DONE;
}

/* ---- the scripts ---- */

/* In single quotes, for zsh and fish; a colon ends a word of zsh's lists. */
static void print_quoted(const char *text, int fish)
{
    for (; *text; text++)
        if (*text == '\'')
            fputs(fish ? "\\'" : "'\\''", stdout);
        else if (!fish && *text == ':')
            fputs("\\:", stdout);
        else
            putchar(*text);
}

/* The options of a verb behind which this stands, each with blanks around it. */
static void print_options(const struct verb *verb, const char *name, enum kind kind)
{
    struct front_option option;
    size_t i;

    printf(" %s=' ", name);
    for (i = 0; front_option_at(verb->tool, i, &option); i++)
        if (kind == KINDS || kind_of(&option) == kind)
            printf("--%s ", option.name);
    putchar('\'');
}

static void print_commands(void)
{
    const struct verb *verb;
    size_t i;

    fputs("dregs", stdout);
    for (i = 0; (verb = verb_at(i)) != NULL; i++)
        printf(" %s", verb->tool->name);
}

/* The same for bash and zsh: which options a verb has, and what stands behind them. */
static void print_cases(void)
{
    const struct verb *verb;
    size_t i;

    printf("    case $verb in\n");
    for (i = 0; (verb = verb_at(i)) != NULL; i++) {
        printf("    %s)", word_of(verb));
        print_options(verb, "options", KINDS);
        print_options(verb, "files", FILES);
        print_options(verb, "values", VALUES);
        print_options(verb, "free", FREE);
        printf(" operands=%s ;;\n", strstr(verb->tool->operands, "LINE") ? "files" : "values");
    }
    printf("    help) operands=values ;;\n    esac\n");
}

static void print_verb_words(void)
{
    const struct verb *verb;
    size_t i;

    for (i = 0; (verb = verb_at(i)) != NULL; i++)
        printf("%s ", word_of(verb));
    fputs("help", stdout);
}

static void print_bash(void)
{
    fputs("# bash completions of dregs, made by the program from its tables of options.\n"
          "_dregs()\n"
          "{\n"
          "    local IFS=$'\\n' verb options= files= values= free= operands=none from=1 word\n"
          "    local current=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}\n"
          "    # bash parts --format=csv into three words\n"
          "    if [[ $current == = ]]; then\n"
          "        current=\n"
          "    elif [[ $before == = && COMP_CWORD -gt 2 ]]; then\n"
          "        before=${COMP_WORDS[COMP_CWORD - 2]}\n"
          "    fi\n"
          "    current=${current//\\\\/}\n"
          "    current=${current#[\\\"\\']}\n"
          "    COMPREPLY=()\n"
          "    verb=${COMP_WORDS[0]##*/}\n"
          "    if [[ $verb == dregs ]]; then\n"
          "        if ((COMP_CWORD == 1)); then\n"
          "            COMPREPLY=($(IFS=' '; compgen -W '",
          stdout);
    print_verb_words();
    fputs(" --help --version' -- \"$current\"))\n"
          "            return\n"
          "        fi\n"
          "        verb=${COMP_WORDS[1]} from=2\n"
          "    fi\n"
          "    verb=${verb#dregs-}\n",
          stdout);
    print_cases();
    fputs("    if [[ $files == *\" $before \"* ]]; then\n"
          "        COMPREPLY=($(compgen -f -- \"$current\"))\n"
          "    elif [[ $values == *\" $before \"* ]]; then\n"
          "        while read -r word; do\n"
          "            [[ $word == \"$current\"* ]] && COMPREPLY+=(\"$word\")\n"
          "        done < <(dregs complete values \"$verb\" \"${before#--}\" -- "
          "\"${COMP_WORDS[@]:from}\" "
          "2>/dev/null)\n"
          "    elif [[ $free == *\" $before \"* ]]; then\n"
          "        :\n"
          "    elif [[ $current == -* ]]; then\n"
          "        COMPREPLY=($(IFS=' '; compgen -W \"$options\" -- \"$current\"))\n"
          "    elif [[ $operands == files ]]; then\n"
          "        COMPREPLY=($(compgen -d -- \"$current\"; compgen -f -X '!*.csv' -- "
          "\"$current\"))\n"
          "    elif [[ $operands == values ]]; then\n"
          "        while read -r word; do\n"
          "            [[ $word == \"$current\"* ]] && COMPREPLY+=(\"$word\")\n"
          "        done < <(dregs complete values \"$verb\" -- 2>/dev/null)\n"
          "    fi\n"
          "}\n"
          "complete -o filenames -F _dregs ",
          stdout);
    print_commands();
    putchar('\n');
}

static void print_zsh(void)
{
    const struct verb *verb;
    size_t i;

    fputs("#compdef ", stdout);
    print_commands();
    fputs("\n# zsh completions of dregs, made by the program from its tables of options.\n"
          "_dregs()\n"
          "{\n"
          "    local verb=${words[1]:t} options= files= values= free= operands=none from=2\n"
          "    local before=${words[CURRENT - 1]}\n"
          "    local -a verbs\n"
          "    if [[ $verb == dregs ]]; then\n"
          "        if ((CURRENT == 2)); then\n"
          "            verbs=(\n",
          stdout);
    for (i = 0; (verb = verb_at(i)) != NULL; i++) {
        printf("                '%s:", word_of(verb));
        print_quoted(verb->job, 0);
        printf("'\n");
    }
    fputs("                'help:the options of a verb'\n"
          "            )\n"
          "            _describe verb verbs\n"
          "            return\n"
          "        fi\n"
          "        verb=${words[2]} from=3\n"
          "    fi\n"
          "    verb=${verb#dregs-}\n",
          stdout);
    print_cases();
    fputs(
        "    if [[ $files == *\" $before \"* ]]; then\n"
        "        _files\n"
        "    elif [[ $values == *\" $before \"* ]]; then\n"
        "        compadd -- ${(f)\"$(dregs complete values $verb ${before#--} -- ${words[from,-1]} "
        "2>/dev/null)\"}\n"
        "    elif [[ $free == *\" $before \"* ]]; then\n"
        "        :\n"
        "    elif [[ ${words[CURRENT]} == -* ]]; then\n"
        "        compadd -- ${=options}\n"
        "    elif [[ $operands == files ]]; then\n"
        "        _files -g '*.csv'\n"
        "    elif [[ $operands == values ]]; then\n"
        "        compadd -- ${(f)\"$(dregs complete values $verb -- 2>/dev/null)\"}\n"
        "    fi\n"
        "}\n"
        "_dregs \"$@\"\n",
        stdout);
}

/* One option, of `dregs VERB` and of `dregs-VERB`. */
static void print_fish_option(const struct verb *verb, const struct front_option *option)
{
    static const char *const behind[KINDS] = {"", " -x", " -r -F", " -x"};
    int old;

    for (old = 0; old < 2; old++) {
        if (old)
            printf("complete -c %s", verb->tool->name);
        else
            printf("complete -c dregs -n '__dregs_is %s'", word_of(verb));
        printf(" -l %s%s", option->name, behind[kind_of(option)]);
        if (kind_of(option) == VALUES)
            printf(" -a '(dregs complete values %s %s -- (commandline -opc) 2>/dev/null)'",
                   word_of(verb), option->name);
        fputs(" -d '", stdout);
        print_quoted(option->help, 1);
        fputs("'\n", stdout);
    }
}

static void print_fish(void)
{
    const struct verb *verb;
    struct front_option option;
    size_t i, k;

    fputs("# fish completions of dregs, made by the program from its tables of options.\n"
          "function __dregs_is\n"
          "    set -l typed (commandline -opc)\n"
          "    test (count $typed) -ge 2; and test $typed[2] = $argv[1]\n"
          "end\n"
          "function __dregs_new\n"
          "    test (count (commandline -opc)) -eq 1\n"
          "end\n"
          "complete -c dregs -f -n __dregs_new -a help -d 'the options of a verb'\n"
          "complete -c dregs -f -n '__dregs_is help' -a '(dregs complete values help -- "
          "2>/dev/null)'\n",
          stdout);
    for (i = 0; (verb = verb_at(i)) != NULL; i++) {
        printf("complete -c dregs -f -n __dregs_new -a %s -d '", word_of(verb));
        print_quoted(verb->job, 1);
        fputs("'\n", stdout);
        if (!strstr(verb->tool->operands, "LINE"))
            printf("complete -c dregs -f -n '__dregs_is %s' -a '(dregs complete values %s -- "
                   "2>/dev/null)'\n",
                   word_of(verb), word_of(verb));
        for (k = 0; front_option_at(verb->tool, k, &option); k++)
            print_fish_option(verb, &option);
    }
}

static int run_tool(int argc, char **argv)
{
    const char *what = argc > 1 ? argv[1] : "";

    front_begin(&tool);
    if (strcmp(what, "--help") == 0 || strcmp(what, "-h") == 0)
        return front_help(&tool, "dregs complete");
    if (strcmp(what, "values") == 0)
        return front_end(print_values(argc - 2, argv + 2));
    if (argc != 2)
        return front_usage("a shell is named: bash, zsh or fish");
    if (strcmp(what, "bash") == 0)
        print_bash();
    else if (strcmp(what, "zsh") == 0)
        print_zsh();
    else if (strcmp(what, "fish") == 0)
        print_fish();
    else
        return front_usage("'%s' is none of bash, zsh, fish", what);
    return front_end(FRONT_DONE);
}

const struct verb verb_complete = {&tool, run_tool, "the completions of a shell"};
