"""What a circuit is bought as: hoses and tubes by their cut length, ends, fittings, clamps, seals and devices, counted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import pi
from typing import TYPE_CHECKING

from ..circuit.made_of import plain_number
from ..catalog import End
from ..catalog.rows import CatalogError
from ..catalog.tube_ratings import tube_material
from ..circuit.compile import piece_names
from ..circuit.spoken import may_brake, under_a_foot
from .cut_hose import is_clamped
from .fitted_bulkheads import dash_of, on_barbs
from .items import (UNSAID, between, bolt_item, brake_hose_item, clamp_item, end_item, grommet_item, hose_clamp_item, hose_item, seal_item, tee_item,
                    tube_end_item, tube_item)
from .joints import FITTINGS, joints_of
from .lines import lines_of
from .mating import mate

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.made_of import MadeOf
    from ..circuit.piece import Piece
    from .cut_parts import HoseCut, TubeCut
    from .lines import Line
    from ..circuit.piece import Number

WANTED = "Adapters still wanted"
MADE_UP, OTHER_MADE_UP = "Brake hose, bought made up", "Other hose, bought made up"
BOUGHT_MADE_UP = (MADE_UP, OTHER_MADE_UP)
GROUPS = ("Hose", "Hose ends", MADE_UP, OTHER_MADE_UP, "Tube", "Tube ends", "Fittings", WANTED, "Clamps", "Seals", "Devices")
_NOT_BOUGHT = ("hose", "tube", "passage", "pickup", "opening", "bearings", "squirters", *FITTINGS)  # lines and fittings have rows of their own
CUT, ORDERED, COUNTED, SPACED = "length as cut", "length to order, made up", "counted", "by the spacing of supports"
ESTIMATED = "weight estimated: tube from its size and the density of its material"


@dataclass(frozen=True)
class Need:
    """Something that a circuit needs, before it is priced. Numbers in SI."""

    group: str
    item: str
    where: str  # name of the line or part that it is for
    count: int = 1
    length: float | None = None  # of all together [m]; None for what is bought by the piece
    weight: float | None = None  # of all together, dry [kg], where the circuit tells it
    with_line: bool = False  # its weight is in that of the line whose end it is
    weight_source: str = ""
    how: str = COUNTED

    @property
    def by_piece(self) -> bool:
        """Whether it is priced and weighed by the piece: all but hose and tube that is cut."""
        return self.length is None or self.group in BOUGHT_MADE_UP


def needs_of(circuit: Circuit, cuts: Mapping[str, HoseCut | TubeCut], left_out: Sequence[str] = ()) -> list[Need]:
    """Every `Need` of a circuit.

    Parameters
    ----------
    cuts : name of a line -> its `HoseCut` or `TubeCut`
    left_out : names of parts that belong to a bought thing counted elsewhere
    """
    lines = {line.name: line for line in lines_of(circuit) if line.name not in left_out}
    found: list[Need] = []
    for line in lines.values():
        found += _of_hose(line, cuts[line.name]) if line.made.word == "hose" else _of_tube(line, cuts[line.name])
        run = circuit.runs[line.run]
        found += _unions(line, may_brake(circuit, run) or bool(under_a_foot(circuit, run, line.name)) and on_barbs(line.made))
    for name, piece in _in_order(circuit):
        if name not in left_out and name not in lines:
            found += _of_fitting(name, piece) if piece.word in FITTINGS else _of_device(name, piece)
    for name, (piece, _) in circuit.multiport.items():
        found += _of_tee(name, piece) if piece.word == "tee" else _of_device(name, piece)
    return [one for one in [*found, *_wanted(circuit)] if one.count]


def _wanted(circuit: Circuit) -> Iterator[Need]:
    """Adapters that joints need and the circuit does not have: where two ends meet that do not seal, and an adapter would join them."""
    for joint in joints_of(circuit):
        found = mate(joint.one.end, joint.other.end) if joint.one.end is not None and joint.other.end is not None else None
        barbs = found is not None and "barb" in [end.form for end in (joint.one.end, joint.other.end, *(found.adapter or ()))]
        if barbs and under_a_foot(circuit, circuit.runs[joint.run], f"{joint.one.name} {joint.other.name}"):
            continue  # no adapter mends that: the audit refuses it
        if found is not None and found.adapter is not None:
            yield Need(WANTED, between("adapter", found.adapter), joint.place, how="its ends do not seal as they are")
            yield from _seals(found.adapter, joint.place)


def _unions(line: Line, brakes: bool) -> Iterator[Need]:
    """The union that a line wants where it passes a wall in no grommet, and the ends that part it there; those of brakes nobody can tell."""
    made = line.made
    for wall in made.shop.through:
        if wall.grommet:
            continue
        place, how = f"{line.name} at the {wall.what}", "it is parted there"
        dash = dash_of(made)
        if dash is None or brakes or line.made_up:
            yield Need(WANTED, f"bulkhead union, {UNSAID}", place, how=how)
            continue
        form = "barb" if on_barbs(made) else "37 flare"
        yield Need(WANTED, between("bulkhead union", [End(form, f"-{dash}", "male")] * 2), place, how=how)
        yield from _parted_ends(line, End(form, f"-{dash}", "female"), place, how)


def _parted_ends(line: Line, end: End, place: str, how: str) -> Iterator[Need]:
    made = line.made
    item = tube_end_item(end, made) if made.word == "tube" else hose_clamp_item(made) if end.form == "barb" else end_item(end, made)
    yield Need(WANTED, item, place, 2, how=how)


def _in_order(circuit: Circuit) -> list[tuple[str, Piece]]:
    """(name, piece) of every run, as the liquid meets them."""
    names = piece_names(circuit)
    return [(names[run.name, place], piece) for run in circuit.runs.values() for place, piece in enumerate(run.pieces)]


def _of_hose(line: Line, cut: HoseCut | TubeCut) -> Iterator[Need]:
    made, mass = line.made, line.made.shop.mass
    if line.made_up:
        group = OTHER_MADE_UP if line.instead else MADE_UP
        yield Need(group, brake_hose_item(made, line.instead), line.name, 1, cut.cut.si, mass, weight_source="as said of the part" if mass else "", how=ORDERED)
        yield from _around_hose(line, cut)
        return
    yield Need("Hose", hose_item(made), line.name, 1, cut.cut.si, mass, weight_source="as said of the part" if mass else "", how=CUT)
    for end in line.ends:
        if is_clamped(made, end):
            yield Need("Clamps", hose_clamp_item(made), line.name)
        else:
            yield Need("Hose ends", end_item(end, made), line.name, with_line=mass is not None)
    yield from _around_hose(line, cut)


def _around_hose(line: Line, cut: HoseCut | TubeCut) -> Iterator[Need]:
    """What holds a hose and what seals its ends."""
    made = line.made
    yield Need("Clamps", grommet_item(made), line.name, sum(wall.grommet for wall in made.shop.through))
    yield Need("Clamps", clamp_item(made), line.name, cut.supports.count, how=f"{SPACED}: {cut.supports.source}")
    yield from _seals(line.ends, line.name)


def _of_tube(line: Line, cut: TubeCut | HoseCut) -> Iterator[Need]:
    made = line.made
    weight, source = made.shop.mass, "as said of the part"
    if weight is None:
        weight, source = _tube_weight(made, cut.cut.si)
    yield Need("Tube", tube_item(made), line.name, 1, cut.cut.si, weight, weight_source=source if weight is not None else "", how=CUT)
    for end in line.ends:
        item = tube_end_item(end, made)
        if item:
            yield Need("Tube ends", item, line.name, with_line=made.shop.mass is not None)
    yield Need("Clamps", grommet_item(made), line.name, sum(wall.grommet for wall in made.shop.through))
    yield Need("Clamps", clamp_item(made), line.name, cut.supports.count, how=f"{SPACED}: {cut.supports.source}")
    yield from _seals(line.ends, line.name)


def _tube_weight(made: MadeOf, length: float) -> tuple[float | None, str]:
    """Weight of a tube from its density and its size [kg], and its source; (None, "") where one of them is not said."""
    if made.outside is None or made.wall is None or made.shop.material is None:
        return None, ""
    try:
        material = tube_material(made.shop.material)
    except CatalogError:
        return None, ""
    inside = made.outside - 2.0 * made.wall
    return pi / 4.0 * (made.outside ** 2 - inside ** 2) * material.density * length, ESTIMATED


def _of_fitting(name: str, piece: Piece) -> Iterator[Need]:
    ends = piece.shop.ends
    yield Need("Fittings", _fitting_item(name, piece), name, weight=piece.shop.mass, weight_source="as said of the part" if piece.shop.mass else "")
    yield from _seals(ends, name)


def _fitting_item(name: str, piece: Piece) -> str:
    """A fitting in words: by its ends where they are said, else by its size."""
    if any(piece.shop.ends):
        return between("bulkhead union" if name.split()[-1].startswith("bulkhead") else piece.word, piece.shop.ends)
    given = piece.given
    if piece.word == "reducer":
        return f"reducer {given['inlet']} to {given['outlet']}"
    size = given["size"] if given.get("bore") is None else f"{given['bore']} bore"
    turn = f", {piece.given.get('angle', 90)} deg" if piece.word == "elbow" and type(given.get("angle", 90)) in (int, float) else ""
    return f"{piece.word} {size}{turn}, {UNSAID}"


def _of_tee(name: str, piece: Piece) -> Iterator[Need]:
    given = piece.given
    size = given.get("size") or (f"{given['bore']} bore" if given.get("bore") is not None else "")
    branch = given.get("branch_size") or (f"{given['branch_bore']} bore" if given.get("branch_bore") is not None else "")
    item = tee_item(piece.shop.ends) if any(piece.shop.ends) else f"tee {size}{f' with {branch} branch' if branch else ''}, {UNSAID}"
    yield Need("Fittings", item, name, weight=piece.shop.mass, weight_source="as said of the part" if piece.shop.mass else "")
    yield from _seals(piece.shop.ends, name)


def _of_device(name: str, piece: Piece) -> Iterator[Need]:
    if piece.word in _NOT_BOUGHT:
        return
    word = {"injectors": "injector"}.get(piece.word, piece.word.replace("_", " "))
    count = piece.given["count"] if piece.word == "injectors" else 1
    yield Need("Devices", f"{word}: {name}", name, count, weight=piece.shop.mass, weight_source="as said of the part" if piece.shop.mass else "")
    yield from _seals(piece.shop.ends, name)


def _seals(ends: tuple[End | None, ...], name: str) -> Iterator[Need]:
    """What is bought with an end: the bolt of an eye, washers, O-rings."""
    for end in ends:
        bolt, found = bolt_item(end), seal_item(end)
        if bolt is not None:
            yield Need("Fittings", bolt, name)
        if found is not None:
            yield Need("Seals", found[0], name, found[1])


# ---- liquid ----

def liquid_of(circuit: Circuit) -> dict[str, float]:
    """Run -> what is in its lines, passages and fittings [m3]. What is inside of devices, tees and tanks is not known."""
    return {run.name: sum(_room(element.numbers) for piece in run.pieces for element in piece.elements if element.kind == "line")
            for run in circuit.runs.values()}


def _room(numbers: Mapping[str, Number]) -> float:
    return pi / 4.0 * plain_number(numbers["bore"]) ** 2 * plain_number(numbers["length"])
