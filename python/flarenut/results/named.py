"""Rows that are asked for by name: one way to name a reading in tables, in time and in sweeps, "rail.gauge", "pump.suction_margin"."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from .names import NoSuchName
from .rows import Ask, default_sections, suction_ask

if TYPE_CHECKING:
    from .case import CaseResult
    from .readings import PartReading, Reading

HEAT_WORDS = ("heat", "power", "temperature_in", "temperature_out", "temperature_drop")
PART_WORDS = ("drop", "rise", "flow", "volume_flow", "mass_flow", "velocity", "reynolds", "regime", *HEAT_WORDS)
SUCTION_WORDS = ("suction_margin", "suction_degrees_to_boiling", "suction_inlet", "suction_vacuum", "suction_npsh_available")  # of pumps
PLACE_WORDS = ("gauge", "absolute", "static", "total", "velocity", "temperature")
END_WORDS = ("gauge", "absolute", "static", "total", "velocity", "reynolds", "vapour_margin", "mass_flow", "volume_flow", "temperature")
SHORT = {"margin": "suction_margin", "vacuum": "suction_vacuum", "inlet": "inlet.gauge", "outlet": "outlet.gauge"}  # as tables say them
_PRESSURES = ("gauge", "absolute", "static", "total")


def asks_for(answer: Mapping[str, CaseResult], names: Sequence[str]) -> list[Ask]:
    """Asks for rows given by name; see `Answer.table`. Raises `NoSuchName`."""
    return [_ask_named(answer, str(name)) for name in names]


def splits(name: str) -> Iterator[tuple[str, str]]:
    """Where owner and word may part: names may hold points, and words may hold one.

    >>> list(splits("feed.inlet.gauge"))
    [('feed.inlet.gauge', ''), ('feed.inlet', 'gauge'), ('feed', 'inlet.gauge')]
    """
    pieces = name.split(".")
    yield name, ""
    for count in (1, 2):
        if len(pieces) > count:
            yield ".".join(pieces[:-count]), ".".join(pieces[-count:])


def _place(case: CaseResult, owner: str) -> Reading:
    return case.at(owner)


def _part(case: CaseResult, owner: str) -> PartReading:
    return case.part(owner)


def _run(case: CaseResult, owner: str) -> PartReading:
    return case.run(owner)


def _ask_named(answer: Mapping[str, CaseResult], name: str) -> Ask:
    case = next(iter(answer.values()))
    if _is(_place, case, name):
        return Ask(name, f"{name} pressure", lambda case: case.at(name).gauge)
    for owner, word in splits(name):
        for read in (_part, _run):
            if word and _is(read, case, owner) and (found := _of_parts(case, name, owner, word, read)) is not None:
                return found
        if word in PLACE_WORDS and _is(_place, case, owner):
            return Ask(name, words_of(owner, word), lambda case: getattr(case.at(owner), word))
    words = [case.layout.title(part) for part in case.part_names]
    shown = [ask for _, asks in default_sections(answer, "us") for ask in asks if name == ask.key or (name == ask.label and name not in words)]
    if shown:
        return shown[0]
    raise _unknown(case, name)


def _of_parts(case: CaseResult, name: str, owner: str, word: str, read: Callable[..., PartReading]) -> Ask | None:
    """The row of a part or a whole run; None where it has no such word."""
    asked = SHORT.get(word, word)
    end, _, rest = asked.partition(".")
    if asked in PART_WORDS:
        return Ask(name, f"{owner} {asked.replace('_', ' ')}", lambda case: _or_not_known(getattr(read(case, owner), asked), asked))
    if asked in SUCTION_WORDS and read(case, owner).suction is not None:
        return suction_ask(name, owner, asked.removeprefix("suction_"), lambda case: read(case, owner).suction)
    if end in ("inlet", "outlet") and rest in END_WORDS:
        total = is_total(rest, getattr(read(case, owner), end).bore.si)
        return Ask(name, words_of(f"{owner} {end}", rest, total), lambda case: _or_not_known(getattr(getattr(read(case, owner), end), rest), rest),
                   total=total)
    return None


def _or_not_known(value: Any, word: str) -> Any:
    """A reading, or a dash where it is that of a bore which nobody knows."""
    si = value.si if word == "velocity" else value
    return "–" if word in ("velocity", "reynolds") and si != si else value


def words_of(owner: str, word: str, total: bool = False) -> str:
    """What a reading of a place or an end is called: its unit says that a pressure is gauge, so that it has one name wherever it is shown.

    total : see `is_total`; what is total is not called static as well

    >>> words_of("gallery", "gauge"), words_of("gallery", "total"), words_of("feed hose outlet", "vapour_margin")
    ('gallery pressure', 'gallery pressure, total', 'feed hose outlet vapour margin')
    >>> words_of("pump outlet", "static", total=True), words_of("pump outlet", "absolute", total=True)
    ('pump outlet pressure (total)', 'pump outlet pressure, absolute (total)')
    """
    if word not in _PRESSURES:
        return f"{owner} {word.replace('_', ' ')}"
    plain = word == "gauge" or total and word == "static"
    return f"{owner} pressure{'' if plain else f', {word}'}{' (total)' * total}"


def is_total(word: str, bore: float) -> bool:
    """Whether static pressure at the end of a part is total pressure, as it has no bore of its own: no gauge there shows it.

    >>> is_total("gauge", 0.0), is_total("gauge", 0.008), is_total("mass_flow", 0.0)
    (True, False, False)
    """
    return bore == 0.0 and word in ("gauge", "absolute", "static")


def _unknown(case: CaseResult, name: str) -> NoSuchName:
    for owner, word in splits(name):
        for read in (_part, _run):
            if _is(read, case, owner):
                if not word:
                    return NoSuchName("row", name, [], f"it is a {'part' if read is _part else 'run'}, so say what of it, e.g. '{name}.drop' or '{name}.flow'")
                words = (*PART_WORDS, *(SUCTION_WORDS if read(case, owner).suction is not None else ()), "inlet.gauge", "outlet.gauge")
                return NoSuchName("row", name, [f"{owner}.{one}" for one in words])
        if word and _is(_place, case, owner):
            return NoSuchName("row", name, [f"{owner}.{one}" for one in PLACE_WORDS])
    places = [case.layout.junction_title(one) for one in case.junction_names]
    parts = [f"{case.layout.title(one)}.drop" for one in case.part_names]
    return NoSuchName("row", name, [*places, *parts])


def _is(look_up: Callable[[CaseResult, str], object], case: CaseResult, name: str) -> bool:
    try:
        look_up(case, name)
    except NoSuchName:
        return False
    return True
