"""What the things of a bill are called: the words that a price file names them by.

Each begins with what it is, so that "hose end -8 *" means all such.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ..catalog.ends import end_forms
from ..catalog.supports import clamp_range
from .lines import fraction, hose_size, is_inch, outside_of, tube_outside, tube_size

if TYPE_CHECKING:
    from ..catalog.ends import End
    from ..circuit.made_of import MadeOf

_WITH_SLEEVE = ("37 flare",)  # its tube has a nut and a sleeve; those of the others have a nut alone
UNSAID = "form not said"
_BY_LENGTH = ("hose ", "tube ")  # what begins so is bought by length ...
_BY_PIECE = ("hose end", "hose clamp", "tube nut", "tube end")  # ... save these


def bought_by_length(pattern: str) -> bool:
    """Whether a name of a price file may mean hose or tube.

    >>> [bought_by_length(name) for name in ("hose -8*", "*", "hose end *", "tee *")]
    [True, True, False, False]
    """
    folded = " ".join(pattern.lower().split())
    known = re.split(r"[*?]", folded, maxsplit=1)[0]
    if known.startswith(_BY_PIECE) or (not known and any(word.split()[1] in folded for word in _BY_PIECE)):
        return False
    return known.startswith(_BY_LENGTH) or known != folded and any(word.startswith(known) for word in _BY_LENGTH)


def hose_item(made: MadeOf) -> str:
    """"hose -8 ptfe, SAE 100R14"."""
    return f"hose {hose_size(made)}"


def tube_item(made: MadeOf) -> str:
    """"tube 3/8 in x 0.035 in, 304 stainless annealed"."""
    return f"tube {tube_size(made)}"


def end_item(end: End | None, made: MadeOf) -> str:
    """A hose end and the hose that it is for, as ends of one hose do not go on another; by the size of its hose where its form is not said.

    Its turn stands last, so that "hose end *, 90 deg" means those of every hose.

    >>> from flarenut import hose
    >>> from flarenut.catalog import end
    >>> from flarenut.circuit.made_of import made_of
    >>> made = made_of(hose("-8", "1 m", spec="ptfe", standard="SAE 100R14"))
    >>> end_item(end("-8 37 flare female, 90 deg, bore 9 mm"), made)
    'hose end -8 37 flare female for ptfe, SAE 100R14, 90 deg'
    >>> end_item(end("3/8 NPT male"), made)
    'hose end 3/8 NPT male for -8 ptfe, SAE 100R14'
    """
    if end is None:
        return f"hose end {_size_of(made)}{_for_hose(made)}, {UNSAID}"
    size = "" if end.size == _size_of(made) else _size_of(made)
    return f"hose end {plain(end._replace(turn=0.0))}{_for_hose(made, size)}{f', {end.turn:g} deg' if end.turn else ''}"


def _for_hose(made: MadeOf, size: str = "") -> str:
    """" for ptfe, SAE 100R14", with the size of the hose where it has to be said; "" where nobody says what hose it is."""
    kind = ", ".join(word for word in (made.spec, made.shop.standard) if word) or (size and "hose")
    return f" for {' '.join(word for word in (size, kind) if word)}" if kind else ""


def tube_end_item(end: End | None, made: MadeOf) -> str:
    """What a tube's end needs: "tube nut and sleeve -6 37 flare"; "" for an end that needs nothing."""
    if end is None:
        return f"tube end {tube_outside(made)}, {UNSAID}"
    if end_forms()[end.form].is_flare:
        metric = f", for {_size_of(made)} tube" if made.outside is not None and not is_inch(made.outside) and end.form in _WITH_SLEEVE else ""
        return f"tube nut{' and sleeve' if end.form in _WITH_SLEEVE else ''} {end.size} {end.form}{metric}"
    return ""


def clamp_item(made: MadeOf) -> str:
    """What holds a line to the vehicle: "support clamp for -8 ptfe, outside not known", "support clamp 3/8 in tube"."""
    return f"support clamp {_around(made)}"


def hose_clamp_item(made: MadeOf) -> str:
    """What holds a hose on a barb, by the outside of the hose and the range of a clamp that takes it.

    >>> from flarenut import hose
    >>> from flarenut.circuit.made_of import made_of
    >>> hose_clamp_item(made_of(hose("-6", "1 m", spec="push-on", outside="15.9 mm")))
    'hose clamp for 15.9 mm (0.626 in) outside, range 12 to 20 mm'
    >>> hose_clamp_item(made_of(hose("-6", "1 m", spec="push-on")))
    'hose clamp for -6 push-on, outside not known'
    """
    outside = outside_of(made)
    span = None if outside is None else clamp_range(outside)
    return f"hose clamp {_around(made)}" + ("" if span is None else f", range {span.low * 1e3:.3g} to {span.high * 1e3:.3g} mm")


def grommet_item(made: MadeOf) -> str:
    """What a line passes a wall in: "grommet for 17 mm (0.669 in) outside", "grommet 3/8 in tube"."""
    return f"grommet {_around(made)}"


def _around(made: MadeOf) -> str:
    """What goes around a line goes by its outside: of hose that is another one for every make and standard of a size."""
    if made.word == "tube":
        return f"{_size_of(made)} tube"
    outside = outside_of(made)
    return f"for {hose_size(made)}, outside not known" if outside is None else f"for {outside * 1e3:.3g} mm ({outside / 0.0254:.3g} in) outside"


def brake_hose_item(made: MadeOf, instead: str = "") -> str:
    """A brake hose as it is bought, made up and tested with its ends: "brake hose -3 ptfe, FMVSS 106, made up, M10x1 banjo male to -3 37 flare female".

    Hose that is none keeps its own name; `instead` is what is said of it.

    >>> from flarenut import hose
    >>> from flarenut.circuit.made_of import made_of
    >>> brake_hose_item(made_of(hose("-4", "1 ft", spec="push-on")), "no brake hose: see findings")
    'hose -4 push-on, no brake hose: see findings, made up, form not said to form not said'
    """
    if instead:
        return between(f"{hose_item(made)}, {instead}, made up,", made.shop.ends)
    return f"brake {between(f'{hose_item(made)}, made up,', made.shop.ends)}"


def seal_item(end: End | None) -> tuple[str, int] | None:
    """(what seals an end and is bought with it, how many); None where nothing is.

    >>> from flarenut.catalog import end
    >>> seal_item(end("banjo M12x1.5")), seal_item(end("-8 O-ring boss male"))
    (('soft washer M12x1.5 banjo', 2), ('O-ring -8 O-ring boss', 1))
    """
    if end is None or end.sex != "male":
        return None
    seals_on = end_forms()[end.form].seals_on
    if "washer" in seals_on:
        return f"soft washer {end.size} {end.form}", 2 if "two" in seals_on else 1
    return (f"O-ring {end.size} {end.form}", 1) if "O-ring" in end.form else None


def bolt_item(end: End | None) -> str | None:
    """The hollow bolt that an eye is held by; None for any other end.

    >>> from flarenut.catalog import end
    >>> bolt_item(end("banjo M10x1")), bolt_item(end("-8 O-ring boss male"))
    ('banjo bolt M10x1', None)
    """
    return f"banjo bolt {end.size}" if end is not None and (end.form, end.sex) == ("banjo", "male") else None


def between(word: str, ends: tuple[End | None, End | None] | list[End]) -> str:
    """A fitting between ends, the same whichever way round it is: "adapter -6 O-ring boss male to -6 37 flare male"."""
    return f"{word} {' to '.join(sorted((UNSAID if end is None else plain(end) for end in ends), reverse=True))}"


def tee_item(ends: tuple[End, End, End] | tuple[End | None, End | None]) -> str:
    """A tee by its ends at run1, run2 and branch: "tee -8 37 flare male, all ends"."""
    words = [UNSAID if end is None else plain(end) for end in ends]
    through, branch = sorted(words[:2], reverse=True), words[2:]
    if len(set(words)) == 1:
        return f"tee {words[0]}, all ends"
    return f"tee {' to '.join(through)}, branch {''.join(branch)}"


def plain(end: End) -> str:
    """An end in words, without the bore that somebody measured."""
    return str(end._replace(bore=None))


def end_in(end: End, system: str) -> str:
    """An end in words, what somebody measured in inches where the system is "us".

    >>> from flarenut.catalog import end
    >>> end_in(end("-6 barb female, bore 9.525 mm"), "us")
    '-6 barb female, bore 0.375 in'
    """
    return f"{plain(end)}, bore {end.bore / 0.0254:.4g} in" if system == "us" and end.bore is not None else str(end)


def _size_of(made: MadeOf) -> str:
    if made.word == "tube" and made.outside is not None:
        return f"{fraction(made.outside)} in" if is_inch(made.outside) else f"{made.outside * 1e3:.4g} mm"
    return f"-{made.dash}" if made.dash is not None else f"{made.bore * 1e3:.4g} mm bore"
