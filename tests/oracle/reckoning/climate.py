"""Soil temperature, and time counted as days at 25 C."""

import math
from datetime import date, timedelta

from .quantity import celsius

MIDDLE_OF_MONTH = 15
# `rule-soil-temperature` of the sources: soil at 10 cm follows the yearly wave of the air.
OFFSET, MEAN_SHARE, SWING_SHARE, LAG = 2.49, 0.91, 0.956, 0.0446


class Climate:
    """The soil of one garden, from 1 July of the year before to 31 December of the year."""

    def __init__(self, garden):
        self.year = garden["year"]
        self.first = date(self.year - 1, 7, 1)
        self.given = "warmest" in garden
        if self.given:
            warm, cold = (float(celsius(garden[key]["mean"])) for key in ("warmest", "coldest"))
            self.mean, self.swing = (warm + cold) / 2, (warm - cold) / 2
            peak = date(self.year, garden["warmest"]["month"], MIDDLE_OF_MONTH)
            self.peak = peak.timetuple().tm_yday
        self.sums = [0.0]
        day = self.first
        while day <= date(self.year, 12, 31):
            self.sums.append(self.sums[-1] + speed(self.soil(day)))
            day += timedelta(days=1)

    def soil(self, day):
        """Degrees Celsius at 10 cm; without a climate 15 from April to October, 5 otherwise."""
        if not self.given:
            return 15.0 if 4 <= day.month <= 10 else 5.0
        angle = 2 * math.pi * (day.timetuple().tm_yday - self.peak) / 365
        wave = SWING_SHARE * self.swing * math.cos(angle - LAG)
        return max(0.0, OFFSET + MEAN_SHARE * self.mean + wave)

    def time(self, after, until):
        """Days at 25 C from the day after `after` up to and with `until`."""
        if until <= after:
            return 0.0
        return self.sums[(until - self.first).days + 1] - self.sums[(after - self.first).days + 1]

    def share_of_year(self, planted, last):
        """The part of the year's soil time in a life, first and last day included; days of an
        earlier year do not count."""
        before = date(self.year - 1, 12, 31)
        start = max(planted - timedelta(days=1), before)
        return self.time(start, last) / self.time(before, date(self.year, 12, 31))

    def regrowth(self):
        """The first spring day with soil at 5 C; 15 March where no climate is given."""
        if not self.given:
            return date(self.year, 3, 15)
        day = date(self.year, 1, 1)
        while self.soil(day) < 5.0:
            day += timedelta(days=1)
        return day


def speed(soil):
    """How fast soil life works, against 25 C: twice for every 10 C, held above 35 C, tapering
    from 5 C to nothing at 0 C."""
    if soil < 5.0:
        return 2.0 ** ((5.0 - 25.0) / 10.0) * max(0.0, soil) / 5.0
    return 2.0 ** ((min(soil, 35.0) - 25.0) / 10.0)
