#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-dry: every option, misuse, exit statuses, the forms of its output, its cautions.
set -eu
name=dregs-dry few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# bad STATUS WORDS ARGUMENT...: one line with the words, nothing on stdout
bad()
{
    status=$1
    words=$2
    shift 2
    expect "$status" "$@"
    [ ! -s out ] || fail "$*: something on standard output"
    [ "$(wc -l <err)" -eq 1 ] || fail "$*: not one line"
    grep -F -- "$words" err >/dev/null || fail "$*: not said: $words"
}

# film ARGUMENT...: 20 um of isopropanol at 22 degC with these options
film()
{
    good --liquid isopropanol --film '20 um' --at 22degC "$@"
}

# time_of ARGUMENT...: seconds until that film is dry, from the end of its curve
time_of()
{
    film --format csv "$@"
    awk -F, 'NR > 1 { last = $1 } END { print last }' out
}

# judged: what a Python program on standard input says of the page in out
judged()
{
    if command -v python3 >/dev/null 2>&1; then
        python3 - out
    else
        cat >/dev/null
    fi
}

# last QUANTITY: its last value in the csv in out
last()
{
    awk -F, -v what="$1" '$2 == what { value = $3 } END { print value }' out
}

# less A B
less()
{
    awk -v a="$1" -v b="$2" 'BEGIN { exit !(a != "" && b != "" && a + 0 < b + 0) }'
}

# near A B RELATIVE
near()
{
    awk -v a="$1" -v b="$2" -v by="$3" 'BEGIN {
        d = a - b; if (d < 0) d = -d; m = b < 0 ? -b : b; exit !(a != "" && b != "" && d <= by * m) }'
}

# lacks WORDS
lacks()
{
    tr -s ' \n' '  ' <out | grep -F -- "$1" >/dev/null && fail "printed: $1"
    return 0
}

# ---- help, version, misuse ----
good --help
prints 'usage: dregs-dry'
for option in liquid share film at sweep start air-speed humidity heat-capacity length area volume \
    fresh-air interval recess-depth until check format explain liquids 'help,' 'version,'; do
    prints " --$option "
done
good --version
prints 'dregs-dry '
misuse 'without LINE, --liquid, --film and --at'
misuse 'without LINE, --liquid, --film and --at' --liquid isopropanol --film '20 um'
misuse 'without LINE, --liquid, --film and --at' --liquid isopropanol --at 22degC
misuse 'without LINE, --liquid, --film and --at' --film '20 um' --at 22degC
misuse 'one line file' line.csv bench.csv
misuse "unknown option '--nonsense'" --nonsense line.csv
misuse "'--check=yes' takes no argument" --check=yes line.csv
for option in liquid share film at sweep start air-speed humidity heat-capacity length area volume \
    fresh-air interval recess-depth until format liquids; do
    misuse "option '--$option' needs an argument" line.csv "--$option"
done
misuse "with LINE the film is the line's" --liquid isopropanol line.csv
misuse "with LINE the film is the line's" --share '70 %' line.csv
misuse "with LINE the film is the line's" --film '20 um' line.csv
misuse "with LINE the film is the line's" --area '1 m2' line.csv
misuse "--format 'nonsense' is not one of text, csv, json" --format nonsense line.csv
misuse '--explain' --explain --format csv line.csv
misuse 'the curve of one temperature' --format csv --at 22degC --at 30degC line.csv
misuse 'both be standard input' --liquids - -
misuse "nearest: 'isopropanol'" --liquid isopropanl --film '20 um' --at 22degC
misuse "nearest: 'acetone'" --liquid acetonne --film '20 um' --at 22degC
# a number without its unit, of another kind, none at all, out of its range
for option in at start film air-speed heat-capacity length volume fresh-air interval recess-depth area; do
    misuse "--$option '5': needs a unit, for example '5 " "--$option" 5
    misuse "--$option 'five': no number" "--$option" five
    misuse "--$option 'nan m'" "--$option" 'nan m'
    misuse "--$option '5 mol'" "--$option" '5 mol'
done
misuse "--at '22': needs a unit, for example '22 degC'" --at 22
misuse 'out of its range' --at=-300degC
misuse "--at '300degC' is out of its range, -73.15 to 276.85 degC" --at 300degC # 200 to 550 K
misuse "--film '2 cm' is out of its range, 0.01 to 10000 um" --film '2 cm'
misuse 'out of its range' --share '101 %'
misuse 'out of its range' --share '0 %'
misuse 'out of its range' --humidity '101 %'
misuse 'out of its range' --air-speed '101 m/s'
misuse 'out of its range' --until '0 %'
misuse 'out of its range' --until '100 %'
misuse 'out of its range' --volume '0 m3'
for sweep in '' 20..80 temperature=20 temperature=80..20 temperature=20..20 temperature=a..b \
    temperature=nan..80 temperature=-300..20 temperature=20..900 speed=1..2 'temperature=20..80 K'; do
    misuse 'is not temperature=A..B' "--sweep=$sweep" --liquid isopropanol --film '20 um'
done

# ---- bad data ----
bad 3 'vapour pressure' --liquid isopropanol --film '20 um' --at 22degC --start=-60degC
good --liquid 'n-butyl acetate' --film '20 um' --at 15degC
prints 'heat capacity of n-butyl acetate at'
prints 'K below its data: straight on'
good --liquid BuAc --film '20 um' --at 15degC
prints '17.72 g/m2 of n-butyl acetate' # 20 um of 886 kg/m3, at the 15 degC of its room
misuse "--liquid 'IPX' is not in the liquid data; 'dregs-liquid' lists it" --liquid IPX --film '20 um' --at 22degC
bad 3 'heat capacity' --liquid 'n-butyl acetate' --film '20 um' --at=-40degC --start=-40degC
bad 3 "'toluene' and 'water'" --liquid toluene --share '50 %' --film '20 um' --at 22degC
bad 4 'no-such-line.csv' no-such-line.csv
bad 4 'no-such-liquids.csv' --liquids no-such-liquids.csv line.csv
sed 's/^oven,temperature,70,degC/oven,temperature,70,kg/' line.csv >wrong.csv
bad 3 'wrong.csv:' wrong.csv
grep -v '^oven,' line.csv >undried.csv
bad 3 'no dry stage behind a wet one' undried.csv

# ---- a film: what the page says ----
film
prints 'dry in'
prints 'isothermal'
prints 'wet bulb'
prints 'assumed, because it is not stated'
for words in 'emissivity 0.9' '101.325 kPa' 'air at 0.1 m/s' "the room's air is the air it dries in" '50 % relative humidity in the room' \
    'part of 3.9 kJ/(m2 K)' 'length of 10 cm' 'part and film as warm as the room' 'vapour does not gather'; do
    prints "$words"
done
prints 'The local code, the safety data sheet and licensed professionals decide.'
prints "isopropanol's flash point"
# what is stated is no longer assumed
film --air-speed '0.1 m/s' --humidity '50 %' --heat-capacity '3.9 kJ/(m2.K)' --length '10 cm' \
    --start 20degC --volume '5 m3' --fresh-air '30 m3/h' --area '1 m2'
for words in 'air at 0.1 m/s' '50 % relative humidity' 'part of 3.9' 'length of 10 cm' 'part and film as warm' \
    'does not gather' 'no fresh air' '1 m2 of wet face'; do
    lacks "$words"
done
film --volume '5 m3'
prints 'no fresh air'
prints '1 m2 of wet face'
prints 'of one load stays below 25 % of the lower flammable limit without fresh air'
# the assumed values are the ones that are used
first=$(time_of)
second=$(time_of --air-speed '0.1 m/s' --humidity '50 %' --heat-capacity '3.9 kJ/(m2.K)' --length '10 cm' \
    --start 22degC --room 22degC --until '0.1 %')
near "$first" "$second" 1e-9 || fail "assumed $first s, stated $second s"

# ---- every option moves the answer the way it must ----
less "$(time_of --air-speed '2 m/s')" "$first" || fail 'a draught does not help'
less "$(time_of --until '10 %')" "$first" || fail 'a tenth left takes as long'
less "$(time_of --start 30degC)" "$first" || fail 'a warm start does not help'
less "$(time_of --length '1 cm')" "$first" || fail 'a short face does not help'
less "$(time_of --heat-capacity '40 kJ/(m2.K)')" "$first" || fail 'a heavy part does not help'
less "$first" "$(time_of --volume '0.5 m3' --area '1 m2')" || fail 'a small room does not hinder'
less "$(time_of --volume '0.5 m3' --area '1 m2' --fresh-air '100 m3/h')" \
    "$(time_of --volume '0.5 m3' --area '1 m2')" || fail 'fresh air does not help'
less "$first" "$(time_of --share '70 %')" || fail 'water in the film does not hinder'
good --liquid water --film '20 um' --at 22degC --humidity '90 %' --format csv
damp=$(awk -F, 'END { print $1 }' out)
good --liquid water --film '20 um' --at 22degC --humidity '10 %' --format csv
less "$(awk -F, 'END { print $1 }' out)" "$damp" || fail 'dry air does not help'
film --recess-depth '5 mm'
prints 'the blind hole decides, by diffusion through its mouth'
prints 'the blind hole is dry after'
film --recess-depth '1 um'
prints 'even film dry in'
prints '; beads later: not computed'
film --recess-depth '1 um' --bead '0 mL/m'
prints ': the film decides'
lacks 'not computed'
film
prints 'even film dry in'
prints '; beads and holes later: not computed'
lacks 'decides'
# a bead of half a cylinder of 0.4 mm: 0.2513 mL/m; 20 times the film, with half of its air
film --recess-depth '0 mm' --bead '0.2513 mL/m'
prints 'dry in at most'
prints ': the bead on the lower edge decides; even film'
prints 'bead as half a cylinder of 0.4 mm radius'
prints 'where the part keeps it as warm as the air'
film --bead '0.2513 mL/m' --format json
judged <<'EOF' || fail 'the bead in JSON'
import json
import sys

figures = {k: v['value'] if isinstance(v, dict) else v for k, v in json.load(open(sys.argv[1]))['figures'].items()}
assert figures['last'] == 'bead' and figures['not_computed'] == 'holes', figures
assert figures['drying_time'] == figures['bead_time'] > 20 * figures['film_time'], figures
assert 20 * 0.9 < figures['bead_time_least'] * 0.75 / figures['isothermal_time'] < 20 * 1.3, figures
assert figures['interval'] is None and figures['late'] is False, figures
EOF
# limiting cases stand there only where they are: a cold part in an oven takes longer than both
film --at 60degC --format json
judged <<'EOF' || fail 'limiting cases that are none'
import json
import sys

table = {t['key']: t for t in json.load(open(sys.argv[1]))['tables']}['dryings']
rows = [dict(zip([c['key'] for c in table['columns']], row)) for row in table['rows']]
assert rows[0]['isothermal_time'] < rows[0]['film_time'] < rows[0]['wet_bulb_time'], rows[0]
assert rows[1]['isothermal_time'] < rows[1]['film_time'] and rows[1]['wet_bulb_time'] is None, rows[1]
EOF
# a line's edge, and loads that come sooner than they dry
sed 's/^basket,hold-up.*/basket,hold-up,0,mL,,\nbasket,edge,10,cm,,/; s/^last,drag-out/last,temperature,20,degC,,\n&/
    s/^bath,drag-out/bath,temperature,60,degC,,\n&/; /^bath,temperature,60,degC,,$/d' \
    "$source/data/aqueous-line.csv" >edge.csv
sed 's/^first,drag-out/first,temperature,20,degC,,\n&/' edge.csv >edged.csv
sed 's/^basket,edge.*/basket,edge,0,cm,,/' edged.csv >flat.csv
good flat.csv
prints ': the film decides'
lacks 'NOT within'
good edged.csv
prints ': the bead on the lower edge decides; even film'
prints 'NOT within the 7 min to the next load'
sed 's/^basket,interval.*/basket,interval,2,min,,/' flat.csv >hasty.csv
good hasty.csv
prints '; NOT within the 2 min to the next load: 3 loads at a time'
# what is dry in time passes, what is late does not, nor what is not known to be dry
good --check flat.csv
expect 1 --check edged.csv
expect 1 --check hasty.csv
grep -v '^basket,edge' flat.csv >edgeless.csv
expect 1 --check edgeless.csv
prints 'not known to be dry: beads are not computed'
grep -v '^basket,hold-up' flat.csv >holed.csv
expect 1 --check holed.csv
prints 'not known to be dry: holes are not computed'
good --check --bead '0 mL/m' edgeless.csv # the options tell it too
# every tool that reads the line says so, with the same number
for line in edged hasty flat; do
    good --format json $line.csv
    mv out dry.json
    "$build/dregs-predict" --format json $line.csv >predict.json || fail "predict of $line"
    /usr/bin/python3 - $line <<'EOF' || fail "the tools do not agree on $line"
import json
import sys
said = [[c['text'] for c in json.load(open(f))['cautions'] if c['id'] == 'longer than the interval']
        for f in ('dry.json', 'predict.json')]
assert said[0] == said[1] and len(said[0]) == (sys.argv[1] != 'flat'), said
EOF
done
# behind an air knife the oven dries on: it is the oven that has to be in time
awk '/^oven,kind/ { print "knife,kind,dry,,,"; print "knife,temperature,20,degC,,"
    print "knife,blow-off,50,%,," } { print }' flat.csv >knife.csv
good --check knife.csv
prints 'at 20 degC in knife'
prints 'at 70 degC in oven'
lacks 'NOT within'
good --liquid isopropanol --film '20 um' --at 22degC --at 40degC --at 60degC
[ "$(grep -c 'dry in ' out)" -eq 3 ] || fail 'not three temperatures'
prints 'times as fast as the first'
# one unit in a column, in its head: 20 degC takes minutes here, 80 degC far less than three
good --liquid water --film '20 um' --at 20degC --at 80degC --air-speed '2 m/s'
prints 'min min, least min, most'
awk '/^ +(20|80) / { rows++; for (i = 1; i <= NF; i++) if ($i ~ /^(s|min|h)$/) exit 1 } END { if (rows != 4) exit 1 }' out ||
    fail 'a unit beside a time'
good --liquid isopropanol --film '20 um' --sweep temperature=20..80
[ "$(grep -c 'dry in ' out)" -eq 7 ] || fail 'not seven temperatures'
for celsius in 20 30 40 50 60 70 80; do
    prints "at $celsius degC"
done
film --explain
for words in 'the working' 'Antoine' 'Chilton and Colburn' 'Stefan flow' 'msbdf' 'DIPPR'; do
    prints "$words"
done
printf 'liquid,property,equation,unit,A,source\nisopropanol,vapour pressure,A,kPa,2,own\n' >own.csv
less "$first" "$(time_of --liquids own.csv)" || fail 'a lower vapour pressure does not hinder'

# ---- how the air meets the face ----
# pan of 0.457 m in air of 65.6 degC, humidity ratio 0.010 (dew point 14.0 degC), 6.1 m/s: 3.39
# kg/(m2 h) at 28.9 degC (Geankoplis, example 9.6-3; his film is at the chart's wet bulb, he leaves
# out radiation): a film of 10 mm of 998 kg/m3 would take 2.94 h. Ours is colder by 0.9 K and the
# walls radiate.
pan()
{
    good --liquid water --film 10mm --at 65.6degC --room 20degC --dew-point 14degC --air-speed 6.1m/s \
        --length 457mm --start 28.9degC --until 1% --format csv "$@"
    awk -F, 'END { print $1 / 0.99 / 3600 }' out
}
tray=$(pan --air tray)
less 2.4 "$tray" && less "$tray" 2.94 || fail "the pan dries in $tray h, not somewhat below 2.94"
turbulent=$(pan --air turbulent)
laminar=$(pan --air laminar)
less "$tray" "$turbulent" && less "$turbulent" "$laminar" || fail "tray $tray, turbulent $turbulent, laminar $laminar h"
near "$(pan)" "$laminar" 1e-12 || fail 'not assumed laminar'
good --liquid water --film 20um --at 60degC
prints 'a calm stream along the face (air laminar): the slowest'
good --liquid water --film 20um --at 60degC --air turbulent --air-speed 5m/s --explain
lacks 'air laminar'
prints '0.037 Re^0.8 Pr^(1/3)'
set -- --liquid water --film 20um --at 60degC --air jet --air-speed 20m/s --nozzle-diameter 5mm --nozzle-distance 30mm
good "$@" --nozzle-pitch 40mm --explain
prints 'Martin 1977'
prints 'nozzles of 5 mm at 30 mm, pitch 40 mm'
good "$@" --length 5cm
prints 'one nozzle, amid the face: no pitch is stated'
misuse "--air 'windy' is not one of laminar, turbulent, tray, jet" --liquid water --film 20um --at 60degC --air windy
bad 3 'air tray needs its speed' --liquid water --film 20um --at 60degC --air tray
bad 3 'air jet needs its speed at the nozzle' --liquid water --film 20um --at 60degC --air jet --air-speed 9m/s
bad 3 'the Reynolds number of a jet is' "$@" --length 5cm --air-speed 1m/s
bad 3 'the distance of a jet in nozzle diameters is 20' "$@" --length 5cm --nozzle-distance 10cm
bad 3 'air of 20 degC over a tray' --liquid water --film 20um --at 20degC --air tray --air-speed 3m/s
sed 's/^oven,temperature.*/&\noven,air,turbulent,,,\noven,air speed,4,m\/s,,/' "$source/data/aqueous-line.csv" >fan.csv
good fan.csv --explain
prints '0.037 Re^0.8 Pr^(1/3)'
good fan.csv --air laminar --explain
lacks '0.037 Re^0.8 Pr^(1/3): Incropera'

# ---- the room that the air comes from ----
# dew point of 30 degC and 60 %: 21.4 degC (psychrometric chart, from memory)
good --liquid water --film 20um --at 30degC --humidity 60%
prints 'air of a room of 30 degC and 60 %, dew point 21.4 degC'
prints "the room's air is the air it dries in"
good --liquid water --film 20um --at 60degC --room 30degC --humidity 60%
prints 'air of a room of 30 degC and 60 %, dew point 21.4 degC, heated'
lacks 'the air comes from'
ends()
{
    good --liquid water --film 20um --at 60degC --room 30degC --format csv "$@"
    awk -F, 'END { print $1 }' out
}
humid=$(ends --humidity 60%)
same=$(ends --dew-point 21.39degC)
near "$humid" "$same" 1e-3 || fail "a dew point tells the same: $humid and $same s"
less "$(ends --dew-point 5degC)" "$humid" || fail 'dry air does not help'
good --liquid water --film 20um --at 60degC --humidity 60%
prints 'air of a room of 20 degC and 60 %'
prints 'the air comes from a room of 20 degC and is heated'
misuse '--humidity and --dew-point tell the same' --liquid water --film 20um --at 60degC --humidity 60% --dew-point 10degC
bad 3 "the room's dew point is 25 degC" --liquid water --film 20um --at 60degC --dew-point 25degC
bad 3 'it would be fog' --liquid water --film 20um --at 15degC --room 30degC --humidity 60%
# the item `room` of a line, and what takes its place
{
    cat "$source/data/aqueous-line.csv"
    printf 'hall,kind,room,,,\nhall,temperature,28,degC,,\nhall,dew point,14,degC,,\n'
} >room.csv
good room.csv
prints 'air of a room of 28 degC and 42.2' # 15.99 over 37.83 hPa (steam tables, from memory)
prints ' %, dew point 14 degC, heated'
lacks 'hall: dew point'
good --room 25degC --humidity 40% room.csv
prints 'air of a room of 25 degC and 40 %'
sed 's/^hall,dew point.*/hall,humidity,55,%,,/' room.csv >humid.csv
good humid.csv
prints 'air of a room of 28 degC and 55 %'
sed 's/^oven,temperature.*/&\noven,humidity,35,%,,/' room.csv >oven.csv
good oven.csv
prints 'air of a room of 28 degC and 35 %'
{
    cat room.csv
    printf 'hall,humidity,55,%%,,\n'
} >twice.csv
bad 3 "one quantity of 'hall' is given in two ways" twice.csv
sed 's/^hall,dew point.*/hall,dew point,29,degC,,/' room.csv >foggy.csv
bad 3 'the dew point of hall is 29 degC' foggy.csv

# acetone's rows under another name dry as acetone does, and are not taken for another liquid
{
    sed -n 1p "$source/data/liquids.csv"
    sed -n 's/^acetone,/nail remover,/p' "$source/data/liquids.csv"
} >renamed.csv
good --liquid acetone --film '20 um' --at 25degC --humidity '80 %' --format csv
mv out acetone
good --liquids renamed.csv --liquid 'nail remover' --film '20 um' --at 25degC --humidity '80 %' --format csv
sed 's/nail remover/acetone/' out >renamed
cmp -s acetone renamed || fail 'under another name acetone dries otherwise'
grep -v 'miscibility' renamed.csv >silent.csv
bad 3 "silent.csv: no miscibility with water of 'nail remover': add a row" \
    --liquids silent.csv --liquid 'nail remover' --film '20 um' --at 25degC
good --liquids silent.csv --liquid 'nail remover' --film '20 um' --at 25degC --humidity '0 %'

# ---- the curve ----
film --format csv --volume '5 m3' --area '1 m2' --until '1 %'
[ "$(sed -n 1p out)" = 'time,quantity,value,unit' ] || fail 'csv header'
start=$(awk -F, '$2 == "liquid" { print $3; exit }' out)
near "$(last liquid)" "$(awk -v s="$start" 'BEGIN { printf "%.17g", s / 100 }')" 1e-6 ||
    fail 'not 1 % left at the end'
# 20 um of 785 kg/m3 (CRC Handbook)
near "$start" 15.7 5e-3 || fail "$start g/m2 of 20 um"
# what left the film is in the room: g/m2 x 1 m2 of 60.1 g/mol in 5 m3 at 22 degC
near "$(last 'vapour of isopropanol')" \
    "$(awk -v s="$start" 'BEGIN { printf "%.17g", s * 0.99 / 60.096 * 8.314462618 * 295.15 / 101325 / 5 * 1e6 }')" \
    1e-2 || fail 'the vapour is not the liquid that left'
awk -F, 'NR > 1 && ($1 + 0 < before || $3 == "" || NF != 4) { exit 1 } NR > 1 { before = $1 + 0 }' out ||
    fail 'the curve is not in the order of time'
awk -F, '$2 ~ /^(liquid|vapour)/ && $3 + 0 < 0 { exit 1 }' out || fail 'less than nothing'

# what cannot be worked out of a recess does not take the rest away, least of all a caution
good --liquid isopropanol --film '20 um' --at 90degC --volume '50 L' --recess-depth '3 mm'
prints 'no time for the blind hole: isopropanol boils at 90 degC'
sed -n 1p out | grep '^closed oven' >/dev/null || fail 'a recess hides the closed oven'
good --liquid isopropanol --film '20 um' --at 60degC --volume '50 L' --fresh-air '0 m3/h'
sed -n 1p out | grep '^closed oven' >/dev/null || fail 'no air at all is not a closed oven'
good --cautions all --liquid d-limonene --film '5 um' --at 34degC
prints "just below d-limonene's flash point, 48 degC"

# ---- --check ----
# what burns and whose vapour nobody can judge does not pass; what does not burn does
expect 1 --check --liquid isopropanol --film '20 um' --at 22degC --at 60degC
[ "$(grep -c '^vapour not judged: no fresh air is stated; what is required stands below$' out)" -eq 1 ] ||
    fail 'not judged: not said once'
[ "$(grep -c '^required at [0-9]* degC: fresh air of' out)" -eq 2 ] || fail 'what is required'
lacks 'its vapour reaches'
expect 1 --check --liquid isopropanol --share '70 %' --film '20 um' --at 22degC
expect 1 --check bench.csv
prints 'vapour not judged: no fresh air is stated; what is required stands below (air)'
# a flammable film in an oven of which nothing is stated: what is required is said, and it fails;
# with that air it passes, with less it does not
oven='--check --liquid isopropanol --area 0.7m2 --interval 90s'
# shellcheck disable=SC2086
expect 1 $oven --film '20 um' --at 120degC
prints 'drying vapour, 120 degC: the vapour of the film of isopropanol needs at least'
required=$(sed -n 's/^required at 120 degC: fresh air of \([0-9.]*\) m3\/h.*/\1/p' out)
tr -s ' \n' '  ' <out | grep -F "needs at least $required m3/h" >/dev/null || fail 'two figures'
# shellcheck disable=SC2086
{
    good $oven --film '20 um' --at 120degC --fresh-air "$required m3/h"
    lacks 'not judged'
    lacks 'drying vapour'
    expect 1 $oven --film '20 um' --at 120degC \
        --fresh-air "$(awk -v q="$required" 'BEGIN { print q * 0.99 }') m3/h"
}
prints 'less fresh air is stated than is required below'
prints 'which is too little'
# loads that follow each other need more than one alone, and judge more strictly
film --volume '1 m3' --area '1 m2' --fresh-air '21 m3/h' --check
expect 1 --liquid isopropanol --film '20 um' --at 22degC --volume '1 m3' --area '1 m2' \
    --fresh-air '17 m3/h' --interval '2 min' --check
film --volume '9 m3' --area '1 m2'
prints 'of one load stays below 25 % of the lower flammable limit without fresh air'
tr -s ' \n' '  ' <out | grep -E 'vapour of one load reaches [0-9.]+ % .* quarter of it with load [0-9]+' \
    >/dev/null || fail 'a closed room: when it is full'
expect 1 --liquid isopropanol --film '20 um' --at 22degC --volume '9 m3' --area '1 m2' --check
prints 'the vapour of loads that follow adds up'
good --check --liquid water --film '20 um' --at 22degC
lacks 'not judged'
film --check --volume '100 m3' --fresh-air '100 m3/h' --area '1 m2'
lacks 'not judged'
# a volume does not help where the limit is not on record
grep -v ',lower flammable limit,' renamed.csv >limitless.csv
expect 1 --check --liquids limitless.csv --liquid 'nail remover' --film '20 um' --at 25degC --volume '5 m3'
prints 'vapour not judged: no lower flammable limit of it is on record'
expect 1 --check --liquid isopropanol --film '20 um' --at 60degC --volume '100 L'
[ -s out ] || fail '--check prints nothing'
# why it does not pass, where the time stands
sed -n '/dry in /,/^$/p' out | tr -s '\n ' '  ' | grep 'its vapour reaches' >/dev/null || fail 'why it exits 1'
good --liquid isopropanol --film '20 um' --at 60degC --volume '100 L'
prints 'keeps the vapour at 25 %'
needed=$(sed -n 's/.*fresh air of \([0-9.]*\) m3\/h keeps.*/\1/p' out)
good --check --liquid isopropanol --film '20 um' --at 60degC --volume '100 L' --fresh-air "$needed m3/h"
good --check --liquid isopropanol --film '20 um' --at 60degC --volume '100 L' \
    --fresh-air "$(awk -v q="$needed" 'BEGIN { print q * 1.01 }') m3/h"
expect 1 --check --liquid isopropanol --film '20 um' --at 60degC --volume '100 L' \
    --fresh-air "$(awk -v q="$needed" 'BEGIN { print q * 0.99 }') m3/h"
expect 1 --check --liquid water --film '20 um' --at 20degC --humidity '100 %'
prints 'does NOT dry at 20 degC within 1e7 s'
expect 1 --check --format json --liquid water --film '20 um' --at 20degC --humidity '100 %'
expect 1 --check --format csv --liquid water --film '20 um' --at 20degC --humidity '100 %'

# ---- cautions ----
# first of all: a flammable film in an oven without stated fresh air
film --volume '100 L'
sed -n 1p out | grep '^closed oven' >/dev/null || fail 'the closed oven is not the first line'
prints 'Do not dry it like this'
good --liquid isopropanol --film '20 um' --at 22degC --at 60degC --volume '100 L'
sed -n 1p out | grep '^closed oven, 60 degC' >/dev/null || fail 'not of the warmest air'
film --volume '100 L' --fresh-air '100 m3/h'
lacks 'closed oven'
good --cautions all --liquid water --film '20 um' --at 60degC --volume '100 L'
lacks 'closed oven'
prints 'parts and basket come out'
film --cautions all --volume '100 L' --fresh-air '1 m3/h'
prints 'keep it below 25 %'
prints 'the lowest first: at most 400 ppm'
good --cautions all --liquid acetone --film '20 um' --at 22degC --humidity '70 %' --heat-capacity '0.4 kJ/(m2.K)'
prints 'wet spots'
prints 'below the dew point'
good --liquid n-heptane --film '20 um' --at 190degC # 204 degC
prints 'ignites by itself'
# without a volume nobody knows what the air holds; in a large room it is known, and little
film --cautions all
prints 'the vapour of isopropanol harms'
film --cautions all --volume '1000 m3' --area '0.1 m2' --fresh-air '1000 m3/h'
lacks 'at most 400 ppm'
# a ban is named, once however many temperatures there are
good --liquid trichloroethylene --film '15 um' --at 30degC --at 40degC
prints 'restriction: trichloroethylene, EU: use only with an authorisation'
[ "$(grep -c '^  restriction: trichloroethylene, EU' out)" -eq 1 ] || fail 'one ban said twice'
# the stage is named once, with the numbers of the warmest air
good --cautions all --sweep temperature=40..100 line.csv
[ "$(grep -c '^  hot parts, 100 degC: oven: parts' out)" -eq 1 ] || fail 'hot parts: not one, of 100 degC'

# ---- the lines ----
good line.csv
prints 'oven: '
prints 'of water, line.csv'
prints 'at 70 degC in oven'
prints '0.05 mL trapped per part gives off its vapour with the film'
prints 'the film of the worst load leaves'
# 60 mL/m2 less 40 % by the air knife: 36 g/m2
near "$(sed -n 's/^oven: \([0-9.]*\) g\/m2.*/\1/p' out)" 36 5e-3 || fail 'not 36 g/m2'
"$build/dregs-predict" --format json line.csv >predicted 2>err || fail 'dregs-predict'
good --format json line.csv
mv out dried
if command -v python3 >/dev/null 2>&1; then
    python3 - <<'PYTHON' >err 2>&1 || fail 'the residue is not what dregs-predict says'
import json
film = json.load(open('dried'))['figures']['dried_film']
tables = {table['key']: table for table in json.load(open('predicted'))['tables']}
worst = tables['worst_by_solute']
names = [column['key'] for column in worst['columns']]
total = dict(zip(names, worst['rows'][-1]))
assert total['solute'] == 'total' and film['value'] > 0, total
assert film['unit'] == [c['unit'] for c in worst['columns'] if c['key'] == 'dried_film'][0] == 'ug/cm2'
assert abs(total['dried_film'] / film['value'] - 1) < 1e-6, (film, total)
PYTHON
fi
good --at 90degC --recess-depth '2 mm' line.csv
prints 'at 90 degC in oven'
lacks 'trapped per part'
good --sweep temperature=40..100 line.csv
[ "$(grep -c 'dry in ' out)" -eq 7 ] || fail 'not seven temperatures of the line'
good bench.csv
prints 'air: '
prints 'of isopropanol, bench.csv'
prints "isopropanol's flash point"
prints 'the vapour of one load'
good --volume '30 L' bench.csv
sed -n 1p out | grep '^closed oven' >/dev/null || fail 'the closed oven is not the first line of a line'
sed 's/^air,temperature,22,degC,,/&\nair,air speed,1,m\/s,,\nair,humidity,30,%,,/' bench.csv >stated.csv
good stated.csv
lacks 'air at 0.1 m/s'
lacks '50 % relative humidity'
good --check --volume '100 m3' --fresh-air '100 m3/h' --bead '0 mL/m' --recess-depth 0mm bench.csv
good --explain bench.csv
prints 'the working'

# ---- standard input, repetition ----
for form in text csv json; do
    good --format $form line.csv
    mv out first
    good --format $form line.csv
    cmp -s first out || fail "$form differs from run to run"
    sed 's/line\.csv/standard input/' first >named
    run --format $form - <line.csv >out 2>err || fail "$form from standard input"
    cmp -s named out || fail "$form from standard input differs from the file's"
done
run --liquids - --liquid isopropanol --film '20 um' --at 22degC <own.csv >out 2>err ||
    fail 'liquids from standard input'

# ---- a full disk ----
if [ -c /dev/full ]; then
    for words in --help line.csv '--format csv line.csv' '--format json line.csv' '--explain line.csv' \
        '--check --volume 30L bench.csv'; do
        got=0
        # shellcheck disable=SC2086
        run $words >/dev/full 2>err || got=$?
        [ "$got" -eq 4 ] || fail "$words to a full disk: exit $got, expected 4"
        grep '^dregs-dry: standard output: ' err >/dev/null || fail "$words: full disk not said"
    done
else
    echo 'not run: a full disk (no /dev/full)'
fi

# ---- csv and json agree, read by another program ----
if command -v python3 >/dev/null 2>&1; then
    for words in 'line.csv' 'bench.csv' '--volume 30L --fresh-air 1m3/h bench.csv' '--until 5% line.csv' \
        '--liquid isopropanol --share 70% --film 20um --at 22degC --volume 1m3' \
        '--liquid water --film 20um --at 20degC --humidity 100%'; do
        # shellcheck disable=SC2086
        run --format csv $words >out.csv 2>err || fail "$words: csv"
        # shellcheck disable=SC2086
        run --format json $words >out.json 2>err || fail "$words: json"
        python3 - <<'PYTHON' >err 2>&1 || fail "$words: csv and json"
import csv, io, json
rows = list(csv.reader(io.StringIO(open('out.csv', newline='').read()), strict=True))
page = json.loads(open('out.json').read(), parse_constant=lambda name: 1 / 0)
assert rows[0] == ['time', 'quantity', 'value', 'unit']
tables = {table['key']: [dict(zip([c['key'] for c in table['columns']], row)) for row in table['rows']]
          for table in page['tables']}
assert {'dryings', 'curve', 'volatiles', 'assumed_of_dryings', 'cautions_of_dryings'} <= set(tables)
drying, = tables['dryings']
known = {'stage', 'liquid', 'air_temperature', 'dries', 'film_time', 'isothermal_time', 'wet_bulb_time',
         'recess_time', 'drying_time', 'coldest', 'dew_point', 'wet_spots', 'flammable_peak',
         'vapour_peak', 'fresh_air', 'dilution_air', 'passes'}
assert known <= set(drying), known - set(drying)
figures = {key: value['value'] if isinstance(value, dict) else value
           for key, value in page['figures'].items()}
assert 'dried_film' in figures and all(figures[key] == drying[key] for key in known)
assert all({'id', 'place', 'pressing', 'text', 'source'} <= set(c) for c in page['cautions'])
# of one drying: what is said of it is what is said of all
said = [(c['id'], c['text'], c['source']) for c in page['cautions']]
assert said == [(c['id'], c['text'], c['source']) for c in tables['cautions_of_dryings']]
assert page['assumed'] == [a['text'] for a in tables['assumed_of_dryings']] and page['assumed']
units = {c['key']: c['unit'] for table in page['tables'] if table['key'] == 'curve' for c in table['columns']}
keys = {'temperature': ('temperature', 'degC'), 'liquid': ('liquid_left', 'g/m2'),
        'vapour of the flammable limit': ('flammable', '%')}
curve = {key: [] for key in keys}
for time, quantity, value, unit in rows[1:]:
    if quantity in keys:
        assert unit == keys[quantity][1] == units[keys[quantity][0]]
        curve[quantity].append((float(time), float(value)))
points = tables['curve']
for quantity, values in curve.items():
    key = keys[quantity][0]
    if values:
        assert values == [(p['time'], p[key]) for p in points], quantity
    else: # nothing is known of the air
        assert key == 'flammable' and all(p[key] is None for p in points), quantity
parts = {}
for time, quantity, value, unit in rows[1:]:
    what, of, liquid = quantity.partition(' of ')
    if of and quantity not in keys:
        parts.setdefault((float(time), liquid), {})[what] = (float(value), unit)
assert len(parts) == len(tables['volatiles'])
for p in tables['volatiles']:
    part = parts[p['time'], p['liquid']]
    assert part['liquid'] == (p['liquid_left'], 'g/m2')
    assert part.get('vapour', (None, 'ppm')) == (p['vapour_share'], 'ppm')
if drying['dries']:
    assert drying['film_time'] == points[-1]['time'] <= drying['drying_time']
else:
    assert drying['film_time'] is None and drying['drying_time'] is None
assert drying['coldest'] == min(p['temperature'] for p in points)
assert (page['verdict']['is'] == 'met') == drying['passes'] == figures['passes']
PYTHON
    done
else
    echo 'not run: csv beside json (no python3)'
fi

exit $failed
