"""What cools a liquid that runs too hot: chosen by what its circuit has, and tried in the engine before it is recommended.

A larger cooler is no cure where it thickens its oil until less of it passes: what is left then stays hot. Each number is that of the
case solved once more with it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial
from math import nan
from typing import TYPE_CHECKING

from flarenut.units import Quantity

from .heat_bearings import cold_film, told_of_film, unsaid
from .heat_congealed import CURE, Congealed, congealed, leaves_thicker, told_of
from .heat_idle import passed_by
from .heat_measures import Measure
from .written import notes_of

if TYPE_CHECKING:
    from ..circuit.trial import Trial
    from ..results.case import CaseResult

_LARGER, _SMALLER = 1.25, 0.8  # times the size
_LEAST_HEAT = 20.0  # [W]: less is no cooling to speak of
_THICKENS = 2.0  # times as thick where it leaves a cooler: worth saying where a larger one makes it worse (judgement)
_MORE_AIR = "more air through it (duct, fan, a place out of warm air)"


@dataclass(frozen=True)
class Cooling:
    """What is told beside a finding of hot liquid, its cure, and the numbers of the sentence."""

    beside: str
    cure: str
    numbers: dict[str, Quantity] = field(default_factory=dict)


@dataclass(frozen=True)
class _Tried:
    """Something tried: what it is, how much less it brings or NaN where there is no answer, and what is recommended if it helps."""

    what: str
    brings: float
    less: float
    cure: str
    counts: float

    @property
    def helps(self) -> bool:
        return self.less > self.counts

    @property
    def hurts(self) -> bool:
        return not self.less >= -self.counts  # nor has an answer


class _Cures:
    """Tries cures of one case by one measure."""

    def __init__(self, case: CaseResult, measure: Measure) -> None:
        self.case, self.measure, self.now = case, measure, measure.of(case)
        notes = notes_of(case)
        self.trial: Trial | None = notes.trial if notes else None

    def found(self) -> Cooling:
        """By what there is to cool with, and the film of bearings that hold the oil back."""
        film = cold_film(self.case)
        if film is None:
            return self.with_coolers()
        titles, trial, cold = _titles(self.case, film.parts), self.trial, bool(congealed(self.case))
        tried = [self.tries(what, "", partial(trial.bearings, film.parts, share)) for share, what in film.hotter] if trial else []
        if not (any(one.helps for one in tried) if trial else cold):
            return self.with_coolers()
        coolers = Cooling("", "") if cold else self.with_coolers()  # of oil that stands in the cooler, more cooler is no question
        words, numbers = self.told(tried, "film ")
        told, more = told_of_film(film, titles)
        cure = unsaid(titles) + (f"; as it stands, {coolers.cure}" if coolers.cure else _thermostats(self.case))
        return Cooling(coolers.beside + told + words, cure, {**coolers.numbers, **numbers, **more})

    def with_coolers(self) -> Cooling:
        """By what there is to cool with."""
        faces, walls = faces_of(self.case), _walls_of(self.case)
        cold = congealed(self.case)
        if idle := passed_by(self.case, faces, bool(cold)):
            return Cooling(*idle)
        if cold and (not faces or self.trial is None):
            beside, numbers = told_of(self.case, cold)
            return Cooling(f"{beside}: hardly any passes", CURE, numbers)
        if faces and all(in_still_air(self.case, part) for part in faces):
            titles = _titles(self.case, faces)
            return Cooling(f"; no air blows through {titles}", f"air through {titles}: a fan, or the vehicle moving (say vehicle_speed, or the "
                           f"speed of the air from its fan){_thermostats(self.case)}")
        if faces:
            return self.with_faces(self.trial, faces) if self.trial else self.untried(faces)
        if walls:
            return self.with_walls(walls)
        coils = [part for part in self.case.parts_of_kind("line") if -float(self.case.solution.heat_of(part)) > _LEAST_HEAT]
        if coils:
            return self.with_coils(coils)
        thing = "radiator" if self.case.layout.family in ("coolant", "water") else "cooler"
        return Cooling("", f"a {thing}: nothing here is made to take its heat away{_thermostats(self.case)}")

    def untried(self, faces: Sequence[str]) -> Cooling:
        """Of a moment of a drive, or a point of a sweep."""
        thick = self.thickening(faces)
        beside, numbers = told_of(self.case, thick)
        doubt = "; oil that thick holds itself back, and a larger one may make it worse: solve it with both" if thick else ""
        return Cooling(beside, f"a larger cooler, or {_MORE_AIR}{doubt}{_thermostats(self.case)}", numbers)

    def with_coils(self, coils: Sequence[str]) -> Cooling:
        """Lines alone give heat off."""
        titles, trial = _titles(self.case, coils), self.trial
        longer = (
            self.tries(f"{titles} a quarter longer", f"more length of {titles}", lambda: trial.lines(coils, longer=_LARGER))
            if trial
            else None
        )
        beside, numbers = self.told([longer] if longer else [])
        more = f"; no more length of {titles}" if longer and not longer.helps else f", or more of {titles}"
        return Cooling(beside, f"a cooler with fins, more air{more}{_thermostats(self.case)}", numbers)

    def with_walls(self, walls: Sequence[str]) -> Cooling:
        """Exchangers that give the heat to another liquid."""
        titles, trial = _titles(self.case, walls), self.trial
        tried = (
            [
                self.tries(f"the exchanger at {titles} a quarter longer", "longer", lambda: trial.walls(walls, longer=_LARGER)),
                self.tries("a quarter more passages side by side", "of more passages", lambda: trial.walls(walls, size=_LARGER)),
            ]
            if trial
            else []
        )
        beside, numbers = self.told(tried)
        helping = [one.cure for one in sorted(tried, key=lambda one: -one.less) if one.helps]
        other = f"colder or more liquid on the other side of {titles}"
        larger = "a larger exchanger" + (f", {' or '.join(helping)}" if helping else "")
        cure = f"{larger}; {other}" if helping or not tried else f"{other}, or more of this one through it; no larger exchanger"
        return Cooling(beside, f"{cure}{_thermostats(self.case)}", numbers)

    def with_faces(self, trial: Trial, faces: Sequence[str]) -> Cooling:
        """Coolers: a larger one or more air where that helps; else why not, and what does."""
        titles = _titles(self.case, faces)
        larger = self.tries(f"{titles} a quarter larger", "a larger cooler", lambda: trial.coolers(faces, size=_LARGER))
        air = self.tries("a quarter more air", _MORE_AIR, lambda: trial.coolers(faces, air=_LARGER))
        if larger.helps:
            beside, numbers = self.told([larger, *([air] if air.less else [])])  # nothing moves where no air blows
            return Cooling(beside, larger.cure + (f", or {air.cure}" if air.helps else "") + _thermostats(self.case), numbers)
        others = [one for one in self.others(trial, faces) if one.helps and not (air.helps and one.cure.startswith("less air"))]
        beside, numbers = self.told([larger, air, *others])
        cold = congealed(self.case)
        thick = cold or (self.thickening(faces) if larger.hurts else [])
        told, more = told_of(self.case, thick)
        held = ": hardly any passes" if cold else ": it holds itself back, and takes less heat away the more it is cooled" if thick else ""
        return Cooling(f"{told}{held}{beside}", self.no_larger(air, others, bool(cold)) + _thermostats(self.case), {**numbers, **more})

    def no_larger(self, air: _Tried, others: Sequence[_Tried], cold: bool) -> str:
        """The cure where a larger cooler is none."""
        helping = [one.cure for one in sorted((air, *others), key=lambda one: -one.less) if one.helps]
        never = "no larger cooler" if air.helps else "no larger cooler and no more air"
        if helping:
            return f"{', or '.join(helping)}; {never}"
        if cold:
            return CURE
        return f"{never}: it is as large as helps where it stands; a place for it that more of the liquid passes, or less heat put in"

    def others(self, trial: Trial, faces: Sequence[str]) -> list[_Tried]:
        """What may help where a larger cooler does not."""
        case = self.case
        found = [self.tries("a fifth smaller", "a smaller cooler", lambda: trial.coolers(faces, size=_SMALLER)),
                 self.tries("a fifth less air", "less air (a cover)", lambda: trial.coolers(faces, air=_SMALLER))]
        pair, place = _mixed_by(case)
        if place is not None:
            found.append(
                self.tries(
                    f"{_titles(case, pair)} going by {place}",
                    f'thermostats that feel where both ways meet again (senses = "{place}")',
                    lambda: trial.feeling(pair, place),
                )
            )
        lines = [part for run in case.layout.runs.values() if set(run) & set(faces) for part in run if case.kind_of(part) == "line"]
        if lines:
            found.append(
                self.tries(
                    "lines to and from it a quarter wider", "wider lines to and from the cooler", lambda: trial.lines(lines, wider=_LARGER)
                )
            )
        return found

    def tries(self, what: str, cure: str, solve: Callable[[], CaseResult | None]) -> _Tried:
        found = solve()
        brings = nan if found is None else self.measure.of(found)
        return _Tried(what, brings, self.now - brings, cure, self.measure.counts)

    def told(self, tried: Sequence[_Tried], which: str = "") -> tuple[str, dict[str, Quantity]]:
        """(words, numbers): what each of them brings."""
        numbers = {f"{which}tried {place}": self.measure.shown(one.brings) for place, one in enumerate(tried) if one.brings == one.brings}
        listed = [
            f"{one.what} {{{which}tried {place}}}" if f"{which}tried {place}" in numbers else f"{one.what} no steady state"
            for place, one in enumerate(tried)
        ]
        if not listed:
            return "", {}
        now = {"now": self.measure.shown(self.now)} if self.measure.words else {}
        return f"{self.measure.words}; tried: {', '.join(listed)}", {**numbers, **now}

    def thickening(self, faces: Sequence[str]) -> list[Congealed]:
        """Coolers that leave their liquid far thicker than it comes."""
        found = (leaves_thicker(self.case, part) for part in faces)
        return [one for one in found if one is not None and one.thicker > _THICKENS]


def cooling_for(case: CaseResult, measure: Measure) -> Cooling:
    """The `Cooling` of a case whose liquid is too hot by a measure."""
    return _Cures(case, measure).found()


def warmer_for(case: CaseResult, tank: str) -> str:
    """The cure of a liquid that runs cool, by what takes its heat."""
    faces, walls, stats = faces_of(case), _walls_of(case), case.parts_of_kind("thermostat")
    cures = []
    if faces:
        cures.append(
            f"a thermostat that opens later than {_titles(case, stats)}"
            if stats
            else f"a thermostat or a bypass before {_titles(case, faces)}"
        )
        cures.append("a cover over it in winter")
    if walls:
        cures.append(f"warmer liquid on the other side of {_titles(case, walls)}, or that one last on the way")
    if not cures:
        cures.append(f"less air round {case.layout.junction_title(tank)} and the lines, or a sleeve over them")
    return ", or ".join(cures)


def faces_of(case: CaseResult) -> list[str]:
    """Coolers that air blows through."""
    return [part for part in case.part_names if case.number(f"{part}.face_area") is not None]


_NO_AIR = 0.3  # [m/s]: more than the draught of a warm core


def in_still_air(case: CaseResult, part: str) -> bool:
    """Whether neither driving wind nor a fan blows through the face of a cooler; False for what has none."""
    wind, fan = case.number(f"{part}.vehicle_speed"), case.number(f"{part}.fan_speed")
    return wind is not None and fan is not None and max(wind * case.number(f"{part}.ram_share", 0.0), fan) <= _NO_AIR


def _walls_of(case: CaseResult) -> list[str]:
    """Parts whose heat goes into another liquid."""
    return [part for part in case.part_names if case.kind_of(part) != "line" and case.number(f"{part}.face_area") is None
            and -float(case.solution.heat_of(part)) > _LEAST_HEAT]


def _titles(case: CaseResult, parts: Sequence[str]) -> str:
    return " and ".join(dict.fromkeys(case.layout.title(part) for part in parts))


def _thermostats(case: CaseResult) -> str:
    """What to look at where there are thermostats that are not where they should be in hot liquid."""
    shut = [part for part in case.parts_of_kind("thermostat") if case.solution.regime_of(part) != "wide open"]
    round_it = [part for part in case.parts_of_kind("thermostat bypass") if case.solution.regime_of(part) != "shut"]
    asked = [
        *([f"whether {_titles(case, shut)} opens"] if shut else []),
        *([f"how much goes round the cooler by {_titles(case, round_it)}"] if round_it else []),
    ]
    return f"; look {' and '.join(asked)}" if asked else ""


def _mixed_by(case: CaseResult) -> tuple[list[str], str | None]:
    """A pair of thermostats that each go by what enters them, and the place where what they let through meets again."""
    notes = notes_of(case)
    for pair in notes.thermostat_pairs if notes else ():
        runs = [run for run in case.layout.runs.values() if set(run) & {pair.opens, pair.shuts}]
        ends = {case.ends(run[-1])[-1].junction for run in runs}
        if pair.feels is None and len(runs) == 2 and len(ends) == 1:
            return [pair.opens, pair.shuts], case.junction_names[ends.pop()]
    return [], None
