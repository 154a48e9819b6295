#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-reuse: every option, misuse, exit statuses, the forms of its output, bad logs.
set -eu
name=dregs-reuse
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
cp "$source/data/rinse-bench.csv" "$source/data/rinse-readings.csv" \
    "$source/data/stopped-flow.csv" .
chmod u+w ./*.csv
rinse='rinse-bench.csv'
log='rinse-readings.csv'
head=time,stage,loads,quantity,value,unit

# bad STATUS WORDS ARGUMENT...: the words on standard error, nothing on stdout
bad()
{
    status=$1
    words=$2
    shift 2
    expect "$status" "$@"
    [ ! -s out ] || fail "$*: something on standard output"
    grep -F -- "$words" err >/dev/null || fail "$*: not said: $words"
}

# bad_row WORDS ROW: a log with one good row and this one is refused at line 3
bad_row()
{
    printf '%s\n2026-03-02T07:30,last,3,conductivity,2.5,uS/cm\n%s\n' "$head" "$2" >one.csv
    bad 3 "$1" "$rinse" one.csv
    grep -q '^dregs-reuse: one\.csv:3: ' err || fail "$2: no file and line"
}

# ---- help, version, misuse ----
good --help
prints 'usage: dregs-reuse [OPTION]... LINE [READINGS]'
good --version
misuse 'a line file is needed, and a log'
misuse '--measure-drag-out needs a log' --measure-drag-out "$rinse"
misuse 'one line file and one log at a time' "$rinse" "$log" "$log"
misuse 'cannot both be standard input' - -
misuse 'out of its range' --noise '0 %' "$rinse" "$log"
misuse 'out of its range' --limit '0 ug/cm2' "$rinse" "$log"
misuse '--card is text or html' --card --format json "$rinse" "$log"
misuse '--card and --explain' --card --explain "$rinse" "$log"
misuse '--measure-drag-out goes with no' --measure-drag-out --check "$rinse" "$log"
misuse 'text, csv, json' --format xml "$rinse" "$log"

# ---- the answer ----
good "$rinse" "$log"
sed -n 1p out | grep -E '^good for [0-9]+ more loads after load 14, 2026-03-04 09:06; plan on [0-9]+ \(95 %: [0-9]+ to [0-9]+\)$' >/dev/null ||
    fail "the first line: $(sed -n 1p out)"
# the number to plan on is the lower end of the range
sed -n 1p out | awk '{ sub(/.*plan on /, ""); sub(/95 %: /, ""); split($0, n, /[ (]+/)
    exit !(n[1] == n[2]) }' || fail "plan on: $(sed -n 1p out)"
grep -E "^  dump 'last' first, at [0-9.]+ uS/cm \([0-9.]+ uS/cm now\), " out >/dev/null ||
    fail 'not said which tank to dump'
prints 'the limit is 0.5 ug/cm2'
prints 'times what rinse-bench.csv says'
prints 'when to dump'
prints 'mg per part'
prints 'licensed professionals decide.'
# what has run since is taken off, and the answer says from where it counts: the same loads on
good --format json "$rinse" "$log"
python3 - <<'END' >loads
import json
figures = json.load(open('out'))['figures']
print(int(figures['loads']['value']), int(figures['loads_since_fill']))
END
read -r loads fill <loads
good --loads-since 2 "$rinse" "$log"
grep -q "^good for $((loads - 2)) more loads after load 16, 2 loads since 2026-03-04 09:06; plan on" out ||
    fail "two loads since: $(sed -n 1p out)"
good --loads-since 2 --format json "$rinse" "$log"
python3 - "$((loads - 2))" "$((fill + 2))" <<'END' || fail 'two loads since, as figures'
import json, sys
figures = json.load(open('out'))['figures']
assert [figures['loads']['value'], figures['loads_since_fill']] == [int(x) for x in sys.argv[1:]]
END
expect 1 --check --loads-since 50 "$rinse" "$log"
sed -n 1p out | grep -q '^dump now: ' || fail 'fifty loads since'
misuse 'a whole number from 1 to 100000' --loads-since 0 "$rinse" "$log"
misuse 'a whole number from 1 to 100000' --loads-since 100001 "$rinse" "$log"
misuse '--loads-since needs a log' --loads-since 2 "$rinse"
good "$rinse" "$log"
# a range that begins at 0 is no number to plan on
good --limit '0.3 ug/cm2' "$rinse" "$log"
sed -n 1p out | grep -E -q '^not sure of one more load after load 14, 2026-03-04 09:06: [0-9]+ by the best estimate \(95 %: 0 to [0-9]+\)$' ||
    fail "the first line: $(sed -n 1p out)"
expect 1 --check --limit '0.3 ug/cm2' "$rinse" "$log"
good "$rinse" "$log"
# what the log was made with: drag-out doubled in the third fill, one outlier, a late row, one
# without a value (comments at its head)
prints 'line 29 (2026-03-03 13:30): drag-out'
prints 'line 19: conductivity 10.2 uS/cm of last'
prints '1 without a value or a count of loads: passed over (first: line 21)'
prints '1 out of order: put in the place that its time says (first: line 15)'
good --check "$rinse" "$log"
# a limit of concentration ends the loads before the residue does; a wide one changes nothing
good "$rinse" "$log"
cp out unlimited
{
    cat "$rinse"
    echo 'last,most cleaner,20,mg/L,,'
} >narrow.csv
good narrow.csv "$log"
prints 'what ends them: cleaner in last, most 20 mg/L'
prints "dump 'last' first"
[ "$(sed -n 's/^good for \([0-9]*\) more.*/\1/p' out)" -lt "$(sed -n 's/^good for \([0-9]*\) more.*/\1/p' unlimited)" ] ||
    fail 'a limit of concentration does not shorten the use'
sed 's/^last,most cleaner,20,/last,most cleaner,3000,/' narrow.csv >wide.csv
good wide.csv "$log"
sed 's/wide\.csv/rinse-bench.csv/' out >unnamed
tr -s ' \n' '  ' <unlimited >one
tr -s ' \n' '  ' <unnamed | cmp -s - one || fail 'a limit far away changes the answer'
expect 1 --check --limit '0.1 ug/cm2' "$rinse" "$log"
sed -n 1p out | grep -E '^dump now: the next load leaves [0-9.]+ ug/cm2, limit 0\.1$' >/dev/null ||
    fail "the first line: $(sed -n 1p out)"
good --limit '0.1 ug/cm2' "$rinse" "$log"
good --noise '3 %' "$rinse" "$log"
prints 'scatters by 3 % of the reading, one standard deviation (given)'
good --explain "$rinse" "$log"
prints 'Marsh and Stokes'
prints 'Page 1954'
"$tool" - "$log" <"$rinse" >out 2>err || fail 'the line from standard input'
"$tool" "$rinse" - <"$log" >other 2>err || fail 'the log from standard input'
sed -n 1p out | cmp -s - out && fail 'nothing but one line'
[ "$(sed -n 1p out)" = "$(sed -n 1p other)" ] || fail 'standard input changes the answer'

# ---- a lone last reading far off ----
{
    cat "$log"
    echo '2026-03-04T09:18,last,15,conductivity,95,uS/cm,20.6 degC'
} >alone.csv
sed -n '/^time/p' "$log" | grep -q temperature || fail 'the log has no temperature column'
expect 1 --check "$rinse" alone.csv
sed -n 1p out | grep -q '^measure again: ' || fail "the first line: $(sed -n 1p out)"
prints 'the last one: measure again'

# ---- readings that no line explains: a wrong unit ----
for factor in 30 0.0166; do
    awk -F, -v OFS=, -v by=$factor '
        /^#/ || $4 != "conductivity" || $5 == "" { print; next } { $5 *= by; print }' \
        "$log" >wrong-unit.csv
    expect 1 --check "$rinse" wrong-unit.csv
    sed -n 1p out | grep -E -q '^check the log: ' ||
        fail "readings times $factor: $(sed -n 1p out)"
done
# no loads and no reading at which to dump is told of a log that does not fit
expect 1 --check "$rinse" wrong-unit.csv
grep -q '^check the log: ' out || fail "readings times 0.0166: $(sed -n 1p out)"
! grep -E '^ *dump .last|the fill lasts|next load keeps|[0-9] more load' out ||
    fail 'a log that does not fit: too much is told'
sed -n 1p out | awk 'length > 88 { exit 1 }' || fail 'a log that does not fit: the line is too long'
good --card "$rinse" wrong-unit.csv
! grep -E 'dump at|next fill lasts|<- dump' out || fail 'a log that does not fit: a card with a reading'
prints 'no reading tells when to dump: the readings do not fit the line'
good --format json "$rinse" wrong-unit.csv
python3 - <<'END' || fail 'a log that does not fit: json'
import json
top = json.load(open('out'))
figures = top['figures']
assert figures['loads'] == {'value': None, 'unit': '1'}
for key in 'stage_to_dump', 'loads_since_fill', 'loads_of_a_fill', 'loads_when_all_are_dumped':
    assert figures[key] is None, key
readings, = [t for t in top['tables'] if t['key'] == 'readings']
at = [c['key'] for c in readings['columns']].index('dump_at')
assert readings['rows'] and all(row[at] is None for row in readings['rows'])
END

# ---- the card ----
good --card "$rinse" "$log"
prints 'BENCH CARD'
prints 'date ____'
prints 'signature ____'
grep -E -q '^  Out of date after [0-9]+ more loads, at the next dump, or when load' out ||
    fail 'when the card goes out of date'
# a tank that nobody reads has no place on it
if grep -q '^  first' out; then fail 'a tank without a meter on the card'; fi
[ "$(wc -l <out)" -le 60 ] || fail 'the card is longer than a page'
prints 'dump at'
prints '<- dump this tank first, at this reading'
prints 'dumped alone, its next fill lasts'
prints 'a meter without compensation shows, in uS/cm (pure water)'
# printable, from the same report
good --card --format html "$rinse" "$log"
grep -q 'BENCH CARD' out && grep -q 'signature ____' out || fail 'the card as html'
if grep -q 'Levenberg' out; then fail 'the card has the working'; fi
good --card "$rinse" "$log"
# the table at the temperature of the reading agrees with it: pure water, 2 % per degC about 25
python3 - <<'END' || fail 'the table of the card'
import re
text = open('out').read().split('\n  last')[1]
at, t = map(float, re.search(r'dump at ([\d.]+) uS/cm at ([\d.]+) degC', text).groups())
temps = [float(x) for x in re.findall(r'([\d.]+) degC', text.split('pure water):\n')[1].split('\n')[0])]
shown = [float(x) for x in text.split('pure water):\n')[1].split('\n')[1].split()]
def kw(t): # Marsh and Stokes
    d = t - 25
    return 0.05498 + 2.9326e-3 * d + 6.0629e-5 * d * d + 4.2690e-7 * d ** 3
k25 = (at - kw(t)) / (1 + 0.02 * (t - 25)) + 0.05498
for u, s in zip(temps, shown):
    own = (k25 - 0.05498) * (1 + 0.02 * (u - 25)) + kw(u)
    assert abs(own - s) < 3e-3 * s, (u, own, s) # the reading has three digits
assert len(temps) == len(shown) == 7
END

# ---- drag-out measured ----
good --measure-drag-out "$rinse" stopped-flow.csv
prints 'for the line file'
prints 'D = V ((1 - f)^(-1/j) - 1)'
good --measure-drag-out --explain "$rinse" stopped-flow.csv
prints 'the working'
good --measure-drag-out --format csv "$rinse" stopped-flow.csv
[ "$(sed -n 1p out)" = 'item,property,value,unit,spread,note' ] || fail 'no header'
row=$(sed -n 2p out)
# simulated with 88.9 mL/m2 (comments at its head)
echo "$row" | awk -F, '{ exit !($1 == "bath" && $2 == "drag-out" && $4 == "mL/m2" &&
    ($3 - 88.9) ^ 2 < (3 * $5) ^ 2 && $5 > 0.2 && $5 < 9) }' || fail "the row: $row"
grep -v '^bath,drag-out' "$rinse" >measured.csv
echo "$row" >>measured.csv
good measured.csv "$log"
printf '%s\n2026-03-02T07:30,last,3,conductivity,2.5,uS/cm\n2026-03-02T07:31,first,3,conductivity,90,uS/cm\n' \
    "$head" >two.csv
bad 3 "readings of 'first' and of 'last'" --measure-drag-out "$rinse" two.csv
# what it cannot be measured by
refused()
{
    words=$1
    line=$2
    printf '%s\n' "$head" >no.csv
    shift 2
    printf '2026-03-02T07:3%s\n' "$@" >>no.csv
    bad 3 "no.csv: $words" --measure-drag-out "$line" no.csv
}
refused "1 reading of 'first' can be used; drag-out takes two" "$rinse" 0,first,3,conductivity,90,uS/cm
refused "no wet stage stands before 'bath'" "$rinse" '0,bath,3,concentration cleaner,11.8,g/L' \
    '1,bath,4,concentration cleaner,11.8,g/L'
refused 'a residue on parts tells no drag-out' "$rinse" 0,first,3,conductivity,90,uS/cm 1,last,3,residue,1,ug/cm2
# 40 parts that hold 0.3 mL each: 12 mL, more than the 6.5 mL of 88.9 mL/m2 on 730 cm2
sed 's/^tray,hold-up,0.01,/tray,hold-up,0.3,/' "$rinse" >holes.csv
bad 3 'less than hold-up and edge beads alone (12 mL): no film is left' --measure-drag-out holes.csv \
    stopped-flow.csv
printf '%s\n2026-03-02T07:30,rinse,3,concentration oil,90,mg/L\n' "$head" >kinds.csv
bad 3 'loads of several kinds are not taken here' --measure-drag-out "$source/data/mixed-loads.csv" kinds.csv

# ---- csv and json hold what the text says ----
good "$rinse" "$log"
cp out all.txt
good --format csv "$rinse" "$log"
cp out all.csv
good --format json "$rinse" "$log"
cp out all.json
python3 - <<'END' || fail 'csv and json'
import csv, json
rows = list(csv.DictReader(open('all.csv')))
top = json.load(open('all.json'))
assert (top['program'], top['tool'], top['file']) == ('dregs', 'reuse', 'rinse-bench.csv')
assert top['verdict']['is'] == 'met' and top['verdict']['words'] == [open('all.txt').readline().rstrip('\n')]
figures = top['figures']
assert figures['use_again'] is True
for key in 'loads', 'next_residue', 'drag_out_factor', 'soil_factor':
    assert figures[key]['low'] <= figures[key]['value'] <= figures[key]['high'], key
assert figures['next_residue']['unit'] == figures['limit']['unit'] == 'ug/cm2'
assert abs(figures['limit']['value'] - 0.5) < 1e-12
assert figures['confidence']['value'] is None and figures['next_residue_at_confidence']['value'] is None
for key in 'loads_since_fill', 'loads_of_a_fill', 'loads_when_all_are_dumped':
    assert type(figures[key]) is int, key
def table(key):
    found, = [t for t in top['tables'] if t['key'] == key]
    names = [c['key'] for c in found['columns']]
    return [dict(zip(names, row)) for row in found['rows']]
classified = table('classified_readings')
assert list(classified[0]) == list(rows[0])
def same(cell, text):
    return text == '' if cell in (None, '') else (
        float(text) == cell if isinstance(cell, float) else str(cell) == text)
assert len(classified) == len(rows)
for mine, theirs in zip(classified, rows):
    assert all(same(mine[key], theirs[key]) for key in mine), (mine, theirs)
assert [r['line'] for r in classified if r['state'] == 'outlier'] == [19]
assert figures['readings_used'] == sum(r['state'] == 'used' for r in rows)
assert figures['rows_missing'] == figures['rows_out_of_order'] == 1
periods = table('periods')
assert periods[0]['changed'] == 'first' and periods[0]['change_factor'] is None
assert periods[1]['line'] == 29 and periods[1]['changed'] == 'drag-out'
assert periods[1]['drag_out_factor'] == {k: figures['drag_out_factor'][k] for k in ('value', 'low', 'high')}
assert 1.8 < periods[1]['change_factor']['value'] < 2.2
assert {r['regime'] for r in rows} == {'1', '2'}
readings = table('readings')
assert [m['stage'] for m in readings] == ['first', 'last'], readings # no one reads or dumps the bath
assert readings[1]['now'] < readings[1]['dump_at']
assert top['decided_by'] and top['assumed'] and top['not_used'] == ['5 spreads']
END
# a limit of the cleaner alone: none of it is soil, so that all of it comes out of the film
sed 's/^limit,residue,0.5,/limit,residue cleaner,0.5,/' "$rinse" >cleaner.csv
good --format json cleaner.csv "$log"
python3 -c 'import json
figures = json.load(open("out"))["figures"]
assert figures["limit"] == {"value": 0.5, "unit": "ug/cm2"} and figures["limit_of"] == "cleaner", figures
assert figures["share_of_the_film_at_limit"]["value"] == 1, figures' || fail 'a limit of one solute'
good --measure-drag-out --format json "$rinse" stopped-flow.csv
python3 -c 'import json
top = json.load(open("out"))
figures = top["figures"]
assert top["verdict"]["is"] == "none" and figures["item"] == "bath" and figures["read_in"] == "first"
assert figures["spread"]["unit"] == "mL/m2" and figures["carried_per_load"]["unit"] == "mL"
# simulated with 88.9 mL/m2 (comments at its head)
assert abs(figures["drag_out"]["value"] - 88.9) < 3 * figures["spread"]["value"]
for key in "drag_out_factor", "fraction_of_bath", "shortcut_per_load":
    assert figures[key]["value"] > 0, key
assert figures["shortcut_per_load"]["unit"] == "mL"' ||
    fail 'json of a measurement'
# what cannot be told is unknown, what misses is missed
expect 1 --check --format json "$rinse" alone.csv
grep -q '"verdict": {"is":"unknown"' out || fail 'a lone reading: not unknown'
expect 1 --check --format json --limit '0.1 ug/cm2' "$rinse" "$log"
grep -q '"verdict": {"is":"missed"' out || fail 'to be dumped: not missed'

# ---- bad logs ----
: >empty.csv
bad 3 'the log is empty' "$rinse" empty.csv
echo "$head" >head.csv
bad 3 'no reading in 0 rows' "$rinse" head.csv
echo 'time,stage,loads,quantity,value' >short.csv
bad 3 "there is no column 'unit'" "$rinse" short.csv
echo 'time,stage,loads,quantity,vlaue,unit' >wrong.csv
bad 3 "nearest: 'value'" "$rinse" wrong.csv
echo 'time,stage,loads,load,quantity,value,unit' >both.csv
bad 3 'exclude each other' "$rinse" both.csv
bad_row "nearest: 'last'" '2026-03-02T08:30,lastt,4,conductivity,3,uS/cm'
bad_row 'is not a wash or rinse' '2026-03-02T08:30,air,4,conductivity,3,uS/cm'
bad_row "nearest: 'conductivity'" '2026-03-02T08:30,last,4,conductivty,3,uS/cm'
bad_row 'unit' '2026-03-02T08:30,last,4,conductivity,3,mg/L'
bad_row 'is not a number' '2026-03-02T08:30,last,4,conductivity,3x,uS/cm'
bad_row 'is not a number' '2026-03-02T08:30,last,4,conductivity,nan,uS/cm'
bad_row 'nothing a meter can show' '2026-03-02T08:30,last,4,conductivity,-3,uS/cm'
bad_row 'whole number of loads' '2026-03-02T08:30,last,4.5,conductivity,3,uS/cm'
bad_row 'is not a time' '2026-02-30T08:30,last,4,conductivity,3,uS/cm'
bad_row 'states its zone' '2026-03-02T08:30Z,last,4,conductivity,3,uS/cm'
bad_row 'cells under a header of' '2026-03-02T08:30,last,4,conductivity,3,uS/cm,7'
bad_row 'a dump has no value' '2026-03-02T08:30,last,4,dump,3,uS/cm'
bad_row 'not UTF-8' "$(printf '2026-03-02T08:30,last,4,\377,3,uS/cm')"
printf '%s\n2026-03-02T08:30,last,4,conductivity,,uS/cm\n' "$head" >missing.csv
bad 3 'no reading in 1 rows' "$rinse" missing.csv
bad 3 'is a directory' "$rinse" .
bad 4 'No such file' "$rinse" none.csv
bad 4 'No such file' none.csv "$log"
grep -v '^limit' "$rinse" >aimless.csv
bad 3 'states no target' aimless.csv "$log"
grep -v ',conductivity,' "$rinse" >dumb.csv
bad 3 'states its conductivity or electrolyte' dumb.csv "$log"
if [ -e /dev/full ]; then
    got=0
    "$tool" "$rinse" "$log" >/dev/full 2>err || got=$?
    [ $got -eq 4 ] || fail "a full disk: exit $got"
fi
exit $failed
