"""The closest an unmet wish can come, against arithmetic on one row of strips."""

from __future__ import annotations

import pytest
from wishing import decide_in_row, printed_cloth, strip_piece, striped

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.wishes.closest import closest_mm
from coverlayout.motif.lattice import Lattice


def test_a_lock_is_held_as_near_as_the_edge_lets_it() -> None:
    # A strip of 35 on 60: its left edge lies at 0 to 25, and 27 (then 67) is wished: 2 mm off at the closest.
    question = Question((strip_piece("a", 35),), (striped(60, 40),))
    wish = Lock("a", (0.0, 0.0), (27.0, 0.0))
    placed = decide_in_row(question).placed
    assert closest_mm(question, wish, decide_in_row, placed) == pytest.approx(2.0, abs=0.06)
    assert closest_mm(question, wish, decide_in_row, placed) >= 2.0 - 0.01


def test_a_link_is_held_as_near_as_the_pieces_let_it() -> None:
    # Two strips of 50 on 108, stripes every 64: at most 58 apart, so 6 off the 64.
    question = Question((strip_piece("a", 50), strip_piece("b", 50)), (striped(108, 64),))
    wish = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
    found_mm = closest_mm(question, wish, decide_in_row, decide_in_row(question).placed)
    assert 6.0 - 0.01 <= found_mm <= 6.06


def test_a_wish_that_holds_is_not_off_and_one_without_a_repeat_is_as_the_judge_says() -> None:
    question = Question((strip_piece("a", 35),), (striped(60, 40),))
    placed = decide_in_row(question).placed
    assert closest_mm(question, Lock("a", (0.0, 0.0), (0.0, 0.0)), decide_in_row, placed) == 0.0
    bare = Question((PieceAsked("a", rectangle(9, 9), (0.0, 0.0)),), ())
    assert closest_mm(bare, Lock("a", (0.0, 0.0), (3.0, 0.0)), decide_in_row, ()) == 0.0


def test_the_engine_finds_the_same_in_two_directions() -> None:
    # 100 x 80 on 120 x 130, anchored at its corner: x 0 to 20, y 0 to 50, repeats of 60. 57 is 7 too far down, and 3
    # more make it 60, which is 0.
    piece = PieceAsked("a", rectangle(100, 80), (0.0, 0.0), print_id="birds")
    question = Question((piece,), (printed_cloth(120, 130, Lattice((60.0, 0.0), (0.0, 60.0))),))
    wish = Lock("a", (0.0, 0.0), (10.0, 57.0))
    found_mm = closest_mm(question, wish, first_layout, first_layout(question).placed)
    assert found_mm == pytest.approx(3.0, abs=0.06)


def test_it_is_looked_for_up_to_what_a_layout_has_already() -> None:
    # The same two strips, laid 14, 9 or 6.5 off: 6 is found below each of them.
    question = Question((strip_piece("a", 50), strip_piece("b", 50)), (striped(108, 64),))
    wish = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
    for apart_mm in (50.0, 55.0, 57.5):
        placed = (Placed("a", "c", 0.0, 0.0), Placed("b", "c", apart_mm, 0.0))
        found_mm = closest_mm(question, wish, decide_in_row, placed)
        assert 6.0 - 0.01 <= found_mm <= 6.06
