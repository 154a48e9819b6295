# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""The model of dregs-model(7) once more, in NumPy: what `make bench` runs beside the library.

    peer.py march FILE LOADS [MASSES]   ns per load and stage, step by step
    peer.py at FILE LOAD [MASSES]       ms, by numpy.linalg.matrix_power
    peer.py predict FILE                start to end: reads a line, prints some residues

With MASSES, a file with the numbers that bench-march printed, the largest relative difference
of the masses follows on the same line.

It shares no code with the library and reads what bench-line.csv and the scenario
data/aqueous-line.csv state; anything else it refuses.
"""

import csv
import math
import sys
import time

import numpy

LITRE, HOUR = 1e-3, 3600.0
UNITS = {
    "": 1.0, "1": 1.0, "%": 0.01, "cm2": 1e-4, "mL": 1e-6, "L": LITRE, "min": 60.0,
    "mg": 1e-6, "g/L": 1.0, "mg/L": 1e-3, "L/h": LITRE / HOUR, "mL/m2": 1e-6, "um": 1e-6,
    "ug/cm2": 1e-5, "degC": 1.0,
}
KNOWN = {
    "load": {"parts", "area", "extra area", "hold-up", "interval"},
    "solute": {"on parts"},
    "wash": {"volume", "liquid", "temperature", "removal", "drag-out", "film", "exchange",
             "evaporation", "top up from", "dump every", "flow", "feed", "overflow to"},
    "dry": {"temperature", "blow-off"},
    "target": {"residue"},
}
KNOWN["rinse"] = KNOWN["wash"]


def read(path):
    """Items in the order of the file: {name: {"kind": ..., property: number or word}}."""
    items = {}
    with open(path, newline="", encoding="utf-8-sig") as file:
        rows = [row for row in csv.reader(file) if any(row) and not row[0].startswith("#")]
    solutes = {row[0] for row in rows if row[1:3] == ["kind", "solute"]}
    for item, name, value, unit in (row[:4] for row in rows[1:]):
        kind = value if name == "kind" else items[item]["kind"]
        if not (name == "kind" or kind == "liquid" and name in solutes | {"solvent"}
                or kind in KNOWN and name in KNOWN[kind]
                or name.startswith("clearing ") and name[9:] in solutes
                or kind == "wash" and name.startswith(("most ", "least "))):  # a caution only
            sys.exit(f"peer.py: {path}: {name} of {item} is not in this model")
        try:
            value = float(value) * UNITS[unit]
        except ValueError:
            pass
        items.setdefault(item, {})[name] = value
    return items


def of_kind(items, *kinds):
    return [item | {"name": name} for name, item in items.items() if item["kind"] in kinds]


class Line:
    def __init__(self, path):
        items = read(path)
        self.load = of_kind(items, "load")[0]
        self.solutes = of_kind(items, "solute")
        self.liquids = {liquid["name"]: liquid for liquid in of_kind(items, "liquid")}
        self.stages = of_kind(items, "wash", "rinse", "dry")
        self.tanks = [stage for stage in self.stages if stage["kind"] != "dry"]
        self.place = {tank["name"]: i for i, tank in enumerate(self.tanks)}
        self.interval = self.load["interval"]
        self.films()
        self.volumes()

    def films(self):
        load, before = self.load, 0.0
        for tank in self.tanks:
            thick = tank.get("drag-out", tank.get("film"))
            tank["on parts"] = load["parts"] * (load["area"] * thick + load.get("hold-up", 0.0))
            tank["in"] = before
            tank["out"] = before = tank["on parts"] + load.get("extra area", 0.0) * thick

    def volumes(self):
        """Overflow and top-up of each tank; what overflows into one is known before it."""
        gained = numpy.zeros(len(self.tanks))
        left = set(range(len(self.tanks)))
        while left:
            for i in sorted(left):
                if any(self.place.get(self.tanks[j].get("overflow to")) == i for j in left):
                    continue
                tank = self.tanks[i]
                surplus = (gained[i] + tank.get("flow", 0.0) - tank.get("evaporation", 0.0)
                           + (tank["in"] - tank["out"]) / self.interval)
                tank["overflow"], tank["top up"] = max(surplus, 0.0), max(-surplus, 0.0)
                if tank.get("overflow to", "drain") != "drain":
                    gained[self.place[tank["overflow to"]]] += tank["overflow"]
                left.discard(i)

    def content(self, liquid, solute):
        return self.liquids[liquid].get(solute["name"], 0.0)

    def fresh(self, solute):
        return numpy.array([tank["volume"] * self.content(tank["liquid"], solute)
                            for tank in self.tanks] + [1.0])

    def one_pass(self, solute):
        """The stages: the matrix over (masses, 1) and the row of the last film."""
        count = len(self.tanks)
        rows, film = numpy.eye(count + 1), numpy.zeros(count + 1)
        soil = solute.get("on parts", 0.0) * self.load["parts"]
        for stage in self.stages:
            if stage["kind"] == "dry":
                film = film * (1.0 - stage.get("blow-off", 0.0))
                continue
            i, into, out = self.place[stage["name"]], stage["in"], stage["out"]
            off = stage.get("removal", 0.0) * soil
            soil -= off
            mass = rows[i].copy()
            mass[count] += off
            bypass = min((1.0 - stage.get("exchange", 1.0)) * into, out)
            old = film / into if into > 0 else film
            mixed = (mass + (into - bypass) * old) / (stage["volume"] + into - bypass)
            left = bypass * old + (out - bypass) * mixed
            rows[i] = mass + film - left
            film = left
        return rows, film, soil

    def between(self, solute):
        """exp(rates x interval), by Taylor's series of a matrix made small, squared again."""
        count = len(self.tanks)
        rates = numpy.zeros((count + 1, count + 1))
        for i, tank in enumerate(self.tanks):
            feed = tank.get("feed", tank["liquid"])
            rates[i, count] += tank.get("flow", 0.0) * self.content(feed, solute)
            rates[i, count] += tank["top up"] * self.content(tank.get("top up from", feed), solute)
            over = tank["overflow"] / tank["volume"]
            rates[i, i] -= over + tank.get("clearing " + solute["name"], 0.0) / tank["volume"]
            if tank.get("overflow to", "drain") != "drain":
                rates[self.place[tank["overflow to"]], i] += over
        rates *= self.interval
        halvings = max(0, math.ceil(math.log2(numpy.abs(rates).sum(axis=0).max() + 1e-300)) + 3)
        rates /= 2.0 ** halvings
        power = total = numpy.eye(count + 1)
        for k in range(1, 19):
            power = power @ rates / k
            total = total + power
        for _ in range(halvings):
            total = total @ total
        return total

    def maps(self):
        return [(self.between(s) @ self.one_pass(s)[0], *self.one_pass(s)[1:])
                for s in self.solutes]

    def dumps(self, solute):
        """[(every, tank, fresh mass)]"""
        return [(round(tank["dump every"]), i, self.fresh(solute)[i])
                for i, tank in enumerate(self.tanks) if "dump every" in tank]

    def per_area(self):
        last = self.tanks[-1]
        return last["on parts"] / last["out"] / (self.load["parts"] * self.load["area"])


def march(line, loads):
    """Solute by solute at once: the matrices stand in one stack."""
    maps = line.maps()
    matrix = numpy.array([m for m, _, _ in maps])
    films = numpy.array([film for _, film, _ in maps]) * line.per_area()
    soil = sum(soil for _, _, soil in maps) / (line.load["parts"] * line.load["area"])
    z = numpy.array([line.fresh(s) for s in line.solutes])
    dumps = [(every, i, line_fresh) for (every, i, _), line_fresh in zip(
        line.dumps(line.solutes[0]),
        numpy.array([[f for _, _, f in line.dumps(s)] for s in line.solutes]).T)]
    most = 0.0
    begin = time.perf_counter()
    for load in range(1, loads + 1):
        most = max(most, numpy.vdot(films, z) + soil)
        z = numpy.matmul(matrix, z[:, :, None])[:, :, 0]
        for every, i, fresh in dumps:
            if load % every == 0:
                z[:, i] = fresh
    return (time.perf_counter() - begin) * 1e9 / loads / len(line.stages), z


def period_map(line, solute, matrix, period):
    """The loads of a dump period one after the other, as one matrix."""
    total = numpy.eye(len(matrix))
    for load in range(1, period + 1):
        total = matrix @ total
        for every, i, fresh in line.dumps(solute):
            if load % every == 0:
                total[i] = 0.0
                total[i, -1] = fresh
    return total


def straight_to(line, load):
    period = math.lcm(*[every for every, _, _ in line.dumps(line.solutes[0])])
    prepared = [(s, m, period_map(line, s, m, period), period_map(line, s, m, (load - 1) % period))
                for s, (m, _, _) in zip(line.solutes, line.maps())]
    taken = []
    for _ in range(201):
        begin = time.perf_counter()
        z = [rest @ (numpy.linalg.matrix_power(whole, (load - 1) // period) @ line.fresh(s))
             for s, _, whole, rest in prepared]
        taken.append(time.perf_counter() - begin)
    return numpy.median(taken) * 1e3, numpy.array(z)


def predict(line):
    for solute, (matrix, film, soil) in zip(line.solutes, line.maps()):
        area = line.load["parts"] * line.load["area"]
        period = math.lcm(*[every for every, _, _ in line.dumps(solute)])
        z = line.fresh(solute)
        for load in range(1, period + 1):
            if load in (1, 2, 5, 10, 20, 50, 100, 200, period):
                print(solute["name"], load, (line.per_area() * film @ z + soil / area) * 1e5)
            z = matrix @ z


def compared(z, path):
    with open(path, encoding="ascii") as file:
        theirs = numpy.array([float(word) for word in file.read().split()[1:]])
    mine = z[:, :-1].ravel()
    return numpy.max(numpy.abs(mine - theirs) / numpy.abs(mine))


def main():
    what, line = sys.argv[1], Line(sys.argv[2])
    if what == "predict":
        predict(line)
        return
    measured, z = (march if what == "march" else straight_to)(line, int(sys.argv[3]))
    print(measured, compared(z, sys.argv[4]) if len(sys.argv) > 4 else "")


if __name__ == "__main__":
    main()
