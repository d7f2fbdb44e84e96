"""The ladder of cuts: the table that comes with the program, a maker's own, names, and swapped sizes."""

from pathlib import Path

import pytest

from coverlayout.cloth.cuts import Cut, cut_named, ladder, ladder_in_use, swapped_note
from coverlayout.errors import BadInput
from coverlayout.settings import cut_table_path

ROW = 'name = "fat quarter"\nwidth = "22 in"\nlength = "18 in"\n'


@pytest.fixture
def own_table() -> object:
    path = cut_table_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    yield path
    path.unlink(missing_ok=True)


def fault_of(text: str) -> BadInput:
    with pytest.raises(BadInput) as caught:
        ladder(text, where="own.toml")
    assert str(caught.value).startswith("own.toml")
    assert "\n" not in str(caught.value)
    return caught.value


def test_the_ladder_has_what_shops_cut() -> None:
    kinds = {(cut.name.removesuffix(f", {cut.of}"), cut.of) for cut in ladder()}
    for width in ("42 in", "44 in", "54 in", "58 in", "60 in"):
        for kind in ("fat eighth", "fat quarter", "long quarter", "half yard", "yard", "2 yards"):
            assert (kind, width) in kinds
    for width in ("110 cm", "140 cm", "150 cm"):
        for kind in ("25 cm", "50 cm", "100 cm"):
            assert (kind, width) in kinds
    assert len({cut.name for cut in ladder()}) == len(ladder())


def test_every_row_says_where_it_comes_from_and_none_has_a_price() -> None:
    assert all(cut.source and cut.price is None for cut in ladder())


def test_fat_cuts_are_half_the_cloth_wide() -> None:
    for cut in ladder():
        number, _, unit = cut.of.partition(" ")
        full_mm = float(number) * {"in": 25.4, "cm": 10.0}[unit] if cut.of else cut.width_mm
        assert cut.width_mm == pytest.approx(full_mm / 2 if cut.name.startswith("fat") else full_mm)


def test_a_row_of_ones_own_is_read_with_its_price() -> None:
    assert ladder(f'[[cut]]\n{ROW}of = "44 in"\nprice = 4\n') == (
        Cut("fat quarter, 44 in", 22 * 25.4, 18 * 25.4, "44 in", "", 4.0),
    )


def test_a_bare_number_counts_as_inches() -> None:
    (cut,) = ladder('[[cut]]\nname = "square"\nwidth = "10"\nlength = "25 cm"\n')
    assert (cut.width_mm, cut.length_mm, cut.area_mm2) == (254.0, 250.0, 63500.0)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "cuts-no-rows"),
        ("cut = []", "cuts-no-rows"),
        ("cut = 3", "cuts-no-rows"),
        ("cut = [1]", "cut-no-row"),
        ("cut = [", "cuts-no-toml"),
        ("cut = " + "[" * 5000 + "]" * 5000, "cuts-no-toml"),
        ('[[cut]]\nwidth = "1 in"\nlength = "1 in"\n', "cut-field-missing"),
        (f"[[cut]]\n{ROW}colour = 3\n", "cut-field-unknown"),
        (f"[[cut]]\n{ROW}of = 44\n", "cut-field-no-text"),
        (f'[[cut]]\n{ROW}of = "wide"\n', "length-unreadable"),
        ('[[cut]]\nname = ""\nwidth = "1 in"\nlength = "1 in"\n', "cut-name"),
        ('[[cut]]\nname = "a"\nwidth = "0 in"\nlength = "1 in"\n', "length-too-small"),
        ('[[cut]]\nname = "a"\nwidth = "1 in"\nlength = "1e9 mm"\n', "length-unreadable"),
        ('[[cut]]\nname = "a"\nwidth = "1 in"\nlength = "1000000000 mm"\n', "length-absurd"),
        (f'[[cut]]\n{ROW}price = "4"\n', "cut-price"),
        (f"[[cut]]\n{ROW}price = -1\n", "cut-price"),
        (f"[[cut]]\n{ROW}price = nan\n", "cut-price"),
        (f"[[cut]]\n{ROW}price = true\n", "cut-price"),
        (f"[[cut]]\n{ROW}[[cut]]\n{ROW}", "cut-twice"),
    ],
)
def test_each_fault_of_a_table_is_one_sentence(text: str, code: str) -> None:
    assert fault_of(text).code == code


def test_a_fault_names_its_row() -> None:
    text = f'[[cut]]\n{ROW}[[cut]]\nname = "half yard"\nwidth = "44 in"\nlength = "-3 in"\n'
    assert "row 2 (half yard): length" in str(fault_of(text))


@pytest.mark.parametrize(
    "typed",
    ["fat quarter, 44in", "Fat  Quarter,44 IN", 'fat quarter, 44"', "fat quarter, 44 inches", "fatquarter 44in"],
)
def test_a_cut_is_found_however_it_is_typed(typed: str) -> None:
    assert cut_named(typed, ladder()).name == "fat quarter, 44 in"


def test_a_name_without_the_width_says_which_widths_there_are() -> None:
    with pytest.raises(BadInput, match="fat quarter: say the width of the cloth too, like fat quarter, 42 in"):
        cut_named("fat quarter", ladder())


def test_an_unknown_cut_offers_near_ones() -> None:
    with pytest.raises(BadInput, match=r"near cuts are .*half yard, 44 in"):
        cut_named("half yrd, 44 in", ladder())
    with pytest.raises(BadInput, match="near cuts are swatch"):
        cut_named("@", ladder())


def test_a_fat_quarter_typed_the_wrong_way_round_is_noticed() -> None:
    note = swapped_note(18 * 25.4, 22 * 25.4, ladder())
    assert note is not None
    assert dict(note.figures) == {"name": "fat quarter, 44 in", "room_width_mm": 558.8, "room_length_mm": 18 * 25.4}


@pytest.mark.parametrize(("width_in", "length_in"), [(22, 18), (12, 12), (17, 5)])
def test_sizes_on_the_ladder_and_sizes_on_no_rung_are_let_be(width_in: float, length_in: float) -> None:
    assert swapped_note(width_in * 25.4, length_in * 25.4, ladder()) is None


def test_the_makers_own_table_takes_the_place_of_ours(own_table: Path) -> None:
    assert ladder_in_use() == ladder()
    own_table.write_text('[[cut]]\nname = "remnant"\nwidth = "1 m"\nlength = "70 cm"\nprice = 3.5\n', encoding="utf-8")
    assert ladder_in_use() == (Cut("remnant", 1000.0, 700.0, price=3.5),)
    assert cut_named("remnant").width_mm == 1000.0
    assert swapped_note(700.0, 1000.0) is not None
    own_table.write_text("cut = 1", encoding="utf-8")
    with pytest.raises(BadInput, match=r"cuts\.toml: a table of cuts"):
        ladder_in_use()
