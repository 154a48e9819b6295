#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# run.sh SRC BUILD: the speed of the library beside the same model in NumPy, in one run.
#
# BENCH_OUT gets the figures as CSV, behind what it holds already (BUILD/bench.csv, written anew, when it is
# not set). With BENCH_KEPT, such a file of before, those are listed that are others than kept.
# A slow machine is no fault: only what cannot be measured at all ends with a status.
set -eu
LC_ALL=C
export LC_ALL

src=$1
build=$(cd "$2" && pwd)
line=$src/bench/bench-line.csv
demo=$src/data/aqueous-line.csv
scratch=$(mktemp -d)
now=$scratch/now.csv
# what was measured is kept also where something disagreed
finish() {
    if [ -s "$now" ]; then
        cat "$now" >>"$out"
        echo "  figures: $out"
        [ -z "${BENCH_KEPT:-}" ] || "${SHELL:-sh}" "$src/bench/compare.sh" "$BENCH_KEPT" "$now"
    fi
    rm -rf "$scratch"
}
trap finish EXIT
trap 'exit 1' HUP INT TERM

# Debian's own Python is the one that python3-numpy belongs to
python=
for candidate in /usr/bin/python3 python3; do
    if "$candidate" -c 'import numpy' >/dev/null 2>&1; then
        python=$candidate
        break
    fi
done
peer=$src/bench/peer.py
PYTHONDONTWRITEBYTECODE=1
# one thread each: the library has one, and matrices this small gain nothing from more
OPENBLAS_NUM_THREADS=1
OMP_NUM_THREADS=1
export PYTHONDONTWRITEBYTECODE OPENBLAS_NUM_THREADS OMP_NUM_THREADS

# the programs themselves, not the scripts libtool puts before them
here() {
    if [ -x "$build/.libs/$1" ]; then echo "$build/.libs/$1"; else echo "$build/$1"; fi
}
LD_LIBRARY_PATH=$build/.libs${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH}
export LD_LIBRARY_PATH
bench=$(here bench-march)
# one program is all tools, by the name it is called by
ln -s "$(here dregs)" "$scratch/dregs-predict"
ln -s "$(here dregs)" "$scratch/dregs-reuse"
predict=$scratch/dregs-predict

# the figures with where they were measured; a cell of CSV has no comma and no quote
cell() {
    tr -d '\n",' | tr -s ' ' | cut -c1-80
}
out=${BENCH_OUT:-$build/bench.csv}
[ -n "${BENCH_OUT:-}" ] || : >"$out"
machine=$( (uname -m; sed -n 's/^model name[^:]*: */ /p' /proc/cpuinfo 2>/dev/null | head -n 1) | cell)
compiler=$( (${BENCH_CC:-cc} --version 2>/dev/null || echo unknown) | head -n 1 | cell)
commit=$(git -C "$src" describe --always --dirty 2>/dev/null || echo -)
echo 'value,ratio,unit,machine,compiler,commit,figure' >"$now"

# row WHAT DREGS PEER TARGET [least]; '-' where there is no peer. The target is the most that is
# allowed, with `least` the least; a ratio above 1 is in favour of dregs either way.
row() {
    awk -v what="$1" -v mine="$2" -v peer="$3" -v target="$4" -v least="${5-}" -v now="$now" \
        -v where="$machine,$compiler,$commit" 'BEGIN {
        ratio = "-"
        if (peer != "-") {
            ratio = sprintf("%.1f", least ? mine / peer : peer / mine)
            peer = sprintf("%.4g", peer)
        }
        met = least ? mine >= target + 0 : mine <= target + 0
        printf "%-42s %10s %10s %8s  %s %-6s %s\n", what, sprintf("%.4g", mine), peer, ratio,
               least ? ">=" : "<=", target, met ? "met" : "missed"
        unit = what
        sub(/ [(]peer: .*/, "", unit)
        sub(/.*, /, "", unit)
        printf "%.6g,%s,%s,%s,\"%s\"\n", mine, ratio, unit, where, what >>now
    }'
}

# agreement WHAT FILE: the peer says how far what it found lies from the library's
agreement() {
    awk -v what="$1" '{
        printf "  %s: agree within %.1e, %s 1e-9\n", what, $2, $2 <= 1e-9 ? "below" : "NOT below"
        exit !($2 <= 1e-9)
    }' "$2"
}

[ -n "$python" ] || echo "bench: no Python with NumPy here (Debian: python3-numpy), so no peer"
printf '%-42s %10s %10s %8s  %s\n' what dregs NumPy ratio target

"$bench" march "$line" 1000000 >"$scratch/march"
theirs=-
if [ -n "$python" ]; then
    # the peer takes its time: a tenth of the loads tells as much
    "$bench" march "$line" 100000 >"$scratch/march-less"
    "$python" "$peer" march "$line" 100000 "$scratch/march-less" >"$scratch/march-peer"
    theirs=$(cut -d' ' -f1 "$scratch/march-peer")
fi
row 'march 1e6 loads, ns per load and stage' "$(cut -d' ' -f1 "$scratch/march")" "$theirs" 100

"$bench" at "$line" 1000000000 >"$scratch/at"
theirs=-
if [ -n "$python" ]; then
    "$python" "$peer" at "$line" 1000000000 "$scratch/at" >"$scratch/at-peer"
    theirs=$(cut -d' ' -f1 "$scratch/at-peer")
fi
row 'straight to load 1e9, ms' "$(cut -d' ' -f1 "$scratch/at")" "$theirs" 5

"$bench" start 50 "$predict" --draws 0 "$demo" >"$scratch/start"
theirs='- -'
if [ -n "$python" ]; then
    theirs=$("$bench" start 20 "$python" "$peer" predict "$demo")
fi
row 'the demo, start to end, ms' "$(cut -d' ' -f1 "$scratch/start")" "${theirs% *}" 20
mib() {
    case $1 in
    -) echo - ;;
    *) awk -v kib="$1" 'BEGIN { print kib / 1024 }' ;;
    esac
}
row 'the demo, most memory, MiB' "$(mib "$(cut -d' ' -f2 "$scratch/start")")" \
    "$(mib "${theirs#* }")" 20

size=$(here bench-size)
"$size" one "$demo" last flow >"$scratch/one"
theirs=-
if [ -n "$python" ] && "$python" -c 'import scipy.optimize' >/dev/null 2>&1; then
    "$python" "$src/bench/size_peer.py" "$demo" last "$scratch/one" >"$scratch/one-peer"
    theirs=$(cut -d' ' -f1 "$scratch/one-peer")
fi
row 'one flow for the target, ms (peer: SciPy)' "$(cut -d' ' -f1 "$scratch/one")" "$theirs" 5
"$size" table "$demo" 6 >"$scratch/table"
row 'seven layouts of 1 to 6 rinses, ms' "$(cut -d' ' -f1 "$scratch/table")" - 300
"$size" dumps "$src/data/solvent-bench.csv" beaker dip clear >"$scratch/dumps"
row 'three dump periods for the target, ms' "$(cut -d' ' -f1 "$scratch/dumps")" - 5000
[ "$theirs" = - ] || awk '{
    printf "  the flow: agrees within %.1e, %s 1e-5\n", $3, $3 <= 1e-5 ? "below" : "NOT below"
    exit !($3 <= 1e-5)
}' "$scratch/one-peer"

dry=$(here bench-dry)
"$dry" >"$scratch/dry"
theirs=-
if [ -n "$python" ] && "$python" -c 'import scipy.integrate' >/dev/null 2>&1; then
    "$python" "$src/bench/dry_peer.py" "$src/data/liquids.csv" "$src/data/mixtures.csv" \
        "$scratch/dry" >"$scratch/dry-peer"
    theirs=$(cut -d' ' -f1 "$scratch/dry-peer")
fi
row 'a film that dries, ms (peer: SciPy)' "$(cut -d' ' -f1 "$scratch/dry")" "$theirs" 2
[ "$theirs" = - ] || awk '{
    printf "  the drying time: agrees within %.1e, %s 1e-4\n", $3, $3 <= 1e-4 ? "below" : "NOT below"
    exit !($3 <= 1e-4)
}' "$scratch/dry-peer"

# a quarter of a million loads: one every 2 min, 230 in each of 3 shifts on 362 days
tally=$(here bench-tally)
sed 's/^rack,interval,5.5,/rack,interval,2,/' "$line" >"$scratch/fast.csv"
"$tally" "$scratch/fast.csv" 230 3 362 >"$scratch/tally"
theirs=-
if [ -n "$python" ]; then
    "$python" "$src/bench/tally_peer.py" "$scratch/fast.csv" 690 362 "$scratch/tally" >"$scratch/tally-peer"
    theirs=$(cut -d' ' -f1 "$scratch/tally-peer")
fi
row 'a year by months, 249,780 loads, ms' "$(cut -d' ' -f1 "$scratch/tally")" "$theirs" 50
[ "$theirs" = - ] || row 'the same, times as fast as NumPy' \
    "$(echo "$theirs $(cut -d' ' -f1 "$scratch/tally")" | awk '{ print $1 / $2 }')" - 10 least
[ "$theirs" = - ] || awk '{
    printf "  the year: agrees within %.1e, %s 1e-9\n", $3, $3 <= 1e-9 ? "below" : "NOT below"
    exit !($3 <= 1e-9)
}' "$scratch/tally-peer"

# 10,000 draws of the values with a spread: what the worst load leaves, in processor time
ensemble=$(here bench-ensemble)
"$ensemble" draws "$demo" 10000 >"$scratch/draws"
theirs=-
if [ -n "$python" ]; then
    "$ensemble" values "$demo" 500 >"$scratch/values"
    "$python" "$src/bench/ensemble_peer.py" "$demo" 10000 "$scratch/values" >"$scratch/draws-peer"
    theirs=$(cut -d' ' -f1 "$scratch/draws-peer")
fi
row 'worst load of 10,000 draws, ms' "$(cut -d' ' -f1 "$scratch/draws")" "$theirs" 500
if [ "$theirs" != - ]; then
    row 'the same, times as fast as NumPy' \
        "$(echo "$theirs $(cut -d' ' -f1 "$scratch/draws")" | awk '{ print $1 / $2 }')" - 10 least
    agreement 'residues of 500 draws' "$scratch/draws-peer"
fi
"$ensemble" draws "$src/data/rinse-bench.csv" 10000 >"$scratch/draws-still"
row 'the same of still rinses, ms' "$(cut -d' ' -f1 "$scratch/draws-still")" - 1000

# from load to load: eight tanks with eleven values that vary, in pairs
awk -F, -v OFS=, 'NR == 1 { print $0, "varies"; next }
    /^#/ { next }
    { varies = $2 == "on parts" ? "40%" : $2 ~ /^(drag-out|flow|film)$/ ? "10%" : ""
      print $1, $2, $3, $4, $5, $6, varies }
    END { print "goal,kind,target,,,,\ngoal,residue,900,ug/cm2,,," }' "$line" >"$scratch/varies.csv"
"$bench" start 5 "$predict" --each "$scratch/varies.csv" >"$scratch/scatter"
row 'scatter of 11 values over 8 tanks, ms' "$(cut -d' ' -f1 "$scratch/scatter")" - 200

# the whole answer, and more draws for the memory
row 'how sure, 10,000 draws on one core, ms' \
    "$("$bench" start 3 "$predict" --threads 1 --draws 10000 "$demo" | cut -d' ' -f1)" - 500
# with so many that the start, which takes one core alone, is little of it; beside it, what the two
# cores give to two programs that have nothing in common
many="$predict --draws 200000 $demo"
# shellcheck disable=SC2086 # words
one=$("$bench" start 3 $many --threads 1)
# shellcheck disable=SC2086
two=$("$bench" start 3 $many --threads 2)
# shellcheck disable=SC2086
"$bench" start 3 $many --threads 1 >"$scratch/beside" &
# shellcheck disable=SC2086
apart=$("$bench" start 3 $many --threads 1)
wait $!
row 'on two cores, share (peer: two programs)' "$(echo "$one $two" | awk '{ print $1 / $3 / 2 }')" \
    "$(echo "$one $apart" | awk '{ print $1 / $3 }')" 0.9 least
row 'the same, most memory, MiB' "$(mib "$(echo "$two" | cut -d' ' -f2)")" - 32

# a log of so many rows, half a gigabyte, beside an awk that only splits it and adds one column
rows=${BENCH_ROWS:-10000000}
rinse=$src/data/rinse-bench.csv
reuse=$scratch/dregs-reuse
readings=$(here bench-readings)
log=$scratch/log.csv
"$readings" write "$rows" >"$log"
bytes=$(wc -c <"$log")
speed() {
    awk -v bytes="$bytes" -v ms="$1" 'BEGIN { print bytes / ms / 1e3 }'
}
# shellcheck disable=SC2016 # the dollar is for awk
"$bench" start 3 awk -F, '{s+=$5} END {print s}' "$log" >"$scratch/log-awk"
"$readings" read "$rinse" "$log" >"$scratch/log-read"
"$bench" start 3 "$reuse" --check "$rinse" "$log" >"$scratch/log-reuse"
theirs=$(speed "$(cut -d' ' -f1 "$scratch/log-awk")")
row "$rows rows read, MB/s (peer: awk)" "$(speed "$(cut -d' ' -f1 "$scratch/log-read")")" \
    "$theirs" 100 least
row 'the same and its answer, MB/s (peer: awk)' \
    "$(speed "$(cut -d' ' -f1 "$scratch/log-reuse")")" "$theirs" 100 least
row 'the same, most memory, MiB (peer: awk)' "$(mib "$(cut -d' ' -f2 "$scratch/log-reuse")")" \
    "$(mib "$(cut -d' ' -f2 "$scratch/log-awk")")" 32
rm -f "$log"
echo '  the answer by the length of the log, which rests on at most 16384 rows, the last of a longer one'
printf '    %-26s %8s %8s %12s  %s\n' '' kept changes 'processor ms' 'exponent of kept rows, from the first'
"$readings" grow "$rinse" | awk -F'\t' '{ printf "    %-26s %8s %8s %12s  %s\n", $1, $2, $3, $4, $5 == "nan" ? "-" : $5 }'

if [ -n "$python" ]; then
    agreement 'masses after 1e5 loads' "$scratch/march-peer"
    agreement 'masses before load 1e9' "$scratch/at-peer"
fi
awk -v rows="$rows" -v bytes="$bytes" -v read="$(cut -d' ' -f2 "$scratch/log-read")" 'BEGIN {
    printf "  the log: %d rows written, %d read, %.0f MB\n", rows, read, bytes / 1e6
    exit read != rows
}'
version=$(awk -W version 2>/dev/null </dev/null | head -n 1)
echo "  awk: ${version:-$(readlink -f "$(command -v awk)")}"
