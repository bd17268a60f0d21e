"""Build sheets: one page for the bench, out of what the circuit, its hardware and its answer say.

Knows all that it shows, and is known by the command line alone; docs/guide/build_sheet.md shows what comes out.
"""

from .sheet import Sheet, build_sheet

__all__ = ["Sheet", "build_sheet"]
