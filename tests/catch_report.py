"""Reads what a Catch2 program (version 2 or 3) says: its list of cases and its XML report."""

import subprocess
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree

LONGEST_RUN = 900  # s


@dataclass(frozen=True)
class CaseReport:
    passed: bool
    text: str  # Catch's own account of every failed assertion
    skipped: bool = False


def case_names(program: Path) -> list[str]:
    """Version 3 lists as XML; version 2 ignores that wish and has a plain list, with the count as exit status."""
    listing = _run(program, "--list-tests", "--reporter", "xml").stdout
    if listing.lstrip().startswith("<?xml"):
        return [name.text or "" for name in ElementTree.fromstring(listing).iterfind(".//TestCase/Name")]
    done = _run(program, "--list-test-names-only")
    names = [line.strip() for line in done.stdout.splitlines() if line.strip()]
    # A name that begins with a number sign is listed in quotes.
    names = [name[1:-1] if name.startswith('"#') and name.endswith('"') else name for name in names]
    if done.returncode < 0 or not names:
        raise RuntimeError(f"{program.name} lists no test cases (exit status {done.returncode}):\n{done.stderr}")
    return names


def run_all(program: Path) -> tuple[dict[str, CaseReport], str]:
    """Runs everything once. Also returns how the program ended when it did not end by itself."""
    report = program.with_suffix(".xml")
    report.unlink(missing_ok=True)
    try:
        done = _run(program, "--reporter", "xml", "--out", str(report))
        ending = f"exit status {done.returncode}\n{done.stderr.strip()}"
    except subprocess.TimeoutExpired:
        ending = f"stopped after {LONGEST_RUN} s"
    reports, whole = read_report(report.read_text(encoding="utf-8", errors="replace") if report.exists() else "")
    return reports, "" if whole else f"{program.name} ended before its report was whole: {ending}"


def read_report(xml: str) -> tuple[dict[str, CaseReport], bool]:
    """Reports by case name, as far as the text goes, and whether it goes to its end."""
    parser = ElementTree.XMLPullParser(events=("end",))
    reports = {}
    try:
        parser.feed(xml)
        parser.close()
        whole = True
    except ElementTree.ParseError:
        whole = False
    try:
        for _, element in parser.read_events():
            if element.tag == "TestCase" and element.get("name") is not None:
                reports[element.get("name")] = _case(element)
    except ElementTree.ParseError:  # the pull parser keeps a complaint until the good events before it are read
        whole = False
    return reports, whole


def _case(element) -> CaseReport:
    result = element.find("OverallResult")
    passed = result is not None and result.get("success") == "true"
    skipped = result is not None and int(result.get("skips", 0)) > 0
    return CaseReport(passed, "\n".join(_account(element, [])) or "failed without saying why", skipped)


def _account(element, sections: list[str]) -> list[str]:
    lines = []
    for child in element:
        words = (child.text or "").strip()
        if child.tag == "Section":
            lines += _account(child, [*sections, child.get("name", "")])
        elif child.tag == "Expression":
            if child.get("success") == "true":
                continue
            lines.append(_place(child, sections))
            lines.append(f"  {child.get('type')}( {child.findtext('Original', '').strip()} )")
            lines.append(f"  with {child.findtext('Expanded', '').strip()}")
            lines += [f"  {part.tag}: {(part.text or '').strip()}" for part in child
                      if part.tag not in ("Original", "Expanded")]
        elif child.tag in ("Exception", "Failure", "FatalErrorCondition"):
            lines += [_place(child, sections), f"  {child.tag}: {words}"]
        elif child.tag in ("Info", "Warning"):
            lines.append(f"  {child.tag}: {words}")
    return lines


def _place(element, sections: list[str]) -> str:
    return " / ".join([f"{element.get('filename')}:{element.get('line')}", *sections])


def _run(program: Path, *words: str) -> subprocess.CompletedProcess:
    return subprocess.run([str(program), *words], stdin=subprocess.DEVNULL, capture_output=True, text=True,
                          errors="replace", timeout=LONGEST_RUN, cwd=program.parent)
