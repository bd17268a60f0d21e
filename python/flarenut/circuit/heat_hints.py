"""What the words of a circuit tell of slips in its heat: liquid that runs out and finds no way back, thermostats in each other's place.

They are asked about a circuit as it is plumbed, whatever flows, so that they are told where no solve holds, too.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, NamedTuple

from .compile import piece_names
from .engine_units import in_both_systems

if TYPE_CHECKING:
    from .circuit import Circuit
    from .piece import Piece

_OPEN_ENDED = ("fuel", "water", "brake fluid")  # of these it is usual that some leaves
_COOLS = ("cooler", "core")
_USUAL_F = (140.0, 240.0)  # where thermostats open [F], 60 to 115 C: common practice, no source


class Swapped(NamedTuple):
    """Two thermostats in each other's leg, by the names of their pieces."""

    shuts: str  # stands in the cooler's way and shuts as it gets hot
    opens: str  # stands in the way round it and opens
    cooler: str


class Pair(NamedTuple):
    """A thermostat and the one that shuts the way beside it, by the names of their pieces."""

    opens: str
    shuts: str
    feels: str | None  # the place that both go by; None: each by the liquid that enters it


def no_way_back(circuit: Circuit) -> tuple[str, ...]:
    """Places that liquid of a loop may run out at and does not come back from: of given pressure without `drains_to`, or with a demand.

    None where no tank's temperature follows from what returns, of liquids that are burnt or sprayed away, and where liquid comes in.
    """
    tanks = [name for name, junction in circuit.junctions.items() if junction.kind == "tank"]
    if circuit.family in _OPEN_ENDED or not any(circuit.junctions[name].found for name in tanks):
        return ()
    met = {end for run in circuit.runs.values() for end in (run.start, run.end)} | {end for _, ends in circuit.multiport.values() for end in ends}
    if any(junction.demand < 0.0 for junction in circuit.junctions.values()):
        return ()
    return tuple(name for name, junction in circuit.junctions.items() if name in met and
                 ((junction.kind == "fixed" and junction.drains_to is None) or (junction.kind == "free" and junction.demand > 0.0)))


def swapped_thermostats(circuit: Circuit) -> tuple[Swapped, ...]:
    """`Swapped` thermostats: a bypass thermostat in series with a cooler, and beside that a thermostat in a way without one."""
    legs, found = _legs(circuit), []
    for ends, pieces in legs:
        shuts = [name for name, piece in pieces if piece.word == "bypass_thermostat"]
        coolers = [name for name, piece in pieces if piece.word in _COOLS]
        beside = [name for other, round_it in legs if other == ends and round_it is not pieces and not any(piece.word in _COOLS for _, piece in round_it)
                  for name, piece in round_it if piece.word == "thermostat"]
        if shuts and coolers and beside:
            found.append(Swapped(shuts[0], beside[0], coolers[0]))
    return tuple(found)


def thermostat_pairs(circuit: Circuit) -> tuple[Pair, ...]:
    """Each `Pair` in two ways between the same places; not where one goes by a place that the other does not."""
    legs = _legs(circuit)
    return tuple(Pair(name, beside, piece.given.get("senses"))
                 for ends, pieces in legs for name, piece in pieces if piece.word == "thermostat"
                 for other, round_it in legs if other == ends and round_it is not pieces
                 for beside, second in round_it if second.word == "bypass_thermostat" and second.given.get("senses") == piece.given.get("senses"))


def _legs(circuit: Circuit) -> list[tuple[set[str], list[tuple[str, Piece]]]]:
    """Ways between places where more than two ways meet: (both ends, [(name, piece), ...])."""
    names = piece_names(circuit)
    legs = [({run.start, run.end}, [(names[run.name, place], piece) for place, piece in enumerate(run.pieces)]) for run in circuit.runs.values()]
    fixed = {end for _, ends in circuit.multiport.values() for end in ends} | {name for name, one in circuit.junctions.items() if one.kind != "free"}
    for name in circuit.junctions:
        meeting = [leg for leg in legs if name in leg[0]]
        if name not in fixed and len(meeting) == 2:  # one goes on as the other
            (one, first), (other, second) = meeting
            legs = [leg for leg in legs if leg[1] is not first and leg[1] is not second] + [((one | other) - {name}, first + second)]
    return legs


def cold_coolers(circuit: Circuit) -> tuple[Any, ...] | tuple[()]:
    """Coolers of oil that no thermostat and no relief keeps cold oil from, by name: in cold air it may thicken in them until none passes."""
    pieces = [(name, piece) for _, pieces in _legs(circuit) for name, piece in pieces]
    if "oil" not in circuit.family or any(piece.word in ("thermostat", "bypass_thermostat") for _, piece in pieces):
        return ()
    return tuple(name for name, piece in pieces if piece.word in _COOLS)


def shut_thermostats(circuit: Circuit, number: Callable[[str], float], hottest: float) -> list[str]:
    """Thermostats that would not open at the hottest that was tried [K], and a question about the unit: an "F" that was meant.

    `number` gives a number of the plan as it stood.
    """
    told = []
    for name, piece in circuit.compiled().pieces.items():
        opens = number(f"{name}.start_temperature") if piece.word == "thermostat" else 0.0
        if opens > hottest:
            at, from_ = (in_both_systems(kelvin, "temperature", "K") for kelvin in (hottest, opens))
            told.append(f"the thermostat '{name}' is still shut at {at}, for it opens from {from_}{asked_unit(opens)}")
    return told


def asked_unit(kelvin: float) -> str:
    """"; does it open at 180 C or at 180 F?" where the number is usual of a thermostat in F alone; "" elsewhere.

    >>> asked_unit(453.15), asked_unit(355.15)
    ('; does it open at 180 C or at 180 F?', '')
    """
    celsius = kelvin - 273.15
    usual = _USUAL_F[0] <= celsius <= _USUAL_F[1]
    return f"; does it open at {celsius:.4g} C or at {celsius:.4g} F?" if usual else ""


def hints(circuit: Circuit, hot_in_cold_air: bool = False) -> str:
    """Sentences for a case without an answer; "" where nothing is seen. `hot_in_cold_air`: more heat goes in than comes out, though the air is cold."""
    told = [f"'{one.shuts}' shuts the way through '{one.cooler}' when it gets hot, and '{one.opens}' opens the way round it: are the two exchanged?"
            for one in swapped_thermostats(circuit)]
    lost = no_way_back(circuit)
    if lost:
        tank = next(name for name, junction in circuit.junctions.items() if junction.found)
        told.append(f"what runs out at {', '.join(map(repr, lost))} does not come back to '{tank}': is {_cure(circuit, lost[0], tank)} missing?")
    cold = cold_coolers(circuit) if hot_in_cold_air else ()
    if cold:
        told.append(f"the air is cold, and oil may thicken in {', '.join(map(repr, cold))} until none passes, and then no larger cooler helps: a thermostat or a "
                    "bypass before it, a warm start at low revs, a cooler that resists less")
    return "; ".join(told)


def _cure(circuit: Circuit, place: str, tank: object) -> str:
    return f'drains_to = "{tank}" of a fixed place in its stead' if place == "ambient" or circuit.junctions[place].kind == "free" else f'drains_to = "{tank}"'
