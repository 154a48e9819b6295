#!/bin/sh
# embed.sh FILE: writes to standard output a C source that holds FILE as an array of bytes.
# The output depends on the bytes of FILE and on its last name only, so builds are repeatable.
set -eu
LC_ALL=C
export LC_ALL

if [ $# -ne 1 ]; then
    echo "usage: embed.sh FILE >builtin.c" >&2
    exit 2
fi
if [ ! -f "$1" ] || [ ! -r "$1" ] || [ ! -s "$1" ]; then
    echo "embed.sh: '$1' is not a readable file with something in it" >&2
    exit 4
fi

echo "/* Made by embed.sh from ${1##*/}; edit that file instead. */"
echo '#include "liquid/builtin.h"'
echo
echo 'const unsigned char dregs_liquids_builtin[] = {'
od -An -v -tu1 <"$1" | sed -e 's/^ *//' -e 's/ *$//' -e 's/  */, /g' -e 's/$/,/' -e 's/^/    /'
echo '};'
echo
echo 'const size_t dregs_liquids_builtin_length = sizeof dregs_liquids_builtin;'
