"""Schematics of circuits with symbols after ISO 1219-1, as SVG: layout, symbols and words are our own; nothing is fetched.

Knows circuits, results and units. `schematic` is the way in; docs/guide/schematic.md shows what comes out.
"""

from __future__ import annotations

import sys
from functools import wraps
from types import ModuleType
from typing import Any

from .draw import Schematic, schematic
from .vehicles import Schematics

__all__ = ["Schematic", "Schematics", "schematic"]


class _Room(ModuleType):
    """This room and the function that it is for have one name, which the package's front door can give to only one of them: both can be called."""

    @wraps(schematic)
    def __call__(self, *given: Any, **named: Any) -> Schematic | Schematics:
        return schematic(*given, **named)


sys.modules[__name__].__class__ = _Room
