"""The sweeps of a circuit file: what varies, in which cases, what is read off.

Here a table is checked for its form. Names of parts and readings are looked up when a sweep is run; `FileSweep.problem` then
finds the line that is to blame.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from ...units.errors import UnitError, nearest, quoted
from ...units.text import split_number
from ..errors import located
from .blame import Blame
from .call import arguments, problem_of, unknown_key
from .problems import Problem, Steps
from .sweep_values import Ends, Values
from .words import keys_of

if TYPE_CHECKING:
    from ..circuit import Circuit
    from ..errors import CircuitError
    from ..vehicle import Vehicle

SAMPLINGS = ("latin", "sobol", "plain")
_LIMITS = ("least", "most")


def sweep(name: str, vary: dict[str, Any] | None = None, together: Any = None, cases: str | list[str] | None = None,
          outputs: list[str] | None = None, limits: dict[str, dict[str, str]] | None = None, samples: int | None = None,
          seed: int | None = None, sampling: str = "latin") -> FileSweep:
    """Many solves of the circuit: words that vary, in the cases named, and what to read off each. `flarenut sweep` runs it.

    Parameters
    ----------
    name : what tables and files call it
    vary : name of what varies -> values: a list, {from = 11, to = 14, step = 0.5}, {between = ["11 V", "14 V"]}, or labels with values.
        A name is a word of a part ("return hose.size"), a condition (volts), a part to exchange, or fluid
    together : names that run along side by side -> lists of the same length; several such tables in [ ] brackets
    cases : name of a case, or a list; all of them unless given
    outputs : names of readings, ["rail.gauge", "return hose.drop", "pump.suction_margin"]; what `flarenut solve` shows unless given
    limits : reading -> {least = "40 psi", most = "60 psi"}, one of them or both; the table marks what lies outside
    samples : how many points are drawn for what is between, a whole number
    seed : whole number that makes the draw repeatable
    sampling : "latin" (hypercube), "sobol" or "plain"; default "latin"
    """
    return FileSweep(name, vary or {}, together or [], cases, outputs, limits or {}, samples, seed, sampling)


@dataclass
class FileSweep:
    """A sweep as a file has it. `steps` holds what varies in the order written: (names, values); of several names rows."""

    name: str
    vary: dict[str, Any]
    together: Any
    cases: str | list[str] | None
    outputs: list[str] | None
    limits: dict[str, dict[str, str]]
    samples: int | None
    seed: int | None
    sampling: str
    steps: list[tuple[tuple[str, ...], Any]] = field(default_factory=list)
    paths: dict[str, Steps] = field(default_factory=dict)  # name of what varies -> path of its values in the file

    @property
    def place(self) -> str:
        """What messages call it."""
        return f"sweep '{self.name}'"

    def problem(self, refusal: ValueError, table: dict[str, Any], circuit: Circuit | Vehicle) -> Problem:
        """What running refused, as a `Problem` that points as deep as can be told.

        refusal : `CircuitError`
        table : the whole file as read
        circuit : the `Circuit` or `Vehicle` made from it
        """
        path, key = ("sweep", self.name), str(getattr(refusal, "key", "") or "")
        if key in self.paths:
            return self._of_axis(located(refusal, ""), self.paths[key], table)
        value = getattr(refusal, "value", None)
        if key == "outputs" and value in self.limits and value not in (self.outputs or ()):
            told = located(refusal, "")
            return Problem(told.reason, told.cure, path=(*path, "limits", value), place=self.place, on="key")
        if key in table["sweep"][self.name]:
            return problem_of(refusal, path, self.place, table["sweep"][self.name])
        if str(getattr(refusal, "place", "") or "").partition(" ")[0] in ("sweep", "") or "vehicle" in table:
            problem = problem_of(refusal, path, self.place, {})
            problem.on = "key"
            return problem
        return Blame(table, circuit).problem(refusal)

    def _of_axis(self, refusal: CircuitError, path: Steps, table: dict[str, Any]) -> Problem:
        values: Any = table
        for step in path:
            values = values[step]
        value = getattr(refusal, "value", None)
        places = [place for place, one in (values.items() if isinstance(values, dict) else enumerate(values)) if value is not None and one == value]
        hint = refusal.cure
        if "is not a part to put in the place of" in refusal.reason:
            hint = f"write each as a part, {{part = \"hose\", ...}}, or vary a word of it: \"{path[-1]}.size\""
        return Problem(refusal.reason, hint, path=(*path, *places[:1]), place=self.place, on="key" if value is None else "value")


def sweeps_of(tables: dict[str, Any], piece: Callable[..., Any], problems: list[Problem]) -> dict[str, FileSweep]:
    """Name -> `FileSweep` of every sound table under [sweep.NAME].

    piece : function of (table, path, place) that makes a part, or None with what is wrong in `problems`
    """
    return {name: made for name, table in tables.items() if (made := _Table(name, table, piece, problems).read()) is not None}


def is_key(name: str, table: dict[str, Any]) -> bool:
    """Whether a table under [sweep] is one of a sweep's own keys, which stands there because the heading has no name."""
    keys = keys_of(sweep, without=("name",))
    return name in keys and not set(keys) & set(table)


def _crossed(ends: Mapping[str, Any]) -> bool:
    """Whether a least is above its most, as far as can be told before their kind is known: where both have one unit."""
    numbers = []
    for word in _LIMITS:
        value = ends.get(word)
        try:
            numbers.append(split_number(value, word) if isinstance(value, str) else (float(value if value is not None else "none"), ""))
        except (UnitError, TypeError, ValueError):
            return False
    (least, unit), (most, other) = numbers
    return unit == other and least > most


class _Table:
    def __init__(self, name: str, table: dict[str, Any], piece: Callable[..., Any], problems: list[Problem]) -> None:
        self.name, self.table, self.problems = name, table, problems
        self.path, self.place = ("sweep", name), f"sweep '{name}'"
        self.reader = Values(piece, self.place, problems)

    def read(self) -> FileSweep | None:
        before = len(self.problems)
        given = arguments(sweep, self.table, self.path, self.place, self.problems, without=("name",))
        self.made = sweep(self.name, **(given or {}))
        for key in ("cases", "outputs"):
            self.check_texts(key)
        self.check_counts()
        self.check_limits()
        for key in self.table:
            if key == "vary" and self.is_table("vary", '"return hose.size" = ["-6", "-8"]'):
                for name, values in self.made.vary.items():
                    self.axis(name, values, (*self.path, "vary", name))
            elif key == "together":
                self.groups()
        if len(self.problems) == before:
            self.check_whole()
        return self.made if len(self.problems) == before else None

    def refuse(self, reason: str, hint: str, path: Steps, on: str = "value") -> None:
        self.problems.append(Problem(reason, hint, path=(*self.path, *path), place=self.place, on=on))

    def is_table(self, key: str, example: str) -> bool:
        if isinstance(self.table[key], dict):
            return True
        self.refuse(f"'{key}' is {quoted(self.table[key])}, not names with values", f"write {key}.{example}", (key,))
        return False

    def check_texts(self, key: str) -> None:
        value = self.table.get(key)
        if isinstance(value, str) or value is None:
            return
        if not isinstance(value, list) or not value or not all(isinstance(one, str) for one in value):
            self.refuse(f"'{key}' is {quoted(value)}", f'write names in quotes, {key} = ["...", "..."]', (key,))

    def check_counts(self) -> None:
        for key, least, words in (("samples", 1, "above zero: samples = 1000"), ("seed", 0, "from zero: seed = 1")):
            value = self.table.get(key)
            if value is not None and (type(value) is not int or value < least):
                self.refuse(f"'{key}' is {quoted(value)}", f"write a whole number {words}", (key,))
        value = self.table.get("sampling", "latin")
        if value not in SAMPLINGS:
            close = nearest(value, SAMPLINGS) if isinstance(value, str) else None
            self.refuse(f"'sampling' is {quoted(value)}", (f"did you mean '{close}'? " if close else "") + f"there are {', '.join(SAMPLINGS)}",
                        ("sampling",))

    def check_limits(self) -> None:
        if "limits" not in self.table or not self.is_table("limits", '"rail.gauge" = {least = "40 psi"}'):
            return
        for name, ends in self.made.limits.items():
            if not isinstance(ends, dict) or not ends:
                self.refuse(f"{quoted(ends)} is no limit", 'write {least = "40 psi", most = "60 psi"}, one of them or both', ("limits", name))
                continue
            for word, value in ends.items():
                if word not in _LIMITS:
                    self.problems.append(unknown_key(word, _LIMITS, (*self.path, "limits", name), self.place))
                elif not isinstance(value, (str, int, float)) or isinstance(value, bool):
                    self.refuse(f"'{word}' is {quoted(value)}", 'write a value with its unit, "40 psi"', ("limits", name, word))
            if _crossed(ends):
                self.refuse(f"the least of '{name}', {quoted(ends['least'])}, is above its most, {quoted(ends['most'])}", "exchange them", ("limits", name))

    def check_whole(self) -> None:
        names = [name for names, _ in self.made.steps for name in names]
        drawn = any(isinstance(values, Ends) for _, values in self.made.steps)
        if not names:
            self.refuse("nothing varies", 'add e.g. vary."return hose.size" = ["-6", "-8"]', (), "key")
        elif drawn and self.made.samples is None:
            self.refuse("values are drawn between two ends, but not how many", "add samples = 1000, and seed = 1 to draw the same ones again",
                        next(self.made.paths[names[0]] for names, values in self.made.steps if isinstance(values, Ends))[2:])
        elif not drawn and self.made.samples is not None:
            self.refuse("'samples' is given, but nothing is drawn", 'write e.g. vary.volts = {between = ["11 V", "14 V"]}, or delete it', ("samples",),
                        "key")
        for name in names:
            if names.count(name) > 1:
                self.refuse(f"'{name}' varies twice", "name it once", ("together",), "key")
                return

    # ---- what varies ----

    def axis(self, name: str, values: object, path: Steps) -> None:
        found = self.reader.read(values, path)
        if found is not None:
            self.made.steps.append(((name,), found))
            self.made.paths[name] = path

    def groups(self) -> None:
        tables = self.table["together"]
        numbered = [(("together", number), one) for number, one in enumerate(tables)] if isinstance(tables, list) else [(("together",), tables)]
        for path, group in numbered:
            if not isinstance(group, dict) or len(group) < 2:
                what = "names one thing alone" if isinstance(group, dict) and group else f"is {quoted(group)}"
                self.refuse(f"'together' {what}", 'name two or more: together."feed hose.size" = [...], together."return hose.size" = [...]', path)
                continue
            columns = {name: self.reader.read(values, (*self.path, *path, name)) for name, values in group.items()}
            if any(not isinstance(values, list) for values in columns.values()):
                for name, values in columns.items():
                    if values is not None and not isinstance(values, list):
                        self.refuse("names that run along together have lists or ranges", 'write a list, ["-6", "-8"]', (*path, name))
                continue
            first = next(iter(columns))
            for name, values in columns.items():
                if len(values) != len(columns[first]):
                    self.refuse(f"'{name}' has {len(values)} values and '{first}' {len(columns[first])}; they run along together",
                                "give both as many", (*path, name))
                    break
            else:
                self.made.steps.append((tuple(columns), list(zip(*columns.values()))))
                self.made.paths |= {name: (*self.path, *path, name) for name in columns}
