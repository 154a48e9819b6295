#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# library.sh SOURCE NAME: the page libdregs-NAME(3): man/library/NAME, where a line "@FILE NAMES@"
# stands for what the public header FILE declares, each as it is written there with its comment: all
# of it, or the named ones alone.
set -eu
source=$1 name=$2

# A header as mdoc. A declaration is what stands behind a comment /** ... */ up to the next empty
# line or comment; further declarations under one comment are shown with it.
declarations()
{
    awk -v wanted=" $2 " '
function roff(text) {
    gsub(/\\/, "\\e", text)
    if (text ~ /^[.\x27]/) text = "\\\\&" text
    return text
}
# words gathered so far, a sentence a line
function flush() {
    gsub(/ +/, " ", words)
    sub(/^ /, "", words)
    while (match(words, /[A-Za-z0-9_)>"][A-Za-z0-9)>"]\. [A-Z"]/)) {
        print roff(substr(words, 1, RSTART + 2))
        words = substr(words, RSTART + 4)
    }
    if (words != "") print roff(words)
    words = ""
}
# "\param x  words" is an item, "\return words" too, "\p x" is x
function tell(text, n, i, line, inside, word) {
    n = split(text, line, "\n")
    inside = 0
    for (i = 1; i <= n; i++) {
        word = line[i]
        sub(/^ *\*? */, "", word)
        gsub(/\\p /, "", word)
        while (match(word, /\\(param|return)/)) {
            words = words " " substr(word, 1, RSTART - 1)
            word = substr(word, RSTART)
            if (!inside && words ~ /[^ ]/) print ".Pp"
            flush()
            if (!inside) print ".Bl -tag -width Ds"
            inside = 1
            if (word ~ /^\\return/) {
                print ".It returns"
                sub(/^\\return */, "", word)
            } else {
                sub(/^\\param */, "", word)
                match(word, /^[a-z_]+(, [a-z_]+)*/)
                print ".It Fa " substr(word, 1, RLENGTH)
                word = substr(word, RLENGTH + 1)
            }
        }
        if (word !~ /^\\(code|endcode)$/) words = words " " word
    }
    if (!inside) print ".Pp"
    flush()
    if (inside) print ".El"
}
function name_of(text) {
    gsub(/\n/, " ", text)
    if (match(text, /^typedef (struct|enum) [a-z_0-9]+/)) {
        text = substr(text, 1, RLENGTH)
    } else if (match(text, /^typedef [^(;{]*[ *]dregs_[a-z_0-9]+ *[(;]/)) {
        text = substr(text, 1, RLENGTH - 1)
    } else if (match(text, /^#define [A-Z_0-9]+/)) {
        text = substr(text, 1, RLENGTH)
    } else if (match(text, /^enum \{ *[A-Z_0-9]+/)) {
        text = substr(text, 1, RLENGTH)
    } else if (match(text, /[ *]dregs_[a-z_0-9]+ *\(/)) {
        text = substr(text, RSTART, RLENGTH - 1)
    }
    sub(/ +$/, "", text)
    sub(/^.*[ *{]/, "", text)
    return text
}
function give(n, i, line, moved) {
    if (code != "" && (wanted == "  " || index(wanted, " " name_of(code) " "))) {
        print ".Ss " name_of(code)
        print ".Bd -literal"
        n = split(code, line, "\n")
        for (i = 1; i <= n; i++) {
            # what follows stood below its bracket
            if (sub(/^DREGS_API /, "", line[i])) moved = 1
            else if (moved) sub(/^          /, "", line[i])
            if (line[i] ~ /;$/) moved = 0
            sub(/\/\*\*< /, "/* ", line[i])
            if (line[i] != "") print roff(line[i])
        }
        print ".Ed"
        if (comment != "") tell(comment)
    }
    code = comment = ""
}
/^#ifdef __cplusplus|^extern "C"|^#endif|^#ifndef|^#include/ { next }
/^#define DREGS_[A-Z_]*_H$/ { next }
/^}$/ && !braces { next }
!started { if (/^\/\* ---- |^\/\*\*|^typedef|^enum|^#define|^DREGS_API/) started = 1; else next }
/^\/\* ---- / { give(); next }
/^\/\*\*/ {
    give()
    remark = 1
}
remark {
    line = $0
    sub(/^\/\*\* ?/, "", line)
    if (line ~ /\*\/ *$/) { sub(/ *\*\/ *$/, "", line); remark = 0 }
    comment = comment (comment == "" ? "" : "\n") line
    next
}
/^$/ { if (!braces) give(); next }
/^\/\*/ { next }
{
    code = code (code == "" ? "" : "\n") $0
    text = $0
    braces += gsub(/\{/, "{", text) - gsub(/\}/, "}", text)
}
END { give() }' "$source/lib/include/dregs/$1"
}

while IFS= read -r line; do
    case $line in
    @*@)
        words=${line#@}
        words=${words%@}
        # shellcheck disable=SC2086 # the header, then the names
        set -- $words
        header=$1
        shift
        declarations "$header" "$*"
        ;;
    *) printf '%s\n' "$line" ;;
    esac
done <"$source/man/library/$name"
