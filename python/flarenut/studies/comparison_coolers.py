"""The coolers of one solved case taken together, whether they stand in series, side by side or each in its own way."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece
    from ..results.case import CaseResult
    from ..results.engine import EngineEnd

_STILL = 1e-12  # kg/s


def coolers_of(circuit: Circuit) -> list[str]:
    """Engine names of the parts that cool, or that are the core of something that does. The walls of lines are left out."""
    compiled = circuit.compiled()
    return [whole for whole, (name, number) in compiled.elements.items() if _cools(compiled.pieces[name], number)]


def _cools(piece: Piece, number: int) -> bool:
    heat = piece.elements[number].heat
    return heat.kind != "line wall" if heat is not None else piece.word in ("cooler", "core") and number == 0


class CoolersOfCase:
    """What they come to in a case that is solved.

    Attributes
    ----------
    drop : total pressure lost along the chain of coolers that loses the most [Pa]: of two in series the sum, side by side the larger
    flow : into those that no other cooler feeds [m3/s]: of two in series that of the first, side by side the sum
    mass_flow : the same [kg/s]
    heat : given off by all [W]
    inlet, outlet : temperature of what enters the first, and of what leaves the last, mixed by flow [K]
    inlet_static, outlet_static : mean static pressure where the first are entered, and where the last are left [Pa abs]
    highest : highest static pressure in any of them [Pa abs]
    strained : (static pressure, the pressure it is made for), gauge [Pa], of the one that is nearest to it or furthest beyond; None where no rating is known
    """

    def __init__(self, case: CaseResult, parts: Sequence[str], rating: float | None = None) -> None:
        self.case, self.parts = case, parts
        fed = {part: self._fed_by(part) for part in parts}
        first = [part for part in parts if not any(part in others for others in fed.values())]
        last = [part for part in parts if not fed[part]]
        self.drop = max((self._chain(part, fed) for part in parts), default=0.0)
        self.mass_flow = sum(self._ends(part)[0].flow for part in first)
        self.flow = sum(self._ends(part)[0].flow / case.liquid_in(part)["density"] for part in first)
        self.heat = -sum(float(case.solution.heat_of(part)) for part in parts)
        self.inlet, self.outlet = self._mixed(first, 0), self._mixed(last, -1)
        self.inlet_static, self.outlet_static = self._static(first, 0), self._static(last, -1)
        self.highest = max((end.static for part in parts for end in case.ends(part)), default=-inf)

        self.strained = self._strained(rating)

    def _strained(self, rating: float | None) -> tuple[float, float] | None:
        """By each cooler's own `rated_pressure`, and by `rating` of those that have none."""
        own = getattr(self.case.layout.notes.get(self.case.name), "rated_pressures", {})
        found = [(max(end.static for end in self.case.ends(part)) - self.case.ambient.si, own.get(part, rating)) for part in self.parts]
        return max(((gauge, made_for) for gauge, made_for in found if made_for), key=lambda one: one[0] / one[1], default=None)

    def _ends(self, part: str) -> Sequence[EngineEnd]:
        """Its readings from where the liquid enters to where it leaves."""
        ends = self.case.ends(part)
        return ends if ends[0].flow >= 0.0 else ends[::-1]

    def _fed_by(self, part: str) -> set[str]:
        """Other coolers on the way from this one to a tank."""
        if abs(self.case.ends(part)[0].flow) < _STILL:
            return set()
        return (set(self.case.flows.reached(self._ends(part)[-1].junction, up=False)) & set(self.parts)) - {part}

    def _chain(self, part: str, fed: Mapping[str, set[str]]) -> float:
        first, last = self._ends(part)[0], self._ends(part)[-1]
        return first.total - last.total + max((self._chain(other, fed) for other in fed[part]), default=0.0)

    def _static(self, parts: Sequence[str], end: int) -> float:
        return sum(self._ends(part)[end].static for part in parts) / len(parts) if parts else float("nan")

    def _mixed(self, parts: Sequence[str], end: int) -> float:
        flows = [(self._ends(part)[0].flow, self._ends(part)[end].temperature) for part in parts]
        whole = sum(flow for flow, _ in flows)
        return sum(flow * kelvin for flow, kelvin in flows) / whole if whole > _STILL else float("nan")
