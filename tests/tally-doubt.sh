#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# How sure dregs-tally is: draws, their options, threads, the same in every form.
set -eu
name=dregs-tally
# shellcheck source=tests/tool.sh disable=SC1091
. "${DREGS_SOURCE:-.}/tests/tool.sh"
cp "$source/data/solvent-shop.csv" shop.csv
chmod u+w shop.csv

misuse "--draws '-1' is not a whole number" --draws -1 shop.csv
misuse "--seed 'x' is not a whole number" --seed x shop.csv
misuse "--threads '0' is not a whole number from 1 to 256" --threads 0 shop.csv

# ---- the same for any threads, another one for another seed ----
good --draws 130 --threads 1 --law --format json shop.csv
cp out one
for threads in 2 7; do
    good --draws 130 --threads "$threads" --law --format json shop.csv
    cmp -s one out || fail "$threads threads change the answer"
done
good --draws 130 --seed 2 --law --format json shop.csv
! cmp -s one out || fail 'another seed changes nothing'
# how many are usual is not measured
good --format json shop.csv
cp out one
good --draws 400 --format json shop.csv
cmp -s one out || fail 'the usual number is not 400'

# ---- the stated values answer as ever ----
good --draws 0 shop.csv
prints 'a year takes 2.363 m3 of ipa and 96.0' # 96.045 m3 of water: a tie, rounded either way
! grep 'draws' out >/dev/null || fail 'no draws, and yet some are spoken of'
prints 'spreads'
good --draws 0 --format csv shop.csv
cp out stated
good --draws 130 --format csv shop.csv
grep -v 'of draws' out >without
cmp -s stated without || fail 'draws change the stated answer'
prints '"bought, 5 % of draws",water,,year,'

# ---- on the page ----
good --draws 130 shop.csv
prints '130 draws of the 4 values with a spread'
grep 'a year takes 2.363 m3 ([0-9.]* to [0-9.]*) of ipa' out >/dev/null || fail 'no range of a year'
! grep '[0-9] spreads*$' out >/dev/null || fail 'spreads are said not to be used'
good --draws 130 --law shop.csv
tr -s ' \n' '  ' <out >flat
grep 'of draws\|in no draw\|in all draws' flat >/dev/null || fail 'a verdict without its draws'
good --draws 130 --explain shop.csv
prints 'how sure: 130 draws, seed 1'
# ---- stages, liquids, months and the streams of a plan have ranges ----
good --draws 130 --by month --from running shop.csv
grep -c '^  5 %  *[0-9]' out >count
[ "$(cat count)" = 37 ] || fail 'not 12 months, the year, 12 sums of three and of twelve months'
[ "$(grep -c '^  95 %  *[0-9]' out)" = 37 ] || fail 'not as many upper ends'
good --draws 130 --by stage shop.csv
grep '^    5 %' out >/dev/null || fail 'no range of a stage'
good --draws 0 --by stage shop.csv
! grep '^    5 %' out >/dev/null || fail 'a range without draws'
good --draws 130 --by liquid shop.csv
grep 'evaporated  *wash.* [0-9.]* to [0-9.]*$' out >/dev/null || fail 'no range of a liquid'
good --draws 130 --law shop.csv
grep ' O4 .* kg ([0-9.]* to [0-9.]*)$' out >/dev/null || fail 'no range of a stream of the plan'
for view in stage month; do
    good --draws 0 --by "$view" --format csv shop.csv
    cp out stated
    good --draws 130 --by "$view" --format csv shop.csv
    grep -v 'of draws' out >without
    cmp -s stated without || fail "draws change the stated answer by $view"
done
prints '"evaporated, 5 % of draws",ipa,,March,'
if command -v python3 >/dev/null 2>&1; then
    good --draws 130 --by stage --format json shop.csv
    cp out stage
    good --draws 130 --by month --from running --format json shop.csv
    cp out month
    good --draws 130 --law --format json shop.csv
    cp out law
    python3 - <<'END' || fail 'JSON tells other ranges'
import json
def rows(page, key):
    table = next(t for t in page['tables'] if t['key'] == key)
    return [dict(zip([c['key'] for c in table['columns']], r)) for r in table['rows']]
def ranged(cell):
    return isinstance(cell, dict) and cell['low'] < cell['value'] < cell['high']
stage, month, law = (json.load(open(name)) for name in ('stage', 'month', 'law'))
air = [r for r in rows(stage, 'liquids') if r['stream'] == 'evaporated' and r['month'] is None]
assert {r['stage'] for r in air if ranged(r['volume'])} >= {None, 'wash'}
assert not any(isinstance(r['volume'], dict) for r in rows(stage, 'liquids') if r['month'])
air = [r for r in rows(month, 'liquids') if r['stream'] == 'evaporated' and r['month']]
assert sum(ranged(r['volume']) for r in air if r['liquid'] == 'ipa') == 12
assert all(ranged(r['evaporated']) for r in rows(month, 'months') + rows(month, 'months_in_a_row'))
assert any(ranged(r['cost']) for r in rows(stage, 'stage_costs'))
# the cost of the whole is one figure, whatever is asked beside it
whole = next(r for r in rows(stage, 'stage_costs') if r['stage'] is None)['cost']
figure = stage['figures']['cost']
assert [whole[k] for k in ('value', 'low', 'high')] == [figure[k] for k in ('value', 'low', 'high')]
plan = {r['stream']: r['mass'] for r in rows(law, 'law_plan_streams')}
assert ranged(plan['O4']) and ranged(plan['I1'])
END
fi
# no spread: no draws; several lines: each by itself
cut -d, -f1-4 shop.csv >sure.csv
good sure.csv
! grep 'draws' out >/dev/null || fail 'draws of a line without spreads'
good --draws 130 shop.csv sure.csv
prints '1. 130 draws of the 4 values with a spread'
prints '2. no value with a spread'
prints 'each line is drawn by itself'
grep 'dried off the parts, L  *[0-9.]* to [0-9.]*' out >/dev/null || fail 'no range of one of two lines'
good --draws 0 shop.csv sure.csv
! grep 'of draws' out >/dev/null || fail 'draws that were not asked for'

# ---- money of two currencies is neither added nor subtracted ----
sed 's/EUR/USD/' shop.csv >dollar.csv
good --draws 0 --format json shop.csv dollar.csv
if command -v python3 >/dev/null 2>&1; then
    python3 - <<'END' || fail 'a difference of two currencies'
import json
page = json.load(open('out'))
rows = [dict(zip([c['key'] for c in t['columns']], r)) for t in page['tables']
        if t['key'] == 'compared' for r in t['rows']]
cost = [r for r in rows if r['figure'] == 'cost']
assert [r['unit'] for r in cost] == ['EUR', 'USD'] and all(r['difference'] is None for r in cost)
END
fi
sed 's/EUR/USD/;s/^ipa,price,.*/ipa,price,1.9,EUR\/L/' shop.csv >both.csv
expect 3 both.csv
[ ! -s out ] || fail 'something on standard output'
grep -F 'a file has one currency' err >/dev/null || fail 'two currencies are added'

# ---- what no distribution can have ----
sed 's/^wash,reclaim,85,%,/&60%/' shop.csv >wide.csv
expect 3 wide.csv
[ ! -s out ] || fail 'something on standard output'
grep -F "wide.csv:35: reclaim of 'wash': a share of 85 % cannot have a spread of 60%" err >/dev/null ||
    fail 'not refused by its line'
exit "$failed"
