"""What a hose bears: working pressure, bend radius, temperature, vacuum, by the published specification it is made to.

The dash alone tells none of it. Most numbers are from memory of the standards: verify them before use, and a maker's own
figure beats them. An assembly bears no more than its weaker one, hose or ends.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from ..units.errors import nearest
from .hoses import hose_bore, hose_spec
from .rows import CatalogError, remembered, table
from .sources import said_of, source_in_words

_PROOF = 2.0  # of the working pressure, hydraulic hose of SAE J517 (memory)
_WIDER = 1.03  # a bore that is measured so much wider than a row's still belongs to it
_APART = "not together"  # in the note of a row: not at its highest pressure and its highest temperature at once


class HoseRating(NamedTuple):
    """What a hose is made for. Pressures [Pa] over the air around, lengths [m], temperatures [K]; None where its standard does not say."""

    standard: str
    dash: int | None
    construction: str
    working: float | None
    proof: float | None
    burst: float | None
    bend_radius: float | None  # least, to the inside of the bend, as rubber and PTFE hose is measured (S120, S121, seen)
    coldest: float | None
    hottest: float | None
    vacuum: float | None  # deepest that it bears, below the air around
    bore: float | None
    outside: float | None
    liner: str
    source: str
    how: str
    note: str

    @property
    def apart(self) -> bool:
        """True where it does not bear its highest pressure at its highest temperature."""
        return _APART in self.note

    @property
    def bend_centreline(self) -> float | None:
        """Least bend radius of its centreline [m]: half its outside diameter more. Where that is not known half its bore, which is less, counts."""
        if self.bend_radius is None:
            return None
        return self.bend_radius + 0.5 * (self.outside or self.bore or 0.0)

    @property
    def said(self) -> str:
        """Its source as findings and lists show it: what is from memory says so."""
        return said_of(self)


# What people call hoses that are made to several standards, and which ones these are.
_SEVERAL = {
    "full-size": ("SAE 100R1", "SAE 100R2", "SAE 100R3", "SAE 100R6", "SAE 100R4"),
    "undersize": ("SAE 100R5", "SAE 100R14"),
    "push-on": ("SAE 30R7", "SAE 30R9"),
    "refrigerant": ("SAE J51", "SAE J2064"),
    "SAE J1532": ("SAE J1532 type A class 1", "SAE J1532 type A class 2", "SAE J1532 type A class 3", "SAE J1532 type B"),
}
# What is meant by other spellings, after `_plain`.
_MEANT = {"ptfe": "SAE 100R14", "ptfebraid": "SAE 100R14", "ptfebraided": "SAE 100R14", "braidedptfe": "SAE 100R14", "mediumpressure": "MIL-H-8794",
          "mildtl8794": "MIL-H-8794", "mil8794": "MIL-H-8794", "highpressure": "MIL-H-8788", "mildtl8788": "MIL-H-8788", "mil8788": "MIL-H-8788",
          "mildtl27267": "MIL-H-27267", "mil27267": "MIL-H-27267", "milh6000": "MIL-DTL-6000", "mil6000": "MIL-DTL-6000",
          "100r1at": "SAE 100R1 type S", "100r1s": "SAE 100R1 type S", "100r2at": "SAE 100R2 type S", "100r2s": "SAE 100R2 type S",
          "571106": "FMVSS 106", "j1401": "FMVSS 106", "brakehose": "FMVSS 106", "fmvss571106": "FMVSS 106", "j1532typea": "SAE J1532 type A class 1",
          "j1532a": "SAE J1532 type A class 1", "j1532b": "SAE J1532 type B"}


def _plain(word: str) -> str:
    """Lower case without marks, the word SAE and the J30 or J517 before a class."""
    bare = re.sub(r"[\s_./(),-]+|\bsae\b|\bhose\b", "", word.lower())
    return re.sub(r"^(sae)?(j30(?=r\d|30r)|j517(?=100r))", "", bare).replace("sae", "")


@remembered
def _standards() -> dict[str, str]:
    """Plain spelling to standard."""
    found: dict[str, str] = {}
    for row in (*table("hose_ratings.csv"), *table("hose_classes.csv")):
        plain = _plain(row["standard"])
        found.setdefault(plain, row["standard"])
        if re.fullmatch(r"30r\d+", plain):
            found.setdefault(plain.removeprefix("30"), row["standard"])  # J30R9
    return found | {plain: standard for plain, standard in _MEANT.items() if plain not in found}


def hose_standards() -> list[str]:
    """Every standard that the tables have ratings of.

    >>> "SAE 100R14" in hose_standards() and "SAE 30R9" in hose_standards()
    True
    """
    return list(dict.fromkeys(row["standard"] for row in (*table("hose_ratings.csv"), *table("hose_classes.csv"))))


def hose_standard(word: object) -> str:
    """A standard's name from what people write: "sae 100r14", "J30R9", "ptfe". Case, spaces and hyphens do not matter.

    Raises
    ------
    CatalogError : an unknown one, with the nearest known; a family that is made to several standards, with those

    >>> hose_standard("100r14"), hose_standard("J30R9"), hose_standard("ptfe")
    ('SAE 100R14', 'SAE 30R9', 'SAE 100R14')
    """
    if not isinstance(word, str) or not word.strip():
        raise CatalogError("standard", word, f"{word!r} is no hose standard", 'write standard="SAE 100R14"')
    standards, plain = _standards(), _plain(word)
    if (both := _two_of_a_number(word)) is not None:
        raise CatalogError("standard", word, f"{word!r} may be hydraulic hose {both[0]} or fuel hose {both[1]}", "say which of the two it is")
    if plain in standards:
        return standards[plain]
    several = next((which for family, which in _SEVERAL.items() if _plain(family) == plain), None) or _SEVERAL.get(_family(word) or "")
    if several:
        raise CatalogError("standard", word, f"{word!r} names hoses of several ratings",
                           f"say which standard it is made to, such as {', '.join(several)}; or give its maker's figure, maker_pressure=\"250 psi\"")
    if _family(word) is not None:
        raise CatalogError("standard", word, f"no published rating of {word!r} is kept", 'give its maker\'s figure, maker_pressure="250 psi"')
    hydraulic = re.sub(r"(?i)\bR(?=\d+$)", "100R", word.strip())  # "R1"
    close = hydraulic if _plain(hydraulic) in standards else nearest(word, [*hose_standards(), *standards])
    close = close and standards.get(_plain(close), close)
    raise CatalogError("standard", word, f"no hose standard {word!r}",
                       (f"did you mean '{close}'? " if close else "") + "there are " + ", ".join(hose_standards()))


def _two_of_a_number(word: str) -> tuple[str, str] | None:
    """Both standards that a bare number may stand for, "R14"; None where there is one at most. 100R9 and 100R10 are withdrawn (S15)."""
    bare = re.fullmatch(r"(?:sae)?r(\d+)", re.sub(r"[\s_.-]+|\bhose\b", "", word.lower()))
    if bare is None:
        return None
    fuel, hydraulic = f"SAE 30R{bare[1]}", f"SAE 100R{bare[1]}"
    hydraulics = _plain(hydraulic) in _standards() or _family(hydraulic) is not None
    return (hydraulic, fuel) if hydraulics and _plain(fuel) in _standards() else None


def _family(word: str) -> str | None:
    """The family of catalog/hoses.py that goes by a name; None where none does."""
    try:
        return hose_spec(word).name
    except CatalogError:
        return None


@remembered
def hose_rating(standard: str, dash: int | None = None, bore: float | None = None, clamped: bool = False) -> HoseRating:
    """The `HoseRating` of a hose by the standard that it is made to.

    Where only its bore is known, the row of that bore or the next wider one counts, which bears less.

    Parameters
    ----------
    standard : "SAE 100R14", "30R9", "ptfe" ...
    dash : its size; None where only the bore is known
    bore : measured inside diameter [m]; beats that of the table
    clamped : True where it is held on barbs by clamps; a few standards rate that lower

    Raises
    ------
    CatalogError : no such standard, a size that it has no row of, a family that is made to several standards

    >>> rating = hose_rating("SAE 100R14", 6)
    >>> round(rating.working / 6894.757), round(rating.hottest - 273.15), rating.said
    (1500, 204, 'SAE J517 tables (100R1 to 100R14), from memory: verify before use')
    """
    name = hose_standard(standard)
    rows = [row for row in table("hose_ratings.csv") if row["standard"] == name]
    if rows and not (dash is None and bore is None):
        row = _row_of(name, rows, dash, bore)
        if row is not None:
            return _rated(row, dash, bore)
    classes = [row for row in table("hose_classes.csv") if row["standard"] == name]
    if classes:
        return _classed(classes, dash, bore, clamped)
    sizes = list(dict.fromkeys(f"-{row['dash']}" for row in rows))
    size = f"no size of {name} is said" if dash is None and bore is None else f"no rating of {_size_words(dash, bore)} of {name} is kept"
    raise CatalogError("size", dash, size, f"it is listed in {', '.join(sizes)}; or give its maker's figure, maker_pressure=\"250 psi\"")


def _size_words(dash: int | None, bore: float | None) -> str:
    return f"-{dash}" if dash is not None or bore is None else f"a bore of {bore * 1e3:.1f} mm"


def _row_of(name: str, rows: Sequence[dict[str, str]], dash: int | None, bore: float | None) -> dict[str, str] | None:
    if dash is not None:
        return next((row for row in rows if row["dash"] and int(row["dash"]) == dash), None)
    if bore is None:
        return None
    wide = [row for row in rows if row["bore_mm"] and float(row["bore_mm"]) * 1e-3 * _WIDER >= bore]
    return min(wide, key=lambda row: float(row["bore_mm"]), default=None)


def _number(row: dict[str, str], column: str, scale: float, offset: float = 0.0) -> float | None:
    return float(row[column]) * scale + offset if row.get(column) else None


def _rated(row: dict[str, str], dash: int | None, bore: float | None) -> HoseRating:
    working, proof = _number(row, "working_MPa", 1e6), _number(row, "proof_MPa", 1e6)
    if proof is None and working is not None and row["standard"].startswith("SAE 100R"):
        proof = _PROOF * working
    return HoseRating(row["standard"], dash if dash is not None else int(row["dash"]) if row["dash"] else None, row["construction"], working, proof,
                      _number(row, "burst_MPa", 1e6), _number(row, "bend_radius_mm", 1e-3), *_temperatures(row), _number(row, "vacuum_kPa", 1e3),
                      bore if bore is not None else _number(row, "bore_mm", 1e-3), _number(row, "outside_mm", 1e-3),
                      row.get("liner") or liner_in(row["construction"]), row["source"], row["how"], row["note"])


def liner_in(construction: str) -> str:
    """What the liner is made of, by the words of a construction that do not name it.

    >>> liner_in("PTFE tube, stainless braid"), liner_in("rubber, one wire braid")
    ('PTFE', 'nitrile rubber')
    """
    return "PTFE" if "ptfe" in construction.lower() else "nitrile rubber"


def _temperatures(row: dict[str, str]) -> tuple[float | None, float | None]:
    return _number(row, "temperature_min_C", 1.0, 273.15), _number(row, "temperature_max_C", 1.0, 273.15)


def _classed(rows: Sequence[dict[str, str]], dash: int | None, bore: float | None, clamped: bool) -> HoseRating:
    """A standard that is known as a class: one row, or one for each range of bores or way of fastening."""
    if bore is None and dash is not None:
        try:
            bore = hose_bore(dash, rows[0]["standard"]).bore
        except CatalogError:
            bore = None
    rows = [row for row in rows if not row["clamped"] or (row["clamped"] == "yes") == bool(clamped)]
    fitting = [row for row in rows if not row["bore_max_mm"] or bore is not None and bore * 1e3 <= float(row["bore_max_mm"])]
    row = fitting[0]
    use = row["use"] if bore is not None or len(rows) == 1 else f"{row['use']} (bore not said: that of wide hose)"
    return HoseRating(row["standard"], dash, use, _number(row, "working_MPa", 1e6), _number(row, "proof_MPa", 1e6), _number(row, "burst_MPa", 1e6),
                      None, *_temperatures(row), None, bore, None, row["liner"], row["source"], row["how"], row["note"])


def bore_range(standard: str, dash: int | None) -> tuple[float, float] | None:
    """Least and greatest bore [m] that a standard allows a size; None where none is kept. The least is on the safe side for pressure drop.

    >>> [round(bore * 1e3, 1) for bore in bore_range("100R2", 6)]
    [9.3, 10.1]
    """
    name = hose_standard(standard)
    for row in table("hose_id_tolerance.csv"):
        if name in row["standards"].split("|") and int(row["dash"]) == dash:
            return float(row["bore_min_mm"]) * 1e-3, float(row["bore_max_mm"]) * 1e-3
    return None


def design_ratio(service: str) -> tuple[float, float]:
    """Burst over working pressure, least and greatest, that hose of a service is designed for; by a part of the service's name.

    >>> design_ratio("hydraulic")
    (4.0, 4.0)
    """
    for row in table("hose_design_ratio.csv"):
        if service.lower() in row["service"].lower():
            return float(row["ratio_low"]), float(row["ratio_high"])
    services = [row["service"] for row in table("hose_design_ratio.csv")]
    raise CatalogError("service", service, f"no design ratio of service {service!r}", "there are " + "; ".join(services))


def permeation_note(standard: str) -> str:
    """What should be said of gasoline vapour through the wall of a hose in a closed space; "" where nothing is known or little passes.

    >>> "closed space" in permeation_note("SAE 30R7")
    True
    """
    try:
        name = hose_standard(standard)
    except CatalogError:
        return ""
    row = next((row for row in table("hose_classes.csv") if row["standard"] == name and row["permeation_g_m2_day"]), None)
    if row is None or float(row["permeation_g_m2_day"]) < 100.0:
        return ""
    return (f"gasoline passes through the wall of {name}, some {row['permeation_g_m2_day']} g a day through each square metre "
            f"({source_in_words(row['source'], row['how'])}): not for a closed space such as a trunk; SAE 30R9, PTFE or hard line lets far less through")
