"""`pump_and_system`: what a pump gives on a bench at several volts or speeds, what the circuit asks of it, and where the two meet."""

from __future__ import annotations

import warnings
from typing import TYPE_CHECKING, Any, TypeAlias
from collections.abc import Mapping, Sequence

import numpy

from ..circuit import Circuit, CircuitError
from ..circuit.errors import meant
from ..circuit.parts_valves import orifice
from ..results import PUMPS
from ..units import parse, settled
from .axes import CASE
from .dataset import xarray
from .sweep import SweepWarning, sweep

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from xarray import Dataset
    from ..circuit.piece import Piece

Drawn: TypeAlias = "tuple[str | tuple[str, str], NDArray[numpy.float64], dict[str, str]]"  # dimensions, values, attributes

_DRIVES = {"volts": ("voltage", "V", 1.0), "speed": ("turn_rate", "rpm", 60.0)}  # kind, unit, that unit in one SI
_BORES = [f"{bore:.4g} mm" for bore in numpy.geomspace(0.1, 60.0, 60)]  # of the bench's restrictor: from shut in all but name to wide open
_TURNS, _LEAST, _MOST = 48, 0.15, 1.25  # how many drives the circuit is asked at, from and to which share of those of the curves
_STANDARD_DRIVE = {"volts": "13.5 V", "speed": "3000 rpm"}


def pump_and_system(circuit: Circuit, pump: str | None = None, drives: Sequence[str] | None = None, cases: str | None = None) -> Dataset:
    """Curves of a pump, and of the circuit that it feeds, for `flarenut.pump_picture`.

    The pump's own curve comes from a bench: a tank, this pump, a restrictor that is opened from shut to wide, in the liquid of the
    case. What the circuit asks is found in the circuit itself: each case is solved with the pump driven slower and faster, everything
    else as the case has it, and the flow and rise found are points of the system's curve.

    Parameters
    ----------
    circuit : `Circuit`; it stays as it is
    pump : name of a pump; the only one unless given
    drives : volts, ["11 V", "13.5 V"], or speeds of a driven pump, ["1000 rpm"], beside those of the cases, which have a curve each
    cases : name of a case, or a list; all of the circuit unless given

    Returns
    -------
    xarray Dataset in SI: `curve_flow` and `curve_rise` over (drive, opening); `system_flow` and `system_rise` over (case, turn); `flow`
    and `rise` over case: the operating points

    Raises
    ------
    CircuitError : no such pump, or several and none named; a pump that nothing drives

    Examples
    --------
    ``fn.pump_picture(fn.pump_and_system(car, drives=["11 V", "12.5 V", "14 V"]))``
    """
    name = _pump_named(circuit, pump)
    piece = circuit.compiled().pieces[name]
    word = next((word for element in piece.elements for word in _DRIVES if word in element.drives), None)
    if word is None:
        raise CircuitError(f"nothing drives '{name}'", "it needs volts or a speed", place="pump_and_system", key="pump", value=name)
    held = _warm(circuit, name, _conditions(circuit, cases))
    driven = {case: _drive(conditions, name, piece, word) for case, conditions in held.items()}
    wanted = {si: _text(si, word) for si in sorted({float(f"{_si(text, word):.9g}") for text in [*(drives or ()), *driven.values()]})}
    data: dict[str, Drawn] = _curves(circuit, name, piece, word, wanted, driven, held)
    data |= _system(circuit, name, word, [*wanted, *(_si(text, word) for text in driven.values())], list(held))
    coordinates = {CASE: list(held), "drive": list(wanted.values()), "case_drive": (CASE, [_text(_si(text, word), word) for text in driven.values()])}
    found: Dataset = xarray().Dataset(data, coordinates, {"title": f"{name} and what {circuit.name} asks of it", "pump": name, "shown_in": settled(None, circuit), "driven_by": word,
                                                          "circuit": circuit.name, "invented": int(circuit.invented)})
    return found


def _pump_named(circuit: Circuit, pump: str | None) -> str:
    compiled = circuit.compiled()
    pumps = list(dict.fromkeys(name for name, number in compiled.elements.values() if compiled.pieces[name].elements[number].kind in PUMPS))
    if pump is None and len(pumps) == 1:
        return pumps[0]
    if pump not in pumps:
        reason = f"there is no pump '{pump}'" if pump is not None else f"the circuit has {len(pumps) or 'no'} pumps"
        raise CircuitError(reason, meant(str(pump), pumps) if pumps else "there is none", place="pump_and_system", key="pump", value=pump)
    return pump


def _conditions(circuit: Circuit, cases: str | None) -> dict[str, dict[str, Any]]:
    """Case -> its conditions over those of the circuit."""
    names = [cases] if isinstance(cases, str) else list(cases or circuit.cases)
    for name in names:
        if name not in circuit.cases:
            raise CircuitError(f"there is no case '{name}'", meant(name, circuit.cases), place="pump_and_system", key="cases", value=name)
    found = {name: {**circuit.conditions, **circuit.cases[name].conditions} for name in names}
    return found or {"as written": dict(circuit.conditions)}


def _warm(circuit: Circuit, pump: str, held: dict[str, dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """The same, with the liquid as warm as it passes the pump where a circuit finds that."""
    answer = circuit.solve(list(held) if circuit.cases else None, other_states=False)
    return {case: {**conditions, "fluid_temperature": f"{answer[case].liquid_in(pump)['temperature']:.9g} K"}
            if answer[case].converged and answer[case].finds_temperatures else conditions for case, conditions in held.items()}


def _drive(conditions: Mapping[str, Any], pump: str, piece: Piece, word: str) -> float | str:
    """Volts or speed of a pump in a case, as written."""
    written: float | str = conditions.get(f"{pump}.{word}", conditions.get(word, piece.given.get(word, _STANDARD_DRIVE[word])))
    return written


def _si(written: object, word: str) -> float:
    found: float = parse(written, _DRIVES[word][0], name=word)
    return found


def _text(si: float, word: str) -> str:
    _, unit, factor = _DRIVES[word]
    return f"{si * factor:.6g} {unit}"


def _curves(circuit: Circuit, name: str, piece: Piece, word: str, wanted: dict[float, str], driven: Mapping[str, object],
            held: Mapping[str, Mapping[str, object]]) -> dict[str, Drawn]:
    """On the bench, each drive in the liquid of the first case that has it, or of the first case."""
    flows, rises = [], []
    for si in wanted:
        case = next((one for one, text in driven.items() if abs(_si(text, word) - si) <= 1e-8 * abs(si)), next(iter(held)))
        found = _quietly(_bench(circuit, name, piece, held[case]), {f"{name}.{word}": [_text(si, word)], "restrictor.bore": _BORES},
                         outputs=[f"{name}.flow", f"{name}.rise"])
        flow, rise = (found[f"{name}.{one}"].values.ravel() for one in ("flow", "rise"))
        order = numpy.argsort(numpy.where(numpy.isnan(flow), numpy.inf, flow))
        flows.append(flow[order])
        rises.append(rise[order])
    return {"curve_flow": (("drive", "opening"), numpy.array(flows), _of("volume_flow", "pump flow on the bench")),
            "curve_rise": (("drive", "opening"), numpy.array(rises), _of("pressure_difference", "pump pressure rise on the bench"))}


def _bench(circuit: Circuit, name: str, piece: Piece, conditions: Mapping[str, object]) -> Circuit:
    own: dict[str, Any] = {key: conditions[key] for key in ("fluid_temperature", "altitude") if key in conditions}
    bench = Circuit(f"bench of {name}", circuit.fluid, **own)
    bench.tank("bench tank", level="1 m")
    given = {key: value for key, value in piece.given.items() if key not in ("name", "rise")}
    given |= {key.removeprefix(f"{name}."): value for key, value in conditions.items() if key.startswith(f"{name}.")}
    make = piece._make
    assert make is not None, "a builder made it"
    bench.run("bench", "bench tank", "ambient", [make(**given, name=name), orifice("1 mm", name="restrictor")])
    return bench


def _system(circuit: Circuit, name: str, word: str, drives: Sequence[float],
            cases: Sequence[str]) -> dict[str, Drawn]:
    """Pairs of flow and rise as the pump in each case is driven slower and faster, and as the case drives it."""
    low, high = _LEAST * min(drives), _MOST * max(drives)
    turned = [_text(si, word) for si in numpy.linspace(low, high, _TURNS)]
    chosen = None if cases == ["as written"] and not circuit.cases else cases
    asked = [f"{name}.flow", f"{name}.rise"]
    found = _quietly(circuit, {f"{name}.{word}": turned}, chosen, asked)
    at_work = sweep(circuit, None, chosen, asked)
    flow, rise = (found[one].transpose(CASE, f"{name}.{word}").values for one in asked)
    return {"system_flow": ((CASE, "turn"), flow, _of("volume_flow", "flow the circuit takes")),
            "system_rise": ((CASE, "turn"), rise, _of("pressure_difference", "rise the circuit asks")),
            "flow": (CASE, at_work[asked[0]].values, _of("volume_flow", "pump flow")),
            "rise": (CASE, at_work[asked[1]].values, _of("pressure_difference", "pump pressure rise"))}


def _quietly(circuit: Circuit, drives: dict[str | tuple[str, ...], Sequence[object]], cases: Sequence[str] | None = None, outputs: Sequence[str] | None = None) -> Dataset:
    """A sweep of drives and openings that nobody runs: that the liquid boils at some of them is no news."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", SweepWarning)
        return sweep(circuit, drives, cases, outputs)


def _of(kind: str, words: str) -> dict[str, str]:
    return {"long_name": words, "kind": kind, "units": {"volume_flow": "m**3/s", "pressure_difference": "Pa"}[kind]}
