"""An invented return-style fuel system on the real engine, for the tests of results, checks and plots.

Built from the compiled core alone, so that these tests do not lean on the circuit layer. The pump, the hoses and the
car are made up.
"""

from flarenut import _core, checks  # noqa: F401 - checks hand their rules to the answers
from flarenut.results import Answer, Layout

PSI = 6894.757293168
LITRE_PER_HOUR = 1e-3 / 3600
DENSITY, VISCOSITY, VAPOUR_PRESSURE = 750.0, 5e-4, 45e3
RUNS = {
    "feed": ["pick-up hose", "strainer", "fuel pump", "pump check valve", "feed hose", "filter", "engine bay hose"],
    "return": ["regulator", "return hose"],
}
CASES = {
    "idle": {"injectors.duty": 0.03, "manifold.gauge": -60e3, "fuel pump.volts": 13.5},
    "full power": {"injectors.duty": 0.7, "manifold.gauge": 0.0, "fuel pump.volts": 13.5},
    "hot restart": {"injectors.duty": 0.03, "manifold.gauge": -60e3, "fuel pump.volts": 11.5, "tank.level": 0.03},
}


def network(*, return_bore=0.0062, feed_bore=0.0087, vapour_pressure=VAPOUR_PRESSURE, regulator=True, position=-0.1):
    """tank -> strainer -> pump -> hose -> filter -> rail -> regulator -> hose -> tank, injectors on the rail."""
    made = _core.Network()
    made.liquid(_core.fluids.constant_liquid("test fuel", DENSITY, VISCOSITY, vapour_pressure))
    tank = made.tank("tank", level=0.2)
    manifold = made.fixed("manifold")
    names = ["feed:1", "feed:2", "pump out", "feed:4", "feed:5", "feed:6", "rail"]
    points = {name: made.junction(name, position=(0.0, 0.0, 0.1 if name == "rail" else position)) for name in names}
    chain = [tank, *points.values()]

    def line(name, start, stop, bore, length, loss):
        made.part(name, "line", [start, stop], numbers={"bore": bore, "length": length, "roughness": 1.5e-6, "extra_loss": loss})

    def element(name, start, stop, linear, quadratic):
        made.part(name, "filter", [start, stop], numbers={"linear": linear, "quadratic": quadratic,
                                                          "rating_viscosity": VISCOSITY, "rating_density": DENSITY})

    line("pick-up hose", chain[0], chain[1], 0.0111, 0.3, 1.0)
    element("strainer", chain[1], chain[2], 5e6, 5e10)
    flows = [0.0, 150.0, 250.0, 330.0]
    made.part("fuel pump", "electric pump", [chain[2], chain[3]], numbers={"volts": 13.5}, columns={
        "curve_volts": [11.0, 13.5], "curve_points": [4.0, 4.0],
        "curve_flow": [0.8 * flow * LITRE_PER_HOUR for flow in flows] + [flow * LITRE_PER_HOUR for flow in flows],
        "curve_rise": [80 * PSI, 62 * PSI, 40 * PSI, 8 * PSI, 98 * PSI, 80 * PSI, 56 * PSI, 20 * PSI]})
    made.part("pump check valve", "check valve", [chain[3], chain[4]], numbers={"full_area": 5e-5})
    line("feed hose", chain[4], chain[5], feed_bore, 3.4, 3.0)
    element("filter", chain[5], chain[6], 8e7, 3e11)
    line("engine bay hose", chain[6], chain[7], feed_bore, 0.9, 2.5)
    made.part("injectors", "injector bank", [points["rail"], manifold],
              numbers={"count": 6.0, "rated_flow": 600e-6 / 60, "rating_density": 740.0, "duty": 0.03})
    if regulator:
        after = made.junction("return:1")
        made.part("regulator", "bypass regulator", [points["rail"], after], [points["rail"], manifold],
                  {"set_pressure": 43.5 * PSI, "band": 20e3, "full_area": 1.2e-5})
        line("return hose", after, tank, return_bore, 3.7, 6.0)
    return made


def layout(**changes):
    """What a circuit would say of it."""
    return Layout(**{"circuit": "trail wagon", "fluid": "test fuel", "family": "fuel", "invented": True, "runs": RUNS,
                     "named": ("tank", "rail", "manifold"), "senses": {"regulator": ["rail", "manifold"]}, **changes})


def answer(cases=None, changes=None, **numbers):
    """All cases solved. `changes` go to the layout, `numbers` to the network."""
    plan, cases, solutions = _core.Plan(network(**numbers)), cases or CASES, {}
    for name, conditions in cases.items():
        one = plan.copy()
        one.set_many(conditions)
        solutions[name] = one.solve(cold=True)
    written = {name: {key: f"{value:g}" for key, value in conditions.items()} for name, conditions in cases.items()}
    return Answer(layout(**(changes or {})), solutions, written)


def half_solved():
    """The same answer with its full-power case not converged."""
    solutions = {name: case.solution for name, case in answer().items()}
    solutions["full power"] = Unsolved(solutions["full power"])
    return Answer(layout(), solutions)


class Unsolved:
    """A real solution as it looks when the solver gave up: no numbers, and a cause. (The engine solves every circuit
    these tests could think of, so the failure is put on.)"""

    converged, status, rung = False, "not converged", "source stepping"
    message = "the line 'feed hose' would not settle {1 < 2}"
    residual, mass_closure = float("nan"), float("nan")

    def __init__(self, solution):
        self._solution = solution
        self.pressure, self.flow = solution.pressure * float("nan"), solution.flow * float("nan")

    def __getattr__(self, name):
        return getattr(self._solution, name)

    def ends(self, part):
        return [UnsolvedEnd(end) for end in self._solution.ends(part)]

    def suction(self, pump):
        return UnsolvedEnd(self._solution.suction(pump))


class UnsolvedEnd:
    """An end or a suction reading without its numbers."""

    def __init__(self, end):
        self._end = end

    def __getattr__(self, name):
        found = getattr(self._end, name)
        return float("nan") if isinstance(found, float) and name != "bore" else found


def rows_of(table):
    """Rows of a table by their heading."""
    return {row.heading: row for _, rows in table.sections for row in rows}
