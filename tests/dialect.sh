#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Files as spreadsheets write them where commas are decimal marks: the answers are those of the same
# files with commas between the cells, the page says how they were read, what is written stays so.
set -eu
name=dregs
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

python=/usr/bin/python3
command -v $python >/dev/null || {
    echo 'skipped: no Python'
    exit 77
}

# convert.py SEPARATOR MARK FROM TO: comments stay, the numbers of columns of numbers get the mark
cat >convert.py <<'PYTHON'
import csv, io, re, sys

separator, mark, origin, target = sys.argv[1:]
separator = separator.replace("tab", "\t")
words = {"item", "property", "unit", "note", "with", "time", "stage", "quantity of", "date", "liquid",
         "kind", "supplier", "invoice", "from", "to", "weekdays", "equation", "source", "evidence",
         "collection"}
header = None
with open(origin, newline="", encoding="utf-8") as text, \
        open(target, "w", newline="", encoding="utf-8") as out:
    for line in text:
        if line.startswith("#") or not line.strip():
            out.write(line)
            continue
        row = next(csv.reader([line]))
        if header is None:
            header = row
        else:
            row = [cell if column in words else re.sub(r"^([<>]?-?\d*)\.(\d)", r"\1%s\2" % mark, cell)
                   for column, cell in zip(header, row)]
        csv.writer(out, delimiter=separator, lineterminator="\n").writerow(row)
PYTHON

# same.py ONE OTHER: the same but for how it was read, which OTHER says
cat >same.py <<'PYTHON'
import json, sys

one, other = (json.load(open(name)) for name in sys.argv[1:3])
assert one.pop("read") == [], "the file with commas is said to be read in some way"
said = other.pop("read")
assert said == sys.argv[3:], said
assert one == other, "another answer"
PYTHON

# alike SEPARATOR MARK 'SENTENCES' VERB ARGUMENT...: arguments that are a file of data/ stand for it
alike()
{
    separator=$1 mark=$2 said=$3
    shift 3
    files=
    rm -rf plain other
    mkdir plain other
    for argument; do
        [ -f "$source/data/$argument" ] || continue
        cp "$source/data/$argument" plain
        $python convert.py "$separator" "$mark" "plain/$argument" "other/$argument"
        files="$files $argument"
    done
    [ -n "$files" ] || fail "$*: no file"
    (cd plain && "$tool" "$@" --format json >../plain.json 2>../err) || fail "$*: exit $?"
    (cd other && "$tool" "$@" --format json >../other.json 2>../err) || fail "$*: exit $?"
    [ ! -s err ] || fail "$*: something on standard error"
    # the sentences are lines
    printf '%s\n' "$said" >said
    set -- plain.json other.json
    while read -r line; do
        set -- "$@" "$line"
    done <said
    $python same.py "$@" 2>err || fail "$files with $separator and $mark"
}

semicolons="cells separated by ';', decimal comma"
alike ';' , "aqueous-line.csv: $semicolons (line 8 tells)" predict --draws 40 aqueous-line.csv
alike tab . 'aqueous-line.csv: cells separated by tabs, decimal point (line 8 tells)' \
    predict --draws 40 aqueous-line.csv
alike tab , 'week-rinse.csv: cells separated by tabs, decimal comma (line 10 tells)' predict --draws 40 week-rinse.csv
alike ';' , "rinse-bench.csv: $semicolons (line 9 tells)
rinse-readings.csv: $semicolons (line 5 tells)" reuse rinse-bench.csv rinse-readings.csv
alike ';' , "solvent-bench.csv: $semicolons (line 7 tells)
solvent-readings.csv: $semicolons (line 5 tells)" reuse solvent-bench.csv solvent-readings.csv
alike ';' , "solvent-shop.csv: $semicolons (line 12 tells)
purchases.csv: $semicolons (line 9 tells)" tally --draws 0 --actual purchases.csv solvent-shop.csv
alike tab , "solvent-shop.csv: cells separated by tabs, decimal comma (line 12 tells)
calendar-2027.csv: cells separated by tabs, no number with a decimal mark" \
    tally --draws 0 --calendar calendar-2027.csv solvent-shop.csv
alike ';' , "liquids.csv: $semicolons (line 2 tells)
aqueous-line.csv: $semicolons (line 8 tells)" predict --draws 0 --liquids liquids.csv aqueous-line.csv

# ---- on the page ----
$python convert.py ';' , line.csv comma.csv
good predict --draws 0 comma.csv
prints "how it was read comma.csv: cells separated by ';', decimal comma"
good predict --draws 0 --format html comma.csv
prints "comma.csv: cells separated by &#39;;&#39;, decimal comma"
good predict --draws 0 line.csv
grep 'how it was read' out >/dev/null && fail 'a file with commas is said to be read in some way'

# ---- what is written ----
good size --draws 0 --vary last.flow --write new.csv line.csv
good size --draws 0 --vary last.flow --write comma-new.csv comma.csv
$python convert.py ';' , new.csv expected.csv
# a number that could have its comma between thousands has got a zero more
sed 's/^\(last;flow;[1-9][0-9]*,[0-9][0-9][0-9]\);/\10;/' expected.csv >expected-zero.csv
cmp -s comma-new.csv expected.csv || cmp -s comma-new.csv expected-zero.csv ||
    fail "written otherwise: $(diff comma-new.csv expected.csv)"
good predict --draws 0 comma-new.csv
prints "cells separated by ';', decimal comma"
rm comma-new.csv
good size --draws 0 --stages 2 --layout counterflow --write comma-new.csv comma.csv
grep ',.*,' comma-new.csv | grep -v '^#' | grep -v '"' | grep -v ';' && fail 'rows with commas between cells'
good predict --draws 0 comma-new.csv

# ---- CSV that is printed ----
# back.py SEPARATOR MARK: standard input with commas between cells and points
cat >back.py <<'PYTHON'
import csv, re, sys

separator, mark = sys.argv[1].replace("tab", "\t"), sys.argv[2]
out = csv.writer(sys.stdout, lineterminator="\n")
for row in csv.reader(sys.stdin, delimiter=separator):
    for cell in row:
        assert mark == "." or not re.fullmatch(r"'?-?[0-9]+\.[0-9]+(e[-+][0-9]+)?", cell), cell
    out.writerow([re.sub(r"^('?-?[0-9]+)%s([0-9])" % re.escape(mark), r"\1.\2", cell) for cell in row])
PYTHON

# printed SEPARATOR MARK VERB ARGUMENT...
printed()
{
    separator=$1 mark=$2
    shift 2
    good "$@" --format csv
    $python back.py , . <out >points.csv
    good "$@" --format csv --separator "$separator" --decimal "$mark"
    $python back.py "$separator" "$mark" <out >back.csv 2>err || fail "$*: $separator $mark"
    cmp -s points.csv back.csv || fail "$*: not the same with $separator and $mark"
    grep '[0-9]' back.csv >/dev/null || fail "$*: no number"
}

printed ';' , predict --draws 0 --loads 20 line.csv
printed tab , predict --draws 0 --loads 20 line.csv
printed ';' , predict --draws 0 --loads 20 --wide line.csv
printed ';' . size --draws 0 --vary last.flow line.csv
printed tab . check line.csv
printed ';' , liquid isopropanol
printed ';' , dry --liquid isopropanol --film '20 um' --at 22degC
printed ';' , reuse "$source/data/rinse-bench.csv" "$source/data/rinse-readings.csv"
printed ';' , tally --draws 0 --loads 100 line.csv
printed ';' , tally --draws 0 --law --by form "$source/data/solvent-shop.csv"
printed ';' , beaker parts --liquid isopropanol --beaker '200 mL' --drag-out '0.05 mL' --film '2 g/L' --limit '50 mg/L'

name='dregs predict'
misuse "--separator ':' is not one of ',', ';', tab" predict --format csv --separator : line.csv
misuse "--decimal ';' is not one of '.', ','" predict --format csv --decimal ';' line.csv
misuse "--decimal '' is not one of" predict --format csv --decimal '' line.csv
misuse 'a comma cannot be both' predict --format csv --decimal , line.csv
misuse 'a comma cannot be both' predict --decimal , --format csv --separator , line.csv
misuse '--separator and --decimal go with --format csv' predict --separator ';' line.csv
misuse '--separator and --decimal go with --format csv' predict --decimal . --format json line.csv

exit "$failed"
