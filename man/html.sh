#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# html.sh MANDOC SOURCE FOLDER: the manual pages as HTML, each with its pictures below, and an index.
set -eu
mandoc=$1 source=$2 folder=$3

mkdir -p "$folder/pictures"
cp "$source"/man/pictures/*.svg "$folder/pictures/"

# what a picture says of itself
title()
{
    sed -n 's/.*<title id="[^"]*">\(.*\)<\/title>.*/\1/p' "$1" | sed 1q
}

begin()
{
    printf '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">\n'
    printf '<meta name="viewport" content="width=device-width,initial-scale=1">\n'
    printf '<title>%s</title>\n<style>%s</style></head>\n<body><main>\n' "$1" \
        'body{font:16px/1.5 sans-serif;max-width:52rem;margin:0 auto;padding:1rem;color:#1a1a1a;background:#fff}pre,code{overflow-x:auto;font-size:.9em}img{max-width:100%;height:auto}table{border-collapse:collapse}.head,.foot{width:100%}dt{font-weight:bold}a.permalink{color:inherit;text-decoration:none}@media screen and (prefers-color-scheme:dark){body{color:#f0f0f0;background:#15181b}a{color:#8ec8f2}}'
}

# figures TOOL
figures()
{
    sh "$source/man/pictures.sh" --list | while read -r picture tool; do
        [ "$tool" = "$1" ] || continue
        printf '<figure><img src="pictures/%s.svg" alt="%s"></figure>\n' "$picture" \
            "$(title "$source/man/pictures/$picture.svg")"
    done
}

for page in "$source"/man/*.[1-9]; do
    name=$(basename "$page")
    tool=${name#dregs-}
    {
        begin "$name"
        "$mandoc" -Thtml -Ofragment,man=%N.%S.html "$page"
        figures "${tool%.1}"
        echo '<p><a href="index.html">All pages</a></p></main></body></html>'
    } >"$folder/$name.html"
done

{
    begin 'dregs: manual pages'
    echo '<h1>dregs: manual pages</h1><ul>'
    for page in "$source"/man/*.[1-9]; do
        name=$(basename "$page")
        printf '<li><a href="%s.html">%s</a>: %s</li>\n' "$name" "$name" \
            "$(sed -n 's/^\.Nd //p' "$page")"
    done
    echo '</ul><h2>Pictures</h2>'
    for tool in predict size dry reuse tally liquid beaker; do
        printf '<h3>dregs-%s</h3>\n' "$tool"
        figures "$tool"
    done
    echo '</main></body></html>'
} >"$folder/index.html"
