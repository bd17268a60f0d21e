"""`Vehicle`: circuits of several liquids that warm and cool each other, solved together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from .cases import Case, name_used_twice
from .circuit import Circuit
from .errors import CircuitError, located, meant, units_said
from .exchangers import exchanger
from .piece import checked_name
from .vehicle_cases import refuse_unknown_words, solve_vehicle
from .vehicle_compile import compile_vehicle

if TYPE_CHECKING:
    from ..results.vehicle_answer import VehicleAnswer
    from .vehicle_compile import Joint
    from .exchangers import Exchanger


class Vehicle:
    """Circuits that share exchangers, and the operating cases that all of them stand at once.

    Every circuit keeps its own parts, its own liquid and its own names. Pressures, flows and temperatures of all of them are found in
    one solve for each case, so that what leaves the oil enters the coolant.

    Parameters
    ----------
    name : what to call it
    circuits : `Circuit`s, each called by its own name; `add` gives shorter ones
    altitude : height above the sea; that of the circuits unless given
    air_temperature : around the vehicle, unless a case says otherwise; that of the circuits unless given
    invented : True marks a demonstration
    units : "us" or "metric", in which all of it is shown unless asked for in others; that of its circuits unless given

    Examples
    --------
    >>> import flarenut as fn
    >>> oil = fn.Circuit("oil", fluid="SAE 10W-40")
    >>> oil.tank("hot oil", level="1 m", temperature="120 C")
    >>> oil.run("oil side", "hot oil", "ambient", [fn.tube(bore="8 mm", length="2 m", name="inner tube")])
    >>> water = fn.Circuit("water", fluid="water")
    >>> water.tank("cold water", level="1 m", temperature="20 C")
    >>> water.run("water side", "cold water", "ambient", [fn.tube(bore="12 mm", length="2 m", name="outer tube")])
    >>> bench = fn.Vehicle("double tube on a bench", oil, water)
    >>> bench.exchanger("double tube", first=("oil", "inner tube"), second=("water", "outer tube"))
    >>> answer = bench.solve()
    >>> answer.exchanger("double tube", "as written").heat.si > 0
    True
    """

    def __init__(self, name: str, *circuits: Circuit, altitude: object = None, air_temperature: str | None = None,
                 invented: bool = False, units: str | None = None) -> None:
        self._units = units_said(units)
        self.name, self.invented, self.source = str(name), bool(invented), ""
        given = {"altitude": altitude, "air_temperature": air_temperature}
        self.conditions = {word: value for word, value in given.items() if value is not None}
        self.circuits: dict[str, Circuit] = {}
        self.exchangers: dict[str, Exchanger] = {}
        self.cases: dict[str, Case] = {}
        self._compiled: Joint | None = None
        for circuit in circuits:
            self.add(circuit)

    @property
    def units(self) -> str | None:
        """System that is shown unless another is asked for: as said, or that of the first of its circuits that says one."""
        return self._units or next((circuit.units for circuit in self.circuits.values() if circuit.units), None)

    def add(self, circuit: Circuit, name: str | None = None) -> None:
        """Takes in a circuit. Its temperatures are found from then on; its own cases are left aside.

        Parameters
        ----------
        circuit : `Circuit`
        name : what the vehicle calls it; the circuit's own unless given
        """
        if not isinstance(circuit, Circuit):
            raise CircuitError(f"{circuit!r} is not a circuit", 'make it with Circuit("coolant", fluid="50 % ethylene glycol")')
        name = checked_name(circuit.name if name is None else name)
        place = f"circuit '{name}'"
        self._need_free(name, place)
        if circuit in self.circuits.values():
            raise CircuitError("it is in the vehicle already", "a second one is a circuit of its own", place=place)
        if circuit.temperatures == "given":
            raise CircuitError(
                "its temperatures are given, and circuits that share exchangers find theirs",
                "leave 'temperatures' out of it",
                place=place,
                key="temperatures",
                value="given",
            )
        circuit.find_temperatures()
        self.circuits[name] = circuit
        self._compiled = None

    def exchanger(self, name: str, first: Sequence[str], second: Sequence[str], *, first_side: Mapping[str, object] | None = None,
                  second_side: Mapping[str, object] | None = None, arrangement: str = "counterflow", wall_resistance: float = 0,
                  heat: str | None = None, rated_first: str | None = None, rated_second: str | None = None,
                  first_share: str = "50 %") -> None:
        """A wall between the streams of two parts of two circuits: a plate cooler, the cooler tube in a radiator's tank.

        What the streams lose in pressure is said by the parts: a `core` with its measured drop, a `tube`.

        Parameters
        ----------
        name : what tables and messages call it
        first : circuit and part of the one stream, ("transmission", "cooler tube")
        second : of the other, ("coolant", "radiator tank")
        first_side : what the first stream's side is made of, one of
            {"plates": 10, "length": "150 mm", "width": "70 mm", "gap": "2 mm"}, plates that liquid of this side runs between, counted by
            its gaps; {"tubes": 1, "bore": "10 mm", "length": "400 mm"}; {"area": "0.2 m2", "bore": "4 mm", "length": "150 mm"}, all wetted
            area, hydraulic bore (4 × area / wetted edge) and way. With "enhancement", how much better than plain walls it does:
            corrugated plates 2 to 6 (common practice, no source). A side whose part is a hose, tube or passage has that one's bore and
            length unless given; a rating stands for it
        second_side : the same of the second stream
        arrangement : "counterflow", "parallel flow", "cross flow", "cross flow, first mixed", "cross flow, second mixed",
            "cross flow, both mixed", "shell and tube"
        wall_resistance : of metal and dirt together, a bare number in K/W; thin metal: 0. Of a rated exchanger the dirt that came since
        heat : of a rating, "8 kW", from the hotter to the colder, with both circuits' own liquids; the enhancement of both sides is found from
            it. A side whose area is not said has that of the other, as plates have; with neither it is the area that the thicker liquid needs with
            its enhancement. Bore 4 mm and length 150 mm unless said (common practice, no source)
        rated_first : flow and inlet temperature of the first stream at the rating, "20 L/min at 120 C"
        rated_second : of the second
        first_share : share of the resistance to heat on the first side at the rating, where oil against coolant has 60 to 80 % (judgement, no
            source); 50 % unless given
        """
        self.keep_exchanger(
            name,
            first,
            second,
            first_side=first_side,
            second_side=second_side,
            arrangement=arrangement,
            wall_resistance=wall_resistance,
            heat=heat,
            rated_first=rated_first,
            rated_second=rated_second,
            first_share=first_share,
        )

    def keep_exchanger(self, name: str, first: Sequence[str], second: Sequence[str], **given: object) -> None:
        """Keeps an exchanger whose words were written as those of `exchanger`."""
        place = f"exchanger '{checked_name(name)}'"
        self._need_free(name, place)
        try:
            made = exchanger(name, first, second, **given)
        except ValueError as error:
            raise located(error, place) from None
        for key, circuit in zip(("first", "second"), made.circuits):
            if circuit not in self.circuits:
                raise CircuitError(f"there is no circuit '{circuit}'", meant(circuit, self.circuits), place=place, key=key, value=circuit)
        self.exchangers[name] = made
        self._compiled = None

    def change(self, name: str, **words: str | None) -> None:
        """Changes words of an exchanger, as ``change("oil cooler", wall_resistance=0.002)``; None takes one back. Circuits have a `change` of
        their own, which the next solve follows.

        Parameters
        ----------
        name : of the exchanger
        words : as in `exchanger`, but for `first` and `second`
        """
        place = f"exchanger '{name}'"
        if name not in self.exchangers:
            cure = "change it by the circuit: vehicle.circuits[...].change(...)" if name in self.circuits else meant(name, self.exchangers)
            raise CircuitError(f"there is no exchanger '{name}'", cure, place=place, key="name", value=name)
        try:
            self.exchangers[name] = self.exchangers[name].changed(**words)
        except ValueError as error:
            raise located(error, place) from None

    def case(self, name: str, **conditions: object) -> None:
        """An operating case of the whole vehicle: a named set of conditions.

        Parameters
        ----------
        name : what tables and messages call it
        conditions : words of docs/guide/cases.md, each for every circuit that has something to set by it; with a circuit's name before it
            for that one alone, ``**{"coolant.fluid_temperature": "90 C", "transmission.pump.speed": "2000 rpm"}``; with an exchanger's
            name a word of that, ``**{"oil cooler.wall_resistance": 0.002}``
        """
        refuse_unknown_words(self, conditions, f"case '{name}'")
        self.keep_case(name, **conditions)

    def keep_case(self, name: str, **conditions: object) -> None:
        """`case` for those who judge the words later."""
        if name in self.cases:
            raise name_used_twice(name)
        self.cases[checked_name(name)] = Case(name, dict(conditions))

    def compiled(self) -> Joint:
        """All circuits in one plan; compiled anew when the structure of any has changed since."""
        each = {name: circuit.compiled() for name, circuit in self.circuits.items()}
        if self._compiled is None or not self._compiled.is_of(each):
            self._compiled = compile_vehicle(self, each)
        return self._compiled

    def compile_anew(self) -> Joint:
        """Compiles, whatever was compiled before."""
        self._compiled = None
        return self.compiled()

    def keep_compiled(self, compiled: Joint | None) -> None:
        """Goes back to what was compiled before, or to nothing."""
        self._compiled = compiled

    def solve(self, cases: str | Sequence[str] | None = None, *, other_states: bool = True) -> VehicleAnswer:
        """Solves every case, or those named, all circuits together; returns a `VehicleAnswer`. Without cases, "as written".

        A second steady state is looked for beside each answer, as `Circuit.solve` does, unless `other_states` is False.
        """
        names = [cases] if isinstance(cases, str) else cases
        for name in names or ():
            if name not in self.cases:
                raise CircuitError(f"there is no case '{name}'", meant(name, self.cases), key="cases", value=name)
        return solve_vehicle(self, [self.cases[name] for name in names or self.cases] or [Case("as written")], others=other_states)

    def _need_free(self, name: str | None, place: str) -> None:
        if name in self.circuits or name in self.exchangers:
            raise CircuitError(
                "the name is used twice", "circuits and exchangers need names of their own", place=place, key="name", value=name
            )

    def __repr__(self) -> str:
        return f"<vehicle {self.name!r}: {', '.join(self.circuits) or 'no circuits'}; {len(self.exchangers)} exchangers, {len(self.cases)} cases>"
