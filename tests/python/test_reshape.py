"""A circuit copied, and a run taken out to be plumbed elsewhere: the copy is its own, and what is put back solves as before."""

from importlib.resources import files

import pytest

import flarenut as fn
from flarenut.studies.blueprint import packed, unpacked


def engine():
    return fn.load(str(files("flarenut").joinpath("demo/oil_cooler_six.toml")))


def numbers(circuit, case="hot track"):
    one = circuit.solve(case)[case]
    return [one.at("gallery").gauge.si, one.at("sump").temperature.si, one.part("oil cooler").heat.si, one.part("relief valve").mass_flow.si]


def test_a_copy_changes_nothing_of_its_original():
    car = engine()
    before, other = numbers(car), car.copy("thinner hose")
    other.change("hose to cooler", size="-6")
    other.case("another", speed="2000 rpm", engine_power="40 kW")
    other.take_out("lifters")
    assert (other.name, car.name) == ("thinner hose", "invented six, oil cooler after the filter")
    assert numbers(car) == before and "another" not in car.cases and "lifters" in car.runs
    assert numbers(other) != pytest.approx(before, rel=1e-3)


def test_what_is_taken_out_and_put_back_solves_as_before_with_the_gauge_bores_of_its_places():
    car = engine()
    before = numbers(car)
    site = car.solve("hot track")["hot track"].at("filter out").gauge.si
    parts = {run: car.take_out(run) for run in ("filtering", "cooling", "round the cooler")}
    assert "filter out" not in car.junctions and "filter in" in car.junctions and "gallery" in car.junctions
    car.run("filtering", "filter in", "filter out", parts["filtering"])
    car.run("round the cooler", "filter out", "gallery", parts["round the cooler"])
    car.run("cooling", "filter out", "gallery", parts["cooling"])
    assert numbers(car) == pytest.approx(before, rel=1e-8)
    assert car.solve("hot track")["hot track"].at("filter out").gauge.si == pytest.approx(site, rel=1e-8)


def test_a_place_that_something_goes_by_stays_though_no_run_meets_it():
    car = fn.Circuit("sensed", fluid="SAE 10W-40")
    car.tank("sump", level="4 in", temperature="found", heat="5 kW", heat_loss="60 W/K")
    car.run("pumping", "sump", "out", [fn.displacement_pump("14 cc/rev", speed="3000 rpm")])
    car.run("back", "out", "sump", [fn.thermostat("80 C", bore="12 mm", senses="probe")])
    car.run("tapping", "out", "probe", [fn.passage("4 mm", "50 mm")])
    car.take_out("tapping")
    assert "probe" in car.junctions


def test_an_unknown_run_is_refused_with_the_nearest():
    with pytest.raises(fn.CircuitError, match="there is no run 'coolin'.*cooling"):
        engine().take_out("coolin")


def test_a_circuit_sent_to_other_processes_keeps_whether_its_temperatures_are_found():
    car = engine()
    car.temperatures = "given"
    assert not unpacked(packed(car)).finds_temperatures and unpacked(packed(engine())).finds_temperatures
