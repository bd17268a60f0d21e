"""A hose clamped on a spigot: its bore against the outside of the spigot."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from ..catalog.rows import table
from ..catalog.threads import nominal_tube

if TYPE_CHECKING:
    from ..catalog.ends import End

STRETCH = 1e-4  # [m] by which a bore may be below its spigot and still count as the same size: 5/16 in hose on 8 mm (judgement, no source)
_JUDGEMENT = ("common practice, no source", "common practice")


def in_millimetres(length: float) -> str:
    """A length [m] to a hundredth of a millimetre, halves upwards as a caliper's reader rounds.

    >>> in_millimetres(3 / 8 * 0.0254)
    '9.53 mm'
    """
    return f"{length * 1e3 + 1e-9:.2f} mm"


class Fit(NamedTuple):
    """Whether a hose fits, in a sentence without its full stop."""

    fits: bool
    said: str
    source: str
    how: str


def hose_fits(spigot: End, hose: End) -> Fit:
    """The `Fit` of a hose on a spigot.

    The bore is the one measured on the hose, else its size. Boat regulations (33 CFR 183.558) say by how much it may exceed the spigot; above
    1 in they say nothing, and the sizes have to be equal.

    >>> from flarenut.catalog import end
    >>> hose_fits(end("barb -6"), end("clamped barb -6")).fits, hose_fits(end("barb -5"), end("clamped barb -6")).fits
    (True, False)
    """
    outside, inside = nominal_tube(spigot), hose.bore or nominal_tube(hose)
    limit, source, how = _allowed(outside)
    over = inside - outside
    shown = f"a hose of {in_millimetres(inside)} bore on a spigot of {in_millimetres(outside)}"
    if over > limit + 1e-9:
        return Fit(False, f"{shown} is {in_millimetres(over)} too wide; a clamp takes up {in_millimetres(limit)} at most", source, how)
    if over < -STRETCH:
        return Fit(False, f"{shown} has to be forced on: use hose of the size of the spigot", *_JUDGEMENT)
    return Fit(True, f"{shown}, which may be {in_millimetres(limit)} wider", source, how)


def _allowed(outside: float) -> tuple[float, str, str]:
    """Most that a bore may exceed a spigot [m], with source and how."""
    rows = table("hose_on_spigot.csv")
    for row in rows:
        end = float(row["spigot_to_mm"]) * 1e-3
        if outside < end - 1e-6 or (row is rows[-1] and outside < end + 1e-6):
            return float(row["over_mm"]) * 1e-3, row["source"], row["how"]
    return STRETCH, *_JUDGEMENT
