"""Every builder of a part of a run, by the word that files use for it. A word's keys are its function's arguments."""

from .parts_bearings import bearings, squirters
from .parts_coolers import cooler
from .parts_cooling import bypass_thermostat, core, thermostat
from .parts_filters import filter, measured_part, resistance, strainer
from .parts_fittings import adapter, elbow, opening, pickup, reducer, straight
from .parts_lines import hose, passage, tube
from .parts_pumps import centrifugal_pump, displacement_pump, electric_pump, formula_pump
from .parts_regulators import bypass_regulator, reducing_regulator
from .parts_valves import check_valve, orifice, relief_valve, valve

PARTS = {function.__name__: function for function in (
    hose, tube, passage, straight, adapter, elbow, reducer, pickup, opening, orifice, valve, check_valve, relief_valve,
    bypass_regulator, reducing_regulator, electric_pump, formula_pump, displacement_pump, centrifugal_pump,
    filter, strainer, resistance, measured_part, core, cooler, thermostat, bypass_thermostat, bearings, squirters)}

__all__ = ["PARTS", *PARTS]
