"""What the judge's laws share, from docs/theory/shapes.md: the form of a law, steps, springs, seats, and Colebrook's friction."""

from math import log, log10, pi, sqrt
from typing import Callable, NamedTuple


class Law(NamedTuple):
    mismatch: Callable
    flows: int = 1
    dry: tuple = ()


def step(x):
    return 0.0 if x <= 0.0 else 1.0 if x >= 1.0 else x**3 * (10.0 - 15.0 * x + 6.0 * x * x)


def spring(x):
    """Opening of a spring-loaded seat, x bands above its setting."""
    root = sqrt(x * x + 0.02**2)
    lifted = 0.5 * (x + root) if x > 0.0 else 0.5 * 0.02**2 / (root - x)
    return lifted / sqrt(1.0 + lifted * lifted)


def flow_at_ten(area, viscosity):
    """Mass flow of Reynolds number 10 on the diameter of an area."""
    return 0.5 * sqrt(pi) * 10.0 * sqrt(area) * viscosity


def circle(bore):
    return 0.25 * pi * bore * bore


def colebrook(reynolds, roughness):
    """Darcy factor; by turns from a middling start until nothing moves."""
    x = 7.0
    for _ in range(100):
        inside = roughness / 3.7 + 2.51 * x / reynolds
        newer = x - (x + 2.0 * log10(inside)) / (1.0 + 2.0 / log(10.0) * 2.51 / reynolds / inside)
        if abs(newer - x) < 1e-14 * x:
            break
        x = newer
    return 1.0 / (newer * newer)


def drop_law(loss, dry=()):
    """Law of a part that costs `loss(q)`."""
    return Law(lambda p, q: (p[0] - p[1] - loss(q[0]),), 1, dry)


def seat_law(opening, area, coefficient, fluid):
    """Law of an opening that pressures set: opening² Δp against what the flow costs wide open."""
    resistance = 1.0 / (2.0 * fluid["density"] * (coefficient * area) ** 2)
    linear = flow_at_ten(area, fluid["viscosity"])
    return Law(lambda p, q: (opening(p) ** 2 * (p[0] - p[1]) - resistance * (q[0] * abs(q[0]) + linear * q[0]),))
