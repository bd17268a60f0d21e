"""`Shown`: what a bill and a cut list have in common: text, HTML, and a file of their rows, in either system of units."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from ..circuit import CircuitError
from ..results.html import safely

if TYPE_CHECKING:
    from ..results.vehicle_answer import Tables

SYSTEMS = ("us", "metric")


def system_of(units: str) -> str:
    """A system of units, or a refusal."""
    if units not in SYSTEMS:
        raise CircuitError(f"'units' is {units!r}", "write 'us' or 'metric'", key="units", value=units)
    return units


class Shown:
    """Shown as tables. Those that are, say `units` and give `_tables(system)` and `_write(path, system)`."""

    units: str

    if TYPE_CHECKING:
        def _tables(self, system: str) -> Tables: ...
        def _write(self, path: Path, system: str) -> None: ...

    def text(self, units: str | None = None, width: int | None = None) -> str:
        """Aligned text in "us" or "metric" units, no wider than `width` characters; the screen's unless given."""
        return self.tables(units).text(width)

    def __str__(self) -> str:
        return self.text()

    __repr__ = __str__

    def tables(self, units: str | None = None) -> Tables:
        """The same as tables, for a terminal or a notebook."""
        return self._tables(system_of(units or self.units))

    def html(self, units: str | None = None) -> str:
        """HTML for a notebook: inline style only, nothing fetched."""
        return self.tables(units).html()

    def _repr_html_(self) -> str:
        return safely(self.html, self)

    def to_csv(self, path: Path, units: str | None = None) -> None:
        """Writes a row for each thing, with units in the first line; what is not known stays empty."""
        self._write(path, system_of(units or self.units))
