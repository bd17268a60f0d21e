"""`Quantity`: one number that knows its kind, as results hand it out."""

from __future__ import annotations

from typing import Any, Self

from .display import in_unit, show
from .errors import UnitError
from .kinds import KINDS, kind_named

_POINTS = {"pressure_gauge": 1.0, "pressure_absolute": -1.0}  # what the ambient is multiplied by to reach the other


class Quantity:
    """An SI number with its kind; a pressure may also carry the ambient that ties gauge to absolute.

    It never turns into a bare number by itself: `float(q)` is refused; ask for `q.si` or `q.to("psi")`.
    Values are equal when kind and SI value are. A value that was not solved is NaN and stays NaN in every unit.

    Parameters
    ----------
    si : float, SI
    kind : one of `KINDS`
    ambient : absolute pressure around the gauge [Pa], for pressures only
    units : "us" or "metric", in which it is shown unless asked for in others: those of the circuit that it was read of; "us" unless given

    >>> rail = Quantity(299922.0, "pressure_gauge", ambient=101325.0)
    >>> round(rail.to("psi"), 2), round(rail.to("psia"), 2), str(rail.absolute)
    (43.5, 58.2, '58.2 psia')
    """

    __slots__ = ("_si", "_kind", "_ambient", "_units")

    def __init__(self, si: float, kind: str, ambient: float | None = None, units: str | None = None) -> None:
        kind_named(kind)
        if isinstance(si, bool) or not isinstance(si, (int, float)):
            raise UnitError("si", si, f"'si' is {si!r}, not a number", "give the SI value as a float, or use Quantity.of")
        if ambient is not None and kind not in _POINTS:
            raise UnitError("ambient", ambient, f"{KINDS[kind].words} has no ambient", "leave the ambient out")
        if ambient is not None and not 0 <= ambient < float("inf"):
            raise UnitError("ambient", ambient, f"'ambient' is {ambient}",
                            "give the absolute pressure around, e.g. 101325.0 Pa")
        self._si = float(si)
        self._kind = kind
        self._ambient = None if ambient is None else float(ambient)
        self._units = units

    @classmethod
    def of(cls, value: object, kind: str, *, ambient: float | None = None, name: str = "value") -> Self:
        """A quantity read from text or from another library's quantity, e.g. ``Quantity.of("43.5 psi", "pressure_gauge")``."""
        from .reading import parse  # reading knows Quantity, so it is fetched late

        return cls(parse(value, kind, name=name), kind, ambient)

    @property
    def si(self) -> float:
        """The value in SI."""
        return self._si

    @property
    def kind(self) -> str:
        """Name of the kind."""
        return self._kind

    @property
    def ambient(self) -> float | None:
        """Absolute pressure around the gauge [Pa], or None."""
        return self._ambient

    @property
    def units(self) -> str | None:
        """System that it is shown in unless asked for in another; None where nothing was said, and then "us"."""
        return self._units

    def to(self, unit: str) -> float:
        """The number in a unit. A suffix (psia, psig) converts between gauge and absolute when the ambient is known.

        Raises `UnitError` for a unit of another kind, and where the ambient is wanted and unknown.
        """
        try:
            return in_unit(self._si, unit, self._kind)
        except UnitError:
            other = self._other_kind()
            if other is None or not _fits(unit, other):
                raise
        return in_unit(self.as_kind(other), unit, other)

    def _other_kind(self) -> str | None:
        if self._kind == "pressure_gauge":
            return "pressure_absolute"
        return "pressure_gauge" if self._kind == "pressure_absolute" else None

    def as_kind(self, kind: str, *, name: str = "value") -> float:
        """The SI value as another kind: itself, or gauge and absolute through the ambient. Anything else is an error."""
        if kind == self._kind:
            return self._si
        if kind in _POINTS and self._kind in _POINTS:
            if self._ambient is None:
                raise UnitError(name, self,
                                f"{self} is {KINDS[self._kind].words}; {KINDS[kind].words} needs the ambient pressure",
                                "make the Quantity with ambient=, e.g. 101325.0 Pa at sea level")
            return self._si + _POINTS[self._kind] * self._ambient
        mine, wanted = KINDS[self._kind], KINDS[kind]
        if mine.dimension == wanted.dimension and mine.reference == wanted.reference and mine.dimension != "ratio":
            return self._si / mine.scale * wanted.scale  # the per-turn kinds beside the per-radian ones
        raise UnitError(name, self, f"{self} is {mine.words}; '{name}' wants {wanted.words}",
                        f"write it e.g. '{wanted.example}'")

    @property
    def gauge(self) -> Quantity:
        """This pressure as gauge; needs the ambient unless it is gauge already."""
        return Quantity(self.as_kind("pressure_gauge"), "pressure_gauge", self._ambient, self._units)

    @property
    def absolute(self) -> Quantity:
        """This pressure as absolute; needs the ambient unless it is absolute already."""
        return Quantity(self.as_kind("pressure_absolute"), "pressure_absolute", self._ambient, self._units)

    def show(self, system: str | None = None, unit: str | None = None) -> str:
        """Text with sensible digits in the preferred unit of "us" or "metric", or in `unit`. Without either in those of its circuit."""
        return show(self._si, self._kind, system or self._units or "us", unit=unit)

    def __str__(self) -> str:
        return self.show()

    def __repr__(self) -> str:
        ambient = "" if self._ambient is None else f", ambient={self._ambient!r}"
        return f"Quantity({self._si!r}, {self._kind!r}{ambient})"

    def _repr_pretty_(self, printer: Any, cycle: bool) -> None:
        """What IPython and notebooks print; `repr` stays what Python reads back."""
        printer.text(str(self))

    def _repr_html_(self) -> str:
        """What notebooks show."""
        from html import escape  # only notebooks pay for this import

        return escape(str(self))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Quantity):
            return NotImplemented
        return self._kind == other._kind and self._si == other._si

    def __hash__(self) -> int:
        return hash((self._kind, self._si))

    def __float__(self) -> float:
        raise TypeError(f"{self} would lose its unit: ask for .si or .to({KINDS[self._kind].example.split(' ', 1)[-1]!r})")

    def __reduce__(self) -> tuple[type["Quantity"], tuple[float, str, float | None, str | None]]:
        return Quantity, (self._si, self._kind, self._ambient, self._units)


def _fits(unit: str, kind: str) -> bool:
    try:
        in_unit(0.0, unit, kind)
    except UnitError:
        return False
    return True
