"""Which liquid a hose's liner or a tube's metal takes. General knowledge of the trade, from memory: its maker's word beats it."""

from __future__ import annotations

import re
from typing import NamedTuple

from ..units.errors import nearest
from .hose_ratings import hose_standard, liner_in
from .rows import CatalogError, remembered, table
from .sources import said_of
from .tube_ratings import tube_material

LITTLE_ETHANOL = 0.10  # by volume: what ordinary fuel hose is tested with (memory)


class Compatibility(NamedTuple):
    """Whether a material takes a liquid: `verdict` "yes", "limited", "no" or "unknown", with the reason as a sentence's end."""

    verdict: str
    material: str
    fluid: str
    reason: str
    source: str
    how: str

    @property
    def said(self) -> str:
        """Its source as findings and lists show it: what is from memory says so."""
        return said_of(self)


# The first that fits counts.
_CLASSES = tuple((name, re.compile(words, re.IGNORECASE)) for name, words in (
    ("R-134a", r"\br-?\s?134a\b"),
    ("R-1234yf", r"\br-?\s?1234yf\b"),
    ("mineral brake fluid", r"mineral (brake|clutch)|(brake|clutch) fluid,? mineral|5606"),
    ("silicone brake fluid", r"silicone (brake|fluid)|\bdot ?5\b(?!\.1)"),
    ("brake fluid", r"brake fluid|clutch fluid|\bdot ?(3|4|5\.1)\b"),
    ("power steering fluid", r"power steering|steering fluid"),
    ("transmission fluid", r"\batf\b|transmission|\bcvt\b"),
    ("hydraulic oil", r"hydraulic|\biso vg\b|\bvg \d|tractor|utto"),
    ("methanol", r"methanol|\bm\d\d+\b"),
    ("ethanol blend", r"ethanol"),
    ("diesel", r"diesel|kerosene|\bjet a"),
    ("gasoline", r"gasoline|petrol|heptane|\bfuel\b"),
    ("engine oil", r"\boil\b|\bsae \d|\b\d+w-?\d*\b"),
    ("coolant", r"glycol|coolant|antifreeze"),
    ("water", r"\bwater\b"),
))


def fluid_class(name: str, ethanol: float | None = None) -> str:
    """The class of a liquid by its name, as compatibility goes by it; "" for one that tells none.

    Parameters
    ----------
    name : "E10", "gasoline", "SAE 10W-40", "DOT 4" ...
    ethanol : share by volume of a fuel, 0 to 1, where its name does not tell it; over a tenth it is a blend

    >>> fluid_class("E10"), fluid_class("E85"), fluid_class("DOT 4"), fluid_class("SAE 10W-40")
    ('gasoline', 'ethanol blend', 'brake fluid', 'engine oil')
    >>> fluid_class("gasoline", ethanol=0.3)
    'ethanol blend'
    """
    blend = re.search(r"\be[\s-]?(\d+(?:\.\d+)?)\b|ethanol (\d+(?:\.\d+)?) ?%", name, re.IGNORECASE)
    if ethanol is None and blend and "methanol" not in name.lower() and "glycol" not in name.lower():
        ethanol = float(blend[1] or blend[2]) / 100.0
    found = next((one for one, words in _CLASSES if words.search(name)), "")
    if ethanol is not None and found in ("", "gasoline", "ethanol blend"):
        return "ethanol blend" if ethanol > LITTLE_ETHANOL + 1e-9 else "gasoline"
    return found


@remembered
def compatible(material: str, fluid: str, ethanol: float | None = None) -> Compatibility:
    """The `Compatibility` of a liner, a hose standard or a tube material with a liquid.

    Parameters
    ----------
    material : "nitrile rubber", "PTFE", "SAE 30R7", "304 stainless", "aluminium" ...
    fluid : name of a liquid, or a class of the table, "brake fluid"
    ethanol : share by volume, where the name does not tell it

    Raises
    ------
    CatalogError : a material that is not in the table

    >>> compatible("SAE 30R7", "E85").verdict, compatible("PTFE", "E85").verdict
    ('no', 'yes')
    >>> compatible("EPDM", "DOT 4").verdict, compatible("nitrile rubber", "DOT 4").verdict
    ('yes', 'no')
    """
    known = {row["fluid"] for row in table("compatibility.csv")}
    wanted = fluid if fluid in known else fluid_class(fluid, ethanol)
    if not wanted:
        return Compatibility("unknown", str(material), fluid, f"nothing is known of {fluid}", "", "derived")
    names = _names_of(material)
    for name in names:
        for row in table("compatibility.csv"):
            if row["material"].lower() == name.lower() and row["fluid"] == wanted:
                return Compatibility(row["verdict"], name, wanted, row["reason"], row["source"], row["how"])
    return Compatibility("unknown", names[0], wanted, f"nothing is known of {names[0]} and {wanted}", "", "derived")


# Liners of hose of which only the family is known, the usual one first (M30, from memory).
_OF_FAMILY = {"full-size": ("nitrile rubber", "EPDM"), "undersize": ("nitrile rubber",), "push-on": ("nitrile rubber", "fluorocarbon rubber"),
              "braided-rubber": ("nitrile rubber", "chlorinated or nitrile rubber"), "refrigerant": ("nylon barrier", "nitrile rubber"),
              "ptfe": ("PTFE",), "medium-pressure": ("nitrile rubber",), "high-pressure": ("nitrile rubber",)}


def compatible_family(spec: str | None, fluid: str) -> Compatibility | None:
    """The `Compatibility` of hose of which only the family is known: "no" where none of its liners takes a liquid, "limited" where the usual one
    does not; None of a family whose liners are not known.

    >>> compatible_family("push-on", "E85").verdict, compatible_family("push-on", "DOT 4").verdict, compatible_family("push-on", "E10").verdict
    ('limited', 'no', 'yes')
    """
    found = [compatible(liner, fluid) for liner in _OF_FAMILY.get(spec or "", ())]
    if not found or found[0].verdict in ("yes", "unknown"):
        return found[0] if found else None
    others = [one.material for one in found[1:] if one.verdict == "yes"]
    better = f"; {' or '.join(others)} takes it" if others else ""
    verdict = "no" if all(one.verdict == "no" for one in found) else "limited"
    return found[0]._replace(verdict=verdict, reason=f"its liner is not said, and of {found[0].material}, the usual one: {found[0].reason}{better}")


_LINERS = {"nbr": "nitrile rubber", "nitrile": "nitrile rubber", "buna-n": "nitrile rubber", "smooth rubber": "nitrile rubber",
           "fkm": "fluorocarbon rubber", "fluorocarbon": "fluorocarbon rubber", "fluoroelastomer": "fluorocarbon rubber", "smooth ptfe": "PTFE",
           "cr": "neoprene", "chloroprene": "neoprene", "silicone": "silicone rubber", "csm": "chlorinated or nitrile rubber",
           "cpe": "chlorinated or nitrile rubber", "acm": "acrylic rubber", "aem": "acrylic rubber", "nylon": "nylon barrier",
           "aluminum": "aluminium", "stainless": "stainless steel", "copper": "copper-nickel"}


def _names_of(material: str) -> list[str]:
    """Names to look a material up under, the closest first: the standard itself, then its liner."""
    text = str(material).strip().lower()
    liners = {row["material"].lower(): row["material"] for row in table("compatibility.csv")}
    text = _LINERS.get(text, text).lower()
    if _is_standard(text) and text != "ptfe":
        return [hose_standard(text), liner_of(text)]
    if text in liners:
        return [liners[text]]
    try:
        return [metal_of(tube_material(text).name)]
    except CatalogError:
        pass
    close = nearest(text, [*liners.values(), *_LINERS])
    raise CatalogError("material", material, f"no material {material!r} whose liquids are known",
                       (f"did you mean '{close}'? " if close else "") + "there are " + ", ".join(dict.fromkeys(liners.values())))


def _is_standard(text: str) -> bool:
    try:
        return bool(hose_standard(text))
    except CatalogError:
        return False


def liner_of(standard: str) -> str:
    """What the liner of a hose standard is made of.

    >>> liner_of("SAE 100R14"), liner_of("30R9")
    ('PTFE', 'fluorocarbon rubber')
    """
    name = hose_standard(standard)
    row = next((row for row in (*table("hose_classes.csv"), *table("hose_ratings.csv")) if row["standard"] == name), None)
    assert row is not None, "a standard that has a name has a row"
    return row.get("liner") or liner_in(row["construction"])


def metal_of(name: str) -> str:
    """The metal of a tube material, as compatibility goes by it.

    >>> metal_of("304 stainless annealed"), metal_of("3003-O aluminium")
    ('stainless steel', 'aluminium')
    """
    for word, metal in (("stainless", "stainless steel"), ("aluminium", "aluminium"), ("copper", "copper-nickel"), ("steel", "steel")):
        if word in name.lower():
            return metal
    return name
