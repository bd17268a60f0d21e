"""Which system of units is meant, and values that a sentence has in both of them."""

import re
from functools import lru_cache
from collections.abc import Iterable, Mapping, Sequence

from .display import SYSTEMS, preferred_unit, show
from .errors import UnitError
from .kinds import KINDS
from .text import read_text

_VALUE = r"-?\d[\d.e+-]* (?:1/)?[^\s()\d'][^\s()]*(?: (?:vacuum|ft|m|s))?"  # some units are two words, "inHg vacuum", "N m"
# As `in_both` writes it; what stands in quotes is a builder's own and left alone.
_BOTH = re.compile(rf"(?<!\w)'[^']*'(?!\w)|(?P<us>{_VALUE}) \((?P<metric>{_VALUE})\)")
_AGREE = 0.02  # of values that are rounded to two or three figures


def settled(asked: str | None, *things: object) -> str:
    """The system to show things in: the one asked for, else the first that a thing was made in, else "us".

    Parameters
    ----------
    asked : as it was written, judged by whoever shows; None where nothing was said
    things : whatever may have `units`, or as a Dataset of a study `attrs` with its unit_system, or in SI with the system it is `shown_in`

    >>> class Car:
    ...     units = "metric"
    >>> settled(None, Car()), settled("us", Car()), settled(None, object())
    ('metric', 'us', 'us')
    """
    if asked is not None:
        return asked
    for thing in things:
        attrs = getattr(thing, "attrs", None)
        for system in [attrs.get("unit_system"), attrs.get("shown_in")] if isinstance(attrs, Mapping) else [getattr(thing, "units", None)]:
            if isinstance(system, str) and system in SYSTEMS:
                return system
    return SYSTEMS[0]


_NO_FLOW = 3e-10  # [m3/s], 1 mL/h
_SHARED = ("pressure", "volume_flow", "mass_flow", "power")  # kinds of which a sentence or a table has one unit, beginnings of their names


def shared_units(values: Iterable[tuple[str, float]], system: str) -> dict[str, str]:
    """Kind -> the one unit for all values of it, so that they can be compared: of pressures the same whatever they are counted from.

    Pressures and power go by the largest, flows by the least that is one. Kinds that no sentence has to compare are left out.

    Parameters
    ----------
    values : (kind, SI value)
    system : "us" or "metric"

    >>> shared_units([("pressure_gauge", 3e5), ("pressure_difference", 2e4), ("length", 0.1)], "metric")
    {'pressure_gauge': 'barg', 'pressure_difference': 'bar'}
    >>> shared_units([("volume_flow", 1e-5), ("volume_flow", 1e-3)], "us")
    {'volume_flow': 'gal/h'}
    """
    sizes: dict[str, list[float]] = {}
    kinds: dict[str, str] = {}
    for kind, si in values:
        family = next((one for one in _SHARED if kind.startswith(one)), "")
        if family and si == si:
            kinds[kind] = family
            sizes.setdefault(family, []).append(abs(si))
    return {kind: _unit_of_all(kind, sizes[family], system) for kind, family in kinds.items()}


def _unit_of_all(kind: str, sizes: Sequence[float], system: str) -> str:
    if kind.startswith("pressure"):
        return preferred_unit(kind, system, max(sizes))
    near = min((size for size in sizes if size > _NO_FLOW), default=0.0) if kind.endswith("flow") else max(sizes)
    return preferred_unit(kind, system, near)


def in_both(value: float, kind: str) -> str:
    """A value [SI] in both systems where they differ, for sentences that are written before anybody has chosen.

    >>> in_both(433.15, "temperature"), in_both(12.0, "voltage")
    ('320 F (160 C)', '12.0 V')
    """
    us, metric = (show(value, kind, system) for system in SYSTEMS)
    return us if us == metric else f"{us} ({metric})"


def in_one(sentence: str, system: str | None) -> str:
    """A sentence with values as `in_both` writes them, in one system; None leaves both.

    >>> in_one("it would get hotter than 320 F (160 C), see case 2 (3 of them)", "metric")
    'it would get hotter than 160 C, see case 2 (3 of them)'
    >>> in_one("at 10.0 inHg vacuum (0.339 bar vacuum) in '3 ft (0.914 m)', not 12 psi (5 bar)", "us")
    "at 10.0 inHg vacuum in '3 ft (0.914 m)', not 12 psi (5 bar)"
    """
    if system not in SYSTEMS:
        return sentence

    def chosen(match: re.Match[str]) -> str:
        return match[system] if match["us"] and _are_one(match["us"], match["metric"]) else match[0]

    return _BOTH.sub(chosen, sentence)


@lru_cache(maxsize=1024)
def _are_one(us: str, metric: str) -> bool:
    """Whether two texts are one value of some kind, each in a unit of its own."""
    for kind in KINDS.values():
        try:
            one, other = (read_text(text, kind, "value") for text in (us, metric))
        except UnitError:
            continue
        if us.partition(" ")[2] != metric.partition(" ")[2] and abs(one - other) <= _AGREE * max(abs(one), abs(other)):
            return True
    return False
