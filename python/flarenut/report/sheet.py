"""`build_sheet`: everything that a builder needs at the bench, in one page that prints."""

from __future__ import annotations

from datetime import date as calendar
from pathlib import Path
from typing import TYPE_CHECKING

from ..circuit import Circuit, CircuitError, Vehicle
from ..hardware import Fitted
from ..results.whole_file import write_whole
from ..units import settled
from ..units.display import SYSTEMS
from .circuits import parts_of
from .page import page

if TYPE_CHECKING:
    from ..hardware.prices import Prices
    from ..results.answer import Answer
    from ..results.vehicle_answer import VehicleAnswer

_ENDINGS = (".html", ".htm")


class Sheet:
    """A build sheet.

    Attributes
    ----------
    name : of the circuit or vehicle
    html : the whole page as text; it fetches nothing and needs no script
    """

    def __init__(self, name: str, html: str) -> None:
        self.name, self.html = name, html

    def save(self, path: str | Path) -> Path:
        """Writes the page to a file whose name ends in .html, and returns its `Path`."""
        target = Path(path)
        if target.suffix.lower() not in _ENDINGS:
            raise CircuitError(f"'path' is {str(path)!r}: a build sheet is written as HTML", "end the name in .html", key="path", value=path)
        write_whole(target, self.html)
        return target

    def __repr__(self) -> str:
        return f"<build sheet of {self.name!r}: {len(self.html)} letters of HTML>"


def build_sheet(plumbing: Circuit | Vehicle | Fitted, path: str | Path | None = None, *, answer: Answer | VehicleAnswer | None = None,
                units: str | None = None, prices: Prices | None = None, date: str = "") -> Sheet:
    """The build sheet of a circuit or a vehicle: one HTML page that prints, with findings, schematic, runs with ends and cut lengths, joints with
    torque, operating cases, what lines bear, the bill, the test pressure with liquid, cautions, and places to tick and sign.

    Parameters
    ----------
    plumbing : `Circuit` or `Vehicle`; or what `fitted` makes, whose proposals are then listed
    path : file to write it to, ending in .html; none is written unless given
    answer : of its solve; it is solved here unless given
    units : "us" or "metric"; those of the circuit unless given
    prices : name of a price file or `Prices`; without one there is no cost
    date : to print on it, any text; "today" asks the clock

    Returns
    -------
    Sheet : `html` (text), `save(path)`

    Raises
    ------
    CircuitError : what is given is no circuit, or an answer of another; units that there are not; a path that is no page
    FileError : a price file that cannot be used

    Examples
    --------
    >>> import flarenut as fn
    >>> wash = fn.Circuit("rinse line", fluid="water")
    >>> wash.tank("drum", level="1 m")
    >>> wash.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size", name="long hose")])
    >>> sheet = fn.build_sheet(wash, units="metric")
    >>> "long hose" in sheet.html, "<script" in sheet.html
    (True, False)
    """
    proposals = plumbing if isinstance(plumbing, Fitted) else None
    plumbing = plumbing if proposals is None else proposals.circuit
    if not isinstance(plumbing, (Circuit, Vehicle)):
        raise CircuitError(f"{plumbing!r} is no circuit and no vehicle", "make it with fn.Circuit, fn.Vehicle or fn.load", key="plumbing", value=plumbing)
    units = settled(units, plumbing)
    if units not in SYSTEMS:
        raise CircuitError(f"'units' is {units!r}", "write 'us' or 'metric'", key="units", value=units)
    answer = plumbing.solve() if answer is None else answer
    day = calendar.today().isoformat() if date == "today" else str(date)
    parts, whole = parts_of(plumbing, answer, units, prices, proposals)
    made = Sheet(plumbing.name, page(plumbing, parts, whole, units, day, proposals))
    if path is not None:
        made.save(path)
    return made
