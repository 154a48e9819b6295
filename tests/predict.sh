#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-predict: every option, misuse, exit statuses, the forms of its output.
set -eu
name=dregs-predict few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# ---- help, version, misuse ----
good --help
prints 'usage: dregs-predict'
for option in loads every at check format explain liquids help version; do
    prints "  --$option"
done
good --version
prints 'dregs-predict '
prints 'Copyright (C) '
misuse 'no line file'
misuse 'at most two line files, set side by side; --each takes any number' line.csv bench.csv line.csv
misuse "unknown option '--nonsense'" --nonsense line.csv
misuse "unknown option '-x'" -x line.csv
misuse "unknown option '-xy'" -xy line.csv
misuse "unknown option '-xy'" line.csv -xy
misuse "unknown option '--l=3'" --l=3 line.csv # loads or liquids
misuse "'--check=yes' takes no argument" --check=yes line.csv
for option in --loads --every --at --format --liquids; do
    misuse "option '$option' needs an argument" line.csv "$option"
done
for number in 0 -1 1.5 1e3 ' 1' 1x 0x10 nan '' 1125899906842625 99999999999999999999999; do
    misuse "--loads '$number' is not" "--loads=$number" line.csv
    misuse "--every '$number' is not" "--every=$number" line.csv
    misuse "--at '$number' is not" "--at=$number" line.csv
done
misuse "--format 'nonsense' is not one of text, csv, json" --format nonsense line.csv
misuse '--explain' --explain --format csv line.csv
misuse '--explain' --format html --explain line.csv
misuse '--at and --every' --at 3 --every 2 line.csv
misuse '--at names a load beyond --loads' --at 30 --loads 20 line.csv
misuse '--every is larger than --loads' --every 30 --loads 20 line.csv
misuse 'both be standard input' --liquids - -

# ---- --check ----
good --check line.csv
sed 's/^limit,residue,1,/limit,residue,1e-4,/' line.csv >strict.csv
expect 1 --check strict.csv
prints 'target MISSED'
good strict.csv # nobody asked
prints 'target MISSED'
expect 1 --check --format csv strict.csv
expect 1 --check --format json strict.csv
expect 1 --check --explain strict.csv
sed 's/^limit,residue,1,ug.cm2/limit,residue minerals,1e-6,ug\/cm2/' line.csv >one.csv
expect 1 --check one.csv
grep -v '^limit,' line.csv >aimless.csv
expect 3 --check aimless.csv
grep -F 'dregs-predict: aimless.csv: --check needs a target' err >/dev/null || fail 'no target: not said'
[ ! -s out ] || fail 'no target: something on standard output'
run --check - <aimless.csv >out 2>err && fail "standard input without a target"
grep -F 'dregs-predict: standard input: --check needs a target' err >/dev/null || fail 'standard input is not named'
good aimless.csv

# ---- perfect mixing is an assumption ----
good line.csv
prints 'first, last: exchange 100 %'
prints 'first, last, oven: hold-up exchange that of the film'
prints 'with an endless flow in every rinse'
prints 'perfect mixing is assumed'
# what 80 % would do is what the line with 80 % stated does
{
    cat line.csv
    echo 'first,exchange,80,%,,'
    echo 'last,exchange,80,%,,'
} >poor.csv
good --format json line.csv
would=$(sed -n 's/.*"residue_less_mixed": {"value": *\([0-9.e-]*\).*/\1/p' out)
good --format json poor.csv
does=$(sed -n 's/.*"worst_residue": {"value": *\([0-9.e-]*\).*/\1/p' out)
[ -n "$would" ] && [ "$would" = "$does" ] || fail "80 % exchange: $would, stated $does"
good poor.csv
tr -s ' \n' '  ' <out | grep 'perfect mixing is assumed' >/dev/null && fail 'stated exchange is called assumed'

# ---- trapped liquid with an exchange of its own ----
{
    cat line.csv
    echo 'basket,hold-up exchange,0,%,,'
} >holes.csv
good holes.csv
prints 'dried in bores and blind holes at the worst load'
prints '99 % of it dries in bores and blind holes'
good --explain holes.csv
prints 'trapped = (1 - hold-up exchange)'
good holes.csv
grep 'hold-up exchange that of the film' out && fail 'a stated hold-up exchange is called assumed'
# nothing reaches the holes: in each part 0.05 mL of what the wash held dries
good --format json holes.csv
if command -v python3 >/dev/null 2>&1; then
    python3 - <<'PYTHON' || fail 'what the holes keep is not what the wash held'
import json
answer = json.load(open('out'))
table = next(t for t in answer['tables'] if t['key'] == 'films')
at = {column['key']: i for i, column in enumerate(table['columns'])}
stage, held, mass = at['stage'], at['concentration'], at['trapped_mass']
wash = sum(row[held] for row in table['rows'] if row[stage] == 'bath')  # mg/L
left = sum(row[mass] for row in table['rows'] if row[stage] == 'oven')  # mg
assert abs(left / (24 * 0.05e-3 * wash) - 1) < 1e-12, (left, wash)
assert abs(answer['figures']['residue_trapped']['value'] / (1000 * left / (24 * 61)) - 1) < 1e-12
PYTHON
fi

# ---- a clearing that is exhausted; tests/test_capacity.c has its closed form ----
{
    cat line.csv
    echo 'last,clearing detergent,30,L/h,,'
    echo 'last,capacity,4,g,,'
} >resin.csv
expect 1 --check resin.csv
prints 'bath life: the clearing of last has taken its capacity of 4 g behind load'
prints 'change it by then: nothing from there on is covered'
good --explain resin.csv
prints 'what the clearing of last takes: at most 4 g [resin.csv:'
good --format json resin.csv
behind=$(sed -n 's/.*"bath_life": *\([0-9]*\).*/\1/p' out)
grep '"capacity","last","clearing","total",4[.,]' out >/dev/null || fail 'the capacity is not among the limits'
{
    cat resin.csv
    echo "last,change every,$((behind * 3 / 4)),,,"
} >changed.csv
good --check changed.csv
good --explain changed.csv
prints 'sum over the loads since a change of clearing / V x integral of the contents'
sed "s/^last,change every,.*/last,change every,$((behind * 2)),,,/" changed.csv >late.csv
expect 1 --check late.csv

# ---- limits of concentration ----
good line.csv
prints 'bath life: no limit is passed; the nearest: detergent in bath comes to'
# 0.0576 g of oil less 2.4e-6 x 24 kg x removal a load: the file's own dump at 400 loads is below it
sed 's/^bath,most oil,2,/bath,most oil,0.1,/' line.csv >dirty.csv
expect 1 --check dirty.csv
prints 'target met up to load'
prints 'bath life: oil in bath passes its limit of 0.1 g/L at load'
prints 'nothing from there on is covered'
first=$(tr -s ' \n' '  ' <out | sed 's/.*limit of 0.1 g.L at load \([0-9]*\).*/\1/')
good --check --loads "$((first - 1))" dirty.csv
expect 1 --check --loads "$first" dirty.csv
good --explain dirty.csv
prints 'dirty.csv:46 most oil 0.1 g/L'
expect 1 --check --format json dirty.csv
grep -F "\"bath_life\": $((first - 1))" out >/dev/null || fail 'bath life is not in the json'
sed 's/^bath,least detergent,.*//' line.csv >unlimited.csv
good --check unlimited.csv
prints 'caution: detergent in bath falls to'
prints "no 'least detergent' is stated"
(sed 's/^bath,least.*//' line.csv; echo 'alkaline,solubility oil,0.1,g/L,,') >float.csv
expect 1 --check float.csv
prints 'passes its solubility of 0.1 g/L'
prints 'the balance knows dissolved solutes only'

# ---- targets of concentration ----
grep -v '^limit,residue' line.csv >plain.csv
{
    cat plain.csv
    echo 'limit,rinse ratio,1000,1,,'
    echo 'limit,concentration detergent,10,mg/L,,'
} >ratio.csv
good --check ratio.csv
prints 'target met: rinse ratio in the film behind last'
prints 'target met: detergent in the film behind last'
sed 's/^limit,rinse ratio,1000,/limit,rinse ratio,10000,/' ratio.csv >high.csv
expect 1 --check high.csv
prints 'target MISSED: rinse ratio'
prints 'met until load'
{
    cat plain.csv
    echo 'minerals,electrolyte,NaCl,,,'
    echo 'limit,conductivity,3,uS/cm,,'
    echo 'limit,measured in,first,,,'
} >conducting.csv
good conducting.csv
prints 'conductivity at 25 degC in first'

# ---- a full disk ----
if [ -c /dev/full ]; then
    for words in --help --version 'line.csv' '--format csv line.csv' '--format json line.csv' \
        '--explain line.csv' '--check strict.csv' '--format csv --loads 2000 --every 1 line.csv'; do
        got=0
        # shellcheck disable=SC2086
        run $words >/dev/full 2>err || got=$?
        [ "$got" -eq 4 ] || fail "$words to a full disk: exit $got, expected 4"
        grep '^dregs-predict: standard output: ' err >/dev/null || fail "$words: full disk not said"
    done
else
    echo 'not run: a full disk (no /dev/full)'
fi
got=0
run line.csv >&- 2>err || got=$?
[ "$got" -eq 4 ] || fail "standard output closed: exit $got, expected 4"

# ---- which loads ----
loads()
{
    awk -F, '$4 == "residue" && $3 == "total" { printf "%s ", $1 }' out
}
good --format csv --loads 10 --every 3 line.csv
[ "$(loads)" = '3 6 9 ' ] || fail "--loads 10 --every 3 printed $(loads)"
good --format csv --loads 12 line.csv
[ "$(loads)" = '1 2 5 10 12 ' ] || fail "--loads 12 printed $(loads)"
good --format csv --loads 1 line.csv
[ "$(loads)" = '1 ' ] || fail "--loads 1 printed $(loads)"
good --format csv --at 7 --at 3 --at 1000000000 --at 3 --at 7 line.csv
[ "$(loads)" = '3 7 1000000000 ' ] || fail "--at printed $(loads)"
good --format csv --at 1125899906842624 line.csv
[ "$(loads)" = '1125899906842624 ' ] || fail "--at 2^50 printed $(loads)"
good --at 1000000000 line.csv
good --format csv line.csv # tells the dump after 400 loads
[ "$(loads)" = '1 2 5 10 20 50 100 200 400 401 ' ] || fail "by default printed $(loads)"
# "--loads" takes part in the verdict: of one load there is no long run
good --loads 1 line.csv
prints 'among the first 1 loads'

# leaping gives what marching gives
for file in line.csv bench.csv; do
    good --format csv --loads 1300 --every 1 "$file"
    for load in 399 400 401 1300; do
        grep "^$load," out >marched || :
        run --format csv --at "$load" "$file" | grep "^$load," >leapt || :
        paste -d, marched leapt | awk -F, -v load="$load" '
            function off(a, b) { return a > b ? a - b : b - a }
            { if (NF != 12 || $2 != $8 || $3 != $9 || $4 != $10 || $6 != $12 ||
                  off($5, $11) > 1e-9 * off($5, 0)) bad++ }
            END { exit bad > 0 || NR < 10 }' || fail "$file: load $load leapt and marched differ"
    done
done

# ---- standard input, repetition; without a number of draws the clock decides how many ----
for form in text csv json; do
    good --draws 300 --format $form line.csv
    mv out first
    good --draws 300 --format $form line.csv
    cmp -s first out || fail "$form differs from run to run"
    sed 's/line\.csv/standard input/' first >named
    run --draws 300 --format $form - <line.csv >out 2>err || fail "$form from standard input"
    cmp -s named out || fail "$form from standard input differs from the file's"
done
good --draws 300 --explain line.csv
mv out first
run --draws 300 --explain - <line.csv 2>err | sed 's/standard input/line.csv/g' >out
cmp -s first out || fail 'the working from standard input differs'
good -- line.csv

# ---- --liquids: twice the viscosity is the square root of two in Kushner's film ----
awk '/^beaker,withdrawal speed/ { print; print "beaker,film law,kushner,,,"; next } { print }' \
    bench.csv | grep -v '^beaker,drain' | grep -v '^tray,edge' >kushner.csv
head='liquid,property,equation,unit,A,source'
printf '%s\nisopropanol,viscosity,A,mPa.s,2,own\nisopropanol,density,A,kg/m3,800,own\n' "$head" >two.csv
printf '%s\nisopropanol,viscosity,A,mPa.s,4,own\nisopropanol,density,A,kg/m3,800,own\n' "$head" >four.csv
good --explain --liquids two.csv kushner.csv
# 0.2 sqrt(0.05 m/s 2e-3 Pa.s / 800 kg/m3) = 70.7107 um
prints 'h = 0.2 sqrt(U mu / rho) = 70.7107 um'
prints 'two.csv:2'
good --explain --liquids four.csv kushner.csv
prints 'h = 0.2 sqrt(U mu / rho) = 100 um'
run --explain --liquids - kushner.csv <two.csv >out 2>err || fail '--liquids from standard input'
prints '70.7107 um'

# ---- names that people use, and a bath colder than its data ----
cat >cold.csv <<'LINE'
item,property,value,unit
rack,kind,load
rack,parts,1,1
rack,area,100,cm2
rack,interval,5,min
grease,kind,solute
pure,kind,liquid
pure,solvent,IPA
bath,kind,rinse
bath,volume,10,L
bath,liquid,pure
bath,film,20,um
bath,temperature,5,degC
bath,open area,0.1,m2
LINE
good cold.csv
prints 'bath: vapour pressure of isopropanol at 5 degC, 3.13 K below its data:'
sed 's/IPA/IPX/' cold.csv >unknown.csv
expect 3 unknown.csv
grep -F "'IPX' is not in the liquid data; 'dregs-liquid' lists it" err >/dev/null || fail 'an unknown solvent'

# ---- the working ----
good --explain bench.csv
for words in 'Landau and Levich 1942' 'Jeffreys' 'Mackay and van Wesenbeeck 2014' 'bench.csv:22'; do
    prints "$words"
done

# ---- numbers that the file itself calls assumed, values without a spread ----
good "$source/data/templates/running-rinse.csv"
marked=$(awk -F, '!/^#/ && NR > 1 && $6 ~ /^assumed/' "$source/data/templates/running-rinse.csv" | wc -l)
prints "$marked of the $marked numbers in the file are marked as assumed"
good --draws 40 bench.csv
if grep 'marked as assumed' out >/dev/null; then fail 'a file that marks nothing'; fi
good --draws 40 line.csv
prints 'no spread is stated for bath.removal, '

# ---- from load to load ----
sed -e '1s/$/,varies/' -e 's/^\(oil,on parts,.*\)$/\1,40%/' line.csv >vary.csv
good --check vary.csv
prints '1 value that varies'
prints '100 % of such loads meet it'
sed 's/^limit,residue,1,/limit,residue,0.12,/' vary.csv >near.csv
good --check near.csv # the stated values meet it, and no share is asked for
printf 'limit,share of loads,95,%%\n' >>near.csv
expect 1 --check near.csv
# and the first line does not leave a reader with a mean that is below its limit
grep -E '^target MISSED: [0-9.]+ % of such loads meet it, 95 % must; ' out >/dev/null ||
    fail 'the share that decides is not in the verdict'
sed 's/^limit,share of loads,95,/limit,share of loads,50,/' near.csv >half.csv
good --check half.csv
prints 'target met'
sed 's/^limit,residue,0.12,/limit,residue,0.104,/' near.csv | sed 's/,40%$/,/' >none.csv
expect 1 --check none.csv
prints 'nothing varies from load to load: no such loads meet it, 95 % must'
good --explain half.csv
prints '11. From load to load'
prints 'lognormal'
sed -e '1s/$/,varies/' -e 's/^\(bath,volume,.*\)$/\1,1%/' line.csv >volume.csv
good volume.csv
prints 'varies of bath.volume'
sed 's/^limit,share of loads,95,%/limit,share of loads,105,%/' near.csv >over.csv
bad_share=$(wc -l <over.csv)
got=0
run --check over.csv >out 2>err || got=$?
[ "$got" -eq 3 ] && [ ! -s out ] && grep "^dregs-predict: over.csv:$bad_share: " err >/dev/null ||
    fail 'a share of loads above 100 %'

# ---- what it hangs on ----
good line.csv
prints "what the worst load's residue hangs on"
prints 'oil.on parts 2.4 mg 1 % +'
prints 'what makes the doubt about it'
prints 'measure first: oil.on parts ('
cut -d, -f1-4 line.csv >sure.csv
good sure.csv
grep 'doubt' out >/dev/null && fail 'a doubt without spreads'
good --explain line.csv
prints '10. What the worst load'
prints 'slopes of ln(residue)'

# ---- names ----
sed -e 's/^oil,/"=oil, ""raw""",/' -e 's/,most oil,/,"most =oil, ""raw""",/' -e 's/^first,/"-a, b",/' -e 's/,overflow to,first,/,overflow to,"-a, b",/' \
    -e 's/^oven,/@oven,/' line.csv >names.csv
good --format csv --at 1 names.csv
prints "1,\"'-a, b\",\"'=oil, \"\"raw\"\"\",film,"
prints "1,'@oven,detergent,film,"
grep '^1,[-=+@]' out >/dev/null && fail 'a stage name a spreadsheet takes for a formula'
sed -e 's/^oil,/Ölfilm,/' -e 's/most oil/most Ölfilm/' -e 's/^first,/spülen°,/' -e 's/,overflow to,first,/,overflow to,spülen°,/' line.csv >utf8.csv
sed -e 's/^oil,/Olfilm,/' -e 's/most oil/most Olfilm/' -e 's/^first,/spulen0,/' -e 's/,overflow to,first,/,overflow to,spulen0,/' line.csv >ascii.csv
good --draws 300 utf8.csv
sed -e 's/Ölfilm/Olfilm/g' -e 's/spülen°/spulen0/g' -e 's/utf8/ascii/' out >as-ascii
good --draws 300 ascii.csv
cmp -s as-ascii out || fail 'names beyond ASCII move the columns'

# ---- a locale with a decimal comma ----
if command -v localedef >/dev/null 2>&1; then
    mkdir locales
    localedef --no-archive -i de_DE -f UTF-8 "$work/locales/de_DE.UTF-8" >/dev/null 2>&1 || :
fi
if [ "$(LOCPATH=$work/locales LC_ALL=de_DE.UTF-8 locale decimal_point 2>/dev/null)" = , ]; then
    for words in '--format text' '--format csv' '--format json' --explain; do
        # shellcheck disable=SC2086
        good --draws 300 $words bench.csv
        # shellcheck disable=SC2086
        LOCPATH=$work/locales LC_ALL=de_DE.UTF-8 run --draws 300 $words bench.csv >comma 2>err ||
            fail "$words under a comma locale"
        cmp -s out comma || fail "$words differs under a comma locale"
    done
else
    echo 'not run: a decimal comma (localedef could not build de_DE)'
fi

# ---- csv and json agree, read by another program ----
if command -v python3 >/dev/null 2>&1; then
    for file in line.csv bench.csv names.csv; do
        run --format csv --loads 45 --every 5 "$file" >out.csv
        run --format json --loads 45 --every 5 "$file" >out.json
        python3 - <<'PYTHON' >err 2>&1 || fail "$file: csv and json"
import csv, io, json, math
text = open('out.csv', newline='').read()
rows = list(csv.reader(io.StringIO(text), strict=True))
assert rows[0] == ['load', 'stage', 'solute', 'quantity', 'value', 'unit'], rows[0]
assert all(len(row) == 6 for row in rows)
page = json.loads(open('out.json').read(), parse_constant=lambda name: 1 / 0)
assert (page['program'], page['tool']) == ('dregs', 'predict'), page['tool']
tables = {table['key']: table for table in page['tables']}
assert len(tables) == len(page['tables'])
def table(key):
    names = [column['key'] for column in tables[key]['columns']]
    return [dict(zip(names, row, strict=True)) for row in tables[key]['rows']]
assert [column['key'] for column in tables['loads']['columns']] == rows[0]
bare = lambda name: name[1:] if name[:2] in ("'=", "'-", "'+", "'@") else name
loads = table('loads')
assert len(loads) == len(rows) - 1 > 0
units = {'concentration': 'mg/L', 'film': 'mg'}
left = {}
# what the worst load hangs on stands behind the loads, without a load of its own
effects = [row for row in zip(rows[1:], loads) if not row[0][0]]
assert len(effects) == len(table('hangs_on')) > 5
for ((load, item, solute, quantity, value, unit), other), row in zip(effects, table('hangs_on')):
    assert other['load'] is None and bare(item) == other['stage'] == row['item'], other
    assert quantity == 'effect of ' + row['property'] and bare(solute) == row['solute']
    assert float(value) == other['value'] == row['effect'] and unit.startswith('% per '), row
    assert row['uncertainty'] <= 1e-3 * max(abs(row['effect']), 1), row
assert not any(row[0] for row in rows[-len(effects):]) and len(loads) == len(rows) - 1
rows, loads = rows[:-len(effects)], loads[:-len(effects)]
for (load, stage, solute, quantity, value, unit), other in zip(rows[1:], loads):
    number = float(value)
    assert repr(float(repr(number))) == repr(number)
    assert int(load) == other['load'] and number == other['value'], (load, other)
    assert bare(solute) == other['solute'] and quantity == other['quantity'], other
    assert unit == other['unit'] == units.get(quantity, 'ug/cm2'), other
    if stage:
        assert bare(stage) == other['stage'], other
    else:
        assert other['stage'] is None, other
        left.setdefault((int(load), quantity), {})[bare(solute)] = number
assert sorted({load['load'] for load in loads}) == [5 * i for i in range(1, 10)]
for (load, kind), of in left.items():
    parts = sum(value for solute, value in of.items() if solute != 'total')
    assert math.isclose(parts, of['total'], rel_tol=1e-12), (load, kind, of)
figures = page['figures']
assert figures['loads_judged'] == 45
assert page['verdict']['is'] in ('met', 'missed') and page['verdict']['words']
# a film's thickness and the mass in it are not called the same
unit_of = lambda key: {column['key']: column['unit'] for column in tables[key]['columns']}
assert unit_of('stages')['film_thickness'] == 'um' and unit_of('films')['film_mass'] == 'mg'
worst = {row['solute']: row for row in table('worst_by_solute')}
assert figures['worst_residue']['unit'] == 'ug/cm2'
assert math.isclose(worst['total']['total'], figures['worst_residue']['value'], rel_tol=1e-12)
assert figures['worst_load'] <= 45 and not figures['worst_at_steady_state']
judged = table('targets')
assert judged
for row in judged:
    assert row['met'] == (row['residue'] <= row['limit']), row
    assert math.isclose(row['of_limit'] * row['limit'], row['residue'], rel_tol=1e-12), row
assert all(row['met'] for row in judged) == (page['verdict']['is'] == 'met')
if figures['worst_load'] in {load['load'] for load in loads}:
    for quantity, column in ('residue', 'total'), ('film residue', 'dried_film'):
        for solute, value in left[figures['worst_load'], quantity].items():
            assert math.isclose(value, worst[solute][column], rel_tol=1e-9, abs_tol=1e-300)
PYTHON
    done
else
    echo 'not run: csv beside json (no python3)'
fi

# of a still rinse that nobody dumps no more flow is recommended, and the rinse is named: in the long
# run it holds what the wash holds
cp "$source/data/rinse-bench.csv" still.csv
chmod u+w still.csv
good --draws 0 still.csv
prints 'nothing renews the liquid of last, which states neither flow nor dump every'
echo 'last,dump every,3000,1,,' >>still.csv
good --draws 0 still.csv
prints 'more flow, one more rinse or a longer drain time helps'
grep -F 'nothing renews' out >/dev/null && fail 'a rinse that is dumped: nothing renews it'
exit $failed
