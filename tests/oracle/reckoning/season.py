"""A season file as beds and plantings with their ground and dates."""

import tomllib
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction

from . import NotReckoned
from .catalogue import Catalogue, plain
from .climate import Climate
from .quantity import quantity, spacing

PICKED_FOR = timedelta(days=56)
WEEKDAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
ORDINARY_ORGANIC_MATTER = Fraction(2, 100)
COVERED = {
    "bed": {"name", "length", "width", "area", "texture", "soil", "history", "amend", "planting", "feeding",
            "water", "under_plastic", "container", "volume", "count"},
    "soil": {"test", "p", "k", "organic_matter", "ph", "sampled", "nitrate", "depth", "nitrate_sampled"},
    "planting": {"crop", "share", "plants", "spacing", "rows", "row_length", "row_spacing", "planted", "days",
                 "harvest", "last_harvest", "how", "yield", "residues", "need"},
    "crop": {"name", "aliases", "latin", "feeder", "picked_over", "touches_soil"},
}


def covered(kind, table):
    """Refuses a table with a field that is not reckoned here."""
    if unknown := set(table) - COVERED[kind]:
        raise NotReckoned(f"{kind}: {', '.join(sorted(unknown))}")


@dataclass
class Planting:
    """One crop on its ground, from its first day to its last."""

    said: dict
    crop: dict
    bed: "Bed"
    planted: date
    harvest: date
    last: date
    area: Fraction
    found: dict = field(default_factory=dict)

    @property
    def path(self):
        return f"{self.bed.path}/{plain(self.crop['name']).replace(' ', '-')}"

    @property
    def life(self):
        """Days from the first to the last, both counted."""
        return (self.last - self.planted).days + 1

    @property
    def legume(self):
        return self.crop.get("legume", False)


@dataclass
class Bed:
    """A bed, or a group of pots, with what grows in it, in the order of planting."""

    said: dict
    season: "Season"
    area: Fraction | None
    plantings: list = field(default_factory=list)

    @property
    def path(self):
        return plain(self.said["name"]).replace(" ", "-")

    @property
    def soil(self):
        return self.said.get("soil", {})

    @property
    def container(self):
        return self.said.get("container", False)

    @property
    def texture(self):
        return self.said.get("texture", self.season.garden.get("texture", "loam"))

    @property
    def organic_matter(self):
        """Measured, else the ordinary 2 % as a share."""
        said = self.soil.get("organic_matter")
        return quantity(said) if said else ORDINARY_ORGANIC_MATTER

    def feeding(self, key):
        """The bed's own list of materials, else the garden's."""
        return self.said.get("feeding", {}).get(key, self.season.feeding.get(key, []))


class Season:
    """One season file, as of one day."""

    def __init__(self, path, today):
        said = tomllib.loads(path.read_text(encoding="utf-8"))
        self.today, self.garden, self.feeding = today, said["garden"], said["feeding"]
        if self.garden.get("basis", "supply") != "supply" or "region" in self.garden:
            raise NotReckoned("another basis or region")
        for crop in said.get("crop", []):
            covered("crop", crop)
        self.catalogue = Catalogue(said.get("crop", []))
        self.climate = Climate(self.garden)
        self.visit_day = WEEKDAYS.index(self.garden.get("visit_day", "saturday"))
        self.labels = {}
        for offer in said.get("shed", []):
            if "analysis" in offer:
                self.labels[self.catalogue.material(offer["material"])["name"]] = offer["analysis"]
        self.beds = [self.bed(bed) for bed in said["bed"]]

    def material(self, name):
        """A material with the analysis on its label, where the shed has one."""
        listed = self.catalogue.material(name)["name"]
        return self.catalogue.material(listed, self.labels.get(listed))

    def bed(self, said):
        covered("bed", said)
        covered("soil", said.get("soil", {}))
        bed = Bed(said, self, None)
        if "area" in said:
            bed.area = quantity(said["area"])
        elif not bed.container:
            bed.area = quantity(said["length"]) * quantity(said["width"])
        bed.plantings = sorted((self.planting(bed, one) for one in said["planting"]), key=lambda one: one.planted)
        make_room(bed)
        return bed

    def planting(self, bed, said):
        covered("planting", said)
        crop = self.catalogue.crop(said["crop"])
        planted = said["planted"]
        harvest = said.get("harvest") or planted + timedelta(days=said["days"] - 1)
        last = said.get("last_harvest") or (harvest + PICKED_FOR if crop.get("picked_over") else harvest)
        return Planting(said, crop, bed, planted, harvest, last, ground(bed, said))

    def visit_from(self, day):
        """The visit day on or after a day."""
        return day + timedelta(days=(self.visit_day - day.weekday()) % 7)

    def visit_until(self, day):
        """The visit day on or before a day."""
        return day - timedelta(days=(day.weekday() - self.visit_day) % 7)


def make_room(bed):
    """Ends a crop whose last harvest is only assumed on the day another is planted where it stands."""
    for crop in bed.plantings:
        if bed.area is None or "last_harvest" in crop.said:
            continue
        for new in bed.plantings:
            if new is not crop and crop.planted < new.planted and crop.harvest <= new.planted < crop.last:
                standing = [one.area for one in bed.plantings if one.planted <= new.planted < one.last]
                if sum(standing) > bed.area:
                    crop.last = new.planted


def ground(bed, said):
    """The ground of a planting, in m2; the bed's where nothing is said of it; none in pots."""
    if bed.container:
        return None
    if "share" in said:
        return bed.area * quantity(said["share"])
    if "plants" in said and "spacing" in said:
        return said["plants"] * spacing(said["spacing"])
    if "rows" in said:
        width = said["rows"] * quantity(said["row_spacing"])
        return min(width, quantity(bed.said["width"])) * quantity(said["row_length"])
    return bed.area
