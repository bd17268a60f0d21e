"""`Circuit`: what a builder plumbs, in a builder's words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ..fluids import Fluid
from ..fluids import fluid as fluid_named
from ..results import Answer
from ..results.html import safely
from . import changes
from .case_words import WORDS
from .cases import Case, name_used_twice, no_condition, overrides_of, solve_case
from .compile import compile_circuit
from .errors import CircuitError, meant, units_said
from .families import family_of
from .heat_unsaid import USUAL_AIR
from .heat_words import as_given, temperatures_said
from .piece import checked_name
from .place_words import PlaceWords
from .places import OPEN_AIR, Junction
from .reshape import copy_of, take_out
from .run_words import RunWords
from .shown import counted, page
from .spoken import service_of
from .trial import with_trials

if TYPE_CHECKING:
    from .. import _core
    from ..results.layout import Layout
    from .compile import Compiled
    from .piece import Piece
    from .places import Run


class Circuit(PlaceWords, RunWords):
    """One liquid's plumbing: junctions, runs of parts between them, and the operating cases it must stand.

    Parameters
    ----------
    name : what to call it
    fluid : name of a liquid ("E85", "gasoline class A", "SAE 10W-40"), or what `flarenut.fluids` makes
    fluid_temperature : of the liquid everywhere, unless a case says otherwise; default 20 °C
    altitude : height above the sea; sets the ambient pressure; default 0
    air_temperature : around the vehicle, unless a case says otherwise; default 20 °C, and a finding says so where anything goes by it
    temperatures : "found" together with pressures and flows, every drop, wall, cooler and heat counted, or "given": the liquid is
        everywhere as warm as the case says. Found when any part or place says something of heat, given otherwise, unless told here
    invented : True marks a demonstration
    service : what its lines serve, by which brake and steering lines are judged: "brakes", "clutch", "steering" or "other"; by its liquid and its
        name unless given. A run may say its own
    units : "us" or "metric", in which answers, findings, studies and pictures of it are shown unless they are asked for in others; "us" unless given

    Examples
    --------
    >>> import flarenut as fn
    >>> wash = fn.Circuit("rinse line", fluid="water")
    >>> wash.tank("drum", level="1 m")
    >>> wash.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size")])
    >>> answer = wash.solve()
    >>> round(answer["as written"].part("line hose").flow.to("L/min"), 1) > 0
    True
    """

    def __init__(self, name: str, fluid: str | Fluid, *, fluid_temperature: str = "20 C", altitude: str = "0 m",
                 air_temperature: str = USUAL_AIR, temperatures: str | None = None, invented: bool = False,
                 service: str | None = None, units: str | None = None) -> None:
        self.name, self.units = str(name), units_said(units)
        self.fluid = fluid if isinstance(fluid, Fluid) else fluid_named(fluid)
        self.family = family_of(self.fluid.name)
        self.invented, self.source, self.service = bool(invented), "", service_of(service)
        self.conditions = {"fluid_temperature": fluid_temperature, "altitude": altitude, "air_temperature": air_temperature}
        self.temperatures = temperatures_said(temperatures)
        self.junctions: dict[str, Junction] = {}
        self.runs: dict[str, Run] = {}
        self.multiport: dict[str, tuple[Piece, list[str]]] = {}
        self.cases: dict[str, Case] = {}
        self.set_aside: dict[str, Junction] = {}  # places that lost their last run, as they were, should one come to them again
        self._compiled = None
        overrides_of(self, self.conditions, "circuit")  # refuses a bad temperature now, not at the first solve

    # ---- other plumbing of the same ----

    def copy(self, name: str | None = None) -> Circuit:
        """A circuit of its own with the same places, parts and cases, to be changed while this one stays as it is.

        Parameters
        ----------
        name : what to call it; as this one unless given

        Examples
        --------
        ``variant = car.copy("cooler before the filter")``, then `change`, `take_out` and `run`; see docs/guide/placement.md
        """
        return copy_of(self, name)

    def take_out(self, run: str) -> list[Piece]:
        """Takes a run out of the circuit and returns its parts, to be plumbed elsewhere: ``car.run("cooling", "a", "b", car.take_out("cooling"))``.

        A place that no run meets any more goes with it; it comes back as it was with the next run that is led to it.

        Parameters
        ----------
        run : its name

        Raises
        ------
        CircuitError : there is no such run
        """
        return take_out(self, run)

    # ---- cases ----

    def case(self, name: str, **conditions: object) -> None:
        """An operating case: a named set of conditions.

        Parameters
        ----------
        name : what tables and messages call it
        conditions : words of docs/guide/cases.md, and any word of any part, as ``**{"pump.volts": "11.5 V"}``; what is said of a part
            is read when the case is solved, for the part may come later
        """
        for word, value in conditions.items():
            if "." not in word and word not in WORDS:
                error = no_condition(word, value)
                raise error.at(f"case '{name}'")
        self.keep_case(name, **conditions)

    def keep_case(self, name: str, **conditions: object) -> None:
        """`case` for those who judge the words later, as a file does, which tells of all slips together."""
        if name in self.cases:
            raise name_used_twice(name)
        self.cases[checked_name(name)] = Case(name, dict(conditions))

    def fuel_cases(self, *, full_power_duty: float = 0.85, idle_duty: float = 0.03, boost: str = "0 psi",
                   idle_vacuum: str = "18 inHg vacuum", volts: object = "13.5 V", hot: str = "55 C", hot_volts: str = "11.5 V",
                   hot_level: str = "2 in") -> None:
        """The three cases that decide a fuel system: idle, full power, hot restart.

        The presets are common practice, no source: idle returns nearly all of the pump's flow, full power feeds the most,
        hot restart is the hardest on the pump's inlet: hot fuel, low tank, low volts. Its engine does not run yet, so there is
        no manifold vacuum.
        """
        self.case("idle", volts=volts, duty=idle_duty, manifold=idle_vacuum)
        self.case("full power", volts=volts, duty=full_power_duty, manifold=boost)
        self.case("hot restart", volts=hot_volts, duty=idle_duty, manifold="0 psi", fluid_temperature=hot,
                  tank_level=hot_level)

    # ---- solving and changing ----

    @property
    def plan(self) -> _core.Plan:
        """The engine's plan of this circuit, compiled once and kept until its structure changes."""
        return self.compiled().plan

    @property
    def layout(self) -> Layout:
        """Names and order of the circuit, as answers need them."""
        return self.compiled().layout

    def compiled(self) -> Compiled:
        """The compiled circuit; compiles when the structure has changed since."""
        if self._compiled is None:
            self._compiled = compile_circuit(self)
        return self._compiled

    def solve(self, cases: str | Sequence[str] | None = None, *, temperatures: str | None = None, other_states: bool = True) -> Answer:
        """Solves every case, or those named; returns an `Answer`. Without cases, the circuit "as written".

        `temperatures="given"` holds the liquid everywhere at the case's `fluid_temperature`, or at what the case gives its tank, in a
        circuit that would find them.
        Where temperatures are found, a second steady state is looked for beside each answer, and findings tell of one: two to four more solves
        for each part that is cooled. `other_states=False` leaves that out.
        """
        compiled, given = self.compiled(), temperatures_said(temperatures) == "given"
        names = [cases] if isinstance(cases, str) else cases
        for name in names or ():
            if name not in self.cases:
                raise CircuitError(f"there is no case '{name}'", meant(name, self.cases), key="cases", value=name)
        wanted = [self.cases[name] for name in names or self.cases] or [Case("as written")]
        compiled.plan.follows_heat = not given
        try:
            solved = {
                one.name: solve_case(self, as_given(self, one) if given else one, others=other_states and not given) for one in wanted
            }
        finally:
            compiled.plan.follows_heat = True  # as sweeps and others find it
        asked = {name: demand for name, (_, demand) in solved.items() if demand is not None}
        notes = with_trials(self, wanted, compiled.layout.notes, temperatures=temperatures)
        layout = replace(compiled.layout, source=self.source, units=self.units, fuel_asked=asked, notes=notes)
        return Answer(layout, {name: solution for name, (solution, _) in solved.items()}, {one.name: one.texts() for one in wanted})

    def change(self, name: str, **words: str | Sequence[object] | None) -> None:
        """Changes words of a part, tank, fixed place or demand, as ``change("return hose", size="-6")``.

        The next `solve` uses the same plan with new numbers; it is compiled anew only where the change moves the heights of
        places, what a regulator senses, or which devices a part holds. Raises like the part's builder, and then changes
        nothing. Note that a case that sets the same thing beats it: volts of a pump, duty of injectors, loading of a filter.

        Parameters
        ----------
        name : of a part, tank, fixed place or junction
        words : arguments of its builder; of places `level`, `vent`, `pressure`, `demand`, `supply`
        """
        changes.change(self, name, words)

    def liquid_density(self) -> float:
        """Density of the liquid at 15 °C [kg/m3], by which volume demands are turned to mass."""
        return self.fluid.at("15 C").density.si

    def __repr__(self) -> str:
        return counted(self)

    def _repr_html_(self) -> str:
        """What notebooks show."""
        return safely(lambda: page(self), self)

    # ---- inside ----

    @property
    def finds_temperatures(self) -> bool:
        """Whether temperatures are found together with pressures and flows."""
        if self.temperatures is not None:
            return self.temperatures == "found"
        pieces = [piece for run in self.runs.values() for piece in run.pieces] + [piece for piece, _ in self.multiport.values()]
        return any(junction.passes_heat for junction in self.junctions.values()) or any(
            element.heat is not None for piece in pieces for element in piece.elements)

    def find_temperatures(self) -> None:
        """Finds temperatures from now on, whatever its parts and places say of heat: what another circuit warms has to."""
        if self.temperatures is None:
            self.temperatures, self._compiled = "found", None

    def compile_anew(self) -> Compiled:
        """Compiles, whatever was compiled before; after a refusal there is nothing compiled."""
        self._compiled = None
        return self.compiled()

    def keep_compiled(self, compiled: Compiled | None) -> None:
        """Goes back to what was compiled before a change that was refused."""
        self._compiled = compiled

    def need_references(self, piece: Piece, place: str) -> None:
        """Makes the open air or the manifold that a piece refers to, where nobody named it."""
        for sense in (sense for element in piece.elements for sense in element.senses if sense in OPEN_AIR):
            self._need_all({"reference": sense}, place)

    def _mass_flow(self, value: object, key: str) -> float:
        return 0.0 if value is None else changes.flow_of_place(self, value, key)

    def _add(self, junction: Junction) -> None:
        place = f"{junction.kind if junction.kind != 'free' else 'junction'} '{checked_name(junction.name)}'"
        old = self.junctions.get(junction.name)
        if old is not None and not old.implied or junction.name in self.multiport:
            raise CircuitError("the name is used twice", "junctions need names of their own", place=place, key="name", value=junction.name)
        self.junctions[junction.name] = junction
        self._compiled = None

    def _need_all(self, ends: Mapping[str, str], place: str) -> None:
        """Makes the junctions that nobody named; none of them when one name is no name."""
        for key, name in ends.items():
            if not isinstance(name, str) or not name.strip():
                raise CircuitError(
                    f"'{key}' is {name!r}, not the name of a junction", "write its name in quotes", place=place, key=key, value=name
                )
        for name in ends.values():
            if name not in self.junctions:
                self.junctions[name] = (self.set_aside.pop(name) if name in self.set_aside else None) or Junction(
                    name, "fixed" if name in OPEN_AIR else "free", implied=True
                )
