"""`bill`: what to buy for a circuit or a vehicle: how much of each, what it weighs and costs, and what nobody knows of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING
from pathlib import Path

from ..circuit.vehicle import Vehicle
from ..units import Quantity, settled
from .audit import audit
from .bill_lines import BOUGHT_MADE_UP, GROUPS, WANTED, Need, liquid_of, needs_of
from .cut_list import circuits_of, cut_list, exchanged
from .fitted import Fitted
from .prices import UNITS, PriceRow, prices_of
from .shown import Shown

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..results.vehicle_answer import Tables
    from .cut_list import CutList
    from .prices import Prices
    from .proposal import Proposal


@dataclass(frozen=True)
class BillLine:
    """One thing to buy. `weight`, `price` and `cost` are None where nobody knows."""

    circuit: str  # "" for what stands between circuits
    group: str  # "Hose", "Hose ends", "Brake hose, bought made up", "Tube", "Tube ends", "Fittings", "Adapters still wanted", "Clamps", "Seals" or "Devices"
    item: str
    where: tuple[str, ...]  # the lines and parts that it is for
    count: int
    length: Quantity | None  # of all together; None for what is bought by the piece
    weight: Quantity | None  # of all together, dry
    price: PriceRow | None
    cost: float | None  # in the currency of the price file
    how: tuple[str, ...] = ()  # where the numbers come from
    with_line: bool = False  # its weight is in that of the line whose end it is
    rivals: tuple[PriceRow, ...] = ()  # `PriceRow`s with another price that mean it as well


@dataclass(frozen=True)
class Totals:
    """Of a circuit or a vehicle."""

    name: str
    volume: Quantity  # of liquid in lines, passages and fittings
    dry: Quantity  # of everything whose weight is known
    unweighed: int  # lines whose weight is not known
    liquid: Quantity  # weight of that volume at 15 C
    cost: float | None  # of everything that has a price; None without a price file
    unpriced: int  # lines without a price
    unsaid: int = 0  # joints a side of which is not said: what they need is in no sum
    joints: int = 0  # of all

    @property
    def wet(self) -> Quantity:
        """Known weights with the liquid."""
        return Quantity(self.dry.si + self.liquid.si, "mass")


class Bill(Shown):
    """What to buy. Prints as text, shows as HTML.

    Attributes
    ----------
    name : of the circuit or vehicle
    rows : `BillLine`s, by circuit and group
    circuits : circuit -> its `Totals`
    total : `Totals` of all
    volumes : (circuit, run) -> what is in its lines, passages and fittings
    prices : the `Prices`, or None
    open : `Proposal`s: what `fitted` left open. What such a joint needs is not in the rows, and not in the totals
    unsaid : (circuit, joint in words) of joints a side of which is not said. What they need is in no row and no total, which are "at least"
    """

    def __init__(self, name: str, rows: Sequence[BillLine], circuits: Mapping[str, Totals], total: Totals,
                 volumes: Mapping[tuple[str, str], Quantity], cuts: CutList, prices: Prices | None, *, invented: bool = False,
                 several: bool = False, units: str = "us", still_open: Sequence[Proposal] = (),
                 unsaid: Sequence[tuple[str, str]] = ()) -> None:
        self.name, self.rows, self.circuits, self.total, self.volumes, self.cuts = name, tuple(rows), circuits, total, volumes, cuts
        self.prices, self.invented, self.several, self.units = prices, invented, several, units
        self.open, self.unsaid = tuple(still_open), tuple(unsaid)

    @property
    def unpriced(self) -> tuple[BillLine, ...]:
        """Lines that have no price."""
        return tuple(row for row in self.rows if row.cost is None)

    @property
    def unweighed(self) -> tuple[BillLine, ...]:
        """Lines whose weight is not known."""
        return tuple(row for row in self.rows if row.weight is None and not row.with_line)

    def count(self, item: str) -> int:
        """How many there are of an item, "hose end *" of all such."""
        return sum(row.count for row in self.rows if PriceRow(item).means(row.item))

    def _tables(self, system: str) -> Tables:
        from .bill_view import tables_of

        return tables_of(self, system)

    def _write(self, path: Path, system: str) -> None:
        from .bill_view import write_csv

        write_csv(self, path, system)


def bill(circuit: Circuit | Vehicle | Fitted, prices: str | Prices | Path | None = None, *, slack: object = None,
         units: str | None = None) -> Bill:
    """What to buy for a circuit or a vehicle, counted from its parts: hose and tube by the length they are cut to, ends by form and angle,
    fittings, adapters that its joints still want, clamps, seals, devices by name; with weight, liquid and, from a price file, cost.

    What nobody knows is said, never guessed: hose without a weight in the price file, items without a price. Tanks, drilled passages and
    the engine's own parts are not in it; of the liquid what is inside of devices, tees and tanks is not.

    Parameters
    ----------
    circuit : `Circuit` or `Vehicle`; it is not solved. Or what `fitted` makes, whose open joints are then told
    prices : name of a price file that you keep, or `Prices`; docs/guide/cutting_and_cost.md shows one
    slack : as in `cut_list`
    units : "us" or "metric", for what is shown; those of the circuit unless given

    Returns
    -------
    Bill : `text(units)`, `html(units)`, `to_csv(path)`, `rows`, `total`, `circuits`

    Raises
    ------
    CircuitError, UnitError, FileError : as `cut_list`

    >>> import flarenut as fn
    >>> car = fn.Circuit("invented", fluid="gasoline class A")
    >>> car.run("feed", "cell", "rail", [fn.hose("-8", "100 in", spec="ptfe", ends=["-8 37 flare female"] * 2, name="feed hose")])
    >>> found = bill(car)
    >>> [(row.item, row.count) for row in found.rows]
    [('hose -8 ptfe', 1), ('hose end -8 37 flare female for ptfe', 2), ('support clamp for -8 ptfe, outside not known', 4)]
    """
    left, circuit = (circuit.open, circuit.circuit) if isinstance(circuit, Fitted) else ((), circuit)
    own, sides, units = prices_of(prices), exchanged(circuit), settled(units, circuit)
    cuts = cut_list(circuit, own, slack=slack, units=units)
    rows: list[BillLine] = []
    volumes: dict[tuple[str, str], Quantity] = {}
    circuits: dict[str, Totals] = {}
    checked, told = audit(circuit).joints, {one.where for one in left}
    places = [(one.circuit, one.joint.place) for one in checked]
    unsaid = [(one.circuit, one.joint.place) for one in checked if one.verdict == "not said" and one.joint.place not in told]
    for name, one in circuits_of(circuit).items():
        lines = {cut.name: cut for cut in cuts if cut.circuit == name}
        mine = _rows(name, needs_of(one, lines, [part for owner, part in sides if owner == name]), own)
        runs = liquid_of(one)
        volumes |= {(name, run): Quantity(volume, "volume") for run, volume in runs.items()}
        circuits[name] = _totals(name, mine, sum(runs.values()), sum(runs.values()) * one.liquid_density(), own,
                                 _of(unsaid, name, circuit), _of(places, name, circuit))
        rows += mine
    if isinstance(circuit, Vehicle):
        rows += _rows("", [Need("Devices", f"exchanger: {name}", name) for name in circuit.exchangers], own)
    total = _totals(circuit.name, rows, sum(one.volume.si for one in circuits.values()), sum(one.liquid.si for one in circuits.values()), own,
                    len(unsaid), len(checked))
    return Bill(circuit.name, rows, circuits, total, volumes, cuts, own, invented=circuit.invented, several=isinstance(circuit, Vehicle), units=units,
                still_open=_uncounted(left, rows), unsaid=unsaid)


def _of(places: Sequence[tuple[str, str]], name: str, plumbing: Circuit | Vehicle) -> int:
    """How many joints are of one circuit."""
    return sum(circuit == name for circuit, _ in places) if isinstance(plumbing, Vehicle) else len(places)


def _uncounted(left: Sequence[Proposal], rows: Sequence[BillLine]) -> list[Proposal]:
    """What was left open, without the joints whose adapter is counted under those still wanted."""
    counted = {place for row in rows if row.group == WANTED for place in row.where}
    return [one for one in left if one.where not in counted]


def _rows(circuit: str, needs: Sequence[Need], prices: Prices | None) -> list[BillLine]:
    """`BillLine`s: equal things together, those whose weight is told apart from those whose is not."""
    alike: dict[tuple[str, str, bool, bool, str], list[Need]] = {}
    for need in needs:
        alike.setdefault((need.group, need.item, need.weight is None, need.with_line, need.where if need.group in BOUGHT_MADE_UP else ""), []).append(need)
    rows = [_row(circuit, same, prices) for same in alike.values()]
    return sorted(rows, key=lambda row: GROUPS.index(row.group))


def _row(circuit: str, needs: Sequence[Need], prices: Prices | None) -> BillLine:
    first, count = needs[0], sum(need.count for need in needs)
    length = None if first.length is None else sum(need.length or 0.0 for need in needs)
    names = (first.item, first.where) if first.group in ("Devices", *BOUGHT_MADE_UP) else (first.item,)
    price = prices.price(*names, by_piece=first.by_piece) if prices is not None else None
    weighed = prices.weight(*names, by_piece=first.by_piece) if prices is not None and first.weight is None and not first.with_line else None
    bought = None if first.by_piece else length
    weight = _times(weighed, "weight", count, bought) if weighed is not None else sum(need.weight or 0.0 for need in needs) if first.weight is not None else None
    cost = _times(price, "price", count, bought)
    rivals = prices.rivals(*names, by_piece=first.by_piece) if prices is not None and cost is not None else []
    how = [need.how for need in needs] + [need.weight_source for need in needs] + ([f"weight: {prices.name}"] if prices is not None and weighed is not None else []) + \
        ([f"price: {prices.name}, line {price.line}"] if prices is not None and price is not None and cost is not None else [])
    where = tuple(dict.fromkeys(need.where for need in needs))
    return BillLine(circuit, first.group, first.item, where, count, None if length is None else Quantity(length, "length"),
                    None if weight is None else Quantity(weight, "mass"), price, cost, tuple(dict.fromkeys(one for one in how if one)), first.with_line, tuple(rivals))


def _times(row: PriceRow | None, what: str, count: int, length: float | None) -> float | None:
    """What a row of a price file comes to for so many or so much; None without one, or where it is by length and the thing is by the piece."""
    if row is None:
        return None
    unit = UNITS[row.unit]
    if unit is None:
        found: float | None = getattr(row, what) * count
        return found
    return None if length is None else getattr(row, what) * length / unit


def _totals(name: str, rows: Sequence[BillLine], volume: float, liquid: float, prices: Prices | None, unsaid: int, joints: int) -> Totals:
    dry = sum(row.weight.si for row in rows if row.weight is not None)
    costs = [row.cost for row in rows if row.cost is not None]
    return Totals(name, Quantity(volume, "volume"), Quantity(float(dry), "mass"), sum(row.weight is None and not row.with_line for row in rows),
                  Quantity(float(liquid), "mass"), None if prices is None else float(sum(costs)), len(rows) - len(costs), unsaid, joints)
