"""A circuit in one case as a system of ordinary differential equations.

States, in order: pressure of every node that is no reservoir, temperature of every node, content
of every reservoir, then the states of each part in the order of the spec.
"""

import math

import numpy as np

import machines
import quantity as q
import resistances
import signals
import spec as specs
from fluid import P0
from machines import STARVED

LEAST_VOLUME = 1e-6        # m3, of any node
PASSES_CHARGE = {"tube": "both", "hose": "both", "filter": "both", "check-valve": "forward"}


class Network:
    """Nodes, parts and their equations; `carried` holds the temperatures that a repeat takes over."""

    def __init__(self, circuit, case, carried=None):
        self.circuit, self.case = circuit, circuit.cases[case]
        self.fluid, self.air, self.carried = circuit.fluid, circuit.air, carried or {}
        self.specs = circuit.parts(case)
        self.read_begins()
        self.place_nodes()
        self.commands, self.inputs, self.switched = {}, [], []
        self.start_p = self.starting_pressures()
        self.parts = []
        for part in sorted(self.specs, key=lambda p: p.kind == "friction-pack"):
            self.add(part)
        order = {part.name: k for k, part in enumerate(self.specs)}
        self.parts.sort(key=lambda p: order[p.name])
        self.lay_out()

    # -- the case ------------------------------------------------------------------------------

    def read_begins(self):
        """What `begins` says, with its defaults."""
        begins = self.case.get("begins", {})
        self.begins = begins
        self.t_fluid = q.temperature(begins["fluid"]) if "fluid" in begins else self.circuit.ambient
        lower = min(self.circuit.ambient, self.t_fluid)
        self.ambient = q.temperature(begins["ambient"]) if "ambient" in begins else lower
        self.charge = q.pressure(begins["charge"], self.air) if "charge" in begins else None
        self.plates = q.temperature(begins["plates"]) if "plates" in begins else self.ambient
        self.output = q.plain(begins.get("output", "0 rpm")) * machines.TWO_PI
        self.lasts = q.plain(self.case["lasts"])

    def begin_spool(self, name, rest):
        """Spool position at the start."""
        return q.plain(self.begins.get("spools", {}).get(name, rest))

    def position(self, name):
        """Cylinder position at the start."""
        return q.plain(self.begins.get("positions", {}).get(name, "0 mm"))

    def signal(self, table, name, default=0.0):
        """A profile of the case, or a constant."""
        value = self.case.get(table, {}).get(name)
        made = signals.Profile(specs.points(value)) if value is not None else signals.Signal(default)
        self.inputs.append(made)
        return made

    def load(self, name, own):
        """A part's load: the case's `loads` instead of its own."""
        return self.signal("loads", name, own)

    def drive(self, name):
        """Speed of a pump or of a pack's input, rev/s; a pump switched by pressure where so written."""
        value = self.case.get("drives", {}).get(name)
        if not isinstance(value, dict):
            return self.signal("drives", name)
        node = self.index[value["at"]]
        made = signals.Switched(node, q.pressure(value["on_below"], self.air),
                                q.pressure(value["off_above"], self.air), q.plain(value["speed"]),
                                self.start_p[node])
        self.inputs.append(made)
        self.switched.append(made)
        return made

    def command(self, name, start):
        """The command of a valve, at first its start."""
        made = signals.Command(start)
        self.inputs.append(made)
        self.commands[name] = made
        return made

    # -- nodes ---------------------------------------------------------------------------------

    def place_nodes(self):
        """Nodes in the order in which ports first name them; volumes, compliance, metal."""
        names = list(dict.fromkeys(n for part in self.specs for n in part.ports.values()))
        self.names, self.index = names, {n: k for k, n in enumerate(names)}
        count = len(names)
        self.base, self.hose = [0.0] * count, [0.0] * count
        self.metal, self.shed = [0.0] * count, [0.0] * count
        self.fixed = [None] * count
        for name, facts in self.circuit.nodes.items():
            if "volume" in facts:
                self.base[self.index[name]] += q.plain(facts["volume"])
        for part in self.specs:
            self.place(part)

    def place(self, part):
        """What one part adds to its nodes: half-lines, hose compliance, metal, a fixed pressure."""
        if part.kind in ("tube", "hose"):
            half = 0.5 * math.pi / 4.0 * part.si("bore") ** 2 * part.si("length")
            give = 0.5 * part.si("stretch", 0) * part.si("length") if part.kind == "hose" else 0.0
            for port in ("from", "to"):
                self.base[self.index[part.ports[port]]] += half
                self.hose[self.index[part.ports[port]]] += give
        if part.kind == "reservoir":
            self.fixed[self.index[part.ports["at"]]] = q.pressure(part.keys.get("pressure", "0 bar"), self.air)
        node = part.heat_node()
        if part.kind == "friction-pack":  # its housing is as warm as its cylinder
            node = next(p for p in self.specs if p.name == part.keys["released_by"]).heat_node()
        if node is not None:
            self.metal[self.index[node]] += part.si("heat_capacity", "0 J/K")
            self.shed[self.index[node]] += part.si("to_ambient", "0 W/K")

    def starting_pressures(self):
        """`charge` on pressure nodes, the first reservoir's pressure on all others."""
        rest = next(p for p in self.fixed if p is not None)
        pressed = self.pressure_nodes() if self.charge is not None else set()
        return [p if p is not None else (self.charge if name in pressed else rest)
                for p, name in zip(self.fixed, self.names)]

    def pressure_nodes(self):
        """Role pressure, or reached from a pump outlet or accumulator through lines, filters, check valves."""
        reached = {p.ports["to"] for p in self.specs if p.kind == "pump"}
        reached |= {p.ports["at"] for p in self.specs if p.kind == "accumulator"}
        tanks = {n for n, p in zip(self.names, self.fixed) if p is not None}
        ways = [p for p in self.specs if p.kind in PASSES_CHARGE]
        grown = True
        while grown:
            before = len(reached)
            for part in ways:
                a, b = part.ports["from"], part.ports["to"]
                if a in reached and b not in tanks:
                    reached.add(b)
                if b in reached and a not in tanks and PASSES_CHARGE[part.kind] == "both":
                    reached.add(a)
            grown = len(reached) > before
        role = {n: facts["role"] for n, facts in self.circuit.nodes.items() if "role" in facts}
        stores = {p.ports["at"] for p in self.specs if p.kind == "accumulator"}
        return {n for n in self.names if n not in tanks and (n in stores
                or role.get(n, "pressure" if n in reached else None) == "pressure")}

    # -- parts and states ------------------------------------------------------------------------

    def add(self, part):
        """Build the equations of one part; a reservoir is a node's matter."""
        kind = machines.KINDS.get(part.kind) or resistances.KINDS.get(part.kind)
        if kind is None:
            return
        made = kind(part, self)
        if hasattr(made, "prepare"):
            made.prepare(self, self.start_p)
        self.parts.append(made)

    def find(self, name):
        """A part's equations by name."""
        return next(p for p in self.parts if p.name == name)

    def lay_out(self):
        """Number the states; start values, tolerances, labels, couplings."""
        self.y0, self.atol, self.labels = [], [], []
        self.ip, self.it, self.iv = [], [], []
        for name, fixed, p in zip(self.names, self.fixed, self.start_p):
            self.ip.append(self.state(f"{name}.pressure", p, 1e-3, "bar") if fixed is None else -1)
        for name in self.names:
            start = self.carried.get((name, "temperature"), self.t_fluid)
            self.it.append(self.state(f"{name}.temperature", start, 1e-7, "K"))
        for name, fixed in zip(self.names, self.fixed):
            self.iv.append(self.state(f"{name}.content", 0.0, 1e-13, 1e6) if fixed is not None else -1)
        for part in self.parts:
            part.at = len(self.y0)
            for label, start, atol, unit in part.states():
                self.state(f"{part.name}.{label}", start, atol, unit)
        self.clear()
        self.fill_reservoirs()
        self.y0 = np.array(self.y0)
        self.atol = np.array(self.atol)

    def state(self, label, start, atol, unit):
        """One more state; returns its number."""
        self.y0.append(start)
        self.atol.append(atol)
        self.labels.append((label, unit))
        return len(self.y0) - 1

    def fill_reservoirs(self):
        """Content at the start: fill and the expansion of the whole charge from 15 degC (first reservoir)."""
        more = self.fluid.rho15 / self.fluid.density(self.t_fluid, P0) - 1.0
        elsewhere = 0.0
        y = list(self.y0)
        self.derivative_of_parts(0.0, y, [0.0] * len(y))
        for k in range(len(self.names)):
            if self.fixed[k] is None:
                elsewhere += max(self.base[k] + self.chamber[k], LEAST_VOLUME)
            elsewhere += self.share[k]
        for part in self.specs:
            if part.kind == "reservoir":
                fill = part.si("fill")
                self.y0[self.iv[self.index[part.ports["at"]]]] = fill * (1.0 + more) + more * elsewhere
                elsewhere = 0.0

    # -- the equations -----------------------------------------------------------------------------

    def clear(self):
        """Sums of one evaluation."""
        n = len(self.names)
        self.p, self.T = [0.0] * n, [0.0] * n
        self.rho, self.nu, self.mu = [0.0] * n, [0.0] * n, [0.0] * n
        self.k_eff, self.alpha, self.fade = [0.0] * n, [0.0] * n, [1.0] * n

    def carry(self, i, j, flow, dp):
        """Move oil from i to j (backwards if negative); flow * dp heats the node it enters.

        The flow is measured at the state of the node it leaves, fades where that node runs
        empty, and enters the other as flow * rho_up/rho.  Returns the flow after fading.
        """
        if flow == 0.0:
            return 0.0
        if flow > 0.0:
            flow *= self.fade[i]
            r = self.rho[i]
            self.net[i] -= flow
            inflow = flow * r / self.rho[j]
            self.squeezing += (flow - inflow) * (self.p[j] - self.air)
            self.net[j] += inflow
            self.gross[j] += inflow
            self.heat[j] += flow * (r * self.fluid.c * (self.T[i] - self.T[j]) + dp)
        else:
            flow *= self.fade[j]
            r = self.rho[j]
            self.net[j] += flow
            inflow = flow * r / self.rho[i]
            self.squeezing -= (flow - inflow) * (self.p[i] - self.air)
            self.net[i] -= inflow
            self.gross[i] -= inflow
            self.heat[i] -= flow * (r * self.fluid.c * (self.T[j] - self.T[i]) - dp)
        return flow

    def derivative_of_parts(self, t, y, dy):
        """Node properties, then every part's flows and state derivatives."""
        n = len(self.names)
        state = self.fluid.state
        for k in range(n):
            i = self.ip[k]
            p = y[i] if i >= 0 else self.fixed[k]
            temperature = y[self.it[k]]
            self.p[k], self.T[k] = p, temperature
            self.rho[k], self.nu[k], self.mu[k], self.k_eff[k], self.alpha[k] = state(temperature, p)
            self.fade[k] = 1.0 if p >= STARVED else max(0.0, p / STARVED)
        self.net, self.heat, self.gross = [0.0] * n, [0.0] * n, [0.0] * n
        self.chamber, self.swept, self.share = [0.0] * n, [0.0] * n, [0.0] * n
        self.lifting = self.squeezing = 0.0
        for part in self.parts:
            part.act(self, t, y, dy)

    def rhs(self, t, y):
        """dy/dt; not a number where a trial state is outside the laws' domain (the step is then halved)."""
        y = y.tolist()
        dy = [0.0] * len(y)
        try:
            self.derivative_of_parts(t, y, dy)
            for k in range(len(self.names)):
                self.node(k, y, dy)
        except (ValueError, ZeroDivisionError, OverflowError):
            return np.full(len(y), np.nan)
        return np.array(dy)

    def node(self, k, y, dy):
        """Temperature, then pressure or content of one node."""
        rho, i = self.rho[k], self.ip[k]
        if i >= 0:
            volume = self.base[k] + self.chamber[k]
            if volume < LEAST_VOLUME:
                volume = LEAST_VOLUME
        else:
            volume = y[self.iv[k]]
        whole = volume + self.share[k]
        heat = self.heat[k] - self.shed[k] * (self.T[k] - self.ambient)
        rate = heat / (rho * self.fluid.c * whole + self.metal[k])
        dy[self.it[k]] = rate
        grown = self.net[k] + whole * self.alpha[k] * rate - self.swept[k]
        if i >= 0:
            dy[i] = grown / (volume / self.k_eff[k] + self.hose[k])
        else:
            dy[self.iv[k]] = grown

    # -- couplings, for the Jacobian -----------------------------------------------------------------

    def couplings(self):
        """Boolean matrix: entry (r, c) where dy_r/dt may depend on y_c (each part couples all it touches)."""
        n = len(self.y0)
        linked = np.eye(n, dtype=bool)
        for part in self.parts:
            own = list(range(part.at, part.at + len(part.states())))
            members = own + [s for name in part.touches for s in self.node_states(name)]
            if isinstance(part, machines.Pack):
                members += [part.cylinder.at, part.cylinder.at + 1]
            linked[np.ix_(members, members)] = True
        for name in self.names:
            members = self.node_states(name)
            linked[np.ix_(members, members)] = True
        return linked

    def node_states(self, name):
        """State numbers of a node."""
        k = self.index[name]
        return [s for s in (self.ip[k], self.it[k], self.iv[k]) if s >= 0]
