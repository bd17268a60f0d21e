"""A drive for people: what happened when, a table of moments, what to look at."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from textwrap import shorten
from typing import TYPE_CHECKING, NamedTuple

from ..results.finding import stopped
from ..results.rows import Ask, default_sections, rows_of
from ..results.table import Table, units_of
from .over_time_words import clock, label

if TYPE_CHECKING:
    from .over_time_answer import OverTime
    from .over_time_vehicle import VehicleOverTime

_DRIVE, _ENDS = "Drive: ", "It ends early"
_UNSOLVED = "not solved"  # code of the finding that a drive ends early, which every circuit of a vehicle has
_HEADINGS = ("Conditions", "Temperatures", "Heat", "Pressures", "Pumps", "Devices")
_NOTES = ["Steps of time by the engine, pressures and flows settled at every moment. What has no heat_capacity follows at once.",
          "An engineering estimate: verify by measurement, and follow the codes that apply."]


def table_of(over: OverTime, times: Sequence[str] | None, units: str, rows: Sequence[str] | None) -> Table:
    """See `OverTime.table`."""
    numbers = (
        _ends(over) if times is None else list(dict.fromkeys(over.nearest(one) for one in ([times] if isinstance(times, str) else times)))
    )
    if not over.moments:
        return Table(_title(over), [], [], notes=events_of(over, units))
    answer = over.chosen(numbers).with_findings([])
    table = answer.table(units, rows)
    table.title = _title(over)
    if rows is None:
        asked = dict(default_sections(answer, units))
        table.sections = [*rows_of([(heading, asked[heading]) for heading in _HEADINGS if heading in asked], list(answer.values()), units)]
        table.certificate = []
        table.notes = [*beside_findings(over, over.events(units)), *table.notes, *_NOTES]
        table.findings = told_beside(over, table, units)
    return table


def told_beside(over: OverTime, table: Table, units: str) -> list[tuple[str, str]]:
    """(severity, text) of the findings below a table of a drive, in their order and in the units of its rows; of kinds that it has no
    row of, in those of the whole table."""
    whole = over.chosen(_ends(over)) if over.moments else {}
    sections = rows_of(default_sections(whole, units), list(whole.values()), units) if whole else []
    shared = units_of(sections) | units_of(table.sections)
    return [(one.severity, one.text(units, shared=shared)) for one in over.findings]


def tables_of_vehicle(over: VehicleOverTime, times: Sequence[str] | None, units: str, rows: Sequence[str] | None) -> list[Table]:
    """A table for each circuit, and one of the exchangers; see `VehicleOverTime.table`."""
    asked = {} if rows is None else over.owners(rows)
    made, told = {}, set[str]()  # what each circuit says of the end of the drive
    for name, one in over.items():
        table = one.table(times, units, asked.get(name)) if rows is None or name in asked else Table(_title(one), [], [])
        found = list(zip(one.findings, told_beside(one, table, units), strict=True))
        # That the drive ends early is said once; all else stands below each circuit, of two alike in the same words.
        table.findings = [said for finding, said in found if finding.code != _UNSOLVED or said[1] not in told]
        told |= {text for finding, (_, text) in found if finding.code == _UNSOLVED}
        table.notes = [note for note in table.notes if not note.startswith((_DRIVE, _ENDS))]
        if [another.circuit for another in over.values()].count(one.circuit) > 1:  # two alike
            table.title = f"{name} · {table.title}"
        made[name] = table
    tables = [*made.values(), *_of_exchangers(over, times, units, rows, asked)]
    events = over.events(units)
    shown = events if rows is not None else [*events[:1], *(event for event in events[1:] if event.startswith(_ENDS))]
    tables[0].notes = beside_findings(over, shown) + tables[0].notes
    return tables


class _Moment(NamedTuple):
    """A moment as `rows_of` asks for cases."""

    number: int
    converged: bool = True


def _of_exchangers(over: VehicleOverTime, times: Sequence[str] | None, units: str, rows: Sequence[str] | None,
                   asked: Mapping[str, list[str]]) -> list[Table]:
    first = next(iter(over.values()))
    wanted = {name: asked.get(name, []) if rows is not None else ["heat"] for name in over.exchangers}
    if not first.moments or not any(wanted.values()):
        return []
    numbers = (
        _ends(first) if times is None else list(dict.fromkeys(first.nearest(one) for one in ([times] if isinstance(times, str) else times)))
    )
    moments = [_Moment(number) for number in numbers]
    series = {f"{name}.{word}": over.series(f"{name}.{word}").values for name, words in wanted.items() for word in words}
    asks = [Ask(key, key.replace(".", " ").replace("_", " "), lambda moment, key=key: series[key][moment.number]) for key in series]
    return [Table(" · ".join(filter(None, [over.vehicle, "exchangers", "over time", "invented vehicle" if over.invented else ""])),
                  [label(first, number) for number in numbers], rows_of([("", asks)], moments, units),
                  notes=["Heat is counted from the first stream into the second; below zero it goes the other way."])]


def beside_findings(over: OverTime | VehicleOverTime, events: Sequence[str]) -> list[str]:
    """Events to stand beside findings, of which one says why the drive ends early: its reason is not told twice."""
    reached = clock(over.times[-1]) if len(over.times) else ""
    instead = f"{_ENDS}, past {reached}: why stands under what to look at."
    return [instead if event.startswith(_ENDS) and reached else event for event in events]


def _title(over: OverTime) -> str:
    return " · ".join(filter(None, [over.circuit, over.layout.fluid, "over time", "invented circuit" if over.invented else ""]))


def _ends(over: OverTime) -> list[int]:
    """Places of beginning and end of every leg."""
    return [
        k
        for k in range(len(over))
        if k in (0, len(over) - 1) or over.legs_at[k - 1] is not over.legs_at[k] or over.legs_at[k + 1] is not over.legs_at[k]
    ]


def events_of(over: OverTime, units: str) -> list[str]:
    """See `OverTime.events`."""
    drive = ", ".join(f"{leg.words(units)} to {clock(leg.ends)}" for leg in over.legs)
    told = [f"{_DRIVE}{shorten(drive, 300, placeholder=' ...')}. Everything begins at {over.start.show(units)}."]
    for name in over.thermostats:
        opens = over.opens(name)
        told.append(f"{name} stays shut." if opens is None else f"{name} is open from the beginning." if opens.si == 0.0 else
                    f"{name} begins to open at {clock(opens.si)}.")
    if over.why_not:
        told.append(stopped(f"{_ENDS}: {over.why_not_in(units)}"))
    return told
