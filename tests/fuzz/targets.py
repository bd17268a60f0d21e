"""What the fuzzers feed with bytes, on the Python side. Whatever the bytes say, a target answers or refuses in its own words; anything else,
such as an error that no builder could read, is a breach. Each runs without a fuzzer, so that kept files replay anywhere.
"""

import contextlib
import io
import math
import os
import tempfile
import warnings
from pathlib import Path

import numpy

import flarenut as fn
from flarenut import _core, catalog, units
from flarenut.catalog.shop_tables import ShopTableError, read_shop_table
from flarenut.circuit import CircuitError
from flarenut.circuit.file import FileError, read
from flarenut.hardware.prices import prices
from flarenut.units import UnitError
from pieces import Pieces

_FOLDER = Path(tempfile.mkdtemp(prefix="flarenut-fuzz-", dir="/dev/shm" if os.access("/dev/shm", os.W_OK) else None))
_MOST_PARTS = 60  # of a circuit that is solved, too


def _text(data):
    return data.decode("utf-8", "surrogateescape" if data[:1] == b"\x00" else "ignore")


def circuit_file(data):
    """The text of a circuit file: read, compiled, and where it is small solved and shown."""
    try:
        loaded = read(_text(data), "wagon.toml")
    except FileError as refusal:
        assert refusal.problems
        _without_controls(str(refusal))
        return "refused"
    try:
        if len(getattr(loaded.circuit, "pieces", ())) > _MOST_PARTS:
            return "read"
        answer = loaded.circuit.solve()
    except ValueError as refusal:
        told = str(loaded.error(refusal))
        assert told.startswith("wagon.toml"), told
        _without_controls(told)
        return "refused"
    _shown(loaded, answer)
    return "solved" if all(case.converged for case in answer.values()) else "not solved"


def _shown(loaded, answer):
    for system in ("us", "metric"):
        answer.table(system).text()
    answer.to_json()
    answer.findings  # noqa: B018 - worked out when asked
    assert "<script" not in fn.schematic(loaded.circuit, answer).svg
    for case in answer.values():
        if case.converged:
            assert numpy.isfinite(case.solution.pressure).all() and numpy.isfinite(case.solution.flow).all()


def _without_controls(text):
    """No letter that moves a terminal's cursor, colours it or turns its direction."""
    wrong = [letter for letter in text if ord(letter) < 32 and letter not in "\n\t" or ord(letter) == 127 or 0x80 <= ord(letter) < 0xA0]
    assert not wrong, f"a message with the control letters {wrong}"


def command(data):
    """The whole command on a file: never code 70, which is a fault of the program."""
    from flarenut.cli import main

    words = (["solve"], ["solve", "--json"], ["audit"], ["bill", "--cut-list"], ["audit", "--fit"], ["sweep", "--threads", "1", "--findings"], ["drive"])
    chosen = words[data[0] % len(words)] if data else words[0]
    path = _FOLDER / "command.toml"
    path.write_bytes(data[1:])
    out, err = io.StringIO(), io.StringIO()
    before = os.environ.get("FLARENUT_TRACEBACK")
    os.environ["FLARENUT_TRACEBACK"] = "1"  # so that a fault arrives here as what it is
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err), warnings.catch_warnings():
            warnings.simplefilter("ignore")
            code = main([chosen[0], str(path), *chosen[1:]])
    finally:
        os.environ.pop("FLARENUT_TRACEBACK") if before is None else None
        catalog.forget()
    assert code in (0, 1, 2, 3), f"{' '.join(chosen)} ended with {code}: {err.getvalue()[-500:]}"
    assert "Traceback" not in err.getvalue()
    assert code == 0 or err.getvalue() or out.getvalue()
    _without_controls(err.getvalue())
    return f"code {code}"


def units_text(data):
    """A value with its unit, for every kind."""
    text = _text(data)
    kinds = sorted(units.KINDS)
    for kind in {kinds[len(data) % len(kinds)], kinds[sum(data) % len(kinds)], "pressure", "length", "flow", "temperature"} & set(kinds):
        try:
            found = units.parse(text, kind)
        except UnitError as refusal:
            assert str(refusal)
            continue
        value = found[0] if isinstance(found, tuple) else found
        assert math.isfinite(value), f"{text!r} as {kind} is {value}"
    with contextlib.suppress(UnitError):
        units.dash(text)
    return "done"


def price_file(data):
    """A price file, of either kind."""
    path = _FOLDER / ("prices.toml" if data[:1] == b"t" else "prices.csv")
    path.write_bytes(data[1:])
    try:
        found = prices(path)
    except FileError as refusal:
        _without_controls(str(refusal))
        return "refused"
    for row in found.rows:
        assert row.price is None or math.isfinite(row.price)
        found.price("hose end -8 straight")
    return "read"


def shop_table(data):
    """A shop's own table, of either kind, put into use and taken out again."""
    path = _FOLDER / ("shop.toml" if data[:1] == b"t" else "shop.csv")
    path.write_bytes(data[1:])
    try:
        read_shop_table(path)
        catalog.use(path)
    except ShopTableError as refusal:
        assert refusal.problems
        _without_controls(str(refusal))
        return "refused"
    finally:
        catalog.forget()
    return "used"


def kept_sweep(data):
    """A file that should be a sweep that was saved."""
    path = _FOLDER / "kept.csv"
    path.write_bytes(data)
    try:
        fn.load_sweep(path)
    except CircuitError:
        return "refused"
    return "loaded"


_KINDS = {name: kind for name, kind in _core.kinds().items()}


def engine(data):
    """The engine's dictionaries and arrays: of any type, shape and size, with any numbers."""
    pieces = Pieces(data)
    try:
        plan = _core.Plan(_network(pieces))
    except (ValueError, TypeError, IndexError, OverflowError):
        return "refused"
    for _ in range(1 + pieces.below(4)):
        with contextlib.suppress(ValueError, TypeError, IndexError, OverflowError):
            _used(pieces, plan)
    return "used"


def _network(pieces):
    network = _core.Network()
    network.liquid(fn.fluid("water").liquid)
    network.fixed("air")
    refused = ValueError, TypeError, IndexError, OverflowError
    for number in range(1 + pieces.below(6)):
        with contextlib.suppress(*refused):
            which = pieces.below(6)
            if which < 4:
                network.junction(f"j{number}", demand=pieces.number(0.0, 0.1) if pieces.chance() else 0.0)
            elif which == 4:
                network.tank(f"j{number}", level=pieces.number(0.0, 1.0), liquid=pieces.index(1))
            else:
                network.junctions(f"j{number}", pieces.index(8), pieces.array(-0.01, 0.01), pieces.array(-1.0, 1.0))
    for number in range(1 + pieces.below(8)):
        with contextlib.suppress(*refused):
            _part(pieces, network, f"p{number}")
    if pieces.chance():
        network.follow_heat()
        for number in range(pieces.below(6)):
            with contextlib.suppress(*refused):
                _heat(pieces, network)
    return network


def _part(pieces, network, name):
    count = network.junction_count
    if pieces.below(6) == 0:
        network.lines(name, pieces.places(count), pieces.places(count), bore=pieces.array(0.004, 0.02), length=pieces.array(0.1, 5.0))
        return
    kind = pieces.one_of(sorted(_KINDS))
    info = _KINDS[kind]
    numbers = {field.name: pieces.number(field.least, field.most) for field in info.fields if pieces.chance() or not field.least <= field.preset <= field.most}
    columns = {column.name: sorted(pieces.number(0.0, 10.0) for _ in range(pieces.below(6))) for column in info.columns}
    network.part(name, kind, [pieces.index(count) for _ in range(info.ports)], [pieces.index(count) for _ in range(info.senses)], numbers, columns)


def _heat(pieces, network):
    which, part, place = pieces.below(6), pieces.index(network.part_count), pieces.index(network.junction_count)
    if which == 0:
        network.put_heat(part, pieces.number(-1e4, 1e4), pieces.number(0.1, 1.0), pieces.number(0.0, 1e4))
    elif which == 1:
        network.put_heat_at(place, pieces.number(-1e4, 1e4), pieces.number(0.0, 10.0))
    elif which == 2:
        network.sense_temperature(part, place)
    elif which == 3:
        network.let_mix(place)
    elif which == 4:
        network.drain(place, pieces.index(network.junction_count))
    else:
        kinds = _core.heat_kinds()
        kind = pieces.one_of(sorted(kinds))
        network.heat_law(part, kind, {field.name: pieces.number(field.least, field.most) for field in kinds[kind].fields})


def _used(pieces, plan):
    which, count = pieces.below(12), len(plan.names)
    if which == 0:
        plan.set_many({plan.names[pieces.below(count)]: pieces.number(0.0, 10.0) for _ in range(pieces.below(4))})
    elif which == 1:
        plan.set(pieces.index(count), pieces.number(0.0, 10.0))
        plan.get(pieces.index(count))
    elif which == 2:
        plan.gradient(pieces.one_of(["pressure", "flow", "heat"]), pieces.one_of(["p0", "p1", "j0", "air"]), pieces.index(2))
    elif which == 3:
        plan.solve_each([pieces.index(count) for _ in range(pieces.below(3))], pieces.array(0.0, 10.0), pieces.one_of(["cold", "warm", "zero", "x"]))
    elif which == 4:
        plan.gradient_each([pieces.index(count)], pieces.array(0.0, 10.0), "flow", "p0", pieces.index(2), pieces.chance())
    elif which in (5, 6):
        words = ["total", "end_total", "static", "flow", "regime", "npsh", "suction_margin", "least_margin", "number", "temperature", "heat", "x"]
        indices = [pieces.index(count) for _ in range(pieces.below(3))]
        outputs = [(pieces.one_of(words), pieces.index(8), pieces.index(3)) for _ in range(pieces.below(5))]
        kernel = pieces.one_of(["", "single", "none such", *_core.batch_kernels()])
        plan.batch(indices, pieces.table(len(indices)), outputs, threads=pieces.one_of([0, 1, 2, -1]), block=pieces.one_of([1, 16, 64, 0]), kernel=kernel)
    elif which == 7:
        plan.set_columns(pieces.one_of(["p0", "p1"]), {"flow": pieces.array(0.0, 1.0), "rise": pieces.array(0.0, 1e5)})
    elif which == 8:
        plan.last_pressure(pieces.index(8))
        plan.last_flow(pieces.index(8))
    elif which == 9:
        plan.begin_time(pieces.number(250.0, 400.0))
        plan.advance(pieces.number(0.01, 10.0))
    else:
        _read(plan.solve(pieces.chance()))
        plan.other_states()


def _read(answer):
    if answer.converged:
        assert numpy.isfinite(answer.pressure).all() and numpy.isfinite(answer.flow).all()
    else:
        assert numpy.isnan(answer.pressure).all() and answer.message
    for name in answer.part_names:
        with contextlib.suppress(ValueError):
            answer.ends(name)
            answer.regime_of(name)
            answer.flow_of(name, 1)
            answer.suction(name)
        answer.heat_of(name)
        answer.liquid_in(name)
    for name in answer.junction_names:
        answer.temperature_of(name)
    answer.remarks  # noqa: B018


TARGETS = {one.__name__: one for one in (circuit_file, command, units_text, price_file, shop_table, kept_sweep, engine)}
