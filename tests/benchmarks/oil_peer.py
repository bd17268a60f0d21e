"""The oil circuit's equations stated anew: pressure, flow and temperature as one system for SciPy's `root`.

Unknown are pressures of free places [bar gauge], mass flows [10 g/s], temperatures of free places and of the sump [10 K], and the mean
temperature in every part [10 K]. Equations: each part's law [bar], mass at free places [10 g/s], energy of free places and sump [kW], each
part's mean [10 K]. The energy of a place is written in full, what comes in less what goes out, not with the balance of masses taken off.
A part's outlet temperature follows from its outlet's enthalpy; the engine goes by the specific heat in the middle of the way.
"""

import numpy as np
from oil_heat import GRAVITY, HEAT_LAWS
from oil_laws import LAWS
from scipy.optimize import root

BAR, FLOW, KELVIN, KILOWATT = 1e5, 0.01, 10.0, 1e3
ICE, ATMOSPHERE = 273.15, 101325.0
CONDUCTION = 1e-9  # from end to end of every part [W/K]
ALL_PASSES = ("pick-up screen", "pick-up pipe", "oil pump", "block passage", "oil filter", "gallery bore")
STANDING = 1e-7  # flow [kg/s] by which nothing is divided further down


class HeldLiquid:
    """A liquid whose properties are held at the ends of what it is known for, so that a solver's wild guess finds a number; enthalpy goes on
    in a straight line."""

    def __init__(self, liquid):
        self.liquid, self.limit = liquid, liquid.outer_limit

    def held(self, kelvin):
        return min(max(kelvin, self.limit[0]), self.limit[1])

    def at(self, kelvin, pressure):
        return self.liquid.at(self.held(kelvin), pressure)

    def heat_at(self, kelvin, pressure):
        """The state, and its enthalpy."""
        state = self.liquid.heat_at(self.held(kelvin), max(pressure, 0.0))
        return state, state.enthalpy + state.specific_heat * (kelvin - self.held(kelvin))


class Part:
    """One part: laws, energy brought to its two ends, and what its mean temperature misses."""

    def __init__(self, placed, numbers, peer):
        self.placed, self.peer = placed, peer
        prefix = placed.name + "."
        self.n = {name[len(prefix):]: value for name, value in numbers.items() if name.startswith(prefix)}
        self.law = LAWS[placed.kind]
        self.heat_law = HEAT_LAWS.get(placed.heat)
        self.rise = peer.heights[placed.end] - peer.heights[placed.start]
        # Bearings drip into the open: the height of what lies behind them is nothing to them.
        self.head = 0.0 if placed.kind == "bearings" else GRAVITY * self.rise

    def evaluate(self, p0, p1, t0, t1, mean, *q):
        """Pressures [Pa], temperatures [K], flows [kg/s] -> laws [Pa], energy to start and end [W], mean less what it should be [K]."""
        peer, n = self.peer, self.n
        liquid = peer.liquid.at(mean, peer.ambient)
        drop = p0 - p1 - liquid.density * self.head
        laws = self.law(n, liquid.density, liquid.viscosity, mean, drop, *q)
        flow = sum(q)
        forward, size = flow > 0.0, max(abs(flow), STANDING)
        (inlet, p_in), (_, p_out) = ((t0, p0), (t1, p1)) if forward else ((t1, p1), (t0, p0))
        rise = self.rise if forward else -self.rise
        entering, enthalpy = peer.liquid.heat_at(inlet, p_in)
        heat, share = n["heat"], 0.5
        if self.heat_law:
            warm, _ = peer.liquid.heat_at(mean, peer.ambient)
            moved, share = self.heat_law(n, peer.air, peer.ambient, size, inlet, peer.liquid.held(mean),
                                         liquid.viscosity, warm.specific_heat, warm.conductivity)
            # The law says how warm the stream leaves; what it took up is the enthalpy between, there under the pressure of its outlet.
            leaving, reached = peer.liquid.heat_at(inlet + moved / (size * warm.specific_heat), ATMOSPHERE)
            heat += size * (reached - peer.liquid.heat_at(inlet, ATMOSPHERE)[1])
            heat += size * (p_out - ATMOSPHERE) * (leaving.enthalpy_per_pressure - entering.enthalpy_per_pressure)
        if self.placed.kind.endswith("pump") and flow * drop < 0.0:
            heat -= flow * drop / (liquid.density * n["efficiency"])
        per_mass = heat / size - GRAVITY * rise
        outlet = inlet
        for _ in range(4):
            state, reached = peer.liquid.heat_at(outlet, p_out)
            outlet += (enthalpy + per_mass - reached) / state.specific_heat
        brought = abs(flow) * (enthalpy + GRAVITY * self.height_in(forward))
        to_start, to_end = (-brought, brought + heat) if forward else (brought + heat, -brought)
        conducted = CONDUCTION * (t0 - t1)
        return (*laws, to_start - conducted, to_end + conducted, mean - inlet - share * (outlet - inlet))

    def height_in(self, forward):
        return self.peer.heights[self.placed.start if forward else self.placed.end]


class OilPeer:
    """Residual and Jacobian of one case."""

    def __init__(self, circuit, case):
        self.circuit, self.liquid, self.heights = circuit, HeldLiquid(circuit.liquid), circuit.heights
        self.calls = 0
        self.numbers = numbers = circuit.numbers(case)
        self.ambient, self.air = numbers["ambient.pressure"], numbers["air.temperature"]
        self.parts = [Part(placed, numbers, self) for placed in circuit.parts]
        self.nodes = [*circuit.free, "sump"]
        self.flow_count = sum(placed.flows for placed in circuit.parts)
        self.first_flow, self.first_node = len(circuit.free), len(circuit.free) + self.flow_count
        self.first_mean = self.first_node + len(self.nodes)
        self.count = self.first_mean + len(self.parts)
        self.scale = np.repeat([BAR, FLOW, KELVIN], [self.first_flow, self.flow_count, self.count - self.first_node])
        self.zero = np.repeat([self.ambient, 0.0, ICE], [self.first_flow, self.flow_count, self.count - self.first_node])
        self.lay_out()

    def lay_out(self):
        """By part: places of what it looks at among the unknowns (−1: held) and of what it says among the equations."""
        circuit, flow = self.circuit, self.first_flow
        self.looks, self.says, self.flows_of = [], [], []
        for number, placed in enumerate(circuit.parts):
            ends = placed.start, placed.end
            pressures = [circuit.free.index(end) if end in circuit.free else -1 for end in ends]
            nodes = [self.first_node + self.nodes.index(circuit.drains.get(end, end)) for end in ends]
            flows = list(range(flow, flow + placed.flows))
            flow += placed.flows
            self.looks.append([*pressures, *nodes, self.first_mean + number, *flows])
            self.says.append([*flows, *nodes, self.first_mean + number])
            self.flows_of.append((pressures, flows))
        self.equation_scale = np.repeat([FLOW, BAR, KILOWATT, KELVIN], [self.first_flow, self.flow_count, len(self.nodes), len(self.parts)])
        self.by_mass = np.zeros((self.first_flow, self.count))
        for pressures, flows in self.flows_of:
            for place, sign in zip(pressures, (-1.0, 1.0)):
                if place >= 0:
                    self.by_mass[place, flows] += sign

    def held_pressure(self, place, kelvin):
        """Of a tank at its pick-up, of a fixed place as it is said [Pa]."""
        if place == "sump":
            return self.ambient + self.numbers["sump.vent"] + self.liquid.at(kelvin, self.ambient).density * GRAVITY * self.numbers["sump.level"]
        return self.ambient + self.numbers[f"{place}.gauge"]

    def seen(self, number, values):
        """What one part looks at, in SI; `values` are those of the unknowns."""
        placed, looks = self.circuit.parts[number], self.looks[number]
        temperatures = [values[looks[2]], values[looks[3]]]
        pressures = [values[look] if look >= 0 else self.held_pressure(end, kelvin)
                     for end, look, kelvin in zip((placed.start, placed.end), looks, temperatures)]
        return [*pressures, *(values[look] for look in looks[2:])]

    def residual(self, x):
        self.calls += 1
        values, says = self.zero + self.scale * x, np.zeros(self.count)
        says[:self.first_flow] = self.by_mass @ values
        for number, part in enumerate(self.parts):
            for equation, value in zip(self.says[number], part.evaluate(*self.seen(number, values))):
                says[equation] += value
        given = self.numbers["sump.temperature"]
        sump = self.first_mean - 1
        if np.isfinite(given):
            says[sump] = (values[sump] - given) * KILOWATT / KELVIN
        else:
            says[sump] += self.numbers["sump.heat"] + self.numbers["sump.conductance"] * (self.air - values[sump])
        return says / self.equation_scale

    def jacobian(self, x):
        """By differences, part by part: each looks at a handful of unknowns."""
        values, slopes = self.zero + self.scale * x, np.zeros((self.count, self.count))
        slopes[:self.first_flow] = self.by_mass
        for number, part in enumerate(self.parts):
            base = part.evaluate(*self.seen(number, values))
            for look in {look for look in self.looks[number] if look >= 0}:
                step = 1e-6 * self.scale[look]
                moved = values.copy()
                moved[look] += step
                for equation, after, before in zip(self.says[number], part.evaluate(*self.seen(number, moved)), base):
                    slopes[equation, look] += (after - before) / step
        sump = self.first_mean - 1
        if np.isfinite(self.numbers["sump.temperature"]):
            slopes[sump], slopes[sump, sump] = 0.0, KILOWATT / KELVIN
        else:
            slopes[sump, sump] -= self.numbers["sump.conductance"]
        return slopes * self.scale / self.equation_scale[:, None]

    def cold_start(self):
        """All at the case's liquid temperature; 2 bar at free places, half of the pump's flow where it all passes, little elsewhere."""
        pump = next(part for part in self.parts if part.placed.kind.endswith("pump"))
        given = self.numbers["sump.temperature"]
        kelvin = given if np.isfinite(given) else self.numbers["liquid.temperature"]
        full = self.liquid.at(kelvin, self.ambient).density * pump.n["displacement"] * pump.n["speed"]
        values = np.concatenate([np.full(self.first_flow, self.ambient + 2e5), np.full(self.flow_count, 0.05 * full),
                                 np.full(self.count - self.first_node, kelvin)])
        for number, part in enumerate(self.parts):
            if part.placed.name in ALL_PASSES:
                values[self.flows_of[number][1][0]] = 0.5 * full
        return (values - self.zero) / self.scale

    def of_engine(self, solution):
        """The engine's answer as unknowns of this system."""
        parts = self.circuit.parts
        values = [*(solution.pressure_of(name) for name in self.circuit.free),
                  *(solution.flow_of(placed.name, flow) for placed in parts for flow in range(placed.flows)),
                  *(solution.temperature_of(name) for name in self.nodes),
                  *(solution.liquid_in(placed.name)["temperature"] for placed in parts)]
        return (np.array(values) - self.zero) / self.scale

    def disturbed(self, x, seed):
        """Up to 5 % off: gauge pressures, flows, temperatures in degrees."""
        return x * (1.0 + 0.05 * np.random.default_rng(seed).uniform(-1.0, 1.0, len(x)))

    def differences(self, x, other):
        """Largest of pressures [over the pressure, gauge], of flows [over the circuit's largest], of places' and of parts' temperatures [K]."""
        pressure, flow, node, mean = np.split(np.abs(x - other), [self.first_flow, self.first_node, self.first_mean])
        pressures, flows = np.split(np.abs(other[:self.first_node]), [self.first_flow])
        return {"pressure": np.max(pressure / np.maximum(pressures, 0.1)), "flow": np.max(flow) / np.max(flows),
                "place": np.max(node) * KELVIN, "mean": np.max(mean) * KELVIN}

    def solve(self, guess):
        return root(self.residual, guess, jac=self.jacobian, method="hybr", options={"xtol": 1e-13})
