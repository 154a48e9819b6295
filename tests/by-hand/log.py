#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""The log of a shop over 26 months worked out step by step, for tests/by-hand-log.sh: what its
machine emitted each month and over each twelve months in a row, 40 CFR 63.471.

Nothing here is taken from the library. The records are log.csv beside this file, invented; all are
masses of perchloroethylene, so that no density is needed. It prints log.md.
"""
import csv
import datetime
import os
from decimal import Decimal as D, getcontext

getcontext().prec = 50
LIMIT = 4800  # kg of perchloroethylene alone, 40 CFR 63.471, table 1
UNIT = {'kg': D(1), 'lb': D('0.45359237')}  # NIST SP 811, B.8
FIRST, MONTHS = (2024, 1), 26


def number(value):
    text = f'{value:.15g}'
    return text.rstrip('0').rstrip('.') if '.' in text else text


def month(i):
    return FIRST[0] + (FIRST[1] - 1 + i) // 12, (FIRST[1] - 1 + i) % 12 + 1


def name(i):
    return '%04d-%02d' % month(i)


here = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(here, 'log.csv'), newline='') as file:
    rows = list(csv.DictReader(line for line in file if not line.startswith('#')))

came, left, assayed, stock = {}, {}, {}, {}
variance, stock_variance = {}, {}
for row in rows:
    day = datetime.date.fromisoformat(row['date'])
    kg = D(row['quantity']) * UNIT[row['unit']]
    sd = D(row['spread']) * UNIT[row['unit']] if row['spread'] else D(0)
    i = (day.year - FIRST[0]) * 12 + day.month - FIRST[1]
    if row['kind'] == 'stock':
        # the turn that it is at: before month `turn`; a count of the first days is of the turn before
        turn = i if day.day < 8 else i + 1
        assert turn not in stock
        stock[turn], stock_variance[turn] = kg, sd * sd
        continue
    key = row['kind']
    if key == 'disposed':
        share = D(row['assay'].rstrip('%')) / 100
        kg, sd = kg * share, sd * share
    came[i, key] = came.get((i, key), D(0)) + kg
    if key != 'recovered':  # in and out by the same row
        variance[i] = variance.get(i, D(0)) + sd * sd


def of(i, key):
    return came.get((i, key), D(0))


print('''# A log of 26 months by hand

Written by log.py beside this file, which works the steps out in decimals of 50 digits and knows
nothing of the library; tests/by-hand-log.sh holds it against that script, and the tool against its
tables, to 1e-9. The records are log.csv, invented; the line is shop.csv.

Steps of each month, kg of perchloroethylene; the equation and its source stand in dregs-model(7):

1. added SA = bought + recovered + stock at the begin - stock at the end. 100 lb are 45.359237 kg.
   The stock is that of the last day of the month before, or of the first ones of the next: the
   counts of 2024-10-02 and 2025-09-01 are those at the ends of September and August.
2. removed LSR + SSR = recovered + disposed x assay + sold + elsewhere. What the still gives back
   was removed as the same mass, so it is in both.
3. emission E = SA - LSR - SSR. Its standard deviation: the root of the squares of the spreads of
   the rows bought, disposed (times assay), sold, elsewhere and of both stocks; none of recovered.
''')
print('| month | bought | recovered | opening | closing | disposed | sold | elsewhere | added | '
      'removed | emission | deviation |')
print('|' + '---|' * 12)
emission, months = [], []
for i in range(MONTHS):
    added = of(i, 'bought') + of(i, 'recovered') + stock[i] - stock[i + 1]
    removed = (of(i, 'recovered') + of(i, 'disposed') + of(i, 'sold') + of(i, 'elsewhere'))
    emission.append(added - removed)
    sd = (variance[i] + stock_variance[i] + stock_variance[i + 1]).sqrt()
    print('|', ' | '.join([name(i)] + [number(v) for v in (
        of(i, 'bought'), of(i, 'recovered'), stock[i], stock[i + 1], of(i, 'disposed'),
        of(i, 'sold'), of(i, 'elsewhere'), added, removed, emission[i], sd)]), '|')

print('''
Twelve months in a row: the sum of their emissions. The stocks in between are closing and opening of
neighbours and drop out, and so do their spreads. One solvent alone counts by its own kg, at most
%d.
''' % LIMIT)
print('| until | sum | deviation | verdict |')
print('|' + '---|' * 4)
for k in range(11, MONTHS):
    total = sum(emission[k - 11:k + 1])
    sd = (sum(variance[i] for i in range(k - 11, k + 1)) + stock_variance[k - 11] +
          stock_variance[k + 1]).sqrt()
    print('|', ' | '.join([name(k), number(total), number(sd),
                           'missed' if total > LIMIT else 'met']), '|')
