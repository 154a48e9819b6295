#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally: every option, misuse, exit statuses, the forms of its output, lines side by side.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
cp "$source/data/solvent-shop.csv" shop.csv
chmod u+w shop.csv

# bad STATUS WORDS ARGUMENT...: one line with the words, nothing on stdout
bad()
{
    status=$1
    words=$2
    shift 2
    expect "$status" "$@"
    [ ! -s out ] || fail "$*: something on standard output"
    [ "$(wc -l <err)" -eq 1 ] || fail "$*: not one line"
    grep -F -- "$words" err >/dev/null || fail "$*: not said: $words"
}

# value STREAM LIQUID SOLUTE [PERIOD]: from the csv in out, in m3 or kg by the unit of its row
value()
{
    awk -F, -v a="$1" -v b="$2" -v c="$3" -v d="${4:-year}" \
        '$1 == a && $2 == b && $3 == c && $4 == d {
            printf "%.17g\n", $6 == "L" || $6 == "g" ? $5 / 1000 : $5 }' out
}

# near A B RELATIVE
near()
{
    awk -v a="$1" -v b="$2" -v by="$3" 'BEGIN {
        d = a - b; if (d < 0) d = -d; m = b < 0 ? -b : b; exit !(a != "" && b != "" && d <= by * m) }'
}

# ---- help, version, misuse ----
good --help
good --version
misuse 'no line file'
misuse 'unknown option' --monthly shop.csv
misuse "--for 'week' is not one of" --for week shop.csv
misuse "--loads '0' is not a number" --loads 0 shop.csv
misuse "--from 'used' is not one of" --from used shop.csv
misuse "--by 'tank' is not one of" --by tank shop.csv
misuse 'exclude each other' --for year --loads 5 shop.csv
misuse 'is a view of a year' --by month --for shift shop.csv
misuse 'set side by side' --by stage shop.csv shop.csv
misuse 'set side by side' --explain shop.csv shop.csv
misuse 'no other --format' --explain --format csv shop.csv
misuse 'only one LINE' - -
misuse 'more than 8' a b c d e f g h i

# ---- bad data ----
bad 3 'bench.csv: the line has no schedule' bench.csv
bad 3 'no schedule' --loads 5 --from running bench.csv
grep -v -e '^plan,shifts' -e '^wash,dump' shop.csv >no-shifts.csv
bad 3 'does not state its shifts per day' no-shifts.csv
bad 4 'nowhere.csv' nowhere.csv
sed 's/^plan,shift length,8/plan,shift length,6.9/' shop.csv >short.csv
bad 3 'short.csv:59: a shift of 6.9 h is shorter than its loads take' short.csv
expect 3 short.csv bench.csv # the faults of both
[ "$(wc -l <err)" -eq 2 ] || fail 'the faults of two files'

# ---- what it says ----
{
    cat shop.csv
    echo 'wash,most dissolved,1,mg/L,,'
} >full.csv
good full.csv
prints 'bath life: all solutes in wash passes its limit of 1 mg/L at load'
prints 'these figures are of the line as it is stated'
good --draws 0 shop.csv
prints 'a year takes 2.363 m3 of ipa and 96.0' # 96.045 m3 of water: a tie, rounded either way
prints '33600 loads on 240 working days of 2 shifts of 8 h, each followed by 8 h'
prints 'day 5 of each week by 70.5 h, of idle time with the flows off'
prints 'balance error'
prints 'come back as fresh ipa'
prints 'a copy of '\''flush'\'' behind it, fed in its place with the same flow'
prints 'a lid, on for 90 % of the time (assumed): wash, rinse'
prints 'ten more seconds of draining: wash, rinse'
prints 'cautions'
good --loads 1 bench.csv
prints '1 load takes'
prints 'whose liquid refills it after a dump'
good --loads 80 bench.csv # at the end of them the clear rinse moves down
prints 'used again: 0.6 L from clear to dip (refill from a stage)'
good --loads 12 line.csv
prints 'L from last to first (overflow to a stage)'
prints 'not computed: no stage computes its film'
prints 'no tank states an open area'
for span in shift day month; do
    good --for $span shop.csv
    good --for $span --format csv shop.csv
    good --for $span --format json shop.csv
done
good --by stage shop.csv
prints 'flush, L'
# the costs of the stages are those of the line
good --by stage --format csv shop.csv
awk -F, '$1 ~ /^cost of/ { if ($7 == "") all += $5; else sum += $5 }
    END { d = sum - all; if (d < 0) d = -d; exit !(all > 0 && d <= 1e-9 * all) }' out ||
    fail 'costs by stage are not those of the line'
good --by stage shop.csv
prints 'cost by stage'
# eight more rinses leave less of the solvent than rounding may
awk -F, -v OFS=, '{ print }
    $1 == "flush" { row[++n] = $0 }
    $1 == "flush" && $2 == "drag-out" {
        for (k = 2; k <= 9; k++)
            for (i = 1; i <= n; i++) { r = row[i]; sub(/^flush/, "flush " k, r); print r } }' \
    shop.csv >many.csv
good --by liquid many.csv
grep -E 'e-(0[6-9]|1[0-9])' out >/dev/null && fail 'noise in a table of streams'
good --draws 0 many.csv
grep -E '[0-9]e-1[0-9]' out >/dev/null && fail 'noise on the page'
good --by liquid shop.csv
prints 'ipa (786.7 kg/m3 at 20 degC)'
good --by month shop.csv
[ "$(grep -c -E '^(January|February|March|April|May|June|July|August|September|October|November|December)  ' out)" -eq 12 ] ||
    fail 'not twelve months'
good --explain shop.csv
for words in 'US EPA pool equation' 'shop.csv:32' 'night behind a day' 'holidays behind each of 48 weeks' 'flows off' \
    'integral of the tank' 'Closure'; do
    prints "$words"
done

# ---- by hand: 25 L/h in 240 days of 16 h are 96 m3; a dump a week, of 60 L ----
good --format csv shop.csv
near "$(value fed water '')" 96 1e-12 || fail "fed $(value fed water '')"
near "$(value dumped ipa '')" 2.88 1e-9 || fail "dumped $(value dumped ipa '')"
near "$(value reclaimed ipa '')" 2.448 1e-9 || fail "reclaimed $(value reclaimed ipa '')"
# 33600 racks of 8 parts with 9.5 mg
near "$(value 'soil that arrives' '' oil)" 2.5536 1e-12 || fail 'soil that arrives'
near "$(value 'never came off' '' oil)" 0.012768 1e-9 || fail 'soil that never came off'
# every hour of a year: the evaporation of the two tanks is that of 8760 h
rate=$(run --explain shop.csv | sed -n 's/.*evaporation = .* = \([0-9.]*\) L\/h.*/\1/p' | sed -n 1p)
near "$(value evaporated ipa '')" "$(awk -v r="$rate" 'BEGIN { print 2 * r * 8.76 }')" 1e-5 ||
    fail "evaporated $(value evaporated ipa '') at $rate L/h"

# ---- baths that are cold and covered in idle time: of 365 x 24 h 240 x 16 h are shifts ----
{
    cat shop.csv
    printf 'hall,kind,room,,,\nhall,temperature,20,degC,,\n'
    printf 'plan,covered idle,100,%%,,\nplan,idle heating,off,,,\n'
} >idle.csv
good --format csv idle.csv
near "$(value evaporated ipa '')" "$(awk -v r="$rate" 'BEGIN { print 2 * r * 240 * 16 / 1000 }')" 1e-5 ||
    fail "lids in idle time: evaporated $(value evaporated ipa '') at $rate L/h"
# of 8760 h 4920 are idle; a wash that is turned down and whose lid is half on then
sed -e 's/^plan,idle heating.*//' -e 's/^plan,covered idle.*//' idle.csv >own.csv
printf 'wash,covered idle,70,%%,,\nwash,idle temperature,20,degC,,\n' >>own.csv
good --format json own.csv
prints '"evaporated_idle"'
good own.csv
prints 'in idle time'
prints 'L in all; most over rinse'
prints 'wash: at its idle temperature through all of the idle time'
prints 'rinse: its lid is on in idle time as in the shifts, 40 % of it'
# the rinse loses at its own rate: 4920 h of it, beside what the wash loses
prints "most over rinse, $(awk -v r="$rate" 'BEGIN { printf "%.4g", r * 4920 }' | cut -c 1-3)"
good --explain idle.csv
grep -F 'wash: as warm as the room through all of the idle time' out >/dev/null ||
    fail 'a cold bath is not said'
grep 'which counts  \[US EPA pool equation' out >/dev/null || fail 'which law counts is not said'

# ---- in and out balance, by the printed numbers alone, in every month ----
good --draws 0 --format csv --by month shop.csv
awk -F, 'NR > 1 && $1 !~ /^cost/ {
        key = $2 "," $3 "," $4; value = $5
        in_ = $1 ~ /^(first fill|fed|top-up|refill|sprayed|taken off the parts|held at the start)$/
        out_ = $1 ~ /^(overflow to drain|spray runoff to drain|dumped|cleared|evaporated|dried off the parts|blown off to drain|blown off to waste|left in the last film|held at the end)$/
        sum[key] += in_ ? value : out_ ? -value : 0
        if (in_) all[key] += value
    }
    END {
        for (key in sum) { n++; d = sum[key] < 0 ? -sum[key] : sum[key]; bad += d > 1e-9 * all[key] }
        exit bad > 0 || n != 4 * 13
    }' out || fail 'the printed numbers do not balance'
[ "$(head -n 1 out)" = stream,liquid,solute,period,value,unit ] || fail 'the header'
good --format csv --by stage shop.csv
[ "$(head -n 1 out)" = stream,liquid,solute,period,value,unit,stage ] || fail 'the header by stage'
# the stages of a stream add up to the line
awk -F, '$1 == "overflow to drain" && $2 == "water" { if ($7 == "") whole = $5; else sum += $5 }
    END { exit !(whole > 0 && sum - whole < 1e-12 * whole && whole - sum < 1e-12 * whole) }' out ||
    fail 'stages do not add up'

# ---- side by side: the other way round all differences change their signs ----
sed 's/^flush,flow,25/flush,flow,15/' shop.csv >after.csv
good --draws 0 shop.csv after.csv
awk '/^cost, EUR/ { print $(NF) }' out >there
grep -E '^(bought|to drain|cost|residue)' out | awk '{ print $NF }' >differences
good --draws 0 after.csv shop.csv
grep -E '^(bought|to drain|cost|residue)' out | awk '{ print $NF }' >back
paste differences back | awk '$1 != "-" { n++; if ($1 + $2 != 0) bad++ } $1 == "-" && $2 != "-" { bad++ }
    END { exit bad > 0 || n < 3 }' || fail 'the comparison is not symmetric'
good --draws 0 shop.csv shop.csv
grep -E '^(bought|to drain|cost|residue)' out | awk '$NF != "-" { bad++ } END { exit bad > 0 }' ||
    fail 'a line differs from itself'
good --format csv shop.csv after.csv
[ "$(head -n 1 out)" = stream,liquid,solute,period,value,unit,file ] || fail 'the header of two'
# a change is the line with it: what the page says a lid does is what the edited file gives
good --draws 0 shop.csv
said=$(awk '/a lid, on/ { lid = 1 } lid && / evaporated / { print $4 }' out)
sed 's/,covered,40,/,covered,90,/' shop.csv >lid.csv
good --format csv lid.csv
near "$(value evaporated ipa '')" "$(awk -v l="$said" 'BEGIN { print l / 1000 }')" 1e-3 ||
    fail "a lid: said $said L, computed $(value evaporated ipa '') m3"

# ---- a running line buys no first fill ----
good --format csv --from running shop.csv
[ "$(value 'first fill' ipa '')" = 0 ] || fail 'a running line is filled'
near "$(value 'held at the start' water '')" 0.045 0.01 || fail 'a running line holds nothing'

# ---- standard input, repetition, full disk ----
for form in text csv json; do
    good --format $form shop.csv
    mv out first
    good --format $form shop.csv
    cmp -s first out || fail "$form differs from run to run"
    sed 's/shop\.csv/standard input/' first >named
    run --format $form - <shop.csv >out 2>err || fail "$form from standard input"
    tr -s ' \n' '  ' <named >named.words
    tr -s ' \n' '  ' <out | cmp -s named.words - || fail "$form from standard input differs"
done
if [ -c /dev/full ]; then
    for words in shop.csv '--format csv shop.csv' '--format json shop.csv' '--explain shop.csv'; do
        got=0
        # shellcheck disable=SC2086
        run $words >/dev/full 2>err || got=$?
        [ "$got" -eq 4 ] || fail "$words to a full disk: exit $got, expected 4"
    done
fi

# ---- names a spreadsheet takes for formulas ----
sed -e 's/^ipa,/"=ipa, raw",/' -e 's/,liquid,ipa,/,liquid,"=ipa, raw",/' -e 's/^flush,/@flush,/' shop.csv >names.csv
good --format csv --by stage names.csv
prints "\"'=ipa, raw\""
prints "'@flush"
good names.csv
good --format json names.csv

# ---- csv and json agree, read by another program ----
if command -v python3 >/dev/null 2>&1; then
    run --draws 0 --format csv --by month shop.csv >out.csv
    run --format json shop.csv >out.json
    python3 - <<'PYTHON' >err 2>&1 || fail 'csv and json'
import csv, json
page = json.load(open('out.json'), parse_constant=lambda name: 1 / 0)
def table(key, page=page):
    one, = [t for t in page['tables'] if t['key'] == key]
    return [dict(zip([c['key'] for c in one['columns']], row)) for row in one['rows']]
def unit(key, column):
    return next(c['unit'] for t in page['tables'] if t['key'] == key
                for c in t['columns'] if c['key'] == column)
assert unit('liquids', 'volume') == 'L' and unit('solutes', 'mass') == 'g'
assert page['tool'] == 'tally' and page['file'] == 'shop.csv' and page['verdict']['is'] == 'none'
assert page['figures']['span'] == 'year' and page['figures']['running'] is False
there = {(r['month'] or 'year', r['stream'], r['liquid']): r['volume']
         for r in table('liquids') if not r['stage']}
there |= {(r['month'] or 'year', r['stream'], r['solute']): r['mass']
          for r in table('solutes') if not r['stage']}
seen = 0
for row in csv.DictReader(open('out.csv', newline='')):
    if row['stream'].startswith('cost'):
        continue
    value = there.get((row['period'], row['stream'], row['liquid'] or row['solute']), 0.0)
    assert value == float(row['value']) and row['unit'] == ('L' if row['liquid'] else 'g'), row
    seen += 1
assert seen > 13 * 40, seen
# what comes in with the stages is what comes in
for liquid in 'ipa', 'water':
    stages = sum(r['volume'] for r in table('liquids')
                 if r['stage'] and r['liquid'] == liquid and r['stream'] == 'evaporated')
    assert abs(stages - there.get(('year', 'evaporated', liquid), 0.0)) < 1e-9 * (stages + 1)
year, *months = table('months')
assert year['month'] is None and len(months) == 12
assert sum(month['loads'] for month in months) == year['loads'] == page['figures']['loads']
assert abs(sum(month['cost'] for month in months) - year['cost']) < 1e-9 * year['cost']
assert year['currency'] == page['figures']['cost']['unit'] == 'EUR'
assert [part['ranked_by'] for part in table('largest_streams')].count('cost') > 0
assert len(table('changes')) == 3 and all(c['not_computed'] is None for c in table('changes'))
lid = {f['figure']: f for f in table('changed') if f['number'] == 3}
assert 0 < lid['evaporated']['value'] < lid['evaporated']['before'] and lid['evaporated']['moves']
assert len(table('balance')) == 4
assert all(abs(row['balance_error']) < 1e-9 for row in table('balance'))
PYTHON
    sed 's/^flush,flow,25/flush,flow,15/' shop.csv >less.csv
    run --format json shop.csv less.csv >out.json
    python3 - <<'PYTHON' >err 2>&1 || fail 'two lines in json'
import json
page = json.load(open('out.json'), parse_constant=lambda name: 1 / 0)
def table(key):
    one, = [t for t in page['tables'] if t['key'] == key]
    return [dict(zip([c['key'] for c in one['columns']], row)) for row in one['rows']]
bought = {r['file']: r['bought'] for r in table('months') if not r['month']}
assert page['file'] is None and set(bought) == {'shop.csv', 'less.csv'}
water, = [r for r in table('compared') if r['figure'] == 'bought: water']
assert water['file'] == 'less.csv' and water['difference'] < 0
assert abs(water['difference'] - (bought['less.csv'] - bought['shop.csv'])) < 1e-6 * bought['shop.csv']
assert {c['place'] for c in page['cautions']} == set(bought)
assert any(text.startswith('less.csv: ') for text in page['assumed'])
PYTHON
fi

# ---- a locale with a decimal comma ----
if command -v localedef >/dev/null 2>&1; then
    mkdir locales
    localedef --no-archive -i de_DE -f UTF-8 "$work/locales/de_DE.UTF-8" >/dev/null 2>&1 || :
fi
if [ "$(LOCPATH=$work/locales LC_ALL=de_DE.UTF-8 locale decimal_point 2>/dev/null)" = , ]; then
    for words in '--format text' '--format csv' '--format json' --explain; do
        # shellcheck disable=SC2086
        good $words shop.csv
        # shellcheck disable=SC2086
        LOCPATH=$work/locales LC_ALL=de_DE.UTF-8 run $words shop.csv >comma 2>err ||
            fail "$words under a comma locale"
        cmp -s out comma || fail "$words differs under a comma locale"
    done
else
    echo 'not run: a decimal comma (localedef could not build de_DE)'
fi
# ---- a clearing that is used up: 500 loads, changed behind each 90 of them ----
{
    cat line.csv
    echo 'last,clearing minerals,30,L/h,,'
    echo 'last,capacity,4,g,,'
    echo 'last,change every,90,,,'
    echo 'last,change price,61.5,EUR,,'
} >resin.csv
good --loads 500 resin.csv
prints 'changed 5 times, every 90 loads'
prints '307.5 EUR' # 5 x 61.5
good --loads 500 --explain resin.csv
prints 'changes = floor(500 loads / change every) = 5'
good --loads 500 --format csv resin.csv
grep '^cost of changes,,,loads,307.5,EUR$' out >/dev/null || fail 'cost of changes in CSV'
good --loads 500 --format json resin.csv
grep '"clearing_changes": {"value": *5' out >/dev/null || fail 'changes in JSON'

exit $failed
