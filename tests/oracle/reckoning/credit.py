"""What soil and earlier years give a planting in nitrogen, with its likely range in kg."""

from datetime import date, timedelta
from fractions import Fraction

from . import NotReckoned
from .need import PER_ACRE, value
from .quantity import HECTARE, INCH, quantity
from .release import shares
from .spread import content, ground_share

LAYER, LAYER_NITROGEN = Fraction(30, 100), 20 / HECTARE
AFTER_COVER = 15 / HECTARE
TOP_FOOT, FOOT_SHARE = 12 * INCH, Fraction(60, 100)
BULK = {"sand": 1500, "loam": 1300, "clay": 1200}
PEATY, PEATY_BULK = Fraction(6, 100), 1000
ORDINARY, MOST_COUNTED = Fraction(2, 100), Fraction(8, 100)
PER_PERCENT = 20 * PER_ACRE * 100
ORDINANCE_FROM, ORDINANCE_LEAST = Fraction(4, 100), 20 / HECTARE
COMPOST_YEARS = {1: Fraction(4, 100), 2: Fraction(3, 100), 3: Fraction(3, 100)}
MANURE_YEARS = {1: Fraction(10, 100)}
COVER_SLOPE, COVER_NIL, COVER_FLOOR = Fraction(875, 1000), Fraction(15, 1000), Fraction(-10, 2000)
COVER_ALL_WITHIN = timedelta(days=30)
RESIDUES_FROM, RESIDUES_UNTIL = timedelta(weeks=2), timedelta(weeks=10)
BEFORE_PLANTING = timedelta(days=30 + 1)
WATER = 1000


def spread_out(typical, low, high):
    """A credit with the ends of its likely range as factors of the typical."""
    return typical, typical * Fraction(low), typical * Fraction(high)


def soil_nitrate(planting):
    """Measured, else an ordinary store by rooting depth, half on sand; 15 kg/ha after a cover
    killed in spring."""
    soil, area = planting.bed.soil, planting.area
    depth = quantity(planting.crop["supply"]["depth"])
    if "nitrate" in soil:
        taken = soil.get("nitrate_sampled", soil["sampled"])
        if taken >= planting.planted or planting.bed.said.get("amend"):
            raise NotReckoned("nitrate measured after planting or after an amendment")
        peaty = planting.bed.organic_matter >= PEATY
        bulk = PEATY_BULK if peaty else BULK[planting.bed.texture]
        found = quantity(soil["nitrate"]) * bulk * quantity(soil["depth"])
        if quantity(soil["depth"]) == TOP_FOOT and depth > TOP_FOOT:
            found /= FOOT_SHARE
        return spread_out(found * area, "0.8", "1.2")
    if any(killed.year == planting.planted.year for _, killed in covers(planting)):
        return spread_out(AFTER_COVER * area, "0.5", "1.5")
    half = Fraction(1, 2) if planting.bed.texture == "sand" else 1
    return spread_out(LAYER_NITROGEN * depth / LAYER * half * area, "0.5", "1.5")


def organic_matter(planting, part):
    """What is above 2 % frees 20 lb/acre a year for each percent, by the life's share of soil time."""
    measured = min(planting.bed.organic_matter, MOST_COUNTED)
    given = max(Fraction(0), measured - ORDINARY) * PER_PERCENT * part
    _, low, high = spread_out(given * planting.area, "0.5", "1.65")
    if measured >= ORDINANCE_FROM:
        given = max(given, ORDINANCE_LEAST)
    return given * planting.area, low, max(high, given * planting.area)


def earlier_years(planting, part):
    """Compost and manure of the three years before, by the life's share of soil time, each by its name."""
    found, bed = {}, planting.bed
    for one in bed.said.get("history", []):
        if one["kind"] in ("compost", "manure"):
            material = bed.season.material(one.get("material", "mixed compost"))
            years = COMPOST_YEARS if one["kind"] == "compost" else MANURE_YEARS
            share = years.get(bed.season.garden["year"] - one["year"], 0)
            given = content(one, material, bed.area, "nitrogen") * share * part * ground_share(planting)
            if given:
                found[f"{material['name']} of {one['year']}"] = spread_out(given, "0.5", "1.5")
    return found


def covers(planting):
    """Cover crops killed before this planting that no crop before it has had."""
    for one in planting.bed.said.get("history", []):
        if one["kind"] == "cover crop" and planting is planting.bed.plantings[0]:
            yield one, one["killed"]


def cover_crop(planting, said):
    """17.5 lb a ton of dry matter for each percent above 1.5, all of it within 35 days."""
    if planting.planted - said["killed"] > COVER_ALL_WITHIN:
        raise NotReckoned("a cover crop killed long before planting")
    crop = planting.bed.season.catalogue.crop(said["crop"])
    rate = max(COVER_FLOOR, COVER_SLOPE * (quantity(value(crop["cover_nitrogen"])) - COVER_NIL))
    typical, low, high = spread_out(quantity(said["biomass"]) * planting.area * rate, "0.7", "1.2")
    return typical, min(low, high), max(low, high)


def before(planting):
    """The crop before it on the same ground, or none."""
    earlier = [one for one in planting.bed.plantings if one.last < planting.planted]
    return max(earlier, key=lambda one: one.last) if earlier else None


def residues(planting, earlier):
    """In full for a crop planted 2 to 10 weeks after, half before that, nothing later."""
    gap = planting.planted - earlier.last
    if earlier.said.get("residues") != "left" or gap > RESIDUES_UNTIL or "supply" not in earlier.crop:
        return None
    part = Fraction(1, 2) if gap < RESIDUES_FROM else 1
    left = quantity(earlier.crop["supply"]["residues"]) * min(planting.area, earlier.area) * part
    return left, left / 3, left


def counted_from(planting, spread):
    """The day after which release counts: the spreading, the eve of the 30 days before planting, the end of
    the crop before, or for an overwintered crop the end of the year before."""
    days = [spread, planting.planted - BEFORE_PLANTING]
    if earlier := before(planting):
        days.append(earlier.last)
    if planting.crop.get("overwintered"):
        days.append(date(planting.bed.season.garden["year"] - 1, 12, 31))
    return max(days)


def amended(planting, until):
    """What this season's compost and manure release in the planting's window up to a day, by material."""
    found, bed = {}, planting.bed
    for said in bed.said.get("amend", []):
        material = bed.season.material(said["material"])
        held = content(said, material, bed.area, "nitrogen") * ground_share(planting)
        low, typical, high = shares(bed.season.climate, material, said["on"],
                                    counted_from(planting, said["on"]), until)
        found[material["name"]] = tuple(float(held) * share for share in (typical, low, high))
    return found


def irrigation(planting, need):
    """Nitrate in the water, never more than the crop uses."""
    total = Fraction(0)
    for said in planting.bed.said.get("water", []):
        total += quantity(said["nitrate"]) * quantity(said["depth"]) * WATER * planting.area
    return min(total, need)


def credits(planting, basis, need):
    """Every credit by name: typical, low and high; and those that are taken from the ceiling."""
    found = {}
    climate, earlier = planting.bed.season.climate, before(planting)
    part = Fraction(climate.share_of_year(planting.planted, planting.last))
    if basis == "given":
        if planting.bed.said.get("amend"):
            raise NotReckoned("amendments beside a given rate")
    else:
        if basis == "supply" and earlier is None:
            found["soil nitrate"] = soil_nitrate(planting)
        years = earlier_years(planting, part)
        matter = organic_matter(planting, part) if basis == "supply" else (0, 0, 0)
        together = tuple(sum(ends) for ends in zip(*years.values()))
        if not matter[0]:
            found |= years
        elif years and together[0] > matter[0]:
            found["earlier compost and manure"] = together
        else:
            found["organic matter"] = matter
        for said, _ in covers(planting):
            found[said["crop"]] = cover_crop(planting, said)
        if earlier is not None and (left := residues(planting, earlier)):
            found[f"{earlier.crop['name']} residues"] = left
        found |= amended(planting, planting.last)
    if planting.bed.said.get("water"):
        water = irrigation(planting, need)
        found["irrigation"] = water, water, water
    other = [name for name in found if name not in ("soil nitrate", "organic matter")]
    return found, other
