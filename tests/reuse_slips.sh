#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-reuse: the slips of a log, each with the first line of its answer. What is doubted is not
# judged: no loads, no dump.
set -eu
name=dregs-reuse
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
cp "$source/data/rinse-bench.csv" "$source/data/rinse-readings.csv" "$source/data/solvent-bench.csv" .
chmod u+w ./*.csv
rinse="rinse-bench.csv"
log="rinse-readings.csv"
head=time,stage,loads,quantity,value,unit

# first WORDS LINE LOG: the first line of the answer, which is not to be used again
first()
{
    words=$1
    shift
    expect 1 --check "$@"
    tr '\n' ' ' <out | tr -s ' ' >flat
    case $(cat flat) in
    "$words"*) ;;
    *) fail "$*: $(sed -n 1,2p out)" ;;
    esac
    ! grep -E '^dump now|^good for|^ *dump .last|more load' out >/dev/null ||
        fail "$*: judged all the same"
}

# log ROW...: a log of these rows
log()
{
    printf '%s\n' "$head" "$@" >short.csv
}

# ---- counts ----
# 14 written as 140, 24 min after the 12th load of that fill: a load takes 12 min
awk -F, -v OFS=, '$3 == 14 && $2 == "last" && !done { $3 = 140; done = 1 } 1' "$log" >count.csv
first "check the log: 128 loads in 24 min from line 32 to line 33, and the file has one every 12 min: a wrong count?" \
    "$rinse" count.csv
# 51 loads take 10 h, which two days may have between them
log 2026-03-02,last,3,conductivity,6,uS/cm 2026-03-03,last,54,conductivity,20,uS/cm
"$build/dregs-reuse" "$rinse" short.csv >out
! grep 'a wrong count' out >/dev/null || fail 'dates alone are rushed'

# ---- units ----
sed 's|uS/cm|mS/cm|' "$log" >all.csv
first "check the log: 'last' reads about 1000 times too high: mS/cm for uS/cm?" "$rinse" all.csv
good --card "$rinse" all.csv
prints "check the log: 'last' reads about 1000 times too high"
good --format csv "$rinse" all.csv
[ "$(grep -c ',implausible,1,$' out)" = 24 ] || fail "states: $(sed -n 2p out)"
log 2026-03-02T08:06,last,3,conductivity,1.24,mS/cm
first "check the log: 'last' reads about 1000 times too high: mS/cm for uS/cm?" "$rinse" short.csv
log 2026-03-02T08:06,last,21,conductivity,0.0144,uS/cm 2026-03-02T09:06,last,27,conductivity,0.0223,uS/cm
first "check the log: 'last' reads about 1000 times too low: uS/cm for mS/cm?" "$rinse" short.csv
# 1.24 and 2.06 would be expected by the shipped log: 242 and 150 times
log 2026-03-02T08:06,last,3,conductivity,300,uS/cm 2026-03-02T08:42,last,6,conductivity,310,uS/cm
first "check the log: 'last' reads " "$rinse" short.csv
prints ' times too high for any such line'
# the fresh isopropanol holds 5 mg/L by its certificate
log '2026-03-02T08:06,clear,3,non-volatile residue,200,mg/L'
first "check the log: 'clear' reads 40 times too high for any such line" solvent-bench.csv short.csv
log '2026-03-02T08:06,clear,3,non-volatile residue,5,g/L'
first "check the log: 'clear' reads about 1000 times too high: g/L for mg/L?" solvent-bench.csv short.csv
# some of them: the last four rows, and three in the middle
awk -F, -v OFS=, 'NR > 29 { $6 = "mS/cm" } 1' "$log" >some.csv
first "check the log: from line 30 on 'last' reads about 1000 times too high: mS/cm for uS/cm?" \
    "$rinse" some.csv
awk -F, -v OFS=, 'NR > 9 && NR < 13 { $6 = "mS/cm" } 1' "$log" >some.csv
first "check the log: from line 10 on 'last' reads about 1000 times too high: mS/cm for uS/cm?" \
    "$rinse" some.csv
# the last of two, where neither can be set aside for the other
log 2026-03-02T08:06,last,3,conductivity,1.3,uS/cm 2026-03-02T08:42,last,6,conductivity,2.1,mS/cm
first "check the log: from line 3 on 'last' reads about 1000 times too high: mS/cm for uS/cm?" \
    "$rinse" short.csv
# 0.13 of the line and 1.3 ug/cm2 of a part that was measured: the unit, or a dirty part
log '2026-03-02T08:06,last,3,residue,1.3,ug/cm²'
first "check the log: 'last' reads about 10 times too high: ug/cm² for mg/m2? As written the parts missed the limit, 0.5 ug/cm2" \
    "$rinse" short.csv
log '2026-03-02T08:06,last,3,residue,<1.3,ug/cm²'
"$build/dregs-reuse" "$rinse" short.csv >out
! grep -q 'missed the limit' out || fail 'a part below a bound has missed the limit'
# the last one alone
{
    cat "$log"
    echo '2026-03-04T09:18,last,15,conductivity,19.5,mS/cm,20.6 degC'
} >lone.csv
expect 1 --check "$rinse" lone.csv
[ "$(sed -n 1p out)" = 'measure again: the last reading is about 1000 times too high: mS/cm for uS/cm?' ] ||
    fail "a lone slip: $(sed -n 1p out)"
# cleaner than expected is not dirtier; cleaner than fresh liquid is a probe in air, or a drum
# better than its certificate
log '2026-03-02T08:06,clear,3,non-volatile residue,1,mg/L'
first 'measure again: the last reading is below what fresh ipa shows (5 mg/L by the file): check the meter' \
    solvent-bench.csv short.csv
! grep -q 'far dirtier' out || fail 'cleaner is called dirtier'
# 0.055 of pure water and 1.6 uS/cm per mg/L of 0.6 mg/L: 1.015
log 2026-03-02T08:06,last,3,conductivity,0.2,uS/cm
expect 1 --check "$rinse" short.csv
[ "$(sed -n 1p out)" = 'measure again: the last reading is below what fresh di shows (1 uS/cm by the file): check the probe' ] ||
    fail "a probe in air: $(sed -n 1p out)"
log '2026-03-02T08:06,clear,3,non-volatile residue,11,mg/L'
first 'measure again: the last reading is far dirtier than the line file predicts' \
    solvent-bench.csv short.csv
# a little dirtier is the usual first sign of a change, and no unit explains it: 22.3 was read
for value in 26 28 30; do
    sed -n "1,11p; 12s/,22\.3,/,$value,/p" "$log" >little.csv
    grep -q ",last,27,conductivity,$value,uS/cm," little.csv || fail "no $value"
    expect 1 --check "$rinse" little.csv
    [ "$(sed -n 1p out)" = 'measure again: the last reading is dirtier than earlier readings predict' ] ||
        fail "$value: $(sed -n 1p out)"
done
sed -n '1,11p; 12s/,22\.3,/,60,/p' "$log" >little.csv
expect 1 --check "$rinse" little.csv
[ "$(sed -n 1p out)" = 'measure again: the last reading is far dirtier than earlier readings predict' ] ||
    fail "60: $(sed -n 1p out)"
# measured fresh, by another laboratory's 1 mg/L
log '2026-03-02T08:06,clear,0,non-volatile residue,1,mg/L' \
    '2026-03-02T12:06,clear,12,non-volatile residue,1.4,mg/L'
"$build/dregs-reuse" solvent-bench.csv short.csv >out
! grep -q 'mg/L for mg/L' out || fail "a unit for itself: $(sed -n 1p out)"
# where no end is seen it hangs on the dumps of the tanks that are not read
log '2026-03-02T08:06,dip,12,non-volatile residue,<5,mg/L'
expect 1 --check solvent-bench.csv short.csv
untold="the log does not tell, it says only 'dip' below 5 mg/L; by the line file alone good for more loads after load 12, 2026-03-02 08:06: no end within 100000 over the whole 95 % range"
[ "$(sed -n 1p out)" = "$untold" ] || fail "a bound alone: $(sed -n 1p out)"
good --card solvent-bench.csv short.csv
prints "$untold"
! grep -q 'at this reading' out || fail 'a card with a reading that does not tell'
# what is left on a part tells of its load
log '2026-03-02T08:06,clear,12,residue,<0.5,ug/cm2'
expect 1 --check solvent-bench.csv short.csv
prints 'the log does not tell, it says only parts below 0.5 ug/cm2; by the line file alone good for'
# a bound below the reading at which to dump does tell, and it is said what else it rests on
log '2026-03-02T08:06,last,3,conductivity,<2,uS/cm'
expect 0 --check "$rinse" short.csv
sed -n 1p out | grep -q "^good for .*; by the line file, the log says only 'last' below 2 uS/cm$" ||
    fail "a bound that tells: $(sed -n 1p out)"
log '2026-03-02T08:06,dip,12,non-volatile residue,<5,mg/L'
good solvent-bench.csv short.csv
! grep -q "dump 'dip'" out || fail "no end, and a dump: $(grep "dump 'dip'" out)"
prints "as long as 'beaker' is dumped every 40 loads, 'clear' is dumped every 80 loads, as solvent-bench.csv says"
# units that are right, whatever they are, change nothing
good "$rinse" "$log"
sed -n 1p out >as_written
awk -F, -v OFS=, '!/^#/ && $5 != "" && $6 == "uS/cm" { $5 /= 1000; $6 = "mS/cm" } 1' "$log" >other.csv
good "$rinse" other.csv
sed -n 1p out | cmp -s - as_written || fail "the same in mS/cm: $(sed -n 1p out)"

# ---- dates and counts ----
# one row of 2025: the last one, one in the middle, a dump; and one of 2027
for row in 33 17 11 13 14; do
    awk -v row=$row 'NR == row { sub(/^2026/, "2025") } 1' "$log" >year.csv
    first 'check the log: 36' "$rinse" year.csv
    grep -q "days from line $row to line " out || fail "row $row of 2025: $(sed -n 1p out)"
    prints ': a wrong date, or a dump without its row?'
done
good --card "$rinse" year.csv
prints 'check the log: 36'
awk 'NR == 17 { sub(/^2026/, "2027") } 1' "$log" >year.csv
first 'check the log: 36' "$rinse" year.csv
prints ' to line 17: a wrong date'
# all of one year is no gap, nor is a count that goes on after the holidays
sed 's/^2026/2025/' "$log" >year.csv
good "$rinse" year.csv
awk 'NR > 31 { sub(/^2026-03/, "2026-04") } 1' "$log" >year.csv
good "$rinse" year.csv
sed -n 1p out | grep -q '^good for ' || fail "a pause: $(sed -n 1p out)"
# the header's slip, either way; the count that falls first by the clock is at line 16
sed 's/,loads,/,load,/' "$log" >running.csv
expect 3 "$rinse" running.csv
[ ! -s out ] || fail 'a running number that falls: something on standard output'
grep -F "running.csv:16: load: 3, but an earlier row (line 12) has 27: a running number never falls; loads since the last dump belong in a column 'loads'" err >/dev/null ||
    fail "a running number that falls: $(cat err)"
awk -F, -v OFS=, '/^#|^time/ { print; next }
    NR > 15 { $3 += NR > 26 ? 54 : 27 } { print }' "$log" >running.csv
first "check the log: 'loads' goes on through its dumps: a running number? Its column is 'load'" \
    "$rinse" running.csv
sed 's/,loads,/,load,/' running.csv >named.csv
expect 0 "$rinse" named.csv
sed -n 1p out | grep -q '^good for ' || fail "a running number: $(sed -n 1p out)"

# ---- words of other countries ----
good "$rinse" "$log"
cp out as_written
sed 's/ degC/ °C/' "$log" >words.csv
good "$rinse" words.csv
sed 's/words\.csv/rinse-readings.csv/' out | cmp -s - as_written || fail 'degrees with their sign'
sed 's/,cm2,/,cm²,/; s|,ug/cm2,|,ug/cm²,|' "$rinse" >square.csv
grep -q 'cm²' square.csv || fail 'no square'
good square.csv "$log"
[ "$(sed -n 1p out)" = "$(sed -n 1p as_written)" ] || fail 'cm with a small two'
sed -E 's/^(2026)-(03)-(0[0-9])T0?([0-9]+:)/\3.\2.\1 \4/' "$log" >words.csv
grep -q '^02.03.2026 8:06,' words.csv || fail 'no date with dots'
good "$rinse" words.csv
sed 's/words\.csv/rinse-readings.csv/' out | cmp -s - as_written || fail 'dates with dots'
log '3/2/2026 8:06,last,3,conductivity,1.24,uS/cm'
expect 3 "$rinse" short.csv
grep -q "short.csv:2: time: '3/2/2026 8:06': with strokes the day or the month may come first; write " err ||
    fail "a date with strokes: $(cat err)"
for date in 31.02.2026 2.13.2026 2.3.26 '2.3.2026 8' 2.3-2026; do
    log "$date,last,3,conductivity,1.24,uS/cm"
    expect 3 "$rinse" short.csv
    grep -q "time: '$date' is not a time" err || fail "$date: $(cat err)"
done
log '2026-03-02T08:06,last,3,conductivity,1.24,uS/cm,25'
sed -i '1s/$/,temperature/' short.csv
expect 3 "$rinse" short.csv
grep -q "temperature: '25': .*its unit behind it, such as 23.5 degC" err || fail "25: $(cat err)"

# a fault of every row is said once
log '3/2/2026 8:06,last,3,conductivity,1.24,uS/cm' '3/2/2026 8:16,last,4,conductivity,1.4,uS/cm' \
    '3/2/2026 8:26,last,5,conductivity,1.5,uS/cm'
expect 3 "$rinse" short.csv
[ "$(wc -l <err)" -eq 1 ] || fail 'dates with strokes: not one line'
grep -q 'short.csv:2: .*(and 2 more rows like it)$' err || fail "dates with strokes: $(cat err)"
log 2026-03-02T08:06,last,3,conductivity,1.24, 2026-03-02T08:16,last,4,conductivity,1.4,
expect 3 "$rinse" short.csv
[ "$(cat err)" = "dregs-reuse: short.csv:2: unit missing; allowed is for example 'uS/cm' (and 1 more row like it)" ] ||
    fail "no unit: $(cat err)"
log 2026-03-02T08:06,last,3,conductivity,1.24,ppm 2026-03-02T08:16,last,4,conductivity,1.4,ppm
expect 3 "$rinse" short.csv
[ "$(cat err)" = "dregs-reuse: short.csv:2: unit 'ppm' of a conductivity: what a pen shows as dissolved solids is a calibration of the line file (and 1 more row like it)" ] ||
    fail "a pen: $(cat err)"
log 2026-03-02T08:06,last,3,TDS,1.24,ppm
expect 3 "$rinse" short.csv
[ "$(cat err)" = "dregs-reuse: short.csv:2: quantity: 'TDS' is read by a calibration, and $rinse has none of that name" ] ||
    fail "TDS: $(cat err)"

# ---- weighings, digits, loads since ----
# 20 mg of 100 mL are 200 mg/L, and the fresh isopropanol has 5: no unit was written that could slip
printf '%s\n' "$head,tare,gross,sample,resolution" \
    '2026-03-02T08:06,clear,3,non-volatile residue,,,24.3151 g,24.3351 g,100 mL,0.1 mg' >short.csv
first "check the log: 'clear' reads 40 times too high: a weighing with another dish's tare, without its blank, or of another sample?" \
    solvent-bench.csv short.csv
# a balance of 1 mg that finds nothing in 100 mL tells of 10 mg/L give or take 4, and 5 are fresh
printf '%s\n' "$head,tare,gross,sample,resolution" \
    '2026-03-02T08:06,clear,12,non-volatile residue,,,24.315 g,24.315 g,100 mL,1 mg' >short.csv
good solvent-bench.csv short.csv
! grep -q '^check the log' out || fail "a coarse balance: $(sed -n 1p out)"
# a zero is no reading of a conductivity
log 2026-03-02T08:06,last,6,conductivity,0,uS/cm
first "check the log: 'last' reads nothing: a probe in air, or a 0 for no reading?" "$rinse" short.csv
# the meter of the shipped log shows three digits
good "$rinse" "$log"
! grep -E '[0-9]{2}\.[0-9]{2} uS/cm|[0-9]{3}[1-9] uS/cm|[0-9]{3}\.[0-9] uS/cm' out >/dev/null ||
    fail 'more digits than the meter has'
# 14 loads and 7 more are beyond the 15 of the count
good --loads-since 7 "$rinse" "$log"
prints "plan on 15 (95 %: 15 to 27); 21 have passed since the last fill of 'last': dump now"
good --loads-since 19 "$rinse" "$log"
prints 'next fill: dump'
good --card --loads-since 19 "$rinse" "$log"
prints 'next fill, dump at'

# ---- a log that comes slowly: a terminal is told, a pipe is not; Ctrl-C leaves nothing ----
slowly='{ cat rinse-readings.csv; sleep 1.3; echo; } | "$0" rinse-bench.csv - >out'
sh -c "$slowly" "$tool" 2>err
[ ! -s err ] || fail 'progress into a pipe'
[ -s out ] || fail 'no answer of a log that comes slowly'
if command -v script >/dev/null 2>&1; then
    printf '%s\n' "$slowly" >slowly.sh
    sed -i "s|\"\$0\"|'$tool'|" slowly.sh
    script -qec 'sh slowly.sh' /dev/null </dev/null >terminal
    grep -q '0.0 MB of standard input read' terminal || fail 'a terminal is told nothing'
fi
got=0
sleep 1 | timeout --preserve-status -s INT 0.5 "$tool" rinse-bench.csv - >out 2>err || got=$?
[ "$got" -eq 130 ] || fail "ended by SIGINT: exit $got"
[ ! -s out ] || fail 'ended by SIGINT: something on standard output'

# ---- few readings that fit neither the line nor one another ----
log 2026-03-02T08:06,last,21,conductivity,14,uS/cm 2026-03-02T08:42,last,24,conductivity,9,uS/cm \
    2026-03-02T09:42,last,27,conductivity,31,uS/cm 2026-03-02T10:42,last,30,conductivity,14,uS/cm
first "check the log: the readings of 'last' fit neither the line nor one another" "$rinse" short.csv
log 2026-03-02T08:06,last,20,conductivity,1.2,uS/cm
first "check the log: the one reading of 'last' does not fit the line" "$rinse" short.csv

# ---- the readings of two tanks exchanged ----
# the first rinse, which takes what the wash loses, can hardly be cleaner than the last one
log 2026-03-02T08:06,first,3,conductivity,1.24,uS/cm 2026-03-02T08:06,last,3,conductivity,101,uS/cm \
    2026-03-02T08:42,first,6,conductivity,2.06,uS/cm 2026-03-02T08:42,last,6,conductivity,205,uS/cm \
    2026-03-02T09:18,first,9,conductivity,3.38,uS/cm 2026-03-02T09:18,last,9,conductivity,310,uS/cm
first "check the log: 'first' reads " "$rinse" short.csv
grep -F 'readings of two tanks exchanged' flat >/dev/null || fail 'two tanks exchanged: not said'
exit $failed
