"""Choices of hose and tube for programs: an xarray Dataset over choice, place and case."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .dataset import xarray

if TYPE_CHECKING:
    from xarray import Dataset

    from ..units import Quantity
    from .hardware_choices import HardwareChoices

_NAN = float("nan")


def as_dataset(study: HardwareChoices) -> Dataset:
    """See `HardwareChoices.to_dataset`."""
    library = xarray()
    names = [choice.name for choice in study.choices]
    totals = [None if choice.bill is None else choice.bill.total for choice in study.choices]

    def over_choices(values: list[float], words: str, **attrs: str) -> tuple[str, list[float], dict[str, str]]:
        return "choice", values, {"long_name": words, **attrs}

    pressures = [[[_si(choice.pressures.get((place, case))) for case in study.cases] for place in study.places] for choice in study.choices]
    mass, volume = {"units": "kg", "kind": "mass"}, {"units": "m**3", "kind": "volume"}
    data: dict[str, tuple[Any, ...]] = {
        "pressure": (("choice", "place", "case"), pressures, {"long_name": "pressure (gauge)", "units": "Pa", "kind": "pressure_gauge"}),
        "volume": over_choices([_NAN if one is None else _si(one.volume) for one in totals], "liquid in lines", **volume),
        "dry": over_choices([_NAN if one is None else _si(one.dry) for one in totals], "parts, dry", **mass),
        "dry_change": over_choices([_si(study.weight_change(name)) for name in names], "change of parts, dry", **mass),
        "cost": over_choices([_NAN if one is None or one.cost is None else one.cost for one in totals], "cost", units="1"),
        "cost_change": over_choices(
            [_NAN if (change := study.cost_change(name)) is None else change for name in names], "change of cost", units="1"
        ),
    }
    for severity in ("stop", "fix"):
        counts = [
            float(sum(one.severity == severity for one in choice.once.values())) if choice.answer is not None else _NAN
            for choice in study.choices
        ]
        data[f"findings_{severity}"] = over_choices(counts, f"findings that say {severity.upper()}, each once over all cases", units="1")
    coordinates = {"choice": names, "place": list(study.places), "case": list(study.cases),
                   "refused": ("choice", [choice.refusal for choice in study.choices], {"long_name": "why there is no answer"})}
    found: Dataset = library.Dataset(
        data,
        coordinates,
        {
            "title": f"choices of {' and '.join(study.lines)}",
            "circuit": study.circuit,
            "invented": int(study.invented),
            "lines": list(study.lines),
            "unit_system": "si",
            "shown_in": study.units,
            "currency": study.prices.currency if study.prices else "",
        },
    )
    return found


def _si(value: Quantity | None) -> float:
    return _NAN if value is None else value.si
