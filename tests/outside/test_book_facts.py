"""Books against figures from outside: mitres, squares, liners, and the usual case of separate boards."""

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, TurnIns
from coverlayout.book.measures import board_size_mm
from coverlayout.book.rules.table import rule
from coverlayout.book.structures import notes, pieces
from coverlayout.book.turn_ins import least_mitre_distance_mm, mitre_overlap_mm
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Project
from coverlayout.document.questions import question_for

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


@pytest.mark.parametrize(("distance", "overlap"), [(3.0, 3.171573), (2.0, 1.171573), (math.sqrt(2), 0.0)])
def test_the_overlap_across_a_mitre(distance: float, overlap: float) -> None:
    """2 d - sqrt2 b on board 2 mm thick; 2 mm is the older rule, once the thickness (a school manual of 1912)."""
    assert mitre_overlap_mm(distance, 2.0) == pytest.approx(overlap, abs=1e-6)


def test_the_least_and_the_usual_mitre_distance() -> None:
    """B / sqrt2 = .7071 b closes the corner; a corner template with 3 mm on 2 mm board gives one and a half."""
    assert least_mitre_distance_mm(2.0) == pytest.approx(1.414214, abs=1e-6)
    assert rule("mitre distance", "flat-case").figure(2.0) == 3.0


def test_a_medium_square_is_the_thickness_of_the_board() -> None:
    """A square of one board thickness (a thesaurus of binding terms): 2 mm wider, 4 mm higher than the page."""
    squared = replace(LEDGER, square_mm=LEDGER.board_thickness_mm)
    assert board_size_mm(squared) == pytest.approx((116.3, 156.4))


def test_boards_of_a_case_without_spine_board_as_far_as_they_are_boards() -> None:
    """A 6 x 9 in block with 1/8 in squares: boards 9 1/4 in high (a school manual of 1912)."""
    block = Book("b", "Case", block_mm=(6 * 25.4, 9 * 25.4, 25.4), square_mm=25.4 / 8, board_setback_mm=25.4 / 8)
    assert board_size_mm(block) == pytest.approx((6 * 25.4, 9.25 * 25.4))


def test_a_liner_an_eighth_inside_its_board() -> None:
    """3 7/8 x 5 3/4 in on a board 4 1/8 x 6 (an article on sewn boards, July 2018)."""
    book = Book("b", "Covered", board_mm=(4.125 * 25.4, 6 * 25.4), liner_inset_mm=25.4 / 8)
    liner = next(piece for piece in pieces(book) if piece.kind == "liner")
    assert (liner.width_mm / 25.4, liner.height_mm / 25.4) == pytest.approx((3.875, 5.75))


@pytest.mark.parametrize(("turn_in_in", "width_in"), [(5 / 8, 7.25), (1 / 2, 7.0), (3 / 4, 7.5)])
def test_turn_ins_of_the_trade_count_twice(turn_in_in: float, width_in: float) -> None:
    """Library 5/8 in, edition 1/2 in (a conservation dictionary), school manual 3/4 in, on a board 6 in wide."""
    book = Book("b", "Book", board_mm=(6 * 25.4, 9 * 25.4), turn_ins=TurnIns.all_round(turn_in_in * 25.4))
    assert pieces(book)[0].width_mm / 25.4 == pytest.approx(width_in)
