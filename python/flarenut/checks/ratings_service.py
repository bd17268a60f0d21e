"""Checks on what a hose or tube is used for: liquids that it does not take, brakes, steering, hose in tanks, oil coolers; unknown ratings."""

import re

from flarenut import catalog
from flarenut.results import COMMON_PRACTICE, Finding
from flarenut.units import Quantity

from .ratings_lines import rated_lines
from .roles import roles_of

_BRAKE_LEAST, _BRAKE_SOURCE = 10e6, "S61"  # [Pa]: brake lines see 10 to 15 MPa in a panic stop (seen)
_FLEX_LENGTH = 24 * 0.0254  # [m]: longest that a brake hose to a wheel need be; beyond it hard line belongs (common practice, no source)
_STEERING_LEAST = 6.9e6  # [Pa], 1000 psi: steering pumps relieve at 80 to 130 bar, and J190 hose is made for 10.3 MPa (seen)
_IN_TANK = re.compile(r"\b(in|inside)[- ](the )?(tank|cell)\b|submer")
_ADDED = re.compile(r"auxiliary|\baux\b|added|extra|second")


def wrong_liquid(case, limits):
    """A liquid that the liner of a hose or the metal of a tube does not take."""
    for one in rated_lines(case):
        found = _compatibility(case, one)
        if found is None or found.verdict not in ("no", "limited"):
            continue
        liner = f" ({one.rating.liner})" if one.is_hose and one.rating is not None else ""
        yield Finding("liquid and line", "stop" if found.verdict == "no" else "watch", one.title, case.name,
                      f"{case.layout.fluid} in {one.called}{liner}: {found.reason} ({found.said})", source="",
                      cure=_TAKES.get(found.fluid, "hose or tube whose maker names this liquid"),
                      hurt=1.0 if found.verdict == "no" else 0.1)


_TAKES = {"ethanol blend": "PTFE hose, stainless tube, or fuel hose whose maker names this fuel", "methanol": "PTFE hose or stainless tube",
          "brake fluid": "brake hose (FMVSS 106) or steel or copper-nickel brake tube",
          "gasoline": "fuel hose (SAE 30R9), PTFE hose, or steel or aluminium tube", "coolant": "coolant hose (EPDM, silicone) or hard line",
          "R-134a": "air-conditioning hose of SAE J2064", "R-1234yf": "air-conditioning hose of SAE J2064"}


def _compatibility(case, one):
    if one.is_hose:
        material = one.rating.standard if one.rating is not None else one.line.shop.standard
    else:
        material = one.line.shop.material
    if material is None:
        return None
    found = catalog.compatible(material, case.layout.fluid)
    if one.is_hose and found.material != material and one.rating is not None and one.rating.liner != found.material:
        found = catalog.compatible(one.rating.liner, case.layout.fluid)  # a liner of the shop's own table
    return found


def brake_lines(case, limits):
    """Brakes: low-pressure hose, hose that is no brake hose, barbs and clamps, hose where hard line belongs, soft tube."""
    if case.layout.family != "brake fluid":
        return
    for one in rated_lines(case):
        if "clutch" in _words_of(case, one):
            continue  # it may be long and soft, and fails without harm to the brakes; pressure and liquid are judged elsewhere
        bears, source = one.working(None)
        panic = f"in a panic stop brake lines see {{limit}} and more ({catalog.source_in_words(_BRAKE_SOURCE, 'seen')})"
        if one.is_hose and one.line.shop.clamped:
            yield _brake(case, one, "stop", "held by clamps in a brake circuit: they blow off", "crimped brake hose with its own ends")
        elif bears is not None and bears < _BRAKE_LEAST:
            yield _brake(case, one, "stop", f"{one.called} bears {{value}} in a brake circuit; {panic}", _BRAKE_CURE,
                         Quantity(bears, "pressure_gauge"), Quantity(_BRAKE_LEAST, "pressure_gauge"), source, _BRAKE_LEAST / bears - 1.0)
        elif one.is_hose and one.rating is not None and bears is None:
            yield _brake(case, one, "stop", f"{one.called} has no working pressure, and this is a brake circuit", _BRAKE_CURE)
        elif one.is_hose and one.rating is not None and one.rating.standard != "FMVSS 106":
            yield _brake(case, one, "fix", f"{one.called} is no brake hose: on the road one that meets FMVSS 106 is asked for", _BRAKE_CURE)
        if one.is_hose and one.line.length > _FLEX_LENGTH:
            yield _brake(case, one, "fix",
                         "{value} of hose in a brake circuit, longer than {limit}: it swells and rubs through; hard line belongs there",
                         "brake tube, with hose for the short part that moves", Quantity(one.line.length, "length"), Quantity(_FLEX_LENGTH, "length"),
                         COMMON_PRACTICE, one.line.length / _FLEX_LENGTH - 1.0)


_BRAKE_CURE = "brake hose (FMVSS 106) for what moves, double-wall steel or copper-nickel brake tube for the rest"


def _brake(case, one, severity, what, cure, value=None, limit=None, source="", hurt=1.0):
    return Finding("brake line", severity, one.title, case.name, what, value, limit, source, cure, hurt=hurt)


def steering_pressure_hose(case, limits):
    """Low-pressure hose between a steering pump and what it drives."""
    if catalog.fluid_class(case.layout.fluid) != "power steering fluid" and "steering" not in case.layout.circuit.lower():
        return
    feed = {*roles_of(case)["feed"]}
    for one in rated_lines(case):
        bears, source = one.working(None)
        if not one.is_hose or one.part not in feed or one.rating is None and bears is None:
            continue
        if bears is None or bears < _STEERING_LEAST:
            value, limit = (None, None) if bears is None else (Quantity(bears, "pressure_gauge"), Quantity(_STEERING_LEAST, "pressure_gauge"))
            what = "without a working pressure" if bears is None else "made for {value}, where {limit} is the least"
            yield Finding("steering hose", "stop", one.title, case.name,
                          f"{one.called}, {what}, on the pressure side of the steering: at full lock the pump goes to its relief", value, limit,
                          source if bears is not None else "", "pressure hose of SAE J190 with crimped ends",
                          hurt=_STEERING_LEAST / bears - 1.0 if bears else 1.0)


def _words_of(case, one):
    """What the builder calls a line, its run and its circuit, in lower case."""
    run = next((run for run, parts in case.layout.runs.items() if one.part in parts), "")
    return f"{one.title} {run} {case.layout.circuit}".lower()


def hose_in_tank(case, limits):
    """Hose that lies in fuel must be made for it. By what the builder calls it: in tank, submerged."""
    if case.layout.family != "fuel":
        return
    for one in rated_lines(case):
        inside = _IN_TANK.search(_words_of(case, one).removesuffix(case.layout.circuit.lower()))  # a circuit is never all in its tank
        if one.is_hose and inside and one.rating is not None and one.rating.standard != "SAE 30R10" and one.rating.liner != "PTFE":
            yield Finding("hose in tank", "stop", one.title, case.name,
                          f"{one.called} in a tank: only SAE 30R10 is made to lie in fuel; others swell from outside and come off or burst "
                          f"({catalog.source_in_words('M3', 'memory')})", source="", cure="SAE 30R10 hose, or tube", hurt=1.0)


def cooler_hose(case, limits):
    """Oil cooler hose of SAE J1532 type B is for added auxiliary coolers only."""
    for one in rated_lines(case):
        if not one.is_hose or one.rating is None or one.rating.standard != "SAE J1532 type B":
            continue
        if not _ADDED.search(_words_of(case, one)):
            yield Finding("oil cooler hose", "watch", one.title, case.name,
                          "SAE J1532 type B is for an added auxiliary cooler only: 50,000 impulses against "
                          f"the 300,000 of type A ({catalog.source_in_words('S20', 'seen')})", source="",
                          cure="type A hose; or call it auxiliary where it leads to an added cooler", hurt=0.5)


def permeation(case, limits):
    """Gasoline vapour through the wall of hose that lets much through, once for a circuit."""
    if case.layout.family != "fuel" or catalog.fluid_class(case.layout.fluid) not in ("gasoline", "ethanol blend"):
        return
    hoses = [one for one in rated_lines(case) if one.is_hose and one.rating is not None]
    found = {one.title: note for one in hoses if (note := catalog.permeation_note(one.rating.standard))}
    for note in dict.fromkeys(found.values()):
        titles = [title for title, own in found.items() if own == note]
        yield Finding("fuel through the wall", "note", ", ".join(titles), case.name, note, source="")


def two_hoses(case, limits):
    """A `spec` and a `standard` of hoses whose bores differ: the flow is found with the one, the rating looked up with the other."""
    for one in rated_lines(case):
        standard, size = one.line.shop.standard, one.line.dash
        if not one.is_hose or one.line.spec is None or standard is None or size is None:
            continue
        bores = [_bore(size, named) for named in (one.line.spec, standard)]
        if None in bores or abs(bores[0] - bores[1]) <= _SAME_BORE:
            continue
        yield Finding("two kinds of hose", "fix", one.title, case.name,
                      f"spec '{one.line.named}' has a bore of {{value}} in -{size}, standard {standard} one of {{limit}}: one of the two is wrong",
                      Quantity(bores[0], "length"), Quantity(bores[1], "length"), "the tables of bores",
                      f'spec = "{standard}" says both; or measure the bore', hurt=abs(bores[0] / bores[1] - 1.0))


_SAME_BORE = 0.3e-3  # [m]: families that share their bores but for rounding


def _bore(size, named):
    try:
        return catalog.hose_bore(size, named).bore
    except catalog.CatalogError:
        return None


def rating_unknown(case, limits):
    """Hose that nobody said the rating of, in one line for a circuit; only where something of its hardware is said."""
    unknown = {one.title: one.unknown for one in rated_lines(case) if one.working(None)[0] is None and (one.is_hose or one.line.shop.said)}
    if unknown:
        reasons = dict.fromkeys(reason or "the standard states no pressure" for reason in unknown.values())
        maker = 'say what its maker states, maker_pressure = "250 psi"'
        cure = f'{maker}, or the standard that it is made to, standard = "SAE 100R14"; of tube its material' if any(unknown.values()) else maker
        yield Finding("rating unknown", "note", ", ".join(unknown), case.name, f"not judged for pressure: {'; '.join(reasons)}", source="", cure=cure)
