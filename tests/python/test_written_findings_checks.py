"""What is found of some two hundred cases is what stands written of them in tests/data/findings, word by word and number by number."""

import pytest
import written_cases
import written_findings

EVERY = [(group, name) for group, cases in written_cases.GROUPS.items() for name in cases]


@pytest.fixture(scope="module")
def strict():
    return written_cases.strict()


@pytest.mark.parametrize("group, name", EVERY, ids=lambda word: word)
def test_what_is_found_is_what_is_written(group, name, strict):
    found = written_findings.said_of(written_cases.GROUPS[group][name](), strict if group in written_cases.STRICT else None)
    assert found == written_findings.kept(group)[name]


def test_every_finding_that_is_written_is_of_a_case_that_is_asked():
    assert [(group, name) for group in written_cases.GROUPS for name in written_findings.kept(group)] == EVERY
