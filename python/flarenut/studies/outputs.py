"""What a sweep reads off every answer: names as in the readings of a single solve, "return hose.drop", "rail.gauge"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..circuit import CircuitError
from ..circuit.errors import meant
from ..results import Answer, CaseResult
from ..results.named import END_WORDS, PART_WORDS, PLACE_WORDS, SHORT, splits, words_of
from ..results.named import SUCTION_WORDS as OF_SUCTION
from ..results.names import pick
from ..results.rows import default_sections
from ..results.warmth import heat_sections
from .ends import CLOSURE, DEGREES, MARGIN, Reader

if TYPE_CHECKING:
    from .. import _core
    from ..circuit.compile import Compiled
    from .ends import Column
    from ..checks.limits import Limits

SUCTION_LIMIT = "suction_limit"
DEGREES_BOUND = "suction_degrees_bound"
SUCTION_WORDS = (*OF_SUCTION, SUCTION_LIMIT, DEGREES_BOUND)
_SECTIONS = ("Pressures", "Pumps", "Flows and filters", "Devices")
_OF_HEAT = {"temperature": "temperature", "in": "temperature_in", "out": "temperature_out", "heat": "heat", "power": "power"}  # as tables say them
_DOT = re.compile(r"(?<=\w)\.(?=[^\W\d])")  # between the words of a name, "regulator.outlet", and not in "no. 2" or "1.5 mm"
_SPOKEN = {"drop": "pressure difference", "heat": "heat given off", "power": "power into the liquid"}


def probe_of(compiled: Compiled) -> CaseResult:
    """One answer of a compiled circuit, for its names and for what meets where. It need not have converged."""
    return CaseResult("as written", compiled.plan.solve(cold=True), compiled.layout)


def default_names(compiled: Compiled) -> dict[str, str]:
    """Names of what the results table of a circuit shows, with its words: name -> words."""
    layout = compiled.layout
    answer = Answer(layout, {"as written": compiled.plan.solve(cold=True)})
    case = answer["as written"]
    found: dict[str, str] = {}
    for heading, asks in default_sections(answer, "us"):
        for ask in asks if heading in _SECTIONS else ():
            owner, _, word = ask.key.rpartition(".")
            passes = owner in layout.runs or owner in [layout.title(part) for part in case.part_names]
            name = f"{owner}.{SHORT.get(word, word)}" if passes else f"{ask.key}.gauge"
            found.setdefault(name, f"{ask.label} regime" if word == "regime" else ask.label)
    return found | names_of_heat(case)


def names_of_heat(case: CaseResult) -> dict[str, str]:
    """Temperatures of places and parts, and heat of parts, as the table of a circuit shows them; none where they are given."""
    parts, found = [case.layout.title(part) for part in case.part_names], {}
    for key, label, _ in (row for _, rows in heat_sections([case]) for row in rows):
        owner, _, word = key.rpartition(".")
        if word == "temperature" or (word in _OF_HEAT and owner in parts):
            found[f"{owner}.{_OF_HEAT[word]}"] = f"{label} temperature" if word in ("temperature", "in", "out") else label
    return found


def reading_of(reader: Reader, name: str) -> Column:
    """The `ends.Column` of a dotted name. Raises `CircuitError` with the nearest right one."""
    case = reader.case
    if name in (MARGIN, CLOSURE):
        return reader.margin() if name == MARGIN else reader.closure()
    for owner, word in splits(name):
        if _is("part", case, owner):
            parts = pick("part", owner, case.part_names, case.layout.titles)
            return _of_parts(reader, name, parts, word)
        if _is("run", case, owner):
            return _of_parts(reader, name, case.layout.runs[pick("run", owner, list(case.layout.runs))[0]], word)
        if _is("place", case, owner) and (word or "gauge") in PLACE_WORDS:
            (place,) = pick("place", owner, case.junction_names, case.layout.junction_titles)
            return reader.place(case.junction_names.index(place), word or "gauge")
    raise _unknown(case, name)


def _is(what: str, case: CaseResult, owner: str) -> bool:
    """Whether `pick` would find it; asked often, and a refusal looks for the nearest name each time."""
    known, titles = {"part": (case.part_names, case.layout.titles), "run": (list(case.layout.runs), {}),
                     "place": (case.junction_names, case.layout.junction_titles)}[what]
    low = owner.lower()
    return any(low == one.lower() or low == titles.get(one, one).lower() for one in known)


def _of_parts(reader: Reader, name: str, parts: Sequence[str], word: str) -> Column:
    word = SHORT.get(word, word)
    end, _, rest = word.partition(".")
    pump = next((part for part in parts if part in reader.case.pumps), None)
    if word in PART_WORDS:
        return reader.row(parts, word)
    if word in SUCTION_WORDS and pump:
        if word == SUCTION_LIMIT:
            return reader.suction_limit(pump)
        return reader.suction(pump, word.removeprefix("suction_"))
    if end in ("inlet", "outlet") and rest in END_WORDS:
        return reader.end(parts[0] if end == "inlet" else parts[-1], 0 if end == "inlet" else -1, rest)
    owner = name[: -len(word) - 1] if word and name.endswith(word) else name.rpartition(".")[0] or name
    words = [*PART_WORDS, *(SUCTION_WORDS if pump else ()), "inlet.gauge", "outlet.gauge"]
    reason = f"'{owner}' has no '{word}' to read" if word else f"'{owner}' is a part, so say what of it"
    raise CircuitError(reason, meant(word, words), place="sweep", key="outputs", value=name)


def _unknown(case: CaseResult, name: str) -> CircuitError:
    owner, _, word = name.rpartition(".")
    if owner and _is("place", case, owner):
        return CircuitError(f"'{owner}' has no '{word}' to read", meant(word, PLACE_WORDS), place="sweep", key="outputs", value=name)
    places = [f"{case.layout.junction_title(one)}.gauge" for one in case.junction_names]
    parts = [f"{case.layout.title(one)}.{word}" for one in case.part_names for word in PART_WORDS]
    close = meant(name, [*places, *parts], listed=False)
    owners = [*case.layout.named, *dict.fromkeys(case.layout.title(one) for one in case.part_names), *case.layout.runs]
    return CircuitError(f"there is no '{name}' to read", " ".join(filter(None, [close, f"there are words of {', '.join(owners)}"])), place="sweep",
                        key="outputs", value=name)


def words_for(name: str, kind: str, total: bool = False) -> str:
    """Words for people, as tables have them. `total`: see `flarenut.results.named.is_total`.

    >>> words_for("return hose.drop", ""), words_for("rail.gauge", "pressure_gauge"), words_for("hose.outlet.absolute", "pressure_absolute")
    ('return hose pressure difference', 'rail pressure', 'hose outlet pressure, absolute')
    """
    owner, _, word = name.rpartition(".")
    if name == MARGIN:
        return "margin to boiling"
    if word == SUCTION_LIMIT:
        return f"{owner} suction margin asked for"
    if word == DEGREES_BOUND:
        return f"{owner} suction degrees to boiling: 1 at least, -1 at most, 0 just so"
    if name == CLOSURE:
        return "worst imbalance of heat, of what is moved"
    if word in ("inlet", "outlet"):
        return words_of(_DOT.sub(" ", name), "gauge", total)
    if kind in ("pressure_gauge", "pressure_absolute"):
        return words_of(_DOT.sub(" ", owner), word, total) if owner else words_of(name, "gauge")
    return f"{_DOT.sub(' ', owner)} {_SPOKEN.get(word, word)}".replace("_", " ").strip()


def with_limits(names: Sequence[str] | dict[str, str]) -> list[str]:
    """Names, and beside every suction margin the limit that checks hold against it, beside degrees to boiling which are only a bound."""
    beside = [f"{name.rpartition('.')[0]}.{SUCTION_LIMIT}" for name in names if name.endswith((".suction_margin", ".margin"))]
    return list(dict.fromkeys([*names, *beside, *(bound_beside(name) for name in names if name.endswith(DEGREES))]))


def bound_beside(name: str) -> str:
    """The name of what says which degrees to boiling are only a bound, as the data of the liquid end first.

    >>> bound_beside("pump.suction_degrees_to_boiling")
    'pump.suction_degrees_bound'
    """
    return f"{name.rpartition('.')[0]}.{DEGREES_BOUND}"


def columns_of(probe: CaseResult, plan: _core.Plan, names: Sequence[str], varying: Sequence[str],
               limits: Limits | None = None) -> tuple[Reader, dict[str, Column | None]]:
    """The `Reader` of a circuit and its column for each name; None for a name that this circuit does not have.

    probe : what `probe_of` gives
    plan : as it stands in the case
    varying : numbers of the plan that differ between rows
    limits : `checks.Limits`; the usual ones unless given
    """
    reader = Reader(probe, plan, varying, limits)
    columns: dict[str, Column | None] = {}
    for name in names:
        try:
            columns[name] = reading_of(reader, name)
        except CircuitError:
            columns[name] = None
    return reader, columns
