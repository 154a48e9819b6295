#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Loads of several kinds in dregs-predict: the worst of each, in all forms; what does not take them
# refuses.
set -eu
name=dregs-predict
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
mix=$source/data/mixed-loads.csv

# ---- the page names the kind that decides, and judges each ----
good --draws 0 "$mix"
prints 'a load every 7 min, of 2 kinds: basket (24 parts of 61 cm2), rack (60 parts of 22 cm2); in the order 2 basket rack'
sed -n 1,6p out | tr -s ' \n' '  ' | grep 'target met: .* at the worst load (basket), limit 1 ug/cm2' >/dev/null ||
    fail 'the verdict does not name the kind'
grep '^basket  *2  *[0-9]' out >/dev/null || fail 'no row of the first kind'
grep '^rack  *1  *[0-9].* met$' out >/dev/null || fail 'no row of the second kind'
if grep 'nights and weekends are not counted' out >/dev/null; then
    fail 'a sequence is taken for a calendar'
fi

# ---- the worst of each kind is the largest of its loads, each listed by itself ----
good --draws 0 --loads 1500 --every 1 --format csv "$mix"
cp out every
good --draws 0 --loads 1500 --format json "$mix"
cp out json
for kind in 1 2; do
    awk -F, -v kind=$kind '$4 == "kind of load" { k = $5 }
        $3 == "total" && $4 == "residue" && k == kind && $5 > most { most = $5; at = $1 }
        END { printf "%.17g %d\n", most, at }' every >most
    read -r residue load <most
    # ["basket",2,400.0,0.37...
    sed -n '/"key": "kinds"/,/"key": "concentration_limits"/s/^ *\["\(.*\)/\1/p' json |
        sed -n "${kind}p" | awk -F, -v a="$residue" -v at="$load" '{ d = $4 / a - 1 }
            END { exit !(NR == 1 && $3 == at && d < 1e-12 && d > -1e-12) }' ||
        fail "kind $kind: listed are load $load with $residue"
done

# ---- the order may be spelled out; a kind that does not come is not judged ----
sed 's/2 basket rack/basket basket rack/' "$mix" >spelled.csv
good --draws 0 --format csv --loads 30 "$mix"
cp out one
good --draws 0 --format csv --loads 30 spelled.csv
cmp -s one out || fail 'the same order in other words gives another answer'
good --draws 0 --loads 2 "$mix"
grep '^rack  *1  *-  *-  *-  *-  not judged$' out >/dev/null || fail 'a kind that does not come'

# ---- a limit that one kind misses ----
sed 's/^limit,level,A,/limit,residue,0.3,ug\/cm2/' "$mix" >strict.csv
expect 1 --check --draws 0 strict.csv
grep '^basket .* MISSED$' out >/dev/null || fail 'the first kind is not missed'
grep '^rack .* met$' out >/dev/null || fail 'the second kind is not met'

# ---- the working and the shown load are of its kind ----
good --draws 0 --explain --at 3 "$mix"
prints '1. The load rack'
prints 'parts = 60'
prints 'drag-out h = 140 mL/m2'
good --draws 0 --at 3 "$mix"
grep '^3 (rack) ' out >/dev/null || fail 'the load that is listed has no kind'

# ---- the tally counts each kind ----
tool=$build/dregs-tally
good --loads 100 "$mix"
prints 'basket: 67 loads, 1608 parts of 9.809 m2 in all, 3.859 g soil' # 67 x 24 x 61 cm2, x 2.4 mg
prints 'rack: 33 loads, 1980 parts of 4.356 m2 in all, 0.792 g soil'   # 33 x 60 x 22 cm2, x 0.4 mg
good --loads 100 --format json "$mix"
grep '"key": *"kinds"' out >/dev/null || fail 'no table of kinds'

# ---- a flow is sized for the worst of all kinds: with it the limit is met, with less it is not ----
tool=$build/dregs-size
sed 's/^limit,level,A,/limit,residue,0.4,ug\/cm2/' "$mix" >wanted.csv
good --vary rinse.flow --draws 0 --format csv wanted.csv
flow=$(awk -F, '$1 == "rinse" && $2 == "flow" { print $3 }' out)
tool=$build/dregs-predict
sed "s/^rinse,flow,36,/rinse,flow,$flow,/" wanted.csv >sized.csv
good --draws 0 --check sized.csv
less=$(awk -v f="$flow" 'BEGIN { printf "%.17g", f * 0.999 }')
sed "s/^rinse,flow,36,/rinse,flow,$less,/" wanted.csv >less.csv
expect 1 --draws 0 --check less.csv
tool=$build/dregs-size
expect 3 --stages 1..2 "$mix"
grep 'layouts are not made for loads of several kinds yet' err >/dev/null || fail 'layouts'
[ ! -s out ] || fail 'layouts: something on standard output'

# ---- the others say that they do not take it ----
refuses()
{
    got=0
    "$build/$1" "$2" "$mix" >out 2>err </dev/null || got=$?
    [ "$got" -eq 3 ] || fail "$1: exit $got"
    [ ! -s out ] || fail "$1: something on standard output"
    [ "$(wc -l <err)" -eq 1 ] || fail "$1: not one line"
    grep 'mixed-loads.csv:[0-9]*: loads of several kinds are not taken by this tool yet' err >/dev/null || fail "$1: $(cat err)"
}
refuses dregs-dry --explain

# ---- a log follows the sequence; counts since a dump do not say where it begins ----
tool=$build/dregs-reuse
sed -e 's/^detergent,kind,solute,,,/&\
detergent,conductivity,1.3,uS\/cm per mg\/L,,/' -e '/^rinse,flow/d' "$mix" >still.csv
for column in loads load; do
    printf 'time,stage,%s,quantity,value,unit\n2026-03-01T09:00,rinse,2,conductivity,%s,uS/cm\n' \
        "$column" 21 >log.csv
    got=0
    "$tool" --limit '3 ug/cm2' still.csv log.csv >out 2>err || got=$?
    [ "$got" -eq 0 ] || fail "a log by $column: exit $got, $(cat err)"
    cp out "by_$column"
done
tr -s ' \n' '  ' <by_loads | grep 'the first of the sequence, a load basket' >/dev/null ||
    fail 'the begin of the sequence is not listed as assumed'
! grep 'of the sequence' by_load >/dev/null || fail 'a running number: assumed all the same'
head -n 2 by_load | tr -s ' \n' '  ' | grep 'good for [0-9]* more loads* .*; a load [a-z]* ends them' >/dev/null ||
    fail "no kind ends the loads: $(cat by_load)"
expect 3 --measure-drag-out still.csv log.csv
grep 'still.csv: loads of several kinds are not taken here' err >/dev/null || fail "$(cat err)"

exit "$failed"
