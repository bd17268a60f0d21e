"""One circuit of found temperatures before the judge, as in judge_compare."""

from judge_compare import LIBRARY, PAGES, Verdict
from judge_heat import HeatSystem, solve_heat
from random_heat import to_circuit


def air_of(kelvin):
    """Density and specific heat of air at one atmosphere: data to both, judged elsewhere by CoolProp."""
    import flarenut as fn

    air = fn.air(f"{kelvin!r} K")
    return air.density.to("kg/m3"), air.specific_heat.to("J/kg/K")


def heat_differences(described, result, found):
    """Largest relative difference and where: pressures and flows as of other circuits, temperatures over what they stand above the air (at least 10 K),
    heat of coolers over the largest heat."""
    p, rows = described.plumbing, []
    most = max(abs(v) for v in found.pressures.values())
    largest = max(abs(q[0]) for q in found.flows.values())
    hottest = max(abs(v) for v in found.heats.values())
    for name, place in p.places.items():
        if place["kind"] == "junction":
            gauge = result.at(name).total.to("Pa") - p.ambient
            rows.append((abs(gauge - found.pressures[name]) / max(abs(found.pressures[name]), 0.01 * most), name))
        warm = found.temperatures[name]
        rows.append((abs(result.at(name).temperature.to("K") - warm) / max(abs(warm - described.air), 10.0), f"temperature of {name}"))
    for part in p.parts:
        told = result.part(part.name)
        flow = found.flows[part.name][0]
        rows.append((abs(told.mass_flow.to("kg/s") - flow) / largest, part.name))
        if part.kind == "core":
            rows.append((abs(told.heat.to("W") - found.heats[part.name]) / hottest, f"heat of {part.name}"))
    worst, where = max(rows)
    return float(worst), where


def engine_is_root(described, result):
    plumbing = described.plumbing
    pressures = {name: result.at(name).total.to("Pa") - plumbing.ambient for name in plumbing.places}
    temperatures = {name: result.at(name).temperature.to("K") for name in plumbing.places}
    flows = {part.name: result.part(part.name).mass_flow.to("kg/s") for part in plumbing.parts}
    return HeatSystem(described, air_of).is_root(pressures, flows, temperatures)


def judge_heat(described):
    """Verdicts of both judges, as `judge_compare.judge`."""
    seed = described.plumbing.seed
    result = to_circuit(described).solve()["judged"]
    found = solve_heat(described, air_of)
    if not result.converged:
        # The judge knows no limits of the liquid: its root may lie where the oil is not known.
        if found is None:
            return Verdict(seed, "engine refused in words, judge found nothing", where=str(result.cause)), None
        beyond = not 230 < min(found.temperatures.values()) <= max(found.temperatures.values()) < 433
        outcome = "engine refused in words, judge agrees: no root where the oil is known" if beyond else "engine refused, judge found a root"
        return Verdict(seed, outcome, where=str(result.cause)), None
    if found is None:
        return Verdict(seed, "judge found nothing"), None
    worst, where = heat_differences(described, result, found)
    if worst > PAGES:
        both = engine_is_root(described, result)
        return Verdict(seed, "differs: both are roots" if both else "differs", worst, where, found.how), None
    first = Verdict(seed, "agrees within 1e-6", worst, where, found.how)
    if any(2200 < re < 4100 for re in found.reynolds.values()):
        return first, Verdict(seed, "not asked: a cooler in transition")
    by_library = solve_heat(described, air_of, True)
    if by_library is None:
        return first, Verdict(seed, "judge found nothing")
    worst, where = heat_differences(described, result, by_library)
    return first, Verdict(seed, "agrees within 0.3 %" if worst <= LIBRARY else "differs", worst, where, by_library.how)
