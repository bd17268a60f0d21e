"""Findings of a sheet: worst first, each with where it is, what was found, what its limit is from and what cures it; a box for those to mend."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..results import merged
from ..results.finding import stopped
from .markup import Markup, element, joined

if TYPE_CHECKING:
    from ..results.finding import Finding

_TO_MEND = ("stop", "fix")
_BOX = Markup('<span class="box" role="img" aria-label="mended, to tick"></span>')


def listed(findings: Sequence[Finding], units: str) -> Markup:
    """Findings as a list, those of several cases once."""
    entries = merged(findings)
    if not entries:
        return element("p", "Nothing to find fault with. That is no promise: only what the circuit says of itself can be checked.")
    return element("ol", *(_entry(one, cases, units) for one, cases in entries), class_="findings")


def _entry(one: Finding, cases: Sequence[str], units: str) -> Markup:
    cases = [case for case in cases if case]
    if len(cases) > 1 and one.value is not None:
        cases = [f"{cases[0]} (worst)", *cases[1:]]
    place = ", ".join(word for word in (one.where, " / ".join(cases)) if word)
    source = f" ({one.source})" if one.source and one.limit is not None else ""
    mended = [" ", _BOX] if one.severity in _TO_MEND else []
    head = element("p", _badge(one.severity), " ", element("strong", place or "circuit"), *mended)
    cure = [element("p", element("strong", "Cure: "), stopped(one.cure))] if one.cure else []
    return element("li", head, element("p", stopped(f"{_capital(one.sentence(units))}{source}")), *cure, class_=one.severity)


def _badge(severity: str) -> Markup:
    return element("span", severity.upper(), class_="badge")


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def badged(lines: Sequence[tuple[str, str]]) -> Markup:
    """Findings that are (severity, line of text) already, as tables hold them."""
    if not lines:
        return Markup("")
    rows = (
        element("li", element("p", _badge(severity), " ", text.removeprefix(f"{severity.upper()}: ")), class_=severity)
        for severity, text in lines
    )
    return element("ol", *rows, class_="findings")


def verdict(findings: Sequence[Finding]) -> str:
    """What they come to, in a sentence."""
    entries = [one.severity for one, _ in merged(findings)]
    counted = [f"{entries.count(severity)} {severity.upper()}" for severity in ("stop", "fix", "watch") if severity in entries]
    if not counted:
        return "No finding above a note. What nobody said could not be checked."
    said = joined(", ".join(counted))
    if "stop" in entries:
        return f"Do not run it like this: {said}. Mend these first."
    return f"{said}: mend these before it runs." if "fix" in entries else f"{said}: look at these before it runs."
