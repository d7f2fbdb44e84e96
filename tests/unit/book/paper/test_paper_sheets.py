"""Sheets by name and by size, and the halving that makes the ISO series."""

import pytest

from coverlayout.book.paper.sheets import NamedSheet, halved_mm, known_sheets, paper_table, sheet_named, tolerance_mm
from coverlayout.errors import BadInput


def test_every_name_is_there_once() -> None:
    names = [sheet.name for sheet in known_sheets()]
    assert len(names) == len(set(names))
    assert names[:11] == [f"A{number}" for number in range(11)]
    assert names[11:22] == [f"B{number}" for number in range(11)]
    assert {"letter", "legal", "tabloid", "9 x 12 in", "full imperial"} <= set(names)


def test_every_row_has_a_source_and_a_size() -> None:
    for sheet in known_sheets():
        assert sheet.source, sheet.name
        assert 20 < min(sheet.size_mm) <= max(sheet.size_mm) < 1500 or sheet.name in ("A9", "A10", "B10")


def test_a_name_with_a_size_in_it_has_that_size() -> None:
    for sheet in known_sheets():
        figures = sheet.name.removesuffix(" in").removesuffix(" cm").split(" x ")
        if len(figures) == 2:
            factor = 25.4 if sheet.name.endswith("in") else 10.0
            assert sheet.size_mm == pytest.approx([float(figure) * factor for figure in figures])


@pytest.mark.parametrize("name", [sheet.name for sheet in known_sheets()])
def test_every_sheet_is_found_by_its_own_name(name: str) -> None:
    assert sheet_named(name).name == name
    assert sheet_named(f"  {name.upper()} ").name == name


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("iso a4", "A4"),
        ("US Letter", "letter"),
        ("9x12in", "9 x 12 in"),
        ("9 × 12 inches", "9 x 12 in"),
        ('9"x12"', "9 x 12 in"),
        ("22x30in", "full imperial"),
        ("Imperial", "full imperial"),
        ("15x22 in", "half imperial"),
        ("5.5x8.5in", "5.5 x 8.5 in"),
        ("50x70cm", "50 x 70 cm"),
        ("210 x 297 mm", "A4"),
        ("8 1/2 in x 11 in", "letter"),
        ("500x700mm", "50 x 70 cm"),
    ],
)
def test_a_name_may_be_spelt_in_many_ways(said: str, name: str) -> None:
    assert sheet_named(said).name == name


def test_a_size_of_ones_own_has_no_name() -> None:
    assert sheet_named("10x13in") == NamedSheet("", (254.0, pytest.approx(330.2)))
    assert sheet_named("200 x 30 cm").size_mm == (2000.0, 300.0)
    assert sheet_named("12x9in") == NamedSheet("", (pytest.approx(304.8), pytest.approx(228.6)))


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("fools", "sheet-unknown"),
        ("", "sheet-unknown"),
        ("A11", "sheet-unknown"),
        ("9in", "sheet-unknown"),
        ("0x12in", "length-too-small"),
        ("9x-12in", "length-too-small"),
        ("9x12x3in", "size-unreadable"),
        ("9x12ells", "length-unreadable"),
    ],
)
def test_what_is_no_sheet_is_one_sentence(said: str, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        sheet_named(said, where="paper of the Ledger")
    assert caught.value.code == code
    assert str(caught.value).startswith("paper of the Ledger")


def test_near_names_are_offered() -> None:
    with pytest.raises(BadInput) as caught:
        sheet_named("leter")
    assert "letter" in str(caught.value)
    with pytest.raises(BadInput) as caught:
        sheet_named("A11")
    assert "A1" in str(caught.value)


def test_halving_drops_the_half_millimetre_each_time() -> None:
    assert halved_mm((1189.0, 841.0), 0) == (841.0, 1189.0)
    assert halved_mm((841.0, 1189.0), 1) == (594.0, 841.0)
    assert halved_mm((301.0, 200.0), 1) == (150.0, 200.0)
    assert halved_mm((301.0, 200.0), 2) == (100.0, 150.0)


@pytest.mark.parametrize(
    ("length_mm", "off_mm"), [(26.0, 1.5), (150.0, 1.5), (150.5, 2.0), (600.0, 2.0), (600.5, 3.0), (1189.0, 3.0)]
)
def test_how_far_a_sheet_may_be_off(length_mm: float, off_mm: float) -> None:
    assert tolerance_mm(length_mm) == off_mm


@pytest.mark.parametrize("length_mm", [0.0, -3.0, float("nan"), float("inf")])
def test_no_tolerance_of_no_length(length_mm: float) -> None:
    with pytest.raises(BadInput):
        tolerance_mm(length_mm)


def test_every_list_of_the_table_says_its_source() -> None:
    table = paper_table()
    for name in ("series", "iso_tolerance", "sheet", "basic_size", "section"):
        assert [row for row in table[name] if not row.get("source")] == []
    assert [name for name, row in table["usual"].items() if not row.get("source")] == []
