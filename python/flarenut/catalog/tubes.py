"""Hard line: outside diameter and wall."""

from __future__ import annotations

from typing import NamedTuple

from .rows import CatalogError, table

CLOSE = 2e-5  # [m]; a hundredth of a millimetre more than rounding makes of an inch size


def tube_walls(od: float) -> list[float]:
    """Walls [m] that a tube of an outside diameter [m] is sold with, thinnest first.

    >>> [round(wall * 1e3, 3) for wall in tube_walls(0.009525)]
    [0.711, 0.889, 1.245, 1.651]
    """
    return [float(row["wall_mm"]) * 1e-3 for row in table("tube_sizes.csv") if abs(float(row["od_mm"]) * 1e-3 - od) < CLOSE]


def tube_wall(od: float) -> float:
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
    shown = f"{od * 1e3:.4g} mm"
    if walls:
        raise CatalogError("wall", None, f"a tube of {shown} outside diameter comes with several walls",
                           f"give 'wall': {', '.join(walls)}")
    raise CatalogError("size", None, f"no tube of {shown} outside diameter in the table",
                       f"give its 'wall' or its 'bore'; nearest in the table: {' and '.join(_nearest(od))}, of {', '.join(_sizes())}")


def _sizes() -> dict[str, float]:
    """Outside diameters in the table, as they are called -> [m]."""
    return {row["od"]: float(row["od_mm"]) * 1e-3 for row in table("tube_sizes.csv")}


def _nearest(od: float) -> list[str]:
    """The size next below an outside diameter [m] and that next above it, where there are such, with millimetres beside inches."""
    known = sorted(_sizes().items(), key=lambda one: one[1])
    around = [one for one in known if one[1] < od][-1:] + [one for one in known if one[1] >= od][:1]
    return [f"{name} ({across * 1e3:.4g} mm)" if name.endswith("in") else name for name, across in around]


def flare_dash(od: float) -> int | None:
    """Dash size of the 37 degree flare fitting that a metric tube of an outside diameter [m] is flared to, with a sleeve made for it (ISO 8434-2).

    None for a diameter that has none; from memory: verify before use.

    >>> flare_dash(0.010), flare_dash(0.009)
    (6, None)
    """
    return next((int(row["dash"]) for row in table("flare_metric_tubes.csv") if abs(float(row["tube_mm"]) * 1e-3 - od) < CLOSE), None)


class NutTubes(NamedTuple):
    """Outside diameters [m] of the tubes that a nut is bored for; none where the tables do not tell."""

    outsides: tuple[float, ...]
    source: str = ""
    how: str = ""


def nut_tubes(form: str, size: str) -> NutTubes:
    """The `NutTubes` of the nut of a brake pipe: inverted, bubble and metric double flares. An inch nut by its dash.

    >>> [round(one * 1e3, 2) for one in nut_tubes("bubble flare", "M10x1").outsides], nut_tubes("inverted flare", "-3").outsides
    ([4.75, 5.0], (0.0047625,))
    """
    rows = [(float(row["tube_mm"]), row) for row in table("brake_nut_tubes.csv") if (row["form"], row["size"]) == (form, size)]
    if form == "inverted flare":
        rows = [(float(row["tube_od_mm"]), row) for row in table("threads_straight.csv") if (row["system"], row["dash"]) == ("inverted45", size)]
    if not rows:
        return NutTubes(())
    hows = {row["how"] for _, row in rows}
    return NutTubes(tuple(millimetres / 1e3 for millimetres, _ in rows), ";".join(dict.fromkeys(row["source"] for _, row in rows)),
                    hows.pop() if len(hows) == 1 else "mixed")
