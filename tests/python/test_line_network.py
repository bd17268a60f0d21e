"""`LineNetwork` in the builder's units, against a `Circuit` and against sums by hand."""

import numpy as np
import pytest

import flarenut as fn


def chain(**line):
    net = fn.LineNetwork("water", fluid_temperature="60 F")
    corners = net.junctions("corner", 3, demand=[0.0, 0.05, 0.1])
    start = net.held("main", "30 psi")
    return net, net.lines("leg", [start, *corners[:-1]], corners, **({"bore": "1/2 in", "length": [1.0, 2.0, 3.0]} | line))


def test_a_chain_carries_its_demands_and_agrees_with_a_circuit():
    net, indices = chain()
    assert list(indices) == [0, 1, 2] and "3 lines, 4 junctions" in repr(net)
    answer = net.solve()
    assert answer.converged and answer.message == "" and answer.certificate["mass_closure"] <= 1e-12
    np.testing.assert_allclose(answer.flow["leg"], [0.15, 0.15, 0.1], rtol=1e-12)
    assert answer.pressure["main"] == pytest.approx([30 * 6894.757293168], rel=1e-9)

    same = fn.Circuit("chain", "water", fluid_temperature="60 F")
    same.fixed("main", "30 psi")
    for place, demand in (("a", None), ("b", "0.05 kg/s"), ("c", "0.1 kg/s")):
        same.junction(place, demand=demand)
    for number, (here, there) in enumerate((("main", "a"), ("a", "b"), ("b", "c"))):
        same.run(f"leg {number}", here, there, [fn.tube(bore="1/2 in", length=f"{number + 1} m")])
    case = same.solve()["as written"]
    for place, pressure in zip("abc", answer.pressure["corner"]):
        assert case.at(place).total.to("Pa") - 101325.0 == pytest.approx(pressure, rel=1e-9)


def test_units_are_read_and_bare_numbers_are_si():
    by_words, by_numbers = chain(bore="10 mm", length="2 m")[0].solve(), chain(bore=0.01, length=np.full(3, 2.0))[0].solve()
    np.testing.assert_allclose(by_words.pressure["corner"], by_numbers.pressure["corner"], rtol=1e-12)
    with pytest.raises(fn.UnitError):
        chain(bore="10 psi")


def test_bad_columns_are_refused_by_row_and_nothing_is_kept():
    net, _ = chain()
    with pytest.raises(ValueError, match=r"new\[1\]: bore: 0.7 m is outside 0.0001 to 0.5 m"):
        net.lines("new", [0, 1], [1, 2], bore=[0.01, 0.7], length=1.0)
    net.lines("new", [0, 1], [1, 2], bore=[0.01, 0.02], length=1.0)
    assert set(net.solve().flow) == {"leg", "new"}


def test_a_network_without_lines_or_without_supply_says_so():
    empty = fn.LineNetwork("water")
    with pytest.raises(fn.CircuitError, match="no lines"):
        empty.solve()
    empty.junctions("corner", 2)
    empty.lines("leg", [0], [1], bore=0.01, length=1.0)
    with pytest.raises(ValueError, match=r"corner\[0\]: has no path to a fixed pressure"):
        empty.solve()


def test_what_cannot_be_is_no_number():
    net, _ = chain(bore="2 mm")
    answer = net.solve()
    assert not answer.converged and "absolute zero" in answer.message
    assert np.isnan(answer.flow["leg"]).all() and np.isnan(answer.pressure["corner"]).all()


@pytest.mark.parametrize("columns, words", [
    ({"starts": [0, 1.5]}, r"x\[1\]: 'starts' in row 1 is 1.5: indices of junctions are whole numbers"),
    ({"ends": [float("nan"), 2]}, r"x\[0\]: 'ends' in row 0 is nan"),
    ({"starts": ["corner", "main"]}, r"'starts' in row 0 is 'corner'"),
    ({"bor": "10 mm"}, "x: there is no column 'bor': did you mean 'bore'"),
    ({"length": None}, "x: 'length' is missing")])
def test_a_wrong_index_or_word_of_lines_is_named(columns, words):
    net = fn.LineNetwork("water")
    net.junctions("corner", 3)
    with pytest.raises(fn.CircuitError, match=words):
        net.lines("x", **({"starts": [0, 1], "ends": [1, 2], "bore": "10 mm", "length": "1 m"} | columns))
    assert "0 lines" in repr(net)
