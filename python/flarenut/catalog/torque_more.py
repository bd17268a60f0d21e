"""How tight the other joints are: flares of 45 degrees, inverted, bubble and double flares, banjos, metric O-ring ports; turns of taper pipe threads.

The first row of a form and size is the one that is used; the others are shown beside it. What is printed for steel is halved for softer parts,
where no row is of these.
"""

import re
from functools import cache

from .rows import table
from .torque_types import HALVED_BY, Flats, Torque, halved

PAST_HAND = "turns past finger tight"
_AS_NPT = {"NPTF": "NPT"}


@cache
def more_torque(form: str, size: str, material: str) -> Torque | None:
    """The `Torque` of a form and size, "aluminium" or "steel"; None where no row holds it. The others of the same size stand in its `others`.

    >>> more_torque("45 flare", "-8", "steel")[:2], more_torque("45 flare", "-8", "aluminium")[:2]
    ((43.0, 57.0), (21.5, 28.5))
    """
    rows = [row for row in table("fitting_torque_more.csv") if (row["form"], row["size"]) == (form, size)]
    own = {row["joint"] for row in rows if row["material"] == material}  # printed for this material itself: nothing is halved for these
    found = [band for row in rows if (band := _for(row, material, own)) is not None]
    if found and found[0].note == HALVED_BY:
        found.sort(key=lambda band: band.note == HALVED_BY or band.material != material)
    return found[0]._replace(others=tuple(band for band in found[1:] if band[:2] != found[0][:2])) if found else None


def beside_brakes(found: Torque | None) -> Torque | None:
    """A `Torque` for a line that does not brake: where it is printed for brakes and another is not, that one; it is shown beside it then.

    >>> beside_brakes(more_torque("banjo", "M10x1", "steel"))[:2], more_torque("banjo", "M10x1", "steel")[:2]
    ((13.0, 17.0), (34.0, 34.0))
    """
    if found is None or not found.joint.startswith("brake "):
        return found
    other = next((one for one in found.others if not one.joint.startswith("brake ")), None)
    return found if other is None else other._replace(others=(found._replace(others=()), *(one for one in found.others if one is not other)))


def without_brake_pipe(found: Torque | None) -> Torque | None:
    """A `Torque` without what is printed for brake pipe, which is of steel; None where nothing is left.

    >>> without_brake_pipe(more_torque("inverted flare", "-3", "aluminium"))[:2], without_brake_pipe(more_torque("bubble flare", "M10x1", "aluminium"))
    ((4.5, 6.5), None)
    """
    left = [one for one in (found, *(found.others if found else ())) if one is not None and not one.joint.startswith("brake pipe")]
    return left[0]._replace(others=tuple(left[1:])) if left else None


def is_soft_tube(material: str) -> bool:
    """Whether a tube is of aluminium or plain copper, by what is said of it; copper-nickel takes the torque of brake pipe (common practice, no source).

    >>> [is_soft_tube(word) for word in ("5052-O", "copper", "90/10 copper-nickel", "304 stainless", "")]
    [True, True, False, False, False]
    """
    name = (material or "").lower()
    return is_aluminium(name) or "copper" in name and "nickel" not in name and "brazed" not in name


def is_aluminium(material: str) -> bool:
    """Whether words of a material mean aluminium.

    >>> is_aluminium("5052-O"), is_aluminium("aluminium alloy tube"), is_aluminium("brass")
    (True, True, False)
    """
    return bool(_ALUMINIUM.search(material.lower()))


_ALUMINIUM = re.compile(r"alumin|\b(3003|5052|6061)\b")


def _for(row: dict[str, str], material: str, own: set[str]) -> Torque | None:
    """A row as a `Torque` for parts of a material; None where it is of the other one. Rows of brake pipes and bolts hold for what they name."""
    made = Torque(float(row["torque_min_Nm"]), float(row["torque_max_Nm"]), row["joint"], row["material"], row["source"], row["how"], row["note"])
    if made.material == "steel" and material == "aluminium":
        return None if made.joint in own else halved(made)
    if material == "steel" and (made.material == "aluminium" or made.material.startswith("brass")):
        return None
    return made


@cache
def turns_of(form: str, size: str, material: str) -> Flats | None:
    """Turns past finger tight of a taper pipe thread as `Flats`; None where no row holds it.

    >>> turns_of("NPT", "3/8", "steel")[:2], turns_of("NPT", "3/8", "aluminium")[:2]
    ((2.0, 3.0), (0.75, 1.75))
    """
    for row in table("fitting_turns.csv"):
        if (row["form"], row["size"], row["material"]) == (_AS_NPT.get(form, form), size, material):
            return Flats(float(row["turns_min"]), float(row["turns_max"]), f"{form} joint", row["source"], row["how"], PAST_HAND, row["note"])
    return None
