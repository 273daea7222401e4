"""The budget arithmetic alone, with pandas: areas and rates in, shortfalls and weights out.

    python3 tests/bench/budget.py RATES.csv BUDGET.csv
"""

import sys

import pandas

table = pandas.read_csv(sys.argv[1])
credits = [name for name in table.columns if name.startswith("credit")]
table["need"] = table["area"] * table["rate"]
table["credits"] = table[credits].mul(table["area"], axis=0).sum(axis=1)
table["short"] = (table["need"] - table["credits"]).clip(lower=0)
table["weight"] = table["short"] / table["counts"]
table[["planting", "need", "credits", "short", "weight"]].to_csv(sys.argv[2], index=False)
