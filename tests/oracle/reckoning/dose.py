"""Doses of a bed: what is chosen before planting, and side-dressings at the published weeks."""

from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction

from .release import shares
from .spread import as_it_comes
from .weigh import OUNCE

SOON = timedelta(days=14)
TRIFLE = Fraction(3, 100)


@dataclass
class Dose:
    """A weight of a material on a day, over the ground of one or more plantings."""

    day: object
    material: dict
    weight: Fraction
    plantings: list
    before_planting: bool
    certain: bool = True

    @property
    def path(self):
        first = self.plantings[0]
        if self.before_planting:
            return f"{first.bed.path}/dose/{self.day}/{self.material['name'].replace(' ', '-')}"
        return f"{first.path}/nitrogen/dose/{self.day}"

    def on(self, planting):
        """The part of the weight that lies on one planting's ground."""
        if len(self.plantings) == 1:
            return self.weight
        return self.weight * planting.area / sum(one.area for one in self.plantings)

    def free(self, planting, after, until):
        """Nitrogen that comes free on one planting's ground after a day, up to and with another, in kg."""
        climate = planting.bed.season.climate
        share = shares(climate, self.material, self.day, after, until)[1]
        return float(self.on(planting) * as_it_comes(self.material, "nitrogen")) * share

    def in_life(self, planting):
        """Nitrogen that counts for a planting: what comes free by its last day."""
        return self.free(planting, self.day, planting.last)

    def holds(self, nutrient):
        """Kilograms of a nutrient in it."""
        return self.weight * as_it_comes(self.material, nutrient)


def nitrogen_share(planting, material, day, until):
    """The share of a material's weight that is nitrogen coming free from a day to another."""
    free = shares(planting.bed.season.climate, material, day, day, until)[1]
    return float(as_it_comes(material, "nitrogen")) * free


def trifling(weight, amount, need):
    """Whether a dose is too little to be worth the walk: under an ounce, or 3 % of its need."""
    return weight < OUNCE or amount < TRIFLE * need
