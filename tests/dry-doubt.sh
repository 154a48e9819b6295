#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# How sure dregs-dry is: draws of the line and of the liquids, their options, threads, --check by
# the target's confidence.
set -eu
name=dregs-dry
# shellcheck source=tests/tool.sh disable=SC1091
. "${DREGS_SOURCE:-.}/tests/tool.sh"

misuse "--draws '1.5' is not a whole number" --draws 1.5 line.csv
misuse "--seed 'x' is not a whole number" --seed x line.csv
misuse "--threads '0' is not a whole number from 1 to 256" --threads 0 line.csv

# lacks WORDS: wherever the lines are broken
lacks()
{
    tr -s ' \n' '  ' <out | grep -F -- "$1" >/dev/null && fail "printed: $1"
    return 0
}

film='--liquid isopropanol --film 20um --at 22degC'

# ---- the same for any threads, another one for another seed; with a line and without ----
for case in "$film" line.csv; do
    # shellcheck disable=SC2086 # the words of the case are meant to split
    {
        good --draws 150 --threads 1 --format json $case
        cp out one
        for threads in 2 7; do
            good --draws 150 --threads "$threads" --format json $case
            cmp -s one out || fail "$case: $threads threads change the answer"
        done
        good --draws 150 --seed 2 --format json $case
        ! cmp -s one out || fail "$case: another seed changes nothing"
    }
done

# ---- without draws nothing is said of any; the stated answer is the same with them ----
for case in "$film" line.csv; do
    # shellcheck disable=SC2086
    {
        good --draws 0 $case
        lacks 'draws'
        good --draws 0 --format csv $case
        cp out stated
        good --draws 50 --format csv $case
        cmp -s stated out || fail "$case: draws change the curve"
    }
done
good --draws 0 line.csv
prints 'spreads'
good line.csv
! grep 'spreads$' out >/dev/null || fail 'spreads are said not to be used'
prints 'in brackets: 5 to 95 % of draws; 200 draws of the 12 values with a spread and 6 properties of liquids'
# shellcheck disable=SC2086
good $film
prints '200 draws of 13 properties of liquids'
good --sweep temperature=20..80 --liquid isopropanol --film 20um
prints '50 draws of'

# ---- what is drawn, and from what ----
good --explain --draws 20 line.csv
prints 'how sure: 20 draws, seed 1'
prints 'last: drag-out = exp('
prints 'water: vapour pressure times exp('
prints '[accuracy 0.1 %, two standard deviations, estimated; Wagner and Pruss'

# ---- a row that states no accuracy is exact, one that states more is in doubt more ----
cat >width.py <<'PYTHON'
import json, sys
f = json.load(open(sys.argv[1]))["figures"]
print(f["drying_time"]["high"] / f["drying_time"]["low"])
PYTHON
printf '%s\n' 'liquid,property,equation,unit,A,low,high,source,accuracy' \
    'isopropanol,diffusivity in air,A,m2/s,1.013e-5,250,350,invented,60 % estimated' >wide.csv
sed 's/60 % estimated//' wide.csv >exact.csv
# shellcheck disable=SC2086
{
    good --liquids wide.csv --draws 200 --format json $film
    cp out wide.json
    good --liquids exact.csv --draws 200 --format json $film
    cp out exact.json
}
awk -v wide="$(/usr/bin/python3 width.py wide.json)" -v exact="$(/usr/bin/python3 width.py exact.json)" \
    'BEGIN { exit !(wide > 1.5 && exact < 1.15) }' || fail 'accuracies change no range'

# ---- the interval, and the confidence that decides --check ----
# a flat load without holes, so that the film alone is judged; water has no fire data
sed -e 's/^basket,hold-up.*/basket,hold-up,0,mL,,/' -e 's/^basket,interval.*/basket,interval,290,s,,/' \
    "$source/data/aqueous-line.csv" >base.csv
sed 's/^basket,kind,load.*/&\nbasket,edge,0,cm,,/' base.csv >flat.csv
good --draws 0 --check flat.csv
good --draws 400 --check flat.csv
prints 'in time in only'
{ cat flat.csv && echo 'limit,confidence,95,%,,'; } >sure.csv
good --draws 0 --check sure.csv
expect 1 --draws 400 --check sure.csv
prints 'NOT SURE ENOUGH: the target asks for a probability of 95 %'
sed 's/^basket,interval.*/basket,interval,20,min,,/' sure.csv >slow.csv
good --draws 400 --check slow.csv
prints 'sure enough: the target asks'
expect 1 --draws 3 --check slow.csv
prints 'CANNOT BE TOLD with 3 draws'
# what is not known to be dry is not sure, and is said once
sed '/^basket,edge/d' slow.csv >edgeless.csv
expect 1 --draws 100 --check edgeless.csv
prints 'not known to be dry: beads'
lacks 'SURE'

# ---- a film that dries in no draw ----
good --draws 20 --liquid water --film 20um --at 20degC --humidity '100 %'
prints 'never'

# ---- what cannot be drawn ----
sed 's|^bath,removal,99.8,%,,|bath,removal,99.8,%,5%,|' line.csv >wrong.csv
expect 3 --draws 10 wrong.csv
[ ! -s out ] || fail 'something on standard output'
grep -F "wrong.csv:25: removal of 'bath': a share of 99.8 % cannot have a spread of 5%" err >/dev/null ||
    fail 'a spread that no share can have'
good --draws 0 wrong.csv

exit "$failed"
