"""`LineNetwork`: lines by the thousand or the million, in columns instead of words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from .. import _core, units
from ..fluids import Fluid
from ..fluids import fluid as fluid_named
from .errors import CircuitError, meant
from .piece import checked_name

if TYPE_CHECKING:
    from numpy.typing import NDArray


class LineNetwork:
    """A large network of lines: a plant, a building, a test of methods. Nothing but lines, free junctions and held pressures.

    What a `Circuit` says part by part, in words, is given here in columns: a numpy array with one number for each row, or one value for
    all. Bare numbers are SI; a text ("10 mm") or a quantity with units, single or array, is read by its unit. Row i of the rows "leg"
    is called "leg[i]", counted from 0, in messages and by `plan`.

    Pressures are total. Laws, ranges and tests of the answer are those of a line in a `Circuit`. A network of a thousand lines or more
    stays in columns, some fifty bytes for each line, and is solved with symmetric factors (docs/guide/large_networks.md).

    Parameters
    ----------
    fluid : name of a liquid ("water", "E85", "SAE 10W-40"), or what `flarenut.fluids` makes
    fluid_temperature : of the liquid everywhere; default 20 °C

    Raises
    ------
    InputError : from every method, for a bad column, naming row, value and limit; nothing of that call is then kept

    Examples
    --------
    >>> import numpy as np
    >>> from flarenut import LineNetwork
    >>> net = LineNetwork("water")
    >>> corners = net.junctions("corner", 1000, demand=np.full(1000, 1e-4))     # kg/s each
    >>> main = net.held("main", "3 bar")
    >>> legs = net.lines("leg", [main, *corners[:-1]], corners, bore="20 mm", length=np.linspace(1.0, 2.0, 1000))
    >>> answer = net.solve()
    >>> answer.converged
    True
    >>> round(float(answer.flow["leg"][0]), 6)       # all demands pass the first line [kg/s]
    0.1
    >>> bool((np.diff(answer.pressure["corner"]) < 0).all())
    True
    """

    def __init__(self, fluid: str, *, fluid_temperature: str = "20 C") -> None:
        self.fluid = fluid if isinstance(fluid, Fluid) else fluid_named(fluid)
        self._temperature = units.parse(fluid_temperature, "temperature", name="fluid_temperature")
        self._network = _core.Network()
        self._network.liquid(self.fluid.liquid)
        self._junctions: dict[str, slice] = {}
        self._lines: dict[str, slice] = {}
        self._plan: _core.Plan | None = None

    def junctions(self, name: str, count: int, *, demand: float | Sequence[float] | NDArray[np.float64] = 0.0,
                  position: object = None) -> NDArray[np.int64]:
        """Adds free junctions and returns the array of their indices.

        Parameters
        ----------
        name : of the rows
        count : how many
        demand : mass flow taken out of each [kg/s], -100 to 100; below 0 is fed in
        position : [m] forward, left, up, within 1000 m: one row of three, or one for each; the origin unless given
        """
        at = np.zeros(0) if position is None else np.asarray(position, float)
        rows = self._network.junctions(checked_name(name), count, _column(demand, "mass_flow", "demand"), at)
        return self._keep(self._junctions, name, rows)

    def held(self, name: str, pressure: str = "0 psi", *, position: tuple[float, float, float] = (0.0, 0.0, 0.0)) -> int:
        """Adds a place of given gauge pressure, [Pa] or text, and returns its index. `position` [m] as for junctions."""
        gauge = float(_column(pressure, "pressure_gauge", "pressure"))
        index = self._network.fixed(checked_name(name), gauge, [float(metres) for metres in position])
        return int(self._keep(self._junctions, name, range(index, index + 1))[0])

    def lines(self, name: str, starts: Sequence[int] | NDArray[np.int64], ends: Sequence[float] | NDArray[np.int64], *, bore: object = None,
              length: object = None, roughness: float = 1.5e-6, extra_loss: float = 0.0, **unknown: str) -> NDArray[np.int64]:
        """Adds lines and returns the array of their indices. Flow counts positive from start to end.

        Parameters
        ----------
        name : of the rows
        starts, ends : indices of the junctions at the ends of each line
        bore : inside diameter [m], 1e-4 to 0.5
        length : developed [m], 0 to 1000
        roughness : equivalent sand roughness [m], 0 to 5e-3 and at most 5 % of the bore; default drawn tube
        extra_loss : sum of loss coefficients lumped into the line, 0 to 1e6
        """
        for key in unknown:
            raise CircuitError(f"there is no column '{key}'", meant(key, _COLUMNS), place=str(name), key=key, value=unknown[key])
        for key, given in (("bore", bore), ("length", length)):
            if given is None:
                raise CircuitError(f"'{key}' is missing", f'write {key}="10 mm", or a column of it', place=str(name), key=key)
        begin, finish = (_indices(name, key, column) for key, column in (("starts", starts), ("ends", ends)))
        columns = {key: _column(value, "length", key) for key, value in {"bore": bore, "length": length, "roughness": roughness}.items()}
        rows = self._network.lines(checked_name(name), begin, finish, **columns, extra_loss=extra_loss)
        return self._keep(self._lines, name, rows)

    def plan(self) -> _core.Plan:
        """The engine's plan, compiled once and kept until something is added: numbers by name, as "leg[17].bore" [SI]."""
        if self._plan is None:
            plan = _core.Plan(self._network)
            plan.set(plan.index("liquid.temperature"), self._temperature)
            self._plan = plan
        return self._plan

    def solve(self) -> LineAnswer:
        """Solves from a cold start; returns a `LineAnswer`. Raises InputError where no solve could succeed."""
        if not self._lines:
            raise CircuitError("the network has no lines", "add some with `lines`")
        solution = self.plan().solve(cold=True)
        return LineAnswer(solution, self.plan().method, dict(self._junctions), dict(self._lines))

    def _keep(self, rows_of: dict[str, slice], name: str, rows: range) -> NDArray[np.int64]:
        rows_of[name] = slice(rows.start, rows.stop)
        self._plan = None
        return np.arange(rows.start, rows.stop)

    def __repr__(self) -> str:
        return f"LineNetwork({self.fluid.name!r}: {self._network.part_count} lines, {self._network.junction_count} junctions)"


_COLUMNS = ("bore", "length", "roughness", "extra_loss")


@dataclass(frozen=True)
class LineAnswer:
    """A solved network, in columns by the names of its rows. Not converged is NaN everywhere, with the cause in `message`."""

    solution: _core.Solution  # the engine's, with its certificate
    method: str  # which system solved it, and how
    junctions: dict[str, slice]
    lines: dict[str, slice]

    @property
    def converged(self) -> bool:
        return self.solution.converged

    @property
    def message(self) -> str:
        """What went wrong, in words; empty when it converged."""
        return self.solution.message

    @property
    def certificate(self) -> dict[str, Any]:
        """Method and iterations, and how well every law (scaled; at most 1e-9) and every balance (of the largest flow; at most 1e-12) holds."""
        return {"method": self.method} | {name: getattr(self.solution, name) for name in ("rung", "iterations", "residual", "mass_closure")}

    @property
    def pressure(self) -> dict[str, NDArray[np.float64]]:
        """Total pressure above ambient at each junction [Pa], by the name of its rows or place. A gauge tapped into a line reads less, by
        the dynamic head there."""
        above = self.solution.pressure - self.solution.ambient
        return {name: above[rows] for name, rows in self.junctions.items()}

    @property
    def flow(self) -> dict[str, NDArray[np.float64]]:
        """Mass flow of each line from start to end [kg/s], by the name of its rows."""
        flow = self.solution.flow
        return {name: flow[rows] for name, rows in self.lines.items()}


def _indices(name: str, key: str, column: Sequence[float] | NDArray[np.int64]) -> Sequence[float] | NDArray[np.int64]:
    """A column of indices; the engine takes whole numbers alone, and this says which row is none."""
    found = np.asarray(column)
    if found.dtype.kind in "iu" or found.ndim != 1 or not found.size:
        return column
    bad = next((row for row, one in enumerate(found.tolist()) if not isinstance(one, (int, float)) or not float(one).is_integer()), None)
    row = 0 if bad is None else bad
    raise CircuitError(f"'{key}' in row {row} is {found[row].item()!r}", "indices of junctions are whole numbers, as `junctions` and `held` give them",
                       place=f"{name}[{row}]", key=key, value=found[row].item())


def _column(value: object, kind: str, key: str) -> float | NDArray[np.float64]:
    """SI numbers of a column: plain numbers as they stand, words and quantities by their units."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(value)
    if isinstance(value, np.ndarray) and type(value) is np.ndarray or isinstance(value, (list, tuple, range)):
        return np.asarray(value, float)
    found: float | NDArray[np.float64] = units.parse(value, kind, name=key)
    return found
