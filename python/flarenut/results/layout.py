"""`Layout`: what the circuit knows and a solve does not, so that answers speak the builder's words."""

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Layout:
    """Names, order and context of one circuit, shared by all its cases. Only `circuit` is needed.

    "Part" and "junction" here mean the engine's names for them.
    """

    circuit: str
    fluid: str = ""  # name to show
    family: str = ""  # "fuel", "oil" (engine oil), "gear oil", "hydraulic fluid", "transmission fluid", "other oil", "brake fluid", "coolant", "water"
    invented: bool = False  # a demonstration, and shown as one
    source: str = ""  # the file it came from
    runs: dict = field(default_factory=dict)  # run name -> parts, in the order written
    named: tuple = ()  # junctions that the builder named, in the order to show
    titles: dict = field(default_factory=dict)  # part -> words to show; parts made from one piece share theirs
    junction_titles: dict = field(default_factory=dict)  # junction -> words to show
    bores: dict = field(default_factory=dict)  # junction -> bore at the gauge tapping [m]
    positions: dict = field(default_factory=dict)  # junction -> (forward, left, up) [m]; without them height stays in the drops
    senses: dict = field(default_factory=dict)  # regulator -> [sensed junction, reference junction]
    liquids: tuple = ()  # the liquids, for checks that ask them for their range
    liquid_of: dict = field(default_factory=dict)  # part -> place in `liquids`; 0 when not given
    services: dict = field(default_factory=dict)  # run -> what it serves, "brakes", "clutch", "steering", "other", where that is said
    notes: dict = field(default_factory=dict)  # case -> settings as written and presets assumed, for checks
    fuel_asked: dict = field(default_factory=dict)  # case -> fuel that its power burns [kg/s], of cases given by power

    def title(self, part):
        """What a part is called in front of people."""
        return self.titles.get(part, part)

    def junction_title(self, junction):
        """What a junction is called in front of people."""
        return self.junction_titles.get(junction, junction)
