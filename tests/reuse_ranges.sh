#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-reuse: the ranges of its answer. They hold the estimate, and that of the residue is one of the
# residue, whatever other limit is nearer. A bound narrows them or leaves them.
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

# ---- what a bound leaves ----
# two still rinses of isopropanol; the second holds about 1.4 mg/L after 60 loads by the file, and a meter
# of 5 % is 50 of its standard deviations below the bound: it tells nothing
cat >still.csv <<'END'
item,property,value,unit,spread,note
tray,kind,load,,,
tray,parts,20,1,,
tray,area,15,cm2,,
tray,interval,10,min,,
grease,kind,solute,,,
grease,on parts,4,mg,40%,
ipa,kind,liquid,,,
ipa,solvent,isopropanol,,,
wash,kind,wash,,,
wash,volume,2,L,,
wash,liquid,ipa,,,
wash,temperature,22,degC,,
wash,dump every,40,1,,
wash,removal,99.99,%,,
wash,drag-out,40,mL/m2,30%,
r1,kind,rinse,,,
r1,volume,1,L,,
r1,liquid,ipa,,,
r1,drag-out,40,mL/m2,30%,
r2,kind,rinse,,,
r2,volume,1,L,,
r2,liquid,ipa,,,
r2,drag-out,40,mL/m2,30%,
limit,kind,target,,,
limit,residue,0.12,ug/cm2,,
END

# answer INTO ARGUMENT...: the figures that are compared
answer()
{
    into=$1
    shift
    good --format json "$@"
    python3 -c 'import json
f = json.load(open("out"))["figures"]
for name in "loads", "drag_out_factor", "drag_out_factor_before_log":
    print("%.9g %.9g %.9g" % (f[name]["value"], f[name]["low"], f[name]["high"]))
print(f["meter_scatter"]["from"])' >"$into"
}

# within LOADS FILE: the range of the loads is no wider than without a log, which begins so many earlier
within()
{
    paste -d ' ' without "$2" | awk -v passed="$1" 'NR == 1 {
        exit !($5 + passed >= $2 - 1 && $6 + passed <= $3 + 1 && $5 <= $4 && $4 <= $6) }' ||
        fail "$2: a bound widens: $(head -1 without) before, $(head -1 "$2") after $1 loads"
}

bound='2026-05-04T10:00,r2,60,non-volatile residue,<5,mg/L'
read='2026-05-04T10:00,r1,60,non-volatile residue,40,mg/L'
answer without still.csv
log "$bound"
answer far still.csv short.csv
within 60 far
[ "$(sed -n '2s/^[^ ]* //p' far)" = "$(sed -n '3s/^[^ ]* //p' far)" ] || fail "a far bound teaches of drag-out: $(cat far)"
[ "$(sed -n 4p far)" = assumed ] || fail "the scatter of a bound: $(sed -n 4p far)"
prints 'r2: the meter scatters by 5 % of the reading, one standard deviation (too few readings'
# half of what is expected is below this one: less drag-out than the file says
log '2026-05-04T10:00,r2,60,non-volatile residue,<0.7,mg/L'
answer near still.csv short.csv
paste -d ' ' - - - - <near | awk '{ exit !($6 < $9 && $4 < $7) }' || fail "a bound that tells: $(cat near)"
# whichever meter is written first
log "$read"
answer alone still.csv short.csv
log "$bound" "$read"
answer after still.csv short.csv
log "$read" "$bound"
answer before still.csv short.csv
cmp -s after before || fail "the order of meters: $(cat after before)"
[ "$(head -1 after)" = "$(head -1 alone)" ] || fail "a far bound beside a reading: $(cat after alone)"
# the last rinse of the bench is about 13 uS/cm then
log '2026-05-04T10:00,last,20,conductivity,<20,uS/cm'
answer without rinse-bench.csv
answer bench rinse-bench.csv short.csv
within 20 bench

# ---- the reading to dump at ----
# that behind the loads to plan on: what the meter should read when they have passed
cp "$source/data/rinse-readings.csv" .
log=rinse-readings.csv

# meter ARGUMENT...: the loads to plan on; of the last rinse now, to dump at, and at the limit
meter()
{
    good --format json "$@"
    python3 -c 'import json
answer = json.load(open("out"))
table, = (table for table in answer["tables"] if table["key"] == "readings")
at = [column["key"] for column in table["columns"]].index
row, = (row for row in table["rows"] if row[at("stage")] == "last")
print(int(answer["figures"]["loads"]["low"]), *(row[at(name)] for name in ("now", "dump_at", "limit_at")))'
}

meter rinse-bench.csv "$log" >planned
read -r plan now dump limit <planned
echo "$now $dump $limit" | awk '{ exit !($1 < $2 && $2 < $3) }' || fail "to dump at: $(cat planned)"
meter --loads-since "$plan" rinse-bench.csv "$log" >later
echo "$dump $(cat later)" | awk '{ exit !(($1 - $3) ^ 2 < 1e-18 * $1 * $1) }' ||
    fail "$plan loads on the meter reads another: $(cat planned), $(cat later)"
good --card rinse-bench.csv "$log"
prints "that is behind the $plan loads to plan on;"
grep -E '^ +by the best estimate the limit is reached at [0-9.]+ uS/cm, behind [0-9]+$' out >/dev/null ||
    fail 'the card does not tell where the limit is'
# the card, the answer and the picture have one number
at=$(sed -n 's/^ *conductivity: dump at \([0-9.]* uS.cm\) .*/\1/p' out)
good rinse-bench.csv "$log"
prints "dump 'last' first, at $at ("
good --format svg --picture readings_1 rinse-bench.csv "$log"
grep -q '>dump at ' out || fail 'no reading to dump at in the picture'
# without a log, and of the fill behind a dump that is due
good --card rinse-bench.csv
prints 'loads to plan on;'
meter --loads-since 40 rinse-bench.csv "$log" >planned
read -r plan now dump limit <planned
[ "$plan" = 0 ] || fail "40 loads on $plan are left"
echo "$dump $limit" | awk '{ exit !($1 < $2) }' || fail "the next fill: $(cat planned)"
good --card --loads-since 40 rinse-bench.csv "$log"
prints 'loads to plan on of that fill;'
exit $failed
