"""Large networks: time per Newton iteration and memory on square grids of lines, beside SciPy's `splu` in the same run.

    python tests/benchmarks/run_grid.py                      # 100,000 lines
    python tests/benchmarks/run_grid.py 1e3 1e4 1e5 1e6      # with the growth between the sizes; about four minutes

Both sides run on one thread. Times are the processor's time of this process, which neighbours on a shared machine move less than they
move the clock; the clock's are printed beside them. An engine's iteration is a cold solve over its number of iterations, the
analysis of the structure (once for each network, told apart) not included; SciPy analyses at every factorisation, as its interface
has it. Memory is measured in a process of its own for each size.
"""

import os

for variable in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(variable, "1")

import argparse  # noqa: E402
import json  # noqa: E402
import math  # noqa: E402
import statistics  # noqa: E402
import subprocess  # noqa: E402
import sys  # noqa: E402
import time  # noqa: E402

import grid as grids  # noqa: E402
import numpy as np  # noqa: E402

from flarenut import _core as core  # noqa: E402


def timed(action):
    """What it returns, its processor time and its clock time [s]."""
    clock, processor = time.perf_counter(), time.process_time()
    result = action()
    return result, time.process_time() - processor, time.perf_counter() - clock


def measure_engine(grid, repeats: int) -> dict:
    network, network_time, _ = timed(lambda: grid.network(core))
    plan, plan_time, _ = timed(lambda: core.Plan(network))
    answer, first_time, _ = timed(lambda: plan.solve(cold=True))
    if not answer.converged:
        raise SystemExit(f"{grid.lines} lines: {answer.message}")
    times = [timed(lambda: plan.resolve(cold=True))[1:] for _ in range(repeats)]
    per_solve = statistics.median(cpu for cpu, _ in times)
    return {"answer": answer, "iterations": answer.iterations, "build": network_time + plan_time,
            "first": first_time, "iteration": per_solve / answer.iterations,
            "clock": statistics.median(clock for _, clock in times) / answer.iterations,
            "workspace": plan.workspace_bytes / grid.lines}


def measure_peer(grid, order: str, most_steps: int) -> dict:
    peer = grids.Peer(grid, order)
    times, done = [], False
    while not done and len(times) < most_steps:
        done, cpu, clock = timed(peer.step)
        if not done:
            times.append((cpu, clock))
    return {"peer": peer, "done": done, "iteration": statistics.median(cpu for cpu, _ in times),
            "clock": statistics.median(clock for _, clock in times)}


def memory_of(lines: int) -> dict:
    """In a process of its own: bytes per line of building and of a cold solve, over what stood before."""
    command = [sys.executable, __file__, "--memory-of", str(lines)]
    return json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)


def report_memory(lines: int) -> None:
    start = grids.memory()
    grid = grids.Grid(lines)
    described = grids.memory()
    network = grid.network(core)
    plan = core.Plan(network)
    built = grids.memory()
    answer = plan.solve(cold=True)
    end = grids.memory()
    assert answer.converged
    shares = {} if not end else {
        "columns": described["now"] - start["now"], "network": built["now"] - described["now"],
        "solve": end["peak"] - built["now"], "process": end["peak"], "start": start["now"]}
    print(json.dumps({name: size / grid.lines for name, size in shares.items()}))


def run(sizes: list[int], repeats: int, peer_steps: int, with_peer: bool, with_memory: bool) -> list[dict]:
    print(f"{grids.processor()}; the engine's blocks for {core.block_kernel}; one thread; medians of {repeats} solves")
    results, best = [], None
    for size in sizes:
        grid = grids.Grid(size)
        found = measure_engine(grid, repeats) | {"lines": grid.lines}
        print(f"\n{grid.lines} lines, {grid.corners} free junctions: {found['iterations']} iterations, "
              f"{1e3 * found['iteration']:.2f} ms each (clock {1e3 * found['clock']:.2f})")
        print(f"  built in {found['build']:.2f} s, first solve with all analysis {found['first']:.2f} s; residual {found['answer'].residual:.1e}, "
              f"mass {found['answer'].mass_closure:.1e}")
        if with_peer:
            few = best is not None and grid.lines > 300_000  # the better order is known by then
            orders = {order: measure_peer(grid, order, peer_steps) for order in (grids.Peer.ORDERS if not few else [best])}
            best = min(orders, key=lambda order: orders[order]["iteration"])
            for order, peer in orders.items():
                ratio = peer["iteration"] / found["iteration"]
                print(f"  splu, {order}: {1e3 * peer['iteration']:.1f} ms (clock {1e3 * peer['clock']:.1f}), ratio {ratio:.2f}")
            found["ratio"] = orders[best]["iteration"] / found["iteration"]
            peer = orders[best]["peer"]
            if orders[best]["done"]:
                off = np.max(np.abs(peer.flow - found["answer"].flow)) / np.max(np.abs(peer.flow))
                print(f"  SciPy took {peer.iterations} iterations; flows differ by {off:.1e} of the largest")
        if with_memory and grids.memory():
            found["memory"] = memory_of(size)
            shares = found["memory"]
            print(f"  bytes per line: columns in NumPy {shares['columns']:.0f}, network and plan {shares['network']:.0f}, solve at its peak "
                  f"{shares['solve']:.0f} (of which kept {found['workspace']:.0f}); whole process {shares['process']:.0f}, "
                  f"of which {shares['start']:.0f} before anything was built")
        found.pop("answer")
        results.append(found)
    for low in results:
        for high in results:
            if low["lines"] * 50 < high["lines"]:
                growth = math.log(high["iteration"] / low["iteration"]) / math.log(high["lines"] / low["lines"])
                print(f"\nfrom {low['lines']} to {high['lines']} lines an iteration grows as n^{growth:.2f}")
    return results


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("lines", nargs="*", type=float, default=[1e5])
    parser.add_argument("--repeats", type=int, default=5)
    parser.add_argument("--peer-steps", type=int, default=5, help="iterations of SciPy that are timed at most")
    parser.add_argument("--no-peer", action="store_true")
    parser.add_argument("--no-memory", action="store_true")
    parser.add_argument("--memory-of", type=float, help=argparse.SUPPRESS)
    arguments = parser.parse_args()
    if arguments.memory_of is not None:
        return report_memory(int(arguments.memory_of))
    run([int(lines) for lines in arguments.lines], arguments.repeats, arguments.peer_steps, not arguments.no_peer, not arguments.no_memory)


if __name__ == "__main__":
    main()
