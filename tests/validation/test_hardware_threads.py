"""Threads of ends against the standards that define them, and clashes against lists of them that others have made."""

import re
from collections import Counter

import pytest
from cases_threads import FORMS, STRAIGHT, cases, listed_pairs
from published_case import of
from reference import hardware_rows as rows

from flarenut.catalog import End, disagreements, end, end_sizes, source_in_words, table, thread_of
from flarenut.catalog.sources import documents
from flarenut.catalog.threads import nominal_tube, relation
from flarenut.hardware import clashes, mate

CASES = list(cases())
MILLIMETRES = {"threads_straight.csv": (("tube_od_in", "tube_od_mm"), ("thread_major_dia_in", "thread_major_dia_mm")),
               "npt_threads.csv": (("pipe_od_in", "pipe_od_mm"), ("pitch_dia_at_end_E0_in", "pitch_dia_at_end_E0_mm"),
                                   ("hand_engagement_L1_in", "hand_engagement_L1_mm"), ("effective_thread_L2_in", "effective_thread_L2_mm")),
               "quick_connect.csv": (("male_tube_od_in", "male_tube_od_mm"),),
               "hose_on_spigot.csv": (("spigot_from_in", "spigot_from_mm"), ("spigot_to_in", "spigot_to_mm"), ("over_in", "over_mm"))}


@pytest.mark.parametrize("name, count", [("threads_straight.csv", 41), ("npt_threads.csv", 7), ("metric_ports_banjo.csv", 19), ("quick_connect.csv", 4),
                                         ("threads_more.csv", 7), ("hose_on_spigot.csv", 2), ("end_forms.csv", 14)])
def test_tables_load_in_full(name, count):
    assert len(table(name)) == count


@pytest.mark.parametrize("name", MILLIMETRES)
def test_millimetres_of_a_row_are_its_inches(name):
    """Within the fifth figure that the tables are rounded to, or half a hundredth of a millimetre where they are printed so."""
    for row in table(name):
        for inches, millimetres in MILLIMETRES[name]:
            assert float(row[millimetres]) == pytest.approx(25.4 * float(row[inches]), rel=5e-5, abs=5e-3 if name == "hose_on_spigot.csv" else 6e-5), row


@pytest.mark.parametrize("group", sorted({case.group for case in of(CASES, topic="threads")}))
def test_threads_are_those_of_their_standards_and_lists(group):
    assert [case.words for case in of(CASES, group=group) if not case.holds] == []


def test_every_thread_is_a_case():
    counts = Counter(case.group for case in CASES)
    assert counts["straight threads by their designation"] == 2 * (41 + 2 + 1 + 9 + 7) and counts["taper pipe threads by their standard"] == 2 * 7
    assert counts["British taper threads"] == 9
    assert counts["what screws on and does not seal"] == sum(len(listed_pairs(row)) for row in rows("thread_clashes.csv")) > 40
    assert not [case.name for case in CASES if case.reason or not case.judged]


def test_straight_threads_have_no_taper_and_sixty_degrees():
    for thread in (thread_of(End(form, size)) for form in STRAIGHT for size in end_sizes(form)):
        assert thread.taper == 0.0 and thread.angle == 60.0


def test_pitches_of_the_straight_threads_in_millimetres():
    for row in table("threads_straight.csv"):
        assert float(row["pitch_mm"]) == pytest.approx(25.4 / float(row["threads_per_in"]), rel=5e-5), row


def test_taper_pipe_threads_are_one_in_sixteen():
    for row in table("npt_threads.csv"):
        outside, pitch = float(row["pipe_od_in"]), 1 / float(row["threads_per_in"])
        assert float(row["pitch_mm"]) == pytest.approx(25.4 * pitch, rel=5e-5)
        for form in ("NPT", "NPTF"):
            thread = thread_of(End(form, row["nominal"]))
            assert (thread.major, thread.pitch, thread.taper) == pytest.approx((outside * 0.0254, pitch * 0.0254, 1 / 16))


def test_british_taper_threads_are_of_fifty_five_degrees():
    for size in ("1/8", "1/4", "3/8"):
        thread = thread_of(End("BSPT", size))
        assert thread.angle == 55.0 and thread.taper == 1 / 16
    for row in table("threads_more.csv"):
        if row["threads_per_in"]:
            assert float(row["pitch_mm"]) == pytest.approx(25.4 / float(row["threads_per_in"]), rel=5e-5), row


def test_dash_sizes_are_tubes_in_sixteenths_of_an_inch():
    assert [row["dash"] for row in rows("dash_sizes.csv")] == list(end_sizes("37 flare")) == list(end_sizes("O-ring boss"))
    for row in rows("dash_sizes.csv"):
        assert nominal_tube(End("37 flare", row["dash"])) * 1e3 == pytest.approx(float(row["tube_od_mm"]), rel=5e-5)
        assert float(row["tube_od_in"]) == int(row["dash"][1:]) / 16
    for row in table("threads_straight.csv"):
        assert float(row["tube_od_in"]) == int(row["dash"][1:]) / 16


def test_the_boss_takes_the_thread_of_the_flare_in_every_size():
    for size in end_sizes("37 flare"):
        assert thread_of(End("37 flare", size))[:5] == thread_of(End("O-ring boss", size))[:5]


@pytest.mark.parametrize("row", rows("thread_clashes.csv"), ids=lambda row: f"{row['male_or_female_a']} {row['b']} {row['dash']}")
def test_a_list_of_clashes_names_its_threads_and_why(row):
    pairs = listed_pairs(row)
    assert pairs
    for first, second in pairs:
        joint = mate(first, second)
        engages = {"yes": True, "no": False, "sometimes forced": True}[row["threads_engage"]]
        if row["seals"] == "with sealant":
            assert engages
            continue
        assert ("forced" in joint.reason) == (row["threads_engage"] == "sometimes forced" or "BSPT" in row["b"])
        if re.fullmatch(r"[\d/]+-\d+", row["thread"]):
            assert joint.thread == row["thread"]
        elif " vs " in row["thread"] and not engages:
            assert sorted(joint.thread.split(" against ")) == sorted(re.sub(r"(?<=\d) (?=\d)", "-", row["thread"]).split(" vs "))


def test_every_row_of_the_list_was_read():
    assert len(rows("thread_clashes.csv")) == 23
    assert all(documents().keys() >= set(re.split("; ?", row["source"])) for row in rows("thread_clashes.csv"))


@pytest.mark.parametrize("first, second, sizes", [
    ("37 flare", "O-ring boss", ("-2", "-5", "-20", "-24", "-32")), ("O-ring boss", "45 flare", ("-2", "-3", "-4", "-5", "-8", "-10"))])
def test_clashes_that_the_list_is_known_to_lack_come_out_too(first, second, sizes):
    listed = {(FORMS[row["male_or_female_a"]], FORMS[row["b"]], row["dash"]) for row in rows("thread_clashes.csv")}
    for size in sizes:
        assert not {(first, second, size), (second, first, size)} & listed
        for male, female in ((first, second), (second, first)):
            joint = mate(End(male, size, "male"), End(female, size, "female"))
            assert joint.danger and "nothing seals" in joint.reason


def test_shared_threads_of_37_and_45_degree_flares_are_the_second_statement():
    """One source says that all but one size are shared, others name six; the disagreement is settled for the six."""
    found = disagreements("37/45")[0]
    assert found.use == "second" and "-2 -3 -4 -5 -8 -10" in found.second
    shared = [size for size in end_sizes("45 flare") if relation(thread_of(End("37 flare", size)), thread_of(End("45 flare", size))) == "same"]
    assert shared == found.second.partition("shared only ")[2].partition(";")[0].split()


def test_threads_of_aircraft_fittings_are_not_those_of_bolts():
    found = disagreements("AN thread list")[0]
    assert "-3 = 3/8-24, -4 = 7/16-20" == found.second and found.use.startswith("second")
    assert [thread_of(end(f"{size} AN male")).designation for size in ("-3", "-4")] == ["3/8-24", "7/16-20"]


@pytest.mark.parametrize("one, other", [
    ("-2 37 flare", "M8x1 metric O-ring port"), ("-6 37 flare", "M14x1.5 metric O-ring port"), ("-6 45 flare", "M16x1.5 metric O-ring port"),
    ("-12 O-ring boss", "M27x2 metric O-ring port"), ("-16 O-ring boss", "M33x2 metric O-ring port"), ("1/8 NPT", "M10x1 bubble flare"),
    ("1/4 NPT", "-6 O-ring boss"), ("1/2 NPT", "-10 O-ring boss"), ("1/4 NPT", "1/4 BSPT"), ("1 NPT", "1 BSPT")])
def test_pairs_that_builders_force_are_near(one, other):
    """Common practice, no source: pairs that are warned of because they start and then bind, strip or leak."""
    for sexes in (("male", "female"), ("female", "male")):
        assert mate(f"{one} {sexes[0]}", f"{other} {sexes[1]}").danger


@pytest.mark.parametrize("one, other", [("-16 37 flare", "-16 45 flare"), ("-8 37 flare", "-8 inverted flare"), ("M10x1 banjo", "M10x1.25 banjo"),
                                        ("M12x1.5 metric O-ring port", "-5 O-ring boss"), ("3/8 NPT", "-8 O-ring boss"), ("-6 37 flare", "-8 37 flare")])
def test_pairs_that_do_not_go_together_are_not(one, other):
    for sexes in (("male", "female"), ("female", "male")):
        joint = mate(f"{one} {sexes[0]}", f"{other} {sexes[1]}")
        assert not joint.danger and joint.verdict != "seals"


def test_a_straight_thread_is_not_the_taper_thread_of_its_pitch_and_diameter():
    taper = thread_of(end("1/4 NPT male"))
    assert relation(taper, taper._replace(taper=0.0)) == relation(taper, taper._replace(angle=55.0)) == "near" != relation(taper, taper)
    assert relation(taper, None) == relation(None, taper) == ""


def test_no_two_sizes_of_one_form_can_be_forced_together_but_the_two_brake_banjos():
    """A 3/8-24 banjo bolt starts in a caliper of M10x1, which is the forced pair of brake nuts over again."""
    assert {(male.form, male.size, female.size) for male, female, _ in clashes() if male.form == female.form} == {
        ("banjo", "3/8-24", "M10x1"), ("banjo", "M10x1", "3/8-24")}


def test_rows_from_memory_say_so_in_words():
    assert source_in_words("M4", "memory") == "SAE J2044 end forms, from memory: verify before use"
    assert source_in_words("S38;M1", "mixed").endswith("partly from memory: verify before use")
    assert source_in_words("S7", "seen") == "US Army TM 9-2320-364-20-4, table 2-67 recommended flats rotation"
    for _, _, joint in clashes():
        assert not re.search(r"\b[SM]\d+\b", source_in_words(joint.source, joint.how))
