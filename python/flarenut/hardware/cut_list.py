"""`cut_list`: what to cut every hose and tube of a circuit to, with what was added and taken off, and where tube is bent."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any
from pathlib import Path

from ..circuit import Circuit, CircuitError
from ..circuit.errors import meant
from ..circuit.vehicle import Vehicle
from ..results import ranked
from ..units import parse, settled
from .angles import clockings
from .cut_hose import hose_cut
from .cut_short import too_short
from .cut_tube import tube_cut
from .lines import lines_of
from .prices import prices_of
from .shown import Shown, system_of

if TYPE_CHECKING:
    from ..results.vehicle_answer import Tables
    from .cut_parts import HoseCut, TubeCut
    from .prices import Prices
    from ..results.finding import Finding


class CutList(Shown):
    """Hoses and tubes as they are cut. Prints as text, shows as HTML; ``cuts["feed hose"].cut.to("in")`` is one number.

    Attributes
    ----------
    name : of the circuit or vehicle
    hoses : `HoseCut`s: `name`, `run`, `circuit`, `length` of the way, `steps`, `cut`, `supports` ...
    tubes : `TubeCut`s: the same, and `bends`
    """

    def __init__(self, name: str, hoses: Sequence[HoseCut], tubes: Sequence[TubeCut], *,
                 invented: bool = False, several: bool = False, units: str = "us") -> None:
        self.name, self.hoses, self.tubes, self.invented, self.several, self.units = name, tuple(hoses), tuple(tubes), invented, several, units

    @property
    def findings(self) -> list[Finding]:
        """`Finding`s of what cannot be cut, or hardly: worst first."""
        return ranked([found for row in self.rows if (found := too_short(self, row)) is not None])

    @property
    def rows(self) -> tuple[HoseCut | TubeCut, ...]:
        """Every hose and tube."""
        return (*self.hoses, *self.tubes)

    def __getitem__(self, name: str) -> HoseCut | TubeCut:
        found = [row for row in self.rows if name in (row.name, f"{row.circuit}: {row.name}")]
        if len(found) != 1:
            reason = f"there is no hose or tube '{name}'" if not found else f"there are several lines '{name}'"
            raise CircuitError(reason, meant(name, [f"{row.circuit}: {row.name}" if self.several else row.name for row in self.rows]), place="cut list")
        return found[0]

    def __iter__(self) -> Iterator[HoseCut | TubeCut]:
        return iter(self.rows)

    def __len__(self) -> int:
        return len(self.rows)

    def _tables(self, system: str) -> Tables:
        from .cut_list_view import tables_of

        return tables_of(self, system)

    def _write(self, path: Path, system: str) -> None:
        from .cut_list_view import write_csv

        write_csv(self, path, system)


def cut_list(circuit: Circuit | Vehicle, prices: Prices | None = None, *, slack: object = None, units: str | None = None) -> CutList:
    """What to cut every hose and tube to: way, slack, what ends take up, flares, bends in order, clamps that hold it.

    A hose that is run straight gets slack, since it shortens under pressure by up to 4 % and grows by up to 2 %; one with bends takes that
    up in its bends. What a hose end takes up is up to its maker: say it in the price file, ``cut_off``; where nobody says it nothing
    is taken off, and the list says so. The length of a tube by its `length` is developed already; by its `way` bends are deducted.

    Parameters
    ----------
    circuit : `Circuit` or `Vehicle`; it is not solved
    prices : name of a price file or `Prices`, whose `cut_off` says what hose ends take up
    slack : of hose that is run straight, "6 %"; the middle of 5 to 8 % unless given
    units : "us" or "metric", for what is shown; those of the circuit unless given

    Returns
    -------
    CutList : `text(units)`, `html(units)`, `to_csv(path)`, `hoses`, `tubes`, and lines by name

    Raises
    ------
    CircuitError, UnitError, FileError : two parts of one name; slack out of 0 to 20 %; a price file that cannot be used

    >>> import flarenut as fn
    >>> car = fn.Circuit("invented", fluid="gasoline class A")
    >>> car.run("feed", "cell", "rail", [fn.hose("-8", "100 in", spec="ptfe", name="feed hose")])
    >>> cuts = cut_list(car, slack="5 %")
    >>> round(cuts["feed hose"].cut.to("in"), 1), cuts["feed hose"].supports.count
    (105.0, 4)
    """
    share, units = _share(slack), settled(units, circuit)
    own = prices_of(prices)
    hoses, tubes = [], []
    for name, one in circuits_of(circuit).items():
        clocked = clockings(one)
        for line in lines_of(one):
            if (name, line.name) in exchanged(circuit):
                continue
            if line.made.word == "hose":
                hoses.append(replace(hose_cut(line, name, own, share), clocking=clocked.get(line.name)))
            else:
                tubes.append(tube_cut(line, name))
    return CutList(circuit.name, hoses, tubes, invented=circuit.invented, several=isinstance(circuit, Vehicle), units=system_of(units))


def circuits_of(circuit: Circuit | Vehicle) -> dict[str, Circuit]:
    """Name -> `Circuit` of one circuit, or of those of a vehicle."""
    if isinstance(circuit, Vehicle):
        return dict(circuit.circuits)
    if not isinstance(circuit, Circuit):
        raise CircuitError(f"{circuit!r} is no circuit and no vehicle", "make it with fn.Circuit, fn.Vehicle or fn.load")
    return {circuit.name: circuit}


def exchanged(circuit: Circuit | Vehicle) -> set[tuple[str, str]]:
    """(circuit, part) of all that are sides of an exchanger: parts of a bought thing, which nobody cuts."""
    return {end for one in circuit.exchangers.values() for end in one.ends} if isinstance(circuit, Vehicle) else set()


def _share(slack: object) -> Any | None:
    if slack is None:
        return None
    share = parse(slack, "fraction", name="slack")
    if not 0.0 <= share <= 0.2:
        raise CircuitError(f"'slack' is {slack!r}, outside 0 to 20 %", "5 to 8 % is usual: '6 %'", key="slack", value=slack)
    return share
