"""Pump, motor, accumulator, cylinder, friction pack: parts with power, stores or moving masses.

Same protocol as resistances.py.  `p_in` is power brought into the oil and metal, `p_out` power
that leaves them, for the energy balance.
"""

import math

import nitrogen
import quantity
import spec as specs
from resistance import ORIFICE_PORT, RATED_DENSITY, clamp01, square

STARVED = 1e4              # Pa absolute, outflow of a node fades below it
TWO_PI = 2.0 * math.pi
EMPTYING = 0.001           # share of the size over which an accumulator's outflow fades
STOP_DEPTH = 0.001         # share of the stroke
STOP_PRESSURE = 200e5      # Pa on the head area
CREEP = 1e-3               # m/s, rounding of Coulomb friction
SLIP = 0.1                 # rad/s, rounding of a pack's torque
TURNING = 1.0              # rad/s, rounding of loads and losses at standstill
COUNTED = 0.01             # share of the input speed below which a pack is locked


def slip_constant(part, rating, flow_less):
    """C_s D: slip flow times dynamic viscosity over pressure, from a rated point (860 kg/m3)."""
    ideal = part.si("displacement") * part.si(rating + ".at.speed")
    slip = flow_less * (ideal - part.si(rating + ".flow"))
    return slip * RATED_DENSITY * part.si(rating + ".at.viscosity") / part.si(rating + ".at.pressure")


class Pump:
    """Delivery u D n from -> to, slip to -> drain, loss heat into `to`; optional compensator."""

    def __init__(self, part, net):
        self.name, self.kind = part.name, part.kind
        self.touches = [part.ports[p] for p in ("from", "to", "drain")]
        self.i, self.j, self.drain = (net.index[n] for n in self.touches)
        self.d, self.eta = part.si("displacement"), part.si("mechanical_efficiency")
        self.drag = part.si("drag", "0 Nm")
        self.c = slip_constant(part, "delivers", 1.0)
        self.speed = net.drive(part.name)
        self.regulated = "compensator" in part.keys
        if self.regulated:
            self.set, self.band, self.lag = (part.si("compensator." + k) for k in ("set", "band", "lag"))
        self.u = 1.0

    def wanted(self, gauge):
        """u_w = clamp(1 + (set - p_to)/band, 0, 1)."""
        return clamp01(1.0 + (self.set - gauge) / self.band)

    def states(self):
        return [("swivel", self.wanted(self.p_start - self.air), 1e-10, 1.0)] if self.regulated else []

    def prepare(self, net, start):
        """Remember the outlet pressure from which the compensator starts in balance."""
        self.p_start, self.air = start[self.j], net.air

    def act(self, net, t, y, dy):
        if self.regulated:
            self.u = y[self.at]
            dy[self.at] = (self.wanted(net.p[self.j] - net.air) - self.u) / self.lag
        n = self.speed.at(t)
        self.dp = dp = net.p[self.j] - net.p[self.i]
        self.swept = q = net.carry(self.i, self.j, self.u * self.d * n, 0.0)
        back = net.p[self.j] - net.p[self.drain]
        self.slip = net.carry(self.j, self.drain, self.c * back / net.mu[self.i], back)
        loss = q * abs(dp) * (1.0 / self.eta - 1.0)
        net.heat[self.j] += loss
        self.q = q - self.slip
        self.p_in = q * dp + loss
        self.power = self.p_in + self.drag * TWO_PI * n


class Motor:
    """Displacement flow D n from -> to, slip of both ports -> drain; the shaft an inertia against its load."""

    def __init__(self, part, net):
        self.name, self.kind = part.name, part.kind
        self.touches = [part.ports[p] for p in ("from", "to", "drain")]
        self.i, self.j, self.drain = (net.index[n] for n in self.touches)
        self.d, self.eta = part.si("displacement"), part.si("mechanical_efficiency")
        self.c = slip_constant(part, "turns_at", -1.0)
        self.inertia, self.load = part.si("inertia"), net.load(part.name, part.si("load"))
        self.omega = 0.0

    def states(self):
        return [("speed", 0.0, 1e-8, 60.0 / TWO_PI)]

    def act(self, net, t, y, dy):
        self.omega = w = y[self.at]
        self.dp = dp = net.p[self.i] - net.p[self.j]
        swept = net.carry(self.i, self.j, self.d * w / TWO_PI, 0.0)
        slip, other = (net.carry(k, self.drain, self.c * (net.p[k] - net.p[self.drain]) / net.mu[k],
                                 net.p[k] - net.p[self.drain]) for k in (self.i, self.j))
        turning = math.tanh(w / TURNING)
        lost = (1.0 - self.eta) * self.d * abs(dp) / TWO_PI * turning
        self.torque = self.d * dp / TWO_PI - lost
        net.heat[self.i if swept < 0.0 else self.j] += lost * w
        load = self.load.at(t)
        dy[self.at] = (self.torque - (load if load < 0.0 else load * turning)) / self.inertia
        self.q = swept - other if swept < 0.0 else swept + slip
        self.p_out = self.torque * w


class Accumulator:
    """Real nitrogen behind an orifice; states gas volume and gas temperature."""

    def __init__(self, part, net):
        self.name, self.kind = part.name, part.kind
        self.touches = [part.ports["at"]]
        self.i = net.index[part.ports["at"]]
        self.size, self.tau = part.si("size"), part.si("time_constant")
        self.k = ORIFICE_PORT * math.pi / 4.0 * part.si("inlet") ** 2 * math.sqrt(2.0)
        filled = part.keys["precharge"]
        cold = quantity.temperature(filled.get("temperature", "20 degC"))
        self.m = self.size * nitrogen.density(quantity.pressure(filled["pressure"], net.air), cold)

    def prepare(self, net, start):
        """Gas at ambient temperature and charge pressure, empty without charge; in a repeat as it was,
        brought to charge pressure (or, empty, to its whole volume) at its entropy."""
        self.t_start, self.v_start = net.ambient, self.size
        warm = net.carried.get((self.name, "gas_temperature"))
        if warm is None:
            if net.charge is not None:
                self.v_start = min(self.size, self.m / nitrogen.density(net.charge, self.t_start))
            return
        s = nitrogen.entropy(self.m / net.carried[(self.name, "gas_volume")], warm)
        if net.charge is not None:
            rho, self.t_start = nitrogen.along_entropy(s, net.charge)
            self.v_start = self.m / rho
        if net.charge is None or self.v_start > self.size:
            self.v_start = self.size
            self.t_start = nitrogen.warmth(s, self.m / self.size)

    def states(self):
        return [("gas_volume", self.v_start, 1e-14, 1e6), ("gas_temperature", self.t_start, 1e-7, "K")]

    def contents(self, y):
        """Oil in it."""
        return self.size - y[self.at]

    def act(self, net, t, y, dy):
        v, tg = y[self.at], y[self.at + 1]
        self.p_gas, c_v, slope = nitrogen.gas(self.m / v, tg)
        self.oil = self.size - v
        dp = net.p[self.i] - self.p_gas
        q = self.k / math.sqrt(net.rho[self.i]) * square(dp)
        q *= net.fade[self.i] if q > 0.0 else clamp01(self.oil / (EMPTYING * self.size))
        net.net[self.i] -= q
        net.heat[self.i] += q * dp
        net.share[self.i] += self.oil
        if q < 0.0:
            net.gross[self.i] -= q
        self.q = q
        dy[self.at] = -q
        cooling = (net.ambient - tg) / self.tau
        dy[self.at + 1] = cooling + tg / (self.m * c_v) * slope * q
        self.p_out = -self.m * c_v * cooling


class Cylinder:
    """A moving mass between two stops; states position and speed."""

    def __init__(self, part, net):
        self.name, self.kind = part.name, part.kind
        self.touches = [part.ports[p] for p in ("head", "rod") if p in part.ports]
        self.head = net.index[part.ports["head"]]
        self.rod = net.index[part.ports["rod"]] if "rod" in part.ports else None
        self.area = math.pi / 4.0 * part.si("bore") ** 2
        self.rod_area = self.area - math.pi / 4.0 * part.si("rod_diameter") ** 2 if self.rod is not None else 0.0
        self.stroke, self.mass = part.si("stroke"), part.si("moving_mass")
        self.coulomb = part.si("friction.coulomb", "0 N")
        self.viscous = part.si("friction.viscous", 0)
        self.preload, self.rate = part.si("spring.preload", "0 N"), part.si("spring.rate", 0)
        self.dead_head = part.si("dead_volume.head", "0 cm3")
        self.dead_rod = part.si("dead_volume.rod", "0 cm3")
        self.load = net.load(part.name, part.si("load", "0 N"))
        self.depth = STOP_DEPTH * self.stroke
        self.stiff = max(self.preload, STOP_PRESSURE * self.area) / self.depth
        self.damping = 2.0 * math.sqrt(self.stiff * self.mass)

    def push(self, p_head, p_rod, air):
        """Oil force towards extended."""
        return (p_head - air) * self.area - (p_rod - air) * self.rod_area

    def prepare(self, net, start):
        """Balance on the stop where it rests on one, else at the position given."""
        self.x_start = net.position(self.name)
        p_rod = start[self.rod] if self.rod is not None else net.air
        free = self.push(start[self.head], p_rod, net.air) - self.preload - self.load.at(0.0)
        whole = self.stiff + self.rate
        if self.x_start <= 0.0:
            self.x_start = min(0.0, free / whole)
        elif self.x_start >= self.stroke:
            self.x_start = self.stroke + max(0.0, (free - self.rate * self.stroke) / whole)

    def states(self):
        return [("position", self.x_start, 1e-12, 1e3), ("speed", 0.0, 1e-8, 1.0)]

    def stop(self, depth, speed):
        """Push of a stop entered by `depth` at `speed` inwards: stiffness, fading damping, never pulling."""
        if depth <= 0.0:
            return 0.0
        return max(0.0, self.stiff * depth + self.damping * min(1.0, depth / self.depth) * speed)

    def act(self, net, t, y, dy):
        x, v = y[self.at], y[self.at + 1]
        p_head = net.p[self.head]
        p_rod = net.p[self.rod] if self.rod is not None else net.air
        oil = self.push(p_head, p_rod, net.air)
        force = oil - self.preload - self.rate * x - self.load.at(t)
        force -= self.coulomb * math.tanh(v / CREEP) + self.viscous * v
        force += self.stop(-x, -v) - self.stop(x - self.stroke, v)
        dy[self.at], dy[self.at + 1] = v, force / self.mass
        net.chamber[self.head] += self.dead_head + self.area * x
        net.swept[self.head] += self.area * v
        if self.rod is not None:
            net.chamber[self.rod] += self.dead_rod + self.rod_area * (self.stroke - x)
            net.swept[self.rod] -= self.rod_area * v
        self.x, self.v, self.p_out = x, v, oil * v

    def cuts(self):
        """Quantities whose change of sign ends a step: both stops."""
        at, stroke = self.at, self.stroke
        return [lambda t, y: y[at], lambda t, y: y[at] - stroke]


class Pack:
    """Spring-clamped friction pack released by a cylinder; states output speed and plate temperature."""

    def __init__(self, part, net):
        self.name, self.kind = part.name, part.kind
        self.cylinder = net.find(part.keys["released_by"])
        self.touches = self.cylinder.touches[:1]
        self.faces = part.si("faces")
        self.radius = mean_radius(part)
        self.take_up = part.si("take_up", "0.02 mm")
        self.full = self.take_up + self.faces * part.si("clearance", "0 mm")
        self.mu = specs.points(part.keys["friction"], quantity.plain, quantity.temperature)
        plates = part.keys["plates"]
        self.m = quantity.plain(plates["mass"])
        self.c = specs.points(plates["specific_heat"], quantity.plain, quantity.temperature)
        self.drag = part.si("drag", "0 Nm")
        self.inertia = part.si("driven.inertia")
        self.load = net.load(part.name, part.si("driven.load"))
        self.speed = net.drive(part.name)
        self.to_cylinder, self.to_air = part.si("to_cylinder"), part.si("to_air")

    def prepare(self, net, start):
        """Plates as begun or carried over."""
        self.t_start = net.carried.get((self.name, "plate_temperature"), net.plates)
        self.w_start, self.air = net.output, net.air

    def states(self):
        return [("output_speed", self.w_start, 1e-8, 60.0 / TWO_PI), ("plate_temperature", self.t_start, 1e-7, "K")]

    def released(self, x):
        """Share of the drag torque: rises over the clearance to 1 at full release."""
        if self.full > self.take_up:
            return clamp01((x - self.take_up) / (self.full - self.take_up))
        return clamp01(x / self.take_up)

    def clamp(self, x, p_head):
        """Clamp force: spring preload less oil force, fading over the take-up."""
        force = max(0.0, self.cylinder.preload - (p_head - self.air) * self.cylinder.area)
        return force * clamp01(1.0 - max(0.0, x) / self.take_up)

    def act(self, net, t, y, dy):
        w, tp = y[self.at], y[self.at + 1]
        cyl = self.cylinder
        x = y[cyl.at]
        self.slip = self.speed.at(t) * TWO_PI - w
        gripping = specs.interpolate(self.mu, tp) * self.faces * self.radius * self.clamp(x, net.p[cyl.head])
        self.torque = (gripping + self.drag * self.released(x)) * math.tanh(self.slip / SLIP)
        self.p_in = self.torque * self.slip
        air = self.to_air * (tp - net.ambient)
        oil = self.to_cylinder * (tp - net.T[cyl.head])
        net.heat[cyl.head] += oil
        load = self.load.at(t)
        dy[self.at] = (self.torque - (load if load < 0.0 else load * math.tanh(w / TURNING))) / self.inertia
        dy[self.at + 1] = (self.p_in - air - oil) / (self.m * specs.interpolate(self.c, tp))
        self.p_out = air

    def slipping(self, t, y):
        """Whether the slip is beyond 1 % of the input speed; of a brake, of the speed its output began with."""
        speed = self.speed.at(t) * TWO_PI
        return abs(speed - y[self.at]) > (COUNTED * abs(speed if speed else self.w_start) or 2.0 * SLIP)


def mean_radius(part):
    """Effective radius: uniform wear (r_o + r_i)/2, uniform pressure 2/3 (r_o^3 - r_i^3)/(r_o^2 - r_i^2)."""
    inner, outer = part.si("inner_radius"), part.si("outer_radius")
    if part.keys.get("contact", "uniform-wear") == "uniform-wear":
        return 0.5 * (outer + inner)
    return 2.0 / 3.0 * (outer ** 3 - inner ** 3) / (outer ** 2 - inner ** 2)


KINDS = {"pump": Pump, "motor": Motor, "accumulator": Accumulator, "cylinder": Cylinder,
         "friction-pack": Pack}
