"""Drawings of the circuits of a vehicle, one by one."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..circuit.vehicle import Vehicle
    from .draw import Schematic


class Schematics(Mapping[str, "Schematic"]):
    """A mapping from the circuits of a vehicle to their `Schematic`s; a notebook shows them below each other."""

    def __init__(self, name: str, drawings: Mapping[str, Schematic]) -> None:
        self.name, self._drawings = name, dict(drawings)

    def __getitem__(self, circuit: str) -> Schematic:
        return self._drawings[circuit]

    def __iter__(self) -> Iterator[str]:
        return iter(self._drawings)

    def __len__(self) -> int:
        return len(self._drawings)

    def save(self, folder: str) -> list[Path]:
        """Writes each drawing into a folder, by the name of its circuit, and returns the `Path`s."""
        target = Path(folder)
        target.mkdir(parents=True, exist_ok=True)
        names: dict[str, str] = {}
        for circuit in self._drawings:
            plain = re.sub(r"[^\w -]+", "_", circuit).strip()[:100] or "circuit"
            names[circuit] = plain if plain not in names.values() else f"{plain} {len(names) + 1}"
        return [self[circuit].save(target / f"{name}.svg") for circuit, name in names.items()]

    def _repr_html_(self) -> str:
        return "".join(f"<div>{one.svg}</div>" for one in self.values())

    def __repr__(self) -> str:
        return f"<schematics of {self.name!r}: {', '.join(self._drawings)}>"


def partners_of(vehicle: Vehicle, circuit: str) -> dict[str, str]:
    """Part of that circuit -> words on what it passes heat to."""
    found = {}
    for exchanger in vehicle.exchangers.values():
        for (here, part), (there, _) in (exchanger.ends, exchanger.ends[::-1]):
            if here == circuit:
                found[part] = f"exchanges heat with {there}"
    return found
