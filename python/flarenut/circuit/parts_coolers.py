"""Coolers and radiators that air blows through: their core and their heat."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from .. import _core
from ..fluids import Fluid, fluid
from ..units import UnitError, parse
from ..units.errors import quoted
from .amounts import above_zero, at_point, flow, not_below_zero, share_of_one
from .engine_units import in_trade_units
from .errors import CircuitError
from .parts_cooling import core
from .piece import HeatLaw, Piece, builder
from .ranges import in_words


INSIDE_SHARE = "50 %"  # of the resistance to heat, of an oil cooler at its rating (judgement, no source)
PASSAGE_BORE, PASSAGE_LENGTH = "3 mm", "300 mm"  # of a plate-and-fin oil cooler (common practice, no source)
WIND_SHARE = "20 %"  # of the vehicle's speed at the face, behind a grille (common practice, no source)
USUAL_EXCESS = 60.0  # [K] of liquid over air, of a rating that says heat per degree
_STANDARD = 101325.0  # [Pa], at which a rating's liquid is taken
_EXAMPLE = '{flow = ["10 L/min", "20 L/min"], air_speed = ["2 m/s", "6 m/s"], heat_per_degree = [["60 W/K", "85 W/K"], ["80 W/K", "120 W/K"]]}'
_make_core = core


@builder
def cooler(heat: object = None, *, face: str | Sequence[str], heat_table: Mapping[str, Sequence[str | Sequence[str]]] | None = None,
           rated_inlet: object = None, rated_air: object = None, drop: object = None, rated_with: object = None,
           inside_share: str | None = None, wetted_area: object = None, passage_bore: str | None = None, passage_length: str | None = None,
           wind_share: object = WIND_SHARE, fan: str = "0 m/s", air_rise: str | None = None, fouling: object = None,
           rated_pressure: str | None = None, bore: object = None, rise: object = None, name: str | None = None) -> Piece:
    """An oil cooler, transmission cooler, fuel cooler or radiator with air through its face, by its rating or by a table of its test.

    Away from its rating its passages follow the liquid's own film, slow liquid giving less, and its fins the air's speed. A stamped box of
    fins without a rating is worth nothing: measure flow, both liquid temperatures and the air's once, on the road.

    Parameters
    ----------
    heat : of the rating, at the liquid's flow, "9 kW at 20 L/min"; or per degree between liquid and air where they enter, "120 W/K at
        20 L/min", and then without `rated_inlet`
    face : width and height of the core where air enters, ["300 mm", "190 mm"]
    heat_table : in place of the rating, heat per degree over flow and face speed: {"flow": ["10 L/min", "20 L/min"], "air_speed":
        ["2 m/s", "6 m/s"], "heat_per_degree": [["60 W/K", "85 W/K"], ["80 W/K", "120 W/K"]]}, a row for each flow. It holds for the
        liquid of its test, as warm as it was there
    rated_inlet : of the liquid, at the rating, "110 C"; of heat per degree, 60 C above the air
    rated_air : its temperature before the face and its speed there, "35 C at 5 m/s"
    drop : needed; see `core`
    rated_with : liquid of heat and drop, "SAE 10W-40"; the circuit's own unless given. The heat stands at the rating's temperature, a drop at
        what is said here, "own at 100 C"
    inside_share : share of the resistance to heat that lies in the passages at the rating; 50 % unless given, as of an oil cooler
        (judgement, no source); 20 % of a radiator. The wetted area is then taken as 7 times the face (judgement, no source), and the
        passages as so much better than plain bores as the share needs
    wetted_area : of all passages, which are then plain bores, in place of inside_share, "0.5 m2"
    passage_bore : of one passage; of a flat one 4 × area / wetted edge. 3 mm unless given (common practice, no source)
    passage_length : way of the liquid through the core, all passes; 300 mm unless given
    wind_share : share of the vehicle's speed that blows through the face: 10 to 30 % behind a grille, 50 % well ducted (common practice, no source)
    fan : speed at the face by the fan alone, "3 m/s"; a case may set it
    air_rise : how much warmer its air is than the case's, "15 K" behind a radiator
    fouling : resistance of dirt inside [m2 K/W], a bare number, 0.0002; clean unless given. A rating is of a clean core: dirt takes from it
    rated_pressure : working pressure that it is sold for, "150 psi"; a finding says where more stands in it, as on a cold start
    bore : of its connections
    rise : height gained

    Raises
    ------
    CircuitError, UnitError, InputError : with key, value and cure

    >>> oil_cooler = cooler("9 kW at 20 L/min", rated_inlet="110 C", rated_air="35 C at 5 m/s", face=["300 mm", "190 mm"],
    ...                     drop="6 psi at 20 L/min", rated_with="SAE 10W-40 at 100 C")
    >>> oil_cooler.elements[0].heat.kind
    'air core'
    """
    if drop is None:
        raise CircuitError("a cooler without its drop says nothing of pressure", 'write drop="6 psi at 20 L/min", measured with the liquid of rated_with',
                           key="drop")
    if (heat is None) == (heat_table is None):
        raise CircuitError("a cooler's heat is known by its rating or by a table of its test, one of the two",
                           'write heat="9 kW at 20 L/min", or heat_table={"flow": [...], "air_speed": [...], "heat_per_degree": [[...], ...]}',
                           key="heat" if heat_table is None else "heat_table", value=heat_table)
    made = _make_core(drop, rated_with=rated_with, bore=bore, rise=rise)
    blown = {"face_area": _area(face), "ram_share": share_of_one(wind_share, "wind_share"), "fan_speed": not_below_zero(fan, "velocity", "fan"),
             "air_rise": 0.0 if air_rise is None else parse(air_rise, "temperature_difference", name="air_rise")}
    if rated_pressure is not None:
        above_zero(rated_pressure, "pressure_difference", "rated_pressure")
    of_rating: dict[str, Any] = {"rated_inlet": rated_inlet, "rated_air": rated_air, "inside_share": inside_share, "wetted_area": wetted_area,
                 "passage_bore": passage_bore, "passage_length": passage_length, "fouling": fouling}
    element = made.elements[0]
    element.heat = _by_rating(heat, blown, rated_with, **of_rating) if heat_table is None else _by_table(heat_table, blown, of_rating)
    element.drives = {**element.drives, "vehicle_speed": ("vehicle_speed", 1.0, 0.0), "fan": ("fan_speed", 1.0, 0.0)}
    return Piece([element], rise=made.rise)


def _by_rating(heat: object, blown: dict[str, float], rated_with: object, *, rated_inlet: object, rated_air: object,
               inside_share: str | None, wetted_area: object, passage_bore: str | None, passage_length: str | None,
               fouling: object) -> HeatLaw:
    """The `HeatLaw` of a cooler that gives its rating back."""
    rating = _rating(heat, rated_inlet, rated_air)
    shape = {"face_area": blown["face_area"],
             "passage_bore": above_zero(PASSAGE_BORE if passage_bore is None else passage_bore, "length", "passage_bore"),
             "passage_length": above_zero(PASSAGE_LENGTH if passage_length is None else passage_length, "length", "passage_length"),
             "fouling": 0.0 if fouling is None else not_below_zero(fouling, "dimensionless", "fouling")}
    if wetted_area is None:
        shape["inside_share"] = share_of_one(INSIDE_SHARE if inside_share is None else inside_share, "inside_share", 0.99)
    elif inside_share is None:
        shape["inside_area"] = above_zero(wetted_area, "area", "wetted_area")
    else:
        raise CircuitError("'inside_share' is given beside 'wetted_area'", "either tells how well the passages take up heat: give one of them",
                           key="inside_share", value=inside_share)
    liquid_of = _liquid_of(rated_with[0] if isinstance(rated_with, (list, tuple)) else rated_with)

    def numbers(own: Fluid) -> dict[str, float]:
        liquid = liquid_of(own).liquid
        amount = rating["flow"].volume(liquid.at(rating["liquid_inlet"], _STANDARD).density)
        said = {key: rating[key] for key in ("heat", "liquid_inlet", "air_inlet", "face_speed")}
        try:
            return {**_core.heat_transfer.core_of_rating(liquid, liquid_flow=amount, **said, **shape), **blown}
        except _core.InputError as refusal:
            raise _worded(refusal, heat, inside_share) from None

    return HeatLaw("air core", numbers)


# Field of a rating that the engine may refuse -> the key that says it.
_KEYS_OF_RATING = {"face_area": "face", "face_speed": "rated_air", "liquid_inlet": "rated_inlet", "inside_area": "wetted_area"}


def _worded(refusal: _core.InputError, heat: object, share: object) -> CircuitError:
    """A rating that cannot be, by the key that says it."""
    key = _KEYS_OF_RATING.get(refusal.field, refusal.field)
    if key == "inside_share":
        trouble, _, cure = refusal.trouble.partition("; ")
        return CircuitError(f"'heat' is {quoted(heat)}: it {in_trade_units(trouble)}", cure, key="heat" if share is None else key, value=heat if share is None else share)
    if key in ("heat", "liquid_flow"):
        trouble = refusal.trouble.partition(". Check")[0].partition("; check")[0]
        return CircuitError(f"'heat' is {quoted(heat)}: {in_trade_units(trouble)}", "check heat, flow, temperatures, air speed and face of the rating", key="heat", value=heat)
    return in_words(refusal, key, None)


def _by_table(written: Any, blown: dict[str, float], of_rating: Mapping[str, object]) -> HeatLaw:
    """The `HeatLaw` of a cooler by a table of its test."""
    for key, value in of_rating.items():
        if value is not None:
            raise CircuitError(f"{key!r} goes with a rating; a table tells its own", f"leave {key!r} off", key=key, value=value)
    columns = {"flow": "volume_flow", "air_speed": "velocity", "heat_per_degree": "thermal_conductance"}
    if not isinstance(written, dict) or set(written) != set(columns):
        raise CircuitError(f"'heat_table' is {quoted(written)}, not flows, air speeds and heat per degree", f"write heat_table = {_EXAMPLE}",
                           key="heat_table", value=written)
    for column, values in written.items():
        if not isinstance(values, (list, tuple)) or not values or (column == "heat_per_degree" and not all(
                isinstance(row, (list, tuple)) and len(row) == len(written["air_speed"]) for row in values)):
            raise CircuitError(f"'heat_table': {column} is {quoted(values)}", f"heat per degree has a row for each flow and in it a value for each air "
                               f"speed: {_EXAMPLE}", key="heat_table", value=written)
    if len(written["heat_per_degree"]) != len(written["flow"]):
        raise CircuitError(f"'heat_table' has {len(written['heat_per_degree'])} rows of heat for {len(written['flow'])} flows", "write a row for each flow",
                           key="heat_table", value=written)
    listed = {**written, "heat_per_degree": [one for row in written["heat_per_degree"] for one in row]}
    read = {column: [above_zero(value, kind, "heat_table") for value in listed[column]] for column, kind in columns.items()}
    return HeatLaw("heat table", blown, read)


def _rating(heat: object, rated_inlet: object, rated_air: object) -> dict[str, Any]:
    """Heat [W], flow, liquid inlet [K], air [K] and face speed [m/s] of a rating."""
    example = "35 C at 5 m/s"
    if rated_air is None:
        raise CircuitError("a rating without its air is none", f'write rated_air="{example}": its temperature before the face and its speed there', key="rated_air")
    pieces = at_point(rated_air, "rated_air", example)
    if len(pieces) != 2:
        raise CircuitError(f"'rated_air' is {quoted(rated_air)}", f"write it e.g. '{example}'", key="rated_air", value=rated_air)
    air, speed = _air_of(pieces, rated_air, example)
    pieces = at_point(heat, "heat", "9 kW at 20 L/min")
    if len(pieces) != 2:
        raise CircuitError(f"'heat' is {quoted(heat)}, more than heat and a flow", "write it e.g. '9 kW at 20 L/min'", key="heat", value=heat)
    watts, amount = pieces
    per_degree = _per_degree(watts)
    if per_degree is not None and rated_inlet is None:
        inlet, power = air + USUAL_EXCESS, USUAL_EXCESS * per_degree
    elif per_degree is not None or rated_inlet is None:
        raise CircuitError("the liquid's inlet temperature is missing" if per_degree is None else "heat per degree is the same at every inlet temperature",
                           'write rated_inlet="110 C"' if per_degree is None else "leave rated_inlet off", key="rated_inlet", value=rated_inlet)
    else:
        inlet, power = parse(rated_inlet, "temperature", name="rated_inlet"), above_zero(watts, "power", "heat")
        if inlet <= air:
            raise CircuitError(f"'rated_inlet' is {quoted(rated_inlet)}, no warmer than the rating's air of {quoted(rated_air)}",
                               "a cooler is rated with liquid hotter than its air; check both", key="rated_inlet", value=rated_inlet)
    return {"heat": power, "flow": flow(amount, "heat"), "liquid_inlet": inlet, "air_inlet": air, "face_speed": speed}


def _air_of(pieces: Sequence[str], written: object, example: str) -> tuple[float, float]:
    """Temperature [K] and speed [m/s] of the air, written in either order."""
    for temperature, speed in (pieces, pieces[::-1]):
        try:
            kelvin = parse(temperature, "temperature", name="rated_air")
        except UnitError:
            continue
        return kelvin, above_zero(speed, "velocity", "rated_air")
    raise CircuitError(f"'rated_air' is {quoted(written)}, without a temperature", f"write it e.g. '{example}'", key="rated_air", value=written)


def _per_degree(watts: str) -> float | None:
    """[W/K], or None of what is written in watts."""
    try:
        return above_zero(watts, "thermal_conductance", "heat")
    except UnitError:
        return None


def _area(face: str | Sequence[str]) -> float:
    """Area [m2] of a face given by its width and height."""
    if isinstance(face, (list, tuple)) and len(face) == 2:
        return above_zero(face[0], "length", "face") * above_zero(face[1], "length", "face")
    try:
        return above_zero(face, "area", "face")
    except UnitError:
        raise CircuitError(f"'face' is {quoted(face)}", 'write width and height, ["300 mm", "190 mm"], or its area, "0.057 m2"', key="face",
                           value=face) from None


def _liquid_of(written: object) -> Callable[..., Any]:
    """Function from the circuit's fluid to the fluid of a rating."""
    if written is None:
        return lambda own: own
    if isinstance(written, Fluid):
        return lambda own: written
    if not isinstance(written, str):
        raise CircuitError(f"'rated_with' is {quoted(written)}, not a liquid with its heat", 'name it, as "SAE 10W-40 at 100 C"', key="rated_with",
                           value=written)
    name = written.partition(" at ")[0].strip()
    return (lambda own: own) if name == "own" else (lambda own, known=fluid(name): known)
