#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Structures that a program can have: each is classified in tests/abi.txt, with what lets it grow or
# why it never does. A new one fails until it stands there. See "What may grow" in libdregs(3).
set -eu
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
list=$source/tests/abi.txt
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
failed=0

fail()
{
    printf 'FAILED: %s\n' "$*"
    failed=1
}

# ---- the definitions, and the list ----
cat "$source"/lib/include/dregs/*.h >"$work/public"
sed -n 's/^typedef struct \([a-z0-9_]*\) {.*/\1/p' "$work/public" | sort >"$work/defined"
[ "$(wc -l <"$work/defined")" -gt 50 ] || fail 'the structures were not found'
# in no other form, which would not be seen here
sed 's|/\*.*||' "$work/public" | grep -E '^ *(typedef +)?(struct|union)( +[a-z0-9_]+)? *(\{|$)' |
    grep -v -E '^typedef struct [a-z0-9_]+ \{' >"$work/other" || :
while read -r line; do
    fail "a structure is not written as typedef struct NAME {: $line"
done <"$work/other"
sed -e 's/#.*//' -e '/^ *$/d' "$list" | awk '$1 != "counts" { print $2 }' | sort >"$work/listed"
comm -23 "$work/defined" "$work/listed" >"$work/new"
while read -r name; do
    fail "$name is not in tests/abi.txt: is it a value that never grows?"
done <"$work/new"
comm -13 "$work/defined" "$work/listed" >"$work/gone"
while read -r name; do
    fail "$name stands in tests/abi.txt, and is defined in no header or listed twice"
done <"$work/gone"

# ---- what a class asks for ----
sed -e 's/#.*//' -e '/^ *$/d' "$list" >"$work/rows"
while read -r class name last; do
    case $class in
    sized)
        grep -A 1 "^typedef struct $name {" "$work/public" | grep '^    size_t size;' >/dev/null ||
            fail "$name does not begin with its size"
        grep -E "DREGS_API void ${name}_init_of_size\\(" "$work/public" >/dev/null ||
            fail "$name has no ${name}_init_of_size"
        ;;
    filled)
        tr '\n' ' ' <"$work/public" | grep -E "_of_size\\([^;]*[ (]$name \\*[^;]*size_t size\\);" \
            >/dev/null || fail "$name is filled in by no function of its size"
        ;;
    pointed)
        # no function writes to one, and no other structure holds one
        grep -v '^ \*' "$work/public" | tr '\n' ' ' |
            grep -o -E "DREGS_API [^;{]*[(,] *$name \\*[a-z_]+[^;{]*;" | grep -v '_free(' \
            >"$work/takes" || :
        [ ! -s "$work/takes" ] || fail "$name is written to: $(cat "$work/takes")"
        ! grep -E "^    $name [a-z_]" "$work/public" >"$work/holds" ||
            fail "$name is inside another structure: $(cat "$work/holds")"
        ;;
    value)
        grep -E "^value $name +# .+" "$list" >/dev/null || fail "$name: no reason why it never grows"
        ;;
    counts)
        grep -B 1 "^} $name;" "$work/public" | grep -x "    $last" >/dev/null ||
            fail "$last is not the last name of $name, alone in its line"
        ;;
    room) ;;
    *) fail "$class is no class" ;;
    esac
done <"$work/rows"

exit $failed
