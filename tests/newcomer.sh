#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# newcomer.sh REPOSITORY SUITE CHROOTS [MIRROR]: plays somebody who has just heard of dregs, in a bare
# system of SUITE: from `git clone` to the answer for a line of their own. Each command is one that
# README.md prints, or that ./bootstrap says, and is timed. Root installs what ./bootstrap asks for; all
# else is done by a user without rights. No part of `make check`: it takes root, the network and some
# minutes. `make newcomer` runs it.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
repository=$(cd "$1" && pwd)
suite=$2
chroots=$3
mirror=${4-}
# shellcheck source=tests/chroot.sh
. "$here/chroot.sh"

bare newcomer
inside newcomer sh -euc 'apt-get update -q
    apt-get install -q -y --no-install-recommends git ca-certificates
    useradd --create-home newcomer' >"$work/out" 2>&1 || {
    tail -n 30 "$work/out"
    echo 'FAILED: a system with git'
    exit 1
}
# what they clone from: the state that is committed, no more
git clone --quiet --bare "$repository" "$work/newcomer-root/srv/dregs.git"
inside newcomer chown -R newcomer /srv/dregs.git # git reads no repository of somebody else

commands=0
waited=0
# type_in WHO FOLDER LINE: a command as it is typed
type_in()
{
    commands=$((commands + 1))
    begin=$(date +%s)
    status=0
    if [ "$1" = root ]; then
        home=/root
        inside newcomer sh -c "cd $2 && $3" >"$work/out" 2>&1 </dev/null || status=$?
    else
        home=/home/newcomer
        inside newcomer setpriv --reuid newcomer --regid newcomer --clear-groups --no-new-privs \
            sh -c "cd $2 && $3" >"$work/out" 2>&1 </dev/null || status=$?
    fi
    seconds=$(($(date +%s) - begin))
    waited=$((waited + seconds))
    printf '%4d s  %s %s\n' "$seconds" "$([ "$1" = root ] && echo '#' || echo '$')" "$3"
}
good()
{
    [ "$status" -eq 0 ] || {
        tail -n 30 "$work/out"
        echo "FAILED: exit $status"
        exit 1
    }
}
# printed LINE: as README.md has it, alone in a line or behind a $
printed()
{
    sed -e 's/^    //' -e 's/^\$ //' "$work/README.md" | grep -x -F -e "$1" >/dev/null || {
        echo "FAILED: README.md does not say: $1"
        exit 1
    }
}
# as_printed LINE: typed in the checkout, and done
as_printed()
{
    printed "$1"
    type_in newcomer /home/newcomer/dregs "$1"
    good
}

type_in newcomer /home/newcomer 'git clone -q /srv/dregs.git dregs'
good
cp "$work/newcomer-root/home/newcomer/dregs/README.md" "$work/README.md"
# nothing is there yet: bootstrap says what to install, and that command is what root types
printed './bootstrap build'
type_in newcomer /home/newcomer/dregs './bootstrap build'
[ "$status" -eq 1 ] || {
    cat "$work/out"
    echo "FAILED: bootstrap without packages: exit $status"
    exit 1
}
install=$(sed -n 's/^    \(apt-get update && apt-get install .*\)/\1/p' "$work/out")
[ -n "$install" ] || {
    cat "$work/out"
    echo 'FAILED: bootstrap does not say what to install'
    exit 1
}
type_in root / "$install"
good
as_printed './bootstrap build'
# shellcheck disable=SC2016 # as it is printed
printed 'PATH=$PWD/build:$PATH'
commands=$((commands + 1))
path=/home/newcomer/dregs/build:/usr/sbin:/usr/bin:/sbin:/bin # chroot itself is looked for there, too
as_printed "dregs new --template running-rinse --yes --set 'basket.parts=24' --set 'basket.area=61 cm2' --write mine.csv"
as_printed 'dregs check mine.csv'
as_printed 'dregs predict mine.csv'
sed 's/^/           /' "$work/out" | head -n 3
# 24 parts of 61 cm2 are theirs, and the answer is a residue
grep 'ug/cm2 at the worst load' "$work/out" >/dev/null || {
    cat "$work/out"
    echo 'FAILED: the first result of their own has no residue'
    exit 1
}
echo "$suite: $commands commands, $waited s from git clone to the first own result"
# the checkout has gained ignored files and the line of their own
type_in newcomer /home/newcomer/dregs 'git status --porcelain' >/dev/null
good
[ "$(cat "$work/out")" = '?? mine.csv' ] || {
    cat "$work/out"
    echo 'FAILED: the checkout has changed'
    exit 1
}
