"""The guide to findings is complete: every limit with its preset and source, every rule by its code."""

from pathlib import Path
import re

import pytest

import flarenut
from flarenut import checks

GUIDE = Path(__file__).parents[2].joinpath("docs/guide/findings.md").read_text(encoding="utf-8")
SOURCES = sorted(Path(flarenut.__file__).parent.joinpath("checks").glob("*.py"))


@pytest.mark.parametrize("name", checks.LIMITS)
def test_a_limit_stands_in_the_guide_as_it_is(name):
    limit = checks.LIMITS[name]
    assert f"| `{name}` | {limit.preset} | {limit.meaning} | {limit.source} |" in GUIDE
    above = GUIDE.split("## The limits")[0]
    assert f"`{name}`" in above or name.startswith(("oil_", "hydraulic_"))


def test_the_guide_knows_no_limit_that_is_not():
    assert set(re.findall(r"^\| `(\w+)` \|", GUIDE, re.MULTILINE)) == set(checks.LIMITS)


def codes():
    for source in SOURCES:
        text = source.read_text(encoding="utf-8")
        yield from re.findall(r'Finding\(\s*"([a-z -]+)"', text)
        if source.name == "devices.py":
            yield from re.findall(r'^    "([a-z -]+)": \(', text, re.MULTILINE)


def test_every_rule_is_told_of():
    found = set(codes())
    assert len(found) > 40
    assert not {code for code in found if code not in GUIDE}
