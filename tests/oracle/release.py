"""Integrates the release of materials with scipy.integrate.solve_ivp and compares the curves of `topdress bed`.

    python tests/oracle/release.py "$(command -v topdress)" 40

Each season has a climate of its own and a long crop side-dressed at the published weeks with a meal or
pellets. What a dose has made available by the end of each day is integrated here from the two pools of
its class as differential equations in calendar time: each pool runs down at its rate at 25 C times what
the day's soil temperature makes of it. The pools are scaled to the first-season share that the catalogue
lists, found by integrating 120 days at 20 C. Exit status 1 where a day of a dose differs by more than
one part in a million of what the dose gives by the last harvest.
"""

import datetime
import json
import math
import random
import subprocess
import sys
import tomllib
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp

# Fast pool, its rate, slow pool, its rate, as shares of organic nitrogen and per day at 25 C.
POOLS = {
    "meal": (0.52, 0.40, 0.25, 0.014),
    "plant": (0.30, 0.12, 0.42, 0.009),
    "poultry": (0.34, 0.25, 0.31, 0.02),
}
MATERIALS = ["feather meal", "blood meal", "fish meal", "soybean meal", "alfalfa meal",
             "cottonseed meal", "pelleted poultry manure"]
CROPS = {"tomato": 130, "sweet corn": 85, "cabbage": 90, "pepper": 120}
MIDDLE = [15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349]
SAME = 1e-6


def pace(celsius):
    """How much faster than at 25 C: twice for 10 C, level above 35 C, a straight taper below 5 C."""
    if celsius < 5:
        return max(celsius, 0) / 5 * 2 ** ((5 - 25) / 10)
    return 2 ** ((min(celsius, 35) - 25) / 10)


def soil(climate, day):
    warm, cold, month = climate
    mean, half = (warm + cold) / 2, (warm - cold) / 2
    angle = 2 * math.pi * (day.timetuple().tm_yday - MIDDLE[month - 1]) / 365 - 0.0446
    return max(0.0, 2.49 + 0.91 * mean + 0.956 * half * math.cos(angle))


def stands_still(on, date):
    """Up to the end of the day it is spread, and from October on what is spread from August on."""
    return date <= on or (on >= datetime.date(2027, 8, 1) and date >= datetime.date(2027, 10, 1))


def released(pools, paces):
    """What has come free by the end of each day, with the pace of each day."""
    fast, fast_rate, slow, slow_rate = pools
    left, total, out = np.array([fast, slow]), fast + slow, []
    for one in paces:
        rates = np.array([fast_rate, slow_rate]) * one
        step = solve_ivp(lambda _, pool: -rates * pool, (0, 1), left, rtol=1e-10, atol=1e-14)
        left = step.y[:, -1]
        out.append(total - left.sum())
    return out


def scaled(material):
    fast, fast_rate, slow, slow_rate = POOLS[material["pools"]]
    season = released((fast, fast_rate, slow, slow_rate), [pace(20)] * 120)[-1]
    factor = float(material["release"]["typical"]) / 100 / season
    return fast * factor, fast_rate, slow * factor, slow_rate


def season(draw, material):
    fahrenheit = draw.randint(62, 84), draw.randint(10, 50)
    month = draw.choice([6, 7, 8])
    crop = draw.choice(list(CROPS))
    planted = datetime.date(2027, 4, 10) + datetime.timedelta(draw.randint(0, 60))
    text = f"""
[garden]
year = 2027
texture = "{draw.choice(['loam', 'clay'])}"
warmest = {{ month = {month}, mean = "{fahrenheit[0]} F" }}
coldest = {{ month = 1, mean = "{fahrenheit[1]} F" }}
[feeding]
side_dress = ["{material}"]
timing = "weeks"
[[bed]]
name = "a"
area = "100 ft2"
soil = {{ organic_matter = "2 %", p_class = "low", k_class = "low" }}
[[bed.planting]]
crop = "{crop}"
planted = {planted}
days = {CROPS[crop]}
"""
    warm, cold = ((one - 32) / 1.8 for one in fahrenheit)
    return text, (warm, cold, month)


def main():
    program, count = sys.argv[1], int(sys.argv[2])
    data = Path(__file__).resolve().parents[2] / "data" / "materials.toml"
    listed = {one["name"]: one for one in tomllib.loads(data.read_text())["material"]}
    doses, days, wrong, worst = 0, 0, [], 0.0
    for seed in range(count):
        draw = random.Random(seed)
        name = MATERIALS[seed % len(MATERIALS)]
        text, climate = season(draw, name)
        answer = subprocess.run(
            [program, "bed", "a", "--season", "-", "--on", "2027-01-02", "--format", "json"],
            input=text, capture_output=True, text=True, check=True)
        bed = json.loads(answer.stdout)["beds"][0]
        curves = bed["curves"][0]
        first, pools = datetime.date.fromisoformat(curves["first"]), scaled(listed[name])
        given = [dose for dose in bed["doses"] if dose["purpose"] == "side-dress"]
        if len(given) != len(curves["doses"]):
            wrong.append(f"season {seed}: {len(given)} doses, {len(curves['doses'])} curves")
        for dose, curve in zip(given, curves["doses"]):
            on = datetime.date.fromisoformat(dose["date"])
            shown = [float(value) for value in curve["by_day"]]
            dates = [first + datetime.timedelta(day) for day in range(len(shown))]
            paces = [0.0 if stands_still(on, date) else pace(soil(climate, date)) for date in dates]
            free = released(pools, paces)
            nitrogen = float(dose["nitrogen"]["value"])
            apart = max(abs(nitrogen * one - other) for one, other in zip(free, shown))
            worst = max(worst, apart / (nitrogen * free[-1]))
            if apart > SAME * nitrogen * free[-1]:
                wrong.append(f"season {seed}, {name} of {on}: apart by {apart:.3g} of {shown[-1]:.3g}")
            doses, days = doses + 1, days + len(shown)
    for fault in wrong:
        print(fault)
    print(f"{count} seasons, {doses} doses, {days} days: {len(wrong)} differ; the furthest by {worst:.1e}")
    return 1 if wrong or doses == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
