# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# tool.sh: what the shell tests of the tools share; $name is the tool's. Sourced, not run.
# Leaves us in a folder of our own with line.csv and bench.csv, the two scenarios.
# shellcheck shell=sh disable=SC2154,SC2034 # $name comes from outside; who sources it uses the rest
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
# the program itself, past the script that libtool puts before it, which takes longer than most commands
program=$build/dregs
if [ -x "$build/.libs/dregs" ]; then
    program=$build/.libs/dregs
    LD_LIBRARY_PATH=$build/.libs${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH}
    export LD_LIBRARY_PATH
fi
tool=$build/$name
[ "$name" != dregs ] || tool=$program
[ -x "$tool" ] || {
    echo "FAILED: no $tool"
    exit 1
}
work=$(mktemp -d)
trap 'chmod -R u+w "$work"; rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
LC_ALL=C
XDG_CONFIG_HOME=$work/no-settings # not those of who runs the tests
export LC_ALL XDG_CONFIG_HOME
failed=0
cp "$source/data/aqueous-line.csv" "$work/line.csv"
cp "$source/data/solvent-bench.csv" "$work/bench.csv"
chmod u+w "$work"/*.csv
cd "$work" || exit 1
: >err

fail()
{
    printf 'FAILED: %s\n' "$*"
    sed 's/^/    /' err
    failed=1
}

# run ARGUMENT...: the tool, with as many draws as $few_draws says where a test says so and the command does
# not: what a draw goes through is the same in few as in many, and many take most of the time.
run()
{
    case "${few_draws:-none} $*" in
    'none '* | *' --draws '*) ;;
    *) set -- --draws "$few_draws" "$@" ;;
    esac
    "$tool" "$@"
}

# expect STATUS ARGUMENT...
expect()
{
    want=$1
    shift
    got=0
    run "$@" >out 2>err </dev/null || got=$?
    [ "$got" -eq "$want" ] || fail "$*: exit $got, expected $want"
}

# good ARGUMENT...: exit 0, something on stdout, nothing on stderr
good()
{
    expect 0 "$@"
    [ -s out ] || fail "$*: nothing on standard output"
    [ ! -s err ] || fail "$*: something on standard error"
}

# misuse WORDS ARGUMENT...: exit 2, one line with the words and a hint, nothing on stdout
misuse()
{
    words=$1
    shift
    expect 2 "$@"
    [ ! -s out ] || fail "$*: something on standard output"
    [ "$(wc -l <err)" -eq 2 ] || fail "$*: not one line and a hint"
    sed -n 1p err | grep -F -- "$words" >/dev/null || fail "$*: not said: $words"
    [ "$(sed -n 2p err)" = "try '$name --help'" ] || fail "$*: no hint"
}

# prints WORDS: wherever the lines are broken
prints()
{
    tr -s ' \n' '  ' <out | grep -F -- "$(printf '%s' "$1" | tr -s ' \n' '  ')" >/dev/null ||
        fail "not printed: $1"
}
