#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally --law: what halogenated solvent machines emit and could emit, 40 CFR part 63 subpart T,
# on lines whose year is arithmetic by hand.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
# shellcheck source=tests/tally-line.sh
. "${DREGS_SOURCE:-.}/tests/tally-line.sh"

# Of the line 8030 L a year go into the air; 12 ft2 are 1.11483648 m2.
line tetrachloroethylene >per.csv
line trichloroethylene >tri.csv
line isopropanol >spirit.csv
{
    line tetrachloroethylene
    cat <<END
di,kind,liquid
di,solvent,water
wet,kind,rinse
wet,volume,100,L
wet,liquid,di
wet,film,1,mm
wet,flow,20,L/h
END
} >behind.csv

law()
{
    good --law --draws 0 "$@"
}

# machine KIND ARGUMENT...: of 12 ft2
machine()
{
    kind=$1
    shift
    law --given "machine=$kind" --given 'interface=1.11483648 m2' "$@"
}

value()
{
    awk -F, -v s="$1" -v p="$2" '$1 == s && $4 == p { v = $5 } END { print v }' out
}

# near TOLERANCE WHAT GOT EXPECTED
near()
{
    awk -v t="$1" -v g="$3" -v e="$4" 'BEGIN { d = g - e; if (d < 0) d = -d
        exit !(g != "" && d <= t * (e < 0 ? -e : e)) }' || fail "$2: $3, expected $4"
}

calc()
{
    awk "BEGIN { printf \"%.17g\", $1 }"
}

density()
{
    "$build/dregs-liquid" --format csv "$1" --at 20degC |
        awk -F, '$2 == "density" { print $3 }'
}
per=$(density tetrachloroethylene)
tri=$(density trichloroethylene)

# ---- 63.465(e): hours x rate x area ----
# potential EXPECTED ARGUMENT...
potential()
{
    expected=$1
    shift
    machine "$@" --format csv per.csv
    near 1e-12 "potential: $*" "$(value 'potential to emit' year)" "$expected"
}
# 8760 h * 1.95 kg/(m2 h) * 1.11483648 m2; a rate of 0.08 lb/(h ft2) would give 3814.5 kg
potential 19043.63675136 'batch vapour'
potential 19043.63675136 'batch cold'
# the schedule emits 8.03 m3 of it, which is more than 8760 * 1.12 or 0.63 * 1.11483648
potential "$(calc "8.03 * $per")" 'new in-line'
sed -e '/^vat,evaporation/s/0.5/0.01/' -e '/^vat,film/s/1/0.1/' per.csv >little.csv
machine 'existing in-line' --format csv little.csv
near 1e-12 'existing in-line' "$(value 'potential to emit' year)" "$(calc '8760 * 1.12 * 1.11483648')"
machine 'new in-line' --format csv little.csv
near 1e-12 'new in-line' "$(value 'potential to emit' year)" "$(calc '8760 * 0.63 * 1.11483648')"
machine 'batch vapour' --given 'hours=2000 h' --format csv little.csv
near 1e-12 'an enforceable limit' "$(value 'potential to emit' year)" "$(calc '2000 * 1.95 * 1.11483648')"
# 0.03125 m3 is 2^-5: 2.20 * 1/8 m2
law --given 'machine=no interface' --given 'chamber=0.03125 m3' --format csv little.csv
near 1e-12 'no interface' "$(value 'potential to emit' year)" "$(calc '8760 * 1.95 * 0.275')"
machine 'batch vapour' per.csv
prints '19040 kg a year by the rule for solvent cleaning machines, 8760 h and 1.115 m2'
prints 'a major source from 9072 kg (10 short tons) of one air pollutant: reached'
prints 'from 22680 kg (25 short tons) of all air pollutants not reached by this line alone'
prints 'from 90720 kg (100 short tons) of VOC not reached by this line alone'
if grep 'cold cleaners' out >/dev/null; then
    fail 'a rule of thumb beside the rule for machines'
fi
# the kind of machine is not known: the highest rate is the most; below a threshold that is enough
law --given 'interface=1.11483648 m2' little.csv
prints 'at most 19040 kg a year by the rule'
prints 'of one air pollutant: cannot be judged yet'
prints 'all air pollutants not reached by this line alone'
prints "the kind of solvent cleaning machine."
law --given 'machine=batch vapour' per.csv
prints 'tetrachloroethylene: unknown kg a year by the rule for solvent cleaning machines (at most 13020 kg'
prints 'solvent/air interface of the machine with tetrachloroethylene, unless it has none'
machine 'new in-line' per.csv
prints '13020 kg a year, what is emitted as scheduled, more than by the rule for solvent cleaning'
# or the open area of its tanks, which a law takes the evaporation from
sed 's/^vat,evaporation,.*/vat,open area,1.11483648,m2/' per.csv >open.csv
law --given 'machine=batch vapour' --format csv open.csv
near 1e-12 'an open area' "$(value 'potential to emit' year)" 19043.63675136
# other solvents by the line's own rate, in the hours that count
law --given 'hours=4380 h' --format csv spirit.csv
near 1e-9 'half a year, not less than scheduled' "$(value 'potential to emit' year)" \
    "$(calc "8.03 * $(density isopropanol)")"

# ---- 63.464: what is carried into water is emitted; running, so that no tank fills up ----
machine 'batch vapour' --from running --given 'solid waste=0 kg' --format csv behind.csv
near 1e-6 'January' "$(value 'machine emission' January)" "$(calc "0.682 * $per / 1.11483648")"
machine 'batch vapour' --from running --given 'solid waste=0 kg' behind.csv
prints 'that the parts carry into other liquids, and that go with those: emitted'

# ---- one figure of what is emitted as scheduled: what is carried into water counts for the
# potential too, which by the rule is 8760 h * 1.95 kg/(m2 h) * 0.05 m2 = 854 kg ----
set -- --given 'machine=batch vapour' --given 'interface=0.05 m2' --from running
law "$@" --given 'solid waste=0 kg' --format csv behind.csv
near 1e-6 'with what is carried over' "$(value 'potential to emit' year)" "$(calc "8.03 * $per")"
near 1e-9 'as the facility has it' "$(value 'potential to emit' year)" \
    "$(value 'facility emission' year)"
law "$@" --given 'solid waste=0 kg' behind.csv
prints '13020 kg a year, what is emitted as scheduled, more than by the rule for solvent cleaning'
prints 'from 9072 kg (10 short tons) of one air pollutant: reached'
law "$@" --given 'solid waste=400 kg' --format csv behind.csv # 12 times off
near 1e-6 'with solid waste' "$(value 'potential to emit' year)" "$(calc "8.03 * $per - 4800")"
law "$@" behind.csv
prints 'at most 13020 kg a year, what is emitted as scheduled'
prints 'of one air pollutant: cannot be judged yet'

# ---- what evaporates is not stated: the schedule may emit more than by the rule, 8760 * 1.95 *
# 0.275 = 4698 kg ----
grep -v '^vat,evaporation' little.csv >unsaid.csv
set -- --given 'machine=no interface' --given 'chamber=0.03125 m3' --given 'solid waste=0 kg'
law "$@" unsaid.csv
prints 'at least 4698 kg a year by the rule'
if grep 'not reached by' out | grep -v VOC >/dev/null; then
    fail 'not reached, and what evaporates is not known'
fi
law "$@" --format json unsaid.csv
prints '"major_source_by_air_pollutants": "unknown"'
law "$@" little.csv
prints 'of one air pollutant: not reached by this line alone'
sed '/^days/d' little.csv >whenever.csv # nor without a year
law "$@" --loads 10 whenever.csv
prints 'at least 4698 kg a year by the rule'

# ---- 63.464 is an alternative to 63.463 ----
machine 'batch vapour' --given 'solid waste=0 kg' per.csv
prints 'the limit is 150: not met; it is an alternative to 63.463, by itself no violation'
prints 'Answer: --given standard=63.463 or standard=63.464'
if grep 'MISSED' out | grep 'limit is 150' >/dev/null; then
    fail 'a violation of an alternative'
fi
machine 'batch vapour' --given 'solid waste=0 kg' --given standard=63.464 per.csv
prints 'the limit is 150: MISSED'
machine 'batch vapour' --given standard=63.463 per.csv
prints 'the limit is 150: not judged, 63.463 was elected'

# ---- table 6: the lower row; the mean of the worst three months is 22 L * 92 / 3 - 1000
# kg, between the row and the equation ----
law --given 'machine=no interface' --given 'chamber=0.149 m3' --given 'solid waste=1000 kg' \
    --format csv per.csv
near 1e-12 'equation 1' "$(value 'machine limit' month)" "$(calc '330 * exp(0.6 * log(0.149))')"
[ "$(value 'machine limit by table' month)" = 83 ] || fail 'the row below 0.149 m3'
law --given 'machine=no interface' --given 'chamber=0.149 m3' --given 'solid waste=1000 kg' per.csv
prints 'the limit is 83 by table 6 and 105.3 by equation 1, of which either may be used: met'
law --given 'machine=no interface' --given 'chamber=4 m3' per.csv
prints 'the limit is 758.1: cannot be judged yet' # 330 * 4^0.6, no row beyond 2.95 m3

# ---- 63.471: all machines of the facility in 12 months ----
law --given 'solid waste=12.5 kg' --format csv per.csv
near 1e-9 'twelve months' "$(value 'facility emission' year)" "$(calc "8.03 * $per - 150")"
[ "$(value 'facility limit' year)" = 4800 ] || fail 'the limit of the one'
law --given 'solid waste=12.5 kg' per.csv
prints 'the limit is 4800 kg: cannot be judged yet'
prints "Answer: --given facility=general, 'facility=military depot' or facility=exempt"
law --given 'solid waste=12.5 kg' --given facility=general per.csv
prints 'the limit is 4800 kg: MISSED'
law --given 'solid waste=12.5 kg' --given 'facility=military depot' per.csv
prints 'the limit is 8000 kg: MISSED'
law --given facility=exempt per.csv
prints 'does not apply to such machines'
law --given facility=general per.csv # solid waste is not given: at most
prints 'the limit is 4800 kg: cannot be judged yet'
# 8.03 m3 of the other are below 14100 kg, if there is no other machine
law tri.csv
prints 'the limit is 14100 kg: cannot be judged yet'
prints "other solvent cleaning machines emit in 12 months"
law --given 'other machines=0 kg' tri.csv
prints 'the limit is 14100 kg: met'
law --given 'other machines=100 kg' --given 'solid waste=0 kg' --format csv tri.csv
near 1e-9 'with others' "$(value 'facility emission' year)" "$(calc "4.25 * 8.03 * $tri + 100")"
[ "$(value 'facility limit' year)" = 60000 ] || fail 'the limit of several'
# the twelve months until each, of a line that has run before by its dates: until January 2028 they
# have 365 days, until any later month of that year the 29th of February too, 366
{ cat per.csv && echo 'days,weekdays,Mon-Sun'; } >dated.csv
law --from running --begin 2028-01 --given 'solid waste=0 kg' --format csv dated.csv
near 1e-6 'until January' "$(value 'facility emission over twelve months' January)" \
    "$(calc "365 * 0.022 * $per")"
for month in February July December; do
    near 1e-6 "until $month" "$(value 'facility emission over twelve months' $month)" \
        "$(calc "366 * 0.022 * $per")"
done
near 1e-6 'the most of them' "$(value 'facility emission' year)" "$(calc "366 * 0.022 * $per")"
law --from running --begin 2028-01 --given 'solid waste=0 kg' dated.csv
prints 'the largest sum ends with '
prints '    12 months until'
# without the year before only those until its end are known
law --begin 2028-01 --given 'solid waste=0 kg' --format csv dated.csv
[ -z "$(value 'facility emission over twelve months' January)" ] || fail 'months that are not known'
# cold batch machines of an area source are not counted
law --given 'machine=batch cold' --given 'solid waste=0 kg' per.csv
prints 'Answer: --given source=area or source=major'
law --given 'machine=batch cold' --given source=area per.csv
prints 'does not apply to such machines'
law --given 'machine=batch cold' --given 'solid waste=0 kg' --given source=major \
    --given facility=general per.csv
prints 'the limit is 4800 kg: MISSED'
# what evaporates is not stated: nothing is met
grep -v '^vat,evaporation' tri.csv >silent.csv
law --given 'other machines=0 kg' silent.csv
if sed -n '/^  all solvent cleaning machines/,/^  potential/p' out | grep ': met' >/dev/null; then
    fail 'met, and what evaporates is not known'
fi
# ---- two sprays and no tank: nothing is said of the mist, so nothing is met ----
cat >jets.csv <<'END'
item,property,value,unit
rack,kind,load
rack,parts,10,1
rack,area,200,cm2
rack,interval,10,min
oil,kind,solute
per,kind,liquid
per,solvent,tetrachloroethylene
jet,kind,spray
jet,liquid,per
jet,use,5,L
jet,drag-out,50,mL/m2
jet2,kind,spray
jet2,liquid,per
jet2,use,1,L
jet2,drag-out,50,mL/m2
plan,kind,schedule
plan,loads per shift,40,1
plan,shifts per day,1,1
plan,days per year,250,1
END
set -- --given 'machine=no interface' --given 'chamber=0.2 m3' --given 'solid waste=0 kg' \
    --given captured=0% --given facility=general --given 'other machines=0 kg'
law "$@" --given drain=waste jets.csv
prints 'what evaporates of tetrachloroethylene in the spray jet2, as mist'
tr -s ' \n' '  ' <out >flat
if grep -e ': met' -e 'no limit applies' -e 'not reached; what' -e 'mg/m3: not reached' flat >/dev/null; then
    fail 'met, and the mist is not known'
fi
# 10000 loads dry 10 mL each, 100 L a year, 60 mL/h
grep -F "fugitive at least $(calc "0.1 * $per" | cut -c 1-5) kg" flat >/dev/null || fail 'what dries'
grep 'at least [0-9.]* g/h of vapour' flat >/dev/null || fail 'a mass flow without the mist'
# down the sewer it is emitted, mist or not: 60000 L, and no range is left
law "$@" --given drain=sewer --format csv jets.csv
near 1e-9 'emitted, mist or not' "$(value 'facility emission' year)" "$(calc "60 * $per")"
law "$@" --given drain=sewer jets.csv
prints 'the limit is 4800 kg: MISSED'
prints 'the limit is 10 %: MISSED'
# a spray beside the bath: 22 L and 30 L a day are 1585 L in a mean month of 92 / 3 days
{ cat per.csv && printf 'mist,kind,spray\nmist,liquid,own\nmist,use,3,L\nmist,film,1,mm\n'; } >mist.csv
set -- --given 'machine=no interface' --given 'chamber=100 m3' --given 'solid waste=0 kg'
law "$@" --given drain=sewer mist.csv
prints 'the limit is 5230: met'
law "$@" --given drain=waste mist.csv
prints 'the limit is 5230: cannot be judged yet'
law --given 'interface=1.11483648 m2' --format json per.csv
if command -v python3 >/dev/null 2>&1; then
    python3 - "$per" <<'END' || fail 'JSON'
import json, sys
page = json.load(open('out'))
table = {t['key']: [dict(zip([c['key'] for c in t['columns']], r)) for r in t['rows']]
         for t in page['tables']}
solvent, = table['law_solvents']
assert solvent['potential_by_machine'] and solvent['potential_upper_bound']
assert solvent['major_source'] == 'unknown' and not solvent['potential_lower_bound']
facility, = table['law_facility']
assert abs(facility['counted'] - 8.03 * float(sys.argv[1])) < 1e-6 and facility['limit'] == 4800
assert (facility['upper_bound'], facility['lower_bound']) == (True, True)
assert facility['verdict'] == 'unknown'
machine, = table['law_machines']
assert machine['limit'] is None and machine['carried_out'] == 0 and machine['upper_bound'] is True
assert page['figures']['major_source_by_air_pollutants'] == 'no'
END
fi

# ---- what changes nothing, or contradicts ----
misuse '--given source: counts for machine=batch cold alone' --law --given source=area per.csv
misuse '--given standard: 63.464 is for batch vapour and in-line' --law --given standard=63.464 \
    --given 'machine=batch cold' per.csv
misuse '--given facility: none of the solvents of 40 CFR 63.471' --law --given facility=general \
    spirit.csv
misuse '--given other machines: none of the solvents' --law --given 'other machines=1 kg' spirit.csv
misuse '--given standard: none of the solvents' --law --given standard=63.463 spirit.csv
misuse "--given hours: '9000 h' is not from 0 h to 8784 h" --law --given 'hours=9000 h' per.csv
sed -e 's/^own,solvent,.*/own,solvent,water/' per.csv >water.csv
misuse '--given hours: no solvent of the line' --law --given 'hours=90 h' water.csv
misuse '--given interface: the machine is said to have none' --law --given 'interface=1 m2' \
    --given 'machine=no interface' per.csv
misuse '--given interface: the tanks with its solvent state' --law --given 'interface=1 m2' open.csv
misuse '--given interface: none of the solvents' --law --given 'interface=1 m2' spirit.csv

exit "$failed"
