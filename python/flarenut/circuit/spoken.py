"""Two words of runs and circuits that no law needs: what a line serves, and which way ports face."""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING, Any

from ..catalog.brakes import is_of_brakes
from ..units.errors import nearest, quoted
from .errors import CircuitError

if TYPE_CHECKING:
    from .circuit import Circuit
    from .places import Run

SERVICES = ("brakes", "clutch", "steering", "other")
UNDER_A_FOOT = ("brakes", "clutch")  # of them what a pedal presses
# Forward, left, up, as positions are said.
DIRECTIONS = {"forward": (1.0, 0.0, 0.0), "back": (-1.0, 0.0, 0.0), "left": (0.0, 1.0, 0.0), "right": (0.0, -1.0, 0.0), "up": (0.0, 0.0, 1.0),
              "down": (0.0, 0.0, -1.0)}


def service_of(written: str | None) -> str:
    """What lines serve, one of `SERVICES`, or "" for nothing said.

    >>> service_of("clutch"), service_of(None)
    ('clutch', '')
    """
    if written is None or written in SERVICES:
        return written or ""
    close = nearest(written, SERVICES) if isinstance(written, str) else None
    raise CircuitError(f"'service' is {quoted(written)}", (f"did you mean '{close}'? " if close else "") + "there are " + ", ".join(SERVICES), key="service",
                       value=written)


def may_brake(circuit: Circuit, run: Run) -> bool:
    """Whether lines of a run are bought and flared as those of brakes: it is said to serve them, or its circuit is one of
    brakes by its liquid and its names, even behind a clutch."""
    return (run.service or circuit.service) == "brakes" or is_of_brakes(circuit.family, circuit.fluid.name, circuit.name)


def under_a_foot(circuit: Circuit, run: Run, name: str | None = "") -> str:
    """"brakes" or "clutch" where a pedal presses the liquid in a line of a run, "" elsewhere: as the builder says; where nobody does, by liquid
    and names, a clutch by the name of the line or of its run."""
    said = run.service or circuit.service
    if said:
        return said if said in UNDER_A_FOOT else ""
    if not may_brake(circuit, run):
        return ""
    return "clutch" if "clutch" in f"{name} {run.name}".lower() else "brakes"


def faces_of(written: object, count: int, key: str = "faces") -> tuple[tuple[float, float, float] | None, ...]:
    """Directions that ports face, out of the part: unit vectors (forward, left, up), or None for one that is not known.

    >>> faces_of(["up", [1, 1, 0]], 2)[0]
    (0.0, 0.0, 1.0)
    """
    shape = ", ".join(['"forward"', '"up"', '"left"'][:count])
    if isinstance(written, str) or not isinstance(written, (list, tuple)) or len(written) != count:
        raise CircuitError(f"{key!r} is {quoted(written)}, not a list of {count} directions", f'write {key} = [{shape}]; "" for one that is not known; or '
                           "three numbers, forward, left and up: [1, 0, 1]", key=key, value=written)
    return tuple(_direction(one, key) for one in written)


def _direction(one: Any, key: str) -> tuple[float, float, float] | None:
    if one is None or one == "":
        return None
    if isinstance(one, str):
        if one in DIRECTIONS:
            return DIRECTIONS[one]
        close = nearest(one, DIRECTIONS)
        raise CircuitError(f"{key!r}: {one!r} is no direction", (f"did you mean '{close}'? " if close else "") + "there are " + ", ".join(DIRECTIONS) +
                           ", or three numbers, forward, left and up: [1, 0, 1]", key=key, value=one)
    numbers = isinstance(one, (list, tuple)) and len(one) == 3 and all(type(part) in (int, float) for part in one)
    long = hypot(*one) if numbers else 0.0
    if not 0.0 < long < float("inf"):
        raise CircuitError(f"{key!r}: {one!r} is no direction", "write a word such as \"up\", or three numbers, forward, left and up, not all 0: [1, 0, 1]",
                           key=key, value=one)
    return tuple(part / long for part in one)
