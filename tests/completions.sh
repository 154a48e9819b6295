#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Completions: every option of every verb in each shell, values and names where they belong.
set -eu
name=dregs
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
PATH=$build:$PATH
export PATH
verbs='new check predict size dry reuse tally liquid beaker example'

for shell in bash zsh fish; do
    good complete "$shell"
    cp out "script.$shell"
    for verb in $verbs; do
        "$tool" help "$verb" | sed -n 's/^  --\([a-z-]*\).*/\1/p' >options
        while read -r option; do
            case $shell in
            fish) grep -- "^complete -c dregs -n '__dregs_is $verb' -l $option " script.fish ;;
            *) grep "^ *$verb) options='.* --$option " "script.$shell" ;;
            esac >/dev/null || fail "$shell: no --$option of $verb"
        done <options
    done
done
good complete values size vary -- --vary '' line.csv
grep -x 'last.flow' out >/dev/null || fail 'no last.flow'
grep -x 'bath.dump every' out >/dev/null || fail 'no bath.dump every'
grep 'basket' out >/dev/null && fail 'a load is no stage'
good complete values predict separator -- --separator ''
[ "$(tr '\n' ' ' <out)" = ', ; tab ' ] || fail 'separators'
good complete values tally decimal -- --decimal ''
[ "$(tr '\n' ' ' <out)" = '. , ' ] || fail 'decimal marks'
good complete values tally units -- --units ''
[ "$(tr '\n' ' ' <out)" = 'si us ' ] || fail 'systems of units'
good complete values new set -- --template running-rinse
grep -x 'oil.on parts=' out >/dev/null || fail 'no oil.on parts of the template'
sed 's/^bath,volume,28,L/bath,volume,28,kg/' line.csv >bad.csv
expect 0 complete values size vary -- bad.csv none.csv
{ [ ! -s out ] && [ ! -s err ]; } || fail 'names of a file with faults'
expect 2 complete tcsh
grep "'tcsh' is none of bash, zsh, fish" err >/dev/null || fail 'another shell'
[ ! -s out ] || fail 'another shell: something on standard output'

# ---- bash ----
if command -v bash >/dev/null 2>&1; then
    cat >ask.bash <<'BASH'
. ./script.bash
COMP_WORDS=("$@")
COMP_CWORD=$(($# - 1))
_dregs
((${#COMPREPLY[@]})) && printf '%s\n' "${COMPREPLY[@]}"
exit 0
BASH
    # completes EXPECTED WORD...: the expected lines, joined by commas, sorted
    completes()
    {
        want=$1
        shift
        got=$(bash ask.bash "$@" 2>err | sort | tr '\n' ,)
        [ "$got" = "$want" ] || fail "bash: $*: $got instead of $want"
        [ ! -s err ] || fail "bash: $*: complains"
    }
    completes 'predict,' dregs pre
    completes 'check,' dregs ch
    completes '--seed,--separator,' dregs predict --se
    completes '--seed,--separator,' dregs-predict --se
    completes 'json,' dregs predict --format js
    completes 'csv,html,json,svg,text,' dregs tally line.csv --format ''
    completes 'csv,html,json,svg,text,' dregs tally --format =
    completes 'json,' dregs tally --format = js
    completes 'last.drag-out,last.flow,last.volume,' dregs size line.csv --vary last.
    completes 'bath.dump every,' dregs size line.csv --vary 'bath.dump\ '
    completes 'bench.csv,' dregs predict be
    completes 'bad.csv,' dregs predict --liquids ba
    completes '' dregs predict --loads ''
    completes 'aqueous-line,' dregs example aq
    completes 'rinses,' dregs beaker ri
    completes 'isopropanol,' dregs liquid isop
    completes 'running-rinse,' dregs new --template ru
    completes 'size,' dregs help si
else
    echo 'not run: bash'
fi

# ---- zsh, with what it completes by in place of its own functions ----
if command -v zsh >/dev/null 2>&1; then
    zsh -n script.zsh 2>err || fail 'zsh: the script'
    zsh -f -c 'compadd() { shift; print -l -- "$@" }
        _describe() { print -l -- ${(P)2} }
        _files() { print files "$@" }
        zsh_ask() { words=("$@") CURRENT=$#; source ./script.zsh }
        zsh_ask dregs pre; zsh_ask dregs size line.csv --vary last.; zsh_ask dregs-tally --liquids x
        zsh_ask dregs predict --format j; zsh_ask dregs liquid --sh' >out 2>err || fail 'zsh'
    for line in 'predict:what a line leaves on the parts, load by load' 'last.flow' 'json' '--share' \
        'bath.dump every' 'files'; do
        grep -x -F -- "$line" out >/dev/null || fail "zsh: no '$line'"
    done
else
    echo 'not run: zsh'
fi

# ---- fish ----
if command -v fish >/dev/null 2>&1; then
    HOME=$work
    export HOME
    fish -n script.fish 2>err || fail 'fish: the script'
    # asks WORDS EXPECTED
    asks()
    {
        fish -N -c "source script.fish; complete -C '$1'" >out 2>err || fail "fish: $1"
        cut -f 1 out | grep -x -F -- "$2" >/dev/null || fail "fish: $1: no $2"
    }
    asks 'dregs pre' predict
    asks 'dregs size line.csv --vary last.' last.flow
    asks 'dregs-size --lay' --layout
    asks 'dregs tally --format js' json
    asks 'dregs example aq' aqueous-line
else
    echo 'not run: fish'
fi
exit $failed
