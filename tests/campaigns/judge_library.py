"""The laws of parts from the general library `fluids` and from SciPy, where they have one; from the judge's own pages where not.

Of `fluids`: friction (Colebrook), bends (Rennels), three-K and two-K fittings, steps and cones (Crane), exits, plates (permanent loss of
ISO 5167-2), valve coefficients. Of SciPy: the monotone curve of pumps. Between Reynolds 2000 and 4000, where books end, a line's friction is
the page's; laminar shares at rest, which no library has, springs and seats stay the pages' (judge_laws).
"""

from math import degrees, pi

import fluids
from fluids.flow_meter import C_Reader_Harris_Gallagher, discharge_coefficient_to_K
from scipy.interpolate import PchipInterpolator

import judge_pumps
from judge_basics import circle, drop_law, flow_at_ten
from judge_laws import INCH, LAWS, change_of_bore, line_loss, two_constants


def line(n, fluid):
    bore, rho, mu, area = n["bore"], fluid["density"], fluid["viscosity"], circle(n["bore"])
    rough, angle, slender = n["roughness"] / bore, n.get("bend_angle", 0.0), n["length"] / bore
    plain = line_loss(n, fluid)
    bends, each = (1.0, angle) if angle <= pi / 2 else (angle / (pi / 2), pi / 2)

    def loss(q):
        speed = q / (rho * area)
        reynolds = rho * abs(speed) * bore / mu
        if reynolds < 1e-9 or 2000.0 < reynolds < 4000.0:
            return plain(q)
        friction = fluids.friction_factor(Re=reynolds, eD=rough, Method="Colebrook" if reynolds > 2040 else None)
        k = friction * slender + n.get("extra_loss", 0.0)
        if angle > 0:
            whole = fluids.bend_rounded(Di=bore, angle=degrees(each), fd=friction, rc=n["bend_radius"], method="Rennels")
            k += bends * (whole - friction * each * n["bend_radius"] / bore)  # its own length is in the line's
        return fluids.dP_from_K(k, rho, speed) * (1 if speed > 0 else -1)

    return drop_law(loss)


def _local(k, n, fluid):
    """A fitting whose K the library tells at a Reynolds number."""
    bore, rho, area = n["bore"], fluid["density"], circle(n["bore"])

    def loss(q):
        speed = q / (rho * area)
        reynolds = max(rho * abs(speed) * bore / fluid["viscosity"], 1e-9)
        return k(reynolds) * rho * speed * abs(speed) / 2 if reynolds > 1e-9 else n["laminar_constant"] * fluid["viscosity"] * speed / (2 * bore)

    return drop_law(loss)


def three_k(n, fluid):
    return _local(lambda re: fluids.Darby3K(NPS=n["bore"] / INCH, Re=re, K1=n["laminar_constant"], Ki=n["turbulent_constant"], Kd=n["size_constant"]), n, fluid)


def two_k(n, fluid):
    return _local(lambda re: fluids.Hooper2K(Di=n["bore"] / INCH, Re=re, K1=n["laminar_constant"], Kinfty=n["turbulent_constant"]), n, fluid)


def orifice(n, fluid):
    beta = n["bore"] / n["line_bore"] if n.get("line_bore") else 1e-4
    wide = 1.0 / beta  # of a hole of one metre: the plate is far larger than small-line corrections begin
    # The standard ends at a ratio of 0.75; its coefficient there is held, as the page does.
    c = n.get("discharge_coefficient") or C_Reader_Harris_Gallagher(D=max(wide, 1 / 0.75), Do=1.0, rho=1e3, mu=1e-3, m=1e15, taps="corner")
    on_hole = discharge_coefficient_to_K(D=wide, Do=1.0, C=c) * beta**4
    return two_constants(12 * pi, on_hole, n["bore"], fluid)


def size_step(n, fluid):
    small, large = sorted((n["inlet_bore"], n["outlet_bore"]))
    angle = degrees(n["included_angle"])
    if small == large:
        return LAWS["size step"](n, fluid)
    out = fluids.diffuser_conical(Di1=small, Di2=large, angle=angle, method="Crane")
    into = fluids.contraction_conical(Di1=large, Di2=small, angle=angle, method="Crane")
    return change_of_bore(small, small / large, into, out, n["outlet_bore"] < n["inlet_bore"], fluid)


def opening(n, fluid):
    return change_of_bore(n["bore"], 0.0, n["entrance_loss"], fluids.exit_normal(), True, fluid)


def return_opening(n, fluid):
    return change_of_bore(n["bore"], 0.0, n["entrance_loss"], fluids.exit_normal(), False, fluid)


def valve(n, fluid):
    """By Kv in a bore of 10 mm, whose velocity head cancels out. The library rounds its constant to 1.6e9: 0.02 % of the drop."""
    share = n["leak"] + (1 - n["leak"]) * n["opening"]
    kv = n["flow_coefficient"] * 36016.0
    k, area = fluids.Kv_to_K(kv * share, 0.01), circle(0.01)
    linear = flow_at_ten(n["flow_coefficient"], fluid["viscosity"])
    return drop_law(lambda q: k / (2 * fluid["density"] * area**2) * (q * abs(q) + linear * q))


class _SciPyCurve:
    """SciPy's monotone curve, run on straight."""

    def __init__(self, x, y):
        self.x, self.y = x, y
        piece = PchipInterpolator(x, y)
        self.inside, steep = piece, piece.derivative()
        self.slopes = [float(steep(at)) for at in x]

    def __call__(self, at):
        for end in (0, -1):
            if (at <= self.x[0]) if end == 0 else (at >= self.x[-1]):
                return self.y[end] + self.slopes[end] * (at - self.x[end])
        return float(self.inside(at))


class Chart(judge_pumps.Chart):
    curve = _SciPyCurve


def _with_scipy(law):
    """A pump's law with SciPy's curve in it."""
    return lambda n, fluid: law(n, fluid, Chart)


LIBRARY_LAWS = {**LAWS, "line": line, "three-k fitting": three_k, "two-k fitting": two_k, "orifice": orifice, "size step": size_step, "opening": opening,
                "return opening": return_opening, "valve": valve, "centrifugal pump": _with_scipy(judge_pumps.centrifugal_pump),
                "electric pump": _with_scipy(judge_pumps.electric_pump)}
