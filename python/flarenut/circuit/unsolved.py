"""What the words of a circuit tell of a case without an answer, beside the engine's cause."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from .engine_units import in_both_systems
from .heat_hints import hints, shut_thermostats

if TYPE_CHECKING:
    from .. import _core
    from .circuit import Circuit
    from .compile import Compiled

_TRIED = re.compile(r"at (-?[\d.]+) degC it would still take up")
_COLD_AIR = 288.15  # [K], 15 C: oil as cold as that is some twenty times as thick as hot (judgement)
_MORE = (1.3, 1.6, 2.0, 3.0)  # times what can be had: the pressure that is left at nothing falls with the square of the flow, and soon below zero
_SHARES = (0.1, 1e-2, 1e-3, 1e-4)
_TOO_MUCH = ("below absolute zero", "more than anything bears")  # the engine's causes
_EVEN = "even 1/"
_HAD, _ASKED = " can be had at ", "more liquid is asked for at"
_HALVINGS = 24  # to a part in ten million of what is asked; a solve takes well under a millisecond


def beside_the_cause(circuit: Circuit, solution: _core.Solution) -> str:
    """Slips in the plumbing of its heat, how much can be had where too much is asked; "" where nothing is seen."""
    too_much = _too_much_anyway(circuit, solution)
    if too_much:
        return too_much
    of_heat = [*_shut(circuit, solution), hints(circuit, _hot_in_cold_air(solution))] if solution.finds_temperatures else []
    return "; ".join(filter(None, [*of_heat, _to_be_had(circuit, solution), _cocks(circuit, solution)]))


def _cocks(circuit: Circuit, solution: _core.Solution) -> str:
    """The valves that stand shut and that the engine has not named."""
    valves = {name for name in solution.part_names if solution.kind_of(name) == "valve" and solution.number(f"{name}.opening") == 0.0}
    names = [f"'{name}'" for name in sorted(valves) if f"'{name}'" not in str(solution.message)]
    return f"{' and '.join(names)} stand{'s' if len(names) == 1 else ''} shut: is that meant?" if names else ""


def says_it_all(solution: _core.Solution, words: str) -> bool:
    """Whether the words of `beside_the_cause` stand in place of an engine's cause that only tells what did not settle: of less than is asked for
    the engine says that pressure would fall below absolute zero."""
    return "would not settle" in str(solution.message) and (_ASKED in words or words.startswith(_EVEN))


def _shut(circuit: Circuit, solution: _core.Solution) -> list[str]:
    """Of thermostats that stay shut at the hottest that the engine tried."""
    tried = _TRIED.search(str(solution.message))
    return shut_thermostats(circuit, solution.number, float(tried[1]) + 273.15) if tried else []


def _hot_in_cold_air(solution: _core.Solution) -> bool:
    """Whether the engine's cause says that heat does not get out, in air so cold that oil may have shut its own way to it."""
    cause = str(solution.message)
    return solution.number("air.temperature") < _COLD_AIR and ("More heat goes in" in cause or "too small" in cause)


def _to_be_had(circuit: Circuit, solution: _core.Solution) -> str:
    """Words for how much reaches the one place of a circuit that draws liquid, at no pressure there; "" where that is not the question.

    The plan stands as it did for the solve that failed, and is left so but for the demand, which the next case sets anew.
    """
    compiled = circuit.compiled()
    numbers = {name: f"{name}.demand" for name, junction in circuit.junctions.items() if junction.kind == "free"}
    asked = {name: solution.number(number) for name, number in numbers.items() if solution.number(number) > 0.0}
    if solution.converged or len(asked) != 1:
        return ""
    ((place, most),) = asked.items()
    compiled.touched.add(numbers[place])
    index = compiled.plan.index(numbers[place])

    def reaches(flow: float) -> bool:
        compiled.plan.set(index, flow)
        found = compiled.plan.solve(cold=True)
        return found.converged and found.pressure_of(place) >= found.ambient

    if not reaches(0.0) or reaches(most):
        return ""  # it fails for another reason, or the place stands below the ambient whatever is drawn
    low, high = 0.0, most
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if reaches(middle) else (low, middle)
    flow = in_both_systems(low / circuit.liquid_density(), "volume_flow", "m3/s")
    had = f"about {flow}{_HAD}'{place}', and that without pressure"
    if "would not settle" not in str(solution.message) or not any(_falls_below_zero(compiled, index, times * high) for times in _MORE):
        return had
    return f"{_ASKED} '{place}' than can reach it, so that its pressure would have to fall below absolute zero: {had}"


def _too_much_anyway(circuit: Circuit, solution: _core.Solution) -> str:
    """Of numbers that did not settle: what the engine says of a small share of what one place draws or pushes in; "" where it finds an answer, or no cause.

    The plan stands as `_to_be_had` leaves it.
    """
    if "would not settle" not in str(solution.message) or "temperatures would not settle" in str(solution.message):
        return ""
    compiled = circuit.compiled()
    for name in (name for name, junction in circuit.junctions.items() if junction.kind == "free"):
        asked = solution.number(f"{name}.demand")
        compiled.touched.add(f"{name}.demand")
        index = compiled.plan.index(f"{name}.demand")
        for share in _SHARES if asked != 0.0 else ():
            compiled.plan.set(index, share * asked)
            found = compiled.plan.solve(cold=True)
            message = str(found.message)
            if not found.converged and "would not settle" not in message and any(words in message for words in _TOO_MUCH):
                compiled.plan.set(index, asked)
                return f"{_EVEN}{1.0 / share:.0f} of what is {'asked for' if asked > 0.0 else 'pushed in'} at '{name}' is too much: {message}"
        compiled.plan.set(index, asked)
    return ""


def _falls_below_zero(compiled: Compiled, index: int, flow: float) -> bool:
    """Whether the engine itself says so of a demand [kg/s]."""
    compiled.plan.set(index, flow)
    found = compiled.plan.solve(cold=True)
    return not found.converged and "below absolute zero" in str(found.message)
