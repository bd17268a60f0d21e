"""Which table of a file is to blame for what the circuit as a whole refuses, once every table by itself has been read."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any
from collections.abc import Mapping

from ..case_words import TANKS, WORDS
from ..cases import overrides_of
from ..changes import OF_JUNCTIONS
from ..compile import piece_names
from ..errors import CircuitError
from ..ranges import in_words, key_of
from .call import problem_of
from .joins import Joins, heading
from .problems import Problem, Steps

if TYPE_CHECKING:
    from ... import _core
    from ..circuit import Circuit
    from ..vehicle import Vehicle

_TOGETHER = ("power", "specific_consumption", "duty")  # conditions that are judged beside each other
_AIR = 101325.0  # [Pa], standard atmosphere


def ill_posed(refusal: ValueError) -> bool:
    """True when every value is right but the circuit has no one answer, as when nothing sets its pressure.

    The engine names no field then: no single number is wrong.
    """
    return hasattr(refusal, "trouble") and getattr(refusal, "field", "") in ("", "parts")


class Blame:
    """Finds tables by the names that messages use.

    Parameters
    ----------
    table : the whole file as read
    circuit : the `Circuit` made from it
    """

    def __init__(self, table: dict[str, Any], circuit: Circuit | Vehicle) -> None:
        self.table = table
        self.plumbing = circuit

    @property
    def circuit(self) -> Circuit:
        """The circuit; a vehicle file asks for nothing that needs it."""
        from ..circuit import Circuit

        assert isinstance(self.plumbing, Circuit), "this is asked of the file of a circuit"
        return self.plumbing

    def problem(self, refusal: ValueError) -> Problem:
        """A refusal as a `Problem` that points as deep into the file as can be told."""
        place = str(getattr(refusal, "place", "") or "")
        path = self.path_of(place)
        table = self._at(path)
        if getattr(refusal, "field", ""):
            key = key_of(getattr(refusal, "field", ""), table)
            refusal = in_words(refusal, key, table.get(key))
        problem = problem_of(refusal, path, place, table)
        if "no path to a fixed pressure" in problem.reason and not self.table.get("tank"):
            problem.hint = f"is a tank missing? it is written {heading('tank', place)}; {problem.hint}"
        return problem

    def path_of(self, place: str) -> Steps:
        """Path of the table that made what is called so; () when none did."""
        part = re.fullmatch(r"run '(.*)', part (\d+)", place)
        if part:
            return (*self._listed("run", part[1]), "parts", int(part[2]) - 1)
        headed = re.fullmatch(r"(\w+) '(.*)'", place)
        if headed:
            word, name = headed.groups()
            return self._listed(word, name) if isinstance(self.table.get(word), list) else self._headed(word, name)
        for word in ("tank", "junction", "fixed", "injectors"):
            if place in self.table.get(word, {}):
                return (word, place)
        return self._listed("tee", place) or self._piece(place) or self._end(place) or self._listed("run", place.rpartition(":")[0])

    def problems(self) -> list[Problem]:
        """What the circuit refuses as a whole, and what its cases refuse. Ill-posed circuits are left to the solve."""
        found = Joins(self.table, self.circuit).problems()
        try:
            plan = self.circuit.plan.copy()
        except ValueError as refusal:
            return found if ill_posed(refusal) else [*found, self.problem(refusal)]
        places: list[tuple[str, Steps, Mapping[str, object]]] = [("circuit", ("circuit",), self.circuit.conditions)]
        places += [(f"case '{name}'", ("case", name), case.conditions) for name, case in self.circuit.cases.items()]
        for place, path, conditions in places:
            for word in conditions:
                if word == "specific_consumption" and "power" in conditions:
                    continue  # judged with it
                if word in TANKS and found and not self.table.get("tank"):
                    continue  # told already: the tank is what is missing
                refused = self._refused(plan, word, conditions, place)
                if refused is not None:
                    found.append(self._of_condition(refused, word, conditions[word], path, place))
        return found

    def _refused(self, plan: _core.Plan, word: str, conditions: Mapping[str, object], place: str) -> ValueError | None:
        """What refuses one condition, put on a copy of the plan; None when it stands."""
        owner, _, key = word.rpartition(".")
        beside = _TOGETHER if word in ("power", "specific_consumption") else (word, f"{owner}.demand") if owner and key == "supply" else (word,)
        try:
            changes = overrides_of(self.circuit, {key: value for key, value in conditions.items() if key in beside}, place)
            plan.set_many(changes.numbers)  # a copy: what is out of range is told now, not at the solve
            if word == "fluid_temperature" and self._counts(place):
                self.circuit.fluid.liquid.at(changes.numbers["liquid.temperature"], _AIR)  # further than its data may be carried
            if f"{owner}.temperature" == word and word in changes.numbers:
                self.circuit.fluid.liquid.at(changes.numbers[word], _AIR)
        except ValueError as refusal:
            return refusal
        return None

    def _counts(self, place: str) -> bool:
        """True unless the circuit's own temperature was not written, or every case has another."""
        if place != "circuit":
            return True
        cases = self.circuit.cases.values()
        return "fluid_temperature" in self.table["circuit"] and not (cases and all("fluid_temperature" in case.conditions for case in cases))

    def _of_condition(self, refusal: ValueError, word: str, written: object, path: Steps, place: str) -> Problem:
        if getattr(refusal, "field", ""):
            refusal = in_words(refusal, word, written, place=place)
        problem = problem_of(refusal, path, place, {})
        problem.path = (*path, word)
        problem.on = "value" if self._understood(word) and f" to set '{word}' on" not in problem.reason else "key"
        if isinstance(written, dict) and problem.on == "key":
            problem.hint = f'write the whole key in quotes: "{word}.{next(iter(written), "key")}" = ...'
        if word in TANKS and "no tank" in problem.reason:
            problem.hint = f"is the heading [tank.NAME] of the place that holds the liquid missing? otherwise leave '{word}' out"
        return problem

    def _understood(self, word: str) -> bool:
        """True when a condition, or the part and key it names, exists: then its value is to blame."""
        name, _, key = word.rpartition(".")
        if not name:
            return word in WORDS
        piece = self.circuit.compiled().pieces.get(name)
        if piece is not None:
            return key in piece.keys
        junction = self.circuit.junctions.get(name)
        return junction is not None and key in OF_JUNCTIONS[junction.kind]

    # ---- names to paths ----

    def _headed(self, word: str, name: str) -> tuple[str, str] | tuple[()]:
        return (word, name) if name in self.table.get(word, {}) else ()

    def _listed(self, word: str, name: str) -> tuple[int | str, ...]:
        for number, table in enumerate(self.table.get(word, [])):
            if isinstance(table, dict) and table.get("name") == name:
                return (word, number)
        return ()

    def _piece(self, name: str) -> Steps:
        try:
            names = piece_names(self.circuit)
        except CircuitError:
            return ()
        for (run, place), whole in names.items():
            if name in (whole, *(whole + element.suffix for element in self.circuit.runs[run].pieces[place].elements)):
                return (*self._listed("run", run), "parts", place)
        return ()

    def _end(self, junction: object) -> tuple[()] | tuple[str, int, str]:
        """Where a junction without a heading is named first."""
        for number, run in enumerate(self.table.get("run", [])):
            for key in ("from", "to"):
                if run.get(key) == junction:
                    return ("run", number, key)
        return ()

    def _at(self, path: Steps) -> dict[str, Any]:
        table: Any = self.table
        for step in path:
            table = table[step]
        return table if isinstance(table, dict) else {}


def other_use(table: dict[str, Any], path: Steps) -> Steps | None:
    """Path of the other thing that bears the name which stands at `path`; None when there is none.

    Runs have names among themselves; parts, tees, injectors and places share theirs.
    """
    if path[:1] and path[0] in ("tank", "junction", "fixed", "injectors"):
        path = path[:2]  # a heading holds its name itself
    at: Any = table
    for step in path:
        at = at[step]
    name = at if isinstance(at, str) else path[-1]
    runs = list(enumerate(table.get("run", [])))
    own_run = len(path) == 3 and path[0] == "run"
    uses: list[Steps] = [("run", number, "name") for number, run in runs if run.get("name") == name] if own_run else []
    if not own_run:
        uses = [(word, name) for word in ("tank", "junction", "fixed", "injectors") if name in table.get(word, {})]
        uses += [("tee", number, "name") for number, tee in enumerate(table.get("tee", [])) if tee.get("name") == name]
        uses += [("run", number, "parts", place, "name") for number, run in runs for place, part in enumerate(run.get("parts", []))
                 if isinstance(part, dict) and part.get("name") == name]
        uses += [("run", number, key) for number, run in runs for key in ("from", "to") if run.get(key) == name]
    return next((use for use in uses if use != path), None)
