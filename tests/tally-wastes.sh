#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally --law: wastes that are toxic by the solvents in them, that hold a phase of their own,
# or an alcohol that the exclusion is not for; by hand.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"

# line SOLVENT FILM: a load of 1 m2 takes a film of the solvent into 100 L of water, which are dumped
# behind every load: 1 um are 1 mL. What leaves on the parts, and is topped up, is a millionth of the
# tank for each 0.1 um.
line()
{
    cat <<END
item,property,value,unit,spread,note
rack,kind,load
rack,parts,1,1
rack,area,1,m2
rack,interval,2.4,h
oil,kind,solute
own,kind,liquid
own,solvent,$1
di,kind,liquid
di,solvent,water
vat,kind,rinse
vat,volume,100,L
vat,liquid,own
vat,film,$2,um
vat,evaporation,0,L/h
wet,kind,rinse
wet,volume,100,L
wet,liquid,di
wet,film,0.01,um
wet,evaporation,0,L/h
wet,dump every,1,1
days,kind,schedule
days,loads per shift,10
days,shifts per day,1
days,days per year,365
END
}

density()
{
    "$build/dregs-liquid" --format csv "$1" --at 20degC | awk -F, '$2 == "density" { print $3 }'
}

# waste SOLVENT FILM TOXIC CODES: of the water; mL of the film times g/mL in 100 L
waste()
{
    line "$1" "$2" >line.csv
    good --law --draws 0 --format json line.csv
    command -v python3 >/dev/null 2>&1 || return 0
    python3 - "$(density "$1")" "$@" <<'END' || fail "waste: $*"
import json, sys
density, solvent, film, toxic, codes = sys.argv[1:6]
wet, = [w for t in json.load(open('out'))['tables'] if t['key'] == 'law_wastes'
        for w in [dict(zip([c['key'] for c in t['columns']], r)) for r in t['rows']]
        if w['stage'] == 'wet' and w['stream'] == 'dumped']
here = float(film) * float(density) / 100 # mL * kg/m3 / 100 L = mg/L
assert wet['toxic'] == toxic, wet
if toxic == 'yes':
    assert abs(wet['toxic_concentration'] - here) < 2e-3 * here and wet['toxic_by'] == solvent, wet
    assert codes in wet['codes'] and wet['hazardous'] == 'yes'
else:
    assert wet['toxic_by'] is None and codes not in (wet['codes'] or '')
if len(sys.argv) > 6:
    assert abs(wet['own_phase_concentration'] - here) < 2e-3 * here, wet
    assert abs(wet['solubility'] - float(sys.argv[6])) < 1e-3 * wet['solubility'], wet
else:
    assert wet['own_phase'] is None
END
}

# ---- 40 CFR 261.24: 0.7, 0.5 and 200 mg/L ----
waste tetrachloroethylene 0.0431 no D039  # 0.0431 * 1.621 g / 100 L = 0.699 mg/L
waste tetrachloroethylene 0.0433 yes D039 # 0.702 mg/L
waste trichloroethylene 0.0338 no D040    # 0.0338 * 1.464 = 0.495
waste trichloroethylene 0.0345 yes D040
waste butanone 24 no D035                 # 24 * 0.805 = 193
waste butanone 25.5 yes D035
waste isopropanol 25 no D0

# ---- beyond its solubility, 0.02066 % of 998.2 kg/m3: a phase of its own ----
waste tetrachloroethylene 12 yes D039              # 194.5 mg/L
waste tetrachloroethylene 116.46 yes D039 206.23   # 1888 mg/L
good --law --draws 0 line.csv
prints 'of tetrachloroethylene, toxic from 0.7 mg/L'
prints 'of tetrachloroethylene are beyond the 206.2 mg/L that water takes up: a phase of its own'
prints '40 CFR 261.24'

# ---- less than 24 % of alcohol in water is excluded, but not methanol, whose spent solvent is F003
line isopropanol 1000 >line.csv
good --law --draws 0 line.csv
prints 'not ignitable: aqueous, less than 24 % alcohol by volume'
line methanol 1000 >line.csv
good --law --draws 0 line.csv
prints 'flash point of the waste dumped from wet, closed cup'
if grep 'not ignitable: aqueous' out >/dev/null; then
    fail 'methanol is excluded'
fi

exit "$failed"
