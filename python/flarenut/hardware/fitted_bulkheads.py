"""Bulkhead unions where a hose or tube passes a wall: the line is parted there in two of the same words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from ..catalog import End
from ..catalog.tubes import flare_dash
from ..circuit.parts_fittings import adapter
from ..circuit.errors import CircuitError
from ..circuit.made_of import line_of
from ..circuit.spoken import may_brake, under_a_foot
from ..circuit.way import parted, way_of
from ..units import Quantity, parse
from .fitted_names import free_name, keep_names, named, names_in
from .proposal import Proposal

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.made_of import MadeOf
    from ..circuit.piece import Piece
    from ..circuit.places import Run
    from ..circuit.shop import Passage

SHORTEST = 0.15  # [m] of a line between two unions: its ends take up most of it (judgement, no source)


def put_bulkheads(circuit: Circuit, proposals: list[Proposal], left: list[Proposal]) -> None:
    """Parts every line that says `through`, save where it passes in a grommet; `left` is told of what cannot be parted."""
    for run in circuit.runs.values():
        if any(piece.shop.through for piece in run.pieces):
            keep_names(run, names_in(circuit, run))
            run.pieces[:] = [one for piece in run.pieces for one in _parted(circuit, run, piece, proposals, left)]
    circuit.keep_compiled(None)


def _parted(circuit: Circuit, run: Run, piece: Piece, proposals: list[Proposal], left: list[Proposal]) -> list[Piece]:
    """A piece and its bulkheads, from its inlet on."""
    walls = [wall for wall in piece.shop.through if not wall.grommet]
    if not walls:
        return [piece]
    dash = dash_of(line_of(piece))
    clamped = on_barbs(piece) and under_a_foot(circuit, run, piece.name)
    if may_brake(circuit, run) or clamped or dash is None:
        why = "its size in dashes is not known" if dash is None else "no clamp holds behind a pedal" if clamped else "brake pipe is flared as its unions are"
        left.append(Proposal(piece.name or piece.word, f"bulkhead union at the {walls[0].what}: {why}; say which, between two lines"))
        return [piece]
    try:
        lines = _pieces(piece, [wall.at for wall in walls])
    except CircuitError as error:
        left.append(Proposal(piece.name or piece.word, f"bulkhead union: {error.reason}"))
        return [piece]
    found = [lines[0]]
    for wall, line in zip(walls, lines[1:]):
        union, proposal = _union(piece, dash, wall, free_name(circuit, f"{piece.name} {wall.what} bulkhead"))
        found += [union, named(line, free_name(circuit, f"{piece.name} after {wall.what}"))]
        proposals.append(proposal)
    return found


def _union(piece: Piece, dash: int, wall: Passage, name: str) -> tuple[Piece, Proposal]:
    """A bulkhead union and its `Proposal`: barb to barb for a clamped hose, which would want an adapter on both sides of any other."""
    at = Quantity(wall.at, "length")
    if not on_barbs(piece):
        return adapter([f"-{dash} 37 flare male"] * 2, name=name), Proposal(name, f"bulkhead union, -{dash} 37 flare male on both sides, {{}} along", (at,))
    ends = [f"-{dash} barb male"] * 2
    bore = End("37 flare", f"-{dash}", "male").through  # no table has that of a barb
    if bore is None:
        return adapter(ends, bore=f"{line_of(piece).bore:.12g} m", name=name), Proposal(
            name, f"bulkhead union, -{dash} barb male on both sides, two clamps, {{}} along; its bore is not known and taken as that of the hose", (at,))
    return adapter(ends, bore=f"{bore:.12g} m", name=name), Proposal(
        name, f"bulkhead union, -{dash} barb male on both sides, two clamps, {{}} along; its bore taken as that of a -{dash} fitting: measure yours", (at,))


def on_barbs(piece: MadeOf | Piece) -> bool:
    """Whether a hose is clamped, so that its unions are barbs: where it says so, or the plain hose of a barb is all that it says of its ends."""
    said = [end for end in piece.shop.ends if end is not None]
    return piece.word == "hose" and (piece.shop.clamped or bool(said) and all((end.form, end.sex) == ("barb", "female") for end in said))


def dash_of(line: MadeOf) -> int | None:
    """Dash of the union that a `MadeOf` takes; None where it has none."""
    return line.dash if line.dash is not None or line.outside is None else flare_dash(line.outside)


def _pieces(piece: Piece, cuts: Sequence[float]) -> list[Piece]:
    """The lines that a line is cut into at distances along it [m], all of its words, each with its share of what adds up."""
    given, line = piece.given, line_of(piece)
    bounds = [0.0, *cuts, line.length]
    shares = [(stop - start) / line.length for start, stop in zip(bounds, bounds[1:])]
    if min(shares) <= 0.0:
        raise CircuitError("it passes two walls at one place")
    if min(shares) * line.length < SHORTEST:
        raise CircuitError(f"it would leave a piece of {min(shares) * line.length * 1e3:.0f} mm, and two ends alone take up about {SHORTEST * 1e3:.0f} mm: put the union "
                           "farther from its end")
    laid = _ways(line, cuts) if line.way is not None else _lengths(given, line, bounds)
    ends = given.get("ends") or ["", ""]
    found = []
    for number, (share, start, stop) in enumerate(zip(shares, bounds, bounds[1:])):
        words = {key: _times(given[key], kind, share) for key, kind in _ADDS_UP.items() if given.get(key) is not None}
        own = [ends[0] if number == 0 else "", ends[1] if number == len(cuts) else ""]
        kept = [f"{wall.what} at {(wall.at - start) * 1e3:.12g} mm, grommet" for wall in piece.shop.through if wall.grommet and start < wall.at < stop]
        found.append(piece.changed(**{**words, **laid[number]}, through=kept or None, ends=own if any(own) else None))
    return found


_ADDS_UP = {"rise": "length", "mass": "mass", "extra_loss": "dimensionless"}
_WRITTEN = {"length": "m", "mass": "kg"}


def _times(value: object, kind: str, share: float) -> float | str:
    """A share of what is written."""
    whole = parse(value, kind)
    return whole * share if kind == "dimensionless" else f"{whole * share:.12g} {_WRITTEN[kind]}"


def _lengths(given: Mapping[str, Any], line: MadeOf, bounds: Sequence[float]) -> list[dict[str, Any]]:
    """Length and bends of each line; bends are taken to lie at equal distances along the whole."""
    written = given.get("bends") or []
    bends = [written] if isinstance(written, (str, int, float)) else list(written)
    at = [line.length * number / (len(bends) + 1) for number in range(1, len(bends) + 1)]
    return [{"length": _length(stop - start, given["length"]), "bends": [bend for bend, here in zip(bends, at) if start < here <= stop]}
            for start, stop in zip(bounds, bounds[1:])]


def _length(metres: float, written: object) -> str:
    """A length in feet where it was written in feet or inches."""
    inches = isinstance(written, str) and any(unit in written for unit in ("ft", "in", "'", '"'))
    return f"{metres / 0.0254:.12g} in" if inches else f"{metres * 1e3:.12g} mm"


def _ways(line: MadeOf, cuts: Sequence[float]) -> list[Any]:
    """Points of each line."""
    rest, own = line.way, line.shop.way
    assert rest is not None and own is not None, "it goes by points"
    gone, in_ends = 0.0, rest.in_ends
    found: list[tuple[tuple[float, float, float], ...]] = []
    for cut in cuts:
        both = parted(rest, cut - gone)
        if both is None:
            raise CircuitError(f"{cut * 1e3:.0f} mm along it bends: say a place where it is straight")
        found.append(both[0])
        rest, gone = way_of(both[1], rest.radius), cut
    found.append(rest.points)
    if in_ends[0]:  # the seat of an angled end, before the corner that the way is measured from
        found[0] = (own[0], *found[0])
    if in_ends[1]:
        found[-1] = (*found[-1], own[-1])
    return [{"way": [[f"{one * 1e3:.12g} mm" for one in point] for point in points]} for points in found]
