"""Fittings: straights, elbows, size steps, mouths in tanks."""

from collections.abc import Sequence
from math import pi

from .. import catalog
from ..units import UnitError, dash, parse
from ..units.errors import quoted
from .amounts import above_zero, length_or_none, not_below_zero
from .errors import CircuitError, meant
from .hose_ends import SAME_BORE, step, turning
from .parts_lines import DRILLED
from .piece import Element, Piece, builder
from .shop import ends_of

# Loss coefficient of drawing from a tank by the edge of the mouth: Crane Technical Paper 410, as `opening.hpp` has it.
EDGES = {"standing in": 0.78, "sharp": 0.5, "slightly rounded": 0.28, "rounded": 0.15, "bell": 0.04}


def bore_of(size: object, bore: object, key: str = "size") -> float:
    """Bore [m] of a fitting: as measured, or that of a 37 degree fitting of the dash."""
    if bore is not None:
        return above_zero(bore, "length", "bore")
    if size is None:
        raise CircuitError(f"a fitting needs its {key} or its bore", f'write {key}="-8", or bore="9.9 mm"', key=key)
    return catalog.fitting_bore(dash(size, name=key))


def bore_or_size(value: object, key: str) -> float:
    """Bore [m] of a text that is either a length or the dash of a fitting."""
    try:
        number = dash(value, name=key)
    except UnitError:
        return above_zero(value, "length", key)
    return catalog.fitting_bore(number)


@builder
def straight(size: object = None, length: object = "1 in", *, bore: object = None, extra_loss: object = 0, rise: object = None,
             name: str | None = None) -> Piece:
    """A straight adapter, union or bulkhead: a short bore, often narrower than the hose.

    The step down into it and up again is not in it: put a `reducer` on either side where that counts.

    Parameters
    ----------
    size : dash size of a 37 degree fitting, "-8" (bores from memory of the standard); not needed with `bore`
    length : through it, "1 in" unless given
    bore : smallest bore measured, "9.9 mm"
    extra_loss : loss coefficients of what else is in it
    rise : height gained

    Raises
    ------
    CircuitError, UnitError, CatalogError : with key, value and cure

    >>> round(straight("-8").elements[0].numbers["bore"] * 1e3, 2)
    9.93
    """
    long = above_zero(length, "length", "length")
    numbers = {"bore": bore_of(size, bore), "length": long, "roughness": DRILLED,
               "extra_loss": not_below_zero(extra_loss, "dimensionless", "extra_loss")}
    return Piece([Element("line", numbers)], length=long, rise=length_or_none(rise, "rise"))


@builder
def elbow(size: object = None, angle: int = 90, *, bore: object = None, form: str = "forged", rise: object = None,
          name: str | None = None) -> Piece:
    """An elbow or an angled hose end, by the three-K method of R. Darby (2001).

    Parameters
    ----------
    size : dash size of a 37 degree fitting, "-8"; not needed with `bore`
    angle : in degrees, above 0 to 180
    bore : smallest bore measured
    form : "forged", a sharp turn; or "swept", a formed tube
    rise : height gained

    Raises
    ------
    CircuitError, UnitError, CatalogError : with key, value and cure

    >>> elbow("-8", 90, form="swept").elements[0].numbers["turbulent_constant"]
    0.071
    """
    degrees = float(angle) if type(angle) in (int, float) else parse(angle, "angle", name="angle") * 180 / pi
    if not 0 < degrees <= 180:
        raise CircuitError(f"'angle' is {quoted(angle)}; an elbow turns more than 0 and up to 180 degrees", "check the angle",
                           key="angle", value=angle)
    laminar, turbulent, size_constant = catalog.elbow_constants(form, degrees)
    numbers = {"bore": bore_of(size, bore), "laminar_constant": max(laminar, 1.0), "turbulent_constant": turbulent,
               "size_constant": size_constant}
    return Piece([Element("three-k fitting", numbers)], rise=length_or_none(rise, "rise"))


@builder
def reducer(inlet: str, outlet: str, *, cone_angle: object = None, rise: object = None, name: str | None = None) -> Piece:
    """A change of bore, at once or over a cone: an adapter from -8 to -6, a hose on a smaller nipple.

    Parameters
    ----------
    inlet, outlet : bores, "10.3 mm", or dash sizes of 37 degree fittings, "-6"; either may be the smaller
    cone_angle : included angle of the cone in degrees, 20; a sudden step unless given
    rise : height gained

    Raises
    ------
    CircuitError, UnitError, CatalogError : with key, value and cure

    >>> reducer("10 mm", "5 mm").elements[0].numbers["outlet_bore"]
    0.005
    """
    numbers = {"inlet_bore": bore_or_size(inlet, "inlet"), "outlet_bore": bore_or_size(outlet, "outlet"), "included_angle": pi}
    if cone_angle is not None:
        cone = cone_angle * pi / 180 if isinstance(cone_angle, (int, float)) and not isinstance(cone_angle, bool) else parse(cone_angle, "angle", name="cone_angle")
        if not 0.01 <= cone <= 1.0001 * pi:
            raise CircuitError(f"'cone_angle' is {quoted(cone_angle)}; it lies between 1 and 180 degrees", "a sudden step is 180",
                               key="cone_angle", value=cone_angle)
        numbers["included_angle"] = min(cone, pi)
    return Piece([Element("size step", numbers)], rise=length_or_none(rise, "rise"))


@builder
def adapter(ends: Sequence[str], *, length: object = "1 in", bore: object = None, rise: object = None,
            name: str | None = None) -> Piece:
    """A fitting from one form of end to another: O-ring boss to 37 degree flare, a size step, an elbow between two forms.

    What it costs is a short bore as wide as its narrower end, the step to the wider one, and the turn of an angled end.

    Parameters
    ----------
    ends : at inlet and outlet, ["-10 O-ring boss male", "-8 37 flare male"]; an angle turns it, "-8 37 flare male, 90 deg"
    length : through it, "1 in" unless given
    bore : narrowest bore measured; that of the table of its ends unless given
    rise : height gained

    Raises
    ------
    CircuitError, UnitError, CatalogError : with key, value and cure

    >>> adapter(["-8 O-ring boss male", "-8 37 flare male"]).main.kind
    'line'
    """
    pair = [end for end in ends_of(ends, 2) if end is not None]
    if len(pair) < 2:
        raise CircuitError("an adapter needs both its ends", 'write ends = ["-8 O-ring boss male", "-6 37 flare male"]', key="ends", value=ends)
    bores = [end.through for end in pair]
    narrow = above_zero(bore, "length", "bore") if bore is not None else min((one for one in bores if one is not None), default=None)
    if narrow is None:
        raise CircuitError("no table has the bore of these ends", 'measure it and give it as \'bore\'', key="bore")
    long = above_zero(length, "length", "length")
    line = Element("line", {"bore": narrow, "length": long, "roughness": DRILLED, "extra_loss": 0.0})
    first, last = ([] if one is None or abs(one - narrow) < SAME_BORE else [one] for one in bores)
    elements = [*(Element("size step", step(one, narrow), suffix=" inlet") for one in first), line,
                *(Element("size step", step(narrow, one), suffix=" outlet") for one in last)]
    turned = sum(end.turn for end in pair)
    if turned:
        elements.append(Element("three-k fitting", turning(turned, narrow, "forged"), suffix=" turn"))
    return Piece(elements, length=long, rise=length_or_none(rise, "rise"))


@builder
def pickup(bore: object, *, edge: str = "standing in", rise: object = None, name: object = None) -> Piece:
    """The mouth of a line that draws from a tank: what the turn into it costs. Written first in a run.

    Parameters
    ----------
    bore : inside diameter of its end, "10 mm", or a dash size, "-8"
    edge : "standing in" (a tube end in the tank), "sharp" (flush with the wall), "slightly rounded", "rounded", "bell";
        or a loss coefficient, 0.5
    rise : height gained

    Raises
    ------
    CircuitError, UnitError, CatalogError : with key, value and cure

    >>> pickup("10 mm", edge="sharp").elements[0].numbers["entrance_loss"]
    0.5
    """
    return _mouth("opening", bore, edge, rise)


@builder
def opening(bore: object, *, edge: str = "sharp", rise: object = None, name: str | None = None) -> Piece:
    """The end of a line in a tank, a rail or any wide space: its velocity head is lost. Written last in a run.

    Parameters
    ----------
    bore : inside diameter of its end, "8 mm", or a dash size, "-6"
    edge : counts only when it draws backwards; see `pickup`
    rise : height gained

    Raises
    ------
    CircuitError, UnitError, CatalogError : with key, value and cure

    >>> opening("8 mm").elements[0].kind
    'return opening'
    """
    return _mouth("return opening", bore, edge, rise)


def _mouth(kind: str, bore: object, edge: str, rise: object) -> Piece:
    if isinstance(edge, str) and edge in EDGES:
        loss = EDGES[edge]
    elif isinstance(edge, str) and not edge[:1].isdigit():
        raise CircuitError(f"'edge' is {quoted(edge)}", meant(edge, EDGES), key="edge", value=edge)
    else:
        loss = not_below_zero(edge, "dimensionless", "edge")
    numbers = {"bore": bore_or_size(bore, "bore"), "entrance_loss": loss}
    return Piece([Element(kind, numbers)], rise=length_or_none(rise, "rise"))
