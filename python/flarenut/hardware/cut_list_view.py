"""A cut list for people and programs: tables of hoses, of tubes and of each tube's bends; CSV."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING
from pathlib import Path

from ..results import Table, ranked
from ..results.csv_file import csv_file
from ..results.vehicle_answer import Tables
from ..units import Quantity, in_one
from .angles import clocking_note, clocking_words
from .cut_short import too_short
from .items import end_in

if TYPE_CHECKING:
    from .cut_list import CutList
    from .cut_parts import Bend, HoseCut, TubeCut

ESTIMATE = "Engineering estimate; defer to local codes and licensed practice."
_SIDES = ("inlet", "outlet")
MADE_UP, OTHER_MADE_UP = "Brake hose: order made up, do not cut", "Other hose: order made up, do not cut"
_NONE = "–"
_PER_INCH = {"hose": 16, "tube": 32}  # what a tape is read to


class Line:
    """One row of a table of words."""

    def __init__(self, heading: str, cells: Sequence[str]) -> None:
        self.heading, self.cells = heading, cells


def tape(quantity: Quantity | None, system: str, word: str = "hose", *, sign: bool = False) -> str:
    """A length as a tape is read: "139 1/8 in", "3534 mm". `sign` puts a plus before what is added.

    >>> from flarenut.units import Quantity
    >>> tape(Quantity(3.5, "length"), "us"), tape(Quantity(3.5, "length"), "metric")
    ('137 13/16 in', '3500 mm')
    """
    assert quantity is not None, "a length that is shown is known"
    before = "" if quantity.si == 0.0 else "-" if quantity.si < 0.0 else "+" if sign else ""
    if system == "metric":
        return f"{before}{abs(quantity.si) * 1e3:.0f} mm"
    whole, rest = divmod(Fraction(round(abs(quantity.si) / 0.0254 * _PER_INCH[word]), _PER_INCH[word]), 1)
    return f"{before}{' '.join(str(one) for one in (whole, rest) if one) or '0'} in"


def cut_words(row: HoseCut | TubeCut, system: str, word: str) -> str:
    """What a hose or tube is cut to or ordered in, and what has still to be taken off: "60 in less ends" where nobody knows what those take up."""
    if getattr(row, "made_up", False):
        return f"order {tape(row.cut, system)} made up"
    if row.too_short:
        return f"TOO SHORT: {tape(row.cut, system, word)}"
    unknown = getattr(row, "unknown_ends", 0)
    less = " less ends" if unknown > 1 else " less one end" if unknown else ""
    return tape(row.cut, system, word) + less


def tables_of(cuts: CutList, system: str) -> Tables:
    """The `Tables` of a `CutList`."""
    title = " · ".join(word for word in (cuts.name, "cut list", "invented" if cuts.invented else "") if word)
    found = [table for table in (_hoses(cuts, title, system), _tubes(cuts, title, system)) if table is not None]
    found += [_bends(cuts, tube, system) for tube in cuts.tubes if tube.bends and tube.bends[0].straight is not None]
    if not found:
        found = [Table(title, [], [], notes=["no hose and no tube in it"])]
    found[-1].notes.append(ESTIMATE)
    return Tables(found)


def called(cuts: CutList, row: HoseCut | TubeCut) -> str:
    """What a line is called: with its circuit where there are several."""
    return f"{row.circuit}: {row.name}" if cuts.several else row.name


# ---- hoses ----

def _hoses(cuts: CutList, title: str, system: str) -> Table | None:
    if not cuts.hoses:
        return None
    sections = [(heading, [Line(", ".join(word for word in (called(cuts, row), row.size, row.instead) if word), _hose_cells(row, system))
                           for row in cuts.hoses if (row.made_up, bool(row.instead)) == kind])
                for heading, kind in (("Hose", (False, False)), (MADE_UP, (True, False)), (OTHER_MADE_UP, (True, True)))]
    return Table(title, ["way", "slack", "ends", "cut to", "clamps"], [one for one in sections if one[1]], notes=_hose_notes(cuts, system),
                 findings=[*_short(cuts, cuts.hoses, system), *_kinks(cuts, system)])


def _hose_cells(row: HoseCut, system: str) -> list[str]:
    slack, ends = (_sum(step.length.si for step in row.steps if step.length.si * sign > 0) for sign in (1, -1))
    unknown = f"{row.unknown_ends} not known" if row.unknown_ends else ""
    off = " ".join(word for word in (tape(ends, system) if ends.si else "", unknown) if word)
    return [tape(row.length, system), tape(slack, system, sign=True) if slack.si else _NONE, off or _NONE, cut_words(row, system, "hose"),
            str(row.supports.count)]


def _hose_notes(cuts: CutList, system: str) -> list[str]:
    notes = [f"{called(cuts, row)}: {_ends_in_words(row, 'clamped on a barb' if row.hose_clamps else '', system)}." for row in cuts.hoses
             if any(row.ends) or row.hose_clamps]
    clocked = [f"{called(cuts, row)}: {clocking_words(row.clocking)}." for row in cuts.hoses if row.clocking is not None]
    notes += [*clocked, clocking_note()] if clocked else []
    return [*notes, *_about_ends(cuts, system), *_about_slack(cuts, system),
            *_about_brakes(cuts), f"Clamps on the way: none on hose under {in_one('48 in (1219 mm)', system)}, longer hose one at least every {tape(cuts.hoses[0].supports.spacing, system)} "
            f"({cuts.hoses[0].supports.source})."]


def _about_ends(cuts: CutList, system: str) -> Iterator[str]:
    unknown = [row for row in cuts.hoses if row.unknown_ends]
    if unknown:
        like = [one for row in unknown for one in row.like]
        scale = f" For scale, military reusable ends of these sizes take up {tape(min(like, key=_si), system)} to {tape(max(like, key=_si), system)} each." \
            if like else ""
        yield (f"Ends: what they take up is not known of {', '.join(called(cuts, row) for row in unknown)}: there the cut length is the overall length of the "
               f"assembly; take off what the maker of the ends says, or write it into the price file as 'cut_off'.{scale}")
    known: dict[str, list[str]] = {}
    for row in cuts.hoses:
        for step in row.steps:
            if step.length.si < 0:
                known.setdefault(step.source, []).append(called(cuts, row))
    for source, names in known.items():
        yield f"Ends of {', '.join(dict.fromkeys(names))} take up what {source} says."


def _about_slack(cuts: CutList, system: str) -> Iterator[str]:
    given: dict[tuple[str, str], list[str]] = {}
    for row in cuts.hoses:
        for step in row.steps:
            if step.length.si > 0:
                given.setdefault((step.words, step.source), []).append(called(cuts, row))
    for (words, source), names in given.items():
        yield f"{words[0].upper()}{words[1:]}: {', '.join(names)}{f' ({source})' if source else ''}."
    if given:
        yield "Where your length has slack already, ask for slack 0 %; what is asked for holds for all hose that is run straight."
    bent = [row for row in cuts.hoses if not row.straight and row.pressed]
    if bent:
        yield "No slack where a hose has bends: they take up its change of length under pressure, " + "; ".join(
            f"{called(cuts, row)} {tape(row.change[0], system)} shorter to {tape(row.change[1], system)} longer" for row in bent) + "."


def _about_brakes(cuts: CutList) -> Iterator[str]:
    names = ", ".join(called(cuts, row) for row in cuts.hoses if row.made_up)
    if names:
        yield (f"{names}: order made up and tested with its ends, do not cut: brake hose is no work for a shop's own ends or clamps (common practice, no source; "
               "local law decides, in the USA FMVSS 106). The length to order is that of its way as you gave it, from seat to seat: it has to reach, "
               "without pull, kink or rub, at full lock both ways and with the suspension at both its ends. Measure it there.")


def _short(cuts: CutList, rows: tuple[HoseCut | TubeCut, ...], system: str) -> list[tuple[str, str]]:
    found = ranked([one for row in rows if (one := too_short(cuts, row)) is not None])
    return [(one.severity, one.text(system)) for one in found]


def _kinks(cuts: CutList, system: str) -> list[tuple[str, str]]:
    found = []
    for row in cuts.hoses:
        for side in row.kinked:
            straight = row.behind[_SIDES.index(side)]
            least = "two bores, and two outside diameters are more" if row.wanted_is_least else "two outside diameters"
            found.append(("fix", f"FIX: {called(cuts, row)}: {tape(straight, system)} straight behind its {side} end, less than "
                                 f"{tape(row.wanted, system)}, {least}. Cure: move the first bend away from the end, or take an angled end."))
    return found


def _ends_in_words(row: HoseCut | TubeCut, unsaid: str, system: str) -> str:
    return "; ".join(f"{side} {end_in(end, system) if end else unsaid or 'end not said'}" for side, end in zip(_SIDES, row.ends))


# ---- tubes ----

def _tubes(cuts: CutList, title: str, system: str) -> Table | None:
    if not cuts.tubes:
        return None
    rows = [Line(f"{called(cuts, row)}, {row.size}", _tube_cells(row, system)) for row in cuts.tubes]
    return Table("" if cuts.hoses else title, ["legs", "bends", "developed", "flares", "cut to", "clamps"], [("Tube", rows)], notes=_tube_notes(cuts, system),
                 findings=_short(cuts, cuts.tubes, system))


def _tube_cells(row: TubeCut, system: str) -> list[str]:
    legs = [_NONE, _NONE] if row.corners is None else [tape(row.corners, system, "tube"), tape(_sum([-(row.deduction.si if row.deduction is not None else 0.0)]), system, "tube")]
    flares = _sum(step.length.si for step in row.steps)
    return [*legs, tape(row.length, system, "tube"), tape(flares, system, "tube", sign=True) if flares.si else _NONE, tape(row.cut, system, "tube"),
            str(row.supports.count)]


def _tube_notes(cuts: CutList, system: str) -> list[str]:
    notes = [f"{called(cuts, row)}: {_ends_in_words(row, '', system)}." for row in cuts.tubes if any(row.ends)]
    plain = [row for row in cuts.tubes if row.bends and row.bends[0].straight is None]
    notes += [f"{called(cuts, row)}: bends {', '.join(map(_degrees, row.bends))}; its length is taken as developed. "
              "Give its 'way' by points for where they lie." for row in plain]
    unsaid = [row for row in cuts.tubes if row.bends and not row.said_radius]
    if unsaid:
        notes.append("Bend radius not said, taken as " + ", ".join(f"{tape(row.radius, system, 'tube')} ({called(cuts, row)})" for row in unsaid) +
                     ": say that of your bender, 'bend_radius', before you cut.")
    notes += [f"{words[0].upper()}{words[1:]} adds {tape(length, system, 'tube')} ({source}): try it on a scrap piece." for words, length, source in
              dict.fromkeys((step.words.partition(" ")[2], step.length, step.source) for row in cuts.tubes for step in row.steps)]
    if any(row.corners is not None for row in cuts.tubes):
        notes.append("Legs: from corner to corner of the way. Bends: what those corners are longer than the bends in their place.")
    spaced: dict[str, dict[str, list[str]]] = {}
    for row in cuts.tubes:
        spaced.setdefault(row.supports.source, {}).setdefault(tape(row.supports.spacing, system, "tube"), []).append(called(cuts, row))
    return notes + [f"Clamps on the way: at most {'; '.join(f'{spacing} apart on {_listed(names)}' for spacing, names in by.items())} ({source})."
                    for source, by in spaced.items()]


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names)


def _bends(cuts: CutList, row: TubeCut, system: str) -> Table:
    """Every bend of one tube, measured from the end as cut."""
    def length(quantity: Quantity | None) -> str:
        return _NONE if quantity is None else tape(quantity, system, "tube")

    rows = [Line(f"bend {number}", [length(bend.straight), length(bend.begins), _degrees(bend), _plane(bend), length(bend.uses)])
            for number, bend in enumerate(row.bends, 1)]
    rows.append(Line("end", [length(row.last), length(row.cut), _NONE, _NONE, _NONE]))
    title = f"Bends of {called(cuts, row)}, {row.size}, radius {tape(row.radius, system, 'tube')}"
    note = ("Begins at: along the tube, from its inlet end as cut. Plane turned: from that of the bend before, seen along the tube from its inlet; "
            "0 bends on the same way, as a U, 180 deg bends back, as a Z.")
    return Table(title, ["straight before", "begins at", "angle", "plane turned", "tube in it"], [("", rows)], notes=[note])


def _degrees(bend: Bend) -> str:
    return f"{bend.angle.to('deg'):.4g} deg"


def _plane(bend: Bend) -> str:
    if bend.turn is None:
        return _NONE
    degrees = bend.turn.to("deg")
    return f"{abs(degrees):.0f} deg" + ("" if abs(degrees) < 0.5 or abs(degrees) > 179.5 else " clockwise" if degrees > 0 else " anticlockwise")


# ---- data ----

def write_csv(cuts: CutList, path: Path, system: str) -> None:
    """See `CutList.to_csv`."""
    unit = "mm" if system == "metric" else "in"
    with csv_file(path) as writer:
        writer.writerow(["circuit", "run", "line", "what", "inlet", "outlet", f"way [{unit}]", f"added [{unit}]", f"taken off [{unit}]", f"cut to [{unit}]",
                         f"order made up [{unit}]", "ends not known", "clamps on the way", "bends [deg]", "steps", "finding"])
        for row in cuts.rows:
            word = "hose" if row in cuts.hoses else "tube"
            bends = " ".join(f"{bend.angle.to('deg'):.6g}" for bend in getattr(row, "bends", ()))
            short = too_short(cuts, row)
            steps = "; ".join(f"{step.words}: {step.length.to(unit):.6g} {unit}" for step in row.steps)
            added, off = (sum(max(sign * step.length.to(unit), 0.0) for step in row.steps) for sign in (1, -1))
            writer.writerow([row.circuit, row.run, row.name, f"{word} {row.size}", *(end_in(end, system) if end else "" for end in row.ends),
                             *(f"{number:.6g}" for number in (row.length.to(unit), added, off)), *_cut_or_ordered(row, unit),
                             getattr(row, "unknown_ends", 0), row.supports.count, bends, steps, "" if short is None else short.text(system)])


def _cut_or_ordered(row: HoseCut | TubeCut, unit: str) -> tuple[str, str]:
    length = f"{row.cut.to(unit):.6g}"
    return ("", length) if getattr(row, "made_up", False) else (length, "")


def _sum(lengths: Iterable[float]) -> Quantity:
    return Quantity(sum(lengths, 0.0), "length")


def _si(quantity: Quantity) -> float:
    return quantity.si

