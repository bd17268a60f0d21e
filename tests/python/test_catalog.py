"""The tables of sizes: rows against definitions, and that every row says where it comes from."""

import csv
import re

import pytest

from flarenut import catalog
from flarenut.catalog.rows import files

INCH = 0.0254
TABLES = [file.name for file in files("flarenut.catalog").iterdir() if file.name.endswith(".csv")]
SOURCES = (files("flarenut.catalog") / "SOURCES.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", TABLES)
def test_every_row_names_a_source_that_is_listed_and_how_it_was_obtained(name):
    rows = catalog.table(name)
    assert len(rows) >= 2
    for row in rows:
        assert row["source"] and re.match(r"(seen|mixed|memory|common practice|derived)", row["how"]), row
        keys = [key for key in re.split(r"[;,] ?", row["source"]) if re.fullmatch(r"[SM]\d+", key)]
        assert all(f"| {key} |" in SOURCES for key in keys), row
        assert keys or name == "fitting_constants.csv", row


@pytest.mark.parametrize("name", TABLES)
def test_tables_are_whole_rows_without_doubles(name):
    text = (files("flarenut.catalog") / name).read_text(encoding="utf-8")
    rows = list(csv.reader(text.splitlines()))
    assert {len(row) for row in rows} == {len(rows[0])}
    assert len({tuple(row) for row in rows}) == len(rows)


def test_inches_and_millimetres_of_a_row_agree():
    for name, inches, millimetres in (("hose_bores.csv", "bore_in", "bore_mm"), ("fitting_bores.csv", "bore_in", "bore_mm"),
                                      ("tube_sizes.csv", "wall_in", "wall_mm")):
        for row in catalog.table(name):
            if row[inches]:
                assert float(row[millimetres]) == pytest.approx(25.4 * float(row[inches]), abs=6e-4), row


def test_full_size_hose_is_dash_over_sixteen():
    """By definition of the dash: sixteenths of an inch."""
    sizes = [int(row["dash"]) for row in catalog.table("hose_bores.csv") if row["spec"] == "full-size"]
    assert len(sizes) >= 6
    for dash in sizes:
        assert catalog.hose_bore(dash, "full-size").bore == pytest.approx(dash / 16 * INCH)


@pytest.mark.parametrize("spec", list(catalog.hose_specs()))
def test_bores_rise_with_the_dash_and_are_no_wider_than_full_size(spec):
    bores = [(int(row["dash"]), float(row["bore_in"])) for row in catalog.table("hose_bores.csv") if row["spec"] == spec]
    assert bores and bores == sorted(bores) and [bore for _, bore in bores] == sorted({bore for _, bore in bores})
    for dash, bore in bores:
        assert 0.5 * dash / 16 < bore <= 1.1 * dash / 16
    assert 0 < catalog.hose_spec(spec).roughness < 100e-6


def test_fittings_are_narrower_than_their_tube_and_rise_with_the_dash():
    bores = [(int(row["dash"]), float(row["bore_in"])) for row in catalog.table("fitting_bores.csv")]
    assert [bore for _, bore in bores] == sorted(bore for _, bore in bores)
    assert all(0.4 * dash / 16 < bore < dash / 16 for dash, bore in bores)


def test_walls_leave_a_bore_and_a_size_has_at_most_one_usual_wall():
    usual = {}
    for row in catalog.table("tube_sizes.csv"):
        assert 0 < 2 * float(row["wall_mm"]) < 0.75 * float(row["od_mm"]), row
        usual[row["od"]] = usual.get(row["od"], 0) + bool(row["usual"])
    assert set(usual.values()) <= {0, 1}
    assert catalog.tube_wall(3 / 8 * INCH) == pytest.approx(0.035 * INCH)


@pytest.mark.parametrize("said, meant", [("PTFE", "ptfe"), ("100R14", "ptfe"), ("sae 100 r14", "ptfe"), ("SAE 100R5", "undersize"), ("full size", "full-size")])
def test_specifications_are_taken_as_people_write_them(said, meant):
    assert catalog.hose_spec(said).name == meant


@pytest.mark.parametrize("ask, told", [
    (lambda: catalog.hose_spec("pfte"), "did you mean 'ptfe'.*measure the bore"), (lambda: catalog.hose_spec(8), "no hose specification 8"),
    (lambda: catalog.hose_bore(7, "ptfe"), "no hose -7 in specification 'ptfe'.*it comes in"), (lambda: catalog.fitting_bore(7), "no bore of a -7 fitting.*-8"),
    (lambda: catalog.tube_wall(0.0111), "no tube of 11.1 mm"), (lambda: catalog.elbow_constants("swept", 200.0), "up to 180"),
    (lambda: catalog.elbow_constants("swpet", 90.0), "did you mean 'swept'")])
def test_what_the_tables_lack_is_answered_with_what_they_hold(ask, told):
    with pytest.raises(catalog.CatalogError, match=told):
        ask()


@pytest.mark.parametrize("word", ["rubber", "Rubber hose", "wire braid", "wire-braided", "stainless braided", "braided"])
def test_a_name_that_hoses_of_several_bores_go_by_is_asked_about_with_their_bores(word):
    """Half an inch over 7/16 is 1.95 times the turbulent drop (fifth power), so that none may be taken for another."""
    with pytest.raises(catalog.CatalogError, match="several bores") as refusal:
        catalog.hose_bore(8, word)
    told = str(refusal.value)
    for row in catalog.table("hose_bores.csv"):
        assert (f"'{row['spec']}'" in told) or row["dash"] != "8", row
    for bore in ("12.7 mm (1/2 in) as 'full-size'", "11.1 mm (7/16 in) as 'braided-rubber'", "10.3 mm (13/32 in) as 'undersize'"):
        assert bore in told
    assert told.index("1/2 in") < told.index("7/16 in") < told.index("13/32 in")
    with pytest.raises(catalog.CatalogError, match="full-size.*braided-rubber"):
        catalog.hose_spec(word)


def test_braided_rubber_hose_is_narrower_than_full_size_and_wider_than_ptfe():
    """Bores in sixty-fourths of an inch, as builders name them (from memory, no document)."""
    assert catalog.hose_spec("Stainless-braided rubber").name == "braided-rubber"
    for dash, parts in ((6, 22), (8, 28), (10, 36), (12, 44), (16, 56)):
        row = catalog.hose_bore(dash, "braided-rubber")
        assert row.bore == pytest.approx(parts / 64 * INCH, rel=1e-9) and row.how == "memory"
        assert catalog.hose_bore(dash, "ptfe").bore <= row.bore < catalog.hose_bore(dash, "full-size").bore
        assert row.bore == catalog.hose_bore(dash, "high-pressure").bore  # of which a table was read


def test_fuel_hose_is_sold_in_five_sixteenths():
    assert catalog.hose_bore(5, "push-on").bore == pytest.approx(5 / 16 * INCH)


def test_that_ptfe_means_a_smooth_bore_is_said_in_its_rows():
    assert "convoluted" in catalog.hose_spec("ptfe").what
    assert all("smooth bore only" in row["note"] for row in catalog.table("hose_bores.csv") if row["spec"] == "ptfe")


def test_elbows_grow_with_their_angle_and_swept_costs_no_more_than_forged():
    """Constants of Darby's three-K method (Chemical Engineering Fluid Mechanics, 2001), as the table gives them."""
    assert catalog.elbow_constants("forged", 90.0) == (800.0, 0.14, 4.0)
    for form in ("forged", "swept"):
        turbulent = [catalog.elbow_constants(form, float(angle))[1] for angle in (10, 30, 45, 60, 90, 120, 180)]
        assert turbulent == sorted(turbulent)
    for angle in (45.0, 90.0, 180.0):
        assert catalog.elbow_constants("swept", angle)[1] <= catalog.elbow_constants("forged", angle)[1]
