#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs-tally --by energy: what heats baths and dry stages, what their heaters take for it, its CO2; what
# is asked for. A line whose year is arithmetic by hand.
set -eu
name=dregs-tally few_draws=20
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
command -v python3 >/dev/null 2>&1 || {
    echo 'skipped: no python3'
    exit 77
}

# Ten loads a day of 24 h, no idle time: a year of 8760 h and 3650 loads. Parts of 1 kg and
# 0.5 J/(g.K) go through a bath of 60 degC and an oven of 80 degC in a room of 20 degC, with a film of
# 1 L. 10 L/h are fed, 0.5 L/h evaporate, the walls lose 5 W/K.
cat >hot.csv <<END
item,property,value,unit,spread,note
rack,kind,load
rack,parts,1,1
rack,area,1,m2
rack,interval,2.4,h
rack,mass,1,kg
rack,heat capacity,0.5,J/(g.K)
soap,kind,solute
days,kind,schedule
days,loads per shift,10
days,shifts per day,1
days,days per year,365
tap,kind,liquid
tap,solvent,water
hall,kind,room
hall,temperature,20,degC
vat,kind,wash
vat,volume,100,L
vat,liquid,tap
vat,film,1,mm
vat,flow,10,L/h
vat,temperature,60,degC
vat,evaporation,0.5,L/h
vat,wall loss,5,W/K
vat,heating efficiency,80,%
vat,CO2 factor,0.2,kg/kWh
oven,kind,dry
oven,temperature,80,degC
oven,fresh air,10,m3/h
oven,heating efficiency,50,%
oven,CO2 factor,0.4,kg/kWh
END

# cell ROW COLUMN: of the table of energy in the JSON in out
cell()
{
    python3 - "$@" <<'END'
import json, sys
row, column = sys.argv[1:]
table, = [t for t in json.load(open('out'))['tables'] if t['key'] == 'energy']
value = table['rows'][int(row)][[c['key'] for c in table['columns']].index(column)]
print(value['value'] if isinstance(value, dict) else value)
END
}

# near WHAT GOT EXPRESSION
near()
{
    awk -v g="$2" "BEGIN { e = $3; d = g - e; if (d < 0) d = -d; exit !(g != \"None\" && d <= 1e-6 * e) }" ||
        fail "$1: $2, expected $3"
}

# of WHAT CELSIUS: a property of water
of()
{
    "$build/dregs-liquid" --format csv water --at "$2degC" | awk -F, -v p="$1" '$2 == p { print $3 }'
}

rho=$(of density 20)
cp=$(of 'heat capacity' 20)
hot=$(of "heat of vaporisation" 60)e3 # kJ to J
cool=$(of "heat of vaporisation" 20)e3
good --by energy --draws 0 --format json hot.csv
# 100 L of the first fill and 87600 L are warmed by 40 K
near 'the liquid' "$(cell 1 liquid)" "87.7 * $rho * $cp * 40 / 3.6e6"
near 'vapour' "$(cell 1 evaporation)" "4.38 * $rho * $hot / 3.6e6"
near 'walls' "$(cell 1 walls)" "5 * 40 * 8.76"
near 'parts' "$(cell 1 parts)" "3650 * 1 * 500 * 40 / 3.6e6"
sum="(87.7 * $rho * $cp * 40 / 3.6e6 + 4.38 * $rho * $hot / 3.6e6 + 1752 + 73 / 3.6)"
near 'what the heater takes' "$(cell 1 taken)" "$sum / 0.8"
near 'its CO2' "$(cell 1 co2)" "$sum / 0.8 * 0.2"
# the oven: 3650 L of film dry; they and the parts come 20 K too cold; air of an ideal gas,
# 28.96 g/mol, 1006 J/(kg K), is warmed by 60 K
near 'what dries' "$(cell 2 evaporation)" "3.65 * $rho * $cool / 3.6e6"
near 'parts and film' "$(cell 2 parts)" "(3650 * 500 * 20 + 3.65 * $rho * $cp * 20) / 3.6e6"
near 'air' "$(cell 2 air)" "87600 * 101325 * 0.02896 / (8.314462618 * 293.15) * 1006 * 60 / 3.6e6"
near 'both' "$(cell 0 taken)" "$(cell 1 taken) + $(cell 2 taken)"
[ "$(cell 0 at_least)" = False ] || fail 'all is stated, and yet it is the least'
good --by energy hot.csv
prints 'heating takes'
prints 'kg of CO2, by the factors that are stated'
! grep 'asked for' out >/dev/null || fail 'something is asked for'

# ---- nights with the heating off: the bath is warmed anew each day, the walls lose within shifts ----
sed 's/^days,loads per shift,10/days,loads per shift,5/' hot.csv >night.csv
echo 'days,idle heating,off,' >>night.csv
good --by energy --draws 0 --format json night.csv
near 'walls within shifts' "$(cell 1 walls)" "5 * 40 * 4.38"
# 5 loads of 2.4 h, 10 L/h of flow: 43800 L, the first fill, and 365 times 100 L of a cold bath; what
# evaporates in the nights is topped up
near 'a cold bath each day' "$(cell 1 liquid)" \
    "(43.9 + 36.5 + 0.5 * 12 * 365 / 1000) * $rho * $cp * 40 / 3.6e6"

# ---- a bath that is turned down to 40 degC outside the shifts, half of the year ----
{ grep -v '^vat,evaporation' night.csv && printf 'vat,open area,0.2,m2\nvat,idle temperature,40,degC\n'; } >down.csv
good --by energy --draws 0 --format json down.csv
near 'walls of a bath turned down' "$(cell 1 walls)" "5 * (40 + 20) * 4.38"
python3 - "$rho" "$hot" "$(of 'heat of vaporisation' 40)e3" "$(cell 1 evaporation)" <<'END' || fail 'vapour of two temperatures'
import json, sys
rho, hot, warm, got = map(float, sys.argv[1:])
figures = json.load(open('out'))['figures']
idle, all = (figures[key]['value'] / 1e3 for key in ('evaporated_idle', 'evaporated'))
assert 0 < idle < all
expected = rho * ((all - idle) * hot + idle * warm) / 3.6e6
assert abs(got - expected) < 1e-6 * expected
END
# the same with the heating off: nothing of what evaporates in idle time is the heater's
grep -v 'idle temperature' down.csv >off.csv
good --by energy --draws 0 --format json off.csv
python3 - "$rho" "$hot" "$(cell 1 evaporation)" <<'END' || fail 'vapour of a cold bath'
import json, sys
rho, hot, got = map(float, sys.argv[1:])
figures = json.load(open('out'))['figures']
expected = rho * (figures['evaporated']['value'] - figures['evaporated_idle']['value']) / 1e3 * hot / 3.6e6
assert abs(got - expected) < 1e-6 * expected
END
# with its evaporation stated, 0.5 L/h through 8760 h: half of it at 60 degC, half at 40 degC; the walls as
# above; each working day 100 L are warmed by 20 K, beside what comes in
{ cat night.csv && printf 'vat,idle temperature,40,degC\n'; } >stated.csv
good --by energy --draws 0 --format json stated.csv
near 'stated vapour of two temperatures' "$(cell 1 evaporation)" \
    "2.19 * $rho * ($hot + $(of 'heat of vaporisation' 40)e3) / 3.6e6"
near 'the walls of that bath' "$(cell 1 walls)" "5 * (40 + 20) * 4.38"
near 'its liquid' "$(cell 1 liquid)" \
    "((43.8 + 0.1 + 0.5 * 12 * 365 / 1000) * 40 + 36.5 * 20) * $rho * $cp / 3.6e6"
good stated.csv
prints 'its stated evaporation goes on in idle time as in the shifts, at its idle temperature too'
# no pause, nothing to be warmed anew
{ cat hot.csv && echo 'days,idle heating,off,'; } >never.csv
good --by energy --draws 0 --format json never.csv
near 'no pause' "$(cell 1 liquid)" "87.7 * $rho * $cp * 40 / 3.6e6"

# ---- ultrasound of 100 W through 8760 h: 876 kWh of electricity, which the heater need not give ----
{ cat hot.csv && echo 'vat,ultrasonic power,100,W'; } >sound.csv
good --by energy --draws 0 --format json sound.csv
near 'ultrasound' "$(cell 1 ultrasound)" 876
near 'the heater with it' "$(cell 1 taken)" "($sum - 876) / 0.8"
near 'its CO2' "$(cell 1 co2)" "($sum - 876) / 0.8 * 0.2"
near 'the sum' "$(cell 0 ultrasound)" 876
[ "$(cell 1 ultrasound_co2)" = None ] || fail 'a CO2 of electricity out of nothing'
[ "$(cell 0 ultrasound_co2)" = None ] || fail 'a sum of CO2 that is not known'
good --by energy sound.csv
prints 'ultrasound takes 876 kWh of electricity; its CO2 is not known'
prints "the CO2 of the electricity of the ultrasound of vat: a row 'ultrasonic CO2 factor'"
# 0.25 kg/kWh of 876 kWh are 219 kg, beside the CO2 of the heaters and not in it
{ cat sound.csv && echo 'vat,ultrasonic CO2 factor,0.25,kg/kWh'; } >known.csv
good --by energy --draws 0 --format json known.csv
near 'the CO2 of the ultrasound' "$(cell 1 ultrasound_co2)" 219
near 'the sum of it' "$(cell 0 ultrasound_co2)" 219
near 'that of the heater as before' "$(cell 1 co2)" "($sum - 876) / 0.8 * 0.2"
good --by energy known.csv
prints '876 kWh of electricity and gives off 219 kg of CO2, by the factors'
! grep 'asked for, for the energy' out >/dev/null || fail 'the stated factor is asked for'
sed 's/^vat,ultrasonic power,100,W/&,10%/' known.csv >loud.csv
good --by energy --draws 200 --format json loud.csv
python3 - <<'END' || fail 'CO2 of the ultrasound is drawn as its power is: a factor of 0.25 kg/kWh in each'
import json # the ends are found in bins, a set of them for each figure
table, = [t for t in json.load(open('out'))['tables'] if t['key'] == 'energy']
row = dict(zip([c['key'] for c in table['columns']], table['rows'][0]))
for end in 'value', 'low', 'high':
    assert abs(row['ultrasound_co2'][end] - 0.25 * row['ultrasound'][end]) < 0.01 * 219
assert row['ultrasound']['low'] < 876 < row['ultrasound']['high']
END
grep -v 'ultrasonic power' known.csv >deaf.csv
expect 3 --by energy deaf.csv
grep -F "ultrasonic CO2 factor of 'vat' goes with 'ultrasonic power'" err >/dev/null || fail 'a factor of nothing'
good --by energy sound.csv
prints 'vat: its ultrasound is on through all shifts'
# within the shifts alone, also of a bath that nothing heats
{ sed -e 's/^vat,temperature,60/vat,temperature,20/' -e 's/^oven,temperature,80/oven,temperature,20/' night.csv &&
    echo 'vat,ultrasonic power,100,W'; } >cold-sound.csv
good --by energy --draws 0 --format json cold-sound.csv
near 'half of the hours' "$(cell 1 ultrasound)" 438
[ "$(cell 1 taken)" = 0.0 ] || [ "$(cell 1 taken)" = 0 ] || fail 'a heater that is not there'

# ---- what is not stated is asked for, and the sum is the least ----
grep -v -e 'CO2 factor' -e 'fresh air' -e '^rack,mass' -e '^vat,evaporation' hot.csv >silent.csv
good --by energy silent.csv
prints 'heating takes at least'
prints 'its CO2 is not known'
for words in 'the fresh air of oven' "the CO2 of the energy that heats vat: a row 'CO2 factor'" \
    "what evaporates in vat: its 'open area'" 'mass and heat capacity of the parts of rack'; do
    prints "$words"
done
[ "$(grep -c 'mass and heat capacity' out)" -eq 1 ] || fail 'asked for twice'
good --by energy --format json silent.csv
[ "$(cell 0 co2)" = None ] || fail 'a CO2 out of nothing'
# a spread of the flow is one of the energy
sed 's/^vat,flow,10,L\/h/&,10%/' hot.csv >loose.csv
good --by energy --draws 200 loose.csv
tr -s ' \n' '  ' <out | grep -E 'heating takes [0-9.e+]+ kWh \([0-9.e+]+ to [0-9.e+]+\)' >/dev/null ||
    fail 'no range of the energy'
# nothing warm
sed -e 's/^vat,temperature,60/vat,temperature,20/' -e 's/^oven,temperature,80/oven,temperature,20/' \
    hot.csv >cold.csv
good --by energy cold.csv
prints 'nothing is heated'
sed 's/^vat,heating efficiency,80/vat,heating efficiency,0/' hot.csv >bad.csv
expect 3 bad.csv
grep -F 'bad.csv:25: a heating efficiency of 0' err >/dev/null || fail 'an efficiency of nothing is taken'
exit "$failed"
