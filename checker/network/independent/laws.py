"""The laws against published and recomputed values: `reference.py --self-test`.

Every check names its source; a check that cannot be met raises.  Marks: 'published' numbers are
printed in the source named, 'recomputed' ones were worked out from its formula elsewhere.
"""

import math

from scipy.integrate import solve_ivp
from scipy.optimize import brentq

import fluid
import nitrogen
import quantity
import resistance

CHECKS = []


def check(function):
    """Register a check."""
    CHECKS.append(function)
    return function


def near(got, want, share=0.0, absolute=0.0):
    """Assert that two numbers agree."""
    assert abs(got - want) <= max(share * abs(want), absolute), f"{got!r} is not {want!r}"


@check
def units():
    """Quantities: exact conversions (SI brochure; NIST SP 811 for psi, gal, inch)."""
    near(quantity.plain("12 L/min"), 12e-3 / 60.0, 1e-15)
    near(quantity.plain("16 cm3/rev"), 16e-6, 1e-15)
    near(quantity.plain("1.95 kJ/kg/K"), 1950.0, 1e-15)
    near(quantity.plain("0.9 kg·m2"), 0.9, 1e-15)
    near(quantity.plain("600 N/mm"), 6e5, 1e-12)
    near(quantity.plain("0.012 cm3/m/bar"), 1.2e-13, 1e-12)
    near(quantity.plain("-7 MPa/K"), -7e6, 1e-15)
    near(quantity.plain("60 rpm"), 1.0, 1e-15)
    near(quantity.pressure("2 bar", 1e5), 3e5, 1e-15)
    near(quantity.pressure("0.8 bar abs", 1e5), 8e4, 1e-15)
    near(quantity.temperature("-5 degC"), 268.15, 1e-15)
    near(quantity.temperature("212 degF"), 373.15, 1e-12)


@check
def viscosity_form():
    """ASTM D341 short form: nu, Z, nu back from Z (recomputed, 1e-5)."""
    for nu, z, back in ((0.21, 1.062759, 0.20997), (0.30, 1.126451, 0.29993), (0.50, 1.280661, 0.50005),
                        (1.00, 1.721928, 0.99995), (2.00, 2.700754, 2.00017), (5.00, 5.700000, 5.00000)):
        near(fluid.short_z(nu), z, 1e-6)
        near(fluid.nu_of_z(fluid.short_z(nu)), back, 0.0, 1.5e-5)


@check
def viscosity_fits():
    """ASTM D341 two-point fits, mm2/s (recomputed, 1e-4; the last also acts at low viscosity)."""
    rows = (
        (32.0, 5.4, 9.53082, 3.74658, {-20: 2291.5, 0: 336.00, 20: 86.28, 60: 15.186, 80: 8.533, 120: 3.724}),
        (46.0, 6.7604, 9.45545, 3.69945, {-20: 4641.1, 0: 584.92, 20: 134.49, 60: 20.562, 80: 11.050, 120: 4.542}),
        (68.0, 8.6, 9.37781, 3.65169, {-20: 9865.0, 0: 1060.4, 20: 216.86, 60: 28.492, 80: 14.586, 120: 5.615}),
        (13.2, 4.9, 6.09135, 2.41743, {-40: 214.2, -20: 80.85, 0: 38.25, 20: 21.21, 60: 8.941, 80: 6.458, 120: 3.865}),
        (10.0, 2.65, 9.59733, 3.84043, {-40: 1569.5, -20: 213.04, 0: 54.235, 20: 20.500, 60: 5.780, 120: 1.989, 150: 1.402}),
    )
    for v40, v100, a, b, table in rows:
        got = fluid.walther((313.15, v40), (373.15, v100))
        near(got[0], a, 0.0, 1e-5)
        near(got[1], b, 0.0, 1e-5)
        oil = some_oil([(313.15, v40), (373.15, v100)])
        for celsius, nu in table.items():
            near(oil.kinematic(celsius + 273.15) * 1e6, nu, 1e-4, 5e-3 if nu > 20.0 else 5e-4)


def some_oil(points, rho15=870.0, modulus=1.5e9, free_air=0.005):
    """An oil with the constants of the published rows."""
    return fluid.Fluid(rho15, 7.216e-4, points, (modulus, 0.0, 0.0, 313.15, fluid.P0), 1950.0, free_air)


@check
def density():
    """ASTM D1250, rho15 870 kg/m3, alpha 7.216e-4 1/K (recomputed)."""
    oil = some_oil([(313.15, 46.0), (373.15, 6.7604)])
    for celsius, rho in ((-20, 891.80), (0, 879.39), (20, 866.86), (40, 854.22), (60, 841.49), (80, 828.68), (100, 815.78)):
        near(oil.density(celsius + 273.15, fluid.P0), rho, 0.0, 0.01)
    step = 1e-3
    slope = (oil.density(350.0 - step, fluid.P0) - oil.density(350.0 + step, fluid.P0)) / (2 * step)
    near(oil.expansion(350.0), slope / oil.density(350.0, fluid.P0), 1e-7)


@check
def stiffness():
    """Oil with free air, B 1.5 GPa, n 1.4, fraction at 101 325 Pa, MPa (recomputed from Rabie 2009, eqs 2.49-2.57)."""
    for air, row in ((0.005, (338.1, 732.7, 1137.2, 1406.9, 1470.5, 1491.0)),
                     (0.01, (190.0, 483.4, 914.2, 1324.0, 1441.9, 1482.0)),
                     (0.05, (41.2, 126.4, 347.0, 887.2, 1239.9, 1410.6))):
        oil = some_oil([(313.15, 46.0), (373.15, 6.7604)], free_air=air)
        for p, k in zip((0.5e6, 1e6, 2e6, 5e6, 10e6, 20e6), row):
            near(oil.effective(313.15, p) * 1e-6, k, 1e-4, 0.051)
            near(oil.state(313.15, p)[3], oil.effective(313.15, p), 1e-14)


@check
def friction_factor():
    """Churchill (1977), Darcy's factor (recomputed, 1e-5; Re 1e5, eps/D 1e-4 published in an open-source library)."""
    rows = ((100, 0, 0.640000), (1000, 0, 0.064000), (2000, 0, 0.032043), (2300, 0, 0.030840), (3000, 0, 0.042975),
            (4000, 0, 0.040590), (4000, 0.01, 0.050578), (1e4, 0, 0.031002), (1e4, 0.001, 0.032690),
            (1e5, 1e-4, 0.018462625), (1e5, 0, 0.017875), (1e5, 0.001, 0.022343), (1e5, 0.01, 0.038734),
            (1e5, 0.05, 0.071950), (1e6, 0, 0.011612), (1e6, 1e-4, 0.013508), (1e6, 0.001, 0.020022),
            (1e7, 1e-4, 0.012210), (1e8, 0.01, 0.037885), (1e8, 0.05, 0.071503))
    for re, relative, f in rows:
        got, slope = resistance.churchill(re, relative)
        near(got, f, 1e-5, 6e-7)
        up = resistance.churchill(re * 1.000001, relative)[0]
        down = resistance.churchill(re * 0.999999, relative)[0]
        near(slope, math.log(up / down) / math.log(1.000001 / 0.999999), 1e-4, 1e-6)


@check
def pipe_inverse():
    """Flow of a pressure drop put back into Darcy-Weisbach, all regimes (identity)."""
    pipe = resistance.Pipe(9e-3, 9.0, 1.5e-6, 6.0)
    for dp in (1e-6, 1.0, 1e3, 1e4, 3e4, 1e5, 3e5, 1e6, 1e7):
        for mu in (0.003, 0.05):
            q = pipe.flow(-dp, 860.0, mu)
            v = -q / pipe.area
            re = 860.0 * v * pipe.bore / mu
            f = resistance.churchill(re, pipe.relative)[0] if re > 0.1 else 64.0 / re
            near((f * pipe.slender + pipe.losses) * 860.0 * v * v / 2.0, dp, 1e-10)


@check
def orifice():
    """Orifice, rho 870: 1 mm, 100 bar, C_d 0.62 and 0.611: 4.4298 and 4.3655 L/min; 0.5 mm, 50 bar, 0.7: 0.88414 (recomputed)."""
    for d, dp, c, want in ((1e-3, 1e7, 0.62, 4.4298), (1e-3, 1e7, 0.611, 4.3655), (0.5e-3, 5e6, 0.7, 0.88414)):
        q = c * math.pi / 4.0 * d * d * math.sqrt(2.0 / 870.0) * resistance.square(dp)
        near(q * 6e4, want, 2e-5)


@check
def nitrogen_implementation():
    """Span & Wagner (2003), Table III: 700 K, 200 kg/m3, and the step to 750 K, 100 kg/m3 (published)."""
    near(nitrogen.pressure(200.0, 700.0) * 1e-6, 51.268, 0.0, 5e-4)
    near(nitrogen.heat_capacity_p(200.0, 700.0) * 1e-3, 1.1719, 0.0, 5e-5)
    near((1.0 - nitrogen.ideal(700.0)[1]) * nitrogen.R * 1e-3, 1.0979, 0.0, 5e-5)
    near((nitrogen.enthalpy(100.0, 750.0) - nitrogen.enthalpy(200.0, 700.0)) * 1e-3, 41.82, 0.0, 5e-3)
    near((nitrogen.entropy(100.0, 750.0) - nitrogen.entropy(200.0, 700.0)) * 1e-3, 0.31053, 0.0, 5e-6)


@check
def nitrogen_table():
    """T K, p MPa: Z and c_v, c_p J/kg/K of the short equation (recomputed, 1e-5); rho of the reference equation within 0.35 %."""
    rows = ((293.15, 10, 114.8417, 1.00149, 765.85, 1205.63), (293.15, 20, 218.5444, 1.05086, 785.04, 1318.46),
            (300, 0.1, 1.1233, 0.99981, 743.15, 1041.36), (300, 5, 56.3445, 0.99699, 754.08, 1120.79),
            (300, 10, 111.7254, 1.00594, 764.85, 1195.70), (300, 20, 212.5372, 1.05594, 783.34, 1302.82),
            (300, 35, 329.1842, 1.19079, 804.10, 1360.71), (400, 5, 41.4399, 1.01688, 753.88, 1084.49),
            (400, 10, 81.1856, 1.03838, 760.24, 1120.21), (400, 20, 154.1737, 1.09234, 772.01, 1176.57),
            (400, 35, 245.8994, 1.19501, 787.09, 1226.08))
    for t, p, reference, z, c_v, c_p in rows:
        rho = nitrogen.density(p * 1e6, t)
        near(p * 1e6 / (rho * nitrogen.R * t), z, 1e-5)
        near(nitrogen.heat_capacity_v(rho, t), c_v, 1e-5)
        near(nitrogen.heat_capacity_p(rho, t), c_p, 1e-5)
        near(rho, reference, 0.0035)


@check
def nitrogen_reference():
    """Span et al. (2000): 1000 K, 2 MPa: 0.23889 mol/dm3, c_v 24.40, c_p 32.75 J/mol/K (published; short form within 0.5 %)."""
    rho = nitrogen.density(2e6, 1000.0)
    near(rho / 28.013, 0.23889, 0.005)
    near(nitrogen.heat_capacity_v(rho, 1000.0) * 0.028013, 24.40, 0.005)
    near(nitrogen.heat_capacity_p(rho, 1000.0) * 0.028013, 32.75, 0.005)


def isentropic(p1, t1, p2):
    """Volume ratio and end temperature of an isentropic change."""
    r1 = nitrogen.density(p1, t1)
    s = nitrogen.entropy(r1, t1)
    t2 = brentq(lambda t: nitrogen.entropy(nitrogen.density(p2, t), t) - s, 200.0, 600.0, xtol=1e-10)
    return r1 / nitrogen.density(p2, t2), t2


@check
def nitrogen_changes():
    """Isentropic, isothermal, isochoric changes from 293.15 K by the short equation (recomputed)."""
    for p1, p2, ratio, t2 in ((10e6, 20e6, 0.66323, 359.34), (10e6, 30e6, 0.53137, 403.99),
                              (20e6, 35e6, 0.76191, 343.60), (1e6, 2e6, 0.61401, None)):
        got = isentropic(p1, 293.15, p2)
        near(got[0], ratio, 0.0, 1e-5)
        if t2:
            near(got[1], t2, 0.0, 0.01)
    r10 = nitrogen.density(10e6, 293.15)
    near(r10 / nitrogen.density(20e6, 293.15), 0.52465, 0.0, 1e-5)
    near(r10 / nitrogen.density(30e6, 293.15), 0.37852, 0.0, 1e-5)
    near(nitrogen.pressure(r10, 333.15) * 1e-6, 11.6757, 0.0, 1e-4)
    near(nitrogen.pressure(nitrogen.density(20e6, 293.15), 333.15) * 1e-6, 23.813, 0.0, 1e-3)


@check
def nitrogen_derivatives():
    """c_v and (dp/dT)_V against differences of u and p (identity)."""
    for rho, t in ((1.1, 300.0), (120.0, 293.15), (300.0, 380.0)):
        _, c_v, slope = nitrogen.gas(rho, t)
        h = 1e-2
        near(c_v, (nitrogen.internal_energy(rho, t + h) - nitrogen.internal_energy(rho, t - h)) / (2 * h), 1e-7)
        near(slope, (nitrogen.pressure(rho, t + h) - nitrogen.pressure(rho, t - h)) / (2 * h), 1e-7)


@check
def gas_compression():
    """10 L at 10 MPa, 293.15 K, to 7 L in 1 s without heat exchange: 349.534 K, 18.189 MPa (recomputed)."""
    m = 0.010 * nitrogen.density(10e6, 293.15)

    def heating(t, y):
        v = 0.010 - 0.003 * t
        _, c_v, slope = nitrogen.gas(m / v, y[0])
        return [y[0] / (m * c_v) * slope * 0.003]
    end = solve_ivp(heating, (0.0, 1.0), [293.15], rtol=1e-10, atol=1e-10).y[0, -1]
    near(end, 349.534, 0.0, 1e-3)
    near(nitrogen.pressure(m / 0.007, end) * 1e-6, 18.189, 0.0, 1e-3)
    near(nitrogen.pressure(m / 0.007, 293.15) * 1e-6, 14.527, 0.0, 1e-3)


@check
def friction_radius():
    """Bhandari, Design of Machine Elements, ex. 11.1 and 11.2: d 100, D 200 mm, f 0.2, 235.619 and 366.519 N·m (published)."""
    from machines import mean_radius
    from spec import Part
    keys = {"kind": "friction-pack", "inner_radius": "50 mm", "outer_radius": "100 mm"}
    near(0.2 * 15707.963 * mean_radius(Part("wear", keys)), 235.619, 0.0, 5e-4)
    near(0.2 * 23561.945 * mean_radius(Part("pressure", dict(keys, contact="uniform-pressure"))), 366.519, 0.0, 5e-4)


@check
def slip():
    """A pump's rated point is met by its own slip law (identity)."""
    from machines import slip_constant
    from spec import Part
    part = Part("pump", {"kind": "pump", "displacement": "16 cm3/rev",
                         "delivers": {"flow": "22.32 L/min",
                                      "at": {"pressure": "200 bar", "speed": "1500 rpm", "viscosity": "32 mm2/s"}}})
    flow = 16e-6 * 25.0 - slip_constant(part, "delivers", 1.0) * 200e5 / (860.0 * 32e-6)
    near(flow * 6e4, 22.32, 1e-12)


def run_checks(checks):
    """Run every check; 0 when all hold."""
    failed = 0
    for function in checks:
        try:
            function()
            print(f"holds  {function.__name__}: {function.__doc__.splitlines()[0]}")
        except AssertionError as problem:
            failed = 1
            print(f"FAILS  {function.__name__}: {problem}")
    return failed


def self_test():
    """The laws."""
    return run_checks(CHECKS)
