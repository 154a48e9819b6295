#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally --units us: every number by the exact factors (NIST SP 811, 2008, B.8), no unit of the SI
# left but those that dregs-tally(1) names, and not a byte changed without it.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
# shellcheck source=tests/tally-line.sh
. "${DREGS_SOURCE:-.}/tests/tally-line.sh"

cp "$source/data/solvent-shop.csv" shop.csv
cp "$source/data/purchases.csv" "$source/data/templates/solvent-still.csv" .
line isopropanol >spirit.csv
line tetrachloroethylene >per.csv

# ---- by hand: 8030 L into the air, 4380 of them over the tank (0.5 L/h, 8760 h) and 3650 off the parts
# (10 loads of 1 L a day), and 36500 L of waste a year; 231 in3 of 25.4 mm to the gal ----
# row STREAM LITRES
row()
{
    awk -F, -v stream="$1" -v litres="$2" '$1 == stream && $2 == "own" {
        gal = litres / (231 * 2.54 ^ 3 / 1000)
        d = $5 - gal; if (d < 0) d = -d
        found = $6 == "gal" && d < 1e-9 * gal } END { exit !found }' out ||
        fail "$1 is not $2 L in gal"
}
good --units us --draws 0 --format csv spirit.csv
row evaporated 4380
row 'dried off the parts' 3650
row dumped 36500
good --units us --draws 0 spirit.csv
# 36500, 4380, 3650 / 3.785411784 = 9642.28, 1157.07, 964.228
prints '9642 gal to the waste tank'
prints '1157 gal into the air over the tanks'
prints '964.2 gal dry off the parts'
prints 'liquids, gal'
grep 'balance error .*none' out >/dev/null || fail 'the balance does not close'
# at 20 degC, 68 degF; a mass is its volume times its density, both as they are shown
good --units us --draws 0 --by liquid spirit.csv
prints 'lb/gal at 68 degF)'
awk '/ lb\/gal at / { density = $2; sub(/\(/, "", density) }
    $1 == "dumped" { d = $4 - $3 * density; if (d < 0) d = -d; found = d < 1e-3 * $4 }
    END { exit !found }' out || fail 'lb are not gal times lb/gal'

# Masses from 2000 lb on: 8030 kg of a liquid of 1000 kg/m3 are 8030 / 907.18474 = 8.852 short tons.
printf 'liquid,property,equation,unit,A,source\nisopropanol,density,A,kg/m3,1000,made up\n' >heavy.csv
good --units us --draws 0 --law --liquids heavy.csv spirit.csv
prints 'isopropanol: 8.852 short tons a year'
prints 'VOC 8.852 short tons, hazardous air pollutants 0 lb;'
# a limit keeps its unit, the other one behind it: 10 t are 10000 / 907.18474 = 11.02 short tons
prints 'above 10000 kg (11.02 short tons) a year'
good --draws 0 --law --liquids heavy.csv spirit.csv
prints 'isopropanol: 8030 kg a year'
prints 'above 10000 kg a year'
# 12 ft2 of 0.3048 m are 1.11483648 m2
good --units us --draws 0 --law --given 'machine=batch vapour' --given 'interface=1.11483648 m2' \
    per.csv
prints 'and 12 ft2'
# 150 kg/(m2 month) are 150 x 0.09290304 / 0.45359237 = 30.72 lb/(ft2 month)
prints 'the limit is 150 (30.72 lb/(ft2 month))'

# ---- the same numbers in all forms: those of SI, times the factor of their unit ----
cat >same.py <<'END'
import csv, json, math, sys

# what a unit of the SI is in the other one
GAL, LB, FT = 231 * 25.4 ** 3 * 1e-6, 0.45359237, 0.3048
UNITS = {'L': ('gal', 1 / GAL), 'kg': ('lb', 1 / LB), 'g': ('lb', 1e-3 / LB), 'm2': ('ft2', FT ** -2),
         'kg/m2': ('lb/ft2', FT ** 2 / LB), 'kg/m3': ('lb/gal', GAL * 1e-3 / LB),
         'g/h': ('lb/h', 1e-3 / LB)}
kinds = set()

def near(a, b):
    return a == b or math.isclose(a, b, rel_tol=1e-12)

def same(si, us, unit, shown, where):
    kinds.add(unit)
    if unit == 'degC':
        assert shown == 'degF', where
        convert = lambda v: v * 9 / 5 + 32
    else:
        assert shown == UNITS.get(unit, (unit, 1))[0], (where, unit, shown)
        convert = lambda v: v * UNITS.get(unit, (unit, 1))[1]
    if isinstance(si, dict):
        assert si.keys() == us.keys(), where
        for key in si:
            if key != 'unit':
                same(si[key], us[key], unit, shown, where)
    elif isinstance(si, float) or (isinstance(si, int) and not isinstance(si, bool)):
        assert near(convert(si), us), (where, si, us, unit)
    else:
        assert si == us, (where, si, us)

def tables(si, us):
    assert len(si) == len(us) and len(si) > 3
    for one, other in zip(si, us):
        key = one['key']
        heads = list(zip(one['columns'], other['columns']))
        assert key == other['key'] and len(one['rows']) == len(other['rows']), key
        for a, b in zip(one['rows'], other['rows']):
            own = [(x, y) for (h, _), x, y in zip(heads, a, b) if h['key'] == 'unit']
            for (h, g), x, y in zip(heads, a, b):
                if h['key'] == 'unit':
                    continue
                unit = own[0] if own and isinstance(x, (int, float, dict)) and not h.get('unit') \
                    and not isinstance(x, bool) and h['key'] != 'number' else \
                    (h.get('unit'), g.get('unit'))
                same(x, y, unit[0], unit[1], (key, h['key']))

if sys.argv[1] == 'json':
    si, us = (json.load(open(name)) for name in sys.argv[2:4])
    for key in si['figures']:
        a, b = si['figures'][key], us['figures'][key]
        if isinstance(a, dict):
            same(a, b, a.get('unit'), b.get('unit'), key)
        else:
            assert a == b, key
    tables(si['tables'], us['tables'])
else:
    si, us = (list(csv.reader(open(name))) for name in sys.argv[2:4])
    at, unit = si[0].index('value'), si[0].index('unit')
    assert si[0] == us[0] and len(si) == len(us) and len(si) > 20
    for a, b in zip(si[1:], us[1:]):
        kinds.add(a[unit])
        assert [c for k, c in enumerate(a) if k not in (at, unit)] == \
            [c for k, c in enumerate(b) if k not in (at, unit)]
        if a[at] == '' or b[at] == '':
            assert a[at] == b[at]
        else:
            same(float(a[at]), float(b[at]), a[unit], b[unit], a)
for kind in sys.argv[4:]:
    assert kind in kinds, kind + ' is not looked at'
END
# both FORM KINDS ARGUMENT...: of a report in both; these units are in it
both()
{
    form=$1 kinds=$2
    shift 2
    good --format "$form" "$@"
    cp out si
    good --units si --format "$form" "$@"
    cmp -s si out || fail "--units si is not the default: $*"
    good --units us --format "$form" "$@"
    # shellcheck disable=SC2086 # words
    python3 same.py "$form" si out $kinds 2>why || fail "$form $*: $(tail -1 why)"
}
both csv 'L g kg EUR' --law --actual purchases.csv shop.csv
both csv 'L g EUR' --draws 0 --by stage shop.csv
both csv 'L kg kg/m2' --draws 0 --law --given 'machine=batch vapour' --given 'interface=1 m2' per.csv
both json 'L g kg kg/m3 m2 degC mg/L ug/cm2 kWh EUR' --law --actual purchases.csv shop.csv
both json 'L g degC' --draws 0 --instead 'isopropanol=ethyl acetate' shop.csv
both json 'L kg/m2' --draws 0 --law --given 'machine=batch vapour' --given 'interface=1 m2' per.csv
both json 'L g' --draws 0 shop.csv solvent-still.csv
both json 'L' --draws 0 --site hall=shop.csv,solvent-still.csv

# ---- for people: no unit of the SI is left but those that the page names ----
# One line of each page, without what others say: from the title of a list on to the next empty line.
cat >left.awk <<'AWK'
/^(assumed|asked for|in the file, not used|cautions)/ || /information needed, what/ { skip = 1 }
/^ *$/ { skip = 0 }
/^  the working:/ { skip = 1 }
skip || /^    \[/ { next }
{ all = all " " $0 }
END {
    gsub(/ +/, " ", all)
    gsub(/[0-9.e+]+ (kg|g\/h) \([0-9.e+]+ (lb|lb\/h|short tons)\)/, "", all)
    gsub(/ kg\/\(m2 month\)/, "", all)
    # a unit is one behind a number or a comma, or above a column
    n = split(all, word, " ")
    for (i = 2; i <= n; i++) {
        unit = word[i]
        sub(/[,.;:)]+$/, "", unit)
        if (unit ~ /^(L|mL|m3|kg|g|t|m2|cm2|degC|L\/h|mL\/h|g\/h|kg\/m3|kg\/m2)$/)
            print word[i - 2], word[i - 1], word[i], word[i + 1]
    }
}
AWK
left()
{
    good --units us "$@"
    awk -f left.awk out >units
    [ ! -s units ] || fail "$*: $(head -3 units | tr '\n' ';')"
}
for view in stage liquid month quarter drain energy; do
    left --by $view shop.csv
done
left shop.csv
left solvent-still.csv
left --from running --law --actual purchases.csv shop.csv
left --draws 0 --law --given 'machine=batch vapour' --given 'interface=1 m2' per.csv
left --draws 0 --site hall=shop.csv,solvent-still.csv
# a facility's records of 14 months: 400 kg bought, 70 recovered, 200 of waste with half of it solvent; 300
# emitted, in twelve months 3600 of 4800. 470, 170, 300 / 0.45359237 = 1036, 374.8, 661.4 lb
{
    echo date,liquid,quantity,unit,kind,spread,assay
    echo 2023-12-31,own,100,kg,stock
    for end in 2024-01-31 2024-02-29 2024-03-31 2024-04-30 2024-05-31 2024-06-30 2024-07-31 2024-08-31 \
        2024-09-30 2024-10-31 2024-11-30 2024-12-31 2025-01-31 2025-02-28; do
        echo "${end%-*}-05,own,400,kg,bought"
        echo "${end%-*}-06,own,70,kg,recovered"
        echo "${end%-*}-20,own,200,kg,disposed,,50%"
        echo "$end,own,100,kg,stock"
    done
} >log.csv
left --draws 0 --law --given 'other machines=0 kg' --given facility=general --actual log.csv per.csv
prints 'twelve months, in lb'
grep -E '^ +2024-01 +1036 +374.8 +661.4 ' out >/dev/null || fail 'the first month of the records'
# 3600 and 4800 / 907.18474
prints 'ends with 2024-12: 3.968 short tons, the limit is 4800 kg (5.291 short tons): met'
left --draws 0 shop.csv solvent-still.csv
# ranges side by side: a blank between them
good --units us shop.csv solvent-still.csv
grep '^oil left in the last film, lb .* to .* to ' out >/dev/null || fail 'no ranges side by side'
grep -E '[0-9]\.[0-9]+\.[0-9]' out >/dev/null && fail 'two ranges run together'
# the units of the SI are found where they are
good shop.csv
awk -f left.awk out | grep ' L' >/dev/null || fail 'no unit is found where they are'
# in pictures: the line itself, and the streams
good --units us --draws 0 --format svg --picture line shop.csv
grep -E '[0-9] (m?L|m?L/h|degC|cm2)\b' out >/dev/null && fail 'the picture of the line'
grep '[0-9] gal, 71.6 degF' out >/dev/null || fail 'no 22 degC in the picture of the line'
good --units us --draws 0 --format svg --picture streams shop.csv
grep -E '[0-9] L\b' out >/dev/null && fail 'the picture of the streams'
grep -E '[0-9] gal\b' out >/dev/null || fail 'no gallons in the picture of the streams'
# the working is in SI
good --units us --draws 0 --explain shop.csv
prints 'L/h'

# ---- a setting ----
echo 'units = us' >settings
good --draws 0 --config settings spirit.csv
prints '9642 gal to the waste tank'
prints 'settings:1: units = us'
good --draws 0 --units si --config settings spirit.csv
prints '36.5 m3 to the waste tank'
grep 'settings:1' out >/dev/null && fail 'a setting that takes no part is named'
echo 'units = metric' >settings
expect 3 --config settings spirit.csv
grep "settings:1: units 'metric' is not one of si, us" err >/dev/null || fail 'a setting that is none'

misuse "--units 'imperial' is not one of si, us" --units imperial shop.csv
exit "$failed"
