#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs example and dregs new: what is compiled in is what stands in data/, and every template is a
# line that the tools take without a word.
set -eu
name=dregs
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

says() # WORDS STATUS ARGUMENT...: refused with these words, nothing on standard output
{
    words=$1 want=$2
    shift 2
    expect "$want" "$@"
    [ ! -s out ] || fail "$*: something on standard output"
    grep -F -- "$words" err >/dev/null || fail "$*: not said: $words"
}

# ---- example ----
good example
cp out list
[ "$(awk '{ if (length($0) > n) n = length($0) } END { print n + 0 }' list)" -le 80 ] || fail 'list: too wide'
for file in "$source"/data/*.csv; do
    name_of=$(basename "$file" .csv)
    case $name_of in
    liquids | mixtures | regulations) continue ;;
    esac
    grep "^  $name_of .*[Ii]nvented" list >/dev/null || fail "$name_of is not listed as invented"
    good example "$name_of"
    cmp -s out "$file" || fail "example $name_of is not data/$name_of.csv"
done
good example aqueous-line
mv out taken.csv
good predict --draws 0 taken.csv
says "'no-such' is no example" 2 example no-such
says 'one example at a time' 2 example aqueous-line solvent-bench

# ---- the templates ----
quiet() # what the tools say of a template stands on standard output alone
{
    got=0
    "$tool" "$@" >out 2>err </dev/null || got=$?
    [ "$got" -le 1 ] || fail "$*: exit $got"
    [ -s out ] || fail "$*: says nothing"
    [ ! -s err ] || fail "$*: complains"
}
good new --template list
cp out list
count=0
for file in "$source"/data/templates/*.csv; do
    template=$(basename "$file" .csv)
    count=$((count + 1))
    grep "^  $template " list >/dev/null || fail "$template is not listed"
    good new --template "$template" --yes
    cmp -s out "$file" || fail "$template: --yes is not the template"
    cat "$file" >t.csv # not cp: the files of a release may be read-only
    quiet predict --draws 10 --check t.csv
    quiet dry --draws 0 t.csv
    quiet tally --draws 0 --loads 500 t.csv
    quiet reuse t.csv
    case $template in
    solvent-still) quiet tally --draws 0 t.csv ;;
    *counterflow) quiet size --draws 0 --vary last.flow t.csv ;;
    running-rinse) quiet size --draws 0 --vary rinse.flow t.csv ;;
    *) quiet size --draws 0 --vary 'first.dump every=1..500' t.csv ;;
    esac
    # what may be a slip is none here
    quiet predict --draws 0 --format json t.csv
    for caution in 'thick film' 'much drag-out' 'no room for parts' 'overflow with the parts' \
        'dirtier rinse' 'weak wash' 'longer than the interval' crowded; do
        grep "\"id\": \"$caution\"" out >/dev/null && fail "$template: $caution"
    done
    # invented, and said so; how to measure the drag-out in six steps; a source or that there is none
    grep '^#.*All values are invented' "$file" >/dev/null || fail "$template: not said to be invented"
    [ "$(grep -c '^#   [1-6] ' "$file")" -eq 6 ] || fail "$template: not six steps"
    [ "$(grep -c '^#? ' "$file")" -ge 10 ] || fail "$template: few questions"
    grep 'Metal Finishing Guidebook\|common practice, no source' "$file" >/dev/null ||
        fail "$template: no source"
    # whoever states a number says that it is assumed
    awk -F, -v template="$template" '!/^#/ && NR > 1 && $3 ~ /^[0-9.]+$/ && $6 !~ /^assumed/ {
        print "FAILED: " template ": " $1 "." $2 " is not marked as assumed"; bad = 1 }
        END { exit bad }' "$file" || failed=1
done
[ "$count" -eq 5 ] || fail "$count templates"

# Drag-out by stopped flow as the template tells it. The wash carries 60 mL/m2 on 20 x 50 cm2, 6 mL
# of 15 g/L, into 40 L: c = (40 c + 0.006 x 15000) / 40.006 mg/L after each load, which a meter shows
# as 1.3 c and 1.6 x 5 of the water.
cat "$source/data/templates/running-rinse.csv" >t.csv
awk 'BEGIN {
    print "time,stage,loads,quantity,value,unit"
    print "2026-03-09T07:25,rinse,0,dump,,"
    for (j = 1; j <= 10; j++) {
        c = (40 * c + 0.006 * 15000) / 40.006
        printf "2026-03-09T%02d:%02d,rinse,%d,conductivity,%.5g,uS/cm\n", 8 + int(8 * j / 60), 8 * j % 60, j,
               1.3 * c + 8
    }
}' >log.csv
good reuse --measure-drag-out --format csv t.csv log.csv
sed -n 's/^bath,drag-out,\([0-9.]*\),mL\/m2,.*/\1/p' out >measured
awk '$1 > 58 && $1 < 62 { good = 1 } END { exit !good }' measured ||
    fail "drag-out by stopped flow: $(cat measured out)"

# ---- the interview ----
# questions of running-rinse: parts, area, interval, oil, cleaner, minerals, volume, removal, ...
printf '%s\n' running-rinse 24 '61cm2' '' '2.4 mg' '18 g/L' '' '' nonsense '98 %' '' '' '' '' '' |
    "$tool" new >made.csv 2>asked || fail 'an interview'
grep '^basket,parts,24,1,,answered$' made.csv >/dev/null || fail 'parts'
grep '^basket,area,61,cm2,5%,answered; its spread is assumed$' made.csv >/dev/null || fail 'area'
grep '^basket,interval,8,min,,assumed$' made.csv >/dev/null || fail 'an empty answer'
grep '^alkaline,cleaner,18,g/L,10%,answered' made.csv >/dev/null || fail 'cleaner'
grep '^bath,removal,98,%,,answered$' made.csv >/dev/null || fail 'removal'
grep 'nonsense' asked >/dev/null || fail 'a bad answer: not said'
[ "$(grep -c 'Which share of the soil' asked)" -eq 1 ] || fail 'the question is not said once'
[ "$(grep -o 'bath.removal \[' asked | wc -l)" -eq 2 ] || fail 'a bad answer is not asked again'
good predict --draws 0 made.csv
[ "$(diff "$source/data/templates/running-rinse.csv" made.csv | grep -c '^>')" -eq 5 ] ||
    fail 'more than the answers was changed'
# answers that end too early make no file
got=0
printf 'running-rinse\n24\n' | "$tool" new --write short.csv >out 2>err || got=$?
[ "$got" -eq 3 ] || fail "answers that end: exit $got"
[ ! -e short.csv ] || fail 'answers that end: half a file'
[ ! -s out ] || fail 'answers that end: something on standard output'
grep -F 'the answers end before the questions do' err >/dev/null || fail 'answers that end: not said'
# what is set is not asked
printf '\n%.0s' 1 2 3 4 5 6 7 8 9 10 11 12 |
    "$tool" new --template running-rinse --set basket.parts=7 --set 'oil.on parts=3 mg' \
        >made.csv 2>asked || fail '--set and questions'
grep '^basket,parts,7,1,,answered$' made.csv >/dev/null || fail '--set of parts'
grep 'basket.parts \[' asked >/dev/null && fail 'what was set is asked'

# ---- for scripts ----
good new --template aqueous-counterflow --yes --set 'bath.drag-out=75 mL/m2' --set 'last.flow=0.5 gal/min'
grep '^bath,drag-out,75,mL/m2,30%,answered' out >/dev/null || fail '--set drag-out'
grep '^last,flow,0.5,gal/min,5%,answered' out >/dev/null || fail '--set with another unit'
expect 0 new --template running-rinse --yes --write first.csv
[ ! -s out ] || fail '--write: something on standard output'
cmp -s first.csv "$source/data/templates/running-rinse.csv" || fail '--write'
expect 4 new --template plating-counterflow --yes --write first.csv
cmp -s first.csv "$source/data/templates/running-rinse.csv" || fail 'overwritten'
expect 0 new --template plating-counterflow --yes --force --write first.csv
cmp -s first.csv "$source/data/templates/plating-counterflow.csv" || fail '--force'

says '--yes needs a --template' 2 new --yes
says "--template 'x' is not one of them" 2 new --template x --yes
says "--set 'basket.parts' is not like" 2 new --template running-rinse --yes --set basket.parts
says 'the template has no such row' 2 new --template running-rinse --yes --set basket.weight=3kg
says 'the template has no such row' 2 new --template running-rinse --yes --set basket.kind=load
says 'no file is read' 2 new line.csv
says 'kg' 2 new --template running-rinse --yes --set 'bath.volume=40 kg'
says '-5' 2 new --template running-rinse --yes --set 'basket.parts=-5'
exit $failed
