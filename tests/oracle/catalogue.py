"""Compares the catalogue that the program prints with `data/`, converted by pint.

    python tests/oracle/catalogue.py

Demand, yields, residues, ceilings and bulletins' rates stand in `data/crops.toml` as their sources print
them, mostly in kg/ha; the program prints them in lb/acre. pint has its own table of units. `topdress`
is the one on the path. Exit status 1 where a printed figure is not the one in `data/` to its last digit.
"""

import json
import pathlib
import re
import subprocess
import sys
import tomllib
from decimal import Decimal

import pint

ROOT = pathlib.Path(__file__).parents[2]
registry = pint.UnitRegistry(non_int_type=Decimal)
registry.define("us_acre = 43560 * international_foot ** 2")
UNITS = {"kg/ha": "kilogram / hectare", "t/ha": "metric_ton / hectare", "lb/acre": "pound / us_acre",
         "g/m2": "gram / meter ** 2"}
QUANTITY = re.compile(r"([\d.,]+)(?:-([\d.,]+))? (\S+)$")


def pounds(text):
    """Both ends of a rate of `data/`, in pounds per acre."""
    low, high, unit = QUANTITY.match(text).groups()
    unit = registry.parse_units(UNITS[unit].replace(" ", ""))
    ends = [Decimal(one) * unit for one in (low, high or low)]
    return [one.to("pound / us_acre").magnitude for one in ends]


def printed(text):
    """Both ends of a printed rate, with the size of its last digit."""
    numbers = re.findall(r"[\d,]+(?:\.\d+)?", text.split(" lb/acre")[0])
    numbers = [number.replace(",", "") for number in numbers]
    last = [Decimal(1).scaleb(-len(number.partition(".")[2])) for number in numbers]
    return [Decimal(number) for number in numbers], last


def compare(name, what, said, listed):
    """Stops where a printed figure is not the listed one."""
    values, last = printed(said)
    right = pounds(listed)
    if len(values) == 1:
        values, last = values * 2, last * 2
    for value, unit, exact in zip(values, last, right):
        if abs(value - exact) > unit * Decimal("0.5000001"):
            sys.exit(f"{name}: {what} printed {said}, in data/ {listed} ({exact:.3f} lb/acre)")


def main():
    """Compares them all."""
    out = subprocess.run(["topdress", "catalogue", "crops", "--format", "json"],
                         capture_output=True, text=True, check=True)
    shown = {entry["crop"]: entry for entry in json.loads(out.stdout)}
    listed = tomllib.loads((ROOT / "data/crops.toml").read_text("utf-8"))["crop"]
    if sorted(shown) != sorted(entry["name"] for entry in listed):
        sys.exit("the catalogue does not print the crops of data/")
    count = 0
    for entry in listed:
        name, says = entry["name"], shown[entry["name"]]
        supply = entry.get("supply", {})
        pairs = [("demand", "nitrogen"), ("at_yield", "reference_yield"), ("residues_leave", "residues")]
        for what, field in pairs:
            if says.get(what) and field in supply and not entry.get("stand"):
                compare(name, what, says[what], supply[field])
                count += 1
        if QUANTITY.match(entry["ceiling"]["value"]):
            compare(name, "ceiling", says["most_planned"], entry["ceiling"]["value"])
            count += 1
        bulletins = (says.get("bulletins") or "").split("; ")
        rates = [row for row in entry.get("recommendation", []) if "nitrogen" in row]
        for row, told in zip(rates, [one for one in bulletins if "lb/acre" in one]):
            compare(name, "bulletin", told.split(": ", 1)[1], row["nitrogen"])
            count += 1
    if count < 250:
        sys.exit(f"only {count} figures were compared")
    print(f"{count} figures of the catalogue agree with data/ by pint {pint.__version__}")


main()
