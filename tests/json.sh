#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# What every tool prints for programs: JSON by the installed schema, CSV without nan.
set -eu
name=dregs-predict
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

python=/usr/bin/python3
if ! $python -c 'import jsonschema' 2>/dev/null; then
    echo 'skipped: no jsonschema for Python'
    exit 77
fi
data=$source/data

cat >check.py <<'PYTHON'
import json, sys
import jsonschema

def refuse(word):
    raise ValueError(word + " is no JSON")

def one_key(pairs):
    keys = [key for key, _ in pairs]
    assert len(keys) == len(set(keys)), "a key twice"
    return dict(pairs)

kinds = {"word": str, "number": (int, float, dict), "count": int, "flag": bool, "value": (int, float, str, dict)}
schema = json.load(open(sys.argv[1]))
validator = jsonschema.validators.validator_for(schema)(schema)

def check(file, tool):
    report = json.load(open(file), parse_constant=refuse, object_pairs_hook=one_key)
    validator.validate(report)
    assert report["tool"] == tool, "another tool's name: %s" % report["tool"]
    for table in report["tables"]:
        for row in table["rows"]:
            assert len(row) == len(table["columns"]), table["key"]
            for cell, column in zip(row, table["columns"]):
                assert cell is None or isinstance(cell, kinds[column["kind"]]), (column, cell)
    keys = [table["key"] for table in report["tables"]]
    assert len(keys) == len(set(keys)), "a table twice: %s" % keys
    for table in report["tables"]:
        columns = [column["key"] for column in table["columns"]]
        assert len(columns) == len(set(columns)), "a column twice: %s" % columns
    for chart in report["charts"]:
        for series in chart["series"]:
            table = report["tables"][keys.index(series["table"])]
            columns = [column["key"] for column in table["columns"]]
            x, y = columns.index(series["x"]), columns.index(series["y"])
            where = [(columns.index(column), word) for column, word in series["where"].items()]
            rows = [row for row in table["rows"] if all(row[at] == word for at, word in where)]
            assert rows and all(row[x] is not None for row in rows), (chart["key"], series)

# "FILE TOOL COMMAND...", one a line
failed = 0
for line in open(sys.argv[2]):
    file, tool, command = line.rstrip("\n").split(" ", 2)
    try:
        check(file, tool)
    except Exception as fault:
        print("FAILED: dregs-%s: JSON: %s" % (command, fault))
        failed = 1
sys.exit(failed)
PYTHON

# both TOOL ARGUMENT...: its JSON is kept for one look at all, which takes Python half a second
count=0
both()
{
    one=$1
    shift
    tool=$program
    # the form does not hang on how many draws there are
    [ "$one" != tally ] || set -- --draws 100 "$@"
    expect 0 "$one" --format json "$@"
    count=$((count + 1))
    mv out "report-$count"
    echo "report-$count $one $one $*" >>reports
    expect 0 "$one" --format csv "$@"
    sed 1d out | grep -i -E '(^|,)-?(nan|inf)(,|$)' >err && fail "dregs-$one $*: CSV has such a cell"
    awk -F, 'NR == 1 && !/^[a-z_,]+$/ { exit 1 }' out || fail "dregs-$one $*: the head of the CSV"
}

both predict "$data/aqueous-line.csv" "$data/rinse-bench.csv"
for line in "$data"/aqueous-line.csv "$data"/rinse-bench.csv "$data"/solvent-bench.csv \
    "$data"/solvent-shop.csv "$source"/bench/bench-line.csv; do
    both check "$line"
    both predict "$line"
    both predict --loads 30 --every 7 "$line"
    case $line in
    */bench-line.csv) ;; # it has no target
    *) both size --stages 1..3 "$line" ;;
    esac
    both tally --loads 50 "$line"
    for view in stage liquid month drain energy form; do
        both tally --by $view "$data/solvent-shop.csv"
    done
done
both size --vary last.flow "$data/aqueous-line.csv"
both size --vary last.flow --vary first.exchange "$data/aqueous-line.csv"
both size --vary 'beaker.dump every' "$data/solvent-bench.csv"
both tally --loads 40 "$data/solvent-shop.csv" "$data/aqueous-line.csv"
both tally --instead 'isopropanol=ethyl acetate' "$data/solvent-shop.csv"
both tally --law "$data/solvent-shop.csv"
both tally --calendar "$data/calendar-2027.csv" --law "$data/solvent-shop.csv"
both tally --actual "$data/purchases.csv" "$data/solvent-shop.csv"
both reuse "$data/rinse-bench.csv" "$data/rinse-readings.csv"
both reuse --measure-drag-out "$data/rinse-bench.csv" "$data/stopped-flow.csv"
for line in aqueous-line solvent-bench solvent-shop; do
    both dry "$data/$line.csv"
done
both dry --liquid isopropanol --film '20 um' --at 22degC
both beaker parts --liquid isopropanol --beaker '200 mL' --drag-out '0.05 mL +- 20 %' --film '2 g/L' --limit '50 mg/L'
both beaker rinses --liquid isopropanol --total '100 mL' --drag-out '0.05 mL' --times 4
both beaker fresh --liquid isopropanol --drag-out '0.05 mL' --film '2 g/L' --limit '20 mg/L' --mixing '50 %'
both beaker open --liquid isopropanol --beaker '200 mL' --opening '7 cm' --after '14 h'
both beaker warm --liquid water --beaker '3 L' --power '100 W' --at 20degC --to 40degC
both beaker cool --mass '15 g' --area '20 cm2' --heat-capacity steel --from 80degC
both liquid
both liquid isopropanol
both liquid isopropanol --at 25degC
both liquid isopropanol-water --share 70% --at 25degC
[ "$(wc -l <reports)" -eq "$count" ] && $python check.py "$data/dregs-report.schema.json" reports || failed=1
exit $failed
