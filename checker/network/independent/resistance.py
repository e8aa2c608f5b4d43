"""Flow through a resistance as a function of the pressure difference across it.  SI."""

import math

ROUNDING = 5e3         # Pa, the one rounding of every square law
RATED_DENSITY = 860.0  # kg/m3, at which a rated (flow, drop) point holds
ORIFICE_PORT = 0.61    # discharge coefficient of an accumulator's port
LAMINAR_END = 1000.0   # Re below which Churchill equals 64/Re to 1e-14
G = 9.80665            # m/s2, ISO 80000-3


def square(dp):
    """dp/(dp^2 + (5 kPa)^2)^(1/4): the rounded square root, odd in dp."""
    return dp / (dp * dp + 2.5e7) ** 0.25


def one_sided(x):
    """The rounded square root above zero, nothing below."""
    return x / math.sqrt(math.sqrt(x * x + 2.5e7)) if x > 0.0 else 0.0


def rated(flow, drop):
    """k sqrt(rho) of a square law through its rated point at 860 kg/m3."""
    return flow / math.sqrt(drop) * math.sqrt(RATED_DENSITY)


def smooth_step(s):
    """3 s^2 - 2 s^3 with s held in 0..1."""
    if s <= 0.0:
        return 0.0
    return s * s * (3.0 - 2.0 * s) if s < 1.0 else 1.0


def clamp01(s):
    """s held in 0..1."""
    return 0.0 if s <= 0.0 else (1.0 if s >= 1.0 else s)


def churchill(re, relative):
    """(f, dln f/dln Re): Darcy's friction factor, Churchill, Chem. Eng. 84(24) (1977) 91-92."""
    seven = (7.0 / re) ** 0.9
    inner = seven + 0.27 * relative
    theta = -2.457 * math.log(inner)
    a = theta ** 16
    b = (37530.0 / re) ** 16
    laminar = (8.0 / re) ** 12
    rest = (a + b) ** -1.5
    slope_sum = (16.0 * a / theta * 2.457 * 0.9 * seven / inner - 16.0 * b) / (a + b)
    slope = (-12.0 * laminar - 1.5 * rest * slope_sum) / (12.0 * (laminar + rest))
    return 8.0 * (laminar + rest) ** (1.0 / 12.0), slope


class Pipe:
    """Darcy-Weisbach of one round line, solved for the flow.

    With X = 2 dp D^2 rho/mu^2 the law reads (f L/D + losses) Re^2 = X: below Re 1000 a
    quadratic, above it Newton's method in ln Re from the last root, to 1e-13.
    """

    def __init__(self, bore, length, roughness, losses):
        self.bore, self.area = bore, math.pi / 4.0 * bore * bore
        self.slender, self.relative, self.losses = length / bore, roughness / bore, losses
        self.last = 3000.0

    def reynolds(self, x):
        """Re > 0 of X > 0."""
        half = 32.0 * self.slender
        re = x / (half + math.sqrt(half * half + self.losses * x))
        if re <= LAMINAR_END:
            return re
        goal, re = math.log(x), self.last
        for _ in range(60):
            f, slope = churchill(re, self.relative)
            friction = f * self.slender
            whole = friction + self.losses
            step = (goal - math.log(whole) - 2.0 * math.log(re)) / (2.0 + slope * friction / whole)
            re *= math.exp(max(-1.0, min(1.0, step)))
            if abs(step) < 1e-13:
                break
        self.last = re
        return re

    def flow(self, dp, rho, mu):
        """Volume flow of a driving pressure difference, either sign."""
        if dp == 0.0:
            return 0.0
        re = self.reynolds(2.0 * abs(dp) * self.bore ** 2 * rho / (mu * mu))
        return math.copysign(re * mu / (rho * self.bore) * self.area, dp)
