"""The places of a circuit, in a builder's words: tanks, junctions, places of given pressure."""

from collections.abc import Callable, Sequence
from functools import wraps
from typing import TYPE_CHECKING, Any, TypeVar, cast

from .. import units
from ..units.errors import UnitError, said_of
from . import changes
from .amounts import above_zero
from .errors import CircuitError
from .heat_words import heat_of_place
from .places import Junction, manifold_pressure, pickup_of, position_of


_Word = TypeVar("_Word", bound=Callable[..., None])


def _saying_which(word: _Word) -> _Word:
    """What is refused names the place that it was said of."""

    @wraps(word)
    def said(self: "PlaceWords", name: str, *rest: Any, **named: Any) -> None:
        try:
            word(self, name, *rest, **named)
        except CircuitError as error:
            raise error.at(f"{word.__name__} '{name}'") from None
        except UnitError as error:
            raise said_of(error, f"{word.__name__} '{name}'") from None

    return cast(_Word, said)


class PlaceWords:
    """What `Circuit` says of places."""

    if TYPE_CHECKING:  # of `Circuit`
        def _add(self, junction: Junction) -> None: ...
        def _mass_flow(self, value: object, key: str) -> float: ...

    @_saying_which
    def tank(self, name: str, level: str = "0 m", *, vent: str = "0 psi", position: Sequence[str] | None = None, height: str | None = None,
             pickup: Sequence[str] | None = None, temperature: object = None, heat: object = None, heat_loss: object = None,
             heat_share: object = None, friction_heat: object = None, heat_capacity: object = None) -> None:
        """A tank, at its pick-up.

        Parameters
        ----------
        name : what tables and messages call it
        level : liquid above the pick-up, "8 in"
        vent : pressure above the liquid, gauge, "-1 psi"
        position : [forward, left, up] of the pick-up, ["0 ft", "0 ft", "4 in"]; the origin unless given
        height : of the pick-up, "4 in", in place of `position`
        pickup : [forward, left] of the middle of the liquid, ["-8 in", "0 in"] for a pick-up at the rear wall: a launch then
            piles liquid over it, braking takes it away
        temperature : of the liquid in it, "85 C", or "found": it follows from what returns, as in an engine's sump. As the case's
            `fluid_temperature` unless given
        heat : put into its liquid, "3 kW"; a case may set it
        heat_loss : of its walls to the air, per degree between them, "12 W/K"
        heat_share : share of the engine's power that goes into its liquid, "4 %"; a case says the `engine_power`. Engine oil takes up 3 to
            8 % (common practice, no source)
        friction_heat : what rubs in the engine and warms its oil without any power, "3 kW at 6000 rpm"; it grows with the square of the case's
            `speed`
        heat_capacity : of liquid and metal, "12 kJ/K"; a steady answer does not go by it
        """
        self._add(Junction(name, "tank", position_of(name, position, height) or (0.0, 0.0, 0.0),
                           level=units.parse(level, "length", name="level"),
                           vent=units.parse(vent, "pressure_gauge", name="vent"), pickup=pickup_of(name, pickup),
                           **heat_of_place(temperature=temperature, heat=heat, heat_loss=heat_loss, heat_share=heat_share,
                                           friction_heat=friction_heat, heat_capacity=heat_capacity, tank=True)))

    @_saying_which
    def junction(self, name: str, *, position: Sequence[str] | None = None, height: str | None = None, bore: str | None = None,
                 demand: str | None = None, supply: str | None = None, temperature: object = None, heat: object = None,
                 heat_loss: object = None, heat_share: object = None, friction_heat: object = None,
                 heat_capacity: object = None) -> None:
        """A named place: where a gauge sits, where runs meet, where liquid is drawn.

        Parameters
        ----------
        name : what tables and messages call it
        position : [forward, left, up], ["8 ft", "0 ft", "20 in"]; it follows from the runs unless given
        height : in place of `position`, "20 in"
        bore : of the gauge tapping, "11 mm"
        demand : flow taken out, "9 gph" (by volume at 15 °C) or "50 lb/h"
        supply : in its place, a known flow that comes in here from outside the circuit, as on a test bench
        temperature : of what comes in, "90 C"; as the case's `fluid_temperature` unless given
        heat, heat_loss, heat_share, friction_heat, heat_capacity : see `tank`
        """
        changes.refuse_supply_beside_demand({"demand": demand, "supply": supply}, f"junction '{name}'")
        self._add(Junction(name, "free", position_of(name, position, height),
                           bore=None if bore is None else above_zero(bore, "length", "bore"),
                           demand=self._mass_flow(demand, "demand") - self._mass_flow(supply, "supply"),
                           **heat_of_place(temperature=temperature, heat=heat, heat_loss=heat_loss, heat_share=heat_share,
                                           friction_heat=friction_heat, heat_capacity=heat_capacity)))

    @_saying_which
    def fixed(self, name: str, pressure: str = "0 psi", *, position: Sequence[str] | None = None, height: str | None = None,
              temperature: object = None, drains_to: str | None = None) -> None:
        """A place whose gauge pressure is given: the intake manifold, open air.

        Parameters
        ----------
        name : what tables and messages call it
        pressure : gauge, "18 inHg vacuum", "10 psi"; a case may set that of "manifold"
        position : [forward, left, up]; at the origin's height unless given or a run's rise tells
        height : in place of `position`
        temperature : of liquid that comes in here; as the case's `fluid_temperature` unless given
        drains_to : tank that what flows out here falls back into, as oil from bearings into the sump
        """
        read = manifold_pressure(pressure, "pressure") if name == "manifold" else units.parse(pressure, "pressure_gauge", name="pressure")
        self._add(Junction(name, "fixed", position_of(name, position, height), pressure=read, drains_to=drains_to,
                           **heat_of_place(temperature=temperature)))
