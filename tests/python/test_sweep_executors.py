"""Sweeps spread over other processes: the same answer to the bit."""

import multiprocessing
from concurrent.futures import Future, ProcessPoolExecutor

import flarenut as fn
import numpy
import pytest
from flarenut.studies.batches import BLOCK
from sweep_example import curves, small_car

xarray = pytest.importorskip("xarray", reason="sweeps answer with xarray")
pytestmark = pytest.mark.filterwarnings("ignore::flarenut.studies.SweepWarning")  # E10 boils at the hot restart; here bits are compared

VARY = {"volts": list(numpy.linspace(11, 14, 60)), "manifold": [f"{boost} psi" for boost in range(-5, 16)], "return hose.size": ["-4", "-6", "-8"],
        "fluid": ["E10", "E85"]}


class Here:
    """Has `submit` and nothing else; works at once and keeps what it was given."""

    def __init__(self):
        self.tasks = []

    def submit(self, function, *arguments):
        self.tasks.append(arguments)
        future = Future()
        future.set_result(function(*arguments))
        return future


def car_by_power():
    car = small_car()
    car.case("road", volts=13.5, manifold="0 psi", power="300 hp", specific_consumption="0.6 lb/hp/h")
    return car


@pytest.fixture
def small_tasks(monkeypatch):
    """Tasks as small as they may be, however quick the machine is."""
    monkeypatch.setattr("flarenut.studies.spread._WANTED", 1e-9)


def test_pieces_begin_at_whole_blocks_and_change_no_bit(small_tasks):
    alone, executor = fn.sweep(small_car(), VARY), Here()
    assert fn.sweep(small_car(), VARY, executor=executor).identical(alone)
    rows = [len(values) for _, circuits, _ in executor.tasks for _, pieces in circuits for _, values, _ in pieces]
    assert len(executor.tasks) > 100 and all(count % BLOCK == 0 or count in last_rows(rows) for count in rows)


def last_rows(rows):
    """Rows that may end a job: what 60 × 21 × 3 rows of one fluid and case leave over a block."""
    return [count for count in rows if (60 * 21 * 3 - count) % BLOCK == 0]


def test_a_pool_of_spawned_processes_gives_the_same_to_the_bit():
    alone = fn.sweep(small_car(), VARY)
    with ProcessPoolExecutor(2, mp_context=multiprocessing.get_context("spawn")) as pool:
        told = []
        spread = fn.sweep(small_car(), VARY, executor=pool, progress=lambda done, count: told.append((done, count)))
        by_power = fn.sweep(car_by_power(), {"power": ["100 hp", "300 hp", "500 hp"], "return hose.size": ["-4", "-8"], "volts": list(range(10, 16))},
                            cases="road", executor=pool)
    assert spread.identical(alone)
    assert told[-1] == (VARY_COUNT, VARY_COUNT)
    assert by_power.identical(fn.sweep(car_by_power(), {"power": ["100 hp", "300 hp", "500 hp"], "return hose.size": ["-4", "-8"],
                                                        "volts": list(range(10, 16))}, cases="road"))


VARY_COUNT = 60 * 21 * 3 * 2 * 3


def test_meeting_a_power_does_not_depend_on_where_it_is_cut(small_tasks):
    vary = {"power": [f"{power} hp" for power in range(50, 900, 7)], "return hose.size": ["-4", "-6", "-8"]}
    assert fn.sweep(car_by_power(), vary, cases="road", executor=Here()).identical(fn.sweep(car_by_power(), vary, cases="road"))


@pytest.mark.parametrize("fluid", ["E10", fn.fluid("E10", reid="9 psi"), fn.constant_fluid(density="740 kg/m3", viscosity="0.68 cSt"),
                                   fn.oil(kv40="3 cSt", kv100="1.3 cSt", pour_point="-30 C")], ids=["name", "reid", "constant", "oil"])
def test_every_fluid_and_part_can_be_sent(fluid, small_tasks):
    car = small_car(fluid)
    car.change("return hose", length="9 ft")
    vary = {"pump": {"small": fn.electric_pump(curves(1), check_valve=True, rated_with="gasoline"), "large": fn.electric_pump(curves(1.2))},
            "fluid_temperature": [f"{celsius} C" for celsius in range(15, 45)], "volts": list(numpy.linspace(11, 14, 20))}
    assert fn.sweep(car, vary, cases="idle", executor=Here()).identical(fn.sweep(car, vary, cases="idle"))


def test_ctrl_c_while_waiting_leaves_what_came_back(small_tasks):
    class Interrupted(Here):
        def submit(self, function, *arguments):
            if self.tasks:
                raise KeyboardInterrupt
            return super().submit(function, *arguments)

    with pytest.raises(fn.SweepInterrupted) as stop:
        fn.sweep(small_car(), VARY, executor=Interrupted())
    status = fn.words_of(stop.value.partial["status"])
    assert (status == "solved").any() and (status == "not reached").any()


def test_a_worker_of_another_version_is_refused():
    from flarenut.studies.batches import solve_elsewhere

    with pytest.raises(RuntimeError, match="the worker runs flarenut .*, the sweep 0.0.0: install the same"):
        solve_elsewhere("0.0.0", [], 1)


def test_two_dask_workers_give_the_same_to_the_bit():
    distributed = pytest.importorskip("dask.distributed", reason="Dask is not installed: pip install 'dask[distributed]'")
    alone = fn.sweep(small_car(), VARY)
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as cluster, \
            distributed.Client(cluster) as client:
        spread = fn.sweep(small_car(), VARY, executor=client)
    assert spread.identical(alone)
