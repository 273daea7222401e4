"""The nitrogen a planting must find, the basis it is read from, and the ceiling."""

from fractions import Fraction

from . import NotReckoned
from .quantity import ACRE, POUND, middle, quantity, span

PER_ACRE = POUND / ACRE
FEEDERS = {"heavy": 150 * PER_ACRE, "medium": 100 * PER_ACRE, "light": 50 * PER_ACRE}
NO_BULLETIN = 200 * PER_ACRE
LEGUMES = 40 * PER_ACRE
RICH = Fraction(3, 100)
STOP = Fraction(40, 100)
UPTAKE, HARVEST_SHARE = Fraction(70, 100), Fraction(70, 100)


def value(figure):
    """A figure of the crop list with or without its source, or of a grower's own crop."""
    return figure["value"] if isinstance(figure, dict) else figure


def own_yield(planting):
    """The grower's own yield in kg/m2, and none per plant: that is never scaled up from."""
    text = planting.said.get("yield")
    if text is None or "plant" in text:
        return None
    rate = quantity(text)
    if "ft2" in text or "m2" in text or "acre" in text or "/ha" in text:
        return rate
    return rate / quantity(planting.said["row_spacing"])


def chart_yield(crop, for_removal):
    """The garden chart's yield in kg/m2: a weight per row, or per plant over its spacing."""
    chart = crop.get("chart", {})
    if "per_row" in chart:
        return middle(chart["per_row"]) / middle(chart["between_rows"])
    if "per_plant" in chart and (for_removal or chart.get("per_plant_scales")):
        return middle(chart["per_plant"]) / (middle(chart["in_row"]) * middle(chart["between_rows"]))
    return None


def hoped_for(planting, for_removal=False):
    """The yield before any stop: the grower's, the chart's, or the supply row's; none if not known."""
    for found in (own_yield(planting), chart_yield(planting.crop, for_removal)):
        if found is not None:
            return found
    supply = planting.crop.get("supply")
    return quantity(supply["reference_yield"]) if supply else None


def supply_rate(planting):
    """The ordinance's demand, moved with the yield by at most 40 % of the reference; a chart only lowers."""
    supply = planting.crop["supply"]
    reference = quantity(supply["reference_yield"])
    ends = sorted([reference * (1 - STOP), hoped_for(planting), reference * (1 + STOP)])
    counted = ends[1] if own_yield(planting) is not None else min(ends[1], reference)
    step = supply["step"]
    size = quantity(step["yield"]) if "yield" in step else reference * quantity(step["share"])
    return quantity(supply["nitrogen"]) + (counted - reference) / size * quantity(supply["per_step"])


def in_range(bed, text):
    """One figure of a printed range: low at 3 % organic matter, else high on sand, else the middle."""
    low, high = span(text)
    if bed.organic_matter >= RICH:
        return low
    return high if bed.texture == "sand" else (low + high) / 2


def holds_here(row, bed):
    """Whether a bulletin's row serves this bed: not those of a named region or another texture."""
    if "region" in row or row.get("texture", bed.texture) != bed.texture:
        return False
    low = quantity(row.get("organic_matter_from", "0 %"))
    high = quantity(row.get("organic_matter_below", "100 %"))
    return low <= bed.organic_matter < high


def recommended(planting):
    """The season rate of a bulletin that serves this bed, or none."""
    rows = [row for row in planting.crop.get("recommendation", [])
            if "nitrogen" in row and not row.get("part") and holds_here(row, planting.bed)]
    if any("organic_matter_from" in row or "organic_matter_below" in row for row in rows):
        rows = [row for row in rows if "organic_matter_from" in row or "organic_matter_below" in row]
    if not rows:
        return None
    four = {"low", "medium", "high", "very_high"}
    best = max(rows, key=lambda row: (set(row.get("phosphate", {})) == four, row.get("year", 0)))
    return in_range(planting.bed, best["nitrogen"])


def rate(planting):
    """The basis and the rate in kg/m2. Legumes are read from a bulletin first."""
    said, crop = planting.said.get("need", {}), planting.crop
    if "n" in said:
        return "given", in_range(planting.bed, said["n"])
    bulletin = recommended(planting)
    if planting.legume and bulletin is not None:
        return "recommendation", bulletin
    if "supply" in crop:
        return "supply", supply_rate(planting)
    if bulletin is not None:
        return "recommendation", bulletin
    return "feeder", FEEDERS[value(crop["feeder"])]


def ceiling(planting, basis, need):
    """The most fertilizer that is planned, before what other additions give, in kg."""
    if basis == "given":
        return need
    if planting.legume:
        return LEGUMES * planting.area
    printed = planting.crop.get("ceiling")
    return (quantity(value(printed)) if printed else NO_BULLETIN) * planting.area


def harvest_in_pots(planting):
    """What the plants of a container bear, in kg: plants times yield per plant."""
    text = planting.said.get("yield") or planting.crop["chart"]["per_plant"]
    return planting.said["plants"] * middle(text)


def need_in_pots(planting):
    """What the harvest carries, over the share harvested, over 70 % uptake."""
    carried = harvest_in_pots(planting) * removal(planting.crop, "nitrogen")
    printed = planting.crop.get("harvest_share")
    return carried / (quantity(value(printed)) if printed else HARVEST_SHARE) / UPTAKE


SETS = {
    "nitrogen": ["ordinance", "food composition", "new england"],
    "phosphate": ["ordinance", "united kingdom", "food composition"],
    "potash": ["united kingdom", "food composition", "new england"],
}


def removal(crop, nutrient):
    """The share of the harvest's weight that is this nutrient, from the first set that prints it; none
    where no set does."""
    for wanted in SETS[nutrient]:
        for row in crop.get("removal", []):
            if row["set"] == wanted and nutrient in row:
                return quantity(row[nutrient])
    return None


def check(planting):
    """Refuses what the rules say of crops that no example grows."""
    crop = planting.crop
    if crop.get("perennial") or crop.get("none_on_rich_soil") or "like" in crop:
        raise NotReckoned(crop["name"])
