"""Strength and stretch of round tube as handbooks give them: plain numbers in SI, tested against published tables.

Pressures are over that outside. `stress` is the one allowed for a working pressure, the tensile strength for bursting.
"""

from math import pi


def barlow(stress: float, od: float, wall: float) -> float:
    """Pressure [Pa] by Barlow, P = 2 S t / D: thin wall, on the safe side with the outside diameter.

    >>> round(barlow(10_000.0, 0.5, 0.049))  # psi and inches do as well
    1960
    """
    return 2.0 * stress * wall / od


def lame(stress: float, od: float, wall: float) -> float:
    """Pressure [Pa] by Lame, P = S (D² - d²) / (D² + d²): hoop stress at the bore of a thick wall.

    >>> round(lame(12_500.0, 0.5, 0.049), 1)
    2684.5
    """
    bore = od - 2.0 * wall
    return stress * (od**2 - bore**2) / (od**2 + bore**2)


def b31_3(stress: float, od: float, wall: float) -> float:
    """Pressure [Pa] by ASME B31.3, P = 2 S t / (D - 2 y t), y = 0.4, of walls under a sixth of the diameter.

    Put in the greatest diameter and the least wall that the tube's standard allows.
    """
    return 2.0 * stress * wall / (od - 0.8 * wall)


def boardman(stress: float, od: float, wall: float) -> float:
    """Pressure [Pa] by Boardman, P = 2 S t / (D - 2 F t); F = 0.4, and d / (d + D) where the wall is over a sixth of the diameter."""
    bore = od - 2.0 * wall
    share = bore / (bore + od) if wall > od / 6.0 else 0.4
    return 2.0 * stress * wall / (od - 2.0 * share * wall)


def weight_per_metre(od: float, wall: float, density: float) -> float:
    """Weight [kg/m] of a tube, empty.

    >>> round(weight_per_metre(0.009525, 0.000889, 8000.0), 5)
    0.19295
    """
    return density * pi * (od - wall) * wall


def bore_strain(pressure: float, od: float, wall: float, youngs: float, poisson: float, ends_held: bool = False) -> float:
    """Share by which the bore's volume grows under pressure, thick wall, elastic (Lame): ends closed and free, or held.

    >>> round(bore_strain(10e6, 4.7625e-3, 0.7112e-3, 205e9, 0.29) * 1e4, 4)
    3.0718
    """
    outer, inner = od**2, (od - 2.0 * wall) ** 2
    if ends_held:
        return 2.0 * pressure / youngs * (1.0 + poisson) * ((1.0 - 2.0 * poisson) * inner + outer) / (outer - inner)
    return pressure / youngs * ((1.0 - 2.0 * poisson) * 3.0 * inner + 2.0 * (1.0 + poisson) * outer) / (outer - inner)
