#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# What is installed runs as it stands, without LD_LIBRARY_PATH and without ldconfig; what is removed
# leaves nothing behind.
set -eu
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
unset LD_LIBRARY_PATH MAKEFLAGS MFLAGS MAKELEVEL
make=${MAKE:-make}
failed=0

fail()
{
    printf 'FAILED: %s\n' "$*"
    failed=1
}

if ! $make -s -C "$build" install DESTDIR="$work/root" >"$work/log" 2>&1; then
    echo 'FAILED: make install'
    tail -n 5 "$work/log"
    exit 1
fi
prefix=$(sed -n 's/^prefix = //p' "$build/Makefile")
bin=$work/root$prefix/bin
[ -x "$bin/dregs" ] || {
    echo "FAILED: no dregs in $bin"
    exit 1
}
for verb in predict size dry reuse tally liquid beaker; do
    [ "$(readlink "$bin/dregs-$verb")" = dregs ] || fail "dregs-$verb is no link to dregs"
done

# In a name space of our own the staged tree stands where it was made for, while the loader's list
# is that of before.
if [ -d "$prefix" ] && unshare -rm true 2>/dev/null; then
    # shellcheck disable=SC2016 # $1 is that of the shell within
    unshare -rm sh -c 'mount --bind "$1$2" "$2" || exit 99
        "$2/bin/dregs" --version && "$2/bin/dregs-predict" --draws 0 "$2/share/dregs/aqueous-line.csv"' \
        sh "$work/root" "$prefix" >"$work/out" 2>&1 && got=0 || got=$?
    if [ "$got" -eq 99 ]; then
        echo 'not run: the installed tools where they belong (no bind mount)'
    elif [ "$got" -ne 0 ] || ! grep 'target met' "$work/out" >/dev/null; then
        fail "the installed tools, exit $got"
        head -n 5 "$work/out"
    fi
else
    echo 'not run: the installed tools where they belong (no name space)'
fi
# the same as far as it can be read: the folder of the library is in the program, or the system's
if [ -f "$work/root$prefix/lib/libdregs.so" ] && command -v readelf >/dev/null 2>&1; then
    case $prefix/lib in
    /lib | /usr/lib) ;;
    *)
        readelf -d "$bin/dregs" | grep RUNPATH | grep -F "$prefix/lib" >/dev/null ||
            fail "dregs does not say that its library is in $prefix/lib"
        ;;
    esac
fi

for completion in bash-completion/completions/dregs bash-completion/completions/dregs-size \
    zsh/site-functions/_dregs fish/vendor_completions.d/dregs.fish \
    fish/vendor_completions.d/dregs-size.fish; do
    grep vary "$work/root$prefix/share/$completion" >/dev/null || fail "$completion is not installed"
done
[ -f "$work/root$prefix/share/dregs/templates/running-rinse.csv" ] || fail 'no templates'
# the module for Python finds the library above itself
if [ -f "$work/root$prefix/lib/libdregs.so" ] && [ -z "${DREGS_SANITIZE:-}" ]; then
    version=$(env -u DREGS_LIBRARY PYTHONDONTWRITEBYTECODE=1 \
        PYTHONPATH="$work/root$prefix/share/dregs/python" \
        /usr/bin/python3 -c 'import dregs; print(dregs.version())' 2>&1) || :
    [ "$version" = "$("$build/dregs" --version | sed -n '1s/.* //p')" ] ||
        fail "the module for Python: $version"
fi

$make -s -C "$build" uninstall DESTDIR="$work/root" >"$work/log" 2>&1 || fail 'make uninstall'
find "$work/root" ! -type d >"$work/left"
if [ -s "$work/left" ]; then
    fail 'make uninstall leaves something'
    head -n 5 "$work/left"
fi
exit $failed
