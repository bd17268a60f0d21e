"""Headings of circuit files and the words of parts: which method or builder each of them calls."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ..circuit import Circuit

# Heading -> method of `Circuit`.
BY_NAME = {"tank": "tank", "junction": "junction", "fixed": "fixed", "injectors": "injectors", "case": "case"}  # [tank.main]
LISTED = {"run": "run", "tee": "tee"}  # [[run]]
SWEEP, DRIVE = "sweep", "drive"  # [sweep.NAME], [drive.NAME], which are no parts of a circuit


def part_words() -> dict[str, Callable[..., Any]]:
    """Word of every part -> its builder function, in the order of the catalogue of parts."""
    from ..parts import PARTS

    return PARTS


def headings() -> dict[str, tuple[type[Circuit] | Callable[..., Any], str]]:
    """Word of every heading -> (function whose arguments are its keys, how it is written)."""
    from ..circuit import Circuit
    from .drives import drive
    from .sweeps import sweep

    return {"circuit": (Circuit, "[circuit]"),
            **{word: (getattr(Circuit, method), f"[{word}.NAME]") for word, method in BY_NAME.items()},
            **{word: (getattr(Circuit, method), f"[[{word}]]") for word, method in LISTED.items()},
            SWEEP: (sweep, f"[{SWEEP}.NAME]"), DRIVE: (drive, f"[{DRIVE}.NAME]")}
