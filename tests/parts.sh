#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Runs of dregs-predict in parts: --shard, --save, --merge.
set -eu
name=dregs-predict
# shellcheck source=tests/tool.sh disable=SC1091
. "${DREGS_SOURCE:-.}/tests/tool.sh"

misuse "--shard '5/4' is not a part such as 3/64" --draws 9 --shard 5/4 --save p line.csv
misuse "--shard '0/4' is not a part" --draws 9 --shard 0/4 --save p line.csv
misuse "--shard '3' is not a part" --draws 9 --shard 3 --save p line.csv
misuse '--shard goes with --draws and --save' --draws 9 --shard 1/4 line.csv
misuse '--shard goes with --draws and --save' --shard 1/4 --save p line.csv
misuse '--shard: more parts than draws' --draws 9 --shard 1/10 --save p line.csv
misuse '--save goes with --draws' --save p line.csv
misuse '--save goes with --draws' --draws 9 --check --save p line.csv
misuse '--merge: no part is named' --merge line.csv
misuse '--merge takes draws and seed from the parts' --merge --draws 9 line.csv p
[ ! -e p ] || fail 'a part was written all the same'

# refused STATUS WORDS ARGUMENT...
refused()
{
    want=$1
    words=$2
    shift 2
    expect "$want" "$@"
    [ ! -s out ] || fail "$*: something on standard output"
    grep -F -- "$words" err >/dev/null || fail "$*: not said: $words"
}

part()
{
    expect 0 "$@"
    [ ! -s out ] || fail "$*: a page beside the part"
}

# ---- three parts, two orders: the page, CSV and JSON of one run ----
for k in 1 2 3; do
    part --draws 500 --threads "$k" --shard "$k/3" --save "part-$k.csv" line.csv
done
for form in text csv json; do
    good --draws 500 --format "$form" line.csv
    cp out whole
    for order in 'part-1.csv part-2.csv part-3.csv' 'part-3.csv part-1.csv part-2.csv'; do
        # shellcheck disable=SC2086 # the names are meant to split
        good --format "$form" --merge line.csv $order
        cmp -s whole out || fail "$form: $order do not make the whole"
    done
done
part --draws 500 --save single.csv line.csv
good --format json --merge line.csv single.csv
cmp -s whole out || fail 'a single part is not the whole'
# the seed of the parts is that of all that is drawn
part --draws 100 --seed 5 --save seeded.csv line.csv
good --draws 100 --seed 5 line.csv
cp out seeded
good --merge line.csv seeded.csv
cmp -s seeded out || fail 'the seed of the parts is not that of the page'
good --check --merge line.csv part-1.csv part-2.csv part-3.csv

# ---- what does not belong together ----
refused 3 'part 2 of 3 is missing' --merge line.csv part-1.csv part-3.csv
refused 3 'parts 2, 3 of 3 are missing' --merge line.csv part-1.csv
refused 3 'part-1.csv: part 1 is there already, from part-1.csv' \
    --merge line.csv part-1.csv part-2.csv part-1.csv
part --draws 500 --seed 2 --shard 2/3 --save seed.csv line.csv
refused 3 'seed.csv: of another run than part-1.csv' --merge line.csv part-1.csv seed.csv part-3.csv
part --draws 501 --shard 2/3 --save draws.csv line.csv
refused 3 'draws.csv: of another run' --merge line.csv part-1.csv draws.csv part-3.csv
sed 's|^bath,removal,99.8|bath,removal,99.7|' line.csv >other.csv
part --draws 500 --shard 2/3 --save file.csv other.csv
refused 3 'file.csv: of another run' --merge line.csv part-1.csv file.csv part-3.csv
refused 3 'not the parts of this line' --merge other.csv part-1.csv part-2.csv part-3.csv
refused 3 'not the parts of this line' --loads 5 --merge line.csv part-1.csv part-2.csv part-3.csv
# a comment does not change the answer, and yet it is another file
{ cat line.csv && echo '# said later'; } >said.csv
refused 3 'not the parts of this line' --merge said.csv part-1.csv part-2.csv part-3.csv
head -c 3000 part-2.csv >cut.csv
refused 3 'cut.csv:' --merge line.csv part-1.csv cut.csv part-3.csv
refused 3 'line.csv:1: this is no part of an ensemble' --merge line.csv line.csv
refused 4 'none.csv: No such file' --merge line.csv part-1.csv none.csv
refused 4 'no/part.csv' --draws 9 --save no/part.csv line.csv
sed 's|,[0-9][0-9.]*%,|,,|' line.csv >sure.csv
cp part-2.csv ours.csv
refused 4 'part-2.csv: exists; --force overwrites it' --draws 9 --save part-2.csv line.csv
cmp -s part-2.csv ours.csv || fail 'a part that exists was overwritten'
part --draws 500 --shard 2/3 --force --save part-2.csv line.csv
cmp -s part-2.csv ours.csv || fail '--force: another part'
refused 3 'nothing to draw' --draws 9 --save p sure.csv
[ ! -e p ] || fail 'a part was written all the same'

# ---- a decimal comma: the draws, the parts and their merge are those of any locale ----
if command -v localedef >/dev/null 2>&1; then
    mkdir locales
    localedef --no-archive -i de_DE -f UTF-8 "$work/locales/de_DE.UTF-8" >/dev/null 2>&1 || :
fi
if [ "$(LOCPATH=$work/locales LC_ALL=de_DE.UTF-8 locale decimal_point 2>/dev/null)" = , ]; then
    # comma ARGUMENT...
    comma()
    {
        LOCPATH=$work/locales LC_ALL=de_DE.UTF-8 "$tool" "$@" >comma 2>err ||
            fail "$* under a comma locale"
    }
    for form in text csv json; do
        good --draws 500 --format "$form" line.csv
        cp out whole
        comma --draws 500 --format "$form" line.csv
        cmp -s whole comma || fail "$form: draws under a comma locale"
        comma --format "$form" --merge line.csv part-2.csv part-3.csv part-1.csv
        cmp -s whole comma || fail "$form: parts put together under a comma locale"
    done
    comma --draws 500 --shard 2/3 --save german.csv line.csv
    cmp -s part-2.csv german.csv || fail 'a part written under a comma locale'
    good --format json --merge line.csv part-1.csv german.csv part-3.csv
    cmp -s whole out || fail 'a part written under a comma locale is read as another one'
else
    echo 'not run: a decimal comma (localedef could not build de_DE)'
fi

exit "$failed"
