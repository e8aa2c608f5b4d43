"""Parts that let oil pass according to the pressures at their ports.

Each has `states()` (label, start, absolute tolerance, print factor) and `act(net, t, y, dy)`,
which moves its flows with `net.carry`.  Properties are the mean of the two nodes' values.
"""

import math

import quantity
from resistance import G, Pipe, clamp01, one_sided, rated, smooth_step, square


class Resistance:
    """What parts from `from` to `to` share."""

    def __init__(self, part, net):
        self.name, self.kind = part.name, part.kind
        self.i, self.j = net.index[part.ports["from"]], net.index[part.ports["to"]]
        self.q = self.dp = 0.0
        self.touches = [part.ports["from"], part.ports["to"]]

    def states(self):
        """No state of its own."""
        return []

    def act(self, net, t, y, dy):
        """Flow of the present pressures, and its heat."""
        self.dp = dp = net.p[self.i] - net.p[self.j]
        self.q = net.carry(self.i, self.j, self.flow(net, dp), dp)

    def mean(self, values):
        """Mean of a property over the two nodes."""
        return 0.5 * (values[self.i] + values[self.j])

    def square_factor(self, net):
        """sqrt(860/rho) folded into a rated k."""
        return self.k / math.sqrt(self.mean(net.rho))


class Line(Resistance):
    """Tube or hose: Darcy-Weisbach with Churchill, losses, elevation."""

    def __init__(self, part, net):
        super().__init__(part, net)
        self.pipe = Pipe(part.si("bore"), part.si("length"), part.si("roughness", "0.0015 mm"),
                         part.si("losses", 0))
        self.rise = G * part.si("elevation", "0 m")
        self.length = part.si("length")

    def act(self, net, t, y, dy):
        rho, mu = self.mean(net.rho), self.mean(net.mu)
        self.dp = net.p[self.i] - net.p[self.j]
        drive = self.dp - rho * self.rise
        self.along = drive
        self.q = net.carry(self.i, self.j, self.pipe.flow(drive, rho, mu), drive)
        net.lifting += self.q * rho * self.rise
        self.re = abs(self.q) * rho * self.pipe.bore / (mu * self.pipe.area)


class Orifice(Resistance):
    """Q = C_d A sqrt(2 dp/rho), rounded."""

    def __init__(self, part, net):
        super().__init__(part, net)
        self.k = part.si("discharge", 0.61) * math.pi / 4.0 * part.si("diameter") ** 2 * math.sqrt(2.0)

    def flow(self, net, dp):
        return self.square_factor(net) * square(dp)


class Check(Resistance):
    """Square law in dp - cracking, closed below and backwards."""

    def __init__(self, part, net):
        super().__init__(part, net)
        self.k = rated(part.si("flow"), part.si("drop"))
        self.cracking = part.si("cracking")

    def flow(self, net, dp):
        return self.square_factor(net) * one_sided(dp - self.cracking)


class PilotCheck(Check):
    """A check valve that its pilot opens backwards, rounded over 1 bar."""

    def __init__(self, part, net):
        super().__init__(part, net)
        self.ratio, self.pilot = part.si("ratio"), net.index[part.ports["pilot"]]
        self.touches.append(part.ports["pilot"])

    def flow(self, net, dp):
        if dp >= 0.0:
            return super().flow(net, dp)
        excess = net.p[self.pilot] - net.p[self.i] - (self.cracking - dp) / self.ratio
        opening = smooth_step(excess / 1e5)
        return opening * self.square_factor(net) * square(dp) if opening else 0.0


class Shuttle:
    """The higher of a and b feeds `to`; the share of a rises over 1 bar around equality."""

    def __init__(self, part, net):
        self.name, self.kind = part.name, part.kind
        self.touches = [part.ports[p] for p in ("a", "b", "to")]
        self.a, self.b, self.to = (net.index[n] for n in self.touches)
        self.k = rated(part.si("flow"), part.si("drop"))
        self.qa = self.qb = 0.0

    def states(self):
        return []

    def act(self, net, t, y, dy):
        share = smooth_step(0.5 + (net.p[self.a] - net.p[self.b]) / 1e5)
        self.qa = self.leg(net, self.a, share)
        self.qb = self.leg(net, self.b, 1.0 - share)

    def leg(self, net, i, share):
        """Flow of one inlet with its share of the opening."""
        if share == 0.0:
            return 0.0
        dp = net.p[i] - net.p[self.to]
        k = self.k / math.sqrt(0.5 * (net.rho[i] + net.rho[self.to]))
        return net.carry(i, self.to, share * k * square(dp), dp)


class Relief(Resistance):
    """Closed below cracking, then flow (dp - cracking)/override."""

    def __init__(self, part, net):
        super().__init__(part, net)
        self.cracking = part.si("cracking")
        self.conductance = part.si("flow") / part.si("override")

    def flow(self, net, dp):
        return self.conductance * (dp - self.cracking) if dp > self.cracking else 0.0


class Regulator(Resistance):
    """flow clamp(dp/needs, 0, 1)."""

    def __init__(self, part, net):
        super().__init__(part, net)
        self.held, self.needs = part.si("flow"), part.si("needs")

    def flow(self, net, dp):
        return self.held * clamp01(dp / self.needs)


class Filter(Resistance):
    """Element linear in flow and kinematic viscosity (mu/rho, so Barus included); bypass a square law above its cracking."""

    def __init__(self, part, net):
        super().__init__(part, net)
        flow, drop = part.si("flow"), part.si("drop")
        self.element = flow / drop * part.si("viscosity")
        self.k = rated(flow, drop)
        self.bypass = part.si("bypass") if "bypass" in part.keys else math.inf

    def flow(self, net, dp):
        rho = self.mean(net.rho)
        q = self.element * dp * rho / self.mean(net.mu)
        if dp > self.bypass:
            q += self.k / math.sqrt(rho) * one_sided(dp - self.bypass)
        return q


class Cooler(Resistance):
    """Square law; takes w (1 - exp(-G/w)) (T_up - T_coolant) from its downstream node."""

    def __init__(self, part, net):
        super().__init__(part, net)
        self.k = rated(part.si("flow"), part.si("drop"))
        self.conductance = part.si("conductance")
        self.coolant = quantity.temperature(part.keys["coolant"])
        self.heat = 0.0

    def act(self, net, t, y, dy):
        self.dp = dp = net.p[self.i] - net.p[self.j]
        self.q = q = net.carry(self.i, self.j, self.square_factor(net) * square(dp), dp)
        up, down = (self.i, self.j) if q >= 0.0 else (self.j, self.i)
        w = net.rho[up] * net.fluid.c * abs(q)
        self.heat = w * -math.expm1(-self.conductance / w) * (net.T[up] - self.coolant) if w else 0.0
        net.heat[down] -= self.heat


class Consumer(Resistance):
    """Its demand times clamp(dp / 1 bar, 0, 1)."""

    def __init__(self, part, net):
        super().__init__(part, net)
        self.demand = net.signal("demands", part.name)

    def act(self, net, t, y, dy):
        self.dp = dp = net.p[self.i] - net.p[self.j]
        self.q = net.carry(self.i, self.j, self.demand.at(t) * clamp01(dp / 1e5), dp)


class Directional:
    """Directional valve of four or three ports: lagging spool, metering edges, leak."""

    def __init__(self, part, net):
        self.name, self.kind = part.name, part.kind
        self.ports = {p: net.index[part.ports[p]] for p in ("p", "t", "a", "b") if p in part.ports}
        self.touches = [part.ports[p] for p in self.ports]
        self.k, self.lag = rated(part.si("flow"), part.si("drop")), part.si("lag")
        self.leak = part.si("leak.flow") / part.si("leak.pressure") if "leak" in part.keys else 0.0
        self.stuck = part.si("stuck") if "stuck" in part.keys else None
        rest = part.si("rest")
        self.start = net.begin_spool(part.name, rest) if self.stuck is None else self.stuck
        self.command = net.command(part.name, self.start)
        self.pairs = [("p", "a", 1.0), ("a", "t", -1.0)]
        if "b" in self.ports:
            self.pairs += [("p", "b", -1.0), ("b", "t", 1.0)]
        self.s = self.start
        self.flows = {}

    def states(self):
        return [("spool", self.start, 1e-9, 1.0)]

    def act(self, net, t, y, dy):
        s = self.s = y[self.at]
        dy[self.at] = 0.0 if self.stuck is not None else (self.command.at(t) - s) / self.lag
        closed = self.leak * max(0.0, 1.0 - abs(s))
        for first, second, sign in self.pairs:
            self.flows[first + second] = self.edge(net, first, second, max(0.0, s * sign), closed)
        if self.leak:
            self.flows["pt"] = self.edge(net, "p", "t", 0.0, self.leak)

    def flow_names(self):
        """Its ways, as pairs of ports."""
        return [first + second for first, second, _ in self.pairs] + ["pt"]

    def edge(self, net, first, second, opening, leak):
        """Flow between two ports: metering edge and leak together."""
        i, j = self.ports[first], self.ports[second]
        dp = net.p[i] - net.p[j]
        q = leak * dp
        if opening > 0.0:
            q += opening * self.k / math.sqrt(0.5 * (net.rho[i] + net.rho[j])) * square(dp)
        return net.carry(i, j, q, dp) if q else 0.0


class Reducing:
    """Pressure-reducing valve: o = clamp((w - p_a)/band, -1, 1), w the lagging command, gauge."""

    def __init__(self, part, net):
        self.name, self.kind = part.name, part.kind
        self.touches = [part.ports[p] for p in ("p", "a", "t")]
        self.p, self.a, self.t = (net.index[n] for n in self.touches)
        self.k, self.lag, self.band = rated(part.si("flow"), part.si("drop")), part.si("lag"), part.si("band")
        self.start = part.si("rest")
        self.command = net.command(part.name, self.start)
        self.stuck = part.si("stuck") if "stuck" in part.keys else None
        self.qp = self.qt = self.o = 0.0

    def states(self):
        return [("wanted", self.start, 1e-3, 1e-5)]

    def act(self, net, t, y, dy):
        w = y[self.at]
        dy[self.at] = (self.command.at(t) - w) / self.lag
        self.o = o = self.stuck if self.stuck is not None else (
            max(-1.0, min(1.0, (w - (net.p[self.a] - net.air)) / self.band)))
        self.qp = self.leg(net, self.p, self.a, o) if o > 0.0 else 0.0
        self.qt = self.leg(net, self.a, self.t, -o) if o < 0.0 else 0.0

    def leg(self, net, i, j, opening):
        """Square law times the opening."""
        dp = net.p[i] - net.p[j]
        return net.carry(i, j, opening * self.k / math.sqrt(0.5 * (net.rho[i] + net.rho[j])) * square(dp), dp)


KINDS = {"tube": Line, "hose": Line, "orifice": Orifice, "check-valve": Check,
         "pilot-check-valve": PilotCheck, "shuttle-valve": Shuttle, "relief-valve": Relief,
         "flow-regulator": Regulator, "filter": Filter, "cooler": Cooler, "consumer": Consumer,
         "directional-valve": Directional, "reducing-valve": Reducing}
