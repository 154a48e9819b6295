#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally --law --given: what is asked, once and in order, with the answers that are possible;
# what contradicts or changes nothing; one category of the waste generator when all is answered.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
# shellcheck source=tests/tally-line.sh
. "${DREGS_SOURCE:-.}/tests/tally-line.sh"

# A year of the line brings 8030 L into the air and dumps 36500 L, 31 x 100 L of it in January.
line isopropanol >spirit.csv
line tetrachloroethylene >per.csv
line butanone >ketone.csv
{
    line butanone
    cat <<END
vat,reclaim,80,%
di,kind,liquid
di,solvent,water
wet,kind,rinse
wet,volume,100,L
wet,liquid,di
wet,film,1,mm
wet,flow,20,L/h
END
} >behind.csv

# law ARGUMENT...: without draws, which change no question
law()
{
    good --law --draws 0 "$@"
}

# asked: the questions, one a line
asked()
{
    sed -n '/^  cannot be judged yet: information needed/,/^  This list/p' out | sed '1d;$d' |
        awk '/^    [^ ]/ { if (q) print q; q = $0; next } { q = q " " $0 } END { if (q) print q }' |
        tr -s ' '
}

# ---- once, what changes most first ----
grep -v '^vat,evaporation' behind.csv >open.csv
law open.csv
asked >questions
awk '{ print $1, $2, $3, $4, $5, $6 }' questions >got
cat >expected <<END
what evaporates of butanone in vat:
what evaporates of butanone that the
share of the vapour that is
where the drain leads: to the
hazard statements of the solvents of
how much of the reclaimed solvent
hazardous waste from elsewhere on the
flash point of the waste drained
the waste drained from wet holds
END
diff expected got >difference || {
    cat difference
    fail 'what is asked, and its order'
}
# each with a key has its answers
[ "$(grep -c 'Answer: --given' questions)" = 7 ] || fail 'answers'
grep 'drain=sewer or drain=waste' questions >/dev/null || fail 'answers of drain'
grep 'wet.listed=F001 to F005, or wet.listed=none' questions >/dev/null || fail 'answers of a code'

# the drain holds more butanone than makes a waste toxic: codes are all that is left of it
[ "$(grep -c 'hazardous in any case: that would be one more code' questions)" = 2 ] || fail 'codes'

# json ARGUMENT...: what the program on standard input makes of the page
json()
{
    command -v python3 >/dev/null 2>&1 || return 0
    law --format json "$@"
    {
        cat <<END
import json
tables = {t['key']: [dict(zip([c['key'] for c in t['columns']], r)) for r in t['rows']]
          for t in json.load(open('out'))['tables']}
asked = tables['law_information_needed']
END
        cat
    } >program.py
    python3 program.py || fail "JSON: $*"
}
json open.csv <<END
assert [q['key'] for q in asked] == [None, None, 'captured', 'drain', 'activity', 'reclaimed',
                                     'other waste', 'wet.flash point', 'wet.listed']
assert all((q['key'] is None) == (q['answers'] is None) for q in asked)
END

# ---- one category when all of it is answered ----
# one ARGUMENT...: no month has two categories, and nothing of wastes is asked
one()
{
    json --given 'other waste=0 kg' "$@" behind.csv <<END
months = tables['law_generator_months']
assert len(months) == 12 and all(m['least'] == m['most'] and m['not_decided'] == 0 for m in months)
assert not [q for q in asked if q['key'] not in (None, 'captured', 'activity')], asked
END
}
for drain in sewer waste; do
    for listed in none F005; do
        for flash in none 20degC; do
            one --given drain=$drain --given wet.listed=$listed --given "wet.flash point=$flash" \
                --given characteristics=none --given 'reclaimed=60 kg'
        done
    done
done
one --given drain=waste --given wet.characteristics=D002 --given wet.listed=none \
    --given 'wet.flash point=none' --given 'reclaimed=0 kg'
# in January: 20 % of 3100 L dumped, and what is given of the rest, once
rho=$("$build/dregs-liquid" --format csv butanone --at 20degC | awk -F, '$2 == "density" { print $3 }')
law --given drain=sewer --given 'reclaimed=60 kg' --format csv behind.csv
awk -F, -v r="$rho" '$1 == "hazardous waste" && $4 == "January" { d = $5 - 0.62 * r - 60
    seen = d < 1e-9 && d > -1e-9 } END { exit !seen }' out || fail 'what counts of the reclaimed'

# ---- what does not burn ----
law --given 'vat.flash point=none' ketone.csv
prints 'does not burn (stated); '
prints 'hazardous: F005'
if grep D001 out >/dev/null; then
    fail 'D001 of what does not burn'
fi

# ---- a code of a waste ----
law --given vat.listed=none --given vat.characteristics=D002 --given 'vat.flash point=none' spirit.csv
prints 'hazardous: D002'

# ---- contradictions, and what changes nothing ----
# none WORDS FACT LINE
none()
{
    misuse "--given $1" --law --draws 0 --given "$2" "$3"
}
misuse '--given captured: given twice' --law --given captured=10% --given captured=20% spirit.csv
misuse '--given vat.flash point: given twice' --law --given 'vat.flash point=1degC' \
    --given 'vat.flash point=none' spirit.csv
none 'chamber: goes with machine=no interface alone' 'chamber=1 m3' per.csv
misuse '--given chamber: goes with' --law --given 'chamber=1 m3' --given 'machine=batch cold' per.csv
none 'destroyed: is a share of what is captured' destroyed=90% spirit.csv
misuse '--given destroyed: is a share of' --law --given captured=0% --given destroyed=90% spirit.csv
misuse '--given characteristics: none is said of all' --law --given characteristics=none \
    --given vat.characteristics=D002 spirit.csv
none 'activity: all solvents of the line are on record as of article 59(5)' activity=other per.csv
none 'activity: all solvents of the line are on record as of article 59(5): it changes nothing' \
    'activity=article 59(5)' per.csv
none 'machine: none of the solvents of 40 CFR part 63 subpart T is in the line' \
    'machine=batch vapour' spirit.csv
none 'solid waste: none of the solvents of' 'solid waste=1 kg' spirit.csv
none 'drain: nothing of the line goes to drain' drain=sewer spirit.csv
none 'reclaimed: the line reclaims nothing' 'reclaimed=1 kg' spirit.csv
# 31 dumps of 100 L in a month of 31 days, of which a still gives back 80 %
{ cat spirit.csv && echo 'vat,reclaim,80,%'; } >still.csv
most=$("$build/dregs-liquid" --format csv isopropanol --at 20degC |
    awk -F, '$2 == "density" { print 2.48 * $3 }')
law --given "reclaimed=$(awk "BEGIN { print $most - 1 }") kg" still.csv
none 'reclaimed: the line reclaims less than that in any month' \
    "reclaimed=$(awk "BEGIN { print $most + 1 }") kg" still.csv
line water >water.csv
none 'captured: no solvent of the line is in a solvent plan' captured=10% water.csv
none 'activity: no solvent of the line is in a solvent plan' activity=other water.csv
grep -v '^vat,dump' spirit.csv >kept.csv
none 'other waste: no liquid waste leaves the line' 'other waste=1 kg' kept.csv
none 'characteristics: no liquid waste leaves the line' characteristics=none kept.csv
none "'vat.flash point': no liquid waste leaves that stage" 'vat.flash point=none' kept.csv
none "'tub.listed': the line has no such stage" tub.listed=none spirit.csv
none "flash point: '900degC' is not from -120 degC to 700 degC" 'vat.flash point=900degC' spirit.csv
none "captured: '120%' is not from 0 % to 100 %" captured=120% spirit.csv
printf 'date,liquid,quantity,unit,kind\n2025-01-02,own,900,L,bought\n' >bought.csv
misuse "--given only 'drain' counts beside purchases" --given captured=10% --actual bought.csv \
    spirit.csv
good --draws 0 --given drain=waste --actual bought.csv spirit.csv

exit "$failed"
