"""What to buy, with weight, liquid and cost."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..results import Table
from .markup import joined
from .tables import shown, table

if TYPE_CHECKING:
    from ..hardware.bill import Bill
    from .circuits import Whole
    from .markup import Markup

_SUMS = {False: "Liquid and weight", True: "Liquid, weight and cost"}  # by whether there is a price file


def bill_section(bill: Bill, units: str) -> Markup:
    """The tables of a `Bill` of one circuit."""
    things, sums = bill.tables(units).tables
    return joined(shown(things, "Things to buy", "item (for)", tick="got"), shown(sums, _SUMS[bill.prices is not None], "of"))


def totals_section(whole: Whole, units: str) -> Markup:
    """Totals of a vehicle: what passes through its exchangers, and what all circuits hold, weigh and cost."""
    tables = whole.bill.tables(units).tables
    between = [row for row in whole.bill.rows if not row.circuit]
    rows = [[row.item, str(row.count)] for row in between]
    things = [table("To buy, between circuits", ["item", "pieces"], [("", rows)], right=(1,), tick="got")] if rows else []
    exchanged = [shown(whole.answer.exchanger_table(units), "What passes through the exchangers", "what")] if whole.answer.exchangers else []
    sums = Table("", tables[-1].cases, [section for section in tables[-1].sections if section[0] == "Total"], notes=tables[-1].notes)
    return joined(*exchanged, *things, shown(sums, f"{_SUMS[whole.bill.prices is not None]} of each circuit and of all", "circuit"))
