"""The words of a `Circuit` for what liquid passes: runs of parts, tees, injectors."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from .errors import CircuitError, located
from .parts_multiport import injectors as injector_piece
from .parts_multiport import tee as tee_piece
from .piece import Piece, checked_name
from .places import Run
from .shop import ends_of
from .spoken import faces_of, service_of

if TYPE_CHECKING:
    from .compile import Compiled
    from .places import Junction


class RunWords:
    """What a `Circuit` is plumbed of."""

    junctions: dict[str, Junction]
    runs: dict[str, Run]
    multiport: dict[str, tuple[Piece, list[str]]]
    _compiled: Compiled | None

    if TYPE_CHECKING:  # of `Circuit`
        def _need_all(self, named: Mapping[str, str], place: str) -> None: ...
        def need_references(self, piece: Piece, place: str) -> None: ...

    def run(self, name: str, from_: str, to: str, parts: Sequence[Piece], meets: Sequence[str] | None = None, faces: object = None,
            service: str | None = None) -> None:
        """Parts in series, in the order the liquid meets them, from one junction to another.

        Junctions that are not named elsewhere come to be here; "ambient" and "manifold" are open air until given.

        Parameters
        ----------
        name : what tables and messages call it
        from_ : junction or tank where it begins
        to : junction or tank where it ends
        parts : list of parts, each made by a builder; in a file each a table with its key `part`
        meets : what its two ends are screwed into, ["-8 O-ring boss female", "3/8 NPT female"]; "" for one that is not known
        faces : which way those two ports face, out of the place: ["up", "back"], or [forward, left, up] in numbers, [1, 0, 1]; "" for unknown
        service : what it serves where that is not what its circuit does: "brakes", "clutch", "steering" or "other"
        """
        name = checked_name(name)
        place = f"run '{name}'"
        pieces: list[Any] = list(parts) if isinstance(parts, (list, tuple)) else [parts]
        for number, piece in enumerate(pieces, 1):
            if not isinstance(piece, Piece):
                raise CircuitError(f"{piece!r} is not a part", "make it with a builder such as hose(...)", place=f"{place}, part {number}")
        if not pieces:
            raise CircuitError("it has no parts", "list at least one, such as a hose", place=place, key="parts", value=parts)
        if name in self.runs:
            raise CircuitError("the name is used twice", "runs need names of their own", place=place, key="name", value=name)
        if from_ == to:
            raise CircuitError(f"it begins and ends at '{to}'", "a run joins two different junctions", place=place, key="to", value=to)
        try:
            ports = (None, None) if meets is None else ends_of(meets, 2, "meets")
            facing, serves = (None, None) if faces is None else faces_of(faces, 2), service_of(service)
        except CircuitError as error:
            raise error.at(place) from None
        self._need_all({"from": from_, "to": to}, place)
        self.runs[name] = Run(name, from_, to, pieces, ports, facing, serves)
        for piece in pieces:
            self.need_references(piece, place)
        self._compiled = None

    def tee(self, name: str, run1: str, run2: str, branch: str, *, size: str | None = None, bore: str | None = None,
            branch_size: object = None, branch_bore: object = None, angle: int = 90, ends: Sequence[str] | None = None) -> None:
        """A tee or wye between three junctions: its straight-through ends, and its branch.

        Parameters
        ----------
        name : what tables and messages call it
        run1, run2 : junctions at its straight-through ends
        branch : junction at its branch
        size : of the straight-through ends, a dash size, "-8"; not needed with `bore`
        bore : of the straight-through ends, "8.7 mm"
        branch_size, branch_bore : of the branch; the same unless given
        angle : in degrees, between the branch and the `run2` end: 90 for a tee, 45 for a wye that leans that way
        ends : what it offers at run1, run2 and branch to be screwed onto, three of "-8 37 flare male"
        """
        piece = self._made(tee_piece, name, size=size, bore=bore, branch_size=branch_size, branch_bore=branch_bore, angle=angle, ends=ends)
        self._multiport(name, piece, {"run1": run1, "run2": run2, "branch": branch})

    def injectors(self, name: str, at: str, *, count: int, flow: str, duty: object = None, to: str = "manifold",
                  rated_with: object = None) -> None:
        """The injectors of one rail.

        Parameters
        ----------
        name : what tables and messages call it
        at : junction they draw from, "rail"
        count : how many
        flow : of one held open, "1000 cc/min at 3 bar"
        duty : share of the time they flow, "85 %"; a case may set it; 100 % where neither says
        to : where they squirt
        rated_with : liquid on the flow bench; test fluid (n-heptane) unless given
        """
        piece = self._made(injector_piece, name, count=count, flow=flow, duty=duty, rated_with=rated_with)
        self._multiport(name, piece, {"at": at, "to": to})

    def _made(self, maker: Callable[..., Any], name: str, **words: object) -> Piece:
        try:
            found: Piece = maker(**words)
            return found
        except ValueError as error:
            raise located(error, f"{maker.__name__} '{name}'") from None

    def _multiport(self, name: str, piece: Piece, ends: dict[str, str]) -> None:
        place = f"{piece.word} '{checked_name(name)}'"
        if name in self.multiport or name in self.junctions:
            raise CircuitError("the name is used twice", "parts and junctions need names of their own", place=place, key="name", value=name)
        self._need_all(ends, place)
        piece.name = name
        self.multiport[name] = (piece, list(ends.values()))
        self._compiled = None
