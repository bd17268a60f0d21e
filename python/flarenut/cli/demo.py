"""`flarenut demo`: the circuit that comes with flarenut, solved, shown and drawn."""

from __future__ import annotations

import sys
from argparse import Namespace
from importlib.resources import files
from pathlib import Path

from ..circuit.file import read
from ..results.answer import Answer
from .guard import Refusal
from .out_files import picture_or_refusal, put_text
from .solve import answer_of, code_of, show, write_ladder

NAME = "return_style_e85.toml"
PICTURE = "flarenut-pressure-ladder.png"


def demo(options: Namespace) -> int:
    """Solves the demo, writes its picture and, into a folder that was asked for, a copy of its file to begin from."""
    folder = Path(options.out or ".")
    if folder.exists() and not folder.is_dir():
        raise Refusal(f"{folder}: is not a folder\n  cure: name a folder for the picture")
    folder.mkdir(parents=True, exist_ok=True)
    picture = folder / PICTURE
    picture_or_refusal(picture)
    text = files("flarenut").joinpath("demo", NAME).read_text(encoding="utf-8")
    loaded = read(text, NAME)
    units = options.units or loaded.units or "us"
    answer = answer_of(loaded)
    assert isinstance(answer, Answer), "the demonstration is one circuit"
    show(answer, units)
    print()
    write_ladder(answer, picture, units, sys.stdout)
    print(_how_to_go_on(folder, text) if options.out else "to begin from its circuit file: flarenut demo --out my-car")
    return code_of(answer, NAME, units)


def _how_to_go_on(folder: Path, text: str) -> str:
    copy = folder / NAME
    if not copy.exists():  # a builder may have begun to edit it
        put_text(copy, text)
    return f"the circuit is in {copy}: change it, then run: flarenut solve {copy}"
