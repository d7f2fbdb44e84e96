"""Boards covered each for itself, and the slipcase: thread, hinges, folds and walls where they belong."""

from __future__ import annotations

import pytest
from drawn_books import drawn_book, drawn_mm, length_mm, names_of
from shapely.geometry import Polygon

from coverlayout.book.book import Sewing, Structure
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.shapes import Picture
from coverlayout.geometry.shapes import Box, bounds


def boxes(picture: Picture, role: str) -> list[Box]:
    return [bounds(shape.points_mm) for shape in picture.shapes if shape.role == role]


@pytest.mark.parametrize("structure", ["separate-boards", "side-sewn", "accordion"])
def test_each_cover_has_a_cloth_of_its_own_turned_in_on_both_sides(structure: Structure) -> None:
    picture = cut_through(*drawn_book(structure))
    front, back = [shape for shape in picture.shapes if shape.role == "cloth"]
    assert (front.name, back.name) == ("front cover", "back cover")
    board = bounds([point for shape in picture.shapes if shape.name == "front board" for point in shape.points_mm])
    cloth = bounds(front.points_mm)
    assert cloth.left_mm < board.left_mm
    assert cloth.right_mm > board.right_mm
    # Both ends lie on the inside of the board.
    assert all(board.bottom_mm < end[1] < 0.0 for end in (front.points_mm[0], front.points_mm[-1]))


def test_thread_goes_round_the_spine_edge_into_the_hole() -> None:
    picture = cut_through(*drawn_book("separate-boards", sewing=Sewing(hole_from_spine_mm=9.0)))
    assert length_mm(picture, "hole from spine") == 9.0
    thread = next(shape.points_mm for shape in picture.shapes if shape.role == "thread")
    board = bounds(next(shape.points_mm for shape in picture.shapes if shape.name == "front board"))
    assert thread[0][0] - board.left_mm == pytest.approx(9.0)
    assert min(x for x, _y in thread) < board.left_mm
    assert min(y for _x, y in thread) < board.top_mm


@pytest.mark.parametrize("structure", ["separate-boards", "side-sewn"])
def test_a_hole_that_cannot_be_is_left_out(structure: Structure) -> None:
    picture = cut_through(*drawn_book(structure, sewing=Sewing(hole_from_spine_mm=9000.0)))
    assert "hole from spine" not in names_of(picture)
    assert "board" in picture.roles


def test_a_side_sewn_cover_has_a_strip_and_a_board_with_the_joint_between() -> None:
    picture = cut_through(*drawn_book("side-sewn", hinge_mm=14.0))
    strip, board = [bounds(shape.points_mm) for shape in picture.shapes if shape.name == "front board"]
    assert strip.width_mm == pytest.approx(14.0)
    assert board.left_mm - strip.right_mm == pytest.approx(7.5)
    cloth = next(shape.points_mm for shape in picture.shapes if shape.name == "front cover")
    dip = [y for x, y in cloth if strip.right_mm + 1 < x < board.left_mm - 1 and y < strip.bottom_mm]
    assert max(dip) > strip.top_mm


def test_a_zigzag_has_a_fold_at_either_edge_in_turn() -> None:
    picture = cut_through(*drawn_book("accordion"))
    strip = next(shape.points_mm for shape in picture.shapes if shape.role == "section")
    box = bounds(strip)
    assert (box.top_mm, box.bottom_mm) == pytest.approx((0.0, 16.0))
    at_left = sum(x < box.left_mm + 0.2 * box.width_mm for x, _y in strip)
    at_right = sum(x > box.right_mm - 0.2 * box.width_mm for x, _y in strip)
    assert at_left > 4
    assert at_right > 4
    assert drawn_mm(picture, "square") > 3.0


def test_the_book_stands_clear_in_its_case_on_all_sides() -> None:
    picture = cut_through(*drawn_book("slipcase", slipcase_clearance_mm=2.5))
    front, back, closed_side = boxes(picture, "board")[:3]
    (book,) = [Polygon(shape.points_mm) for shape in picture.shapes if shape.role == "lining"]
    left, top, right, low = book.bounds
    assert top - front.bottom_mm == pytest.approx(2.5)
    assert back.top_mm - low == pytest.approx(2.5)
    assert left - closed_side.right_mm == pytest.approx(2.5)
    assert right == pytest.approx(front.right_mm)
    assert closed_side.bottom_mm == pytest.approx(back.top_mm)


def test_the_book_in_its_case_has_its_boards_within_and_is_measured_with_them() -> None:
    picture = cut_through(*drawn_book("slipcase"))
    assert length_mm(picture, "book thickness") == 16.0
    assert drawn_mm(picture, "book thickness") == pytest.approx(16.0)
    assert "block thickness" not in names_of(picture)
    book = bounds(next(shape.points_mm for shape in picture.shapes if shape.role == "lining"))
    within = [bounds(shape.points_mm) for shape in picture.shapes if shape.name.endswith("of the book")]
    assert len(within) == 2
    for board in within:
        assert book.left_mm < board.left_mm < board.right_mm < book.right_mm
        assert book.top_mm < board.top_mm < board.bottom_mm < book.bottom_mm
    first, last = within
    pages = boxes(picture, "section")
    assert first.bottom_mm < min(page.top_mm for page in pages)
    assert last.top_mm > max(page.bottom_mm for page in pages)


def test_a_scored_case_is_close_about_the_book_in_its_thickness() -> None:
    picture = cut_through(*drawn_book("slipcase", slipcase_of="one scored board"))
    assert "clearance" not in names_of(picture)
    front, back, _closed_side = boxes(picture, "board")[:3]
    assert 16.0 < back.top_mm - front.bottom_mm < 18.0
