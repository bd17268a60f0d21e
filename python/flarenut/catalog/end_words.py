"""Reading an end from words: each kind of word is found, taken out of the text, and what is left over is an error."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from ..units import UnitError, parse
from ..units.errors import nearest
from .rows import CatalogError, table

if TYPE_CHECKING:
    from .ends import EndForm

_MARKS = {"°": " deg ", "×": "x", "−": "-", "–": "-", "″": '"', "”": '"', ",": " ", ";": " ", "(": " ", ")": " ", "º": " deg "}
_FILLERS = {"in", "inch", "fitting", "end", "hose", "size", "thread", "threaded", "the", "a", "of", "for", "elbow", "straight", "sae", "with"}
_BORE = re.compile(r"\bbore\s*(?:of|=|:)?\s*((?:\d+[ -])?\d+(?:\.\d+|/\d+)?\s*(?:mm|cm|inch|in\b|\"))")
# A material of the end itself, as fittings are sold by; "aluminum" is spelt as elsewhere.
_MATERIAL = re.compile(r"\b(stainless steel|stainless|steel|alumini?um|brass|bronze|copper|cast iron|iron|zinc|nylon|plastic)\b")
_METRIC = re.compile(r"\bm\s?(\d+(?:\.\d+)?)\s?x\s?(\d+(?:\.\d+)?)(?![\w.])")
_INCH_THREAD = re.compile(r"(?<![\w/.-])((?:\d+[ -])?\d+(?:/\d+)?)-(\d+(?:\.\d+)?)(?![\w/.])")
_DASH = re.compile(r"(?<![\w/.])(?:-|#)(\d{1,2})(?![\w/.])|(?<![\w/.])(\d{1,2}) dash\b")
_TURN = re.compile(r"(?<![\w/.-])(\d+(?:\.\d+)?) (?:deg(?: elbow)?|elbow)\b")
_MILLIMETRES = re.compile(r"(?<![\w/.-])(\d+(?:\.\d+)?) ?mm\b")
_FRACTION = re.compile(r"(?<![\w/.-])(?:(\d+)[ -])?(\d+)/(\d+)(?![\w/.-])")
_WHOLE = re.compile(r"(?<![\w/.-])(\d{1,2})(?![\w/.-])")


def plain(text: str) -> str:
    """Lower case, one space between words, marks and hyphens inside words in one way."""
    text = text.lower()
    for mark, meant in _MARKS.items():
        text = text.replace(mark, meant)
    text = re.sub(r'(?<=\d)\s*"', " in ", text)
    text = re.sub(r"\bdegrees?\b", "deg", text)
    text = re.sub(r"(?<=\d)deg\b", " deg", text)
    text = re.sub(r"(?<=[a-z0-9])-(?=[a-z])", " ", text)  # o-ring, quick-connect, 37-degree; "-6" stays
    text = re.sub(r"\b(an|jic|orb)[ -]?(?!37\b)(\d{1,2})\b(?![/.]| ?deg| ?mm)", r"\1 -\2", text)  # AN6, AN-6
    text = re.sub(r"(?<![-/.\w#])(?!37\b)(\d{1,2}) ?(an|jic|orb)\b", r"-\1 \2", text)  # 6AN
    return " ".join(text.split())


class _Words:
    """A text that words are taken out of."""

    def __init__(self, said: str) -> None:
        self.said = said
        self.left = plain(said)

    def take(self, pattern: str | re.Pattern[str]) -> list[re.Match[str]]:
        """Every match of a pattern, which is taken out."""
        found = list(re.finditer(pattern, self.left))
        self.left = " ".join(re.sub(pattern, " ", self.left).split())
        return found

    def wrong(self, reason: str, hint: str) -> CatalogError:
        return CatalogError("end", self.said, f"'{self.said}' {reason}", hint)


def read(text: str, forms: Mapping[str, EndForm], spellings: Callable[..., Any],
         sizes_of: Callable[..., Any]) -> tuple[str, str, str, float, float | None, str]:
    """Form, size, sex, turn, measured bore and material of a text.

    `forms` by name; `spellings` gives the name of each spelling, longest first, with and without a metric thread; `sizes_of` the
    sizes of a form.
    """
    if not isinstance(text, str) or not text.strip():
        raise CatalogError("end", text, f"{text!r} is not an end", "write form, size and sex, e.g. '-8 37 flare female'")
    words = _Words(text)
    bore = _bore(words)
    material = _material(words)
    metric = words.take(_METRIC)
    form = _form(words, forms, spellings(bool(metric)))
    threads = [f"M{float(one[1]):g}x{float(one[2]):g}" for one in metric]
    threads += [re.sub(" ", "-", one[1]) + f"-{float(one[2]):g}" for one in words.take(_INCH_THREAD)]
    sex = _sex(words, form)
    turn = _turn(words)
    size = _size(words, form, threads, sizes_of(form.name))
    _nothing_left(words, forms)
    return form.name, size, sex, turn, bore, material


def _bore(words: _Words) -> float | None:
    found = words.take(_BORE)
    if len(found) > 1:
        raise words.wrong("gives two bores", "give one, e.g. bore 9.5 mm")
    if not found:
        if re.search(r"\bbore\b", words.left):
            raise words.wrong("gives a bore without a number and a unit", "write it as bore 9.5 mm")
        return None
    try:
        bore = parse(found[0][1], "length", name="bore")
    except UnitError as trouble:
        raise words.wrong(f"gives a bore that cannot be read, {trouble}", "write it as bore 9.5 mm") from None
    if not 0.0 < bore < 0.2:
        raise words.wrong(f"gives a bore of {bore * 1e3:g} mm", "a bore is above 0 and below 200 mm")
    return float(f"{bore:.12g}")  # so that it stays the same through its own text


def _material(words: _Words) -> str:
    """Of what the end is made; "" where nobody says."""
    said = list(dict.fromkeys(one[1].replace("aluminum", "aluminium") for one in words.take(_MATERIAL)))
    if len(said) > 1:
        raise words.wrong(f"names two materials, {' and '.join(said)}", "an end is of one; two parts are two texts")
    return said[0] if said else ""


def _form(words: _Words, forms: Mapping[str, EndForm], spelled: dict[str, str]) -> EndForm:
    """The form whose longest spelling the text holds."""
    found: dict[str, str] = {}
    for spelling in spelled:
        if spelling in words.left and words.take(rf"(?<![\w/.-]){re.escape(spelling)}(?![\w/.]|-\d)"):
            found.setdefault(spelled[spelling], spelling)
    names = ", ".join(forms)
    if len(found) == 1:
        return forms[next(iter(found))]
    if found:
        raise words.wrong("names two forms, " + " and ".join(found), "an end has one form; two ends of a part are two texts")
    if re.search(r"\bflare\b", words.left):
        raise words.wrong("does not say which flare", "say 37 flare, 45 flare, inverted flare, bubble flare or metric double flare")
    said = words.left.split()
    runs = (" ".join(said[start:start + count]) for count in (4, 3, 2, 1) for start in range(len(said)))
    close = next((near for run in runs if re.search("[a-z]", run) and (near := nearest(run, spelled))), None)
    raise words.wrong("names no form of end that is known", (f"did you mean '{spelled[close]}'? " if close else "") + f"there are {names}")


def _sex(words: _Words, form: EndForm) -> str:
    """"male", "female", or "" where the form has none."""
    said = set()
    for sex, others in (("female", form.female_words), ("male", form.male_words)):
        for word in sorted({sex, *others}, key=len, reverse=True):
            if words.take(rf"\b{re.escape(plain(word))}\b"):
                said.add(sex)
    if not form.sexes:
        if said:
            raise words.wrong(f"gives a sex to {form.name}, which has none", "leave it off")
        return ""
    if len(said) > 1:
        raise words.wrong("is both male and female", f"male is the {form.male}, female the {form.female}")
    if said or form.unsaid:
        return next(iter(said), form.unsaid)
    close = next((near for word in words.left.split() if (near := nearest(word, ("male", "female")))), None)
    if close:
        raise words.wrong("does not say male or female", f"did you mean '{close}'?")
    usual = "; a hose end is usually a female swivel" if "swivel" in form.female_words else ""
    raise words.wrong("does not say male or female", f"male is the {form.male}, female the {form.female}{usual}")


def _turn(words: _Words) -> float:
    found = words.take(_TURN)
    if len(found) > 1:
        raise words.wrong("gives two angles", "an end turns once, e.g. '90 deg'")
    if not found and re.search(r"\belbow\b", words.left):
        raise words.wrong("is an elbow of no angle", "say how far it turns, e.g. '90 deg'")
    turn = float(found[0][1]) if found else 0.0
    if turn == 37.0:
        raise words.wrong("turns 37 degrees, which is the angle of a cone", "say the turn of the end, e.g. '45 deg', or leave it off")
    if turn > 180.0:
        raise words.wrong(f"turns {turn:g} degrees", "an end turns by 0 to 180 degrees")
    return turn


def _size(words: _Words, form: EndForm, threads: Sequence[str], known: tuple[str, ...]) -> str:
    """The size as its form writes it. Whatever other way the trade says it is turned into that."""
    said = list(threads)
    said += [f"-{int(one[1] or one[2])}" for one in words.take(_DASH)]
    said += [f"{float(one[1]):g} mm" for one in words.take(_MILLIMETRES)]
    said += [(one[1] + "-" if one[1] else "") + f"{one[2]}/{one[3]}" for one in words.take(_FRACTION)]
    if not said and form.sizes in ("pipe", "hose", "tube"):
        said += [one[1] for one in words.take(_WHOLE)]  # "1 NPT"
    meant = list(dict.fromkeys(_written(one, form) for one in said))
    example = f"e.g. '{known[len(known) // 2]} {form.name}'"
    if not said:
        bare = next((f"a dash size is written '-{one[1]}'; " for one in words.take(_WHOLE)), "")
        raise words.wrong("gives no size", f"{bare}{form.name} comes in {', '.join(known)}; {example}")
    if len(meant) > 1:
        raise words.wrong(f"gives two sizes, {' and '.join(said)}", f"give one, {example}")
    if meant[0] in known or (form.sizes in ("hose", "tube") and _is_open_size(meant[0])):
        return meant[0]
    hint = f"{form.name} comes in {', '.join(known)}"
    if form.name == "O-ring boss" and said[0].startswith("M"):
        hint += f"; did you mean '{said[0]} metric O-ring port'?"
    raise words.wrong(f"gives {said[0]}, not a size of {form.name}", hint)


def _written(said: str, form: EndForm) -> str:
    """One size said in another way, as the form writes it; as it stands where there is none."""
    kind = form.sizes
    if kind == "dash":
        by_thread = {row["thread"]: row["dash"] for row in table("threads_straight.csv") if row["system"] == form.rows}
        return by_thread.get(said) or _dash_of(said)
    if kind in ("hose", "tube"):
        return _dash_of(said)
    if kind == "pipe":
        if said.startswith("-"):
            return str(Fraction(int(said[1:]), 16))  # the trade's -6 NPT is 3/8
        threads = {f"{row['nominal']}-{row['threads_per_in']}": row["nominal"] for row in table("npt_threads.csv")}
        return threads.get(said, said) if form.rows in ("NPT", "NPTF") else said
    if kind == "nominal":
        return _quick_connect(said)
    tubes = {f"{row['tube_od_light_mm']} mm": row["thread"] for row in table("metric_ports_banjo.csv") if row["family"] == form.rows}
    return tubes.get("4.75 mm" if said in ("3/16", "-3") else said, said) if form.name == "bubble flare" else said


def _dash_of(said: str) -> str:
    """Sixteenths of an inch as a dash; anything else as it stands."""
    match = re.fullmatch(r"(?:(\d+)-)?(\d+)(?:/(\d+))?", said)
    if not match or said.startswith("-"):
        return said
    sixteenths = 16 * (int(match[1] or 0) + Fraction(int(match[2]), int(match[3] or 1) or 1))
    return f"-{sixteenths}" if sixteenths.denominator == 1 and sixteenths > 0 else said


def _quick_connect(said: str) -> str:
    """"5/16", "8 mm" and "-5" are one size of quick-connect."""
    for row in table("quick_connect.csv"):
        inch, _, metric = row["nominal"].partition(" ")
        if said in (inch, metric.strip("()"), _dash_of(inch), f"{float(row['male_tube_od_mm']):g} mm"):
            return inch
    return said


def _is_open_size(size: str) -> bool:
    if size.startswith("-"):
        return 1 <= int(size[1:]) <= 64
    return size.endswith(" mm") and 1.0 <= float(size[:-3]) <= 102.0


def _nothing_left(words: _Words, forms: Mapping[str, EndForm]) -> None:
    for word in words.left.split():
        if word in _FILLERS:
            continue
        if re.fullmatch(r"\d{1,3}", word):
            raise words.wrong(f"holds '{word}' without what it counts", f"a dash size is written '-{word}', a turn '{word} deg'")
        known = {"male", "female", "deg", "bore", "swivel", "port", "nut"}
        close = nearest(word, known.union(*(form.spellings for form in forms.values())))
        raise words.wrong(f"holds '{word}', which says nothing of an end", f"did you mean '{close}'?" if close
                          else "an end is form, size, sex, and where needed a turn, a measured bore and its material")
