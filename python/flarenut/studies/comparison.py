"""`compare`: whole circuits side by side in the same cases: which wins where, by how much, and what it costs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..checks import review
from ..circuit import Circuit, CircuitError
from ..circuit.amounts import above_zero
from ..circuit.errors import located, meant
from ..units import in_one, parse, settled
from .blueprint import whole_or_part
from .comparison_cases import shared_cases, to_solve
from .comparison_columns import Seen, columns_of
from .comparison_coolers import coolers_of
from .comparison_sites import sites_of
from .comparison_verdicts import COUNTS, Verdict

if TYPE_CHECKING:
    from pandas import DataFrame
    from xarray import Dataset
    from ..results.answer import Answer
    from ..units.quantity import Quantity
    from .comparison_columns import Sites
    from .comparison_loop import Loop
    from ..checks.limits import Limits

SYSTEMS = ("us", "metric")
WARM = ("80 C", "110 C")  # oil as warm as engines like it: water boils off above, it ages fast beyond (common practice, no source)
SAME_TEMPERATURE, SAME_PRESSURE = "2 K", "10 kPa"  # nearer than this no two variants can be told apart (judgement, no source)


@dataclass(frozen=True)
class Bounds:
    """What variants are judged by, in SI."""

    warm: tuple[float, float]  # [K]
    same_temperature: float  # [K]
    same_pressure: float  # [Pa]
    same_share: float  # of the highest pressure, where that is more than same_pressure: `COUNTS`, or nothing where somebody said his own
    rating: float | None  # pressure that coolers without a rated_pressure of their own are made for, gauge [Pa]


class Comparison:
    """Variants side by side. Prints as text, shows as HTML in notebooks.

    Attributes
    ----------
    variants, cases : names
    answers : variant -> its `Answer`; those that could not be solved at all are left out
    sites : where they are read: `gallery`, `sump`, `gauges`
    columns : what they are compared by
    bounds : how warm oil should be, and below what difference variants count as alike
    """

    def __init__(self, circuits: Mapping[str, Circuit], cases: Sequence[str], answers: Mapping[str, Answer], refusals: Mapping[str, str],
                 sites: Sites, bounds: Bounds, units: str, asked: Sequence[str] = ()) -> None:
        self.variants, self.cases, self.answers, self._refusals = list(circuits), list(cases), answers, refusals
        self.sites, self.bounds, self.units = sites, bounds, units
        self.asked = {f"{place} pressure" for place in asked}  # columns of gauges that somebody named
        self.invented = any(circuit.invented for circuit in circuits.values())
        self._coolers = {name: coolers_of(circuits[name]) for name in answers}
        self._seen = {(name, case): Seen(answer[case], self._coolers[name], sites, bounds.rating)
                      for name, answer in answers.items() for case in self.cases if answer[case].converged}
        heat = any(seen.case.finds_temperatures for seen in self._seen.values())
        rated = any(seen.coolers.strained for seen in self._seen.values())
        self.columns = columns_of(sites, any(self._coolers.values()), rated, heat)
        self._values = {key: {column.key: column.read(seen) for column in self.columns} for key, seen in self._seen.items()}

    def value(self, variant: str, case: str, column: str) -> str | Quantity | None:
        """What stands in a cell: a `Quantity`, words, or None where there is no such thing or no answer.

        Parameters
        ----------
        variant, case : names
        column : key of one of `columns`, "gallery_temperature", "cooler_drop"

        Raises
        ------
        CircuitError : there is no such variant, case or column
        """
        self._known("variant", variant, self.variants)
        self._known("case", case, self.cases)
        self._known("column", column, [one.key for one in self.columns])
        return self._values.get((variant, case), {}).get(column)

    def seen(self, variant: str, case: str) -> Seen | None:
        """The solved case with its coolers; None where there is no answer."""
        return self._seen.get((variant, case))

    def loop(self, variant: str, case: str) -> Loop | None:
        """The `Loop` from sump to sump, as pictures draw it; None where there is no answer."""
        from .comparison_loop import Loop

        seen = self.seen(variant, case)
        return Loop(seen) if seen else None

    @property
    def stations(self) -> tuple[str, ...]:
        """Names of the places along the loop."""
        from .comparison_loop import STATIONS

        return STATIONS

    def why_not(self, variant: str, case: str, units: str | None = None) -> str:
        """Why a variant has no answer in a case; "" where it has one."""
        units = units or self.units
        return in_one(self._refusals[variant], units) if variant in self._refusals else self.answers[variant][case].cause_in(units)

    def verdict(self, case: str) -> Verdict:
        """The `Verdict` of a case: `by_temperature`, `by_pressure`, who is alike, whom a STOP rules out."""
        self._known("case", case, self.cases)
        return Verdict(self, case)

    def best(self, case: str, by: str = "temperature") -> str | None:
        """Name of the variant that wins a case by "temperature" or "pressure" at the gallery; None where nothing can be said."""
        self._known("'by'", by, ("temperature", "pressure"))
        verdict = self.verdict(case)
        return (verdict.by_temperature if by == "temperature" else verdict.by_pressure).best

    def reading(self, case: str | None = None, units: str | None = None) -> list[str]:
        """What it comes to, in sentences: of a case, or of all cases together where none is named."""
        from .comparison_reading import reading_of, summary_of

        system = _system(units or self.units)
        return summary_of(self, system) if case is None else reading_of(self, self.verdict(case), system)

    def text(self, width: int | None = None, units: str | None = None, columns: str | None = None) -> str:
        """Aligned text no wider than `width` characters; the screen's unless given. `units` is "us" or "metric".

        It shows what matters most of each case, and gauges that were asked for; with ``columns="all"`` every one of `columns`.
        """
        from .comparison_view import as_text

        if columns not in (None, "all"):
            raise CircuitError(
                f"'columns' is {columns!r}", 'write columns="all", or leave it off', place="comparison", key="columns", value=columns
            )
        return as_text(self, width, _system(units or self.units), columns == "all")

    def __str__(self) -> str:
        return self.text()

    __repr__ = __str__

    def html(self, units: str | None = None) -> str:
        """HTML for a notebook: inline style only, nothing fetched."""
        from .comparison_view import as_html

        return as_html(self, _system(units or self.units))

    def _repr_html_(self) -> str:
        from ..results.html import safely

        return safely(self.html, self)

    def to_csv(self, path: str, units: str | None = None) -> None:
        """Writes one row per case and variant, with units in the first line and why there is no answer in the last column."""
        from .comparison_data import write_csv

        write_csv(self, path, _system(units or self.units))

    def to_dataframe(self, units: str | None = None) -> DataFrame:
        """The same as a pandas DataFrame, by case and variant. Needs pandas."""
        from .comparison_data import as_dataframe

        return as_dataframe(self, _system(units or self.units))

    def to_dataset(self) -> Dataset:
        """The same as an xarray Dataset over `variant` and `case`, in SI. Needs xarray."""
        from .comparison_data import as_dataset

        return as_dataset(self)

    @staticmethod
    def _known(what: str, name: str, names: Sequence[str]) -> None:
        if name not in names:
            raise CircuitError(
                f"there is no {what} '{name}'" if what != "'by'" else f"'by' is {name!r}",
                meant(str(name), names),
                place="comparison",
                key=what.strip("'"),
                value=name,
            )


def compare(variants: Mapping[str, Circuit], cases: str | Sequence[str] | None = None, *, at: str | None = None, sump: str | None = None,
            gauges: Sequence[str] | None = None, rating: str | None = None, warm: tuple[str, str] = WARM,
            same_temperature: str = SAME_TEMPERATURE, same_pressure: str = SAME_PRESSURE, limits: Limits | None = None,
            units: str | None = None) -> Comparison:
    """Solves whole circuits in the same cases and lays them side by side: oil temperature, pressure, what coolers cost and give.

    Parameters
    ----------
    variants : name -> `Circuit`, two or more; they stay as they are. `Circuit.copy` and `Circuit.take_out` make one from another
    cases : names of those to compare; all of them unless given. Every variant has to say the same of them
    at : place whose oil is judged; the one called "gallery", or from which bearings draw, unless given
    sump : tank whose temperature is shown; the first whose temperature is found unless given
    gauges : other places to show pressure of, ["filter in"]; those with a gauge's bore unless given. A variant may lack some
    rating : highest pressure that coolers are made for, gauge, "10 bar", of those that have no `rated_pressure` of their own
    warm : from how warm to how warm oil should be at `at`: colder, the warmest variant wins; hotter, the coolest
        (80 to 110 C unless given: common practice, no source)
    same_temperature, same_pressure : variants nearer than this count as alike (2 K, and 10 kPa or 2 % of the pressure, whichever is more, unless
        given: judgement, no source)
    limits : `checks.Limits` of your own
    units : "us" or "metric", for what is shown; those of the circuits unless given

    Returns
    -------
    Comparison : `text()`, `html()`, `reading(case)`, `best(case)`, `value(variant, case, column)`, `to_csv(path)`, `to_dataframe()`

    Raises
    ------
    CircuitError, UnitError : fewer than two variants, one circuit under two names, cases that differ, no such place

    Examples
    --------
    ``print(fn.compare({"after the filter": car, "before it": other}, at="gallery", units="metric"))``; docs/guide/placement.md shows more.
    """
    units = _system(settled(units, *(variants.values() if isinstance(variants, Mapping) else ())))
    circuits = _checked(variants)
    names = shared_cases(circuits, [cases] if isinstance(cases, str) else cases)
    bounds = Bounds(_window(warm), parse(same_temperature, "temperature_difference", name="same_temperature"),
                    parse(same_pressure, "pressure_difference", name="same_pressure"), COUNTS if same_pressure == SAME_PRESSURE else 0.0,
                    None if rating is None else above_zero(rating, "pressure_gauge", "rating"))
    answers, refusals = {}, {}
    for name, own in to_solve(circuits).items():
        try:
            answer = own.solve(names)
            answers[name] = answer.with_findings(review(answer, limits)) if limits is not None else answer
        except ValueError as error:
            refusals[name] = str(located(error, getattr(error, "place", "")))
    sites = sites_of({name: circuits[name] for name in answers or circuits}, at, sump, gauges)
    return Comparison(circuits, names, answers, refusals, sites, bounds, units, [gauges] if isinstance(gauges, str) else gauges or ())


def _system(units: str) -> str:
    if units not in SYSTEMS:
        raise CircuitError(f"'units' is {units!r}", "write 'us' or 'metric'", place="compare", key="units", value=units)
    return units


def _checked(variants: Mapping[str, Circuit]) -> dict[str, Circuit]:
    """The variants as a dict, or a refusal."""
    if not isinstance(variants, Mapping) or len(variants) < 2:
        raise CircuitError(
            "there is nothing to compare",
            'give two circuits or more by name, {"as it is": car, "other hose": other}; names have to differ',
            place="compare",
            key="variants",
            value=variants,
        )
    seen: dict[int, str] = {}
    for name, circuit in variants.items():
        if not isinstance(name, str) or not name.strip():
            raise CircuitError(f"a variant is called {name!r}", "give it a name in words", place="compare", key="variants", value=name)
        if not isinstance(circuit, Circuit):
            raise CircuitError(
                f"'{name}' is {circuit!r}, not a circuit", whole_or_part(circuit), place="compare", key="variants", value=circuit
            )
        if id(circuit) in seen:
            raise CircuitError(
                f"'{seen[id(circuit)]}' and '{name}' are one and the same circuit",
                "make one of them with copy(), and change that",
                place="compare",
                key="variants",
                value=name,
            )
        seen[id(circuit)] = name
    return dict(variants)


def _window(warm: tuple[str, str]) -> tuple[float, float]:
    if not isinstance(warm, (list, tuple)) or len(warm) != 2:
        raise CircuitError(
            f"'warm' is {warm!r}", 'write from how warm to how warm, ("80 C", "110 C")', place="compare", key="warm", value=warm
        )
    low, high = (parse(one, "temperature", name="warm") for one in warm)
    if high < low:
        raise CircuitError(f"'warm' is {warm!r}, from hot to cold", "write the colder first", place="compare", key="warm", value=warm)
    return low, high
