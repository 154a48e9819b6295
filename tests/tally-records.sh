#!/bin/sh
# dregs-tally --actual: the year from records, with stock, sold and assayed waste, and what is
# doubtful in them. Expected values are arithmetic by hand, beside each.
set -eu
name=dregs-tally
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# As in tally-law.sh: ten loads a day of 24 h take 1 L each along, 0.5 L/h evaporate, 100 L are
# dumped every day. A year of 365 days: 8030 L into the air, 36500 L dumped, 100 L first fill.
cat >spirit.csv <<END
item,property,value,unit,spread,note
rack,kind,load
rack,parts,1,1
rack,area,1,m2
rack,interval,2.4,h
oil,kind,solute
own,kind,liquid
own,solvent,isopropanol
vat,kind,rinse
vat,volume,100,L
vat,liquid,own
vat,film,1,mm
vat,evaporation,0.5,L/h,0.05
vat,dump every,10,1
days,kind,schedule
days,loads per shift,10
days,shifts per day,1
days,days per year,365
END

# value STREAM LIQUID PERIOD: of the last page in CSV
value()
{
    awk -F, -v s="$1" -v l="$2" -v p="$3" '$1 == s && $2 == l && $4 == p { v = $5 } END { print v }' out
}

# near WHAT GOT EXPECTED [OF]: to 1e-9 of it
near()
{
    awk -v t="${4:-1e-9}" -v g="$2" -v e="$3" 'BEGIN { d = g - e; if (d < 0) d = -d
        m = e < 0 ? -e : e; exit !(g != "" && d <= t * m) }' || fail "$1: $2, expected $3"
}

# ---- stock: bought 12 x 3700 L, 500 L at the begin and 300 L at the end, so 44600 L used ----
{
    echo date,liquid,quantity,unit,kind,spread,supplier,invoice
    echo 2024-12-31,own,400,L,stock,1.2
    echo 2024-12-31,own,100,L,stock,1.6
    for month in 01 02 03 04 05 06 07 08 09 10 11 12; do
        echo "2025-$month-15,own,3700,L,bought,10,Nobody Chemicals (invented),B-$month"
        echo "2025-$month-28,own,3000,L,disposed,20"
    done
    echo 2025-12-31,own,300,L,stock,1.5
} >records.csv
good --draws 0 --actual records.csv --format csv spirit.csv
near 'what was used' "$(value 'supplied measured' own year)" 44600
near 'modelled: 100 + 36500 + 8030 L' "$(value 'supplied modelled' own year)" 44630
# gone: 44600 - 36000 L
near 'gone' "$(value 'other losses measured' own year)" 8600
# the deviation: rows 12 x 10^2, counts 1.2^2 + 1.6^2 + 1.5^2, no lot
good --actual records.csv --draws 0 --format csv spirit.csv
near 'its deviation' "$(value 'supplied deviation' own year)" \
    "$(awk 'BEGIN { printf "%.17g", sqrt(1200 + 1.44 + 2.56 + 2.25) }')"
# a month alone knows no stock
near 'January' "$(value 'supplied measured' own January)" 3700
near 'its deviation' "$(value 'supplied deviation' own January)" \
    "$(awk 'BEGIN { printf "%.17g", sqrt(100 + 3700 ^ 2 / 6) }')"
good --draws 0 --actual records.csv spirit.csv
prints 'own in stock: 500 L on 2024-12-31, 300 L on 2025-12-31'
! grep 'counted on' out >/dev/null || fail 'counts at the turn are no assumption'
# counted later: an assumption; at one end alone: not used
sed 's/2025-12-31,own,300/2026-01-09,own,300/' records.csv >later.csv
good --draws 0 --actual later.csv --format csv spirit.csv
near 'counted later' "$(value 'supplied measured' own year)" 44600
good --draws 0 --actual later.csv spirit.csv
prints 'the stock of own counted on 2026-01-09 is that at the turn of the year'
grep -v '2025-12-31' records.csv >open.csv
good --draws 0 --actual open.csv --format csv spirit.csv
near 'one end' "$(value 'supplied measured' own year)" 44400
good --draws 0 --actual open.csv spirit.csv
prints 'the other end of the year is not counted'
# what was sold and given elsewhere has left: 36000 + 500 + 300 L removed
{
    cat records.csv
    echo 2025-06-01,own,500,L,sold
    echo 2025-06-02,own,300,L,elsewhere
} >sold.csv
good --draws 0 --actual sold.csv --format csv spirit.csv
near 'sold and elsewhere' "$(value 'removed measured' own year)" 36800
near 'gone without them' "$(value 'other losses measured' own year)" 7800

# ---- what looks like a slip is named and counts as it is written ----
sed -e 's/^2025-04-15,own,3700/2025-04-15,own,37000/' -e '/^2025-08/d' records.csv >slips.csv
echo '2025-11-15,own,3700,L,bought,10,Nobody Chemicals (invented),B-11' >>slips.csv
good --draws 0 --actual slips.csv spirit.csv
prints 'line 10: own bought, 10 times the larger of its neighbours, lines 8 and 12, supplier Nobody Chemicals (invented), invoice B-04: is the point in its place?'
prints 'say the same, supplier Nobody Chemicals (invented), invoice B-11; both are counted'
prints 'no row of own in August'
good --draws 0 --actual slips.csv --format csv spirit.csv
# 11 x 3700 (10 months and one doubled), 37000 in place of 3700, and 200 L of stock
near 'counted as written' "$(value 'supplied measured' own year)" 77900
good --draws 0 --actual slips.csv --format json spirit.csv
if command -v python3 >/dev/null 2>&1; then
    python3 - <<'PYTHON' >err 2>&1 || fail 'slips in json'
import json
page = json.load(open('out'))
def table(key):
    one, = [t for t in page['tables'] if t['key'] == key]
    return [dict(zip([c['key'] for c in one['columns']], row)) for row in one['rows']]
far, = table('purchases_far_rows')
assert far['line'] == 10 and far['kind'] == 'bought' and far['invoice'] == 'B-04'
assert abs(far['times_neighbour'] - 10) < 1e-12
assert [r['month'] for r in table('purchases_silent_months')] == ['August']
same, = table('purchases_same_rows')
assert same['invoice'] == 'B-11' and same['supplier'].startswith('Nobody')
stock = table('purchases_stock')
assert [(r['end'], r['counted_on'], r['volume']) for r in stock] == \
    [('opening', '2024-12-31', 500), ('closing', '2025-12-31', 300)]
PYTHON
fi
exit $failed
