#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-reuse at benches without a conductivity: weighed dishes, readings of the user's own meters.
set -eu
name=dregs-reuse
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

cat >ipa.csv <<'END'
item,property,value,unit,spread
tray,kind,load,,
tray,parts,12,1,
tray,area,9.5,cm2,
tray,interval,10,min,
grease,kind,solute,,
grease,on parts,2.2,mg,40%
ipa,kind,liquid,,
ipa,solvent,isopropanol,,
index,kind,calibration,,
index,solute,total,,
index,reading 1,1.3772,,
index,concentration 1,0,g/L,
index,reading 2,1.3782,,
index,concentration 2,10,g/L,
shade,kind,calibration,,
shade,solute,grease,,
shade,reading 1,0,of 5,
shade,concentration 1,0,mg/L,
shade,reading 2,5,of 5,
shade,concentration 2,500,mg/L,
beaker,kind,wash,,
beaker,volume,0.6,L,
beaker,liquid,ipa,,
beaker,removal,99.9,%,
beaker,drag-out,40,mL/m2,25%
clear,kind,rinse,,
clear,volume,0.6,L,
clear,liquid,ipa,,
clear,drag-out,40,mL/m2,25%
limit,kind,target,,
limit,residue,2,ug/cm2,
END
head=time,stage,loads,quantity,value,unit,resolution

# begins WORDS ARGUMENT...: the first line
begins()
{
    words=$1
    shift
    good "$@"
    case $(sed -n 1p out) in
    "$words"*) ;;
    *) fail "first line: $(sed -n 1p out)" ;;
    esac
}

# a refractive index: five loads bring 26.4 mg of grease each into 0.6 L, 0.044 g/L; one step of
# the meter is 1 g/L. What it scatters is that step, not a share of 1.3772.
printf '%s\n' "$head" '2026-03-02T08:00,beaker,4,index,1.3772,,0.0001' \
    '2026-03-02T09:00,beaker,20,index,1.3773,,0.0001' \
    '2026-03-02T12:00,beaker,40,index,1.3774,,0.0001' >index.csv
good ipa.csv index.csv
if grep -q '^check the log' out; then fail "an index is doubted: $(sed -n 1p out)"; fi
prints '5 % of the reading beyond that of clean liquid'
grep -qE 'beaker *index *1\.377[34]( |$)' out || fail 'a refractive index with the digits of its meter'
# steps of a colour are counted, and that is listed
printf '%s\n' "${head%,resolution}" '2026-03-02T08:00,beaker,4,shade,2,of 5' \
    '2026-03-02T09:00,beaker,10,shade,4,of 5' >shade.csv
begins 'good for ' ipa.csv shade.csv
prints "beaker: a step of 'shade' is what the colour is read to"
# by mass: the density is told
printf '%s\n' "${head%,resolution}" '2026-03-02T08:00,clear,9,non-volatile residue,12,ppm' >mass.csv
good ipa.csv mass.csv
prints 'clear: ppm by mass, with 78'
# less than is detected: no number, and not dropped
printf '%s\n' "${head%,resolution}" '2026-03-02T08:00,clear,9,non-volatile residue,<5,mg/L' \
    '2026-03-02T09:00,clear,20,non-volatile residue,< 5,mg/L' >below.csv
good ipa.csv below.csv
if grep -q '^check the log' out; then fail "bounds are doubted: $(sed -n 1p out)"; fi
prints '2 rows, 2 readings used'
prints '2 below detection or above what the meter shows: used as no more than that'
good --format csv ipa.csv below.csv
grep -q '^2,.*,5,.*,used,1,<$' out || fail "a bound in CSV: $(cat out)"
# so far below what the line gives that a slip explains it
sed 's/<5/<0.01/; s/< 5/<0.01/' below.csv >far.csv
begins "check the log: 'clear' reads about 1000 times too low: mg/L for g/L?" ipa.csv far.csv
# a bound that is none
printf '%s\n' "${head%,resolution}" '2026-03-02T08:00,clear,9,non-volatile residue,<0,mg/L' \
    '2026-03-02T08:00,clear,9,non-volatile residue,<,mg/L' >bad.csv
expect 3 ipa.csv bad.csv
grep -q "bad.csv:2: value: '<0' mg/L is nothing a meter can show" err || fail "<0: $(cat err)"
grep -q "bad.csv:3: value: '<' is not a number" err || fail "<: $(cat err)"
# more than a colour card shows
printf '%s\n' "${head%,resolution}" '2026-03-02T08:00,beaker,20,shade,>5,of 5' >above.csv
good ipa.csv above.csv
# residue on a part: of that load, beside what the line leaves on it
printf '%s\n' "${head%,resolution},recovery" '2026-03-02T08:00,clear,20,residue,0.35,ug/cm2,85%' \
    '2026-03-02T08:00,clear,20,non-volatile residue,16,mg/L,' \
    '2026-03-02T12:00,clear,30,residue,0.0045,mg/part,' >parts.csv
begins 'good for ' ipa.csv parts.csv
prints 'load 20 (log line 2): residue 0.35 ug/cm2 at a recovery of 85 %; the line leaves'
prints 'load 30 (log line 4): residue 0.0045 mg/part; the line leaves'
prints 'residue on parts: 100 % of it comes off when it is measured (from line 4 on the log states'
grep -q '^  clear *non-volatile residue' out || fail 'the tank is not told by its own meter'
# parts alone: when to dump is told as a meter of the tank would show it
grep -v 'non-volatile' parts.csv >alone.csv
good ipa.csv alone.csv
grep -q '^  clear *non-volatile residue' out || fail 'parts alone'
# the shipped bench with isopropanol, and where its numbers come from
good --explain "$source/data/solvent-bench.csv" "$source/data/solvent-readings.csv"
case $(sed -n 1p out) in
'good for '*) ;;
*) fail "the shipped log: $(sed -n 1p out)" ;;
esac
prints 'a weighed dish: (gross - tare - blank) / sample'
prints '(Tobin 1958)'
prints 'residue on parts: what the line leaves on that load, per area, times the recovery'
grep -q '^  dip *non-volatile residue *3.6[0-9]* mg/100 mL' out || fail 'the unit of the log'
# a beaker alone, without a log: it is what is dumped
grep -v '^clear,' ipa.csv >beaker.csv
begins "dump 'beaker' every " beaker.csv
# a meter that needs a curve is told so
printf '%s\n' "${head%,resolution}" '2026-03-02T08:00,clear,9,TDS,120,ppm' >bad.csv
expect 3 ipa.csv bad.csv
grep -q "'TDS' is read by a calibration, and ipa.csv has none of that name$" err || fail "$(cat err)"
# what no such row is
printf '%s\n' "${head%,resolution},recovery" '2026-03-02T08:00,clear,0,residue,0.35,ug/cm2,' \
    '2026-03-02T08:00,clear,3,residue,0.35,mg/L,' '2026-03-02T08:00,clear,3,residue,0.35,ug/cm2,0' \
    '2026-03-02T08:00,clear,3,shade,2,of 5,90%' '2026-03-02T08:00,clear,3,residue wax,1,ug/cm2,' >bad.csv
expect 3 ipa.csv bad.csv
grep -q 'bad.csv:2: loads: a residue on parts is that of a load' err || fail "load 0: $(cat err)"
grep -q "bad.csv:3: unit 'mg/L'.*'ug/cm2'" err || fail "mg/L on parts: $(cat err)"
grep -q "bad.csv:4: recovery: '0' is no share" err || fail "recovery 0: $(cat err)"
grep -q "bad.csv:5: recovery: '90%' is no share of a residue on parts" err || fail "$(cat err)"
grep -q "bad.csv:6: quantity: 'residue wax' is not" err || fail "residue wax: $(cat err)"
exit $failed
