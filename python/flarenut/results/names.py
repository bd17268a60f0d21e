"""Finding what a builder named: exact, else by the words shown, else an error with the nearest right word."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from difflib import get_close_matches
from typing import TYPE_CHECKING

from flarenut.units import in_both

if TYPE_CHECKING:
    from .layout import Layout
    from collections.abc import Callable


class NoSuchName(KeyError):
    """A case, place, part or row that the answer does not hold.

    Parameters
    ----------
    what : "case", "part" ...
    name : as asked for
    known : the names there are
    hint : what to write instead; made from the nearest known name when left out

    >>> str(NoSuchName("case", "idel", ["idle", "full power"]))
    "no case 'idel': did you mean 'idle'?"
    """

    def __init__(self, what: str, name: object, known: Iterable[object], hint: str = "") -> None:
        listing = [str(word) for word in known]
        if not hint:
            folded = {word.lower(): word for word in listing}
            close = get_close_matches(str(name).lower(), folded, n=1, cutoff=0.5)
            listed = ", ".join(f"'{word}'" for word in listing[:12]) + (", ..." if len(listing) > 12 else "")
            hint = f"did you mean '{folded[close[0]]}'?" if close else f"there is {listed}" if listing else "there is none"
        super().__init__(f"no {what} '{name}': {hint}")
        self.what = what
        self.name = name
        self.known = listing
        self.hint = hint

    def __str__(self) -> str:  # a KeyError would show the message in quotes
        return str(self.args[0])

    def __reduce__(self) -> tuple[type[NoSuchName], tuple[str, object, list[str], str]]:
        return type(self), (self.what, self.name, self.known, self.hint)


def pick(what: str, name: str, known: Sequence[str], titles: Mapping[str, str] | None = None) -> list[str]:
    """The known names meant by `name`: itself, or all that carry it as title, upper and lower case forgiven.

    `titles` maps known names to the words shown for them. Raises `NoSuchName` when nothing fits.

    >>> pick("part", "Feed hose", ["f:1", "f:2", "r:1"], {"f:1": "feed hose", "f:2": "feed hose"})
    ['f:1', 'f:2']
    """
    titles = dict(titles or {})
    if name in known:
        return [name]
    ways: tuple[Callable[[str], bool], ...] = (lambda word: word == name, lambda word: word.lower() == str(name).lower())
    for same in ways:
        found = [one for one in known if same(titles.get(one, one)) or same(one)]
        if found:
            return found
    raise NoSuchName(what, name, dict.fromkeys(titles.get(one, one) for one in known))


# The engine tries its way towards the end of what is known; some degrees may lie between, so that nothing beyond what was tried is told.
_TRIED = re.compile(
    r"there is (no steady state within what is known of the liquid): (with '[^']+' at \S+ degC) (it would still )(take up|give off)"
)
_ENDS = {"take up": "hottest", "give off": "coldest"}


def in_shop_words(message: str, layout: Layout) -> str:
    """The engine's sentence with places inside of runs, which nobody named, as the outlet of the part before them, and temperatures and
    watts in both systems.

    >>> from flarenut.results.layout import Layout
    >>> in_shop_words("'line:1' would get hotter than 160 degC", Layout("x", junction_titles={"line:1": "after pump"}))
    "the outlet of 'pump' would get hotter than 320 F (160 C)"
    >>> in_shop_words("there is no steady state within what is known of the liquid: with 'sump' at 135 degC it would still take up 30 kW", Layout("x"))
    "no steady state within what is known of the liquid was found: with 'sump' at 275 F (135 C), the hottest that was tried, it would still take up 40.2 hp (30.0 kW)"
    """
    message = _TRIED.sub(
        lambda match: f"{match[1]} was found: {match[2]}, the {_ENDS[match[4]]} that was tried, {match[3]}{match[4]}", message
    )

    def degrees(match: re.Match[str]) -> str:
        return in_both(float(match[1]) + 273.15, "temperature")

    def watts(match: re.Match[str]) -> str:
        return in_both(float(match[1]) * (1e3 if match[2] == "kW" else 1.0), "power")

    def spoken(match: re.Match[str]) -> str:
        told = layout.spoken_of(match[1])
        circuit, joint, place = told.rpartition(": ")
        unnamed = place.startswith("after ") and not match[1].endswith(place)
        return f"the outlet of '{circuit}{joint}{place.removeprefix('after ')}'" if unnamed else f"'{told}'"

    named = re.sub(r"'([^']+)'", spoken, message)
    named = re.sub(r"the loop of (?:the outlet of )?'([^']+)'", r"the loop that '\1' lies in", named)
    return re.sub(r"(-?\d[\d.]*) degC", degrees, re.sub(r"(?<![\w.])(\d[\d.]*) (k?W)(?![\w/])", watts, named))
