"""Tables of standard sizes: bores of hose by specification, tubes by outside diameter and wall, bores of fittings; forms of ends.

A dash number is a tube's outside diameter in sixteenths of an inch. What bore a hose of that dash has is up to its
specification, so there is no bore without one. Every row names its source and how it was obtained (SOURCES.md).

>>> from flarenut import catalog
>>> row = catalog.hose_bore(6, "ptfe")
>>> row.bore, row.how
(0.0079375, 'memory')
"""

from .ends import End, end, end_forms, end_sizes
from .fittings import elbow_constants, fitting_bore
from .hoses import hose_bore, hose_spec, hose_specs
from .rows import CatalogError, table
from .tubes import tube_wall, tube_walls

__all__ = ["CatalogError", "End", "elbow_constants", "end", "end_forms", "end_sizes", "fitting_bore", "hose_bore", "hose_spec", "hose_specs", "table",
           "tube_wall", "tube_walls"]
