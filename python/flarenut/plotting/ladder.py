"""The pressure ladder: where along the plumbing the pressure goes."""

from ..units import to
from .palette import FAINT, INK, style

_LONGEST_LABEL = 26  # letters of a part's name under the axis


def pressure_ladder(answer, *, runs=None, ax=None, units="us"):
    """Draws gauge pressure from place to place along runs, one line for each case.

    Every step across is one part, so a steep step is a part that costs much. Pressures are total: what a gauge would show
    were the liquid brought to rest there, so that a narrow bore does not look like a loss.

    Parameters
    ----------
    answer : `Answer`, or one `CaseResult`
    runs : names of runs in the order to draw them; all of them in the order written unless given
    ax : matplotlib Axes to draw on; a new figure's unless given
    units : "us" for psi, "metric" for bar

    Returns
    -------
    the Axes

    Raises
    ------
    ValueError : no case is solved, or there is no such run

    Examples
    --------
    ``pressure_ladder(car.solve(), runs=["feed", "return"], units="metric").figure.savefig("ladder.png")``
    """
    cases = list(answer.values()) if hasattr(answer, "values") else [answer]
    solved = [case for case in cases if case.converged]
    if not solved:
        raise ValueError("no case is solved, so there is nothing to draw; see the causes in the table")
    layout = solved[0].layout
    chosen = list(layout.runs) if runs is None else [runs] if isinstance(runs, str) else list(runs)
    for run in chosen:
        if run not in layout.runs:
            raise ValueError(f"there is no run {run!r}; the runs are {', '.join(layout.runs)}")
    if ax is None:
        from matplotlib.figure import Figure

        ax = Figure(figsize=(10, 6), layout="constrained").subplots()
    unit = {"us": "psi", "metric": "bar"}[units]

    names, spans = [], []
    for run in chosen:
        spans.append((run, len(names), len(names) + len(layout.runs[run])))
        names.extend(layout.runs[run])
    for number, case in enumerate(solved):
        for which, (run, start, _) in enumerate(spans):
            rungs = _rungs(case, layout.runs[run], unit)
            ax.plot([start + i for i in range(len(rungs))], rungs, label=case.name if which == 0 else None, **style(number))
    _dress(ax, names, spans, layout, unit, solved[0])
    return ax


def _rungs(case, parts, unit):
    """Total gauge pressure before the first part and after each."""
    ambient = case.ambient.si
    first = case.ends(parts[0])[0].total - ambient
    rest = [case.ends(part)[-1].total - ambient for part in parts]
    return [to(pressure, unit, "pressure_difference") for pressure in (first, *rest)]


def _short(title):
    return title if len(title) <= _LONGEST_LABEL else title[: _LONGEST_LABEL - 1] + "…"


def _dress(ax, names, spans, layout, unit, case):
    ax.set_xticks([i + 0.5 for i in range(len(names))],
                  [_short(layout.title(name)) for name in names], rotation=40, ha="right",
                  rotation_mode="anchor", fontsize=9)
    ax.tick_params(axis="x", length=0)
    ax.set_xlim(-0.25, len(names) + 0.25)
    ax.set_ylabel(f"total pressure above ambient [{unit}]")
    ax.grid(axis="y", color=FAINT, linewidth=0.6)
    ax.set_axisbelow(True)
    for i in range(len(names) + 1):
        ax.axvline(i, color=FAINT, linewidth=0.5, zorder=0)
    top = ax.get_xaxis_transform()
    marked = {}
    for run, start, stop in spans:
        ax.text((start + stop) / 2, 1.015, run, transform=top, ha="center", va="bottom", fontsize=10, fontweight="bold", color=INK)
        parts = layout.runs[run]
        for place, end in ((start, case.ends(parts[0])[0]), (stop, case.ends(parts[-1])[-1])):
            marked.setdefault(place, []).append(layout.junction_title(case.junction_names[end.junction]))
    for place, titles in marked.items():
        ax.axvline(place, color=INK, linewidth=0.9, zorder=0)
        edge = "left" if place < len(names) else "right"
        ax.text(place + (0.06 if edge == "left" else -0.06), 0.985, " / ".join(dict.fromkeys(titles)), transform=top, ha=edge, va="top",
                fontsize=8.5, color=INK, rotation=90)
    note = " (invented circuit)" if layout.invented else ""
    ax.set_title(f"Pressure along the way: {layout.circuit}{note}", pad=26, fontsize=12)
    ax.legend(title="case", loc="best", frameon=True, framealpha=0.95)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
