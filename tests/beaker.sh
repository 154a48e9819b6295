#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-beaker: every question, misuse, exit statuses, the forms of its output, the file it writes.
set -eu
name=dregs-beaker
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# the questions, each with all that it needs
set_question()
{
    case $1 in
    parts) set -- --liquid isopropanol --beaker 200mL --drag-out 0.05mL --film 2g/L --limit 50mg/L ;;
    rinses) set -- --liquid isopropanol --total 100mL --drag-out 0.05mL --parts 12 ;;
    bottle) set -- --liquid isopropanol --drag-out 0.05mL --film 2g/L --limit 20mg/L --mixing 50% ;;
    fresh) set -- --liquid isopropanol --drag-out 0.05mL --film 2g/L --limit 20mg/L --mixing 50% ;;
    open) set -- --liquid isopropanol --beaker 200mL --opening 7cm --at 22degC --after 14h ;;
    warm) set -- --liquid water --beaker 3L --power 100W --at 20degC --to 40degC ;;
    cool) set -- --mass 15g --area 20cm2 --heat-capacity steel --from 80degC ;;
    esac
    options=$*
}
questions='parts rinses bottle fresh open warm cool'

# near NUMBER EXPECTED RELATIVE
near()
{
    awk -v g="$1" -v e="$2" -v r="$3" 'BEGIN { d = g - e; exit !((d < 0 ? -d : d) <= r * e) }'
}

# answers QUESTION: its figure `answer` of the first column `takes` of CSV
takes()
{
    sed -n "$((1 + $1))p" out | cut -d, -f2
}

# ---- help, version, misuse ----
good --help
prints 'usage: dregs-beaker'
for question in $questions; do
    grep "^  $question  " out >/dev/null || fail "--help does not tell of $question"
done
good --version
prints 'dregs-beaker '
misuse 'no question given'
misuse "'dip' is no question: it is one of parts, rinses, bottle, fresh, open, warm, cool" dip
misuse 'one question at a time' parts open
misuse "unknown option '--lid'" open --lid 80%
misuse "'parts' needs --liquid (isopropanol), --beaker ('200 mL'), --drag-out" parts
misuse "'open' does not use --power" open --liquid water --beaker 1L --opening 5cm --power 5W
misuse "--beaker '200': needs a unit, for example '200 mL'" parts --beaker 200
misuse "takes no '+-' here" open --liquid water --beaker '1 L +- 0.1 L' --opening 5cm
misuse "--drag-out '25mL': a load drags out 25 mL, no less than --beaker '20mL' holds" \
    parts --liquid isopropanol --beaker 20mL --drag-out 25mL --film 2g/L --limit 50mg/L
misuse "--drag-out '5mL/m2': a load drags out 60 mL, no less than --total '20mL' holds" \
    rinses --liquid isopropanol --total 20mL --drag-out 5mL/m2 --area 1m2 --parts 12
misuse "--beaker '1e9L': is not within 0.1 mL to 1e+07 mL" open --liquid water --beaker 1e9L --opening 5cm
misuse "--room '100degC': is not within 0.01 degC to 60 degC" \
    open --liquid water --beaker 1L --opening 5cm --room 100degC
misuse "--times '9': is not within 2 to 6" rinses --liquid water --total 1L --drag-out 1mL --times 9
misuse "nearest: 'isopropanol'" open --liquid isopropanl --beaker 1L --opening 5cm
misuse '--confidence takes draws' parts --confidence 95% --draws 0
misuse "--format 'xml'" parts --format xml
misuse '--explain is text' parts --explain --format csv
# shellcheck disable=SC2086
for question in $questions; do
    set_question "$question"
    for option in $options; do # each option that is left out is missed, where it is needed
        case $option in --*) ;; *) continue ;; esac
        case $question.$option in
        rinses.--parts | fresh.--mixing | open.--at | open.--after) continue ;;
        esac
        left=$(printf '%s\n' $options | awk -v out="$option" '$0 == out { skip = 1; next } skip { skip = 0; next } { print }')
        expect 2 $question $left
        grep -F -- "$option" err >/dev/null || fail "$question without $option: not said"
    done
done

# ---- bad data ----
expect 3 open --liquid isopropanol --beaker 1L --opening 5cm --at 95degC
[ "$(wc -l <err)" -eq 1 ] || fail 'boiling: not one line'

# ---- the answers, by hand ----
set_question parts
# shellcheck disable=SC2086
good parts --format csv $options
# ln(1/(1 - 50/2000)) / ln(1 + 0.05/200) = 101.3
[ "$(takes 1)" = 101 ] || fail 'not 101 parts'
set_question rinses
# shellcheck disable=SC2086
good rinses --format csv $options
near "$(sed -n 2p out | cut -d, -f4)" "$(awk 'BEGIN { print 100 * 0.6 / 100.6 }')" 1e-6 || fail 'one rinse'
near "$(sed -n 3p out | cut -d, -f4)" "$(awk 'BEGIN { print 100 * (0.6 / 50.6)^2 }')" 1e-5 || fail 'two rinses'
# shellcheck disable=SC2086
good rinses $options
sed -n 1p out | grep '^2 rinses of 50 mL each: 0.01406 % of the soil is left; 1 rinse of 100 mL: 0.5964 %$' \
    >/dev/null || fail 'the first line of the rinses'
set_question bottle
# shellcheck disable=SC2086
good bottle --format csv $options
near "$(takes 1)" "$(awk 'BEGIN { print 0.05 / 0.5 * log(100) }')" 1e-5 || fail 'the wash bottle'
set_question fresh
# shellcheck disable=SC2086
good fresh --format csv $options
near "$(takes 1)" 4.95 1e-5 || fail 'dipped once'
near "$(takes 2)" 0.9 1e-5 || fail 'dipped twice'
near "$(takes 3)" "$(awk 'BEGIN { print 0.05 / 0.5 * log(100) }')" 1e-5 || fail 'poured over'

# after so long nothing is left that could hold water
good open --liquid isopropanol --beaker 200mL --opening 7cm --after '100 d'
prints 'after 100 d 0 % is left'
grep -i 'nan' out >/dev/null && fail 'not a number, in the text'

# ---- what is assumed, and who is warned ----
set_question open
# shellcheck disable=SC2086
good open $options
prints 'assumed, because no option states it'
prints '50 % relative humidity'
prints '% of water by mass'
prints 'flash point: beaker: isopropanol at 22 degC is above its flash point'
# shellcheck disable=SC2086
good open --explain $options
prints 'and takes up water, G Pr = '
set_question cool
# shellcheck disable=SC2086
good cool --cautions all $options
prints 'parts and basket come out'
prints 'cool: 40 degC'
set_question parts
# shellcheck disable=SC2086
good parts --explain $options
prints 'c_n = c_0 (1 - (V/(V + D))^n)'
prints 'beaker,volume,200,mL,,,--beaker'

# 2 W against the 0.8 W/K of the walls never come to 60 degC, and it is not called "never 60 degC"
good warm --liquid water --beaker 3L --power 2W --at 20degC --to 60degC
[ "$(sed -n 1p out)" = '60 degC is not reached' ] || fail "not reached: $(sed -n 1p out)"
# the fresh liquid alone holds more than the limit: no volume is told, nor a residue as an answer
good fresh --liquid isopropanol --drag-out 0.05mL --film 2g/L --limit 20mg/L --own 25mg/L
[ "$(sed -n 1p out)" = 'NOT POSSIBLE, dipped once: the fresh liquid itself leaves too much' ] ||
    fail "not possible: $(sed -n 1p out)"
prints 'as much of it as you like still leaves 25'
good cool --mass 15g --area 20cm2 --heat-capacity steel --from 80degC
! grep -i 'harm' out >/dev/null || fail 'a permission to touch'

# ---- a spread, and a probability ----
spread="--liquid isopropanol --beaker 200mL --film 2g/L --limit 50mg/L"
# shellcheck disable=SC2086
good parts $spread --drag-out '0.05 mL +- 20 %'
prints 'of 1 value with a spread'
# shellcheck disable=SC2086
good parts --confidence 95% --format csv $spread --drag-out '0.05 mL +- 20 %'
[ "$(takes 1)" -lt 85 ] || fail 'with 95 % no fewer parts'

# ---- the file ----
set_question parts
# shellcheck disable=SC2086
good parts --write kept.csv $options
cp kept.csv ours.csv
# shellcheck disable=SC2086
expect 4 parts --write kept.csv $options
[ ! -s out ] || fail 'a page although the file exists'
grep -F 'kept.csv: exists; --force overwrites it' err >/dev/null || fail 'a file that exists: not said'
# shellcheck disable=SC2086
good parts --write - $options
cmp -s out ours.csv || fail '--write - is not the line file alone'
"$build/dregs-predict" --check kept.csv >predicted 2>err || fail 'the file does not meet its limit'
sed 's/^beaker,dump every,101/beaker,dump every,102/' kept.csv >more.csv
cmp -s kept.csv more.csv && fail 'the answer is not in the file'
got=0
"$build/dregs-predict" --check more.csv >predicted 2>err || got=$?
[ "$got" -eq 1 ] || fail 'one part more meets it too'
for question in $questions; do
    set_question "$question"
    # shellcheck disable=SC2086
    good "$question" --write "$question.csv" $options
    "$build/dregs-predict" --draws 0 "$question.csv" >predicted 2>err || fail "$question: no line file"
    # the same bytes every time
    # shellcheck disable=SC2086
    good "$question" --format json $options
    mv out first
    # shellcheck disable=SC2086
    good "$question" --format json $options
    cmp -s first out || fail "$question differs from run to run"
    # shellcheck disable=SC2086
    good "$question" --format svg --picture answer $options
    # shellcheck disable=SC2086
    good "$question" --format html $options
done
set_question parts
# shellcheck disable=SC2086
expect 4 parts --write no/such/folder/kept.csv $options

exit $failed
