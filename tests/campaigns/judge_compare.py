"""One circuit before the judge: what the engine says, what the judge finds, and who agrees with whom."""

from typing import NamedTuple

import numpy as np

from judge_laws import LAWS
from judge_library import LIBRARY_LAWS
from judge_system import System, solve
from plumbing import to_circuit

PAGES, LIBRARY = 1e-6, 3e-3  # bounds of agreement
UNREAL = 1e9  # [Pa], a pressure that nothing stands


class Verdict(NamedTuple):
    """`outcome` is a row of the campaign's table; `worst` the largest difference, at `where`; `how` the judge's way to its root."""

    seed: int
    outcome: str
    worst: float = 0.0
    where: str = ""
    how: str = ""


class Engine(NamedTuple):
    """Gauge total pressures [Pa] and mass flows [kg/s] of the engine's answer, or why there is none."""

    pressures: dict
    flows: dict
    cause: str


def ask(plumbing):
    """The engine's answer to a plumbing."""
    result = next(iter(to_circuit(plumbing).solve().values()))
    if not result.converged:
        return Engine({}, {}, str(result.cause))
    pressures = {name: result.at(name).total.to("Pa") - plumbing.ambient for name, place in plumbing.places.items() if place["kind"] == "junction"}
    rho = plumbing.fluid["density"]
    flows = {part.name: result.part(part.name).flow.to("m3/s") * rho for part in plumbing.parts if part.kind != "tee"}
    return Engine(pressures, flows, "")


def differences(plumbing, engine, found, least=0.01):
    """Largest relative difference and where: of a pressure over its gauge value or `least` of the largest one in the circuit, of a flow over the
    largest flow (or a millionth of a middling one, where nothing flows). The library's judge takes a tenth: what is left at the end of a row of parts
    is a small difference of large drops, and carries the roundings of their constants."""
    most = max([abs(p) for p in found.pressures.values()] + [1e3])
    rows = [(abs(engine.pressures[name] - p) / max(abs(p), least * most), name) for name, p in found.pressures.items()]
    largest = max([abs(q) for flows in found.flows.values() for q in flows] + [1e-6 * System.flow_scale(plumbing)])
    rows += [(abs(engine.flows[part.name] - sum(found.flows[part.name])) / largest, part.name) for part in plumbing.parts if part.kind != "tee"]
    return max(rows)


def is_root(plumbing, engine, laws=LAWS, bound=1e-7):
    """Whether the engine's answer solves the judge's equations: Newton's step from it moves next to nothing."""
    system = System(plumbing, laws)
    flows = _all_flows(plumbing, engine, system)
    if flows is None:
        return False
    x = system.pack(engine.pressures, flows)
    for turn in range(2):  # flows inside a part are split first: the public answer tells their sum
        step = system.closing(x)
        if turn == 0 and np.all(np.isfinite(step)):
            inner = [e.first + j for e in system.elements if e.law.flows == 2 for j in range(2)]
            x[inner] += step[inner]
    return bool(np.max(np.abs(step)) < bound * (1.0 + np.max(np.abs(x))))


def _all_flows(plumbing, engine, system):
    """Flows of every law; of tees and filters with bypass by the mass balances and the drop across them."""
    flows, rho = {}, plumbing.fluid["density"]
    for element in system.elements:
        part = element.part
        if part.kind == "tee":
            legs = [sum(sign * engine.flows[other.part.name] for other in system.elements if other.part.kind != "tee"
                        for place, flow, sign in other.ways[::other.law.flows] if place == leg) for leg in (part.end, part.numbers["branch"])]
            drawn = [plumbing.places[leg].get("demand", 0.0) for leg in (part.end, part.numbers["branch"])]
            flows[part.name] = tuple(need - leg for need, leg in zip(drawn, legs))
        elif element.law.flows == 2:
            whole = engine.flows[part.name]
            flows[part.name] = (whole, 0.0) if whole == 0.0 else _split(part, engine, plumbing, whole, rho)
        else:
            flows[part.name] = (engine.flows[part.name],)
    return flows


def _split(part, engine, plumbing, whole, rho):
    """What of a filter's flow goes through its element at the pressures of the answer."""
    n, places = part.numbers, plumbing.places
    at = [engine.pressures.get(name) for name in (part.start, part.end)]
    if None in at:
        return whole, 0.0
    drop = at[0] - at[1] - rho * 9.80665 * (places[part.end]["elevation"] - places[part.start]["elevation"])
    a, b = n["quadratic"] * rho / n["rating_density"], n["linear"] * n["loading"] * plumbing.fluid["viscosity"] / n["rating_viscosity"]
    flow = rho * 2 * drop / (b + (b * b + 4 * a * abs(drop)) ** 0.5)
    return flow, whole - flow


def in_transition(plumbing, found):
    """Whether a line has a Reynolds number of 1950 to 4050, where libraries and the engine part by design."""
    for part in plumbing.parts:
        if part.kind == "line":
            reynolds = 4 * abs(found.flows[part.name][0]) / (3.141592653589793 * part.numbers["bore"] * plumbing.fluid["viscosity"])
            if 1950 < reynolds < 4050:
                return True
    return False


def in_corner(plumbing, found):
    """Whether a spring, a check valve or a seat stands in its rounded corner: within a tenth of its band of shut, or within a fifth of cracking."""
    system = System(plumbing)
    x = system.pack(found.pressures, found.flows)
    for element in system.elements:
        n, kind = element.part.numbers, element.part.kind
        p = [system.pressure_at(name, x) + lift for name, lift in zip(element.places, element.lifts)]
        bands = None
        if kind == "relief valve":
            bands = (p[0] - p[1] - n["set_pressure"]) / n["band"]
        elif kind == "filter with bypass":
            bands = (p[0] - p[1] - n["bypass_pressure"]) / n["bypass_band"]
        elif kind == "bypass regulator":
            bands = ((1 - n["seat_share"]) * p[2] + n["seat_share"] * p[1] - p[3] - n["set_pressure"]) / n["band"]
        elif kind == "reducing regulator":
            bands = (p[3] + n["set_pressure"] - p[2] + n["seat_share"] * (p[0] - p[2])) / n["band"]
        elif kind == "check valve":
            bands = ((p[0] - p[1]) / n["cracking_pressure"] - 1) / 2
        if bands is not None and abs(bands) < 0.1:
            return True
    return False


def judge(plumbing):
    """Verdicts of both judges on one plumbing: by the pages' laws, and by the library's where it may speak (else None)."""
    engine = ask(plumbing)
    found = solve(plumbing)
    first = _verdict(plumbing, engine, found, LAWS, PAGES, "agrees within 1e-6")
    if not engine.pressures or found is None or first.outcome != "agrees within 1e-6":
        return first, None
    if in_corner(plumbing, found):
        return first, Verdict(plumbing.seed, "not asked: a device in its corner")
    agrees = "agrees within 0.3 %" + (", a line in transition by its page" if in_transition(plumbing, found) else "")
    return first, _verdict(plumbing, engine, solve(plumbing, LIBRARY_LAWS), LIBRARY_LAWS, LIBRARY, agrees)


def _verdict(plumbing, engine, found, laws, bound, agrees):
    seed = plumbing.seed
    if engine.cause:
        if found is None:
            return Verdict(seed, "engine refused in words, judge found nothing", where=engine.cause)
        lowest, highest = min(found.pressures.values()) + plumbing.ambient, max(found.pressures.values())
        unreal = "its root is below absolute zero" if lowest < 0 else "its root is beyond any real pressure" if highest > UNREAL else ""
        outcome = f"engine refused in words, judge agrees: {unreal}" if unreal else "engine refused, judge found a root"
        return Verdict(seed, outcome, where=engine.cause, how=found.how)
    if found is None:
        told = "judge found nothing, engine's answer is a root" if is_root(plumbing, engine, laws) else "judge found nothing, engine's answer is no root"
        return Verdict(seed, told)
    worst, where = differences(plumbing, engine, found, 0.01 if bound == PAGES else 0.1)
    if worst <= bound:
        return Verdict(seed, agrees, worst, where, found.how)
    both = is_root(plumbing, engine, laws)
    return Verdict(seed, "differs: both are roots" if both else "differs", worst, where, found.how)
