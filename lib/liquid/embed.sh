#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# embed.sh FILE NAME: writes to standard output a C source that holds FILE as the array of bytes
# NAME, with its length in NAME_length; builtin.h declares both.
# The output depends on the bytes of FILE, on its last name and on NAME only, so builds are
# repeatable.
set -eu
LC_ALL=C
export LC_ALL

if [ $# -ne 2 ]; then
    echo "usage: embed.sh FILE NAME >builtin.c" >&2
    exit 2
fi
if [ ! -f "$1" ] || [ ! -r "$1" ] || [ ! -s "$1" ]; then
    echo "embed.sh: '$1' is not a readable file with something in it" >&2
    exit 4
fi

echo '/* SPDX-License-Identifier: GPL-3.0-or-later */'
echo '/* Copyright (C) 2026 the dregs authors */'
echo "/* Made by embed.sh from ${1##*/}; edit that file instead. */"
echo '#include "liquid/builtin.h"'
echo
echo "const unsigned char $2[] = {"
od -An -v -tu1 <"$1" | sed -e 's/^ *//' -e 's/ *$//' -e 's/  */, /g' -e 's/$/,/' -e 's/^/    /'
echo '};'
echo
echo "const size_t ${2}_length = sizeof $2;"
