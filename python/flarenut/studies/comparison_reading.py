"""What a comparison comes to, in sentences: which variant wins, by how much, what it costs, and which cannot be told apart."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from ..results.finding import stopped
from ..units import Quantity, digits, preferred_unit
from .comparison_overall import overall_of
from .comparison_verdicts import outside, same_pressure

if TYPE_CHECKING:
    from ..results.finding import Finding
    from .comparison import Comparison
    from .comparison_verdicts import Hair, Ranking, Verdict

_LESS_FLOW = 0.05  # of the pump's flow: less is not worth a word


def listed(names: Sequence[str]) -> str:
    """Names in quotes: 'a', 'b' and 'c'."""
    quoted = [f"'{name}'" for name in names]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} and {quoted[-1]}" if quoted else ""


def said(si: float, kind: str, system: str, near: float = 0.0) -> str:
    """A number with its unit, in that of numbers about the size of `near` where it is larger; temperatures to a tenth."""
    unit = preferred_unit(kind, system, max(abs(si), near))  # one for all that is compared
    number = Quantity(si, kind).to(unit)
    return f"{number:.1f} {unit}" if kind.startswith("temperature") else f"{digits(number)} {unit}"


def reading_of(comparison: Comparison, verdict: Verdict, system: str) -> list[str]:
    """Sentences on one case."""
    told = [*_temperature(comparison, verdict, system), *_pressure(comparison, verdict, system), *_cost(comparison, verdict, system)]
    for name, found in verdict.stops.items():
        told.append(f"'{name}' is out of the running: STOP for {_codes(found)}.")
    told += [_by_a_hair(hair, system) for hair in verdict.hairs]
    if verdict.shared:
        told.append(f"STOP for {_codes(verdict.shared)} with every variant: none of them cures it.")
    for name in verdict.burst:
        seen = comparison.seen(name, verdict.case)
        assert seen is not None and seen.coolers.strained is not None, "what is burst has been seen"
        gauge, made_for = seen.coolers.strained
        told.append(f"'{name}' is out of the running: {said(gauge, 'pressure_gauge', system)} in a cooler made for "
                    f"{said(made_for, 'pressure_gauge', system)}.")
    told += [stopped(f"'{name}' is not solved: {comparison.why_not(name, verdict.case, system)}") for name in verdict.unsolved]
    several = [name for name in comparison.variants if _second_states(comparison, name, verdict.case)]
    if several:
        told.append(
            f"WATCH: {listed(several)} {'have' if several[1:] else 'has'} a second steady state here: the numbers hold for one of them, and which one you get "
            "depends on how it was warmed up."
        )
    return told


def _by_a_hair(hair: Hair, system: str) -> str:
    """A STOP that chooses nothing."""
    one = hair.finding
    own = f" at {one.value.show(system)}" if one.value is not None else ""
    others = ", ".join(f"'{name}' {value.show(system)}" for name, value in hair.others.items()) or "the others next to their limit"
    return f"STOP for {one.code} ({one.where}) with '{hair.name}'{own}, {others}: no difference that counts, and it rules nobody out."


def _second_states(comparison: Comparison, name: str, case: str) -> bool:
    return comparison.seen(name, case) is not None and any(
        one.code == "second steady state" for one in comparison.answers[name][case].findings
    )


def _codes(findings: Sequence[Finding]) -> str:
    return ", ".join(dict.fromkeys(f"{one.code} ({one.where})" if one.where else one.code for one in findings))


def _temperature(comparison: Comparison, verdict: Verdict, system: str) -> Iterator[str]:
    ranking, place = verdict.by_temperature, comparison.sites.gallery
    if ranking.best is None:
        return
    best = ranking.values[ranking.best]
    off = [outside(comparison.bounds, kelvin) for kelvin in ranking.values.values()]
    cold = max(off) < 0
    how = "warmest, as all are cold," if cold else "coolest" if min(off) >= 0 else "nearest to warm"
    if len(ranking.order) == 1:
        yield f"Oil at {place}: {said(best, 'temperature', system)} with '{ranking.best}', the only one in the running."
        return
    if not ranking.beaten:
        yield (f"Oil at {place}: all within {said(comparison.bounds.same_temperature, 'temperature_difference', system)} of "
               f"{said(best, 'temperature', system)}{', all cold' if cold else ''}: temperature does not choose here"
               f"{'' if cold else _state(comparison, best, system)}.")
        return
    yield (
        f"Oil at {place}: {how} with '{ranking.best}', {said(best, 'temperature', system)}{'' if cold else _state(comparison, best, system)}; "
        f"{_against(ranking, 'temperature_difference', system, lambda name: 'warmer' if ranking.values[name] > best else 'colder')}{_alike(ranking)}."
    )


def _state(comparison: Comparison, kelvin: float, system: str) -> str:
    """What is wrong with it where even the best is too hot or too cold."""
    off = outside(comparison.bounds, kelvin)
    low, high = (said(one, "temperature", system) for one in comparison.bounds.warm)
    return (
        ""
        if not off
        else f", {said(abs(off), 'temperature_difference', system)} {f'over the {high}' if off > 0 else f'under the {low}'} wanted"
    )


def _pressure(comparison: Comparison, verdict: Verdict, system: str) -> Iterator[str]:
    ranking, place = verdict.by_pressure, comparison.sites.gallery
    if len(ranking.order) < 2:
        return
    best = said(ranking.values[ranking.order[0]], "pressure_gauge", system)
    if not ranking.beaten:
        widest = same_pressure(comparison.bounds, ranking.values)
        yield (f"Pressure at {place}: all within {said(widest, 'pressure_difference', system)} of {best}: "
               "pressure does not choose here.")
        return
    yield (f"Pressure at {place}: highest with '{ranking.best}', {best}; "
           f"{_against(ranking, 'pressure_difference', system, lambda name: 'lower')}{_alike(ranking)}.")


def _against(ranking: Ranking, kind: str, system: str, word: Callable[..., Any]) -> str:
    """How far the others are from the best: 'a' 3.1 C warmer, 'b' 7.0 C warmer."""
    widest = max(map(ranking.gap, ranking.beaten))
    return ", ".join(f"'{name}' {said(ranking.gap(name), kind, system, widest)} {word(name)}" for name in ranking.beaten)


def _alike(ranking: Ranking) -> str:
    return f"; too near to tell from it: {listed(ranking.alike)}" if ranking.alike else ""


def _cost(comparison: Comparison, verdict: Verdict, system: str) -> Iterator[str]:
    """What the winner by temperature costs, in pressure and in flow, against the others in the running."""
    name, case = verdict.by_temperature.best, verdict.case
    if name is None or not verdict.by_temperature.beaten:
        return
    cell = comparison.value(name, case, "cooler_drop") if any(column.key == "cooler_drop" for column in comparison.columns) else None
    drop = cell.si if isinstance(cell, Quantity) else 0.0
    lost, parts = verdict.by_pressure.gap(name), []
    near, flow = max(lost, drop), ""
    if drop > comparison.bounds.same_pressure:
        parts.append(f"{said(drop, 'pressure_difference', system, near)} across its coolers")
    if lost > comparison.bounds.same_pressure:
        parts.append(
            f"{said(lost, 'pressure_difference', system, near)} of the pressure that '{verdict.by_pressure.best}' has at {comparison.sites.gallery}"
        )
    shares = {one: found.si for one in verdict.running if isinstance(found := comparison.value(one, case, "gallery_share"), Quantity)}
    most = max(shares, key=lambda one: shares[one], default=name)
    if name in shares and shares[most] - shares[name] > _LESS_FLOW:
        flow = f"; {100 * shares[name]:.0f} % of the pump's flow comes to {comparison.sites.gallery}, with '{most}' {100 * shares[most]:.0f} %"
    yield f"'{name}' costs {', and '.join(parts) or 'next to nothing in pressure'}{flow}."


def summary_of(comparison: Comparison, system: str, beside_table: bool = False) -> list[str]:
    """Sentences on all cases: who wins over all and what it costs; who wins where, unless a table beside it marks that."""
    verdicts = [comparison.verdict(case) for case in comparison.cases]
    told = list(overall_of(comparison, lambda si, kind, near=0.0: said(si, kind, system, near), listed))
    by_case = (("temperature", [one.by_temperature for one in verdicts]), ("pressure", [one.by_pressure for one in verdicts]))
    for what, rankings in () if beside_table and told else by_case:
        won: dict[tuple[str, ...], list[str]] = {}
        for verdict, ranking in zip(verdicts, rankings):
            if ranking.beaten:
                best = tuple(name for name in comparison.variants if name in (ranking.best, *ranking.alike))
                won.setdefault(best, []).append(verdict.case)
        if won:
            told.append(f"By {what} at {comparison.sites.gallery}: " + "; ".join(
                f"{listed(names)}{' alike' if names[1:] else ''} in {_cases(cases, verdicts)}" for names, cases in won.items()) + ".")
        even = [verdict.case for verdict, ranking in zip(verdicts, rankings) if ranking.order[1:] and not ranking.beaten]
        if even:
            where = _cases(even, verdicts)
            told.append(f"{what.capitalize()} chooses in no case." if where == _EVERY else f"{what.capitalize()} does not choose in {where}.")
    out = {
        name: [one.case for one in verdicts if name in one.stops or name in one.burst or name in one.unsolved]
        for name in comparison.variants
    }
    told += [f"'{name}' is out of the running, or without an answer, in {_cases(cases, verdicts)}." for name, cases in out.items() if cases]
    several = {name: [case for case in comparison.cases if _second_states(comparison, name, case)] for name in comparison.variants}
    told += [
        f"WATCH: '{name}' has a second steady state in {_cases(cases, verdicts)}: what is said of it there holds for one of the two."
        for name, cases in several.items()
        if cases
    ]
    return told or ["Nothing can be said: no case has two variants with an answer."]


_EVERY = "every case"


def _cases(cases: Sequence[str], verdicts: Sequence[Verdict]) -> str:
    return _EVERY if len(cases) == len(verdicts) and len(cases) > 1 else ", ".join(cases)
