#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# texts.sh FILE...: writes to standard output a C source that holds each FILE.csv as a text of
# texts.h, by its last name. The output depends on the names and the bytes of the files only.
set -eu
LC_ALL=C
export LC_ALL

for file; do
    if [ ! -f "$file" ] || [ ! -r "$file" ] || [ ! -s "$file" ]; then
        echo "texts.sh: '$file' is not a readable file with something in it" >&2
        exit 4
    fi
done

echo '/* SPDX-License-Identifier: GPL-3.0-or-later */'
echo '/* Copyright (C) 2026 the dregs authors */'
echo '/* Made by texts.sh from the files of data/; edit those instead. */'
echo '#include "texts.h"'
count=0
for file; do
    count=$((count + 1))
    echo
    echo "/* ${file##*/} */"
    echo "static const unsigned char text_${count}[] = {"
    od -An -v -tu1 <"$file" | sed -e 's/^ *//' -e 's/ *$//' -e 's/  */, /g' -e 's/$/,/' -e 's/^/    /'
    echo '};'
done
echo
echo 'const struct text texts[] = {'
count=0
for file; do
    count=$((count + 1))
    name=${file##*/}
    case $file in
    */templates/*) template=1 ;;
    *) template=0 ;;
    esac
    echo "    {\"${name%.csv}\", $template, text_$count, sizeof text_$count},"
done
echo '};'
echo
echo 'const size_t text_count = sizeof texts / sizeof texts[0];'
