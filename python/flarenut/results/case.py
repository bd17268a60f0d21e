"""`CaseResult`: the answer of one operating case, read in the builder's words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, overload

from flarenut.units import Quantity, in_one

from .finding import ranked, reviewer
from .names import NoSuchName, in_shop_words, pick
from .paths import FILTERS, HOLES, INJECTORS, PUMPS, REGULATORS, FlowMap
from .readings import EndReading, PartReading, Reading, reading_in_bore
from .shares import feed_way, run_way, way
from .suction_reading import SuctionReading
from .turned import asked_first, cure_of

if TYPE_CHECKING:
    from .engine import EngineEnd, EngineSolution
    from .finding import Finding
    from .layout import Layout

    from .shares import Way

_PLAIN_REGIMES = ("passive", "laminar", "transitional", "turbulent")


class CaseResult:
    """One solved case: a core solution with the layout of its circuit. Made by `Answer`.

    Parameters
    ----------
    name : of the case
    solution : what a plan's solve returned: read-only, SI
    layout : `Layout`
    conditions : what the builder wrote for the case, name -> text
    findings : in place of what the rules find; usually None
    """

    def __init__(self, name: str, solution: EngineSolution, layout: Layout, conditions: dict[str, str] | None = None,
                 findings: Sequence[Finding] | None = None) -> None:
        self.name, self.solution, self.layout = name, solution, layout
        self.conditions = dict(conditions or {})
        self._given_findings = findings
        self._ends: dict[str, list[EngineEnd]] = {}
        self._liquids: dict[str, Mapping[str, float]] = {}

    # What the solve was.
    @property
    def finds_temperatures(self) -> bool:
        """Whether temperatures were found, not given."""
        return bool(self.solution.finds_temperatures)

    @property
    def converged(self) -> bool:
        return bool(self.solution.converged)

    @property
    def cause(self) -> str:
        """Why there is no answer: the engine's words, and what the circuit's own words tell beside them; in the circuit's units."""
        return self.cause_in(self.layout.units)

    def cause_in(self, units: str | None) -> str:
        """`cause` in "us" or "metric"; in both for None."""
        notes = self.layout.notes.get(self.name)
        asked = asked_first(self.solution.message)
        engine = "" if getattr(notes, "says_it_all", False) else in_shop_words(asked.message if asked else self.solution.message, self.layout)
        told = "; ".join(words for words in (engine, getattr(notes, "unsolved", "")) if words)
        backwards = getattr(notes, "backwards", None)
        if backwards is not None and not backwards.sure and asked is None:
            told = f"{backwards.cause} If not: {told}"
        return "" if self.converged else in_one(told, units)

    @property
    def turn_round(self) -> tuple[str, str]:
        """(where, cure) of what is the wrong way round where the cause of a case without an answer tells of that first; "" and "" else."""
        backwards = getattr(self.layout.notes.get(self.name), "backwards", None)
        if backwards is not None:
            return backwards.where, backwards.cure
        asked = None if self.converged else asked_first(self.solution.message)
        return (self.layout.title(asked.name), cure_of(asked)) if asked else ("", "")

    @property
    def ambient(self) -> Quantity:
        return Quantity(self._ambient, "pressure_absolute", ambient=self._ambient, units=self.layout.units)

    @cached_property
    def _ambient(self) -> float:
        return float(self.solution.ambient)

    @property
    def certificate(self) -> dict[str, Any]:
        """How the answer was reached and how well it closes."""
        return {name: getattr(self.solution, name) for name in
                ("status", "message", "rung", "iterations", "evaluations", "residual", "mass_closure", "energy_closure", "worst")}

    # The engine's view, kept because asking twice costs.
    @cached_property
    def part_names(self) -> list[str]:
        return list(self.solution.part_names)

    @cached_property
    def junction_names(self) -> list[str]:
        return list(self.solution.junction_names)

    @cached_property
    def flows(self) -> FlowMap:
        return FlowMap(self)

    @cached_property
    def pumps(self) -> list[str]:
        return self.parts_of_kind(*PUMPS)

    @cached_property
    def regulators(self) -> list[str]:
        return self.parts_of_kind(*REGULATORS)

    @cached_property
    def injectors(self) -> list[str]:
        return self.parts_of_kind(INJECTORS)

    @cached_property
    def filters(self) -> list[str]:
        return self.parts_of_kind(*FILTERS)

    def parts_of_kind(self, *kinds: str) -> list[str]:
        """Engine names of all parts of these kinds."""
        return [part for part in self.part_names if self._kinds[part] in kinds]

    @cached_property
    def _kinds(self) -> dict[str, str]:
        return {part: self.solution.kind_of(part) for part in self.part_names}

    def kind_of(self, part: str) -> str:
        """The engine's kind of a part."""
        return self._kinds[part]

    def ends(self, part: str) -> list[EngineEnd]:
        """The engine's readings at the ports of a part."""
        if part not in self._ends:
            self._ends[part] = list(self.solution.ends(part))
        return self._ends[part]

    def liquid_in(self, part: str) -> Mapping[str, float]:
        """Density, viscosity, vapour pressure ... of the liquid in a part, SI."""
        if part not in self._liquids:
            self._liquids[part] = self.solution.liquid_in(part)
        return self._liquids[part]

    @overload
    def number(self, name: str) -> float | None: ...

    @overload
    def number(self, name: str, default: float) -> float: ...

    def number(self, name: str, default: float | None = None) -> float | None:
        """A number of the plan as it stood, SI; `default` where the engine has none of that name."""
        try:
            return float(self.solution.number(name))
        except (ValueError, KeyError):
            return default

    @cached_property
    def _held(self) -> set[int]:
        return {index for index, name in enumerate(self.junction_names)
                if self.number(f"{name}.demand") is None}  # only free junctions take a demand

    def is_held(self, junction: int) -> bool:
        """True for a tank or a place of fixed pressure, by its place in `junction_names`."""
        return junction in self._held

    def meeting(self, junction: int) -> list[tuple[str, EngineEnd]]:
        """(part, end) of everything that meets at a junction, by its place in `junction_names`."""
        found: list[tuple[str, EngineEnd]] = self._meeting_at.get(junction, [])
        return found

    @cached_property
    def _meeting_at(self) -> dict[int, list[tuple[str, EngineEnd]]]:
        table: dict[int, list[tuple[str, EngineEnd]]] = {}
        for part in self.part_names:
            for end in self.ends(part):
                table.setdefault(end.junction, []).append((part, end))
        return table

    # Readings.
    def at(self, place: str) -> Reading:
        """`Reading` at a junction, as a gauge there shows it.

        The static pressure belongs to the bore given for the place, else to the widest bore that meets there; tanks
        and places of fixed pressure are taken as still.
        """
        return self.reading(self._junction(place))

    def _junction(self, place: str) -> int:
        try:
            names = pick("place", place, self.junction_names, self.layout.junction_titles)
        except NoSuchName as error:
            if place in self.part_names or place in self.layout.titles.values():
                hint = f"it is a part, so ask for part('{place}').inlet or .outlet"
                raise NoSuchName("place", place, error.known, hint) from None
            raise
        if len(names) > 1:
            raise NoSuchName("single place", place, names, f"say which of {', '.join(map(repr, names))}")
        return self.junction_names.index(names[0])

    def reading(self, junction: int) -> Reading:
        """`Reading` at a junction, by its place in `junction_names`."""
        name = self.junction_names[junction]
        title, total = self.layout.junction_title(name), float(self.solution.pressure[junction])
        kelvin = float(self.solution.temperature_of(name)) if self.converged else float("nan")
        if self.is_held(junction):
            return Reading(
                title, self.name, total, total, self._ambient, basis="held, taken as still", kelvin=kelvin, units=self.layout.units
            )
        meeting = self.meeting(junction)
        bore = self.layout.bores.get(name)
        if bore and meeting:
            passing = sum(max(-end.flow, 0.0) for _, end in meeting) if self.converged else float("nan")
            density = self.liquid_in(max(meeting, key=lambda pair: -pair[1].flow)[0])["density"]
            return reading_in_bore(title, self.name, total, passing, density, bore, self._ambient, kelvin, self.layout.units)
        part, end = max(meeting, key=lambda pair: pair[1].bore, default=("", None))
        if end is None or not end.bore > 0.0:
            return Reading(
                title, self.name, total, total, self._ambient, basis="no bore given, taken as wide", kelvin=kelvin, units=self.layout.units
            )
        basis = f"the bore of {self.layout.title(part)}"
        return Reading(title, self.name, end.static, total, self._ambient, end.velocity, end.bore, basis, kelvin, self.layout.units)

    def part(self, name: str) -> PartReading:
        """`PartReading` of a part; of a row of engine parts where one piece became several."""
        parts = pick("part", name, self.part_names, self.layout.titles)
        for one, following in zip(parts, parts[1:]):
            if self.ends(one)[-1].junction != self.ends(following)[0].junction:
                raise NoSuchName("single part", name, parts, f"say which of {', '.join(map(repr, parts))}")
        return self.span(parts, name if len(parts) > 1 else self.layout.title(parts[0]))

    def run(self, name: str) -> PartReading:
        """`PartReading` of a whole run, from its first part's inlet to its last part's outlet."""
        (run,) = pick("run", name, list(self.layout.runs))
        return self.span(self.layout.runs[run], run)

    def span(self, parts: Sequence[str], title: str) -> PartReading:
        """`PartReading` from the first part's inlet to the last part's outlet. `parts` are engine names in series."""
        first, last = self.ends(parts[0]), self.ends(parts[-1])
        ends = first if len(parts) == 1 else [first[0], last[-1]]
        regimes = [self.solution.regime_of(part) for part in parts] if self.converged else ["not solved"] * len(parts)
        speaking = next((i for i, regime in enumerate(regimes) if regime not in _PLAIN_REGIMES), 0)
        liquid = self.liquid_in(parts[0])
        density = liquid["density"]
        readings = [EndReading(f"{title}, port {port}", self.name, end, self.junction_names[end.junction], self._ambient,
                               density, self.layout.units) for port, end in enumerate(ends)]
        pump = next((part for part in parts if part in self.pumps), None)
        heat, power = (
            sum(ask(part) for part in parts) if self.converged else float("nan") for ask in (self.solution.heat_of, self.solution.power_of)
        )
        return PartReading(title, self.name, self._kinds[parts[speaking]], regimes[speaking], readings, density,
                           self.suction(pump) if pump else None, heat, power, self.layout.units,
                           self.hole_of(parts[0]) if len(parts) == 1 else 0.0, liquid["viscosity"])

    def hole_of(self, part: str) -> float:
        """Bore of an orifice or a short tube [m]; 0 of anything else."""
        return self.number(f"{part}.bore", 0.0) if self._kinds[part] in HOLES else 0.0

    def suction(self, pump: str) -> SuctionReading:
        """`SuctionReading` of a pump, by engine name."""
        found = self.solution.suction(pump)
        place = self.layout.liquid_of.get(found.at, 0)
        liquid = self.layout.liquids[place] if place < len(self.layout.liquids) else None
        ends = self.ends(pump)[:1] if found.at == pump else self.ends(found.at)  # what leaves a pump is not on the way to it
        warmth = min(ends, key=lambda end: end.vapour_margin).temperature
        return SuctionReading(found, self.layout.title(found.at), self._ambient, liquid, float(warmth), self.layout.units)

    @cached_property
    def feed(self) -> Way | None:
        """`Way` that feeds: which part between the tank and the place that is fed costs what share of the pressure.

        None where nothing flows or the case is not solved.
        """
        return way(self, feed_way(self)) if self.converged else None

    def losses(self, run: str) -> Way | None:
        """`Way` of a run: which of its parts costs what. None where nothing flows or the case is not solved."""
        (name,) = pick("run", run, list(self.layout.runs))
        return way(self, run_way(self, name)) if self.converged else None

    @cached_property
    def demands(self) -> list[str]:
        """Places that liquid is drawn from at a given flow, as shown."""
        return [self.layout.junction_title(name) for name in self.junction_names if self.number(f"{name}.demand", 0.0) != 0.0]

    @cached_property
    def findings(self) -> list[Finding]:
        """What deserves attention, worst first."""
        if self._given_findings is not None:
            return ranked(self._given_findings)
        return ranked(reviewer().findings(self))

    def __repr__(self) -> str:
        return f"<case '{self.name}' of {self.layout.circuit}: {self.solution.status}>"
