#!/usr/bin/env python3
"""Two networks of tanks with water and trapped air, by SciPy's general integrators.

Reads five.yaml and twenty.yaml beside it, writes five.json and twenty.json. README.md says what the numbers are.
Written from the text of docs/scenario.md alone; shares no code with the engine.
"""
import json
import os
import platform
import sys
import time
from multiprocessing import Pool

import numpy as np
import scipy
import yaml
from scipy.integrate import solve_ivp

G = 9.80665
PATM = 101325.0
R_AIR = 287.05
UNITS = {"mm": 1e-3, "m": 1.0, "ml": 1e-6, "cm2": 1e-4, "kg/m3": 1.0, "C": 1.0, "s": 1.0, "kg": 1.0, "mN/m": 1e-3}


def quantity(text):
    number, unit = str(text).split()
    return float(number) * UNITS[unit]


def water_viscosity(kelvin):
    """IAPWS R12-08, its simplified equation at 0.1 MPa (from memory; gives 889.9969 uPa s at 298.15 K, as SR6-08 table 8)."""
    t = kelvin / 300
    return 1e-6 * (280.68 * t**-1.9 + 511.45 * t**-7.7 + 61.131 * t**-19.6 + 0.45903 * t**-40)


class Tank:
    def __init__(self, entry, box):
        entry = {"name": entry} if isinstance(entry, str) else entry
        self.name, self.box = entry["name"], box
        self.airtight = entry.get("airtight", False)
        self.permeability = entry.get("permeability", 1.0)
        (x0, x1), (y0, y1), (self.floor, self.top) = box
        self.area = self.permeability * (x1 - x0) * (y1 - y0)
        self.capacity = self.area * (self.top - self.floor)
        starts = entry.get("starts")
        self.start = 0.0
        if starts:
            value = quantity(starts)
            self.start = value if starts.split()[1] == "ml" else value * self.area


def read_tanks(data):
    hull = {k: quantity(v) for k, v in data["hull"]["box"].items()}
    ends = [0.0] + [quantity(b["at"]) for b in data["bulkheads"]] + [hull["length"]]
    whole = [(-hull["breadth"] / 2, hull["breadth"] / 2), (0.0, hull["depth"])]
    boxes = [[tuple(map(quantity, c[k])) for k in "xyz"] if isinstance(c, dict) and "x" in c else None
             for c in data["compartments"]]
    tanks, row = [], 0
    for entry, box in zip(data["compartments"], boxes):
        if box is None:
            box = [(ends[row], ends[row + 1])] + whole
            row += 1
            for other in boxes:
                if other:
                    box = without(box, other)
        tanks.append(Tank(entry, box))
    return tanks


def without(box, other):
    """What a box leaves of another one; both are such that this is a box again."""
    if any(min(a[1], b[1]) <= max(a[0], b[0]) + 1e-9 for a, b in zip(box, other)):
        return box
    rest = None
    for axis in range(3):
        spans = all(abs(p - q) < 1e-9 for k in range(3) if k != axis for p, q in zip(box[k], other[k]))
        if spans:
            (a0, a1), (b0, b1) = box[axis], other[axis]
            rest = list(box)
            rest[axis] = (b1, a1) if abs(a0 - b0) < 1e-9 else (a0, b0)
            assert abs(a0 - b0) < 1e-9 or abs(a1 - b1) < 1e-9
    assert rest, "a box leaves more than a box"
    return rest


def normal_axis(at, tank, faces):
    if faces:
        return "xyz".index(faces.strip("-"))
    away = [min(abs(at[k] - p) for p in tank.box[k]) for k in range(3)]
    return int(np.argmin(away))


def discharge_coefficient(edge, ratio):
    if edge == "rounded":
        return 0.98
    if edge == "tube":
        ratio = max(ratio, 2.0)
    if ratio <= 0.5:
        return 0.61
    if ratio < 1.5:
        return 0.61 + (ratio - 0.5) * (0.81 - 0.61)
    if ratio < 2:
        return 0.81
    return 0.827 - 0.0085 * ratio if ratio <= 10 else 0.742


def circle_resistance(d, wall):
    """Pressure per viscosity and speed (over the whole area) of a circle."""
    return np.pi / 4 * d**2 / d**3 * (24 + 128 * wall / (np.pi * d))


def read_opening(entry, tanks):
    """A dict of numbers: ends, figure (0 circle, 1 rectangle, 2 flat), extent and law."""
    names = [t.name for t in tanks]
    index = {**{n: k for k, n in enumerate(names)}, "outside": len(tanks)}
    i, j = (index[n] for n in entry["between"])
    at = [quantity(v) for v in entry["at"]]
    axis = normal_axis(at, tanks[min(i, j)], entry.get("faces"))
    wall = quantity(entry.get("wall", "0 mm"))
    o = {"name": entry["name"], "i": i, "j": j, "z": at[2], "half": 0.0, "breadth": 0.0}
    if "hole" in entry or "area" in entry:
        d = quantity(entry["hole"]) if "hole" in entry else np.sqrt(4 * quantity(entry["area"]) / np.pi)
        o.update(area=np.pi / 4 * d**2, half=d / 2, figure=0, resistance=circle_resistance(d, wall))
    else:
        size = entry.get("slot") or entry["door"]
        along, across = (quantity(s) for s in size.split(" x "))
        length, width = max(along, across), min(along, across)
        area = length * width
        slit = area * (32 / (np.pi * width**2 * length) + 12 * wall / (width**3 * length))
        o.update(area=area, figure=1, resistance=max(slit, circle_resistance(np.sqrt(4 * area / np.pi), wall)))
        upright = along if entry.get("along") == "z" else across
        o.update(half=upright / 2, breadth=area / upright)
        d = 2 * width
    o["cd"] = discharge_coefficient(entry.get("edge", "sharp"), wall / d)
    o["upper"] = 0  # of a flat hole through which water and air may pass each other: 1 where the first space is above, -1 the second
    if axis == 2:
        o["figure"] = 2
        above = [k < len(tanks) and abs(tanks[k].floor - at[2]) < 1e-9 for k in (i, j)]
        if any(k < len(tanks) and tanks[k].airtight for k in (i, j)):
            o["upper"] = 1 if above[0] else -1 if above[1] else 1 if i == len(tanks) else -1
    return o


def double_exponential(h=0.125, reach=3.2):
    """Nodes s on 0..1, their distance to 1, and weights; they crowd towards both ends, where the roots are."""
    t = np.arange(-round(reach / h), round(reach / h) + 1) * h
    s, rest = 1 / (1 + np.exp(-np.pi * np.sinh(t))), 1 / (1 + np.exp(np.pi * np.sinh(t)))
    w = h * np.pi * np.cosh(t) * s * rest
    return s, rest, w / w.sum()


class Network:
    def __init__(self, data):
        water = data["water"]
        self.rho = quantity(water["density"])
        assert quantity(water["surface_tension"]) == 0
        kelvin = quantity(water["temperature"]) + 273.15
        self.mu = water_viscosity(kelvin)
        self.rt = R_AIR * kelvin
        self.mu_air = 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)
        self.sea = -quantity(data["run"]["keel"])
        self.until = quantity(data["run"]["until"])
        self.tanks = read_tanks(data)
        self.openings = [read_opening(e, self.tanks) for e in data["openings"]]
        column = lambda key: np.array([o[key] for o in self.openings])
        self.i, self.j, self.figure, self.upper = column("i"), column("j"), column("figure"), column("upper")
        self.zc, self.half, self.breadth = column("z"), column("half"), column("breadth")
        self.area, self.resistance, self.cd = column("area"), column("resistance"), column("cd")
        self.nodes = double_exponential()
        of = lambda key: np.array([getattr(t, key) for t in self.tanks])
        self.capacity, self.plan, self.floor = of("capacity"), of("area"), of("floor")
        self.tight = np.flatnonzero(of("airtight"))
        self.start = np.concatenate([of("start") / self.capacity, np.zeros(len(self.tight))])

    # The local laws: v over the area as it stands, from dp = a v + b v^2.

    @staticmethod
    def speed(a, b, dp):
        return 2 * dp / (a + np.sqrt(a * a + 4 * b * dp))

    def flux(self, k, dp, wet, high, low):
        """Speed at a height: dp > 0, wet tells the fluid, high and low are the gauge pressures of the two sides there."""
        cd, resistance = self.cd[k], self.resistance[k]
        water = self.speed(self.mu * resistance, 0.5 * self.rho / cd**2, dp)
        p1, p2 = PATM + high, PATM + low
        expansion = 1 - 0.351 * (1 - (p2 / p1) ** (1 / 1.4))
        air = self.speed(self.mu_air * resistance, 0.5 * (p1 / self.rt) / (cd * expansion) ** 2, dp)
        return np.where(wet, water, air)

    def under(self, p, h, z):
        return p + self.rho * G * np.maximum(h - z, 0)

    def flows(self, level, air):
        """Water, m3/s, and air, kg/s, of every opening; level and air pressure (gauge) of every space, the outside last."""
        return self.flows_between(level[self.i], level[self.j], air[self.i], air[self.j])

    def flows_between(self, hi, hj, pi, pj):
        """The same from the two levels and the two air pressures of every opening."""
        lowest, highest = self.zc - self.half, self.zc + self.half
        lo, up = np.minimum(hi, hj), np.maximum(hi, hj)
        # Between the two surfaces the pressures are equal at one height at most.
        level_at = np.where(hi > hj, hi + (pi - pj) / (self.rho * G), hj + (pj - pi) / (self.rho * G))
        clip = lambda z: np.minimum(np.maximum(z, lowest), highest)
        inner = np.minimum(np.maximum(level_at, lo), up)
        cuts = [lowest, clip(lo), clip(inner), clip(up), highest]
        sides = (hi, hj, pi, pj)
        water, mass = np.zeros(len(self.zc)), np.zeros(len(self.zc))
        flat = np.flatnonzero(self.figure == 2)
        self.add_uniform(flat, self.zc, self.area[flat], sides, water, mass)
        self.add_exchange(np.flatnonzero(self.upper), sides, water, mass)
        upright = self.figure < 2
        for n, (z1, z2) in enumerate(zip(cuts, cuts[1:])):
            k = np.flatnonzero(upright & (z2 > z1))
            if not len(k):
                continue
            if n in (0, 3):  # below both surfaces or above both: one difference over the whole piece
                self.add_uniform(k, (z1 + z2) / 2, self.segment(k, z1[k], z2[k]), sides, water, mass)
            else:
                self.add_piece(k, z1, z2, level_at, sides, water, mass)
        return water, mass

    def add_exchange(self, k, sides, water, mass):
        """What water and air pass flat holes k the opposite way, as the engine documents it: without surface tension, holes of any
        width. A third of A sqrt(g d), fading to none as the pressure difference reaches rho g d, and over d of water above and
        of air below."""
        hi, hj, pi, pj = (s[k] for s in sides)
        first = self.upper[k] > 0
        d, z = 2 * np.sqrt(self.area[k] / np.pi), self.zc[k]
        h_up, p_up = np.where(first, hi, hj), np.where(first, pi, pj)
        h_low, p_low = np.where(first, hj, hi), np.where(first, pj, pi)
        over, beneath = np.clip((h_up - z) / d, 0, 1), np.clip((z - h_low) / d, 0, 1)
        x = np.clip((self.rho * G * (h_up - z) + p_up - p_low) / (self.rho * G * d), -1, 1)
        q = np.where(first, 1, -1) * self.area[k] * np.sqrt(G * d) / 3 * over * beneath * (1 - x * x) ** 2
        water[k] += q
        mass[k] -= q * (PATM + p_low) / self.rt

    def angle(self, k, z):
        """Of a height on circles k, from the lowest point: z = bottom + 2 r sin^2(angle/2)."""
        r = self.half[k]
        return 2 * np.arcsin(np.sqrt(np.clip((z - self.zc[k] + r) / (2 * r), 0, 1)))

    def segment(self, k, z1, z2):
        """Area of figures k between two heights."""
        t1, t2 = self.angle(k, z1), self.angle(k, z2)
        circle = self.half[k] ** 2 * (t2 - t1 - np.sin(t2 - t1) * np.cos(t2 + t1))
        return np.where(self.figure[k] == 0, circle, self.breadth[k] * (z2 - z1))

    def add_uniform(self, k, z, area, sides, water, mass):
        """Parts of figures k over which the pressures differ by one amount, that at the height z."""
        hi, hj, pi, pj = (s[k] for s in sides)
        z = z[k]
        a, b = self.under(pi, hi, z), self.under(pj, hj, z)
        first = a > b
        wet = z < np.where(first, hi, hj)
        q = np.where(first, 1, -1) * area * self.flux(k, abs(a - b), wet, np.maximum(a, b), np.minimum(a, b))
        water[k] += np.where(wet, q, 0)
        mass[k] += np.where(wet, 0, q * (PATM + np.where(first, pi, pj)) / self.rt)

    def add_piece(self, k, z1, z2, level_at, sides, water, mass):
        """One piece of each upright figure k, in which both sides have one fluid and the difference one sign and slope."""
        hi, hj, pi, pj = (s[k] for s in sides)
        z1, z2, root = z1[k], z2[k], level_at[k]
        z, from1, to2, weight = self.points(k, z1, z2)
        diff = lambda at: self.under(pi, hi, at) - self.under(pj, hj, at)
        d1, d2 = np.where(z1 == root, 0, diff(z1)), np.where(z2 == root, 0, diff(z2))
        # On an inclined piece the difference is measured from the end where it is small: no digits are lost there.
        slope = (d2 - d1) / (z2 - z1)
        near1 = (abs(d1) <= abs(d2))[:, None]
        dp = np.where(near1, d1[:, None] + slope[:, None] * from1, d2[:, None] - slope[:, None] * to2)
        middle = 0.5 * (d1 + d2)
        first = middle > 0
        wet = (z1 + z2) / 2 < np.where(first, hi, hj)
        pa, pb = self.under(pi[:, None], hi[:, None], z), self.under(pj[:, None], hj[:, None], z)
        f = first[:, None]
        v = self.flux(k[:, None], abs(dp), wet[:, None], np.where(f, pa, pb), np.where(f, pb, pa))
        q = np.where(first, 1, -1) * (v * weight).sum(axis=1)
        water[k] += np.where(wet, q, 0)
        mass[k] += np.where(wet, 0, q * (PATM + np.where(first, pi, pj)) / self.rt)

    def points(self, k, z1, z2):
        """Heights of the nodes of a piece, their distances from its ends, and the area that each stands for."""
        s, rest, w = self.nodes
        # A circle by the angle: dA = 2 r^2 sin^2(angle) d(angle).
        r = self.half[k]
        t1, t2 = self.angle(k, z1)[:, None], self.angle(k, z2)[:, None]
        turn = t2 - t1
        t = np.where(s < 0.5, t1 + turn * s, t2 - turn * rest)
        rr = r[:, None]
        from1 = 2 * rr * np.sin((t + t1) / 2) * np.sin(turn * s / 2)
        to2 = 2 * rr * np.sin((t + t2) / 2) * np.sin(turn * rest / 2)
        area = 2 * rr**2 * np.sin(t) ** 2 * turn * w
        height = (z2 - z1)[:, None]
        round_ = (self.figure[k] == 0)[:, None]
        from1 = np.where(round_, from1, height * s)
        to2 = np.where(round_, to2, height * rest)
        area = np.where(round_, area, self.breadth[k][:, None] * height * w)
        return z1[:, None] + from1, from1, to2, area

    # The state: water as a share of each tank, then for each airtight one (air pressure) x (air volume)/capacity, gauge, in kPa.

    def spaces(self, state):
        n = len(self.tanks)
        share = state[:n]
        air = np.zeros(n + 1)
        air[self.tight] = 1000 * state[n:] / (1 - share[self.tight])
        return np.append(self.floor + share * self.capacity / self.plan, self.sea), air

    def rates(self, _, state):
        n = len(self.tanks)
        water, mass = self.flows(*self.spaces(state))
        total = lambda q: (np.bincount(self.j, q, n + 1) - np.bincount(self.i, q, n + 1))[:n]
        dw = total(water)
        # p V = m R T: the rate of (p - patm) V is R T dm/dt + patm dw/dt.
        dg = self.rt * total(mass) + PATM * dw
        return np.concatenate([dw / self.capacity, dg[self.tight] / self.capacity[self.tight] / 1000])


    def slopes(self, _, state):
        """Jacobian of the rates: each flow by the levels and pressures of its own two spaces (differences), then the chain rule."""
        n, m = len(self.tanks), len(state)
        level, air = self.spaces(state)
        share, tight = state[:n], self.tight
        d_level, d_air = np.zeros((n + 1, m)), np.zeros((n + 1, m))
        d_level[np.arange(n), np.arange(n)] = self.capacity / self.plan
        d_air[tight, tight] = air[tight] / (1 - share[tight])
        d_air[tight, n + np.arange(len(tight))] = 1000 / (1 - share[tight])
        ends = [level[self.i], level[self.j], air[self.i], air[self.j]]
        chain = [d_level[self.i], d_level[self.j], d_air[self.i], d_air[self.j]]
        d_water, d_mass = np.zeros((len(self.zc), m)), np.zeros((len(self.zc), m))
        # Steps well inside the creeping core of a door, which is some 1e-5 Pa wide for air.
        for at, step in enumerate((1e-10, 1e-10, 1e-6, 1e-6)):
            up, down = list(ends), list(ends)
            up[at], down[at] = ends[at] + step, ends[at] - step
            (w1, m1), (w0, m0) = self.flows_between(*up), self.flows_between(*down)
            d_water += ((w1 - w0) / (2 * step))[:, None] * chain[at]
            d_mass += ((m1 - m0) / (2 * step))[:, None] * chain[at]
        into = np.zeros((n + 1, len(self.zc)))
        into[self.j, np.arange(len(self.j))] += 1
        into[self.i, np.arange(len(self.i))] -= 1
        dw = (into @ d_water)[:n]
        dg = self.rt * (into @ d_mass)[:n] + PATM * dw
        return np.vstack([dw / self.capacity[:, None], dg[tight] / self.capacity[tight, None] / 1000])


def integrate(net, method, times, rtol):
    """States at the times, each reached by a step of its own; and the calls and seconds that it took."""
    state, states, calls, turns, began = net.start, [net.start], 0, 0, time.time()
    for t0, t1 in zip(times, times[1:]):
        run = solve_ivp(net.rates, (t0, t1), state, method=method, jac=net.slopes, rtol=rtol, atol=rtol * 1e-3)
        if not run.success:
            sys.exit(f"{method}: {run.message}")
        state = run.y[:, -1]
        calls += run.nfev
        turns += run.njev
        states.append(state)
        print(f"  {method} {t1:6.1f} s, {calls} calls, {turns} Jacobians, {time.time() - began:.0f} s", flush=True)
    return np.array(states), calls, time.time() - began


def readings(net, states):
    """Per tank and per opening the histories that the states mean."""
    n = len(net.tanks)
    levels, airs, flows, masses = [], [], [], []
    for state in states:
        level, air = net.spaces(state)
        water, mass = net.flows(level, air)
        levels.append(level[:n] - net.floor)
        airs.append(air[:n])
        flows.append(water)
        masses.append(mass)
    return (np.array(x).T for x in (levels, airs, flows, masses))


def document(name, net, times, states, agreement):
    digits = lambda values, d: [float(f"%.{d}g" % v) + 0.0 for v in values]
    depth, air, water, mass = readings(net, states)
    return {
        "scenario": name + ".yaml",
        "solver": "SciPy %s, Radau, rtol 1e-10" % scipy.__version__,
        "agreement": agreement,
        "constants": {"g": G, "patm_pa": PATM, "rho_water": net.rho, "mu_water": net.mu, "mu_air": net.mu_air,
                      "rt_air": net.rt, "sea_m": net.sea},
        "times_s": list(times),
        "tanks": [{"name": t.name, "airtight": t.airtight, "capacity_m3": float("%.12g" % t.capacity),
                   "depth_m": digits(depth[k], 11), "water_m3": digits(states[:, k] * t.capacity, 11),
                   "air_pa": digits(air[k], 10)} for k, t in enumerate(net.tanks)],
        "openings": [{"name": o["name"], "cd": float("%.12g" % o["cd"]), "area_m2": float("%.12g" % o["area"]),
                      "water_m3_per_s": digits(water[k], 11), "air_kg_per_s": digits(mass[k], 11)}
                     for k, o in enumerate(net.openings)],
    }


def compare(net, one, other):
    _, p1, _, _ = readings(net, one)
    _, p2, _, _ = readings(net, other)
    n = len(net.tanks)
    depth = abs(one[:, :n] - other[:, :n]) * (net.capacity / net.plan)
    return {"water_share": float("%.2g" % abs(one[:, :n] - other[:, :n]).max()),
            "depth_m": float("%.2g" % depth.max()), "air_pa": float("%.2g" % abs(p1 - p2).max())}


def main():
    here = os.path.dirname(os.path.abspath(__file__))
    print("Python", platform.python_version(), "SciPy", scipy.__version__, "NumPy", np.__version__)
    for name in sys.argv[1:] or ["five", "twenty"]:
        with open(os.path.join(here, name + ".yaml"), encoding="utf-8") as file:
            net = Network(yaml.safe_load(file))
        times = [round(net.until * k / 10, 6) for k in range(11)]
        methods = ("Radau", "LSODA")
        with Pool(2) as pool:
            runs = dict(zip(methods, pool.starmap(integrate, [(net, m, times, 1e-10) for m in methods])))
        agreement = compare(net, runs["Radau"][0], runs["LSODA"][0])
        agreement["calls"] = {m: int(r[1]) for m, r in runs.items()}
        print(name, agreement)
        text = json.dumps(document(name, net, times, runs["Radau"][0], agreement))
        with open(os.path.join(here, name + ".json"), "w", encoding="utf-8") as file:
            file.write(text.replace('}, {"name"', '},\n{"name"') + "\n")


if __name__ == "__main__":
    main()
