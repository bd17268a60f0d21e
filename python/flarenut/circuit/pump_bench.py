"""A pump alone on a bench, by the engine's own law: what it raises with its outlet shut, and what it passes with nothing against it."""

from collections.abc import Mapping, Sequence

from .. import _core


def fields_of(kind: str) -> list[str]:
    """Names of the numbers of a kind of part."""
    return [field.name for field in _core.kinds()[kind].fields]


def no_flow_rise(kind: str, numbers: dict[str, float], columns: Mapping[str, Sequence[float]], density: float, viscosity: float) -> float:
    """What a pump raises as its outlet is shut [Pa].

    Parameters
    ----------
    kind : of the engine, "electric pump"
    numbers : its numbers [SI], volts among them
    columns : its measured columns [SI]; empty for a pump by formula
    density, viscosity : of the liquid [kg/m3], [Pa s]

    >>> numbers = {"shutoff_rise": 6e5, "quadratic": 4e13, "volts": 6.0, "rated_volts": 12.0}
    >>> round(no_flow_rise("quadratic pump", numbers, {}, 750.0, 4e-4))
    150000
    """
    solution = _solved(kind, numbers, columns, density, viscosity, shut=True)
    return float(solution.pressure_of("outlet") - solution.pressure_of("inlet"))


def free_flow(kind: str, numbers: dict[str, float], columns: Mapping[str, Sequence[float]], density: float, viscosity: float) -> float:
    """What a pump passes with no pressure against it [m3/s]; see `no_flow_rise`.

    >>> numbers = {"shutoff_rise": 6e5, "quadratic": 4e13, "volts": 12.0, "rated_volts": 12.0}
    >>> round(free_flow("quadratic pump", numbers, {}, 750.0, 4e-4) * 3.6e6)
    441
    """
    return float(_solved(kind, numbers, columns, density, viscosity, shut=False).flow_of("pump")) / density


def _solved(kind: str, numbers: dict[str, float], columns: Mapping[str, Sequence[float]], density: float, viscosity: float,
            shut: bool) -> _core.Solution:
    network = _core.Network()
    network.liquid(_core.fluids.constant_liquid("bench", density, viscosity))
    inlet = network.fixed("inlet")
    outlet = network.junction("outlet") if shut else network.fixed("outlet")
    network.part("pump", kind, [inlet, outlet], [], numbers, columns)
    return _core.Plan(network).solve(cold=True)
