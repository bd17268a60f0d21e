"""What a sheet begins with: what it is of, and what it comes to."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from .. import __version__
from ..hardware.bill_view import is_least, least, money, things
from ..units import Quantity
from .markup import element, joined
from .tables import BLANK, table

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.vehicle import Vehicle
    from ..hardware.bill import Bill
    from ..hardware.fitted import Fitted
    from .circuits import Part, Whole
    from .markup import Markup

_COUNTED = {"seals": "seal", "adapter": "need an adapter", "refused": "REFUSED", "not said": "not known, as a side is not said"}


def facts_of(plumbing: Circuit | Vehicle, parts: Sequence[Part], whole: Whole | None, units: str, day: str) -> Markup:
    """Name, liquid, date and the few numbers that everybody asks first."""
    bill = whole.bill if whole is not None else parts[0].bill
    total = bill.total
    facts = [
        ("Name", f"{plumbing.name}{' (invented)' if plumbing.invented and not plumbing.name.endswith('(invented)') else ''}"),
        *_liquids(parts, whole),
        ("Date", day or BLANK),
        ("Units", _UNITS[units]),
        ("Cases", ", ".join(dict.fromkeys(case for part in parts for case in part.answer)) or "none"),
        ("Joints", _joints(parts)),
        ("Lines to cut", _lines(parts)),
        ("Highest pressure", _highest(parts, units)),
        ("Liquid in the lines", f"{total.volume.show(units)}, {total.liquid.show(units)}"),
        ("Parts, dry", _weight(bill, units)),
        *_cost(bill)]
    if plumbing.source:
        facts.append(("Written in", Path(plumbing.source).name))
    facts.append(("Made by", f"flarenut {__version__}"))
    return element("dl", *(joined(element("dt", word), element("dd", said)) for word, said in facts), class_="facts")


_UNITS = {"us": "US units; pressures over the air around unless said otherwise", "metric": "metric units; pressures over the air around unless said otherwise"}


def _liquids(parts: Sequence[Part], whole: Whole | None) -> list[tuple[str, str]]:
    if whole is None:
        return [("Liquid", parts[0].circuit.fluid.name)]
    return [("Circuits", "; ".join(f"{part.name} ({part.circuit.fluid.name})" for part in parts))]


def _joints(parts: Sequence[Part]) -> str:
    counts = [part.audit.counts() for part in parts]
    said = [f"{sum(one[verdict] for one in counts)} {words}" for verdict, words in _COUNTED.items() if any(one[verdict] for one in counts)]
    return ", ".join(said) or "none"


def _lines(parts: Sequence[Part]) -> str:
    rows = [row for part in parts for row in part.cuts.hoses]
    made_up = sum(row.made_up for row in rows)
    what = "brake hose" if not any(row.instead for row in rows) else "hose"
    hoses, tubes = len(rows) - made_up, sum(len(part.cuts.tubes) for part in parts)
    cut = [f"{count} {word if count == 1 else word + 's'}" for count, word in ((hoses, "hose"), (tubes, "tube")) if count]
    return ", ".join(cut + ([f"{made_up} {what}{'' if made_up == 1 else 's'} to order made up"] if made_up else [])) or "none"


def _highest(parts: Sequence[Part], units: str) -> str:
    """Of all junctions in all cases, over the air around."""
    found = [(case.at(place).gauge.si, part.name, case.layout.junction_title(place), name) for part in parts for name, case in part.answer.items()
             if case.converged for place in case.junction_names if place not in ("ambient", "manifold")]
    if not found:
        return "not known, as no case is solved"
    most, *where = max(found)
    return f"{Quantity(most, 'pressure_gauge').show(units)}: {', '.join(where if len(parts) > 1 else where[1:])}"


def _weight(bill: Bill, units: str) -> str:
    total = bill.total
    if not total.dry.si and total.unweighed:
        return "not known"
    lacking = f" (weight of {total.unweighed} item{'' if total.unweighed == 1 else 's'} not known)" if total.unweighed else ""
    return least(total.dry.show(units), is_least(total, bill)) + lacking + _unsaid(bill)


def _unsaid(bill: Bill) -> str:
    return f", {len(bill.unsaid)} of {bill.total.joints} joints not said" if bill.unsaid else ""


def _cost(bill: Bill) -> list[tuple[str, str]]:
    total = bill.total
    if bill.prices is None:
        return [("Cost", "not known: no price file was given")]
    unpriced = f", {things(total.unpriced)} without a price" if total.unpriced else ""
    return [("Cost", f"{least(money(total.cost), is_least(total, bill, 'unpriced'))} {bill.prices.currency}".rstrip() + unpriced + _unsaid(bill))]


def proposals_section(proposals: Fitted, units: str) -> Markup:
    """What `fitted` put in, and what it could not tell, lengths in either system."""
    said = element("p", "Nobody said these ends and adapters: they are proposals, and the rest of this sheet counts on them. Check each before buying."
                   if proposals.unsaid else "Nothing had to be put in where nothing was said.")
    made = [table("Put in", ["where", "what"], [("", [[one.where, one.said(units)] for one in proposals.unsaid])], tick="right")] if proposals.unsaid else []
    left = [table("Left open", ["where", "why"], [("", [[one.where, one.said(units)] for one in proposals.open])])] if proposals.open else []
    return joined(said, *made, *left)


def clashing_section(proposals: Fitted, units: str) -> Markup:
    """Adapters between two ends that were both said: what is wrong with the joint as written stays in sight."""
    said = element("p", "Both ends of these joints were said, and they do not go together. The rest of this sheet counts on the adapter between them; "
                   "without it the finding stands.")
    rows = [[one.where, one.said(units), f"{one.clash.severity.upper()}: {one.clash.sentence(units)}", f"or {one.instead}"]
            for one in proposals.clashing if one.clash is not None]
    return joined(said, table("Put in between two that do not seal", ["where", "what", "as written", "instead"], [("", rows)], tick="right"))
