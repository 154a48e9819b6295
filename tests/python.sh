# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# python.sh: the library of the build tree for Python. Sourced, not run; $build is set.
# shellcheck shell=sh disable=SC2154 # $build comes from outside
python=/usr/bin/python3
[ -x "$python" ] || python=$(command -v python3 || :)
[ -n "$python" ] || {
    echo 'FAILED: no python3'
    exit 1
}
DREGS_LIBRARY=$build/.libs/libdregs.so
export DREGS_LIBRARY
[ -f "$DREGS_LIBRARY" ] || {
    echo 'skipped: no shared library'
    exit 77
}

# the program without the script of libtool, which takes longer than most answers
tool=$build/.libs/dregs
LD_LIBRARY_PATH=$build/.libs${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH}
export LD_LIBRARY_PATH
[ -x "$tool" ] || tool=$build/dregs

# preloaded COMMAND...: with the sanitizers, whose runtime has to come before all else. Python frees
# little of its own at its end, so that leaks are not asked for.
preloaded()
{
    if [ -n "${DREGS_SANITIZE:-}" ]; then
        # shellcheck disable=SC2086 # the compiler may come with words
        LD_PRELOAD=$(${DREGS_CC:-cc} -print-file-name=libasan.so) ASAN_OPTIONS=detect_leaks=0 "$@"
    else
        "$@"
    fi
}
