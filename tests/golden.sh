#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# golden.sh: what every tool prints, recorded from one build and compared with another.
#
#   tests/golden.sh record BUILD DIRECTORY    runs every command on the tools in BUILD
#   tests/golden.sh compare BUILD DIRECTORY   runs them again and shows what differs
#
# The commands: each tool in each of its formats over data/ and the line files of the tests. What
# is kept of each is its standard output, its standard error and its exit status. Recording an
# older build and comparing a newer one shows whether a change of structure changed an answer. It
# is no part of `make check`: it holds two builds against each other, not a build against the truth.
#
# GOLDEN_ONLY=PATTERN runs only the commands that the pattern (grep -E) finds.
# GOLDEN_SKIP=PATTERN passes over the differences of those commands.
set -u -o pipefail

if [ $# -ne 3 ] || { [ "$1" != record ] && [ "$1" != compare ]; }; then
    sed -n '2,14s/^# \{0,1\}//p' "$0" >&2
    exit 2
fi
task=$1
build=$(cd "$2" && pwd) || exit 4
mkdir -p "$3" || exit 4
kept=$(cd "$3" && pwd)
cd "$(dirname "$0")/.." || exit 4
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# the line files among the fuzzer's inputs, each without the byte that chooses its reader
for input in tests/corpus/line-*; do
    tail -c +2 "$input" >"$work/${input##*/line-}.csv"
done

formats='- --format=csv --format=json --format=html --explain'
export SOURCE_DATE_EPOCH=86400 # the day that html names

# of_line FILE: the commands that any line file is put through; without a number of draws, how many
# there are would hang on how fast the machine is
of_line() {
    local format
    for format in $formats; do
        format=${format#-}
        [ -z "$format" ] || format=-$format
        echo "dregs-predict --draws 200 $format $1"
        echo "dregs-predict --draws 200 --check --loads 7 $format $1"
        echo "dregs-dry --draws 0 $format $1"
        echo "dregs check $format $1"
        echo "dregs-tally --loads 20 $format $1"
    done
    echo "dregs-predict --draws 200 --at 3 --explain $1"
    echo "dregs-size --stages 1..2 --layout counterflow --format=csv $1"
}

# in_formats COMMAND...: a command in each format
in_formats() {
    local format
    for format in $formats; do
        format=${format#-}
        [ -z "$format" ] || format=-$format
        echo "$* $format"
    done
}

commands() {
    local file liquid view
    for file in data/aqueous-line.csv data/rinse-bench.csv data/solvent-bench.csv \
        data/solvent-shop.csv bench/bench-line.csv; do
        of_line "$file"
        in_formats dregs-size --stages 1..4 "$file"
        in_formats dregs-tally "$file"
        for view in stage liquid month drain energy form; do
            in_formats dregs-tally --by $view "$file"
        done
        in_formats dregs-tally --law "$file"
        in_formats dregs-tally --for month --from running "$file"
        in_formats dregs-dry --sweep temperature=20..60 "$file"
    done
    in_formats dregs-size --vary last.flow data/aqueous-line.csv
    in_formats dregs-size --vary last.flow bench/bench-line.csv
    in_formats dregs-size --vary last.flow --vary first.exchange data/aqueous-line.csv
    in_formats dregs-size --steady --vary last.flow=1..9L/h data/aqueous-line.csv
    in_formats dregs-size --loads 30 --check --vary last.exchange data/aqueous-line.csv
    in_formats dregs-size --at 12 --check --vary last.flow=1..2L/h data/aqueous-line.csv
    in_formats dregs-size --vary "'beaker.dump every'" data/solvent-bench.csv
    in_formats dregs-size --vary flush.flow data/solvent-shop.csv
    in_formats dregs-size --vary wash.exchange --vary flush.flow data/solvent-shop.csv
    in_formats dregs-predict --draws 200 --every 40 --loads 200 data/aqueous-line.csv
    in_formats dregs-predict --draws 200 --at 3 --at 12 data/solvent-bench.csv
    in_formats dregs-predict data/aqueous-line.csv data/rinse-bench.csv
    for file in data/rinse-readings.csv data/stopped-flow.csv data/purchases.csv; do
        in_formats dregs-reuse data/rinse-bench.csv $file
        in_formats dregs-reuse --measure-drag-out data/rinse-bench.csv $file
        echo "dregs-reuse --card data/rinse-bench.csv $file"
    done
    in_formats dregs-reuse --check --noise 5% --limit 0.3ug/cm2 data/rinse-bench.csv \
        data/rinse-readings.csv
    echo "dregs-reuse --card --limit 0.2ug/cm2 data/rinse-bench.csv data/rinse-readings.csv"
    in_formats dregs-tally --actual data/purchases.csv data/solvent-shop.csv
    in_formats dregs-tally --calendar data/calendar-2027.csv data/solvent-shop.csv
    in_formats dregs-tally --actual data/purchases.csv --year 2025 data/solvent-shop.csv
    in_formats dregs-tally data/solvent-shop.csv data/aqueous-line.csv
    in_formats dregs-tally --law --given captured=80% --given drain=waste \
        data/solvent-shop.csv
    in_formats dregs-dry --liquid isopropanol --film 20um --at 22degC --at 60degC
    in_formats dregs-dry --check --liquid isopropanol --film 20um --at 60degC --volume 50L \
        --fresh-air 1m3/h --area 1m2
    in_formats dregs-dry --check --liquid water --film 60um --at 70degC --recess-depth 5mm
    in_formats dregs-dry --liquid ethanol --share 70% --film 15um --at 40degC --humidity 80%
    in_formats dregs-dry --check --liquid trichloroethylene --film 15um --at 40degC
    in_formats dregs-dry --liquid acetone --film 20um --at 25degC --humidity 80%
    in_formats dregs-beaker parts --liquid isopropanol --beaker 200mL --drag-out 0.05mL --film 2g/L --limit 50mg/L
    in_formats dregs-beaker rinses --liquid isopropanol --total 100mL --drag-out 0.05mL --times 4
    in_formats dregs-beaker fresh --liquid isopropanol --drag-out 0.05mL --film 2g/L --limit 20mg/L --mixing 50%
    in_formats dregs-beaker open --liquid isopropanol --beaker 200mL --opening 7cm --after 14h
    in_formats dregs-beaker warm --liquid water --beaker 3L --power 100W --at 20degC --to 40degC
    in_formats dregs-beaker cool --mass 15g --area 20cm2 --heat-capacity steel --from 80degC
    in_formats dregs-liquid
    in_formats dregs-liquid no-such
    for liquid in $("$build/dregs-liquid" --format=csv 2>/dev/null | sed 1d | cut -d, -f1 |
        grep '^[a-z0-9-]*$' | sort -u) 'n-butyl acetate' 'isopropanol-water' 'ethanol-water'; do
        in_formats dregs-liquid "'$liquid'"
        in_formats dregs-liquid "'$liquid'" --at 25degC
    done
    in_formats dregs-liquid "'isopropanol-water'" --share 70% --at 25degC
    for file in "$work"/*.csv; do
        of_line "$file"
    done
}

# run NUMBER COMMAND: into $work/NUMBER
run() {
    local status=0
    printf '$ %s\n' "${2//$work/corpus}" >"$work/$1"
    (eval "timeout 60 $build/$2") >"$work/out" 2>"$work/err" </dev/null || status=$?
    {
        cat "$work/out"
        echo "--- standard error"
        cat "$work/err"
        echo "--- exit status $status"
    } | sed -e "s:$work/:corpus/:g" >>"$work/$1"
}

number=0 differ=0
while IFS= read -r command; do
    number=$((number + 1))
    name=$(printf '%s' "${command//$work\//corpus-}" | tr -c 'A-Za-z0-9._=\n-' '_')
    [ -z "${GOLDEN_ONLY:-}" ] || echo "$command" | grep -q -E -e "$GOLDEN_ONLY" || continue
    run result "$command"
    if [ "$task" = record ]; then
        cp "$work/result" "$kept/$name"
    elif [ ! -e "$kept/$name" ]; then
        echo "not recorded: $command"
        differ=$((differ + 1))
    elif ! cmp -s "$kept/$name" "$work/result"; then
        [ -z "${GOLDEN_SKIP:-}" ] || ! echo "$command" | grep -q -E -e "$GOLDEN_SKIP" || continue
        differ=$((differ + 1))
        echo "differs: $command"
        [ $differ -gt 20 ] || diff "$kept/$name" "$work/result" | head -n 20
    fi
done < <(commands)
echo "$number commands, $differ differ"
[ $differ -eq 0 ]
