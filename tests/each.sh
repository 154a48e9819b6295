#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-predict --each: a row for each of many lines.
set -eu
name=dregs-predict
# shellcheck source=tests/tool.sh disable=SC1091
. "${DREGS_SOURCE:-.}/tests/tool.sh"

misuse '--each goes with' --each --explain line.csv
misuse '--each goes with' --each --at 3 line.csv
misuse '--each goes with' --each --draws 9 --save p line.csv

# the columns of row $1 of file $2, as "name value" lines
row()
{
    awk -F, -v row="$1" 'NR == 1 { for (i = 1; i <= NF; i++) name[i] = $i }
        NR == row + 1 { for (i = 1; i <= NF; i++) print name[i], $i }' "$2"
}

# ---- each row says what the line alone does ----
cp "$source/data/solvent-shop.csv" shop.csv
good --each --draws 40 line.csv bench.csv shop.csv
[ "$(wc -l <out)" -eq 4 ] || fail 'not a row for each'
cp out rows
i=0
for file in line.csv bench.csv shop.csv; do
    i=$((i + 1))
    row "$i" rows >cells
    good --draws 40 --format json "$file"
    /usr/bin/python3 - "$file" <<'PYTHON' >err 2>&1 || fail "$file: the row differs"
import json, sys
cells = dict(line.rstrip("\n").split(" ", 1) for line in open("cells"))
figures = json.load(open("out"))["figures"]
assert cells["file"] == sys.argv[1] and cells["status"] == "answered"
assert float(cells["residue"]) == figures["worst_residue"]["value"]
# a load of the week has no number
assert (int(cells["load"]) if cells["load"] else None) == figures["worst_load"] and cells["met"] == "1"
assert int(cells["draws"]) == figures["draws"] == 40
share = figures["share_met"]
for key, cell in (("value", "share_met"), ("low", "share_met_low"), ("high", "share_met_high")):
    assert float(cells[cell]) == share[key], key
PYTHON
done

# ---- the names from standard input, and no draws unless asked for ----
printf 'line.csv\r\n\nbench.csv\nshop.csv' | "$tool" --each >out 2>err || fail 'a list of names'
[ "$(wc -l <out)" -eq 4 ] || fail 'not a row for each name'
row 1 out >cells
grep '^draws $' cells >/dev/null || fail 'draws that nobody asked for'

# ---- one bad file keeps no other back ----
expect 4 --each line.csv none.csv /dev/null bench.csv
[ "$(wc -l <out)" -eq 5 ] || fail 'a bad file takes others with it'
row 2 out | grep 'status not read' >/dev/null || fail 'a file that is not there'
row 3 out | grep 'status bad data' >/dev/null || fail 'an empty file'
row 4 out | grep 'status answered' >/dev/null || fail 'the one behind them'
grep 'none.csv: No such file' err >/dev/null || fail 'it is not said what was not read'

# ---- --check ----
sed 's|^limit,residue,1,|limit,residue,0.01,|' line.csv >missed.csv
expect 0 --each --check line.csv bench.csv
expect 1 --each --check line.csv missed.csv

# a target with a confidence is judged by draws without being asked: 100 mg/L x 75 mL/m2 = 0.75 ug/cm2
# is met, but of lognormals with 40 and 30 % Phi((ln(1 / 0.75) + v / 2) / sqrt(v)) = 80 % of draws
# meet it, v = ln(1.16) + ln(1.09)
cp "$source/tests/two-lognormals.csv" sure.csv
expect 1 --each --check sure.csv
row 1 out >cells
grep '^met 0$' cells >/dev/null || fail 'a confidence that is not reached is met'
grep '^draws 1000$' cells >/dev/null || fail 'a confidence without draws'
sed 's/^goal,confidence,90/goal,confidence,70/' sure.csv >unsure.csv
expect 0 --each --check unsure.csv
expect 0 --each --check --draws 0 sure.csv

# ---- memory does not grow: the most that five lines and ten thousand take ----
# A sanitizer keeps what was given back for a while, so that its memory tells nothing.
if [ -n "${DREGS_SANITIZE:-}" ]; then
    echo 'not run: the memory of many lines (a build with sanitizers)'
else
    /usr/bin/python3 - "$tool" <<'PYTHON' >err 2>&1 || fail 'memory grows with the lines'
import resource, subprocess, sys
most = []
for count in (5, 10000):
    subprocess.run([sys.argv[1], "--each"], input="line.csv\n" * count, text=True, check=True,
                   stdout=subprocess.DEVNULL)
    most.append(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
assert most[1] <= 1.2 * most[0], most
PYTHON
fi

exit "$failed"
