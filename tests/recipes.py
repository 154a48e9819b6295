# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Wide CSV against a pivot of the long one; the programs of dregs-json(7), which are run as they are
# printed; the tables of the Python module.
#
#     recipes.py TOOL SOURCE
import csv
import io
import os
import re
import subprocess
import sys

import dregs

tool, source = sys.argv[1:]
os.chdir(os.environ["RECIPES_WORK"])
failed = 0


def fail(words):
    global failed
    failed = 1
    print("FAILED: " + words)


def rows(*words):
    run = subprocess.run([tool, *words], stdout=subprocess.PIPE, check=True)
    return list(csv.reader(io.StringIO(run.stdout.decode())))


def pivot(table, index):
    """The long table with a row for each run of the same index, by the rules of the page."""
    head, body = table[0], table[1:]
    value, unit = head.index("value"), head.index("unit")
    index = [head.index(name) for name in index]
    names, made = [], []
    for row in body:
        words = [word for at, word in enumerate(row[:value]) if at not in index and word]
        name = " ".join(words + (["[%s]" % row[unit]] if row[unit] else []))
        if name not in names:
            names.append(name)
        key = [row[at] for at in index]
        if not made or made[-1][0] != key or made[-1][1].get(name):
            made.append((key, {}))
        made[-1][1][name] = row[value]
    return [[head[at] for at in index] + names] + \
        [key + [cells.get(name, "") for name in names] for key, cells in made]


def wide(index, *words):
    words = (words[0], "--draws", "0", "--format", "csv") + words[1:]
    wanted, got = pivot(rows(*words), index), rows(*words, "--wide")
    if got != wanted:
        fail("%s --wide is not the pivot: %.200s, wanted %.200s" %
             (" ".join(words), got[:2], wanted[:2]))
    if len({len(row) for row in got}) != 1 or len(got) < 2:
        fail("%s --wide: no table" % " ".join(words))
    return got


# ---- wide CSV ----
got = wide(["load"], "predict", "--loads", "20", "--every", "10", "data/aqueous-line.csv")
if [row[0] for row in got[:3]] != ["load", "10", "20"] or \
        "bath oil concentration [mg/L]" not in got[0] or "total residue [ug/cm2]" not in got[0]:
    fail("the loads: %s" % got[:3])
wide(["load"], "predict", "data/week-rinse.csv")
wide(["layout", "stages"], "size", "--stages", "1..2", "data/aqueous-line.csv")
wide(["stage"], "size", "--vary", "last.flow", "data/aqueous-line.csv")
wide(["time"], "dry", "--liquid", "isopropanol", "--film", "20 um", "--at", "22degC")
got = wide(["period"], "tally", "--by", "month", "data/solvent-shop.csv")
if [row[0] for row in got[1:]] != ["January", "February", "March", "April", "May", "June", "July",
                                   "August", "September", "October", "November", "December",
                                   "year"]:
    fail("the months: %.200s" % [row[0] for row in got])
wide(["period", "stage"], "tally", "--by", "stage", "data/solvent-shop.csv")
wide(["period", "file"], "tally", "--loads", "40", "data/solvent-shop.csv",
     "data/aqueous-line.csv")
for words, said in ((["predict", "--wide", "data/aqueous-line.csv"], "--format csv"),
                    (["predict", "--each", "--format", "csv", "--wide", "data/aqueous-line.csv"],
                     "--each goes with"),
                    (["tally", "--by", "form", "--format", "csv", "--wide", "--draws", "0",
                      "data/solvent-shop.csv"], "no wide form")):
    run = subprocess.run([tool, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    if run.returncode != 2 or run.stdout or said not in run.stderr.decode():
        fail("%s: exit %d: %s" % (words, run.returncode, run.stderr.decode()))

# ---- the module ----
answer = dregs.predict("data/aqueous-line.csv", loads=20, every=10, draws=0)
table = answer.table("loads")
if [list(row.values()) for row in table if row["load"] is not None][:3] != \
        [list(row) for row in answer["tables"][answer.table_keys().index("loads")]["rows"][:3]]:
    fail("the rows of a table")
columns = answer.columns("loads")
if len(columns["value"]) != len(table) or columns["value"][0] != table[0]["value"]:
    fail("the columns of a table")
if answer.unit("worst_residue") != "ug/cm2" or not answer.figure("worst_residue") > 0 or \
        answer.is_ not in ("met", "missed"):
    fail("the figures")
answer = dregs.reuse("data/rinse-bench.csv", "data/rinse-readings.csv", loads_since=2)
if answer["tool"] != "reuse":
    fail("the readings")
answer = dregs.tally(site={"north": ["data/solvent-shop.csv"]}, draws=0, for_="month")
if answer["tool"] != "tally":
    fail("a site")
try:
    dregs.predict(dregs.Text("item,property,value,unit\na,kind,lod,\nb,kind,solut,\n", "mine.csv"))
    fail("no fault")
except dregs.Faults as faults:
    if faults.exit != 3 or "\nmine.csv:3: unknown kind 'solut'" not in str(faults) or \
            [fault["line"] for fault in faults.faults] != [2, 3]:
        fail("the fault: %s" % faults)
try:
    answer.table("none")
    fail("no KeyError")
except KeyError as error:
    if "there are" not in str(error):
        fail("the KeyError: %s" % error)

# ---- the programs of the page ----
with open(os.path.join(source, "man", "dregs-json.7"), encoding="utf-8") as file:
    page = file.read()
programs = [block for block in re.findall(r"\.Bd -literal -offset indent\n(.*?)\n\.Ed", page, re.S)
            if block.startswith("import dregs")]
if len(programs) != 2:
    fail("%d programs in dregs-json(7)" % len(programs))
wanted = (r"(met|missed) [0-9.e-]+ ug/cm2\n(1 \w+ [\w ]+ [0-9.e-]+\n){3}$",
          r"0.5 ug/cm2: met [0-9.]+ L/h\n1 ug/cm2: met [0-9.]+ L/h\n2 ug/cm2: met [0-9.]+ L/h\n$")
for program, pattern in zip(programs, wanted):
    run = subprocess.run([sys.executable, "-c", program.replace("\\e", "\\")],
                         stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    if run.returncode or not re.match(pattern, run.stdout.decode()):
        fail("a program of dregs-json(7): %s%s" % (run.stdout.decode(), run.stderr.decode()))

sys.exit(failed)
