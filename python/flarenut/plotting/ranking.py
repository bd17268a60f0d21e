"""The ranked shares below the ladder: which part costs what of the pressure that the parts of a run lose."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from ..units import digits, to
from .palette import FAINT, INK, QUIET, style

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from ..results.case import CaseResult
    from ..results.shares import Share, Way

_MOST_ROWS, _MOST_WAYS = 6, 2
_NAMES, _LOSSES = 0.15, 0.115  # of the width of the picture, beside each ranking
_LONGEST_NAME = 20


def draw_rankings(ax: Axes, cases: Sequence[CaseResult], runs: Sequence[str], unit: str, bottom: float,
                  height: float, *, whole: bool) -> None:
    """Two rankings side by side at the bottom of `ax`: of the way that feeds, and of the costliest run beside it.

    A row is a part, a mark is a case, at the part's share of what all parts of the way lose to friction in that case.
    Beside it stands the most that the part costs in any case.

    Parameters
    ----------
    ax : matplotlib Axes to draw in
    cases : solved cases
    runs : names of the runs that are drawn, in their order
    unit : of the losses beside the rows, that of the ladder
    bottom, height : of the rankings, as shares of the Axes
    whole : True where the whole circuit is drawn; else only the runs are ranked
    """
    shown = _rankings(cases, runs, whole)
    for number, (name, ranked) in enumerate(shown.items()):
        width = 1.0 / len(shown)
        inset = ax.inset_axes((number * width + _NAMES * (number > 0), bottom, width - _LOSSES - _NAMES * (number > 0), height))
        _draw(inset, cases, ranked, name, unit)


def _rankings(cases: Sequence[CaseResult], runs: Sequence[str], whole: bool) -> dict[str, dict[str, dict[str, Share]]]:
    """Name of a way -> what its parts cost, of two ways at most."""
    found = {}
    if whole:
        ways = {case.name: case.feed for case in cases}
        known = [way for way in ways.values() if way]
        if known:
            found[f"{known[0].start} to {known[0].stop}"] = _ranked(ways)
    on_way = {part for ranked in found.values() for part in ranked}
    ranked = {run: one for run in runs if (one := _ranked({case.name: case.losses(run) for case in cases}))}
    others = [run for run in ranked if not on_way.intersection(ranked[run])]
    costly = sorted(others, key=lambda run: -sum(max(map(_loss, one.values())) for one in ranked[run].values()))
    chosen = costly[:_MOST_WAYS - len(found)]
    return found | {run: ranked[run] for run in others if run in chosen}


def _loss(share: Share) -> float:
    return share.loss.si


def _ranked(ways: Mapping[str, Way] | dict[str, Way | None]) -> dict[str, dict[str, Share]]:
    """Part -> case -> `Share`, the part with the greatest loss in any case first."""
    found: dict[str, dict[str, Share]] = {}
    for case, way in ways.items():
        for one in way.shares if way else ():
            if one.share == one.share:
                found.setdefault(one.part, {})[case] = one
    return dict(sorted(found.items(), key=lambda entry: -max(map(_loss, entry[1].values()))))


def _draw(ax: Axes, cases: Sequence[CaseResult], ranked: Mapping[str, Mapping[str, Share]], name: str, unit: str) -> None:
    rows = list(ranked)[:_MOST_ROWS]
    for place, part in enumerate(rows):
        ax.axhline(place, color=FAINT, linewidth=0.6, zorder=0)
        for number, case in enumerate(cases):
            if case.name in ranked[part]:
                ax.plot(100 * ranked[part][case.name].share, place, clip_on=False, **style(number) | {"linestyle": "none", "markersize": 5.5})
        most = to(max(map(_loss, ranked[part].values())), unit, "pressure_difference")
        ax.text(1.02, place, f"{'max ' if len(cases) > 1 else ''}{_rounded(most)} {unit}", transform=ax.get_yaxis_transform(), va="center", fontsize=8.5,
                color=INK)
    ax.set_yticks(range(len(rows)), [part if len(part) <= _LONGEST_NAME else part[: _LONGEST_NAME - 1] + "…" for part in rows], fontsize=8.5)
    ax.tick_params(axis="y", length=0)
    ax.tick_params(axis="x", labelsize=8)
    ax.set_ylim(len(rows) - 0.4, -0.6)
    ax.set_xlim(left=0)
    ax.set_xlabel(f"share of the friction loss, {name} [%]", fontsize=8.5, color=QUIET, labelpad=1)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)


def _rounded(loss: float) -> str:
    """Three digits, of next to nothing three decimals: more would reach into what stands beside it.

    >>> _rounded(0.2653), _rounded(0.00464), _rounded(0.000342)
    ('0.265', '0.005', 'under 0.001')
    """
    if loss >= 0.1:
        return digits(loss)
    return f"{loss:.3f}" if loss >= 0.0005 else "under 0.001"
