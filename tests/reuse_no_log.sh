#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-reuse without a reading: after how many loads to dump, by the line and its spreads alone.
set -eu
name=dregs-reuse
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
cp "$source/data/rinse-bench.csv" "$source/data/solvent-bench.csv" .
chmod u+w ./*.csv
head=time,stage,loads,quantity,value,unit

good rinse-bench.csv
sed -n 1p out | grep -E -q "^dump 'first' and 'last' together every [0-9]+ loads; plan on [0-9]+ \(95 %: [0-9]+ to [0-9]+\)$" ||
    fail "the first line: $(sed -n 1p out)"
prints "with 'bath' changed every 200 loads, as rinse-bench.csv says"
! grep -q 'estimates from the log' out || fail 'estimates without a log'
for form in json html; do
    good --format $form rinse-bench.csv
done
good --card rinse-bench.csv
prints 'BENCH CARD   rinse-bench.csv   without a log'
! grep -E '<- dump|next fill' out >/dev/null || fail 'the card of tanks that are dumped together dumps one'
prints "dump 'first' and 'last' together every"
good --explain rinse-bench.csv

# With next to no doubt the count is what dregs-predict finds when the file dumps both rinses as
# often: that many loads meet the limit at their worst in the long run, one more does not.
awk -F, -v OFS=, '$5 == "25%" || $5 == "40%" { $5 = "1%" } 1' rinse-bench.csv >sharp.csv
good --format json sharp.csv
loads=$(sed -n 's/.*"loads_between_dumps": *\([0-9]*\).*/\1/p' out)
[ "${loads:-0}" -gt 0 ] || fail 'no loads_between_dumps'
predict=${tool%dregs-reuse}dregs-predict
for more in 0 2; do
    {
        cat sharp.csv
        for stage in first last; do
            echo "$stage,dump every,$((loads + more)),,,"
        done
    } >dumped.csv
    got=0
    "$predict" --check dumped.csv >out 2>err || got=$?
    [ $got -eq $((more > 0)) ] || fail "dumped every $((loads + more)) loads: dregs-predict exits $got"
done
# more doubt, a wider range about it
good --format json rinse-bench.csv
python3 - "$loads" <<'END' || fail 'the range'
import json, sys
f = json.load(open('out'))['figures']
assert f['loads_between_dumps_low'] < int(sys.argv[1]) < f['loads_between_dumps_high']
assert f['loads_between_dumps_low'] <= f['loads_between_dumps'] <= f['loads_between_dumps_high']
END

# dump rows only: of the tanks that the log speaks of
printf '%s\n2026-03-02T08:00,last,20,dump,,\n' "$head" >dumps.csv
good rinse-bench.csv dumps.csv
sed -n 1p out | grep -q "^dump 'last' every [0-9]* loads; plan on " || fail "dumps only: $(sed -n 1p out)"
# a limit that nothing meets, and none at all
good --limit '0.01 ug/cm2' rinse-bench.csv
sed -n 1p out | grep -q '^not even fresh liquid is enough: a load leaves ' || fail "$(sed -n 1p out)"
expect 1 --check --limit '0.01 ug/cm2' rinse-bench.csv
grep -v '^limit' rinse-bench.csv >aimless.csv
expect 3 aimless.csv
good solvent-bench.csv
prints "dump 'dip' and 'clear' together every "
exit $failed
