"""The page of a sheet: its head, the sections of each circuit, what holds for all, and where to sign."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from collections.abc import Sequence

from .. import __version__
from ..hardware import disputes_of
from ..hardware.fitted import CLASHING
from ..results import ranked
from .cases import cases_section
from .disputes import disputes_section
from .findings import listed, verdict
from .joints import joints_section
from .margins import margins_section
from .markup import Markup, element, identity, joined, made_elsewhere
from .overview import clashing_section, facts_of, proposals_section
from .purchase import bill_section, totals_section
from .runs import runs_section
from .signing import signing_section
from .sources import Sources
from .style import style_of
from .testing import test_section

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.vehicle import Vehicle
    from ..hardware.fitted import Fitted
    from ..results.finding import Finding
    from .circuits import Part, Whole

ESTIMATE = "Engineering estimate, not a certification: defer to local codes and licensed practice."

_STANDING = 1400  # widest drawing [px] that is read on an upright page of paper: a wider one has a page of its own that lies across
_FITTED = 1400  # widest that is fitted into a page on a screen: a wider one is moved about in its box


class _Page:
    """Sections as they are written, with their places in the contents."""

    def __init__(self) -> None:
        self.sections: list[Markup] = []
        self.contents: list[tuple[str, str]] = []

    def add(self, title: str, *body: Markup, level: int = 2, at: str = "", class_: str | None = None) -> None:
        """A section with its heading; of level 2 it has a line in the contents."""
        place = identity(at, title)
        if level == 2:
            self.contents.append((title, place))
        self.sections.append(element("section", element(f"h{level}", title, id=place), *body, aria_labelledby=place, class_=class_))

    def heading(self, title: str, *body: Markup) -> str:
        """A heading of level 2 with what stands between it and its sections."""
        place = identity("circuit", title, str(len(self.contents)))
        self.contents.append((title, place))
        self.sections.append(joined(element("h2", title, id=place, class_="circuit"), *body))
        return place


def page(plumbing: Circuit | Vehicle, parts: Sequence[Part], whole: Whole | None, units: str, day: str, proposals: Fitted | None) -> str:
    """The whole document as text."""
    made, sources = _Page(), Sources()
    made.add("What this is", facts_of(plumbing, parts, whole, units, day))
    if proposals is not None:
        made.add("Put in where nothing was said", proposals_section(proposals, units))
        if proposals.clashing:
            made.add(CLASHING, clashing_section(proposals, units))
    if whole is None:
        _circuit(made, parts[0], units, sources, 2)
    else:
        for part in parts:
            place = made.heading(f"Circuit: {part.name}", element("p", part.circuit.fluid.name, " · ", verdict(part.findings)))
            _circuit(made, part, units, sources, 3, place)
        made.add("All circuits together", totals_section(whole, units))
    differing = disputes_of(plumbing)
    if differing:
        made.add("Where sources differ", disputes_section(differing, sources))
    made.add("Tick and sign", signing_section(parts), class_="signing")
    made.add("Sources", _about_sources(sources), sources.listed())
    return _document(plumbing, made, ranked([one for part in parts for one in part.findings]))


def _circuit(made: _Page, part: Part, units: str, sources: Sources, level: int, at: str = "") -> None:
    """The sections of one circuit."""
    def add(title: str, *body: Markup, class_: str | None = None) -> None:
        made.add(title, *body, level=level, at=at, class_=class_)

    add("Findings, worst first", listed(part.findings, units))
    add("Schematic", _drawing(part), class_="lying" if drawing_width(part.drawing.svg) > _STANDING else None)
    add("Runs, ends and cut lengths", runs_section(part.circuit, part.cuts, units))
    add("Joints", joints_section(part.audit, units, sources))
    add("Operating cases", cases_section(part.answer, part.table))
    add("What the lines bear", margins_section(part.answer, units, sources))
    add("Bill", bill_section(part.bill, units))
    add("Test with liquid before use", test_section(part.circuit, part.answer, units, sources))
    add("Cautions", element("ul", *(element("li", line) for line in part.answer.cautions)))


def _drawing(part: Part) -> Markup:
    case = next(iter(part.answer), None)
    told = "" if case is None else f" Pressures and flows are those of {case}; colours and words are of the worst finding of all cases."
    said = element("figcaption", f"Schematic of {part.name}, symbols after ISO 1219-1.{told}")
    width = "scroll large" if drawing_width(part.drawing.svg) > _FITTED else "scroll"
    drawing = element("div", made_elsewhere(part.drawing.svg), class_=width, role="region", aria_label=f"Schematic of {part.name}", tabindex="0")
    return element("figure", drawing, said)


def drawing_width(svg: str) -> float:
    """Width of a drawing [px].

    >>> drawing_width('<svg xmlns="..." width="1040" height="500">')
    1040.0
    """
    found = re.match(r'<svg[^>]*? width="([\d.]+)"', svg)
    return float(found[1]) if found else 0.0


def _about_sources(sources: Sources) -> Markup:
    if not sources.from_memory:
        return Markup("")
    return element("p", element("strong", "From memory: "), "figures so marked were written down from memory of the document named. Verify them in it before use.")


def _document(plumbing: Circuit | Vehicle, made: _Page, findings: Sequence[Finding]) -> str:
    invented = [element("p", element("strong", "INVENTED EXAMPLE."), " No such vehicle exists; build nothing from it.")] if plumbing.invented else []
    links = (element("li", element("a", title, href=f"#{place}")) for title, place in made.contents)
    contents = element("nav", element("ul", *links), aria_label="Contents")
    head = element("header", element("p", "Build sheet", class_="kicker"), element("h1", plumbing.name), *invented,
                   element("p", ESTIMATE, class_="estimate"), element("p", verdict(findings), class_="verdict"), contents)
    foot = element("footer", element("p", ESTIMATE, " Verify by measurement.", class_="estimate"),
                   element("p", f"Made by flarenut {__version__}.", class_="quiet"))
    return joined(Markup("<!DOCTYPE html>\n"), element(
        "html",
        element("head", element("meta", charset="utf-8"), element("meta", name="viewport", content="width=device-width, initial-scale=1"),
                element("title", f"Build sheet: {plumbing.name}"),
                element("meta", name="description", content=f"Build sheet of {plumbing.name}. {ESTIMATE}"),
                Markup(f"<style>{style_of(plumbing.name, ESTIMATE)}</style>")),
        element("body", head, Markup("\n"), element("main", *(joined(section, Markup("\n")) for section in made.sections)), foot), lang="en")) + "\n"
