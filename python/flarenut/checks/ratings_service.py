"""Checks on what a hose or tube is used for: liquids that it does not take, hose in tanks, oil coolers; unknown ratings."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any
from collections.abc import Iterator, Sequence

from flarenut import catalog
from flarenut.catalog.compatibility import compatible_family
from flarenut.catalog.hose_ratings import bore_range
from flarenut.results import Finding
from flarenut.units import Quantity

from .ratings_lines import rated_lines, words_of

if TYPE_CHECKING:
    from ..catalog.compatibility import Compatibility
    from ..circuit.made_of import MadeOf
    from ..results.case import CaseResult
    from .limits import Limits
    from .ratings_lines import Rated

_IN_TANK = re.compile(r"\b(in|inside)[- ](the )?(tank|cell)\b|submer")
_ADDED = re.compile(r"auxiliary|\baux\b|added|extra|second")


def wrong_liquid(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A liquid that the liner of a hose or the metal of a tube does not take."""
    for one in rated_lines(case):
        found = _compatibility(case, one)
        if found is None or found.verdict not in ("no", "limited"):
            continue
        liner = f" ({one.hose.liner})" if one.hose is not None else ""
        called = one.called if one.rating is not None or not one.is_hose else f"{one.line.shop.standard or one.line.named} hose"
        yield Finding("liquid and line", "stop" if found.verdict == "no" else "watch", one.title, case.name,
                      f"{case.layout.fluid} in {called}{liner}: {found.reason} ({found.said})", source="",
                      cure=_TAKES.get(found.fluid, "hose or tube whose maker names this liquid"),
                      hurt=1.0 if found.verdict == "no" else 0.1)


_TAKES = {"ethanol blend": "PTFE hose, stainless tube, or fuel hose whose maker names this fuel", "methanol": "PTFE hose or stainless tube",
          "brake fluid": "brake hose (FMVSS 106) or steel or copper-nickel brake tube",
          "gasoline": "fuel hose (SAE 30R9), PTFE hose, or steel or aluminium tube", "coolant": "coolant hose (EPDM, silicone) or hard line",
          "R-134a": "air-conditioning hose of SAE J2064", "R-1234yf": "air-conditioning hose of SAE J2064"}


def _compatibility(case: CaseResult, one: Rated) -> Compatibility | None:
    if one.is_hose and one.rating is None:
        return _by_name(one.line, case.layout.fluid)
    material = one.hose.standard if one.hose is not None else one.line.shop.material
    if material is None:
        return None
    found = catalog.compatible(material, case.layout.fluid)
    if one.hose is not None and found.material != material and one.hose.liner != found.material:
        found = catalog.compatible(one.hose.liner, case.layout.fluid)  # a liner of the shop's own table
    return found


def _by_name(line: MadeOf, fluid: str) -> Compatibility | None:
    """Of hose without a rating: by its standard, else by the liners of its family."""
    try:
        return catalog.compatible(catalog.hose_standard(line.shop.standard or line.named), fluid)
    except catalog.CatalogError:
        return compatible_family(line.spec, fluid)


def hose_in_tank(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Hose that lies in fuel must be made for it. By what the builder calls it: in tank, submerged."""
    if case.layout.family != "fuel":
        return
    for one in rated_lines(case):
        inside = _IN_TANK.search(words_of(case, one))  # not by the circuit's name: a circuit is never all in its tank
        if inside and one.hose is not None and one.hose.standard != "SAE 30R10" and one.hose.liner != "PTFE":
            yield Finding("hose in tank", "stop", one.title, case.name,
                          f"{one.called} in a tank: only SAE 30R10 is made to lie in fuel; others swell from outside and come off or burst "
                          f"({catalog.source_in_words('M3', 'memory')})", source="", cure="SAE 30R10 hose, or tube", hurt=1.0)


def cooler_hose(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Oil cooler hose of SAE J1532 type B is for added auxiliary coolers only."""
    for one in rated_lines(case):
        if one.hose is None or one.hose.standard != "SAE J1532 type B":
            continue
        if not _ADDED.search(f"{words_of(case, one)} {case.layout.circuit.lower()}"):
            yield Finding("oil cooler hose", "watch", one.title, case.name,
                          "SAE J1532 type B is for an added auxiliary cooler only: 50,000 impulses against "
                          f"the 300,000 of type A ({catalog.source_in_words('S20', 'seen')})", source="",
                          cure="type A hose; or call it auxiliary where it leads to an added cooler", hurt=0.5)


def permeation(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Gasoline vapour through the wall of hose that lets much through, once for a circuit."""
    if case.layout.family != "fuel" or catalog.fluid_class(case.layout.fluid) not in ("gasoline", "ethanol blend"):
        return
    found = {one.title: note for one in rated_lines(case) if one.hose is not None and (note := catalog.permeation_note(one.hose.standard))}
    for note in dict.fromkeys(found.values()):
        titles = [title for title, own in found.items() if own == note]
        yield Finding("fuel through the wall", "note", ", ".join(titles), case.name, note, source="")


def two_hoses(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A `spec` and a `standard` of hoses whose bores differ: the flow is found with the one, the rating looked up with the other."""
    for one in rated_lines(case):
        standard, size = one.line.shop.standard, one.line.dash
        bore, other = (_bore(size, named) for named in (one.line.spec, standard))
        if bore is None or other is None or abs(bore - other) <= _SAME_BORE:
            continue
        yield Finding("two kinds of hose", "fix", one.title, case.name,
                      f"spec '{one.line.named}' has a bore of {{value}} in -{size}, standard {standard} one of {{limit}}: one of the two is wrong",
                      Quantity(bore, "length"), Quantity(other, "length"), "the tables of bores",
                      f'spec = "{standard}" says both; or measure the bore', hurt=abs(bore / other - 1.0))


def least_bore(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Hose whose standard allows a bore below the nominal one that the flow was found with, once for each kind and size."""
    groups: dict[tuple[str, float, tuple[float, float]], list[str]] = {}
    for one in rated_lines(case):
        if one.hose is None or one.hose.dash is None:
            continue
        allowed = bore_range(one.hose.standard, one.hose.dash)
        if allowed is not None and abs(one.line.bore - one.hose.dash / 16 * 0.0254) < 1e-5:  # their nominal bore: any other was measured
            groups.setdefault((one.hose.standard, one.line.bore, allowed), []).append(one.title)
    for (standard, bore, allowed), titles in groups.items():
        yield Finding("bore may be less", "note", ", ".join(titles), case.name,
                      f"{standard} may have a bore of {{least}} to {{most}} where {{nominal}} is taken, and up to {{more}} more friction, by the fifth "
                      f"power of the bore ({catalog.source_in_words('M2', 'memory')})", source="",
                      cure="measure it and give it as 'bore' where that counts",
                      numbers={"least": Quantity(allowed[0], "length"), "most": Quantity(allowed[1], "length"), "nominal": Quantity(bore, "length"),
                               "more": Quantity((bore / allowed[0]) ** 5 - 1.0, "fraction")})


_SAME_BORE = 0.3e-3  # [m]: families that share their bores but for rounding


def _bore(size: Any, named: Any) -> float | None:
    """Bore of a size of a specification; None where the tables do not hold it, as they hold nothing of what is not said."""
    try:
        return catalog.hose_bore(size, named).bore
    except catalog.CatalogError:
        return None


def rating_unknown(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Lines that nobody said the rating of, in one line for all that want the same; only where something of hardware is said."""
    groups: dict[tuple[str, ...], dict[str, str]] = {}
    for one in rated_lines(case):
        unjudged = _unjudged(case, one)
        if unjudged and (one.is_hose or one.line.shop.said):
            groups.setdefault(unjudged, {})[one.title] = one.unknown
    for unjudged, unknown in groups.items():
        reasons = dict.fromkeys(reason or "the standard states no pressure" for reason in unknown.values())
        cures = ['what its maker states, maker_pressure = "250 psi"'] if "pressure" in unjudged else []
        cures += ['the standard that it is made to, standard = "SAE 100R14"; of tube its material'] if any(unknown.values()) else []
        yield Finding("rating unknown", "note", ", ".join(unknown), case.name, f"not judged for {_and(unjudged)}: {'; '.join(reasons)}", source="",
                      cure=f"say {', or '.join(cures)}")


def unjudged(case: CaseResult) -> dict[str, tuple[tuple[str, ...], str]]:
    """Title of each hose and tube that cannot be judged in a case -> (what for, why), also where nothing else is said of hardware."""
    found = {one.title: (_unjudged(case, one), one.unknown or "the standard states no pressure") for one in rated_lines(case, said_only=False)}
    return {title: told for title, told in found.items() if told[0]}


def _unjudged(case: CaseResult, one: Rated) -> tuple[str, ...]:
    """What a line cannot be judged for: its maker's pressure tells neither its temperature nor its liner."""
    pressure = ("pressure",) if one.working(None)[0] is None else ()
    if one.rating is not None:
        return pressure
    found = _compatibility(case, one)
    return (*pressure, "temperature", *(("liquid",) if found is None or found.verdict == "unknown" else ()))


def _and(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if words[1:] else words)
