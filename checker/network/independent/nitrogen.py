"""Nitrogen as a real gas.

Residual part: short equation of Span & Wagner, Int. J. Thermophys. 24 (2003) 41-109.
Ideal part: Span et al., J. Phys. Chem. Ref. Data 29 (2000) 1361.
alpha(delta, tau) = a/(RT), delta = rho/rho_c, tau = T_c/T; T in K, rho in kg/m3, p in Pa.
"""

import math

from scipy.optimize import brentq

T_C = 126.192                # K
RHO_C = 313.3                # kg/m3
R = 8.31451 / 0.028013       # J/(kg K)

# n, d, t, l (l = 0: no exponential)
TERMS = (
    (0.92296567, 1, 0.25, 0), (-2.5575012, 1, 1.125, 0), (0.64482463, 1, 1.5, 0),
    (0.010831020, 2, 1.375, 0), (0.073924167, 3, 0.25, 0), (0.00023532962, 7, 0.875, 0),
    (0.18024854, 2, 0.625, 1), (-0.045660299, 5, 1.75, 1), (-0.15521060, 1, 3.625, 2),
    (-0.038111490, 4, 3.625, 2), (-0.031962422, 3, 14.5, 3), (0.015513532, 4, 12.0, 3),
)

# alpha0 = ln delta + 2.5 ln tau + A0 + A1 tau + A2/tau + A3/tau^2 + A4/tau^3 + A5 ln(1 - e^(-A6 tau))
A0, A1, A2, A3, A4, A5, A6 = (-12.76952708, -0.00784163, -1.934819e-4, -1.247742e-5,
                              6.678326e-8, 1.012941, 26.65788)


def residual(rho, t):
    """delta alpha_d, delta^2 alpha_dd, tau alpha_t, tau^2 alpha_tt, delta tau alpha_dt."""
    delta, tau = rho / RHO_C, T_C / t
    s_d = s_dd = s_t = s_tt = s_dt = 0.0
    for n, d, e, l in TERMS:
        if l:
            power = delta ** l
            value = n * delta ** d * tau ** e * math.exp(-power)
            first = d - l * power
            second = first * (first - 1.0) - l * l * power
        else:
            value = n * delta ** d * tau ** e
            first = d
            second = d * (d - 1.0)
        s_d += value * first
        s_dd += value * second
        s_t += value * e
        s_tt += value * e * (e - 1.0)
        s_dt += value * first * e
    return s_d, s_dd, s_t, s_tt, s_dt


def residual_alpha(rho, t):
    """Residual alpha itself."""
    delta, tau = rho / RHO_C, T_C / t
    return sum(n * delta ** d * tau ** e * (math.exp(-delta ** l) if l else 1.0)
               for n, d, e, l in TERMS)


def ideal(t):
    """tau alpha0_t and tau^2 alpha0_tt of the ideal part."""
    tau = T_C / t
    b = math.exp(-A6 * tau)
    first = (2.5 + A1 * tau - A2 / tau - 2.0 * A3 / tau ** 2 - 3.0 * A4 / tau ** 3
             + A5 * A6 * tau * b / (1.0 - b))
    second = (-2.5 + 2.0 * A2 / tau + 6.0 * A3 / tau ** 2 + 12.0 * A4 / tau ** 3
              - A5 * (A6 * tau) ** 2 * b / (1.0 - b) ** 2)
    return first, second


def pressure(rho, t):
    """p = rho R T (1 + delta alpha_d)."""
    return rho * R * t * (1.0 + residual(rho, t)[0])


def gas(rho, t):
    """(p, c_v, dp/dT at constant volume) in one pass."""
    s_d, _, _, s_tt, s_dt = residual(rho, t)
    p = rho * R * t * (1.0 + s_d)
    c_v = -R * (ideal(t)[1] + s_tt)
    return p, c_v, rho * R * (1.0 + s_d - s_dt)


def heat_capacity_v(rho, t):
    """c_v = -R (tau^2 alpha0_tt + tau^2 alpha_tt)."""
    return gas(rho, t)[1]


def heat_capacity_p(rho, t):
    """c_p = c_v + R (1 + delta alpha_d - delta tau alpha_dt)^2/(1 + 2 delta alpha_d + delta^2 alpha_dd)."""
    s_d, s_dd, _, s_tt, s_dt = residual(rho, t)
    return R * (-(ideal(t)[1] + s_tt) + (1.0 + s_d - s_dt) ** 2 / (1.0 + 2.0 * s_d + s_dd))


def internal_energy(rho, t):
    """u = R T (tau alpha0_t + tau alpha_t), J/kg, on the source's zero."""
    return R * t * (ideal(t)[0] + residual(rho, t)[2])


def enthalpy(rho, t):
    """h = u + p/rho, J/kg."""
    return internal_energy(rho, t) + pressure(rho, t) / rho


def entropy(rho, t):
    """s = R (tau alpha_t(total) - alpha(total)), J/(kg K)."""
    tau = T_C / t
    alpha0 = (math.log(rho / RHO_C) + 2.5 * math.log(tau) + A0 + A1 * tau + A2 / tau
              + A3 / tau ** 2 + A4 / tau ** 3 + A5 * math.log(1.0 - math.exp(-A6 * tau)))
    return R * (ideal(t)[0] + residual(rho, t)[2] - alpha0 - residual_alpha(rho, t))


def warmth(s, rho):
    """T at which the entropy is s, at constant density, by bracketing."""
    return brentq(lambda t: entropy(rho, t) - s, 130.0, 1500.0, xtol=1e-11, rtol=1e-13)


def along_entropy(s, p):
    """(rho, T) at entropy s and pressure p, by bracketing."""
    t = brentq(lambda t: entropy(density(p, t), t) - s, 130.0, 1500.0, xtol=1e-11, rtol=1e-13)
    return density(p, t), t


def density(p, t):
    """rho of p and T above the critical temperature, by bracketing."""
    guess = p / (R * t)
    return brentq(lambda rho: pressure(rho, t) - p, 0.3 * guess, 4.0 * guess, xtol=1e-13, rtol=1e-14)
