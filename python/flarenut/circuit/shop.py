"""Shop words: what a part is made of and what it is screwed onto. Its laws do not need them; what fits, holds, weighs and costs does.

Every builder of a part takes the words of `COMMON` beside its own. Their values are checked where they are written, against the catalogue.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from .. import catalog
from ..units import parse
from ..units.errors import nearest, quoted
from .amounts import above_zero
from .errors import CircuitError
from .spoken import faces_of

if TYPE_CHECKING:
    from inspect import Parameter
    from ..catalog.ends import End

SEALANTS = ("none", "tape", "paste")

# Word that every part takes -> what it says of it, as docstrings and `flarenut parts` show it.
COMMON = {
    "ends": 'what it offers at inlet and outlet to be screwed onto, ["-8 37 flare male", "3/8 NPT male"]; "" for one that is not known',
    "sealant": 'what is put on its threads, "tape", "paste" or "none"',
    "material": 'of its body and threads, "steel", "aluminium", "brass"; of a hose that of its ends, of a tube its alloy, "304 stainless"',
    "faces": 'which way its inlet and outlet ports face, out of it, ["down", "forward"], or [forward, left, up] in numbers; "" for one not known',
    "mass": 'of the part itself, dry, "0.4 kg"',
    "maker_pressure": 'working pressure that its maker states, "250 psi"; beats the tables',
}


class Passage(NamedTuple):
    """A wall that a hose or tube passes."""

    what: str  # "firewall"
    at: float  # how far along the line from its inlet [m]
    grommet: bool = False  # whether it passes in one piece, in a grommet


class Shop(NamedTuple):
    """What is said of a part as hardware. None where nothing is."""

    ends: tuple[End | None, End | None] = (None, None)  # `catalog.ends.End` at inlet, outlet (a tee: run1, run2, branch)
    sealant: str | None = None
    mass: float | None = None  # [kg]
    maker_pressure: float | None = None  # [Pa] above the open air
    standard: str | None = None  # of a hose: the published specification it is made to
    material: str | None = None  # of its body and threads; of a tube the name of its alloy
    way: None = None  # that a line goes: points (forward, left, up) [m]
    clamped: bool = False
    faces: tuple[None, None] = (None, None)  # which way its ports face: unit vectors (forward, left, up), or None
    through: tuple[Passage, ...] = ()  # `Passage`s of a hose or tube, from its inlet on
    outside: float | None = None  # outside diameter measured on a hose [m]

    @property
    def said(self) -> bool:
        """Whether anything is said at all."""
        return self != Shop()


def parameters() -> list[Parameter]:
    """The common words as keyword arguments of a signature."""
    return [inspect.Parameter(word, inspect.Parameter.KEYWORD_ONLY, default=None) for word in COMMON]


def documented(text: str | None) -> str:
    """A builder's docstring with the common words among its parameters."""
    lines = [f"    {word} : {meaning}" for word, meaning in COMMON.items()]
    head, mark, rest = (text or "").partition("\n\n    Raises\n")
    return f"{head}\n" + "\n".join(lines) + mark + rest if mark else text or ""


def shop_of(given: Mapping[str, Any], word: str) -> Shop:
    """The `Shop` of what a builder was given, by its word. Raises `CircuitError`, `UnitError` or `CatalogError` with key, value and cure."""
    said = {key: given[key] for key in Shop._fields if given.get(key) is not None}
    if word not in ("hose", "tube"):
        said.pop("through", None)  # a pump's `through` is a point of its curve
    if word != "hose":
        said.pop("outside", None)
    if not said:
        return Shop()
    if "ends" in said:
        said["ends"] = ends_of(said["ends"], 3 if word == "tee" else 2)
    if "faces" in said:
        if word in ("hose", "tube"):
            raise CircuitError(f"a {word} has no ports that face anywhere", "say 'faces' of what it is screwed onto, and its 'way'", key="faces", value=said["faces"])
        said["faces"] = faces_of(said["faces"], 3 if word == "tee" else 2)
    if "sealant" in said and said["sealant"] not in SEALANTS:
        close = nearest(str(said["sealant"]), SEALANTS)
        raise CircuitError(f"'sealant' is {quoted(said['sealant'])}", (f"did you mean '{close}'? " if close else "") + "there are " + ", ".join(SEALANTS),
                           key="sealant", value=said["sealant"])
    for key, kind in (("mass", "mass"), ("maker_pressure", "pressure_difference"), ("outside", "length")):
        if key in said:
            said[key] = above_zero(said[key], kind, key)
    if "standard" in said:
        said["standard"] = catalog.hose_standard(said["standard"])
    if "material" in said:
        said["material"] = catalog.tube_material(said["material"]).name if word == "tube" else catalog.fitting_material(said["material"])
    if "way" in said:
        said["way"] = points_of(said["way"])
    if "through" in said:
        said["through"] = passages_of(said["through"])
    if "clamped" in said and type(said["clamped"]) is not bool:
        raise CircuitError(f"'clamped' is {quoted(said['clamped'])}", "write true or false", key="clamped", value=said["clamped"])
    return Shop(**said)


def ends_of(written: object, count: int, key: str = "ends") -> tuple[End | None, ...]:
    """Ends of a list of texts: `catalog.ends.End`, or None for an empty one."""
    if isinstance(written, str) or not isinstance(written, (list, tuple)) or len(written) != count:
        shape = ", ".join(['"-8 37 flare male"', '"3/8 NPT male"', '"-6 37 flare male"'][:count])
        raise CircuitError(f"{key!r} is {written!r}, not a list of {count} ends", f'write {key} = [{shape}]; "" for one that is not known', key=key, value=written)
    return tuple(_end(one, key) for one in written)


def _end(text: str | End | None, key: str) -> End | None:
    if text is None or text == "":
        return None
    if isinstance(text, catalog.End):
        return text
    if not isinstance(text, str):
        raise CircuitError(f"{text!r} is no end", 'write it in words, "-8 37 flare male"', key=key, value=text)
    try:
        return catalog.end(text)
    except catalog.CatalogError as error:
        raise CircuitError(f"{key!r}: {error.reason}", error.hint, key=key, value=text) from None


def points_of(written: object, key: str = "way") -> tuple[tuple[float, float, float], ...]:
    """Points of a way [m]: each three lengths, forward, left and up."""
    shape = 'list places as three lengths, forward, left and up: [["0 in", "0 in", "0 in"], ["3 ft", "0 in", "4 in"]]'
    if not isinstance(written, (list, tuple)) or len(written) < 2:
        raise CircuitError(f"{key!r} is {quoted(written)}, not two or more points", shape, key=key, value=written)
    found: list[tuple[float, float, float]] = []
    for number, point in enumerate(written, 1):
        if isinstance(point, str) or not isinstance(point, (list, tuple)) or len(point) != 3:
            raise CircuitError(f"point {number} of {key!r} is {point!r}", shape, key=key, value=point)
        forward, left, up = (0.0 if type(one) in (int, float) and one == 0 else parse(one, "length", name=key) for one in point)
        found.append((forward, left, up))
        if found[1:] and found[-1] == found[-2]:
            raise CircuitError(f"points {number - 1} and {number} of {key!r} are the same place", "leave one of them out", key=key, value=point)
    return tuple(found)


def passages_of(written: object, key: str = "through") -> tuple[Passage, ...]:
    """`Passage`s of "firewall at 4 ft" or of a list of such, from the inlet on."""
    shape = 'write what it passes and how far along from its inlet: "firewall at 4 ft", or "firewall at 4 ft, grommet" where it is not parted'
    found = []
    for one in [written] if isinstance(written, str) else written if isinstance(written, (list, tuple)) else [None]:
        words = re.fullmatch(r"\s*(\S.*?)\s+at\s+(.*?)\s*(,\s*grommet\s*)?", one) if isinstance(one, str) else None
        if words is None:
            raise CircuitError(f"{key!r} is {quoted(written)}", shape, key=key, value=written)
        found.append(Passage(words[1], above_zero(words[2], "length", key), words[3] is not None))
    return tuple(sorted(found, key=lambda one: one.at))
