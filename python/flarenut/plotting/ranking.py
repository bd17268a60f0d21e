"""The ranked shares below the ladder: which part costs what of the pressure that the parts of a run lose."""

from ..units import digits, preferred_unit, to
from .palette import FAINT, INK, QUIET, style

_MOST_ROWS, _MOST_RUNS = 6, 2
_NAMES, _LOSSES = 0.13, 0.10  # of the width of the picture, beside each ranking
_LONGEST_NAME = 20


def draw_rankings(ax, cases, runs, units, bottom, height):
    """A ranking each for the run or two that lose most, side by side at the bottom of `ax`.

    A row is a part, a mark is a case, at the part's share of what all parts of the run lose to friction in that case.
    Beside it stands the most that the part costs in any case.

    Parameters
    ----------
    ax : matplotlib Axes to draw in
    cases : solved cases
    runs : names of the runs, in the order to draw them
    units : "us" or "metric"
    bottom, height : of the rankings, as shares of the Axes
    """
    ranked = {run: found for run in runs if (found := _ranked(cases, run))}
    costly = sorted(ranked, key=lambda run: -sum(max(map(_loss, found.values())) for found in ranked[run].values()))[:_MOST_RUNS]
    shown = [run for run in ranked if run in costly]
    for number, run in enumerate(shown):
        width = 1.0 / len(shown)
        inset = ax.inset_axes([number * width + _NAMES * (number > 0), bottom, width - _LOSSES - _NAMES * (number > 0), height])
        _draw(inset, cases, ranked[run], run, units)


def _loss(share):
    return share.loss.si


def _ranked(cases, run):
    """Part -> case -> `Share`, the part with the greatest loss in any case first."""
    found = {}
    for case in cases:
        way = case.losses(run)
        for one in way.shares if way else ():
            if one.share == one.share:
                found.setdefault(one.part, {})[case.name] = one
    return dict(sorted(found.items(), key=lambda entry: -max(map(_loss, entry[1].values()))))


def _draw(ax, cases, ranked, run, units):
    rows = list(ranked)[:_MOST_ROWS]
    for place, part in enumerate(rows):
        ax.axhline(place, color=FAINT, linewidth=0.6, zorder=0)
        for number, case in enumerate(cases):
            if case.name in ranked[part]:
                ax.plot(100 * ranked[part][case.name].share, place, clip_on=False, **style(number) | {"linestyle": "none", "markersize": 5.5})
        most = max(map(_loss, ranked[part].values()))
        unit = preferred_unit("pressure_difference", units, most)
        ax.text(1.02, place, f"{'max ' if len(cases) > 1 else ''}{digits(to(most, unit, 'pressure_difference'))} {unit}",
                transform=ax.get_yaxis_transform(), va="center", fontsize=8.5, color=INK)
    ax.set_yticks(range(len(rows)), [name if len(name) <= _LONGEST_NAME else name[: _LONGEST_NAME - 1] + "…" for name in rows], fontsize=8.5)
    ax.tick_params(axis="y", length=0)
    ax.tick_params(axis="x", labelsize=8)
    ax.set_ylim(len(rows) - 0.4, -0.6)
    ax.set_xlim(left=0)
    ax.set_xlabel(f"share of the friction loss in '{run}' [%]", fontsize=8.5, color=QUIET, labelpad=1)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
