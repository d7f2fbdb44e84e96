"""Paper against figures from outside: ISO and US sheets, weights, thickness, pages in an inch, sections, grain."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtGui import QPageSize

from coverlayout.book.book import Paper
from coverlayout.book.paper.block import block_of
from coverlayout.book.paper.folding import folded
from coverlayout.book.paper.grain import grain_notes
from coverlayout.book.paper.sheets import halved_mm, known_sheets, sheet_named, tolerance_mm
from coverlayout.book.paper.thickness import thickness_notes
from coverlayout.book.paper.weight import (
    basis_weight,
    gsm_of_basis_weight,
    gsm_of_ounces,
    thickness_of,
    thickness_of_pages_per_inch,
)
from coverlayout.errors import BadInput

INCH = 25.4
# ISO 216:2007, trimmed sizes, as a general-purpose library prints them too.
A_SIZES = [(841, 1189), (594, 841), (420, 594), (297, 420), (210, 297), (148, 210)]
A_SIZES += [(105, 148), (74, 105), (52, 74), (37, 52), (26, 37)]
B_SIZES = [(1000, 1414), (707, 1000), (500, 707), (353, 500), (250, 353), (176, 250)]
B_SIZES += [(125, 176), (88, 125), (62, 88), (44, 62), (31, 44)]
# ISO 269, an encyclopedia's table.
C_SIZES = [(917, 1297), (648, 917), (458, 648), (324, 458), (229, 324), (162, 229)]
C_SIZES += [(114, 162), (81, 114), (57, 81), (40, 57), (28, 40)]


def size_by_qt_mm(name: str) -> tuple[float, float]:
    """A page size of Qt in its own millimetres, the shorter side first."""
    size = QPageSize(getattr(QPageSize.PageSizeId, name))
    return size.size(QPageSize.Unit.Millimeter).toTuple()


@pytest.mark.parametrize("number", range(11))
def test_iso_sizes_by_halving(number: int) -> None:
    assert sheet_named(f"A{number}").size_mm == A_SIZES[number]
    assert sheet_named(f"B{number}").size_mm == B_SIZES[number]
    assert halved_mm((917.0, 1297.0), number) == C_SIZES[number]


@pytest.mark.parametrize("name", [f"{series}{number}" for series in "AB" for number in range(11)])
def test_iso_sizes_are_those_of_a_library(name: str) -> None:
    assert sheet_named(name).size_mm == size_by_qt_mm(name)


@pytest.mark.parametrize(
    ("name", "size_mm"),
    [("letter", (215.9, 279.4)), ("legal", (215.9, 355.6)), ("tabloid", (279.4, 431.8))],
)
def test_us_sheets(name: str, size_mm: tuple[float, float]) -> None:
    """8.5 x 11, 8.5 x 14 and 11 x 17 in: arithmetic, and the library's table to its tenth of a millimetre."""
    assert sheet_named(name).size_mm == pytest.approx(size_mm, abs=1e-9)
    assert sheet_named(name).size_mm == pytest.approx(size_by_qt_mm(name.title()), abs=0.2)


def test_a_letter_sheet_folded_once() -> None:
    """5.5 x 8.5 in = 139.7 x 215.9 mm."""
    assert folded(Paper(sheet_named("letter").size_mm)).page_mm == pytest.approx((139.7, 215.9), abs=1e-9)


def test_an_iso_sheet_folded_is_the_next_size_but_for_half_a_millimetre() -> None:
    """The A and B series are made by halving: A4 folded once is A5, and so on, within the half millimetre dropped."""
    for series in "AB":
        for number in range(10):
            sheet_mm, next_mm = (sheet_named(f"{series}{number + more}").size_mm for more in (0, 1))
            if min(next_mm) > 30:
                assert folded(Paper(sheet_mm)).page_mm == pytest.approx(next_mm, abs=0.5)


@pytest.mark.parametrize(
    ("length_mm", "off_mm"), [(37, 1.5), (148, 1.5), (150, 1.5), (151, 2.0), (600, 2.0), (601, 3.0), (1414, 3.0)]
)
def test_iso_tolerances(length_mm: float, off_mm: float) -> None:
    """ISO 216: 1.5 mm up to 150, 2 mm up to 600, 3 mm above (a print studio's page)."""
    assert tolerance_mm(length_mm) == off_mm


@pytest.mark.parametrize(
    ("said", "pounds", "basic_size_in", "gsm"),
    [
        ("20 lb bond", 20, (17, 22), 75.195),
        ("70 lb book", 70, (25, 38), 103.610),
        ("80 lb cover", 80, (20, 26), 216.329),
    ],
)
def test_basis_weights(said: str, pounds: float, basic_size_in: tuple[float, float], gsm: float) -> None:
    """Exact units, 453.59237 g a pound and 25.4 mm an inch; trade glossaries give 75 and 103.6."""
    assert gsm_of_basis_weight(pounds, basic_size_in) == pytest.approx(gsm, abs=0.01)
    assert basis_weight(said) == pytest.approx(gsm, abs=0.01)


def test_the_trades_rounded_factor_is_not_ours() -> None:
    """Glossaries use 1406.5 / (w x h), or 3.760 for bond; the exact factor is 1406.139: they are 0.02 g/m2 apart."""
    ours = gsm_of_basis_weight(20, (17, 22))
    assert ours * 17 * 22 / 20 == pytest.approx(1406.139, abs=0.001)
    assert ours == pytest.approx(20 * 1406.5 / (17 * 22), abs=0.02)
    assert ours == pytest.approx(75.214, abs=0.02)
    assert ours == pytest.approx(20 * 3.760, abs=0.01)


@pytest.mark.parametrize(
    ("kind", "basic_size_in"),
    [
        ("bond", (17, 22)),
        ("book", (25, 38)),
        ("text", (25, 38)),
        ("cover", (20, 26)),
        ("index", (25.5, 30.5)),
        ("tag", (24, 36)),
        ("newsprint", (24, 36)),
    ],
)
def test_basic_sizes(kind: str, basic_size_in: tuple[float, float]) -> None:
    """Three paper-trade glossaries agree on these."""
    assert basis_weight(f"60 lb {kind}") == pytest.approx(
        60 * 1406.139 / (basic_size_in[0] * basic_size_in[1]), rel=1e-5
    )


def test_bristol_is_asked_for_its_basic_size() -> None:
    """Glossaries differ on it, so no figure of ours could be right."""
    with pytest.raises(BadInput) as caught:
        basis_weight("100 lb bristol")
    assert "basic size" in str(caught.value)


@pytest.mark.parametrize(("bulk", "thickness_mm"), [(1.5, 0.120), (1.25, 0.100)])
def test_sheet_thickness(bulk: float, thickness_mm: float) -> None:
    """80 g/m2: a printing glossary and a paper calculator; ISO 534 names the bulk."""
    assert thickness_of(80, bulk) == pytest.approx(thickness_mm, abs=1e-9)


def test_a_block_of_a_hundred_pages() -> None:
    """50 leaves x 0.120 = 6.0 mm by arithmetic; the glossary prints 4 mm for the same figures, a slip."""
    paper = Paper((210.0, 297.0), pages=100, folds=0, gsm=80.0, bulk=1.5)
    block = block_of(paper, "side-sewn")
    assert (block.leaves, block.blank_pages) == (50, 0)
    assert block.thickness_mm == pytest.approx(6.0, abs=1e-9)
    sewn = block_of(replace(paper, folds=1, per_section=5, swell_mm=0.0))
    assert (sewn.leaves, sewn.sections) == (50, 5)
    assert sewn.thickness_mm == pytest.approx(6.0, abs=1e-9)


def test_pages_per_inch() -> None:
    """500 pages of 500 to the inch are 250 leaves and 1 in (a trade journal on hard covers, part I)."""
    sheet_mm = thickness_of_pages_per_inch(500)
    block = block_of(Paper((210.0, 297.0), pages=500, folds=0, thickness_mm=sheet_mm), "side-sewn")
    assert block.leaves == 250
    assert block.thickness_mm == pytest.approx(INCH, abs=1e-9)


def test_sections_of_a_hundred_and_twenty_pages() -> None:
    """4 sheets a section make 16 pages: 8 sections, 128 pages, 8 blank (arithmetic; 4 pages a folded sheet)."""
    block = block_of(Paper((210.0, 297.0), pages=120, per_section=4))
    assert (block.sections, block.pages, block.blank_pages) == (8, 128, 8)


def test_sixteen_sheets_of_nine_by_twelve() -> None:
    """Halved across the 12 in, folded, 4 a section: 32 folios, 8 sections, page 4.5 x 6 in, 64 leaves, 128 pages."""
    paper = Paper(sheet_named("9x12in").size_mm, sheets=16, cut=(2, 1), per_section=4)
    made, block = folded(paper), block_of(paper)
    assert made.leaf_mm == pytest.approx((9 * INCH, 6 * INCH), abs=1e-9)
    assert made.page_mm == pytest.approx((4.5 * INCH, 6 * INCH), abs=1e-9)
    assert block.sections * block.pieces_per_section == 32
    assert (block.sections, block.leaves, block.pages) == (8, 64, 128)


@pytest.mark.parametrize(
    ("thickness_in", "told"), [(0.0059, []), (0.0061, ["paper-heavy"]), (0.0121, ["paper-is-board"])]
)
def test_where_paper_ends_and_board_begins(thickness_in: float, told: list[str]) -> None:
    """A conservation dictionary, board: from about .012 in; paper lies below .006 in."""
    notes = thickness_notes(Paper((210.0, 297.0), thickness_mm=thickness_in * INCH))
    assert [note.code for note in notes] == told


def test_grain_runs_head_to_tail() -> None:
    """A conservation dictionary, against the grain: the machine direction runs parallel to the spine fold.

    The pad of the example has it right when its grain is long: the cut takes 6 in along it, the fold leaves them whole.
    """
    pad = Paper(sheet_named("9x12in").size_mm, cut=(2, 1))
    assert grain_notes(replace(pad, grain="long")) == ()
    assert grain_notes(replace(pad, grain="short"))[0].code == "grain-across-pages"


def test_three_halvings_of_a_strip_make_eight_panels() -> None:
    """A university's glossary, zigzag; grain parallel to the folds: a print studio's page."""
    strip = Paper((100.0, 640.0), folds=3, sheets=1, grain="short")
    made = folded(strip, "accordion")
    assert (made.leaves_per_piece, made.page_mm, made.grain_of_page) == (8, (80.0, 100.0), "head to tail")


def test_ounces_a_square_yard() -> None:
    """Exact units: 28.349523125 g an ounce, 0.83612736 m2 a square yard."""
    assert gsm_of_ounces(1.0) == pytest.approx(33.9057, abs=0.0001)
    assert gsm_of_ounces(4.4) == pytest.approx(149.1853, abs=0.001)


def test_names_of_sheets_are_ours_or_the_standards() -> None:
    assert {sheet.name[0] for sheet in known_sheets() if sheet.source.startswith("ISO")} == {"A", "B"}
