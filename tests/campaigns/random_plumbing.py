"""Random circuits of sensible numbers, as `Plumbing`: nets of lines, return-style and dead-head fuel systems, oil, coolant, benches.

    plumbing = random_plumbing(7)                     # 3 to 60 parts, determined by the seed
    plumbing = random_plumbing(7, parts=20, family="oil")

All of it is invented. A circuit is drawn as ways between places, each a row of parts with a design flow; ways are then filled with passive
parts until there are as many as asked for.
"""

import random

from plumbing import Part, Plumbing
from random_numbers import Numbers

# density [kg/m3], viscosity [Pa s], vapour pressure [Pa], specific heat [J/kg/K], conductivity [W/m/K]: about those of gasoline, E85, water, hot
# and warm oil, diesel; invented to the digit.
FLUIDS = {"gasoline": (740.0, 5e-4, 5.5e4, 2100.0, 0.12), "alcohol": (782.0, 1.05e-3, 2.0e4, 2500.0, 0.16), "water": (998.2, 1.0e-3, 2.3e3, 4184.0, 0.6),
          "hot oil": (820.0, 0.011, 0.0, 2200.0, 0.13), "warm oil": (860.0, 0.09, 0.0, 1950.0, 0.135), "diesel": (835.0, 2.9e-3, 0.0, 2050.0, 0.125)}
FAMILIES = ("net", "return", "dead head", "oil", "coolant", "bench")
PASSIVE = ("line", "line", "line", "line", "three-k fitting", "size step", "orifice", "short tube orifice", "resistance", "core", "valve", "filter",
           "filter with bypass")
SUCTION = ("line", "line", "three-k fitting", "filter", "valve", "size step")


def random_plumbing(seed, parts=None, family=None, fluid=None):
    """A `Plumbing` of about `parts` parts (3 to 60), all drawn from the seed."""
    draw = random.Random(f"plumbing {seed}")
    wanted = parts or draw.choice([draw.randint(3, 12), draw.randint(8, 30), draw.randint(20, 60)])
    family = family or draw.choice(FAMILIES)
    sketch = Sketch(draw, seed, family, fluid)
    getattr(sketch, "_" + family.replace(" ", "_"))(wanted)
    return sketch.finish(wanted)


class Sketch:
    """A circuit while it is drawn."""

    def __init__(self, draw, seed, family, fluid):
        self.draw, self.seed, self.family = draw, seed, family
        kinds = {"oil": ["hot oil", "warm oil"], "coolant": ["water"], "return": ["gasoline", "alcohol", "diesel"], "dead head": ["gasoline", "alcohol"]}
        name = fluid or draw.choice(kinds.get(family, list(FLUIDS)))
        scale = draw.uniform(0.98, 1.02)
        density, viscosity, vapour, heat, conductivity = FLUIDS[name]
        self.fluid = {"name": name, "density": density * scale, "viscosity": viscosity * draw.uniform(0.7, 1.4), "vapour_pressure": vapour,
                      "specific_heat": heat, "conductivity": conductivity}
        self.numbers = Numbers(draw, self.fluid)
        self.places, self.ways, self.tees = {}, [], []

    # ---- places and ways ----

    def tank(self, name, elevation=0.0, vent=0.0):
        self.places[name] = {"kind": "tank", "elevation": elevation, "level": self.draw.uniform(0.02, 0.5), "vent_gauge": vent}
        return name

    def fixed(self, name, gauge=0.0, elevation=0.0):
        self.places[name] = {"kind": "fixed", "elevation": elevation, "gauge": gauge}
        return name

    def junction(self, name, elevation=None, demand=0.0):
        high = self.draw.uniform(-0.3, 0.8) if elevation is None else elevation
        self.places[name] = {"kind": "junction", "elevation": high, "demand": demand}
        return name

    def way(self, start, end, flow, kinds=(), slow=False, fill=True):
        """A row of parts; `kinds` are kinds of passive parts, or (kind, numbers). With `fill` it may get more of them."""
        made = [(kind, self.numbers.part(kind, flow, slow)) if isinstance(kind, str) else kind for kind in kinds]
        self.ways.append([start, end, flow, made, slow, fill])

    def passive(self, slow=False):
        return self.draw.choice(SUCTION if slow else PASSIVE)

    def passives(self, least, most, slow=False):
        return [self.passive(slow) for _ in range(self.draw.randint(least, most))]

    # ---- families ----

    def _net(self, wanted):
        """Held places and free ones, joined by a tree and some ways more; flow is drawn here and there."""
        draw, count = self.draw, max(2, round(wanted * self.draw.uniform(0.2, 0.5)))
        held = [self.tank("tank", draw.uniform(0.5, 3)) if draw.random() < 0.4 else self.fixed("main", self.numbers.log(3e4, 6e5))]
        held += [self.fixed(f"end {number}", draw.uniform(0, 2e4)) for number in range(draw.randint(1, 2))]
        flow = self.numbers.log(3e-6, 2e-3)
        free = [self.junction(f"corner {number}") for number in range(count)]
        for number, name in enumerate(free):
            self.way(draw.choice(free[max(0, number - 4):number] + held[:1]) if number else held[0], name, flow * draw.uniform(0.3, 1.5), [self.passive()])
        for end in held[1:]:
            self.way(draw.choice(free), end, flow * draw.uniform(0.3, 1), ["line"])
        for _ in range(draw.randint(0, max(1, count // 2))):
            start, end = draw.sample(free, 2)
            self.way(start, end, flow * draw.uniform(0.3, 1), [self.passive()])
        for name in draw.sample(free, draw.randint(0, max(1, count // 4))):
            self.places[name]["demand"] = self.fluid["density"] * flow * draw.uniform(-0.1, 0.3)

    def _suction(self, tank, inlet, flow):
        self.way(tank, inlet, flow, [("opening", self.numbers.part("opening", flow, True)), *self.passives(0, 2, True)], slow=True)

    def _home(self, start, tank, flow, kinds=()):
        self.way(start, tank, flow, [*kinds, *self.passives(0, 3), ("return opening", self.numbers.part("return opening", flow))])

    def _pumps(self, kinds, tank, out, flow, rise, check=True):
        """One pump, or two side by side, each with its suction."""
        draw, count = self.draw, self.draw.choice([1, 1, 1, 2])
        for number in range(count):
            inlet, share = self.junction(f"inlet {number}", draw.uniform(-0.2, 0.1)), flow / count
            self._suction(tank, inlet, share)
            pump = draw.choice(kinds)
            row = [(pump, self.numbers.pump(pump, share, rise))]
            if check and (count > 1 or draw.random() < 0.6):
                row.append(("check valve", self.numbers.part("check valve", share)))
            self.way(inlet, out, share, row, fill=False)

    def _consumers(self, feed, manifold, flow, drop):
        """Rails behind a feed: straight, or split by a tee."""
        draw, left = self.draw, flow
        if draw.random() < 0.4:
            high = self.places[feed]["elevation"]
            ends = [self.junction(name, high) for name in ("left leg", "right leg")]
            self.tees.append(Part("tee", "splitter", feed, ends[0], self.numbers.tee(flow, ends[1])))
        else:
            ends = [feed]
        for end in ends:
            rail = self.junction(f"rail of {end}")
            self.way(end, rail, flow / len(ends), [self.passive(), "line"])
            passing = left * draw.uniform(0.1, 0.4)
            if draw.random() < 0.7:
                self.way(rail, manifold, passing, [("injector bank", self.numbers.injector_bank(passing, drop))], fill=False)
            else:
                self.places[rail]["demand"] = self.fluid["density"] * passing
        return ends

    def _return(self, wanted):
        draw, numbers = self.draw, self.numbers
        flow, holds = numbers.log(2e-5, 2e-4), draw.uniform(2e5, 6e5)
        tank, manifold = self.tank("cell", draw.uniform(-0.2, 0.3), draw.choice([0.0, draw.uniform(-3e3, 1e4)])), self.fixed("manifold", draw.uniform(-6e4, 1.5e5))
        out, feed = self.junction("pump out"), self.junction("feed end")
        self._pumps(["electric pump", "quadratic pump"], tank, out, flow, 1.3 * holds)
        self.way(out, feed, flow, [self.passive(), "line"])
        ends = self._consumers(feed, manifold, flow, holds)
        reference = draw.choice(["manifold", self.fixed("open air")])
        after = self.junction("after regulator")
        self.way(feed, after, flow, [("bypass regulator", numbers.regulator(holds, flow, draw.choice([feed, feed, f"rail of {ends[0]}"]), reference))], fill=False)
        self._home(after, tank, flow, ["line"])
        if draw.random() < 0.3:
            self.way(out, tank, flow, [("relief valve", numbers.relief_valve(holds * draw.uniform(0.9, 2), flow)), ("return opening", numbers.part("return opening", flow))],
                     fill=False)

    def _dead_head(self, wanted):
        draw, numbers = self.draw, self.numbers
        flow, holds = numbers.log(1e-5, 2e-4), numbers.log(2e4, 4e5)
        tank, bowl = self.tank("cell", draw.uniform(-0.2, 0.3)), self.fixed("bowl", draw.uniform(-1e3, 1e4))
        out, supply, held = self.junction("pump out"), self.junction("supply"), self.junction("regulated")
        self._pumps(["electric pump", "quadratic pump"], tank, out, flow, 2 * holds)
        self.way(out, supply, flow, [self.passive(), "line"])
        self.way(supply, held, flow, [("reducing regulator", numbers.regulator(holds, flow, held, self.fixed("open air")))], fill=False)
        self._consumers(held, bowl, flow, holds)
        if draw.random() < 0.5:
            self._home(out, tank, 0.2 * flow, ["orifice"])

    def _oil(self, wanted):
        draw, numbers = self.draw, self.numbers
        flow, opens = numbers.log(1e-4, 1e-3), draw.uniform(2e5, 6e5)
        tank, out, gallery = self.tank("sump"), self.junction("pump out"), self.junction("gallery")
        crankcase = self.fixed("crankcase", 0.0, 0.3)
        self._pumps(["positive displacement pump"], tank, out, flow, opens, check=False)
        self.way(out, tank, flow, [("relief valve", numbers.relief_valve(opens, flow)), ("return opening", numbers.part("return opening", flow))], fill=False)
        self.way(out, "filtered", flow, ["filter with bypass"])
        self.junction("filtered")
        for number in range(draw.choice([1, 1, 2])):
            self.way("filtered", gallery, flow / (number + 1), ["line", draw.choice(["core", "resistance", "line"]), "line"])
        for number in range(draw.randint(1, 6)):
            share = flow * draw.uniform(0.05, 0.4)
            self.way(gallery, crankcase, share, ["line", draw.choice(["orifice", "short tube orifice", "resistance"])])
        if draw.random() < 0.4:
            self.way(gallery, crankcase, 0.1 * flow, [("check valve", {**numbers.part("check valve", 0.1 * flow), "cracking_pressure": draw.uniform(1e5, 2e5)}), "orifice"])

    def _coolant(self, wanted):
        draw, numbers = self.draw, self.numbers
        flow, rise = numbers.log(3e-4, 3e-3), numbers.log(2e4, 1.2e5)
        tank, inlet, out = self.tank("header", draw.uniform(0, 1), draw.choice([0.0, 1e5])), self.junction("inlet"), self.junction("out")
        self.way(tank, inlet, 0.1 * flow, ["opening", "line"], slow=True)
        self.way(inlet, out, flow, [("centrifugal pump", numbers.pump("centrifugal pump", flow, rise))], fill=False)
        hot = self.junction("hot")
        self.way(out, hot, flow, [self.passive()])
        for number in range(draw.randint(1, 4)):
            share = flow * draw.uniform(0.2, 1)
            self.way(hot, inlet, share, ["line", draw.choice(["core", "valve", "orifice", "resistance"]), "line"])
        if draw.random() < 0.3:
            self.way(hot, tank, 0.02 * flow, ["orifice", "return opening"])

    def _bench(self, wanted):
        """One way from a supply to open air, maybe with a second beside it: flow of a bench comes in, pressure at the end is held."""
        draw, flow = self.draw, self.numbers.log(3e-6, 2e-3)
        end = self.fixed("open air", 0.0, draw.uniform(-0.5, 0.5))
        begin = self.junction("bench", demand=-self.fluid["density"] * flow)
        for number in range(draw.choice([1, 1, 2, 3])):
            kinds = [self.passive(), "line"] + (["check valve"] if draw.random() < 0.3 else [])
            self.way(begin, end, flow, kinds)

    # ---- the end ----

    def finish(self, wanted):
        """Fills ways until there are as many parts as wanted, names everything, and gives every place its height."""
        draw = self.draw
        open_ways = [way for way in self.ways if way[5]]
        total = len(self.tees) + sum(len(way[3]) for way in self.ways)
        while total < wanted and open_ways:
            start, end, flow, row, slow, _ = draw.choice(open_ways)
            if not (slow and len(row) > 4):  # a suction side is kept short
                first, last = bool(row) and row[0][0] == "opening", bool(row) and row[-1][0] == "return opening"
                kind = self.passive(slow)
                row.insert(draw.randint(int(first), len(row) - int(last)), (kind, self.numbers.part(kind, flow, slow)))
            elif all(way[4] for way in open_ways):
                break
            total += 1
        parts = list(self.tees)
        for number, way in enumerate(self.ways):
            parts += self._row(number, way)
        draw.shuffle(parts)
        self._open_what_isolates(parts)
        met = {name for part in parts for name in (part.start, part.end, *(part.numbers.get(key) for key in ("branch", "sensed", "reference")))}
        self.places = {name: place for name, place in self.places.items() if name in met}
        return Plumbing(self.seed, self.fluid, self.places, tuple(parts), self.family)

    def _open_what_isolates(self, parts):
        """Opens shut valves where one cuts a place that draws or supplies from all that is held: no pressure could drive that flow."""
        shut = [part for part in parts if part.kind == "valve" and part.numbers["opening"] == 0.0]
        if not shut:
            return
        reached = {name for name, place in self.places.items() if place["kind"] != "junction"}
        ways = [(part.start, part.end) for part in parts if part not in shut]
        ways += [(part.start, part.numbers["branch"]) for part in parts if part.kind == "tee"]
        grows = True
        while grows:
            before = len(reached)
            for ends in ways:
                if ends[0] in reached or ends[1] in reached:
                    reached.update(ends)
            grows = len(reached) > before
        if any(place.get("demand") and name not in reached for name, place in self.places.items()):
            for part in shut:
                part.numbers["opening"] = 0.5

    def _row(self, number, way):
        start, end, flow, row, slow, _ = way
        begin, climb = self.places[start]["elevation"], self.places[end]["elevation"] - self.places[start]["elevation"]
        lines = [numbers for kind, numbers in row if kind == "line"]
        if abs(climb) > 0 and not lines:  # a device climbs by nothing; what climbs is a line
            lines = [self.numbers.part("line", flow, slow)]
            row.insert(len(row) - (row[-1][0] == "return opening"), ("line", lines[0]))
        long = sum(numbers["length"] for numbers in lines)
        if abs(climb) > 0.9 * long:
            for numbers in lines:
                numbers["length"] *= abs(climb) / (0.9 * long)
            long = sum(numbers["length"] for numbers in lines)
        parts, at, high = [], start, begin
        for step, (kind, numbers) in enumerate(row):
            high += climb * numbers["length"] / long if kind == "line" else 0.0
            to = end if step == len(row) - 1 else self.junction(f"way {number}:{step + 1}", high)
            parts.append(Part(kind, f"{kind} {number}.{step + 1}", at, to, numbers))
            at = to
        return parts
