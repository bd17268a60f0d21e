"""Checks on what hose and tube are made for: pressure when hot, temperature, suction, bends. Only where a circuit says what they are."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians
from typing import TYPE_CHECKING

from flarenut import catalog
from flarenut.catalog.derating import heat_unknown_from
from flarenut.results import Finding
from flarenut.units import Quantity

from .ratings_lines import MAKER, coldest, hottest, inside, rated_lines, vacuum_in
from .roles import roles_of
from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits
    from .ratings_lines import Rated
    from ..catalog.hose_ratings import HoseRating

_BURSTS_FROM = 1.5  # times what it bears hot: half of that is gone with age, a whip or a spike (judgement)
_TOO_HOT = 15.0  # [K] beyond its limit: standards allow peaks of that (SAE J189, J190: 135 over 120 C, seen)
_STEP = 10.0  # [K]: how far beyond a limit on temperature counts as once beyond it, as checks/heat.py
_ON_CLAMPS = "SAE J189"  # what hose on clamps of one's own bears, for want of a rule for other hose
_SOFT = ("SAE 30R6", "SAE 30R7", "SAE 30R9", "SAE 30R10", "SAE 30R14", "SAE 100R3", "SAE 100R6", "SAE J189", "SAE J20", "MIL-DTL-6000",
         "SAE J1532 type A class 1", "SAE J1532 type A class 2", "SAE J1532 type A class 3", "SAE J1532 type B")  # no wire in them
_SOFT_LENGTH = 18 * 0.0254  # [m], MIL-DTL-6000D (seen)
_SOFT_VACUUM = 3386.4  # [Pa], 1 inHg: less than that draws no hose together (judgement)
_SHARE_APART = 0.9  # of its highest pressure, while as near to its highest temperature as _NEAR: both at once (judgement)
_NEAR = 10.0  # [K]
_MUCH = 0.5  # of what a tube bears cold: from there on the strength that heat may cost it counts (judgement)
_KINKS_FROM = 0.5  # of the least radius of a hose (judgement)


def over_pressure(case: CaseResult, limits: Limits) -> Iterator[object]:
    """Static pressure in a line above what it bears at its temperature: by its maker, else by its standard or material."""
    for one in rated_lines(case):
        bears, source = one.working(hottest(case, one.part))
        if bears == 0.0:
            bears, source = one.working(None)  # too hot for any pressure, as `too_hot` tells; here what it bears cold
        if bears is None:
            continue
        found = inside(case, one.part)
        yield from _over(case, one.title, found, bears, source, _who_says(one, bears), _CURE, hot=hottest(case, one.part))
    notes = notes_of(case)
    for part, bears in (notes.maker_pressures if notes else {}).items():
        if part in case.part_names:
            cure = "lower the pressure, or take one made for it"
            yield from _over(case, case.layout.title(part), inside(case, part), bears, MAKER, "its maker states", cure)


_CURE = "lower the pressure, or take hose or tube of a higher rating, hot, with ends of the same"


def _who_says(one: Rated, bears: float) -> str:
    """Whose figure it is: of what its maker states heat leaves only a share, as of any other."""
    cold = one.working(None)[0]
    hot = cold is not None and bears < 0.999 * cold
    if one.line.shop.maker_pressure is not None:
        return "{hot} leaves of what its maker states" if hot else "its maker states"
    return f"{one.called} bears{' at {hot}' if hot else ''}"


def _over(case: CaseResult, title: str, found: float, bears: float, source: str, what: str, cure: str,
          hot: float | None = None) -> Iterator[Finding]:
    if found <= bears:
        return
    margin = found / bears - 1.0
    numbers = {"over": Quantity(margin, "fraction"), **({} if hot is None else {"hot": Quantity(hot, "temperature")})}
    yield Finding("over working pressure", "stop" if found > _BURSTS_FROM * bears else "fix", title, case.name,
                  f"{{value}} inside, {{over}} above the {{limit}} that {what}: it may leak or burst", Quantity(found, "pressure_gauge"),
                  Quantity(bears, "pressure_gauge"), source, cure, hurt=margin, numbers=numbers)


def on_clamps(case: CaseResult, limits: Limits) -> Iterator[object]:
    """An assembly bears no more than its ends: hose on barbs and clamps blows off long before it bursts."""
    known = catalog.hose_rating(_ON_CLAMPS, clamped=True)
    assert known.working is not None, "the table states what clamps hold"
    for one in rated_lines(case):
        found, bears = inside(case, one.part), one.working(None)[0]
        clamped = one.is_hose and one.line.shop.clamped and one.line.shop.maker_pressure is None
        if not clamped or found <= known.working or (bears is not None and bears <= known.working):
            continue  # where the hose bears no more than its clamps, `over_pressure` speaks
        yield Finding("clamps over pressure", "stop" if found > _BURSTS_FROM * known.working else "fix", one.title, case.name,
                      "{value} inside a hose that is held on barbs by clamps, {over} above the {limit} that they hold: it may blow off",
                      Quantity(found, "pressure_gauge"), Quantity(known.working, "pressure_gauge"),
                      f"{known.said}, for want of a rule for other hose",
                      "crimped or screwed hose ends, or a lower pressure", hurt=found / known.working - 1.0,
                      numbers={"over": Quantity(found / known.working - 1.0, "fraction")})


def too_hot(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Liquid hotter than a hose or tube is made for; and pressure and temperature together where a standard says not both."""
    for one in rated_lines(case):
        if one.rating is None:
            continue
        kelvin, limit, source = hottest(case, one.part), _hottest_allowed(one), one.rating.said
        if limit is not None and kelvin > limit:
            yield Finding("line too hot", "stop" if kelvin > limit + _TOO_HOT else "fix", one.title, case.name,
                          f"{{value}} in it, {{beyond}} above the {{limit}} that {one.called} is made for: nothing of its pressure is promised there",
                          Quantity(kelvin, "temperature"), Quantity(limit, "temperature"), source,
                          "hose for that temperature (PTFE, or a class for hot liquid) or hard line, a way clear of the exhaust, or cooler liquid",
                          hurt=(kelvin - limit) / _STEP, numbers={"beyond": Quantity(kelvin - limit, "temperature_difference")})
        elif one.hose is not None and one.hose.apart and one.hose.working:
            yield from _both_at_once(case, one, one.hose, one.hose.working, kelvin)


def heat_not_counted(case: CaseResult, limits: Limits) -> Iterator[object]:
    """Hot liquid in a tube of a metal whose strength when hot nobody tells: it was judged by what it bears cold."""
    for one in rated_lines(case):
        bears = one.working(None)[0]
        if one.tube is None or bears is None:
            continue
        kelvin, (limit, source) = hottest(case, one.part), heat_unknown_from(one.tube.material)
        if limit is None or kelvin <= limit:
            continue
        share = inside(case, one.part) / bears
        yield Finding("heat not counted", "watch" if share > _MUCH else "note", one.title, case.name,
                      f"{{value}} in it, above {{limit}}: how much strength {one.called} loses there is not known, and it is judged by the {{cold}} "
                      "that it bears cold", Quantity(kelvin, "temperature"), Quantity(limit, "temperature"), source,
                      "stainless or carbon steel tube, whose strength when hot is known, or pressure to spare", hurt=max(share, 0.0),
                      numbers={"cold": Quantity(bears, "pressure_gauge")})


def _hottest_allowed(one: Rated) -> float | None:
    if one.hose is not None:
        return one.hose.hottest
    return 273.15 + 149.0 if one.tube is not None and "6061" in one.tube.material else None  # where pressure_derating.csv ends for good


def _both_at_once(case: CaseResult, one: Rated, rating: HoseRating, working: float, kelvin: float) -> Iterator[Finding]:
    found, top = inside(case, one.part), rating.hottest
    if top is None or found < _SHARE_APART * working or found > working or kelvin < top - _NEAR:
        return
    yield Finding("pressure and heat together", "fix", one.title, case.name,
                  f"{{value}} inside at {{hot}}, close to both limits of {one.called}, {{limit}} and {{top}}, which do not go together",
                  Quantity(found, "pressure_gauge"), Quantity(working, "pressure_gauge"), rating.said,
                  "a hose with more to spare in one of them", hurt=found / working,
                  numbers={"hot": Quantity(kelvin, "temperature"), "top": Quantity(top, "temperature")})


def too_cold(case: CaseResult, limits: Limits) -> Iterator[object]:
    """Liquid colder than a hose is made for: it stiffens and cracks where it is moved."""
    for one in rated_lines(case):
        least, found = one.hose.coldest if one.hose is not None else None, coldest(case, one.part)
        if one.hose is None or least is None or found >= least:
            continue
        yield Finding("line too cold", "fix", one.title, case.name,
                      f"{{value}} in it, {{beyond}} under the {{limit}} that {one.called} is made for: it stiffens, and cracks where it is moved",
                      Quantity(found, "temperature"), Quantity(least, "temperature"), one.hose.said,
                      "hose for that cold, PTFE say, or hard line", hurt=(least - found) / _STEP,
                      numbers={"beyond": Quantity(least - found, "temperature_difference")})


def hose_collapse(case: CaseResult, limits: Limits) -> Iterator[object]:
    """Vacuum in a hose before a pump: beyond what suction hose is rated for, or in a long hose without wire that is not rated for it."""
    suction = {*roles_of(case)["suction"]}
    for one in rated_lines(case):
        depth = vacuum_in(case, one.part)
        if not one.is_hose or one.part not in suction:
            continue
        if one.hose is not None and one.hose.vacuum is not None:
            yield from _beyond_rated(case, one, depth, one.hose.vacuum, one.hose.said)
        elif depth > _SOFT_VACUUM and one.line.length > _SOFT_LENGTH and _is_soft(one):
            yield Finding("hose may collapse", "fix", one.title, case.name,
                          "{vacuum} in a soft hose of {value} before a pump: without a rating for suction it tends to collapse when longer than "
                          "{limit}",
                          Quantity(one.line.length, "length"), Quantity(_SOFT_LENGTH, "length"), catalog.source_in_words("S4", "seen"),
                          "suction hose with a wire coil (SAE 100R4), hard line, or a shorter and wider line", hurt=depth / _SOFT_VACUUM / 10.0,
                          numbers={"vacuum": Quantity(-depth, "pressure_gauge")})


def _beyond_rated(case: CaseResult, one: Rated, depth: float, rated: float, said: str) -> Iterator[Finding]:
    if depth > rated:
        yield Finding("hose collapses", "stop", one.title, case.name,
                      f"{{value}} before a pump, beyond the {{limit}} that {one.called} bears: it collapses",
                      Quantity(-depth, "pressure_gauge"), Quantity(-rated, "pressure_gauge"), said,
                      "a wider or shorter line, or hard line", hurt=depth / rated - 1.0)


def _is_soft(one: Rated) -> bool:
    return one.hose.standard in _SOFT if one.hose is not None else one.line.spec == "push-on"


def bent_too_tight(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A bend tighter than a hose or tube takes without a kink; a hose so short that it cannot turn so far."""
    for one in rated_lines(case):
        if one.rating is None or not one.rating.bend_radius or not one.line.bend_angle:
            continue
        least = one.hose.bend_centreline if one.hose is not None else one.rating.bend_radius
        assert least is not None, "a hose that has a radius to the inside of its bend has one of its centreline"
        if one.line.bend_said and one.line.bend_radius < 0.999 * least:
            yield _kink(case, one, one.line.bend_radius, least)
        elif one.is_hose and (turned := _bent_itself(one)) > 0.0 and (widest := one.line.length / turned) < 0.999 * least:
            kinks = widest < _KINKS_FROM * least
            yield Finding("too short to bend", "stop" if kinks else "watch", one.title, case.name,
                          f"its length turns through its bends at {{value}} at most, tighter than the {{limit}} that {one.called} takes"
                          f"{_inside_words(one)}{': it kinks' if kinks else ''}",
                          Quantity(widest, "length"), Quantity(least, "length"), one.rating.said,
                          "angled hose ends for the turns, and say them in ends; or a longer way", hurt=least / widest - 1.0,
                          numbers=_inside_number(one))


def _inside_words(one: Rated) -> str:
    """How the least radius of a centreline follows from the one that hose is sold by."""
    if one.hose is None:
        return ""
    return " ({sold} to the inside of the bend, and " + ("half its outside diameter)" if one.hose.outside else "at least half its bore)")


def _inside_number(one: Rated) -> dict[str, Quantity]:
    sold = one.hose.bend_radius if one.hose is not None else None
    return {} if sold is None else {"sold": Quantity(sold, "length")}


def _bent_itself(one: Rated) -> float:
    """Angle that the hose itself turns through [rad]: what its ends turn may be among its bends. Of a way by points it is out already."""
    by_ends = 0.0 if one.line.way is not None else sum(end.turn for end in one.line.shop.ends if end is not None)
    return one.line.bend_angle - radians(by_ends)


def _kink(case: CaseResult, one: Rated, radius: float, least: float) -> Finding:
    floor = _KINKS_FROM * least if one.tube is None else one.tube.bend_radius_least
    source = one.hose.said if one.hose is not None else catalog.source_in_words("M8", "memory")
    if radius < floor:
        severity, what = "stop", "it kinks"
    else:
        severity, what = "fix" if one.is_hose else "watch", "it may kink, and its life is short" if one.is_hose else "it flattens"
    return Finding("bent too tight", severity, one.title, case.name,
                   f"bent at {{value}}, {{under}} under the least radius of {{limit}} for {one.called}{_inside_words(one)}: {what}",
                   Quantity(radius, "length"), Quantity(least, "length"), source, "a wider bend, or a formed end that makes the turn",
                   hurt=least / radius - 1.0,
                   numbers={"under": Quantity(1.0 - radius / least, "fraction"), **_inside_number(one)})
