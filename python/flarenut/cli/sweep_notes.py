"""What a sweep's answer tells beside its rows: pumps with far too many volts, points that boil, findings, reasons."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING
from collections.abc import Sequence

import numpy

from ..units import in_one

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from xarray import Dataset

MARGIN = "margin_to_boiling"
STOPS, WORST = "findings_stop", "worst_finding"
COUNTS = (STOPS, "findings_fix")  # which the worst finding of a row stands for
_MOST_CODES = 4
_BESIDE = (".suction_limit", ".suction_degrees_bound")  # stand beside a suction margin and degrees to boiling by themselves


def unasked(answer: Dataset, asked: Sequence[str]) -> list[object]:
    """Outputs that nobody asked for by name: limits and bounds that stand beside what they are of."""
    return [name for name in answer.data_vars if str(name).endswith(_BESIDE) and name not in asked]


def notes_of(answer: Dataset) -> list[str]:
    """Sentences of an answer as a whole."""
    told = json.loads(answer.attrs.get("notes", "[]"))
    return [words for words in [*(f"{note[0].upper()}{note[1:]}." for note in told), boiling_in_words(answer), findings_in_words(answer)] if words]


def boiling(answer: Dataset) -> NDArray[numpy.bool_]:
    """Which points boil somewhere: the laws are those of a liquid, so that their numbers are not to be had."""
    return answer[MARGIN].values <= 0.0


def boiling_in_words(answer: Dataset) -> str:
    """How many points boil, as a sentence; "" where none does."""
    count = int(boiling(answer).sum())
    return count and (f"The liquid boils somewhere in {count:,} of {answer['status'].size:,}: what is shown of them is not to be had. Solve one of them "
                      "alone to see where, and what cures it.") or ""


def findings_in_words(answer: Dataset) -> str:
    """How many points have a STOP, how many a FIX and no STOP, and what is worst most often; "" where nobody looked."""
    if STOPS not in answer:
        return ""
    stops, fixes, worst = (answer[name].values for name in (STOPS, "findings_fix", WORST))
    looked = stops >= 0
    counts, words = numpy.bincount(worst[looked]), json.loads(answer[WORST].attrs["words"])
    often = [f"{words[place]} in {counts[place]:,}" for place in numpy.argsort(-counts, kind="stable")[:_MOST_CODES]
             if counts[place] and words[place].startswith(("STOP", "FIX"))]
    return (f"Findings of {int(looked.sum()):,} points: {int((stops > 0).sum()):,} have a STOP, {int(((stops == 0) & (fixes > 0)).sum()):,} a FIX and no "
            f"STOP{'; worst most often: ' * bool(often)}{', '.join(often)}. Solve one of them alone to read what it says and what cures it.")


def reasons_of(answer: Dataset) -> list[tuple[str, int]]:
    """(words, points) of every reason for which points have no answer, the commonest first."""
    places = answer["reason"].values.ravel()
    counts = numpy.bincount(places[places >= 0])
    words = json.loads(answer["reason"].attrs["words"])
    units = answer.attrs.get("unit_system")
    return [(in_one(words[place], units), int(counts[place])) for place in numpy.argsort(-counts, kind="stable") if counts[place]]
