"""
The compiled engine of flarenut. SI everywhere; the package's own Python modules put words to it.
"""
from __future__ import annotations
import collections.abc
import numpy
import numpy.typing
import typing
from . import fluids as fluids
from . import correlations as correlations
from . import heat_transfer as heat_transfer
class InputError(ValueError):
    """
    Wrong input: place, field, trouble (with its cure).
    """
    place: str
    field: str
    trouble: str
class Field:
    """
    A number of a kind of part: what it is called and allowed to be.
    """
    @property
    def drives(self) -> bool:
        """
        True for a source: volts, speed, duty.
        """
    @property
    def least(self) -> float:
        """
        Smallest value allowed [SI].
        """
    @property
    def meaning(self) -> str:
        ...
    @property
    def most(self) -> float:
        """
        Largest value allowed [SI].
        """
    @property
    def name(self) -> str:
        ...
    @property
    def preset(self) -> float:
        """
        Value when none is given [SI]; 0 where one must be given.
        """
    @property
    def unit(self) -> str:
        """
        SI unit.
        """
class Column:
    """
    A column of measured numbers of a kind of part.
    """
    @property
    def meaning(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def unit(self) -> str:
        """
        SI unit.
        """
class Kind:
    """
    A kind of part: its shape and its numbers.
    """
    @property
    def columns(self) -> list[Column]:
        ...
    @property
    def fields(self) -> list[Field]:
        ...
    @property
    def flows(self) -> int:
        ...
    @property
    def kind(self) -> str:
        ...
    @property
    def ports(self) -> int:
        ...
    @property
    def senses(self) -> int:
        ...
class Network:
    """
    Junctions, parts and liquids; all numbers in SI.
    """
    def __init__(self) -> None:
        ...
    def drain(self, start: typing.SupportsInt | typing.SupportsIndex, to: typing.SupportsInt | typing.SupportsIndex) -> None:
        """
        Lets what flows out at a place of given pressure fall back into a tank.
        """
    def exchanger(self, name: str, kind: str, first: typing.SupportsInt | typing.SupportsIndex, second: typing.SupportsInt | typing.SupportsIndex, numbers: collections.abc.Mapping[str, typing.SupportsFloat | typing.SupportsIndex] = {}, columns: collections.abc.Mapping[str, collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]] = {}) -> None:
        """
        A wall between the streams of two parts.
        """
    def fixed(self, name: str, gauge: typing.SupportsFloat | typing.SupportsIndex = 0.0, position: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(3)"] = [0.0, 0.0, 0.0]) -> int:
        """
        Adds a junction held at a gauge pressure [Pa].
        """
    def follow_heat(self) -> None:
        """
        Lets temperatures be found with pressures and flows.
        """
    def heat_law(self, part: typing.SupportsInt | typing.SupportsIndex, kind: str, numbers: collections.abc.Mapping[str, typing.SupportsFloat | typing.SupportsIndex] = {}, columns: collections.abc.Mapping[str, collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]] = {}) -> None:
        """
        Puts a heat law of a kind on a part.
        """
    def junction(self, name: str, position: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(3)"] = [0.0, 0.0, 0.0], demand: typing.SupportsFloat | typing.SupportsIndex = 0.0) -> int:
        """
        Adds a junction. position [m]: forward, left, up; demand: mass flow taken out [kg/s].
        """
    def junctions(self, name: str, count: typing.SupportsInt | typing.SupportsIndex, demand: typing.Annotated[numpy.typing.ArrayLike, numpy.float64] = 0.0, position: typing.Annotated[numpy.typing.ArrayLike, numpy.float64] = ...) -> typing.Any:
        """
        Adds junctions 'name[0]', 'name[1]' ...; returns the range of their indices. demand [kg/s]: one number, or one for each. position [m], forward, left, up: none, one row, or one for each. Raises InputError naming row, value, limit.
        """
    def let_mix(self, tank: typing.SupportsInt | typing.SupportsIndex) -> None:
        """
        Lets a tank's temperature be found from what returns to it.
        """
    def lines(self, name: str, starts: typing.Any, ends: typing.Any, liquid: typing.SupportsInt | typing.SupportsIndex = 0, **kwargs: typing.Any) -> typing.Any:
        """
        Adds lines 'name[0]', 'name[1]' ..., each from junction starts[i] to ends[i]; returns the range of their indices. Numbers of a line by keyword (bore=..., length=...) [SI]: one number, or one for each line. Raises InputError naming row, value, limit.
        """
    def liquid(self, liquid: fluids.Liquid) -> int:
        """
        Adds a liquid; returns its index.
        """
    def part(self, name: str, kind: str, junctions: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], senses: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex] = [], numbers: collections.abc.Mapping[str, typing.SupportsFloat | typing.SupportsIndex] = {}, columns: collections.abc.Mapping[str, collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]] = {}, liquid: typing.SupportsInt | typing.SupportsIndex = 0) -> int:
        """
        Adds a part of a kind between junctions; returns its index. Raises InputError naming part, field, limit.
        """
    def put_heat(self, part: typing.SupportsInt | typing.SupportsIndex, heat: typing.SupportsFloat | typing.SupportsIndex, efficiency: typing.SupportsFloat | typing.SupportsIndex = 1.0, capacity: typing.SupportsFloat | typing.SupportsIndex = 0.0, terminals: typing.SupportsFloat | typing.SupportsIndex = 0.0) -> None:
        """
        Heat put into a part's stream [W]; efficiency of a pump, or its power at the terminals [W]; heat capacity of liquid and metal [J/K].
        """
    def put_heat_at(self, junction: typing.SupportsInt | typing.SupportsIndex, heat: typing.SupportsFloat | typing.SupportsIndex, conductance: typing.SupportsFloat | typing.SupportsIndex = 0.0, capacity: typing.SupportsFloat | typing.SupportsIndex = 0.0) -> None:
        """
        Heat put in at a junction [W]; conductance to the air [W/K]; heat capacity [J/K].
        """
    def sense_temperature(self, part: typing.SupportsInt | typing.SupportsIndex, junction: typing.SupportsInt | typing.SupportsIndex) -> None:
        """
        Lets a part stand at a junction's temperature.
        """
    def tank(self, name: str, level: typing.SupportsFloat | typing.SupportsIndex = 0.0, vent: typing.SupportsFloat | typing.SupportsIndex = 0.0, position: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(3)"] = [0.0, 0.0, 0.0], pickup: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(2)"] = [0.0, 0.0], liquid: typing.SupportsInt | typing.SupportsIndex = 0) -> int:
        """
        Adds a tank's pick-up. level: liquid above it [m]; vent: pressure above the liquid [Pa gauge]; pickup: how far forward and left of the middle of the liquid it lies [m].
        """
    @property
    def junction_count(self) -> int:
        ...
    @property
    def part_count(self) -> int:
        ...
class End:
    """
    What a gauge, a flow meter and a thermometer would find at one end of a part. SI.
    """
    @property
    def bore(self) -> float:
        """
        [m]; 0 where so wide that the dynamic head is nil
        """
    @property
    def flow(self) -> float:
        """
        mass flow into the part here [kg/s]
        """
    @property
    def junction(self) -> int:
        ...
    @property
    def reynolds(self) -> float:
        ...
    @property
    def static(self) -> float:
        """
        static pressure [Pa abs]
        """
    @property
    def temperature(self) -> float:
        """
        of what passes here [K]
        """
    @property
    def total(self) -> float:
        """
        total pressure [Pa abs]
        """
    @property
    def vapour_margin(self) -> float:
        """
        static pressure above vapour pressure [Pa]
        """
    @property
    def velocity(self) -> float:
        """
        mean velocity in the bore [m/s]
        """
class Suction:
    """
    The way from the pick-up to a pump. SI.
    """
    @property
    def at(self) -> str:
        """
        the part where that is
        """
    @property
    def inlet_gauge(self) -> float:
        """
        static pressure at the inlet [Pa gauge]
        """
    @property
    def margin(self) -> float:
        """
        least static pressure above vapour pressure on the way [Pa]
        """
    @property
    def npsh_available(self) -> float:
        """
        net positive suction head available [m]
        """
class Remark:
    """
    Something in an answer that deserves a warning.
    """
    @property
    def code(self) -> str:
        ...
    @property
    def limit(self) -> float:
        """
        against what [SI]
        """
    @property
    def subject(self) -> str:
        ...
    @property
    def value(self) -> float:
        """
        what was found [SI]
        """
class Solution:
    """
    A read-only snapshot of a solve, with its certificate. SI.
    """
    def ends(self, part: str) -> list[End]:
        """
        Readings at each port.
        """
    def flow_of(self, part: str, flow: typing.SupportsInt | typing.SupportsIndex = 0) -> float:
        """
        Mass flow [kg/s].
        """
    def heat_of(self, part: str) -> float:
        """
        Heat into the stream of a part, a pump's power apart [W].
        """
    def kind_of(self, part: str) -> str:
        ...
    def liquid_in(self, part: str) -> dict[str, float]:
        """
        Properties of the liquid in a part [SI].
        """
    def number(self, name: str) -> float:
        """
        A number of the plan as it stood at this solve [SI].
        """
    def power_of(self, part: str) -> float:
        """
        Power that a pump puts into the liquid [W].
        """
    def pressure_of(self, junction: str) -> float:
        """
        Total pressure [Pa abs].
        """
    def regime_of(self, part: str) -> str:
        """
        State of a device in words: shut, regulating, wide open ...
        """
    def suction(self, pump: str) -> Suction:
        """
        Suction margin and inlet pressure of a pump.
        """
    def temperature_of(self, junction: str) -> float:
        """
        Temperature of the liquid there [K].
        """
    @property
    def ambient(self) -> float:
        """
        [Pa abs]
        """
    @property
    def converged(self) -> bool:
        ...
    @property
    def energy_closure(self) -> float:
        """
        worst imbalance of a junction over the heat moved; at most 1e-9; 0 where temperatures are given
        """
    @property
    def evaluations(self) -> int:
        ...
    @property
    def finds_temperatures(self) -> bool:
        """
        whether temperatures were found, not given
        """
    @property
    def flow(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        per internal flow [kg/s], positive from port 0 on; NaN when not converged
        """
    @property
    def heat_moved(self) -> float:
        """
        by all parts together [W]
        """
    @property
    def iterations(self) -> int:
        ...
    @property
    def junction_names(self) -> list[str]:
        ...
    @property
    def mass_closure(self) -> float:
        """
        worst imbalance of any junction over the largest flow
        """
    @property
    def message(self) -> str:
        """
        what went wrong, in words
        """
    @property
    def part_names(self) -> list[str]:
        ...
    @property
    def pressure(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        total pressure per junction [Pa abs]; NaN when not converged
        """
    @property
    def remarks(self) -> list[Remark]:
        ...
    @property
    def residual(self) -> float:
        """
        worst scaled residual of any part; at most 1e-10 when converged
        """
    @property
    def rung(self) -> str:
        """
        which start succeeded
        """
    @property
    def status(self) -> str:
        ...
    @property
    def worst(self) -> str:
        ...
class Plan:
    """
    A network compiled for speed; takes new numbers.
    """
    @typing.overload
    def __init__(self, network: Network) -> None:
        """
        Compiles. Raises InputError when the circuit is ill-posed.
        """
    @typing.overload
    def __init__(self, network: Network, *, symmetric_from: typing.SupportsInt | typing.SupportsIndex) -> None:
        """
        The same, with the number of parts from which a circuit of parts that know their own flow alone is solved by a symmetric system.
        """
    def advance(self, seconds: typing.SupportsFloat | typing.SupportsIndex) -> Solution:
        """
        Goes on in time at the present numbers, which may have changed since; the solution at its end [s].
        """
    def batch(self, indices: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], values: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], outputs: collections.abc.Sequence[tuple[str, typing.SupportsInt | typing.SupportsIndex, typing.SupportsInt | typing.SupportsIndex]], *, threads: typing.SupportsInt | typing.SupportsIndex = 0, block: typing.SupportsInt | typing.SupportsIndex = 64, kernel: str = '', progress: typing.Any = None) -> dict[str, typing.Any]:
        """
        Solves one scenario per row of `values` [SI]; columns are the numbers `indices`. The plan keeps its numbers.
        
        outputs: (reading, index, port): `total` and `number` with the index of a junction or number; `ambient` and
        `least_margin` (static above vapour pressure, of the whole circuit); else with
        that of a part: `end_total`, `static`, `end_flow`, `velocity`, `reynolds`, `vapour_margin` at a port, `flow` (port: which
        internal flow), `suction_margin`, `suction_gauge`, `npsh`, `regime`, `density`, `viscosity`, `vapour_pressure`. SI.
        `kernel`: one of `batch_kernels()`; the best when empty.
        Returns arrays values, status (0 solved, 1 not converged, 2 refused, 3 not reached), iterations, residual, reason (place
        in `reasons`, -1 when solved), and interrupted, seconds. Without an answer values and residual are NaN. Answers are the
        same to the bit for any number of threads. `progress(done, count)` is called about ten times a second.
        """
    def begin_time(self, temperature: typing.SupportsFloat | typing.SupportsIndex) -> Solution:
        """
        Everything at one temperature [K], flows at once as it has them: where `advance` starts. Only where temperatures are found.
        """
    def copy(self) -> Plan:
        ...
    def get(self, number: typing.SupportsInt | typing.SupportsIndex) -> float:
        """
        [SI]
        """
    def gradient(self, what: str, place: str, flow: typing.SupportsInt | typing.SupportsIndex = 0) -> dict[str, float]:
        """
        Slope of a junction's pressure or a part's flow with every number of the plan, at the last answer [SI].
        """
    def gradient_each(self, indices: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], values: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], what: str, place: str, flow: typing.SupportsInt | typing.SupportsIndex = 0, all: bool = True) -> dict[str, typing.Any]:
        """
        One scenario per row, each from the row before: the time of the solves, of the gradients with all numbers (or those of `indices`), and the last gradient.
        """
    def index(self, name: str) -> int:
        ...
    def junction_index(self, name: str) -> int:
        ...
    def last_flow(self, flow: typing.SupportsInt | typing.SupportsIndex) -> float:
        """
        An internal flow in the last answer [kg/s].
        """
    def last_pressure(self, junction: typing.SupportsInt | typing.SupportsIndex) -> float:
        """
        Total pressure of a junction in the last answer [Pa abs].
        """
    def other_states(self) -> list[Solution]:
        """
        Other steady states at the present numbers beside the last answer, where temperatures are found; usually none.
        """
    def part_index(self, name: str) -> int:
        ...
    def resolve(self, cold: bool = False) -> bool:
        """
        Solves and keeps the answer inside: the fast way to ask for a few numbers over and over.
        """
    def set(self, number: typing.SupportsInt | typing.SupportsIndex, value: typing.SupportsFloat | typing.SupportsIndex) -> None:
        """
        Changes a number [SI]. Raises InputError when out of range, and then changes nothing.
        """
    def set_column(self, part: str, column: str, values: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        """
        Replaces a measured column of a part (another pump curve).
        """
    def set_columns(self, part: str, columns: collections.abc.Mapping[str, collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]]) -> None:
        """
        Replaces several columns of a part together: all of them, or none when they are refused.
        """
    def set_many(self, values: collections.abc.Mapping[str, typing.SupportsFloat | typing.SupportsIndex]) -> None:
        """
        Changes several numbers together: all of them, or none when one is refused.
        """
    def solve(self, cold: bool = False) -> Solution:
        """
        Solves at the present numbers, warm from the last answer unless told cold.
        """
    def solve_each(self, indices: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], values: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], start: str = 'cold') -> dict[str, typing.Any]:
        """
        One scenario per row: certificates and the time spent. start: cold, warm (from the row before), zero.
        """
    @property
    def follows_heat(self) -> bool:
        """
        Whether temperatures are found with pressures and flows; only a network that follows heat can.
        """
    @follows_heat.setter
    def follows_heat(self, arg1: bool) -> None:
        ...
    @property
    def in_rows(self) -> bool:
        """
        Whether the network is still kept in rows: no more memory than its columns.
        """
    @property
    def method(self) -> str:
        """
        How solves so far have worked: 'general system', or 'symmetric system' with the kernel of its blocks, and whether it had to pivot.
        """
    @property
    def names(self) -> list[str]:
        """
        Every number that can change.
        """
    @property
    def workspace_bytes(self) -> int:
        """
        Bytes that the symmetric system keeps between solves, its factor included; 0 while solves go elsewhere.
        """
def batch_kernels() -> list[str]:
    """
    How rows of a batch can be solved here, the best first.
    """
def heat_kinds() -> dict[str, Kind]:
    """
    Every kind of heat law of the engine, by name.
    """
def kinds() -> dict[str, Kind]:
    """
    Every kind of part of the engine, by name.
    """
def regime_names() -> list[str]:
    """
    Words of the numbers that the reading `regime` gives.
    """
block_kernel: str = 'avx2'
