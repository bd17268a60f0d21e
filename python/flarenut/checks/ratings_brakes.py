"""Checks on lines of brakes and clutches and on the pressure side of steering. They speak also where nothing is said of a circuit's hardware."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING
from collections.abc import Iterator

from flarenut import catalog
from flarenut.catalog.brakes import brake_figure, is_of_brakes
from flarenut.catalog.tube_ratings import tubes_for
from flarenut.results import COMMON_PRACTICE, Finding
from flarenut.units import Quantity

from .ratings_lines import inside, rated_lines, service_said, words_of
from .roles import roles_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits
    from .ratings_lines import Rated

_FLEX_LENGTH = 24 * 0.0254  # [m]: longest that a brake hose to a wheel need be; beyond it hard line belongs (common practice, no source)
_STEERING_LEAST = 6.9e6  # [Pa], 1000 psi: steering pumps relieve at 80 to 130 bar, and J190 hose is made for 10.3 MPa (seen)
_STEERING_RETURN = 2.1e6  # [Pa], 300 psi: above it no return of a steering stands, whether or not a pump is in the circuit (judgement, no source)
_CURE = "brake hose (FMVSS 106) for what moves, double-wall steel or copper-nickel brake tube for the rest"
_OR_SAY = 'where it serves a clutch or nothing that brakes, say so of its run or circuit, service = "clutch" or "other"'
_SOFT = "it tires, cracks and splits where it is flared and bent"


def brake_lines(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Brakes: low-pressure hose, hose that is no brake hose, barbs and clamps, hose where hard line belongs, tube that is not for brakes."""
    for one in rated_lines(case, said_only=False):
        if not _serves_brakes(case, one):
            continue  # a clutch may be long and soft, and fails without harm to the brakes; pressure and liquid are judged elsewhere
        found = _of_hose(case, one) if one.is_hose else _of_tube(case, one)
        if found is not None:
            yield found
        if one.is_hose and one.line.length > _FLEX_LENGTH:
            yield _brake(case, one, "fix",
                         "{value} of hose in a brake circuit, longer than {limit}: it swells and rubs through; hard line belongs there",
                         "brake tube, with hose for the short part that moves", Quantity(one.line.length, "length"), Quantity(_FLEX_LENGTH, "length"),
                         COMMON_PRACTICE, one.line.length / _FLEX_LENGTH - 1.0)


def clutch_lines(case: CaseResult, limits: Limits) -> Iterator[object]:
    """A clutch: hose on clamps, push-on and other low-pressure hose, hose of which nothing is known, soft tube, in any liquid."""
    for one in rated_lines(case, said_only=False):
        if not _serves_a_clutch(case, one):
            continue
        bears, source = one.working(None)
        found = functools.partial(Finding, "clutch line", where=one.title, case=case.name, source="", cure=_CLUTCH_CURE, hurt=1.0)
        if not one.is_hose:
            if one.line.shop.material is not None and _is_soft(one.line.shop.material):
                yield found(severity="fix", what=f"{one.line.shop.material} in a clutch circuit: {_SOFT} ({COMMON_PRACTICE})")
        elif one.line.shop.clamped:
            yield found(severity="stop", what=f"held by clamps in a clutch circuit: a foot on the pedal blows them off ({COMMON_PRACTICE})")
        elif bears is None and one.line.spec == "push-on":
            yield found(severity="stop", what=f"push-on hose, fuel hose on a barb, in a clutch circuit: a pedal makes {{limit}} and more, and it blows off or bursts "
                                              f"({COMMON_PRACTICE})", limit=_CLUTCH_LEAST)
        elif bears is None:
            yield found(severity="fix", what=f"nothing says what this hose bears, and it is in a clutch circuit, where a pedal makes {{limit}} and more ({COMMON_PRACTICE})",
                        limit=_CLUTCH_LEAST, cure=f"{_CLUTCH_CURE}; say its standard, or maker_pressure")
        elif bears < _CLUTCH_LEAST.si:
            yield found(severity="fix", what=f"{one.called} bears {{value}} in a clutch circuit, where a pedal makes {{limit}} and more ({COMMON_PRACTICE})",
                        value=Quantity(bears, "pressure_gauge"), limit=_CLUTCH_LEAST, source=source, hurt=_CLUTCH_LEAST.si / bears - 1.0)


_CLUTCH_LEAST = Quantity(6.9e6, "pressure_gauge")  # 1000 psi: 100 lbf on a 6:1 pedal into a 7/8 in cylinder (common practice, no source)
_CLUTCH_CURE = 'hydraulic hose with crimped ends whose liner takes the liquid, or steel tube; the unpressed hose of a reservoir is a run of its own, service = "other"'


def _serves_a_clutch(case: CaseResult, one: Rated) -> bool:
    """As the builder says of its run or circuit; where nobody does, in the liquid of brakes by the name of line and run."""
    said, layout = service_said(case, one), case.layout
    return said == "clutch" or not said and is_of_brakes(layout.family, layout.fluid, layout.circuit) and "clutch" in words_of(case, one)


def _serves_brakes(case: CaseResult, one: Rated) -> bool:
    """As the builder says of its run or circuit; where nobody does, by liquid and names."""
    said, layout = service_said(case, one), case.layout
    return said == "brakes" if said else is_of_brakes(layout.family, layout.fluid, layout.circuit) and "clutch" not in words_of(case, one)


def _of_hose(case: CaseResult, one: Rated) -> Finding | None:
    """What is wrong with a hose in the brakes, the worst of it; None where nothing is."""
    bears = one.working(None)[0]
    if one.line.shop.clamped:
        return _brake(case, one, "stop", "held by clamps in a brake circuit: they blow off", "crimped brake hose with its own ends")
    if (weak := _too_weak(case, one)) is not None:
        return weak
    if one.rating is None:
        if bears is None and one.line.spec == "push-on":
            return _brake(case, one, "stop", "push-on hose, fuel hose on a barb, in a brake circuit: it blows off or bursts", _CURE)
        return _brake(case, one, "fix", "nothing says that this hose is brake hose, and it is in a brake circuit",
                      'brake hose, and say so, standard = "FMVSS 106"')
    if bears is None:
        return _brake(case, one, "stop", f"{one.called} has no working pressure, and this is a brake circuit", _CURE)
    if one.hose is not None and one.hose.standard != "FMVSS 106":
        return _brake(case, one, "fix", f"{one.called} is no brake hose: on the road one that meets FMVSS 106 is asked for", _CURE)
    return None


def _of_tube(case: CaseResult, one: Rated) -> Finding | None:
    """What is wrong with a tube in the brakes, the worst of it; None where nothing is. A thick wall makes no brake tube of a soft metal."""
    material = one.line.shop.material
    if material is None:
        return _brake(case, one, "fix", "nothing says what this tube is made of, and it is in a brake circuit",
                      'brake tube, and say so, material = "SAE J527" or "90/10 copper-nickel"')
    allowed, source = tubes_for("brake")
    if _is_soft(material):
        return _brake(case, one, "stop", f"{material} in a brake circuit: {_SOFT}, whatever its wall ({source})", _TUBES)
    if (weak := _too_weak(case, one)) is not None or material in allowed:
        return weak
    if "steel" in material and "stainless" not in material:
        return _brake(case, one, "watch", f"{material} in a brake circuit, where double-wall brazed tube belongs ({source})",
                      'material = "SAE J527" where it is brake tube', hurt=0.1)
    return _brake(case, one, "fix", f"{material} is none of the tubes that are kept for brakes ({source})", _TUBES)


_TUBES = "double-wall steel, 90/10 copper-nickel or annealed stainless brake tube, double flared or as its fittings ask"


def _is_soft(material: str) -> bool:
    """Aluminium and plain copper."""
    name = material.lower()
    return "alumin" in name or "copper" in name and "nickel" not in name


def _too_weak(case: CaseResult, one: Rated) -> Finding | None:
    bears, source = one.working(None)
    figure = brake_figure("panic stop")
    least = float(figure["value"].split()[0]) * 1e6
    if bears is None or bears >= least:
        return None
    panic = f"in a panic stop brake lines see {{limit}} and more ({catalog.source_in_words(figure['source'], figure['how'])})"
    return _brake(case, one, "stop", f"{one.called} bears {{value}} in a brake circuit; {panic}", _CURE, Quantity(bears, "pressure_gauge"),
                  Quantity(least, "pressure_gauge"), source, least / bears - 1.0)


def _brake(case: CaseResult, one: Rated, severity: str, what: str, cure: str, value: Quantity | None = None, limit: Quantity | None = None,
           source: str = "", hurt: float = 1.0) -> Finding:
    guessed = "" if service_said(case, one) else f"; {_OR_SAY}"
    return Finding("brake line", severity, one.title, case.name, what, value, limit, source, f"{cure}{guessed}", hurt=hurt)


def steering_pressure_hose(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Low-pressure hose between a steering pump and what it drives."""
    guessed = catalog.fluid_class(case.layout.fluid) == "power steering fluid" or "steering" in case.layout.circuit.lower()
    if not guessed and "steering" not in case.layout.services.values():
        return
    feed = {*roles_of(case)["feed"]}
    for one in rated_lines(case, said_only=False):
        bears, source = one.working(None)
        said = service_said(case, one)
        if said != "steering" and (said or not guessed):
            continue
        fuel_hose = one.rating is None and bears is None and one.line.spec == "push-on"
        if not one.is_hose or one.part not in feed and inside(case, one.part) < _STEERING_RETURN:
            continue
        if one.line.shop.clamped:
            yield Finding("steering hose", "stop", one.title, case.name, "held by clamps on the pressure side of the steering: at full lock the pump goes to its relief",
                          source=COMMON_PRACTICE, cure="pressure hose of SAE J190 with crimped ends", hurt=1.0)
            continue
        if one.rating is None and bears is None and not fuel_hose:
            continue
        if bears is None or bears < _STEERING_LEAST:
            value, limit = (None, None) if bears is None else (Quantity(bears, "pressure_gauge"), Quantity(_STEERING_LEAST, "pressure_gauge"))
            called = "push-on hose" if fuel_hose else one.called
            what = "without a working pressure" if bears is None else "made for {value}, where {limit} is the least"
            yield Finding("steering hose", "stop", one.title, case.name,
                          f"{called}, {what}, on the pressure side of the steering: at full lock the pump goes to its relief", value, limit,
                          source if bears is not None else "", "pressure hose of SAE J190 with crimped ends",
                          hurt=_STEERING_LEAST / bears - 1.0 if bears else 1.0)
