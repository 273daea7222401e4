"""Side-dressings in equal amounts at the published weeks."""

from datetime import timedelta
from fractions import Fraction

from .dose import SOON, TRIFLE, Dose, nitrogen_share
from .need import PER_ACRE, value
from .quantity import GALLON, quantity
from .spread import as_it_comes
from .weigh import down, nearest

AT_ONCE = 50 * PER_ACRE
SEEDLINGS = timedelta(weeks=3)
POTS_EVERY = timedelta(days=14)
POTS_AT_ONCE = Fraction(1, 1000)
APART = timedelta(days=14)
VISITS_APART = timedelta(days=7)
ROOTING, HEADS_FROM = timedelta(days=7), timedelta(days=21)
ON_SAND = timedelta(days=18)
# For a crop of the grower's own that names no days: the program dresses it once, at four weeks.
NO_DAYS_PRINTED = [28]


def last_useful(planting):
    """The last day on which nitrogen is still of use."""
    printed = value(planting.crop.get("last_useful", "two_thirds_of_life"))
    if planting.crop.get("picked_over") and "last_useful" not in planting.crop:
        printed = {"days_before_harvest": 28}
    if printed == "two_thirds_of_life":
        return planting.planted + timedelta(days=planting.life * 2 // 3 - 1)
    return planting.last - timedelta(days=printed["days_before_harvest"])


def printed_days(planting, end):
    """The days that a source's windows and stages mean for this planting."""
    if planting.bed.container:
        day = planting.planted + POTS_EVERY
        while day <= end:
            yield day
            day += POTS_EVERY
        return
    schedule = planting.crop.get("side_dress", {"days": NO_DAYS_PRINTED})
    start = planting.planted
    if planting.crop.get("overwintered"):
        start = planting.bed.season.climate.regrowth()
    for days in schedule.get("days", []):
        yield start + timedelta(days=days)
    for days in schedule.get("from_harvest", []):
        yield planting.harvest + timedelta(days=days)
    if "every" in schedule:
        day = start
        while day <= end:
            yield day
            day += timedelta(days=schedule["every"])


def visits(planting):
    """The visit days of the dressings that are not yet over."""
    return [visit for visit in printed_visits(planting) if visit >= planting.bed.season.today]


def printed_visits(planting):
    """The visit days of the dressings, none past the last useful day."""
    season, end = planting.bed.season, last_useful(planting)
    days = list(printed_days(planting, end))
    if days and planting.bed.texture == "sand":
        more = days[-1] + ON_SAND
        middle = planting.planted + (days[0] - planting.planted) // 2
        days = [*days, more] if more <= end else [middle, *days]
    found = []
    for day in days:
        visit = season.visit_from(day)
        if visit > end:
            visit = season.visit_until(end)
        if day <= end and visit not in found:
            found.append(visit)
    return found


def most_at_once(planting, material, day):
    """The heaviest dose on a day, in kg: by what acts within two weeks, in pots by all nitrogen."""
    if planting.bed.container:
        volume = quantity(planting.bed.said["volume"]) * planting.bed.said.get("count", 1)
        return volume / GALLON * POTS_AT_ONCE / as_it_comes(material, "nitrogen")
    cap = quantity(value(planting.crop["cap"])) if "cap" in planting.crop else AT_ONCE
    if planting.said.get("how") == "seed" and day < planting.planted + SEEDLINGS:
        cap /= 2
    soon = nitrogen_share(planting, material, day, day + SOON)
    if not soon:
        soon = nitrogen_share(planting, material, day, planting.last)
    return cap * planting.area / Fraction(soon)


def wanted(planting, material, day, amount):
    """The weight whose nitrogen that counts by harvest is an amount."""
    return amount / Fraction(nitrogen_share(planting, material, day, planting.last))


def takes(planting, material, day):
    """The most nitrogen that counts by harvest of a dressing on a day, in kg; none where nothing acts."""
    share = nitrogen_share(planting, material, day, planting.last)
    return Fraction(share) * most_at_once(planting, material, day) if share else Fraction(0)


def more_from(planting):
    """The first day of a dressing that no source prints: a week after planting, three beside heads; from
    regrowth on; today at the earliest."""
    season = planting.bed.season
    day = planting.planted + (HEADS_FROM if planting.crop.get("heading") else ROOTING)
    if planting.crop.get("overwintered"):
        day = max(day, season.climate.regrowth())
    return max(day, season.today)


def one_more(planting, days, start):
    """The day to add to some: two weeks after the last, else before the first; else the free visit where the
    days to the one before and to the one after, multiplied, are most, or any outside them. The latest of those
    that are equal; None where there is none."""
    end = last_useful(planting)
    for day in (days[-1] + APART, days[0] - APART):
        if start <= day <= end:
            return day
    best, found, day = -1, None, planting.bed.season.visit_from(start)
    while day <= end:
        earlier, later = [one for one in days if one <= day], [one for one in days if one >= day]
        room = (day - earlier[-1]).days * (later[0] - day).days if earlier and later else 0
        if day not in days and room >= best:
            best, found = room, day
        day += VISITS_APART
    return found


def spread_over(planting, material, amount):
    """The visits that an amount takes, and what each is to bring: beside seedlings only where it takes those."""
    first = more_from(planting)
    grown = planting.planted + SEEDLINGS if planting.said.get("how") == "seed" else first
    days, part, holds = spread_from(planting, material, amount, max(first, grown))
    if not holds and grown > first:
        days, part, _ = spread_from(planting, material, amount, first)
    return days, part


def spread_from(planting, material, amount, start):
    """The visits that an amount takes, and what each is to bring: equal parts over more and more visits, until
    none passes the cap of its day. Where that is never so, the first visits that can take it all, or all of
    them; those with a low cap are filled, and the others share the rest."""
    days = visits(planting)
    if planting.bed.container or not days:
        return days, amount / max(1, len(days)), True
    chosen = {}
    while True:
        caps = {day: cap for day in days if (cap := takes(planting, material, day))}
        if caps and amount / len(caps) <= min(caps.values()):
            return list(caps), amount / len(caps), True
        if not chosen and sum(caps.values()) >= amount:
            chosen = caps
        more = one_more(planting, days, start)
        if more is None:
            break
        days = sorted([*days, more])
    chosen = chosen or caps
    left, part = amount, Fraction(0)
    for filled, cap in enumerate(sorted(chosen.values())):
        part = left / (len(chosen) - filled)
        if part <= cap:
            break
        left -= cap
    return list(chosen), part, sum(chosen.values()) >= amount


def doses(planting, still, ceiling, units, certain=True):
    """The dressings of a planting: equal parts of what is still planned, each under the cap, in all
    under the ceiling; none where that is less than 3 % of the need."""
    listed = planting.bed.feeding("side_dress")
    if planting.legume or not listed or still <= 0 or still < TRIFLE * planting.found["need"]:
        return []
    material = planting.bed.season.material(listed[0])
    days, part = spread_over(planting, material, still)
    found, given = [], Fraction(0)
    for day in days:
        weight = wanted(planting, material, day, part)
        most = most_at_once(planting, material, day)
        weight = nearest(weight, units) if weight <= most else down(most, units)
        if weight > most:
            weight = down(most, units)
        dose = Dose(day, material, weight, [planting], before_planting=False, certain=certain)
        if ceiling is not None and given + Fraction(dose.in_life(planting)) > ceiling:
            room = wanted(planting, material, day, ceiling - given)
            dose.weight = down(min(room, weight), units, finer=True)
        given += Fraction(dose.in_life(planting))
        found.append(dose)
    return found
