"""What is given before planting: phosphate, then potash, then the starter.

The rules leave open whether a material is chosen twice: it is not, as the program's workings show; and one
that would pass a limit is used up to the limit. That limit is the need itself: where compost has already
brought more than the need and 10 lb/acre, nothing that brings more is given.
"""

from fractions import Fraction

from .dose import SOON, Dose, nitrogen_share, trifling
from .mineral import MINERALS, counts, soil_class
from .need import PER_ACRE
from .quantity import HECTARE
from .spread import as_it_comes
from .weigh import down, nearest

OVER = 10 * PER_ACRE
QUICK = 90 * PER_ACRE
MANURE = 170 / HECTARE


class Ground:
    """The ground that is planted on one day, and what it still wants."""

    def __init__(self, plantings, needs, planned, room):
        self.plantings, self.bed = plantings, plantings[0].bed
        self.area = sum(one.area for one in plantings)
        self.needs, self.planned, self.room = needs, planned, room
        self.starter = min(one.found["starter"] / one.area for one in plantings) * self.area
        self.ceiling = min(one.found["ceiling"] / one.area for one in plantings) * self.area
        self.day = self.bed.season.visit_until(min(one.planted for one in plantings))
        self.doses = []

    def share(self, material, nutrient):
        """The share of a material's weight that is a nutrient counting this year."""
        grade, _ = soil_class(self.bed, nutrient)
        return as_it_comes(material, nutrient) * counts(material, nutrient, grade)

    def given(self, nutrient):
        """What the doses so far bring of phosphate or potash that counts."""
        return sum(dose.weight * self.share(dose.material, nutrient) for dose in self.doses)

    def missing(self, nutrient):
        if nutrient == "nitrogen":
            return max(0, self.starter - self.counted())
        return max(Fraction(0), self.planned[nutrient] - self.given(nutrient))

    def counted(self):
        """Nitrogen of the doses so far that counts, over the whole ground."""
        return Fraction(sum(dose.in_life(one) for dose in self.doses for one in self.plantings))

    def nitrogen(self, material, until=None):
        """The share of a material's weight that is nitrogen counting by harvest, or within two weeks;
        over several plantings the largest, so that none gets too much."""
        return max(Fraction(nitrogen_share(one, material, self.day, until or one.last))
                   for one in self.plantings)

    def limits(self, material, wanted):
        """The most of a material that may lie here, by each rule that touches it."""
        for nutrient in MINERALS:
            if nutrient != wanted and (share := self.share(material, nutrient)):
                room = self.room[nutrient] + OVER * self.area - self.given(nutrient)
                yield max(Fraction(0), room) / share
        total = as_it_comes(material, "nitrogen")
        if total:
            if wanted != "nitrogen":
                yield max(Fraction(0), self.starter - self.counted()) / self.nitrogen(material)
            quick = sum(dose.weight * self.nitrogen(dose.material, self.day + SOON) for dose in self.doses
                        if as_it_comes(dose.material, "nitrogen"))
            yield max(Fraction(0), QUICK * self.area - quick) / self.nitrogen(material, self.day + SOON)
            if "manure" in material["kind"]:
                spread = sum(dose.holds("nitrogen") for dose in self.doses if "manure" in dose.material["kind"])
                yield max(Fraction(0), MANURE * self.area - spread) / total

    def candidates(self, nutrient):
        """Listed materials that carry a nutrient and are not yet used, those first that bring nothing of
        which there is enough."""
        listed = [self.bed.season.material(name) for name in self.bed.feeding("before_planting")]
        used = {dose.material["name"] for dose in self.doses}
        fitting = [one for one in listed if as_it_comes(one, nutrient) and one["name"] not in used]

        def needless(material):
            return any(as_it_comes(material, other) and not self.missing(other)
                       for other in MINERALS if other != nutrient)

        return sorted(fitting, key=needless)

    def choose(self, nutrient, units):
        """Doses for one nutrient until it is met or nothing listed serves. A dose under an ounce, or 3 % of
        the year's need or of the starter, is dropped."""
        need = self.starter if nutrient == "nitrogen" else self.needs[nutrient]
        for material in self.candidates(nutrient):
            missing = self.missing(nutrient)
            carries = self.nitrogen(material) if nutrient == "nitrogen" else self.share(material, nutrient)
            wanted = Fraction(missing) / carries
            most = min(self.limits(material, nutrient), default=wanted)
            weight = nearest(wanted, units) if wanted <= most else down(most, units)
            if nutrient == "nitrogen" and self.counted() + weight * carries > self.ceiling:
                weight = down(wanted, units, finer=True)
            if trifling(weight, weight * carries, need):
                continue
            self.doses.append(Dose(self.day, material, weight, self.plantings, before_planting=True))


def doses(plantings, needs, planned, room, units):
    """The doses of one ground before planting, as of today, by the year's need of phosphate and potash, what
    is planned of each, and what may still be brought before its need is met."""
    ground = Ground(plantings, needs, planned, room)
    if ground.day < ground.bed.season.today:
        return []
    for nutrient in (*MINERALS, "nitrogen"):
        if ground.missing(nutrient) > 0:
            ground.choose(nutrient, units)
    return ground.doses
