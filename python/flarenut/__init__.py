"""flarenut: what pressure, flow and margin a vehicle's fluid system will have, before line is cut.

Everything a notebook needs is here: `Circuit`, the builder functions of parts (`hose`, `elbow`, `electric_pump` ...),
`fluid`, `load` for circuit files. Names load when first used, so that importing is quick.

>>> import flarenut as fn
>>> fn.__version__
'0.1.0'
"""

import importlib
from typing import Any

__version__ = "0.1.0"

_HOMES = {
    "Circuit": "circuit", "CircuitError": "circuit", "LineNetwork": "circuit.line_network", "Vehicle": "circuit.vehicle", "load": "circuit.file", "FileError": "circuit.file",
    "fluid": "fluids", "fluid_names": "fluids", "oil": "fluids", "constant_fluid": "fluids", "FluidError": "fluids",
    "air": "fluids", "refrigerant": "fluids", "refrigerant_names": "fluids",
    "UnitError": "units", "Quantity": "units", "pressure_ladder": "plotting",
    "sweep": "studies", "between": "studies", "in_units": "studies", "words_of": "studies", "save_sweep": "studies", "load_sweep": "studies",
    "demand_picture": "plotting", "pump_picture": "plotting", "size_picture": "plotting", "suction_picture": "plotting",
    "line_sizes": "studies.line_sizes", "compare": "studies.comparison", "Sliders": "studies.sliders", "pump_and_system": "studies.pump_lines",
    "temperature_loop": "plotting", "pressure_loop": "plotting", "SweepInterrupted": "studies", "SweepWarning": "studies",
    "build_sheet": "report", "audit": "hardware", "fitted": "hardware", "mate": "hardware",
    "over_time": "studies.over_time", "OverTimeInterrupted": "studies.over_time", "time_picture": "plotting",
    "bill": "hardware.bill", "cut_list": "hardware.cut_list", "prices": "hardware.prices", "hardware_choices": "studies.hardware_choices",
    "schematic": "schematic",
}
_ROOMS = ("catalog", "checks", "circuit", "fluids", "hardware", "plotting", "report", "results", "studies", "units")


def __getattr__(name: str) -> Any:
    if name in _ROOMS:
        return importlib.import_module(f"{__name__}.{name}")
    if name.startswith("_"):
        raise AttributeError(f"module 'flarenut' has no attribute {name!r}")
    home = _HOMES.get(name, "circuit")
    if home.startswith("circuit"):
        importlib.import_module(f"{__name__}.checks")  # whoever solves a circuit hears what the checks find
    module = importlib.import_module(f"{__name__}.{home}")
    try:
        value: object = getattr(module, name)
    except AttributeError:
        raise AttributeError(f"module 'flarenut' has no attribute {name!r}") from None
    globals()[name] = value
    return value


def __dir__() -> list[Any]:
    from . import circuit

    return sorted({*globals(), *_HOMES, *_ROOMS, *circuit.__all__})
