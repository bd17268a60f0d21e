"""Drawn values whose numbers are a straight line of what is written: a hundred thousand are worked out from a few.

A random sample of 100 000 lengths is 100 000 texts, each read and made into a hose; that takes far longer than solving. Most
words are a factor or an offset away from their number. Whether a word is, is not assumed but tried.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

import numpy

from ..circuit.cases import overrides_of

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from ..circuit.changes import Overrides
    from ..circuit.circuit import Circuit
    from .axes import Axis

_TRIED = 33  # places between the ends at which the line is tried, both ends among them
_FEWEST = 2 * _TRIED  # values from which this pays
_ON_THE_LINE = 1e-12  # of the larger end: round-off


def straight_rows(circuit: Circuit, axes: Sequence[Axis], still: Mapping[str, object], place: str,
                  check: Callable[[Overrides], object]) -> tuple[list[str], NDArray[numpy.float64], dict[str, dict[str, list[float]]]] | None:
    """Names and rows of a group with one drawn axis, or None where every value has to be read.

    check : function of overrides that raises for what the engine does not take

    A limit beyond which a word means something else lies towards one end, so that it bends the line between the ends.
    """
    if len(axes) != 1:
        return None
    axis, span, drawn = axes[0], axes[0].span, axes[0].numbers
    if span is None or drawn is None or len(axis.values) < _FEWEST:
        return None
    shares = numpy.linspace(0.0, 1.0, _TRIED)
    written = span.written(span.numbers(shares))
    try:
        found = [overrides_of(circuit, {**still, axis.name: value}, place) for value in written]
        for one in found:
            check(one)
    except ValueError:
        return None  # some values may do: read each
    if any(one.demand is not None or one.columns != found[0].columns or list(one.numbers) != list(found[0].numbers) for one in found):
        return None
    tried = numpy.array([list(one.numbers.values()) for one in found])
    first, last = tried[0], tried[-1]
    off = numpy.abs(tried - (first + shares[:, None] * (last - first)))
    if (off > _ON_THE_LINE * numpy.maximum(numpy.abs(first), numpy.abs(last))).any():
        return None
    start, stop = span.ends
    return list(found[0].numbers), first + ((drawn - start) / (stop - start))[:, None] * (last - first), found[0].columns
