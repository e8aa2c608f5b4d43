"""Balances of a run: oil node by node, mass from the state, energy.

(a) per node: net inflow against change of content, both integrated over the accepted steps, as a
    share of what flowed in; (b) mass of the whole charge from the state, end against start;
(c) energy: what shafts, packs, surroundings and coolant bring in against what is stored, given
    off or done as work, as a share of the larger side; once as the project defines it, once closed
    by the work of compressing oil on its way and of its thermal expansion, which heat nothing in
    these equations.
"""

import numpy as np

import machines
import nitrogen
import resistances
import spec as specs

FLOOR = 1e-9          # m3, below which a node's throughput is no measure
BROUGHT = ("shaft", "pack", "ambient", "coolant")
TAKEN = ("oil", "metal", "gas", "plates", "reservoir", "gas_out", "to_air", "work", "lifting", "compression")
CLOSING = ("squeezing", "swelling")
INTEGRALS = BROUGHT + ("gas_out", "to_air", "work", "lifting", "compression") + CLOSING


class Balance:
    """Sums over one run."""

    def __init__(self, network):
        self.network = network
        n = len(network.names)
        self.inflow, self.content, self.gross = np.zeros(n), np.zeros(n), np.zeros(n)
        self.energy = dict.fromkeys(INTEGRALS, 0.0)
        self.begin = self.contents(0.0, network.y0)
        self.last = None

    def contents(self, t, y):
        """Mass, heat above the start, gas energy and so on at a state."""
        net = self.network
        net.rhs(t, y)
        out = {"mass": 0.0, "oil": 0.0, "metal": 0.0, "reservoir": 0.0, "gas": 0.0, "plates": 0.0}
        for k in range(len(net.names)):
            volume = self.volume(k, y) + net.share[k]
            mass = net.rho[k] * (volume + net.hose[k] * (net.p[k] - net.air))
            warmer = net.T[k] - net.t_fluid
            out["mass"] += mass
            out["oil"] += net.fluid.c * mass * warmer
            out["metal"] += net.metal[k] * warmer
            if net.fixed[k] is not None:
                out["reservoir"] += (net.fixed[k] - net.air) * volume
        for part in net.parts:
            if isinstance(part, machines.Accumulator):
                v, tg = y[part.at], y[part.at + 1]
                out["gas"] += part.m * nitrogen.internal_energy(part.m / v, tg) + net.air * v
            if isinstance(part, machines.Pack):
                out["plates"] += part.m * integral(part.c, y[part.at + 1])
        return out

    def volume(self, k, y):
        """Oil volume of a node without accumulators."""
        net = self.network
        if net.fixed[k] is not None:
            return y[net.iv[k]]
        return max(net.base[k] + net.chamber[k], 1e-6)

    def look(self, t, y):
        """Rates and weights at one instant; to be called just after `rhs` at the same (t, y)."""
        net = self.network
        n = len(net.names)
        volume = np.array([self.volume(k, y) for k in range(n)])
        whole = volume + np.array(net.share)
        tank = np.array([f is not None for f in net.fixed])
        return {
            "net": np.array(net.net), "gross": np.array(net.gross), "power": self.powers(),
            "p": np.array(net.p), "T": np.array(net.T), "volume": volume,
            "give": np.where(tank, 0.0, volume / np.array(net.k_eff) + np.array(net.hose)),
            "grow": whole * np.array(net.alpha), "tank": tank, "swept": np.array(net.swept),
        }

    def powers(self):
        """The powers of the energy balance, W."""
        net = self.network
        out = dict.fromkeys(self.energy, 0.0)
        for k in range(len(net.names)):
            out["ambient"] += net.shed[k] * (net.ambient - net.T[k])
        for part in net.parts:
            if isinstance(part, machines.Pump):
                out["shaft"] += part.p_in
            elif isinstance(part, machines.Pack):
                out["pack"] += part.p_in
                out["to_air"] += part.p_out
            elif isinstance(part, machines.Accumulator):
                out["gas_out"] += part.p_out
            elif isinstance(part, (machines.Cylinder, machines.Motor)):
                out["work"] += part.p_out
            elif isinstance(part, resistances.Cooler):
                out["coolant"] -= part.heat
        out["lifting"], out["squeezing"] = net.lifting, net.squeezing
        return out

    def add(self, h, a, m, b):
        """One step of length h with looks at its start, middle and end."""
        self.inflow += h * (a["net"] + 4.0 * m["net"] + b["net"]) / 6.0
        self.gross += h * (a["gross"] + 4.0 * m["gross"] + b["gross"]) / 6.0
        squeezed = stieltjes("give", "p", a, m, b)
        swept = h * (a["swept"] + 4.0 * m["swept"] + b["swept"]) / 6.0
        moved = np.where(a["tank"], b["volume"] - a["volume"], swept)
        self.content += squeezed + moved - stieltjes("grow", "T", a, m, b)
        for key in self.energy:
            self.energy[key] += h * (a["power"][key] + 4.0 * m["power"][key] + b["power"][key]) / 6.0
        air = self.network.air
        for x in (a, m, b):
            x["press"] = (x["p"] - air) * x["give"]
            x["swell"] = (air - x["p"]) * x["grow"]
        self.energy["swelling"] += float(stieltjes("swell", "T", a, m, b).sum())
        self.energy["compression"] += float(stieltjes("press", "p", a, m, b).sum())

    def facts(self, t, y):
        """The three residuals and the terms behind them."""
        end = self.contents(t, y)
        share = np.abs(self.inflow - self.content) / np.maximum(self.gross, FLOOR)
        worst = int(np.argmax(share))
        terms = dict(self.energy)
        for key in ("oil", "metal", "gas", "plates", "reservoir"):
            terms[key] = end[key] - self.begin[key]
        return {
            "node": [float(share[worst]), self.network.names[worst]],
            "mass": end["mass"] / self.begin["mass"] - 1.0,
            "mass_start_kg": self.begin["mass"],
            "energy": energy_residual(terms, TAKEN),
            "energy_closed": energy_residual(terms, TAKEN + CLOSING),
            "energy_terms_kJ": {k: v * 1e-3 for k, v in sorted(terms.items())},
        }


def energy_residual(terms, taken):
    """(in - out)/larger side; a store that was drawn upon counts as brought in."""
    signed = [terms[k] for k in BROUGHT] + [-terms[k] for k in taken]
    brought = sum(v for v in signed if v > 0.0)
    used = -sum(v for v in signed if v < 0.0)
    larger = max(brought, used)
    return (brought - used) / larger if larger else 0.0


def stieltjes(weight, variable, a, m, b):
    """Integral of weight d(variable) over a step, both as parabolas through start, middle, end."""
    x0, x1, x2 = a[variable], m[variable], b[variable]
    return (a[weight] * (-3.0 * x0 + 4.0 * x1 - x2) + 4.0 * m[weight] * (x2 - x0)
            + b[weight] * (x0 - 4.0 * x1 + 3.0 * x2)) / 6.0


def integral(table, x):
    """Integral from the table's first argument of a piecewise linear table, ends held."""
    x0, total = table[0][0], 0.0
    if x <= x0 or len(table) == 1:
        return table[0][1] * (x - x0)
    for (x1, y1), (x2, y2) in zip(table, table[1:]):
        if x <= x2:
            return total + 0.5 * (y1 + specs.interpolate(table, x)) * (x - x1)
        total += 0.5 * (y1 + y2) * (x2 - x1)
    return total + table[-1][1] * (x - table[-1][0])
