#!/bin/sh
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

exit "$failed"
