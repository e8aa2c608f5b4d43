"""What is read off while a case runs: extremes, integrals, crossings, engagements, expectations.

Every accepted step is looked at in its dense output: states at its quarters, flows and powers at
its middle and end; integrals by Simpson's rule over the step.
"""

import numpy as np

import machines
import quantity as q
import resistances
from schedule import WITHIN

QUARTERS = (0.25, 0.5, 0.75, 1.0)
SETTLED = 0.05            # s: line velocities count from here on
COUNTED_ENERGY = 100.0    # J: smaller engagements are not counted
CYCLE = 60.0 / machines.TWO_PI


class Extremes:
    """Lowest and highest of a vector of values, with their times."""

    def __init__(self, values, t):
        self.low, self.high = values.copy(), values.copy()
        self.t_low, self.t_high = np.full(len(values), t), np.full(len(values), t)

    def see(self, values, t):
        """Take note of the values at t."""
        less, more = values < self.low, values > self.high
        self.low[less], self.t_low[less] = values[less], t
        self.high[more], self.t_high[more] = values[more], t


def channels(network):
    """(part, fact, getter) of everything that is no state."""
    out = []

    def add(part, fact, getter):
        out.append((part.name, fact, getter))
    for part in network.parts:
        for fact, getter in CHANNELS.get(type(part), []):
            add(part, fact, lambda part=part, getter=getter: getter(part, network))
        if isinstance(part, resistances.Resistance):
            add(part, "flow", lambda part=part: part.q * 6e4)
            add(part, "drop", lambda part=part: getattr(part, "along", part.dp) * 1e-5)
        if isinstance(part, resistances.Directional):
            for edge in part.flow_names():
                add(part, f"flow_{edge}", lambda part=part, edge=edge: part.flows.get(edge, 0.0) * 6e4)
    return out


CHANNELS = {
    resistances.Line: [("velocity", lambda p, n: abs(p.q) / p.pipe.area), ("reynolds", lambda p, n: p.re)],
    resistances.Cooler: [("heat", lambda p, n: p.heat)],
    resistances.Shuttle: [("flow_a", lambda p, n: p.qa * 6e4), ("flow_b", lambda p, n: p.qb * 6e4)],
    resistances.Reducing: [("flow_pa", lambda p, n: p.qp * 6e4), ("flow_at", lambda p, n: p.qt * 6e4),
                           ("opening", lambda p, n: p.o)],
    machines.Pump: [("flow", lambda p, n: p.q * 6e4), ("slip", lambda p, n: p.slip * 6e4),
                    ("power", lambda p, n: p.power), ("inlet_pressure_absolute", lambda p, n: n.p[p.i] * 1e-5)],
    machines.Motor: [("flow", lambda p, n: p.q * 6e4), ("torque", lambda p, n: p.torque),
                     ("power", lambda p, n: p.p_out)],
    machines.Accumulator: [("flow", lambda p, n: p.q * 6e4), ("oil", lambda p, n: p.oil * 1e6),
                           ("gas_pressure", lambda p, n: (p.p_gas - n.air) * 1e-5)],
    machines.Pack: [("torque", lambda p, n: p.torque), ("power", lambda p, n: p.p_in)],
}


class Crossings:
    """Instants at which a cylinder passes 1 % and 99 % of its stroke; positive when extending."""

    def __init__(self, part):
        self.part, self.levels = part, {"passes_1_percent": WITHIN, "passes_99_percent": 1.0 - WITHIN}
        self.found = {name: [] for name in self.levels}

    def see(self, step):
        for name, share in self.levels.items():
            t, sense = crossing(step, self.part.at, share * self.part.stroke)
            if sense:
                self.found[name].append((t, sense))

    def facts(self):
        """As lists of [time, +1 extending or -1 retracting]."""
        return {name: [list(pair) for pair in pairs] for name, pairs in self.found.items()}


def crossing(step, i, level, after=-1.0):
    """(time, sense) at which state i crosses a level inside a step at or after `after`; sense 0: not."""
    start = max(step.t0, after)
    before, now = step.at(start)[i] - level if start > step.t0 else step.y0[i] - level, step.y1[i] - level
    if before == 0.0 or before * now > 0.0:
        return 0.0, 0
    low, high = start, step.t1
    while high - low > 1e-9 + 1e-13 * high:
        middle = 0.5 * (low + high)
        if (step.at(middle)[i] - level) * before > 0.0:
            low = middle
        else:
            high = middle
    return high, 1 if now > before else -1


class Engagements:
    """Slipping of a friction pack: runs while the clamp is above nothing and the slip above 1 %."""

    def __init__(self, part, network):
        self.part, self.network = part, network
        self.running = self.runs(0.0, network.y0)
        self.list = [[0.0, None, 0.0, None]] if self.running else []

    def clamp(self, y):
        """Clamp force at a state."""
        cylinder = self.part.cylinder
        return self.part.clamp(y[cylinder.at], y[self.network.ip[cylinder.head]])

    def runs(self, t, y):
        """Whether an engagement is under way."""
        return self.part.slipping(t, y) and self.clamp(y) > 0.0

    def locked(self, t, y):
        """Whether the pack holds without slipping."""
        return not self.part.slipping(t, y) and self.clamp(y) > 0.0

    def power(self, step, t):
        """Heat of friction at an instant of a step."""
        self.network.rhs(t, step.at(t))
        return self.part.p_in

    def energy(self, step, t0, t1):
        """Simpson's rule over a share of a step."""
        f = [self.power(step, t) for t in (t0, 0.5 * (t0 + t1), t1)]
        return (t1 - t0) * (f[0] + 4.0 * f[1] + f[2]) / 6.0

    def see(self, step):
        now = self.runs(step.t1, step.y1)
        if now == self.running:
            if now:
                self.list[-1][2] += self.energy(step, step.t0, step.t1)
            return
        t = change(step, self.runs, self.running)
        if now:
            self.list.append([t, None, self.energy(step, t, step.t1), None])
        else:
            self.list[-1][2] += self.energy(step, step.t0, t)
            self.list[-1][1] = t if self.locked(step.t1, step.y1) else None
            self.list[-1][3] = t
        self.running = now

    def facts(self):
        """The engagements that count, and the last of them as the pack's own facts."""
        counted = [e for e in self.list if e[2] >= COUNTED_ENERGY and (e[3] is None or e[3] >= SETTLED)]
        out = {"engagements": [[e[0], e[1], e[2] * 1e-3] for e in counted]}
        if counted:
            out.update(slip_starts=counted[-1][0], locks_at=counted[-1][1], energy=counted[-1][2] * 1e-3)
        return out


def change(step, flag, before):
    """Instant inside a step at which a flag leaves its value `before`, by halving."""
    low, high = step.t0, step.t1
    while high - low > 1e-9 + 1e-13 * high:
        middle = 0.5 * (low + high)
        if flag(middle, step.at(middle)) == before:
            low = middle
        else:
            high = middle
    return high


class Reaches:
    """Expectation: time from `from` until a position is reached; 0 if already within 1 % of the stroke."""

    unit = "s"

    def __init__(self, keys, network):
        self.name, self.part = keys.get("name"), network.find(keys["part"])
        self.target, self.begin = q.plain(keys["reaches"]), q.plain(keys.get("from", "0 s"))
        self.limit = q.plain(keys["within"])
        self.open, self.measure, self.time = False, None, None

    def see(self, step):
        if self.measure is not None or step.t1 < self.begin:
            return
        if not self.open:
            self.open = True
            at = step.at(self.begin) if self.begin > step.t0 else step.y0
            if abs(at[self.part.at] - self.target) <= WITHIN * self.part.stroke:
                self.measure, self.time = 0.0, self.begin
                return
        t, sense = crossing(step, self.part.at, self.target, self.begin)
        if sense:
            self.measure, self.time = t - self.begin, t


class Holds:
    """Expectation: lowest (at_least) or highest (at_most) pressure of a node in a window, bar gauge."""

    unit = "bar"

    def __init__(self, keys, network):
        self.name, self.air = keys.get("name"), network.air
        self.state = network.ip[network.index[keys["node"]]]
        self.sign = 1.0 if "at_least" in keys else -1.0
        self.limit = (q.pressure(keys.get("at_least", keys.get("at_most")), self.air) - self.air) * 1e-5
        self.begin = q.plain(keys.get("from", "0 s"))
        self.until = q.plain(keys["until"]) if "until" in keys else network.lasts
        self.measure, self.time = None, None

    def see(self, step):
        start, end = max(step.t0, self.begin), min(step.t1, self.until)
        if end < start:
            return
        for share in (0.0,) + QUARTERS:
            t = start + share * (end - start)
            y = step.y0 if t <= step.t0 else step.at(t)
            value = (y[self.state] - self.air) * 1e-5
            if self.measure is None or (self.measure - value) * self.sign > 0.0:
                self.measure, self.time = value, t


class Locks:
    """Expectation: time from `from` until a pack holds without slipping."""

    unit = "s"

    def __init__(self, keys, network):
        self.name, self.begin = keys.get("name"), q.plain(keys.get("from", "0 s"))
        self.limit = q.plain(keys["locks_within"])
        self.pack = Engagements(network.find(keys["pack"]), network)
        self.measure, self.time = None, None

    def see(self, step):
        if self.measure is not None or step.t1 < self.begin:
            return
        start = max(step.t0, self.begin)
        at_start = step.y0 if start <= step.t0 else step.at(start)
        if self.pack.locked(start, at_start):
            self.time = start
        elif self.pack.locked(step.t1, step.y1):
            part = type(step)(step.network, start, at_start, step.t1, step.y1, step.dense)
            self.time = change(part, self.pack.locked, False)
        else:
            return
        self.measure = self.time - self.begin


def expectation(keys, network):
    """The watcher of one entry of `expects`."""
    kind = Reaches if "reaches" in keys else Locks if "pack" in keys else Holds
    return kind(keys, network)
