#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally --instead: another solvent in place of one of the line's, side by side with it.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
command -v python3 >/dev/null 2>&1 || {
    echo 'skipped: no python3'
    exit 77
}

# Ten loads a day of 24 h in a year of 365 days take 1 L each along as a film of 1 mm, which dries:
# 3650 L, and 0.5 L/h evaporate: 4380 L.
cat >spirit.csv <<END
item,property,value,unit,spread,note
# kept as it stands
rack,kind,load
rack,parts,1,1
rack,area,1,m2
rack,interval,2.4,h
oil,kind,solute
own,kind,liquid
own,solvent,isopropanol
own,viscosity,2.4,mPa.s
own,price,2,EUR/L
own,disposal,0.5,EUR/L
vat,kind,rinse
vat,volume,100,L
vat,liquid,own
vat,film,1,mm
vat,evaporation,0.5,L/h
vat,dump every,10,1
days,kind,schedule
days,loads per shift,10
days,shifts per day,1
days,days per year,365
END

# cell TABLE FIGURE COLUMN [FILE]
cell()
{
    python3 - "$@" <<'END'
import json, sys
key, figure, column = sys.argv[1:4]
table, = [t for t in json.load(open('out'))['tables'] if t['key'] == key]
at = [c['key'] for c in table['columns']]
rows = [dict(zip(at, r)) for r in table['rows']]
print(*[r[column] for r in rows if r['figure'] == figure and
        (len(sys.argv) < 5 or r['file'] == sys.argv[4])])
END
}

near()
{
    awk -v g="$2" "BEGIN { e = $3; d = g - e; if (d < 0) d = -d; exit !(g != \"None\" && g != \"\" && d <= 1e-9 * e) }" ||
        fail "$1: $2, expected $3"
}

density()
{
    "$build/dregs-liquid" --format csv "$1" --at 20degC | awk -F, '$2 == "density" { print $3 }'
}

old=$(density isopropanol)
new=$(density 'ethyl acetate')
good --instead 'isopropanol=ethyl acetate' --draws 0 --format json spirit.csv
near 'isopropanol into the air' "$(cell instead 'of it into the air' old)" "8.03 * $old"
near 'ethyl acetate into the air' "$(cell instead 'of it into the air' new)" "8.03 * $new"
near 'VOC' "$(cell instead 'VOC of all solvents into the air, US' new)" "8.03 * $new"
# the flash points on record: 53 degF and 24 degF (NIOSH Pocket Guide)
near 'flash point' "$(cell instead 'flash point' old)" '(53 - 32) / 1.8'
near 'limit over 8 h' "$(cell instead 'lowest limit over 8 h on record' old)" 400 # 29 CFR 1910.1000, NIOSH
[ "$(cell instead 'hazardous air pollutant, 112(b)' new)" = 'no HAP' ] || fail 'a pollutant'
# the price of the old one is not that of the new one: no cost
[ -z "$(cell line_figures cost value 'spirit.csv with ethyl acetate')" ] || fail 'a cost at the old price'
near 'the old cost' "$(cell line_figures cost value spirit.csv)" '(100 + 8030 + 36400 + 100) * 2 + 36500 * 0.5'
good --instead 'isopropanol=ethyl acetate, price 3 EUR/L, disposal 1 EUR/L' --draws 0 --format json spirit.csv
near 'the new cost' "$(cell line_figures cost value 'spirit.csv with ethyl acetate')" \
    '(100 + 8030 + 36400 + 100) * 3 + 36500 * 1'
good --instead 'isopropanol=ethyl acetate' spirit.csv
prints 'ethyl acetate in place of isopropanol'
prints 'no cost of 2.: what ethyl acetate costs is not stated'
prints 'stay as they are: measure them with ethyl acetate'
# an exempt solvent: no VOC; a banned one: said
good --instead isopropanol=acetone --draws 0 --format json spirit.csv
[ "$(cell instead 'VOC of all solvents into the air, US' new)" = 0.0 ] || fail 'acetone is a VOC'
good --instead 'IPA=trichloroethylene' --draws 0 --format json spirit.csv
cell instead 'bans and restrictions of use on parts' new | grep 'US prohibited' >/dev/null || fail 'no ban'
good --instead 'isopropanol=trans-1,2-dichloroethylene, price 9 EUR/L, disposal 1 EUR/L' spirit.csv
# ---- misuse ----
misuse 'is not OLD=NEW' --instead isopropanol spirit.csv
misuse 'is not OLD=NEW' --instead 'isopropanol=acetone, prize 3 EUR/L' spirit.csv
misuse "no liquid of the line is made of 'toluene'" --instead toluene=acetone spirit.csv
misuse "'aceton' is not in the liquid data; nearest: 'acetone'" --instead isopropanol=aceton spirit.csv
misuse '--instead takes one line' --instead isopropanol=acetone spirit.csv line.csv
misuse '--instead takes one line' --instead isopropanol=acetone --law spirit.csv
expect 3 --instead 'isopropanol=acetone, price 3 EUR, disposal 1 EUR/L' spirit.csv
grep -F 'spirit.csv with acetone' err >/dev/null || fail 'a bad price: not said'
[ ! -s out ] || fail 'a bad price: something on standard output'
exit "$failed"
