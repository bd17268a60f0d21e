"""Values of builder functions: "5 psi at 3 gpm", a length that may be nothing, the liquid a rating was made with."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from math import sqrt
from typing import Any, NamedTuple

from ..fluids import Fluid, fluid
from ..units import KINDS, UnitError, parse
from ..units.errors import quoted
from .errors import CircuitError


class RatingLiquid(NamedTuple):
    """What a rating needs to know of its liquid. `viscosity` is None where only the density was given."""

    name: str
    density: float  # [kg/m3]
    viscosity: float | None  # dynamic [Pa s]


class Flow(NamedTuple):
    """A flow as it was written: by volume [m3/s] or by mass [kg/s]."""

    amount: float
    basis: str

    def volume(self, density: float) -> float:
        """[m3/s] at a density [kg/m3]."""
        return self.amount if self.basis == "volume" else self.amount / density

    def mass(self, density: float) -> float:
        """[kg/s] at a density [kg/m3]."""
        return self.amount if self.basis == "mass" else self.amount * density


# n-heptane at 20 °C: density by its reference equation of state (Span 2003); viscosity 0.41 mPa s from memory. Injector
# flow benches run on it or on a close relative (common practice, no source).
TEST_FLUID = RatingLiquid("test fluid", 683.8, 0.41e-3)

_THICK = 5e-3  # [Pa s]; a liquid thicker than this at 20 °C is an oil, and "cold or hot?" has to be said
_ROOM = 293.15


def above_zero(value: object, kind: str, key: str) -> float:
    """SI value of a quantity that has to be above zero."""
    number: float = parse(value, kind, name=key)
    if not number > 0:
        raise CircuitError(f"{key!r} is {quoted(value)}, which is not above zero", f"check the number and its unit, e.g. '{KINDS[kind].example}'",
                           key=key, value=value)
    return number


def not_below_zero(value: object, kind: str, key: str) -> float:
    """SI value of a quantity that may be nothing; a bare 0 needs no unit."""
    number = 0.0 if _is_nothing(value) else parse(value, kind, name=key)
    if number < 0:
        raise CircuitError(f"{key!r} is {quoted(value)}, below zero", "check the sign", key=key, value=value)
    return number


def share_of_one(value: object, key: str, most: float = 1.0) -> float:
    """A fraction from 0 to `most`."""
    share = not_below_zero(value, "fraction", key)
    if share > most:
        raise CircuitError(f"{key!r} is {quoted(value)}, above {100 * most:g} %", "lower it; a bare number is a share of 1, not a percentage",
                           key=key, value=value)
    return share


def length_or_none(value: object, key: str) -> float | None:
    """[m], of either sign; None stays None and a bare 0 needs no unit."""
    if value is None:
        return None
    return 0.0 if _is_nothing(value) else parse(value, "length", name=key)


def _is_nothing(value: object) -> bool:
    return (type(value) in (int, float) and value == 0) or (isinstance(value, str) and value.strip() in ("0", "0.0"))


def count_of(value: object, key: str) -> int:
    """A whole number above zero."""
    if type(value) is not int or value < 1:
        raise CircuitError(f"{key!r} is {quoted(value)}, not a whole number above zero", "write it bare, e.g. 6", key=key, value=value)
    return value


def yes_or_no(value: object, key: str) -> bool:
    """True or False and nothing else."""
    if not isinstance(value, bool):
        raise CircuitError(f"{key!r} is {quoted(value)}", "it is true or false", key=key, value=value)
    return value


def flow(value: object, key: str) -> Flow:
    """A `Flow` above zero."""
    amount, basis = parse(value, "flow", name=key)
    if not amount > 0:
        raise CircuitError(f"{key!r} is {quoted(value)}, which is not a flow above zero", "check the number", key=key, value=value)
    return Flow(amount, basis)


def at_point(value: object, key: str, example: str) -> list[str]:
    """The pieces of "5 psi at 3 gpm, 100 cP": texts, in the order written. A list is taken as they are."""
    if isinstance(value, (list, tuple)):
        pieces = list(value)
    elif isinstance(value, str):
        pieces = [piece.strip() for piece in re.split(r"\s+at\s+|\s*@\s*|,", value)]
    else:
        pieces = []
    if len(pieces) < 2 or not all(pieces):
        raise CircuitError(f"{key!r} is {quoted(value)}, not one thing at another", f"write it e.g. '{example}'", key=key, value=value)
    return pieces


def drop_at_flow(value: object, key: str, example: str = "1.5 psi at 100 gph") -> tuple[float, Flow]:
    """(pressure difference [Pa], `Flow`) of "1.5 psi at 100 gph", in either order."""
    pieces = at_point(value, key, example)
    if len(pieces) != 2:
        raise CircuitError(f"{key!r} is {quoted(value)}, more than a pressure and a flow", f"write it e.g. '{example}'", key=key, value=value)
    refusals: list[list[UnitError]] = []
    for pressure, other in (pieces, pieces[::-1]):
        found = _refused(pressure, other, key)
        if found is None:
            return above_zero(pressure, "pressure_difference", key), flow(other, key)
        refusals.append(found)
    backward = len(refusals[1]) < len(refusals[0]) or "without a time" in refusals[1][-1].reason  # flow first
    refusal = refusals[backward][0]
    cure = f"{refusal.hint}, as in '{example}'" if "without a time" in refusal.reason else f"write it e.g. '{example}'"
    raise CircuitError(refusal.reason, cure, key=key, value=value)


def _refused(pressure: str, other: str, key: str) -> list[UnitError] | None:
    """Why two texts are no pressure and flow, in that order; None when they are."""
    found = []
    for read in (lambda: above_zero(pressure, "pressure_difference", key), lambda: flow(other, key)):
        try:
            read()
        except UnitError as error:
            found.append(error)
    return found or None


def rated_with(value: object, key: str = "rated_with", *, viscosity_matters: bool = False) -> Callable[..., Any]:
    """A function from the circuit's fluid to the `RatingLiquid` of a rating.

    Parameters
    ----------
    value : None (the circuit's own liquid at 20 C), a fluid's name or `Fluid`, optionally with " at 100 C"; "own at 100 C";
        "test fluid"; a density "740 kg/m3" where viscosity does not matter; or {"density": ..., "viscosity": ...}
    viscosity_matters : whether the rating needs the viscosity, so that an oil without its temperature is refused
    """
    if value is None:
        return lambda own: _own(own, _ROOM, key, viscosity_matters)
    if isinstance(value, dict):
        return _constant(value, key)
    if isinstance(value, Fluid):
        return lambda own: _at(value, _ROOM)
    if not isinstance(value, str):
        raise CircuitError(f"{key!r} is {quoted(value)}, not a liquid", "write e.g. \"gasoline at 20 C\"", key=key, value=value)
    name, _, temperature = value.partition(" at ")
    kelvin = parse(temperature, "temperature", name=key) if temperature else _ROOM
    if name.strip() == "own":
        return lambda own: _at(own, kelvin)
    if name.strip() == TEST_FLUID.name:
        return lambda own: TEST_FLUID
    density = _density(name)
    if density is not None:
        if viscosity_matters:
            raise CircuitError(f"{key!r} gives only a density; this rating also needs the viscosity",
                               'write the name of the liquid, or {density = "850 kg/m3", viscosity = "10 cP"}', key=key, value=value)
        return lambda own: RatingLiquid(value, density, None)
    liquid = fluid(name)
    return lambda own: _at(liquid, kelvin)


def _density(text: str) -> float | None:
    try:
        return above_zero(text, "density", "density")
    except UnitError:
        return None


def _own(own: Fluid, kelvin: float, key: str, viscosity_matters: bool) -> RatingLiquid:
    liquid = _at(own, kelvin)
    if viscosity_matters and liquid.viscosity is not None and liquid.viscosity > _THICK:
        raise CircuitError(f"{own.name} is thick, so this rating means little without its temperature",
                           f"say with which liquid it was rated, e.g. {key}=\"own at 100 C\"", key=key)
    return liquid


def _at(liquid: Fluid, kelvin: float) -> RatingLiquid:
    state = liquid.liquid.at(kelvin, 101325.0)
    return RatingLiquid(liquid.name, state.density, state.viscosity)


def _constant(value: Mapping[str, int | Sequence[object] | Mapping[str, object]], key: str) -> Callable[..., Any]:
    unknown = set(value) - {"density", "viscosity"}
    if unknown or "density" not in value:
        raise CircuitError(f"{key!r} holds {', '.join(sorted(value)) or 'nothing'}", 'write {density = "850 kg/m3", viscosity = "10 cP"}',
                           key=key, value=value)
    density = above_zero(value["density"], "density", "density")
    viscosity = parse(value["viscosity"], "dynamic_viscosity", name="viscosity", density=density) if "viscosity" in value else None
    return lambda own: RatingLiquid("as given", density, viscosity)


def need_viscosity(liquid: RatingLiquid, key: str = "rated_with") -> float:
    """The viscosity of a rating liquid [Pa s], or an error that it is missing."""
    if liquid.viscosity is None:
        raise CircuitError(f"{key!r} gives no viscosity, and this rating needs it", "name the liquid, or add the viscosity", key=key)
    return liquid.viscosity


def orifice_area(drop: float, volume_flow: float, density: float, coefficient: float) -> float:
    """Area [m2] of an orifice that passes a volume flow [m3/s] at a drop [Pa]: Q = C A √(2 Δp / ρ).

    >>> round(orifice_area(3e5, 1e-4, 750.0, 0.7) * 1e6, 3)
    5.051
    """
    return volume_flow * sqrt(density / (2.0 * drop)) / coefficient
