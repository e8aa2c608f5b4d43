"""The oil: viscosity, density, expansion, stiffness, from temperature and absolute pressure.

T in K, p in Pa absolute, the reference pressure of every law is P0, never the local air.
"""

import math

P0 = 101325.0          # Pa, standard atmosphere, ISO 2533
T15 = 288.15           # K, 15 degC, base temperature of ASTM D1250
POLYTROPIC = 1.4       # n of the free air, adiabatic
AIR_FLOOR = 1000.0     # Pa, pressure below which the air law is held


def short_z(nu):
    """Z of a kinematic viscosity in mm2/s, ASTM D341, short form."""
    return nu + 0.7 + math.exp(-1.47 - 1.84 * nu - 0.51 * nu * nu)


def nu_of_z(z):
    """Kinematic viscosity in mm2/s of Z, ASTM D341, short form back."""
    x = z - 0.7
    if x > 8.0:                      # the exponential is below 1e-60 of x
        return x
    return x - math.exp(-0.7487 + x * (-3.295 + x * (0.6119 - 0.3193 * x)))


def walther(first, second):
    """A and B of lg lg Z = A - B lg T through two (K, mm2/s) points."""
    (t1, n1), (t2, n2) = first, second
    w1, w2 = (math.log10(math.log10(short_z(n))) for n in (n1, n2))
    b = (w1 - w2) / (math.log10(t2) - math.log10(t1))
    return w1 + b * math.log10(t1), b


class Fluid:
    """Laws of one fluid; `points` are (K, mm2/s) pairs, rising in temperature."""

    def __init__(self, density, expansion, points, stiffness, specific_heat,
                 free_air=0.005, pressure_viscosity=0.0):
        self.rho15, self.alpha, self.c = density, expansion, specific_heat
        self.k_ref, self.k_t, self.k_p, self.t_ref, self.p_ref = stiffness
        self.phi, self.barus = free_air, pressure_viscosity
        self.points = sorted(points)
        self.fits = [walther(a, b) for a, b in zip(self.points, self.points[1:])]

    def kinematic(self, t):
        """nu in m2/s (ASTM D341, short form, piecewise, end pairs extended)."""
        i = 0
        while i < len(self.fits) - 1 and t > self.points[i + 1][0]:
            i += 1
        a, b = self.fits[i]
        return 1e-6 * nu_of_z(10.0 ** 10.0 ** (a - b * math.log10(t)))

    def bulk(self, t, p):
        """Isentropic tangent modulus of the liquid, at least a tenth of its reference."""
        k = self.k_ref + self.k_p * (p - self.p_ref) + self.k_t * (t - self.t_ref)
        return max(k, 0.1 * self.k_ref)

    def density(self, t, p):
        """ASTM D1250 over temperature, times (1 + (p - p0)/K)."""
        step = self.alpha * (t - T15)
        return self.rho15 * math.exp(-step * (1.0 + 0.8 * step)) * (1.0 + (p - P0) / self.bulk(t, p))

    def expansion(self, t):
        """Thermal expansion at T: alpha (1 + 1.6 alpha dT), the derivative of D1250."""
        return self.alpha * (1.0 + 1.6 * self.alpha * (t - T15))

    def effective(self, t, p):
        """Stiffness of oil with free air of fraction phi at p0 (Rabie 2009, eqs 2.49-2.57)."""
        q = max(p, AIR_FLOOR)
        g = self.phi * (P0 / q) ** (1.0 / POLYTROPIC)
        return (1.0 - self.phi + g) / ((1.0 - self.phi) / self.bulk(t, p) + g / (POLYTROPIC * q))

    def dynamic(self, t, p):
        """mu = rho nu exp(beta (p - p0)) (Barus)."""
        return self.density(t, p) * self.kinematic(t) * math.exp(self.barus * (p - P0))

    def state(self, t, p):
        """(rho, nu, mu, K_eff, alpha_T) in one pass; the same laws as above, for speed."""
        bulk = self.k_ref + self.k_p * (p - self.p_ref) + self.k_t * (t - self.t_ref)
        bulk = max(bulk, 0.1 * self.k_ref)
        step = self.alpha * (t - T15)
        rho = self.rho15 * math.exp(-step * (1.0 + 0.8 * step)) * (1.0 + (p - P0) / bulk)
        nu = self.kinematic(t)
        q = p if p > AIR_FLOOR else AIR_FLOOR
        g = self.phi * (P0 / q) ** (1.0 / POLYTROPIC)
        k_eff = (1.0 - self.phi + g) / ((1.0 - self.phi) / bulk + g / (POLYTROPIC * q))
        return (rho, nu, rho * nu * math.exp(self.barus * (p - P0)), k_eff,
                self.alpha * (1.0 + 1.6 * step))
