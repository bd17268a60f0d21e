"""Tables of one's own that a circuit file names: `tables = ["shop_hoses.csv"]` under [circuit]. They hold for the rest of the program."""

from typing import Any
from pathlib import Path

from ... import catalog
from ...units.errors import quoted
from .problems import Problem


def use_tables(table: dict[str, Any], folder: Path | None, problems: list[Problem]) -> None:
    """Takes `tables` out of the table of [circuit] and puts what they name into use; what is wrong with them becomes problems."""
    names = table.pop("tables", None)
    if names is None:
        return
    path = ("circuit", "tables")
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        problems.append(Problem(f"'tables' is {quoted(names)}", 'write a list of files, tables = ["shop_hoses.csv"]', path=path, place="circuit", on="value"))
        return
    for name in names:
        trouble = _refused(name, folder)
        if trouble:
            problems.append(Problem(trouble[0], trouble[1], path=path, place="circuit", on="value"))
            continue
        try:
            catalog.use(Path(folder or ".") / name)
        except ValueError as error:
            problems.append(Problem(f"the table {quoted(name)} cannot be used: {error}", "mend the table; docs/guide/hardware_tables.md has its form", path=path,
                                    place="circuit", on="value"))


def _refused(name: str, folder: Path | None) -> tuple[str, str] | None:
    """Why a file is not read: reason and cure; None where it may be."""
    if folder is None:
        return "'tables' names files beside this one, and standard input lies in no folder", "give the circuit file by its name"
    found = Path(folder) / name
    if Path(name).name != name or name in (".", "..") or "\\" in name or "\0" in name or found.resolve().parent != Path(folder).resolve():
        return f"'tables' names {quoted(name)}, which leads out of the folder", "put the table beside the circuit file, and write its name alone"
    return None if found.is_file() else (f"'tables' names {quoted(name)}, and there is no such file beside this one", "check its name")
