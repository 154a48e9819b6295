# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""Many draws of a line at once, in NumPy: what `make bench` runs beside the library's ensemble.

    ensemble_peer.py FILE DRAWS VALUES

VALUES is what `bench-ensemble values` printed: with those draws the answers must be the library's.
Then DRAWS draws are made by NumPy's own generator and answered, all vectorised over the draws, in
blocks that fit the processor's cache. On stdout: ms of processor time, the largest relative
difference from VALUES, the share of draws that meets the target, and the 5, 50 and 95 % points.

It is the model of dregs-model(7) written again over arrays, as peer.py is over numbers; it reads
what data/aqueous-line.csv states and looks for the worst load among those of the periodic steady
state, which is where that line has it.
"""

import csv
import sys
import time

import numpy

import peer

BLOCK = 500  # draws at a time: their matrices stay in the cache


def spreads(path):
    """{item.property: standard deviation as a share}; the lines of the bench state no other."""
    with open(path, newline="", encoding="utf-8") as file:
        rows = [row for row in csv.reader(file) if any(row) and not row[0].startswith("#")]
    return {f"{row[0]}.{row[1]}": float(row[4].rstrip("%")) / 100 for row in rows[1:] if row[4]}


def drawn(line, spread, count, generator):
    """Lognormal values with the stated mean and standard deviation."""
    values = {}
    for name, share in spread.items():
        item, quantity = name.split(".")
        s2 = numpy.log1p(share * share)
        mean = line[item][quantity]
        values[name] = generator.lognormal(numpy.log(mean) - s2 / 2, numpy.sqrt(s2), count)
    return values


class Draws(peer.Line):
    """A line whose values are arrays over the draws."""

    def __init__(self, items, count):
        self.count = count
        self.load = peer.of_kind(items, "load")[0]
        self.solutes = peer.of_kind(items, "solute")
        self.liquids = {liquid["name"]: liquid for liquid in peer.of_kind(items, "liquid")}
        self.stages = peer.of_kind(items, "wash", "rinse", "dry")
        self.tanks = [stage for stage in self.stages if stage["kind"] != "dry"]
        self.place = {tank["name"]: i for i, tank in enumerate(self.tanks)}
        self.interval = self.load["interval"]
        self.films()
        self.volumes()

    def volumes(self):
        gained = [0.0] * len(self.tanks)
        left = set(range(len(self.tanks)))
        while left:
            for i in sorted(left):
                if any(self.place.get(self.tanks[j].get("overflow to")) == i for j in left):
                    continue
                tank = self.tanks[i]
                surplus = (gained[i] + tank.get("flow", 0.0) - tank.get("evaporation", 0.0)
                           + (tank["in"] - tank["out"]) / self.interval)
                tank["overflow"] = numpy.maximum(surplus, 0.0)
                tank["top up"] = numpy.maximum(-surplus, 0.0)
                if tank.get("overflow to", "drain") != "drain":
                    place = self.place[tank["overflow to"]]
                    gained[place] = gained[place] + tank["overflow"]
                left.discard(i)

    def eye(self):
        size = len(self.tanks) + 1
        return numpy.broadcast_to(numpy.eye(size), (self.count, size, size)).copy()

    def one_pass(self, solute):
        count = len(self.tanks)
        rows = self.eye()
        film, into, soil = numpy.zeros((self.count, count + 1)), 0.0, solute.get("on parts", 0.0)
        soil = soil * self.load["parts"]

        def each(value):
            return numpy.broadcast_to(value, self.count)[:, None]

        for stage in self.stages:
            if stage["kind"] == "dry":
                film = film * each(1.0 - stage.get("blow-off", 0.0))
                continue
            i, into, out = self.place[stage["name"]], stage["in"], stage["out"]
            off = stage.get("removal", 0.0) * soil
            soil = soil - off
            mass = rows[:, i].copy()
            mass[:, count] += off
            left = (mass + film) * each(out / (stage["volume"] + into))  # perfect exchange
            rows[:, i] = mass + film - left
            film = left
        return rows, film, soil

    def between(self):
        """What flows do between two loads, to all solutes alike: exp(rates x interval) and what
        fresh liquid brings, unit content of each feed: tanks x tanks and tanks x feeds."""
        count, size = len(self.tanks), 2 * len(self.tanks)
        rates = numpy.zeros((self.count, size, size))
        for i, tank in enumerate(self.tanks):
            over = tank["overflow"] / tank["volume"]
            rates[:, i, i] -= over
            if tank.get("overflow to", "drain") != "drain":
                rates[:, self.place[tank["overflow to"]], i] += over
            rates[:, i, count + i] = 1.0
        rates *= self.interval
        norm = numpy.abs(rates).sum(axis=1).max()
        halvings = max(0, int(numpy.ceil(numpy.log2(norm + 1e-300))) + 1)
        rates /= 2.0 ** halvings
        power = total = numpy.broadcast_to(numpy.eye(size), rates.shape)
        for k in range(1, 13):
            power = power @ rates / k
            total = total + power
        for _ in range(halvings):
            total = total @ total
        return total[:, :count, :count], total[:, :count, count:]

    def feed(self, tank, solute):
        feed = tank.get("feed", tank["liquid"])
        return (tank.get("flow", 0.0) * self.content(feed, solute)
                + tank["top up"] * self.content(tank.get("top up from", feed), solute))

    def worst(self):
        """kg/m2 that the worst load of the periodic steady state leaves."""
        count = len(self.tanks)
        period, dumped = [(round(tank["dump every"]), i) for i, tank in enumerate(self.tanks)
                          if "dump every" in tank][0]
        flows, integral = self.between()
        total = 0.0
        for number, solute in enumerate(self.solutes):
            rows, film, soil = self.one_pass(solute)
            matrix = self.eye()
            matrix[:, :count] = flows @ rows[:, :count]
            brought = numpy.stack([numpy.broadcast_to(self.feed(tank, solute), self.count)
                                   for tank in self.tanks], axis=1)
            matrix[:, :count, count] += (integral @ brought[:, :, None])[:, :, 0]
            # all phases of the period as rows, by doubling: film, film A, film A^2, ...
            phases, power = film[:, None, :], matrix
            while phases.shape[1] < period:
                phases = numpy.concatenate((phases, phases @ power), axis=1)
                power = power @ power
            whole = self.power(matrix, period)
            tank = self.tanks[dumped]
            whole[:, dumped] = 0.0
            whole[:, dumped, count] = tank["volume"] * self.content(tank["liquid"], solute)
            steady = numpy.ones((self.count, count + 1, 1))
            steady[:, :count] = numpy.linalg.solve(
                numpy.eye(count) - whole[:, :count, :count], whole[:, :count, count:])
            total = total + (phases[:, :period] @ steady)[:, :, 0]
            adhering = soil if number == 0 else adhering + soil
        last, area = self.tanks[-1], self.load["parts"] * self.load["area"]
        share = last["on parts"] / last["out"] / area
        return total.max(axis=1) * share + adhering / area

    @staticmethod
    def power(matrix, exponent):
        result = None
        while exponent:
            if exponent & 1:
                result = matrix if result is None else result @ matrix
            matrix = matrix @ matrix
            exponent >>= 1
        return result.copy()


def answers(path, values):
    count = len(next(iter(values.values())))
    left = numpy.empty(count)
    for begin in range(0, count, BLOCK):
        items = peer.read(path)
        end = min(begin + BLOCK, count)
        for name, value in values.items():
            item, quantity = name.split(".")
            items[item][quantity] = value[begin:end]
        left[begin:end] = Draws(items, end - begin).worst()
    return left


def main():
    path, count = sys.argv[1], int(sys.argv[2])
    with open(sys.argv[3], encoding="ascii") as file:
        names = file.readline().strip().split(",")
    given = numpy.loadtxt(sys.argv[3], delimiter=",", skiprows=1)
    mine = answers(path, {name: given[:, i] for i, name in enumerate(names)})
    differs = numpy.max(numpy.abs(mine - given[:, -1]) / given[:, -1])
    taken = []
    for seed in range(3):
        begin = time.process_time()
        generator = numpy.random.Generator(numpy.random.Philox(seed))
        left = answers(path, drawn(peer.read(path), spreads(path), count, generator))
        met = numpy.mean(left <= peer.read(path)["limit"]["residue"])
        points = numpy.quantile(left, (0.05, 0.5, 0.95))
        taken.append(time.process_time() - begin)
    print(numpy.median(taken) * 1e3, differs, met, *points)


if __name__ == "__main__":
    main()
