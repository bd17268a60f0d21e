"""One circuit's share of a solution that several circuits have in common, under the circuit's own names."""

_OF_ALL = ("ambient.pressure", "air.temperature", "acceleration.x", "acceleration.y", "acceleration.z")


class _Seen:
    """Something of the engine with a few of its attributes said anew."""

    def __init__(self, whole, **anew):
        self.__dict__.update(anew, _whole=whole)

    def __getattr__(self, name):
        return getattr(self.__dict__["_whole"], name)


class SharedSolution:
    """What a plan's solve returned, as one of its circuits sees it: its parts and junctions only.

    How the solve went, its certificate, is that of all circuits together.

    Parameters
    ----------
    whole : the solution of all circuits
    prefix : before this circuit's names there
    junctions : range of its places among all junctions
    numbers : numbers of the circuit's own plan that the whole does not have, name -> SI value
    """

    def __init__(self, whole, prefix, junctions, numbers=()):
        self.whole, self.prefix = whole, prefix
        self._junctions, self._numbers = junctions, dict(numbers)

    def __getattr__(self, name):  # status, message, rung, ambient ...: those of all
        if name == "whole" or name.startswith("__"):
            raise AttributeError(name)
        return getattr(self.whole, name)

    @property
    def junction_names(self):
        return [name.removeprefix(self.prefix) for name in self.whole.junction_names[self._junctions.start:self._junctions.stop]]

    @property
    def part_names(self):
        return [name.removeprefix(self.prefix) for name in self.whole.part_names if name.startswith(self.prefix)]

    @property
    def pressure(self):
        return self.whole.pressure[self._junctions.start:self._junctions.stop]

    @property
    def remarks(self):
        return [_Seen(one, subject=one.subject.removeprefix(self.prefix)) for one in self.whole.remarks if one.subject.startswith(self.prefix)]

    @property
    def worst(self):
        return self.whole.worst.removeprefix(self.prefix)

    def number(self, name):
        if name in self._numbers:
            return self._numbers[name]
        return self.whole.number(name if name in _OF_ALL else self.prefix + name)

    def ends(self, part):
        first = self._junctions.start
        return [_Seen(end, junction=end.junction - first) for end in self.whole.ends(self.prefix + part)]

    def suction(self, pump):
        found = self.whole.suction(self.prefix + pump)
        return _Seen(found, at=found.at.removeprefix(self.prefix))

    def temperature_of(self, junction):
        return self.whole.temperature_of(self.prefix + junction)

    def pressure_of(self, junction):
        return self.whole.pressure_of(self.prefix + junction)

    def heat_of(self, part):
        return self.whole.heat_of(self.prefix + part)

    def power_of(self, part):
        return self.whole.power_of(self.prefix + part)

    def kind_of(self, part):
        return self.whole.kind_of(self.prefix + part)

    def regime_of(self, part):
        return self.whole.regime_of(self.prefix + part)

    def flow_of(self, part, flow=0):
        return self.whole.flow_of(self.prefix + part, flow)

    def liquid_in(self, part):
        return self.whole.liquid_in(self.prefix + part)
