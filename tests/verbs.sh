#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# One program for all tools: as a verb, by its old name, by a link; what it says of itself.
set -eu
name=dregs
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

verbs='predict size dry reuse tally liquid beaker'

# each verb is listed, has its options, and answers as the tool of the old name does
good help
cp out list
good --help
cmp -s out list || fail '--help is not help'
good -h
cmp -s out list || fail '-h is not help'
for verb in $verbs; do
    grep "^  $verb " list >/dev/null || fail "$verb is not listed"
    good help "$verb"
    grep "^usage: dregs $verb " out >/dev/null || fail "help $verb: not its usage"
    cp out verb
    good "$verb" --help
    cmp -s out verb || fail "$verb --help is not help $verb"
    "$build/dregs-$verb" --help >old 2>err </dev/null || fail "dregs-$verb --help"
    sed "s/^usage: dregs-$verb /usage: dregs $verb /" old >renamed
    cmp -s renamed verb || fail "dregs-$verb --help differs by more than its name"
    # whoever calls it hears the name that was called
    expect 2 "$verb" --no-such-option
    grep -x "dregs $verb: unknown option '--no-such-option'" err >/dev/null || fail "$verb: name"
    grep -x "try 'dregs $verb --help'" err >/dev/null || fail "$verb: hint"
done
good predict --draws 0 line.csv
"$build/dregs-predict" --draws 0 line.csv >old || fail 'dregs-predict'
cmp -s out old || fail 'dregs predict and dregs-predict differ'
# by a link, from anywhere: the name of the link decides. libtool's script stands in its way here.
program=$build/.libs/dregs
[ -x "$program" ] || program=$build/dregs
ln -s "$program" dregs-predict
LD_LIBRARY_PATH=$build/.libs${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH} ./dregs-predict --draws 0 line.csv \
    >out 2>err || fail 'a link dregs-predict'
cmp -s out old || fail 'a link dregs-predict answers otherwise'

# help in groups, with one example, the exit statuses, and no line beyond 80 columns or a terminal's
for verb in '' $verbs new check example; do
    # shellcheck disable=SC2086
    good help $verb
    [ "$(grep -c '^Example: ' out)" -eq 1 ] || fail "help $verb: not one example"
    prints 'Exit status: 0 done,'
    [ "$(wc -L <out)" -le 80 ] || fail "help $verb: $(wc -L <out) columns"
    [ -z "$verb" ] || grep -x 'Besides:' out >/dev/null || fail "help $verb: no groups"
    # the example runs, anywhere
    awk '/^Example: / { on = 1; sub(/^Example: /, "") } /^Exit status/ { on = 0 } on' out | tr '\n' ' ' >example.sh
    (PATH=$build:$PATH sh ./example.sh >answered 2>err) || fail "example of $verb: exit $?: $(cat example.sh)"
    [ -s answered ] || fail "example of $verb says nothing"
    if [ -n "$verb" ]; then
        expect 0 "$verb" -h
        cp out short
        expect 0 "$verb" --help
        cmp -s out short || fail "$verb -h is not $verb --help"
        good "$verb" -V
    fi
done
if command -v script >/dev/null 2>&1; then
    for columns in 40 60 100; do
        script -qec "stty cols $columns; '$tool' help predict" /dev/null </dev/null >out 2>err || :
        tr -d '\r' <out >plain
        grep '^usage: ' plain >/dev/null || fail "help on a terminal of $columns columns"
        [ "$(wc -L <plain)" -le "$columns" ] || fail "help: $(wc -L <plain) of $columns columns"
    done
else
    echo 'not run: help on a terminal (Debian: bsdutils)'
fi

for option in -V --version; do
    good $option
    sed -n 1p out | grep -x 'dregs [0-9.]*' >/dev/null || fail "$option: no version"
done
misuse 'no verb given'
misuse "'wash' is no verb; the verbs: new, check, predict, size, " wash line.csv
misuse "unknown option '--nothing'" --nothing
misuse "'wash' is no verb" help wash
misuse 'help of one verb at a time' help size dry
expect 4 predict no-such-line.csv
grep '^dregs predict: no-such-line.csv: ' err >/dev/null || fail 'a file that is not there'
if [ -w /dev/full ]; then
    got=0
    "$tool" help >/dev/full 2>err || got=$?
    [ "$got" -eq 4 ] || fail "help to a full disk: exit $got"
fi
# verbs without a page of their own refer to one that there is
for verb in example complete; do
    good $verb --help
    grep -F 'The manual: man dregs.' out >/dev/null || fail "$verb --help: which manual?"
done
exit $failed
