"""Lines as they are cut: what was added to the length of a way and taken off it, bends in order, where supports go."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from ..units import Quantity

if TYPE_CHECKING:
    from ..catalog.ends import End
    from ..catalog.supports import Rule


class Step(NamedTuple):
    """Something added to a length, or taken off it where it is below zero."""

    words: str  # "slack: 6.5 % of a hose that is run straight"
    length: Quantity
    source: str = ""  # "" where it is the builder's own figure


class Bend(NamedTuple):
    """One bend of a tube, in order from its inlet."""

    straight: Quantity | None  # before it; None where nobody says where the bends lie
    begins: Quantity | None  # from the end as cut, along the tube
    angle: Quantity
    turn: Quantity | None  # of its plane from that of the bend before, clockwise seen along the tube from its inlet; None for the first
    uses: Quantity | None  # of the tube
    deduction: Quantity | None  # what the corner is longer than the bend


@dataclass(frozen=True)
class Supports:
    """Clamps that hold a line to the vehicle. Its ends count as held."""

    count: int
    spacing: Quantity  # at most
    source: str


_UNHELD = Supports(0, Quantity(0.0, "length"), "")  # until somebody counts


@dataclass(frozen=True)
class HoseCut:
    """A hose to be cut."""

    name: str
    run: str
    circuit: str
    size: str  # "-8 ptfe, SAE 100R14"
    dash: int | None
    length: Quantity  # of its way: of the assembly, from seat to seat
    ends: tuple[End | None, End | None]  # `catalog.End` or None
    steps: tuple[Step, ...] = ()
    supports: Supports = _UNHELD
    straight: bool = True  # it is run straight, and gets slack
    hose_clamps: int = 0  # on barbs
    behind: tuple[Quantity | None, ...] = ()  # straight hose behind inlet and outlet end, where the way goes by points and bends; None where it does not bend
    wanted: Quantity | None = None  # straight behind an end, at least
    wanted_is_least: bool = False  # its outside diameter is not known, and its bore stands for it
    kinked: tuple[str, ...] = ()  # which ends have less: "inlet", "outlet"
    change: tuple[Quantity, ...] = ()  # of its length under pressure: the most it shortens, the most it grows
    unknown_ends: int = 0  # ends of which nobody knows what they take up
    like: tuple[Quantity, ...] = ()  # what those of other families take up: least, most
    least: Quantity | None = None  # hose that its two sockets or barbs hold: shorter than that there is no hose between its ends; None of a brake hose
    likely: Quantity | None = None  # the most that is left to cut where ends are as short as any that the tables have; None where all are known
    clocking: float | None = None  # from one angled end to the other [deg], as `angles.CLOCKING_RULE` says; None where it is not known
    pressed: bool = True  # liquid stands in it under pressure, which changes its length
    made_up: bool = False  # hose of brakes: ordered as an assembly of that length, and not cut
    instead: str = ""  # what is said of one that is made up and no brake hose

    @property
    def cut(self) -> Quantity:
        """What to cut the hose to; of one that is ordered made up its length to order."""
        return Quantity(self.length.si + sum(step.length.si for step in self.steps), "length")

    @property
    def too_short(self) -> bool:
        """True where its ends leave less hose than they hold: it cannot be cut."""
        return self.least is not None and self.cut.si < self.least.si

    @property
    def may_be_too_short(self) -> bool:
        """True where that is so with the shortest ends that the tables have, and nobody says what its own take up."""
        return not self.too_short and self.likely is not None and self.least is not None and self.likely.si < self.least.si


@dataclass(frozen=True)
class TubeCut:
    """A tube to be cut and bent."""

    name: str
    run: str
    circuit: str
    size: str
    length: Quantity  # developed, along the centreline from seat to seat
    ends: tuple[End | None, End | None]
    steps: tuple[Step, ...] = ()
    bends: tuple[Bend, ...] = ()
    last: Quantity | None = None  # straight behind the last bend
    said_radius: bool = True
    radius: Quantity | None = None  # of the bends' centreline
    corners: Quantity | None = None  # length of the legs from corner to corner, before bends are deducted
    supports: Supports = _UNHELD

    @property
    def cut(self) -> Quantity:
        """What to cut the tube to."""
        return Quantity(self.length.si + sum(step.length.si for step in self.steps), "length")

    @property
    def too_short(self) -> bool:
        """True where nothing is left to cut."""
        return self.cut.si <= 0.0

    @property
    def deduction(self) -> Quantity | None:
        """What the bends take off the legs between corners; None where the way is not given by points."""
        return None if self.corners is None else Quantity(self.corners.si - self.length.si, "length")


def supports(length: float, rule: Rule, shortest: float = 0.0) -> Supports:
    """The `Supports` of a line, both ends of which are held: so many that nothing between two is longer than the spacing.

    Parameters
    ----------
    length : of the line [m]
    rule : of the catalogue, its `high` the spacing [m]
    shortest : length from which on it needs any [m]

    >>> from collections import namedtuple
    >>> rule = namedtuple("rule", "high said")(0.6096, "a handbook")
    >>> [supports(inches * 0.0254, rule, 48 * 0.0254).count for inches in (40, 48, 49, 100)]
    [0, 1, 2, 4]
    """
    spans = ceil(length / rule.high - 1e-6)
    needed = max(spans - 1, 0) if length > shortest * (1 - 1e-3) else 0  # 48 in stand as 1219 mm in the table
    return Supports(needed, Quantity(rule.high, "length"), rule.said)
