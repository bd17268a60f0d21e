"""What a gauge, a flow meter and a tape measure would find: at a place, at an end of a part, across a part.

A gauge at a tapping shows the static pressure there: total less the dynamic head of that bore (kinetic-energy
factor 1), above the ambient. Values of a case that did not converge are NaN.
"""

from math import isnan, nan, pi

from flarenut.units import Quantity


class Reading:
    """Pressure at one place of one case.

    Parameters
    ----------
    where, case : names to show
    static, total : [Pa abs]
    ambient : [Pa abs]
    velocity : mean velocity in the bore of the tapping [m/s]
    bore : of the tapping [m]; 0 where so wide that static and total agree
    basis : which bore that is, in words
    kelvin : temperature of the liquid there [K]; NaN where it is not known
    """

    __slots__ = ("where", "case", "basis", "_ambient", "_bore", "_kelvin", "_static", "_total", "_velocity")

    def __init__(self, where, case, static, total, ambient, velocity=0.0, bore=0.0, basis="", kelvin=nan):
        self.where, self.case, self.basis, self._kelvin = where, case, basis, float(kelvin)
        self._static, self._total, self._ambient = float(static), float(total), float(ambient)
        self._velocity, self._bore = float(velocity), float(bore)

    def _pressure(self, absolute, kind):
        shift = self._ambient if kind == "pressure_gauge" else 0.0
        return Quantity(absolute - shift, kind, ambient=self._ambient)

    gauge = property(lambda self: self._pressure(self._static, "pressure_gauge"),
                     doc="Static pressure above the ambient, as a gauge here shows it.")
    absolute = property(lambda self: self._pressure(self._static, "pressure_absolute"), doc="Static pressure, absolute.")
    static = absolute
    total = property(lambda self: self._pressure(self._total, "pressure_absolute"),
                     doc="Total pressure, absolute: what a gauge would show if the flow were brought to rest.")
    velocity = property(lambda self: Quantity(self._velocity, "velocity"), doc="Mean velocity in the bore here.")
    temperature = property(lambda self: Quantity(self._kelvin, "temperature"), doc="Of the liquid here; at the end of a part, of what passes there.")
    bore = property(lambda self: Quantity(self._bore, "length"), doc="Bore that the static pressure belongs to; 0: wide.")

    def against(self, other):
        """What a gauge between here and another place reads: static pressure here less there.

        `other` is another `Reading` of the same case, or a pressure as `Quantity`.
        """
        if isinstance(other, Reading):
            there = other._static
        elif isinstance(other, Quantity) and other.kind == "pressure_absolute":
            there = other.si
        elif isinstance(other, Quantity) and other.kind == "pressure_gauge":
            there = other.si + self._ambient
        else:
            raise TypeError(f"'{self.where}' can be set against another reading or a pressure, not {type(other).__name__}")
        return Quantity(self._static - there, "pressure_difference")

    def __str__(self):
        return "not solved" if isnan(self._static) else str(self.gauge)

    def __repr__(self):
        return f"<{self.where}, {self.case}: {self}>"


class EndReading(Reading):
    """One end of a part: a reading with the flow there. `vapour_margin` is static less vapour pressure."""

    __slots__ = ("junction", "reynolds", "_flow", "_margin", "_density")

    def __init__(self, where, case, end, junction, ambient, density):
        super().__init__(where, case, end.static, end.total, ambient, end.velocity, end.bore, "the part's own bore", end.temperature)
        self.junction = junction
        self.reynolds = float(end.reynolds)
        self._flow, self._margin, self._density = float(end.flow), float(end.vapour_margin), float(density)

    mass_flow = property(lambda self: Quantity(self._flow, "mass_flow"), doc="Mass flow into the part at this end.")
    volume_flow = property(lambda self: Quantity(self._flow / self._density, "volume_flow"),
                           doc="Volume flow into the part at this end.")
    vapour_margin = property(lambda self: Quantity(self._margin, "pressure_difference"),
                             doc="Static pressure above vapour pressure.")


class SuctionReading:
    """The way from the pick-up to a pump. `at` names the part where the margin is least."""

    __slots__ = ("at", "_ambient", "_head", "_inlet", "_margin")

    def __init__(self, suction, at, ambient):
        self.at = at
        self._margin, self._inlet = float(suction.margin), float(suction.inlet_gauge)
        self._head, self._ambient = float(suction.npsh_available), float(ambient)

    margin = property(lambda self: Quantity(self._margin, "pressure_difference"),
                      doc="Least static pressure above vapour pressure on the way.")
    inlet = property(lambda self: Quantity(self._inlet, "pressure_gauge", ambient=self._ambient),
                     doc="Static gauge pressure at the pump's inlet.")
    vacuum = property(lambda self: Quantity(-self._inlet, "pressure_difference"),
                      doc="Inlet pressure below the ambient; negative when above it.")
    npsh_available = property(lambda self: Quantity(self._head, "length"),
                              doc="Net positive suction head available, total head over vapour pressure.")

    def __str__(self):
        return "not solved" if isnan(self._margin) else f"margin {self.margin} at {self.at}, inlet {self.inlet}"

    def __repr__(self):
        return f"<suction: {self}>"


class PartReading:
    """A part, or a row of parts in series, in one case. Inlet and outlet follow the direction written.

    Parameters
    ----------
    name, case : names to show
    kind, regime : of the engine's part; of the first that switches, in a row of parts
    ends : `EndReading` of every port; inlet is the first, outlet the last
    density : of the liquid in it [kg/m3]
    suction : `SuctionReading` for a pump, else None
    heat, power : into its stream, without a pump's power, and that [W]
    """

    __slots__ = ("name", "case", "kind", "regime", "ends", "suction", "_density", "_heat", "_power")

    def __init__(self, name, case, kind, regime, ends, density, suction=None, heat=0.0, power=0.0):
        self.name, self.case, self.kind, self.regime = name, case, kind, regime
        self._heat, self._power = float(heat), float(power)
        self.ends, self.suction, self._density = tuple(ends), suction, float(density)

    inlet = property(lambda self: self.ends[0], doc="Reading at the first port.")
    outlet = property(lambda self: self.ends[-1], doc="Reading at the last port.")

    @property
    def drop(self):
        """Total pressure lost from inlet to outlet, height included; negative across a pump."""
        return Quantity(self.inlet._total - self.outlet._total, "pressure_difference")

    @property
    def rise(self):
        """Total pressure gained from inlet to outlet, height included: what a pump does."""
        return Quantity(self.outlet._total - self.inlet._total, "pressure_difference")

    heat = property(lambda self: Quantity(-self._heat, "power"), doc="Heat that its stream gives off; below zero it is warmed.")
    power = property(lambda self: Quantity(self._power, "power"), doc="Power that a pump puts into the liquid.")
    temperature_in = property(lambda self: self.inlet.temperature, doc="Of what passes the inlet.")
    temperature_out = property(lambda self: self.outlet.temperature, doc="Of what passes the outlet.")
    temperature_drop = property(lambda self: Quantity(self.inlet._kelvin - self.outlet._kelvin, "temperature_difference"),
                                doc="From inlet to outlet; below zero it is warmed.")
    mass_flow = property(lambda self: self.inlet.mass_flow, doc="Mass flow in at the inlet; negative runs backwards.")
    flow = property(lambda self: self.inlet.volume_flow, doc="Volume flow in at the inlet; negative runs backwards.")
    volume_flow = flow
    velocity = property(lambda self: Quantity(max((end._velocity for end in self.ends), key=_or_low), "velocity"),
                        doc="The higher of the velocities at its ends.")
    reynolds = property(lambda self: max((end.reynolds for end in self.ends), key=_or_low),
                        doc="The higher of the Reynolds numbers at its ends.")

    def __str__(self):
        if isnan(self.inlet._total):
            return "not solved"
        return f"{self.flow}, {self.inlet} to {self.outlet}, drop {self.drop}, {self.regime}"

    def __repr__(self):
        return f"<{self.name}, {self.case}: {self}>"


def _or_low(value):
    return value if value == value else -1.0


def reading_in_bore(where, case, total, flow, density, bore, ambient, kelvin):
    """Reading at a place whose tapping sits in a given bore [m], from total pressure and the flow passing [kg/s]."""
    velocity = abs(flow) / (density * 0.25 * pi * bore * bore) if density == density else nan
    static = total - 0.5 * density * velocity * velocity
    return Reading(where, case, static, total, ambient, velocity, bore, "the bore given for this place", kelvin)
