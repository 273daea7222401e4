"""Reckons the example seasons again from `data/` by the rules alone, and compares every figure of the plan.

    python tests/oracle/reckoning.py

Each season is copied with `timing = "weeks"`, so that every dose follows from the rules without a solver,
and planned as of two days: before anything is spread, and with the first dressing of garlic missed.
Compared to a millionth: all figures with a path that `topdress plan` prints (areas, need, credits and
shortfall of nitrogen with their likely ranges, phosphate and potash of each bed), and the curves of
`topdress bed` on every day. All doses: the same day and material, the weight to one weighing step. Exit
status 1 where any of them differs.
"""

import sys
import tempfile
from datetime import date
from pathlib import Path

sys.dont_write_bytecode = True

from reckoning.compare import compare  # noqa: E402
from reckoning.season import Season  # noqa: E402

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TODAYS = [date(2027, 2, 1), date(2027, 4, 1)]


def main():
    seasons = []
    for example in sorted(EXAMPLES.glob("*/season.toml")):
        text = example.read_text(encoding="utf-8")
        if text.count("\n[feeding]\n") != 1 or "timing" in text:
            raise SystemExit(f"{example}: no place to set the timing")
        with tempfile.TemporaryDirectory() as folder:
            copy = Path(folder) / "season.toml"
            copy.write_text(text.replace("\n[feeding]\n", '\n[feeding]\ntiming = "weeks"\n'), encoding="utf-8")
            seasons += [compare(f"{example.parent.name} {today:%d %b}", Season(copy, today), copy)
                        for today in TODAYS]
    print(f"{'season':20} {'compared':>8} {'doses':>6} {'curves':>6} {'agree':>6}  worst difference of those that agree")
    for one in seasons:
        print(f"{one.name:20} {one.compared:8} {one.doses:6} {one.curves:6} {one.agreed:6}  {one.worst:.1e} {one.worst_path}")
    for one in seasons:
        for wrong in one.wrong:
            print(f"{one.name}: {wrong}")
    differ = sum(len(one.wrong) for one in seasons)
    print(f"{sum(one.compared for one in seasons)} figures compared, {differ} differ")
    return 1 if differ or not all(one.compared for one in seasons) or not seasons else 0


if __name__ == "__main__":
    sys.exit(main())
