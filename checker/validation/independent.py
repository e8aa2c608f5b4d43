#!/usr/bin/python3
"""Values the program is checked against that no source prints, by general methods of scipy:
integration, root finding, boundary values, eigenvalues. It shares no code with the program.
Needs scipy and numpy (written with 1.10 and 1.24). `./independent.py > independent.txt`
"""

import math
import os
import sys

import numpy as np
from scipy.integrate import quad, solve_bvp, solve_ivp
from scipy.linalg import eigh_tridiagonal
from scipy.optimize import brentq

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "../network/independent"))
import fluid       # noqa: E402  laws written apart from the program
import nitrogen    # noqa: E402

FINE = dict(rtol=1e-11, atol=1e-12)
G0, P0 = 9.80665, 101325.0


def put(name, value):
    print(f"{name} {value:.9g}")


def oil():
    """An oil with every property, at one state; its rise of pressure when shut in, and when stopped."""
    o = fluid.Fluid(875.0, 7e-4, [(313.15, 32.0), (373.15, 5.4)], (1.55e9, -7e6, 9.5, 313.15, P0), 1950.0, 0.005, 2e-8)
    t, p = 338.15, 2e7
    put("oil.kinematic", o.kinematic(t))
    put("oil.kinematic-slope", derivative(o.kinematic, t, 1.0))
    put("oil.dynamic", o.dynamic(t, p))
    put("oil.density", o.density(t, p))
    put("oil.bulk", o.bulk(t, p))
    put("oil.effective", o.effective(t, 3e6))
    put("oil.expansion", o.expansion(t))
    wall, young, poisson = 1.2e-5, 206e9, 0.3
    give = volume_give(1.25, young, poisson)

    def rate(t, p):
        return (o.expansion(t) - 3 * wall) / (1 / o.effective(t, p[0]) + give)
    put("trapped.pressure", solve_ivp(rate, (293.15, 313.15), [1.5e5], method="DOP853", rtol=1e-11, atol=1e-3).y[0, -1])

    def slowed(v, p):
        k, rho = o.effective(313.15, p[0]), o.density(313.15, p[0])
        return math.sqrt(rho * k / (1 + k * give))
    end = solve_ivp(slowed, (0, 3), [P0 + 5e5], method="DOP853", rtol=1e-11, atol=1e-3).y[0, -1]
    put("surge.mean-wave", (end - P0 - 5e5) / (3 * o.density(313.15, P0 + 5e5)))


def derivative(f, x, h):
    """Central differences, extrapolated three times (Romberg)."""
    table = [(f(x + h / 2**i) - f(x - h / 2**i)) / (2 * h / 2**i) for i in range(4)]
    for k in range(1, 4):
        table = [(4**k * b - a) / (4**k - 1) for a, b in zip(table, table[1:])]
    return table[0]


def steam():
    """Vapour pressure of a fluid of one heat of vaporisation: d ln p/dT = L/(R T^2), L/R 5200 K."""
    put("vapour.330K", 1e3 * math.exp(quad(lambda t: 5200 / t**2, 300, 330, epsabs=0, epsrel=1e-12)[0]))


def lame(k, young, poisson):
    """Displacement of a closed thick tube of bore radius 1 under pressure 1, from the equilibrium
    u'' + u'/r - u/r^2 = 0 and an axial strain such that the ends are held by the wall alone.
    Returns hoop and axial strain and hoop stress at the bore, hoop stress outside."""
    axial = 1 / (k * k - 1)
    lam = young * poisson / ((1 + poisson) * (1 - 2 * poisson))
    mu = young / (2 * (1 + poisson))

    def stresses(r, u, du, ez):
        trace = du + u / r + ez
        return lam * trace + 2 * mu * du, lam * trace + 2 * mu * u / r, lam * trace + 2 * mu * ez

    def ends(a, b, q):
        inside, outside = stresses(1.0, a[0], a[1], q[0]), stresses(k, b[0], b[1], q[0])
        return np.array([inside[0] + 1, outside[0], inside[2] - axial])
    r = np.linspace(1, k, 400)
    s = solve_bvp(lambda r, y, q: np.vstack([y[1], y[0] / r**2 - y[1] / r]), ends, r,
                  np.vstack([np.full(r.size, 4 / young), np.zeros(r.size)]), p=[axial / young], tol=1e-12, max_nodes=200000)
    a, b, ez = s.y[:, 0], s.y[:, -1], s.p[0]
    inside, outside = stresses(1.0, a[0], a[1], ez), stresses(k, b[0], b[1], ez)
    return a[0], ez, inside, outside


def volume_give(k, young, poisson):
    hoop, axial, _, _ = lame(k, young, poisson)
    return 2 * hoop + axial


def equivalent(s):
    """After von Mises, of three principal stresses."""
    return math.sqrt(((s[0] - s[1])**2 + (s[1] - s[2])**2 + (s[2] - s[0])**2) / 2)


def tubes():
    hoop, axial, inside, outside = lame(2.0, 206.0, 0.3)
    put("lame.hoop-bore", inside[1])
    put("lame.hoop-outside", outside[1])
    put("lame.von-mises", equivalent(inside))
    put("tube.volume-compliance", volume_give(1.25, 206e9, 0.3))
    # c1 of a tube anchored upstream, whose ends its wall holds: from the hoop strain at the bore.
    hoop, _, _, _ = lame(1.25, 206e9, 0.3)
    put("tube.thick-wall", 2 * hoop * 206e9 * 2 / 16)
    rigid = 1.5e9
    put("tube.wave", math.sqrt(rigid / 870 / (1 + rigid * 2 * hoop)))
    # The whole wall yielded after von Mises, hoop less radial stress 2 S_y/sqrt 3: dp/dr over the wall.
    put("tube.full-yield", quad(lambda r: 2 * 800 / math.sqrt(3) / r, 1, 2)[0])
    put("tube.first-yield", 800 / equivalent(inside))


def rod():
    """A pinned rod of 40 mm by 1.2 m as a chain: the least eigenvalue of -E I w'' = F w."""
    d, l = 0.040, 1.2
    ei = 210e9 * math.pi * d**4 / 64
    found = []
    for n in (400, 800):
        h = l / n
        least = eigh_tridiagonal(np.full(n - 1, 2.0), np.full(n - 2, -1.0), select="i", select_range=(0, 0))[0][0]
        found.append(ei * least / h**2)
    put("rod.euler", (4 * found[1] - found[0]) / 3)


def lines():
    """Flow in a tube: the profile of laminar flow, Churchill's factor by root finding."""
    bore, length, dp, mu = 9e-3, 9.0, 6e4, 0.04
    radius = bore / 2
    put("line.laminar", quad(lambda r: 2 * math.pi * r * dp / (4 * mu * length) * (radius**2 - r**2), 0, radius, epsabs=0, epsrel=1e-12)[0])
    rho, mu, eps, losses, drive = 850.0, 0.012, 1.5e-6, 6.0, 3e6

    def churchill(re, rough):
        a = (2.457 * math.log(1 / ((7 / re)**0.9 + 0.27 * rough)))**16
        b = (37530 / re)**16
        return 8 * ((8 / re)**12 + (a + b)**-1.5)**(1 / 12)

    def missing(v):
        return (churchill(rho * v * bore / mu, eps / bore) * length / bore + losses) * rho * v * v / 2 - drive
    v = brentq(missing, 1e-3, 1e3, xtol=1e-14, rtol=1e-14)
    put("line.turbulent", v * math.pi * radius**2)

    def colebrook(x):
        return x + 2 * math.log10(1e-3 / 3.7 + 2.51 * x / 5e4)
    put("line.colebrook", brentq(colebrook, 1, 20, xtol=1e-14)**-2)


def cooler():
    """Oil of w = 700 W/K past G = 90 W/K, 23 K warmer than the coolant: dT/ds = -G/w T along it."""
    s = solve_ivp(lambda s, t: [-90 / 700 * t[0]], (0, 1), [23.0], method="DOP853", **FINE)
    put("cooler.heat", 700 * (23.0 - s.y[0, -1]))


def valve():
    """A spool that follows a falling ramp of 20 ms with a lag of 8 ms: from 90 to 10 % open."""
    over, lag = 0.02, 0.008

    def follow(t, s):
        return [(max(0.0, 1 - t / over) - s[0]) / lag]
    events = [lambda t, s: s[0] - 0.9, lambda t, s: s[0] - 0.1]
    s = solve_ivp(follow, (0, 0.1), [1.0], method="DOP853", events=events, max_step=1e-4, **FINE)
    put("valve.closure", s.t_events[1][0] - s.t_events[0][0])
    # Three-port valves, partly open: 30 L/min at 2 bar, 860 kg/m3.
    k = 30 / 60e3 / math.sqrt(2e5)

    def flow(dp):
        return k * dp / (dp * dp + 5e3**2)**0.25

    def smooth(x):
        return quad(lambda s: 6 * s * (1 - s), 0, min(max(x, 0), 1))[0]
    opening = smooth((26.3e5 - 1e5 - (99e5 + 1e5) / 4) / 1e5)
    put("valve.pilot", -opening * flow(99e5))
    opening = smooth((50e5 - 49.8e5) / 1e5 + 0.5)
    put("valve.shuttle-a", opening * flow(10e5))
    put("valve.shuttle-b", (1 - opening) * flow(9.8e5))


def accumulator():
    """10 L of nitrogen at 10 MPa and 293.15 K, pressed to 7 L in 1 s, time constant 8 s."""
    cold = 293.15
    mass = nitrogen.density(10e6, cold) * 10e-3

    def slope(rho, t):
        return derivative(lambda t: nitrogen.pressure(rho, t), t, 1.0)

    def warm(time, t):
        v = 10e-3 - 3e-3 * time
        rho = mass / v
        return [(cold - t[0]) / 8 + t[0] * slope(rho, t[0]) / (mass * nitrogen.heat_capacity_v(rho, t[0])) * 3e-3]
    t = solve_ivp(warm, (0, 1), [cold], method="DOP853", rtol=1e-10, atol=1e-9).y[0, -1]
    put("charge.temperature", t)
    put("charge.pressure", nitrogen.pressure(mass / 7e-3, t))
    rho = 200.0
    put("charge.warming", 320 * slope(rho, 320.0) / (0.2 * nitrogen.heat_capacity_v(rho, 320.0)))
    s = nitrogen.entropy(150.0, 300.0)
    p2 = nitrogen.pressure(150.15, nitrogen.warmth(s, 150.15))
    p1 = nitrogen.pressure(149.85, nitrogen.warmth(s, 149.85))
    put("nitrogen.sound", math.sqrt((p2 - p1) / 0.3))


def air():
    """The standard atmosphere by integrating dp/dh = -p g/(R T) with gravity falling with height."""
    r = 6356766.0

    def fall(h, p):
        shrink = r / (r + h)
        return [-p[0] * G0 * shrink**2 / (287.05287 * (288.15 - 0.0065 * h * shrink))]
    for h in (1500.0, 3000.0, 8000.0):
        put(f"air.{h:.0f}m", solve_ivp(fall, (0, h), [P0], method="DOP853", **FINE).y[0, -1])


def pack():
    """Two inertias run together; the mean heat capacity of graphite; the radius of friction."""
    i1, i2, torque = 0.4, 1.3, 250.0
    locked = lambda t, y: y[0] - y[1]   # noqa: E731
    locked.terminal = True
    s = solve_ivp(lambda t, y: [-torque / i1, torque / i2, torque * (y[0] - y[1])], (0, 10), [600.0, 100.0, 0.0],
                  method="DOP853", events=locked, **FINE)
    put("pack.time", s.t[-1])
    put("pack.energy", s.y[2, -1])

    def graphite(t):
        return 4184 * (0.538657 + 9.11129e-6 * t - 90.2725 / t - 43449.3 / t**2 + 1.59309e7 / t**3 - 1.43688e9 / t**4)
    put("pack.graphite-600K", graphite(600.0))
    moment, force = (quad(lambda r, e=e: 2 * math.pi * r**e, 0.05, 0.1, epsabs=0, epsrel=1e-12)[0] for e in (2, 1))
    put("pack.radius", moment / force)
    put("pack.area", force)
    put("pack.tanh", float(np.tanh(2.0)))


for part in (oil, steam, tubes, rod, lines, cooler, valve, accumulator, air, pack):
    part()
