#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# pictures.sh BUILD SOURCE FOLDER: a picture of each kind, as the tools of BUILD draw it of the
# scenarios in SOURCE/data, to FOLDER. `make pictures` writes them to man/pictures.
# pictures.sh --list: picture, tool, a line each.
set -eu

# file|tool|picture|arguments
table='line|predict|line|--draws 0 data/aqueous-line.csv
residue|predict|residue|--draws 500 data/aqueous-line.csv
week|predict|week|--draws 0 data/week-rinse.csv
probability|predict|probability|--draws 500 data/aqueous-line.csv
tornado|predict|tornado|--draws 500 data/aqueous-line.csv
effects|predict|effects|--draws 0 data/aqueous-line.csv
limits|predict|limits|--draws 0 data/aqueous-line.csv
tanks|predict|tanks|--draws 0 data/solvent-bench.csv
origin|predict|origin|--draws 0 data/aqueous-line.csv
answer|size|answer|--vary last.flow data/aqueous-line.csv
layouts|size|layouts|--stages 1..6 data/aqueous-line.csv
trade-off|size|trade_off|--stages 1..3 --trade-off data/aqueous-line.csv
drying|dry|drying|data/solvent-bench.csv
last|dry|last|--liquid water --film 20um --bead 0.2mL/m --recess-depth 3mm --at 60degC --at 80degC
sure|dry|sure|--draws 500 --at 50degC --at 60degC --at 70degC data/aqueous-line.csv
vapour|dry|vapour|--liquid isopropanol --film 20um --area 1m2 --volume 1m3 --at 60degC
readings|reuse|readings_1|data/rinse-bench.csv data/rinse-readings.csv
streams|tally|streams|data/solvent-shop.csv
months|tally|months|data/solvent-shop.csv
changes|tally|changes|data/solvent-shop.csv
lines|tally|lines|--loads 40 data/solvent-shop.csv data/aqueous-line.csv
dips|beaker|answer|fresh --liquid isopropanol --drag-out 0.05mL --film 2g/L --limit 20mg/L --mixing 50%
vapour-pressure|liquid|vapour_pressure|isopropanol --at 25degC'

if [ "${1-}" = --list ]; then
    echo "$table" | cut -d '|' -f 1,2 | tr '|' ' '
    exit 0
fi
build=$(cd "$1" && pwd)
mkdir -p "$3"
folder=$(cd "$3" && pwd)
cd "$2"
echo "$table" | while IFS='|' read -r file tool picture arguments; do
    # shellcheck disable=SC2086 # the words of the arguments are meant to split
    "$build/dregs-$tool" --config none --format svg --picture "$picture" $arguments >"$folder/$file.svg.new"
    mv "$folder/$file.svg.new" "$folder/$file.svg"
done
