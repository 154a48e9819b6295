#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# What pictures show is what the same tool says; the pictures that are kept as examples in
# man/pictures are those that the tools draw today.
set -eu
name=dregs-predict
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

/usr/bin/python3 "$source/tests/pictures.py" shown "$build" "$source" >err 2>&1 ||
    fail 'a picture shows something else'

sh "$source/man/pictures.sh" "$build" "$source" "$work/new" 2>err || fail 'pictures.sh'
for picture in "$source"/man/pictures/*.svg; do
    new=new/${picture##*/}
    [ -f "$new" ] || fail "$picture is drawn by no tool"
    /usr/bin/python3 "$source/tests/pictures.py" same "$picture" "$new" >err 2>&1 ||
        fail "$picture is out of date: make pictures"
done
for new in new/*.svg; do
    [ -f "$source/man/pictures/${new##*/}" ] || fail "$new is not kept: make pictures"
done
exit $failed
