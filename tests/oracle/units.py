"""Compares conversions and oxide factors of the program with pint's unit definitions.

    python tests/oracle/units.py

pint carries its own table of units, so that neither table is copied from the other. Weights per
area, weights, areas, volumes and lengths are turned into one another through `sum rate`; elements
into oxides through `sum oxide`, against factors made here of the IUPAC standard atomic weights
(2021; conventional value for oxygen). `topdress` is the one on the path. Exit status 1 where a value
differs in the tenth significant digit, or too few were compared.
"""

import itertools
import json
import random
import subprocess
import sys
from decimal import Decimal

import pint

SAME = Decimal("1e-10")

# Each unit as the program reads it and as pint does.
MASS = {"oz": "ounce", "lb": "pound", "g": "gram", "kg": "kilogram", "t": "metric_ton",
        "ton": "short_ton"}
AREA = {"ft2": "international_foot**2", "1000 ft2": "1000*international_foot**2",
        "acre": "43560*international_foot**2", "m2": "meter**2", "ha": "hectare"}

ATOMIC = {"P": Decimal("30.973761998"), "K": Decimal("39.0983"), "O": Decimal("15.999")}
OXIDES = {
    ("P", "P2O5"): (2 * ATOMIC["P"] + 5 * ATOMIC["O"]) / (2 * ATOMIC["P"]),
    ("K", "K2O"): (2 * ATOMIC["K"] + ATOMIC["O"]) / (2 * ATOMIC["K"]),
}

registry = pint.UnitRegistry(non_int_type=Decimal)


def ask(*words):
    """The first answer of a sum, as a decimal."""
    out = subprocess.run(["topdress", "sum", *words, "--format", "json"],
                         capture_output=True, text=True, check=False)
    if out.returncode != 0:
        sys.exit(f"{' '.join(words)}: {out.stderr}")
    return Decimal(json.loads(out.stdout)["answers"][0]["value"])


def compare(told, right, what):
    """Stops where two values are not the same to ten digits."""
    if abs(told - right) > SAME * abs(right):
        sys.exit(f"{what}: the program says {told}, and it should be {right}")


def rates(seed):
    """Every pair of units of weight per area, at a value drawn by lot."""
    lot = random.Random(seed)
    count = 0
    units = list(itertools.product(MASS, AREA))
    for one, other in itertools.permutations(units, 2):
        value = Decimal(lot.randint(1, 9_999)) / Decimal(100)
        kilograms_per_hectare = (value * registry.parse_units(MASS[one[0]])
                                 / registry.Quantity(1, "dimensionless")
                                 / registry.parse_expression(AREA[one[1]])).to("kilogram/hectare")
        if not Decimal("0.01") < kilograms_per_hectare.magnitude < 20_000:
            continue
        right = kilograms_per_hectare * registry.parse_expression(AREA[other[1]])
        right = right.to(MASS[other[0]]).magnitude
        told = ask("rate", f"{value} {one[0]}/{one[1]}", "--to", f"{other[0]}/{other[1]}")
        compare(told, right, f"{value} {one} to {other}")
        count += 1
    return count


def oxides():
    """Elements to oxides and back."""
    for (element, oxide), factor in OXIDES.items():
        for weight in ("1", "20", "137.5"):
            compare(ask("oxide", f"{weight} lb {element}", "--to", oxide),
                    Decimal(weight) * factor, f"{weight} {element} to {oxide}")
            compare(ask("oxide", f"{weight} kg {oxide}", "--to", element),
                    Decimal(weight) / factor, f"{weight} {oxide} to {element}")
    return 12


def main():
    """Compares them all."""
    count = rates(7) + oxides()
    if count < 300:
        sys.exit(f"only {count} conversions were compared")
    print(f"{count} conversions agree with pint {pint.__version__}")


main()
