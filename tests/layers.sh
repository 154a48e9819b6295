#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Includes go one way. A folder of lib/ is a room; a file may include headers of its own room and of
# the rooms below it. Of another room it sees the public headers (dregs/NAME.h), what lies in base/,
# and the one header named like the room, its door: balance/balance.h, not balance/map.h. A folder
# inside a room belongs to it and has a door of its own: line/stage/stage.h. A tool includes public
# headers and those of tools/ alone.
set -eu
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM

# the rooms, the lowest first
rooms='base report liquid limits film dry evaporation warm meter line balance calendar residue ensemble caution tally
readings reuse size law purchase answer page ask'

# public headers that are not named like their room; answer_size.h belongs to answer without a word
homes='bound=residue config=base csv=base gsl=base number=base status=base time=base unit=base version=base mixture=liquid edit=line
stage=line stream=line use=balance week=residue'

# every include as "file|included"
(cd "$source" && find lib tools -name '*.[ch]' -exec grep -H '^ *# *include *"' {} +) |
    sed 's/^\([^:]*\): *# *include *"\([^"]*\)".*/\1|\2/' >"$work/includes"
[ "$(wc -l <"$work/includes")" -gt 100 ] || {
    echo 'FAILED: the includes were not found'
    exit 1
}

awk -F'|' -v rooms="$rooms" -v homes="$homes" '
function bad(why) { printf "FAILED: %s includes %s: %s\n", $1, $2, why; failed = 1 }

# the room of a path below lib/
function room_of(path, part) {
    if (split(path, part, "/") < 2) return ""
    if (part[1] != "dregs") return part[1]
    sub(/(_.*)?\.h$/, "", part[2])
    return part[2] == "dregs" ? "all" : part[2] in home ? home[part[2]] : part[2]
}

# may another room include this header?
function open(path, part, n) {
    n = split(path, part, "/")
    return part[1] == "dregs" || part[1] == "base" || part[n] == part[n - 1] ".h"
}

BEGIN {
    n = split(rooms, name, /[ \n]+/)
    for (i = 1; i <= n; i++) floor[name[i]] = i
    floor["all"] = n + 1
    n = split(homes, pair, /[ \n]+/)
    for (i = 1; i <= n; i++) { split(pair[i], word, "="); home[word[1]] = word[2] }
}

$1 ~ /^tools\// {
    if ($2 !~ /^dregs\// && index($2, "/")) bad("a tool sees public headers only")
    next
}

{
    path = $1
    sub(/^lib\/(include\/)?/, "", path)
    from = room_of(path)
    to = room_of($2)
    if (!(from in floor)) bad("no room is called " from)
    else if (!(to in floor)) bad("no room is called " to)
    else if (floor[to] > floor[from]) bad(to " lies above " from)
    else if (from != to && !open($2)) bad("that header stays inside " to)
    seen[from] = 1
}

END {
    # a rule that sees nothing holds nothing
    if (!("line" in seen) || !("balance" in seen) || !("residue" in seen)) {
        print "FAILED: rooms that are there were not seen"
        failed = 1
    }
    exit failed
}' "$work/includes"
