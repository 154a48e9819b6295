#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""validation_page.py CHECKS GOT: writes dregs-validation(7) from tests/checks.csv and what
tests/test_checks got for its rows (the file that DREGS_CHECKS_OUT names)."""
import csv
import math
import sys
import textwrap

ROOMS = [('R', 'Rinsing'), ('N', None), ('F', 'Films and drag-out'), ('K', None),
         ('L', 'Cleanliness'), ('W', 'Water, salts and meters'), ('C', None),
         ('I', 'Properties of water and mixtures'), ('A', None), ('H', None),
         ('V', 'Drying and evaporation'), ('D', None), ('T', None),
         ('E', 'Emission, waste and fire')]


def safe(words):
    """Text as mdoc takes it."""
    words = words.replace('\\', '\\e').replace('. ', '.\\& ')
    lines = textwrap.wrap(words, 76, break_long_words=False, break_on_hyphens=False)
    return '\n'.join('\\&' + l if l[:1] in '.\'' else l for l in lines)


def number(text):
    try:
        return float(text.split()[0])
    except ValueError:
        return None


def four(value):
    return '%.4g' % value if value == 0 or 1e-4 <= abs(value) < 1e5 else '%.3e' % value


def deviation(row, got):
    """The deviation in words, and its size for counting."""
    expected = number(row['expected'])
    if expected is None or number(got) is None:
        return 'the same' if got == row['expected'] else 'another'
    off = float(got) - expected
    if row['tolerance'].startswith('factor'):
        return '%.2f times' % (float(got) / expected)
    if expected == 0:
        return 'off by ' + four(off)
    percent = 100 * off / abs(expected)
    return 'the same' if abs(percent) < 1e-3 else '%+.2g %%' % percent


def item(row, got):
    shown = four(float(got)) if number(got) is not None else got
    unit = '' if row['unit'] in ('1', 'word') else ' ' + row['unit']
    print('.It ' + row['id'])
    print(safe('%s; %s.' % (row['topic'], row['inputs'])))
    print(safe('Published %s%s, dregs %s%s: %s; tolerance %s.'
               % (row['expected'], unit, shown, unit, deviation(row, got), row['tolerance'])))
    print(safe('%s (%s).' % (row['source'], row['evidence'])))


def summary(rows, got):
    sources = {r['source'] for r in rows}
    kinds = {}
    for r in rows:
        kinds[r['evidence'].split(' (')[0]] = kinds.get(r['evidence'].split(' (')[0], 0) + 1
    misses = [r['id'] for r in rows if 'a miss:' in r['topic']]
    told = ', '.join('%d %s' % (n, k) for k, n in sorted(kinds.items(), key=lambda p: -p[1]))
    print(safe('%d published or computed values of %d sources, by evidence: %s.'
               % (len(rows), len(sources), told)))
    print(safe('Each is reached through a line file and the library by tests/test_checks, and within '
               'its tolerance.'))
    if misses:
        print(safe('Those that needed a wider tolerance than the rest of their kind say "a miss" and '
                   'why: %s.' % ', '.join(misses)))


def evaporation(rows, got):
    ratios = [float(got[r['id']]) / float(r['expected']) for r in rows if r['id'].startswith('V01.')]
    if not ratios:
        return
    logs = [math.log(x) for x in ratios]
    mean = sum(logs) / len(logs)
    spread = math.sqrt(sum((x - mean) ** 2 for x in logs) / (len(logs) - 1))
    print('.Ss Relative evaporation rates')
    print(safe('The thin-film evaporometer of ASTM D3539 times how long 90 % of a liquid takes to leave '
               'a filter paper in dry air of 25 degC; n-butyl acetate is 1, faster liquids are higher. '
               'It is the one published measure of drying for many liquids, and prints differ among '
               'each other by a factor of up to two.'))
    print(safe('Over %d values the drying model is %.2f times the print in the mean, and a factor of '
               '%.2f scatters about that (one standard deviation); the lowest is %.2f times, the highest '
               '%.2f times.' % (len(ratios), math.exp(mean), math.exp(spread), min(ratios),
                                max(ratios))))
    print(safe('It is high for the liquids that leave first, and more so the faster they do. What the '
               'paper holds back and what its holder feeds into it is left out; that this is the cause '
               'is a guess. The draught of 0.1 m/s, half of a paper of 90 g/m2 behind each face and '
               'evaporation from both are ours.'))


def main():
    with open(sys.argv[1], newline='', encoding='utf-8') as file:
        rows = list(csv.DictReader(file))
    with open(sys.argv[2], newline='', encoding='utf-8') as file:
        got = dict(csv.reader(file))
    missing = [r['id'] for r in rows if r['id'] not in got]
    if missing:
        sys.exit('no value of: ' + ' '.join(missing))
    print('.\\" Written by tests/validation_page.py: not by hand.')
    print('.Dd November 30, 2026\n.Dt DREGS-VALIDATION 7\n.Os dregs\n.Sh NAME')
    print('.Nm dregs-validation\n.Nd published values and what dregs makes of them\n.Sh DESCRIPTION')
    summary(rows, got)
    evaporation(rows, got)
    done = set()
    for letter, title in ROOMS:
        if title:
            if done and listed:
                print('.El')
            listed = False
            letters = [letter]
            for other, head in ROOMS[ROOMS.index((letter, title)) + 1:]:
                if head:
                    break
                letters.append(other)
            for row in rows:
                if row['id'][0] in letters:
                    if not listed:
                        print('.Sh ' + title.upper())
                        print('.Bl -tag -width "W05.10"')
                    listed = True
                    item(row, got[row['id']])
                    done.add(row['id'])
    if listed:
        print('.El')
    left = [r['id'] for r in rows if r['id'] not in done]
    if left:
        sys.exit('no section for: ' + ' '.join(left))
    print('.Sh SEE ALSO\n.Xr dregs-liquids 5 ,\n.Xr dregs-model 7')
    print('.Sh CAVEATS')
    print(safe('A value from memory is no evidence until it has been read, a computed one only of '
               'arithmetic. Where a source states no humidity, size or draught, those are ours, and '
               'the row says so.'))


main()
