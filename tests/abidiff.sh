#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# abidiff.sh SRC [COMMIT]: may a program that was built with the headers of the last release, or with
# those of COMMIT, run with the library of today? abidiff (Debian: abigail-tools) compares functions and
# types. What is new passes, and so does what tests/abi.txt lets grow. Anything else needs another soname:
# `-version-info` in lib/local.mk. By hand: `make abi-check`.
#
# All that a program knows of the library stands in the headers, and tests/headers.sh holds that the
# library exports what they declare. So each is read as a library whose functions do nothing, and
# nothing else has to be compiled. Not compared are the numbers that have no type: macros, and
# enumerations without a name.
set -eu
src=$(cd "$1" && pwd)
commit=${2:-$(git -C "$src" describe --tags --abbrev=0 --match 'v[0-9]*' 2>/dev/null || :)}
[ -n "$commit" ] || {
    echo 'abidiff.sh: nothing has been released (no tag v...); name a commit: make abi-check BASE=COMMIT' >&2
    exit 2
}
for tool in abidiff git; do
    command -v $tool >/dev/null 2>&1 || {
        echo "abidiff.sh: $tool is missing (Debian: git, abigail-tools)" >&2
        exit 2
    }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM

# shell_of TREE: TREE/shell.so with the functions that its headers declare, and its soname
shell_of()
{
    # what counts the names before it may move, and is no part of its enumeration here
    mkdir -p "$1/include/dregs"
    awk -v into="$1/include/dregs/" 'FNR == NR { if ($1 == "counts") counts[$3]; next }
        FNR == 1 { file = FILENAME; sub(/.*\//, into, file) }
        /^    [A-Z]/ { name = $1; sub(/,.*/, "", name) }
        /^    [A-Z]/ && name in counts { apart = "enum { " name " = " last " + 1 };"; next }
        { last = name; print >file }
        /^} / && apart { print apart >file; apart = "" }' "$src/tests/abi.txt" "$1"/lib/include/dregs/*.h
    soname=$(sed -n 's/^libdregs_la_LDFLAGS = .*-version-info \([0-9]*\):[0-9]*:\([0-9]*\).*/\1 \2/p' \
        "$1/lib/local.mk" | awk '{ print "libdregs.so." $1 - $2 }')
    [ -n "$soname" ] || {
        echo "FAILED: lib/local.mk does not tell the soname"
        exit 1
    }
    {
        (cd "$1/include" && printf '#include <%s>\n' dregs/*.h)
        # an attribute belongs to a declaration
        printf '#undef DREGS_FORMAT\n#define DREGS_FORMAT(string, first)\n'
        sed -n '/^DREGS_API/{
            :more
            /;$/!{
                N
                b more
            }
            s/;$/ { __builtin_trap(); }/p
        }' "$1"/include/dregs/*.h
        # types that no function names are a program's as well
        sed -n 's/^typedef \(enum\|struct\) \([a-z0-9_]*\) {.*/void shell_\2(\2 *at) { (void)at; }/p' \
            "$1"/include/dregs/*.h
    } >"$1/shell.c"
    ${CC:-cc} -g -std=c11 -fPIC -shared -I"$1/include" -Wl,-soname,"$soname" -o "$1/shell.so" "$1/shell.c"
    echo "$soname" >"$1/soname"
}

mkdir "$work/old" "$work/new"
git -C "$src" archive "$commit" lib/include lib/local.mk | tar -x -C "$work/old"
tar -c -C "$src" lib/include lib/local.mk | tar -x -C "$work/new"
shell_of "$work/old"
shell_of "$work/new"

# what may grow at its end
sed -n 's/^\(sized\|filled\|pointed\) \([a-z0-9_]*\).*/\2/p' "$src/tests/abi.txt" | while read -r name; do
    printf '[suppress_type]\nname = %s\ntype_kind = struct\nhas_data_member_inserted_at = end\n\n' "$name"
done >"$work/may-grow"
status=0
abidiff --no-added-syms --suppressions "$work/may-grow" "$work/old/shell.so" "$work/new/shell.so" \
    >"$work/differences" || status=$?
before=$(cat "$work/old/soname")
now=$(cat "$work/new/soname")
if [ "$status" -eq 0 ]; then
    echo "a program built with $commit runs with this library ($now)"
elif [ $((status & 3)) -ne 0 ]; then
    cat "$work/differences"
    echo 'FAILED: abidiff'
    exit 1
elif [ "$before" != "$now" ]; then
    echo "the interface has changed since $commit, and so has the soname: $before, $now"
else
    cat "$work/differences"
    echo "FAILED: the interface has changed since $commit, and the soname is still $now"
    exit 1
fi
