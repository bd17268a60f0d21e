"""Pumps of a circuit that are written the wrong way round, seen by how it is put together: why a case has no answer, and what cures it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from .joins import backward_pumps, backward_runs, pumps_against_runs, pumps_from_what_is_fed

if TYPE_CHECKING:
    from .circuit import Circuit
    from .piece import Piece
    from .places import Run


class Backwards(NamedTuple):
    """What of a circuit is the wrong way round: told before anything that comes of it."""

    where: str  # as the builder calls it
    cause: str
    cure: str
    sure: bool = True  # False: the engine's cause may hold all the same


def backwards_in(circuit: Circuit) -> Backwards | None:
    """The runs and pumps whose two ends are swapped; None where nothing is seen."""
    runs = backward_runs(circuit)
    if runs:
        looks = [f"'{run.name}', whose pump draws from '{run.start}', which nothing feeds, and delivers into tank '{run.end}'"
                 for run in runs]
        return Backwards(", ".join(run.name for run in runs), "look at run " + ", and at run ".join(looks) + ": are its two ends swapped?",
                         "swap the two ends of the run, so that it leads from the tank to what it feeds; its parts stand in the order that the "
                         "liquid meets them")
    found = backward_pumps(circuit)
    why = "nothing can feed {pumps}, and {it} to where liquid comes from"
    if not found:
        found, why = pumps_from_what_is_fed(circuit), "{pumps} would draw from what is to be fed, and {it} to where the tank is"
    sure = bool(found)
    if not sure:
        found, why = pumps_against_runs(circuit), "{pumps} would draw from where all other runs begin, and {it} to where all others end"
    if not found:
        return None
    names, many = [_called(run, piece) for run, piece in found], bool(found[1:])
    told = why.format(pumps=" and ".join(f"pump '{name}'" for name in names), it="they deliver" if many else "it delivers")
    runs_of = dict.fromkeys(run.name for run, _ in found)
    each = "the two ends of each of them" if many else f"the two ends of its run, '{next(iter(runs_of))}'"
    return Backwards(", ".join(names), f"{told}: are {'their' if many else 'its'} two ends swapped?",
                     f"swap {each}: it leads from what holds the liquid to what it feeds", sure)


def _called(run: Run, piece: Piece) -> str:
    return piece.name or f"{run.name} {piece.word}".replace("_", " ")
