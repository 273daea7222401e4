"""How much of a material's nitrogen comes free between two days."""

import math
from datetime import date, timedelta

# `rule-release` of the sources, at 25 C: quick pool, its rate a day, slow pool, its rate a day. Only the
# shape matters: both pools are multiplied by one factor to meet the first-season share of the catalogue.
# The quick pool of compost is what cattle manure compost of C:N 12 gives, 0.6 x 1.9 x (20 - 12) percent;
# the slow one is the remainder.
POOLS = {
    "meal": (0.52, 0.40, 0.25, 0.014),
    "plant": (0.30, 0.12, 0.42, 0.009),
    "poultry": (0.34, 0.25, 0.31, 0.02),
    "compost": (0.0912, 0.05, 0.9088, 0.00032),
}
FIRST_SEASON = 120 * 2.0 ** ((20.0 - 25.0) / 10.0)
# What is spread from August on stands still from October to the middle of March.
STANDS_FROM, STILL_FROM, STILL_UNTIL = (8, 1), (10, 1), (3, 15)


def shape(pools, time):
    """The part of a first season's release that is out after `time` days at 25 C."""
    quick, quick_rate, slow, slow_rate = POOLS[pools]

    def free(days):
        return quick * -math.expm1(-quick_rate * days) + slow * -math.expm1(-slow_rate * days)

    return free(time) / free(FIRST_SEASON)


def soil_time(climate, spread, until):
    """Days at 25 C that what was spread on a day has had by the end of another."""
    if (spread.month, spread.day) < STANDS_FROM:
        return climate.time(spread, until)
    autumn, spring = date(spread.year, *STILL_FROM), date(spread.year + 1, *STILL_UNTIL)
    before = climate.time(spread, min(until, autumn - timedelta(days=1)))
    return before + climate.time(max(spread, spring), until)


def shares(climate, material, spread, after, until):
    """Low, typical and high share of its total nitrogen that comes free after one day, up to
    and with another; none where it holds no nitrogen."""
    if "release" not in material:
        return [0.0, 0.0, 0.0]
    ends = [float(material["release"][key]) / 100 for key in ("low", "typical", "high")]
    if "pools" not in material:
        # Mineral nitrogen is all there at once.
        return [end if after <= spread <= until else 0.0 for end in ends]
    part = shape(material["pools"], soil_time(climate, spread, until))
    if after > spread:
        part -= shape(material["pools"], soil_time(climate, spread, after))
    return [end * part for end in ends]
