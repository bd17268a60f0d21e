"""What cannot be judged of other hardware: a line whose rating nobody says passes no rule, it escapes them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ..results import Finding

if TYPE_CHECKING:
    from .hardware_choices import HardwareChoice

# What a rule has to know of a line -> the findings that it makes
_NEEDS = {"pressure": ("over working pressure",), "liquid": ("liquid and line",),
          "temperature": ("line too hot", "line too cold", "pressure and heat together", "heat not counted", "hose collapses", "bent too tight", "too short to bend")}
_CURE = 'say what it is made to, standard = "SAE 30R9", or what its maker states, maker_pressure = "250 psi"'


def carried(first: HardwareChoice, choice: HardwareChoice) -> dict[tuple[str, str], Finding]:
    """(code, where) -> `Finding` of the circuit as written, of a line that cannot be judged for that in a choice: it stands until somebody says the rating."""
    found = {}
    for key, one in first.once.items():
        needed = next((aspect for aspect, codes in _NEEDS.items() if one.code in codes), None)
        aspects, reason = choice.unjudged.get(one.where, ((), ""))
        if choice.answer is not None and needed in aspects and key not in choice.once:
            said = f"not judged for {needed} in this choice: {reason}; the line as written has the finding '{one.code}', and nothing says that it is cured"
            found[key] = replace(one, what=said, value=None, limit=None, numbers={}, source="", cure=_CURE)
    return found


def not_judged(first: HardwareChoice, choice: HardwareChoice) -> dict[tuple[str, str], Finding]:
    """("rating unknown", line) -> note of each line that can be judged for less than in the circuit as written."""
    found = {}
    for line, (aspects, reason) in choice.unjudged.items():
        less = [one for one in aspects if one not in first.unjudged.get(line, ((), ""))[0]]
        if less:
            found["rating unknown", line] = Finding("rating unknown", "note", line, "", f"not judged for {', '.join(less)}: {reason}", source="", cure=_CURE)
    return found
