"""The duty of injectors at which they pass the fuel that an engine's power needs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Protocol

from .errors import CircuitError

if TYPE_CHECKING:
    from .. import _core
    from .compile import Compiled

_DEMAND_WITHIN = 1e-9  # relative, of a demand met by duty
_MOST_DEMAND_TURNS = 40


def banks_of(compiled: Compiled) -> list[str]:
    """Names of the injector banks of a circuit that is to meet a demand."""
    banks = [name for name, (piece, number) in compiled.elements.items()
             if compiled.pieces[piece].elements[number].kind == "injector bank"]
    if not banks:
        raise CircuitError("the circuit has no injectors to meet the demand of 'power'", "leave it out, or give a junction a demand")
    return banks


class Turned(Protocol):
    """What `meet_demand` turns: a plan, or what goes along with one."""

    def index(self, name: str, /) -> int: ...
    def set(self, index: int, value: float, /) -> None: ...
    def solve(self, cold: bool = ...) -> _core.Solution: ...


def meet_demand(plan: Turned, banks: Sequence[str], demand: float) -> _core.Solution:
    """Finds the duty at which the injectors pass the fuel that the power needs.

    Flow is nearly proportional to duty, so dividing converges in a few turns. A duty of 1 that is not enough is left at 1, and
    the answer then shows less fuel than the power needs.
    """
    duty = 0.5
    for _ in range(_MOST_DEMAND_TURNS):
        for name in banks:
            plan.set(plan.index(f"{name}.duty"), duty)
        solution = plan.solve(cold=True)
        if not solution.converged:
            return solution
        flow = sum(solution.flow_of(name) for name in banks)
        if flow <= 0.0 or abs(flow - demand) <= _DEMAND_WITHIN * demand or (duty == 1.0 and flow < demand):
            return solution
        duty = min(1.0, duty * demand / flow)
    return solution
