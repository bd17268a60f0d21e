"""The test before first use: every line assembly by itself, full of liquid, at its proof pressure; then all of it at its own pressure."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..catalog import hose_rating
from ..catalog.supports import proof_pressure, proof_rule
from ..checks.ratings_lines import MAKER, inside, rated_lines
from ..checks.written import notes_of
from ..circuit.spoken import may_brake
from ..units import Quantity, in_one
from .markup import element, joined
from .tables import notes, table

if TYPE_CHECKING:
    from ..checks.ratings_lines import Rated
    from ..circuit.circuit import Circuit
    from ..results.answer import Answer
    from ..results.case import CaseResult
    from .markup import Markup
    from .sources import Sources

_HEADINGS = ["line", "inside, at most", "in case", "test with liquid at", "source"]
_BY_ITSELF = ("Test every hose and tube with its ends as an assembly, off the vehicle or taken off at both ends and plugged: no pump, filter, "
              "regulator, injector, cooler, gauge or tank hangs on it. They bear less.")
_STEPS = (
    "Fill the assembly with liquid until no air is left in it: water, or the liquid that it is made for. Not fuel where anything can light it.",
    "Stand clear and behind a shield, with eyes covered. Raise the pressure slowly with a hand pump, and hold it for some minutes. "
    "Never feel for a leak by hand.",
    "Never test with full-pressure air or other gas: what bursts under gas throws its pieces.",
    "A drop, a sweat, a bulge, an end that has moved: let the pressure off, and make the assembly anew.",
    "Dry what held water. Then put it in, fill the whole system, bring it to its own pressure with the engine off where that can be done, "
    "and look at every joint.",
)
_BRAKES = "Brakes: the proof test is for a qualified shop, by the code that applies."
_FILLED = {True: "Fill the assembly with fresh brake fluid of its own kind until no air is left in it, never with water or oil.",
           False: "Fill the assembly with the liquid of its own system until no air is left in it, never with water: brake fluid on glycol destroys the seals of "
                  "brakes on oil, and oil those of brakes on glycol."}  # whether the system runs on brake fluid
_BRAKE_STEPS = (*_STEPS[1:-1],
                "Then put it in, fill and bleed the whole system, hold the pedal down hard for a minute, and look at every joint.")


def test_section(circuit: Circuit, answer: Answer, units: str, sources: Sources) -> Markup:
    """Test pressures of the lines of a circuit, and how to test."""
    worst = _highest(answer)
    rows = [_row(found, units, sources) for found in worst.values()]
    made = [table("Test pressure of every line assembly, with liquid", _HEADINGS, [("", rows)], right=(1, 3), tick="held")] if rows else []
    brakes = any(may_brake(circuit, run) for run in circuit.runs.values())
    said = [element("p", _BRAKES)] if brakes else []
    on_glycol = circuit.family == "brake fluid"
    steps = (_FILLED[on_glycol], *_BRAKE_STEPS) if brakes or on_glycol else _STEPS
    above = [in_one("Test with liquid at: twice the highest pressure in any of the cases, and 100 psi (6.9 bar) at least, but no more than "
                    "the line itself is proved or clamped to. A blocked line may see more than any case knows. What the maker of hose or "
                    "ends says comes first.", units)]
    return joined(*said, element("p", _BY_ITSELF), *made, element("ol", *(element("li", step) for step in steps)), notes(above if rows else []))


class _Found:
    """The case in which the pressure in a line is highest."""

    def __init__(self, case: CaseResult, part: str, rated: Rated | None) -> None:
        self.title, self.case, self.pressure, self.rated = case.layout.title(part), case.name, inside(case, part), rated


def _highest(answer: Answer) -> dict[str, _Found]:
    worst: dict[str, _Found] = {}
    for case in answer.values():
        notes = notes_of(case)
        if not case.converged or notes is None:
            continue
        rated = {one.part: one for one in rated_lines(case)}
        for part in notes.made_of:
            found = _Found(case, part, rated.get(part)) if part in case.part_names else None
            if found is not None and (part not in worst or found.pressure > worst[part].pressure):
                worst[part] = found
    return worst


def _row(found: _Found, units: str, sources: Sources) -> list[str | Markup]:
    rule = proof_rule()
    asked, least, kept, source = proof_pressure(max(found.pressure, 0.0)), None, "", ""
    bounds = list(_bounds(found.rated))
    for bears, why, said in bounds:
        if bears is not None and bears < asked and (least is None or bears < least):
            least, kept, source = bears, why, said
    if not any(bears is not None for bears, _, _ in bounds):
        kept = "if it is made for that"
    shown = Quantity(asked if least is None else least, "pressure_gauge").show(units)
    kept = kept if least is None else f"no more: {kept}"
    test = joined(element("strong", shown), f"\n{kept}" if kept else "")
    return [found.title, Quantity(found.pressure, "pressure_gauge").show(units), found.case, test, sources.mark(rule.said, source)]


def _bounds(rated: Rated | None) -> Iterator[tuple[float | None, str, str]]:
    """(pressure, what it is, its source) of what a line must not be tested beyond."""
    if rated is None:
        return
    if rated.line.shop.maker_pressure is not None:
        yield 2.0 * rated.line.shop.maker_pressure, "twice what its maker states", MAKER
    elif rated.hose is not None:
        proof = rated.hose.proof or (2.0 * rated.hose.working if rated.hose.working else None)
        yield proof, f"proof of {rated.called}" if rated.hose.proof else f"twice what {rated.called} bears", rated.hose.said
    elif rated.rating is not None and (bears := rated.working(None)[0]):
        source = rated.working(None)[1]
        yield 2.0 * bears, f"twice what {rated.called} bears", source
    if rated.is_hose and rated.line.shop.clamped:
        held = hose_rating("SAE J189", clamped=True)
        yield held.working, "what clamps on barbs hold", held.said
