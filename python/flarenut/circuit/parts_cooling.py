"""What steers and cools a liquid: thermostats, and the liquid side of cooler cores."""

from __future__ import annotations

from collections.abc import Callable
from math import pi
from typing import TYPE_CHECKING, Any

from .. import _core
from ..units import parse
from ..units.errors import quoted
from .amounts import above_zero, count_of, length_or_none, need_viscosity, not_below_zero, share_of_one
from .amounts import flow as flow_of
from .amounts import rated_with as rating
from .errors import CircuitError
from .parts_filters import LEAST_LINEAR, each_drop, rated_drop
from .parts_valves import SEAT, wide_open_area
from .piece import Element, Piece, builder

if TYPE_CHECKING:
    from .amounts import RatingLiquid
    from .piece import Number

USUAL_TRAVEL = 12.0  # [K] from first movement to wide open (common practice, no source)
USUAL_END_LOSS = 1.5  # sharp entrance 0.5 (Crane TP 410), and the whole velocity head at the end
_THICK = 3e-3  # [Pa s]; thinner at its rating is a coolant or a fuel, whose passages are turbulent
_VISCOUS_SHARE = {True: 0.5, False: 0.2}  # of a rated drop, of thick and of thin liquids (common practice, no source)


@builder
def thermostat(opens: str, full: str | None = None, *, bore: object = None, rated: object = None, bleed: object = "10 %",
               senses: str | None = None, rated_with: object = None, rise: object = None, name: str | None = None) -> Piece:
    """A wax thermostat that opens with heat: the way to the cooler or radiator. Give `bore` or `rated`.

    It goes by the liquid that passes it, at rest: lag and hysteresis are left out.

    Parameters
    ----------
    opens : temperature at which it begins to open, "82 C"
    full : temperature at which it is wide open, "95 C"; 12 C (22 F) above `opens` unless given (common practice, no source)
    bore : of its opening, wide open, "12 mm"
    rated : its drop at a flow, wide open, "1 psi at 8 gpm"
    bleed : share of its opening that passes when shut; a sandwich plate for oil bleeds about 10 % (common practice, no source), a
        coolant thermostat with a jiggle pin 0.3 to 1 %, a hole of 2 to 3 mm beside 32 mm (common practice, no source)
    senses : place whose temperature it goes by; that of what enters it unless given
    rated_with : liquid of `rated`; the circuit's own unless given (only the density counts)
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> thermostat("82 C", "95 C", bore="12 mm").elements[0].kind
    'thermostat'
    """
    return _thermostat("thermostat", opens, full, bore, rated, bleed, senses, rated_with, rise)


@builder
def bypass_thermostat(opens: str, full: str | None = None, *, bore: object = None, rated: object = None, bleed: object = "1 %",
                      senses: object = None, rated_with: object = None, rise: object = None, name: str | None = None) -> Piece:
    """The other end of a three-way thermostat: it shuts with heat the way round the cooler. Give `bore` or `rated`.

    A three-way thermostat is two parts between the same places: a `thermostat` in the run through the cooler, and this one, with the
    same temperatures, in the run round it.

    Parameters
    ----------
    opens : temperature at which the cooler's way begins to open and this one to shut, "82 C"
    full : temperature at which this one is shut, "95 C"; 12 C (22 F) above `opens` unless given (common practice, no source)
    bore : of its opening, cold, "12 mm"
    rated : its drop at a flow, cold, "1 psi at 8 gpm"
    bleed : share of its opening that passes when shut (preset: common practice, no source)
    senses : place whose temperature it goes by; that of what enters it unless given
    rated_with : liquid of `rated`; the circuit's own unless given (only the density counts)
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> bypass_thermostat("82 C", "95 C", bore="12 mm").elements[0].kind
    'thermostat bypass'
    """
    return _thermostat("thermostat bypass", opens, full, bore, rated, bleed, senses, rated_with, rise)


def _thermostat(kind: str, opens: str, full: str | None, bore: object, rated: object, bleed: object, senses: object, liquid: object,
                rise: object) -> Piece:
    start = parse(opens, "temperature", name="opens")
    end = start + USUAL_TRAVEL if full is None else parse(full, "temperature", name="full")
    if end < start + 0.1:
        raise CircuitError(f"'full' is {quoted(full)}, not above the {quoted(opens)} of 'opens'",
                           "'opens' is where it begins to move and 'full' where it has done its travel, usually 10 to 15 C (18 to 27 F) later; "
                           "swap the two", key="full", value=full)
    if (bore is None) == (rated is None):
        raise CircuitError("a thermostat needs one of bore and rated", 'write bore="12 mm", or rated="1 psi at 8 gpm"', key="bore")
    area = wide_open_area(rated, "rated") if bore is None else 0.25 * pi * above_zero(bore, "length", "bore") ** 2
    numbers = {"start_temperature": start, "full_temperature": end, "full_area": area, "bleed": share_of_one(bleed, "bleed"),
               "discharge_coefficient": SEAT}
    if senses is not None and (not isinstance(senses, str) or not senses.strip()):
        raise CircuitError(f"'senses' is {quoted(senses)}, not the name of a place", 'write e.g. "rail" or "engine out"; left off, it goes by what enters it',
                           key="senses", value=senses)
    return Piece([Element(kind, numbers, rating=rating(liquid), feels=senses)], rise=length_or_none(rise, "rise"))


@builder
def core(drop: object = None, *, viscous_share: object = None, rated_with: object = None,
         passages: int | None = None, passage_bore: str | None = None, passage_length: str | None = None, end_loss: object = None,
         flow: object = None, bore: object = None, rise: object = None, name: str | None = None) -> Piece:
    """The liquid side of a cooler, a radiator or a heater: by one or two measured drops, or by its passages.

    Its drop is a viscous part, with flow and viscosity, and an inertial one, with flow squared and density. One loss coefficient for both
    would be wrong threefold between a cold and a warm morning.

    Parameters
    ----------
    drop : measured, "6 psi at 20 L/min"; two of them, ["2 psi at 8 L/min", "6 psi at 20 L/min"], tell the split below
    viscous_share : share of a single drop that goes with flow and viscosity. 50 % of a drop measured with oil, 20 % of one measured with
        coolant or another thin liquid unless given (common practice, no source)
    rated_with : liquid of the drops, "SAE 10W-40 at 100 C", or a list of two, one for each drop; thick ones need their temperature
    passages : how many lie side by side, in place of `drop`
    passage_bore : of one of them; of a flat one, 4 × area / wetted edge
    passage_length : of one of them, from header to header
    end_loss : velocity heads lost at both ends of a passage; 1.5, a sharp entrance and the whole velocity at its end, unless given
    flow : of the whole core, "60 L/min", where its passages are turbulent, as in radiators: there their friction is met exactly with the
        liquid of `rated_with`. Laminar, as with oil, unless given
    bore : of its connections, for the velocity head there
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> core("6 psi at 20 L/min", rated_with="SAE 10W-40 at 100 C").elements[0].kind
    'core'
    """
    shape = {"passages": passages, "passage_bore": passage_bore, "passage_length": passage_length}
    given = [key for key, value in shape.items() if value is not None]
    if (drop is None) != (len(given) == 3) or (drop is not None and given):
        missing = [key for key in shape if key not in given] if given and drop is None else []
        raise CircuitError(f"a core by its passages also needs {' and '.join(missing)}" if missing else
                           "a core is known by its drop or by its passages, bore and length, one of the two",
                           'write drop="6 psi at 20 L/min", or passages=60, passage_bore="2.5 mm", passage_length="250 mm"',
                           key=missing[0] if missing else "drop")
    if drop is None:
        loss, liquid = _by_passages(passages, passage_bore, passage_length, end_loss, flow, rated_with, viscous_share)
    else:
        for key, value in (("flow", flow), ("end_loss", end_loss)):
            if value is not None:
                raise CircuitError(f"{key!r} goes with passages; a drop tells its own", f"leave {key!r} off", key=key, value=value)
        loss, liquid = _by_drops(drop, viscous_share, rated_with)
    numbers: dict[str, Number] = {"viscous": lambda liquids: max(loss(liquids).viscous, LEAST_LINEAR), "inertial": lambda liquids: loss(liquids).inertial}
    if bore is not None:
        numbers["inlet_bore"] = numbers["outlet_bore"] = above_zero(bore, "length", "bore")
    return Piece([Element("core", numbers, rating=liquid)], rise=length_or_none(rise, "rise"))


def _by_drops(drop: object, viscous_share: object, rated: object) -> tuple[Callable[..., Any], Callable[..., Any]]:
    """Function of the two rating liquids that gives the core's coefficients; and the function that gives the two from the circuit's."""
    pairs = [rated_drop(one, "drop", "6 psi at 20 L/min") for one in each_drop(drop)]
    if len(pairs) == 2 and viscous_share is not None:
        raise CircuitError("two drops tell the viscous share by themselves", "leave viscous_share off", key="viscous_share", value=viscous_share)
    share = None if viscous_share is None else share_of_one(viscous_share, "viscous_share")
    listed = list(rated) if isinstance(rated, (list, tuple)) else None
    if listed is not None and (len(listed) != 2 or len(pairs) != 2):
        raise CircuitError(f"'rated_with' is {quoted(rated)}, for {len(pairs)} {'drops' if len(pairs) == 2 else 'drop'}",
                           "name one liquid, or as many as there are drops", key="rated_with", value=rated)
    makers = [rating(one, viscosity_matters=True) for one in ([rated, rated] if listed is None else listed)]

    def loss(liquids: tuple[RatingLiquid, ...]) -> _core.correlations.CoreLoss:
        points = [_core.correlations.CorePoint(lost, amount.volume(liquid.density), need_viscosity(liquid), liquid.density)
                  for (lost, amount), liquid in zip(pairs, liquids)]
        if len(points) == 1:
            usual = _VISCOUS_SHARE[points[0].viscosity > _THICK]
            return _core.correlations.core_of_point(points[0], usual if share is None else share)
        found = _core.correlations.core_of_points(*points)
        if not (found.viscous >= 0 and found.inertial >= 0):
            raise CircuitError(f"'drop' is {quoted(drop)}: no sum of a viscous and an inertial part passes both",
                               "check the two drops, their flows and liquids; each has to differ from the other in flow or in viscosity",
                               key="drop", value=drop)
        return found

    return loss, lambda own: tuple(maker(own) for maker in makers)


def _by_passages(passages: int | None, bore: object, length: object, end_loss: object, amount: object, rated: object,
                 viscous_share: object) -> tuple[Callable[..., Any], Callable[..., Any]]:
    if viscous_share is not None:
        raise CircuitError("'viscous_share' goes with a drop; passages tell it by themselves", "leave it off",
                           key="viscous_share", value=viscous_share)
    count = count_of(passages, "passages")
    wide, long = above_zero(bore, "length", "passage_bore"), above_zero(length, "length", "passage_length")
    ends = USUAL_END_LOSS if end_loss is None else not_below_zero(end_loss, "dimensionless", "end_loss")
    if amount is None:
        return lambda liquids: _core.correlations.core_of_passages(count, wide, long, ends), lambda own: ()
    whole = flow_of(amount, "flow")

    def loss(liquids: tuple[RatingLiquid, ...]) -> _core.correlations.CoreLoss:
        liquid, = liquids
        reynolds = 4.0 * whole.mass(liquid.density) / (count * pi * wide * need_viscosity(liquid))
        return _core.correlations.core_of_passages(count, wide, long, ends, reynolds)

    maker = rating(rated, viscosity_matters=True)
    return loss, lambda own: (maker(own),)
