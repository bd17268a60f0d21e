"""Tables of standard sizes: bores of hose by specification, tubes by outside diameter and wall, bores of fittings; forms of ends,
their threads and how tight they are screwed; where sources differ.

A dash number is a tube's outside diameter in sixteenths of an inch. What bore a hose of that dash has is up to its
specification, so there is no bore without one. Every row names its source and how it was obtained (SOURCES.md).

>>> from flarenut import catalog
>>> row = catalog.hose_bore(6, "ptfe")
>>> row.bore, row.how
(0.0079375, 'memory')
"""

from .assembly import AssemblyRule, Disagreement, assembly_rules, disagreements
from .ends import End, end, end_forms, end_sizes
from .fittings import elbow_constants, fitting_bore
from .hoses import hose_bore, hose_spec, hose_specs
from .rows import CatalogError, table
from .sources import source_in_words
from .threads import Thread, thread_of
from .torque import Flats, Torque, flats_of, joint_material, torque_of
from .tubes import tube_wall, tube_walls

__all__ = ["AssemblyRule", "CatalogError", "Disagreement", "End", "Flats", "Thread", "Torque", "assembly_rules", "disagreements",
           "elbow_constants", "end", "end_forms", "end_sizes", "fitting_bore", "flats_of", "hose_bore", "hose_spec", "hose_specs",
           "joint_material", "source_in_words", "table", "thread_of", "torque_of", "tube_wall", "tube_walls"]
