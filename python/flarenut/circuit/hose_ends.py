"""What the ends of a hose cost: the step into a bore that is narrower than the hose's, the turn of an angled end, the step out again."""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

from .. import catalog
from .piece import Element, Piece

if TYPE_CHECKING:
    from ..catalog.ends import End

SAME_BORE = 1e-6  # [m]; bores nearer than this are one


def with_ends(line: Piece, bore: float, ends: tuple[End | None, ...]) -> Piece:
    """A hose's `Piece` with what its two ends cost; an end of unknown bore costs its turn, in a bore as wide as the hose.

    Parameters
    ----------
    line : `Piece` of the hose itself
    bore : of the hose [m]
    ends : `catalog.End` or None, at inlet and outlet
    """
    first, last = (elements_of(end, bore, suffix, at_outlet) for end, suffix, at_outlet in zip(ends, ("inlet end", "outlet end"), (False, True)))
    return Piece([*first, *line.elements, *last], length=line.length, rise=line.rise)


def elements_of(end: End | None, bore: float, suffix: str, at_outlet: bool) -> list[Element]:
    """Elements of one end of a hose, in the order that the liquid meets them."""
    if end is None:
        return []
    through = end.through or bore
    found = [] if abs(through - bore) < SAME_BORE else [_step(bore, through, suffix, at_outlet)]
    turn = [] if not end.turn else [Element("three-k fitting", turning(end.turn, through), suffix=f" {suffix} turn")]
    return [*found, *turn] if at_outlet else [*turn, *found]


def _step(bore: float, through: float, suffix: str, at_outlet: bool) -> Element:
    return Element("size step", step(bore, through) if at_outlet else step(through, bore), suffix=f" {suffix}")


def step(inlet: float, outlet: float) -> dict[str, float]:
    """Numbers of a sudden change of bore [m]."""
    return {"inlet_bore": inlet, "outlet_bore": outlet, "included_angle": pi}


def turning(angle: float, bore: float, form: str = "swept") -> dict[str, float]:
    """Numbers of a fitting that turns by an angle [deg]; hose ends are formed of tube unless said otherwise."""
    laminar, turbulent, size = catalog.elbow_constants(form, angle)
    return {"bore": bore, "laminar_constant": max(laminar, 1.0), "turbulent_constant": turbulent, "size_constant": size}
