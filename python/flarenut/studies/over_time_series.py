"""`Series`: one reading in the course of a drive."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy

from ..circuit import CircuitError
from ..units import Quantity, preferred_unit, show, to
from .over_time_drive import PLACE
from .over_time_words import clock

if TYPE_CHECKING:
    from numpy.typing import NDArray


class Series:
    """One reading in the course of time.

    Attributes
    ----------
    name : what was asked for
    times : [s]
    values : as they were read: `Quantity`s, or words such as "shut"
    si : numbers in SI; NaN where there is none
    bounds : "over" or "under" where a number is no more than a bound, as degrees to boiling where the data end first, else ""
    units : "us" or "metric", for what is shown
    total : whether it is a pressure that is total, as the end of a part that it is read at has no bore of its own

    >>> from flarenut.units import Quantity
    >>> sump = Series("sump.temperature", [0.0, 60.0], [Quantity(280.0, "temperature"), Quantity(300.0, "temperature")])
    >>> sump.to("C").tolist(), sump.crosses(290.0)
    ([6.850000000000023, 26.850000000000023], 30.0)
    """

    def __init__(self, name: str, times: NDArray[numpy.float64], values: Sequence[str | Quantity], units: str = "us",
                 bounds: Sequence[str] = (), total: bool = False) -> None:
        self.bounds, self.total = list(bounds) or [""] * len(values), total
        self.name, self.times, self.values, self.units = name, numpy.asarray(times, float), list(values), units
        quantities = [one for one in self.values if isinstance(one, Quantity)]
        self.kind = quantities[0].kind if quantities else ""
        self.si = numpy.array([one.si if isinstance(one, Quantity) else one if isinstance(one, (int, float)) else float("nan") for one in self.values])

    def to(self, unit: str) -> NDArray[numpy.float64]:
        """Numbers in a unit, an array."""
        if not self.kind:
            raise CircuitError(f"'{self.name}' has no unit", "it is words or plain numbers: ask for values", place=PLACE, key="unit", value=unit)
        return to(self.si, unit, self.kind)

    def crosses(self, level: float) -> float | None:
        """When it first comes to a level [SI], from above or below [s]; None where it never does. Straight between moments."""
        off = self.si - level
        for k, here in enumerate(off):
            if here == 0.0:
                return float(self.times[k])
            if k and off[k - 1] * here < 0.0:
                return float(self.times[k - 1] + (self.times[k] - self.times[k - 1]) * off[k - 1] / (off[k - 1] - here))
        return None

    def __repr__(self) -> str:
        if not self.kind or not numpy.isfinite(self.si).any():
            return f"<{self.name}: {self.values[0]} to {self.values[-1]}>" if self.values else f"<{self.name}: nothing>"
        unit = preferred_unit(self.kind, self.units, float(numpy.nanmax(numpy.abs(self.si))))
        begins, ends = (" ".join(filter(None, [self.bounds[at], show(float(self.si[at]), self.kind, unit=unit).removesuffix(f" {unit}")])) for at in (0, -1))
        return f"<{self.name}: {begins} to {ends} {unit} in {clock(self.times[-1])}>"
