"""The value of a piece, and how it lies on the book: at which hand the spine is, and the way there."""

import pytest
from samples import L_SHAPE

from coverlayout.book.book import Book
from coverlayout.book.pieces import Piece, head_mark, onto_book, other_side, signs, spine_side
from coverlayout.geometry.shapes import Box

LEFT, RIGHT = Book("b", "Ledger"), Book("b", "Ledger", opens="right")
# Off the corner, and of no edge alike: a board in a piece with unequal turn-ins.
BOARD = Box(8.0, 14.0, 100.0, 150.0)


def test_a_piece_is_as_large_as_its_outline() -> None:
    piece = Piece("pocket-1", "pocket", "own", L_SHAPE, (30.0, 50.0))
    assert (piece.width_mm, piece.height_mm) == (60.0, 100.0)


@pytest.mark.parametrize(
    ("book", "front", "back"), [(LEFT, "left", "right"), (RIGHT, "right", "left")], ids=["opens left", "opens right"]
)
def test_the_spine_lies_at_the_hand_a_front_opens_to(book: Book, front: str, back: str) -> None:
    assert (spine_side(book, "front"), spine_side(book, "back")) == (front, back)
    assert other_side(spine_side(book, "front")) == back


def test_signs_run_along_spine_edge_and_head() -> None:
    spine, head = signs(BOARD, "right")
    assert (spine.kind, spine.points_mm) == ("spine edge", ((108.0, 14.0), (108.0, 164.0)))
    assert head == head_mark(BOARD)
    assert head.points_mm == ((8.0, 14.0), (108.0, 14.0))
    assert signs(BOARD, "left")[0].points_mm == ((8.0, 14.0), (8.0, 164.0))


def test_a_board_comes_to_lie_with_its_spine_edge_off_the_middle() -> None:
    at_left = onto_book(BOARD, "left", 9.0)
    assert (at_left.at((8.0, 14.0)), at_left.at((108.0, 164.0))) == ((9.0, 0.0), (109.0, 150.0))
    at_right = onto_book(BOARD, "right", 9.0)
    assert (at_right.at((108.0, 14.0)), at_right.at((8.0, 164.0))) == ((-9.0, 0.0), (-109.0, 150.0))
    assert at_left.determinant == at_right.determinant == 1.0


def test_the_thread_runs_with_the_spine_unless_a_piece_may_turn() -> None:
    ring = ((0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (0.0, 6.0))
    assert Piece("a", "a", "own", ring, (4.5, 3.0)).grain == "head to tail"
    assert Piece("a", "a", "own", ring, (4.5, 3.0), turns="half").grain == "head to tail"
    assert Piece("a", "a", "own", ring, (4.5, 3.0), turns="quarter").grain == "any"
    assert Piece("a", "a", "own", ring, (4.5, 3.0), turns="free").grain == "any"
