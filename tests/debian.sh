#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# debian.sh ARCHIVE SUITE CHROOTS [MIRROR]: the Debian packages of a release archive, built in a bare
# system of SUITE (bookworm, trixie, ...), looked over by that suite's lintian, then installed into
# another bare system where autopkgtest runs the tests of debian/tests. A gigabyte for that time. No
# part of `make check`: it takes root, the network and some minutes. `make debian-check` runs it.
#
# DEB_BUILD_OPTIONS is nocheck unless it is set: an empty one runs all tests during the build. The
# packages stay beside ARCHIVE in packages-SUITE/.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
archive=$1
suite=$2
chroots=$3
mirror=${4-}
# shellcheck source=tests/chroot.sh
. "$here/chroot.sh"
packages=$(cd "$(dirname "$archive")" && pwd)/packages-$suite
name=$(basename "$archive" .tar.xz)
DEB_BUILD_OPTIONS=${DEB_BUILD_OPTIONS-nocheck}
# what only tests need is then not installed either
case " $DEB_BUILD_OPTIONS " in
*' nocheck '*) DEB_BUILD_PROFILES=nocheck ;;
*) DEB_BUILD_PROFILES= ;;
esac

# step WHAT COMMAND...: its output is kept, and shown when it fails
step()
{
    what=$1
    shift
    begin=$(date +%s)
    # not as a condition: the functions stop where one of their commands fails
    (set -e && "$@") >"$work/log" 2>&1 &
    if ! wait $!; then
        tail -n 40 "$work/log"
        echo "FAILED: $suite: $what"
        exit 1
    fi
    echo "$suite: $what: $(($(date +%s) - begin)) s"
}

step 'a bare system to build in' bare build
build=$work/build-root
mkdir "$build/src"
tar -xf "$archive" -C "$build/src"
# shellcheck disable=SC2016 # $1 is that of the shell within
step 'what the build stands on' inside build sh -euc 'useradd --create-home builder
    chown -R builder /src
    apt-get update -q
    apt-get install -q -y --no-install-recommends build-essential debhelper lintian
    cd "/src/$1"
    apt-get build-dep -q -y --no-install-recommends ./' sh "$name"
# shellcheck disable=SC2016
step 'build' inside build sh -euc 'cd "/src/$1"
    su builder -s /bin/sh -c "dpkg-buildpackage -us -uc -j$(nproc)"' sh "$name"
grep -E '(warning|dpkg-gensymbols|dh_missing):' "$work/log" || :
rm -rf "$packages"
mkdir "$packages"
find "$build/src" -maxdepth 1 -type f -exec cp {} "$packages/" \;
echo "== lintian of $suite"
good=1
inside build su builder -s /bin/sh -c 'lintian --info --display-info --pedantic --color=never \
    --fail-on=error,warning /src/*.changes' >"$work/lintian" 2>&1 || good=0
sed 's/^/    /' "$work/lintian"
[ -s "$work/lintian" ] || echo '    nothing to say'
[ "$good" -eq 1 ] || {
    echo "FAILED: $suite: lintian"
    exit 1
}

step 'another bare system' bare use
use=$work/use-root
mkdir "$use/debs"
cp "$packages"/*.deb "$use/debs/"
rm -f "$use"/debs/*-dbgsym_*
step 'install' inside use sh -euc 'apt-get update -q
    apt-get install -q -y --no-install-recommends /debs/dregs_*.deb /debs/libdregs0_*.deb'
step 'a first answer' inside use sh -euc 'cd /tmp
    dregs --version
    dregs example aqueous-line >line.csv
    dregs predict line.csv >line.txt
    grep "at the worst load" line.txt'
# the tests of the source package, with the packages they name from /debs
step 'autopkgtest itself' inside use sh -euc 'apt-get install -q -y --no-install-recommends autopkgtest \
    dpkg-dev /debs/libdregs-dev_*.deb'
cp -R "$build/src/$name" "$use/src"
# shellcheck disable=SC2016
inside use sh -euc 'status=0
    autopkgtest --no-built-binaries /src -- null >/tmp/log 2>&1 || status=$?
    [ $status -eq 0 ] || tail -n 60 /tmp/log
    sed -n "/@@@@* summary/,\$p" /tmp/log
    exit $status' || {
    echo "FAILED: $suite: autopkgtest"
    exit 1
}
step 'removal' inside use sh -euc 'apt-get purge -q -y dregs libdregs0 libdregs-dev
    left=$(find / -xdev \( -path /proc -o -path /src -o -path /debs -o -path /tmp \) -prune -o \
        \( -name "*dregs*" ! -path "/var/cache/*" ! -path "/var/log/*" \) -print)
    echo "left: $left"
    [ -z "$left" ]'
echo "$suite: the packages are in $packages"
