"""Sliders: moved from here as a front end would, judged by plain change and solve, and by another library's reading of the picture."""

import io
import re
from pathlib import Path

import pytest

import flarenut as fn

pytest.importorskip("ipywidgets", reason="sliders are ipywidgets")
pytest.importorskip("matplotlib", reason="the picture is matplotlib's")
from flarenut.studies.live_picture import LivePicture  # noqa: E402
from flarenut.studies.sliders import Sliders  # noqa: E402
from flarenut.units import in_one  # noqa: E402


@pytest.fixture
def car():
    made = fn.Circuit("moved car (invented)", fluid="E85", invented=True)
    made.tank("cell", level="8 in")
    made.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "420 L/h", through="65 psi at 230 L/h", name="pump"),
                                      fn.hose("-8", "11 ft", spec="ptfe", name="feed hose")])
    made.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", name="regulator"),
                                        fn.hose("-6", "12 ft", spec="ptfe", name="return hose")])
    made.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar")
    made.fuel_cases()
    return made


def rails(picture, answer):
    """A line over the cases."""
    if picture.is_new:
        picture.axes.set(ylim=(30.0, 60.0), ylabel="rail [psig]")
    picture.line("rail", range(len(answer)), [case.at("rail").gauge.to("psi") for case in answer.values()], marker="o")
    picture.say(f"idle {answer['idle'].at('rail').gauge}" if "idle" in answer else "")


MOVES = {"return hose.size": ["-4", "-6", "-8"], "return hose.length": fn.between("6 ft", "20 ft"), "volts": fn.between("11 V", "14 V")}


def drawn(sliders):
    return list(sliders.picture.axes.get_lines()[0].get_ydata())


def test_a_move_shows_what_change_and_solve_find(car):
    sliders = Sliders(car, MOVES, rails)
    assert sliders.values == {"return hose.size": "-6", "return hose.length": "12 ft", "volts": "12.5 V"}
    line = sliders.picture.axes.get_lines()[0]
    for size, length, volts in (("-4", 18.0, 13.6), ("-8", 7.2, 11.0), ("-6", 20.0, 14.0)):
        sliders.controls["return hose.size"].value = size
        sliders.controls["return hose.length"].value = length
        sliders.controls["volts"].value = volts
        car.change("return hose", size=size, length=f"{length} ft")
        for case in car.cases.values():
            case.conditions["volts"] = f"{volts} V"
        wanted = [case.at("rail").gauge.to("psi") for case in car.solve().values()]
        assert drawn(sliders) == pytest.approx(wanted, rel=1e-9) and sliders.trouble == ""
    assert sliders.picture.axes.get_lines()[0] is line, "the line was made anew"


def test_the_circuit_and_its_cases_stay_as_they_are(car):
    before = car.solve().to_dict()
    sliders = Sliders(car, MOVES, rails)
    sliders.controls["return hose.size"].value = "-4"
    sliders.controls["volts"].value = 11.0
    assert car.solve().to_dict() == before


def test_moves_keep_the_plan_and_the_scale(car):
    sliders = Sliders(car, MOVES, rails)
    plan, redrawn = sliders._circuit.plan, sliders.picture.redrawn
    for volts in (11.5, 12.0, 13.0, 13.5):
        sliders.controls["volts"].value = volts
    assert sliders._circuit.plan is plan and sliders.picture.redrawn == redrawn


def test_the_picture_changes_and_is_a_png_that_others_read(car):
    image = pytest.importorskip("PIL.Image")
    sliders = Sliders(car, MOVES, rails, size=(5.0, 3.0))
    first = sliders._image.value
    sliders.controls["return hose.size"].value = "-4"
    with image.open(io.BytesIO(first)) as before, image.open(io.BytesIO(sliders._image.value)) as after:
        assert before.size == after.size == (500, 300) and before.tobytes() != after.tobytes()
        kept = sliders.picture._canvas.buffer_rgba()
        assert after.tobytes() == image.frombuffer("RGBA", after.size, kept, "raw", "RGBA", 0, 1).convert("RGB").tobytes()


def test_a_case_and_what_it_says_otherwise_give_way(car):
    for case in car.cases.values():
        case.conditions |= {"return hose.length": "30 ft"}
    sliders = Sliders(car, {"return hose.length": fn.between("6 ft", "20 ft"), "power": fn.between("100 hp", "400 hp"),
                            "specific_consumption": ["0.6 lb/hp/h", "0.8 lb/hp/h"]}, rails, cases="full power")
    burnt = sliders.answer["full power"].part("bank").mass_flow.si
    asked = 250 * 0.6 * 0.45359237 / 3600  # the pound is exact by definition
    assert burnt == pytest.approx(asked, rel=1e-6)
    assert list(sliders.answer) == ["full power"]
    case = car.cases["full power"].conditions
    del case["return hose.length"], case["duty"]
    case |= {"power": "250 hp", "specific_consumption": "0.6 lb/hp/h"}
    assert drawn(sliders) == pytest.approx([car.solve("full power")["full power"].at("rail").gauge.to("psi")], rel=1e-9)


def test_a_circuit_without_cases(car):
    car.cases.clear()
    sliders = Sliders(car, {"volts": ["11 V", "14 V"]}, rails)
    low = drawn(sliders)[0]
    sliders.controls["volts"].value = "14 V"
    assert list(sliders.answer) == ["as written"] and drawn(sliders)[0] > low


def test_what_is_refused_is_told_in_words_and_the_next_move_works(car):
    sliders = Sliders(car, {"return hose.size": ["-6", "<-99>"], "volts": fn.between("11 V", "14 V")}, rails)
    good = sliders._image.value
    sliders.controls["return hose.size"].value = "<-99>"
    assert sliders.answer is None and "return hose" in sliders.trouble
    assert "Not drawn" in sliders._words.value and "<-99>" not in sliders._words.value, "not escaped"
    assert sliders._image.value != good, "the picture of the move before still stands"
    sliders.controls["return hose.size"].value = "-6"
    assert sliders.trouble == "" and sliders._image.value == good and sliders._words.value.startswith("<div>idle ")


def test_a_drawing_that_fails_is_told_in_words(car):
    def fails(picture, answer):
        raise KeyError("no such reading")

    sliders = Sliders(car, {"volts": ["11 V", "14 V"]}, fails)
    sliders.controls["volts"].value = "14 V"
    assert "no such reading" in sliders.trouble and "no such reading" in sliders._words.value


def test_a_case_without_an_answer_says_why(car, monkeypatch):
    sliders = Sliders(car, {"volts": ["11 V", "14 V"]}, rails)
    case = type(sliders.answer["idle"])
    monkeypatch.setattr(case, "converged", property(lambda self: self.name != "idle"))
    monkeypatch.setattr(case, "cause_in", lambda self, units: in_one("it would get hotter than 320 F (160 C)", units))
    sliders.controls["volts"].value = "14 V"
    assert "idle: no answer, it would get hotter than 320 F" in sliders._words.value and "full power: no answer" not in sliders._words.value
    assert "hotter than 160 C" in Sliders(car, {"volts": ["11 V", "14 V"]}, rails, units="metric")._words.value  # as asked, whatever the circuit's own


def test_a_notebook_gets_the_widgets_and_a_page_the_picture(car, monkeypatch):
    sliders = Sliders(car, MOVES, rails)
    shown = sliders._repr_mimebundle_()
    assert {"application/vnd.jupyter.widget-view+json", "image/png", "text/plain"} <= set(shown)
    assert shown["text/plain"] == "<sliders over return hose.size = -6, return hose.length = 12 ft, volts = 12.5 V>"
    sliders.box = None
    assert "could not be shown" in sliders._repr_mimebundle_()["text/plain"]


@pytest.mark.parametrize("moves, words", [
    ({"return hose.siz": ["-4"]}, "slider 'return hose.siz': hose has no 'siz' to vary: did you mean 'size'?"),
    ({"fluid": ["E10", "E85"]}, "a slider moves one word"),
    ({"pump": [fn.formula_pump("90 psi", "300 L/h")]}, "a slider moves one word"),
    ({"volts": []}, "empty"),
    ({"duty": [0.1], "power": ["100 hp"]}, "say the same thing"),
    ({}, "what to move"),
])
def test_sliders_that_move_nothing_are_refused(car, moves, words):
    with pytest.raises(fn.CircuitError) as refusal:
        Sliders(car, moves, rails)
    assert words in str(refusal.value)


@pytest.mark.parametrize("start", [{"volts": "20 V"}, {"volts": "twelve"}, {"return hose.size": "-5"}])
def test_a_start_outside_is_refused(car, start):
    with pytest.raises(fn.CircuitError, match="cannot begin at"):
        Sliders(car, MOVES, rails, start=start)


def test_steps_are_round(car):
    sliders = Sliders(car, MOVES, rails)
    assert [sliders.controls[name].step for name in ("volts", "return hose.length")] == pytest.approx([0.05, 0.2])


def test_a_line_that_leaves_the_picture_widens_it():
    picture = LivePicture((4.0, 3.0))
    picture.axes.set(xlim=(0.0, 1.0), ylim=(0.0, 10.0))
    picture.line("one", [0.0, 1.0], [2.0, 5.0])
    picture.png()
    assert picture.redrawn == 1 and picture.axes.get_ylim() == (0.0, 10.0)
    picture.begin()
    picture.line("one", [0.0, 1.0], [2.0, 50.0])
    picture.png()
    low, high = picture.axes.get_ylim()
    assert picture.redrawn == 2 and low == 0.0 and high > 50.0
    picture.begin()
    picture.line("one", [0.0, 1.0], [float("nan"), float("nan")])
    assert picture.png() and picture.redrawn == 2


def test_the_code_of_the_guide():
    guide = (Path(__file__).resolve().parents[2] / "docs/guide/notebooks.md").read_text(encoding="utf-8")
    (code,) = re.findall(r"```python\n(.*?)```", guide, re.DOTALL)
    names = {}
    exec(compile(code, "notebooks.md", "exec"), names)  # noqa: S102 - our own text
    sliders = names["sliders"]
    sliders.controls["volts"].value = 12.0
    assert sliders.trouble == "" and sliders._words.value.count("<div>") == len(sliders.answer) == 3
