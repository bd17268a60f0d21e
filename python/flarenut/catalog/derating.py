"""Working pressure of hose and tube when hot: factors on that at room temperature."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from .rows import table
from .sources import said_of, source_in_words

if TYPE_CHECKING:
    from .hose_ratings import HoseRating


class Derated(NamedTuple):
    """A working pressure at a temperature. `pressure` [Pa] over the air around, 0 beyond its limit, None where none is rated."""

    pressure: float | None
    factor: float
    source: str
    how: str
    note: str

    @property
    def said(self) -> str:
        """Its source as findings and lists show it: what is from memory says so."""
        return said_of(self)


def derated(rating: HoseRating, temperature: float | None = None) -> Derated:
    """The `Derated` working pressure of a `HoseRating` at a temperature [K]; the rating itself without one.

    Rubber hose bears its rating up to its highest temperature and nothing beyond; PTFE hose loses a third on the way from 120 to
    204 °C. For MIL-H-8794 hose no factor is printed, only that both limits do not go together.

    >>> from flarenut.catalog import hose_rating
    >>> hot = derated(hose_rating("SAE 100R14", 6), 273.15 + 204.0)
    >>> round(hot.factor, 2), round(hot.pressure / 6894.757)
    (0.67, 1005)
    """
    factor, source, how, note = _of_hose(rating, temperature)
    return Derated(None if rating.working is None else factor * rating.working, factor, source, how, note)


def _of_hose(rating: HoseRating, temperature: float | None) -> tuple[float, str, str, str]:
    if temperature is None:
        return 1.0, rating.source, rating.how, ""
    if rating.hottest is not None and temperature > rating.hottest:
        return 0.0, rating.source, rating.how, "hotter than it is made for: nothing is rated there"
    if rating.standard == "MIL-H-8794":
        (row,) = _knots("MIL-H-8794 hose")
        return 1.0, row["source"], row["how"], row["note"]
    if rating.liner == "PTFE":
        factor, row = _between(_knots("PTFE hose"), temperature, carried_on=True)
        return factor, row["source"], row["how"], row["note"]
    row = _knots("rubber hose")[0]
    return 1.0, row["source"], row["how"], row["note"]


# Material of a tube, by words of its name -> rows of pressure_derating.csv.
_TUBES = {"304": "304 stainless", "316": "316 stainless", "6061": "6061-T6 aluminium", "steel": "carbon steel"}


def tube_factor(material: str, temperature: float | None) -> tuple[float, str, str, str]:
    """Factor on a tube's working pressure at a temperature [K]: (factor, source, how, note).

    Materials that no factor is known of keep 1 and say so; beyond the last temperature that one is known at, it is that one's, but for
    6061-T6, which bears nothing there.

    >>> round(tube_factor("304 stainless annealed", 273.15 + 121.0)[0], 3)
    0.965
    """
    family = _family(material)
    if temperature is None:
        return 1.0, "", "derived", ""
    if family is None:
        return 1.0, "", "derived", f"no factor for heat is known of {material}"
    rows = _knots(family)
    factor, row = _between(rows, temperature)
    last = float(rows[-1]["temperature_C"])
    if temperature <= last + 273.15:
        return factor, row["source"], row["how"], row["note"]
    if "aluminium" in family:
        return 0.0, row["source"], row["how"], "hotter than it may be under pressure: it over-ages"
    return factor, row["source"], row["how"], f"known to {last:g} C only, and taken from there"


def _family(material: str) -> str | None:
    return next((rows for word, rows in _TUBES.items() if word in material.lower()), None)


def heat_unknown_from(material: str) -> tuple[float | None, str]:
    """(temperature [K], source in words) from which a tube may lose strength by nobody knows how much; (None, "") of a material with factors.

    Materials without a factor of their own are left alone up to where 6061-T6 begins to lose strength, 93 °C: a judgement.

    >>> heat_unknown_from("304 stainless annealed")[0], round(heat_unknown_from("3003-O aluminium")[0] - 273.15)
    (None, 93)
    """
    if _family(material) is not None:
        return None, ""
    first = _knots("6061-T6 aluminium")[0]
    return float(first["temperature_C"]) + 273.15, f"where 6061-T6 begins to lose strength, {source_in_words(first['source'], first['how'])}"


def _knots(family: str) -> list[dict[str, str]]:
    return [row for row in table("pressure_derating.csv") if row["family"] == family]


def _between(rows: Sequence[dict[str, str]], temperature: float, carried_on: bool = False) -> tuple[float, dict[str, str]]:
    """Factor at a temperature [K] and the row it rests on; 1 below the first, in proportion between."""
    celsius = temperature - 273.15
    knots = [(float(row["temperature_C"]), float(row["factor"]), row) for row in rows]
    if celsius <= knots[0][0] or len(knots) == 1:
        return knots[0][1], knots[0][2]
    (t0, f0, _), (t1, f1, row) = next((pair for pair in zip(knots, knots[1:]) if celsius <= pair[1][0]), knots[-2:])
    share = (celsius - t0) / (t1 - t0)
    return f0 + (share if carried_on else min(share, 1.0)) * (f1 - f0), row
