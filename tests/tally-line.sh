# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# tally-line.sh: the line whose year is arithmetic by hand, of the tests of dregs-tally. Sourced, not run.
# shellcheck shell=sh

# line SOLVENT [SPREAD]: a load of 1 m2 with a film of 1 mm takes 1 L along, ten loads a day of 24 h, no
# idle time, 0.5 L/h evaporate (with this spread), 100 L are dumped every day. So a day brings 22 L into
# the air and 100 L of waste, a year of 365 days 8030 L and 36500 L.
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
vat,kind,rinse
vat,volume,100,L
vat,liquid,own
vat,film,1,mm
vat,evaporation,0.5,L/h${2:+,$2}
vat,dump every,10,1
days,kind,schedule
days,loads per shift,10
days,shifts per day,1
days,days per year,365
END
}
