# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""What pictures show, held against what the same tool says as JSON; kept pictures against new ones.

usage: pictures.py shown TOOL-FOLDER SOURCE
       pictures.py same KEPT NEW
"""
import json
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as tree

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def same(kept, new):
    """The same words and strokes; a coordinate may differ by a tenth of a pixel, by which libraries
    of mathematics round differently."""
    old, now = open(kept, encoding="utf-8").read(), open(new, encoding="utf-8").read()
    if NUMBER.split(old) != NUMBER.split(now):
        return False
    pairs = zip(NUMBER.findall(old), NUMBER.findall(now))
    return all(a == b or ("." in a + b and abs(float(a) - float(b)) < 0.15) for a, b in pairs)


def texts(tool, picture, *arguments):
    done = subprocess.run([tool, "--format", "svg", "--picture", picture, *arguments],
                          capture_output=True, text=True, check=True)
    return [e.text for e in tree.fromstring(done.stdout).iter(SVG + "text") if e.text]


def answer(tool, *arguments):
    done = subprocess.run([tool, "--format", "json", *arguments], capture_output=True, text=True,
                          check=True)
    return json.loads(done.stdout)


def digits(value, count):
    return "%.*g" % (count, value)


def expect(found, words, what):
    if words not in found:
        print("%s: no text '%s' among %s" % (what, words, found))
        return 1
    return 0


def rows(report, key):
    """A table as dictionaries; a number with an interval as its value."""
    table = [t for t in report["tables"] if t["key"] == key][0]
    keys = [c["key"] for c in table["columns"]]
    return [dict(zip(keys, (plain(cell) for cell in row))) for row in table["rows"]]


def plain(cell):
    return cell["value"] if isinstance(cell, dict) else cell


def predict(folder, source):
    tool, line = folder + "/dregs-predict", source + "/data/aqueous-line.csv"
    drawn = ["--draws", "200", line]
    report = answer(tool, *drawn)
    failed = 0
    found = texts(tool, "tornado", *drawn)
    for row in rows(report, "doubt_from")[:10]:
        ends = sorted([row["residue_at_5"], row["residue_at_95"]])
        failed += expect(found, "%s to %s" % tuple(digits(v, 3) for v in ends), "tornado")
        failed += expect(found, "%s.%s: %.0f %%" % (row["item"], row["property"],
                                                    100 * max(0, row["total"])), "tornado")
    found = texts(tool, "effects", *drawn)
    for row in rows(report, "hangs_on")[:10]:
        failed += expect(found, digits(row["effect"], 3), "effects")
    found = texts(tool, "limits", *drawn)
    failed += expect(found, "oil in bath, at most 2 g/L", "limits")
    failed += expect(found, "detergent in bath, at least 12 g/L", "limits")
    # nothing is drawn where nothing is drawn from: no draws, no probability
    done = subprocess.run([tool, "--format", "svg", "--picture", "list", "--draws", "0", line],
                          capture_output=True, text=True, check=True)
    if "probability" in done.stdout:
        print("a probability without draws")
        failed += 1
    return failed


def confidence(folder, source, work):
    """A limit that half of the draws meet: the share that the picture names is that of JSON."""
    tool, line = folder + "/dregs-predict", os.path.join(work, "doubtful.csv")
    with open(source + "/data/aqueous-line.csv", encoding="utf-8") as stream:
        text = re.sub(r"(?m)^(\w+,residue),1,", r"\1,0.1,", stream.read())
    with open(line, "w", encoding="utf-8") as stream:
        stream.write(text)
    report = answer(tool, "--draws", "200", line)
    share = plain(report["figures"]["share_met"])
    if not 0.1 < share < 0.9:
        print("the limit of the test is met in %g of the draws" % share)
        return 1
    found = texts(tool, "probability", "--draws", "200", line)
    return expect(found, "%s %% of draws keep every limit" % digits(100 * share, 4), "probability")


def size(folder, source):
    tool, line = folder + "/dregs-size", source + "/data/aqueous-line.csv"
    asked = ["--vary", "last.flow", "--trade-off", line]
    point = [r for r in rows(answer(tool, *asked), "trade_off") if r["limit"] == 1]
    if len(point) != 1:
        print("trade-off: no row of the line's own limit")
        return 1
    found = texts(tool, "trade_off", *asked)
    return (expect(found, digits(point[0]["fresh_per_load"], 4) + " L/load", "trade-off") +
            expect(found, "limit 1 ug/cm2", "trade-off"))


def dry(folder):
    tool = folder + "/dregs-dry"
    asked = ["--liquid", "water", "--film", "20um", "--bead", "0.2mL/m", "--recess-depth", "3mm",
             "--at", "60degC"]
    figures = answer(tool, *asked)["figures"]
    found = texts(tool, "last", *asked)
    failed = 0
    for name, key in ("film", "film_time"), ("bead", "bead_time"), ("blind hole", "recess_time"):
        value = plain(figures[key])
        failed += expect(found, "60 degC: " + name, "last")
        failed += expect(found, digits(value / 60, 3), "last: " + name)
    return failed


def main():
    if sys.argv[1] == "same":
        return 0 if same(sys.argv[2], sys.argv[3]) else 1
    folder, source = sys.argv[2], sys.argv[3]
    failed = predict(folder, source) + confidence(folder, source, os.getcwd())
    failed += size(folder, source) + dry(folder)
    return 1 if failed else 0


sys.exit(main())
