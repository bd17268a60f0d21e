"""A solved case of which single readings are other than the engine found them: to hold a rule at its very limit, or in a state that no solve ends in."""

from math import inf, nextafter
from types import SimpleNamespace

from flarenut.results.case import CaseResult

_END = ("junction", "flow", "total", "static", "velocity", "bore", "temperature", "reynolds", "vapour_margin")


class _Solution:
    """The engine's answer with some of it exchanged."""

    def __init__(self, solution, ends, numbers, regimes, liquids, pressures, heats, finds_temperatures):
        self._solution, self._ends, self._numbers, self._regimes = solution, ends, numbers, regimes
        self._liquids, self._pressures, self._heats = liquids, pressures, heats
        self.finds_temperatures = solution.finds_temperatures if finds_temperatures is None else finds_temperatures

    def __getattr__(self, name):
        return getattr(self._solution, name)

    def ends(self, part):
        found = [SimpleNamespace(**{name: getattr(end, name) for name in _END}) for end in self._solution.ends(part)]
        for port, words in self._ends.get(part, {}).items():
            vars(found[port]).update(words)
        return found

    def number(self, name):
        return self._numbers[name] if name in self._numbers else self._solution.number(name)

    def regime_of(self, part):
        return self._regimes.get(part) or self._solution.regime_of(part)

    def liquid_in(self, part):
        return {**self._solution.liquid_in(part), **self._liquids.get(part, {})}

    def pressure_of(self, place):
        return self._pressures[place] if place in self._pressures else self._solution.pressure_of(place)

    def heat_of(self, part):
        return self._heats[part] if part in self._heats else self._solution.heat_of(part)


def altered(case, ends=None, numbers=None, regimes=None, liquids=None, pressures=None, heats=None, finds_temperatures=None):
    """The case with other readings.

    ends : part -> port -> words of an end, {"hose": {0: {"static": 3e5}}}
    numbers : name of the plan -> number, SI
    regimes, heats : part -> regime, heat [W]
    liquids : part -> words of its liquid
    pressures : place -> total pressure [Pa abs]
    finds_temperatures : whether temperatures are said to have been found; None: as they were
    """
    made = _Solution(case.solution, ends or {}, numbers or {}, regimes or {}, liquids or {}, pressures or {}, heats or {},
                     finds_temperatures)
    return CaseResult(case.name, made, case.layout, case.conditions)


def pressed(case, part, gauge):
    """The case with one static pressure over ambient at both ends of a part [Pa]."""
    return altered(case, ends={part: {port: {"static": case.ambient.si + gauge} for port in (0, 1)}})


def warmed(case, part, kelvin):
    """The case with one temperature at both ends of a part [K]."""
    return altered(case, ends={part: {port: {"temperature": kelvin} for port in (0, 1)}})


def beside(number):
    """A number, the next below it and the next above it, to the last bit: (below, number, above)."""
    return nextafter(number, -inf), number, nextafter(number, inf)
