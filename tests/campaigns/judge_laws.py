"""The laws of parts, written by another hand from the pages docs/parts and docs/theory/shapes.md alone.

Plain numbers, SI, mass flows [kg/s]. A law is a `Law`: how many flows it has, and `mismatch(p, q)`, the pressures [Pa] that are zero when it
holds. `p` are the pressures at `start`, `end` and, where the part has them, at the branch or the sensed and reference places, all taken to
the height of `start` as docs/theory/shapes.md says; `q` its flows. `dry` names the places of `p` whose height counts for nothing.
"""

from math import log10, pi, sin, sqrt

from judge_basics import Law, circle, colebrook, drop_law, flow_at_ten, seat_law, spring, step
from judge_curve import MonotoneCurve
from judge_pumps import centrifugal_pump, displacement_pump, electric_pump, quadratic_pump
from judge_tee import tee_law

INCH = 0.0254


def line_loss(n, fluid):
    bore, rho, mu = n["bore"], fluid["density"], fluid["viscosity"]
    area, rough = circle(bore), n["roughness"] / bore
    angle = n.get("bend_angle", 0.0)
    count, one = (1.0, angle) if angle <= pi / 2 else (angle / (pi / 2), pi / 2)
    half = sin(one / 2)
    with_friction = count * (2.4 * half + 6.6 * (sqrt(half) + half) / (n["bend_radius"] / bore) ** (4 * one / pi)) if angle > 0 else 0.0
    constant = count * 0.10 * half + n.get("extra_loss", 0.0)

    def loss(q):
        speed = q / (rho * area)
        reynolds = rho * abs(speed) * bore / mu
        f_re = 64.0
        if reynolds > 2000.0:
            f_re += step((reynolds - 2000.0) / 2000.0) * (colebrook(reynolds, rough) * reynolds - 64.0)
        return (f_re * (n["length"] / bore + with_friction) * mu / (rho * bore) + constant * abs(speed)) * rho * speed / 2

    return loss


def two_constants(first, constant, bore, fluid):
    """K = first/Re + constant on a bore."""
    rho, mu, area = fluid["density"], fluid["viscosity"], circle(bore)

    def loss(q):
        speed = q / (rho * area)
        return first * mu * speed / (2 * bore) + constant * rho * speed * abs(speed) / 2

    return drop_law(loss)


def three_k(n, fluid):
    constant = n["turbulent_constant"] * (1.0 + n["size_constant"] / (n["bore"] / INCH) ** 0.3)
    return two_constants(n["laminar_constant"], constant, n["bore"], fluid)


def two_k(n, fluid):
    return two_constants(n["laminar_constant"], n["turbulent_constant"] * (1.0 + INCH / n["bore"]), n["bore"], fluid)


def orifice(n, fluid):
    beta = n["bore"] / n["line_bore"] if n.get("line_bore") else 0.0
    held = min(beta, 0.75)
    c = n.get("discharge_coefficient") or 0.5961 + 0.0261 * held**2 - 0.216 * held**8
    return two_constants(12 * pi, (sqrt(1 - beta**4 * (1 - c * c)) / c - beta**2) ** 2, n["bore"], fluid)


def short_tube(n, fluid):
    rho, mu, d, area = fluid["density"], fluid["viscosity"], n["bore"], circle(n["bore"])
    beta = d / n["line_bore"] if n.get("line_bore") else 0.0
    slender = n["length"] / d
    b, plain = 20.0 * (1.0 + 2.25 * slender), 1.0 / (0.827 - 0.0085 * slender)

    def loss(q):
        speed = q / (rho * area)
        reynolds = rho * abs(speed) * d / mu
        shifted = reynolds + 1e-4
        inverse = 0.5 * (plain + sqrt(plain**2 + 4 * b / shifted))
        a = plain - 0.005 * slender / (1.0 + 7.5 * log10(0.00015 * shifted * inverse) ** 2)
        inverse = 0.5 * (a + sqrt(a * a + 4 * b / shifted))
        return (inverse**2 * shifted - beta**2 * (2 - beta**2) * reynolds) * mu * speed / (2 * d)

    return drop_law(loss)


def change_of_bore(small, beta, into, out, forward_into, fluid):
    """Both directions of a step; `into` and `out` are the K of entering and leaving the smaller bore."""
    rho, mu, area, s = fluid["density"], fluid["viscosity"], circle(small), 1.0 - beta**4

    def loss(q):
        speed = q / (rho * area)
        reynolds = rho * abs(speed) * small / mu
        first, constant = 6 * pi * s + 1.0, out
        if (q > 0) == forward_into:
            first, constant = first + (160 - 6 * pi) * s * reynolds / (reynolds + 10.0), into
        return first * mu * speed / (2 * small) + constant * rho * speed * abs(speed) / 2

    return drop_law(loss)


def size_step(n, fluid):
    small, large = sorted((n["inlet_bore"], n["outlet_bore"]))
    beta, half = small / large, sin(n["included_angle"] / 2)
    widening = (1 - beta**2) ** 2 * (min(1.0, 2.6 * half) if n["included_angle"] < pi / 4 else 1.0)
    narrowing = 0.5 * (1 - beta**2) * (min(1.6 * half, sqrt(half)) if n["included_angle"] < pi else 1.0)
    return change_of_bore(small, beta, narrowing, widening, n["outlet_bore"] < n["inlet_bore"], fluid)


def opening(n, fluid):
    return change_of_bore(n["bore"], 0.0, n["entrance_loss"], 1.0, True, fluid)


def return_opening(n, fluid):
    return change_of_bore(n["bore"], 0.0, n["entrance_loss"], 1.0, False, fluid)


def resistance(n, fluid):
    power, tiny = n["exponent"], 1e-3
    scale = (n["rated_drop"] * (fluid["viscosity"] / n["rating_viscosity"]) ** (2 - power)
             * (fluid["density"] / n["rating_density"]) ** (power - 1))

    def loss(q):
        x = q / fluid["density"] / n["rated_flow"]
        return scale * x * ((x * x + tiny**2) / (1 + tiny**2)) ** ((power - 1) / 2)

    return drop_law(loss)


def core(n, fluid):
    def loss(q):
        flow = q / fluid["density"]
        return n["viscous"] * fluid["viscosity"] * flow + n["inertial"] * fluid["density"] * flow * abs(flow)

    return drop_law(loss)


def element_loss(n, fluid):
    thicker, heavier = fluid["viscosity"] / n["rating_viscosity"], fluid["density"] / n["rating_density"]

    def loss(q):
        flow = q / fluid["density"]
        return n.get("loading", 1.0) * n["linear"] * thicker * flow + n["quadratic"] * heavier * flow * abs(flow)

    return loss


def filter_with_bypass(n, fluid):
    loss = element_loss(n, fluid)
    valve = seat_law(lambda p: spring((p[0] - p[1] - n["bypass_pressure"]) / n["bypass_band"]) + n.get("leak", 1e-4),
                     n["bypass_area"], n.get("discharge_coefficient", 0.7), fluid)
    return Law(lambda p, q: (p[0] - p[1] - loss(q[0]), *valve.mismatch(p, q[1:])), 2)


def valve(n, fluid):
    share = n["leak"] + (1 - n["leak"]) * n["opening"]
    linear = flow_at_ten(n["flow_coefficient"], fluid["viscosity"])
    return drop_law(lambda q: (q * abs(q) + linear * q) / (fluid["density"] * (share * n["flow_coefficient"]) ** 2))


def check_valve(n, fluid):
    crack, area, rho = n["cracking_pressure"], n["full_area"], fluid["density"]
    square = 1.0 / (2 * rho * (n.get("discharge_coefficient", 0.7) * area) ** 2)
    viscous = sqrt(pi / 4 * area) * fluid["viscosity"] * n.get("viscous_reynolds", 1000.0)
    seep, width = n.get("seepage_resistance", 1e13) / rho, 0.1 * crack

    def loss(q):
        straight = viscous * q * square
        a, b = crack - width / 40 + max(q, 0.0) ** 2 * square + straight, seep * q + straight
        root = sqrt((a - b) ** 2 + width**2)
        larger = 0.5 * (a - b + root) if a > b else 0.5 * width**2 / (root - (a - b))
        return a - larger + width / 40

    return drop_law(loss)


def relief_valve(n, fluid):
    first, second = n["full_area"], n.get("second_area", 0.0)

    def open_share(p):
        lifted = first * spring((p[0] - p[1] - n["set_pressure"]) / n["band"])
        if second > 0:
            lifted += second * spring((p[0] - p[1] - n["second_set_pressure"]) / n["band"])
        return lifted / (first + second) + n.get("leak", 1e-4)

    return seat_law(open_share, first + second, n["discharge_coefficient"], fluid)


def bypass_regulator(n, fluid):
    """p: supply, return, sensed, reference."""
    share = n.get("seat_share", 0.0)

    def open_share(p):
        excess = (1 - share) * p[2] + share * p[1] - p[3] - n["set_pressure"]
        return spring(excess / n["band"]) + n.get("leak", 1e-4)

    return seat_law(open_share, n["full_area"], n["discharge_coefficient"], fluid)._replace(dry=(3,))


def reducing_regulator(n, fluid):
    """p: supply, regulated, sensed, reference."""
    def open_share(p):
        shortfall = p[3] + n["set_pressure"] - p[2] + n.get("seat_share", 0.0) * (p[0] - p[2])
        return spring(shortfall / n["band"]) + n.get("leak", 1e-4)

    return seat_law(open_share, n["full_area"], n["discharge_coefficient"], fluid)._replace(dry=(3,))


def injector_bank(n, fluid):
    rated, heavy = n["count"] * n["rated_flow"], n["rating_density"]
    linear = n["count"] * flow_at_ten(n["rated_flow"] * sqrt(heavy / (2 * n["rated_pressure"])), fluid["viscosity"]) * (n["duty"] + 1e-3)
    cost = n["rated_pressure"] / (rated**2 * heavy * fluid["density"])
    return Law(lambda p, q: (n["duty"] ** 2 * (p[0] - p[1]) - cost * (q[0] * abs(q[0]) + linear * q[0]),), 1, (1,))


def bearings(n, fluid):
    rows, d, c, w, off = n["count"], n["diameter"], n["radial_clearance"], n["land_width"], n.get("eccentricity", 0.8)
    per_flow = 6 * fluid["viscosity"] * n.get("film_viscosity", 1.0) * w / (rows * pi * d * c**3 * (1 + 1.5 * off**2))
    dragged = rows * pi * d * n.get("speed", 0.0) * w * c * off

    def loss(q):
        flow = q / fluid["density"]
        if dragged == 0.0:
            return per_flow * flow
        if flow < 0.0:
            return 0.5 * per_flow * flow
        return 0.5 * per_flow * (flow - 2 * dragged + sqrt(flow**2 + 4 * dragged**2))

    return drop_law(loss, (1,))


def measured_table(n, fluid):
    flows, drops = list(n["flow"]), list(n["pressure_drop"])
    if flows[0] == 0.0:
        flows, drops = flows[1:], drops[1:]
    f, last_flow, last = MonotoneCurve([-flows[0], 0.0, *flows], [-drops[0], 0.0, *drops]), flows[-1], drops[-1]
    heavier = fluid["density"] / n["rating_density"]
    thicker = fluid["viscosity"] / fluid["density"] / (n["rating_viscosity"] / n["rating_density"])

    def loss(q):
        flow = abs(q) / fluid["density"] / thicker
        drop = f(flow) + 1e-6 * last / last_flow * flow + last * (max(flow - last_flow, 0.0) / last_flow) ** 2
        return heavier * thicker**2 * (drop if q > 0 else -drop)

    return drop_law(loss)


LAWS = {
    "line": lambda n, fluid: drop_law(line_loss(n, fluid)), "three-k fitting": three_k, "two-k fitting": two_k, "orifice": orifice,
    "short tube orifice": short_tube, "size step": size_step,
    "opening": opening, "return opening": return_opening, "resistance": resistance, "core": core, "valve": valve, "check valve": check_valve,
    "filter": lambda n, fluid: drop_law(element_loss(n, fluid)), "filter with bypass": filter_with_bypass, "relief valve": relief_valve,
    "bypass regulator": bypass_regulator, "reducing regulator": reducing_regulator, "injector bank": injector_bank, "bearings": bearings,
    "quadratic pump": quadratic_pump, "centrifugal pump": centrifugal_pump, "electric pump": electric_pump,
    "positive displacement pump": displacement_pump, "measured table": measured_table,
    "tee": lambda n, fluid: Law(tee_law(n, fluid), 2),
}
