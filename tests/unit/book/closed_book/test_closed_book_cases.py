"""Covers that go round the spine in one: spine pieces, joints, laps, flaps, each where it belongs."""

from __future__ import annotations

import pytest
from drawn_books import CASES, drawn_book, length_mm, names_of
from shapely.geometry import LineString, Polygon

from coverlayout.book.book import Structure
from coverlayout.book.measures import measures
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.shapes import Picture, Shape
from coverlayout.geometry.shapes import bounds


def named(picture: Picture, name: str) -> Shape:
    return next(shape for shape in picture.shapes if shape.name == name)


def test_a_spine_piece_of_board_is_as_high_as_block_and_boards_and_what_is_allowed() -> None:
    heights = []
    for allowance_mm in (0.0, 3.0):
        picture = cut_through(*drawn_book("flat-case", spine_allowance_mm=allowance_mm))
        heights.append(bounds(named(picture, "spine piece").points_mm).height_mm)
        assert length_mm(picture, "spine") == pytest.approx(16.0 + 2 * 2.2 + allowance_mm)
    assert heights[1] - heights[0] == pytest.approx(3.0)


def test_a_spine_piece_lies_wholly_behind_the_block() -> None:
    picture = cut_through(*drawn_book("flat-case"))
    assert bounds(named(picture, "spine piece").points_mm).right_mm < 0.0


def test_a_strip_of_card_follows_the_round() -> None:
    book, volume = drawn_book("rounded-case")
    strip = bounds(named(cut_through(book, volume), "spine strip").points_mm)
    rise_mm = measures(book, volume).rise_mm
    assert strip.left_mm < -rise_mm
    assert strip.height_mm > 16.0


def test_a_board_on_a_round_spine_is_bent_with_it_and_clear_of_the_pages() -> None:
    picture = cut_through(*drawn_book("rounded-case", spine_piece="board"))
    piece = Polygon(named(picture, "spine piece").points_mm)
    pages = [Polygon(shape.points_mm) for shape in picture.shapes if shape.role == "section" and shape.closed]
    assert all(piece.intersection(page).area < 1e-6 for page in pages)
    assert piece.area < 0.6 * piece.envelope.area


def test_a_joint_narrower_than_the_board_leaves_board_and_spine_piece_apart() -> None:
    picture = cut_through(*drawn_book("flat-case", joint_mm=0.5))
    assert length_mm(picture, "joint") == 0.5
    board, piece = (bounds(named(picture, name).points_mm) for name in ("front board", "spine piece"))
    assert piece.right_mm < board.left_mm


def test_without_a_spine_piece_there_is_neither_board_nor_card() -> None:
    picture = cut_through(*drawn_book("flat-case", spine_piece="none"))
    assert "card" not in picture.roles
    assert not [shape for shape in picture.shapes if shape.name == "spine piece"]


@pytest.mark.parametrize("spine_piece", ["board", "strip", "none"])
@pytest.mark.parametrize("structure", CASES[:2])
def test_the_cloth_dips_into_the_joint(structure: Structure, spine_piece: str) -> None:
    picture = cut_through(*drawn_book(structure, spine_piece=spine_piece))
    board = bounds(named(picture, "front board").points_mm)
    (cloth,) = [shape.points_mm for shape in picture.shapes if shape.role == "cloth"]
    joint = [y for x, y in cloth if 0.5 < x < board.left_mm - 0.5 and y < 8.0]
    # Lower than the inside of the board, and not into the pages.
    assert board.bottom_mm < max(joint) < 0.0


@pytest.mark.parametrize("structure", CASES[2:])
def test_sides_lie_over_the_cloth_of_the_spine(structure: Structure) -> None:
    book, volume = drawn_book(structure)
    picture = cut_through(book, volume)
    spine, side = named(picture, "spine").points_mm, named(picture, "front side").points_mm
    begins, ends = min(x for x, _y in side), spine[0][0]
    assert ends - begins == pytest.approx(measures(book, volume).lap_mm)
    over = [y for x, y in side if begins <= x <= ends]
    assert max(over) < spine[0][1]
    assert not LineString(side).crosses(LineString(spine))


def test_a_wrap_goes_straight_round_the_open_spine() -> None:
    picture = cut_through(*drawn_book("exposed-spine-wrap"))
    (cloth,) = [shape.points_mm for shape in picture.shapes if shape.role == "cloth"]
    left = min(x for x, _y in cloth)
    assert left < 0.0
    assert max(y for x, y in cloth if x < left + 1e-6) > 11.6
    assert length_mm(picture, "spine") == 16.0
    # Measured over boards of 2.2 the block is 11.6; the way over both is drawn from board to board.
    assert length_mm(picture, "block thickness") == pytest.approx(16.0 - 2 * 2.2)
    front, back = (bounds(named(picture, f"{side} board").points_mm) for side in ("front", "back"))
    found = picture.measured("spine")
    assert found is not None
    assert (found.start_mm[1], found.end_mm[1]) == pytest.approx((front.top_mm, back.bottom_mm))
    assert max(y for _x, y in cloth) > back.bottom_mm


@pytest.mark.parametrize("board_mm", [0.8, 2.2, 4.0])
def test_the_cloth_of_a_wrap_as_drawn_closes_over_block_and_boards(board_mm: float) -> None:
    """What it is longer than 16 is the air that the picture leaves between leaves, turn-ins, boards: under a third."""
    picture = cut_through(*drawn_book("exposed-spine-wrap", board_thickness_mm=board_mm))
    front, back = (bounds(named(picture, f"{side} board").points_mm) for side in ("front", "back"))
    drawn_mm = back.bottom_mm - front.top_mm
    assert length_mm(picture, "block thickness") + 2 * board_mm == pytest.approx(length_mm(picture, "spine"))
    assert 16.0 <= drawn_mm < 16.0 * 4 / 3


def test_a_limp_wrap_without_flap_ends_inside_both_covers() -> None:
    picture = cut_through(*drawn_book("limp-wrap"))
    wrap = named(picture, "wrap").points_mm
    assert wrap[0][1] + wrap[-1][1] == pytest.approx(16.0)
    assert "board" not in picture.roles
    assert "turn-in" in names_of(picture)


def test_a_flap_comes_round_the_fore_edge_onto_the_front() -> None:
    picture = cut_through(*drawn_book("limp-wrap", fore_edge_flap_mm=30.0))
    wrap = named(picture, "wrap").points_mm
    front_y = min(y for x, y in wrap[: len(wrap) // 2])
    assert wrap[-1][1] < front_y
    assert length_mm(picture, "flap") == 30.0
    assert LineString(wrap).is_simple


def test_a_wrap_with_turned_in_flaps_measures_them_in_place_of_the_turn_in() -> None:
    picture = cut_through(*drawn_book("limp-wrap", turned_in_flap_mm=40.0))
    assert length_mm(picture, "turned-in flap") == 40.0
    assert "turn-in" not in names_of(picture)


def test_an_allowance_makes_the_spine_of_a_wrap_its_own_measure() -> None:
    plain = names_of(cut_through(*drawn_book("limp-wrap")))
    assert "spine" not in plain
    assert "block thickness" in plain
    wider = cut_through(*drawn_book("limp-wrap", spine_allowance_mm=2.0))
    assert length_mm(wider, "spine") == 18.0
    assert length_mm(wider, "block thickness") == 16.0


def test_a_single_section_is_sewn_through_its_fold() -> None:
    picture = cut_through(*drawn_book("limp-wrap"))
    assert {shape.name for shape in picture.shapes if shape.role == "section"} == {"section 1"}
    assert named(picture, "thread").points_mm[0][0] < 0.0
