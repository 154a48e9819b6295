#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# What every verb that writes a file leaves behind: a whole file or none, the input as it was, no
# temporary file, whatever stands in the way: links to nothing, loops, hard links, folders that are
# missing, a full disk, a signal.
set -eu
name=dregs
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
mkdir here
cd here
# the program itself where it lies behind a wrapper, which takes longer than most of these calls
if [ -x "$build/.libs/dregs" ]; then
    tool=$build/.libs/dregs
    LD_LIBRARY_PATH=$build/.libs${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH}
    export LD_LIBRARY_PATH
fi

# every verb that writes, the name of the file last
verbs='size --vary last.flow --draws 0 ../line.csv --write
predict --draws 8 ../line.csv --save
new --template running-rinse --yes --write
beaker rinses --liquid isopropanol --total 100mL --drag-out 0.05mL --parts 12 --write'

# with VERB FILE STATUS: runs one of them; `force` holds --force or nothing
force=
with()
{
    got=0
    # shellcheck disable=SC2086 # words
    "$tool" $1 "$2" $force >../out 2>../err </dev/null || got=$?
    [ "$got" -eq "$3" ] || (cd .. && fail "$1 $2 $force: exit $got, expected $3")
    [ "$got" -eq "$3" ] || failed=1
}
bad()
{
    (cd .. && fail "$*") || :
    failed=1
}
refused() # VERB FILE WORDS: exit 4, one message with these words, nothing on standard output
{
    with "$1" "$2" 4
    grep -F -- "$3" ../err >/dev/null || bad "$1 $2: not said: $3"
    [ "$(wc -l <../err)" -eq 1 ] || bad "$1 $2: not one message"
    [ ! -s ../out ] || bad "$1 $2: something on standard output"
}
holds() # WORDS: the folder holds these names and no other
{
    found=$(find . ! -name . | sed 's,^\./,,' | LC_ALL=C sort | tr '\n' ' ')
    [ "$found" = "$1" ] || bad "the folder holds $found, expected $1"
}

printf '%s\n' "$verbs" >../verbs
while IFS= read -r verb; do
    rm -rf ./* # a new file, with the usual rights
    with "$verb" new.csv 0
    [ -s new.csv ] || bad "$verb: no file"
    [ "$(stat -c %a new.csv)" = "$(printf '%o' $((0666 & ~$(umask))))" ] || bad "$verb: the rights of a new file"
    cp new.csv ../written
    refused "$verb" new.csv 'new.csv: exists; --force overwrites it'
    cmp -s new.csv ../written || bad "$verb: overwritten"
    holds 'new.csv '

    rm -rf ./* # standard output, and no file of that name
    with "$verb" - 0
    cmp -s ../out ../written || bad "$verb: - is not the file alone"
    holds ''

    # a link to nothing, a loop: neither the link nor what it points to, with --force neither
    ln -s absent.csv link.csv
    ln -s b.csv a.csv
    ln -s a.csv b.csv
    for force in '' --force; do
        refused "$verb" link.csv 'link.csv: is a link to a file that does not exist'
        refused "$verb" a.csv 'a.csv: Too many levels of symbolic links'
        { [ -L link.csv ] && [ -L a.csv ]; } || bad "$verb: a link was replaced"
    done
    holds 'a.csv b.csv link.csv '

    rm -rf ./* # another hard link keeps what it had
    printf 'ours\n' >one.csv
    ln one.csv two.csv
    force=
    refused "$verb" one.csv 'one.csv: exists'
    force=--force
    with "$verb" one.csv 0
    cmp -s one.csv ../written || bad "$verb: --force did not write"
    [ "$(cat two.csv)" = ours ] || bad "$verb: the other hard link was changed"
    holds 'one.csv two.csv '
    force=

    rm -rf ./* # what is no place for a file
    mkdir folder
    : >file
    refused "$verb" folder 'folder: is a directory, not a file'
    refused "$verb" absent/x.csv 'absent/x.csv: its folder: No such file or directory'
    refused "$verb" file/x.csv 'file/x.csv: Not a directory'
    with "$verb" '' 2
    [ ! -s ../out ] || bad "$verb: an empty name: something on standard output"
    if [ "$(id -u)" -ne 0 ]; then
        chmod 500 folder
        refused "$verb" folder/x.csv 'folder/x.csv: its folder: Permission denied'
        chmod 700 folder
    fi
    holds 'file folder '

    rm -rf ./* # the page is lost: no file; `new` prints none
    if [ -c /dev/full ]; then
        case $verb in
        size* | beaker*)
            got=0
            # shellcheck disable=SC2086
            "$tool" $verb new.csv >/dev/full 2>../err || got=$?
            [ "$got" -eq 4 ] || bad "$verb: a full disk: exit $got"
            holds ''
            ;;
        esac
        got=0
        # shellcheck disable=SC2086
        "$tool" $verb - >/dev/full 2>../err || got=$?
        [ "$got" -eq 4 ] || bad "$verb: - to a full disk: exit $got"
        said=$(grep -c 'No space left' ../err) || :
        [ "$said" -eq 1 ] || bad "$verb: a full disk: not said once"
    fi

    # more than the user may write: a message, no death by a signal, nothing half written
    # shellcheck disable=SC2086
    (ulimit -f 0 && exec "$tool" $verb new.csv 2>&1 >/dev/null) | cat >../piped
    grep -F 'File too large' ../piped >/dev/null || bad "$verb: beyond the limit of the shell: not said"
    holds ''
done <../verbs

# its own input: without --force, unless it is read-only; the other name of it is its own, too
cp ../line.csv own.csv
chmod 444 own.csv
cp own.csv ../before
if [ "$(id -u)" -ne 0 ]; then
    refused 'size --vary last.flow --draws 0 own.csv --write' own.csv 'own.csv: Permission denied; --force overwrites it'
    cmp -s own.csv ../before || bad 'a read-only input was overwritten'
else
    echo 'not run: read-only files and folders (root may write anywhere)'
fi
chmod 644 own.csv
with 'size --vary last.flow --draws 0 own.csv --write' own.csv 0
cmp -s own.csv ../before && bad 'the own input was not overwritten'
holds 'own.csv '

# ---- a signal while the file goes to the disk ----
if [ -n "${DREGS_SANITIZE:-}" ]; then
    echo 'not run: signals (the sanitizers take no preloaded library)'
    exit $failed
fi
# shellcheck disable=SC2086 # the compiler may come with words
if ! ${DREGS_CC:-cc} -std=c11 -D_GNU_SOURCE -shared -fPIC -o ../signal.so \
    "$source/tests/fsync_signal.c" 2>../err; then
    echo "not run: signals (no library to preload: $(head -n 1 ../err))"
    exit $failed
fi
# what is ignored where the test is run, as a hang-up under nohup, is ignored by the tool too
signals=
for signal in 1 2 15; do
    if sh -c "kill -$signal \$\$" 2>../err; then
        echo "not run: signal $signal (it is ignored here)"
    else
        signals="$signals $signal"
    fi
done
while IFS= read -r verb; do
    for signal in $signals; do
        rm -rf ./*
        got=0
        # shellcheck disable=SC2086
        env "LD_PRELOAD=$work/signal.so" FSYNC_SIGNAL=$signal \
            "$tool" $verb new.csv >../out 2>../err || got=$?
        [ "$got" -eq $((128 + signal)) ] || bad "$verb: signal $signal: exit $got"
        grep -F 'new.csv: interrupted, not written' ../err >/dev/null || bad "$verb: signal $signal: not said"
        holds ''
    done
done <../verbs
# over its own input, which stays as it was; one that is ignored changes nothing
cp ../line.csv own.csv
for ignored in no yes; do
    got=0
    (
        [ $ignored = no ] || trap '' TERM
        exec env "LD_PRELOAD=$work/signal.so" FSYNC_SIGNAL=15 \
            "$tool" size --vary last.flow --draws 0 --write own.csv own.csv
    ) >../out 2>../err || got=$?
    if [ $ignored = no ]; then
        [ "$got" -eq 143 ] || bad "a signal over the own input: exit $got"
        cmp -s own.csv ../line.csv || bad 'a signal: the input was changed'
    else
        [ "$got" -eq 0 ] || bad "an ignored signal: exit $got"
        cmp -s own.csv ../line.csv && bad 'an ignored signal: nothing written'
    fi
    holds 'own.csv '
done
exit $failed
