#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-reuse: what fresh liquid holds of its own, measured by readings at load 0 and of the liquid
# itself.
set -eu
name=dregs-reuse
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
cp "$source/data/rinse-bench.csv" "$source/data/rinse-readings.csv" "$source/data/solvent-bench.csv" .
chmod u+w ./*.csv
head=time,stage,loads,quantity,value,unit

# holds VALUE LOW HIGH ARGUMENT...: what the answer says of the fresh liquid, mg/L, each to 0.2 %
holds()
{
    value=$1 low=$2 high=$3
    shift 3
    good --format json "$@"
    python3 - "$value" "$low" "$high" <<'END' || fail "$*: $(grep -o 'fresh_liquid_holds[^}]*' out)"
import json, sys
got = json.load(open('out'))['figures']['fresh_liquid_holds']
assert got['unit'] == 'mg/L'
for key, want in zip(('value', 'low', 'high'), sys.argv[1:]):
    assert abs(got[key] - float(want)) < 2e-3 * float(want), (key, got[key], want)
END
}

# One blank and nothing else, with a scatter of 5 % that is assumed: the reading, and 1.96 standard
# deviations of it. What is believed before has a standard deviation of 15 mg/L about the 5 mg/L of
# the certificate: a share of 1e-5 of the weight.
printf '%s\n2026-03-02T08:00,clear,0,non-volatile residue,1,mg/L\n' "$head" >blank.csv
holds 1 0.902 1.098 solvent-bench.csv blank.csv
good solvent-bench.csv blank.csv
sed -n 1p out | grep -q '^good for ' || fail "a blank below the certificate: $(sed -n 1p out)"
prints 'ipa holds 1 mg/L of solids (95 %: 0.902 to 1.098; stated: 5)'
# the liquid itself, four times: half of that; it is no reading of the tank, which has no row
printf '%s\n' "$head" >blank.csv
for minute in 01 02 03 04; do
    echo "2026-03-02T08:$minute,clear,fresh,non-volatile residue,8,mg/L" >>blank.csv
done
holds 8 7.608 8.392 solvent-bench.csv blank.csv
good solvent-bench.csv blank.csv
prints 'clear: fresh when the log begins, then dumped every 80'
# without a blank it is what the file says, and not told
good --format json rinse-bench.csv rinse-readings.csv
grep -q '"fresh_liquid_holds": *{"value": *null' out || fail 'a fresh liquid that nobody measured'
# a sample of the liquid changes no place of the other rows, and is expected to be what it holds
good --format csv rinse-bench.csv rinse-readings.csv
cut -d, -f 1-6 out >before
echo '2026-03-03T12:30,last,fresh,conductivity,1.05,uS/cm,22.1 degC' >>rinse-readings.csv
good --format csv rinse-bench.csv rinse-readings.csv
grep -v '^34,' out | cut -d, -f 1-6 | cmp -s - before || fail 'a fresh sample moves other rows'
grep -q '^34,.*,used,' out || fail 'a fresh sample is not used'
# nothing stated at all: the blank is believed
grep -v '^ipa,solids' solvent-bench.csv >silent.csv
printf '%s\n2026-03-02T08:00,clear,0,non-volatile residue,30,mg/L\n' "$head" >blank.csv
holds 30 27.06 32.94 silent.csv blank.csv
# dumps are no samples
printf '%s\n2026-03-02T08:00,clear,fresh,dump,,\n2026-03-02T08:00,clear,1,non-volatile residue,1,mg/L\n' "$head" >bad.csv
expect 3 solvent-bench.csv bad.csv
grep -q "bad.csv:2: loads: 'fresh' is not a whole number of loads" err || fail "a fresh dump: $(cat err)"
exit $failed
