"""Whether the nut of a flare goes on the outside of a tube."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..catalog import source_in_words
from ..catalog.tubes import flare_dash, nut_tubes
from ..results import COMMON_PRACTICE
from .lines import fraction, is_inch

if TYPE_CHECKING:
    from ..catalog.ends import End
    from ..circuit.made_of import MadeOf


def misfit(end: End, made: MadeOf) -> tuple[str, str]:
    """Why the nut of an `End` does not go on a tube, a `MadeOf`, and the source of that; ("", "") where it does, or where the tables do not tell.

    Flares of 37 and 45 degrees go by the dash of the tube, the metric tubes of ISO 8434-2 among them; the nuts of brake pipe by its outside.

    >>> from flarenut import tube
    >>> from flarenut.catalog import end
    >>> from flarenut.circuit.made_of import made_of
    >>> pipe = made_of(tube("1/4 in", "3 ft", wall="0.028 in"))
    >>> misfit(end("-4 inverted flare male"), pipe)
    ('', '')
    >>> misfit(end("-3 37 flare female"), pipe)[0]
    "'-3 37 flare female' on a tube of -4: nut and sleeve do not fit its outside"
    """
    if made.outside is None:
        return "", ""
    if end.form in ("37 flare", "45 flare"):
        size = made.dash if made.dash is not None else flare_dash(made.outside)
        if size is None or end.size.lstrip("-").lstrip("0") == str(size):
            return "", ""
        return f"'{end}' on a tube of -{size}: nut and sleeve do not fit its outside", COMMON_PRACTICE
    meant = nut_tubes(end.form, end.size)
    if not meant.outsides or any(abs(one - made.outside) <= PLAY for one in meant.outsides):
        return "", ""
    said = f"'{end}' is the nut of {' or '.join(map(_shown, meant.outsides))} tube, and this tube is {_shown(made.outside)}: it does not fit its outside"
    return said, source_in_words(meant.source, meant.how)


PLAY = 1e-4  # [m] between two outsides that take one nut: 3/16 in and 4.75 mm, 5/16 in and 8 mm (judgement, no source)


def _shown(outside: float) -> str:
    return f"{fraction(outside)} in" if is_inch(outside) else f"{outside * 1e3:.4g} mm"
