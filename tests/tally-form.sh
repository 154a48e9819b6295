#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The account that is handed in: its head, what nobody stated left to be filled in, each verdict, the
# open questions, lines to sign; the same as CSV for a form.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh disable=SC1091
. "${DREGS_SOURCE:-.}/tests/tool.sh"
command -v python3 >/dev/null 2>&1 || {
    echo 'skipped: no python3'
    exit 77
}
cp "$source/data/solvent-shop.csv" shop.csv
chmod u+w shop.csv

good --draws 0 --law --head 'company=Own & Sons <shop>' --head 'period=2025' --format html shop.csv
for words in '<h1>Account of liquids, solvents and soil</h1>' \
    '<dt>company</dt><dd>Own &amp; Sons &lt;shop&gt;</dd>' '<dt>period</dt><dd>2025</dd>' \
    '<dt>site</dt><dd class="blank"></dd>' '<dt>permit</dt><dd class="blank"></dd>' \
    '<h2>Open questions</h2>' '<p>prepared: place, date, name</p>' \
    '<p>responsible for the site: place, date, name</p>' 'worked out and not measured' \
    'I1 - O1 - O5 - O6 - O7 - O8 =' 'Where the liquid goes'; do
    grep -F -- "$words" out >/dev/null || fail "not in the document: $words"
done
# a page of several lines, or of a view, is no such document
good --draws 0 --format html --by month shop.csv
! grep 'prepared: place' out >/dev/null || fail 'a view is signed'
cp shop.csv twin.csv
good --draws 0 --format html shop.csv twin.csv
! grep 'prepared: place' out >/dev/null || fail 'a comparison is signed'

# ---- as CSV for a form: the same numbers as JSON, the same questions ----
good --draws 0 --law --by form --format json shop.csv
cp out page.json
good --draws 0 --law --by form --head 'company==Own' --format csv shop.csv
python3 - <<'END' >err 2>&1 || fail 'the form'
import csv, json
page = json.load(open('page.json'))
rows = list(csv.DictReader(open('out', newline='')))
assert list(rows[0]) == 'part item subject value unit low high words'.split()
def of(part): return [r for r in rows if r['part'] == part]
assert [r['item'] for r in of('head')][:5] == ['company', 'site', 'permit', 'period', 'prepared by']
assert of('head')[0]['words'] == "'=Own" and of('head')[1]['words'] == ''
figures = {r['item']: r for r in of('figure')}
for key in 'bought', 'to_drain', 'to_waste', 'evaporated', 'cost':
    assert float(figures[key]['value']) == page['figures'][key]['value'], key
    assert figures[key]['unit'] == page['figures'][key]['unit']
table = {t['key']: [dict(zip([c['key'] for c in t['columns']], r)) for r in t['rows']]
         for t in page['tables']}
numbers = {(r['item'], r['subject']): float(r['value']) for r in of('table')}
for row in table['account']:
    assert numbers['account volume', row['liquid'] + ', ' + row['stream']] == row['volume']
assert numbers['drains volume', ''] == table['drains'][0]['volume']
asked = [list(r.values())[0] for r in table['law_information_needed']]
asked += [r['asked'] for r in table['drain_information_needed']]
asked += [r['text'] for r in table['energy_information_needed']]
assert [r['words'] for r in of('question')] == asked and asked
verdicts = of('verdict')
assert verdicts and all(r['item'] in ('met', 'missed', 'unknown') for r in verdicts)
assert [r['words'] for r in verdicts] == page['verdict']['words']
assert len(of('signature')) == 3
# what was bought, less what goes, is what stands in the tanks at the end: of each liquid
held = {r['liquid']: r['volume'] for r in table['liquids']
        if r['stream'] == 'held at the end' and not r['stage'] and not r['month']}
for liquid, last in held.items():
    of_it = {r['stream']: r['volume'] for r in table['account'] if r['liquid'] == liquid}
    back = sum(r['volume'] for r in table['liquids'] if r['stream'] == 'reclaimed' and
               r['liquid'] == liquid and not r['stage'] and not r['month'])
    gone = sum(v for k, v in of_it.items() if k != 'bought')
    assert abs(of_it['bought'] + back - gone - last) < 1e-9 * gone, liquid
END
good --draws 130 --by form --format csv shop.csv
awk -F, '$1 == "figure" && $2 == "bought" && $6 + 0 > 0 && $7 + 0 > $4 + 0 { found = 1 } END { exit !found }' out ||
    fail 'no range in the form'

# ---- misuse ----
misuse "--head 'owner=x' is none of company, site, permit, period, prepared by" --head owner=x shop.csv
misuse '--head company: nothing is stated' --head company= shop.csv
misuse '--head company: stated twice' --head company=a --head company=b shop.csv
misuse '--head goes with --by form, or with --format html' --head company=a shop.csv
exit "$failed"
