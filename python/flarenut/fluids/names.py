"""`fluid("E85")`: a liquid by the name people say."""

import re
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from .. import units
from .._core import fluids as core
from .advice import refuse_share_below_nothing, unknown
from .coolants import coolant, coolant_names
from .errors import FluidError
from .gases import refuse_gas
from .grades import engine_oil, engine_oil_grades, gear_oil, gear_oil_grades, graded
from .properties import Fluid, remembered
from .records import ethanol_blend, gasoline_record, record, rows, toml
from .service_oils import industrial_grades, industrial_oil, transmission_fluid, transmission_fluids, used_oil, used_oils

DEFAULT_CLASS = "A"  # summer: US limit 9.0 psi
_ALSO = {"power_steering": ("steering fluid",), "synthetic_steering": ("synthetic steering fluid", "central hydraulic fluid"),
         "tractor": ("UTTO", "universal tractor fluid"), "mil_prf_5606": ("MIL-PRF-5606", "MIL-H-5606")}


@cache
def _classes(fuel: str) -> dict[str, float]:
    """Maximum vapour pressure [Pa] of each class of a fuel whose name begins so."""
    return {row["class"]: float(row["vapour_pressure_max_kPa"]) * 1e3
            for row in rows("volatility_classes.csv") if row["fuel"].startswith(fuel) and row["class"]}


def _plain(name: str) -> str:
    """Lower case, without the marks people differ in."""
    return re.sub(r"[\s_.\-–/]+", "", name.lower())


@cache
def _known() -> dict[str, tuple[str, Callable[..., Any]]]:
    """Plain spelling to (name to show, maker). Ethanol shares are matched apart."""
    table = {}

    def add(maker: Callable[..., Any], shown: str, *spellings: str) -> None:
        for spelling in (shown, *spellings):
            table[_plain(spelling)] = (shown, maker)

    for letter in _classes("gasoline ASTM D4814"):
        add(lambda reid, c=letter: _gasoline(c, reid), f"gasoline class {letter}", f"petrol class {letter}")
    add(lambda reid: _gasoline(DEFAULT_CLASS, reid), "gasoline", "petrol", "summer gasoline", "summer petrol")
    add(lambda reid: _gasoline("E", reid), "winter gasoline", "winter petrol")
    for key, file, shown, *spellings in (
            ("ethanol", "alcohols.toml", "ethanol"),
            ("methanol", "alcohols.toml", "methanol", "M100"),
            ("diesel_2", "petroleum_fuels.toml", "diesel", "diesel No. 2", "diesel 2", "diesel No. 2-D"),
            ("diesel_1", "petroleum_fuels.toml", "diesel No. 1", "diesel 1", "winter diesel", "diesel No. 1-D"),
            ("water", "water.toml", "water")):
        add(lambda reid, k=key, f=file, n=shown: _from_file(f, k, n, reid), shown, *spellings)
    for grade in engine_oil_grades():
        add(lambda reid, g=grade: _without_reid(engine_oil(g), reid), f"SAE {grade}", grade, f"engine oil {grade}")
    for grade in gear_oil_grades():
        add(lambda reid, g=grade: _without_reid(gear_oil(g), reid), f"gear oil {grade}")
    for grade in industrial_grades():
        add(lambda reid, g=grade: _without_reid(industrial_oil(g), reid), f"ISO VG {grade}", f"VG {grade}", f"hydraulic oil ISO VG {grade}")
    for shown in transmission_fluids():
        spellings = ["automatic transmission fluid", "transmission fluid"] if shown == "ATF" else []
        add(lambda reid, n=shown: _without_reid(transmission_fluid(n), reid), shown, *spellings)
    for shown, key in used_oils().items():
        add(lambda reid, k=key: _without_reid(used_oil(k), reid), shown, *_ALSO.get(key, ()))
    for key, entry in toml("brake_fluids.toml").items():
        short = entry["name"].removeprefix("brake fluid ")
        add(lambda reid, k=key, n=entry["name"]: _from_file("brake_fluids.toml", k, n, reid), entry["name"], short,
            f"{short} brake fluid")
    for shown in coolant_names():
        add(lambda reid, n=shown: _without_reid(coolant(n), reid), shown)
    return table


def fluid_names() -> tuple[str, ...]:
    """Every name `fluid` knows, besides any share of ethanol (E0 to E100) or glycol and the grades nobody sampled.

    >>> "SAE 10W-40" in fluid_names() and "gasoline class A" in fluid_names()
    True
    """
    return tuple(dict.fromkeys(shown for shown, _ in _known().values()))


@remembered
def fluid(name: str, *, reid: str | None = None) -> Fluid:
    """A liquid by name.

    Gasolines carry the maximum vapour pressure of their ASTM D4814 class; plain "gasoline" is class A (summer). A blend
    "E30" holds 30 % ethanol by volume in class A gasoline.

    Parameters
    ----------
    name : "gasoline class A", "winter gasoline", "E10", "E85", "E30", "ethanol", "methanol", "diesel", "diesel No. 1",
        "SAE 10W-40", "gear oil 75W-90", "ATF", "ISO VG 46", "power steering fluid", "DOT 4", "DOT 4 wet", "water",
        "ethylene glycol 50 %", "propylene glycol 40 %". Case, spaces and hyphens do not matter.
    reid : Reid vapour pressure of the finished fuel, "9 psia"; for gasolines and blends

    Returns
    -------
    Fluid

    Raises
    ------
    FluidError : unknown name, with the nearest known one

    >>> fluid("E85")
    Fluid('E85')
    >>> fluid("diesle")
    Traceback (most recent call last):
    ...
    flarenut.fluids.errors.FluidError: unknown fluid 'diesle': did you mean 'diesel'?
    """
    if isinstance(name, Fluid):
        if reid is not None:
            raise FluidError(name.name, f"'{name.name}' is made already and takes no 'reid'", "give reid with the name")
        return name
    if not isinstance(name, str) or not name.strip():
        raise FluidError(name, f"a fluid is asked for by its name, not by {name!r}", 'write fluid("E85")')
    pressure = None if reid is None else _reid(reid)
    refuse_share_below_nothing(name)
    share = re.fullmatch(r"\s*e[\s\-]*(\d+(?:\.\d+)?)\s*%?\s*", name, re.IGNORECASE)
    if share:
        return _share(name, float(share[1]), pressure)
    plain = _plain(name)
    found = _known().get(plain)
    if found is not None:
        given: Fluid = found[1](pressure)
        return given
    refuse_gas(name)
    made = coolant(name) or graded(name, plain)
    if made is not None:
        return _without_reid(made, pressure)
    raise unknown(name, plain, _known())


def _share(name: str, percent: float, reid: float | None) -> Fluid:
    if percent > 100:
        raise FluidError(name, f"'{name}' would hold {percent:g} % ethanol", "the number after E is per cent by volume, 0 to 100")
    if percent == 0:
        return _gasoline(DEFAULT_CLASS, reid)
    if percent == 100:
        return _from_file("alcohols.toml", "ethanol", "ethanol", reid)
    return _blend(percent / 100, f"E{percent:g}", reid)


def _reid(value: str) -> float:
    """Reid vapour pressure is absolute by definition, so a bare "9 psi" is taken as that."""
    try:
        absolute: float = units.parse(value, "pressure_absolute", name="reid")
        return absolute
    except units.UnitError:
        if isinstance(value, str):
            found: float = units.parse(value, "pressure_difference", name="reid")
            return found
        raise


def _without_reid(made: Fluid | None, reid: object) -> Fluid:
    assert made is not None, "a name on the list has its liquid"
    if reid is not None:
        raise FluidError(made.name, f"'{made.name}' has no Reid vapour pressure to set", "leave 'reid' off")
    return made


def _from_file(file: str, key: str, name: str, reid: object) -> Fluid:
    return _without_reid(Fluid(core.Liquid(record(file, key, name)), _notes(toml(file)[key])), reid)


def _notes(entry: Mapping[str, object]) -> tuple[str, ...]:
    notes: tuple[str, ...] = (str(entry["note"]),) if "note" in entry else ()
    if "flash_point_C" in entry:
        who = f"{entry['flash_point_source']}, {entry['flash_point_how']}"
        notes += (f"Flash point {entry['flash_point_C']:g} C: warmer than that its vapour lights at a spark ({who}).",)
    return notes


def _gasoline(letter: str, reid: float | None) -> Fluid:
    pressure = _classes("gasoline ASTM D4814")[letter] if reid is None else reid
    name = f"gasoline class {letter}" if reid is None else "gasoline"
    note = (f"Reid vapour pressure {_in_both(pressure)}"
            + (f", the most ASTM D4814 class {letter} allows; fuel at the pump may have less." if reid is None else ", as given."))
    return Fluid(core.Liquid(gasoline_record(pressure, name)), (note, *_notes(toml("petroleum_fuels.toml")["gasoline"])))


def _in_both(pascal: float) -> str:
    """A Reid vapour pressure as both systems have it, no finer than it is known."""
    return f"{pascal / 1e5:.2f} bar ({pascal / 6894.757:.1f} psi)"


def _blend(share: float, name: str, reid: float | None) -> Fluid:
    blend = ethanol_blend(share)
    base = gasoline_record(62e3)
    if reid is None:
        gasoline_reid = _classes("gasoline ASTM D4814")[DEFAULT_CLASS]
        finished = blend.reid(base, gasoline_reid)
        note = f"mixed with class {DEFAULT_CLASS} gasoline"
    else:
        finished = reid
        gasoline_reid = blend.gasoline_reid_for(base, reid)
        note = f"mixed with gasoline of {_in_both(gasoline_reid)} to reach it"
    notes: tuple[str, ...] = (f"{100 * share:g} % ethanol by volume; Reid vapour pressure {_in_both(finished)}, {note}.",)
    if name == "E85":
        notes += ("Fuel sold as E85 holds 51-83 % ethanol (ASTM D5798): test it, or name its share.",)
    return Fluid(core.Liquid(name, gasoline_record(gasoline_reid), blend), notes)
