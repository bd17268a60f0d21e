"""`Layout`: what the circuit knows and a solve does not, so that answers speak the builder's words."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .engine import EngineLiquid


@dataclass(frozen=True)
class Layout:
    """Names, order and context of one circuit, shared by all its cases. Only `circuit` is needed.

    "Part" and "junction" here mean the engine's names for them.
    """

    circuit: str
    fluid: str = ""  # name to show
    family: str = (
        ""  # "fuel", "oil" (engine oil), "gear oil", "hydraulic fluid", "transmission fluid", "other oil", "brake fluid", "coolant", "water"
    )
    invented: bool = False  # a demonstration, and shown as one
    source: str = ""  # the file it came from
    units: str | None = None  # "us" or "metric", in which its builder wants to be answered; None where nothing is said
    runs: dict[str, list[str]] = field(default_factory=dict)  # run name -> parts, in the order written
    named: tuple[str, ...] = ()  # junctions that the builder named, in the order to show
    titles: dict[str, str] = field(default_factory=dict)  # part -> words to show; parts made from one piece share theirs
    junction_titles: dict[str, str] = field(default_factory=dict)  # junction -> words to show
    elsewhere: dict[str, str] = field(
        default_factory=dict
    )  # junction of any circuit of its vehicle, as the engine's messages name it -> words to show
    bores: dict[str, float] = field(default_factory=dict)  # junction -> bore at the gauge tapping [m]
    positions: dict[str, tuple[float, float, float]] = field(
        default_factory=dict
    )  # junction -> (forward, left, up) [m]; without them height stays in the drops
    senses: dict[str, list[str]] = field(default_factory=dict)  # regulator -> [sensed junction, reference junction]
    liquids: tuple[EngineLiquid, ...] = ()  # the liquids, for checks that ask them for their range
    liquid_of: dict[str, int] = field(default_factory=dict)  # part -> place in `liquids`; 0 when not given
    services: dict[str, str] = field(
        default_factory=dict
    )  # run -> what it serves, "brakes", "clutch", "steering", "other", where that is said
    notes: dict[str, Any] = field(default_factory=dict)  # case -> settings as written and presets assumed, for checks
    fuel_asked: dict[str, float] = field(default_factory=dict)  # case -> fuel that its power burns [kg/s], of cases given by power

    def title(self, part: str) -> str:
        """What a part is called in front of people."""
        return self.titles.get(part, part)

    def junction_title(self, junction: str) -> str:
        """What a junction is called in front of people."""
        return self.junction_titles.get(junction, junction)

    def spoken_of(self, name: str) -> str:
        """What a message of the engine speaks of, in front of people."""
        return self.elsewhere.get(name, self.junction_title(name))
