"""The short form of the campaign of symmetries, and that its checks can fail."""

import io
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from plumbing import to_circuit  # noqa: E402
from random_plumbing import random_plumbing  # noqa: E402
from run_symmetries import campaign  # noqa: E402
from symmetries import both, datum, mirrored  # noqa: E402


def test_names_order_units_direction_and_datum_do_not_matter_and_slopes_are_those_of_differences():
    told = io.StringIO()
    table, failures, examined, whole = campaign(60, 3000, 2, told)
    assert whole and failures == [], told.getvalue()
    assert all(done >= 30 for done, _ in table.values()), table


@pytest.mark.parametrize("seed", [516, 875, 898, 938])
def test_a_pocket_behind_a_shut_regulator_has_the_same_pressure_whichever_way_its_parts_are_written(seed):
    assert mirrored(seed) < 1e-10  # of the largest pressure, as laws are met; it was up to 1.4e-8


def test_a_circuit_that_is_another_is_seen():
    def longer(plumbing):
        return plumbing._replace(parts=tuple(part._replace(numbers={**part.numbers, "length": part.numbers["length"] * 1.001}) if part.kind == "line" else part
                                             for part in plumbing.parts))

    assert both(12, longer) > 1e-7
    assert datum(12, 1e5) < 1e-9 and to_circuit(random_plumbing(12)).solve()["as written"].converged
