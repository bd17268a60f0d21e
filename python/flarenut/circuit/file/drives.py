"""The drives of a circuit or vehicle file: which case lasts how long, one after the other, and what is shown of it.

A table is checked for its form and for the names of its cases. Readings are looked up when a drive is run; `FileDrive.problem` then
finds the line that is to blame.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ... import units
from ...units.errors import UnitError, quoted
from ..errors import located, meant
from .blame import Blame
from .call import arguments, problem_of
from .problems import Problem, Steps
from .sections import DRIVE

if TYPE_CHECKING:
    from ..circuit import Circuit
    from ..vehicle import Vehicle

_ROWS = 'write how long and which case, cases = [["3 min", "cold start"], ["10 min", "cruise"]]'
_OWN = 'name a case, or write conditions: ["3 min", {speed = "2000 rpm", vehicle_speed = "50 km/h"}]'


def drive(name: str, cases: list[list[Any]], every: str = "10 s", start: str | None = None,
          times: list[str] | None = None, outputs: list[str] | None = None, marks: list[str] | None = None) -> FileDrive:
    """Cases one after the other, while everything warms up and cools down. `flarenut drive` follows it.

    Parameters
    ----------
    name : what tables and files call it
    cases : rows of how long and which case, [["3 min", "cold start"], ["10 min", "cruise"]]; in place of a name may stand conditions as a case
        has them, {speed = "2000 rpm", vehicle_speed = "50 km/h"}
    every : how far apart the moments are that are kept
    start : how warm everything is at the beginning; what the first case says of a found tank, else its fluid_temperature, unless given
    times : moments that the table shows, ["0 s", "5 min"]; beginning and end of every case unless given
    outputs : names of readings, ["sump.temperature", "gallery.gauge", "oil cooler.heat"]; what matters in time unless given
    marks : temperatures at which the picture has a faint line, ["80 C", "110 C"]
    """
    return FileDrive(name, cases, every, start, times, outputs, marks or [])


@dataclass
class FileDrive:
    """A drive as a file has it."""

    name: str
    cases: list[list[str | dict[str, str]]]
    every: str
    start: str | None
    times: list[str] | None
    outputs: list[str] | None
    marks: list[str]

    @property
    def place(self) -> str:
        """What messages call it."""
        return f"drive '{self.name}'"

    def problem(self, refusal: ValueError, table: dict[str, Any], circuit: Circuit | Vehicle) -> Problem:
        """What following it refused, as a `Problem` that points as deep as can be told.

        refusal : `CircuitError` or `UnitError`
        table : the whole file as read
        circuit : the `Circuit` made from it
        """
        path, key = (DRIVE, self.name), str(getattr(refusal, "key", "") or getattr(refusal, "name", "") or "")
        place = str(getattr(refusal, "place", "") or "")
        row = re.search(r"\brow (\d+)\b", f"{place} {key}")
        tank = key.removesuffix(".heat_capacity")
        if key.endswith(".heat_capacity") and tank in table.get("tank", {}):
            told = located(refusal, "")
            return Problem(told.reason, told.cure, path=("tank", tank), place=self.place, on="key")
        if row and int(row[1]) <= len(self.cases):
            return _of_row(refusal, (*path, "cases", int(row[1]) - 1), f"{self.place}, row {row[1]}", key)
        if key in table[DRIVE][self.name]:
            return problem_of(refusal, path, self.place, table[DRIVE][self.name])
        if place in ("", "over time") or "vehicle" in table:
            problem = problem_of(refusal, path, self.place, {})
            problem.on = "key"
            return problem
        return Blame(table, circuit).problem(refusal)


def _of_row(refusal: ValueError, path: Steps, place: str, key: str) -> Problem:
    problem = problem_of(refusal, path, place, {})
    problem.path = (*path, 1, key) if key and not key.startswith("row ") else path
    return problem


def drives_of(tables: dict[str, Any], cases: Mapping[str, object],
              problems: list[Problem]) -> dict[str, FileDrive]:
    """Name -> `FileDrive` of every sound table under [drive.NAME].

    cases : names of the cases of the file
    """
    return {name: made for name, table in tables.items() if (made := _Table(name, table, cases, problems).read()) is not None}


class _Table:
    def __init__(self, name: str, table: dict[str, Any], cases: Mapping[str, object], problems: list[Problem]) -> None:
        self.name, self.table, self.cases, self.problems = name, table, cases, problems
        self.path, self.place = (DRIVE, name), f"drive '{name}'"

    def read(self) -> FileDrive | None:
        before = len(self.problems)
        given = arguments(drive, self.table, self.path, self.place, self.problems, without=("name",))
        if given is None:
            return None
        self.rows(given["cases"])
        for key, kind in (("every", "time"), ("start", "temperature")):
            if key in self.table:
                self.amount(self.table[key], kind, (key,))
        self.listed("times", "time", '["0 s", "5 min"]')
        self.listed("marks", "temperature", '["80 C", "110 C"]')
        self.listed("outputs", "", '["sump.temperature", "gallery.gauge"]')
        return drive(self.name, **given) if len(self.problems) == before else None

    def refuse(self, reason: str, hint: str, path: Steps) -> None:
        self.problems.append(Problem(reason, hint, path=(*self.path, *path), place=self.place))

    def rows(self, rows: object) -> None:
        if not isinstance(rows, list) or not rows:
            return self.refuse(f"'cases' is {quoted(rows)}", _ROWS, ("cases",))
        if not isinstance(rows[0], list) and len(rows) == 2:
            return self.refuse("'cases' is one row, not a list of rows", f"put it into brackets of its own: {_ROWS}", ("cases",))
        for number, row in enumerate(rows):
            path: Steps = ("cases", number)
            if not isinstance(row, list) or len(row) != 2:
                self.refuse(f"row {number + 1} is {quoted(row)}, not how long and which case", _ROWS, path)
                continue
            if row[0] in self.cases and row[1] not in self.cases:
                self.refuse(f"row {number + 1} names its case first", f"exchange them: {_ROWS}", path)
                continue
            self.amount(row[0], "time", (*path, 0))
            if isinstance(row[1], dict) and row[1]:
                continue  # its conditions are judged with the circuit
            if not isinstance(row[1], str):
                self.refuse(f"row {number + 1} has {quoted(row[1])} where its case stands", _OWN, (*path, 1))
            elif row[1] not in self.cases:
                self.refuse(f"there is no case {quoted(row[1])}", f"{meant(row[1], self.cases)}{'; or ' if self.cases else ''}{_OWN}", (*path, 1))

    def amount(self, value: object, kind: str, path: Steps) -> None:
        try:
            units.parse(value, kind, name=f"row {int(path[1]) + 1}" if len(path) > 1 and path[0] == "cases" else str(path[0]))
        except UnitError as error:
            self.refuse(error.reason if error.reason else str(error), error.hint, path)

    def listed(self, key: str, kind: str, example: str) -> None:
        value = self.table.get(key)
        if value is None:
            return
        if isinstance(value, str):
            value = [value]
        if not isinstance(value, list) or not value or not all(isinstance(one, str) for one in value):
            return self.refuse(f"'{key}' is {quoted(value)}", f"write a list in quotes, {key} = {example}", (key,))
        for number, one in enumerate(value if kind else ()):
            self.amount(one, kind, (key, number) if isinstance(self.table[key], list) else (key,))
