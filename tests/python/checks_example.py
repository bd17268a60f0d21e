"""A sound circuit's case and what one rule finds of a case, for the tests of checks."""

import flarenut as fn
import results_example as example
from flarenut import checks

IDLE = {"idle": example.CASES["idle"]}


def one_case(conditions=None, changes=None, **numbers):
    return example.answer({"idle": {**example.CASES["idle"], **(conditions or {})}}, changes, **numbers)["idle"]


def finding(case, code, limits=None):
    found = [one for one in checks.case_findings(case, limits) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


def still(name="siphon", vapour="0 Paa", **words):
    """A circuit of a thin liquid of 750 kg/m3 that boils at a pressure of its own."""
    return fn.Circuit(name, fluid=fn.constant_fluid("750 kg/m3", "0.5 cP", vapour_pressure=vapour, name="gasoline-like liquid"), **words)


def codes(case):
    return [one.code for one in case.findings]


def pump(name="pump", top="80 psi"):
    return fn.formula_pump(top, "300 L/h", name=name)
