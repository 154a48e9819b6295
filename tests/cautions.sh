#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The page of the cautions is what the rules say; --cautions is the same in every tool: nothing hides
# a danger, and programs get all.
set -eu
"$DREGS_BUILD/tests/cautions_page" | cmp - "$DREGS_SOURCE/man/dregs-cautions.7" || {
    echo 'man/dregs-cautions.7 is not what the rules say: write it anew with tests/cautions_page'
    exit 1
}
data=$DREGS_SOURCE/data
failed=0
fail()
{
    echo "FAILED: $*"
    failed=1
}

# shown DANGER OTHER COMMAND...: a tool that gives both
shown()
{
    danger=$1
    other=$2
    shift 2
    for which in '' all danger none; do
        text=$("$@" ${which:+--cautions "$which"} | tr -s ' \n' '  ')
        case $text in
        *" $danger"*) ;;
        *) fail "$1 --cautions $which hides the danger '$danger'" ;;
        esac
        case $text in *" $other"*) full=1 ;; *) full=0 ;; esac
        case $text in *"also: "*"--cautions all"*) named=1 ;; *) named=0 ;; esac
        case $which in
        all) [ "$full$named" = 10 ] || fail "$1 --cautions all: $full $named" ;;
        none) [ "$full$named" = 00 ] || fail "$1 --cautions none: $full $named" ;;
        *) [ "$full$named" = 01 ] || fail "$1 --cautions $which: $full $named" ;;
        esac
    done
    "$@" --cautions none --format json | grep '"exposure"' >/dev/null ||
        fail "$1 --cautions none: JSON lacks a caution"
    status=0
    "$@" --cautions some >/dev/null 2>err.cautions || status=$?
    [ "$status" = 2 ] && grep "'some' is not one of all, danger, none" err.cautions >/dev/null ||
        fail "$1 --cautions some: exit $status"
    rm -f err.cautions
}

shown 'flash point: ' 'exposure: ' "$DREGS_BUILD/dregs-predict" "$data/solvent-bench.csv"
shown 'flash point: ' 'exposure: ' "$DREGS_BUILD/dregs-tally" "$data/solvent-shop.csv"
shown 'flash point: ' 'exposure: ' "$DREGS_BUILD/dregs-tally" "$data/solvent-shop.csv" \
    "$data/solvent-shop.csv"
shown 'flash point: ' 'exposure: ' "$DREGS_BUILD/dregs-liquid" isopropanol --at '20 degC'
shown 'flash point, 22 degC: ' 'exposure, 22 degC: ' "$DREGS_BUILD/dregs-dry" \
    --liquid isopropanol --film '20 um' --at 22degC

# a number that is likely a slip stands before the answer: L/m2 for mL/m2, 0.998 % for 0.998, a mass of
# 900 kg a part; what is unusual stands below
first_line()
{
    expected=$1
    shift
    for which in danger none; do
        case $("$@" --cautions "$which" | head -n 1) in
        "$expected: "*) ;;
        *) fail "$1: '$expected' is not its first line" ;;
        esac
    done
}
sed 's/^first,drag-out.*/first,drag-out,16.3,L\/m2,,/' "$data/aqueous-line.csv" >slip.csv
first_line 'thick film' "$DREGS_BUILD/dregs-predict" slip.csv
first_line 'thick film' "$DREGS_BUILD/dregs-predict" --explain slip.csv
first_line 'thick film' "$DREGS_BUILD/dregs-size" --vary last.flow slip.csv
first_line 'thick film' "$DREGS_BUILD/dregs-tally" --loads 100 slip.csv
sed 's/^bath,removal.*/bath,removal,0.998,%,,/' "$data/aqueous-line.csv" >slip.csv
grep -q '^bath,removal,0.998,%' slip.csv || fail 'no removal is stated'
first_line 'weak wash' "$DREGS_BUILD/dregs-predict" slip.csv
sed 's/^basket,parts.*/&\nbasket,mass,900,kg,,/' "$data/aqueous-line.csv" >slip.csv
first_line 'no room for parts' "$DREGS_BUILD/dregs-predict" slip.csv
case $("$DREGS_BUILD/dregs-predict" "$data/aqueous-line.csv" | head -n 1) in
*aqueous-line.csv*) ;;
*) fail 'a caution stands before the answer of a line without a slip' ;;
esac
rm -f slip.csv

# the working of a tank that ultrasound warms: its values, stated and assumed, and what follows
sed 's/^beaker,covered,.*/&\nbeaker,ultrasonic power,60,W,,\nbeaker,water bath,3,L,,/' \
    "$data/solvent-bench.csv" >warmed.csv
"$DREGS_BUILD/dregs-predict" --explain warmed.csv >out.warmed
for words in 'warming: C dT/dt = P - U A' 'ultrasonic power P = 60 W' 'wall loss U A' \
    'assumed: 8 W/(m2 K)' 'bath coupling' 'settles at = '; do
    grep -F -- "$words" out.warmed >/dev/null || fail "--explain of ultrasound lacks: $words"
done
"$DREGS_BUILD/dregs-predict" --format json warmed.csv >out.json
/usr/bin/python3 - <<'EOF' || fail 'the table of warming is not what --explain says'
import json
import re

explained = open('out.warmed').read()
table = [t for t in json.load(open('out.json'))['tables'] if t['key'] == 'warming'][0]
row = dict(zip([c['key'] for c in table['columns']], table['rows'][0]))
assert row['stage'] == 'beaker' and row['power'] == 60 and row['water_bath'] == 3, row
settles = float(re.search(r'settles at = ([0-9.]+)', explained).group(1))
assert abs(row['settles'] - settles) < 1e-3, (row, settles)
assert len(table['rows']) == 1 and row['cools_to'] < row['cools_from'] and row['cools_in'] > 0, row
EOF
rm -f out.json
"$DREGS_BUILD/dregs-predict" --format json "$data/solvent-bench.csv" | grep '"warming"' >/dev/null &&
    fail 'a line without ultrasound has a table of warming'
"$DREGS_BUILD/dregs-predict" --explain "$data/solvent-bench.csv" | grep 'warming: C dT' >/dev/null &&
    fail 'a tank without ultrasound is warmed'
rm -f warmed.csv out.warmed
exit "$failed"
