"""Solves seeded sheds again with HiGHS (scipy.optimize.milp) and compares the optimum.

    cargo bench --bench buy -- dump 500 | python tests/oracle/buy.py

Each line of the input is one shed with the list found for it. The model here is one whole
mixed-integer programme, without splitting or screening: fewest doses short, then least phosphate
onto soil that has enough, then least cost. Exit status 1 where an optimum differs by more than one
part in a million, a list is not proven least, one takes 2 seconds or more, or the median time is above
that of HiGHS (its last, cost-finding call alone).
"""

import json
import statistics
import sys
import time

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

SAME = 1e-6
WORST_SECONDS = 2.0


class Rows:
    """Constraint rows low <= A x <= high over named columns."""

    def __init__(self):
        self.columns, self.integer, self.upper = [], [], []
        self.entries, self.low, self.high = [], [], []

    def column(self, upper=np.inf, integer=False):
        self.columns.append(len(self.columns))
        self.integer.append(1 if integer else 0)
        self.upper.append(upper)
        return self.columns[-1]

    def row(self, terms, low=-np.inf, high=np.inf):
        at = len(self.low)
        self.entries += [(at, column, factor) for column, factor in terms]
        self.low.append(low)
        self.high.append(high)

    def solve(self, costs, relaxed):
        objective = np.zeros(len(self.columns))
        for column, cost in costs:
            objective[column] += cost
        rows, columns, factors = zip(*self.entries)
        matrix = coo_array((factors, (rows, columns)), shape=(len(self.low), len(self.columns)))
        integrality = np.zeros(len(self.columns)) if relaxed else np.array(self.integer)
        bounds = Bounds(np.zeros(len(self.columns)), np.array(self.upper))
        constraints = LinearConstraint(matrix.tocsc(), self.low, self.high)
        start = time.perf_counter()
        answer = milp(objective, integrality=integrality, bounds=bounds, constraints=constraints,
                      options={"mip_rel_gap": 0})
        seconds = time.perf_counter() - start
        if answer.x is None:
            raise RuntimeError(answer.message)
        return answer.fun, seconds


def optimum(shed):
    """Returns doses short, phosphate astray, cost, seconds of the last call, sizes."""
    rows = Rows()
    use, draw, short, astray = {}, {}, [], []
    for demand in shed["demands"]:
        terms = []
        for way in demand:
            share = rows.column(1.0)
            terms.append((share, 1.0))
            for material, weight in way["parts"]:
                use.setdefault(material, []).append((share, float(weight)))
            for limit, amount in way["draws"]:
                draw.setdefault(limit, []).append((share, float(amount)))
            if float(way["unwanted"]):
                astray.append((share, float(way["unwanted"])))
        missing = rows.column(1.0)
        short.append((missing, 1.0))
        rows.row(terms + [(missing, 1.0)], 1.0, 1.0)
    stock = {}
    for material, weight in shed["stock"]:
        stock[material] = stock.get(material, 0.0) + float(weight)
    # No list needs more of a pack than this: all doses from it alone, or a least order from it alone.
    whole = {m: sum(w for _, w in terms) for m, terms in use.items()}
    asks = {s["name"]: s for s in shed["suppliers"]}
    costs, by_supplier, by_offer = [], {}, {}
    for pack in shed["packs"]:
        weight, price = float(pack["weight"]), float(pack["price"])
        if pack["material"] not in use:
            continue
        minimum = shed["offer_minimums"][pack["offer"]]
        least = asks.get(pack["supplier"], {}).get("minimum")
        most = max(whole[pack["material"]], float(minimum or 0)) / weight + 1
        if least and price:
            most += float(least) / price + 1
        most = float(np.ceil(most))
        count = rows.column(most, integer=True)
        costs.append((count, price))
        use[pack["material"]].append((count, -weight))
        by_supplier.setdefault(pack["supplier"], []).append((count, price, most))
        if minimum:
            by_offer.setdefault(pack["offer"], (float(minimum), []))[1].append((count, weight, most))
    for name, packs in by_supplier.items():
        supplier = asks.get(name)
        if not supplier:
            continue
        switch = rows.column(1.0, integer=True)
        costs.append((switch, float(supplier["delivery"])))
        for count, _, most in packs:
            rows.row([(count, 1.0), (switch, -most)], high=0.0)
        least = float(supplier["minimum"] or 0)
        if least and any(price for _, price, _ in packs):
            rows.row([(count, price) for count, price, _ in packs] + [(switch, -least)], low=0.0)
    for minimum, packs in by_offer.values():
        switch = rows.column(1.0, integer=True)
        for count, _, most in packs:
            rows.row([(count, 1.0), (switch, -most)], high=0.0)
        rows.row([(count, weight) for count, weight, _ in packs] + [(switch, -minimum)], low=0.0)
    for material, terms in use.items():
        rows.row(terms, high=stock.get(material, 0.0))
    for limit, most in shed["limits"]:
        if limit in draw:
            rows.row(draw[limit], high=float(most))
    # Packs can be had without end, so that whether they are whole changes neither early aim.
    unmet, _ = rows.solve(short, relaxed=True)
    rows.row(short, high=unmet)
    unwanted = 0.0
    if astray:
        unwanted, _ = rows.solve(astray, relaxed=True)
        rows.row(astray, high=unwanted)
    cost, seconds = rows.solve(costs, relaxed=False)
    choices = sum(len(demand) for demand in shed["demands"]) + sum(rows.integer)
    return unmet, unwanted, cost, seconds, choices, sum(rows.integer)


def close(one, other):
    return abs(one - other) <= SAME * max(1.0, abs(one), abs(other))


def main():
    faults, ours, theirs, short, whole, largest = [], [], [], 0, 0, 0
    for line in sys.stdin:
        if not line.startswith("{"):
            continue
        shed = json.loads(line)
        found = shed["found"]
        try:
            unmet, unwanted, cost, seconds, choices, integers = optimum(shed)
        except RuntimeError as reason:
            faults.append(f"shed {shed['seed']}: HiGHS: {reason}")
            continue
        largest, whole = max(largest, choices), max(whole, integers)
        ours.append(found["seconds"])
        theirs.append(seconds)
        short += unmet > SAME
        pairs = {
            "doses short": (sum(map(float, found["unmet"])), unmet),
            "phosphate": (sum(map(float, found["unwanted"])), unwanted),
            "cost": (float(found["cost"]), cost),
        }
        for what, (one, other) in pairs.items():
            if not close(one, other):
                faults.append(f"shed {shed['seed']}: {what} {one} against {other}")
        if not found["proven"]:
            faults.append(f"shed {shed['seed']}: not proven least")
    if not ours:
        sys.exit("no sheds on standard input")
    medians = statistics.median(ours), statistics.median(theirs)
    print(f"{len(ours)} sheds, {short} of them with doses short, at most {largest} variables, {whole} whole")
    print(f"median {medians[0] * 1e3:.2f} ms, HiGHS {medians[1] * 1e3:.2f} ms; "
          f"worst {max(ours) * 1e3:.1f} ms, HiGHS {max(theirs) * 1e3:.1f} ms")
    if medians[0] > medians[1]:
        faults.append("the median time is above that of HiGHS")
    if max(ours) >= WORST_SECONDS:
        faults.append("the worst time is too long")
    print("\n".join(faults) if faults else "every optimum is the same")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
