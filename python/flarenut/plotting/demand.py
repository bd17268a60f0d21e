"""Rail pressure over demand: what a wider feed or return is worth as the engine takes more."""

import numpy

from .data import checked, coordinate_of, fixed_words, laid_out, names_of, numbers_of, spoken
from .frame import axes_for, circuit_of, dress, folded, legend, with_unit
from .palette import style

_DEMANDS = ("power", "duty")


def demand_picture(answer, *, output="rail.gauge", over=None, lines=None, ax=None, units="us"):
    """Draws a pressure over what the engine asks for, one line for each size of a hose.

    Parameters
    ----------
    answer : Dataset of `flarenut.sweep` over "power" or "duty", and over sizes: {"duty": [...], "return hose.size": ["-6", "-8"]}
    output : name of the pressure, or of any other reading
    over : dimension along the axis; "power", "duty" or a place's demand unless given
    lines : dimension that has a line for each value; the one that is left unless given
    ax : matplotlib Axes to draw in; a new figure's unless given
    units : "us" for psi, "metric" for bar

    Returns
    -------
    the Axes

    Raises
    ------
    ValueError : no such output or dimension, or a dimension that is neither along the axis nor has lines

    Examples
    --------
    ``demand_picture(fn.sweep(car, {"duty": [0.1, 0.5, 0.9], "return hose.size": ["-6", "-8"]}, cases="full power"))``
    """
    checked(units)
    if over is None:
        over = next((name for name in answer.dims if name.rpartition(".")[2] in (*_DEMANDS, "demand")), None)
        if over is None:
            raise ValueError(f"the answer was not swept over power, duty or a demand: say 'over', one of {', '.join(map(str, answer.dims))}")
    variable, lines = laid_out(answer, output, over, lines)
    values, unit = numbers_of(variable, units)
    across, across_unit, words = coordinate_of(answer, over, units)
    if across is None:
        raise ValueError(f"{over!r} holds words, not numbers in one unit")
    ax = axes_for(ax)
    for number, (name, row) in enumerate(zip(names_of(answer, lines, units), numpy.atleast_2d(values), strict=True)):
        ax.plot(across, row, label=folded(name), **style(number))
    what = variable.attrs.get("long_name", output)
    missing = int(numpy.isnan(values).sum())
    note = ". ".join(filter(None, [fixed_words(answer, variable, units), f"{missing} of {values.size} points have no answer" if missing else ""]))
    dress(ax, title=" · ".join(filter(None, [f"{what} over {words}", circuit_of(answer)])), note=note, x=with_unit(words, across_unit),
          y=with_unit(what, unit))
    ax.margins(y=0.12)
    if lines:
        legend(ax, spoken(lines))
    return ax
