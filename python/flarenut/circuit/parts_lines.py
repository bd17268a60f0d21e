"""Lines: hose, hard tube, drilled passage."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import partial
from math import pi
from typing import TYPE_CHECKING, Any

from .. import catalog
from ..catalog.hoses import bores_in_words
from ..units import UnitError, dash, parse
from ..units.errors import quoted
from .amounts import above_zero, length_or_none, not_below_zero
from .errors import CircuitError
from .hose_ends import with_ends
from .line_heat import wall_of
from .piece import Element, Piece, builder
from .shop import ends_of, passages_of, points_of
from .tube_walls import refuse_two_bores, with_its_wall
from .way import way_of

if TYPE_CHECKING:
    from ..catalog.ends import End
    from ..catalog.hoses import HoseSpec
    from .piece import HeatLaw

# Bend radius in bores when none is given, a judgement: formed hose ends turn in 2 to 3, hose itself wants 7 to 16 (-6 PTFE 100 to
# 127 mm; both from memory). At 13 a bend would lose 0.01 velocity heads less, so that wide bends are read a little high.
HOSE_BEND = 5.0
TUBE_BEND = 3.0  # bend radius in outside diameters: ordinary bender work (common practice, no source)
DRAWN = 1.5e-6  # roughness of drawn tube [m] (Moody 1944, from memory)
# Equivalent sand roughness of a drilled hole [m]: a judgement, no source. A finish of 1.6 um, usual for such holes, is a mean height
# of the scratches, and the sand that rubs the flow as much is several times coarser.
DRILLED = 10e-6
SHARP_TURN = 1.1  # loss coefficient of a square corner between drilled holes (handbook value for a mitred 90°, from memory)


@builder
def hose(size: object = None, length: object = None, *, spec: str | None = None, bore: object = None, bends: Sequence[int] = (),
         bend_radius: object = None, way: Sequence[Sequence[str]] | None = None, ends: Sequence[str | End | None] | None = None,
         extra_loss: int = 0, rise: object = None, roughness: object = None, air: str | None = None, air_rise: str | None = None,
         sleeve: str | None = None, standard: str | None = None, clamped: bool | None = None, through: str | None = None,
         outside: object = None, name: str | None = None) -> Piece:
    """A hose. Its dash size is that of a tube; which bore that means is up to the specification. A measured bore beats both.

    A bore with the ripples of a convoluted liner loses several times as much as the smooth one meant here (from memory): describe it
    by its maker's drop, as a `resistance`. Slow, thick liquid needs a stretch of 0.06 Re bores to settle into its laminar profile, and
    loses there up to 1.25 velocity heads (from memory) that are not in the answer: a finding tells where that counts.

    Parameters
    ----------
    size : dash size, "-8"; may be left out when `bore` is given
    length : developed length with its bends, "11 ft"; up to 1000 m
    spec : specification, "ptfe" (smooth bore: a convoluted liner loses several times as much), "braided-rubber", "full-size",
        "SAE 100R5" ...; not needed with `bore`
    bore : measured inside diameter, "8.7 mm"; 0.1 to 500 mm
    bends : angles of the bends in degrees, [90, 90, 45]; swept ends may be counted here where `ends` does not say them
    bend_radius : of their centreline, "2 in"; 5 bores unless given, between formed ends and what hose takes itself, which its maker
        says; and tighter where the length is too short for that
    way : points that it goes by instead of `length` and `bends`, each forward, left and up: [["0 ft", "0 ft", "0 ft"], ["8 ft", "0 ft", "1 ft"]];
        from seat to seat: the corner next to an angled end that turns as it does is made by the end, and no bend of the hose
    ends : its hose ends at inlet and outlet, ["-8 37 flare female", "-8 37 flare female, 90 deg"]; what they lose is counted where their bore
        is known; "" for one that is not known
    extra_loss : loss coefficients lumped in, on the hose's own bore
    rise : height gained from inlet to outlet, "18 in"; left out, it follows from the heights of the run's ends
    roughness : of the liner, "10 um"; that of the specification unless given
    air : speed of the air across it, "5 m/s", or "still"; where it is said, and temperatures are found, its wall passes heat
    air_rise : how much warmer the air around it is than the case's, "40 K" under a bonnet
    sleeve : thickness of a heat sleeve over it, "3 mm"
    standard : published specification that it is made to, "SAE 30R9"; what it holds follows from it, and its bore where no `spec` says it
    clamped : true where it is pushed onto barbs and clamped
    through : walls that it passes, and how far along from its inlet, "firewall at 4 ft", or a list of such; with ", grommet" where it passes
        in one piece; `fitted` puts bulkhead unions there, the audit tells where there is neither
    outside : measured outside diameter, "15.9 mm"; clamps are bought by it, where its standard does not say it

    Raises
    ------
    CircuitError, UnitError, CatalogError : with key, value and cure

    >>> feed = hose("-8", "11 ft", spec="ptfe", bends=[90, 90, 45])
    >>> round(feed.main.numbers["bore"] * 1e3, 2)
    10.32
    """
    if bore is not None:
        inside = above_zero(bore, "length", "bore")
    else:
        inside = _bore_of_hose(size, spec, standard)
    liner = _family(spec, standard).roughness
    made_ends = (None, None) if ends is None else ends_of(ends, 2)
    lie = _laid(inside, length, bends, bend_radius, HOSE_BEND * inside, rise, way, made_ends)
    _refuse_beyond(through, lie[0])
    if outside is not None and above_zero(outside, "length", "outside") <= inside:
        raise CircuitError(f"'outside' is {quoted(outside)}, and its bore is {inside * 1e3:.4g} mm", "measure across the outside of the hose", key="outside", value=outside)
    line = _line(inside, *lie, extra_loss, roughness, liner, wall_of("hose", air, air_rise, sleeve))
    return with_ends(line, inside, made_ends)


def _family(spec: str | None, standard: str | None) -> HoseSpec:
    """The `HoseSpec` of a hose; that of smooth rubber where neither its family nor its standard tells it."""
    if spec is not None:
        return catalog.hose_spec(spec)
    try:
        return catalog.hose_spec("full-size" if standard is None else standard)
    except catalog.CatalogError:
        return catalog.hose_spec("full-size")


def _bore_of_hose(size: object, spec: str | None, standard: str | None) -> float:
    if size is None:
        raise CircuitError("a hose needs its size or its bore", 'write size="-8" with spec="ptfe", or bore="10.3 mm"', key="size")
    if isinstance(size, str) and re.match(r"\s*[\d.].*[xX×*]\s*[\d.]", size):
        raise CircuitError(f"'size' is {quoted(size)}, two lengths, and a hose goes by the dash of its size",
                           "write size=\"-6\" with its 'spec'; or the two as measured, bore=\"10 mm\" and outside=\"16 mm\"", key="size", value=size)
    number = dash(size, name="size")
    made_to = catalog.hose_rating(catalog.hose_standard(standard), number).bore if spec is None and standard is not None else None
    if made_to is not None:
        return made_to
    if spec is None:
        known = bores_in_words(number)
        raise CircuitError(f"a -{number} hose has no bore of its own: the dash is the size of its tube",
                           "say which 'spec' it is" + (f" ({known})" if known else "") + ", or measure its 'bore'", key="spec")
    return catalog.hose_bore(number, spec).bore


@partial(builder, spelled=with_its_wall)
def tube(size: object = None, length: object = None, *, wall: str | None = None, bore: object = None, bends: Sequence[int] = (),
         bend_radius: object = None, way: Sequence[Sequence[object]] | None = None, extra_loss: int = 0, rise: object = None,
         roughness: object = None, air: str | None = None, air_rise: str | None = None, sleeve: str | None = None,
         material: str | None = None, through: str | None = None, name: str | None = None) -> Piece:
    """A hard line: its bore is the outside diameter less two walls. A measured bore beats the usual wall; beside a wall it is to agree with it.

    Parameters
    ----------
    size : outside diameter, "3/8 in", "10 mm", or its dash, "-6", or with its wall, "3/8 in x 0.035 in", "10x1 mm"; may be left out when `bore`
        is given
    length : developed length with its bends, "9 ft"
    wall : "0.035 in"; that of the size, or the usual one of the diameter where there is one
    bore : measured inside diameter
    bends : angles of the bends in degrees, [90, 45]
    bend_radius : of their centreline; 3 outside diameters unless given, and tighter where the length is too short
    way : points that it goes by instead of `length` and `bends`, each forward, left and up: [["0 ft", "0 ft", "0 ft"], ["8 ft", "0 ft", "1 ft"]]
    extra_loss : loss coefficients lumped in, on the bore
    rise : height gained from inlet to outlet
    roughness : of the bore; 1.5 um, drawn tube, unless given
    air : speed of the air across it, "5 m/s", or "still"; where it is said, and temperatures are found, its wall passes heat
    air_rise : how much warmer the air around it is than the case's, "40 K" under a bonnet
    sleeve : thickness of a heat sleeve over it, "3 mm"
    material : "304 stainless", "3003-O aluminium" ...; what it holds and weighs follows from it
    through : walls that it passes, and how far along from its inlet, "firewall at 4 ft", or a list of such; with ", grommet" where it passes
        in one piece; `fitted` puts bulkhead unions there, the audit tells where there is neither

    Raises
    ------
    CircuitError, UnitError, CatalogError : with key, value and cure

    >>> round(tube("3/8 in", "9 ft").elements[0].numbers["bore"] * 1e3, 2)
    7.75
    """
    outside = None if size is None else _outside(size)
    if bore is not None:
        inside = above_zero(bore, "length", "bore")
        if outside is not None and inside >= outside:
            raise CircuitError(f"'bore' is {quoted(bore)}: a tube of {quoted(size)} is no wider outside",
                               "measure inside, or check the size and the units", key="bore", value=bore)
        if outside is not None and wall is not None:
            refuse_two_bores(size, outside, wall, bore, inside)
    else:
        if outside is None:
            raise CircuitError("a tube needs its size or its bore", 'write size="3/8 in", or bore="7.7 mm"', key="size")
        thick = above_zero(wall, "length", "wall") if wall is not None else catalog.tube_wall(outside)
        inside = outside - 2 * thick
        if inside <= 0:
            raise CircuitError(f"'wall' is {quoted(wall)}: two of them leave no bore in a tube of {quoted(size)}",
                               "check the wall and its unit", key="wall", value=wall)
    lie = _laid(inside, length, bends, bend_radius, TUBE_BEND * (outside or 1.25 * inside), rise, way)
    _refuse_beyond(through, lie[0])
    return _line(inside, *lie, extra_loss, roughness, DRAWN,
                 wall_of("tube", air, air_rise, sleeve, thickness=None if outside is None else 0.5 * (outside - inside)))


def _outside(size: object) -> float:
    try:
        return dash(size, name="size") / 16 * 0.0254
    except UnitError:
        return above_zero(size, "length", "size")


@builder
def passage(bore: object, length: object, *, corners: int = 0, extra_loss: int = 0, rise: object = None, roughness: object = None,
            name: str | None = None) -> Piece:
    """A drilled passage: gallery, adapter, manifold block.

    Parameters
    ----------
    bore : diameter of the hole, "5/16 in"
    length : along the hole, "4 in"
    corners : how many times it turns sharply where two holes meet; each costs 1.1 velocity heads
    extra_loss : loss coefficients lumped in
    rise : height gained from inlet to outlet
    roughness : as of sand, 10 um unless given, which is not the reading of a surface finish

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> passage("8 mm", "100 mm", corners=2).elements[0].numbers["extra_loss"]
    2.2
    """
    if type(corners) is not int or corners < 0:
        raise CircuitError(f"'corners' is {quoted(corners)}, not a number of corners", "write it bare, e.g. 2", key="corners", value=corners)
    loss = not_below_zero(extra_loss, "dimensionless", "extra_loss") + SHARP_TURN * corners
    inside = above_zero(bore, "length", "bore")
    return _line(inside, *_laid(inside, length, (), None, 0.0, rise), loss, roughness, DRILLED)


def _laid(bore: float, length: object, bends: object, bend_radius: object, usual_radius: float, rise: object,
          way: object = None, ends: tuple[End | None, ...] = (None, None)) -> tuple[float, float, float, float | None]:
    """How a line lies: length [m], angle that it turns through [rad], bend radius [m], height gained [m] or None."""
    if way is not None:
        return _along(way, length, bends, bend_radius, usual_radius, rise, bore, ends)
    if length is None:
        raise CircuitError("the length is missing", 'write length="11 ft"', key="length")
    long = above_zero(length, "length", "length")
    height = length_or_none(rise, "rise")
    if height is not None and abs(height) > 1.001 * long:
        raise CircuitError(f"'rise' is {quoted(rise)}, more than its length of {quoted(length)}", "lengthen it, or check the rise",
                           key="rise", value=rise)
    turned = sum(_angles(bends))
    radius = above_zero(bend_radius, "length", "bend_radius") if bend_radius is not None else usual_radius
    if turned and bend_radius is None:
        radius = max(min(radius, long / turned), 0.5 * bore)  # a short line bends tighter than usual
    return long, turned, radius, height


def _refuse_beyond(written: object, length: float) -> None:
    """A wall that a line passes lies along it."""
    for one in () if written is None else passages_of(written):
        if one.at >= length:
            raise CircuitError(f"'through' passes the {one.what} at {one.at / 0.3048:.3g} ft ({one.at * 1e3:.0f} mm), and the line is "
                               f"{length / 0.3048:.3g} ft ({length * 1e3:.0f} mm) long", "say how far it is along the line from its inlet",
                               key="through", value=written)


def _along(written: object, length: object, bends: object, bend_radius: object, usual_radius: float, rise: object, bore: float,
           ends: tuple[End | None, ...]) -> tuple[float, float, float, float | None]:
    """How a line lies that goes by points."""
    for key, value in (("length", length), ("bends", bends or None), ("rise", rise)):
        if value is not None:
            raise CircuitError(f"{key!r} is given beside 'way'", "it follows from them: leave one of the two out", key=key, value=value)
    radius = above_zero(bend_radius, "length", "bend_radius") if bend_radius is not None else usual_radius
    way = way_of(points_of(written), radius, ends=ends, bore=bore)
    return way.length, sum(way.turns), radius, way.rise


def _line(bore: float, length: float, turned: float, radius: float, rise: float | None, extra_loss: float, roughness: object,
          usual_roughness: float, heat: HeatLaw | None = None) -> Piece:
    numbers = {"bore": bore, "length": length, "extra_loss": not_below_zero(extra_loss, "dimensionless", "extra_loss"),
               "roughness": usual_roughness if roughness is None else not_below_zero(roughness, "length", "roughness"),
               "bend_angle": turned, "bend_radius": radius if turned else 0.0}
    return Piece([Element("line", numbers, heat=heat)], length=length, rise=rise)


def _angles(bends: Any) -> list[float]:
    """Angles [rad] of a list of bends: bare numbers are degrees, as everybody says them."""
    if isinstance(bends, (str, int, float)) and not isinstance(bends, bool):
        bends = [bends]
    try:
        listed = list(bends)
    except TypeError:
        raise CircuitError(f"'bends' is {quoted(bends)}, not a list", "write e.g. [90, 90, 45]", key="bends", value=bends) from None
    angles = []
    for bend in listed:
        bare = type(bend) in (int, float)
        angle = bend * pi / 180 if bare else parse(bend, "angle", name="bends")
        if not 0 < angle <= 2 * pi * 20:
            raise CircuitError(f"'bends' holds {quoted(bend)}, not an angle above 0", "bends are in degrees, e.g. [90, 90, 45]",
                               key="bends", value=bends)
        angles.append(angle)
    return angles
