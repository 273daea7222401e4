"""Compares the salts of the catalogue and the oxide factors with formulas weighed by molmass.

    python tests/oracle/molar.py

A label is at most what the pure salt holds, and not less than a technical grade of it does. Oxide
factors and nitrate as nitrogen are asked of the `topdress` on the path. Exit status 1 where something
differs.
"""

import json
import pathlib
import subprocess
import sys
import tomllib
from decimal import Decimal

from molmass import Formula

ROOT = pathlib.Path(__file__).parents[2]
# Technical grades hold impurities; triple superphosphate is the least pure, near 80 percent.
GRADE = 0.75

# The compound that each material of the catalogue mainly is.
SALTS = {
    "urea": "CO(NH2)2", "ammonium sulfate": "(NH4)2SO4", "ammonium nitrate": "NH4NO3",
    "calcium nitrate": "(Ca(NO3)2)5(NH4NO3)(H2O)10", "potassium nitrate": "KNO3",
    "sodium nitrate": "NaNO3", "monoammonium phosphate": "NH4H2PO4",
    "diammonium phosphate": "(NH4)2HPO4", "triple superphosphate": "Ca(H2PO4)2(H2O)",
    "potassium chloride": "KCl", "potassium sulfate": "K2SO4",
    "sulfate of potash-magnesia": "K2SO4(MgSO4)2", "monopotassium phosphate": "KH2PO4",
}
# Share of the nitrogen that is nitrate and ammonium, by the formula.
SPLIT = {"ammonium nitrate": (0.5, 0.5), "calcium nitrate": (11 / 12, 1 / 12)}
FIELDS = {"nitrogen": ("N", None), "phosphate": ("P", "P2O5"), "potash": ("K", "K2O")}


def mass(formula):
    """Its molar mass."""
    return Formula(formula).mass


def holds(formula, element, oxide):
    """Percent of an element, as its oxide where one is named."""
    fractions = Formula(formula).composition()
    part = sum(item.fraction for item in fractions.values() if item.symbol == element)
    return 100 * part * (factor(element, oxide) if oxide else 1)


def factor(element, oxide):
    """Weight of the oxide that one weight of the element makes."""
    atoms = {"P2O5": 2, "K2O": 2, "MgO": 1, "CaO": 1}[oxide]
    return mass(oxide) / (atoms * mass(element))


def ask(*words):
    """The first answer of a sum."""
    out = subprocess.run(["topdress", "sum", *words, "--format", "json"],
                         capture_output=True, text=True, check=False)
    if out.returncode != 0:
        sys.exit(f"{' '.join(words)}: {out.stderr}")
    return Decimal(json.loads(out.stdout)["answers"][0]["value"])


def salts():
    """Every salt, nutrient by nutrient; returns how many and the lowest grade."""
    listed = tomllib.loads((ROOT / "data/materials.toml").read_text("utf-8"))["material"]
    listed = {entry["name"]: entry for entry in listed}
    grades = {}
    for name, formula in SALTS.items():
        for field, (element, oxide) in FIELDS.items():
            label = float(listed[name][field].removesuffix(" %"))
            pure = holds(formula, element, oxide)
            if pure == 0:
                if label != 0:
                    sys.exit(f"{name} has no {field}, and its label says {label} %")
                continue
            # A label may be rounded up by half of its last unit.
            if not GRADE * pure <= label <= pure + 0.5:
                sys.exit(f"{name}: label {label} % {field}, pure {pure:.2f} %")
            grades[f"{name} {field}"] = label / pure
        if name in SPLIT:
            for field, share in zip(("nitrate_share", "ammonium_share"), SPLIT[name]):
                said = float(listed[name][field].removesuffix(" %")) / 100
                if abs(said - share) > 0.02:
                    sys.exit(f"{name}: {field} {said}, by its formula {share:.3f}")
    return grades


def factors():
    """Oxides both ways, and nitrate as nitrogen; returns the worst relative difference."""
    worst = 0.0
    for element, oxide in (("P", "P2O5"), ("K", "K2O"), ("Mg", "MgO"), ("Ca", "CaO")):
        right = factor(element, oxide)
        there = float(ask("oxide", f"100 lb {element}", "--to", oxide)) / 100
        back = float(ask("oxide", f"100 lb {oxide}", "--to", element)) / 100
        worst = max(worst, abs(there / right - 1), abs(back * right - 1))
    water = ["--depth", "12 in", "--over", "1 acre", "--nitrate", "100 ppm", "--as"]
    told = float(ask("water", *water, "nitrate") / ask("water", *water, "nitrogen"))
    return max(worst, abs(told / (mass("N") / mass("NO3")) - 1))


def main():
    """Compares them all."""
    grades = salts()
    lowest = min(grades, key=grades.get)
    worst = factors()
    # Both sides use standard atomic weights of different years, which part at the fifth digit.
    if worst > 5e-5:
        sys.exit(f"factors differ by {worst:.1e} from molar masses")
    print(f"{len(grades)} contents of salts agree with their formulas, the least pure grade "
          f"{lowest} at {100 * grades[lowest]:.0f} %; oxide and nitrate factors to {worst:.0e}")


main()
