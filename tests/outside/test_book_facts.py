"""Books against figures from outside: the usual case of separate boards, its liners, board in points, the grain."""

from dataclasses import replace
from typing import get_args

import pytest

from coverlayout.book.book import Book, Structure
from coverlayout.book.measures import board_size_mm
from coverlayout.book.rules.table import rule
from coverlayout.book.structures import boards, notes, pieces
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Project
from coverlayout.document.questions import question_for
from coverlayout.units import parse_length

# Common practice, no source: pages of 4.5 x 6 in, boards of the same size, 15 mm turn-in, liners inset 3 mm.
LEDGER = Book("book-1", "Ledger", page_mm=(4.5 * 25.4, 6 * 25.4))


def test_the_usual_covers_and_liners() -> None:
    sizes = {piece.id: (piece.width_mm, piece.height_mm) for piece in pieces(LEDGER)}
    assert board_size_mm(LEDGER) == pytest.approx((114.3, 152.4))
    for name, size in (("front-1", (144.3, 182.4)), ("liner-front-1", (108.3, 146.4))):
        assert sizes[name] == pytest.approx(size, abs=1e-9)
        assert sizes[name.replace("front", "back")] == pytest.approx(size, abs=1e-9)
    assert notes(LEDGER) == ()


def test_the_usual_book_on_a_foot_of_cloth_fills_what_arithmetic_says() -> None:
    """Two covers 144.3 x 182.4 and two liners 108.3 x 146.4 on 304.8 x 304.8 mm: 90.79 % (arithmetic)."""
    question = question_for(Project(cloths=(Cloth("c", "swatch", 304.8, 304.8),), books=(LEDGER,)))
    area = sum((piece.outline_mm[2][0]) * (piece.outline_mm[2][1]) for piece in question.pieces)
    assert area / 304.8**2 == pytest.approx(0.9079, abs=1e-4)


def test_a_liner_an_eighth_inside_its_board() -> None:
    """3 7/8 x 5 3/4 in on a board 4 1/8 x 6 (an article on sewn boards, July 2018)."""
    book = Book("b", "Covered", board_mm=(4.125 * 25.4, 6 * 25.4), liner_inset_mm=25.4 / 8)
    liner = next(piece for piece in pieces(book) if piece.kind == "liner")
    assert (liner.width_mm / 25.4, liner.height_mm / 25.4) == pytest.approx((3.875, 5.75))


@pytest.mark.parametrize(
    ("points", "inches", "mm"), [(80, "0.080in", 2.032), (60, "0.060in", 1.524), (118, "0.118in", 2.9972)]
)
def test_board_sold_in_points(points: int, inches: str, mm: float) -> None:
    """A point of board is .001 in (a printing encyclopedia, "Point": 80-point board); 1.5 to 3 mm is met most.

    That range, about 60 to 120 points: common practice, no source.
    """
    assert parse_length(inches) == pytest.approx(points * 0.0254, abs=1e-9)
    assert parse_length(inches) == pytest.approx(mm, abs=1e-9)
    book = replace(LEDGER, board_thickness_mm=parse_length(inches))
    assert boards(book, book.volumes[0])[0].thickness_mm == pytest.approx(mm)
    assert not rule("board thickness", "separate-boards").unusual(mm)
    assert notes(book) == ()


@pytest.mark.parametrize("structure", [name for name in get_args(Structure) if name != "parts"])
def test_grain_of_boards_and_cloth_runs_with_the_spine(structure: Structure) -> None:
    """All parallel to the spine (a book-arts list archive, August 1999); cloth's along the selvedge (January 2011).

    Only the two narrow ends of a slipcase, that no spine lies along, may be cut either way.
    """
    book = Book("b", "Book", structure, block_mm=(120.0, 180.0, 15.0))
    either = {board.name for board in boards(book, book.volumes[0]) if board.grain != "head to tail"}
    assert either <= ({"head and tail"} if structure == "slipcase" else set())
    assert {piece.grain for piece in pieces(book)} == {"head to tail"}
