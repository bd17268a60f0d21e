"""Which table of a file is to blame for what the circuit as a whole refuses, once every table by itself has been read."""

import re

from ...units.errors import nearest
from ..cases import overrides_of
from ..compile import piece_names
from ..errors import CircuitError
from .call import problem_of
from .problems import Problem

_TOGETHER = ("power", "specific_consumption", "duty")  # conditions that are judged beside each other


def ill_posed(refusal):
    """True when every value is right but the circuit has no one answer, as when nothing sets its pressure.

    The engine names no field then: no single number is wrong.
    """
    return hasattr(refusal, "trouble") and refusal.field in ("", "parts")


class Blame:
    """Finds tables by the names that messages use.

    Parameters
    ----------
    table : the whole file as read
    circuit : the `Circuit` made from it
    """

    def __init__(self, table, circuit):
        self.table = table
        self.circuit = circuit

    def problem(self, refusal):
        """A refusal as a `Problem` that points as deep into the file as can be told."""
        place = str(getattr(refusal, "place", "") or "")
        path = self.path_of(place)
        return problem_of(refusal, path, place, self._at(path))

    def path_of(self, place):
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

    def problems(self):
        """What the circuit refuses as a whole, and what its cases refuse. Ill-posed circuits are left to the solve."""
        try:
            plan = self.circuit.plan.copy()
        except ValueError as refusal:
            return [] if ill_posed(refusal) else [self.problem(refusal)]
        found = self._dead_ends()
        places = [("circuit", (), self.circuit.conditions)]
        places += [(f"case '{name}'", ("case", name), case.conditions) for name, case in self.circuit.cases.items()]
        for place, path, conditions in places:
            for word in conditions:
                if word == "specific_consumption" and "power" in conditions:
                    continue  # judged with it
                try:
                    beside = _TOGETHER if word in ("power", "specific_consumption") else (word,)
                    changes = overrides_of(self.circuit, {key: value for key, value in conditions.items() if key in beside}, place)
                    plan.set_many(changes.numbers)  # a copy: what is out of range is told now, not at the solve
                except ValueError as refusal:
                    at = path or ("circuit",)
                    problem = problem_of(refusal, at, place, {})
                    problem.path = (*at, word)
                    problem.on = "key" if "not a condition" in problem.reason else "value"
                    found.append(problem)
        return found

    def _dead_ends(self):
        """Junctions that one end alone meets and no heading names: a slip of the pen more often than a closed end."""
        ends = [(end, ("run", number, key)) for number, run in enumerate(self.table.get("run", [])) for key, end in run.items() if key in ("from", "to")]
        ends += [(end, ("tee", number, key)) for number, tee in enumerate(self.table.get("tee", [])) for key, end in tee.items()
                 if key in ("run1", "run2", "branch")]
        ends += [(end, ("injectors", name, key)) for name, bank in self.table.get("injectors", {}).items() for key, end in bank.items()
                 if key in ("at", "to")]
        met, known = [end for end, _ in ends], self.circuit.junctions
        declared = [name for word in ("tank", "junction", "fixed") for name in self.table.get(word, {})]
        found = []
        for end, path in ends:
            if met.count(end) == 1 and end not in declared and known[end].kind == "free":
                close = nearest(end, [name for name in known if name != end])
                hint = (f"did you mean '{close}'? " if close else "") + f'a closed end is said by a heading, [junction."{end}"]'
                found.append(Problem(f"nothing else meets at '{end}'", hint, path=path, place=self._title(path)))
        return found

    def _title(self, path):
        name = self._at(path[:2]).get("name", path[1])
        return f"{path[0]} '{name}'"

    # ---- names to paths ----

    def _headed(self, word, name):
        return (word, name) if name in self.table.get(word, {}) else ()

    def _listed(self, word, name):
        for number, table in enumerate(self.table.get(word, [])):
            if isinstance(table, dict) and table.get("name") == name:
                return (word, number)
        return ()

    def _piece(self, name):
        try:
            names = piece_names(self.circuit)
        except CircuitError:
            return ()
        for (run, place), whole in names.items():
            if name in (whole, *(whole + element.suffix for element in self.circuit.runs[run].pieces[place].elements)):
                return (*self._listed("run", run), "parts", place)
        return ()

    def _end(self, junction):
        """Where a junction without a heading is named first."""
        for number, run in enumerate(self.table.get("run", [])):
            for key in ("from", "to"):
                if run.get(key) == junction:
                    return ("run", number, key)
        return ()

    def _at(self, path):
        table = self.table
        for step in path:
            table = table[step]
        return table if isinstance(table, dict) else {}
