#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The residue load by load, drawn by gnuplot from the CSV of dregs-predict.
#
#   sh plot-gnuplot.sh data/aqueous-line.csv residue.svg
#
# gnuplot is not needed for the pictures that the tools draw themselves:
#   dregs-predict --format svg --picture residue data/aqueous-line.csv >residue.svg
set -eu
line=${1:?the line file} picture=${2:?the picture to write}
rows=$(mktemp)
trap 'rm -f "$rows"' EXIT

# columns: load, stage, solute, quantity, value, unit; the residue of all solutes has no stage
dregs-predict --format csv --loads 400 --every 4 "$line" |
    awk -F, '$2 == "" && $3 == "total" && $4 == "residue" { print $1, $5 }' >"$rows"
gnuplot <<PLOT
set terminal svg size 720,420 background rgb 'white'
set output '$picture'
set xlabel 'load from the fresh start'
set ylabel 'residue, ug/cm2'
set yrange [0:*]
set grid
plot '$rows' using 1:2 with lines linewidth 2 title 'all solutes'
PLOT
