"""What must not matter, and what may only go one way: changes of a circuit after which its answer is known from the first one.

Every check takes a seed and gives the worst difference, relative to the largest gauge pressure (or a bar) and the largest flow of the circuit; None
where the circuit has no answer or no place for the change.
"""

import random
from dataclasses import dataclass
from math import pi

from plumbing import Part, build, describe, to_circuit
from random_plumbing import random_plumbing

FLOWS = 50.0  # how much more a flow may differ than a pressure
SYMMETRIC = ("line", "resistance", "core", "valve", "filter", "orifice", "short tube orifice", "three-k fitting")


@dataclass
class Answer:
    pressures: dict  # gauge [Pa]
    flows: dict  # [kg/s], of every part at its first port

    def worst_against(self, other):
        """Largest difference of this from the one that it should be. A flow may differ by more than a pressure: the solver is content with 1e-10 bar,
        and where a thousandth of a bar drives a flow, that is 5e-8 of the flow; over many parts in a row pressures add up as much for each ten of them."""
        still = max(abs(one) for one in other.flows.values()) < 1e-5  # then seepage alone holds what stands behind a shut seat
        pressure = max([1e5] + [abs(one) for one in other.pressures.values()]) * max(1.0, len(other.flows) / 10) * (FLOWS if still else 1.0)
        flow = max([1e-5] + [abs(one) for one in other.flows.values()])
        return max([abs(self.pressures[name] - one) / pressure for name, one in other.pressures.items()]
                   + [abs(self.flows[name] - one) / flow / FLOWS for name, one in other.flows.items()])


def answer_of(car, plumbing):
    """The `Answer` at the places and parts of a plumbing; mouths and other places that words put in are left out."""
    case = car.solve()["as written"]
    if not case.converged:
        return None
    solution = case.solution
    return Answer({name: solution.pressure_of(name) - solution.ambient for name in plumbing.places},
                  {name: solution.flow_of(name) for name in (part.name for part in plumbing.parts)})


def both(seed, changed, expected=lambda answer: answer, plumbing=None, system="SI"):
    """Worst difference between what a changed circuit gives and what is expected of it."""
    plumbing = plumbing or random_plumbing(seed)
    first = answer_of(to_circuit(plumbing), plumbing)
    if first is None:
        return None
    new = changed(plumbing)
    other = answer_of(build(describe(new, system)), new)
    return float("inf") if other is None else other.worst_against(expected(first))


def renamed(seed):
    draw = random.Random(f"renamed {seed}")
    plumbing = random_plumbing(seed)
    names = list(plumbing.places) + [part.name for part in plumbing.parts]
    new = [f"{draw.choice('aZ9é中_-')} {number}" for number in draw.sample(range(10**6), len(names))]
    called = dict(zip(names, new))

    def change(plumbing):
        def numbers(part):
            return {key: called[value] if key in ("branch", "sensed", "reference") else value for key, value in part.numbers.items()}
        parts = tuple(Part(part.kind, called[part.name], called[part.start], called[part.end], numbers(part)) for part in plumbing.parts)
        return plumbing._replace(places={called[name]: place for name, place in plumbing.places.items()}, parts=parts)

    return both(seed, change, lambda one: Answer({called[name]: p for name, p in one.pressures.items()}, {called[name]: q for name, q in one.flows.items()}))


def reordered(seed):
    draw = random.Random(f"reordered {seed}")

    def change(plumbing):
        places, parts = list(plumbing.places.items()), list(plumbing.parts)
        draw.shuffle(places)
        draw.shuffle(parts)
        return plumbing._replace(places=dict(places), parts=tuple(parts))

    return both(seed, change)


def in_us_units(seed):
    return both(seed, lambda plumbing: plumbing, system="us")


def in_metric_units(seed):
    return both(seed, lambda plumbing: plumbing, system="metric")


def mirrored(seed):
    """Every part that has no direction is written the other way round: its flow counts the other way, and nothing else changes."""
    plumbing = random_plumbing(seed)  # what meets a tank has a mouth there, which has a direction
    turned = {part.name for part in plumbing.parts if part.kind in SYMMETRIC and "tank" not in (plumbing.places[end]["kind"] for end in (part.start, part.end))}

    def change(plumbing):
        return plumbing._replace(parts=tuple(part._replace(start=part.end, end=part.start) if part.name in turned else part
                                                        for part in plumbing.parts))

    return both(seed, change, lambda one: Answer(one.pressures, {name: -q if name in turned else q for name, q in one.flows.items()}))


def split(seed, pieces=10):
    """One straight line against ten pieces of it in a row."""
    draw = random.Random(f"split {seed}")
    plumbing = random_plumbing(seed)
    lines = [part for part in plumbing.parts if part.kind == "line" and part.numbers["bend_angle"] == 0.0]
    if not lines:
        return None
    line = draw.choice(lines)

    def change(plumbing):
        places = dict(plumbing.places)
        low, high = places[line.start]["elevation"], places[line.end]["elevation"]
        names = [line.start, *(f"piece {number}" for number in range(1, pieces)), line.end]
        for number, name in enumerate(names[1:-1], 1):
            places[name] = {"kind": "junction", "elevation": low + (high - low) * number / pieces, "demand": 0.0}
        numbers = {**line.numbers, "length": line.numbers["length"] / pieces, "extra_loss": line.numbers["extra_loss"] / pieces}
        row = [Part("line", line.name if number == 0 else f"{line.name} piece {number}", *names[number:number + 2], numbers) for number in range(pieces)]
        return plumbing._replace(places=places, parts=(*(part for part in plumbing.parts if part is not line), *row))

    return both(seed, change, plumbing=plumbing)


def datum(seed, shift=1e5):
    """All given pressures a bar higher: so is every pressure, and no flow changes."""
    def change(plumbing):
        places = {name: {**place, **{key: place[key] + shift for key in ("gauge", "vent_gauge") if key in place}} for name, place in plumbing.places.items()}
        return plumbing._replace(places=places)

    return both(seed, change, lambda one: Answer({name: p + shift for name, p in one.pressures.items()}, one.flows))


SAME = {"renamed": renamed, "reordered": reordered, "US units": in_us_units, "metric units": in_metric_units, "mirrored": mirrored,
        "line in ten pieces": split, "shift of the datum": datum}


# ---- what may only go one way: 0 where it does, else by how much it goes the other way ----

def wider_return(seed):
    """A return of wider lines never raises the pressure behind the regulator."""
    plumbing = random_plumbing(seed, family="return")
    way = next(part for part in plumbing.parts if part.kind == "bypass regulator").end
    on, row = way, set()
    while plumbing.places[on]["kind"] == "junction":
        part = next(part for part in plumbing.parts if part.start == on)
        row.add(part.name)
        on = part.end
    behind = []
    for factor in (1.0, 1.05, 1.3, 2.0):
        parts = tuple(part._replace(numbers={**part.numbers, "bore": min(part.numbers["bore"] * factor, 0.45)})
                      if part.name in row and part.kind == "line" else part for part in plumbing.parts)
        answer = answer_of(to_circuit(plumbing._replace(parts=parts)), plumbing)
        if answer is None or any(answer.flows[name] <= 0.0 for name in row):
            return None  # nothing returns
        behind.append(answer.pressures[way])
    return max(0.0, *(after - before for before, after in zip(behind, behind[1:]))) / 1e5


def more_flow(seed):
    """More flow through a plain line never lowers its loss; through all regimes."""
    draw = random.Random(f"more flow {seed}")
    plumbing = random_plumbing(seed, parts=3, family="bench")
    line = next(part for part in plumbing.parts if part.kind == "line")
    places = {"in": {"kind": "junction", "elevation": 0.0, "demand": -1e-3}, "out": {"kind": "fixed", "elevation": 0.0, "gauge": 0.0}}
    plan = to_circuit(plumbing._replace(places=places, parts=(line._replace(start="in", end="out"),))).plan
    number, place, last = plan.index("in.demand"), plan.junction_index("in"), -1.0
    viscous = plumbing.fluid["viscosity"] * line.numbers["bore"]
    worst = 0.0
    for reynolds in sorted(10 ** draw.uniform(1, 5.0) for _ in range(60)):
        if 0.785 * reynolds * viscous > 100:
            break  # [kg/s], more than the engine takes
        plan.set(number, -0.785 * reynolds * viscous)
        if not plan.resolve():
            break  # more than anything bears
        loss = plan.last_pressure(place) - plumbing.ambient
        worst = max(worst, last - loss)
        last = loss
    return worst / 1e5


ONE_WAY = {"wider return": wider_return, "more flow through a line": more_flow}


def gradients(seed, numbers=6, step=1e-4):
    """Worst share by which the slope of a pressure and of a flow misses the central difference, beyond what differences can tell."""
    draw = random.Random(f"gradient {seed}")
    plumbing = random_plumbing(seed)
    plan = to_circuit(plumbing).plan
    if not plan.resolve(cold=True):
        return None
    free = [name for name, place in plumbing.places.items() if place["kind"] == "junction"]
    place = draw.choice(free)
    at, slopes, worst = plan.junction_index(place), plan.gradient("pressure", place), 0.0
    names = [name for name in plan.names if plan.get(plan.index(name)) != 0.0 and name in slopes and not name.endswith(("count", "curve_points"))]
    # At 90 degrees a second bend begins to count: the law has a corner there, and a slope on either side.
    names = [name for name in names if not (name.endswith("bend_angle") and abs(plan.get(plan.index(name)) - 0.5 * pi) < 1e-3)]
    for name in draw.sample(names, min(numbers, len(names))):
        index, differences = plan.index(name), []
        value = plan.get(index)
        for part in (1.0, 0.5):
            found = []
            for sign in (1, -1):
                try:
                    plan.set(index, value * (1 + sign * part * step))
                except ValueError:  # at the end of its range
                    break
                found.append(plan.last_pressure(at) if plan.resolve(cold=True) else float("nan"))
            plan.set(index, value)
            if len(found) == 2:
                differences.append((found[0] - found[1]) / (2 * part * step * value))
        if len(differences) < 2 or not all(one == one for one in differences):
            continue
        noise = 4e-4 / (step * abs(value))  # a pressure is met to 1e-10 bar in every law, and so many laws lie in a row
        known = noise + 4 * abs(differences[0] - differences[1]) + 1e-5 * abs(differences[1])
        size = max(abs(slopes[name]), abs(differences[1]))
        if size > 0:
            worst = max(worst, (abs(slopes[name] - differences[1]) - known) / size)
    return max(0.0, worst)
