"""The pressure ladder: where along the plumbing the pressure goes, and which part costs what."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from ..results import PUMPS, REGULATORS
from ..results import Answer
from ..results.paths import BYPASSED
from ..units import settled, to
from .frame import in_per_cent, whole_figure
from .ladder_rows import ROW, fewer, folded_title, foot, in_lines, most_rows, places_of, rows_of
from .palette import FAINT, INK, QUIET, style
from .ranking import draw_rankings

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from ..results.case import CaseResult
    from .ladder_rows import Place

_LONGEST_LABEL = 24  # letters of a part's name under the axis
_UNITS = {"us": "psi", "metric": "bar"}
_SPLITS_ABOVE = 0.25  # of the span of all pressures: a pump or regulator that moves so much parts the picture
_GAP = 0.062  # of the width, between stretches: room for the scale of the next
_LADDER = (0.49, 0.415)  # bottom and height of the ladder in the Axes, below a legend of one row
_LEAST_HEIGHT = 0.15  # of the ladder, below a legend of however many rows
_LEGEND_SIZE, _LEGEND_ROW = 9, 14.5  # points: its letters, and from row to row
_LEGEND_SAMPLE = 4.8 * _LEGEND_SIZE  # points: a line's sample and the gaps beside it, matplotlib's own 2, 0.8 and 2 letters wide
_MOST_UNSOLVED = 3  # cases without an answer that the legend names
_LONGEST_CASE = 40  # letters of a case's name in the legend
_RANKING = (0.03, 0.20)
_TITLE_LINE = 12.0  # points that one line more of a run's name takes from the ladder
_WIDTH, _HEIGHT = 10.0, 6.0  # inches of a figure of its own
_BESIDE = (1.2, 0.75)  # inches of it beside and above the Axes


def pressure_ladder(answer: Answer | CaseResult, *, runs: Sequence[str] | None = None, ax: Axes | None = None, units: str | None = None) -> Axes:
    """Draws pressure from place to place along runs, one line for each case, and below it what share of the drop each part costs.

    Every step across is one part. A pump or a regulator moves the pressure so far that the drops beside it could not be seen;
    the picture parts there, and each stretch has a scale of its own. Pressures are total: what a gauge would show were the
    liquid brought to rest there, so that a narrow bore does not look like a loss. Across a part that nearly all the liquid goes round in a
    case, as a cooler whose thermostat is shut, the line is dotted, and under its name stands how much goes round.

    Parameters
    ----------
    answer : `Answer`, or one `CaseResult`
    runs : names of runs in the order to draw them; all of them in the order written unless given
    ax : matplotlib Axes to draw in; a new figure's unless given, which is 10 by 6 inches, and higher where many runs stand in several rows
    units : "us" for psi, "metric" for bar; those of the answer unless given

    Returns
    -------
    the Axes; what is drawn stands in its `child_axes`: the stretches from left to right, then the shares

    Raises
    ------
    ValueError : no case is solved, or there is no such run, or no such units

    Examples
    --------
    ``pressure_ladder(car.solve(), runs=["feed", "return"], units="metric").figure.savefig("ladder.png")``
    """
    units = settled(units, answer if isinstance(answer, Answer) else answer.layout)
    if units not in _UNITS:
        raise ValueError(f"'units' is {units!r}: write 'us' or 'metric'")
    cases = list(answer.values()) if isinstance(answer, Answer) else [answer]
    solved = [case for case in cases if case.converged]
    if not solved:
        raise ValueError("no case is solved, so there is nothing to draw; see the causes in the table")
    layout = solved[0].layout
    chosen = list(layout.runs) if runs is None else [runs] if isinstance(runs, str) else list(runs)
    for run in chosen:
        if run not in layout.runs:
            raise ValueError(f"there is no run {run!r}; the runs are {', '.join(layout.runs)}")
    unit = _UNITS[units]
    stretches = _stretches(solved, chosen)
    ax, rows, size = _axes(ax, stretches)
    ax.set_axis_off()
    named = [*(_short(case.name, _LONGEST_CASE) for case in solved), *_not_drawn([case.name for case in cases if not case.converged])]
    columns, height = _room_for_legend(ax, named)
    if rows[1:]:
        _draw_rows(ax, solved, places_of(rows, *size, _LADDER[1] - height), unit)
    else:
        _draw_stretches(ax, solved, stretches, unit, height, size)
    note = " (invented circuit)" if layout.invented else ""
    ax.set_title(f"Where the pressure goes: {layout.circuit}{note}", fontsize=12, color=INK, pad=24)
    scale = foot(size[1]) if rows[1:] else 1.0
    ax.text(0.5, 1.0 + 0.025 * scale, "Total pressure: a gauge reads less by the speed head of the bore it sits in." +
            (" Each stretch has a scale of its own." if len(stretches) > 1 else ""),
            transform=ax.transAxes, ha="center", va="bottom", fontsize=9, color=QUIET)
    _legend(ax, named, len(solved), columns)
    draw_rankings(ax, solved, chosen, unit, *(scale * one for one in _RANKING), whole=runs is None)
    return ax


def _axes(ax: Axes | None, stretches: Sequence[_Stretch]) -> tuple[Axes, list[list[_Stretch]], tuple[float, float]]:
    """The Axes given, or those of a new figure that is as high as it needs; the rows that stretches stand in; width and height of the Axes [in]."""
    if ax is not None:
        place, figure = ax.get_position(), whole_figure(ax)
        size = place.width * figure.get_figwidth(), place.height * figure.get_figheight()
        return ax, fewer(rows_of(stretches, size[0]), most_rows(size[1])), size
    from matplotlib.figure import Figure

    rows = rows_of(stretches, _WIDTH - _BESIDE[0])
    high = _HEIGHT + ROW * (len(rows) - 1)
    return Figure(figsize=(_WIDTH, high), layout="constrained").subplots(), rows, (_WIDTH - _BESIDE[0], high - _BESIDE[1])


class _Stretch:
    """Parts of one run between two devices that move the pressure far: `before` it, and `after` it where nothing more follows."""

    def __init__(self, run: str, before: str | None = None) -> None:
        self.run, self.before = run, before
        self.after: str | None = None
        self.parts: list[str] = []


def _stretches(cases: Sequence[CaseResult], runs: Sequence[str]) -> list[_Stretch]:
    """Every run, parted at its pumps and regulators."""
    found = []
    for run in runs:
        stretches = [_Stretch(run)]
        for part in cases[0].layout.runs[run]:
            if _parts_picture(cases, part):
                stretches.append(_Stretch(run, part))
            else:
                stretches[-1].parts.append(part)
        if len(stretches) > 1 and not stretches[-1].parts and stretches[-2].parts:
            last = stretches.pop()
            stretches[-1].after = last.before
        found += [one for one in stretches if one.parts or one.before]
    return found


def _parts_picture(cases: Sequence[CaseResult], part: str) -> bool:
    if cases[0].kind_of(part) not in (*PUMPS, *REGULATORS):
        return False
    pressures = [end.total for case in cases for one in case.part_names for end in case.ends(one)]
    moved = max(abs(case.ends(part)[0].total - case.ends(part)[-1].total) for case in cases)
    return moved > _SPLITS_ABOVE * (max(pressures) - min(pressures))


def _rungs(case: CaseResult, stretch: _Stretch, unit: str) -> list[float]:
    """Total gauge pressure where a stretch begins and after each of its parts."""
    if stretch.parts:
        totals = [case.ends(stretch.parts[0])[0].total, *(case.ends(part)[-1].total for part in stretch.parts)]
    else:
        totals = [case.ends(stretch.before)[-1].total] if stretch.before is not None else []
    return [to(total - case.ambient.si, unit, "pressure_difference") for total in totals]


def _draw_rungs(inset: Axes, case: CaseResult, stretch: _Stretch, unit: str, number: int) -> None:
    """The line of a case. Across a part that nearly all the liquid goes round it is dotted: what is lost there is lost on the other way."""
    rungs = _rungs(case, stretch, unit)
    beside = [part for part in range(len(stretch.parts)) if case.flows.goes_round(stretch.parts[part]) > BYPASSED]
    across, up = [0.0], rungs[:1]
    for place, rung in enumerate(rungs[1:]):
        if place in beside:
            across, up = [*across, place + 0.5], [*up, float("nan")]
            dotted = {"linestyle": (0, (1, 2)), "linewidth": 1.0, "marker": ""}
            inset.plot([place, place + 1], rungs[place:place + 2], **style(number) | dotted)
        across, up = [*across, place + 1.0], [*up, rung]
    inset.plot(across if rungs else [], up, label=case.name, **style(number))


def _draw_stretches(ax: Axes, cases: Sequence[CaseResult], stretches: Sequence[_Stretch], unit: str,
                    height: float, size: tuple[float, float]) -> None:
    """All stretches beside each other; `size` is that of the Axes [in]."""
    lengths = [max(len(one.parts), 0.6) for one in stretches]
    gap = min(_GAP, 0.5 / max(len(stretches) - 1, 1))
    step = (1.0 - gap * (len(stretches) - 1)) / sum(lengths)
    lefts = [step * sum(lengths[:number]) + gap * number for number in range(len(stretches))]
    bottom, crowded = _LADDER[0], sum(lengths) + len(stretches) > 14
    titles = _titles(stretches, lefts, size[0])
    height -= (max(title.count("\n") for title in titles.values())) * _TITLE_LINE / (72.0 * size[1])
    for number, (stretch, length, left) in enumerate(zip(stretches, lengths, lefts)):
        if stretch.before:
            _name_device(ax, left - 0.6 * gap if number else left, cases, stretch.before, unit, crowded)
        if stretch.after:
            _name_device(ax, left + step * length + 0.4 * gap, cases, stretch.after, unit, crowded)
        inset = ax.inset_axes((left, bottom, step * length, height))
        for which, case in enumerate(cases):
            _draw_rungs(inset, case, stretch, unit, which)
        _dress(inset, cases, stretch, crowded)
        if number in titles:
            inset.set_title(titles[number], loc="left", fontsize=10, fontweight="bold", color=INK, pad=5)
        if number == 0:
            inset.set_ylabel(f"total pressure above ambient [{unit}]", fontsize=9, color=INK)


def _titles(stretches: Sequence[_Stretch], lefts: Sequence[float], wide: float) -> dict[int, str]:
    """Number of the first stretch of each run -> its name, in as many lines as keep it from the next."""
    first = [number for number, one in enumerate(stretches) if number == 0 or stretches[number - 1].run != one.run]
    ends = [*(lefts[number] for number in first[1:]), 1.0]
    return {number: in_lines(stretches[number].run, (end - lefts[number]) * wide) for number, end in zip(first, ends)}


def _draw_rows(ax: Axes, cases: Sequence[CaseResult], places: Sequence[Place],
               unit: str) -> None:
    for number, place in enumerate(places):
        stretch, before = place.stretch, places[number - 1].stretch.run if number else None
        if stretch.before:
            _name_device(ax, place.left - 0.55 * place.gap, cases, stretch.before, unit, True, place.bottom)
        if stretch.after:
            _name_device(ax, place.left + place.width + 0.4 * _GAP, cases, stretch.after, unit, True, place.bottom)
        inset = ax.inset_axes((place.left, place.bottom, place.width, place.height))
        for which, case in enumerate(cases):
            _draw_rungs(inset, case, stretch, unit, which)
        _dress(inset, cases, stretch, True)
        if place.first or before != stretch.run:
            inset.set_title(folded_title(stretch, place.width), loc="left", fontsize=9, fontweight="bold", color=INK, pad=4)
        if place.first:
            inset.set_ylabel(f"total pressure\nabove ambient [{unit}]", fontsize=9, color=INK)


def _name_device(ax: Axes, x: float, cases: Sequence[CaseResult], part: str, unit: str, crowded: bool, bottom: float = _LADDER[0]) -> None:
    """In the gap: the pump or regulator between two stretches, and how far it moves the pressure."""
    moves = [to(case.ends(part)[-1].total - case.ends(part)[0].total, unit, "pressure_difference") for case in cases]
    shown = [(f"{move:+.0f}" if abs(move) >= 10 else f"{move:+.1f}").replace("-", "−") for move in (min(moves, key=abs), max(moves, key=abs))]
    ax.text(x, bottom - 0.012, f"{_short(cases[0].layout.title(part))}\n{' to '.join(dict.fromkeys(shown))} {unit}", transform=ax.transAxes,
            **_slanted(crowded), va="top", fontweight="bold", color=QUIET)


def _slanted(crowded: bool) -> dict[str, Any]:
    return {"rotation": 50 if crowded else 35, "ha": "right", "rotation_mode": "anchor", "fontsize": 8 if crowded else 9}


def _dress(inset: Axes, cases: Sequence[CaseResult], stretch: _Stretch, crowded: bool) -> None:
    layout, parts = cases[0].layout, stretch.parts
    names = [_short(layout.title(part)) + _bypassed(cases, parts, place) for place, part in enumerate(parts)]
    inset.set_xticks([i + 0.5 for i in range(len(parts))], names, **_slanted(crowded))
    inset.tick_params(axis="x", length=0)
    inset.tick_params(axis="y", labelsize=8)
    inset.set_xlim(-0.12, len(parts) + 0.12 if parts else 0.5)
    inset.margins(y=0.1)
    inset.locator_params(axis="y", nbins=6)
    low, high = inset.get_ylim()
    least = 0.02 * max(abs(low), abs(high), 1.0)
    if high - low < least:
        inset.set_ylim((low + high - least) / 2, (low + high + least) / 2)
    inset.grid(axis="y", color=FAINT, linewidth=0.6)
    inset.set_axisbelow(True)
    for i in range(len(parts) + 1):
        inset.axvline(i, color=FAINT, linewidth=0.5, zorder=0)
    for side in ("top", "right"):
        inset.spines[side].set_visible(False)


def _bypassed(cases: Sequence[CaseResult], parts: Sequence[str], place: int) -> str:
    """Under the name of the first of a row of parts that nearly all the liquid goes round in some case: how much, at most."""
    most, before = (max((case.flows.goes_round(part) for case in cases), default=0.0) for part in (parts[place], parts[max(place - 1, 0)]))
    return f"\n{in_per_cent(most)} goes round it" if most > BYPASSED and (place == 0 or before <= BYPASSED) else ""


def _short(title: str, most: int = _LONGEST_LABEL) -> str:
    return title if len(title) <= most else title[: most - 1] + "…"


def _not_drawn(unsolved: Sequence[str]) -> list[str]:
    """What the legend says of cases without an answer."""
    named = [f"{_short(name, _LONGEST_CASE)}: not solved" for name in unsolved]
    return named if len(named) <= _MOST_UNSOLVED else [f"{len(named)} more cases: not solved"]


def _room_for_legend(ax: Axes, named: Sequence[str]) -> tuple[int, float]:
    """(columns of the legend that fit beside each other, height that its rows leave to the ladder)."""
    from matplotlib.textpath import TextPath

    figure, place = whole_figure(ax), ax.get_position()
    longest = max(TextPath((0, 0), name, size=_LEGEND_SIZE).get_extents().width for name in named)
    columns = int(72.0 * figure.get_figwidth() * place.width / (longest + _LEGEND_SAMPLE))
    columns = min(max(columns, 1), len(named))
    rows = -(-len(named) // columns)
    row = _LEGEND_ROW / (72.0 * figure.get_figheight() * place.height)
    return columns, max(_LADDER[1] - (rows - 1) * row, _LEAST_HEIGHT)


def _legend(ax: Axes, named: Sequence[str], drawn: int, columns: int) -> None:
    from matplotlib.lines import Line2D

    nothing = {"linestyle": "", "marker": ""}
    handles = [Line2D([], [], label=name, **(style(number) if number < drawn else nothing)) for number, name in enumerate(named)]
    legend = ax.legend(handles=handles, title=None, loc="upper right", bbox_to_anchor=(1.0, 1.0), ncols=columns, frameon=False,
                       fontsize=_LEGEND_SIZE, borderaxespad=0.0)
    legend.set_in_layout(False)  # however wide it is, it takes no width from the plot
