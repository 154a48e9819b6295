#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The first page and the tutorial show what the tools print: each line "$ command" of them runs, in
# order and in one folder, ends with 0, and prints the words that stand below it, in their order,
# however the lines are broken. "..." stands for what is left out. What builds and installs is held
# elsewhere: install.sh.
set -eu
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
# the program itself where it lies behind a wrapper, which takes longer than most of these commands
if [ -x "$build/.libs/dregs" ]; then
    PATH=$build/.libs:$PATH
    LD_LIBRARY_PATH=$build/.libs${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH}
    export LD_LIBRARY_PATH
else
    PATH=$build:$PATH
fi
LC_ALL=C
export PATH LC_ALL
failed=0 count=0 compared=0

# commands_of PAGE: "$ command", what is shown below it as "| words", and "." at the end of a block.
# In Markdown a block is indented by four blanks, in mdoc it stands between .Bd and .Ed, where \e is
# \, and \& nothing.
commands_of()
{
    case $1 in
    *.md) awk '/^    / { sub(/^    /, ""); print (/^\$ / ? "" : "| ") $0; next }
               NF { print "." } END { print "." }' "$1" ;;
    *) awk '/^\.Bd / { shown = 1; next } /^\.Ed/ { shown = 0; print "."; next }
            shown { print (/^\$ / ? "" : "| ") $0 }' "$1" | sed -e 's/\\&//g' -e 's/\\e/\\/g' ;;
    esac
}

# holds WANTED GOT: the pieces of WANTED between "..." stand in GOT in their order
holds()
{
    awk '
        function squeezed(text) { gsub(/[ \t\n]+/, " ", text); return text }
        NR == FNR { wanted = wanted "\n" $0; next }
        { got = got "\n" $0 }
        END {
            count = split(squeezed(wanted "\n"), piece, / \.\.\.( |$)/)
            got = squeezed(got "\n")
            for (i = 1; i <= count; i++) {
                sub(/^ /, "", piece[i]); sub(/ $/, "", piece[i])
                if (piece[i] == "") continue
                at = index(got, piece[i])
                if (!at) { print piece[i]; exit 1 }
                got = substr(got, at + length(piece[i]))
            }
        }' "$1" "$2"
}

check() # what the last command was to print
{
    [ -s "$work/shown" ] || return 0
    compared=$((compared + 1))
    holds "$work/shown" "$work/out" >"$work/missing" || {
        echo "FAILED: $page: $command: not printed: $(cat "$work/missing")"
        failed=1
    }
    : >"$work/shown"
}

for page in README.md man/dregs-tutorial.7; do
    rm -rf "$work/here"
    mkdir "$work/here"
    commands_of "$source/$page" >"$work/list"
    : >"$work/shown"
    : >"$work/out"
    began=$count command=
    while IFS= read -r line; do
        case $line in
        '$ '*)
            check
            command=${line#??}
            case $command in
            *"<<'END'")
                while IFS= read -r line && [ "$line" != '| END' ]; do
                    command="$command
${line#??}"
                done
                command="$command
END"
                ;;
            esac
            count=$((count + 1))
            got=0
            (cd "$work/here" && sh -c "$command") >"$work/out" 2>&1 </dev/null || got=$?
            [ "$got" -eq 0 ] || {
                echo "FAILED: $page: exit $got: $command"
                sed 's/^/    /' "$work/out"
                failed=1
            }
            ;;
        '| '*) [ -z "$command" ] || printf '%s\n' "${line#??}" >>"$work/shown" ;;
        .)
            check
            command=
            ;;
        esac
    done <"$work/list"
    check
    [ "$count" -gt "$began" ] || {
        echo "FAILED: $page: no command found"
        failed=1
    }
done
[ "$compared" -ge 20 ] || {
    echo "FAILED: only $compared commands are shown with what they print"
    failed=1
}
echo "$count commands, $compared with what they print"
exit $failed
