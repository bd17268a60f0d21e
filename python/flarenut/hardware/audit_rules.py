"""What an audit finds: of each joint, and of what stands in a row. Findings hold for every case."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from collections.abc import Iterator, Sequence

from ..catalog import CatalogError, compatible, end_forms, hose_rating, hose_spec, source_in_words
from ..catalog.assembly import assembly_rule
from ..circuit.compile import piece_names
from ..circuit.made_of import line_of, made_of
from ..circuit.spoken import under_a_foot
from ..results import COMMON_PRACTICE, Finding
from .end_findings import end_findings
from .joints import FITTINGS, named_pieces
from .nuts import misfit
from .sealants import sealant_source

if TYPE_CHECKING:
    from ..catalog.ends import End
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece
    from ..circuit.places import Run
    from .audit import CheckedJoint
    from .joints import Joint

_NO_CLAMP = ("ptfe", "medium-pressure", "high-pressure")  # families of hose: PTFE, wire-braided
RESERVOIR = 'the unpressed hose of a reservoir is a run of its own, service = "other"'
_LOOK = "measure both threads and look at both seats before anything is tightened"


def findings_of(circuit: Circuit, joints: Sequence[CheckedJoint], prefix: str = "") -> list[Finding]:
    """Findings of a circuit's `CheckedJoint`s; `prefix` goes before places."""
    found = [finding for checked in joints for finding in (*_of_joint(checked), *_clamped(circuit, checked))]
    for run, pieces in _runs(circuit):
        found += [*_rows(run, pieces), *_hoses(pieces), *_tubes(pieces), *_walls(pieces), *_sealants(pieces), *_brakes(circuit, run, pieces), *_metals(circuit, pieces)]
    found += [*end_findings(circuit), *_unsaid(circuit, joints)]
    return [_placed(one, prefix) for one in found] if prefix else found


def _placed(finding: Finding, prefix: str) -> Finding:
    from dataclasses import replace

    return replace(finding, where=prefix + finding.where)


def _finding(code: str, severity: str, where: str, what: str, cure: str, source: str = COMMON_PRACTICE,
             hurt: float = 0.0) -> Finding:
    """A finding without numbers; its source stands in its sentence, the first document of several."""
    first, *more = source.split("; ")
    if more:
        doubt = re.search(r", (?:partly |derived from it: |)(?:from memory: |)verify before use$", more[-1])
        source = f"{first} and {len(more)} more{doubt[0] if doubt else ''}"
    return Finding(code, severity, where, "", f"{what} ({source})" if source else what, source="", cure=cure, hurt=hurt)


def _of_joint(checked: CheckedJoint) -> Iterator[Finding]:
    mating, place = checked.mating, checked.joint.place
    if mating is None or mating.seal:
        return  # it seals; one that is refused all the same is told of its line
    source = source_in_words(mating.source, mating.how)
    barbs = [side for side in (checked.joint.one, checked.joint.other) if side.word == "hose" and (side.told.form, side.told.sex) == ("barb", "male")]
    between = "change one of the two ends"
    if barbs:
        between = f"the plain end of a hose is written 'barb {barbs[0].told.size} clamped'"
    elif mating.adapter:
        between = f"{_as_the_port(checked.joint)}put an adapter between them: {mating.adapter[0]}, to {mating.adapter[1]}"
    if mating.danger:
        yield _finding("joint does not seal", "stop", place, mating.reason, f"{between}; {_LOOK}", source, hurt=1.0)
    elif mating.verdict == "adapter":
        yield _finding("joint needs an adapter", "fix", place, mating.reason, between, source)
    else:
        yield _finding("joint does not fit", "fix", place, mating.reason, between, source, hurt=0.5)


def _as_the_port(joint: Joint) -> str:
    """What is better than an adapter where flares of 37 and 45 degrees meet: the hose end or nut of the port's own form; "" elsewhere."""
    sides = [joint.one, joint.other]
    if {side.told.form for side in sides} != {"37 flare", "45 flare"}:
        return ""
    lines = [side for side in sides if side.word in ("hose", "tube")]
    if len(lines) != 1:
        return "change one of the two to the form of the other, or "
    port = sides[1 - sides.index(lines[0])].told
    what = "the hose end" if lines[0].word == "hose" else "nut, sleeve and flare"
    return f"change {what} to the form of the port, {port.form} {port.opposite.sex if port.opposite else ''}, or "


def _clamped(circuit: Circuit, checked: CheckedJoint) -> Iterator[Finding]:
    """A clamped hose on anything but a barb: on the nose of a flare it holds by nothing."""
    pieces = named_pieces(circuit)
    for side, faced in ((checked.joint.one, checked.joint.other), (checked.joint.other, checked.joint.one)):
        piece = pieces.get(side.name)
        if piece is None or piece.word != "hose" or piece.shop.clamped is not True:
            continue
        if side.end is None and faced.end is not None and faced.told.form != "barb":
            yield _finding("clamped on no barb", "stop", side.name, f"it is clamped, and meets '{faced.end}' of {faced.name}: a clamp on that slides off",
                           "a barb there, or a hose with an end made for it", hurt=1.0)
        if side.end is not None and side.told.form != "barb":
            yield _finding("clamped and ended", "fix", side.name, f"it says both that it is clamped and that its end is '{side.end}'",
                           "leave 'clamped' out, or say the barb, \"barb -8 clamped\"", hurt=0.5)


def _runs(circuit: Circuit) -> list[tuple[Run, list[tuple[str, Piece]]]]:
    names = piece_names(circuit)
    return [(run, [(names[run.name, place], piece) for place, piece in enumerate(run.pieces)]) for run in circuit.runs.values()]


# ---- what stands in a row ----

def _rows(run: Run, pieces: Sequence[tuple[str, Piece]]) -> Iterator[Finding]:
    """Adapters one after the other, and how often the size changes along a run."""
    row: list[str] = []
    ended: tuple[str, Piece | None] = ("", None)
    for name, piece in [*pieces, ended]:
        if piece is not None and piece.word in FITTINGS:
            row.append(name)
            continue
        if len(row) > 1:
            yield _finding("stacked adapters", "watch", row[0], f"{len(row)} fittings stand one after the other: {', '.join(row)}; each is a joint that can leak, "
                           "and a lever on the next", "one fitting that does it, or a short hose between")
        row = []
    steps = [(name, *(end.size for end in piece.shop.ends if end is not None)) for name, piece in pieces if piece.word in FITTINGS and _steps(piece.shop.ends)]
    if steps:
        listed = "; ".join(f"{name}: {one} to {other}" for name, one, other in steps)
        often = f" {len(steps)} times" if steps[1:] else ""
        yield _finding("size steps", "note", run.name, f"the size changes{often} on the way: {listed}",
                       "one size all the way, where that is no narrower")


def _steps(ends: tuple[End, End] | tuple[End | None, End | None]) -> bool:
    """Whether two ends are of different dash; pipe and metric threads have none to compare."""
    sizes = [end.size for end in ends if end is not None]
    return len(sizes) == len(ends) and all(size.startswith("-") for size in sizes) and len({_number(size) for size in sizes}) > 1


def _hoses(pieces: Sequence[tuple[str, Piece]]) -> Iterator[Finding]:
    for name, piece in pieces:
        if piece.word != "hose":
            continue
        size = str(piece.given.get("size") or "").strip()
        barbed = [end for end in piece.shop.ends if end is not None and end.form == "barb"]
        if (barbed or piece.shop.clamped is True) and not takes_a_clamp(piece):
            yield _finding("hose that takes no clamp", "stop", name, "a hose of PTFE or with a braid of wire is held by a clamp on a barb: its liner cold-flows or its "
                           "braid spreads, and it slides off under pressure", "ends made for this hose; or rubber hose that is made for clamps", hurt=1.0)
        elif any(end.sex == "female" for end in barbed) and piece.shop.clamped is not True:
            yield _finding("hose without a clamp", "fix", name, "it is pushed onto a barb, and nothing says that it is clamped",
                           'clamp it and write clamped = true; push-on hose that needs no clamp has ends of its own')
        for end in piece.shop.ends:
            if end is not None and size and end.size.startswith("-") and end.form in ("37 flare", "45 flare", "O-ring boss") and _number(end.size) != _number(size):
                yield _finding("hose end of another size", "watch", name, f"its end '{end}' is not of the hose's own size {size}: such ends are made for few sizes of hose",
                               "check that there is one for this hose, or use an adapter")


def _tubes(pieces: Sequence[tuple[str, Piece]]) -> Iterator[Finding]:
    """A nut and sleeve of another size than the tube: they do not go on, or the tube is loose in them."""
    for name, piece in pieces:
        line = made_of(piece) if piece.word == "tube" else None
        for end in dict.fromkeys(piece.shop.ends) if line is not None else ():
            if end is not None and line is not None and (told := misfit(end, line))[0]:
                yield _finding("nut of another size", "fix", name, told[0], "the nut of the tube's own size, and an adapter where the port is of another; or tube of "
                               "the size that the port is cut for", told[1], hurt=0.5)


def _walls(pieces: Sequence[tuple[str, Piece]]) -> Iterator[Finding]:
    for name, piece in pieces:
        bare = [f"the {wall.what} at {wall.at / 0.3048:.3g} ft ({wall.at * 1e3:.0f} mm)" for wall in piece.shop.through if not wall.grommet]
        if bare:
            yield _finding("line through a wall", "note", name, f"it passes {' and '.join(bare)}, and has neither a bulkhead union nor a grommet there: the edge cuts into it",
                           "a bulkhead union, as flarenut proposes where it fits ends; or a grommet: write \", grommet\" behind it")


def takes_a_clamp(piece: Piece) -> bool:
    """Whether a hose may be clamped on a barb: not with a liner of PTFE, not with a braid of wire."""
    family = piece.given.get("spec")
    if family is not None and hose_spec(family).name in _NO_CLAMP:
        return False
    try:
        named = piece.shop.standard or family
        made = hose_rating(named, line_of(piece).dash) if named else None
    except CatalogError:
        return True
    return made is None or not ("PTFE" in made.liner or "wire braid" in made.construction or "PTFE" in made.construction)


def _number(size: str) -> str:
    return size.lstrip("-").lstrip("0")


def _sealants(pieces: Sequence[tuple[str, Piece]]) -> Iterator[Finding]:
    for name, piece in pieces:
        said = piece.shop.sealant
        ends = [end for end in piece.shop.ends if end is not None] if said is not None else []
        tapers = any(end_forms()[end.form].sealant != "none" for end in ends)  # it is for that end, then
        needless = [end for end in ends if said != "none" and not tapers]
        lacking = [end for end in ends if said == "none" and end_forms()[end.form].sealant == "needed"]
        if needless:
            yield _finding("sealant where none belongs", "fix", name, f"{said} on {_listed(needless)}, which seals on {_seals_on(needless[0])}: it keeps the seat "
                           "from closing and sheds into the fluid", 'clean it off; sealant = "none"', _rule_of(needless[0]), hurt=0.5)
        if lacking:
            yield _finding("taper thread without sealant", "fix", name, f"no sealant on {_listed(lacking)}, a taper thread that leaks without",
                           "sealant that the fluid does not dissolve, on the male thread, its first turns left bare", _rule_of(lacking[0]), hurt=0.5)


def _brakes(circuit: Circuit, run: Run, pieces: Sequence[tuple[str, Piece]]) -> Iterator[Finding]:
    """Ends that hold by a clamp, a latch or a squeeze have no place behind a pedal, nor single flares or pipe threads on the tube of brakes."""
    rule = assembly_rule("no compression fittings")
    source = source_in_words(rule.source, rule.how)
    for name, piece in pieces:
        serves = under_a_foot(circuit, run, name)
        if serves == "clutch" and (loose := _loose(piece, ("barb",))):
            yield _finding("no end for a clutch", "stop", name, f"{loose} in the pressed line of a clutch: it holds by a clamp, and a foot on the pedal blows it off",
                           f"flared tube, and hose with crimped ends; {RESERVOIR}", hurt=1.5)
        if serves != "brakes":
            continue
        if loose := _loose(piece, ("barb", "quick-connect")):
            yield _finding("no end for brakes", "stop", name, f"{loose} in a brake circuit: it holds by a clamp or a latch, and comes off in a panic stop",
                           f"double or bubble flares on brake tube, banjos or crimped ends on brake hose; {RESERVOIR}", source, hurt=2.0)
        other = [end for end in piece.shop.ends if end is not None and end.form in ("45 flare", "NPT", "NPTF", "BSPT")]
        if other:
            yield _finding("no flare of brakes", "fix", name, f"{_listed(other)} in a brake circuit, whose tube wants the double flare of SAE or ISO: a single "
                           "flare cracks, a taper thread needs sealant that brake fluid dissolves", "inverted double flare or bubble flare, as the port is cut",
                           source, hurt=1.0)


def _loose(piece: Piece, forms: tuple[str, ...]) -> str:
    """In words what of a piece would come off under a foot; "" for nothing."""
    ends = [end for end in piece.shop.ends if end is not None and end.form in forms]
    return _listed(ends) or ("a hose on clamps" if piece.word == "hose" and piece.shop.clamped is True else "")


def _metals(circuit: Circuit, pieces: Sequence[tuple[str, Piece]]) -> Iterator[Finding]:
    """Fittings of a material that the liquid attacks; hose and tube are judged in each case of an answer."""
    for name, piece in pieces:
        if piece.shop.material is None or piece.word in ("hose", "tube"):
            continue
        try:
            found = compatible(piece.shop.material, circuit.fluid.name)
        except CatalogError:
            continue  # nobody knows
        if found.verdict in ("no", "limited"):
            yield _finding("material and liquid", "fix" if found.verdict == "no" else "watch", name, f"{circuit.fluid.name} in {piece.shop.material}: {found.reason}",
                           "stainless, or plated and anodised parts whose maker names this liquid", found.said)


def _listed(ends: Sequence[End]) -> str:
    return " and ".join(dict.fromkeys(f"'{end}'" for end in ends))


def _seals_on(end: End) -> str:
    seal = end_forms()[end.form].seals_on
    return seal if seal.startswith(("the ", "two ", "a ")) else f"a {seal}" if not seal.startswith("O") else f"an {seal}"


def _rule_of(end: End) -> str:
    rule = sealant_source(end.form)
    return source_in_words(rule.source, rule.how) if rule else COMMON_PRACTICE


def _unsaid(circuit: Circuit, joints: Sequence[CheckedJoint]) -> list[Finding]:
    """Joints of which not both sides are known, once, where anything at all is said of hardware."""
    unsaid = [one for one in joints if one.mating is None]
    if not unsaid or not any(side.end for one in joints for side in (one.joint.one, one.joint.other)):
        return []
    shown = "; ".join(one.joint.place for one in unsaid[:3]) + ("; ..." if unsaid[3:] else "")
    return [_finding("joints not said", "note", circuit.name, f"{len(unsaid)} of {len(joints)} joints do not say what both sides offer: {shown}",
                     "look at what they are screwed onto, and write 'meets' of the runs and 'ends' of the parts: hose ends and adapters are proposed for what is said",
                     source="")]
