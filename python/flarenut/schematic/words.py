"""What is written beside parts and places, and which symbol a part has."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from ..circuit.places import OPEN_AIR
from ..units import Quantity, UnitError, show
from ..units.display import as_said
from .letters import TIED
from .symbols import SYMBOLS

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece
    from ..circuit.places import Junction

_SHORT = {"straight": "adapter", "pickup": "pick-up", "electric_pump": "pump", "formula_pump": "pump", "displacement_pump": "pump",
          "centrifugal_pump": "pump", "bypass_regulator": "regulator", "reducing_regulator": "regulator", "bypass_thermostat": "thermostat",
          "core": "core"}


def symbol_of(piece: Piece) -> str | None:
    """Key of the piece's symbol in `SYMBOLS`; None where it has none, and stands as a plain box with its word."""
    word = piece.word
    if word == "filter" and piece.given.get("bypass") is not None:
        return "filter with bypass"
    if word in ("bypass_regulator", "reducing_regulator") and reference_of(piece):
        return f"{word}, referenced"
    if word == "reducer" and _grows(piece):
        return "reducer, widening"
    return word if word in SYMBOLS else None


def _grows(piece: Piece) -> bool:
    numbers = piece.elements[0].numbers if piece.elements else {}
    inlet, outlet = numbers.get("inlet_bore"), numbers.get("outlet_bore")
    return isinstance(inlet, float) and isinstance(outlet, float) and outlet > inlet


def reference_of(piece: Piece) -> str:
    """The place that a regulator's spring chamber is piped to; "" where that is open air."""
    said = piece.given.get("reference")
    return "" if said in (None, OPEN_AIR[0]) else str(said)


def word_of(piece: Piece) -> str:
    """The trade's short word for a piece."""
    return _SHORT.get(piece.word, piece.word.replace("_", " ")) or "part"


def detail_of(piece: Piece, name: str | None = None, units: str = "us") -> str:
    """Size and setting of a piece in a few words, led by its word where the name does not say it. `units` are for a line that goes by points.

    >>> from flarenut import hose
    >>> detail_of(hose("-8", "11 ft", spec="ptfe")).replace(TIED, " "), detail_of(hose("-8", "11 ft", spec="ptfe"), "feed hose").replace(TIED, " ")
    ('hose -8 ptfe 11 ft', '-8 ptfe 11 ft')
    """
    word = word_of(piece)
    said = [] if name and word.lower() in name.lower() else [word]
    given = piece.given
    if piece.length and given.get("length") is None and given.get("way") is not None:
        given = {**given, "length": show(piece.length, "length", units)}
    given = {key: _said(key, value, units) for key, value in given.items()}
    return " ".join([*said, *(text.replace(" ", TIED) for text in _SIZES.get(piece.word, _any_size)(given))])


_KINDS = {"length": "length", "set": "pressure_difference", "opens_at": "pressure_difference", "bypass": "pressure_difference", "opens": "temperature",
          "displacement": "displacement_per_turn", "heat": "power", "at": "volume_flow"}


def _said(key: str, value: Any, units: str) -> Any:
    """A word of a piece in the units of the drawing; sizes and bores stay as they are bought."""
    if key not in _KINDS or not isinstance(value, str):
        return value
    what, at, point = value.partition(" at ")
    try:
        return as_said(what, _KINDS[key], units) + (at + _said("at", point, units) if at else "")
    except UnitError:  # what is said of it in other words
        return value


def _texts(given: Mapping[str, Any], *keys: str) -> list[str]:
    return [_text(given[key]) for key in keys if given.get(key) is not None and not isinstance(given[key], (list, tuple, dict))]


def _text(value: str) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _line(given: Mapping[str, bool | str | Sequence[object] | None]) -> list[str]:
    sized = _texts(given, "size") or [f"{text} bore" for text in _texts(given, "bore")]
    bends = given.get("bends") or ()
    count = len(bends) if isinstance(bends, (list, tuple)) else 1
    made_to = "spec" if given.get("spec") is not None else "standard"
    bent = [f"{count} bend{'s' * (count > 1)}"] if count else []
    return [*sized, *_texts(given, made_to, "material", "length"), *bent]


def _passage(given: Mapping[str, object]) -> list[str]:
    return [f"{text} bore" for text in _texts(given, "bore")] + _texts(given, "length")


def _elbow(given: Mapping[str, object]) -> list[str]:
    angle = given.get("angle", 90)
    return [*(_texts(given, "size") or _texts(given, "bore")), f"{angle:g}°" if isinstance(angle, (int, float)) else str(angle)]


def _steps(given: Mapping[str, str | None]) -> list[str]:
    return [" to ".join(_texts(given, "inlet", "outlet"))]


def _counted(key: str) -> Callable[..., Any]:
    return lambda given: [f"{given.get('count')} × {text}" for text in (_texts(given, key) or [""])]


def _rated(text: str) -> list[str]:
    """"9 kW at 20 L/min" in two pieces that lines may part."""
    what, at, point = text.partition(" at ")
    return [what, f"at {point}"] if at else [what] if what else []


def _ends(given: Mapping[str, str | Sequence[str]]) -> list[str]:
    ends = given.get("ends")
    said = [str(end) for end in ends if end] if isinstance(ends, (list, tuple)) else []
    return [*(f"{end} to" for end in said[:-1]), *said[-1:]] if said else _any_size(given)


def _any_size(given: Mapping[str, object]) -> list[str]:
    return _texts(given, "size") or _texts(given, "bore")


def _setting(*keys: str, before: str = "") -> Callable[..., Any]:
    return lambda given: [before + text if before else text for text in _texts(given, *keys)]


def _sensing(key: str) -> Callable[..., Any]:
    return lambda given: [*_texts(given, key), *(f"senses {place}" for place in _texts(given, "senses"))]


_SIZES: dict[str, Callable[[Mapping[str, Any]], list[str]]] = {"hose": _line, "tube": _line, "passage": _passage, "elbow": _elbow, "reducer": _steps, "adapter": _ends,
          "bearings": _counted("diameter"), "squirters": _counted("bore"),
          "injectors": lambda given: _rated(" ".join(_counted("flow")(given))),
          "displacement_pump": _setting("displacement"), "bypass_regulator": _sensing("set"), "reducing_regulator": _sensing("set"),
          "relief_valve": _setting("opens_at"), "check_valve": _setting("opens_at"), "thermostat": _sensing("opens"),
          "bypass_thermostat": _sensing("opens"),
          "filter": _setting("bypass", before="bypass "), "cooler": lambda given: _rated(" ".join(_texts(given, "heat"))),
          "valve": _setting("bore"), "resistance": _setting(), "measured_part": _setting(), "core": _setting(), "orifice": _setting("bore")}


def demand_of(circuit: Circuit, junction: Junction, mass_flow: float | None, units: str) -> tuple[str, bool] | None:
    """(words, True where it comes in from outside) of the flow that is drawn at a place, or None. `mass_flow` [kg/s]; None: as written there."""
    drawn = junction.demand if mass_flow is None else mass_flow
    if drawn:
        amount = Quantity(abs(drawn) / circuit.liquid_density(), "volume_flow").show(units)
        return f"{'draws' if drawn > 0 else 'fed'} {amount}", drawn < 0
    if any(word.split(".")[-1] in ("demand", "supply") and word.rpartition(".")[0] == junction.name
           for case in circuit.cases.values() for word in case.conditions):
        return "draws as its case says", False
    return None


def held_at(junction: Junction, units: str) -> str:
    """The pressure that a place is held at, as written; "" for open air."""
    return show(junction.pressure, "pressure_gauge", units) if junction.pressure else ""
