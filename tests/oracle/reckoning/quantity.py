"""Quantities as text with their unit, read into exact fractions of kilograms and metres.

A weight is in kg, a length in m, an area in m2, a volume in m3; a rate in kg/m2 and so on. A share, a
concentration and a count have no unit. Temperatures are read by a function of their own.
"""

import re
from fractions import Fraction

POUND = Fraction("0.45359237")
FOOT = Fraction("0.3048")
INCH = FOOT / 12
ACRE = 43560 * FOOT**2
HECTARE = Fraction(10000)
GALLON = 231 * INCH**3

UNITS = {
    "": 1, "%": Fraction(1, 100), "ppm": Fraction(1, 10**6), "plant": 1,
    "kg": 1, "g": Fraction(1, 1000), "mg": Fraction(1, 10**6), "t": 1000,
    "lb": POUND, "oz": POUND / 16, "ton": 2000 * POUND,
    "m": 1, "cm": Fraction(1, 100), "mm": Fraction(1, 1000), "ft": FOOT, "in": INCH,
    "m2": 1, "ft2": FOOT**2, "ha": HECTARE, "acre": ACRE,
    "m3": 1, "l": Fraction(1, 1000), "ft3": FOOT**3, "yd3": 27 * FOOT**3, "gal": GALLON,
    "cup": GALLON / 16,
}
PART = re.compile(r"([0-9.]+(?: +[0-9]+/[0-9]+)?)?(?: *- *([0-9.]+))? *([a-z%]+[23]?)?")


def number(text):
    """A decimal, or a whole number and a fraction as in `33 1/3`."""
    return sum(Fraction(word) for word in text.split())


def span(text):
    """The low and the high end of a quantity; both the same where it is no range."""
    if isinstance(text, (int, float)):
        return Fraction(str(text)), Fraction(str(text))
    low, high, over = Fraction(1), Fraction(1), False
    for part in re.split(r" per |/(?![0-9])|(?<=[a-z])/(?=[0-9])", text.strip()):
        found = PART.fullmatch(part.strip())
        if not found or (found[3] or "") not in UNITS:
            raise ValueError(f"not a quantity: {text}")
        unit = Fraction(UNITS[found[3] or ""])
        first = number(found[1]) if found[1] else Fraction(1)
        second = number(found[2]) if found[2] else first
        if over:
            low, high = low / (first * unit), high / (first * unit)
        else:
            low, high, over = first * unit, second * unit, True
    return low, high


def quantity(text):
    """A single quantity; a range is a fault here."""
    low, high = span(text)
    if low != high:
        raise ValueError(f"a range where one figure is wanted: {text}")
    return low


def middle(text):
    """A quantity, or the middle of its range."""
    low, high = span(text)
    return (low + high) / 2


def celsius(text):
    """A temperature in degrees Celsius."""
    value, unit = text.split()
    degrees = Fraction(value)
    return (degrees - 32) * 5 / 9 if unit == "F" else degrees


def spacing(text):
    """The ground of one plant, in m2: `12 in x 18 in`, or one distance for a square."""
    sides = [quantity(side) for side in text.split(" x ")]
    return sides[0] * sides[-1]
