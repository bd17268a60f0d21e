"""Lines that are too short for their own ends: told where the length stands, since nobody can cut them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..results import COMMON_PRACTICE, Finding
from .cut_parts import HoseCut

if TYPE_CHECKING:
    from .cut_list import CutList
    from .cut_parts import TubeCut
    from ..units.quantity import Quantity


def too_short(cuts: CutList, row: HoseCut | TubeCut) -> Finding | None:
    """The `Finding` of a `HoseCut` or `TubeCut` of which nothing, or too little, is left between its ends; None for any other."""
    where = f"{row.circuit}: {row.name}" if cuts.several else row.name
    if not isinstance(row, HoseCut):
        return _finding("tube too short", "fix", where, "its way leaves {value} of tube to cut", row.cut, None, "move its points apart", 1.0) if row.too_short else None
    cure = "a longer way, straight ends in place of angled ones, shorter ends, or an adapter in place of the hose"
    if row.too_short and row.least is not None:
        said = "its ends leave {value} of hose to cut, less than the {limit} that their two sockets hold: it cannot be made"
        return _finding("hose too short", "fix", where, said, row.cut, row.least, cure, 1.0 - row.cut.si / row.least.si)
    if isinstance(row, HoseCut) and row.may_be_too_short and row.likely is not None and row.least is not None:
        said = "with the shortest military ends of its size {value} of hose are left to cut, less than the {limit} that two sockets hold: it may be too short to make"
        return _finding("hose may be too short", "watch", where, said, row.likely, row.least,
                        f"say what its ends take up, cut_off in the price file; else {cure}", 1.0 - row.likely.si / row.least.si)
    return None


def _finding(code: str, severity: str, where: str, said: str, value: Quantity | None, limit: Quantity | None, cure: str, hurt: float) -> Finding:
    source = f"one outside diameter of hose in each: {COMMON_PRACTICE}" if limit is not None else ""
    return Finding(code, severity, where, "", said, value, limit, source, cure, hurt=hurt)
