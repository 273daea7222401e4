"""Nitrogen by the day: what a planting needs by then, what its credits and doses have given."""

import math
from datetime import timedelta
from fractions import Fraction

from .credit import amended, before, counted_from
from .need import value

BEFORE_REGROWTH = 0.15
COVER_DAYS = 35
GENERIC = {"value": {"logistic": {"midpoint": "0.55", "steepness": "9"}}}
# The rules give no days for residues; the program spreads them over the planting's first 36 days.
RESIDUE_DAYS = 36


def days(planting):
    """Every day of a planting's life."""
    return [planting.planted + timedelta(days=day) for day in range(planting.life)]


def course(planting, share):
    """The part of the need taken up at a share of the life: an S, or straight between published points."""
    printed = value(planting.crop.get("curve", GENERIC))
    if "points" in printed:
        points = [(float(place), float(part)) for place, part in printed["points"]]
        for (left, low), (right, high) in zip(points, points[1:]):
            if share <= right:
                return low + (high - low) * (share - left) / (right - left)
    shape = printed["logistic"]
    midpoint, steepness = float(shape["midpoint"]), float(shape["steepness"])

    def at(place):
        return 1 / (1 + math.exp(-steepness * (place - midpoint)))

    return (at(share) - at(0)) / (at(1) - at(0))


def uptake(planting, day):
    """The part of the need taken up by the end of a day: by days, in crops that stand over winter by
    soil time, 15 % of it before regrowth."""
    climate = planting.bed.season.climate
    if not planting.crop.get("overwintered"):
        return course(planting, (day - planting.planted) / (planting.last - planting.planted))
    grows = climate.regrowth()
    if day <= grows:
        return BEFORE_REGROWTH * climate.time(planting.planted, day) / climate.time(planting.planted, grows)
    rest = climate.time(grows, day) / climate.time(grows, planting.last)
    return BEFORE_REGROWTH + (1 - BEFORE_REGROWTH) * course(planting, rest)


def credit_curve(planting, name, doses):
    """What a credit has given by the end of each day, in kg."""
    climate, total = planting.bed.season.climate, float(planting.found["credits"][name][0])
    every, eve = days(planting), planting.planted - timedelta(days=1)
    earlier = before(planting)
    if name in ("organic matter", "earlier compost and manure") or " of 20" in name:
        whole = climate.time(eve, planting.last)
        return [total * climate.time(eve, day) / whole for day in every]
    if name == "irrigation":
        return [total * (place + 1) / planting.life for place in range(planting.life)]
    if name.endswith(" residues"):
        return [total * min(1.0, (place + 1) / RESIDUE_DAYS) for place in range(planting.life)]
    for said in planting.bed.said.get("history", []):
        if said["kind"] == "cover crop" and said["crop"] == name:
            return [total * min(1.0, (day - said["killed"]).days / COVER_DAYS) for day in every]
    if name == "doses for the crop before":
        after = counted_from(planting, earlier.planted)
        part = float(Fraction(min(planting.area, earlier.area)) / earlier.area)
        return [part * sum(dose.free(earlier, after, day) for dose in doses
                           if earlier in dose.plantings and dose.certain) for day in every]
    if name in {planting.bed.season.material(said["material"])["name"]
                for said in planting.bed.said.get("amend", [])}:
        return [amended(planting, day)[name][0] for day in every]
    return [total] * planting.life


def curves(planting, doses):
    """All curves of a planting by name: its need, its credits, its certain doses of nitrogen."""
    found = {"needed": [float(planting.found["need"]) * uptake(planting, day) for day in days(planting)]}
    for name in planting.found["credits"]:
        found[name] = credit_curve(planting, name, doses)
    for dose in doses:
        if planting in dose.plantings and dose.certain and dose.holds("nitrogen"):
            name = f"{dose.day:%a} {dose.day.day} {dose.day:%b} {dose.material['name']}"
            found[name] = [dose.free(planting, dose.day, day) for day in days(planting)]
    return found
