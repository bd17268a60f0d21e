"""Price files: what is read, which row means a thing, and that everything wrong is told with its place."""

import flarenut as fn
import pytest
from flarenut.hardware.prices import PriceRow, Prices
from hardware_example import PRICES

GOOD_TOML = """currency = "USD"

[[item]]
name = "hose -8 *"
price = 9.5
unit = "ft"
weight = "0.13 lb"

[[item]]
name = "hose end -8 *"
price = 11
cut_off = "1.1 in"
note = "invented"
"""


@pytest.fixture
def written(tmp_path):
    """Writes a price file and returns its name."""
    def write(text, name="prices.csv", **how):
        path = tmp_path / name
        path.write_text(text, **{"encoding": "utf-8", **how})
        return path

    return write


def refused(path):
    """The problems of a file as (line, column, reason, cure)."""
    with pytest.raises(fn.FileError) as caught:
        fn.prices(path)
    for problem in caught.value.problems:
        assert problem.hint
        assert problem.reason in str(caught.value) and (problem.span is None or f":{problem.span.line}:{problem.span.column}:" in str(caught.value))
    return [(one.span.line, one.span.column, one.reason, one.hint) if one.span else (None, None, one.reason, one.hint) for one in caught.value.problems]


def test_csv_and_toml_say_the_same(written):
    table, toml = fn.prices(written(PRICES)), fn.prices(written(GOOD_TOML, "prices.toml"))
    assert (table.currency, toml.currency) == ("EUR", "USD") and (table.name, toml.name) == ("prices.csv", "prices.toml")
    for own in (table, toml):
        row = own.price("hose -8 ptfe")
        assert (row.price, row.unit) == (9.5, "ft") and row.weight == pytest.approx(0.13 * 0.45359237)
        assert own.cut_off("hose end -8 37 flare female") == pytest.approx(1.1 * 0.0254)
    assert table.price("hose -8 ptfe").line == 3 and toml.price("hose -8 ptfe").line == 3


def test_semicolons_and_decimal_commas_of_european_spreadsheets(written):
    own = fn.prices(written("\ufeffitem;price;unit\r\nhose -8 *;9,50;ft\r\n\r\n\"tee; small\";12;each\r\n"))
    assert [(row.item, row.price) for row in own.rows] == [("hose -8 *", 9.5), ("tee; small", 12.0)]


def test_quotes_hold_commas_and_quotes(written):
    own = fn.prices(written('item,price\n"hose end -8 *, 90 deg",19\n"a ""b"" c", 3\n'))
    assert [row.item for row in own.rows] == ["hose end -8 *, 90 deg", 'a "b" c']


@pytest.mark.parametrize("name, price", [
    ("hose end -8 37 flare female", 11.0), ("hose end -8 37 flare female, 90 deg", 19.0), ("HOSE END  -8 37 flare female, 90 deg", 19.0),
    ("hose end -6 37 flare female", 9.0), ("hose end -8 45 flare female", 11.0), ("hose end", None), ("a hose end -8 x", None),
    ("tee [-8] (odd)", 5.0), ("tee -8", None)])
def test_the_row_that_spells_out_the_most_is_meant(name, price):
    rows = [PriceRow("hose end *", 9.0), PriceRow("hose end -8 *", 11.0), PriceRow("hose end -8 *, 90 deg", 19.0), PriceRow("tee [-?] (odd)", 5.0)]
    row = Prices(rows).price(name)
    assert (row and row.price) == price


def test_price_weight_and_cut_off_may_stand_in_different_rows():
    own = Prices([PriceRow("hose end *", 9.0, weight=0.05), PriceRow("hose end -8 *", cut_off=0.03)])
    assert (own.price("hose end -8 x").price, own.weight("hose end -8 x").weight, own.cut_off("hose end -8 x")) == (9.0, 0.05, 0.03)
    assert own.cut_off("hose end -6 x") is None


BAD = [
    ("item,price,unti\nhose,1,ft\n", 1, 12, "there is no key 'unti'", "did you mean 'unit'?"),
    ("price,unit\n1,ft\n", 1, 1, "the heading has no column 'item'", "item,price"),
    ("item,price,price\nhose,1,2\n", 1, 12, "the column 'price' stands twice", "keep one"),
    ("item,price\nhose,$1\n", 2, 6, "'price' is '$1', not a bare number", "9.50"),
    ('item,price\nhose,"1,250"\n', 2, 6, "'price' is '1,250', not a bare number", "9.50"),
    ("item,price\nhose,-1\n", 2, 6, "'price' is '-1', not a bare number", "9.50"),
    ("item,price\nhose,nan\n", 2, 6, "'price' is 'nan', not a bare number", "9.50"),
    ("item,price,unit\nhose,1,feet\n", 2, 8, "'unit' is 'feet'", "did you mean 'ft'?"),
    ("item,price,currency\na,1,EUR\nb,2,USD\n", 3, 5, "'currency' is 'USD', and 'EUR' in line 2", "one currency"),
    ("item,weight\nhose,0.2\n", 2, 6, "'weight' is '0.2', a number without a unit; it wants a mass", "give it a unit"),
    ("item,cut_off\nhose end,1 psi\n", 2, 10, "'1 psi' is a pressure; 'cut_off' wants a length", "8 mm"),
    ("item,cut_off\nhose end,-1 in\n", 2, 10, "'cut_off' is '-1 in', not above zero", "1.1 in"),
    ("item,price\n,3\n", 2, 2, "the row names no item", "write a name of the bill"),
    ("item,price\nhose\n", 2, 1, "'hose' has no price, no weight and no cut_off", "write one of them"),
    ("item,price\nTee -8,1\n# said before\ntee  -8,2\n", 4, 1, "'tee  -8' stands in line 2 already", "keep one"),
    ("item,price\na,1,2\n", 2, 5, "the row has 3 cells, the heading 2", "in quotes"),
    ('item,price\n"a,1\nb,2\n', 2, 1, "a text in quotes does not end before the next cell", "close the quotes"),
    ("item,price\nhose -8*,9.5\n", 2, 10, "'hose -8*' means hose or tube, and the row does not say for what length it is", "give it a 'unit': ft, m"),
    ("item,weight\ntube *,1 lb\n", 2, 8, "'tube *' means hose or tube, and the row does not say for what length it is", "'each' for an assembly"),
    ("item,price\n*,9.5\n", 2, 3, "'*' means hose or tube, and the row does not say for what length it is", "give it a 'unit'"),
    ("", 1, 1, "holds no item", "add one"),
    ("item,price\n# nothing yet\n", 1, 1, "holds no item", "add one"),
]


@pytest.mark.parametrize("text, line, column, reason, cure", BAD, ids=[f"{one[3][:40]} {number}" for number, one in enumerate(BAD)])
def test_what_is_wrong_is_told_with_line_column_and_cure(written, text, line, column, reason, cure):
    ((at, where, said, hint),) = refused(written(text))
    assert (at, where, said) == (line, column, reason) and cure in hint


def test_a_row_that_says_nothing_under_any_known_heading_is_told_beside_the_heading(written):
    told = refused(written("item,price,odd\n,,3\n"))
    assert [one[:3] for one in told] == [(1, 12, "there is no key 'odd'"), (2, 1, "the row names no item")]


def test_all_problems_come_together(written):
    found = refused(written("item,price,unit,weight\nhose,x,yd,3\n,1\ntee,2\ntee,4\n"))
    assert [(line, column) for line, column, *_ in found] == [(2, 6), (2, 8), (2, 11), (3, 2), (5, 1)]


@pytest.mark.parametrize("text, line, reason", [
    ('prices = 3\n[[item]]\nname = "a"\nprice = 1\n', 1, "there is no key 'prices'"),
    ('[[item]]\nname = "a"\nprice = "x"\n', 3, "'price' is 'x', not a bare number"),
    ('[[item]]\nname = "a"\nprice = true\n', 3, "'price' is True, not a bare number"),
    ('[[item]]\nnmae = "a"\n', 2, "there is no key 'nmae'"),
    ('[item]\nname = "a"\nprice = 1\n', 1, "'item' is not written as a heading"),
    ('[[item]]\nname = "a"\nprice = 1\nweight = 2\n', 4, "'weight' is 2, a number without a unit; it wants a mass"),
    ('[[item]]\nname = "a\n', 2, "is not TOML"),
])
def test_toml_is_told_likewise(written, text, line, reason):
    found = refused(written(text, "prices.toml"))
    assert any(at == line and said.startswith(reason) for at, _, said, _ in found), found


@pytest.mark.parametrize("row", ["hose end -8*,9.5,", "hose clamp *,1,", "tube nut and sleeve *,2,", "*, 90 deg hose end,2,", "tee *,9.5,", "hose -8*,9.5,each", "hose -8*,9.5,ft",
                                 "h?se*,9.5,m"])
def test_things_by_the_piece_need_no_unit_and_a_hose_has_any_that_is_said(written, row):
    row = row if row.count(",") == 2 else '"' + row.replace(",2,", '",2,')
    assert len(fn.prices(written(f"item,price,unit\n{row}\n")).rows) == 1


def test_what_an_end_takes_up_needs_no_unit(written):
    assert fn.prices(written("item,cut_off\nhose *,1 in\n")).rows[0].cut_off == pytest.approx(0.0254)


def test_a_hose_without_a_unit_is_refused_in_toml_too(written):
    ((line, column, reason, cure),) = refused(written('[[item]]\nname = "hose -8*"\nprice = 9.5\n', "prices.toml"))
    assert (line, column) == (3, 9) and "for what length" in reason and "'unit': ft, m" in cure


def test_files_that_are_none(written, tmp_path):
    assert "there is no such file" in refused(tmp_path / "none.csv")[0][2]
    assert "neither .csv nor .toml" in refused(written("item,price\n", "prices.xls"))[0][2]
    assert "is not UTF-8 text" in refused(written("item,price\nh\u00f6se,1\n", encoding="latin-1"))[0][2]


def test_two_rows_that_mean_a_thing_at_different_prices_are_told(written):
    """Neither is an exception to the other; "hose end *" is the rule to both, and "hose end -6 *" an exception to it."""
    rows = "item,price,currency\nhose end * for ptfe*,12,EUR\n\"hose end *, 90 deg\",20,EUR\nhose end *,5,EUR\nhose end -6 *,7,EUR\n"
    made = fn.Circuit("bench", fluid="water")
    made.run("line", "a", "b", [fn.hose("-8", "3 ft", spec="ptfe", ends=["-8 37 flare female, 90 deg", "-8 37 flare female"], name="hose"),
                                fn.hose("-6", "3 ft", spec="push-on", ends=["-6 37 flare female"] * 2, name="other")])
    found = fn.bill(made, written(rows))
    rivals = {row.item: [one.item for one in row.rivals] for row in found.rows if row.rivals}
    assert rivals == {"hose end -8 37 flare female for ptfe, 90 deg": ["hose end *, 90 deg"]}
    text = " ".join(found.text(width=400).split())
    assert "priced by 'hose end * for ptfe*' (line 2, 12.00 each)" in text and "'hose end *, 90 deg' (line 3, 20.00 each) means it too" in text
    same = fn.bill(made, written(rows.replace(",20,", ",12,"), "same.csv"))
    assert not [row for row in same.rows if row.rivals]
