"""Measured curves: points of flow and pressure, and the charts of a pump by voltage."""


from ..units import UnitError, parse
from ..units.errors import quoted
from .amounts import TEST_FLUID, Flow
from .errors import CircuitError, meant

_CHART_KEYS = ("volts", "points", "flow", "pressure")


def points_of(value: object, key: str, *, flow_unit: str | None = None, pressure_unit: str | None = None,
              density: float | None = TEST_FLUID.density, falling: bool = False) -> tuple[list[float], list[float]]:
    """Flows [m3/s], rising, and pressures [Pa] of a list of pairs, in either order of flow and pressure.

    Parameters
    ----------
    value : [["50 L/h", "60 psi"], ...]; bare numbers where the units are given apart
    flow_unit, pressure_unit : "L/h", "psi"; for bare numbers
    density : [kg/m3], for flows by mass; None where it is not known yet, and then they are refused
    falling : whether pressure falls with flow, as a pump's does, so that a curve that does not is refused
    """
    if not isinstance(value, (list, tuple)) or len(value) < 2:
        raise CircuitError(f"{key!r} is {quoted(value)}, not two or more points", 'write [["0 L/h", "80 psi"], ["300 L/h", "20 psi"]]',
                           key=key, value=value)
    if (flow_unit is None) != (pressure_unit is None):
        raise CircuitError("the units of bare points need both flow and pressure", 'write flow = "L/h", pressure = "psi"', key=key, value=value)
    pairs = sorted(_point(one, key, flow_unit, pressure_unit, density) for one in value)
    flows, pressures = [list(column) for column in zip(*pairs)]
    for before, after in zip(flows, flows[1:]):
        if after <= before:
            raise CircuitError(f"{key!r} holds the flow of {after * 3.6e6:.6g} L/h twice", "keep one point for each flow", key=key, value=value)
    if falling and pressures[-1] >= pressures[0]:
        raise CircuitError(f"{key!r} has its pressure rising with flow", "check the order: a point is a flow and the pressure there",
                           key=key, value=value)
    return flows, pressures


def _point(point: object, key: str, flow_unit: str | None, pressure_unit: str | None, density: float | None) -> tuple[float, float]:
    if not isinstance(point, (list, tuple)) or len(point) != 2:
        raise CircuitError(f"{key!r} holds {quoted(point)}, not a flow and a pressure", 'a point is written ["50 L/h", "60 psi"]',
                           key=key, value=point)
    if flow_unit is not None:
        point = [f"{one} {unit}" if isinstance(one, (int, float)) and not isinstance(one, bool) else one for one, unit in zip(point, (flow_unit, pressure_unit))]
    refusal: UnitError | None = None
    for written_flow, written_pressure in (point, point[::-1]):
        try:
            pressure = parse(written_pressure, "pressure_difference", name=key)
            amount = _flow(written_flow, key, density)
            break
        except UnitError as error:
            refusal = error if refusal is None or written_flow is point[0] else refusal
    else:
        assert refusal is not None, "both orders were tried"
        raise refusal
    if amount < 0:
        raise CircuitError(f"{key!r} holds a flow below zero, {quoted(point)}", "flows of a test are zero or more", key=key, value=point)
    return amount, pressure


def _flow(value: object, key: str, density: float | None) -> float:
    if isinstance(value, (int, float)) and not isinstance(value, bool) and value == 0:
        return 0.0
    amount = Flow(*parse(value, "flow", name=key))
    if density is None and amount.basis == "mass":
        raise CircuitError(f"{key!r} holds {quoted(value)}, a flow by mass", "write points by volume, as in L/h, gph or cc/min",
                           key=key, value=value)
    return amount.volume(TEST_FLUID.density if density is None else density)


def charts_of(value: object, key: str = "curves", *, volts: object = "13.5 V",
              density: float = TEST_FLUID.density) -> dict[str, list[float]]:
    """The engine's columns of a pump's charts, at rising volts.

    Parameters
    ----------
    value : list of {"volts": 12, "points": [...]}, each with "flow" and "pressure" units where the points are bare;
        or the points of one chart alone
    volts : of a chart that does not say
    """
    given = [value] if isinstance(value, dict) else value
    if not isinstance(given, (list, tuple)) or not given:
        raise CircuitError(f"{key!r} is {quoted(value)}, not charts", 'write [{volts = 13.5, points = [["0 L/h", "95 psi"], ...]}]',
                           key=key, value=value)
    if not isinstance(given[0], dict):
        given = [{"points": given}]
    charts = sorted((_chart(one, key, volts, density) for one in given), key=lambda chart: chart[0])
    for before, after in zip(charts, charts[1:]):
        if before[0] == after[0]:
            raise CircuitError(f"{key!r} has two charts at {before[0]:g} V", "keep one for each voltage", key=key, value=value)
    return {"curve_volts": [chart[0] for chart in charts], "curve_points": [float(len(chart[1])) for chart in charts],
            "curve_flow": [one for chart in charts for one in chart[1]], "curve_rise": [one for chart in charts for one in chart[2]]}


def _chart(chart: object, key: str, volts: object, density: float) -> tuple[float, list[float], list[float]]:
    if not isinstance(chart, dict):
        raise CircuitError(f"{key!r} holds {quoted(chart)}, not a chart", 'a chart is {volts = 12, points = [...]}', key=key, value=chart)
    for word in chart:
        if word not in _CHART_KEYS:
            raise CircuitError(f"a chart has no {word!r}", meant(word, _CHART_KEYS), key=key, value=chart)
    if "points" not in chart:
        raise CircuitError("a chart without its points", 'add points = [["0 L/h", "95 psi"], ...]', key=key, value=chart)
    flows, rises = points_of(chart["points"], key, flow_unit=chart.get("flow"), pressure_unit=chart.get("pressure"), density=density,
                             falling=True)
    at = parse(chart.get("volts", volts), "voltage", name="volts")
    if at <= 0:
        raise CircuitError(f"a chart at {at:g} V", "give the voltage it was taken at", key=key, value=chart)
    return at, flows, rises
