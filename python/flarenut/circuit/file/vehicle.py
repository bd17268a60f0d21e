"""A vehicle file to a `Vehicle`: circuits from circuit files beside it, exchangers, and the cases of all. Every table is checked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ...units.display import SYSTEMS
from ...units.errors import quoted
from ..errors import CircuitError
from ..vehicle import Vehicle
from ..vehicle_cases import judge_case
from .call import arguments, attempt, problem_of, unknown_key
from .load import read_circuit, units_of
from .drives import drives_of
from .problems import FileError, Problem, Steps
from .sections import DRIVE, SWEEP
from .sweeps import is_key, sweeps_of
from .text import read_text
from .trade import in_units_of

if TYPE_CHECKING:
    from ..exchangers import Exchanger
    from .drives import FileDrive
    from .load import CircuitFile
    from .sweeps import FileSweep

_MOST = 20  # circuits; a file may not make its reader open thousands
_BY_NAME = ("circuit", "exchanger", "case", DRIVE, SWEEP)


def circuit(file: object) -> str:
    """One circuit of a vehicle.

    Parameters
    ----------
    file : its circuit file, which lies in the folder of the vehicle file: "coolant.toml"
    """
    if not isinstance(file, str) or not file.strip():
        raise CircuitError(f"'file' is {quoted(file)}", 'write file = "coolant.toml"', key="file", value=file)
    if Path(file).name != file or file in (".", "..") or "\\" in file or "\0" in file:
        raise CircuitError(f"'file' is {quoted(file)}, which leads out of the folder", "put the file beside this one, and write its name alone", key="file",
                           value=file)
    return file


class VehicleFile:
    """A vehicle with the file it came from; for those who solve it, a `CircuitFile` that holds a `Vehicle`.

    Parameters
    ----------
    vehicle : `Vehicle`
    name : of the file, as messages show it
    text : of the file
    table : of the file
    units : "us", "metric" or None: the units the builder prefers
    files : name of a circuit -> its `CircuitFile`

    `drives` are its `FileDrive`s and `sweeps` its `FileSweep`s by name.
    """

    def __init__(self, vehicle: Vehicle, name: str, text: str, table: dict[str, Any],
                 units: str | None, files: Mapping[str, CircuitFile]) -> None:
        self.circuit = self.vehicle = vehicle
        self.name, self.text, self.table, self.units, self.files = name, text, table, units, files
        self.sweeps: dict[str, FileSweep] = {}
        self.drives: dict[str, FileDrive] = {}

    def error(self, refusal: ValueError) -> FileError:
        """What compiling or solving refused, as a `FileError` at the line that is to blame, in this file or in that of a circuit."""
        for file in self.files.values():
            try:
                file.circuit.compiled()
            except ValueError as own:
                return file.error(own)
        return self.refused([_blamed(refusal, self.table)])

    def study_error(self, study: FileDrive | FileSweep, refusal: ValueError) -> FileError:
        """What running a `FileSweep` or following a `FileDrive` refused, as a `FileError` at the line that is to blame."""
        return self.refused([study.problem(refusal, self.table, self.vehicle)])

    def refused(self, problems: list[Problem]) -> FileError:
        """A `FileError` of this file."""
        return refused(problems, self.name, self.text, self.units)


def refused(problems: list[Problem], name: str, text: str, units: str | None) -> FileError:
    """A `FileError` in the units that a file prefers."""
    for problem in problems:
        in_units_of(problem, units)
    return FileError(name, problems, text)


def read_vehicle(table: dict[str, Any], text: str, name: str, folder: Path | None) -> VehicleFile:
    """The `VehicleFile` of a table. `folder` is where its circuits lie; None where there is none. Raises `FileError`."""
    return _Reader(table, text, name, folder).read()


class _Reader:
    def __init__(self, table: dict[str, Any], text: str, name: str, folder: Path | None) -> None:
        self.table, self.text, self.name, self.folder = table, text, name, folder
        self.problems: list[Problem] = []
        self.files: dict[str, CircuitFile] = {}

    def read(self) -> VehicleFile:
        self.check_headings()
        vehicle, units = self.make_vehicle()
        sweeps = sweeps_of(self.table.get(SWEEP, {}), self.no_piece, self.problems)
        if vehicle is not None and not self.problems:
            self.fill(vehicle)
        drives = drives_of(self.table.get(DRIVE, {}), self.table.get("case", {}), self.problems)
        if vehicle is not None and not self.problems:
            self.problems = _of_exchangers(vehicle, self.table) or list(_of_cases(vehicle, self.table))
        if vehicle is None or self.problems:
            raise refused(self.problems, self.name, self.text, units)
        made = VehicleFile(vehicle, self.name, self.text, self.table, units, self.files)
        vehicle.source, made.drives, made.sweeps = self.name, drives, sweeps
        return made

    def check_headings(self) -> None:
        for word, value in list(self.table.items()):
            if word not in ("vehicle", *_BY_NAME):
                self.problems.append(unknown_key(word, ("vehicle", *_BY_NAME), (), "", what="heading"))
            elif not isinstance(value, dict) or (word in _BY_NAME and not all(isinstance(one, dict) for one in value.values())):
                how = "[vehicle]" if word == "vehicle" else f"[{word}.NAME]"
                self.problems.append(Problem(f"'{word}' is not written as a heading", f"write it {how}", path=(word,), on="key"))
            elif word == SWEEP and (key := next((name for name, one in value.items() if is_key(name, one)), None)):
                self.problems.append(Problem(f"'{key}' stands under [{SWEEP}], which has no name", f"give it one in the heading: [{SWEEP}.main]", path=(word, key),
                                             on="key"))
            else:
                continue
            del self.table[word]
        if not self.table.get("circuit") and not self.problems:
            self.problems.append(Problem("the vehicle has no circuit", 'add [circuit.coolant] and file = "coolant.toml"', path=("vehicle",), on="key"))
        if len(self.table.get("circuit", ())) > _MOST:
            self.problems.append(Problem(f"the vehicle has more than {_MOST} circuits", "leave out those that share no exchanger", path=("circuit",), on="key"))
            del self.table["circuit"]

    def no_piece(self,
                 table: dict[str, Any],
                 path: Steps, place: str) -> None:
        """What stands for a part that would vary."""
        self.problems.append(Problem("a part as a whole cannot vary in a vehicle", 'vary a word of it, "oil.cooler.face", or make a vehicle for each part',
                                     path=path, place=place))

    def make_vehicle(self) -> tuple[Vehicle | None, str | None]:
        table, path = dict(self.table.get("vehicle", {})), ("vehicle",)
        units = units_of(table, path, "vehicle", self.problems)
        given = arguments(Vehicle, table, path, "vehicle", self.problems)
        if given is not None and units in SYSTEMS:
            given["units"] = units
        return (None if given is None else attempt(Vehicle, given, path, "vehicle", self.problems)), units

    def fill(self, vehicle: Vehicle) -> None:
        for name, table in self.table.get("circuit", {}).items():
            path, place = ("circuit", name), f"circuit '{name}'"
            given = arguments(circuit, table, path, place, self.problems)
            file = None if given is None else attempt(circuit, given, path, place, self.problems)
            loaded = None if file is None else self.load(file, path, place)
            if loaded is not None:
                self.files[name] = loaded
                attempt(vehicle.add, {"circuit": loaded.circuit, "name": name}, path, place, self.problems)
        if self.problems:
            return  # what a file that was not read holds cannot be judged
        for word, function in (("exchanger", vehicle.exchanger), ("case", vehicle.keep_case)):
            for name, table in self.table.get(word, {}).items():
                path, place = (word, name), f"{word} '{name}'"
                given = arguments(function, table, path, place, self.problems, without=("name",))
                if given is not None:
                    attempt(function, {"name": name, **given}, path, place, self.problems)

    def load(self, file: str, path: Steps, place: str) -> CircuitFile | None:
        """The `CircuitFile` beside this one; None, and the problem told, where there is none. What is wrong in it is its own `FileError`."""
        def refuse(reason: str, cure: str) -> None:
            self.problems.append(Problem(reason, cure, path=(*path, "file"), place=place))

        if self.folder is None:
            refuse("names a file beside this one, and standard input lies in no folder", "give the vehicle file by its name")
            return None
        found = Path(self.folder) / file
        if not found.is_file():
            refuse(f"there is no file {quoted(file)} beside this one", "put the circuit file into the folder of the vehicle file")
            return None
        if found.resolve().parent != Path(self.folder).resolve():
            refuse(f"{quoted(file)} leads out of the folder", "put the file itself beside this one, not a link to it")
            return None
        return read_circuit(read_text(found), str(found), self.folder)


def _blamed(refusal: ValueError, table: dict[str, Any]) -> Problem:
    """A refusal as a problem in the vehicle file."""
    place = str(getattr(refusal, "place", "") or "")
    word, _, name = place.partition(" '")
    path = (word, name.removesuffix("'"))
    if path[0] not in table or path[1] not in table[path[0]]:
        return problem_of(refusal, ("vehicle",), place, table.get("vehicle", {}))
    return problem_of(refusal, path, place, table[path[0]][path[1]])


def _of_exchangers(vehicle: Vehicle, table: dict[str, Any]) -> list[Problem]:
    """What is wrong with exchangers, once all circuits are known: each by itself."""
    whole = dict(vehicle.exchangers)
    found: list[Problem] = []
    for name in whole:
        found += _refused(vehicle, {name: whole[name]}, table)
    return found or _refused(vehicle, whole, table)  # two of them on one part


def _refused(vehicle: Vehicle, exchangers: dict[str, Exchanger], table: dict[str, Any]) -> list[Problem]:
    vehicle.exchangers = exchangers
    try:
        vehicle.compile_anew()
    except ValueError as refusal:
        return [_blamed(refusal, table)]
    return []


def _of_cases(vehicle: Vehicle,
              table: dict[str, Any]) -> Iterator[Problem]:
    """What is wrong with the words of cases: all of them, one after the other."""
    for case in vehicle.cases.values():
        left = dict(case.conditions)
        while True:
            try:
                judge_case(vehicle, case.name, left)
                break
            except ValueError as refusal:
                yield _blamed(refusal, table)
                if left.pop(getattr(refusal, "key", None) or "", None) is None:
                    break
