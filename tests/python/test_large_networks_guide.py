"""The guide to large networks: its Python is run as it stands, its C++ is held to the headers by name."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
GUIDE = (ROOT / "docs/guide/large_networks.md").read_text(encoding="utf-8")


def test_the_code_of_the_guide(capsys):
    names = {}
    for block in re.findall(r"```python\n(.*?)```", GUIDE, re.DOTALL):
        exec(compile(block, "large_networks.md", "exec"), names)  # noqa: S102 - our own text
    printed = capsys.readouterr().out.splitlines()
    assert "symmetric system" in printed[0] and "'rung': 'cold start'" in printed[0]
    assert names["answer"].converged and names["plan"].in_rows
    # Every drop that is taken out comes through the riser.
    assert names["answer"].flow["riser"][0] == pytest.approx(100 * 100 * 1e-4, rel=1e-9)
    assert names["net"].solve().flow["riser"][0] == pytest.approx(100 * 100 * 1e-4 - 1e-4 + 0.1, rel=1e-9)
    with pytest.raises(ValueError, match=re.escape(re.search(r"`(across\[17\]: .*?)`", GUIDE)[1])):
        names["plan"].set(names["plan"].index("across[17].bore"), 0.7)


def test_the_cpp_of_the_guide_uses_what_the_headers_have():
    (block,) = re.findall(r"```cpp\n(.*?)```", GUIDE, re.DOTALL)
    headers = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "cpp/flarenut").rglob("*.hpp"))
    called = set(re.findall(r"(?:\.|network::|analysis::)(\w+)", block))
    assert {"add_junctions", "add_lines", "RowPlan", "RowSolver"} <= called
    assert {name for name in called if not re.search(rf"\b{name}\b", headers)} == set()
