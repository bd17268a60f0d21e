"""Who meets whom in a file: places that one end alone meets, that nothing meets, that nothing feeds, and feeds written backwards.

The engine takes the first three for what they say: a closed end, an idle place, a loop that stands still. In a file they are
slips of the pen far more often, so they are asked about. A closed end that is meant has a heading: [junction."gauge line"].
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any
from collections.abc import Iterator, Sequence

from ...units.errors import nearest
from ..joins import backward_runs, groups_of
from ..places import OPEN_AIR
from .problems import Problem, Steps

if TYPE_CHECKING:
    from ..circuit import Circuit

_ENDS = {"run": ("from", "to"), "tee": ("run1", "run2", "branch"), "injectors": ("at", "to")}
_DECLARED = ("tank", "junction", "fixed")


class Joins:
    """Ends of runs, tees and injectors of one file, by the place they meet; table and circuit are those of `Blame`."""

    def __init__(self, table: dict[str, Any], circuit: Circuit) -> None:
        self.table, self.known, self.circuit = table, circuit.junctions, circuit
        self.ends: list[tuple[str, Steps]] = [(end, (*path, key)) for path, made in self._tables() for key, end in made.items() if key in _ENDS[path[0]]]
        pieces = [piece for run in circuit.runs.values() for piece in run.pieces] + [piece for piece, _ in circuit.multiport.values()]
        self.sensed = {sense for piece in pieces for element in piece.elements for sense in element.senses if isinstance(sense, str)}
        self.declared: dict[str, str] = {name: word for word in _DECLARED for name in table.get(word, {})}
        self.links: dict[Steps, list[str]] = {path: [made[key] for key in _ENDS[path[0]] if key in made] for path, made in self._tables()}

    def _tables(self) -> Iterator[tuple[tuple[str, str | int], dict[str, Any]]]:
        for word in ("run", "tee"):
            yield from (((word, number), made) for number, made in enumerate(self.table.get(word, [])))
        yield from ((("injectors", name), {"to": "manifold", **made}) for name, made in self.table.get("injectors", {}).items())

    def problems(self) -> list[Problem]:
        """What is to be asked about. One slip is told once: a misspelt heading also leaves an end alone and a loop unfed."""
        lone, idle = self._lone_ends(), self._idle_places()
        guessed = {problem.guess for problem in lone}
        idle = [problem for problem in idle if problem.path[1] not in guessed]
        guessed = {problem.guess for problem in idle}
        spare = [problem.path[1] for problem in idle if problem.path[0] == "tank"]
        unfed = [] if lone else [problem for problem in self._unfed(spare) if problem.guess not in guessed]
        return lone + idle + unfed + self._backward()

    # ---- the three questions ----

    def _lone_ends(self) -> list[Problem]:
        met, found = [end for end, _ in self.ends], []
        for end, path in self.ends:
            if met.count(end) != 1 or end in self.declared or self.known[end].kind != "free":
                continue
            guess = nearest(end, [name for name in self.known if name != end])
            fed = path[-1] in ("from", "at")
            reason = f"nothing else meets at '{end}'" + (", and nothing feeds it" if fed else "")
            hint = f"did you mean '{guess}'? " if guess else ""
            hint += f"is {heading('tank', end)} missing? " if fed else "open air is called 'ambient'; " if path[0] == "run" else ""
            hint += f"a closed end, such as a gauge line or a capped port, is said by a heading of its own, {heading('junction', end)}"
            found.append(self._problem(reason, hint, path, guess))
        return found

    def _idle_places(self) -> list[Problem]:
        met, found = {end for end, _ in self.ends}, []
        for name, word in self.declared.items():
            if name in met or (name in self.sensed and word != "junction") or (word == "fixed" and name in OPEN_AIR):
                continue
            guess = nearest(name, [end for end in met if end not in self.declared]) or nearest(name, met)
            hint = f"did you mean '{guess}'? " if guess else ""
            problem = Problem("no part connects to it", hint + "name it as an end of a run, or delete the heading", path=(word, name),
                              on="key", place=f"{word} '{name}'")
            problem.guess = guess
            found.append(problem)
        return found

    def _unfed(self, spare: Sequence[str | int]) -> list[Problem]:
        """One problem for each set of places that lead to open air alone, and draw from nothing; `spare` are tanks nobody uses."""
        found = []
        for group in groups_of(self.links.values(), lambda end: self.known[end].kind == "free"):
            links = [link for link in self.links.values() if group.intersection(link)]
            edges = {end for link in links for end in link if self.known[end].kind != "free"}
            if not edges or not edges <= set(OPEN_AIR) - set(self.declared) or self._drawn_in(group):
                continue
            starts = [(end, path) for end, path in self.ends if end in group and path[-1] == "from"]
            starts.sort(key=lambda start: (start[0] in self.declared, not self._has_pump(start[1])))
            if starts:
                end, path = starts[0]
                close = nearest(end, [name for name, word in self.declared.items() if word == "tank"]) or (str(spare[0]) if len(spare) == 1 else None)
                hint = (f"did you mean '{close}'? " if close else "") + f"is {heading('tank', end)} missing?"
                found.append(self._problem(f"nothing feeds '{end}': it is no tank, and nothing it joins draws from one", hint, path, end))
        return found

    def _backward(self) -> list[Problem]:
        """Feeds that were written from the place that is fed to the tank."""
        listed = [made.get("name") for made in self.table.get("run", [])]
        return [self._problem(f"its pump draws from '{run.start}', which nothing feeds, and delivers into tank '{run.end}'",
                              "are 'from' and 'to' swapped? the parts stand in the order that the liquid meets them, from 'from' to 'to'",
                              ("run", listed.index(run.name), "from"))
                for run in backward_runs(self.circuit)]

    def _drawn_in(self, group: set[str]) -> bool:
        """True where liquid is pushed in, or a run or tee begins in open air, as from a drum that is not drawn."""
        pushed = any(self.known[name].demand < 0 for name in group)
        begins = any(end in OPEN_AIR and path[-1] not in ("to", "at") and group.intersection(self.links[path[:2]]) for end, path in self.ends)
        return pushed or begins

    def _has_pump(self, path: Steps) -> bool:
        return any(str(part.get("part", "")).endswith("pump") for part in self._made(path).get("parts", []))

    def _made(self, path: Steps) -> dict[str, Any]:
        """The table of a run, tee or bank."""
        made: dict[str, Any] = self.table[str(path[0])][path[1]]
        return made

    def _problem(self, reason: str, hint: str, path: Steps, guess: str | None = None) -> Problem:
        name = self._made(path).get("name", path[1])
        problem = Problem(reason, hint, path=path, place=f"{path[0]} '{name}'")
        problem.guess = guess
        return problem


def heading(word: str, name: str) -> str:
    """A heading as it is written.

    >>> heading("tank", "cell"), heading("case", "full power")
    ('[tank.cell]', '[case."full power"]')
    """
    return f"[{word}.{name}]" if re.fullmatch(r"[A-Za-z0-9_-]+", name) else f'[{word}."{name}"]'
