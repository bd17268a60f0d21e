"""Where sources differ on what stands in a circuit: both statements, and the one that is used here, for the builder to see."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from ..catalog import disagreements, source_in_words
from ..circuit.made_of import made_of
from ..results import Listing
from .audit_view import ESTIMATE

if TYPE_CHECKING:
    from ..catalog.assembly import Disagreement
    from ..circuit.circuit import Circuit
    from ..circuit.vehicle import Vehicle
    from collections.abc import Callable

_STEEL = ("steel", "stainless")
_USED = {"first": "the first", "second": "the other"}


def disputes_of(plumbing: Circuit | Vehicle) -> list[Disagreement]:
    """Every `catalog.Disagreement` that concerns what stands in a `Circuit` or `Vehicle`, in the order of the table.

    >>> import flarenut as fn
    >>> car = fn.Circuit("car", fluid="water")
    >>> car.tank("drum")
    >>> car.run("line", "drum", "ambient", [fn.tube("3/16 in", "1 m")])
    >>> [one.topic for one in disputes_of(car)]
    ['minimum ID after forming']
    """
    stock = [_Stock(circuit) for circuit in (getattr(plumbing, "circuits", None) or {"": plumbing}).values()]
    return [one for one in disagreements() if any(_CONCERNS[one.topic](of) for of in stock)]


def disputes_listing(found: Sequence[Disagreement]) -> Listing:
    """`Disagreement`s as a `Listing`: what both say, which is used, and where they come from."""
    rows = [[one.topic, one.first, one.second, f"{_USED.get(one.use, one.use) or 'each in its place'} [{number}]"] for number, one in enumerate(found, 1)]
    sources = [f"[{number}] {source_in_words(one.source, one.how)}" for number, one in enumerate(found, 1)]
    return Listing("Where sources differ", ["on", "one says", "another says", "used here"], rows, notes=[*sources, ESTIMATE])


class _Stock:
    """What stands in a circuit, as the rows of the table ask for it."""

    def __init__(self, circuit: Circuit) -> None:
        self.family, self.circuit = circuit.family, circuit
        pieces = [piece for run in circuit.runs.values() for piece in run.pieces] + [piece for piece, _ in circuit.multiport.values()]
        lines = [line for line in map(made_of, pieces) if line is not None]
        self.hoses, self.tubes = ([line for line in lines if line.word == word] for word in ("hose", "tube"))
        self.sized = [line for line in self.hoses if line.dash is not None]
        self.ends = [end for piece in pieces for end in piece.shop.ends if end is not None]
        self.ends += [end for run in circuit.runs.values() for end in run.meets if end is not None]
        self.metals = [piece.shop.material or "" for piece in pieces]

    def hose_of(self, *dashes: int) -> bool:
        """Whether a hose is of one of these dash sizes, and nobody measured its bore."""
        return any(line.dash in dashes for line in self.sized)

    def made_to(self, standard: str, *dashes: int) -> bool:
        """Whether a hose is said to be made to a standard, in one of these sizes where any are named."""
        return any(standard in (line.shop.standard, line.named) and (not dashes or line.dash in dashes) for line in self.hoses)

    def end_of(self, form: str, *sizes: str) -> bool:
        """Whether anything has an end of a form, in one of these sizes where any are named."""
        return any(one.form == form and (not sizes or one.size in sizes) for one in self.ends)

    def flared(self, dash: int, *metals: str) -> bool:
        """Whether a flared tube of a dash size is of one of these metals, or nobody says of which."""
        return any(line.dash == dash and any(end is not None and end.form == "37 flare" for end in line.shop.ends) and
                   (line.shop.material is None or any(metal in line.shop.material for metal in metals)) for line in self.tubes)

    def line_beside_pump(self, before: bool) -> bool:
        """Whether a line stands before a pump, or behind one, in its run or in one that meets it."""
        for run in self.circuit.runs.values():
            pumps = [at for at, piece in enumerate(run.pieces) if piece.word.endswith("pump")]
            if pumps:
                beside = run.pieces[:pumps[0]] if before else run.pieces[pumps[-1] + 1:]
                place = run.start if before else run.end
                beside = [*beside, *(piece for other in self.circuit.runs.values() if other is not run and place == (other.end if before else other.start)
                                     and self.circuit.junctions[place].kind == "free" for piece in other.pieces)]
                if any(made_of(piece) is not None for piece in beside):
                    return True
        return False


# Topic of disagreements.csv -> whether it concerns a `_Stock`.
_CONCERNS: dict[str, Callable[[Any], bool]] = {
    "hose ID for the same dash": lambda of: of.hose_of(6, 8, 12),
    "hose ID for -4": lambda of: of.hose_of(4),
    "hose ID for -3": lambda of: of.hose_of(3),
    "what the dash number means on hose": lambda of: bool(of.sized),
    "37/45 shared threads": lambda of: of.end_of("37 flare") and of.end_of("45 flare"),
    "AN thread list": lambda of: of.end_of("37 flare", "-3", "-4"),
    "MIL-H-8794 -6 working pressure": lambda of: of.made_to("MIL-H-8794", 6) or of.made_to("SAE 100R5", 6),
    "MIL-H-8794 -12 working pressure": lambda of: of.made_to("MIL-H-8794", 12) or of.made_to("SAE 100R5", 12),
    "MIL-H-8794 temperature": lambda of: of.made_to("MIL-H-8794"),
    "MIL-H-8788 -16 burst": lambda of: of.made_to("MIL-H-8788", 16),
    "torque, 3/8 aluminium flare nut": lambda of: of.flared(6, "aluminium"),
    "torque, -6 steel 37 deg": lambda of: of.flared(6, *_STEEL) or of.end_of("37 flare", "-6") and any(word in metal for metal in of.metals for word in _STEEL),
    "torque, -8 O-ring boss in steel": lambda of: of.end_of("O-ring boss", "-8"),
    "power-steering return hose": lambda of: of.made_to("SAE J189"),
    "100R1 pressure range": lambda of: of.made_to("SAE 100R1"),
    "suction velocity": lambda of: of.line_beside_pump(before=True),
    "pressure-line velocity": lambda of: of.line_beside_pump(before=False),
    "brake hose burst": lambda of: of.family == "brake fluid" and bool(of.hoses),
    "length change of hose": lambda of: bool(of.hoses),
    "minimum ID after forming": lambda of: any(line.dash == 3 for line in of.tubes),
    "master cylinder port thread": lambda of: of.family == "brake fluid" and of.end_of("inverted flare"),
}
