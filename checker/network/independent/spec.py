"""Reads a circuit spec: parts with their ports, the fluid in SI, cases with overrides applied.

Catalogue entries (`like`) are not known here; every value has to stand in the file.
"""

import copy
import os

import yaml

import quantity as q
from fluid import Fluid

KINDS = ("reservoir pump accumulator tube hose orifice check-valve pilot-check-valve shuttle-valve "
         "relief-valve flow-regulator filter cooler directional-valve reducing-valve cylinder motor "
         "consumer friction-pack").split()
PORTS = ("at", "from", "to", "drain", "pilot", "a", "b", "p", "t", "head", "rod")
HEAT_PORTS = ("at", "to", "head", "a")        # where a part's metal sits: the first it has


class Part:
    """One part: name, kind, ports {port: node} and the raw keys."""

    def __init__(self, name, keys):
        self.name, self.kind, self.keys = name, keys["kind"], keys
        if self.kind not in KINDS:
            raise ValueError(f"{name}: unknown kind {self.kind!r}")
        self.ports = {port: keys[port] for port in PORTS if port in keys}

    def si(self, path, default=None):
        """The value at a dotted key path in SI; `default` (a quantity text) where it is absent."""
        value = self.keys
        for key in path.split("."):
            value = value.get(key) if isinstance(value, dict) else None
        if value is None:
            if default is None:
                raise ValueError(f"{self.name}: {path} is required")
            value = default
        return q.plain(value)

    def heat_node(self):
        """The node whose temperature the part's metal shares."""
        return next((self.ports[p] for p in HEAT_PORTS if p in self.ports), None)


class Circuit:
    """A spec, read but not yet tied to a case."""

    def __init__(self, raw, file=""):
        self.raw, self.file = raw, file
        self.name, self.title = self.raw["circuit"], self.raw["title"]
        self.environment = self.raw.get("environment", {})
        self.air = air_pressure(self.environment)
        self.ambient = q.temperature(self.environment.get("ambient", "40 degC"))
        self.fluid = read_fluid(self.raw["fluid"], self.air)
        self.nodes = self.raw.get("nodes", {})
        self.cases = self.raw.get("cases", {})

    def parts(self, case):
        """Parts as they are in a case, with its `with` merged in."""
        merged = merge(self.raw["parts"], self.cases[case].get("with", {}))
        parts = [Part(name, keys) for name, keys in merged.items()]
        default_drains(parts)
        return parts


def load(path):
    """The circuit of a spec file."""
    with open(path, encoding="utf-8") as stream:
        return Circuit(yaml.safe_load(stream), os.path.basename(path))


def air_pressure(environment):
    """Local air pressure, absolute; from an altitude by ISO 2533 (troposphere)."""
    if "altitude" in environment:
        return 101325.0 * (1.0 - 0.0065 * q.plain(environment["altitude"]) / 288.15) ** 5.255880
    return q.pressure(environment.get("air_pressure", "1.01325 bar abs"), 0.0)


def merge(base, over):
    """Deep merge of mappings; any other value of `over` replaces."""
    out = copy.deepcopy(base)
    for key, value in over.items():
        both = isinstance(value, dict) and isinstance(out.get(key), dict)
        out[key] = merge(out[key], value) if both else copy.deepcopy(value)
    return out


def default_drains(parts):
    """A pump's or motor's drain is the only reservoir unless it is named."""
    tanks = [p.ports["at"] for p in parts if p.kind == "reservoir"]
    for part in parts:
        if part.kind in ("pump", "motor") and "drain" not in part.ports:
            if len(tanks) != 1:
                raise ValueError(f"{part.name}: drain is required with {len(tanks)} reservoirs")
            part.ports["drain"] = tanks[0]


def read_fluid(raw, air):
    """Inline fluid values to laws."""
    bulk = raw["bulk_modulus"]
    stiffness = (q.plain(bulk["value"]), q.plain(bulk.get("per_kelvin", "0 MPa/K")),
                 q.plain(bulk.get("per_pressure", 0)), q.temperature(bulk["at"]["temperature"]),
                 q.pressure(bulk["at"]["pressure"], air))
    points = [(q.temperature(t), q.plain(nu) * 1e6) for t, nu in raw["viscosity"]]
    return Fluid(q.plain(raw["density"]), q.plain(raw["expansion"]), points, stiffness,
                 q.plain(raw["specific_heat"]), q.plain(raw.get("free_air", "0.5 %")),
                 q.plain(raw.get("pressure_viscosity", "0 1/Pa")))


def points(value, second=q.plain, first=q.plain):
    """A profile or table as [(first, second)]; a single quantity is one point at 0."""
    if isinstance(value, list):
        return [(first(a), second(b)) for a, b in value]
    return [(0.0, second(value))]


def interpolate(table, x):
    """Linear between the points, the ends held."""
    if x <= table[0][0]:
        return table[0][1]
    for (x0, y0), (x1, y1) in zip(table, table[1:]):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return table[-1][1]
