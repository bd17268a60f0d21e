"""Checks on what guards a displacement pump: that there is a relief, that it is the right way round, that its setting is no slip."""

from flarenut.results import INJECTORS, PUMPS, REGULATORS, Finding
from flarenut.units import Quantity

from .limits import is_engine_oil
from .reach import ROOT, pressed

_DISPLACEMENT = "positive displacement pump"
_SPILLS = ("relief valve", "bypass regulator")
_ENDS_A_WAY = (*PUMPS, *REGULATORS, "relief valve", INJECTORS)
# What may shut, plug or hardly let cold oil by. A filter with a bypass of its own is passed.
_RESISTS = ("filter", "valve", "orifice", "short tube orifice", "resistance", "measured table")
_BACKWARD_FROM = 0.1  # of its setting: more than that against it is no trifle of height


def unguarded_pump(case, limits):
    """A pump that moves the same volume every turn, and nothing that lets it go when the way is shut or the oil is thick."""
    for pump in case.parts_of_kind(_DISPLACEMENT):
        outlet = case.ends(pump)[-1].junction
        free = pressed(case, outlet, case.parts_of_kind(*_ENDS_A_WAY, *_RESISTS))
        if not case.number(f"{pump}.speed") or any(case.is_held(place) for place in free) or _spilling(case, free):
            continue
        far = pressed(case, outlet, case.parts_of_kind(*_ENDS_A_WAY))
        if any(case.ends(relief)[-1].junction in far for relief in _backwards(case)):
            continue  # spoken of in `backward_relief`
        title, behind = case.layout.title(pump), _spilling(case, far)
        if behind:
            between = sorted({case.layout.title(part) for place in free for part, _ in case.meeting(place)
                              if case.kind_of(part) in _RESISTS})
            yield Finding("relief out of reach", "fix", title, case.name,
                          f"the first relief after it, {case.layout.title(behind[0])}, stands behind {', '.join(between)}: what plugs or "
                          "hardly lets cold liquid by cuts it off, and nothing else limits the pressure before it",
                          source="", hurt=ROOT, cure="a relief valve straight after the pump, before any filter, cooler or valve")
        else:
            rise = Quantity(case.ends(pump)[-1].total - case.ends(pump)[0].total, "pressure_difference")
            yield Finding("no relief", "stop", title, case.name,
                          "no relief valve after it: it moves the same volume every turn, so that its pressure climbs until something "
                          "bursts when the liquid is thick or a way is shut; it raises {rise} in this case",
                          source="", hurt=ROOT, cure="a relief valve from its outlet back to the tank, before any filter, cooler or valve; if it "
                          "has one inside, write it so", numbers={"rise": rise})


def _spilling(case, junctions):
    return [spill for spill in case.parts_of_kind(*_SPILLS) if case.ends(spill)[0].junction in junctions]


def _backwards(case):
    """Relief valves that pressure stands against from behind, without a second one for the other way beside them."""
    valves = case.parts_of_kind("relief valve")
    ways = {tuple(end.junction for end in case.ends(valve)[:2]) for valve in valves}
    return {valve: over for valve in valves if (over := case.ends(valve)[1].total - case.ends(valve)[0].total)
            > _BACKWARD_FROM * case.number(f"{valve}.set_pressure", float("inf"))
            and tuple(end.junction for end in case.ends(valve)[1::-1]) not in ways}


def backward_relief(case, limits):
    """Pressure cannot leave by a relief valve that is the wrong way round."""
    for valve, over in _backwards(case).items():
        yield Finding("relief backwards", "stop", case.layout.title(valve), case.name,
                      "{over} more stands at its outlet than at its inlet: it is written backwards and relieves nothing",
                      source="", hurt=ROOT, cure="write its run from the pressure side to the tank, so that the pressure side comes first",
                      numbers={"over": Quantity(over, "pressure_difference")})


def relief_setting(case, limits):
    """A relief of engine oil set far above what engines, filters and coolers are made for: most often a slip of unit."""
    if not is_engine_oil(case.layout):
        return
    limit = limits.oil_relief_setting
    for valve in case.parts_of_kind("relief valve"):
        setting = max(case.number(f"{valve}.{name}", 0.0) for name in ("set_pressure", "second_set_pressure"))
        if setting > limit.si:
            yield Finding("relief setting", "stop" if setting > 2.0 * limit.si else "fix", case.layout.title(valve), case.name,
                          "opens at {value}, above {limit}: engine oil filters, coolers and seals are not made for it",
                          Quantity(setting, "pressure_difference"), limit, limits.source("oil_relief_setting"),
                          "check the number and its unit, bar or psi; else a weaker spring", hurt=setting / limit.si - 1.0)
