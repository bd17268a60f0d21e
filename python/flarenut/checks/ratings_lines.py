"""What is known of each hose and tube of a case as hardware: how much it bears, by its maker, its standard or its material."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from flarenut import catalog
from flarenut.catalog import CatalogError
from flarenut.catalog.hose_ratings import HoseRating
from flarenut.catalog.rows import remembered
from flarenut.catalog.tube_ratings import TubeRating

from .written import notes_of

if TYPE_CHECKING:
    from ..circuit.made_of import MadeOf
    from ..results.case import CaseResult

MAKER = "its maker's figure"


class Rated(NamedTuple):
    """One hose or tube of a case: what it is (`MadeOf`), and what is kept of its rating; None where nothing is."""

    part: str  # the engine's name
    title: str
    line: MadeOf
    rating: HoseRating | TubeRating | None  # `HoseRating` or `TubeRating` at room temperature
    unknown: str  # why there is no rating; ""

    @property
    def is_hose(self) -> bool:
        return self.line.word == "hose"

    @property
    def hose(self) -> HoseRating | None:
        """Its rating where it is hose, and one is kept."""
        return self.rating if isinstance(self.rating, HoseRating) else None

    @property
    def tube(self) -> TubeRating | None:
        """Its rating where it is tube, and one is kept."""
        return self.rating if isinstance(self.rating, TubeRating) else None

    @property
    def called(self) -> str:
        """What it is made to, in words."""
        if self.rating is None:
            return self.line.word
        if isinstance(self.rating, HoseRating):
            return self.rating.standard
        return self.rating.material if "tube" in self.rating.material else f"{self.rating.material} tube"

    def working(self, temperature: float | None) -> tuple[float | None, str]:
        """(working pressure over ambient [Pa] or None, source) at a temperature [K]; its maker's figure beats the table."""
        maker = self.line.shop.maker_pressure
        if self.rating is None:
            return maker, MAKER
        if isinstance(self.rating, HoseRating):
            hot = catalog.derated(self.rating, temperature)
            sources = dict.fromkeys([self.rating.said] if hot.factor in (0.0, 1.0) else [self.rating.said, hot.said])
            cold, factor, source = self.rating.working, hot.factor, "; ".join(sources)
        else:
            tube = catalog.tube_rating(self.rating.material, self.rating.od, self.rating.wall, temperature)
            cold, factor, source = tube.cold, tube.factor, tube.said if "table" in tube.basis else f"{tube.basis}; {tube.said}"
        if maker is not None:
            return factor * maker, MAKER if factor in (0.0, 1.0) else f"{MAKER}, and for heat {source}"
        return (None if cold is None else factor * cold), source


def rated_lines(case: CaseResult, said_only: bool = True) -> list[Rated]:
    """`Rated` of each hose and tube of a case; none where nothing of hardware is said in its circuit, unless they are wanted all the same."""
    notes = notes_of(case)
    if notes is None or said_only and not notes.hardware_said:
        return []
    return [_rated(case, part, line) for part, line in notes.made_of.items() if part in case.part_names]


def bears(case: CaseResult) -> set[str]:
    """Parts whose own working pressure is known, by the engine's names: rules that hold up usual ones leave them alone."""
    notes = notes_of(case)
    return {one.part for one in rated_lines(case) if one.working(None)[0] is not None} | {*(notes.maker_pressures if notes else ())}


def _rated(case: CaseResult, part: str, line: MadeOf) -> Rated:
    return Rated(part, case.layout.title(part), line, *_rating_or_reason(line))


@remembered
def _rating_or_reason(line: MadeOf) -> tuple[HoseRating | TubeRating | None, str]:
    """(rating, "") of a `MadeOf`, or (None, why there is none)."""
    try:
        return _rating(line), ""
    except CatalogError as error:
        return None, error.reason


def _rating(line: MadeOf) -> HoseRating | TubeRating:
    if line.word == "hose":
        named = line.shop.standard or line.named
        if named is None:
            raise CatalogError("standard", None, "no standard is said")
        return catalog.hose_rating(named, line.dash, None if line.dash is not None else line.bore, clamped=line.shop.clamped)
    if line.shop.material is None:
        raise CatalogError("material", None, "no material is said")
    if line.outside is None:
        raise CatalogError("size", None, "no outside diameter is said")
    assert line.wall is not None, "the outside of a tube tells its wall"
    material = line.shop.material
    return catalog.tube_rating(material, line.outside, line.wall)


def words_of(case: CaseResult, one: Rated) -> str:
    """What the builder calls a line and its run, in lower case. Not its circuit: that name is of other lines as well."""
    run = next((run for run, parts in case.layout.runs.items() if one.part in parts), "")
    return f"{one.title} {run}".lower()


def service_said(case: CaseResult, one: Rated) -> str:
    """What a line serves as the builder says of its run or circuit; "" where nobody does."""
    return next((case.layout.services.get(run, "") for run, parts in case.layout.runs.items() if one.part in parts), "")


def hottest(case: CaseResult, part: str) -> float:
    """Highest temperature of the liquid in a line [K]."""
    return max(end.temperature for end in case.ends(part))


def coldest(case: CaseResult, part: str) -> float:
    """Lowest temperature of the liquid in a line [K]."""
    return min(end.temperature for end in case.ends(part))


def inside(case: CaseResult, part: str) -> float:
    """Highest static pressure in a part over ambient [Pa]."""
    return max(end.static for end in case.ends(part)) - case.ambient.si


def vacuum_in(case: CaseResult, part: str) -> float:
    """How far the lowest static pressure in a part lies under ambient [Pa]; below nought where it does not."""
    return case.ambient.si - min(end.static for end in case.ends(part))
