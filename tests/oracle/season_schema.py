"""Checks the season file's JSON Schema with an independent validator (jsonschema, draft 2020-12).

    topdress catalogue schema | python tests/oracle/season_schema.py

The schema itself must be valid; every good season of `examples/`, `tests/cases/season/` and
`tests/cases/plan/` (with the cells of each row of a case's table filled in) must pass it; and of the
bad ones those whose fault a schema can see must not. Exit status 1 otherwise.
"""

import csv
import datetime
import json
import pathlib
import sys
import tomllib

from jsonschema import Draft202012Validator, FormatChecker

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent

# Faults of shape: fields, kinds of value, words. Meaning (names, sums, order of dates) is beyond it.
SEEN = """
    field-unknown field-unknown-and-nothing-near table-unknown table-near-miss bed-without-name
    number-without-unit analysis-bare count-of-none count-with-decimals organic-as-text
    year-missing year-as-text year-of-two-digits month-thirteen acidity-impossible units-unknown
    basis-near-miss texture-unknown visit-day-unknown history-kind-unknown garden-missing
    share-without-percent pack-without-weight own-material-caution-unknown wrong-kind-of-value
    date-as-number days-of-none need-of-nothing-named own-source-without-title
""".split()

# Of these, a schema cannot see the fault after all: said here so that the list stays honest.
UNSEEN = {"own-material-caution-unknown", "need-of-nothing-named"}


def plain(value):
    """Turns what TOML has and JSON has not into texts."""
    if isinstance(value, dict):
        return {key: plain(part) for key, part in value.items()}
    if isinstance(value, list):
        return [plain(part) for part in value]
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    return value


def season(path):
    return plain(tomllib.loads(path.read_text(encoding="utf-8-sig")))


def written_seasons(case):
    """The season of a case; where it has a table, one for each row, `{column}` replaced by its cell."""
    if "rows" not in case:
        return [case["season"]]
    rows = csv.DictReader(case["rows"].strip().splitlines(), skipinitialspace=True)
    filled = []
    for row in rows:
        text = case["season"]
        for column, cell in row.items():
            text = text.replace("{" + column.strip() + "}", (cell or "").strip())
        filled.append(text)
    return filled


def main():
    schema = json.load(sys.stdin)
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema, format_checker=FormatChecker())
    wrong = []
    good = sorted(ROOT.glob("examples/*/season.toml")) + sorted(ROOT.glob("tests/cases/season/*.toml"))
    seasons = [(path, season(path)) for path in good]
    for path in sorted(ROOT.glob("tests/cases/plan/*.toml")):
        for written in written_seasons(season(path)):
            seasons.append((path, plain(tomllib.loads(written))))
    for path, read in seasons:
        for error in validator.iter_errors(read):
            wrong.append(f"{path.relative_to(ROOT)}: {error.json_path}: {error.message}")
    for name in SEEN:
        path = ROOT / "tests/cases/faults" / f"{name}.toml"
        if validator.is_valid(season(path)) != (name in UNSEEN):
            wrong.append(f"{name}: {'passes' if name not in UNSEEN else 'is refused'}")
    print(f"{len(seasons)} good seasons and {len(SEEN)} bad ones; {len(wrong)} surprises")
    print("\n".join(wrong))
    sys.exit(bool(wrong) or not good)


main()
