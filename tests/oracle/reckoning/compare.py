"""The program's answer beside this reckoning, figure by figure, by the path that both give it."""

import json
import subprocess
from datetime import date
from fractions import Fraction

from .catalogue import plain
from .curve import curves
from .mineral import MINERALS
from .plan import reckon_bed
from .quantity import quantity
from .weigh import step

# Relative; absolute in kg, m2 or kg/m2 where a figure is next to nothing.
SAME, NOTHING = Fraction(1, 10**6), Fraction(1, 10**8)
HYPHENED = {"not_planned": "not-planned", "not_given": "not-given", "held_back": "held-back",
            "still_short": "still-short", "credit": "credits"}
NITROGEN = ("rate", "need", "credit", "shortfall", "surplus", "ceiling", "planned", "not_planned", "starter",
            "given", "not_given", "held_back")


def answer(season, today, *asked):
    """The program's answer to a command, as JSON."""
    command = ["topdress", *asked, "--season", str(season), "--on", str(today), "--format", "json"]
    return json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def printed(figure):
    """A figure of the answer in kg and metres: value, and the ends of its range where it has one."""
    scale = quantity(f"1 {figure['unit']}")
    return {key: Fraction(figure[key]) * scale for key in ("value", "low", "high") if key in figure}


def program_figures(node):
    """Every figure with a path in the answer, doses apart."""
    if isinstance(node, list):
        for one in node:
            yield from program_figures(one)
    elif isinstance(node, dict):
        if "id" in node and "value" in node:
            for key, value in printed(node).items():
                yield node["id"] if key == "value" else f"{node['id']} ({key})", value
        for key, one in node.items():
            if key != "doses":
                yield from program_figures(one)


def our_figures(bed, minerals):
    """The same figures as reckoned here."""
    if bed.area is not None:
        yield f"{bed.path}/area", bed.area
    for planting in bed.plantings:
        if planting.area is not None:
            yield f"{planting.path}/area", planting.area
        path, found = f"{planting.path}/nitrogen", planting.found
        for key in NITROGEN:
            if found.get(key) is not None:
                yield f"{path}/{HYPHENED.get(key, key)}", found[key]
        for name, ends in found["credits"].items():
            for end, value in zip(("", " (low)", " (high)"), ends):
                yield f"{path}/credits/{plain(name).replace(' ', '-')}{end}", value
        for key in ("shortfall", "planned"):
            for end in ("low", "high"):
                yield f"{path}/{key} ({end})", found[f"{key}/{end}"]
    for nutrient in MINERALS:
        path, found = f"{bed.path}/{nutrient}", minerals[nutrient]
        for key, value in found.items():
            if key != "credits":
                yield f"{path}/{HYPHENED.get(key, key)}", value
        for name, value in found["credits"].items():
            yield f"{path}/credits/{name.replace(' ', '-')}", value


class Comparison:
    """Counts of what was compared and agrees in one season, and each disagreement."""

    def __init__(self, name):
        self.name, self.compared, self.agreed = name, 0, 0
        self.doses, self.curves = 0, 0
        self.worst, self.worst_path, self.wrong = 0.0, "", []

    def figure(self, path, theirs, ours):
        """One figure to a millionth."""
        self.compared += 1
        ours = Fraction(ours)
        apart = abs(theirs - ours)
        if apart <= max(SAME * max(abs(theirs), abs(ours)), NOTHING):
            self.agreed += 1
            relative = float(apart / max(abs(theirs), abs(ours), 10 * NOTHING))
            if relative > self.worst:
                self.worst, self.worst_path = relative, path
        else:
            self.wrong.append(f"{path}: program {float(theirs):.9g}, reckoned {float(ours):.9g} (kg, m)")

    def figures(self, theirs, ours):
        """All figures that either side has. The program leaves out a range whose ends are the figure
        itself, and that of what is planned where the ceiling holds it."""
        for path in sorted(theirs.keys() | ours.keys()):
            if path in theirs and path in ours:
                self.figure(path, theirs[path], ours[path])
            elif path in ours and path.endswith(")"):
                if not path.rsplit(" ", 1)[0].endswith("/planned"):
                    self.figure(path, theirs.get(path.rsplit(" ", 1)[0], Fraction(0)), ours[path])
            else:
                self.compared += 1
                side = "reckoned here only" if path in ours else "printed by the program only"
                self.wrong.append(f"{path}: {side}")

    def dosed(self, theirs, ours, units):
        """Doses: same day and material, weight to one weighing step, and whether it is certain."""
        said = {one["id"]: one for one in theirs}
        found = {one.path: one for one in ours}
        for path in sorted(said.keys() | found.keys()):
            self.compared, self.doses = self.compared + 1, self.doses + 1
            if path not in said or path not in found:
                side = "reckoned here only" if path in found else "printed by the program only"
                one = said[path]["weight"]["value"] if path in said else float(found[path].weight)
                self.wrong.append(f"{path}: {side}, weight {one}")
                continue
            one, other = said[path], found[path]
            weight = printed(one["weight"])["value"]
            same = (date.fromisoformat(one["date"]), one["material"], one["certain"]) == \
                (other.day, other.material["name"], other.certain)
            if same and abs(weight - other.weight) <= step(weight, units):
                self.agreed += 1
            else:
                self.wrong.append(f"{path}: program {float(weight):.6g} kg {one['material']} on {one['date']}, "
                                  f"reckoned {float(other.weight):.6g} kg {other.material['name']} on {other.day}")
                continue
            counts = sum(Fraction(other.in_life(planting)) for planting in other.plantings)
            if weight == other.weight:
                self.figure(f"{path} (counts)", printed(one["nitrogen_that_counts"])["value"], counts)


    def curved(self, theirs, ours):
        """Curves of one planting: each day to a millionth of the curve's end; a curve is one figure."""
        scale = quantity(f"1 {theirs['unit']}")
        said = {"needed": theirs["needed"]} | {one["name"]: one["by_day"]
                                              for one in theirs["credits"] + theirs["doses"]}
        for name in sorted(said.keys() | ours.keys()):
            self.compared, self.curves = self.compared + 1, self.curves + 1
            path = f"{theirs['id']}/{name}"
            if name not in said or name not in ours:
                self.wrong.append(f"{path}: {'reckoned here' if name in ours else 'printed by the program'} only")
                continue
            values = [float(Fraction(one) * scale) for one in said[name]]
            worst = max((abs(one - other) for one, other in zip(values, ours[name])), default=0.0)
            if len(values) == len(ours[name]) and worst <= float(SAME) * max(abs(values[-1]), float(NOTHING / SAME)):
                self.agreed += 1
            else:
                self.wrong.append(f"{path}: {len(values)} and {len(ours[name])} days, {worst:.3g} kg apart at most, "
                                  f"end {values[-1]:.6g} and {ours[name][-1]:.6g}")
        left = [sum(curve[day] for name, curve in ours.items() if name != "needed") - ours["needed"][day]
                for day in range(len(ours["needed"]))]
        self.balanced(theirs, scale, {"unused_weight_days": sum(max(0.0, one) for one in left),
                                      "left_at_end": max(0.0, left[-1])})

    def balanced(self, theirs, scale, ours):
        """What lies unused over a life, in kg-days, and at its end, to a millionth of itself or of the need."""
        need = Fraction(theirs["needed"][-1]) * scale
        for key, value in ours.items():
            said = Fraction(theirs["balance"][key]) * scale
            self.figure(f"{theirs['id']}/{key}", said, said if abs(said - Fraction(value)) < SAME * need else value)


def compare(name, season, path):
    """One season as reckoned here against what the program answers on the file at a path."""
    said = answer(path, season.today, "plan")
    found = Comparison(name)
    units = season.garden.get("units", "us")
    beds = {bed["id"]: bed for bed in said["beds"]}
    if beds.keys() != {bed.path for bed in season.beds}:
        found.wrong.append(f"beds: {sorted(beds)}")
    for bed in season.beds:
        minerals, doses = reckon_bed(bed)
        theirs = beds[bed.path]
        found.figures(dict(program_figures(theirs)), dict(our_figures(bed, minerals)))
        found.dosed(theirs["doses"], doses, units)
        drawn = {one["id"]: one for one in answer(path, season.today, "bed", bed.said["name"])["beds"][0]["curves"]}
        for planting in bed.plantings:
            found.curved(drawn[f"{planting.path}/nitrogen/curves"], curves(planting, doses))
    return found
