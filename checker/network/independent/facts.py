"""Facts of one run of a case, ready for JSON."""

import numpy as np

import machines
import observe
import resistances
from balance import Balance

INSTANTS = 200                       # of a history
STARTED = 0.02                       # s: a second set of pressure extremes counts from here on
AFTER = (1e-3, 5e-3, 20e-3)          # s after every known breakpoint
MEANS = {"flow", "power", "heat"}    # channels whose mean over the run is told
STATE_FACTS = {                      # states told as extremes under the part
    "swivel", "speed", "gas_temperature", "position", "plate_temperature", "output_speed", "spool", "wanted",
}


class Recorder:
    """Watches a run and gathers all its facts."""

    def __init__(self, network, schedule):
        self.network = network
        self.channels = observe.channels(network)
        self.settling = np.array([fact in ("velocity", "reynolds", "drop", "flow", "power") or fact.startswith("flow_")
                                  for _, fact, _ in self.channels])
        self.balance = Balance(network)
        self.integral = np.zeros(len(self.channels))
        self.states = observe.Extremes(network.y0, 0.0)
        self.later = None
        self.values = None
        self.crossings = [observe.Crossings(p) for p in network.parts if isinstance(p, machines.Cylinder)]
        self.engagements = [observe.Engagements(p, network) for p in network.parts if isinstance(p, machines.Pack)]
        self.expects = [observe.expectation(k, network) for k in network.case.get("expects", [])]
        self.times = instants(network, schedule)
        self.rows, self.next = [network.y0], 1
        self.steps = 0

    def look(self, t, y):
        """Channel values and balance terms at an instant."""
        self.network.rhs(t, y)
        values = np.array([getter() for _, _, getter in self.channels])
        return values, self.balance.look(t, y)

    def __call__(self, step):
        """Take note of an accepted step."""
        self.steps += 1
        middle = 0.5 * (step.t0 + step.t1)
        a, m, b = (self.look(t, y) for t, y in
                   ((step.t0, step.y0), (middle, step.at(middle)), (step.t1, step.y1)))
        h = step.t1 - step.t0
        self.integral += h * (a[0] + 4.0 * m[0] + b[0]) / 6.0
        self.balance.add(h, a[1], m[1], b[1])
        self.extremes(step, middle, (a[0], m[0], b[0]))
        for watcher in self.crossings + self.engagements + self.expects:
            watcher.see(step)
        self.sample(step)
        self.last = b[0]

    def extremes(self, step, middle, values):
        """Extremes of states at the quarters, of channels at start, middle and end; windows open exactly."""
        times = [step.t0 + share * (step.t1 - step.t0) for share in observe.QUARTERS]
        if step.t0 < STARTED < step.t1:
            times.append(STARTED)
        for t in times:
            y = step.at(t)
            self.states.see(y, t)
            if t >= STARTED:
                self.later = self.later or observe.Extremes(y, t)
                self.later.see(y, t)
        seen = list(zip((step.t0, middle, step.t1), values))
        if step.t0 < observe.SETTLED < step.t1:
            seen.append((observe.SETTLED, self.look(observe.SETTLED, step.at(observe.SETTLED))[0]))
        for t, value in seen:
            if self.values is None:
                self.values = observe.Extremes(value, t)
                for k in np.nonzero(self.settling)[0]:
                    self.values.low[k], self.values.high[k] = np.inf, -np.inf
            if t < observe.SETTLED:
                value = value.copy()
                value[self.settling] = np.nan
            self.values.see(value, t)

    def sample(self, step):
        """States at the history's instants within the step."""
        while self.next < len(self.times) and self.times[self.next] <= step.t1:
            self.rows.append(step.at(self.times[self.next]))
            self.next += 1

    # -- telling -------------------------------------------------------------------------------

    def result(self, y):
        """Everything, as plain lists and dictionaries."""
        net, self.end = self.network, y
        return {
            "lasts": net.lasts,
            "steps": self.steps,
            "nodes": {name: self.node(k) for k, name in enumerate(net.names)},
            "parts": self.parts(),
            "expectations": [{"name": e.name, "measure": e.measure, "limit": e.limit, "unit": e.unit,
                              "time": e.time} for e in self.expects],
            "balance": self.balance.facts(net.lasts, y),
            "history": self.history(),
        }

    def extreme(self, i, value):
        """lowest, highest (with time) and end of a state, through a unit conversion."""
        s = self.states
        return {"lowest": [value(s.low[i]), s.t_low[i]], "highest": [value(s.high[i]), s.t_high[i]],
                "end": value(self.end[i])}

    def node(self, k):
        """Pressure and temperature of a node."""
        net, out = self.network, {}
        if net.ip[k] >= 0:
            value, i, late = printed("bar", net.air), net.ip[k], self.later
            out["pressure"] = self.extreme(i, value)
            out["pressure_from_20_ms"] = {"lowest": [value(late.low[i]), late.t_low[i]],
                                          "highest": [value(late.high[i]), late.t_high[i]]}
        out["temperature"] = self.extreme(net.it[k], printed("K", net.air))
        return out

    def parts(self):
        """Facts of every part that has equations, and of the reservoirs."""
        net = self.network
        out = {part.name: self.part(part) for part in net.parts}
        for part in net.specs:
            if part.kind == "reservoir":
                i = net.iv[net.index[part.ports["at"]]]
                out[part.name] = {"level": dict(self.extreme(i, lambda v: v * 1e6), start=net.y0[i] * 1e6)}
        for watcher in self.crossings + self.engagements:
            out[watcher.part.name].update(watcher.facts())
        return {part.name: out[part.name] for part in net.specs if part.name in out}

    def part(self, part):
        """States and channels of one part."""
        net, out = self.network, {}
        for offset, (label, _, _, unit) in enumerate(part.states()):
            if label in STATE_FACTS:
                out[label] = self.extreme(part.at + offset, printed(unit, net.air))
        for k, (name, fact, _) in enumerate(self.channels):
            if name == part.name:
                v = self.values
                out[fact] = {"lowest": [v.low[k], v.t_low[k]], "highest": [v.high[k], v.t_high[k]],
                             "end": self.last[k]}
                if fact.split("_")[0] in MEANS:
                    out[fact]["mean"] = self.integral[k] / net.lasts
        return out

    def history(self):
        """Sampled states, one list a state."""
        net, rows = self.network, np.array(self.rows)
        columns = {}
        for i, (label, unit) in enumerate(net.labels):
            value = printed(unit, net.air)
            columns[label] = [value(v) for v in rows[:, i]]
        return {"time": list(self.times), "states": columns}


def printed(unit, air):
    """SI to the unit in which a state is told: bar gauge, degC, or a plain factor."""
    if unit == "bar":
        return lambda v: (v - air) * 1e-5
    if unit == "K":
        return lambda v: v - 273.15
    return lambda v: v * unit


def instants(network, schedule):
    """About 200 instants, and a few just after each breakpoint known beforehand."""
    end = network.lasts
    times = {round(end * k / INSTANTS, 9) for k in range(INSTANTS + 1)}
    t = 0.0
    while t < end:
        times.update(round(t + d, 9) for d in AFTER if t + d < end)
        for made in network.inputs:
            made.begin(t)
        t = min([schedule.next_after(t)] + [made.next_break(t) for made in network.inputs])
    for made in network.inputs:
        made.begin(0.0)
    return sorted(times)
