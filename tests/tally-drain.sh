#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally --by drain: what the drain holds, its oxygen demand, between what its pH lies; what is
# asked for. Lines whose year is arithmetic by hand, or a march of its own in awk.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
command -v python3 >/dev/null 2>&1 || {
    echo 'skipped: no python3'
    exit 77
}

# A load of 1 m2 with a film of 1 mm takes 1 L along, ten loads a day of 24 h, no idle time.
line()
{
    cat <<END
item,property,value,unit,spread,note
rack,kind,load
rack,parts,1,1
rack,area,1,m2
rack,interval,2.4,h
soap,kind,solute
soap,COD,2,g/g
soap,pH,11,1
days,kind,schedule
days,loads per shift,10
days,shifts per day,1
days,days per year,365
END
}

# table KEY ROW COLUMN: a cell of the JSON in out
cell()
{
    python3 - "$@" <<'END'
import json, sys
key, row, column = sys.argv[1:]
table, = [t for t in json.load(open('out'))['tables'] if t['key'] == key]
value = table['rows'][int(row)][[c['key'] for c in table['columns']].index(column)]
print(value['value'] if isinstance(value, dict) else value)
END
}

# near WHAT GOT EXPECTED
near()
{
    awk -v g="$2" -v e="$3" 'BEGIN { d = g - e; if (d < 0) d = -d; exit !(g != "None" && d <= 1e-9 * e) }' ||
        fail "$1: $2, expected $3"
}

# ---- a spray of 3 L a load, of which 1 L stays on it as a film: 2 L run to the drain ----
{
    line
    printf 'lye,kind,liquid\nlye,solvent,water\nlye,soap,5,g/L\n'
    printf 'jet,kind,spray\njet,liquid,lye\njet,use,3,L\njet,film,1,mm\n'
} >spray.csv
good --by drain --draws 0 --format json spray.csv
near volume "$(cell drains 0 volume)" 7300                     # 3650 x 2 L
near mass "$(cell drain_contents 0 mass)" 36.5                 # x 5 g/L
near concentration "$(cell drain_contents 0 concentration)" 5000
near COD "$(cell drains 0 oxygen_demand)" 73                   # x 2 g/g
near 'COD per litre' "$(cell drains 0 oxygen_concentration)" 10000
near 'pH, low' "$(cell drains 0 ph_low)" 10.69897000433602     # 11 + log10(5 / 10)
near 'pH, high' "$(cell drains 0 ph_high)" 11
[ "$(cell drains 0 ph_class)" = 'from 5 to below 12.5' ] || fail "class $(cell drains 0 ph_class)"
good --by drain spray.csv
prints 'jet: 7300 L to the drain'
prints 'soap 36.5 5000 73'
prints 'pH: between 10.7 and 11, class from 5 to below 12.5'
! grep 'asked for' out >/dev/null || fail 'something is asked for'
# an acid beside it, at 1 g/L a decade thinner than its pH says: the two ends
{
    cat spray.csv
    printf 'sour,kind,solute\nsour,pH,2,1\nsour,formula,C2H4O2\nlye,sour,1,g/L\n'
} >both.csv
good --by drain --draws 0 --format json both.csv
near 'of both, low' "$(cell drains 0 ph_low)" 2
near 'of both, high' "$(cell drains 0 ph_high)" 11
[ "$(cell drains 0 ph_class)" = None ] || fail 'a class across classes'
# C2H4O2: 2 x 2 + 4 / 2 - 2 = 4 atoms of 15.999 on 2 x 12.011 + 4 x 1.008 + 2 x 15.999 = 60.052
near 'by formula' "$(cell drain_contents 1 oxygen_demand)" \
    "$(awk 'BEGIN { printf "%.17g", 7.3 * 4 * 15.999 / 60.052 }')"
# nothing stated: asked for, and a lower bound
grep -v '^soap,[Cp]' spray.csv >silent.csv
good --by drain silent.csv
prints 'chemical oxygen demand: not known'
prints 'pH: not known'
prints "the oxygen demand of soap: a row 'COD' or 'formula'"
prints "the pH of soap at 10 g/L in water: a row 'pH', or 'hazard' none"
good --by drain --format json silent.csv
[ "$(cell drains 0 ph_low)" = None ] || fail 'a pH out of nothing'

# ---- what the parts bring into a water rinse that is fed with 50 L/h ----
{
    line | sed 's/^soap,pH.*/soap,hazard,none/'
    cat <<END
own,kind,liquid
own,solvent,isopropanol
own,formula,C3H8O
tap,kind,liquid
tap,solvent,water
vat,kind,rinse
vat,volume,100,L
vat,liquid,own
vat,film,1,mm
wet,kind,rinse
wet,volume,100,L
wet,liquid,tap
wet,film,1,mm
wet,flow,50,L/h
END
} >brought.csv
good --by drain --draws 0 --format json brought.csv
# 1 L comes into 100 L and mixes, 1 L of that leaves; then 120 L of water flow through, and c of the
# tank falls by exp(-120 / 100)
litres=$(awk 'BEGIN {
    for (i = 0; i < 3650; i++) {
        c = (100 * c + 1) / 101; after = c * exp(-1.2); drained += 100 * (c - after); c = after
    }
    printf "%.17g", drained }')
rho=$("$build/dregs-liquid" --format csv isopropanol --at 20degC | awk -F, '$2 == "density" { print $3 }')
near 'water and what it holds' "$(cell drains 0 volume)" 438000
near 'isopropanol' "$(cell drain_contents 0 mass)" \
    "$(awk -v v="$litres" -v r="$rho" 'BEGIN { printf "%.17g", v * r / 1000 }')"
near 'its concentration' "$(cell drain_contents 0 concentration)" \
    "$(awk -v v="$litres" -v r="$rho" 'BEGIN { printf "%.17g", v * r / 438 }')"
# C3H8O: 3 x 2 + 8 / 2 - 1 = 9 atoms of 15.999 on 3 x 12.011 + 8 x 1.008 + 15.999 = 60.096
near 'its COD' "$(cell drains 0 oxygen_demand)" \
    "$(awk -v v="$litres" -v r="$rho" 'BEGIN { printf "%.17g", v * r / 1000 * 9 * 15.999 / 60.096 }')"
near 'pH of what is neither acid nor base' "$(cell drains 0 ph_low)" 7
# a spread of the film is one of the concentration
sed 's/^vat,film,1,mm/&,10%/' brought.csv >loose.csv
good --by drain --draws 200 loose.csv
grep -E 'own .*\([0-9.e+]+ to [0-9.e+]+\)' out >/dev/null || fail 'no range of a concentration'

# ---- nothing to the drain; bad rows ----
sed 's/^wet,flow.*/wet,dump every,10,1/' brought.csv >waste.csv
good --by drain waste.csv
prints 'nothing goes to the drain'
for bad in 'soap,pH,14.1,1=a pH of 14.1' 'soap,formula,C2H5OHx=has an element other' \
    'soap,formula,SiO2=has an element other' 'soap,formula,H2O2=takes up no oxygen' \
    'soap,formula,c2h6=is no molecular' 'soap,formula,C1001=is no molecular'; do
    { grep -v '^soap,[Cp]' spray.csv; echo "${bad%=*}"; } >bad.csv
    expect 3 bad.csv
    [ ! -s out ] || fail "$bad: something on standard output"
    grep -F "bad.csv:" err | grep -F -- "${bad#*=}" >/dev/null || fail "$bad: not said"
done
{ cat spray.csv; echo 'soap,formula,C2H6O'; } >bad.csv
expect 3 bad.csv
grep -F 'given in two ways' err >/dev/null || fail 'both COD and formula are taken'
exit "$failed"
