"""Whether an answer will fit into memory, asked before it is begun."""

import os

from ..circuit import CircuitError

_BYTES_DRAWN = 32  # for one random number: itself, and copies while its place in the draw is found
_MOST_SHARE = 0.8  # of what is free: the rest of the program wants some


def available() -> int | None:
    """Memory that is free for use [bytes], or None where the system does not tell."""
    try:
        with open("/proc/meminfo", encoding="ascii") as lines:
            for line in lines:
                if line.startswith("MemAvailable:"):
                    return int(line.split()[1]) * 1024
    except OSError:
        pass
    try:
        return os.sysconf("SC_AVPHYS_PAGES") * os.sysconf("SC_PAGE_SIZE")
    except (AttributeError, OSError, ValueError):
        return None


def refuse_draw(samples: int, dimensions: int) -> None:
    """Raises `CircuitError` when so many random samples would not fit while they are drawn."""
    needed, free = samples * dimensions * _BYTES_DRAWN, available()
    if free is not None and needed > free / 2:
        values = f"{dimensions} value{'s' * (dimensions > 1)}"
        raise CircuitError(f"{samples:,} samples of {values} need {_shown(needed)} of memory to draw, and {_shown(free)} are free", "draw fewer",
                           place="sweep", key="samples", value=samples)


def refuse_too_much(points: int, cases: int, outputs: int, bytes_per_point: int) -> None:
    """Raises `CircuitError` with the numbers and the cure when an answer would not fit."""
    needed, free = points * cases * bytes_per_point, available()
    if free is not None and needed > _MOST_SHARE * free:
        raise CircuitError(f"{points:,} points in {cases} cases with {outputs} outputs need {_shown(needed)} of memory, and {_shown(free)} are free",
                           "ask for fewer outputs, e.g. outputs=[\"rail.gauge\"], fewer cases or points, or sweep in pieces and save each",
                           place="sweep")


def _shown(size: float) -> str:
    return f"{size / 1e9:.1f} GB" if size >= 1e8 else f"{size / 1e6:.1f} MB"
