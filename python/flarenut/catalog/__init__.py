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
from .compatibility import Compatibility, compatible, fluid_class, liner_of
from .derating import Derated, derated
from .ends import End, end, end_forms, end_sizes
from .fittings import elbow_constants, fitting_bore
from .hose_ratings import HoseRating, hose_rating, hose_standard, hose_standards, permeation_note
from .hoses import hose_bore, hose_spec, hose_specs
from .rows import CatalogError, table
from .shop_tables import ShopTable, ShopTableError, forget, read_shop_table, use, used_tables
from .sources import source_in_words
from .supports import support_spacing
from .threads import Thread, thread_of
from .torque import fitting_material, flats_of, joint_material, may_be_steel, torque_of
from .torque_types import Flats, Torque
from .tube_ratings import TubeRating, tube_material, tube_materials, tube_rating
from .tube_words import refuse_gauge, tube_words
from .tubes import tube_wall, tube_walls

__all__ = ["AssemblyRule", "CatalogError", "Compatibility", "Derated", "Disagreement", "End", "Flats", "HoseRating", "ShopTable", "ShopTableError",
           "Thread", "Torque", "TubeRating", "assembly_rules", "compatible", "derated", "disagreements", "elbow_constants", "end", "end_forms",
           "end_sizes", "fitting_bore", "fitting_material", "flats_of", "fluid_class", "forget", "hose_bore", "hose_rating", "hose_spec", "hose_specs", "hose_standard",
           "hose_standards", "joint_material", "liner_of", "may_be_steel", "permeation_note", "read_shop_table", "source_in_words", "support_spacing", "table",
           "thread_of", "torque_of", "tube_material", "tube_materials", "tube_rating", "tube_wall", "tube_walls",
           "refuse_gauge", "tube_words", "use", "used_tables"]
