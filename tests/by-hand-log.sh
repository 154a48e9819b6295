#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# A log of 26 months worked out by hand, in tests/by-hand/log.md with the steps: dregs-tally --law
# --actual gives each number of its tables to 1e-9, and the verdict of each twelve months.
set -eu
name=dregs-tally
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
command -v python3 >/dev/null 2>&1 || {
    echo 'skipped: no python3'
    exit 77
}
hand=$source/tests/by-hand
python3 "$hand/log.py" >log.md 2>err || fail 'the steps could not be worked out'
cmp -s log.md "$hand/log.md" || fail 'log.md is not what its steps give'
cp "$hand/shop.csv" "$hand/log.csv" .

logged()
{
    good --draws 0 --begin 2025-01 --law --actual log.csv --given 'other machines=0 kg' \
        --given facility=general --given 'machine=batch vapour' "$@" shop.csv
}
logged --format json
mv out log.json
logged --format csv
mv out rows.csv
cat >held.py <<'PYTHON'
import csv, json, sys
page = json.load(open('log.json'), parse_constant=lambda name: 1 / 0)
def table(key):
    one, = [t for t in page['tables'] if t['key'] == key]
    return [dict(zip([c['key'] for c in one['columns']], row)) for row in one['rows']]
months = {row['month']: row for row in table('law_facility_log')}
sums = {row['last_month']: row for row in table('law_facility_log_sums')}
rows = {}
for row in csv.DictReader(open('rows.csv', newline='')):
    rows[row['stream'], row['period']] = float(row['value']) if row['value'] else 0
held, failed, head = {'json': 0, 'csv': 0, 'verdict': 0}, 0, None
def hold(kind, got, want, what):
    global failed
    held[kind] += 1
    if got is None or not abs(got - want) <= 1e-9 * abs(want):
        print('FAILED:', kind, what, 'is', got, 'and by hand', want, file=sys.stderr)
        failed = 1
keys = {'opening': 'opening_stock', 'closing': 'closing_stock', 'emission': 'records', 'sum': 'records',
        'deviation': 'deviation_of_rows'}
streams = {'added': 'facility log added', 'removed': 'facility log removed',
           'emission': 'facility log emission measured', 'sum': 'facility log over twelve months measured'}
for line in open('log.md'):
    cells = [cell.strip() for cell in line.strip().strip('|').split('|')]
    if not line.startswith('|'):
        head = None
    elif head is None:
        head = cells
    elif not cells[0].startswith('---'):
        of = months if head[0] == 'month' else sums
        for key, want in zip(head[1:], cells[1:]):
            if key == 'verdict':
                held['verdict'] += 1
                assert of[cells[0]]['verdict'] == want, (cells, of[cells[0]])
                continue
            got = of[cells[0]][keys.get(key, key)]
            if key == 'deviation' and got is None: # no row states a spread
                got = 0
            hold('json', got, float(want), (cells[0], key))
            if key in streams:
                hold('csv', rows.get((streams[key], cells[0])), float(want), (cells[0], key))
print(held)
assert len(months) == 26 and len(sums) == 15
assert held == {'json': 26 * 11 + 15 * 2, 'csv': 26 * 3 + 15, 'verdict': 15}, held
facility, = table('law_facility')
assert (facility['verdict'], facility['verdict_by']) == ('missed', 'records'), facility
assert not failed
PYTHON
python3 held.py >out 2>err || fail 'the log by hand and the tool differ'

# for people: the verdict, the counts that are not of the turn, and what no row says
logged
prints 'records from 2024-01 to 2026-02: they decide, the model stands beside them'
prints 'the sum closest to its limit ends with 2025-02: 4890 kg, the limit is 4800 kg: MISSED'
prints 'counted on 2024-10-02 is that at the turn before 2024-10'
! grep -F 'counted on 2025-09-01' out >/dev/null || fail 'the first of a month is at the turn'
# the form puts the numbers in
logged --by form
prints '2025-02 tetrachloroethylene: E = (519.125 + 158 + 437 - 381.5) - (158 + 79.625 + 0 + 0) = 495 kg'
exit $failed
