"""Weights that a kitchen or hanging scale can tell apart."""

from fractions import Fraction

from .quantity import POUND

OUNCE = POUND / 16
GRAM = Fraction(1, 1000)
# Up to which weight, in which steps; the last column is the finer step of a weight held under a ceiling,
# read from what the program prints: half an ounce instead of one, a twentieth of a pound instead of a quarter.
STEPS = {
    "us": [(4 * OUNCE, OUNCE / 4, OUNCE / 4), (2 * POUND, OUNCE, OUNCE / 2), (None, POUND / 4, POUND / 20)],
    "metric": [(100 * GRAM, GRAM, GRAM), (1000 * GRAM, 5 * GRAM, 5 * GRAM), (None, 50 * GRAM, 50 * GRAM)],
}


def step(weight, units, finer=False):
    """The weighing step for a weight in kg."""
    for below, ordinary, fine in STEPS[units]:
        if below is None or weight < below:
            return fine if finer else ordinary
    raise AssertionError("the last row has no end")


def nearest(weight, units):
    """To the nearest step, half up."""
    size = step(weight, units)
    return (weight / size + Fraction(1, 2)) // 1 * size


def down(weight, units, finer=False):
    """Down to a whole number of steps."""
    size = step(weight, units, finer)
    return weight / size // 1 * size
