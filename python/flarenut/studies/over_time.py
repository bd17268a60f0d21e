"""`over_time`: a circuit through a drive, case after case: how fast it warms, when the thermostat opens, what it comes to after an hour."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any, TypeVar
from collections.abc import Callable, Sequence

from ..circuit import CircuitError, Vehicle
from ..units import settled
from ..units.display import SYSTEMS
from .over_time_answer import OverTime
from .over_time_drive import every_of, legs_of, refuse_what_stands_still, start_of, with_own_cases
from .over_time_run import Clock, Course, Kept
from .over_time_vehicle import VehicleClock, VehicleOverTime, refuse_cold_circuits, start_of_vehicle

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..checks.limits import Limits
    from .over_time_drive import Leg


Followed = TypeVar("Followed", OverTime, VehicleOverTime)


class OverTimeInterrupted(KeyboardInterrupt):
    """Ctrl-C during `over_time`. `partial` is an `OverTime` with what had been reached."""

    def __init__(self, partial: VehicleOverTime | OverTime) -> None:
        super().__init__(f"stopped at {partial.times[-1]:.0f} s of {partial.legs[-1].ends:.0f} s; what was reached is in .partial of this exception"
                         if len(partial.times) else "stopped before anything was reached")
        self.partial = partial


def over_time(circuit: Circuit | Vehicle, drive: Sequence[Sequence[Any]], every: str = "10 s", start: str | None = None, *,
              limits: Limits | None = None, progress: Callable[[float, float], object] | bool | None = None, units: str | None = None) -> OverTime | VehicleOverTime:
    """Follows a circuit in time through a drive: temperatures, pressures and flows while it warms up.

    Heat is stored where `heat_capacity` is said, of tanks and places, and by the liquid in lines; all else follows at once. Pressures and flows
    are at every moment those of the temperatures there. A condition that gives a found tank its temperature is left out, for it is followed.

    Parameters
    ----------
    circuit : `Circuit` whose temperatures are found, or `Vehicle`, with a heat_capacity of every found tank; it stays as it is
    drive : how long each case lasts, one after the other: [("3 min", "cold start"), ("10 min", "cruise")]; a case may come more than once.
        In place of a name may stand conditions, ("10 min", {"speed": "2000 rpm"}); such a case is called by its row, "row 2"
    every : how far apart the moments are that are kept, "10 s". Steps between are chosen by the engine, so that no place that stores heat is
        off by more than some hundredths of a degree a step
    start : how warm everything is at the beginning, "-10 C"; what the first case says of a found tank, else its fluid_temperature, unless given;
        a vehicle, as warm as the air of the first case
    limits : `checks.Limits` of your own, for findings
    progress : function of (seconds done, seconds in all), or True for a line on the screen
    units : "us" or "metric", for what is shown; those of the circuit unless given

    Returns
    -------
    OverTime, of a vehicle `VehicleOverTime` : `temperature(place)`, `reaches(place, "80 C")`, `opens()`, `moment("5 min")`, `table()`, `findings`, `to_dataset()`, `save(path)`. Where a
        moment has no answer it ends there: `complete` is False, and `why_not` says why

    Raises
    ------
    CircuitError, UnitError : temperatures are given, a tank lacks its heat_capacity, no such case, a time that is none
    OverTimeInterrupted : Ctrl-C; its `partial` is an `OverTime` too

    >>> import flarenut as fn
    >>> bath = fn.Circuit("warm bath", fluid="water")
    >>> bath.tank("bath", level="1 m", temperature="found", heat="1 kW", heat_loss="10 W/K", heat_capacity="40 kJ/K")
    >>> bath.run("round", "bath", "far end", [fn.displacement_pump("1 cc/rev", speed="1000 rpm"), fn.tube(bore="12 mm", length="2 m")])
    >>> bath.run("back", "far end", "bath", [fn.tube(bore="12 mm", length="2 m")])
    >>> bath.case("heating", air_temperature="20 C")
    >>> warmed = over_time(bath, [("10 min", "heating")], start="20 C")
    >>> round(float(warmed.temperature("bath").to("C")[-1]))  # 20 + 100 (1 - exp(-600 s 10 W/K / 41.9 kJ/K)), with the water in the tubes
    33
    """
    units = settled(units, circuit)
    if units not in SYSTEMS:
        raise CircuitError(f"'units' is {units!r}", "write 'us' or 'metric'", place="over time", key="units", value=units)
    if isinstance(circuit, Vehicle):
        refuse_cold_circuits(circuit)
    else:
        refuse_what_stands_still(circuit)
    circuit, drive, own = with_own_cases(circuit, drive)
    legs = legs_of(circuit, drive, own)
    step = every_of(every, legs)
    tell = _on_screen if progress is True else progress or (lambda done, whole: None)
    if isinstance(circuit, Vehicle):
        vehicle, clock = circuit, VehicleClock(circuit, start_of_vehicle(circuit, start, legs[0].case), units)
        return _followed(clock, legs, step, tell, lambda kept: VehicleOverTime(vehicle, clock.layouts, legs, kept, clock.start, limits, units))
    alone = Clock(circuit, start_of(circuit, start, legs[0].case), units)
    return _followed(alone, legs, step, tell, lambda kept: OverTime(alone.circuit, alone.layout, legs, kept, alone.start, limits, units))


def _followed(clock: Course[Kept], legs: Sequence[Leg], step: float, tell: Callable[[float, float], object],
              answer: Callable[[list[tuple[float, Leg, Kept]]], Followed]) -> Followed:
    kept: list[tuple[float, Leg, Kept]] = []
    try:
        for moment in clock.moments(legs, step):
            kept.append(moment)
            tell(moment[0], legs[-1].ends)
    except KeyboardInterrupt:
        raise OverTimeInterrupted(answer(kept)) from None
    return answer(kept)


def _on_screen(done: float, whole: float) -> None:
    print(f"\r{done:,.0f} of {whole:,.0f} s", end="\n" if done >= whole else "", file=sys.stderr, flush=True)
