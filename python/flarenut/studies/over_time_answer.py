"""`OverTime`: what a circuit did in the course of a drive."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy

from ..circuit import CircuitError
from ..circuit.errors import meant
from ..results import Answer
from ..results.by_case import ByCase
from ..results.html import safely
from ..results.warmth import coolers_of
from ..units import Quantity, parse, to
from .over_time_drive import PLACE, found_tanks
from .over_time_series import Series
from .over_time_words import clock
from .single_readings import bound_of, question_of, total_of

if TYPE_CHECKING:
    from xarray import Dataset
    from ..circuit.circuit import Circuit
    from ..results.case import CaseResult
    from ..results.layout import Layout
    from ..results.table import Table
    from .over_time_drive import Leg
    from .over_time_findings import TimedFinding
    from ..checks.limits import Limits
    from ..results.readings import PartReading
    from ..results.readings import Reading


class OverTime:
    """A circuit in the course of a drive. Prints as a table, shows as HTML in notebooks.

    Attributes
    ----------
    legs : which case from when to when [s]
    times : of the moments that were kept [s]; the second one of two at the change of a case stands 0.2 s after it
    moments : `CaseResult` at each of them, named by its case
    circuit : its name
    start : how warm everything was at the beginning
    complete : whether the whole drive has an answer
    lost : (the row of the drive that has none, its `CaseResult`), or None
    """

    def __init__(self, circuit: Circuit, layout: Layout, legs: Sequence[Leg],
                 kept: Sequence[tuple[float, Leg, CaseResult]], start: float, limits: Limits | None, units: str) -> None:
        self.plumbing, self.layout, self.legs, self.units, self._limits = circuit, layout, legs, units, limits
        self.circuit, self.invented, self.start = circuit.name, circuit.invented, Quantity(start, "temperature")
        self.lost = next(((leg, result) for _, leg, result in kept if not result.converged), None)
        solved = [one for one in kept if one[2].converged]
        self.times, self.moments = numpy.array([time for time, _, _ in solved]), [result for _, _, result in solved]
        self.legs_at = [leg for _, leg, _ in solved]
        self.complete = bool(solved) and not self.lost and solved[-1][0] == legs[-1].ends

    @property
    def why_not(self) -> str:
        """Why it has no answer from `times[-1]` on, in the drive's units; ""."""
        return self.why_not_in(self.units)

    def why_not_in(self, units: str | None) -> str:
        """`why_not` in "us" or "metric"; for None values in both, and conditions as they were written."""
        if self.lost:
            reached = f"past {clock(self.times[-1])}" if len(self.times) else "from the beginning"
            return f"{reached} there is no answer, in {self.lost[0].place(units)}: {self.lost[1].cause_in(units)}"
        if self.complete:
            return ""
        return f"stopped at {clock(self.times[-1])}" if len(self.times) else "stopped before anything was reached"

    @property
    def cases(self) -> list[str]:
        """Name of the case at each of `times`."""
        return [leg.case for leg in self.legs_at]

    def __len__(self) -> int:
        return len(self.moments)

    def moment(self, time: str) -> CaseResult:
        """`CaseResult` of the kept moment nearest to a time, "5 min". Raises where nothing was reached."""
        return self.moments[self.nearest(time)]

    def nearest(self, time: str) -> int:
        """Place in `times` of the moment nearest to a time; of two at the change of a case, the one before it."""
        found = parse(time, "time", name="time")
        if not self.moments:
            raise CircuitError("nothing was reached", self.why_not or "let it run", place=PLACE, key="time", value=time)
        if not 0.0 <= found <= self.times[-1] + 1e-9:
            raise CircuitError(f"'time' is {time!r}, and what was reached lies between 0 s and {clock(self.times[-1])}", "ask for a time between",
                               place=PLACE, key="time", value=time)
        return int(numpy.abs(self.times - found).argmin())

    def at(self, place: str) -> ByCase[Reading]:
        """`Reading` at a place at every moment, `ByCase` by seconds: ``drive.at("gallery").gauge.to("bar")``."""
        return ByCase({float(time): one.at(place) for time, one in zip(self.times, self.moments)})

    def part(self, name: str) -> ByCase[PartReading]:
        """`PartReading` of a part at every moment, `ByCase` by seconds."""
        return ByCase({float(time): one.part(name) for time, one in zip(self.times, self.moments)})

    def temperature(self, place: str) -> Series:
        """`Series` of the temperature at a place."""
        return self._read(f"{place}.temperature", lambda one: one.at(place).temperature)

    def series(self, name: str) -> Series:
        """`Series` of a reading, named as in tables and sweeps: "gallery", "rail.gauge", "oil cooler.heat", "pump.suction_margin".

        Raises
        ------
        KeyError : there is no such reading
        """
        first = self.moments[0]
        return self._read(name, question_of(first, name), bound_of(first, name), total_of(first, name))

    def _read(self, name: str, question: Callable[..., Any], bound: Callable[..., str] = lambda moment: "", total: bool = False) -> Series:
        return Series(name, self.times, [question(one) for one in self.moments], self.units, [bound(one) for one in self.moments], total)

    def reaches(self, place: str, temperature: str) -> Quantity | None:
        """When a place first comes to a temperature, warming or cooling: a `Quantity`, or None where it does not."""
        return _time(self.temperature(place).crosses(parse(temperature, "temperature", name="temperature")))

    @property
    def tanks(self) -> list[str]:
        """Names of the tanks whose temperature is followed."""
        return found_tanks(self.plumbing)

    @property
    def coolers(self) -> list[str]:
        """Names of the parts that cool or warm on purpose at some time."""
        return [self.layout.title(part) for part in coolers_of(self.moments)] if self.moments else []

    @property
    def thermostats(self) -> list[str]:
        """Names of the thermostats, in the order of the circuit."""
        return [self.layout.title(part) for part in self.moments[0].parts_of_kind("thermostat")] if self.moments else []

    def opens(self, thermostat: str | None = None) -> Quantity | None:
        """When a thermostat begins to open: a `Quantity`, or None where it stays shut; 0 s where it was open at the beginning.

        Parameters
        ----------
        thermostat : its name; not needed where there is only one
        """
        known = self.thermostats
        if thermostat is None and len(known) != 1:
            raise CircuitError(f"there are {len(known)} thermostats" if known else "there is no thermostat",
                               f"say which: {', '.join(known)}" if known else "it is a part of its own, fn.thermostat", place=PLACE, key="thermostat")
        if thermostat is not None and thermostat not in known:
            raise CircuitError(f"there is no thermostat '{thermostat}'", meant(str(thermostat), known), place=PLACE, key="thermostat", value=thermostat)
        return _time(self._opening(thermostat or known[0]))

    def _opening(self, title: str) -> float | None:
        part = next(one for one in self.moments[0].parts_of_kind("thermostat") if self.layout.title(one) == title)
        shut = [one.solution.regime_of(part) == "shut" for one in self.moments]
        later = next((k for k, is_shut in enumerate(shut) if not is_shut), None)
        if not later:
            return None if later is None else 0.0
        start = self.moments[later].number(f"{part}.start_temperature", float("nan"))  # none has one: its opening stands where it is seen
        before, after = self._felt(part, later - 1), self._felt(part, later)
        share = (start - before) / (after - before) if before < start <= after else 1.0
        return float(self.times[later - 1] + share * (self.times[later] - self.times[later - 1]))

    def _felt(self, part: str, number: int) -> float:
        """Temperature that a thermostat goes by at a moment [K]."""
        compiled, one = self.plumbing.compiled(), self.moments[number]
        name, element = compiled.elements[part]
        feels = compiled.pieces[name].elements[element].feels
        return float(one.solution.temperature_of(str(feels))) if feels else one.ends(part)[0].temperature

    def chosen(self, numbers: Sequence[int]) -> Answer:
        """An `Answer` whose cases are some of the moments."""
        from dataclasses import replace

        from .over_time_words import label

        picked = {label(self, number): self.moments[number] for number in numbers}
        layout = replace(self.layout, notes={name: self.layout.notes[one.name] for name, one in picked.items()},
                         fuel_asked={name: self.layout.fuel_asked[one.name] for name, one in picked.items() if one.name in self.layout.fuel_asked})
        return Answer(layout, {name: one.solution for name, one in picked.items()}, {name: one.conditions for name, one in picked.items()})

    def table(self, times: Sequence[str] | None = None, units: str | None = None, rows: Sequence[str] | None = None) -> Table:
        """`Table` of moments side by side.

        Parameters
        ----------
        times : ["0 s", "3 min", "1 h"], the kept moments nearest to them; beginning and end of every case unless given
        units : "us" or "metric"; as in `over_time` unless given
        rows : names of readings as in `Answer.table`; what matters in time unless given
        """
        from .over_time_view import table_of

        return table_of(self, times, units or self.units, rows)

    @cached_property
    def findings(self) -> list[TimedFinding]:
        """`TimedFinding`s: the worst of each rule and place, with when it is worst and from when to when it holds; worst first."""
        from .over_time_findings import findings_of

        return findings_of(self, self._limits)

    def events(self, units: str | None = None) -> list[str]:
        """What happened when, in sentences: cases, thermostats, why it ended early."""
        from .over_time_view import events_of

        return events_of(self, units or self.units)

    def text(self, width: int | None = None, units: str | None = None) -> str:
        """Events, table and findings as text no wider than `width` characters."""
        return self.table(units=units).text(width)

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        reached = clock(self.times[-1]) if self.moments else "nothing"
        return f"<'{self.circuit}' over time: {reached} of {clock(self.legs[-1].ends)}, {len(self)} moments>"

    def _repr_html_(self) -> str:
        return safely(lambda: self.table().html(), self)

    def to_dataset(self, names: str | Sequence[str] | None = None, units: str = "si") -> Dataset:
        """An xarray Dataset over `time`, with the name of the case beside; as sweeps have it, so that `in_units` and `words_of` take it.

        Parameters
        ----------
        names : of readings, as in `series`; temperatures, pressures, heat of coolers, thermostats and what pumps do unless given
        units : "si", "us" or "metric"
        """
        from .over_time_data import dataset_of

        return dataset_of(self, names, units)

    def to_dict(self, names: str | Sequence[str] | None = None) -> dict[str, Any]:
        """Everything in SI as nested dicts, for JSON; `names` as in `to_dataset`. See docs/guide/json_output.md."""
        from .over_time_json import as_dict

        return as_dict(self, names)

    def save(self, path: str, names: str | Sequence[str] | None = None) -> None:
        """Writes `to_dataset` in SI: "drive.nc" for NetCDF, "drive.csv" for a table with one row per moment. `load_sweep` has it again."""
        from .storage import save_sweep

        save_sweep(self.to_dataset(names), path)


def _time(seconds: float | None) -> Quantity | None:
    return None if seconds is None else Quantity(seconds, "time")
