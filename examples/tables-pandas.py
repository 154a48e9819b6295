# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""Answers as data frames: the tables of dregs.py, what a change does, by pandas.

    PYTHONPATH=$(pkg-config --variable=pythondir libdregs) python3 tables-pandas.py data/aqueous-line.csv

Debian: python3-pandas.
"""
import sys

import pandas

import dregs

if len(sys.argv) != 2:
    sys.exit("usage: tables-pandas.py LINE")
line = sys.argv[1]

# a table of the answer, as it is
answer = dregs.predict(line, draws=0, loads=100)
loads = pandas.DataFrame(answer.table("loads"))
loads = loads.dropna(subset=["load"]).astype({"load": int})  # others are of the week
residue = loads[(loads.quantity == "residue") & (loads.solute == "total")]
print(residue[["load", "value", "unit"]].to_string(index=False))

# a column for each stage
tanks = loads[loads.quantity == "concentration"]
print(tanks.pivot_table(index="load", columns=["solute", "stage"], values="value")
      .tail(3).to_string())

# many answers in one frame: what a stricter limit takes
layouts = pandas.DataFrame(dregs.size(line, stages="1..3", draws=0).columns("values"))
print(layouts[layouts.quantity == "flow"].sort_values("value").to_string(index=False))
