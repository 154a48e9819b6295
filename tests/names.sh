#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# A function that other files can call begins with its room, `dregs_balance_pass` in lib/balance/.
# A public one may begin with an object instead, whose one home its room is: `dregs_map_new` there.
# lib/base/ is the toolbox of all rooms: its functions begin with dregs_ alone.
set -eu
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM

# room: its objects. A tool's answer hangs is the tool's word with what belongs to it.
cat >"$work/objects" <<'END'
report table quantity chart flow
limits level water_grade
evaporation open horizontal_convection
dry drying air dew_point dilution_air heat_transfer mass_transfer recess_time stefan_flux wet_bulb wet_surface
meter calibration compensation conductivity electrolyte water_conductivity
liquid liquids mixture mixtures regulations property equation
line edit stage stream room schedule
balance map state totals
calendar
residue worst bound bounds week
ensemble doubt
caution cautions facts severity
tally
reuse drag_out
size sized varied layout rinse compliance
purchase purchases unexplained
answer beaker check compare dry liquid predict reuse size stopped tally site reading varied hangs
ask asked
END

if ! command -v nm >/dev/null 2>&1; then
    echo 'skipped: no nm'
    exit 77
fi
shared=$build/.libs/libdregs.so
[ -f "$shared" ] || {
    echo 'skipped: no shared library'
    exit 77
}
nm -D --defined-only "$shared" | awk '{ sub(/@.*/, "", $NF); print $NF }' | sort -u >"$work/public"

# one call for all: ./lib/ROOM/file.o:address T name
(cd "$build" && find ./lib -name '*.o' -exec nm -A --defined-only {} +) |
    awk '$2 == "T" { split($1, path, "/"); print path[3], $3 }' | sort -u >"$work/functions"
[ "$(wc -l <"$work/functions")" -gt 300 ] || {
    echo 'FAILED: the functions were not found'
    exit 1
}

awk '
FILENAME ~ /objects$/ { for (i = 1; i <= NF; i++) homes[$1] = homes[$1] " " $i; next }
FILENAME ~ /public$/ { public[$1] = 1; next }
function begins(name, words, n, word, i) {
    n = split(words, word, " ")
    for (i = 1; i <= n; i++)
        if (name == "dregs_" word[i] || index(name, "dregs_" word[i] "_") == 1) return 1
    return 0
}
{
    room = $1
    allowed = room
    if ($2 in public || room == "line") allowed = allowed homes[room]
    if (room == "base" ? index($2, "dregs_") != 1 : !begins($2, allowed)) {
        print "FAILED: " $2 " does not begin with its room, " room
        failed = 1
    }
}
END { exit failed }' "$work/objects" "$work/public" "$work/functions"
