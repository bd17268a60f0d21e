"""Networks in rows, from Python: columns in, columns out, refusals by row, and everything else a plan does."""

import numpy as np
import pytest

from flarenut import _core as core


def network(count: int = 40):
    """A row of corners between a feed and a return, every other one with a by-pass. Invented."""
    made = core.Network()
    made.liquid(core.fluids.constant_liquid("oil", 870.0, 0.02))
    corners = made.junctions("corner", count, demand=np.linspace(0.0, 0.04 / count, count), position=np.column_stack([0.2 * np.arange(count), np.zeros((count, 2))]))
    feed = made.fixed("feed", 4e5)
    out = made.fixed("out", 0.0, (0.2 * count, 0.0, 0.0))
    chain = [feed, *corners, out]
    made.lines("leg", chain[:-1], chain[1:], bore=np.linspace(0.012, 0.01, count + 1) * max(1.0, count / 400), length=0.5)
    made.lines("by-pass", corners[:-2:2], corners[2::2], bore=0.004, length=1.0, extra_loss=2.0)
    return made


def test_the_ranges_index_what_was_added():
    made = network()
    assert made.junction_count == 42 and made.part_count == 41 + 19
    assert made.junctions("more", 3) == range(42, 45)
    assert made.lines("late", [42, 43], [43, 44], bore=0.01, length=1.0) == range(60, 62)


def test_rows_give_the_answer_of_the_network_built_part_by_part():
    rows = core.Plan(network(), symmetric_from=1)
    written = core.Plan(network())
    assert rows.in_rows and not written.in_rows
    assert rows.names == written.names
    by_rows, by_parts = rows.solve(cold=True), written.solve(cold=True)
    assert rows.in_rows and rows.workspace_bytes > 0 and written.workspace_bytes == 0
    assert rows.method == f"symmetric system, blocks for {core.block_kernel}" and written.method == "general system"
    assert by_rows.converged and by_parts.converged
    np.testing.assert_allclose(by_rows.pressure, by_parts.pressure, rtol=0, atol=1e-9 * 1e5)
    np.testing.assert_allclose(by_rows.flow, by_parts.flow, rtol=0, atol=1e-9 * np.abs(by_parts.flow).max())


def test_answers_of_rows_are_read_as_any_other():
    plan = core.Plan(network(), symmetric_from=1)
    answer = plan.solve(cold=True)
    assert answer.flow_of("leg[3]") == answer.flow[3]
    assert answer.pressure_of("corner[5]") == answer.pressure[5]
    assert answer.part_names[41] == "by-pass[0]" and answer.junction_names[41] == "out"
    assert answer.number("leg[2].length") == 0.5 and answer.kind_of("by-pass[4]") == "line"
    assert answer.liquid_in("leg[0]")["density"] == 870.0
    assert plan.in_rows  # so far nothing was written out
    first, second = answer.ends("leg[3]")
    assert first.flow == pytest.approx(answer.flow[3]) and second.flow == -first.flow
    assert answer.regime_of("leg[3]") == "laminar" and answer.ambient == 101325.0
    assert plan.in_rows  # nor by what the answer reads


def test_numbers_are_set_by_name_and_all_or_none():
    plan = core.Plan(network(), symmetric_from=1)
    before = plan.solve(cold=True)
    plan.set_many({"leg[0].bore": 0.008, "out.gauge": 5e3, "liquid.temperature": 300.0})
    assert plan.get(plan.index("leg[0].bore")) == 0.008 and before.number("leg[0].bore") == 0.012
    warm, cold = plan.solve(), plan.solve(cold=True)
    assert warm.rung == "warm" and cold.rung == "cold start" and plan.in_rows
    np.testing.assert_allclose(warm.flow, cold.flow, rtol=0, atol=1e-9 * np.abs(cold.flow).max())
    assert warm.flow_of("leg[0]") < before.flow_of("leg[0]")
    with pytest.raises(core.InputError, match=r"leg\[1\]: bore: 9 m is outside 0.0001 to 0.5 m"):
        plan.set_many({"feed.gauge": 1e5, "leg[1].bore": 9.0})
    assert plan.get(plan.index("feed.gauge")) == 4e5
    copy = plan.copy()
    copy.set(copy.index("feed.gauge"), 1e5)
    assert plan.get(plan.index("feed.gauge")) == 4e5 and copy.in_rows


def test_what_rows_cannot_do_is_done_by_the_plan_written_out():
    plan = core.Plan(network(), symmetric_from=1)
    plan.set(plan.index("feed.gauge"), 5e5)
    slope = plan.gradient("flow", "leg[0]")["feed.gauge"]
    assert not plan.in_rows and plan.get(plan.index("feed.gauge")) == 5e5
    flow = []
    for gauge in (5e5 - 10.0, 5e5 + 10.0):
        plan.set(plan.index("feed.gauge"), gauge)
        flow.append(plan.solve(cold=True).flow_of("leg[0]"))
    assert (flow[1] - flow[0]) / 20.0 == pytest.approx(slope, rel=1e-5)
    other = core.Plan(network(), symmetric_from=1)
    other.set(other.index("leg[4].temperature"), 310.0)
    assert not other.in_rows and other.solve().converged


@pytest.mark.parametrize("change, words", [
    ({"bore": [0.01, 0.7]}, r"new\[1\]: bore: 0.7 m is outside 0.0001 to 0.5 m; lower it"),
    ({"bore": [0.01, np.nan]}, r"new\[1\]: bore: is not a finite number"),
    ({"bore": [0.01, 0.01, 0.01]}, "new: bore: has 3 values for 2 rows"),
    ({"bore": [[0.01, 0.01]]}, "come in one column"),
    ({"colour": 1.0}, "new: colour: is not a number that a line has"),
    ({"roughness": 0.002}, r"new\[0\]: roughness: is more than 5 % of the bore"),
    ({"starts": [0]}, "new: to: has 2 values and from has 1"),
    ({"starts": [0, 99]}, r"new\[1\]: junction: number 99 does not exist"),
    ({"starts": [0, -1]}, r"new\[1\]: junction: number -1 does not exist"),
    ({"ends": [1, 1], "starts": [0, 1]}, r"new\[1\]: ports: both ends meet junction 'corner\[1\]'"),
    ({"name": "leg"}, "leg: name: is used twice"),
])
def test_bad_rows_are_refused_and_nothing_is_kept(change, words):
    made = network()
    with pytest.raises(core.InputError, match=words):
        made.lines(**({"name": "new", "starts": [0, 1], "ends": [1, 2], "bore": 0.01, "length": 1.0} | change))
    assert made.part_count == 60


def test_indices_are_whole_numbers():
    with pytest.raises(core.InputError, match="starts: is one column of indices of junctions, whole numbers"):
        network().lines("new", [0.5], [1.5], bore=0.01, length=1.0)


def test_an_unmeetable_demand_is_said_in_words_and_leaves_no_numbers():
    plan = core.Plan(network(), symmetric_from=1)
    plan.set(plan.index("corner[20].demand"), 50.0)
    answer = plan.solve(cold=True)
    assert not answer.converged and "'corner[20]' would have to fall below absolute zero" in answer.message
    assert np.isnan(answer.pressure).all() and np.isnan(answer.flow).all()


def test_a_large_network_takes_the_symmetric_way_by_itself():
    plan = core.Plan(network(4000))
    answer = plan.solve(cold=True)
    assert plan.in_rows and plan.workspace_bytes > 0 and answer.iterations <= 12
    assert answer.converged, answer.message
