"""Laws of pumps, from their pages in docs/parts, by another hand. See judge_laws."""

from math import sqrt

from judge_basics import drop_law, step
from judge_curve import MonotoneCurve


def quadratic_pump(n, fluid):
    v = n["volts"] / n["rated_volts"]
    slight = sqrt(n["shutoff_rise"] / n["quadratic"]) * (1e-9 + 1e-3 * (1 - step(v / 0.1)))

    def loss(q):
        flow = q / fluid["density"]
        return n["linear"] * v * flow + n["quadratic"] * (flow * abs(flow) + slight * flow) - n["shutoff_rise"] * v * v

    return drop_law(loss)


class Chart:
    """A pump's curve, and what it becomes at `ratio` of its speed."""

    curve = MonotoneCurve

    def __init__(self, flow, rise):
        self.f, self.top_flow, self.top_rise = self.curve(flow, rise), flow[-1], max(rise)
        self.runout = flow[-1]
        if rise[-1] > 0:
            fall = -self.f.slopes[-1]
            self.runout += min(rise[-1] / fall, flow[-1]) if fall > 0 else flow[-1]

    def rise(self, ratio, flow):
        c = self.top_rise / self.top_flow**2
        pushed = max(flow - ratio * self.runout, 0.0)
        return (ratio**2 * self.f(flow / max(ratio, 1e-3)) - c * pushed**2 + c * max(-flow, 0.0) ** 2
                - 1e-6 * self.top_rise / self.top_flow * flow)


def centrifugal_pump(n, fluid, chart_of=Chart):
    chart, ratio, heavier = chart_of(n["curve_flow"], n["curve_rise"]), n["speed"] / n["rated_speed"], fluid["density"] / n["rated_density"]
    return drop_law(lambda q: -heavier * chart.rise(ratio, q / fluid["density"]))


def electric_pump(n, fluid, chart_of=Chart):
    charts, begin = [], 0
    for count in n["curve_points"]:
        rows = slice(begin, begin + int(count))
        charts.append(chart_of(n["curve_flow"][rows], n["curve_rise"][rows]))
        begin += int(count)
    volts, known = n["volts"], n["curve_volts"]
    if volts <= known[0]:
        used = [(0, 1.0)]
    elif volts > known[-1]:
        used = [(len(known) - 1, 1.0)]
    else:
        above = next(i for i, at in enumerate(known) if at >= volts)
        w = step((volts - known[above - 1]) / (known[above] - known[above - 1]))
        used = [(i, share) for i, share in ((above - 1, 1 - w), (above, w)) if share > 0]
    share = 1 + n.get("density_share", 0.0) * (fluid["density"] / n["test_density"] - 1)
    top_flow, top_rise = max(charts[i].top_flow for i, _ in used), max(charts[i].top_rise for i, _ in used)
    stall = (1 - step(volts / n.get("stall_volts", 3.0))) * top_rise / (n.get("stopped_leak", 1e-3) * top_flow) ** 2
    relief = n.get("relief_set_pressure", 0.0)

    def loss(q):
        flow = q / fluid["density"]
        rise = share * sum(weight * charts[i].rise(volts / known[i], flow) for i, weight in used)
        rise -= stall * (flow * abs(flow) + 1e-3 * top_flow * flow)
        if relief > 0:
            excess = rise / relief - 1
            rise -= (1 - n["relief_override"]) * relief * 0.5 * (excess + sqrt(excess**2 + 0.02**2))
        return -rise

    return drop_law(loss)


def displacement_pump(n, fluid):
    slipped, share = n["displacement"] * n["rated_speed"] * (1 - n["rated_efficiency"]), n.get("turbulent_share", 0.0)
    a = (1 - share) * slipped / n["rated_rise"] * n["rated_viscosity"] / fluid["viscosity"]
    b = share * slipped / sqrt(n["rated_rise"])

    def loss(q):
        slip = n["displacement"] * n["speed"] - q / fluid["density"]
        size = sqrt(slip**2 + (1e-3 * slipped) ** 2)
        return -(1 - 2 * b / (b + sqrt(b * b + 4 * a * size))) * slip / a

    return drop_law(loss)
