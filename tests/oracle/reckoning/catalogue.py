"""The lists of `data/`, with a season's own crops before them, looked up by name or alias."""

import tomllib
from pathlib import Path

DATA = Path(__file__).resolve().parents[3] / "data"


def plain(name):
    """Names compare ignoring case, with hyphen, underscore and blank alike."""
    return " ".join(name.lower().replace("-", " ").replace("_", " ").split())


class Catalogue:
    """Crops, materials and soil-test limits."""

    def __init__(self, own_crops):
        def listed(name, key):
            return tomllib.loads((DATA / f"{name}.toml").read_text(encoding="utf-8"))[key]

        self.crops = own_crops + listed("crops", "crop")
        self.materials = listed("materials", "material")
        self.limits = listed("soil-tests", "limits")

    @staticmethod
    def find(entries, name):
        """The entry of that name or alias."""
        for entry in entries:
            if plain(name) in {plain(one) for one in [entry["name"], *entry.get("aliases", [])]}:
                return entry
        raise KeyError(name)

    def crop(self, name):
        return self.find(self.crops, name)

    def material(self, name, analysis=None):
        """A material, with the analysis on the grower's own label where it prints one."""
        entry = dict(self.find(self.materials, name))
        if analysis:
            shares = [f"{share} %" for share in analysis.split("-")]
            entry |= dict(zip(("nitrogen", "phosphate", "potash"), shares), basis="as-is")
        return entry
