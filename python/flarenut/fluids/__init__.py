"""Liquids by name, by grade, by two viscosities or by constant numbers; air and refrigerants as properties.

>>> from flarenut.fluids import fluid
>>> e85 = fluid("E85")
>>> round(e85.at("15 C").density.to("kg/m3"))
786
>>> [finding.property for finding in e85.range_findings("105 C")]
['density', 'conductivity', 'bulk modulus', 'vapour pressure']
"""

from .errors import FluidError
from .gases import Refrigerant, air, refrigerant, refrigerant_names
from .names import fluid, fluid_names
from .oils import constant_fluid, oil, viscosity_index
from .properties import Description, Fluid, HeatState, State
from .weather import standard_pressure, standard_temperature

__all__ = ["Description", "Fluid", "FluidError", "HeatState", "Refrigerant", "State", "air", "constant_fluid", "fluid", "fluid_names",
           "oil", "refrigerant", "refrigerant_names", "standard_pressure", "standard_temperature", "viscosity_index"]
