"""Fittings: bores by dash, and the constants of elbows by form and angle."""

from functools import cache

from ..units.errors import nearest
from .rows import CatalogError, table

# Form and angle to a row of fitting_constants.csv; two forms that the table lacks are given in full.
# "swept": formed ends and long-radius elbows; "forged": a sharp turn drilled or screwed.
_ELBOWS: dict[str, dict[int, str | tuple[float, float, float]]] = {
    "forged": {45: (500.0, 0.071, 4.2), 90: (800.0, 0.14, 4.0), 180: "D14"},  # Darby 2001, threaded, standard; memory
    "swept": {45: "D11", 90: "D02", 180: "D15"},
}


@cache
def _constants(key: str) -> tuple[float, float, float]:
    row = next(row for row in table("fitting_constants.csv") if row["key"] == key)
    return float(row["k_one"]), float(row["value"]), float(row["k_d"])


def elbow_constants(form: str, angle: float) -> tuple[float, float, float]:
    """K1, Ki and Kd of the three-K method (R. Darby) for an elbow.

    Between 45, 90 and 180 degrees, and from nothing at 0, the first two are taken in proportion (common practice, no
    source).

    Parameters
    ----------
    form : "forged" (sharp turn) or "swept" (formed, long radius)
    angle : [deg], above 0 to 180

    Raises
    ------
    CatalogError : another form

    >>> elbow_constants("swept", 90.0)
    (800.0, 0.071, 4.2)
    """
    if not isinstance(form, str) or form not in _ELBOWS:
        close = nearest(str(form), _ELBOWS)
        raise CatalogError("form", form, f"no elbow of form {form!r}",
                           (f"did you mean '{close}'? " if close else "") + "there are forged (sharp turn) and swept (formed end)")
    rows = {at: _constants(row) if isinstance(row, str) else row for at, row in _ELBOWS[form].items()}
    knots = [(0.0, (0.0, 0.0, rows[45][2])), *sorted(rows.items())]
    for (low, before), (high, after) in zip(knots, knots[1:]):
        if angle <= high:
            share = (angle - low) / (high - low)
            one, incremental, shape = (a + share * (b - a) for a, b in zip(before, after))
            return one, incremental, shape
    raise CatalogError("angle", angle, f"an elbow of {angle:g} degrees", "an elbow turns up to 180 degrees")


def fitting_bore(dash: int) -> float:
    """Through-bore [m] of a 37 degree fitting of a dash size.

    Raises
    ------
    CatalogError : a size that is not in the table

    >>> round(fitting_bore(8) * 1e3, 2)
    9.93
    """
    for row in table("fitting_bores.csv"):
        if int(row["dash"]) == dash:
            return float(row["bore_in"]) * 0.0254
    sizes = ", ".join(f"-{row['dash']}" for row in table("fitting_bores.csv"))
    raise CatalogError("size", f"-{dash}", f"no bore of a -{dash} fitting in the table",
                       f"the table holds {sizes}; or measure the bore and give it as 'bore'")
