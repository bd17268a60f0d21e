"""Published pipe networks, node by node and pipe by pipe, solved by the engine.

Sources stand in the rows and in tests/data/hydraulics/SOURCES.md. `recomputed_*` is an independent calculation from the stated inputs; the engine
follows the same law, so it must agree closely. The published figures carry their own rounding.
"""

import math
import re

from published_case import Bound, Case
from reference import Circuit, line, power_law, rows, square_law

TOPIC = "networks"
CASES = {row["case_id"]: row for row in rows("networks_cases.csv")}
NODES = rows("networks_nodes.csv")
PIPES = rows("networks_pipes.csv")

# Flows that lie more than 2 % from the published ones, and why. Anything else beyond 2 % fails; so does an entry here
# that is within 2 %.
FLOW_EXCEPTIONS = {
    ("N01", "6"): "published after three loop-balancing iterations, not converged",
    ("N01", "7"): "published after three loop-balancing iterations, not converged",
}
LOSS_EXCEPTIONS = {
    ("N03", "2"): "published loss is from a local power-law fit, and this is the smallest loss of all",
    ("N05", "3"): "difference of two printed heads of 27.8 m, each of the last printed iteration",
}


def of(table, case):
    return [row for row in table if row["case_id"] == case]


def weight(case: str) -> float:
    """Density times gravity of the source [N/m3], to turn its heads into pressures."""
    gravity = {"N01": 9.80665, "N02": 9.81, "N03": 32.2 * 0.3048}.get(case, 9.80665)
    return 1000.0 * gravity


def hazen_williams_loss(case: str, pipe: dict[str, str], flow: float) -> float:
    """Head [m] lost at a flow [m3/s], by the coefficients that the case states."""
    c = float(re.fullmatch(r"C=(\d+)", pipe["roughness_or_coefficient"])[1])
    bore, length = float(pipe["D_m"]), float(pipe["L_m"])
    if case == "N06":
        return 10.6668 * length * flow**1.852 / (c**1.852 * bore**4.871)
    feet, cubic_feet = 0.3048, 0.3048**3
    # Chapter 6 of the source prints each pipe's K; it rounds the constant 8.52e5 otherwise than the formula.
    k = float(re.search(r"K=([\d.]+) ft/cfs", pipe["original_or_K"])[1])
    formula = 8.52e5 * (length / feet) / (c**1.852 * (bore / 0.0254) ** 4.87)
    assert abs(formula / k - 1) < 2e-3
    return k * (flow / cubic_feet) ** 1.852 * feet


def part_of(case: str, pipe: dict[str, str]):
    if case == "N03":
        roughness = float(re.search(r"= ([\d.e-]+) m", pipe["roughness_or_coefficient"])[1])
        return line(float(pipe["D_m"]), float(pipe["L_m"]), roughness)
    rating = abs(float(pipe["recomputed_Q_m3_s"]))  # only where the law is linearised near rest depends on it
    if case == "N01":
        f = float(pipe["roughness_or_coefficient"].removeprefix("f="))
        k = 8 * f * float(pipe["L_m"]) / (math.pi**2 * 9.80665 * float(pipe["D_m"]) ** 5)
        return square_law(k * rating**2 * weight(case), rating)
    if case == "N02":
        return square_law(16600.0 * (rating * 1e3) ** 2, rating)
    return power_law(hazen_williams_loss(case, pipe, rating) * weight(case), rating, 1.852)


def solved(case: str, symmetric: bool = False):
    """As small circuits are solved, or by the symmetric system of large ones."""
    viscosity = 1000.0 * 1.13063e-6 if case == "N03" else 1e-3
    circuit = Circuit(1000.0, viscosity)
    for node in of(NODES, case):
        if node["type"] == "fixed head":
            circuit.held(f"node {node['node']}", float(node["fixed_head_m"]) * weight(case))
        else:
            circuit.junction(f"node {node['node']}", -float(node["external_inflow_m3_s"]))
    for pipe in of(PIPES, case):
        circuit.part(f"pipe {pipe['pipe']}", f"node {pipe['from_node']}", f"node {pipe['to_node']}", part_of(case, pipe))
    return circuit.solve(symmetric)


def head_lost(case: str, answer, pipe) -> float:
    """Head [m] lost from the pipe's first node to its second."""
    return (answer.gauge(f"node {pipe['from_node']}") - answer.gauge(f"node {pipe['to_node']}")) / weight(case)


# N04 and N05 print heads of iterations; N06 prints two decimals of elevation plus pressure head.
HEADS = Bound(0.0, 0.01, "heads to the two decimals that are printed")


def _one(what, case, place, row, published, unit, ours, bound=Bound(), reason=""):
    return Case(TOPIC, what, f"{case} {place}", row["source"], row["how"], published, unit, ours, bound, reason)


def published_cases(case: str, answer):
    """Flows, losses and heads that the source prints. An exception's bound is how far off it is known to be."""
    for pipe in of(PIPES, case):
        key, place = (case, pipe["pipe"]), f"pipe {pipe['pipe']}"
        if pipe["published_Q_m3_s"]:
            yield _one("flows", case, place, pipe, float(pipe["published_Q_m3_s"]), "m3/s", answer.flow(place),
                       *_listed(FLOW_EXCEPTIONS, key))
        if pipe["published_head_loss_m"]:
            yield _one("head losses", case, place, pipe, float(pipe["published_head_loss_m"]), "m", abs(head_lost(case, answer, pipe)),
                       *_listed(LOSS_EXCEPTIONS, key))
    for node in of(NODES, case):
        if node["published_head_m"]:
            yield _one("heads", case, f"node {node['node']}", node, float(node["published_head_m"]), "m",
                       answer.gauge(f"node {node['node']}") / weight(case), HEADS)


def _listed(exceptions, key):
    return (Bound(0.06, why="listed: the source's own slack"), exceptions[key]) if key in exceptions else (Bound(), "")


def cases():
    for case in CASES:
        yield from published_cases(case, solved(case))
