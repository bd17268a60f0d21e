"""A bill for people and programs: tables of things to buy and of totals; CSV."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..catalog.supports import clamp_range_said
from ..results import Table
from ..results.vehicle_answer import Tables
from ..results.csv_file import csv_file
from ..units import preferred_unit
from .bill_lines import CUT, ESTIMATED, GROUPS, MADE_UP, OTHER_MADE_UP, WANTED
from .cut_list_view import ESTIMATE, Line

if TYPE_CHECKING:
    from ..units.quantity import Quantity
    from .bill import Bill, BillLine, Totals

_NONE, NOT_KNOWN, NO_PRICE = "–", "not known", "no price"
_UNIT = {"each": "each", "ft": "per ft", "m": "per m"}
_MOST_NAMED = 8  # things listed in a note


def tables_of(bill: Bill, system: str) -> Tables:
    """The `Tables` of a `Bill`."""
    return Tables([_things(bill, system), _sums(bill, system)])


def money(number: float | None) -> str:
    """A sum of money, to the hundredth.

    >>> money(1234.5)
    '1,234.50'
    """
    return "not known" if number is None else f"{number:,.2f}"


def _currency(bill: Bill) -> str:
    return bill.prices.currency if bill.prices is not None else ""


def _headed(word: str, bill: Bill) -> str:
    """"cost [EUR]"; the word alone where the price file says no currency."""
    return f"{word} [{_currency(bill)}]" if _currency(bill) else word


# ---- things ----

def _things(bill: Bill, system: str) -> Table:
    title = " · ".join(word for word in (bill.name, "bill", "invented" if bill.invented else "") if word)
    columns = ["pieces", "length", "weight", *([_headed("price", bill), _headed("cost", bill)] if bill.prices is not None else [])]
    sections = []
    for circuit in dict.fromkeys(row.circuit for row in bill.rows):
        for group in GROUPS:
            rows = [Line(_label(row), _cells(row, bill, system)) for row in bill.rows if (row.circuit, row.group) == (circuit, group)]
            if rows:
                sections.append((_heading(bill, circuit, group), rows))
    return Table(title, columns, sections, notes=_notes(bill, system))


def _heading(bill: Bill, circuit: str, group: str) -> str:
    return f"{circuit or 'between circuits'}: {group.lower()}" if bill.several else group


def _label(row: BillLine) -> str:
    """The item, and what it is for where its name does not say it."""
    return row.item if row.group == "Devices" else f"{row.item} ({', '.join(row.where)})"


def _cells(row: BillLine, bill: Bill, system: str) -> list[str]:
    length = _NONE if row.length is None else row.length.show(system, unit=_long(system))
    weight = f"{'est. ' if ESTIMATED in row.how else ''}{row.weight.show(system)}" if row.weight is not None else "with its line" if row.with_line else NOT_KNOWN
    cells = [str(row.count), length, weight]
    if bill.prices is None:
        return cells
    if row.price is None:
        return [*cells, NO_PRICE, _NONE]
    price = f"{money(row.price.price)} {_UNIT[row.price.unit]}"
    return [*cells, price, money(row.cost) if row.cost is not None else "sold by the piece"]


def _long(system: str) -> str:
    return "ft" if system == "us" else "m"


def _notes(bill: Bill, system: str) -> list[str]:
    notes = []
    if any(CUT in row.how for row in bill.rows):
        notes.append("Hose and tube by the length that they are cut to (see the cut list), without waste.")
    if any(row.group == MADE_UP for row in bill.rows):
        notes.append(f"{MADE_UP}: each with its ends, made and tested by who is allowed to, in the length to order; no hose, no ends and no tool for them.")
    if any(row.group == OTHER_MADE_UP for row in bill.rows):
        notes.append(f"{OTHER_MADE_UP}: in brakes and clutches hose is bought with its ends; brakes want hose made to FMVSS 106 or SAE J1401, which these are not or do not say.")
    unweighed = [row.item for row in bill.unweighed]
    if unweighed:
        notes.append(f"Weight not known: {_some(unweighed)}. Say 'mass' of the part, 'material' of a tube, or 'weight' in the price file.")
    if any(ESTIMATED in row.how for row in bill.rows):
        notes.append("Est.: weight of tube from its size and the density of its material (handbook values, from memory: verify before use).")
    notes += _about_clamps(bill)
    if bill.prices is not None and bill.unpriced:
        notes.append(f"No price in {bill.prices.name}: {_some([_missing(bill, row) for row in bill.unpriced])}.")
    notes += dict.fromkeys(_rivals(row) for row in bill.rows if row.rivals)
    notes += dict.fromkeys(f"Support clamps {source}." for row in bill.rows if row.group == "Clamps" for source in row.how if "spacing" in source)
    if any(row.group == WANTED for row in bill.rows):
        notes.append(f"{WANTED}: where two ends meet that do not seal as they are, and an adapter would join them, and where a line passes a wall; none of these is in the circuit.")
    notes += [f"Still open: {one.where}: {one.said(system)}." for one in bill.open]
    return [*notes, "Not in it: tanks, drilled passages and the engine's own parts."]


def _about_clamps(bill: Bill) -> Iterator[str]:
    """What clamps, grommets and their ranges go by."""
    around = [row for row in bill.rows if row.item.startswith(("hose clamp", "support clamp", "grommet")) and " outside" in row.item]
    unknown = dict.fromkeys(name for row in around if "outside not known" in row.item for name in row.where)
    if unknown:
        yield (f"Clamps and grommets of hose go by its outside diameter, which nobody says of {_some(unknown)}: measure it, on its barb where it is clamped, "
               "and say it as 'outside'.")
    if any("range" in row.item for row in around):
        yield f"Range of a hose clamp: that in the middle of which the outside of the hose stands ({clamp_range_said()}); on a barb hose is a little wider."


def _missing(bill: Bill, row: BillLine) -> str:
    if row.price is not None:
        return f"{row.item} (priced {_UNIT[row.price.unit]}, counted by the piece)"
    close = bill.prices.nearest(row.item) if bill.prices is not None else None
    return f"{row.item} (nearest is '{close}')" if close else row.item


def _rivals(row: BillLine) -> str:
    """Rows of the price file that mean a thing as well as the one that was taken."""
    assert row.price is not None, "it has rivals"
    told = ", ".join(f"'{one.item}' (line {one.line}, {money(one.price)} {_UNIT[one.unit]})" for one in row.rivals)
    return (f"{row.item}: priced by '{row.price.item}' (line {row.price.line}, {money(row.price.price)} {_UNIT[row.price.unit]}), as that spells out most of its name; "
            f"{told} {'mean' if row.rivals[1:] else 'means'} it too: write a row of its own for it.")


def _some(names: Sequence[str] | Mapping[str, None]) -> str:
    """Some names, and how many more there are."""
    names = list(dict.fromkeys(names))
    more = len(names) - _MOST_NAMED
    return "; ".join(names if more <= 0 else [*names[:_MOST_NAMED], f"and {more} more"])


# ---- sums ----

def _sums(bill: Bill, system: str) -> Table:
    columns = ["liquid", "its weight", "parts dry", "with liquid", *([_headed("cost", bill)] if bill.prices is not None else [])]
    totals = [*bill.circuits.values(), bill.total] if bill.several else [bill.total]
    sections = [("Total", [Line(one.name, _sum_cells(one, bill, system)) for one in totals])]
    short = [_NONE] * (len(columns) - 1)
    sections.append(("Liquid by run", [Line(f"{circuit}: {run}" if bill.several else run, [volume.show(system), *short])
                                       for (circuit, run), volume in bill.volumes.items() if volume.si > 0]))
    liquid = "Liquid: in lines, passages and fittings, filled; what is inside of devices, tees and tanks is not in it. Its weight is that at 15 C."
    return Table("Liquid, weight" + (" and cost" if bill.prices is not None else ""), columns, sections, notes=[*_missing_of(bill), liquid, ESTIMATE])


def _sum_cells(one: Totals, bill: Bill, system: str) -> list[str]:
    cells = [one.volume.show(system), one.liquid.show(system), least(one.dry.show(system), is_least(one, bill)) if one.dry.si else NOT_KNOWN,
             least(one.wet.show(system), is_least(one, bill))]
    return cells if bill.prices is None else [*cells, least(money(one.cost), is_least(one, bill, "unpriced"))]


def is_least(total: Totals, bill: Bill, lacking: str = "unweighed") -> bool:
    """Whether a sum of a bill is "at least": something in it is not known, is left open, or hangs on a joint that is not said."""
    return bool(getattr(total, lacking) or total.unsaid or bill.open)


def least(text: str, missing: bool) -> str:
    """A sum in words."""
    return f"at least {text}" if missing else text


def _missing_of(bill: Bill) -> list[str]:
    """What the sums leave out."""
    without = [f"the weight of {len(bill.unweighed)}"] if bill.unweighed else []
    without += [f"the price of {len(bill.unpriced)}"] if bill.prices is not None and bill.unpriced else []
    told = []
    if without:
        told.append(f"At least: {' and '.join(without)} of {things(len(bill.rows))} {'is' if len(without) == 1 else 'are'} not known and not in the sum.")
    if bill.open:
        places = "place still open needs" if len(bill.open) == 1 else f"{len(bill.open)} places still open need"
        told.append(f"At least: what the {places} is not in the bill and not in the sum.")
    return [*told, *([f"At least: {_unsaid_joints(bill)}. Say 'ends' of the parts and 'meets' of the runs."] if bill.unsaid else [])]


def _unsaid_joints(bill: Bill) -> str:
    """How many joints are not said, and which."""
    places = [f"{circuit}: {place}" if circuit else place for circuit, place in bill.unsaid]
    one = len(places) == 1
    return (f"{len(places)} of {bill.total.joints} joints {'does' if one else 'do'} not say both sides; what {'it needs' if one else 'they need'}, adapters and seals, "
            f"is not in the bill and not in the sum: {_some(places)}")


def things(count: int) -> str:
    """"1 thing", "3 things".

    >>> things(1), things(3)
    ('1 thing', '3 things')
    """
    return f"{count} thing{'' if count == 1 else 's'}"


# ---- data ----

def write_csv(bill: Bill, path: Path, system: str) -> None:
    """See `Bill.to_csv`."""
    unit, weight = _long(system), preferred_unit("mass", system, 1.0)
    with csv_file(path) as writer:
        writer.writerow(["circuit", "group", "item", "what for", "pieces", f"length [{unit}]", f"weight [{weight}]", _headed("price", bill), "priced by",
                         _headed("cost", bill), "how"])
        for row in bill.rows:
            writer.writerow([row.circuit, row.group, row.item, "; ".join(row.where), row.count, _number(row.length, unit), _number(row.weight, weight),
                             "" if row.price is None else f"{row.price.price:.9g}", "" if row.price is None else row.price.unit,
                             "" if row.cost is None else f"{row.cost:.9g}", "; ".join(row.how)])
        own = "" if bill.several else bill.name
        writer.writerows([own, "Still open", one.said(system), one.where, *[""] * 6, "not counted"] for one in bill.open)
        writer.writerows([circuit or own, "Joint not said", "what it needs is not known", place, *[""] * 6, "not counted"] for circuit, place in bill.unsaid)
        writer.writerow([own, "Total", _total_in_words(bill, system), bill.name, *[""] * 6, " ".join(_missing_of(bill))])


def _total_in_words(bill: Bill, system: str) -> str:
    """The sums of all in words, so that nobody adds them to the rows."""
    total = bill.total
    weight = f"parts dry {least(total.dry.show(system), is_least(total, bill)) if total.dry.si else NOT_KNOWN}"
    cost = [] if bill.prices is None else [f"cost {least(money(total.cost), is_least(total, bill, 'unpriced'))} {_currency(bill)}".strip()]
    return ", ".join([weight, *cost])


def _number(quantity: Quantity | None, unit: str) -> str:
    return "" if quantity is None else f"{quantity.to(unit):.9g}"

