"""What goes on the thread of a joint: sealant on taper pipe threads, nothing anywhere else."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from ..catalog.assembly import assembly_rule
from ..catalog.ends import end_forms

if TYPE_CHECKING:
    from ..catalog.assembly import AssemblyRule
    from ..catalog.ends import EndForm

_O_RINGS = {"O-ring boss", "metric O-ring port"}


def sealant_for(form: EndForm) -> str:
    """Advice for a joint of an `EndForm`, a sentence without its full stop.

    >>> from flarenut.catalog import end_forms
    >>> sealant_for(end_forms()["O-ring boss"])
    'no sealant, no tape: oil the O-ring'
    """
    if form.name == "NPTF":
        return f"dryseal: may be used without sealant, but sealant is common; {_paste()}"
    if form.sealant == "needed":
        return _paste()
    if form.is_flare:
        return ("no sealant, no tape: it destroys the seal of metal on metal; oil the thread and the sleeve with the fluid of the system, "
                "not the cone")
    if form.name in _O_RINGS:
        return "no sealant, no tape: oil the O-ring"
    return {"banjo": "no sealant, no tape: new soft washers on both sides of the eye, used once",
            "quick-connect": "no sealant: the O-rings inside seal, and it must click",
            "barb": "no sealant: the clamp seals the hose on the spigot"}.get(form.name, "no sealant")


def _paste() -> str:
    return ("sealant on the male thread only, the first 1 to 1-1/2 threads left bare; fuel-resistant where fuel or alcohol runs, "
            "else of a kind that withstands the fluid")


@cache
def sealant_source(form_name: str) -> AssemblyRule | None:
    """The `AssemblyRule` that the advice rests on; None where it is the form's own."""
    if end_forms()[form_name].is_flare:
        return assembly_rule("no sealant, tape or compound on the cone")
    if form_name in _O_RINGS:
        return assembly_rule("no sealant on O-ring boss")
    return {"NPT": lambda: assembly_rule("sealant or tape needed"), "BSPT": lambda: assembly_rule("sealant or tape needed"),
            "NPTF": lambda: assembly_rule("NPTF dryseal"), "banjo": lambda: assembly_rule("crush washers")}.get(form_name, lambda: None)()
