#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""Three whole years worked out step by step, for tests/by-hand.sh: an aqueous line, a shop that
cleans with perchloroethylene and distils, and a site of both.

Nothing here is taken from the library: the steps follow dregs-model(7), "ONE LOAD THROUGH THE
STAGES", "BETWEEN LOADS" and "DUMPS AND REFILLS", in decimals of 50 digits. The lines are those of
aqueous.csv and shop.csv beside this file, invented, and so is the calendar season.csv. It prints
years.md; the numbers that the tool is held against stand in the last table of each year.
"""
import csv
import datetime
import os
from decimal import Decimal as D, getcontext

getcontext().prec = 50
MONTHS = ('January February March April May June July August September October November '
          'December').split()


def number(value, digits=13):
    text = f'{value:.{digits}g}' if value else '0'
    text = format(D(text), 'f') if 'e' in text.lower() else text
    return text.rstrip('0').rstrip('.') if '.' in text else text


def dated_days(year, loads):
    """The days of a year from Monday to Friday, by season.csv: its last row that speaks of a day
    counts; without weekdays a row speaks of Monday to Friday."""
    names = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun']
    here = os.path.join(os.path.dirname(os.path.abspath(__file__)), 'season.csv')
    with open(here, newline='') as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith('#')))
    day, days = datetime.date(year, 1, 1), []
    while day.year == year:
        shifts, each = (1, loads) if day.weekday() < 5 else (0, 0)
        for row in rows:
            first = datetime.date.fromisoformat(row['from'])
            last = datetime.date.fromisoformat(row['to'] or row['from'])
            speaks = names[day.weekday()] == row['weekdays'] if row['weekdays'] else day.weekday() < 5
            if first <= day <= last and speaks:
                shifts, each = int(row['shifts']), int(row['loads'] or loads)
        days.append((day.month - 1, shifts, each if shifts else 0, D(24)))
        day += datetime.timedelta(days=1)
    return days


def months_of(days):
    """How many days are worked, and how many loads that are, by month."""
    return '; '.join(
        f'{name} {sum(1 for d in days if d[0] == m and d[1])} days, '
        f'{sum(d[1] * d[2] for d in days if d[0] == m)} loads' for m, name in enumerate(MONTHS))


class Account:
    """What happened, by (stream, what, month); the whole year under 'year'."""

    def __init__(self):
        self.sum = {}

    def add(self, stream, what, month, amount):
        for period in (MONTHS[month], 'year'):
            key = (stream, what, period)
            self.sum[key] = self.sum.get(key, D(0)) + amount

    def get(self, stream, what, period='year'):
        return self.sum.get((stream, what, period), D(0))

    def print(self, unit_of, streams):
        """A row for each stream: the months, then the year."""
        print('| stream | of | unit | ' + ' | '.join(MONTHS + ['year']) + ' |')
        print('|---' * 16 + '|')
        for stream, what in streams:
            values = [number(self.get(stream, what, period)) for period in MONTHS + ['year']]
            print(f'| {stream} | {what} | {unit_of(what)} | ' + ' | '.join(values) + ' |')
        print()


def aqueous(days):
    """Returns the account; prints the steps."""
    interval, shift = D('0.2'), D(8)                                # h
    bath, film, arrives, removal, evaporation = D(200), D('0.1'), D(20), D('0.95'), D('1.5')
    rinse, last, flow = D(100), D('0.05'), D(60)                    # L; L a load; L/h
    out_running = flow + (film - last) / interval                   # L/h over the rinse's weir
    keep_running = (-out_running * interval / rinse).exp()
    hours, shifts = sum(d[3] for d in days), sum(d[1] for d in days)
    loads = sum(d[1] * d[2] for d in days)
    a = Account()
    print(f'''The days worked (season.csv; Monday to Friday else), counted in the calendar:
{months_of(days)}.

Steps that every day repeats:

1. The year has {number(hours)} h and {loads} loads in {shifts} shifts. A load comes every {interval} h; a shift lasts
   {shift} h, and in the rest of it, {shift} h less {interval} h a load, the flows stay on. All other hours are
   idle, without flow.
2. The bath ({bath} L of cleaner) loses {film} L with every load and {evaporation} L/h into the air,
   day and night; both are topped up with cleaner.
3. A load brings {arrives} g of oil; {removal} of it come off: {number(arrives * removal)} g. The load
   carries film/volume = {film}/{bath} of the bath's oil into the rinse.
4. The rinse ({rinse} L) takes the film of {film} L in, mixes it (volume {rinse} + {film} L), and
   {last} L leave with the load. Then {flow} + ({film} - {last})/{interval} = {number(out_running)} L/h
   run over its weir for {interval} h: of what was in it exp(-{number(out_running)} x {interval}/{rinse})
   = {number(keep_running)} stay. Water comes in at {flow} L/h all that time. The tank counts as full
   at every moment: of each liquid the mixture's share of the {number(film - last)} L that the film brings
   more than the load takes flows in evenly until the next load.
5. In the rest of a shift {flow} L/h run through: behind 30 loads, for 2 h, exp(-{flow} x 2/{rinse}) =
   {number((-flow * 2 / rinse).exp())} stay; behind 12 loads, for {number(shift - 12 * interval)} h, {number((-flow * (shift - 12 * interval) / rinse).exp())}.
6. The bath is dumped behind loads 250, 500, ...; the rinse behind loads 50, 100, ...; both are
   filled anew at once, and count in the month of that load.
7. The last film of {last} L dries in the oven: its liquids go into the air, its oil stays on the
   parts.
''')
    held = {'cleaner': D(0), 'water': rinse, 'oil': D(0)}           # of the rinse
    oil = D(0)                                                      # of the bath
    a.add('first fill', 'cleaner', 0, bath)
    a.add('first fill', 'water', 0, rinse)

    def flow_through(month, out, hours, keep, waits):
        """held' = settled + (held - settled) keep; what came in and is not there ran over."""
        for what in held:
            comes = (flow if what == 'water' else D(0)) + waits.get(what, D(0)) / hours
            settled = comes * rinse / out
            after = settled + (held[what] - settled) * keep
            a.add('overflow to drain', what, month, held[what] + comes * hours - after)
            held[what] = after
        a.add('fed', 'water', month, flow * hours)

    count, shown = 0, []
    for month, shifts_of_day, loads_of_shift, hours_of_day in days:
        for _ in range(shifts_of_day):
            for _ in range(loads_of_shift):
                count += 1
                a.add('taken off the parts', 'oil', month, arrives * removal)
                oil += arrives * removal
                brings = {'cleaner': film, 'water': D(0), 'oil': oil * film / bath}
                oil -= brings['oil']
                a.add('top-up', 'cleaner', month, film)
                waits = {}
                for what in held:
                    mixed = (held[what] + brings[what]) / (rinse + film)
                    held[what] += brings[what] - mixed * last
                    if what != 'oil':  # the tank stays full: the liquid above that waits beside it
                        waits[what] = mixed * (film - last)
                        held[what] -= waits[what]
                    a.add('left in the last film' if what == 'oil' else 'dried off the parts', what,
                          month, mixed * last)
                    if count <= 3 and what == 'oil':
                        shown.append((count, oil, brings['oil'], mixed, mixed * last))
                flow_through(month, out_running, interval, keep_running, waits)
                if count % 250 == 0:
                    a.add('dumped', 'cleaner', month, bath)
                    a.add('dumped', 'oil', month, oil)
                    a.add('refill', 'cleaner', month, bath)
                    oil = D(0)
                if count % 50 == 0:
                    for what in held:
                        a.add('dumped', what, month, held[what])
                        held[what] = rinse if what == 'water' else D(0)
                    a.add('refill', 'water', month, rinse)
            rest = shift - loads_of_shift * interval
            flow_through(month, flow, rest, (-flow * rest / rinse).exp(), {})
        a.add('top-up', 'cleaner', month, evaporation * hours_of_day)
        a.add('evaporated', 'cleaner', month, evaporation * hours_of_day)
    print('The first loads, oil in g and g/L:\n')
    print('| load | left in the bath | carried into the rinse | mixed there | left on the load |')
    print('|---|---|---|---|---|')
    for row in shown:
        print('| ' + ' | '.join([str(row[0])] + [number(value, 10) for value in row[1:]]) + ' |')
    print(f'''
Sums that need no march: top-up {loads} x {film} + {number(hours)} x {evaporation} =
{number(loads * film + hours * evaporation)} L; dumps of the bath {loads // 250} x {bath} L, of the rinse {loads // 50} x {rinse} L; water
fed {flow} x {shifts} x {shift} = {number(flow * shifts * shift)} L.

Cost: cleaner at 0.5 EUR/L and to dispose of what the bath dumps at 0.8 EUR/L, water at 0.01 EUR/L.
''')
    for period in MONTHS + ['year']:
        bought = {what: a.get('first fill', what, period) + a.get('fed', what, period) +
                  a.get('top-up', what, period) + a.get('refill', what, period)
                  for what in ('cleaner', 'water')}
        a.sum['cost of liquid bought', 'all', period] = \
            bought['cleaner'] * D('0.5') + bought['water'] * D('0.01')
        a.sum['cost of waste', 'all', period] = a.get('refill', 'cleaner', period) * D('0.8')
    return a


AQUEOUS = [('first fill', 'cleaner'), ('first fill', 'water'), ('fed', 'water'),
           ('top-up', 'cleaner'), ('refill', 'cleaner'), ('refill', 'water'),
           ('evaporated', 'cleaner'), ('dried off the parts', 'cleaner'),
           ('dried off the parts', 'water'), ('overflow to drain', 'cleaner'),
           ('overflow to drain', 'water'), ('overflow to drain', 'oil'), ('dumped', 'cleaner'),
           ('dumped', 'water'), ('dumped', 'oil'), ('taken off the parts', 'oil'),
           ('left in the last film', 'oil'), ('cost of liquid bought', 'all'),
           ('cost of waste', 'all')]


def shop(days):
    tank, film, evaporation, reclaim = D(150), D('0.4'), D('0.3'), D('0.9')
    arrives = D(50)                                                 # g of grease a load
    hours, loads = sum(d[3] for d in days), sum(d[1] * d[2] for d in days)
    a = Account()
    print(f'''1. {loads} loads in a year of {number(hours)} h, {months_of(days)}.
2. The tank ({tank} L) loses {film} L with every load, which dry off the parts in the air, and
   {evaporation} L/h day and night; both are topped up.
3. A load brings {arrives} g of grease, which all comes off. The load carries {film}/{tank} of what then is
   dissolved out again, and it stays on the parts.
4. Behind loads 100, 200, ... the tank is dumped. The still gives {reclaim} of the dump back as fresh
   solvent, which need not be bought; the rest leaves as still bottoms.
''')
    a.add('first fill', 'per', 0, tank)
    grease, count = D(0), 0
    for month, shifts_of_day, loads_of_shift, hours_of_day in days:
        for _ in range(shifts_of_day * loads_of_shift):
            count += 1
            a.add('taken off the parts', 'grease', month, arrives)
            grease += arrives
            a.add('left in the last film', 'grease', month, grease * film / tank)
            grease -= grease * film / tank
            a.add('top-up', 'per', month, film)
            a.add('dried off the parts', 'per', month, film)
            if count % 100 == 0:
                a.add('dumped', 'per', month, tank)
                a.add('dumped', 'grease', month, grease)
                a.add('refill', 'per', month, tank)
                a.add('reclaimed', 'per', month, tank * reclaim)
                grease = D(0)
        a.add('top-up', 'per', month, evaporation * hours_of_day)
        a.add('evaporated', 'per', month, evaporation * hours_of_day)
    dumps = loads // 100
    print(f'''Sums: dried {loads} x {film} = {number(a.get('dried off the parts', 'per'))} L; evaporated {number(hours)} x
{evaporation} = {number(a.get('evaporated', 'per'))} L; dumped {dumps} x {tank} = {number(a.get('dumped', 'per'))} L, of it
reclaimed {number(a.get('reclaimed', 'per'))} L.

Grease in the tank behind a load: (before + {arrives}) x (1 - {film}/{tank}); after 100 loads
{arrives} q (1 - q^100)/(1 - q) with q = 1 - {film}/{tank}, which is {number(a.get('dumped', 'grease') / dumps)} g a dump.

Solvent plan (Directive 2010/75/EU, annex VII part 7), in L of solvent, by its density in kg:

- I1, bought and used = first fill + top-up + refills - what is in the tank at the end - reclaimed
  = {tank} + {number(a.get('top-up', 'per'))} + {number(a.get('refill', 'per'))} - {tank} - {number(a.get('reclaimed', 'per'))}
- I2, recovered and used again = {number(a.get('reclaimed', 'per'))}
- O4, uncaptured = evaporated + dried; O6 = dumped - reclaimed
- fugitive = I1 - O6; share = fugitive / (I1 + I2)
''')
    i2 = a.get('reclaimed', 'per')
    i1 = a.get('top-up', 'per') + a.get('refill', 'per') - i2
    o4 = a.get('evaporated', 'per') + a.get('dried off the parts', 'per')
    o6 = a.get('dumped', 'per') - i2
    assert i1 == o4 + o6, 'the plan does not close'
    plan = {'solvent plan I1': i1, 'solvent plan I2': i2, 'solvent plan O4': o4,
            'solvent plan O6': o6, 'solvent plan consumption': i1, 'solvent plan fugitive': i1 - o6}
    for period in MONTHS + ['year']:
        bought = a.get('first fill', 'per', period) + a.get('top-up', 'per', period) + \
            a.get('refill', 'per', period) - a.get('reclaimed', 'per', period)
        a.sum['cost of liquid bought', 'all', period] = bought * D('2.5')
        a.sum['cost of waste', 'all', period] = \
            (a.get('dumped', 'per', period) - a.get('reclaimed', 'per', period)) * D('1.2')
    return a, plan, (i1 - o6) / (i1 + i2)


SHOP = [('first fill', 'per'), ('top-up', 'per'), ('refill', 'per'), ('reclaimed', 'per'),
        ('evaporated', 'per'), ('dried off the parts', 'per'), ('dumped', 'per'),
        ('dumped', 'grease'), ('taken off the parts', 'grease'),
        ('left in the last film', 'grease'), ('cost of liquid bought', 'all'),
        ('cost of waste', 'all')]


def unit_of(what):
    return {'oil': 'g', 'grease': 'g', 'all': 'EUR'}.get(what, 'L')


def print_plan(plan, share):
    print('| solvent plan | unit | year |\n|---|---|---|')
    for name, litres in plan.items():
        print(f'| {name} | L of solvent | {number(litres)} |')
    print(f'| solvent plan fugitive share | 1 | {number(share)} |\n')


def main():
    print('''# Three whole years by hand

Written by years.py beside this file, which works the steps out in decimals of 50 digits and knows
nothing of the library; tests/by-hand.sh holds it against that script, and the tool against its
tables, to 1e-9. The lines and the calendar are invented.

## 1. An aqueous line with a seasonal schedule, 2028 (aqueous.csv, season.csv)
''')
    first = aqueous(dated_days(2028, 30))
    first.print(unit_of, AQUEOUS)
    print('''## 2. A shop with perchloroethylene and a still, 2027 (shop.csv)

Monday to Friday of a year without a calendar of closed days.
''')
    second, plan, share = shop(dated_days(2027, 20))
    second.print(unit_of, SHOP)
    print_plan(plan, share)
    print('''## 3. A site of both, 2028 (aqueous.csv, shop.csv, season.csv)

The calendar is that of the site, so that the shop works its days. Its year by them:
''')
    other, plan, share = shop(dated_days(2028, 20))
    print('''Liquids of one line are not in the other, so that each stream stands as it is; what the lines share
is money and the plan: costs add up, and water and cleaner are no solvents of the plan.
''')
    both = Account()
    for of in (first, other):
        for key, amount in of.sum.items():
            both.sum[key] = both.sum.get(key, D(0)) + amount
    both.print(unit_of, [key for key in AQUEOUS + SHOP if key[1] != 'all'] +
               [('cost of liquid bought', 'all'), ('cost of waste', 'all')])
    print_plan(plan, share)


if __name__ == '__main__':
    main()
