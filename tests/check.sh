#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs check: each kind of finding where it is, and not where it is not.
set -eu
name=dregs
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# finds KIND WHAT ITEM PROPERTY COUNT: so many rows of CSV begin so
finds()
{
    [ "$(grep -c "^$1,$2,$3,$4," out)" -eq "$5" ] || fail "not $5 times: $1 $2 $3 $4"
}

good check line.csv
prints 'line.csv can be read: 4 stages, 3 solutes, 2 liquids'
prints 'implausible: none of the rules for slips holds'
good check --check --format csv line.csv
[ "$(sed -n 1p out)" = kind,what,item,property,line,text ] || fail "head: $(sed -n 1p out)"
finds implausible '.*' '.*' '.*' 0
# the only measured number without a spread is the wash's removal; nobody marks anything
finds 'without a spread' '' bath removal 1
finds 'without a spread' '' '.*' '.*' 1
finds 'marked as assumed' '.*' '.*' '.*' 0
# counted by hand: no schedule (twice), no prices, nothing conducts
finds missing '.*' '' '' 4
grep 'missing,tally,.*no schedule' out >/dev/null || fail 'no schedule'
grep 'no price of alkaline, di' out >/dev/null || fail 'no prices'
grep 'missing,reuse,.*conductivity' out >/dev/null || fail 'nothing conducts'

# a slip: drag-out in L; the file's 85 mL/m2 on 24 x 61 + 900 cm2 is 20 mL of 28 L
sed 's/^bath,drag-out,85,mL/bath,drag-out,85,L/' line.csv >slip.csv
expect 1 check --check --format csv slip.csv
finds implausible 'thick film' '' '' 1
good check slip.csv
prints 'IMPLAUSIBLE:'
"$tool" check - <slip.csv >out 2>err || fail 'standard input'
prints 'standard input can be read'

# what goes missing with its rows
grep -v '^limit,' line.csv >bare.csv
good check --format csv bare.csv
grep 'missing,"predict, size",,,,"\{0,1\}no target' out >/dev/null || fail 'no target'
grep -v '^oven,' line.csv >wet.csv
good check --format csv wet.csv
grep 'missing,dry,,,,"\{0,1\}no dry stage' out >/dev/null || fail 'no dry stage'
grep -v '^bath,most' line.csv >most.csv
good check --format csv most.csv
grep "bath does not state 'most oil'" out >/dev/null || fail 'no most oil'
sed 's/,[0-9][0-9.]*%,/,,/' line.csv >sure.csv
good check --format csv sure.csv
grep 'no number has a spread' out >/dev/null || fail 'no spread'
sed 's/^bath,drag-out,85,mL\/m2,15%,.*/bath,drag-out class,vertical well drained,,,/' line.csv >class.csv
good check --format csv class.csv
finds missing all bath 'drag-out class' 1
# the same of several stages is told once, at the first of them
good check --format csv "$source/data/templates/isopropanol-beaker.csv"
grep 'missing,all,beaker,withdrawal speed,59,"\{0,1\}the drag-out of beaker, first, second is that of a law of films, not measured: read the stage behind each with' out >/dev/null ||
    fail 'the drag-out of three stages'
finds missing all '.*' 'withdrawal speed' 1
# a mark in any case, and only at the beginning of a note
sed -e 's/^bath,volume,28,L,,/&Assumed: as the others/' -e 's/^first,volume,28,L,,/&not assumed/' \
    line.csv >marked.csv
good check --format csv marked.csv
finds 'marked as assumed' '' bath volume 1
finds 'marked as assumed' '.*' '.*' '.*' 1

# every template: nothing implausible, and all its numbers are marked
for file in "$source"/data/templates/*.csv; do
    good check --check --format csv "$file"
    marked=$(awk -F, '!/^#/ && NR > 1 && $6 ~ /^assumed/' "$file" | wc -l)
    finds 'marked as assumed' '' '.*' '.*' "$marked"
done

good check --format json line.csv
/usr/bin/python3 -c 'import json, sys
page = json.load(open("out"))
assert page["tool"] == "check" and page["verdict"]["is"] == "none", page["verdict"]
assert page["figures"]["missing"] == 4, page["figures"]["missing"]' 2>err || fail 'JSON'
good check --format html line.csv
sed 's/^bath,volume,28,L/bath,volume,28,kg/' line.csv >bad.csv
expect 3 check bad.csv
[ ! -s out ] || fail 'a page of a bad file'
grep '^dregs check: bad.csv:' err >/dev/null || fail 'a fault: not said with its line'
expect 2 check
expect 2 check line.csv line.csv
expect 4 check none.csv
# one of a kind is one
good new --template isopropanol-beaker --yes
cp out one.csv
good check one.csv
prints 'one.csv can be read: 4 stages, 2 solutes, 1 liquid; '
exit $failed
