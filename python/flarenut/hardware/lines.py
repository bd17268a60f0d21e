"""Hoses and tubes of a circuit as things that are bought by length: what they are called, how they go, what stands at their ends."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import pi
from typing import TYPE_CHECKING

from ..catalog.hose_ratings import hose_rating, hose_standard
from ..catalog.rows import CatalogError
from ..catalog.tubes import CLOSE
from ..circuit.compile import piece_names
from ..circuit.made_of import MadeOf, made_of
from ..circuit.spoken import may_brake, under_a_foot
from ..units import parse
from .pressed import without_pressure

if TYPE_CHECKING:
    from ..catalog.ends import End
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece
    from ..circuit.places import Run
    from ..circuit.way import Way

_SIXTEENTH = 0.0254 / 16
BRAKE_HOSE = "FMVSS 106"  # the catalogue knows SAE J1401 by it as well
NO_BRAKE_HOSE, UNSAID_BRAKE_HOSE, OF_A_CLUTCH = "no brake hose: see findings", "not said to be brake hose: see findings", "of a clutch"


@dataclass(frozen=True)
class Line:
    """One hose or tube, in its place."""

    name: str
    run: str
    made: MadeOf
    angles: tuple[float, ...]  # of its bends, in the order written [rad]; without those that angled ends make
    said_radius: bool  # whether the builder gave the bend radius
    made_up: bool = False  # hose of brakes, or of a clutch in their liquid: bought as an assembly, tested between its two ends
    instead: str = ""  # what is said of one that is made up and no brake hose
    pressed: bool = True  # liquid stands in it under pressure: False before a pump and behind what spills

    @property
    def ends(self) -> tuple[End | None, End | None]:
        """`catalog.End` or None, at inlet and outlet."""
        return self.made.shop.ends

    @property
    def size(self) -> str:
        """What it is, in a shop's words: "-8 ptfe", "3/8 in x 0.035 in, 304 stainless annealed"."""
        return hose_size(self.made) if self.made.word == "hose" else tube_size(self.made)

    @property
    def way(self) -> Way | None:
        """Its `Way`; None where it does not go by points."""
        return self.made.way

    @property
    def volume(self) -> float:
        """Of the liquid in it [m3]."""
        return pi / 4.0 * self.made.bore ** 2 * self.made.length


def lines_of(circuit: Circuit) -> list[Line]:
    """Every `Line` of a circuit, run by run. Raises `CircuitError` where a name is used twice."""
    names = piece_names(circuit)
    slack = without_pressure(circuit)
    return [_line(names[run.name, place], run.name, piece, made, _made_up(circuit, run, names[run.name, place], made), (run.name, place) not in slack)
            for run in circuit.runs.values() for place, piece in enumerate(run.pieces) if (made := made_of(piece)) is not None]


def _made_up(circuit: Circuit, run: Run, name: str, made: MadeOf) -> tuple[bool, str]:
    """Whether a line is bought made up, and what is said of it where it is then no brake hose: it is not renamed into one."""
    if made.word != "hose" or is_brake_hose(made):
        return made.word == "hose", ""
    foot = under_a_foot(circuit, run, name) if may_brake(circuit, run) else ""
    said = OF_A_CLUTCH if foot == "clutch" else NO_BRAKE_HOSE if _standard(made) or made.spec == "push-on" else UNSAID_BRAKE_HOSE
    return bool(foot), said if foot else ""


def is_brake_hose(made: MadeOf) -> bool:
    """Whether a hose is made to a standard of brake hose, as far as is said.

    >>> from flarenut import hose
    >>> [is_brake_hose(made_of(hose("-3", "1 ft", spec="ptfe", standard=one))) for one in ("FMVSS 106", "SAE J1401", "SAE 100R14")]
    [True, True, False]
    """
    return _standard(made) == BRAKE_HOSE


def _standard(made: MadeOf) -> str:
    """Name of a hose's standard; "" where none is said or known."""
    try:
        return hose_standard(made.shop.standard or made.named)
    except CatalogError:
        return ""


def outside_of(made: MadeOf) -> float | None:
    """Outside diameter of a hose [m], measured or by its standard; None where neither is known."""
    if made.shop.outside is not None:
        return made.shop.outside
    try:
        return None if made.shop.standard is None else hose_rating(made.shop.standard, made.dash, made.bore).outside
    except CatalogError:
        return None


def _line(name: str, run: str, piece: Piece, made: MadeOf, bought: tuple[bool, str], pressed: bool) -> Line:
    given = piece.given
    written = given.get("bends") or ()
    written = [written] if isinstance(written, (str, int, float)) else written
    angles = made.way.turns if made.way is not None else tuple(one * pi / 180 if type(one) in (int, float) else parse(one, "angle", name="bends") for one in written)
    return Line(name, run, made, angles, given.get("bend_radius") is not None, *bought, pressed)


def legs_of(points: tuple[tuple[float, float, float], ...]) -> list[tuple[float, float, float]]:
    """From each point to the next."""
    return [(other[0] - one[0], other[1] - one[1], other[2] - one[2]) for one, other in zip(points, points[1:])]


def cross(a: tuple[float, float, float], b: tuple[float, float, float]) -> tuple[float, float, float]:
    """Cross product."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def dot(a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
    """Scalar product."""
    return sum(x * y for x, y in zip(a, b))


def size(a: tuple[float, float, float]) -> float:
    """Length of a vector."""
    found: float = dot(a, a) ** 0.5
    return found


def hose_size(made: MadeOf) -> str:
    """A hose in a shop's words: size, family, standard.

    >>> from flarenut import hose
    >>> hose_size(made_of(hose("-8", "1 m", spec="ptfe")))
    '-8 ptfe'
    """
    size = f"-{made.dash}" if made.dash is not None else f"{made.bore * 1e3:.4g} mm bore"
    family = " ".join(word for word in (size, made.spec) if word)
    words = ", ".join(word for word in (family, made.shop.standard) if word)
    return words if made.spec or made.shop.standard else f"{words}, specification not said"


def tube_size(made: MadeOf) -> str:
    """A tube in a shop's words: outside diameter, wall, material.

    >>> from flarenut import tube
    >>> tube_size(made_of(tube("10 mm", "1 m", wall="1 mm")))
    '10 mm x 1 mm, material not said'
    """
    return f"{tube_outside(made)}, {made.shop.material or 'material not said'}"


def tube_outside(made: MadeOf) -> str:
    """Outside diameter and wall of a tube: "3/8 in x 0.035 in"."""
    if made.outside is None or made.wall is None:
        return f"{made.bore * 1e3:.4g} mm bore, outside not said"
    if is_inch(made.outside):
        return f"{fraction(made.outside)} in x {made.wall / 0.0254:.3f} in"
    return f"{made.outside * 1e3:.4g} mm x {made.wall * 1e3:.3g} mm"


def is_inch(length: float) -> bool:
    """Whether a length [m] is a whole number of sixteenths of an inch."""
    return abs(length / _SIXTEENTH - round(length / _SIXTEENTH)) * _SIXTEENTH < CLOSE


def fraction(length: float) -> str:
    """A length [m] in inches as a shop says it: "3/8", "1 1/4".

    >>> fraction(0.0254 * 1.25)
    '1 1/4'
    """
    whole, rest = divmod(Fraction(round(length / _SIXTEENTH), 16), 1)
    return " ".join(str(part) for part in (whole, rest) if part) or "0"
