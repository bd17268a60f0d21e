"""The guide to ends and joints: its examples run and print what stands below them; the ends it lists are read."""

import re
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path

from flarenut.catalog import end

GUIDE = Path(__file__).parents[2].joinpath("docs/guide/hardware.md").read_text(encoding="utf-8")


def test_the_examples_print_what_the_guide_shows():
    shown = re.findall(r"```python\n(.*?)```\n+```text\n(.*?)```", GUIDE, re.DOTALL)
    assert len(shown) == 4
    names = {}
    for block, printed in shown:
        told = StringIO()
        with redirect_stdout(told):
            exec(compile(block, "docs/guide/hardware.md", "exec"), names)
        assert told.getvalue() == printed


def test_the_ends_that_the_guide_lists_are_read():
    listed = re.search(r"```\n(-8 37 flare.*?)```", GUIDE, re.DOTALL)[1].splitlines()
    assert len(listed) == 11 and all(end(re.split(r"\s{2,}", line)[0]) for line in listed)
