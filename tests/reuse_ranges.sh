#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-reuse: the ranges of its answer. They hold the estimate, and that of the residue is one of the
# residue, whatever other limit is nearer.
set -eu
name=dregs-reuse
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
cp "$source/data/rinse-bench.csv" "$source/data/solvent-bench.csv" .
chmod u+w ./*.csv
head=time,stage,loads,quantity,value,unit

# log ROW...: a log of these rows
log()
{
    printf '%s\n' "$head" "$@" >short.csv
}

# next_of LINE: what the next load leaves, low and high, by short.csv
next_of()
{
    good --format json "$1" short.csv
    python3 -c 'import json
f = json.load(open("out"))["figures"]["next_residue"]
print(f["value"], f["low"], f["high"])'
}

# ---- what the next load leaves ----
# `most grease` of the beaker is nearer than the limit on the parts, and grows with the grease alone
grep -q '^beaker,most grease,' solvent-bench.csv || fail 'no limit of the beaker'
grep -v '^beaker,most grease,' solvent-bench.csv >wide.csv
for rows in 3 6 12 20 '<5' '12 18' '20 28' '6 7' '12 40'; do
    first=${rows% *}
    second=${rows#* }
    set -- "2026-03-02T08:06,dip,12,non-volatile residue,$first,mg/L"
    [ "$first" = "$second" ] || set -- "$@" "2026-03-02T09:06,dip,18,non-volatile residue,$second,mg/L"
    log "$@"
    narrow=$(next_of solvent-bench.csv)
    echo "$narrow" | awk '{ exit !($2 < $1 && $1 < $3) }' || fail "dip $rows: $narrow"
    wide=$(next_of wide.csv)
    [ "$narrow" = "$wide" ] || fail "dip $rows: $narrow, without the limit of the beaker $wide"
done
exit $failed
