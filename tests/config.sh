#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Files of settings: where they are read from, what goes before what, what each form of an answer says
# of them, and what is refused. See dregs-config(5).
set -eu
name=dregs
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# what lies in the folders that tests run in would be read by them
for folder in "$build" "$source" "$source/data"; do
    [ ! -e "$folder/.dregs" ] || fail "$folder/.dregs: settings in a folder of the tests"
done

unset XDG_CONFIG_HOME
HOME=$work/home
export HOME
mkdir -p home/.config/dregs xdg/dregs house

# silent WORDS: the answer says nothing of how it was read
silent()
{
    grep 'how it was read' out >/dev/null && fail "$1"
    return 0
}

# Water of 900 kg/m3 and of 800: the density tells whose liquids were taken.
for density in 900 800; do
    printf 'liquid,property,equation,unit,A,source\nwater,density,A,kg/m3,%s,made up\n' $density \
        >house/$density.csv
done
# takes DENSITY ARGUMENT...
takes()
{
    density=$1
    shift
    good liquid --at 20degC "$@" water
    grep "density .* $density kg/m3" out >/dev/null || fail "$*: not the water of $density kg/m3"
}

# ---- where, and what goes before what ----
echo "liquids = $work/house/900.csv" >home/.config/dregs/config
takes 900
prints "how it was read $HOME/.config/dregs/config:1: liquids = $work/house/900.csv"
takes 800 --liquids house/800.csv
silent 'a setting that takes no part is named'
XDG_CONFIG_HOME=$work/xdg
export XDG_CONFIG_HOME
good liquid water
silent 'HOME is read where XDG_CONFIG_HOME is set'
printf '# ours\n\nliquids = %s\n' "$work/house/900.csv" >xdg/dregs/config
takes 900
prints "$work/xdg/dregs/config:3: liquids ="
XDG_CONFIG_HOME=xdg # not absolute
takes 900
prints "$HOME/.config/dregs/config:1: liquids ="
XDG_CONFIG_HOME=$work/xdg
echo 'liquids=house/800.csv' >.dregs # both are there
takes 800
prints 'how it was read .dregs:1: liquids = house/800.csv'
grep 'xdg/dregs/config' out >/dev/null && fail 'a setting that does not count is named'
echo 'threads = 1' >.dregs # each sets what the other does not
good predict --draws 20 line.csv
prints "$work/xdg/dregs/config:3: liquids = $work/house/900.csv"
prints '.dregs:1: threads = 1'
echo 'liquids = 800.csv' >house/settings # beside it
takes 800 --config house/settings
prints 'how it was read house/settings:1: liquids = 800.csv'
good liquid --config none water
silent '--config none reads a file'
echo 'threads = 2' >none
good predict --draws 20 --config ./none line.csv
prints './none:1: threads = 2'
good predict --draws 20 --threads 1 --config ./none line.csv
silent 'an option of the command line does not go before'
good new --template list # reads no settings
echo nonsense >.dregs
good new --template list
"$tool" example aqueous-line >out || fail 'an example reads settings'
rm .dregs xdg/dregs/config home/.config/dregs/config
(unset HOME XDG_CONFIG_HOME && "$tool" predict --draws 0 line.csv >out 2>err) || fail 'without HOME'

# ---- every form says so, and the answer is that of the options ----
echo 'threads = 1' >one
for form in text json; do
    good predict --draws 20 --threads 1 --format $form line.csv
    cp out plain
    good predict --draws 20 --config one --format $form line.csv
    grep 'one:1: threads = 1' out >/dev/null || fail "$form does not name the setting"
    [ "$(diff plain out | grep -c '^<')" -le 1 ] || fail "$form: another answer than that of the option"
done
good predict --draws 20 --threads 1 --format csv line.csv
cp out plain
good predict --draws 20 --config one --format csv line.csv
sed '1s/$/,settings/; 2,$s/$/,one:1: threads = 1/' plain | cmp -s - out || fail 'CSV'
good predict --draws 0 --threads 1 --format csv --wide line.csv
cp out plain
good predict --draws 0 --config one --format csv --wide line.csv
sed '1s/$/,settings/; 2,$s/$/,one:1: threads = 1/' plain | cmp -s - out || fail 'wide CSV'
good predict --draws 20 --config one --each line.csv
sed -n 2p out | grep ',one:1: threads = 1$' >/dev/null || fail '--each'
good predict --draws 20 --config one --format html line.csv
prints 'one:1: threads = 1'
prints "$(sha256sum one | cut -c1-64)"
good tally --draws 0 --by form --format csv --config one "$source/data/solvent-shop.csv"
tail -1 out | grep '^settings,.*one:1: threads = 1' >/dev/null || fail 'a form as CSV'
expect 0 predict --draws 0 --config one --format svg --picture residue line.csv
[ "$(cat err)" = 'dregs predict: one:1: threads = 1' ] ||
    fail 'beside a picture no word on standard error'
expect 0 predict --draws 20 --config one --save part line.csv
grep '^dregs predict: one:1: threads = 1$' err >/dev/null || fail 'beside a part no word on standard error'

# ---- the marks of CSV ----
printf 'separator = ;\ndecimal = ,\n' >comma
good predict --draws 0 --format csv --separator ';' --decimal , line.csv
cp out plain
good predict --draws 0 --format csv --config comma line.csv
sed '1s/$/;settings/; 2,$s/$/;"comma:1: separator = ;; comma:2: decimal = ,"/' plain |
    cmp -s - out || fail 'separator and decimal'
good predict --draws 0 --config comma line.csv # no CSV: nothing to say
silent 'a setting that takes no part is named'
good predict --draws 0 --format csv --separator , --config none line.csv
cp out plain
good predict --draws 0 --format csv --separator , --config comma line.csv
cmp -s plain out || fail 'one of the command line meets one of a file'

# ---- the units: of dregs-tally alone ----
echo 'units = us' >gallons
good predict --draws 0 --config gallons line.csv
silent 'a setting that takes no part is named'

# ---- refusals ----
name='dregs predict'
# refused STATUS MESSAGE TEXT: a file of that text
refused()
{
    # shellcheck disable=SC2059 # the text has line breaks in it
    printf "$3" >bad
    expect "$1" predict --config bad line.csv
    [ ! -s out ] || fail "$3: something on standard output"
    [ "$(cat err)" = "dregs predict: bad:$2" ] || fail "$3: not said: $2"
}

refused 3 "1: unknown key 'treads'; nearest: 'threads'
dregs predict: bad:3: 'threads' stands twice, first in line 2
dregs predict: bad:4: unknown key 'currency'
dregs predict: bad:5: 'threads 5' is no setting, which is written key = value" \
    'treads = 5\nthreads = 5\nthreads = 5\ncurrency = EUR\nthreads 5\n'
refused 3 "2: threads '1.5' is not a whole number from 1 to 256" '\nthreads = 1.5\n'
refused 3 "1: threads '0' is not a whole number from 1 to 256" 'threads = 0\n'
refused 3 "1: separator ':' is not one of ',', ';', tab" 'separator = :\n'
refused 3 "1: decimal 'x' is not one of '.', ','" 'decimal = x\n'
refused 3 "1: a comma cannot be both: decimal = , takes separator = ; or tab" 'decimal = ,\n'
refused 3 "1: units 'metric' is not one of si, us" 'units = metric\n'
refused 3 "1: liquids cannot be standard input" 'liquids = -\n'
refused 4 "1: gone.csv: No such file or directory" 'liquids = gone.csv\n'
misuse '--config cannot be standard input' predict --config - line.csv
expect 4 predict --config gone line.csv
[ "$(cat err)" = 'dregs predict: gone: No such file or directory' ] || fail 'a file that is not there'
expect 3 predict --config house line.csv
[ "$(cat err)" = 'dregs predict: house: is a directory, not a file' ] || fail 'a folder'
ln -s .dregs .dregs # nobody can read it, root neither
expect 4 predict line.csv
[ ! -s out ] || fail 'an answer without the settings'
grep '^dregs predict: .dregs: ' err >/dev/null || fail '.dregs that cannot be read'
rm .dregs
echo 'nonsense' >.dregs
expect 3 predict line.csv
grep "^dregs predict: .dregs:1: 'nonsense' is no setting" err >/dev/null || fail '.dregs with a fault'
good predict --draws 0 --config none line.csv

exit "$failed"
