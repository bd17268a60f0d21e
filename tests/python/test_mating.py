"""Every pair of ends is decided, and decided rightly: the whole matrix of forms, sizes and sexes, and the pairs that builders meet."""

import pytest

from flarenut.catalog import CatalogError, End, end, end_forms, end_sizes, thread_of
from flarenut.hardware import clashes, mate
from flarenut.hardware.adapters import is_usual, largest_step
from flarenut.hardware.sealants import sealant_source
from flarenut.catalog.threads import nominal_tube, relation

EVERY_END = [End(form, size, sex) for form in end_forms() for size in end_sizes(form) for sex in end_forms()[form].sexes or ("",)]
PAIRS = [(first, second) for index, first in enumerate(EVERY_END) for second in EVERY_END[index:]]


@pytest.fixture(scope="module")
def matrix():
    """What becomes of every pair."""
    return {pair: mate(*pair) for pair in PAIRS}


def test_the_matrix_holds_every_form_in_every_size_and_sex():
    assert len(EVERY_END) == 204 and len(PAIRS) == 204 * 205 // 2
    assert {one.form for one in EVERY_END} == set(end_forms()) and len(end_forms()) == 14


def test_every_pair_is_decided_with_a_reason_and_the_same_in_either_order(matrix):
    for (first, second), joint in matrix.items():
        turned = mate(second, first)
        assert joint.verdict in ("seals", "refused", "adapter") and joint.reason and not joint.reason.endswith("."), (first, second)
        assert turned._replace(adapter=None) == joint._replace(adapter=None), (first, second)
        assert (turned.adapter and turned.adapter[::-1]) == joint.adapter, (first, second)
        assert joint.source and joint.how in ("seen", "mixed", "memory", "common practice"), (first, second)


def test_what_seals_is_of_one_family_one_size_and_opposite_sexes_and_nothing_else_does(matrix):
    sealing = 0
    for (first, second), joint in matrix.items():
        forms = end_forms()[first.form], end_forms()[second.form]
        belongs = forms[0].family == forms[1].family and first.size == second.size and {first.sex, second.sex} == {"male", "female"}
        assert (joint.verdict == "seals") == belongs, (first, second)
        assert bool(joint.seal) == bool(joint.sealant) == belongs and (not belongs or not (joint.danger or joint.adapter)), (first, second)
        sealing += belongs
    assert sealing == 110  # 96 sizes of forms with sexes, and NPT in NPTF and the reverse in seven


def test_every_adapter_seals_with_both_ends_and_is_of_a_kind_that_is_made(matrix):
    proposed = 0
    for (first, second), joint in matrix.items():
        if not joint.adapter:
            assert joint.verdict != "adapter", (first, second)
            continue
        proposed += 1
        assert mate(first, joint.adapter[0]).verdict == mate(second, joint.adapter[1]).verdict == "seals", (first, second)
        assert is_usual(joint.adapter[0].form, joint.adapter[1].form)
        for one in joint.adapter:
            assert one.sex in end_forms()[one.form].on_adapter and one.turn == 0.0 and one.bore is None
        steps = sorted(nominal_tube(one) for one in joint.adapter)
        assert steps[1] <= 1.001 * largest_step(first, second) * steps[0], (first, second)
    assert proposed > 4000


def test_ends_that_can_be_screwed_together_without_a_seal_are_refused_as_dangerous_whether_an_adapter_joins_them_or_not(matrix):
    for (first, second), joint in matrix.items():
        joint = mate(first, second)
        goes = {first.sex, second.sex} == {"male", "female"} and relation(thread_of(first), thread_of(second))
        assert joint.danger == bool(goes and joint.verdict != "seals"), (first, second)
        assert not joint.danger or joint.verdict == "refused"
        assert not joint.danger or joint.reason.count("screws into") + joint.reason.count("can be forced into") == 1


def test_clashes_are_those_of_the_matrix():
    listed = {(male, female) for male, female, _ in clashes()}
    assert listed == {(first, second) for first in EVERY_END for second in EVERY_END
                      if first.sex == "male" and mate(first, second).danger} and len(listed) == 288  # among them 1/16 NPT and M8x1


@pytest.mark.parametrize("first, second, verdict, danger, said", [
    ("-8 37 flare male", "-8 37 flare female", "seals", False, "metal cone at 37 degrees"),
    ("-8 37 flare male", "-8 45 flare female", "refused", True, "both 3/4-16, and nothing seals"),
    ("-8 37 flare male", "-8 O-ring boss female", "refused", True, "both 3/4-16, and nothing seals"),
    ("-6 37 flare male", "-6 45 flare female", "adapter", False, "9/16-18 against 5/8-18"),
    ("-8 37 flare male", "-6 37 flare female", "adapter", False, "two sizes"),
    ("-8 37 flare male", "-8 37 flare male", "adapter", False, "both male"),
    ("-8 37 flare female", "3/8 NPT female", "adapter", False, "both female"),
    ("-3 inverted flare male", "M10x1 bubble flare female", "refused", True, "3/8-24 (9.53 mm, pitch 1.06 mm) against M10x1 (10.00 mm, pitch 1.00 mm); "
     "it starts loosely and strips"),
    ("M10x1 bubble flare male", "-3 inverted flare female", "refused", True, "it starts tight and strips"),
    ("M10x1 bubble flare male", "M10x1 metric double flare female", "refused", True, "both M10x1, and nothing seals"),
    ("M10x1 bubble flare male", "M10x1 banjo female", "refused", True, "both M10x1"),
    ("1/2 NPT male", "1/2 BSPT female", "refused", True, "flanks of 60 against 55 degrees"),
    ("1/4 NPT male", "-6 O-ring boss female", "refused", True, "forced"),
    ("1/2 NPTF male", "1/2 NPT female", "seals", False, "taper thread with sealant"),
    ("1/2 NPTF male", "1/2 NPTF female", "seals", False, "dry taper thread"),
    ("banjo M12x1.5", "banjo M12x1.5 port", "seals", False, "two soft washers"),
    ("banjo M12x1.5", "M12x1.5 O-ring port female", "refused", True, "both M12x1.5"),
    ("quick-connect 5/16 male", "quick-connect 3/8 female", "adapter", False, "two sizes"),
    ("quick-connect 5/16 male", "-6 37 flare male", "adapter", False, "both male"),
    ("barb -6", "barb -6 clamped", "seals", False, "which may be 0.89 mm wider"),
    ("barb -5", "barb -6 clamped", "refused", False, "1.59 mm too wide; a clamp takes up 0.51 mm"),
    ("barb -6", "barb -5 clamped", "refused", False, "forced on"),
    ("barb -6", "barb -6", "refused", False, "a piece of hose with two clamps"),
    ("barb -6 clamped", "barb -6 clamped", "adapter", False, "both female"),
    ("plain tube 3/8", "-6 37 flare male", "refused", False, "flare it with nut and sleeve already on"),
    ("M10x1 bubble flare male", "-12 37 flare female", "refused", False, "too large for one adapter"),
    ("M10x1 bubble flare male", "-3 O-ring boss female", "refused", True, "two that meet in a 37 flare"),
    ("banjo M10x1", "-3 37 flare male", "refused", False, "change the hose end or the port"),
])
def test_pairs_that_builders_meet(first, second, verdict, danger, said):
    joint = mate(first, second)
    assert (joint.verdict, joint.danger) == (verdict, danger) and said in joint.reason


def test_adapters_are_named_as_they_are_bought():
    port = mate("-8 37 flare female", "-8 O-ring boss female")  # a hose end and the port of a pump
    assert [str(one) for one in port.adapter] == ["-8 37 flare male", "-8 O-ring boss male"]
    assert [str(one) for one in mate("3/8 NPT female", "-6 37 flare female, 90 deg, bore 7 mm").adapter] == ["3/8 NPT male", "-6 37 flare male"]
    assert [str(one) for one in mate("M10x1 bubble flare male", "-3 inverted flare female").adapter] == ["M10x1 bubble flare female", "-3 inverted flare male"]


def test_turn_and_bore_do_not_decide_except_for_a_measured_hose():
    assert mate("-8 AN female 90 deg bore 9 mm", "-8 AN male") == mate("-8 AN female", "-8 AN male")
    assert mate("barb -5", "barb -5 clamped bore 8.4 mm").verdict == "seals"
    assert mate("barb -5", "barb -5 clamped bore 8.5 mm").verdict == "refused"
    assert mate("barb 8 mm", "barb -5 clamped").verdict == "seals"  # 5/16 in and 8 mm are taken for each other


def test_limits_of_a_hose_over_its_spigot_are_those_of_the_boat_regulation():
    """33 CFR 183.558, table 8: 0.020 in below 3/8 in, 0.035 in from 3/8 to 1 in; above that it says nothing."""
    for spigot, over in (("-4", 0.020), ("-5", 0.020), ("-6", 0.035), ("-16", 0.035)):
        outside = int(spigot[1:]) / 16
        assert mate(f"barb {spigot}", f"barb {spigot} clamped bore {outside + over - 0.001:.4f} in").verdict == "seals"
        assert mate(f"barb {spigot}", f"barb {spigot} clamped bore {outside + over + 0.001:.4f} in").verdict == "refused"
    assert mate("barb -20", "barb -20 clamped").verdict == "seals"
    assert mate("barb -20", "barb -20 clamped bore 1.27 in").verdict == "refused"
    assert mate("barb -5", "barb -5 clamped").how == "seen" and mate("barb -8", "barb -8 clamped").how == "memory"


def test_sealant_goes_on_taper_pipe_threads_alone():
    for form in end_forms().values():
        if not form.sexes:
            continue
        joint = mate(End(form.name, end_sizes(form.name)[0], "male"), End(form.name, end_sizes(form.name)[0], "female"))
        taper = thread_of(End(form.name, end_sizes(form.name)[0])) is not None and thread_of(End(form.name, end_sizes(form.name)[0])).taper > 0
        assert (joint.takes_sealant != "none") == taper == ("fuel-resistant" in joint.sealant), form.name
        assert joint.sealant.startswith("no sealant") != taper, form.name
    assert mate("1/4 NPT male", "1/4 NPT female").takes_sealant == mate("1/4 NPTF male", "1/4 NPT female").takes_sealant == "needed"
    assert mate("1/4 NPTF male", "1/4 NPTF female").takes_sealant == "optional"
    assert {sealant_source(form).how for form in ("37 flare", "O-ring boss", "NPT", "NPTF")} == {"seen"}
    assert sealant_source("quick-connect") is None


def test_torque_and_flats_come_with_the_joint_and_follow_the_line_and_the_softer_part():
    both = ("-6 37 flare female", "-6 37 flare male")
    soft, hard = mate(*both, line="tube", materials=("steel", "6061-T6 aluminium")), mate(*both, line="tube", materials=("steel", "steel"))
    assert soft.torque.high < hard.torque.low and soft.flats == hard.flats and soft.flats.joint == "37 deg flared tube"
    assert mate(*both) == mate(*both, materials=("", "")) == mate(*both, materials=("steel", ""))  # what is not said counts as soft
    assert mate(*both, line="hose").torque.joint == "37 deg hose coupling nut"
    assert mate("-6 45 flare male", "-6 45 flare female").flats.joint == "45 deg hose and fitting"
    assert mate("-6 45 flare male", "-6 45 flare female").torque.high < mate("-6 45 flare male", "-6 45 flare female").steel_torque.high
    assert mate("-8 AN male", "-8 AN male").torque is None and mate("-8 AN male", "-8 AN male").flats is None
    with pytest.raises(CatalogError, match="hose, tube, fitting"):
        mate(*both, line="pipe")


def test_words_that_are_no_end_are_answered():
    with pytest.raises(CatalogError, match="did you mean '37 flare'"):
        mate("-6 37 flair male", "-6 37 flare female")
    assert mate(end("-6 AN male"), "-6 AN female").verdict == "seals"
