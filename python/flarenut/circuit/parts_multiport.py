"""Parts that are no piece of a run: tees between three junctions, and injector banks from a rail to the manifold."""

from math import pi

from ..units import UnitError, parse
from ..units.errors import quoted
from .amounts import count_of, drop_at_flow
from .amounts import rated_with as rating
from .errors import CircuitError
from .parts_fittings import bore_of
from .piece import Element, Piece, builder

ANGLES = (0.5235987755982989, 2.617993877991494)  # [rad]: 30° and 150°, the range of the engine's tee
ROUNDING = 1e-9  # [rad]: what turning degrees into radians may be off by, so that 30 is not taken for less


@builder
def tee(size: object = None, *, bore: object = None, branch_size: str | None = None, branch_bore: str | None = None,
        angle: int = 90, name: object = None) -> Piece:
    """A tee or wye: two ends that run straight through, and a branch. Its losses follow how the flow divides.

    Parameters
    ----------
    size or bore : of the straight-through ends: a dash size, or a bore, "8.7 mm"
    branch_size or branch_bore : of the branch; the same unless given
    angle : in degrees, between the branch and the second end: 90 for a tee, 45 for a wye that leans that way; 30 to 150

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> round(tee(bore="9 mm").elements[0].numbers["branch_angle"], 4)
    1.5708
    """
    through = bore_of(size, bore)
    branch = through if branch_size is None and branch_bore is None else bore_of(branch_size, branch_bore, "branch_size")
    radians = float(angle) * pi / 180.0 if type(angle) in (int, float) else parse(angle, "angle", name="angle")
    if not ANGLES[0] - ROUNDING <= radians <= ANGLES[1] + ROUNDING:
        raise CircuitError(f"'angle' is {quoted(angle)}; the branch of a tee leans between 30 and 150 degrees", "90 is a tee, 45 a wye",
                           key="angle", value=angle)
    radians = min(max(radians, ANGLES[0]), ANGLES[1])
    numbers = {"run1_bore": through, "run2_bore": through, "branch_bore": branch, "branch_angle": radians}
    return Piece([Element("tee", numbers)])


@builder
def injectors(count: int, flow: str, *, duty: object = None, rated_with: object = None, name: object = None) -> Piece:
    """The injectors of one rail, by their mean flow.

    Parameters
    ----------
    count : how many
    flow : of one held open, at the pressure across it: "1000 cc/min at 3 bar" (3 bar where no pressure is said)
    duty : share of the time they flow, "85 %" or 0.85; a case may set it; 100 % where neither says
    rated_with : liquid on the flow bench; test fluid (n-heptane) unless given

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> injectors(6, "1000 cc/min at 3 bar", duty="80 %").elements[0].numbers["count"]
    6
    """
    pressure, passing = drop_at_flow([flow, "3 bar"] if _is_flow(flow) else flow, "flow", "1000 cc/min at 3 bar")
    share = 1.0 if duty is None else parse(duty, "fraction", name="duty")
    if not 0.0 <= share <= 1.0:
        raise CircuitError(f"'duty' is {quoted(duty)}, outside 0 to 100 %", "it is the share of the time they flow", key="duty", value=duty)
    numbers = {"count": count_of(count, "count"), "duty": share, "rated_pressure": pressure,
               "rated_flow": lambda liquid: passing.volume(liquid.density), "rating_density": lambda liquid: liquid.density}
    return Piece([Element("injector bank", numbers, rating=rating("test fluid" if rated_with is None else rated_with),
                          drives={"duty": ("duty", 1.0, 0.0)})])


def _is_flow(written: object) -> bool:
    """True for a flow that says no pressure."""
    try:
        parse(written, "flow", name="flow")
    except UnitError:
        return False
    return True
