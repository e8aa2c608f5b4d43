"""Quantities as they stand in a circuit spec: a number and a unit, made SI.

Only what the reference needs: it trusts the spec's dimensions.  Angles count in
revolutions (1 rev = 1, 1 rad = 1/2pi), so a displacement is m3/rev and a speed rev/s.
Unit values: BIPM SI brochure, 9th edition; NIST SP 811 (2008), appendix B.8, for psi,
US gallon and inch.
"""

import math
import re

PREFIX = {"G": 1e9, "M": 1e6, "k": 1e3, "d": 1e-1, "c": 1e-2, "m": 1e-3, "u": 1e-6, "µ": 1e-6}

UNIT = {
    "1": 1.0, "%": 0.01, "rev": 1.0, "rad": 1.0 / (2.0 * math.pi), "rpm": 1.0 / 60.0,
    "m": 1.0, "in": 0.0254, "L": 1e-3, "l": 1e-3, "gal": 3.785411784e-3,
    "gpm": 3.785411784e-3 / 60.0,
    "g": 1e-3, "s": 1.0, "min": 60.0, "h": 3600.0, "K": 1.0,
    "N": 1.0, "J": 1.0, "W": 1.0, "Nm": 1.0, "Pa": 1.0, "bar": 1e5, "psi": 6894.757293168,
    "P": 0.1, "St": 1e-4, "g0": 9.80665,
}

NUMBER = re.compile(r"\s*([-+]?[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*(.*?)\s*$")


def unit_value(symbol):
    """SI value of one unit symbol with prefix and exponent, such as `mm2` or `kJ`."""
    if symbol in UNIT:
        return UNIT[symbol]
    name, exponent = re.match(r"(.*?)([0-9]?)$", symbol).groups()
    power = int(exponent) if exponent else 1
    if name in UNIT:
        return UNIT[name] ** power
    if name[:1] in PREFIX and name[1:] in UNIT:
        return (PREFIX[name[0]] * UNIT[name[1:]]) ** power
    raise ValueError(f"unknown unit {symbol!r}")


def expression_value(text):
    """SI value of products and quotients of units, such as `kJ/kg/K` or `kg·m2`."""
    value = 1.0
    for position, factor in enumerate(text.split("/")):
        for symbol in re.split(r"[·*]", factor):
            value = value * unit_value(symbol) if position == 0 else value / unit_value(symbol)
    return value


def split(text):
    """Number and unit text of a quantity."""
    found = NUMBER.match(str(text))
    if not found:
        raise ValueError(f"not a quantity: {text!r}")
    return float(found.group(1)), found.group(2)


def plain(text):
    """A quantity that is neither a pressure level nor a temperature level, in SI."""
    number, unit = split(text)
    return number * (expression_value(unit) if unit else 1.0)


def pressure(text, air):
    """A pressure level, absolute Pa: gauge against `air` unless it ends in `abs`."""
    number, unit = split(text)
    if unit.endswith("abs"):
        return number * expression_value(unit[:-3].strip())
    return number * expression_value(unit) + air


def temperature(text):
    """A temperature level in K."""
    number, unit = split(text)
    if unit in ("degC", "°C"):
        return number + 273.15
    if unit == "degF":
        return (number + 459.67) / 1.8
    if unit == "K":
        return number
    raise ValueError(f"not a temperature: {text!r}")
