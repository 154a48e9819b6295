#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Nights and weekends in dregs-predict: a target that is met only while loads run is missed; what a
# schedule does not state; every form of output.
set -eu
name=dregs-predict
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# An invented rinse without a flow, which evaporates around the clock and is topped up with tap
# water: 10 mL an hour. A film of 1 mL goes in clean and out on 200 cm2.
cat >night.csv <<'END'
item,property,value,unit
rack,kind,load,
rack,parts,10,1
rack,area,20,cm2
rack,interval,60,min
salt,kind,solute,
tap,kind,liquid,
tap,solvent,water,
tap,salt,250,mg/L
di,kind,liquid,
di,solvent,water,
dip,kind,rinse,
dip,volume,5,L
dip,liquid,di,
dip,film,50,um
last,kind,rinse,
last,volume,5,L
last,liquid,di,
last,film,50,um
last,evaporation,0.01,L/h
last,top up from,tap,
last,dump at,day end,
limit,kind,target,
limit,residue,0.05,ug/cm2
END
cat >plan.csv <<'END'
plan,kind,schedule,
plan,loads per shift,6,1
plan,shifts per day,1,1
plan,shift length,8,h
plan,days per week,4,1
END
{ cat night.csv; sed '/days per week/d' plan.csv; } >days.csv
{ cat night.csv plan.csv; } >week.csv
# no word of nights where no schedule is, and none but that one where it does not say enough
sed '/^last,dump at/s/dump at,day end/dump every,6/' night.csv >alone.csv
good --check --draws 0 alone.csv
! grep -i 'night' out >/dev/null || fail 'a line without a schedule speaks of nights'
good --check --draws 0 days.csv
prints 'nights and weekends are not counted: the schedule does not state its days per week'

# ---- with a week: missed ----
# Behind the weekend a tank that was dumped holds 2.5 mg an hour of 2 + 88 h, and then of 5 more
# when load 6 comes, less what 5 films of 1 mL in 5001 mL took along: by hand
most=$(awk 'BEGIN { m = 2.5 * 90; for (i = 1; i < 6; i++) m = m * 5 / 5.001 + 2.5
                    printf "%.12g", m / 5001 / 200 * 1000 }')
expect 1 --check --draws 0 week.csv
prints 'target MISSED: 0.2372 ug/cm2 at the worst load'
prints 'worst: load 6 of day 1, once the weeks repeat themselves'
prints '4 days of 1 shift of 8 h with 6 loads; nights of 16 h, weekends of 88 h, flows off'
prints 'weeks follow one another without holidays'
[ ! -s err ] || fail 'something on standard error'
expect 1 --check --draws 200 week.csv
expect 1 --check --loads 12 week.csv # the second day, behind a night
good --check --loads 6 week.csv
prints 'with nights and weekends: at most'
expect 1 --check --draws 0 --explain week.csv
prints 'by the schedule, with nights and weekends'
prints 'weeks that repeat: m = M m + b over 1 week of 24 loads'
good --draws 0 --format csv week.csv
got=$(awk -F, '/residue of the week, worst"/ { print $(NF - 1) }' out)
[ "$(awk -v a="$got" -v b="$most" 'BEGIN { print (a > b * (1 - 1e-10) && a < b * (1 + 1e-10)) }')" -eq 1 ] ||
    fail "csv: $got, by hand $most"
good --draws 0 --format json week.csv
/usr/bin/python3 - "$most" out <<'END' || fail 'json'
import json, sys
most = float(sys.argv[1])
page = json.load(open(sys.argv[2]))
figure = page["figures"]
assert abs(figure["worst_of_week_residue"]["value"] / most - 1) < 1e-10, figure
assert figure["worst_residue"] == figure["worst_of_week_residue"]
assert figure["worst_load"] is None and figure["worst_of_week_load"] == 6
assert figure["loads_per_week"] == 24
assert page["verdict"]["is"] == "missed", page["verdict"]
END
good --draws 0 --format svg --picture week week.csv
grep -F 'time in the week' out >/dev/null || fail 'no picture of the week'
expect 1 --each --check --draws 0 week.csv days.csv

# where the pause makes it, what helps while loads run is not advised, nor what to measure for them
good "$source/data/week-rinse.csv"
prints 'only after a pause'
prints ', of loads without a pause'
! grep -E 'measure first|more flow, one more rinse' out >/dev/null || fail 'advice for loads without a pause'
prints 'ug/cm2 at the worst load without a pause'

# ---- a target of concentration: 1 mL of film of that tank, so residue x 200 cm2 / 1 mL ----
comes=$(awk -v m="$most" 'BEGIN { printf "%.12g", m * 200 }')
sed 's/^limit,residue.*/limit,concentration salt,60,mg\/L/' week.csv >kept.csv
sed 's/60,mg/40,mg/' kept.csv >over.csv
sed '/^plan,/d; s/dump at,day end/dump every,6/' over.csv >over-alone.csv
good --check --draws 0 over-alone.csv
good --check --draws 0 kept.csv
prints 'worst: load 6 of day 1, once the weeks repeat themselves'
expect 1 --check --draws 0 over.csv
prints 'target MISSED: salt in the film behind last 47.44 mg/L'
prints 'met until load 24' # the first behind a weekend meets 2.5 mg/h x 90 h in 5.001 L
good --check --draws 0 --loads 24 over.csv
expect 1 --check --draws 0 --loads 25 over.csv
good --draws 0 --format json kept.csv
/usr/bin/python3 - "$comes" out <<'END' || fail 'json of a concentration'
import json, sys
page = json.load(open(sys.argv[2]))
table = [t for t in page["tables"] if t["key"] == "concentration_limits"][0]
row = dict(zip([c["key"] for c in table["columns"]], table["rows"][0]))
assert abs(row["reached"] / float(sys.argv[1]) - 1) < 1e-10, (row, sys.argv[1])
assert row["of_the_week"] and row["known"] and row["at_steady_state"] and row["load"] == 6, row
END

# ---- sizing: a flow that is enough while loads run is not enough behind a weekend ----
sed 's/^last,dump at.*/last,flow,100,L\/h/' week.csv >flow.csv
sed '/^plan,/d' flow.csv >pauseless.csv
size=$build/dregs-size
"$size" --draws 0 --vary last.flow pauseless.csv >out 2>err || fail 'loads without a pause: no flow is enough'
"$size" --check --draws 0 --vary last.flow flow.csv >out 2>err && fail 'a flow that is off by night is called enough'
prints 'NOT POSSIBLE'
prints 'nights and weekends decide: load 1 of a week, once the weeks repeat themselves'
sed '/days per week/d' flow.csv >short.csv
"$size" --draws 0 --vary last.flow short.csv >out 2>err || fail 'a schedule that does not say enough'
prints 'nights and weekends are not counted: the schedule does not state its days per week'
# on by night too: what is found is met, and a little less is missed
{ cat flow.csv; echo 'plan,idle flow,on,'; } >on.csv
"$size" --draws 0 --vary last.flow --format json on.csv >out 2>err || fail 'on by night'
flow=$(/usr/bin/python3 -c 'import json
print(repr([t for t in json.load(open("out"))["tables"] if t["key"] == "varied"][0]["rows"][0][4]))' 2>err) || fail 'the flow that was found'
for share in 1 0.98; do
    awk -v f="$flow" -v s="$share" -F, 'BEGIN { OFS = "," } /^last,flow/ { $3 = f * s } { print }' OFMT=%.17g CONVFMT=%.17g on.csv >sized.csv
    if [ "$share" = 1 ]; then good --check --draws 0 sized.csv; else expect 1 --check --draws 0 sized.csv; fi
done

exit $failed
