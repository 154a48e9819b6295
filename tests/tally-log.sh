#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally --law --actual: the machines of a facility by records, 40 CFR 63.471: what a month lacks,
# what cannot be, what a missing assay leaves open. Expected values are arithmetic by hand.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
# shellcheck source=tests/tally-line.sh
. "${DREGS_SOURCE:-.}/tests/tally-line.sh"

line tetrachloroethylene 0.05 >per.csv
{
    cat per.csv
    cat <<END
second,kind,liquid
second,solvent,trichloroethylene
wet,kind,rinse
wet,volume,100,L
wet,liquid,second
wet,film,1,mm
wet,evaporation,0.1,L/h
END
} >both.csv

# Each of 14 months: 400 kg bought, 200 kg of waste with half of it solvent, 100 kg in stock at its end:
# 300 kg emitted, 3600 kg in twelve months; 4800 kg are the limit of the one solvent.
months='2024-01-31 2024-02-29 2024-03-31 2024-04-30 2024-05-31 2024-06-30 2024-07-31 2024-08-31 2024-09-30
2024-10-31 2024-11-30 2024-12-31 2025-01-31 2025-02-28'
{
    echo date,liquid,quantity,unit,kind,spread,assay
    echo 2023-12-31,own,100,kg,stock
    for end in $months; do
        echo "${end%-*}-05,own,400,kg,bought"
        echo "${end%-*}-06,own,70,kg,recovered"
        echo "${end%-*}-20,own,200,kg,disposed,,50%"
        echo "$end,own,100,kg,stock"
    done
} >log.csv

# log FILE ARGUMENT...: that line beside these records, the only machine
log()
{
    records=$1
    shift
    good --law --draws 0 --actual "$records" --given 'other machines=0 kg' --given facility=general "$@"
}

# value STREAM PERIOD: of the last page in CSV
value()
{
    awk -F, -v s="$1" -v p="$2" '$1 == s && $4 == p { v = $5 } END { print v }' out
}

# near WHAT GOT EXPECTED: to 1e-9 of it
near()
{
    awk -v g="$2" -v e="$3" 'BEGIN { d = g - e; if (d < 0) d = -d
        exit !(g != "" && d <= 1e-9 * (e < 0 ? -e : e)) }' || fail "$1: $2, expected $3"
}

sum='facility log over twelve months measured'
log log.csv --format csv per.csv
for month in 2024-01 2024-07 2025-02; do
    near "added in $month" "$(value 'facility log added' $month)" 470
    near "removed in $month" "$(value 'facility log removed' $month)" 170
    near "emission of $month" "$(value 'facility log emission measured' $month)" 300
done
for month in 2024-12 2025-01 2025-02; do
    near "twelve months until $month" "$(value "$sum" $month)" 3600
    near 'the limit' "$(value 'facility log limit' $month)" 4800
done
[ "$(awk -F, -v s="$sum" '$1 == s' out | wc -l)" -eq 3 ] || fail 'not three sums'
# beside it the model: 8030 L in its year
density=$("$build/dregs-liquid" --format csv tetrachloroethylene --at 20degC |
    awk -F, '$2 == "density" { printf "%.17g", $3 / 1e3 }')
near 'the model' "$(value 'facility log over twelve months modelled' 2025-01)" \
    "$(awk "BEGIN { printf \"%.17g\", 8030 * $density }")"
near 'unexplained' "$(value 'facility log over twelve months unexplained' 2025-01)" \
    "$(awk "BEGIN { printf \"%.17g\", 3600 - 8030 * $density }")"
log log.csv per.csv
prints 'records from 2024-01 to 2025-02: they decide'
prints 'the limit is 4800 kg: met'
! grep 'NOT KNOWN' out >/dev/null || fail 'all is known'
log log.csv --format html --by form per.csv
prints 'they decide, the model stands beside them'
# counted on the first working days, as the rule has it: the same months
awk -F, -v OFS=, '$5 == "stock" { split($1, d, "-"); d[2]++; if (d[2] > 12) { d[1]++; d[2] = 1 }
    $1 = sprintf("%04d-%02d-02", d[1], d[2]) } { print }' log.csv >first.csv
log first.csv per.csv
prints 'records from 2024-01 to 2025-02: they decide'
prints 'counted on 2024-03-02 is that at the turn before 2024-03'
prints 'the limit is 4800 kg: met'

# ---- what other machines emit: 12.5 x 3600 + 100 of 60000; not stated, nothing is met ----
good --law --draws 0 --actual log.csv --given 'other machines=100 kg' --format csv per.csv
near 'with others' "$(value "$sum" 2025-02)" 45100
near 'their limit' "$(value 'facility log limit' 2025-02)" 60000
good --law --draws 0 --actual log.csv per.csv
prints 'at least 3600 kg, the limit is 4800 kg: cannot be judged yet'
prints 'other solvent cleaning machines emit in 12 months'
good --law --draws 0 --actual log.csv --given facility=exempt per.csv
prints 'does not apply to such machines'

# ---- two solvents: 12.5 x 3600 + 4.25 x 12 x 100 = 50100 of 60000; 14 deliveries with 2 kg, counts at
# the ends with 1 kg each: 12.5 sqrt(12 x 4 + 2) ----
{
    sed 's/kg,bought/kg,bought,2/; s/kg,stock/kg,stock,1/' log.csv
    echo 2023-12-31,second,0,kg,stock
    for end in $months; do
        echo "${end%-*}-07,second,100,kg,bought"
        echo "$end,second,0,kg,stock"
    done
} >two.csv
log two.csv --format csv both.csv
near 'weighted' "$(value "$sum" 2025-01)" 50100
near 'its limit' "$(value 'facility log limit' 2025-01)" 60000
near 'its deviation' "$(value 'facility log over twelve months deviation' 2025-01)" \
    "$(awk 'BEGIN { printf "%.17g", 12.5 * sqrt(50) }')"
# the other liquid has no row: no sum is known
log log.csv both.csv
prints '2024-01 of trichloroethylene is NOT KNOWN: second has no row, no stock at its begin'
prints 'by the records no sum is known: cannot be judged yet'

# ---- a month without records, and without a count: only the sums without it are known ----
grep -v '^2024-06' log.csv >silent.csv
log silent.csv --format csv per.csv
for month in 2024-12 2025-01 2025-02; do
    [ -z "$(value "$sum" $month)" ] || fail "a sum with a month without records: $month"
done
for month in 2024-06 2024-07; do
    [ -z "$(value 'facility log emission measured' $month)" ] || fail "$month is not known"
done
for side in added removed; do
    [ -z "$(value "facility log $side" 2024-06)" ] || fail "what was $side in a month without a row"
done
near 'removed without a count' "$(value 'facility log removed' 2024-07)" 170
near 'the month before' "$(value 'facility log emission measured' 2024-05)" 300
log silent.csv per.csv
prints '2024-06 of tetrachloroethylene is NOT KNOWN: own has no row, no stock at its end'
prints '2024-07 of tetrachloroethylene is NOT KNOWN: own has no stock at its begin'
prints 'in months without a row the model stands alone; no sum is filled from it'
prints 'by the records no sum is known: cannot be judged yet'
prints 'rows of every month, and counts of stock at both its turns'
grep -v '^2024-01-31' log.csv >uncounted.csv
log uncounted.csv --format csv per.csv
near 'March to February' "$(value "$sum" 2025-02)" 3600
[ -z "$(value "$sum" 2025-01)" ] || fail 'a sum with a month without a count'
log uncounted.csv per.csv
prints '3600 kg, the limit is 4800 kg: cannot be judged yet, see information needed; 2 of 3 sums are NOT KNOWN'
# one sum beyond the limit is enough: 3600 + 1500
sed 's/^2025-02-05,own,400/2025-02-05,own,1900/' uncounted.csv >beyond.csv
log beyond.csv per.csv
prints '5100 kg, the limit is 4800 kg: MISSED; 2 of 3 sums are NOT KNOWN'
good --law --draws 0 --actual beyond.csv --given 'other machines=0 kg' per.csv
prints '5100 kg, the limit is 4800 kg: cannot be judged yet'
prints "Answer: --given facility=general, 'facility=military depot' or facility=exempt"

# ---- waste without an assay: nothing is taken off, 12 x 390 or 12 x 410 at most ----
sed 's/,50%//; s/,400,kg/,390,kg/' log.csv >unassayed.csv
log unassayed.csv per.csv
prints 'at most 4680 kg, the limit is 4800 kg: met'
prints 'up to 2800 kg of tetrachloroethylene are in waste without an assay'
sed 's/,390,kg/,410,kg/' unassayed.csv >open.csv
log open.csv per.csv
prints 'at most 4920 kg, the limit is 4800 kg: cannot be judged yet'
prints 'a column assay in the rows of kind disposed'

# ---- more left than came; records that are too short ----
sed 's/kg,disposed,,50%/kg,sold/; s/,400,kg/,150,kg/' log.csv >below.csv
log below.csv per.csv
prints 'by the records no sum is known: cannot be judged yet'
prints 'why more left in twelve months than was bought and in stock'
grep -v '^2025\|^2024-12' log.csv >short.csv
log short.csv per.csv
prints 'records from 2024-01 to 2024-11: not twelve months in a row; the sums are those of the model'
prints 'records of twelve months in a row'
prints 'cannot be judged yet'

# ---- what cannot be is refused, with file and line, and only where it is asked for ----
refused()
{
    expect 3 --law --draws 0 --actual "$2" per.csv
    [ ! -s out ] || fail "$2: something on standard output"
    [ "$(wc -l <err)" -eq 1 ] || fail "$2: not one line"
    grep -F -- "$1" err >/dev/null || fail "$2: not said: $1"
    good --draws 0 --actual "$2" per.csv
}
{ cat log.csv && grep '^2024-05' log.csv; } >doubled.csv
refused 'doubled.csv:59: every row of this month stands twice, this one as line 19' doubled.csv
sed 's/^2024-05-31,own,100/2024-05-31,own,600/' log.csv >unfit.csv # 100 + 400 + 70 kg at most
refused 'unfit.csv:22: own: ' unfit.csv
refused 'what line 18 counted, and what was bought and recovered since' unfit.csv

# ---- draws: the records are exact but for their spreads; the model has 0.05 L/h in 8760 h ----
good --law --actual log.csv --draws 200 --given 'other machines=0 kg' --format json per.csv
if command -v python3 >/dev/null 2>&1; then
    python3 - "$density" <<'PYTHON' >err 2>&1 || fail 'the log in json'
import json, sys
page = json.load(open('out'), parse_constant=lambda name: 1 / 0)
def table(key):
    one, = [t for t in page['tables'] if t['key'] == key]
    return [dict(zip([c['key'] for c in one['columns']], row)) for row in one['rows']]
last = table('law_facility_log_sums')[-1]
assert abs(last['records'] - 3600) < 1e-6 and last['deviation_of_rows'] is None, last
want = 438 * float(sys.argv[1]) # 200 draws know a standard deviation to one in twenty
assert abs(last['deviation_of_model'] - want) < 0.2 * want, (last, want)
assert last['deviation'] == last['deviation_of_model'] and last['more_than_scatter'], last
month = table('law_facility_log')[0]
assert abs(month['deviation_of_model'] - want * 31 / 365) < 0.2 * want * 31 / 365, month
assert abs(month['records'] - 300) < 1e-6 and month['no_row'] is False, month
PYTHON
fi
exit $failed
