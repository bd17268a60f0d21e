"""The certificate of energy, worked out anew from the temperatures, pressures, flows and heat that an answer reports (docs/theory/heat_transfer.md,
"The balance of a circuit"). The solver's own residual is not asked.

- **mass**: what meets at a junction, over the largest flow of the circuit;
- **place**: what streams bring to a place, with what their parts put into them, what is put in there and what its walls let through, over all
  heat that is moved;
- **ends**: each stream leaves its part as warm as its heat says;
- **power**: a pump puts in its flow work over its efficiency, or the power that is said;
- **walls**: heat goes from the warmer to the colder, never so much that the stream passes what cools it; a part without a wall gives none.
"""

from math import isfinite
from typing import NamedTuple

GRAVITY = 9.80665
KELVIN = 1e-6  # [K] to which temperatures at ends are worked out
STANDING = 1e-8  # of the largest flow: what moves less may count as standing, and then passes no heat
LEAST_FLOW = 1.5e-11  # [kg/s] and so may, by the engine's scale of flows, half a milligram in nine hours: it brings along what a part conducts
CONDUCTS = 1e-9  # [W/K] that the engine lets pass from end to end of every part, so that places where nothing flows have a temperature
AT_REST = 1e-5  # [kg/s], as in `certificate`
LEAST_HEAT = 1.0  # [W] against which closure is judged where next to nothing is moved
PASSED = 2e-3  # [K] that a stream may pass its air by, beside what its own drop and rise make of it
CLOSE = 1e-9  # to which a reported power is that of its parts

WARMER_UNSEEN = 30.0  # [K] that a stream may leave beyond what is known of its liquid where nothing says what it meets


class Energy(NamedTuple):
    mass: float
    worst: float
    where: str
    moved: float  # [W]
    faults: tuple


class Stream(NamedTuple):
    """What enters a part, what leaves it: [(kg/s, place, kelvin), ...]."""

    part: str
    enters: list
    leaves: list

    @property
    def through(self):
        return sum(flow for flow, _, _ in self.enters)


def energy(facts, solution, shared=()):
    """The `Energy` of a core solution by its `Facts`; `shared` are parts that an exchanger warms."""
    names, faults = list(solution.junction_names), []
    heights = _heights(facts, solution, names)
    kelvin = {name: float(solution.temperature_of(name)) for name in names}
    pressure = {name: float(solution.pressure_of(name)) for name in names}
    if not all(map(isfinite, (*kelvin.values(), *pressure.values()))):
        return Energy(0.0, 0.0, "", 0.0, ("not a number is reported",))
    level = {name: facts.enthalpy(kelvin[name], pressure[name]) + GRAVITY * heights[name] for name in names}
    balance, moved, streams = dict.fromkeys(names, 0.0), 0.0, list(_streams(solution, names))
    stands = max(LEAST_FLOW, STANDING * max((stream.through for stream in streams), default=0.0))
    trickles, unsure = dict.fromkeys(names, 0.0), dict.fromkeys(names, 0.0)
    for stream in streams:
        heat, power = float(solution.heat_of(stream.part)), float(solution.power_of(stream.part))
        moved += abs(heat) + abs(power)
        _share_out(facts, stream, heat + power, level, balance if stream.through > stands else trickles)
        if stream.through > stands:
            faults += _faults_of(facts, solution, stream, heat, power, level, (kelvin, pressure, heights), shared)
    for name in names:
        put, lost = facts.put.get(name, 0.0), facts.loss.get(name, 0.0) * (kelvin[name] - facts.air)
        comes = max(0.0, -facts.drawn.get(name, 0.0))
        balance[name] += put - lost + comes * (facts.enthalpy(facts.supplied, pressure[name]) + GRAVITY * heights[name] - level[name])
        moved += abs(put) + abs(lost)
    mouths = [name for name in names if name not in facts.heights]
    for stream in streams:
        for _, start, _ in stream.enters:
            for _, end, _ in stream.leaves:
                for place in (start, end):
                    unsure[facts.drains.get(place, place)] += CONDUCTS * abs(kelvin[start] - kelvin[end])
    for stream in streams if facts.met else ():
        for flow, place, _ in stream.leaves:
            unsure[facts.drains.get(place, place)] += flow * facts.met * _specific_heat(facts, kelvin[place], pressure[place])
    worst, where = max((abs(balance[name]) - abs(trickles[name]) - unsure[name], name) for name in (*facts.found, *mouths))
    return Energy(_mass(facts, streams), max(worst, 0.0) / max(moved, LEAST_HEAT), where, moved, tuple(faults))


def _heights(facts, solution, names):
    """Those of the places that were written, and of the mouths in tanks that words put in, which lie where their tank does."""
    heights = dict(facts.heights)
    for part in solution.part_names:
        if solution.kind_of(part).endswith("opening"):
            ends = [names[end.junction] for end in solution.ends(part)]
            known = next((heights[name] for name in ends if name in facts.heights), None)
            for name in ends:
                heights.setdefault(name, known)
    return heights


def _mass(facts, streams):
    into = dict(facts.drawn)
    for stream in streams:
        for sign, ends in ((1.0, stream.enters), (-1.0, stream.leaves)):
            for flow, place, _ in ends:
                into[place] = into.get(place, 0.0) + sign * flow
    most = max([stream.through for stream in streams] + [abs(one) for one in facts.drawn.values()] + [AT_REST])
    return max([abs(into[name]) for name in facts.drawn]) / most


def _streams(solution, names):
    for part in solution.part_names:
        ends = [(float(end.flow), names[end.junction], float(end.temperature)) for end in solution.ends(part)]
        stream = Stream(part, [end for end in ends if end[0] > 0.0], [(-flow, *rest) for flow, *rest in ends if flow < 0.0])
        if stream.enters and stream.leaves:
            yield stream


def _share_out(facts, stream, put, level, balance):
    """Adds what a stream brings to the places where it comes out, and takes away what it takes from a tank through a place that drains into it."""
    mixed, out = _energy_in(stream, level), sum(flow for flow, _, _ in stream.leaves)
    for flow, place, _ in stream.leaves:
        node = facts.drains.get(place, place)
        balance[node] += flow * (mixed - level[node]) + put * flow / out
    for flow, place, _ in stream.enters:
        node = facts.drains.get(place, place)
        balance[node] -= flow * (level[place] - level[node])


def _specific_heat(facts, kelvin, pressure):
    """[J/(kg K)]; a kelvin away may lie beyond what is known of the liquid."""
    near = 0.25  # K: a freezing point is taken by its tenth
    for above, below in ((near, near), (0.0, near), (near, 0.0)):
        try:
            return (facts.enthalpy(kelvin + above, pressure) - facts.enthalpy(kelvin - below, pressure)) / (above + below)
        except ValueError:
            continue
    raise ValueError(f"nothing is known at {kelvin} K")


def _warmed_alone(facts, kelvin, before, after, fall):
    """[K] that a stream warms by itself on its way, as its pressure and height are used up and nothing passes its walls."""
    try:
        left = facts.enthalpy(kelvin, before) - facts.enthalpy(kelvin, after) + GRAVITY * fall
        return left / _specific_heat(facts, kelvin, after)
    except ValueError:  # at an end of what is known of the liquid
        return 1e-6 * abs(before - after)


def _may_leave_at(kelvin, facts, stream, warm, of_place):
    """No colder and no hotter than what it meets, where that is known."""
    inlet, sink = sum(flow * of_place[place] for flow, place, _ in stream.enters) / stream.through, facts.sinks.get(stream.part)
    if sink is None:
        return abs(kelvin - warm) < WARMER_UNSEEN
    return min(inlet, sink) - PASSED <= kelvin <= max(inlet, sink) + PASSED


def _end_of_what_is_known(facts, kelvin, pressure, short):
    """Where a stream would leave hotter or colder than its liquid is known for, the temperature that is reported ends there."""
    try:
        facts.enthalpy(kelvin + (0.5 if short > 0.0 else -0.5), pressure)  # a freezing point is taken by its tenth
    except ValueError:
        return f", at the {'hot' if short > 0.0 else 'cold'} end of what is known"
    return ""


def _energy_in(stream, level):
    return sum(flow * level[place] for flow, place, _ in stream.enters) / stream.through


def _faults_of(facts, solution, stream, heat, power, level, places, shared):
    kelvin, pressure, heights = places
    leaves = _energy_in(stream, level) + (heat + power) / stream.through
    for _, place, warm in stream.leaves:
        short = leaves - facts.enthalpy(warm, pressure[place]) - GRAVITY * heights[place]
        per_kelvin = _specific_heat(facts, warm, pressure[place])
        if abs(short) > KELVIN * per_kelvin:
            end = _end_of_what_is_known(facts, warm, pressure[place], short) if _may_leave_at(warm + short / per_kelvin, facts, stream, warm, kelvin) else ""
            yield f"what leaves {stream.part} at {place} is {short / per_kelvin:.1e} K off{end}"
    yield from _power_faults(facts, solution, stream, power, pressure, heights)
    inlet = sum(flow * kelvin[place] for flow, place, _ in stream.enters) / stream.through
    sink = facts.sinks.get(stream.part)
    if sink is None:
        if heat != 0.0 and stream.part not in shared:
            yield f"{stream.part} has no wall and passes {heat} W"
        return
    for _, place, warm in stream.leaves:
        alone = max(_warmed_alone(facts, inlet, pressure[start], pressure[place], heights[start] - heights[place]) for _, start, _ in stream.enters)
        past = max(min(inlet, sink) + min(alone, 0.0) - warm, warm - max(inlet, sink) - max(alone, 0.0)) - PASSED
        if heat * (sink - inlet) < 0.0 or past > 0.0:
            yield f"{stream.part} passes {heat} W between {inlet} K and {sink} K, and its stream leaves at {warm} K"


def _power_faults(facts, solution, stream, power, pressure, heights):
    part = stream.part
    if part in facts.terminals:
        asked = facts.terminals[part]
    elif part in facts.efficiency:
        (flow, start, _), (_, end, _) = stream.enters[0], stream.leaves[0]
        density = solution.liquid_in(part)["density"]
        rise = pressure[end] - pressure[start] + density * GRAVITY * (heights[end] - heights[start])
        forward = solution.ends(part)[0].flow > 0.0
        asked = max(0.0, flow * rise) / (density * facts.efficiency[part]) if forward else 0.0
    else:
        asked = 0.0
    if abs(power - asked) > CLOSE * max(abs(asked), LEAST_HEAT):
        yield f"{part} puts in {power} W where {asked} W are asked"
