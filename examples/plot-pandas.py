# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""The concentrations load by load, from the CSV of dregs-predict, by pandas and its plots.

    python3 plot-pandas.py data/aqueous-line.csv tanks.svg

Debian: python3-pandas, python3-matplotlib. Neither is needed for the pictures that the tools draw
themselves: dregs-predict --format svg --picture tanks data/aqueous-line.csv >tanks.svg
"""
import subprocess
import sys

import pandas

if len(sys.argv) != 3:
    sys.exit("usage: plot-pandas.py LINE PICTURE")
line, picture = sys.argv[1:]
csv = subprocess.Popen(
    ["dregs-predict", "--format", "csv", "--loads", "400", "--every", "4", line],
    stdout=subprocess.PIPE)
rows = pandas.read_csv(csv.stdout)
if csv.wait():
    sys.exit("dregs-predict did not answer")
tanks = rows[rows.quantity == "concentration"]
table = tanks.pivot_table(index="load", columns=["stage", "solute"], values="value")
unit = tanks.unit.iloc[0]
axes = table.plot(logy=True, xlabel="load from the fresh start", ylabel="concentration, " + unit,
                  grid=True, figsize=(8, 5))
axes.figure.savefig(picture)
