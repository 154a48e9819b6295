#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Each place that asks for memory is refused it, once: the tools end as they should (no_memory.c).
#
# With DREGS_MEMORY=all, as `make memory` has it, more commands, some minutes long.
#
# No command that writes a file: those that are tried share the files with the one that goes on.
#
# Known, and not held against the tools: gsl_linalg_LU_decomp (GSL 2.7), which every step of the
# stiff solver calls, does not look whether it got the few bytes of its permutation.
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
[ -z "${DREGS_SANITIZE:-}" ] || {
    echo "SKIP: the sanitizers have an allocator of their own"
    exit 77
}
tool=$build/.libs/dregs
[ -x "$tool" ] || tool=$build/dregs
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
# shellcheck disable=SC2086 # the compiler may come with words
${DREGS_CC:-cc} -std=c11 -D_GNU_SOURCE -O1 -shared -fPIC -o "$work/no_memory.so" \
    "$source/tests/no_memory.c" -ldl 2>"$work/why" || {
    echo "SKIP: no library to preload: $(head -n 1 "$work/why")"
    exit 77
}
LC_ALL=C
NO_MEMORY_WORK=$work
NO_MEMORY_LOG=$work/log
NO_MEMORY_WHOLE=$work/whole
LD_LIBRARY_PATH=$build/.libs${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH}
SOURCE_DATE_EPOCH=86400
export LC_ALL NO_MEMORY_WORK NO_MEMORY_LOG NO_MEMORY_WHOLE LD_LIBRARY_PATH SOURCE_DATE_EPOCH
failed=0
cd "$source/data" || exit 1

# refuse LEAST ARGUMENT...: at least so many places are tried, and none ends in another way
refuse()
{
    least=$1
    shift
    rm -f "$work/log"
    "$tool" "$@" >"$work/whole" 2>"$work/why" </dev/null
    NO_MEMORY_STATUS=$?
    export NO_MEMORY_STATUS
    LD_PRELOAD=$work/no_memory.so "$tool" "$@" >"$work/again" 2>"$work/why" </dev/null
    status=$?
    if [ $NO_MEMORY_STATUS -gt 1 ] || [ $status -ne $NO_MEMORY_STATUS ] ||
        ! cmp -s "$work/whole" "$work/again"; then
        echo "FAILED: $*: exit $NO_MEMORY_STATUS, and $status when watched"
        head -n 3 "$work/why"
        failed=1
    fi
    tried=$(sed -n 's/^tried \([0-9]*\),.*/\1/p' "$work/log")
    if [ "${tried:-0}" -lt "$least" ]; then
        echo "FAILED: $*: $tried places tried, $least expected"
        failed=1
    fi
    if grep -v -e gsl_linalg_LU_decomp -e '^tried' "$work/log"; then
        echo "FAILED: $*"
        failed=1
    fi
}

refuse 300 predict --draws 0 --format json aqueous-line.csv
refuse 300 predict --draws 0 --format html --check mixed-loads.csv
refuse 300 tally --draws 0 --law solvent-shop.csv
refuse 300 size --draws 0 --vary last.flow aqueous-line.csv
refuse 200 reuse rinse-bench.csv
refuse 200 dry --draws 0 solvent-bench.csv
refuse 50 liquid --format csv isopropanol
refuse 100 beaker parts --liquid isopropanol --beaker 100mL --drag-out 0.05mL --soil 1mg \
    --limit 1ug/cm2 --area 10cm2
if [ "${DREGS_MEMORY:-}" = all ]; then
    for format in text csv; do
        refuse 300 predict --draws 0 --format $format aqueous-line.csv
        refuse 300 tally --draws 0 --format $format solvent-shop.csv
    done
    refuse 300 predict --draws 0 --explain solvent-bench.csv
    refuse 300 predict --draws 40 --threads 1 week-rinse.csv
    refuse 300 size --draws 20 --threads 1 --vary last.flow --confidence 90% aqueous-line.csv
    refuse 300 size --draws 0 --vary last.flow --vary first.exchange aqueous-line.csv
    refuse 300 size --draws 0 --stages 1..3 aqueous-line.csv
    refuse 300 tally --draws 10 --threads 1 solvent-shop.csv
    refuse 300 tally --draws 0 --actual purchases.csv solvent-shop.csv
    refuse 300 tally --draws 0 --begin 2025-01 --law --actual ../tests/by-hand/log.csv \
        ../tests/by-hand/shop.csv
    refuse 300 reuse rinse-bench.csv rinse-readings.csv
    refuse 300 reuse --card rinse-bench.csv rinse-readings.csv
    refuse 300 reuse solvent-bench.csv solvent-readings.csv
    refuse 300 reuse --measure-drag-out rinse-bench.csv stopped-flow.csv
    refuse 300 dry --draws 10 --threads 1 solvent-bench.csv
    NO_MEMORY_ROWS=1
    export NO_MEMORY_ROWS # a row stands for a line file; those before it are whole
    refuse 200 predict --each --format csv aqueous-line.csv rinse-bench.csv
fi
exit $failed
