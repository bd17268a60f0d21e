"""Ends in a builder's words: every spelling means one end, every end has one text, and what cannot be read is answered with what can."""

import pickle
from itertools import permutations

import pytest

from flarenut.catalog import CatalogError, End, end, end_forms, end_sizes, fitting_bore, table
from flarenut.catalog.end_words import plain

EVERY_END = [End(form, size, sex) for form in end_forms() for size in end_sizes(form) for sex in end_forms()[form].sexes or ("",)]


@pytest.mark.parametrize("said, meant", [
    ("-8 37 flare male", End("37 flare", "-8", "male")),
    ("O-ring boss -6 female", End("O-ring boss", "-6", "female")),
    ("3/8 NPT female", End("NPT", "3/8", "female")),
    ("M12x1.5 O-ring port female", End("metric O-ring port", "M12x1.5", "female")),
    ("-6 O-ring port female", End("O-ring boss", "-6", "female")),
    ("banjo M12x1.5", End("banjo", "M12x1.5", "male")),
    ("banjo M12x1.5 port", End("banjo", "M12x1.5", "female")),
    ("3/8-24 banjo eye", End("banjo", "3/8-24", "male")),
    ("quick-connect 5/16 male", End("quick-connect", "5/16", "male")),
    ("8 mm quick connect connector", End("quick-connect", "5/16", "female")),
    ("SAE J2044 3/8 end form", End("quick-connect", "3/8", "male")),
    ("inverted flare -3 female", End("inverted flare", "-3", "female")),
    ("3/16 double flare nut", End("inverted flare", "-3", "male")),
    ("3/8-24 inverted flare port", End("inverted flare", "-3", "female")),
    ("bubble flare M10x1 male", End("bubble flare", "M10x1", "male")),
    ("4.75 mm bubble flare nut", End("bubble flare", "M10x1", "male")),
    ("M10x1.0 double flare nut", End("metric double flare", "M10x1", "male")),
    ("barb -6", End("barb", "-6", "male")),
    ("3/8 in hose barb", End("barb", "-6", "male")),
    ("barb 8 mm, clamped hose", End("barb", "8 mm", "female")),
    ("1-3/4 barb", End("barb", "-28", "male")),
    ("plain tube 3/8", End("plain tube", "-6")),
    ("plain tube 8 mm", End("plain tube", "8 mm")),
    ("37 flare -8 female, 90 deg, bore 9.5 mm", End("37 flare", "-8", "female", 90.0, 0.0095)),
    ("-6 AN female 90 elbow", End("37 flare", "-6", "female", 90.0)), ("45 deg elbow -6 AN nut", End("37 flare", "-6", "female", 45.0)),
    ("-6 AN female 45° bore 0.3 in", End("37 flare", "-6", "female", 45.0, 0.00762)),
    ("-6 45 deg flare male, 45 deg", End("45 flare", "-6", "male", 45.0)),
    ("AN-6 male", End("37 flare", "-6", "male")), ("AN6 male", End("37 flare", "-6", "male")), ("6AN swivel", End("37 flare", "-6", "female")),
    ("-06 JIC 37 female", End("37 flare", "-6", "female")), ("JIC #6 nut", End("37 flare", "-6", "female")),
    ("1-5/16-12 JIC male", End("37 flare", "-16", "male")), ("9/16-18 ORB port", End("O-ring boss", "-6", "female")),
    ("SAE 45 flare 3/8 male", End("45 flare", "-6", "male")), ("1/4-18 NPT male", End("NPT", "1/4", "male")),
    ("-6 NPT male", End("NPT", "3/8", "male")), ("1 NPTF male", End("NPTF", "1", "male")), ('1/2" BSPT female', End("BSPT", "1/2", "female")),
])
def test_ends_are_read_as_the_trade_says_them(said, meant):
    assert end(said) == meant == end(said.upper()) == end("  " + said.replace(" ", "  ") + " ")


def test_the_order_of_words_does_not_matter():
    for form in end_forms().values():
        for spelling in (form.name, *form.spellings):
            if spelling in ("flare 37", "flare 45"):
                continue  # "45 deg flare 37" is either an elbow of a 37 flare or a 45 flare with a number too many
            sex = form.sexes[-1] if form.sexes else ""
            meant = End(form.name, end_sizes(form.name)[0], sex, 45.0, 0.0095)
            for words in permutations([f"{meant.size} {sex}", spelling, "45 deg", "bore 9.5 mm"]):
                assert end(" ".join(words)) == meant, words


@pytest.mark.parametrize("one", EVERY_END, ids=str)
def test_every_end_of_the_tables_is_read_back_from_its_own_text(one):
    for turned in (one, one._replace(turn=45.0), one._replace(turn=90.0, bore=0.0071234)):
        assert end(str(turned)) == turned and str(end(str(turned))) == str(turned)


@pytest.mark.parametrize("bore", ["9.5 mm", "0.3 in", "19/64 in", "3/8 in", "0.123456789 in", "1/3 in"])
def test_a_measured_bore_stays_the_same_through_the_text_of_its_end(bore):
    one = end(f"-6 37 flare male bore {bore}")
    assert end(str(one)) == one and one.through == one.bore and one.how == "measured"


def test_no_two_forms_share_a_spelling():
    spelled = [plain(word) for form in end_forms().values() for word in (form.name, *form.spellings)]
    assert len(spelled) == len(set(spelled)) > 60
    for form in end_forms().values():
        for spelling in form.spellings:
            sex = form.sexes[0] if form.sexes else ""
            assert end(f"{end_sizes(form.name)[0]} {spelling} {sex}").form == form.name, spelling


@pytest.mark.parametrize("said, told", [
    ("", "not an end"), (7, "not an end"), ("flare -6", "which flare: say 37 flare, 45 flare"), ("-8 37 flare", "hose end is usually a female swivel"),
    ("37 flair -6 male", "did you mean '37 flare'"), ("-6 NPTT male", "did you mean 'NPTF'"), ("3/8 NPT femal", "did you mean 'female'"),
    ("-7 37 flare male", "-7, not a size of 37 flare: 37 flare comes in -2, -3"), ("8 37 flare male", "written '-8'"),
    ("10-32 AN male", "10-32, not a size of 37 flare"), ("-6 AN 45 deg flare male", "two forms"), ("-8 -6 AN male", "two sizes, -8 and -6"),
    ("37 flare -8 male 90", "'90 deg'"), ("-8 AN male 90 deg 45 deg", "two angles"), ("-8 AN male 270 deg", "0 to 180"),
    ("O-ring boss M12x1.5 male", "did you mean 'M12x1.5 metric O-ring port'"), ("-6 37 flare male female", "both male and female"),
    ("-6 AN female 37 elbow", "angle of a cone"), ("-6 AN female elbow", "an elbow of no angle"), ("M10 bubble flare nut", "no size: bubble flare comes in M10x1, M12x1"),
    ("plain tube 3/8 male", "which has none"), ("-6 AN male bore 3", "bore without a number and a unit"), ("-6 AN male bore 0 mm", "above 0"),
    ("-6 AN male bore 3 mm bore 4 mm", "two bores"), ("-6 AN male banana", "'banana', which says nothing"), ("-6 face seal male", "there are 37 flare"),
    ("-6 AN male fmale", "did you mean 'female'"), ("M11x1 bubble flare nut", "comes in M10x1, M12x1"), ("13/32 barb", "not a size of barb"),
])
def test_what_cannot_be_read_is_answered_with_what_can(said, told):
    with pytest.raises(CatalogError, match=told) as refusal:
        end(said)
    assert refusal.value.name == "end" and refusal.value.value == said
    assert pickle.loads(pickle.dumps(refusal.value)).hint == refusal.value.hint


def test_bores_are_those_of_the_tables_and_say_how_they_are_known():
    """37 degree fittings from fitting_bores.csv; quick-connects and brake banjos as the reference estimates them (4.50 to 10.0 mm; 3 to 4 mm)."""
    for dash in (4, 6, 8, 16):
        assert end(f"-{dash} 37 flare male").through == end(f"-{dash} O-ring boss male").through == fitting_bore(dash)
    assert end("-6 O-ring boss male").how == "memory" and "no source" in end("-6 O-ring boss male").bore_source
    assert "no source" not in end("-6 37 flare male").bore_source
    assert [round(end(f"{size} quick-connect male").through * 1e3, 2) for size in end_sizes("quick-connect")] == [4.5, 6.09, 7.69, 10.0]
    assert end("banjo M10x1").through == pytest.approx(0.003) and end("banjo M10x1").how == "seen"
    for unknown in ("banjo M12x1.5", "barb -6 female", "plain tube 3/8", "-9 barb male"):
        assert end(unknown).through is None and end(unknown).how == end(unknown).bore_source == ""


def test_a_quick_connect_is_wider_than_half_its_tube_and_narrower_than_it():
    for row in table("quick_connect.csv"):
        assert 0.5 < float(row["flow_bore_estimate_mm"]) / float(row["male_tube_od_mm"]) < 1.0
        assert float(row["male_tube_od_in"]) * 25.4 == pytest.approx(float(row["male_tube_od_mm"]), abs=6e-4)


def test_opposites_belong_together():
    for one in EVERY_END:
        if one.sex:
            assert one.opposite.opposite == one and one.opposite.sex != one.sex
        else:
            assert one.opposite is None
