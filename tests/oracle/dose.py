"""Weighs seeded needs again with scipy.optimize.linprog and compares `topdress sum dose`.

    python tests/oracle/dose.py "$(command -v topdress)" 400

Each request has one to three needs and one to five materials of small labels. Where the needs can be
met exactly the least weight that does so is the optimum, else the least weight that meets every
need. Exit status 1 where a total differs by more than one part in a million, a need is left short,
or a request that cannot be met is not refused with exit code 2.
"""

import json
import random
import subprocess
import sys

from scipy.optimize import linprog

NUTRIENTS = ["n", "p2o5", "k2o"]
PERCENT = [0, 0, 4, 5, 8, 10, 15, 20, 30]
SAME = 1e-6


def request(draw):
    wanted = draw.sample(NUTRIENTS, draw.randint(1, 3))
    needs = {nutrient: draw.randint(1, 60) / 4 for nutrient in wanted}
    labels = []
    count = draw.randint(1, 5)
    while len(labels) < count:
        label = tuple(draw.choice(PERCENT) for _ in NUTRIENTS)
        if 0 < sum(label) <= 100 and label not in labels:
            labels.append(label)
    return needs, labels


def optimum(needs, labels):
    rows = [[label[NUTRIENTS.index(one)] / 100 for label in labels] for one in needs]
    wanted = list(needs.values())
    cost = [1] * len(labels)
    exact = linprog(cost, A_eq=rows, b_eq=wanted)
    if exact.success:
        return exact.fun, rows
    over = linprog(cost, A_ub=[[-share for share in row] for row in rows], b_ub=[-w for w in wanted])
    return (over.fun if over.success else None), rows


def main():
    program = sys.argv[1]
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 300
    draw = random.Random(3)
    wrong = met = refused = 0
    for _ in range(count):
        needs, labels = request(draw)
        names = ["-".join(map(str, label)) for label in labels]
        command = [program, "sum", "dose", "--format", "json"]
        for nutrient, weight in needs.items():
            command += ["--need", f"{nutrient} {weight} lb"]
        for name in names:
            command += ["--from", name]
        run = subprocess.run(command, capture_output=True, text=True, check=False)
        least, rows = optimum(needs, labels)
        if least is None:
            refused += 1
            if run.returncode != 2:
                wrong += 1
                print("not refused:", command)
            continue
        met += 1
        answers = {one["name"]: one["value"] for one in json.loads(run.stdout)["answers"]}
        weights = [float(answers[name]) for name in names]
        short = any(
            sum(share * weight for share, weight in zip(row, weights)) < need - 1e-9
            for row, need in zip(rows, needs.values())
        )
        if short or abs(sum(weights) - least) > SAME * max(1, least):
            wrong += 1
            print("differs:", command, sum(weights), least)
    print(f"{met} met, {refused} refused, {wrong} wrong")
    sys.exit(1 if wrong or not met or not refused else 0)


if __name__ == "__main__":
    main()
