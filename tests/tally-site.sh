#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally --site: lines in one account. A site of one line is that line; what two lines come to
# is the sum of both, in each view and for each rule; money in two currencies is refused.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# As in tally-law.sh: a day of 24 h takes 10 L along with loads, 24 h evaporation, and 100 L of dump.
# line LIQUID EVAPORATION CURRENCY
line()
{
    cat <<END
item,property,value,unit,spread,note
rack,kind,load
rack,parts,1,1
rack,area,1,m2
rack,interval,2.4,h
oil,kind,solute
oil,on parts,2,g
own,kind,liquid
own,solvent,$1
own,price,3,$3/L
vat,kind,rinse
vat,volume,100,L
vat,liquid,own
vat,removal oil,50,%
vat,film,1,mm
vat,evaporation,$2,L/h,0.05
vat,dump every,10,1
days,kind,schedule
days,loads per shift,10
days,shifts per day,1
days,days per year,365
END
}
line isopropanol 0.5 EUR >a.csv
line isopropanol 1 EUR >b.csv
line acetone 0.5 EUR >c.csv
line isopropanol 0.5 USD >dollars.csv

# value STREAM LIQUID PERIOD: of the last page in CSV
value()
{
    awk -F, -v s="$1" -v l="$2" -v p="$3" '$1 == s && $2 == l && $4 == p { v = $5 } END { print v }' out
}

# near WHAT GOT EXPECTED: to 1e-9 of it
near()
{
    awk -v g="$2" -v e="$3" 'BEGIN { d = g - e; if (d < 0) d = -d; m = e < 0 ? -e : e
        exit !(g != "" && d <= 1e-9 * m) }' || fail "$1: $2, expected $3"
}

# ---- a site of one line is that line, whatever is asked ----
for words in '' '--by stage' '--by month' '--by quarter' '--by liquid' '--by drain' '--by energy' --law \
    '--law --from running' '--for month' '--begin 2028-01 --by month'; do
    # shellcheck disable=SC2086
    good --draws 0 --format csv $words a.csv
    mv out alone
    # shellcheck disable=SC2086
    good --draws 0 --format csv $words --site hall=a.csv
    sed 's/a\.csv: //' out | cmp -s alone - || fail "a site of one line differs: $words"
done

# ---- two lines: a day 22 L into the air of one, 34 L of the other; 200 L of waste ----
good --draws 0 --format csv --by month --site hall=a.csv,b.csv
near 'January, top-up' "$(value 'top-up' own January)" 1736    # 31 x 56
near 'January, evaporated' "$(value evaporated own January)" 1116 # 31 x 36
near 'the year, dumped' "$(value dumped own year)" 73000
near 'first fill' "$(value 'first fill' own year)" 200
near 'cost: 3 x (200 + 73000 + 365 x 56)' "$(value 'cost of liquid bought' '' year)" 280920
near 'oil: 2 x 3650 loads x 2 g, half' "$(awk -F, '$1 == "taken off the parts" && $3 == "oil" && $4 == "year" { print $5 }' out)" 7300
# the plan: fugitive 20440 of 93440 L
good --draws 0 --format csv --law --site hall=a.csv,b.csv
near 'fugitive share' "$(value 'solvent plan fugitive share' 'surface cleaning' year)" \
    "$(awk 'BEGIN { printf "%.17g", 20440 / 93440 }')"
near 'loads without a pause emit as scheduled' \
    "$(value 'potential to emit' isopropanol year)" "$(value 'solvent plan fugitive' 'surface cleaning' year)"
waste=$(value 'waste not decided' '' January)
good --draws 0 --format csv --law a.csv
near 'waste of the month' "$waste" "$(awk -v w="$(value 'waste not decided' '' January)" 'BEGIN { printf "%.17g", 2 * w }')"

# ---- liquids of one name that are not alike stay apart; stages stand under their line ----
good --draws 0 --format csv --by stage --site hall=a.csv,c.csv
near 'own of the first' "$(value evaporated own year)" 4380
near 'own of the other' "$(value evaporated 'c.csv: own' year)" 4380
grep '^evaporated,own,,year,4380[.0-9]*,L,a.csv: vat$' out >/dev/null || fail 'no stage under its line'

# ---- lines are listed; before and after; purchases of the site ----
good --draws 0 --site hall=a.csv,b.csv
prints 'hall: a year takes'
prints 'line 1: a.csv, 3650 loads on 365 working days'
prints 'line 2: b.csv, 3650 loads on 365 working days'
prints 'b.csv: working days lie evenly'
good --draws 0 --site before=a.csv,b.csv --site after=a.csv,a.csv
prints '1. before, a year: 7300 loads'
tr -s ' ' <out | grep -E '^evaporated, L 13140? 8760 -4380|^evaporated.* 13140 8760 -4380' >/dev/null ||
    fail 'no difference between before and after'
printf 'date,liquid,quantity,unit,kind\n2025-01-05,own,100000,L,bought\n2025-12-31,own,1,L,bought\n' \
    >bought.csv
good --draws 0 --format csv --actual bought.csv --site hall=a.csv,b.csv
near 'purchases of the site' "$(value 'supplied modelled' own year)" 93640
# ---- draws: of one line as without a site, but that its name stands before a stage; of two, each
# evaporation by itself with a spread of 24 x 0.05 = 1.2 L a day: the standard deviation of the sum is
# 365 x 1.2 x sqrt(2) L, and not 365 x 2.4 L ----
for words in '' '--by stage' '--by month' --law; do
    # shellcheck disable=SC2086
    good --draws 130 --format csv $words a.csv
    mv out alone
    # shellcheck disable=SC2086
    good --draws 130 --format csv $words --site hall=a.csv
    sed 's/a\.csv: //' out | cmp -s alone - || fail "draws of a site of one line differ: $words"
done
good --draws 4000 --format csv --site hall=a.csv,b.csv
low=$(sed -n 's/^"evaporated, 5 % of draws",,,year,\([^,]*\),.*/\1/p' out)
high=$(sed -n 's/^"evaporated, 95 % of draws",,,year,\([^,]*\),.*/\1/p' out)
awk -v low="$low" -v high="$high" 'BEGIN {
    sd = 365 * 1.2 * sqrt(2); got = (high - low) / (2 * 1.645)
    exit !(got > 0.93 * sd && got < 1.07 * sd) }' || fail "the lines are not independent: $low to $high"
# a liquid that both have, with a price in doubt, costs the same in both: the price of 3 EUR/L moves
# the whole cost by 10 %
for each in a b; do
    sed -e 's/^own,price,3,EUR\/L/&,10%/' -e 's/^\(vat,evaporation,.*\),0.05$/\1/' $each.csv >$each-dear.csv
done
good --draws 4000 --format csv --site hall=a-dear.csv,b-dear.csv
low=$(sed -n 's/^"cost, 5 % of draws",,,year,\([^,]*\),.*/\1/p' out)
high=$(sed -n 's/^"cost, 95 % of draws",,,year,\([^,]*\),.*/\1/p' out)
awk -v low="$low" -v high="$high" 'BEGIN { sd = 0.1 * 280920; got = (high - low) / (2 * 1.645)
    exit !(got > 0.93 * sd && got < 1.07 * sd) }' || fail "one price is drawn twice: $low to $high"
for threads in 1 3; do
    good --draws 130 --threads $threads --law --format json --site hall=a.csv,b.csv
    mv out "threads$threads"
done
cmp -s threads1 threads3 || fail 'threads change the answer'
few_draws= # those it takes by itself
good --site hall=a.csv,b.csv
few_draws=20
tr -s ' \n' '  ' <out | grep -F '200 draws of the 2 values with a spread' >/dev/null ||
    fail 'not 400 draws over two lines'
prints 'that they have in common'
# ---- what is of each line: its worst load is that of the line alone; a limit of its bath ----
good --draws 0 --format json --site hall=a.csv,b.csv
if command -v python3 >/dev/null 2>&1; then
    python3 - <<'END' || fail 'the lines in JSON'
import json
page = json.load(open('out'))
table, = [t for t in page['tables'] if t['key'] == 'site_lines']
rows = [dict(zip([c['key'] for c in table['columns']], r)) for r in table['rows']]
assert [r['file'] for r in rows] == ['a.csv', 'b.csv']
# 1 g of oil a load stays on the parts, and a tenth of what the bath holds dries on them: 1 g/m2 is
# 100 ug/cm2
assert all(r['worst_residue'] > 100 for r in rows)
assert all(r['limit_passed_at_load'] is None for r in rows)
END
fi
{ cat a.csv && echo 'vat,most oil,0.05,g/L'; } >short.csv
good --draws 0 --site hall=b.csv,short.csv
prints 'bath life: oil in vat passes its limit'
prints 'its worst load leaves'
prints 'not told of a site'
good --draws 0 --format svg --picture streams --site hall=a.csv,b.csv
for each in a b; do
    grep -F ">$each.csv<" out >/dev/null || fail "no band for $each.csv"
done
for form in json html; do
    good --format $form --site hall=a.csv,b.csv
done
good --law --format json --site hall=a.csv,b.csv

# ---- misuse and bad data ----
expect 3 --site hall=a.csv,dollars.csv
[ ! -s out ] || fail 'two currencies: something on standard output'
grep -F 'dollars.csv:10: a price in USD, but a.csv:10 states one in EUR: a site has one currency, and none is converted' \
    err >/dev/null || fail 'two currencies are not named with their lines'
misuse "--site 'a.csv' is not NAME=LINE" --site a.csv
misuse "--site 'x=a.csv,' names a line without a name" --site x=a.csv,
misuse "--site names its lines; 'b.csv' is of none" --site x=a.csv b.csv
misuse '--site goes with neither --loads nor --explain' --site x=a.csv --loads 3
misuse '--law and --actual take one line' --law --site x=a.csv --site y=b.csv
misuse 'more than 8 line files' --site x=a.csv,a.csv,a.csv,a.csv,a.csv --site y=a.csv,a.csv,a.csv,a.csv
expect 3 --site x=a.csv,"$source/data/solvent-bench.csv"
grep -F 'solvent-bench.csv: ' err >/dev/null || fail 'a line without a schedule is not named'
expect 4 --site x=a.csv,missing.csv
# a path of any length: its end is what names the file
deep=$(printf 'hall-%.0s' 1 2 3 4 5 6 7 8 9 10)/$(printf 'bay-%.0s' 1 2 3 4 5 6 7 8 9 10 11 12)
mkdir -p "$deep"
cp "$source/data/solvent-bench.csv" "$deep/bench.csv"
expect 3 --site x=a.csv,"$deep/bench.csv"
grep -F "$deep/bench.csv: " err >/dev/null || fail 'a long path is cut'
exit $failed
