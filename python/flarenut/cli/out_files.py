"""Files that a command is told to write: judged before the work, put in place as a whole."""

import os
import re
from collections.abc import Callable, Sequence
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from ..results.whole_file import whole_file
from .guard import Refusal

PICTURES, TABLES = (".png", ".svg", ".pdf"), (".csv", ".nc")


def checked(out: str) -> Path:
    """A path that can be written, as far as can be told before the work."""
    path = Path(out)
    if path.suffix.lower() not in (*PICTURES, *TABLES) or path.is_dir():
        raise Refusal(f"{out}: is no name of a file to write\n  cure: end it in .csv or .nc for the rows, or .png, .svg or .pdf for a picture")
    if path.suffix.lower() in PICTURES:
        picture_or_refusal(out)
    if not path.parent.is_dir():
        raise Refusal(f"{out}: there is no folder '{path.parent}'\n  cure: make it first, or name another")
    if not os.access(path.parent, os.W_OK):
        raise Refusal(f"{out}: nothing may be written into the folder '{path.parent}'\n  cure: name another")
    if path.suffix.lower() == ".nc" and (find_spec("h5netcdf") is None or find_spec("h5py") is None):
        raise Refusal(f"{out}: NetCDF needs h5netcdf and h5py, which are not installed\n  cure: pip install 'flarenut[sweep]', or write a .csv")
    return path


def picture_or_refusal(path: str | Path) -> None:
    """Refuses before the solve what would fail after it: no plotting library, no such folder, no picture format."""
    if find_spec("matplotlib") is None:
        raise Refusal("flarenut: a picture needs matplotlib, which is not installed\n  cure: pip install \"flarenut[plot]\"")
    folder, suffix = Path(path).parent, Path(path).suffix.lower()
    if not folder.is_dir():
        raise Refusal(f"{path}: there is no folder '{folder}'\n  cure: make it first, or name another")
    if Path(path).is_dir() or suffix not in (".png", ".svg", ".pdf"):
        raise Refusal(f"{path}: is not the name of a picture\n  cure: end it in .png, .svg or .pdf")


def slugs(names: Sequence[str]) -> list[str]:
    """Names of sweeps or drives as they stand in names of files, no two alike.

    >>> slugs(["return line", "return-line", "a"])
    ['return-line', 'return-line-2', 'a']
    """
    found: list[str] = []
    for name in names:
        slug = re.sub(r"[^A-Za-z0-9]+", "-", name).strip("-") or "unnamed"
        count = sum(re.fullmatch(re.escape(slug) + r"(-\d+)?", one) is not None for one in found)
        found.append(f"{slug}-{count + 1}" if slug in found else slug)
    return found


def whole(out: str | Path, write: Callable[..., Any]) -> None:
    """Writes beside and puts in place, so that what is there is never half a file. What is no file, as a pipe is, is written into."""
    with whole_file(out) as part:
        write(part)


def put_file(out: str | Path, write: Callable[..., Any]) -> None:
    """As `whole`; what cannot be written is refused in words."""
    try:
        whole(out, write)
    except OSError as error:
        raise Refusal(f"{out}: {error.strerror or error}\n  cure: name a file in a folder that can be written to") from None


def put_text(out: str | Path, text: str) -> None:
    """A text as `put_file` writes it."""
    put_file(out, lambda path: path.write_text(text, encoding="utf-8"))


def named_apart(outs: list[Path], names: Sequence[str], name: str) -> list[Path]:
    """The paths for one of several names: each with the name in its own where there are more than one."""
    if len(names) == 1:
        return outs
    slug = slugs(names)[names.index(name)]
    return [out.with_name(f"{out.stem}-{slug}{out.suffix}") for out in outs]
