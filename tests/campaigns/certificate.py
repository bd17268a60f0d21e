"""The certificate of an answer, worked out anew from the flows, pressures and temperatures that it reports. The solver's own residual is not asked.

- **mass**: what meets at a free place, over the largest flow of the circuit;
- **held**: pressures of tanks and places of given pressure against hydrostatics by hand;
- **loop**: round every closed way, held places joined through the open air, the drops that the laws of docs/parts ask at the reported flows
  have to cancel. The laws are those of `judge_laws`, written by another hand than the engine's. The engine's friction is good to 1e-7, so
  that a drop of its own law is known to that much of itself; what is beyond is the loop's error, over a bar or the largest pressure. Through a
  shut seat next to nothing flows, and the solver counts what it misses in flow: there the flow has to be right to 1e-12 kg/s, 4 mg in an hour,
  or to 1e-10 of the largest;
- **numbers**: nothing that is reported may be anything but a finite number.
"""

from math import isfinite
from typing import NamedTuple

from judge_laws import LAWS
from judge_system import System

GRAVITY = 9.80665
AT_REST = 1e-5  # [kg/s], a drop in some seconds: circuits that flow less are at rest, and balance to the round-off of their pressures
SEEPS = (1e-12, 1e-10)  # [kg/s], and of the largest flow, to which the flow through a shut seat is met
FRICTION = 2e-7  # to which the engine's friction law is met, of the drop


class Certificate(NamedTuple):
    mass: float
    held: float
    loop: float
    where: str
    faults: tuple


def certificate(plumbing, solution):
    """The `Certificate` of a core solution of a plumbing, by `to_circuit`."""
    faults, index = [], {name: i for i, name in enumerate(solution.junction_names)}
    pressure = {name: float(solution.pressure[index[name]]) for name in plumbing.places if name in index}
    ends = {part.name: list(solution.ends(part.name)) for part in plumbing.parts}
    numbers = [*pressure.values(), *(number for row in ends.values() for end in row for number in (end.flow, end.total, end.static, end.velocity, end.reynolds))]
    if not all(isfinite(number) for number in numbers):
        faults.append("not a number is reported")
    if any(not 0 <= number for number in pressure.values()):
        faults.append("a pressure below absolute zero is reported")
    mass = _mass(plumbing, ends, {number: name for name, number in index.items()})
    held = max([abs(pressure[name] - plumbing.ambient - over) / plumbing.ambient for name, over in _held(plumbing) if name in pressure] + [0.0])
    for name, row in ends.items():
        if any(end.total != float(solution.pressure[end.junction]) for end in row):
            faults.append(f"an end of {name} reports another pressure than its place")
    loop, where = _loop(plumbing, pressure, solution)
    return Certificate(mass, held, loop, where, tuple(faults))


def _mass(plumbing, ends, names):
    """Worst imbalance over the largest flow, of the parts' reported flows into their ports."""
    into, most = {}, 0.0
    for row in ends.values():
        for end in row:
            into[names[end.junction]] = into.get(names[end.junction], 0.0) + end.flow
            most = max(most, abs(end.flow))
    free = [name for name, place in plumbing.places.items() if place["kind"] == "junction"]
    most = max([most, AT_REST] + [abs(plumbing.places[name]["demand"]) for name in free])
    return max([abs(into.get(name, 0.0) + plumbing.places[name]["demand"]) for name in free] + [0.0]) / most


def _held(plumbing):
    for name, place in plumbing.places.items():
        if place["kind"] == "tank":
            yield name, place["vent_gauge"] + plumbing.fluid["density"] * GRAVITY * place["level"]
        if place["kind"] == "fixed":
            yield name, place["gauge"]


def _loop(plumbing, pressure, solution):
    """(worst error, the part there). Pressures are potentials, so that a loop cancels exactly when every part on it keeps its law: the worst
    sum round any loop is at most the sum of what its parts miss, and that sum over all parts is what is held against the bound."""
    system = System(plumbing, LAWS)
    scale = max([1e5] + [abs(one - plumbing.ambient) for one in pressure.values()])
    flow = max(SEEPS[0], SEEPS[1] * max(abs(one) for one in solution.flow))
    total, worst, where = 0.0, 0.0, ""
    for element in system.elements:
        p = [pressure[name] - plumbing.ambient + lift for name, lift in zip(element.places, element.lifts)]
        q = [solution.flow_of(element.part.name, number) for number in range(element.law.flows)]
        shut = solution.regime_of(element.part.name) == "shut"
        for number, miss in enumerate(element.law.mismatch(p, q)):
            moved = [one + flow * (place == number) for place, one in enumerate(q)] if shut else q
            allowed = FRICTION * abs(p[0] - p[1]) + abs(element.law.mismatch(p, moved)[number] - miss)
            over = max(0.0, abs(miss) - allowed) / scale
            total += over
            if over > worst:
                worst, where = over, element.part.name
    return total, where
