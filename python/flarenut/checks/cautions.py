"""Cautions usual in the trade, by what the liquid can do to people. Every text here is common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..results.answer import Answer
    from ..results.case import CaseResult

_FUEL = (
    "Fuel burns. Relieve the pressure before opening a line, keep an extinguisher at hand, earth the cans, and keep hoses out "
    "of the cabin and away from exhausts unless shielded.",
    "Leak-test with liquid at low pressure first; never put full-pressure air into a fuel system.",
)
_OIL = (
    "Hot oil burns skin, and a burst hose above an exhaust is a fire. Check the cold-start pressure before raising the "
    "revs, and let nothing shut off the way to the relief valve.",
    "Do not reuse a cooler or its lines after an engine failure: they hold metal.",
)
_BRAKES = (
    "Never take this as the sole basis of a change to the brakes of a vehicle used on the road. Use certified assemblies, "
    "approved tube and flares, two circuits, and a proof test by a qualified shop.",
)
_COOLANT = ("Never open a hot cooling system: the liquid flashes to steam.",)
_BY_FAMILY = {"fuel": _FUEL, "oil": _OIL, "transmission fluid": _OIL[:1], "hydraulic fluid": _OIL[:1], "gear oil": _OIL[:1], "other oil": _OIL,
              "brake fluid": _BRAKES, "coolant": _COOLANT, "water": _COOLANT}
_HOT_FROM = 333.15  # K, 60 degC: hotter burns skin within seconds
_JET_FROM = 690e3  # Pa, about 100 psi
_HOT = "The liquid is hot enough to burn skin at once. Let it cool before opening anything."
_JET = ("Above about 100 psi (6.9 bar) a pin-hole jet can force liquid through the skin. Never feel for a leak by hand; if it "
        "happens, go to a hospital at once. Derate hoses for temperature, inspect and replace them.")
_ALWAYS = ("This is an engineering estimate, not a certification. Verify it by measurement, and follow local codes, standards, "
           "inspectors and licensed practice where they speak.")


def cautions_for(answer: Answer) -> list[str]:
    """Cautions for the liquid, temperatures and pressures of an answer, the most particular first."""
    said = list(_BY_FAMILY.get(answer.layout.family, ()))
    solved = [case for case in answer.values() if case.converged]
    if answer.layout.family not in ("coolant", "water") and any(_hottest(case) >= _HOT_FROM for case in solved):
        said.append(_HOT)
    if any(_highest(case) >= _JET_FROM for case in solved):
        said.append(_JET)
    return [*said, _ALWAYS]


def _hottest(case: CaseResult) -> float:
    return max((max(case.liquid_in(part)["temperature"], *(end.temperature for end in case.ends(part))) for part in case.part_names), default=0.0)


def _highest(case: CaseResult) -> float:
    return max((float(pressure) for pressure in case.solution.pressure), default=0.0) - case.ambient.si
