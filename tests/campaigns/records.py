"""What a campaign did, kept as a file, so that the verification dossier can say it without a number typed by hand."""

import datetime
import json
import os
from pathlib import Path
from typing import NamedTuple

FOLDER = Path(__file__).resolve().parents[2] / "docs" / "campaigns"


class Record(NamedTuple):
    """One run of one campaign.

    `counts` says how many of what ("circuits", "solved", "told in words", ...), in the order in which they are to be read; `notes` are
    sentences: what was found and mended, what remains.
    """

    name: str
    title: str
    form: str
    command: str
    date: str
    seconds: float
    counts: dict[str, int | float]
    notes: tuple[str, ...] = ()


def record(name: str, title: str, form: str, command: str, seconds: float, counts: dict, notes=()) -> Record:
    """A record dated today."""
    return Record(name, title, form, command, datetime.date.today().isoformat(), round(seconds, 1), dict(counts), tuple(notes))


def write(result: Record, folder: Path = FOLDER) -> Path:
    """Writes the record aside and renames it, so that a run stopped here leaves the last whole one."""
    folder.mkdir(parents=True, exist_ok=True)
    target = folder / f"{result.name}.json"
    aside = target.with_suffix(f".{os.getpid()}.part")  # two runs at once each write their own
    aside.write_text(json.dumps(result._asdict(), indent=1) + "\n", encoding="utf-8")
    aside.replace(target)
    return target


def verdict(what: str, done: int, failed: int, kept: Path | None = None, asked: int | None = None) -> str:
    """The last line of a campaign: what was run, how many failed, where the record went.

    >>> verdict("random circuits", 600, 0)
    '600 random circuits examined, none failed; no record was kept, --record keeps one'
    >>> verdict("random circuits", 20, 3, Path("kept.json"), asked=600)
    'stopped before its end: 20 of 600 random circuits examined, 3 FAILED; record: kept.json'
    """
    short = asked is not None and done < asked
    said = f"{'stopped before its end: ' if short else ''}{done}{f' of {asked}' if short else ''} {what} examined, {f'{failed} FAILED' if failed else 'none failed'}"
    return f"{said}; record: {kept}" if kept is not None else f"{said}; no record was kept, --record keeps one"


def read_all(folder: Path = FOLDER) -> list[Record]:
    """Every record kept, by name."""
    found = []
    for path in sorted(folder.glob("*.json")):
        fields = json.loads(path.read_text(encoding="utf-8"))
        found.append(Record(**{**fields, "notes": tuple(fields.get("notes", ()))}))
    return found
