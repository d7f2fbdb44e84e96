"""Figures given and figures by the rule; how much larger than its page a board is, and how far it stays back."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Book
from coverlayout.book.rules.figures import (
    board_from_mm,
    board_over_page_mm,
    figure_mm,
    from_spine_mm,
    joint_mm,
    tail_square_mm,
)

CASE = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0))


def test_a_given_figure_wins_and_one_that_does_not_belong_is_nothing() -> None:
    assert figure_mm(CASE, "board_setback_mm") == 3.5
    assert figure_mm(replace(CASE, board_setback_mm=0.0), "board_setback_mm") == 0.0
    assert figure_mm(replace(CASE, structure="accordion", board_setback_mm=5.0), "board_setback_mm") == 0.0
    assert figure_mm(CASE, "mitre_distance_mm", 4.0) == 6.0
    with pytest.raises(KeyError):
        figure_mm(CASE, "tail_square_mm")


def test_the_square_at_the_tail_is_the_heads_or_its_own() -> None:
    assert tail_square_mm(CASE) == 3.0
    assert tail_square_mm(replace(CASE, square_mm=4.0)) == 4.0
    assert tail_square_mm(replace(CASE, square_mm=4.0, tail_square_mm=0.0)) == 0.0


def test_joints_and_what_boards_stay_back() -> None:
    assert (joint_mm(CASE), from_spine_mm(CASE)) == (10.0, 10.0)
    # Round the edge of a spine piece of board, 2 mm thick, the cloth of the joint runs first.
    assert board_from_mm(CASE) == 8.0
    assert board_from_mm(replace(CASE, spine_piece="none")) == 3.0
    assert board_from_mm(replace(CASE, joint_mm=1.0)) == 0.0
    side = replace(CASE, structure="side-sewn", board_thickness_mm=2.5, board_setback_mm=1.0)
    assert (joint_mm(side), from_spine_mm(side), board_from_mm(side)) == (5.0, 1.0, 1.0)
    assert board_from_mm(replace(CASE, structure="accordion", square_mm=4.0)) == -4.0
    box = replace(CASE, structure="slipcase")
    assert board_from_mm(box) == -2.0
    assert board_from_mm(replace(box, slipcase_of="one scored board")) == 0.0


def test_what_a_board_is_larger_than_its_page() -> None:
    plain = Book("b", "Boards", page_mm=(100.0, 150.0), square_mm=3.0, tail_square_mm=4.0)
    assert board_over_page_mm(plain) == (3.0, 7.0)
    assert board_over_page_mm(replace(plain, structure="accordion")) == (6.0, 7.0)
    assert board_over_page_mm(replace(plain, structure="flat-case")) == (-3.5, 7.0)
    # A slipcase: 1.5 of room and 2 of board behind the book, and at both ends.
    assert board_over_page_mm(replace(plain, structure="slipcase")) == (3.5, 7.0)
