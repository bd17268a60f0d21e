"""Writing a file so that what stands under its name is whole: the one before until all is written, then the new one."""

import os
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_ASIDE = ".flarenut-"  # how names of files being written begin


@contextmanager
def whole_file(path: str | Path) -> Iterator[Path]:
    """A path beside `path` to write to; put in its place once all is written, and taken away where writing fails or is stopped.

    Two who write the same file at once each write their own, and the last one to end stands. What is no plain file (a pipe, a terminal) is
    written to as it is. A link goes on leading where it led.

    >>> import tempfile, pathlib
    >>> target = pathlib.Path(tempfile.mkdtemp(), "answer.csv")
    >>> with whole_file(target) as part:
    ...     _ = part.write_text("all of it")
    >>> target.read_text(), len(list(target.parent.iterdir()))
    ('all of it', 1)
    """
    target = Path(os.path.realpath(path))
    if target.name.startswith(_ASIDE) or (target.exists() and not target.is_file()):  # who called us writes aside already
        yield Path(path)
        return
    part = target.with_name(f"{_ASIDE}{os.getpid()}-{secrets.token_hex(4)}{target.suffix}")
    try:
        yield part
        _as_before(target, part)
        with open(part, "rb") as file:
            os.fsync(file.fileno())  # the name must not reach the disk before what it names
        os.replace(part, target)
    finally:
        part.unlink(missing_ok=True)


def write_whole(path: Path, text: str) -> None:
    """The same for a text, in UTF-8 and with its line ends as they are."""
    with whole_file(path) as part, open(part, "w", encoding="utf-8", newline="") as file:
        file.write(text)


def _as_before(target: Path, part: Path) -> None:
    """Who may read and write the file stays as it was."""
    if target.exists():
        shutil.copymode(target, part)
        if not os.access(target, os.W_OK):
            raise PermissionError(13, "Permission denied", str(target))
