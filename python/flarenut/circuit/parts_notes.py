"""What answers should know of the parts beside numbers: the pressure a regulator was set to in the builder's words, presets that
stand in for what nobody said, what the words of a case make of their values."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from .. import catalog
from ..units import parse
from .amounts import flow
from .curves import charts_of
from .made_of import made_of
from .heat_hints import no_way_back, swapped_thermostats, thermostat_pairs
from .heat_unsaid import by_unsaid_air, fluid_temperature_idle, mixing_tanks
from .parts_coolers import INSIDE_SHARE, PASSAGE_BORE, PASSAGE_LENGTH
from .parts_filters import is_two
from .parts_pumps import TEST_DENSITY, VOLTS
from .parts_regulators import USUAL_WIDE_OPEN

if TYPE_CHECKING:
    from .backwards import Backwards
    from .circuit import Circuit
    from .heat_hints import Pair, Swapped
    from .made_of import MadeOf
    from .other_states import Difference
    from .piece import Piece
    from .trial import Trial


class Setting(NamedTuple):
    """What a regulator was set to, as written."""

    pressure: float  # over its reference [Pa]
    flow: float | None = None  # return flow it was read off at [m3/s]; None: at the least flow


class Driven(NamedTuple):
    """What a word of a case makes of its value: pulley ratio times speed, volts less those lost in the wiring."""

    number: str  # of the plan
    factor: float
    offset: float


@dataclass(frozen=True)
class Notes:
    """Of one case of a circuit."""

    settings: dict[str, Setting] = field(default_factory=dict)  # regulator, the engine's name -> Setting
    assumed: dict[str, list[str]] = field(default_factory=dict)  # piece -> ["band 2 psi", ...]: presets nobody said anything against
    driven: dict[str, dict[str, Driven]] = field(default_factory=dict)  # part, the engine's name -> word of a case -> `Driven`
    charts: dict[str, Mapping[str, Sequence[float]]] = field(
        default_factory=dict
    )  # pump by charts or a curve, the engine's name -> its measured columns [SI]
    rated_pressures: dict[str, float] = field(default_factory=dict)  # cooler, the engine's name -> pressure it is sold for, gauge [Pa]
    idle_shares: tuple[str, ...] = ()  # places that take up a share of an engine power which nothing says
    no_way_back: tuple[str, ...] = ()  # places that liquid of a loop runs out at and does not come back from
    swapped_thermostats: tuple[Swapped, ...] = ()  # `heat_hints.Swapped`
    thermostat_pairs: tuple[Pair, ...] = ()  # in two ways between the same places
    by_unsaid_air: tuple[str, ...] = ()  # parts and places that give heat to air whose temperature nobody said
    fluid_temperature_idle: bool = False  # it moves nothing, for temperatures are found
    mixing: tuple[str, ...] = ()  # tanks whose temperature follows from what returns
    moment: tuple[str, ...] = ()  # tanks whose temperature would, but that the case gives one
    steady: bool = True  # no moment of a drive
    other_states: tuple[
        tuple[Difference, ...], ...
    ] = ()  # of each other steady state where it differs most: a tuple of `other_states.Difference`
    made_of: dict[str, MadeOf] = field(default_factory=dict)  # hose or tube -> its `MadeOf`
    maker_pressures: dict[str, float] = field(
        default_factory=dict
    )  # part that is no line, the engine's name -> working pressure its maker states [Pa], gauge
    hardware_said: bool = False  # whether anything is said of what parts are made of or screwed onto
    not_searched: str = ""  # why other steady states could not be looked for
    says_it_all: bool = False  # `unsolved` stands in place of the engine's cause
    unsolved: str = ""  # of a case without an answer: what the words tell of it beside the engine's cause
    backwards: Backwards | None = None  # what is the wrong way round where a case has no answer: `unsolved` tells it
    trial: Trial | None = field(
        default=None, compare=False, repr=False
    )  # the case as it stood, to try another size in; None of a moment or a sweep


def notes_of(circuit: Circuit, conditions: Mapping[str, object], changed: Mapping[str, Piece]) -> Notes:
    """The `Notes` of a circuit in a case.

    conditions : of circuit and case, word -> value as written
    changed : pieces that the case puts in the place of others, by name
    """
    pieces = {**circuit.compiled().pieces, **changed}
    settings = {name + piece.elements[0].suffix: _setting(piece, circuit) for name, piece in pieces.items() if piece.word in _REGULATORS}
    assumed = {name: found for name, piece in pieces.items() if (found := assumed_of(piece, conditions, circuit.family))}
    if _manifold_unsaid(circuit, conditions):
        assumed["manifold"] = ["pressure that of the open air"]
    driven = {
        name + element.suffix: {word: Driven(f"{name}{element.suffix}.{field}", *law) for word, (field, *law) in element.drives.items()}
        for name, piece in pieces.items()
        for element in piece.elements
        if element.drives
    }
    charts = {name + element.suffix: element.columns for name, piece in pieces.items() for element in piece.elements
              if element.kind in ("electric pump", "centrifugal pump")}
    rated = {name + piece.elements[0].suffix: parse(piece.given["rated_pressure"], "pressure_difference", name="rated_pressure")
             for name, piece in pieces.items() if piece.given.get("rated_pressure") is not None}
    lines = {name: line for name, piece in pieces.items() if (line := made_of(piece)) is not None}
    makers = {
        name: piece.shop.maker_pressure for name, piece in pieces.items() if piece.shop.maker_pressure is not None and name not in lines
    }
    said = Notes(settings, assumed, driven, charts, rated, _idle_shares(circuit, conditions), made_of=lines, maker_pressures=makers,
                 hardware_said=_hardware_said(circuit, pieces))
    if not circuit.finds_temperatures:
        return said
    mixing, moment = mixing_tanks(circuit, conditions)
    return replace(
        said,
        no_way_back=no_way_back(circuit),
        swapped_thermostats=swapped_thermostats(circuit),
        thermostat_pairs=thermostat_pairs(circuit),
        by_unsaid_air=by_unsaid_air(circuit, conditions, pieces),
        fluid_temperature_idle=fluid_temperature_idle(circuit, conditions),
        mixing=mixing,
        moment=moment,
    )


def _hardware_said(circuit: Circuit, pieces: Mapping[str, Piece]) -> bool:
    return any(piece.shop.said or _names_a_standard(piece) for piece in pieces.values()) or any(
        end is not None for run in circuit.runs.values() for end in run.meets
    )


def _names_a_standard(piece: Piece) -> bool:
    """Whether a hose's `spec` is a standard's own name, or one of a shop's own table, and not that of a family."""
    spec = piece.given.get("spec") if piece.word == "hose" else None
    try:
        return spec is not None and _bare(catalog.hose_standard(spec)) == _bare(spec)
    except catalog.CatalogError:
        return False


def _bare(name: str) -> str:
    return re.sub(r"[\s_./-]+", "", re.sub(r"(?i)^sae\b", "", name.strip()).lower())


def _idle_shares(circuit: Circuit, conditions: Mapping[str, object]) -> tuple[str, ...]:
    """Places whose heat is a share of the engine's power, where a case says neither the power nor the heat."""
    return tuple(name for name, junction in circuit.junctions.items()
                 if junction.heat_share and "engine_power" not in conditions and f"{name}.heat" not in conditions)


def _manifold_unsaid(circuit: Circuit, conditions: Mapping[str, object]) -> bool:
    """Injectors or a regulator go by the manifold, and neither the circuit nor the case says what is in it."""
    manifold = circuit.junctions.get("manifold")
    return manifold is not None and manifold.implied and not {"manifold", "manifold.pressure"} & set(conditions)


_REGULATORS = ("bypass_regulator", "reducing_regulator")


def _setting(piece: Piece, circuit: Circuit) -> Setting:
    written = piece.given.get("set_flow")
    rating = piece.elements[0].rating
    assert rating is not None, "a regulator was rated with a liquid"
    spilled = None if written is None else flow(written, "set_flow").volume(rating(circuit.fluid).density)
    return Setting(parse(piece.given["set"], "pressure_difference", name="set"), spilled)


# ---- presets that move an answer ----

def _on_unsaid_volts(piece: Piece, family: str) -> bool:
    """A chart that does not say its volts."""
    return any(not (isinstance(chart, dict) and "volts" in chart) for chart in piece.given["curves"])


def _on_test_density(piece: Piece, family: str) -> bool:
    """A pump's chart by volume, of a pump that is no impeller, says the same whatever it was taken with."""
    return bool(piece.given.get("impeller")) or _by_mass(piece)


@lru_cache(maxsize=64)  # read at every solve, and nothing alters a piece in place
def _by_mass(piece: Piece) -> bool:
    volts = piece.given.get("rated_volts", VOLTS)
    light, heavy = (charts_of(piece.given["curves"], volts=volts, density=density)["curve_flow"] for density in (500.0, 1000.0))
    return light != heavy


def _one_drop_of_thick_liquid(piece: Piece, family: str) -> bool:
    return family != "fuel" and not is_two(piece.given["drop"])


def _one_drop_of_a_core(piece: Piece, family: str) -> bool:
    return piece.given.get("drop") is not None and not is_two(piece.given["drop"])


def _by_rating(piece: Piece, family: str) -> bool:
    return piece.given.get("heat_table") is None


def _by_rating_without_area(piece: Piece, family: str) -> bool:
    return _by_rating(piece, family) and piece.given.get("wetted_area") is None


def _may_be_thick(piece: Piece, family: str) -> bool:
    """Of fuel and water the square law holds; oil creeps through a cooler, and is some way between."""
    return family not in ("fuel", "water")


# word of a part -> key -> (preset in words, or None for that of its builder; when it matters, or None for always)
_PRESETS: dict[str, dict[str, tuple[str | None, Callable[[Piece, str], bool] | None]]] = {
    "bypass_regulator": {"wide_open": (USUAL_WIDE_OPEN, None), "band": (None, None)},
    "reducing_regulator": {"droop": (None, None)},
    "relief_valve": {"override": (None, None)},
    "injectors": {"duty": ("100 %", None)},
    "electric_pump": {"volts": (None, None), "rated_volts": (f"charts taken at {VOLTS}", _on_unsaid_volts),
                      "rated_with": (f"charts taken at {TEST_DENSITY}", _on_test_density)},
    "formula_pump": {"volts": (None, None)},
    "displacement_pump": {"volumetric_efficiency": (None, None)},
    "filter": {"viscous_share": ("70 %", _one_drop_of_thick_liquid),
               "bypass_flow": ("the rated flow at half of 'bypass'", lambda piece, family: piece.given.get("bypass") is not None)},
    "resistance": {"exponent": (None, _may_be_thick)},
    "core": {"viscous_share": ("50 % of oil, 20 % of a thin liquid", _one_drop_of_a_core)},
    "cooler": {"inside_share": (INSIDE_SHARE, _by_rating_without_area), "wind_share": (None, None),
               "passage_bore": (PASSAGE_BORE, _by_rating), "passage_length": (PASSAGE_LENGTH, _by_rating)},
    "thermostat": {"full": ("12 C above 'opens'", None), "bleed": (None, None)},
    "bypass_thermostat": {"full": ("12 C above 'opens'", None)},
    "bearings": {"eccentricity": (None, None), "film_viscosity": ("that of the gallery", None)},
    "squirters": {"opens": (None, None)},
    "strainer": {"viscous_share": ("30 %", _one_drop_of_thick_liquid)},
}


def assumed_of(piece: Piece, conditions: Mapping[str, object], family: str) -> list[str]:
    """Presets of a piece that stand for what neither it nor a case says: texts such as "band 2 psi".

    >>> from flarenut import bypass_regulator
    >>> assumed_of(bypass_regulator("43.5 psi", reference="manifold", band="3 psi"), {}, "fuel")
    ['wide_open 30 psi at 400 L/h']
    """
    said = {word for element in piece.elements for word in element.drives if word in conditions}
    if "power" in conditions:
        said.add("duty")
    return [f"{key} {_preset(piece, key) if words is None else words}" for key, (words, matters) in _PRESETS.get(piece.word, {}).items()
            if key not in said and piece.given.get(key) is None and (matters is None or matters(piece, family))]


def _preset(piece: Piece, key: str) -> float | str:
    assert piece._make is not None, "a builder made it"
    found: float | str = inspect.signature(piece._make).parameters[key].default
    return found
