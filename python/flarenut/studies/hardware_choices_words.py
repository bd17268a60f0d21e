"""What a choice says of one line, with what was said of the line as written and goes with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, TypeAlias

from ..circuit import CircuitError
from ..circuit.errors import meant
from ..circuit.made_of import made_of
from ..units import UnitError, dash, parse

if TYPE_CHECKING:
    from ..catalog.ends import End
    from ..circuit.piece import Piece
    from ..hardware.prices import Prices
    from .hardware_choices import HardwareChoice

Said: TypeAlias = "str | list[End | None] | None"  # a word of a line as a choice has it; None where it goes with the line as written

AS_WRITTEN = "as written"
# What is measured on a line or said of it -> words that, chosen anew, make it a line of which that does not hold. A standard is the same in
# every size, and tells what the other size bears.
OF_THE_OLD = {"bore": ("size", "spec", "standard", "wall"), "standard": ("spec",), "maker_pressure": ("size", "spec", "standard", "material", "wall"),
               "mass": ("size", "spec", "standard", "material", "wall"), "wall": ("size",), "outside": ("size", "spec", "standard"), "roughness": ("spec", "standard", "material")}


def words_of_line(piece: Piece, words: dict[str, str]) -> dict[str, Said]:
    """Words of a choice for one line, with what goes with the line as written, and its ends in the new size."""
    for key, value in words.items():
        if key not in piece.keys:
            raise CircuitError(f"a {piece.word} has no {key!r} to change", meant(key, piece.keys), place="hardware_choices", key=key, value=value)
    gone: dict[str, Said] = {key: None for key, made_other in OF_THE_OLD.items() if key not in words and piece.given.get(key) is not None and
            any(word in words and words[word] != piece.given.get(word) for word in made_other)}
    ends: dict[str, Said] = {} if "ends" in words or piece.given.get("ends") is None or not _OTHER_BORE & {*words} else {"ends": _ends(piece, words)}
    return {**gone, **ends, **words}


_OTHER_BORE = {"size", "spec", "standard", "bore", "wall"}


def _ends(piece: Piece, words: dict[str, str]) -> list[End | None]:
    """Ends of a line's own dash size in the new one; others as they are. What was measured in an end of the line goes with it."""
    line = made_of(piece)
    old = line.dash if line is not None else None
    new = _dash(words["size"]) if "size" in words else old
    return [end if end is None or old is None or new is None or end.size != f"-{old}" else
            end._replace(size=f"-{new}", bore=end.bore if new == old and end.form != "barb" else None) for end in piece.shop.ends]


def _dash(size: str) -> int | None:
    """Dash of a size, also of a tube's outside diameter in inches; None where it has none, or is no size, as the line itself will say."""
    for read in (dash, lambda text: parse(text, "length") / 0.0254 * 16):
        try:
            sixteenths = read(size)
        except UnitError:
            continue
        return round(sixteenths) if abs(sixteenths - round(sixteenths)) < 1e-3 else None
    return None


def named(choices: Sequence[dict[str, str]] | Mapping[str, dict[str, str]]) -> dict[str, dict[str, str]]:
    """Name -> words; unnamed choices are called by their words."""
    if isinstance(choices, dict) and choices and all(isinstance(words, dict) for words in choices.values()):
        found: Mapping[str, dict[str, str]] = choices
    else:
        listed: list[object] = [choices] if isinstance(choices, dict) else list(choices)
        if not listed or not all(isinstance(words, dict) and words for words in listed):
            raise CircuitError(
                "there are no choices",
                'list words to change, [{"size": "-6"}, {"size": "-10"}]',
                place="hardware_choices",
                key="choices",
                value=choices,
            )
        found = {" ".join(str(value) for value in words.values()): words for words in listed if isinstance(words, dict)}
    if AS_WRITTEN in found:
        raise CircuitError(
            f"a choice is called '{AS_WRITTEN}'",
            "that is what the circuit itself is called: choose another name",
            place="hardware_choices",
            key="choices",
            value=AS_WRITTEN,
        )
    return dict(found)


def notes_of(pieces: Mapping[str, Piece], made: Sequence[HardwareChoice], prices: Prices | None) -> list[str]:
    """What goes with the line as written, and what nobody knows of the others."""
    notes = []
    for name, piece in pieces.items():
        gone = list(
            dict.fromkeys(
                key for choice in made for key, value in choice.words.get(name, {}).items() if value is None and key in OF_THE_OLD
            )
        )
        if gone:
            notes.append(
                f"{name}: {', '.join(gone)} of the line as written {'go' if gone[1:] else 'goes'} with it, where another is chosen."
            )
        unrated = [choice.name for choice in made if choice.words.get(name, {}).get("maker_pressure", "") is None]
        if unrated:
            notes.append(
                f"{name}: {piece.given['maker_pressure']} is its maker's figure for the line as written: find that of {', '.join(unrated)}, "
                "and say it in the choice as 'maker_pressure'."
            )
    if prices is None:
        notes.append("Without a price file there is no cost.")
    return notes
