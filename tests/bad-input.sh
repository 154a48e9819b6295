#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Bad input to dregs-predict: the exit status, nothing on standard output, messages with file and
# line. tests/faults/expected.txt lists what each file of tests/faults must be told.
set -eu
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
tool=$build/dregs-predict
[ -x "$tool" ] || {
    echo "FAILED: no $tool"
    exit 1
}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
failed=0
: >"$work/err"

fail()
{
    printf 'FAILED: %s\n' "$*"
    sed 's/^/    /' "$work/err"
    failed=1
}

# expect STATUS ARGUMENT...: the tool ends so, silent on stdout, every message with its prefix
expect()
{
    want=$1
    shift
    got=0
    "$tool" "$@" >"$work/out" 2>"$work/err" <"${input:-/dev/null}" || got=$?
    [ "$got" -eq "$want" ] || fail "$*: exit $got, expected $want"
    [ ! -s "$work/out" ] || fail "$*: something on standard output"
    [ -s "$work/err" ] || fail "$*: no message"
    if grep -v '^dregs-predict: ' "$work/err" >/dev/null; then
        fail "$*: a message without the tool's name"
    fi
    if LC_ALL=C tr -d '\n' <"$work/err" | LC_ALL=C grep '[[:cntrl:]]' >/dev/null; then
        fail "$*: control characters in a message"
    fi
}

says()
{
    grep -F -- "$1" "$work/err" >/dev/null || fail "not said: $1"
}

cd "$source/tests/faults"
for file in *.csv; do
    grep "^$file|" expected.txt >/dev/null || fail "$file is not in expected.txt"
    expect 3 "$file"
    [ "$(wc -l <"$work/err")" -le 21 ] || fail "$file: more than 20 faults and a last word"
    grep "^$file|" expected.txt >"$work/list"
    while IFS='|' read -r name line words; do
        prefix="dregs-predict: $name:${line:+$line:} "
        grep -F -- "$words" "$work/err" >"$work/hit" || :
        awk -v prefix="$prefix" 'index($0, prefix) == 1 { found = 1 } END { exit !found }' \
            "$work/hit" || fail "$name: not said: $prefix...$words"
    done <"$work/list"
    # messages come in the order of their lines
    sed -n "s/^dregs-predict: $file:\([0-9]*\): .*/\1/p" "$work/err" >"$work/lines"
    sort -n -c "$work/lines" 2>/dev/null || fail "$file: messages out of order"
done

cd "$work"
mkdir directory
expect 3 directory
says 'dregs-predict: directory: is a directory'
expect 4 missing.csv
says 'dregs-predict: missing.csv: '
expect 3 /dev/null
says 'dregs-predict: /dev/null: the file is empty'
expect 4 ''
if [ "$(id -u)" -ne 0 ]; then
    : >unreadable.csv
    chmod 000 unreadable.csv
    expect 4 unreadable.csv
    says 'dregs-predict: unreadable.csv: '
else
    echo 'not run: an unreadable file (root reads everything)'
fi

# one byte more than 4 MiB is too large, whatever it holds; up to that it is read
good=$source/data/aqueous-line.csv
{ cat "$good"; dd if=/dev/zero bs=65536 count=64 2>/dev/null | tr '\0' '\n'; } >large.csv
expect 3 large.csv
says 'dregs-predict: large.csv: larger than any line file'
dd if=large.csv of=fits.csv bs=65536 count=64 2>/dev/null
"$tool" fits.csv >fits.txt 2>"$work/err" || fail 'a file of 4 MiB is refused'
if [ -c /dev/zero ]; then
    expect 3 /dev/zero
    says 'larger than any line file'
fi

# binary garbage: the tool's own program and a stretch of every byte
expect 3 "$tool"
awk 'BEGIN { for (i = 255; i > 0; i--) printf "%c", i }' >bytes.csv
expect 3 bytes.csv

# standard input has a name of its own
input=$source/tests/faults/kind.csv
expect 3 -
says "dregs-predict: standard input:9: unknown kind 'rinze'"
input=/dev/null
expect 3 -
says 'dregs-predict: standard input: the file is empty'
mkdir -p sub
"$tool" - <sub >out 2>err && fail 'standard input is a directory' || [ $? -eq 4 ] ||
    fail 'standard input is a directory: not exit 4'
"$tool" - <&- >out 2>err && fail 'standard input is closed' || [ $? -ge 3 ] ||
    fail 'standard input is closed: not exit 3 or 4'

# the table of liquids
printf 'liquid,property,equation,unit,A,source\nwater,densty,A,kg/m3,998,own\nwater,density,A,kg,998,own\n' \
    >liquids.csv
expect 3 --liquids liquids.csv "$good"
says "dregs-predict: liquids.csv:2: unknown property 'densty' (nearest: 'density')"
says "dregs-predict: liquids.csv:3: "
input=liquids.csv
expect 3 --liquids - "$good"
says "dregs-predict: standard input:2: unknown property 'densty'"
input=/dev/null
expect 3 --liquids /dev/null "$good"
says 'dregs-predict: /dev/null:'
expect 3 --liquids directory "$good"
expect 4 --liquids missing.csv "$good"
says 'dregs-predict: missing.csv: '
expect 3 --liquids large.csv "$good"
says 'dregs-predict: large.csv: larger than any table of liquids'
# a fault of the line does not depend on what is asked
for option in --check --explain --format=csv --format=json --at=5 --every=3; do
    expect 3 "$option" "$source/tests/faults/ragged.csv"
done

# the name of a file may hold what a terminal obeys; it is shown as blanks
name=$(printf 'a\033[31m\302\233\342\200\256b.csv')
cp "$source/tests/faults/empty.csv" "$work/$name"
expect 3 "$work/$name"
expect 4 "$work/no-$name"
LC_ALL=C grep -e "$(printf '\302\233')" -e "$(printf '\342\200\256')" "$work/err" >/dev/null &&
    fail "the name of a file reaches the terminal as it is"

exit $failed
