# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""The flow that meets a target once more: the model of peer.py under scipy.optimize.brentq.

    size_peer.py FILE STAGE [ANSWER]    ms for one answer, and the flow, m3/s

With ANSWER, a file with what `bench-size one` printed, the relative difference of the two flows
follows on the same line. The worst load is sought as the library does for such a line: every load
of the way from the fresh start over two dump periods, and the periodic state.
"""

import math
import sys
import time

import numpy
import scipy.optimize

import peer

TIMES = 5


def residues(line, prepared, start, period):
    """The residue of each load of a period from `start`, and the state behind it."""
    area = line.load["parts"] * line.load["area"]
    total, ends = numpy.zeros(period), []
    for (solute, matrix, film, soil), z in zip(prepared, start):
        film = film * line.per_area()
        states = numpy.empty((period, len(z)))
        dumps = line.dumps(solute)
        for load in range(1, period + 1):
            states[load - 1] = z
            z = matrix @ z
            for every, i, fresh in dumps:
                if load % every == 0:
                    z[i] = fresh
        total += states @ film + soil / area
        ends.append(z)
    return total, ends


def periodic(line, prepared, period):
    states = []
    for solute, matrix, _, _ in prepared:
        whole = peer.period_map(line, solute, matrix, period)
        a, b = whole[:-1, :-1], whole[:-1, -1]
        states.append(numpy.append(numpy.linalg.solve(numpy.eye(len(a)) - a, b), 1.0))
    return states


def worst(line):
    period = math.lcm(*[every for every, _, _ in line.dumps(line.solutes[0])])
    prepared = [(s, *m) for s, m in zip(line.solutes, line.maps())]
    first, behind = residues(line, prepared, [line.fresh(s) for s in line.solutes], period)
    second, _ = residues(line, prepared, behind, period)
    last, _ = residues(line, prepared, periodic(line, prepared, period), period)
    return max(first.max(), second.max(), last.max())


def flow_for(line, stage, limit):
    tank = next(tank for tank in line.tanks if tank["name"] == stage)
    drag = max(tank["in"], tank["out"])

    def height(logarithm):
        tank["flow"] = math.exp(logarithm)
        line.volumes()
        return math.log(worst(line) / limit)

    low, high = math.log(1e-3 * drag / line.interval), math.log(1e6 * drag / line.interval)
    return math.exp(scipy.optimize.brentq(height, low, high, xtol=1e-8, rtol=1e-12))


def main():
    path, stage = sys.argv[1], sys.argv[2]
    line = peer.Line(path)
    limit = peer.of_kind(peer.read(path), "target")[0]["residue"]
    taken = []
    for _ in range(TIMES):
        begin = time.perf_counter()
        flow = flow_for(line, stage, limit)
        taken.append(time.perf_counter() - begin)
    off = ""
    if len(sys.argv) > 3:
        with open(sys.argv[3], encoding="ascii") as file:
            off = abs(float(file.read().split()[1]) / flow - 1)
    print(numpy.median(taken) * 1e3, repr(float(flow)), off)


if __name__ == "__main__":
    main()
