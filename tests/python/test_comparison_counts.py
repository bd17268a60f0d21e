"""A winner only where the difference counts: what nobody could measure, or the model cannot tell, chooses nothing."""

import flarenut as fn


def hill_buggy():
    """An engine whose relief lets nearly all go on a cold start, its cooler plumbed in three ways."""
    from test_tried_cures import oil

    def plumbed(way):
        car = oil()
        del car.cases["full speed"]
        car.case("cold start", speed="1100 rpm", engine_power="3 kW", air_temperature="-15 C", **{"sump.temperature": "-15 C"})
        if way == "bleed":
            cooling = car.take_out("cooling")
            car.take_out("round it")
            car.run("straight", "out", "gallery", [fn.hose("-8", "1 m", spec="ptfe", name="straight hose")])
            car.run("cooling", "out", "sump", [fn.orifice("3.5 mm", name="bleed jet"), *cooling])
        return car

    return {"in the way": plumbed("round"), "bleed": plumbed("bleed")}


def test_no_variant_wins_a_case_by_a_difference_that_nobody_can_measure():
    """Of the oil pumped 0.6 % reaches the engine, with either: a limit that lies between the two rules none of them out."""
    cars = hill_buggy()
    shares = {name: [one.value.si for one in car.solve().findings if one.code == "oil spilled"][0] for name, car in cars.items()}
    assert (
        max(shares.values()) < 0.02 and 0 < abs(shares["bleed"] - shares["in the way"]) < 0.005
    )  # what the bleed passes does not reach the engine
    between = 10 * sum(shares.values()) / 2  # a STOP below a tenth of the limit
    found = fn.compare(cars, limits=fn.checks.Limits(oil_consumer_share=f"{100 * between} %"), at="gallery")
    verdict = found.verdict("cold start")
    assert {
        name for name, answer in found.answers.items() for one in answer.findings if (one.code, one.severity) == ("oil spilled", "stop")
    } == {min(shares, key=shares.get)}
    assert not verdict.stops and set(verdict.running) == set(cars) and [hair.finding.code for hair in verdict.hairs] == ["oil spilled"]
    told = " ".join(found.reading("cold start"))
    assert (
        "no difference that counts" in told
        and "out of the running: STOP for oil spilled" not in told
        and "the only one in the running" not in told
    )


def test_pressures_within_two_hundredths_are_alike_unless_somebody_says_his_own():
    def car(bore):
        made = fn.Circuit("press (invented)", fluid="SAE 10W-40", fluid_temperature="90 C")
        made.tank("sump", level="100 mm")
        made.run("pumping", "sump", "gallery", [fn.displacement_pump("10 cc/rev", speed="2000 rpm", name="pump")])
        made.run("mains", "gallery", "sump", [fn.orifice(bore, name="jet")])
        made.case("one")
        return made

    pair = {"wide": car("2.02 mm"), "narrow": car("2.01 mm")}
    high, low = (pair[name].solve()["one"].at("gallery").gauge.si for name in ("narrow", "wide"))
    assert 1e4 < high - low < 0.02 * high
    assert fn.compare(pair, at="gallery").verdict("one").by_pressure.alike == ("wide",)
    assert fn.compare(pair, at="gallery", same_pressure="5 kPa").verdict("one").by_pressure.beaten == ("wide",)
    assert (
        "or 2 % (the more)" in fn.compare(pair, at="gallery").text()
        and "2 %" not in fn.compare(pair, at="gallery", same_pressure="5 kPa").text()
    )
