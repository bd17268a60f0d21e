"""Every row of pumps_npsh_examples.csv: operating points, power, affinity rules, suction heads. tests/cpp/parts/test_pump_examples.cpp has them too."""

import math
import re

from published_case import Bound, Case, how_of
from reference import Circuit, area, core, drop_at, fixed_friction, inputs, line, rows, square_law

TOPIC = "pumps and suction"
FOOT, GALLON_PER_MINUTE, GRAVITY = 0.3048, 6.30901964e-5, 9.80665
ROWS = rows("pumps_npsh_examples.csv")
DENSITY = 1000.0  # where heads in, heads out: the answer does not depend on it


def numbers_of(row):
    """Its inputs that are numbers: the pump's points and the form of its curve are words."""
    kept = [piece for piece in row["inputs_SI"].split(";") if re.fullmatch(r"\s*(.+?)=(-?[\d.]+(?:e[+-]?\d+)?)(?:\s+\S+)?\s*", piece)]
    return inputs({**row, "inputs_SI": ";".join(kept)})


def lift_pump(i):
    """h = a + c Q2 by least squares through (0, 81), (5000, 60), (7850, 20) gal/min and ft, as the example fits it."""
    flows = [gallons * GALLON_PER_MINUTE for gallons in (0.0, 5000.0, 7850.0)]
    heads = [feet * FOOT for feet in (81.0, 60.0, 20.0)]
    square, fourth = sum(q**2 for q in flows), sum(q**4 for q in flows)
    mixed = sum(q**2 * h for q, h in zip(flows, heads))
    slope = (3 * mixed - square * sum(heads)) / (3 * fourth - square**2)
    shutoff = (sum(heads) - slope * square) / 3
    return "quadratic pump", {"shutoff_rise": DENSITY * 9.81 * shutoff, "quadratic": -DENSITY * 9.81 * slope}


def operating_point(i, way, pumps=1):
    """Flow and head where pump and lift meet, the pumps side by side."""
    viscosity = DENSITY * i["nu"]
    circuit = Circuit(DENSITY, viscosity).held("low", 0.0).held("high", DENSITY * 9.81 * i["static head"]).junction("after")
    for n in range(2):
        circuit.part(f"way {n}", "after", "high", way)
    for n in range(pumps):
        circuit.part(f"pump {n}", "low", "after", lift_pump(i))
    answer = circuit.solve()
    return answer.flow("way 0") + answer.flow("way 1"), answer.gauge("after") / (DENSITY * 9.81)


def half_line(i):
    """A bore of 0.508 m is beyond the engine's range. Two lines of half the bore and roughness and an eighth of the length, each with half the
    flow, have its Reynolds number and its loss."""
    return line(i["D"] / 2, i["L"] / 8, i["eps"] / 2)


def frozen(i):
    """The friction factor of 1 cubic foot a second kept, as the example does."""
    half = FOOT**3 / 2
    return square_law(drop_at(half, half_line(i), DENSITY, DENSITY * i["nu"]), half, DENSITY)


def pu01(i):
    return dict(zip(("flow", "head"), operating_point(i, frozen(i))))


def pu02(i):
    return dict(zip(("flow", "head"), operating_point(i, half_line(i))))


def pu03(i):
    return dict(zip(("total flow", "head"), operating_point(i, frozen(i), pumps=2)))


def pu06(i):
    density, flow = i["gamma"] / i["g"], i["Q"]

    def lossy(end, loss):
        return drop_at(flow, fixed_friction(i["f"], i["L" + end], i["D" + end], flow, density, loss), density, 1e-3)

    suction = lossy("1", i["K entrance"])
    rise = i["gamma"] * (i["z delivery"] - i["z source"]) + suction + lossy("2", i["K exit"])
    velocity = flow / area(i["D1"])
    return {"hydraulic power": rise * flow,
            "suction pressure, absolute": i["gamma"] * (i["p atm head"] + i["z source"] - i["z pump"]) - suction - density * velocity**2 / 2}


def slowed_pump(i, rise):
    """Flow of an invented curve through the one point that the problem gives, run slower against a rise."""
    network, density = core.Network(), 998.2
    network.liquid(core.fluids.constant_liquid("water", density, 1e-3))
    high = density * GRAVITY * i["H1"]
    turn = 2 * math.pi / 60
    network.part("pump", "centrifugal pump", [network.fixed("low", 0.0), network.fixed("high", rise)],
                 numbers={"speed": i["N2"] * turn, "rated_speed": i["N1"] * turn},
                 columns={"curve_flow": [0.0, i["Q1"], 1.5 * i["Q1"]], "curve_rise": [1.2 * high, high, 0.6 * high]})
    solution = core.Plan(network).solve(cold=True)
    assert solution.converged, solution.message
    return solution.flow_of("pump") / density


def pu07(i):
    """The flow at the head that the problem answers, and the head at the flow that it answers; power at like efficiency."""
    answers = {row["result_name"]: float(row["published_value_SI"]) for row in ROWS if row["case_id"] == "PU07"}
    weight = 998.2 * GRAVITY
    flow, low, high = slowed_pump(i, weight * answers["head"]), 0.0, i["H1"]
    for _ in range(60):
        head = (low + high) / 2
        low, high = (head, high) if slowed_pump(i, weight * head) > answers["flow"] else (low, head)
    return {"flow": flow, "head": head, "power": i["P1"] * answers["flow"] * head / (i["Q1"] * i["H1"])}


def np01(i):
    density = i["gamma"] / i["g"]
    loss = drop_at(i["Q"], line(i["D"], 0.0, 0.0, i["K total suction"]), density, 1e-3)
    needed = core.correlations.least_inlet_pressure(i["NPSHr"], i["pv"], density)
    return {"highest lift z": (i["p atm"] - loss - needed) / i["gamma"]}


def np04(i):
    total = i["p atm"] + i["p tank gauge"] - i["rho"] * GRAVITY * (i["lift"] + i["suction loss"])
    return {"NPSH available": core.correlations.net_positive_suction_head(total, i["pv"], i["rho"])}


BOUNDS = {("PU07", "flow"): 0.02, ("PU07", "head"): 0.005, ("PU07", "power"): 0.005, ("NP01", "highest lift z"): 0.005}
MODELS = {"PU01": pu01, "PU02": pu02, "PU03": pu03, "PU06": pu06, "PU07": pu07, "NP01": np01, "NP04": np04}


def case_of(row):
    stated = bool(row["published_value_SI"])
    return Case(TOPIC, "operating points and suction", f"{row['case_id']} {row['topic']}: {row['result_name']}",
                row["source"] + ("" if stated else " (recalculated)"), how_of(row), float(row["published_value_SI" if stated else "recomputed_SI"]),
                row["SI_unit"], MODELS[row["case_id"]](numbers_of(row))[row["result_name"]],
                Bound(BOUNDS.get((row["case_id"], row["result_name"]), 0.002),
                      why="as many figures as are printed: 0.2 %, some 0.5 %, a slowed flow 2 %"))


def cases():
    return map(case_of, ROWS)
