"""What is in an amendment or an earlier year's compost."""

from fractions import Fraction

from . import NotReckoned
from .quantity import quantity


def as_it_comes(material, nutrient):
    """The share of a nutrient in the material as it lies, water included."""
    share = quantity(material[nutrient])
    if material["basis"] == "dry":
        share *= 1 - quantity(material["moisture"])
    return share


def content(said, material, area, nutrient):
    """Kilograms of a nutrient in what was spread over an area."""
    if set(said) & {"amount", "rate", "analysis", "moisture", "density"} or "depth" not in said:
        raise NotReckoned("an amendment that is not a depth of a listed material")
    if said.get("placed", "mixed") != "mixed":
        raise NotReckoned("an amendment left on the surface")
    weight = quantity(said["depth"]) * area * quantity(material["density"])
    return weight * as_it_comes(material, nutrient)


def ground_share(planting):
    """The planting's part of its bed."""
    return Fraction(planting.area) / planting.bed.area
