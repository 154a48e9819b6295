#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-liquid: every option, misuse, exit statuses, refusals, the forms of its output.
set -eu
name=dregs-liquid
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# value PROPERTY: of the csv in out
value()
{
    awk -F, -v what="$1" '$2 == what { print $3; exit }' out
}

# near A B RELATIVE
near()
{
    awk -v a="$1" -v b="$2" -v by="$3" 'BEGIN {
        d = a - b; if (d < 0) d = -d; m = b < 0 ? -b : b; exit !(a != "" && d <= by * m) }'
}

# ---- help, version, misuse ----
good --help
prints 'usage: dregs-liquid'
for option in at share format explain liquids 'help,' 'version,'; do
    prints " --$option "
done
good --version
prints 'dregs-liquid '
misuse 'one liquid at a time' water ethanol
misuse "unknown option '--nonsense'" --nonsense water
for option in --at --share --format --liquids; do
    misuse "option '$option' needs an argument" water "$option"
done
misuse "unknown liquid 'isopropanl' (nearest: 'isopropanol')" isopropanl
misuse "unknown liquid 'isopropanol-watr' (nearest: 'isopropanol-water')" isopropanol-watr
misuse "unknown liquid 'quartz sand'; without a name" 'quartz sand'
misuse "unknown liquid ''" ''
for temperature in 25 '' warm '25 kg' '25 delta_degC' '-300 degC' '0 K' 'nan degC' '1e999 K'; do
    misuse '--at' "--at=$temperature" water
done
for share in '' x 1.1 '101 %' '-1 %' '70 kg'; do
    misuse '--share' "--share=$share" ethanol-water
done
misuse '--share goes with a mixture' --share 70% ethanol
misuse '--share needs the name' --share 70%
misuse '--at needs the name' --at 25degC
misuse '--explain needs the name' --explain
misuse '--explain is text' --explain --format csv water
misuse "--format 'nonsense' is not one of text, csv, json" --format nonsense water

# ---- the list ----
good
prints 'isopropanol-water'
prints 'A dash says that the table has no value'
while IFS=, read -r liquid _; do
    case $liquid in
    liquid | '"trans'* | '#'*) ;;
    *) prints "$liquid " ;;
    esac
done <"$source/data/liquids.csv"
good --format csv
[ "$(sed -n 1p out)" = liquid,property,value,unit,source,evidence ] || fail 'the header'

# ---- names ----
for called in IPA 2-propanol Propan-2-ol 'isopropyl alcohol' 67-63-0 ISOPROPANOL; do
    good "$called"
    prints "isopropanol ($called)"
    good --format csv "$called"
    grep '^isopropanol,density,' out >/dev/null || fail "$called in csv"
done
good IPA-water --share 70%
prints 'isopropanol-water (IPA-water), 70 % isopropanol by mass'
good --format csv EtOH-H2O
grep '^ethanol-water,azeotrope' out >/dev/null || fail 'EtOH-H2O in csv'
misuse "unknown liquid 'IPX'; without a name the known ones are listed" IPX
good
prints '67-63-0  IPA; 2-propanol; propan-2-ol; isopropyl alcohol'

# ---- beyond the data ----
good n-butyl\ acetate --at 15degC
prints 'assumed: heat capacity of n-butyl acetate at 15 degC, 10 K below its data'
prints 'read in chemicals 1.x and thermo (MIT licence)'
good --format json n-butyl\ acetate --at 15degC
prints 'heat capacity of n-butyl acetate at 15 degC, 10 K below its data: straight on'

# ---- a liquid ----
good --cautions all isopropanol --at '25 degC'
for words in 'isopropanol, 25 degC' 'Perry 8th ed. Table 2-32 (read)' '8.13 to 100.31 degC' \
    'exposure limit at 25 degC' 'mg/m3' '40 CFR 51.100(s), 2025 (memory)' \
    'The local code and the authority decide.' 'cautions' 'flash point:' 'vapour:' 'exposure:'; do
    prints "$words"
done
good isopropanol
prints 'log10(y)=A-B/(T+C) [Pa]'
! grep refused out >/dev/null || fail 'no temperature is no refusal'
good isopropanol --at 300degC
prints "refused: density of 'isopropanol' at 300 degC: its data reach from -87.89 to 235.15 degC only"
prints '(read)'
good --cautions all d-limonene --at 20degC
prints 'not in the table: thermal conductivity'
prints 'flash point                                     48 degC'
prints '; within 5 K (estimated)'
prints 'saturated at 20 degC, its vapour'
good --cautions all d-limonene
prints 'saturated at 20 degC (assumed), its vapour'
good --cautions all tetrachloroethylene
prints 'no flash point and no flammable limit are on record'
good water --at 25degC
prints 'none is recorded here for water'
! grep cautions out >/dev/null || fail 'water needs no caution'
good n-butyl\ acetate --at 10degC
prints '10 degC is within 16.7 K of the flash point'
good n-butyl\ acetate --at 0degC
! grep 'flash point of' out >/dev/null || fail 'far below its flash point'
good --cautions all n-heptane
prints 'a surface of 204 degC is at its autoignition temperature'
good trichloroethylene
for words in 'annex XIV, 2016-04-21 (memory)' '40 CFR part 751 subpart D; 89 FR 102568' F001 \
    'check the current text' 'restriction: trichloroethylene, EU: use only with an authorisation'; do
    prints "$words"
done
good --explain toluene
prints 'A = 81.0103672 B = 0.27136 C = 591.75 D = 0.29241'
prints 'of the built-in table'
good --explain ethanol-water --share 0.3
prints 'fitted at 78.15 degC: -242.5050584 5195.4384864 0.2937'
prints "62 points, interpolated by Steffen's method"

# ---- numbers ----
# check E08: mg/m3 per ppm at 25 degC, NIOSH Pocket Guide, 0.4 %
while read -r liquid factor; do
    good --format csv "$liquid"
    ppm=$(value 'exposure limit')
    near "$(value 'exposure limit at 25 degC')" "$(awk -v a="$ppm" -v b="$factor" 'BEGIN { print a * b }')" \
        4e-3 || fail "$liquid: mg/m3"
done <<'TABLE'
isopropanol 2.46
ethanol 1.89
n-hexane 3.53
toluene 3.77
TABLE
# check D06: ASHRAE Fundamentals 2017 ch. 1 table 3, 0.03 %
good --format csv --at 122degF water
near "$(value 'vapour pressure')" 12.3513 3e-4 || fail 'vapour pressure of water at 50 degC'
[ "$(value 'boiling point')" = 99.97 ] || fail 'boiling point of water'
good --format csv isopropanol
grep "^isopropanol,density,,kg/m3," out >/dev/null || fail 'a density without a temperature'
# check D09: 80.3 to 80.4 degC at 87.4 to 87.9 mass %, CRC; 0.2 K, 1 %
good --explain isopropanol-water --share '70 %' --at 25degC
prints 'van Laar, fitted at 80 degC: 2.4702 1.0938'
prints 'van Laar, fitted at 25 degC: 1.9879 1.0938'
prints 'goes straight over 1/T'
good --format csv isopropanol-water
near "$(value 'azeotrope at 101.325 kPa boils at')" 80.35 2.5e-3 || fail 'the azeotrope boils'
near "$(value 'azeotrope by mass: isopropanol')" 87.65 1.2e-2 || fail 'the azeotrope'
good --format csv --share '40 %' --at 20.3degC ethanol-water
[ "$(value 'density at 20 degC')" = 935.2 ] || fail 'density of ethanol-water, CRC'
grep '^ethanol-water,surface tension at 25 degC,,mN/m,' out >/dev/null || fail 'surface tension at another temperature'
good --cautions all --share '70 %' --at 20degC isopropanol-water
prints 'its data reach from 0 to 20 % by mass only'
prints 'the flash point of this mixture of isopropanol and water,'
prints 'isopropanol, US:'
prints "(the mixture's, calculated; measure it)"
# what is missing is named as a thing, not as an option of this tool
good methanol-water
prints 'refused: needs a mass share'
good --format json ethanol-water --share 50%
prints '"needs a temperature"'
good methanol-water --share 50%
prints 'surface tension at 35 degC'
good methanol-water --at 20degC --share 0

# ---- coefficients for programs: those of data/liquids.csv ----
if command -v python3 >/dev/null 2>&1; then
    good --format json toluene
    python3 - "$source/data/liquids.csv" <<'PYTHON' || fail 'the coefficients of toluene'
import csv, json, sys
lines = [l for l in open(sys.argv[1], newline='') if not l.startswith('#')]
rows = {r['property']: r for r in csv.DictReader(lines) if r['liquid'] == 'toluene'}
table = {t['key']: t['rows'] for t in json.load(open('out'))['tables']}
seen = {}
for name, equation, unit, letter, value in table['coefficients']:
    assert rows[name]['equation'] == equation and rows[name]['unit'] == unit, name
    assert float(rows[name][letter] or 0) == value, (name, letter)
    seen.setdefault(name, set()).add(letter)
assert set(rows) - set(seen) == {'class', 'miscibility with water', 'CAS number', 'other names'}, set(rows) - set(seen)
for name, letters in seen.items():
    left_out = [c for c in 'ABCDEFG' if rows[name][c] and float(rows[name][c]) and c not in letters]
    assert not left_out, (name, left_out)
PYTHON
else
    echo 'not run: coefficients (no python3)'
fi

# ---- --liquids ----
cat >own.csv <<'TABLE'
liquid,property,equation,unit,A,B,low,high,source,evidence
naphtha,flash point,A,degC,62,,,,data sheet,
naphtha,density,y=A-B*(t-20),g/cm3,0.79,0.0008,280,330,"sheet ""7"", page 2",
naphtha,exposure limit,A,ppm,300,,,,data sheet,
=water,flash point,A,degC,50,,,,invented,
water,density,A,kg/m3,1000,,,,rounded,stated
TABLE
good --liquids own.csv naphtha --at 20degC
prints 'data sheet (stated)'
prints '790 kg/m3'
good --liquids own.csv --explain naphtha
prints '(own.csv:3)'
good --liquids own.csv water --format csv --at 20degC
[ "$(value density)" = 1000 ] || fail 'the own density'
good --format csv isopropanol
[ "$(value class)" = alcohol ] || fail 'the class of isopropanol'
[ "$(value 'miscibility with water')" = miscible ] || fail 'isopropanol and water'
good toluene
prints 'immiscible'
good --liquids own.csv naphtha
prints 'miscibility with water'
printf 'liquid,property,equation,unit,A,source\nnaphtha,class,A,,hydrocarbon,data sheet\n' |
    "$tool" --liquids - --explain naphtha >out 2>err || fail 'a class of the own liquid'
prints 'hydrocarbon'
prints '(standard input:2)'
good --liquids own.csv
prints naphtha
got=0
"$tool" --liquids - naphtha <own.csv >out 2>err || got=$?
[ $got -eq 0 ] || fail '--liquids from standard input'
grep '62 degC' out >/dev/null || fail '--liquids from standard input: the flash point'
sed 's/0.79/heavy/' own.csv >bad.csv
expect 3 --liquids bad.csv water
[ ! -s out ] || fail 'something on standard output'
grep '^dregs-liquid: bad.csv:3: ' err >/dev/null || fail 'the line of the fault'
: >empty.csv
expect 3 --liquids empty.csv water
expect 3 --liquids . water
expect 4 --liquids nowhere.csv water
grep 'nowhere.csv: ' err >/dev/null || fail 'the missing file'

# ---- a full disk ----
if [ -e /dev/full ]; then
    for words in water '--format csv water' '--format json water' --help ''; do
        got=0
        # shellcheck disable=SC2086
        "$tool" $words >/dev/full 2>err || got=$?
        [ $got -eq 4 ] || fail "$words: exit $got on a full disk"
        [ "$(wc -l <err)" -eq 1 ] || fail "$words: not one line about the full disk"
    done
else
    echo 'not run: a full disk (no /dev/full)'
fi

# ---- csv and json agree, read by another program ----
if command -v python3 >/dev/null 2>&1; then
    while IFS='|' read -r who at share; do
        set -- --liquids own.csv
        [ -z "$at" ] || set -- "$@" --at "$at"
        [ -z "$share" ] || set -- "$@" --share "$share"
        [ -z "$who" ] || set -- "$@" -- "$who"
        "$tool" --format csv "$@" >out.csv 2>err || fail "$who: csv"
        "$tool" --format json "$@" >out.json 2>err || fail "$who: json"
        python3 - "$who" "$at" "$share" <<'PYTHON' >err 2>&1 || fail "$who $at $share: csv and json"
import csv, io, json, sys
who, at, share = sys.argv[1:]
rows = list(csv.reader(io.StringIO(open('out.csv', newline='').read()), strict=True))
page = json.loads(open('out.json').read(), parse_constant=lambda name: 1 / 0)
bare = lambda name: name[1:] if name[:2] in ("'=", "'-", "'+", "'@") else name
assert rows[0] == ['liquid', 'property', 'value', 'unit', 'source', 'evidence']
assert page['tool'] == 'liquid' and page['file'] is None and page['verdict']['is'] == 'none'
table = {}
for t in page['tables']:
    keys = [c['key'] for c in t['columns']]
    assert all(len(r) == len(keys) for r in t['rows'])
    table[t['key']] = [dict(zip(keys, r)) for r in t['rows']]
    if t['key'] == 'properties':
        units = {c['key']: c['unit'] for c in t['columns']}
        assert units['valid_from'] == units['valid_to'] == 'degC'
        assert units['share_low'] == units['share_high'] == '%'
figures = page['figures']
if who:
    assert set(table) == {'properties', 'coefficients', 'missing', 'regulations'}
    assert figures['liquid'] == who and 'decide' in page['decided_by']
    assert 'decide' in figures['regulations_decided_by']
    for key, given, unit in (('temperature', at, 'degC'), ('share', share, '%')):
        assert figures[key]['unit'] == unit and (figures[key]['value'] is None) == (not given)
    for r in table['regulations']:
        assert set(r) == {'liquid', 'jurisdiction', 'fact', 'citation', 'status_date', 'evidence', 'code'}
    for c in page['cautions']:
        assert c['id'] and c['text'] and c['source']
    names = {p['property'] for p in table['properties']}
    assert not names & {m['property'] for m in table['missing']}
    of_mixture = figures['second_liquid'] is not None
    assert of_mixture or len(names - {'exposure limit at 25 degC'}) + len(table['missing']) == 20 + (
        'solubility in water' in names | {m['property'] for m in table['missing']})
    for c in table['coefficients']:
        assert c['value'] is not None and c['equation'] and c['coefficient']
        assert of_mixture or c['property'] in names
else:
    assert set(table) == {'liquids', 'mixtures', 'properties'} and len(table['mixtures']) == 3
    assert len(table['liquids']) == 20
    shown = {'boiling_point': 'boiling point', 'flash_point': 'flash point', 'exposure_limit': 'exposure limit'}
    for l in table['liquids']:
        of = {p['property']: p['value'] for p in table['properties'] if p['liquid'] == l['liquid']}
        assert of and all(l[key] == of.get(name) for key, name in shown.items()), l
wanted = []
words = ('regulation', 'class', 'miscibility with water', 'CAS number', 'other names')
for p in table['properties']:
    assert p['source'] and p['evidence'] in ('read', 'memory', 'computed', 'stated')
    assert (p['value'] is None) == (p['reason'] is not None), p
    assert p['property'] in words or p['value'] is None or isinstance(p['value'], float), p
    assert p['valid_from'] is None or p['valid_from'] <= p['valid_to'], p
    wanted.append([p['liquid'], p['property'], p['value'], p['unit'], p['source'], p['evidence']])
for r in table.get('regulations', []):
    wanted.append([r['liquid'], 'regulation', r['fact'], '',
                   '%s: %s (%s)' % (r['jurisdiction'], r['citation'], r['status_date']), r['evidence']])
found = []
for row in rows[1:]:
    value = row[2] if row[1] in words else None if row[2] == '' else float(row[2])
    found.append([bare(row[0]), row[1], value, row[3], row[4], row[5]])
assert found == wanted, [pair for pair in zip(found, wanted) if pair[0] != pair[1]][:2]
PYTHON
    done <<'CASES'
||
isopropanol||
isopropanol|25 degC|
toluene|400 degC|
1-bromopropane|70 degF|
trans-1,2-dichloroethylene|298.15 K|
naphtha|20 degC|
=water|20 degC|
water|0 degC|
isopropanol-water||
isopropanol-water|20 degC|15 %
ethanol-water|25 degC|0.96
methanol-water||30 %
CASES
else
    echo 'not run: csv beside json (no python3)'
fi

exit $failed
