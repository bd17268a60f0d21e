"""Lines that are too short for their own ends: told where the length stands, since nobody can cut them."""

from ..results import COMMON_PRACTICE, Finding


def too_short(cuts, row):
    """The `Finding` of a `HoseCut` or `TubeCut` of which nothing, or too little, is left between its ends; None for any other."""
    where = f"{row.circuit}: {row.name}" if cuts.several else row.name
    if not hasattr(row, "least"):
        return _finding("tube too short", "fix", where, "its way leaves {value} of tube to cut", row.cut, None, "move its points apart", 1.0) if row.too_short else None
    cure = "a longer way, straight ends in place of angled ones, shorter ends, or an adapter in place of the hose"
    if row.too_short:
        said = "its ends leave {value} of hose to cut, less than the {limit} that their two sockets hold: it cannot be made"
        return _finding("hose too short", "fix", where, said, row.cut, row.least, cure, 1.0 - row.cut.si / row.least.si)
    if row.may_be_too_short:
        said = "with the shortest military ends of its size {value} of hose are left to cut, less than the {limit} that two sockets hold: it may be too short to make"
        return _finding("hose may be too short", "watch", where, said, row.likely, row.least,
                        f"say what its ends take up, cut_off in the price file; else {cure}", 1.0 - row.likely.si / row.least.si)
    return None


def _finding(code, severity, where, said, value, limit, cure, hurt):
    source = f"one outside diameter of hose in each: {COMMON_PRACTICE}" if limit is not None else ""
    return Finding(code, severity, where, "", said, value, limit, source, cure, hurt=hurt)
