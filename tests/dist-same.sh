#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dist-same.sh ARCHIVE: a release archive is packed once more from what it holds, in another folder,
# later, with another umask, time zone and language; both must be the same, byte for byte. Of a
# checkout the archive must hold all that is tracked. No part of `make check`: `make dist-same` runs it.
set -eu
source=$(cd "$(dirname "$0")/.." && pwd)
archive=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
name=$(basename "$archive" .tar.xz)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
# what the make around it says to its children is not meant for a tree of its own
unset MAKEFLAGS MFLAGS MAKELEVEL SOURCE_DATE_EPOCH

cd "$work"
tar -xf "$archive"
(
    umask 077
    mkdir "$work/other-build"
    cd "$work/other-build"
    TZ=Pacific/Auckland LC_ALL=C.UTF-8
    export TZ LC_ALL
    "$work/$name/configure" --quiet && ${MAKE:-make} -s dist
) >"$work/log" 2>&1 || {
    tail -n 20 "$work/log"
    echo 'FAILED: the archive packed from the archive'
    exit 1
}
if [ -e "$source/.git" ]; then
    tar -tf "$archive" | sed 's|^[^/]*/||' | sort >"$work/held"
    git -C "$source" ls-files | sort | comm -23 - "$work/held" >"$work/lacking"
    if [ -s "$work/lacking" ]; then
        sed 's/^/    /' "$work/lacking"
        echo 'FAILED: the archive does not hold this'
        exit 1
    fi
fi
# something that could have differed: the times of the files are not that of now
if [ "$(tar -tvf "$archive" | awk '{ print $4, $5 }' | sort -u | wc -l)" -ne 1 ]; then
    echo 'FAILED: the files of the archive bear more than one time'
    exit 1
fi
if ! cmp "$archive" "$work/other-build/$name.tar.xz"; then
    tar -tvf "$archive" >"$work/first"
    tar -tvf "$work/other-build/$name.tar.xz" >"$work/second"
    diff "$work/first" "$work/second" | head -n 10 || :
    echo 'FAILED: two archives of one state differ'
    exit 1
fi
echo "two archives of one state are the same: $(sha256sum <"$archive" | cut -c 1-16)"
