#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Three whole years worked out by hand, in tests/by-hand/years.md with the steps: dregs-tally gives
# each number of their tables to 1e-9 (years.md states 13 digits).
set -eu
name=dregs-tally
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
command -v python3 >/dev/null 2>&1 || {
    echo 'skipped: no python3'
    exit 77
}
hand=$source/tests/by-hand
python3 "$hand/years.py" >years.md 2>err || fail 'the steps could not be worked out'
cmp -s years.md "$hand/years.md" || fail 'years.md is not what its steps give'
cp "$hand/aqueous.csv" "$hand/shop.csv" "$hand/season.csv" .
"$build/dregs-liquid" --format csv tetrachloroethylene --at 20degC |
    awk -F, '$2 == "density" { printf "%.17g", $3 / 1e3 }' >density

for year in aqueous shop site; do
    case $year in
    aqueous) set -- --begin 2028-01 --calendar season.csv aqueous.csv ;;
    shop) set -- --begin 2027-01 shop.csv ;;
    site) set -- --begin 2028-01 --calendar season.csv --site site=aqueous.csv,shop.csv ;;
    esac
    good --draws 0 --by month --format csv "$@"
    mv out "$year.months"
    good --draws 0 --law --format csv "$@"
    mv out "$year.law"
done
cat >held.py <<'PYTHON'
import csv, sys
density = float(open('density').read())
years, year, table = ['aqueous', 'shop', 'site'], -1, None
seen = {}
failed = 0
def tool(name):
    rows = {}
    for row in csv.DictReader(open(name, newline='')):
        of = row['liquid'] or row['solute'] or 'all'
        if not row['value']: # not known: a figure of a law that does not apply
            continue
        rows[row['stream'], of, row['period']] = float(row['value'])
        if row['stream'].startswith('solvent plan'):
            rows[row['stream'], 'plan', row['period']] = float(row['value'])
    return rows
def hold(got, want, what):
    global failed
    seen[years[year]] = seen.get(years[year], 0) + 1
    if got is None or not abs(got - want) <= 1e-9 * abs(want):
        print('FAILED:', years[year], what, 'is', got, 'and by hand', want, file=sys.stderr)
        failed = 1
for line in open('years.md'):
    cells = [cell.strip() for cell in line.strip().strip('|').split('|')]
    if line.startswith('## '):
        year += 1
        months, law = tool(years[year] + '.months'), tool(years[year] + '.law')
    if not line.startswith('|'):
        table = None
    elif table is None:
        table = cells
    elif cells[0].startswith('---'):
        continue
    elif table[0] == 'stream':
        for period, want in zip(table[3:], cells[3:]):
            hold(months.get((cells[0], cells[1], period)), float(want), (cells[0], cells[1], period))
    elif table[0] == 'solvent plan':
        want = float(cells[2]) * (density if cells[1] == 'L of solvent' else 1)
        hold(law.get((cells[0], 'plan', 'year')), want, cells[0])
print(seen)
assert seen['aqueous'] > 200 and seen['shop'] > 150 and seen['site'] > 380, seen
sys.exit(failed)
PYTHON
python3 held.py >out 2>err || fail 'the years by hand and the tool differ'
exit $failed
