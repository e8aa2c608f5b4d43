"""The whole engine on small circuits whose answers are known in closed form."""

import math

import yaml

import nitrogen
from laws import near, run_checks
from machines import SLIP, TWO_PI
from network import Network
from observe import Engagements
from schedule import Schedule
from solve import Run
from spec import Circuit

FRAME = """
headroom: 1
circuit: closed-form
title: A circuit with a known answer
fluid:
  family: HM
  density: 870 kg/m3
  expansion: 0.00072 1/K
  viscosity: [[40 degC, 46 mm2/s], [100 degC, 6.76 mm2/s]]
  bulk_modulus: {value: 1.6 GPa, at: {temperature: 40 degC, pressure: 0 bar}}
  specific_heat: 1.95 kJ/kg/K
  max_temperature: 80 degC
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L}
"""


def solved(parts, case, carried=None, watch=None):
    """End state of a case with parts added to the frame; `watch` makes what looks at every step."""
    raw = yaml.safe_load(FRAME)
    raw["parts"].update(yaml.safe_load(parts))
    raw["cases"] = {"only": yaml.safe_load(case)}
    network = Network(Circuit(raw), "only", carried)
    y = Run(network, Schedule(network)).run(watch(network) if watch else lambda step: None)
    network.rhs(network.lasts, y)
    return network, y


def slipping_pack():
    """Pack at constant torque: output speed and plate temperature by Newton's law and the heat of slip."""
    network, y = solved("""
release: {kind: cylinder, head: room, bore: 50 mm, stroke: 3 mm, moving_mass: 1 kg, spring: {preload: 5 kN, rate: 100 N/mm}, dead_volume: {head: 5 cm3}}
vent: {kind: hose, from: room, to: sump, bore: 6 mm, length: 0.3 m}
clutch: {kind: friction-pack, released_by: release, faces: 6, inner_radius: 50 mm, outer_radius: 70 mm, friction: 0.1, plates: {mass: 2 kg, specific_heat: 500 J/kg/K, max_temperature: 300 degC}, driven: {inertia: 1.5 kg·m2, load: 30 N·m}, to_cylinder: 0 W/K, to_air: 0 W/K}
""", "{lasts: 1 s, begins: {fluid: 40 degC, plates: 60 degC, output: 500 rpm}, drives: {clutch: 2500 rpm}}")
    pack = network.find("clutch")
    torque, start, end = 0.1 * 6 * 0.06 * 5000.0, 500.0 / 60.0 * TWO_PI, 2500.0 / 60.0 * TWO_PI
    gain = (torque - 30.0) / 1.5
    near(y[pack.at], start + gain, 1e-9)
    near(y[pack.at + 1], 333.15 + torque * (end - start - 0.5 * gain) / (2.0 * 500.0), 1e-9)


def locked_brake():
    """Brake at constant torque: its stop from 600 rpm counts as a lock at 1 % of that speed, at the time by Newton's law."""
    seen = []

    def watch(network):
        seen.append(Engagements(network.find("brake"), network))
        return seen[0].see
    solved("""
release: {kind: cylinder, head: room, bore: 50 mm, stroke: 3 mm, moving_mass: 1 kg, spring: {preload: 5 kN, rate: 100 N/mm}, dead_volume: {head: 5 cm3}}
vent: {kind: hose, from: room, to: sump, bore: 6 mm, length: 0.3 m}
brake: {kind: friction-pack, released_by: release, faces: 6, inner_radius: 50 mm, outer_radius: 70 mm, friction: 0.1, plates: {mass: 2 kg, specific_heat: 500 J/kg/K, max_temperature: 300 degC}, driven: {inertia: 1.5 kg·m2, load: 0 N·m}, to_cylinder: 0 W/K, to_air: 0 W/K}
""", "{lasts: 1 s, begins: {fluid: 40 degC, output: 600 rpm}, drives: {brake: 0 rpm}}", watch=watch)
    speed, torque, inertia = 10.0 * TWO_PI, 0.1 * 6 * 0.06 * 5000.0, 1.5
    # J dw/dt = -M tanh(w/s): sinh(w/s) falls as exp(-M t/(J s))
    stop = inertia * SLIP / torque * (math.log(math.sinh(speed / SLIP)) - math.log(math.sinh(0.01 * speed / SLIP)))
    facts = seen[0].facts()
    near(facts["slip_starts"], 0.0)
    near(facts["locks_at"], stop, 1e-6)
    near(facts["energy"], 0.5e-3 * inertia * speed ** 2 * (1.0 - 0.01 ** 2), 1e-4)


def steady_stroke():
    """Cylinder on a constant flow: speed = delivery times rho_inlet/rho_head over the area, force in balance."""
    network, y = solved("""
pump: {kind: pump, from: sump, to: room, displacement: 8 cm3/rev, delivers: {flow: 12 L/min, at: {pressure: 100 bar, speed: 1500 rpm, viscosity: 46 mm2/s}}, mechanical_efficiency: 90 %}
ram: {kind: cylinder, head: room, bore: 50 mm, stroke: 400 mm, moving_mass: 20 kg, friction: {coulomb: 200 N, viscous: 3 kN·s/m}, load: 10 kN, dead_volume: {head: 30 cm3}}
""", "{lasts: 2 s, begins: {fluid: 40 degC}, drives: {pump: 1500 rpm}}")
    ram, k = network.find("ram"), network.index["room"]
    area = math.pi / 4.0 * 0.05 ** 2
    flow = 8e-6 * 25.0 * network.rho[network.index["sump"]] / network.rho[k]
    speed = y[ram.at + 1]
    near(speed, flow / area, 2e-5)
    near((network.p[k] - network.air) * area, 10e3 + 200.0 + 3e3 * speed, 1e-6)


def held_gas():
    """Gas at constant volume: its temperature relaxes as exp(-t/tau) whatever the gas law."""
    warm, air = 350.0, 101325.0
    gas = 2e-3 * nitrogen.density(60e5 + air, 293.15)  # kg, as filled
    network, y = solved("""
store: {kind: accumulator, at: room, size: 2 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 8 s, inlet: 8 mm}
""", "{lasts: 10 s, begins: {fluid: 40 degC, ambient: 20 degC, charge: 120 bar}}",
                        {("store", "gas_temperature"): warm, ("store", "gas_volume"): gas / nitrogen.density(120e5 + air, warm)})
    near(y[network.find("store").at + 1], 293.15 + 56.85 * math.exp(-10.0 / 8.0), 0.0, 0.01)


def self_test():
    """The engine."""
    return run_checks((slipping_pack, locked_brake, steady_stroke, held_gas))
