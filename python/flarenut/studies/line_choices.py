"""Which lines a table of sizes tries: the standard sizes of specifications of hose and tube, each in place of the line as written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, Any

from .. import catalog
from ..catalog.tubes import CLOSE
from ..circuit import CircuitError
from ..circuit.parts_lines import hose, tube
from ..circuit.errors import located, meant
from ..circuit.made_of import plain_number
from ..circuit.piece import Element
from ..units import dash, parse
from ..units.errors import UnitError, quoted

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece

TUBES = {"tube": "in", "metric tube": "mm"}  # specification -> unit of its outside diameters
_AROUND = ("air", "air_rise", "sleeve")  # words of what passes heat through its wall
_KEPT = ("length", "bends", "bend_radius", "extra_loss", "rise", *_AROUND)  # words that a line of another specification keeps
_BESIDE_WIDEST = 3.0  # bore of a line that loses next to nothing, a hundredth or so, over that of the widest
_USUAL_WALL = 0.9e-3  # [m], about 0.035 in: of fuel line (catalogue, common practice); for sizes that have no usual wall


@dataclass
class Choice:
    """One line to try."""

    spec: str  # "ptfe", "tube" ...
    size: str  # as a shop says it, "-6", "3/8 in x 0.035 in"
    piece: Piece
    written: bool = False  # the line as it stands
    dash: str = ""  # of the fittings that go on it; "" where none do

    @property
    def bore(self) -> float:
        """Inside diameter [m]."""
        return plain_number(self.piece.main.numbers["bore"])


def line_named(circuit: Circuit, name: str) -> Piece:
    """The piece of a hose or tube. Raises `CircuitError` with those that there are."""
    pieces = circuit.compiled().pieces
    lines = [one for one, piece in pieces.items() if piece.word in ("hose", "tube")]
    if name not in pieces:
        raise CircuitError(f"there is no line '{name}'", meant(name, lines), place="line_sizes", key="line", value=name)
    if name not in lines:
        raise CircuitError(f"'{name}' is a {pieces[name].word.replace('_', ' ')}, which has no standard sizes of line",
                           f"the lines are {', '.join(lines)}" if lines else "there is no hose or tube", place="line_sizes", key="line", value=name)
    return pieces[name]


def choices_of(written: Piece, sizes: Sequence[str] | None, specs: Sequence[str] | None) -> list[Choice]:
    """The `Choice`s, by bore within each specification; the line as written is always among them."""
    chosen = [specs] if isinstance(specs, str) else list(specs or _own_specs(written))
    only = None if sizes is None else [_dashed(one) for one in ([sizes] if isinstance(sizes, (str, int)) else sizes)]
    for key, given in (("sizes", only), ("specs", specs)):
        if given is not None and not len(given):
            raise CircuitError(f"'{key}' is an empty list", f"name some, or leave '{key}' out", place="line_sizes", key=key, value=[])
    found: list[Choice] = []
    met: set[str] = set()
    for spec in chosen:
        found += sorted(_tubes(written, spec, only, met) if spec in TUBES else _hoses(written, spec, only, met), key=lambda one: one.bore)
    lost = [size for size in only or () if size not in met]
    if lost:
        listed = "; ".join([*(f"{spec}: {', '.join(_sizes_of(spec))}" for spec in chosen), *_specs_that_hold(lost[0], chosen)])
        raise CircuitError(f"{quoted(lost[0])} is no size of {', '.join(chosen)}", listed, place="line_sizes", key="sizes", value=lost[0])
    found = list({(choice.spec, choice.size): choice for choice in found}.values())
    if not any(choice.written for choice in found):
        found.append(Choice(_spec_of(written), _size_of(written), written, True))
    order = list(dict.fromkeys([*([] if _spec_of(written) in chosen else [_spec_of(written)]), *chosen]))
    return sorted(found, key=lambda one: (order.index(one.spec), one.bore))


def listed_below(choices: Sequence[Choice]) -> str:
    """That the sizes of a specification end below the bore of the line as it is, and how to go on; "" where they do not."""
    now = next(one for one in choices if one.written)
    tried = [one for one in choices if not one.written]
    if not tried or max(one.bore for one in tried) >= now.bore:
        return ""
    widest = max(tried, key=lambda one: one.bore)
    if widest.spec in TUBES:
        how = f'name wider ones with their wall, sizes=["{_wider_tube(now.bore, TUBES[widest.spec])}"]'
    else:
        how = "name another specification in specs, or tube with its wall in sizes"
    return f"{widest.spec} is listed up to {widest.size}, narrower than the line as it is: {how}"


def _wider_tube(bore: float, unit: str) -> str:
    """A size over a bore [m], for an example."""
    if unit == "mm":
        return f"{5 * ceil((1.15e3 * bore + 3.0) / 5.0)} mm x 1.5 mm"
    return f"{ceil(8 * (1.15 * bore / 0.0254 + 0.1)) / 8:g} in x 0.049 in"


def without_loss(written: Piece, widest: float = 0.0) -> Choice:
    """A line so wide that it loses next to nothing: what it does not cure, no size does. `widest` is the bore of the widest that is tried [m].

    Where its wall passes heat, it has the surface of the widest: one of 10 cm would be a cooler, and with no heat at all, warmer than any size.
    """
    kept = _kept(written, False)
    if not any(key in kept for key in _AROUND):
        return Choice("", "", hose(bore="10 cm", **kept))
    bore = _BESIDE_WIDEST * widest
    piece = (tube if written.word == "tube" else hose)(bore=f"{bore * 1e3} mm", **kept)
    short = {**piece.main.numbers, "length": plain_number(piece.main.numbers["length"]) / _BESIDE_WIDEST}
    return Choice("", "", piece.with_elements(lambda element: Element(element.kind, short, heat=element.heat)))


def _own_specs(written: Piece) -> list[str]:
    spec = _spec_of(written)
    if spec == "as written":
        known = ", ".join([*catalog.hose_specs(), *TUBES])
        raise CircuitError("the line is given by its bore, so nothing says which sizes it comes in",
                           f"say which, specs=['ptfe', 'tube']; there are {known}", place="line_sizes", key="specs")
    return [spec]


def _spec_of(written: Piece) -> str:
    if written.word == "tube":
        return "metric tube" if "mm" in str(written.given.get("size")) else "tube"
    return catalog.hose_spec(written.given["spec"]).name if written.given.get("spec") else "as written"


def _size_of(written: Piece) -> str:
    given = written.given
    if given.get("bore") is not None:
        return f"bore {given['bore']}"
    return f"{given.get('size')}" + (f" x {given['wall']}" if given.get("wall") else "")


def _dashed(size: str) -> str:
    """A size as text; a bare number is a dash."""
    return f"-{abs(size)}" if isinstance(size, int) else str(size).strip()


def _sizes_of(spec: str) -> list[str]:
    """Every size of a specification: dashes of hose, outside diameters of tube."""
    if spec in TUBES:
        return list(dict.fromkeys(row["od"] for row in catalog.table("tube_sizes.csv") if row["od"].endswith(TUBES[spec])))
    return [f"-{row['dash']}" for row in catalog.table("hose_bores.csv") if row["spec"] == spec]


def _hoses(written: Piece, spec: str, only: Sequence[str] | None, met: set[object] | set[str]) -> list[Choice]:
    try:
        name = catalog.hose_spec(spec).name
    except ValueError as error:
        raise located(error, "line_sizes") from None
    wanted = [size for size in _sizes_of(name) if only is None or size in only]
    met.update(wanted)
    return [_hose(written, name, size) for size in wanted]


def _hose(written: Piece, spec: str, size: str) -> Choice:
    known = written.word == "hose" and _spec_of(written) == spec
    as_it_stands = known and _size_of(written).lstrip("-") == size.lstrip("-")
    return Choice(spec, size, written if as_it_stands else hose(size, spec=spec, **_kept(written, known)), as_it_stands, size)


def _tubes(written: Piece, spec: str, only: Sequence[str] | None, met: set[str]) -> list[Choice]:
    """Of every size its usual wall, or that nearest to a usual one; of a size asked for with its wall, that one."""
    listed = _sizes_of(spec)
    found = []
    for asked in listed if only is None else only:
        outside, wall = _outside_and_wall(asked)
        across = _across(outside)
        outside = next((size for size in listed if across is not None and abs(parse(size, "length") - across) < CLOSE), outside)
        if outside in listed or (wall and _is_tube(outside, wall, TUBES[spec])):
            met.add(asked)
            found.append(_tube(written, spec, outside, wall or _wall_of(outside, TUBES[spec], written)))
    return found


def _outside_and_wall(asked: str) -> tuple[str, str]:
    """Diameter of a size asked for, and its wall; "" where it has none, and for a size of hose."""
    try:
        return catalog.tube_words(asked) or (asked.strip(), "")
    except catalog.CatalogError as error:
        raise CircuitError(error.reason, error.hint, place="line_sizes", key="sizes", value=asked) from None


def _across(outside: str) -> float | None:
    """Outside diameter of a tube [m], also by its dash; None for what is neither."""
    try:
        return dash(outside) / 16 * 0.0254
    except UnitError:
        pass
    try:
        return float(parse(outside, "length"))
    except UnitError:
        return None


def _specs_that_hold(asked: str, chosen: Sequence[str]) -> list[str]:
    """What to name, where the size asked for is one of tube, and that tube is not among the specifications chosen."""
    try:
        outside, wall = _outside_and_wall(asked)
    except CircuitError:  # what is no size of tube either: the sizes of what was chosen are the answer
        return []
    found = [spec for spec, unit in TUBES.items() if spec not in chosen and (outside in _sizes_of(spec) or (wall and _is_tube(outside, wall, unit)))]
    return [f"for {asked} name its specification, specs=[{spec!r}]" for spec in found]


def _is_tube(outside: str, wall: str, unit: str) -> bool:
    """Whether a size that is not listed says all that a tube needs, in the unit of its specification."""
    try:
        return outside.endswith(f" {unit}") and parse(outside, "length") > 2.0 * parse(wall, "length") > 0.0
    except UnitError:
        return False


def _wall_of(outside: str, unit: str, written: Piece) -> str:
    if written.word == "tube" and written.given.get("size") == outside and written.given.get("wall"):
        return str(written.given["wall"])
    across = parse(outside, "length")
    try:
        thick = catalog.tube_wall(across)
    except catalog.CatalogError:  # several walls, none of them the usual one
        thick = min(catalog.tube_walls(across), key=lambda wall: abs(wall - _USUAL_WALL))
    return f"{thick / 0.0254:.3f} in" if unit == "in" else f"{thick * 1e3:.2g} mm"


def _tube(written: Piece, spec: str, outside: str, wall: str) -> Choice:
    known = written.word == "tube"
    piece = tube(outside, wall=wall, **_kept(written, known))
    same = known and abs(plain_number(piece.main.numbers["bore"]) - plain_number(written.main.numbers["bore"])) < 2e-5
    sixteenths = parse(outside, "length") / 0.0254 * 16
    dash = f"-{sixteenths:.0f}" if spec == "tube" and abs(sixteenths - round(sixteenths)) < 1e-6 else ""
    return Choice(spec, f"{outside} x {wall}", written if same else piece, same, dash)


def fittings_of(circuit: Circuit, names: str | Sequence[str]) -> dict[str, str]:
    """Fitting -> the word that gives its size, "size" or "bore". Raises `CircuitError` for what is no fitting of a dash size."""
    pieces, found = circuit.compiled().pieces, dict[str, str]()
    for name in [names] if isinstance(names, str) else names:
        if name not in pieces:
            raise CircuitError(f"there is no part '{name}'", meant(name, pieces), place="line_sizes", key="fittings", value=name)
        word = next((word for word in ("size", "bore") if word in pieces[name].keys), None)
        if word is None or pieces[name].word in ("hose", "tube", "passage", "orifice"):
            raise CircuitError(f"'{name}' is a {pieces[name].word.replace('_', ' ')}, no fitting that comes by dash size",
                               "name elbows, pickups and openings", place="line_sizes", key="fittings", value=name)
        found[name] = word
    return found


def fitted(circuit: Circuit, fittings: Mapping[str, str], choice: Choice) -> dict[str, Piece]:
    """Name -> the piece of each fitting in the size of a line. Raises `CircuitError` where there is none."""
    if choice.written or not fittings:
        return {}
    if not choice.dash:
        raise CircuitError(f"{choice.size} has no dash size, so {', '.join(fittings)} cannot follow it", "leave 'fittings' out", key="fittings")
    pieces = circuit.compiled().pieces
    found = {}
    for name, word in fittings.items():
        unsaid: dict[str, object] = {"bore": None} if word == "size" and "bore" in pieces[name].keys else {}
        found[name] = pieces[name].changed(**unsaid, **{word: choice.dash})
    return found


def _kept(written: Piece, known: bool) -> dict[str, Any]:
    """Words that go on to the other line; its roughness only where the liner is the same."""
    kept = {key: written.given[key] for key in ("name", *_KEPT, *(["roughness"] if known else [])) if written.given.get(key) is not None}
    if written.given.get("way") is None:
        return kept
    # Its points might not let a wider one turn; its length and how far it turns are what counts.
    lie = written.main.numbers
    turned = [f"{lie['bend_angle']} rad"] if lie["bend_angle"] else []
    return {**kept, "length": f"{lie['length']} m", "bends": turned, "rise": f"{written.rise or 0.0} m"}
