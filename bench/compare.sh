#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# compare.sh KEPT NOW: which figures of a bench are others than those that were kept.
#
# Both are files that bench/run.sh writes: value,ratio,unit,machine,compiler,commit,"figure". KEPT may
# hold several runs, one behind the other; their range is then the spread of a figure. Of a figure
# that was kept once 10 % are taken either way, which is said. Only runs on the same machine with
# the same compiler are compared. Nothing of it is a failure.
set -eu
LC_ALL=C
export LC_ALL
[ $# -eq 2 ] || {
    echo 'usage: compare.sh KEPT NOW' >&2
    exit 2
}
for file in "$@"; do
    [ -r "$file" ] || {
        echo "compare.sh: $file cannot be read" >&2
        exit 4
    }
done
awk '
    FNR == 1 { files++ }
    /^value,/ { next }
    {
        split($0, cell, ",")
        name = substr($0, index($0, "\"") + 1)
        sub(/"$/, "", name)
        key = name SUBSEP cell[4] SUBSEP cell[5]
    }
    files == 1 {
        if (!(key in runs) || cell[1] < least[key]) least[key] = cell[1] + 0
        if (!(key in runs) || cell[1] > most[key]) most[key] = cell[1] + 0
        runs[key]++
        next
    }
    !(key in runs) { unknown++; next }
    {
        compared++
        once += runs[key] == 1
        wide = runs[key] == 1 ? 0.1 : 0
        if (cell[1] < least[key] * (1 - wide) || cell[1] > most[key] * (1 + wide)) {
            changed++
            printf "  %s: %s, kept %s\n", name, cell[1],
                   least[key] == most[key] ? least[key] : least[key] " to " most[key]
        }
    }
    END {
        printf "  %d of %d figures are others than kept", changed, compared
        if (once) printf "; %d were kept once, with 10 %% taken for their spread", once
        if (unknown) printf "; %d are not kept of this machine and compiler", unknown
        print ""
    }' "$1" "$2"
