"""What the engine refuses of a part, in the keys and units of whoever wrote it.

The engine knows fields in SI: "set_pressure 6.2e+08 Pa is outside 1000 to 1e+08 Pa". The builder wrote `set = "90000 psi"`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import pi, sqrt

from .. import _core, units
from ..units.errors import UnitError, quoted
from ..units.text import split_number
from .engine_units import KINDS_OF_FIELDS, KINDS_OF_UNITS, RANGE, in_both_systems, in_trade_units
from .errors import CircuitError

# Field of the engine -> keys that may have set it, the likeliest first.
_KEYS = {
    "set_pressure": ("set", "opens_at"), "band": ("band", "droop", "override"), "full_area": ("wide_open", "rated", "bore"),
    "cracking_pressure": ("opens_at", "opens"), "relief_set_pressure": ("relief",), "second_set_pressure": ("second_opens_at",),
    "second_area": ("second_wide_open",), "bypass_pressure": ("bypass",), "bypass_area": ("bypass_flow",),
    "test_density": ("rated_with",), "rating_density": ("rated_with",), "rating_viscosity": ("rated_with",), "rated_density": ("rated_with",),
    "density_share": ("impeller",), "linear": ("drop", "through"), "quadratic": ("drop", "free_flow"), "rated_drop": ("drop",),
    "rated_flow": ("flow", "drop"),
    "rated_pressure": ("flow",), "shutoff_rise": ("dead_head",), "rated_efficiency": ("volumetric_efficiency",),
    "rated_rise": ("volumetric_efficiency",), "rated_viscosity": ("volumetric_efficiency",),
    "rated_speed": ("rated_speed", "volumetric_efficiency"), "inlet_bore": ("inlet", "ends", "bore"),
    "outlet_bore": ("outlet", "ends", "bore"),
    "included_angle": ("cone_angle", "ends"), "flow_coefficient": ("cv", "kv", "rated"), "bore": ("bore", "size", "ends"), "run1_bore": ("bore", "size"),
    "run2_bore": ("bore", "size"), "branch_bore": ("branch_bore", "branch_size", "bore", "size"), "branch_angle": ("angle",),
    "bend_angle": ("bends",), "bend_radius": ("bend_radius",), "extra_loss": ("extra_loss", "corners"), "entrance_loss": ("edge",),
    "curve_volts": ("curves",), "curve_points": ("curves",), "curve_flow": ("curves", "points"), "curve_rise": ("curves", "points"),
    "position": ("position", "height"), "flow": ("points", "heat_table"), "pressure_drop": ("points",), "gauge": ("pressure",), "demand": ("demand", "supply"),
    "pickup_forward": ("pickup",), "pickup_left": ("pickup",), "start_temperature": ("opens",), "full_temperature": ("full", "opens"),
    "viscous": ("drop", "passage_length"), "inertial": ("drop", "passages"), "land_width": ("width",), "radial_clearance": ("clearance",),
    "viscous_reynolds": ("length",),
    # Of heat laws, and of heat at places.
    "face_area": ("face",), "ram_share": ("wind_share",), "fan_speed": ("fan",), "inside_area": ("wetted_area", "inside_share", "heat"),
    "outside_conductance": ("heat",), "reference_speed": ("rated_air",), "heat_per_degree": ("heat_table",), "air_speed": ("air", "heat_table"),
    "sleeve_thickness": ("sleeve",), "wall_thickness": ("wall", "size"), "conductance": ("heat_loss",), "efficiency": ("overall_efficiency",),
}


def key_of(field: str, given: Mapping[str, object], keys: Sequence[str] = ()) -> str:
    """The key a builder wrote, or could have written, to set a field of the engine; the field itself where none is known.

    Parameters
    ----------
    field : of the engine, "set_pressure"
    given : key -> value as written
    keys : all keys the part takes

    >>> key_of("set_pressure", {"opens_at": "60 psi"}), key_of("set_pressure", {"set": "43 psi"}), key_of("length", {})
    ('opens_at', 'set', 'length')
    """
    likely = _KEYS.get(field, (field,))
    return next((key for key in likely if given.get(key) is not None), next((key for key in likely if key in keys), field))


def in_words(refusal: ValueError, key: str, written: object, *, place: str = "") -> CircuitError:
    """An engine's refusal of one field as a `CircuitError` about the key and value that were written.

    Parameters
    ----------
    refusal : the engine's InputError
    key : as written by the builder, or as a condition is called
    written : its value as written; None when it was not written
    place : "" for that of the refusal
    """
    assert isinstance(refusal, _core.InputError), "only the engine names a field"
    trouble, _, cure = refusal.trouble.rpartition("; ") if "; " in refusal.trouble else (refusal.trouble, "", "")
    place = place or refusal.place
    match = RANGE.match(trouble)
    if match is None:
        if refusal.field == "ports":
            said = key = ""  # it is about both ends
        elif key == refusal.field:
            said = f"'{key}' "
        elif isinstance(written, (list, dict)):
            said = f"'{key}': "  # too long to be quoted; the trouble says which item
        else:
            said = f"'{key}' is {quoted(written)}: {refusal.field.replace('_', ' ')} "
        reason = in_trade_units(said + trouble)
        return CircuitError(reason, in_trade_units(cure), place=place, key=key, value=written)
    unit = (match["unit"] or "").strip()
    value, least, most = (float(match[word]) for word in ("value", "least", "most"))
    kind, what = KINDS_OF_FIELDS.get(refusal.field, KINDS_OF_UNITS.get(unit)), refusal.field.replace("_", " ")
    word = key.rpartition(".")[2]
    if what == "demand":  # of a junction: a builder says what is drawn and what comes in apart, and both without a sign
        value, least, what = abs(value), 0.0, word
    allowed = _in_their_unit(value, least, most, kind, written)
    if allowed is not None:
        cure = f"give {allowed}" + (", and check its unit" if unit else "")
        return CircuitError(f"'{key}' is {quoted(written)}, outside its range", cure, place=place, key=key, value=written)
    said = f"'{key}'" if written is None else f"'{key}' is {quoted(written)}"
    if unit == "m2":  # a builder sees a hole by its diameter
        value, least, most, unit, kind, what = *(sqrt(4 * area / pi) for area in (value, least, most)), "m", "length", "hole"
    makes = ("comes to" if written is None else "makes") + ("" if what == word else f" a {what} of")
    return CircuitError(f"{said}{' ' if written is None else ', which '}{makes} {in_both_systems(value, kind, unit)}, outside its range",
                        f"check the figures and their units: the {what} may be {in_both_systems(least, kind, unit)} to {in_both_systems(most, kind, unit)}",
                        place=place, key=key, value=written)


def _in_their_unit(value: float, least: float, most: float, kind: str | None, written: object) -> str | None:
    """"0 to 3281 ft" in the unit of what was written, when that is this very number; None when it was made from more."""
    try:
        if isinstance(written, str) and kind:
            unit = split_number(written, "value")[1]
            said = units.parse(written, kind)
        else:
            said, unit = float(str(written)), ""
            kind = kind if kind in ("voltage", None) else None
        if abs(said - value) > 1e-4 * abs(value) + 1e-12 or "vacuum" in unit:
            return None
        low, high = (units.to(limit, unit, kind) if unit and kind else limit for limit in (least, most))
    except (UnitError, TypeError, ValueError, KeyError):
        return None
    if not unit and kind == "voltage":
        unit = "V"
    return f"{_short(low)} to {_short(high)} {unit}".strip()


def _short(number: float) -> str:
    """Three figures and more where whole: "60", "3281", "0.145"."""
    return f"{number:.3g}" if abs(number) < 1000 else f"{number:.0f}"
