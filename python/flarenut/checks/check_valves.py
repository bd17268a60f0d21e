"""Checks on check valves: one that is shut because it is written the wrong way round."""

from flarenut.results import Finding
from flarenut.units import Quantity

_STILL = 1e-5  # kg/s, as in `devices`: seepage


def backward_check_valve(case, limits):
    """A shut check valve that a pump pushes or pulls at in vain, or that alone keeps a circuit without pumps from flowing.

    One that holds another pump's pressure back, or a stopped pump's line full, is as it should be.
    """
    shut = {valve for valve in case.parts_of_kind("check valve") if case.solution.regime_of(valve) == "shut"}
    for valve in sorted(shut):
        inlet, outlet = case.ends(valve)[:2]
        if outlet.total <= inlet.total:
            continue
        pump = next((pump for pump in case.pumps if _strains(case, pump, inlet, outlet, shut)), None)
        if pump is None and (case.pumps or not _only_way(case)):
            continue
        title = case.layout.title(pump) if pump else ""
        if case.layout.title(valve) == title:
            title = pump
        against = f", and {title} works against it" if pump else ", and nothing flows anywhere"
        yield Finding("check valve backwards", "fix", case.layout.title(valve), case.name,
                      f"shut, with {{over}} more at its outlet than at its inlet{against}: is it written backwards?",
                      cure="turn it round: liquid passes from the inlet, which is written first, to the outlet",
                      numbers={"over": Quantity(outlet.total - inlet.total, "pressure_difference")})


def _strains(case, pump, inlet, outlet, shut):
    """True when a pump that runs moves nothing, and stands against the valve's outlet or draws from its inlet."""
    if case.solution.regime_of(pump) == "stopped" or not _is_still(case, pump):
        return False
    ends, stops = case.ends(pump), {*shut, *case.pumps}
    return outlet.junction in _joined(case, ends[-1].junction, stops) or inlet.junction in _joined(case, ends[0].junction, stops)


def _is_still(case, part):
    return case.solution.regime_of(part) == "dead-headed" or all(abs(end.flow) < _STILL for end in case.ends(part))


def _only_way(case):
    return all(abs(end.flow) < _STILL for part in case.part_names for end in case.ends(part))


def _joined(case, start, stops):
    """Junctions joined to one by parts other than `stops`, as far as tanks and places of given pressure."""
    waiting, seen = [start], {start}
    while waiting:
        here = waiting.pop()
        if case.is_held(here):
            continue
        for part, _ in case.meeting(here):
            for end in () if part in stops else case.ends(part):
                if end.junction not in seen:
                    seen.add(end.junction)
                    waiting.append(end.junction)
    return seen
