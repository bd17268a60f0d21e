"""`line_sizes`: every standard size of a line in its circuit, and what each does to the cases that are worst for it."""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING
from pathlib import Path

from ..checks import Limits
from ..checks.roles import roles_of
from ..circuit import CircuitError
from ..circuit.errors import located
from ..units import Quantity, settled
from .blueprint import copied, put
from .line_cells import Judge
from .line_choices import choices_of, fitted, fittings_of, line_named, listed_below, without_loss
from .line_columns import COLUMNS
from .line_pressure import fed_places
from .line_verdicts import choked, elsewhere, excused, past_any_size, past_mending, severe, shared

if TYPE_CHECKING:
    from xarray import Dataset
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece
    from ..results.answer import Answer
    from ..results.finding import Finding
    from ..results.layout import Layout
    from .line_cells import Cell
    from .line_choices import Choice
    from .line_columns import Column

SYSTEMS = ("us", "metric")


@dataclass
class LineSize:
    """One row: a size, and what it comes to."""

    spec: str
    size: str
    bore: Quantity
    written: bool  # the line as the circuit has it
    cells: dict[str, Cell] = field(default_factory=dict)  # key of a column -> `Cell`
    refusal: str = ""  # why there is no answer
    lost: tuple[str, ...] = ()  # cases without one; empty where the size as such is refused
    cause: str = ""  # why these have none
    answer: Answer | None = None  # `Answer` of the circuit with this size
    severe: dict[tuple[str, str, str], Finding] = field(default_factory=dict)  # key -> what says STOP or FIX of this answer
    findings: list[Finding] = field(default_factory=list)  # those of them that another size would cure

    @property
    def fails(self) -> list[str]:
        """Keys of the columns whose limit is passed."""
        return [key for key, cell in self.cells.items() if not cell.passes]

    @property
    def passes(self) -> bool:
        """True where every limit of a column is kept in every case, and nothing says STOP or FIX that another size would cure.

        A size may do so by choking the flow: `LineSizes.smallest` leaves such out, and `LineSizes.chokes` says which.
        """
        return not self.refusal and not self.fails and not self.findings

    @property
    def tightest(self) -> str | None:
        """Key of the column with the least margin, as a share of what its limit allows; None where nothing is limited."""
        limited = {key: cell.tightness for key, cell in self.cells.items() if cell.limit is not None}
        return min(limited, key=lambda key: limited[key]) if limited else None


class LineSizes:
    """The table of `line_sizes`. Prints as text, shows as HTML.

    Attributes
    ----------
    line, circuit, fluid : names
    role : what the line does, "suction", "feed", "return" or ""
    places : where the pressure of the first column is read
    columns : the `Column`s that have a meaning here
    rows : `LineSize`s, by bore within each specification
    beyond : keys of columns whose limit no size keeps, and no line would
    elsewhere : keys of columns whose limit the widest and a line that loses nothing pass, while a narrow one keeps it by choking the flow
    ends_below : that the sizes which are listed are all narrower than the line as it is; ""
    shared : findings, STOP or FIX, that the widest size has, and a line that loses nothing would have too
    notes : lines to read below
    """

    def __init__(self, line: str, role: str, layout: Layout, places: tuple[str, ...], columns: Sequence[Column], rows: Sequence[LineSize],
                 wide: LineSize, notes: Sequence[str], units: str, ends_below: str = "") -> None:
        self.line, self.role, self.circuit, self.fluid, self.invented = line, role, layout.circuit, layout.fluid, layout.invented
        self.places, self.columns, self.rows, self.units, self._notes = places, columns, rows, units, notes
        self.ends_below = ends_below
        self.beyond, self.elsewhere, self._excused = past_any_size(rows, wide), elsewhere(rows, wide), excused(rows, wide)
        self._choked, self._past_mending, common = choked(rows, wide, line), past_mending(rows, wide), shared(rows, wide)
        for row in rows:
            row.findings = [one for key, one in row.severe.items() if key not in common]
        widest = max((row for row in rows if not row.refusal), key=lambda row: row.bore.si, default=None)
        self.shared = [one for key, one in widest.severe.items() if key in common] if widest else []

    @property
    def notes(self) -> list[str]:
        """Lines to read below the table."""
        return self.notes_in(self.units)

    def notes_in(self, units: str) -> list[str]:
        """The same with numbers in "us" or "metric"."""
        from .line_words import notes_of

        return [*notes_of(self, _system(units)), *self._notes, "An engineering estimate: verify by measurement, and follow the codes that apply."]

    @property
    def specs(self) -> list[str]:
        """Names of the specifications, in the order of the rows."""
        return list(dict.fromkeys(row.spec for row in self.rows))

    def summary(self, units: str | None = None) -> list[str]:
        """Lines to read first: the smallest that passes, what is left to its limits, what the next smaller fails."""
        from .line_summary import summary_of

        return summary_of(self, _system(units or self.units))

    def row(self, size: str, spec: object = None) -> LineSize:
        """The `LineSize` of a size; `spec` where several specifications have it. Raises `KeyError` with those that there are."""
        found = [row for row in self.rows if str(size) in (row.size, row.size.partition(" x ")[0]) and spec in (None, row.spec)]
        if len(found) != 1:
            raise KeyError(f"{size!r} is {'no row' if not found else 'several rows'} of the table: " +
                           ", ".join(f"{row.size} ({row.spec})" for row in self.rows))
        return found[0]

    def blamed(self, row: LineSize) -> list[str]:
        """Keys of the columns that a size fails by itself: what no size passes counts only where this one makes it much worse."""
        return [key for key in row.fails if (row.spec, row.size, key) not in self._excused]

    def chokes(self, row: LineSize) -> bool:
        """True for a size that takes 5 % of the flow and more, and by that betters what is the matter `elsewhere`, or leaves a regulator nothing
        to spill: no cure, and no size to choose."""
        return (row.spec, row.size) in self._choked

    def left_shut(self, row: LineSize) -> str:
        """"regulator, in full power": what a size that `chokes` leaves nothing to spill; "" for none."""
        return self._choked.get((row.spec, row.size), "")

    def hairs(self, row: LineSize) -> list[str]:
        """Keys of the columns whose limit a size keeps by a hair, of those in which a wider one leaves more."""
        return [key for key, cell in row.cells.items() if cell.by_a_hair and (row.spec, row.size, key) not in self._past_mending]

    def hairs_past_mending(self, row: LineSize) -> list[str]:
        """Keys of those in which none does, nor a line that lost nothing: it is not this line that leaves so little."""
        return [key for key, cell in row.cells.items() if cell.by_a_hair and (row.spec, row.size, key) in self._past_mending]

    def smallest(self, spec: str | None = None) -> LineSize | None:
        """The row of the least bore that passes, of one specification or of all; None where none does, or nothing is limited.

        What no widening cures (`beyond`, `elsewhere`, `shared`) is left out of it: it is not this line that has to be changed for it, and the
        table says so.
        """
        found = [row for row in self.rows if self.is_choice(row) and spec in (None, row.spec)]
        return min(found, key=lambda row: row.bore.si) if found else None

    def is_choice(self, row: LineSize) -> bool:
        """Whether a size passes, but for what no widening cures."""
        return row.tightest is not None and not row.findings and not self.blamed(row) and not self.chokes(row)

    def text(self, width: int | None = None, units: str | None = None) -> str:
        """Aligned text no wider than `width` characters; the screen's unless given. `units` is "us" or "metric"."""
        from .line_sizes_view import as_text

        return as_text(self, width, _system(units or self.units))

    def __str__(self) -> str:
        return self.text()

    __repr__ = __str__

    def html(self, units: str | None = None) -> str:
        """HTML for a notebook: inline style only, nothing fetched."""
        from .line_sizes_view import as_html

        return as_html(self, _system(units or self.units))

    def _repr_html_(self) -> str:
        from ..results.html import safely

        return safely(self.html, self)

    def to_csv(self, path: Path, units: str | None = None) -> None:
        """Writes one row per size: value, margin to the limit and case of every column, with units in the first line."""
        from .line_sizes_view import write_csv

        write_csv(self, path, _system(units or self.units))

    def to_dataset(self) -> Dataset:
        """The same as an xarray Dataset over `size`, in SI, for pictures and sums. Needs xarray."""
        from .line_sizes_view import as_dataset

        return as_dataset(self)


def line_sizes(circuit: Circuit, line: str, sizes: Sequence[str] | None = None, specs: Sequence[str] | None = None, *,
               fittings: str | Sequence[str] = (), at: str | None = None, limits: Limits | None = None, units: str | None = None) -> LineSizes:
    """Tries every standard size of a line in its circuit; says which pass, by how much, and which is the smallest that does.

    Only the line itself changes, and the fittings that you name: length, bends and losses stay, other fittings are those of the circuit.
    A size that keeps a limit by less than 5 % of it passes by a hair, for such numbers are no closer: the lines at the top say so, with
    what the next size up leaves where that is more. Of a fed pressure it is 5 % of how far it may fall from where it is held.

    Parameters
    ----------
    circuit : `Circuit`; it stays as it is. Every case of it is solved
    line : name of a hose or tube
    sizes : those to try, ["-6", "-8"], ["3/8 in", "1/2 in x 0.049 in"]; all of the specification unless given
    specs : name of a hose specification, "tube", "metric tube", or a list; that of the line as written unless given
    fittings : names of elbows, pickups and openings that take the dash size of the line, ["return elbow"]; none unless given
    at : place whose pressure is the first column, "gallery"; all where injectors are fed or liquid is drawn, else where a regulator senses,
        unless given
    limits : `checks.Limits` of your own
    units : "us" or "metric", for what is shown; those of the circuit unless given

    Returns
    -------
    LineSizes : `text()`, `html()`, `to_csv(path)`, `rows`, `smallest()`

    Raises
    ------
    CircuitError : no such line, fitting, place, specification or size; a line by its bore with no `specs`

    Examples
    --------
    ``print(fn.line_sizes(car, "return hose", specs=["ptfe", "tube"]))``; docs/guide/line_sizes.md shows more.
    """
    units = _system(settled(units, circuit))
    own = copied(circuit)
    written = line_named(own, line)
    before = own.solve()
    solved = [case for case in before.values() if case.converged]
    places = fed_places(own, solved, at)
    role = next((role for case in solved for role, parts in roles_of(case).items() if line in parts), "")
    judge = Judge(line, places, limits or Limits(), role)
    following = fittings_of(own, fittings)
    choices = choices_of(written, sizes, specs)
    rows = [_row(circuit, judge, choice, following) for choice in choices]
    columns = [column for column in COLUMNS if any(column.key in row.cells for row in rows)]
    wide = _row(circuit, judge, without_loss(written, max(choice.bore for choice in choices)), {})
    return LineSizes(line, role, before.layout, places, columns, rows, wide, _beside(own, line, following), units,
                     "" if sizes is not None else listed_below(choices))


def _system(units: str) -> str:
    if units not in SYSTEMS:
        raise CircuitError(f"'units' is {units!r}", "write 'us' or 'metric'", place="line_sizes", key="units", value=units)
    return units


def _row(circuit: Circuit, judge: Judge, choice: Choice, fittings: Mapping[str, str]) -> LineSize:
    row = LineSize(choice.spec, choice.size, Quantity(choice.bore, "length"), choice.written)
    own = copied(circuit)
    try:
        compiled = own.compiled()
        for name, piece in {judge.line: choice.piece, **fitted(own, fittings, choice)}.items():
            put(own, compiled, name, _named(piece, name))
        own.keep_compiled(None)
        row.answer = own.solve()
    except ValueError as error:
        row.refusal = str(located(error, ""))
        return row
    lost = [case for case in row.answer.values() if not case.converged]
    if lost:
        row.lost, row.cause = tuple(case.name for case in lost), lost[0].cause_in(None)
        row.refusal = f"not solved in {', '.join(row.lost)}: {row.cause}"
        return row
    found = {column.key: column.read(judge, row.answer) for column in COLUMNS}
    row.cells = {key: cell for key, cell in found.items() if cell is not None}
    row.severe = severe(row.answer, judge.limits)
    return row


def _named(piece: Piece, name: str) -> Piece:
    """A copy that keeps the name of the part in whose place it comes; pieces are shared between circuits."""
    piece = copy.copy(piece)
    piece.name = name
    return piece


def _beside(circuit: Circuit, line: str, following: Mapping[str, object]) -> list[str]:
    """A note on fittings next to the line that keep their size."""
    compiled = circuit.compiled()
    run = next(run for (run, _), name in compiled.piece_at.items() if name == line)
    sized = [name for (one, _), name in sorted(compiled.piece_at.items())
             if one == run and name not in (line, *following) and compiled.pieces[name].word in ("elbow", "reducer", "opening", "pickup")]
    changing = " and ".join([line, *following])
    return [f"Only {changing} {'change' if following else 'changes'}; {', '.join(sized)} beside it {'stay' if sized[1:] else 'stays'} as written."] \
        if sized else []
