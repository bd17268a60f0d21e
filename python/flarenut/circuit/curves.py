"""Measured curves: points of flow and pressure, and the charts of a pump by voltage."""

from ..units import UnitError, parse
from ..units.errors import quoted
from .amounts import TEST_FLUID, Flow
from .errors import CircuitError, meant

_CHART_KEYS = ("volts", "points", "flow", "pressure")


def points_of(value, key, *, flow_unit=None, pressure_unit=None, density=TEST_FLUID.density, falling=False):
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


def _point(point, key, flow_unit, pressure_unit, density):
    if not isinstance(point, (list, tuple)) or len(point) != 2:
        raise CircuitError(f"{key!r} holds {quoted(point)}, not a flow and a pressure", 'a point is written ["50 L/h", "60 psi"]',
                           key=key, value=point)
    if flow_unit is not None:
        point = [f"{one} {unit}" if type(one) in (int, float) else one for one, unit in zip(point, (flow_unit, pressure_unit))]
    for written_flow, written_pressure in (point, point[::-1]):
        try:
            pressure = parse(written_pressure, "pressure_difference", name=key)
            amount = _flow(written_flow, key, density)
            break
        except UnitError as error:
            refusal = error if written_flow is point[0] else refusal
    else:
        raise refusal
    if amount < 0:
        raise CircuitError(f"{key!r} holds a flow below zero, {quoted(point)}", "flows of a test are zero or more", key=key, value=point)
    return amount, pressure


def _flow(value, key, density):
    if type(value) in (int, float) and value == 0:
        return 0.0
    amount = Flow(*parse(value, "flow", name=key))
    if density is None and amount.basis == "mass":
        raise CircuitError(f"{key!r} holds {quoted(value)}, a flow by mass", "write points by volume, as in L/h, gph or cc/min",
                           key=key, value=value)
    return amount.volume(density)


def charts_of(value, key="curves", *, volts="13.5 V", density=TEST_FLUID.density):
    """The engine's columns of a pump's charts, at rising volts.

    Parameters
    ----------
    value : list of {"volts": 12, "points": [...]}, each with "flow" and "pressure" units where the points are bare;
        or the points of one chart alone
    volts : of a chart that does not say
    """
    if isinstance(value, dict):
        value = [value]
    if not isinstance(value, (list, tuple)) or not value:
        raise CircuitError(f"{key!r} is {quoted(value)}, not charts", 'write [{volts = 13.5, points = [["0 L/h", "95 psi"], ...]}]',
                           key=key, value=value)
    if not isinstance(value[0], dict):
        value = [{"points": value}]
    charts = sorted((_chart(one, key, volts, density) for one in value), key=lambda chart: chart[0])
    for before, after in zip(charts, charts[1:]):
        if before[0] == after[0]:
            raise CircuitError(f"{key!r} has two charts at {before[0]:g} V", "keep one for each voltage", key=key, value=value)
    return {"curve_volts": [chart[0] for chart in charts], "curve_points": [float(len(chart[1])) for chart in charts],
            "curve_flow": [one for chart in charts for one in chart[1]], "curve_rise": [one for chart in charts for one in chart[2]]}


def _chart(chart, key, volts, density):
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
