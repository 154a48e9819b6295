#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-predict with two lines: what differs, its effect alone, order, misuse, all forms.
set -eu
name=dregs-predict
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# worst FILE: the residue that a prediction alone states
worst()
{
    "$tool" --draws 0 --format json "$1" |
        sed -n 's/.*"worst_residue": {"value": *\([0-9.e-]*\).*/\1/p'
}

# differs A B: the first row has residue B, and the change from A to it
differs()
{
    awk -F, -v a="$1" -v b="$2" 'NR == 2 {
        d = $7 / b - 1; c = $8 - (b / a - 1) * 100
        near = d < 1e-12 && d > -1e-12 && c < 1e-9 && c > -1e-9
    } END { exit !near }' out
}

# ---- one difference: its effect is that of the two predictions ----
sed 's/^last,flow,9,/last,flow,12,/' line.csv >more.csv
cmp -s line.csv more.csv && fail 'the file was not changed'
good --format csv line.csv more.csv
[ "$(wc -l <out)" -eq 2 ] || fail 'not one row for one difference'
grep "^last,flow,9,L/h,12,L/h," out >/dev/null || fail 'not the row'
differs "$(worst line.csv)" "$(worst more.csv)" || fail 'not the residue of the other file'
good --format csv more.csv line.csv
grep "^last,flow,12,L/h,9,L/h," out >/dev/null || fail 'not the row in the other order'
differs "$(worst more.csv)" "$(worst line.csv)" || fail 'in the other order'
good line.csv more.csv
prints 'more.csv leaves 8.488 % less residue than line.csv' # 1 - 0.0957600/0.1046422, two predictions
prints 'line.csv: target met'

# ---- how sure: the draws of both are the same, on however many threads ----
good --format json line.csv more.csv
tr -d '\n' <out | grep '"share_less": {[^}]*"value": *1\.0[,}]' >/dev/null || fail 'not less in all draws'
mv out once
good --format json --threads 1 line.csv more.csv
cmp -s once out || fail 'another answer on one thread'
good --seed 2 --draws 40 --format json line.csv more.csv
cmp -s once out && fail 'other draws, and the same answer'
good --draws 0 line.csv more.csv
prints 'more.csv leaves 8.488 % less residue than line.csv'
grep ' draws' out >/dev/null && fail 'draws that were not asked for'
# a target of little confidence that the point misses, and one of much that it meets
sed 's/^limit,residue,1,/limit,residue,0.1,/' line.csv >half.csv
printf 'limit,confidence,5,%%\n' | cat half.csv - >bold.csv
good --check bold.csv bold.csv
printf 'limit,confidence,99.9,%%\n' | cat line.csv - >careful.csv
expect 1 --check line.csv careful.csv
prints 'NOT SURE ENOUGH'

# ---- nights and weekends count: without a pause both leave the same, by the week 1 - 0.02964/0.262 ----
week=${DREGS_SOURCE:-.}/data/week-rinse.csv
sed 's/^rinse,top up from,tap,/rinse,top up from,di,/' "$week" >filled.csv
good "$week" filled.csv
prints 'filled.csv leaves 88.69 % less residue than'
prints '0.02964  -88.69 %'

# ---- none, and what is of doubt alone ----
good line.csv line.csv
prints 'the files state the same: no row differs'
sed 's/^last,flow,9,L.h,5%/last,flow,9,L\/h,8%/' line.csv >unsure.csv
good line.csv unsure.csv
prints 'last flow: only its spread, varies or with differs'
prints 'both leave the same residue'

# ---- what cannot be applied alone ----
sed 's/^bath,drag-out,85,mL.m2/bath,film,85,um/' line.csv >film.csv
good line.csv film.csv
prints 'bath drag-out cannot be applied alone'
prints "together with the others of 'bath'"

# ---- --check, --explain, pictures ----
sed 's/^limit,residue,1,/limit,residue,1e-4,/' line.csv >strict.csv
good --check line.csv more.csv
expect 1 --check line.csv strict.csv
prints 'strict.csv: target MISSED'
expect 1 --check strict.csv line.csv
good line.csv strict.csv
good --explain line.csv more.csv
prints '[line.csv:37 flow 9 L/h'
prints '0.09576 / 0.104642 - 1 = -8.488'
good --format html line.csv more.csv
good --format svg --picture differences line.csv more.csv
good --format svg --picture residues line.csv line.csv

# ---- misuse and bad data ----
misuse 'at most two line files, set side by side; --each takes any number' line.csv more.csv line.csv
for option in '--at=3' '--every=3' '--save=x'; do
    misuse 'two lines go with --loads' "$option" line.csv more.csv
done
misuse 'two lines cannot both be standard input' - -
misuse 'both be standard input' --liquids - line.csv -
misuse '--explain is text' --explain --format csv line.csv more.csv
"$tool" line.csv - <more.csv >out 2>err || fail 'the second from standard input'
prints 'standard input leaves 8.488 % less residue than line.csv'
sed 's/^last,flow,9,/last,flow,nine,/' line.csv >bad.csv
expect 3 line.csv bad.csv
[ ! -s out ] || fail 'a bad file: something on standard output'
grep '^dregs-predict: bad.csv:37: ' err >/dev/null || fail 'a bad file: its line is not named'
grep -v '^limit,' line.csv >aimless.csv
expect 3 --check line.csv aimless.csv
grep -F 'dregs-predict: aimless.csv: --check needs a target' err >/dev/null || fail 'no target: not said'
good line.csv aimless.csv
prints 'aimless.csv: no target is stated'

exit $failed
