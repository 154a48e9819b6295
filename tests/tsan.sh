#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# tsan.sh SRC BUILD: shared objects under the thread sanitizer: the library is compiled once more with
# it, with the generated tables of BUILD, and tests/threads.c run over the scenarios. No part of
# `make check`: it takes a minute.
set -eu
src=$1
build=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM

# the file names have no blanks
# shellcheck disable=SC2046
${CC:-cc} -g -O1 -std=c11 -D_GNU_SOURCE -DPACKAGE_VERSION='"tsan"' -fsanitize=thread \
    -I"$src/lib/include" -I"$src/lib" "$src/tests/threads.c" \
    $(find "$src/lib" "$build/lib" -name '*.c' | sort -u) \
    -lgsl -lgslcblas -lnlopt -ljansson -lcsv -lnettle -lm -lpthread -o "$work/threads"
data=$src/data
TSAN_OPTIONS=halt_on_error=1 "$work/threads" "$data/aqueous-line.csv" "$data/mixed-loads.csv" \
    "$data/week-rinse.csv" "$data/rinse-bench.csv,readings=$data/rinse-readings.csv" \
    "$data/solvent-bench.csv,readings=$data/solvent-readings.csv" \
    "$data/solvent-shop.csv,calendar=$data/calendar-2027.csv,purchases=$data/purchases.csv"
echo 'no data race found'
