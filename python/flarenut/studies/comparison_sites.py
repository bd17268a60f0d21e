"""Where variants are read: the gallery, the sump, and the places where gauges sit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from ..circuit import CircuitError
from ..circuit.errors import meant
from .comparison_columns import Sites

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit


def sites_of(circuits: Mapping[str, Circuit], at: str | None, sump: str | None, gauges: Sequence[str] | None) -> Sites:
    """The `Sites`; raises `CircuitError` for a place that a variant lacks."""
    gallery = _needed(circuits, "at", _gallery(circuits) if at is None else at)
    tank = _needed(circuits, "sump", _sump(circuits) if sump is None else sump)
    places = _gauges(circuits) if gauges is None else [gauges] if isinstance(gauges, str) else list(gauges)
    every = dict.fromkeys(name for circuit in circuits.values() for name in circuit.junctions)
    for place in places:
        if place not in every:
            raise CircuitError(f"no variant has a place '{place}'", meant(str(place), every), place="compare", key="gauges", value=place)
    return Sites(gallery, tank, tuple(place for place in dict.fromkeys(places) if place != gallery))


def _needed(circuits: Mapping[str, Circuit], key: str, place: str) -> str:
    for name, circuit in circuits.items():
        if place not in circuit.junctions:
            raise CircuitError(f"'{name}' has no place '{place}'", meant(str(place), circuit.junctions), place="compare", key=key, value=place)
    return place


def _gallery(circuits: Mapping[str, Circuit]) -> str:
    """The one place called so; else where a run of bearings begins."""
    circuit = next(iter(circuits.values()))
    called = [name for name in circuit.junctions if "gallery" in name.lower()]
    if len(called) == 1:
        return called[0]
    starts = list(dict.fromkeys(run.start for run in circuit.runs.values() if any(piece.word == "bearings" for piece in run.pieces)))
    if len(starts) == 1:
        return starts[0]
    raise CircuitError("it is not clear which place is to be judged", 'name it, at="gallery"', place="compare", key="at", value=None)


def _sump(circuits: Mapping[str, Circuit]) -> str:
    """The first tank whose temperature is found; else the first."""
    circuit = next(iter(circuits.values()))
    tanks = [name for name, junction in circuit.junctions.items() if junction.kind == "tank"]
    if not tanks:
        raise CircuitError("there is no tank", 'name the place whose temperature is to be shown, sump="..."', place="compare", key="sump", value=None)
    return next((name for name in tanks if circuit.junctions[name].found), tanks[0])


def _gauges(circuits: Mapping[str, Circuit]) -> list[str]:
    """Places that were given the bore of a gauge's tapping, in any of them."""
    return list(dict.fromkeys(name for circuit in circuits.values() for name in circuit.junctions if circuit.junctions[name].bore))
