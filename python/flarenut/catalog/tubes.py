"""Hard line: outside diameter and wall."""

from ..units.errors import nearest
from .rows import CatalogError, table

CLOSE = 2e-5  # [m]; a hundredth of a millimetre more than rounding makes of an inch size


def tube_walls(od):
    """Walls [m] that a tube of an outside diameter [m] is sold with, thinnest first.

    >>> [round(wall * 1e3, 3) for wall in tube_walls(0.009525)]
    [0.711, 0.889, 1.245, 1.651]
    """
    return [float(row["wall_mm"]) * 1e-3 for row in table("tube_sizes.csv") if abs(float(row["od_mm"]) * 1e-3 - od) < CLOSE]


def tube_wall(od):
    """The usual wall [m] of a line of an outside diameter [m], where there is one.

    Raises
    ------
    CatalogError : a size with several walls in use, or a size that is not in the table

    >>> round(tube_wall(0.009525) * 1e3, 3)
    0.889
    """
    for row in table("tube_sizes.csv"):
        if row["usual"] and abs(float(row["od_mm"]) * 1e-3 - od) < CLOSE:
            return float(row["wall_mm"]) * 1e-3
    walls = [f"{row['wall_in']} in" if row["od"].endswith("in") else f"{row['wall_mm']} mm"
             for row in table("tube_sizes.csv") if abs(float(row["od_mm"]) * 1e-3 - od) < CLOSE]
    shown = f"{od * 1e3:.2f} mm"
    if walls:
        raise CatalogError("wall", None, f"a tube of {shown} outside diameter comes with several walls",
                           f"give 'wall': {', '.join(walls)}")
    sizes = list(dict.fromkeys(row["od"] for row in table("tube_sizes.csv")))
    close = nearest(shown, sizes)
    raise CatalogError("size", None, f"no tube of {shown} outside diameter in the table",
                       "give 'wall' or 'bore'; the table holds " + ", ".join(sizes) + (f"; did you mean '{close}'?" if close else ""))


def flare_dash(od):
    """Dash size of the 37 degree flare fitting that a metric tube of an outside diameter [m] is flared to, with a sleeve made for it (ISO 8434-2).

    None for a diameter that has none; from memory: verify before use.

    >>> flare_dash(0.010), flare_dash(0.009)
    (6, None)
    """
    return next((int(row["dash"]) for row in table("flare_metric_tubes.csv") if abs(float(row["tube_mm"]) * 1e-3 - od) < CLOSE), None)
