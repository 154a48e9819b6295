#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally --law: solvent plans of the European Union beyond the share of tally-law.sh: total
# emission, little solvent, mass flows; on lines whose year is arithmetic by hand.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
# shellcheck source=tests/tally-line.sh
. "${DREGS_SOURCE:-.}/tests/tally-line.sh"

line isopropanol >spirit.csv
line tetrachloroethylene >per.csv
line trichloroethylene >tri.csv

law()
{
    good --law --draws 0 "$@"
}

near()
{
    awk -v g="$2" -v e="$3" 'BEGIN { d = g - e; if (d < 0) d = -d
        exit !(g != "" && d <= 1e-9 * (e < 0 ? -e : e)) }' || fail "$1: $2, expected $3"
}

value()
{
    awk -F, -v s="$1" '$1 == s && $4 == "year" { v = $5 } END { print v }' out
}

density()
{
    "$build/dregs-liquid" --format csv "$1" --at 20degC | awk -F, '$2 == "density" { print $3 }'
}

calc()
{
    awk "BEGIN { printf \"%.17g\", $1 }"
}

# ---- E = F + O1: half of 8030 L is captured and 90 % of that destroyed, 401.5 L are led out ----
law --given captured=50% --given destroyed=90% --given activity=other --format csv spirit.csv
near 'total emission' "$(value 'solvent plan total emission')" \
    "$(calc "(4.015 + 0.4015) * $(density isopropanol)")"
law --given captured=50% --given destroyed=90% --explain spirit.csv
prints 'total emission, fugitive and in waste gases: '
prints 'total emission = fugitive + O1 = '

# ---- little solvent: at most 30 % by mass ----
for share in 30 31; do
    sed "/^own,solvent,/a own,solvent share,$share,%" spirit.csv >thin-$share.csv
done
law --given captured=0% thin-30.csv
prints 'its liquids hold 30 % organic solvent by mass, 30 % or less: the limits are waived'
prints 'annex VII part 2, activity 5, 2010-11-24'
law --given captured=0% thin-31.csv
if grep waived out >/dev/null; then
    fail '31 % is waived'
fi
# rinse water does not make it less
{
    cat thin-31.csv
    printf 'di,kind,liquid\ndi,solvent,water\nwet,kind,rinse\nwet,volume,100,L\nwet,liquid,di\n'
    printf 'wet,film,1,mm\nwet,flow,900,L/h\n'
} >rinsed.csv
law --given captured=0% rinsed.csv
if grep waived out >/dev/null; then
    fail 'water that rinses waives'
fi

# ---- mass flows: 22 L in 24 h, before capture ----
law --format json per.csv
# flow EXPECTED FROM WASTE-GAS REACHED
flow()
{
    command -v python3 >/dev/null 2>&1 || return 0
    python3 - "$@" <<'END' || fail "mass flow: $*"
import json, sys
flow, = [dict(zip([c['key'] for c in t['columns']], t['rows'][0]))
         for t in json.load(open('out'))['tables'] if t['key'] == 'law_mass_flows']
expected, start, gas, reached = sys.argv[1:]
assert abs(flow['vapour'] - float(expected)) < 1e-9 * float(expected), flow
assert (abs(flow['from'] - float(start)) < 1e-9 and abs(flow['waste_gas'] - float(gas)) < 1e-9
        and flow['reached'] == reached), flow
END
}
flow "$(calc "22 / 24 * $(density tetrachloroethylene)")" 100 20 yes
law --format json tri.csv
flow "$(calc "22 / 24 * $(density trichloroethylene)")" 10 2 yes
# 10 films of 0.01 mm and 0.02 L/h: 0.1 + 0.48 L in 24 h; less is not reached
sed -e '/^vat,evaporation/s/0.5/0.02/' -e '/^vat,film/s/1/0.01/' per.csv >little.csv
law --format json little.csv
flow "$(calc "0.58 / 24 * $(density tetrachloroethylene)")" 100 20 no
law little.csv
prints 'from 100 g/h waste gases hold at most 20 mg/m3: not reached'
grep -v '^vat,evaporation' little.csv >silent.csv
law silent.csv
prints 'from 100 g/h waste gases hold at most 20 mg/m3: cannot be judged yet'
law tri.csv
prints 'compounds with H340, H350, H350i, H360D or H360F'
prints 'from 10 g/h waste gases hold at most 2 mg/m3: reached; what waste gases hold is measured'

# ---- the dates of the amendment ----
law spirit.csv
prints 'in force since 2024-08-04; into national law by 2026-07-01'
prints 'Directive (EU) 2024/1785, 2024-04-24 (from memory; looked up 2026-11-30)'

exit "$failed"
