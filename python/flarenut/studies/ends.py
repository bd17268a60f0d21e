"""Readings of places, ends and parts as sums over the engine's raw columns, for many rows at a time.

The same sums as `flarenut.results.readings` makes for one answer, for whole columns.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import pi
from typing import TYPE_CHECKING, Any, Callable

import numpy

from ..checks import Limits
from ..checks.suction import least_margin_at
from ..results.boiling import degrees_to_boiling
from ..results.named import HEAT_WORDS, is_total

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from .. import _core
    from ..results.case import CaseResult
    from ..results.engine import EngineEnd

_PLAIN_REGIMES = ("passive", "laminar", "transitional", "turbulent")
REGIME = "regime"  # kind of a column that holds places in a list of words
MARGIN = "margin_to_boiling"  # reading of the whole circuit, part of every answer
CLOSURE = "energy_closure"  # likewise, where it is asked for

DEGREES = ".suction_degrees_to_boiling"  # end of a name, beside which stands what says whether they are a bound


def bounds_in_numbers(words: Sequence[str], values: NDArray[numpy.float64]) -> NDArray[numpy.float64]:
    """1 where a value is a least one ("over"), -1 where a most ("under"), 0 where it is the very value; NaN where there is none."""
    found = numpy.array([{"over": 1.0, "under": -1.0}.get(word, 0.0) for word in words])
    return numpy.where(numpy.isnan(values), numpy.nan, found)


@dataclass
class Column:
    """One output: its kind, and how it is made from the raw columns of a batch."""

    kind: str  # one of `units.KINDS`, "" for a plain number, or REGIME
    make: Callable[..., Any]  # function of the raw values (rows, raw columns)
    total: bool = False  # see `flarenut.results.named.is_total`


class Reader:
    """Collects the raw columns that a batch has to give, each once.

    case : `CaseResult` of the circuit, for names and for what meets where
    varying : numbers of the plan that differ between rows
    limits : `checks.Limits`; the usual ones unless given
    """

    def __init__(self, case: CaseResult, plan: _core.Plan, varying: Sequence[str], limits: Limits | None = None) -> None:
        self.case, self.plan, self.varying, self.limits = case, plan, set(varying), limits or Limits()
        self.raw: dict[tuple[str, int, int], int] = {}  # (what, index, port) -> place among the raw columns
        self.part_at = {part: number for number, part in enumerate(case.part_names)}

    @cached_property
    def bores(self) -> list[str]:
        """Numbers of the plan that are bores."""
        return [name for name in self.plan.names if name.endswith("bore")]

    def ask(self, what: str, index: int = 0, port: int = 0) -> Callable[..., Any]:
        """Function of the raw values that gives one raw column."""
        place = self.raw.setdefault((what, int(index), int(port)), len(self.raw))
        return lambda raw: raw[:, place]

    def of_end(self, what: str, part: str, port: int) -> Callable[..., Any]:
        return self.ask(what, self.part_at[part], port if port >= 0 else len(self.case.ends(part)) - 1)

    # ---- ends and parts ----

    def end(self, part: str, port: int, word: str) -> Column:
        """Column of one end of a part."""
        if word in ("gauge", "absolute", "static"):
            found = self._pressure(self.of_end("static", part, port), word)
            return replace(found, total=is_total(word, self.case.ends(part)[port].bore))
        if word == "total":
            return Column("pressure_absolute", self.of_end("end_total", part, port))
        if word in ("mass_flow", "volume_flow"):
            return self._flow(part, port, word)
        if word == "temperature":
            return Column("temperature", self.of_end("end_temperature", part, port))
        kind = {"velocity": "velocity", "vapour_margin": "pressure_difference"}.get(word, "")
        if word in ("velocity", "reynolds") and self.case.ends(part)[port].bore == 0.0:
            return Column(kind, lambda raw: numpy.full(len(raw), numpy.nan))  # of a bore that nobody knows
        return Column(kind, self.of_end(word, part, port))

    def row(self, parts: Sequence[str], word: str) -> Column:
        """Column of a part, or of parts in series from the first's inlet to the last's outlet."""
        first, last = parts[0], parts[-1]
        if word in ("drop", "rise"):
            inlet, outlet = self.of_end("end_total", first, 0), self.of_end("end_total", last, -1)
            sign = 1.0 if word == "drop" else -1.0
            return Column("pressure_difference", lambda raw: sign * (inlet(raw) - outlet(raw)))
        if word in ("flow", "volume_flow", "mass_flow"):
            return self._flow(first, 0, word)
        if word == "regime":
            return self._regime(parts)
        if word in HEAT_WORDS:
            return self._heat(parts, word)
        if len(parts) == 1 and self.case.hole_of(first):
            return self._in_hole(first, word)
        ports = range(len(self.case.ends(first))) if len(parts) == 1 else ()
        ends = [self.end(first, port, word).make for port in ports] or [self.end(first, 0, word).make, self.end(last, -1, word).make]
        return Column("velocity" if word == "velocity" else "", lambda raw: numpy.fmax.reduce([end(raw) for end in ends]))

    def _in_hole(self, part: str, word: str) -> Column:
        """Velocity or Reynolds number in an orifice."""
        name, mass = f"{part}.bore", self.of_end("end_flow", part, 0)
        where = self.plan.index(name)
        number = float(self.plan.get(where))
        bore = self.ask("number", where) if name in self.varying else lambda raw: number
        if word == "velocity":
            density = self.ask("density", self.part_at[part])
            return Column("velocity", lambda raw: numpy.abs(mass(raw)) / (density(raw) * 0.25 * pi * bore(raw) ** 2))
        viscosity = self.ask("viscosity", self.part_at[part])
        return Column("", lambda raw: numpy.abs(mass(raw)) / (viscosity(raw) * 0.25 * pi * bore(raw)))

    def _heat(self, parts: Sequence[str], word: str) -> Column:
        """What is given off, a pump's power, or the temperature of what passes the ends."""
        if word in ("heat", "power"):
            each, sign = [self.ask(word, self.part_at[part]) for part in parts], -1.0 if word == "heat" else 1.0
            return Column("power", lambda raw: sign * sum(one(raw) for one in each))
        inlet, outlet = (self.of_end("end_temperature", part, port) for part, port in ((parts[0], 0), (parts[-1], -1)))
        if word == "temperature_drop":
            return Column("temperature_difference", lambda raw: inlet(raw) - outlet(raw))
        return Column("temperature", inlet if word == "temperature_in" else outlet)

    def suction(self, pump: str, word: str) -> Column:
        """Column of the way to a pump."""
        part = self.part_at[pump]
        if word == "margin":
            return Column("pressure_difference", self.ask("suction_margin", part))
        if word in ("degrees_to_boiling", "degrees_bound"):
            return self._degrees_to_boiling(pump, word == "degrees_bound")
        if word == "npsh_available":
            return Column("length", self.ask("npsh", part))
        gauge = self.ask("suction_gauge", part)
        return Column("pressure_gauge", gauge) if word == "inlet" else Column("pressure_difference", lambda raw: -gauge(raw))

    def _degrees_to_boiling(self, pump: str, bound: bool) -> Column:
        """Column of `SuctionReading.degrees_to_boiling`, or of which of them are a bound."""
        layout = self.case.layout
        liquid = layout.liquids[layout.liquid_of.get(pump, 0)]
        margin, kelvin = self.ask("suction_margin", self.part_at[pump]), self._warmth_of_margin(pump)

        def make(raw: NDArray[numpy.float64]) -> NDArray[numpy.float64]:
            found = [degrees_to_boiling(liquid, float(left), float(warm)) for left, warm in zip(margin(raw), kelvin(raw))]
            degrees = numpy.array([left for left, _ in found])
            return bounds_in_numbers([word for _, word in found], degrees) if bound else degrees

        return Column("" if bound else "temperature_difference", make)

    def _warmth_of_margin(self, pump: str) -> Callable[..., Any]:
        """Function of the raw values: the temperature where the suction margin is least, at the end that has this very margin."""
        ends = [(pump, 0), *(self._on_the_way(pump) if self.case.finds_temperatures else ())]
        warmth = [self.of_end("end_temperature", part, port) for part, port in ends]
        if len(ends) == 1:
            return warmth[0]
        least, margins = self.ask("suction_margin", self.part_at[pump]), [self.of_end("vapour_margin", part, port) for part, port in ends]

        def make(raw: NDArray[numpy.float64]) -> NDArray[numpy.float64]:
            off = numpy.abs(numpy.stack([margin(raw) for margin in margins]) - least(raw))
            chosen = numpy.where(numpy.isnan(off), numpy.inf, off).argmin(axis=0)
            found: NDArray[numpy.float64] = numpy.take_along_axis(numpy.stack([one(raw) for one in warmth]), chosen[None], axis=0)[0]
            return found

        return make

    def _on_the_way(self, pump: str) -> list[tuple[str, int]]:
        """(part, port) of whatever may lie between a pump and the tanks it draws from, whichever way it flows."""
        waiting, places, found = [self.case.ends(pump)[0].junction], set[int](), dict[tuple[str, int], None]()
        while waiting:
            here = waiting.pop()
            if here in places or self.case.is_held(here):
                continue
            places.add(here)
            for part, _ in self.case.meeting(here):
                ends = self.case.ends(part) if part != pump else ()
                found |= dict.fromkeys((part, port) for port in range(len(ends)))
                waiting += [end.junction for end in ends]
        return list(found)

    def suction_limit(self, pump: str) -> Column:
        """Column of what checks ask of the suction margin of a pump, by the temperature of its liquid."""
        layout = self.case.layout
        kelvin = self.ask("mean_temperature", self.part_at[pump]) if self.case.finds_temperatures else self._number("liquid.temperature")
        liquid, margin = layout.liquids[layout.liquid_of.get(pump, 0)], self.ask("suction_margin", self.part_at[pump])

        def make(raw: NDArray[numpy.float64]) -> NDArray[numpy.float64]:
            warmth, places = numpy.unique(kelvin(raw), return_inverse=True)
            asked = numpy.array([least_margin_at(liquid, layout.family, float(one), self.limits) for one in warmth])[places.ravel()]
            return numpy.where(numpy.isnan(margin(raw)), numpy.nan, asked)

        return Column("pressure_difference", make)

    def _number(self, name: str) -> Callable[..., Any]:
        """Function of the raw values that gives a number of the plan."""
        index = self.plan.index(name)
        if name in self.varying:
            return self.ask("number", index)
        value = float(self.plan.get(index))
        return lambda raw: numpy.full(len(raw), value)

    def _flow(self, part: str, port: int, word: str) -> Column:
        mass = self.of_end("end_flow", part, port)
        if word == "mass_flow":
            return Column("mass_flow", mass)
        density = self.ask("density", self.part_at[part])
        return Column("volume_flow", lambda raw: mass(raw) / density(raw))

    def _regime(self, parts: Sequence[str]) -> Column:
        from .. import _core

        plain = [code for code, name in enumerate(_core.regime_names()) if name in _PLAIN_REGIMES]
        states = [self.ask("regime", self.part_at[part]) for part in parts]

        def speaking(raw: NDArray[numpy.float64]) -> NDArray[numpy.float64]:  # that of the first that switches
            found = numpy.array(states[0](raw))
            for state in states[1:]:
                found = numpy.where(numpy.isin(found, plain) & ~numpy.isin(state(raw), plain), state(raw), found)
            return found

        return Column(REGIME, speaking)

    # ---- the whole circuit ----

    def margin(self) -> Column:
        """Column of the least static pressure over vapour pressure anywhere but at places of given pressure; below nothing it boils."""
        return Column("pressure_difference", self.ask("least_margin"))

    def closure(self) -> Column:
        """Column of the worst imbalance of heat at a junction, of what is moved; nothing where temperatures are given."""
        return Column("", self.ask("energy_closure"))

    # ---- places ----

    def place(self, junction: int, word: str) -> Column:
        """Column of a place, as a gauge there shows it; see `CaseResult.at`."""
        total = self.ask("total", junction)
        if word == "total":
            return Column("pressure_absolute", total)
        if word == "temperature":
            return Column("temperature", self.ask("temperature", junction))
        static, velocity = self._tapping(junction, total)
        if word == "velocity":
            return Column("velocity", velocity)
        return self._pressure(static, word)

    def _pressure(self, absolute: Callable[..., Any], word: str) -> Column:
        if word != "gauge":
            return Column("pressure_absolute", absolute)
        ambient = self.ask("ambient")
        return Column("pressure_gauge", lambda raw: absolute(raw) - ambient(raw))

    def _tapping(self, junction: int, total: Callable[..., Any]) -> tuple[Callable[..., Any], Callable[..., Any]]:
        """Static pressure and velocity in the bore of the tapping, as functions of the raw values."""
        case = self.case
        meeting = [] if case.is_held(junction) else case.meeting(junction)
        bore = case.layout.bores.get(case.junction_names[junction])
        if bore and meeting:
            return self._in_given_bore(meeting, bore, total)
        bored = [(part, port) for part, end in meeting if end.bore > 0.0 for port in [self._port(part, junction, end)]]
        if not bored:
            return total, lambda raw: numpy.where(numpy.isnan(total(raw)), numpy.nan, 0.0)
        bores = [self._bore(part, port) for part, port in bored]
        ends = [(self.of_end("static", part, port), self.of_end("velocity", part, port)) for part, port in bored]
        fixed = [one for one in bores if isinstance(one, float)]
        if len(fixed) == len(bores):
            return ends[fixed.index(max(fixed))]

        def widest(which: int) -> Callable[..., Any]:
            def choose(raw: NDArray[numpy.float64]) -> NDArray[numpy.float64]:
                rows = numpy.stack([numpy.broadcast_to(one if isinstance(one, float) else one(raw), len(raw)) for one in bores])
                found: NDArray[numpy.float64] = numpy.take_along_axis(numpy.stack([end[which](raw) for end in ends]), rows.argmax(axis=0)[None], axis=0)[0]
                return found
            return choose

        return widest(0), widest(1)

    def _port(self, part: str, junction: int, end: _core.End | EngineEnd) -> int:
        return next(port for port, one in enumerate(self.case.ends(part)) if one is end)

    def _in_given_bore(self, meeting: Sequence[tuple[str, _core.End]] | list[tuple[str, EngineEnd]], bore: float,
                       total: Callable[..., Any]) -> tuple[Callable[..., Any], Callable[..., Any]]:
        flows = [self.of_end("end_flow", part, self._port(part, end.junction, end)) for part, end in meeting]
        density = self.ask("density", self.part_at[meeting[0][0]])
        area = 0.25 * pi * bore * bore

        def velocity(raw: NDArray[numpy.float64]) -> NDArray[numpy.float64]:
            found: NDArray[numpy.float64] = numpy.abs(sum(numpy.maximum(-flow(raw), 0.0) for flow in flows)) / (density(raw) * area)
            return found

        return lambda raw: total(raw) - 0.5 * density(raw) * velocity(raw) ** 2, velocity

    def _bore(self, part: str, port: int) -> float | Callable[..., Any]:
        """Bore at a port: a float [m], or a function of the raw values where it varies from row to row."""
        names = [name for name in self.bores if name.startswith(f"{part}.") and "." not in name[len(part) + 1:]]
        names = [name for name in names if name.endswith("line_bore")] or names  # beside it, `bore` is that of a hole
        name = names[min(port, len(names) - 1)]  # one for all ports, or one for each
        index = self.plan.index(name)
        return self.ask("number", index) if name in self.varying else float(self.plan.get(index))
