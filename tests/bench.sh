#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# bench.sh: which figures of a bench are others than the kept ones; by values that are made up, with
# what is to be said of each beside them.
set -u
source=${DREGS_SOURCE:-.}
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT HUP INT TERM
failed=0
head='value,ratio,unit,machine,compiler,commit,figure'

# two runs that were kept: the march from 10 to 12; the rest once, on this machine or another
cat >"$scratch/kept" <<END
$head
10,5.0,ns,box,cc 1,aaa,"march, 1,000 loads, ns"
100,-,ms,box,cc 1,aaa,"start, ms"
40,-,MB/s,box,cc 1,aaa,"read, MB/s"
7,-,ms,other,cc 1,aaa,"dry, ms"
$head
12,5.0,ns,box,cc 1,bbb,"march, 1,000 loads, ns"
END
# 11 lies within; 109 within 10 %; 35 is below 40 less 10 %; nothing is kept of dry on this machine
cat >"$scratch/now" <<END
$head
11,5.0,ns,box,cc 1,ccc,"march, 1,000 loads, ns"
109,-,ms,box,cc 1,ccc,"start, ms"
35,-,MB/s,box,cc 1,ccc,"read, MB/s"
7,-,ms,box,cc 1,ccc,"dry, ms"
END
cat >"$scratch/wanted" <<END
  read, MB/s: 35, kept 40
  1 of 3 figures are others than kept; 2 were kept once, with 10 % taken for their spread; 1 are not kept of this machine and compiler
END
sh "$source/bench/compare.sh" "$scratch/kept" "$scratch/now" >"$scratch/got"
cmp "$scratch/wanted" "$scratch/got" || {
    echo "FAILED: $(cat "$scratch/got")"
    failed=1
}
# 13 lies beyond 12
sed 's/^11,/13,/' "$scratch/now" >"$scratch/slow"
sh "$source/bench/compare.sh" "$scratch/kept" "$scratch/slow" |
    grep -q '^  march, 1,000 loads, ns: 13, kept 10 to 12$' || {
    echo 'FAILED: a march that takes longer is not told'
    failed=1
}
sh "$source/bench/compare.sh" "$scratch/none" "$scratch/now" >"$scratch/got" 2>/dev/null
if [ $? -ne 4 ] || [ -s "$scratch/got" ]; then
    echo 'FAILED: a kept file that is not there'
    failed=1
fi
exit $failed
