"""A whole season: every bed from need to doses, in the order of planting, as figures by path."""

from fractions import Fraction

from . import NotReckoned, before_planting, side_dress
from .credit import before, counted_from, credits, spread_out
from .mineral import MINERALS, balance, counts, soil_class
from .need import ceiling, check, need_in_pots, rate, value
from .quantity import quantity

CARRIED_MOST = Fraction(40, 10000)
RICH, VERY_RICH = Fraction(4, 100), Fraction(6, 100)
ORDINARY_STARTER, BRASSICA_STARTER, SAND_STARTER = Fraction(1, 2), Fraction(1, 3), Fraction(1, 4)


def starter_share(planting):
    """The crop's own share, else a third for brassicas and half for others; on sand at most a quarter."""
    printed = planting.crop.get("starter")
    ordinary = BRASSICA_STARTER if planting.crop.get("brassica") else ORDINARY_STARTER
    share = quantity(value(printed)) if printed else ordinary
    return min(share, SAND_STARTER) if planting.bed.texture == "sand" and not planting.legume else share


def measure_first(planting, basis):
    """Whether the plan changes for rich soil: 4 % organic matter or more, and no nitrate test."""
    return basis != "given" and planting.bed.organic_matter >= RICH and "nitrate" not in planting.bed.soil


def dressed_when_rich(planting):
    """Light feeders get no more than the starter on rich soil, nor medium ones above 6 %."""
    feeder = value(planting.crop["feeder"])
    return feeder == "heavy" or feeder == "medium" and planting.bed.organic_matter <= VERY_RICH


def reckon_nitrogen(planting, earlier_doses):
    """Need, credits, what is short and planned of one planting, into `planting.found`."""
    check(planting)
    found = planting.found
    if planting.bed.container:
        found |= {"basis": "container", "need": need_in_pots(planting), "credits": {}, "ceiling": None}
    else:
        found["basis"], found["rate"] = rate(planting)
        found["need"] = found["rate"] * planting.area
        found["credits"], other = credits(planting, found["basis"], found["need"])
        if (earlier := before(planting)) is not None and found["basis"] != "given":
            other += carried_over(planting, earlier, earlier_doses)
        top = ceiling(planting, found["basis"], found["need"])
        if found["basis"] != "given":
            top -= sum(max(Fraction(0), Fraction(found["credits"][name][0])) for name in other)
        found["ceiling"] = max(Fraction(0), top)
    typical, low, high = (sum((Fraction(credit[end]) for credit in found["credits"].values()), Fraction(0))
                          for end in range(3))
    found["credit"] = typical
    found["shortfall"] = max(Fraction(0), found["need"] - typical)
    found["shortfall/low"] = max(Fraction(0), found["need"] - high)
    found["shortfall/high"] = max(Fraction(0), found["need"] - low)
    found["surplus"] = max(Fraction(0), typical - found["need"])
    top = found["shortfall"] if found["ceiling"] is None else found["ceiling"]
    found["planned"] = min(found["shortfall"], top)
    found["planned/low"] = min(found["shortfall/low"], top)
    found["planned/high"] = min(found["shortfall/high"], top)
    found["not_planned"] = found["shortfall"] - found["planned"]
    found["measure_first"] = found["starter_only"] = False
    found["starter"] = Fraction(0) if planting.bed.container else found["planned"] * starter_share(planting)
    if not planting.bed.container and not side_dress.printed_visits(planting):
        found["starter"] = found["planned"]
    if not planting.bed.container and measure_first(planting, found["basis"]):
        but_nitrate = typical - Fraction(found["credits"].get("soil nitrate", (0,))[0])
        found["starter"] = min(found["starter"], max(Fraction(0), found["need"] / 4 - but_nitrate))
        found["measure_first"] = dressed_when_rich(planting)
        found["starter_only"] = not found["measure_first"]
        if found["starter_only"] and found["planned"] > found["starter"]:
            found["held_back"] = found["planned"] - found["starter"]


def carried_over(planting, earlier, doses):
    """Credits from the crop before: its doses' later release, and what it left unused where its need was
    reckoned with all that the soil gives."""
    credits = planting.found["credits"]
    part = Fraction(min(planting.area, earlier.area)) / earlier.area
    after = counted_from(planting, earlier.planted)
    later = sum(dose.free(earlier, after, planting.last) for dose in doses
                if earlier in dose.plantings and dose.certain)
    names = []
    if later:
        later *= float(part)
        credits["doses for the crop before"] = later, later, later
        names.append("doses for the crop before")
    unused = earlier.found["credit"] + earlier.found["given"] - earlier.found["need"]
    if unused > 0 and earlier.found["basis"] == "supply":
        unused = min(unused * part, CARRIED_MOST * planting.area)
        credits["left by the crop before"] = spread_out(unused, "0.5", "1.5")
    return names


def reckon_bed(bed):
    """All figures of a bed: (minerals by nutrient, doses)."""
    units = bed.season.garden.get("units", "us")
    minerals = {nutrient: balance(bed, nutrient) for nutrient in MINERALS}
    doses, days = [], []
    for day in sorted({one.planted for one in bed.plantings}):
        days.append([one for one in bed.plantings if one.planted == day])
    for plantings in days:
        for planting in plantings:
            reckon_nitrogen(planting, doses)
        at_planting = [] if bed.container else before_all(plantings, minerals, doses, units)
        doses += at_planting
        for planting in plantings:
            doses += dress(planting, at_planting, units)
    for nutrient, found in minerals.items():
        found["given"] = sum((dose.holds(nutrient) for dose in doses if dose.certain), Fraction(0))
        found["still_short"] = max(Fraction(0), found["planned"] - brought(bed, doses, nutrient))
    return minerals, doses


def brought(bed, doses, nutrient):
    """What certain doses bring of phosphate or potash that counts this year, in kg."""
    grade, _ = soil_class(bed, nutrient)
    return sum((dose.holds(nutrient) * counts(dose.material, nutrient, grade) for dose in doses if dose.certain),
               Fraction(0))


def before_all(plantings, minerals, doses, units):
    """Doses before the plantings of one day. Phosphate and potash of a ground go to what is planted first."""
    bed, first = plantings[0].bed, before(plantings[0]) is None
    if first and doses:
        raise NotReckoned("grounds of one bed planted on different days")
    planned = {name: found["planned"] if first else Fraction(0) for name, found in minerals.items()}
    room = {name: found["need"] - found["credit"] - brought(bed, doses, name) for name, found in minerals.items()}
    needs = {name: found["need"] for name, found in minerals.items()}
    return before_planting.doses(plantings, needs, planned, room, units)


def dress(planting, at_planting, units):
    """The dressings of a planting after what was given before it, and what both come to."""
    found = planting.found
    first = Fraction(sum(dose.in_life(planting) for dose in at_planting))
    dressings = []
    if not found["starter_only"]:
        top = None if found["ceiling"] is None else found["ceiling"] - first
        dressings = side_dress.doses(planting, found["planned"] - first, top, units,
                                     certain=not found["measure_first"])
    certain = sum(Fraction(dose.in_life(planting)) for dose in dressings if dose.certain)
    found["given"] = first + certain
    short = max(Fraction(0), found["planned"] - found["given"])
    waits = found["measure_first"] and dressings or "held_back" in found
    found["not_given"] = Fraction(0) if waits else short
    return dressings
