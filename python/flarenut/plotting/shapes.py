"""What pictures ask of studies, which this room does not know: the shapes of a comparison and of a drive."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from ..units import Quantity


class LoopShape(Protocol):
    """One variant in one case: station -> (temperature [K], static gauge pressure [Pa])."""

    @property
    def main(self) -> Mapping[str, tuple[float, float]]: ...
    @property
    def aside(self) -> Mapping[str, tuple[float, float]]: ...
    @property
    def round_it(self) -> float | None: ...


class SitesShape(Protocol):
    """Names of the places that variants are read at."""

    @property
    def gallery(self) -> str: ...
    @property
    def sump(self) -> str: ...


class BoundsShape(Protocol):
    """What variants are judged by."""

    @property
    def warm(self) -> tuple[float, float]: ...


class ComparisonShape(Protocol):
    """Variants side by side."""

    @property
    def bounds(self) -> BoundsShape: ...
    @property
    def cases(self) -> Sequence[str]: ...
    @property
    def invented(self) -> bool: ...
    @property
    def sites(self) -> SitesShape: ...
    @property
    def stations(self) -> Sequence[str]: ...
    @property
    def variants(self) -> Sequence[str]: ...
    def loop(self, variant: str, case: str, /) -> LoopShape | None: ...


class SeriesShape(Protocol):
    """Numbers over time."""

    @property
    def si(self) -> NDArray[np.float64]: ...


class LegShape(Protocol):
    """One case of a drive: from when to when [s]."""

    @property
    def case(self) -> str: ...
    @property
    def begins(self) -> float: ...
    @property
    def ends(self) -> float: ...


class NamedShape(Protocol):
    """Names of the places that were given one."""

    @property
    def named(self) -> Sequence[str]: ...


class DriveShape(Protocol):
    """Cases one after the other."""

    @property
    def circuit(self) -> object: ...
    @property
    def complete(self) -> bool: ...
    @property
    def coolers(self) -> Sequence[str]: ...
    @property
    def invented(self) -> bool: ...
    @property
    def layout(self) -> NamedShape: ...
    @property
    def legs(self) -> Sequence[LegShape]: ...
    @property
    def tanks(self) -> Sequence[str]: ...
    @property
    def thermostats(self) -> Sequence[str]: ...
    @property
    def times(self) -> NDArray[np.float64]: ...
    def why_not_in(self, units: str | None, /) -> str: ...
    def __len__(self) -> int: ...
    def opens(self, thermostat: str, /) -> Quantity | None: ...
    def series(self, name: str, /) -> SeriesShape: ...
    def temperature(self, place: str, /) -> SeriesShape: ...
