"""Sweeps in which the face of a rated cooler varies and its rating does not: the bigger core is then no better than the small one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..circuit import Vehicle
from ..circuit.vehicle_cases import owner_of

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit

_RATINGS = ("heat", "heat_table")


def face_alone(plumbing: Circuit | Vehicle, names: Sequence[str]) -> list[str]:
    """A sentence for each cooler of a `Circuit` or `Vehicle` whose face varies without its rating. `names` : of all that varies."""
    told = []
    for name in names:
        owner, _, word = name.rpartition(".")
        rating = next((one for one in _RATINGS if _given(plumbing, owner, one)), None) if word == "face" else None
        if rating is not None and not any(f"{owner}.{one}" in names for one in (*_RATINGS, "rated_air")):
            told.append(f"'{name}' varies and its rating does not: every face is taken to give the '{rating}' that is written for the first, at the same air speed, so "
                        f"that a bigger one shows next to nothing, or a hotter liquid; vary '{owner}.{rating}' along with it, row by row")
    return told


def _given(plumbing: Circuit | Vehicle, owner: str, word: str) -> bool:
    """Whether a part says a word of itself."""
    if isinstance(plumbing, Vehicle):
        circuit, owner = owner_of(plumbing, owner)
        if circuit not in plumbing.circuits:
            return False
        plumbing = plumbing.circuits[circuit]
    piece = plumbing.compiled().pieces.get(owner)
    return piece is not None and piece.given.get(word) is not None
