"""Solves seeded gardens again with HiGHS (scipy.optimize.milp) and compares the side-dress plans.

    cargo bench --bench side_dress -- dump 200 | python tests/oracle/side_dress.py

Each line of the input is one garden with the plan found for it. The model here is one whole
mixed-integer programme: a yes or no for every visit day, a dose for every planting and visit under its
cap, one row for every planting and day on which the need rises; first the fewest visits, then the least
pound-days with that many. Only what every visit at its cap can reach is asked for, reckoned here anew.
Exit status 1 where the number of visits or the pound-days differ, a dose is above its cap or off the
visits, a planting is short that can be held, or the median time is above that of HiGHS on the same
gardens.
"""

import json
import statistics
import sys
import time

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

# HiGHS keeps rows and whole numbers to a millionth: what that shifts pound-days by, relatively.
SAME = 1e-5
SHORT = 1e-6


class Bed:
    """One planting: shares by visit and day, the need that can be met, and the doses planned."""

    def __init__(self, garden, planting):
        curves = garden["materials"][planting["material"]]
        first, days = planting["first"], len(planting["need"])
        self.shares = np.zeros((len(garden["visits"]), days))
        for row, visit, curve in zip(self.shares, garden["visits"], curves):
            for day in range(max(0, visit - first), days):
                age = first + day - visit
                row[day] = curve[min(age, len(curve) - 1)] if curve else 0.0
        # In thousandths of the whole need, so that what HiGHS lets pass is next to nothing.
        unit = max(planting["need"]) / 1000 or 1.0
        self.caps, self.weight = np.array(planting["caps"]) / unit, planting["weight"] * unit
        self.caps[self.shares[:, -1] <= 0.0] = 0.0
        wanted = np.array(planting["need"]) / unit
        self.reach = self.caps @ self.shares
        self.need = np.maximum.accumulate(np.maximum(np.minimum(wanted, self.reach), 0.0))
        self.doses = np.zeros(len(self.caps))
        for visit, dose in planting["doses"]:
            self.doses[visit] = dose / unit

    def rows(self):
        """The days that bind: where doses come slowly, all on which the need rises; else the last
        such day before each visit."""
        used = [visit for visit in range(len(self.caps)) if self.caps[visit] > 0]
        rising = np.flatnonzero(np.diff(self.need, prepend=0.0) > 0)
        if any(np.ptp(row[row > 0]) > 0 for row in self.shares[used] if (row > 0).any()):
            return rising
        begun = [sum(self.shares[visit][day] > 0 for visit in used) for day in rising]
        return [day for place, day in enumerate(rising)
                if place + 1 == len(rising) or begun[place + 1] > begun[place]]


def model(garden, beds):
    """Rows over columns: a yes or no for every visit, then each bed's doses."""
    visits = len(garden["visits"])
    columns, costs, upper = visits, [0.0] * visits, [1.0] * visits
    entries, low, high = [], [], []
    for bed in beds:
        doses = {}
        for visit in np.flatnonzero(bed.caps > 0):
            doses[visit] = columns
            costs.append(bed.weight * bed.shares[visit].sum())
            upper.append(np.inf)
            entries += [(len(low), columns, 1.0), (len(low), visit, -bed.caps[visit])]
            low.append(-np.inf)
            high.append(0.0)
            columns += 1
        for day in bed.rows():
            row = [(len(low), column, bed.shares[visit][day])
                   for visit, column in doses.items() if bed.shares[visit][day] > 0]
            entries += row
            low.append(bed.need[day])
            high.append(np.inf)
    rows, places, factors = zip(*entries)
    matrix = coo_array((factors, (rows, places)), shape=(len(low), columns)).tocsc()
    whole = np.array([1] * visits + [0] * (columns - visits))
    return matrix, np.array(low), np.array(high), np.array(costs), np.array(upper), whole


def solve(garden, beds):
    """Fewest visits and least pound-days, with the seconds both calls took."""
    visits = len(garden["visits"])
    matrix, low, high, costs, upper, whole = model(garden, beds)
    count = np.array([1.0] * visits + [0.0] * (len(upper) - visits))
    options = {"mip_rel_gap": 0, "time_limit": 300}
    start = time.perf_counter()
    bounds, rows = Bounds(np.zeros(len(upper)), upper), LinearConstraint(matrix, low, high)
    fewest = milp(count, integrality=whole, bounds=bounds, constraints=rows, options=options)
    if fewest.status != 0:
        raise RuntimeError(fewest.message)
    number = round(fewest.fun)
    rows = [rows, LinearConstraint(count.reshape(1, -1), -np.inf, number)]
    least = milp(costs, integrality=whole, bounds=bounds, constraints=rows, options=options)
    seconds = time.perf_counter() - start
    if least.status != 0:
        raise RuntimeError(least.message)
    return number, least.fun, seconds


def days_short(bed):
    """Days on which the plan leaves a planting short of what can be met."""
    lack = bed.need - bed.doses @ bed.shares
    return int((lack > SHORT * max(bed.need[-1], 1e-9)).sum())


def wrong_doses(garden, bed):
    """What is wrong with the doses of one bed as planned."""
    planned = {garden["visits"].index(day) for day in garden["plan"]["visits"]}
    off = [visit for visit in np.flatnonzero(bed.doses > 0) if visit not in planned]
    if off:
        yield f"doses off the visits: {off}"
    if (bed.doses > bed.caps * (1 + 1e-9)).any():
        yield "a dose is above its cap"
    short = bed.need - bed.doses @ bed.shares
    if short.max() > SHORT * max(bed.need[-1], 1e-9):
        yield f"short by {short.max():.3g} of {bed.need[-1]:.3g} on day {short.argmax()}"


def main():
    ours, theirs, wrong, gardens, plantings, short = [], [], [], 0, 0, 0
    for line in sys.stdin:
        garden = json.loads(line)
        beds = [Bed(garden, planting) for planting in garden["plantings"]]
        gardens, plantings = gardens + 1, plantings + len(beds)
        ours.append(garden["plan"]["seconds"])
        wrong += [f"garden {garden['seed']}: {fault}" for bed in beds for fault in wrong_doses(garden, bed)]
        if not any(len(bed.rows()) for bed in beds):
            theirs.append(0.0)
            if garden["plan"]["visits"]:
                wrong.append(f"garden {garden['seed']}: visits where nothing is needed")
            continue
        number, least, seconds = solve(garden, beds)
        theirs.append(seconds)
        short += sum(days_short(bed) for bed in beds)
        got = sum(bed.weight * (bed.doses @ bed.shares).sum() for bed in beds)
        if number != len(garden["plan"]["visits"]):
            wrong.append(f"garden {garden['seed']}: {len(garden['plan']['visits'])} visits, HiGHS {number}")
        elif abs(got - least) > SAME * max(1.0, abs(least)):
            wrong.append(f"garden {garden['seed']}: {got:.6f} pound-days, HiGHS {least:.6f}")
    for fault in wrong:
        print(fault)
    median, other = statistics.median(ours), statistics.median(theirs)
    print(f"{gardens} gardens, {plantings} plantings to dress: {len(wrong)} differences from HiGHS")
    print(f"crop-days short where HiGHS holds the crop: {short}")
    print(f"median {median * 1e3:.2f} ms against {other * 1e3:.1f} ms, worst {max(ours) * 1e3:.1f} ms "
          f"against {max(theirs) * 1e3:.1f} ms: {other / median:.0f} times as quick")
    return 1 if wrong or gardens == 0 or median > other else 0


if __name__ == "__main__":
    sys.exit(main())
