# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
"""The film that dries once more: the same equations under scipy.integrate.solve_ivp.

    dry_peer.py LIQUIDS MIXTURES [ANSWER]    ms for one curve, and its drying time, s

20 um of isopropanol at 22 degC, as in dry.c. With ANSWER, a file with what `bench-dry` printed, the
relative difference of the two times follows on the same line. Coefficients come from the tables;
what is done with them is written here anew.
"""

import csv
import math
import sys
import time

import numpy
import scipy.integrate

TIMES = 5
R, SIGMA, ATM, AIR = 8.31446261815324, 5.670374419e-8, 101325.0, 28.96e-3
T_AIR, SPEED, HUMIDITY, CAPACITY, LENGTH, EMISSIVITY = 295.15, 0.1, 0.5, 3900.0, 0.1, 0.9
FILM, UNTIL = 0.0157, 1e-3
LIQUIDS = ("isopropanol", "water")


def coefficients(path):
    table = {}
    with open(path, newline="", encoding="utf-8") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            if row["liquid"] in LIQUIDS and row["property"] in (
                "vapour pressure", "heat of vaporisation", "heat capacity", "diffusivity in air",
                "molar mass"):
                table[row["liquid"], row["property"]] = [float(row[c] or 0) for c in "ABCDEFG"]
    return table


def laar(path):
    """1/T at which each of the two sets was fitted, the colder one first, and its coefficients"""
    sets = {}
    with open(path, newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            if (row["first"], row["second"]) == LIQUIDS and row["property"].startswith("van Laar "):
                sets.setdefault(float(row["temperature"]) + 273.15, {})[row["property"][9:]] = float(
                    row["value"])
    (cold, a), (warm, b) = sorted(sets.items())
    return [(1 / cold, a["12"], a["21"]), (1 / warm, b["12"], b["21"])]


class Film:
    def __init__(self, liquids, mixtures):
        c = coefficients(liquids)
        self.c, self.laar = c, laar(mixtures)
        self.molar = numpy.array([c[name, "molar mass"][0] * 1e-3 for name in LIQUIDS])
        self.far = numpy.array([0.0, HUMIDITY * self.pressures(T_AIR)[1]])

    def pressures(self, t):
        a, b, cc = self.c["isopropanol", "vapour pressure"][:3]
        w = self.c["water", "vapour pressure"]
        x = 1 - t / w[5]
        series = (w[0] * x + w[1] * x**1.5 + w[2] * x**3 + w[3] * x**3.5 + w[4] * x**4
                  + 1.80122502 * x**7.5)
        return numpy.array([10 ** (a - b / (t + cc)), w[6] * math.exp(w[5] / t * series)])

    def heats(self, t):
        i, w = (self.c[name, "heat of vaporisation"] for name in LIQUIDS)
        r = t / i[5]
        x = 1 - t / w[5]
        return numpy.array([
            i[0] * (1 - r) ** (i[1] + i[2] * r + i[3] * r * r),
            w[6] * (w[0] * x ** (1 / 3) + w[1] * x ** (2 / 3) + w[2] * x + w[3] * x**2 + w[4] * x**6)])

    def capacities(self, t):
        return numpy.array([numpy.polyval(self.c[name, "heat capacity"][4::-1], t) for name in LIQUIDS])

    def diffusivities(self, t):
        out = []
        for name in LIQUIDS:
            a, b, c, d, e = self.c[name, "diffusivity in air"][:5]
            out.append(a * t**1.75 * math.sqrt(1 / b + 1 / d) / (c ** (1 / 3) + e ** (1 / 3)) ** 2)
        return numpy.array(out)

    def surface(self, mass, t):
        moles = numpy.maximum(mass, 0) / self.molar
        if moles.sum() <= 0:
            return numpy.zeros(2)
        x = moles / moles.sum()
        (cold, *_), (warm, *_) = self.laar
        logs = [numpy.array([a * (b * x[1] / (a * x[0] + b * x[1])) ** 2,
                             b * (a * x[0] / (a * x[0] + b * x[1])) ** 2]) for _, a, b in self.laar]
        # ln gamma goes straight over 1/T from one set to the other, and on where it is colder
        share = max((1 / t - warm) / (cold - warm), 0)
        return x * numpy.exp(share * logs[0] + (1 - share) * logs[1]) * self.pressures(t)

    def change(self, _, y):
        mass, t = y[:2], y[2]
        mean = (t + T_AIR) / 2
        p = self.surface(mass, t)
        density = ATM * AIR / (R * mean)
        viscosity = 1.716e-5 * (mean / 273.15) ** 1.5 * (273.15 + 110.6) / (mean + 110.6)
        conductivity = 0.0241 * (mean / 273.15) ** 1.5 * (273.15 + 194) / (mean + 194)
        kinematic, thermal = viscosity / density, conductivity / (density * 1006)
        prandtl = kinematic / thermal

        def heavy(q):
            return 1 + (q / ATM * (self.molar / AIR - 1)).sum()

        warmth, weight = T_AIR / t - 1, heavy(p) / heavy(self.far) - 1
        if warmth * weight >= 0:
            buoyancy = abs((1 + warmth) * (1 + weight) - 1)
        else:
            buoyancy = max(abs(warmth), abs(weight))
        rayleigh = 9.80665 * buoyancy * LENGTH**3 / (kinematic * thermal)
        free = (0.825 + 0.387 * rayleigh ** (1 / 6)
                / (1 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
        forced = 0.664 * math.sqrt(SPEED * LENGTH / kinematic) * prandtl ** (1 / 3)
        h = (free**3 + forced**3) ** (1 / 3) * conductivity / LENGTH
        k = h / (density * 1006) * (self.diffusivities(mean) / thermal) ** (2 / 3)
        flux = k * ATM / (R * mean) * numpy.log((ATM - self.far) / (ATM - p)) * self.molar
        flux[(flux > 0) & (mass <= 0)] = 0
        heat = h * (T_AIR - t) + EMISSIVITY * SIGMA * (T_AIR**4 - t**4) - (flux * self.heats(t)).sum()
        weight = CAPACITY + (numpy.maximum(mass, 0) * self.capacities(t)).sum()
        return [-flux[0], -flux[1], heat / weight]

    def dry(self):
        def left(_, y):
            return y[0] + y[1] - UNTIL * FILM

        left.terminal, left.direction = True, -1
        answer = scipy.integrate.solve_ivp(self.change, (0, 1e4), [FILM, 0.0, T_AIR], "BDF",
                                           events=left, rtol=1e-9, atol=[1e-11, 1e-11, 1e-7])
        return answer.t_events[0][0]


def main():
    film = Film(sys.argv[1], sys.argv[2])
    taken = []
    for _ in range(TIMES):
        begin = time.perf_counter()
        seconds = film.dry()
        taken.append(time.perf_counter() - begin)
    off = ""
    if len(sys.argv) > 3:
        with open(sys.argv[3], encoding="ascii") as file:
            off = abs(float(file.read().split()[1]) / seconds - 1)
    print(numpy.median(taken) * 1e3, repr(float(seconds)), off)


if __name__ == "__main__":
    main()
