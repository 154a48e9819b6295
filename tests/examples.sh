#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Every example of the manual pages runs as it is printed: a line "$ command" under EXAMPLES, in a
# directory where data/ holds the example lines. It must exit 0, or as the comment
# `.\" exit N` below it says.
set -eu
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
PATH=$build:$PATH
export PATH
failed=0 count=0

mkdir "$work/here" "$work/here/data"
cp "$source"/data/*.csv "$work/here/data/"
chmod -R u+w "$work/here"

# The examples of a page: the expected status, a blank, the command. mdoc writes \e for \, \&
# for nothing and \- for -.
examples()
{
    awk '
        function give() { if (command != "") print status " " command; command = ""; status = 0 }
        /^\.Sh / { give(); wanted = /^\.Sh EXAMPLES/; shown = 0 }
        !wanted { next }
        /^\.Bd / { shown = 1 }
        /^\.\\" exit [0-9]+$/ { status = $3 }
        /^\.Ed/ { give(); shown = 0 }
        shown && /^\$ / { give(); command = substr($0, 3) }
        END { give() }' "$1" | sed -e 's/\\&//g' -e 's/\\-/-/g' -e 's/\\e/\\/g'
}

for page in "$source"/man/*.1 "$source"/man/dregs-ensemble.7; do
    [ -f "$page" ] || continue
    name=$(basename "$page" .1)
    examples "$page" >"$work/list"
    if [ ! -s "$work/list" ]; then
        echo "FAILED: $name: no example found"
        failed=1
    fi
    while IFS=' ' read -r want command; do
        count=$((count + 1))
        got=0
        (cd "$work/here" && sh -c "$command") >"$work/out" 2>"$work/err" </dev/null || got=$?
        if [ "$got" -ne "$want" ]; then
            echo "FAILED: $name: exit $got, expected $want: $command"
            sed 's/^/    /' "$work/err"
            failed=1
        elif [ "$want" -lt 2 ] && [ ! -s "$work/out" ]; then
            echo "FAILED: $name: prints nothing: $command"
            failed=1
        elif [ "$want" -lt 2 ] && [ -s "$work/err" ]; then
            echo "FAILED: $name: complains: $command"
            sed 's/^/    /' "$work/err"
            failed=1
        fi
    done <"$work/list"
done

if [ "$count" -eq 0 ]; then
    echo 'FAILED: no example in man'
    failed=1
fi
echo "$count examples"
exit $failed
