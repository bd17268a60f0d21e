"""Threads of ends, and whether one goes into another: clashes follow from the threads themselves, not from a list of them."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from .rows import CatalogError, table

if TYPE_CHECKING:
    from .ends import End

_INTERNAL_DEPTH = 1.0825  # minor diameter of an ISO 68-1 inside thread is its major diameter less this times the pitch
_SAME_DIAMETER, _SAME_PITCH = 2e-5, 2e-6  # [m]; the tables round to the micrometre, and pitches to half of one
NEAR_PITCH = 0.07  # share of the pitch by which two may differ and still take hold (judgement, see `relation`)
NEAR_DEPTH = 1 / 3  # least share of the depth of thread in mesh (judgement, see `relation`)
NEAR_RULE = "pitches within 7 % and over a third of the thread in mesh (common practice, no source)"


class Thread(NamedTuple):
    """One thread. `major` diameter and `pitch` [m]; `taper` 1/16 or 0; `angle` of its flanks [deg].

    >>> from flarenut.catalog import end
    >>> thread = thread_of(end("-6 37 flare male"))
    >>> thread.designation, round(thread.major * 1e3, 2), round(thread.pitch * 1e3, 3)
    ('9/16-18', 14.29, 1.411)
    """

    designation: str
    major: float
    pitch: float
    taper: float
    angle: float
    source: str
    how: str
    note: str = ""

    @property
    def minor(self) -> float:
        """Minor diameter [m] of the inside thread: what it leaves open before anything is screwed in."""
        return self.major - _INTERNAL_DEPTH * self.pitch


def thread_of(end: End) -> Thread | None:
    """The `Thread` of an `End`; None for quick-connects, barbs and plain tubes, which have none.

    Raises
    ------
    CatalogError : an end that is not in the tables
    """
    return _thread(end.form, end.size)


@cache
def _thread(form: str, size: str) -> Thread | None:
    from .ends import end_forms  # ends and threads read the same tables; nothing of ends is needed before a call

    if form not in end_forms():
        raise CatalogError("end", form, f"no form of end '{form}'", "there are " + ", ".join(end_forms()))
    rows = end_forms()[form].rows
    if end_forms()[form].sizes in ("nominal", "hose", "tube"):
        return None
    found = _straight(rows, size) or _pipe(rows, size) or _metric(rows, size) or _more(rows, size)
    if found is None:
        raise CatalogError("end", size, f"no size {size} of {form} in the tables")
    return found


def _straight(rows: str, size: str) -> Thread | None:
    for row in table("threads_straight.csv"):
        if (row["system"], row["dash"]) == (rows, size):
            return Thread(row["thread"], float(row["thread_major_dia_in"]) * 0.0254, 0.0254 / float(row["threads_per_in"]), 0.0, 60.0,
                          row["source"], row["how"], row["note"])
    return None


def _pipe(rows: str, size: str) -> Thread | None:
    """NPT and NPTF share their sizes. The diameter is that of the pipe, the major diameter where the taper is widest."""
    for row in table("npt_threads.csv"):
        if rows in ("NPT", "NPTF") and row["nominal"] == size:
            return Thread(f"{size}-{row['threads_per_in']} {rows}", float(row["pipe_od_in"]) * 0.0254, 0.0254 / float(row["threads_per_in"]),
                          _ratio(row["taper"]), 60.0, row["source"], row["how"], row["note"])
    return None


def _metric(rows: str, size: str) -> Thread | None:
    for row in table("metric_ports_banjo.csv"):
        if (row["family"], row["thread"]) == (rows, size):
            major, pitch = float(row["male_od_mm"]) * 1e-3, float(row["pitch_mm"]) * 1e-3
            return Thread(size, major, pitch, 0.0, 60.0, row["source"], row["how"], row["note"])
    return None


def _more(rows: str, size: str) -> Thread | None:
    for row in table("threads_more.csv"):
        if (row["family"], row["size"]) == (rows, size):
            return Thread(row["thread"], float(row["major_mm"]) * 1e-3, float(row["pitch_mm"]) * 1e-3, _ratio(row["taper"]),
                          float(row["thread_form_deg"]), row["source"], row["how"], row["note"])
    return None


def _ratio(text: str) -> float:
    """"1:16" as a number, nothing as 0."""
    rise, _, run = text.partition(":")
    return float(rise) / float(run) if run else 0.0


def relation(one: Thread | None, other: Thread | None) -> str:
    """How two threads go together: "same", "near", or "" where they do not take hold.

    Near: the pitches differ by at most 7 %, so that a turn or two go before they jam, and over a third of the deeper thread would be in mesh.
    With less it is felt to be loose and nobody takes it for tight. Both limits are judgement (common practice, no source); they find the
    forced pairs that builders know, such as 3/8-24 in M10x1 or 9/16-18 in M14x1.5, and none of those that lists of clashes call different.

    >>> from flarenut.catalog import end
    >>> relation(thread_of(end("-8 37 flare male")), thread_of(end("-8 O-ring boss female")))
    'same'
    >>> relation(thread_of(end("-3 inverted flare male")), thread_of(end("M10x1 bubble flare female")))
    'near'
    """
    if one is None or other is None:
        return ""
    alike = abs(one.major - other.major) < _SAME_DIAMETER and abs(one.pitch - other.pitch) < _SAME_PITCH
    if alike and one.taper == other.taper and one.angle == other.angle:
        return "same"
    narrow, wide = sorted((one, other), key=lambda thread: (thread.major, thread.pitch))
    if abs(one.pitch - other.pitch) > NEAR_PITCH * max(one.pitch, other.pitch):
        return ""
    mesh = (narrow.major - wide.minor) / (wide.major - wide.minor)
    return "near" if mesh > NEAR_DEPTH else ""


def nominal_tube(end: End) -> float:
    """Outside diameter [m] of the tube that an end is made for, by which steps of size are judged.

    Where the tables pair no tube with a thread (banjo bolts, M8x1) it is that of the 37 degree flare whose thread is nearest in diameter
    (common practice, no source).

    >>> from flarenut.catalog import end
    >>> round(nominal_tube(end("3/4 NPT male")) * 1e3, 2), round(nominal_tube(end("M12x1.5 O-ring port female")) * 1e3, 2)
    (19.05, 8.0)
    """
    if end.size.startswith("-"):
        return int(end.size[1:]) / 16 * 0.0254
    if end.size.endswith(" mm"):
        return float(end.size[:-3]) * 1e-3
    if "-" not in end.size and not end.size.startswith("M"):  # pipe and quick-connect sizes
        top, _, bottom = end.size.partition("/")
        return float(top) / float(bottom or 1) * 0.0254
    for row in table("metric_ports_banjo.csv"):
        if row["thread"] == end.size and row["tube_od_light_mm"]:
            return float(row["tube_od_light_mm"]) * 1e-3
    thread = thread_of(end)
    assert thread is not None, "sizes of forms without a thread ended above"
    major = thread.major
    flares = [row for row in table("threads_straight.csv") if row["system"] == "flare37"]
    nearest = min(flares, key=lambda row: abs(float(row["thread_major_dia_in"]) * 0.0254 - major))
    return float(nearest["tube_od_in"]) * 0.0254
