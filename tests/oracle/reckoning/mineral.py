"""Phosphate and potash of a bed and year: class, need, credits, what is short."""

from fractions import Fraction

from . import NotReckoned
from .need import PER_ACRE, harvest_in_pots, holds_here, hoped_for, removal
from .quantity import HECTARE, quantity, span
from .spread import content

ELEMENT = {"phosphate": ("p", "phosphorus"), "potash": ("k", "potassium")}
GIVEN = {"phosphate": "p2o5", "potash": "k2o"}
FACTOR = {"very-low": 2, "low": Fraction(3, 2), "target": 1, "high": Fraction(1, 2), "very-high": 0}
BUILD_UP = {"very-low": 60 / HECTARE, "low": 30 / HECTARE}
BLANK = {"medium": Fraction(1, 2), "high": Fraction(1, 4), "very_high": 0}
CELL = {"very low": "low", "low": "low", "medium": "medium", "high": "high", "very high": "very_high"}
MINERALS = ("phosphate", "potash")
MOST = {"phosphate": 200 * PER_ACRE, "potash": 300 * PER_ACRE}
PER_ACRE_OF_PPM = 2


def soil_class(bed, nutrient):
    """The class of the soil test and the laboratory's word; target where nothing is tested."""
    letter, element = ELEMENT[nutrient]
    if letter not in bed.soil:
        return "target", None
    for limits in bed.season.catalogue.limits:
        if limits["extractant"] == bed.soil["test"] and limits["nutrient"] == element and limits.get("default"):
            if limits["unit"] != "lb/acre" or limits.get("oxide"):
                raise NotReckoned(f"limits in {limits['unit']}")
            found = quantity(bed.soil[letter]) * 10**6 * PER_ACRE_OF_PPM
            reached = [one for one in limits["classes"] if Fraction(one["from"]) <= found]
            best = max(reached, key=lambda one: Fraction(one["from"]))
            return best["class"], best["word"]
    raise NotReckoned(bed.soil["test"])


def composted(bed):
    """Whether compost or manure came in two of the last three years."""
    years = {one["year"] for one in bed.said.get("history", []) if one["kind"] in ("compost", "manure")}
    return len(years & set(range(bed.season.garden["year"] - 3, bed.season.garden["year"]))) >= 2


def published(planting, nutrient, word):
    """The cell of a bulletin's row in kg/m2, or none. Without a soil test the optimum cell."""
    rows = [row for row in planting.crop.get("recommendation", [])
            if nutrient in row and holds_here(row, planting.bed)]
    if not rows:
        return None
    row = max(rows, key=lambda row: (len(row[nutrient]) == 4, row.get("year", 0)))[nutrient]
    cell = CELL[word or "high"]
    return quantity(row[cell]) if cell in row else quantity(row["low"]) * BLANK[cell]


def rates(planting, nutrient, grade, word):
    """What one planting asks for: a published or given rate or none, and removal at its yield."""
    said = planting.said.get("need", {}).get(GIVEN[nutrient])
    fixed = published(planting, nutrient, word)
    if said:
        low, high = span(said)
        fixed = low if grade in ("target", "high", "very-high") else (low + high) / 2
    harvest, share = hoped_for(planting, for_removal=True), removal(planting.crop, nutrient)
    carried = harvest * share if harvest is not None and share is not None else Fraction(0)
    return fixed, carried


def need_of_ground(plantings, nutrient):
    """The year's need of ground that bears these crops one after another, in kg."""
    bed = plantings[0].bed
    grade, word = soil_class(bed, nutrient)
    factor = Fraction(FACTOR[grade])
    if word is None and composted(bed):
        factor = Fraction(0) if nutrient == "phosphate" else Fraction(1, 2)
    asked = [rates(one, nutrient, grade, word) for one in plantings]
    fixed = [(rate, -place) for place, (rate, _) in enumerate(asked) if rate is not None]
    if fixed:
        best, place = max(fixed)
        if word is None:
            best *= factor
        total = best + sum(carried * factor for other, (_, carried) in enumerate(asked) if other != -place)
    else:
        carried = sum(one for _, one in asked)
        built_up = carried + BUILD_UP.get(grade, 0) if carried and grade in BUILD_UP else Fraction(0)
        total = max(carried * factor, built_up)
    return total * max(one.area for one in plantings)


def grounds(bed):
    """Plantings that follow each other on one ground; side by side they are grounds of their own."""
    groups = []
    for planting in bed.plantings:
        for group in groups:
            if group[-1].last < planting.planted:
                if group[0].area != planting.area:
                    raise NotReckoned("crops on grounds of different size after each other")
                group.append(planting)
                break
        else:
            groups.append([planting])
    return groups


def balance(bed, nutrient):
    """Need, credits, shortfall, surplus, and what is planned and not planned of one nutrient, in kg. Of
    what is spread counts the part on ground that is planted, as the program says beside such a credit."""
    planted = 1
    if bed.container:
        planting, = bed.plantings
        need = harvest_in_pots(planting) * removal(planting.crop, nutrient)
    else:
        need = sum(need_of_ground(group, nutrient) for group in grounds(bed))
        planted = sum(group[0].area for group in grounds(bed)) / bed.area
    grade, _ = soil_class(bed, nutrient)
    credits, in_all = {}, Fraction(0)
    for amend in bed.said.get("amend", []):
        material = bed.season.material(amend["material"])
        held = content(amend, material, bed.area, nutrient) * planted
        in_all += held
        credits[material["name"]] = credits.get(material["name"], 0) + held * counts(material, nutrient, grade)
    credit = sum(credits.values())
    short = max(Fraction(0), need - credit)
    most = MOST[nutrient] * planted * bed.area if bed.area else short
    planned = min(short, most)
    return {"need": need, "credits": credits, "credit": credit, "shortfall": short,
            "surplus": max(Fraction(0), in_all - need), "planned": planned, "not_planned": short - planned}


def counts(material, nutrient, grade):
    """The share of a material's phosphate or potash that counts this year."""
    if nutrient == "phosphate" and grade in ("low", "very-low"):
        return quantity(material.get("phosphate_available_on_low_soil", "100 %"))
    return Fraction(1)
