"""A circuit file to a `Circuit`: every table is checked, so that all problems come together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ...units.display import SYSTEMS
from ...units.errors import nearest, quoted
from .blame import Blame, other_use
from .call import arguments, attempt, unknown_key
from .drives import drives_of
from .problems import FileError, Problem, Steps
from .sections import BY_NAME, DRIVE, LISTED, SWEEP, part_words
from .sweeps import is_key, sweeps_of
from .tables import use_tables
from .text import read_table, read_text
from .trade import in_units_of

if TYPE_CHECKING:
    from ..circuit import Circuit
    from ..piece import Piece
    from ..vehicle import Vehicle
    from .drives import FileDrive
    from .sweeps import FileSweep
    from .vehicle import VehicleFile


class CircuitFile:
    """A circuit with the file it came from.

    Parameters
    ----------
    circuit : `Circuit`
    name : of the file, as messages show it
    text : of the file
    blame : `Blame` of the file
    units : "us", "metric" or None: the units the builder prefers
    sweeps : name -> `FileSweep`
    drives : name -> `FileDrive`
    """

    def __init__(self, circuit: Circuit, name: str, text: str, blame: Blame, units: str | None = None,
                 sweeps: Mapping[str, FileSweep] | None = None, drives: Mapping[str, FileDrive] | None = None) -> None:
        self.circuit = circuit
        self.name = name
        self.text = text
        self.blame = blame
        self.units = units
        self.sweeps, self.drives = sweeps or {}, drives or {}
        self.files: dict[str, CircuitFile] = {}  # other files that it is made of; of a circuit none

    def error(self, refusal: ValueError) -> FileError:
        """What compiling or solving refused, as a `FileError` at the line that is to blame."""
        problem = self.blame.problem(refusal)
        in_units_of(problem, self.units)
        return FileError(self.name, [problem], self.text)

    def study_error(self, study: FileDrive | FileSweep, refusal: ValueError) -> FileError:
        """What running a `FileSweep` or `FileDrive` refused, as a `FileError` at the line that is to blame."""
        problem = study.problem(refusal, self.blame.table, self.circuit)
        in_units_of(problem, self.units)
        return FileError(self.name, [problem], self.text)


def read_file(path: str | Path) -> CircuitFile | VehicleFile:
    """The `CircuitFile` of a path, or the `VehicleFile`; "-" reads standard input. Raises `FileError` with everything that is wrong."""
    text = read_text(path)
    return read(text, "standard input") if str(path) == "-" else read(text, str(path), Path(path).parent)


def read(text: str, name: str = "circuit.toml", folder: Path | None = None) -> CircuitFile | VehicleFile:
    """The `CircuitFile` of a text, or the `VehicleFile`; `name` is what messages call it, and `folder` where other files of a vehicle lie.

    Raises `FileError` with everything that is wrong.
    """
    table = read_table(text, name)
    if "vehicle" not in table:
        return _Reader(table, text, name, folder).read()
    from .vehicle import read_vehicle

    return read_vehicle(table, text, name, folder)


def read_circuit(text: str, name: str, folder: Path | None = None) -> CircuitFile:
    """The `CircuitFile` of a text that has to be a circuit; `folder` is where tables that it names lie."""
    table = read_table(text, name)
    if "vehicle" in table:
        raise FileError(name, [Problem("is a vehicle file, where a circuit is asked for", "name the files of its circuits", path=("vehicle",), on="key")], text)
    return _Reader(table, text, name, folder).read()


def units_of(table: dict[str, Any], path: Steps, place: str, problems: list[Problem]) -> str | None:
    """Takes `units` out of a table: "us", "metric", or None where nothing is said."""
    units: str | None = table.pop("units", None)
    if units is not None and units not in SYSTEMS:
        close = nearest(units, SYSTEMS) if isinstance(units, str) else None
        problems.append(Problem(f"'units' is {quoted(units)}", f"write units = \"{close or 'us'}\"; there are us and metric", path=(*path, "units"),
                                place=place, on="value"))
    return units


def load(path: str | Path) -> Circuit | Vehicle:
    """The `Circuit` that a TOML file describes, or the `Vehicle`.

    Parameters
    ----------
    path : name of the file; "-" reads standard input

    Raises
    ------
    FileError : the file cannot be used; its text names file, line, key, what was wrong and the cure, for every problem
    """
    return read_file(path).circuit


class _Reader:
    def __init__(self,
                 table: dict[str, Any],
                 text: str, name: str, folder: Path | None = None) -> None:
        self.table, self.text, self.name, self.folder = table, text, name, folder
        self.problems: list[Problem] = []

    def read(self) -> CircuitFile:
        self.check_headings()
        circuit, units = self.make_circuit()
        self.fill(circuit or self.stand_in(), self.make_pieces())
        sweeps = sweeps_of(self.table.get(SWEEP, {}), self.piece, self.problems)
        drives = drives_of(self.table.get(DRIVE, {}), self.table.get("case", {}), self.problems)
        blame = None if circuit is None else Blame(self.table, circuit)
        self.problems = self.problems or (blame.problems() if blame is not None else [])
        if circuit is None or blame is None or self.problems:
            for problem in self.problems:
                if "used twice" in problem.reason:
                    problem.also = other_use(self.table, problem.path)
                in_units_of(problem, units)
            raise FileError(self.name, self.problems, self.text)
        circuit.source = self.name
        return CircuitFile(circuit, self.name, self.text, blame, units, sweeps, drives)

    # ---- headings ----

    def check_headings(self) -> None:
        known = {"circuit": None, **BY_NAME, **LISTED, SWEEP: None, DRIVE: None}
        for word in list(self.table):
            value = self.table[word]
            if word not in known:
                self.problems.append(unknown_key(word, known, (), "", what="heading"))
                del self.table[word]
            elif not self.has_shape(word, value):
                del self.table[word]
        if not isinstance(self.table.get("circuit"), dict) and not any(p.path[:1] == ("circuit",) for p in self.problems):
            self.problems.append(Problem("the heading [circuit] is missing", 'begin the file with [circuit], name = "..." and fluid = "..."'))

    def has_shape(self, word: str,
                  value: list[Mapping[str, str | Sequence[str | Mapping[str, object]]]] | dict[str, bool | str | Mapping[str, object]]) -> bool:
        """True when the value under a heading is a table, tables by name, or a list of tables, as it has to be."""
        if word in LISTED:
            if isinstance(value, list) and all(isinstance(item, dict) for item in value):
                return True
            return self.refuse(f"'{word}' is written once for each {word}", f"write the heading as [[{word}]]", (word,))
        if not isinstance(value, dict):
            how = f'[{word}]' if word == "circuit" else f'[{word}.main]'
            what = "written with double brackets, which is for runs and tees" if isinstance(value, list) else "a heading, not a value"
            return self.refuse(f"'{word}' is {what}", f"write the heading as {how}", (word,))
        if word == "circuit":
            return True
        loose = [key for key, item in value.items() if not isinstance(item, dict) or (word == SWEEP and is_key(key, item))]
        for key in loose:
            self.refuse(f"'{key}' stands under [{word}], which has no name", f"give it one in the heading: [{word}.main]", (word, key))
            del value[key]
        return bool(value) or not loose

    def refuse(self, reason: str, hint: str, path: Steps, place: str = "", on: str = "key") -> bool:
        self.problems.append(Problem(reason, hint, path=path, place=place, on=on))
        return False

    # ---- circuit, pieces ----

    def make_circuit(self) -> tuple[Circuit | None, str | None]:
        table = dict(self.table.get("circuit", {}))
        units = units_of(table, ("circuit",), "circuit", self.problems)
        from ..circuit import Circuit

        if "circuit" not in self.table:
            return None, units
        use_tables(table, self.folder, self.problems)
        given = arguments(Circuit, table, ("circuit",), "circuit", self.problems, beside=("tables",))
        if given is not None and units in SYSTEMS:
            given["units"] = units
        return (None if given is None else attempt(Circuit, given, ("circuit",), "circuit", self.problems)), units

    @staticmethod
    def stand_in() -> Circuit:
        """A circuit of water, so that the rest of a file is looked at although its own cannot be made."""
        from ..circuit import Circuit

        return Circuit("stand-in", fluid="water")

    def make_pieces(self) -> list[list[Piece] | None]:
        """Pieces of every run, or None for a run in which something is wrong."""
        return [self.pieces_of(run, ("run", index)) for index, run in enumerate(self.table.get("run", []))]

    def pieces_of(self, run: dict[str, Any], path: Steps) -> list[Piece] | None:
        title = self.title("run", run, path)
        parts = run.get("parts")
        if parts is None:
            return None  # said to be missing where the run is made
        if not isinstance(parts, list):
            self.refuse("'parts' is not a list", 'write parts = [ {part = "hose", ...}, ... ]', (*path, "parts"), title, "value")
            return None
        made = [self.piece(part, (*path, "parts", number), f"{title}, part {number + 1}") for number, part in enumerate(parts)]
        sound = [piece for piece in made if piece is not None]
        return sound if len(sound) == len(made) else None

    def piece(self, table: Any, path: Steps, place: str) -> Piece | None:
        if not isinstance(table, dict):
            self.refuse(f"{quoted(table)} is not a part", 'write it as {part = "hose", size = "-8", ...}', path, place, "value")
            return None
        words = part_words()
        word = table.get("part")
        if word is None:
            self.refuse("the key 'part' is missing", 'say which part it is, e.g. part = "hose"; \'flarenut parts\' lists them', path, place)
            return None
        builder = words.get(word) if isinstance(word, str) else None
        if builder is None:
            close = nearest(word, words) if isinstance(word, str) else None
            self.refuse(f"there is no part {quoted(word)}", (f"did you mean '{close}'? " if close else "") + "'flarenut parts' lists them",
                        (*path, "part"), place, "value")
            return None
        rest = {key: value for key, value in table.items() if key != "part"}
        given = arguments(builder, rest, path, f"{place} ({word})", self.problems)
        return None if given is None else attempt(builder, given, path, f"{place} ({word})", self.problems)

    def title(self, word: str, table: dict[str, Any], path: Steps) -> str:
        name = table.get("name")
        return f"{word} {quoted(name)}" if isinstance(name, str) else f"{word} {int(path[-1]) + 1}"

    # ---- filling the circuit ----

    def fill(self, circuit: Circuit, pieces: Sequence[Sequence[Piece] | None]) -> None:
        for word, method in BY_NAME.items():
            if word not in ("injectors", "case"):
                self.named(circuit, word, method)
        for index, made in enumerate(pieces):
            self.listed(circuit, "run", index, {"parts": made})
        for word in LISTED:
            if word != "run":
                for index in range(len(self.table.get(word, []))):
                    self.listed(circuit, word, index, {})
        for word in ("injectors", "case"):
            self.named(circuit, word, BY_NAME[word])

    def named(self, circuit: Circuit, word: str, method: str) -> None:
        for name, table in self.table.get(word, {}).items():
            path, place = (word, name), f"{word} '{name}'"
            function = circuit.keep_case if word == "case" else getattr(circuit, method)  # its words are judged with the whole circuit
            given = arguments(function, table, path, place, self.problems, without=("name",))
            if given is not None:
                attempt(function, {"name": name, **given}, path, place, self.problems)

    def listed(self, circuit: Circuit, word: str, index: int, made: Mapping[str, Sequence[Piece] | None]) -> None:
        table, path = self.table[word][index], (word, index)
        place = self.title(word, table, path)
        function = getattr(circuit, LISTED[word])
        given = arguments(function, table, path, place, self.problems)
        if given is None or any(value is None for key, value in made.items() if key in table):
            return
        attempt(function, {**given, **made}, path, place, self.problems)
