"""`ByCase`: one thing per operating case, asked as if it were one."""

from __future__ import annotations

from typing import Any, Generic, TypeVar
from collections.abc import Iterator, Mapping

from flarenut.units import digits

from .names import NoSuchName

Value = TypeVar("Value")


class ByCase(Mapping[Any, Value], Generic[Value]):
    """The same reading in every case: a mapping from case to value that passes on what it is asked.

    ``answer.at("rail").gauge.to("psi")`` asks every case's reading for its gauge pressure and that for its psi, and
    gives the numbers by case, a dict that shows their unit. `only` is the value itself where there is one case.

    >>> from flarenut.units import Quantity
    >>> rail = ByCase({"idle": Quantity(3e5, "pressure_gauge"), "full": Quantity(2.9e5, "pressure_gauge")})
    >>> rail.to("bar")
    {'idle': 3.00 bar, 'full': 2.90 bar}
    >>> rail.to("bar")["full"]
    2.9
    >>> rail["full"].si
    290000.0
    """

    __slots__ = ("_values",)

    def __init__(self, values: Mapping[str, Value] | Mapping[float, Value]) -> None:  # by seconds, of a drive
        self._values: dict[Any, Value] = dict(values)

    def __getitem__(self, case: str) -> Value:
        if case not in self._values:
            raise NoSuchName("case", case, self._values)
        return self._values[case]

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)

    @property
    def only(self) -> Value:
        """The one value there is; an error where there are several cases."""
        if len(self._values) != 1:
            raise ValueError(f"there are {len(self._values)} cases: ask for one, e.g. ['{next(iter(self._values), 'idle')}']")
        return next(iter(self._values.values()))

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):
            raise AttributeError(name)
        asked = {case: getattr(value, name) for case, value in self._values.items()}
        if asked and all(callable(one) for one in asked.values()):
            unit = _unit_asked if name == "to" else _no_unit
            return lambda *args, **kwargs: gathered({case: one(*args, **kwargs) for case, one in asked.items()}, unit(*args, **kwargs))
        return gathered(asked)

    def __dir__(self) -> list[str]:
        passed_on = {name for value in self._values.values() for name in dir(value) if not name.startswith("_")}
        return sorted({*super().__dir__(), *passed_on})

    def __repr__(self) -> str:
        width = max((len(str(case)) for case in self._values), default=0)
        texts = {case: str(value) for case, value in self._values.items()}
        if any("\n" in text for text in texts.values()):
            return "\n".join(f"{case}\n  " + text.replace("\n", "\n  ") for case, text in texts.items())
        return "\n".join(f"{case:<{width}}  {text}" for case, text in texts.items()) or "no case"


class Numbers(dict[str, float]):
    """Plain numbers by case, in the unit they were asked for: a dict that says that unit when it is shown.

    >>> Numbers({"idle": 39.967, "full power": float("nan")}, "psi")
    {'idle': 40.0 psi, 'full power': no value}
    """

    def __init__(self, values: Mapping[str, float], unit: str = "") -> None:
        super().__init__(values)
        self.unit = unit

    def __repr__(self) -> str:
        return "{" + ", ".join(f"{case!r}: {self._shown(value)}" for case, value in self.items()) + "}"

    def _shown(self, value: float) -> str:
        return f"{digits(value)} {self.unit}".rstrip() if value == value else "no value"

    def __reduce__(self) -> tuple[type[Numbers], tuple[dict[str, float], str]]:
        return type(self), (dict(self), self.unit)


def gathered(values: Mapping[str, Any], unit: str = "") -> dict[str, Any] | ByCase[Any]:
    """A dict of numbers, texts and lists, which says the `unit` of its numbers; what can be asked further stays a `ByCase`."""
    if unit and all(isinstance(value, (int, float)) for value in values.values()):
        return Numbers(values, unit)
    plain = (int, float, str, bool, list, tuple, dict, type(None))
    return dict(values) if all(isinstance(value, plain) for value in values.values()) else ByCase(values)


def _unit_asked(unit: str) -> str:
    return unit


def _no_unit(*args: object, **kwargs: object) -> str:
    return ""
