"""The bridge between Catch2 and pytest reads both versions' reports, and no failure slips through it."""

import catch_report
import cpp_build
import pytest

VERSION_2 = """<?xml version="1.0" encoding="UTF-8"?>
<Catch name="p"><Group name="p">
  <TestCase name="holds" filename="a.cpp" line="3"><OverallResult success="true"/></TestCase>
  <TestCase name="wrong sum" filename="a.cpp" line="7">
    <Section name="cold oil" filename="a.cpp" line="8">
      <Info>at 40 degC</Info>
      <Expression success="false" type="CHECK" filename="a.cpp" line="9">
        <Original>total == 5</Original><Expanded>4 == 5</Expanded>
      </Expression>
      <OverallResults successes="0" failures="1" expectedFailures="0"/>
    </Section>
    <OverallResult success="false"/>
  </TestCase>
  <TestCase name="throws" filename="a.cpp" line="12">
    <Exception filename="a.cpp" line="12">no such part</Exception><OverallResult success="false"/>
  </TestCase>
</Group><OverallResults successes="1" failures="2" expectedFailures="0"/></Catch>
"""
VERSION_3 = """<?xml version="1.0" encoding="UTF-8"?>
<Catch2TestRun name="p" rng-seed="1" xml-format-version="3" catch2-version="3.4.0">
  <TestCase name="holds" filename="a.cpp" line="3"><OverallResult success="true" skips="0"/></TestCase>
  <TestCase name="left out" filename="a.cpp" line="5">
    <Skip filename="a.cpp" line="6">no such table</Skip><OverallResult success="true" skips="1"/>
  </TestCase>
</Catch2TestRun>
"""
CRASH = VERSION_2[:VERSION_2.index('<TestCase name="throws"')] + '<TestCase name="throws"'


def test_version_2():
    reports, whole = catch_report.read_report(VERSION_2)
    assert whole and {name: report.passed for name, report in reports.items()} == {
        "holds": True, "wrong sum": False, "throws": False}
    assert reports["wrong sum"].text.splitlines() == [
        "  Info: at 40 degC", "a.cpp:9 / cold oil", "  CHECK( total == 5 )", "  with 4 == 5"]
    assert "no such part" in reports["throws"].text


def test_version_3():
    reports, whole = catch_report.read_report(VERSION_3)
    assert whole and reports["holds"].passed and not reports["holds"].skipped
    assert reports["left out"].skipped


@pytest.mark.parametrize("xml", [CRASH, VERSION_2.replace("no such part", "no such \x01 part"), ""])
def test_a_report_cut_short_is_noticed(xml):
    reports, whole = catch_report.read_report(xml)
    assert not whole
    assert "throws" not in reports
    assert not xml or reports["holds"].passed


def test_a_missing_compiler_is_a_missing_tool(monkeypatch):
    monkeypatch.setenv("CXX", "no-such-compiler")
    with pytest.raises(cpp_build.ToolMissing, match="no-such-compiler"):
        cpp_build.require_tools()


def test_the_program_has_one_main():
    sources = [path for folder in ("cpp", "laws") for path in (cpp_build.ROOT / "tests" / folder).rglob("*.cpp")]
    assert [str(path) for path in sources if "CATCH_CONFIG_MAIN" in path.read_text(encoding="utf-8")] == []
    assert "Catch2::Catch2WithMain" in (cpp_build.ROOT / "CMakeLists.txt").read_text(encoding="utf-8")
