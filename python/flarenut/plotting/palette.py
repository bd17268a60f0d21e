"""Colours told apart by colour-blind readers, and in grey: each next one differs in lightness as well as hue.

Chosen by us: dark blue, burnt orange, sea green, plum, ochre, slate. Lines also differ in dash and marker, so that colour is
never alone in saying which is which.
"""

from typing import Any

COLOURS = ("#14406b", "#c4561a", "#2f9c8a", "#4a1942", "#c79a1b", "#5c6670")
DASHES = ("-", "--", "-.", (0, (1, 1.2)), (0, (5, 1.5, 1, 1.5, 1, 1.5)), (0, (8, 2)))
MARKERS = ("o", "s", "^", "D", "v", "P")
FAINT = "#b9c0c7"
INK = "#22282e"
QUIET = "#4f5a64"  # smaller words: over 6 : 1 on white


def style(number: int) -> dict[str, Any]:
    """Keywords for the line of the number-th case: each of the first 36 has colour and dash, and dash and marker, to itself.

    A colour that comes again has another dash and another marker, so that the seventh is not taken for the first.
    """
    turns = number // len(COLOURS)
    return {"color": COLOURS[number % len(COLOURS)], "linestyle": DASHES[(number + turns) % len(DASHES)],
            "marker": MARKERS[(number + 2 * turns) % len(MARKERS)], "markersize": 4.5, "linewidth": 1.8}
