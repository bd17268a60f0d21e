"""One circuit's share of a solution that several circuits have in common, under the circuit's own names."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from .engine import EngineSolution

_OF_ALL = ("ambient.pressure", "air.temperature", "acceleration.x", "acceleration.y", "acceleration.z")


class _Seen:
    """Something of the engine with a few of its attributes said anew."""

    def __init__(self, whole: object, **anew: object) -> None:
        self.__dict__.update(anew, _whole=whole)

    def __getattr__(self, name: str) -> object:
        return getattr(self.__dict__["_whole"], name)


class _SeenEnd(_Seen):
    bore: float
    flow: float
    junction: int
    reynolds: float
    static: float
    temperature: float
    total: float
    vapour_margin: float
    velocity: float


class _SeenSuction(_Seen):
    at: str
    inlet_gauge: float
    margin: float
    npsh_available: float


class _SeenRemark(_Seen):
    code: str
    limit: float
    subject: str
    value: float


class SharedSolution:
    """What a plan's solve returned, as one of its circuits sees it: its parts and junctions only.

    How the solve went, its certificate, is that of all circuits together.

    Parameters
    ----------
    whole : the solution of all circuits
    prefix : before this circuit's names there
    junctions : range of its places among all junctions
    numbers : numbers of the circuit's own plan that the whole does not have, name -> SI value
    """

    # Those of all circuits together, which the whole is asked for.
    ambient: float
    converged: bool
    energy_closure: float
    evaluations: int
    finds_temperatures: bool
    flow: NDArray[np.float64]
    heat_moved: float
    iterations: int
    mass_closure: float
    message: str
    residual: float
    rung: str
    status: str

    def __init__(self, whole: EngineSolution, prefix: str, junctions: range, numbers: Mapping[str, float] | None = None) -> None:
        self.whole, self.prefix = whole, prefix
        self._junctions, self._numbers = junctions, dict(numbers or {})

    def __getattr__(self, name: str) -> object:  # status, message, rung, ambient ...: those of all
        if name == "whole" or name.startswith("__"):
            raise AttributeError(name)
        return getattr(self.whole, name)

    @property
    def junction_names(self) -> list[str]:
        return [name.removeprefix(self.prefix) for name in self.whole.junction_names[self._junctions.start:self._junctions.stop]]

    @property
    def part_names(self) -> list[str]:
        return [name.removeprefix(self.prefix) for name in self.whole.part_names if name.startswith(self.prefix)]

    @property
    def pressure(self) -> NDArray[np.float64]:
        return self.whole.pressure[self._junctions.start:self._junctions.stop]

    @property
    def remarks(self) -> list[_SeenRemark]:
        return [_SeenRemark(one, subject=one.subject.removeprefix(self.prefix)) for one in self.whole.remarks if one.subject.startswith(self.prefix)]

    @property
    def worst(self) -> str:
        return self.whole.worst.removeprefix(self.prefix)

    def number(self, name: str) -> float:
        if name in self._numbers:
            return self._numbers[name]
        return self.whole.number(name if name in _OF_ALL else self.prefix + name)

    def ends(self, part: str) -> list[_SeenEnd]:
        first = self._junctions.start
        return [_SeenEnd(end, junction=end.junction - first) for end in self.whole.ends(self.prefix + part)]

    def suction(self, pump: str) -> _SeenSuction:
        found = self.whole.suction(self.prefix + pump)
        return _SeenSuction(found, at=found.at.removeprefix(self.prefix))

    def temperature_of(self, junction: str) -> float:
        return self.whole.temperature_of(self.prefix + junction)

    def pressure_of(self, junction: str) -> float:
        return self.whole.pressure_of(self.prefix + junction)

    def heat_of(self, part: str) -> float:
        return self.whole.heat_of(self.prefix + part)

    def power_of(self, part: str) -> float:
        return self.whole.power_of(self.prefix + part)

    def kind_of(self, part: str) -> str:
        return self.whole.kind_of(self.prefix + part)

    def regime_of(self, part: str) -> str:
        return self.whole.regime_of(self.prefix + part)

    def flow_of(self, part: str, flow: int = 0) -> float:
        return self.whole.flow_of(self.prefix + part, flow)

    def liquid_in(self, part: str) -> Mapping[str, float]:
        return self.whole.liquid_in(self.prefix + part)
