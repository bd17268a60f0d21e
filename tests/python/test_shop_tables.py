"""A shop's own tables: they beat the built-in rows, are taken whole or not at all, and bad ones say file, line, column, reason and cure."""

import pickle

import pytest

import flarenut as fn
from flarenut import catalog
from flarenut.catalog import CatalogError, ShopTableError

PSI, INCH = 6894.757293168, 0.0254


@pytest.fixture(autouse=True)
def clean():
    yield
    catalog.forget()


def write(folder, name, text):
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def refused(folder, text, name="shop.csv"):
    before = {table: catalog.table(table) for table in ("hose_ratings.csv", "hose_bores.csv", "tube_sizes.csv")}
    with pytest.raises(ShopTableError) as found:
        catalog.use(write(folder, name, text))
    assert before == {table: catalog.table(table) for table in before} and catalog.used_tables() == []
    assert all(one.reason and one.cure and one.file.endswith(name) for one in found.value.problems)
    return found.value.problems


def test_a_row_of_ones_own_beats_the_table_and_is_forgotten_again(tmp_path):
    built_in = catalog.hose_rating("100R14", 6)
    catalog.use(write(tmp_path, "shop.csv", "standard,dash,bore_mm,working_psi,source\nSAE 100R14,6,7.7,2500,measured at the bench\n"))
    mine = catalog.hose_rating("ptfe", 6)
    assert mine.working == pytest.approx(2500 * PSI) and mine.bore == pytest.approx(7.7e-3) and mine.how == "mixed"
    assert mine.proof == pytest.approx(2 * mine.working) and built_in.proof == pytest.approx(2 * built_in.working)
    assert mine.said == "measured at the bench; the rest from SAE J517 tables (100R1 to 100R14), partly from memory: verify before use"
    assert mine.bend_radius == built_in.bend_radius and mine.hottest == pytest.approx(built_in.hottest) and "what it leaves out" in mine.note
    assert catalog.hose_bore(6, "SAE 100R14").bore == pytest.approx(7.7e-3) and catalog.hose_bore(8, "SAE 100R14").bore == pytest.approx(0.0103188, rel=1e-4)
    assert catalog.hose_rating("100R14", 8).working == pytest.approx(1000 * PSI, rel=1e-3)
    catalog.forget()
    assert catalog.hose_rating("100R14", 6) == built_in and catalog.hose_bore(6, "ptfe").bore == pytest.approx(0.3125 * INCH)


def test_what_a_row_takes_from_the_table_is_told_beside_its_own_source(tmp_path):
    """From memory it says so; read in a document it does not; nothing taken, nothing told."""
    every = "standard,dash,working_psi,proof_psi,burst_psi,bend_radius_in,temperature_min_C,temperature_max_C,vacuum_inHg,outside_in,liner,source\n"
    catalog.use(write(tmp_path, "shop.csv", every + "MIL-H-8794,6,2200,,,,,,,,,marked\n30R9,,225,,,,,,,,,marked\n"
                      "SAE 100R14,8,2000,4000,8000,5,-54,204,10,0.6,PTFE,marked\n"))
    assert catalog.hose_rating("MIL-H-8794", 6).said == ("marked; the rest from FAA AC 43.13-1B (1998), table 9-3, aircraft hose specifications; "
                                                         "MIL-DTL-8794F, paragraph 6.1")
    assert catalog.hose_rating("30R9").said == "marked; the rest from SAE J30 and J2064 classes, partly from memory: verify before use"
    assert catalog.hose_rating("100R14", 8).said == "marked"


def test_findings_name_both_sources_of_a_mixed_row(tmp_path):
    """SAE 100R14 -6 bends to 4 in and bears 204 C by the table, whatever the shop's row says of its pressure."""
    catalog.use(write(tmp_path, "shop.csv", "standard,dash,working_psi,source\nSAE 100R14,6,2500,the maker's sheet\n"))
    circuit = fn.Circuit("bench (invented)", fluid="gasoline", invented=True)
    circuit.fixed("supply", pressure="6 psi")
    circuit.run("line", "supply", "ambient", [fn.hose("-6", "4 ft", spec="ptfe", standard="ptfe", bends=[90], bend_radius="3 in"), fn.orifice("0.5 mm")])
    (one,) = [one for one in circuit.solve()["as written"].findings if one.code == "bent too tight"]
    assert one.source.startswith("the maker's sheet; the rest from SAE J517") and one.source.endswith("verify before use")


@pytest.mark.parametrize("rows, dash", [("shop hose,6,1200", 6), ("shop hose,,1200", None)])
def test_a_burst_pressure_alone_gives_a_working_pressure(tmp_path, rows, dash):
    """Design ratio of hose for liquids, 4 to 1 (S24, seen)."""
    catalog.use(write(tmp_path, "shop.csv", f"standard,dash,burst_psi\n{rows}\n"))
    mine = catalog.hose_rating("shop hose", dash)
    assert mine.working == pytest.approx(300 * PSI) and "over 4, the design ratio" in mine.note and mine.said == "shop.csv, line 2"
    catalog.use(write(tmp_path, "shop.csv", "standard,dash,burst_psi,working_psi\nshop hose,6,1200,250\n"))
    assert catalog.hose_rating("shop hose", 6).working == pytest.approx(250 * PSI)


def test_a_hose_of_ones_own_is_known_to_circuits(tmp_path):
    catalog.use(write(tmp_path, "shop.csv", "spec,dash,bore,working,temperature_max,liner,vacuum\n"
                      "shop hose,6,8.7 mm,300 psi,150 C,fluorocarbon rubber,25 inHg\nshop hose,8,11.5 mm,250 psi,150 C,fluorocarbon rubber,\n"))
    assert fn.hose("-6", "1 m", spec="shop hose").elements[0].numbers["bore"] == pytest.approx(8.7e-3)
    rating = catalog.hose_rating("Shop Hose", 6)
    assert rating.vacuum == pytest.approx(25 * 3386.389) and rating.said == "shop.csv, line 2" and rating.liner == "fluorocarbon rubber"
    assert catalog.compatible("shop hose", "E85").verdict == "yes"
    with pytest.raises(CatalogError, match="no rating of -10 of shop hose.*-6, -8"):
        catalog.hose_rating("shop hose", 10)


def test_one_standard_of_a_family_may_be_changed_and_the_rest_stays(tmp_path):
    catalog.use(write(tmp_path, "shop.csv", "standard,dash,bore_in\nSAE 100R2,6,0.366\n"))
    assert catalog.hose_bore(6, "100R2").bore == pytest.approx(0.366 * INCH) and catalog.hose_bore(8, "100R2").bore == pytest.approx(0.5 * INCH)
    assert catalog.hose_bore(6, "100R1").bore == catalog.hose_bore(6, "full-size").bore == pytest.approx(0.375 * INCH)
    assert catalog.hose_rating("100R2", 6).working == pytest.approx(4000 * PSI, rel=1e-3)  # a bore alone changes no rating


def test_a_row_of_ones_own_takes_the_place_of_the_one_of_the_same_thing(tmp_path):
    counts = {name: len(catalog.table(name)) for name in ("hose_bores.csv", "tube_sizes.csv", "compatibility.csv", "hose_ratings.csv")}
    catalog.use(write(tmp_path, "shop.toml", """
[[hose]]
standard = "ptfe"
dash = 6
bore = "7.7 mm"
working = "2000 psi"
[[tube]]
od = "3/8 in"
wall = "0.035 in"
usual = true
[[compatibility]]
material = "PTFE"
fluid = "coolant"
verdict = "limited"
reason = "our own trouble"
"""))
    assert counts == {name: len(catalog.table(name)) for name in counts}
    walls = catalog.tube_walls(0.375 * INCH)
    assert len(walls) == len({round(wall, 5) for wall in walls}) == 4
    assert catalog.compatible("PTFE", "coolant").reason == "our own trouble" and catalog.hose_bore(6, "ptfe").bore == pytest.approx(7.7e-3)


def test_a_class_without_sizes(tmp_path):
    catalog.use(write(tmp_path, "shop.csv", "standard,working_psi,temperature_max_F\n30R9,225,275\n"))
    for dash in (5, 6, 8):
        assert catalog.hose_rating("SAE 30R9", dash).working == pytest.approx(225 * PSI)
    assert catalog.hose_rating("30R9").hottest == pytest.approx((275 + 459.67) / 1.8)


def test_tubes_materials_and_liquids_in_toml(tmp_path):
    catalog.use(write(tmp_path, "shop.toml", """
# what we keep on the shelf
[[material]]
material = "titanium Gr 2"
density = "4510 kg/m3"
tensile = "345 MPa"

[[tube]]
od = "3/8 in"
wall = "0.032 in"
material = "titanium Gr 2"
working = "2000 psi"
usual = true

[[tube]]
od_mm = 12.7
wall_mm = 0.8

[[compatibility]]
material = "titanium Gr 2"
fluid = "methanol"
verdict = "limited"
reason = "it cracks in dry methanol"
"""))
    assert catalog.tube_wall(0.375 * INCH) == pytest.approx(0.032 * INCH)
    assert catalog.tube_rating("titanium gr 2", 0.375 * INCH, 0.032 * INCH).working == pytest.approx(2000 * PSI)
    assert catalog.tube_rating("titanium gr 2", 0.5 * INCH, 0.0008).basis.startswith("Lame")
    assert 0.0008 in [pytest.approx(wall) for wall in catalog.tube_walls(0.0127)]
    assert catalog.compatible("titanium Gr 2", "methanol").reason == "it cracks in dry methanol"
    assert fn.tube("3/8 in", "1 m").elements[0].numbers["bore"] == pytest.approx(0.311 * INCH)


def test_the_last_table_used_is_asked_first_and_one_may_be_forgotten(tmp_path):
    one = write(tmp_path, "one.csv", "standard,dash,working_psi\nshop hose,6,300\n")
    two = write(tmp_path, "two.csv", "standard;dash;working_psi\n# a remark\nshop hose;-6;400\n\n")
    catalog.use(one)
    catalog.use(two)
    assert catalog.used_tables() == [str(two), str(one)] and catalog.hose_rating("shop hose", 6).working == pytest.approx(400 * PSI)
    catalog.use(one)
    assert catalog.hose_rating("shop hose", 6).working == pytest.approx(300 * PSI)
    catalog.forget(one)
    assert catalog.used_tables() == [str(two)] and catalog.hose_rating("shop hose", 6).working == pytest.approx(400 * PSI)


def test_the_built_in_form_is_read_back(tmp_path):
    """A copy of the built-in table of ratings is a table of one's own."""
    from flarenut.catalog.rows import files

    text = (files("flarenut.catalog") / "hose_ratings.csv").read_text(encoding="utf-8")
    before = [catalog.hose_rating(row["standard"], int(row["dash"])) for row in catalog.table("hose_ratings.csv")]
    catalog.use(write(tmp_path, "copy.csv", text))
    for old in before:
        new = catalog.hose_rating(old.standard, old.dash)
        assert new.working == pytest.approx(old.working, rel=5e-4) and new.bore == pytest.approx(old.bore, rel=5e-4) and new.hottest == pytest.approx(old.hottest)
        assert new.how == old.how and new.liner == old.liner


def test_a_spreadsheets_mark_at_the_start_is_no_matter(tmp_path):
    path = tmp_path / "shop.csv"
    path.write_bytes(b"\xef\xbb\xbfstandard,dash,working_psi\r\nshop hose,6,300\r\n")
    catalog.use(path)
    assert catalog.hose_rating("shop hose", 6).working == pytest.approx(300 * PSI)


def test_reading_alone_puts_nothing_in_use(tmp_path):
    path = write(tmp_path, "shop.csv", "standard,dash,working_psi\nshop hose,6,300\n")
    read = catalog.read_shop_table(path)
    assert [row.line for row in read.rows] == [2] and catalog.used_tables() == []
    catalog.use(read)
    assert catalog.hose_rating("shop hose", 6).working == pytest.approx(300 * PSI)


@pytest.mark.parametrize("text, line, column, reason, cure", [
    ("standard,dash,working_psi\nshop hose,6,lots\n", 2, "working_psi", "no number", "a number alone"),
    ("standard;dash;working_psi\nshop hose;6;3,5\n", 2, "working_psi", "no number", "a point, not a comma"),
    ("standard,dash,working\nshop hose,6,300\n", 2, "working", "without a unit", "working_psi"),
    ("standard,dash,working\nshop hose,6,300 mm\n", 2, "working", "length", "working_psi"),
    ("standard,dash,workin_psi\nshop hose,6,300\n", 1, "workin_psi", "no column", "did you mean 'working_psi'"),
    ("standard,dash,bore_mm\nshop hose,6,8700\n", 2, "bore_mm", "out of range", "unit"),
    ("standard,dash,bore_mm\nshop hose,six,8.7\n", 2, "dash", "no dash size", "6 or -6"),
    ("standard,dash,bore_mm\nshop hose,99,8.7\n", 2, "dash", "no dash size", "1 to 64"),
    ("standard,dash,bore_mm\n,6,8.7\n", 2, "standard", "no 'standard'", "every row"),
    ("standard,dash,bore_mm\nshop hose,6,8.7,9\n", 2, "", "4 cells", "quotes"),
    ("standard,dash,bore_mm\nshop hose,6,\n", 2, "standard", "says nothing", "a bore"),
    ("standard,dash,bore_mm,bore_in\nshop hose,6,8.7,0.5\n", 2, "bore_in", "another 'bore'", "correct one"),
    ("standard,dash,working_psi,burst_psi\nshop hose,6,300,200\n", 2, "burst", "not above", "units"),
    ("standard,dash,working_psi,temperature_min_C,temperature_max_C\nshop hose,6,300,50,20\n", 2, "temperature_max", "not above", "units"),
    ("standard,dash,working_psi\nshop hose,6,300\nShop hose,6,400\n", 3, "standard", "same hose", "one of them"),
    ("standard,dash,dash\nshop hose,6,6\n", 1, "dash", "stands twice", "one column"),
    ("size,price\n6,12\n", 1, "size", "no table that is known", "standard"),
    ("od_in,wall_in\n0.375,0.2\n", 2, "wall", "no bore", "unit"),
    ("od_in,wall_in,material,working_psi\n0.375,0.035,unobtainium,900\n", 2, "material", "no tube material", "table of materials"),
    ("material,fluid,verdict\nPTFE,honey,maybe\n", 2, "verdict", "no verdict", "yes, limited or no"),
    ("standard,dash,working_psi\nshop hose,6,nan\n", 2, "working_psi", "no finite number", "empty"),
    ("", None, "", "no rows", "heading"),
    ("standard,dash,working_psi\n", None, "", "no rows", "heading")])
def test_bad_tables_say_where_why_and_what_to_write(tmp_path, text, line, column, reason, cure):
    (problem,) = refused(tmp_path, text)
    assert (problem.line, problem.column) == (line, column)
    assert reason in problem.reason and cure in problem.cure
    assert str(problem).startswith(problem.file) and (line is None or f"line {line}" in str(problem))


@pytest.mark.parametrize("text, line, column, reason", [
    ('[[hose]]\nstandard = "shop hose"\ndash = 6\nworking = "300"\n', 4, "working", "without a unit"),
    ('[[hose]]\nstandard = "a"\nworking = "300 psi"\n\n[[hose]]\nstandard = "b"\nwork = "300 psi"\n', 7, "work", "no column"),
    ('[[hoze]]\nstandard = "shop hose"\n', 1, "hoze", "no table of rows"),
    ('[hose]\nstandard = "shop hose"\n', 1, "hose", "no table of rows"),
    ('[[hose]]\nstandard = shop hose\n', 2, "", "no TOML"),
    ('[[hose]]\nstandard = "shop hose"\ndash = true\nbore_mm = 8\n', 3, "dash", "no dash size"),
    ('[[hose]]\nstandard = "shop hose"\nbore_mm = true\n', 3, "bore_mm", "no number")])
def test_bad_toml_says_its_line(tmp_path, text, line, column, reason):
    (problem,) = refused(tmp_path, text, "shop.toml")
    assert (problem.line, problem.column) == (line, column) and reason in problem.reason


def test_all_problems_come_together_by_line(tmp_path):
    problems = refused(tmp_path, "standard,dash,bore_mm,working_psi\na,6,8.7,300\nb,six,8.7,lots\nc,6,8.7\n")
    assert [(one.line, one.column) for one in problems] == [(3, "dash"), (3, "working_psi"), (4, "")]
    error = ShopTableError(problems)
    assert str(error).count("\n") == 2 and pickle.loads(pickle.dumps(error)).problems == problems


def test_files_that_cannot_be_read(tmp_path):
    with pytest.raises(ShopTableError, match="cannot be read.*check its name"):
        catalog.use(tmp_path / "missing.csv")
    latin = tmp_path / "latin.csv"
    latin.write_bytes("standard,dash,working_psi\nSchl\xe4uche,6,300\n".encode("latin-1"))
    with pytest.raises(ShopTableError, match="not UTF-8"):
        catalog.use(latin)


def test_a_table_that_went_bad_leaves_the_one_in_use(tmp_path):
    path = write(tmp_path, "shop.csv", "standard,dash,working_psi\nshop hose,6,300\n")
    catalog.use(path)
    path.write_text("standard,dash,working_psi\nshop hose,6,lots\n")
    with pytest.raises(ShopTableError):
        catalog.use(path)
    assert catalog.hose_rating("shop hose", 6).working == pytest.approx(300 * PSI)


def test_the_tables_of_the_guide_can_be_used(tmp_path):
    import re
    from pathlib import Path

    guide = (Path(__file__).resolve().parents[2] / "docs/guide/hardware_tables.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```(\w*)\n(.*?)```", guide, re.DOTALL)
    csv, toml = (next(text for word, text in blocks if mark in text) for mark in ("standard,dash", "[[tube]]"))
    shop = catalog.use(write(tmp_path, "shop_hoses.csv", csv))
    assert len(shop.rows) == 3 and catalog.hose_rating("100R14", 6).working == pytest.approx(2500 * PSI)
    catalog.use(write(tmp_path, "shop.toml", toml))
    assert catalog.compatible("shop hose A", "E85").verdict == "yes" and catalog.hose_rating("shop hose A", 8).working == pytest.approx(250 * PSI)
    told = next(text for _, text in blocks if text.startswith("shop_hoses.csv, line"))
    with pytest.raises(ShopTableError) as found:
        catalog.use(write(tmp_path, "shop_hoses.csv", csv.replace("8,11.5,250", "8,11.5,lots")))
    assert str(found.value).replace(str(tmp_path) + "/", "") == told.strip()
    assert all(word in guide for word in catalog.table("compatibility.csv")[0]["fluid"].split())


# ---- named by a circuit file ----

CIRCUIT = """[circuit]
name = "x"
fluid = "gasoline"
tables = [{tables}]
[tank.cell]
level = "1 m"
[[run]]
name = "line"
from = "cell"
to = "ambient"
parts = [{{part = "hose", size = "-6", length = "3 ft", spec = "shop hose A", name = "hose"}}]
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "shop.csv").write_text("standard,dash,bore_mm,working_psi\nshop hose A,6,8.7,300\n")
    yield tmp_path
    catalog.forget()


def _file(folder, tables):
    (folder / "x.toml").write_text(CIRCUIT.format(tables=tables))
    return fn.load(folder / "x.toml")


def test_a_circuit_file_names_tables_that_lie_beside_it(folder):
    assert _file(folder, '"shop.csv"').runs["line"].pieces[0].main.numbers["bore"] == pytest.approx(8.7e-3)


@pytest.mark.parametrize("tables, told", [
    ('"../shop.csv"', "leads out of the folder"), ('"/etc/passwd"', "leads out of the folder"), ('"none.csv"', "no such file"),
    ("3", "write a list of files"),
    ('"bad.csv"', "bad.csv")])
def test_tables_that_cannot_be_used_are_told_at_their_line(folder, tables, told):
    (folder / "bad.csv").write_text("standard,dash,bore_mm\nshop hose A,6,wide\n")
    with pytest.raises(fn.FileError) as refusal:
        _file(folder, tables)
    assert told in str(refusal.value) and "x.toml:4" in str(refusal.value)
