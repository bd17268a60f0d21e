"""Words to SI numbers and back, by a closed table of units.

Units and kinds are separate: "psi" is a unit, gauge, absolute and difference are kinds. A value states its unit, the
place it goes states the kind, and a suffix (psig, psia, psid) that disagrees is an error. Nothing loses a unit in
silence. `F` is Fahrenheit, `gal` the US gallon of 231 in3. The accepted units stand in docs/guide/units.md.

>>> from flarenut import units
>>> round(units.parse("85 F", "temperature"), 2)
302.59
>>> units.parse("12 gph", "flow")[1]
'volume'
>>> round(units.to(300e3, "psi", "pressure_difference"), 1)
43.5
"""

from .display import digits, known_units, preferred_unit, show
from .display import in_unit as to
from .errors import UnitError
from .kinds import KINDS
from .quantity import Quantity
from .reading import dash, parse
from .systems import in_both, in_one, settled, shared_units

__all__ = ["KINDS", "Quantity", "UnitError", "dash", "digits", "in_both", "in_one", "known_units", "parse", "preferred_unit", "settled", "shared_units", "show", "to"]
