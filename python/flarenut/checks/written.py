"""What a circuit in words tells of a case beside the engine's numbers; and what follows from heights and settings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import nan
from typing import TYPE_CHECKING, NamedTuple

from flarenut.results import INJECTORS, Finding, at_rest
from flarenut.results.conditions import said
from flarenut.units import Quantity

if TYPE_CHECKING:
    from ..circuit.parts_notes import Notes
    from ..results.case import CaseResult
    from .limits import Limits

_HOLD_OPEN = "bypass regulator"


def notes_of(case: CaseResult) -> Notes | None:
    """The notes of a case; None for a network that was not made from words."""
    return getattr(case.layout, "notes", {}).get(case.name)


@dataclass(frozen=True)
class Set:
    """The setting of a regulator, all pressures over its reference [Pa]."""

    pressure: float  # as the builder wrote it
    flow: float | None  # return flow he read it off at [m3/s]; None: the least flow, so that it is where it opens
    turns_at: float  # where it just opens (bypass) or locks up (reducing) under the pressures of this case

    def words(self) -> str:
        """"its setting of 43.5 psi", or "the 43.5 psi it was set to at 200 L/h", for a sentence of a finding."""
        return "its setting of {setting}" if self.flow is None else "the {setting} it was set to at {set_flow} of return"

    def turning_words(self, verb: str, plain: str) -> str:
        """Where it just opens or locks up; `plain` where that is the setting itself."""
        if self.flow is None and abs(self.turns_at - self.pressure) < 1e-3 * self.pressure:
            return plain
        read_off = "" if self.flow is None else ", read off at {set_flow} of return"
        return f"{{turns_at}}, where it just {verb} here (its setting is {{setting}}{read_off})"

    def numbers(self) -> dict[str, Quantity]:
        """Of `words`, and where it turns."""
        found = {"setting": Quantity(self.pressure, "pressure_difference"), "turns_at": Quantity(self.turns_at, "pressure_difference")}
        return found if self.flow is None else {**found, "set_flow": Quantity(self.flow, "volume_flow")}


def setting_of(case: CaseResult, regulator: str) -> Set | None:
    """The `Set` of a regulator; None when its number or its reference is not known."""
    spring, reference = case.number(f"{regulator}.set_pressure"), reference_of(case, regulator)
    if spring is None or reference is None:
        return None
    share = case.number(f"{regulator}.seat_share", 0.0)
    supply, behind = (end.total + _column(case, regulator, end.junction) for end in case.ends(regulator)[:2])
    if case.kind_of(regulator) == _HOLD_OPEN:
        turns_at, bench = (spring - share * (behind - reference)) / (1.0 - share), spring / (1.0 - share)
    else:
        turns_at, bench = (spring + share * (supply - reference)) / (1.0 + share), spring
    notes = notes_of(case)
    written = notes.settings.get(regulator) if notes else None
    return Set(bench, None, turns_at) if written is None else Set(written.pressure, written.flow, turns_at)


def reference_of(case: CaseResult, regulator: str) -> float | None:
    """Pressure of its reference [Pa abs]; None when the circuit did not say where that is."""
    senses = case.layout.senses.get(regulator, ())
    return None if len(senses) < 2 or senses[1] not in case.junction_names else float(case.solution.pressure_of(senses[1]))


def held_of(case: CaseResult, regulator: str) -> float | None:
    """Pressure it feels over its reference [Pa]: that where it senses, brought to its own height by the liquid in the sensing line.

    None when the circuit did not say what it senses.
    """
    senses, reference = case.layout.senses.get(regulator, ()), reference_of(case, regulator)
    if reference is None or not senses or senses[0] not in case.junction_names:
        return None
    sensed = case.junction_names.index(senses[0])
    return float(case.solution.pressure_of(senses[0])) + _column(case, regulator, sensed) - reference


def _column(case: CaseResult, regulator: str, junction: int) -> float:
    """What the liquid between a junction and a regulator's inlet, where its valve is, adds to that junction's pressure [Pa]."""
    return at_rest(case, case.ends(regulator)[0].junction, junction, case.liquid_in(regulator)["density"]) or 0.0


def assumed(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Presets that stand for what nobody said, in one line."""
    notes = notes_of(case)
    if notes is None or not notes.assumed:
        return
    alone = len(notes.assumed) == 1
    presets = {f"preset{i}.{j}": _Preset(*one.split(" ", 1)) for i, some in enumerate(notes.assumed.values()) for j, one in enumerate(some)}
    listed = "; ".join(("" if alone else f"{name} ") + ", ".join(f"{{preset{i}.{j}}}" for j in range(len(some)))
                       for i, (name, some) in enumerate(notes.assumed.items()))
    yield Finding("assumed", "note", ", ".join(notes.assumed), case.name,
                  f"assumed, as nothing else is said: {listed} (common practice, no source)",
                  cure="say what yours is, in the part or in the case", numbers=presets)


_STRETCHED = 3.0  # times the pressure that a pump's slip is known at: it goes with the pressure, and is carried no farther (judgement)


def slip_stretched(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A pump's preset share delivered, at a pressure so much higher that its slip is a guess."""
    notes = notes_of(case)
    if notes is None:
        return
    for pump in case.parts_of_kind("positive displacement pump"):
        title, ends, known = case.layout.title(pump), case.ends(pump), case.number(f"{pump}.rated_rise", nan)
        rise = ends[1].total - ends[0].total
        if rise > _STRETCHED * known and any(one.startswith("volumetric_efficiency") for one in notes.assumed.get(title, ())):
            yield Finding("pump slip assumed", "watch", title, case.name,
                          "raises {value}, and its slip is taken from a usual pump at {known}: its flow here is a guess, most often far too low",
                          Quantity(rise, "pressure_difference"), source="judgement, no source", hurt=rise / known / _STRETCHED - 1.0,
                          cure='say what it delivers near its working pressure: volumetric_efficiency="92 % at 1000 psi, 1500 rpm, 25 cP"',
                          numbers={"known": Quantity(known, "pressure_difference")})


class _Preset(NamedTuple):
    """A preset as its part is given it, shown in the units of the table: "wide_open", "30 psi at 400 L/h"."""

    key: str
    text: str

    def show(self, units: str) -> str:
        return f"{self.key} {said(self.key, self.text, units)}"


def _wet_places(case: CaseResult) -> dict[str, tuple[float, float, float]]:
    """Positions of the places that liquid stands in: a manifold that injectors spray into holds gas, which weighs nothing."""
    positions = getattr(case.layout, "positions", {})
    wet = {end.junction for part in case.part_names for end in case.ends(part)[:1 if case.kind_of(part) == INJECTORS else None]}
    return {name: positions[name] for name in (case.junction_names[junction] for junction in wet) if name in positions}


def idle_acceleration(case: CaseResult, limits: Limits) -> Iterator[object]:
    """An acceleration along an axis on which everything stands at one place moves nothing."""
    positions = _wet_places(case)
    if not positions:
        return
    ways = (("x", "forward", "pickup_forward"), ("y", "to the left", "pickup_left"), ("z", "upwards", "level"))
    idle = [(case.number(f"acceleration.{axis}", 0.0), way) for number, (axis, way, of_tank) in enumerate(ways)
            if case.number(f"acceleration.{axis}", 0.0) and len({place[number] for place in positions.values()}) < 2
            and not any(case.number(f"{name}.{of_tank}", 0.0) for name in positions)]
    if idle:
        words = " and ".join(f"{{a{i}}} {way}" for i, (_, way) in enumerate(idle))
        yield Finding("acceleration without effect", "watch", "", case.name,
                      f"an acceleration of {words} moves nothing: no place or pick-up is said to stand off from another that way",
                      cure='give places where they are, position=["8 ft", "0 ft", "20 in"] (forward, left, up), and tanks their pickup',
                      numbers={f"a{i}": Quantity(value, "acceleration") for i, (value, _) in enumerate(idle)})
