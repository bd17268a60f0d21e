"""Drawings of the circuits of a vehicle, one by one."""

import re
from collections.abc import Mapping
from pathlib import Path


class Schematics(Mapping):
    """A mapping from the circuits of a vehicle to their `Schematic`s; a notebook shows them below each other."""

    def __init__(self, name, drawings):
        self.name, self._drawings = name, dict(drawings)

    def __getitem__(self, circuit):
        return self._drawings[circuit]

    def __iter__(self):
        return iter(self._drawings)

    def __len__(self):
        return len(self._drawings)

    def save(self, folder):
        """Writes each drawing into a folder, by the name of its circuit, and returns the `Path`s."""
        target = Path(folder)
        target.mkdir(parents=True, exist_ok=True)
        names = {}
        for circuit in self._drawings:
            plain = re.sub(r"[^\w -]+", "_", circuit).strip()[:100] or "circuit"
            names[circuit] = plain if plain not in names.values() else f"{plain} {len(names) + 1}"
        return [self[circuit].save(target / f"{name}.svg") for circuit, name in names.items()]

    def _repr_html_(self):
        return "".join(f"<div>{one.svg}</div>" for one in self.values())

    def __repr__(self):
        return f"<schematics of {self.name!r}: {', '.join(self._drawings)}>"


def partners_of(vehicle, circuit):
    """Part of that circuit -> words on what it passes heat to."""
    found = {}
    for exchanger in vehicle.exchangers.values():
        for (here, part), (there, _) in (exchanger.ends, exchanger.ends[::-1]):
            if here == circuit:
                found[part] = f"exchanges heat with {there}"
    return found
