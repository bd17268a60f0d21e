"""Ends: what a hose, a port or a fitting offers to be joined to. Form, size and sex, read from a builder's words.

Sex is that of the thread, as the trade says it: the nut of a flared tube is female in 37 and 45 degree flares, male in inverted and bubble
flares, where it screws into its port. A banjo is male with its bolt and female as a port; a spigot is male and the hose clamped on it female.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Any, NamedTuple

from .end_words import plain, read
from .rows import table

# Where the through-bore of a form is taken from; forms that are not named have none in the tables.
_LIKE_37_FLARE = {"37 flare", "45 flare", "inverted flare", "O-ring boss"}
_PIPE = {"NPTF": "NPT", "BSPT": "NPT"}  # their fittings are taken to be bored alike
_BRAKE_NUTS = {"bubble flare", "metric double flare"}
_LIKE_DASH = {("bubble flare", "M10x1"): "-3", ("metric double flare", "M10x1"): "-3", ("bubble flare", "M12x1"): "-4"}  # by their tubes
BORES_FROM_NPT = "taken as that of the NPT fitting of its size (common practice, no source)"
BORES_FROM_37_FLARE = "taken as that of the 37 degree fitting of the same dash (common practice, no source)"


class EndForm(NamedTuple):
    """One form of end. `sexes` is empty where the form has none; `male` and `female` say in words what each of them is."""

    name: str
    spellings: tuple[str, ...]
    sizes: str  # how its size is written: "dash", "pipe", "thread", "nominal", "hose", "tube"
    rows: str  # under what name its threads stand in the tables
    family: str  # forms of one family seal with each other
    sexes: tuple[str, str]
    unsaid: str  # the sex meant where none is said, "" where it has to be said
    male: str
    female: str
    male_words: tuple[str, ...]
    female_words: tuple[str, ...]
    on_adapter: tuple[str, ...]  # the sexes that a fitting can carry: there is no adapter with a hose end to be clamped
    seat_deg: str
    seals_on: str
    sealant: str  # "needed", "optional", "none"
    standard: str
    source: str
    how: str
    note: str

    @property
    def is_flare(self) -> bool:
        """Whether it seals metal on metal, on a flared tube or its like."""
        return "flare" in self.name


class End(NamedTuple):
    """One end. `turn` [deg], 0 for a straight one; `bore` [m] as measured, or None; `material` of it, "" where nobody says.

    >>> one = end("37 flare -8 female, 90 deg, bore 9.5 mm")
    >>> one.form, one.size, one.sex, one.turn, one.bore
    ('37 flare', '-8', 'female', 90.0, 0.0095)
    >>> str(one)
    '-8 37 flare female, 90 deg, bore 9.5 mm'
    """

    form: str
    size: str
    sex: str = ""
    turn: float = 0.0
    bore: float | None = None
    material: str = ""

    @property
    def through(self) -> float | None:
        """Narrowest bore [m] on the way through: measured, else of the tables, else None."""
        return self.bore if self.bore is not None else _bore_row(self.form, self.size, self.sex)[0]

    @property
    def how(self) -> str:
        """How `through` is known: "measured", "seen", "memory", or "" where it is not."""
        return "measured" if self.bore is not None else _bore_row(self.form, self.size, self.sex)[1]

    @property
    def bore_source(self) -> str:
        """Where `through` comes from, in words; "" where it is not known."""
        return "measured" if self.bore is not None else _bore_row(self.form, self.size, self.sex)[2]

    @property
    def opposite(self) -> End | None:
        """The straight end that this one is made to be joined to; a form without sexes has None."""
        other = {"male": "female", "female": "male"}.get(self.sex)
        return End(self.form, self.size, other) if other else None

    def __str__(self) -> str:
        words = [" ".join(word for word in (self.size, self.form, self.sex) if word)]
        words += [f"{self.turn:g} deg"] if self.turn else []
        words += [f"bore {self.bore * 1e3:.12g} mm"] if self.bore is not None else []
        words += [self.material] if self.material else []
        return ", ".join(words)


@cache
def end_forms() -> dict[str, EndForm]:
    """Every `EndForm` by name.

    >>> list(end_forms())[:3]
    ['37 flare', '45 flare', 'inverted flare']
    """
    several = {"spellings", "sexes", "male_words", "female_words", "on_adapter"}
    forms: dict[str, EndForm] = {}
    for row in table("end_forms.csv"):
        values: dict[str, Any] = {key: tuple(part for part in text.split("|") if part) if key in several else text for key, text in row.items()}
        forms[row["form"]] = EndForm(values.pop("form"), **values)
    return forms


@cache
def end_sizes(form: str) -> tuple[str, ...]:
    """Sizes [text] that the tables hold of a form, smallest first. Barbs and plain tubes come in others too.

    >>> end_sizes("NPT")
    ('1/16', '1/8', '1/4', '3/8', '1/2', '3/4', '1')
    """
    rows = end_forms()[form].rows
    tables = {"dash": ("threads_straight.csv", "system", "dash"), "nominal": ("quick_connect.csv", None, "nominal")}
    kind = end_forms()[form].sizes
    if kind in ("hose", "tube"):
        return tuple(f"-{dash}" for dash in (2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32))
    if rows in ("NPT", "NPTF"):
        return tuple(row["nominal"] for row in table("npt_threads.csv"))
    if kind in tables:
        name, key, column = tables[kind]
        return tuple(row[column].partition(" ")[0] for row in table(name) if key is None or row[key] == rows)
    more = tuple(row["size"] for row in table("threads_more.csv") if row["family"] == rows)
    return more or tuple(row["thread"] for row in table("metric_ports_banjo.csv") if row["family"] == rows)


@cache
def end(text: str) -> End:
    """The `End` of a builder's words, in any order and case.

    Parameters
    ----------
    text : "-8 37 flare male", "O-ring boss -6 female", "3/8 NPT female", "M12x1.5 O-ring port female", "banjo M12x1.5",
        "37 flare -8 female, 90 deg, bore 9.5 mm", "-6 O-ring boss female, aluminium" ...

    Raises
    ------
    CatalogError : no form or two, an unknown size, a sex left unsaid, a word that is not known (with the nearest that is)

    >>> str(end("AN-6 swivel"))
    '-6 37 flare female'
    >>> str(end("9/16-18 ORB port"))
    '-6 O-ring boss female'
    """
    return End(*read(text, end_forms(), _spellings, end_sizes))


@cache
def _spellings(metric: bool) -> dict[str, str]:
    """Name of every spelling, longest first. "O-ring port" and "double flare" go by whether the thread is metric."""
    spelled = {plain(spelling): name for name, form in end_forms().items() for spelling in (name, *form.spellings)}
    spelled |= {"o ring port": "metric O-ring port" if metric else "O-ring boss"}
    if metric:
        spelled |= {"double flare": "metric double flare", "inverted flare": "metric double flare"}
    return {spelling: spelled[spelling] for spelling in sorted(spelled, key=len, reverse=True)}


@cache
def _bore_row(form: str, size: str, sex: str) -> tuple[float | None, str, str]:
    """Through-bore [m] of an end by the tables, how it is known and from where. A hose that is clamped on a barb has its own."""
    size = _LIKE_DASH.get((form, size), size)
    if form in _LIKE_37_FLARE or form == "barb" and sex == "male" or size.startswith("-") and form in _BRAKE_NUTS:
        for row in table("fitting_bores.csv"):
            if f"-{row['dash']}" == size:
                note = "" if form == "37 flare" else f", {BORES_FROM_37_FLARE}"
                return float(row["bore_in"]) * 0.0254, row["how"], f"{row['source']}{note}"
    for row in table("end_bores.csv"):
        if (row["form"], row["size"]) == (_PIPE.get(form, form), size):
            note = "" if form in ("NPT", row["form"]) else f", {BORES_FROM_NPT}"
            return float(row["bore_in"]) * 0.0254, row["how"], f"{row['source']}{note}"
    if form == "quick-connect":
        for row in table("quick_connect.csv"):
            if row["nominal"].partition(" ")[0] == size:
                estimate = float(row["flow_bore_estimate_mm"]) * 1e-3
                return estimate, row["how"], f"{row['source']}, an estimate: outside diameter less two walls"
    if form == "banjo" and _is_brake_banjo(size):
        row = next(row for row in table("metric_ports_banjo.csv") if row["family"] == "banjo bolt bore")
        narrow = re.findall(r"[\d.]+", row["female_id_mm"])[0]  # "3.0 to 4.0": the narrower is the careful one
        return float(narrow) * 1e-3, row["how"], f"{row['source']}, the narrower of {row['female_id_mm']} mm"
    return None, "", ""


def _is_brake_banjo(size: str) -> bool:
    return any(row["family"] == "banjo bolt" and row["thread"] == size and "brake" in row["note"] for row in table("metric_ports_banjo.csv"))
