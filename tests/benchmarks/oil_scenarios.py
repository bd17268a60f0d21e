"""Random oil circuits in random weather: does every scenario converge with its certificate, or say why it cannot?

    python tests/benchmarks/oil_scenarios.py [--circuits 100] [--rows 100] [--seed 1]

Each circuit is drawn anew: its oil, pump, relief (to the sump or back to the pump's inlet), filter with bypass, coolers (none, one, two in
series or in parallel, with or without a three-way thermostat), walls of lines in air, gallery, bearings, squirters, feed of a turbo. Each row is
a scenario: 500 to 8000 rpm; sump given at -30 to 150 C, or found from a heat of 0.1 to 20 kW; air at -30 to 50 C; standing or driving. All of it is
invented. What may happen to a row: solved, with mass, laws and energy closed; or refused in words for one of the reasons in `REASONS`.
"""

import argparse
import random
import sys
import time
from collections import Counter

import numpy as np

import flarenut as fn

OILS = ("SAE 0W-20", "SAE 5W-30", "SAE 10W-40", "SAE 15W-40", "SAE 20W-50", "SAE 30", "SAE 50", "ISO VG 32", "ISO VG 220", "ISO VG 460")
# What the engine may say in place of an answer; anything else is a failure.
REASONS = {
    "starved": "absolute zero: more liquid is asked for",
    "beyond the oil's limits": "no steady state within what is known of the liquid",
    "no way out": "none can get out",
    "nothing sets it": "nothing sets the temperature",
    "colder or hotter than the oil may be": "this liquid's properties may be carried to",
}


def circuit(seed):
    """A random oil circuit."""
    draw = random.Random(seed)
    oil = draw.choice(OILS)
    car = fn.Circuit(f"oil {seed}", fluid=oil, fluid_temperature="80 C", invented=True)
    car.tank("sump", level=f"{draw.uniform(50, 150):.0f} mm", temperature="found", heat="2 kW", heat_loss=f"{draw.uniform(5, 40):.1f} W/K")
    car.fixed("crankcase", height="200 mm", drains_to="sump")
    bore = draw.uniform(14, 26)
    rated = "own at 100 C"
    suction = [fn.pickup(f"{bore:.1f} mm"), fn.passage(f"{bore:.1f} mm", f"{draw.uniform(80, 400):.0f} mm", corners=draw.randint(0, 2))]
    pump = fn.displacement_pump(f"{draw.uniform(8, 30):.1f} cc/rev", speed="3000 rpm", ratio=draw.choice([0.5, 1, 1]), name="pump")
    car.run("suction", "sump", "inlet", suction)
    car.run("pumping", "inlet", "out", [pump])
    opens = draw.uniform(3, 7)
    car.run("relief", "out", draw.choice(["sump", "inlet"]), [fn.relief_valve(f"{opens:.1f} bar", wide_open=f"{opens + 2:.1f} bar at 60 L/min", rated_with=rated)])
    car.run("filtering", "out", "clean", [fn.filter(f"{draw.uniform(0.1, 1):.2f} bar at 40 L/min", rated_with=rated, bypass="1.5 bar")])
    _cooling(car, draw, rated)
    gallery = f"{draw.uniform(8, 14):.1f} mm"
    car.run("gallery", "gallery", "crankcase", [
        fn.passage(gallery, f"{draw.uniform(200, 700):.0f} mm", corners=draw.randint(0, 4)),
        fn.bearings(draw.randint(4, 16), f"{draw.uniform(40, 65):.0f} mm", f"{draw.uniform(16, 28):.0f} mm", f"{draw.uniform(0.03, 0.09):.3f} mm",
                    speed="3000 rpm", name="bearings")])
    if draw.random() < 0.5:
        car.run("pistons", "gallery", "crankcase", [fn.squirters(draw.choice([4, 6, 8]), f"{draw.uniform(0.8, 2):.1f} mm", opens="1.5 bar")])
    if draw.random() < 0.5:
        car.run("turbo", "gallery", "crankcase", [fn.hose("-4", f"{draw.uniform(0.3, 1.2):.2f} m", spec="ptfe", air="still", air_rise="60 K"),
                                                  fn.orifice(f"{draw.uniform(0.8, 2):.1f} mm")])
    return car


def _cooling(car, draw, rated):
    plan = draw.choice(["none", "one", "one", "series", "parallel"])
    if plan == "none":
        car.run("to gallery", "clean", "gallery", [fn.passage("14 mm", "300 mm")])
        return
    size = draw.choice(["-8", "-10", "-12"])

    def hose(name):
        return fn.hose(size, f"{draw.uniform(0.4, 3):.2f} m", spec="ptfe", air=draw.choice(["still", "5 m/s"]), air_rise="25 K", bends=[90] * draw.randint(0, 3),
                       name=name)

    def core(name):
        power = draw.uniform(2, 15)
        return fn.cooler(f"{power:.1f} kW at 20 L/min", rated_inlet="110 C", rated_air="35 C at 5 m/s", face=["300 mm", f"{20 * power:.0f} mm"],
                         drop=f"{draw.uniform(0.1, 1.5):.2f} bar at 20 L/min", rated_with=rated, name=name)

    begins, opens = "clean", draw.uniform(75, 95)
    if draw.random() < 0.6:
        car.run("round", "clean", "gallery", [fn.bypass_thermostat(f"{opens:.0f} C", bore="14 mm")])
        car.run("thermostat", "clean", "to cooler", [fn.thermostat(f"{opens:.0f} C", bore="14 mm", bleed=f"{draw.uniform(1, 12):.0f} %")])
        begins = "to cooler"
    if plan == "parallel":
        for name in ("left", "right"):
            car.run(name, begins, "gallery", [hose(f"{name} out"), core(f"{name} cooler"), hose(f"{name} back")])
    else:
        cores = [core("cooler")] if plan == "one" else [core("first cooler"), hose("between"), core("second cooler")]
        car.run("cooling", begins, "gallery", [hose("hose out"), *cores, hose("hose back")])


def rows(plan, count, seed):
    """Indices of the plan's numbers that vary, and a row of values for each scenario."""
    names, random_ = list(plan.names), np.random.default_rng(seed)
    columns = {}
    speed = random_.uniform(500, 8000, count) / 60
    for name in names:
        if name.endswith((".speed",)):
            columns[name] = speed * (plan.get(plan.index(name)) / 50.0)
        if name.endswith(".vehicle_speed"):
            columns[name] = np.where(random_.random(count) < 0.3, 0.0, random_.uniform(3, 60, count))
        if name.endswith(".fan_speed"):
            columns[name] = np.where(random_.random(count) < 0.5, 0.0, 3.0)
    given = random_.random(count) < 0.5
    columns["sump.temperature"] = np.where(given, random_.uniform(243.15, 423.15, count), np.nan)
    columns["sump.heat"] = 10 ** random_.uniform(2, 4.3, count)
    columns["air.temperature"] = random_.uniform(243.15, 323.15, count)
    columns["liquid.temperature"] = np.where(given, columns["sump.temperature"], 353.15)
    return [plan.index(name) for name in columns], np.column_stack(list(columns.values()))


def outcome(converged, message):
    """What became of a row: "solved", a reason of `REASONS`, or "failed"."""
    if converged:
        return "solved"
    return next((reason for reason, words in REASONS.items() if words in message), "failed")


def run(circuits, count, seed):
    """(outcomes, worst certificate numbers, messages of failures, evaluations) of a campaign."""
    outcomes, failures, evaluations, seconds = Counter(), [], [], 0.0
    worst = {"residual": 0.0, "mass_closure": 0.0, "energy_closure": 0.0}
    for number in range(circuits):
        car = circuit(seed * 100000 + number)
        plan = car.plan
        indices, values = rows(plan, count, seed * 100000 + number)
        report = plan.solve_each(indices, values)
        seconds += report["seconds"]
        for row in range(count):
            ok, message = report["converged"][row], report["message"][row]
            became = outcome(ok, message)
            outcomes[became] += 1
            if became == "failed":
                failures.append((number, row, message))
            if ok:
                evaluations.append(report["evaluations"][row])
                for name in worst:
                    worst[name] = max(worst[name], report[name][row])
    return outcomes, worst, failures, evaluations, seconds


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--circuits", type=int, default=100)
    parser.add_argument("--rows", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    chosen = parser.parse_args()
    begin = time.perf_counter()
    outcomes, worst, failures, evaluations, seconds = run(chosen.circuits, chosen.rows, chosen.seed)
    total = chosen.circuits * chosen.rows
    print(f"{total} scenarios of {chosen.circuits} circuits, seed {chosen.seed}: {time.perf_counter() - begin:.1f} s, {1e6 * seconds / total:.0f} us each in the engine")
    for became, count in outcomes.most_common():
        print(f"  {became:28}{count:7}")
    print("  worst of the solved: " + ", ".join(f"{name.replace('_', ' ')} {value:.1e}" for name, value in worst.items()))
    print(f"  evaluations: median {np.median(evaluations):.0f}, 99 % {np.percentile(evaluations, 99):.0f}, most {max(evaluations)}")
    for number, row, message in failures[:20]:
        print(f"    circuit {number}, row {row}: {message}")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
