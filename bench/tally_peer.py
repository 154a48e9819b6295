# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""A year's tally once more, in NumPy: what `make bench` runs beside the library.

    tally_peer.py FILE LOADS DAYS MASSES    ms, and the largest relative difference

The line is that of peer.py, which shares no code with the library. Of each solute it sums what the
last film leaves and what the dumps take, month by month, and what the tanks hold at the end: the
sums stand in the state of the load's matrix, whose powers lead from dump to dump. Flows are off in
idle time, but evaporation goes on with its top-up. MASSES is what bench-tally printed.
"""

import math
import sys
import time

import numpy

from peer import Line

MONTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
YEAR = 365 * 86400.0


def widened(matrix, film):
    """(masses, 1) with a row for what is left in the last film."""
    count = len(matrix)
    wide = numpy.zeros((count + 2, count + 2))
    wide[:count, :count] = matrix
    wide[count, :count] = film
    wide[count, count] = 1.0
    wide[count + 1, count + 1] = 1.0  # dumped
    return wide


class Powers:
    def __init__(self, matrix):
        self.power = [matrix]

    def apply(self, z, times):
        j = 0
        while times >> j:
            if j == len(self.power):
                self.power.append(self.power[-1] @ self.power[-1])
            if times >> j & 1:
                z = self.power[j] @ z
            j += 1
        return z


def idle_matrix(line, solute, seconds):
    """Evaporation and its top-up bring solute in evenly; nothing else moves."""
    count = len(line.tanks)
    matrix = numpy.eye(count + 3)
    for i, tank in enumerate(line.tanks):
        feed = tank.get("top up from", tank.get("feed", tank["liquid"]))
        matrix[i, count] = tank.get("evaporation", 0.0) * line.content(feed, solute) * seconds
    return matrix


def year(line, loads, days):
    results = []
    count = len(line.tanks)
    idle = YEAR / days - loads * line.interval
    for solute, (matrix, film, _) in zip(line.solutes, line.maps()):
        powers = Powers(widened(matrix, film))
        gap = idle_matrix(line, solute, idle)
        dumps = line.dumps(solute)
        z = numpy.concatenate([line.fresh(solute), [0.0, 0.0]])
        done = day = passed = 0
        left = dumped = 0.0
        for month in MONTHS:
            passed += month
            until = (2 * days * passed + 365) // 730
            z[count + 1:] = 0.0
            for day in range(day, until):
                end = done + loads
                while done < end:
                    due = min((done // every + 1) * every for every, *_ in dumps)
                    stop = min(due, end)
                    z = powers.apply(z, stop - done)
                    done = stop
                    if done == due:
                        for every, i, fresh in dumps:
                            if done % every == 0:
                                z[count + 2] += z[i]
                                z[i] = fresh
                z = gap @ z
            day = until
            left += z[count + 1]
            dumped += z[count + 2]
        results += [left, dumped, z[:count].sum()]
    return results


def main():
    path, loads, days, masses = sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), sys.argv[4]
    line = Line(path)
    begin = time.perf_counter()
    mine = year(line, loads, days)
    taken = (time.perf_counter() - begin) * 1e3
    with open(masses, encoding="ascii") as file:
        theirs = [float(word) for word in file.read().split()[2:]]
    worst = max(abs(a - b) / abs(b) for a, b in zip(mine, theirs, strict=True))
    print(f"{taken:.3f} loads {worst:.3e}")


main()
